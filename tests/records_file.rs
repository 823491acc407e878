//! The file itself: damaged, foreign, busy, and its owner's only.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

mod keeping;

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use gearside::records::{Audit, Link, Store, Trouble};
use jiff::civil::date;
use keeping::{Kept, hours};
use rusqlite::Connection;

/// What can be told of a file.
#[derive(Debug, PartialEq)]
enum Told {
    /// It cannot be opened, or not be read.
    Trouble(&'static str, String),
    /// An audit finds something.
    Found,
    /// Nothing is found, and these are the facts.
    Sound(Vec<Link>),
}

fn beside(path: &Path, ending: &str) -> PathBuf {
    PathBuf::from(format!("{}{ending}", path.display()))
}

/// Opens, audits and reads a file with these bytes.
fn told(kept: &Kept, bytes: &[u8]) -> Told {
    for left in ["-journal", "-wal", "-shm", ".writer"] {
        let _ = fs::remove_file(beside(&kept.path(), left));
    }
    fs::write(kept.path(), bytes).expect("written");
    let trouble = |trouble: &Trouble| Told::Trouble(trouble.fault().kind, trouble.fault().message.clone());
    let store = match Store::open(&kept.path()) {
        Ok(store) => store,
        Err(found) => return trouble(&found),
    };
    let zone = &kept.programme.about.time_zone;
    // Every other way in must not panic either.
    let read = store.read().history(zone);
    let salvage = || {
        let mut seqs = Vec::new();
        let _ = store.read().salvage(zone, |link| seqs.push(link.seq));
        seqs
    };
    let salvaged = salvage();
    match Audit::of(&store, zone, None) {
        Err(found) => {
            let message = &found.fault().message;
            let says = message.contains("can still be read") || message.contains("can be read any more");
            assert!(says || found.fault().kind != "damaged", "{message}");
            assert_eq!(
                message.contains("no fact can be read"),
                salvaged.is_empty() && found.fault().kind == "damaged",
                "{message}"
            );
            assert_eq!(salvage(), salvaged, "each look finds the same");
            trouble(&found)
        }
        Ok(audit) if !audit.holds() => Told::Found,
        Ok(_) => {
            let mut links = Vec::new();
            store.read().each_link(1, |link| links.push(link)).expect("facts");
            assert!(read.is_ok_and(|history| history.breaks.is_empty()));
            Told::Sound(links)
        }
    }
}

/// A record of some pages' length.
fn long_story(kept: &mut Kept) -> Vec<u8> {
    let mut store = kept.story();
    for day in 9..=19 {
        let batch = (0..6).map(|hour| {
            hours("a-2", date(2026, 10, day), &format!("{:02}:00", 7 + hour), &format!("{:02}:30", 7 + hour))
        });
        let batch = batch.collect();
        kept.record(&mut store, batch).expect("recorded");
    }
    drop(store);
    fs::read(kept.path()).expect("the file")
}

#[test]
fn no_flipped_byte_goes_unnoticed_where_it_changes_a_fact() {
    let mut kept = Kept::new();
    let bytes = long_story(&mut kept);
    let Told::Sound(facts) = told(&kept, &bytes) else { panic!("it was sound") };
    assert!(bytes.len() > 10 * 4096 && facts.len() == 80, "{} bytes, {} facts", bytes.len(), facts.len());
    let (mut troubles, mut found, mut idle) = (0, 0, 0);
    // The whole of the head, then a byte here and there of every page.
    let spots = (0..100).chain((100..bytes.len()).step_by(53));
    for (number, spot) in spots.enumerate() {
        let mut changed = bytes.clone();
        changed[spot] ^= [0x01, 0xff, 0x40, 0x80][number % 4];
        match told(&kept, &changed) {
            Told::Trouble(..) => troubles += 1,
            Told::Found => found += 1,
            Told::Sound(read) => {
                assert!(read == facts, "byte {spot} changed a fact, and nothing was found");
                idle += 1;
            }
        }
    }
    assert!(troubles > 50 && found > 200, "{troubles} troubles, {found} found, {idle} changed nothing");
}

#[test]
fn a_page_that_was_overwritten_is_told_with_what_can_still_be_read() {
    let mut kept = Kept::new();
    let bytes = long_story(&mut kept);
    let mut stretches = 0;
    for page in 1..bytes.len() / 4096 {
        let mut changed = bytes.clone();
        changed[page * 4096..(page + 1) * 4096].fill(0xA5);
        match told(&kept, &changed) {
            Told::Trouble("damaged", message) => stretches += usize::from(message.contains(" can still be read")),
            Told::Found => {}
            other => panic!("page {page}: {other:?}"),
        }
    }
    assert!(stretches >= 3, "only {stretches} damaged pages left facts that can be read");
}

#[test]
fn a_truncated_file_is_told() {
    let mut kept = Kept::new();
    let bytes = long_story(&mut kept);
    for length in [1, 50, 99, 100, 511, 4095, 4096, 8192, 12_288, bytes.len() / 2, bytes.len() - 4096, bytes.len() - 1]
    {
        let told = told(&kept, &bytes[..length]);
        // Without its very last byte it is a file still, and the fact or text that misses it is found.
        let fine = matches!(told, Told::Trouble("damaged", _)) || (told == Told::Found && length + 1 == bytes.len());
        assert!(fine, "{length} bytes: {told:?}");
    }
}

#[test]
fn an_empty_file_is_no_record_but_one_can_be_started_in_it() {
    let mut kept = Kept::new();
    let empty = told(&kept, b"");
    assert!(matches!(&empty, Told::Trouble("no-records", says) if says.contains("empty")), "{empty:?}");
    drop(kept.story());
    assert!(kept.audit().holds());
}

#[test]
fn a_file_of_something_else_is_left_alone() {
    let kept = Kept::new();
    let other = kept.home().join("other.db");
    Connection::open(&other)
        .expect("a file")
        .execute_batch("CREATE TABLE t(a); INSERT INTO t VALUES (1);")
        .expect("a table");
    let foreign = fs::read(&other).expect("bytes");
    let owned = {
        Connection::open(&other).expect("a file").execute_batch("PRAGMA application_id = 77;").expect("an owner");
        fs::read(&other).expect("bytes")
    };
    let text = b"seq,at,kind\n1,2026-09-01,person\n".repeat(100);
    for (bytes, kind) in [
        (foreign, "not-ours"),
        (owned, "not-ours"),
        (text, "damaged"),
        (b"hello".to_vec(), "damaged"),
        (vec![0; 4096], "damaged"),
    ] {
        let told = told(&kept, &bytes);
        assert!(matches!(&told, Told::Trouble(found, _) if *found == kind), "{kind}: {told:?}");
        assert_eq!(fs::read(kept.path()).expect("bytes"), bytes, "it was changed");
    }
}

#[test]
fn a_file_of_a_newer_gearside_is_left_alone() {
    let mut kept = Kept::new();
    drop(kept.story());
    Connection::open(kept.path()).expect("a file").execute_batch("PRAGMA user_version = 99;").expect("newer");
    let bytes = fs::read(kept.path()).expect("bytes");
    let told = told(&kept, &bytes);
    assert!(matches!(&told, Told::Trouble("newer", says) if says.contains("99")), "{told:?}");
    assert_eq!(fs::read(kept.path()).expect("bytes"), bytes);
}

#[cfg(unix)]
#[test]
fn only_its_owner_may_read_the_file_or_anything_beside_it_at_any_time() {
    use std::os::unix::fs::PermissionsExt as _;
    let mut kept = Kept::new();
    let mut store = kept.story();
    let copy = kept.home().join("copy.db");
    store.back_up(&copy).expect("a copy");
    let fact = Store::open(&copy).expect("the copy").read().link(14).expect("read").expect("a fact");
    let fact = gearside::records::Fact::read(&fact.kind, &fact.body).expect("it reads");
    let mut writer = store.write().expect("to write");
    writer.append(kept.now, &fact).expect("written");
    let mut seen = Vec::new();
    for entry in fs::read_dir(kept.home()).expect("a folder").map(|entry| entry.expect("an entry")) {
        let about = entry.metadata().expect("there");
        if about.is_file() {
            assert_eq!(about.permissions().mode() & 0o777, 0o600, "{:?}", entry.file_name());
            seen.push(entry.file_name().to_string_lossy().into_owned());
        }
    }
    seen.sort();
    assert_eq!(seen, ["copy.db", "records.db", "records.db-journal", "records.db.writer"]);
    drop(writer);
    assert!(!beside(&kept.path(), ".writer").exists() && !beside(&kept.path(), "-journal").exists());
    assert_eq!(store.read().head().expect("a head").seq, 14, "what was not committed is not there");
}

#[test]
fn a_second_writer_waits_for_the_first() {
    let mut kept = Kept::new();
    let mut first = kept.story();
    let path = kept.path();
    let writer = first.write().expect("to write");
    let second = std::thread::spawn(move || {
        let start = Instant::now();
        let mut second = Store::open(&path).expect("records");
        let head = second.write().expect("its turn comes").commit().expect("committed");
        (start.elapsed(), head.seq)
    });
    std::thread::sleep(Duration::from_millis(700));
    writer.commit().expect("committed");
    let (waited, seq) = second.join().expect("no panic");
    assert!(waited > Duration::from_millis(400), "it waited {waited:?} only");
    assert_eq!(seq, 14);
}

#[test]
fn a_second_writer_who_waits_in_vain_is_told_who_writes() {
    let mut kept = Kept::new();
    let mut first = kept.story();
    let mut second = kept.open();
    let writer = first.write().expect("to write");
    let start = Instant::now();
    let trouble = second.write().map(drop).expect_err("it is busy");
    let fault = trouble.fault();
    assert!(start.elapsed() > Duration::from_secs(4), "it waited {:?} only", start.elapsed());
    assert_eq!(fault.kind, "busy");
    let own = format!("process {} on ", std::process::id());
    assert!(matches!(trouble, Trouble::Usage(_)) && fault.message.contains(&own), "{}", fault.message);
    drop(writer);
    assert!(second.write().is_ok());
}

#[test]
fn the_board_is_read_while_someone_writes() {
    let mut kept = Kept::new();
    let mut first = kept.story();
    let zone = kept.programme.about.time_zone.clone();
    let fact = first.read().link(14).expect("read").expect("a fact");
    let fact = gearside::records::Fact::read(&fact.kind, &fact.body).expect("it reads");
    let path = kept.path();
    let mut writer = first.write().expect("to write");
    for _ in 0..3 {
        writer.append(kept.now, &fact).expect("written");
    }
    let read = |path: &Path| Store::open(path).expect("opened").read().history(&zone).expect("read");
    let start = Instant::now();
    let meanwhile = read(&path);
    assert!(start.elapsed() < Duration::from_secs(3), "it waited for the writer: {:?}", start.elapsed());
    assert_eq!((meanwhile.head.seq, meanwhile.breaks.len()), (14, 0));
    writer.commit().expect("committed");
    assert_eq!(read(&path).head.seq, 17);
}
