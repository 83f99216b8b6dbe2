//! An entry: what happened, when, and under which key, so that the same entry sent twice is one.

/// A line of the journal.
#[derive(Clone, PartialEq, Debug)]
pub struct Entry {
    /// Its number, from 1 up without gaps.
    pub number: u64,
    /// Made where the entry was made; an entry of a key that is there already is the same entry.
    pub key: String,
    /// When it was made, as `2026-03-01T18:30:00Z`.
    pub at: String,
    /// What happened.
    pub what: What,
}
/// What happened.
#[derive(Clone, PartialEq, Debug)]
pub enum What {
    /// Something was measured.
    Measured(Reading),
    /// A step of a route was done.
    Done(Step),
    /// Pieces of a part came to stand otherwise.
    Stood {
        /// Slug of the part.
        part: String,
        /// Which pieces, from 1; none for all.
        pieces: Vec<u32>,
        /// How they stand.
        state: State,
        /// Why, where there is something to say.
        why: String,
        /// Sizes that they were made to: names of the book and SI values.
        sizes: Vec<(String, f64)>,
    },
    /// An entry is struck out.
    Struck {
        /// Its number.
        entry: u64,
        /// Why.
        why: String,
    },
    /// Something to remember.
    Remark {
        /// A name or slug that it is about; empty for the clock.
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
    Rated(Rating),
    /// What outlives one clock: kept in the journal of the shop.
    Learnt(Learnt),
}
impl What {
    /// One word for its kind, as it is kept.
    #[must_use]
    pub const fn word(&self) -> &'static str {
        match self {
            What::Measured(_) => "measured",
            What::Done(_) => "done",
            What::Stood { .. } => "stood",
            What::Struck { .. } => "struck",
            What::Remark { .. } => "remark",
            What::Concession { .. } => "concession",
            What::Rated(_) => "rated",
            What::Learnt(_) => "learnt",
        }
    }
}
/// A measured size.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Reading {
    /// Its name in the book.
    pub name: String,
    /// Which piece of a batch, from 1; none where there is but one or the reading holds for all.
    pub piece: Option<u32>,
    /// Value as corrected to 20 °C, SI.
    pub value: f64,
    /// SI unit; empty for a plain number.
    pub unit: String,
    /// As it was read and typed.
    pub written: String,
    /// With what.
    pub tool: Option<String>,
    /// By how much the tool may be off (SI).
    pub give_or_take: Option<f64>,
    /// Temperature of the work (K), where it was told.
    pub temperature: Option<f64>,
    /// Number of the sheet that was worked from.
    pub sheet: Option<String>,
    /// What was wanted when it was measured.
    pub wanted: Option<Wanted>,
    /// Whether metal will still come off.
    pub rough: bool,
    /// Version of the program that computed what was wanted.
    pub version: String,
}
/// What a size should have been (SI).
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Wanted {
    /// The size aimed at.
    pub nominal: f64,
    /// Least.
    pub least: f64,
    /// Greatest.
    pub most: f64,
}
/// A step that was done.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Step {
    /// Slug of the part, jig or tool.
    pub part: String,
    /// Which step of its route, such as `2.3` for the third operation of the second set-up.
    pub step: String,
    /// Which piece; none for the whole batch.
    pub piece: Option<u32>,
    /// How far within the step, where it counts: teeth, passes, boxes.
    pub count: Option<u32>,
    /// How long it took (s), where it was timed.
    pub took: Option<f64>,
}
/// How a piece stands.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum State {
    /// Not begun, or to be made again.
    Wanted,
    /// Begun: metal can still come off.
    Roughed,
    /// Finished: it stays as it is.
    Made,
    /// Spoilt: another is wanted.
    Scrapped,
}
impl State {
    /// All, in their order.
    pub const ALL: [State; 4] = [State::Wanted, State::Roughed, State::Made, State::Scrapped];
    /// A word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            State::Wanted => "wanted",
            State::Roughed => "roughed",
            State::Made => "made",
            State::Scrapped => "scrapped",
        }
    }
    /// The state of a word.
    #[must_use]
    pub fn of(word: &str) -> Option<State> {
        State::ALL.into_iter().find(|s| s.word() == word)
    }
}
/// The clock beside a reference.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Rating {
    /// When, seconds since 1970.
    pub at: f64,
    /// Clock less reference (s); nought, and no reading, where a rate was heard instead.
    pub offset: f64,
    /// By how much that may be off (s).
    pub give_or_take: Option<f64>,
    /// The rate as it was heard at one sitting, in place of a reading against a reference.
    pub heard: Option<Pace>,
    /// Temperature (K).
    pub temperature: Option<f64>,
    /// Pressure of the air (Pa).
    pub pressure: Option<f64>,
    /// Swing from the middle to one side (rad).
    pub arc: Option<f64>,
    /// Turns of the rating nut just before, up positive.
    pub nut: Option<f64>,
    /// Put on the tray just before (kg); taken off negative.
    pub tray: Option<f64>,
    /// Whether the hands were set just before, so that a new run begins.
    pub set: bool,
    /// By what the time was had.
    pub by: String,
}
/// A rate with its doubt.
#[derive(Copy, Clone, PartialEq, Debug, Default)]
pub struct Pace {
    /// s/day, + gains.
    pub rate: f64,
    /// Half of the interval that holds it with 95 in 100 (s/day).
    pub within: f64,
}
/// What outlives one clock.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Learnt {
    /// About what: time, drill, coupon, grip, backlash, runout.
    pub subject: String,
    /// Of which tool, operation or machine.
    pub of: String,
    /// Value, SI.
    pub value: f64,
    /// SI unit.
    pub unit: String,
    /// As typed.
    pub written: String,
    /// Anything else.
    pub note: String,
}
