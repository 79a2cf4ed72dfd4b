package remedy

import "testing"

// BenchmarkJudgeAll judges all materials for one bed of one morning.
func BenchmarkJudgeAll(b *testing.B) {
	c := fair()
	for b.Loop() {
		for _, m := range Materials() {
			if len(Judge(c, m)) == 0 {
				b.Fatal("nothing judged")
			}
		}
	}
}

func BenchmarkWindows(b *testing.B) {
	c := fair()
	m := Materials()[0]
	for b.Loop() {
		if len(Windows(c, m)) == 0 {
			b.Fatal("no window")
		}
	}
}
