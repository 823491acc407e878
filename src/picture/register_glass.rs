//! A register target as it is seen through a glass with a scale: the graduated cross of the key colour, and the crosses
//! of the others where they fell.

use std::fmt::Write as _;

use super::scales::{Ruler, arrow, make_room, straight};
use super::{Anchor, Ink, Pen, Style, n};

/// The scale for a word: `in` for thousandths of an inch, else mm.
pub(super) fn ruler(unit: &str) -> Ruler {
    if unit == "in" {
        Ruler { small: 0.0508, longer: 5, numbered: 10, counts: 2.0, unit: "thousandths of an inch" }
    } else {
        Ruler { small: 0.1, longer: 5, numbered: 5, counts: 0.1, unit: "mm" }
    }
}

/// A square field under the glass. Across runs to the right, toward the operator side; around runs up, with the web.
#[derive(Debug, Clone, Copy)]
pub(super) struct Glass {
    /// The left edge of the field.
    pub left: f64,
    /// The upper edge of the field.
    pub top: f64,
    /// Units of drawing for a mm.
    pub per_mm: f64,
    /// From the middle to an edge, in mm.
    pub reach: f64,
    /// Whether the scale stands on the right and the labels on the left, instead of the other way round.
    pub mirrored: bool,
    /// Where the numbers of the scale around have their middle, beside the field; none if they stand there already.
    pub numbers: Option<f64>,
}

/// The cross of a colour: its label, how far it lies toward the operator side and how far ahead, in mm.
pub(super) type Cross<'a> = (&'a str, f64, f64);

impl Glass {
    /// The width and height of the field.
    pub(super) fn side(&self) -> f64 {
        2.0 * self.reach * self.per_mm
    }

    /// Where a place under the glass lies on the sheet.
    pub(super) fn at(&self, across: f64, around: f64) -> (f64, f64) {
        (self.left + (self.reach + across) * self.per_mm, self.top + (self.reach - around) * self.per_mm)
    }

    /// Draws the field, the key's cross, the other crosses and the scale.
    pub(super) fn draw(&self, pen: &mut Pen, ruler: &Ruler, crosses: &[Cross<'_>], style: Style) {
        pen.rect(Ink::Paper, (self.left, self.top), self.side(), self.side());
        self.scale(pen, ruler, style);
        let (left, right, top, bottom) = (self.left, self.left + self.side(), self.top, self.top + self.side());
        let (x, y) = self.at(0.0, 0.0);
        pen.named("key-across", Ink::Line, &straight((x, top), (x, bottom)));
        pen.named("key-around", Ink::Line, &straight((left, y), (right, y)));
        for &(_, across, around) in crosses {
            let (x, y) = self.at(across, around);
            pen.named("cross-across", Ink::Fine, &straight((x, top), (x, bottom)));
            pen.named("cross-around", Ink::Fine, &straight((left, y), (right, y)));
            pen.line(Ink::Line, (x - 13.0, y), (x + 13.0, y));
            pen.line(Ink::Line, (x, y - 13.0), (x, y + 13.0));
            pen.circle(Ink::Line, (x, y), 6.5);
        }
        self.labels(pen, crosses);
    }

    /// Marks on the arms of the key's cross and on two edges of the field; the numbers stand at the edges.
    fn scale(&self, pen: &mut Pen, ruler: &Ruler, style: Style) {
        let (edge, out) = if self.mirrored { (self.left + self.side(), 1.0) } else { (self.left, -1.0) };
        let bottom = self.top + self.side();
        let (x, y) = self.at(0.0, 0.0);
        let (mut edges, mut arms) = (String::new(), String::new());
        let last = ruler.fit(self.reach);
        for mark in -last..=last {
            let off = f64::from(mark) * ruler.small;
            let (along, up) = self.at(off, off);
            let long = ruler.length(mark);
            let _ = write!(edges, "M{} {}v{}M{} {}h{}", n(along), n(bottom), n(long), n(edge), n(up), n(out * long));
            let half = long / 2.0;
            let _ = write!(arms, "M{} {}v{}M{} {}h{}", n(along), n(y - half), n(long), n(x - half), n(up), n(long));
            if let Some(number) = ruler.number(mark, style) {
                pen.small((along, bottom + 20.0), Anchor::Middle, &number);
                if let Some(x) = self.numbers {
                    pen.small((x, up + 4.0), Anchor::Middle, &number);
                }
            }
        }
        pen.named("scale", Ink::Fine, &edges);
        pen.named("arms", Ink::Fine, &arms);
    }

    /// The labels stand at the ends of the lines, above and on the side away from the scale.
    fn labels(&self, pen: &mut Pen, crosses: &[Cross<'_>]) {
        let all: Vec<Cross<'_>> = std::iter::once(("key", 0.0, 0.0)).chain(crosses.iter().copied()).collect();
        let places: Vec<(f64, f64)> = all.iter().map(|&(_, across, around)| self.at(across, around)).collect();
        let (xs, ys): (Vec<f64>, Vec<f64>) = places.into_iter().unzip();
        let rooms: Vec<f64> = all.iter().map(|(label, ..)| if label.len() > 1 { 23.0 } else { 11.0 }).collect();
        let heights: Vec<f64> = all.iter().map(|_| 12.0).collect();
        let (edge, out, anchor) =
            if self.mirrored { (self.left, -1.0, Anchor::End) } else { (self.left + self.side(), 1.0, Anchor::Start) };
        let mut data = String::new();
        let stand_x = make_room(&xs, &rooms, self.left, self.left + self.side());
        let stand_y = make_room(&ys, &heights, self.top, self.top + self.side());
        for ((&(label, ..), &x), stand) in all.iter().zip(&xs).zip(stand_x) {
            data.push_str(&straight((x, self.top), (stand, self.top - 13.0)));
            pen.small((stand, self.top - 15.0), Anchor::Middle, label);
        }
        for ((&(label, ..), &y), stand) in all.iter().zip(&ys).zip(stand_y) {
            data.push_str(&straight((edge, y), (edge + out * 13.0, stand)));
            pen.small((edge + out * 16.0, stand + 4.0), anchor, label);
        }
        pen.named("leaders", Ink::Fine, &data);
    }
}

/// An arrow up with its words beside it, turned to be read from the right: the way the web runs.
pub(super) fn web_runs(pen: &mut Pen, x: f64, low: f64, high: f64) {
    arrow(pen, (x, low), (x, high));
    let middle = f64::midpoint(low, high);
    pen.open(&format!("rotate(-90 {} {})", n(x - 6.0), n(middle)));
    pen.label((x - 6.0, middle), Anchor::Middle, "web runs this way");
    pen.shut();
}

/// How far a cross lies to a side, in small spaces.
pub(super) fn sideways(ruler: &Ruler, across: f64, style: Style) -> String {
    let spaces = ruler.spaces(across);
    match spaces {
        0.0 => "true across".to_owned(),
        _ if spaces < 0.0 => format!("{} toward the gear side", style.short(-spaces)),
        _ => format!("{} toward the operator side", style.short(spaces)),
    }
}

/// How far a cross lies ahead or behind, in small spaces.
pub(super) fn lengthwise(ruler: &Ruler, around: f64, style: Style) -> String {
    let spaces = ruler.spaces(around);
    match spaces {
        0.0 => "true around".to_owned(),
        _ if spaces < 0.0 => format!("{} behind", style.short(-spaces)),
        _ => format!("{} ahead", style.short(spaces)),
    }
}
