//! The way of the ink through a print deck, with the films it leaves.

use super::strokes::{Point, band, barb, closed, polar, ring, through, turn};
use super::{Anchor, Arguments, Drawing, Figure, Ink, Pen, Style, n};

/// The way of the ink from pan or chamber over anilox and plate to the web, with the films on them.
pub(super) const INK_THROUGH_DECK: Figure = Figure { name: "ink-through-deck", draw, example };

const MIDDLE: f64 = 134.0;
const ANILOX: Point = (132.0, MIDDLE);
const ANILOX_R: f64 = 50.0;
const FOUNTAIN_R: f64 = 36.0;
const PLATE_R: f64 = 58.0;
const IMPRESSION_R: f64 = 42.0;
/// The web on the sheet.
const WEB: f64 = 3.5;
/// The thickest film on the sheet.
const THICK: f64 = 13.0;
const RIGHT: f64 = 470.0;
/// How far the outline of a roll stays inside its surface, so that it does not add to the film.
const SHELL: f64 = 2.6;
/// How thick a blade is on the sheet.
const STEEL: f64 = 4.4;
/// A nip is closed: the films on both sides of it reach this far past it, in degrees.
const PAST: f64 = 1.0;

/// How the anilox gets its ink.
#[derive(Clone, Copy, PartialEq)]
enum Supply {
    Chamber,
    OpenBlade,
    TwoRoll,
}

struct Deck {
    supply: Supply,
    anilox: f64,
    plate: f64,
    web: f64,
    /// Units on the sheet to a micrometre of film.
    units: f64,
}

impl Deck {
    fn new(given: &Arguments) -> Self {
        let (anilox, plate, web) = (given.number("anilox_film"), given.number("plate_film"), given.number("web_film"));
        let supply = match given.word("deck") {
            "open-blade" => Supply::OpenBlade,
            "two-roll" => Supply::TwoRoll,
            _ => Supply::Chamber,
        };
        Self { supply, anilox, plate, web, units: THICK / anilox.max(plate).max(web).max(0.1) }
    }

    /// Where the plate cylinder stands: the film on the anilox just fits the nip.
    fn plate_at(&self) -> Point {
        (ANILOX.0 + ANILOX_R + self.anilox * self.units + PLATE_R, MIDDLE)
    }

    /// Where the impression roll stands: the web and the film on the plate just fit the nip.
    fn impression_at(&self) -> Point {
        (self.plate_at().0 + PLATE_R + self.plate * self.units + WEB + IMPRESSION_R, MIDDLE)
    }

    /// Where the fountain roll stands, if there is one: below and to the left of the anilox.
    fn fountain_at(&self) -> Point {
        polar(ANILOX, ANILOX_R + self.anilox * self.units + FOUNTAIN_R, 225.0)
    }

    /// The direction in which the doctor blade leads away from its tip; with none the film begins full.
    fn lean(&self) -> f64 {
        match self.supply {
            Supply::Chamber => 100.0,
            Supply::OpenBlade => 122.0,
            Supply::TwoRoll => 225.0,
        }
    }

    /// Where on the anilox the surplus is gone and where the ink takes it up again, in degrees.
    fn metered(&self) -> (f64, f64) {
        match self.supply {
            Supply::Chamber => (155.0, -155.0),
            Supply::OpenBlade => (180.0, -61.0),
            Supply::TwoRoll => (225.0, -135.0),
        }
    }
}

fn draw(given: &Arguments, style: Style) -> Drawing {
    let deck = Deck::new(given);
    let mut pen = Pen::new(480.0, 292.0);
    match deck.supply {
        Supply::Chamber => chamber(&mut pen),
        Supply::OpenBlade => pan(&mut pen, (70.0, 190.0), 173.0, 210.0),
        Supply::TwoRoll => pan(&mut pen, (14.0, 130.0), 216.0, 254.0),
    }
    films(&mut pen, &deck);
    rolls(&mut pen, &deck);
    if deck.supply == Supply::OpenBlade {
        blade(&mut pen, 180.0, deck.lean(), 62.0);
        clamp(&mut pen, 180.0, deck.lean(), (40.0, 72.0), (-5.0, STEEL + 5.0));
    }
    web(&mut pen, &deck);
    names(&mut pen, &deck);
    numbers(&mut pen, &deck, style);
    Drawing { svg: pen.finish(), words: words(&deck, style) }
}

