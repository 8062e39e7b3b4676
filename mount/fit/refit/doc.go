// Package refit finds the least work that restores the margin of a mount after the
// person's sitting has changed, and the order of that work.
//
// [Find] takes a job as the person sits now and the settings as found on the mount, and
// returns a [Plan]: read that type first. [Steps] puts changes of settings in order.
//
// Sets of settings are tried in the order of their effort, and the first that is enough
// is taken. Trying every cheaper set took up to 8 s on random cases, because a set that
// fails has to be searched from many starts. So a set that fails is grown for as long as
// it still fails, and every part of it is known to fail as well: see planner.grow. That
// leaves some five sets to search, and names the few that say why nothing cheaper is
// enough.
package refit
