//! Heads of slotted screws: standard sizes, and the proportions of clock screws.
//!
//! ```
//! use reckon::{Book, Diameter};
//! use tables::head::{Form, clock};
//! let mut book = Book::new();
//! let thread = book.assumed("major", Diameter::mm(4.0), "as an example");
//! let head = clock(&mut book, "head", Form::Cheese, thread);
//! assert_eq!(head.diameter.shown(), "⌀7.400 mm");
//! assert_eq!(head.height.shown(), "2.600 mm");
//! ```

mod asks;

pub use asks::ASKS;

use crate::load::{DataFault, Sheet};
use reckon::{Alternative, Book, Diameter, Length, Ratio, Source, Trouble, Val, judge, maths, work};
use std::fmt;
use std::sync::LazyLock;

/// Shape of a head.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Form {
    /// A plain cylinder.
    Cheese,
    /// A cylinder with a domed top.
    Dome,
    /// A cone of 90° under a short cylinder.
    Countersunk,
}
impl Form {
    /// All forms.
    pub const ALL: [Form; 3] = [Form::Cheese, Form::Dome, Form::Countersunk];
    /// As written.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Form::Cheese => "cheese",
            Form::Dome => "dome",
            Form::Countersunk => "countersunk",
        }
    }
    /// Reads `cheese`, `dome` (`domed`), `countersunk` (`csk`).
    ///
    /// # Errors
    /// When it is none of them.
    pub fn read(word: &str) -> Result<Form, Trouble> {
        Ok(match word.trim().to_lowercase().as_str() {
            "cheese" | "cheese head" => Form::Cheese,
            "dome" | "domed" => Form::Dome,
            "countersunk" | "csk" => Form::Countersunk,
            other => {
                return Err(Trouble::text(format!("there is no head of form '{other}'"))
                    .cure("one of cheese, dome, countersunk"));
            }
        })
    }
}
impl fmt::Display for Form {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.text())
    }
}

#[derive(Debug)]
struct Standard {
    form: Form,
    thread: String,
    major: Diameter,
    diameter: Diameter,
    height: Length,
    slot_width: Length,
    slot_depth: Length,
    source: &'static Source,
}
#[derive(Debug)]
struct Shares {
    form: Form,
    diameter: Ratio,
    side: Ratio,
    dome: Option<Ratio>,
    slot_depth: Ratio,
}
#[derive(Debug)]
struct Tables {
    standard: Vec<Standard>,
    clock: Vec<Shares>,
    small: (Diameter, Ratio),
    large: (Diameter, Ratio),
    least: Ratio,
    saws: Vec<Length>,
    by: &'static Source,
    saws_by: &'static Source,
}
static TABLES: LazyLock<Tables> =
    LazyLock::new(|| read().expect("the embedded table heads.toml is whole; a test reads it"));

fn read() -> Result<Tables, DataFault> {
    let sheet = Sheet::read("heads.toml", include_str!("../../data/heads.toml"))?;
    let mut standard = Vec::new();
    for form in [Form::Cheese, Form::Countersunk] {
        for row in sheet.rows(form.text())? {
            standard.push(Standard {
                form,
                thread: row.word("thread")?.to_owned(),
                major: row.quantity("major")?,
                diameter: row.quantity("diameter")?,
                height: row.quantity("height")?,
                slot_width: row.quantity("slot_width")?,
                slot_depth: row.quantity("slot_depth")?,
                source: row.source,
            });
        }
    }
    let mut clock = Vec::new();
    for row in sheet.rows("clock")? {
        let word = row.word("form")?;
        let form = Form::ALL.into_iter().find(|f| f.text() == word);
        clock.push(Shares {
            form: form.ok_or_else(|| row.fault("no such form"))?,
            diameter: row.quantity("diameter")?,
            side: row.quantity("side")?,
            dome: row.quantity_if("dome")?,
            slot_depth: row.quantity("slot_depth")?,
        });
    }
    let mut slots = Vec::new();
    for row in sheet.rows("slot")? {
        slots.push((row.quantity("head")?, row.quantity("share")?));
    }
    let lacks =
        |row: &str| DataFault { file: "heads.toml", row: row.to_owned(), says: "lacks a row".to_owned() };
    let [small, large] = slots.as_slice() else { return Err(lacks("slot")) };
    let least = sheet.rows("least")?;
    Ok(Tables {
        standard,
        clock,
        small: *small,
        large: *large,
        least: least.first().ok_or_else(|| lacks("least"))?.quantity("share")?,
        saws: sheet.rows("saw")?.iter().map(|r| r.quantity("width")).collect::<Result<_, _>>()?,
        by: sheet.source("clock")?,
        saws_by: sheet.source("saws")?,
    })
}

