//! An invented class with ten weeks behind it, for `gearside new --demo`.
//!
//! Nothing here writes a fact by itself. Each week is entered through the desk,
//! with the clock at the time at which it would have been entered, so that the
//! records of the demo obey every rule. Chance is seeded: the demo of one day
//! is the same everywhere, to the last byte of its facts.

mod calendar;
mod cast;
mod chance;
mod clerk;
mod files;
mod hand;
mod mends;
mod quiz;
mod run;
mod shop;
mod signing;
mod story;
mod year;

use std::path::Path;

use jiff::tz::TimeZone;
use jiff::{Timestamp, ToSpan};

use crate::ground::files::{StartFault, start_folder_with};
use crate::ground::{Fault, Faults};
use crate::programme::{Origin, Plan, Programme, load, load_without_banks};
use crate::records::{FILE_NAME, Head, Refusal, Store, Trouble};

use calendar::Calendar;
use cast::Cast;
use clerk::Clerk;
use run::Run;
use story::Story;
use year::{Year, last_week};

/// What every part of the story gives: nothing, or why it could not be entered.
type Told = Result<(), Refusal>;

impl From<jiff::Error> for Refusal {
    fn from(error: jiff::Error) -> Self {
        Fault::new("date", error.to_string(), "set this machine's clock to the present").into()
    }
}

/// What a demo holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Summary {
    /// The names of its files, `records.db` last.
    pub files: Vec<String>,
    /// How many apprentices there are.
    pub apprentices: usize,
    /// How many assessors.
    pub assessors: usize,
    /// The end of the chain.
    pub head: Head,
}

/// Starts a folder with an invented class that has ten weeks behind it on `now`.
/// `extra` files are written beside those of the demo. The folder appears whole.
///
/// # Errors
/// [`StartFault::Folder`] if there is something already or the machine fails;
/// [`StartFault::Fill`] if the story cannot be entered, as with a clock that is
/// centuries off.
///
/// ```
/// let home = tempfile::tempdir().unwrap();
/// let now = "2026-11-25T12:00:00Z".parse().unwrap();
/// let summary = gearside::cli::demo::start(&home.path().join("demo"), &[], now).unwrap();
/// assert_eq!((summary.apprentices, summary.assessors), (9, 3));
/// ```
pub fn start(target: &Path, extra: &[(String, Vec<u8>)], now: Timestamp) -> Result<Summary, StartFault<Refusal>> {
    let calendar = calendar_of(now).map_err(StartFault::Fill)?;
    let mut files = files::files(&calendar);
    files.extend(extra.iter().cloned());
    let mut names: Vec<String> = files.iter().map(|(name, _)| name.clone()).collect();
    names.push(FILE_NAME.to_owned());
    let (cast, head) = start_folder_with(target, &files, |folder| tell(folder, &calendar))?;
    Ok(Summary { files: names, apprentices: cast.apprentices.len(), assessors: cast.assessors.len(), head })
}

fn calendar_of(now: Timestamp) -> Result<Calendar, Refusal> {
    let zone = TimeZone::get(files::TIME_ZONE)?;
    let shipped = programme_of(load_without_banks(&Origin::Shipped))?;
    let last = last_week(plan_of(&shipped)?).ok_or_else(|| no_plan("fewer than ten weeks"))?;
    Ok(Calendar::before(now, &zone, last)?)
}

fn no_plan(why: &str) -> Refusal {
    Fault::new("plan", format!("the built-in plan has {why}"), "tell the makers of gearside").into()
}

fn plan_of(programme: &Programme) -> Result<&Plan, Refusal> {
    programme.plan.as_ref().ok_or_else(|| no_plan("no weeks"))
}

fn programme_of(
    loaded: Result<crate::programme::Loaded, crate::ground::files::MachineFault>,
) -> Result<Programme, Refusal> {
    let machine = |message: String| Fault::new("machine", message, "look at the path and the space on the disk");
    let loaded = loaded.map_err(|fault| Trouble::Machine(Box::new(machine(fault.to_string()))))?;
    match loaded.programme {
        Some(programme) if !loaded.faults.any() => Ok(programme),
        _ => Err(Refusal::Faults(Faults(loaded.faults.0))),
    }
}

/// Tells the story into the records of a folder that already has its curriculum.
fn tell(folder: &Path, calendar: &Calendar) -> Result<(Cast, Head), Refusal> {
    let origin = Origin::Folder(folder.to_owned());
    let programme = programme_of(load(&origin))?;
    let before = edition_before(programme_of(load(&origin))?, calendar);
    let plan = plan_of(&programme)?;
    let cast = Cast::gather()?;
    let store = Store::open_or_start(&folder.join(FILE_NAME))?;
    store.hasten()?;
    let mut run = Run::new(Clerk::new(store), &cast, calendar);
    let opening = calendar.before.checked_sub(14.days())?;
    run.clerk.enter(&before, calendar.at(opening, 9, 0)?, Story { cast: &cast }.staff(opening))?;
    run.year(&Year::last(&before, plan, calendar.before))?;
    run.year(&Year::this(&programme, plan, calendar.starts))?;
    let head = run.clerk.head()?;
    run.clerk.store.finish()?;
    Ok((cast, head))
}

/// Last year's edition: loading an ink deck rested on fewer hours then.
fn edition_before(mut programme: Programme, calendar: &Calendar) -> Programme {
    programme.about.edition = calendar.editions().1;
    if let Some(plan) = &mut programme.plan {
        plan.starts = calendar.before.to_string();
    }
    let competencies = programme.stages.iter_mut().flat_map(|stage| &mut stage.competencies);
    let deck = competencies.into_iter().find(|one| one.id.as_str() == "load-an-ink-deck");
    if let Some(rests_on) = deck.and_then(|one| one.rests_on.as_mut()) {
        rests_on.hours = Some(12.0);
    }
    programme
}
