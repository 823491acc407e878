//! The pages: `minijinja`, and the values it fills in.
//!
//! May import `ground` … `records`. Every page is one self-contained file:
//! style, script and fonts inline, a policy with their hashes, no network.
//! Templates get finished strings only.
//!
//! ```
//! use gearside::pages::{Order, site};
//! use gearside::programme::{Origin, load};
//! let programme = load(&Origin::Shipped).unwrap().programme.unwrap();
//! let site = site(&programme, &Order { seed: "7".to_owned(), stage: None, template_folder: None }).unwrap();
//! assert!(site.workbook.iter().any(|(name, _)| name == "index.html"));
//! ```

mod board;
mod data;
mod docket;
mod exercise;
mod frame;
mod gallery;
mod keys;
mod marked;
mod mathematics;
mod quiz_key;
mod sheet;
mod shipped;
mod statistics;
mod stencil;
mod templates;
mod tongue;
mod workbook;

use std::path::PathBuf;

use crate::ground::Fault;
use crate::programme::Programme;
use crate::pull::Printer;

pub use board::{BoardOrder, board};
pub use docket::DocketPages;
pub use marked::{CompetencyPage, MarkOrder, MarkedPages, mark_pages};
pub use quiz_key::{KeyPages, MARKING_TABLE};
pub use statistics::statistics_page;
pub use templates::defaults as default_templates;

/// What is wanted of a site.
#[derive(Debug, Clone)]
pub struct Order {
    /// The seed of all pulls.
    pub seed: String,
    /// Only the stage of that id.
    pub stage: Option<String>,
    /// A folder whose files stand in for templates of the same name.
    pub template_folder: Option<PathBuf>,
}

/// A built site: the files of two folders.
#[derive(Debug)]
pub struct Site {
    /// The workbook pages.
    pub workbook: Vec<(String, Vec<u8>)>,
    /// The instructor's answer keys.
    pub keys: Vec<(String, Vec<u8>)>,
}

/// Builds the gallery of figures: `index.html`, and a page for each figure.
///
/// # Errors
/// Faults of templates.
///
/// ```
/// use gearside::pages::{Order, gallery};
/// use gearside::programme::{Origin, load};
/// let programme = load(&Origin::Shipped).unwrap().programme.unwrap();
/// let files = gallery(&programme, &Order { seed: "1".to_owned(), stage: None, template_folder: None }).unwrap();
/// assert!(files.iter().any(|(name, _)| name == "tone-curve.html"));
/// ```
pub fn gallery(programme: &Programme, order: &Order) -> Result<Vec<(String, Vec<u8>)>, Vec<Fault>> {
    let templates = templates::Templates::load(order.template_folder.as_deref())?;
    let builder = workbook::Builder { programme, order, templates: &templates, printer: Printer::of(programme) };
    gallery::files(&builder).map_err(|fault| vec![*fault])
}

/// Builds all pages.
///
/// # Errors
/// Faults of templates (a name that is none of ours, a value that is not
/// there) and of pulls.
pub fn site(programme: &Programme, order: &Order) -> Result<Site, Vec<Fault>> {
    let templates = templates::Templates::load(order.template_folder.as_deref())?;
    let builder = workbook::Builder { programme, order, templates: &templates, printer: Printer::of(programme) };
    builder.build().map_err(|fault| vec![*fault])
}
