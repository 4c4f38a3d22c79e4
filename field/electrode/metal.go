package electrode

// DefaultWall returns the kinetics used for a rusty steel wall when the job gives none:
// hydrogen evolution with an exchange current of 0.03 A/m² and 0.12 V per decade, which
// loses 0.24, 0.30, 0.36 and 0.42 V at 3, 10, 30 and 100 A/m². Read from memory of textbook tables for
// iron in dilute alkali at 20 to 25 degC; take it for ± 0.10 V.
func DefaultWall() Sinh { return Sinh{Exchange: 0.03, Slope: 0.12} }

// Steel returns the oxygen law of a mild-steel rod that has gone passive: 0.45 V at
// 10 mA/cm². The slopes are those of hydrous oxide films on iron in base (ECS
// Transactions 45 no. 24, doi 10.1149/04524.0003ecst, abstract); the level is from memory,
// ± 0.10 V. A fresh rod loses 0.5 to 1.5 V less for its first minutes (from memory).
func Steel() TwoSlope { return TwoSlope{Knee: 100, AtKnee: 0.45, Below: 0.06, Above: 0.12} }

// Graphite returns the oxygen law of a graphite rod: 0.65 V at 10 mA/cm², 0.14 V per
// decade. From memory, ± 0.20 V; the surface roughens as it oxidises.
func Graphite() Tafel { return TafelThrough(100, 0.65, 0.14) }