/// A point of a blade: so far along it from its tip, and so far out from the side of the roll.
fn of_blade(at: f64, lean: f64, along: f64, out: f64) -> Point {
    let away = if at > lean { 90.0 } else { -90.0 };
    polar(polar(polar(ANILOX, ANILOX_R, at), along, lean), out, lean + away)
}

/// A blade whose tip rests on the anilox; `lean` is the direction in which it leads away.
fn blade(pen: &mut Pen, at: f64, lean: f64, long: f64) {
    let corners =
        [(0.0, 0.0), (long, 0.0), (long, STEEL), (7.0, STEEL)].map(|(along, out)| of_blade(at, lean, along, out));
    pen.named("blade", Ink::Paper, &closed(&corners));
}

/// What holds a blade, from one distance along it to another and from one side to the other.
fn clamp(pen: &mut Pen, at: f64, lean: f64, (from, to): (f64, f64), (near, far): (f64, f64)) {
    let corners = [(from, near), (to, near), (to, far), (from, far)].map(|(along, out)| of_blade(at, lean, along, out));
    pen.path(Ink::Paper, &closed(&corners));
}

/// A closed box of ink between two blades, both pointing into it.
fn chamber(pen: &mut Pen) {
    let (high, low) = (polar(ANILOX, ANILOX_R, 155.0), polar(ANILOX, ANILOX_R, 205.0));
    let (top, foot) = (of_blade(155.0, 100.0, 42.0, 2.0), of_blade(205.0, 260.0, 42.0, 2.0));
    let (roof, floor) = (of_blade(155.0, 100.0, 27.0, 2.0), of_blade(205.0, 260.0, 27.0, 2.0));
    let (back, wall) = (40.0, 48.0);
    pen.path(Ink::Paper, &closed(&[top, (back, top.1), (back, foot.1), foot, floor, low, high, roof]));
    let ink = [high, roof, (wall, roof.1), (wall, floor.1), floor, low, (low.0 + 6.0, MIDDLE)];
    pen.named("ink", Ink::Solid, &closed(&ink));
    for (at, lean) in [(155.0, 100.0), (205.0, 260.0)] {
        blade(pen, at, lean, 46.0);
        clamp(pen, at, lean, (29.0, 42.0), (-5.0, 0.0));
    }
}

/// An open pan with ink in it, from its inner sides, its rim and its bottom.
fn pan(pen: &mut Pen, (left, right): (f64, f64), rim: f64, bottom: f64) {
    let slope = 8.0;
    let level = rim + 4.0;
    let ink = [(left + 1.0, level), (right - 1.0, level), (right - slope, bottom), (left + slope, bottom)];
    pen.named("ink", Ink::Solid, &closed(&ink));
    let walls = [(left, rim), (left + slope, bottom), (right - slope, bottom), (right, rim)];
    pen.path(Ink::Heavy, &through(&walls));
}

/// The film on the anilox from the blade to the plate: under the blade it fills the wedge between blade and roll.
fn wedge((inner, outer): (f64, f64), from: f64, lean: f64) -> String {
    let tip = polar(ANILOX, inner, from);
    let turned = (lean - from).to_radians();
    let steep = inner * libm::cos(turned);
    let along = (steep * steep + outer * outer - inner * inner).sqrt() - steep;
    let (x, y) = polar(tip, along, lean);
    let full = (ANILOX.1 - y).atan2(x - ANILOX.0).to_degrees().rem_euclid(360.0);
    band(ANILOX, (inner, outer), full, -PAST).replace('Z', "") + &under(inner, full, from) + "Z"
}

/// The piece of the roll under the blade.
fn under(radius: f64, full: f64, from: f64) -> String {
    let (x, y) = polar(ANILOX, radius, from);
    let large = u8::from((from - full).abs() > 180.0);
    format!("A{r} {r} 0 {large} 0 {} {}", n(x), n(y), r = n(radius))
}

