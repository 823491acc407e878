//! What each state of the print shows, measured on the drawing; and what its words give away.

use std::collections::BTreeSet;
use std::f64::consts::PI;

use super::eye::{Eye, Part};
use super::sample::{CELL, FRAME, Sample};
use super::shapes::Area;
use super::*;
use crate::picture::gauge::{POINT, holds, named};

const STRENGTHS: [f64; 3] = [1.0, 2.0, 3.0];

fn given(state: &str, strength: f64, grain: u64) -> Arguments {
    let mut given = Arguments { grain, ..Arguments::default() };
    given.words.insert("state".to_owned(), state.to_owned());
    given.numbers.insert("strength".to_owned(), strength);
    given
}

/// A pull as it is looked at: where things should stand, and what is seen and said.
struct Look {
    sample: Sample,
    eye: Eye,
    drawing: Drawing,
    strength: f64,
}

impl Look {
    fn at(state: &str, strength: f64, grain: u64) -> Self {
        let drawing = draw(&given(state, strength, grain), POINT);
        Self { sample: Sample::new(&mut Grain::new(grain)), eye: Eye::of(&drawing.svg), drawing, strength }
    }

    /// Pulls of a state, of all strengths.
    fn some(state: &'static str) -> impl Iterator<Item = Self> {
        let all = STRENGTHS.into_iter().flat_map(|strength| (0..4).map(move |grain| (strength, grain * 31 + 5)));
        all.map(move |(strength, grain)| Self::at(state, strength, grain))
    }

    /// The tint with room for dots that stand out.
    fn tint(&self) -> Area {
        self.sample.tint.within(-7.0)
    }

    fn dots(&self) -> Vec<Part> {
        self.eye.parts(self.tint(), true)
    }

    /// The number in the words that follows, or comes before, some others.
    fn after(&self, mark: &str) -> f64 {
        let (_, rest) = self.drawing.words.split_once(mark).unwrap_or_else(|| panic!("{}", self.drawing.words));
        rest.split(' ').next().expect("it is there").parse().expect("a number")
    }

    fn before(&self, mark: &str) -> f64 {
        let (rest, _) = self.drawing.words.split_once(mark).unwrap_or_else(|| panic!("{}", self.drawing.words));
        rest.rsplit(' ').next().expect("it is there").parse().expect("a number")
    }

    fn says(&self) -> &str {
        &self.drawing.words
    }

    /// Asserts that the tint is as the plate has it: as many dots, round, of the right size.
    fn has_whole_dots(&self) {
        let dots = self.dots();
        assert_eq!(dots.len(), self.sample.dots.len(), "{}", self.says());
        let size = PI * self.sample.dot * self.sample.dot;
        assert!(dots.iter().all(|dot| (dot.size / size - 1.0).abs() < 0.06), "{}", self.says());
        assert!((mean(dots.iter().map(aspect)) - 1.0).abs() < 0.03, "{}", self.says());
    }

    fn has_a_closed_solid(&self) {
        assert!(self.eye.inks(self.sample.solid.within(0.5)).all(|ink| ink > 0.99), "{}", self.says());
    }

    /// How much ink there is just outside of the solid, above and below it.
    fn off_the_solid(&self) -> (f64, f64) {
        let solid = self.sample.solid;
        let above = Area { top: solid.top - 2.5, bottom: solid.top - 0.5, ..solid };
        let below = Area { top: solid.bottom + 0.5, bottom: solid.bottom + 2.5, ..solid };
        (self.eye.cover(above), self.eye.cover(below))
    }
}

fn aspect(part: &Part) -> f64 {
    part.area.high() / part.area.wide()
}

fn mean(values: impl Iterator<Item = f64>) -> f64 {
    let (sum, many) = values.fold((0.0, 0.0), |(sum, many), value| (sum + value, many + 1.0));
    sum / many
}

fn real(many: usize) -> f64 {
    f64::from(u32::try_from(many).expect("a few"))
}

#[test]
fn it_keeps_what_every_figure_keeps() {
    holds(&PRINT_CLOSE_UP);
}

