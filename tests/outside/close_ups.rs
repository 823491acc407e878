//! Prints pulls of the figure `print-close-up` in mixed order, one JSON object a line: the SVG, its words, the state
//! and how far it has gone.
//!
//! The first argument is a number that the pulls come from, the second how many there are of each state; a third, a
//! number from 1 to 3, fixes how far they have gone.

use std::io::{BufWriter, Write};

use gearside::picture::{Arguments, FIGURES, Grain, Kind, Style};
use gearside::trade::figures::figure;
use serde_json::json;

const NAME: &str = "print-close-up";

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut given = std::env::args().skip(1);
    let seed: u64 = given.next().map_or(Ok(1), |text| text.parse())?;
    let each: u32 = given.next().map_or(Ok(4), |text| text.parse())?;
    let strength: Option<f64> = given.next().map(|text| text.parse()).transpose()?;
    let drawn = FIGURES.iter().find(|figure| figure.name == NAME).ok_or("no such figure")?;
    let takes = figure(NAME).ok_or("no such figure")?.takes;
    let states = takes.iter().find_map(|takes| if let Kind::Word(words) = takes.kind { Some(words) } else { None });
    let mut chance = Grain::new(seed);
    let mut pulls = Vec::new();
    for state in states.unwrap_or_default() {
        for pull in 0..each {
            let part = (f64::from(pull) + chance.unit()) / f64::from(each);
            let mut arguments = Arguments { grain: chance.unit().to_bits(), ..Arguments::default() };
            arguments.words.insert("state".to_owned(), (*state).to_owned());
            arguments.numbers.insert("strength".to_owned(), strength.unwrap_or(1.0 + 2.0 * part));
            pulls.push((chance.unit(), *state, arguments));
        }
    }
    pulls.sort_by(|one, other| one.0.total_cmp(&other.0));
    let mut out = BufWriter::new(std::io::stdout().lock());
    for (_, state, arguments) in pulls {
        let drawing = (drawn.draw)(&arguments, Style { mark: '.' });
        let strength = arguments.number("strength");
        writeln!(
            out,
            "{}",
            json!({ "state": state, "strength": strength, "svg": drawing.svg, "words": drawing.words })
        )?;
    }
    out.flush()?;
    Ok(())
}