/// A head with its slot, worked out.
#[derive(Copy, Clone, Debug)]
pub struct Head {
    /// Shape.
    pub form: Form,
    /// Across the head.
    pub diameter: Val<Diameter>,
    /// All of the head: side, cone and dome together.
    pub height: Val<Length>,
    /// The cylindrical part alone.
    pub side: Val<Length>,
    /// Radius of the dome, where there is one.
    pub dome: Option<Val<Length>>,
    /// How far the dome stands over the side, where there is one.
    pub rise: Option<Val<Length>>,
    /// Its slot.
    pub slot: Slot,
}
/// A slot.
#[derive(Copy, Clone, Debug)]
pub struct Slot {
    /// Width wanted; the saw decides, see [`saw`].
    pub width: Val<Length>,
    /// Depth from the top of the head.
    pub depth: Val<Length>,
    /// What is left under it.
    pub left: Val<Length>,
    /// Whether that is enough.
    pub enough: Val<bool>,
}

fn shares(form: Form) -> &'static Shares {
    // Every form has its row: `heads_have_every_form` reads them all.
    TABLES.clock.iter().find(|s| s.form == form).unwrap_or(&TABLES.clock[0])
}
/// Share of a head's diameter that its slot is wide: one on small heads, another on large ones, even between.
fn slot_share(head: Diameter) -> Ratio {
    let ((d1, s1), (d2, s2)) = (TABLES.small, TABLES.large);
    let t = ((head - d1) / (d2 - d1)).value().clamp(0.0, 1.0);
    s1 + (s2 - s1) * t
}

/// Head of a clock screw for a thread of this major diameter, under `name.diameter`, `name.height`, ….
pub fn clock(book: &mut Book, name: &str, form: Form, major: Val<Diameter>) -> Head {
    let (s, by) = (shares(form), TABLES.by);
    let share =
        book.tabled(format!("{name}.diameter.share"), s.diameter, format!("{form}: head of thread"), by);
    let diameter = work!(book, format!("{name}.diameter"), |major, share| major * share, by);
    let share = book.tabled(format!("{name}.side.share"), s.side, format!("{form}: side of thread"), by);
    let side = work!(book, format!("{name}.side"), |major, share| major.across() * share, by);
    let g = &reckon::source::GEOMETRY;
    let (mut dome, mut rise) = (None, None);
    let height = if let Some(share) = s.dome {
        let share = book.tabled(format!("{name}.dome.share"), share, format!("{form}: radius of head"), by);
        let radius = work!(book, format!("{name}.dome"), |diameter, share| diameter.across() * share, by);
        let over = work!(
            book,
            format!("{name}.rise"),
            |radius, diameter| radius
                - Length::mm(maths::sqrt(
                    radius.in_mm() * radius.in_mm() - diameter.in_mm() * diameter.in_mm() / 4.0
                )),
            g
        );
        (dome, rise) = (Some(radius), Some(over));
        work!(book, format!("{name}.height"), |side, over| side + over, g)
    } else if form == Form::Countersunk {
        // A cone of 90° is as high as it is wide on one side.
        let cone = work!(book, format!("{name}.cone"), |diameter, major| (diameter - major) / 2.0, g);
        work!(book, format!("{name}.height"), |side, cone| side + cone, g)
    } else {
        work!(book, format!("{name}.height"), |side| side, g)
    };
    let slot = slot(book, name, form, diameter, height);
    Head { form, diameter, height, side, dome, rise, slot }
}
/// Slot of a head whose diameter and height are already known.
pub fn slot(book: &mut Book, name: &str, form: Form, diameter: Val<Diameter>, height: Val<Length>) -> Slot {
    let by = TABLES.by;
    let width =
        work!(book, format!("{name}.slot_width"), |diameter| diameter.across() * slot_share(diameter), by);
    let row = format!("{form}: slot of height");
    let share = book.tabled(format!("{name}.slot_depth.share"), shares(form).slot_depth, row, by);
    let depth = work!(book, format!("{name}.slot_depth"), |height, share| height * share, by);
    let (left, enough) = under(book, name, height, depth);
    Slot { width, depth, left, enough }
}
fn under(book: &mut Book, name: &str, height: Val<Length>, depth: Val<Length>) -> (Val<Length>, Val<bool>) {
    let by = TABLES.by;
    let left = work!(book, format!("{name}.left"), |height, depth| height - depth, &reckon::source::GEOMETRY);
    let least = book.tabled(format!("{name}.left.least"), TABLES.least, "left under the slot, of height", by);
    let enough = judge!(
        book,
        format!("{name}.left.enough"),
        "enough of the head is left under the slot",
        |left, height, least| left >= height * least,
        by
    );
    (left, enough)
}

