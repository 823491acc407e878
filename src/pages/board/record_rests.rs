//! What a standing rests on, by the numbers of the facts.

use super::record::Sheet;
use super::words::seqs_in_words;
use crate::ground::say;
use crate::records::{History, Person, Seq, Sort, State, Word, hours_in_words};

/// The facts that a sign-off rests on, or that are there so far.
#[derive(Debug, Default)]
pub(super) struct Rests {
    marks: Vec<Seq>,
    observed: Vec<Seq>,
    hours: Vec<Seq>,
    minutes: u64,
    /// How many of them have been corrected since the sign-off.
    pub(super) gone: usize,
}

impl Rests {
    /// Of a signed competency what the sign-off names, of any other what counts now.
    pub(super) fn of(person: &Person, names: &[Word], state: &State) -> Self {
        let signed = state
            .signed
            .as_ref()
            .and_then(|signed| person.work_in(names).flat_map(|work| &work.signoffs).find(|one| one.seq == signed.seq));
        let mut seqs = signed.map_or_else(|| state.evidence.seqs(), |signed| signed.is.rests_on.clone());
        seqs.sort_unstable();
        let is_in = |seq: Seq| seqs.binary_search(&seq).is_ok();
        let mut rests = Self::default();
        for work in person.work_in(names) {
            for mark in work.marks.iter().filter(|one| is_in(one.seq)) {
                rests.marks.push(mark.seq);
                rests.gone += usize::from(!mark.counts(History::NOW));
            }
            for seen in work.observations.iter().filter(|one| is_in(one.seq)) {
                rests.observed.push(seen.seq);
                rests.gone += usize::from(!seen.counts(History::NOW));
            }
            for spent in work.hours.iter().filter(|one| is_in(one.seq)) {
                rests.hours.push(spent.seq);
                rests.minutes += u64::from(spent.is.minutes);
                rests.gone += usize::from(!spent.counts(History::NOW));
            }
        }
        for list in [&mut rests.marks, &mut rests.observed, &mut rests.hours] {
            list.sort_unstable();
        }
        rests
    }

    /// Marks, observations and hours, each by its facts: `812–931 (10)`,
    /// `640, 702`, `18.5 h: 812–990 (9)`. Their length has a bound.
    pub(super) fn cells(&self) -> [String; 3] {
        let hours = if self.hours.is_empty() {
            String::new()
        } else {
            format!("{} h: {}", hours_in_words(self.minutes), seqs_in_words(&self.hours))
        };
        [seqs_in_words(&self.marks), seqs_in_words(&self.observed), hours]
    }
}

/// All hours by sort, against the plan, as boxes.
pub(super) fn hours(sheet: &Sheet<'_>) -> String {
    let overview = sheet.board.overview;
    let minutes = |sort: Sort| -> u64 {
        let all = sheet.person().work.values().flat_map(|work| &work.hours);
        let counting = all.filter(|one| one.counts_on(overview.on, History::NOW) && one.is.sort == sort);
        counting.map(|one| u64::from(one.is.minutes)).sum()
    };
    let planned: f64 = overview.programme.competencies().filter_map(|one| one.hours).sum();
    let boxes = Sort::ALL.map(|sort| {
        let (words, plan) = match sort {
            Sort::OnTheJob => {
                (say!("label.on-the-job"), format!(" <span>{}</span>", say!("board.hours-planned", hours = planned)))
            }
            Sort::Instruction => (say!("board.instruction"), String::new()),
            Sort::Prior => (say!("board.prior"), String::new()),
        };
        format!("<div><dt>{words}</dt><dd>{} h{plan}</dd></div>", hours_in_words(minutes(sort)))
    });
    boxes.concat()
}
