package discover

// step1 is a step on one number: from one kind to another.
type step1 struct {
	op       op
	from, to kind
	givens   bool // on givens only
}

// steps1 leaves out what gives nothing new: doubling a plain number is
// doubling the length beside it.
var steps1 = []step1{
	{op: opDouble, from: length, to: length}, {op: opHalf, from: length, to: length},
	{op: opDouble, from: angle, to: angle}, {op: opHalf, from: angle, to: angle},
	{op: opDouble, from: plain, to: plain}, {op: opHalf, from: plain, to: plain},
	{op: opComplement, from: angle, to: angle}, {op: opSupplement, from: angle, to: angle},
	{op: opSin, from: angle, to: plain}, {op: opCos, from: angle, to: plain}, {op: opTan, from: angle, to: plain},
	{op: opAsin, from: plain, to: angle}, {op: opAcos, from: plain, to: angle}, {op: opAtan, from: plain, to: angle},
	{op: opAsin, from: ratio, to: angle}, {op: opAcos, from: ratio, to: angle}, {op: opAtan, from: ratio, to: angle},
	{op: opInverse, from: plain, to: plain, givens: true},
	{op: opMore, from: count, to: count, givens: true}, {op: opLess, from: count, to: count, givens: true},
	{op: opHalfTurn, from: count, to: angle}, {op: opTurn, from: count, to: angle},
	{op: opRoot, from: area, to: length},
	{op: opFromInch, from: length, to: length}, {op: opToInch, from: length, to: length},
}

// step2 is a step on two numbers. commutes says that the order is nothing.
type step2 struct {
	op       op
	l, r, to kind
	commutes bool
}

var steps2 = []step2{
	{op: opAdd, l: length, r: length, to: length, commutes: true},
	{op: opApart, l: length, r: length, to: length, commutes: true},
	{op: opHypot, l: length, r: length, to: length, commutes: true},
	{op: opMul, l: length, r: plain, to: length}, {op: opDiv, l: length, r: plain, to: length},
	{op: opMul, l: length, r: ratio, to: length},
	{op: opMul, l: length, r: count, to: length}, {op: opDiv, l: length, r: count, to: length},
	{op: opDiv, l: length, r: length, to: ratio},
	{op: opMul, l: length, r: length, to: area, commutes: true},
	{op: opApart, l: area, r: area, to: area, commutes: true},
	{op: opAdd, l: angle, r: angle, to: angle, commutes: true},
	{op: opApart, l: angle, r: angle, to: angle, commutes: true},
	{op: opAdd, l: plain, r: plain, to: plain, commutes: true},
	{op: opApart, l: plain, r: plain, to: plain, commutes: true},
	{op: opMul, l: plain, r: plain, to: plain, commutes: true}, {op: opDiv, l: plain, r: plain, to: plain},
	{op: opMul, l: plain, r: count, to: plain}, {op: opDiv, l: plain, r: count, to: plain},
	{op: opMul, l: ratio, r: plain, to: ratio}, {op: opDiv, l: ratio, r: plain, to: ratio},
}
