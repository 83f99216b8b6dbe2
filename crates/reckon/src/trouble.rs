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
    /// A narrower place inside this one; offsets are bytes from its start.
    #[must_use]
    pub fn part(&self, from: usize, to: usize) -> Place {
        let start = (self.start + from).min(self.end);
        Place {
            start,
            end: (self.start + to).clamp(start, self.end),
            column: self.column + u32::try_from(from).unwrap_or(0),
            ..self.clone()
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
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    let lower = word.to_lowercase();
    let mut near: Vec<(usize, &str)> = known
        .into_iter()
        .map(|k| (strsim::damerau_levenshtein(&lower, &k.to_lowercase()), k))
        .filter(|(d, k)| *d <= 1 + k.chars().count().max(lower.chars().count()) / 4)
        .collect();
    near.sort();
    near.dedup();
    near.into_iter().take(3).map(|(_, k)| k).collect()
}
