//! Giving a quiz back: marked dockets for the apprentices, statistics for the
//! instructor, built from what is on record.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use super::super::filling::{Unfilled, not_written};
use super::super::keeping::{Keeping, names_by_code, trouble};
use super::super::loading::speak_as;
use super::super::out::{Ended, Out};
use super::super::quiz::{asked, history, kept};
use super::{content, returns_on_record};
use crate::exchange::export::marks_csv;
use crate::ground::Id;
use crate::ground::files::{Access, NewFolder, StartFault, write_folder_with};
use crate::pages::{CompetencyPage, MarkOrder, mark_pages};
use crate::quiz::{Gathering, KeptDocket, Learned, OverQuizzes, Results, Snapshot};
use crate::records::{Code, Digest, History, Store};

/// What is given back of a quiz.
pub(super) struct GivenBack {
    /// The folder; `None` if no docket came back yet.
    pub(super) folder: Option<PathBuf>,
    /// What was learnt.
    pub(super) learned: Learned,
    /// Whether every mark on record comes out again.
    pub(super) is_sound: bool,
}

/// Builds the marked dockets and the statistics of a quiz as it stands on
/// record now. Where a mark on record does not come out again, that is said.
pub(super) fn give_back(
    keeping: &Keeping,
    store: &Store,
    quiz: &Snapshot,
    output: &Path,
    out: &mut Out,
) -> Result<GivenBack, Ended> {
    let past = history(keeping, store, out)?;
    let on_record = returns_on_record(store, &past, quiz, out)?;
    let gathering = Gathering { snapshot: quiz, history: &past, on_record: &on_record };
    let note = |digest: &Digest| store.read().text(digest).ok().flatten();
    let results = gathering.gather(|place| unpacked(store, quiz, place).map(Some), note);
    let results = results.map_err(|wrong| wrong.say(out))?;
    results.faults.iter().for_each(|fault| out.fault(fault));
    speak_as(&quiz.head.language, keeping.template_folder().as_deref(), out)?;
    let others = other_quizzes(store, &past, &quiz.head.quiz, out)?;
    let learned = Learned::of(&results, &past, others).map_err(|fault| content(&fault, out))?;
    let folder = if results.dockets.is_empty() {
        None
    } else {
        let names = names_by_code(&past, store).map_err(|wrong| trouble(&wrong, out))?;
        Some(Build { keeping, store, results: &results, learned: &learned, names: &names, output }.folder(out)?)
    };
    Ok(GivenBack { folder, learned, is_sound: results.faults.is_empty() })
}

fn unpacked(store: &Store, quiz: &Snapshot, place: usize) -> Result<KeptDocket, Unfilled> {
    Ok(KeptDocket::unpack(&kept(store, quiz, place)?)?)
}

/// The marks of all other quizzes, family by family.
fn other_quizzes(store: &Store, past: &History, quiz: &str, out: &mut Out) -> Result<OverQuizzes, Ended> {
    let asked = asked(store, past, out)?;
    let families: BTreeMap<(&str, &str), &str> = asked
        .iter()
        .flat_map(|(quiz, list)| list.iter().map(|one| ((&**quiz, one.exercise.as_str()), one.family.as_str())))
        .collect();
    let mut others = OverQuizzes::default();
    others.add_marks_on_record(past, &BTreeSet::from([quiz]), |quiz, exercise| {
        families.get(&(quiz, exercise)).map(|family| (*family).to_owned())
    });
    Ok(others)
}

/// What the pages are built from.
struct Build<'a> {
    keeping: &'a Keeping,
    store: &'a Store,
    results: &'a Results<'a>,
    learned: &'a Learned,
    names: &'a BTreeMap<Code, String>,
    output: &'a Path,
}

impl Build<'_> {
    fn folder(&self, out: &mut Out) -> Result<PathBuf, Ended> {
        let folder = self.output.join(&self.results.snapshot.head.quiz);
        let built = write_folder_with(&folder, Access::OwnerOnly, |new| self.fill(new));
        built.map_err(|wrong| not_written(wrong, out))?;
        Ok(folder)
    }

    fn fill(&self, new: &NewFolder) -> Result<(), StartFault<Unfilled>> {
        // Both folders lie in one, `out` unless it was said otherwise.
        let workbook = self.output.parent().unwrap_or(Path::new("")).join("workbook");
        let name = |code: &Code| self.names.get(code).cloned().unwrap_or_else(|| code.to_string());
        let competency = |id: &str| {
            let known = self.keeping.programme.competency(&Id::parse(id).ok()?)?;
            let page = format!("{id}.html");
            let href = workbook.join(&page).is_file().then(|| format!("../../workbook/{page}"));
            Some(CompetencyPage { title: known.title.clone(), href })
        };
        let order = MarkOrder { name: &name, competency: &competency, template_folder: self.keeping.template_folder() };
        let kept = |place| unpacked(self.store, self.results.snapshot, place).map_err(StartFault::Fill);
        mark_pages(self.results, self.learned, &order, kept, |name, page| Ok(new.write(&name, &page)?))?;
        new.write("marks.csv", &marks_csv(self.results))?;
        Ok(())
    }
}
