//! Anilox volume and ink film.

use super::catalogue::{Calculation, Outcome, Parameter, Topic, UsualTurn};
use super::kind::KindOfQuantity;

/// Wet film on the web, in metres.
///
/// `volume_m` is the cell volume per area in metres (1 cm³/m² = 1e-6 m);
/// `release` the share of it that reaches the web, 0 to 1.
///
/// Source: derived. A volume per area is a thickness.
///
/// ```
/// use gearside::trade::film::wet_film;
/// // 2.0 BCM/in² = 3.10 cm³/m²; half to the plate, half of that to the web.
/// assert!((wet_film(3.100_006e-6, 0.25) - 0.775_001_5e-6).abs() < 1e-15);
/// ```
#[must_use]
pub fn wet_film(volume_m: f64, release: f64) -> f64 {
    volume_m * release
}

pub(super) const CALCULATIONS: &[Calculation] = &[Calculation {
    name: "wet_film",
    title: "Wet film on the web",
    topic: Topic::Film,
    says: "How thick a film of wet ink a roll lays on the web.",
    parameters: &[
        Parameter {
            name: "volume",
            symbol: "V",
            says: "cell volume of the anilox roll",
            unit: "BCM/in²",
            least: 0.5,
            most: 45.0,
        },
        Parameter {
            name: "release",
            symbol: "T",
            says: "share of the ink that reaches the web",
            unit: "%",
            least: 1.0,
            most: 100.0,
        },
    ],
    outcome: Outcome { symbol: "h", unit: "µm", kind: KindOfQuantity::Film, least: 0.05, most: 50.0 },
    compute: |a| wet_film(a[0], a[1]),
    expansion: Some("volume * release"),
    wrong_turns: &[UsualTurn {
        name: "read_as_micrometres",
        is: "bare(volume, 'BCM/in²') * '1 µm' * release",
        because: "You read BCM/in² as micrometres. Multiply by 1.55 first.",
    }],
    source: "derived: a volume per area is a thickness; 1 in = 25.4 mm exactly",
}];
