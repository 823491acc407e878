//! The states of a print: how each is drawn, and what is seen of it in words that name neither it nor a cause.
//!
//! The appearances are common practice of the pressroom, no source.

use super::sample::{CELL, FRAME, Sample, Shape};
use super::shapes::{Area, Hairs, blob, edges, offset, oval, rough};
use crate::picture::strokes::{Point, block, closed_short, spelled, whole};
use crate::picture::{Grain, Ink, Pen, Style};

/// Coordinates are written to a tenth.
const GRID: f64 = 10.0;
/// What is said where nothing but the tint or the solid has changed.
const ELSE_WHOLE: &str = "The dots are round and whole and all edges sharp";

/// A sample on its way to paper.
#[derive(Debug)]
pub(super) struct Print<'a> {
    pub pen: &'a mut Pen,
    pub grain: &'a mut Grain,
    pub sample: &'a Sample,
    /// How far it has gone, 1 to 3.
    pub strength: f64,
    pub style: Style,
}

impl Print<'_> {
    /// Draws the sample in a state, and says what is seen.
    pub(super) fn show(&mut self, state: &str) -> String {
        match state {
            "light" => self.light(),
            "halo" => self.halo(),
            "feathered" => self.feathered(),
            "dirty" => self.dirty(),
            "starved" => self.starved(),
            "line-along" => self.line_along(),
            "bars-across" => self.bars_across(),
            "slur" => self.slur(),
            "doughnut" => self.doughnut(),
            "pinholes" => self.pinholes(),
            "ghost" => self.ghost(),
            "moire" => self.moire(),
            _ => self.kiss(),
        }
    }

    fn outlines(&mut self, ink: Ink, outlines: impl IntoIterator<Item = Vec<Point>>) {
        let data: String =
            outlines.into_iter().filter(|line| line.len() > 2).map(|line| closed_short(&line, GRID)).collect();
        self.pen.path(ink, &data);
    }

    /// Letter, rules and solid as on the plate, moved outward by so much.
    fn full(&mut self, ink: Ink, by: f64) {
        let full = self.sample.full();
        self.outlines(ink, full.iter().flatten().map(|outline| offset(outline, by)));
    }

    /// The tint in ovals, as wide and high as said for each middle.
    fn tint(&mut self, ink: Ink, size: impl Fn(Point) -> (f64, f64)) {
        let dots = self.sample.dots.iter().map(|&at| {
            let (wide, high) = size(at);
            oval(at, wide, high)
        });
        self.pen.path(ink, &dots.collect::<String>());
    }

    fn round_tint(&mut self, ink: Ink) {
        let dot = self.sample.dot;
        self.tint(ink, |_| (dot, dot));
    }

    /// Round dots of one size.
    fn dots(&mut self, diameter: f64, points: impl IntoIterator<Item = Point>) {
        self.pen.dots(diameter, points.into_iter().map(on_grid));
    }

    /// Round bare spots of one size.
    fn spots(&mut self, diameter: f64, points: impl IntoIterator<Item = Point>) {
        self.pen.spots(diameter, points.into_iter().map(on_grid));
    }

    /// A count that grows with the strength.
    fn many(&self, each: f64) -> u32 {
        whole(each * self.strength)
    }

    fn number(&self, value: f64, decimals: usize) -> String {
        self.style.number(value, decimals)
    }

    fn kiss(&mut self) -> String {
        self.full(Ink::Solid, 0.0);
        self.round_tint(Ink::Solid);
        "Every dot is round and whole. Every edge is straight and sharp, and the solid is closed all over.".to_owned()
    }

    fn light(&mut self) -> String {
        let part = self.strength / 3.0;
        for outline in self.sample.full().concat() {
            let ragged = rough(&outline, 8.0, 0.8 + 2.0 * part, self.grain);
            self.outlines(Ink::Solid, [ragged]);
        }
        let hollow = self.sample.letter_at(0.0).swap_remove(1);
        self.outlines(Ink::Blank, [hollow]);
        let (dots, dot) = (&self.sample.dots, self.sample.dot);
        let mut left = Vec::new();
        for &at in dots {
            if self.grain.unit() > 0.07 * self.strength {
                let small = dot * self.grain.between(0.9 - 0.35 * part, 1.0);
                left.push(blob(at, small, 6, 0.16 + 0.16 * part, self.grain));
            }
        }
        let missing = count(dots.len()) - count(left.len());
        self.outlines(Ink::Solid, left);
        let toward_left = self.grain.unit() < 0.5;
        self.bare_places(toward_left);
        format!(
            "Dots are broken and grainy, and {missing} of {} are missing. Edges are ragged; letter, rules and solid have \
             bare places, most of them toward the {}.",
            dots.len(),
            if toward_left { "left" } else { "right" }
        )
    }

    /// Bare places in all that should be full, coarse ones and grain, more of them toward one side.
    fn bare_places(&mut self, toward_left: bool) {
        let (solid, letter, tint) = (self.sample.solid.within(2.0), self.sample.letter_box, self.sample.tint);
        let sided = |area: Area, grain: &mut Grain| {
            let off = grain.unit() * grain.unit();
            let across = if toward_left { off } else { 1.0 - off };
            (area.left + across * area.wide(), grain.between(area.top, area.bottom))
        };
        let mut places = Vec::new();
        for _ in 0..self.many(9.0) {
            let at = sided(solid, self.grain);
            places.push(blob(at, self.grain.between(2.5, 5.5 + 0.7 * self.strength), 6, 0.5, self.grain));
        }
        for _ in 0..self.many(2.5) {
            let at = letter.somewhere(self.grain);
            places.push(blob(at, self.grain.between(1.6, 4.0), 6, 0.5, self.grain));
        }
        for rule in self.sample.rules.clone() {
            for _ in 0..self.many(1.0) {
                let at = rule.somewhere(self.grain);
                places.push(blob(at, self.grain.between(1.6, 4.0), 6, 0.5, self.grain));
            }
        }
        self.outlines(Ink::Blank, places);
        for (size, each) in [(1.3, 1.0), (2.2, 0.6)] {
            let mut grains: Vec<Point> = (0..self.many(18.0 * each)).map(|_| sided(solid, self.grain)).collect();
            grains.extend((0..self.many(6.0 * each)).map(|_| letter.somewhere(self.grain)));
            grains.extend((0..self.many(11.0 * each)).map(|_| tint.somewhere(self.grain)));
            self.spots(size, grains);
        }
    }

    fn halo(&mut self) -> String {
        let (rim, gap) = (2.4, 1.0 + 0.5 * self.strength);
        let out = 0.6 + 0.5 * self.strength;
        self.full(Ink::Solid, out);
        let thick: Vec<Vec<Point>> = self.sample.full().concat();
        self.outlines(Ink::Blank, thick.iter().map(|outline| offset(outline, out - rim)));
        let core = out - rim - gap;
        self.outlines(Ink::Solid, thick.iter().map(|outline| offset(outline, core)));
        let dot = self.sample.dot + out;
        let dots = &self.sample.dots;
        self.dots(2.0 * dot, dots.iter().copied());
        self.spots(2.0 * (dot - 1.9), dots.iter().copied());
        self.dots(2.0 * (dot - 1.9 - gap), dots.iter().copied());
        format!(
            "A dark rim runs round every dot, rule and letter and round the solid, with a bare line just inside it, then \
             full ink again. Dots are squeezed to {} of the way to the next.",
            self.number(2.0 * dot / CELL, 2)
        )
    }

    fn feathered(&mut self) -> String {
        self.full(Ink::Solid, 0.0);
        let dots = &self.sample.dots;
        self.dots(2.0 * self.sample.dot, dots.iter().copied());
        let longest = 4.5 + 3.0 * self.strength;
        let mut hairs = [Hairs::default(), Hairs::default()];
        let outlines: Vec<Vec<Point>> = self.sample.full().concat();
        for (from, to, _) in outlines.iter().flat_map(|outline| edges(outline)).filter(|(.., away)| away.1 > 0.25) {
            let long = (to.0 - from.0).hypot(to.1 - from.1);
            let mut at = self.grain.between(0.5, 2.0);
            while at < long {
                let root = (from.0 + (to.0 - from.0) * at / long, from.1 + (to.1 - from.1) * at / long - 0.5);
                self.hair(&mut hairs, root, longest, 0.0);
                at += self.grain.between(2.0, 6.4 - 0.8 * self.strength);
            }
        }
        for &(x, y) in dots {
            for side in [-0.55, 0.0, 0.55] {
                if self.grain.unit() < 0.5 + 0.13 * self.strength {
                    let off = side + self.grain.between(-0.2, 0.2);
                    let root = (x + off * self.sample.dot, y + self.sample.dot * (1.0 - off * off).sqrt() - 0.5);
                    self.hair(&mut hairs, root, longest * 0.62, side);
                }
            }
        }
        self.pen.path(Ink::Line, &hairs[0].data);
        self.pen.path(Ink::Fine, &hairs[1].data);
        format!(
            "Fine hairs of ink stand off every edge that left the plate last, and off the hind side of the dots. \
             The longest are {} of a tooth space; dots and solid are whole.",
            self.number(longest / self.sample.tooth, 1)
        )
    }

    /// One hair: the short ones are thick, the long ones fine.
    fn hair(&mut self, hairs: &mut [Hairs; 2], root: Point, longest: f64, leaning: f64) {
        let part = self.grain.between(0.25, 1.0);
        let lean = longest * part * (leaning * 0.5 + self.grain.between(-0.22, 0.22));
        hairs[usize::from(part > 0.5)].add(root, (lean, longest * part));
    }

    fn dirty(&mut self) -> String {
        self.full(Ink::Solid, 0.0);
        self.dots(2.08 * self.sample.dot, self.sample.dots.iter().copied());
        let (joined, closed) = self.joined();
        self.smudges();
        format!(
            "Ink joins {joined} pairs of dots and closes {closed} of the openings between four. Specks and smudges lie on \
             the open paper, in the hollow of the letter and between the rules."
        )
    }

    /// Joins some dots, and closes some openings between four; says how many of each.
    fn joined(&mut self) -> (u32, u32) {
        let half = CELL / 2.0_f64.sqrt();
        let (mut joints, mut closed) = (Vec::new(), Vec::new());
        let dots = &self.sample.dots;
        let is_dot = |x: f64, y: f64| dots.iter().any(|dot| (dot.0 - x).hypot(dot.1 - y) < 0.5);
        for &(x, y) in dots {
            for side in [-1.0, 1.0] {
                if is_dot(x + side * half, y + half) && self.grain.unit() < 0.12 * self.strength {
                    let thick = self.grain.between(1.4, 3.4);
                    let (a, b) = ((side * half * 0.3, half * 0.3), (side * half * 0.7, half * 0.7));
                    joints.push(neck((x + a.0, y + a.1), (x + b.0, y + b.1), thick));
                }
            }
            let four = [(half, half), (-half, half), (0.0, 2.0 * half)];
            if four.iter().all(|by| is_dot(x + by.0, y + by.1)) && self.grain.unit() < 0.075 * self.strength {
                closed.push(blob((x, y + half), half * self.grain.between(0.62, 0.8), 7, 0.18, self.grain));
            }
        }
        let counts = (count(joints.len()), count(closed.len()));
        self.outlines(Ink::Solid, joints);
        self.outlines(Ink::Solid, closed);
        counts
    }

    /// Specks on open paper, and smudges in the hollow of the letter and between the rules.
    fn smudges(&mut self) {
        let open = FRAME.within(4.0);
        for (size, each) in [(1.1, 26.0), (1.9, 14.0), (2.9, 5.0)] {
            let specks: Vec<Point> = (0..self.many(each)).map(|_| open.somewhere(self.grain)).collect();
            self.dots(size, specks);
        }
        let mut smudges = Vec::new();
        for outline in self.sample.marks().concat() {
            let sides: Vec<(Point, Point, Point)> = edges(&outline).collect();
            for (from, to, _) in sides {
                if self.grain.unit() < 0.22 * self.strength {
                    let part = self.grain.between(0.15, 0.85);
                    let at = (from.0 + (to.0 - from.0) * part, from.1 + (to.1 - from.1) * part);
                    smudges.push(blob(at, self.grain.between(2.5, 3.5 + self.strength), 8, 0.3, self.grain));
                }
            }
        }
        for pair in self.sample.rules.windows(2) {
            let gap = Area { top: pair[0].bottom, bottom: pair[1].top, ..pair[0] };
            for _ in 0..self.many(1.0) {
                let at = (self.grain.between(gap.left + 6.0, gap.right - 6.0), f64::midpoint(gap.top, gap.bottom));
                smudges.push(blob(at, gap.high() * self.grain.between(0.45, 0.65), 8, 0.25, self.grain));
            }
        }
        for corner in self.sample.letter_at(0.0).swap_remove(1) {
            if self.grain.unit() < 0.3 * self.strength {
                smudges.push(blob(corner, self.grain.between(3.0, 4.5 + 1.2 * self.strength), 8, 0.25, self.grain));
            }
        }
        self.outlines(Ink::Solid, smudges);
    }

    fn starved(&mut self) -> String {
        let ink = if self.strength < 1.5 { Ink::Pale } else { Ink::Weak };
        self.full(ink, 0.0);
        self.round_tint(ink);
        let solid = self.sample.solid;
        let mut clouds = String::new();
        for _ in 0..22 {
            let room = Area { left: solid.left + 22.0, right: solid.right - 22.0, ..solid.within(15.0) };
            let (x, y) = room.somewhere(self.grain);
            for _ in 0..3 {
                let (wide, high) = (self.grain.between(4.0, 11.0), self.grain.between(3.0, 7.0));
                let at = (x + self.grain.between(-11.0, 11.0), y + self.grain.between(-8.0, 8.0));
                clouds.push_str(&oval(at, wide, high));
            }
        }
        self.pen.path(if self.strength < 1.5 { Ink::Solid } else { Ink::Pale }, &clouds);
        let specks = self.many(28.0);
        for (size, share) in [(1.4, 0.5), (2.4, 0.5)] {
            let many = whole(f64::from(specks) * share);
            let places: Vec<Point> = (0..many).map(|_| solid.within(2.0).somewhere(self.grain)).collect();
            self.spots(size, places);
        }
        format!(
            "All of it is pale: dots, letter and rules are whole and sharp, but the ink on them is thin. The solid is \
             cloudy, with darker patches and about {specks} bare specks."
        )
    }

    fn line_along(&mut self) -> String {
        self.kiss();
        let many = self.many(1.0).clamp(1, 3);
        let (tint, column) = (self.sample.tint, self.sample.letter_box);
        let sides = [tint, column, tint];
        let mut data = String::new();
        for (side, part) in sides.iter().zip([0.1, 0.2, 0.6]).take(usize::try_from(many).unwrap_or(1)) {
            let x = side.left + side.wide() * (part + self.grain.between(0.0, 0.3));
            let half = self.grain.between(1.0, 1.5);
            data.push_str(&block(x - half, FRAME.top + 1.0, x + half, FRAME.bottom - 1.0));
        }
        self.pen.path(Ink::Blank, &data);
        format!(
            "{} bare and straight with the web from top to bottom, cut sharply through all in the way. Beside it \
             the dots are round and whole, the edges sharp and the solid closed.",
            match many {
                1 => "One thin line runs",
                2 => "Two thin lines run",
                _ => "Three thin lines run",
            }
        )
    }

    fn bars_across(&mut self) -> String {
        self.full(Ink::Solid, 0.0);
        let (tooth, dot) = (self.sample.tooth, self.sample.dot);
        let teeth: Vec<f64> = self.sample.teeth().collect();
        let first = teeth.first().copied().unwrap_or_default();
        let swing = 0.12 + 0.11 * self.strength;
        self.tint(Ink::Solid, |(_, y)| {
            let size = dot * (1.0 + swing * libm::cos((y - first) / tooth * std::f64::consts::TAU));
            (size, size)
        });
        for (ink, high) in [(Ink::Pale, 0.5), (Ink::Weak, 0.12 + 0.1 * self.strength)] {
            let between = (0..=teeth.len()).map(|k| first + tooth * (f64::from(count(k)) - 0.5));
            let bands = between.map(|y| (y - tooth * high / 2.0, y + tooth * high / 2.0)).collect::<Vec<_>>();
            let full: Vec<Vec<Point>> = self.sample.full().concat();
            let cut = full.iter().flat_map(|outline| bands.iter().map(|band| slice(outline, *band)));
            self.outlines(ink, cut.collect::<Vec<_>>());
        }
        format!(
            "Even bands lie across the web through letter, rules, tint and solid alike, one at each mark, {} in all. \
             In a band dots are big and ink is full; between two bands dots are small and ink is pale.",
            spelled(count(teeth.len()))
        )
    }

    fn slur(&mut self) -> String {
        let along = 1.0 + 0.3 * self.strength;
        let (dot, smear) = (self.sample.dot * 0.94, 2.0 + 2.4 * self.strength);
        let full: Vec<Shape> = self.sample.full();
        for (ink, part) in [(Ink::Weak, 1.0), (Ink::Weak, 0.66), (Ink::Pale, 0.33)] {
            let moved =
                full.iter().flatten().map(|outline| outline.iter().map(|p| (p.0, p.1 + smear * part)).collect());
            self.outlines(ink, moved.collect::<Vec<_>>());
        }
        self.full(Ink::Solid, 0.0);
        let (wide, high) = (dot, dot * along);
        self.tint(Ink::Solid, |_| (wide, high));
        format!(
            "Every dot is an oval, {} times as long with the web as across it. Edges across the web trail off behind in a \
             pale smear; edges with the web are sharp.",
            self.number(high / wide, 1)
        )
    }

    fn doughnut(&mut self) -> String {
        self.full(Ink::Solid, 0.0);
        let dot = self.sample.dot * 1.12;
        let hollow = dot * (0.34 + 0.11 * self.strength);
        let dots = &self.sample.dots;
        self.tint(Ink::Solid, |_| (dot, dot));
        let middles = dots.iter().map(|&(x, y)| (x + self.grain.between(-0.5, 0.5), y + self.grain.between(-0.5, 0.5)));
        let middles: Vec<Point> = middles.collect();
        self.spots(2.0 * hollow, middles);
        format!(
            "Every dot of the tint is a dark ring round a bare middle {} as wide as the dot. Letter and rules are sharp, \
             and the solid is closed.",
            self.number(hollow / dot, 2)
        )
    }

    fn pinholes(&mut self) -> String {
        self.kiss();
        let wanted = self.many(55.0);
        let mut holes: Vec<Point> = Vec::new();
        let inside = self.sample.solid.within(4.0);
        for _ in 0..wanted * 8 {
            let at = inside.somewhere(self.grain);
            if holes.len() < usize::try_from(wanted).unwrap_or(0)
                && holes.iter().all(|other| (other.0 - at.0).hypot(other.1 - at.1) > 5.5)
            {
                holes.push(at);
            }
        }
        let many = holes.len();
        let (small, large) = holes.split_at(many / 2);
        self.spots(2.0, small.iter().copied());
        self.spots(3.2, large.iter().copied());
        format!("The solid is full of small round bare spots, {many} of them, scattered all over. {ELSE_WHOLE}.")
    }

    fn ghost(&mut self) -> String {
        self.kiss();
        let (solid, letter) = (self.sample.solid, self.sample.letter_box);
        let room = (solid.high() - letter.high()) / 2.0 - 2.0;
        let down = solid.top - letter.top + room + 2.0 + self.grain.between(-room, room);
        let shape = self.sample.letter_at(down);
        self.outlines(Ink::Pale, shape.clone());
        if self.strength > 2.2 {
            let inside = shape.iter().map(|outline| offset(outline, -7.5 + 2.3 * self.strength));
            self.outlines(Ink::Weak, inside.collect::<Vec<_>>());
        }
        format!(
            "In the solid stands a second letter {}, pale, straight behind the printed one and {} tooth spaces back. \
             {ELSE_WHOLE}.",
            self.sample.letter.name,
            self.number(down / self.sample.tooth, 1)
        )
    }

    fn moire(&mut self) -> String {
        self.full(Ink::Solid, 0.0);
        let far = CELL * self.grain.between(3.5, 4.2);
        let turned = self.grain.between(12.0, 33.0).to_radians();
        let (along, across) = ((libm::cos(turned), libm::sin(turned)), (-libm::sin(turned), libm::cos(turned)));
        let begin = (self.grain.between(0.0, far), self.grain.between(0.0, far));
        let (dot, swing) = (self.sample.dot, 0.14 + 0.08 * self.strength);
        let wave = |way: Point, (x, y): Point| {
            libm::cos(((x - begin.0) * way.0 + (y - begin.1) * way.1) / far * std::f64::consts::TAU)
        };
        self.tint(Ink::Solid, |at| {
            let size = dot * (1.0 + swing * (wave(along, at) + wave(across, at)));
            (size, size)
        });
        format!(
            "In the tint dots grow and shrink in a coarse even pattern, askew to the web. From one dark patch to the next \
             it is {} dots; letter and rules are sharp, and the solid is closed.",
            self.number(far / CELL, 1)
        )
    }
}

