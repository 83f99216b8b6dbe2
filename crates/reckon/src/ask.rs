//! Questions with an answer from the handbook side, no project needed.
//!
//! Each crate lists its own questions; the program and the runner of published
//! checks gather them. A question takes texts, answers in the book, and so
//! explains itself.

use crate::exact::Fraction;
use crate::print::Shown;
use crate::quantity::{
    Acceleration, Angle, AngularSpeed, Area, Count, Density, Diameter, Energy, Force, Length, Mass,
    PerKelvin, Power, Pressure, Radius, Ratio, Speed, Stiffness, Temperature, TemperatureDifference, Time,
    Torque, Volume,
};
use crate::text;
use crate::trouble::{Place, Trouble, nearest};
use crate::units::Dimension;
use crate::workings::{Book, Val};
use std::collections::BTreeMap;
use std::sync::Arc;

mod take;

pub use take::{Done, ask, more, not_among, one_of, some, within, yes};

/// What a question takes.
#[derive(Copy, Clone, Debug)]
pub struct Param {
    /// Its name, as written before `=`.
    pub name: &'static str,
    /// What it is, in trade words.
    pub says: &'static str,
    /// Taken when it is not given: `None` makes it required, `Some("")` lets the question do without.
    pub default: Option<&'static str>,
}
/// A question.
#[derive(Copy, Clone, Debug)]
pub struct Ask {
    /// Dotted name: subject first.
    pub name: &'static str,
    /// What it answers, one line.
    pub says: &'static str,
    /// What it takes.
    pub takes: &'static [Param],
    /// Names of the answers, in the order of printing.
    pub gives: &'static [&'static str],
    /// An example that works, the part after the name.
    pub example: &'static str,
    /// Works it out: each answer is a line of the book under its plain name.
    pub run: fn(&Given<'_>, &mut Book) -> Done,
}
/// `name=value name="two words"` as the pairs of a question.
///
/// # Errors
/// When a word is no pair.
pub fn pairs(line: &str, here: &Arc<str>) -> Result<Vec<(String, String, Place)>, String> {
    let mut words: Vec<String> = Vec::new();
    let (mut word, mut quote) = (String::new(), None);
    for c in line.chars() {
        match (quote, c) {
            (None, '"' | '\'') => quote = Some(c),
            (Some(q), c) if c == q => quote = None,
            (None, ' ') => words.extend((!word.is_empty()).then(|| std::mem::take(&mut word))),
            (_, c) => word.push(c),
        }
    }
    words.extend((!word.is_empty()).then_some(word));
    let pair = |w: &String| {
        let (name, value) = w.split_once('=').ok_or_else(|| format!("'{w}' is not name=value"))?;
        Ok((name.to_owned(), value.to_owned(), Place::in_text(here, value, 0, value.len())))
    };
    words.iter().map(pair).collect()
}
/// A required parameter.
#[must_use]
pub const fn need(name: &'static str, says: &'static str) -> Param {
    Param { name, says, default: None }
}
/// A parameter with a default.
#[must_use]
pub const fn or(name: &'static str, default: &'static str, says: &'static str) -> Param {
    Param { name, says, default: Some(default) }
}

/// The texts that a question was given.
#[derive(Debug)]
pub struct Given<'a> {
    ask: &'a Ask,
    texts: BTreeMap<String, (String, Place)>,
}

/// A quantity type that can be read from text.
pub trait Readable: Shown + Copy {
    /// The dimension of its text.
    const OF: Dimension;
    /// From its SI value.
    fn from_si(si: f64) -> Self;
}
macro_rules! readable { ($($t:ident $d:ident;)+) => { $(
    impl Readable for $t { const OF: Dimension = Dimension::$d; fn from_si(si: f64) -> Self { $t::si(si) } }
)+ } }
readable! {
    Length Length; Diameter Length; Radius Length; Angle Angle; Time Time; Speed Speed; AngularSpeed AngularSpeed;
    Mass Mass; Force Force; Torque Torque; Pressure Pressure; Energy Energy; Power Power; Temperature Temperature;
    TemperatureDifference TemperatureDifference; Area Area; Volume Volume; Density Density;
    Acceleration Acceleration; Stiffness Stiffness; PerKelvin PerKelvin; Ratio Ratio;
}

