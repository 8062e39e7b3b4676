package fit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
)

// SwingClear is how the mount swings clear about one joint, all others as set: free in
// every posture that must work, parked for the leading one, from which the person leaves
// the chair.
type SwingClear struct {
	// Joint is the place of the swinging joint in the settings, Name its name.
	Joint int
	Name  string
	// InUse is its setting in use (radians or mm).
	InUse float64
	// Low and High are the ends of the free range each way: nothing is touched
	// between them in any posture that must work.
	Low, High SwingEnd
	// Turn says which ways the mount may be turned from where it is in use, FaceMM how
	// near to the eyes it comes on the way to Parked, in any posture that must work.
	Turn   SwingTurn
	FaceMM float64
	// Parked is the readable setting within the free range at which it is best parked.
	Parked float64
	// TransferHalfWidthMM is how far from the midline the transfer clearance reaches with
	// the mount at Parked, up to TransferHalfWidthRequiredMM, which is [TransferHalfWidthMM]. Both
	// are zero in a bed.
	TransferHalfWidthMM, TransferHalfWidthRequiredMM float64
	// Way is the least clearance on the way from in use to Parked: of the housing and the
	// tubes that swing to the keep-clear zones, and of the housing to the fixed tubes. Its
	// Zone is "" when there is nothing to come near to.
	Way SwingClearance
	// Used and ParkedExtent are the floor space that chair and mount take up in use and
	// parked.
	Used, ParkedExtent Extent
	// Problems are what does not fit, or that nothing is gained; empty when all is well.
	Problems []SwingProblem
}

// SwingEnd is one end of a free range.
type SwingEnd struct {
	At float64 // last setting without contact
	// Limit says that it is the limit of the joint; otherwise Part, "housing" or a part of
	// the mount that swings, touches Zone: a keep-clear zone, a fixed part of the mount,
	// or "floor".
	Limit      bool
	Part, Zone string
	Posture    int // in which it touches
}

// SwingTurn says which ways a mount may be turned from where it is in use. A way passes
// clear of the face if what swings stays as far from the eyes as the job asks for, or as
// it is in use where that is less or nothing is asked for.
type SwingTurn int

// The kinds of [SwingTurn].
const (
	TurnEither  SwingTurn = iota // both ways are free and pass clear of the face
	TurnOutward                  // only the way to the parked position, which leads away from the face
	TurnOneWay                   // only that way, though it leads nearer to the face
	TurnPast                     // even that way does not pass clear of the face
	TurnNone                     // it is parked where it is in use
)

// SwingClearance is the least clearance on the way.
type SwingClearance struct {
	space.Clearance         // in carrier axes
	At              float64 // setting at which it is least
	// Part is "housing" or a part of the mount that swings, Zone a keep-clear zone or a
	// fixed part of the mount.
	Part, Zone string
	Posture    int
}

// swing is a mount swinging clear.
type swing struct {
	*problem
	joint mount.Joint
	inUse float64    // its setting
	path  space.Path // in carrier axes, from in use
	// parts are those of every posture that must work, in the order of problem.must.
	parts []swingParts
}

// swingClear returns how the mount of a result swings clear about the joint that the job
// names, or about the one that suits best; nil when there is none, see swinger.
// The error wraps [ErrJob].
//
// Everything beyond the joint swings: the housing, and the tubes that the joint carries.
// In its way may be the keep-clear zones, the fixed tubes and the floor. All are in carrier
// axes, with the sag of the mount in use, which is taken to stay the same on the way.
func swingClear(b *problem, r *Result) (*SwingClear, error) {
	frames, err := r.Set.Chain.Frames(r.Set.Settings)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrJob, err)
	}
	place, err := swinger(b, r.Set, frames)
	if err != nil || place < 0 {
		return nil, err
	}
	return swingAbout(b, r, frames, place), nil
}

// swingAbout is swingClear about a joint by its place in the settings.
func swingAbout(b *problem, r *Result, frames []frame.Pose, place int) *SwingClear {
	k := r.Set.Chain.MovingPlaces()[place]
	joint, moved := r.Set.Chain.Joints[k], frames[k]
	s := &swing{
		problem: b, joint: joint, inUse: r.Set.Settings[place],
		path: swingPath(&joint, moved),
	}
	for _, i := range b.must {
		s.parts = append(s.parts, s.sortParts(k, i, r.Postures[i].Held, r.Postures[i].Mount.Tubes))
	}
	a := &SwingClear{Joint: place, Name: joint.Name, InUse: s.inUse}
	s.free(a)
	a.Parked, a.TransferHalfWidthMM = s.park(a)
	if !b.job.Passage.Bed {
		a.TransferHalfWidthRequiredMM = TransferHalfWidthMM
	}
	s.way(a)
	s.turn(a)
	a.Used, a.ParkedExtent = s.extent(s.inUse), s.extent(a.Parked)
	a.Problems = s.problems(a)
	return a
}

