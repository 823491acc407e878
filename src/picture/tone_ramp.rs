//! A tone ramp: halftone patches whose dots have the printed area.

use std::f64::consts::PI;
use std::fmt::Write as _;

use super::{Anchor, Arguments, Drawing, Figure, Ink, Pen, Style, n};

/// The side of a patch, in drawing units.
const PATCH: f64 = 84.0;
/// The distance of two dots of a row; the rows stand at 45°.
const CELL: f64 = 12.0;
/// How many patches stand in a row.
const IN_A_ROW: usize = 5;
/// The height of a row of patches with its words.
const ROW: f64 = 132.0;

/// How many patches one sentence tells.
const IN_A_SENTENCE: usize = 5;
/// From this share on, a patch is solid.
const FULL: f64 = 0.9999;

/// Patches of a ramp as a loupe shows them, with what the plate has, and what was read off them.
pub(super) const TONE_RAMP: Figure = Figure { name: "tone-ramp", draw, example };

fn draw(given: &Arguments, style: Style) -> Drawing {
    let pairs: Vec<(f64, f64)> =
        given.series("plate").iter().copied().zip(given.series("printed").iter().copied()).collect();
    let with_values = given.word("show_values") != "no";
    let rows = pairs.len().div_ceil(IN_A_ROW).max(1);
    #[expect(clippy::cast_precision_loss, reason = "a ramp has few patches")]
    let at = |count: usize| count as f64;
    let mut pen = Pen::new(at(IN_A_ROW) * (PATCH + 10.0) + 8.0, at(rows) * ROW);
    for (index, (plate, printed)) in pairs.iter().enumerate() {
        let corner = (9.0 + at(index % IN_A_ROW) * (PATCH + 10.0), 24.0 + at(index / IN_A_ROW) * ROW);
        patch(&mut pen, corner, printed / 100.0);
        let middle = corner.0 + PATCH / 2.0;
        pen.small((middle, corner.1 - 10.0), Anchor::Middle, &format!("plate {} %", style.short(*plate)));
        if with_values {
            pen.small((middle, corner.1 + PATCH + 19.0), Anchor::Middle, &format!("reads {} %", style.short(*printed)));
        }
    }
    Drawing { svg: pen.finish(), words: words(&pairs, with_values, style) }
}

/// What is read off each patch, or else how wide its dots are: as the eye has it, without the tone value.
fn words(pairs: &[(f64, f64)], with_values: bool, style: Style) -> String {
    let (mut words, first) = if with_values {
        ("Patches of a tone ramp as a loupe shows them, in %.".to_owned(), "On the plate and as read off")
    } else {
        let says =
            "Patches of a tone ramp as a loupe shows them: round dots, as many in a row as rows on the same length.";
        (says.to_owned(), "The plate's values, and how many spacings wide the printed dots are")
    };
    for (index, some) in pairs.chunks(IN_A_SENTENCE).enumerate() {
        let each = some.iter().map(|(plate, printed)| {
            let plate = style.short(*plate);
            match printed / 100.0 {
                _ if with_values => format!("{plate} reads {}", style.short(*printed)),
                share if share >= FULL => format!("{plate} % solid"),
                share if share <= 1.0 - FULL => format!("{plate} % bare"),
                share => format!("{plate} % {}", style.number(2.0 * radius(share), 2)),
            }
        });
        let _ = write!(words, " {}: {}.", if index == 0 { first } else { "Then" }, each.collect::<Vec<_>>().join(", "));
    }
    words
}

/// The radius at which round dots on a lattice of side 1 cover a share; beyond
/// touching, dots overlap, and the light that is left lies between four of them.
fn radius(share: f64) -> f64 {
    let touching = PI / 4.0;
    if share <= touching {
        return (share / PI).sqrt();
    }
    let (mut low, mut high) = (0.5, 0.5_f64.hypot(0.5));
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if covered(middle) < share { low = middle } else { high = middle }
    }
    f64::midpoint(low, high)
}

/// What overlapping dots of a radius between 1/2 and √½ cover of a lattice of side 1.
fn covered(radius: f64) -> f64 {
    let half_chord = (radius * radius - 0.25).max(0.0).sqrt();
    let segment = radius * radius * (0.5 / radius).acos() - 0.5 * half_chord;
    PI * radius * radius - 4.0 * segment
}

/// A patch: whole dots only, in diagonal rows, within the frame.
fn patch(pen: &mut Pen, corner: (f64, f64), share: f64) {
    pen.rect(Ink::Fine, corner, PATCH, PATCH);
    if share >= FULL {
        pen.rect(Ink::Solid, corner, PATCH, PATCH);
        return;
    }
    if share <= 1.0 - FULL {
        return;
    }
    let step = CELL / 2.0_f64.sqrt();
    let diameter = 2.0 * radius(share) * CELL;
    let count = ((PATCH - CELL - 2.0) / step).floor();
    let start = (PATCH - count * step) / 2.0;
    let mut dots = Vec::new();
    let (mut row, mut y) = (0_u32, start);
    while y <= PATCH - start + 1e-6 {
        let mut x = start + if row.is_multiple_of(2) { 0.0 } else { step };
        while x <= PATCH - start + 1e-6 {
            dots.push((corner.0 + x, corner.1 + y));
            x += 2.0 * step;
        }
        y += step;
        row += 1;
    }
    pen.dots(diameter, dots);
    // What stands out over the frame is covered, and the frame drawn again.
    let (x, y, over) = (corner.0, corner.1, diameter / 2.0);
    let (width, inner) = (n(PATCH + 2.0 * over), n(PATCH));
    pen.path(
        Ink::Blank,
        &format!(
            "M{} {}h{width}v{width}h-{width}zM{} {}v{inner}h{inner}v-{inner}z",
            n(x - over),
            n(y - over),
            n(x),
            n(y)
        ),
    );
    pen.rect(Ink::Fine, corner, PATCH, PATCH);
}

