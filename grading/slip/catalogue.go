package slip

import "strings"

// Slip is one known kind of mistake: a row of the catalogue.
//
// Say, Beside, Ask and Recall are templates. {force} is the force as the learner
// writes it, {what} what it is, {at} where it acts, {pivot} the pivot, {arm}
// the right coefficient, {size} the force's size, {place} and {given} what the
// slip brought in, {row} the row.
type Slip struct {
	Code   string
	Name   string                // a few words, for tables and reviews
	Edit   func(e Entry) []Entry // the entries the slip would write; nil if it is found another way
	Say    string                // names the mistake and what to look at next
	Beside string                // said last, in place of Say, next to another slip in one entry; "" where Say is true there too
	Ask    string                // hint 1: a question
	Recall string                // hint 2: the principle
}

// Catalogue is every slip, the simpler explanation first.
var Catalogue = []Slip{
	{Code: "sense-reversed", Name: "sense reversed", Edit: senseReversed,
		Say:    "The size is right, the sign is not. Look at which way {force} {acts}.",
		Beside: "The sign is not right either: look at which way {force} {acts}.",
		Ask:    "With your finger on {anchor}, which way does {force} {act}?",
		Recall: "{convention} Count {force} by that, not by the way the picture leans."},
	{Code: "friction-reversed", Name: "friction pointing the wrong way", Edit: frictionReversed,
		Say:    "The size is right, but {force} points the wrong way. Which way would {at} slip without it?",
		Beside: "{force} points the wrong way too: which way would {at} slip without it?",
		Ask:    "If the ground at {at} were ice, which way would {at} slide?",
		Recall: "Friction opposes the slipping that would happen without it."},
	{Code: "sine-cosine", Name: "sine and cosine swapped", Edit: sineCosine,
		Say:    "Sine and cosine have changed places in {force}. Sketch the right triangle: which side do you need here?",
		Ask:    "As the angle goes to zero, should this part of {force} vanish or be whole?",
		Recall: "The cosine goes with the side beside the angle, the sine with the side across from it."},
	{Code: "whole-distance", Name: "full distance for the perpendicular arm", Edit: wholeDistance,
		Say:    "You used the whole distance from {pivot} to {at}. The arm of {force} is only the part at right angles to it: {arm}.",
		Ask:    "Draw the line {force} acts along. How near does it pass to {pivot}?",
		Recall: "A lever arm is the perpendicular distance from the pivot to the line of action."},
	{Code: "whole-force", Name: "whole force for its component", Edit: wholeForce,
		Say:    "That is the whole of {force}. In this row only its part along {row} counts.",
		Ask:    "How much of {force} lies along {row}?",
		Recall: "A force slanting to an axis gives it a component: its size times the cosine of the angle between."},
	{Code: "component-omitted", Name: "one component omitted", Edit: componentOmitted,
		Say:    "Only one component of {force} is here. The other one turns the body about {pivot} too.",
		Ask:    "{force} has two components. What is the arm of each about {pivot}?",
		Recall: "The moment of a force is the sum of its components' moments: x F_y - y F_x."},
	{Code: "weight-at-end", Name: "weight placed at the wrong point", Edit: weightElsewhere,
		Say:    "That puts {force} at {place}. A body's weight acts at its centre of mass: here {at}.",
		Ask:    "Where is the one point at which {force} acts?",
		Recall: "The weight of a uniform body acts at its middle; a hanging or standing load acts where it is."},
	{Code: "arm-elsewhere", Name: "arm measured from another point", Edit: armElsewhere,
		Say:    "That is the arm of {force} about {place}. Your pivot is {pivot}: measure from there.",
		Ask:    "From which point must every arm in this row be measured?",
		Recall: "All moments in one equation are about the same point, the pivot."},
	{Code: "wrong-point", Name: "force placed at the wrong point", Edit: forceElsewhere,
		Say:    "That puts {force} at {place}. It acts at {at}.",
		Ask:    "Where does {force} touch the body?",
		Recall: "A contact force acts where the bodies touch; a cable's where it is tied."},
	{Code: "no-arm", Name: "force without its lever arm", Edit: noArm,
		Say:    "{force} stands here without its lever arm. A moment is a force times a distance from {pivot}.",
		Ask:    "What are the units of what you wrote, and of a moment?",
		Recall: "Moment = force times the perpendicular distance from the pivot to its line of action."},
	{Code: "arm-only", Name: "lever arm without its force", Edit: armOnly,
		Say:    "The geometry is there, the force is not: multiply it by {size}.",
		Ask:    "What are the units of what you wrote?",
		Recall: "Each entry is a force, {size}, times a number or an arm."},
	{Code: "left-out", Name: "force left out", Edit: leftOut,
		Say:    "{force} ({what}) is missing. It does not vanish in this row.",
		Ask:    "Does every force in your list have its entry?",
		Recall: "Only a force through the pivot has no moment; only a force square to an axis has no part along it."},
	{Code: "mass-for-weight", Name: "mass used for weight", Edit: massForWeight,
		Say:    "That is a mass. The force is the weight, {size}: mass times g.",
		Ask:    "Is what stands for {force} in kilograms or in newtons?",
		Recall: "Weight = mass times g."},
	{Code: "g-twice", Name: "g applied twice", Edit: gTwice,
		Say:    "g is counted twice: {size} is a force already.",
		Ask:    "Is {force} given as a mass or as a weight?",
		Recall: "A weight in newtons already holds g."},
	{Code: "component-twice", Name: "component counted twice", Edit: componentTwice,
		Say:    "{force} is counted twice here. Its components together are the force: use them or it, not both.",
		Ask:    "Have you used {force} whole, or by components?",
		Recall: "Components replace the force they come from."},
	{Code: "other-angle", Name: "angle measured from the other line", Edit: otherAngle,
		Say:    "That takes the angle of {force} from the other line. Look where the angle is marked.",
		Ask:    "Between which two lines is the angle given?",
		Recall: "An angle from the other of two square lines is 90 degrees less it."},
	{Code: "tension-is-weight", Name: "tension taken as the hanging weight", Edit: tensionIsWeight,
		Say:    "That takes {force} to be {given}. The tension is not known yet: keep the symbol {force}.",
		Ask:    "Does this cable carry that load alone and straight up?",
		Recall: "A tension equals a hanging weight only in a cable that carries nothing else, straight up."},
	{Code: "normal-is-weight", Name: "normal taken as the weight", Edit: normalIsWeight,
		Say:    "That takes {force} to be {given}. The contact force is not known yet: keep the symbol {force}.",
		Ask:    "What else on the body pushes or pulls along {force}?",
		Recall: "A normal force is whatever equilibrium needs; it is found, not assumed."},
	{Code: "friction-at-limit", Name: "friction set to mu N though slip does not impend", Edit: frictionAtLimit,
		Say:    "{force} is mu N only when slip impends, and nothing here says so. Keep the symbol {force}.",
		Ask:    "Does the problem say that it is about to slip?",
		Recall: "Friction is what equilibrium needs, up to mu N at most."},
	{Code: "friction-from-weight", Name: "friction from the weight, not the normal", Edit: frictionFromWeight,
		Say:    "That takes friction from {given}. Friction at its limit is mu times the normal force at the same contact.",
		Ask:    "Which force presses the surfaces at {at} together?",
		Recall: "At the limit f = mu N, with the N of that contact."},
	{Code: "load-not-multiplied", Name: "load per length not multiplied by length", Edit: loadNotMultiplied,
		Say:    "That is the load per metre. Its resultant is {size}.",
		Ask:    "What are the units of the load as given?",
		Recall: "The resultant of a spread load is the area of its diagram."},
	{Code: "load-centroid", Name: "spread load at the wrong centroid", Edit: loadCentroid,
		Say:    "The resultant of this load does not act there. It acts at the centroid of the load's diagram, {at}.",
		Ask:    "Where would the load's diagram balance on a fingertip?",
		Recall: "A uniform load acts at half its length, a triangular one at a third from its full end."},
	{Code: "couple-with-distance", Name: "couple multiplied by a distance", Edit: coupleDistance,
		Say:    "{force} is a couple, a moment already. It needs no arm.",
		Ask:    "What are the units of {force} as given?",
		Recall: "A couple has the same moment about every point."},
	{Code: "arm-squared", Name: "lever arm squared", Edit: armSquared,
		Say:    "There is a length too many here: this is not in newton metres. One force, one arm.",
		Ask:    "What are the units of what you wrote?",
		Recall: "A moment is a force times one length."},
	{Code: "in-radians", Name: "angle taken in radians", Edit: inRadians,
		Say:    "This looks like a sine or cosine taken with the angle in radians. The angles here are in degrees.",
		Ask:    "Is your calculator set to degrees?",
		Recall: "sin 30 degrees is 0.5; if yours is not, it is counting radians."},
	{Code: "unit-prefix", Name: "unit prefix lost", Edit: unitPrefix,
		Say:    "This is off by a power of ten. Look at the prefixes: kN or N, cm or m.",
		Ask:    "Are all your numbers in newtons and metres?",
		Recall: "1 kN = 1000 N; 1 m = 100 cm. Turn everything into newtons and metres first."},
	{Code: "other-force", Name: "another force in this entry", Edit: otherWeight,
		Say:    "This entry is for {force} alone, but {given} is in it too. Give {given} its own entry.",
		Ask:    "Which force is this entry for?",
		Recall: "Each row of the ledger is one force."},

	// Found another way than by an entry.
	{Code: "through-pivot", Name: "moment given to a force through the pivot",
		Say:    "The line of {force} passes through {pivot}, so it has no arm and no moment there.",
		Ask:    "How far from {pivot} does the line of {force} pass?",
		Recall: "A force whose line of action passes through the pivot does not turn the body about it."},
	{Code: "no-component", Name: "component given to a force square to the axis",
		Say:    "{force} is square to {row}, so it has no part in this row.",
		Ask:    "What is the angle between {force} and {row}?",
		Recall: "A force at right angles to an axis has no component along it."},
	{Code: "rounded-early", Name: "rounded early",
		Say:    "Nearly: the figures are rounded too far along the way. Keep symbols, or carry four figures until the end.",
		Ask:    "How many figures did you carry?",
		Recall: "Carry one figure more than you want in the answer, and round once, at the end."},
	{Code: "value-early", Name: "value of an unknown used before it is found",
		Say:    "{force} is still unknown here. Keep its symbol; its value comes at the end.",
		Ask:    "Where did that number come from?",
		Recall: "Set up first, in symbols; solve after."},
	{Code: "force-missing", Name: "force missing from the list",
		Say:    "A force on the body is not in your list. Look again at {given}.",
		Ask:    "Go round the body: what touches it, and where?",
		Recall: "Every contact cut when the body is isolated leaves a force behind; weight is always there."},
	{Code: "not-on-body", Name: "force that is not on this body",
		Say:    "{given} does not act on this body. Keep only what other bodies do to it, and its weight.",
		Ask:    "Which other body exerts that force on this one?",
		Recall: "A free-body diagram has only the forces that others exert on the body: no partners, no inner forces, no \"m a\"."},
	{Code: "misplaced", Name: "force listed at the wrong point",
		Say:    "{force} does not act at {place}. Look where it touches the body.",
		Ask:    "Where does {force} touch the body?",
		Recall: "A contact force acts where the bodies touch, a weight at the centre of mass."},
	{Code: "partner-sense", Name: "joint's force not turned about on the other body",
		Say:    "{force} acts on the {given} too, and there you have taken its sense. On this body it points the other way.",
		Ask:    "If one body pushes the other to the right, which way is it pushed back?",
		Recall: "What two bodies do to each other at a joint is equal and opposite."},
	{Code: "wrong-direction", Name: "force listed along the wrong line",
		Say:    "{force} at {at} does not act that way. Think what the support can prevent, and what a cable can do.",
		Ask:    "Which way can that support push or pull?",
		Recall: "A smooth contact pushes square to the surface, a cable pulls along itself, a weight acts down."},
	{Code: "listed-twice", Name: "force listed twice",
		Say:    "{force} is in your list twice. Take one out.",
		Ask:    "Which two lines say the same?",
		Recall: "Each force is listed once."},
	{Code: "says-nothing", Name: "equation that says nothing",
		Say:    "This is true whatever the forces are, so it says nothing about them. Put every term on one side and look what is left.",
		Ask:    "What is left when you gather the terms?",
		Recall: "An equilibrium equation ties the unknowns together; 0 = 0 does not."},
	{Code: "mixed-rows", Name: "rows mixed",
		Say:    "This is true at the answer, but it is not the sum for {row}: it mixes rows. Write one sum at a time.",
		Ask:    "Which of the three sums is this?",
		Recall: "Each row adds one kind of thing: parts along x, parts along y, or moments about one pivot."},
	{Code: "another-row", Name: "another row's equation",
		Say:    "That is a right equation, but it is the sum for {given}. Here the sum for {row} is asked.",
		Ask:    "Which sum does this row ask for?",
		Recall: "Three rows, three sums: along x, along y, and moments about the pivot."},
	{Code: "wrong-unit", Name: "unit of another kind",
		Say:    "{force} is {what}, and the unit you gave is for {given}.",
		Ask:    "What kind of thing is {force}?",
		Recall: "Forces are in newtons, distances in metres, moments in newton metres, and a coefficient of friction has no unit."},
	{Code: "carried-error", Name: "right for one's own wrong equation",
		Say:    "The solving is right for your equations, but one of them needs mending: {given}.",
		Ask:    "Which of your equations was not yet right?",
		Recall: "A wrong line gives wrong answers however well it is solved."},
	{Code: "other-root", Name: "the other root",
		Say:    "That solves the algebra, but it cannot be so here. Look at the other root.",
		Ask:    "Can {force} have that value on this body?",
		Recall: "A quadratic has two roots; the physics picks one."},
}

