//! What a maker types or taps, before it is looked at; and what comes back.

use journal::{Doubt, Entry, Pace, State};

/// Something to be entered, as it was typed. Every quantity is a text with its unit.
#[derive(Clone, PartialEq, Debug)]
pub enum Typed {
    /// A measured size.
    Size(Size),
    /// A job of the order of work, or a step within it.
    Done(Step),
    /// Pieces of a part came to stand otherwise.
    Stood {
        /// Name or slug of the part.
        part: String,
        /// Which pieces, from 1; none for all.
        pieces: Vec<u32>,
        /// How they stand now.
        state: State,
        /// Why, where there is something to say.
        why: String,
    },
    /// An entry to be struck out.
    Strike {
        /// Its number.
        entry: u64,
        /// Why.
        why: String,
        /// Whether the entry is of the shop's journal.
        shop: bool,
    },
    /// Something to remember.
    Remark {
        /// A name or part that it is about; empty for the clock.
        about: String,
        /// What.
        text: String,
        /// Name of a picture kept beside the journal.
        picture: Option<String>,
    },
    /// Something out of its limits is let pass.
    Concession {
        /// A name of the book.
        name: String,
        /// Which piece; none for all.
        piece: Option<u32>,
        /// Why it may pass.
        why: String,
    },
    /// The clock beside a reference.
    Rating(Rating),
    /// What the shop has learnt; kept in the journal of the shop.
    Learnt {
        /// About what: time, drill, coupon, grip, backlash, runout.
        subject: String,
        /// Of which tool, operation or machine.
        of: String,
        /// What was found.
        value: String,
        /// Anything else.
        note: String,
    },
}
/// A measured size, as typed.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Size {
    /// Its name in the book.
    pub name: String,
    /// What was read, with its unit.
    pub value: String,
    /// Which piece of a batch, from 1.
    pub piece: Option<u32>,
    /// With what: a measuring tool of the shop by its name, or any other in words.
    pub tool: Option<String>,
    /// By how much it may be off, where the shop does not tell.
    pub give_or_take: Option<String>,
    /// Temperature of the work and the tool.
    pub temperature: Option<String>,
    /// Number of the sheet that was worked from.
    pub sheet: Option<String>,
    /// Metal will still come off.
    pub rough: bool,
}
/// A job or step, as typed.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Step {
    /// Name of a job as the order of work has it; or the name or slug of a part, with `step`.
    pub job: String,
    /// Which step of the part's route: `2.3` is the third operation of the second set-up.
    pub step: Option<String>,
    /// Which piece; none for the whole batch.
    pub piece: Option<u32>,
    /// How far within the step, where it counts: teeth, passes, boxes.
    pub count: Option<u32>,
    /// How long it took.
    pub took: Option<String>,
}
/// A rating, as typed.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Rating {
    /// When, as `2026-03-01T18:30:00Z`; now where nothing is told.
    pub when: Option<String>,
    /// Clock less reference; empty where a rate was heard.
    pub offset: String,
    /// By how much that may be off.
    pub give_or_take: Option<String>,
    /// Temperature.
    pub temperature: Option<String>,
    /// Pressure of the air.
    pub pressure: Option<String>,
    /// Swing from the middle to one side.
    pub arc: Option<String>,
    /// Turns of the rating nut just before, raising the bob positive.
    pub nut: Option<String>,
    /// Put on the tray just before; taken off negative.
    pub tray: Option<String>,
    /// Whether the hands were set just before.
    pub set: bool,
    /// By what the time was had.
    pub by: String,
    /// The rate that was heard, where one was.
    pub heard: Option<Pace>,
}
/// What is entered, and how.
#[derive(Clone, PartialEq, Debug)]
pub struct Input {
    /// What.
    pub what: Typed,
    /// A key made where it was typed, so that the same thing sent twice is entered once; made here where none.
    pub key: Option<String>,
    /// When it was typed, as `2026-03-01T18:30:00Z`; now where nothing is told.
    pub at: Option<String>,
    /// The maker was asked, and says that it is so.
    pub sure: bool,
}
impl Input {
    /// Typed here and now.
    #[must_use]
    pub fn now(what: Typed) -> Input {
        Input { what, key: None, at: None, sure: false }
    }
}

