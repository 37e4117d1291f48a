package problems

import (
	"fmt"
	"slices"

	"github.com/pelletier/go-toml/v2"
)

// Source is a scenario file as it is written: it says where in the file a part
// of its scenario stands.
type Source struct {
	places *places
	file   file
}

// Place is a line and a column of a file, from 1, in characters; the zero
// Place is the file as a whole.
type Place struct{ Line, Column int }

// NewSource finds the places of a file that [Read] has read.
func NewSource(data []byte) *Source {
	src := &Source{places: locate(data)}
	_ = toml.Unmarshal(data, &src.file) // what cannot be decoded has no places, and Read has said so
	return src
}

// At is the place of the value at a path ("bodies.0.points.2.at"), or of the
// nearest thing that holds it.
func (src *Source) At(path string) Place {
	line, column := src.places.at(path, 0)
	return Place{line, column}
}

// Given is the path of a given's table, by symbol; "" if there is none.
func (src *Source) Given(symbol string) string {
	return pathOf("givens", src.file.Givens, func(g fileGiven) bool { return g.Symbol == symbol })
}

// Unknown is the path of an unknown's table, by symbol; "" if there is none.
func (src *Source) Unknown(symbol string) string {
	return pathOf("unknowns", src.file.Unknowns, func(u fileUnknown) bool { return u.Symbol == symbol })
}

// Defined is the path of a defined symbol's table; "" if there is none.
func (src *Source) Defined(symbol string) string {
	return pathOf("defined", src.file.Defined, func(d fileDefined) bool { return d.Symbol == symbol })
}

// Body is the path of a body's table, by name; "" if there is none.
func (src *Source) Body(name string) string {
	return pathOf("bodies", src.file.Bodies, func(b fileBody) bool { return b.Name == name })
}

// Point is the path of a point or mark of a body, by name; "" if the body has
// none of its own, as the centroid of a load.
func (src *Source) Point(body, name string) string {
	path, named := src.Body(body), func(p filePoint) bool { return p.Name == name }
	if path == "" {
		return ""
	}
	b := src.body(body)
	if p := pathOf(path+".points", b.Points, named); p != "" {
		return p
	}
	return pathOf(path+".marks", b.Marks, named)
}

// Action is the path of what brings a force or couple, by symbol: its support
// or joint, else its force, load or couple; "" if there is none.
func (src *Source) Action(symbol string) string {
	for i, b := range src.file.Bodies {
		path := fmt.Sprintf("bodies.%d", i)
		for _, p := range []string{
			pathOf(path+".supports", b.Supports, func(s fileSupport) bool { return slices.Contains(s.Symbols, symbol) }),
			pathOf(path+".forces", b.Forces, func(f fileForce) bool { return f.Symbol == symbol }),
			pathOf(path+".loads", b.Loads, func(l fileLoad) bool { return l.Symbol == symbol }),
			pathOf(path+".couples", b.Couples, func(c fileCouple) bool { return c.Symbol == symbol }),
		} {
			if p != "" {
				return p
			}
		}
	}
	return pathOf("joints", src.file.Joints, func(j fileJoint) bool { return slices.Contains(j.Symbols, symbol) })
}

func (src *Source) body(name string) fileBody {
	i := slices.IndexFunc(src.file.Bodies, func(b fileBody) bool { return b.Name == name })
	if i < 0 {
		return fileBody{}
	}
	return src.file.Bodies[i]
}

// pathOf is the path of the first element of a list that is, or "".
func pathOf[T any](list string, of []T, is func(T) bool) string {
	if i := slices.IndexFunc(of, is); i >= 0 {
		return fmt.Sprintf("%s.%d", list, i)
	}
	return ""
}
