//! A roll on the unwind, with tapes to read its diameters by.

use std::fmt::Write as _;

use super::scales::{Lies, Ruler, head, past, round, straight};
use super::{Anchor, Arguments, Drawing, Figure, Grain, Ink, Pen, Style, n};

/// A roll on the unwind, seen from its end, with a tape at its core and a tape at its outside.
pub(super) const UNWINDING_ROLL: Figure = Figure { name: "unwinding-roll", draw, example };

const LEFT: f64 = 36.0;
const WIDE: f64 = 380.0;
const WIDTH: f64 = 460.0;
const CORE_TAPE: f64 = 6.0;
const TAPE: f64 = 26.0;
const ROLL: f64 = 54.0;

/// The roll as it lies on the sheet.
struct Roll {
    /// Units of drawing for a mm.
    per_mm: f64,
    middle: (f64, f64),
    outside: f64,
    core: f64,
    ruler: Ruler,
}

impl Roll {
    fn of(given: &Arguments) -> Self {
        let (outside, core) = (given.number("outside"), given.number("core"));
        let widest = [150.0, 200.0, 300.0, 400.0, 500.0, 600.0, 800.0];
        let widest = widest.into_iter().find(|&width| outside <= width).unwrap_or(1000.0);
        let per_mm = WIDE / widest;
        let (outside, core) = (outside / 2.0 * per_mm, core / 2.0 * per_mm);
        let ruler = ruler(given.word("unit") == "in", per_mm);
        Self { per_mm, middle: (LEFT + outside, ROLL + outside), outside, core, ruler }
    }

    fn bottom(&self) -> f64 {
        self.middle.1 + self.outside
    }
}

/// The tape for a unit: finer where the roll is drawn larger.
fn ruler(inches: bool, per_mm: f64) -> Ruler {
    let fine = per_mm > 0.7;
    match (inches, fine) {
        (false, true) => Ruler { small: 5.0, longer: 2, numbered: 10, counts: 5.0, unit: "mm" },
        (false, false) => Ruler { small: 10.0, longer: 5, numbered: 10, counts: 10.0, unit: "mm" },
        (true, true) => Ruler { small: 6.35, longer: 2, numbered: 4, counts: 0.25, unit: "in" },
        (true, false) => Ruler { small: 12.7, longer: 2, numbered: 4, counts: 0.5, unit: "in" },
    }
}

fn draw(given: &Arguments, style: Style) -> Drawing {
    let roll = Roll::of(given);
    let tape = roll.bottom() + 20.0;
    let mut pen = Pen::new(WIDTH, tape + TAPE + 4.0);
    windings(&mut pen, &roll, given.grain);
    let under = given.word("web_leaves") == "under";
    leaves(&mut pen, &roll, under);
    core_tape(&mut pen, &roll, style);
    outside_tape(&mut pen, &roll, tape, style);
    Drawing { svg: pen.finish(), words: words(given, &roll, under, style) }
}

fn windings(pen: &mut Pen, roll: &Roll, grain: u64) {
    let mut chance = Grain::new(grain);
    pen.named("outside", Ink::Paper, &round(roll.middle, roll.outside));
    let build = roll.outside - roll.core;
    for part in [0.1, 0.22, 0.36, 0.64, 0.78, 0.9] {
        pen.circle(Ink::Fine, roll.middle, roll.core + build * (part + chance.between(-0.04, 0.04)));
    }
    pen.named("core", Ink::Tone, &round(roll.middle, roll.core));
    pen.circle(Ink::Paper, roll.middle, roll.core * 0.8);
    pen.dots(2.5, [roll.middle]);
}

