//! What is wrong, where, why, and what would do.

use std::fmt;
use std::sync::Arc;

/// A place in a text that the maker wrote.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Place {
    /// The file as the maker knows it, or "command line".
    pub file: Arc<str>,
    /// Line, counted from 1.
    pub line: u32,
    /// Column in characters, counted from 1.
    pub column: u32,
    /// First byte in the file's text.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}
impl Place {
    /// The place of bytes `start..end` in `text`.
    #[must_use]
    pub fn in_text(file: &Arc<str>, text: &str, start: usize, end: usize) -> Place {
        let start = floor_boundary(text, start);
        let end = floor_boundary(text, end).max(start);
        let before = &text[..start];
        let line_start = before.rfind('\n').map_or(0, |i| i + 1);
        let line = before.bytes().filter(|b| *b == b'\n').count() + 1;
        let column = text[line_start..start].chars().count() + 1;
        Place {
            file: Arc::clone(file),
            line: u32::try_from(line).unwrap_or(u32::MAX),
            column: u32::try_from(column).unwrap_or(u32::MAX),
            start,
            end,
        }
    }
    /// A narrower place inside this one; offsets are bytes from its start. The column counts them as
    /// characters, which is right only where each is one byte long: [`Place::part_in`] knows better.
    #[must_use]
    pub fn part(&self, from: usize, to: usize) -> Place {
        let start = self.start.saturating_add(from).min(self.end);
        Place {
            start,
            end: self.start.saturating_add(to).clamp(start, self.end.max(start)),
            column: self.column.saturating_add(u32::try_from(from).unwrap_or(0)),
            ..self.clone()
        }
    }
    /// A narrower place inside this one, where `text` stands; offsets are bytes in `text`.
    /// The column counts characters, and a part on a later line of the text says that line.
    #[must_use]
    pub fn part_in(&self, text: &str, from: usize, to: usize) -> Place {
        let from = floor_boundary(text, from);
        let before = &text[..from];
        let lines = before.bytes().filter(|b| *b == b'\n').count();
        let signs = before.rsplit('\n').next().map_or(0, |last| last.chars().count());
        let signs = u32::try_from(signs).unwrap_or(0);
        Place {
            line: self.line.saturating_add(u32::try_from(lines).unwrap_or(0)),
            column: if lines == 0 { self.column.saturating_add(signs) } else { signs + 1 },
            ..self.part(from, to)
        }
    }
}
fn floor_boundary(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}
impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.line == 0 {
            write!(f, "{}", self.file)
        } else {
            write!(f, "{} line {}", self.file, self.line)
        }
    }
}

/// Whose trouble it is; decides the exit code.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Kind {
    /// The text cannot be read as written.
    Text,
    /// The shop's own text is at fault or lacks something.
    Shop,
    /// The design contradicts itself or what is possible.
    Design,
    /// This shop cannot make it as asked.
    Unmakeable,
    /// A fault of this program.
    Ours,
}

/// Whether the work stops.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Weight {
    /// Worth knowing; the work goes on.
    Warning,
    /// Nothing is written.
    Error,
}

/// One thing that is wrong.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Trouble {
    /// Whose it is.
    pub kind: Kind,
    /// Whether it stops the work.
    pub weight: Weight,
    /// One sentence: what is wrong.
    pub says: String,
    /// Where, if it is in a text; the first is where the reader looks.
    pub at: Vec<Place>,
    /// Why it cannot be.
    pub why: Option<String>,
    /// What would do, smallest cure first.
    pub cures: Vec<String>,
}
impl Trouble {
    /// A trouble that stops the work.
    pub fn error(kind: Kind, says: impl Into<String>) -> Trouble {
        Trouble {
            kind,
            weight: Weight::Error,
            says: says.into(),
            at: Vec::new(),
            why: None,
            cures: Vec::new(),
        }
    }
    /// A text that cannot be read.
    pub fn text(says: impl Into<String>) -> Trouble {
        Trouble::error(Kind::Text, says)
    }
    /// A design that cannot be.
    pub fn design(says: impl Into<String>) -> Trouble {
        Trouble::error(Kind::Design, says)
    }
    /// A fault of the shop's text.
    pub fn shop(says: impl Into<String>) -> Trouble {
        Trouble::error(Kind::Shop, says)
    }
    /// Something this shop cannot make.
    pub fn unmakeable(says: impl Into<String>) -> Trouble {
        Trouble::error(Kind::Unmakeable, says)
    }
    /// A fault of this program.
    pub fn ours(says: impl Into<String>) -> Trouble {
        Trouble::error(Kind::Ours, says)
    }
    /// The same, but the work goes on.
    #[must_use]
    pub fn as_warning(mut self) -> Trouble {
        self.weight = Weight::Warning;
        self
    }
    /// With a place.
    #[must_use]
    pub fn at(mut self, place: impl Into<Option<Place>>) -> Trouble {
        self.at.extend(place.into());
        self
    }
    /// With the reason.
    #[must_use]
    pub fn why(mut self, why: impl Into<String>) -> Trouble {
        self.why = Some(why.into());
        self
    }
    /// With something that would do.
    #[must_use]
    pub fn cure(mut self, cure: impl Into<String>) -> Trouble {
        self.cures.push(cure.into());
        self
    }
    /// Whether it stops the work.
    #[must_use]
    pub fn stops(&self) -> bool {
        self.weight == Weight::Error
    }
}
impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(place) = self.at.first() {
            write!(f, "{place}: ")?;
        }
        write!(f, "{}", self.says)?;
        if let Some(why) = &self.why {
            write!(f, " ({why})")?;
        }
        for cure in &self.cures {
            write!(f, "; {cure}")?;
        }
        Ok(())
    }
}
impl std::error::Error for Trouble {}

