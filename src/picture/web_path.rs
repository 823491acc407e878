//! The path of the web from the unwind through the decks of an in-line press to the rewind.

use std::fmt::Write as _;

use super::scales::{half_round, head, in_words, nearest, round, straight};
use super::{Anchor, Arguments, Drawing, Figure, Grain, Ink, Pen, Style, n};

/// The path of the web, with the lengths from nip to nip printed over it.
pub(super) const WEB_PATH: Figure = Figure { name: "web-path", draw, example };

const UNWIND: (f64, f64) = (38.0, 150.0);
const REWIND: (f64, f64) = (444.0, 150.0);
const UNWIND_RADIUS: f64 = 30.0;
const REWIND_RADIUS: f64 = 22.0;
const CHAIN: f64 = 30.0;
const HIGH: f64 = 62.0;
const MIDDLE: f64 = 126.0;
const TURN: f64 = 3.5;

/// Where everything stands.
struct Press {
    /// The middles of the decks.
    decks: Vec<f64>,
    /// The radius of an impression cylinder.
    radius: f64,
}

impl Press {
    fn of(decks: u32) -> Self {
        let pitch = 290.0 / f64::from(decks - 1);
        let pitch = pitch.min(120.0);
        let first = 240.0 - pitch * f64::from(decks - 1) / 2.0;
        Self {
            decks: (0..decks).map(|deck| first + pitch * f64::from(deck)).collect(),
            radius: ((pitch - 4.0 * TURN - 2.5) / 2.0).min(15.0),
        }
    }

    /// The web as one line: up from the unwind, under each impression cylinder, over the rollers between, down.
    fn web(&self) -> String {
        let (r, t, high) = (half_round(self.radius), n(TURN), n(HIGH));
        let (below, middle) = (n(HIGH + TURN), n(MIDDLE));
        let start = UNWIND.0 + UNWIND_RADIUS;
        let mut data = format!("M{} {}", n(start), n(UNWIND.1));
        let mut up = start;
        for &x in &self.decks {
            let (left, right) = (x - self.radius, x + self.radius);
            let _ = write!(data, "L{} {below}A{t} {t} 0 0 1 {} {high}", n(up), n(up + TURN));
            let _ = write!(data, "L{} {high}A{t} {t} 0 0 1 {} {below}", n(left - TURN), n(left));
            let _ = write!(data, "L{} {middle}A{r} {r} 0 0 0 {} {middle}", n(left), n(right));
            up = right;
        }
        let end = REWIND.0 - REWIND_RADIUS;
        let _ = write!(data, "L{} {below}A{t} {t} 0 0 1 {} {high}", n(up), n(up + TURN));
        let _ = write!(data, "L{} {high}A{t} {t} 0 0 1 {} {below}L{} {}", n(end - TURN), n(end), n(end), n(REWIND.1));
        data
    }

    /// The middles of the small rollers the web turns over.
    fn rollers(&self) -> Vec<f64> {
        let (start, end) = (UNWIND.0 + UNWIND_RADIUS + TURN, REWIND.0 - REWIND_RADIUS - TURN);
        let around = self.decks.iter().flat_map(|x| [x - self.radius - TURN, x + self.radius + TURN]);
        std::iter::once(start).chain(around).chain(std::iter::once(end)).collect()
    }
}

/// A length as printed.
fn printed(metres: f64, unit: &str, style: Style) -> String {
    match unit {
        "mm" => style.number((metres * 100.0).round() * 10.0, 0),
        "ft" => style.number(metres / 0.3048, 1),
        "in" => style.number(metres / 0.0254, 0),
        _ => style.number(metres, 2),
    }
}

/// The unit of the lengths as it is told.
fn told(unit: &str) -> &'static str {
    match unit {
        "mm" => "mm",
        "ft" => "feet",
        "in" => "inches",
        _ => "m",
    }
}

