package notation

import (
	"strings"

	"gonum.org/v1/gonum/unit"
)

// Unit is a unit of a final value. The value in SI (angles in radians) is the
// number written times Factor.
type Unit struct {
	Name   string // as it is shown; empty for a pure number
	Factor float64
	Dim    unit.Dimensions // shared: not to be changed
}

// Factors to SI. The SI prefixes, the litre-free units and the degree are
// exact by the SI Brochure (9th edition, 2019, tables 4, 7 and 8). The foot,
// the inch and the avoirdupois pound are exact by the international agreement
// of 1959, and the pound-force and kilogram-force follow from them with
// standard gravity (3rd CGPM, 1901): NIST Special Publication 811 (2008),
// appendix B.8. All recalled from memory, and tied together by a test.
const (
	foot     = 0.3048               // m
	inch     = foot / 12            // m
	pound    = 0.45359237           // kg
	standard = 9.80665              // m/s², the gravity in kgf and lbf
	poundF   = pound * standard     // N, 4.448 221 615...
	degree   = piValue / 180        // rad
	psi      = poundF / inch / inch // Pa
)

// dimension is a kind of quantity: its name in words, and what it is made of.
type dimension struct {
	name string
	dim  unit.Dimensions
}

// made gives dimensions by the powers of mass, length, time and angle.
func made(mass, length, time, angle int) unit.Dimensions {
	d := unit.Dimensions{}
	for dim, power := range map[unit.Dimension]int{unit.MassDim: mass, unit.LengthDim: length, unit.TimeDim: time, unit.AngleDim: angle} {
		if power != 0 {
			d[dim] = power
		}
	}
	return d
}

var (
	pure          = dimension{"a pure number", made(0, 0, 0, 0)}
	force         = dimension{"a force", made(1, 1, -2, 0)}
	length        = dimension{"a length", made(0, 1, 0, 0)}
	mass          = dimension{"a mass", made(1, 0, 0, 0)}
	duration      = dimension{"a time", made(0, 0, 1, 0)}
	angle         = dimension{"an angle", made(0, 0, 0, 1)}
	moment        = dimension{"a moment", made(1, 2, -2, 0)}
	forcePerLen   = dimension{"a force per length", made(1, 0, -2, 0)}
	speed         = dimension{"a speed", made(0, 1, -1, 0)}
	acceleration  = dimension{"an acceleration", made(0, 1, -2, 0)}
	pressure      = dimension{"a pressure", made(1, -1, -2, 0)}
	density       = dimension{"a mass per volume", made(1, -3, 0, 0)}
	weightDensity = dimension{"a force per volume", made(1, -2, -2, 0)}
)

// unitRows are the units that can be typed: the name shown, every other
// spelling (products with a space, powers with ^), the factor, the kind.
var unitRows = []struct {
	name   string
	also   string // separated by commas
	factor float64
	kind   dimension
}{
	{"", "", 1, pure},
	{"%", "percent,per cent", 0.01, pure},

	{"N", "newton,newtons", 1, force},
	{"kN", "kilonewton,kilonewtons", 1e3, force},
	{"MN", "meganewton,meganewtons", 1e6, force},
	{"mN", "millinewton,millinewtons", 1e-3, force},
	{"lbf", "pound-force,pounds-force", poundF, force},
	{"kgf", "kp", standard, force},

	{"m", "metre,metres,meter,meters", 1, length},
	{"cm", "centimetre,centimetres,centimeter,centimeters", 1e-2, length},
	{"mm", "millimetre,millimetres,millimeter,millimeters", 1e-3, length},
	{"km", "kilometre,kilometres,kilometer,kilometers", 1e3, length},
	{"ft", "foot,feet", foot, length},
	{"in", "inch,inches", inch, length},

	{"kg", "kilogram,kilograms", 1, mass},
	{"g", "gram,grams", 1e-3, mass},
	{"t", "tonne,tonnes", 1e3, mass},
	{"lb", "lbm,pound,pounds", pound, mass},

	{"s", "sec,second,seconds", 1, duration},
	{"min", "minute,minutes", 60, duration},

	{"deg", "°,º,degree,degrees", degree, angle},
	{"rad", "radian,radians", 1, angle},

	{"N m", "Nm,newton metre,newton metres,newton meter,newton meters", 1, moment},
	{"kN m", "kNm", 1e3, moment},
	{"N cm", "Ncm", 1e-2, moment},
	{"N mm", "Nmm", 1e-3, moment},
	{"lbf ft", "ft lbf,lbf-ft,ft-lbf", poundF * foot, moment},
	{"lbf in", "in lbf,lbf-in,in-lbf", poundF * inch, moment},

	{"N/m", "N m^-1", 1, forcePerLen},
	{"kN/m", "kN m^-1", 1e3, forcePerLen},
	{"N/cm", "", 1e2, forcePerLen},
	{"N/mm", "", 1e3, forcePerLen},
	{"lbf/ft", "", poundF / foot, forcePerLen},
	{"lbf/in", "", poundF / inch, forcePerLen},

	{"m/s", "m s^-1", 1, speed},
	{"km/h", "", 1 / 3.6, speed},
	{"ft/s", "ft s^-1", foot, speed},
	{"m/s^2", "m s^-2,m/s/s,N/kg", 1, acceleration},
	{"ft/s^2", "ft s^-2,ft/s/s", foot, acceleration},

	{"Pa", "N/m^2", 1, pressure},
	{"kPa", "kN/m^2", 1e3, pressure},
	{"MPa", "MN/m^2,N/mm^2", 1e6, pressure},
	{"psi", "lbf/in^2", psi, pressure},
	{"kg/m^3", "kg m^-3", 1, density},
	{"N/m^3", "N m^-3", 1, weightDensity},
	{"kN/m^3", "kN m^-3", 1e3, weightDensity},
}

