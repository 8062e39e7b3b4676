package document

import (
	"math"
	"slices"
	"strconv"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/mount/fit/match"
)

// Match is a ranking of kits, sides and places of the clamp for one case.
type Match struct {
	// Version of this form.
	Version int `json:"sightpost" jsonschema:"const=2"`
	// The question that was answered: "match".
	Kind Kind `json:"kind" jsonschema:"const=match"`
	// Code of the case, as the clinic chose it.
	Label string `json:"label"`
	// True when the first of the ranking works.
	Works bool `json:"works"`
	// How many simulations of all errors there were for each.
	Simulations int `json:"simulations"`
	// What the simulations were chosen by.
	Seed uint64 `json:"seed"`
	// The kits at each of their places, the best first.
	Ranking []Ranked `json:"ranking"`
	// The kits that could not be judged, at none of their places or at one.
	Unjudged []Unjudged `json:"unjudged"`
	// What to observe in this case.
	Cautions []Line `json:"cautions"`
	// Uncertainties that were assumed because the case gives none.
	Assumptions []casefile.Assumption `json:"assumptions"`
}

// Unjudged is a kit that could not be judged.
type Unjudged struct {
	// File of the kit.
	KitFile string `json:"kit_file"`
	// Why: a line for each thing that is wrong, which names the file.
	Why []string `json:"why"`
}

// Ranked is how a kit at one place would do.
type Ranked struct {
	// File of the kit.
	KitFile string `json:"kit_file"`
	// Name of the kit.
	Kit string `json:"kit"`
	// Side of the chair on which it is clamped, the person's own.
	Side string `json:"side" jsonschema:"enum=left,enum=right"`
	// Where the clamp is, in chair axes, in the posture that leads, before it is
	// moved along its tube.
	Clamp Point `json:"clamp"`
	// True when every posture that must work does and no keep-clear zone is touched.
	Works bool `json:"works"`
	// True when the settings before rounding bring the screen to the target.
	Reached bool `json:"reached"`
	// Distance of the screen's middle from the target at the rounded settings.
	OffMM float64 `json:"off_mm"`
	// Least margin over the postures that must work, at the rounded settings.
	MarginMM float64 `json:"margin_mm"`
	// By how much the worst of what is asked for is missed; 0 when all is met.
	ShortMM float64 `json:"short_mm"`
	// Share of the simulations that track in all postures that must work, 0 to 1.
	Tracks float64 `json:"tracks"`
	// How far the screen sinks under its weight in the posture that leads.
	DropMM float64 `json:"drop_mm"`
	// The joint that takes up most of its slip load; absent when no slip load is known.
	WeakestJoint *JointLoad `json:"weakest_joint,omitempty"`
	// The clearance that has least to spare; absent without keep-clear zones.
	LeastClearance *Clearance `json:"least_clearance,omitempty"`
	// How many settings are not where they are best left.
	Touch int `json:"touch"`
	// What hangs on the carrier: the mount and the device.
	CarriedKG float64 `json:"carried_kg"`
	// The settings, from the clamp outward.
	Settings []SettingValue `json:"settings"`
	// Why this one is above the next; empty for the last.
	Reasons []Finding `json:"reasons"`
	// What does not work.
	Fails []Finding `json:"fails"`
	// What would help when it fails.
	Remedies []Finding `json:"remedies"`
}

// Matched is what a [Match] is made from.
type Matched struct {
	Case        *casefile.Case
	Simulations int
	Seed        uint64
	// Files and Cases are the kits' files and the case with each kit, by
	// candidate.
	Files    []string
	Cases    []*casefile.Case
	Ranking  []match.Ranked
	Unjudged []Unjudged
}

