//! `gearside mark`: takes what came back of a quiz, and marks it.

mod coming;
mod giving_back;

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use jiff::civil::Date;
use serde_json::json;

use self::giving_back::GivenBack;
use super::arguments::MarkArguments;
use super::keeping::{Keeping, date, refusal, trouble};
use super::out::{Ended, Out};
use super::quiz::{history, kept, snapshot};
use super::record::who_enters;
use crate::ground::files::named;
use crate::ground::{Fault, Weight, in_brief};
use crate::marking::PartMark;
use crate::quiz::{KeptDocket, MarkedBy, Marking, OnRecord, Snapshot, SortedOut, Taken, on_record, sort_out};
use crate::records::{
    Code, Desk, Draft, History, MachineSalts, Matter, Outcome, QuizClosed, Refusal, Rules, Store, Word,
};

pub(super) fn run(arguments: &MarkArguments, programme: Option<&Path>, out: &mut Out) -> Ended {
    mark(arguments, programme, out).unwrap_or_else(|ended| ended)
}

fn mark(arguments: &MarkArguments, programme: Option<&Path>, out: &mut Out) -> Result<Ended, Ended> {
    let keeping = Keeping::load(programme, false, out)?;
    let on = match arguments.on.as_deref().map(date).transpose() {
        Ok(day) => day.unwrap_or(keeping.today),
        Err(message) => return Err(out.usage(&message, "give the day the quiz was sat with --on")),
    };
    if Path::new(&arguments.quiz).exists() {
        let message = format!("`{}` is a file or a folder, and the quiz comes first", in_brief(&arguments.quiz, 60));
        return Err(out.usage(&message, "name the quiz and then what came back: `gearside mark week-12 returns/`"));
    }
    let mut store = keeping.open(out)?;
    let past = history(&keeping, &store, out)?;
    let quiz = snapshot(&store, &past, &arguments.quiz, out)?;
    if on < quiz.head.day {
        return Err(
            out.usage(&format!("`{}` was issued on {}, after {on}", arguments.quiz, quiz.head.day), "look at --on")
        );
    }
    let on_record = returns_on_record(&store, &past, &quiz, out)?;
    let (came, mut faults) = coming::read_all(arguments, &quiz, out)?;
    let count: BTreeSet<String> = arguments.count.iter().map(|file| named(file)).collect();
    let mut sorted = sort_out(&quiz, &past, came, &on_record, &count, on);
    faults.append(&mut sorted.faults);
    if is_closed(&past, &arguments.quiz) && !sorted.taken.is_empty() {
        faults.extend(sorted.taken.drain(..).map(|taken| closed(&arguments.quiz, taken)));
    }
    faults.iter().for_each(|fault| out.fault(fault));
    let refused = faults.iter().filter(|fault| fault.weight == Weight::Fault).count();
    let closing = Closing::of(arguments, &past, refused);
    let sitting = Sitting { arguments, keeping: &keeping, quiz: &quiz, past: &past, on, closing };
    let recorded = sitting.record(&mut store, &sorted, out)?;
    let given = if arguments.dry_run {
        None
    } else {
        Some(giving_back::give_back(&keeping, &store, &quiz, &arguments.output, out)?)
    };
    let is_sound = given.as_ref().is_none_or(|given| given.is_sound);
    let came = Came { sorted, on_record: &on_record, refused, recorded, given };
    sitting.say(&store, &came, out)?;
    Ok(if refused > 0 || !is_sound { Ended::Content } else { Ended::Done })
}

fn is_closed(history: &History, quiz: &str) -> bool {
    history.closed.iter().any(|closed| &*closed.is.quiz == quiz)
}

/// Whether the quiz is to be closed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Closing {
    /// Nobody said so.
    NotAsked,
    /// It is closed in this run.
    Now,
    /// It was closed before.
    Already,
    /// Something was refused, and could never be taken if the quiz were closed.
    PutOff,
}

