//! A register target with up to six colours off the key.

use std::fmt::Write as _;

use super::register_glass::{Cross, Glass, lengthwise, ruler, sideways, web_runs};
use super::scales::arrow;
use super::{Anchor, Arguments, Drawing, Figure, Pen, Style};

/// A register target, with colours off the key by given amounts.
pub(super) const REGISTER_TARGET: Figure = Figure { name: "register-target", draw, example };

const LABELS: [&str; 6] = ["1", "2", "3", "4", "5", "6"];
const GLASS: Glass = Glass { left: 58.0, top: 32.0, per_mm: 98.0, reach: 1.64, mirrored: false, numbers: Some(37.0) };

fn draw(given: &Arguments, style: Style) -> Drawing {
    let ruler = ruler(given.word("unit"));
    let crosses: Vec<Cross<'_>> = LABELS
        .into_iter()
        .zip(given.series("across"))
        .zip(given.series("around"))
        .map(|((label, &across), &around)| (label, across, around))
        .collect();
    let mut pen = Pen::new(420.0, 418.0);
    GLASS.draw(&mut pen, &ruler, &crosses, style);
    let (left, right, bottom) = (GLASS.left, GLASS.left + GLASS.side(), GLASS.top + GLASS.side());
    web_runs(&mut pen, 22.0, bottom - 40.0, GLASS.top + 40.0);
    let base = bottom + 40.0;
    arrow(&mut pen, (left + 18.0, base - 4.0), (left - 6.0, base - 4.0));
    pen.label((left + 23.0, base), Anchor::Start, "gear side");
    arrow(&mut pen, (right - 18.0, base - 4.0), (right + 6.0, base - 4.0));
    pen.label((right - 23.0, base), Anchor::End, "operator side");
    let note = format!("magnified; 1 small space = {}", ruler.space(style));
    pen.small((f64::midpoint(left, right), base + 19.0), Anchor::Middle, &note);
    let words = words(&crosses, &ruler, style);
    Drawing { svg: pen.finish(), words }
}

fn words(crosses: &[Cross<'_>], ruler: &super::scales::Ruler, style: Style) -> String {
    let mut words = format!(
        "Numbered crosses lie about the key's cross, told here in small spaces of {}; ahead is the way the web runs.",
        ruler.space(style)
    );
    for pair in crosses.chunks(2) {
        let told: Vec<String> = pair
            .iter()
            .map(|&(label, across, around)| {
                let (sideways, lengthwise) = (sideways(ruler, across, style), lengthwise(ruler, around, style));
                format!("{label} lies {sideways} and {lengthwise}")
            })
            .collect();
        let _ = write!(words, " Colour {}.", told.join(", colour "));
    }
    words
}

fn example(n: u32) -> Arguments {
    let (across, around, unit): (&[f64], &[f64], Option<&str>) = match n {
        0 => (&[0.35, -0.2, 0.1], &[-0.15, 0.45, 0.1], None),
        1 => (&[-0.6, 0.25], &[0.3, 0.0], Some("mm")),
        2 => (&[0.3048, -0.1016, 0.5588], &[0.1524, -0.4572, 0.0], Some("in")),
        3 => (&[0.05, 0.05, -0.1, 0.15, 0.0, 0.1], &[0.1, 0.85, -0.05, 0.05, 0.1, -0.1], Some("mm")),
        4 => (&[1.2, -0.95, 0.4, -0.3], &[0.7, -1.35, 1.1, 0.15], None),
        _ => (&[-0.254, 0.762, -0.6604, 0.2032, 0.0508], &[0.508, 0.1016, -0.2032, -0.8636, 0.254], Some("in")),
    };
    let mut given = Arguments { grain: u64::from(n), ..Arguments::default() };
    given.series.insert("across".to_owned(), across.to_vec());
    given.series.insert("around".to_owned(), around.to_vec());
    given.words.extend(unit.map(|unit| ("unit".to_owned(), unit.to_owned())));
    given
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::proof::{Seen, numbers, pulls, sound};

    #[test]
    fn crosses_lie_off_the_key_as_given_by_the_scale_drawn() {
        let long = |given: &Arguments| match given.series.get("across") {
            Some(across) => across.len(),
            None => usize::try_from(given.grain % 5 + 2).expect("it is there"),
        };
        for given in pulls(&REGISTER_TARGET, 240, &long) {
            let drawing = sound(&REGISTER_TARGET, &given);
            let seen = Seen::of(&drawing.svg);
            // One mm, by the marks of the scale: they come in pairs, below and beside, of two points each.
            let marks = seen.one("scale");
            let small = if given.word("unit") == "in" { 0.0508 } else { 0.1 };
            let a_mm = (marks[4].0 - marks[0].0) / small;
            let edges = seen.one("key-around");
            assert!(marks.chunks(4).all(|mark| mark[0].0 >= edges[0].0 && mark[0].0 <= edges[1].0), "{given:?}");
            let (key_x, key_y) = (seen.one("key-across")[0].0, seen.one("key-around")[0].1);
            let (xs, ys) = (seen.named("cross-across"), seen.named("cross-around"));
            assert_eq!(xs.len(), given.series("across").len());
            for (((x, y), across), around) in xs.iter().zip(&ys).zip(given.series("across")).zip(given.series("around"))
            {
                assert!(((x[0].0 - key_x) / a_mm - across).abs() < 0.012, "{given:?}");
                assert!(((key_y - y[0].1) / a_mm - around).abs() < 0.012, "{given:?}");
            }
        }
    }

    #[test]
    fn numbers_stand_at_the_marks_they_belong_to() {
        for (n, a_mm) in [(0, 1.0), (2, 25.4 / 1000.0)] {
            let seen = Seen::of(&draw(&example(n), Style { mark: '.' }).svg);
            let (key_x, bottom) = (seen.one("key-across")[1].0, seen.one("key-across")[1].1);
            let below: Vec<_> =
                seen.texts.iter().filter(|text| text.low.1 > bottom && text.high.1 < bottom + 24.0).collect();
            assert_eq!(below.len(), 7);
            for text in below {
                let off = (f64::midpoint(text.low.0, text.high.0) - key_x) / 98.0;
                assert!((off.abs() - numbers(&text.says)[0] * a_mm).abs() < 0.01, "{text:?}");
            }
        }
    }

    #[test]
    fn words_tell_small_spaces() {
        let words = draw(&example(0), Style { mark: ',' }).words;
        assert!(words.contains("small spaces of 0,1 mm"), "{words}");
        assert!(
            words.contains("Colour 1 lies 3,5 toward the operator side and 1,5 behind, colour 2 lies 2 toward the")
        );
        let words = draw(&example(1), Style { mark: '.' }).words;
        assert!(words.contains("colour 2 lies 2.5 toward the operator side and true around."), "{words}");
    }
}
