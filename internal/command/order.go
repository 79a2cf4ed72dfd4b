package command

import (
	"slices"
	"strings"

	"github.com/alecthomas/kong"
)

// flagsFirst puts the flags of a call before its words, so that both may be mixed
// as they come to mind: "write tally tunnel 0/5 --at yesterday 1/5". What follows
// "--" stays as it is.
func flagsFirst(top *kong.Node, args []string) []string {
	var path, flags, words []string
	node := top
	for i := 0; i < len(args); i++ {
		a := args[i]
		if a == "--" {
			words = append(words, args[i:]...)
			break
		}
		if len(a) < 2 || a[0] != '-' || a[1] != '-' && (a[1] < 'a' || a[1] > 'z') {
			if next := child(node, a); next != nil && len(words) == 0 {
				node = next
				path = append(path, a)
				continue
			}
			words = append(words, a)
			continue
		}
		flags = append(flags, a)
		if i+1 < len(args) && !strings.Contains(a, "=") && takesValue(node, a) {
			i++
			flags = append(flags, args[i])
		}
	}
	return slices.Concat(path, flags, words)
}

func child(n *kong.Node, name string) *kong.Node {
	for _, c := range n.Children {
		if c.Type == kong.CommandNode && c.Name == name {
			return c
		}
	}
	return nil
}

// takesValue tells whether a flag of the command is followed by its value. A flag
// that is not known takes none; the parser then says so.
func takesValue(n *kong.Node, arg string) bool {
	for _, group := range n.AllFlags(false) {
		for _, f := range group {
			if arg == "--"+f.Name || f.Short != 0 && arg == "-"+string(f.Short) {
				return !f.IsBool() && !f.IsCounter()
			}
		}
	}
	return false
}