/// The ringed decks that there are.
fn ringed(given: &Arguments, decks: u32) -> Vec<u32> {
    let mut all: Vec<u32> =
        ["first", "second"].iter().filter_map(|name| given.maybe(name)).map(|deck| nearest(deck, 1, decks)).collect();
    all.sort_unstable();
    all.dedup();
    all
}

fn draw(given: &Arguments, style: Style) -> Drawing {
    let decks = nearest(given.number("decks"), 2, 10);
    let press = Press::of(decks);
    let dryer = given.word("dryer") == "each deck";
    let ringed = ringed(given, decks);
    let mut pen = Pen::new(480.0, 246.0);
    for (number, &x) in (1u32..).zip(&press.decks) {
        deck(&mut pen, x, press.radius, number, ringed.contains(&number));
        if dryer {
            dries(&mut pen, x + press.radius + 3.5, HIGH + 16.0);
        }
    }
    for x in press.rollers() {
        pen.circle(Ink::Fine, (x, HIGH + TURN), TURN);
    }
    rolls(&mut pen, given.grain);
    pen.named("web", Ink::Line, &press.web());
    head(&mut pen, (UNWIND.0 + UNWIND_RADIUS, 104.0), (0.0, -1.0));
    head(&mut pen, (REWIND.0 - REWIND_RADIUS, 126.0), (0.0, 1.0));
    chain(&mut pen, &press, given, style);
    pen.small((UNWIND.0, 215.0), Anchor::Middle, "deck");
    let note = format!("lengths of web in {}, from nip to nip; not to scale", told(given.word("unit")));
    pen.small((16.0, 238.0), Anchor::Start, &note);
    if dryer {
        dries(&mut pen, 406.0, 218.0);
        pen.small((420.0, 238.0), Anchor::Start, "dryer");
    }
    Drawing { svg: pen.finish(), words: words(given, decks, &ringed, style) }
}

/// A deck: impression cylinder over plate cylinder over anilox, and its number.
fn deck(pen: &mut Pen, x: f64, radius: f64, number: u32, ringed: bool) {
    pen.named("impression", Ink::Paper, &round((x, MIDDLE), radius));
    let plate = radius * 0.95;
    let plate_middle = MIDDLE + radius + plate + 1.0;
    pen.circle(Ink::Tone, (x, plate_middle), plate);
    let anilox = radius * 0.6;
    pen.circle(Ink::Paper, (x, plate_middle + plate + anilox), anilox);
    for middle in [MIDDLE, plate_middle] {
        pen.dots(2.0, [(x, middle)]);
    }
    pen.small((x, 215.0), Anchor::Middle, &number.to_string());
    if ringed {
        pen.named("ring", Ink::Line, &round((x, 211.0), 10.0));
    }
}

/// A dryer beside the web that has just been printed, with its slots toward the web.
fn dries(pen: &mut Pen, x: f64, y: f64) {
    pen.rect(Ink::Tone, (x, y), 8.0, 26.0);
    pen.path(Ink::Fine, &format!("M{} {}h4M{} {}h4M{} {}h4", n(x), n(y + 7.0), n(x), n(y + 13.0), n(x), n(y + 19.0)));
}

fn rolls(pen: &mut Pen, grain: u64) {
    let mut chance = Grain::new(grain);
    for (name, centre, radius) in [("unwind", UNWIND, UNWIND_RADIUS), ("rewind", REWIND, REWIND_RADIUS)] {
        pen.circle(Ink::Paper, centre, radius);
        for part in [0.45, 0.62, 0.8] {
            pen.circle(Ink::Fine, centre, radius * (part + chance.between(-0.04, 0.04)));
        }
        pen.circle(Ink::Tone, centre, 8.0);
        pen.label((centre.0, centre.1 + UNWIND_RADIUS + 16.0), Anchor::Middle, name);
    }
}

