package reckon

var coatCalculations = []*Calculation{}
