//! Order and choice: from the raw shapes to what can be asked.

use super::choices::Pick;
use super::exercise::{Before, Choice, Choose, Move, Order, Question, Reckoning, Says};
use super::givens::check_name;
use super::raw::{RawBefore, RawExercise, RawOption, Scalar};
use super::spot::Spot;
use crate::ground::{Fault, nearest_name};

/// The most moves shown at once.
const MOST_SHOWN: usize = 12;

/// Reads what an order exercise asks for.
pub(super) fn order(raw: &RawExercise, spot: &Spot<'_>, faults: &mut Vec<Fault>) -> Option<Order> {
    let before = faults.len();
    let Some(written) = raw.moves.as_ref().filter(|moves| moves.0.len() >= 2) else {
        faults.push(spot.fault(
            "moves",
            "missing-key",
            "an order exercise needs at least two moves",
            "write them under `moves:` as `name: \"What is done\"`",
        ));
        return None;
    };
    let mut moves = Vec::new();
    for (name, says) in &written.0 {
        let field = format!("moves.{name}");
        match check_name(name, &field, spot).and_then(|()| spot.line(&field, says)) {
            Ok(text) => moves.push(Move { name: name.clone(), text }),
            Err(fault) => faults.push(fault),
        }
    }
    let mut edges = Vec::new();
    for (index, edge) in raw.before.iter().flatten().enumerate() {
        match read_before(edge, &format!("before[{index}]"), &moves, spot) {
            Ok(edge) => edges.push(edge),
            Err(fault) => faults.push(fault),
        }
    }
    if edges.is_empty() && faults.len() == before {
        faults.push(spot.fault(
            "before",
            "missing-key",
            "nothing says what comes before what",
            "write at least one `{ first: …, then: …, because: \"…\" }`",
        ));
    }
    if let Some(cycle) = find_cycle(moves.len(), &edges) {
        let names: Vec<&str> = cycle.iter().map(|index| moves[*index].name.as_str()).collect();
        faults.push(spot.fault(
            "before",
            "cycle",
            format!("the moves go round in a circle: {}", names.join(" before ")),
            "take one of these precedences out",
        ));
    }
    let show = show_range(raw.show.as_ref(), moves.len(), spot).map_err(|fault| faults.push(fault)).ok()?;
    (faults.len() == before).then_some(Order { moves, before: edges, show, strict: raw.strict.unwrap_or(false) })
}

fn read_before(raw: &RawBefore, field: &str, moves: &[Move], spot: &Spot<'_>) -> Result<Before, Fault> {
    let find = |name: &str, key: &str| {
        moves.iter().position(|known| known.name == name).ok_or_else(|| {
            let mend = nearest_name(name, moves.iter().map(|known| known.name.as_str()))
                .map_or_else(|| "add it under `moves:`".to_owned(), |near| format!("did you mean `{near}`?"));
            spot.fault(&format!("{field}.{key}"), "dangling", format!("there is no move `{name}`"), mend)
        })
    };
    Ok(Before {
        first: find(&raw.first, "first")?,
        then: find(&raw.then, "then")?,
        because: spot.line(&format!("{field}.because"), &raw.because)?,
        safety: raw.safety,
    })
}

/// A circle among the precedences, as move indexes with the first one repeated at the end.
fn find_cycle(moves: usize, edges: &[Before]) -> Option<Vec<usize>> {
    fn visit(at: usize, edges: &[Before], state: &mut [u8], path: &mut Vec<usize>) -> Option<Vec<usize>> {
        state[at] = 1;
        path.push(at);
        for edge in edges.iter().filter(|edge| edge.first == at) {
            if state[edge.then] == 1 {
                let start = path.iter().position(|seen| *seen == edge.then).unwrap_or(0);
                return Some(path[start..].iter().copied().chain([edge.then]).collect());
            }
            if state[edge.then] == 0
                && let Some(found) = visit(edge.then, edges, state, path)
            {
                return Some(found);
            }
        }
        path.pop();
        state[at] = 2;
        None
    }
    let mut state = vec![0; moves];
    (0..moves).find_map(|start| if state[start] == 0 { visit(start, edges, &mut state, &mut Vec::new()) } else { None })
}