#[test]
fn no_pull_is_too_much_to_send_and_all_are_well_formed() {
    for state in states() {
        for strength in STRENGTHS {
            let mut seen = BTreeSet::new();
            for grain in 0..200 {
                let drawing = draw(&given(state, strength, grain * 7919), POINT);
                assert!(drawing.svg.len() <= 12_000, "{} bytes: {state} {strength} {grain}", drawing.svg.len());
                roxmltree::Document::parse(&drawing.svg).expect("it is well formed");
                assert_eq!(drawing, draw(&given(state, strength, grain * 7919), POINT), "drawn twice the same");
                seen.insert(drawing.svg);
            }
            assert_eq!(seen.len(), 200, "another grain, another picture: {state}");
        }
    }
}

/// Neither words nor drawing say what it is, nor why, and no two states are told in the same words.
#[test]
fn neither_words_nor_drawing_name_the_state_or_a_cause() {
    let parts = "kiss halo feather dirt starv strea slur doughnut donut pinhole ghost moir impression pressure nick \
                 blade tail clog plugg fill squash chatter static dry viscos worn angle anilox";
    let whole = ["light", "bars", "line-along", "bars-across", "heavy"];
    for strength in STRENGTHS {
        for grain in 0..12 {
            let mut all = BTreeSet::new();
            for state in states() {
                let drawing = draw(&given(state, strength, grain), POINT);
                for text in [drawing.words.to_lowercase(), drawing.svg.to_lowercase()] {
                    assert!(!text.contains(state), "{state}: {text}");
                    let named = parts.split_whitespace().find(|part| text.contains(part));
                    assert_eq!(named, None, "{state}: {text}");
                    let mut words = text.split(|c: char| !c.is_ascii_alphabetic() && c != '-');
                    assert!(words.all(|word| !whole.contains(&word)), "{state}: {text}");
                }
                all.insert(drawing.words);
            }
            assert_eq!(all.len(), states().len(), "words that differ");
        }
    }
}

#[test]
fn a_clean_print_has_whole_dots_clean_edges_and_a_closed_solid() {
    for look in Look::some("kiss") {
        look.has_whole_dots();
        look.has_a_closed_solid();
        assert!(look.off_the_solid().0.max(look.off_the_solid().1) < 1e-9);
        for rule in &look.sample.rules {
            assert!(look.eye.inks(rule.within(0.5)).all(|ink| ink > 0.99));
        }
        assert_eq!(look.eye.parts(FRAME.within(1.0), true).len(), look.sample.dots.len() + 5);
    }
}

#[test]
fn a_weakly_touched_print_lacks_dots_and_has_broken_ones_and_bare_places() {
    for look in Look::some("light") {
        let gone = look.sample.dots.iter().filter(|&&(x, y)| {
            let r = 3.0;
            look.eye.cover(Area { left: x - r, top: y - r, right: x + r, bottom: y + r }) < 0.05
        });
        assert!((real(gone.count()) - look.after("grainy, and ")).abs() < 0.5, "{}", look.says());
        let size = PI * look.sample.dot * look.sample.dot;
        assert!(mean(look.dots().iter().map(|dot| dot.size / size)) < 0.85);
        let solid = look.sample.solid;
        let (left, right) = (Area { right: solid.left + 100.0, ..solid }, Area { left: solid.right - 100.0, ..solid });
        let (left, right) = (look.eye.cover(left), look.eye.cover(right));
        assert_eq!(left < right, look.says().ends_with("left."), "{left} {right} {}", look.says());
        assert!((0.6..0.98).contains(&left.min(right)), "{left} {right}");
        assert!(look.eye.holes(solid.within(2.0)).len() > 10);
    }
}

