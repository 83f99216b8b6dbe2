//! Holes that a screw passes through.
//!
//! ```
//! use reckon::Book;
//! use tables::clearance::{Class, hole};
//! let mut book = Book::new();
//! let size = hole(&mut book, "plate.hole", "M3", Class::Medium).unwrap();
//! assert_eq!(size.shown(), "⌀3.400 mm");
//! ```

mod asks;

pub use asks::ASKS;

use crate::load::{DataFault, Row, Sheet};
use reckon::{Book, Diameter, Length, Ratio, Source, Trouble, Val, work};
use std::fmt;
use std::sync::LazyLock;

/// How freely the screw passes.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Class {
    /// Clock work: the screw helps to place the part.
    Clock,
    /// Fine: parts drilled together.
    Fine,
    /// Medium: the usual hole.
    Medium,
    /// Coarse: holes far apart, drilled apart.
    Coarse,
}
impl Class {
    /// All, closest first.
    pub const ALL: [Class; 4] = [Class::Clock, Class::Fine, Class::Medium, Class::Coarse];
    /// As written.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Class::Clock => "clock",
            Class::Fine => "fine",
            Class::Medium => "medium",
            Class::Coarse => "coarse",
        }
    }
    /// Reads `clock`, `fine`, `medium`, `coarse`, or the inch words `close`, `normal`, `loose`.
    ///
    /// # Errors
    /// When it is none of them.
    pub fn read(word: &str) -> Result<Class, Trouble> {
        Ok(match word.trim().to_lowercase().as_str() {
            "clock" => Class::Clock,
            "fine" | "close" => Class::Fine,
            "medium" | "normal" => Class::Medium,
            "coarse" | "loose" => Class::Coarse,
            other => {
                return Err(Trouble::text(format!("there is no class of clearance hole '{other}'"))
                    .cure("one of clock, fine, medium, coarse"));
            }
        })
    }
}
impl fmt::Display for Class {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.text())
    }
}

