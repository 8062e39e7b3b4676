package document

import (
	"fmt"
	"strings"

	"sightpost/gaze"
	"sightpost/mount/fit"
)

// Ahead is what the device hides of the way ahead.
type Ahead struct {
	// The floor that the left eye does not see.
	LeftEye Shadow `json:"left_eye"`
	// The floor that the right eye does not see.
	RightEye Shadow `json:"right_eye"`
	// The floor that neither sees.
	Both Shadow `json:"both"`
	// Solid angle that the device covers, seen from midway between the eyes.
	SolidAngleSR float64 `json:"solid_angle_sr"`
	// Its share of the forward field, 0 to 1: from a level line of sight, 35 degrees to
	// either side, 20 up and 40 down (US NRC, NUREG-0700 Rev. 2, guideline 11.1.2-6).
	Share float64 `json:"share"`
	// What would still be hidden if the screen were moved.
	Moves []Move `json:"moves"`
}

// Move is a move of the screen that may give some of the view back.
type Move struct {
	// The move, in plain words.
	What Text `json:"what"`
	// The floor that neither eye would see.
	Both Shadow `json:"both"`
	// Share of the forward field that the device would cover, 0 to 1.
	Share float64 `json:"share"`
	// The margin that the posture would have then, whatever holds the screen; right in
	// sign only when negative.
	MarginMM float64 `json:"margin_mm"`
}

// Shadow is a strip of floor that is hidden.
type Shadow struct {
	// True when any floor is hidden; all lengths are 0 otherwise.
	Hides bool `json:"hides"`
	// Where it begins, ahead of the point on the floor below the eyes.
	NearMM float64 `json:"near_mm"`
	// Where it ends.
	FarMM float64 `json:"far_mm"`
	// Its left edge, to the person's left of the chair's midline.
	LeftMM float64 `json:"left_mm"`
	// Its right edge, to the person's left of the midline: negative on the right.
	RightMM float64 `json:"right_mm"`
	// True when it goes on as far as is judged, 10 m; the far end and the edges are
	// then where looking ends.
	Endless bool `json:"endless"`
	// Its area, as far as is judged.
	AreaM2 float64 `json:"area_m2"`
	// How much of the midline straight ahead of the chair is in it.
	PathMM float64 `json:"path_mm"`
}

func newAhead(job *fit.Job, f *fit.PostureResult) *Ahead {
	a := f.Ahead
	if a == nil {
		return nil
	}
	judge := gaze.NewJudge(job.Device, job.Scene.Person)
	return &Ahead{
		LeftEye: newShadow(a.Floor[gaze.LeftEye]), RightEye: newShadow(a.Floor[gaze.RightEye]), Both: newShadow(a.Both),
		SolidAngleSR: plain(a.SolidSR), Share: plain(a.Share),
		Moves: each(a.Remedies[:], func(r gaze.Remedy) Move {
			margin, _ := judge.Margin(r.Move.Of(f.Held, &f.InCarrier), &f.InCarrier)
			return Move{What: moveWords(r.Move), Both: newShadow(r.Both), Share: plain(r.Share), MarginMM: plain(margin)}
		}),
	}
}

// moveWords says what a move of the screen is.
func moveWords(m gaze.Move) Text {
	return [...]Text{
		gaze.Lowered:    Say("lowered by %s", Length(gaze.LowerMM)),
		gaze.TiltedBack: Say("top tilted back by %s", degrees(gaze.TiltAngle.Radians())),
		gaze.SwungLeft:  Say("swung to the left by %s", degrees(gaze.SwingAngle.Radians())),
		gaze.SwungRight: Say("swung to the right by %s", degrees(gaze.SwingAngle.Radians())),
	}[m]
}

func newShadow(s gaze.Shadow) Shadow {
	return Shadow{
		Hides: s.Hides, NearMM: plain(s.NearMM), FarMM: plain(s.FarMM),
		LeftMM: plain(s.LeftMM), RightMM: plain(s.RightMM), Endless: s.Endless,
		AreaM2: plain(s.AreaMM2 / 1e6), PathMM: plain(s.PathMM),
	}
}

// Lens is the direction from a lens of the glasses to the tracker.
type Lens struct {
	// The eye behind the lens, by the person's own side.
	Eye string `json:"eye" jsonschema:"enum=left,enum=right"`
	// Angle between the lens's normal and the direction to the tracker.
	OffDeg float64 `json:"off_deg"`
	// True when the lens may throw the tracker's light straight back.
	Glare bool `json:"glare"`
}