// swingPath returns the path on which a joint with its moved frame takes what is beyond it.
func swingPath(j *mount.Joint, moved frame.Pose) space.Path {
	return space.Path{Through: moved.At, Along: r3.Unit(moved.Rot.Apply(j.Axis)), Slides: j.Motion == mount.Slide}
}

// swinger returns the place in the settings of the joint to swing about, or -1 when
// there is none.
//
// If the job names no joint it is the first from the clamp outward that turns, that
// is not set in stops, whose axis is within 20 degrees of the vertical in the leading posture,
// and that can carry the middle of the screen by at least [TransferHalfWidthMM]. A joint that
// is named may be any that moves.
func swinger(b *problem, set *Set, frames []frame.Pose) (int, error) {
	const steep = 20 * frame.Degree
	moving := set.Chain.Moving()
	if about := b.job.Passage.About; about != "" {
		place := slices.IndexFunc(moving, func(j mount.Joint) bool { return j.Name == about })
		if place < 0 {
			var names []string
			for _, j := range moving {
				names = append(names, j.Name)
			}
			return 0, fmt.Errorf("%w: swinging clear: there is no joint %q; this mount has %s", ErrJob, about, strings.Join(names, ", "))
		}
		return place, nil
	}
	up := b.lead().Carrier.Rot.ApplyInverse(r3.Vec{Z: 1})
	screen := frames[len(frames)-1].At
	for place, k := range set.Chain.MovingPlaces() {
		j := set.Chain.Joints[k]
		axis := r3.Unit(frames[k].Rot.Apply(j.Axis))
		if j.Motion != mount.Turn || j.Indexed || math.Abs(r3.Dot(axis, up)) < math.Cos(steep.Radians()) {
			continue
		}
		lever := r3.Norm(r3.Cross(r3.Sub(screen, frames[k].At), axis))
		turn := min(max(j.High-set.Settings[place], set.Settings[place]-j.Low), math.Pi)
		if 2*lever*math.Sin(turn/2) >= TransferHalfWidthMM {
			return place, nil
		}
	}
	return -1, nil
}

// sameSwing is by how much (mm or radians) a posture must differ from those before it to be
// named in their place: more than rounding.
const sameSwing = 1e-9

// free fills in how far the joint is free each way in all postures.
func (s *swing) free(a *SwingClear) {
	a.Low, a.High = SwingEnd{At: s.joint.Low, Limit: true}, SwingEnd{At: s.joint.High, Limit: true}
	for i := range s.parts {
		p := &s.parts[i]
		for _, end := range [2]*SwingEnd{&a.Low, &a.High} {
			stop := p.all.Free(end.At - s.inUse)
			if at := s.inUse + stop.By; stop.Fixed >= 0 && (end.Limit || math.Abs(at-end.At) > sameSwing) {
				*end = SwingEnd{At: at, Part: p.movers[stop.Moving], Zone: p.obstacles[stop.Fixed], Posture: p.posture}
			}
		}
	}
}

// way fills in the least clearance on the way to the parked position in all postures.
func (s *swing) way(a *SwingClear) {
	a.Way = SwingClearance{At: s.inUse, Posture: s.must[0]}
	for i := range s.parts {
		p := &s.parts[i]
		least := p.near.Least(0, a.Parked-s.inUse)
		if least.Fixed >= 0 && (a.Way.Zone == "" || least.MM < a.Way.MM-sameSwing) {
			a.Way = SwingClearance{
				Clearance: least.Clearance, At: s.inUse + least.By, Posture: p.posture,
				Part: p.movers[least.Moving], Zone: p.obstacles[least.Fixed],
			}
		}
	}
}

// turn fills in which ways the mount may be turned, judged each way as far as it is to the
// parked position or free, and how near to the eyes it comes on the way to that.
func (s *swing) turn(a *SwingClear) {
	way := a.Parked - s.inUse
	other := min(max(-way, a.Low.At-s.inUse), a.High.At-s.inUse)
	var nearest [4]float64 // to the eyes: in use, on the way to parked, parked, the other way
	for k, ends := range [4][2]float64{{0, 0}, {0, way}, {way, way}, {0, other}} {
		nearest[k] = math.Inf(1)
		for i := range s.parts {
			nearest[k] = min(nearest[k], s.parts[i].eyes.Least(ends[0], ends[1]).MM)
		}
	}
	required := nearest[0]
	if mm := s.job.Preferences.FaceMM; mm > 0 {
		required = min(required, mm)
	}
	passes := func(mm float64) bool { return mm >= required-space.LeastMM }
	switch a.FaceMM = nearest[1]; {
	case way == 0:
		a.Turn = TurnNone
	case !passes(nearest[1]):
		a.Turn = TurnPast
	case math.Abs(other) >= s.joint.Step && passes(nearest[3]):
		a.Turn = TurnEither
	case nearest[2] > nearest[0]:
		a.Turn = TurnOutward
	default:
		a.Turn = TurnOneWay
	}
}

