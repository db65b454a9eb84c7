// SPDX-License-Identifier: Apache-2.0

// Package tidy holds the house rules that a machine can check, as tests: who
// may import whom, what the map of the code must name, how long a function
// may be.
package tidy

// layers lists the packages under internal/ from the words outwards, each by
// its path: "carry" and "carry/validate" are two. A package may import only
// from layers before its own.
var layers = [][]string{
	{"unit", "frame", "game", "motion", "sight/nats"},
	{"magnet", "drag", "drive", "linear", "optics", "asbuilt", "chess", "bond", "nest", "sight/numeric"},
	{"draw"},
	{
		"rig", "measured", "coupling", "axes", "notice", "diagnosis", "propose", "lanes", "search",
		"materials", "assess", "assess/eye", "assess/figure", "assess/paper", "commission", "sheets",
		"carry", "carry/drawing", "carry/plan", "carry/limits", "carry/trajectory", "carry/validate",
		"sight", "sight/heads", "sight/pixels", "sight/locate", "sight/silhouette", "sight/light", "sight/occlusion", "sight/background", "sight/register",
		"sight/scene", "sight/likelihood", "sight/hypothesis", "sight/inference", "sight/classify", "sight/presence", "sight/gauge", "sight/quality", "sight/whiteside", "sight/sizes", "sight/tracking",
	},
	{
		"camera", "camera/video", "devname", "gantry", "gantry/gcode", "gantry/tacho", "handbook", "licences", "service", "terminal", "uci", "store", "web",
		"gantry/bed", "gantry/built", "gantry/clock", "gantry/firmware", "gantry/firmware/blocks", "gantry/firmware/modal", "gantry/firmware/settings", "gantry/firmware/words",
		"gantry/tachobed", "gantry/wire",
		"twin", "twin/lens", "twin/mechanics", "twin/person", "twin/physics", "twin/room",
	},
	{
		"table", "table/places", "table/journal", "table/evidence", "table/wording", "table/suspects", "table/model", "table/desk", "table/view", "table/lookout", "table/carriage",
		"gamelog", "follow", "rehearsal", "host", "player",
	},
	{"session", "bringup", "records", "cameracheck"},
	{"app"},
}

// testOnly are the packages that only tests import; they are in no layer.
var testOnly = []string{
	"golden", "rehearsal/fixture", "store/damage", "tidy", "uci/fake",
	"gantry/conform", "gantry/playback",
}

