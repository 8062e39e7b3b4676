package sheet_test

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/sheet"
	"sightpost/gaze/frame"
	"sightpost/mount"
	"sightpost/plots/units"
)

// TestRebuiltByHand puts every shipped kit together as somebody would who has its parts in
// hand, and of the case nothing but the printed sheet: from the clamp outward, part by part,
// with the settings as printed, and then lets it sag by what the sheet says. The screen has
// to come out where the sheet says that it goes. Settings of cases that do not work are taken
// from the sheet of a check, since no other has any to set.
func TestRebuiltByHand(t *testing.T) {
	for _, name := range caseNames(t) {
		c, s := readCase(t, name), shippedCase(t, name)
		if !s.Document.Usable {
			s = sourceOf(t, document.Check, c, s.Result)
		}
		for _, u := range []units.Units{units.MM, units.Inch} {
			t.Run(name+" in "+u.String(), func(t *testing.T) {
				s.Units = u
				p := paper{T: t, Content: sheet.New(s.Source)}
				got, want := p.rebuilt(c), p.screen()
				if off := r3.Norm(r3.Sub(got.At, want.At)); !(off <= 3) {
					t.Errorf("the screen comes out at %.1f, %.1f mm from the printed %.1f", got.At, off, want.At)
				}
				if off := got.Rot.Inverse().Mul(want.Rot).Angle().Degrees(); !(off <= 1) {
					t.Errorf("the screen comes out %.2f° off the printed attitude", off)
				}
			})
		}
	}
}

// paper is a sheet that is read.
type paper struct {
	*testing.T
	*sheet.Content
	right bool // the mount is on the person's right: built as on the left, and mirrored
}

// line returns the first line or row of a section that has some words.
func (p paper) line(title, words string) string {
	p.Helper()
	for _, s := range p.Sections() {
		if s.Title != title {
			continue
		}
		lines := slices.Clone(s.Lines)
		for _, r := range s.Rows {
			lines = append(lines, r.What+": "+r.Value)
		}
		for _, l := range lines {
			if l = strings.ReplaceAll(l, string(document.NoBreak), " "); strings.Contains(l, words) {
				return l
			}
		}
	}
	p.Fatalf("%s does not say %q", title, words)
	return ""
}

// quantity matches a printed number with its fraction and unit.
var quantity = regexp.MustCompile(`(−?)(\d+(?:\.\d+)?(?: \d+/\d+)?|\d+/\d+) ?(mm|in\b|°)`)

// read returns the first quantity in words, in mm or degrees, and what follows it.
func (p paper) read(words string) (v float64, rest string) {
	p.Helper()
	m := quantity.FindStringSubmatch(words)
	if m == nil {
		p.Fatalf("no number in %q", words)
	}
	for _, number := range strings.Fields(m[2]) {
		over, under, fraction := strings.Cut(number, "/")
		n, _ := strconv.ParseFloat(over, 64)
		if fraction {
			d, _ := strconv.ParseFloat(under, 64)
			n /= d
		}
		v += n
	}
	if m[3] == "in" {
		v *= 25.4
	}
	if m[1] != "" {
		v = -v
	}
	return v, words[strings.Index(words, m[0])+len(m[0]):]
}

// toward returns the number before one of two words, positive before the first; 0 if there
// is neither.
func (p paper) toward(words, plus, minus string) float64 {
	p.Helper()
	for rest := words; quantity.MatchString(rest); {
		var v float64
		v, rest = p.read(rest)
		next := strings.TrimPrefix(strings.TrimSpace(rest), "to the person's ")
		switch {
		case strings.HasPrefix(next, plus):
			return v
		case strings.HasPrefix(next, minus):
			return -v
		}
	}
	return 0
}

// place returns a place that is told by height and from above.
func (p paper) place(words string) r3.Vec {
	p.Helper()
	return r3.Vec{X: p.toward(words, "forward", "back"), Y: p.toward(words, "left", "right"), Z: p.toward(words, "above the floor", "below the floor")}
}

// attitude returns the screen's axes at a tilt back, a rotation to the left and a roll with
// the right end up, in degrees: the tilt square to the lower edge, the lower edge from above,
// and its elevation.
func attitude(tilt, rotation, roll float64) frame.Rotation {
	deg := math.Pi / 180
	st, ct := math.Sincos(tilt * deg)
	sr, cr := math.Sincos(rotation * deg)
	so, co := math.Sincos(roll * deg)
	right := r3.Vec{X: -co * sr, Y: -co * cr, Z: so}
	level := r3.Vec{X: -cr, Y: sr} // square to the lower edge
	normal := r3.Add(r3.Scale(ct, level), r3.Scale(st, r3.Cross(level, right)))
	return frame.Rotation{X: right, Y: r3.Cross(normal, right), Z: normal}
}

