//! Bar codes: the size of a symbol, what printing adds to a bar, what the plate
//! has to allow for it.
//!
//! A symbol is built of modules. The module's width in millimetres is what the
//! standard gives: 0.330 mm at 100 % for retail symbols, 0.264 to 0.660 mm
//! allowed. Tables in inches print 0.013 in for it, which is 0.3302 mm; over
//! 113 modules the two lie 0.0226 mm apart. The metric one is meant here.

use super::catalogue::{Calculation, Topic, one, outcome, parameter, three, turn, two};
use super::kind::KindOfQuantity;

/// The module of a retail symbol at 100 %.
///
/// Source: GS1 member size guide and EAN-13 page; 80 to 200 % are allowed.
const MODULE_AT_100_M: f64 = 0.330e-3;

/// The height of the bars of a retail symbol at 100 %, without the digits.
///
/// Source: the same two. 25.9 mm, which some pages print, includes the digits.
const BARS_AT_100_M: f64 = 22.85e-3;

/// The width of so many modules, in metres.
///
/// `modules` counts the quiet zones in if the whole symbol is meant (113 for
/// EAN-13 and UPC-A, 81 for EAN-8, 67 for UPC-E; 1 to 700); `module_m` is the
/// module in metres (0.1 to 2 mm).
///
/// Source: definition of the module.
///
/// ```
/// use gearside::trade::barcode::symbol_width;
/// // EAN-13 at 100 % is printed as 37.29 mm.
/// assert!((symbol_width(113.0, 0.330e-3) - 37.29e-3).abs() < 5e-9);
/// ```
#[must_use]
pub fn symbol_width(modules: f64, module_m: f64) -> f64 {
    modules * module_m
}

/// The width of a quiet zone, in metres.
///
/// `modules` is the zone's least width in modules (EAN-13: 11 on the left, 7 on
/// the right; UPC-A: 9 and 9; EAN-8: 7 and 7; 1 to 20); `module_m` the module
/// in metres (0.1 to 2 mm).
///
/// Source: definition; the modules are in the GS1 member size guide.
///
/// ```
/// use gearside::trade::barcode::quiet_zone;
/// // The left of an EAN-13 at 100 % is printed as 3.63 mm.
/// assert!((quiet_zone(11.0, 0.330e-3) - 3.63e-3).abs() < 5e-9);
/// ```
#[must_use]
pub fn quiet_zone(modules: f64, module_m: f64) -> f64 {
    modules * module_m
}

/// How large a retail symbol is beside its size at 100 %, as a share.
///
/// `module_m` is the module in metres (0.264 to 0.660 mm for retail).
///
/// Source: GS1 member pages: 100 % is a module of 0.330 mm.
///
/// ```
/// use gearside::trade::barcode::magnification;
/// // The least retail module, 0.264 mm, is 80 %.
/// assert!((magnification(0.264e-3) - 0.80).abs() < 1e-12);
/// ```
#[must_use]
pub fn magnification(module_m: f64) -> f64 {
    module_m / MODULE_AT_100_M
}

/// Height of the bars of an EAN-13 or UPC-A symbol, in metres.
///
/// `magnification` is a share (0.8 to 2 is allowed). The digits below the bars
/// are not in it: pages that print 25.9 mm for 100 % count them.
///
/// Source: GS1 member pages: 22.85 mm at 100 %.
///
/// ```
/// use gearside::trade::barcode::bar_height;
/// // 18.28 mm is printed for 80 %.
/// assert!((bar_height(0.80) - 18.28e-3).abs() < 5e-9);
/// ```
#[must_use]
pub fn bar_height(magnification: f64) -> f64 {
    magnification * BARS_AT_100_M
}

/// How much wider a bar printed than it was meant, in metres; below 0 if
/// narrower.
///
/// `printed_m` and `nominal_m` are the widths in metres (0.05 to 5 mm). The
/// plate's bars are drawn narrower by as much: bar width reduction.
///
/// Source: definition.
///
/// ```
/// use gearside::trade::barcode::bar_growth;
/// // A bar of one module of 0.330 mm that prints 0.375 mm wide grew by 45 µm.
/// assert!((bar_growth(0.375e-3, 0.330e-3) - 45e-6).abs() < 1e-12);
/// ```
#[must_use]
pub fn bar_growth(printed_m: f64, nominal_m: f64) -> f64 {
    printed_m - nominal_m
}