// NewMatch returns the object for m.
func NewMatch(m Matched) *Match {
	out := &Match{
		Version: Version, Kind: "match", Label: m.Case.Label, Simulations: m.Simulations, Seed: m.Seed,
		Works: m.Ranking[0].Result.Works, Ranking: []Ranked{}, Unjudged: listed(m.Unjudged), Assumptions: []casefile.Assumption{},
		Cautions: cautions(circumstancesOf(m.Cases[m.Ranking[0].Candidate], m.Ranking[0].Result)),
	}
	for i, f := range m.Ranking {
		ranked := newRanked(&f, m.Cases[f.Candidate], m.Files[f.Candidate])
		ranked.Reasons = rankedAbove(&f, &m.Ranking[min(i+1, len(m.Ranking)-1)]) // none of the last
		out.Ranking = append(out.Ranking, ranked)
		_, open := m.Case.Uncertainty(f.Result)
		for _, a := range open {
			if !slices.ContainsFunc(out.Assumptions, func(o casefile.Assumption) bool { return o.Key == a.Key && o.Value == a.Value }) {
				out.Assumptions = append(out.Assumptions, a)
			}
		}
	}
	return out
}

// newRanked returns one kit at one place, in the case that holds it.
func newRanked(f *match.Ranked, c *casefile.Case, file string) Ranked {
	there, rep := c.Job.Mount, newReport(Solve, c, f.Result)
	lead := carrierOf(&c.Job, &f.Result.Postures[leading(&c.Job)])
	r := Ranked{
		KitFile: file, Kit: there.Kit.Name, Side: rep.Mount.Side, Clamp: newPoint(lead.Apply(there.Mountings[f.Result.Set.Mounting].ClampMM)),
		Works: rep.Works, Reached: rep.Mount.Reached, OffMM: rep.Mount.OffMM, MarginMM: rep.MarginMM, ShortMM: plain(f.ShortMM),
		Tracks: f.TrackShare(), DropMM: rep.Lead().Sag.DropMM, Touch: f.Touch, CarriedKG: f.CarriedKG, Settings: newSettingValues(f.Result),
		Fails: rep.Reasons, Remedies: slices.DeleteFunc(rep.remedies(), func(f Finding) bool { return f.Kind == tryElsewhere }),
	}
	if rep.Load != nil {
		r.WeakestJoint = rep.Load.Weakest()
	}
	if gaps := nearestFirst(rep.Clearances); len(gaps) > 0 {
		r.LeastClearance = &gaps[0]
	}
	return r
}

// criteria are the criteria of a ranking as the object names them, in what the better kit is
// better, and by which of its numbers.
var criteria = map[match.Criterion]struct {
	kind, says string
	of         func(*match.Ranked) any
}{
	match.Works:         {"works", "works", nil},
	match.MissesLess:    {"misses_less", "misses the requirements by less (%v against %v)", func(r *match.Ranked) any { return Length(r.ShortMM) }},
	match.LargerMargin:  {"larger_margin", "has a larger margin (%v against %v)", func(r *match.Ranked) any { return Length(r.MarginMM) }},
	match.TracksMore:    {"tracks_more", "tracks more often (%v against %v of simulations)", func(r *match.Ranked) any { return Share(r.TrackShare()) }},
	match.FewerSettings: {"fewer_settings", "needs fewer settings changed (%v against %v)", func(r *match.Ranked) any { return r.Touch }},
	match.Lighter:       {"lighter", "is lighter (%v against %v with the device)", func(r *match.Ranked) any { return Mass(r.CarriedKG) }},
	match.FirstNamed:    {"first_named", "is equal in every criterion and was named first", nil},
}

// rankedAbove says why one is above the next in a ranking, and what still speaks for the next.
func rankedAbove(one, next *match.Ranked) []Finding {
	but := "but the next "
	return each(one.Reasons, func(r match.Reason) Finding {
		c, a, b, words := criteria[r.Criterion], one, next, ""
		if r.ForNext {
			a, b, words, but = next, one, but, "and it "
		}
		if c.of == nil {
			return found(c.kind, words+c.says)
		}
		return found(c.kind, words+c.says, c.of(a), c.of(b))
	})
}

