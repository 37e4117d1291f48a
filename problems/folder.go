package problems

import "os"

// Add reads the scenario files of one more folder beside what the bank has.
// Whatever is wrong with them, or with the folder, is in Faults; the rest still
// load. A folder that is not there is no fault. The built-in bank itself is
// shared: add to one that [Open] gave.
func (b *Bank) Add(dir string) {
	info, err := os.Stat(dir)
	switch {
	case os.IsNotExist(err):
	case err != nil:
		b.fault(dir, "the folder cannot be read; see to its permissions")
	case !info.IsDir():
		b.fault(dir, "is a file, and should be a folder of scenario files; move it away")
	default:
		b.load(os.DirFS(dir), dir, Read)
	}
}
