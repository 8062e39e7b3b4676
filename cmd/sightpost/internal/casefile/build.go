package casefile

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/space"
)

// build returns the case of a form without problems.
func (f *caseForm) build() *Case {
	c := &Case{Label: f.Label.Text, Note: f.Note.words(), fixed: f.Screen.fixedAt()}
	if f.Passage != nil {
		c.about = f.Passage.About.words()
	}
	scene := gaze.Scene{
		Person:         f.Person.build(),
		Chair:          f.Chair.build(),
		Measured:       f.Measured.build(),
		Carrier:        carrier(f.Mount.CarriedBy.Word),
		RestDistanceMM: f.Tracker.Best.mm(),
	}
	c.Job = fit.Job{
		Scene:       scene,
		Device:      gaze.Device{Screen: f.Screen.build(), Tracker: f.Tracker.build()},
		Preferences: f.Preferences.build(),
		Demand:      fit.Demand{ShockFactor: f.Preferences.ShockFactor.number(), SafetyFactor: f.Preferences.Safety.number()},
		Drives:      f.Chair.Drives.Yes,
		Grid:        f.Screen.Grid.build(),
	}
	for i := range f.Postures {
		c.Job.Postures = append(c.Job.Postures, f.Postures[i].build(scene.Measured))
	}
	c.mountings = f.Mount.mountings(scene)
	return c
}

func (t *text) words() string {
	if t == nil {
		return ""
	}
	return t.Text
}

func (p pointForm) vec() r3.Vec { return r3.Vec{X: p.Forward.mm(), Y: p.Left.mm(), Z: p.Up.mm()} }

// carrier: floor, table and bed stand still when the seat tilts, as the base does.
func carrier(word string) gaze.Carrier {
	if word == "seat" {
		return gaze.Seat
	}
	return gaze.Base
}

func (h headForm) build() gaze.Head {
	return gaze.Head{Flexion: h.Flexion.of(), Rotation: h.Rotation.of(), LateralFlexion: h.LateralFlexion.of()}
}

func (m measuredForm) build() gaze.Sitting {
	return gaze.Sitting{SeatTilt: m.SeatTilt.of(), BackAngle: m.BackAngle.of(), EyesMM: m.Eyes.vec(), Head: m.Head.build()}
}

func (p personForm) build() gaze.Person {
	person := gaze.Person{
		PupilSpacingMM: p.PupilSpacing.mm(),
		NeckToEyesMM:   r3.Vec{X: p.NeckToEyes.Forward.mm(), Z: p.NeckToEyes.Up.mm()},
		GazeRange:      gaze.GazeRange{Left: p.GazeRange.Left.of(), Right: p.GazeRange.Right.of(), Up: p.GazeRange.Up.of(), Down: p.GazeRange.Down.of()},
		MovementMM:     r3.Vec{X: p.Movement.Forward.mm(), Y: p.Movement.Left.mm(), Z: p.Movement.Up.mm()},
	}
	switch p.EyesUsed.Word {
	case "left":
		person.Eyes = gaze.LeftOnly
	case "right":
		person.Eyes = gaze.RightOnly
	case "either":
		person.Eyes = gaze.Either
	}
	if g := p.Glasses; g.worn() {
		person.Glasses = &gaze.Glasses{LensSlant: g.Form.LensSlant.of()}
	}
	if g := p.RestGaze; g != nil {
		person.RestGaze = &gaze.GazeDirection{Down: g.Down.of(), Left: g.Left.of()}
	}
	return person
}

// worn reports whether there are glasses.
func (g *glassesForm) worn() bool { return g != nil && (g.Form != nil || g.Word.Yes) }

func (c chairForm) build() gaze.Chair {
	return gaze.Chair{TiltPivotMM: c.TiltPivot.vec(), BackHingeMM: c.BackHinge.vec()}
}

func (p *sideViewForm) vec() r3.Vec {
	if p == nil {
		return r3.Vec{} // sense has found that it has no effect
	}
	return r3.Vec{X: p.Forward.mm(), Z: p.Up.mm()}
}

