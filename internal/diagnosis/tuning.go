// SPDX-License-Identifier: Apache-2.0

package diagnosis

// The numbers of this package that were set by hand, each with its unit, its
// meaning and how it was found.

// fewestArrivals determine the six coefficients of a frame itself, two each. How surely they do is
// for the fit to say.
const fewestArrivals = 3

// scatters are the shares of what pictures state for their sigmas by which pieces may scatter
// about the best frame, all equally likely: in sound games of the twin 0.35 about a common bias;
// where pictures state what they scatter 1; twice that where they say too little. Reasoned; how
// finely the shares lie moves no name.
var scatters = []float64{0.25, 0.35, 0.5, 0.7, 1, 1.4, 2}

// unlikely is by how many nats a share of scatters explains the arrivals worse than the best
// one and is left out. A bound of work: a thousandth of the belief goes with it. Doubled,
// nothing is seen.
const unlikely = 7.0

// beyond is the standard deviation of what pictures have wrong of the scale beside the
// field, by whose squares they are measured, as a share. In the twin's trays pieces were
// seen up to 3 mm of 200 off. Doubled, pieces in slots tell less of an axis's scale; at
// nothing one was called wrong in two sound games of twenty with trays.
const beyond = 0.015

// outwards and alongside are how far beside their places pieces are seen beside the field, m,
// across the board's edge and along it, whatever that scale is. In the twin's trays up to
// 2.9 mm off across it and 0.6 mm (28 pieces) along it; at nothing angles of up to 8 in a
// thousand were fitted to sound machines with trays, of up to 4 without. Doubled, slots tell
// nothing of the frame.
const (
	outwards  = 2e-3
	alongside = 0.6e-3
)

// offSigma is the standard deviation, per coordinate, of a magnet that was glued in
// badly, m. How it was found is not recorded.
const offSigma = 1.5e-3

// Of a hundred pieces that came near where they were to go one was left just
// short of it, for whatever reason, anywhere within straggle metres. That is
// what an outlier costs, and all that it costs: it is left out of the fit. How they
// were found is not recorded.
const (
	stragglers = 0.01
	straggle   = 0.018
)

// huber is where the weight of a residual begins to fall in the first rounds,
// in standard deviations of the plane: 95 % of good arrivals lie within it.
const huber = 2.45

// mostPlaces bounds the sticky places that are thought of; the latest stay. A bound
// of work; how it was found is not recorded.
const mostPlaces = 24

// leastGain is what a hypothesis must explain better than chance, in nats, to
// be weighed at all; less moves no belief beyond its prior.
const leastGain = 0.5

// mostSymptoms is how many symptoms are kept, the latest: about four games. A
// machine changes with its mending, so what is older says little of it.
const mostSymptoms = 800

// hopelessAfter is how many carries must fail one after another. How it was found is not recorded.
const hopelessAfter = 3

// ended is the share of faults that somebody mends, or that end by themselves,
// before the last symptom. How it was found is not recorded.
const ended = 0.1

// soundWander is the displacement of a piece that a person or a sleeve has
// touched, m per coordinate; a finger's breadth. Common practice, no source.
const soundWander = 6e-3

// offTheWay is how far from the way a piece lies that was thrown off it, m: half a square.
// What catches on the board is left on the way, and one that falls over lies half its height
// beside it; an upside-down magnet throws its piece farther: by 36 to 65 mm in 14 of 14 such
// carries in the twin. soundAside is the share of those lost by chance, by a sleeve or a bump,
// that lie so far off; leftAside of those that slipped. No source; doubled, an upside-down
// magnet is named one carry later.
const (
	offTheWay  = 0.02
	soundAside = 0.3
	leftAside  = 0.05
)

// stickyRadius of one sticky place and half a base, m: a drop of something.
// Common practice, no source.
const stickyRadius = 0.015

