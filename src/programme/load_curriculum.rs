//! Loading `curriculum/`.

use std::collections::{BTreeMap, BTreeSet};

use serde_yaml::Value;

use super::choices::{InkSystem, Paper, Worlds};
use super::curriculum::{About, Caution, Competency, Criterion, Marked, Plan, RestsOn, Stage};
use super::raw::{Ordered, RawCautions, RawCompetency, RawMarked, RawPlan, RawProgramme, RawRestsOn, RawStage, Scalar};
use super::reader::FileReader;
use super::source::SourceFile;
use super::spot::Spot;
use super::words::Words;
use crate::ground::{Fault, Faults, Id, language, nearest_name};

/// The files of a curriculum as read so far.
#[derive(Debug, Default)]
pub(super) struct Curriculum {
    pub(super) about: Option<About>,
    pub(super) stages: Vec<Stage>,
    pub(super) cautions: Vec<Caution>,
    pub(super) plan: Option<Plan>,
    pub(super) words: Words,
}

/// Reads all curriculum files.
pub(super) fn load(files: &[SourceFile], faults: &mut Faults) -> Curriculum {
    let mut curriculum = Curriculum::default();
    let mut readers = Vec::new();
    let programme = files.iter().find(|file| file.name == "programme.yaml");
    if let Some((_, value)) = programme.and_then(|file| FileReader::open(file, &curriculum.words).ok()) {
        curriculum.words = Words::of(&value);
    }
    for file in files {
        match FileReader::open(file, &curriculum.words) {
            Ok((reader, value)) => readers.push((file.name.clone(), reader, value)),
            Err(found) => found.into_iter().for_each(|fault| faults.push(fault)),
        }
    }
    let mut links = Links::default();
    let mut plans = Vec::new();
    for (name, reader, value) in &readers {
        let mut found = Vec::new();
        match name.as_str() {
            "programme.yaml" => {
                curriculum.about = reader
                    .take::<RawProgramme>(value.clone(), "", None, &mut found)
                    .map(|raw| about(&raw, reader, &mut found));
            }
            "cautions.yaml" => {
                if let Some(raw) = reader.take::<RawCautions>(value.clone(), "", None, &mut found) {
                    cautions(&raw, reader, &mut curriculum, &mut found);
                }
            }
            "plan.yaml" => plans.push((reader, value)),
            _ => curriculum.stages.extend(stage(value, reader, &mut links, &mut found)),
        }
        found.into_iter().for_each(|fault| faults.push(fault));
    }
    curriculum.stages.sort_by_key(|stage| stage.number);
    let language = curriculum.about.as_ref().map_or(language::DEFAULT, |about| &about.language).to_owned();
    curriculum.cautions.iter_mut().for_each(|caution| caution.speak(&language));
    links.check(&curriculum, faults);
    for (reader, value) in plans {
        let mut found = Vec::new();
        if let Some(raw) = reader.take::<RawPlan>(value.clone(), "", None, &mut found) {
            curriculum.plan = Some(plan(&raw, reader, &curriculum, &mut found));
        }
        found.into_iter().for_each(|fault| faults.push(fault));
    }
    curriculum
}

fn spot<'a>(reader: &'a FileReader, root: &str, id: &str) -> Spot<'a> {
    Spot { id: id.to_owned(), origins: vec![(reader, root.to_owned())], ..Spot::default() }
}

/// Keeps a fault and goes on with a stand-in.
fn keep<T: Default>(result: Result<T, Fault>, faults: &mut Vec<Fault>) -> T {
    result.unwrap_or_else(|fault| {
        faults.push(fault);
        T::default()
    })
}

