//! A strip of solids, tints and overprints with the densities read off them.

use std::fmt::Write as _;

use super::{Anchor, Arguments, Drawing, Figure, Ink, Pen, Style, n};

/// The side of a patch, in drawing units.
const PATCH: f64 = 58.0;
/// From one patch to the next.
const APART: f64 = 76.0;
/// From one row to the next.
const ROW: f64 = 122.0;
/// The names of the inks, in the order of the readings.
const INKS: [&str; 4] = ["cyan", "magenta", "yellow", "black"];
/// Which two inks each overprint is made of.
const OVER: [&str; 3] = ["magenta on cyan", "yellow on cyan", "yellow on magenta"];

/// Solids, tints of one value, overprints of two inks, and the paper.
pub(super) const DENSITY_STRIP: Figure = Figure { name: "density-strip", draw, example };

/// How a patch looks: each sort has a texture of its own.
#[derive(Debug, Clone, Copy)]
enum Texture {
    Full,
    Dots,
    TwoWays,
    Bare,
}

struct Patch {
    says: String,
    density: f64,
    texture: Texture,
}

fn rows(given: &Arguments, style: Style) -> Vec<Vec<Patch>> {
    let named = |name: &str, names: &[&str], extra: &str, texture: Texture| -> Vec<Patch> {
        let readings = given.series(name).iter().zip(names);
        readings.map(|(density, ink)| Patch { says: format!("{ink}{extra}"), density: *density, texture }).collect()
    };
    let tint = format!(" {} %", style.short(given.maybe("tint_value").unwrap_or(50.0)));
    let mut rows = vec![
        named("solid", &INKS, "", Texture::Full),
        named("tint", &INKS, &tint, Texture::Dots),
        named("overprint", &OVER, "", Texture::TwoWays),
    ];
    if let Some(paper) = given.maybe("paper") {
        let bare = Patch { says: "paper".to_owned(), density: paper, texture: Texture::Bare };
        if let Some(last) = rows.iter_mut().rev().find(|row| (1..=4).contains(&row.len())) {
            last.push(bare);
        }
    }
    rows.retain(|row| !row.is_empty());
    rows
}

fn draw(given: &Arguments, style: Style) -> Drawing {
    let rows = rows(given, style);
    #[expect(clippy::cast_precision_loss, reason = "a strip has few patches")]
    let at = |count: usize| count as f64;
    let widest = rows.iter().map(Vec::len).max().unwrap_or(1).max(4);
    let mut pen = Pen::new(at(widest) * (APART + 18.0) + 8.0, at(rows.len()) * ROW);
    for (row, patches) in rows.iter().enumerate() {
        for (place, patch) in patches.iter().enumerate() {
            let corner = (22.0 + at(place) * (APART + 18.0), 30.0 + at(row) * ROW);
            let middle = corner.0 + PATCH / 2.0;
            textured(&mut pen, corner, patch.texture);
            let (above, below) =
                patch.says.split_once(" on ").map_or((patch.says.as_str(), None), |(a, b)| (a, Some(b)));
            let lift = if below.is_some() { 20.0 } else { 7.0 };
            pen.small((middle, corner.1 - lift), Anchor::Middle, above);
            if let Some(below) = below {
                pen.small((middle, corner.1 - 7.0), Anchor::Middle, &format!("on {below}"));
            }
            pen.label((middle, corner.1 + PATCH + 17.0), Anchor::Middle, &style.number(patch.density, 2));
        }
    }
    Drawing { svg: pen.finish(), words: words(&rows, style) }
}

/// A sentence for each row.
fn words(rows: &[Vec<Patch>], style: Style) -> String {
    let mut words = "A strip of patches with the density read off each.".to_owned();
    for row in rows {
        let each: Vec<String> =
            row.iter().map(|patch| format!("{} {}", patch.says, style.number(patch.density, 2))).collect();
        let sort = match row.first().map(|patch| patch.texture) {
            Some(Texture::Dots) => "Tints",
            Some(Texture::TwoWays) => "Overprints",
            _ => "Solids",
        };
        let _ = write!(words, " {sort}: {}.", each.join(", "));
    }
    words
}

