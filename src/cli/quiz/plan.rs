//! The composition as a table, with what it holds to and what gave way.

use crate::quiz::Composition;

/// The composition as a table, with what it holds to and what gave way.
pub(super) fn lines(composition: &Composition) -> Vec<String> {
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    let width = composition.picks.iter().map(|pick| pick.exercise.len()).max().unwrap_or_default();
    let broad = composition.picks.iter().map(|pick| pick.competency.len()).max().unwrap_or_default();
    let mut lines = vec![
        format!("Week {}: {} of {} minutes", composition.week, composition.minutes, composition.wanted),
        String::new(),
    ];
    for (number, pick) in (1..).zip(&composition.picks) {
        lines.push(format!(
            "{number:>3}  {:width$}  {:>2} min  {:6}  {:broad$}  {}",
            pick.exercise,
            pick.minutes,
            pick.level.word(),
            pick.competency,
            pick.reason
        ));
    }
    lines.push(String::new());
    for share in &composition.shares {
        let planned = share.planned.map(|planned| format!(", planned {}", percent(planned))).unwrap_or_default();
        lines.push(format!("{}: {} min, {}{planned}", share.title, share.minutes, percent(share.share)));
    }
    let groups: Vec<String> =
        composition.groups.iter().map(|(group, minutes)| format!("{} {minutes} min", group.words())).collect();
    lines.push(format!("By when it was taught: {}", groups.join(", ")));
    for one in &composition.gave_way {
        lines.push(format!("Gave way: {} ({})", one.constraint.word(), one.words));
    }
    lines.extend(composition.short.clone());
    lines
}
