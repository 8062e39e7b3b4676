package record

import (
	"fmt"
	"io"
	"math"
	"strings"

	"sightpost/cmd/sightpost/internal/document"
	"sightpost/plots/units"
)

// WriteText writes c in words. The error is the writer's.
func (c *Comparison) WriteText(w io.Writer, u units.Units) error {
	p := &printer{units: u}
	fmt.Fprintf(&p.text, "%s: from %s to %s%s\n", c.Code, c.Old, c.New, daysBetween(c.Days))
	for _, s := range c.Remarks {
		p.say("WARNING: %s.", s)
	}
	p.changes(c, "WHAT OF THE PERSON CHANGED", "", c.Person, "no measure of the person")
	p.changes(c, "WHAT OF CHAIR, SCREEN AND MOUNT CHANGED", "", c.Things, "nothing")
	p.changes(c, "SETTINGS THAT CHANGED", "", c.Settings, "no setting")
	p.changes(c, "WHERE THE SCREEN IS NOW", "what changed, in chair axes", c.Screen, "the screen is where it was")
	p.changes(c, "HEAD-MOVEMENT MARGIN", "beyond the usual head movement", c.Margins, "")
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
	if c.Was != "" {
		return []string{c.What, c.Was, c.Is, ""}
	}
	told := func(v *float64) string {
		if v == nil {
			return absent
		}
		if c.margin {
			return p.margin(*v)
		}
		return p.value(*v, c.Unit)
	}
	by := ""
	approximate := c.margin && (c.Before != nil && *c.Before < 0 || c.After != nil && *c.After < 0)
	if c.Before != nil && c.After != nil && !approximate {
		if by = p.value(*c.After-*c.Before, c.Unit); c.margin {
			by = document.Length(*c.After - *c.Before).In(p.units)
		}
		if *c.After > *c.Before && strings.ContainsAny(by, "123456789") {
			by = "+" + by
		}
	}
	return []string{c.What, told(c.Before), told(c.After), by}
}

// alone says how much of the change of the margin is the person's.
func (p *printer) alone(c *Comparison, a *PersonEffect) {
	p.heading("EFFECT OF THE PERSON'S CHANGE ALONE", "")
	if len(c.Person) == 0 {
		p.say("No measure of the person changed: the margin changed by screen and mount alone.")
		return
	}
	p.say("With screen and mount as on %s, the person's change alone takes the margin of all required postures from %s to %s (%s).",
		c.Old, p.margin(a.BeforeMM), p.margin(a.AfterMM), a.Tightest)
	if now := c.Margins[0].After; now != nil && math.Abs(*now-a.AfterMM) >= shownFrom {
		p.say("The changes of screen and mount then take it to %s.", p.margin(*now))
	}
}

// next says what to expect.
func (p *printer) next(n *Next) {
	if !n.Changes {
		p.say("Nothing that was measured suggests a change: measure again at the usual time.")
		return
	}
	if n.MarginMM == nil {
		p.say("The same change once more would exceed what a person can do.")
		return
	}
	by := ""
	if n.Day != "" {
		by = ", at this pace by " + string(n.Day)
	}
	p.say("If the person changes by as much again%s, the margin becomes %s with the mount as it is now (limiting condition: %s).",
		by, p.margin(*n.MarginMM), n.Tightest)
	switch {
	case n.Longer:
		p.say("The preferred margin lasts for %s and more.", times(n.Holds))
	case n.Gone != "" && n.Holds == 0:
		p.say("That is less than preferred: measure again well before %s.", n.Gone)
	case n.Gone != "":
		p.say("The preferred margin lasts for %s; at this pace it is gone by %s. Measure again well before.", times(n.Holds), n.Gone)
	case n.Holds > 0:
		p.say("The preferred margin lasts for %s.", times(n.Holds))
	default:
		p.say("The preferred margin is not reached.")
	}
	p.say("Two assessments are not a trend.")
}

// margin returns a margin. Below zero its size is approximate.
func (p *printer) margin(mm float64) string { return document.Margin(mm).In(p.units) }

func times(n int) string {
	if n == 1 {
		return "one such change"
	}
	return fmt.Sprintf("%d such changes", n)
}
