//! Where entries are kept: the one door to the outside.

use crate::entry::{Entry, What};

/// An entry that was taken in.
#[derive(Clone, PartialEq, Debug)]
pub struct Kept {
    /// As it stands in the journal.
    pub entry: Entry,
    /// Whether it was there already under its key.
    pub again: bool,
}
/// Why a journal cannot be read or written.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Lost {
    /// There is none.
    Absent,
    /// It may not be written: folder, file or disk.
    ReadOnly(String),
    /// The disk is full.
    Full,
    /// Somebody else holds it too long.
    Busy,
    /// It was written by a later version: format found, format known.
    Newer(i64, i64),
    /// It belongs to something else: what it is the journal of.
    Another(String),
    /// It is no journal at all.
    NoJournal(String),
    /// Part of it cannot be read.
    Corrupt(String),
    /// Two entries of one key say different things.
    KeyTaken(String),
    /// Anything else that the system told.
    Other(String),
}
impl Lost {
    /// What is wrong, in a sentence.
    #[must_use]
    pub fn says(&self) -> String {
        match self {
            Lost::Absent => "there is no journal here yet".to_owned(),
            Lost::ReadOnly(why) => format!("the journal cannot be written here: {why}"),
            Lost::Full => "the disk is full: the entry was not taken".to_owned(),
            Lost::Busy => "another program holds the journal and does not let go".to_owned(),
            Lost::Newer(found, known) => {
                format!("the journal was written by a later version (format {found}, this one knows {known})")
            }
            Lost::Another(of) => format!("this is the journal of '{of}'"),
            Lost::NoJournal(why) => format!("this is no journal: {why}"),
            Lost::Corrupt(why) => format!("part of the journal cannot be read: {why}"),
            Lost::KeyTaken(key) => format!("another entry already has the key {key}"),
            Lost::Other(why) => why.clone(),
        }
    }
    /// What would do.
    #[must_use]
    pub fn cure(&self) -> &'static str {
        match self {
            Lost::Absent => "the first entry makes one",
            Lost::ReadOnly(_) => "make the folder writable, or copy the project to where it may be written",
            Lost::Full => "make room on the disk, then enter it again",
            Lost::Busy => "close the other program, then enter it again",
            Lost::Newer(..) => "use the later version; nothing was changed",
            Lost::Another(_) => {
                "put the right journal beside clock.toml, or write was = \"…\" under [clock] if the clock was renamed"
            }
            Lost::NoJournal(_) | Lost::Corrupt(_) => {
                "copy the file away; write out what is whole as JSON lines, and take it in to a new journal"
            }
            Lost::KeyTaken(_) => "enter it again under a new key",
            Lost::Other(_) => "nothing was changed; try again",
        }
    }
}
/// Keeps entries, and loses none that it has confirmed.
pub trait Keeps {
    /// Takes an entry in; when this returns, the entry survives whatever happens.
    ///
    /// # Errors
    /// Why it was not taken; nothing is changed then.
    fn take(&mut self, key: &str, at: &str, what: &What) -> Result<Kept, Lost>;
    /// All entries that are whole, in their order, and what is not.
    ///
    /// # Errors
    /// Why nothing can be read.
    fn entries(&self) -> Result<(Vec<Entry>, Vec<String>), Lost>;
}
