//! The sign-off board: a strip per person, a block per stage.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use serde_json::json;

use super::filters;
use super::words::{capital, clean, counted, counts_in_words, letter, mark_and_word, said, sentence};
use super::{Board, BoardPage, record_of, table_of};
use crate::ground::Fault;
use crate::ground::say;
use crate::pages::frame::{head_box, link};
use crate::pages::templates::json_for_script;
use crate::pages::tongue::word;
use crate::records::{Standing, Standings, day_in_words};

/// Up to how many competencies of all people the strips hold as they are;
/// beyond that the page script fills a strip when it is opened.
const MOST_STATIC: usize = 2_000;

/// The board.
pub(super) fn page(board: &Board<'_>) -> Result<String, Box<Fault>> {
    let overview = board.overview;
    let whole = overview.rows.len() * overview.rules.competencies.len() <= MOST_STATIC;
    let mut groups: Vec<(Option<&str>, Vec<&Standings<'_>>)> = Vec::new();
    for row in &overview.rows {
        match groups.last_mut() {
            Some((class, rows)) if *class == row.person.class() => rows.push(row),
            _ => groups.push((row.person.class(), vec![row])),
        }
    }
    let groups_html: String = groups.iter().map(|(class, rows)| group(board, *class, rows, whole)).collect();
    let view = json!({
        "sums_html": sums(board),
        "filters_html": filters::fields(board, true),
        "groups_html": groups_html,
    });
    let page = BoardPage {
        title: say!("board.sign-off-board"),
        kind: "strips",
        accent: String::new(),
        crumbs: vec![link(&say!("label.sign-off-board"), "index.html")],
        head: vec![
            head_box(&say!("label.programme"), &said(&overview.programme.about.title)),
            head_box(&say!("label.apprentices"), &overview.rows.len().to_string()),
            head_box(&say!("label.competencies"), &overview.rules.competencies.len().to_string()),
        ],
        with_script: true,
        data_json: if whole { String::new() } else { data(board) },
    };
    board.render("board.html", "board", view, page)
}

/// What asks for the coordinator today, each leading to the standing list.
fn sums(board: &Board<'_>) -> String {
    let overview = board.overview;
    let states = || overview.rows.iter().flat_map(|row| &row.states);
    let many = |wanted: Standing| states().filter(|state| state.standing == wanted).count();
    let soon = states().filter(|state| state.lapses_within(overview.on).is_some()).count();
    let signed = |wanted: &dyn Fn(&crate::records::Signed) -> bool| {
        states().filter_map(|state| state.signed.as_ref()).filter(|signed| wanted(signed)).count()
    };
    let edition = &overview.programme.about.edition;
    let despite = signed(&|signed| signed.despite.is_some());
    let other = signed(&|signed| signed.edition.as_ref().is_some_and(|label| label != edition));
    let mut list = vec![format!(
        "<li>{}<span>{}</span></li>",
        super::words::mark(Standing::Signed),
        say!("board.of-signed", signed = many(Standing::Signed), all = states().count())
    )];
    let (ready, lapsed, held) = (many(Standing::Ready), many(Standing::Lapsed), many(Standing::Held));
    let lines = [
        (ready, Some(Standing::Ready), "ready", say!("board.to-sign", n = ready)),
        (soon, None, "lapsing", say!("board.to-lapse")),
        (lapsed, Some(Standing::Lapsed), "lapsing", counted(Standing::Lapsed, lapsed)),
        (held, Some(Standing::Held), "held", counted(Standing::Held, held)),
        (despite, None, "despite", say!("board.signed-despite", n = despite)),
        (other, None, "editions", say!("board.signed-elsewhere", n = other)),
    ];
    for (number, standing, anchor, words) in lines.into_iter().filter(|(number, ..)| *number > 0) {
        let mark = standing.map(super::words::mark).unwrap_or_default();
        list.push(format!("<li>{mark}<a href=\"standing.html#{anchor}\">{number} {words}</a></li>"));
    }
    list.concat()
}

fn group(board: &Board<'_>, class: Option<&str>, rows: &[&Standings<'_>], whole: bool) -> String {
    let title = class.map_or_else(|| say!("board.without-a-class"), |class| said(&capital(class)));
    let strips: String = rows.iter().map(|row| strip(board, row, whole)).collect();
    format!(
        "<section class=\"group\"><h2>{title} <span class=\"small\">{}</span></h2><div class=\"strips-list\">{strips}</div></section>\n",
        say!("count.apprentices", n = rows.len())
    )
}

