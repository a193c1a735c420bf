package reckon

var moistureCalculations = []*Calculation{}
