package reckon

var mechanicsCalculations = []*Calculation{}
