package table

// addRows adds rows times factors to a sum, one after the other. Four at a time the sum is read and
// written once for all of them.
func addRows(sum []float32, by []float32, row func(k int) []float32) {
	n, k := wide(len(sum)), 0
	for ; n > 0 && k+4 <= len(by); k += 4 {
		var rows [4]*float32
		for i := range rows {
			r := row(k + i)[:len(sum)]
			rows[i] = &r[0]
			add(sum[n:], by[k+i], r[n:])
		}
		addFourWide(&sum[0], &rows, (*[4]float32)(by[k:]), n)
	}
	for ; k < len(by); k++ {
		add(sum, by[k], row(k))
	}
}
