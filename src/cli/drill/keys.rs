//! What is typed in a drill.

use std::io::{self, BufRead, Read};

use super::super::out::Out;

/// The most bytes of a line that are looked at.
const LONGEST: u64 = 4096;

/// A typed line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Typed {
    /// An answer.
    Answer(String),
    /// One more line of the working.
    OneMoreLine,
    /// The same exercise with fresh numbers.
    FreshNumbers,
    /// On from here.
    GoOn,
    /// No more.
    Quit,
    /// Nothing that can be read: why.
    Unreadable(&'static str),
}

/// The talk with whoever practises.
pub(super) struct Talk<R> {
    pub(super) input: R,
    /// Whether what was typed is printed too: a pipe shows nothing by itself.
    pub(super) echo: bool,
}

impl<R: BufRead> Talk<R> {
    /// Asks, and takes what is typed.
    ///
    /// # Errors
    /// What the system says.
    pub(super) fn ask(&mut self, prompt: &str, out: &mut Out) -> io::Result<Typed> {
        out.bytes(format!("{prompt}: ").as_bytes());
        let typed = next(&mut self.input)?;
        match &typed {
            Typed::Answer(text) if self.echo => out.line(text),
            Typed::OneMoreLine if self.echo => out.line("?"),
            Typed::FreshNumbers if self.echo => out.line("n"),
            Typed::Quit => out.line(""),
            _ if self.echo => out.line(""),
            _ => {}
        }
        Ok(typed)
    }
}

/// Reads one line. The end of the input is like `q`.
///
/// # Errors
/// What the system says.
fn next(input: &mut impl BufRead) -> io::Result<Typed> {
    let mut line = Vec::new();
    if input.by_ref().take(LONGEST).read_until(b'\n', &mut line)? == 0 {
        return Ok(Typed::Quit);
    }
    if line.len() as u64 == LONGEST && line.last() != Some(&b'\n') {
        skip_line(input)?;
        return Ok(Typed::Unreadable("the line is too long"));
    }
    let Ok(text) = std::str::from_utf8(&line) else { return Ok(Typed::Unreadable("the line is no UTF-8 text")) };
    Ok(match text.trim_start_matches('\u{feff}').trim() {
        "" => Typed::GoOn,
        "?" => Typed::OneMoreLine,
        "n" | "N" => Typed::FreshNumbers,
        "q" | "Q" => Typed::Quit,
        answer => Typed::Answer(answer.to_owned()),
    })
}

fn skip_line(input: &mut impl BufRead) -> io::Result<()> {
    loop {
        let (found, length) = {
            let bytes = input.fill_buf()?;
            let end = bytes.iter().position(|byte| *byte == b'\n');
            (end.is_some() || bytes.is_empty(), end.map_or(bytes.len(), |end| end + 1))
        };
        input.consume(length);
        if found {
            return Ok(());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(mut bytes: &[u8]) -> Vec<Typed> {
        let mut all = Vec::new();
        loop {
            let typed = next(&mut bytes).expect("memory is read");
            let is_last = typed == Typed::Quit;
            all.push(typed);
            if is_last {
                return all;
            }
        }
    }

    #[test]
    fn lines_end_as_any_system_ends_them_and_the_end_is_like_q() {
        let answer = |text: &str| Typed::Answer(text.to_owned());
        assert_eq!(all("\u{feff}0,81 µm\r\n?\n".as_bytes()), [answer("0,81 µm"), Typed::OneMoreLine, Typed::Quit]);
        assert_eq!(all(b"n\n\n 3 1 2"), [Typed::FreshNumbers, Typed::GoOn, answer("3 1 2"), Typed::Quit]);
        assert_eq!(all(b"Q\nnever read\n"), [Typed::Quit]);
        assert_eq!(all(b""), [Typed::Quit]);
    }

    #[test]
    fn what_cannot_be_read_takes_nothing_of_the_next_line_with_it() {
        let long = [vec![b'7'; 10_000], b"\n0.5\n".to_vec()].concat();
        assert_eq!(
            all(&long),
            [Typed::Unreadable("the line is too long"), Typed::Answer("0.5".to_owned()), Typed::Quit]
        );
        assert_eq!(
            all(b"\xff\xfe\n2\n"),
            [Typed::Unreadable("the line is no UTF-8 text"), Typed::Answer("2".to_owned()), Typed::Quit]
        );
    }
}
