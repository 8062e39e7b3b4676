package casefile

import (
	"math"
	"reflect"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/gaze"
	"sightpost/gaze/body"
	"sightpost/gaze/frame"
	"sightpost/mount/fit"
	"sightpost/mount/space"
)

// armrestAboveSeatMM is how high armrests are above the seat: 760 mm less 485 mm.
//
// Reference: ADA Accessibility Guidelines (ADAAG), 1991, Fig. A3, "Dimensions of
// Adult-Sized Wheelchairs".
const armrestAboveSeatMM = 760 - 485

// bodyZones returns the keep-clear zones of the person's body.
func (r *reader) bodyZones(b *bodyForm, seat body.Seat) []kept {
	var all []kept
	if b.Face == nil || b.Face.Word.Word != "none" {
		all = append(all, r.face(b, seat))
	}
	if b.Trunk == nil || b.Trunk.Word.Word != "none" {
		all = append(all, r.trunk(b, seat))
	}
	if b.Thighs == nil || b.Thighs.Word.Word != "none" {
		all = append(all, r.thighs(b, seat)...)
	}
	return all
}

// face returns head and face as a rounded box, which moves with the head.
func (r *reader) face(b *bodyForm, seat body.Seat) kept {
	if b.Face == nil {
		b.Face = &faceSpaceForm{}
	}
	z, f := newZone(r, b.At, "face", &b.Face.Form)
	size, from := seat.Head(), published(source("gordon2014"), seat)
	z.derive(&f.Breadth, "breadth", size.BreadthMM, from)
	z.derive(&f.Length, "length", size.EyesToBackMM, published(source("gordon2014")+", and "+source("pheasant"), seat))
	z.derive(&f.Above, "above_eyes", size.AboveEyesMM, from)
	z.complete("zone of head and face")
	box := body.Head{BreadthMM: f.Breadth.mm(), EyesToBackMM: f.Length.mm(), AboveEyesMM: f.Above.mm(), BelowEyesMM: f.Below.mm()}.Box()
	return z.kept(fit.KeepClear{Name: "face", With: fit.WithHead, Shape: rounded(frame.Identity(), box), RequiredMM: f.Clearance.mm()})
}

// trunk returns trunk and upper arms as a rounded box against the back support, in
// chair axes as measured.
func (r *reader) trunk(b *bodyForm, seat body.Seat) kept {
	if b.Trunk == nil {
		b.Trunk = &trunkSpaceForm{}
	}
	z, f := newZone(r, b.At, "trunk", &b.Trunk.Form)
	size, from := seat.Trunk(), published(source("gordon2014"), seat)
	z.derive(&f.Breadth, "breadth", size.BreadthMM, from)
	z.derive(&f.Depth, "depth", size.DepthMM, from)
	z.derive(&f.Height, "height", size.HeightMM, from)
	z.complete("zone of the trunk")
	box := body.Trunk{BreadthMM: f.Breadth.mm(), DepthMM: f.Depth.mm(), HeightMM: f.Height.mm()}.Box()
	return z.kept(fit.KeepClear{Name: "trunk", With: fit.WithTrunk, Shape: rounded(seat.BackInChair(), box), RequiredMM: f.Clearance.mm()})
}

// thighs returns both thighs with their knees as rods on the seat.
func (r *reader) thighs(b *bodyForm, seat body.Seat) []kept {
	if b.Thighs == nil {
		b.Thighs = &thighSpaceForm{}
	}
	z, f := newZone(r, b.At, "thighs", &b.Thighs.Form)
	size, from := seat.Thighs(), published(source("gordon2014"), seat)
	z.derive(&f.Thickness, "thickness", size.ThicknessMM, from)
	z.derive(&f.Length, "length", size.LengthMM, from)
	z.complete("zone of thighs and knees")
	left, right := body.Thighs{ThicknessMM: f.Thickness.mm(), LengthMM: f.Length.mm(), SpacingMM: f.Spacing.mm()}.Rods(seat.HeightMM)
	rod := func(name string, at body.Rod) kept {
		shape, _ := space.Capsule(at.FromMM, at.ToMM, at.RadiusMM) // lengths in files are bounded
		return z.onSeat(name, shape, f.Clearance, seat)
	}
	return []kept{rod("left thigh", left), rod("right thigh", right)}
}

