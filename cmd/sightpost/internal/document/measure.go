package document

// Fine returns mm with a digit more than a tape shows.
func (u Units) Fine(mm float64) string {
	switch u {
	case CM:
		return fixed(mm/10, 2) + " cm"
	case Inch:
		return fixed(mm/mmPerInch, 2) + " in"
	default:
		return fixed(mm, 1) + " mm"
	}
}
