package document

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// Posture is the result in one posture.
type Posture struct {
	// Name of the posture.
	Name string `json:"name"`
	// True when the case cannot do without this posture.
	MustWork bool `json:"must_work"`
	// How far the seat is tilted back.
	SeatTiltDeg float64 `json:"seat_tilt_deg"`
	// Angle between seat and back support.
	BackAngleDeg float64 `json:"back_angle_deg"`
	// How far trunk and head have slid down along the back support.
	SlumpMM float64 `json:"slump_mm"`
	// Pupil of the person's left eye, in chair axes.
	LeftEye Point `json:"left_eye"`
	// Pupil of the person's right eye, in chair axes.
	RightEye Point `json:"right_eye"`
	// Where the screen is, in chair axes.
	Screen ScreenPose `json:"screen"`
	// The same by tape and inclinometer.
	Attitude ScreenAttitude `json:"attitude"`
	// How the screen faces the head.
	Aim Aim `json:"aim"`
	// Where the axes of what carries the mount are, in chair axes.
	ChairFromCarrier Pose `json:"chair_from_carrier"`
	// How weight moves the screen from where the settings alone would have it; absent
	// without a mount.
	Sag *Sag `json:"sag,omitempty"`
	// Least margin of all conditions; right in sign only when negative.
	MarginMM float64 `json:"margin_mm"`
	// The limiting condition, in plain words.
	Limiting string `json:"limiting"`
	// Share of the used part of the screen within the tracker's gaze limit and
	// the gaze range, 0 to 1.
	ShareInRange float64 `json:"share_in_range"`
	// The margin of every condition at every eye that is needed.
	Margins []ConditionMargin `json:"margins"`
	// What can be selected on the screen.
	Targets *Targets `json:"targets,omitempty"`
	// What the device hides of the way ahead; absent unless the person drives.
	Ahead *Ahead `json:"ahead,omitempty"`
	// The lenses of the glasses of each eye that is needed; absent without.
	Lenses []Lens `json:"lenses,omitempty"`
}

// ConditionMargin is how far the head may move before a condition fails.
type ConditionMargin struct {
	// What the condition guards against.
	Condition string `json:"condition" jsonschema:"enum=too_near,enum=too_far,enum=past_left,enum=past_right,enum=past_top,enum=past_bottom,enum=gaze_limit,enum=reach_left,enum=reach_right,enum=reach_up,enum=reach_down"`
	// The eye concerned, by the person's own side.
	Eye string `json:"eye" jsonschema:"enum=left,enum=right"`
	// The corner of the used part of the screen concerned, as the viewer sees it;
	// absent for conditions that have none.
	Corner string `json:"corner,omitempty" jsonschema:"enum=top_left,enum=top_right,enum=bottom_left,enum=bottom_right"`
	// The margin beyond the usual movement.
	MarginMM float64 `json:"margin_mm"`
}

// ScreenAttitude is how a screen is placed and turned.
type ScreenAttitude struct {
	// Middle of the upper edge of the display area, above the floor.
	TopUpMM float64 `json:"top_up_mm"`
	// Middle of the lower edge of the display area, above the floor.
	BottomUpMM float64 `json:"bottom_up_mm"`
	// Tilt, the upper edge away from the viewer: what an inclinometer on the glass reads, held
	// square to the lower edge.
	TiltDeg float64 `json:"tilt_deg"`
	// Rotation of the lower edge toward the person's left, from facing straight back along
	// the chair: what a square held to it shows from above.
	RotationDeg float64 `json:"rotation_deg"`
	// Roll, the viewer's right end raised: what an inclinometer on the lower edge reads.
	RollDeg float64 `json:"roll_deg"`
}

// Aim is how a screen faces a head.
type Aim struct {
	// Line of sight to the middle, toward the left in the head.
	LeftDeg float64 `json:"left_deg"`
	// Line of sight to the middle, down in the head.
	DownDeg float64 `json:"down_deg"`
	// From the point midway between the eyes to the middle of the display area.
	DistanceMM float64 `json:"distance_mm"`
	// The face turned up off the line back to the eyes.
	FacingUpDeg float64 `json:"facing_up_deg"`
	// The face turned toward the viewer's right off the line back to the eyes.
	FacingRightDeg float64 `json:"facing_right_deg"`
	// Roll, counterclockwise as the viewer sees it.
	RollDeg float64 `json:"roll_deg"`
	// Angle between the screen's normal and the line back to the eyes.
	IncidenceDeg float64 `json:"incidence_deg"`
}

