package tutor

import (
	"slices"

	"steelyard/problems/statics"
)

// inquiry is a reason that can be asked for: a row of the table of questions.
// What stands in curly brackets in its texts is a row of sceneWords.
type inquiry struct {
	code   string
	after  Step                       // the line after which it is asked
	topic  string                     // in general terms, for whoever reads a log
	abouts func(*scene) []string      // the symbols it can be asked of here; "" alone where it is asked of none
	point  func(*scene) statics.Point // the point it speaks of; nil for the pivot
	asks   string
	claims []claim // first the true one
}

// claim is a reason that is offered. Only one that does not hold in the problem
// at hand is offered as a false one.
type claim struct {
	code  string
	topic string // in general terms
	says  string
	wrong string // what is wrong with it; "" for the true one
	holds func(*scene) bool
}

func inquiryOf(code string) (*inquiry, bool) {
	i := slices.IndexFunc(inquiries, func(q inquiry) bool { return q.code == code })
	if i < 0 {
		return nil, false
	}
	return &inquiries[i], true
}

func (q *inquiry) claim(code string) (claim, bool) {
	i := slices.IndexFunc(q.claims, func(c claim) bool { return c.code == code })
	if i < 0 {
		return claim{}, false
	}
	return q.claims[i], true
}

// never is said of what contradicts statics itself, so that no problem makes
// it true.
func never(*scene) bool { return false }

