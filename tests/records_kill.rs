//! A writer that is killed in the middle loses nothing that it had said was
//! recorded, and leaves nothing half done.

#![cfg(unix)]

mod keeping;

use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Read, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use gearside::records::{Claim, Event, Fact, Matter, Store, Walk, hex};
use keeping::{FIRST, Kept, code};

/// Where the other process of this test finds the records.
const FILE: &str = "GEARSIDE_KILL_TEST_FILE";
/// How many batches it writes; none means until it is killed.
const BATCHES: &str = "GEARSIDE_KILL_TEST_BATCHES";
/// How often the writer is killed.
const KILLS: u32 = 100;
/// How many of those must come while it writes.
const LEAST_WHILE_WRITING: u32 = 80;
/// How long the run is that the moments are spread over, in batches.
const RUN: u32 = 25;

/// A fact that says which row of which batch it is.
fn fact(batch: &str, row: u32, rows: u32) -> Fact {
    let who = code("c-1");
    let paper = Some(format!("{batch} {row} {rows}"));
    let claim = Claim { seen_by: who.clone(), seen_on: FIRST, entered_by: who, paper, note: None };
    Fact { person: Some(code("a-1")), claim, matter: Matter::Event(Event { event: "review".into() }) }
}

/// The process that is killed: this test by itself does nothing.
#[test]
fn a_writer_of_many_batches() {
    let Some(path) = std::env::var_os(FILE).map(PathBuf::from) else { return };
    let batches = std::env::var(BATCHES).ok().and_then(|count| count.parse().ok()).unwrap_or(u32::MAX);
    let mut out = std::io::stdout().lock();
    let mut store = Store::open(&path).expect("records");
    let now = "2026-10-21T08:00:00Z".parse().expect("a time");
    for batch in 0..batches {
        let rows = 1 + batch % 3;
        let mut writer = store.write().expect("to write");
        for row in 1..=rows {
            let name = format!("{}-{batch}", std::process::id());
            writer.append(now, &fact(&name, row, rows)).expect("written");
        }
        let head = writer.commit().expect("committed");
        writeln!(out, "\nrecorded {} {}", head.seq, hex(&head.hash)).expect("said");
        out.flush().expect("said");
    }
}

fn start(path: &Path, batches: Option<u32>) -> Child {
    let mut command = Command::new(std::env::current_exe().expect("this test"));
    command.args(["--exact", "a_writer_of_many_batches", "--nocapture"]).env(FILE, path);
    if let Some(batches) = batches {
        command.env(BATCHES, batches.to_string());
    }
    command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::null()).spawn().expect("it starts")
}

/// What it had said was recorded: numbers and hashes.
fn acknowledged(output: impl Read) -> Vec<(u64, String)> {
    let lines = BufReader::new(output).lines().map_while(Result::ok);
    lines
        .filter_map(|line| {
            let (seq, hash) = line.strip_prefix("recorded ")?.split_once(' ')?;
            // A line that was cut off by the kill says nothing.
            (hash.len() == 64).then(|| (seq.parse().expect("a number"), hash.to_owned()))
        })
        .collect()
}

/// Reads the whole record: its chain walks, no batch is torn; gives the hashes.
fn sound(path: &Path) -> BTreeMap<u64, String> {
    let store = Store::open(path).expect("it opens");
    store.check_file().expect("no damage");
    let (mut walk, mut hashes, mut batches) = (Walk::default(), BTreeMap::new(), BTreeMap::new());
    let read = store.read().each_link(1, |link| {
        walk.step(&link).expect("it follows");
        hashes.insert(link.seq, hex(&link.hash));
        let paper = Fact::read(&link.kind, &link.body).expect("it reads").claim.paper.unwrap_or_default();
        if let [batch, row, rows] = paper.split(' ').collect::<Vec<_>>()[..] {
            let (seen, of): &mut (Vec<String>, String) = batches.entry(batch.to_owned()).or_default();
            seen.push(row.to_owned());
            rows.clone_into(of);
        }
    });
    read.expect("it is read");
    for (batch, (seen, of)) in &batches {
        let all: Vec<String> = (1..=of.parse::<u32>().expect("a number")).map(|row| row.to_string()).collect();
        assert_eq!(*seen, all, "batch {batch} is torn");
    }
    hashes
}

#[test]
fn every_acknowledged_fact_outlives_a_hundred_kills() {
    let mut kept = Kept::new();
    drop(kept.story());
    let path = kept.path();
    let begun = Instant::now();
    let undisturbed = start(&path, Some(RUN)).wait_with_output().expect("it ran");
    let run = begun.elapsed();
    let said = acknowledged(&undisturbed.stdout[..]);
    assert!(undisturbed.status.success() && said.len() == RUN as usize, "{} of {RUN} batches", said.len());
    let note = PathBuf::from(format!("{}.writer", path.display()));
    let journal = PathBuf::from(format!("{}-journal", path.display()));
    let (mut while_writing, mut with_journal, mut facts) = (0, 0, 0);
    for number in 0..KILLS {
        let moment = run.mul_f64((f64::from(number) + 0.5) / f64::from(KILLS));
        let mut writer = start(&path, None);
        std::thread::sleep(moment);
        writer.kill().expect("killed");
        let output = writer.wait_with_output().expect("it ended");
        assert!(!output.status.success(), "it was killed");
        // What a killed writer leaves behind tells what it was doing.
        let was_writing = note.exists() || journal.exists();
        while_writing += u32::from(was_writing);
        with_journal += u32::from(journal.exists());
        let said = acknowledged(&output.stdout[..]);
        let hashes = sound(&path);
        for (seq, hash) in said {
            assert_eq!(hashes.get(&seq), Some(&hash), "fact {seq} was acknowledged before kill {number} at {moment:?}");
            facts += 1;
        }
        // The next one can write at once.
        let mut store = Store::open(&path).expect("records");
        let mut next = store.write().expect("to write");
        next.append(kept.now, &fact(&format!("next-{number}"), 1, 1)).expect("written");
        next.commit().expect("committed");
        assert!(!note.exists() && !journal.exists());
    }
    let told = format!(
        "{KILLS} kills over {run:?}: {while_writing} while writing, {with_journal} with a journal; {facts} acknowledged batches, all there, after {:?}\n",
        begun.elapsed()
    );
    std::io::stderr().write_all(told.as_bytes()).expect("said");
    assert!(while_writing >= LEAST_WHILE_WRITING, "{told}");
    assert!(run > Duration::from_millis(20) && facts > 200, "{told}");
}
