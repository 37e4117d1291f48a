package notation

import "math"

// function is a row of the table of functions.
type function struct {
	name      string   // as in [Call].Func
	shown     string   // as read back
	spellings []string // as typed
	inverse   string   // what sin⁻¹ means; empty where ⁻¹ means nothing
	takes     bool     // takes an angle: a bare number in it may be degrees
	gives     bool     // gives an angle, in radians
	eval      func(float64) float64
}

// The inverse functions are read back as arcsin, arccos, arctan: "asin" beside
// a length called a could be taken for a times the sine.
var functions = []function{
	{name: "sin", shown: "sin", spellings: []string{"sin"}, inverse: "asin", takes: true, eval: math.Sin},
	{name: "cos", shown: "cos", spellings: []string{"cos"}, inverse: "acos", takes: true, eval: math.Cos},
	{name: "tan", shown: "tan", spellings: []string{"tan"}, inverse: "atan", takes: true, eval: math.Tan},
	{name: "asin", shown: "arcsin", spellings: []string{"arcsin", "asin"}, gives: true, eval: math.Asin},
	{name: "acos", shown: "arccos", spellings: []string{"arccos", "acos"}, gives: true, eval: math.Acos},
	{name: "atan", shown: "arctan", spellings: []string{"arctan", "atan"}, gives: true, eval: math.Atan},
	{name: "sqrt", shown: "sqrt", spellings: []string{"sqrt"}, eval: math.Sqrt},
	{name: "abs", shown: "abs", spellings: []string{"abs"}, eval: math.Abs},
}

// functionsBy indexes functions by the first letter of a spelling, so that
// scanning a word looks at no more than the rows that can begin it.
var functionsBy [128][]functionSpelling

type functionSpelling struct {
	text string
	row  int
}

// squareRoot is the row that √ stands for.
var squareRoot = functionRow("sqrt")

const functionList = "the functions here are sin, cos, tan, arcsin, arccos, arctan, sqrt and abs"

func init() {
	for row, f := range functions {
		for _, s := range f.spellings {
			functionsBy[s[0]] = append(functionsBy[s[0]], functionSpelling{s, row})
		}
	}
}

// functionRow is the row of a function by its name in the tree, -1 if none.
func functionRow(name string) int {
	for row := range functions {
		if functions[row].name == name {
			return row
		}
	}
	return -1
}

// elsewhere are words learners bring from other languages, calculators and
// courses: what to write instead.
var elsewhere = map[string]string{
	"sen": "did you mean sin?", "sine": "did you mean sin?", "sinus": "did you mean sin?",
	"cosine": "did you mean cos?", "cosinus": "did you mean cos?", "coseno": "did you mean cos?",
	"tg": "did you mean tan?", "tang": "did you mean tan?", "tangent": "did you mean tan?",
	"arctg": "did you mean arctan?", "invsin": "did you mean arcsin?",
	"root": "did you mean sqrt?", "sqr": "did you mean sqrt?", "rt": "did you mean sqrt?",
	"sec": "write 1/cos(...)", "csc": "write 1/sin(...)", "cosec": "write 1/sin(...)",
	"cot": "write 1/tan(...)", "ctg": "write 1/tan(...)",
	"ln": functionList, "log": functionList, "exp": functionList,
}