var (
	units       = map[string]Unit{}
	unitNames   []string                 // in the order of the rows
	unitKind    = map[string]dimension{} // by the name shown
	unitRewrite = strings.NewReplacer("·", " ", "⋅", " ", "∙", " ", "**", "^", "*", " ",
		"²", "^2", "³", "^3", "⁻¹", "^-1", "⁻²", "^-2", "⁻³", "^-3", "−", "-", "∕", "/", "⁄", "/", "\u00a0", " ", "\u2009", " ", "\u202f", " ")
)

func init() {
	for _, row := range unitRows {
		u := Unit{row.name, row.factor, row.kind.dim}
		units[row.name] = u
		unitNames = append(unitNames, row.name)
		unitKind[row.name] = row.kind
		for _, name := range strings.Split(row.also, ",") {
			if _, taken := units[name]; name != "" && !taken {
				units[name] = u
			}
		}
	}
}

// maxUnit bounds the text of a unit, in bytes, well beyond the longest.
const maxUnit = 40

// ParseUnit finds a unit by the way it is written: "kN", "N m", "N·m", "m/s²",
// "lbf ft", "°"; empty text is the unit of a pure number. The error is an
// [*Error].
func ParseUnit(text string) (Unit, error) {
	if u, ok := units[text]; ok {
		return u, nil
	}
	if len(text) <= maxUnit {
		if u, ok := units[plainUnit(text)]; ok {
			return u, nil
		}
	}
	return Unit{}, &Error{1, "no unit " + quote(text) + " here", nearUnit(text)}
}

// plainUnit rewrites a unit the way the rows have it.
func plainUnit(text string) string {
	text = strings.Join(strings.Fields(unitRewrite.Replace(text)), " ")
	for _, op := range []string{"/", "^"} {
		text = strings.ReplaceAll(strings.ReplaceAll(text, " "+op, op), op+" ", op)
	}
	return text
}

// nearUnit says which unit a text is nearly: the same but for capitals, which
// matter in units, or a slip of the hand away from a long name.
func nearUnit(text string) string {
	if len(text) <= maxUnit {
		text = plainUnit(text)
		for _, name := range unitNames {
			if name != "" && strings.EqualFold(name, text) {
				return "did you mean " + name + "? Capitals matter in units"
			}
		}
		best, bestDistance := "", min(allowed(text), 1)+1
		for name, u := range units {
			if d := distance(text, name); len(name) > 2 && (d < bestDistance || d == bestDistance && best != "" && u.Name < best) {
				best, bestDistance = u.Name, d
			}
		}
		if best != "" {
			return "did you mean " + best + "?"
		}
	}
	return "write one such as N, kN, m, cm, kg, N m, deg or lbf"
}

// SameDim reports whether two units measure the same kind of quantity.
func SameDim(a, b Unit) bool {
	return unit.DimensionsMatch(unit.New(1, a.Dim), unit.New(1, b.Dim))
}

// DimName says in words what a unit measures: "a force" for "kN". It is empty
// if there is no such unit.
func DimName(text string) string {
	u, err := ParseUnit(text)
	if err != nil {
		return ""
	}
	return u.DimName()
}

// DimName says in words what the unit measures.
func (u Unit) DimName() string { return unitKind[u.Name].name }
