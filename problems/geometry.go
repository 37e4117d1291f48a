package problems

import (
	"fmt"
	"slices"
	"strings"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

func (r *reader) body(path string, f *fileBody) {
	b := statics.Body{Name: f.Name}
	if f.Name == "" {
		r.fault(path, 0, "a body has a name, like \"arm\"")
	}
	r.printable(path+".name", f.Name)
	for i, p := range f.Points {
		r.point(fmt.Sprintf("%s.points.%d", path, i), p, &b, false)
	}
	for i, p := range f.Marks {
		r.point(fmt.Sprintf("%s.marks.%d", path, i), p, &b, true)
	}
	if len(b.Points) == 0 {
		r.fault(path, 0, "body %s has no [[bodies.points]]", notation.Printable(f.Name))
		return
	}
	for i, s := range f.Supports {
		r.support(fmt.Sprintf("%s.supports.%d", path, i), s, &b)
	}
	for i, force := range f.Forces {
		r.force(fmt.Sprintf("%s.forces.%d", path, i), force, &b)
	}
	for i, l := range f.Loads {
		r.load(fmt.Sprintf("%s.loads.%d", path, i), l, &b)
	}
	for i, c := range f.Couples {
		r.couple(fmt.Sprintf("%s.couples.%d", path, i), c, &b)
	}
	r.s.Bodies = append(r.s.Bodies, b)
}

// point reads "0", "A + L/2 @ alpha" or "E + (-a, R - h)"; chains may go on.
func (r *reader) point(path string, f filePoint, b *statics.Body, mark bool) {
	if !pointPattern.MatchString(f.Name) {
		r.fault(path+".name", 0, "a point is a capital letter, perhaps with a digit, like \"A\" or \"C2\"")
	}
	if _, dup := b.Point(f.Name); dup {
		r.fault(path+".name", 0, "point %s is named twice", notation.Printable(f.Name))
	}
	r.printable(path+".meaning", f.Meaning)
	p := statics.Point{Name: f.Name, Meaning: f.Meaning, Mark: mark}
	p.Chain = r.chain(path+".at", f.At, b)
	b.Points = append(b.Points, p)
}

func (r *reader) chain(path, text string, b *statics.Body) []statics.Offset {
	parts, starts := splitTop(text, '+')
	root := strings.TrimSpace(parts[0])
	var chain []statics.Offset
	if root != "0" {
		p, ok := b.Point(root)
		if !ok {
			r.fault(path, 1, "a place begins with a point named before it, or 0, then + and an offset: \"A + L/2 @ alpha\" or \"E + (-a, R - h)\"")
			return nil
		}
		chain = slices.Clone(p.Chain)
	}
	for i, part := range parts[1:] {
		at := starts[i+1]
		trimmed := strings.TrimSpace(part)
		if strings.HasPrefix(trimmed, "(") && strings.HasSuffix(trimmed, ")") {
			if o, ok := r.cartesian(path, part, at); ok {
				chain = append(chain, o)
				continue
			}
			return nil
		}
		length, angle, ok := strings.Cut(part, "@")
		if !ok {
			r.fault(path, at+1, "an offset is a length @ an angle, or (x, y)")
			return nil
		}
		n := r.exprAt(path, length, at)
		a, aok := r.angleAt(path, angle, at+len([]rune(length))+1)
		if n == nil || !aok {
			return nil
		}
		chain = append(chain, statics.Offset{Polar: true, Len: statics.FromNode(n), Angle: a})
	}
	return chain
}

func (r *reader) cartesian(path, part string, at int) (statics.Offset, bool) {
	open := strings.IndexByte(part, '(')
	inner := part[open+1 : strings.LastIndexByte(part, ')')]
	xy, starts := splitTop(inner, ',')
	if len(xy) != 2 {
		r.fault(path, at+open+1, "components are two expressions with a comma between: (x, y)")
		return statics.Offset{}, false
	}
	at += len([]rune(part[:open+1]))
	x := r.exprAt(path, xy[0], at+starts[0])
	y := r.exprAt(path, xy[1], at+starts[1])
	if x == nil || y == nil {
		return statics.Offset{}, false
	}
	return statics.Offset{DX: statics.FromNode(x), DY: statics.FromNode(y)}, true
}

// splitTop splits text at sep outside brackets; starts are rune offsets.
func splitTop(text string, sep rune) (parts []string, starts []int) {
	depth, from, runeFrom, runes := 0, 0, 0, 0
	for i, c := range text {
		switch c {
		case '(', '[', '{':
			depth++
		case ')', ']', '}':
			depth--
		case sep:
			if depth == 0 {
				parts, starts = append(parts, text[from:i]), append(starts, runeFrom)
				from, runeFrom = i+1, runes+1
			}
		}
		runes++
	}
	return append(parts, text[from:]), append(starts, runeFrom)
}

// magnitude is the size of a force in symbols, and whether it is unknown.
func (r *reader) magnitude(path, symbol string) (statics.Sum, bool, bool) {
	i, ok := r.table.Index(symbol)
	if !ok {
		r.fault(path, 0, "symbol %q is no given, unknown or defined symbol; name it in one of those", notation.Printable(symbol))
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

func (r *reader) direction(path, angle, toward, at string, b *statics.Body) (statics.Direction, bool) {
	switch {
	case (angle == "") == (toward == ""):
		r.fault(path, 0, "say which way: an angle, or toward a point, and not both")
		return statics.Direction{}, false
	case angle != "":
		a, ok := r.angle(path+".angle", angle)
		return statics.At(a), ok
	}
	from, _ := b.Point(at)
	to, ok := b.Point(toward)
	if !ok {
		r.fault(path+".toward", 0, "no point %q on body %s", notation.Printable(toward), b.Name)
		return statics.Direction{}, false
	}
	d, err := statics.TowardPoint(from, to)
	if err != nil {
		r.fault(path+".toward", 0, "%v", err)
		return d, false
	}
	return d, true
}

func (r *reader) onBody(path, at string, b *statics.Body) bool {
	p, ok := b.Point(at)
	if !ok || p.Mark {
		r.fault(path, 0, "no point %q on body %s; name one of its points", notation.Printable(at), b.Name)
		return false
	}
	return true
}

func (r *reader) add(path string, b *statics.Body, f statics.Force) {
	mag, unknown, ok := r.magnitude(path, f.Symbol)
	if !ok {
		return
	}
	if _, dup := b.Force(f.Symbol); dup {
		r.fault(path, 0, "force %s acts twice on body %s; give each force its own symbol", f.Symbol, b.Name)
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
		r.fault(path+".kind", 0, "%q is no kind of force; kinds are %s", notation.Printable(f.Kind), names(forceKinds))
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
		r.fault(path+".kind", 0, "%q is no kind of support; kinds are %s", notation.Printable(f.Kind), names(bundles))
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
	angles := k.angles
	if len(f.Angles) > 0 {
		angles = f.Angles
	}
	if len(angles) != len(k.kinds) && f.Toward == "" {
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
			force.Pair, force.Sliding = normal, f.Slides
		}
		r.add(fmt.Sprintf("%s.symbols.%d", path, i), b, force)
	}
	if k.couple {
		at := fmt.Sprintf("%s.symbols.%d", path, want-1)
		if mag, unknown, ok := r.magnitude(at, f.Symbols[want-1]); ok {
			b.Couples = append(b.Couples, statics.Couple{Symbol: f.Symbols[want-1], Meaning: r.s.Meaning(f.Symbols[want-1]),
				Magnitude: mag, Unknown: unknown, Sense: 1, Kind: statics.Fixing})
		}
	}
}

func (r *reader) couple(path string, f fileCouple, b *statics.Body) {
	sense, ok := map[string]float64{"anticlockwise": 1, "clockwise": -1}[f.Sense]
	if !ok {
		r.fault(path+".sense", 0, "a couple's sense is \"clockwise\" or \"anticlockwise\"")
	}
	mag, unknown, ok := r.magnitude(path+".symbol", f.Symbol)
	if !ok {
		return
	}
	r.printable(path+".meaning", f.Meaning)
	if f.Meaning == "" {
		f.Meaning = r.s.Meaning(f.Symbol)
	}
	b.Couples = append(b.Couples, statics.Couple{Symbol: f.Symbol, Meaning: f.Meaning, Magnitude: mag, Unknown: unknown, Sense: sense, Kind: statics.Turning})
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
	i, ok := r.table.Index(f.Symbol)
	if !ok {
		r.fault(path+".symbol", 0, "symbol %q of the resultant is not defined; put it in [[defined]]", notation.Printable(f.Symbol))
		return
	}
	from, _ := b.Point(f.From)
	to, _ := b.Point(f.To)
	w, l := r.sum(path+".per_length", f.PerLength), r.sum(path+".length", f.Length)
	if w == nil || l == nil {
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
	for n := 1; ; n++ { // the resultant's point: the next free K
		name = fmt.Sprintf("K%d", n)
		if _, taken := b.Point(name); !taken {
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
	b.Forces = append(b.Forces, statics.Force{Symbol: r.table.Name(i), Meaning: f.Meaning, At: name, Dir: d, Kind: statics.Spread,
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

// Place finds a point or mark of the body by name, or reads a place given by an
// offset from one: "A + L/4 @ 0". The empty text is the first point.
func (s *Scenario) Place(b *statics.Body, text string) (statics.Point, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return b.Points[0], nil
	}
	if p, ok := b.Point(text); ok {
		return p, nil
	}
	r := &reader{name: "place", s: s, table: s.Table}
	if len(text) <= notation.MaxBytes && strings.Contains(text, "+") {
		if chain := r.chain("", text, b); len(r.faults) == 0 {
			return statics.Point{Name: notation.Printable(text), Chain: chain, Mark: true}, nil
		}
	}
	if len(r.faults) > 0 {
		return statics.Point{}, fmt.Errorf("column %d: %s", r.faults[0].Column, r.faults[0].Message)
	}
	return statics.Point{}, fmt.Errorf("no point \"%s\" here; points are %s, or a place like \"%s + 0.5 @ 0\"", notation.Printable(text), pointNames(b), b.Points[0].Name)
}

func pointNames(b *statics.Body) string {
	var out []string
	for _, p := range b.Points {
		out = append(out, p.Name)
	}
	return strings.Join(out, ", ")
}
