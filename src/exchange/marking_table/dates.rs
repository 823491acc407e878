//! Answers that a spreadsheet took for dates: `1/2` comes back as `2-Jan`.

/// How the names of months begin in the languages that spreadsheets are often set to.
const MONTHS: &[&str] = &[
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec", "mär", "mrz", "mai", "maj",
    "okt", "dez", "fév", "fev", "avr", "jui", "aoû", "déc", "ene", "abr", "ago", "dic", "gen", "mag", "giu", "lug",
    "ott", "mei",
];

/// Whether a cell looks like a date or a time of day.
pub(super) fn looks_like_a_date(text: &str) -> bool {
    let apart = |c: char| matches!(c, '-' | '.' | '/' | ' ' | ',');
    let words: Vec<&str> = text.split(apart).filter(|word| !word.is_empty()).collect();
    let is_number = |word: &str| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit());
    let is_month = |word: &str| {
        let word = word.to_lowercase();
        MONTHS.iter().any(|month| word.starts_with(month)) && word.chars().all(char::is_alphabetic)
    };
    let with_month = (2..=3).contains(&words.len())
        && words.iter().filter(|word| is_month(word)).count() == 1
        && words.iter().all(|word| is_month(word) || (is_number(word) && word.len() <= 4));
    with_month || ['-', '.', '/'].into_iter().any(|mark| in_numbers(text, mark)) || is_time(text)
}

/// Day, month and year in any order, parted by one mark.
fn in_numbers(text: &str, mark: char) -> bool {
    let parts: Vec<&str> = text.split(mark).collect();
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    let lengths: Vec<usize> = parts.iter().map(|part| part.len()).collect();
    parts.iter().all(|part| digits(part)) && matches!(lengths[..], [1..=2, 1..=2, 2 | 4] | [4, 1..=2, 1..=2])
}

/// Hours, minutes and seconds: what becomes of `1:12`.
fn is_time(text: &str) -> bool {
    let parts: Vec<&str> = text.split(':').collect();
    let two = |part: &&str| part.len() == 2 && part.bytes().all(|byte| byte.is_ascii_digit());
    parts.len() == 3 && parts.iter().skip(1).all(two) && (1..=2).contains(&parts[0].len())
}

/// A clause for a message about a cell: what may have become of it.
pub(super) fn made_of_it(text: &str) -> &'static str {
    if looks_like_a_date(text) { "; a spreadsheet may have made that of something like `1/2`" } else { "" }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_spreadsheets_make_of_fractions_and_spans_looks_like_a_date() {
        // What widespread spreadsheets show for 1/2, 3-5 and 1:12 under their settings for
        // several countries (common knowledge; each typed as it is shown there).
        for text in [
            "2-Jan",
            "Jan 2",
            "01. Feb",
            "02.Jan",
            "1-févr",
            "5. Mai",
            "3-May",
            "02-Jan-26",
            "2 January 2026",
            "1/2/2026",
            "01/02/26",
            "2026-01-02",
            "02.01.2026",
            "1.2.26",
            "1:12:00",
            "01:12:00",
            "Mai 03",
        ] {
            assert!(looks_like_a_date(text), "{text}");
        }
        for text in [
            "",
            "1/2",
            "3-5",
            "1:12",
            "01:12",
            "1-1/2\"",
            "0.81 µm",
            "0,81",
            "1 250 ft",
            "1.250.000",
            "12 teeth",
            "1 1/2 in",
            "-5",
            "5' 3\"",
            "20 min 1 h",
            "8.1e-1",
            "3 1 2",
            "1,250 ft",
            "12.5",
            "30 s (Zahn 2)",
            "4 marks in 5",
        ] {
            assert!(!looks_like_a_date(text), "{text}");
        }
    }
}
