//! A small curriculum as plain data: written out as YAML for the program,
//! looked at as it is by the model.

use std::fmt::Write as _;
use std::path::Path;

use gearside::programme::{Origin, Programme, load_without_banks};

use crate::chance::Chance;

/// What a sign-off rests on.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Basis {
    pub(crate) marked: Option<MarkedBasis>,
    pub(crate) observed: Option<ObservedBasis>,
    pub(crate) hours: Option<f64>,
}

/// Marked work.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct MarkedBasis {
    pub(crate) at_least: usize,
    pub(crate) percent: u32,
    pub(crate) days: usize,
    pub(crate) sureness: Option<f64>,
}

/// Observations.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ObservedBasis {
    pub(crate) times: usize,
    pub(crate) days: Option<usize>,
    pub(crate) jobs: Option<usize>,
    pub(crate) unaided: bool,
}

/// A competency.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Competency {
    pub(crate) id: String,
    pub(crate) stage: &'static str,
    pub(crate) was: Vec<String>,
    pub(crate) needs: Vec<String>,
    pub(crate) safety: bool,
    /// What is seen, and whether it is critical.
    pub(crate) criteria: Vec<(String, bool)>,
    pub(crate) rests_on: Option<Basis>,
    pub(crate) lapses_after: Option<u32>,
    pub(crate) renewed_by: Option<Basis>,
}

/// An edition of the curriculum.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Edition {
    pub(crate) label: String,
    pub(crate) competencies: Vec<Competency>,
}

/// The stages, in order.
pub(crate) const STAGES: [&str; 3] = ["one", "two", "three"];
/// The pass mark, in per cent.
pub(crate) const PASS_MARK: u32 = 60;

fn marked(at_least: usize, percent: u32, days: usize, sureness: Option<f64>) -> MarkedBasis {
    MarkedBasis { at_least, percent, days, sureness }
}

fn observed(times: usize, days: Option<usize>, jobs: Option<usize>, unaided: bool) -> ObservedBasis {
    ObservedBasis { times, days, jobs, unaided }
}

impl Edition {
    /// The first edition: six competencies in three stages.
    pub(crate) fn first() -> Self {
        let competency = |id: &str, stage, needs: &[&str], criteria: &[(&str, bool)]| Competency {
            id: id.to_owned(),
            stage,
            was: Vec::new(),
            needs: needs.iter().map(ToString::to_string).collect(),
            safety: false,
            criteria: criteria.iter().map(|(says, critical)| ((*says).to_owned(), *critical)).collect(),
            rests_on: None,
            lapses_after: None,
            renewed_by: None,
        };
        let competencies = vec![
            Competency {
                safety: true,
                rests_on: Some(Basis { marked: None, observed: Some(observed(1, None, None, true)), hours: None }),
                lapses_after: Some(3),
                ..competency("ink", "one", &[], &[("Wears gloves", true), ("Reads the ticket", false)])
            },
            Competency {
                rests_on: Some(Basis { marked: Some(marked(2, 50, 1, None)), observed: None, hours: None }),
                lapses_after: Some(1),
                renewed_by: Some(Basis { marked: None, observed: Some(observed(1, None, None, false)), hours: None }),
                ..competency("cup", "one", &[], &[("Fills the cup to the brim", false)])
            },
            Competency {
                rests_on: Some(Basis { marked: Some(marked(3, 60, 2, Some(0.75))), observed: None, hours: Some(2.5) }),
                lapses_after: Some(12),
                renewed_by: Some(Basis { marked: Some(marked(1, 100, 1, Some(0.6))), observed: None, hours: None }),
                ..competency("blade", "two", &["ink"], &[("Carries the blade sheathed", true)])
            },
            Competency {
                safety: true,
                rests_on: Some(Basis {
                    marked: None,
                    observed: Some(observed(2, Some(2), Some(2), false)),
                    hours: Some(2.0),
                }),
                lapses_after: Some(6),
                ..competency(
                    "deck",
                    "two",
                    &["ink", "cup"],
                    &[("Bleeds stored air", true), ("Shuts the guards", true), ("Wipes evenly", false)],
                )
            },
            Competency {
                lapses_after: Some(2),
                ..competency(
                    "register",
                    "three",
                    &["deck"],
                    &[("Finds the key cross", false), ("Moves one deck", false)],
                )
            },
            Competency {
                rests_on: Some(Basis { marked: None, observed: Some(observed(2, None, None, true)), hours: Some(4.0) }),
                ..competency("run", "three", &["blade"], &[("Starts slowly", false)])
            },
        ];
        Self { label: "edition 1".to_owned(), competencies }
    }

