//! The shape of `records.db`, and how an older one is brought up to it.

use std::path::{Path, PathBuf};

use rusqlite::{Connection, TransactionBehavior};

use super::lock;

/// What `file` and `SQLite` show as the owner of the file: "gear" in ASCII.
pub(super) const APPLICATION_ID: i32 = 0x6765_6172;

/// One step of the shape each, in order; a file's `user_version` says how many it has seen.
pub(super) const MIGRATIONS: &[&str] = &["
CREATE TABLE fact(
  seq INTEGER PRIMARY KEY,
  at TEXT NOT NULL,
  kind TEXT NOT NULL,
  body TEXT NOT NULL,
  prev BLOB NOT NULL CHECK(length(prev) = 32),
  hash BLOB NOT NULL CHECK(length(hash) = 32)
) STRICT;
CREATE INDEX fact_person ON fact(json_extract(body, '$.person'));
CREATE INDEX fact_role ON fact(json_extract(body, '$.is.role')) WHERE kind = 'person';
CREATE TABLE person_name(
  digest TEXT PRIMARY KEY,
  code TEXT NOT NULL,
  salt BLOB NOT NULL,
  name TEXT NOT NULL
) STRICT;
CREATE TABLE blob(
  digest TEXT PRIMARY KEY,
  salt BLOB NOT NULL,
  bytes BLOB NOT NULL
) STRICT;
CREATE TRIGGER fact_stays BEFORE UPDATE ON fact BEGIN SELECT RAISE(ABORT, 'facts are never changed'); END;
CREATE TRIGGER fact_remains BEFORE DELETE ON fact BEGIN SELECT RAISE(ABORT, 'facts are never removed'); END;
CREATE TRIGGER fact_follows BEFORE INSERT ON fact
 WHEN NEW.seq <> (SELECT coalesce(max(seq), 0) + 1 FROM fact)
   OR NEW.prev <> (SELECT coalesce((SELECT hash FROM fact ORDER BY seq DESC LIMIT 1), zeroblob(32)))
 BEGIN SELECT RAISE(ABORT, 'a fact follows from the one before it'); END;
"];

/// The settings of every connection.
pub(super) fn settle(connection: &Connection) -> rusqlite::Result<()> {
    connection.execute_batch(
        "PRAGMA trusted_schema = OFF;
         PRAGMA cell_size_check = ON;
         PRAGMA recursive_triggers = ON;
         PRAGMA secure_delete = ON;
         PRAGMA journal_mode = DELETE;
         PRAGMA synchronous = EXTRA;
         PRAGMA temp_store = MEMORY;",
    )
}

/// The version of a file's shape.
pub(super) fn version(connection: &Connection) -> rusqlite::Result<usize> {
    let version: i64 = connection.pragma_query_value(None, "user_version", |row| row.get(0))?;
    Ok(usize::try_from(version).unwrap_or(usize::MAX))
}

/// Brings a file up to the last of `migrations`. A file that holds anything is
/// copied first; the copy's path comes back.
pub(super) fn migrate(
    connection: &mut Connection,
    path: &Path,
    migrations: &[&str],
) -> rusqlite::Result<Option<PathBuf>> {
    let from = version(connection)?;
    if from >= migrations.len() {
        return Ok(None);
    }
    let mut copy = None;
    if from > 0 {
        let target = free_name(path, from);
        // It holds names: it too is its owner's only, before anything is in it.
        lock::make_private(&target).map_err(|_| rusqlite::Error::InvalidPath(target.clone()))?;
        connection.execute("VACUUM INTO ?1", [target.to_string_lossy()])?;
        copy = Some(target);
    }
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    for migration in migrations.get(version(&transaction)?..).unwrap_or_default() {
        transaction.execute_batch(migration)?;
    }
    transaction.pragma_update(None, "application_id", APPLICATION_ID)?;
    transaction.pragma_update(None, "user_version", i64::try_from(migrations.len()).unwrap_or(i64::MAX))?;
    transaction.commit()?;
    Ok(copy)
}

/// `records.db.before-2`, or the first such name that is free.
fn free_name(path: &Path, version: usize) -> PathBuf {
    let named = |extra: String| {
        let mut name = path.file_name().unwrap_or_default().to_owned();
        name.push(format!(".before-{}{extra}", version + 1));
        path.with_file_name(name)
    };
    (1..1000)
        .map(|round| named(if round == 1 { String::new() } else { format!("-{round}") }))
        .find(|name| !name.exists())
        .unwrap_or_else(|| named(String::new()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_older_file_is_copied_before_it_is_brought_up_to_date() {
        let home = tempfile::tempdir().expect("a folder");
        let path = home.path().join("records.db");
        let mut connection = Connection::open(&path).expect("a file");
        assert_eq!(migrate(&mut connection, &path, MIGRATIONS).expect("created"), None);
        connection.execute("INSERT INTO person_name VALUES ('d', 'a-1', x'00', 'Ann')", []).expect("a row");
        let longer = [MIGRATIONS, &["ALTER TABLE person_name ADD COLUMN said TEXT;"]].concat();
        let copy = migrate(&mut connection, &path, &longer).expect("brought up").expect("a copy");
        assert_eq!(copy, home.path().join("records.db.before-2"));
        assert_eq!(version(&connection).expect("a version"), 2);
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt as _;
            let about = copy.metadata().expect("there");
            assert_eq!(about.permissions().mode() & 0o777, 0o600);
        }
        let old = Connection::open(&copy).expect("the copy");
        assert_eq!(version(&old).expect("a version"), 1);
        let name: String = old.query_row("SELECT name FROM person_name", [], |row| row.get(0)).expect("a row");
        assert_eq!(name, "Ann");
    }

    #[test]
    fn a_failing_migration_leaves_the_file_as_it_was() {
        let home = tempfile::tempdir().expect("a folder");
        let path = home.path().join("records.db");
        let mut connection = Connection::open(&path).expect("a file");
        migrate(&mut connection, &path, MIGRATIONS).expect("created");
        let broken = [MIGRATIONS, &["CREATE TABLE more(a TEXT) STRICT; SELECT nonsense;"]].concat();
        assert!(migrate(&mut connection, &path, &broken).is_err());
        assert_eq!(version(&connection).expect("a version"), 1);
        assert!(connection.prepare("SELECT * FROM more").is_err());
    }

    #[test]
    fn facts_are_never_changed_or_removed_or_put_out_of_order() {
        let mut connection = Connection::open_in_memory().expect("a file");
        migrate(&mut connection, Path::new(":memory:"), MIGRATIONS).expect("created");
        settle(&connection).expect("settled");
        let insert = "INSERT INTO fact VALUES (?1, 'now', 'leave', '{}', zeroblob(32), zeroblob(32))";
        connection.execute(insert, [1]).expect("the first");
        assert!(connection.execute(insert, [3]).is_err());
        assert!(connection.execute("UPDATE fact SET at = 'then'", []).is_err());
        assert!(connection.execute("DELETE FROM fact", []).is_err());
        assert!(connection.execute(&insert.replace("INSERT", "INSERT OR REPLACE"), [1]).is_err());
    }
}