fn strip(board: &Board<'_>, row: &Standings<'_>, whole: bool) -> String {
    let overview = board.overview;
    let person = row.person;
    let code = person.code.in_file_names();
    let away = person
        .away_since(overview.on, crate::records::History::NOW)
        .map(|since| {
            format!("<span class=\"tag\">{}</span>", say!("board.away-since", day = day_in_words(since, overview.on)))
        })
        .unwrap_or_default();
    let mut blocks = String::new();
    for stage in &overview.programme.stages {
        let standings: Vec<Standing> = overview
            .stage(stage.id.as_str())
            .filter_map(|(place, _)| row.states.get(place))
            .map(|state| state.standing)
            .collect();
        let inside: String = Standing::ALL.into_iter().filter(|one| standings.contains(one)).map(letter).collect();
        let _ = write!(
            blocks,
            "<li class=\"stage-{}\" data-in=\"{inside}\"><a href=\"{}#p-{code}\"><b>{}</b> {}</a></li>",
            stage.number,
            table_of(stage),
            said(&stage.title),
            counts_in_words(&standings)
        );
    }
    let name = board.name(&person.code);
    let file = record_of(&person.code);
    let inner = if whole { competencies(board, row, &file) } else { String::new() };
    format!(
        "<article class=\"person\" id=\"p-{code}\" data-name=\"{}\" data-class=\"{}\"><div class=\"who\"><h3><a href=\"{file}\">{name}</a></h3><p class=\"small\">{} {away}</p>{}</div><ol class=\"blocks\">{blocks}</ol><details{}><summary>{}</summary>{inner}<p class=\"small\"><a href=\"{file}\">{}</a></p></details></article>\n",
        said(&overview.name(&person.code).to_lowercase()),
        said(person.class().unwrap_or_default()),
        said(person.code.as_str()),
        remarks(board, row),
        if whole { "" } else { " data-fill=\"\"" },
        say!("board.competencies-of", name = name).replace('[', "<span class=\"spoken\">").replace(']', "</span>"),
        say!("board.record-of", name = name),
    )
}

/// Sign-offs that were made in a way everyone should see.
fn remarks(board: &Board<'_>, row: &Standings<'_>) -> String {
    let edition = &board.overview.programme.about.edition;
    let signed = |wanted: &dyn Fn(&crate::records::Signed) -> bool| {
        row.states.iter().filter_map(|state| state.signed.as_ref()).filter(|signed| wanted(signed)).count()
    };
    let despite = signed(&|signed| signed.despite.is_some());
    let other = signed(&|signed| signed.edition.as_ref().is_some_and(|label| label != edition));
    let mut html = String::new();
    if despite > 0 {
        let _ = write!(html, "<p class=\"small\">{}</p>", say!("board.count-despite", n = despite));
    }
    if other > 0 {
        let _ = write!(html, "<p class=\"small\">{}</p>", say!("board.count-elsewhere", n = other));
    }
    html
}

/// Every competency with its standing and reason, stage by stage.
fn competencies(board: &Board<'_>, row: &Standings<'_>, file: &str) -> String {
    let overview = board.overview;
    let mut html = String::new();
    for stage in &overview.programme.stages {
        let _ = write!(html, "<section data-stage=\"{}\"><h4>{}</h4><ul>", stage.id, said(&stage.title));
        for (place, rule) in overview.stage(stage.id.as_str()) {
            let Some(state) = row.states.get(place) else { continue };
            let _ = write!(
                html,
                "<li data-s=\"{}\"><a href=\"{file}#competency-{}\">{}</a> <span>{}{}</span></li>",
                letter(state.standing),
                rule.id,
                board.title(&rule.id),
                mark_and_word(state.standing),
                sentence(&board.behind_the_word(state)),
            );
        }
        html += "</ul></section>";
    }
    html
}

/// The same for the script: phrases once, and for each person and competency
/// the letter of the standing and the numbers of its phrases.
fn data(board: &Board<'_>) -> String {
    let overview = board.overview;
    let mut phrases: Vec<String> = Vec::new();
    let mut known: BTreeMap<String, usize> = BTreeMap::new();
    let mut people = serde_json::Map::new();
    for row in &overview.rows {
        let cells = row.states.iter().map(|state| {
            let mut numbers = Vec::new();
            for phrase in board.behind_the_word(state).split_inclusive([',', ';', ':']) {
                let number = *known.entry(phrase.to_owned()).or_insert_with(|| {
                    phrases.push(phrase.to_owned());
                    phrases.len() - 1
                });
                numbers.push(in_36(number));
            }
            format!("{}{}", letter(state.standing), numbers.join("."))
        });
        people.insert(row.person.code.in_file_names(), json!(cells.collect::<Vec<_>>().join(" ")));
    }
    let stages = overview.programme.stages.iter().map(|stage| {
        let places = overview.stage(stage.id.as_str());
        json!({
            "id": stage.id.as_str(),
            "title": clean(&stage.title),
            "competencies": places.map(|(place, rule)| json!([place, rule.id, clean(&overview.title(&rule.id))])).collect::<Vec<_>>(),
        })
    });
    let words: BTreeMap<&str, String> =
        Standing::ALL.into_iter().map(|one| (letter(one), word("standing", one.word()))).collect();
    json_for_script(
        &json!({ "stages": stages.collect::<Vec<_>>(), "words": words, "phrases": phrases, "people": people }),
    )
}

/// A number with 36 digits, as scripts read it.
fn in_36(mut number: usize) -> String {
    let mut digits = Vec::new();
    loop {
        digits.push(char::from_digit(u32::try_from(number % 36).unwrap_or_default(), 36).unwrap_or('0'));
        number /= 36;
        if number == 0 {
            return digits.into_iter().rev().collect();
        }
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn numbers_are_written_with_36_digits() {
        for number in [0, 35, 36, 1_295, 1_296, 123_456] {
            assert_eq!(usize::from_str_radix(&super::in_36(number), 36), Ok(number));
        }
    }
}