fn about(raw: &RawProgramme, reader: &FileReader, faults: &mut Vec<Fault>) -> About {
    let here = spot(reader, "", "");
    let decimal_comma = match raw.decimal.as_deref() {
        None | Some(".") => false,
        Some(",") => true,
        Some(other) => {
            faults.push(here.fault(
                "decimal",
                "unknown-word",
                format!("`{other}` is not a decimal mark"),
                "write \".\" or \",\"",
            ));
            false
        }
    };
    let language = raw.language.as_deref().map_or(Ok(language::DEFAULT), |name| {
        Id::parse(name).map(|_| name).map_err(|wrong| {
            let mend = "write the name of its file without the ending, such as `spanish`";
            here.fault("language", "language", wrong, mend)
        })
    });
    let language = language
        .unwrap_or_else(|fault| {
            faults.push(fault);
            language::DEFAULT
        })
        .to_owned();
    let pass_mark = raw
        .pass_mark
        .as_ref()
        .map(|mark| (keep(share(&mark.share, "pass_mark.share", &here), faults), mark.rests_on.clone()));
    let time_zone = raw.time_zone.as_deref().map_or_else(
        || Ok(jiff::tz::TimeZone::system()),
        |name| jiff::tz::TimeZone::get(name).map_err(|_| name.to_owned()),
    );
    let time_zone = time_zone.unwrap_or_else(|name| {
        faults.push(here.fault(
            "time_zone",
            "time-zone",
            format!("`{name}` is not a time zone"),
            "write its name in the tz database, such as `Europe/Helsinki` or `America/Chicago`",
        ));
        jiff::tz::TimeZone::UTC
    });
    About {
        title: raw.title.clone(),
        edition: raw.edition.0.clone(),
        about: keep(here.text("about", raw.about.as_deref().unwrap_or_default()), faults),
        units: raw.units.unwrap_or(Worlds::Both),
        language,
        decimal_comma,
        paper: raw.paper.unwrap_or(Paper::Both),
        ink_systems: raw.ink_system.clone().unwrap_or_else(|| InkSystem::ALL.to_vec()),
        unit_word: raw.unit_word.clone().unwrap_or_else(|| "deck".to_owned()),
        pass_mark,
        retention: raw.retention.clone().unwrap_or_default(),
        events: raw.events.clone(),
        time_zone,
    }
}

/// A share such as `80 %`, as a fraction between 0 and 1.
fn share(Scalar(text): &Scalar, field: &str, here: &Spot<'_>) -> Result<f64, Fault> {
    let value = here.quantity(field, text)?;
    let fine = value.unit.dimension.is_plain() && (0.0..=1.0).contains(&value.si);
    if fine {
        Ok(value.si)
    } else {
        Err(here.fault(field, "share", format!("`{text}` is not a share"), "write a percentage between 0 % and 100 %"))
    }
}

fn cautions(raw: &RawCautions, reader: &FileReader, curriculum: &mut Curriculum, faults: &mut Vec<Fault>) {
    for (index, caution) in raw.cautions.iter().enumerate() {
        let here = spot(reader, &format!("cautions[{index}]"), &caution.id);
        let Some(id) = id(&caution.id, "id", &here, faults) else { continue };
        if curriculum.cautions.iter().any(|known| known.id == id) {
            faults.push(here.fault(
                "id",
                "duplicate-id",
                format!("two cautions are called `{id}`"),
                "give each an id of its own",
            ));
            continue;
        }
        let says = keep(here.line("says", &caution.says), faults);
        let other = caution.other.iter().map(|(language, text)| {
            let says = keep(here.line(&format!("in.{language}.says"), &text.says), faults);
            (language.clone(), (text.word.clone(), says))
        });
        let other = other.collect();
        curriculum.cautions.push(Caution { id, word: caution.word.clone(), says, other });
    }
}

fn id(text: &str, field: &str, here: &Spot<'_>, faults: &mut Vec<Fault>) -> Option<Id> {
    Id::parse(text)
        .map_err(|message| faults.push(here.fault(field, "id", format!("`{text}` cannot be an id"), message)))
        .ok()
}

