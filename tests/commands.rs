//! The built binary, used as people use it: from an empty folder, with mistakes.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use tempfile::TempDir;

/// A working folder of its own.
struct Folder(TempDir);

/// What a run printed, and how it ended.
struct Ran {
    status: i32,
    out: String,
    err: String,
}

impl Folder {
    fn new() -> Self {
        Self(tempfile::tempdir().expect("a folder"))
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn run(&self, line: &str) -> Ran {
        let mut command = Command::cargo_bin("gearside").expect("the binary");
        let output = command.current_dir(self.0.path()).args(line.split_whitespace()).output().expect("it ran");
        Ran {
            status: output.status.code().expect("a status"),
            out: String::from_utf8(output.stdout).expect("UTF-8"),
            err: String::from_utf8(output.stderr).expect("UTF-8"),
        }
    }
}

/// All files of a folder, with their bytes.
fn files(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut list: Vec<(String, Vec<u8>)> = fs::read_dir(folder)
        .expect("a folder")
        .map(|entry| entry.expect("an entry").path())
        .map(|path| {
            (path.file_name().expect("a name").to_string_lossy().into_owned(), fs::read(&path).expect("a file"))
        })
        .collect();
    list.sort();
    list
}

#[test]
fn the_main_job_works_in_an_empty_folder() {
    let folder = Folder::new();
    let ran = folder.run("workbook");
    assert_eq!((ran.status, ran.out.trim()), (0, "out/workbook/index.html"), "{}", ran.err);
    assert!(folder.path("out/workbook/predict-ink-film.html").exists());
    assert!(folder.path("out/workbook-keys/predict-ink-film.html").exists());
    let page = fs::read_to_string(folder.path("out/workbook/predict-ink-film.html")).expect("a page");
    for part in
        ["Worked for you", "Half worked", "On your own", "Self-quiz", "Formula sheet", "Content-Security-Policy"]
    {
        assert!(page.contains(part), "no {part}");
    }
}

#[test]
fn the_same_seed_gives_the_same_bytes_and_another_seed_does_not() {
    let folder = Folder::new();
    for line in ["workbook --seed 7 -o a", "workbook --seed 7 -o b", "workbook --seed 8 -o c"] {
        assert_eq!(folder.run(line).status, 0);
    }
    assert_eq!(files(&folder.path("a")), files(&folder.path("b")));
    assert_eq!(files(&folder.path("a-keys")), files(&folder.path("b-keys")));
    assert_ne!(files(&folder.path("a")), files(&folder.path("c")));
}

#[test]
fn a_new_exercise_or_given_changes_no_pull_of_any_other() {
    let folder = Folder::new();
    assert_eq!(folder.run("new mine").status, 0);
    // Three banks of many are enough.
    for bank in fs::read_dir(folder.path("mine/question-banks")).expect("banks") {
        let bank = bank.expect("a bank").path();
        if !["anilox.yaml", "tone.yaml", "ink-deck.yaml"].iter().any(|kept| bank.ends_with(kept)) {
            fs::remove_file(&bank).expect("removed");
        }
    }
    let all = |folder: &Folder| -> Vec<(String, String)> {
        let report: serde_json::Value =
            serde_json::from_str(&folder.run("prove --programme mine --pulls 10 --json").out).expect("JSON");
        let ids = report["exercises"]
            .as_array()
            .expect("exercises")
            .iter()
            .map(|one| one["id"].as_str().expect("an id").to_owned());
        ids.map(|id| (folder.run(&format!("show {id} --programme mine --seed 7 --json")).out, id))
            .map(|(out, id)| (id, out))
            .collect()
    };
    let before = all(&folder);
    let bank = folder.path("mine/question-banks/anilox.yaml");
    let text = fs::read_to_string(&bank).expect("a bank");
    // One exercise in front of all others, and a given put in front of another exercise's givens.
    let (head, rest) = text.split_once("exercises:\n").expect("a bank");
    let (first, rest) = rest.split_once("    givens:\n").expect("givens");
    let changed_id =
        first.rsplit("- id: ").next().and_then(|part| part.lines().next()).expect("an id").trim().to_owned();
    let added = "  - id: quite-new\n    competency: predict-ink-film\n    kind: choose\n    title: New\n    level: recall\n    ask: New?\n    options:\n      - { says: \"Yes\", right: true, because: \"It is.\" }\n      - { says: \"No\", because: \"It is.\" }\n";
    fs::write(
        &bank,
        format!(
            "{head}exercises:\n{added}{first}    givens:\n      put_in_front: {{ between: [1, 9], every: 1 }}\n{rest}"
        ),
    )
    .expect("written");
    let after = all(&folder);
    assert_eq!(after.len(), before.len() + 1);
    for (id, shown) in &before {
        let now = &after.iter().find(|(other, _)| other == id).expect("still there").1;
        assert_eq!(shown, now, "{id} changed when {changed_id} did");
    }
}

#[test]
fn the_shipped_programme_is_fit_for_use() {
    let ran = Folder::new().run("prove");
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(ran.out.ends_with("Fit for use.\n"), "{}", ran.out);
    assert!(!ran.err.contains("fault"), "{}", ran.err);
}

#[test]
fn a_calculation_is_worked_with_formula_numbers_result_and_source() {
    let ran = Folder::new().run("work wet_film volume=3.8BCM release=25% --in mil");
    assert_eq!(ran.status, 0, "{}", ran.err);
    // 3.8 × 1.5500031 × 0.25 = 1.4725 µm; over 25.4 that is 0.057973 mil (Python 3.11).
    for part in ["h = V × T", "3.8 BCM/in²", "25 %", "0.057973 mil", "Source:"] {
        assert!(ran.out.contains(part), "no `{part}` in\n{}", ran.out);
    }
    let json: serde_json::Value =
        serde_json::from_str(&Folder::new().run("work wet_film volume=3.8BCM release=25% --json").out).expect("JSON");
    assert!((json["result"]["value"].as_f64().expect("a value") - 1.472_502_9).abs() < 1e-6, "{json}");
}

#[test]
fn a_value_outside_its_range_is_worked_with_a_remark() {
    let ran = Folder::new().run("work zahn_2 seconds=12");
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(ran.out.contains("Remark:") && ran.out.contains("20 to 80"), "{}", ran.out);
}

#[test]
fn every_calculation_explains_itself() {
    let folder = Folder::new();
    let list = folder.run("work");
    let names: Vec<&str> = list
        .out
        .lines()
        .filter(|line| line.starts_with("  "))
        .filter_map(|line| line.split_whitespace().next())
        .collect();
    assert!(names.len() >= 25, "{}", list.out);
    for name in names {
        let ran = folder.run(&format!("work {name}"));
        assert!(ran.status == 0 && ran.out.contains("Source:"), "{name}: {}{}", ran.out, ran.err);
    }
}

#[test]
fn mistakes_on_the_command_line_are_told_with_a_way_out() {
    let folder = Folder::new();
    for (line, status, says) in [
        ("work wett_film volume=1", 2, "did you mean `wet_film`?"),
        ("work wet_film volume=3kg release=25%", 2, "a mass"),
        ("work wet_film volume=3 relase=25%", 2, "did you mean `release`?"),
        ("work wet_film volume=3", 2, "`release` is missing"),
        ("work wet_film volume=3 volume=4 release=1%", 2, "twice"),
        ("work wet_film volume=3BCM release=25% --in kg", 2, "measures a mass"),
        ("show film-on-the-wed", 2, "did you mean `film-on-the-web`?"),
        ("workbook --stage anilos", 2, "did you mean `anilox`?"),
        ("prove nowhere.yaml", 2, "there is no file nowhere.yaml"),
        ("prove --programme nowhere", 3, "nowhere"),
        ("wrokbook", 2, "workbook"),
        ("workbook --seed", 2, "--seed"),
    ] {
        let ran = folder.run(line);
        assert_eq!(ran.status, status, "{line}: {}", ran.err);
        assert!(ran.err.contains(says), "{line}: {}", ran.err);
        assert!(ran.out.is_empty(), "{line}: {}", ran.out);
    }
}

#[test]
fn a_folder_that_is_not_ours_is_never_replaced() {
    let folder = Folder::new();
    fs::create_dir(folder.path("thesis")).expect("a folder");
    fs::write(folder.path("thesis/notes.txt"), "years of work").expect("a file");
    assert_eq!(folder.run("workbook -o thesis").status, 2);
    assert_eq!(folder.run("new thesis").status, 2);
    assert_eq!(fs::read_to_string(folder.path("thesis/notes.txt")).expect("still there"), "years of work");
    // A programme of one's own is not a built folder either.
    assert_eq!(folder.run("new mine").status, 0);
    assert_eq!(folder.run("workbook -o mine").status, 2);
    assert!(folder.path("mine/curriculum/programme.yaml").exists());
}

#[test]
fn an_exercise_is_shown_with_givens_key_working_and_wrong_turns() {
    let ran = Folder::new().run("show film-on-the-web --seed 7");
    for part in ["given", "step", "key", "turn"] {
        assert!(ran.out.contains(part), "no `{part}` in\n{}", ran.out);
    }
    let ran = Folder::new().run("show load-an-open-blade-deck");
    for part in ["CAUTION", "your site's procedure", "move", "pair", "valid orders"] {
        assert!(ran.out.contains(part), "no `{part}` in\n{}", ran.out);
    }
}

#[test]
fn a_template_of_the_programmes_own_stands_in_and_a_wrong_name_is_a_fault() {
    let folder = Folder::new();
    assert_eq!(folder.run("workbook --templates all").status, 0);
    fs::create_dir(folder.path("site-template")).expect("a folder");
    let base = fs::read_to_string(folder.path("all/base.html")).expect("a template");
    fs::write(folder.path("site-template/base.html"), base.replace("<body", "<body data-ours=\"yes\""))
        .expect("written");
    assert_eq!(folder.run("workbook").status, 0);
    assert!(fs::read_to_string(folder.path("out/workbook/index.html")).expect("a page").contains("data-ours"));
    fs::write(folder.path("site-template/bass.html"), "x").expect("written");
    let ran = folder.run("workbook");
    assert!(ran.status == 1 && ran.err.contains("did you mean `base.html`?"), "{}", ran.err);
    fs::remove_file(folder.path("site-template/bass.html")).expect("removed");
    fs::write(folder.path("site-template/front.html"), "{{ page.titel }}").expect("written");
    let ran = folder.run("workbook");
    assert!(ran.status == 1 && ran.err.contains("front.html:1"), "{}", ran.err);
}

#[test]
fn completions_and_manual_come_from_the_same_definitions() {
    let folder = Folder::new();
    let (completions, manual) = (folder.run("completions bash"), folder.run("manual"));
    for command in ["workbook", "prove", "show", "work", "new"] {
        assert!(completions.out.contains(command) && manual.out.contains(command), "{command}");
    }
}

#[test]
fn a_value_outside_its_range_is_told_by_the_proof_and_in_the_working() {
    let folder = Folder::new();
    assert_eq!(folder.run("new plant").status, 0);
    let bank = "topic: over\ntitle: Over a hundred\nexercises:\n  - id: over-a-hundred\n    competency: measure-tone-value\n    title: Over a hundred\n    givens: { tint: { between: [1.20, 1.30], every: 0.001 }, solid: { one_of: [1.05] } }\n    ask: A tint reads {{ tint }}, the solid {{ solid }}. What tone value is that?\n    steps: [{ name: tone, is: \"tone_value(tint, solid)\", in: \"%\", shown_to: 0.1 }]\n    sane: 90 % .. 110 %\n";
    let file = folder.path("plant/question-banks/over.yaml");
    fs::write(&file, bank).expect("written");
    let ran = folder.run("--programme plant prove plant/question-banks/over.yaml");
    assert_eq!(ran.status, 1, "{}", ran.out);
    assert!(ran.err.contains("is outside 0 to 100 %") && ran.err.contains("beyond_range: true"), "{}", ran.err);
    fs::write(&file, bank.replace("    givens:", "    beyond_range: true\n    givens:")).expect("written");
    let ran = folder.run("--programme plant prove plant/question-banks/over.yaml");
    assert_eq!(ran.status, 0, "{}", ran.err);
    let ran = folder.run("--programme plant show over-a-hundred");
    assert!(ran.out.contains("Remark: ") && ran.out.contains("outside 0 to 100 %"), "{}", ran.out);
    let ran = folder.run("--programme plant workbook -o pages");
    assert_eq!(ran.status, 0, "{}", ran.err);
    let page = fs::read_to_string(folder.path("pages/measure-tone-value.html")).expect("a page");
    assert!(page.contains("is outside 0 to 100 %, the range that makes sense"), "no remark in the working");
}

#[test]
fn the_shipped_programme_is_fit_in_either_unit_world() {
    let folder = Folder::new();
    assert_eq!(folder.run("new plant").status, 0);
    let file = folder.path("plant/curriculum/programme.yaml");
    let text = fs::read_to_string(&file).expect("a programme");
    for (world, foreign) in [("us", [" mm", " kg", " m/min", " °C"]), ("si", [" in.", " lb", " ft/min", " °F"])] {
        fs::write(&file, text.replace("units: both", &format!("units: {world}"))).expect("written");
        let ran = folder.run("--programme plant prove --pulls 200");
        assert_eq!(ran.status, 0, "units: {world}\n{}", ran.err);
        let ran = folder.run("--programme plant show repeat-and-bare-cylinder --seed 3 --json");
        let shown: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
        let ask = shown["ask"].as_str().expect("a question");
        assert!(foreign.iter().all(|unit| !ask.contains(unit)), "units: {world}: {ask}");
    }
}

#[test]
fn a_programme_has_its_own_word_for_a_deck_and_its_own_inks() {
    let folder = Folder::new();
    assert_eq!(folder.run("new plant").status, 0);
    let file = folder.path("plant/curriculum/programme.yaml");
    let text = fs::read_to_string(&file).expect("a programme");
    let changed = text
        .replace("unit_word: deck", "unit_word: station")
        .replace("ink_system: [water-based, solvent-based, uv-curing]", "ink_system: [water-based]");
    assert_ne!(changed.len(), text.len());
    fs::write(&file, changed).expect("written");
    let ran = folder.run("--programme plant prove");
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(!ran.out.contains("uv-ink-that-stays-wet"), "an exercise for other inks is still there");
    let ran = folder.run("--programme plant workbook -o pages");
    assert_eq!(ran.status, 0, "{}", ran.err);
    let page = fs::read_to_string(folder.path("pages/know-the-web-path.html")).expect("a page");
    assert!(page.contains("station"), "the programme's word is not on the page");
    let front = fs::read_to_string(folder.path("pages/index.html")).expect("the front page");
    assert!(front.contains("water-based") && !front.contains("UV-curing"), "the inks are not on the front page");
}

#[test]
fn without_script_an_order_is_not_shown_in_its_written_order() {
    let folder = Folder::new();
    assert_eq!(folder.run("workbook --stage closing").status, 0);
    let page = fs::read_to_string(folder.path("out/workbook/wash-up.html")).expect("a page");
    let lists: Vec<Vec<usize>> = page
        .split("<ol class=\"moves\">")
        .skip(1)
        .map(|rest| {
            let list = rest.split("</ol>").next().unwrap_or_default();
            let shown = list
                .split("<li data-n=\"")
                .skip(1)
                .filter(|one| !one.split('>').next().unwrap_or_default().contains("hidden"));
            shown.filter_map(|one| one.split('"').next()?.parse().ok()).collect()
        })
        .collect();
    assert!(lists.len() >= 3, "{}", lists.len());
    assert!(lists.iter().any(|list| !list.is_sorted()), "every list of moves stands as it is written: {lists:?}");
}

#[test]
fn a_plan_that_cannot_yield_the_evidence_is_a_fault() {
    let folder = Folder::new();
    assert_eq!(folder.run("new plant").status, 0);
    let file = folder.path("plant/curriculum/plan.yaml");
    let text = fs::read_to_string(&file).expect("a plan");
    let teach = |week: &str, ids: &str, again: &str| {
        text.replace(&format!("  {week}: [{ids}]"), &format!("  {week}: [{again}]"))
    };
    for (changed, message) in [
        (text.replace("minutes: 45", "minutes: 5"), "minutes of marked work; the quizzes left have"),
        (
            teach("1", "make-the-press-safe, act-in-an-emergency", "wash-up"),
            "`wash-up` is taught in week 1, before `load-an-ink-deck`, which it needs",
        ),
        (teach("31", "confirm-and-report", ""), "`confirm-and-report` is never taught"),
    ] {
        assert_ne!(changed, text, "{message}");
        fs::write(&file, changed).expect("written");
        let ran = folder.run("--programme plant prove --pulls 20");
        assert_eq!(ran.status, 1, "{message}");
        assert!(ran.err.contains(message), "{message}\n{}", ran.err);
    }
    fs::write(&file, text.replace("breaks: [8, 16, 17]", "breaks: [\"2026-10-28\", \"2026-12-24\", 17]"))
        .expect("written");
    let ran = folder.run("--programme plant prove --json");
    let report: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!(report["plan"]["competencies"][0]["quizzes"], 33, "a date is a break of its week");
}
