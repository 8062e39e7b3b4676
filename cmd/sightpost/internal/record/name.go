package record

import (
	"cmp"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"sightpost/cmd/sightpost/internal/disk"
)

// maxCode bounds a code, so that its folder has a name everywhere.
const maxCode = 64

// CheckCode returns an error unless code can name a folder on every system: 1 to 64
// letters, digits and the marks - _ . of which a dot neither begins nor ends it.
func CheckCode(code string) error {
	odd := strings.TrimLeft(code, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.")
	switch {
	case code == "":
		return errors.New("record: the code is empty")
	case len(code) > maxCode:
		return fmt.Errorf("record: the code has %d characters; at most %d are allowed", len(code), maxCode)
	case odd != "":
		return fmt.Errorf("record: the code %q contains %q; use only a to z, A to Z, 0 to 9 and any of - _ . in it", code, []rune(odd)[0])
	case code[0] == '.' || code[len(code)-1] == '.':
		return fmt.Errorf("record: the code %q begins or ends with a dot", code)
	}
	return disk.CheckName(code)
}

// Day is a date as it is written, 2026-11-25. Days compare as text.
type Day string

// ParseDay returns the day that text names.
func ParseDay(text string) (Day, error) {
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return "", fmt.Errorf("record: %q is not a date such as 2026-11-25", text)
	}
	return Day(text), nil
}

// Doubt says in words why a day is hardly that of an assessment that is filed today; "" if it
// may be.
func (d Day) Doubt(today Day) string {
	const years = 10
	switch {
	case d > today:
		return string(d) + " is yet to come: check the date"
	case d < today.After(-365*years):
		return fmt.Sprintf("%s is more than %d years ago: check the date", d, years)
	}
	return ""
}

// DayOf returns the day of t, where t is.
func DayOf(t time.Time) Day { return Day(t.Format(time.DateOnly)) }

// time returns midnight of d, or the zero time if d is no day.
func (d Day) time() time.Time {
	t, _ := time.Parse(time.DateOnly, string(d))
	return t
}

// After returns the day a number of days after d.
func (d Day) After(days int) Day { return DayOf(d.time().AddDate(0, 0, days)) }

// DaysUntil returns how many days after d the day to is.
func (d Day) DaysUntil(to Day) int {
	const day = 24 * time.Hour // in UTC every day is
	return int(to.time().Sub(d.time()) / day)
}

// Name tells the records of one code apart: the day, and which of that day's it is.
type Name struct {
	Day Day
	Nth int // from 1
}

// maxNth bounds the records of one day.
const maxNth = 99

// ParseName returns the record that text names: 2026-11-25, or 2026-11-25-2 for the
// second of that day.
func ParseName(text string) (Name, error) {
	const dated = len(time.DateOnly)
	n := Name{Nth: 1}
	if len(text) > dated {
		nth, err := strconv.Atoi(strings.TrimPrefix(text[dated:], "-"))
		n.Nth = nth
		if err != nil || nth < 2 || nth > maxNth || text[dated:] != "-"+strconv.Itoa(nth) {
			return Name{}, fmt.Errorf("record: %q is not the name of a record; write 2026-11-25, or 2026-11-25-2 for the second of that day", text)
		}
		text = text[:dated]
	}
	var err error
	n.Day, err = ParseDay(text)
	return n, err
}

// String returns the name as [ParseName] takes it.
func (n Name) String() string {
	if n.Nth <= 1 {
		return string(n.Day)
	}
	return string(n.Day) + "-" + strconv.Itoa(n.Nth)
}

// ending is that of a record's file.
const ending = ".yaml"

// nameOf returns the record in a file of that name, if it is the name of one.
func nameOf(file string) (Name, bool) {
	text, ok := strings.CutSuffix(file, ending)
	if !ok {
		return Name{}, false
	}
	n, err := ParseName(text)
	return n, err == nil
}

// compareNames orders names from old to new.
func compareNames(a, b Name) int { return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Nth, b.Nth)) }