/// `show: 6 .. 8`, `show: 5`, or all of them.
fn show_range(raw: Option<&Scalar>, moves: usize, spot: &Spot<'_>) -> Result<(usize, usize), Fault> {
    let Some(Scalar(text)) = raw else { return Ok((moves.min(MOST_SHOWN), moves.min(MOST_SHOWN))) };
    let number = |part: &str| part.trim().parse::<usize>().ok();
    let range = match text.split_once("..") {
        Some((low, high)) => number(low).zip(number(high)),
        None => number(text).map(|count| (count, count)),
    };
    match range {
        Some((low, high)) if 2 <= low && low <= high && high <= moves.min(MOST_SHOWN) => Ok((low, high)),
        _ => Err(spot.fault(
            "show",
            "show",
            format!("`{text}` moves cannot be shown of {moves}"),
            format!("write a number or a range between 2 and {}: `4 .. 6`", moves.min(MOST_SHOWN)),
        )),
    }
}

/// Reads what a choice asks for.
pub(super) fn choose(
    raw: &RawExercise,
    spot: &Spot<'_>,
    reckoning: &Reckoning,
    faults: &mut Vec<Fault>,
) -> Option<Choose> {
    let before = faults.len();
    let pick = raw.pick.unwrap_or(Pick::One);
    let mut options = Vec::new();
    for (index, option) in raw.options.iter().flatten().enumerate() {
        match read_option(option, &format!("options[{index}]"), spot, reckoning) {
            Ok(read) => options.push(read),
            Err(fault) => faults.push(fault),
        }
    }
    let right = options.iter().filter(|option| option.right).count();
    if faults.len() == before {
        if options.len() < 2 {
            faults.push(spot.fault(
                "options",
                "missing-key",
                "a choice needs at least two options",
                "write them under `options:`",
            ));
        } else if (pick == Pick::One && right != 1) || right == 0 {
            let wanted = if pick == Pick::One { "exactly one, or say `pick: some`" } else { "at least one" };
            faults.push(spot.fault(
                "options",
                "options",
                format!("{right} options are marked `right: true`"),
                format!("mark {wanted}"),
            ));
        }
    }
    let show = match &raw.show {
        None => options.len(),
        Some(Scalar(text)) => match text.parse::<usize>() {
            Ok(count) if right.max(2) <= count && count <= options.len() => count,
            _ => {
                faults.push(spot.fault(
                    "show",
                    "show",
                    format!("`{text}` options cannot be shown of {}", options.len()),
                    "write a number that holds all right ones and at least one other",
                ));
                0
            }
        },
    };
    let question = Question { label: String::new(), pick, show, options: 0..options.len() };
    let keep_order = raw.keep_order.unwrap_or(false);
    (faults.len() == before).then_some(Choose { questions: vec![question], keep_order, options })
}

fn read_option(raw: &RawOption, field: &str, spot: &Spot<'_>, reckoning: &Reckoning) -> Result<Choice, Fault> {
    let says = match (&raw.says, &raw.value) {
        (Some(text), None) => Says::Text(spot.line(&format!("{field}.says"), text)?),
        (None, Some(name)) => {
            let step = reckoning.steps.iter().position(|step| step.name == *name);
            let step = step.ok_or_else(|| {
                spot.fault(
                    &format!("{field}.value"),
                    "dangling",
                    format!("there is no step `{name}`"),
                    "name a step of the exercise",
                )
            })?;
            let turn = match &raw.turn {
                None => None,
                Some(name) => {
                    let turn = reckoning.turns.iter().position(|turn| turn.name == *name && turn.at <= step);
                    Some(turn.ok_or_else(|| {
                        spot.fault(
                            &format!("{field}.turn"),
                            "dangling",
                            format!("there is no wrong turn `{name}` on the way to that step"),
                            "name one of the exercise's wrong turns",
                        )
                    })?)
                }
            };
            Says::Value { step, turn }
        }
        _ => {
            return Err(spot.fault(
                field,
                "options",
                "an option needs either `says` or `value`",
                "write what it says, or name the step whose value it shows",
            ));
        }
    };
    let because = match (&raw.because, &says) {
        (Some(text), _) => spot.line(&format!("{field}.because"), text)?,
        (None, Says::Value { turn: Some(turn), .. }) => reckoning.turns[*turn].because.clone(),
        (None, Says::Value { step, turn: None }) => reckoning.steps[*step].because.clone(),
        (None, Says::Text(_)) => {
            return Err(spot.fault(
                field,
                "missing-key",
                "the key `because` is missing",
                "say why the option is right, or why it is not",
            ));
        }
    };
    Ok(Choice { says, right: raw.right, because })
}
