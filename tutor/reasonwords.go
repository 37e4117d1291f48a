package tutor

import (
	"slices"

	"steelyard/problems/notation"
	"steelyard/problems/statics"
)

// sceneWords are what the texts of reasons can speak of. A word that is not to
// be had in a scene is empty, and a text with it is not said there.
var sceneWords = map[string]func(*scene) string{
	"point":    func(sc *scene) string { return sc.place(sc.point.Name) },
	"pivot":    chosenPivot,
	"body":     func(sc *scene) string { return notation.Printable(sc.b.Name) },
	"force":    func(sc *scene) string { return sc.name(sc.force.Symbol) },
	"at":       func(sc *scene) string { return sc.place(sc.force.At) },
	"Drops":    func(sc *scene) string { return sc.drops(sc.point) },
	"drop":     dropOrDrops,
	"instead":  (*scene).instead,
	"stays":    func(sc *scene) string { return sc.name(sc.staying().Symbol) },
	"known":    func(sc *scene) string { return sc.name(sc.knownForce().Symbol) },
	"weight":   func(sc *scene) string { w, _ := sc.weight(); return sc.name(w.Symbol) },
	"nearer":   nearerToWeight,
	"other":    anotherPoint,
	"along":    func(sc *scene) string { return sc.name(sc.alongContact().Symbol) },
	"mu":       func(sc *scene) string { return sc.name(sc.coefficient()) },
	"normal":   func(sc *scene) string { return sc.name(sc.force.Pair) },
	"axis":     func(sc *scene) string { return axisNames[sc.alongWhich()] },
	"across":   func(sc *scene) string { return axisNames[acrossFrom[sc.alongWhich()]] },
	"carrier":  carrier,
	"end":      func(sc *scene) string { f := sc.atEnd(); return sc.place(f.At) },
	"occupant": func(sc *scene) string { return sc.name(sc.atEnd().Symbol) },
	"from":     func(sc *scene) string { from, _, _ := sc.b.TwoForce(); return notation.Printable(from) },
	"to":       func(sc *scene) string { _, to, _ := sc.b.TwoForce(); return notation.Printable(to) },
	"one":      func(sc *scene) string { return notation.Printable(sc.on.Name) },
	"two":      func(sc *scene) string { return notation.Printable(sc.force.Joint) },
	"partner":  func(sc *scene) string { return sc.name(sc.partner().Symbol) },
}

var (
	axisNames  = map[statics.RowKind]string{statics.RowX: "x", statics.RowY: "y"}
	acrossFrom = map[statics.RowKind]statics.RowKind{statics.RowX: statics.RowY, statics.RowY: statics.RowX}
)

func chosenPivot(sc *scene) string {
	if !sc.chosen {
		return ""
	}
	return sc.place(sc.fr.Pivot.Name)
}

func dropOrDrops(sc *scene) string {
	if len(sc.advise(sc.point).Vanish) == 1 {
		return "drops"
	}
	return "drop"
}

// About pivots.

// best is the most unknowns that are rid of about any point of the body, and
// the first point that does it.
func (sc *scene) best() (statics.PivotAdvice, statics.Point) {
	var best statics.PivotAdvice
	var at statics.Point
	for _, p := range sc.b.Points {
		if a := sc.advise(p); !p.Mark && (at.Name == "" || len(a.Vanish) > len(best.Vanish)) {
			best, at = a, p
		}
	}
	return best, at
}

func bestPoint(sc *scene) statics.Point { _, at := sc.best(); return at }

// choice reports whether there is a choice of pivots that matters: several
// points, several unknowns, and about the best point something left to write.
func (sc *scene) choice() bool {
	_, more := sc.other(func(statics.Point) bool { return true })
	_, best := sc.best()
	left := sc.first(func(f statics.Force) bool { return sc.arm(f, sc.b, best) })
	return more && sc.advise(sc.point).Unknowns > 1 && (left.Symbol != "" || len(sc.b.Couples) > 0)
}

func atBestPivot(sc *scene) []string {
	best, _ := sc.best()
	if !sc.choice() || len(sc.advise(sc.point).Vanish) < len(best.Vanish) {
		return nil
	}
	return []string{""}
}

func atPoorPivot(sc *scene) []string {
	best, _ := sc.best()
	if !sc.choice() || len(sc.advise(sc.fr.Pivot).Vanish) >= len(best.Vanish) {
		return nil
	}
	return []string{""}
}

func unknownsDrop(sc *scene) bool { return len(sc.advise(sc.point).Vanish) > 0 }

func moreDrop(sc *scene) bool {
	return len(sc.advise(sc.point).Vanish) > len(sc.advise(sc.fr.Pivot).Vanish)
}

func (sc *scene) staying() statics.Force {
	return sc.first(func(f statics.Force) bool { return f.Unknown && sc.clear(f, sc.b, sc.point) })
}

func allDrop(sc *scene) bool {
	return sc.staying().Symbol == "" && !slices.ContainsFunc(sc.b.Couples, func(c statics.Couple) bool { return c.Unknown })
}

func (sc *scene) knownForce() statics.Force {
	return sc.first(func(f statics.Force) bool { return !f.Unknown && sc.clear(f, sc.b, sc.point) })
}

func knownDrops(sc *scene) bool { return !sc.clear(sc.knownForce(), sc.b, sc.point) }

func nearestToWeight(sc *scene) bool { return nearerToWeight(sc) == "" }

func nearerToWeight(sc *scene) string {
	w, at := sc.weight()
	if w.Symbol == "" {
		return ""
	}
	mine := sc.apart(at, sc.point)
	p, ok := sc.other(func(p statics.Point) bool { return sc.apart(at, p) < 0.99*mine })
	if !ok {
		return ""
	}
	return sc.place(p.Name)
}

func anotherPoint(sc *scene) string {
	p, ok := sc.other(func(statics.Point) bool { return true })
	if !ok {
		return ""
	}
	return sc.place(p.Name)
}

// onlyThere reports whether the moments add to zero about the point alone.
func onlyThere(sc *scene) bool {
	_, ok := sc.other(func(p statics.Point) bool { _, vanish := sc.moments(p); return vanish })
	return !ok
}

func notAtPivot(sc *scene) bool {
	_, pivot := sc.moments(sc.fr.Pivot)
	_, point := sc.moments(sc.point)
	return !pivot || !point
}

func noneNegative(sc *scene) bool {
	list, _ := sc.moments(sc.point)
	dust := 1e-6 * sc.p.ForceScale() * sc.reach()
	return !slices.ContainsFunc(list, func(v float64) bool { return v < -dust })
}

// shorterSums reports whether the entries along x and y that are not zero are
// fewer with moments about the point than about another.
func shorterSums(sc *scene) bool {
	entries := func(about statics.Point) int {
		fr, n := sc.fr, 0
		fr.Pivot = about
		for _, row := range []statics.RowKind{statics.RowX, statics.RowY} {
			for _, c := range sc.b.Row(row, fr).Cells {
				if !c.Coef.IsZero() {
					n++
				}
			}
		}
		return n
	}
	p, ok := sc.other(func(statics.Point) bool { return true })
	return ok && entries(sc.point) < entries(p)
}
