package cli

import (
	"errors"
	"fmt"

	"github.com/spf13/pflag"

	"sightpost/cmd/sightpost/internal/casefile"
	"sightpost/cmd/sightpost/internal/report"
	"sightpost/mount"
	"sightpost/mount/fit"
)

// settingsOptions are the flags of commands that take a mount as it is set.
type settingsOptions struct {
	set  []string
	file string
	side string
}

func (o *settingsOptions) addFlags(f *pflag.FlagSet) {
	f.StringArrayVar(&o.set, "set", nil, "a setting as it stands: `name=value`, such as post.height=412mm")
	f.StringVar(&o.file, "settings", "", "read settings from this `file`: CSV, or YAML with a line for each")
	f.StringVar(&o.side, "side", "", "`side` to clamp the mount on, if the case leaves it open: left or right")
}

// given reports whether any setting was given.
func (o *settingsOptions) given() bool { return len(o.set) > 0 || o.file != "" }

// placed is a case and where its screen stands.
type placed struct {
	kind   report.Kind
	given  *casefile.Case
	sum    string // of the text of the case and its kit
	result *fit.Result
}

// place reads the case in the file called name. With settings the screen stands
// where they hold it, without any where it should.
func place(s Streams, o settingsOptions, name string) (*placed, error) {
	if name == stdinName && o.file == stdinName {
		return nil, errors.New("the case and the settings cannot both come from standard input")
	}
	c, sum, err := readSummed(s, name)
	if err != nil {
		return nil, err
	}
	if o.given() {
		r, err := checked(s, o, &c.Job)
		return &placed{kind: report.Check, given: c, sum: sum, result: r}, err
	}
	r, err := solved(o, c.Job)
	if err != nil {
		err = fmt.Errorf("%s: %w", c.Label, err) // it may be one of several
	}
	return &placed{kind: report.Solve, given: c, sum: sum, result: r}, err
}

// report returns the report of p.
func (p *placed) report() (*report.Report, error) { return report.New(p.kind, p.given, p.result) }

// verdict returns an error if the case is not met.
func (p *placed) verdict() error {
	if p.result.Works {
		return nil
	}
	return unmet(p.given.Label, p.result.Why)
}

// checked returns how the screen fares at the settings of o.
func checked(s Streams, o settingsOptions, job *fit.Job) (*fit.Result, error) {
	at, err := mounting(job, o.side)
	if err != nil {
		return nil, err
	}
	chain, err := job.Mount.Kit.Chain(job.Mount.Mountings[at])
	if err != nil {
		return nil, err
	}
	entries, err := o.entries(s)
	if err != nil {
		return nil, err
	}
	settings, err := settingsOf(chain, entries)
	if err != nil {
		return nil, err
	}
	return fit.Check(job, at, settings)
}

// solved solves the job, on the side of o if it names one.
func solved(o settingsOptions, job fit.Job) (*fit.Result, error) {
	one, err := onSide(o.side, job)
	if err != nil {
		return nil, err
	}
	return fit.Solve(one)
}

// onSide returns the job with the mount on one side alone, if one is named.
func onSide(side string, job fit.Job) (*fit.Job, error) {
	if side == "" {
		return &job, nil
	}
	at, err := mounting(&job, side)
	if err != nil {
		return nil, err
	}
	one := *job.Mount
	one.Mountings = one.Mountings[at : at+1]
	job.Mount = &one
	return &job, nil
}

// mounting returns the place among the job's mountings of the one on the given
// side; "" will do where there is only one.
func mounting(job *fit.Job, side string) (int, error) {
	if job.Mount == nil {
		return 0, errors.New("the case has no mount")
	}
	if side == "" {
		if len(job.Mount.Mountings) > 1 {
			return 0, withHint(errors.New("the case leaves open on which side the mount is clamped"), "add --side left or --side right")
		}
		return 0, nil
	}
	want := mount.OnLeft
	switch side {
	case "left":
	case "right":
		want = mount.OnRight
	default:
		return 0, fmt.Errorf("there is no side %q: choose left or right", side)
	}
	for i, m := range job.Mount.Mountings {
		if m.Side == want {
			return i, nil
		}
	}
	return 0, fmt.Errorf("the case does not let the mount be clamped on the %s", side)
}
