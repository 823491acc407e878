//! What an observer made of each criterion, as people write it.

use crate::ground::Fault;
use crate::records::{CriterionRule, Look};

const MEND: &str = "answer each one: `1-4 seen; 5 not yet`, `seen seen not-yet`, or `all seen`";

/// Answers to numbered criteria, being filled in.
struct Answers<'c> {
    criteria: &'c [CriterionRule],
    looks: Vec<Option<Look>>,
}

fn fault(message: impl Into<String>) -> Fault {
    Fault::new("criteria", message, MEND)
}

/// Reads three lists of numbers: the criteria that were seen, that were tried
/// and are not there yet, and that were not seen. A list is made of numbers
/// from 1 and spans of them: `1-3, 5`. What follows a critical criterion that
/// was not seen is not seen either, for that ended the observation.
///
/// # Errors
/// A fault for a number that is none of the criteria, one that is given twice,
/// and for criteria without an answer (all of them).
///
/// ```
/// use gearside::exchange::imports::looks;
/// use gearside::records::{CriterionRule, Look};
/// let says = |says: &str, critical| CriterionRule { says: says.to_owned(), critical };
/// let criteria = [says("Looks", false), says("Stops", true), says("Starts", false)];
/// assert_eq!(looks("1", "", "2", &criteria).unwrap(), [Look::Seen, Look::NotSeen, Look::NotSeen]);
/// assert!(looks("1-2", "", "", &criteria).unwrap_err().message.contains("criterion 3"));
/// ```
pub fn looks(seen: &str, not_yet: &str, not_seen: &str, criteria: &[CriterionRule]) -> Result<Vec<Look>, Fault> {
    let mut answers = Answers::new(criteria);
    for (list, look) in [(seen, Look::Seen), (not_yet, Look::NotYet), (not_seen, Look::NotSeen)] {
        for number in numbers(list)? {
            answers.put(number, look)?;
        }
    }
    answers.complete()
}

/// Reads the answers out of one cell: `1-4 seen; 5 not yet`, or a word for
/// each criterion in order (`seen seen not-yet`), or `all seen`.
///
/// # Errors
/// As [`looks`], and a fault for a word that is none.
///
/// ```
/// use gearside::exchange::imports::looks_in_words;
/// use gearside::records::{CriterionRule, Look};
/// let criteria = vec![CriterionRule { says: "Looks".to_owned(), critical: false }; 3];
/// let want = [Look::Seen, Look::Seen, Look::NotYet];
/// assert_eq!(looks_in_words("1-2 seen; 3 not yet", &criteria).unwrap(), want);
/// assert_eq!(looks_in_words("seen seen not-yet", &criteria).unwrap(), want);
/// ```
pub fn looks_in_words(text: &str, criteria: &[CriterionRule]) -> Result<Vec<Look>, Fault> {
    let text = text.to_lowercase().replace("not yet", "not-yet").replace("not seen", "not-seen");
    let text = text.replace('_', "-");
    let mut answers = Answers::new(criteria);
    if text.trim() == "all seen" {
        return Ok(vec![Look::Seen; criteria.len()]);
    }
    if text.contains(|c: char| c.is_ascii_digit()) {
        for part in text.split([';', '\n', '|']).map(str::trim).filter(|part| !part.is_empty()) {
            let (list, word) = list_and_word(part);
            let look = look(word)?;
            for number in numbers(list)? {
                answers.put(number, look)?;
            }
        }
    } else {
        let apart = |c: char| c.is_whitespace() || matches!(c, ';' | ',' | '|');
        for (number, word) in (1..).zip(text.split(apart).filter(|word| !word.is_empty())) {
            answers.put(number, look(word)?)?;
        }
    }
    answers.complete()
}

/// `1-4 seen` and `seen: 1-4` both are the list `1-4` and the word `seen`.
fn list_and_word(part: &str) -> (&str, &str) {
    let word_at = part.find(|c: char| c.is_alphabetic()).unwrap_or(part.len());
    let digit_at = part.find(|c: char| c.is_ascii_digit()).unwrap_or(part.len());
    if digit_at < word_at { (&part[..word_at], &part[word_at..]) } else { (&part[digit_at..], &part[..digit_at]) }
}

fn look(word: &str) -> Result<Look, Fault> {
    match word.trim_matches(|c: char| c.is_whitespace() || matches!(c, ':' | '=')) {
        "seen" => Ok(Look::Seen),
        "not-yet" => Ok(Look::NotYet),
        "not-seen" => Ok(Look::NotSeen),
        "" => Err(fault("there is a list of criteria without `seen`, `not yet` or `not seen`")),
        other => Err(fault(format!("`{other}` is none of `seen`, `not yet`, `not seen`"))),
    }
}

/// The numbers of a list such as `1-3, 5`.
fn numbers(list: &str) -> Result<Vec<usize>, Fault> {
    let none = |part: &str| fault(format!("`{part}` is no list of criteria such as `1-3,5`"));
    let mut numbers = Vec::new();
    let list = list.replace(['–', '−'], "-").replace(" -", "-").replace("- ", "-");
    for part in list.split(|c: char| c.is_whitespace() || matches!(c, ',' | ';')).filter(|part| !part.is_empty()) {
        let (first, last) = part.split_once('-').unwrap_or((part, part));
        let read = |text: &str| text.parse::<u16>().map(usize::from).map_err(|_| none(part));
        let (first, last) = (read(first)?, read(last)?);
        if first > last {
            return Err(fault(format!("the span `{part}` runs backwards")));
        }
        numbers.extend(first..=last);
    }
    Ok(numbers)
}

