//! Someone who owns the file can change anything in it. What an audit finds of
//! that, where, and what only a head that was written down can tell.

#![expect(clippy::disallowed_methods, reason = "a test may panic with whatever the system says")]

mod keeping;

use std::fs;
use std::path::Path;

use gearside::records::{Fact, HeadCheck, Link, Store, digest_of, hash_of};
use keeping::{FIRST, Kept, code, draft};
use rusqlite::{Connection, params};

/// The file with the triggers gone that stop accidents.
fn broken_into(path: &Path) -> Connection {
    let connection = Connection::open(path).expect("a file");
    let drop = "DROP TRIGGER fact_stays; DROP TRIGGER fact_remains; DROP TRIGGER fact_follows;";
    connection.execute_batch(drop).expect("triggers dropped");
    connection
}

fn links(path: &Path) -> Vec<Link> {
    let mut links = Vec::new();
    Store::open(path).expect("records").read().each_link(1, |link| links.push(link)).expect("facts");
    links
}

/// Writes a row as a forger would: with the hash that its content asks for.
fn forge(connection: &Connection, seq: u64, kind: &str, body: &str, prev: &[u8]) -> [u8; 32] {
    let at = "2026-10-20T10:00:00Z";
    let hash = hash_of(prev, seq, at, kind, body);
    connection
        .execute(
            "INSERT INTO fact VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            params![seq.cast_signed(), at, kind, body, prev, hash],
        )
        .expect("a row");
    hash
}

/// Moves all facts from `from` on by so many numbers.
fn renumber(connection: &Connection, from: u64, by: i64) {
    // Two steps, so that no number is ever taken twice.
    let from = from.cast_signed();
    connection.execute("UPDATE fact SET seq = -seq - ?2 WHERE seq >= ?1", [from, by]).expect("moved away");
    connection.execute("UPDATE fact SET seq = -seq WHERE seq < 0", []).expect("moved back");
}

