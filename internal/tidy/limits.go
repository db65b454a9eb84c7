package tidy

// leave lets one measure pass its limit, up to a number, for a reason.
type leave struct {
	most   int
	reason string
}

// What leave is given for.
const (
	notYet = "not split yet"
	wiring = "it puts everything together"
	door   = "it brings planning, drawing and checking together"
	parts  = "a rig on a table has that many kinds of parts"
)

// leaves are what is not split yet, or is not to be. Lines are rounded up to
// the next hundred, all else is what there is.
var leaves = map[string]leave{
	"lines of app":   {7000, notYet},
	"files of app":   {46, notYet},
	"imports of app": {18, wiring},
	"knot in app":    {32, notYet},

	"lines of assess": {3100, notYet},
	"files of assess": {23, notYet},

	"imports of carry": {8, door},
	"knot in carry":    {10, "a draft tries one way of bringing a piece by way of another"},

	"files of chess": {21, "tables and rules of one position"},

	"imports of sight": {11, "it is the door to the parts of the eye"},
	"lines of sight":   {5400, notYet},
	"files of sight":   {40, notYet},
	"knot in sight":    {33, notYet},

	"knot in store": {7, "a guard reads and writes what it guards"},

	"lines of table":           {4700, notYet},
	"files of table":           {25, notYet},
	"knot in table":            {23, notYet},
	"methods of table.Eye":     {11, notYet},
	"methods of table.Planner": {7, notYet},

	"lines of twin":   {6400, notYet},
	"files of twin":   {48, notYet},
	"imports of twin": {9, parts},
	"knot in twin":    {42, notYet},

	"lines of web": {2600, notYet},
	"files of web": {22, notYet},
}
