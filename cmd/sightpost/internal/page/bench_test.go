package page_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
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

// BenchmarkBeside times the same for a window beside another, in which twelve postures that no
// screen serves are worked out all the while. It reports the longest.
func BenchmarkBeside(b *testing.B) {
	folder := b.TempDir()
	if err := os.CopyFS(folder, os.DirFS(shipped)); err != nil {
		b.Fatal(err)
	}
	hard, err := os.ReadFile(filepath.Join(folder, "cases/tilt-two-postures.yaml"))
	if err != nil {
		b.Fatal(err)
	}
	var postures strings.Builder
	for k := range 12 {
		fmt.Fprintf(&postures, "  - {name: p%d, seat_tilt: %d deg, back_angle: %d deg}\n", k, 5*k, 95+3*k)
	}
	before, after, _ := strings.Cut(string(hard), "postures:\n")
	_, after, _ = strings.Cut(after, "keep_clear:\n")
	text := before + "postures:\n" + postures.String() + "keep_clear:\n" + after
	if err := os.WriteFile(filepath.Join(folder, "cases/hard.yaml"), []byte(text), 0o600); err != nil {
		b.Fatal(err)
	}
	w := serve(b, folder)
	other, own := w.openCase("cases/hard.yaml").state(), w.openCase("cases/upright-adult.yaml").state()
	if l := w.live(other); l.State == "wrong" {
		b.Fatal(l.Status)
	}
	ctx, stop := context.WithCancel(b.Context())
	var work sync.WaitGroup
	defer work.Wait()
	defer stop()
	work.Go(func() {
		for typed := 0; ctx.Err() == nil; typed++ {
			other["e:measured.eyes.up"] = "1180." + strconv.Itoa(typed)
			other["number"] = strconv.FormatInt(time.Now().UnixNano(), 10)
			w.post("live", other)
		}
	})
	typed, longest := 0, time.Duration(0)
	b.ResetTimer()
	for b.Loop() {
		typed++
		own["e:measured.eyes.up"] = "1150." + strconv.Itoa(typed)
		start := time.Now()
		if l := w.live(own); l.State == "wrong" {
			b.Fatal(l.Status)
		}
		longest = max(longest, time.Since(start))
	}
	b.ReportMetric(float64(longest.Milliseconds()), "longest-ms")
}
