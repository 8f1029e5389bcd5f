package climate

import "hodaba/yard"

// Plain is the weather of mean years only: every day has its normal minimum
// and maximum, without anomalies and without warming. Rain still comes in
// spells, as drawn. It is what a forecast by thermal time and monthly normals
// alone rests on, against which one by draws is scored.
type Plain struct {
	rain   *Generator
	lo, hi [yearDays]float64
}

// NewPlain prepares the mean years of a site; see NewGenerator.
func NewPlain(s *Site, anchor yard.Date) (*Plain, error) {
	g, err := NewGenerator(s, anchor)
	if err != nil {
		return nil, err
	}
	p := &Plain{rain: g}
	if p.lo, err = Course(s.TMin); err != nil {
		return nil, err
	}
	p.hi, err = Course(s.TMax)
	return p, err
}

// Fill is that of a Source.
func (p *Plain) Fill(dst []Day, known []Known, from yard.Date, draw int, seed uint64) {
	p.rain.Fill(dst, known, from, draw, seed)
	for i := range dst {
		if known != nil && known[i]&Temperature != 0 {
			continue
		}
		day := dayOfNormal(from + yard.Date(i))
		dst[i].TMin, dst[i].TMax = float32(p.lo[day]), float32(p.hi[day])
	}
}
