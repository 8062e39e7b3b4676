package fit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/mount/space"
)

// TubePiece is a straight piece of a mount's tube where it is.
type TubePiece struct {
	Part    string
	Carrier int // place of the joint that carries the tube
	Shape   space.Shape
}

// ends returns both ends of the middle line of the piece.
func (t *TubePiece) ends() [2]r3.Vec {
	along := r3.Scale(t.Shape.HalfMM.X, t.Shape.Pose.Rot.X)
	return [2]r3.Vec{r3.Add(t.Shape.Pose.At, along), r3.Sub(t.Shape.Pose.At, along)}
}

// tubeGeometry is the tubes of a chain as capsules, made ready for inner loops. It holds
// buffers: one serves one goroutine. Nothing it does allocates after the first time.
//
// A tube that slides moves with the joint beyond what holds it, so all of it is fixed in
// that joint's frame except the end of its near straight, which is where it is held or, if
// the tube sticks out behind, further back.
type tubeGeometry struct {
	chain    mount.Chain
	behindMM float64 // where a tube at the plate's joint begins behind the front of the device; not measured if negative
	tubes    []tubeLine
	frames   []frame.Pose
	shapes   []TubePiece
}

// tubeLine is one tube.
type tubeLine struct {
	part    string
	carrier int
	slide   int // place in the settings, -1 if the tube does not slide
	// from and along give the line of the near straight in the carrying frame, from
	// being level with the tube's far end. The straight runs from leastMM or the
	// setting of the slide, whichever is more, behind that level to nearMM behind it.
	from, along     r3.Vec
	leastMM, nearMM float64
	sticksOut       bool // behind what holds it, at some setting
	radiusMM        float64
	rest            []space.Shape // beyond the near straight, in the carrying frame
}

// newTubeGeometry prepares the tubes of a chain.
func newTubeGeometry(chain mount.Chain) (*tubeGeometry, error) {
	p := &tubeGeometry{chain: chain}
	joint, wide := chain.Tip.Inverse(), 0.0 // the plate joint, in screen axes
	for i := len(chain.Joints) - 1; i >= 0 && chain.Joints[i].Motion == mount.Fixed; i-- {
		joint = joint.Mul(chain.Joints[i].Origin.Inverse())
	}
	for i := range chain.Spans {
		wide = max(wide, chain.Spans[i].Section.OutsideMM/2)
	}
	p.behindMM = math.Abs(joint.At.Z) - wide
	at := chain.Preferred()
	frames, err := chain.Frames(at)
	if err != nil {
		return nil, err
	}
	for i, l := range chain.LinksAt(at, frames) {
		t, err := newTubeLine(chain, i, l, frames[chain.Spans[i].Carrier])
		if err != nil {
			return nil, fmt.Errorf("fit: tube of %s: %w", l.Part, err)
		}
		p.tubes = append(p.tubes, t)
	}
	return p, nil
}

// newTubeLine prepares a tube where it is at the preferred settings.
func newTubeLine(chain mount.Chain, i int, l mount.Link, carrier frame.Pose) (tubeLine, error) {
	span := chain.Spans[i]
	t := tubeLine{part: l.Part, carrier: span.Carrier, slide: span.Slide, radiusMM: l.RadiusMM}
	t.from, t.along = span.FromTube.At, span.FromTube.Rot.Z
	run := span.Shape.End().At.Z
	low := run
	if span.Slide >= 0 {
		slide := &chain.Joints[chain.MovingPlaces()[span.Slide]]
		run, low = slide.Preferred, slide.Low
	}
	t.leastMM = span.TotalMM - (l.Curve.LengthMM() - run) // what is beyond does not change with the slide
	t.sticksOut = t.leastMM > low
	if span.Slide < 0 {
		t.leastMM = max(t.leastMM, run)
	}
	straight := l.Curve.EndMM
	if len(l.Curve.Bends) > 0 {
		straight = l.Curve.Bends[0].StraightMM
	}
	t.nearMM = run - straight
	line := l.LineMM[l.Held:]
	if straight > 0 {
		line = line[1:]
	}
	for i := 1; i < len(line); i++ {
		shape, err := space.Capsule(carrier.ApplyInverse(line[i-1]), carrier.ApplyInverse(line[i]), l.RadiusMM)
		if err != nil {
			return t, err
		}
		t.rest = append(t.rest, shape)
	}
	return t, nil
}

// near returns the near straight in the carrying frame.
func (t *tubeLine) near(s mount.Settings) space.Shape {
	free := t.leastMM
	if t.slide >= 0 {
		free = max(free, s[t.slide])
	}
	half := max((free-t.nearMM)/2, 0)
	return space.Shape{
		Pose:    frame.Pose{Rot: alongX(t.along), At: r3.Sub(t.from, r3.Scale(free-half, t.along))},
		HalfMM:  r3.Vec{X: half},
		RoundMM: t.radiusMM,
	}
}

// alongX returns a rotation whose x axis is the unit vector v.
func alongX(v r3.Vec) frame.Rotation {
	other := r3.Vec{X: 1}
	if math.Abs(v.X) > 0.7 {
		other = r3.Vec{Y: 1}
	}
	return frame.FromAxes(v, other)
}

// at returns the tubes at settings s, in carrier axes and without sag. The slice is
// reused by the next call; p.frames are then those of the joints.
func (p *tubeGeometry) at(s mount.Settings) []TubePiece {
	p.place(s)
	p.shapes = p.shapes[:0]
	for i := range p.tubes {
		t := &p.tubes[i]
		moved := p.frames[t.carrier]
		p.shapes = append(p.shapes, TubePiece{t.part, t.carrier, t.near(s).Moved(moved)})
		for _, shape := range t.rest {
			p.shapes = append(p.shapes, TubePiece{t.part, t.carrier, shape.Moved(moved)})
		}
	}
	return p.shapes
}

// place fills p.frames: for every joint carrierFromMoved at settings s, then
// carrierFromScreen.
func (p *tubeGeometry) place(s mount.Settings) { p.frames = p.chain.AppendFrames(p.frames[:0], s) }

// screen returns carrierFromScreen where the tubes were last placed.
func (p *tubeGeometry) screen() frame.Pose { return p.frames[len(p.frames)-1] }

// tail is the free end of a tube behind what holds it, in the frame of the joint
// that carries the tube and in which it is fixed.
type tail struct {
	carrier int
	at      r3.Vec
}

// tails returns the free ends of the tubes that stick out behind what holds them
// at some setting.
func (p *tubeGeometry) tails() []tail {
	var out []tail
	for _, t := range p.tubes {
		if t.sticksOut {
			out = append(out, tail{carrier: t.carrier, at: r3.Sub(t.from, r3.Scale(t.leastMM, t.along))})
		}
	}
	return out
}
