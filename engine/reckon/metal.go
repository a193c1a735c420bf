package reckon

var metalCalculations = []*Calculation{}