/// The ink that the anilox brings up from the pan to the blade; there it piles up and falls back.
fn surplus(flood: f64) -> String {
    let (from, bend, tip) = (237.0, 206.0, 181.0);
    let mut points = vec![polar(ANILOX, ANILOX_R + flood, from)];
    for step in 0..=24_u32 {
        let degrees = from + (tip - from) * f64::from(step) / 24.0;
        let near = ((bend - degrees) / (bend - tip)).clamp(0.0, 1.0);
        points.push(polar(ANILOX, ANILOX_R + flood * (1.0 - near * near).sqrt(), degrees));
    }
    points.extend((0..=12_u32).map(|step| polar(ANILOX, ANILOX_R, tip + (from - tip) * f64::from(step) / 12.0)));
    closed(&points)
}

fn films(pen: &mut Pen, deck: &Deck) {
    let (from, into) = deck.metered();
    let on = |radius: f64, film: f64| (radius, radius + film.max(0.0) * deck.units);
    let flood = deck.anilox * deck.units + 5.0;
    match deck.supply {
        Supply::Chamber => {}
        Supply::OpenBlade => pen.path(Ink::Solid, &surplus(flood)),
        Supply::TwoRoll => {
            pen.path(Ink::Solid, &band(deck.fountain_at(), (FOUNTAIN_R, FOUNTAIN_R + flood), -50.0, 45.0));
        }
    }
    pen.named("anilox-film", Ink::Solid, &wedge(on(ANILOX_R, deck.anilox), from, deck.lean()));
    let plate = deck.plate_at();
    pen.named("plate-film", Ink::Solid, &band(plate, on(PLATE_R, deck.plate), 180.0 - PAST, 360.0 + PAST));
    if deck.plate > deck.web {
        pen.named("plate-rest", Ink::Solid, &band(plate, on(PLATE_R, deck.plate - deck.web), -PAST, 180.0 + PAST));
    }
    if deck.anilox > deck.web {
        pen.named("anilox-rest", Ink::Solid, &band(ANILOX, on(ANILOX_R, deck.anilox - deck.web), PAST, into - PAST));
    }
}

/// The rolls over the films. A roll is bare paper as far as its surface; its outline keeps inside, clear of the film.
fn rolls(pen: &mut Pen, deck: &Deck) {
    let roll = |pen: &mut Pen, name, centre, radius: f64| {
        pen.named(name, Ink::Blank, &ring(centre, radius));
        pen.circle(Ink::Line, centre, radius - SHELL);
    };
    roll(pen, "anilox", ANILOX, ANILOX_R);
    turn(pen, ANILOX, 36.0, 125.0, 55.0);
    let (plate, impression) = (deck.plate_at(), deck.impression_at());
    roll(pen, "plate-cylinder", plate, PLATE_R);
    pen.circle(Ink::Fine, plate, PLATE_R - 7.0);
    turn(pen, plate, 40.0, 55.0, 125.0);
    roll(pen, "impression-roll", impression, IMPRESSION_R);
    turn(pen, impression, 30.0, 125.0, 55.0);
    if deck.supply == Supply::TwoRoll {
        roll(pen, "fountain-roll", deck.fountain_at(), FOUNTAIN_R);
        turn(pen, deck.fountain_at(), 26.0, 50.0, 130.0);
    }
}