// Document returns m in words.
func (m *Match) Document() *Document {
	first := &m.Ranking[0]
	d := &Document{Label: m.Label, Works: m.Works, Verdict: Say("Best of %d: %s.", len(m.Ranking), first.title())}
	if !m.Works {
		d.Verdict = Say("None of %d works. Closest: %s.", len(m.Ranking), first.title())
	}
	return d.with(safety(m.Cautions), m.ranking(), m.unjudged(), m.compared(), m.order(), m.failures(), assumed(m.Assumptions))
}

// title names a kit and its side.
func (r *Ranked) title() string { return r.Kit + ", " + r.Side }

// ranking lists the kits, the best first, and where each is clamped if they differ in more than
// the side.
func (m *Match) ranking() Section {
	s, first := Section{Title: "Ranking", Head: []string{"", "kit, side", "file"}}, &m.Ranking[0].Clamp
	differ := slices.ContainsFunc(m.Ranking, func(r Ranked) bool {
		return r.Clamp.ForwardMM != first.ForwardMM || math.Abs(r.Clamp.LeftMM) != math.Abs(first.LeftMM) || r.Clamp.UpMM != first.UpMM
	})
	if differ {
		s.Head = append(s.Head, "clamp")
	}
	for i, r := range m.Ranking {
		cells := []any{strconv.Itoa(i + 1), r.title(), r.KitFile}
		if differ {
			cells = append(cells, Say("%s, %s, %s up", Way(r.Clamp.ForwardMM, "", "forward", "back"), Way(r.Clamp.LeftMM, "midline", "left", "right"), Length(r.Clamp.UpMM)))
		}
		s.row(cells...)
	}
	return s
}

// unjudged says which kits could not be judged, and why.
func (m *Match) unjudged() Section {
	s := Section{Title: "Could not be judged"}
	for _, u := range m.Unjudged {
		s.line(each(u.Why, Quote)...)
	}
	return s
}

// compared lists the measures that decide, one row for each of the ranking.
func (m *Match) compared() Section {
	s := Section{
		Title: "Comparison",
		Note:  Say("tracks: share of %s simulations of all errors, seed %d; off: from the best position; slip: utilization of the weakest joint; clearance: the least", thousands(m.Simulations), m.Seed),
		Head:  []string{"", "works", "margin", "tracks", "off", "to set", "mass", "sinks", "slip", "clearance"},
	}
	for i, r := range m.Ranking {
		works, slip, clearance := "no", Say("unknown"), Say("-")
		if r.Works {
			works = "yes"
		}
		if r.WeakestJoint != nil {
			slip = Say("%s", Utilization(*r.WeakestJoint.Used))
		}
		if r.LeastClearance != nil {
			clearance = Say("%s", Length(r.LeastClearance.ClearanceMM))
		}
		s.row(strconv.Itoa(i+1), works, Margin(r.MarginMM), Share(r.Tracks), Length(r.OffMM), strconv.Itoa(r.Touch), Mass(r.CarriedKG), Length(r.DropMM), slip, clearance)
	}
	return s
}

// order says why each is above the next.
func (m *Match) order() Section {
	s := Section{Title: "Why in this order"}
	for i := range m.Ranking[:len(m.Ranking)-1] {
		s.row(strconv.Itoa(i+1), Join("; ", each(m.Ranking[i].Reasons, func(f Finding) Text { return f.Text })...))
	}
	return s
}

// failures says what fails, and what would help.
func (m *Match) failures() Section {
	s := Section{ID: SectionReasons, Title: "What fails"}
	for i, r := range m.Ranking {
		for _, f := range r.Fails {
			s.row(strconv.Itoa(i+1), f.Text)
		}
		for _, help := range r.Remedies {
			s.row("", Say("Would help: %s", help.Text))
		}
	}
	return s
}
