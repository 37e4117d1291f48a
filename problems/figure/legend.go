package figure

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
