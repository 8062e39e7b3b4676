package answer

import (
	"regexp"
	"sync"
)

// packages matches the names of packages before a message.
var packages = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(?:(?:page|casefile|document|draft|fit|gaze|mount|plots|record|sheet): )+`)
})

// Plain returns a line of an error for people: without the names of packages before it.
func Plain(line string) string { return packages().ReplaceAllString(line, "") }
