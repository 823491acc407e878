//! Composing a quiz, held to its constraints by another road, and played over the shipped year.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

mod book;
mod checker;
mod small;
mod year;

use std::collections::BTreeMap;

use gearside::ground::Faults;
use gearside::programme::Programme;
use gearside::quiz::{Asked, Composition, Request, compose};
use gearside::records::{History, Word};

use checker::Checker;
use small::Spec;

fn composed(
    spec: &Spec,
    programme: &Programme,
    records: &(History, BTreeMap<Word, Vec<Asked>>),
    seed: &str,
) -> Result<Composition, Faults> {
    let ids = |list: &[usize]| -> Vec<String> { list.iter().map(|index| spec.exercises[*index].id.clone()).collect() };
    let only = spec.only.map(|index| format!("c{index}"));
    compose(&Request {
        programme,
        history: Some(&records.0),
        asked: &records.1,
        week: spec.week,
        day: book::day_of(i32::try_from(spec.week).expect("small")),
        minutes: spec.minutes,
        with: &ids(&spec.with),
        without: &ids(&spec.without),
        only: only.as_deref(),
        seed,
    })
}

#[test]
fn a_thousand_programmes_keep_every_hard_constraint_and_give_way_in_order() {
    let (mut composed_count, mut tried_all, mut gave_way) = (0, 0, BTreeMap::new());
    for seed in 0..1000 {
        let spec = Spec::by_chance(seed);
        let folder = tempfile::tempdir().expect("a folder");
        let programme = spec.programme(folder.path(), false);
        let records = spec.records();
        let checker = Checker::new(&spec);
        let may = checker.wish_is_fine() && !checker.allowed.is_empty();
        let faults = match composed(&spec, &programme, &records, "1") {
            Ok(composition) => {
                assert!(may, "programme {seed}: composed although it may not be: {spec:?}");
                match checker.check(&composition) {
                    Ok(all) => tried_all += usize::from(all),
                    Err(words) => panic!("programme {seed}: {words}\n{composition:#?}\n{spec:#?}"),
                }
                composed_count += 1;
                let last = composition.gave_way.last().map(|one| one.constraint);
                *gave_way.entry(last).or_insert(0) += 1;
                let again = composed(&spec, &programme, &records, "1").expect("as before");
                assert_eq!(again, composition, "programme {seed} is composed otherwise the second time");
                if seed % 4 == 0 {
                    let folder = tempfile::tempdir().expect("a folder");
                    let turned = composed(&spec, &spec.programme(folder.path(), true), &records, "1");
                    assert_eq!(turned.expect("as before"), composition, "programme {seed}: the order of files counts");
                }
                continue;
            }
            Err(faults) => faults,
        };
        assert!(!may, "programme {seed}: {faults:?}\n{spec:#?}");
        assert!(faults.0.iter().all(|fault| !fault.mend.is_empty()) && faults.any());
    }
    // The check means something: enough are composed, each constraint gives way somewhere, and often nothing does.
    assert!(composed_count > 500 && tried_all > 250, "{composed_count} composed, {tried_all} against all sets");
    assert!(gave_way.len() == 5 && gave_way.values().all(|count| *count >= 10), "{gave_way:?}");
}

#[test]
fn another_seed_is_another_quiz() {
    // One with much to choose from: nothing on record.
    let mut spec = (0..1000)
        .map(Spec::by_chance)
        .find(|spec| spec.exercises.len() > 30 && spec.competencies.len() > 6)
        .expect("one");
    (spec.week, spec.minutes, spec.only) = (14, 20, None);
    (spec.with, spec.without, spec.past) = (Vec::new(), Vec::new(), Vec::new());
    let folder = tempfile::tempdir().expect("a folder");
    let programme = spec.programme(folder.path(), false);
    let quiz = |seed: &str| composed(&spec, &programme, &spec.records(), seed).expect("a quiz").picks;
    assert!((2..20).any(|seed| quiz(&seed.to_string()) != quiz("1")));
}