// Target is where the screen should be.
type Target struct {
	// Where the screen is in the posture that leads, in chair axes.
	Screen ScreenPose `json:"screen"`
	// The same by tape and inclinometer.
	Attitude ScreenAttitude `json:"attitude"`
	// How the screen faces the head in the posture that leads.
	Aim Aim `json:"aim"`
	// The screen in the axes of what carries the mount.
	CarrierFromScreen Pose `json:"carrier_from_screen"`
	// The margin less the cost of leaving the preferred aim.
	ScoreMM float64 `json:"score_mm"`
	// Least margin over the postures that must work.
	MarginMM float64 `json:"margin_mm"`
	// The limiting condition, in plain words.
	Limiting string `json:"limiting"`
	// How far a distance to be kept is not kept; zero when all are.
	BrokenMM float64 `json:"broken_mm"`

	forced  bool    // comfort has given way
	gazeDeg float64 // how far the line of sight is off the resting gaze
}

func newPosture(job *fit.Job, f *fit.PostureResult) Posture {
	eyes := f.Eyes()
	p := Posture{
		Name: f.Posture.Name, MustWork: f.Posture.MustWork,
		SeatTiltDeg: degreesOf(f.Posture.SeatTilt), BackAngleDeg: degreesOf(f.Posture.BackAngle), SlumpMM: plain(f.Posture.SlumpMM),
		LeftEye: newPoint(eyes[gaze.LeftEye]), RightEye: newPoint(eyes[gaze.RightEye]),
		Screen: newScreenPose(f.Screen), Attitude: newAttitude(job.Device.Screen, f.Screen), Aim: newAim(f.Aim),
		ChairFromCarrier: newPose(carrierOf(job, f)),
		MarginMM:         plain(f.MarginMM), Limiting: f.Limiting().String(), ShareInRange: f.Share,
		Margins: each(f.Margins, newConditionMargin), Targets: newTargets(f.Targets, job.Grid),
		Ahead: newAhead(job, f), Lenses: each(f.Lenses, newLens),
	}
	if job.Mount != nil {
		p.Sag = newSag(f)
	}
	return p
}

// newTarget returns the target of r in the posture that leads.
func newTarget(r *fit.Result) *Target {
	job := r.Job
	t := &r.Target
	screen := carrierOf(job, &r.Postures[leading(job)]).Mul(t.Pose)
	return &Target{
		Screen: newScreenPose(screen), Attitude: newAttitude(job.Device.Screen, screen), Aim: newAim(t.Aim),
		CarrierFromScreen: newPose(t.Pose), ScoreMM: plain(t.Score), MarginMM: plain(t.MarginMM),
		Limiting: t.Limiting.String(), BrokenMM: plain(t.BrokenMM),
		forced: t.Forced, gazeDeg: r.Postures[leading(job)].OffRest().Degrees(),
	}
}

// AttitudeOf returns the attitude of the screen of r in the posture in which its mount is set.
func AttitudeOf(r *fit.Result) ScreenAttitude {
	return newAttitude(r.Job.Device.Screen, r.Postures[leading(r.Job)].Screen)
}

// newAttitude returns the attitude of a screen at pose chairFromScreen.
func newAttitude(s gaze.Screen, chairFromScreen frame.Pose) ScreenAttitude {
	a := mount.AttitudeOf(chairFromScreen.Rot)
	return ScreenAttitude{
		TopUpMM:    plain(chairFromScreen.Apply(r3.Vec{Y: s.HeightMM / 2}).Z),
		BottomUpMM: plain(chairFromScreen.Apply(r3.Vec{Y: -s.HeightMM / 2}).Z),
		TiltDeg:    degreesOf(a.Tilt), RotationDeg: degreesOf(a.Rotation), RollDeg: degreesOf(a.Roll),
	}
}

// newAim returns a in degrees. The face Ry(right) Rx(-up) z has the component
// cos up · cos right along the line back to the eyes.
func newAim(a gaze.Aim) Aim {
	su, cu := math.Sincos(a.FacingUp.Radians())
	sr, cr := math.Sincos(a.FacingRight.Radians())
	return Aim{
		LeftDeg: degreesOf(a.Left), DownDeg: degreesOf(a.Down), DistanceMM: a.DistanceMM,
		FacingUpDeg: degreesOf(a.FacingUp), FacingRightDeg: degreesOf(a.FacingRight), RollDeg: degreesOf(a.Roll),
		IncidenceDeg: frame.Angle(math.Atan2(math.Hypot(su, cu*sr), cu*cr)).Degrees(),
	}
}