impl Closing {
    fn of(arguments: &MarkArguments, history: &History, refused: usize) -> Self {
        if !arguments.close {
            Self::NotAsked
        } else if is_closed(history, &arguments.quiz) {
            Self::Already
        } else if refused > 0 {
            Self::PutOff
        } else {
            Self::Now
        }
    }
}

fn closed(quiz: &str, taken: Taken) -> Fault {
    let mend = "a mark of it can still be overridden, with a reason: `gearside record correct FACT mark=…`";
    Fault::new("quiz-closed", format!("the quiz `{quiz}` is closed: no return counts any more"), mend)
        .at(crate::ground::Place { file: Some(taken.from), ..Default::default() })
}

/// The returns that count so far.
fn returns_on_record(
    store: &Store,
    history: &History,
    quiz: &Snapshot,
    out: &mut Out,
) -> Result<BTreeMap<usize, OnRecord>, Ended> {
    on_record(quiz, history, |digest| store.read().text(digest)).map_err(|wrong| trouble(&wrong, out))
}

/// One marking of one quiz.
struct Sitting<'a> {
    arguments: &'a MarkArguments,
    keeping: &'a Keeping,
    quiz: &'a Snapshot,
    past: &'a History,
    on: Date,
    closing: Closing,
}

impl Sitting<'_> {
    /// Puts the returns, their marks and the closing on record: all, or nothing.
    /// Gives how many facts are new.
    fn record(&self, store: &mut Store, sorted: &SortedOut, out: &mut Out) -> Result<usize, Ended> {
        if sorted.taken.is_empty() && self.closing != Closing::Now {
            return Ok(0);
        }
        let entered_by = who_enters(self.keeping, store, self.arguments.entered_by.as_deref(), None, out)?;
        let marked = self.marks(store, &sorted.taken, out)?;
        let rules = Rules::of(&self.keeping.programme);
        let by = MarkedBy { entered_by: &entered_by, on: self.on, rules: &rules, history: self.past };
        let mut salts = MachineSalts;
        let mut desk = Desk {
            programme: &self.keeping.programme,
            now: self.keeping.now,
            salts: &mut salts,
            dry_run: self.arguments.dry_run,
        };
        let marking = Marking::open(self.quiz).map_err(|fault| content(&fault, out))?;
        let outcomes = desk.record_with(store, |writer, salts| -> Result<Vec<Draft>, Refusal> {
            let mut drafts = Vec::new();
            for (taken, marks) in sorted.taken.iter().zip(&marked) {
                let text = writer.keep_text(&taken.returned.to_text(), salts)?;
                drafts.extend(marking.drafts(taken, text, marks, by));
            }
            if self.closing == Closing::Now {
                drafts.push(self.closing(&entered_by));
            }
            Ok(drafts)
        });
        let outcomes = outcomes.map_err(|wrong| refusal(&wrong, out))?;
        Ok(outcomes.iter().filter(|outcome| matches!(outcome, Outcome::Recorded(_))).count())
    }

    fn marks(&self, store: &Store, taken: &[Taken], out: &mut Out) -> Result<Vec<Vec<Vec<PartMark>>>, Ended> {
        let marking = Marking::open(self.quiz).map_err(|fault| content(&fault, out))?;
        let mut marked = Vec::with_capacity(taken.len());
        for one in taken {
            let packed = kept(store, self.quiz, one.place).map_err(|wrong| trouble(&wrong, out))?;
            let marks = KeptDocket::unpack(&packed).and_then(|kept| marking.mark(&kept, &one.returned.answers));
            marked.push(marks.map_err(|fault| content(&fault, out))?);
        }
        Ok(marked)
    }

    fn closing(&self, entered_by: &Code) -> Draft {
        let quiz = Word::from(self.arguments.quiz.as_str());
        Draft {
            person: None,
            seen_by: entered_by.clone(),
            seen_on: self.keeping.today,
            entered_by: entered_by.clone(),
            paper: None,
            note: None,
            name: None,
            from_is_open: false,
            matter: Matter::QuizClosed(QuizClosed { quiz }),
            place: crate::ground::Place::default(),
        }
    }

    /// Says what came of it.
    fn say(&self, store: &Store, came: &Came<'_>, out: &mut Out) -> Result<(), Ended> {
        let head = store.read().head().map_err(|wrong| trouble(&wrong, out))?;
        let not_back = came.not_back(self.quiz);
        let folder = came.given.as_ref().and_then(|given| given.folder.as_deref());
        if out.json {
            let people: Vec<&str> = came.sorted.taken.iter().map(|taken| taken.person.as_str()).collect();
            out.value(&json!({
                "quiz": self.arguments.quiz, "taken": people, "already": came.sorted.already.len(),
                "refused": came.refused, "not_back": not_back, "facts": came.recorded,
                "dry_run": self.arguments.dry_run, "folder": folder.map(|folder| folder.display().to_string()),
                "learned": came.given.as_ref().map(|given| &given.learned),
                "head": head.shown(), "faults": out.faults_json(),
            }));
            return Ok(());
        }
        if let Some(folder) = folder {
            out.line(&folder.display().to_string());
        }
        self.say_what_came(came, &not_back, out);
        if self.arguments.dry_run {
            out.note("Nothing was recorded: this was only a look.");
        } else if came.recorded > 0 {
            out.note(&format!("{} facts recorded; head {}", came.recorded, head.shown()));
        }
        if folder.is_some() {
            out.note(
                "The folder is yours alone: index.html has the statistics, each marked docket is for one apprentice.",
            );
        }
        Ok(())
    }

    fn say_what_came(&self, came: &Came<'_>, not_back: &[&Code], out: &mut Out) {
        let word = if self.arguments.dry_run { "could be taken" } else { "taken" };
        for taken in &came.sorted.taken {
            out.note(&format!("{word}: {} ({})", taken.person, taken.from));
        }
        let closed = match self.closing {
            Closing::Now if self.arguments.dry_run => "; the quiz could be closed",
            Closing::Now | Closing::Already => "; the quiz is closed",
            Closing::PutOff | Closing::NotAsked => "",
        };
        let quiz = &self.arguments.quiz;
        if self.arguments.files.is_empty() {
            out.note(&format!(
                "{quiz}: {} of {} dockets are back{closed}",
                came.on_record.len(),
                self.quiz.dockets.len()
            ));
        } else {
            let (taken, already) = (came.sorted.taken.len(), came.sorted.already.len());
            out.note(&format!("{quiz}: {taken} taken, {already} on record already, {} refused{closed}", came.refused));
        }
        if self.closing == Closing::PutOff {
            out.note(&format!(
                "The quiz stays open, for what was refused could not be taken any more: \
                 mend that, or close it as it is with `gearside mark {quiz} --close`"
            ));
        }
        if !not_back.is_empty() {
            out.note(&format!("Not back yet: {}", shortened(not_back)));
        }
    }
}