// screen returns the printed screen.
func (p paper) screen() frame.Pose {
	title := "WHERE THE SCREEN GOES"
	if p.Table().Title == "SETTINGS AS FOUND" {
		title = "WHERE THE SCREEN IS"
	}
	return frame.Pose{
		At: p.place(p.line(title, "middle of the display")),
		Rot: attitude(p.toward(p.line(title, "tilt"), "back", "forward"), p.toward(p.line(title, "rotation"), "toward the person's left", "toward the person's right"),
			p.toward(p.line(title, "roll"), "right end up", "right end down")),
	}
}

// set returns the printed value of a setting, by the words of its name; 0 if it has none. The
// way that counts as plus is that of the kit, drawn for the left.
func (p paper) set(name string) float64 {
	p.Helper()
	for _, s := range p.Table().Settings {
		if s[1] != name {
			continue
		}
		value := strings.ReplaceAll(s[2], string(document.NoBreak), " ")
		if strings.HasPrefix(value, "stop") { // its place is in the words for reading
			_, value, _ = strings.Cut(s[5], ", at ")
		}
		v, way := p.read(value)
		switch way = strings.TrimSpace(way); {
		case way == "right", way == "back" && !strings.HasSuffix(name, "tilt"), way == "down", way == "right down":
			v = -v
		case way == "forward" && strings.HasSuffix(name, "tilt"):
			v = -v
		}
		if p.right && slices.Contains([]string{"left", "right", "right up", "right down"}, way) {
			v = -v
		}
		return v
	}
	return 0
}

// rebuilt returns the screen of the kit of c, put together from the sheet.
func (p paper) rebuilt(c *casefile.Case) frame.Pose {
	p.Helper()
	kit := c.Job.Mount.Kit
	where := p.line("CLAMP", "On the person's")
	p.right = strings.Contains(where, "On the person's right")
	clamp := where
	if p.set("clamp position") != 0 {
		_, clamp, _ = strings.Cut(p.line("CLAMP", "At the position set"), ": ")
	}
	at := frame.Pose{At: p.place(clamp), Rot: mount.Axes{
		Rotation: degrees(p.worded(where, "rotated")), Tilt: degrees(p.worded(where, "tilted")), Roll: degrees(p.worded(where, "rolled")),
	}.Matrix()}
	h := hand{paper: p, at: frame.Identity(), faces: kit.Parts[len(kit.Parts)-1].(mount.Plate).Faces}
	for _, part := range kit.Parts {
		h.add(part)
	}
	plate := kit.Parts[len(kit.Parts)-1].(mount.Plate)
	from := h.at
	if p.right {
		mirror := func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: -v.Y, Z: v.Z} }
		from = frame.Pose{At: mirror(from.At), Rot: frame.Rotation{X: mirror(from.Rot.X), Y: r3.Scale(-1, mirror(from.Rot.Y)), Z: mirror(from.Rot.Z)}}
		plate.OffsetMM.X = -plate.OffsetMM.X
	}
	end := at.Mul(from)
	screen := frame.Pose{At: end.At, Rot: frame.Rotation{X: end.Rot.Y, Y: end.Rot.Z, Z: end.Rot.X}}
	if h.ball != nil { // the plate is set by what inclinometer and square read
		screen.Rot = attitude(p.ball(h.ball.Name, "tilt", "back", "forward"), p.ball(h.ball.Name, "rotation", "left", "right"), p.ball(h.ball.Name, "roll", "right up", "right down"))
		screen.At = r3.Add(screen.At, r3.Scale(h.ball.StemMM, screen.Rot.Z))
	}
	screen.At = screen.Apply(r3.Sub(plate.OffsetMM, plate.FixedAtMM))
	sag := p.line("WEIGHT", "Under load the screen")
	sinks, _ := p.read(sag)
	screen.At = r3.Add(screen.At, r3.Vec{X: p.moved(sag, "forward", "back"), Y: p.moved(sag, "left", "right"), Z: -sinks})
	if h.ball == nil { // else it was set with the load on
		screen.Rot = sagged(sag).Mul(screen.Rot)
	}
	return screen
}

// moved returns by how much the screen moves under load, positive toward the first word.
func (p paper) moved(words, plus, minus string) float64 {
	told := regexp.MustCompile(`moves ([^,°]*) (` + plus + `|` + minus + `)`).FindStringSubmatch(words)
	if told == nil {
		return 0
	}
	return p.toward(told[1]+" "+told[2], plus, minus)
}