    pub(crate) fn find(&self, id: &str) -> Option<&Competency> {
        self.competencies.iter().find(|one| one.id == id)
    }

    /// Another edition made of this one by one change of a coordinator's.
    pub(crate) fn changed(&self, number: usize, chance: &mut Chance) -> Self {
        let mut next = self.clone();
        next.label = format!("edition {number}");
        let at = chance.below(next.competencies.len());
        match chance.below(8) {
            0 => next.rename(at, number),
            1 => next.split(at, number),
            2 => next.retire(at),
            3 => next.add_need(at, chance),
            4 => next.competencies[at].lapses_after = *chance.of(&[None, Some(1), Some(2), Some(5), Some(12)]),
            5 => next.competencies[at].criteria.push((format!("Criterion of {number}"), chance.one_in(2))),
            6 => next.ease(at),
            _ => next.tighten(at),
        }
        if chance.one_in(4) {
            // What something was called before is gathered over all editions, so it may be left out again.
            for one in &mut next.competencies {
                one.was.retain(|name| self.find(name).is_some());
            }
        }
        next
    }

    fn rename(&mut self, at: usize, number: usize) {
        let old = self.competencies[at].id.clone();
        let stem = old.split('-').next().unwrap_or_default();
        let new = format!("{stem}-{number}");
        self.competencies[at].id.clone_from(&new);
        self.competencies[at].was = vec![old.clone()];
        for need in self.competencies.iter_mut().flat_map(|one| &mut one.needs).filter(|need| **need == old) {
            need.clone_from(&new);
        }
    }

    fn split(&mut self, at: usize, number: usize) {
        if self.competencies.len() > 7 {
            return self.rename(at, number);
        }
        let old = self.competencies.remove(at);
        let stem = old.id.split('-').next().unwrap_or_default();
        let halves = [format!("{stem}-{number}a"), format!("{stem}-{number}b")];
        for (index, id) in halves.iter().enumerate() {
            let half = Competency { id: id.clone(), was: vec![old.id.clone()], ..old.clone() };
            self.competencies.insert(at + index, half);
        }
        for one in &mut self.competencies {
            if let Some(place) = one.needs.iter().position(|need| *need == old.id) {
                one.needs.splice(place..=place, halves.clone());
            }
        }
    }

    fn retire(&mut self, at: usize) {
        if self.competencies.len() < 5 {
            return self.tighten(at);
        }
        let old = self.competencies.remove(at);
        for one in &mut self.competencies {
            one.needs.retain(|need| *need != old.id);
        }
    }

    fn add_need(&mut self, at: usize, chance: &mut Chance) {
        if at == 0 {
            return self.tighten(at);
        }
        let need = self.competencies[chance.below(at)].id.clone();
        if self.competencies[at].needs.len() < 3 && !self.competencies[at].needs.contains(&need) {
            self.competencies[at].needs.push(need);
        } else {
            self.tighten(at);
        }
    }

    fn tighten(&mut self, at: usize) {
        let Some(basis) = &mut self.competencies[at].rests_on else {
            let observed = Some(observed(2, Some(2), None, true));
            self.competencies[at].rests_on = Some(Basis { marked: None, observed, hours: None });
            return;
        };
        if let Some(marked) = &mut basis.marked {
            marked.at_least = (marked.at_least + 1).min(5);
        } else if let Some(observed) = &mut basis.observed {
            observed.times = (observed.times + 1).min(3);
            observed.days = Some(2);
        }
        basis.hours = Some(basis.hours.map_or(1.5, |hours| (hours + 1.0).min(6.0)));
    }