func (t trackerForm) build() gaze.Tracker {
	return gaze.Tracker{
		NearMM: t.Near.mm(), BestMM: t.Best.mm(), FarMM: t.Far.mm(),
		Across: t.Across.of(), UpDown: t.UpDown.of(),
		BelowMM: t.Below.mm(), InFrontMM: t.InFront.mm(), AimedUp: t.AimedUp.of(),
		GazeLimit: t.GazeLimit.of(), Accuracy: t.Accuracy.of(), Precision: t.Precision.of(),
	}
}

func (s screenForm) build() gaze.Screen {
	screen := gaze.Screen{
		WidthMM: s.Display.Width.mm(), HeightMM: s.Display.Height.mm(),
		HousingMM:      r3.Vec{X: s.Housing.Width.mm(), Y: s.Housing.Height.mm(), Z: s.Housing.Depth.mm()},
		HousingBelowMM: s.Housing.Below.mm(),
		MassKG:         s.Mass.kg(),
	}
	screen.Used = screen.Display()
	if u := s.Used; u != nil {
		corner := screen.Display()
		screen.Used = gaze.Rect{
			LeftMM: corner.LeftMM + u.Left.mm(), RightMM: corner.LeftMM + u.Right.mm(),
			BottomMM: corner.BottomMM + u.Bottom.mm(), TopMM: corner.BottomMM + u.Top.mm(),
		}
	}
	return screen
}

func (g *gridForm) build() *gaze.Grid {
	if g == nil {
		return nil
	}
	return &gaze.Grid{Rows: int(g.Rows.number()), Columns: int(g.Columns.number()), GapMM: g.Gap.mm()}
}

func (p postureForm) build(measured gaze.Sitting) gaze.Posture {
	posture := measured.AsMeasured(p.Name.Text)
	posture.MustWork = p.MustWork.Yes
	if p.SeatTilt != nil {
		posture.SeatTilt = p.SeatTilt.of()
	}
	if p.BackAngle != nil {
		posture.BackAngle = p.BackAngle.of()
	}
	if p.Slump != nil {
		posture.SlumpMM = p.Slump.mm()
	}
	if p.Head != nil {
		posture.Head = p.Head.build()
	}
	if p.Eyes != nil {
		eyes := p.Eyes.vec()
		posture.EyesMM = &eyes
	}
	return posture
}

func (w preferencesForm) build() fit.Preferences {
	wish := fit.Preferences{
		Rates: gaze.Rates{
			GazePerDegree: w.Rates.Gaze.number(), FacingPerDegree: w.Rates.Facing.number(),
			RollPerDegree: w.Rates.Roll.number(), DistancePerMM: w.Rates.Distance.number(),
		},
		FaceMM: w.FaceClearance.mm(), MarginMM: w.Margin.mm(),
	}
	if w.RollFollows.Word == "level" {
		wish.Upright = gaze.WithLevel
	}
	g := w.Ranges
	wish.Ranges.Low = gaze.Aim{
		Left: g.GazeLeft.lowAngle(), Down: g.GazeDown.lowAngle(), DistanceMM: g.Distance.low,
		FacingUp: g.FacingUp.lowAngle(), FacingRight: g.FacingRight.lowAngle(), Roll: g.Roll.lowAngle(),
	}
	wish.Ranges.High = gaze.Aim{
		Left: g.GazeLeft.highAngle(), Down: g.GazeDown.highAngle(), DistanceMM: g.Distance.high,
		FacingUp: g.FacingUp.highAngle(), FacingRight: g.FacingRight.highAngle(), Roll: g.Roll.highAngle(),
	}
	return wish
}

func (k keepClearForm) build(scene gaze.Scene) fit.KeepClear {
	by := carrier(k.CarriedBy.Word)
	keep := fit.KeepClear{Name: k.Name.Text, By: by, RequiredMM: k.Clearance.mm()}
	// Bounds and signs have been checked, so that both are shapes.
	if k.Box != nil {
		pose := frame.Pose{Rot: frame.About(r3.Vec{Z: 1}, k.Box.Rotation.of()), At: k.Box.Middle.vec()}
		size := r3.Vec{X: k.Box.Size.Forward.mm(), Y: k.Box.Size.Left.mm(), Z: k.Box.Size.Up.mm()}
		keep.Shape, _ = space.Box(pose, size)
	} else {
		keep.Shape, _ = space.Capsule(k.Capsule.From.vec(), k.Capsule.To.vec(), k.Capsule.Radius.mm())
	}
	keep.Shape = keep.Shape.Moved(fit.CarrierFromMeasured(scene, by))
	return keep
}

