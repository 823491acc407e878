//! Finding the numbers in what a person typed.

use super::writing::{DecimalMark, VULGAR};

pub(super) const NO_NUMBER: &str = "reading.no-number";
pub(super) const GROUPS: &str = "reading.groups";
pub(super) const ZERO_BELOW: &str = "reading.zero-below";
pub(super) const WHOLE_FRACTION: &str = "reading.whole-fraction";

/// A number at the front of a text, not negative, and what follows it.
#[derive(Debug)]
pub(super) struct Scanned<'a> {
    pub(super) value: f64,
    pub(super) rest: &'a str,
}

/// What people see as nothing is dropped (byte order marks, writing direction
/// marks, zero-width characters); every space becomes a plain one, runs of
/// them one; dashes become `-`, fraction and ratio signs `/` and `:`.
pub(super) fn cleaned(typed: &str) -> String {
    let mut out = String::with_capacity(typed.len());
    for c in typed.chars() {
        match c {
            '\u{FEFF}'
            | '\u{061C}'
            | '\u{200B}'..='\u{200F}'
            | '\u{202A}'..='\u{202E}'
            | '\u{2060}'
            | '\u{2066}'..='\u{2069}' => {}
            '\t'..='\r'
            | ' '
            | '\u{85}'
            | '\u{A0}'
            | '\u{1680}'
            | '\u{2000}'..='\u{200A}'
            | '\u{2028}'
            | '\u{2029}'
            | '\u{202F}'
            | '\u{205F}'
            | '\u{3000}' => {
                if !out.is_empty() && !out.ends_with(' ') {
                    out.push(' ');
                }
            }
            '−' | '–' | '‐' | '‑' => out.push('-'),
            '⁄' | '∕' => out.push('/'),
            '∶' => out.push(':'),
            other => out.push(other),
        }
    }
    out.truncate(out.trim_end_matches(' ').len());
    out
}

/// The number at the front of a cleaned text: digits with marks and groups, an
/// exponent, a fraction, or whole digits and a fraction.
pub(super) fn number(text: &str, mark: DecimalMark) -> Result<Scanned<'_>, &'static str> {
    if let Some((value, rest)) = vulgar(text) {
        return Ok(Scanned { value, rest });
    }
    let (written, rest) = mantissa(text);
    let spaced = written.contains(' ');
    let decimal = if spaced { without_gaps(written) } else { plain(written, mark)? };
    if !decimal.bytes().any(|byte| byte.is_ascii_digit()) {
        return Err(NO_NUMBER);
    }
    if let Some((power, rest)) = exponent(rest) {
        return Ok(Scanned { value: parsed(&format!("{decimal}e{power}")), rest });
    }
    let whole = parsed(&decimal);
    if decimal.contains('.') {
        return Ok(Scanned { value: whole, rest });
    }
    if decimal.len() == written.len()
        && let Some((below, rest)) = rest.strip_prefix('/').and_then(digits)
    {
        return divided(whole, parsed(below)).map(|value| Scanned { value, rest });
    }
    match fraction(rest.strip_prefix([' ', '-']).unwrap_or(rest), rest.starts_with([' ', '-'])) {
        None => Ok(Scanned { value: whole, rest }),
        Some((Ok(part), rest)) if part < 1.0 => Ok(Scanned { value: whole + part, rest }),
        Some((Ok(_), _)) => Err(WHOLE_FRACTION),
        Some((Err(why), _)) => Err(why),
    }
}

/// A fraction behind a whole number: a sign such as `½`, or, if something
/// stands between, `1/2`.
fn fraction(text: &str, parted: bool) -> Option<(Result<f64, &'static str>, &str)> {
    if let Some((value, rest)) = vulgar(text) {
        return Some((Ok(value), rest));
    }
    let (above, rest) = digits(text).filter(|_| parted)?;
    let (below, rest) = rest.strip_prefix('/').and_then(digits)?;
    Some((divided(parsed(above), parsed(below)), rest))
}

fn divided(above: f64, below: f64) -> Result<f64, &'static str> {
    if below > 0.0 { Ok(above / below) } else { Err(ZERO_BELOW) }
}

/// A fraction sign at the front.
fn vulgar(text: &str) -> Option<(f64, &str)> {
    let first = text.chars().next()?;
    let (sign, above, below) = VULGAR.iter().find(|(sign, ..)| *sign == first)?;
    Some((f64::from(*above) / f64::from(*below), &text[sign.len_utf8()..]))
}

/// The digits at the front, if there are any.
fn digits(text: &str) -> Option<(&str, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    (end > 0).then(|| text.split_at(end))
}

