//! Anilox volume and ink film.
//!
//! A volume per area is a thickness: 1 cm³/m² is 1 µm, 1 BCM/in² is 1.55 µm.
//! So an anilox volume and a film are both lengths here, in metres.

use super::catalogue::{Calculation, Topic, five, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

/// Wet film on the web, in metres.
///
/// `volume_m` is the cell volume per area in metres (1 cm³/m² = 1e-6 m; 0.5 to
/// 45 BCM/in²); `release` the share of it that reaches the web, above 0 to 1.
///
/// Source: derived. A volume per area is a thickness.
///
/// ```
/// use gearside::trade::film::wet_film;
/// // 4 cm³/m² at 25 % overall is 1 µm of wet ink (a published worked figure).
/// assert!((wet_film(4e-6, 0.25) - 1e-6).abs() < 1e-18);
/// ```
#[must_use]
pub fn wet_film(volume_m: f64, release: f64) -> f64 {
    volume_m * release
}

/// Dry film left of a wet one, in metres.
///
/// `wet_m` is the wet film in metres (0.05 to 100 µm); `solids_by_volume` the
/// share of its volume that stays, above 0 to 1. Solids by weight do not do.
///
/// Source: derived. What does not leave stays on the same area.
///
/// ```
/// use gearside::trade::film::dry_film;
/// // Half of the volume stays: half of the film.
/// assert!((dry_film(1.5e-6, 0.5) - 0.75e-6).abs() < 1e-18);
/// ```
#[must_use]
pub fn dry_film(wet_m: f64, solids_by_volume: f64) -> f64 {
    wet_m * solids_by_volume
}

/// Solids by volume of an ink, as a fraction.
///
/// `solids_by_weight` is the share of its mass that stays, above 0 to 1;
/// `ink_density_kg_m3` (700 to 2500) and `volatile_density_kg_m3` (600 to 1400)
/// are the densities of the wet ink and of what dries away. Takes the volumes
/// to add up, without contraction.
///
/// Source: derived. What leaves takes its own volume with it.
///
/// ```
/// use gearside::trade::film::solids_by_volume;
/// // 1 L of 1.25 kg, half of it water, loses 0.625 L and keeps 0.375 L.
/// assert!((solids_by_volume(0.5, 1250.0, 1000.0) - 0.375).abs() < 1e-15);
/// ```
#[must_use]
pub fn solids_by_volume(solids_by_weight: f64, ink_density_kg_m3: f64, volatile_density_kg_m3: f64) -> f64 {
    1.0 - (1.0 - solids_by_weight) * ink_density_kg_m3 / volatile_density_kg_m3
}

/// Wet coat weight, in kg/m².
///
/// `wet_m` is the wet film in metres (0.05 to 100 µm); `density_kg_m3` the
/// ink's density in kg/m³ (700 to 2500).
///
/// Source: derived. Mass per area is thickness times density.
///
/// ```
/// use gearside::trade::film::wet_coat_weight;
/// // 1.35625 µm at 1.08 g/cm³ is 1.46475 g/m².
/// assert!((wet_coat_weight(1.356_25e-6, 1080.0) - 1.464_75e-3).abs() < 1e-12);
/// ```
#[must_use]
pub fn wet_coat_weight(wet_m: f64, density_kg_m3: f64) -> f64 {
    wet_m * density_kg_m3
}

/// Dry coat weight, in kg/m².
///
/// `wet_m` is the wet film in metres (0.05 to 100 µm); `density_kg_m3` the wet
/// ink's density (700 to 2500 kg/m³); `solids_by_weight` the share of its mass
/// that stays, above 0 to 1.
///
/// Source: derived. Solids by weight go with weight.
///
/// ```
/// use gearside::trade::film::dry_coat_weight;
/// // 1.35625 µm at 1.08 g/cm³ with 42 % solids is 0.615196 g/m² dry.
/// assert!((dry_coat_weight(1.356_252_7e-6, 1080.0, 0.42) - 0.615_196e-3).abs() < 1e-9);
/// ```
#[must_use]
pub fn dry_coat_weight(wet_m: f64, density_kg_m3: f64, solids_by_weight: f64) -> f64 {
    wet_m * density_kg_m3 * solids_by_weight
}

/// Cell volume that wear has left, in metres (volume per area).
///
/// `volume_m` is the volume when new in metres (0.5 to 45 BCM/in²); `loss` the
/// share lost, 0 to 0.6.
///
/// Source: definition of a loss in percent of the new volume.
///
/// ```
/// use gearside::trade::film::worn_volume;
/// // 4.0 BCM/in² less 20 % is 3.2 BCM/in² = 4.96001 cm³/m².
/// assert!((worn_volume(6.200_012_4e-6, 0.2) - 4.960_01e-6).abs() < 1e-11);
/// ```
#[must_use]
pub fn worn_volume(volume_m: f64, loss: f64) -> f64 {
    volume_m * (1.0 - loss)
}

/// Cell opening of an anilox roll, in metres.
///
/// `screen_per_m` is the screen in cells per metre (50 to 2500 lpi), read as
/// centre-to-centre spacing; `ratio` the opening over the wall, 2 to 30.
///
/// Source: derived. The spacing is one opening and one wall.
///
/// ```
/// use gearside::trade::film::cell_opening;
/// // 800 lpi at 10:1 opens 28.8636 µm.
/// assert!((cell_opening(800.0 / 0.0254, 10.0) - 28.8636e-6).abs() < 5e-11);
/// ```
#[must_use]
pub fn cell_opening(screen_per_m: f64, ratio: f64) -> f64 {
    ratio / (ratio + 1.0) / screen_per_m
}

/// Ink that a job puts on the web, in kilograms.
///
/// `area_m2` is the area run in m² (1 to 200,000 MSI); `coverage` the share of
/// it that prints, above 0 to 1; `volume_m` the cell volume per area in metres
/// (0.5 to 45 BCM/in²); `release` the share of it that reaches the web, above 0
/// to 1; `density_kg_m3` the ink's density (700 to 2500 kg/m³). What stays in
/// pan, hoses and wash-up is not in it.
///
/// Source: derived. Printed area times film times density.
///
/// ```
/// use gearside::trade::film::job_ink;
/// // 1000 m² all covered with 1 µm of ink of 1 g/cm³: one litre, one kilogram.
/// assert!((job_ink(1000.0, 1.0, 4e-6, 0.25, 1000.0) - 1.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn job_ink(area_m2: f64, coverage: f64, volume_m: f64, release: f64, density_kg_m3: f64) -> f64 {
    area_m2 * coverage * volume_m * release * density_kg_m3
}

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "wet_film",
        title: "Wet film on the web",
        topic: Topic::Film,
        says: "How thick a film of wet ink a roll lays on the web.",
        parameters: &[
            parameter("volume", "V", "cell volume of the anilox roll", "BCM/in²", 0.5, 45.0),
            parameter("release", "T", "share of the ink that reaches the web", "%", 1.0, 100.0),
        ],
        outcome: outcome("h", "µm", KindOfQuantity::Film, 0.05, 50.0),
        compute: |a| two(a, wet_film),
        expansion: Some("volume * release"),
        wrong_turns: &[
            turn(
                "read_as_micrometres",
                "bare(volume, 'BCM/in²') * '1 µm' * release",
                "You read BCM/in² as micrometres. Multiply by 1.55 first.",
            ),
            turn(
                "converted_backwards",
                "bare(volume, 'BCM/in²') / 1.55 * '1 µm' * release",
                "You divided by 1.55. One BCM/in² is 1.55 µm, so multiply.",
            ),
            turn(
                "release_forgotten",
                "volume",
                "You put all of the roll's ink on the web. Multiply by the share that gets there.",
            ),
        ],
        no_result_when: None,
        source: "derived: a volume per area is a thickness; 1 in = 25.4 mm exactly",
    },
    Calculation {
        name: "dry_film",
        title: "Dry film",
        topic: Topic::Film,
        says: "How thick a film is left when the ink has dried.",
        parameters: &[
            parameter("wet", "h", "wet film", "µm", 0.05, 100.0),
            parameter("solids_by_volume", "s_v", "share of the ink's volume that stays", "%", 1.0, 100.0),
        ],
        outcome: outcome("h_d", "µm", KindOfQuantity::Film, 0.01, 60.0),
        compute: |a| two(a, dry_film),
        expansion: Some("wet * solids_by_volume"),
        wrong_turns: &[
            turn(
                "divided_by_solids",
                "wet / solids_by_volume",
                "You divided by the solids, and the film grew as it dried. Multiply.",
            ),
            turn(
                "kept_what_leaves",
                "wet * (1 - solids_by_volume)",
                "You kept the part that dries away. Multiply by the solids, the part that stays.",
            ),
            turn("solids_forgotten", "wet", "You gave the wet film. Multiply by the solids by volume."),
        ],
        no_result_when: None,
        source: "derived: solids by volume go with thickness",
    },
    Calculation {
        name: "solids_by_volume",
        title: "Solids by volume",
        topic: Topic::Film,
        says: "What share of an ink's volume stays, from the share of its mass that stays.",
        parameters: &[
            parameter("solids_by_weight", "s_w", "share of the ink's mass that stays", "%", 1.0, 100.0),
            parameter("ink_density", "ρ_i", "density of the wet ink", "g/cm³", 0.7, 2.5),
            parameter("volatile_density", "ρ_v", "density of what dries away", "g/cm³", 0.6, 1.4),
        ],
        outcome: outcome("s_v", "%", KindOfQuantity::Amount, 0.1, 100.0),
        compute: |a| three(a, solids_by_volume),
        expansion: Some("1 - (1 - solids_by_weight) * ink_density / volatile_density"),
        wrong_turns: &[
            turn(
                "weight_taken_for_volume",
                "solids_by_weight",
                "You took solids by weight for solids by volume. What dries away is lighter, so it takes more room.",
            ),
            turn(
                "densities_upside_down",
                "1 - (1 - solids_by_weight) * volatile_density / ink_density",
                "You put the densities upside down. What leaves is lighter and takes more room: ink over volatile.",
            ),
            turn(
                "volatile_share_given",
                "(1 - solids_by_weight) * ink_density / volatile_density",
                "You gave the share of the volume that dries away. The solids are the rest.",
            ),
        ],
        no_result_when: None,
        source: "derived: what leaves takes its own volume with it; volumes are taken to add up",
    },
    Calculation {
        name: "wet_coat_weight",
        title: "Wet coat weight",
        topic: Topic::Film,
        says: "How much a wet film weighs per area.",
        parameters: &[
            parameter("wet", "h", "wet film", "µm", 0.05, 100.0),
            parameter("density", "ρ", "density of the ink", "g/cm³", 0.7, 2.5),
        ],
        outcome: outcome("w", "g/m²", KindOfQuantity::Film, 0.05, 150.0),
        compute: |a| two(a, wet_coat_weight),
        expansion: Some("wet * density"),
        wrong_turns: &[
            turn(
                "density_forgotten",
                "bare(wet, 'µm') * '1 g/m²'",
                "You took micrometres for g/m². Multiply by the density in g/cm³.",
            ),
            turn(
                "pounds_per_gallon_used",
                "bare(wet, 'µm') * bare(density, 'lb/gal') * '1 g/m²'",
                "You used the density in lb/gal. Bring it to g/cm³ first: 1 lb/gal is 0.1198 g/cm³.",
            ),
            turn(
                "divided_by_density",
                "bare(wet, 'µm') / bare(density, 'g/cm³') * '1 g/m²'",
                "You divided by the density. A heavier ink weighs more, so multiply.",
            ),
        ],
        no_result_when: None,
        source: "derived: mass per area is thickness times density; 1 µm at 1 g/cm³ is 1 g/m²",
    },
    Calculation {
        name: "dry_coat_weight",
        title: "Dry coat weight",
        topic: Topic::Film,
        says: "How much of a film's weight per area stays when it has dried.",
        parameters: &[
            parameter("wet", "h", "wet film", "µm", 0.05, 100.0),
            parameter("density", "ρ", "density of the wet ink", "g/cm³", 0.7, 2.5),
            parameter("solids_by_weight", "s_w", "share of the ink's mass that stays", "%", 1.0, 100.0),
        ],
        outcome: outcome("w_d", "g/m²", KindOfQuantity::Film, 0.01, 100.0),
        compute: |a| three(a, dry_coat_weight),
        expansion: Some("wet * density * solids_by_weight"),
        wrong_turns: &[
            turn(
                "divided_by_solids",
                "wet * density / solids_by_weight",
                "You divided by the solids, and the coat grew heavier as it dried. Multiply.",
            ),
            turn(
                "density_forgotten",
                "bare(wet, 'µm') * '1 g/m²' * solids_by_weight",
                "You left the density out. Multiply the film by it before you take the solids.",
            ),
            turn(
                "solids_forgotten",
                "wet * density",
                "You gave the wet coat weight. Multiply by the solids by weight.",
            ),
        ],
        no_result_when: None,
        source: "derived: solids by weight go with weight",
    },
    Calculation {
        name: "worn_volume",
        title: "Volume of a worn roll",
        topic: Topic::Film,
        says: "How much volume an anilox roll has left after wear.",
        parameters: &[
            parameter("volume", "V_0", "cell volume when new", "BCM/in²", 0.5, 45.0),
            parameter("loss", "w", "share of the volume lost", "%", 0.0, 60.0),
        ],
        outcome: outcome("V", "BCM/in²", KindOfQuantity::Film, 0.2, 45.0),
        compute: |a| two(a, worn_volume),
        expansion: Some("volume * (1 - loss)"),
        wrong_turns: &[
            turn("loss_itself", "volume * loss", "You gave what is lost. Take it off the new volume."),
            turn(
                "divided_by_one_plus_loss",
                "volume / (1 + loss)",
                "You divided by one plus the loss. The loss is a share of the new volume: multiply by one minus it.",
            ),
            turn("loss_added", "volume * (1 + loss)", "You added the loss. Wear takes volume away."),
        ],
        no_result_when: None,
        source: "definition: a loss in percent of the new volume",
    },
    Calculation {
        name: "cell_opening",
        title: "Cell opening",
        topic: Topic::Film,
        says: "How wide an anilox cell is open, to hold against the smallest dot of the plate.",
        parameters: &[
            parameter("screen", "f", "screen of the anilox roll", "lpi", 50.0, 2500.0),
            parameter("ratio", "r", "opening over the wall, to 1", "", 2.0, 30.0),
        ],
        outcome: outcome("o", "µm", KindOfQuantity::Film, 5.0, 500.0),
        compute: |a| two(a, cell_opening),
        expansion: Some("ratio / (ratio + 1) / screen"),
        wrong_turns: &[
            turn(
                "wall_ignored",
                "1 / screen",
                "You gave the whole spacing. A wall takes part of it: multiply by r ÷ (r + 1).",
            ),
            turn(
                "wall_given",
                "1 / (ratio + 1) / screen",
                "You gave the wall. The opening is the rest of the spacing.",
            ),
        ],
        no_result_when: None,
        source: "derived: the spacing is one opening and one wall; the screen counts centre to centre",
    },
    Calculation {
        name: "job_ink",
        title: "Ink for a job",
        topic: Topic::Film,
        says: "How much ink a job puts on the web; pan, hoses and wash-up come on top.",
        parameters: &[
            parameter("area", "A", "area of web to run", "MSI", 1.0, 200_000.0),
            parameter("coverage", "c", "share of the area that prints", "%", 0.1, 100.0),
            parameter("volume", "V", "cell volume of the anilox roll", "BCM/in²", 0.5, 45.0),
            parameter("release", "T", "share of the ink that reaches the web", "%", 1.0, 100.0),
            parameter("density", "ρ", "density of the ink", "g/cm³", 0.7, 2.5),
        ],
        outcome: outcome("m", "kg", KindOfQuantity::Amount, 0.001, 10_000.0),
        compute: |a| five(a, job_ink),
        expansion: Some("area * coverage * volume * release * density"),
        wrong_turns: &[
            turn(
                "coverage_forgotten",
                "area * volume * release * density",
                "You inked the whole web. Multiply by the share that prints.",
            ),
            turn(
                "release_forgotten",
                "area * coverage * volume * density",
                "You put all of the roll's ink on the web. Multiply by the share that gets there.",
            ),
            turn(
                "litres_as_kilograms",
                "bare(area * coverage * volume * release, 'L') * '1 kg'",
                "You gave litres as kilograms. Multiply by the density.",
            ),
            turn(
                "read_as_micrometres",
                "area * coverage * bare(volume, 'BCM/in²') * '1 µm' * release * density",
                "You read BCM/in² as micrometres. Multiply by 1.55 first.",
            ),
        ],
        no_result_when: None,
        source: "derived: printed area times wet film times density",
    },
];
