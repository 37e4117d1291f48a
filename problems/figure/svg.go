package figure

import (
	"encoding/xml"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Sizes of the drawing, in units of the picture: a unit is a pixel on a screen,
// and 1/96 of an inch in print.
const (
	unitsPerDot = 4.0  // what the fitting of frames calls a dot
	arrowDots   = 13.0 // the length of an arrow
	tierDots    = 6.0  // from one level dimension to the next
	margin      = 6.0  // of white about the drawing
	letterSize  = 14.0
)

// SVG draws the scene as an SVG document of at most width x height units, to
// scale and as large as fits: black on white, with its title and its sentences
// for those who hear it. White at the edges is cut away. It refers to nothing
// outside itself, and may stand in an HTML page as it is.
func (s Scene) SVG(width, height int) string {
	c := s.onCanvas(float64(width), float64(height))
	low, high := c.bounds()
	var out strings.Builder
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" role="img" width="%s" height="%s" viewBox="%s %s %s %s" font-family="%s" font-size="%s">`+"\n",
		num(high.x-low.x), num(high.y-low.y), num(low.x), num(low.y), num(high.x-low.x), num(high.y-low.y), family, num(letterSize))
	fmt.Fprintf(&out, "<title>%s</title>\n", escape(s.Title))
	if s.words != nil {
		fmt.Fprintf(&out, "<desc>%s</desc>\n", escape(strings.Join(s.words(), " ")))
	}
	fmt.Fprintf(&out, `<rect x="%s" y="%s" width="%s" height="%s" fill="#fff"/>`+"\n", num(low.x), num(low.y), num(high.x-low.x), num(high.y-low.y))
	out.WriteString(c.out.String())
	out.WriteString("</svg>\n")
	return out.String()
}

// family is a serif, as symbols are set; widths are reckoned for the widest.
const family = "Times New Roman, Liberation Serif, Times, DejaVu Serif, serif"

// onCanvas draws all ink, then letters what is drawn.
func (s Scene) onCanvas(width, height float64) *canvas {
	var c *canvas
	a, tilted := s.axes()
	for _, less := range unitsFree {
		if !tilted && less.tilted {
			continue
		}
		c = s.onPart(width, height, less.right, less.below)
		if c.legend(s) && (!tilted || c.axes(a)) {
			break
		}
	}
	return c
}

// unitsFree is how much at the right and the lower edge the figure may give up
// for the legend and the learner's axes, where they find no room in it: as little
// as will do. The last is for pictures too small for either.
var unitsFree = []struct {
	right, below float64
	tilted       bool
}{{0, 0, false}, {0, legendLine, false}, {0, 2 * legendLine, false}, {axisUnits, 0, true}, {axisUnits, legendLine, true}, {0, axisUnits, true}, {0, 0, false}}

// onPart draws on a canvas whose right and lower edges are kept free.
func (s Scene) onPart(width, height, right, below float64) *canvas {
	c := newCanvas(width, height)
	c.width, c.height = c.width-right, c.height-below // until all is lettered
	l := layout{arrow: arrowDots}
	under := tierDots * float64(tiers(s))
	c.frame, _ = fitIn(s, (width-right-2*margin)/unitsPerDot, (height-below-2*margin)/unitsPerDot, under, l)
	shapes := slices.Clone(s.Shapes)
	slices.SortStableFunc(shapes, func(a, b Shape) int { return layer(a) - layer(b) })
	for _, shape := range shapes {
		c.draw(shape)
	}
	c.letter(s)
	for _, shape := range s.Shapes {
		if w, ok := shape.(Water); ok {
			c.ripples(w)
		}
	}
	c.width, c.height = c.width+right, c.height+below
	return c
}

// layer orders shapes from back to front: what stands on a bar, or bears it,
// is behind its edge.
func layer(shape Shape) int {
	switch s := shape.(type) {
	case Water:
		return 0
	case Hatch:
		return 1
	case Outline:
		if s.Role == Load {
			return 2
		}
		return 3
	case Disc:
		return 3
	case Line:
		switch s.Role {
		case Body, Other:
			return 4
		case Action, Arm:
			return 6
		}
		return 2
	case Sign:
		if s.Kind == HingeSign || s.Kind == SheaveSign {
			return 5
		}
		return 2
	case Person, Coil:
		return 2
	case Strut:
		return 5
	case Arrow, Turn:
		return 7
	case Mark:
		return 8
	}
	return 6
}

// num writes a number to a tenth of a unit.
func num(v float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(v+0, 'f', 1, 64), ".0")
}

// escape makes text safe inside an element or a quoted attribute.
func escape(text string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(text))
	return b.String()
}
