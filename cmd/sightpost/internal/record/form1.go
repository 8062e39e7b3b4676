package record

import (
	"cmp"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"

	"sightpost/cmd/sightpost/internal/casefile"
)

// The first form of a record differs from the second in the names of some keys, of its
// own and of the case and kit that it holds. What was filed stays as it is; it is read
// in the keys of today.

// headV1 renames the keys of a record's own lines. Every value is in one line.
var headV1 = strings.NewReplacer(
	"\n  tightest_posture: ", "\n  limiting_posture: ",
	"\n  tightest: ", "\n  limiting: ",
	"\n    tightest: ", "\n    limiting: ",
	"\n    leaned_back_deg: ", "\n    tilt_deg: ",
	"\n    turned_left_deg: ", "\n    rotation_deg: ",
	"\n    right_raised_deg: ", "\n    roll_deg: ",
)

// keysV1 are keys of cases and kits that were renamed, after the key that holds
// them; a list counts as the key that holds them.
var keysV1 = map[string]string{
	".wish": "preferences", "wish.bump": "shock_factor", "wish.safety": "safety_factor", "wish.least_from_face": "face_clearance",
	".spreads":         "uncertainty",
	"person.eye_reach": "gaze_range", "person.spectacles": "glasses",
	"screen.lit": "display", "screen.casing": "housing",
	"keep_clear.gap": "clearance", "face.gap": "clearance", "trunk.gap": "clearance", "joystick.gap": "clearance",
	"thighs.gap": "clearance", "thighs.thick": "thickness", "thighs.apart": "spacing",
	"armrests.gap": "clearance", "armrests.thick": "thickness", "armrests.apart": "spacing",
	"tray.gap": "clearance", "tray.thick": "thickness",
	"box.turned":   "rotation",
	"clamp.turned": "rotation", "clamp.leaned_back": "tilt", "clamp.leaned_left": "roll",
	"bracket.turned": "rotation", "bracket.leaned_back": "tilt", "bracket.leaned_left": "roll",
	"clamp.along_step": "position_step", "clamp.along_effort": "position_effort", "clamp.along_holds": "position_slip_force",
	"arm.reach": "extension", "reach.holds": "slip_force", "height.holds": "slip_force",
	"elbow.rise": "elevation", "elbow.pan_to_rise": "pan_to_elevation", "elbow.rise_to_end": "elevation_to_end",
	"material.young": "elastic_modulus", "material.shear": "shear_modulus",
}

// anywhereV1 are keys that were renamed wherever they are; settingsV1 are what moves of a
// part in the names of settings.
var (
	anywhereV1 = map[string]string{"holds": "slip_torque", "gives": "compliance"}
	settingsV1 = map[string]string{"reach": "extension", "rise": "elevation", "along": "position"}
)

// settingV1 returns today's name of a setting of the first form: "arm.extension" for
// "arm.reach". Parts may have names of their own.
func settingV1(name string) string {
	part, what, _ := strings.Cut(name, ".")
	if now, renamed := settingsV1[what]; renamed {
		return part + "." + now
	}
	return name
}

// decodeV1 reads the first form and returns it as one of today, the case and the kit
// too: all but their keys is as it was filed.
func decodeV1(text string) (*Record, error) {
	r, err := decode(text, headV1.Replace)
	if err != nil {
		return nil, err
	}
	r.Version, r.Case, r.Kit = Version, caseFromV1(r.Case), caseFromV1(r.Kit)
	for i := range r.Settings {
		r.Settings[i].Name = settingV1(r.Settings[i].Name)
	}
	return r, nil
}

// renaming is a word of a text to be replaced.
type renaming struct {
	at       *token.Position
	was, now string
}

// caseFromV1 returns the text of a case or a kit with its keys renamed. A text that is
// no YAML stays as it is: whoever reads it will say so.
func caseFromV1(text string) string {
	root, err := casefile.Tree("case", text)
	if err != nil {
		return text
	}
	all := renameIn(nil, root, "", "")
	slices.SortFunc(all, func(a, b renaming) int { // from the end, so that places stay right
		return cmp.Or(cmp.Compare(b.at.Line, a.at.Line), cmp.Compare(b.at.Column, a.at.Column))
	})
	lines := strings.SplitAfter(text, "\n")
	for _, r := range all {
		line := []rune(lines[min(r.at.Line, len(lines))-1])
		at := min(r.at.Column, len(line)+1) - 1
		before, rest := string(line[:at]), string(line[at:])
		if strings.HasPrefix(strings.TrimPrefix(rest, `"`), r.was) {
			lines[r.at.Line-1] = before + strings.Replace(rest, r.was, r.now, 1)
		}
	}
	return strings.Join(lines, "")
}

// renameIn adds what is to be renamed in a node that is under a key, which itself
// is under another.
func renameIn(all []renaming, n ast.Node, above, under string) []renaming {
	switch n := n.(type) {
	case *ast.MappingNode:
		for _, v := range n.Values {
			all = renameIn(all, v, above, under)
		}
	case *ast.MappingValueNode:
		key := n.Key.GetToken()
		if now := cmp.Or(keysV1[under+"."+key.Value], anywhereV1[key.Value]); now != "" {
			all = append(all, renaming{key.Position, key.Value, now})
		}
		all = renameIn(all, n.Value, under, key.Value)
	case *ast.SequenceNode:
		for _, v := range n.Values {
			all = renameIn(all, v, above, under)
		}
	case *ast.StringNode:
		now := n.Value
		switch {
		case under == "material":
			now = strings.Replace(now, "aluminium", "aluminum", 1)
		case under == "about", under == "name" && above == "settings":
			now = settingV1(now)
		}
		if now != n.Value {
			all = append(all, renaming{n.Token.Position, n.Value, now})
		}
	}
	return all
}
