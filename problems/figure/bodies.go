package figure

import (
	"slices"

	"steelyard/problems/statics"
)

// Several bodies in one figure: the one in view is plain, the others are faint.

// bodies are the problem's, the view's own first. A whole comes after its
// parts, and only where it is the view's: it has nothing that they have not.
func (b *builder) bodies() []*statics.Body {
	if b.order != nil {
		return b.order
	}
	if b.own != nil {
		b.order = append(b.order, b.own)
	}
	for i := range b.p.Bodies {
		if body := &b.p.Bodies[i]; body != b.own && !body.Whole() {
			b.order = append(b.order, body)
		}
	}
	return b.order
}

// plain reports whether a body is drawn as the body in view.
func (b *builder) plain(body *statics.Body) bool {
	return b.own == nil || body == b.own || slices.Contains(b.own.Of, body.Name)
}

// bodyOf is the body that a thing drawn at some of its points belongs to: one
// that has them all before one that has any, and that before one that has them
// as marks.
func (b *builder) bodyOf(points ...string) (*statics.Body, bool) {
	var best *statics.Body
	most := 0
	for _, body := range b.bodies() {
		if body.Whole() {
			continue // its parts are here too
		}
		worth := 0
		for _, name := range points {
			switch pt, ok := body.Point(name); {
			case ok && !pt.Mark:
				worth += 1 + len(points)
			case ok:
				worth++
			}
		}
		if worth > most {
			best, most = body, worth
		}
	}
	return best, best != nil
}

// role is the given one, or that of other bodies if the thing belongs to one.
func (b *builder) role(role Role, points ...string) Role {
	if body, ok := b.bodyOf(points...); ok {
		return b.plainOr(role, body)
	}
	return role
}

// lineRole is the role of a taut line.
func (b *builder) lineRole(points ...string) Role {
	if b.role(Cable, points...) == Other {
		return OtherLine
	}
	return Cable
}

func (b *builder) plainOr(role Role, body *statics.Body) Role {
	if b.plain(body) {
		return role
	}
	return Other
}

// offBody reports whether a point is on no body, and so a mark for the figure's
// sake.
func (b *builder) offBody(name string) bool {
	for _, body := range b.bodies() {
		if pt, ok := body.Point(name); ok && !pt.Mark {
			return false
		}
	}
	return true
}

// joint is what holds two bodies together at a point.
type joint struct {
	at   string
	kind statics.ForceKind
	on   [2]string
}

// jointsOf are the pins and contacts between bodies, each once.
func (b *builder) jointsOf() []joint {
	var out []joint
	for i := range b.p.Bodies {
		body := &b.p.Bodies[i]
		for _, f := range body.Forces {
			if f.Joint == "" || body.Whole() || f.Kind != statics.Pin && f.Kind != statics.Normal {
				continue
			}
			had := slices.ContainsFunc(out, func(j joint) bool {
				return j.at == f.At && (j.on == [2]string{body.Name, f.Joint} || j.on == [2]string{f.Joint, body.Name})
			})
			if !had {
				out = append(out, joint{f.At, f.Kind, [2]string{body.Name, f.Joint}})
			}
		}
	}
	return out
}

// joints draws a ring where two bodies are pinned together.
func (b *builder) joints() {
	for _, j := range b.jointsOf() {
		if j.kind == statics.Pin {
			b.joins(j.at)
			b.add(Sign{Kind: HingeSign, At: b.at(j.at)})
		}
	}
}
