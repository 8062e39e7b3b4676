package fit

// TooClose reports whether the gap is less than is to be kept, by more than rounding.
func (g Clearance) TooClose() bool { return g.MM < g.KeepClear.RequiredMM-roundingMM }
