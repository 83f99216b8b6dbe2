//! Why a document cannot be printed as asked.

use std::fmt;

/// What stands in the way of printing.
#[derive(Clone, Debug, PartialEq)]
pub enum Unprintable {
    /// No face in the case has a glyph for this character.
    NoGlyph {
        /// The character.
        sign: char,
        /// The text it stands in.
        text: String,
    },
    /// Something that may not be cut in two is higher than a page.
    TooTall {
        /// What it is.
        what: String,
        /// Its height in millimetres.
        height: f64,
        /// The height there is, in millimetres.
        room: f64,
    },
    /// Something is wider than its place and may not be made smaller.
    TooWide {
        /// What it is.
        what: String,
        /// Its width in millimetres.
        width: f64,
        /// The width there is, in millimetres.
        room: f64,
    },
    /// A template is not drawn full size.
    NotFullSize {
        /// What it is.
        what: String,
    },
    /// Text is set smaller than can be read at the bench.
    TooSmall {
        /// The text.
        text: String,
        /// Its size in points.
        size: f64,
    },
    /// A date that no calendar has.
    NoSuchDay {
        /// Year, month, day.
        day: (u16, u8, u8),
    },
    /// The file writer refused the document.
    Writer {
        /// What it said.
        said: String,
    },
}

impl fmt::Display for Unprintable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoGlyph { sign, text } => {
                write!(f, "no face can print {sign:?} (U+{:04X}) in “{text}”", u32::from(*sign))
            }
            Self::TooTall { what, height, room } => {
                write!(f, "{what} is {height:.0} mm high; the page has {room:.0} mm")
            }
            Self::TooWide { what, width, room } => {
                write!(f, "{what} is {width:.0} mm wide; there are {room:.0} mm")
            }
            Self::NotFullSize { what } => write!(f, "the template {what} is not drawn at 1:1"),
            Self::TooSmall { text, size } => {
                write!(f, "“{text}” would be {size:.1} pt high; below 7 pt it cannot be read at the bench")
            }
            Self::NoSuchDay { day: (y, m, d) } => write!(f, "{y}-{m:02}-{d:02} is no day of the calendar"),
            Self::Writer { said } => write!(f, "the PDF could not be written: {said}"),
        }
    }
}

impl std::error::Error for Unprintable {}
