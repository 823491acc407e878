//! Print defects: what is seen, what it comes of, what to check first; and the
//! choices that a `kind: diagnose` makes of them.

use super::choices::Pick;
use super::exercise::{Choice, Choose, Question, Says};
use super::raw::{RawDefect, RawDefects, RawExercise, RawFinding, Scalar};
use super::reader::FileReader;
use super::source::SourceFile;
use super::spot::Spot;
use super::words::Words;
use crate::ground::{Fault, Faults, Id, nearest_name};
use crate::prose::Text;

/// What the file is called.
pub(super) const FILE: &str = "defects.yaml";
/// How many options each of the two questions has, if nothing is said.
const USUAL_SHOW: usize = 4;

/// A print defect.
#[derive(Debug, Clone)]
pub struct Defect {
    /// Its id.
    pub id: Id,
    /// What is seen.
    pub seen: Text,
    /// The cause that the evidence points to, and why.
    pub cause: Finding,
    /// What to check first, and why.
    pub first_check: Finding,
    /// Other defensible first checks.
    pub also: Vec<Finding>,
    /// The ids of defects that it may be taken for.
    pub like: Vec<Id>,
    /// Why it is not this one, where it is picked for another.
    pub not_this: Text,
}

/// A cause, or something to check.
#[derive(Debug, Clone)]
pub struct Finding {
    /// What it is.
    pub says: Text,
    /// Why.
    pub because: Text,
}

/// Reads the file of defects.
pub(super) fn load(file: Option<&SourceFile>, words: &Words, faults: &mut Faults) -> Vec<Defect> {
    let Some(file) = file else { return Vec::new() };
    let mut found = Vec::new();
    let defects = read(file, words, &mut found);
    found.into_iter().for_each(|fault| faults.push(fault));
    defects
}

fn read(file: &SourceFile, words: &Words, faults: &mut Vec<Fault>) -> Vec<Defect> {
    let (reader, value) = match FileReader::open(file, words) {
        Ok(opened) => opened,
        Err(found) => {
            faults.extend(found);
            return Vec::new();
        }
    };
    let Some(raw) = reader.take::<RawDefects>(value, "", None, faults) else { return Vec::new() };
    let mut defects: Vec<Defect> = Vec::new();
    for (index, raw) in raw.defects.iter().enumerate() {
        let spot = Spot { origins: vec![(&reader, format!("defects[{index}]"))], ..Spot::default() };
        match defect(raw, &spot) {
            Ok(read) if defects.iter().any(|known| known.id == read.id) => {
                let message = format!("two defects are called `{}`", read.id);
                faults.push(spot.fault("id", "duplicate-id", message, "give each an id of its own"));
            }
            Ok(read) => defects.push(read),
            Err(fault) => faults.push(fault),
        }
    }
    for (index, raw) in raw.defects.iter().enumerate() {
        let spot = Spot { origins: vec![(&reader, format!("defects[{index}]"))], ..Spot::default() };
        for (place, name) in raw.like.iter().enumerate() {
            if *name == raw.id || defects.iter().all(|defect| defect.id.as_str() != name) {
                faults.push(unknown(name, &defects, &format!("like[{place}]"), &spot));
            }
        }
    }
    defects
}

fn unknown(name: &str, defects: &[Defect], field: &str, spot: &Spot<'_>) -> Fault {
    let mend = nearest_name(name, defects.iter().map(|defect| defect.id.as_str())).map_or_else(
        || format!("name another row of `question-banks/{FILE}`"),
        |near| format!("did you mean `{near}`?"),
    );
    spot.fault(field, "dangling", format!("there is no other defect `{name}`"), mend)
}

fn defect(raw: &RawDefect, spot: &Spot<'_>) -> Result<Defect, Fault> {
    let id = |text: &str, field: &str| {
        Id::parse(text).map_err(|message| spot.fault(field, "id", message, "use small letters, digits and hyphens"))
    };
    let finding = |raw: &RawFinding, field: &str| -> Result<Finding, Fault> {
        Ok(Finding {
            says: spot.line(&format!("{field}.says"), &raw.says)?,
            because: spot.line(&format!("{field}.because"), &raw.because)?,
        })
    };
    let also = raw.also.iter().enumerate().map(|(place, one)| finding(one, &format!("also[{place}]")));
    let like = raw.like.iter().enumerate().map(|(place, name)| id(name, &format!("like[{place}]")));
    Ok(Defect {
        id: id(&raw.id, "id")?,
        seen: spot.line("seen", &raw.seen)?,
        cause: finding(&raw.cause, "cause")?,
        first_check: finding(&raw.first_check, "first_check")?,
        also: also.collect::<Result<_, _>>()?,
        like: like.collect::<Result<_, _>>()?,
        not_this: spot.line("seen", &format!("Then you would see something else. {}", raw.seen.trim()))?,
    })
}

