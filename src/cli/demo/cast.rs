//! The people of the story. All of them are invented.

use crate::ground::Fault;
use crate::records::{Code, Word};

/// An apprentice, and how the story goes for them.
#[derive(Debug)]
pub(super) struct Apprentice {
    pub(super) code: Code,
    pub(super) name: &'static str,
    /// Whether a year lies behind them already.
    pub(super) second_year: bool,
    /// The first week of the plan in which they are there.
    pub(super) joins: u32,
    /// The first week away, and the first back.
    pub(super) away: Option<(u32, Option<u32>)>,
    /// How many of a hundred exercises are right.
    pub(super) strength: usize,
    /// What they find harder or easier than all else, and how many of a hundred exercises of that are right.
    pub(super) apart: (&'static [&'static str], usize),
    /// How many observations a week.
    pub(super) observed: usize,
    /// How many of a hundred second shifts of a day they spend on a line.
    pub(super) hours: usize,
}

/// Someone who observes and signs.
#[derive(Debug)]
pub(super) struct Assessor {
    pub(super) code: Code,
    pub(super) name: &'static str,
    /// The stages they may sign; all if none are named.
    pub(super) stages: Option<&'static [&'static str]>,
}

impl Assessor {
    pub(super) fn may_sign(&self, stage: &str) -> bool {
        self.stages.is_none_or(|stages| stages.contains(&stage))
    }

    pub(super) fn stage_words(&self) -> Option<Vec<Word>> {
        self.stages.map(|stages| stages.iter().map(|stage| Word::from(*stage)).collect())
    }
}

/// Everyone.
#[derive(Debug)]
pub(super) struct Cast {
    pub(super) coordinator: (Code, &'static str),
    pub(super) instructors: [(Code, &'static str); 2],
    pub(super) assessors: [Assessor; 3],
    pub(super) apprentices: Vec<Apprentice>,
}

/// The class of this year's intake.
pub(super) const FIRST_YEAR: &str = "first year";
/// The class of last year's.
pub(super) const SECOND_YEAR: &str = "second year";

/// The one who is ahead.
pub(super) const AHEAD: &str = "a-01";
/// The one who is held.
pub(super) const HELD: &str = "a-02";
/// The one who was held, and released when it had been talked through.
pub(super) const RELEASED: &str = "a-03";
/// The one who came late, with hours from before.
pub(super) const LATE: &str = "a-04";
/// The one who was away.
pub(super) const WAS_AWAY: &str = "a-05";
/// The slow one.
pub(super) const SLOW: &str = "a-06";
/// The one who is away.
pub(super) const IS_AWAY: &str = "a-07";
/// The second-year apprentice whose sign-off was withdrawn.
pub(super) const WITHDRAWN: &str = "b-01";
/// The second-year apprentice who let something lapse.
pub(super) const LAPSED: &str = "b-02";

impl Cast {
    pub(super) fn gather() -> Result<Self, Fault> {
        let code = |text: &str| Code::parse(text).map_err(|wrong| Fault::new("code", wrong, ""));
        let assessor = |text, name, stages| Ok::<_, Fault>(Assessor { code: code(text)?, name, stages });
        let usual = |text: &str, name: &'static str| {
            Ok::<_, Fault>(Apprentice {
                code: code(text)?,
                name,
                second_year: text.starts_with('b'),
                joins: 1,
                away: None,
                strength: 98,
                apart: (&[], 0),
                observed: 4,
                hours: 60,
            })
        };
        let apprentices = vec![
            Apprentice { strength: 100, observed: 6, hours: 90, ..usual(AHEAD, "Aino Marrak")? },
            Apprentice { apart: (&["read-a-viscosity-cup"], 60), ..usual(HELD, "Tomasz Wrebel")? },
            Apprentice { apart: (&["adjust-ink-strength"], 65), ..usual(RELEASED, "Noor Hadiri")? },
            Apprentice { joins: 5, hours: 75, ..usual(LATE, "Leif Ostervik")? },
            Apprentice { away: Some((4, Some(6))), observed: 5, ..usual(WAS_AWAY, "Chiamaka Obiel")? },
            Apprentice {
                strength: 74,
                apart: (&["predict-ink-film", "know-the-web-path"], 45),
                observed: 2,
                hours: 25,
                ..usual(SLOW, "Minh Trangel")?
            },
            Apprentice { away: Some((10, None)), ..usual(IS_AWAY, "Sunniva Keskal")? },
            Apprentice { strength: 98, observed: 5, hours: 80, ..usual(WITHDRAWN, "Mateo Quirral")? },
            Apprentice {
                strength: 95,
                apart: (&["act-in-an-emergency"], 100),
                hours: 70,
                ..usual(LAPSED, "Ingrid Sollamo")?
            },
        ];
        Ok(Self {
            coordinator: (code("c-01")?, "Ruth Calloren"),
            instructors: [(code("i-01")?, "Elias Vantorp"), (code("i-02")?, "Yuki Hanamorel")],
            assessors: [
                assessor("s-01", "Halvard Benningstad", None)?,
                assessor("s-02", "Priya Ramadell", None)?,
                assessor("s-03", "Olu Adebarrow", Some(&["ink", "anilox", "plates", "measuring"]))?,
            ],
            apprentices,
        })
    }

    /// The apprentices who are there in a week of a year.
    pub(super) fn there(&self, is_now: bool, week: u32) -> impl Iterator<Item = &Apprentice> {
        self.apprentices.iter().filter(move |one| {
            if !is_now {
                return one.second_year;
            }
            let away = one.away.is_some_and(|(from, back)| week >= from && back.is_none_or(|back| week < back));
            week >= one.joins && !away
        })
    }

    /// The assessors for a stage.
    pub(super) fn assessors_of(&self, stage: &str) -> Vec<&Assessor> {
        self.assessors.iter().filter(|one| one.may_sign(stage)).collect()
    }

    /// An apprentice by code.
    pub(super) fn apprentice(&self, code: &str) -> Option<&Apprentice> {
        self.apprentices.iter().find(|one| one.code.as_str() == code)
    }
}

impl Apprentice {
    /// How many of a hundred exercises of a competency are right.
    pub(super) fn strength_in(&self, competency: &str) -> usize {
        if self.apart.0.contains(&competency) { self.apart.1 } else { self.strength }
    }
}
