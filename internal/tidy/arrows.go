// Package tidy holds the house rules that a machine can check, as tests: who
// may import whom, what the map of the code must name, how long a function
// may be.
package tidy

// layers lists the packages under internal/ from the words outwards. A
// package may import only from layers before its own. Packages that only tests
// import, golden and tidy, are in none.
var layers = [][]string{
	{"unit", "frame"},
	{"magnet", "drag", "drive", "optics", "chess"},
	{"rig", "notice", "diagnosis", "assess", "propose", "sheets", "sight", "lanes", "carry", "search"},
	{"camera", "gantry", "uci", "store", "twin", "web"},
	{"table", "gamelog", "follow"},
	{"app"},
}

// sideways are the arrows inside a layer, each with its reason.
var sideways = map[string]string{
	"drag -> magnet":    "friction and lag are computed from the pull of the magnets",
	"sight -> rig":      "the eye's set-up is read from the rig: squares, men, nominal camera",
	"lanes -> rig":      "reach and clearances come from the rig",
	"carry -> rig":      "speeds, removal and magnets come from the rig",
	"carry -> lanes":    "a carry is a lane with grip and release",
	"assess -> rig":     "it judges a rig",
	"propose -> rig":    "it searches rigs",
	"propose -> assess": "a proposal is a rig that passes the checks",
	"diagnosis -> rig":  "speeds, magnets, friction and bases are those of the rig",
	"sheets -> rig":     "it draws a rig",
	"gamelog -> table":  "it keeps and tells what happens at a table",
	"follow -> table":   "the log of a game played at a table says what its pictures show",
}