/// What came, and what was done with it.
struct Came<'a> {
    sorted: SortedOut,
    /// The returns that counted before.
    on_record: &'a BTreeMap<usize, OnRecord>,
    refused: usize,
    /// How many facts are new.
    recorded: usize,
    given: Option<GivenBack>,
}

impl Came<'_> {
    /// Whose docket is not back. A blank one that nobody took is not missed.
    fn not_back<'q>(&self, quiz: &'q Snapshot) -> Vec<&'q Code> {
        let taken = self.sorted.taken.iter().map(|taken| taken.place);
        let back: BTreeSet<usize> = self.on_record.keys().copied().chain(taken).collect();
        let missing = quiz.dockets.iter().enumerate().filter(|(place, _)| !back.contains(place));
        missing.filter_map(|(_, seat)| seat.person.as_ref()).collect()
    }
}

/// A list that stays readable.
fn shortened(list: &[&Code]) -> String {
    const MOST: usize = 20;
    let first = list.iter().take(MOST).map(|code| code.as_str()).collect::<Vec<_>>().join(", ");
    if list.len() > MOST { format!("{first} and {} more", list.len() - MOST) } else { first }
}

fn content(fault: &Fault, out: &mut Out) -> Ended {
    out.fault(fault);
    Ended::Content
}
