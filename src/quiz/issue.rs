//! Issuing: a composition becomes dockets with numbers of their own, packed for
//! the records. Pages are made from what was kept, never from here.

use jiff::civil::Date;
use serde::Serialize;
use serde_json::value::{RawValue, to_raw_value};

use super::composition::Composition;
use super::drawn::Drawn;
use super::shown::{Common, Head, ShownAsk, ShownExercise};
use super::snapshot::{KeptExercise, Seat, Snapshot, WAY, pack};
use crate::ground::say;
use crate::ground::{Fault, Faults, side_by_side};
use crate::marking::{OwnKey, Rules};
use crate::programme::{Exercise, Programme};
use crate::pull::{Printer, Pull, matched};
use crate::records::{Code, Digest, Draft, Matter, QuizIssued, Refusal, Trouble, Writer, digest_of};

/// Whom a docket is for, and the minutes allowed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// Whose it is; `None` for a blank one.
    pub person: Option<Code>,
    /// The minutes allowed.
    pub minutes: u32,
}

/// What is issued.
#[derive(Debug)]
pub struct Issuing<'a> {
    /// The programme.
    pub programme: &'a Programme,
    /// What the quiz asks.
    pub composition: &'a Composition,
    /// Its name, such as `week-12`.
    pub quiz: &'a str,
    /// The day.
    pub day: Date,
    /// A docket for each, people first.
    pub places: &'a [Place],
    /// The seed of the composition.
    pub seed: &'a str,
    /// Whether it is a rehearsal.
    pub rehearsal: bool,
}

/// A quiz ready to be put on record.
#[derive(Debug)]
pub struct Issued {
    /// What is kept of it.
    pub snapshot: Snapshot,
    /// Its dockets, packed, in the order of [`Snapshot::dockets`].
    pub dockets: Vec<Vec<u8>>,
}

/// One exercise with its pulls.
struct Deck {
    kept: KeptExercise,
    /// One for each docket; if they are too few, they come again.
    pulls: Vec<WrittenPull>,
    gave_way: Option<String>,
}

impl Deck {
    fn pull(&self, place: usize) -> &WrittenPull {
        &self.pulls[place % self.pulls.len()]
    }
}

/// A docket as it is written: a [`super::KeptDocket`] whose pulls are text already.
#[derive(Serialize)]
struct Written<'a> {
    docket: &'a str,
    exercises: Vec<&'a WrittenPull>,
}

/// A [`super::KeptPull`] as text.
#[derive(Serialize)]
struct WrittenPull {
    ask: Box<RawValue>,
    own: Box<RawValue>,
}

/// Pulls a quiz: the same exercises for all, each with numbers of its own.
///
/// # Errors
/// [`Faults`] if the machine gives no chance, or an exercise cannot be pulled
/// so that all get equal work.
pub fn issue(issuing: &Issuing<'_>, drawn: &mut Drawn) -> Result<Issued, Faults> {
    let one = |fault: Fault| Faults(vec![fault]);
    let chance = drawn.bytes().map_err(one)?;
    let codes: Vec<String> =
        issuing.places.iter().map(|_| drawn.docket_code()).collect::<Result<_, Fault>>().map_err(one)?;
    let picks: Vec<&Exercise> =
        issuing.composition.picks.iter().filter_map(|pick| issuing.programme.exercise(&pick.exercise)).collect();
    let made = side_by_side(picks.len(), |index| deck(issuing, picks[index], index, &chance));
    let mut faults = Vec::new();
    let mut decks = Vec::new();
    for deck in made {
        deck.map_or_else(|fault| faults.push(fault), |deck| decks.push(deck));
    }
    if !faults.is_empty() {
        return Err(Faults(faults));
    }
    let about = &issuing.programme.about;
    let head = Head {
        quiz: issuing.quiz.to_owned(),
        week: issuing.composition.week,
        day: issuing.day,
        programme: about.title.clone(),
        language: about.language.clone(),
        decimal_comma: about.decimal_comma,
        paper: about.paper,
        rehearsal: issuing.rehearsal,
    };
    let common = Common::of(&head, decks.iter().map(|deck| &deck.kept.shown));
    let packed = side_by_side(codes.len(), |place| seat(&common, &codes[place], &issuing.places[place], &decks, place));
    let (seats, dockets) = packed.into_iter().unzip();
    let sources = issuing.programme.sources.iter();
    Ok(Issued {
        snapshot: Snapshot {
            way: WAY,
            head,
            edition: about.edition.clone(),
            seed: issuing.seed.to_owned(),
            composition: issuing.composition.clone(),
            gave_way: decks.iter().filter_map(|deck| deck.gave_way.clone()).collect(),
            exercises: decks.into_iter().map(|deck| deck.kept).collect(),
            dockets: seats,
            sources: sources.map(|(file, text)| (file.clone(), digest_of(&[], text.as_bytes()))).collect(),
        },
        dockets,
    })
}

