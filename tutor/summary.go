package tutor

// Summary counts how a session went.
type Summary struct {
	Lines     int // lines the problem asked for, leaving out those covered by others
	FirstTime int // right at the first attempt, without a hint
	Later     int // right after a mistake or a hint
	Shown     int // shown by a hint, so not earned
	Open      int
	Taken     int // written, and not judged yet
	Attempts  int
	Slips     map[string]int // by code, how often
}

// Summary counts the tasks as they stand. Slips are counted over events, since
// a task keeps only its last verdict.
func (s *Session) Summary(events []Event) Summary {
	sum := Summary{Slips: map[string]int{}}
	for _, t := range s.tasks {
		sum.Attempts += t.Tries
		if t.Status == Covered || isClosing(t.Step) {
			continue
		}
		sum.Lines++
		switch {
		case t.Status == Taken:
			sum.Taken++
		case t.Status == Shown:
			sum.Shown++
		case t.Status == Open:
			sum.Open++
		case t.FirstTime():
			sum.FirstTime++
		default:
			sum.Later++
		}
	}
	for _, e := range events {
		if e.Kind == Answered {
			for _, code := range e.Slip {
				sum.Slips[code]++
			}
		}
	}
	return sum
}
