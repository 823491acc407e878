//! The one flat table of units.
//!
//! Every factor that is not a power of ten is arithmetic on four definitions
//! (inch, pound, US gallon, standard gravity), on the minute and the hour, or
//! on π. Order matters in one way only: where several units share a spelling,
//! the first of them is meant unless something else is wanted.

use std::f64::consts::PI;

use super::dimension::{Cup, Dimension};
use super::units::Unit;

/// The inch, exactly (international yard and pound agreement, 1959).
const IN: f64 = 0.0254;
/// The foot, twelve inches exactly.
const FT: f64 = 0.3048;
/// The square inch.
const IN2: f64 = IN * IN;
/// The square foot.
const FT2: f64 = FT * FT;
/// The avoirdupois pound, exactly (1959).
const LB: f64 = 0.453_592_37;
/// Standard gravity, exactly (3rd CGPM, 1901): makes a pound-force of a pound.
const GRAVITY: f64 = 9.806_65;
/// The pound-force.
const LBF: f64 = LB * GRAVITY;
/// The US liquid gallon, 231 cubic inches exactly. (An imperial gallon is
/// 4.54609 L; it is not in the table, so that `gal` has one meaning.)
const GAL: f64 = 231.0 * IN * IN * IN;
/// The packaging ream: 500 sheets of 24 in × 36 in, 3000 square feet. (Book
/// reams differ; only this one is in the table.)
const REAM: f64 = 3000.0 * FT2;
/// The minute and the hour in seconds.
const MIN: f64 = 60.0;
const HOUR: f64 = 3600.0;

const PLAIN: (i8, i8, i8) = (0, 0, 0);
const LENGTH: (i8, i8, i8) = (1, 0, 0);
const AREA: (i8, i8, i8) = (2, 0, 0);
const VOLUME: (i8, i8, i8) = (3, 0, 0);
const MASS: (i8, i8, i8) = (0, 1, 0);
const TIME: (i8, i8, i8) = (0, 0, 1);
const FORCE: (i8, i8, i8) = (1, 1, -2);
/// Force per width, and energy per area: the same exponents.
const FORCE_PER_WIDTH: (i8, i8, i8) = (0, 1, -2);
const PRESSURE: (i8, i8, i8) = (-1, 1, -2);
const TORQUE: (i8, i8, i8) = (2, 1, -2);
const PER_LENGTH: (i8, i8, i8) = (-1, 0, 0);
const SPEED: (i8, i8, i8) = (1, 0, -1);
const RATE: (i8, i8, i8) = (0, 0, -1);
const KINEMATIC: (i8, i8, i8) = (2, 0, -1);
const DYNAMIC: (i8, i8, i8) = (-1, 1, -1);
const MASS_PER_VOLUME: (i8, i8, i8) = (-3, 1, 0);
const MASS_PER_AREA: (i8, i8, i8) = (-2, 1, 0);
const AREA_PER_MASS: (i8, i8, i8) = (2, -1, 0);
const MASS_PER_TIME: (i8, i8, i8) = (0, 1, -1);
const VOLUME_PER_TIME: (i8, i8, i8) = (3, 0, -1);
const POWER: (i8, i8, i8) = (2, 1, -3);
const POWER_PER_AREA: (i8, i8, i8) = (0, 1, -3);
const ENERGY_PER_MASS: (i8, i8, i8) = (2, 0, -2);

