//! A pair of impression dials, one for each side.

use std::fmt::Write as _;

use super::scales::{in_words, nearest, past, straight};
use super::{Anchor, Arguments, Drawing, Figure, Ink, Pen, Style, n};

/// A pair of impression dials, gear side and operator side.
pub(super) const DIAL_PAIR: Figure = Figure { name: "dial-pair", draw, example };

const RADIUS: f64 = 72.0;
const GEAR: (f64, f64) = (121.0, 112.0);
const OPERATOR: (f64, f64) = (359.0, 112.0);

/// The direction of a place on the dial: 0 and 10 stand left and right of a gap at the bottom.
fn direction(value: f64) -> (f64, f64) {
    let angle = (value * 32.0 - 160.0).to_radians();
    (libm::sin(angle), -libm::cos(angle))
}

fn at(centre: (f64, f64), radius: f64, value: f64) -> (f64, f64) {
    let (x, y) = direction(value);
    (centre.0 + radius * x, centre.1 + radius * y)
}

fn marks(pen: &mut Pen, centre: (f64, f64), small: u32) {
    let (mut long, mut short) = (String::new(), String::new());
    for mark in 0..=10 * small {
        let value = f64::from(mark) / f64::from(small);
        let numbered = mark % small == 0;
        let middle = small.is_multiple_of(2) && small > 2 && mark % small == small / 2;
        let inner = RADIUS
            - if numbered {
                12.0
            } else if middle {
                8.5
            } else {
                6.0
            };
        let data = if numbered { &mut long } else { &mut short };
        data.push_str(&straight(at(centre, RADIUS, value), at(centre, inner, value)));
        if numbered {
            let (x, y) = at(centre, RADIUS + 11.0, value);
            pen.small((x, y + 4.0), Anchor::Middle, &(mark / small).to_string());
        }
    }
    pen.named("number-marks", Ink::Line, &long);
    pen.named("small-marks", Ink::Fine, &short);
}

fn kiss(pen: &mut Pen, centre: (f64, f64), value: f64) {
    // At the rim and beyond the numbers, so that it crosses none.
    let data = straight(at(centre, RADIUS + 0.5, value), at(centre, RADIUS + 4.5, value))
        + &straight(at(centre, RADIUS + 18.0, value), at(centre, RADIUS + 24.0, value));
    pen.named("kiss-mark", Ink::Line, &data);
    let (x, y) = direction(value);
    let away = RADIUS + 25.5 + 11.5 * x.abs() + 4.5 * y.abs();
    let text = (centre.0 + away * x, centre.1 + away * y + 4.0);
    pen.small(text, Anchor::Middle, "kiss");
}

fn pointer(pen: &mut Pen, centre: (f64, f64), value: f64) {
    let tip = at(centre, RADIUS - 7.0, value);
    let (x, y) = direction(value);
    let (left, right) = ((centre.0 + 3.5 * y, centre.1 - 3.5 * x), (centre.0 - 3.5 * y, centre.1 + 3.5 * x));
    let mut data = format!("M{} {}", n(tip.0), n(tip.1));
    for corner in [left, at(centre, -18.0, value), right] {
        let _ = write!(data, "L{} {}", n(corner.0), n(corner.1));
    }
    data.push('Z');
    pen.named("pointer", Ink::Solid, &data);
    pen.circle(Ink::Paper, centre, 5.0);
}

fn dial(pen: &mut Pen, centre: (f64, f64), side: &str, small: u32, value: f64, found: Option<f64>) {
    pen.circle(Ink::Paper, centre, RADIUS);
    marks(pen, centre, small);
    if let Some(found) = found {
        kiss(pen, centre, found);
    }
    pointer(pen, centre, value);
    pen.label((centre.0, centre.1 + RADIUS + 54.0), Anchor::Middle, side);
}

fn draw(given: &Arguments, _style: Style) -> Drawing {
    let small = nearest(given.number("small_marks"), 2, 10);
    let mut pen = Pen::new(480.0, 250.0);
    let place = |value: f64| past(value * f64::from(small), small, |number| number.to_string());
    let mut words = format!(
        "Two dials are numbered clockwise from 0 to 10, with {} small spaces between two numbers.",
        in_words(small)
    );
    let mut found = Vec::new();
    for (side, centre, value, kiss) in [
        ("gear side", GEAR, "gear_side", "kiss_gear_side"),
        ("operator side", OPERATOR, "operator_side", "kiss_operator_side"),
    ] {
        let (value, kiss) = (given.number(value), given.maybe(kiss));
        dial(&mut pen, centre, side, small, value, kiss);
        let _ = write!(words, " On the {side} the pointer stands {}.", place(value));
        found.extend(kiss.map(|kiss| format!("{} on the {side}", place(kiss))));
    }
    if !found.is_empty() {
        let _ = write!(words, " Kiss is marked {}.", found.join(" and "));
    }
    Drawing { svg: pen.finish(), words }
}

