//! A tone value curve: measured points, and the aim they are held against.

use std::fmt::Write as _;

use super::{Anchor, Arguments, Drawing, Figure, Ink, Pen, Style, n};

/// The length of both axes, in drawing units: four to a point.
const LENGTH: f64 = 400.0;
/// The lower left corner of the grid.
const CORNER: (f64, f64) = (52.0, 416.0);

/// Measured tone values over those of the plate, and the aim as a broken line.
pub(super) const TONE_CURVE: Figure = Figure { name: "tone-curve", draw, example };

fn place(plate: f64, printed: f64) -> (f64, f64) {
    (CORNER.0 + plate / 100.0 * LENGTH, CORNER.1 - printed / 100.0 * LENGTH)
}

fn draw(given: &Arguments, style: Style) -> Drawing {
    let mut pen = Pen::new(476.0, 470.0);
    grid(&mut pen);
    let pairs = |plate: &str, printed: &str| -> Vec<(f64, f64)> {
        given.series(plate).iter().copied().zip(given.series(printed).iter().copied()).collect()
    };
    let (measured, aim) = (pairs("plate", "printed"), pairs("aim_plate", "aim_printed"));
    pen.named("aim", Ink::Broken, &line_through(&aim));
    pen.named("measured", Ink::Line, &line_through(&measured));
    for (plate, printed) in &measured {
        let (x, y) = place(*plate, *printed);
        pen.path(Ink::Line, &format!("M{} {}l8 8m0 -8l-8 8", n(x - 4.0), n(y - 4.0)));
    }
    let said = |list: &[(f64, f64)]| {
        let each =
            list.iter().map(|(plate, printed)| format!("{} % at {} %", style.short(*printed), style.short(*plate)));
        each.collect::<Vec<_>>().join(", ")
    };
    let mut words = format!(
        "A curve of printed over plate tone values. The measured points, marked by crosses, read {}.",
        said(&measured)
    );
    if !aim.is_empty() {
        let _ = write!(words, " The aim, a broken line, goes straight from point to point: {}.", said(&aim));
    }
    Drawing { svg: pen.finish(), words }
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
    pen.label((4.0, 8.0), Anchor::Start, "printed, %");
}

fn example(number: u32) -> Arguments {
    let gain = 12.0 + 2.0 * f64::from(number);
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
