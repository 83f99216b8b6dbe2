//! A length with the limits it may be made to: `6.00 +0.00/-0.02 mm`.

use super::{TextFault, read};
use crate::quantity::{Diameter, Length};
use crate::units::Dimension;
use std::ops::Range;

/// A length with the limits it may be made to.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Band {
    /// The size aimed at on paper.
    pub nominal: Length,
    /// Upper deviation from nominal.
    pub upper: Length,
    /// Lower deviation from nominal.
    pub lower: Length,
}
impl Band {
    /// Largest allowed.
    #[must_use]
    pub fn largest(&self) -> Length {
        self.nominal + self.upper
    }
    /// Smallest allowed.
    #[must_use]
    pub fn smallest(&self) -> Length {
        self.nominal + self.lower
    }
    /// Half-way between the limits: what to aim at when turning.
    #[must_use]
    pub fn middle(&self) -> Length {
        self.nominal + (self.upper + self.lower) / 2.0
    }
    /// Upper less lower.
    #[must_use]
    pub fn width(&self) -> Length {
        self.upper - self.lower
    }
    /// Largest and smallest as diameters.
    #[must_use]
    pub fn diameters(&self) -> (Diameter, Diameter) {
        (self.largest().as_diameter(), self.smallest().as_diameter())
    }
}

/// Reads `6.00 +0.00/-0.02 mm`, `6 ±0.02 mm`, `6 mm +0.03/+0.01` or `1/2 ±1/64 in`; `None` when the text
/// has no limits (a fit such as `8 H7/g6` has none).
///
/// # Errors
/// A [`TextFault`] when the limits cannot be read or stand the wrong way round.
pub fn read_limits(text: &str) -> Option<Result<Band, TextFault>> {
    let Parts { nominal, upper, lower, mirrored } = Parts::of(text)?;
    let whole = |at: &Range<usize>| number_and_unit(&text[at.clone()]);
    // Written once, the unit stands for all three; the last of them is the usual place.
    let shared = [&lower, &upper, &nominal].into_iter().map(|at| whole(at).1).find(|u| !u.is_empty());
    let get = |at: &Range<usize>, sign: &str| {
        let part = &text[at.clone()];
        let lead = at.start + part.len() - part.trim_start().len();
        let part = part.trim();
        let own = part.ends_with(|c: char| c.is_alphabetic() || "\"″".contains(c));
        let unit = shared.filter(|_| !own).unwrap_or("");
        let said = read(format!("{sign}{part} {unit}").trim_end(), Dimension::Length);
        said.map(Length::si).map_err(|mut fault| {
            let inside = |i: usize| lead + i.saturating_sub(sign.len()).min(part.len());
            fault.at = inside(fault.at.start)..inside(fault.at.end);
            fault
        })
    };
    Some((|| {
        let band = Band {
            nominal: get(&nominal, "")?,
            upper: get(&upper, "")?,
            lower: get(&lower, if mirrored { "-" } else { "" })?,
        };
        if band.upper < band.lower {
            return Err(TextFault::new(upper.start..lower.end, "the upper limit is below the lower one")
                .cure("write the larger deviation first: 6.00 +0.00/-0.02 mm"));
        }
        Ok(band)
    })())
}
/// Where size and deviations stand.
struct Parts {
    nominal: Range<usize>,
    upper: Range<usize>,
    lower: Range<usize>,
    /// Whether one text says both deviations.
    mirrored: bool,
}
impl Parts {
    fn of(text: &str) -> Option<Parts> {
        let both = ["±", "+/-", "+/−"].iter().find_map(|sign| Some((text.find(sign)?, sign.len())));
        if let Some((at, len)) = both {
            let value = at + len..text.len();
            return Some(Parts { nominal: 0..at, upper: value.clone(), lower: value, mirrored: true });
        }
        let slash = text
            .match_indices('/')
            .map(|(i, _)| i)
            .find(|i| signed(text[i + 1..].trim_start()))
            .or_else(|| text.rfind('/'))?;
        let left = text[..slash].trim_end();
        let low = text[slash + 1..].trim_start();
        let last = left.len() - left.rsplit(char::is_whitespace).next().map_or(0, str::len);
        let from = if nothing(&left[last..]) {
            last
        } else {
            left.rmatch_indices(['+', '-', '−']).map(|(i, _)| i).find(|i| signed(&left[*i..]))?
        };
        let up = &left[from..];
        let deviations = (signed(up) || nothing(up)) && (signed(low) || nothing(number_and_unit(low).0));
        if !deviations || !(signed(up) || signed(low)) || left[..from].trim().is_empty() {
            return None;
        }
        let to = from + left[from..].len();
        Some(Parts { nominal: 0..from, upper: from..to, lower: slash + 1..text.len(), mirrored: false })
    }
}
/// Whether a deviation with its sign stands here.
fn signed(text: &str) -> bool {
    let number = |rest: &str| rest.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    text.strip_prefix(['+', '-', '−']).is_some_and(number)
}
/// Whether this is a nought, which needs no sign.
fn nothing(text: &str) -> bool {
    text.contains('0') && text.bytes().all(|b| b == b'0' || b == b'.')
}
fn number_and_unit(text: &str) -> (&str, &str) {
    let text = text.trim();
    let figure = |c: char| c.is_ascii_digit() || c.is_whitespace() || "+-−.,/".contains(c);
    let end = text.find(|c: char| !figure(c)).unwrap_or(text.len());
    (text[..end].trim(), text[end..].trim())
}
