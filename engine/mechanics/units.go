package mechanics

// Units of the sources in those of this package. The first four are exact by definition; the rest
// follow from them.
const (
	Inch            = 25.4                                    // mm
	Foot            = 12 * Inch                               // mm
	Pound           = 0.45359237                              // kg
	StandardGravity = 9.80665                                 // m/s²
	PoundForce      = Pound * StandardGravity                 // N
	PSI             = PoundForce / (Inch * Inch)              // MPa
	CubicFoot       = Foot * Foot * Foot / 1e9                // m³
	FootLoad        = Pound * StandardGravity / (Foot / 1000) // N/m that one pound on each foot makes
	FootWeight      = Pound / (Foot / 1000)                   // kg/m that one pound on each foot makes
	KPa             = 0.001                                   // MPa
	FootDensity     = Pound / CubicFoot                       // kg/m³ that one pound in each cubic foot makes
)
