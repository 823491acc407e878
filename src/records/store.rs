//! `records.db`: opening, copying and checking the file.

use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::{Connection, OpenFlags};

use super::fact::Seq;
use super::lock;
use super::reading::Reading;
use super::schema::{self, APPLICATION_ID, MIGRATIONS, migrate};
use super::trouble::Trouble;

/// The file's name in a programme folder.
pub const FILE_NAME: &str = "records.db";
/// The length of the head that every file of `SQLite` begins with.
const SHORTEST: u64 = 100;
/// How long to wait for another writer.
const PATIENCE: Duration = Duration::from_secs(5);

/// The records of a programme.
#[derive(Debug)]
pub struct Store {
    pub(super) connection: Connection,
    pub(super) path: PathBuf,
    /// Things to know about the file that are no faults: a copy made before a
    /// migration, a second file that looks like a copy from a synced folder.
    pub remarks: Vec<String>,
}

impl Store {
    /// Opens the records, bringing an older file up to date.
    ///
    /// # Errors
    /// [`Trouble`] if there are none, the file is not ours, is damaged, was
    /// written by a newer version, or stays busy for five seconds.
    pub fn open(path: &Path) -> Result<Self, Trouble> {
        if !path.exists() {
            return Err(Trouble::usage(
                "no-records",
                "there are no records yet",
                "start them with yourself: `gearside record person CODE --role coordinator --name \"…\"`",
            )
            .at(path));
        }
        let journal = lock::beside(path, "-journal");
        if path.metadata().is_ok_and(|about| about.len() == 0) && !journal.exists() {
            return Err(Trouble::usage(
                "no-records",
                "the file is empty: there are no records in it",
                "if there were any, put a backup in its place; if not, start them with yourself: `gearside record person CODE --role coordinator --name \"…\"`",
            )
            .at(path));
        }
        let store = Self::open_any(path, &journal)?;
        if store.read().head().is_ok_and(|head| head.seq == 0) {
            return Err(Trouble::usage(
                "no-records",
                "there are no records yet",
                "start them with yourself: `gearside record person CODE --role coordinator --name \"…\"`",
            )
            .at(path));
        }
        Ok(store)
    }

    fn open_any(path: &Path, journal: &Path) -> Result<Self, Trouble> {
        if path.metadata().is_ok_and(|about| (1..SHORTEST).contains(&about.len())) && !journal.exists() {
            // SQLite itself would take it for empty.
            return Err(damaged("it is cut off before the first fact").at(path));
        }
        let unclean = journal.metadata().is_ok_and(|about| about.len() > 0);
        Self::connect(path, unclean).map_err(|trouble| lock::say_who(trouble, path).at(path))
    }

    /// Opens the records, or starts them in a file that only its owner may read.
    ///
    /// # Errors
    /// As [`Store::open`], and if the file cannot be made.
    pub fn open_or_start(path: &Path) -> Result<Self, Trouble> {
        if !path.exists() {
            lock::make_private(path).map_err(|error| {
                Trouble::machine(format!("the file cannot be made: {error}"), "look at the folder and its permissions")
                    .at(path)
            })?;
        }
        Self::open_any(path, &lock::beside(path, "-journal"))
    }

    fn connect(path: &Path, unclean: bool) -> Result<Self, Trouble> {
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let mut connection = Connection::open_with_flags(path, flags)?;
        connection.busy_timeout(PATIENCE)?;
        let owner: i32 = connection.pragma_query_value(None, "application_id", |row| row.get(0))?;
        let version = schema::version(&connection)?;
        let tables: i64 = connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
        let empty = tables == 0 && version == 0;
        if owner != APPLICATION_ID && !empty {
            return Err(Trouble::usage(
                "not-ours",
                "this is a database of some other program",
                "move it away; nothing was changed in it",
            ));
        }
        if version > MIGRATIONS.len() {
            return Err(Trouble::usage(
                "newer",
                format!(
                    "these records have the shape {version}; this gearside knows shapes up to {}",
                    MIGRATIONS.len()
                ),
                "use the newer gearside that wrote them",
            ));
        }
        let copy = migrate(&mut connection, path, MIGRATIONS)?;
        schema::settle(&connection)?;
        if unclean {
            quick_check(&connection)?;
        }
        let mut remarks = lock::copies(path);
        remarks.extend(
            copy.map(|copy| format!("the records were brought up to date; the old file is kept as {}", copy.display())),
        );
        Ok(Self { connection, path: path.to_owned(), remarks })
    }

