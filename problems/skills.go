package problems

// Skills are what a scenario may say it exercises, in the order a first course
// meets them.
var Skills = []string{
	"forces",     // isolating the body and listing every force on it
	"pivot",      // choosing where to take moments
	"arm",        // lever arms
	"sign",       // senses and the sign of each moment
	"components", // parts of a force along the axes
	"friction",   // rough contacts, and slip that impends
	"couple",     // moments with no force
	"load",       // distributed loads
	"tipping",    // the support that lets go
	"inertia",    // a body that accelerates steadily
	"joint",      // forces between bodies
	"equation",   // summing to zero
	"value",      // solving for numbers
}
