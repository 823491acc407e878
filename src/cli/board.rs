//! `gearside board`: the coordinator's pages.

use std::path::Path;

use super::arguments::BoardArguments;
use super::keeping::{Keeping, date, trouble};
use super::out::{Ended, Out};
use crate::exchange::export;
use crate::ground::files::write_folder;
use crate::ground::{Fault, Place};
use crate::pages::{self, BoardOrder};
use crate::records::{Digest, Overview, Rules};

pub(super) fn run(arguments: &BoardArguments, programme: Option<&Path>, out: &mut Out) -> Ended {
    board(arguments, programme, out).unwrap_or_else(|ended| ended)
}

fn board(arguments: &BoardArguments, programme: Option<&Path>, out: &mut Out) -> Result<Ended, Ended> {
    let keeping = Keeping::load(programme, false, out)?;
    let on = match arguments.on.as_deref().map(date).transpose() {
        Ok(day) => day.unwrap_or(keeping.today),
        Err(message) => return Err(out.usage(&message, "give the day with --on")),
    };
    if on > keeping.today {
        return Err(out.usage(&format!("{on} is still to come"), "give a day up to today with --on"));
    }
    let store = keeping.open(out)?;
    let _moment = store.hold_still().map_err(|wrong| trouble(&wrong, out))?;
    let history = store.read().history(&keeping.programme.about.time_zone);
    let history = history.map_err(|wrong| trouble(&store.explain(wrong), out))?;
    let names = store.read().names().map_err(|wrong| trouble(&wrong, out))?;
    let place = Place { file: Some(store.path().display().to_string()), ..Place::default() };
    for one in &history.breaks {
        let message = format!("the chain breaks at fact {}: {}", one.seq, one.what);
        out.fault(&Fault::new("chain", message, "the pages say so too; run `gearside audit`").at(place.clone()));
    }
    let rules = Rules::of(&keeping.programme);
    let overview = Overview::new(&keeping.programme, &rules, &history, &names, on);
    let template_folder = keeping.template_folder();
    let notes = store.read().notes().map_err(|wrong| trouble(&wrong, out))?;
    let note = |digest: &Digest| notes.get(digest).cloned();
    // The tables say each state again in words; they are made beside the pages.
    let (pages, (csv, json)) = std::thread::scope(|scope| {
        let tables = scope
            .spawn(|| (export::board_csv(&overview, arguments.names), export::board_json(&overview, arguments.names)));
        let pages = pages::board(&overview, &BoardOrder { note: &note, template_folder });
        (pages, tables.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)))
    });
    let mut files = match pages {
        Ok(files) => files,
        Err(faults) => {
            faults.iter().for_each(|fault| out.fault(fault));
            return Err(Ended::Content);
        }
    };
    files.push(("board.csv".to_owned(), csv));
    files.push(("board.json".to_owned(), json.clone().into_bytes()));
    write_folder(&arguments.output, &files).map_err(|fault| out.folder(&fault))?;
    let front = arguments.output.join("index.html");
    if out.json {
        let mut value: serde_json::Value = serde_json::from_str(&json).unwrap_or_default();
        value["faults"] = out.faults_json();
        out.value(&value);
    } else {
        out.line(&front.display().to_string());
        out.note(&format!("{} pages and tables; head {}", files.len(), history.head.shown()));
    }
    let ended = if history.breaks.is_empty() { Ended::Done } else { Ended::Content };
    // The run ends here: giving back hundreds of thousands of facts one by one would only take time.
    std::mem::forget(overview);
    std::mem::forget(history);
    Ok(ended)
}
