//! An eye for the tests: it lays a drawing out in small squares, from the SVG alone, and measures what it sees there.

use roxmltree::Node;

use super::shapes::Area;
use crate::picture::gauge::{Point, subpaths};

/// How many small squares lie side by side in a unit of drawing.
const FINE: f64 = 3.0;

/// A drawing as ink on small squares: 0 is bare, 1 is full.
#[derive(Debug)]
pub(super) struct Eye {
    wide: usize,
    high: usize,
    ink: Vec<f64>,
}

/// Squares that hang together.
#[derive(Debug, Clone, Copy)]
pub(super) struct Part {
    /// How large it is, in units of drawing squared.
    pub size: f64,
    /// The box around it.
    pub area: Area,
}

impl Part {
    pub(super) fn middle(&self) -> Point {
        (f64::midpoint(self.area.left, self.area.right), f64::midpoint(self.area.top, self.area.bottom))
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "places on a sheet; `as` saturates")]
fn square(units: f64) -> usize {
    (units * FINE).max(0.0) as usize
}

fn units(square: usize) -> f64 {
    f64::from(u32::try_from(square).expect("a sheet is small")) / FINE
}

fn attribute(node: Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name).expect("it is there").parse().expect("a number")
}

impl Eye {
    /// Looks at a drawing: at all that is drawn as paths.
    pub(super) fn of(svg: &str) -> Self {
        let document = roxmltree::Document::parse(svg).expect("it is well formed");
        let view = document.root_element().attribute("viewBox").expect("it is there");
        let size: Vec<f64> = view.split(' ').map(|v| v.parse().expect("a number")).collect();
        let (wide, high) = (square(size[2]), square(size[3]));
        let mut eye = Self { wide, high, ink: vec![0.0; wide * high] };
        for path in document.descendants().filter(|node| node.has_tag_name("path")) {
            let strokes = subpaths(path.attribute("d").expect("it is there"));
            let class = path.attribute("class").expect("it is there").split(' ').next().expect("it is there");
            match class {
                "p-solid" => eye.fill(&strokes, 1.0),
                "p-pale" => eye.fill(&strokes, 0.72),
                "p-weak" => eye.fill(&strokes, 0.48),
                "p-blank" => eye.fill(&strokes, 0.0),
                "p-dots" => eye.stroke(&strokes, attribute(path, "stroke-width"), 1.0),
                "p-spots" => eye.stroke(&strokes, attribute(path, "stroke-width"), 0.0),
                "p-line" => eye.stroke(&strokes, 1.6, 1.0),
                "p-fine" => eye.stroke(&strokes, 0.8, 1.0),
                other => panic!("{other} is not drawn with"),
            }
        }
        eye
    }

    /// Fills outlines as SVG does: wherever they wind around.
    fn fill(&mut self, outlines: &[Vec<Point>], ink: f64) {
        for row in 0..self.high {
            let y = units(row) + 0.5 / FINE;
            let mut crossings = Vec::new();
            for outline in outlines {
                let ends = outline.iter().zip(outline.iter().cycle().skip(1));
                for (from, to) in ends.filter(|(from, to)| (from.1 <= y) != (to.1 <= y)) {
                    let x = from.0 + (to.0 - from.0) * (y - from.1) / (to.1 - from.1);
                    crossings.push((x, if to.1 > from.1 { 1_i32 } else { -1 }));
                }
            }
            crossings.sort_by(|one, other| one.0.total_cmp(&other.0));
            let mut winding = 0;
            for pair in crossings.windows(2) {
                winding += pair[0].1;
                if winding != 0 {
                    let (from, to) = (square(pair[0].0 + 0.5 / FINE), square(pair[1].0 + 0.5 / FINE));
                    self.ink[row * self.wide..][from.min(self.wide)..to.min(self.wide)].fill(ink);
                }
            }
        }
    }

    /// Draws lines with round ends.
    fn stroke(&mut self, strokes: &[Vec<Point>], width: f64, ink: f64) {
        let half = width / 2.0;
        for ends in strokes.iter().flat_map(|stroke| stroke.windows(2)) {
            let (from, to) = (ends[0], ends[1]);
            let (x, y) = (to.0 - from.0, to.1 - from.1);
            let long = (x * x + y * y).max(1e-12);
            for row in square(from.1.min(to.1) - half)..=square(from.1.max(to.1) + half).min(self.high - 1) {
                for column in square(from.0.min(to.0) - half)..=square(from.0.max(to.0) + half).min(self.wide - 1) {
                    let at = (units(column) + 0.5 / FINE, units(row) + 0.5 / FINE);
                    let part = (((at.0 - from.0) * x + (at.1 - from.1) * y) / long).clamp(0.0, 1.0);
                    if (at.0 - from.0 - part * x).hypot(at.1 - from.1 - part * y) <= half {
                        self.ink[row * self.wide + column] = ink;
                    }
                }
            }
        }
    }

