package draft

import (
	"strconv"
	"strings"
)

// above returns the path of what holds the entry at path: "a.b[2]" for "a.b[2].c",
// "a.b" for "a.b[2]", "" for "a".
func above(path string) string {
	return path[:max(strings.LastIndexAny(path, ".["), 0)]
}

// under reports whether p lies under path.
func under(p, path string) bool {
	return len(p) > len(path) && strings.HasPrefix(p, path) && (p[len(path)] == '.' || p[len(path)] == '[')
}

// last returns the key at the end of path; "" for a list entry.
func last(path string) string {
	if strings.HasSuffix(path, "]") {
		return ""
	}
	return path[strings.LastIndexByte(path, '.')+1:]
}

// below returns the path of key under path.
func below(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// entryPath returns the path of entry nth, from 1, of the list at path.
func entryPath(path string, nth int) string { return path + "[" + strconv.Itoa(nth) + "]" }

// numbered returns the list and the number of a path that ends with one.
func numbered(path string) (in string, nth int, ok bool) {
	in = above(path)
	nth, rest, ok := entryOf(path, in)
	return in, nth, ok && rest == ""
}

// entryOf returns the number of the entry of the list in that path leads through, and
// the rest of the path.
func entryOf(path, in string) (nth int, rest string, ok bool) {
	inside, ok := strings.CutPrefix(path, in+"[")
	if !ok {
		return 0, "", false
	}
	number, rest, ok := strings.Cut(inside, "]")
	if !ok {
		return 0, "", false
	}
	nth, err := strconv.Atoi(number)
	return nth, rest, err == nil && nth >= 1
}
