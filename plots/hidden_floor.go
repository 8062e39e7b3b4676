package plots

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"sightpost/gaze"
	"sightpost/mount/fit"
)

// HiddenFloor returns the figure of what the casing of the screen hides of the floor
// ahead in one posture, from above: from the left eye, from the right eye and from
// both, with the distances ahead of the eyes and to the sides of the chair's
// midline. The mount's tubes are too thin to hide a place from both eyes, and are
// left out. Compact leaves out the key and the names of the axes.
//
// The figure is to scale, at the largest of 1:10, 1:15, 1:20, 1:25, 1:30, 1:40,
// 1:50, 1:75, 1:100, 1:150 and 1:200 that fits. The error wraps [ErrFigure].
func HiddenFloor(r *fit.Result, job *fit.Job, opt SceneOptions) (Figure, error) {
	s, err := newScene(r, job, Top, opt)
	if err != nil {
		return Figure{}, err
	}
	s.title = strings.Replace(s.title, Top.String(), "floor that the screen hides", 1)
	s.scales = []int{10, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200}
	a := job.Device.Ahead(heldScreen(s.fare), &s.fare.Stance)
	s.shadows(&a)
	s.seated()
	s.face(s.fare, lookPerson())
	s.outline(s.casing(s.fare.Screen), lookCasing())
	s.explain(lookCasing(), "casing of the screen")
	s.straightAhead()
	s.desc = "To scale, lengths in mm. " + aheadWords(&a)
	if s.compact {
		s.keys = nil
	}
	return s.figure(opt.Size.or(Landscape()))
}

// The looks of hidden floor.
func lookHidden() look {
	// Opaque, so that it looks the same on both of the others.
	return look{fill: color.NRGBA{R: 214, G: 236, B: 250, A: 0xff}, line: stroke(ink(), 1.1), hatch: stroke(okabe(okabeBlue), 0.4)}
}

func lookHiddenFrom(eye gaze.Eye) look {
	if eye == gaze.LeftEye {
		return look{fill: faint(okabe(okabeYellow), 0.25), line: stroke(okabe(okabeGreen), 1.1, 6, 2)}
	}
	return look{fill: faint(okabe(okabeOrange), 0.25), line: stroke(okabe(okabeVermilion), 1.1, 1.5, 1.5)}
}

// shadows draws the hidden floor and its distances.
func (s *scene) shadows(a *gaze.Ahead) {
	for eye, shadow := range a.Floor {
		l := lookHiddenFrom(gaze.Eye(eye))
		s.outline(s.flatAll(shadow.Outline...), l)
		if shadow.Hides {
			s.explain(l, "hidden from the "+gaze.Eye(eye).String())
		}
	}
	if !a.Both.Hides {
		return
	}
	s.outline(s.flatAll(a.Both.Outline...), lookHidden())
	s.explain(lookHidden(), "hidden from both eyes")
	at := func(way r2.Vec, format string, mm float64) label {
		return label{at: furthest(&a.Both, way), text: fmt.Sprintf(format, mm+0)}
	}
	b := &a.Both
	far := "hidden to %.0f ahead of the eyes"
	if b.Endless {
		far = "hidden to %.0f ahead of the eyes and beyond"
	}
	s.top = append(s.top, at(r2.Vec{X: -1}, "hidden from %.0f", b.NearMM))
	s.right = append(s.right, at(r2.Vec{X: 1}, far, b.FarMM),
		at(r2.Vec{Y: 1}, "left %.0f", b.LeftMM), at(r2.Vec{Y: -1}, "right %.0f", -b.RightMM))
}

// furthest returns the corner of a shadow that is furthest in a direction.
func furthest(b *gaze.Shadow, way r2.Vec) r2.Vec {
	best, most := r2.Vec{}, math.Inf(-1)
	for _, q := range b.Outline {
		p := r2.Vec{X: q.X, Y: q.Y}
		if along := r2.Dot(p, way); along > most {
			best, most = p, along
		}
	}
	return best
}

// straightAhead draws the chair's midline, ahead of the eyes, as far as anything is
// drawn.
func (s *scene) straightAhead() {
	from := chairFromHead(s.fare).At.X
	s.line(lookSight().line, r2.Vec{X: from}, r2.Vec{X: max(s.hiX, from)})
	s.explain(lookSight(), "midline of the chair")
}

// aheadWords says in numbers what is hidden and what would be after each remedy.
func aheadWords(a *gaze.Ahead) string {
	said := []string{fmt.Sprintf("The casing covers %.0f %% of the forward field.", 100*a.Share)}
	for eye, shadow := range a.Floor {
		said = append(said, fmt.Sprintf("Hidden from the %s: %s.", gaze.Eye(eye), shadowWords(&shadow)))
	}
	said = append(said, fmt.Sprintf("Hidden from both: %s.", shadowWords(&a.Both)))
	for _, r := range a.Remedies {
		said = append(said, fmt.Sprintf("%s: %.0f %% of the field; from both: %s.", capital(r.Move.String()), 100*r.Share, shadowWords(&r.Both)))
	}
	return strings.Join(said, " ")
}

// shadowWords says how far a shadow reaches.
func shadowWords(s *gaze.Shadow) string {
	if !s.Hides {
		return "none of the floor"
	}
	to := fmt.Sprintf("to %.0f", s.FarMM)
	if s.Endless {
		to += " and beyond"
	}
	return fmt.Sprintf("from %.0f %s ahead, %s to %s", s.NearMM, to, sideWords(s.LeftMM), sideWords(s.RightMM))
}

// sideWords says how far to which side of the midline a place is.
func sideWords(leftMM float64) string {
	if math.Round(leftMM) < 0 {
		return fmt.Sprintf("%.0f right", -leftMM)
	}
	return fmt.Sprintf("%.0f left", leftMM+0)
}