// sideways are the arrows inside a layer, each with its reason.
var sideways = map[string]string{
	"game -> frame":   "squares have their middles on the board",
	"motion -> frame": "a stroke is a path in the machine's frame",
	"motion -> unit":  "speeds and lengths have units",

	"drag -> magnet":              "friction and lag are computed from the pull of the magnets",
	"asbuilt -> linear":           "axes are fits by least squares",
	"commission -> assess/figure": "it draws what is left at each place",
	"commission -> assess/paper":  "its record is a document on paper",
	"commission -> carry/limits":  "lag and speed were planned there",
	"commission -> measured":      "its record is of what was measured",
	"commission -> rig":           "it compares with what the rig file planned",
	"measured -> rig":             "what was measured is given to a rig, and kept beside its file",
	"session -> bringup":          "it puts a bring-up's machine together",
	"optics -> linear":            "lens and pose are fits by least squares",

	"propose -> rig":       "it searches rigs",
	"propose -> assess":    "a proposal is a rig that passes the checks",
	"materials -> rig":     "it counts what a rig takes",
	"materials -> axes":    "racks, belts and the supply's draws follow from the axes",
	"materials -> assess":  "leads are as long as the checks have them",
	"materials -> propose": "what is owned or can be bought is in the stock",

	"diagnosis -> rig": "speeds, friction and bases are those of the rig",

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

	"sheets -> rig":        "it draws a rig",
	"sheets -> assess":     "each sheet says whether the rig is to be built",
	"sheets -> assess/eye": "it draws the tallest piece",
	"sheets -> materials":  "it lists what a rig takes",
	"sheets -> axes":       "it draws where the carriage gets",

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

	"table -> table/places":   "pieces are at places",
	"table -> table/journal":  "what happens is a record of its journal",
	"table -> table/wording":  "it speaks to people",
	"table -> table/suspects": "what a plan brought is told to the diagnosis",
	"table -> table/model":    "it knows the game and where every piece is",
	"table -> table/desk":     "it writes down, tells and asks",
	"table -> table/view":     "it looks at the board",
	"table -> table/carriage": "it has plans carried out",

	"table/journal -> table/places":    "records name places",
	"table/evidence -> table/places":   "squares are weighed against a board of pieces",
	"table/wording -> table/places":    "sentences list squares",
	"table/model -> table/places":      "pieces are at places",
	"table/model -> table/journal":     "it begins as an earlier session left the game",
	"table/suspects -> table/model":    "pieces are named, and their measured places known, there",
	"table/suspects -> table/places":   "a carry leads from place to place",
	"table/desk -> table/journal":      "it keeps records",
	"table/desk -> table/model":        "where the pieces stand is kept with each record",
	"table/desk -> table/places":       "where the pieces stand is shown",
	"table/view -> table/desk":         "people are told of a silent camera and of a hand that stays",
	"table/view -> table/model":        "what is measured goes into the model",
	"table/view -> table/places":       "pieces are looked for at places",
	"table/view -> table/evidence":     "a picture is looked at square by square",
	"table/lookout -> table/desk":      "people are told of a hand that the carriage waits for",
	"table/lookout -> table/journal":   "and it is written down",
	"table/lookout -> table/model":     "who stands where is known there",
	"table/lookout -> table/view":      "who has moved is looked for square by square",
	"table/lookout -> table/wording":   "it speaks to people",
	"table -> table/lookout":           "what is in the way of a carry has it planned anew",
	"table/carriage -> table/lookout":  "the board is watched while a piece is carried",
	"table/carriage -> table/desk":     "a stop ends motions",
	"table/carriage -> table/model":    "where the carriage is goes into the model",
	"table/carriage -> table/suspects": "what the gantry says is told to the diagnosis",

	"gantry/gcode -> gantry": "the wire to a controller is opened, recorded and played back there",
	"gantry/tacho -> gantry": "what a driver answers that did not do what it was told is named there",

	"gantry/bed -> gantry/built":                         "a machine hangs on the motors of the simulated controller",
	"gantry/bed -> gantry/clock":                         "it lives in virtual time",
	"gantry/bed -> gantry/firmware":                      "one of its controllers takes G-code by lines",
	"gantry/bed -> gantry/tachobed":                      "the other one is a folder of tacho motors",
	"gantry/bed -> gantry/wire":                          "its wire spoils commands",
	"gantry/wire -> gantry/clock":                        "what is late comes in bed time",
	"gantry/tachobed -> gantry/built":                    "a machine hangs on the motors",
	"gantry/firmware -> gantry/built":                    "a machine hangs on the motors",
	"gantry/firmware -> gantry/clock":                    "it lives in bed time",
	"gantry/firmware -> gantry/firmware/blocks":          "it plans motion",
	"gantry/firmware -> gantry/firmware/modal":           "lines are commands by the modes that are on",
	"gantry/firmware -> gantry/firmware/settings":        "it has numbered settings",
	"gantry/firmware -> gantry/firmware/words":           "lines are words",
	"gantry/firmware/modal -> gantry/firmware/blocks":    "a motion is to a place of the planner's axes",
	"gantry/firmware/modal -> gantry/firmware/words":     "lines are words",
	"gantry/firmware/settings -> gantry/firmware/blocks": "the planner's limits are settings",
	"gantry/firmware/settings -> gantry/firmware/words":  "bad settings are the errors of bad lines",

	"gamelog -> table/journal":   "it keeps the journal of a table",
	"gamelog -> table/places":    "it tells where the pieces are",
	"host -> table":              "it shows a table's game, and hands in what people ask for",
	"host -> table/journal":      "it shows states and records",
	"host -> table/places":       "it shows who stands beside the board",
	"follow -> table/journal":    "the journal of a game played at a table says what its pictures show",
	"rehearsal -> table":         "it watches a table",
	"rehearsal -> table/journal": "it counts what happened",
	"rehearsal -> table/places":  "it compares places with the truth",
	"rehearsal -> gamelog":       "after a power cut a game goes on from its log",

	"camera -> devname":      "a camera is opened again by the name that stays",
	"gantry -> devname":      "a port is told by the name that stays",
	"camera -> camera/video": "a camera on this computer is one of its sources",

	"sight/quality -> sight/pixels": "it measures pictures",

	"web -> handbook": "the pages have the manual beside them",

	"sight/tracking -> sight/hypothesis": "earlier pictures are asked of hypotheses",
	"sight/tracking -> sight/scene":      "a tracker has the scene of the last settled picture",
	"sight/tracking -> sight/background": "and the model that pictures are compared with",
	"sight/tracking -> sight/pixels":     "it reads reduced pictures",
	"sight/tracking -> sight/register":   "it finds the board again",
	"sight/tracking -> sight/occlusion":  "it knows what hands are told by",
	"sight/tracking -> sight/likelihood": "it makes observations",
	"sight/tracking -> sight/inference":  "pieces are placed in the first picture",
	"sight/tracking -> sight/classify":   "this game's own pieces are kept",
	"sight/tracking -> sight/presence":   "it looks at pictures place by place",
	"sight/tracking -> sight/silhouette": "builds of pieces are fitted to the first picture",

	"records -> session": "pictures are read again with the eye that a game would have",

	"sight/occlusion -> sight/pixels":  "it compares reduced pictures",
	"sight/occlusion -> sight/light":   "what light alone explains covers nothing",
	"sight/background -> sight/light":  "what the light on the board changed is taken out of a picture",
	"sight/light -> sight/pixels":      "it compares reduced pictures",
	"sight/background -> sight/pixels": "it models the values of pixels",
	"sight/register -> sight/pixels":   "it compares reduced pictures",

	"sight/scene -> sight/pixels":     "where the pixels lie on the board is part of a scene",
	"sight/scene -> sight/silhouette": "pieces stand in a scene by the pixels that they cover",

	"sight/background -> sight/scene":      "what lies open of the board is learnt, and the colours of who stands where",
	"sight/background -> sight/silhouette": "the colours of a side are learnt by bands of a piece's height",
	"sight/occlusion -> sight/scene":       "a hand is told by where on the board and over which pieces it lies",

	"sight/likelihood -> sight/scene":      "a picture is measured against who stands where",
	"sight/likelihood -> sight/background": "and against what the board and the pieces look like",
	"sight/likelihood -> sight/occlusion":  "structure that is still there speaks for what was there",
	"sight/likelihood -> sight/pixels":     "what is measured are reduced pictures",

	"sight/hypothesis -> sight/scene": "a hypothesis says who stands where",

	"sight/inference -> sight/hypothesis": "it searches among hypotheses",
	"sight/inference -> sight/likelihood": "and weighs them on an observation",
	"sight/inference -> sight/scene":      "it puts pieces at places",
	"sight/inference -> sight/background": "what is left unexplained may be a shadow",
	"sight/inference -> sight/pixels":     "what is left unexplained is connected pixels",

	"sight/classify -> sight/heads":      "who stands on a square is told from the head",
	"sight/classify -> sight/hypothesis": "the kinds of a promotion are hypotheses",
	"sight/classify -> sight/likelihood": "heads are looked at in the observed picture",
	"sight/classify -> sight/scene":      "heads are cut out where pieces stand",

	"sight/presence -> sight/inference":  "pieces are weighed at places",
	"sight/presence -> sight/classify":   "somebody's head is told from nobody's",
	"sight/presence -> sight/likelihood": "it works on an observation of its own",
	"sight/presence -> sight/scene":      "and on a scene of its own",
	"sight/whiteside -> sight/scene":     "whose pieces stand where tells where White sits",
	"sight/sizes -> sight/scene":         "pieces of other measures stand in other scenes",
	"sight/sizes -> sight/background":    "the sides' colours are learnt under each of them",
	"sight/sizes -> sight/likelihood":    "the measures that explain the picture best are sought",
	"sight/sizes -> sight/pixels":        "in a reduced picture",
	"sight/silhouette -> sight/pixels":   "outlines fall on the pixels of a plane",
	"sight/locate -> sight/pixels":       "it works on the brightness of a picture",

	"sight -> sight/tracking":   "what is learnt of the table, from picture to picture",
	"sight -> rig":              "the eye's set-up is read from the rig: squares, pieces, nominal camera",
	"sight -> sight/pixels":     "what it reads are reduced pictures and where their pixels lie",
	"sight -> sight/locate":     "in the first picture, and after a bump, the board is looked for",
	"sight -> sight/silhouette": "a hypothesis is weighed on the pixels that its pieces cover",
	"sight -> sight/occlusion":  "hands and what lies on the board hide its structure",
	"sight -> sight/background": "a pixel is explained by the bare board, the light and shadows",
	"sight -> sight/register":   "a bumped camera is followed",
	"sight -> sight/scene":      "who stood where, and where they stand now",
	"sight -> sight/likelihood": "each picture is observed",
	"sight -> sight/hypothesis": "what is given out is the best hypothesis",
	"sight -> sight/inference":  "which is searched for",
	"sight -> sight/classify":   "kinds of pieces are told from their heads",
	"sight -> sight/whiteside":  "where White sits is seen if nobody says it",
	"sight -> sight/sizes":      "and so are the measures of the pieces",
	"sight -> sight/presence":   "the first picture must prove each place by itself",

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
	"gantry/firmware -> gantry/gcode":    "a test bed shares no code with the driver",
	"gantry/gcode -> gantry/firmware":    "a driver shares no code with its test bed",
	"gantry/tachobed -> gantry/tacho":    "a test bed shares no code with the driver",
	"gantry/tacho -> gantry/tachobed":    "a driver shares no code with its test bed",
	"gantry/bed -> gantry":               "a simulated controller shares no code with its driver",
	"gantry/gcode -> gantry/bed":         "a driver shares no code with its test bed",
	"gantry/tacho -> gantry/bed":         "a driver shares no code with its test bed",
	"carry/validate -> lanes":            "distances are worked out apart from the search for ways",
}
