package figure

import (
	"math"
	"unicode/utf8"
)

// spot is a place on the grid in dots, x to the right, y down.
type spot struct{ x, y float64 }

// frame carries metres to dots.
type frame struct {
	scale  float64 // dots for a metre, across
	ox, oy float64
}

const downPerAcross = (float64(dotsDown) / CellAspect) / float64(dotsAcross)

func (f frame) spot(v Vec) spot {
	return spot{f.ox + f.scale*v.X, f.oy - f.scale*downPerAcross*v.Y}
}

// cell is the cell a place is drawn in. A place on the line between two rows
// is in the upper: what stands on the ground is above its line.
func (f frame) cell(v Vec) (col, row int) { return cellOf(f.spot(v)) }

func cellOf(s spot) (col, row int) {
	const hair = 0.02
	return floor(s.x / dotsAcross), floor((s.y - hair) / dotsDown)
}

// anchor is a place that must be in the picture, with the dots it needs around
// it whatever the scale.
type anchor struct {
	at                    Vec
	left, right, up, down float64
}

// layout are the sizes, in dots, of what has no scale.
type layout struct {
	arrow float64 // the length of an arrow
	plain bool    // names in ASCII
}

func newLayout(height int, ascii bool) layout {
	rows := min(max(math.Round(float64(height)/5.5), 2), 4)
	return layout{rows * dotsDown, ascii}
}

// anchors are all places of the scene. Names and dimensions get less room, or
// none, as the share falls.
func (l layout) anchors(s Scene, share float64) []anchor {
	out := make([]anchor, 0, 64)
	add := func(v Vec, left, right, up, down float64) {
		out = append(out, anchor{v, left * share, right * share, up * share, down * share})
	}
	arrow := func(a Arrow) {
		u := heading(a.ray().angle)
		across, down := l.arrow*math.Abs(u.X), l.arrow*math.Abs(u.Y)
		name := float64(utf8.RuneCountInString(Caption{Symbol: a.Symbol}.Short(l.plain)) * dotsAcross)
		if math.Abs(u.X) > 0.3 {
			across += 2*dotsAcross + name
		}
		switch {
		case u.X > 0 && u.Y > 0:
			add(a.At, 0, across, down, 0)
		case u.X > 0:
			add(a.At, 0, across, 0, down)
		case u.Y > 0:
			add(a.At, across, 0, down, 0)
		default:
			add(a.At, across, 0, 0, down)
		}
	}
	one := func(shape Shape) {
		switch s := shape.(type) {
		case Line:
			add(s.From, 0, 0, 0, 0)
			add(s.To, 0, 0, 0, 0)
		case Strut:
			add(s.From, 1, 1, 1, 1)
			add(s.To, 1, 1, 1, 1)
		case Coil:
			add(s.From, 3, 3, 2, 2)
			add(s.To, 3, 3, 2, 2)
		case Spread:
			u := heading(s.Angle)
			for i, v := range []Vec{s.From, s.To} {
				off := l.spreadHeight()*[]float64{s.Start, s.End}[i] + 2*dotsDown + float64(s.Lane)*(l.spreadHeight()+dotsDown)
				add(v, max(off*u.X, 0), max(-off*u.X, 0), max(-off*u.Y, 0), max(off*u.Y, 0))
			}
		case Water:
			add(s.From, 0, 0, dotsDown, 0)
			add(s.To.up(-s.Depth), 0, 0, 0, 0)
		case Outline:
			for _, p := range s.Points {
				add(p, 1, 1, 1, 1)
			}
		case Disc:
			for _, u := range []Vec{{1, 1}, {-1, -1}} {
				add(s.Centre.plus(u.times(s.Radius)), 0, 0, 0, 0)
			}
		case Hatch:
			for _, v := range []Vec{s.From, s.To} {
				add(v, 3, 3, 0, 4)
			}
		case Person:
			add(s.At.plus(Vec{-0.2 * s.Height, 0}), 0, 0, 0, 0)
			add(s.At.plus(Vec{0.2 * s.Height, s.Height}), 0, 0, dotsDown, 0)
		case Sign:
			switch s.Kind {
			case PinSign, RollerSign:
				if s.Over {
					add(s.At, 6, 6, 2*dotsDown, 0)
				} else {
					add(s.At, 6, 6, 0, 2*dotsDown)
				}
			case SheaveSign:
				add(s.At, 4, 4, 4, 4)
			}
		case Arrow:
			arrow(s)
		case Corner:
			u := heading(s.From + s.Span/2)
			r := l.cornerRadius(s)
			across := r + 3 + float64(utf8.RuneCountInString(s.Caption.Full(l.plain))*dotsAcross)
			if u.X > 0 {
				add(s.At, 0, across, r*max(u.Y, 0), r*max(-u.Y, 0))
			} else {
				add(s.At, across, 0, r*max(u.Y, 0), r*max(-u.Y, 0))
			}
		case Turn:
			add(s.At, 6, 6, 2*dotsDown, dotsDown)
		case Mark:
			add(s.At, 2*dotsAcross, 2*dotsAcross, dotsDown, 0)
		}
	}
	for _, shape := range s.Shapes {
		one(shape)
	}
	for _, shape := range s.Room {
		one(shape)
	}
	return out
}

// tiers is how many rows the level dimensions take, one under the other.
func tiers(s Scene) int {
	var rows [][]Length
	for _, shape := range s.Shapes {
		l, ok := shape.(Length)
		if !ok || !levelLine(l.From, l.To) {
			continue
		}
		placed := false
		for i := range rows {
			clear := true
			for _, o := range rows[i] {
				clear = clear && (max(l.From.X, l.To.X) <= min(o.From.X, o.To.X)+1e-9 || min(l.From.X, l.To.X) >= max(o.From.X, o.To.X)-1e-9)
			}
			if clear {
				rows[i], placed = append(rows[i], l), true
				break
			}
		}
		if !placed {
			rows = append(rows, []Length{l})
		}
	}
	return len(rows)
}

