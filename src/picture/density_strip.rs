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
    let each = rows.iter().flatten().map(|patch| format!("{} {}", patch.says, style.number(patch.density, 2)));
    let words = format!("A strip of patches with the density read off each: {}.", each.collect::<Vec<_>>().join(", "));
    Drawing { svg: pen.finish(), words }
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