const (
	// namedAfter is how many symptoms of its kind name a cause that is believed
	// so much: four to one against everything else. At one to one the twin's
	// skewed frame was told as a wrong scale in 4 of 20 machines, at four to one
	// in 1; the true cause is named two carries later.
	namedAfter  = 3
	namedBelief = 0.8
	// leastTold is by how many nats the symptoms must tell a cause from another: the odds of
	// namedBelief, from the symptoms alone.
	leastTold = 1.386
	// sureOdds against everything else name a cause at once: who is told of a sound part takes a
	// machine apart for nothing, which costs as much as a hundred carries gone wrong without a word.
	// What throws one piece twice off its magnet is told so, and one piece that has gone along with
	// the carriage. At a thousand each took one more; doubled, it does in five games of eight.
	sureOdds = 100.0
	// worthTelling is the least belief of a finding. How it was found is not recorded.
	worthTelling = 0.05
)

const (
	// near is how far from where it was to go a piece counts as arrived, and
	// still how far from where it stood it counts as left there, both as shares of
	// the square. No magnet off centre and no shift with which pieces can be
	// gripped at all takes it farther than a quarter of a square.
	near  = 0.25
	still = 0.45
	// noticeable is the least motion of a piece that is not put down to the
	// pictures, in standard deviations of the difference of the two: three in ten
	// thousand differences are larger by chance, and some eight pieces stand beside a
	// way, which is what sound machines are given (soundRates). At five the twin's
	// wide bases, which push neighbours by 7 to 18 mm, were told in one push of ten.
	noticeable = 4.0
	leastPush  = 0.5e-3 // m, however sharp the pictures
)

// statedMotions is how many motions of pieces that nobody touched the sigmas of the
// pictures count as, when it is asked how far pieces seem to move: half of one look.
// In the twin's pictures they seem to move by 0.3 of their sigmas. misseen is where
// one counts as a reading gone wrong and teaches nothing, in standard deviations.
const (
	statedMotions = 3.0
	misseen       = 5.0
)

// Spreads, as shares: friction from piece to piece scatters by a tenth
// (chestnut 0.36–0.55 about 0.46: Villar-García et al., Int. Agrophysics 34
// (2020) 65); the force law is good to 15 % (Vokoun and Beleggia, J. Magn. Magn.
// Mater. 350 (2014) 174).
const (
	frictionSpread = 0.10
	forceSpread    = 0.15
)

// The offsets at which pulls are looked up. How they were
// found is not recorded.
const (
	lookedAt   = 0.06    // m: offsets between magnet and piece that are looked at
	lookedStep = 0.25e-3 // m
)

// homing is how well a carriage comes back to a place, m: common practice.
const homing = 0.1e-3

// The search over sets keeps beam sets of each size and goes on to mostCauses:
// a machine with more faults than that at once is mended one after the other.
const (
	beam       = 8
	mostCauses = 4
)

// pushedBy is how far a base is pushed aside by another one or by a raised magnet,
// m per coordinate: a third of a base. heldWithin is how far from the carriage's end
// a piece stands that it holds: lag, lead and the picture. lostHeld is the share of
// held pieces that do not come along to the end. Of 30 such pieces in the twin 26
// stood within 4 mm. Doubling either changes no name in the twin's streams.
const (
	pushedBy   = 8e-3
	heldWithin = 4e-3
	lostHeld   = 0.15
)

// byHand is the share of the pieces that moved beside a sound machine's way which a person has
// moved, to anywhere on the field. No source: an impatient guest in a few games of a hundred.
// Doubled, one piece that a raised magnet has dragged along names the lift a little less surely.
const byHand = 0.2

// measuredWide is how often bases that are far too wide are measured to be so in a session: on
// the twin 20 of 24 first pictures could not be read without that.
const measuredWide = 0.8

// passedOn is the share of pushes by bases that are too wide of which the next piece is
// pushed in its turn. No source; common practice where squares are 2.5 bases wide.
const passedOn = 0.15

// farthestPush is how far from the carriage's way a piece that moved is put
// down to it, m. How it was found is not recorded.
const farthestPush = 0.06

// shortestLeg is the length below which a leg of a path is the coming back
// from a lead or the taking up of backlash, not the way, metres. How it was found is not recorded.
const shortestLeg = 3e-3
