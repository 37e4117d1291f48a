package problems

import (
	"fmt"
	"slices"
	"strings"

	"steelyard/problems/statics"
)

// magnitude is the size of a force in symbols, and whether it is unknown.
func (r *reader) magnitude(path, symbol string) (statics.Sum, bool, bool) {
	i, ok := r.table.Index(symbol)
	if !ok {
		r.fault(path, 0, "symbol %s is no given, unknown or defined symbol; name it in one of those", quote(symbol))
		return nil, false, false
	}
	self := statics.Sym(i, symbol)
	if _, unknown := r.s.Unknown(symbol); unknown {
		return self, true, true
	}
	for _, d := range r.s.Defined {
		if d.Symbol == symbol && d.Is != nil {
			return statics.FromNode(d.Is), false, true
		}
	}
	return self, false, true
}

// twice notes a force or couple whose symbol is on the body already.
func (r *reader) twice(path, symbol string, b *statics.Body) bool {
	_, dup := b.Force(symbol)
	if dup || slices.ContainsFunc(b.Couples, func(c statics.Couple) bool { return c.Symbol == symbol }) {
		r.fault(path, 0, "%s acts twice on body %s; give each force and couple its own symbol", quote(symbol), quote(b.Name))
		return true
	}
	return false
}

func (r *reader) add(path string, b *statics.Body, f statics.Force) {
	mag, unknown, ok := r.magnitude(path, f.Symbol)
	if !ok {
		return
	}
	if r.twice(path, f.Symbol, b) {
		return
	}
	f.Magnitude, f.Unknown = mag, unknown
	if f.Meaning == "" {
		f.Meaning = r.s.Meaning(f.Symbol)
	}
	b.Forces = append(b.Forces, f)
}

var forceKinds = map[string]statics.ForceKind{
	"weight": statics.Weight, "applied": statics.Applied, "tension": statics.Tension, "normal": statics.Normal,
	"friction": statics.Friction, "spring": statics.Spring, "inertia": statics.Inertia, "link": statics.Link,
}

func (r *reader) force(path string, f fileForce, b *statics.Body) {
	kind, ok := forceKinds[f.Kind]
	if !ok {
		r.fault(path+".kind", 0, "%s is no kind of force; kinds are %s", quote(f.Kind), names(forceKinds))
		return
	}
	if !r.onBody(path+".at", f.At, b) {
		return
	}
	if kind == statics.Weight && f.Angle == "" && f.Toward == "" {
		f.Angle = "-90"
	}
	d, ok := r.direction(path, f.Angle, f.Toward, f.At, b)
	if !ok {
		return
	}
	r.printable(path+".meaning", f.Meaning)
	r.add(path+".symbol", b, statics.Force{Symbol: f.Symbol, Meaning: f.Meaning, At: f.At, Dir: d, Kind: kind})
}

// bundle is what a kind of support brings: a force for each of kinds, along
// angles unless the file says otherwise; fixed ends bring a couple as well.
type bundle struct {
	kinds  []statics.ForceKind
	angles []string
	couple bool
}

var bundles = map[string]bundle{
	"pin":    {kinds: []statics.ForceKind{statics.Pin, statics.Pin}, angles: []string{"0", "90"}},
	"roller": {kinds: []statics.ForceKind{statics.Normal}, angles: []string{"90"}},
	"smooth": {kinds: []statics.ForceKind{statics.Normal}, angles: []string{"90"}},
	"rough":  {kinds: []statics.ForceKind{statics.Normal, statics.Friction}, angles: []string{"90", "0"}},
	"fixed":  {kinds: []statics.ForceKind{statics.Fixing, statics.Fixing}, angles: []string{"0", "90"}, couple: true},
	"cable":  {kinds: []statics.ForceKind{statics.Tension}},
	"link":   {kinds: []statics.ForceKind{statics.Link}},
	"spring": {kinds: []statics.ForceKind{statics.Spring}},
}

func (r *reader) support(path string, f fileSupport, b *statics.Body) {
	k, ok := bundles[f.Kind]
	if !ok {
		r.fault(path+".kind", 0, "%s is no kind of support; kinds are %s", quote(f.Kind), names(bundles))
		return
	}
	want := len(k.kinds)
	if k.couple {
		want++
	}
	if len(f.Symbols) != want {
		r.fault(path+".symbols", 0, "a %s support takes %d symbols, one for each force it brings, not %d", f.Kind, want, len(f.Symbols))
		return
	}
	if !r.onBody(path+".at", f.At, b) {
		return
	}
	if !r.slips(path, k, f) {
		return
	}
	angles := k.angles
	if len(f.Angles) > 0 {
		angles = f.Angles
	}
	switch {
	case f.Toward != "" && (len(f.Angles) > 0 || len(k.kinds) > 1):
		r.fault(path+".toward", 0, "toward gives the direction of one force, in place of angles; a %s support brings %d", f.Kind, len(k.kinds))
		return
	case f.Toward == "" && len(angles) == 0:
		r.fault(path, 0, "a %s has no direction of its own; say angles = [\"...\"], or toward a point", f.Kind)
		return
	case f.Toward == "" && len(angles) != len(k.kinds):
		r.fault(path+".angles", 0, "a %s support takes %d angles, one for each force it brings", f.Kind, len(k.kinds))
		return
	}
	normal := ""
	for i, kind := range k.kinds {
		var d statics.Direction
		if f.Toward != "" {
			d, ok = r.direction(path, "", f.Toward, f.At, b)
		} else {
			var a statics.Angle
			a, ok = r.angle(fmt.Sprintf("%s.angles.%d", path, i), angles[i])
			d = statics.At(a)
		}
		if !ok {
			return
		}
		force := statics.Force{Symbol: f.Symbols[i], At: f.At, Dir: d, Kind: kind}
		if kind == statics.Normal {
			normal = f.Symbols[i]
		}
		if kind == statics.Friction {
			force.Pair, force.Sliding, force.MaySlip = normal, f.Slides, f.MaySlip
		}
		r.add(fmt.Sprintf("%s.symbols.%d", path, i), b, force)
	}
	if k.couple {
		at := fmt.Sprintf("%s.symbols.%d", path, want-1)
		r.addCouple(at, b, statics.Couple{Symbol: f.Symbols[want-1], Sense: 1, Kind: statics.Fixing})
	}
}