fn stage(value: &Value, reader: &FileReader, links: &mut Links, faults: &mut Vec<Fault>) -> Option<Stage> {
    let raw = reader.take::<RawStage>(value.clone(), "", None, faults)?;
    let here = spot(reader, "", "");
    let stage_id = id(&raw.stage, "stage", &here, faults)?;
    if !(1..=99).contains(&raw.number) {
        faults.push(here.fault(
            "number",
            "stage",
            format!("stage number {}", raw.number),
            "number the stages from 1 on",
        ));
    }
    let mut competencies = Vec::new();
    for (index, value) in raw.competencies.iter().enumerate() {
        let root = format!("competencies[{index}]");
        let name = value.get("id").and_then(Value::as_str).unwrap_or_default().to_owned();
        if let Some(raw) = reader.take::<RawCompetency>(value.clone(), &root, Some(&name), faults) {
            competencies.extend(competency(&raw, &spot(reader, &root, &name), links, faults));
        }
    }
    links.note_stage(&stage_id, &here, faults);
    Some(Stage {
        id: stage_id,
        number: raw.number,
        title: raw.title.clone(),
        about: keep(here.text("about", raw.about.as_deref().unwrap_or_default()), faults),
        competencies,
    })
}

fn competency(raw: &RawCompetency, here: &Spot<'_>, links: &mut Links, faults: &mut Vec<Fault>) -> Option<Competency> {
    let own = id(&raw.id, "id", here, faults)?;
    links.note_competency(&own, here, faults);
    let mut needs = Vec::new();
    for (index, need) in raw.needs.iter().enumerate() {
        let field = format!("needs[{index}]");
        links.needs.push((own.clone(), need.clone(), here.place(&field)));
        needs.extend(id(need, &field, here, faults));
    }
    let mut was = Vec::new();
    for (index, name) in raw.was.iter().enumerate() {
        let field = format!("was[{index}]");
        links.was.push((name.clone(), here.place(&field)));
        was.extend(id(name, &field, here, faults));
    }
    let mut cautions = Vec::new();
    for (index, caution) in raw.cautions.iter().enumerate() {
        let field = format!("cautions[{index}]");
        links.cautions.push((caution.clone(), here.place(&field)));
        cautions.extend(id(caution, &field, here, faults));
    }
    if raw.criteria.is_empty() {
        faults.push(here.fault(
            "criteria",
            "missing-key",
            "there are no criteria",
            "say what an observer sees: 4 to 8 lines",
        ));
    }
    let criteria = raw.criteria.iter().enumerate().map(|(index, criterion)| Criterion {
        text: keep(here.line(&format!("criteria[{index}].says"), &criterion.says), faults),
        critical: criterion.critical,
    });
    let criteria = criteria.collect();
    let lesson = keep(here.text("lesson", &raw.lesson), faults);
    if let Some(hole) = lesson.holes().next() {
        faults.push(here.fault(
            "lesson",
            "text",
            format!("the lesson has a hole `{}`", hole.name),
            "holes belong in exercises; write the words here",
        ));
    }
    if raw.hours.is_some_and(|hours| !hours.is_finite() || hours < 0.0) {
        faults.push(here.fault(
            "hours",
            "hours",
            "the hours are not a number of hours",
            "write how many hours are planned: `hours: 24`",
        ));
    }
    let rests = |raw: &Option<RawRestsOn>, key: &str, faults: &mut Vec<Fault>| {
        raw.as_ref().map(|raw| rests_on(raw, key, here, faults))
    };
    Some(Competency {
        id: own,
        title: raw.title.clone(),
        was,
        needs,
        safety: raw.safety,
        criteria,
        lesson,
        hours: raw.hours,
        cautions,
        rests_on: rests(&raw.rests_on, "rests_on", faults),
        lapses_after: raw
            .lapses_after
            .as_ref()
            .map(|text| keep(count_of(text, &["months", "month"], "lapses_after", here), faults)),
        renewed_by: rests(&raw.renewed_by, "renewed_by", faults),
    })
}