/// The lengths over the press, from the unwind to the rewind, each between the middles of what it lies between.
fn chain(pen: &mut Pen, press: &Press, given: &Arguments, style: Style) {
    let all: Vec<f64> =
        std::iter::once(UNWIND.0).chain(press.decks.iter().copied()).chain(std::iter::once(REWIND.0)).collect();
    let mut data = String::new();
    for (i, &x) in all.iter().enumerate() {
        let low = match i {
            0 => UNWIND.1 - UNWIND_RADIUS - 3.0,
            _ if i + 1 == all.len() => REWIND.1 - REWIND_RADIUS - 3.0,
            _ => MIDDLE - press.radius - 3.0,
        };
        data.push_str(&straight((x, CHAIN - 5.0), (x, low)));
    }
    let mut line = straight((UNWIND.0, CHAIN), (REWIND.0, CHAIN));
    for &x in &all {
        line.push_str(&straight((x - 3.5, CHAIN + 3.5), (x + 3.5, CHAIN - 3.5)));
    }
    pen.path(Ink::Fine, &line);
    pen.named("limits", Ink::Fine, &data);
    for (pair, &span) in all.windows(2).zip(given.series("spans")) {
        let [from, to] = *pair else { continue };
        let middle = f64::midpoint(from, to);
        pen.small((middle, CHAIN - 9.0), Anchor::Middle, &printed(span, given.word("unit"), style));
    }
}

fn words(given: &Arguments, decks: u32, ringed: &[u32], style: Style) -> String {
    let spans: Vec<String> = given
        .series("spans")
        .iter()
        .zip(0..=decks)
        .map(|(&span, _)| printed(span, given.word("unit"), style))
        .collect();
    let dryers = if given.word("dryer") == "each deck" { ", each with a dryer after it" } else { "" };
    let mut words = format!(
        "The web runs from the unwind under the impression cylinders of {} decks in line{dryers}, to the rewind.",
        in_words(decks)
    );
    let _ = write!(words, " From the unwind on, the lengths in {} are {}.", told(given.word("unit")), spans.join("; "));
    words.push_str(" The first length ends at the nip of deck 1, the last begins at the last deck.");
    let names: Vec<String> = ringed.iter().map(u32::to_string).collect();
    match names.as_slice() {
        [] => {}
        [one] => {
            let _ = write!(words, " Deck {one} is ringed.");
        }
        _ => {
            let _ = write!(words, " Decks {} are ringed.", names.join(" and "));
        }
    }
    words
}