// published names a source, and says what was done with it for a small person.
func published(from string, seat body.Seat) string {
	const digits = 2
	if part := strconv.FormatFloat(seat.Part, 'f', digits, 64); part != "1.00" {
		from += "; scaled to " + part + " because the eyes are low above the seat, a choice of this tool"
	}
	return from
}

// chairZones returns the keep-clear zones of those parts of the chair that the case says
// are there.
func (r *reader) chairZones(c *chairForm, seat body.Seat) []kept {
	var all []kept
	if a := c.Armrests; a != nil && (a.Form != nil || a.Word.Yes) {
		all = append(all, r.armrests(c, seat)...)
	}
	if c.Joystick != nil {
		all = append(all, r.joystick(c, seat))
	}
	if t := c.Tray; t != nil && (t.Form != nil || t.Word.Yes) {
		all = append(all, r.tray(c, seat))
	}
	return all
}

func (r *reader) armrests(c *chairForm, seat body.Seat) []kept {
	z, f := newZone(r, c.At, "armrests", &c.Armrests.Form)
	z.derive(&f.Top, "top", math.Round(seat.HeightMM+armrestAboveSeatMM), "above the seat as in "+source("adaag"))
	z.ends(&f.Back, &f.Front)
	z.complete("zones of the armrests")
	box := func(name string, middle float64) kept {
		return z.onSeat(name, boxBetween(frame.Identity(), body.Box{
			LowMM:  r3.Vec{X: f.Back.mm(), Y: middle - f.Width.mm()/2, Z: f.Top.mm() - f.Thickness.mm()},
			HighMM: r3.Vec{X: f.Front.mm(), Y: middle + f.Width.mm()/2, Z: f.Top.mm()},
		}), f.Clearance, seat)
	}
	return []kept{box("left armrest", f.Spacing.mm()/2), box("right armrest", -f.Spacing.mm()/2)}
}

func (r *reader) joystick(c *chairForm, seat body.Seat) kept {
	z, f := newZone(r, c.At, "joystick", &c.Joystick.Form)
	if c.Joystick.Word.valid {
		f.Side = c.Joystick.Word
	}
	z.complete("zone of the joystick")
	if f.At == nil { // at the front of an armrest
		var armrest armrestSizesForm
		left := defaultMM(&armrest, "spacing") / 2
		if f.Side.Word == "right" {
			left = -left
		}
		f.At = &pointForm{}
		z.at = z.at.under("at")
		z.fill(&f.At.Forward, "forward", defaultMM(&armrest, "front"), unsourced)
		z.fill(&f.At.Left, "left", left, unsourced)
		z.fill(&f.At.Up, "up", seat.HeightMM+armrestAboveSeatMM+defaultMM(&joystickBoxForm{}, "up")/2, unsourced)
		z.merge("middle of joystick and hand")
		z.at = z.at.parent()
	}
	half := r3.Scale(0.5, r3.Vec{X: f.Size.Forward.mm(), Y: f.Size.Left.mm(), Z: f.Size.Up.mm()})
	box := body.Box{LowMM: r3.Sub(f.At.vec(), half), HighMM: r3.Add(f.At.vec(), half)}
	return z.onSeat("joystick", boxBetween(frame.Identity(), box), f.Clearance, seat)
}

func (r *reader) tray(c *chairForm, seat body.Seat) kept {
	z, f := newZone(r, c.At, "tray", &c.Tray.Form)
	z.derive(&f.Top, "top", math.Round(seat.HeightMM+armrestAboveSeatMM+defaultMM(f, "thickness")), "on armrests as high above the seat as in "+source("adaag"))
	z.ends(&f.Back, &f.Front)
	z.complete("zone of the tray")
	return z.onSeat("tray", boxBetween(frame.Identity(), body.Box{
		LowMM:  r3.Vec{X: f.Back.mm(), Y: -f.Width.mm() / 2, Z: f.Top.mm() - f.Thickness.mm()},
		HighMM: r3.Vec{X: f.Front.mm(), Y: f.Width.mm() / 2, Z: f.Top.mm()},
	}), f.Clearance, seat)
}