func levelLine(a, b Vec) bool   { return math.Abs(a.Y-b.Y) < 1e-6*math.Abs(a.X-b.X) }
func uprightLine(a, b Vec) bool { return math.Abs(a.X-b.X) < 1e-6*math.Abs(a.Y-b.Y) }

// fit finds the largest frame in which everything is inside width x height
// cells.
func fit(s Scene, width, height int, l layout) frame {
	w, h := float64(width*dotsAcross), float64(height*dotsDown)
	below := float64(tiers(s) * dotsDown)
	f, share := fitIn(s, w, h, below, l)
	if share == 0 {
		return f
	}
	return aligned(s, f, l.anchors(s, share), w, h-below*share)
}

// fitIn finds the largest frame in w x h dots, with as much below for the level
// dimensions. In a box too small for names and arrows the things themselves
// have the room; share is how much of theirs those got.
func fitIn(s Scene, w, h, below float64, l layout) (f frame, share float64) {
	whole, _ := frameFor(l.anchors(s, 0), w, h, 0)
	for _, share := range []float64{1, 0.75, 0.5, 0.25} {
		f, ok := frameFor(l.anchors(s, share), w, h, below*share)
		if ok && f.scale > 0.35*whole.scale {
			return f, share
		}
	}
	return whole, 0
}

// frameFor solves, for each axis, the largest scale at which every pair of
// anchors lies within the length: scale (x_i - x_j) + room_i + room_j <= length.
func frameFor(anchors []anchor, w, h, below float64) (frame, bool) {
	h -= below
	sx := axis(anchors, w, func(a anchor) (float64, float64, float64) { return a.at.X, a.left, a.right })
	sy := axis(anchors, h, func(a anchor) (float64, float64, float64) { return a.at.Y * downPerAcross, a.down, a.up })
	f := frame{scale: min(sx, sy)}
	if !(f.scale > 0) || w <= 0 || h <= 0 {
		return frame{scale: 0, ox: w / 2, oy: h / 2}, false
	}
	if math.IsInf(f.scale, 0) {
		f.scale = 1
	}
	f.ox, _, _ = f.slackX(anchors, w)
	f.oy, _, _ = f.slackY(anchors, h)
	return f, true
}

// axis is the largest scale along one axis; below zero if there is none.
func axis(anchors []anchor, length float64, of func(anchor) (at, low, high float64)) float64 {
	best := math.Inf(1)
	for _, a := range anchors {
		xa, _, high := of(a)
		for _, b := range anchors {
			xb, low, _ := of(b)
			room := length - high - low
			switch d := xa - xb; {
			case room < 0:
				return -1
			case d > 0:
				best = min(best, room/d)
			}
		}
	}
	return best
}

// slackX is the middle of the places the origin may have, and that range.
func (f frame) slackX(anchors []anchor, w float64) (mid, low, high float64) {
	low, high = math.Inf(-1), math.Inf(1)
	for _, a := range anchors {
		low = max(low, a.left-f.scale*a.at.X)
		high = min(high, w-a.right-f.scale*a.at.X)
	}
	return (low + high) / 2, low, high
}

func (f frame) slackY(anchors []anchor, h float64) (mid, low, high float64) {
	low, high = math.Inf(-1), math.Inf(1)
	for _, a := range anchors {
		y := f.scale * downPerAcross * a.at.Y
		low = max(low, a.up+y)
		high = min(high, h-a.down+y)
	}
	return (low + high) / 2, low, high
}

// aligned moves the frame by less than a cell, so that the face or member that
// matters most lies on the grid: what rests on it then touches it.
func aligned(s Scene, f frame, anchors []anchor, w, h float64) frame {
	_, low, high := f.slackY(anchors, h)
	if y, ok := datumY(s); ok {
		f.oy = snapped(f.oy, -f.scale*downPerAcross*y, dotsDown, 0, low, high)
	}
	_, low, high = f.slackX(anchors, w)
	if x, off, ok := datumX(s); ok {
		f.ox = snapped(f.ox, f.scale*x, dotsAcross, off, low, high)
	}
	return f
}

// snapped moves origin so that origin + at is off beyond a multiple of step,
// staying within the range if that can be had.
func snapped(origin, at float64, step, off, low, high float64) float64 {
	down := math.Floor((origin+at-off)/step)*step + off - at
	best := origin
	for _, o := range []float64{down, down + step} {
		if o >= low-1e-9 && o <= high+1e-9 && (best == origin || math.Abs(o-origin) < math.Abs(best-origin)) {
			best = o
		}
	}
	return best
}

// datumY is the height of the first level member, or else of level ground.
func datumY(s Scene) (float64, bool) {
	for _, shape := range s.Shapes {
		if l, ok := shape.(Line); ok && l.Role == Body && levelLine(l.From, l.To) {
			return l.From.Y, true
		}
	}
	for _, shape := range s.Shapes {
		if h, ok := shape.(Hatch); ok && levelLine(h.From, h.To) {
			return h.From.Y, true
		}
	}
	return 0, false
}

// datumX is where the first upright face is, and where in its cell what
// touches it belongs: next to the face.
func datumX(s Scene) (x, off float64, ok bool) {
	for _, shape := range s.Shapes {
		if h, is := shape.(Hatch); is && uprightLine(h.From, h.To) {
			if h.To.Y < h.From.Y { // downward: solid on the left of the picture
				return h.From.X, 0.5, true
			}
			return h.From.X, 1.5, true
		}
	}
	return 0, 0, false
}
