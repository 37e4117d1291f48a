package problems

import (
	"bytes"
	"io/fs"
	"strconv"
	"strings"
	"sync"

	"github.com/pelletier/go-toml/v2/unstable"
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
// of the files are read, so that a list can be shown before the bank is read.
var Cards = sync.OnceValue(func() []*Card {
	files, _ := fs.Glob(builtin, "bank/*.toml")
	var out []*Card
	p, start := &unstable.Parser{}, make([]byte, 2<<10)
	for _, name := range files {
		data, err := beginning(name, start)
		if err != nil {
			return Builtin().Cards()
		}
		p.Reset(data)
		out = append(out, headOf(p))
	}
	arrange(out, func(c *Card) *Card { return c })
	return out
})

// beginning is a file as far as start holds it, or all of it if no table begins
// by then.
func beginning(name string, start []byte) ([]byte, error) {
	f, err := builtin.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	n, err := f.Read(start)
	if err == nil && bytes.Contains(start[:n], []byte("\n[")) {
		return start[:n], nil
	}
	return builtin.ReadFile(name)
}

// headOf reads a scenario file as far as its first table.
func headOf(p *unstable.Parser) *Card {
	var c Card
	for p.NextExpression() {
		e := p.Expression()
		if e.Kind != unstable.KeyValue {
			break
		}
		key, value := e.Key(), e.Value()
		key.Next()
		switch text := string(value.Data); string(key.Node().Data) {
		case "id":
			c.ID = text
		case "title":
			c.Title = text
		case "family":
			c.Family = text
		case "level":
			c.Level, _ = strconv.Atoi(text)
		case "statement":
			c.Statement = oneLine(text)
		case "caution":
			c.Caution = text
		case "skills":
			for all := value.Children(); all.Next(); {
				c.Skills = append(c.Skills, string(all.Node().Data))
			}
		}
	}
	return &c
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