var inquiries = []inquiry{
	{
		code: "pivot-drops", after: StepPivot, topic: "why this pivot", abouts: atBestPivot,
		asks: "Why is {point} a good pivot here?",
		claims: []claim{
			{code: "drops", topic: "unknowns act through it and drop out", holds: unknownsDrop,
				says: "{Drops} and so {drop} out of its moment row."},
			{code: "all", topic: "every unknown acts through it", holds: allDrop,
				says:  "Every unknown acts through {point}.",
				wrong: "{stays} does not: its line passes {point} at a distance, so that it stays in the row."},
			{code: "nearest", topic: "it is nearest to the weight", holds: nearestToWeight,
				says:  "Of all points, {point} is nearest to where {weight} acts.",
				wrong: "{nearer} is nearer. And a pivot is chosen for what drops out about it, not for being near."},
			{code: "turns", topic: "only there may moments be taken", holds: onlyThere,
				says:  "The {body} can turn about {point} only, so moments may be taken nowhere else.",
				wrong: "In balance the moments vanish about every point: about {other} as well. Any may be taken."},
			{code: "signs", topic: "all moments about it are positive", holds: noneNegative,
				says:  "All moments about {point} are positive, so that no sign can go wrong.",
				wrong: "The moments add to zero: where one is positive, another must be negative."},
			{code: "known", topic: "the known force drops out about it", holds: knownDrops,
				says:  "{known}, which is known, acts through {point} and drops out.",
				wrong: "{known} does not act through {point}. And it is the unknowns that one would be rid of."},
			{code: "shorter", topic: "it makes the sums along x and y shorter", holds: shorterSums,
				says:  "With {point} the sums along x and y are shorter.",
				wrong: "Those sums are the same whichever point moments are taken about."},
		},
	},
	{
		code: "pivot-gains", after: StepPivot, topic: "what another pivot would have gained", abouts: atPoorPivot, point: bestPoint,
		asks: "Moments about {pivot} will do. What would have been gained about {point}?",
		claims: []claim{
			{code: "drops", topic: "more unknowns act through it and drop out", holds: moreDrop,
				says: "{Drops} and would drop out; through {pivot} {instead}."},
			{code: "all", topic: "every unknown acts through it", holds: allDrop,
				says:  "Every unknown acts through {point} and would drop out.",
				wrong: "{stays} does not: its line passes {point} at a distance, so that it would stay in the row."},
			{code: "only", topic: "moments do not vanish about the pivot chosen", holds: notAtPivot,
				says:  "The moments add to zero about {point}, and about {pivot} they do not.",
				wrong: "They add to zero about both: in balance they do about every point."},
			{code: "signs", topic: "all moments about it are positive", holds: noneNegative,
				says:  "All moments about {point} are positive, so that no sign could go wrong.",
				wrong: "The moments add to zero: where one is positive, another must be negative."},
			{code: "known", topic: "the known force drops out about it", holds: knownDrops,
				says:  "{known}, which is known, acts through {point} and would drop out.",
				wrong: "{known} does not act through {point}. And it is the unknowns that one would be rid of."},
			{code: "shorter", topic: "it makes the sums along x and y shorter", holds: shorterSums,
				says:  "The sums along x and y would be shorter.",
				wrong: "Those sums are the same whichever point moments are taken about."},
			{code: "values", topic: "other values come out", holds: notAtPivot,
				says:  "The values would come out nearer to the truth.",
				wrong: "They come out the same whichever point moments are taken about. Only the work differs."},
		},
	},
	{
		code: "no-friction", after: StepForces, topic: "why no friction at a smooth contact", abouts: smoothContacts,
		asks: "Why does your list have no friction at {at}?",
		claims: []claim{
			{code: "smooth", topic: "the contact pushes only at right angles to itself", holds: isSmooth,
				says: "The contact there is smooth, or rolls freely: it can push only at right angles to itself."},
			{code: "at-rest", topic: "friction acts only where something slides", holds: never,
				says:  "Nothing slides there, and friction acts only where something slides.",
				wrong: "On a rough contact friction acts before anything slides, and keeps it from sliding. This contact has none to give."},
			{code: "nothing", topic: "the normal force is zero", holds: isZero,
				says:  "{force} is zero, so that friction is zero too.",
				wrong: "{force} is not zero. However hard it is pressed, such a contact gives no friction."},
			{code: "small", topic: "friction is small enough to be left out", holds: never,
				says:  "It is there, but small beside {force}, and may be left out.",
				wrong: "It is not small but none at all: that is what smooth, or rolling freely, is taken to mean."},
			{code: "asked-for", topic: "no other force acts along the contact", holds: nothingAlong,
				says:  "No other force has a part along the contact, so there is nothing to hold.",
				wrong: "{along} has one. Friction might be wanted there, but this contact has none to give."},
			{code: "suits", topic: "there would be more unknowns than equations", holds: never,
				says:  "A force is left out of the list when there are not equations enough to find it.",
				wrong: "A force is listed because it acts, whether or not it can then be found."},
		},
	},
	{
		code: "not-limit", after: StepForces, topic: "why friction is not mu N", abouts: heldByFriction,
		asks: "Why does {force} stand as an unknown of its own, and not as {mu} {normal}?",
		claims: []claim{
			{code: "needed", topic: "friction is what balance needs, up to mu N", holds: isUnknown,
				says: "{force} is what balance needs. {mu} {normal} is the most it could be, when slip impends."},
			{code: "same", topic: "both are the same here", holds: isAtLimit,
				says:  "The two are the same here, so that either may be written.",
				wrong: "They are not. Find {force} from balance, then work out {mu} {normal}, and compare."},
			{code: "at-rest", topic: "what does not slide has no friction", holds: isZero,
				says:  "What does not slide has no friction. {mu} {normal} is for what slides.",
				wrong: "It has: {force} is what keeps the {body} from sliding."},
			{code: "unsolved", topic: "the normal force is not known yet", holds: never,
				says:  "{normal} is not known yet, and so it may not be written in an entry.",
				wrong: "A symbol may be written before its value is found. {mu} {normal} is wrong because nothing says that slip impends."},
			{code: "weight", topic: "friction comes from the weight", holds: never,
				says:  "Friction is {mu} times the weight, and not times {normal}.",
				wrong: "Its limit is {mu} times {normal}, which presses the surfaces together. Short of slipping it is less."},
		},
	},
	{
		code: "no-part", after: StepForces, topic: "why a cable has no part along an axis", abouts: alongAnAxis,
		asks: "Why has {force} no part along {across}?",
		claims: []claim{
			{code: "own-line", topic: "a cable pulls along itself", holds: liesAlong,
				says: "It pulls along its own line, which runs along {axis}: at right angles to {across}."},
			{code: "taken-up", topic: "another force takes that part up", holds: hasPartAcross,
				says:  "Its part along {across} is taken up by {carrier}, and so left out.",
				wrong: "Nothing of it acts along {across}, so there is nothing to be taken up."},
			{code: "light", topic: "what pulls has no weight", holds: never,
				says:  "What pulls is taken to have no weight, so that nothing acts along {across}.",
				wrong: "Even so it would pull along itself whichever way it ran. It happens to run along {axis}."},
			{code: "through", topic: "it acts through the pivot", holds: throughPivot,
				says:  "It acts through {pivot}, so that this part drops out.",
				wrong: "It does not. And that would settle its moment, not its parts."},
			{code: "always", topic: "whatever pulls has a part along one axis only", holds: never,
				says:  "Whatever pulls has a part along {axis} only.",
				wrong: "What pulls at a slant has a part along each axis. This does not slant."},
		},
	},
	{
		code: "weight-at", after: StepForces, topic: "why the weight is not drawn at the end", abouts: ownWeight,
		asks: "Why is {force} drawn at {at}, and not at {end}?",
		claims: []claim{
			{code: "centre", topic: "the weights of all pieces come to one at the centre of mass", holds: isOwnWeight,
				says: "What the weights of all its pieces come to acts at the centre of mass, {at}."},
			{code: "either", topic: "it could as well be drawn at the end", holds: sameAtEnd,
				says:  "It could as well be drawn at {end}: its moment would be the same.",
				wrong: "About {pivot} it would not: from {end} its line passes at another distance."},
			{code: "held", topic: "the body is held up there", holds: isHeldThere,
				says:  "The {body} is held up at {at}, and its weight acts where it is held.",
				wrong: "Nothing holds it there. A weight acts at the centre of mass, wherever the body is held."},
			{code: "middle", topic: "a weight acts in the middle of anything", holds: never,
				says:  "A weight acts in the middle between the ends, however the mass is spread.",
				wrong: "It acts in the middle only if the mass is spread evenly; at the centre of mass always."},
			{code: "occupied", topic: "a point takes one force only", holds: never,
				says:  "{occupant} acts at {end} already, and a point takes one force only.",
				wrong: "Any number of forces may act at one point. The weight acts at the centre of mass, whatever acts elsewhere."},
		},
	},
	{
		code: "two-force", after: StepForces, topic: "why the forces on a two-force member lie along it", abouts: twoForceMember,
		asks: "Why do the forces on the {body} lie along the line from {from} to {to}?",
		claims: []claim{
			{code: "one-line", topic: "two forces not in one line would turn it", holds: isTwoForce,
				says: "There are two only, equal and opposite: if they were not in one line they would turn it."},
			{code: "pulled", topic: "it can only be pulled", holds: never, says: onlyPulled, wrong: orPushed},
			{code: "straight", topic: "it is straight", holds: never, says: isStraight, wrong: orBent},
			{code: "unloaded", topic: "it has no weight, so that nothing acts on it", holds: nothingActs,
				says:  "It is taken to have no weight, so that nothing acts on it at all.",
				wrong: "Forces act at both its ends. It is because nothing else acts on it that they lie in one line."},
			{code: "pins", topic: "a pin pushes only along what it holds", holds: never, says: pinsAlong, wrong: pinsAnyWay},
		},
	},
	{
		code: "link-line", after: StepForces, topic: "why the force of a link lies along it", abouts: links,
		asks: "The line of {force} is known before its size. Why?",
		claims: []claim{
			{code: "one-line", topic: "two forces not in one line would turn it", holds: isLink,
				says: "It comes from a member with forces at its two ends only, and two balance only in one line."},
			{code: "pulled", topic: "it can only be pulled", holds: never, says: onlyPulled, wrong: orPushed},
			{code: "straight", topic: "it is straight", holds: never, says: isStraight, wrong: orBent},
			{code: "pins", topic: "a pin pushes only along what it holds", holds: never, says: pinsAlong, wrong: pinsAnyWay},
			{code: "through", topic: "it acts through the pivot", holds: throughPivot,
				says:  "It must act through {pivot}, so that it has no moment.",
				wrong: "It does not, and need not: it has a moment about {pivot}."},
		},
	},
	{
		code: "internal", after: StepForces, topic: "why an internal force is not listed", abouts: internalForces,
		asks: "Why is {force} not in the list of the {body}?",
		claims: []claim{
			{code: "pair", topic: "it acts on both parts, equal and opposite", holds: isInternal,
				says: "It acts between the {one} and the {two}, both of them in it, and the pair cancels."},
			{code: "zero", topic: "it is zero", holds: isZero,
				says:  "{force} is zero, so that it need not be listed.",
				wrong: "It is not zero. It is on both parts, equal and opposite, and in the whole the pair cancels."},
			{code: "through", topic: "it acts through the pivot", holds: throughPivot,
				says:  "It acts through {pivot}, so that it drops out.",
				wrong: "It does not. And that would take it out of the moments only, not off the list."},
			{code: "once", topic: "a force may be listed once only", holds: onOneList,
				says:  "It is in the list of the {one} already, and a force may be listed once only.",
				wrong: "It is in the list of the {two} as well, the other way round. In the whole both are there, and cancel."},
			{code: "components", topic: "its two components cancel each other", holds: cancelsPartner,
				says:  "{force} and {partner} cancel each other.",
				wrong: "They are two parts of one force, at right angles. What cancels {force} is its like on the other body."},
		},
	},
}

// What is said alike of any two-force member.
const (
	onlyPulled = "Such a member can only be pulled, and a pull is along it."
	orPushed   = "It can be pushed as well. Either way the two forces lie in one line, since there are only two."
	isStraight = "It is straight, so that nothing can act across it."
	orBent     = "A bent one would do the same, and a straight one that is loaded between its ends would not."
	pinsAlong  = "A pin can push only along the member that it holds."
	pinsAnyWay = "A pin can push any way. It is balance that leaves only this one."
)
