package server

import "strings"

// A sheet code is what stands on a printed sheet, to be typed or followed as a
// link: it names one sheet of one class. It is no secret: whoever types it is
// signed in, and the class's staff only get further.
//
// Class and sheet become one number, which is spelt in the letters of all
// codes (five bits each, as few as four of them), and a check letter follows.
// One wrong letter, or two neighbours swapped, never gives another code.

const (
	sheetCodeLeast = 5  // letters, the check letter included
	sheetCodeMost  = 13 // of 60 bits, the check letter included
)

// sheetCode spells the code of a sheet: "7KQ4M".
func sheetCode(class int64, sheet int) string {
	n, letters := paired(uint64(class), uint64(sheet)), sheetCodeLeast-1
	for n>>(5*letters) != 0 {
		letters++
	}
	n = mixed(n, letters, mixer)
	digits := make([]byte, letters)
	for i := range digits {
		digits[i] = byte(n >> (5 * (letters - 1 - i)) & 31)
	}
	var b strings.Builder
	for _, d := range append(digits, check(digits)) {
		b.WriteByte(codeLetters[d])
	}
	return b.String()
}

// readSheetCode reads a code as somebody typed it, small letters, spaces and
// strokes included. ok is false where it is none.
func readSheetCode(text string) (class int64, sheet int, ok bool) {
	code, ok := readCode(text)
	if !ok || len(code) < sheetCodeLeast || len(code) > sheetCodeMost {
		return 0, 0, false
	}
	n, digits := uint64(0), make([]byte, len(code))
	for i := range digits {
		digits[i] = byte(strings.IndexByte(codeLetters, code[i]))
	}
	letters := len(code) - 1
	if check(digits[:letters]) != digits[letters] {
		return 0, 0, false
	}
	for _, d := range digits[:letters] {
		n = n<<5 | uint64(d)
	}
	n = mixed(n, letters, unmixer)
	if letters >= sheetCodeLeast && n>>(5*(letters-1)) == 0 {
		return 0, 0, false // it would be spelt with fewer letters
	}
	c, s := unpaired(n)
	if c == 0 || s == 0 || c >= 1<<30 || s >= 1<<30 {
		return 0, 0, false
	}
	return int64(c), int(s), true
}

// paired numbers the pairs of numbers: those with the larger one below k come
// before all others, so small numbers give a small one (M. Szudzik's pairing,
// from memory; a test reads every pair back).
func paired(a, b uint64) uint64 {
	if a < b {
		return b*b + a
	}
	return a*a + a + b
}

func unpaired(n uint64) (a, b uint64) {
	root := uint64(0)
	for bit := uint64(1) << 31; bit > 0; bit >>= 1 {
		if (root+bit)*(root+bit) <= n {
			root += bit
		}
	}
	rest := n - root*root
	if rest < root {
		return rest, root
	}
	return root, rest - root
}

// mixer is an odd number without a pattern in its bits, and unmixer what takes
// it back modulo any power of two up to 2^64: neighbours then look unlike.
const (
	mixer   = 0x9e3779b97f4a7c15
	unmixer = 0xf1de83e19937733d
)

func mixed(n uint64, letters int, by uint64) uint64 { return n * by & (1<<(5*letters) - 1) }

// check is the letter that makes a code's letters, each times a power of an
// element of the field of 32 elements that has 31 different ones, add up to
// nothing. One wrong letter changes the sum, and so do two swapped neighbours.
func check(digits []byte) byte {
	sum := byte(0)
	for _, d := range digits {
		sum = doubled(sum ^ d)
	}
	return sum
}

// doubled multiplies by x in the field of 32 elements, modulo x⁵ + x² + 1.
func doubled(d byte) byte {
	d <<= 1
	if d&32 != 0 {
		d ^= 32 | 4 | 1
	}
	return d
}

// sheetCodeGroups spells a sheet's code in groups that the eye can hold.
func sheetCodeGroups(code string) string {
	if len(code) <= sheetCodeLeast {
		return code
	}
	return code[:3] + " " + code[3:]
}
