package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
)

// digits is how many significant digits a figure keeps in a file: more than any of
// them is good for, fewer than rounding in another order of summation changes.
const digits = 9

// JSON returns result.json. A figure that is not a finite number is an error that
// names it; figures are rounded, so that the same job gives the same bytes.
func (r *Result) JSON() ([]byte, error) {
	rounded := *r
	if rounded.Warnings == nil {
		rounded.Warnings = []string{}
	}
	if rounded.Tank.AirPockets == nil {
		rounded.Tank.AirPockets = []AirPocket{}
	}
	copied, err := roundedCopy(reflect.ValueOf(rounded), "")
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(copied.Interface()); err != nil {
		return nil, fmt.Errorf("result.json cannot be written: %w", err)
	}
	return out.Bytes(), nil
}

// roundedCopy returns a deep copy of v with every float rounded to digits.
func roundedCopy(v reflect.Value, path string) (reflect.Value, error) {
	out := reflect.New(v.Type()).Elem()
	out.Set(v)
	switch v.Kind() {
	case reflect.Float64:
		if math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0) {
			return out, fmt.Errorf("result.json: %s is %v, not a finite number: the field was not solved", path, v.Float())
		}
		out.SetFloat(round(v.Float()))
	case reflect.Pointer:
		if v.IsNil() {
			return out, nil
		}
		inner, err := roundedCopy(v.Elem(), path)
		out.Set(reflect.New(v.Type().Elem()))
		out.Elem().Set(inner)
		return out, err
	case reflect.Struct:
		for i := range v.NumField() {
			field, err := roundedCopy(v.Field(i), joined(path, v.Type().Field(i)))
			if err != nil {
				return out, err
			}
			out.Field(i).Set(field)
		}
	case reflect.Slice:
		if v.IsNil() {
			return out, nil
		}
		out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		return out, roundItems(v, out, path)
	case reflect.Array:
		return out, roundItems(v, out, path)
	}
	return out, nil
}

func roundItems(v, out reflect.Value, path string) error {
	for i := range v.Len() {
		item, err := roundedCopy(v.Index(i), fmt.Sprintf("%s[%d]", path, i))
		if err != nil {
			return err
		}
		out.Index(i).Set(item)
	}
	return nil
}

// joined adds a field to a path by the name it has in the file.
func joined(path string, field reflect.StructField) string {
	name, _, _ := strings.Cut(field.Tag.Get("json"), ",")
	if path == "" {
		return name
	}
	return path + "." + name
}

// round keeps the given number of significant digits; minus zero becomes zero.
func round(x float64) float64 {
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	return y + 0
}
