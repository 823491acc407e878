//! Prints what a person gets of every numeric exercise, three pulls each, one
//! JSON object a line: the question with the words of its figure, what is asked in which unit, and the
//! interval that counts as right.
//!
//! An argument names a programme folder; without one it is the built-in one.

use std::io::{BufWriter, Write};
use std::path::PathBuf;

use gearside::marking::part_key;
use gearside::picture::draw;
use gearside::programme::{Form, Origin, load};
use gearside::pull::{Printer, pull_several};
use serde_json::json;

const SEED: &str = "once again";
const PULLS: usize = 3;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let origin = std::env::args_os().nth(1).map_or(Origin::Shipped, |folder| Origin::Folder(PathBuf::from(folder)));
    let programme = load(&origin).map_err(|fault| format!("{fault:?}"))?.programme.ok_or("no programme")?;
    let printer = Printer::of(&programme);
    let mut out = BufWriter::new(std::io::stdout().lock());
    for bank in &programme.banks {
        for exercise in &bank.exercises {
            let Form::Numeric(numeric) = &exercise.form else { continue };
            for pull in pull_several(exercise, SEED, PULLS, printer).map_err(|fault| fault.message)? {
                let parts = pull.public.parts.iter().map(|part| json!({ "label": part.label, "unit": part.unit }));
                let right = numeric.answers.iter().map(|step| part_key(exercise, &pull.key, *step).right);
                let words = pull.public.picture.as_ref().map(|pictured| draw(pictured, printer).words);
                let words = words.map_or_else(String::new, |words| format!("\n\nIn the figure: {words}"));
                let question = json!({
                    "bank": bank.file,
                    "id": exercise.id.as_str(),
                    "pull": pull.public.number,
                    "ask": format!("{}{words}", pull.public.ask),
                    "parts": parts.collect::<Vec<_>>(),
                    "right": right.collect::<Vec<_>>(),
                });
                writeln!(out, "{question}")?;
            }
        }
    }
    out.flush()?;
    Ok(())
}
