package casefile

import (
	"cmp"
	"errors"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"gonum.org/v1/gonum/spatial/r3"

	"sightpost/mount"
	"sightpost/mount/fit"
	"sightpost/plots/units"
)

// Case is a case file, checked.
type Case struct {
	Label string
	Note  string
	// Job is the case in the units and axes of package fit. Its kit, if any,
	// carries the screen of the case.
	Job fit.Job
	// Text and KitText are the very bytes of the files of the case and of its kit: the latter
	// empty without one of its own.
	Text, KitText []byte
	// KitName is the path of the kit as the case gives it, "in place", or "".
	KitName string
	// KitFile is what messages call the kit's file, "" for a kit in place.
	KitFile string
	KitNote string
	// Assumptions lists every value that the case left open, with its source.
	Assumptions []Assumption
	// Warnings are lines about what is allowed but looks like a mistake.
	Warnings []string
	// Unlikely are the numbers that are allowed, but that few cases have.
	Unlikely []Unlikely
	// Before is the earlier case that [Case.ReadNext] was asked of, Carried what was not
	// measured again since.
	Before  *Case
	Carried []Carried

	mountings []mount.Mounting
	form      *node
	kit       *node // its own, nil without one
}

// File returns what messages call the file of the case.
func (c *Case) File() string { return c.form.at.File }

// EyeHeight is the entry whose unit tells in which units a case is written.
const EyeHeight = "measured.eyes.up"

// Units returns the units that the case is written in.
func (c *Case) Units() units.Units { return UnitsOf(c.form.get(EyeHeight).text) }

// UnitsOf returns the units of a length as it is written.
func UnitsOf(text string) units.Units {
	switch length.unitOf(text).word {
	case "in", "ft":
		return units.Inch
	case "cm":
		return units.CM
	}
	return units.MM
}

// CarriedBy returns what carries the mount, in the word of the case; "" without a clamp.
func (c *Case) CarriedBy() string {
	if len(c.mountings) == 0 {
		return ""
	}
	return c.form.word("mount.carried_by")
}

// ClampAsMeasured reports whether the clamp, on what tilts with the seat, counts as measured at the
// seat tilt of the person's measures, because the case says no other.
func (c *Case) ClampAsMeasured() bool {
	return c.CarriedBy() == "seat" && !c.form.has("mount.clamp.seat_tilt")
}

// inPlace is the name of a kit that is written in the case.
const inPlace = "in place"

// ErrNoClamp reports that a case does not say where a kit would be clamped.
var ErrNoClamp = errors.New("the case does not say where the mount is clamped (mount.clamp and mount.side)")

// SetKit puts another kit into the case, at the same place on the chair and with
// the case's screen on it. A joint that the case names to swing the mount clear
// counts only in a kit that has it. The error is [ErrNoClamp], or what the kit or
// its place have wrong.
func (c *Case) SetKit(name string, kit mount.Kit) error {
	if len(c.mountings) == 0 {
		return ErrNoClamp
	}
	if err := kit.Check(); err != nil {
		return err
	}
	kit = onto(kit, c.Job.Device.Screen, r3.Vec{X: c.form.number("screen.fixed_at.right"), Y: c.form.number("screen.fixed_at.up")})
	about := c.form.word("passage.about")
	c.Job.Passage.About = ""
	for _, m := range c.mountings {
		chain, err := kit.Chain(m)
		if err == nil {
			err = chain.Check()
		}
		if err != nil {
			return err
		}
		for _, j := range chain.Told() {
			if j.Name == about && swings(j) {
				c.Job.Passage.About = about
			}
		}
	}
	c.KitName = name
	c.Job.Mount = &fit.MountJob{Kit: kit, Mountings: c.mountings}
	return nil
}

