//! The programme page: what is taught and evidenced, hours against the plan,
//! where people wait, how marked work stands, who may sign.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

use serde_json::json;

use super::plan_days::{first_day, taught_on, week_on, weeks_of};
use super::words::{day, mark_and_word, said};
use super::{Board, BoardPage, table_of};
use crate::ground::Fault;
use crate::ground::say;
use crate::pages::frame::{head_box, link};
use crate::programme::Stage;
use crate::records::{History, Mark, Role, Rule, Sort, Standing, Standings, Word, hours_in_words};

/// How many of the competencies behind it are named.
const MOST_BEHIND: usize = 5;
/// How many competencies the list of those that hold people up has.
const MOST_HOLDING: usize = 12;

/// The page.
pub(super) fn page(board: &Board<'_>) -> Result<String, Box<Fault>> {
    let overview = board.overview;
    let plan = overview.programme.plan.as_ref();
    let weeks = plan.and_then(|plan| plan.weeks.keys().last().copied()).unwrap_or(0);
    let now = plan.and_then(|plan| week_on(plan, overview.on));
    let week = match (plan, now) {
        (None, _) => say!("board.no-plan"),
        (Some(plan), None) => say!("board.begins", day = first_day(plan, 1).map(day).unwrap_or_default()),
        (Some(_), Some(week)) if week > weeks => say!("board.after-week", weeks = weeks),
        (Some(_), Some(week)) => say!("board.of", week = week, weeks = weeks),
    };
    let view = json!({
        "stages_html": overview.programme.stages.iter().map(|stage| coverage(board, stage)).collect::<String>(),
        "behind_html": behind(board),
        "waits_html": waits(board),
        "marks_html": marks(board),
        "signers_html": signers(board),
    });
    let page = BoardPage {
        title: say!("board.programme-page"),
        kind: "programme-page",
        accent: String::new(),
        crumbs: vec![link(&say!("label.sign-off-board"), "index.html")],
        head: vec![
            head_box(&say!("label.programme"), &said(&overview.programme.about.title)),
            head_box(&say!("label.apprentices"), &overview.rows.len().to_string()),
            head_box(&say!("label.week-of-the"), &week),
        ],
        with_script: false,
        data_json: String::new(),
    };
    board.render("programme.html", "programme", view, page)
}

/// How a competency is covered.
struct Cover {
    evidenced: usize,
    signed: usize,
    minutes: u64,
}

fn cover(board: &Board<'_>, place: usize) -> Cover {
    let names = board.names.get(place).map_or(&[][..], Vec::as_slice);
    let mut cover = Cover { evidenced: 0, signed: 0, minutes: 0 };
    for row in &board.overview.rows {
        let state = row.states.get(place);
        cover.signed += usize::from(state.is_some_and(|state| state.signed.is_some()));
        let mut any = state.is_some_and(|state| state.signed.is_some());
        for work in row.person.work_in(names) {
            let hours = work.hours.iter().filter(|one| one.counts_on(board.overview.on, History::NOW));
            let on_the_job = hours.filter(|one| one.is.sort != Sort::Instruction);
            cover.minutes += on_the_job.map(|one| u64::from(one.is.minutes)).sum::<u64>();
            any |= !work.hours.is_empty() || !work.observations.is_empty() || !work.marks.is_empty();
        }
        cover.evidenced += usize::from(any);
    }
    cover
}

fn coverage(board: &Board<'_>, stage: &Stage) -> String {
    let overview = board.overview;
    let people = overview.rows.len().max(1);
    let mut html = format!(
        "<tbody class=\"stage-{}\"><tr class=\"stage-line\"><th scope=\"rowgroup\" colspan=\"5\"><a href=\"{}\">{} {}</a></th></tr>\n",
        stage.number,
        table_of(stage),
        stage.number,
        said(&stage.title)
    );
    for (place, rule) in overview.stage(stage.id.as_str()) {
        let cover = cover(board, place);
        let planned = stage.competencies.iter().find(|one| one.id.as_str() == &*rule.id).and_then(|one| one.hours);
        let each = hours_in_words(cover.minutes / u64::try_from(people).unwrap_or(1));
        let hours = planned.map_or_else(|| format!("{each} h"), |hours| say!("board.of-h", each = each, hours = hours));
        let _ = writeln!(
            html,
            "<tr><th scope=\"row\">{}</th><td>{}</td><td>{}</td><td>{}</td><td>{hours}</td></tr>",
            board.title(&rule.id),
            taught(board, rule),
            say!("board.share-of", count = cover.evidenced, all = overview.rows.len()),
            say!("board.share-of", count = cover.signed, all = overview.rows.len()),
        );
    }
    html + "</tbody>\n"
}

