package sheet_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/cmd/sightpost/internal/sheet"
	"sightpost/plots/units"
)

// onEachPage matches what stands on each page: there may be one more of Letter.
var onEachPage = regexp.MustCompile(`sightpost \S+ · case [^·]* · print at [^·]* · page \d+ of \d+|Setup sheet \S+`)

// TestEveryNumberIsOnThePage reads the words of every page back and looks for the
// numbers of the JSON object and for every caution.
func TestEveryNumberIsOnThePage(t *testing.T) {
	for name, source := range allSources(t) {
		c := sheet.New(source.Source)
		t.Run(name, func(t *testing.T) {
			text := pageText(t, c, sheet.A4)
			if source.Units == units.MM {
				numbersIn(t, source.Report, text)
			}
			sorted := func(text string) []string {
				return slices.Sorted(slices.Values(strings.Fields(onEachPage.ReplaceAllString(text, ""))))
			}
			if letter := pageText(t, c, sheet.Letter); !slices.Equal(sorted(letter), sorted(text)) { // columns part elsewhere
				t.Error("letter leaves out what A4 has, or has more")
			}
			for _, caution := range source.Report.Cautions {
				if words := caution.In(source.Units); !strings.Contains(text, words) {
					t.Errorf("lacks the caution %q", words)
				}
			}
		})
	}
}

// numbersIn looks in text for every number that a technician needs.
func numbersIn(t *testing.T, r *document.Report, text string) {
	t.Helper()
	want := func(what, number string) {
		if !strings.Contains(text, strings.ReplaceAll(number, "-", "−")) {
			t.Errorf("%s: %q is not there", what, number)
		}
	}
	if r.MarginMM >= 0 {
		want("margin", millimeters(r.MarginMM))
	}
	if r.Mount != nil {
		for _, s := range r.Mount.Settings {
			tolerance := s.Tolerance
			if s.ToldTolerance != nil {
				tolerance = *s.ToldTolerance
			}
			if strings.HasSuffix(s.Name, ".position") && s.Low >= 0 {
				s.Told.Plus = "" // one way alone, which stands with how it is measured
			}
			want(s.Name, toldWords(s.Told, s.Told.Value))
			if r.Works && tolerance.None.Empty() && s.Told.Unit != "stop" {
				want(s.Name+", lower end", toldWords(s.Told, tolerance.From.Value))
				want(s.Name+", upper end", toldWords(s.Told, tolerance.To.Value))
			}
		}
		want("clamp", millimeters(carried(r, r.Mount.Chain.Joints[0].Origin.At)[2])+" above the floor")
	}
	if r.Works || r.Kind == document.Check { // else there is nothing to set and to check
		checksIn(t, r, text, want)
	}
	for _, p := range r.Postures {
		want(p.Name, p.Name)
		if p.MarginMM >= 0 {
			want(p.Name+", margin", millimeters(p.MarginMM))
		}
	}
	strengthIn(r, want)
	for _, g := range r.Clearances {
		if g.ClearanceMM < g.RequiredMM+100 {
			want("clearance of "+g.Zone, millimeters(max(g.ClearanceMM, -g.ClearanceMM)))
		}
	}
}

// checksIn looks for what is measured once all is set.
func checksIn(t *testing.T, r *document.Report, text string, want func(what, number string)) {
	t.Helper()
	if r.Mount != nil {
		armsIn(t, r, text)
	}
	for _, p := range r.Tape.Places { // however short the page
		along, aside := "forward", "left"
		if p.At.ForwardMM < 0 {
			along = "back"
		}
		if p.At.LeftMM < 0 {
			aside = "right"
		}
		row := regexp.QuoteMeta(p.What) + " " + millimeters(p.At.UpMM) + " up, " +
			millimeters(math.Abs(p.At.ForwardMM)) + " " + along + ", (" + millimeters(math.Abs(p.At.LeftMM)) + " " + aside + "|on the midline)"
		if !regexp.MustCompile(row).MatchString(text) {
			t.Errorf("%q is not there", row)
		}
	}
	want("eyes to screen", millimeters(r.Tape.EyesToScreenMM))
	if lean := math.Abs(r.Postures[0].Attitude.TiltDeg); lean >= 0.25 {
		want("tilt", halves(lean))
	}
	if turn := math.Abs(leading(r).Attitude.RotationDeg); turn >= 0.25 {
		want("rotation", halves(turn))
	}
}

// strengthIn looks for what the mount does under load and on its way aside.
func strengthIn(r *document.Report, want func(what, number string)) {
	if r.Mount == nil {
		return
	}
	want("sag", millimeters(math.Abs(leading(r).Sag.DropMM)))
	if r.Load != nil {
		if j := r.Load.Weakest(); j != nil {
			want("weakest joint", fmt.Sprintf("%.0f%%", math.Ceil(100**j.Used)))
		}
	}
	if a := r.SwingClear; r.Works && a != nil && a.Unit == "deg" && !a.Stuck() {
		swing := document.Told{Unit: "deg", Plate: true} // to halves
		for _, s := range r.Mount.Settings {
			if s.Name == a.Joint {
				swing.Plus = s.Told.Plus
			}
		}
		want("swing, in use and at rest", "from "+toldWords(swing, a.InUse)+" to "+toldWords(swing, a.Parked))
		want("swing, free range", "Free range: "+toldWords(swing, a.From.Value))
		want("swing, free range", "; "+toldWords(swing, a.To.Value))
	}
}

