//! Random sequences of commands, put on record by the program and by a plain
//! model of the rules: whatever one accepts the other must accept, and after
//! each command everyone must stand in everything as the model says.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

mod calendar;
mod chance;
mod commands;
mod curriculum;
mod model;
mod people;
mod program;
mod standing;

use std::collections::BTreeMap;

use calendar::Minute;
use chance::Chance;
use commands::{APPRENTICES, Command, Maker, Standing};
use curriculum::Edition;
use model::Model;
use people::first_people;
use program::Program;

/// How many commands a sequence has.
const COMMANDS: usize = 2000;

/// How often each kind of command was accepted, and how often refused.
type Counts = BTreeMap<&'static str, (usize, usize)>;

/// 1 October 2027, 09:00 in Helsinki, in minutes since 1970 (`date -d 2027-10-01T06:00Z +%s` / 60).
const BEGINNING: Minute = 30_372_840;

fn stands(model: &Model) -> Vec<Standing> {
    let mut list = Vec::new();
    for person in APPRENTICES {
        for competency in &model.current.competencies {
            list.push((person, competency.id.clone(), model.stand(person, &competency.id, model.today())));
        }
    }
    list
}

/// Runs one command against both, and says whether it was accepted.
fn run(model: &mut Model, program: &mut Program, command: &Command) -> bool {
    let (ours, theirs) = match command {
        Command::Record(entries) => (model.record(entries).map_err(str::to_owned), program.record(entries, model.now)),
        Command::Correct(seq, entry) => {
            let ours = model.correct(*seq, entry).map(|seq| vec![model::Became::Recorded(seq)]);
            (ours.map_err(str::to_owned), program.correct(*seq, entry, model.now))
        }
        Command::Redact(entry) => {
            let ours = model.redact(entry).map(|seq| vec![model::Became::Recorded(seq)]);
            (ours.map_err(str::to_owned), program.redact(entry, model.now))
        }
        Command::Edition(edition) => {
            model.current = edition.clone();
            program.take_edition(edition);
            return true;
        }
        Command::Pass(minutes) => {
            model.now += minutes;
            return true;
        }
    };
    match (&ours, &theirs) {
        (Ok(ours), Ok(theirs)) if ours == theirs => true,
        (Err(_), Err(_)) => false,
        _ => panic!("{}: {command:#?}\nmodel: {ours:?}\nprogram: {theirs:?}\n{}", model.today(), program.tail()),
    }
}

fn sequence(seed: u64) -> Counts {
    let mut chance = Chance::new(seed);
    let edition = Edition::first();
    let mut program = Program::new(&edition);
    let mut model = Model::new(edition, BEGINNING);
    let (mut editions, mut quizzes, mut counts) = (1, 0, Counts::new());
    let everyone = Command::Record(first_people(model.today()));
    assert!(run(&mut model, &mut program, &everyone));
    let mut known = stands(&model);
    for number in 0..COMMANDS {
        let maker = Maker {
            model: &model,
            stands: &known,
            chance: &mut chance,
            editions: &mut editions,
            quizzes: &mut quizzes,
        };
        let (kind, command) = { maker }.next();
        let accepted = run(&mut model, &mut program, &command);
        let count = counts.entry(kind).or_default();
        *(if accepted { &mut count.0 } else { &mut count.1 }) += 1;
        known = stands(&model);
        program.compare(&known, model.today(), &format!("seed {seed}, command {number}, {command:?}"));
    }
    assert!(model.today() > jiff::civil::date(2028, 11, 1), "only {} was reached", model.today());
    program.audit();
    counts
}

#[test]
fn the_program_and_a_plain_model_of_the_rules_agree() {
    let runs: Vec<_> = (1..=4).map(|seed| std::thread::spawn(move || sequence(seed))).collect();
    let mut all = Counts::new();
    for run in runs {
        for (kind, (accepted, refused)) in run.join().expect("both agree") {
            let count = all.entry(kind).or_default();
            *count = (count.0 + accepted, count.1 + refused);
        }
    }
    let lines: Vec<String> = all
        .iter()
        .map(|(kind, (accepted, refused))| format!("{kind}: {accepted} accepted, {refused} refused"))
        .collect();
    std::io::Write::write_all(&mut std::io::stderr(), (lines.join("\n") + "\n").as_bytes()).expect("written");
    for (kind, (accepted, refused)) in &all {
        assert!(accepted * 10 >= (accepted + refused) * 3, "of `{kind}` too few were accepted:\n{}", lines.join("\n"));
        let may_fail = !matches!(*kind, "time" | "edition");
        assert!(
            !may_fail || refused * 50 >= accepted + refused,
            "of `{kind}` too few were refused:\n{}",
            lines.join("\n")
        );
    }
}
