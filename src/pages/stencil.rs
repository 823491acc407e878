//! A page that is rendered once, with blanks where copies differ.
//!
//! Filling in a template takes a thousand times as long as copying text. So a
//! quiz with a thousand dockets renders a page once, with a mark for each
//! blank, cuts it at the marks, and fills the pieces together for each docket.

/// What opens and closes the mark of a blank: characters that Unicode leaves to
/// private use, so that no text needs them.
const OPENS: char = '\u{E000}';
const CLOSES: char = '\u{E001}';

/// Text without the marks of blanks.
pub(super) fn unmarked(text: &str) -> String {
    text.replace([OPENS, CLOSES], "")
}

/// The blanks of a page while its template is filled in.
#[derive(Debug)]
pub(super) struct Blanks<B>(Vec<B>);

/// A page cut at its blanks.
#[derive(Debug)]
pub(super) struct Stencil<B> {
    pieces: Vec<Piece<B>>,
    /// About how long a filled copy is.
    length: usize,
}

#[derive(Debug)]
enum Piece<B> {
    Text(String),
    Blank(B),
}

impl<B: Clone> Blanks<B> {
    pub(super) fn new() -> Self {
        Self(Vec::new())
    }

    /// The mark to be put where this blank goes. It may be put there several times, or nowhere.
    pub(super) fn mark(&mut self, blank: B) -> String {
        self.0.push(blank);
        format!("{OPENS}{}{CLOSES}", self.0.len() - 1)
    }

    /// Cuts the rendered page at the marks.
    pub(super) fn cut(&self, page: &str) -> Stencil<B> {
        let mut pieces = Vec::new();
        let mut text = String::new();
        let mut rest = page;
        while let Some((before, after)) = rest.split_once(OPENS) {
            text.push_str(before);
            let mark = after.split_once(CLOSES).and_then(|(number, after)| Some((number.parse().ok()?, after)));
            let blank = mark.and_then(|(number, after): (usize, &str)| Some((self.0.get(number)?, after)));
            rest = match blank {
                Some((blank, after)) => {
                    pieces.push(Piece::Text(std::mem::take(&mut text)));
                    pieces.push(Piece::Blank(blank.clone()));
                    after
                }
                // Not a mark of ours: it says nothing to a reader either.
                None => after,
            };
        }
        text.push_str(rest);
        pieces.push(Piece::Text(text));
        Stencil { pieces, length: page.len() + page.len() / 4 }
    }
}

impl<B> Stencil<B> {
    /// Whether what all copies share holds a text.
    pub(super) fn holds(&self, text: &str) -> bool {
        self.pieces.iter().any(|piece| matches!(piece, Piece::Text(shared) if shared.contains(text)))
    }

    /// A copy; `put` adds what goes into a blank, as safe HTML, and `more` is
    /// about how much that is.
    pub(super) fn filled(&self, more: usize, mut put: impl FnMut(&B, &mut String)) -> String {
        let mut page = String::with_capacity(self.length + more);
        for piece in &self.pieces {
            match piece {
                Piece::Text(text) => page.push_str(text),
                Piece::Blank(blank) => put(blank, &mut page),
            }
        }
        page
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_mark_is_filled_wherever_it_stands() {
        let mut blanks = Blanks::new();
        let (one, two, _nowhere) = (blanks.mark("one"), blanks.mark("two"), blanks.mark("nowhere"));
        let stencil = blanks.cut(&format!("<p>{two}{one}, {two}</p>"));
        assert_eq!(stencil.filled(0, |blank, page| *page += blank), "<p>twoone, two</p>");
        assert_eq!(stencil.filled(9, |blank, page| *page += &blank[..1]), "<p>to, t</p>");
        assert!(stencil.holds("<p>") && !stencil.holds("one"));
    }

    #[test]
    fn what_is_no_mark_of_ours_fills_nothing() {
        let mut blanks = Blanks::new();
        let mark = blanks.mark(());
        for (page, wanted) in [
            ("plain".to_owned(), "plain"),
            (String::new(), ""),
            (format!("a{OPENS}b"), "ab"),
            (format!("a{OPENS}7{CLOSES}b{mark}"), "a7\u{E001}b!"),
            (format!("{OPENS}{OPENS}{mark}"), "!"),
        ] {
            assert_eq!(blanks.cut(&page).filled(0, |(), page| page.push('!')), wanted, "{page:?}");
            assert!(!unmarked(&page).contains([OPENS, CLOSES]));
        }
    }
}
