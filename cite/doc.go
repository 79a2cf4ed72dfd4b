// Package cite is the register of sources. Every constant of the science rooms
// is a [Value]: the number with its unit, its range, the id of its source and a
// grade that says how the number was come by. A test walks all rooms and fails
// on a number without a source or with a source that is not in the register.
package cite
