// Package tidy holds the house rules that a machine can check, as tests: who
// may import whom, what the map of the code must name, how long a function
// may be.
package tidy

// layers lists the packages under internal/ from the words outwards, each by
// its path: "carry" and "carry/validate" are two. A package may import only
// from layers before its own.
var layers = [][]string{
	{"unit", "frame"},
	{"magnet", "drag", "drive", "optics", "chess"},
	{
		"rig", "notice", "diagnosis", "propose", "lanes", "search",
		"assess", "assess/paper",
		"carry",
		"sight", "sight/heads",
	},
	{
		"camera", "uci", "store", "web",
		"twin", "twin/lens", "twin/mechanics", "twin/person", "twin/physics", "twin/room",
	},
	{"table"},
	{"app"},
}

// testOnly are the packages that only tests import; they are in no layer.
var testOnly = []string{"golden", "tidy", "uci/fake"}

// sideways are the arrows inside a layer, each with its reason.
var sideways = map[string]string{
	"drag -> magnet": "friction and lag are computed from the pull of the magnets",

	"propose -> rig":    "it searches rigs",
	"propose -> assess": "a proposal is a rig that passes the checks",
	"diagnosis -> rig":  "speeds, magnets, friction and bases are those of the rig",

	"assess -> rig":          "it judges a rig",
	"assess/paper -> assess": "it draws the report of the checks",

	"carry -> rig":   "speeds, removal and magnets come from the rig",
	"carry -> lanes": "a carry is a lane with grip and release",

	"sight -> rig":         "the eye's set-up is read from the rig: squares, men, nominal camera",
	"sight -> sight/heads": "who stands on a square is told from the head",

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