/// When something was taught, or is to be.
fn taught(board: &Board<'_>, rule: &Rule) -> String {
    let overview = board.overview;
    let plan = overview.programme.plan.as_ref();
    let weeks: Vec<String> =
        plan.iter().flat_map(|plan| weeks_of(plan, &rule.id)).map(|week| week.to_string()).collect();
    let week = match weeks.as_slice() {
        [] => say!("board.not-in-the"),
        [one] => say!("board.week", week = one),
        several => say!("board.weeks", weeks = several.join(", ")),
    };
    let classes: Vec<Option<&str>> = {
        let mut all: Vec<Option<&str>> = overview.rows.iter().map(|row| row.person.class()).collect();
        all.dedup();
        if all.is_empty() { vec![None] } else { all }
    };
    let first = classes.iter().filter_map(|class| taught_on(overview, &rule.id, *class)).min();
    match first {
        Some(first) if first <= overview.on => say!("board.taught-since", week = week, day = day(first)),
        Some(first) => say!("board.from", week = week, day = day(first)),
        None => week,
    }
}

/// What the plan has taught by now and nobody has evidence in.
fn behind(board: &Board<'_>) -> String {
    let overview = board.overview;
    let quiet = overview.rules.competencies.iter().enumerate().filter(|(place, rule)| {
        let taught = taught_on(overview, &rule.id, None).is_some_and(|day| day <= overview.on);
        taught && cover(board, *place).evidenced == 0
    });
    let list: Vec<String> = quiet.map(|(_, rule)| board.title(&rule.id)).collect();
    if list.is_empty() { String::new() } else { list.join(", ") }
}

/// What a competency holds up: how many apprentices, and what waits behind it for how many.
#[derive(Default)]
struct Holding<'a> {
    people: usize,
    behind: BTreeMap<&'a Word, usize>,
}

/// Where people wait: what holds up the most comes first. Only what someone
/// could be getting on with holds up; what itself waits does not.
fn waits(board: &Board<'_>) -> String {
    let mut holding: BTreeMap<&Word, Holding<'_>> = BTreeMap::new();
    for row in &board.overview.rows {
        for (root, behind) in held_up(board, row) {
            let entry = holding.entry(root).or_default();
            entry.people += 1;
            for one in behind {
                *entry.behind.entry(one).or_default() += 1;
            }
        }
    }
    let mut list: Vec<_> = holding.into_iter().collect();
    let all = |holding: &Holding<'_>| holding.behind.values().sum::<usize>();
    list.sort_by_key(|(root, holding)| (std::cmp::Reverse(all(holding)), std::cmp::Reverse(holding.people), *root));
    let shown = list.into_iter().take(MOST_HOLDING);
    shown.map(|(root, holding)| waiting_for(board, root, holding.people, &holding.behind)).collect::<Vec<_>>().concat()
}

/// For one apprentice: what does not wait itself, with all that waits for it, directly or not.
fn held_up<'a>(board: &'a Board<'_>, row: &'a Standings<'_>) -> BTreeMap<&'a Word, BTreeSet<&'a Word>> {
    let rules = &board.overview.rules.competencies;
    let waits_for: BTreeMap<&Word, &Vec<Word>> = rules
        .iter()
        .zip(&row.states)
        .filter(|(_, state)| state.standing == Standing::Waiting)
        .map(|(rule, state)| (&rule.id, &state.unsigned_needs))
        .collect();
    let mut found: BTreeMap<&Word, BTreeSet<&Word>> = BTreeMap::new();
    for waiting in waits_for.keys() {
        let (mut seen, mut next) = (BTreeSet::new(), vec![*waiting]);
        while let Some(one) = next.pop() {
            match waits_for.get(one) {
                Some(needs) => next.extend(needs.iter().filter(|need| seen.insert(*need))),
                None => drop(found.entry(one).or_default().insert(*waiting)),
            }
        }
    }
    found
}

