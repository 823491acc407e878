//! What was taught, and when last: the plan, and what the records say instead.

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::ground::Id;
use crate::programme::Weeks;
use crate::programme::{Plan, Programme};
use crate::records::{History, Word};

/// What competencies of today were called in earlier editions.
#[derive(Debug)]
pub(super) struct Names(BTreeMap<Word, Vec<Id>>);

impl Names {
    pub(super) fn of(programme: &Programme, history: Option<&History>) -> Self {
        let mut names: BTreeMap<Word, Vec<Id>> = BTreeMap::new();
        for competency in programme.competencies() {
            let own = Word::from(competency.id.as_str());
            let was = competency.was.iter().map(|id| Word::from(id.as_str()));
            let mut known: Vec<Word> = std::iter::once(own).chain(was).collect();
            if let Some(history) = history {
                known = known.iter().flat_map(|name| history.lineage.names(name)).collect();
            }
            for name in known {
                let heirs = names.entry(name).or_default();
                if !heirs.contains(&competency.id) {
                    heirs.push(competency.id.clone());
                }
            }
        }
        Self(names)
    }

    /// The competencies of today that answer to a name.
    pub(super) fn today(&self, name: &str) -> &[Id] {
        self.0.get(name).map_or(&[], Vec::as_slice)
    }
}

/// The last week, up to `week`, in which each competency was taught. A fact on
/// record overrides the plan's week; facts for several classes count together,
/// of one class the latest.
pub(super) fn last_taught(
    plan: &Plan,
    weeks: &Weeks,
    names: &Names,
    history: Option<&History>,
    (week, day): (u32, Date),
) -> BTreeMap<Id, i32> {
    let mut said: BTreeMap<i32, BTreeMap<Option<&str>, &[Word]>> = BTreeMap::new();
    for fact in history.iter().flat_map(|history| &history.taught) {
        if fact.counts_on(day, History::NOW)
            && let Some(named) = weeks.named(fact.is.week, fact.claim.seen_on)
        {
            said.entry(named).or_default().insert(fact.is.class.as_deref(), &fact.is.competencies);
        }
    }
    let mut last = BTreeMap::new();
    for number in 1..=week {
        let Ok(at) = i32::try_from(number) else { break };
        let mut note = |id: &Id| last.insert(id.clone(), at);
        if let Some(facts) = said.get(&at) {
            facts.values().copied().flatten().flat_map(|name| names.today(name)).for_each(|id| {
                note(id);
            });
        } else {
            plan.weeks.get(&number).into_iter().flatten().for_each(|id| {
                note(id);
            });
        }
    }
    last
}
