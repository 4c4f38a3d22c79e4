package job

// Answer is what a job says to a question of yes or no. The zero value is that it does
// not say.
type Answer int

const (
	Unsaid Answer = iota
	Yes
	No
)

var answers = []option[Answer]{{"yes", Yes}, {"no", No}, {"true", Yes}, {"false", No}}

// String gives the word of the job file, "" when it does not say.
func (a Answer) String() string { return word(answers, a) }
