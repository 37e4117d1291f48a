//go:build !race

package grading

const slowBy = 1