// zone fills in the measurements of one keep-clear zone that a case leaves open.
type zone struct {
	r    *reader
	at   spot // under the key of the zone
	from int  // the first of its assumptions
	form any  // its measurements
	// where the file speaks of it, for messages
	said spot
}

// newZone returns the zone under a key of what is at a place, and the form of its
// measurements, which it makes if the case has none.
func newZone[T any](r *reader, holder spot, key string, form **T) (*zone, *T) {
	z := &zone{r: r, at: holder.under(key), said: holder, from: len(r.assumptions)}
	if *form == nil {
		*form = new(T)
		reflect.ValueOf(*form).Elem().FieldByIndex(shapeOf(reflect.TypeFor[T]()).here).Field(0).Set(reflect.ValueOf(z.at))
	} else {
		z.said = reflect.ValueOf(*form).Elem().FieldByIndex(shapeOf(reflect.TypeFor[T]()).here).Field(0).Interface().(spot)
	}
	z.form = *form
	return z, *form
}

// derive fills in a length that is computed, unless the case gives it.
func (z *zone) derive(into **length, key string, mm float64, from string) {
	if *into == nil {
		*into = &length{}
		z.fill(*into, key, mm, from)
	}
}

// fill fills in a length.
func (z *zone) fill(into *length, key string, mm float64, from string) {
	at := z.at.under(key)
	into.place(at)
	into.assume()
	z.r.take(at, into, mmValue(mm).String(), field{})
	z.r.assumed(at.Key, plainKey(key), valueOf(into), from)
}

// ends fills in where a part ends if the other end is given: an end that is assumed lies
// beyond one that is given.
func (z *zone) ends(back, front **length) {
	if *front != nil && (*front).mm() < defaultMM(z.form, "back") {
		z.derive(back, "back", (*front).mm(), unsourced)
	}
	if *back != nil && (*back).mm() > defaultMM(z.form, "front") {
		z.derive(front, "front", (*back).mm(), unsourced)
	}
}

// complete fills in the defaults of all else, and tells what is assumed in one line for
// each source.
func (z *zone) complete(what string) {
	z.r.complete(reflect.ValueOf(z.form).Elem(), z.at)
	z.merge(what)
}

func (z *zone) merge(what string) {
	all := z.r.assumptions
	z.r.assumptions = append(all[:z.from:z.from], merged(all[z.from:], z.at.Key, what)...)
	z.from = len(z.r.assumptions)
}

// kept returns the zone. It is assumed if any of its measurements but the clearance is.
func (z *zone) kept(k fit.KeepClear) kept {
	k.Assumed = anyAssumed(reflect.ValueOf(z.form).Elem())
	return kept{KeepClear: k, at: z.said}
}

// onSeat returns a zone that the seat carries, whose shape is that with the seat level.
func (z *zone) onSeat(name string, shape space.Shape, clearance *length, seat body.Seat) kept {
	return z.kept(fit.KeepClear{Name: name, By: gaze.Seat, Shape: shape.Moved(seat.InSeat()), RequiredMM: clearance.mm()})
}

// anyAssumed reports whether any entry of a form but its clearance is assumed.
func anyAssumed(form reflect.Value) bool {
	for _, said := range valuesOf(nil, form, "", "") {
		if said.Assumed && said.Path != "clearance" {
			return true
		}
	}
	return false
}

// boxBetween returns a box in the axes of pose. Corners out of order give a flat box.
func boxBetween(pose frame.Pose, b body.Box) space.Shape {
	size := r3.Sub(b.HighMM, b.LowMM)
	size = r3.Vec{X: max(size.X, 0), Y: max(size.Y, 0), Z: max(size.Z, 0)}
	// Lengths in files are bounded, so that this is a box.
	box, _ := space.Box(pose.Mul(frame.Translate(r3.Scale(0.5, r3.Add(b.LowMM, b.HighMM)))), size)
	return box
}

// rounded returns the same box rounded as far as its least edge allows, which comes
// nearer to a body.
func rounded(pose frame.Pose, b body.Box) space.Shape {
	s := boxBetween(pose, b)
	s.RoundMM = min(s.HalfMM.X, s.HalfMM.Y, s.HalfMM.Z)
	s.HalfMM = r3.Sub(s.HalfMM, r3.Vec{X: s.RoundMM, Y: s.RoundMM, Z: s.RoundMM})
	return s
}
