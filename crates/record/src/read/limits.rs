//! A size's text taken apart: the size itself, and the limits or the fit that follow it.

use std::ops::Range;

/// What follows a size.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) enum Tail {
    /// Nothing: general limits apply.
    None,
    /// Deviations as texts with their units: upper, lower.
    Band(String, String),
    /// A fit such as `h6`.
    Fit(String),
}

/// Splits `6.00 +0.00/-0.02 mm`, `6 ±0.02 mm`, `8 H7`, `8 mm h6`. The first text is the size with
/// its unit; the range is where it stands.
pub(crate) fn split(text: &str) -> (String, Range<usize>, Tail) {
    let trimmed = |from: usize, to: usize| {
        let part = &text[from..to];
        let start = from + part.len() - part.trim_start().len();
        start..start + part.trim().len()
    };
    if let Some((at, len)) = text.find('±').map(|i| (i, '±'.len_utf8())).or(text.find("+/-").map(|i| (i, 3)))
    {
        let (value, unit) = number_and_unit(&text[at + len..]);
        let tail = Tail::Band(with_unit(&value, &unit), with_unit(&format!("-{value}"), &unit));
        return (with_unit(&text[..at], &unit), trimmed(0, at), tail);
    }
    if let Some(slash) = text.rfind('/') {
        let left = text[..slash].trim_end();
        let from = left.rfind([' ', '\t']).map_or(0, |i| i + 1);
        // `6 +0.1 mm/-0.2 mm`: the unit stands on both sides.
        let from = if signed(&left[from..]) {
            from
        } else {
            left[..from].trim_end().rfind([' ', '\t']).map_or(0, |i| i + 1)
        };
        let (upper, upper_unit) = number_and_unit(&left[from..]);
        let (lower, unit) = number_and_unit(&text[slash + 1..]);
        let unit = if unit.is_empty() { upper_unit.clone() } else { unit };
        if signed(&upper) && signed(&lower) && !(upper == "0" && lower == "0") && from <= left.len() {
            let tail = Tail::Band(
                with_unit(&upper, if upper_unit.is_empty() { &unit } else { &upper_unit }),
                with_unit(&lower, &unit),
            );
            return (with_unit(&text[..from], &unit), trimmed(0, from), tail);
        }
    }
    if let Some((size, code)) = text.trim_end().rsplit_once([' ', '\t'])
        && is_fit(code)
        && size.trim_start().starts_with(|c: char| c.is_ascii_digit() || c == '.')
    {
        let plain = size.trim().bytes().all(|b| b.is_ascii_digit() || b == b'.');
        return (
            with_unit(size, if plain { "mm" } else { "" }),
            trimmed(0, size.len()),
            Tail::Fit(code.to_owned()),
        );
    }
    (text.to_owned(), 0..text.len(), Tail::None)
}
/// Deviations alone: `±0.1 mm` or `+0.1/0 mm`.
pub(crate) fn band(text: &str) -> Option<(String, String)> {
    match split(&format!(" {}", text.trim())) {
        (size, _, Tail::Band(upper, lower)) if !size.contains(|c: char| c.is_ascii_digit()) => {
            Some((upper, lower))
        }
        _ => None,
    }
}
fn signed(s: &str) -> bool {
    let number = |r: &str| r.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    s.strip_prefix(['+', '-', '−']).is_some_and(number)
        || (!s.is_empty() && s.bytes().all(|b| b == b'0' || b == b'.'))
}
fn is_fit(code: &str) -> bool {
    let letters = code.bytes().take_while(u8::is_ascii_alphabetic).count();
    (1..=2).contains(&letters)
        && code.len() > letters
        && code.len() <= letters + 2
        && code.bytes().skip(letters).all(|b| b.is_ascii_digit())
}
fn number_and_unit(text: &str) -> (String, String) {
    let text = text.trim();
    let end = text.find(|c: char| !(c.is_ascii_digit() || "+-−. ".contains(c))).unwrap_or(text.len());
    (text[..end].trim().to_owned(), text[end..].trim().to_owned())
}
/// A number with the unit that stood at the end of the line, unless it has its own.
fn with_unit(number: &str, unit: &str) -> String {
    let number = number.trim();
    let bare = number.bytes().all(|b| b.is_ascii_digit() || b"+-./ ".contains(&b)) || number.starts_with('−');
    if bare && !unit.is_empty() { format!("{number} {unit}") } else { number.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parts(text: &str) -> (String, Tail) {
        let (size, _, tail) = split(text);
        (size, tail)
    }
    fn limits(size: &str, upper: &str, lower: &str) -> (String, Tail) {
        (size.to_owned(), Tail::Band(upper.to_owned(), lower.to_owned()))
    }
    #[test]
    fn limits_and_fits_are_taken_apart() {
        assert_eq!(parts("6.00 +0.00/-0.02 mm"), limits("6.00 mm", "+0.00 mm", "-0.02 mm"));
        assert_eq!(parts("6 ±0.02 mm"), limits("6 mm", "0.02 mm", "-0.02 mm"));
        assert_eq!(parts("6 mm ±0.02 mm"), limits("6 mm", "0.02 mm", "-0.02 mm"));
        assert_eq!(parts("6 mm +/- 1 thou"), limits("6 mm", "1 thou", "-1 thou"));
        assert_eq!(parts("6 mm +0.1 mm/-0.2 mm"), limits("6 mm", "+0.1 mm", "-0.2 mm"));
        assert_eq!(parts("6 0/-0.02 mm"), limits("6 mm", "0 mm", "-0.02 mm"));
        assert_eq!(parts("1/4 +0/-0.002 in"), limits("1/4 in", "+0 in", "-0.002 in"));
        assert_eq!(parts("post.length +0.1/0 mm"), limits("post.length", "+0.1 mm", "0 mm"));
        assert_eq!(parts("8 h6"), ("8 mm".to_owned(), Tail::Fit("h6".to_owned())));
        assert_eq!(parts("8 mm H7"), ("8 mm".to_owned(), Tail::Fit("H7".to_owned())));
        assert_eq!(parts("1 3/8 in"), ("1 3/8 in".to_owned(), Tail::None));
        assert_eq!(parts("a.b / 2"), ("a.b / 2".to_owned(), Tail::None));
        assert_eq!(parts("post.length - 2 mm"), ("post.length - 2 mm".to_owned(), Tail::None));
        assert_eq!(parts(""), (String::new(), Tail::None));
        assert_eq!(band("±0.1 mm"), Some(("0.1 mm".to_owned(), "-0.1 mm".to_owned())));
        assert_eq!(band("+0.1/0 mm"), Some(("+0.1 mm".to_owned(), "0 mm".to_owned())));
        assert_eq!(band("0.1 mm"), None);
        assert_eq!(band("6 ±0.1 mm"), None);
    }
}