func newLens(l gaze.Lens) Lens {
	return Lens{Eye: sideOf(l.Eye), OffDeg: degreesOf(l.Off), Glare: l.Glare}
}

// sideOf returns the word for an eye in the object.
func sideOf(e gaze.Eye) string { return [...]string{"left", "right"}[e] }

// Targets is what can be selected on the screen as the eyes see it.
type Targets struct {
	// Whether sizes are known: "sized" if they are; "edge_on" if the eyes are so near
	// the plane of the glass, or behind it, that nothing can be selected; "no_error" if
	// accuracy and precision of the tracker are not known, so that degrees have a size
	// and targets have none.
	Sizing string `json:"sizing" jsonschema:"enum=sized,enum=edge_on,enum=no_error"`
	// The middle of the used part and its corners.
	Spots []Spot `json:"spots"`
	// The spot where the smallest target is largest.
	Worst string `json:"worst" jsonschema:"enum=middle,enum=top_left,enum=top_right,enum=bottom_left,enum=bottom_right"`
	// The least size of targets that are alike all over the used part.
	Smallest Size `json:"smallest"`
	// Most rows of such targets that the used part holds.
	Rows int `json:"rows"`
	// Most columns.
	Columns int `json:"columns"`
	// Size of the targets of the grid that is asked for; absent when none is.
	Cell *Size `json:"cell,omitempty"`
	// By how much they are too small; absent when no grid is asked for.
	Short *Size `json:"short,omitempty"`
	// False when a grid is asked for whose targets are too small.
	GridFits bool `json:"grid_fits"`
}

// Size is a size on the screen.
type Size struct {
	// Across the screen.
	AcrossMM float64 `json:"across_mm"`
	// Up the screen.
	UpMM float64 `json:"up_mm"`
}

// Spot is what the tracker makes of a place on the screen.
type Spot struct {
	// The place, as the viewer sees it.
	Place string `json:"place" jsonschema:"enum=middle,enum=top_left,enum=top_right,enum=bottom_left,enum=bottom_right"`
	// Size of a degree at the eye.
	Degree Size `json:"degree"`
	// The tracker's accuracy there, to the side on which it reaches further.
	Offset Size `json:"offset"`
	// The tracker's precision there, likewise.
	Spread Size `json:"spread"`
	// The smallest target whose middle is there.
	Smallest Size `json:"smallest"`
}

// Grid is the grid of targets that is requested.
type Grid struct {
	// From top to bottom.
	Rows int `json:"rows"`
	// From left to right.
	Columns int `json:"columns"`
	// Between neighbors.
	GapMM float64 `json:"gap_mm"`
}

// newTargets returns what can be selected; grid is nil when none is asked for.
func newTargets(t gaze.Targets, grid *gaze.Grid) *Targets {
	to := &Targets{
		Sizing: [...]string{"sized", "edge_on", "no_error"}[t.Sizing], Spots: make([]Spot, 0, len(t.Spots)),
		Worst: cornerKey(t.Worst), Smallest: newSize(t.Smallest), Rows: t.Rows, Columns: t.Columns, GridFits: t.Fits,
	}
	for i, s := range t.Spots {
		to.Spots = append(to.Spots, Spot{
			Place: cornerKey(gaze.Corner(i)), Degree: newSize(s.Degree), Offset: newSize(s.Offset), Spread: newSize(s.Spread), Smallest: newSize(s.Smallest),
		})
	}
	if grid != nil {
		to.Cell, to.Short = new(newSize(t.Cell)), new(newSize(t.Short))
	}
	return to
}

func newSize(e gaze.Extent) Size { return Size{AcrossMM: plain(e.AcrossMM), UpMM: plain(e.UpMM)} }

// cornerKey returns the word for a corner in the object.
func cornerKey(c gaze.Corner) string {
	return [...]string{"middle", "top_left", "top_right", "bottom_left", "bottom_right"}[c]
}

