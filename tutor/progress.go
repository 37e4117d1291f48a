package tutor

// Stage is how far the lines of a body have come.
type Stage int

// The stages of a body.
const (
	NotBegun  Stage = iota
	SettingUp       // its forces are not all listed
	Writing         // its entries are being written
	AllDone
	NotNeeded // the other bodies fix every unknown
)

// Progress is how far a body is: its lines done, of those asked for.
type Progress struct {
	Stage     Stage
	Done, All int
}

// Progress is how far the body of that name is.
func (s *Session) Progress(body string) Progress {
	pg := s.pageOf(body)
	if pg.spared {
		return Progress{Stage: NotNeeded}
	}
	var p Progress
	for _, t := range s.ledger(pg) {
		if t.Status == Covered {
			continue
		}
		p.All++
		if t.Done() {
			p.Done++
		}
	}
	switch {
	case p.Done == p.All:
		p.Stage = AllDone
	case s.find(pg, StepForces, "").Done():
		p.Stage = Writing
	case p.Done > 0 || len(pg.list) > 0:
		p.Stage = SettingUp
	}
	return p
}
