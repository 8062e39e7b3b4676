package casefile

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/mount/space"
)

// newCase returns the case of a file without problems.
func newCase(f *node) *Case {
	screen, preferences := f.get("screen"), f.get("preferences")
	c := &Case{form: f, Label: f.word("label"), Note: f.word("note")}
	scene := gaze.Scene{
		Person:         person(f.get("person")),
		Chair:          chair(f),
		Measured:       sitting(f.get("measured")),
		Carrier:        carrier(f.word("mount.carried_by")),
		RestDistanceMM: f.number("tracker.best"),
	}
	c.Job = fit.Job{
		Scene:       scene,
		Device:      gaze.Device{Screen: newScreen(screen), Tracker: tracker(f.get("tracker"))},
		Preferences: newPreferences(preferences),
		Demand:      fit.Demand{ShockFactor: preferences.number("shock_factor"), SafetyFactor: preferences.number("safety_factor")},
		Drives:      f.yes("chair.drives"),
	}
	if w := f.get("chair.stability"); w != nil && (scene.Carrier == gaze.Seat || f.word("mount.carried_by") == "base") {
		c.Job.Wheels = fit.Wheels{
			FrontMM: w.number("front_wheels"), RearMM: w.number("rear_wheels"), TrackMM: w.number("track"), KG: w.number("mass"), FrontKG: w.number("front_mass"),
		}
	}
	if g := screen.get("grid"); g != nil {
		c.Job.Grid = &gaze.Grid{Rows: int(g.number("rows")), Columns: int(g.number("columns")), GapMM: g.number("gap")}
	}
	for _, p := range f.list("postures") {
		c.Job.Postures = append(c.Job.Postures, posture(p, f.get("measured")))
	}
	c.mountings = mountings(f.get("mount"), scene)
	return c
}

// What the words of a case stand for.
var (
	eyesUsed = map[string]gaze.EyesUsed{"both": gaze.Both, "left": gaze.LeftOnly, "right": gaze.RightOnly, "either": gaze.Either}
	ways     = map[string]r3.Vec{"forward": {X: 1}, "left": {Y: 1}, "up": {Z: 1}}
)

// carrier: floor, table and bed stand still when the seat tilts, as the base does.
func carrier(word string) gaze.Carrier {
	if word == "seat" {
		return gaze.Seat
	}
	return gaze.Base
}

func head(h *node) gaze.Head {
	return gaze.Head{Flexion: h.angle("flexion"), Rotation: h.angle("rotation"), LateralFlexion: h.angle("lateral_flexion")}
}

func chair(f *node) gaze.Chair {
	return gaze.Chair{TiltPivotMM: f.vec(tiltPivot), BackHingeMM: f.vec(backHinge)}
}

func sitting(m *node) gaze.Sitting {
	return gaze.Sitting{SeatTilt: m.angle("seat_tilt"), BackAngle: m.angle("back_angle"), EyesMM: m.vec("eyes"), Head: head(m.get("head"))}
}

func person(p *node) gaze.Person {
	gazeRange := p.get("gaze_range")
	person := gaze.Person{
		Eyes:           eyesUsed[p.word("eyes_used")],
		PupilSpacingMM: p.number("pupil_spacing"),
		NeckToEyesMM:   p.vec("neck_to_eyes"),
		GazeRange:      gaze.GazeRange{Left: gazeRange.angle("left"), Right: gazeRange.angle("right"), Up: gazeRange.angle("up"), Down: gazeRange.angle("down")},
		MovementMM:     p.vec("movement"),
	}
	if g := p.get("glasses"); g.isGroup() {
		person.Glasses = &gaze.Glasses{LensSlant: g.angle("lens_slant")}
	}
	if g := p.get("rest_gaze"); g != nil {
		person.RestGaze = &gaze.GazeDirection{Down: g.angle("down"), Left: g.angle("left")}
	}
	return person
}

func tracker(t *node) gaze.Tracker {
	return gaze.Tracker{
		NearMM: t.number("near"), BestMM: t.number("best"), FarMM: t.number("far"),
		Across: t.angle("across"), UpDown: t.angle("up_down"),
		BelowMM: t.number("below"), InFrontMM: t.number("in_front"), AimedUp: t.angle("aimed_up"),
		GazeLimit: t.angle("gaze_limit"), Accuracy: t.angle("accuracy"), Precision: t.angle("precision"),
	}
}

func newScreen(s *node) gaze.Screen {
	screen := gaze.Screen{
		WidthMM: s.number("display.width"), HeightMM: s.number("display.height"),
		HousingMM:      s.xyz("housing", "width", "height", "depth"),
		HousingBelowMM: s.number("housing.below"),
		MassKG:         s.number("mass"),
	}
	screen.Used = screen.Display()
	if u := s.get("used"); u != nil {
		corner := screen.Display()
		screen.Used = gaze.Rect{
			LeftMM: corner.LeftMM + u.number("left"), RightMM: corner.LeftMM + u.number("right"),
			BottomMM: corner.BottomMM + u.number("bottom"), TopMM: corner.BottomMM + u.number("top"),
		}
	}
	return screen
}

