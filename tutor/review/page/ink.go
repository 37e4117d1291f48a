package page

import (
	"fmt"
	"html/template"
	"image"
	"image/color"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// ink is one of the few colours a chart is drawn in. What it looks like is
// told by the page's style, so that a chart turns dark with the page, and
// prints black on white.
type ink uint8

// The inks.
const (
	strong ink = iota // marks, axes, text
	faint             // intervals
	grid
	fitted // a fitted line
	blank  // the ground, for the inside of open marks
	band   // an interval that runs along a curve
)

var inkClass = [...]string{strong: "strong", faint: "faint", grid: "grid", fitted: "fitted", blank: "blank", band: "band"}

// RGBA makes an ink a colour that plot hands on as it is.
func (i ink) RGBA() (r, g, b, a uint32) { return color.Gray{uint8(i)}.RGBA() }

// svg is a canvas that plot draws on, as the inside of an SVG element. Lengths
// are points; SVG's y goes down, the canvas's up.
type svg struct {
	b             strings.Builder
	width, height vg.Length
	now           pen
	saved         []pen
}

// pen is what Push keeps: the style, and the transform to SVG's coordinates.
type pen struct {
	ink    ink
	width  vg.Length
	dash   []vg.Length
	turned [6]float64 // a b c d e f, as in matrix()
}

func newSVG(width, height vg.Length) *svg {
	s := &svg{width: width, height: height}
	s.now.turned = [6]float64{1, 0, 0, -1, 0, float64(height)}
	vg.Initialize(s)
	return s
}

// Size is that of the whole drawing.
func (s *svg) Size() (x, y vg.Length) { return s.width, s.height }

// SetLineWidth sets the width of strokes.
func (s *svg) SetLineWidth(w vg.Length) { s.now.width = w }

// SetLineDash sets the dashes of strokes; where they begin is not kept.
func (s *svg) SetLineDash(pattern []vg.Length, _ vg.Length) { s.now.dash = pattern }

// SetColor sets the ink; what is no ink is strong.
func (s *svg) SetColor(c color.Color) {
	i, ok := c.(ink)
	if !ok {
		i = strong
	}
	s.now.ink = i
}

// Push keeps the pen for Pop.
func (s *svg) Push() { s.saved = append(s.saved, s.now) }

// Pop takes the pen that was kept last.
func (s *svg) Pop() {
	s.now = s.saved[len(s.saved)-1]
	s.saved = s.saved[:len(s.saved)-1]
}

// then puts a transform before those there are.
func (s *svg) then(a, b, c, d, e, f float64) {
	m := s.now.turned
	s.now.turned = [6]float64{
		m[0]*a + m[2]*b, m[1]*a + m[3]*b,
		m[0]*c + m[2]*d, m[1]*c + m[3]*d,
		m[0]*e + m[2]*f + m[4], m[1]*e + m[3]*f + m[5],
	}
}

// Rotate turns what follows, anticlockwise.
func (s *svg) Rotate(rad float64) {
	sin, cos := math.Sincos(rad)
	s.then(cos, sin, -sin, cos, 0, 0)
}

// Translate moves what follows.
func (s *svg) Translate(p vg.Point) { s.then(1, 0, 0, 1, float64(p.X), float64(p.Y)) }

// Scale stretches what follows.
func (s *svg) Scale(x, y float64) { s.then(x, 0, 0, y, 0, 0) }

// at is a point in SVG's coordinates.
func (s *svg) at(p vg.Point) string {
	m := s.now.turned
	x, y := float64(p.X), float64(p.Y)
	return short(m[0]*x+m[2]*y+m[4]) + " " + short(m[1]*x+m[3]*y+m[5])
}

// short is a length to a hundredth of a point.
func short(v float64) string {
	v = math.Round(100*v) / 100
	return strconv.FormatFloat(v+0, 'f', -1, 64)
}

// Stroke draws along a path.
func (s *svg) Stroke(p vg.Path) {
	if s.now.width <= 0 {
		return
	}
	dash := ""
	if len(s.now.dash) > 0 {
		var all []string
		for _, d := range s.now.dash {
			all = append(all, short(float64(d)))
		}
		dash = ` stroke-dasharray="` + strings.Join(all, " ") + `"`
	}
	fmt.Fprintf(&s.b, "<path class=\"line %s\" stroke-width=\"%s\"%s d=\"%s\"/>\n", inkClass[s.now.ink], short(float64(s.now.width)), dash, s.path(p))
}

// Fill fills a path.
func (s *svg) Fill(p vg.Path) {
	fmt.Fprintf(&s.b, "<path class=\"area %s\" d=\"%s\"/>\n", inkClass[s.now.ink], s.path(p))
}

func (s *svg) path(p vg.Path) string {
	var b strings.Builder
	for _, c := range p {
		switch c.Type {
		case vg.MoveComp:
			b.WriteString("M" + s.at(c.Pos))
		case vg.LineComp:
			b.WriteString("L" + s.at(c.Pos))
		case vg.ArcComp:
			s.arc(&b, c)
		case vg.CurveComp:
			kind := "Q"
			if len(c.Control) == 2 {
				kind = "C"
			}
			b.WriteString(kind)
			for _, q := range c.Control {
				b.WriteString(s.at(q) + " ")
			}
			b.WriteString(s.at(c.Pos))
		case vg.CloseComp:
			b.WriteByte('Z')
		}
	}
	return b.String()
}

// arc writes an arc in two halves: SVG draws no whole circle at one go. A
// circle stays one, as charts stretch nothing.
func (s *svg) arc(b *strings.Builder, c vg.PathComp) {
	on := func(angle float64) string {
		sin, cos := math.Sincos(angle)
		return s.at(vg.Point{X: c.Pos.X + c.Radius*vg.Length(cos), Y: c.Pos.Y + c.Radius*vg.Length(sin)})
	}
	to, sweep := "M", "0"
	if b.Len() > 0 {
		to = "L"
	}
	if c.Angle < 0 {
		sweep = "1"
	}
	b.WriteString(to + on(c.Start))
	r := short(float64(c.Radius))
	for _, part := range []float64{0.5, 1} {
		b.WriteString("A" + r + " " + r + " 0 0 " + sweep + " " + on(c.Start+part*c.Angle))
	}
}

// FillString writes text from a point of its base line on, as wide as plot took
// it to be: the browser's font may be another.
func (s *svg) FillString(f font.Face, p vg.Point, text string) {
	m := s.now.turned
	turn := ""
	if m[1] != 0 || m[2] != 0 {
		turn = fmt.Sprintf(` transform="rotate(%s %s)"`, short(math.Atan2(m[1], m[0])*180/math.Pi), s.at(p))
	}
	x, y, _ := strings.Cut(s.at(p), " ")
	fmt.Fprintf(&s.b, "<text class=\"%s\" x=\"%s\" y=\"%s\" font-size=\"%s\" textLength=\"%s\" lengthAdjust=\"spacingAndGlyphs\"%s>%s</text>\n",
		inkClass[s.now.ink], x, y, short(float64(f.Font.Size)), short(float64(f.Width(text))), turn, template.HTMLEscapeString(text))
}

// DrawImage does nothing: no chart here holds a picture.
func (s *svg) DrawImage(vg.Rectangle, image.Image) {}

// element is the whole drawing as an element of a page. The id tells its title
// and description apart from those of other drawings.
func (s *svg) element(id, title, desc string) template.HTML {
	esc := template.HTMLEscapeString
	w, h := short(float64(s.width)), short(float64(s.height))
	return template.HTML(fmt.Sprintf("<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" viewBox=\"0 0 %s %s\" width=\"%spt\" height=\"%spt\" aria-labelledby=\"%s-t %s-d\">\n<title id=\"%s-t\">%s</title>\n<desc id=\"%s-d\">%s</desc>\n%s</svg>",
		w, h, w, h, id, id, id, esc(title), id, esc(desc), s.b.String()))
}
