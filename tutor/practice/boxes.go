package practice

// A skill is spaced over days by boxes: S. Leitner, So lernt man lernen,
// Herder, 1972 (from memory). What is answered well when it is due goes up a
// box and rests longer; what is not goes back to the first. Leitner gives the
// boxes growing sizes; that each rests twice as long as the one before, in
// days, is the usual reading.

// rests is how many days a skill rests in each box. Box 0 is a skill that was
// never practised.
var rests = [...]int{0, 1, 2, 4, 8, 16}

// well is the share of a day's lines, right at once, that takes a skill up a
// box (ours: a skill has many lines in a day, where a card is asked once).
const well = 0.8

// box is where a skill is, and the day of practice not yet counted.
type box struct {
	at    int     // the box, as of the days before last
	due   int     // the day on which it is due again
	last  int     // the last day of practice
	tried float64 // lines on that day
	right float64
}

// add counts a line of a day; share is 1 if it was right at once, or the
// chance of that when looking ahead.
func (b *box) add(day int, share float64) {
	if day != b.last {
		*b = b.settled()
		b.last = day
	}
	b.tried++
	b.right += share
}

// settled is the box once its last day is counted. What is practised well before
// it is due changes nothing: it is still due when it was.
func (b box) settled() box {
	if b.tried == 0 {
		return b
	}
	switch {
	case b.right < well*b.tried:
		b.at = 1
	case b.at > 0 && b.last < b.due:
		b.tried, b.right = 0, 0
		return b
	default:
		b.at = min(b.at+1, len(rests)-1)
	}
	b.due = b.last + rests[b.at]
	b.tried, b.right = 0, 0
	return b
}

// Due is the day on which a skill is due again; ok is false if it was never
// practised.
func (m *Model) Due(k Skill) (day int, ok bool) {
	b := m.boxes[k].settled()
	return b.due, b.at > 0
}
