// Command suite reads the events of go test -json on standard input. It prints
// the runner's own line for each package as it comes, the output of tests that
// failed, and at the end one line "N passed, N failed, N skipped".
//
// Only tests that were really executed count: a package whose result came from
// the cache adds nothing. Subtests count with the test they belong to. The exit
// status is 1 when a test or package failed or when no test was executed.
package main
