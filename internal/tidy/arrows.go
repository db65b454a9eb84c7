// SPDX-License-Identifier: Apache-2.0

// Package tidy holds the house rules that a machine can check, as tests: who
// may import whom, what the map of the code must name, how long a function
// may be.
package tidy

// layers lists the packages under internal/ from the words outwards, each by
// its path: "carry" and "carry/validate" are two. A package may import only
// from layers before its own.
var layers = [][]string{
	{"unit", "frame", "game", "motion"},
	{"magnet", "drag", "drive", "linear", "optics", "chess", "sight/numeric"},
	{
		"rig", "coupling", "axes", "notice", "diagnosis", "propose", "lanes", "search",
		"assess", "assess/eye", "assess/figure", "assess/paper",
		"carry", "carry/drawing", "carry/plan", "carry/limits", "carry/trajectory", "carry/validate",
		"sight", "sight/heads", "sight/pixels", "sight/locate", "sight/silhouette", "sight/occlusion", "sight/background", "sight/register",
	},
	{
		"camera", "licences", "uci", "store", "web",
		"twin", "twin/lens", "twin/mechanics", "twin/person", "twin/physics", "twin/room",
	},
	{"table", "gamelog", "follow", "rehearsal", "host", "player"},
	{"app"},
}

// testOnly are the packages that only tests import; they are in no layer.
var testOnly = []string{"golden", "tidy", "uci/fake"}

// sideways are the arrows inside a layer, each with its reason.
var sideways = map[string]string{
	"game -> frame":   "squares have their middles on the board",
	"motion -> frame": "a stroke is a path in the machine's frame",
	"motion -> unit":  "speeds and lengths have units",

	"drag -> magnet":   "friction and lag are computed from the pull of the magnets",
	"optics -> linear": "lens and pose are fits by least squares",

	"propose -> rig":    "it searches rigs",
	"propose -> assess": "a proposal is a rig that passes the checks",
	"diagnosis -> rig":  "speeds, friction and bases are those of the rig",

	"coupling -> rig":          "magnets, board and pieces are those of the rig",
	"axes -> rig":              "travel, walls, gears and motors are those of the rig",
	"assess -> coupling":       "it judges what the magnets do",
	"assess -> axes":           "it judges what the motors give and the carriage reaches",
	"carry/limits -> coupling": "limits follow from what the magnets do",
	"carry/limits -> axes":     "limits follow from what the motors give and the carriage reaches",
	"diagnosis -> coupling":    "causes are weighed by what sound and faulty magnets do",

	"assess -> rig":                 "it judges a rig",
	"assess -> assess/eye":          "it judges what the camera sees",
	"assess/eye -> rig":             "camera, board and pieces are those of the rig",
	"assess/figure -> assess":       "it draws what the checks are about",
	"assess/figure -> assess/eye":   "it draws what the camera sees",
	"assess/figure -> coupling":     "it draws the forces of the magnets",
	"assess/figure -> axes":         "it draws the forces of the motors",
	"assess/figure -> rig":          "it draws the board and what stands around it",
	"assess/paper -> assess":        "it prints the report of the checks",
	"assess/paper -> assess/figure": "it puts the figures on paper",
	"assess/paper -> rig":           "a report is on a rig",

	"carry -> rig":                   "removal, squares and bases come from the rig",
	"carry -> lanes":                 "a carry is a lane with grip and release",
	"carry -> carry/plan":            "it makes plans",
	"carry -> carry/drawing":         "the planner's plans are drawn with its distances",
	"carry/drawing -> rig":           "it draws the rig's board and trays",
	"carry/drawing -> carry/plan":    "it draws plans",
	"carry -> carry/limits":          "plans keep the limits of the rig",
	"carry -> carry/trajectory":      "a plan tells when the carriage is where",
	"carry -> carry/validate":        "every plan is checked before it is given out",
	"carry/limits -> rig":            "tray slots, speeds and bases come from the rig",
	"carry/limits -> carry/plan":     "limits are data that plans are made and checked by",
	"carry/trajectory -> carry/plan": "it drives the paths of plans within limits",
	"carry/validate -> carry/plan":   "it checks plans against limits",

	"gamelog -> table":     "it keeps and tells what happens at a table",
	"host -> table":        "it shows a table's game, and hands in what people ask for",
	"follow -> table":      "the log of a game played at a table says what its pictures show",
	"rehearsal -> table":   "it watches a table",
	"rehearsal -> gamelog": "after a power cut a game goes on from its log",

	"sight/occlusion -> sight/pixels":  "it compares reduced pictures",
	"sight/background -> sight/pixels": "it models the values of pixels",
	"sight/register -> sight/pixels":   "it compares reduced pictures",
	"sight/silhouette -> sight/pixels": "outlines fall on the pixels of a plane",
	"sight/locate -> sight/pixels":     "it works on the brightness of a picture",

	"sight -> rig":              "the eye's set-up is read from the rig: squares, pieces, nominal camera",
	"sight -> sight/pixels":     "what it reads are reduced pictures and where their pixels lie",
	"sight -> sight/locate":     "in the first picture, and after a bump, the board is looked for",
	"sight -> sight/silhouette": "a hypothesis is weighed on the pixels that its pieces cover",
	"sight -> sight/occlusion":  "hands and what lies on the board hide its structure",
	"sight -> sight/background": "a pixel is explained by the bare board, the light and shadows",
	"sight -> sight/register":   "a bumped camera is followed",
	"sight -> sight/heads":      "who stands on a square is told from the head",

	"twin -> twin/lens":      "its camera takes the pictures",
	"twin -> twin/mechanics": "its machine is a carriage",
	"twin -> twin/person":    "a guest or a visitor sits at it",
	"twin -> twin/physics":   "its pieces stand on a table",
	"twin/lens -> twin/room": "the table and the machine's top are in the picture",

	"twin/person -> twin/physics": "the hand moves the pieces of the table",
	"twin/person -> twin/room":    "pieces out of play stand beside the machine",

	"twin/physics -> twin/mechanics": "both work in the same steps",
	"twin/physics -> twin/room":      "pieces fall over the machine's edge onto the table",
}

// forbidden are arrows that no reason opens, not even by way of others.
var forbidden = map[string]string{
	"carry/validate -> carry":            "who checks a plan shares no code with who made it",
	"carry/validate -> carry/trajectory": "who checks a motion shares no code with who made it",
	"carry/validate -> carry/limits":     "limits come in as numbers",
	"twin -> carry":                      "a machine is given strokes and knows nothing of who plans them",
	"carry/validate -> lanes":            "distances are worked out apart from the search for ways",
}
