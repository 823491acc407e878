//! The samples of an exercise in rounds: as a page shows them, and in words.

use std::fmt::Write as _;

use super::draw;
use crate::pull::{Printer, Sample, Samples};

/// The numbered samples as safe HTML. Without a script, or on paper, all stand
/// there, each with where the moves lead; a script shows one at a time.
#[must_use]
pub fn samples_html(samples: &Samples, printer: Printer) -> String {
    let mut html = format!(
        "<div class=\"samples\" data-start=\"{start}\" data-most=\"{most}\">\n\
         <p class=\"by-hand\">You begin at sample {start}. Do one move at a time: the line below the sample says which one you see next. \
         Do {most} moves at most, and write their numbers down in order.</p>\n",
        start = samples.start + 1,
        most = samples.most,
    );
    for (place, (sample, leads)) in samples.seen.iter().zip(&samples.leads).enumerate() {
        let to: Vec<String> = leads.iter().map(|to| (to + 1).to_string()).collect();
        let figure = sample.picture.as_ref().map_or_else(String::new, |pictured| draw(pictured, printer).html());
        // Writing to a string cannot fail.
        let _ = writeln!(
            html,
            "<div class=\"sample\" data-sample=\"{number}\" data-leads=\"{}\"><p class=\"sample-name\">Sample {number}</p>\
             {figure}<p class=\"seen\">{}</p><p class=\"leads\">{}</p></div>",
            to.join(" "),
            sample.says_html.trim(),
            leads_words(place, leads),
            number = place + 1,
        );
    }
    // On paper, a box for the number of each move.
    html + "<p class=\"rows\" aria-hidden=\"true\">" + &"<span></span>".repeat(samples.most) + "</p>\n</div>\n"
}

/// Where the moves of a sample lead: `move 1: sample 4 · any other: nothing changes`.
#[must_use]
pub fn leads_words(sample: usize, leads: &[usize]) -> String {
    let changing = (1..).zip(leads).filter(|(_, to)| **to != sample);
    let mut words: Vec<String> =
        changing.map(|(number, to): (usize, _)| format!("move {number}: sample {}", to + 1)).collect();
    if words.len() < leads.len() {
        words.push(format!("any {}: nothing changes", if words.is_empty() { "move" } else { "other" }));
    }
    words.join(" · ")
}

/// What is seen of a sample, in words: what its figure shows, and what is said of it.
#[must_use]
pub fn sample_words(sample: &Sample, printer: Printer) -> String {
    let figure = sample.picture.as_ref().map(|pictured| draw(pictured, printer).words);
    [figure.unwrap_or_default(), sample.says.clone()].join(" ").trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_changes_nothing_is_said_once() {
        assert_eq!(leads_words(0, &[3, 0, 1, 0]), "move 1: sample 4 · move 3: sample 2 · any other: nothing changes");
        assert_eq!(leads_words(2, &[2, 2]), "any move: nothing changes");
        assert_eq!(leads_words(1, &[0, 2]), "move 1: sample 1 · move 2: sample 3");
    }
}
