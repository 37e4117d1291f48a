package page

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"steelyard/tutor/review"
)

// The sizes of charts, in points. A page of A4 has room for 504 across.
const (
	wide     = 500
	half     = 245
	perRow   = 15 // of one row of a chart of rows
	overRows = 44 // axis and margins of the same
	textSize = 9
)

// face is what charts are lettered in; browsers have a font of its widths.
var face = font.Font{Typeface: "Liberation", Variant: "Sans"}

// chart is an empty plot in the page's inks.
func chart(xLabel, yLabel string) *plot.Plot {
	p := plot.New()
	p.BackgroundColor = nil
	p.X.Label.Text, p.Y.Label.Text = xLabel, yLabel
	for _, axis := range []*plot.Axis{&p.X, &p.Y} {
		axis.Color, axis.Width = strong, 0.6
		axis.Tick.Color, axis.Tick.Width = strong, 0.6
		axis.Tick.Length = 3
		axis.Padding = 4
		axis.Label.TextStyle.Color, axis.Tick.Label.Color = strong, strong
		axis.Label.TextStyle.Font = font.From(face, textSize)
		axis.Tick.Label.Font = font.From(face, textSize)
	}
	return p
}

// percents are the ticks of an axis of shares.
var percents = func() plot.ConstantTicks {
	var out plot.ConstantTicks
	for i := range 5 {
		out = append(out, plot.Tick{Value: float64(i) / 4, Label: strconv.Itoa(25*i) + " %"})
	}
	return out
}()

// grids draws faint lines at an axis' ticks.
func grids(vertical, horizontal bool) *plotter.Grid {
	g := plotter.NewGrid()
	g.Vertical, g.Horizontal = draw.LineStyle{}, draw.LineStyle{}
	style := draw.LineStyle{Color: grid, Width: 0.5}
	if vertical {
		g.Vertical = style
	}
	if horizontal {
		g.Horizontal = style
	}
	return g
}

// drawn is a plot as an element of the page.
func drawn(p *plot.Plot, width, height vg.Length, id, title, desc string) template.HTML {
	s := newSVG(width, height)
	c := draw.New(s)
	// The last tick's label reaches over the end of its axis.
	p.Draw(draw.Crop(c, 2, -14, 2, -4))
	return s.element(id, title, desc)
}

// A row of a chart of rates: what it is of, the rate, and whether it stands out.
type row struct {
	name string
	rate review.Rate
	mark bool
}

// whiskers are rates with their intervals, as plot wants them.
type whiskers struct {
	plotter.XYs
	errors []struct{ Low, High float64 }
}

func (w *whiskers) add(x, y float64, r review.Rate) {
	w.XYs = append(w.XYs, plotter.XY{X: x, Y: y})
	w.errors = append(w.errors, struct{ Low, High float64 }{r.Low - r.Rate, r.High - r.Rate})
}

// XError is how far a point's interval reaches to the left and the right.
func (w *whiskers) XError(i int) (float64, float64) { return w.errors[i].Low, w.errors[i].High }

// YError is how far a point's interval reaches down and up.
func (w *whiskers) YError(i int) (float64, float64) { return w.errors[i].Low, w.errors[i].High }

// mostWhiskers is how many intervals can stand side by side; more are a band.
const mostWhiskers = 24

// band is the intervals joined along the curve.
func (w *whiskers) band() *plotter.Polygon {
	var outline plotter.XYs
	for i, at := range w.XYs {
		outline = append(outline, plotter.XY{X: at.X, Y: at.Y + w.errors[i].High})
	}
	for i, at := range slices.Backward(w.XYs) {
		outline = append(outline, plotter.XY{X: at.X, Y: at.Y + w.errors[i].Low})
	}
	area := must(plotter.NewPolygon(outline))
	area.Color, area.LineStyle.Width = band, 0
	return area
}

