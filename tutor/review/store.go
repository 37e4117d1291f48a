package review

import (
	"bytes"
	"cmp"
	"slices"
	"strings"
)

// event is one event, kept small: a class has millions.
type event struct {
	id       [16]byte
	at       int64
	session  uint32 // index into store.sessions
	typed    uint32 // text
	task     uint32 // index into store.tasks
	pivot    uint32 // text
	slips    uint32 // slip set, as logged
	graded   uint32 // slip set, as graded
	try      int32
	seconds  float32
	kind     uint8
	verdict  uint8 // as logged
	outcome  uint8 // as graded; noVerdict where it was not graded again
	hint     uint8
	positive uint8
}

// task is a line of a problem: what is asked for, of which body.
type task struct{ body, step, cell uint32 }

// instance is a scenario with its numbers.
type instance struct {
	problem uint32
	seed    uint64
	given   uint32
}

// sessionKey tells sessions apart. One id under two learners or two problems is
// two sessions, so that a forged id cannot mix them.
type sessionKey struct {
	id       [16]byte
	learner  uint32
	instance uint32
	hash     uint32
}

// session is one learner's work at one problem.
type session struct {
	sessionKey
	cohort uint32
	mode   uint32
	terms  uint32   // typed of its began event: what it was begun on
	events []uint32 // indexes into the store's events, by id
	gap    bool     // events of it are missing
}

// chunk is how many events are allocated at a time, so that growing copies
// nothing.
const chunk = 1 << 14

// store holds what was read, with each text once.
type store struct {
	texts  table[string]
	tasks  table[task]
	places table[instance]
	sets   table[string] // slip codes, joined by blanks

	events   [][]event
	n        int
	ids      map[[16]byte]uint32
	sessions []session
	byKey    map[sessionKey]uint32

	duplicates int
	first      int64
	last       int64
	scratch    []byte
}

// table numbers the values it is given, from 0 in the order of their coming.
type table[T comparable] struct {
	of   map[T]uint32
	list []T
}

func (t *table[T]) add(v T) uint32 {
	if i, ok := t.of[v]; ok {
		return i
	}
	if t.of == nil {
		t.of = map[T]uint32{}
	}
	i := uint32(len(t.list))
	t.of[v] = i
	t.list = append(t.list, v)
	return i
}

func newStore() *store {
	st := &store{ids: map[[16]byte]uint32{}, byKey: map[sessionKey]uint32{}}
	st.texts.add("")
	st.sets.add("")
	st.tasks.add(task{}) // 0 is no line
	return st
}

// text is the number of a text. Looking one up that is known allocates nothing.
func (st *store) text(b []byte) uint32 {
	if i, ok := st.texts.of[string(b)]; ok {
		return i
	}
	return st.texts.add(string(b))
}

func (st *store) set(slips [][]byte) uint32 {
	if len(slips) == 0 {
		return 0
	}
	st.scratch = st.scratch[:0]
	for i, s := range slips {
		if i > 0 {
			st.scratch = append(st.scratch, ' ')
		}
		st.scratch = append(st.scratch, bytes.ReplaceAll(s, []byte(" "), []byte("_"))...)
	}
	if i, ok := st.sets.of[string(st.scratch)]; ok {
		return i
	}
	return st.sets.add(string(st.scratch))
}

// codes are the slips of a set.
func (st *store) codes(set uint32) []string {
	if set == 0 {
		return nil
	}
	return strings.Split(st.sets.list[set], " ")
}

func (st *store) str(i uint32) string { return st.texts.list[i] }

func (st *store) event(i uint32) *event { return &st.events[i/chunk][i%chunk] }

// What became of a record.
type added int

const (
	isNew added = iota
	isKnown
	isOther // another event has its id
)

// add keeps a record. One whose id is known is folded into the first.
func (st *store) add(r *record) added {
	e := event{id: r.id, at: r.at, typed: st.text(r.texts[typedText]), pivot: st.text(r.texts[pivotText]),
		task:  st.tasks.add(task{st.text(r.texts[bodyText]), st.text(r.texts[stepText]), st.text(r.texts[cellText])}),
		slips: st.set(r.slips), try: r.try, seconds: float32(r.seconds), kind: r.kind, verdict: r.verdict, hint: r.hint, positive: r.positive}
	key := sessionKey{id: r.session, learner: st.text(r.texts[learnerText]), hash: st.text(r.texts[hashText]),
		instance: st.places.add(instance{st.text(r.texts[problemText]), r.seed, st.text(r.texts[givenText])})}
	at, known := st.byKey[key]
	if known {
		e.session = at
	}
	if i, ok := st.ids[r.id]; ok {
		st.duplicates++
		if have := st.event(i); !known || *have != e {
			return isOther
		}
		return isKnown
	}
	if !known {
		e.session = uint32(len(st.sessions))
		st.byKey[key] = e.session
		st.sessions = append(st.sessions, session{sessionKey: key})
	}
	s := &st.sessions[e.session]
	if s.cohort == 0 {
		s.cohort = st.text(r.texts[cohortText])
	}
	if s.mode == 0 {
		s.mode = st.text(r.texts[modeText])
	}
	if r.kind == began {
		s.terms = e.typed
	}
	st.ids[r.id] = uint32(st.n)
	if st.n%chunk == 0 {
		st.events = append(st.events, make([]event, chunk))
	}
	*st.event(uint32(st.n)) = e
	if st.n == 0 || e.at < st.first {
		st.first = e.at
	}
	if st.n == 0 || e.at > st.last {
		st.last = e.at
	}
	st.n++
	return isNew
}

// settle puts the events of each session in order of id, and the sessions in
// order of their first event, whatever order they were read in. After it
// nothing more is added.
func (st *store) settle() {
	st.ids, st.byKey = nil, nil
	count := make([]uint32, len(st.sessions))
	for i := range uint32(st.n) {
		count[st.event(i).session]++
	}
	all := make([]uint32, st.n)
	for i := range st.sessions {
		st.sessions[i].events, all = all[:0:count[i]], all[count[i]:]
	}
	for i := range uint32(st.n) {
		s := &st.sessions[st.event(i).session]
		s.events = append(s.events, i)
	}
	byID := func(a, b uint32) int { return bytes.Compare(st.event(a).id[:], st.event(b).id[:]) }
	for i := range st.sessions {
		s := &st.sessions[i]
		if !slices.IsSortedFunc(s.events, byID) {
			slices.SortFunc(s.events, byID)
		}
		s.gap = st.event(s.events[0]).kind != began
	}
	slices.SortFunc(st.sessions, func(a, b session) int { return byID(a.events[0], b.events[0]) })
	for i := range st.sessions {
		for _, e := range st.sessions[i].events {
			st.event(e).session = uint32(i)
		}
	}
}

// learnersInOrder lists the learners by alias.
func (st *store) learnersInOrder() []uint32 {
	seen := map[uint32]bool{}
	var out []uint32
	for i := range st.sessions {
		if l := st.sessions[i].learner; !seen[l] {
			seen[l] = true
			out = append(out, l)
		}
	}
	slices.SortFunc(out, func(a, b uint32) int { return cmp.Compare(st.str(a), st.str(b)) })
	return out
}
