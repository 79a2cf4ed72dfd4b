package scout

import "strings"

// keysOf lists the keys of a catalogue in the order of its file.
func keysOf(text string) []string {
	var keys []string
	for _, line := range strings.Split(text, "\n") {
		if key, _, ok := strings.Cut(line, "\t"); ok && key != "" && !strings.HasPrefix(key, "#") {
			keys = append(keys, key)
		}
	}
	return keys
}