func newConditionMargin(r gaze.ConditionMargin) ConditionMargin {
	room := ConditionMargin{Condition: kindKey(r.Condition.Kind), Eye: sideOf(r.Condition.Eye), MarginMM: plain(r.MM)}
	if r.Condition.Corner != gaze.NoCorner {
		room.Corner = cornerKey(r.Condition.Corner)
	}
	return room
}

// kindKey returns the word for k in the object.
func kindKey(k gaze.ConditionKind) string {
	return [...]string{
		"too_near", "too_far", "past_left", "past_right", "past_top", "past_bottom",
		"gaze_limit", "reach_left", "reach_right", "reach_up", "reach_down",
	}[k]
}

// Point is a place in chair axes.
type Point struct {
	// Forward of the origin, the way the seated person faces.
	ForwardMM float64 `json:"forward_mm"`
	// To the person's left of the chair's midline.
	LeftMM float64 `json:"left_mm"`
	// Above the floor.
	UpMM float64 `json:"up_mm"`
}

// Direction is a unit vector in chair axes.
type Direction struct {
	// Share of the direction that points forward.
	Forward float64 `json:"forward"`
	// Share that points to the person's left.
	Left float64 `json:"left"`
	// Share that points up.
	Up float64 `json:"up"`
}

// Pose is a rigid transform: the axes and the origin of one frame, written in
// another.
type Pose struct {
	// The origin: x, y, z in mm.
	At [3]float64 `json:"at_mm"`
	// The frame's x axis: first column of the rotation matrix.
	X [3]float64 `json:"x"`
	// The frame's y axis: second column.
	Y [3]float64 `json:"y"`
	// The frame's z axis: third column.
	Z [3]float64 `json:"z"`
}

// ScreenPose is where a screen is, in chair axes.
type ScreenPose struct {
	// Middle of the display area.
	Middle Point `json:"middle"`
	// The way to the right, as the viewer sees the screen.
	Right Direction `json:"right"`
	// The way to its upper edge.
	Up Direction `json:"up"`
	// The way the screen faces, toward the viewer.
	Normal Direction `json:"normal"`
}

func newPoint(v r3.Vec) Point {
	return Point{ForwardMM: plain(v.X), LeftMM: plain(v.Y), UpMM: plain(v.Z)}
}

func newDirection(v r3.Vec) Direction {
	return Direction{Forward: plain(v.X), Left: plain(v.Y), Up: plain(v.Z)}
}

func newPose(p frame.Pose) Pose {
	return Pose{At: triple(p.At), X: triple(p.Rot.X), Y: triple(p.Rot.Y), Z: triple(p.Rot.Z)}
}

func newScreenPose(p frame.Pose) ScreenPose {
	return ScreenPose{
		Middle: newPoint(p.At), Right: newDirection(p.Rot.X), Up: newDirection(p.Rot.Y), Normal: newDirection(p.Rot.Z),
	}
}

func triple(v r3.Vec) [3]float64 { return [3]float64{plain(v.X), plain(v.Y), plain(v.Z)} }

// Sag is how weight moves the screen from where the settings alone would have it.
type Sag struct {
	// How far the middle of the display area sinks.
	DropMM float64 `json:"drop_mm"`
	// How far it moves forward.
	ForwardMM float64 `json:"forward_mm"`
	// How far it moves to the person's left.
	LeftMM float64 `json:"left_mm"`
	// Pitch, the upper edge toward the viewer.
	PitchDeg float64 `json:"pitch_deg"`
	// Roll, counterclockwise as the viewer sees it.
	RollDeg float64 `json:"roll_deg"`
	// Yaw toward the viewer's right.
	YawDeg float64 `json:"yaw_deg"`
	// All of it as a rigid motion in chair axes: applied to the pose that
	// chair_from_carrier and the mount's chain give, which is that without load, it
	// gives the screen of the posture.
	Motion Pose `json:"motion"`
}

// newSag returns how f's screen sags.
func newSag(f *fit.PostureResult) *Sag {
	shift := f.Sag.ShiftMM
	pitch, yaw, roll := f.Sag.Seen(f.Screen)
	return &Sag{
		DropMM: plain(-shift.Z), ForwardMM: plain(shift.X), LeftMM: plain(shift.Y),
		PitchDeg: plain(pitch.Degrees()), RollDeg: plain(roll.Degrees()), YawDeg: plain(yaw.Degrees()),
		Motion: newPose(f.Sag.Pose(r3.Sub(f.Screen.At, shift))),
	}
}
