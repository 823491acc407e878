//! The secrets of an exercise, and a search that unwraps what it looks at.

use std::collections::BTreeSet;
use std::io::Read as _;

use base64::Engine as _;
use base64::alphabet;
use base64::engine::{DecodePaddingMode, GeneralPurpose, GeneralPurposeConfig};
use flate2::read::ZlibDecoder;
use gearside::programme::{Exercise, Form};
use gearside::prose::Text;
use serde_json::Value;

/// Something that no docket may hold.
#[derive(Debug)]
pub(crate) struct Secret {
    pub(crate) what: String,
    pub(crate) text: String,
    /// A short word that may stand in a question, but is no value of a data block.
    is_word: bool,
}

/// Texts shorter than this are no reasons that could be told from other words.
const SHORTEST: usize = 14;
/// Runs of letters and digits at least this long are unwrapped.
const RUN: usize = 16;
/// What marking calls things, and the states of a competency.
const WORDS_OF_MARKING: [&str; 13] = [
    "carried",
    "wrong-turn",
    "wrong_turn",
    "half_width",
    "intervals",
    "because",
    "right",
    "turns",
    "waiting",
    "ready",
    "signed",
    "lapsed",
    "held",
];

/// What the block of a docket calls its own entries; an author may have used such a word as a name.
const ENTRIES: [&str; 4] = ["docket", "person", "quiz", "shown"];

/// All that must not be on a docket that asks an exercise.
pub(crate) fn secrets_of(exercise: &Exercise) -> Vec<Secret> {
    let id = exercise.id.as_str();
    let mut secrets = Vec::new();
    let reckoning = &exercise.reckoning;
    let mut reason = |whose: &str, text: &Text| {
        secrets.extend(pieces(text).map(|text| Secret {
            what: format!("reason of {whose} of {id}"),
            text,
            is_word: false,
        }));
    };
    reckoning.steps.iter().for_each(|step| reason(&step.name, &step.because));
    reckoning.turns.iter().for_each(|turn| reason(&turn.name, &turn.because));
    match &exercise.form {
        Form::Order(order) => order.before.iter().for_each(|edge| reason("a precedence", &edge.because)),
        Form::Choose(choose) => choose.options.iter().for_each(|option| reason("an option", &option.because)),
        Form::Rounds(rounds) => rounds.reasons().for_each(|because| reason("rounds", because)),
        Form::Numeric(_) => {}
    }
    let mut names = vec![exercise.id.to_string(), exercise.family.to_string(), exercise.competency.to_string()];
    names.extend(reckoning.steps.iter().map(|step| step.name.clone()));
    names.extend(reckoning.turns.iter().map(|turn| turn.name.clone()));
    names.extend(reckoning.givens.iter().map(|given| given.name.clone()));
    if let Form::Order(order) = &exercise.form {
        names.extend(order.moves.iter().map(|one| one.name.clone()));
    }
    if let Form::Rounds(rounds) = &exercise.form {
        names.extend(rounds.moves.iter().map(|one| one.name.clone()));
        names.extend(rounds.states.iter().map(|one| one.name.clone()));
    }
    names.retain(|name| !ENTRIES.contains(&name.as_str()));
    secrets.extend(names.into_iter().map(|text| Secret {
        what: format!("a name in {id}"),
        is_word: !text.contains(['_', '-']),
        text,
    }));
    let formulas = reckoning.steps.iter().map(|step| step.expression.text().to_owned());
    let formulas = formulas.filter(|text| text.len() >= 8 && text.contains(['*', '/', '+', '(']));
    secrets.extend(formulas.map(|text| Secret { what: format!("a formula of {id}"), text, is_word: false }));
    secrets
}

