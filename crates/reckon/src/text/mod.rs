//! Quantities as a maker writes them: `12.5 mm`, `1 3/8 in`, `5 thou`, `5°30'`, `6.00 +0.00/-0.02 mm`,
//! and plain arithmetic with other written values: `plates.gap + 2 * plates.thickness - 0.2 mm`.
//!
//! Everything is kept as exact fractions to the end and rounded once.

#[cfg(test)]
mod laws;
mod limits;
mod reader;
#[cfg(test)]
mod tests;

pub use limits::{Band, read_limits};

use crate::exact::Fraction;
use crate::trouble::{Kind, Place, Trouble};
use crate::units::{Dimension, UNITS};
use reader::Reader;
use std::ops::Range;

/// What is wrong with a written quantity; offsets are bytes in that text.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct TextFault {
    /// Where in the text.
    pub at: Range<usize>,
    /// What is wrong.
    pub says: String,
    /// Why.
    pub why: Option<String>,
    /// What would do.
    pub cures: Vec<String>,
}
impl TextFault {
    fn new(at: Range<usize>, says: impl Into<String>) -> TextFault {
        TextFault { at, says: says.into(), why: None, cures: Vec::new() }
    }
    fn why(mut self, why: impl Into<String>) -> TextFault {
        self.why = Some(why.into());
        self
    }
    fn cure(mut self, cure: impl Into<String>) -> TextFault {
        self.cures.push(cure.into());
        self
    }
    /// As a trouble whose text begins at `place`; the column is right only where every character before
    /// the fault is one byte long, so prefer [`TextFault::placed_in`] where the text is at hand.
    #[must_use]
    pub fn placed(self, place: &Place) -> Trouble {
        let at = place.part(self.at.start, self.at.end);
        self.trouble(at)
    }
    /// As a trouble in `text`, which stands at `place`.
    #[must_use]
    pub fn placed_in(self, place: &Place, text: &str) -> Trouble {
        let at = place.part_in(text, self.at.start, self.at.end);
        self.trouble(at)
    }
    fn trouble(self, at: Place) -> Trouble {
        let mut t = Trouble::error(Kind::Text, self.says).at(at);
        t.why = self.why;
        t.cures = self.cures;
        t
    }
}

/// An exact value with its dimension, as arithmetic carries it.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Exact {
    /// SI value, degrees in place of radians.
    value: Fraction,
    powers: [i8; 5],
    /// Whether it is a temperature read from a scale whose nought is not nothing.
    on_scale: bool,
}
impl Exact {
    /// A value of a dimension, ready for SI.
    #[must_use]
    pub fn si(self, want: Dimension) -> f64 {
        want.finish(self.value)
    }
    fn is_plain(self) -> bool {
        self.powers == [0; 5]
    }
    /// "a length", for a message.
    fn noun(self) -> Option<&'static str> {
        UNITS.iter().find(|u| u.of.powers() == self.powers).map(|u| u.of.noun())
    }
}

/// Looks up a name that the text refers to.
pub type Lookup<'a> = dyn FnMut(&str) -> Result<Exact, TextFault> + 'a;

/// Reads a quantity of dimension `want`; no names allowed.
///
/// # Errors
/// A [`TextFault`] that says where, what, why and what would do.
pub fn read(text: &str, want: Dimension) -> Result<f64, TextFault> {
    read_with(text, want, &mut |name| {
        Err(TextFault::new(0..0, format!("'{}' is not {}", clip(name), want.noun())).cure(example(want)))
    })
}

/// Reads a quantity or arithmetic with names, which `lookup` answers.
///
/// # Errors
/// As [`read`], and whatever `lookup` says.
pub fn read_with(text: &str, want: Dimension, lookup: &mut Lookup<'_>) -> Result<f64, TextFault> {
    exact_with(text, want, lookup).map(|e| e.si(want))
}

/// As [`read_with`], still exact.
///
/// # Errors
/// As [`read_with`].
pub fn exact_with(text: &str, want: Dimension, lookup: &mut Lookup<'_>) -> Result<Exact, TextFault> {
    let whole = 0..text.len();
    let value = Reader::new(text, want, lookup).all().map_err(|fault| {
        if want == Dimension::Length && read_limits(text).is_some_and(|limits| limits.is_ok()) {
            return TextFault::new(whole.clone(), "limits cannot be read here").cure("write the size alone");
        }
        fault
    })?;
    if value.powers == want.powers() {
        return Ok(value);
    }
    if value.is_plain() {
        let fault = TextFault::new(whole, format!("{} needs a unit", want.noun()));
        // A fraction is written in inches.
        let unit = match want.units().first() {
            Some(_) if want == Dimension::Length && text.contains('/') => "in",
            Some(unit) => unit,
            None => "",
        };
        let written = text.trim();
        return Err(if written.chars().count() > LONGEST_SHOWN {
            fault.cure(example(want))
        } else {
            fault.cure(format!("write \"{written} {unit}\" if you meant {}", spelled(unit)))
        });
    }
    let got = value.noun().unwrap_or("a product of other units");
    Err(TextFault::new(whole, format!("{} is wanted here, and this is {got}", want.noun()))
        .cure(example(want)))
}

/// Characters of a written text that a message repeats.
const LONGEST_SHOWN: usize = 40;
/// A text as a message repeats it: its beginning, where it is long.
fn clip(text: &str) -> String {
    match text.char_indices().nth(LONGEST_SHOWN) {
        Some((end, _)) => format!("{}…", &text[..end]),
        None => text.to_owned(),
    }
}
/// An example of how a quantity is written.
fn example(want: Dimension) -> String {
    let text = match want {
        Dimension::Length => "42 mm, 1.65 in, 5 thou or 1 3/8 in",
        Dimension::Angle => "8 deg or 5°30'",
        Dimension::Time => "26 s, 30 min, 8 d",
        Dimension::Speed => "75 m/min",
        Dimension::AngularSpeed => "300 rpm",
        Dimension::Temperature => "18 degC",
        Dimension::Ratio => "0.75 or 75 %",
        Dimension::Force => "4000 N",
        Dimension::Mass => "3.2 kg",
        Dimension::Power => "350 W",
        other => return format!("write a number and one of: {}", other.units().join(", ")),
    };
    format!("for example {text}")
}
fn spelled(unit: &str) -> &str {
    match unit {
        "mm" => "millimetres",
        "in" => "inches",
        "deg" => "degrees",
        "s" => "seconds",
        "rpm" => "turns a minute",
        "degC" => "degrees Celsius",
        "kg" => "kilograms",
        "N" => "newtons",
        other => other,
    }
}
