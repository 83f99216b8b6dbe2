//! Questions that this crate answers, a file for each subject.

mod cycle;
mod grasshopper;
mod made;
mod set_out;

use crate::check::{Amiss, Check, Side, Unit};
use reckon::ask::{Done, Readable, one_of};
use reckon::{Angle, Ask, Book, Count, Given, Id, Length, Ratio, Source, Trouble, Val, judge};

/// All questions of this crate.
#[must_use]
pub fn asks() -> Vec<&'static Ask> {
    [set_out::ASKS, made::ASKS, cycle::ASKS, grasshopper::ASKS].into_iter().flatten().collect()
}

/// What a question was given, as plain numbers in millimetres and radians, with the lines they came from.
struct Taken<'g, 'b> {
    given: &'g Given<'g>,
    book: &'b mut Book,
    ids: Vec<Id>,
}
impl<'g, 'b> Taken<'g, 'b> {
    fn new(given: &'g Given<'g>, book: &'b mut Book) -> Self {
        Taken { given, book, ids: Vec::new() }
    }
    fn take<T: Readable>(&mut self, name: &str) -> Result<Val<T>, Trouble> {
        let v = self.given.take::<T>(self.book, name)?;
        self.ids.push(v.id());
        Ok(v)
    }
    fn mm(&mut self, name: &str) -> Result<f64, Trouble> {
        Ok(self.take::<Length>(name)?.bare().in_mm())
    }
    fn rad(&mut self, name: &str) -> Result<f64, Trouble> {
        Ok(self.take::<Angle>(name)?.bare().value())
    }
    fn ratio(&mut self, name: &str) -> Result<f64, Trouble> {
        Ok(self.take::<Ratio>(name)?.bare().value())
    }
    /// A length that may be left out.
    fn mm_if(&mut self, name: &str) -> Result<Option<f64>, Trouble> {
        if self.given.word_if(name).is_some() { self.mm(name).map(Some) } else { Ok(None) }
    }
    /// An angle that may be left out.
    fn rad_if(&mut self, name: &str) -> Result<Option<f64>, Trouble> {
        if self.given.word_if(name).is_some() { self.rad(name).map(Some) } else { Ok(None) }
    }
    fn count(&mut self, name: &str) -> Result<u32, Trouble> {
        let v: Val<Count> = self.given.count(self.book, name)?;
        self.ids.push(v.id());
        u32::try_from(v.bare().0)
            .map_err(|_| self.given.trouble(name, format!("'{name}' must not be less than nothing")))
    }
    /// A trouble at the size that a kernel complains of.
    fn amiss(&self, a: &Amiss) -> Trouble {
        self.given.trouble(a.size, a.to_string())
    }
    fn tell_mm(&mut self, name: &str, mm: f64, formula: &str, source: &'static Source) {
        self.book.solved(name, Length::mm(mm), (formula, 1, 0.0), self.ids.clone(), source);
    }
    fn tell_rad(&mut self, name: &str, rad: f64, formula: &str, source: &'static Source) {
        self.book.solved(name, Angle::si(rad), (formula, 1, 0.0), self.ids.clone(), source);
    }
    fn tell(&mut self, name: &str, value: f64, formula: &str, source: &'static Source) {
        self.book.solved(name, Ratio::si(value), (formula, 1, 0.0), self.ids.clone(), source);
    }
    fn word(&mut self, name: &str, word: impl Into<String>, formula: &str, source: &'static Source) {
        self.book.solved(name, word.into(), (formula, 1, 0.0), self.ids.clone(), source);
    }
    /// Every check as its figure, its limit and a verdict, and one word over all.
    fn checks(&mut self, checks: &[Check], source: &'static Source) {
        for c in checks {
            match c.unit {
                Unit::Angle => self.check(c, Angle::si(c.value), Angle::si(c.limit), source),
                Unit::Length => self.check(c, Length::mm(c.value), Length::mm(c.limit), source),
            }
        }
        let failing: Vec<&str> = checks.iter().filter(|c| !c.holds()).map(|c| c.says).collect();
        let word =
            if failing.is_empty() { "sound".to_owned() } else { format!("refused: {}", failing.join("; ")) };
        self.word("verdict", word, "all limits together", source);
    }
    fn check<T: reckon::Shown + Copy + Within>(
        &mut self,
        c: &Check,
        v: T,
        limit: T,
        source: &'static Source,
    ) {
        let found = self.book.solved(c.key, v, (c.says, 1, 0.0), self.ids.clone(), source);
        if c.side == Side::Told {
            return;
        }
        let limit = self.book.tabled(format!("{}_limit", c.key), limit, c.says, source);
        let name = format!("{}_ok", c.key);
        match c.side {
            Side::AtLeast => {
                judge!(self.book, name, c.says, |found, limit| !found.below(limit), source);
            }
            _ => {
                judge!(self.book, name, c.says, |found, limit| !limit.below(found), source);
            }
        }
    }
}

/// Comparison that forgives the last bits of a computation.
trait Within {
    fn below(self, other: Self) -> bool;
}
impl Within for Angle {
    fn below(self, other: Self) -> bool {
        self.value() < other.value() - 1e-12
    }
}
impl Within for Length {
    fn below(self, other: Self) -> bool {
        self.value() < other.value() - 1e-15
    }
}

#[cfg(test)]
mod tests;
