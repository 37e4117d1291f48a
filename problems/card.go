package problems

import (
	"bytes"
	"io/fs"
	"strings"
	"sync"

	"github.com/pelletier/go-toml/v2"
)

// Card is what a list says of a scenario.
type Card struct {
	ID        string
	Title     string
	Family    string
	Level     int // 1 to 4
	Statement string
	Caution   string // one line, where real work of this kind can hurt someone
	Skills    []string
	Hash      string // of the file's bytes, so that a log can tell editions apart
}

// Cards are those of the scenarios, in their order.
func (b *Bank) Cards() []*Card {
	var out []*Card
	for _, s := range b.Scenarios {
		out = append(out, &s.Card)
	}
	return out
}

// Cards are those of the built-in bank, as Builtin().Cards(). Only the heads
// of the files are read, in a tenth of the time, so that a list can be shown
// before the bank is read.
var Cards = sync.OnceValue(func() []*Card {
	files, _ := fs.Glob(builtin, "bank/*.toml")
	var out []*Card
	for _, name := range files {
		data, err := builtin.ReadFile(name)
		var f file
		if err == nil {
			err = toml.Unmarshal(head(data), &f)
		}
		if err != nil {
			return Builtin().Cards()
		}
		c := f.card()
		c.Hash = hashOf(data)
		out = append(out, &c)
	}
	arrange(out, func(c *Card) *Card { return c })
	return out
})

// head is a scenario file up to its first table.
func head(data []byte) []byte {
	if at := bytes.Index(data, []byte("\n[")); at >= 0 {
		return data[:at+1]
	}
	return data
}

// card is what the file says of the scenario as a whole.
func (f *file) card() Card {
	return Card{ID: f.ID, Title: f.Title, Family: f.Family, Level: f.Level, Caution: f.Caution, Skills: f.Skills,
		Statement: strings.Join(strings.Fields(f.Statement), " ")}
}
