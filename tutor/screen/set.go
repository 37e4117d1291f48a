package screen

// Progress is how far a set is that is worked.
type Progress struct {
	Said []string // for the learner: the set, what of it is done, what is left of its time
	Of   []string // how far each of its problems is, in the order of Options.Cards

	Timed bool // its time is limited
}

// ofSet is what the problems of a set stand under, in the set's own order.
const ofSet = "problems of the set"

// follow looks up how far the set is.
func (c *choose) follow(o Options) {
	if o.Progress != nil {
		p := o.Progress()
		c.set = &p
	}
}

// state is how far a problem of the set is.
func (p *Progress) state(l *look, at int) string {
	if at < len(p.Of) {
		return l.text(p.Of[at])
	}
	return ""
}

// lines say how far the set is; there are none where no set is worked.
func (p *Progress) lines(l *look, width int) []string {
	if p == nil {
		return nil
	}
	var out []string
	for i, text := range p.Said {
		r := quiet
		if i == 0 {
			r = heading
		}
		out = append(out, l.painted(r, l.text(text), width)...)
	}
	return out
}
