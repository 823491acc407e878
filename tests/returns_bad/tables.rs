//! Marking tables from paper, as spreadsheets and people leave them.

use crate::sitting::Class;
use crate::{counted, marked, refusal, sitting_of};

/// What is done to a table at one of its rows.
type Harm = fn(&mut Sheet, usize);

/// The marking table with answers for some dockets, row by row.
struct Sheet {
    header: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl Sheet {
    fn of(class: &Class) -> Self {
        let table = class.marking_table();
        let mut reader = csv::Reader::from_reader(table.trim_start_matches('\u{feff}').as_bytes());
        let cells = |row: &csv::StringRecord| row.iter().map(str::to_owned).collect();
        let header = cells(reader.headers().expect("a header"));
        Self { header, rows: reader.records().map(|row| cells(&row.expect("a row"))).collect() }
    }

    fn column(&self, name: &str) -> usize {
        self.header.iter().position(|one| one == name).expect("a column")
    }

    /// The rows of a person.
    fn whose(&self, code: &str) -> Vec<usize> {
        let person = self.column("person");
        (0..self.rows.len()).filter(|row| self.rows[*row][person] == code).collect()
    }

    /// Fills in every row of a person, as far as `most` rows.
    fn fill(&mut self, code: &str, answer: &str, most: usize) {
        let (unit, at) = (self.column("unit"), self.column("answer"));
        for row in self.whose(code).into_iter().take(most) {
            let typed = if self.rows[row][unit] == "number in its box" { "-" } else { answer };
            typed.clone_into(&mut self.rows[row][at]);
        }
    }

    /// A row of a person that takes a number with a unit.
    fn numeric(&self, code: &str) -> usize {
        let unit = self.column("unit");
        let takes = |row: &usize| !self.rows[*row][unit].is_empty() && !self.rows[*row][unit].contains("number");
        self.whose(code).into_iter().find(takes).expect("a numeric part")
    }

    fn text(&self, mark: u8, terminator: csv::Terminator) -> String {
        let mut writer = csv::WriterBuilder::new().delimiter(mark).terminator(terminator).from_writer(Vec::new());
        writer.write_record(&self.header).expect("a row");
        self.rows.iter().for_each(|row| writer.write_record(row).expect("a row"));
        String::from_utf8(writer.into_inner().expect("bytes")).expect("text")
    }

    fn plain(&self) -> String {
        self.text(b',', csv::Terminator::CRLF)
    }
}

#[test]
fn a_table_may_come_back_in_any_form_that_spreadsheets_save() {
    let forms: [(&str, u8, csv::Terminator, &str); 4] = [
        ("", b',', csv::Terminator::Any(b'\n'), "1"),
        ("\u{feff}", b';', csv::Terminator::CRLF, "1"),
        ("\u{feff}", b'\t', csv::Terminator::CRLF, "1"),
        ("", b';', csv::Terminator::Any(b'\n'), "1,0"),
    ];
    let class = sitting_of(4);
    for (number, (mark, apart, terminator, answer)) in (1..).zip(forms) {
        let mut sheet = Sheet::of(&class);
        sheet.fill(&format!("a-{number:02}"), answer, usize::MAX);
        class.save("table.csv", &format!("{mark}{}", sheet.text(apart, terminator)));
        let (status, value, faults) = marked(&class, &["returns"]);
        assert_eq!((status, &value["taken"]), (0, &serde_json::json!([format!("a-{number:02}")])), "{faults:?}");
    }
    assert_eq!(counted(&class).0, 4);
    // The last table again, and after it one with all four: nothing is doubled.
    let mut sheet = Sheet::of(&class);
    for number in 1..=4 {
        sheet.fill(&format!("a-{number:02}"), if number == 4 { "1,0" } else { "1" }, usize::MAX);
    }
    class.save("all.csv", &sheet.plain());
    let (status, value, faults) = marked(&class, &["returns"]);
    assert_eq!((status, &value["already"], &value["facts"]), (0, &4.into(), &0.into()), "{faults:?}");
}

#[test]
fn of_a_faulty_table_the_sound_dockets_are_taken_and_the_others_named_with_their_lines() {
    let harm: [(&str, Harm, &str); 7] = [
        ("doubled", |sheet, row| sheet.rows.insert(row, sheet.rows[row].clone()), "as does line"),
        ("lost", |sheet, row| drop(sheet.rows.remove(row)), "lacks rows"),
        ("short", |sheet, row| sheet.rows[row].truncate(4), "this row has 4 cells"),
        ("unknown", |sheet, row| "99".clone_into(&mut sheet.rows[row][3]), "`exercise` is `99`"),
        ("other", |sheet, row| "week-1".clone_into(&mut sheet.rows[row][0]), "is of `week-1`"),
        ("whose", |sheet, row| "a-09".clone_into(&mut sheet.rows[row][2]), "name both"),
        ("lines", |sheet, row| "1\n2".clone_into(&mut sheet.rows[row][8]), ""),
    ];
    for (name, harm, why) in harm {
        let class = sitting_of(3);
        let mut sheet = Sheet::of(&class);
        (1..=3).for_each(|number| sheet.fill(&format!("a-{number:02}"), "1", usize::MAX));
        let row = sheet.numeric("a-02");
        harm(&mut sheet, row);
        // A short row is none that a writer of tables lets pass.
        let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
        writer.write_record(&sheet.header).expect("a row");
        sheet.rows.iter().for_each(|row| writer.write_record(row).expect("a row"));
        class.save_bytes("table.csv", &writer.into_inner().expect("bytes"));
        let (status, value, faults) = marked(&class, &["returns"]);
        assert_eq!((status, &value["taken"]), (1, &serde_json::json!(["a-01", "a-03"])), "{name}: {faults:?}");
        let said = faults.iter().any(|(file, fault)| {
            let lined = fault["place"]["line"].as_u64().is_some_and(|line| line > 1);
            file == "returns/table.csv" && lined && fault["message"].as_str().expect("a reason").contains(why)
        });
        assert!(said, "{name}: {faults:?}");
        assert!(faults.iter().all(|(_, fault)| !fault["mend"].as_str().expect("a mend").is_empty()), "{faults:?}");
        let (status, value, _) = marked(&class, &["returns"]);
        assert_eq!((status, &value["already"], &value["facts"], counted(&class).0), (1, &2.into(), &0.into(), 2));
    }
}

#[test]
fn rows_of_unknown_dockets_and_answers_too_long_are_refused_and_the_others_taken() {
    let class = sitting_of(3);
    let mut sheet = Sheet::of(&class);
    (1..=3).for_each(|number| sheet.fill(&format!("a-{number:02}"), "1", usize::MAX));
    let docket = sheet.column("docket");
    for row in sheet.whose("a-02") {
        "0000-0000-0000-0000".clone_into(&mut sheet.rows[row][docket]);
    }
    let (row, answer) = (sheet.numeric("a-03"), sheet.column("answer"));
    sheet.rows[row][answer] = "\u{1f60a}".repeat(201);
    class.save("table.csv", &sheet.plain());
    let (status, value, faults) = marked(&class, &["returns"]);
    assert_eq!((status, &value["taken"], &value["refused"]), (1, &serde_json::json!(["a-01"]), &2.into()));
    let said: Vec<&str> = faults.iter().filter_map(|(_, fault)| fault["message"].as_str()).collect();
    assert!(
        said.iter().any(|one| one.contains("no docket 0000")) && said.iter().any(|one| one.contains("longer than 200"))
    );
    assert!(
        faults.iter().any(|(_, fault)| fault["mend"] == "look at the docket again, and write what it says on one line")
    );
}

#[test]
fn a_table_without_its_columns_or_of_another_kind_is_refused_whole() {
    let class = sitting_of(2);
    class.save("good.json", &crate::answered(&class, 1, "1").to_string());
    for column in ["docket", "exercise", "part", "answer"] {
        let mut sheet = Sheet::of(&class);
        sheet.fill("a-02", "1", usize::MAX);
        let at = sheet.column(column);
        sheet.header.remove(at);
        sheet.rows.iter_mut().for_each(|row| drop(row.remove(at)));
        class.save(&format!("no-{column}.csv"), &sheet.plain());
    }
    class.save("people.csv", "code\na-01\n");
    class.save("open.csv", &Sheet::of(&class).plain().replacen("\r\n", "\r\n\"", 1));
    let (status, value, faults) = marked(&class, &["returns"]);
    assert_eq!((status, &value["taken"]), (1, &serde_json::json!(["a-01"])), "{faults:?}");
    for column in ["docket", "exercise", "part", "answer"] {
        let fault = refusal(&faults, &format!("returns/no-{column}.csv"));
        assert!(fault["message"].as_str().expect("a reason").contains(&format!("`{column}` is missing")), "{fault}");
    }
    for name in ["returns/people.csv", "returns/open.csv"] {
        assert!(faults.iter().any(|(file, _)| file == name), "{name}: {faults:?}");
    }
    assert_eq!(counted(&class).0, 1);
}

#[test]
fn an_unfinished_table_is_held_against_the_record_when_it_is_finished() {
    let class = sitting_of(3);
    let mut sheet = Sheet::of(&class);
    sheet.fill("a-01", "1", usize::MAX);
    sheet.fill("a-02", "1", 2);
    class.save("table.csv", &sheet.plain());
    // What is not filled in is a blank; a docket with nothing in it did not come back.
    let (status, value, _) = marked(&class, &["returns"]);
    assert_eq!(
        (status, &value["taken"], &value["not_back"]),
        (0, &serde_json::json!(["a-01", "a-02"]), &serde_json::json!(["a-03"]))
    );
    sheet.fill("a-02", "2", usize::MAX);
    sheet.fill("a-03", "1", usize::MAX);
    class.save("table.csv", &sheet.plain());
    let (status, value, faults) = marked(&class, &["returns"]);
    assert_eq!(
        (status, &value["taken"], &value["already"]),
        (1, &serde_json::json!(["a-03"]), &1.into()),
        "{faults:?}"
    );
    let [(_, fault)] = &faults[..] else { panic!("{faults:?}") };
    assert!(
        fault["message"].as_str().expect("a reason").contains("on record")
            && fault["mend"].as_str().expect("a mend").contains("--count")
    );
    let (status, value, faults) = marked(&class, &["returns", "--count", "returns/table.csv"]);
    assert_eq!(
        (status, &value["taken"], &value["already"]),
        (0, &serde_json::json!(["a-02"]), &2.into()),
        "{faults:?}"
    );
    assert_eq!(counted(&class).0, 4, "the first one stays on record beside it");
}
