// SPDX-License-Identifier: Apache-2.0

package tidy

// leave lets one measure pass its limit, up to a number, for a reason.
type leave struct {
	most   int
	reason string
}

// What leave is given for.
const (
	wiring = "it puts everything together"
	door   = "it brings planning, drawing and checking together"
	parts  = "a rig on a table has that many kinds of parts"
	whole  = "all of them work on the same data; what has data of its own is to leave it"
)

// leaves are what is not split yet, or is not to be. Lines are rounded up to
// the next hundred, all else is what there is.
var leaves = map[string]leave{
	"imports of app":         {31, wiring},
	"imports of sheets":      {7, "it draws and lists every part of a machine"},
	"imports of yield":       {7, "all that a build is judged by meets in it"},
	"imports of session":     {32, wiring},
	"lines of app":           {2900, "it has the flags and the help of every command"},
	"imports of assess":      {9, "every part of a machine has its lines"},
	"imports of judging":     {9, "one command asks all that judges a rig"},
	"imports of bringup":     {13, "gantry, camera, rig and what is measured meet in it"},
	"imports of cameracheck": {7, "a camera, a rig and the reader's parts meet in it"},
	"imports of records":     {9, "what is kept is listed, checked and read again"},

	"imports of carry": {8, door},

	"imports of sight":          {18, "it is the door to the parts of the reader"},
	"knot in sight":             {8, "a picture is looked at as a first one, by its light, past a hand: one reader"},
	"imports of sight/tracking": {13, "what is learnt of a table is learnt by every part of the reader"},

	"imports of host": {11, "pages show every part of a table"},

	"imports of rehearsal": {13, "it plays whole games with every part"},

	"imports of table":         {16, "it is the door to the parts of a table"},
	"imports of table/lookout": {8, "what is seen, said, written down and known of a carry meets in it"},
	"imports of table/desk":    {8, "an event may be of anything at a table"},

	"imports of twin": {10, parts},

	"receiver carry.builder":            {63, whole},
	"receiver chess.Position":           {67, "there is so much to ask of a position"},
	"receiver gantry/firmware.Firmware": {57, whole},
	"receiver host.Host":                {46, whole},
	"receiver materials.builder":        {51, "a kind of part each, all of the same list"},
	"receiver sight.Reader":             {61, whole},
	"receiver sight/inference.Search":   {65, whole},
	"receiver store.Store":              {50, "a question each, all of the same file"},
	"receiver twin.World":               {46, whole},
	"receiver twin/person.Person":       {63, whole},
}