// rows draws one rate a row, with its interval as a bar through it: a full
// mark for those that stand out, an open ring for the rest.
func rows(all []row, label, id, title, desc string) template.HTML {
	p := chart(label, "")
	p.X.Min, p.X.Max = 0, 1
	p.X.Tick.Marker = percents
	p.Add(grids(true, false))
	var bars whiskers
	var names plot.ConstantTicks
	var marked, plain plotter.XYs
	for i, r := range all {
		y := float64(len(all) - 1 - i)
		names = append(names, plot.Tick{Value: y, Label: r.name})
		bars.add(r.rate.Rate, y, r.rate)
		at := plotter.XY{X: r.rate.Rate, Y: y}
		if r.mark {
			marked = append(marked, at)
		} else {
			plain = append(plain, at)
		}
	}
	p.Y.Tick.Marker = names
	p.Y.Width, p.Y.Tick.Length = 0, 0
	through := must(plotter.NewXErrorBars(&bars))
	through.LineStyle = draw.LineStyle{Color: faint, Width: 1.2}
	through.CapWidth = 5
	p.Add(through)
	addMarks(p, plain, ring{})
	addMarks(p, marked, draw.CircleGlyph{})
	p.Y.Min, p.Y.Max = -0.5, float64(len(all))-0.5
	return drawn(p, wide, vg.Length(overRows+perRow*len(all)), id, title, desc)
}

func must[T any](v T, err error) T {
	if err != nil { // rates are numbers between 0 and 1
		panic(err)
	}
	return v
}

// ring is a mark with the ground inside it, so that no line runs through it.
type ring struct{}

// DrawGlyph draws it.
func (ring) DrawGlyph(c *draw.Canvas, style draw.GlyphStyle, p vg.Point) {
	c.SetColor(blank)
	draw.CircleGlyph{}.DrawGlyph(c, style, p)
	c.SetColor(style.Color)
	draw.RingGlyph{}.DrawGlyph(c, style, p)
}

func addMarks(p *plot.Plot, at plotter.XYs, shape draw.GlyphDrawer) {
	if len(at) == 0 {
		return
	}
	marks := must(plotter.NewScatter(at))
	marks.GlyphStyle = draw.GlyphStyle{Color: strong, Radius: 2.8, Shape: shape}
	p.Add(marks)
}

// curve draws error rates against the chance, from the first to the last, the
// chances on a scale of doublings; and the fit, if there is one.
func curve(s review.SkillCurve, id, title, desc string) template.HTML {
	p := chart("chance to use the skill", "wrong")
	p.Add(grids(false, true))
	last := 2
	var bars whiskers
	var points plotter.XYs
	for _, q := range s.Points {
		x := float64(q.Opportunity)
		last = max(last, q.Opportunity)
		bars.add(x, q.Errors.Rate, q.Errors)
		points = append(points, plotter.XY{X: x, Y: q.Errors.Rate})
	}
	radius := vg.Length(2)
	switch {
	case len(points) > mostWhiskers:
		radius = 1.2
		p.Add(bars.band())
	case len(points) > 0:
		through := must(plotter.NewYErrorBars(&bars))
		through.LineStyle = draw.LineStyle{Color: faint, Width: 0.9}
		through.CapWidth = 0
		p.Add(through)
	}
	if s.Fit != nil {
		p.Add(fit(*s.Fit, float64(last)))
		for _, edge := range edges(s.Points) {
			p.Add(edge)
		}
	}
	if len(points) > 0 {
		marks := must(plotter.NewScatter(points))
		marks.GlyphStyle = draw.GlyphStyle{Color: strong, Radius: radius, Shape: ring{}}
		p.Add(marks)
	}
	p.X.Min, p.X.Max = 1, float64(last)
	p.X.Scale, p.X.Tick.Marker = plot.LogScale{}, doublings(last)
	p.Y.Min, p.Y.Max = 0, 1
	p.Y.Tick.Marker = percents
	return drawn(p, half, 150, id, title, desc)
}

// fit is the line of a power law, as far as it is a rate.
func fit(law review.PowerLaw, last float64) *plotter.Line {
	const parts = 48
	var at plotter.XYs
	for i := range parts + 1 {
		x := math.Pow(last, float64(i)/parts)
		if y := law.A * math.Pow(x, -law.B); y <= 1 {
			at = append(at, plotter.XY{X: x, Y: y})
		}
	}
	if len(at) == 0 {
		at = plotter.XYs{{X: 1, Y: 1}}
	}
	line := must(plotter.NewLine(at))
	line.LineStyle = draw.LineStyle{Color: fitted, Width: 1.8}
	return line
}