/// Head after its standard (ISO 1207 cheese, ISO 2009 countersunk) for a thread such as M3.
///
/// # Errors
/// When the standard has no such form or thread.
pub fn standard(book: &mut Book, name: &str, form: Form, thread: &str) -> Result<Head, Trouble> {
    let size = thread.trim().to_uppercase().replace(' ', "");
    let size = size.split(['X', '×', '-']).next().unwrap_or_default();
    let of_form = || TABLES.standard.iter().filter(|s| s.form == form);
    let Some(s) = of_form().find(|s| s.thread == size) else {
        let have: Vec<&str> = of_form().map(|s| s.thread.as_str()).collect();
        let t = Trouble::text(format!("no standard {form} head is tabled for '{thread}'"));
        return Err(if have.is_empty() {
            t.cure("cheese and countersunk heads have a standard here")
        } else {
            t.cure(format!("tabled are {}", have.join(", ")))
        }
        .cure("clock proportions take any thread"));
    };
    let row = |what: &str| format!("{} {form}: {what}", s.thread);
    let diameter = book.tabled(format!("{name}.diameter"), s.diameter, row("diameter"), s.source);
    let height = book.tabled(format!("{name}.height"), s.height, row("height"), s.source);
    let width = book.tabled(format!("{name}.slot_width"), s.slot_width, row("width of slot"), s.source);
    let depth = book.tabled(format!("{name}.slot_depth"), s.slot_depth, row("depth of slot"), s.source);
    let g = &reckon::source::GEOMETRY;
    let side = if form == Form::Countersunk {
        let major = book.tabled(format!("{name}.major"), s.major, row("thread"), s.source);
        // The standard's sizes are limits, and its cone may take the whole height.
        work!(
            book,
            format!("{name}.side"),
            |height, diameter, major| (height - (diameter - major) / 2.0).max(Length::ZERO),
            g
        )
    } else {
        work!(book, format!("{name}.side"), |height| height, g)
    };
    let (left, enough) = under(book, name, height, depth);
    let slot = Slot { width, depth, left, enough };
    Ok(Head { form, diameter, height, side, dome: None, rise: None, slot })
}

/// Slotting saws as sold, where a shop names none.
#[must_use]
pub fn saws() -> &'static [Length] {
    &TABLES.saws
}
/// The saw nearest to a slot's width; of two as near, the thinner. Every slot of a clock gets one saw's width.
pub fn saw(book: &mut Book, name: &str, width: Val<Length>, saws: &[Length]) -> Val<Length> {
    let wanted = width.bare();
    let nearest = saws.iter().copied().min_by(|a, b| {
        let off = |l: &Length| (*l - wanted).abs().value();
        off(a).total_cmp(&off(b)).then_with(|| a.value().total_cmp(&b.value()))
    });
    let taken = nearest.unwrap_or(wanted);
    let among = saws.iter().map(|s| Alternative {
        what: format!("{:.2} mm", s.in_mm()),
        taken: *s == taken,
        why: format!("{:+.2} mm", (*s - wanted).in_mm()),
    });
    let among = among.collect();
    book.chosen(
        name,
        taken,
        "the saw nearest to the width of the slot",
        among,
        vec![width.id()],
        TABLES.saws_by,
    )
}

#[cfg(test)]
mod tests;
