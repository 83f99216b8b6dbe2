//! Text with its styles, before it is set in lines.

use crate::page::Ink;

/// How a stretch of text looks. Bold goes before italic, and both before mono.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Style {
    /// Heavier.
    pub bold: bool,
    /// Slanted, for names of quantities and for remarks.
    pub italic: bool,
    /// All signs of one width, for programs.
    pub mono: bool,
    /// Times the size around it; 0 is read as 1.
    pub scale: f32,
    /// Its own shade, if not that around it.
    pub ink: Option<Ink>,
    /// Index above or below the line.
    pub index: Index,
}

/// Whether text stands as an index.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Index {
    /// On the line.
    #[default]
    None,
    /// Raised and small.
    Upper,
    /// Lowered and small.
    Lower,
}

/// A stretch of text in one style.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Span {
    /// The words.
    pub text: String,
    /// Their look.
    pub style: Style,
}

/// Text in stretches. `Text::from("turn to ").bold("4.00 mm")`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Text(pub Vec<Span>);

impl From<&str> for Text {
    fn from(s: &str) -> Self {
        Self::default().plain(s)
    }
}
impl From<String> for Text {
    fn from(s: String) -> Self {
        Self::default().plain(s)
    }
}

impl Text {
    /// Adds text in a style.
    #[must_use]
    pub fn styled(mut self, text: impl Into<String>, style: Style) -> Self {
        self.0.push(Span { text: text.into(), style });
        self
    }
    /// Adds text as it is around.
    #[must_use]
    pub fn plain(self, text: impl Into<String>) -> Self {
        self.styled(text, Style::default())
    }
    /// Adds heavy text.
    #[must_use]
    pub fn bold(self, text: impl Into<String>) -> Self {
        self.styled(text, Style { bold: true, ..Style::default() })
    }
    /// Adds slanted text.
    #[must_use]
    pub fn italic(self, text: impl Into<String>) -> Self {
        self.styled(text, Style { italic: true, ..Style::default() })
    }
    /// Adds text of one width.
    #[must_use]
    pub fn mono(self, text: impl Into<String>) -> Self {
        self.styled(text, Style { mono: true, scale: 0.94, ..Style::default() })
    }
    /// Adds smaller, softer text.
    #[must_use]
    pub fn small(self, text: impl Into<String>) -> Self {
        self.styled(text, Style { scale: 0.84, ink: Some(Ink::SOFT), ..Style::default() })
    }
    /// Adds a raised index.
    #[must_use]
    pub fn upper(self, text: impl Into<String>) -> Self {
        self.styled(text, Style { index: Index::Upper, ..Style::default() })
    }
    /// Adds a lowered index.
    #[must_use]
    pub fn lower(self, text: impl Into<String>) -> Self {
        self.styled(text, Style { index: Index::Lower, ..Style::default() })
    }
    /// Begins a new line.
    #[must_use]
    pub fn line(self) -> Self {
        self.plain("\n")
    }
    /// The words without their styles.
    #[must_use]
    pub fn words(&self) -> String {
        self.0.iter().map(|s| s.text.as_str()).collect()
    }
    /// Whether there is nothing to read.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|s| s.text.trim().is_empty())
    }
}

/// Signs and units that a line must not begin with, after a number.
const UNITS: [&str; 36] = [
    "mm", "cm", "m", "in", "thou", "µm", "um", "rpm", "°C", "°F", "K", "deg", "°", "h", "min", "s", "kg",
    "g", "N", "mm/rev", "m/min", "s/day", "div", "d", "×", "±", "+", "−", "–", "%", "off", "pcs", "Hz", "W",
    "V", "A",
];

/// Makes the blanks between a number and its unit hold together; tabs and
/// other signs without a shape become blanks.
pub(crate) fn hold_units(words: &str) -> String {
    let plain = |c: char| if c.is_control() && c != '\n' { ' ' } else { c };
    // Marks of byte order are no text, and PDF/A forbids them.
    let written = |c: &char| !matches!(c, '\u{feff}' | '\u{fffe}' | '\u{ffff}');
    let words: String = words.replace("\r\n", "\n").chars().filter(written).map(plain).collect();
    let parts: Vec<&str> = words.split(' ').collect();
    let mut out = String::with_capacity(words.len() + 8);
    for (i, part) in parts.iter().enumerate() {
        out.push_str(part);
        let Some(next) = parts.get(i + 1) else { break };
        let ends_in_number = part.ends_with(|c: char| c.is_ascii_digit() || "½¼¾⅛⅜⅝⅞".contains(c));
        let unit = next.trim_end_matches([',', '.', ';', ':', ')']);
        let starts_number = next.starts_with(|c: char| c.is_ascii_digit() || c == '⌀');
        let holds = (ends_in_number && UNITS.contains(&unit)) || (["×", "±"].contains(part) && starts_number);
        out.push(if holds { '\u{a0}' } else { ' ' });
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_keeps_its_unit() {
        assert_eq!(
            hold_units("turn to 120 mm, then 0.1 × 45°"),
            "turn to 120\u{a0}mm, then 0.1\u{a0}×\u{a0}45°"
        );
        assert_eq!(hold_units("4 holes in 2 rows"), "4 holes in 2 rows");
        assert_eq!(hold_units("a\tb\r\nc\u{7}"), "a b\nc ");
    }
}