fn example(number: u32) -> Arguments {
    let gain = 8.0 + 3.0 * f64::from(number);
    let plate = vec![2.0, 5.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0, 75.0, 90.0];
    let printed =
        plate.iter().map(|tone: &f64| (tone + gain * 4.0 * tone * (100.0 - tone) / 10_000.0).round()).collect();
    Arguments {
        series: [("plate".to_owned(), plate), ("printed".to_owned(), printed)].into(),
        words: [("show_values".to_owned(), if number < 4 { "yes" } else { "no" }.to_owned())].into(),
        grain: u64::from(number),
        ..Arguments::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::proof::{Seen, numbers, pulls, sound};

    fn long(given: &Arguments) -> usize {
        usize::try_from(given.grain % 6 + 5).expect("a few")
    }

    /// The share of ink in the middle of a patch, counted over whole cells of its dots: the drawing's own centres and widths.
    fn inked(dots: roxmltree::Node<'_, '_>) -> f64 {
        let wide: f64 = dots.attribute("stroke-width").expect("it is there").parse().expect("a number");
        let data = dots.attribute("d").expect("it is there");
        let points: Vec<(f64, f64)> = data.split('M').skip(1).map(numbers).map(|v| (v[0], v[1])).collect();
        let middle = points[points.len() / 2];
        let near: Vec<_> = points.iter().filter(|p| (p.0 - middle.0).hypot(p.1 - middle.1) < 3.0 * CELL).collect();
        // One repeat of the rows, a square standing on its side.
        let (side, steps) = (CELL * 2.0_f64.sqrt(), 120);
        let at = |step: i32| (f64::from(step) + 0.5) / f64::from(steps) * side;
        let mut covered = 0;
        for (x, y) in (0..steps).flat_map(|row| (0..steps).map(move |column| (at(column), at(row)))) {
            let place = (middle.0 - side / 2.0 + x, middle.1 - side / 2.0 + y);
            covered += i32::from(near.iter().any(|p| (p.0 - place.0).hypot(p.1 - place.1) <= wide / 2.0));
        }
        f64::from(covered) / f64::from(steps * steps)
    }

    /// Tone values are asked for to a whole point.
    #[test]
    fn patches_are_inked_as_far_as_they_print() {
        for given in pulls(&TONE_RAMP, 40, &long) {
            let drawing = sound(&TONE_RAMP, &given);
            let svg = roxmltree::Document::parse(&drawing.svg).expect("it is there");
            let mut drawn = svg.descendants().filter(|node| node.attribute("class") == Some("p-dots"));
            for printed in given.series("printed").iter().filter(|printed| (0.01..99.99).contains(*printed)) {
                let share = inked(drawn.next().expect("a patch"));
                assert!((share * 100.0 - printed).abs() < 0.5, "{share} {printed}");
            }
            assert!(drawn.next().is_none());
            let seen = Seen::of(&drawing.svg);
            for plate in given.series("plate") {
                assert!(seen.text_saying(&format!("plate {} %", Style { mark: '.' }.short(*plate))).is_some());
            }
        }
    }

    /// The area of round dots in a square lattice, from their width alone, while they stand apart.
    #[test]
    fn words_without_readings_tell_how_wide_the_dots_are() {
        let mut given = example(0);
        given.words.insert("show_values".to_owned(), "no".to_owned());
        let words = draw(&given, Style { mark: '.' }).words;
        assert!(!words.contains("reads"), "{words}");
        let (_, told) = words.split_once("are: ").expect("it is there");
        let told = told.replace(". Then:", ",");
        let last = |one: &str| one.rsplit(' ').next().expect("a width").parse().expect("a width");
        let wide: Vec<f64> = told.trim_end_matches('.').split(", ").map(last).collect();
        for (wide, printed) in wide.iter().zip(given.series("printed")).filter(|(wide, _)| **wide < 1.0) {
            assert!((PI / 4.0 * wide * wide * 100.0 - printed).abs() < 0.8, "{wide} {printed}");
        }
        assert_eq!(wide.len(), 10);
    }

    /// Counted on a fine grid over one cell of the lattice.
    #[test]
    fn dots_cover_the_share_that_is_printed() {
        for percent in 1..100 {
            let share = f64::from(percent) / 100.0;
            let radius = radius(share);
            let side = 400;
            let mut inside = 0;
            for row in 0..side {
                for column in 0..side {
                    let at = |index: i32| (f64::from(index) + 0.5) / f64::from(side);
                    let near = |value: f64| value.min(1.0 - value);
                    if near(at(row)).hypot(near(at(column))) <= radius {
                        inside += 1;
                    }
                }
            }
            let counted = f64::from(inside) / f64::from(side * side);
            assert!((counted - share).abs() < 0.005, "{percent} %: {counted}");
        }
        assert!((covered(0.5) - std::f64::consts::PI / 4.0).abs() < 1e-12);
    }
}
