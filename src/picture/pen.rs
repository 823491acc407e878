//! The pen: one line style for all figures, as SVG text.
//!
//! Everything is drawn with classes that the style sheet knows, in
//! `currentColor` on paper, so that figures are legible in one ink, in the
//! dark scheme and in print. There are no inline styles (the pages' policy
//! forbids them) and no colours.

use std::fmt::Write as _;

/// How a line or an area looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// An outline, 1.6 wide.
    Line,
    /// A fine line, 0.8 wide: scales, dimension lines, hatching.
    Fine,
    /// The finest line, 0.4 wide: grids behind what is read.
    Grid,
    /// A broken fine line: axes, pitch lines, aims.
    Broken,
    /// A heavy line, 3 wide.
    Heavy,
    /// An area full of ink, without an outline.
    Solid,
    /// An area of bare paper with an outline: covers what lies behind it.
    Paper,
    /// An area of a light tone with an outline.
    Tone,
    /// An area of bare paper without an outline.
    Blank,
    /// An area of ink that is a little too thin, without an outline.
    Pale,
    /// An area of half the ink, without an outline.
    Weak,
}

impl Ink {
    fn class(self) -> &'static str {
        match self {
            Self::Line => "p-line",
            Self::Fine => "p-fine",
            Self::Grid => "p-grid",
            Self::Broken => "p-broken",
            Self::Heavy => "p-heavy",
            Self::Solid => "p-solid",
            Self::Paper => "p-paper",
            Self::Tone => "p-tone",
            Self::Blank => "p-blank",
            Self::Pale => "p-pale",
            Self::Weak => "p-weak",
        }
    }
}

/// Where a text stands, seen from its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// It begins there.
    Start,
    /// It has its middle there.
    Middle,
    /// It ends there.
    End,
}

/// A drawing in the making. Lengths are in drawing units: a figure is 320 to
/// 640 of them wide, and one is about a CSS pixel at full width.
#[derive(Debug)]
pub struct Pen {
    width: f64,
    height: f64,
    body: String,
}

/// A length as written: two decimals at most, no trailing noughts.
#[must_use]
pub fn n(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

impl Pen {
    /// A blank sheet.
    #[must_use]
    pub fn new(width: f64, height: f64) -> Self {
        Self { width, height, body: String::new() }
    }

    /// A straight line.
    pub fn line(&mut self, ink: Ink, from: (f64, f64), to: (f64, f64)) {
        self.put(&format!(
            "<path class=\"{}\" d=\"M{} {}L{} {}\"/>",
            ink.class(),
            n(from.0),
            n(from.1),
            n(to.0),
            n(to.1)
        ));
    }

    /// A path, as SVG path data.
    pub fn path(&mut self, ink: Ink, data: &str) {
        self.put(&format!("<path class=\"{}\" d=\"{data}\"/>", ink.class()));
    }

    /// A path with a name that tests find it by: a plain word, and never a value.
    pub fn named(&mut self, name: &'static str, ink: Ink, data: &str) {
        self.put(&format!("<path class=\"{} {name}\" d=\"{data}\"/>", ink.class()));
    }

    /// A circle.
    pub fn circle(&mut self, ink: Ink, centre: (f64, f64), radius: f64) {
        self.put(&format!(
            "<circle class=\"{}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
            ink.class(),
            n(centre.0),
            n(centre.1),
            n(radius)
        ));
    }

    /// A rectangle from its upper left corner.
    pub fn rect(&mut self, ink: Ink, corner: (f64, f64), width: f64, height: f64) {
        self.put(&format!(
            "<rect class=\"{}\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
            ink.class(),
            n(corner.0),
            n(corner.1),
            n(width),
            n(height)
        ));
    }

    /// Many round dots in one path: round ends of lines without a length, of one diameter.
    pub fn dots(&mut self, diameter: f64, points: impl IntoIterator<Item = (f64, f64)>) {
        self.round("p-dots", diameter, points);
    }

    /// The same in bare paper: round holes in what lies behind.
    pub fn spots(&mut self, diameter: f64, points: impl IntoIterator<Item = (f64, f64)>) {
        self.round("p-spots", diameter, points);
    }

    /// A label, 13 units high.
    pub fn label(&mut self, at: (f64, f64), anchor: Anchor, text: &str) {
        self.text("p-label", at, anchor, text);
    }

    /// A small label, 11 units high: the numbers of a scale.
    pub fn small(&mut self, at: (f64, f64), anchor: Anchor, text: &str) {
        self.text("p-small", at, anchor, text);
    }

    /// Opens a group that is moved, turned or scaled; `transform` is SVG's own.
    pub fn open(&mut self, transform: &str) {
        self.put(&format!("<g transform=\"{transform}\">"));
    }

    /// Closes the last opened group.
    pub fn shut(&mut self) {
        self.put("</g>");
    }

    /// The finished SVG element. The words belong to the page: it labels the figure with [`super::Drawing::words`].
    #[must_use]
    pub fn finish(self) -> String {
        format!(
            "<svg class=\"figure\" aria-hidden=\"true\" focusable=\"false\" viewBox=\"0 0 {} {}\">{}</svg>",
            n(self.width),
            n(self.height),
            self.body
        )
    }

    fn text(&mut self, class: &str, at: (f64, f64), anchor: Anchor, text: &str) {
        let anchor = match anchor {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        };
        self.put(&format!(
            "<text class=\"{class}\" x=\"{}\" y=\"{}\"{anchor}>{}</text>",
            n(at.0),
            n(at.1),
            escape(text)
        ));
    }

    fn round(&mut self, class: &str, diameter: f64, points: impl IntoIterator<Item = (f64, f64)>) {
        let mut data = String::new();
        for (x, y) in points {
            let _ = write!(data, "M{} {}h0", n(x), n(y));
        }
        self.put(&format!("<path class=\"{class}\" stroke-width=\"{}\" d=\"{data}\"/>", n(diameter)));
    }

    fn put(&mut self, element: &str) {
        self.body.push_str(element);
    }
}
