// Package check holds the tests that look at the whole tree instead of one room:
// that imports follow the table of docs/layers.md, that the rooms of layers 0 to
// 4 do no input or output, that every number of the science rooms names its
// source, that the register of sources is complete and without dead entries,
// that no exported name is without a user, that rooms and files stay readable,
// and that no file holds what a published file should not.
//
// It has no code of its own outside tests and no unit. What is not here: tests
// of what a room computes (they live in that room), formatting and vet (see
// .ci/run). Start at the function load in tree_test.go; each check is a function
// from a tree to a list of findings, and is itself tested on the small wrong
// tree of testdata/wrong.txtar.
package check
