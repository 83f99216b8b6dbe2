//! What the pages know: the texts, the work they come to, the journal, and how all stands after it. Read anew when a
//! text or the journal has changed, whoever changed it.

use crate::args;
use crate::folder::Folder;
use crate::outcome::Stopped;
use crate::work::Work;
use journal::{Entry, Standing};
use making::plan::Making;
use reckon::{Id, LengthStyle, Line, Trouble};
use record::facts::Shop;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

/// How things are, at one moment.
#[derive(Debug)]
pub struct State {
    /// The texts.
    pub folder: Folder,
    /// What they come to.
    pub work: Work,
    /// How things stand after the last entry.
    pub standing: Standing,
    /// Every entry that is whole.
    pub entries: Vec<Entry>,
    /// What of the journal cannot be read.
    pub unread: Vec<String>,
    /// Why the texts cannot be read, where they cannot.
    pub stopped: Option<Trouble>,
}
impl State {
    /// Name of the clock.
    #[must_use]
    pub fn name(&self) -> &str {
        let clock = self.work.project.as_ref().and_then(|p| p.clock.as_ref());
        clock.map_or("Brasswright", |c| c.name.as_str())
    }
    /// The shop.
    #[must_use]
    pub fn shop(&self) -> Option<&Shop> {
        self.work.project.as_ref().and_then(|p| p.shop.as_ref())
    }
    /// How parts are made, where that could be planned.
    #[must_use]
    pub fn making(&self) -> Option<&Making> {
        self.work.making.as_ref()
    }
    /// How lengths are written.
    #[must_use]
    pub fn style(&self) -> LengthStyle {
        let clock = self.work.project.as_ref().and_then(|p| p.clock.as_ref());
        clock.map(|c| c.print).unwrap_or_default()
    }
    /// A line of the book as this project writes it.
    #[must_use]
    pub fn shown(&self, line: &Line) -> String {
        match self.work.book.find(&line.name) {
            Some((id, _)) => self.value(id),
            None => line.shown.clone(),
        }
    }
    /// The same by its place.
    #[must_use]
    pub fn value(&self, id: Id) -> String {
        sheets::packet::figures::shown(&self.work.book, id, self.style())
    }
    /// A sentence, its lengths as this project writes them.
    #[must_use]
    pub fn sentence(&self, text: &str) -> String {
        sheets::packet::figures::sentence(text, self.style())
    }
}
/// Texts and the last entry that a state was made from.
#[derive(Clone, PartialEq, Debug)]
struct Made {
    folder: Folder,
    last: u64,
    unread: usize,
}
/// Where the pages have all they know from.
#[derive(Debug)]
pub struct Floor {
    /// The project's folder.
    pub dir: PathBuf,
    /// Which shop.
    pub shop: args::Shop,
    held: Mutex<Option<(Made, Arc<State>)>>,
}
impl Floor {
    /// Of a folder.
    #[must_use]
    pub fn new(dir: &Path, shop: args::Shop) -> Floor {
        Floor { dir: dir.to_owned(), shop, held: Mutex::new(None) }
    }
    /// Where the journal lies.
    #[must_use]
    pub fn journal(&self) -> PathBuf {
        self.dir.join("journal.sqlite")
    }
    /// How things are now. A text that cannot be read just now (an editor is writing it) leaves the last state
    /// standing, with the reason.
    ///
    /// # Errors
    /// When nothing could be read yet.
    pub fn now(&self) -> Result<Arc<State>, Box<Stopped>> {
        let mut held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        let read = Folder::read(&self.dir, &self.shop);
        let (entries, unread) = super::keep::entries(&self.journal());
        let folder = match (read, held.as_ref()) {
            (Ok(folder), _) => folder,
            (Err(stopped), None) => return Err(Box::new(stopped)),
            (Err(stopped), Some((_, before))) => {
                let state = state(before.folder.clone(), entries, unread, Some(stopped.trouble));
                return Ok(Arc::new(state));
            }
        };
        let made = Made { folder, last: entries.last().map_or(0, |e| e.number), unread: unread.len() };
        if let Some((before, state)) = held.as_ref()
            && *before == made
        {
            return Ok(Arc::clone(state));
        }
        let state = Arc::new(state(made.folder.clone(), entries, unread, None));
        *held = Some((made, Arc::clone(&state)));
        Ok(state)
    }
}
fn state(folder: Folder, entries: Vec<Entry>, unread: Vec<String>, stopped: Option<Trouble>) -> State {
    let standing = Standing::after(&entries, None);
    let work = Work::out(&folder);
    State { folder, work, standing, entries, unread, stopped }
}
