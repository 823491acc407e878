//! An answer against a key: leeway, wrong turns, order credit.
//!
//! May import `ground` … `picture`. The same rules run in the browser; both
//! sides are held to `tests/vectors/`. What the browser gets is a [`PartKey`]:
//! closed intervals in the asked unit, and nothing to work out.
//!
//! ```
//! use gearside::marking::{Interval, PartKey, Verdict, numeric};
//! use gearside::measure::{DecimalMark, read, unit};
//! let part = PartKey { right: Interval { lo: 0.79, hi: 0.83 }, turns: vec![], general: vec![] };
//! let asked = unit("µm").unwrap();
//! assert_eq!(numeric(&read("0,81", asked, DecimalMark::Point), &part), Verdict::Right);
//! assert_eq!(numeric(&read("0.032 mil", asked, DecimalMark::Point), &part), Verdict::Right);
//! ```

mod choose;
mod numeric;
mod order;
mod part;
mod words;

pub use choose::{choose_one, choose_some};
pub use numeric::{Verdict, numeric};
pub use order::{OrderMark, Pair, mark_order, one_valid_order, pairs, valid_orders};
pub use part::{General, GeneralInterval, Interval, PartKey, TurnInterval, half_width, part_key};
pub use words::words_json;
