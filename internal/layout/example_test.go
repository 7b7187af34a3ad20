package layout

import "fmt"

// A plain wall, 20 ft long under a deck at 10 ft, studs at 16 in.
func ExampleSolve() {
	run, env := sketch{length: 240 * in, spacing: 16 * in, deck: level(120 * in), board: fourFoot()}.run()
	best := Solve(run, env)[0]
	fmt.Println(best.Why)
	for _, p := range best.Pieces[:2] {
		box := p.Outline.Bounds()
		fmt.Printf("%s: %v x %v in, centres", p.ID, box.W().Inches(), box.H().Inches())
		for _, c := range p.Centres {
			fmt.Printf(" %v", c.Inches())
		}
		fmt.Println()
	}
	// Output:
	// Left side first, from its right end with an uncut sheet; studs at 16 in from 0 in, so that its first joint stands on one; one sheet reaches the head. The next best has more joint to finish.
	// 1-W001-L1/1/01: 48 x 118.75 in, centres 0 16 32 48
	// 1-W001-L1/1/02: 48 x 118.75 in, centres 0 16 32 48
}
