//! Words, marks and small pieces of HTML that all pages of the board share.

use jiff::civil::Date;
use std::fmt::Write as _;

use crate::ground::language::filled;
use crate::ground::say;
use crate::ground::turns_text;
use crate::pages::tongue::word;
use crate::prose::escape;
use crate::records::{Seq, Standing};

/// Takes out the characters that turn the direction of text around.
pub(in crate::pages) fn clean(text: &str) -> String {
    text.chars().filter(|c| !turns_text(*c)).collect()
}

/// Text made safe, without what turns its direction around.
pub(in crate::pages) fn said(text: &str) -> String {
    escape(&clean(text))
}

/// A sentence of our own made safe; names in it stand between the two marks
/// that keep their direction apart, and get an element of their own.
pub(super) fn sentence(text: &str) -> String {
    escape(text).replace('\u{2068}', "<bdi>").replace('\u{2069}', "</bdi>")
}

/// A name, kept apart from the direction of what stands around it.
pub(in crate::pages) fn bdi(name: &str) -> String {
    format!("<bdi>{}</bdi>", escape(&clean(name)))
}

/// A day as records write it: `14 Mar 2026`.
pub(in crate::pages) fn day(day: Date) -> String {
    let month = filled(&format!("month.{}", day.month()), &[]);
    say!("board.day", day = day.day(), month = month, year = day.year()).replace(' ', "&nbsp;")
}

/// The letter under which scripts and filters know a standing.
pub(super) fn letter(standing: Standing) -> &'static str {
    match standing {
        Standing::Waiting => "w",
        Standing::Open => "o",
        Standing::Ready => "r",
        Standing::Signed => "s",
        Standing::Lapsed => "l",
        Standing::Held => "h",
    }
}

/// The mark of a standing: a web on its way to the roll. It always stands beside the word.
pub(super) fn mark(standing: Standing) -> String {
    format!("<svg class=\"web\" aria-hidden=\"true\"><use href=\"#web-{}\"/></svg>", letter(standing))
}

/// Mark and word.
pub(super) fn mark_and_word(standing: Standing) -> String {
    format!("{}<b>{}</b>", mark(standing), word("standing", standing.word()))
}

/// A first letter as a capital.
pub(in crate::pages) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

/// From here on two numbers no longer stand side by side in a column of the training record.
const LONG: Seq = 1_000_000;

/// Numbers of facts, briefly: `640, 702`, or first and last with how many they
/// are; of a last one that is as long as the first only the digits that differ: `112728–49 (22)`.
///
/// `seqs` are in order.
pub(super) fn seqs_in_words(seqs: &[Seq]) -> String {
    match seqs {
        [] => String::new(),
        [one] => one.to_string(),
        [one, two] if *two < LONG => format!("{one}, {two}"),
        [first, .., last] => {
            let (first, last) = (first.to_string(), last.to_string());
            let same = first.bytes().zip(last.bytes()).take_while(|(a, b)| a == b).count();
            // Two digits at least are left, and short numbers stay whole.
            let cut = if first.len() == last.len() && last.len() > 5 { same.min(last.len() - 2) } else { 0 };
            format!("{first}–{} ({})", &last[cut..], seqs.len())
        }
    }
}

/// The word for a standing behind a number of competencies.
pub(super) fn counted(standing: Standing, n: usize) -> String {
    filled(&format!("counted.{}", standing.word()), &[("n", &n)])
}

/// How many stand where, in words: `2 of 4 signed, 1 ready`. The marks of what asks for someone stand with it.
pub(super) fn counts_in_words(standings: &[Standing]) -> String {
    let many = |wanted: Standing| standings.iter().filter(|one| **one == wanted).count();
    let (all, signed) = (standings.len(), many(Standing::Signed));
    let mut words = match (signed, all) {
        (_, 0) => return say!("board.nothing-is-taught"),
        (signed, all) if signed == all => say!("board.all-signed", mark = mark(Standing::Signed), n = all),
        (0, all) if all > 1 => say!("board.none-of-signed", all = all),
        _ => say!("board.of-signed", signed = signed, all = all),
    };
    for other in [Standing::Ready, Standing::Lapsed, Standing::Held] {
        let number = many(other);
        if number > 0 {
            let _ = write!(words, ", {}{number}\u{a0}{}", mark(other), counted(other, number));
        }
    }
    let open = many(Standing::Open);
    if open > 0 {
        let _ = write!(words, ", {open}\u{a0}{}", counted(Standing::Open, open));
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_lose_what_turns_the_direction_and_keep_their_letters() {
        assert_eq!(bdi("\u{202e}Ann <b>"), "<bdi>Ann &lt;b&gt;</bdi>");
        assert_eq!(sentence("by \u{2068}Ann\u{2069}"), "by <bdi>Ann</bdi>");
        assert_eq!(said("by \u{2068}Ann"), "by Ann");
    }

    #[test]
    fn facts_are_named_by_their_numbers() {
        for (seqs, want) in [
            (&[][..], ""),
            (&[4][..], "4"),
            (&[4, 9][..], "4, 9"),
            (&[4, 6, 9][..], "4–9 (3)"),
            (&[812, 815, 931][..], "812–931 (3)"),
            (&[112_728, 112_730, 112_731][..], "112728–31 (3)"),
            (&[998, 999, 1001][..], "998–1001 (3)"),
            (&[1_197_582, 1_197_583][..], "1197582–83 (2)"),
        ] {
            assert_eq!(seqs_in_words(seqs), want);
        }
    }

    #[test]
    fn counts_read_as_a_coordinator_says_them() {
        use Standing::{Held, Open, Ready, Signed, Waiting};
        let plain = |list: &[Standing]| {
            counts_in_words(list)
                .replace('\u{a0}', " ")
                .split('<')
                .map(|part| part.rsplit('>').next().unwrap_or(""))
                .collect::<String>()
        };
        assert_eq!(plain(&[Signed, Signed, Ready, Waiting]), "2 of 4 signed, 1 ready");
        assert_eq!(plain(&[Signed, Signed]), "all 2 signed");
        assert_eq!(plain(&[Open, Held, Waiting]), "none of 3 signed, 1 held, 1 open");
        assert_eq!(plain(&[Open]), "0 of 1 signed, 1 open");
    }
}