/// The known words nearest to a mistyped one, best first; empty when none is near.
///
/// Near is one slip, and one more for every four letters, but never every letter: to `q` nothing is near.
/// Of words equally near, those of the same length come first, then those that begin alike, then the order
/// in which they are known.
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    let lower = word.to_lowercase();
    let length = lower.chars().count();
    let first = lower.chars().next();
    let mut near: Vec<((usize, usize, bool), &str)> = Vec::new();
    for k in known {
        let other = k.to_lowercase();
        let other_length = other.chars().count();
        let longer = length.max(other_length);
        let allowed = (1 + longer / 4).min(longer.saturating_sub(1));
        let apart = length.abs_diff(other_length);
        // A word cannot be nearer than the difference of the lengths.
        if apart > allowed || near.iter().any(|(_, n)| *n == k) {
            continue;
        }
        let slips = strsim::damerau_levenshtein(&lower, &other);
        if slips <= allowed {
            near.push(((slips, apart, other.chars().next() != first), k));
        }
    }
    near.sort_by_key(|(rank, _)| *rank);
    near.into_iter().take(3).map(|(_, k)| k).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_words() {
        let units = ["mm", "in", "thou", "cm", "m", "um", "h", "s"];
        for (word, want) in [
            ("mn", vec!["mm", "in", "m"]),
            ("MM", vec!["mm", "cm", "um"]),
            ("q", vec![]),
            ("", vec![]),
            ("thuo", vec!["thou"]),
            ("inside", vec![]),
        ] {
            assert_eq!(nearest(word, units), want, "{word}");
        }
        let materials = ["brass CZ120", "brass CZ121", "silver steel"];
        assert_eq!(nearest("silver stel", materials), ["silver steel"]);
        assert_eq!(nearest("Silver Steel", materials), ["silver steel"]);
        assert_eq!(nearest("brass CZ12", materials), ["brass CZ120", "brass CZ121"]);
        assert_eq!(nearest("tooth", ["teeth", "teeth"]), ["teeth"]);
        // A long word is not compared with short ones at all.
        assert!(nearest(&"x".repeat(1_000_000), ["thickness"]).is_empty());
    }
    #[test]
    fn a_trouble_in_one_line() {
        let file: Arc<str> = Arc::from("clock.toml");
        let place = Place::in_text(&file, "a\nlong = 3\n", 2, 6);
        let t = Trouble::text("no").at(place).why("so").cure("this").cure("that");
        assert_eq!(t.to_string(), "clock.toml line 2: no (so); this; that");
        assert!(t.stops() && !t.as_warning().stops());
        let nowhere = Place { file: Arc::from("the command line"), line: 0, column: 0, start: 0, end: 0 };
        assert_eq!(Trouble::design("no").at(nowhere).to_string(), "the command line: no");
    }
    #[test]
    fn places_within_a_text() {
        let file: Arc<str> = Arc::from("x");
        let text = "é\r\nß = 1\n";
        for (start, line, column) in [(0, 1, 1), (1, 1, 1), (2, 1, 2), (4, 2, 1), (6, 2, 2), (99, 3, 1)] {
            let p = Place::in_text(&file, text, start, start);
            assert_eq!((p.line, p.column), (line, column), "{start}");
            assert!(text.is_char_boundary(p.start) && p.start <= p.end);
        }
        let p = Place::in_text(&file, text, 4, 2);
        assert_eq!((p.start, p.end), (4, 4));
    }
}