// view says what the device hides of the view ahead of a person who drives, and which
// moves of the screen would hide less.
func (r *Report) view() Section {
	s := Section{ID: SectionView, Title: "View ahead", Brief: true}
	s.line(r.perPosture(func(p *Posture) Text {
		if p.Ahead == nil {
			return Text{}
		}
		return Say("%s; it covers %s of the forward field.", p.Ahead.Both.words(), Share(p.Ahead.Share))
	})...)
	if len(s.Lines) == 0 {
		return s
	}
	lead := r.Lead()
	const less = 0.95 // of the area: what a person may notice
	for _, m := range lead.Ahead.Moves {
		if m.Both.AreaM2 >= less*lead.Ahead.Both.AreaM2 {
			continue
		}
		s.full("With the screen %s: %s; %s of the field; margin %s instead of %s.", m.What, m.Both.words(), Share(m.Share), Margin(m.MarginMM), Margin(lead.MarginMM))
	}
	s.full("Counted: floor that neither eye sees past the device, up to %s ahead. The mount's tubes hide more.", Far(gaze.LookMM))
	s.full("Forward field: from a level line of sight %s to either side, %s up and %s down (US NRC, NUREG-0700 Rev. 2, guideline 11.1.2-6).",
		Angle(gaze.FieldAside.Degrees()), Angle(gaze.FieldAbove.Degrees()), Angle(gaze.FieldBelow.Degrees()))
	return s
}

// words says which strip of floor is hidden.
func (s *Shadow) words() Text {
	if !s.Hides {
		return Say("The device hides no floor")
	}
	end := Say("%s", Far(s.FarMM))
	if s.Endless {
		end = Say("beyond %s", Far(gaze.LookMM))
	}
	return Say("The device hides floor from %s to %s ahead of the eyes, from %s to %s, %s",
		Far(s.NearMM), end, Way(s.LeftMM, "", "left", "right"), Way(s.RightMM, "", "left", "right"), Area(s.AreaM2))
}

// targets says how large targets must be, and how many the display holds.
func (r *Report) targets() Section {
	s := Section{ID: SectionTargets, Title: "Targets", Brief: true}
	s.line(r.perPosture((*Posture).targetWords)...)
	lead := r.Lead().Targets
	if g := r.Grid; g != nil && lead.Cell != nil {
		fit := "fits"
		if names := r.posturesWith(func(p *Posture) bool { return !p.Targets.GridFits }); names != "" {
			fit = "too small in " + names
		}
		s.say("Requested: %s, %s apart, targets of %s: %s.", grid(g.Rows, g.Columns), Length(g.GapMM), lead.Cell.quantity(), fit)
	}
	for _, t := range r.perPosture(func(p *Posture) Text {
		return Say("1° covers %s in the middle of the display.", p.Targets.Spots[0].Degree.quantity())
	}) {
		s.full("%s", t)
	}
	return s
}

func (p *Posture) targetWords() Text {
	t := p.Targets
	switch t.Sizing {
	case "edge_on":
		return Say("None can be selected: the screen is seen edge-on.")
	case "no_error":
		return Say("Size unknown: the case gives no accuracy and precision of the tracker.")
	}
	return Say("Smallest %s (hardest: %s); %s fit.", t.Smallest.quantity(), placeWords(t.Worst), grid(t.Rows, t.Columns))
}

func (s *Size) quantity() Lengths { return Lengths{s.AcrossMM, s.UpMM} }

// grid returns rows and columns in words.
func grid(rows, columns int) string {
	return fmt.Sprintf("%s x %s", count(rows, "row"), count(columns, "column"))
}

// count returns a number with the word for one thing or several.
func count(n int, word string) string {
	if n != 1 {
		word += "s"
	}
	return fmt.Sprintf("%d %s", n, word)
}

// placeWords returns a place of the display in words.
func placeWords(place string) string {
	if place == "middle" {
		return place
	}
	return strings.Replace(place, "_", "-", 1) + " corner"
}

// glasses says the angles between lenses and tracker.
func (r *Report) glasses() Section {
	s := Section{ID: SectionGlasses, Title: "Glasses", Brief: true}
	s.line(r.perPosture(func(p *Posture) Text {
		if len(p.Lenses) == 0 {
			return Text{}
		}
		return Say("Lens to tracker direction: %s.", Join("; ", each(p.Lenses, Lens.words)...))
	})...)
	return s
}

func (l Lens) words() Text {
	if l.Glare {
		return Say("%s %s, glare possible", l.Eye, Angle(l.OffDeg))
	}
	return Say("%s %s, no glare", l.Eye, Angle(l.OffDeg))
}
