//! Practice in the terminal, as an apprentice goes about it.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

use std::fs;

use assert_cmd::Command;
use tempfile::TempDir;

/// Status, what was printed, and what was said beside it, of a drill into which `typed` goes.
fn drill(arguments: &[&str], typed: impl Into<Vec<u8>>) -> (i32, String, String) {
    drill_in(&tempfile::tempdir().expect("a folder"), arguments, typed)
}

fn drill_in(folder: &TempDir, arguments: &[&str], typed: impl Into<Vec<u8>>) -> (i32, String, String) {
    let mut command = Command::cargo_bin("gearside").expect("built");
    let out = command.current_dir(folder).arg("drill").args(arguments).write_stdin(typed).output().expect("it runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    (out.status.code().unwrap_or(-1), text(out.stdout), text(out.stderr))
}

const FILM: &[&str] = &["film-on-the-web", "--seed", "3"];

/// All numbers of a text that stand right before a unit.
fn numbers(text: &str, unit: &str) -> Vec<f64> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let is_unit = |word: &str| word.trim_end_matches(['.', ',', '?']) == unit;
    words.windows(2).filter(|pair| is_unit(pair[1])).filter_map(|pair| pair[0].replace(',', ".").parse().ok()).collect()
}

/// The wet film of the question, worked out from the printed givens: 1 BCM/in² is
/// a billion cubic micrometres over 645.16 mm² (1 in = 25.4 mm), and shares multiply.
fn film(question: &str) -> f64 {
    let (volume, shares) = (numbers(question, "BCM/in²"), numbers(question, "%"));
    volume[0] * 1e9 / 645.16e6 * shares[0] / 100.0 * shares[1] / 100.0
}

#[test]
fn an_answer_is_read_and_right_with_or_without_its_unit() {
    let (_, question, _) = drill(FILM, "");
    let right = film(&question);
    for typed in [format!("{right:.3}"), format!("{right:.3} µm\r"), format!("{:.6} mm", right / 1000.0)] {
        let (status, out, _) = drill(FILM, format!("{typed}\n"));
        assert_eq!(status, 0, "{out}");
        assert!(out.contains("Read as") && out.contains("Right.") && out.contains("1 right at once"), "{typed}: {out}");
    }
}

#[test]
fn a_wrong_answer_may_be_given_again_and_the_end_is_right_in_the_end() {
    let (_, question, _) = drill(FILM, "");
    let (_, out, _) = drill(FILM, format!("999\n{:.3}\n", film(&question)));
    assert!(out.contains("Wrong.") && out.contains("0 right at once, 1 right in the end, 0 left"), "{out}");
    assert!(out.contains("Go over:") && out.contains("gearside drill predict-ink-film"), "{out}");
}

#[test]
fn a_wrong_turn_is_told_with_its_reason() {
    let (_, question, _) = drill(FILM, "");
    // Whoever stops at the plate leaves the second share out.
    let second = numbers(&question, "%")[1];
    let (_, out, _) = drill(FILM, format!("{:.3}\n", film(&question) / second * 100.0));
    assert!(out.contains("A wrong turn.\n  "), "{out}");
}

#[test]
fn one_more_line_shows_the_working_step_by_step_and_an_empty_line_the_key() {
    let (_, out, _) = drill(FILM, "?\n?\n?\n?\n\n");
    assert!(out.contains("1.55") && out.contains("That was the last line."), "{out}");
    assert!(out.contains("Key, wet film on the web (µm):") && out.contains("1 left"), "{out}");
}

#[test]
fn fresh_numbers_are_other_numbers_and_a_seed_brings_the_same_back() {
    let questions = |out: &str| -> Vec<String> {
        out.lines().filter(|line| line.contains("BCM/in²")).map(str::to_owned).collect()
    };
    let (_, once, _) = drill(FILM, "n\nn\nq\n");
    let all = questions(&once);
    assert_eq!(all.len(), 3, "{once}");
    assert!(all[0] != all[1] || all[1] != all[2], "{once}");
    assert_eq!(drill(FILM, "n\nn\nq\n").1, once);
    let (_, _, said) = drill(&["film-on-the-web"], "q\n");
    let (_, rest) = said.split_once("--seed ").expect("it is said");
    let seed: String = rest.chars().take_while(char::is_ascii_digit).collect();
    let first = drill(&["film-on-the-web", "--seed", &seed], "").1;
    assert_eq!(drill(&["film-on-the-web", "--seed", &seed], "").1, first);
}