// part is what of an entry a slip changes.
type part string

// parts groups the slips that change one thing. Two of one group are never
// combined: together they could make any arm, or any size, out of any other.
var parts = map[string]part{
	"arm-elsewhere": "place", "weight-at-end": "place", "wrong-point": "place", "load-centroid": "place", "component-omitted": "place",
	"no-arm": "length", "arm-squared": "length", "couple-with-distance": "length", "arm-only": "length",
	"mass-for-weight": "size", "g-twice": "size", "tension-is-weight": "size", "normal-is-weight": "size", "friction-at-limit": "size",
	"friction-from-weight": "size", "load-not-multiplied": "size", "other-force": "size", "unit-prefix": "size",
	"sine-cosine": "angle", "other-angle": "angle", "in-radians": "angle", "whole-force": "angle",
	"sense-reversed": "sign", "friction-reversed": "sign",
}

// Combine reports whether two slips can have been made in one entry.
func Combine(a, b string) bool {
	return a != b && (parts[a] == "" || parts[a] != parts[b])
}

var byCode = func() map[string]*Slip {
	m := map[string]*Slip{}
	for i := range Catalogue {
		m[Catalogue[i].Code] = &Catalogue[i]
	}
	return m
}()

// Of finds a slip by its code.
func Of(code string) (*Slip, bool) {
	s, ok := byCode[code]
	return s, ok
}

// NameOf is what to call a slip in a few words: one of a scenario's own goes by
// its code.
func NameOf(code string) string {
	if s, ok := Of(code); ok {
		return s.Name
	}
	return strings.ReplaceAll(code, "-", " ")
}