/// The web on its way to the press, and an arrow the way the roll turns.
fn leaves(pen: &mut Pen, roll: &Roll, under: bool) {
    let (x, y) = roll.middle;
    let (edge, way) = if under { (y + roll.outside, -1.0) } else { (y - roll.outside, 1.0) };
    pen.named("web", Ink::Line, &straight((x, edge), (WIDTH - 10.0, edge)));
    head(pen, (WIDTH - 4.0, edge), (1.0, 0.0));
    pen.label((WIDTH - 4.0, edge + if under { -6.0 } else { 16.0 }), Anchor::End, "web");
    let radius = f64::midpoint(roll.core, roll.outside);
    // From the lower left to the upper left for a web that leaves over the top, and the other way round.
    let turned = 0.5_f64;
    let (dx, dy) = (-radius * libm::cos(turned), radius * libm::sin(turned) * way);
    let (from, to) = ((x + dx, y + dy), (x + dx, y - dy));
    let sweep = u8::from(!under);
    let r = n(radius);
    let data = format!("M{} {}A{r} {r} 0 0 {sweep} {} {}", n(from.0), n(from.1), n(to.0), n(to.1));
    pen.named("turns", Ink::Line, &data);
    let along = (libm::sin(turned), -libm::cos(turned) * way);
    head(pen, (to.0 + 7.0 * along.0, to.1 + 7.0 * along.1), along);
}

/// A tape over the roll, its nought at the left of the core.
fn core_tape(pen: &mut Pen, roll: &Roll, style: Style) {
    let (left, right) = (roll.middle.0 - roll.core, roll.middle.0 + roll.core);
    let edge = CORE_TAPE + TAPE;
    let last = roll.ruler.fit(2.0 * roll.core / roll.per_mm) / roll.ruler.numbered + 1;
    let last = last * roll.ruler.numbered;
    let length = f64::from(last) * roll.ruler.small * roll.per_mm;
    pen.rect(Ink::Paper, (left - 9.0, CORE_TAPE), length + 26.0, TAPE);
    let lies = Lies { nought: (left, edge), per_mm: roll.per_mm, down: -1.0 };
    roll.ruler.lay(pen, "core-tape", lies, last, style);
    let mut data = straight((left, edge), (left, roll.middle.1));
    data.push_str(&straight((right, edge), (right, roll.middle.1)));
    pen.named("core-limits", Ink::Fine, &data);
    pen.label((left - 6.0, edge + 14.0), Anchor::End, "core");
}

/// A tape under the roll, its nought at the left of the roll.
fn outside_tape(pen: &mut Pen, roll: &Roll, top: f64, style: Style) {
    let right = LEFT + 2.0 * roll.outside;
    let last = roll.ruler.fit((WIDTH - 24.0 - LEFT) / roll.per_mm);
    pen.rect(Ink::Paper, (LEFT - 9.0, top), WIDTH - 2.0 - LEFT + 9.0, TAPE);
    let lies = Lies { nought: (LEFT, top), per_mm: roll.per_mm, down: 1.0 };
    roll.ruler.lay(pen, "outside-tape", lies, last, style);
    pen.small((LEFT - 12.0, top + 20.0), Anchor::End, roll.ruler.unit);
    let mut data = straight((LEFT, roll.middle.1), (LEFT, top));
    data.push_str(&straight((right, roll.middle.1), (right, top)));
    pen.named("outside-limits", Ink::Fine, &data);
    pen.label((LEFT + 5.0, top - 5.0), Anchor::Start, "outside");
}

fn words(given: &Arguments, roll: &Roll, under: bool, style: Style) -> String {
    let ruler = &roll.ruler;
    let between = ruler.numbered.unsigned_abs();
    let number = |whole: u32| style.short(f64::from(whole) * f64::from(ruler.numbered) * ruler.counts);
    let place = |name: &str| past(given.number(name) / ruler.small, between, number);
    let mut words = format!("One small space on the tapes is {}. ", ruler.space(style));
    let _ = write!(words, "The tape across the outside of the roll ends {}. ", place("outside"));
    let _ = write!(words, "The tape across its core ends {}. ", place("core"));
    words.push_str(if under {
        "The web leaves from under the roll to the right."
    } else {
        "The web leaves over the top of the roll to the right."
    });
    words
}