#[test]
fn a_number_that_is_none_is_asked_for_again_and_costs_nothing() {
    let (_, question, _) = drill(FILM, "");
    let right = format!("{:.3}", film(&question));
    let junk: Vec<u8> = [b"about half\n0.5 furlongs\n\xff\xfe\n", right.as_bytes(), b"\n"].concat();
    let (status, out, _) = drill(FILM, junk);
    assert_eq!(status, 0);
    assert_eq!(out.matches("Type it again.").count(), 3, "{out}");
    assert!(out.contains("1 right at once"), "{out}");
}

#[test]
fn the_end_of_the_input_ends_it_without_a_fault() {
    for typed in ["", "q\n", "q"] {
        let (status, out, _) = drill(FILM, typed);
        assert_eq!(status, 0);
        assert!(out.contains("No exercise was finished."), "{out}");
    }
}

const WEB: &[&str] = &["when-a-change-reaches-the-rewind", "--seed", "3"];

/// The web from the deck to the rewind in feet and the time in seconds, worked
/// out from the printed givens; `more` spans too many are counted.
fn web(question: &str, more: f64) -> (f64, f64) {
    let words: Vec<&str> = question.split_whitespace().collect();
    let after = |lead: &[&str]| -> f64 {
        let at = words.windows(lead.len()).position(|window| window == lead).expect("the words");
        words[at + lead.len()].trim_end_matches(',').parse().expect("a number")
    };
    let (last, first) = (after(&["press", "has"]), after(&["setting", "at", "deck"]));
    let (span, tail, speed) = (numbers(question, "in")[0], numbers(question, "ft")[0], numbers(question, "ft/min")[0]);
    let path = (last - first + more) * span / 12.0 + tail;
    (path, path / speed * 60.0)
}

#[test]
fn what_follows_from_an_own_wrong_answer_is_carried() {
    let (_, question, _) = drill(WEB, "");
    let (path, time) = web(&question, 0.0);
    let (_, out, _) = drill(WEB, format!("{path:.1}\n{time:.2}\n"));
    assert!(out.contains("1 right at once"), "{out}");
    // One span too many is a known wrong turn; the time that goes with it is right given that.
    let (path, time) = web(&question, 1.0);
    let (_, out, _) = drill(WEB, format!("{path:.1}\n\n{time:.2}\n"));
    assert!(out.contains("A wrong turn.") && out.contains("You counted both ends."), "{out}");
    assert!(out.contains("Right, carried on from your own earlier answer."), "{out}");
    assert!(out.contains("1 left"), "one part was wrong: {out}");
}

/// The number before a shown move or option.
fn number_of(out: &str, says: &str) -> Option<String> {
    let line = out.lines().find(|line| line.trim_start().contains(says) && line.starts_with("  "))?;
    line.split_whitespace().next().map(str::to_owned)
}

#[test]
fn cautions_stand_before_the_question_and_an_order_is_numbers() {
    let arguments = &["look-at-a-new-task", "--seed", "1"];
    let (_, out, _) = drill(arguments, "");
    let at = |text: &str| out.find(text).unwrap_or_else(|| panic!("{text}: {out}"));
    assert!(at("CAUTION  Turning rolls: A nip takes in") < at("You are to clean the rolls"));
    // An order that any safety talk would take: know, look, name, choose, wear, make safe, clean, tell.
    let order = [
        "Read the site",
        "Read the data sheet",
        "Walk round",
        "Name the hazards",
        "Say which measure",
        "Fetch and put on",
        "Make the press safe",
        "Clean the rolls",
        "Tell the next crew",
    ];
    let mut right: Vec<String> = order.iter().filter_map(|says| number_of(&out, says)).collect();
    let good = right.join(" ");
    right.reverse();
    let (_, out, _) = drill(arguments, format!("{}\n{good}\n", right.join(" ")));
    assert!(out.contains("A safety step is out of place") && out.contains("Hands go between rolls."), "{out}");
    assert!(out.contains("1 right in the end"), "{out}");
}

#[test]
fn a_choice_is_a_number_and_one_that_is_not_there_costs_nothing() {
    let arguments = &["where-the-data-sheet-says-it", "--seed", "1"];
    let (_, out, _) = drill(arguments, "");
    // Section 8 of a safety data sheet is on exposure and personal protection: GHS, UN, annex 4.
    let right = number_of(&out, "Section 8").expect("an option");
    let (_, out, _) = drill(arguments, format!("7\n{right}\n"));
    assert!(out.contains("Type it again.") && out.contains("1 right at once"), "{out}");
    let (_, out, _) = drill(arguments, "?\n?\n?\n\n");
    assert_eq!(out.matches("Not “Section").count(), 3, "{out}");
}

const KISS: &[&str] = &["from-squeeze-to-kiss", "--seed", "1"];
const STEP_IN: &str = "by one small step on both sides";
const BACK_OFF: &str = "until the print breaks";