    /// The ink at a place.
    pub(super) fn at(&self, (x, y): Point) -> f64 {
        self.ink[square(y).min(self.high - 1) * self.wide + square(x).min(self.wide - 1)]
    }

    fn squares(area: Area) -> impl Iterator<Item = (usize, usize)> {
        (square(area.top)..square(area.bottom))
            .flat_map(move |row| (square(area.left)..square(area.right)).map(move |column| (column, row)))
    }

    /// The ink of every square of a box.
    pub(super) fn inks(&self, area: Area) -> impl Iterator<Item = f64> + '_ {
        Self::squares(area).map(|(column, row)| self.ink[row * self.wide + column])
    }

    /// How much ink lies on a box, 0 to 1.
    pub(super) fn cover(&self, area: Area) -> f64 {
        let (sum, many) = self.inks(area).fold((0.0, 0.0), |(sum, many), ink| (sum + ink, many + 1.0));
        sum / many
    }

    /// The parts of a box that are inked (or bare), each with what hangs together with it side by side.
    pub(super) fn parts(&self, area: Area, inked: bool) -> Vec<Part> {
        let is = |column: usize, row: usize| (self.ink[row * self.wide + column] > 0.2) == inked;
        let mut seen = vec![false; self.ink.len()];
        let mut parts = Vec::new();
        let inside = |column: usize, row: usize| {
            (square(area.left)..square(area.right)).contains(&column)
                && (square(area.top)..square(area.bottom)).contains(&row)
        };
        for start in Self::squares(area) {
            let (mut open, mut members) = (vec![start], Vec::new());
            while let Some((column, row)) = open.pop() {
                if inside(column, row) && is(column, row) && !seen[row * self.wide + column] {
                    seen[row * self.wide + column] = true;
                    members.push((column, row));
                    open.extend([(column + 1, row), (column - 1, row), (column, row + 1), (column, row - 1)]);
                }
            }
            if !members.is_empty() {
                parts.push(part(&members));
            }
        }
        parts
    }

    /// The bare parts of a box that do not reach its edge.
    pub(super) fn holes(&self, area: Area) -> Vec<Part> {
        let near = 1.5 / FINE;
        let apart = |part: &Part| {
            part.area.left > area.left + near
                && part.area.right < area.right - near
                && part.area.top > area.top + near
                && part.area.bottom < area.bottom - near
        };
        self.parts(area, false).into_iter().filter(apart).collect()
    }
}

fn part(members: &[(usize, usize)]) -> Part {
    let many = u32::try_from(members.len()).expect("a sheet is small");
    let least = |of: fn(&(usize, usize)) -> usize| members.iter().map(of).min().expect("it is there");
    let most = |of: fn(&(usize, usize)) -> usize| members.iter().map(of).max().expect("it is there");
    let area = Area {
        left: units(least(|m| m.0)),
        top: units(least(|m| m.1)),
        right: units(most(|m| m.0) + 1),
        bottom: units(most(|m| m.1) + 1),
    };
    Part { size: f64::from(many) / FINE / FINE, area }
}

#[test]
fn the_eye_sees_areas_hollows_and_strokes() {
    let svg = "<svg viewBox=\"0 0 100 100\"><path class=\"p-solid\" d=\"M10 10h40v40h-40zM20 20v20h20v-20z\"/>\
               <path class=\"p-dots\" stroke-width=\"20\" d=\"M75 75h0\"/><path class=\"p-spots\" stroke-width=\"10\" d=\"M75 75h0\"/></svg>";
    let eye = Eye::of(svg);
    let parts = eye.parts(Area { left: 0.0, top: 0.0, right: 100.0, bottom: 100.0 }, true);
    assert_eq!(parts.len(), 2);
    assert!((parts[0].size - 1200.0).abs() < 1.0, "{parts:?}");
    assert!((parts[1].size - 75.0 * std::f64::consts::PI).abs() < 4.0, "{parts:?}");
    let hole = eye.holes(Area { left: 60.0, top: 60.0, right: 90.0, bottom: 90.0 });
    assert!(hole.len() == 1 && (hole[0].area.wide() - 10.0).abs() < 0.7, "{hole:?}");
}
