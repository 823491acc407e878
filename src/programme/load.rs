//! Loading a whole programme: curriculum, then banks.

use std::collections::{BTreeMap, BTreeSet};

use serde_yaml::Value;

use super::choices::{InkSystem, Level, Use};
use super::curriculum::{About, Caution, Competency, Plan, Stage};
use super::defects::{self, Defect};
use super::exercise::{Exercise, Form, Reckoning};
use super::load_curriculum;
use super::raw::{self, RawExercise, RawKind};
use super::reader::FileReader;
use super::source::{Origin, SourceFile};
use super::spot::Spot;
use super::{find_line, forms, givens, picture, rounds, steps};
use crate::ground::files::MachineFault;
use crate::ground::{Fault, Faults, Id, nearest_name, side_by_side};
use crate::prose::Text;

/// A bank of exercises.
#[derive(Debug)]
pub struct Bank {
    /// Its file, as a user would name it.
    pub file: String,
    /// Its topic, in one word.
    pub topic: String,
    /// Its title.
    pub title: String,
    /// Its exercises, in order.
    pub exercises: Vec<Exercise>,
}

/// A whole programme.
#[derive(Debug)]
pub struct Programme {
    /// What `programme.yaml` says.
    pub about: About,
    /// Its stages, by number.
    pub stages: Vec<Stage>,
    /// Its cautions.
    pub cautions: Vec<Caution>,
    /// Its plan, if it has one.
    pub plan: Option<Plan>,
    /// Its banks, by file.
    pub banks: Vec<Bank>,
    /// The print defects that its diagnoses are of.
    pub defects: Vec<Defect>,
    /// The texts it was read from, by `curriculum/…` or `question-banks/…`.
    pub sources: BTreeMap<String, String>,
}

impl Programme {
    /// All exercises, bank by bank.
    pub fn exercises(&self) -> impl Iterator<Item = &Exercise> {
        self.banks.iter().flat_map(|bank| &bank.exercises)
    }

    /// The exercises of a competency, in bank order.
    pub fn exercises_of<'a>(&'a self, competency: &'a Id) -> impl Iterator<Item = &'a Exercise> {
        self.exercises().filter(move |exercise| exercise.competency == *competency)
    }

    /// The exercise of that id.
    #[must_use]
    pub fn exercise(&self, id: &str) -> Option<&Exercise> {
        self.exercises().find(|exercise| exercise.id.as_str() == id)
    }

    /// All competencies, stage by stage.
    pub fn competencies(&self) -> impl Iterator<Item = &Competency> {
        self.stages.iter().flat_map(|stage| &stage.competencies)
    }

    /// The competency of that id.
    #[must_use]
    pub fn competency(&self, id: &Id) -> Option<&Competency> {
        self.competencies().find(|competency| competency.id == *id)
    }

    /// The caution of that id.
    #[must_use]
    pub fn caution(&self, id: &Id) -> Option<&Caution> {
        self.cautions.iter().find(|caution| caution.id == *id)
    }
}

/// What loading gives: as much of the programme as could be read, and all faults, in file order.
#[derive(Debug)]
pub struct Loaded {
    /// The programme; `None` if not even `programme.yaml` could be read.
    pub programme: Option<Programme>,
    /// Everything found on the way.
    pub faults: Faults,
}

/// Loads a programme.
///
/// # Errors
/// [`MachineFault`] if a folder is missing or a file cannot be read. Whatever
/// is wrong with the content is in [`Loaded::faults`], all of it.
///
/// ```
/// use gearside::programme::{Origin, load};
/// let loaded = load(&Origin::Shipped).unwrap();
/// assert!(!loaded.faults.any());
/// assert!(loaded.programme.unwrap().stages.len() >= 4);
/// ```
pub fn load(origin: &Origin) -> Result<Loaded, MachineFault> {
    let mut faults = Faults::default();
    let sources = origin.read(&mut faults)?;
    let curriculum = load_curriculum::load(&sources.curriculum, &mut faults);
    let shared =
        Shared { defects: defects::load(sources.defects.as_ref(), &curriculum.words, &mut faults), curriculum };
    let banks = load_banks(&sources.banks, &shared, &mut faults);
    let Shared { curriculum, defects } = shared;
    faults.sort();
    let has_about = sources.curriculum.iter().any(|file| file.name == "programme.yaml");
    let programme = if let Some(about) = curriculum.about {
        Some(Programme {
            about,
            stages: curriculum.stages,
            cautions: curriculum.cautions,
            plan: curriculum.plan,
            banks,
            defects,
            sources: sources.into_texts(),
        })
    } else {
        if !has_about {
            faults.push(Fault::new(
                "missing-file",
                "the curriculum has no `programme.yaml`",
                "write one: it gives the title and the edition",
            ));
        }
        None
    };
    Ok(Loaded { programme, faults })
}

