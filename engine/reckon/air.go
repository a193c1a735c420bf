package reckon

var airCalculations = []*Calculation{}