    /// From here on nothing waits for the disk: for a file in a folder that is
    /// still being built and is thrown away if anything fails. End with [`Store::finish`].
    ///
    /// # Errors
    /// [`Trouble`] if the settings are refused.
    pub fn hasten(&self) -> Result<(), Trouble> {
        self.connection.execute_batch("PRAGMA synchronous = OFF; PRAGMA journal_mode = MEMORY;")?;
        Ok(())
    }

    /// Closes the records and makes everything durable, once.
    ///
    /// # Errors
    /// [`Trouble`] if the machine fails.
    pub fn finish(self) -> Result<(), Trouble> {
        self.connection.close().map_err(|(_, error)| Trouble::from(error).at(&self.path))?;
        lock::make_durable(&self.path).map_err(|error| {
            Trouble::machine(format!("the file cannot be written: {error}"), "look at the disk").at(&self.path)
        })
    }

    /// The file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Reads out of the records.
    #[must_use]
    pub fn read(&self) -> Reading<'_> {
        Reading(&self.connection)
    }

    /// Copies the records to a new file, whole and consistent even while
    /// someone writes. The copy can be opened by its owner only.
    ///
    /// # Errors
    /// [`Trouble`] if the target exists or cannot be written.
    pub fn back_up(&self, target: &Path) -> Result<(), Trouble> {
        if target.exists() {
            return Err(Trouble::usage(
                "exists",
                format!("{} is there already", target.display()),
                "name a file that does not exist yet",
            ));
        }
        // An absolute path is never taken for the address of something else.
        let absolute = std::path::absolute(target).unwrap_or_else(|_| target.to_owned());
        let half = lock::beside(&absolute, &format!(".part-{}", std::process::id()));
        let Some(name) = half.to_str() else {
            return Err(Trouble::usage("name", "the name of the copy is no text", "choose a plainer name"));
        };
        let done = lock::make_private(&half)
            .map_err(|error| {
                Trouble::machine(format!("{} cannot be made: {error}", half.display()), "look at the folder")
            })
            .and_then(|()| {
                self.connection.execute("VACUUM INTO ?1", [name])?;
                lock::put_in_place(&half, &absolute).map_err(|error| {
                    Trouble::machine(format!("{} cannot be written: {error}", target.display()), "look at the folder")
                })
            });
        if done.is_err() {
            let _ = lock::remove(&half);
        }
        done
    }

    /// Writes the file anew, so that nothing erased is left in it.
    ///
    /// # Errors
    /// [`Trouble`] if the machine fails; the records are as they were.
    pub fn compact(&self) -> Result<(), Trouble> {
        self.connection.execute_batch("VACUUM").map_err(|error| Trouble::from(error).at(&self.path))
    }

    /// Keeps what is read to one moment, until what comes back is dropped.
    ///
    /// # Errors
    /// [`Trouble`] if the file cannot be read.
    pub fn hold_still(&self) -> Result<rusqlite::Transaction<'_>, Trouble> {
        Ok(self.connection.unchecked_transaction()?)
    }

    /// Looks through the whole file for damage.
    ///
    /// # Errors
    /// [`Trouble::Content`] with what `SQLite` found, and which facts can still be read.
    pub fn check_file(&self) -> Result<(), Trouble> {
        quick_check(&self.connection).map_err(|trouble| self.explain(trouble))
    }

    /// Adds to the trouble of a damaged file what can still be read.
    #[must_use]
    pub fn explain(&self, mut trouble: Trouble) -> Trouble {
        if let Trouble::Content(fault) = &mut trouble
            && fault.kind == "damaged"
        {
            let mut stretches: Vec<(Seq, Seq)> = Vec::new();
            let _ = self.read().salvage(&jiff::tz::TimeZone::UTC, |link| match stretches.last_mut() {
                Some((_, last)) if *last + 1 == link.seq => *last = link.seq,
                _ => stretches.push((link.seq, link.seq)),
            });
            let words: Vec<String> = stretches.iter().map(|(from, to)| format!("{from} to {to}")).collect();
            let left = match words.join(" and ") {
                list if list.is_empty() => "no fact can be read any more".to_owned(),
                list => format!("facts {list} can still be read"),
            };
            fault.message = format!("{}; {left}", fault.message);
        }
        trouble.at(&self.path)
    }
}

fn quick_check(connection: &Connection) -> Result<(), Trouble> {
    let answer: String = connection.query_row("PRAGMA quick_check(1)", [], |row| row.get(0))?;
    if answer == "ok" {
        return Ok(());
    }
    // The first line only names the database.
    Err(damaged(answer.lines().last().unwrap_or_default()))
}

fn damaged(how: &str) -> Trouble {
    Trouble::content(
        "damaged",
        format!("the file is damaged: {how}"),
        "put a backup in its place; `gearside audit --export DIR` writes out what can still be read",
    )
}
