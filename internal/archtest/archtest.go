// Package archtest holds the house rules as tests: who may import whom, what every package says of
// itself, what stands where.
package archtest
