//! The one door into the journal, as the pages use it.

use super::floor::Floor;
use crate::outcome::Stopped;
use journal::{Doubt, Entry, Expected, Keeps as _, Lost, Reading, State, Wanted, What, doubts};
use reckon::{Readable as _, text};
use std::path::Path;
use std::time::{SystemTime, UNIX_EPOCH};
use store::{Of, Store};

/// All entries that are whole, and what is not.
#[must_use]
pub fn entries(path: &Path) -> (Vec<Entry>, Vec<String>) {
    match Store::read(path, None).and_then(|s| s.entries()) {
        Ok(all) => all,
        Err(Lost::Absent) => (Vec::new(), Vec::new()),
        Err(lost) => (Vec::new(), vec![lost.says()]),
    }
}
/// Something to be entered, as it was typed.
#[derive(Clone, PartialEq, Debug)]
pub enum Typed {
    /// A measured size.
    Size(Size),
    /// A step.
    Done(Step),
    /// Pieces of a part came to stand otherwise.
    Stood {
        /// Slug of the part.
        part: String,
        /// Which pieces; none for all.
        pieces: Vec<u32>,
        /// How they stand now.
        state: State,
        /// Why.
        why: String,
    },
    /// An entry to be struck out.
    Strike {
        /// Its number.
        entry: u64,
        /// Why.
        why: String,
    },
    /// Something to remember.
    Remark {
        /// About what.
        about: String,
        /// What.
        text: String,
        /// Name of a picture.
        picture: Option<String>,
    },
}
/// A measured size, as typed.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Size {
    /// Its name in the book.
    pub name: String,
    /// What was read, with its unit.
    pub value: String,
    /// Which piece.
    pub piece: Option<u32>,
    /// With what.
    pub tool: Option<String>,
    /// By how much it may be off.
    pub give_or_take: Option<String>,
    /// Temperature.
    pub temperature: Option<String>,
    /// Number of the sheet.
    pub sheet: Option<String>,
    /// Metal will still come off.
    pub rough: bool,
}
/// A step, as typed.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Step {
    /// Slug of the part.
    pub job: String,
    /// Which step.
    pub step: Option<String>,
    /// Which piece.
    pub piece: Option<u32>,
    /// How far within.
    pub count: Option<u32>,
    /// How long it took.
    pub took: Option<String>,
}
/// What is entered, and how.
#[derive(Clone, PartialEq, Debug)]
pub struct Input {
    /// What.
    pub what: Typed,
    /// Its key.
    pub key: Option<String>,
    /// When.
    pub at: Option<String>,
    /// The maker was asked, and says that it is so.
    pub sure: bool,
}
/// What came of it.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Answer {
    /// The entry; none where something is asked first.
    pub kept: Option<Entry>,
    /// It was there already.
    pub again: bool,
    /// What gives pause.
    pub asks: Vec<Asks>,
}
/// Something that gives pause.
#[derive(Clone, PartialEq, Debug)]
pub struct Asks {
    /// In a sentence.
    pub says: String,
    /// What it would be.
    pub would_be: Option<String>,
    /// It cannot be entered.
    pub refuses: bool,
}
/// Takes something in.
///
/// # Errors
/// When it cannot be read or kept.
pub fn take(floor: &Floor, input: &Input) -> Result<Answer, Stopped> {
    let state = floor.now().map_err(|s| *s)?;
    let there = input.key.as_ref().and_then(|k| state.entries.iter().find(|e| e.key == *k));
    if let Some(entry) = there {
        return Ok(Answer { kept: Some(entry.clone()), again: true, ..Answer::default() });
    }
    let what = match &input.what {
        Typed::Done(s) => What::Done(journal::Step {
            part: s.job.clone(),
            step: s.step.clone().unwrap_or_default(),
            piece: s.piece,
            count: s.count,
            took: s.took.as_ref().and_then(|t| text::read(t, reckon::Time::OF).ok()),
        }),
        Typed::Stood { part, pieces, state, why } => What::Stood {
            part: part.clone(),
            pieces: pieces.clone(),
            state: *state,
            why: why.clone(),
            sizes: Vec::new(),
        },
        Typed::Strike { entry, why } => What::Struck { entry: *entry, why: why.clone() },
        Typed::Remark { about, text, picture } => {
            What::Remark { about: about.clone(), text: text.clone(), picture: picture.clone() }
        }
        Typed::Size(s) => {
            let (_, line) = state
                .work
                .book
                .find(&s.name)
                .ok_or_else(|| Stopped::wrong_use(format!("nothing is called '{}'", s.name)))?;
            let value = text::read(&s.value, reckon::Length::OF)
                .map_err(|f| f.cures.iter().fold(Stopped::wrong_use(f.says.clone()), Stopped::cure))?;
            let nominal = line.si.unwrap_or(0.0);
            let of = Expected { nominal, begun: true, length: line.unit == "m", ..Expected::default() };
            let all = doubts(value, &of);
            if !input.sure && all.iter().any(Doubt::asks) {
                let asks = all.iter().map(|d| Asks {
                    says: match d {
                        Doubt::Factor { like, .. } => format!("It looks like {like}."),
                        other => format!("{other:?}"),
                    },
                    would_be: match d {
                        Doubt::Factor { would_be, .. } => {
                            Some(format!("{} mm", reckon::print::fixed(would_be * 1e3, 3)))
                        }
                        _ => None,
                    },
                    refuses: d.refuses(),
                });
                return Ok(Answer { asks: asks.collect(), ..Answer::default() });
            }
            What::Measured(Reading {
                name: s.name.clone(),
                piece: s.piece,
                value,
                unit: line.unit.to_owned(),
                written: s.value.clone(),
                tool: s.tool.clone(),
                sheet: s.sheet.clone(),
                wanted: Some(Wanted { nominal, least: nominal, most: nominal }),
                rough: s.rough,
                version: env!("CARGO_PKG_VERSION").to_owned(),
                ..Reading::default()
            })
        }
    };
    let lost = |l: Lost| Stopped::files(l.says()).cure(l.cure());
    let of = Of { kind: "clock", name: state.name().to_owned(), was: Vec::new() };
    let mut store = Store::open(&floor.journal(), &of).map_err(lost)?;
    let key = match &input.key {
        Some(k) => k.clone(),
        None => super::guard::chance(20).map_err(Stopped::files)?,
    };
    let at = input.at.clone().unwrap_or_else(now);
    let kept = store.take(&key, &at, &what).map_err(lost)?;
    Ok(Answer { kept: Some(kept.entry), again: kept.again, asks: Vec::new() })
}
/// The time now, universal, to the second.
fn now() -> String {
    let s = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |d| d.as_secs());
    let (year, month, day) = crate::day::day_of(s).unwrap_or(crate::day::NO_DAY);
    let (h, m, s) = (s / 3600 % 24, s / 60 % 60, s % 60);
    format!("{year:04}-{month:02}-{day:02}T{h:02}:{m:02}:{s:02}Z")
}
