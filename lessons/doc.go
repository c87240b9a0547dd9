// Package lessons loads lesson modules and renders them. A module is a folder
// with one Markdown file and, if it needs them, pictures. Everything wrong in
// a set of modules is found at once, each fault with its file and line.
//
//	shipped, err := lessons.Shipped()                   // what comes with the program
//	lib, err := lessons.Load(os.DirFS("mine"), shipped) // err joins *Error values
//	found := lessons.Check(os.DirFS("mine"), shipped)   // for the command line
//
// # The file
//
// It begins with YAML front matter between two lines of three hyphens: id
// (small letters, digits, hyphens), title, summary, needs (a list of module
// ids, [] for none), skills (id: name) and version (a whole number from 1) must
// be there. explains (slip: section) may be: it says which section explains a
// kind of slip, for every lesson that has none of its own. No other key may.
//
// The text is Markdown with tables, definition lists and typographic quotes.
// Raw HTML is left out and reported. Sections begin with ##, because the title
// is the page's first-level heading; no level is left out. A heading's id is
// its words joined by hyphens. Links go to a section (#the-two-mouth-points),
// to a module (half-angles, half-angles#words) or to an https address. A
// picture stands in the module's folder and needs its text: ![what it
// shows](plan.png).
//
// A definition list explains words: each becomes a place of the page (the word
// Reference face gets the id word-reference-face) and an entry of the glossary,
// [Library.Glossary].
//
// # Formulas and results
//
// $formula$ is written in the formula language and becomes MathML with the
// symbols of the catalogue. A formula may use the ids of every family that a
// block of the page names, and the givens and steps of the page's own
// exercises. A paragraph that holds only $name = formula$ is set apart, with a
// line “In words: …” below it, and must give what the geometry gives on the
// page's example. Wrong ways are shown inside a line or a table, where nothing
// is held against them. The sign itself is written \$.
//
// [= formula] prints the value on the nearest sizes block above: two decimals
// and the unit. [= formula in] asks for another unit (mm, in, deg, mm2).
// [= name = formula] prints the whole line with the figures put in, and is a
// fault where the formula does not give what the name has on that example.
//
// # Blocks
//
// A sizes block is an example: family (or exercise, for one of the page
// without a family), an optional caption, and a value for each given.
//
//	```sizes
//	family: head-v-joint
//	thickness: 27
//	…
//	```
//
// A figure block draws a view of a family: family, view, caption, alt (what it
// shows, in words), and sizes where it should not use the example above it. For
// tools and ways to measure it names a sketch instead of a family and a view.
//
// A caution block holds Markdown text.
//
// An exercise block holds id, title, family, given (a range such as “24..32 by
// 0.5” for each given, or one size, or a list of sizes), inch (the same in
// inches: “15/16..1 1/4 by 1/16”), keep (rules such as “thickness <=
// v_length”), steps (ids, or mappings with id, skill, view, carries, alone,
// hints, explain, tolerance …), harmless (slips that may land near the key:
// step, pattern, detail), patterns (own slips: id, step, formula, says, hint)
// and explain (slip: section of this page). A step goes on from the earlier
// steps that its formula names, or from those that carries lists; alone: true
// says that it does not. Without a family each given is a mapping with range,
// unit (mm, deg, mm2 or 1), name, symbol and means, and each step has its own
// name, symbol, unit, from (the datum, a sentence) and formula.
//
// Every other fence is plain code.
//
// # What is checked
//
// Ids that nobody knows, and ids given twice; formulas that add a length to an
// angle, or do not give what the geometry gives on the page's example; ranges
// that cannot be built, or on which a slip cannot be told from a right answer
// (blanks are drawn on trial); figures that cannot be drawn, and figures and
// pictures without words for people who do not see them; links that lead
// nowhere, within the page and between modules; headings out of order. Text
// that is hard to read gets a warning: sections above grade 8 by the
// Flesch-Kincaid formula, and sentences of more than 32 words.
package lessons