// posture returns a posture, which is as measured where it does not say otherwise.
func posture(p, measured *node) gaze.Posture {
	posture := sitting(p.over(measured)).AsMeasured(p.word("name"))
	posture.MustWork, posture.SlumpMM = p.yes("must_work"), p.number("slump")
	posture.HeadPlumb = p.has("head")
	if p.has("head_on_trunk") {
		posture.Head = sitting(measured).OnTrunk(head(p.get("head_on_trunk")))
	}
	if p.has("eyes") {
		eyes := p.vec("eyes")
		posture.EyesMM = &eyes
	}
	return posture
}

func newPreferences(p *node) fit.Preferences {
	rates := p.get("rates")
	pref := fit.Preferences{
		Rates: gaze.Rates{
			GazePerDegree: rates.number("gaze"), FacingPerDegree: rates.number("facing"),
			RollPerDegree: rates.number("roll"), DistancePerMM: rates.number("distance"),
		},
		FaceMM: p.number("face_clearance"), MarginMM: p.number("margin"),
	}
	if p.word("roll_follows") == "level" {
		pref.Upright = gaze.WithLevel
	}
	low, high := &pref.Ranges.Low, &pref.Ranges.High
	low.DistanceMM, high.DistanceMM = p.span("ranges.distance")
	for key, ends := range map[string][2]*frame.Angle{
		"gaze_left":    {&low.Left, &high.Left},
		"gaze_down":    {&low.Down, &high.Down},
		"facing_up":    {&low.FacingUp, &high.FacingUp},
		"facing_right": {&low.FacingRight, &high.FacingRight},
		"roll":         {&low.Roll, &high.Roll},
	} {
		from, to := p.span("ranges." + key)
		*ends[0], *ends[1] = frame.Angle(from)*frame.Degree, frame.Angle(to)*frame.Degree
	}
	return pref
}

func keepClear(k *node, scene gaze.Scene) fit.KeepClear {
	by := carrier(k.word("carried_by"))
	keep := fit.KeepClear{Name: k.word("name"), By: by, RequiredMM: k.number("clearance")}
	// Bounds and signs have been checked, so that both are shapes.
	if k.has("box") {
		pose := frame.Pose{Rot: frame.About(r3.Vec{Z: 1}, k.angle("box.rotation")), At: k.vec("box.middle")}
		keep.Shape, _ = space.Box(pose, k.vec("box.size"))
	} else {
		keep.Shape, _ = space.Capsule(k.vec("capsule.from"), k.vec("capsule.to"), k.number("capsule.radius"))
	}
	keep.Shape = keep.Shape.Moved(fit.CarrierFromMeasured(measuredAt(scene, k), by))
	return keep
}

// mountings returns the places where the mount may be clamped, in carrier axes:
// one, or one on either side, or none if no clamp is given.
func mountings(m *node, scene gaze.Scene) []mount.Mounting {
	if !m.has("clamp") {
		return nil
	}
	clamp := m.get("clamp")
	given := mounting(clamp, fit.CarrierFromMeasured(measuredAt(scene, clamp), scene.Carrier))
	side := m.word("side")
	if side == "right" || side == "either" && given.ClampMM.Y < 0 {
		given.Side = mount.OnRight
	}
	if side == "either" {
		return []mount.Mounting{given, acrossMidline(given)}
	}
	return []mount.Mounting{given}
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

// mounting returns the mounting on the left of a clamp measured in chair axes.
func mounting(c *node, carrierFromChair frame.Pose) mount.Mounting {
	measured := axes(c)
	m := mount.Mounting{ClampMM: carrierFromChair.Apply(c.vec("at")), Axes: measured}
	if carrierFromChair.Rot != frame.NoTurn() {
		m.Axes = mount.AxesOf(carrierFromChair.Rot.Mul(measured.Matrix()))
	}
	if c.has("slides") {
		m.SlideLowMM, m.SlideHighMM = c.span("slides")
		m.SlideAlong = carrierFromChair.Rot.Apply(along(c.get("along")))
	}
	return m
}

func axes(n *node) mount.Axes {
	return mount.Axes{Rotation: n.angle("rotation"), Tilt: n.angle("tilt"), Roll: n.angle("roll")}
}

// along returns a direction in chair axes.
func along(a *node) r3.Vec {
	if a.isGroup() {
		return a.vec("")
	}
	return ways[a.Word]
}

// onto returns a kit with a screen on its plate, whose mass is then that of both. The
// plate is fixed right and up (mm) of the middle of the housing's back. The screen's mass
// is taken to be in the middle of its housing, the plate's on the housing's back.
func onto(kit mount.Kit, s gaze.Screen, fixed r3.Vec) mount.Kit {
	last := len(kit.Parts) - 1
	plate := kit.Parts[last].(mount.Plate) // the kit has been checked
	middle, half := s.Housing()
	touch := r3.Add(r3.Add(middle, fixed), r3.Vec{Z: -half.Z})
	plate.FixedAtMM = touch
	total := plate.MassKG + s.MassKG
	if total > 0 {
		plate.CenterMM = r3.Scale(1/total, r3.Add(r3.Scale(plate.MassKG, touch), r3.Scale(s.MassKG, middle)))
	}
	plate.MassKG, plate.PlateKG = total, plate.MassKG
	kit.Parts = slices.Clone(kit.Parts)
	kit.Parts[last] = plate
	return kit
}