#[test]
fn a_rim_round_all_there_is_has_a_bare_line_inside_it() {
    for look in Look::some("halo") {
        let dots = look.dots();
        assert_eq!(dots.len(), 2 * look.sample.dots.len(), "a rim and a core each");
        let rims: Vec<&Part> = dots.iter().filter(|dot| dot.area.wide() > 1.9 * look.sample.dot).collect();
        assert_eq!(rims.len(), look.sample.dots.len());
        let wide = mean(rims.iter().map(|rim| rim.area.wide()));
        assert!(wide > 2.0 * look.sample.dot + 1.0, "squeezed bigger");
        assert!((wide / CELL - look.after("squeezed to ")).abs() < 0.03, "{wide} {}", look.says());
        let solid = look.sample.solid;
        let row: Vec<bool> =
            (-30..60).map(|k| look.eye.at((solid.left + f64::from(k) / 5.0, solid.top + 60.0)) > 0.5).collect();
        let changes = row.windows(2).filter(|pair| pair[0] != pair[1]).count();
        assert_eq!(changes, 3, "paper, rim, bare line, full ink");
    }
}

#[test]
fn hairs_stand_off_the_edges_that_come_last_and_no_others() {
    for look in Look::some("feathered") {
        let (above, below) = look.off_the_solid();
        assert!(above < 1e-9 && below > 0.12 && below < 0.6, "{above} {below}");
        look.has_a_closed_solid();
        let solid = look.sample.solid;
        let reach = (0..30).map(|k| solid.bottom + f64::from(k) / 2.0 + 0.5);
        let last = reach.take_while(|y| look.eye.cover(Area { top: *y, bottom: y + 0.5, ..solid }) > 0.0).last();
        let longest = (last.expect("some hairs") - solid.bottom) / look.sample.tooth;
        let said = look.after("The longest are ");
        assert!((longest - said).abs() < 0.12, "{longest} {}", look.says());
        assert!(mean(look.dots().iter().map(|dot| dot.area.high())) > 2.2 * look.sample.dot);
    }
}

#[test]
fn joined_dots_and_specks_lie_where_there_should_be_paper() {
    for look in Look::some("dirty") {
        let separate = real(look.dots().iter().filter(|dot| dot.size > 60.0).count());
        assert!(separate < 0.93 * real(look.sample.dots.len()), "{separate}");
        let open = mean(look.sample.dots.iter().map(|&(x, y)| {
            let x = x + CELL / 2.0_f64.sqrt();
            look.eye.cover(Area { left: x - 1.5, top: y - 1.5, right: x + 1.5, bottom: y + 1.5 })
        }));
        assert!(open > 0.02, "{open}");
        assert!(look.eye.parts(FRAME.within(1.0), true).iter().filter(|part| part.size < 12.0).count() > 12);
        assert!(look.after("Ink joins ") > 3.0 && look.after("closes ") >= 1.0, "{}", look.says());
        look.has_a_closed_solid();
    }
}

#[test]
fn thin_ink_is_pale_everywhere_and_cloudy_in_the_solid() {
    for look in Look::some("starved") {
        let dots = look.dots();
        assert_eq!(dots.len(), look.sample.dots.len());
        assert!(look.eye.inks(look.tint()).all(|ink| ink < 0.8));
        let solid: Vec<f64> = look.eye.inks(look.sample.solid).collect();
        let share =
            |from: f64, to: f64| real(solid.iter().filter(|ink| (from..to).contains(*ink)).count()) / real(solid.len());
        let base = if look.strength < 1.5 { 0.72 } else { 0.48 };
        assert!((0.07..0.4).contains(&share(base + 0.1, 1.1)), "darker clouds");
        assert!(share(base - 0.1, base + 0.1) > 0.5, "pale between them");
        let specks = real(look.eye.holes(look.sample.solid.within(0.5)).len());
        let said = look.before(" bare specks");
        assert!(specks <= said + 0.5 && specks > 0.75 * said, "{specks} {}", look.says());
    }
}

