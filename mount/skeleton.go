package mount

import (
	"errors"
	"io"

	"sightpost/gaze/frame"
)

type builder struct{}
type problems struct{}

func (p Clamp) PartName() string   { return p.Name }
func (p Post) PartName() string    { return p.Name }
func (p Elbow) PartName() string   { return p.Name }
func (p Bracket) PartName() string { return p.Name }
func (p Turns) PartName() string   { return p.Name }
func (p Ball) PartName() string    { return p.Name }
func (p Plate) PartName() string   { return p.Name }

func (Clamp) build(*builder)    {}
func (Post) build(*builder)     {}
func (Elbow) build(*builder)    {}
func (Bracket) build(*builder)  {}
func (Turns) build(*builder)    {}
func (Ball) build(*builder)     {}
func (Plate) build(*builder)    {}
func (Clamp) check(*problems)   {}
func (Post) check(*problems)    {}
func (Elbow) check(*problems)   {}
func (Bracket) check(*problems) {}
func (Turns) check(*problems)   {}
func (Ball) check(*problems)    {}
func (Plate) check(*problems)   {}

var errSkeleton = errors.New("mount: not written yet")

// Check reports everything that is wrong with the kit.
func (k Kit) Check() error { return errSkeleton }

// Check reports everything that is wrong with the chain.
func (c Chain) Check() error { return errSkeleton }

// Chain puts the kit on a carrier.
func (k Kit) Chain(m Mounting) (Chain, error) { return Chain{}, errSkeleton }

// Forward returns carrierFromScreen.
func (c Chain) Forward(s Settings) (frame.Pose, error) { return frame.Pose{}, errSkeleton }

// Frames returns carrierFromMoved of every joint, then carrierFromScreen.
func (c Chain) Frames(s Settings) ([]frame.Pose, error) { return nil, errSkeleton }

// Jacobian returns carrierFromScreen and the rates of every setting.
func (c Chain) Jacobian(s Settings) (frame.Pose, []Rate, error) {
	return frame.Pose{}, nil, errSkeleton
}

// Mirrored returns the chain as in a mirror: left is right.
func (c Chain) Mirrored() Chain { return c }

// Links returns the tubes where they are at s.
func (c Chain) Links(s Settings) ([]Link, error) { return nil, errSkeleton }

// Compiled is a chain made ready for inner loops.
type Compiled struct{}

// Compile returns the chain made ready for inner loops.
func (c Chain) Compile() (*Compiled, error) { return nil, errSkeleton }

// Pose returns carrierFromScreen, unchecked and without allocation.
func (k *Compiled) Pose(s Settings) frame.Pose { return frame.Pose{} }

// PoseAndRates fills rates, one for each setting, unchecked and without allocation.
func (k *Compiled) PoseAndRates(s Settings, rates []Rate) frame.Pose { return frame.Pose{} }

// Solve finds settings that bring the screen to target.
func (c Chain) Solve(target frame.Pose, opt Options) (Solution, error) {
	return Solution{}, errSkeleton
}

// Prefer finds the settings that bring the screen to target at the least cost.
func (c Chain) Prefer(target frame.Pose, start Settings, opt Options) (Solution, error) {
	return Solution{}, errSkeleton
}

// WriteURDF writes the chain in the Unified Robot Description Format.
func (c Chain) WriteURDF(w io.Writer, name string) error { return errSkeleton }