fn example(n: u32) -> Arguments {
    let (outside, core, unit, leaves) = match n {
        0 => (430.0, 85.0, "mm", "over"),
        1 => (275.0, 85.0, "mm", "under"),
        2 => (508.0, 88.9, "in", "over"),
        3 => (865.0, 90.0, "mm", "under"),
        4 => (120.0, 85.0, "mm", "over"),
        _ => (304.8, 88.9, "in", "under"),
    };
    let mut given = Arguments { grain: u64::from(n), ..Arguments::default() };
    given.numbers.insert("outside".to_owned(), outside);
    given.numbers.insert("core".to_owned(), core);
    given.words.insert("unit".to_owned(), unit.to_owned());
    given.words.insert("web_leaves".to_owned(), leaves.to_owned());
    given
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::proof::{Points, Seen, pulls, sound};

    fn across(points: &Points) -> (f64, f64) {
        let xs = points.iter().map(|p| p.0);
        (xs.clone().fold(f64::MAX, f64::min), xs.fold(f64::MIN, f64::max))
    }

    #[test]
    fn diameters_are_as_given_by_the_tapes_drawn() {
        for given in pulls(&UNWINDING_ROLL, 240, &|_| 0) {
            let drawing = sound(&UNWINDING_ROLL, &given);
            let seen = Seen::of(&drawing.svg);
            for name in ["core", "outside"] {
                let tape = seen.one(if name == "core" { "core-tape" } else { "outside-tape" });
                let limits = seen.one(if name == "core" { "core-limits" } else { "outside-limits" });
                let (left, right) = across(&seen.one(name));
                assert!((limits[0].0 - left).abs() < 0.02 && (limits[2].0 - right).abs() < 0.02);
                assert!((tape[0].0 - left).abs() < 0.02, "the nought stands at the left");
                let a_mm = tape_mm(&seen, &tape, given.word("unit") == "in");
                assert!(((right - left) / a_mm - given.number(name)).abs() < 1.5, "{name}: {given:?}");
                assert!(right <= across(&tape).1 + 0.01, "the tape is long enough: {given:?}");
            }
        }
    }

    /// Units of drawing for a mm, from the first number past nought on a tape.
    fn tape_mm(seen: &Seen, tape: &Points, inches: bool) -> f64 {
        let (low, high) = (tape[0].1.min(tape[1].1) - 22.0, tape[0].1.max(tape[1].1) + 22.0);
        let mut numbers: Vec<(f64, f64)> = seen
            .texts
            .iter()
            .filter(|text| text.low.1 > low && text.high.1 < high)
            .filter_map(|text| Some((text.says.parse().ok()?, f64::midpoint(text.low.0, text.high.0))))
            .collect();
        numbers.sort_by(|a, b| a.0.total_cmp(&b.0));
        assert!(numbers[0].0 < 1e-9);
        let last = numbers[numbers.len() - 1];
        (last.1 - numbers[0].1) / (last.0 * if inches { 25.4 } else { 1.0 })
    }

    #[test]
    fn the_web_leaves_where_it_should_and_the_roll_turns_with_it() {
        for n in 0..6 {
            let given = example(n);
            let seen = Seen::of(&draw(&given, Style { mark: '.' }).svg);
            let (web, turns, roll) = (seen.one("web"), seen.one("turns"), seen.one("outside"));
            let middle = roll[0].1;
            let over = given.word("web_leaves") == "over";
            assert_eq!(web[0].1 < middle, over);
            assert_eq!(turns[0].1 > turns[turns.len() - 1].1, over);
            assert!(turns.iter().all(|p| p.0 < web[0].0));
        }
    }

    #[test]
    fn words_read_the_tapes() {
        let words = draw(&example(1), Style { mark: '.' }).words;
        assert!(words.contains("One small space on the tapes is 5 mm."), "{words}");
        assert!(words.contains("outside of the roll ends five small marks past 250."), "{words}");
        assert!(words.contains("its core ends seven small marks past 50. The web leaves from under"), "{words}");
    }
}