#[test]
fn bare_lines_run_from_end_to_end_with_the_web() {
    for look in Look::some("line-along") {
        let solid = look.sample.solid.within(0.7);
        let bare: Vec<Part> = look.eye.parts(solid, false);
        let said = ["One", "Two", "Three"].iter().position(|count| look.says().contains(&format!("{count} thin")));
        assert_eq!(bare.len(), said.expect("a count") + 1, "{}", look.says());
        for line in bare {
            assert!(line.area.wide() < 4.0 && line.area.high() > solid.high() - 1.0);
            let whole = Area { left: line.area.left + 0.4, right: line.area.right - 0.4, ..FRAME.within(1.5) };
            assert!(look.eye.cover(whole) < 1e-9, "cut through everything");
        }
    }
}

#[test]
fn bands_lie_one_tooth_apart_in_solid_and_tint() {
    for look in Look::some("bars-across") {
        let teeth: Vec<f64> = named(&look.drawing, "teeth").iter().map(|mark| mark[0].1).collect();
        let tooth = teeth[1] - teeth[0];
        let solid = look.sample.solid;
        let off = |y: f64| ((y - teeth[0]) / tooth).rem_euclid(1.0);
        let mut y = solid.top + 1.0;
        while y < solid.bottom - 1.0 {
            let ink = look.eye.cover(Area { top: y, bottom: y + 0.5, ..solid.within(2.0) });
            let away = (off(y) - 0.5).abs();
            assert!(away < 0.27 || ink > 0.99, "full at a mark: {y} {ink}");
            assert!(away > 0.08 || ink < 0.6, "pale between two: {y} {ink}");
            y += 0.5;
        }
        let dots = look.dots();
        let size = |near: bool| {
            let some = dots.iter().filter(|dot| ((off(dot.middle().1) - 0.5).abs() > 0.35) == near);
            mean(some.filter(|dot| near || (off(dot.middle().1) - 0.5).abs() < 0.15).map(|dot| dot.size))
        };
        assert!(size(true) > 1.3 * size(false), "{} {}", size(true), size(false));
        assert!(
            look.says()
                .contains(&format!("at each mark, {} in all", spelled(u32::try_from(teeth.len()).expect("a few"))))
        );
    }
}

#[test]
fn drawn_out_dots_are_ovals_with_the_web() {
    for look in Look::some("slur") {
        let dots = look.dots();
        assert_eq!(dots.len(), look.sample.dots.len());
        let aspect = mean(dots.iter().map(aspect));
        let said = look.after("oval, ");
        assert!(said > 1.25 && (aspect - said).abs() < 0.08, "{aspect} {}", look.says());
        let (above, below) = look.off_the_solid();
        assert!(above < 1e-9 && (0.4..0.8).contains(&below), "{above} {below}");
        let solid = look.sample.solid;
        let beside = Area { left: solid.left - 2.5, right: solid.left - 0.5, ..solid };
        assert!(look.eye.cover(beside) < 1e-9, "edges with the web are sharp");
    }
}

#[test]
fn ring_dots_have_one_bare_middle_each() {
    for look in Look::some("doughnut") {
        let dots = look.dots();
        assert_eq!(dots.len(), look.sample.dots.len());
        let holes: Vec<Part> =
            dots.iter().flat_map(|dot| look.eye.holes(dot.area.within(-0.7))).filter(|hole| hole.size > 3.0).collect();
        assert_eq!(holes.len(), dots.len());
        let ratio = mean(holes.iter().map(|hole| hole.area.wide())) / mean(dots.iter().map(|dot| dot.area.wide()));
        assert!((ratio - look.after("bare middle ")).abs() < 0.04, "{ratio} {}", look.says());
        look.has_a_closed_solid();
    }
}

#[test]
fn the_solid_has_as_many_round_holes_as_the_words_say() {
    for look in Look::some("pinholes") {
        let holes = look.eye.holes(look.sample.solid.within(0.5));
        assert!((real(holes.len()) - look.before(" of them")).abs() < 0.5, "{} {}", holes.len(), look.says());
        assert!(holes.len() > 40 && holes.iter().all(|hole| (aspect(hole) - 1.0).abs() < 0.35 && hole.size < 10.0));
        look.has_whole_dots();
    }
}

