package document

import (
	"context"

	"sightpost/mount/fit"
	"sightpost/mount/fit/tolerance"
)

// Tolerance is how far one setting may be off, all others as set, before the case no
// longer works: until a posture that must work stops tracking or has less room than was
// wished for, the screen leaves a range wished for, something comes too near to a space
// to be kept clear, to the face or to the floor, or something cannot bear its load.
type Tolerance struct {
	// The lower end.
	From ToleranceEnd `json:"from"`
	// The upper end.
	To ToleranceEnd `json:"to"`
	// Why there is no tolerance, in plain words: the case does not work, and both ends
	// are at the value that is set. Absent when there is one.
	None Text `json:"none,omitzero"`
}

// ToleranceEnd is one end of a tolerance.
type ToleranceEnd struct {
	// The last value that can be read off before something gives out.
	Value float64 `json:"value"`
	// The last value of all before something gives out.
	Bound float64 `json:"bound"`
	// What gives out beyond it, in plain words, or the limit of the setting's range.
	EndedBy string `json:"ended_by"`
	// Name of the posture in which it gives out; absent where the range ends.
	Posture string `json:"posture,omitempty"`
	// Change of the margin for each mm or degree that the setting moves from where
	// it is set toward this end; most often negative.
	RateMM float64 `json:"margin_change"`
}

// addTolerances fills in how far each setting of m may be off.
func (m *Mount) addTolerances(job *fit.Job, r *fit.Result) error {
	found, err := tolerance.Of(context.Background(), job, r)
	if err != nil {
		return err
	}
	for i, t := range found {
		m.Settings[i].Tolerance = Tolerance{From: newEnd(job, t, t.Low), To: newEnd(job, t, t.High), None: noTolerance(job, r, t.Why)}
	}
	return nil
}

// noTolerance says why there is no tolerance; nothing where there is one.
func noTolerance(job *fit.Job, r *fit.Result, why *fit.Reason) Text {
	if why == nil {
		return Text{}
	}
	return reasonText(job, r, why)
}

func newEnd(job *fit.Job, t tolerance.Tolerance, e tolerance.End) ToleranceEnd {
	end := ToleranceEnd{
		Value:   inUnit(t.Joint, e.Readable),
		Bound:   inUnit(t.Joint, e.At),
		EndedBy: endWords(e.Bound),
		RateMM:  plain(t.RatePerReading(e)),
	}
	if e.Posture >= 0 {
		end.Posture = job.Postures[e.Posture].Name
	}
	return end
}