#[derive(Debug)]
struct ByClass<T> {
    name: String,
    fine: T,
    medium: T,
    coarse: T,
    source: &'static Source,
}
impl<T: Copy> ByClass<T> {
    /// `None` for clock work, which no standard knows.
    fn of(&self, class: Class) -> Option<T> {
        match class {
            Class::Clock => None,
            Class::Fine => Some(self.fine),
            Class::Medium => Some(self.medium),
            Class::Coarse => Some(self.coarse),
        }
    }
}
/// A thread that has a row here.
#[derive(Debug)]
struct Named {
    thread: String,
    major: Diameter,
    source: &'static Source,
    way: Way,
}
#[derive(Debug)]
enum Way {
    Holes(ByClass<Diameter>),
    Allowance(String),
}
#[derive(Debug)]
struct Tables {
    named: Vec<Named>,
    allowances: Vec<ByClass<Length>>,
    clock: Vec<(Diameter, Length, &'static Source)>,
    share: ByClass<Ratio>,
}
static TABLES: LazyLock<Tables> =
    LazyLock::new(|| read().expect("the embedded table clearance.toml is whole; a test reads it"));

fn read() -> Result<Tables, DataFault> {
    fn by_class<T: reckon::Readable>(row: &Row, name: &str) -> Result<ByClass<T>, DataFault> {
        Ok(ByClass {
            name: row.word(name)?.to_owned(),
            fine: row.quantity("fine")?,
            medium: row.quantity("medium")?,
            coarse: row.quantity("coarse")?,
            source: row.source,
        })
    }
    let sheet = Sheet::read("clearance.toml", include_str!("../../data/clearance.toml"))?;
    let mut named = Vec::new();
    for table in ["metric", "unified"] {
        for row in sheet.rows(table)? {
            named.push(Named {
                thread: row.word("thread")?.to_owned(),
                major: row.quantity("major")?,
                source: row.source,
                way: Way::Holes(by_class(&row, "thread")?),
            });
        }
    }
    for row in sheet.rows("ba")? {
        named.push(Named {
            thread: format!("{} BA", row.number("number")?),
            major: row.quantity("major")?,
            source: row.source,
            way: Way::Allowance(row.word("allowance")?.to_owned()),
        });
    }
    let mut clock = Vec::new();
    for row in sheet.rows("clock")? {
        clock.push((row.quantity("upto")?, row.quantity("allowance")?, row.source));
    }
    let shares = sheet.rows("share")?;
    let share = shares.first().ok_or_else(|| DataFault {
        file: "clearance.toml",
        row: "share".to_owned(),
        says: "has no row".to_owned(),
    })?;
    Ok(Tables {
        named,
        allowances: sheet.rows("allowance")?.iter().map(|r| by_class(r, "name")).collect::<Result<_, _>>()?,
        clock,
        share: by_class(share, "name")?,
    })
}

/// The size part of a thread's name: `M3x0.5` is M3, `BA 4` is 4 BA, `2-56 UNC` is 2.
fn size_name(thread: &str) -> String {
    let upper = thread.trim().to_uppercase().replace('×', "X");
    let tight: String = upper.chars().filter(|c| !c.is_whitespace() && *c != '#').collect();
    if let Some(number) = tight.strip_suffix("BA").or_else(|| tight.strip_prefix("BA")) {
        return format!("{} BA", number.trim_start_matches("NO.").trim_matches(['.', '-']));
    }
    if tight.starts_with('M') && tight[1..].starts_with(|c: char| c.is_ascii_digit()) {
        return tight.split(['X', '-']).next().unwrap_or_default().to_owned();
    }
    let number = tight.strip_prefix("NO.").unwrap_or(&tight);
    match number.split_once('-') {
        // Whitworth forms are written with a dash too: 1/4-26 BSF.
        Some((size, rest)) if ["", "UN", "UNC", "UNF", "UNEF"].contains(&rest.trim_start_matches(digit)) => {
            size.to_owned()
        }
        _ => tight,
    }
}
fn digit(c: char) -> bool {
    c.is_ascii_digit()
}
fn named(thread: &str) -> Option<&'static Named> {
    let size = size_name(thread);
    TABLES.named.iter().find(|n| n.thread == size)
}
/// The hole for a thread by name: the table of its own standard, clock practice, or for a thread
/// without a table its diameter and the shares of [`hole_for_size`].
///
/// # Errors
/// When no such thread is known; use [`hole_for_size`] with its diameter.
pub fn hole(book: &mut Book, name: &str, thread: &str, class: Class) -> Result<Val<Diameter>, Trouble> {
    let Some(row) = named(thread) else {
        let Some(known) = crate::thread::find(thread) else {
            let mut t = Trouble::text(format!("no thread is called '{thread}'"));
            for near in crate::thread::near(thread) {
                t = t.cure(format!("did you mean '{near}'?"));
            }
            return Err(t.cure("or give the thread's diameter"));
        };
        let row = format!("{}: major diameter", known.name);
        let major = book.tabled(format!("{name}.major"), known.major, row, known.source);
        return Ok(hole_for_size(book, name, major, class));
    };
    let major_row = format!("{}: major diameter", row.thread);
    if class == Class::Clock {
        let major = book.tabled(format!("{name}.major"), row.major, major_row, row.source);
        return Ok(hole_for_size(book, name, major, class));
    }
    match &row.way {
        Way::Holes(holes) => {
            let size = holes.of(class).unwrap_or(holes.medium);
            Ok(book.tabled(name, size, format!("{}, {class}", row.thread), holes.source))
        }
        Way::Allowance(key) => {
            let allowances = TABLES.allowances.iter().find(|a| a.name == *key);
            let allowances = allowances.ok_or_else(|| Trouble::ours(format!("no allowance '{key}'")))?;
            let allowance = allowances.of(class).unwrap_or(allowances.medium);
            let major = book.tabled(format!("{name}.major"), row.major, major_row, row.source);
            let over = format!("{}, {class}: over the thread", row.thread);
            let allowance = book.tabled(format!("{name}.allowance"), allowance, over, allowances.source);
            Ok(work!(book, name, |major, allowance| major + allowance, allowances.source))
        }
    }
}
/// The hole for any thread of a given major diameter, by shares of the diameter or clock practice.
pub fn hole_for_size(book: &mut Book, name: &str, major: Val<Diameter>, class: Class) -> Val<Diameter> {
    let t = &*TABLES;
    if let Some(share) = t.share.of(class) {
        let row = format!("{class} hole over the thread");
        let share = book.tabled(format!("{name}.share"), share, row, t.share.source);
        return work!(book, name, |major, share| major * share, t.share.source);
    }
    let size = major.bare();
    let last = t.clock.len().saturating_sub(1);
    let at = t.clock.iter().position(|(upto, _, _)| size <= *upto).unwrap_or(last);
    let (upto, allowance, source) = t.clock[at];
    let row =
        if at < last { format!("threads up to {:.1} mm", upto.in_mm()) } else { "larger threads".to_owned() };
    let allowance = book.tabled(format!("{name}.allowance"), allowance, row, source);
    work!(book, name, |major, allowance| major + allowance, source)
}

#[cfg(test)]
mod tests;
