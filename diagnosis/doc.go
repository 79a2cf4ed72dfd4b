// Package diagnosis tells powdery mildew from what looks like it: a key of
// questions that are answered with a thumb, a hand lens, three days of patience
// or a night in a damp bag, and the outcomes they lead to.
//
// The key is data (data/questions.csv, answers.csv, outcomes.csv), edited without
// programming. Each outcome is sure, likely, or cannot tell, and names what to
// look at and to photograph next. An outcome that cannot tell opens no treatment:
// powdery and downy mildew need different materials.
//
// No units but days and millimetres in the sentences. Out of scope: pictures
// (room photo), which mildew threatens which crop (room mildew), counting leaves
// (room scout).
//
// Start at [Follow].
package diagnosis