impl<'a> Given<'a> {
    /// Pairs `name` and text, each with its place; unknown and missing names are troubles.
    ///
    /// # Errors
    /// All that is wrong with the names, at once.
    pub fn new(ask: &'a Ask, pairs: &[(String, String, Place)]) -> Result<Given<'a>, Vec<Trouble>> {
        let mut texts = BTreeMap::new();
        let mut troubles = Vec::new();
        for (name, text, place) in pairs {
            if !ask.takes.iter().any(|p| p.name == name) {
                let known = ask.takes.iter().map(|p| p.name);
                let mut t = Trouble::text(format!("'{}' does not take '{name}'", ask.name)).at(place.clone());
                t = match nearest(name, known.clone()).first() {
                    Some(n) => t.cure(format!("did you mean '{n}'?")),
                    None => t.cure(format!("it takes: {}", known.collect::<Vec<_>>().join(", "))),
                };
                troubles.push(t);
            } else if texts.insert(name.clone(), (text.clone(), place.clone())).is_some() {
                troubles.push(Trouble::text(format!("'{name}' is given twice")).at(place.clone()));
            }
        }
        for p in ask.takes.iter().filter(|p| p.default.is_none()) {
            if !texts.contains_key(p.name) {
                troubles.push(
                    Trouble::text(format!("'{}' needs {}: {}", ask.name, p.name, p.says))
                        .cure(format!("for example: {} {}", ask.name, ask.example)),
                );
            }
        }
        if troubles.is_empty() { Ok(Given { ask, texts }) } else { Err(troubles) }
    }
    fn text(&self, name: &str) -> Option<(String, Option<Place>)> {
        if let Some((t, p)) = self.texts.get(name) {
            return Some((t.clone(), Some(p.clone())));
        }
        let default = self.ask.takes.iter().find(|p| p.name == name)?.default?;
        (!default.is_empty()).then(|| (default.to_owned(), None))
    }
    /// Whether the asker gave it.
    #[must_use]
    pub fn has(&self, name: &str) -> bool {
        self.texts.contains_key(name)
    }
    /// A trouble at the place of a parameter.
    #[must_use]
    pub fn trouble(&self, name: &str, says: impl Into<String>) -> Trouble {
        Trouble::text(says).at(self.texts.get(name).map(|(_, p)| p.clone()))
    }
    /// A word such as the name of a thread.
    ///
    /// # Errors
    /// When it is neither given nor has a default.
    pub fn word(&self, name: &str) -> Result<String, Trouble> {
        self.text(name).map(|(t, _)| t).ok_or_else(|| self.trouble(name, format!("'{name}' is not given")))
    }
    /// A word that may be left out.
    #[must_use]
    pub fn word_if(&self, name: &str) -> Option<String> {
        self.text(name).map(|(t, _)| t)
    }
    /// A quantity, written into the book under the parameter's name.
    ///
    /// # Errors
    /// When it cannot be read.
    pub fn take<T: Readable>(&self, book: &mut Book, name: &str) -> Result<Val<T>, Trouble> {
        self.take_if(book, name)?.ok_or_else(|| self.trouble(name, format!("'{name}' is not given")))
    }
    /// A quantity that may be left out.
    ///
    /// # Errors
    /// When it is given and cannot be read.
    pub fn take_if<T: Readable>(&self, book: &mut Book, name: &str) -> Result<Option<Val<T>>, Trouble> {
        let Some((text, place)) = self.text(name) else { return Ok(None) };
        let at = place.clone().unwrap_or_else(|| nowhere(name));
        let si = text::read(&text, T::OF).map_err(|f| f.placed_in(&at, &text))?;
        Ok(Some(self.enter(book, name, T::from_si(si), place)))
    }
    /// Several quantities between commas, entered as `name.1`, `name.2`, ….
    ///
    /// # Errors
    /// When one cannot be read.
    pub fn take_list<T: Readable>(&self, book: &mut Book, name: &str) -> Result<Vec<Val<T>>, Trouble> {
        let Some((text, place)) = self.text(name) else { return Ok(Vec::new()) };
        let at = place.clone().unwrap_or_else(|| nowhere(name));
        let mut out = Vec::new();
        let mut offset = 0;
        for (i, part) in text.split(',').enumerate() {
            let si = text::read(part, T::OF).map_err(|f| {
                // Where the part stands in the whole text, so that columns count characters.
                let mut f = f;
                f.at = offset + f.at.start..offset + f.at.end;
                f.placed_in(&at, &text)
            })?;
            out.push(self.enter(book, &format!("{name}.{}", i + 1), T::from_si(si), place.clone()));
            offset += part.len() + 1;
        }
        Ok(out)
    }
    /// A whole number.
    ///
    /// # Errors
    /// When it is not one.
    pub fn count(&self, book: &mut Book, name: &str) -> Result<Val<Count>, Trouble> {
        let (text, place) =
            self.text(name).ok_or_else(|| self.trouble(name, format!("'{name}' is not given")))?;
        let value = Fraction::decimal(text.trim()).map(Fraction::terms);
        match value {
            Some((n, 1)) => {
                let n = i64::try_from(n).map_err(|_| self.trouble(name, format!("'{text}' is too many")))?;
                Ok(self.enter(book, name, Count(n), place))
            }
            _ => Err(self.trouble(name, format!("'{text}' is not a whole number"))),
        }
    }
    fn enter<T: Shown>(&self, book: &mut Book, name: &str, v: T, place: Option<Place>) -> Val<T> {
        match place {
            Some(at) => book.written(name, v, at),
            None => book.assumed(name, v, "the default of this question"),
        }
    }
}
fn nowhere(name: &str) -> Place {
    Place { file: Arc::from(format!("default of {name}")), line: 0, column: 0, start: 0, end: usize::MAX }
}

#[cfg(test)]
mod tests;
