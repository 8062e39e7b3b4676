package fit

import (
	"errors"
	"fmt"

	"sightpost/gaze/frame"
	"sightpost/mount"
)

// Attitude returns how the plate is turned in the leading posture, with the device on it.
func (r *Result) Attitude() mount.Attitude {
	return mount.AttitudeOf(r.Postures[max(r.Job.Leading(), 0)].Screen.Rot)
}

// mostTurns bounds how often the sag is computed until it is that of the settings found.
const mostTurns = 50

// TurnPlate returns settings with those of the last ball such that the plate, under the
// load, is turned by an attitude in a posture. The error is that of [mount.Chain.TurnBall],
// or wraps [ErrJob].
func (s *LoadedMount) TurnPlate(set mount.Settings, to mount.Attitude, posture int) (mount.Settings, error) {
	const settled = 1e-11 // radians
	loaded := s.carriers[posture].Inverse().Mul(to.Matrix())
	unloaded := loaded
	for range mostTurns {
		next, err := s.chain.TurnBall(set, unloaded)
		var tip *mount.TipError
		if err != nil && !errors.As(err, &tip) {
			return nil, err
		}
		_, sag, failed := s.under(next, s.gravity[posture])
		if failed != nil {
			return nil, failed
		}
		set = next
		was := unloaded
		unloaded = sag.Rot.Inverse().Mul(loaded)
		if was.Inverse().Mul(unloaded).Angle() < settled {
			return readableBall(s.chain, set), err
		}
	}
	return nil, fmt.Errorf("%w: the plate sags too much to be turned as it should", ErrJob)
}

// readableBall returns settings with those of the last ball at a readable value where they
// miss one by no more than rounding.
func readableBall(c mount.Chain, s mount.Settings) mount.Settings {
	const rounding = 1e-6 * frame.Degree
	first, places := c.LastBall(), c.MovingPlaces()
	for i := first; i < first+3; i++ {
		if v := c.Joints[places[i]].Round(s[i]); frame.Angle(v-s[i]) < rounding && frame.Angle(s[i]-v) < rounding {
			s[i] = v
		}
	}
	return s
}
