// Package sheet is problems on paper: one self-contained HTML document with a
// sheet to work on, and a worked key to mark it by.
//
// Nothing in the document moves or is fetched: no script, no font, no picture
// from elsewhere. What comes from scenario files is escaped by html/template.
package sheet

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"sync"

	"steelyard/problems"
	"steelyard/problems/notation"
)

// Paper is a size of paper, as CSS names it.
type Paper string

// The papers a document may be for.
const (
	A4     Paper = "A4"
	Letter Paper = "letter"
)

// Papers are the papers by the names they are asked for with.
var Papers = map[string]Paper{"a4": A4, "letter": Letter}

// Variant is one set of problems, for those who get that sheet.
type Variant struct {
	Label    string // "A"; "" if there is one variant only
	Problems []*problems.Problem
}

// Options say what a document holds.
type Options struct {
	Title string // of every sheet; "" for a general one
	Paper Paper  // A4 if empty
	Sheet bool   // the sheets to work on
	Key   bool   // the worked key
}

// defaultTitle heads a sheet that is given no title.
const defaultTitle = "Equilibrium problems"

//go:embed sheet.tmpl
var page string

//go:embed sheet.css
var style string

var document = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("sheet").Funcs(template.FuncMap{
		"pack": func(a, b any) pair { return pair{a, b} },
	}).Parse(page))
})

// pageSize is the one rule of the style that depends on the paper.
var pageSize = map[Paper]template.CSS{
	A4:     "@page { size: A4 portrait; }",
	Letter: "@page { size: letter portrait; }",
}

// pair hands two things to a template that takes one.
type pair struct{ A, B any }

// whole is what the template is filled from.
type whole struct {
	Title    string
	Style    template.CSS
	Size     template.CSS
	Sheet    bool
	Key      bool
	Variants []variantView
	Tables   []answerTable // with more than one variant
}

type variantView struct {
	Label    string
	Problems []*problemView
}

// Write writes the document: every variant's sheet, then the key.
func Write(w io.Writer, o Options, variants []Variant) error {
	size, ok := pageSize[o.Paper]
	if !ok {
		size = pageSize[A4]
	}
	d := whole{Title: notation.Printable(o.Title), Style: template.CSS(style), Size: size, Sheet: o.Sheet, Key: o.Key}
	if d.Title == "" {
		d.Title = defaultTitle
	}
	for _, v := range variants {
		view := variantView{Label: v.Label}
		for i, p := range v.Problems {
			pv, err := viewOf(p, i+1, o)
			if err != nil {
				return fmt.Errorf("%s, seed %d: %w", p.ID, p.Seed, err)
			}
			if len(v.Problems) == 1 {
				pv.Number = 0
			}
			view.Problems = append(view.Problems, pv)
		}
		d.Variants = append(d.Variants, view)
	}
	if o.Key && len(variants) > 1 {
		d.Tables = answerTables(d.Variants)
	}
	return document().Execute(w, d)
}
