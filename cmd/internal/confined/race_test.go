//go:build race

package confined

// raced: the tests run under the race detector.
const raced = true