/// What came of it.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Answer {
    /// The entry, which the disk has; none where something is asked first.
    pub kept: Option<Entry>,
    /// It was there already under its key: nothing was added.
    pub again: bool,
    /// What gives pause, in sentences. Where nothing was kept, these are asked: say again with `sure`.
    pub asks: Vec<Asks>,
    /// What is known of the size: as read, as corrected, as wanted.
    pub reading: Option<Read>,
    /// What moved, what matters most first.
    pub moved: Vec<Moved>,
    /// Meetings that no longer agree, or do again: what is made already, and what could be done.
    pub meetings: Vec<Meets>,
    /// What is told of the sheet that was worked from.
    pub sheet: Option<Sheet>,
    /// What is left of a thread that was measured while it is cut.
    pub thread: Option<Left>,
    /// What the log of the clock says, after a rating.
    pub rated: Option<Rated>,
    /// Anything else to tell, a sentence each.
    pub told: Vec<String>,
}
/// A thread that is being cut.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Left {
    /// How it stands, in words.
    pub stands: String,
    /// Radial advance to what is aimed at, shown; none where none is due.
    pub advance: Option<String>,
    /// By how much that may be off, shown.
    pub doubt: String,
    /// Advances one by one, shown; measured again before the last.
    pub passes: Vec<String>,
    /// What may still come off the diameter, shown; below nothing where it is too small.
    pub spare: String,
    /// What to do when too much is gone, cheapest first.
    pub over_cut: Vec<String>,
}
/// A log of the clock since it was last touched.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Rated {
    /// Readings.
    pub readings: usize,
    /// Days from the first to the last, shown.
    pub days: String,
    /// Rate, shown; + gains.
    pub rate: Option<String>,
    /// Its standard error, shown.
    pub error: Option<String>,
    /// Scatter about it, shown.
    pub scatter: Option<String>,
    /// Rate as it was heard, shown with its doubt and from how many recordings.
    pub heard: Option<String>,
    /// What a kelvin does, shown with its error.
    pub per_kelvin: Option<String>,
    /// What a hectopascal does, shown with its error.
    pub per_hectopascal: Option<String>,
    /// What to do.
    pub advice: String,
    /// Days and seconds ahead of each reading, for a picture.
    pub points: Vec<(f64, f64)>,
}
/// Something that gives pause.
#[derive(Clone, PartialEq, Debug)]
pub struct Asks {
    /// In a sentence or two.
    pub says: String,
    /// What it would be, where a slip is supposed: text with its unit.
    pub would_be: Option<String>,
    /// Why.
    pub doubt: Option<Doubt>,
    /// It cannot be entered, whatever the maker says.
    pub refuses: bool,
}
/// A reading, made out.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Read {
    /// Name in the book.
    pub name: String,
    /// As corrected to 20 °C, shown.
    pub value: String,
    /// SI.
    pub si: f64,
    /// By how much it may be off, shown.
    pub give_or_take: Option<String>,
    /// By how much the warmth of the work was taken into account, shown; none where it was not told.
    pub warmth: Option<String>,
    /// What is wanted, shown.
    pub wanted: String,
    /// Least and greatest, shown.
    pub limits: Option<(String, String)>,
    /// Whether it lies within them.
    pub within: Option<bool>,
    /// How far it is from what is wanted, shown with its sign.
    pub off: String,
}
/// A number that moved.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Moved {
    /// Name in the book.
    pub name: String,
    /// In words, where there are some.
    pub what: String,
    /// Before, as shown.
    pub old: String,
    /// After, as shown.
    pub new: String,
    /// By how much it may be off because of the reading, shown.
    pub give_or_take: Option<String>,
    /// The nearest name that it moved because of.
    pub because: String,
    /// How much it matters.
    pub weight: Weight,
}
/// How much a number that moved matters at the bench.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug, Default)]
pub enum Weight {
    /// A judgement holds no more, or does again.
    Judgement,
    /// A place to drill, or a size that is still to be made.
    ToMake,
    /// A setting, pass or dial reading of a step that is still to be done.
    Setting,
    /// What it comes to in the clock that runs: locks, torque, arc, where the nut stands.
    Running,
    /// Anything else.
    #[default]
    Follows,
}
/// Sizes that must agree, and how they do.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Meets {
    /// Name of the verdict in the book.
    pub name: String,
    /// What must agree.
    pub says: String,
    /// Whether it does.
    pub holds: bool,
    /// Whether it did before.
    pub held: bool,
    /// With which figures.
    pub figures: Vec<(String, String)>,
    /// What could be done, cheapest first.
    pub ladder: Vec<String>,
}
/// A sheet, held against how things stand now.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Sheet {
    /// Its number.
    pub number: String,
    /// Whether it still holds.
    pub holds: bool,
    /// In a sentence.
    pub says: String,
    /// Figures that are others now: name, as printed, as it is now.
    pub changed: Vec<(String, String, String)>,
}