/// Loads the curriculum of a programme alone: all that recording a fact needs.
///
/// # Errors
/// As [`load`].
pub fn load_without_banks(origin: &Origin) -> Result<Loaded, MachineFault> {
    load(&Origin::Banks(Box::new(origin.clone()), Vec::new()))
}

/// The exercises of a bank by id, and the ids of those that could not be read.
struct Names {
    by_id: BTreeMap<String, usize>,
    unread: BTreeSet<String>,
}

/// What all banks share.
struct Shared {
    curriculum: load_curriculum::Curriculum,
    defects: Vec<Defect>,
}

/// An exercise as written, with where.
struct Written<'a> {
    reader: &'a FileReader,
    root: String,
    raw: RawExercise,
}

fn load_banks(files: &[SourceFile], shared: &Shared, faults: &mut Faults) -> Vec<Bank> {
    let read = side_by_side(files.len(), |index| {
        let (reader, value) = match FileReader::open(&files[index], &shared.curriculum.words) {
            Ok(opened) => opened,
            Err(found) => return (None, found),
        };
        let mut found = Vec::new();
        (bank(&reader, &value, shared, &mut found), found)
    });
    let mut taken: BTreeSet<String> = BTreeSet::new();
    let mut banks = Vec::new();
    for (bank, found) in read {
        found.into_iter().for_each(|fault| faults.push(fault));
        banks.extend(bank.map(|bank| without_doubles(bank, &mut taken, faults)));
    }
    banks
}

/// A bank without exercises whose ids are taken already.
fn without_doubles(mut bank: Bank, taken: &mut BTreeSet<String>, faults: &mut Faults) -> Bank {
    bank.exercises.retain(|exercise| {
        let is_new = taken.insert(exercise.id.to_string());
        if !is_new {
            let message = format!("two exercises are called `{}`", exercise.id);
            let mend = "give each an id of its own, over all banks";
            faults.push(Fault::new("duplicate-id", message, mend).at(exercise.place.clone()));
        }
        is_new
    });
    bank
}

fn bank(reader: &FileReader, value: &Value, shared: &Shared, faults: &mut Vec<Fault>) -> Option<Bank> {
    let raw = reader.take::<raw::Bank>(value.clone(), "", None, faults)?;
    let mut written: Vec<Written<'_>> = Vec::new();
    let mut unread = BTreeSet::new();
    for (index, value) in raw.exercises.iter().enumerate() {
        let root = format!("exercises[{index}]");
        let name = value.get("id").and_then(Value::as_str).unwrap_or_default().to_owned();
        if let Some(raw) = reader.take::<RawExercise>(value.clone(), &root, Some(&name), faults) {
            written.push(Written { reader, root, raw });
        } else {
            unread.insert(name);
        }
    }
    let mut by_id: BTreeMap<String, usize> = BTreeMap::new();
    for (index, one) in written.iter().enumerate() {
        by_id.entry(one.raw.id.clone().unwrap_or_default()).or_insert(index);
    }
    let names = Names { by_id, unread };
    let exercises = (0..written.len()).filter_map(|index| exercise(&written, &names, index, shared, faults)).collect();
    Some(Bank { file: reader.label.clone(), topic: raw.topic, title: raw.title, exercises })
}