/// Width of a bar on the plate, in metres.
///
/// `modules` is how many modules wide the bar is meant (1 to 10), `module_m`
/// the module in metres (0.1 to 2 mm), `reduction_m` the bar width reduction in
/// metres (0 to 300 µm). It comes off every bar once, whatever its modules.
///
/// Source: derived. Printing moves both edges of a bar, wide or narrow, by the
/// same amount.
///
/// ```
/// use gearside::trade::barcode::plate_bar;
/// // Two modules of 0.330 mm less 40 µm: 0.62 mm.
/// assert!((plate_bar(2.0, 0.330e-3, 40e-6) - 0.62e-3).abs() < 1e-12);
/// ```
#[must_use]
pub fn plate_bar(modules: f64, module_m: f64, reduction_m: f64) -> f64 {
    modules * module_m - reduction_m
}

/// Width of a space on the plate, in metres: it gains what the bars lose.
///
/// Parameters as for [`plate_bar`].
///
/// Source: derived. Bars and spaces together keep the symbol's width.
///
/// ```
/// use gearside::trade::barcode::plate_space;
/// // Two modules of 0.330 mm and 40 µm: 0.70 mm.
/// assert!((plate_space(2.0, 0.330e-3, 40e-6) - 0.70e-3).abs() < 1e-12);
/// ```
#[must_use]
pub fn plate_space(modules: f64, module_m: f64, reduction_m: f64) -> f64 {
    modules * module_m + reduction_m
}

/// The module of a symbol whose bars lie across the web (ladder), as drawn on
/// the flat plate, in metres.
///
/// `module_m` is the module on the print in metres (0.1 to 2 mm), `allowance_m`
/// what the plate gains around the cylinder in metres (0 to 40 mm), `repeat_m`
/// the repeat in metres (50 to 5100 mm). With the bars along the web (picket
/// fence) no module changes: the plate does not stretch across.
///
/// Source: derived. Every length around the cylinder shrinks by the allowance's
/// share of the repeat.
///
/// ```
/// use gearside::trade::barcode::ladder_module;
/// // 0.330 mm with 6.06 mm on a repeat of 381 mm: 0.324751 mm.
/// assert!((ladder_module(0.330e-3, 6.06e-3, 0.381) - 0.324_751e-3).abs() < 5e-10);
/// ```
#[must_use]
pub fn ladder_module(module_m: f64, allowance_m: f64, repeat_m: f64) -> f64 {
    module_m * (1.0 - allowance_m / repeat_m)
}

const SIZE_GUIDE: &str = "GS1 member size guide, https://gs1.se/en/guides/how-to-guides/size-guide/; \
     GS1 member EAN-13 page, https://www.gs1ie.org/standards/data-carriers/barcodes/ean-13/";