// armsIn multiplies the joints of the JSON object out and looks for the way in which
// each tube that runs ahead points. The product is that without load, from which a
// tube may be turned by as much as the screen at the mount's end is, and by the
// rounding of both.
func armsIn(t *testing.T, r *document.Report, text string) {
	t.Helper()
	sag := leading(r).Sag
	tol := math.Hypot(math.Hypot(sag.PitchDeg, sag.RollDeg), sag.YawDeg) + 0.3
	at := pose(leading(r).ChairFromCarrier)
	for _, j := range r.Mount.Chain.Joints {
		at = at.times(pose(j.Origin))
		if j.Axis != nil {
			at = at.times(motion(j))
		}
		name, isArm := strings.CutSuffix(j.Name, ".twist")
		along := at.column(0)
		up := math.Atan2(along[2], math.Hypot(along[0], along[1])) * 180 / math.Pi
		if !isArm || math.Abs(up) > 80 {
			continue // upright ones have no heading to tell
		}
		turn := math.Atan2(along[1], along[0]) * 180 / math.Pi
		row := regexp.MustCompile(strings.ReplaceAll(name, "_", " ") + `, from above, and its elevation (straight ahead|[\d.]+° \w+), (level|[\d.]+° \w+)`).FindStringSubmatch(text)
		if row == nil {
			t.Errorf("%s: its heading and rise are not there", name)
			continue
		}
		if got := angle(t, row[1], "left"); !(math.Abs(got-turn) < tol) {
			t.Errorf("%s: %q from above, by the chain %.1f° to the left", name, row[1], turn)
		}
		if got := angle(t, row[2], "up"); !(math.Abs(got-up) < tol) {
			t.Errorf("%s: %q of rise, by the chain %.1f° up", name, row[2], up)
		}
	}
}

// angle returns the degrees of words like "3.5° left"; plus is the word for more.
func angle(t *testing.T, words, plus string) float64 {
	t.Helper()
	number, way, turned := strings.Cut(words, "° ")
	if !turned {
		return 0
	}
	deg, err := strconv.ParseFloat(number, 64)
	if err != nil {
		t.Fatal(err)
	}
	if way != plus {
		return -deg
	}
	return deg
}

// leading returns the posture in which the mount is set.
func leading(r *document.Report) *document.Posture {
	for i := range r.Postures {
		if r.Postures[i].Name == r.Tape.Posture {
			return &r.Postures[i]
		}
	}
	return nil
}

// carried returns a point of the carrier in chair axes.
func carried(r *document.Report, at [3]float64) [3]float64 {
	return pose(leading(r).ChairFromCarrier).times(matrix{{1, 0, 0, at[0]}, {0, 1, 0, at[1]}, {0, 0, 1, at[2]}}).column(3)
}

// matrix is a rotation and a move, as in any textbook: rows of the upper three
// quarters of a 4 by 4 matrix.
type matrix [3][4]float64

func pose(p document.Pose) matrix {
	var m matrix
	for i := range 3 {
		m[i] = [4]float64{p.X[i], p.Y[i], p.Z[i], p.At[i]}
	}
	return m
}

func (a matrix) times(b matrix) matrix {
	var m matrix
	for i := range 3 {
		for j := range 4 {
			for k := range 3 {
				m[i][j] += a[i][k] * b[k][j]
			}
		}
		m[i][3] += a[i][3]
	}
	return m
}

func (a matrix) column(j int) [3]float64 { return [3]float64{a[0][j], a[1][j], a[2][j]} }

// motion returns the motion of a joint: Rodrigues' formula for a turn.
func motion(j document.Joint) matrix {
	a := *j.Axis
	if j.Motion == "slide" {
		return matrix{{1, 0, 0, a[0] * *j.Value}, {0, 1, 0, a[1] * *j.Value}, {0, 0, 1, a[2] * *j.Value}}
	}
	s, c := math.Sincos(*j.Value * math.Pi / 180)
	cross := [3][3]float64{{0, -a[2], a[1]}, {a[2], 0, -a[0]}, {-a[1], a[0], 0}}
	var m matrix
	for i := range 3 {
		for k := range 3 {
			m[i][k] = s*cross[i][k] + (1-c)*a[i]*a[k]
		}
		m[i][i] += c
	}
	return m
}

// minus are the words for a value below 0, by those for one above.
var minus = map[string]string{
	"": "", "left": "right", "right": "left", "up": "down", "down": "up", "back": "forward", "forward": "back",
	"right up": "right down", "right down": "right up",
}

// toldWords returns a value of a setting as it is told, its sign in words.
func toldWords(s document.Told, v float64) string {
	way, shown := s.Plus, inUnits(math.Abs(v), s.Unit)
	if v < 0 {
		way = minus[way]
	}
	if s.Plate {
		shown = halves(math.Abs(v))
	}
	switch {
	case s.Unit == "stop":
		return fmt.Sprintf("stop %.0f", v)
	case strings.Trim(shown, "0.°m ") == "":
		return shown
	}
	return strings.TrimSpace(shown + " " + way)
}

// inUnits returns a value as it is on a scale.
func inUnits(v float64, unit string) string {
	text := strconv.FormatFloat(math.Round(v*1000)/1000+0, 'f', -1, 64)
	if unit == "deg" {
		return text + "°"
	}
	return text + " mm"
}

// halves returns an angle as an inclinometer shows it, to half a degree.
func halves(deg float64) string {
	return strconv.FormatFloat(math.Round(2*deg)/2+0, 'f', -1, 64) + "°"
}

func millimeters(v float64) string { return fmt.Sprintf("%.0f mm", v) }
