//! An answer against a key: leeway, wrong turns, follow-through, order credit;
//! and what the marks of a class say of its exercises.
//!
//! May import `ground` … `picture`. The same rules run in the browser; both
//! sides are held to `tests/vectors/`. What the browser gets is a [`PartKey`]:
//! closed intervals in the asked unit, and nothing to work out. A quiz is marked
//! from [`Rules`] and [`OwnKey`] that were kept when it was issued, never from a bank.
//!
//! ```
//! use gearside::marking::{Interval, PartKey, Verdict, numeric};
//! use gearside::measure::{DecimalMark, read, unit};
//! let part = PartKey { right: Interval { lo: 0.79, hi: 0.83 }, turns: vec![], general: vec![] };
//! let asked = unit("µm").unwrap();
//! assert_eq!(numeric(&read("0,81", asked, DecimalMark::Point), &part), Verdict::Right);
//! assert_eq!(numeric(&read("0.032 mil", asked, DecimalMark::Point), &part), Verdict::Right);
//! ```

mod carried;
mod choose;
mod keeping;
mod marked;
mod nearest;
mod numeric;
mod order;
mod own_key;
mod part;
mod picked;
mod rounds;
mod rules;
pub mod statistics;
mod words;
mod wrong_way;

pub use carried::{Chain, OwnAnswer};
pub use choose::{choose_one, choose_some};
pub use marked::{BrokenPair, Marker, OrderSaid, OwnLine, PartMark, mark_exercise, words_of};
pub use nearest::nearest_valid_order;
pub use numeric::{Verdict, numeric};
pub use order::{OrderMark, Pair, mark_order, one_valid_order, pairs, valid_orders};
pub use own_key::{OwnKey, OwnPart};
pub use part::{General, GeneralInterval, Interval, PartKey, TurnInterval, half_width, part_key};
pub use rounds::{OwnRounds, RoundSaid, RoundsMark, RoundsRules, RoundsSaid, mark_rounds};
pub use rules::{
    Asks, ChooseRules, LeewayRule, NameRule, NumericRules, OptionRule, OrderRules, Rules, Said, Sort, StepRule,
    TurnRule,
};
pub use wrong_way::{Commonest, WrongWay, commonest};
