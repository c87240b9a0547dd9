// Package skills says from a student's answers which skills are shown, and what
// to take up next. It is a rule that can be worked out by hand:
//
// What counts. Each asked number trains one skill, which its lesson names. Of
// every sheet, a student's first answer to each number counts, whatever is sent
// later: later answers had a hint. A right number, and one that follows rightly
// from the student's own earlier ones, counts 1; one within twice the tolerance
// 1/2; a wrong one 0. Practice counts nothing.
//
// Forgetting. An answer weighs 1 on its day and half as much every six weeks:
// 2^(-weeks/6). The six weeks are a choice (about half a term), not a
// measurement.
//
// The share. With r the weighed sum of what was right and n the weighed number
// of answers, the chance that the next first answer is right is taken as
// (r + 1) / (n + 2): the mean of a Beta distribution that begins even, which is
// Laplace's rule of succession (1774).
//
// The states. At a chance of 3/4 a skill is "shown": two fresh right answers
// reach it, one does not. One that is below, and would reach it if its answers
// were fresh, has "faded". Every other one with answers is "in work"; without
// answers it is "not tried".
//
// What next. Of the skills in work or faded the one with the smallest chance;
// if the lesson where it is taught first needs lessons where other such skills
// are taught first, then the one of those, and so on down. Where there is none,
// the first lesson in teaching order with a skill not tried of which every
// needed lesson is settled: none of its skills is below "shown".
//
//	levels := skills.Levels([]skills.Sign{{Skill: "slope", Score: 1}, {Skill: "slope", Score: 1}})
//	levels["slope"].State // skills.Shown: (2+1)/(2+2) = 0.75
package skills