// swingParts is what swings in a posture and what may be in its way, in carrier axes.
type swingParts struct {
	posture int
	// moving holds the housing first, then the tubes beyond the joint; movers are
	// their names. A tube whose slide is the joint is taken to move as a whole.
	moving []space.Shape
	movers []string
	// fixed holds the keep-clear zones first, then the fixed tubes, then the floor;
	// obstacles are their names.
	fixed     []space.Shape
	obstacles []string
	keeps     []placed // the keep-clear zones

	// all is the way past everything but what touches by construction; near the way past
	// zones and, for the housing, fixed tubes; eyes the way past the eyes. Of the tubes among
	// each other and of the floor only contact counts.
	all, near, eyes *space.Sweep
}

// jointMM is about the size of what holds two tubes together, an assumption. Fixed tubes
// do not count within this distance of the swinging joint, where the others are fastened
// to them.
const jointMM = 60

// floorMM is how far the floor reaches each way, and how thick it is taken to be.
const floorMM = 10_000

// sortParts divides the mount in a posture into what swings about joint k of the chain and
// what is fixed.
func (s *swing) sortParts(k, posture int, screen frame.Pose, tubes []TubePiece) swingParts {
	p := swingParts{posture: posture, moving: []space.Shape{s.housing.Moved(screen)}, movers: []string{"housing"}}
	st := &s.postures[posture]
	for _, keep := range s.keeps {
		if keep.posture == posture {
			p.keeps = append(p.keeps, keep)
			p.fixed, p.obstacles = append(p.fixed, keep.shape), append(p.obstacles, keep.keep.Name)
		}
	}
	for _, t := range tubes {
		if t.Carrier >= k {
			p.moving, p.movers = append(p.moving, t.Shape), append(p.movers, t.Part)
			continue
		}
		for _, piece := range beyond(t.Shape, s.path.Through, r3.Vec{}, jointMM) {
			p.fixed, p.obstacles = append(p.fixed, piece), append(p.obstacles, t.Part)
		}
	}
	keeps, floor := len(p.keeps), len(p.fixed)
	p.fixed, p.obstacles = append(p.fixed, space.Shape{
		Pose:   st.Carrier.Inverse().Mul(frame.Translate(r3.Vec{Z: -floorMM})),
		HalfMM: r3.Vec{X: floorMM, Y: floorMM, Z: floorMM},
	}), append(p.obstacles, "floor")
	// by construction tubes touch fixed ones, and the floor under a stand
	touching := make([]bool, len(p.moving)*len(p.fixed))
	for m := 1; m < len(p.moving); m++ {
		for f := keeps; f < len(p.fixed); f++ {
			touching[m*len(p.fixed)+f] = space.Between(p.moving[m], p.fixed[f]).MM <= space.FineMM
		}
	}
	p.all = space.NewSweep(s.path, p.moving, p.fixed, func(m, f int) bool { return touching[m*len(p.fixed)+f] })
	p.near = space.NewSweep(s.path, p.moving, p.fixed[:floor], func(m, f int) bool { return m > 0 && f >= keeps })
	p.eyes = space.NewSweep(s.path, p.moving, []space.Shape{{Pose: frame.Translate(st.Eyes[0])}, {Pose: frame.Translate(st.Eyes[1])}}, nil)
	return p
}

// lead returns the leading posture.
func (b *problem) lead() *gaze.PostureInCarrier { return &b.postures[b.must[0]] }

// beyond returns what is left of a piece of tube when all of its middle line is
// cut out that is within a radius of the line through a point along a unit
// direction, or of the point if the direction is zero: none, one or two pieces.
//
// With q(t) the square of the distance at t from one end to the other, which is a
// quadratic a t² + 2 b t + c, the part within is where q(t) < r².
func beyond(tube space.Shape, through, along r3.Vec, radiusMM float64) []space.Shape {
	half := r3.Scale(tube.HalfMM.X, tube.Pose.Rot.X)
	across := func(v r3.Vec) r3.Vec { return r3.Sub(v, r3.Scale(r3.Dot(v, along), along)) }
	from, way := across(r3.Sub(r3.Sub(tube.Pose.At, half), through)), across(r3.Scale(2, half))
	a, b, c := r3.Dot(way, way), r3.Dot(from, way), r3.Dot(from, from)-radiusMM*radiusMM
	in, out := 0.0, 1.0
	switch root := b*b - a*c; {
	case a > 0 && root > 0:
		in, out = (-b-math.Sqrt(root))/a, (-b+math.Sqrt(root))/a
	case a > 0 || c >= 0:
		return []space.Shape{tube}
	}
	if in >= 1 || out <= 0 {
		return []space.Shape{tube}
	}
	var left []space.Shape
	if in > 0 {
		left = append(left, part(tube, 0, in))
	}
	if out < 1 {
		left = append(left, part(tube, out, 1))
	}
	return left
}

// part returns the part of a piece of tube between two shares of its length.
func part(tube space.Shape, from, to float64) space.Shape {
	tube.Pose.At = r3.Add(tube.Pose.At, r3.Scale((from+to-1)*tube.HalfMM.X, tube.Pose.Rot.X))
	tube.HalfMM.X *= to - from
	return tube
}