fn rests_on(raw: &RawRestsOn, key: &str, here: &Spot<'_>, faults: &mut Vec<Fault>) -> RestsOn {
    let marked = raw.marked.as_ref().map(|raw| marked(raw, key, here, faults));
    RestsOn { marked, observed: raw.observed.clone(), hours: raw.hours }
}

fn marked(raw: &RawMarked, key: &str, here: &Spot<'_>, faults: &mut Vec<Fault>) -> Marked {
    if raw.sureness.is_some_and(|sure| !(0.0..1.0).contains(&sure)) {
        faults.push(here.fault(
            &format!("{key}.marked.sureness"),
            "share",
            "the sureness is not between 0 and 1",
            "write a number such as 0.6",
        ));
    }
    Marked {
        at_least: keep(
            count_of(&raw.at_least, &["exercises", "exercise"], &format!("{key}.marked.at_least"), here),
            faults,
        ),
        right: keep(share(&raw.right, &format!("{key}.marked.right"), here), faults),
        days: keep(count_of(&raw.on, &["days", "day"], &format!("{key}.marked.on"), here), faults),
        sureness: raw.sureness,
    }
}

/// `8 exercises`, `3 days`, `24 months`: a count with its word.
fn count_of(Scalar(text): &Scalar, words: &[&str], field: &str, here: &Spot<'_>) -> Result<u32, Fault> {
    let (number, word) = text.trim().split_once(' ').unwrap_or((text.trim(), words[0]));
    match number.parse() {
        Ok(count @ 1..=600) if words.contains(&word.trim()) => Ok(count),
        _ => Err(here.fault(
            field,
            "count",
            format!("`{text}` is not a number of {}", words[0]),
            format!("write it as `8 {}`", words[0]),
        )),
    }
}

fn plan(raw: &RawPlan, reader: &FileReader, curriculum: &Curriculum, faults: &mut Vec<Fault>) -> Plan {
    let here = spot(reader, "", "");
    if raw.starts.parse::<jiff::civil::Date>().is_err() {
        faults.push(here.fault(
            "starts",
            "date",
            format!("`{}` is not a date", raw.starts),
            "write it as year-month-day: `2026-09-07`",
        ));
    }
    let known: Vec<&str> = curriculum
        .stages
        .iter()
        .flat_map(|stage| &stage.competencies)
        .map(|competency| competency.id.as_str())
        .collect();
    let mut weeks = BTreeMap::new();
    let Ordered(written) = &raw.weeks;
    for (week, ids) in written {
        let field = format!("weeks.{week}");
        let Ok(number @ 1..=60) = week.parse::<u32>() else {
            faults.push(here.fault(&field, "week", format!("`{week}` is not a week"), "number the weeks from 1 to 60"));
            continue;
        };
        for (index, name) in ids.iter().enumerate().filter(|(_, name)| !known.contains(&name.as_str())) {
            let mend = nearest_name(name, known.iter().copied()).map_or_else(
                || "add it to a stage, or take it out of the plan".to_owned(),
                |near| format!("did you mean `{near}`?"),
            );
            faults.push(here.fault(
                &format!("{field}[{index}]"),
                "dangling",
                format!("there is no competency `{name}`"),
                mend,
            ));
        }
        weeks.insert(number, ids.iter().filter_map(|name| Id::parse(name).ok()).collect());
    }
    let mut shares = Vec::new();
    for (stage, text) in raw.shares.iter().flat_map(|shares| &shares.0) {
        let field = format!("shares.{stage}");
        match curriculum.stages.iter().find(|known| known.id.as_str() == stage) {
            Some(known) => shares.push((known.id.clone(), keep(share(text, &field, &here), faults))),
            None => faults.push(here.fault(
                &field,
                "dangling",
                format!("there is no stage `{stage}`"),
                "name a stage by its id",
            )),
        }
    }
    Plan {
        file: reader.label.clone(),
        starts: raw.starts.clone(),
        weeks,
        breaks: raw.breaks.iter().map(|text| text.0.clone()).collect(),
        shares,
        gap: raw.gap.unwrap_or(3),
        not_again_for: raw.not_again_for.unwrap_or(3),
        minutes: raw.minutes.unwrap_or(30),
        classes: raw.classes.clone(),
    }
}

