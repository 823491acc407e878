//! The figures an exercise shows, drawn from a pull.
//!
//! May import `ground` … `pull`. What a figure takes stands in
//! [`crate::trade::figures`], so that banks are checked when they are loaded;
//! here it is drawn, as SVG in one line style and in words.
//!
//! ```
//! use gearside::picture::{FIGURES, Style};
//! let curve = FIGURES.iter().find(|figure| figure.name == "tone-curve").unwrap();
//! let drawing = (curve.draw)(&(curve.example)(0), Style { mark: '.' });
//! assert!(drawing.svg.starts_with("<svg") && drawing.words.contains("100 prints 100"));
//! ```

mod bar_code_module;
mod blade_on_roll;
mod cells_and_dot;
mod chance;
mod control_chart;
mod cylinder_section;
mod density_strip;
mod dial_pair;
#[cfg(test)]
mod gauge;
mod gear_and_repeat;
mod ink_through_deck;
mod pen;
mod print_close_up;
#[cfg(test)]
mod proof;
mod register_both_edges;
mod register_glass;
mod register_target;
mod samples;
mod scales;
mod strokes;
mod style;
mod tone_curve;
mod tone_ramp;
mod unwinding_roll;
mod web_path;

use crate::measure::DecimalMark;
use crate::pull::{Pictured, Printer};

pub use crate::trade::figures::{Arguments, Kind, Takes};
pub use chance::Grain;
pub use pen::{Anchor, Ink, Pen, n};
pub use samples::{leads_words, sample_words, samples_html};
pub use style::Style;

/// A finished figure.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Drawing {
    /// The SVG element; at most 12 KB.
    pub svg: String,
    /// The same in words, for those who do not see it and for the terminal:
    /// the same information, and never the name of what is asked.
    pub words: String,
}

/// How a figure is drawn.
#[derive(Debug, Clone, Copy)]
pub struct Figure {
    /// Its name in [`crate::trade::figures::FIGURES`].
    pub name: &'static str,
    /// Draws it.
    pub draw: fn(&Arguments, Style) -> Drawing,
    /// The n-th varied example, for the gallery and the tests: six, or as many as its longest choice of words.
    pub example: fn(u32) -> Arguments,
}

/// All figures.
pub static FIGURES: &[Figure] = &[
    ink_through_deck::INK_THROUGH_DECK,
    gear_and_repeat::GEAR_AND_REPEAT,
    cylinder_section::CYLINDER_SECTION,
    cells_and_dot::CELLS_AND_DOT,
    blade_on_roll::BLADE_ON_ROLL,
    bar_code_module::BAR_CODE_MODULE,
    dial_pair::DIAL_PAIR,
    register_both_edges::REGISTER_BOTH_EDGES,
    register_target::REGISTER_TARGET,
    unwinding_roll::UNWINDING_ROLL,
    web_path::WEB_PATH,
    control_chart::CONTROL_CHART,
    density_strip::DENSITY_STRIP,
    tone_curve::TONE_CURVE,
    tone_ramp::TONE_RAMP,
    print_close_up::PRINT_CLOSE_UP,
];

impl Style {
    /// The style of a programme's pages.
    #[must_use]
    pub fn of(printer: Printer) -> Self {
        Self { mark: if printer.mark == DecimalMark::Comma { ',' } else { '.' } }
    }
}

/// Draws the figure of a pull.
#[must_use]
pub fn draw(pictured: &Pictured, printer: Printer) -> Drawing {
    let figure = FIGURES.iter().find(|figure| figure.name == pictured.figure.name);
    figure.map_or_else(Drawing::default, |figure| (figure.draw)(&pictured.arguments, Style::of(printer)))
}

impl Drawing {
    /// The figure as safe HTML: what is drawn for the eye, the words for the ear.
    #[must_use]
    pub fn html(&self) -> String {
        let words = crate::prose::escape(&self.words);
        format!("<figure class=\"drawn\">{}<p class=\"spoken\">{words}</p></figure>", self.svg)
    }
}
