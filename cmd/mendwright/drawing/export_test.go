package drawing

// What the tests look at beside the drawings themselves.
var (
	Width   = width
	Answers = answers
	Kinds   = kinds
)

// Em is the height of words in units.
const Em = em
