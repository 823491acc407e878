//! The weekly quiz: what is due, under the constraints of the plan.
//!
//! May import `ground` … `records`. [`compose`] proposes what a quiz asks, each
//! exercise with its reason, and says what gave way: first mixing, then levels,
//! shares, and gaps. The order of wishes carries what is wanted (about half of
//! the minutes for the last fortnight, a third for weeks three to six, a sixth
//! for what is older or failed; each competency before any comes twice); the
//! search takes the first set along it that the constraints allow.
//!
//! ```
//! use gearside::programme::{Origin, load};
//! use gearside::quiz::{Request, compose};
//! let programme = load(&Origin::Shipped).unwrap().programme.unwrap();
//! let request = Request {
//!     programme: &programme,
//!     history: None,
//!     asked: &Default::default(),
//!     week: 12,
//!     day: "2026-11-23".parse().unwrap(),
//!     minutes: 45,
//!     with: &["five-readings-of-a-plate".to_owned()],
//!     without: &[],
//!     only: None,
//!     seed: "1",
//! };
//! let quiz = compose(&request).unwrap();
//! assert!((41..=45).contains(&quiz.minutes) && quiz.gave_way.is_empty());
//! assert!(quiz.picks.iter().any(|pick| pick.asked_for));
//! ```

mod arrange;
mod candidate;
mod chance;
mod compose;
mod composition;
mod drawn;
mod gave_way;
mod issue;
mod learned;
mod limits;
mod marks;
mod past;
mod pool;
#[cfg(test)]
mod rehearsed;
mod results;
mod returns;
mod search;
mod shown;
mod snapshot;
mod taking;
mod taught;
mod wanted;
mod wishes;

pub use compose::{Request, compose};
pub use composition::{Composition, Constraint, GaveWay, Group, Pick, StageShare};
pub use drawn::Drawn;
pub use issue::{Issued, Issuing, Place, issue};
pub use learned::{
    Counts, ExerciseLearned, FamilyLearned, Learned, OverQuizzes, PartLearned, PartlyJudged, PassMark, PersonLearned,
};
pub use marks::{MarkedBy, Marking, verdict_of};
pub use past::{Asked, asked_in};
#[cfg(test)]
pub(crate) use rehearsed::rehearsed;
pub use results::{Corrected, DocketResult, ExerciseResult, Gathering, HoldNow, PartResult, Recorded, Results};
pub use returns::Return;
pub use shown::{Docket, Head, ShownAsk, ShownCaution, ShownExercise, ShownPart, ShownQuestion};
pub use snapshot::{KeptDocket, KeptExercise, KeptPull, Seat, Snapshot};
pub use taking::{Came, OnRecord, SortedOut, Taken, on_record, sort_out};