/// What is typed, a line for each.
fn line_each(typed: &[String]) -> String {
    typed.iter().flat_map(|one| [one.as_str(), "\n"]).collect()
}

/// The moves that bring that print to kiss, found as a press operator finds them: back off if it
/// is squeezed or flooded, then in by small steps, looking each time, until dots and edges are whole.
fn moves_to_kiss() -> Vec<String> {
    let mut done: Vec<String> = Vec::new();
    for _ in 0..5 {
        let (_, out, _) = drill(KISS, line_each(&done));
        let seen = out.lines().rfind(|line| line.starts_with("  Sample ")).expect("a sample");
        if seen.contains("round and whole") {
            return done;
        }
        let next = if seen.contains("rim runs round every dot") { BACK_OFF } else { STEP_IN };
        done.push(number_of(&out, next).expect("that move"));
    }
    panic!("no kiss after {done:?}");
}

#[test]
fn rounds_are_played_move_by_move_and_left_where_they_are_right() {
    let moves = moves_to_kiss();
    let typed = line_each(&moves);
    let (status, out, _) = drill(KISS, format!("{typed}\n"));
    assert_eq!(status, 0, "{out}");
    assert_eq!(out.matches("  Sample ").count(), moves.len() + 1, "{out}");
    assert!(out.contains(&format!("Read as {}. Right.", moves.join(" "))) && out.contains("1 right at once"), "{out}");
}

#[test]
fn a_move_that_is_not_there_costs_no_round_and_the_last_round_ends_it() {
    let step = number_of(&drill(KISS, "").1, STEP_IN).expect("that move");
    let (_, out, _) = drill(KISS, format!("9\nkiss\n1 2\n{}", format!("{step}\n").repeat(6)));
    assert_eq!(out.matches("Type it again.").count(), 3, "{out}");
    let read = vec![step; 5].join(" ");
    assert!(out.contains("Move 5 of at most 5") && out.contains(&format!("Read as {read}. Wrong.")), "{out}");
}

#[test]
fn an_unsafe_move_is_told_with_its_reason_whatever_it_led_to() {
    let moves = moves_to_kiss();
    let rag = number_of(&drill(KISS, "").1, "Hold a rag").expect("that move");
    let typed = line_each(&[&[rag], &moves[..]].concat());
    let (_, out, _) = drill(KISS, format!("{typed}\n"));
    assert!(out.contains("UNSAFE  “Hold a rag") && out.contains("A nip takes a rag and the hand with it."), "{out}");
    assert!(out.contains("An unsafe move") && !out.contains("1 right"), "{out}");
}

#[test]
fn more_moves_than_it_takes_end_right_and_the_fewest_are_told() {
    let moves = moves_to_kiss();
    let back = number_of(&drill(KISS, "").1, BACK_OFF).expect("that move");
    let step = number_of(&drill(KISS, "").1, STEP_IN).expect("that move");
    // Off again until it breaks, and in by one step, as the last small steps are done.
    let typed = line_each(&[&moves[..], &[back, step]].concat());
    let (_, out, _) = drill(KISS, format!("{typed}\n"));
    assert!(out.contains(&format!("It can be done in {} moves.", moves.len())), "{out}");
}

#[test]
fn a_programme_with_a_decimal_comma_reads_and_prints_one() {
    let folder = tempfile::tempdir().expect("a folder");
    Command::cargo_bin("gearside").expect("built").current_dir(&folder).args(["new", "own"]).assert().success();
    let about = folder.path().join("own/curriculum/programme.yaml");
    let text = fs::read_to_string(&about).expect("a programme");
    fs::write(&about, text.replace("decimal: \".\"", "decimal: \",\"")).expect("written");
    let own = [FILM, &["--programme", "own"]].concat();
    let (_, question, _) = drill_in(&folder, &own, "");
    let right = format!("{:.3}", film(&question)).replace('.', ",");
    let (_, out, err) = drill_in(&folder, &own, format!("{right}\n"));
    assert!(out.contains(&format!("Read as {right} µm. Right.")), "{out}{err}");
}

#[test]
fn a_name_that_is_not_there_is_refused_with_the_nearest() {
    let (status, _, err) = drill(&["predict-ink-fil"], "");
    assert_eq!(status, 2);
    assert!(err.contains("did you mean `predict-ink-film`?"), "{err}");
    let (status, out, _) = drill(&["--json"], "");
    assert!(status == 2 && out.contains("\"faults\""), "{out}");
    let (status, _, err) = drill(&["a-new-cleaner-arrives"], "");
    assert!(status == 2 && err.contains("kept for quizzes"), "{err}");
}