/// What a diagnosis asks for: the cause, and what to check first.
pub(super) fn diagnose(
    raw: &RawExercise,
    defects: &[Defect],
    spot: &Spot<'_>,
    faults: &mut Vec<Fault>,
) -> Option<Choose> {
    let before = faults.len();
    let Some(name) = &raw.defect else {
        let mend = format!("name a row of `question-banks/{FILE}`");
        faults.push(spot.fault("defect", "missing-key", "the key `defect` is missing", mend));
        return None;
    };
    let Some(defect) = defects.iter().find(|defect| defect.id.as_str() == name) else {
        faults.push(unknown(name, defects, "defect", spot));
        return None;
    };
    let others: Vec<&Defect> =
        defect.like.iter().filter_map(|id| defects.iter().find(|other| other.id == *id)).collect();
    let mut not: Vec<(&str, Text)> = Vec::new();
    for (row, text) in raw.not.iter().flat_map(|not| &not.0) {
        let field = format!("not.{row}");
        match spot.line(&field, text) {
            Ok(text) if others.iter().any(|other| other.id.as_str() == row) => not.push((row, text)),
            Ok(_) => faults.push(spot.fault(
                &field,
                "dangling",
                format!("`{row}` is not among what `{name}` may be taken for"),
                "name one of its `like:`",
            )),
            Err(fault) => faults.push(fault),
        }
    }
    let because = |other: &Defect| {
        let own = not.iter().find(|(row, _)| *row == other.id.as_str());
        own.map_or_else(|| other.not_this.clone(), |(_, text)| text.clone())
    };
    let mut options = vec![right(&defect.cause)];
    options.extend(others.iter().map(|other| wrong(&other.cause, because(other))));
    let causes = options.len();
    let good: Vec<&Finding> = std::iter::once(&defect.first_check).chain(&defect.also).collect();
    options.extend(good.iter().map(|one| right(one)));
    // What is worth checking here as well is not wrong for standing first elsewhere.
    let checks =
        others.iter().filter(|other| good.iter().all(|one| one.says.source() != other.first_check.says.source()));
    options.extend(checks.map(|other| wrong(&other.first_check, because(other))));
    let shows = [show(raw, 1, causes, spot, faults), show(raw, good.len(), options.len() - causes, spot, faults)];
    let questions = [("Cause", 0..causes), ("First check", causes..options.len())];
    let questions = questions.into_iter().zip(shows).map(|((label, options), show)| Question {
        label: label.to_owned(),
        pick: Pick::One,
        show,
        options,
    });
    let questions = questions.collect();
    (faults.len() == before).then_some(Choose { questions, keep_order: false, options })
}

/// How many options of a question are shown: the right ones always.
fn show(raw: &RawExercise, right: usize, all: usize, spot: &Spot<'_>, faults: &mut Vec<Fault>) -> usize {
    let wanted = match &raw.show {
        None => Some(USUAL_SHOW.max(right + 1).min(all)),
        Some(Scalar(text)) => text.parse::<usize>().ok(),
    };
    if let Some(count) = wanted.filter(|count| (right + 1..=all).contains(count)) {
        count
    } else {
        let message = format!("of {all} options, {right} of them right, so many cannot be shown");
        let mend = "name more under `like:`, or show fewer; all right ones and at least one other are shown";
        if !faults.iter().any(|fault| fault.kind == "show") {
            faults.push(spot.fault(if raw.show.is_some() { "show" } else { "defect" }, "show", message, mend));
        }
        0
    }
}

fn right(finding: &Finding) -> Choice {
    Choice { says: Says::Text(finding.says.clone()), right: true, because: finding.because.clone() }
}

fn wrong(finding: &Finding, because: Text) -> Choice {
    Choice { says: Says::Text(finding.says.clone()), right: false, because }
}
