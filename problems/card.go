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
		var c Card
		if err == nil {
			err = toml.Unmarshal(head(data), &c)
		}
		if err != nil {
			return Builtin().Cards()
		}
		c.Statement = oneLine(c.Statement)
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
	return Card{ID: f.ID, Title: f.Title, Family: f.Family, Level: f.Level, Caution: f.Caution, Skills: f.Skills, Statement: oneLine(f.Statement)}
}

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// Edition is the hash of a scenario of the built-in bank, as in its Hash; ""
// if there is none of that id. The bank need not be read for it.
func Edition(id string) string {
	data, err := builtin.ReadFile("bank/" + id + ".toml")
	if err != nil {
		return ""
	}
	return hashOf(data)
}
