//! A tone ramp: halftone patches whose dots have the printed area.

use std::f64::consts::PI;

use super::{Anchor, Arguments, Drawing, Figure, Ink, Pen, Style, n};

/// The side of a patch, in drawing units.
const PATCH: f64 = 84.0;
/// The distance of two dots of a row; the rows stand at 45°.
const CELL: f64 = 12.0;
/// How many patches stand in a row.
const IN_A_ROW: usize = 5;
/// The height of a row of patches with its words.
const ROW: f64 = 122.0;

/// Patches of a ramp as a loupe shows them, with what the plate has, and what was read off them.
pub(super) const TONE_RAMP: Figure = Figure { name: "tone-ramp", draw, example };

fn draw(given: &Arguments, style: Style) -> Drawing {
    let pairs: Vec<(f64, f64)> =
        given.series("plate").iter().copied().zip(given.series("printed").iter().copied()).collect();
    let with_values = given.word("show_values") != "no";
    let rows = pairs.len().div_ceil(IN_A_ROW).max(1);
    #[expect(clippy::cast_precision_loss, reason = "a ramp has few patches")]
    let at = |count: usize| count as f64;
    let mut pen = Pen::new(at(IN_A_ROW) * (PATCH + 10.0) + 6.0, at(rows) * ROW);
    for (index, (plate, printed)) in pairs.iter().enumerate() {
        let corner = (8.0 + at(index % IN_A_ROW) * (PATCH + 10.0), 18.0 + at(index / IN_A_ROW) * ROW);
        patch(&mut pen, corner, printed / 100.0);
        let middle = corner.0 + PATCH / 2.0;
        pen.small((middle, corner.1 - 5.0), Anchor::Middle, &format!("plate {} %", style.short(*plate)));
        if with_values {
            pen.small((middle, corner.1 + PATCH + 15.0), Anchor::Middle, &format!("reads {} %", style.short(*printed)));
        }
    }
    let each = pairs.iter().map(|(plate, printed)| {
        if with_values {
            format!("{} % on the plate reads {} %", style.short(*plate), style.short(*printed))
        } else {
            format!("{} % on the plate covers about {} % of the paper", style.short(*plate), style.number(*printed, 0))
        }
    });
    let words = format!("Patches of a tone ramp as a loupe shows them: {}.", each.collect::<Vec<_>>().join(", "));
    Drawing { svg: pen.finish(), words }
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
    if share >= 0.9999 {
        pen.rect(Ink::Solid, corner, PATCH, PATCH);
        return;
    }
    if share <= 0.0001 {
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
    use super::{covered, radius};

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
