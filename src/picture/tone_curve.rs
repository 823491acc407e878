//! A tone value curve: measured points, and the aim they are held against.

use std::fmt::Write as _;

use super::{Anchor, Arguments, Drawing, Figure, Ink, Pen, Style, n};

/// The length of both axes, in drawing units: four to a point.
const LENGTH: f64 = 400.0;
/// The lower left corner of the grid.
const CORNER: (f64, f64) = (52.0, 424.0);

/// How many points one sentence tells.
const IN_A_SENTENCE: usize = 6;

/// Measured tone values over those of the plate, and the aim as a broken line.
pub(super) const TONE_CURVE: Figure = Figure { name: "tone-curve", draw, example };

fn place(plate: f64, printed: f64) -> (f64, f64) {
    (CORNER.0 + plate / 100.0 * LENGTH, CORNER.1 - printed / 100.0 * LENGTH)
}

fn draw(given: &Arguments, style: Style) -> Drawing {
    let mut pen = Pen::new(476.0, 478.0);
    grid(&mut pen);
    let pairs = |plate: &str, printed: &str| -> Vec<(f64, f64)> {
        given.series(plate).iter().copied().zip(given.series(printed).iter().copied()).collect()
    };
    let (measured, aim) = (pairs("plate", "printed"), pairs("aim_plate", "aim_printed"));
    if !aim.is_empty() {
        pen.named("aim", Ink::Broken, &line_through(&aim));
    }
    pen.named("measured", Ink::Line, &line_through(&measured));
    for (plate, printed) in &measured {
        let (x, y) = place(*plate, *printed);
        pen.path(Ink::Line, &format!("M{} {}l8 8m0 -8l-8 8", n(x - 4.0), n(y - 4.0)));
    }
    let mut words = "A curve of printed over plate tone values, in %.".to_owned();
    tell(&mut words, "Crosses mark what was measured", &measured, style);
    tell(&mut words, "The aim, a broken line, straight between points", &aim, style);
    Drawing { svg: pen.finish(), words }
}

/// Tells points in sentences that stay short.
fn tell(words: &mut String, what: &str, points: &[(f64, f64)], style: Style) {
    for (index, some) in points.chunks(IN_A_SENTENCE).enumerate() {
        let each =
            some.iter().map(|(plate, printed)| format!("{} prints {}", style.short(*plate), style.short(*printed)));
        let _ = write!(words, " {}: {}.", if index == 0 { what } else { "Then" }, each.collect::<Vec<_>>().join(", "));
    }
}

fn line_through(points: &[(f64, f64)]) -> String {
    let steps = points.iter().enumerate().map(|(index, (plate, printed))| {
        let (x, y) = place(*plate, *printed);
        format!("{}{} {}", if index == 0 { 'M' } else { 'L' }, n(x), n(y))
    });
    steps.collect()
}

/// Lines at each ten, small marks at each two, numbers at each twenty.
fn grid(pen: &mut Pen) {
    let mut data = String::new();
    for ten in 0..=10u32 {
        let at = f64::from(ten) * 10.0;
        let ((x, y), end) = (place(at, at), place(100.0, 100.0));
        let _ = write!(data, "M{} {}V{}M{} {}H{}", n(x), n(CORNER.1), n(end.1), n(CORNER.0), n(y), n(end.0));
    }
    let mut marks = String::new();
    for two in 0..=50u32 {
        let (x, y) = place(f64::from(two) * 2.0, f64::from(two) * 2.0);
        let _ = write!(marks, "M{} {}v5M{} {}h-5", n(x), n(CORNER.1), n(CORNER.0), n(y));
    }
    pen.named("grid", Ink::Grid, &data);
    pen.named("marks", Ink::Fine, &marks);
    for twenty in 0..=5u32 {
        let at = f64::from(twenty) * 20.0;
        let ((x, y), text) = (place(at, at), n(at));
        pen.small((x, CORNER.1 + 18.0), Anchor::Middle, &text);
        pen.small((CORNER.0 - 9.0, y + 4.0), Anchor::End, &text);
    }
    pen.label((CORNER.0 + LENGTH / 2.0, CORNER.1 + 40.0), Anchor::Middle, "on the plate, %");
    pen.label((4.0, 11.0), Anchor::Start, "printed, %");
}

