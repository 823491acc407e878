//! What stands in an export's `README.txt`.

use std::fmt::Write as _;

use super::Wanted;
use crate::programme::Programme;
use crate::records::{History, hex};

/// The files, and how to check them.
pub(super) fn text(programme: &Programme, wanted: &Wanted, history: &History, facts: u64) -> String {
    let (title, edition) = (&programme.about.title, &programme.about.edition);
    let mark = if programme.about.decimal_comma { "comma" } else { "point" };
    let whom = match &wanted.person {
        Some(code) => format!("Everything about {code}, and the editions of the curriculum"),
        None => "Everything on record".to_owned(),
    };
    let mut text = format!(
        "{title}, edition {edition}\n{whom}: {facts} facts. States are those of {}.\n\
         Head of the chain: fact {}, {}\n\n{FILES}",
        wanted.on,
        history.head.seq,
        hex(&history.head.hash)
    );
    if wanted.names {
        text += "names.csv         whose code is whose; the digest of a name stands in the fact with that seq\n";
    }
    if wanted.notes {
        text += "notes.csv         the texts said with facts\n";
    }
    text += "SHA256SUMS        the digests of the files above\n\n";
    text += &TABLES.replace("MARK", mark);
    if !history.breaks.is_empty() {
        text += "\nThe chain of these records does not hold everywhere. What was seen when this was written:\n";
        for found in &history.breaks {
            let _ = writeln!(text, "  fact {}: {}", found.seq, found.what);
        }
    }
    text += CHECKING;
    if wanted.person.is_some() {
        text += PART;
    }
    text
}

const FILES: &str = "\
FILES

facts.jsonl       every fact, one JSON object a line: seq, at (when it was entered, UTC), kind, body (JSON, as
                  it is stored, here as a text), prev and hash (hexadecimal)
people.csv        who had which role from when to when
leave.csv         who went away, and who came back
hours.csv         hours on the job, of instruction, and from before
observations.csv  who was observed at what, and what was made of each criterion
marks.csv         marks of sealed, supervised work, part by part
signoffs.csv      sign-offs, with what was asked for, withdrawn, held and released; rests_on names facts
events.csv        what else happened
states.csv        where each apprentice stood in each competency on that day, and why: derived, not stored
";

const TABLES: &str = "\
TABLES

Tables are UTF-8 with commas between cells; the decimal mark is a MARK. Text that a spreadsheet could take for a formula has an
apostrophe before it, which is not part of it. replaced_by names the fact from which on a row no longer counts. People are
called by codes.
";

const CHECKING: &str = "
CHECKING

The files: sha256sum -c SHA256SUMS

The chain: each fact's hash is the SHA-256 of six fields, one behind the other, and before each field its length
in bytes as an unsigned number of eight bytes, the most significant first:
  1. the text gearside-fact-1
  2. the hash of the fact before, 32 bytes; 32 zero bytes for fact 1
  3. seq as an unsigned number of eight bytes, the most significant first
  4. at, UTF-8
  5. kind, UTF-8
  6. body, UTF-8, exactly as the text in facts.jsonl
Numbers run 1, 2, 3 without a gap; prev of each is hash of the one before. The last hash is the head above. It must
also be the one printed on the pages and records of that day: the first twenty digits stand there behind the number.
";

const PART: &str = "
This is a part of the records: the facts between are about others. Each hash can be computed from its own line, but whether
the chain holds between them shows in the whole only.
";
