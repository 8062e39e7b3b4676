package mount

// JointStiffness is how a joint behaves under load once it is tightened. The zero value is
// stiff, and at which load it slips is not known.
type JointStiffness struct {
	// SlipLoad is the load at which the joint begins to slip: the moment about the
	// axis of a turn (N·m), the force along the axis of a slide (N); 0 if it is
	// not known.
	SlipLoad float64
	// Compliance is how far a turn moves for each N·m about its axis (radians).
	Compliance float64
	// AnyAxis says that the joint is a ball, which slips and gives alike about every
	// axis: SlipLoad and Compliance are then of the whole moment at its middle.
	AnyAxis bool
}

// Rated is the heaviest load that one part of a chain is made for: the mass of
// all that it carries beyond itself.
type Rated struct {
	Part  string
	First int     // index of the first joint of the part
	Next  int     // index of the first joint beyond the part; what it carries begins there
	KG    float64 // 0 if not known
}