func angleOr0(a *angle) frame.Angle {
	if a == nil {
		return 0
	}
	return a.of()
}

// mountings returns the places where the mount may be clamped, in carrier axes:
// one, or one on either side, or none if no clamp is given.
func (m mountForm) mountings(scene gaze.Scene) []mount.Mounting {
	if m.Clamp == nil {
		return nil
	}
	given := m.Clamp.build(fit.CarrierFromMeasured(scene, scene.Carrier))
	switch m.Side.Word {
	case "left":
		return []mount.Mounting{given}
	case "right":
		given.Side = mount.OnRight
		return []mount.Mounting{given}
	}
	if given.ClampMM.Y < 0 {
		given.Side = mount.OnRight
	}
	return []mount.Mounting{given, acrossMidline(given)}
}

// acrossMidline returns the mirror image of a mounting. Turning and leaning left
// change their sense, leaning back does not.
func acrossMidline(m mount.Mounting) mount.Mounting {
	m.ClampMM.Y, m.SlideAlong.Y = 0-m.ClampMM.Y, 0-m.SlideAlong.Y
	m.Axes.Rotation, m.Axes.Roll = 0-m.Axes.Rotation, 0-m.Axes.Roll
	if m.Side == mount.OnLeft {
		m.Side = mount.OnRight
	} else {
		m.Side = mount.OnLeft
	}
	return m
}

// build returns the mounting on the left of what was measured in chair axes.
func (c clampAtForm) build(carrierFromChair frame.Pose) mount.Mounting {
	measured := mount.Axes{Rotation: c.Rotation.of(), Tilt: c.Tilt.of(), Roll: c.Roll.of()}
	m := mount.Mounting{ClampMM: carrierFromChair.Apply(c.At.vec()), Axes: measured}
	if carrierFromChair.Rot != frame.NoTurn() {
		m.Axes = mount.AxesOf(carrierFromChair.Rot.Mul(measured.Matrix()))
	}
	if c.Slides != nil {
		m.SlideLowMM, m.SlideHighMM = c.Slides.low, c.Slides.high
		m.SlideAlong = carrierFromChair.Rot.Apply(c.Along.vec())
	}
	return m
}

func (a *alongForm) vec() r3.Vec {
	if a.Form != nil {
		return r3.Vec{X: a.Form.Forward.mm(), Y: a.Form.Left.mm(), Z: a.Form.Up.mm()}
	}
	switch a.Word.Word {
	case "left":
		return r3.Vec{Y: 1}
	case "up":
		return r3.Vec{Z: 1}
	default:
		return r3.Vec{X: 1}
	}
}

// fixedAt is where a plate is screwed to a housing: right and up of the middle of
// its back, mm.
type fixedAt struct{ rightMM, upMM float64 }

func (s screenForm) fixedAt() fixedAt {
	if s.Fixed == nil {
		return fixedAt{}
	}
	return fixedAt{rightMM: s.Fixed.Right.mm(), upMM: s.Fixed.Up.mm()}
}

// onto returns a kit with a screen on its plate, whose mass is then that of both.
// The screen's mass is taken to be in the middle of its housing, the plate's on the
// housing's back.
func (f fixedAt) onto(kit mount.Kit, s gaze.Screen) mount.Kit {
	last := len(kit.Parts) - 1
	plate := kit.Parts[last].(mount.Plate) // the kit has been checked
	middle, half := s.Housing()
	touch := r3.Add(middle, r3.Vec{X: f.rightMM, Y: f.upMM, Z: -half.Z})
	plate.FixedAtMM = touch
	total := plate.MassKG + s.MassKG
	if total > 0 {
		plate.CentreMM = r3.Scale(1/total, r3.Add(r3.Scale(plate.MassKG, touch), r3.Scale(s.MassKG, middle)))
	}
	plate.MassKG, plate.PlateKG = total, plate.MassKG
	parts := make([]mount.Part, len(kit.Parts))
	copy(parts, kit.Parts)
	parts[last] = plate
	kit.Parts = parts
	return kit
}