const fn of(name: &'static str, spellings: &'static [&'static str], dimension: (i8, i8, i8), factor: f64) -> Unit {
    Unit { name, spellings, dimension: Dimension::of(dimension.0, dimension.1, dimension.2), factor, offset: 0.0 }
}

/// A thing that is counted.
const fn count(name: &'static str, spellings: &'static [&'static str]) -> Unit {
    of(name, spellings, PLAIN, 1.0)
}

const fn angle(name: &'static str, spellings: &'static [&'static str], factor: f64) -> Unit {
    Unit { name, spellings, dimension: Dimension::ANGLE, factor, offset: 0.0 }
}

/// With an `offset` a point on a scale, without one a difference of two points.
const fn temperature(name: &'static str, spellings: &'static [&'static str], factor: f64, offset: f64) -> Unit {
    Unit { name, spellings, dimension: Dimension::TEMPERATURE, factor, offset }
}

/// The seconds of one cup. A bare `s` is among the spellings, behind the
/// second of time, so it means the cup only where that cup is wanted.
macro_rules! cup {
    ($cup:ident, $name:literal, $maker:literal, $size:literal) => {
        Unit {
            name: concat!("s (", $name, ")"),
            spellings: &[
                "s",
                "sec",
                "secs",
                "second",
                "seconds",
                $name,
                concat!("sec ", $name),
                concat!("seconds ", $name),
                concat!($maker, " ", $size),
                concat!("s ", $maker, " ", $size),
                concat!("sec ", $maker, " ", $size),
                concat!("seconds ", $maker, " ", $size),
                concat!($maker, " #", $size),
                concat!("s ", $maker, " #", $size),
                concat!("sec ", $maker, " #", $size),
                concat!("#", $size, " ", $maker),
                concat!("s #", $size, " ", $maker),
                concat!("sec #", $size, " ", $maker),
            ],
            dimension: Dimension::cup(Cup::$cup),
            factor: 1.0,
            offset: 0.0,
        }
    };
}

/// Every unit the program knows.
pub static UNITS: &[Unit] = &[
    // Plain numbers: shares and counts. A percent typed where a plain number is
    // asked is converted like any other unit. Optical densities and colour
    // differences have no unit; `D` and `ΔE` only name them.
    count("", &[]),
    of("%", &["percent", "pct", "per cent", "pc"], PLAIN, 0.01),
    of("points", &["point", "pp", "percentage points", "percentage point", "% points", "pts"], PLAIN, 0.01),
    of("ppm", &["parts per million"], PLAIN, 1e-6),
    count("D", &["OD", "density", "density units"]),
    count("ΔE", &["dE", "delta E", "ΔE00", "dE00", "ΔE2000", "dE2000", "ΔE*", "ΔE*ab", "ΔEab"]),
    count("pH", &[]),
    count("teeth", &["tooth", "t"]),
    count("impressions", &["impression", "imp", "imps"]),
    count("labels", &["label", "lbls"]),
    count("turns", &["turn", "rev", "revs", "revolution", "revolutions"]),
    count("repeats", &["repeat"]),
    count("divisions", &["division", "div", "divs"]),
    count("parts", &["part"]),
    count("sheets", &["sheet"]),
    count("rolls", &["roll"]),
    count("px", &["pixel", "pixels"]),
    count("dots", &["dot"]),
    // Lengths. SI prefixes; in, ft, yd from the inch; mil = 0.001 in; gauge of
    // film = 0.01 mil; pt = 1/72 in (the point of page make-up).
    of("m", &["metre", "metres", "meter", "meters"], LENGTH, 1.0),
    of("mm", &["millimetre", "millimetres", "millimeter", "millimeters"], LENGTH, 1e-3),
    of(
        "µm",
        &["um", "mic", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"],
        LENGTH,
        1e-6,
    ),
    of("cm", &["centimetre", "centimetres", "centimeter", "centimeters"], LENGTH, 1e-2),
    of("km", &["kilometre", "kilometres", "kilometer", "kilometers"], LENGTH, 1e3),
    of("in", &["inch", "inches", "\"", "''"], LENGTH, IN),
    of("ft", &["foot", "feet", "'", "lin ft", "linear feet"], LENGTH, FT),
    of("mil", &["mils", "thou", "thousandth", "thousandths"], LENGTH, 0.001 * IN),
    of("µin", &["uin", "microinch", "microinches"], LENGTH, 1e-6 * IN),
    of("gauge", &["ga"], LENGTH, 1e-5 * IN),
    of("yd", &["yard", "yards", "yds"], LENGTH, 3.0 * FT),
    of("pt", &["point", "points", "pts"], LENGTH, IN / 72.0),
    // Volume per area, which is a thickness: 1 cm³/m² = 1 µm.
    // BCM = billion cubic micrometres = 1e-9 m³; in the trade always per in².
    of("cm³/m²", &["cc/m2", "ml/m2", "g/m2 of water"], LENGTH, 1e-6),
    of("BCM/in²", &["bcm", "bcms", "bcm/sq in", "bcm/sq. in", "bcm/sqin"], LENGTH, 1e-9 / IN2),
    // Areas. MSI and MSF: a thousand square inches, a thousand square feet.
    of("m²", &["sq m", "sq. m", "sqm", "square metres", "square meters", "square metre", "square meter"], AREA, 1.0),
    of("cm²", &["sq cm", "sq. cm", "square centimetres", "square centimeters"], AREA, 1e-4),
    of("mm²", &["sq mm", "sq. mm", "square millimetres", "square millimeters"], AREA, 1e-6),
    of("µm²", &["um2", "square microns", "square micrometres", "square micrometers"], AREA, 1e-12),
    of("in²", &["sq in", "sq. in", "square inches", "square inch", "si"], AREA, IN2),
    of("ft²", &["sq ft", "sq. ft", "square feet", "square foot", "sf"], AREA, FT2),
    of("MSI", &["thousand square inches", "1000 in2"], AREA, 1000.0 * IN2),
    of("MSF", &["thousand square feet", "1000 ft2"], AREA, 1000.0 * FT2),
    of("ream", &["reams", "ream (3000 ft2)", "3000 ft2"], AREA, REAM),
    // Volumes.
    of("L", &["litre", "litres", "liter", "liters"], VOLUME, 1e-3),
    of("mL", &["millilitre", "millilitres", "milliliter", "milliliters"], VOLUME, 1e-6),
    of("cm³", &["cc", "ccm", "cubic centimetres", "cubic centimeters"], VOLUME, 1e-6),
    of("m³", &["cubic metres", "cubic meters", "cubic metre", "cubic meter"], VOLUME, 1.0),
    of("in³", &["cu in", "cu. in", "cubic inches", "cubic inch"], VOLUME, IN * IN2),
    of("ft³", &["cu ft", "cu. ft", "cubic feet", "cubic foot"], VOLUME, FT * FT2),
    of("gal", &["gallon", "gallons", "us gal", "us gallon", "us gallons"], VOLUME, GAL),
    of("qt", &["quart", "quarts"], VOLUME, GAL / 4.0),
    of("fl oz", &["fl. oz", "fluid ounce", "fluid ounces"], VOLUME, GAL / 128.0),
    // Masses, then forces: `lb`, `#`, `oz` are masses unless a force is wanted.
    of("kg", &["kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"], MASS, 1.0),
    of("g", &["gram", "grams", "gramme", "grammes"], MASS, 1e-3),
    of("mg", &["milligram", "milligrams"], MASS, 1e-6),
    of("lb", &["lbs", "#", "pound", "pounds", "lbm"], MASS, LB),
    of("oz", &["ounce", "ounces"], MASS, LB / 16.0),
    of("N", &["newton", "newtons"], FORCE, 1.0),
    of("kN", &["kilonewton", "kilonewtons"], FORCE, 1e3),
    of("lbf", &["lb", "lbs", "#", "pound", "pounds", "pound-force", "pounds-force"], FORCE, LBF),
    of("ozf", &["oz", "ounce", "ounces"], FORCE, LBF / 16.0),
    of("kgf", &["kilopond", "kp"], FORCE, GRAVITY),
    // Force per width (web tension). PLI = pounds per linear inch.
    of("N/m", &["newtons/metre", "newtons/meter"], FORCE_PER_WIDTH, 1.0),
    of("N/cm", &[], FORCE_PER_WIDTH, 1e2),
    of("N/mm", &["kN/m"], FORCE_PER_WIDTH, 1e3),
    of("mN/m", &["dyn/cm", "dyne/cm", "dynes/cm", "dyne", "dynes", "dyn"], FORCE_PER_WIDTH, 1e-3),
    of("PLI", &["lbf/in", "lb/in", "lbs/in", "#/in", "lb/inch", "pounds per inch"], FORCE_PER_WIDTH, LBF / IN),
    of("oz/in", &["ozf/in", "oz/inch", "ounces per inch"], FORCE_PER_WIDTH, LBF / 16.0 / IN),
    of("kgf/cm", &["kg/cm", "kp/cm"], FORCE_PER_WIDTH, GRAVITY / 0.01),
    // Energy per area (dose): same exponents as force per width.
    of("J/m²", &[], FORCE_PER_WIDTH, 1.0),
    of("mJ/cm²", &["mj/sq cm"], FORCE_PER_WIDTH, 1e-3 / 1e-4),
    of("J/cm²", &["j/sq cm"], FORCE_PER_WIDTH, 1.0 / 1e-4),
    // Pressure, stress, modulus; and tension per width and gauge.
    of("Pa", &["pascal", "pascals"], PRESSURE, 1.0),
    of("kPa", &["kilopascal", "kilopascals"], PRESSURE, 1e3),
    of("MPa", &["N/mm2", "megapascal", "megapascals"], PRESSURE, 1e6),
    of("GPa", &["gigapascal", "gigapascals"], PRESSURE, 1e9),
    of("bar", &["bars"], PRESSURE, 1e5),
    of("psi", &["lbf/in2", "lb/in2", "lb/sq in", "#/in2", "pounds per square inch"], PRESSURE, LBF / IN2),
    of("kpsi", &["ksi"], PRESSURE, 1000.0 * LBF / IN2),
    of("PLI/mil", &["lbf/in/mil", "lb/in/mil", "pounds per inch per mil"], PRESSURE, LBF / IN / (0.001 * IN)),
    // Torque.
    of("N·m", &["Nm", "newton metres", "newton meters", "J", "joule", "joules"], TORQUE, 1.0),
    of("lbf·in", &["lb·in", "in·lb", "in·lbf", "inlb", "inlbs", "lbin", "in·lbs", "inch pounds"], TORQUE, LBF * IN),
    of("lbf·ft", &["lb·ft", "ft·lb", "ft·lbf", "ftlb", "ftlbs", "lbft", "ft·lbs", "foot pounds"], TORQUE, LBF * FT),
    // Numbers per length: screens, imagesetters, gears, screws.
    of("lpi", &["lines/in", "l/in", "lines/inch", "cells/in"], PER_LENGTH, 1.0 / IN),
    of("l/cm", &["lines/cm", "lpcm", "lpc", "cells/cm", "lines/centimetre"], PER_LENGTH, 1.0 / 0.01),
    of("dpi", &["dots/in", "ppi", "px/in", "pixels/in"], PER_LENGTH, 1.0 / IN),
    of("px/cm", &["dots/cm", "pixels/cm"], PER_LENGTH, 1.0 / 0.01),
    of("teeth/in", &["DP", "t/in", "teeth/inch", "diametral pitch"], PER_LENGTH, 1.0 / IN),
    of("threads/in", &["tpi", "threads/inch"], PER_LENGTH, 1.0 / IN),
    of("1/in", &["/in", "in-1"], PER_LENGTH, 1.0 / IN),
    of("1/mm", &["/mm", "mm-1"], PER_LENGTH, 1.0 / 1e-3),
    of("1/m", &["/m", "m-1"], PER_LENGTH, 1.0),
    // Times.
    of("s", &["sec", "secs", "second", "seconds"], TIME, 1.0),
    of("ms", &["millisecond", "milliseconds"], TIME, 1e-3),
    of("min", &["mins", "minute", "minutes"], TIME, MIN),
    of("h", &["hr", "hrs", "hour", "hours"], TIME, HOUR),
    // Speeds.
    of("ft/min", &["fpm", "feet/min", "feet/minute", "ft/minute"], SPEED, FT / MIN),
    of("m/min", &["mpm", "metres/min", "meters/min", "metres/minute", "meters/minute"], SPEED, 1.0 / MIN),
    of("m/s", &["mps", "m/sec", "metres/second", "meters/second"], SPEED, 1.0),
    of("ft/s", &["fps", "ft/sec", "feet/second"], SPEED, FT),
    of("in/s", &["ips", "in/sec", "inches/second"], SPEED, IN),
    of("in/min", &["inches/minute"], SPEED, IN / MIN),
    of("cm/s", &["cm/sec"], SPEED, 1e-2),
    of("mm/s", &["mm/sec"], SPEED, 1e-3),
    // Rates: so many in a time. What is counted is plain.
    of("1/s", &["/s", "s-1", "Hz", "hertz"], RATE, 1.0),
    of("1/min", &["/min", "min-1", "cpm"], RATE, 1.0 / MIN),
    of("1/h", &["/h", "/hr", "/hour", "h-1"], RATE, 1.0 / HOUR),
    of("rpm", &["r/min", "rev/min", "revs/min", "turns/min", "revolutions per minute"], RATE, 1.0 / MIN),
    of("impressions/min", &["imp/min", "imps/min", "impressions/minute"], RATE, 1.0 / MIN),
    of("impressions/h", &["imp/h", "imp/hr", "iph", "impressions/hr", "impressions/hour"], RATE, 1.0 / HOUR),
    of("labels/min", &["label/min", "labels/minute"], RATE, 1.0 / MIN),
    of("labels/h", &["label/h", "labels/hr", "labels/hour"], RATE, 1.0 / HOUR),
    // Viscosity: 1 cSt = 1 mm²/s, 1 cP = 1 mPa·s.
    of("mm²/s", &["cSt", "centistokes", "centistoke"], KINEMATIC, 1e-6),
    of("St", &["stokes", "cm2/s"], KINEMATIC, 1e-4),
    of("mPa·s", &["cP", "cps", "mPas", "centipoise"], DYNAMIC, 1e-3),
    of("Pa·s", &["Pas"], DYNAMIC, 1.0),
    of("P", &["poise"], DYNAMIC, 0.1),
    // Density of liquids; mass per area (coat and basis weight) and its inverse (yield).
    of("g/cm³", &["g/cc", "g/ml", "kg/l", "kg/dm3", "sg"], MASS_PER_VOLUME, 1e-3 / 1e-6),
    of("kg/m³", &["g/l"], MASS_PER_VOLUME, 1.0),
    of("lb/gal", &["lbs/gal", "#/gal", "ppg", "lb/us gal", "pounds per gallon"], MASS_PER_VOLUME, LB / GAL),
    of("g/m²", &["gsm", "g/sq m", "g/sqm", "grams per square metre", "grams per square meter"], MASS_PER_AREA, 1e-3),
    of("mg/in²", &["mg/sq in"], MASS_PER_AREA, 1e-6 / IN2),
    of(
        "lb/ream",
        &["lbs/ream", "#/ream", "lb/rm", "lb/3000 ft2", "lbs/3000 ft2", "#/3000 ft2", "lb/3000 sq ft"],
        MASS_PER_AREA,
        LB / REAM,
    ),
    of("lb/MSF", &["lbs/MSF", "#/MSF", "lb/1000 ft2"], MASS_PER_AREA, LB / (1000.0 * FT2)),
    of("in²/lb", &["sq in/lb", "in2/#", "square inches per pound"], AREA_PER_MASS, IN2 / LB),
    of("MSI/lb", &["MSI/#"], AREA_PER_MASS, 1000.0 * IN2 / LB),
    of("ft²/lb", &["sq ft/lb", "square feet per pound"], AREA_PER_MASS, FT2 / LB),
    of("m²/kg", &["sq m/kg", "square metres per kilogram"], AREA_PER_MASS, 1.0),
    // Flow of mass and of volume.
    of("kg/h", &["kg/hr", "kg/hour"], MASS_PER_TIME, 1.0 / HOUR),
    of("g/min", &["g/minute"], MASS_PER_TIME, 1e-3 / MIN),
    of("lb/h", &["lb/hr", "lbs/h", "lbs/hr", "#/h", "#/hr", "lb/hour"], MASS_PER_TIME, LB / HOUR),
    of("L/min", &["lpm", "litres/min", "liters/min"], VOLUME_PER_TIME, 1e-3 / MIN),
    of("mL/min", &["cc/min"], VOLUME_PER_TIME, 1e-6 / MIN),
    of("gal/min", &["gpm", "us gal/min", "gallons/min"], VOLUME_PER_TIME, GAL / MIN),
    // Power, and power per area (irradiance).
    of("W", &["watt", "watts"], POWER, 1.0),
    of("kW", &["kilowatt", "kilowatts"], POWER, 1e3),
    of("W/m²", &[], POWER_PER_AREA, 1.0),
    of("mW/cm²", &["mw/sq cm"], POWER_PER_AREA, 1e-3 / 1e-4),
    of("W/cm²", &["w/sq cm"], POWER_PER_AREA, 1.0 / 1e-4),
    // Latent heat.
    of("kJ/kg", &["J/g", "kj/kilogram"], ENERGY_PER_MASS, 1e3),
    // Angles. A turn is plain (above) unless an angle is wanted.
    angle("°", &["deg", "degs", "degree", "degrees"], PI / 180.0),
    angle("rad", &["radian", "radians"], 1.0),
    angle("full turns", &["full turn", "turn", "turns", "rev", "revs", "revolution", "revolutions"], 2.0 * PI),
    // Temperatures. K and F° are differences; °C and °F are points: 0 °C is
    // 273.15 K, 0 °F is 459.67 F° above absolute zero, 1 F° is 5/9 K.
    temperature("K", &["kelvin", "kelvins", "C°", "celsius degrees", "°", "deg", "degrees"], 1.0, 0.0),
    temperature("F°", &["fahrenheit degrees", "°", "deg", "degrees"], 5.0 / 9.0, 0.0),
    temperature(
        "°C",
        &["C", "C°", "deg C", "degs C", "degree C", "degrees C", "celsius", "degrees celsius", "°", "deg", "degrees"],
        1.0,
        273.15,
    ),
    temperature(
        "°F",
        &[
            "F",
            "F°",
            "deg F",
            "degs F",
            "degree F",
            "degrees F",
            "fahrenheit",
            "degrees fahrenheit",
            "°",
            "deg",
            "degrees",
        ],
        5.0 / 9.0,
        459.67 * 5.0 / 9.0,
    ),
    // Cup seconds: no factor leads from them to anything else.
    cup!(Zahn1, "Zahn 1", "Zahn", "1"),
    cup!(Zahn2, "Zahn 2", "Zahn", "2"),
    cup!(Zahn3, "Zahn 3", "Zahn", "3"),
    cup!(Zahn4, "Zahn 4", "Zahn", "4"),
    cup!(Zahn5, "Zahn 5", "Zahn", "5"),
    cup!(Shell1, "Shell 1", "Shell", "1"),
    cup!(Shell2, "Shell 2", "Shell", "2"),
    cup!(Shell2Half, "Shell 2½", "Shell", "2.5"),
    cup!(Shell3, "Shell 3", "Shell", "3"),
    cup!(Shell3Half, "Shell 3½", "Shell", "3.5"),
    cup!(Shell4, "Shell 4", "Shell", "4"),
    cup!(Shell5, "Shell 5", "Shell", "5"),
    cup!(Shell6, "Shell 6", "Shell", "6"),
    cup!(Ford1, "Ford 1", "Ford", "1"),
    cup!(Ford2, "Ford 2", "Ford", "2"),
    cup!(Ford3, "Ford 3", "Ford", "3"),
    cup!(Ford4, "Ford 4", "Ford", "4"),
    cup!(Ford5, "Ford 5", "Ford", "5"),
    cup!(Din4, "DIN 4 mm", "DIN", "4"),
    cup!(Iso3, "ISO 3 mm", "ISO", "3"),
    cup!(Iso4, "ISO 4 mm", "ISO", "4"),
    cup!(Iso5, "ISO 5 mm", "ISO", "5"),
    cup!(Iso6, "ISO 6 mm", "ISO", "6"),
];
