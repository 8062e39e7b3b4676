package record

import (
	"fmt"
	"io"
	"math"
	"strings"

	"sightpost/cmd/sightpost/internal/document"
)

// WriteText writes c in words. The error is the writer's.
func (c *Comparison) WriteText(w io.Writer, u document.Units) error {
	p := &printer{units: u}
	fmt.Fprintf(&p.text, "%s: from %s to %s%s\n", c.Code, c.Old, c.New, daysBetween(c.Days))
	for _, s := range c.Remarks {
		p.say("MIND: %s.", s)
	}
	p.changes(c, "WHAT OF THE PERSON CHANGED", "", c.Person, "no measure of the person")
	p.changes(c, "WHAT OF CHAIR, SCREEN AND MOUNT CHANGED", "", c.Things, "nothing")
	p.changes(c, "SETTINGS THAT CHANGED", "", c.Settings, "no setting")
	p.changes(c, "WHERE THE SCREEN STANDS NOW", "what changed, in chair axes", c.Screen, "the screen stands where it stood")
	p.changes(c, "ROOM TO MOVE", "how far the head may move beyond its usual movement; if negative, right in sign only", c.Margins, "")
	if a := c.Alone; a != nil {
		p.alone(c, a)
	}
	if c.Next != nil {
		p.heading("WHAT TO EXPECT NEXT", "")
		p.next(c.Next)
	}
	_, err := io.WriteString(w, p.text.String())
	return err
}

func daysBetween(days int) string {
	switch days {
	case 0:
		return ", on the same day"
	case 1:
		return ", a day later"
	}
	return fmt.Sprintf(", %d days later", days)
}

// changes lists what changed, or says that it is none.
func (p *printer) changes(c *Comparison, title, remark string, changes []Change, none string) {
	p.heading(title, remark)
	if len(changes) == 0 {
		p.say("%s", none)
		return
	}
	rows := [][]string{{"", c.Old, c.New, "change"}}
	for _, ch := range changes {
		rows = append(rows, p.change(ch))
	}
	p.table(rows)
}

// change returns the row of a change.
func (p *printer) change(c Change) []string {
	if c.Unit == "" {
		return []string{c.What, c.Was, c.Is, ""}
	}
	told := func(v *float64) string {
		if v == nil {
			return absent
		}
		return p.value(*v, c.Unit)
	}
	by := ""
	if c.Before != nil && c.After != nil {
		by = p.value(*c.After-*c.Before, c.Unit)
		if *c.After > *c.Before && strings.ContainsAny(by, "123456789") {
			by = "+" + by
		}
	}
	return []string{c.What, told(c.Before), told(c.After), by}
}

// alone says how much of the change of the margin is the person's.
func (p *printer) alone(c *Comparison, a *PersonEffect) {
	p.heading("WHOSE CHANGE IT IS", "")
	if len(c.Person) == 0 {
		p.say("No measure of the person changed: whatever room came or went is that of screen and mount.")
		return
	}
	p.say("With screen and mount left as on %s, the change of the person alone takes the room of all that must work from %s to %s (%s).",
		c.Old, p.units.Fine(a.BeforeMM), p.units.Fine(a.AfterMM), a.Tightest)
	if now := c.Margins[0].After; now != nil && math.Abs(*now-a.AfterMM) >= shownFrom {
		p.say("What was changed on screen and mount takes it from there to %s.", p.units.Fine(*now))
	}
}

// next says what to expect.
func (p *printer) next(n *Next) {
	if !n.Changes {
		p.say("Nothing that was measured suggests a change: measure again at the usual time.")
		return
	}
	if n.MarginMM == nil {
		p.say("The same change of the person once more leads beyond what a person can do: it will not go on like this.")
		return
	}
	by := ""
	if n.Day != "" {
		by = ", at this pace by " + string(n.Day)
	}
	p.say("If the person changes by as much again%s, the room becomes %s with the mount as it is now (first to give out: %s).",
		by, p.units.Fine(*n.MarginMM), n.Tightest)
	switch {
	case n.Longer:
		p.say("The room that is wanted lasts for %s and more.", times(n.Holds))
	case n.Gone != "" && n.Holds == 0:
		p.say("That is less than is wanted: measure again well before %s.", n.Gone)
	case n.Gone != "":
		p.say("The room that is wanted lasts for %s; at this pace it is gone by %s. Measure again well before.", times(n.Holds), n.Gone)
	case n.Holds > 0:
		p.say("The room that is wanted lasts for %s.", times(n.Holds))
	default:
		p.say("The room that is wanted is lacking.")
	}
	p.say("Two assessments are no trend: this is what would follow from them alone.")
}

func times(n int) string {
	if n == 1 {
		return "one such change"
	}
	return fmt.Sprintf("%d such changes", n)
}