/// The digits and marks at the front, with groups of three behind spaces.
fn mantissa(text: &str) -> (&str, &str) {
    let run = |from: usize| {
        let rest = &text[from..];
        from + rest.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).unwrap_or(rest.len())
    };
    let mut end = run(0);
    if !(1..=3).contains(&end) || digits(text).is_none_or(|(first, _)| first.len() != end) {
        return text.split_at(end);
    }
    while let Some((group, after)) = text[end..].strip_prefix(' ').and_then(digits) {
        if group.len() != 3 || after.starts_with('/') {
            return text.split_at(end);
        }
        end += 4;
    }
    // Decimals behind the last group: one mark, then digits.
    let tail = &text[end..];
    if end > 3 && tail.starts_with(['.', ',']) && digits(&tail[1..]).is_some() {
        end += 1 + digits(&tail[1..]).map_or(0, |(part, _)| part.len());
    }
    text.split_at(end)
}

/// Digits grouped by spaces: a mark behind them can only be the decimal one.
fn without_gaps(written: &str) -> String {
    written.replace(' ', "").replace(',', ".")
}

/// Digits and marks as plain decimal notation with a point.
fn plain(written: &str, mark: DecimalMark) -> Result<String, &'static str> {
    let written = written.strip_suffix(['.', ',']).unwrap_or(written);
    let Some(at) = written.rfind(['.', ',']) else { return Ok(written.to_owned()) };
    let (head, tail) = (&written[..at], &written[at + 1..]);
    let last = &written[at..=at];
    let other = if last == "." { "," } else { "." };
    let decimal = if head.contains(other) {
        // Two marks: the last is the decimal and stands once.
        if head.contains(last) || !grouped(head, other) {
            return Err(GROUPS);
        }
        true
    } else if head.contains(last) {
        if !grouped(written, last) {
            return Err(GROUPS);
        }
        false
    } else {
        last.starts_with(mark.sign()) || tail.len() != 3 || !grouped(written, last)
    };
    let head = head.replace(['.', ','], "");
    Ok(if decimal { format!("{head}.{tail}") } else { head + tail })
}

/// Whether the digits are grouped by threes; a group of thousands does not
/// start with 0.
fn grouped(written: &str, by: &str) -> bool {
    let mut groups = written.split(by);
    let first = groups.next().unwrap_or_default();
    (1..=3).contains(&first.len()) && !first.starts_with('0') && groups.all(|group| group.len() == 3)
}

/// `e-1`, `×10^-1`, ` * 10⁻¹` at the front: the power, and what follows.
fn exponent(text: &str) -> Option<(String, &str)> {
    if let Some(rest) = text.strip_prefix(['e', 'E']) {
        return signed(rest);
    }
    let rest = spaceless(text).strip_prefix(['×', 'x', 'X', '*', '·'])?;
    let rest = spaceless(rest).strip_prefix("10")?;
    if let Some(rest) = spaceless(rest).strip_prefix('^') {
        return signed(spaceless(rest));
    }
    let end = rest.find(|c| !"⁺⁻⁰¹²³⁴⁵⁶⁷⁸⁹".contains(c)).unwrap_or(rest.len());
    let power: String = rest[..end].chars().map(lowered).collect();
    signed(&power).filter(|(_, left)| left.is_empty()).map(|(power, _)| (power, &rest[end..]))
}

/// A superscript sign or digit as an ordinary one.
fn lowered(c: char) -> char {
    let signs = "⁺⁻⁰¹²³⁴⁵⁶⁷⁸⁹".chars().zip("+-0123456789".chars());
    signs.into_iter().find(|(high, _)| *high == c).map_or(c, |(_, low)| low)
}

fn spaceless(text: &str) -> &str {
    text.strip_prefix(' ').unwrap_or(text)
}

/// Digits with a sign or without.
fn signed(text: &str) -> Option<(String, &str)> {
    let (sign, size) = match text.strip_prefix('-') {
        Some(size) => ("-", size),
        None => ("", text.strip_prefix('+').unwrap_or(text)),
    };
    digits(size).map(|(power, rest)| (format!("{sign}{power}"), rest))
}

/// Plain notation as the nearest value; infinite if it is too large.
fn parsed(text: &str) -> f64 {
    text.parse().unwrap_or(f64::NAN)
}

/// Whether it is a fraction sign such as `½`.
pub(super) fn is_vulgar(c: char) -> bool {
    VULGAR.iter().any(|(sign, ..)| *sign == c)
}