// edges are the two edges of the band about a fit.
func edges(points []review.CurvePoint) []*plotter.Line {
	var low, high plotter.XYs
	for _, q := range points {
		if q.Fitted != nil {
			low = append(low, plotter.XY{X: float64(q.Opportunity), Y: q.Fitted.Low})
			high = append(high, plotter.XY{X: float64(q.Opportunity), Y: q.Fitted.High})
		}
	}
	var out []*plotter.Line
	for _, at := range []plotter.XYs{low, high} {
		if len(at) < 2 {
			continue
		}
		line := must(plotter.NewLine(at))
		line.LineStyle = draw.LineStyle{Color: fitted, Width: 0.7, Dashes: []vg.Length{3, 2}}
		out = append(out, line)
	}
	return out
}

// doublings are the ticks 1, 2, 4, ... and the last.
func doublings(last int) plot.ConstantTicks {
	var out plot.ConstantTicks
	for n := 1; n <= last; n *= 2 {
		out = append(out, plot.Tick{Value: float64(n), Label: strconv.Itoa(n)})
	}
	return out
}

// A spot of a chart of spots: where, its number in the table, and whether it
// stands out.
type spot struct {
	x, y   float64
	number int
	mark   bool
}

// spots draws what stands out as a full triangle with its number, and the rest
// as open rings. There is at least one.
func spots(all []spot, x, y axis, id, title, desc string) template.HTML {
	p := chart(x.label, y.label)
	p.Add(grids(true, true))
	var marked, plain plotter.XYs
	var labels plotter.XYLabels
	for _, s := range all {
		at := plotter.XY{X: s.x, Y: s.y}
		if !s.mark {
			plain = append(plain, at)
			continue
		}
		marked = append(marked, at)
		labels.XYs = append(labels.XYs, at)
		labels.Labels = append(labels.Labels, strconv.Itoa(s.number))
	}
	addMarks(p, plain, ring{})
	addMarks(p, marked, draw.PyramidGlyph{})
	if len(labels.XYs) > 0 {
		l := must(plotter.NewLabels(labels))
		l.Offset = vg.Point{X: 4, Y: 2}
		for i := range l.TextStyle {
			l.TextStyle[i].Color = strong
			l.TextStyle[i].Font = font.From(face, textSize)
		}
		p.Add(l)
	}
	x.set(&p.X, all, func(s spot) float64 { return s.x })
	y.set(&p.Y, all, func(s spot) float64 { return s.y })
	return drawn(p, wide, 240, id, title, desc)
}

// axis is how an axis of spots is marked off: a share, a correlation, or from
// the least there can be to the most there is.
type axis struct {
	label string
	from  float64
	share bool
}

func (a axis) set(on *plot.Axis, all []spot, value func(spot) float64) {
	least, most := value(all[0]), value(all[0])
	for _, s := range all {
		least, most = min(least, value(s)), max(most, value(s))
	}
	switch {
	case a.share: // from the quarter below the least
		on.Min, on.Max = min(0.75, math.Floor(4*least)/4), 1
		on.Tick.Marker = percents
		if on.Min == 0.75 {
			on.Tick.Marker = steps(0.75, 0.05, func(v float64) string { return fmt.Sprintf("%.0f %%", 100*v) })
		}
	case a.from < 0: // a correlation
		on.Min, on.Max = min(0, math.Floor(2*least)/2), 1
		on.Tick.Marker = steps(on.Min, 0.25, two)
	default:
		on.Min, on.Max = min(a.from, least), max(a.from+0.5, most)
	}
}

// steps are ticks from a value on to 1.
func steps(from, by float64, label func(float64) string) plot.ConstantTicks {
	var out plot.ConstantTicks
	for i := 0; from+float64(i)*by < 1+by/2; i++ {
		v := from + float64(i)*by
		out = append(out, plot.Tick{Value: v, Label: label(v)})
	}
	return out
}
