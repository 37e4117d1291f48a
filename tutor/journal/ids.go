package journal

import (
	"bytes"
	"crypto/rand"
	"encoding/binary"
	"fmt"
	"sync"
	"time"

	"github.com/google/uuid"
)

// A UUIDv7 (RFC 9562, section 5.7), read as a number:
//
//	48 bits  milliseconds since 1970, UTC
//	 4 bits  version, 7
//	12 bits  random        these three and the
//	 2 bits  variant, 2    milliseconds sort as
//	62 bits  random        bytes and as text
//
// latestID is the last millisecond an id may carry, the end of the year 9999:
// far enough below the top of the field that "one more" is always possible.
const latestID = 253402300799999

// A sequence makes UUIDv7s that rise strictly. When the clock has not moved
// past the last id, or has been set back, the next id is the last one plus a
// little.
type sequence struct {
	now  func() time.Time
	mu   sync.Mutex
	last uuid.UUID
}

// process is the one sequence of this program, whatever journals it has open.
var process = &sequence{now: time.Now}

// next makes an id above every id made before and above floor.
func (s *sequence) next(floor uuid.UUID) uuid.UUID {
	s.mu.Lock()
	defer s.mu.Unlock()
	if bytes.Compare(floor[:], s.last[:]) > 0 {
		s.last = floor
	}
	id := timed(s.now())
	if bytes.Compare(id[:], s.last[:]) <= 0 {
		id = successor(s.last)
	}
	s.last = id
	return id
}

// timed makes an id for the moment t, clamped to the years an id may carry.
func timed(t time.Time) uuid.UUID {
	var id uuid.UUID
	rand.Read(id[6:]) // never fails, by its contract
	ms := uint64(min(max(t.UnixMilli(), 0), latestID))
	binary.BigEndian.PutUint64(id[:8], ms<<16|uint64(binary.BigEndian.Uint16(id[6:])))
	return stamped(id)
}

// successor is id plus a random step of 1 to 2^32, carrying from the random
// bits into the milliseconds. The step keeps two programs that count on from
// the same id apart.
func successor(id uuid.UUID) uuid.UUID {
	const lowBits = 62
	hi := binary.BigEndian.Uint64(id[:8])
	hi = hi>>16<<12 | hi&0xfff // milliseconds and 12 random bits, version left out
	lo := binary.BigEndian.Uint64(id[8:]) & (1<<lowBits - 1)

	var step [4]byte
	rand.Read(step[:])
	lo += 1 + uint64(binary.BigEndian.Uint32(step[:]))
	hi += lo >> lowBits

	binary.BigEndian.PutUint64(id[:8], hi>>12<<16|hi&0xfff)
	binary.BigEndian.PutUint64(id[8:], lo)
	return stamped(id)
}

// stamped sets the version and variant bits.
func stamped(id uuid.UUID) uuid.UUID {
	id[6] = id[6]&0x0f | 0x70
	id[8] = id[8]&0x3f | 0x80
	return id
}

// parseID reads a UUIDv7 in its one canonical spelling: 36 characters, lower
// case. Any other spelling would sort out of order or hide a duplicate.
func parseID(s string) (uuid.UUID, error) {
	id, err := uuid.Parse(s)
	switch {
	case err != nil || id.String() != s:
		return uuid.Nil, fmt.Errorf("%s is not a UUID in lower case with hyphens", quote(s))
	case id.Version() != 7 || id.Variant() != uuid.RFC4122:
		return uuid.Nil, fmt.Errorf("%s is not a UUID of version 7", quote(s))
	case binary.BigEndian.Uint64(id[:8])>>16 > latestID:
		return uuid.Nil, fmt.Errorf("%s is dated after the year 9999", quote(s))
	}
	return id, nil
}

// floor is the id to rise above, given the highest of a session: none when
// there is none, or when it is not a UUIDv7 at all.
func floor(last string) uuid.UUID {
	id, err := uuid.Parse(last)
	if err != nil || id != stamped(id) {
		return uuid.Nil
	}
	return id
}