fn example(n: u32) -> Arguments {
    let (spans, unit, dryer, ringed): (&[f64], &str, &str, Option<(f64, f64)>) = match n {
        0 => (&[3.2, 1.15, 1.15, 1.4, 1.15, 4.6], "m", "each deck", Some((1.0, 4.0))),
        1 => (&[2.8, 0.95, 3.1], "mm", "none", None),
        2 => (&[4.1, 1.2, 1.2, 1.2, 1.85, 1.2, 1.2, 1.2, 1.2, 1.2, 5.3], "m", "each deck", Some((3.0, 9.0))),
        3 => (&[3.048, 1.2192, 1.2192, 1.4326, 1.2192, 1.2192, 1.2192, 4.4196], "ft", "each deck", Some((2.0, 6.0))),
        4 => (&[2.35, 0.88, 0.88, 0.88, 2.9], "m", "none", Some((1.0, 3.0))),
        _ => (&[2.54, 1.016, 1.016, 1.3208, 1.016, 1.016, 1.016, 1.016, 3.81], "in", "each deck", None),
    };
    let mut given = Arguments { grain: u64::from(n), ..Arguments::default() };
    let decks: f64 = spans.iter().skip(1).map(|_| 1.0).sum();
    given.numbers.insert("decks".to_owned(), decks);
    given.series.insert("spans".to_owned(), spans.to_vec());
    given.words.insert("unit".to_owned(), unit.to_owned());
    given.words.insert("dryer".to_owned(), dryer.to_owned());
    if let Some((first, second)) = ringed {
        given.numbers.insert("first".to_owned(), first);
        given.numbers.insert("second".to_owned(), second);
    }
    given
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::proof::{Points, Seen, numbers, pulls, sound};

    fn middle(points: &Points) -> f64 {
        let xs = points.iter().map(|p| p.0);
        f64::midpoint(xs.clone().fold(f64::MAX, f64::min), xs.fold(f64::MIN, f64::max))
    }

    #[test]
    fn lengths_stand_between_what_they_lie_between() {
        let long = |given: &Arguments| usize::try_from(nearest(given.number("decks"), 2, 10)).expect("it is there") + 1;
        for given in pulls(&WEB_PATH, 240, &long) {
            let drawing = sound(&WEB_PATH, &given);
            let seen = Seen::of(&drawing.svg);
            let limits = seen.one("limits");
            let decks = seen.named("impression");
            assert_eq!(decks.len() + 1, given.series("spans").len());
            for (deck, limit) in decks.iter().zip(limits[2..].chunks(2)) {
                assert!((middle(deck) - limit[0].0).abs() < 0.02);
            }
            let (a_unit, place) = match given.word("unit") {
                "mm" => (0.001, 10.0),
                "ft" => (0.3048, 0.1),
                "in" => (0.0254, 1.0),
                _ => (1.0, 0.01),
            };
            for (limits, &span) in limits.chunks(2).collect::<Vec<_>>().windows(2).zip(given.series("spans")) {
                let (from, to) = (limits[0][0].0, limits[1][0].0);
                let over: Vec<_> = seen
                    .texts
                    .iter()
                    .filter(|text| text.high.1 < CHAIN && text.low.0 > from && text.high.0 < to)
                    .collect();
                assert_eq!(over.len(), 1, "{given:?}");
                assert!((numbers(&over[0].says)[0] - span / a_unit).abs() <= place * 0.500_001, "{given:?}");
            }
        }
    }

    #[test]
    fn the_web_wraps_each_impression_cylinder_from_below_and_runs_on() {
        for decks in 2..=10 {
            let press = Press::of(decks);
            let seen = Seen::of(
                &draw(
                    &Arguments { numbers: [("decks".to_owned(), f64::from(decks))].into(), ..Arguments::default() },
                    Style { mark: '.' },
                )
                .svg,
            );
            let web = seen.one("web");
            for &x in &press.decks {
                let below = web.iter().filter(|p| (p.0 - x).abs() < 0.05 && p.1 > MIDDLE).collect::<Vec<_>>();
                assert_eq!(below.len(), 1);
                assert!((below[0].1 - MIDDLE - press.radius).abs() < 0.05, "{x} {below:?}");
            }
            assert!(web.windows(2).all(|pair| pair[1].0 >= pair[0].0 - 0.02), "the web never runs back");
        }
    }

    #[test]
    fn rings_are_round_the_numbers_of_the_decks_named() {
        let given = example(2);
        let seen = Seen::of(&draw(&given, Style { mark: '.' }).svg);
        let rings: Vec<f64> = seen.named("ring").iter().map(middle).collect();
        let numbers: Vec<f64> = ["3", "9"]
            .iter()
            .map(|says| seen.text_saying(says).map(|text| f64::midpoint(text.low.0, text.high.0)).expect("it is there"))
            .collect();
        assert_eq!(rings.len(), 2);
        for (ring, number) in rings.iter().zip(numbers) {
            assert!((ring - number).abs() < 0.02);
        }
    }

    #[test]
    fn words_give_the_lengths_in_order() {
        let words = draw(&example(4), Style { mark: ',' }).words;
        assert!(words.contains("the lengths in m are 2,35; 0,88; 0,88; 0,88; 2,90."), "{words}");
        assert!(words.contains("of four decks in line, to the rewind. From"), "{words}");
        assert!(words.ends_with("Decks 1 and 3 are ringed."), "{words}");
    }
}
