//! What stands in the answer cells of one exercise, as a return says it.

use super::super::table::Row;
use super::dates::{looks_like_a_date, made_of_it};
use super::docket::MOST_QUOTED;
use crate::ground::{Fault, Faults, in_brief};
use crate::quiz::ShownExercise;

/// The answers of an exercise from its rows, in order; nothing if they are at fault.
pub(super) fn of(shown: &ShownExercise, number: usize, rows: &[Row<'_>], faults: &mut Faults) -> Option<Vec<String>> {
    match shown.kind.as_str() {
        "numeric" => Some(rows.iter().map(|row| typed(row, number, faults)).collect()),
        "order" => order(number, rows, faults).map(|order| vec![order]),
        _ if shown.questions.is_empty() => {
            rows.first().and_then(|row| choice(shown.says, number, row, faults)).map(|choice| vec![choice])
        }
        _ => {
            let questions = rows.iter().zip(&shown.questions);
            // All of them are looked at, so that all faults are told.
            let choices: Vec<_> = questions.map(|(row, one)| choice(one.says, number, row, faults)).collect();
            choices.into_iter().collect()
        }
    }
}

/// What an answer cell holds; nothing for a blank.
fn content<'t>(row: &Row<'t>) -> &'t str {
    let text = row.get("answer").unwrap_or_default();
    // The apostrophe that makes a spreadsheet take something for text.
    let text = text.strip_prefix('\'').unwrap_or(text).trim();
    if text.chars().all(|c| matches!(c, '-' | '–' | '—' | '−')) { "" } else { text }
}

/// An answer as typed.
fn typed(row: &Row<'_>, exercise: usize, faults: &mut Faults) -> String {
    let text = content(row);
    if looks_like_a_date(text) {
        let part = row.get("part").unwrap_or_default();
        let message =
            format!("the answer to exercise {exercise}, part {part} looks like a date: `{text}`{}", made_of_it(text));
        let mend = "look at the docket again, and write the answer as text: `'1/2`";
        faults.push(Fault::new("date", message, mend).as_remark().at(row.place_of("answer")));
    }
    text.to_owned()
}

/// The order of the moves from the numbers in their boxes. Moves without a
/// number are left out.
fn order(exercise: usize, rows: &[Row<'_>], faults: &mut Faults) -> Option<String> {
    let mut boxes: Vec<(usize, usize)> = Vec::new();
    let mut fine = true;
    for (place, row) in rows.iter().enumerate() {
        let (text, move_number) = (content(row), place + 1);
        if text.is_empty() {
            continue;
        }
        let fault = match whole(text).filter(|number| (1..=rows.len()).contains(number)) {
            None => Fault::new(
                "order-box",
                format!(
                    "the box of move {move_number} of exercise {exercise} says `{}`, and boxes hold 1 to {}{}",
                    in_brief(text, MOST_QUOTED),
                    rows.len(),
                    made_of_it(text)
                ),
                "look at the docket again; a box that cannot be read gets `-`",
            ),
            Some(number) => {
                let Some((_, other)) = boxes.iter().find(|(other, _)| *other == number) else {
                    boxes.push((number, move_number));
                    continue;
                };
                Fault::new(
                    "order-box",
                    format!("the boxes of moves {other} and {move_number} of exercise {exercise} both say {number}"),
                    "look at the docket again; if it really says so, write `-` in both",
                )
            }
        };
        faults.push(fault.at(row.place_of("answer")));
        fine = false;
    }
    boxes.sort_unstable();
    fine.then(|| in_a_row(boxes.into_iter().map(|(_, move_number)| move_number)))
}

/// The numbers of the ticked options.
fn choice(options: usize, exercise: usize, row: &Row<'_>, faults: &mut Faults) -> Option<String> {
    let text = content(row);
    let apart = |c: char| c.is_whitespace() || matches!(c, ',' | ';' | '.' | '/' | '+' | '&' | '-' | '–');
    let numbers: Vec<Option<usize>> = match whole(text) {
        Some(number) => vec![Some(number)],
        None => text.split(apart).filter(|word| !word.is_empty()).map(whole).collect(),
    };
    let known = |number: Option<usize>| number.filter(|number| (1..=options).contains(number));
    let numbers: Option<Vec<usize>> = numbers.into_iter().map(known).collect();
    if numbers.is_none() || looks_like_a_date(text) {
        let message = format!(
            "`{}` is the answer to exercise {exercise}, whose options are 1 to {options}{}",
            in_brief(text, MOST_QUOTED),
            made_of_it(text)
        );
        let mend = "look at the docket again, and write the numbers that are ticked: `1 3`";
        faults.push(Fault::new("choice", message, mend).at(row.place_of("answer")));
        return None;
    }
    numbers.map(|numbers| in_a_row(numbers.into_iter()))
}

/// Numbers as a return has them.
fn in_a_row(numbers: impl Iterator<Item = usize>) -> String {
    numbers.map(|number| number.to_string()).collect::<Vec<_>>().join(" ")
}

/// A whole number as spreadsheets write it: `3`, `03`, `3.0`, `3,00`.
pub(super) fn whole(text: &str) -> Option<usize> {
    let (digits, rest) = text.split_once(['.', ',']).unwrap_or((text, ""));
    let fine = (1..=6).contains(&digits.len())
        && digits.bytes().all(|byte| byte.is_ascii_digit())
        && rest.bytes().all(|byte| byte == b'0');
    digits.parse().ok().filter(|_| fine)
}