#[test]
fn the_second_letter_in_the_solid_is_the_first_so_many_teeth_back() {
    for look in Look::some("ghost") {
        look.has_whole_dots();
        let solid = look.sample.solid.within(0.7);
        let shape: Vec<(Point2, bool)> = (0..200_u32)
            .flat_map(|k| (0..200_u32).map(move |j| (f64::from(k) / 200.0, f64::from(j) / 200.0)))
            .map(|part| (solid.left + part.0 * solid.wide(), solid.top + part.1 * solid.high()))
            .map(|at| (at, look.eye.at(at) < 0.9))
            .collect();
        let said = look.before(" tooth spaces back") * look.sample.tooth;
        let agree = |down: f64| {
            let same = shape
                .iter()
                .filter(|(at, pale)| (look.eye.at((at.0, at.1 - down)) > 0.5 && inside(&look, *at, down)) == *pale);
            real(same.count()) / real(shape.len())
        };
        let best = (-40..=40).map(|k| said + f64::from(k) / 10.0).max_by(|a, b| agree(*a).total_cmp(&agree(*b)));
        let best = best.expect("it is there");
        assert!(
            agree(best) > 0.99 && (best - said).abs() < 0.05 * look.sample.tooth + 0.4,
            "{best} {said} {}",
            agree(best)
        );
        assert!(look.eye.inks(solid).all(|ink| ink > 0.4), "pale, not bare");
    }
}

type Point2 = (f64, f64);

/// Whether a place, moved up, lies in the box of the letter.
fn inside(look: &Look, at: Point2, down: f64) -> bool {
    let letter = look.sample.letter_box.within(-0.5);
    let y = at.1 - down;
    at.0 > letter.left && at.0 < letter.right && y > letter.top && y < letter.bottom
}

/// How strongly radii of dots swing together with a wave of a length and direction, in shares of their mean.
fn swing(dots: &[(Point2, f64)], far: f64, degrees: f64) -> f64 {
    let middle = mean(dots.iter().map(|dot| dot.1));
    let way = (libm::cos(degrees.to_radians()), libm::sin(degrees.to_radians()));
    let sum = |of: fn(f64) -> f64| {
        mean(dots.iter().map(|((x, y), size)| (size - middle) * of((x * way.0 + y * way.1) / far * 2.0 * PI)))
    };
    2.0 * sum(libm::cos).hypot(sum(libm::sin)) / middle
}

/// The size of a dot, from the ink around its place: touching ones are told apart by where they should stand.
fn sizes(look: &Look) -> Vec<(Point2, f64)> {
    let half = CELL / 8.0_f64.sqrt();
    let around = |&(x, y): &Point2| Area { left: x - half, top: y - half, right: x + half, bottom: y + half };
    let sized = look.sample.dots.iter().map(|dot| (*dot, look.eye.cover(around(dot)).sqrt()));
    sized.collect()
}

#[test]
fn dots_grow_and_shrink_with_a_coarse_pattern_askew() {
    for look in Look::some("moire") {
        let dots = sizes(&look);
        let said = look.before(" dots; letter") * CELL;
        let all = (24..60).flat_map(|k| (0..36).map(move |d| (f64::from(k) * CELL / 12.0, f64::from(d) * 5.0)));
        let (far, degrees) =
            all.max_by(|a, b| swing(&dots, a.0, a.1).total_cmp(&swing(&dots, b.0, b.1))).expect("it is there");
        assert!((far / said - 1.0).abs() < 0.15, "{far} {}", look.says());
        assert!(swing(&dots, far, degrees) > 0.1, "{}", swing(&dots, far, degrees));
        assert!((7.0..83.0).contains(&degrees.rem_euclid(90.0)), "askew: {degrees}");
        assert!(swing(&dots, said, degrees + 90.0) > 0.06, "both ways");
        look.has_a_closed_solid();
    }
    for look in Look::some("kiss") {
        assert!((0..18).all(|d| swing(&sizes(&look), 3.8 * CELL, f64::from(d) * 10.0) < 0.02));
    }
}
