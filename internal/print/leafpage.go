package print

import (
	"fmt"
	"html/template"
	"io"
	"strconv"
	"sync"

	"oidium/internal/work"
)

// leafPage shows drawings side by side at their natural size. It asks for nothing
// from outside and runs nothing.
var leafPage = sync.OnceValues(func() (*template.Template, error) {
	return template.New("leaves").Parse(`<!DOCTYPE html>
<html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'">
<title>{{.Title}}</title>
<style>
body { margin: 1rem; background: #fbf8f1; color: #2b2b2b; font: 1rem/1.4 serif; }
main { display: flex; flex-wrap: wrap; gap: 1rem; }
figure { margin: 0; break-inside: avoid; }
figcaption { text-align: center; font-size: 1.1rem; }
@media print { body { background: #fff; } }
</style>
<h1>{{.Title}}</h1>
{{with .How}}<p>{{.}}</p>{{end}}
<main>{{range .Leaves}}
<figure>{{.SVG}}<figcaption>{{.Name}}</figcaption></figure>{{end}}
</main>
</html>
`)
})

// LeafPage writes drawings on one page to look at or to print, those of a training
// set without their shares. Errors are those of w.
func LeafPage(w io.Writer, r *work.Drawn) error {
	p, err := load()
	if err != nil {
		return err
	}
	t, err := leafPage()
	if err != nil {
		return fmt.Errorf("reading the page of leaves: %w", err)
	}
	type leaf struct {
		SVG  template.HTML
		Name string
	}
	title, how := p.say("page.steps", "shape", capital(clean(r.Shape))), ""
	if r.Secret {
		title, how = p.say("page.training", "shape", capital(clean(r.Shape)), "seed", r.Seed), p.say("page.how")
	}
	var leaves []leaf
	for _, l := range r.Leaves {
		// Our own drawing: numbers and a title that was escaped.
		x := leaf{template.HTML(l.SVG), p.say("page.leaf", "n", l.Number)}
		if !r.Secret {
			x.Name = strconv.FormatFloat(100*l.Share, 'f', 1, 64) + nb + "%"
		}
		leaves = append(leaves, x)
	}
	return t.Execute(w, map[string]any{"Title": title, "How": how, "Leaves": leaves})
}
