//! The table as a spreadsheet and its user give it back.

use std::sync::LazyLock;

use proptest::prelude::*;

use super::*;
use crate::exchange::table::Table;

/// A rehearsed quiz with numbers, orders and choices, for two people and a blank docket.
static QUIZ: LazyLock<(Snapshot, Vec<KeptDocket>)> = LazyLock::new(|| {
    let with = ["tape-a-cylinder", "hazards-at-a-film-rewind", "which-film-is-left"];
    crate::quiz::rehearsed(&with, 45, &[(Some("a-1"), 45), (Some("007"), 45), (None, 45)])
});

/// The table in a spreadsheet, with nothing filled in yet.
#[derive(Clone)]
struct Open {
    columns: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl Open {
    fn new() -> Self {
        let (snapshot, kept) = &*QUIZ;
        let text = String::from_utf8(write(snapshot, kept)).expect("UTF-8");
        let table = Table::parse("marking.csv", &text).expect("a table");
        Self {
            columns: table.columns().map(str::to_owned).collect(),
            rows: table.cells().map(<[String]>::to_vec).collect(),
        }
    }

    fn column(&self, name: &str) -> usize {
        self.columns.iter().position(|column| column == name).expect(name)
    }

    /// The rows of an exercise of the docket at that place; both are counted from 0.
    fn rows_of(&self, place: usize, exercise: usize) -> Vec<usize> {
        let (docket, number) = (&QUIZ.0.dockets[place].docket, (exercise + 1).to_string());
        let (dockets, exercises) = (self.column("docket"), self.column("exercise"));
        let is = |row: &Vec<String>| row[dockets] == *docket && row[exercises] == number;
        (0..self.rows.len()).filter(|row| is(&self.rows[*row])).collect()
    }

    fn set(&mut self, row: usize, column: &str, text: &str) {
        let column = self.column(column);
        text.clone_into(&mut self.rows[row][column]);
    }

    /// Fills in the answers of a docket as they stand on the paper.
    fn fill(&mut self, place: usize, answers: &[Vec<String>]) {
        for (exercise, parts) in answers.iter().enumerate() {
            let rows = self.rows_of(place, exercise);
            if QUIZ.0.exercises[exercise].shown.kind == "order" {
                for (number, one) in (1..).zip(parts[0].split_whitespace()) {
                    let one: usize = one.parse().expect("a move");
                    self.set(rows[one - 1], "answer", &format!("{number}"));
                }
            } else {
                assert_eq!(rows.len(), parts.len());
                rows.iter().zip(parts).for_each(|(row, text)| self.set(*row, "answer", text));
            }
        }
    }

    fn is_empty(&self, place: usize) -> bool {
        let (dockets, answers) = (self.column("docket"), self.column("answer"));
        self.rows.iter().all(|row| row[dockets] != QUIZ.0.dockets[place].docket || row[answers].is_empty())
    }

    /// As a spreadsheet saves it.
    fn saved(&self, mark: u8, always_quoted: bool, line_end: csv::Terminator) -> String {
        let style = if always_quoted { csv::QuoteStyle::Always } else { csv::QuoteStyle::Necessary };
        let mut writer = csv::WriterBuilder::new();
        let writer = writer.delimiter(mark).quote_style(style).terminator(line_end);
        let mut writer = writer.from_writer(Vec::new());
        writer.write_record(&self.columns).expect("written");
        self.rows.iter().for_each(|row| writer.write_record(row).expect("written"));
        String::from_utf8(writer.into_inner().expect("bytes")).expect("UTF-8")
    }

    fn read(&self) -> (Vec<Came>, Faults) {
        parse("marking.csv", &self.saved(b',', false, csv::Terminator::CRLF), &QUIZ.0)
    }
}

/// The first exercise of a kind.
fn first(kind: &str) -> usize {
    QUIZ.0.exercises.iter().position(|one| one.shown.kind == kind).expect(kind)
}

/// Some answer to everything.
fn some_answers() -> Vec<Vec<String>> {
    let shown = QUIZ.0.exercises.iter().map(|one| &one.shown);
    shown
        .map(|shown| match shown.kind.as_str() {
            "numeric" => vec!["0.81".to_owned(); shown.parts.len()],
            "order" => vec![(1..=shown.says).rev().map(|number| number.to_string()).collect::<Vec<_>>().join(" ")],
            _ => vec!["2".to_owned(); shown.answers()],
        })
        .collect()
}

#[test]
fn the_table_goes_out_for_any_spreadsheet_and_without_names() {
    let (snapshot, kept) = &*QUIZ;
    let text = String::from_utf8(write(snapshot, kept)).expect("UTF-8");
    assert!(text.starts_with("\u{feff}quiz,docket,person,exercise,title,part,asks,unit,answer\r\nweek-12,"));
    let rows: usize = snapshot.exercises.iter().map(|one| rows_of(&one.shown)).sum();
    assert_eq!(text.lines().count(), 1 + 3 * rows);
    assert!(text.lines().skip(1).all(|line| line.ends_with(',')), "an answer is filled in");
    let open = Open::new();
    let order = first("order");
    for (place, row) in open.rows_of(0, order).into_iter().enumerate() {
        let row = &open.rows[row];
        assert_eq!(row[open.column("part")], (place + 1).to_string());
        assert_eq!(row[open.column("asks")], kept[0].exercises[order].own.says[place].plain.trim());
    }
    let mut with_commas = snapshot.clone();
    with_commas.head.decimal_comma = true;
    let text = String::from_utf8(write(&with_commas, kept)).expect("UTF-8");
    assert!(text.starts_with("\u{feff}quiz;docket;person;exercise;title;part;asks;unit;answer\r\nweek-12;"));
}

#[test]
fn a_docket_without_any_answer_did_not_come_back() {
    let mut open = Open::new();
    let (came, faults) = open.read();
    assert!(came.is_empty() && faults.0.is_empty());
    // A hyphen says that it did, with nothing on it.
    let row = open.rows_of(1, 0)[0];
    open.set(row, "answer", "-");
    let (came, faults) = open.read();
    assert_eq!((came.len(), faults.0.len()), (1, 0));
    assert_eq!(came[0].returned.docket, QUIZ.0.dockets[1].docket);
    assert!(came[0].returned.answers.iter().flatten().all(String::is_empty));
    // A blank docket with a name and no answer deserves a look.
    let row = open.rows_of(2, 0)[0];
    open.set(row, "person", "b-7");
    let (came, faults) = open.read();
    assert_eq!(
        (came.len(), faults.any(), faults.0[0].kind, faults.0[0].place.line),
        (1, false, "no-answer", Some(row + 2))
    );
}

#[test]
fn whose_it_is_survives_a_spreadsheet() {
    // What stands in the column, and whose it is then.
    for (place, written, wanted) in [
        (0, "a-1", "a-1"),
        (0, "A-1", "a-1"),
        (0, "", ""),
        (1, "7", "007"),
        (1, "007", "007"),
        (1, "17", "17"),
        (2, "b-7", "b-7"),
        (2, "", ""),
    ] {
        let mut open = Open::new();
        open.fill(place, &some_answers());
        (0..QUIZ.0.exercises.len())
            .flat_map(|one| open.rows_of(place, one))
            .collect::<Vec<_>>()
            .into_iter()
            .for_each(|row| open.set(row, "person", written));
        let (came, faults) = open.read();
        assert_eq!(faults.0.len(), 0, "{written}: {:?}", faults.0);
        assert_eq!(came[0].returned.person, wanted, "{written}");
    }
}

#[test]
fn one_row_is_enough_to_say_whose_a_blank_docket_is() {
    let mut open = Open::new();
    open.fill(2, &some_answers());
    let row = open.rows_of(2, 1)[0];
    open.set(row, "person", "b-7");
    let (came, _) = open.read();
    assert_eq!((came[0].returned.person.as_str(), came[0].from.line), ("b-7", Some(open.rows_of(2, 0)[0] + 2)));
    assert!(came[0].returned.seat(&QUIZ.0).is_ok());
}

#[test]
fn answers_may_look_as_spreadsheets_and_people_write_them() {
    let (order, choose, numeric) = (first("order"), first("choose"), first("numeric"));
    // Exercise, cell of its first row, answer; all else of the docket is blank.
    for (exercise, cell, wanted) in [
        (numeric, "0,81 µm", "0,81 µm"),
        (numeric, "'1/2", "1/2"),
        (numeric, "'-5 or so", "-5 or so"),
        (numeric, "-5", "-5"),
        (numeric, "=1+1", "=1+1"),
        (numeric, "–", ""),
        (numeric, "—", ""),
        (order, "1", "1"),
        (order, "01", "1"),
        (order, "2.0", "1"),
        (order, "3,00", "1"),
        (order, "-", ""),
        (choose, "2", "2"),
        (choose, "2.00", "2"),
        (choose, "1,3", "1 3"),
        (choose, "1.3", "1 3"),
        (choose, " 1 ; 3 ", "1 3"),
        (choose, "3 and 1", "!"),
        (choose, "-", ""),
    ] {
        let mut open = Open::new();
        let row = open.rows_of(0, exercise)[0];
        open.set(row, "answer", cell);
        let (came, faults) = open.read();
        let found = came.first().map_or("!", |came| came.returned.answers[exercise][0].as_str());
        assert_eq!(found, wanted, "`{cell}` of {}: {:?}", QUIZ.0.exercises[exercise].exercise, faults.0);
    }
}

/// Does harm to a row of the second docket, and looks for the faults: kind,
/// row, what the message holds. The first docket is taken all the same.
fn told(row: usize, harm: fn(&mut Open, usize), wanted: &[(&str, usize, &str)]) {
    let mut open = Open::new();
    (0..2).for_each(|place| open.fill(place, &some_answers()));
    harm(&mut open, row);
    let (came, faults) = parse("marking.csv", &loosely(&open), &QUIZ.0);
    let mut wanted: Vec<(Option<usize>, &str, &str)> =
        wanted.iter().map(|(kind, row, says)| (Some(row + 2), *kind, *says)).collect();
    wanted.sort_unstable();
    let mut found: Vec<(Option<usize>, &str, &str)> =
        faults.0.iter().map(|fault| (fault.place.line, fault.kind, fault.message.as_str())).collect();
    found.sort_unstable();
    assert_eq!(found.len(), wanted.len(), "{found:?}, not {wanted:?}");
    for (found, wanted) in found.iter().zip(&wanted) {
        let same = found.0 == wanted.0 && found.1 == wanted.1 && found.2.contains(wanted.2);
        assert!(same, "{found:?}, not {wanted:?}");
    }
    assert!(faults.any() && faults.0.iter().all(|fault| !fault.mend.is_empty()));
    let dockets: Vec<&str> = came.iter().map(|came| came.returned.docket.as_str()).collect();
    assert_eq!(dockets, [QUIZ.0.dockets[0].docket.as_str()], "{wanted:?}");
}

#[test]
fn rows_that_are_wrong_are_named_and_other_dockets_are_taken() {
    let rows = Open::new();
    let (order, first_row) = (rows.rows_of(1, first("order")), rows.rows_of(1, 0)[0]);
    let number = rows.rows_of(1, first("numeric"))[0];
    let lacking = ("missing-row", first_row, "lacks rows");
    told(
        number,
        |open, row| open.set(row, "exercise", "99"),
        &[lacking, ("unknown-row", number, "`exercise` is `99`")],
    );
    told(
        order[1],
        |open, row| open.set(row, "part", "2-Jan"),
        &[lacking, ("unknown-row", order[1], "a spreadsheet may have made")],
    );
    told(
        number + 1,
        |open, row| open.rows.insert(row, open.rows[row - 1].clone()),
        &[("doubled-row", number + 1, "part 1, as does line")],
    );
    told(order[2], |open, row| drop(open.rows.remove(row)), &[("missing-row", first_row, "part 3")]);
    told(
        number,
        |open, row| open.set(row, "quiz", "week-11"),
        &[("other-quiz", number, "`week-11`, not of `week-12`")],
    );
    told(number, |open, row| open.set(row, "person", "a-1"), &[("two-people", number, "name both")]);
    told(order[0], |open, row| open.rows[row].push("and more".to_owned()), &[lacking, ("cells", order[0], "10 cells")]);
    told(
        number,
        |open, row| open.set(row, "docket", ""),
        &[lacking, ("empty-cell", number, "an answer without a docket")],
    );
}

#[test]
fn answers_that_cannot_be_are_named_and_other_dockets_are_taken() {
    let rows = Open::new();
    let (order, choice) = (rows.rows_of(1, first("order")), rows.rows_of(1, first("choose"))[0]);
    told(
        order[1],
        |open, row| open.set(row, "answer", "99"),
        &[("order-box", order[1], "the box of move 2 of exercise")],
    );
    let twice = |open: &mut Open, row: usize| {
        let answer = open.column("answer");
        open.rows[row][answer] = open.rows[row - 1][answer].clone();
    };
    told(order[1], twice, &[("order-box", order[1], "the boxes of moves 1 and 2")]);
    told(order[0], |open, row| open.set(row, "answer", "first"), &[("order-box", order[0], "says `first`")]);
    told(choice, |open, row| open.set(row, "answer", "1 99"), &[("choice", choice, "options are 1 to")]);
    told(choice, |open, row| open.set(row, "answer", "1/3/2026"), &[("choice", choice, "a spreadsheet may have made")]);
}

/// The table with rows of any length.
fn loosely(open: &Open) -> String {
    let mut lines = crate::exchange::writing::Lines::parted_by(b',');
    lines.header(&open.columns.iter().map(String::as_str).collect::<Vec<_>>());
    open.rows.iter().for_each(|row| lines.row(row.iter().map(String::as_str)));
    String::from_utf8(lines.into_bytes()).expect("UTF-8")
}

#[test]
fn a_docket_of_another_quiz_is_refused_with_the_nearest_code() {
    let mut open = Open::new();
    open.fill(0, &some_answers());
    let docket = QUIZ.0.dockets[0].docket.clone();
    let other = format!("{}Z", &docket[..docket.len() - 1]);
    let column = open.column("docket");
    open.rows.iter_mut().filter(|row| row[column] == docket).for_each(|row| row[column].clone_from(&other));
    let (came, faults) = open.read();
    assert_eq!((came.len(), faults.0.len(), faults.0[0].kind), (0, 1, "foreign-docket"));
    assert_eq!(faults.0[0].mend, format!("did you mean `{docket}`?"));
    // Small letters are no other code.
    open.rows.iter_mut().filter(|row| row[column] == other).for_each(|row| row[column] = docket.to_lowercase());
    assert_eq!(open.read().0.len(), 1);
}

#[test]
fn an_answer_that_became_a_date_is_taken_with_a_remark() {
    let mut open = Open::new();
    let row = open.rows_of(0, first("numeric"))[0];
    open.set(row, "answer", "2-Jan");
    let (came, faults) = open.read();
    assert_eq!((came.len(), faults.any(), faults.0.len()), (1, false, 1));
    assert_eq!((faults.0[0].kind, faults.0[0].place.line), ("date", Some(row + 2)));
    assert!(faults.0[0].message.contains("looks like a date: `2-Jan`"));
}

#[test]
fn a_table_of_another_kind_is_refused_whole() {
    for (text, kind) in [
        ("", "empty"),
        ("person,date\na-1,2026-09-08\n", "unknown-column"),
        ("docket,exercise,part\nX,1,1\n", "missing-column"),
        ("docket,exercise,part,answer\n\"X,1,1,2\n", "quote"),
        ("docket,exercise,part,answer\0\n", "not-utf-8"),
    ] {
        let (came, faults) = parse("t.csv", text, &QUIZ.0);
        assert!(came.is_empty() && faults.0.iter().any(|fault| fault.kind == kind), "{text:?}: {:?}", faults.0);
    }
}

/// An answer to a numeric part: as people write them, or of any such signs.
fn number() -> impl Strategy<Value = String> {
    let usual = ["0.81", "0,81 µm", "1 1/2 in", "5' 3\"", "-5", "=1+1", "1:12", "50%", "@", "a;b", "1,250 ft", ""];
    let any = "[0-9aµ%,.;\"'=+ /-]{0,9}".prop_map(|text| text.trim().to_owned());
    let any = any.prop_filter("means itself", |text| {
        !text.starts_with('\'') && (text.is_empty() || text.contains(|c| c != '-'))
    });
    prop_oneof![prop::sample::select(usual.to_vec()).prop_map(str::to_owned), any]
}

/// Answers to all of the quiz.
fn answers() -> impl Strategy<Value = Vec<Vec<String>>> {
    let shown = QUIZ.0.exercises.iter().map(|one| &one.shown);
    let parts = shown.map(|shown| {
        let numbers: Vec<usize> = (1..=shown.says).collect();
        let joined = |numbers: Vec<usize>| vec![numbers.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")];
        match shown.kind.as_str() {
            "numeric" => prop::collection::vec(number(), shown.parts.len()).boxed(),
            "order" => (Just(numbers).prop_shuffle(), 0..=shown.says)
                .prop_map(|(numbers, most)| numbers[..most].to_vec())
                .prop_map(joined)
                .boxed(),
            _ if shown.questions.is_empty() => {
                prop::sample::subsequence(numbers, 0..=shown.says).prop_map(joined).boxed()
            }
            _ => {
                let each =
                    shown.questions.iter().map(|one| (1..=one.says).prop_map(|number| number.to_string()).boxed());
                each.collect::<Vec<_>>().boxed()
            }
        }
    });
    parts.collect::<Vec<_>>()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn answers_written_into_the_table_read_back_the_same(
        wanted in prop::collection::vec(prop::option::of(answers()), 3),
        hyphens in any::<bool>(),
        mark in prop::sample::select(vec![b',', b';', b'\t']),
        always_quoted in any::<bool>(),
        byte_order_mark in any::<bool>(),
        crlf in any::<bool>(),
        turned in 0_usize..9,
        blank_rows in prop::collection::vec(0_usize..40, 0..4),
    ) {
        let mut open = Open::new();
        let whose = open.rows_of(2, 0)[0];
        open.set(whose, "person", "b-7");
        for (place, answers) in wanted.iter().enumerate() {
            let Some(answers) = answers else { continue };
            open.fill(place, answers);
            let last = QUIZ.0.exercises.len() - 1;
            if hyphens || open.is_empty(place) {
                let answer = open.column("answer");
                let rows = (0..=last).flat_map(|exercise| open.rows_of(place, exercise)).collect::<Vec<_>>();
                rows.iter().filter(|row| open.rows[**row][answer].is_empty()).copied().collect::<Vec<_>>().into_iter()
                    .for_each(|row| open.set(row, "answer", "-"));
            }
        }
        open.columns.rotate_left(turned);
        open.rows.iter_mut().for_each(|row| row.rotate_left(turned));
        for row in blank_rows {
            open.rows.insert(row, vec![String::new(); 9]);
        }
        let line_end = if crlf { csv::Terminator::CRLF } else { csv::Terminator::Any(b'\n') };
        let text = open.saved(mark, always_quoted, line_end);
        let text = if byte_order_mark { format!("\u{feff}{text}") } else { text };
        let (came, faults) = parse("marking.csv", &text, &QUIZ.0);
        prop_assert!(!faults.any(), "{:?}", faults.0);
        let found: Vec<(String, Vec<Vec<String>>)> =
            came.iter().map(|came| (came.returned.docket.clone(), came.returned.answers.clone())).collect();
        let seats = QUIZ.0.dockets.iter().zip(wanted);
        let wanted: Vec<_> = seats.filter_map(|(seat, answers)| Some((seat.docket.clone(), answers?))).collect();
        prop_assert_eq!(found, wanted);
        prop_assert!(came.iter().all(|came| came.returned.seat(&QUIZ.0).is_ok()));
    }

    #[test]
    fn no_text_at_all_makes_it_panic(text in "[week12,;\"\n\t-]{0,60}", answer in ".{0,20}") {
        let (came, _) = parse("t.csv", &text, &QUIZ.0);
        prop_assert!(came.is_empty());
        let mut open = Open::new();
        for exercise in 0..QUIZ.0.exercises.len() {
            let row = open.rows_of(0, exercise)[0];
            open.set(row, "answer", &answer);
        }
        let _ = open.read();
    }
}
