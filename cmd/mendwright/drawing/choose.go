package drawing

// answers says which picture shows an answer of a fact. Both stand in the rulebook; a test holds
// this table to it. An answer without a picture is one that a drawing in black cannot show.
var answers = map[string]map[string]string{
	"surface.layer": {"solid": "edge-solid", "veneer": "edge-sliced-veneer", "plywood": "edge-plywood", "laminate": "edge-laminate",
		"foil": "edge-foil", "fibreboard": "edge-fibreboard", "metal": "edge-metal"},
	"surface.end_grain":  {"runs-on": "edge-solid", "stops": "edge-sliced-veneer", "plies": "edge-plywood", "hidden": "edge-hidden"},
	"surface.veneer_cut": {"sawn": "edge-sawn-veneer", "sliced": "edge-sliced-veneer"},
	"surface.glue_side":  {"saw-marks": "glue-side-sawn", "smooth": "glue-side-smooth", "hidden": "edge-hidden"},
	"surface.film_holds": {"holds": "film-holds", "flakes-nearby": "film-flakes-near", "flakes-widely": "film-flakes-wide"},
	"surface.magnet":     {"strong": "magnet-strong", "weak": "magnet-weak", "none": "magnet-none"},
	"surface.worn_colour": {"same": "worn-same", "grey": "worn-grey", "white-grey": "worn-white-grey", "yellow": "worn-yellow",
		"pink": "worn-pink"},
	"defect.level": {"below": "nail-drops", "level": "nail-level", "raised": "nail-bumps"},
	"defect.fibres": {"untouched": "scratch", "crushed": "dent", "cut": "gouge", "missing": "wood-missing", "parted": "parted",
		"lifted": "leaf-lifted", "soft": "soft-wood", "charred": "charred"},
	"defect.form": {"spot": "form-spot", "line": "form-line", "net": "form-net", "ring": "form-ring", "patch": "form-patch",
		"lump": "form-lump", "hole": "form-hole", "gone": "form-gone", "loose": "form-loose", "bent": "form-bent",
		"mismatch": "form-mismatch", "fitting": "form-fitting", "alive": "form-alive", "smell": "form-smell"},
	"defect.direction": {"along": "line-along", "across": "line-across"},
	"defect.net":       {"fine": "crazing", "squares": "crazing-squares", "islands": "alligatoring"},
	"defect.colour":    {"white": "bloom", "dark": "black-ring", "burned": "scorch"},
	"defect.wet_test":  {"wipes-off": "wiped-off"},
	"defect.film_look": {"printed": "printed", "beads": "beads"},
	"defect.on_top":    {"blister": "film-blister"},
	"defect.coat_fault": {"run": "run", "nibs": "nibs", "pebbled": "pebbled", "laps": "laps", "craters": "craters", "swirls": "swirls",
		"cloudy": "cloudy", "glue": "glue-spot"},
	"defect.bend_sort":    {"cup": "cup", "twist": "twist", "bow": "bow", "sag": "sag"},
	"defect.crack_runs":   {"one-face": "check", "through": "split", "glue-line": "glue-line-open"},
	"defect.line_pattern": {"single": "crack-single", "many": "checks-fine", "over-joint": "line-over-joint"},
	"defect.lift_at": {"closed": "veneer-blister", "edge": "veneer-edge", "leaf": "veneer-leaf", "inside": "board-parted",
		"inlay": "inlay-loose", "band": "band-loose"},
	"defect.trace":      {"tool": "hole-tool", "borer": "hole-borer", "bugs": "bed-bugs"},
	"defect.fresh_dust": {"yes": "frass-fresh", "no": "frass-old"},
	"defect.dust_sort":  {"gritty": "dust-gritty", "flour": "dust-flour", "pellets": "dust-pellets"},
	"defect.rust_form": {"none": "rust-none", "bloom": "rust-bloom", "freckles": "rust-freckles", "powder": "rust-powder",
		"pits": "rust-pits", "scale": "rust-scale"},
	"defect.metal_look": {"tarnish": "metal-tarnish", "spotted": "metal-spotted", "plate-worn": "plate-worn", "green": "metal-crust",
		"powder-green": "metal-powder-pits", "pits": "rust-pits"},
	"defect.joint_play": {"moves": "joint-loose", "stub": "joint-stub", "metal": "joint-metal", "overglued": "joint-overglued"},
	"defect.joint_type": {"tenon": "joint-tenon", "dowel": "joint-dowel"},
	"defect.drawer":     {"sticks": "drawer-sticks", "drops": "drawer-drops"},
}

// kinds says which picture shows a kind of defect; only those that are told apart by looking.
var kinds = map[string]string{
	"dent": "dent", "gouge": "gouge", "scratch-in-finish": "scratch", "white-ring": "bloom", "black-ring": "black-ring",
	"heat-mark": "heat-mark", "scorch": "scorch", "flaking-finish": "flaking", "crazing": "crazing", "alligatored-finish": "alligatoring",
	"film-blister": "film-blister", "printed-finish": "printed", "run-or-sag": "run", "dust-nibs": "nibs", "orange-peel": "pebbled",
	"lap-marks": "laps", "fish-eyes": "craters", "sanding-swirls": "swirls", "stain-blotch": "cloudy", "glue-spots": "glue-spot",
	"veneer-blister": "veneer-blister", "lifted-veneer-edge": "veneer-edge", "loose-veneer-leaf": "veneer-leaf", "veneer-checks": "checks-fine",
	"delaminated-board": "board-parted", "loose-inlay": "inlay-loose", "ghost-joint-line": "line-over-joint", "seasoning-check": "check",
	"split-board": "split", "open-glue-line": "glue-line-open", "cupped-board": "cup", "twisted-board": "twist", "live-woodworm": "frass-fresh",
	"old-insect-holes": "frass-old", "bed-bugs": "bed-bugs", "drywood-termite": "dust-pellets", "rot": "soft-wood", "burn": "charred",
	"worn-plating": "plate-worn", "pitted-metal": "rust-pits", "verdigris": "metal-crust", "bronze-disease": "metal-powder-pits",
	"tarnished-brass": "metal-tarnish", "worn-brass-lacquer": "metal-spotted", "loose-joint": "joint-loose", "broken-tenon": "joint-stub",
	"nailed-joint": "joint-metal", "overglued-joint": "joint-overglued", "worn-runner": "runner-worn", "sticking-drawer": "drawer-sticks",
	"sagging-shelf": "sag",
}

// For is the id of the picture that shows an answer of a fact, "yes" and "no" where that is asked;
// ok is false if none does.
func For(fact, answer string) (id string, ok bool) {
	id, ok = answers[fact][answer]
	return id, ok
}

// ForKind is the id of the picture that shows a kind of defect; ok is false if none does.
func ForKind(kind string) (id string, ok bool) {
	id, ok = kinds[kind]
	return id, ok
}
