//! Records: one `SQLite` file of facts, and what follows from them.
//!
//! May import `ground` … `proof`. A fact is a claim by someone; facts are only
//! ever added, each chained to the one before by its hash. Names and free
//! texts lie beside the chain under salted digests, so that they can be erased
//! while the chain still walks. Where someone stands in a competency is never
//! stored: it is derived, with its reason, from the facts and the edition.
//!
//! ```
//! use gearside::programme::{Origin, load_without_banks};
//! use gearside::records::{Code, Desk, Draft, Grant, MachineSalts, Matter, Outcome, Role, Store};
//! let folder = tempfile::tempdir().unwrap();
//! let mut store = Store::open_or_start(&folder.path().join("records.db")).unwrap();
//! let programme = load_without_banks(&Origin::Shipped).unwrap().programme.unwrap();
//! let own = Code::parse("c-1").unwrap();
//! let today = jiff::civil::date(2026, 9, 1);
//! let first = Draft {
//!     person: Some(own.clone()),
//!     seen_by: own.clone(),
//!     seen_on: today,
//!     entered_by: own,
//!     paper: None,
//!     note: None,
//!     name: Some("Invented Name".to_owned()),
//!     from_is_open: false,
//!     matter: Matter::Grant(Grant { role: Role::Coordinator, from: today, until: None, stages: None, class: None, name: None }),
//!     place: Default::default(),
//! };
//! let now = "2026-09-01T08:00:00Z".parse().unwrap();
//! let mut desk = Desk { programme: &programme, now, salts: &mut MachineSalts, dry_run: false };
//! // The edition of the curriculum is the first fact, the coordinator the second.
//! assert_eq!(desk.record(&mut store, vec![first]).unwrap(), [Outcome::Recorded(2)]);
//! let history = store.read().history(&programme.about.time_zone).unwrap();
//! assert_eq!((history.head.seq, history.breaks.len()), (2, 0));
//! ```

mod audit;
mod chain;
mod checks;
mod clock;
mod code;
mod desk;
mod digest;
mod draft;
mod evidence;
mod fact;
mod history;
mod lock;
mod overview;
mod reading;
mod rules;
mod schema;
mod state;
mod store;
mod sureness;
mod texts;
mod trouble;
mod words;
mod writer;

pub use audit::{Audit, ClaimedHead, HeadCheck, SignoffFinding, TextFinding};
pub use chain::{Break, Head, Link, Walk, hash_of};
pub use clock::{Moment, minutes_by_day, moment, shift};
pub use code::Code;
pub use desk::{Change, Desk, Outcome, Refusal};
pub use digest::{Digest, hex};
pub use draft::Draft;
pub use evidence::*;
pub use fact::*;
pub use history::*;
pub use overview::{Overview, Standings};
pub use reading::Reading;
pub use rules::{CriterionRule, Lineage, Rule, Rules};
pub use state::*;
pub use store::{FILE_NAME, Store};
pub use sureness::{in_words, sureness, weight};
pub use texts::{MachineSalts, Salts, digest_of};
pub use trouble::Trouble;
pub use words::{Wording, day_in_words, hours_in_words, times_in_words};
pub use writer::Writer;
