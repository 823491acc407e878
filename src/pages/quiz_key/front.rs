//! The front page of an instructor's folder: the plan, the dockets, what to do.

use serde_json::{Value, json};

use super::super::frame::head_box;
use super::{KeyPages, MARKING_TABLE, page};
use crate::ground::Fault;
use crate::ground::say;
use crate::pages::tongue::word;
use crate::prose::escape;
use crate::quiz::{Composition, StageShare};
use crate::records::Code;

/// How many dockets of the list can be jumped over at once.
const STRETCH: usize = 50;

impl KeyPages<'_> {
    /// The front page; `names` gives whose code it is, as known today.
    ///
    /// # Errors
    /// Faults if its template cannot be filled in.
    pub fn front(&self, names: &dyn Fn(&Code) -> Option<String>) -> Result<String, Vec<Fault>> {
        let plan = &self.snapshot.composition;
        let count = self.snapshot.dockets.len();
        let boxes = vec![
            head_box(&say!("label.week"), &plan.week.to_string()),
            head_box(&say!("label.exercises"), &plan.picks.len().to_string()),
            head_box(&say!("label.time"), &say!("quiz.of-min", minutes = plan.minutes, wanted = plan.wanted)),
            head_box(&say!("label.dockets"), &count.to_string()),
        ];
        let page = page(
            self.snapshot,
            &self.templates,
            &say!("quiz.for-the-instructor", quiz = self.snapshot.head.quiz),
            boxes,
        );
        let front = json!({
            "picks": picks(plan),
            "minutes": plan.minutes.to_string(),
            "wanted": plan.wanted.to_string(),
            "shares": plan.shares.iter().map(share).collect::<Vec<_>>(),
            "groups": groups(plan),
            "levels": plan.levels.iter().filter(|(_, minutes)| *minutes > 0).map(|(level, minutes)| format!("{} {}", word("level", level.word()), say!("count.minutes", minutes = minutes))).collect::<Vec<_>>().join(", "),
            "gave_way": self.gave_way(),
            "stretches": self.stretches(names),
            "marking": MARKING_TABLE,
            "on_record_html": self.on_record_html(),
        });
        self.templates.render("quiz-front.html", json!({ "page": page, "front": front })).map_err(|fault| vec![*fault])
    }

    /// Everything that gave way, in composing and in pulling.
    fn gave_way(&self) -> Vec<Value> {
        let plan = &self.snapshot.composition;
        let composing = plan.gave_way.iter().map(|one| (word("constraint", one.constraint.word()), one.words.as_str()));
        let short = plan.short.iter().map(|words| (say!("quiz.gave-way-time"), words.as_str()));
        let pulls = self.snapshot.gave_way.iter().map(|words| (say!("quiz.equal-numbers"), words.as_str()));
        composing
            .chain(short)
            .chain(pulls)
            .map(|(what, words)| json!({ "what": what, "html": with_code(words) }))
            .collect()
    }

    /// The list of dockets, in stretches that can be jumped to.
    fn stretches(&self, names: &dyn Fn(&Code) -> Option<String>) -> Vec<Value> {
        let places: Vec<usize> = (0..self.snapshot.dockets.len()).collect();
        let stretches = places.chunks(STRETCH).enumerate();
        stretches
            .map(|(index, places)| {
                let title = match (places.first(), places.last()) {
                    (Some(first), Some(last)) => say!("quiz.to", first = self.label(*first), last = self.label(*last)),
                    _ => String::new(),
                };
                json!({
                    "id": format!("dockets-{}", index + 1),
                    "title": title,
                    "dockets": places.iter().map(|place| self.docket(*place, names)).collect::<Vec<_>>(),
                })
            })
            .collect()
    }

    fn docket(&self, place: usize, names: &dyn Fn(&Code) -> Option<String>) -> Value {
        let seat = &self.snapshot.dockets[place];
        let name = seat.person.as_ref().and_then(names);
        json!({
            "who_html": self.whose_apart(place, name.as_deref()),
            "blank": if seat.person.is_none() { "yes" } else { "" },
            "docket": seat.docket,
            "minutes": say!("count.minutes", minutes = seat.minutes),
            "key": format!("key-{}.html", self.snapshot.file_name(place)),
        })
    }
}

fn picks(plan: &Composition) -> Vec<Value> {
    let picks = plan.picks.iter().enumerate();
    picks
        .map(|(place, pick)| {
            json!({
                "number": (place + 1).to_string(),
                "title": pick.title,
                "id": pick.exercise,
                "minutes": pick.minutes.to_string(),
                "level": word("level", pick.level.word()),
                "competency": pick.competency,
                "reason_html": with_code(&pick.reason),
            })
        })
        .collect()
}

fn share(share: &StageShare) -> Value {
    let percent = |share: f64| format!("{:.0} %", 100.0 * share);
    json!({
        "title": share.title,
        "minutes": say!("count.minutes", minutes = share.minutes),
        "share": percent(share.share),
        "planned": share.planned.map_or_else(|| "–".to_owned(), percent),
    })
}

/// What was taught when, and how much of the time it has.
fn groups(plan: &Composition) -> Vec<Value> {
    let whole = f64::from(plan.minutes.max(1));
    let groups = plan.groups.iter();
    groups
        .map(|(group, minutes)| {
            json!({
                "title": word("taught", group.words()),
                "minutes": say!("count.minutes", minutes = minutes),
                "share": format!("{:.0} %", 100.0 * f64::from(*minutes) / whole),
                "planned": say!("quiz.about", aim = format_args!("{:.0}", 100.0 * group.aim())),
            })
        })
        .collect()
}

/// Words in which what stands between backquotes is set as code.
fn with_code(words: &str) -> String {
    let parts = words.split('`').enumerate();
    let last = words.matches('`').count();
    parts
        .map(|(place, part)| match place % 2 {
            1 if place < last => format!("<code>{}</code>", escape(part)),
            1 => format!("`{}", escape(part)),
            _ => escape(part),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::with_code;

    #[test]
    fn what_stands_between_backquotes_is_code() {
        for (words, wanted) in [
            ("plain & so on", "plain &amp; so on"),
            ("`a-b` and `c<d`", "<code>a-b</code> and <code>c&lt;d</code>"),
            ("one ` alone", "one ` alone"),
            ("`a` then ` alone", "<code>a</code> then ` alone"),
            ("", ""),
        ] {
            assert_eq!(with_code(words), wanted, "{words}");
        }
    }
}
