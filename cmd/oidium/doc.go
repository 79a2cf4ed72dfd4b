// Command oidium says each morning where powdery mildew is likely in a garden,
// which leaves to look at, and what to do or to leave.
package main
