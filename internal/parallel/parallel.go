// Package parallel holds the one way the stages have of working on all cores.
//
// What goes in is a number of pieces of work and a function for one of them; the
// pieces share nothing that is written, and each writes its own place. So the
// result does not depend on the number of cores or on who is first.
package parallel

import (
	"runtime"
	"sync"
)

// Each calls f(0) … f(n−1), on as many goroutines as there are cores, and
// returns when all are done.
func Each(n int, f func(i int)) {
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(n, runtime.GOMAXPROCS(0)) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range next {
				f(i)
			}
		}()
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}