/// A place to a tenth.
fn on_grid(at: Point) -> Point {
    ((at.0 * GRID).round() / GRID, (at.1 * GRID).round() / GRID)
}

/// A count of things on a figure.
fn count(many: usize) -> u32 {
    u32::try_from(many).unwrap_or(u32::MAX)
}

/// A joint between two dots, thinner in the middle.
fn neck(from: Point, to: Point, thick: f64) -> Vec<Point> {
    let (x, y) = (to.0 - from.0, to.1 - from.1);
    let long = x.hypot(y).max(1e-9);
    let side = (-y / long * thick, x / long * thick);
    let middle = (f64::midpoint(from.0, to.0), f64::midpoint(from.1, to.1));
    let off = |at: Point, part: f64| (at.0 + side.0 * part, at.1 + side.1 * part);
    vec![off(from, 1.0), off(middle, 0.5), off(to, 1.0), off(to, -1.0), off(middle, -0.5), off(from, -1.0)]
}

/// What of an outline lies between two heights; where it has several parts there, they hang together along a cut.
fn slice(outline: &[Point], (top, bottom): (f64, f64)) -> Vec<Point> {
    let mut shape = outline.to_vec();
    for (limit, way) in [(top, 1.0), (bottom, -1.0)] {
        let inside = |p: Point| (p.1 - limit) * way;
        let mut kept = Vec::new();
        let ahead = shape.iter().cycle().skip(1);
        for (&from, &to) in shape.iter().zip(ahead) {
            let (a, b) = (inside(from), inside(to));
            if a >= 0.0 {
                kept.push(from);
            }
            if (a >= 0.0) != (b >= 0.0) {
                let part = a / (a - b);
                kept.push((from.0 + part * (to.0 - from.0), from.1 + part * (to.1 - from.1)));
            }
        }
        shape = kept;
    }
    shape
}
