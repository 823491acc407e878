//! A class that sits quizzes, by way of the built binary.

#![allow(dead_code, reason = "each test uses its own part of it")]
#![allow(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use gearside::records::{Link, Store, Walk};
use serde_json::{Value, json};

/// A programme folder with a class (invented), and its quiz of week 12.
pub(crate) struct Class {
    _home: tempfile::TempDir,
    pub(crate) folder: PathBuf,
}

/// A part of a docket, as the marking table has it.
pub(crate) struct Row {
    pub(crate) exercise: usize,
    pub(crate) part: usize,
    /// What goes into an order's box is told apart by its unit.
    pub(crate) is_order: bool,
}

fn started(more: &[&str]) -> Class {
    let home = tempfile::tempdir().expect("a folder");
    let folder = home.path().join("class");
    Command::cargo_bin("gearside").expect("built").arg("new").args(more).arg(&folder).assert().success();
    Class { _home: home, folder }
}

impl Class {
    /// A class with ten weeks behind it.
    pub(crate) fn start() -> Self {
        started(&["--demo"])
    }

    /// A programme without records.
    pub(crate) fn without_records() -> Self {
        started(&[])
    }

    /// So many apprentices, `a-01` and on, who have done nothing yet.
    pub(crate) fn of(people: usize) -> Self {
        let class = started(&[]);
        let coordinator = ["record", "person", "c-1", "--role", "coordinator", "--entered-by", "c-1"];
        assert_eq!(class.run(&coordinator).0, 0);
        let rows = (1..=people).map(|number| format!("a-{number:02},Invented Number {number},apprentice\n"));
        fs::write(class.folder.join("people.csv"), format!("code,name,role\n{}", rows.collect::<String>()))
            .expect("a file");
        let (status, _, err) = class.run(&["record", "person", "--csv", "people.csv"]);
        assert_eq!(status, 0, "{err}");
        class
    }

    pub(crate) fn run(&self, arguments: &[&str]) -> (i32, String, String) {
        let out = Command::cargo_bin("gearside").expect("built").current_dir(&self.folder).args(arguments).output();
        let out = out.expect("it runs");
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
        (out.status.code().unwrap_or(-1), text(out.stdout), text(out.stderr))
    }

    pub(crate) fn issue(&self) -> Value {
        self.issue_with(&["--blank", "1"])
    }

    pub(crate) fn issue_with(&self, more: &[&str]) -> Value {
        let (status, out, err) = self.run(&[&["quiz", "--week", "12", "--json"], more].concat());
        assert_eq!(status, 0, "{err}");
        serde_json::from_str(&out).expect("JSON")
    }

    pub(crate) fn records(&self) -> PathBuf {
        self.folder.join("records.db")
    }

    pub(crate) fn marking_table(&self) -> String {
        fs::read_to_string(self.folder.join("out/quiz/week-12-key/marking.csv")).expect("a table")
    }

    /// What the page of a docket knows of itself.
    pub(crate) fn data(&self, file: &str) -> Value {
        let page = fs::read_to_string(self.folder.join("out/quiz/week-12").join(file)).expect("a page");
        let (_, rest) = page.split_once("id=\"docket\">").expect("its data");
        serde_json::from_str(rest.split_once('<').expect("its end").0).expect("JSON")
    }

    /// The rows of a docket in the marking table.
    pub(crate) fn rows(&self, docket: &str) -> Vec<Row> {
        let table = self.marking_table();
        let mut reader = csv::Reader::from_reader(table.as_bytes());
        let rows = reader.records().map(|row| row.expect("a row")).filter(|row| row[1] == *docket);
        let number = |text: &str| text.parse().expect("a number");
        rows.map(|row| Row {
            exercise: number(&row[3]),
            part: number(&row[5]),
            is_order: &row[7] == "number in its box",
        })
        .collect()
    }

    /// A return as the page of a docket saves it, every answer a blank.
    pub(crate) fn blank_return(&self, file: &str) -> Value {
        self.return_with(file, |_| String::new())
    }

    /// A return as the page of a docket saves it; an order's answer comes from its first row.
    pub(crate) fn return_with(&self, file: &str, answer: impl Fn(&Row) -> String) -> Value {
        let data = self.data(file);
        let mut answers: Vec<Vec<String>> = Vec::new();
        for row in self.rows(data["docket"].as_str().expect("a code")) {
            if row.exercise > answers.len() {
                answers.push(vec![answer(&row)]);
            } else if !row.is_order {
                answers[row.exercise - 1].push(answer(&row));
            }
        }
        json!({ "gearside": "return", "way": 1, "quiz": "week-12", "docket": data["docket"], "person": data["person"],
                "shown": data["shown"], "answers": answers, "closed_at": "" })
    }

    /// Saves a return, or what passes for one.
    pub(crate) fn save(&self, name: &str, text: &str) {
        self.save_bytes(name, text.as_bytes());
    }

    pub(crate) fn save_bytes(&self, name: &str, bytes: &[u8]) {
        fs::create_dir_all(self.folder.join("returns")).expect("a folder");
        fs::write(self.folder.join("returns").join(name), bytes).expect("a file");
    }
}

/// All files of a folder, by their whole paths.
pub(crate) fn bytes(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path());
    let mut all: Vec<_> = entries.map(|path| (path.display().to_string(), fs::read(&path).expect("a file"))).collect();
    all.sort();
    all
}

/// All facts on record: the file is sound, and the chain of facts walks.
pub(crate) fn facts(records: &Path) -> Vec<Link> {
    let store = Store::open(records).expect("it opens");
    store.check_file().expect("no damage");
    let (mut walk, mut links) = (Walk::default(), Vec::new());
    let read = store.read().each_link(1, |link| {
        walk.step(&link).expect("it follows");
        links.push(link);
    });
    read.expect("it is read");
    links
}
