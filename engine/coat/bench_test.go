package coat_test

import (
	"mendwright/engine/coat"
	"mendwright/rules/interval"
)

// The coats of the bench; their figures are round and belong to no real product. quick melts into
// itself and closes its window, slow takes up oxygen and always needs a scuff, thin is of water.
var (
	quick = coat.Coat{
		Name: "quick", Finish: "lacquer", Dries: coat.BySolvent, Bonds: coat.ByMelting, Blushes: true,
		Solids: between(20, 20), Wet: between(100, 100), Dry: between(20, 20), Rate: between(10, 10),
		Air: between(10, 30), Humidity: between(0, 70),
		Touch: between(0.2, 0.2), Recoat: between(1, 2), Closes: between(10, 14), Sand: between(2, 3), Cure: between(100, 200),
		Coats: between(3, 5), Most: between(80, 120),
	}
	slow = coat.Coat{
		Name: "slow", Finish: "varnish", Dries: coat.ByOxygen, Bonds: coat.ByScuff,
		Solids: between(40, 50), Wet: between(80, 80), Dry: between(32, 40), Rate: between(12, 13),
		Air: between(8, 30), Humidity: between(0, 85),
		Touch: between(6, 6), Recoat: between(24, 24), Sand: between(24, 24), Cure: between(500, 700),
		Coats: between(2, 3), Most: between(125, 125),
	}
	thin = coat.Coat{
		Name: "thin", Finish: "waterborne", Dries: coat.ByWater, Bonds: coat.InWindow,
		Solids: between(30, 30), Wet: between(100, 100), Dry: between(30, 30), Rate: between(10, 10),
		Air: between(10, 30), Humidity: between(40, 80),
		Touch: between(1, 1), Recoat: between(2, 3), Closes: between(24, 24), Sand: between(2, 2), Cure: between(300, 400),
		Coats: between(3, 4), Most: interval.Range{},
	}
)

func bench() []coat.Coat { return []coat.Coat{quick, slow, thin} }
