//! Opening, adding, reading.

use journal::{Entry, Keeps, Kept, Lost, What, line};
use rusqlite::{Connection, ErrorCode, OpenFlags, OptionalExtension, TransactionBehavior, params};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Format of the file that this version writes and reads.
pub const FORMAT: i64 = 1;
/// Marks the file as a journal of this program.
const APPLICATION: i64 = 0x4272_736A;
/// How long to wait for another program that is writing.
const PATIENCE: Duration = Duration::from_secs(10);

/// Whose journal it is.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Of {
    /// Clock or shop.
    pub kind: &'static str,
    /// Name as written.
    pub name: String,
    /// Names that it had before.
    pub was: Vec<String>,
}
/// Bytes of a clock's text and of a shop's, as they were once.
pub type Texts = (Vec<u8>, Vec<u8>);
/// A journal in a file.
#[derive(Debug)]
pub struct Store {
    db: Connection,
    path: PathBuf,
    writable: bool,
}
impl Store {
    /// Opens the journal of something for adding to; makes it where there is none.
    ///
    /// # Errors
    /// Why it cannot be; nothing is changed then.
    pub fn open(path: &Path, of: &Of) -> Result<Store, Lost> {
        let fresh = !path.exists();
        if !fresh {
            whole(path)?;
        }
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE
            | OpenFlags::SQLITE_OPEN_CREATE
            | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let db = Connection::open_with_flags(path, flags).map_err(|e| lost(&e, path))?;
        let mut store = Store { db, path: path.to_owned(), writable: true };
        store.settle(of).map_err(|e| e.unwrap_or_else(|sql| lost(&sql, path)))?;
        Ok(store)
    }
    /// Opens a journal for reading alone.
    ///
    /// # Errors
    /// [`Lost::Absent`] where there is none; else why it cannot be read.
    pub fn read(path: &Path, of: Option<&Of>) -> Result<Store, Lost> {
        if !path.exists() {
            return Err(Lost::Absent);
        }
        whole(path)?;
        let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let plain = || Connection::open_with_flags(path, flags);
        let mut db = plain().map_err(|e| lost(&e, path))?;
        db.busy_timeout(PATIENCE).map_err(|e| lost(&e, path))?;
        if db.query_row("SELECT count(*) FROM sqlite_master", [], |_| Ok(())).is_err() {
            // In a folder that may not be written, a journal that was closed well is read as it lies.
            let name = format!("file:{}?immutable=1", escaped(path));
            let flags = flags | OpenFlags::SQLITE_OPEN_URI;
            db = Connection::open_with_flags(name, flags).map_err(|e| lost(&e, path))?;
        }
        // Killed before its first table was there: nothing was confirmed of it, and the next entry makes it whole.
        let tables = db.query_row("SELECT count(*) FROM sqlite_master", [], |r| r.get::<_, i64>(0));
        if tables.map_err(|e| lost(&e, path))? == 0 {
            return Err(Lost::Absent);
        }
        let store = Store { db, path: path.to_owned(), writable: false };
        store.known().map_err(|e| e.unwrap_or_else(|sql| lost(&sql, path)))?;
        if let Some(of) = of {
            store.belongs(of).map_err(|e| e.unwrap_or_else(|sql| lost(&sql, path)))?;
        }
        Ok(store)
    }
    /// Where it is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }
    /// The mark that tells this journal from every other of the same name.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn mark(&self) -> Result<String, Lost> {
        self.told("mark").map(Option::unwrap_or_default).map_err(|e| lost(&e, &self.path))
    }
    /// Whose it is: clock or shop, and its name as it was when the journal was begun.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn about(&self) -> Result<(String, String), Lost> {
        let told = |name| self.told(name).map(Option::unwrap_or_default).map_err(|e| lost(&e, &self.path));
        Ok((told("kind")?, told("of")?))
    }
    /// Entries after one, and what is not whole: what a page that is open already lacks.
    ///
    /// # Errors
    /// Why nothing can be read.
    pub fn since(&self, number: u64) -> Result<(Vec<Entry>, Vec<String>), Lost> {
        let sql = "SELECT number, key, at, kind, body, sum FROM journal WHERE number > ?1 ORDER BY number";
        let path = &self.path;
        let mut rows = self.db.prepare_cached(sql).map_err(|e| lost(&e, path))?;
        let first = i64::try_from(number).unwrap_or(i64::MAX);
        let mut rows = rows.query([first]).map_err(|e| lost(&e, path))?;
        let (mut all, mut broken) = (Vec::new(), Vec::new());
        let mut last = number;
        loop {
            let row = match rows.next() {
                Ok(Some(row)) => row,
                Ok(None) => break,
                Err(e) => {
                    broken.push(format!("nothing after entry {last} can be read: {e}"));
                    break;
                }
            };
            let n = row.get::<_, i64>(0).ok().and_then(|n| u64::try_from(n).ok()).unwrap_or(last + 1);
            match entry(row) {
                Ok(e) => all.push(e),
                Err(why) => broken.push(format!("entry {n}: {why}")),
            }
            last = n;
        }
        Ok((all, broken))
    }
    /// Number of the last entry.
    ///
    /// # Errors
    /// Why it cannot be read.
    pub fn last(&self) -> Result<u64, Lost> {
        let max =
            self.db.query_row("SELECT coalesce(max(number), 0) FROM journal", [], |r| r.get::<_, i64>(0));
        max.map(|n| u64::try_from(n).unwrap_or(0)).map_err(|e| lost(&e, &self.path))
    }
    /// Makes the tables, or looks whether they are ours.
    fn settle(&mut self, of: &Of) -> Result<(), Result<Lost, rusqlite::Error>> {
        self.db.busy_timeout(PATIENCE).map_err(Err)?;
        // A commit waits for the disk; readers never wait for a writer.
        self.db.pragma_update_and_check(None, "journal_mode", "WAL", |_| Ok(())).map_err(Err)?;
        self.db.pragma_update(None, "synchronous", "FULL").map_err(Err)?;
        let tx = self.db.transaction_with_behavior(TransactionBehavior::Immediate).map_err(Err)?;
        let tables: i64 =
            tx.query_row("SELECT count(*) FROM sqlite_master", [], |r| r.get(0)).map_err(Err)?;
        if tables == 0 {
            tx.execute_batch(TABLES).map_err(Err)?;
            tx.pragma_update(None, "application_id", APPLICATION).map_err(Err)?;
            tx.pragma_update(None, "user_version", FORMAT).map_err(Err)?;
            let put = "INSERT INTO about(name, value) VALUES (?1, ?2)";
            tx.execute(put, params!["kind", of.kind]).map_err(Err)?;
            tx.execute(put, params!["of", of.name]).map_err(Err)?;
            tx.execute("INSERT INTO about(name, value) VALUES ('mark', lower(hex(randomblob(8))))", [])
                .map_err(Err)?;
        }
        tx.commit().map_err(Err)?;
        self.known()?;
        self.belongs(of)
    }
    fn known(&self) -> Result<(), Result<Lost, rusqlite::Error>> {
        let pragma = |name: &str| self.db.pragma_query_value(None, name, |r| r.get::<_, i64>(0)).map_err(Err);
        if pragma("application_id")? != APPLICATION {
            return Err(Ok(Lost::NoJournal("it is a database of another program".to_owned())));
        }
        match pragma("user_version")? {
            FORMAT => Ok(()),
            newer if newer > FORMAT => Err(Ok(Lost::Newer(newer, FORMAT))),
            // The first format is the oldest there is.
            other => Err(Ok(Lost::NoJournal(format!("its format is {other}")))),
        }
    }
    fn belongs(&self, of: &Of) -> Result<(), Result<Lost, rusqlite::Error>> {
        let (kind, name) = (self.told("kind").map_err(Err)?, self.told("of").map_err(Err)?);
        let name = name.unwrap_or_default();
        let same = kind.as_deref() == Some(of.kind) && (name == of.name || of.was.contains(&name));
        if same { Ok(()) } else { Err(Ok(Lost::Another(name))) }
    }
    fn told(&self, name: &str) -> Result<Option<String>, rusqlite::Error> {
        let sql = "SELECT value FROM about WHERE name = ?1";
        self.db.query_row(sql, [name], |r| r.get(0)).optional()
    }
    /// Takes many entries in at once: all of them, or none.
    ///
    /// # Errors
    /// Why none was taken.
    pub fn take_all(&mut self, all: &[(String, String, What)]) -> Result<Vec<Kept>, Lost> {
        if !self.writable {
            return Err(Lost::ReadOnly("it was opened for reading".to_owned()));
        }
        let path = self.path.clone();
        self.put_all(all).map_err(|e| e.unwrap_or_else(|sql| lost(&sql, &path)))
    }
    /// Keeps the texts as they are now, unless they are those that were kept last: a sheet that was printed from
    /// them can then be told from what is true later.
    ///
    /// # Errors
    /// Why they could not be kept; entries are as they were.
    pub fn keep_texts(&mut self, clock: &[u8], shop: &[u8]) -> Result<(), Lost> {
        if !self.writable {
            return Err(Lost::ReadOnly("it was opened for reading".to_owned()));
        }
        let path = self.path.clone();
        let mut keep = || -> Result<(), rusqlite::Error> {
            let tx = self.db.transaction_with_behavior(TransactionBehavior::Immediate)?;
            tx.execute_batch(TEXTS)?;
            let sql = "SELECT clock = ?1 AND shop = ?2 FROM texts ORDER BY number DESC LIMIT 1";
            let same = tx.query_row(sql, params![clock, shop], |r| r.get::<_, bool>(0)).optional()?;
            if same != Some(true) {
                tx.execute("INSERT INTO texts(clock, shop) VALUES (?1, ?2)", params![clock, shop])?;
            }
            tx.commit()
        };
        keep().map_err(|e| lost(&e, &path))
    }
    /// Texts that were kept, clock and shop, the newest first.
    ///
    /// # Errors
    /// When they cannot be read.
    pub fn texts(&self) -> Result<Vec<Texts>, Lost> {
        let all = || -> Result<Vec<Texts>, rusqlite::Error> {
            let there = "SELECT count(*) FROM sqlite_master WHERE name = 'texts'";
            if self.db.query_row(there, [], |r| r.get::<_, i64>(0))? == 0 {
                return Ok(Vec::new());
            }
            let mut rows = self.db.prepare("SELECT clock, shop FROM texts ORDER BY number DESC")?;
            let rows = rows.query_map([], |r| Ok((r.get(0)?, r.get(1)?)))?;
            rows.collect()
        };
        all().map_err(|e| lost(&e, &self.path))
    }
    fn put_all(
        &mut self,
        all: &[(String, String, What)],
    ) -> Result<Vec<Kept>, Result<Lost, rusqlite::Error>> {
        let tx = self.db.transaction_with_behavior(TransactionBehavior::Immediate).map_err(Err)?;
        let mut kept = Vec::new();
        for (key, at, what) in all {
            kept.push(put(&tx, key, at, what)?);
        }
        tx.commit().map_err(Err)?;
        Ok(kept)
    }
}
/// Puts an entry into an open transaction.
fn put(
    tx: &rusqlite::Transaction<'_>,
    key: &str,
    at: &str,
    what: &What,
) -> Result<Kept, Result<Lost, rusqlite::Error>> {
    let (kind, body) = (what.word(), line::body(what).to_string());
    let there = {
        let sql = "SELECT number, key, at, kind, body, sum FROM journal WHERE key = ?1";
        let mut rows = tx.prepare_cached(sql).map_err(Err)?;
        let mut rows = rows.query([key]).map_err(Err)?;
        match rows.next().map_err(Err)? {
            Some(row) => Some(entry(row).map_err(|why| Ok(Lost::Corrupt(why)))?),
            None => None,
        }
    };
    if let Some(entry) = there {
        if entry.what == *what {
            return Ok(Kept { entry, again: true });
        }
        return Err(Ok(Lost::KeyTaken(key.to_owned())));
    }
    let number: i64 =
        tx.query_row("SELECT coalesce(max(number), 0) + 1 FROM journal", [], |r| r.get(0)).map_err(Err)?;
    let sum = check(number, key, at, kind, &body);
    tx.prepare_cached(
        "INSERT INTO journal(number, key, at, kind, body, sum) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
    )
    .map_err(Err)?
    .execute(params![number, key, at, kind, body, sum])
    .map_err(Err)?;
    let number = u64::try_from(number).unwrap_or(0);
    let entry = Entry { number, key: key.to_owned(), at: at.to_owned(), what: what.clone() };
    Ok(Kept { entry, again: false })
}
impl Keeps for Store {
    fn take(&mut self, key: &str, at: &str, what: &What) -> Result<Kept, Lost> {
        let all = self.take_all(&[(key.to_owned(), at.to_owned(), what.clone())])?;
        all.into_iter().next().ok_or_else(|| Lost::Other("nothing was taken".to_owned()))
    }
    fn entries(&self) -> Result<(Vec<Entry>, Vec<String>), Lost> {
        self.since(0)
    }
}
/// What the file is made of; rows are neither changed nor removed.
const TABLES: &str = "
CREATE TABLE about(name TEXT PRIMARY KEY NOT NULL, value TEXT NOT NULL) STRICT;
CREATE TABLE journal(
  number INTEGER PRIMARY KEY NOT NULL,
  key TEXT NOT NULL UNIQUE,
  at TEXT NOT NULL,
  kind TEXT NOT NULL,
  body TEXT NOT NULL,
  sum INTEGER NOT NULL
) STRICT;
CREATE TRIGGER kept BEFORE UPDATE ON journal BEGIN SELECT raise(ABORT, 'entries are not changed'); END;
CREATE TRIGGER held BEFORE DELETE ON journal BEGIN SELECT raise(ABORT, 'entries are not removed'); END;
";
/// Texts as they were when something was entered or printed. A journal that was begun without them takes them in.
const TEXTS: &str = "
CREATE TABLE IF NOT EXISTS texts(
  number INTEGER PRIMARY KEY NOT NULL,
  clock BLOB NOT NULL,
  shop BLOB NOT NULL
) STRICT;
";
/// The check of a row: cyclic redundancy check of 32 bits (ISO 3309), enough to tell what a disk has spoilt.
fn check(number: i64, key: &str, at: &str, kind: &str, body: &str) -> i64 {
    let all = format!("{number}\u{1f}{key}\u{1f}{at}\u{1f}{kind}\u{1f}{body}");
    i64::from(crc32fast::hash(all.as_bytes()))
}
/// An entry out of a row, if it is whole.
fn entry(row: &rusqlite::Row<'_>) -> Result<Entry, String> {
    let bad = |_: rusqlite::Error| "the row cannot be read".to_owned();
    let number: i64 = row.get(0).map_err(bad)?;
    let (key, at): (String, String) = (row.get(1).map_err(bad)?, row.get(2).map_err(bad)?);
    let (kind, body): (String, String) = (row.get(3).map_err(bad)?, row.get(4).map_err(bad)?);
    if check(number, &key, &at, &kind, &body) != row.get::<_, i64>(5).map_err(bad)? {
        return Err("it is not as it was written".to_owned());
    }
    let value = serde_json::from_str(&body).map_err(|e| e.to_string())?;
    let what = line::what(&kind, &value)?;
    Ok(Entry { number: u64::try_from(number).map_err(|e| e.to_string())?, key, at, what })
}
/// Whether a file begins as a database does; one that does not is never opened for writing.
fn whole(path: &Path) -> Result<(), Lost> {
    use std::io::Read;
    let mut head = Vec::new();
    let opened = std::fs::File::open(path).map_err(|e| Lost::Other(format!("{}: {e}", path.display())))?;
    opened.take(16).read_to_end(&mut head).map_err(|e| Lost::Other(format!("{}: {e}", path.display())))?;
    // A file of no length is what a kill between its making and its first write leaves.
    if head.is_empty() || head == b"SQLite format 3\0" {
        return Ok(());
    }
    Err(Lost::NoJournal(format!("{} does not begin as one", path.display())))
}
/// A path as part of a name that SQLite takes apart.
fn escaped(path: &Path) -> String {
    path.display().to_string().chars().fold(String::new(), |mut all, c| {
        match c {
            '?' | '#' | '%' => all.push_str(&format!("%{:02X}", u32::from(c))),
            _ => all.push(c),
        }
        all
    })
}
/// What the system told, as it is told on.
fn lost(e: &rusqlite::Error, path: &Path) -> Lost {
    let said = format!("{}: {e}", path.display());
    match e.sqlite_error_code() {
        Some(ErrorCode::ReadOnly | ErrorCode::CannotOpen | ErrorCode::PermissionDenied) => {
            Lost::ReadOnly(said)
        }
        Some(ErrorCode::DiskFull) => Lost::Full,
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Lost::Busy,
        Some(ErrorCode::NotADatabase) => Lost::NoJournal(said),
        Some(ErrorCode::DatabaseCorrupt) => Lost::Corrupt(said),
        _ => Lost::Other(said),
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_published_check_value() {
        // ISO 3309 / ITU-T V.42: the check of "123456789".
        assert_eq!(crc32fast::hash(b"123456789"), 0xCBF4_3926);
    }
}
