//! A fact as the cells that it could have come from: what a correction changes.

use crate::records::{Fact, Look, Matter};

/// Column and text of everything that can be said about a fact of its kind;
/// what was not said is empty.
#[must_use]
pub fn cells_of(fact: &Fact, decimal_comma: bool) -> Vec<(&'static str, String)> {
    let claim = &fact.claim;
    let person = fact.person.as_ref().map(ToString::to_string).unwrap_or_default();
    let said = || {
        vec![
            ("date", claim.seen_on.to_string()),
            ("seen_by", claim.seen_by.to_string()),
            ("paper", claim.paper.clone().unwrap_or_default()),
        ]
    };
    let own = match &fact.matter {
        Matter::Grant(is) => {
            return vec![
                ("code", person),
                ("role", is.role.word().to_owned()),
                ("from", is.from.to_string()),
                ("until", is.until.map(|day| day.to_string()).unwrap_or_default()),
                ("stages", is.stages.as_ref().map(|stages| stages.join(" ")).unwrap_or_default()),
                ("class", text(is.class.as_deref())),
                ("name", String::new()),
            ];
        }
        Matter::Leave(is) => vec![("person", person), ("from", is.from.to_string())],
        Matter::Return(is) => vec![("person", person), ("from", is.from.to_string())],
        Matter::Taught(is) => vec![
            ("week", is.week.to_string()),
            ("competencies", is.competencies.join(" ")),
            ("class", text(is.class.as_deref())),
        ],
        Matter::Hours(is) => vec![
            ("person", person),
            ("line", is.line.to_string()),
            ("sort", is.sort.word().to_owned()),
            ("start", clock(is.start.as_deref())),
            ("end", clock(is.end.as_deref())),
            ("hours", if is.start.is_some() { String::new() } else { hours(is.minutes, decimal_comma) }),
            ("supervisor", is.supervisor.to_string()),
        ],
        Matter::Observation(is) => vec![
            ("person", person),
            ("competency", is.competency.to_string()),
            ("criteria", is.criteria.iter().map(|look| word(*look)).collect::<Vec<_>>().join(" ")),
            ("press", is.press.to_string()),
            ("job", is.job.to_string()),
            ("material", text(is.material.as_deref())),
            ("ink", is.ink.map(|ink| ink.words().to_owned()).unwrap_or_default()),
            ("aided", if is.aided { "yes" } else { "no" }.to_owned()),
        ],
        Matter::Event(is) => vec![("person", person), ("event", is.event.to_string())],
        Matter::Judged(is) => {
            vec![("exercise", is.exercise.to_string()), ("expect", marked(&is.expect.to_string(), decimal_comma))]
        }
        _ => vec![("person", person)],
    };
    own.into_iter().chain(said()).collect()
}

fn text(text: Option<&str>) -> String {
    text.unwrap_or_default().to_owned()
}

/// The clock time of a stamp such as `2026-09-08T07:00+03:00`, with its offset.
fn clock(stamp: Option<&str>) -> String {
    stamp.and_then(|stamp| stamp.split_once('T')).map(|(_, clock)| clock.to_owned()).unwrap_or_default()
}

/// Hours with as many places as give the same minutes back.
fn hours(minutes: u32, decimal_comma: bool) -> String {
    marked(&format!("{}", (f64::from(minutes) / 60.0 * 10_000.0).round() / 10_000.0), decimal_comma)
}

/// With the programme's decimal mark.
fn marked(number: &str, decimal_comma: bool) -> String {
    if decimal_comma { number.replace('.', ",") } else { number.to_owned() }
}

fn word(look: Look) -> &'static str {
    match look {
        Look::Seen => "seen",
        Look::NotYet => "not-yet",
        Look::NotSeen => "not-seen",
    }
}
