//! Everyone's standing in everything on one day: what the board, its files and
//! the standing list are made of.

use std::collections::BTreeMap;

use jiff::civil::Date;

use super::code::Code;
use super::digest::Digest;
use super::evidence::Ask;
use super::fact::Role;
use super::history::{History, Person};
use super::rules::{Rule, Rules};
use super::state::{Derivation, Standing, State};
use super::words::Wording;
use crate::programme::Programme;

/// Everyone's standing on one day.
#[derive(Debug)]
pub struct Overview<'a> {
    /// The day.
    pub on: Date,
    /// What is on record.
    pub history: &'a History,
    /// The programme.
    pub programme: &'a Programme,
    /// Its rules.
    pub rules: &'a Rules,
    /// The apprentices, by class and name.
    pub rows: Vec<Standings<'a>>,
    names: BTreeMap<Code, String>,
    titles: BTreeMap<&'a str, &'a str>,
}

/// One apprentice's standing in everything.
#[derive(Debug)]
pub struct Standings<'a> {
    /// The apprentice.
    pub person: &'a Person,
    /// A state for each competency, in the order of [`Rules::competencies`].
    pub states: Vec<State>,
}

impl<'a> Overview<'a> {
    /// Derives all states. `names` are those on record, by digest; nobody is
    /// named whose name is not among them.
    #[must_use]
    pub fn new(
        programme: &'a Programme,
        rules: &'a Rules,
        history: &'a History,
        names: &BTreeMap<Digest, String>,
        on: Date,
    ) -> Self {
        let called = |person: &Person| person.name_digest().and_then(|digest| names.get(digest)).cloned();
        let names: BTreeMap<Code, String> =
            history.people.values().filter_map(|person| Some((person.code.clone(), called(person)?))).collect();
        let derivation = Derivation::new(history, rules);
        let ask = Ask::on(on);
        let has_begun = |person: &&Person| {
            person.grants.iter().any(|one| one.is.role == Role::Apprentice && one.gone.is_none() && one.is.from <= on)
        };
        let people: Vec<&Person> = history.people.values().filter(has_begun).collect();
        let derive = |people: &[&'a Person]| -> Vec<Standings<'a>> {
            let states =
                |person| rules.competencies.iter().filter_map(|rule| derivation.state(person, &rule.id, ask)).collect();
            people.iter().map(|person| Standings { person, states: states(person) }).collect()
        };
        // Nobody's states depend on anybody else's: two cores share the work.
        let (ours, theirs) = people.split_at(people.len() / 2);
        let mut rows = std::thread::scope(|scope| {
            let theirs = scope.spawn(|| derive(theirs));
            let mut rows = derive(ours);
            rows.extend(theirs.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)));
            rows
        });
        let name_of = |code: &Code| names.get(code).cloned().unwrap_or_else(|| code.to_string());
        rows.sort_by_cached_key(|row| {
            (row.person.class().map(str::to_owned), name_of(&row.person.code).to_lowercase(), row.person.code.clone())
        });
        let titles = programme.competencies().map(|one| (one.id.as_str(), one.title.as_str())).collect();
        Self { on, history, programme, rules, rows, names, titles }
    }

    /// What a person is called: the name on record, or the code.
    #[must_use]
    pub fn name(&self, code: &Code) -> String {
        self.names.get(code).cloned().unwrap_or_else(|| code.to_string())
    }

    /// The title of a competency, or its id if the curriculum has none of that id.
    #[must_use]
    pub fn title(&self, competency: &str) -> String {
        self.titles.get(competency).map_or_else(|| competency.to_owned(), |title| (*title).to_owned())
    }

    /// A state in a sentence.
    #[must_use]
    pub fn reason(&self, state: &State) -> String {
        self.with_wording(|wording| wording.reason(state))
    }

    /// Words of any kind about the states of this day.
    pub fn with_wording<T>(&self, say: impl FnOnce(&Wording<'_>) -> T) -> T {
        let title = |id: &str| self.title(id);
        let name = |code: &Code| self.name(code);
        say(&Wording { title: &title, name: &name, today: self.on, edition: &self.programme.about.edition })
    }

    /// The rules of a stage's competencies, with their places in [`Standings::states`].
    pub fn stage<'s>(&'s self, stage: &'s str) -> impl Iterator<Item = (usize, &'s Rule)> {
        self.rules.competencies.iter().enumerate().filter(move |(_, rule)| &*rule.stage == stage)
    }
}

impl Standings<'_> {
    /// How many of some states stand where.
    #[must_use]
    pub fn count(&self, places: impl Iterator<Item = usize>, standing: Standing) -> usize {
        places.filter(|place| self.states.get(*place).is_some_and(|state| state.standing == standing)).count()
    }
}
