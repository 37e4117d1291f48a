package figure

import (
	"math"
	"unicode/utf8"
)

// The legend is below the figure: the lengths that found no place in it, by the
// points that they lie between.

// legend writes it, as low as there is room. It is false if some of it finds none.
func (d *drawing) legend(s Scene) bool {
	whole := true
	for _, l := range d.unplaced {
		whole = d.entry(s.entries(l, d.ascii)) && whole
	}
	return whole
}

// entry writes one of the forms, fullest first, with a clear cell on either side,
// so that no mark seems to be of it.
func (d *drawing) entry(forms []string) bool {
	for _, form := range forms {
		form = narrow(form, d.ascii)
		n := utf8.RuneCountInString(form)
		for row := d.height - 1; row >= 0; row-- {
			for col := 1; col+n < d.width; col++ {
				if d.price(col-1, row, n+2) == 0 {
					d.write(col, row, form, Dimension)
					return true
				}
			}
		}
	}
	return false
}

// entries are the forms of a length's line in the legend, fullest first: "A to
// B: L = 3.2 m".
func (s Scene) entries(l Length, ascii bool) []string {
	full, short := l.Caption.Full(ascii), l.Caption.Short(ascii)
	from, to := s.nameAt(l.From), s.nameAt(l.To)
	if from == "" || to == "" {
		return []string{full, short}
	}
	return []string{from + " to " + to + ": " + full, from + to + ": " + full, from + to + ": " + short, short}
}

// nameAt is the name of the point marked at a place, "" if there is none.
func (s Scene) nameAt(at Vec) string {
	for _, shape := range s.Shapes {
		if m, ok := shape.(Mark); ok && m.At == at && m.Name != "" {
			return m.Name
		}
	}
	return ""
}

// legendLine is the height of a line of the legend in SVG.
const legendLine = 20.0

// legend writes it below what is drawn, or as low as there is room. It is false
// if some of it finds none.
func (c *canvas) legend(s Scene) bool {
	whole, under := true, c.high.y+legendLine/2
	for _, l := range c.unplaced {
		var forms []form
		if from, to := s.nameAt(l.From), s.nameAt(l.To); from != "" && to != "" {
			forms = append(forms, form{runs: append(plainRun(from+" to "+to+": "), l.Caption.runs()...)})
		}
		forms = append(forms, form{runs: l.Caption.runs(), less: 40})
		var perches []perch
		for y := under; y < c.height; y += mapCell {
			for x := margin; x < c.width-margin; x += 2 * mapCell {
				cost := 0.02*math.Abs(x-c.low.x) + 0.3*(y-under)
				perches = append(perches, perch{spot{x, y}, spot{1, 0}, cost})
			}
		}
		whole = c.say(forms, perches, never/2) && whole
	}
	return whole
}