// sagged returns by what the screen turns under load: forward or back about the level across
// the chair, right end down or up about the way ahead, left or right about the upright.
func sagged(words string) frame.Rotation {
	turned := func(what, plus string) float64 {
		told := regexp.MustCompile(what + ` ([\d.]+)° ([a-z ]*[a-z])`).FindStringSubmatch(words)
		if told == nil {
			return 0
		}
		v, _ := strconv.ParseFloat(told[1], 64)
		if told[2] != plus {
			return -v
		}
		return v
	}
	about := r3.Vec{X: turned("rolls", "right end down"), Y: turned("pitches", "back"), Z: turned("yaws", "left")}
	if about == (r3.Vec{}) {
		return frame.NoTurn()
	}
	return frame.About(r3.Unit(about), degrees(r3.Norm(about)))
}

// worded returns the angle before a word, positive where left or back follows it; 0 if
// nothing is said.
func (p paper) worded(words, what string) float64 {
	told := regexp.MustCompile(`([\d.]+°) ` + what + ` (left|back|right|forward)`).FindStringSubmatch(words)
	if told == nil {
		return 0
	}
	v, _ := p.read(told[1])
	if told[2] == "right" || told[2] == "forward" {
		return -v
	}
	return v
}

// ball returns what is read of the plate on a ball.
func (p paper) ball(name, what, plus, minus string) float64 {
	for _, s := range p.Table().Settings {
		if s[1] == strings.ReplaceAll(name, "_", " ")+" "+what {
			return p.toward(s[2], plus, minus)
		}
	}
	p.Fatalf("the sheet has no %s of the %s", what, name)
	return 0
}

func degrees(v float64) frame.Angle { return frame.Angle(v) * frame.Degree }

// hand puts parts together as they are drawn for the left side.
type hand struct {
	paper
	at    frame.Pose
	faces mount.Facing
	faced bool
	ball  *mount.Ball
}

func (h *hand) shift(v r3.Vec) { h.at = h.at.Mul(frame.Translate(v)) }

func (h *hand) turn(axis r3.Vec, deg float64) {
	h.at.Rot = h.at.Rot.Mul(frame.About(axis, degrees(deg)))
}

// face turns to where the screen faces.
func (h *hand) face() {
	if !h.faced {
		h.turn(r3.Vec{Z: 1}, map[mount.Facing]float64{mount.FacesAhead: 0, mount.FacesBack: 180, mount.FacesLeft: 90, mount.FacesRight: -90}[h.faces])
	}
	h.faced = true
}

// add adds a part.
func (h *hand) add(part mount.Part) {
	name := strings.ReplaceAll(part.PartName(), "_", " ")
	up, lifts := r3.Vec{Z: 1}, r3.Vec{Y: -1}
	switch part := part.(type) {
	case mount.Clamp:
		h.turn(map[mount.Direction]r3.Vec{mount.Up: up, mount.Left: {Y: 1}, mount.Ahead: {X: 1}}[part.IndexAbout], h.set(name+" index"))
		h.shift(part.OffsetMM)
	case mount.Tube:
		// of a tube, in its own axes: the far end of what is bent, level with the straight's end
		bent := part.Shape.End()
		run, tube := bent.At.Z, frame.Pose{Rot: frame.NoTurn()}
		long, turns := " height", " swing"
		if part.Runs == mount.Ahead {
			tube.Rot, long, turns = frame.Rotation{X: up, Y: lifts, Z: r3.Vec{X: 1}}, " extension", " twist"
		}
		if part.Slide != (mount.Range{}) {
			run = h.set(name + long)
		}
		along := tube.Rot.Z
		h.shift(r3.Scale(run, along))
		h.turn(along, h.set(name+turns))
		bent.At.Z = 0
		h.at = h.at.Mul(tube).Mul(bent).Mul(tube.Inverse())
	case mount.Elbow:
		h.turn(up, h.set(name+" pan"))
		h.shift(part.PanToElevationMM)
		h.turn(lifts, h.set(name+" elevation"))
		h.shift(part.ElevationToEndMM)
	case mount.Bracket:
		h.at = h.at.Mul(frame.Pose{At: part.OffsetMM, Rot: part.Axes.Matrix()})
	case mount.Turns:
		h.face()
		h.turn(up, h.set(name+" pan"))
		h.shift(part.PanToTiltMM)
		h.turn(lifts, h.set(name+" tilt"))
		h.shift(part.TiltToRollMM)
		h.turn(r3.Vec{X: 1}, h.set(name+" roll"))
	case mount.Ball:
		h.face()
		h.ball = &part
	case mount.Plate:
		h.face()
	}
}