/// The web comes in below, wraps the impression roll and leaves above, printed on its outside.
fn web(pen: &mut Pen, deck: &Deck) {
    let (x, y) = deck.impression_at();
    let film = deck.web * deck.units;
    let out = |radius: f64| (n(y - radius), n(y + radius), n(radius));
    let inner = IMPRESSION_R + WEB;
    let (top, _, r) = out(inner);
    let (over, _, outer) = out(inner + film);
    let nip = |radius: f64| n(x - radius);
    let printed = format!(
        "M{} {y}A{outer} {outer} 0 0 1 {} {over}L{RIGHT} {over}L{RIGHT} {top}L{} {top}A{r} {r} 0 0 0 {} {y}Z",
        nip(inner + film),
        n(x),
        n(x),
        nip(inner),
        y = n(y)
    );
    pen.named("web-film", Ink::Solid, &printed);
    let (above, below, r) = out(IMPRESSION_R + 0.4);
    let inside = format!("M{RIGHT} {below}L{} {below}A{r} {r} 0 0 1 {} {above}L{RIGHT} {above}", n(x), n(x));
    pen.named("web", Ink::Fine, &inside);
    let (_, below, r) = out(inner - 0.4);
    let bare = format!("M{RIGHT} {below}L{} {below}A{r} {r} 0 0 1 {} {}", n(x), nip(inner - 0.4), n(y));
    pen.named("web", Ink::Fine, &bare);
    for (height, degrees) in [(y - 28.0, 0.0), (y + 28.0, 180.0)] {
        let (from, to) = if degrees < 1.0 { (RIGHT - 44.0, RIGHT - 9.0) } else { (RIGHT - 9.0, RIGHT - 44.0) };
        pen.line(Ink::Line, (from, height), (to, height));
        let tip = (if degrees < 1.0 { RIGHT - 2.0 } else { RIGHT - 51.0 }, height);
        pen.named("web-head", Ink::Solid, &barb(tip, degrees, 9.0));
    }
    pen.label((RIGHT - 26.0, y + 4.0), Anchor::Middle, "web");
}

fn names(pen: &mut Pen, deck: &Deck) {
    let (plate, impression) = (deck.plate_at(), deck.impression_at());
    pen.label((ANILOX.0, MIDDLE + 8.0), Anchor::Middle, "anilox");
    pen.label((plate.0, MIDDLE + 4.0), Anchor::Middle, "plate");
    pen.label((plate.0, MIDDLE + 20.0), Anchor::Middle, "cylinder");
    pen.small((impression.0, MIDDLE + 6.0), Anchor::Middle, "impression");
    pen.small((impression.0, MIDDLE + 19.0), Anchor::Middle, "roll");
    match deck.supply {
        Supply::Chamber => {
            pen.small((10.0, MIDDLE - 88.0), Anchor::Start, "doctor blade");
            pen.line(Ink::Fine, (46.0, MIDDLE - 84.0), (76.0, MIDDLE - 65.0));
        }
        Supply::OpenBlade => {
            pen.small((6.0, MIDDLE - 22.0), Anchor::Start, "doctor");
            pen.small((6.0, MIDDLE - 10.0), Anchor::Start, "blade");
            pen.line(Ink::Fine, (44.0, MIDDLE - 24.0), (63.0, MIDDLE - 29.0));
        }
        Supply::TwoRoll => {}
    }
    match deck.supply {
        Supply::Chamber => {
            pen.small((40.0, MIDDLE + 90.0), Anchor::Middle, "ink");
            pen.line(Ink::Fine, (42.0, MIDDLE + 80.0), (54.0, MIDDLE + 44.0));
        }
        Supply::OpenBlade => pen.small((130.0, 227.0), Anchor::Middle, "ink pan"),
        Supply::TwoRoll => {
            let (x, y) = deck.fountain_at();
            pen.small((x, y), Anchor::Middle, "fountain");
            pen.small((x, y + 12.0), Anchor::Middle, "roll");
            pen.small((72.0, 272.0), Anchor::Middle, "ink pan");
        }
    }
}

fn numbers(pen: &mut Pen, deck: &Deck, style: Style) {
    let film = |film: f64| format!("{} µm", style.number(film, 1));
    let (plate, impression) = (deck.plate_at(), deck.impression_at());
    let mut note = |x: f64, y: f64, name: &str, value: f64, to: Point| {
        pen.small((x, y), Anchor::Middle, name);
        pen.label((x, y + 15.0), Anchor::Middle, &film(value));
        let from = if to.1 < y { y - 11.0 } else { y + 19.0 };
        pen.line(Ink::Fine, (x, from), to);
    };
    let half = deck.units / 2.0;
    note(142.0, MIDDLE - 108.0, "on the anilox", deck.anilox, polar(ANILOX, ANILOX_R + deck.anilox * half, 78.0));
    note(plate.0, MIDDLE + 102.0, "on the plate", deck.plate, polar(plate, PLATE_R + deck.plate * half, 270.0));
    let web = MIDDLE - IMPRESSION_R - WEB - deck.web * half;
    note(RIGHT - 36.0, MIDDLE - 108.0, "on the web", deck.web, (impression.0.max(RIGHT - 60.0), web));
    pen.small((300.0, 285.0), Anchor::Middle, "films drawn far too thick, but in proportion to each other");
}