fn example(n: u32) -> Arguments {
    let (gear, operator, small, kiss) = match n {
        0 => (3.4, 3.9, 5.0, Some((2.8, 3.0))),
        1 => (6.25, 5.5, 4.0, None),
        2 => (7.65, 7.3, 10.0, Some((7.1, 7.25))),
        3 => (4.75, 4.75, 2.0, Some((4.25, 3.5))),
        4 => (0.55, 9.45, 10.0, None),
        _ => (2.1, 5.7, 5.0, Some((1.6, 1.7))),
    };
    let mut given = Arguments { grain: u64::from(n), ..Arguments::default() };
    given.numbers.extend([("gear_side", gear), ("operator_side", operator), ("small_marks", small)].map(named));
    if let Some((gear, operator)) = kiss {
        given.numbers.extend([("kiss_gear_side", gear), ("kiss_operator_side", operator)].map(named));
    }
    given
}

fn named((name, value): (&str, f64)) -> (String, f64) {
    (name.to_owned(), value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::proof::{Seen, pulls, sound};

    /// What an apprentice would read at a point of the drawing.
    fn read(centre: (f64, f64), point: (f64, f64)) -> f64 {
        let turned = (point.0 - centre.0).atan2(centre.1 - point.1).to_degrees();
        (turned + 160.0) / 32.0
    }

    #[test]
    fn pointers_and_kiss_marks_stand_where_they_should() {
        for given in pulls(&DIAL_PAIR, 200, &|_| 0) {
            let drawing = sound(&DIAL_PAIR, &given);
            let seen = Seen::of(&drawing.svg);
            let small = nearest(given.number("small_marks"), 2, 10);
            let half_a_place = 0.25 / f64::from(small);
            let pointers = seen.named("pointer");
            assert_eq!(pointers.len(), 2);
            for ((pointer, name), centre) in pointers.iter().zip(["gear_side", "operator_side"]).zip([GEAR, OPERATOR]) {
                assert!((read(centre, pointer[0]) - given.number(name)).abs() < half_a_place, "{given:?}");
            }
            let kisses = seen.named("kiss-mark");
            let wanted: Vec<_> = [("kiss_gear_side", GEAR), ("kiss_operator_side", OPERATOR)]
                .into_iter()
                .filter_map(|(name, centre)| given.maybe(name).map(|value| (value, centre)))
                .collect();
            assert_eq!(kisses.len(), wanted.len());
            for (mark, (value, centre)) in kisses.iter().zip(wanted) {
                assert!(mark.iter().all(|&end| (read(centre, end) - value).abs() < half_a_place), "{given:?}");
            }
        }
    }

    #[test]
    fn marks_stand_as_many_as_given_and_at_even_steps() {
        for n in 0..6 {
            let given = example(n);
            let small = nearest(given.number("small_marks"), 2, 10);
            let seen = Seen::of(&draw(&given, Style { mark: '.' }).svg);
            for (centre, long, short) in [GEAR, OPERATOR]
                .into_iter()
                .zip(seen.named("number-marks"))
                .zip(seen.named("small-marks"))
                .map(|((centre, long), short)| (centre, long, short))
            {
                let mut places: Vec<f64> = long.iter().chain(&short).step_by(2).map(|&p| read(centre, p)).collect();
                places.sort_by(f64::total_cmp);
                assert_eq!(places.len(), usize::try_from(10 * small + 1).expect("it is there"));
                for (mark, place) in (0u32..).zip(places) {
                    assert!((place - f64::from(mark) / f64::from(small)).abs() < 0.005);
                }
            }
        }
    }

    #[test]
    fn words_count_small_marks() {
        let words = draw(&example(0), Style { mark: ',' }).words;
        assert!(words.contains("with five small spaces between two numbers"), "{words}");
        assert!(words.contains("On the gear side the pointer stands two small marks past 3."), "{words}");
        assert!(
            words.contains("On the operator side the pointer stands four and a half small marks past 3."),
            "{words}"
        );
        assert!(words.contains("Kiss is marked four small marks past 2 on the gear side and at 3 on"), "{words}");
    }
}
