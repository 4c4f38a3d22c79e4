package job

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Two letters that changed places are nearer than two other letters.
func TestNearestTakesLettersInAnotherOrderFirst(t *testing.T) {
	assert.Equal(t, "length", nearest("lenght", []string{"height", "length", "width"}))
	assert.Equal(t, "height", nearest("hieght", []string{"height", "length", "width"}))
	assert.Equal(t, "width", nearest("widht", []string{"height", "length", "width"}))
}