/// Pulls one exercise for all dockets.
fn deck(issuing: &Issuing<'_>, exercise: &Exercise, index: usize, chance: &[u8; 32]) -> Result<Deck, Fault> {
    let printer = Printer::of(issuing.programme);
    let found = matched(exercise, chance, issuing.places.len(), printer)?;
    let number = u32::try_from(index + 1).unwrap_or(u32::MAX);
    let Some(first) = found.pulls.first() else {
        return Err(Fault::new("quiz", "there is nobody to issue a docket to", "name people, or say --blank N"));
    };
    let shown = ShownExercise::of(issuing.programme, exercise, &first.public, number);
    Ok(Deck {
        kept: KeptExercise {
            exercise: exercise.id.to_string(),
            family: exercise.family.to_string(),
            competency: exercise.competency.to_string(),
            shown,
            rules: Rules::of(exercise, printer)?,
        },
        pulls: found.pulls.iter().map(|pull| written(exercise, pull, printer)).collect::<Result<_, Fault>>()?,
        gave_way: gave_way(exercise, found.pulls.len(), issuing.places.len(), &found.gave_way),
    })
}

/// What is kept of a pull.
fn written(exercise: &Exercise, pull: &Pull, printer: Printer) -> Result<WrittenPull, Fault> {
    let own = OwnKey::of(exercise, pull)?;
    let ask = ShownAsk::of(&pull.public, printer);
    let text = to_raw_value(&ask).and_then(|ask| Ok(WrittenPull { ask, own: to_raw_value(&own)? }));
    text.map_err(|error| Fault::new("kept-quiz", format!("a pull cannot be kept: {error}"), "run `gearside prove`"))
}

/// What could not be had of an exercise, in words.
fn gave_way(exercise: &Exercise, distinct: usize, wanted: usize, rules: &[&str]) -> Option<String> {
    let mut words = Vec::new();
    if distinct < wanted {
        words.push(say!("plan.versions-for", n = distinct, wanted = wanted));
    }
    if !rules.is_empty() {
        words.push(say!("plan.given-up-for", rules = rules.join(", ")));
    }
    (!words.is_empty()).then(|| format!("{}: {}", exercise.title, words.join("; ")))
}

/// One docket, packed, and what the snapshot says of it.
fn seat(common: &Common, code: &str, place: &Place, decks: &[Deck], index: usize) -> (Seat, Vec<u8>) {
    let written = Written { docket: code, exercises: decks.iter().map(|deck| deck.pull(index)).collect() };
    let asks: Vec<&RawValue> = written.exercises.iter().map(|pull| &*pull.ask).collect();
    let person = place.person.as_ref().map(Code::as_str);
    let packed = pack(&serde_json::to_vec(&written).unwrap_or_default());
    let seat = Seat {
        docket: code.to_owned(),
        person: place.person.clone(),
        minutes: place.minutes,
        kept: digest_of(&[], &packed),
        shown: common.digest(code, person, place.minutes, &asks),
    };
    (seat, packed)
}

impl Issued {
    /// Keeps everything of it, and gives the fact that it was issued.
    ///
    /// # Errors
    /// [`Refusal`] if the records cannot be written.
    pub fn keep(
        &self,
        programme: &Programme,
        entered_by: &Code,
        writer: &mut Writer<'_>,
    ) -> Result<Vec<Draft>, Refusal> {
        let keep = |writer: &mut Writer<'_>, bytes: &[u8]| -> Result<Digest, Trouble> { writer.keep_for_good(bytes) };
        for text in programme.sources.values() {
            keep(writer, text.as_bytes())?;
        }
        for docket in &self.dockets {
            keep(writer, docket)?;
        }
        let snapshot = keep(writer, self.snapshot.to_text().as_bytes())?;
        let head = &self.snapshot.head;
        let matter = Matter::QuizIssued(QuizIssued {
            quiz: head.quiz.as_str().into(),
            week: Some(head.week),
            snapshot,
            dockets: u32::try_from(self.dockets.len()).unwrap_or(u32::MAX),
        });
        Ok(vec![Draft {
            person: None,
            seen_by: entered_by.clone(),
            seen_on: head.day,
            entered_by: entered_by.clone(),
            paper: None,
            note: None,
            name: None,
            from_is_open: false,
            matter,
            place: crate::ground::Place::default(),
        }])
    }
}