fn waiting_for(board: &Board<'_>, need: &str, people: usize, behind: &BTreeMap<&Word, usize>) -> String {
    let overview = board.overview;
    let place = overview.rules.competencies.iter().position(|rule| &*rule.id == need);
    let stage =
        overview.programme.stages.iter().find(|stage| stage.competencies.iter().any(|one| one.id.as_str() == need));
    let standings: Vec<Standing> = place
        .map(|place| overview.rows.iter().filter_map(|row| row.states.get(place)).map(|state| state.standing).collect())
        .unwrap_or_default();
    let how: Vec<String> = Standing::ALL
        .into_iter()
        .filter(|one| *one != Standing::Signed)
        .filter_map(|one| {
            let number = standings.iter().filter(|standing| **standing == one).count();
            (number > 0).then(|| format!("{number} {}", mark_and_word(one)))
        })
        .collect();
    let title = stage.map_or_else(
        || board.title(need),
        |stage| format!("<a href=\"{}\">{}</a>", table_of(stage), board.title(need)),
    );
    let mut most: Vec<(&&Word, &usize)> = behind.iter().collect();
    most.sort_by_key(|(_, people)| std::cmp::Reverse(**people));
    let mut waiting: Vec<String> = most.iter().take(MOST_BEHIND).map(|(id, _)| board.title(id)).collect();
    if let Some(more) = behind.len().checked_sub(MOST_BEHIND).filter(|more| *more > 0) {
        waiting.push(say!("board.and-others", n = more));
    }
    let held = say!("board.competencies", n = behind.len());
    format!(
        "<tr><th scope=\"row\">{title}</th><td>{}, {held}</td><td>{}</td><td>{}</td></tr>\n",
        say!("count.apprentices", n = people),
        how.join(", "),
        waiting.join(", ")
    )
}

/// How marked work stands, by competency.
fn marks(board: &Board<'_>) -> String {
    let overview = board.overview;
    let mut html = String::new();
    for (place, rule) in overview.rules.competencies.iter().enumerate() {
        let names = board.names.get(place).map_or(&[][..], Vec::as_slice);
        let counting = || {
            let works = overview.rows.iter().flat_map(|row| row.person.work_in(names));
            works.flat_map(|work| &work.marks).filter(|one| one.counts_on(overview.on, History::NOW))
        };
        let all = counting().count();
        if all == 0 {
            continue;
        }
        let many = |wanted: &[Mark]| counting().filter(|one| wanted.contains(&one.is.verdict)).count();
        let people = overview.rows.iter().filter(|row| row.person.work_in(names).any(|work| !work.marks.is_empty()));
        let right = many(&[Mark::Right, Mark::Carried]);
        let mut turns: BTreeMap<&Word, usize> = BTreeMap::new();
        for turn in counting().filter_map(|one| one.is.turn.as_ref()) {
            *turns.entry(turn).or_default() += 1;
        }
        let usual = turns.into_iter().max_by_key(|(turn, number)| (*number, std::cmp::Reverse((*turn).clone())));
        let usual = usual.filter(|(_, number)| *number > 1);
        let usual = usual.map(|(turn, number)| format!("{} ({number})", said(&turn.replace(['_', '-'], " "))));
        let _ = writeln!(
            html,
            "<tr><th scope=\"row\">{}</th><td>{}</td><td>{all}</td><td>{right}, {} %</td><td>{}</td><td>{}</td></tr>",
            board.title(&rule.id),
            people.count(),
            (right * 200 / all).div_ceil(2),
            many(&[Mark::Blank]),
            usual.unwrap_or_else(|| "–".to_owned()),
        );
    }
    html
}

/// Who may sign what today.
fn signers(board: &Board<'_>) -> String {
    let overview = board.overview;
    let mut html = String::new();
    for person in overview.history.people.values() {
        let Some(grant) = person.grant(Role::Assessor, overview.on, History::NOW) else { continue };
        let stages = grant.is.stages.as_ref().map_or_else(
            || say!("board.all-stages"),
            |stages| {
                let title = |id: &Word| {
                    let known = overview.programme.stages.iter().find(|stage| stage.id.as_str() == &**id);
                    said(known.map_or(&**id, |stage| stage.title.as_str()))
                };
                stages.iter().map(title).collect::<Vec<_>>().join(", ")
            },
        );
        let until = grant.is.until.map_or_else(|| "–".to_owned(), day);
        let away = person.away_since(overview.on, History::NOW);
        let away = away
            .map(|since| format!(" <span class=\"tag\">{}</span>", say!("board.away-since", day = day(since))))
            .unwrap_or_default();
        let _ = writeln!(
            html,
            "<tr><th scope=\"row\">{} <span class=\"small\">{}</span>{away}</th><td>{stages}</td><td>{}</td><td>{until}</td></tr>",
            board.name(&person.code),
            said(person.code.as_str()),
            day(grant.is.from)
        );
    }
    html
}
