//! What the pages know: the texts, the work they come to, the journal, and how all stands after it. Read anew when a
//! text or the journal has changed, whoever changed it.

use crate::args;
use crate::enter::Answer;
use crate::enter::kept::Known;
use crate::folder::Folder;
use crate::outcome::Stopped;
use crate::work::Work;
use journal::{Entry, Standing};
use making::plan::Making;
use reckon::{Id, LengthStyle, Line, Trouble};
use record::facts::Shop;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

/// How things are, at one moment.
#[derive(Debug)]
pub struct State {
    /// The texts and the journals.
    pub folder: Folder,
    /// What they come to.
    pub work: Arc<Work>,
    /// What the journals say.
    known: Known,
    /// Why the texts cannot be read, where they cannot.
    pub stopped: Option<Trouble>,
}
impl State {
    /// How things stand after the last entry.
    #[must_use]
    pub fn standing(&self) -> &Standing {
        &self.known.standing
    }
    /// What the shop's own journal says it has learnt.
    #[must_use]
    pub fn learnt(&self) -> &[(u64, journal::Learnt)] {
        &self.known.shop.learnt
    }
    /// Every entry that is whole.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        self.folder.journal.as_ref().map_or(&[], |k| &k.entries)
    }
    /// What of the journals cannot be used.
    pub fn unread(&self) -> impl Iterator<Item = &Trouble> {
        self.known.troubles.iter()
    }
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
/// How many answers are remembered.
const TOLD: usize = 64;
/// What entries came to, by their numbers.
type Told = BTreeMap<u64, Arc<Answer>>;

/// The movement let go in simulation, or why it cannot be.
pub type Gone = Result<Arc<State>, Arc<Vec<Trouble>>>;

/// Where the pages have all they know from.
#[derive(Debug)]
pub struct Floor {
    /// The project's folder.
    pub dir: PathBuf,
    shop: Option<PathBuf>,
    held: Mutex<Option<Arc<State>>>,
    gone: Mutex<Option<(Folder, Gone)>>,
    told: Mutex<Told>,
}
impl Floor {
    /// Of a folder.
    #[must_use]
    pub fn new(dir: &Path, shop: Option<PathBuf>) -> Floor {
        Floor {
            dir: dir.to_owned(),
            shop,
            held: Mutex::new(None),
            gone: Mutex::new(None),
            told: Mutex::default(),
        }
    }
    /// Which shop.
    #[must_use]
    pub fn shop(&self) -> args::Shop {
        args::Shop { shop: self.shop.clone() }
    }
    /// How things are now. A text that cannot be read just now (an editor is writing it) leaves the last state
    /// standing, with the reason.
    ///
    /// # Errors
    /// When nothing could be read yet.
    pub fn now(&self) -> Result<Arc<State>, Box<Stopped>> {
        let mut held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        match (Folder::read(&self.dir, &self.shop()), held.as_ref()) {
            (Ok(folder), Some(state)) if state.folder == folder => Ok(Arc::clone(state)),
            (Ok(folder), before) => {
                let state = Arc::new(state(folder, before.map(Arc::as_ref)));
                *held = Some(Arc::clone(&state));
                Ok(state)
            }
            (Err(stopped), None) => Err(Box::new(stopped)),
            (Err(stopped), Some(before)) => {
                let (folder, work) = (before.folder.clone(), Arc::clone(&before.work));
                let known = before.known.clone();
                Ok(Arc::new(State { folder, work, known, stopped: Some(stopped.trouble) }))
            }
        }
    }
    /// The movement as it stands, let go in simulation: worked out when it is first asked for, and anew when a text or
    /// a size has changed.
    pub fn going(&self, state: &State) -> Gone {
        let mut gone = self.gone.lock().unwrap_or_else(PoisonError::into_inner);
        let folder = Folder { shop: None, ..state.folder.clone() };
        if let Some((of, found)) = gone.as_ref()
            && *of == folder
        {
            return found.clone();
        }
        let mut work = Work::designed(&folder);
        let stops: Vec<Trouble> = work.troubles.iter().filter(|t| t.stops()).cloned().collect();
        let found = if stops.is_empty() { work.forecast().map(|_| ()) } else { Err(stops) };
        let found = match found {
            Ok(()) => Ok(Arc::new(State {
                folder: state.folder.clone(),
                work: Arc::new(work),
                known: state.known.clone(),
                stopped: state.stopped.clone(),
            })),
            Err(all) => Err(Arc::new(all)),
        };
        *gone = Some((folder, found.clone()));
        found
    }
    /// Remembers what an entry came to.
    pub fn tell(&self, entry: u64, answer: Arc<Answer>) {
        let mut told = self.told.lock().unwrap_or_else(PoisonError::into_inner);
        told.insert(entry, answer);
        while told.len() > TOLD {
            told.pop_first();
        }
    }
    /// What an entry came to: remembered, or worked out again; none where there is no such entry.
    pub fn told(&self, state: &State, entry: u64) -> Option<Arc<Answer>> {
        let known = |told: &Told| told.get(&entry).cloned();
        if let Some(answer) = known(&self.told.lock().unwrap_or_else(PoisonError::into_inner)) {
            return Some(answer);
        }
        let found = state.entries().iter().find(|e| e.number == entry)?;
        let answer = Arc::new(crate::enter::came_of(&state.folder, found));
        self.tell(entry, Arc::clone(&answer));
        Some(answer)
    }
}
/// The state of a folder. What moves no number, such as a step that is done, leaves the work as it was.
fn state(folder: Folder, before: Option<&State>) -> State {
    let known = Known::of(&folder, None);
    let same = |b: &&State| {
        b.folder.clock == folder.clock
            && b.folder.shop == folder.shop
            && b.known.actuals == known.actuals
            && b.known.troubles == known.troubles
    };
    let work = match before.filter(same) {
        Some(b) => Arc::clone(&b.work),
        None => Arc::new(Work::with(&folder, known.clone())),
    };
    State { folder, work, known, stopped: None }
}
