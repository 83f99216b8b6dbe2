//! Where a figure or a formula comes from.

/// How a source was had; carried into every check and sheet that leans on it.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Mark {
    /// Seen in the source.
    Read,
    /// Computed from a stated formula.
    Derived,
    /// Recalled; the source was not opened.
    Memory,
    /// A habit of the trade with no source to name.
    CommonPractice,
}
impl Mark {
    /// As printed.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Mark::Read => "read",
            Mark::Derived => "derived",
            Mark::Memory => "from memory",
            Mark::CommonPractice => "common practice, no source",
        }
    }
    /// From the word used in data files.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Mark> {
        Some(match word {
            "read" => Mark::Read,
            "derived" => Mark::Derived,
            "memory" => Mark::Memory,
            "common practice" => Mark::CommonPractice,
            _ => return None,
        })
    }
}

/// A source card. Tables and formulas point at one; a number without one does not exist.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Source {
    /// What to look up: title, edition, page or clause.
    pub cite: &'static str,
    /// How it was had.
    pub mark: Mark,
    /// The formula in the source's own symbols, where it helps the reader.
    pub formula: Option<&'static str>,
}
impl Source {
    /// A card for a formula derived from first principles.
    #[must_use]
    pub const fn derived(cite: &'static str) -> Source {
        Source { cite, mark: Mark::Derived, formula: None }
    }
    /// A card for something seen in the source.
    #[must_use]
    pub const fn read(cite: &'static str) -> Source {
        Source { cite, mark: Mark::Read, formula: None }
    }
    /// A card for something recalled.
    #[must_use]
    pub const fn memory(cite: &'static str) -> Source {
        Source { cite, mark: Mark::Memory, formula: None }
    }
    /// A card for a habit of the trade.
    #[must_use]
    pub const fn practice(cite: &'static str) -> Source {
        Source { cite, mark: Mark::CommonPractice, formula: None }
    }
    /// The same card with the formula in the source's symbols.
    #[must_use]
    pub const fn with_formula(mut self, formula: &'static str) -> Source {
        self.formula = Some(formula);
        self
    }
}

/// Plane and solid geometry that anyone can redraw.
pub static GEOMETRY: Source = Source::derived("plane geometry");
/// Rules of thumb that this program ships and a maker may override.
pub static HOUSE: Source = Source::practice("house default");