// Read reads a case. Name is what messages call the file. Open opens the file of
// a kit by its path as the case gives it, relative to the case's folder; if open is
// nil, a kit must be written in the case. The error is of type [Errors].
func Read(name string, src io.Reader, open func(kit string) (io.ReadCloser, error)) (*Case, error) {
	return readAfter(nil, name, src, open)
}

// ReadNext is [Read] for a later case of the same chair and mount: what has the same numbers
// in both although the seat is tilted differently is taken to have moved along with the seat.
func (c *Case) ReadNext(name string, src io.Reader, open func(kit string) (io.ReadCloser, error)) (*Case, error) {
	return readAfter(c, name, src, open)
}

func readAfter(before *Case, name string, src io.Reader, open func(kit string) (io.ReadCloser, error)) (*Case, error) {
	r := newReader(name)
	f := r.read(src, caseTable())
	r.sense(f)
	var along []Carried
	if before != nil && len(r.problems) == 0 {
		along = r.carryAlong(f, before.form)
	}
	kit := r.kit(f, open)
	files := []*node{f}
	if kit != f.get(kitEntry) {
		files = append(files, kit)
	}
	if err := r.err(files...); err != nil {
		return nil, err
	}
	c := newCase(f)
	c.kit = kit
	r.surroundings(c)
	c.Job.Passage = r.passage(f)
	if kit != nil {
		r.mount(c)
	}
	if err := r.err(files...); err != nil {
		return nil, err
	}
	for _, file := range files {
		for _, n := range file.unlikely(nil) {
			u := n.row.Unlikely(n.text)
			u.spot = n.at
			c.Unlikely = append(c.Unlikely, *u)
		}
	}
	c.Unlikely = append(c.Unlikely, unlikelyTogether(f, r.seat)...)
	c.Warnings, c.Assumptions, c.Carried = r.warnings, r.assumptions, along
	c.Before, c.Text, c.KitText = before, r.raw.Bytes(), r.kitText
	return c, nil
}

// ReadKit reads a kit. Its plate carries no screen yet: the case has that, see
// [Case.SetKit]. The error is of type [Errors].
func ReadKit(name string, src io.Reader) (mount.Kit, error) {
	kit, _, err := ReadKitUnits(name, src)
	return kit, err
}

// ReadKitUnits is [ReadKit], and returns the units that most of the kit's lengths are written in.
func ReadKitUnits(name string, src io.Reader) (mount.Kit, units.Units, error) {
	r := newReader(name)
	kit := r.read(src, kitTable())
	r.kitSense(kit)
	if err := r.err(kit); err != nil {
		return mount.Kit{}, units.MM, err
	}
	n := map[units.Units]int{}
	kit.countUnits(n)
	most := units.MM
	for _, u := range []units.Units{units.CM, units.Inch} {
		if n[u] > n[most] {
			most = u
		}
	}
	return newKit(kit), most, nil
}

// countUnits adds how many lengths at n and below it are written in which units.
func (n *node) countUnits(to map[units.Units]int) {
	switch {
	case n == nil:
		return
	case n.row.of == length && n.text != "" && !n.assumed:
		to[UnitsOf(n.text)]++
	}
	for _, below := range slices.Concat(n.items, slices.Collect(maps.Values(n.kids))) {
		below.countUnits(to)
	}
}

// read returns what a file says of a case or a kit, or nil.
func (r *reader) read(src io.Reader, e *Entry) *node {
	root := r.parse(io.TeeReader(src, &r.raw))
	if root == nil || !r.isKind(root, e) {
		return nil
	}
	return r.group(root, r.top, e)
}

// isKind reports whether a file is of the kind that begins with the first key of e, and
// if it is of the other, says so in one line: all of its keys would be wrong
// otherwise.
func (r *reader) isKind(root ast.Node, e *Entry) bool {
	other, found, expected := kitTable(), "a kit", "a case"
	if e == kitTable() {
		other, found, expected = caseTable(), expected, found
	}
	pairs, _ := pairsOf(root)
	has := func(e *Entry) bool {
		return slices.ContainsFunc(pairs, func(p *ast.MappingValueNode) bool {
			key, _ := keyOf(p, spot{})
			return key == e.Fields[0].Key
		})
	}
	if has(e) || !has(other) {
		return true
	}
	r.whole(found+": this file begins with "+other.Fields[0].Key, expected+", which begins with "+e.Fields[0].Key+": 1")
	return false
}

