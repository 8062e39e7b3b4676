package page_test

import (
	"strconv"
	"testing"
)

// BenchmarkLive times what the server takes from what was typed to the drawing: each
// time the eyes are another mm higher, so that nothing is remembered.
func BenchmarkLive(b *testing.B) {
	for _, name := range []string{"upright-adult", "tilt-two-postures", "driver", "heavy-on-long-arm"} {
		b.Run(name, func(b *testing.B) {
			w := serve(b, shipped)
			f := w.openCase("cases/" + name + ".yaml").state()
			height, typed := 1150, 0
			b.ResetTimer()
			for b.Loop() {
				typed++
				f["e:measured.eyes.up"] = strconv.Itoa(height+typed%60) + "." + strconv.Itoa(typed)
				if l := w.live(f); l.State == "wrong" {
					b.Fatal(l.Status)
				}
			}
		})
	}
}

// BenchmarkTurn times turning the drawing of a case that is remembered.
func BenchmarkTurn(b *testing.B) {
	w := serve(b, shipped)
	f := w.openCase("cases/upright-adult.yaml").state()
	f["figure"] = "view3d"
	turned := 0
	b.ResetTimer()
	for b.Loop() {
		turned++
		f["turn"] = strconv.Itoa(turned % 180)
		w.live(f)
	}
}
