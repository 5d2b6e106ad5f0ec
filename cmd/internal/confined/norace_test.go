//go:build !race

package confined

const raced = false