pub(super) const CALCULATIONS: &[Calculation] = &[
    Calculation {
        name: "symbol_width",
        title: "Width of a bar code",
        topic: Topic::BarCode,
        says: "How wide so many modules are, quiet zones counted in for a whole symbol.",
        parameters: &[
            parameter("modules", "n", "number of modules, quiet zones counted in", "", 1.0, 700.0),
            parameter("module", "X", "width of a module", "mm", 0.1, 2.0),
        ],
        outcome: outcome("W", "mm", KindOfQuantity::PressLength, 0.1, 400.0),
        compute: |a| two(a, symbol_width),
        expansion: Some("modules * module"),
        wrong_turns: &[
            turn(
                "quiet_zones_left_out",
                "(modules - 18) * module",
                "You left out the quiet zones, 18 modules of an EAN-13 or UPC-A. They belong to the symbol's width.",
            ),
            turn(
                "module_rounded_first",
                "modules * round(module / '0.1 mm') * '0.1 mm'",
                "You rounded the module to a tenth of a millimetre. Multiply first, and round the width.",
            ),
            turn(
                "module_in_inches",
                "modules * module / '0.330 mm' * '0.013 in'",
                "You took 0.013 in for the module at 100 %. It is 0.330 mm, and over the whole symbol the two differ.",
            ),
        ],
        no_result_when: None,
        source: SIZE_GUIDE,
    },
    Calculation {
        name: "quiet_zone",
        title: "Quiet zone",
        topic: Topic::BarCode,
        says: "How wide the light margin beside the bars has to be.",
        parameters: &[
            parameter("modules", "q", "number of modules of the quiet zone", "", 1.0, 20.0),
            parameter("module", "X", "width of a module", "mm", 0.1, 2.0),
        ],
        outcome: outcome("Q", "mm", KindOfQuantity::PressLength, 0.5, 40.0),
        compute: |a| two(a, quiet_zone),
        expansion: Some("modules * module"),
        wrong_turns: &[
            turn(
                "left_at_100",
                "modules * '0.330 mm'",
                "You kept the zone of a symbol at 100 %. It grows and shrinks with the module.",
            ),
            turn(
                "modules_as_millimetres",
                "modules * '1 mm'",
                "You took modules for millimetres. Multiply them by the width of a module.",
            ),
        ],
        no_result_when: None,
        source: SIZE_GUIDE,
    },
    Calculation {
        name: "magnification",
        title: "Magnification of a bar code",
        topic: Topic::BarCode,
        says: "How large a retail symbol is beside its size at 100 %.",
        parameters: &[parameter("module", "X", "width of a module", "mm", 0.2, 1.1)],
        outcome: outcome("M", "%", KindOfQuantity::Amount, 60.0, 340.0),
        compute: |a| one(a, magnification),
        expansion: Some("module / '0.330 mm'"),
        wrong_turns: &[
            turn(
                "areas_compared",
                "(module / '0.330 mm') ^ 2",
                "You compared areas. Magnification compares widths: divide once.",
            ),
            turn("turned_over", "'0.330 mm' / module", "You divided by the symbol's own module. Divide by 0.330 mm."),
            turn(
                "least_module_as_100",
                "module / '0.264 mm'",
                "You took 0.264 mm, the least module, for 100 %. It is 80 %; 100 % is 0.330 mm.",
            ),
        ],
        no_result_when: None,
        source: SIZE_GUIDE,
    },
    Calculation {
        name: "bar_height",
        title: "Height of the bars",
        topic: Topic::BarCode,
        says: "How high the bars of an EAN-13 or UPC-A are, without the digits; pages that print 25.9 mm count those.",
        parameters: &[parameter("magnification", "M", "magnification", "%", 60.0, 340.0)],
        outcome: outcome("H", "mm", KindOfQuantity::PressLength, 13.0, 80.0),
        compute: |a| one(a, bar_height),
        expansion: Some("magnification * '22.85 mm'"),
        wrong_turns: &[
            turn(
                "digits_counted",
                "magnification * '25.9 mm'",
                "You took the height with the digits. The bars alone are 22.85 mm at 100 %.",
            ),
            turn("left_at_100", "'22.85 mm'", "You kept the height at 100 %. Multiply it by the magnification."),
            turn(
                "width_scaled",
                "magnification * '37.29 mm'",
                "You scaled the symbol's width. The bars are 22.85 mm high at 100 %.",
            ),
        ],
        no_result_when: None,
        source: SIZE_GUIDE,
    },
    Calculation {
        name: "bar_growth",
        title: "Growth of a bar",
        topic: Topic::BarCode,
        says: "How much wider a bar printed than it was meant; this is the bar width reduction the plate needs.",
        parameters: &[
            parameter("printed", "b", "printed width of the bar", "mm", 0.05, 5.0),
            parameter("nominal", "b_0", "meant width of the bar", "mm", 0.05, 5.0),
        ],
        outcome: outcome("g", "µm", KindOfQuantity::Film, -200.0, 500.0),
        compute: |a| two(a, bar_growth),
        expansion: Some("printed - nominal"),
        wrong_turns: &[
            turn(
                "one_edge_only",
                "(printed - nominal) / 2",
                "You gave the growth of one edge. Both edges move: do not halve.",
            ),
            turn(
                "other_way_round",
                "nominal - printed",
                "You took the printed bar off the meant one. Growth is printed less meant.",
            ),
        ],
        no_result_when: None,
        source: "definition",
    },
    Calculation {
        name: "plate_bar",
        title: "Bar on the plate",
        topic: Topic::BarCode,
        says: "How wide a bar is drawn on the plate so that it prints as meant.",
        parameters: &[
            parameter("modules", "n", "number of modules of the bar", "", 1.0, 10.0),
            parameter("module", "X", "width of a module", "mm", 0.1, 2.0),
            parameter("reduction", "g", "bar width reduction", "µm", 0.0, 300.0),
        ],
        outcome: outcome("b_p", "mm", KindOfQuantity::Film, 0.03, 20.0),
        compute: |a| three(a, plate_bar),
        expansion: Some("modules * module - reduction"),
        wrong_turns: &[
            turn(
                "reduction_added",
                "modules * module + reduction",
                "You made the bar wider. Printing widens it already: take the reduction off.",
            ),
            turn(
                "taken_from_every_module",
                "modules * (module - reduction)",
                "You took the reduction off every module. It comes off a bar once, whatever its width.",
            ),
            turn(
                "reduction_forgotten",
                "modules * module",
                "You gave the width on the print. Take the bar width reduction off.",
            ),
        ],
        no_result_when: None,
        source: "derived: printing moves both edges of every bar by the same amount",
    },
    Calculation {
        name: "plate_space",
        title: "Space on the plate",
        topic: Topic::BarCode,
        says: "How wide a space is drawn on the plate: it gains what the bars beside it lose.",
        parameters: &[
            parameter("modules", "n", "number of modules of the space", "", 1.0, 10.0),
            parameter("module", "X", "width of a module", "mm", 0.1, 2.0),
            parameter("reduction", "g", "bar width reduction", "µm", 0.0, 300.0),
        ],
        outcome: outcome("s_p", "mm", KindOfQuantity::Film, 0.1, 20.0),
        compute: |a| three(a, plate_space),
        expansion: Some("modules * module + reduction"),
        wrong_turns: &[
            turn(
                "reduction_taken",
                "modules * module - reduction",
                "You took the reduction off. Bars lose it, and the spaces between them gain it.",
            ),
            turn(
                "given_to_every_module",
                "modules * (module + reduction)",
                "You added the reduction to every module. A space gains it once, whatever its width.",
            ),
            turn(
                "reduction_forgotten",
                "modules * module",
                "You gave the width on the print. Add what the bars beside it lose.",
            ),
        ],
        no_result_when: None,
        source: "derived: bars and spaces together keep the symbol's width",
    },
    Calculation {
        name: "ladder_module",
        title: "Module of a ladder code on the plate",
        topic: Topic::BarCode,
        says: "How wide a module is drawn on the flat plate when the bars lie across the web.",
        parameters: &[
            parameter("module", "X", "width of a module on the print", "mm", 0.1, 2.0),
            parameter("allowance", "K", "distortion allowance of the plate", "mm", 0.0, 40.0),
            parameter("repeat", "R", "repeat", "mm", 50.0, 5100.0),
        ],
        outcome: outcome("X_p", "mm", KindOfQuantity::Amount, 0.08, 2.0),
        compute: |a| three(a, ladder_module),
        expansion: Some("module * (1 - allowance / repeat)"),
        wrong_turns: &[
            turn(
                "lengthened",
                "module * (1 + allowance / repeat)",
                "You made the module wider. The plate stretches it around the cylinder: draw it narrower.",
            ),
            turn(
                "share_itself",
                "module * allowance / repeat",
                "You gave what the module gains. Take it off the module.",
            ),
            turn(
                "not_corrected",
                "module",
                "You left the module as it prints. Across the web a code keeps it, but a ladder code does not.",
            ),
        ],
        no_result_when: None,
        source: "derived: lengths around the cylinder shrink by the allowance's share of the repeat",
    },
];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn what_grows_back_is_the_meant_bar(modules in 1_u8..5, module in 0.2e-3_f64..1e-3, growth in 0.0_f64..1e-4) {
            let meant = f64::from(modules) * module;
            let bar = plate_bar(f64::from(modules), module, growth);
            prop_assert!((bar_growth(meant, bar) - growth).abs() < 1e-15);
            let both = bar + plate_space(f64::from(modules), module, growth);
            prop_assert!((both - 2.0 * meant).abs() < 1e-15);
        }

        #[test]
        fn the_symbol_grows_with_its_magnification(module in 0.2e-3_f64..1e-3) {
            let share = symbol_width(113.0, module) / symbol_width(113.0, 0.330e-3);
            prop_assert!((share - magnification(module)).abs() < 1e-12);
            prop_assert!((bar_height(magnification(module)) / 22.85e-3 - share).abs() < 1e-12);
        }

        #[test]
        fn a_ladder_module_on_the_plate_grows_back_around_the_cylinder(
            module in 0.2e-3_f64..1e-3, allowance in 0.0_f64..0.02, repeat in 0.1_f64..2.0,
        ) {
            let flat = ladder_module(module, allowance, repeat);
            prop_assert!(flat <= module);
            // The flat plate of one repeat is repeat − allowance long and comes to lie on the whole repeat.
            prop_assert!((flat * repeat / (repeat - allowance) - module).abs() < 1e-12 * module);
        }
    }
}
