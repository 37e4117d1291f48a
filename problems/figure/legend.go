package figure

import "math"

// The legend is below the figure: the lengths that found no place in it, by the
// points that they lie between.

// legend writes it. It is false if some of it finds no room.
func (d *drawing) legend(s Scene) bool {
	if len(d.unplaced) == 0 {
		return true
	}
	whole := true
	for _, l := range d.unplaced {
		var seats []seat
		for row := d.height - 1; row >= 0; row-- {
			for col := 1; col < d.width; col++ {
				seats = append(seats, seat{col, row, 1, 3*float64(d.height-1-row) + 0.05*float64(col)})
			}
		}
		whole = d.say(s.entries(l, d.ascii), seats, Dimension, never/2) && whole
	}
	return whole
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
