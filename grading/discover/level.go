package discover

// level is how far a formula lies from what anybody would write first. The
// more formulas a level has, the more of them fit by chance, so each level is
// held against the best that it finds in the decoy, those before it included.
type level uint8

const (
	noLevel   level = iota
	oneEdit         // one change of the right formula
	twoEdits        // two changes
	bankStart       // formulas of the bank, by their cost from here
	middle    = 30  // two formulas of the bank put together, by nodes beyond it
	levels    = middle + mostBeyond + 1
)

// bankLevel is the level of a formula of the bank by its cost: see
// [bank.levels]. The few cheapest are one level, the many dearest too.
func bankLevel(cost int) level { return bankStart + level(min(max(cost-3, 0), 7)) }

// first is the first level that a level is counted with.
func (l level) first() level {
	switch {
	case l >= middle:
		return middle
	case l >= bankStart:
		return bankStart
	}
	return oneEdit
}