// slips checks what is said of a contact's slipping.
func (r *reader) slips(path string, k bundle, f fileSupport) bool {
	rough := slices.Contains(k.kinds, statics.Friction)
	switch {
	case f.Slides && !rough:
		r.fault(path+".slides", 0, "only a rough support slides; a %s has no friction", f.Kind)
	case f.MaySlip && !rough:
		r.fault(path+".may_slip", 0, "only a rough support may slip; a %s has no friction", f.Kind)
	case f.Slides && f.MaySlip:
		r.fault(path+".may_slip", 0, "a contact that slides does slip; keep one of slides and may_slip")
	default:
		return true
	}
	return false
}

func (r *reader) addCouple(path string, b *statics.Body, c statics.Couple) {
	mag, unknown, ok := r.magnitude(path, c.Symbol)
	if !ok || r.twice(path, c.Symbol, b) {
		return
	}
	c.Magnitude, c.Unknown = mag, unknown
	if c.Meaning == "" {
		c.Meaning = r.s.Meaning(c.Symbol)
	}
	b.Couples = append(b.Couples, c)
}

func (r *reader) couple(path string, f fileCouple, b *statics.Body) {
	sense, ok := map[string]float64{"anticlockwise": 1, "clockwise": -1}[f.Sense]
	if !ok {
		r.fault(path+".sense", 0, "a couple's sense is \"clockwise\" or \"anticlockwise\"")
	}
	r.printable(path+".meaning", f.Meaning)
	r.addCouple(path+".symbol", b, statics.Couple{Symbol: f.Symbol, Meaning: f.Meaning, Sense: sense, Kind: statics.Turning})
}

// load resolves a distributed load to its resultant, at a new point.
func (r *reader) load(path string, f fileLoad, b *statics.Body) {
	shape := statics.Shape(f.Shape)
	if !slices.Contains([]statics.Shape{statics.Uniform, statics.Rising, statics.Falling}, shape) {
		r.fault(path+".shape", 0, "a load is \"uniform\", \"rising\" or \"falling\" from its first point to its second")
		return
	}
	if !r.onBody(path+".from", f.From, b) || !r.onBody(path+".to", f.To, b) {
		return
	}
	if !slices.ContainsFunc(r.s.Defined, func(d Defined) bool { return d.Symbol == f.Symbol }) {
		r.fault(path+".symbol", 0, "symbol %s of the resultant is not defined; put it in [[defined]], as the load's size", quote(f.Symbol))
		return
	}
	if r.twice(path+".symbol", f.Symbol, b) {
		return
	}
	r.printable(path+".meaning", f.Meaning)
	if f.Meaning == "" {
		f.Meaning = r.s.Meaning(f.Symbol)
	}
	from, _ := b.Point(f.From)
	to, _ := b.Point(f.To)
	before := len(r.faults)
	w, l := r.sum(path+".per_length", f.PerLength), r.sum(path+".length", f.Length)
	if len(r.faults) == before && (w.IsZero() || l.IsZero()) {
		r.fault(path, 0, "a load of nothing, or over no length, is no load; take it out")
	}
	if len(r.faults) > before {
		return
	}
	if f.Angle == "" {
		f.Angle = "-90"
	}
	d, ok := r.direction(path, f.Angle, "", f.From, b)
	if !ok {
		return
	}
	size, centroid := shape.Resultant()
	var name string
	for n := 1; ; n++ { // the resultant's point: the next K that is free on every body
		name = fmt.Sprintf("K%d", n)
		if _, taken := r.s.pointFor(b, name); !taken {
			break
		}
	}
	at := statics.Point{Name: name, Meaning: "centroid of the load " + f.Symbol, Chain: slices.Clone(from.Chain)}
	v := statics.Between(from, to)
	for _, o := range v.Polar {
		o.Len = o.Len.Scale(centroid)
		at.Chain = append(at.Chain, o)
	}
	if !v.DX.IsZero() || !v.DY.IsZero() {
		at.Chain = append(at.Chain, statics.Offset{DX: v.DX.Scale(centroid), DY: v.DY.Scale(centroid)})
	}
	b.Points = append(b.Points, at)
	b.Forces = append(b.Forces, statics.Force{Symbol: f.Symbol, Meaning: f.Meaning, At: name, Dir: d, Kind: statics.Spread,
		Magnitude: w.Times(l).Scale(size),
		Load:      &statics.Load{Symbol: f.Symbol, From: f.From, To: f.To, PerLength: w, Length: l, Shape: shape}})
}

func names[V any](m map[string]V) string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return strings.Join(out, ", ")
}