fn example(number: u32) -> Arguments {
    let gain = 8.0 + 4.0 * f64::from(number);
    let plate: Vec<f64> = (0..=10).map(|ten| f64::from(ten) * 10.0).collect();
    let printed = plate.iter().map(|tone| tone + gain * 4.0 * tone * (100.0 - tone) / 10_000.0).collect();
    let aim = plate.iter().map(|tone| tone + 14.0 * 4.0 * tone * (100.0 - tone) / 10_000.0).collect();
    Arguments {
        series: [("aim_plate", plate.clone()), ("aim_printed", aim), ("plate", plate), ("printed", printed)]
            .map(|(name, list)| (name.to_owned(), list))
            .into(),
        grain: u64::from(number),
        ..Arguments::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::proof::{Seen, pulls, sound};

    fn long(given: &Arguments) -> usize {
        usize::try_from(given.grain % 9 + 2).expect("a few")
    }

    /// Tone values are asked for to a whole point: half of that, and a tenth of it here.
    #[test]
    fn points_and_aim_lie_where_the_grid_says() {
        for given in pulls(&TONE_CURVE, 120, &long) {
            let drawing = sound(&TONE_CURVE, &given);
            let seen = Seen::of(&drawing.svg);
            let middle = |says: &str, last: bool| {
                let mut all = seen.texts.iter().filter(|text| text.says == says);
                let text = if last { all.next_back() } else { all.next() }.expect("it is there");
                (f64::midpoint(text.low.0, text.high.0), text.low.1 + 0.74 * 11.0 - 4.0)
            };
            // Each number stands twice: first under the grid, then beside it.
            let ((left, _), (right, _)) = (middle("0", false), middle("100", false));
            let ((_, foot), (_, top)) = (middle("0", true), middle("100", true));
            for (name, plate, printed) in [("measured", "plate", "printed"), ("aim", "aim_plate", "aim_printed")] {
                let count = given.series(plate).len().min(given.series(printed).len());
                if count == 0 {
                    assert!(seen.named(name).is_empty());
                    continue;
                }
                let points = seen.one(name);
                assert_eq!(points.len(), count);
                for ((point, plate), printed) in points.iter().zip(given.series(plate)).zip(given.series(printed)) {
                    assert!(((point.0 - left) / (right - left) * 100.0 - plate).abs() < 0.05, "{given:?}");
                    assert!(((foot - point.1) / (foot - top) * 100.0 - printed).abs() < 0.05, "{given:?}");
                }
            }
            for (x, y) in seen.one("measured") {
                let strokes = seen.lines.iter().filter(|line| line.len() == 2);
                let over = strokes.filter(|line| {
                    let (a, b) = (line[0], line[1]);
                    (f64::midpoint(a.0, b.0) - x).hypot(f64::midpoint(a.1, b.1) - y) < 0.02 && (a.0 - b.0).abs() < 9.0
                });
                assert!(over.count() >= 2, "a cross at {x} {y}");
            }
        }
    }

    #[test]
    fn words_tell_every_point() {
        let mut given = example(0);
        let words = draw(&given, Style { mark: '.' }).words;
        assert!(
            words.contains("Crosses mark what was measured: 0 prints 0, 10 prints 12.88, 20 prints 25.12,"),
            "{words}"
        );
        assert!(
            words.contains("The aim, a broken line, straight between points: 0 prints 0, 10 prints 15.04"),
            "{words}"
        );
        given.series.remove("aim_plate");
        assert!(!draw(&given, Style { mark: '.' }).words.contains("aim"));
    }
}