fn textured(pen: &mut Pen, corner: (f64, f64), texture: Texture) {
    let (x, y) = corner;
    match texture {
        Texture::Full => pen.rect(Ink::Solid, corner, PATCH, PATCH),
        Texture::Bare => {}
        Texture::Dots => {
            let places = (0..6u32).flat_map(|row| (0..6u32).map(move |column| (row, column)));
            let dots = places.map(|(row, column)| (x + 5.0 + f64::from(column) * 9.6, y + 5.0 + f64::from(row) * 9.6));
            pen.dots(7.0, dots.collect::<Vec<_>>());
        }
        Texture::TwoWays => {
            let mut data = String::new();
            for line in 1..12u32 {
                let along = f64::from(line) * PATCH / 12.0;
                let _ = write!(
                    data,
                    "M{} {}V{}M{} {}H{}",
                    n(x + along),
                    n(y),
                    n(y + PATCH),
                    n(x),
                    n(y + along),
                    n(x + PATCH)
                );
            }
            pen.path(Ink::Line, &data);
        }
    }
    pen.rect(Ink::Line, corner, PATCH, PATCH);
}

fn example(number: u32) -> Arguments {
    let more = f64::from(number) * 0.02;
    let series: [(&str, Vec<f64>); 3] = [
        ("solid", vec![1.30 + more, 1.25 + more, 1.02 + more, 1.52 + more]),
        ("tint", vec![0.58 + more, 0.56 + more, 0.47 + more, 0.63 + more]),
        ("overprint", if number.is_multiple_of(2) { vec![1.38 + more, 1.12 + more, 1.18 + more] } else { vec![] }),
    ];
    Arguments {
        series: series.map(|(name, list)| (name.to_owned(), list)).into(),
        numbers: [("tint_value".to_owned(), 50.0), ("paper".to_owned(), 0.07)].into(),
        grain: u64::from(number),
        ..Arguments::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::proof::{Seen, Text, pulls, sound};

    fn middle(text: &Text) -> f64 {
        f64::midpoint(text.low.0, text.high.0)
    }

    fn long(given: &Arguments) -> usize {
        match given.series.len() {
            0 | 1 => usize::try_from(given.grain % 4 + 1).expect("a few"),
            _ => usize::try_from(given.grain % 3 + 1).expect("a few"),
        }
    }

    /// What is printed below a patch is its density; what is printed above it says which patch it is.
    #[test]
    fn each_density_stands_below_the_patch_it_belongs_to() {
        for given in pulls(&DENSITY_STRIP, 120, &long) {
            let drawing = sound(&DENSITY_STRIP, &given);
            let seen = Seen::of(&drawing.svg);
            let below = |says: &str| -> f64 {
                let (over, under) = says.split_once(" on ").map_or((says, None), |(over, under)| (over, Some(under)));
                let second = |head: &Text| {
                    let close = |text: &&Text| (text.low.1 - head.low.1 - 13.0).abs() < 0.1;
                    let level = |text: &&Text| (middle(text) - middle(head)).abs() < 0.1;
                    let mut lines = seen.texts.iter().filter(close).filter(level);
                    lines.find_map(|text| text.says.strip_prefix("on "))
                };
                let head = seen.texts.iter().find(|head| head.says == over && second(head) == under);
                let head = head.unwrap_or_else(|| panic!("{says}: {given:?}"));
                let lower = seen.texts.iter().filter(|text| text.low.1 > head.high.1 + PATCH);
                let level = lower.filter(|text| (middle(text) - middle(head)).abs() < 0.1);
                let nearest = level.min_by(|a, b| a.low.1.total_cmp(&b.low.1));
                nearest.expect("it is there").says.parse().expect("a density")
            };
            let tint = Style { mark: '.' }.short(given.maybe("tint_value").unwrap_or(50.0));
            for (density, ink) in given.series("solid").iter().zip(INKS) {
                assert!((below(ink) - density).abs() < 0.005_01, "{given:?}");
            }
            for (density, ink) in given.series("tint").iter().zip(INKS) {
                assert!((below(&format!("{ink} {tint} %")) - density).abs() < 0.005_01, "{given:?}");
            }
            for (density, over) in given.series("overprint").iter().zip(OVER) {
                assert!((below(over) - density).abs() < 0.005_01, "{given:?}");
            }
            if let Some(paper) = given.maybe("paper") {
                assert!((below("paper") - paper).abs() < 0.005_01, "{given:?}");
            }
        }
    }

    #[test]
    fn words_tell_every_patch() {
        let words = draw(&example(0), Style { mark: ',' }).words;
        assert!(words.contains("Solids: cyan 1,30, magenta 1,25, yellow 1,02, black 1,52."), "{words}");
        assert!(words.contains("Tints: cyan 50 % 0,58, "), "{words}");
        assert!(words.contains("Overprints: magenta on cyan 1,38, ") && words.ends_with("paper 0,07."), "{words}");
    }
}
