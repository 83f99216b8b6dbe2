//! The file that a journal is kept in: SQLite, only ever added to.
//!
//! An entry is confirmed when the disk has it: the database is opened so that a commit waits for the disk, and
//! its own rules refuse to change or remove a row. Each row carries a check of its own, so that what is whole
//! can be told from what is not, whatever became of the file.

mod file;

pub use file::{FORMAT, Of, Store};