/// A fact, what it speaks of, and whether that is altered or missing.
type Finding = (u64, &'static str, bool);

/// What is done to the file.
type Deed = fn(&Connection, &[Link]);

/// What was done, the first fact at which the chain must break, and how many breaks there may be.
const DEEDS: &[(&str, Deed, &[u64])] = &[
    (
        "a body is changed",
        |file, _| run(file, "UPDATE fact SET body = replace(body, 'job 1', 'job 2') WHERE seq = 8"),
        &[8],
    ),
    ("a blank is added to a body", |file, _| run(file, "UPDATE fact SET body = body || ' ' WHERE seq = 6"), &[6]),
    ("a time is changed", |file, _| run(file, "UPDATE fact SET at = '2026-09-30T08:00:00Z' WHERE seq = 8"), &[8]),
    ("a kind is changed", |file, _| run(file, "UPDATE fact SET kind = 'hours' WHERE seq = 8"), &[8, 8]),
    ("a hash is changed", |file, _| run(file, "UPDATE fact SET hash = zeroblob(32) WHERE seq = 8"), &[8, 9]),
    ("a hash before is changed", |file, _| run(file, "UPDATE fact SET prev = zeroblob(32) WHERE seq = 8"), &[8]),
    ("a fact is deleted", |file, _| run(file, "DELETE FROM fact WHERE seq = 8"), &[9]),
    ("the first fact is deleted", |file, _| run(file, "DELETE FROM fact WHERE seq = 1"), &[2]),
    ("three facts are deleted", |file, _| run(file, "DELETE FROM fact WHERE seq IN (6, 7, 8)"), &[9]),
    (
        "a fact is deleted and the rest moved up",
        |file, _| {
            run(file, "DELETE FROM fact WHERE seq = 8");
            renumber(file, 9, -1);
        },
        &[8, 9, 10, 11, 12, 13],
    ),
    ("two rows change places", |file, _| swap_rows(file, 8, 9), &[8, 9, 10]),
    ("two far rows change places", |file, _| swap_rows(file, 6, 12), &[6, 7, 12, 13]),
    ("two bodies change places", swap_bodies, &[8, 9]),
    (
        "the facts are put in another order",
        |file, _| {
            swap_rows(file, 7, 8);
            swap_rows(file, 8, 9);
        },
        &[7, 8, 9, 10],
    ),
    ("a fact is put in between, with its right hash", put_in_between, &[9, 10, 11, 12, 13, 14, 15]),
    (
        "a fact is rewritten with its right hash",
        |file, links| {
            let Link { seq, at, kind, body, prev, .. } = &links[7];
            let body = body.replace("job 1", "job 2");
            let hash = hash_of(prev, *seq, at, kind, &body);
            file.execute("UPDATE fact SET body = ?1, hash = ?2 WHERE seq = 8", params![body, hash]).expect("rewritten");
        },
        &[9],
    ),
];

fn run(file: &Connection, sql: &str) {
    assert!(file.execute(sql, []).expect(sql) > 0, "nothing was changed by {sql}");
}

fn swap_rows(file: &Connection, one: i64, other: i64) {
    for (from, to) in [(one, -1), (other, one), (-1, other)] {
        file.execute("UPDATE fact SET seq = ?2 WHERE seq = ?1", [from, to]).expect("moved");
    }
}

fn swap_bodies(file: &Connection, links: &[Link]) {
    for (seq, body) in [(8, &links[8].body), (9, &links[7].body)] {
        file.execute("UPDATE fact SET body = ?2 WHERE seq = ?1", params![seq, body]).expect("changed");
    }
}

fn put_in_between(file: &Connection, links: &[Link]) {
    renumber(file, 8, 1);
    let body = links[7].body.replace("job 1", "job 7");
    forge(file, 8, "observation", &body, &links[6].hash);
}

#[test]
fn whatever_is_done_to_a_fact_is_found_where_it_was_done() {
    for (what, deed, want) in DEEDS {
        let mut kept = Kept::new();
        drop(kept.story());
        let before = links(&kept.path());
        assert!(kept.audit().holds(), "before {what}");
        let file = broken_into(&kept.path());
        deed(&file, &before);
        drop(file);
        let audit = kept.audit();
        let seqs: Vec<u64> = audit.breaks.iter().map(|found| found.seq).collect();
        assert_eq!(seqs, *want, "{what}: {:?}", audit.breaks);
        assert!(!audit.holds(), "{what}");
    }
}

#[test]
fn whatever_is_done_to_a_text_or_a_name_is_found_where_it_is_spoken_of() {
    let note = "SELECT json_extract(body, '$.note') FROM fact WHERE seq = 8";
    let name = |seq: u64| format!("SELECT json_extract(body, '$.is.name') FROM fact WHERE seq = {seq}");
    let edition = "SELECT json_extract(body, '$.is.digest') FROM fact WHERE seq = 1";
    // What is done, and the facts, what they speak of, whether it is altered or missing.
    let table: [(&str, String, &[Finding]); 11] = [
        (
            "a note is changed",
            format!("UPDATE blob SET bytes = CAST('Badly done' AS BLOB) WHERE digest = ({note})"),
            &[(8, "note", true)],
        ),
        (
            "a salt is changed",
            format!("UPDATE blob SET salt = zeroblob(16) WHERE digest = ({note})"),
            &[(8, "note", true)],
        ),
        ("a note is removed", format!("DELETE FROM blob WHERE digest = ({note})"), &[(8, "note", false)]),
        (
            "all texts are removed",
            "DELETE FROM blob WHERE salt <> x''".into(),
            &[(6, "note", false), (8, "note", false), (13, "note", false)],
        ),
        (
            "the edition is changed",
            format!(
                "UPDATE blob SET bytes = CAST(replace(CAST(bytes AS TEXT), '\"times\":2', '\"times\":1') AS BLOB) WHERE digest = ({edition})"
            ),
            &[(1, "edition", true)],
        ),
        ("the edition is removed", format!("DELETE FROM blob WHERE digest = ({edition})"), &[(1, "edition", false)]),
        (
            "a name is changed",
            format!("UPDATE person_name SET name = 'Someone Else' WHERE digest = ({})", name(4)),
            &[(4, "name", true)],
        ),
        (
            "a name's salt is changed",
            format!("UPDATE person_name SET salt = zeroblob(16) WHERE digest = ({})", name(4)),
            &[(4, "name", true)],
        ),
        ("a name is removed", format!("DELETE FROM person_name WHERE digest = ({})", name(5)), &[(5, "name", false)]),
        (
            "a name is given to another",
            format!("UPDATE person_name SET code = 'a-2' WHERE digest = ({})", name(4)),
            &[(4, "name", true)],
        ),
        (
            "two people change names",
            "UPDATE person_name SET code = iif(code = 'a-1', 'a-2', 'a-1') WHERE code IN ('a-1', 'a-2')".into(),
            &[(4, "name", true), (5, "name", true)],
        ),
    ];
    for (what, sql, want) in table {
        let mut kept = Kept::new();
        drop(kept.story());
        let file = broken_into(&kept.path());
        assert!(file.execute(&sql, []).expect(&sql) > 0, "{what}: nothing was changed");
        drop(file);
        let audit = kept.audit();
        let found: Vec<Finding> = audit.texts.iter().map(|one| (one.seq, one.what, one.altered)).collect();
        assert_eq!((found.as_slice(), audit.breaks.len(), audit.holds()), (want, 0, false), "{what}");
    }
}

#[test]
fn a_forged_text_with_a_digest_of_its_own_does_not_pass_for_the_old_one() {
    let mut kept = Kept::new();
    drop(kept.story());
    let file = broken_into(&kept.path());
    let forged = digest_of(&[1; 16], b"Badly done");
    let body = &links(&kept.path())[7].body;
    let fact = Fact::read("observation", body).expect("a fact");
    let old = fact.claim.note.expect("a note");
    file.execute("INSERT INTO blob VALUES (?1, ?2, ?3)", params![forged.as_str(), [1_u8; 16], b"Badly done"])
        .expect("a text");
    file.execute("UPDATE fact SET body = ?1 WHERE seq = 8", [body.replace(old.as_str(), forged.as_str())])
        .expect("changed");
    let audit = kept.audit();
    assert_eq!((audit.breaks.len(), audit.breaks[0].seq, audit.texts.len()), (1, 8, 0));
}

/// A forger who knows the program writes a sign-off that the evidence does not support.
#[test]
fn a_sign_off_forged_with_right_hashes_is_found_by_deriving_it_again() {
    let sign = |person: &str, by: &str, on: &str| {
        format!(
            r#"{{"person":"{person}","seen_by":"{by}","seen_on":"{on}","entered_by":"c-1","is":{{"competency":"ink","acknowledged_on":"{on}","rests_on":[11,12,13],"despite":null}}}}"#
        )
    };
    for (person, by, on, doubt) in [
        ("a-2", "s-1", "2026-10-09", "the evidence was not enough"),
        ("a-1", "s-1", "2026-10-06", "the evidence was not enough"),
        ("a-2", "a-1", "2026-10-09", "a-1 was not an assessor"),
        ("a-2", "s-1", "2026-08-01", "s-1 was not an assessor"),
    ] {
        let mut kept = Kept::new();
        drop(kept.story());
        let file = broken_into(&kept.path());
        forge(&file, 15, "signoff", &sign(person, by, on), &links(&kept.path())[13].hash);
        drop(file);
        let audit = kept.audit();
        let forged = audit.signoffs.iter().find(|one| one.seq == 15).expect("looked at");
        assert!(audit.breaks.is_empty() && !audit.holds(), "{person} by {by}");
        assert!(forged.then[0].contains(doubt), "{person} by {by}: {:?}", forged.then);
        assert!(audit.signoffs.iter().all(|one| one.seq == 15 || one.then.is_empty()));
    }
}

/// Takes a record back to what it was before some facts, and lets it go on from there.
fn rewrite_from(path: &Path, from: u64) {
    let old = links(path);
    let file = broken_into(path);
    file.execute("DELETE FROM fact WHERE seq >= ?1", [from.cast_signed()]).expect("deleted");
    let mut prev = old[usize::try_from(from).expect("small") - 2].hash.clone();
    for link in old.iter().filter(|link| link.seq >= from) {
        prev = forge(&file, link.seq, &link.kind, &link.body.replace("job 1", "job 9"), &prev).to_vec();
    }
}

#[test]
fn what_the_chain_cannot_tell_a_head_that_was_written_down_does() {
    let mut kept = Kept::new();
    let store = kept.story();
    let early = store.read().link(5).expect("read").expect("a fact");
    let early = format!("5:{}", &gearside::records::hex(&early.hash)[..20]);
    let head = store.read().head().expect("a head");
    let (shown, digits) = (head.shown(), head.digest().as_str()[..20].to_owned());
    drop(store);
    let whole = fs::read(kept.path()).expect("a copy");
    let check = |head: &str| {
        let audit = kept.audit_against(Some(head));
        assert!(audit.breaks.is_empty() && audit.texts.is_empty(), "the walk finds nothing");
        let held = matches!(audit.claimed, Some(HeadCheck::Holds(_)));
        assert_eq!(audit.holds(), held && audit.signoffs.iter().all(|one| one.then.is_empty()));
        audit.claimed.expect("checked")
    };
    assert_eq!(
        (check(&shown), check(&digits), check(&early)),
        (HeadCheck::Holds(0), HeadCheck::Holds(0), HeadCheck::Holds(9))
    );
    // The last three are cut off.
    broken_into(&kept.path()).execute("DELETE FROM fact WHERE seq > 11", []).expect("cut");
    assert_eq!(
        (check(&shown), check(&digits), check(&early)),
        (HeadCheck::Cut, HeadCheck::Unknown, HeadCheck::Holds(6))
    );
    // Everything from fact 8 on is rewritten with right hashes.
    fs::write(kept.path(), &whole).expect("put back");
    rewrite_from(&kept.path(), 8);
    assert_eq!(
        (check(&shown), check(&digits), check(&early)),
        (HeadCheck::Rewritten, HeadCheck::Unknown, HeadCheck::Holds(9))
    );
    // Even the very last one.
    fs::write(kept.path(), &whole).expect("put back");
    rewrite_from(&kept.path(), 13);
    assert_eq!(check(&shown), HeadCheck::Rewritten);
    // Cut, and grown longer again than it was.
    fs::write(kept.path(), &whole).expect("put back");
    rewrite_from(&kept.path(), 12);
    let last = links(&kept.path()).pop().expect("facts");
    forge(
        &broken_again(&kept.path()),
        15,
        &last.kind,
        &last.body.replace("08T", "09T").replace("10-08", "10-09"),
        &last.hash,
    );
    assert_eq!(check(&shown), HeadCheck::Rewritten);
}

fn broken_again(path: &Path) -> Connection {
    Connection::open(path).expect("a file")
}

#[test]
fn an_old_whole_copy_is_found_by_the_head_only() {
    let mut kept = Kept::new();
    let mut store = kept.story();
    let old = fs::read(kept.path()).expect("a copy");
    kept.record(&mut store, vec![keeping::hours("a-2", jiff::civil::date(2026, 10, 12), "07:00", "08:00")])
        .expect("recorded");
    let head = store.read().head().expect("a head").shown();
    drop(store);
    assert_eq!(kept.audit_against(Some(&head)).claimed, Some(HeadCheck::Holds(0)));
    fs::write(kept.path(), old).expect("put back");
    let audit = kept.audit_against(Some(&head));
    assert!(audit.breaks.is_empty() && audit.texts.is_empty() && !audit.holds());
    assert_eq!(audit.claimed, Some(HeadCheck::Cut));
    assert!(kept.audit().holds());
}

#[test]
fn what_was_redacted_counts_as_erased_and_not_as_altered() {
    let mut kept = Kept::new();
    let mut store = kept.story();
    let seq = kept.redact(&mut store, "a-1");
    drop(store);
    let audit = kept.audit();
    // A name and two notes: those of the facts 4, 6 and 8.
    assert_eq!((seq, audit.erased, audit.texts.len(), audit.breaks.len()), (15, 3, 0, 0));
    assert!(audit.holds());
    let bytes = fs::read(kept.path()).expect("the file");
    let has = |text: &str| bytes.windows(text.len()).any(|part| part == text.as_bytes());
    assert!(!has("Invented a-1") && !has("Well done") && !has("Slow, and sound"), "it is still in the file");
    assert!(has("Invented a-2") && has("Needs another go"));
    // What is erased without a fact that says so is missing.
    broken_into(&kept.path()).execute("DELETE FROM person_name WHERE code = 'a-2'", []).expect("removed");
    let audit = kept.audit();
    assert_eq!((audit.erased, audit.texts.len(), audit.texts[0].seq), (3, 1, 5));
}

#[test]
fn a_code_that_was_erased_keeps_its_facts() {
    let mut kept = Kept::new();
    let mut store = kept.story();
    kept.redact(&mut store, "a-1");
    let history = store.read().history(&kept.programme.about.time_zone).expect("a history");
    let person = history.person(&code("a-1")).expect("still there");
    assert!(!person.work["ink"].signoffs.is_empty());
    let names = store.read().names().expect("names");
    assert!(person.name_digest().is_some_and(|digest| !names.contains_key(digest)));
    // Nor can they be told apart from a draft that names them anew.
    assert!(
        kept.record(
            &mut store,
            vec![draft("a-1", "s-1", FIRST, keeping::hours("a-1", FIRST, "07:00", "08:00").matter)]
        )
        .is_ok()
    );
}
