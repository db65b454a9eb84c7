// Package tidy holds the house rules that a machine can check, as tests: who
// may import whom, what the map of the code must name, how long a function
// may be.
package tidy

// layers lists the packages under internal/ from the words outwards, each by
// its path: "carry" and "carry/validate" are two. A package may import only
// from layers before its own.
var layers = [][]string{
	{"unit", "frame"},
	{"magnet", "drag", "drive", "optics", "chess", "sight/numeric"},
	{
		"rig", "notice", "diagnosis", "propose", "lanes", "search",
		"assess", "assess/paper",
		"carry",
		"sight", "sight/heads", "sight/pixels", "sight/locate", "sight/silhouette",
	},
	{
		"camera", "uci", "store", "web",
		"twin",
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

	"sight/silhouette -> sight/pixels": "outlines fall on the pixels of a plane",
	"sight/locate -> sight/pixels":     "it works on the brightness of a picture",

	"sight -> rig":              "the eye's set-up is read from the rig: squares, men, nominal camera",
	"sight -> sight/pixels":     "what it reads are reduced pictures and where their pixels lie",
	"sight -> sight/locate":     "in the first picture, and after a bump, the board is looked for",
	"sight -> sight/silhouette": "a hypothesis is weighed on the pixels that its pieces cover",
	"sight -> sight/heads":      "who stands on a square is told from the head",
}
