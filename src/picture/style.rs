//! How numbers are written on a figure and in its words.

/// The programme's decimal mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Style {
    /// `.` or `,`.
    pub mark: char,
}

impl Style {
    /// A number with so many decimals, with a true minus sign.
    #[must_use]
    pub fn number(self, value: f64, decimals: usize) -> String {
        let text = format!("{value:.decimals$}").replace('.', &self.mark.to_string());
        let is_nought = text.chars().all(|c| !c.is_ascii_digit() || c == '0');
        match text.strip_prefix('-') {
            Some(rest) if is_nought => rest.to_owned(),
            Some(rest) => format!("−{rest}"),
            None => text,
        }
    }

    /// A number with as few decimals as it needs, at most four.
    #[must_use]
    pub fn short(self, value: f64) -> String {
        let text = self.number(value, 4);
        text.trim_end_matches('0').trim_end_matches(['.', ',']).to_owned()
    }
}
