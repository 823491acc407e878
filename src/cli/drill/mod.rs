//! `gearside drill`: the workbook's exercises in the terminal.
//!
//! Nothing is recorded. An answer is read and marked exactly as that of a
//! docket is, own earlier answers carried on.

mod keys;
mod rounds;
mod sitting;

use std::collections::BTreeSet;
use std::io::{self, BufRead, IsTerminal};
use std::path::Path;

use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use rand::seq::SliceRandom;
use sha2::{Digest, Sha256};

use self::keys::Talk;
use self::sitting::{Came, Sitting};
use super::arguments::DrillArguments;
use super::loading;
use super::out::{Ended, Out};
use crate::ground::{Fault, Id, nearest_name};
use crate::programme::{Exercise, Programme, Use};

/// How to go about it.
const KEYS: &str = "Type your answer.  ?  one more line   n  fresh numbers   an empty line  on   q  enough";

pub(super) fn run(arguments: &DrillArguments, programme: Option<&Path>, out: &mut Out) -> Ended {
    if out.json {
        return out.usage("a drill is a talk, and has no JSON", "`gearside show EXERCISE --json` gives an exercise");
    }
    let (programme, ended) = match loading::programme(&loading::origin(programme), out) {
        Ok(loaded) => loaded,
        Err(ended) => return ended,
    };
    let seed = match arguments.seed.clone().map_or_else(fresh_seed, Ok) {
        Ok(seed) => seed,
        Err(fault) => {
            out.fault(&fault);
            return Ended::Machine;
        }
    };
    let exercises = match chosen(&programme, arguments.about.as_deref(), &seed, out) {
        Ok(exercises) => exercises,
        Err(ended) => return ended,
    };
    let about = arguments.about.as_ref().map(|about| format!(" {about}")).unwrap_or_default();
    out.note(&format!("`gearside drill{about} --seed {seed}` brings the same exercises again. Nothing is recorded."));
    out.note(KEYS);
    let drill = Drill { programme: &programme, seed: &seed, exercises: &exercises };
    let mut talk = Talk { input: io::stdin().lock(), echo: !io::stdin().is_terminal() };
    match drill.through(&mut talk, out) {
        Ok(came) => {
            drill.sum_up(&came, out);
            ended
        }
        Err(Stopped::Fault(fault)) => {
            out.fault(&fault);
            Ended::Content
        }
        Err(Stopped::Machine(error)) => {
            out.fault(&Fault::new("machine", format!("what is typed cannot be read: {error}"), "try again"));
            Ended::Machine
        }
    }
}

/// Why a drill could not go on.
#[derive(Debug)]
enum Stopped {
    Fault(Box<Fault>),
    Machine(io::Error),
}

impl From<Fault> for Stopped {
    fn from(fault: Fault) -> Self {
        Self::Fault(Box::new(fault))
    }
}

impl From<io::Error> for Stopped {
    fn from(error: io::Error) -> Self {
        Self::Machine(error)
    }
}

fn fresh_seed() -> Result<String, Fault> {
    let mut bytes = [0; 4];
    getrandom::fill(&mut bytes)
        .map_err(|error| Fault::new("machine", format!("this machine gives no chance: {error}"), "name a --seed"))?;
    Ok(u32::from_be_bytes(bytes).to_string())
}

/// The exercises of a competency, of a stage or one by its name; all of them,
/// mixed, if nothing is named.
fn chosen<'p>(
    programme: &'p Programme,
    about: Option<&str>,
    seed: &str,
    out: &mut Out,
) -> Result<Vec<&'p Exercise>, Ended> {
    let practice = |exercise: &&Exercise| exercise.used_in != Use::Quiz;
    let Some(about) = about else {
        let mut all: Vec<&Exercise> = programme.exercises().filter(practice).collect();
        let mut chance = ChaCha8Rng::from_seed(Sha256::digest(seed).into());
        all.shuffle(&mut chance);
        return Ok(all);
    };
    let of = |ids: &[&'p Id]| ids.iter().flat_map(|id| programme.exercises_of(id)).filter(practice).collect();
    let stage = programme.stages.iter().find(|stage| stage.id.as_str() == about);
    let found: Vec<&Exercise> = if let Some(stage) = stage {
        of(&stage.competencies.iter().map(|one| &one.id).collect::<Vec<_>>())
    } else if let Some(competency) = programme.competencies().find(|one| one.id.as_str() == about) {
        of(&[&competency.id])
    } else if let Some(exercise) = programme.exercise(about) {
        if !practice(&exercise) {
            let mend = format!("`gearside drill {}` practises the same", exercise.competency);
            return Err(out.usage(&format!("`{about}` is kept for quizzes"), &mend));
        }
        vec![exercise]
    } else {
        return Err(unknown(programme, about, out));
    };
    if found.is_empty() {
        let mend = "`gearside drill` alone takes what there is";
        return Err(out.usage(&format!("there is nothing to practise about `{about}`"), mend));
    }
    Ok(found)
}

fn unknown(programme: &Programme, about: &str, out: &mut Out) -> Ended {
    let stages = programme.stages.iter().map(|stage| stage.id.as_str());
    let competencies = programme.competencies().map(|one| one.id.as_str());
    let names = stages.chain(competencies).chain(programme.exercises().map(|one| one.id.as_str()));
    let mend = nearest_name(about, names).map_or_else(
        || "`gearside prove` lists competencies and exercises".to_owned(),
        |near| format!("did you mean `{near}`?"),
    );
    out.usage(&format!("there is no competency, stage or exercise `{about}`"), &mend)
}

struct Drill<'p> {
    programme: &'p Programme,
    seed: &'p str,
    exercises: &'p [&'p Exercise],
}

impl<'p> Drill<'p> {
    /// Goes through the exercises until there are none left, or it is enough.
    fn through(&self, talk: &mut Talk<impl BufRead>, out: &mut Out) -> Result<Vec<(&'p Exercise, Came)>, Stopped> {
        let mut came = Vec::new();
        for exercise in self.exercises {
            let mut fresh = 0;
            loop {
                out.line(&format!("\n{} of {}", came.len() + 1, self.exercises.len()));
                match Sitting::open(self.programme, exercise, self.seed, fresh)?.sit(talk, out)? {
                    Came::FreshNumbers => fresh += 1,
                    Came::Quit => return Ok(came),
                    ended => {
                        came.push((*exercise, ended));
                        break;
                    }
                }
            }
        }
        Ok(came)
    }

    /// How it went, and what to go over.
    fn sum_up(&self, came: &[(&Exercise, Came)], out: &mut Out) {
        let many = |wanted: Came| came.iter().filter(|(_, one)| *one == wanted).count();
        if came.is_empty() {
            out.line("\nNo exercise was finished.");
            return;
        }
        out.line(&format!(
            "\n{} right at once, {} right in the end, {} left.",
            many(Came::AtOnce),
            many(Came::InTheEnd),
            many(Came::Left)
        ));
        let over: BTreeSet<&Id> =
            came.iter().filter(|(_, one)| *one != Came::AtOnce).map(|(exercise, _)| &exercise.competency).collect();
        // In the order in which they are taught.
        for competency in self.programme.competencies().filter(|one| over.contains(&one.id)) {
            out.line(&format!("  Go over: {} (gearside drill {})", competency.title, competency.id));
        }
    }
}
