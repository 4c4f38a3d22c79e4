package electrode

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestUsualLawsAreAccepted(t *testing.T) {
	for _, law := range append(everyLaw(), Primary{}, Series{}) {
		assert.NoError(t, Validate(law))
	}
	assert.NoError(t, Guard{Open: 0.3, Wall: 0.003, Hole: 0.006}.Validate())
}

func TestFaultsNameKeyValueAndWhatIsAccepted(t *testing.T) {
	for _, c := range []struct {
		law Law
		key string
	}{
		{Film{Resistance: -0.1}, "film"},
		{Film{Resistance: math.NaN()}, "film"},
		{Film{Resistance: math.Inf(1)}, "film"},
		{Film{Resistance: 1e9}, "film"},
		{Sinh{Exchange: 0, Slope: 0.12}, "exchange"},
		{Sinh{Exchange: 0.03, Slope: -0.12}, "slope"},
		{Tafel{Exchange: 0.03, Slope: math.NaN()}, "slope"},
		{TwoSlope{Knee: 0, AtKnee: 0.4, Below: 0.06, Above: 0.12}, "knee"},
		{TwoSlope{Knee: 100, AtKnee: 0.4, Below: 0.06}, "slope above the knee"},
		{Series{DefaultWall(), Film{Resistance: -1}}, "film"},
	} {
		err := Validate(c.law)
		var fault *RangeError
		require.True(t, errors.As(err, &fault), "%+v", c.law)
		assert.Equal(t, c.key, fault.Key)
	}
	assert.EqualError(t, Validate(Film{Resistance: -0.1}), "film is -0.1 ohm m2: give 0 to 100 ohm m2, 0 for none")
	assert.Error(t, Guard{Open: 30, Wall: 0.003, Hole: 0.006}.Validate(), "a share, no percentage")
}