impl<'c> Answers<'c> {
    fn new(criteria: &'c [CriterionRule]) -> Self {
        Self { criteria, looks: vec![None; criteria.len()] }
    }

    /// Answers the criterion of a number.
    fn put(&mut self, number: usize, look: Look) -> Result<(), Fault> {
        let count = self.looks.len();
        let Some(place) = number.checked_sub(1).and_then(|index| self.looks.get_mut(index)) else {
            return Err(fault(format!("there is no criterion {number}: they are numbered from 1 to {count}")));
        };
        if place.is_some() {
            return Err(fault(format!("criterion {number} is answered twice")));
        }
        *place = Some(look);
        Ok(())
    }

    fn complete(mut self) -> Result<Vec<Look>, Fault> {
        let mut answered = self.criteria.iter().zip(&self.looks);
        let ended = answered.position(|(criterion, look)| criterion.critical && *look == Some(Look::NotSeen));
        if let Some(at) = ended {
            self.looks.iter_mut().skip(at + 1).for_each(|look| *look = look.or(Some(Look::NotSeen)));
        }
        let open: Vec<String> = (1..)
            .zip(&self.looks)
            .filter(|(_, look)| look.is_none())
            .map(|(number, _): (usize, _)| number.to_string())
            .collect();
        match open.as_slice() {
            [] => Ok(self.looks.into_iter().flatten().collect()),
            [only] => Err(fault(format!("criterion {only} of {} is not answered", self.criteria.len()))),
            _ => Err(fault(format!("criteria {} of {} are not answered", open.join(", "), self.criteria.len()))),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use Look::{NotSeen, NotYet, Seen};

    fn criteria(critical: &[bool]) -> Vec<CriterionRule> {
        critical.iter().map(|critical| CriterionRule { says: "Does it".to_owned(), critical: *critical }).collect()
    }

    #[test]
    fn a_cell_says_what_was_made_of_each_criterion() {
        let four = criteria(&[false; 4]);
        let mixed = vec![Seen, Seen, NotYet, NotSeen];
        for text in [
            "1-2 seen; 3 not yet; 4 not seen",
            "seen: 1, 2; not-yet: 3; not_seen: 4",
            "4 NOT SEEN; 3 Not-Yet; 1 – 2 Seen",
            "seen seen not-yet not-seen",
            "Seen, seen, not yet, not seen",
            "seen|seen|not_yet|not seen",
            "1 2 seen\n3 not yet\n4 not seen",
        ] {
            assert_eq!(looks_in_words(text, &four).expect(text), mixed, "{text:?}");
        }
        assert_eq!(looks_in_words(" All seen ", &four).expect("all"), [Seen; 4]);
    }

    #[test]
    fn a_critical_criterion_that_was_not_seen_ends_the_observation() {
        let list = criteria(&[false, true, false, true]);
        assert_eq!(looks("1", "", "2", &list).expect("ended"), [Seen, NotSeen, NotSeen, NotSeen]);
        assert_eq!(looks_in_words("seen not-seen", &list).expect("ended"), [Seen, NotSeen, NotSeen, NotSeen]);
        // What is answered all the same stays as it is said; the desk refuses it by name.
        assert_eq!(looks("1,3", "", "2", &list).expect("said"), [Seen, NotSeen, Seen, NotSeen]);
        // Not there yet does not end it, and neither does one that is not critical.
        assert!(looks("1", "2", "", &list).is_err());
        assert!(looks("2", "", "1", &list).is_err());
    }

    #[test]
    fn what_cannot_be_read_is_said() {
        let three = criteria(&[false; 3]);
        let table = [
            ("1-2 seen", "criterion 3 of 3 is not answered"),
            ("seen", "criteria 2, 3 of 3 are not answered"),
            ("", "criteria 1, 2, 3 of 3 are not answered"),
            ("1-4 seen", "there is no criterion 4: they are numbered from 1 to 3"),
            ("0 seen", "there is no criterion 0: they are numbered from 1 to 3"),
            ("1-2 seen; 2-3 not yet", "criterion 2 is answered twice"),
            ("3-1 seen", "the span `3-1` runs backwards"),
            ("1-2-3 seen", "`1-2-3` is no list of criteria such as `1-3,5`"),
            ("1-3", "there is a list of criteria without `seen`, `not yet` or `not seen`"),
            ("seen seen done", "`done` is none of `seen`, `not yet`, `not seen`"),
            ("seen seen seen seen", "there is no criterion 4: they are numbered from 1 to 3"),
            ("99999 seen", "`99999` is no list of criteria such as `1-3,5`"),
        ];
        for (text, want) in table {
            assert_eq!(looks_in_words(text, &three).expect_err(text).message, want, "{text:?}");
        }
    }
}