/// The sentences of a text, without what is filled in, as plain text.
fn pieces(text: &Text) -> impl Iterator<Item = String> {
    let plain = text.plain(&|_| Some("\0".to_owned()));
    let sentences: Vec<String> =
        plain.split('\0').flat_map(|piece| piece.split_inclusive(". ")).map(one_line).collect();
    sentences.into_iter().filter(|piece| piece.chars().count() >= SHORTEST)
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What is found in a page, in any wrapping.
pub(crate) fn found_in(page: &str, secrets: &[Secret]) -> Vec<String> {
    let views = views(page);
    let data = data(page);
    let mut found = BTreeSet::new();
    for secret in secrets {
        let is_there = if secret.is_word {
            data.contains(&secret.text)
        } else {
            views.iter().any(|view| view.contains(&secret.text))
        };
        if is_there {
            found.insert(format!("{}: {}", secret.what, secret.text));
        }
    }
    found.extend(WORDS_OF_MARKING.iter().filter(|word| data.contains(**word)).map(|word| format!("a word: {word}")));
    found.into_iter().collect()
}

/// All names and texts of the block of what a docket knows of itself.
fn data(page: &str) -> BTreeSet<String> {
    fn gather(value: &Value, into: &mut BTreeSet<String>) {
        match value {
            Value::String(text) => drop(into.insert(text.clone())),
            Value::Array(list) => list.iter().for_each(|one| gather(one, into)),
            Value::Object(map) => map.iter().for_each(|(key, one)| {
                into.insert(key.clone());
                gather(one, into);
            }),
            _ => {}
        }
    }
    let mut texts = BTreeSet::new();
    for block in page.split("type=\"application/json\"").skip(1) {
        let (_, block) = block.split_once('>').expect("its start");
        let value: Value = serde_json::from_str(block.split_once("</script").expect("its end").0).expect("JSON");
        if value.get("docket").is_some() {
            gather(&value, &mut texts);
        }
    }
    texts
}

/// A page as it is, as it reads, and with everything unwrapped that looks wrapped.
fn views(page: &str) -> Vec<String> {
    let mut views = vec![one_line(page), one_line(&unescaped(page)), one_line(&unescaped(&without_tags(page)))];
    views.push(page.chars().rev().collect());
    let mut unwrapped = String::new();
    for run in page.split(|c: char| !(c.is_ascii_alphanumeric() || "+/=_-".contains(c))).filter(|run| run.len() >= RUN)
    {
        for bytes in [from_hex(run), from_base64(run)].into_iter().flatten() {
            let mut inflated = Vec::new();
            // Whatever came out before it broke off is looked at.
            let _ = ZlibDecoder::new(&bytes[..]).read_to_end(&mut inflated);
            for bytes in [bytes, inflated] {
                unwrapped.push_str(&String::from_utf8_lossy(&bytes));
                unwrapped.push('\n');
            }
        }
    }
    views.push(one_line(&unwrapped));
    views
}

fn without_tags(page: &str) -> String {
    let mut out = String::new();
    for piece in page.split('<') {
        out.push_str(piece.split_once('>').map_or(piece, |(_, text)| text));
    }
    out
}

/// References, percent codes and backslash codes read as what they stand for.
fn unescaped(text: &str) -> String {
    let mut out: Vec<u8> = Vec::with_capacity(text.len());
    let mut rest = text;
    let number = |digits: &str, base| u32::from_str_radix(digits, base).ok().and_then(char::from_u32);
    while let Some(first) = rest.chars().next() {
        let reference = rest.strip_prefix('&').and_then(|rest| rest.get(..rest.find(';')?.min(10)));
        let known = reference.and_then(|name| match name {
            "amp" => Some('&'),
            "lt" => Some('<'),
            "gt" => Some('>'),
            "quot" => Some('"'),
            "nbsp" => Some(' '),
            _ => match name.strip_prefix("#x").or_else(|| name.strip_prefix("#X")) {
                Some(digits) => number(digits, 16),
                None => number(name.strip_prefix('#')?, 10),
            },
        });
        let code = |start: &str, length: usize| {
            let digits = rest.strip_prefix(start)?.get(..length)?;
            number(digits, 16).map(|c| (c, start.len() + length))
        };
        if let (Some(c), Some(name)) = (known, reference) {
            out.extend(c.to_string().bytes());
            rest = &rest[name.len() + 2..];
        } else if let Some((c, length)) = code("\\u", 4).or_else(|| code("\\x", 2)) {
            out.extend(c.to_string().bytes());
            rest = &rest[length..];
        } else if let Some((c, length)) = code("%", 2) {
            out.push(u8::try_from(u32::from(c)).expect("two digits"));
            rest = &rest[length..];
        } else {
            out.extend(first.to_string().bytes());
            rest = &rest[first.len_utf8()..];
        }
    }
    String::from_utf8_lossy(&out).into_owned()
}

fn from_hex(run: &str) -> Option<Vec<u8>> {
    let digits: Vec<u32> = run.chars().map(|c| c.to_digit(16)).collect::<Option<_>>()?;
    Some(digits.chunks_exact(2).map(|two| u8::try_from(two[0] * 16 + two[1]).unwrap_or_default()).collect())
}

fn from_base64(run: &str) -> Option<Vec<u8>> {
    let config = GeneralPurposeConfig::new()
        .with_decode_padding_mode(DecodePaddingMode::Indifferent)
        .with_decode_allow_trailing_bits(true);
    let decoders = [&alphabet::STANDARD, &alphabet::URL_SAFE].map(|letters| GeneralPurpose::new(letters, config));
    // A run may have other letters in front; a whole number of groups is enough.
    decoders
        .iter()
        .find_map(|decoder| decoder.decode(run).ok().or_else(|| decoder.decode(&run[..run.len() / 4 * 4]).ok()))
}
