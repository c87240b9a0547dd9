// Package discover finds the wrong formulas that a class has in common, from
// numbers alone. Every student has another blank, so a formula that several of
// them used shows itself: it gives all their answers. Nobody has to have thought
// of it before.
//
//	var banks discover.Banks // one a process, shared
//	answer, err := discover.Judge(ex, step, parameters, "24.2", grading.Millimetres)
//	report, err := banks.Search(ctx, discover.Problem{Exercise: ex, Step: step, Answers: answers}, nil)
//
// # What is searched
//
// Set aside are right and near answers, answers within a twentieth of the key,
// and answers of an error pattern that is seen three times or more. The others
// are held against three lots of formulas:
//
//   - the right formula with one or two changes (change.go);
//   - the bank: all formulas of up to seven or eight nodes over the givens that
//     make sense as to their kinds, each once (grow.go);
//   - larger ones, met in the middle: two of the bank and one more step, of
//     which an answer picks out the few that can be meant (middle.go).
//
// An answer stands for anything that is written like it: 24.2 for 24.15 to
// 24.25.
//
// # What is chance
//
// Among so many formulas some give five answers of thirty by chance. How many
// is measured on the class itself: every answer is put on the next student's
// blank, where no formula has any business, and the best that is found there is
// the decoy's count d. A finding needs k ≥ 2d + 2 answers, and five. Formulas
// are held against the best of those that are as near at hand as they are
// ([level]), so that a simple one needs fewer. A formula must also hit more than
// it misses by a digit: one that only comes near the one that was used does not.
//
// The formula that gives most answers is taken, of nearly equal ones the
// simplest; its answers are taken out, and the rest are looked at again.
//
// # How it is quick
//
// Formulas share their parts, and the parts are worked out for thirty-two
// students at a time; a last step is compared with the answers as it is made.
// Of classes over two hundred a sample is tried first. A bank is made once for
// all exercises with the same kinds of givens and kept. A search stops when its
// context ends, and the same problem has the same report every time.
package discover
