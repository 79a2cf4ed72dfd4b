// Package remedy knows what may be done to a mildewed bed: the materials and
// what they do, the rules that forbid them, how much to mix, in which hours,
// and how much leaf can be taken off.
//
// Units: degrees Celsius, m/s of wind at 2 m, millimetres
// of rain, litres of mix, grams or millilitres of product, shares from 0 to 1.
// Materials are named by active ingredient and form, never by brand.
//
// Nothing here is legal advice. The label in force and local law overrule every
// figure of this package. A number that only the label can give and that has
// not been entered is unknown; the outcome of a rule that needs it is "ask",
// and "ask" blocks as "refused" does.
//
// Out of scope: what an epidemic does with an effect (room epidemic), which
// action pays (room plan), tunnel climate (room tunnel), records (ledger).
//
// This room is larger than 2 500 lines because its rules are many and all look at
// one case and say one kind of check: materials, law, history, weather, water,
// light and heat. Units and dilutions live apart in oidium/remedy/mixing.
//
// Start at [Judge], which looks at every rule for one material and one bed, and
// at [Deposit], which turns a recorded treatment into effects.
package remedy