/// What the files refer to, checked when all of them are read.
#[derive(Debug, Default)]
struct Links {
    ids: BTreeSet<String>,
    stages: BTreeSet<String>,
    needs: Vec<(Id, String, crate::ground::Place)>,
    cautions: Vec<(String, crate::ground::Place)>,
    was: Vec<(String, crate::ground::Place)>,
}

impl Links {
    fn note_competency(&mut self, id: &Id, here: &Spot<'_>, faults: &mut Vec<Fault>) {
        if !self.ids.insert(id.to_string()) {
            faults.push(here.fault(
                "id",
                "duplicate-id",
                format!("two competencies are called `{id}`"),
                "give each an id of its own",
            ));
        }
    }

    fn note_stage(&mut self, id: &Id, here: &Spot<'_>, faults: &mut Vec<Fault>) {
        if !self.stages.insert(id.to_string()) {
            faults.push(here.fault(
                "stage",
                "duplicate-id",
                format!("two stages are called `{id}`"),
                "give each an id of its own",
            ));
        }
    }

    fn check(&self, curriculum: &Curriculum, faults: &mut Faults) {
        for (_, need, place) in self.needs.iter().filter(|(_, need, _)| !self.ids.contains(need)) {
            let mend = nearest_name(need, self.ids.iter().map(String::as_str)).map_or_else(
                || "add that competency, or take the need out".to_owned(),
                |near| format!("did you mean `{near}`?"),
            );
            faults.push(Fault::new("dangling", format!("there is no competency `{need}`"), mend).at(place.clone()));
        }
        for (caution, place) in self
            .cautions
            .iter()
            .filter(|(caution, _)| !curriculum.cautions.iter().any(|known| known.id.as_str() == caution))
        {
            faults.push(
                Fault::new(
                    "dangling",
                    format!("there is no caution `{caution}`"),
                    "add it to cautions.yaml, or name one that is there",
                )
                .at(place.clone()),
            );
        }
        for (name, place) in self.was.iter().filter(|(name, _)| self.ids.contains(name)) {
            faults.push(
                Fault::new(
                    "still-there",
                    format!("`{name}` is still a competency, so nothing else can have been called that"),
                    "take the old competency out, or this `was:`",
                )
                .at(place.clone()),
            );
        }
        if let Some((round, place)) = self.cycle() {
            faults.push(
                Fault::new(
                    "cycle",
                    format!("competencies need each other in a circle: {}", round.join(" needs ")),
                    "take one of these needs out",
                )
                .at(place),
            );
        }
    }

    /// A circle among the needs, with the place of one of them.
    fn cycle(&self) -> Option<(Vec<String>, crate::ground::Place)> {
        for (start, _, place) in &self.needs {
            let mut path = vec![start.to_string()];
            let mut seen = BTreeSet::new();
            if self.walk(start.as_str(), start.as_str(), &mut path, &mut seen) {
                return Some((path, place.clone()));
            }
        }
        None
    }

    /// Walks the needs from `at`; true when `target` is reached again, with the way in `path`.
    fn walk(&self, at: &str, target: &str, path: &mut Vec<String>, seen: &mut BTreeSet<String>) -> bool {
        for (_, need, _) in self.needs.iter().filter(|(own, ..)| own.as_str() == at) {
            path.push(need.clone());
            if need == target || (seen.insert(need.clone()) && self.walk(need, target, path, seen)) {
                return true;
            }
            path.pop();
        }
        false
    }
}