fn words(deck: &Deck, style: Style) -> String {
    let supply = match deck.supply {
        Supply::Chamber => {
            "A closed box of ink with the doctor blade at the top and a second blade at the bottom lies against the left \
             of the anilox"
        }
        Supply::OpenBlade => {
            "The anilox turns in a pan of ink; a doctor blade, leading up into a holder, rests with its tip on the left \
             side"
        }
        Supply::TwoRoll => {
            "A roll turns against the clock in a pan of ink and runs against the lower left of the anilox, without a blade"
        }
    };
    let film = |film: f64| format!("{} µm", style.number(film, 1));
    format!(
        "{supply}. Anilox and impression roll turn with the clock, the plate cylinder between them against it. The web \
         wraps the impression roll, comes in below and leaves above. The ink is {} thick on the anilox, {} on the \
         plate, {} on the web.",
        film(deck.anilox),
        film(deck.plate),
        film(deck.web)
    )
}

fn example(index: u32) -> Arguments {
    let (deck, anilox, plate, web) = match index {
        0 => ("chamber", 5.0, 2.6, 1.3),
        1 => ("open-blade", 8.4, 4.0, 2.1),
        2 => ("two-roll", 12.0, 6.2, 3.4),
        3 => ("chamber", 3.2, 1.6, 0.8),
        4 => ("open-blade", 4.0, 2.2, 1.0),
        _ => ("two-roll", 9.0, 4.4, 2.4),
    };
    let mut given = Arguments { grain: u64::from(index) + 41, ..Arguments::default() };
    for (name, value) in [("anilox_film", anilox), ("plate_film", plate), ("web_film", web)] {
        given.numbers.insert(name.to_owned(), value);
    }
    given.words.insert("deck".to_owned(), deck.to_owned());
    given
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::gauge::{POINT, bounds, cases, holds, named, texts, turning};

    #[test]
    fn it_keeps_what_every_figure_keeps() {
        holds(&INK_THROUGH_DECK);
    }

    fn middle(drawing: &Drawing, roll: &str) -> (Point, f64) {
        let (left, top, right, bottom) = bounds(drawing, roll);
        ((f64::midpoint(left, right), f64::midpoint(top, bottom)), (right - left) / 2.0)
    }

    /// How thick a film lies on a roll, by the farthest point of its band.
    fn thick(drawing: &Drawing, film: &str, roll: &str) -> f64 {
        let (centre, radius) = middle(drawing, roll);
        let points = named(drawing, film).concat();
        let far = points.iter().map(|p| (p.0 - centre.0).hypot(p.1 - centre.1)).fold(0.0, f64::max);
        let near = points.iter().map(|p| (p.0 - centre.0).hypot(p.1 - centre.1)).fold(f64::INFINITY, f64::min);
        assert!((near - radius).abs() < 0.03, "{film} lies on its roll: {near} {radius}");
        far - radius
    }

    #[test]
    fn the_films_are_in_proportion() {
        for given in cases(&INK_THROUGH_DECK) {
            let drawing = draw(&given, POINT);
            let anilox = thick(&drawing, "anilox-film", "anilox");
            let plate = thick(&drawing, "plate-film", "plate-cylinder");
            let printed = named(&drawing, "web-film").concat();
            let level: Vec<f64> = printed.iter().filter(|p| p.0 > RIGHT - 0.01).map(|p| p.1).collect();
            let web = (level[0] - level[1]).abs();
            let (a, p, w) = (given.number("anilox_film"), given.number("plate_film"), given.number("web_film"));
            let units = anilox.max(plate).max(web) / a.max(p).max(w);
            for (drawn, asked) in [(anilox, a), (plate, p), (web, w)] {
                assert!((drawn / units - asked).abs() < 0.05, "{} {asked} {given:?}", drawn / units);
            }
            for (name, asked) in [("on the anilox", a), ("on the plate", p), ("on the web", w)] {
                let all = texts(&drawing);
                let index = all.iter().position(|(_, says)| says == name).expect("it is there");
                let printed: f64 = all[index + 1].1.trim_end_matches(" µm").parse().expect("it is there");
                assert!((printed - asked).abs() < 0.051, "{name} {given:?}");
            }
            for (rest, roll, asked) in [("plate-rest", "plate-cylinder", p - w), ("anilox-rest", "anilox", a - w)] {
                if asked > 0.0 {
                    assert!((thick(&drawing, rest, roll) / units - asked).abs() < 0.05, "{rest} {given:?}");
                } else {
                    assert!(named(&drawing, rest).is_empty());
                }
            }
        }
    }

    /// Rolls that touch turn against each other, and the web runs as the impression roll turns.
    #[test]
    fn what_turns_turns_together() {
        for given in cases(&INK_THROUGH_DECK) {
            let drawing = draw(&given, POINT);
            let turns = |roll: &str| turning(&drawing, middle(&drawing, roll).0) > 0.0;
            let anilox = turns("anilox");
            assert_eq!(turns("plate-cylinder"), !anilox);
            assert_eq!(turns("impression-roll"), anilox);
            if given.word("deck") == "two-roll" {
                assert_eq!(turns("fountain-roll"), !anilox);
                let ((a, a_r), (f, f_r)) = (middle(&drawing, "anilox"), middle(&drawing, "fountain-roll"));
                let nip = (a.0 - f.0).hypot(a.1 - f.1) - a_r - f_r;
                assert!((nip - thick(&drawing, "anilox-film", "anilox")).abs() < 0.05, "{nip} {given:?}");
            }
            let heads = named(&drawing, "web-head");
            let (roll, _) = middle(&drawing, "impression-roll");
            for head in heads {
                let right = head[0].0 > head[1].0;
                assert_eq!(right, (head[0].1 < roll.1) == anilox, "above it runs as the top of the roll does");
            }
            let film = bounds(&drawing, "web-film");
            assert!(film.3 <= roll.1 + 0.01, "only what leaves is printed");
        }
    }

    /// The films just fit the nips, and blades touch the anilox with their tips only.
    #[test]
    fn what_touches_touches() {
        for given in cases(&INK_THROUGH_DECK) {
            let drawing = draw(&given, POINT);
            let (anilox, anilox_r) = middle(&drawing, "anilox");
            let (plate, plate_r) = middle(&drawing, "plate-cylinder");
            let (impression, impression_r) = middle(&drawing, "impression-roll");
            let nip = plate.0 - plate_r - anilox.0 - anilox_r;
            assert!((nip - thick(&drawing, "anilox-film", "anilox")).abs() < 0.05);
            let nip = impression.0 - impression_r - plate.0 - plate_r - WEB;
            assert!((nip - thick(&drawing, "plate-film", "plate-cylinder")).abs() < 0.05);
            let blades = named(&drawing, "blade");
            let many = match given.word("deck") {
                "chamber" => 2,
                "open-blade" => 1,
                _ => 0,
            };
            assert_eq!(blades.len(), many);
            for blade in blades {
                let reach = |share: f64| {
                    let x = blade[0].0 + share * (blade[1].0 - blade[0].0);
                    let y = blade[0].1 + share * (blade[1].1 - blade[0].1);
                    (x - anilox.0).hypot(y - anilox.1) - anilox_r
                };
                assert!(reach(0.0).abs() < 0.05 && reach(0.5) > 8.0 && reach(1.0) > 20.0);
                let off = (blade[2].0 - anilox.0).hypot(blade[2].1 - anilox.1) - anilox_r;
                assert!(off > reach(1.0), "the steel lies on the side away from the roll");
            }
            let tip_below_back = named(&drawing, "blade").first().is_none_or(|blade| blade[0].1 > blade[1].1);
            assert!(tip_below_back, "the surface moves up there: the doctor blade points against it");
        }
    }
}