fn exercise(
    written: &[Written<'_>],
    names: &Names,
    index: usize,
    Shared { curriculum, defects }: &Shared,
    faults: &mut Vec<Fault>,
) -> Option<Exercise> {
    let own = &written[index];
    let mut spot = Spot {
        id: own.raw.id.clone().unwrap_or_default(),
        origins: vec![(own.reader, own.root.clone())],
        ..Spot::default()
    };
    let (mut raw, family) = with_base(written, names, index, &mut spot, faults)?;
    let inks = curriculum.about.as_ref().map_or(InkSystem::ALL.as_slice(), |about| &about.ink_systems);
    if raw.only_for.as_ref().is_some_and(|only| !only.iter().any(|ink| inks.contains(ink))) {
        return None; // the programme prints with other inks
    }
    let before = faults.len();
    if let Some(world) = curriculum.about.as_ref().and_then(|about| about.units.only()) {
        raw = raw.in_world(world, &mut spot, faults);
    }
    let id = needed(raw.id.as_ref(), "id", &spot, faults).and_then(|text| parse_id(text, "id", &spot, faults));
    let family = family.and_then(|text| Id::parse(&text).ok()).or_else(|| id.clone());
    let competency = needed(raw.competency.as_ref(), "competency", &spot, faults)
        .and_then(|text| parse_id(text, "competency", &spot, faults));
    if let Some(competency) = &competency {
        check_competency(competency, curriculum, &spot, faults);
    }
    let title = needed(raw.title.as_ref(), "title", &spot, faults).cloned();
    let kind = raw.kind.unwrap_or(RawKind::Numeric);
    if let Some(ask) = raw.ask.as_mut().filter(|_| kind == RawKind::FindLine) {
        *ask = find_line::with_working(ask, raw.steps.as_deref().unwrap_or_default());
    }
    let ask = needed(raw.ask.as_ref(), "ask", &spot, faults)
        .and_then(|text| spot.text("ask", text).map_err(|fault| faults.push(fault)).ok());
    let minutes = raw.minutes.unwrap_or(3);
    if !(1..=60).contains(&minutes) {
        faults.push(spot.fault(
            "minutes",
            "minutes",
            format!("{minutes} minutes"),
            "an exercise takes between 1 and 60 minutes",
        ));
    }
    let cautions = cautions(&raw, curriculum, &spot, faults);
    check_fields(&raw, kind, &spot, faults);
    let mut reckoning = Reckoning::default();
    givens::read(&raw, &spot, &mut reckoning, faults);
    let picture = raw.picture.as_ref().and_then(|raw| picture::read(raw, "picture", &spot, &reckoning, faults));
    if kind == RawKind::FindLine {
        find_line::read(&raw, &spot, &mut reckoning, faults);
    }
    steps::read(&raw, &spot, &mut reckoning, faults);
    let form = match kind {
        RawKind::Numeric | RawKind::FindLine => {
            steps::numeric(&raw, &spot, &mut reckoning).map_err(|fault| faults.extend(fault)).ok().map(Form::Numeric)
        }
        RawKind::Order => forms::order(&raw, &spot, faults).map(Form::Order),
        RawKind::Choose => forms::choose(&raw, &spot, &reckoning, faults).map(Form::Choose),
        RawKind::Diagnose => defects::diagnose(&raw, defects, &spot, faults).map(Form::Choose),
        RawKind::Rounds => rounds::read(&raw, &spot, faults).map(Form::Rounds),
    };
    if let Some(ask) = &ask {
        check_holes(ask, "ask", &reckoning, &spot, faults);
    }
    check_reasons(&reckoning, form.as_ref(), &spot, faults);
    if faults.len() > before {
        return None;
    }
    let mut cautions_alone = cautions.clone();
    let taught = curriculum.stages.iter().flat_map(|stage| &stage.competencies);
    for caution in taught.filter(|one| Some(&one.id) == competency.as_ref()).flat_map(|one| &one.cautions) {
        if !cautions_alone.contains(caution) {
            cautions_alone.push(caution.clone());
        }
    }
    let used_in = raw.used_in.unwrap_or(match kind {
        RawKind::Numeric | RawKind::FindLine => Use::Both,
        RawKind::Order | RawKind::Choose | RawKind::Diagnose | RawKind::Rounds => Use::Practice,
    });
    Some(Exercise {
        id: id?,
        family: family?,
        competency: competency?,
        title: title?,
        level: raw.level.unwrap_or(Level::Apply),
        used_in,
        minutes,
        cautions,
        cautions_alone,
        ask: ask?,
        reckoning,
        form: form?,
        picture,
        place: spot.place(""),
        both_worlds: raw.both_worlds.unwrap_or(false),
        beyond_range: raw.beyond_range.unwrap_or(false),
        number_in_bank: index,
    })
}

/// The exercise with what it leaves out taken from what it is `like`, and the id of its family.
fn with_base<'a>(
    written: &[Written<'a>],
    names: &Names,
    index: usize,
    spot: &mut Spot<'a>,
    faults: &mut Vec<Fault>,
) -> Option<(RawExercise, Option<String>)> {
    let mut raw = written[index].raw.clone();
    let (mut at, mut seen, mut family) = (index, BTreeSet::from([index]), None);
    while let Some(name) = written[at].raw.like.clone() {
        let Some(&base) = names.by_id.get(&name) else {
            if names.unread.contains(&name) {
                return None; // what is wrong with that one has been told
            }
            let mend = nearest_name(&name, names.by_id.keys().map(String::as_str))
                .map_or_else(|| "name an exercise of this bank".to_owned(), |near| format!("did you mean `{near}`?"));
            faults.push(spot.fault("like", "dangling", format!("there is no exercise `{name}` in this bank"), mend));
            return None;
        };
        if !seen.insert(base) {
            // Told once, by the first of the circle.
            if seen.first() != Some(&index) {
                return None;
            }
            faults.push(spot.fault(
                "like",
                "cycle",
                "exercises are like each other in a circle",
                "let one of them stand by itself",
            ));
            return None;
        }
        spot.origins.push((written[base].reader, written[base].root.clone()));
        raw = raw.over(&written[base].raw);
        family = Some(name);
        at = base;
    }
    Some((raw, family))
}

fn needed<'a, T>(value: Option<&'a T>, key: &str, spot: &Spot<'_>, faults: &mut Vec<Fault>) -> Option<&'a T> {
    if value.is_none() {
        faults.push(spot.fault(
            "",
            "missing-key",
            format!("the key `{key}` is missing"),
            format!("add a line `{key}: …`"),
        ));
    }
    value
}

fn parse_id(text: &str, field: &str, spot: &Spot<'_>, faults: &mut Vec<Fault>) -> Option<Id> {
    Id::parse(text)
        .map_err(|message| faults.push(spot.fault(field, "id", format!("`{text}` cannot be an id"), message)))
        .ok()
}

fn check_competency(id: &Id, curriculum: &load_curriculum::Curriculum, spot: &Spot<'_>, faults: &mut Vec<Fault>) {
    let known: Vec<&str> =
        curriculum.stages.iter().flat_map(|stage| &stage.competencies).map(|one| one.id.as_str()).collect();
    if !known.contains(&id.as_str()) {
        let mend = nearest_name(id.as_str(), known.iter().copied())
            .map_or_else(|| "add it to a stage of the curriculum".to_owned(), |near| format!("did you mean `{near}`?"));
        faults.push(spot.fault("competency", "dangling", format!("there is no competency `{id}`"), mend));
    }
}

fn cautions(
    raw: &RawExercise,
    curriculum: &load_curriculum::Curriculum,
    spot: &Spot<'_>,
    faults: &mut Vec<Fault>,
) -> Vec<Id> {
    let mut ids = Vec::new();
    for (index, name) in raw.cautions.iter().flatten().enumerate() {
        match curriculum.cautions.iter().find(|known| known.id.as_str() == name) {
            Some(caution) => ids.push(caution.id.clone()),
            None => faults.push(spot.fault(
                &format!("cautions[{index}]"),
                "dangling",
                format!("there is no caution `{name}`"),
                "add it to cautions.yaml, or name one that is there",
            )),
        }
    }
    ids
}

/// Fields that mean nothing for this kind of exercise.
fn check_fields(raw: &RawExercise, kind: RawKind, spot: &Spot<'_>, faults: &mut Vec<Fault>) {
    let (order, choose) = (kind == RawKind::Order, kind == RawKind::Choose);
    let (diagnose, rounds) = (kind == RawKind::Diagnose, kind == RawKind::Rounds);
    let numeric = matches!(kind, RawKind::Numeric | RawKind::FindLine);
    let fields = [
        ("answers", raw.answers.is_some(), kind == RawKind::Numeric),
        ("find", raw.find.is_some(), kind == RawKind::FindLine),
        ("sane", raw.sane.is_some(), numeric),
        ("steps", raw.steps.is_some(), numeric || choose),
        ("wrong_turns", raw.wrong_turns.is_some(), numeric || choose),
        ("moves", raw.moves.is_some(), order || rounds),
        ("before", raw.before.is_some(), order),
        ("strict", raw.strict.is_some(), order),
        ("show", raw.show.is_some(), !numeric && !rounds),
        ("options", raw.options.is_some(), choose),
        ("pick", raw.pick.is_some(), choose),
        ("keep_order", raw.keep_order.is_some(), choose),
        ("defect", raw.defect.is_some(), diagnose),
        ("not", raw.not.is_some(), diagnose),
        ("states", raw.states.is_some(), rounds),
        ("starts", raw.starts.is_some(), rounds),
        ("ends", raw.ends.is_some(), rounds),
        ("leads", raw.leads.is_some(), rounds),
        ("unsafe", raw.not_safe.is_some(), rounds),
        ("rounds", raw.rounds.is_some(), rounds),
    ];
    for (name, _, _) in fields.iter().filter(|(_, written, fits)| *written && !fits) {
        let word = match kind {
            RawKind::Numeric => "numeric",
            RawKind::Order => "order",
            RawKind::Choose => "choose",
            RawKind::FindLine => "find_line",
            RawKind::Diagnose => "diagnose",
            RawKind::Rounds => "rounds",
        };
        faults.push(spot.fault(
            name,
            "out-of-place",
            format!("`{name}` means nothing in an exercise of the kind `{word}`"),
            "take it out, or change `kind:`",
        ));
    }
}

/// Holes must name givens or tables, and must not give a step away.
fn check_holes(text: &Text, field: &str, reckoning: &Reckoning, spot: &Spot<'_>, faults: &mut Vec<Fault>) {
    for hole in text.holes() {
        let name = &hole.name;
        if reckoning.is_broken(name) {
            continue;
        }
        let fault = match (reckoning.names.get(name), hole.as_table) {
            (_, true) if reckoning.tables.iter().any(|table| table.name == *name) => continue,
            (_, true) => ("dangling", format!("there is no table `{name}`"), "name a table of the exercise".to_owned()),
            (Some(entry), false) if entry.is_step && field == "ask" => (
                "gives-away",
                format!("the question gives the step `{name}` away"),
                "name only givens in the question".to_owned(),
            ),
            (Some(_), false) => continue,
            (None, false) => {
                let known = reckoning.names.in_print_order().iter().map(String::as_str);
                let mend = nearest_name(name, known).map_or_else(
                    || "name a given of the exercise".to_owned(),
                    |near| format!("did you mean `{near}`?"),
                );
                ("dangling", format!("there is no given `{name}`"), mend)
            }
        };
        faults.push(spot.fault(field, fault.0, fault.1, fault.2).pointing(text.source(), hole.span.clone()));
    }
}

fn check_reasons(reckoning: &Reckoning, form: Option<&Form>, spot: &Spot<'_>, faults: &mut Vec<Fault>) {
    for (index, step) in reckoning.steps.iter().enumerate() {
        check_holes(&step.because, &format!("steps[{index}].because"), reckoning, spot, faults);
    }
    for (index, turn) in reckoning.turns.iter().enumerate() {
        check_holes(&turn.because, &format!("wrong_turns[{index}].because"), reckoning, spot, faults);
    }
    match form {
        Some(Form::Order(order)) => {
            for one in &order.moves {
                check_holes(&one.text, &format!("moves.{}", one.name), reckoning, spot, faults);
            }
        }
        Some(Form::Choose(choose)) => {
            for (index, option) in choose.options.iter().enumerate() {
                check_holes(&option.because, &format!("options[{index}].because"), reckoning, spot, faults);
                if let super::exercise::Says::Text(text) = &option.says {
                    check_holes(text, &format!("options[{index}].says"), reckoning, spot, faults);
                }
            }
        }
        Some(Form::Rounds(rounds)) => {
            for one in &rounds.moves {
                check_holes(&one.text, &format!("moves.{}", one.name), reckoning, spot, faults);
            }
            for state in &rounds.states {
                check_holes(&state.says, &format!("states.{}.says", state.name), reckoning, spot, faults);
            }
            rounds.reasons().for_each(|reason| check_holes(reason, "leads", reckoning, spot, faults));
        }
        _ => {}
    }
}
