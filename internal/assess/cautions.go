// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"
	"strings"

	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Caution is one thing that can hurt, with what to do and who says so.
type Caution struct {
	ID     string `json:"id"`
	Text   string `json:"text"`
	Source string `json:"source"`
}

const trade = "common practice, no source"

// Cautions are what the maker must be told about this rig.
func Cautions(r *rig.Rig) []Caution {
	out := []Caution{
		{"swallow", fluxText(r), "EN 71-1:2005+A8:2009, 4.23.2; 16 CFR 1262; UK OPSS Product Safety Alert PSA1 (2021)"},
		{"implant", implantText(r), "US FDA study 2021, as reported; ICNIRP static field guidelines (1994); S. Ryf et al., Technol. Health Care 16 (2008) 13"},
		{"pinch", "Magnets of this strength jump together from centimetres away, pinch skin and splinter. Wear eye protection, bring them together only over a spacer, keep them from cards, watches and disks.", trade},
		{"heat", "Sintered magnets lose about 0.12 % of their strength for each degree warmer and get it back: 2 % of the pull on a hot day, which the reserves cover. Above what their grade bears (80 °C, some N52 60 °C) they lose it for good: no sun behind glass, no motor or lamp against them.", "makers' tables of sintered NdFeB, from memory"},
		{"glue", "Hot glue and curing resin weaken sintered magnets: stay below 80 °C at the magnet (60 °C for some N52). Glue cold, and mark the poles before.", "makers' tables of sintered NdFeB"},
		{"cutting", "Cut and drill sheets clamped down, with eye protection; do not cut or drill magnets: their dust burns. Laser cutting needs extraction and a material known to be free of PVC.", trade},
		{"cables", "Lengthen leads by soldering or proper connectors with strain relief, never by twisting. A reworked motor or sensor lead no longer has its maker's approval: check polarity and shorts before connecting.", trade},
		{"voltage", voltageText(r), "IEC 61140 as quoted by a transformer maker; IEC 61558-1:2005, 3.7.16; IEC 62282-5-1:2012, 3.23"},
		{"moving", "The carriage and its racks can nip fingers under the board. Close the sides, and make the stop reachable without reaching in.", trade},
		{"codes", "This is arithmetic, not approval. Local codes, and people licensed for electrical, medical and product safety work, decide.", trade},
	}
	return out
}

func fluxText(r *rig.Rig) string {
	c := newStudy(r, nil).judgeFlux()
	if c.Value == 0 {
		return "Small strong magnets are deadly when two are swallowed: glue them in, count them, keep them from children."
	}
	return fmt.Sprintf("Foot magnets have a flux index of %.0f kG²mm²; loose small magnets of 50 or more count as hazardous: two swallowed ones can kill. "+
		"Glue every magnet in behind a cap, count them after each session, keep them from children. The set is not a toy.", c.Value)
}

func implantText(r *rig.Rig) string {
	c := newStudy(r, nil).judgeImplant()
	if c.Value == 0 {
		return "Keep magnets 15 cm from pacemakers and other implants."
	}
	return fmt.Sprintf("The drive magnet's field falls to 1 mT, where pacemakers may change their mode, %.0f mm from its face. "+
		"People with implants keep 15 cm from loose magnets and the open machine, and ask their doctor.", c.Value)
}

func voltageText(r *rig.Rig) string {
	at := ""
	if v := float64(r.Power.Voltage); v > 0 {
		at = fmt.Sprintf(" (here %.3g V)", v)
	}
	return "Use a ready-made, safety-tested plug-in supply of extra-low voltage" + at + ", with a fuse of its rating. Nothing of the mains side is built or opened here; that is for licensed people."
}

// Explain is the physics of one check in a few sentences, with the rig's own
// numbers. An unknown id is an error that lists the known ones.
func Explain(r *rig.Rig, id string) (string, error) {
	var known []string
	for _, c := range append(append(Judge(r), placed(r)...), driven(r)...) {
		if c.ID == id {
			return fmt.Sprintf("%s (%s): %s\n\n%s\n\nFormula: %s\nHolds for: %s\nSource: %s\n", c.Title, c.Verdict, c.Why, c.Explain, c.Formula, c.Range, c.Source), nil
		}
		known = append(known, c.ID)
	}
	return "", fmt.Errorf("there is no check %q; there are: %s", id, strings.Join(known, ", "))
}

// judgeFlux compares the magnets' flux index with the toy limit.
func (s *study) judgeFlux() Check {
	c := Check{ID: "caution.flux", Title: "Flux index of the foot magnets", Unit: "kG²mm²",
		Formula: "(largest flux density over the face, kG)² × area of the face, mm²",
		Source:  "EN 71-1:2005+A8:2009, 4.23.2; 16 CFR 1262; method SOR/2011-17, Schedule 10", Range: "ideal magnet; a flat one measures less"}
	if s.err != nil {
		return c.Open("pull.hold")
	}
	strong := s.Pair.Upper.WithBr(s.Pair.Upper.Br * unit.FluxDensity(math.Sqrt(s.Spread.Strong)))
	i, err := magnet.FluxIndex(strong)
	if err != nil {
		return c.Failed(err)
	}
	c = c.AtMost(i, magnet.FluxIndexLimit, magnet.FluxIndexLimit)
	c.Why = fmt.Sprintf("the index is %.0f, the limit for loose small magnets 50", i)
	if c.Verdict == Fail {
		c.Verdict = Warn // a caution, not a defect: the magnets are glued in
		c.Advice = "glue every magnet in and close it with a cap, count them after each session, keep them from children"
	}
	c.Explain = "Two or more swallowed magnets pinch the gut: injury or death. Nearly every magnet that moves a piece is above the toy limit, so it must not come loose, and the set is not a toy. Follow the rules where you live."
	return c
}

// fdaDistance is how far consumer devices should stay from implants, metres:
// US FDA study 2021, as reported: 15 cm (6 in).
const fdaDistance = 0.15

// judgeImplant computes how far the drive magnet's field reaches.
func (s *study) judgeImplant() Check {
	c := Check{ID: "caution.implant", Title: "Reach of 1 mT from the drive magnet", Unit: "mm",
		Formula: "distance from the face where the field on the axis falls to 1 mT", Source: "Derby and Olbert, Am. J. Phys. 78 (2010) 229; 1 mT and 15 cm: US FDA study 2021, as reported", Range: "one magnet alone; forces on it aside"}
	if s.err != nil {
		return c.Open("pull.hold")
	}
	strong := s.Pair.Lower.WithBr(s.Pair.Lower.Br * unit.FluxDensity(math.Sqrt(s.Spread.Strong)))
	one, err := magnet.FieldReach(strong, magnet.ImplantSwitch)
	if err != nil {
		return c.Failed(err)
	}
	half, err := magnet.FieldReach(strong, magnet.ImplantQuiet)
	if err != nil {
		return c.Failed(err)
	}
	c = c.AtMost(one.Axis*1e3, fdaDistance*1e3, fdaDistance*1e3)
	c.Why = fmt.Sprintf("the field falls to 1 mT at %.0f mm from the face and to 0.5 mT at %.0f mm", one.Axis*1e3, half.Axis*1e3)
	c.Explain = "Pacemakers and defibrillators may switch to magnet mode from about 1 mT. People with implants keep 15 cm away from loose magnets and from the open machine, and ask their doctor."
	return c
}
