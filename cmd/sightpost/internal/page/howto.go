package page

import (
	"strings"

	"sightpost/cmd/sightpost/internal/casefile"
)

// howTo returns a line that says how an entry is measured: of those that need a tool
// or a trick what to do, of the others what they are.
func howTo(path string, f *casefile.Field) string {
	if line := howTos()[unnumbered(path)]; line != "" {
		return line
	}
	if f.Doc == "" {
		return ""
	}
	return strings.ToUpper(f.Doc[:1]) + f.Doc[1:]
}

// howTos are the lines for entries that are measured rather than copied from a data
// sheet.
func howTos() map[string]string {
	return map[string]string{
		"measured.seat_tilt":            "Inclinometer on the seat. Leaned back is positive; 0 where the chair does not tilt.",
		"measured.back_angle":           "Between seat and back support, on the person's side.",
		"measured.eyes.forward":         "Plumb line from the eyes, tape back to where seat and back support meet.",
		"measured.eyes.left":            "From the middle of the chair to the point midway between the eyes; negative to the right.",
		"measured.eyes.up":              "Tape from the floor to the outer corner of the eye.",
		"measured.head.flexion":         "As seen, or inclinometer. Chin toward the chest is positive.",
		"measured.head.rotation":        "As seen. Face turned to the person's left is positive.",
		"measured.head.lateral_flexion": "As seen. Head leaned toward the left shoulder is positive.",
		"person.pupil_spacing":          "Ruler across the bridge of the nose, from pupil to pupil while the person looks far away.",
		"person.neck_to_eyes.forward":   "From the top of the neck, where the head nods, forward to the eyes.",
		"person.neck_to_eyes.up":        "From the top of the neck, where the head nods, up to the eyes.",
		"person.movement.forward":       "Watch a few minutes of use: how far the head moves forward and back from its usual place.",
		"person.movement.left":          "Watch a few minutes of use: how far the head moves to either side.",
		"person.movement.up":            "Watch a few minutes of use: how far the head moves up and down.",
		"chair.tilt_pivot.forward":      "Tape from where seat and back support meet, forward to the axis about which the seat tilts.",
		"chair.tilt_pivot.up":           "Tape from the floor to that axis.",
		"chair.back_hinge.forward":      "Tape from where seat and back support meet, forward to the axis about which the back support reclines; negative behind.",
		"chair.back_hinge.up":           "Tape from the floor to that axis.",
		"tracker.below":                 "Ruler from the middle of the display area down to the tracker; negative if it is above.",
		"tracker.in_front":              "Ruler from the glass forward to the tracker.",
		"screen.mass":                   "Screen, tracker and housing together, on the scales.",
		"screen.housing.depth":          "Ruler from the glass to the back of the housing.",
		"mount.clamp.at.forward":        "Tape from where seat and back support meet, forward to the middle of the clamp.",
		"mount.clamp.at.left":           "Tape from the middle of the chair to the middle of the clamp; negative to the right.",
		"mount.clamp.at.up":             "Tape from the floor to the middle of the clamp.",
		"mount.clamp.slides":            "How far the clamp may be moved along its tube from there, such as 0 to 120.",
		"postures.seat_tilt":            "Inclinometer on the seat. As measured if left out.",
		"postures.slump":                "How far trunk and head have slid down along the back support. 0 if left out.",
	}
}
