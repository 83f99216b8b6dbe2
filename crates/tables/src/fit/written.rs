//! Fits and limits as a maker writes them: `8 H7/g6`, `ø8 h6`, `1/4 in H7/g6`.

use super::{COARSEST, FINEST, letters};
use reckon::{Length, Readable, Trouble, text};
use std::fmt;

/// A letter and a grade, such as H7.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Zone {
    /// Whether it is a hole; capitals are holes.
    pub hole: bool,
    /// The letter or two as written.
    pub letter: String,
    /// The grade.
    pub grade: u8,
}
impl fmt::Display for Zone {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.letter, self.grade)
    }
}
impl Zone {
    /// Reads `H7` or `js6`.
    ///
    /// # Errors
    /// When it is not a known letter with a tabled grade.
    pub fn read(text: &str) -> Result<Zone, Trouble> {
        let text = text.trim();
        let split = text.find(|c: char| !c.is_alphabetic()).unwrap_or(text.len());
        let (letter, grade) = text.split_at(split);
        let example = "write a letter and a grade, for example H7 for a hole or g6 for a shaft";
        if letter.is_empty() {
            return Err(Trouble::text(format!("'{text}' is not a tolerance")).cure(example));
        }
        let hole = letter.chars().all(char::is_uppercase);
        let shaft = letter.chars().all(char::is_lowercase);
        if !hole && !shaft {
            return Err(Trouble::text(format!("'{letter}' mixes capitals and small letters"))
                .why("capitals are holes, small letters are shafts")
                .cure(format!("write {} or {}", letter.to_uppercase(), letter.to_lowercase())));
        }
        let zone = Zone { hole, letter: letter.to_owned(), grade: 0 };
        if !letters().contains(&letter.to_lowercase().as_str()) {
            return Err(zone.unknown_letter());
        }
        let grade = grade.trim();
        if grade.is_empty() {
            return Err(Trouble::text(format!("'{letter}' has no grade")).cure(example));
        }
        let number = grade.strip_prefix("IT").unwrap_or(grade).parse::<u8>();
        let Ok(number) = number else {
            return Err(Trouble::text(format!("'{grade}' is not a grade")).cure(example));
        };
        let zone = Zone { grade: number, ..zone };
        if (FINEST..=COARSEST).contains(&number) { Ok(zone) } else { Err(zone.unknown_grade()) }
    }
    pub(super) fn unknown_letter(&self) -> Trouble {
        let list = letters().join(" ");
        let list = if self.hole { list.to_uppercase() } else { list };
        let what = if self.hole { "hole" } else { "shaft" };
        Trouble::text(format!("'{}' is no letter of a {what} tabled here", self.letter))
            .cure(format!("letters of a {what}: {list}"))
    }
    pub(super) fn unknown_grade(&self) -> Trouble {
        Trouble::text(format!("grade {} of '{self}' is not tabled", self.grade))
            .cure(format!("grades go from {FINEST} to {COARSEST}; 6 to 8 suit most turned parts"))
    }
}

/// What a text asks: a size and one or two zones.
#[derive(Clone, PartialEq, Debug)]
pub struct Asked {
    /// The size as written, for messages.
    pub size: String,
    /// The size that both parts are named by.
    pub nominal: Length,
    /// The hole's zone.
    pub hole: Option<Zone>,
    /// The shaft's zone.
    pub shaft: Option<Zone>,
}
impl Asked {
    /// The one zone that is asked.
    ///
    /// # Errors
    /// When a whole fit is asked.
    pub fn only(&self) -> Result<&Zone, Trouble> {
        match (&self.hole, &self.shaft) {
            (Some(zone), None) | (None, Some(zone)) => Ok(zone),
            _ => Err(Trouble::text("a fit is written where the limits of one part are wanted")
                .cure(format!("write one letter and grade: {} h6", self.size))),
        }
    }
}

/// Reads `8 H7/g6`, `8 h6`, `8 mm H7`, `ø8H7`, `1/4 in H7/g6`; a bare number is millimetres.
///
/// # Errors
/// When the size or a zone cannot be read, or two zones are not a hole and a shaft in this order.
pub fn read(written: &str) -> Result<Asked, Trouble> {
    let text = written.trim().trim_start_matches(['ø', 'Ø', '⌀', 'φ']).trim_start();
    let (size, zones) = split(text);
    if size.is_empty() {
        return Err(Trouble::text(format!("'{written}' begins with no size"))
            .cure(format!("write the size first: 8 {}", if zones.is_empty() { "H7/g6" } else { zones })));
    }
    if zones.is_empty() {
        return Err(Trouble::text(format!("'{written}' has no tolerance"))
            .cure(format!("write a hole and a shaft, {size} H7/g6, or one of them, {size} h6")));
    }
    let bare = size.ends_with(|c: char| c.is_ascii_digit() || c == '.');
    let with_unit = if bare { format!("{size} mm") } else { size.to_owned() };
    let nominal = text::read(&with_unit, Length::OF).map(Length::si).map_err(|fault| {
        let mut t = Trouble::text(format!("the size '{size}' cannot be read: {}", fault.says));
        t.cures = fault.cures;
        t
    })?;
    let mut asked = Asked { size: size.to_owned(), nominal, hole: None, shaft: None };
    let parts: Vec<&str> = zones.split(['/', '-']).collect();
    let in_order = format!("write the hole first, then the shaft: {size} H7/g6");
    match parts.as_slice() {
        [one] => {
            let zone = Zone::read(one)?;
            if zone.hole { asked.hole = Some(zone) } else { asked.shaft = Some(zone) }
        }
        [hole, shaft] => {
            let (hole, shaft) = (Zone::read(hole)?, Zone::read(shaft)?);
            if !hole.hole || shaft.hole {
                return Err(Trouble::text(format!("'{zones}' is not a hole and a shaft"))
                    .why("capitals are holes, small letters are shafts")
                    .cure(in_order));
            }
            (asked.hole, asked.shaft) = (Some(hole), Some(shaft));
        }
        _ => return Err(Trouble::text(format!("'{zones}' has more than two parts")).cure(in_order)),
    }
    Ok(asked)
}

/// The size with its unit, and what follows it.
fn split(text: &str) -> (&str, &str) {
    let number = text.find(|c: char| !(c.is_ascii_digit() || ".,/ ".contains(c))).unwrap_or(text.len());
    let after = &text[number..];
    let unit = ["mm", "cm", "inches", "inch", "in", "thou", "um", "µm", "\"", "″"]
        .into_iter()
        .find(|u| after.strip_prefix(u).is_some_and(|t| !t.starts_with(|c: char| c.is_alphanumeric())));
    let end = number + unit.map_or(0, str::len);
    (text[..end].trim(), text[end..].trim())
}