    fn ease(&mut self, at: usize) {
        let Some(basis) = &mut self.competencies[at].rests_on else { return };
        basis.hours = None;
        if let Some(observed) = &mut basis.observed {
            *observed = ObservedBasis { times: 1, days: None, jobs: None, unaided: observed.unaided };
        }
        if let Some(marked) = &mut basis.marked {
            *marked = MarkedBasis { at_least: 2, days: 1, ..marked.clone() };
        }
    }

    /// Writes it out and loads it as a programme.
    pub(crate) fn load(&self, folder: &Path) -> Programme {
        let curriculum = folder.join("curriculum");
        std::fs::create_dir_all(&curriculum).expect("a folder");
        let mut about = format!("title: Small\nedition: {}\ntime_zone: Europe/Helsinki\n", self.label);
        let _ = writeln!(about, "pass_mark: {{ share: {PASS_MARK} %, rests_on: Nothing yet }}\nevents: [review]");
        std::fs::write(curriculum.join("programme.yaml"), about.as_bytes()).expect("written");
        for (number, stage) in (1..).zip(STAGES) {
            let mut text = format!("stage: {stage}\nnumber: {number}\ntitle: Stage {stage}\ncompetencies:\n");
            let own: Vec<&Competency> = self.competencies.iter().filter(|one| one.stage == stage).collect();
            if own.is_empty() {
                text = text.replace("competencies:\n", "competencies: []\n");
            }
            own.iter().for_each(|one| one.write(&mut text));
            std::fs::write(curriculum.join(format!("0{number}.yaml")), text.as_bytes()).expect("written");
        }
        let loaded = load_without_banks(&Origin::Folder(folder.to_owned())).expect("it is read");
        assert!(!loaded.faults.any(), "{:?}", loaded.faults);
        loaded.programme.expect("a programme")
    }
}

impl Competency {
    fn write(&self, text: &mut String) {
        let list = |names: &[String]| names.join(", ");
        let _ = writeln!(text, "  - id: {}\n    title: About {}\n    lesson: Short.", self.id, self.id);
        let _ = writeln!(
            text,
            "    was: [{}]\n    needs: [{}]\n    safety: {}",
            list(&self.was),
            list(&self.needs),
            self.safety
        );
        let _ = writeln!(text, "    criteria:");
        for (says, critical) in &self.criteria {
            let _ = writeln!(text, "      - {{ says: {says}, critical: {critical} }}");
        }
        if let Some(months) = self.lapses_after {
            let _ = writeln!(text, "    lapses_after: {months} months");
        }
        for (key, basis) in [("rests_on", &self.rests_on), ("renewed_by", &self.renewed_by)] {
            if let Some(basis) = basis {
                let _ = writeln!(text, "    {key}:");
                basis.write(text);
            }
        }
    }
}

impl Basis {
    fn write(&self, text: &mut String) {
        if let Some(marked) = &self.marked {
            let sureness = marked.sureness.map(|sure| format!(", sureness: {sure}")).unwrap_or_default();
            let (least, right, days) = (marked.at_least, marked.percent, marked.days);
            let _ = writeln!(text, "      marked: {{ at_least: {least}, right: {right} %, on: {days}{sureness} }}");
        }
        if let Some(observed) = &self.observed {
            let more =
                |key: &str, count: Option<usize>| count.map(|count| format!(", {key}: {count}")).unwrap_or_default();
            let (days, jobs) = (more("days", observed.days), more("jobs", observed.jobs));
            let _ = writeln!(
                text,
                "      observed: {{ times: {}{days}{jobs}, unaided: {} }}",
                observed.times, observed.unaided
            );
        }
        if let Some(hours) = self.hours {
            let _ = writeln!(text, "      hours: {hours}");
        }
    }
}
