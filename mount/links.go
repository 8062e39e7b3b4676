package mount

import (
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze/frame"
)

// Span is a tube that a chain carries. Where the tube slides, what holds it
// stays and the near straight grows or shrinks.
type Span struct {
	Part    string
	Carrier int // index of the joint whose moved frame carries the tube
	Slide   int // index in Settings of the slide that moves the tube, or -1
	// FromTube leads from the tube's own axes (see [Centerline]) to the carrying
	// frame. Its origin is on the line of the near straight, level with the far end.
	FromTube frame.Pose
	Shape    Centerline
	Section  Section
	TotalMM  float64 // developed length, mm; 0 if not known
}

// Link is a tube where it is at given settings, in carrier axes.
type Link struct {
	Part     string
	LineMM   []r3.Vec // middle line from near end to far end, mm
	Held     int      // index in LineMM of the middle of what holds the tube
	RadiusMM float64  // outside radius, mm
	// Start and Curve are the same line exactly, from the point held to the far
	// end: Start.Mul(Curve.At(s)) is the frame s mm along it.
	Start frame.Pose
	Curve Centerline
}

// linkChordMM is how far the chords of Link.LineMM may leave an arc, mm: a tenth of
// what a tape measure shows.
const linkChordMM = 0.1

// Links returns the tubes of c at s from the carrier outward, arcs cut into
// chords that leave them by at most 0.1 mm. What sticks out behind the point held
// is part of the line if the tube's whole length is known. Errors are those of
// [Chain.Check] and [Chain.Forward].
func (c Chain) Links(s Settings) ([]Link, error) {
	if err := c.Check(); err != nil {
		return nil, err
	}
	frames, err := c.Frames(s)
	if err != nil {
		return nil, err
	}
	return c.LinksAt(s, frames), nil
}

// LinksAt is [Chain.Links] of a chain that was checked, at settings with the frames that
// [Chain.Frames] has for them.
func (c Chain) LinksAt(s Settings, frames []frame.Pose) []Link {
	links := make([]Link, 0, len(c.Spans))
	for i := range c.Spans {
		span := &c.Spans[i]
		run := span.Shape.End().At.Z
		if span.Slide >= 0 {
			run = s[span.Slide]
		}
		links = append(links, span.link(frames[span.Carrier], run))
	}
	return links
}

// link returns the span where its near straight, from the point held to the level
// of the far end, has the given run (mm).
func (t *Span) link(carrierFromMoved frame.Pose, runMM float64) Link {
	l := Link{
		Part:     t.Part,
		RadiusMM: t.Section.OutsideMM / 2,
		Start:    carrierFromMoved.Mul(t.FromTube).Mul(ahead(-runMM)),
		Curve:    t.Shape.withRun(runMM),
	}
	if behind := t.TotalMM - l.Curve.LengthMM(); behind > 0 {
		l.LineMM = append(l.LineMM, l.Start.Apply(r3.Vec{Z: -behind}))
		l.Held = 1
	}
	for _, p := range l.Curve.Points(linkChordMM) {
		l.LineMM = append(l.LineMM, l.Start.Apply(p))
	}
	return l
}

// withRun returns l with its near straight made so long that the far end comes to
// lie at the level z = runMM.
func (l Centerline) withRun(runMM float64) Centerline {
	if len(l.Bends) == 0 {
		l.EndMM = runMM
		return l
	}
	bends := make([]Bend, len(l.Bends))
	copy(bends, l.Bends)
	bends[0].StraightMM += runMM - l.End().At.Z
	l.Bends = bends
	return l
}