// kit returns the kit of a case, from its own file or in place, or nil.
func (r *reader) kit(f *node, open func(string) (io.ReadCloser, error)) *node {
	k := f.get(kitEntry)
	switch {
	case k.isGroup():
		r.kitSense(k)
		return k
	case !k.ok():
		return nil
	case open == nil:
		r.senseless(k.at, quoted(k.Word), "the kit itself: no other file can be read here")
		return nil
	}
	src, err := open(k.Word)
	if err != nil {
		r.senseless(k.at, quoted(k.Word), "the file of a kit: "+oneLine(err))
		return nil
	}
	defer src.Close() // only read: nothing can be lost by closing
	name := filepath.FromSlash(k.Word)
	if !filepath.IsAbs(name) {
		name = filepath.Join(filepath.Dir(r.top.File), name) // where the case is
	}
	kr := newReader(name)
	kit := kr.read(src, kitTable())
	kr.kitSense(kit)
	r.kitText = kr.raw.Bytes()
	r.problems = append(r.problems, kr.problems...)
	r.warnings = append(r.warnings, kr.warnings...)
	return kit
}

// mount puts the kit into the case, and reports what only shows when it is
// clamped.
func (r *reader) mount(c *Case) {
	named := c.form.get(kitEntry)
	c.KitNote = c.kit.word("note")
	if named.Word != "" {
		c.KitFile = c.kit.at.File
	}
	if err := c.SetKit(cmp.Or(named.Word, inPlace), newKit(c.kit)); err != nil {
		r.senseless(named.at, "a contradiction in "+c.kit.at.File+" ("+oneLine(err)+")", "a kit that can be clamped there")
		return
	}
	r.settingUncertainties(c)
	r.aboutSense(c)
}

// oneLine returns the text of joined errors in one line.
func oneLine(err error) string { return strings.ReplaceAll(err.Error(), "\n", "; ") }

// Mountings returns the places where the case lets a kit be clamped, in carrier
// axes, and with other places of the clamp given in chair axes as measured (mm),
// those instead, on the side on which each lies. With both, the mirror image of
// each about the chair's midline follows it. The error is [ErrNoClamp].
func (c *Case) Mountings(both bool, otherMM ...r3.Vec) ([]mount.Mounting, error) {
	if len(c.mountings) == 0 {
		return nil, ErrNoClamp
	}
	own := slices.Clone(c.mountings)
	if len(otherMM) > 0 {
		own = own[:0]
		carrierFromChair := fit.CarrierFromMeasured(c.Job.Scene, c.Job.Scene.Carrier)
		for _, at := range otherMM {
			m := c.mountings[0]
			if at.Y < 0 != (m.Side == mount.OnRight) {
				m = acrossMidline(m)
			}
			m.ClampMM = carrierFromChair.Apply(at)
			own = append(own, m)
		}
	}
	if !both {
		return own, nil
	}
	var all []mount.Mounting
	for _, m := range own {
		for _, side := range []mount.Mounting{m, acrossMidline(m)} {
			if !slices.Contains(all, side) {
				all = append(all, side)
			}
		}
	}
	return all, nil
}

// WithKit returns a copy of the case with another kit in place of its own, at the
// given places, as [Case.SetKit] puts it there.
func (c *Case) WithKit(name string, kit mount.Kit, at []mount.Mounting) (*Case, error) {
	other := *c
	other.mountings = at
	other.KitNote, other.KitFile = "", name
	return &other, other.SetKit(name, kit)
}
