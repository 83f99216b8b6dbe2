//! The reader behind [`read`](super::read): sums of products of numbers with units, names and brackets.

use super::{Exact, Lookup, TextFault, clip, example};
use crate::exact::Fraction;
use crate::print::{fixed, trimmed};
use crate::trouble::nearest;
use crate::units::{Dimension, UNITS, Unit};
use std::ops::Range;

/// Brackets within brackets and signs before signs; deeper than anyone writes, and few enough for any stack.
const DEEPEST: usize = 40;
const BETWEEN: &str = "write + - * or / between them";

pub(super) struct Reader<'t, 'l, 'f> {
    text: &'t str,
    at: usize,
    want: Dimension,
    lookup: &'l mut Lookup<'f>,
    depth: usize,
    /// Where a number without a unit ended last: what follows it was meant as one.
    bare: usize,
}
impl<'t, 'l, 'f> Reader<'t, 'l, 'f> {
    pub(super) fn new(text: &'t str, want: Dimension, lookup: &'l mut Lookup<'f>) -> Reader<'t, 'l, 'f> {
        Reader { text, at: 0, want, lookup, depth: 0, bare: usize::MAX }
    }
    /// The whole text.
    pub(super) fn all(mut self) -> Result<Exact, TextFault> {
        self.spaces();
        if self.at == self.text.len() {
            return Err(self.missing(0..self.text.len()));
        }
        let value = self.sum()?;
        self.spaces();
        if self.at < self.text.len() { Err(self.leftover()) } else { Ok(value) }
    }
    fn rest(&self) -> &'t str {
        &self.text[self.at..]
    }
    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }
    /// Over the next character.
    fn step(&mut self) {
        self.at += self.peek().map_or(0, char::len_utf8);
    }
    fn spaces(&mut self) {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start().len();
    }
    fn missing(&self, at: Range<usize>) -> TextFault {
        TextFault::new(at, format!("{} is missing here", self.want.noun())).cure(example(self.want))
    }
    fn too_large(&self, from: usize) -> TextFault {
        TextFault::new(from..self.at, "this has more digits than any maker could measure")
            .cure("write at most 18 digits")
    }
    fn by_nothing(&self, from: usize, what: &str) -> TextFault {
        TextFault::new(from..self.at, format!("this {what} by nothing"))
            .cure("write a number other than 0 after the stroke")
    }
    fn scale(&self, from: usize) -> TextFault {
        TextFault::new(from..self.at, "temperatures on a scale cannot be reckoned with like this")
            .why("0 degC is not nothing")
            .cure("add a difference, written in K: 18 degC + 5 K")
    }
    fn sum(&mut self) -> Result<Exact, TextFault> {
        let from = self.at;
        let mut left = self.product()?;
        loop {
            self.spaces();
            let minus = match self.peek() {
                Some('+') => false,
                Some('-' | '−') => true,
                _ => return Ok(left),
            };
            self.step();
            let right = self.product()?;
            if left.powers != right.powers {
                let name = |e: Exact| e.noun().unwrap_or("a product");
                return Err(TextFault::new(
                    from..self.at,
                    format!(
                        "{} and {} cannot be {}",
                        name(left),
                        name(right),
                        if minus { "subtracted" } else { "added" }
                    ),
                )
                .cure("give both sides the same kind of unit"));
            }
            if right.on_scale && (minus || left.on_scale) {
                return Err(self.scale(from));
            }
            let value = if minus { left.value.minus(right.value) } else { left.value.plus(right.value) };
            left.value = value.ok_or_else(|| self.too_large(from))?;
            left.on_scale |= right.on_scale;
        }
    }
    fn product(&mut self) -> Result<Exact, TextFault> {
        let from = self.at;
        let mut left = self.factor()?;
        loop {
            self.spaces();
            let divide = match self.peek() {
                Some('*' | '×') => false,
                Some('/') => true,
                _ => return Ok(left),
            };
            self.step();
            let right = self.factor()?;
            if left.on_scale || right.on_scale {
                return Err(self.scale(from));
            }
            let value = if divide { left.value.over(right.value) } else { left.value.times(right.value) };
            left.value = value.ok_or_else(|| {
                if divide && right.value == Fraction::ZERO {
                    self.by_nothing(from, "divides")
                } else {
                    self.too_large(from)
                }
            })?;
            for (l, r) in left.powers.iter_mut().zip(right.powers) {
                let power = if divide { l.checked_sub(r) } else { l.checked_add(r) };
                *l = power.ok_or_else(|| {
                    TextFault::new(from..self.at, "units are multiplied here more often than means anything")
                        .cure(example(self.want))
                })?;
            }
        }
    }
    fn factor(&mut self) -> Result<Exact, TextFault> {
        self.spaces();
        if self.depth == DEEPEST {
            let here = self.at..self.at + self.peek().map_or(0, char::len_utf8);
            return Err(TextFault::new(
                here,
                format!("brackets and signs stand more than {DEEPEST} deep here"),
            )
            .cure("write it in simpler steps"));
        }
        self.depth += 1;
        let value = self.factor_here();
        self.depth -= 1;
        value
    }
    fn factor_here(&mut self) -> Result<Exact, TextFault> {
        let from = self.at;
        match self.peek() {
            Some('-' | '−') => {
                self.step();
                self.spaces();
                // The sign belongs to the number: -5 degC is five below nought, not less than no heat.
                if self.peek().is_some_and(|c| c.is_ascii_digit() || c == '.') {
                    return self.literal(true);
                }
                let e = self.factor()?;
                if e.on_scale {
                    return Err(self.scale(from));
                }
                Ok(Exact { value: Fraction::ZERO.minus(e.value).ok_or_else(|| self.too_large(from))?, ..e })
            }
            Some('+') => {
                self.step();
                self.factor()
            }
            Some('(') => {
                self.step();
                let e = self.sum()?;
                self.spaces();
                match self.peek() {
                    Some(')') => {
                        self.step();
                        Ok(e)
                    }
                    None => {
                        let open = from..self.text.len();
                        Err(TextFault::new(open, "a bracket is opened and not closed")
                            .cure("write ) where it ends"))
                    }
                    Some(_) => Err(self.leftover()),
                }
            }
            Some(c) if c.is_ascii_digit() || c == '.' => self.literal(false),
            Some(c) if c.is_alphabetic() => self.name(),
            Some(c) if "*/×)".contains(c) => {
                let here = from..from + c.len_utf8();
                Err(TextFault::new(here, format!("a value is missing before '{c}'")).cure(example(self.want)))
            }
            Some(_) => Err(self.leftover()),
            None => Err(self.missing(from..from)),
        }
    }
    fn name(&mut self) -> Result<Exact, TextFault> {
        let from = self.at;
        let rest = self.rest();
        let len = rest.find(|c: char| !(c.is_alphanumeric() || c == '_' || c == '.')).unwrap_or(rest.len());
        self.at += len;
        let name = &rest[..len];
        (self.lookup)(name).map_err(|mut fault| {
            let unit = UNITS.iter().any(|u| u.names.contains(&name));
            if unit && !fault.says.is_empty() {
                fault = TextFault::new(0..0, format!("the number before '{name}' is missing"))
                    .cure(example(self.want));
            }
            fault.at = from..self.at;
            fault
        })
    }
    /// A number with its unit, and what may follow it directly: `5°30'`, `1 h 30 min`.
    fn literal(&mut self, negative: bool) -> Result<Exact, TextFault> {
        let from = self.at;
        let mut total = Fraction::ZERO;
        let mut of: Option<Dimension> = None;
        let mut last_size: Option<Fraction> = None;
        let turned = |f: Fraction| if negative { Fraction::ZERO.minus(f) } else { Some(f) };
        loop {
            let start = self.at;
            let number = self.number()?;
            let after_number = self.at;
            self.spaces();
            // A double stroke is an inch, but after minutes of arc, or where an angle is due, a second.
            let minutes = last_size == Fraction::new(1, 60) && of == Some(Dimension::Angle);
            let seconds = minutes || (of.is_none() && self.want == Dimension::Angle);
            let unit = if seconds && self.rest().starts_with(['"', '″']) {
                self.step();
                Dimension::Angle.unit("arcsec")
            } else {
                self.unit(of)
            };
            let Some(unit) = unit else {
                if let Some(of) = of {
                    return Err(self.no_unit_after(start..after_number, of));
                }
                self.bare = after_number;
                // A mistyped unit is told of before the sum that it would not fit.
                if self.peek().is_some_and(|c| !"+-−*×/)".contains(c)) {
                    return Err(self.leftover());
                }
                self.at = after_number;
                let value = turned(number).ok_or_else(|| self.too_large(from))?;
                return Ok(Exact { value, powers: [0; 5], on_scale: false });
            };
            let part = turned(number).and_then(|n| unit.si(n)).ok_or_else(|| self.too_large(from))?;
            total = total.plus(part).ok_or_else(|| self.too_large(from))?;
            let size = unit.size();
            if let (Some(last), Some(now)) = (last_size, size)
                && now >= last
            {
                return Err(TextFault::new(start..self.at, "the smaller unit comes after the larger")
                    .cure("write the larger first, or + between them"));
            }
            of = Some(unit.of);
            last_size = size;
            let here = self.at;
            self.spaces();
            let more = matches!(unit.of, Dimension::Angle | Dimension::Time)
                && self.peek().is_some_and(|c| c.is_ascii_digit());
            if !more {
                self.at = here;
                return Ok(Exact { value: total, powers: unit.of.powers(), on_scale: unit.on_scale() });
            }
        }
    }
    /// What is wrong where a second number in one literal has no unit of the same kind: `1 h 30 m`.
    fn no_unit_after(&self, number: Range<usize>, of: Dimension) -> TextFault {
        let word = self.word();
        if word.starts_with(char::is_alphabetic) {
            let at = self.at..self.at + word.len();
            let fault = TextFault::new(at, format!("'{}' is not a unit of {}", clip(word), of.noun()));
            return fault.cure(nearest_unit(word, of));
        }
        let digits = &self.text[number.clone()];
        let fault = TextFault::new(number, "a number follows a number here").cure(BETWEEN);
        if of == self.want && word.is_empty() {
            return fault.cure(format!("or write the unit of {}: {}", clip(digits), of.units().join(", ")));
        }
        fault
    }
    /// `12`, `.5`, `1.25`, `1 3/8`, and `3/8` or `1-3/8` where a unit says that they are one number.
    fn number(&mut self) -> Result<Fraction, TextFault> {
        let from = self.at;
        if let Some((value, len)) = fraction(self.rest(), self.want) {
            self.at += len;
            return value.ok_or_else(|| self.by_nothing(from, "fraction divides"));
        }
        let rest = self.rest();
        let len = rest.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(rest.len());
        self.at += len;
        let (digits, after) = rest.split_at(len);
        let next = after.as_bytes();
        if next.first().is_some_and(|b| *b == b'e' || *b == b'E')
            && next.get(1).is_some_and(|b| b.is_ascii_digit() || *b == b'-' || *b == b'+')
        {
            let len = 2 + next[2..].iter().take_while(|b| b.is_ascii_digit()).count();
            return Err(TextFault::new(from..self.at + len, "a power of ten is not read here")
                .why("a size on a drawing is written out")
                .cure("write the number in full with a unit that suits it"));
        }
        if digits.matches('.').count() > 1 {
            return Err(TextFault::new(from..self.at, format!("'{}' has two decimal points", clip(digits)))
                .cure("leave one of them, and no points between thousands"));
        }
        if after.starts_with(',') && after[1..].starts_with(|c: char| c.is_ascii_digit()) {
            return Err(self.comma());
        }
        Fraction::decimal(digits).ok_or_else(|| {
            if digits == "." {
                TextFault::new(from..self.at, "a point alone is not a number").cure(example(self.want))
            } else {
                self.too_large(from)
            }
        })
    }
    /// The longest unit that stands here, of the dimension wanted where a spelling is shared.
    fn unit(&mut self, of: Option<Dimension>) -> Option<&'static Unit> {
        let rest = self.rest();
        let fits = |u: &&Unit| of.is_none_or(|d| d == u.of);
        // `1h30min`: where a time is due, the next number may follow without a space.
        let time = of.unwrap_or(self.want) == Dimension::Time;
        let glued = |u: &Unit, name: &str| {
            time && u.of == Dimension::Time
                && rest
                    .strip_prefix(name)
                    .is_some_and(|after| after.starts_with(|c: char| c.is_ascii_digit()))
        };
        let best = UNITS
            .iter()
            .filter(fits)
            .flat_map(|u| {
                u.names.iter().filter(|n| glued(u, n) || stands(rest, n)).map(move |n| (n.len(), u))
            })
            .max_by_key(|(len, u)| (*len, u.of == self.want))?;
        self.at += best.0;
        Some(best.1)
    }
    /// The word that stands here, as it would be a unit.
    fn word(&self) -> &'t str {
        let rest = self.rest();
        let end = rest.find(|c: char| !(c.is_alphanumeric() || "_/°%".contains(c))).unwrap_or(rest.len());
        &rest[..end]
    }
    /// What is wrong with text that follows a whole value.
    fn leftover(&self) -> TextFault {
        let rest = self.rest();
        let Some(c) = rest.chars().next() else { return self.missing(self.at..self.at) };
        let one = self.at..self.at + c.len_utf8();
        match c {
            ',' => return self.comma(),
            ')' => {
                return TextFault::new(one, "a bracket is closed that was not opened")
                    .cure("write ( where it begins, or leave ) out");
            }
            '±' => {
                return TextFault::new(one, "limits cannot be read here").cure("write the size alone");
            }
            '‐' | '‑' | '–' | '—' => {
                return TextFault::new(one, format!("'{c}' is a dash and not a minus")).cure("write -");
            }
            '÷' | '⁄' | '∕' => {
                return TextFault::new(one, format!("'{c}' cannot be read here")).cure("write /");
            }
            _ => {}
        }
        let before = self.text[..self.at].trim_end().len();
        if c.is_ascii_digit() || c == '.' {
            let len = rest.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(rest.len());
            let fault =
                TextFault::new(self.at..self.at + len, "a number follows a number here").cure(BETWEEN);
            return if before == self.bare {
                fault.cure("or leave out the space inside a long number")
            } else {
                fault
            };
        }
        if c.is_numeric() {
            return TextFault::new(one, format!("'{c}' cannot be read here"))
                .cure("write a fraction with a stroke: 1 1/2 in");
        }
        let word = self.word();
        if word.is_empty() {
            return TextFault::new(one, format!("'{c}' cannot be read here")).cure(example(self.want));
        }
        let at = self.at..self.at + word.len();
        if before != self.bare {
            return TextFault::new(
                at,
                format!("nothing stands between '{}' and what is before it", clip(word)),
            )
            .cure(BETWEEN);
        }
        let is_unit = UNITS.iter().any(|u| u.names.contains(&word));
        if is_unit && rest[word.len()..].starts_with('.') {
            return TextFault::new(at.start..at.end + 1, "a unit is written without a point")
                .cure(format!("write '{word}'"));
        }
        let fault = TextFault::new(at, format!("'{}' is not a unit", clip(word)));
        if word.eq_ignore_ascii_case("dp") && self.want == Dimension::Length {
            return self.diametral(fault);
        }
        fault.cure(nearest_unit(word, self.want))
    }
    /// `32 DP`: teeth to an inch of pitch diameter, which is no length; the module that it means.
    fn diametral(&self, fault: TextFault) -> TextFault {
        let digits = self.text[..self.at].trim();
        let module = Fraction::decimal(digits).and_then(|dp| Fraction::new(254, 10)?.over(dp));
        let Some(module) = module else {
            return fault
                .why("DP counts teeth to an inch of pitch diameter")
                .cure("write \"25.4/32 mm\" for 32 DP");
        };
        fault
            .why(format!(
                "{digits} DP, teeth to an inch of pitch diameter, is module {} mm and no other: do not mix it in a pair",
                trimmed(&fixed(module.to_f64(), 5))
            ))
            .cure(format!("write \"25.4/{digits} mm\""))
    }
    /// What is wrong with a comma that stands here, perhaps inside a number.
    fn comma(&self) -> TextFault {
        let at = self.at..self.at + 1;
        let figure = |c: char| c.is_ascii_digit() || c == '.' || c == ',';
        let start = self.text[..self.at].trim_end_matches(figure).len();
        let rest = self.rest();
        let end = self.at + rest.find(|c: char| !figure(c)).unwrap_or(rest.len());
        let number = &self.text[start..end];
        let (whole, part) = (&self.text[start..self.at], &self.text[at.end..end]);
        if whole.is_empty() || part.is_empty() {
            return TextFault::new(at, "a comma cannot be read here").cure(example(self.want));
        }
        // Short texts are shown mended as a whole, long ones by the number alone.
        let mended = |number: String| {
            let all = format!("{}{number}{}", &self.text[..start], &self.text[end..]);
            let all = all.trim();
            if all.chars().count() > super::LONGEST_SHOWN { clip(&number) } else { all.to_owned() }
        };
        let commas = number.matches(',').count();
        if commas == 1 && !number.contains('.') {
            let fault = TextFault::new(at, "a comma is not read as a decimal point")
                .cure(format!("use a dot: \"{}\"", mended(number.replace(',', "."))));
            return if part.len() == 3 && whole.len() <= 3 && !whole.starts_with('0') {
                fault.cure(format!("or leave the comma out: \"{}\"", mended(number.replace(',', ""))))
            } else {
                fault
            };
        }
        // Both signs, or several commas: the last sign is the decimal one unless it is a comma again.
        let last = number.rfind([',', '.']).unwrap_or(0);
        let several = &number[last..=last] == "," && commas > 1;
        let digits = |s: &str| s.replace([',', '.'], "");
        let plain = if several {
            digits(number)
        } else {
            format!("{}.{}", digits(&number[..last]), &number[last + 1..])
        };
        TextFault::new(at, "a number is written without commas")
            .cure(format!("write \"{}\"", mended(plain.trim_end_matches('.').to_owned())))
    }
}

/// Whether a unit of this name stands at the beginning of the text, and not a longer word.
fn stands(text: &str, name: &str) -> bool {
    !name.is_empty()
        && text.strip_prefix(name).is_some_and(|after| {
            let wordy = name.ends_with(char::is_alphanumeric);
            !(wordy && after.starts_with(|c: char| c.is_alphanumeric() || c == '_' || c == '.'))
        })
}
/// What to write in place of a word that is no unit: first thought of is the kind that is wanted.
fn nearest_unit(word: &str, want: Dimension) -> String {
    let wanted = UNITS.iter().filter(|u| u.of == want).flat_map(|u| u.names.iter().copied());
    let all = UNITS.iter().flat_map(|u| u.names.iter().copied());
    match nearest(word, wanted).first().or(nearest(word, all).first()) {
        Some(near) => format!("did you mean '{near}'?"),
        None => format!("units of {}: {}", want.noun(), want.units().join(", ")),
    }
}

/// `1 3/8`, and `3/8` or `1-3/8` where a unit follows that makes them one number: its value and how many
/// bytes it took. Elsewhere a stroke divides, so that `gap * 3/8` and `9-3/8` keep their usual meaning.
fn fraction(rest: &str, want: Dimension) -> Option<(Option<Fraction>, usize)> {
    let bytes = rest.as_bytes();
    let digits = |from: usize| bytes[from..].iter().take_while(|b| b.is_ascii_digit()).count();
    let int = |from: usize, len: usize| rest[from..from + len].parse::<i64>().ok();
    let unit_follows = |at: usize| {
        let after = rest[at..].trim_start();
        let due = matches!(want, Dimension::Angle | Dimension::Time | Dimension::Mass);
        let seconds = want == Dimension::Angle && after.starts_with(['"', '″']);
        let fits = |u: &&Unit| u.of == Dimension::Length || (due && u.of == want);
        seconds || UNITS.iter().filter(fits).flat_map(|u| u.names).any(|name| stands(after, name))
    };
    let simple = |from: usize| -> Option<(i64, i64, usize)> {
        let n = digits(from);
        if n == 0 || bytes.get(from + n) != Some(&b'/') {
            return None;
        }
        let d = digits(from + n + 1);
        let end = from + n + 1 + d;
        // `1 3/8.5` is no fraction of whole numbers.
        if d == 0 || bytes.get(end).is_some_and(|b| matches!(b, b'.' | b',' | b'/')) {
            return None;
        }
        Some((int(from, n)?, int(from + n + 1, d)?, end))
    };
    let value = |n: i64, d: i64| Fraction::new(i128::from(n), i128::from(d));
    if let Some((n, d, end)) = simple(0) {
        return unit_follows(end).then(|| (value(n, d), end));
    }
    // `25.4/32 mm`: a decimal over a whole number, where a unit makes them one.
    let decimal = rest.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(rest.len());
    if rest[..decimal].contains('.') && bytes.get(decimal) == Some(&b'/') {
        let d = digits(decimal + 1);
        let end = decimal + 1 + d;
        let goes_on = bytes.get(end).is_some_and(|b| matches!(b, b'.' | b',' | b'/'));
        if d > 0 && !goes_on && unit_follows(end) {
            let top = Fraction::decimal(&rest[..decimal])?;
            let below = Fraction::whole(int(decimal + 1, d)?);
            return Some((top.over(below), end));
        }
    }
    let whole = digits(0);
    let after = &rest[whole..];
    let gap = after.len() - after.trim_start().len();
    let dashed = gap == 0 && after.starts_with('-');
    if whole == 0 || !(dashed || gap > 0) {
        return None;
    }
    let (n, d, end) = simple(whole + if dashed { 1 } else { gap })?;
    if dashed && !unit_follows(end) {
        return None;
    }
    let whole = Fraction::whole(int(0, whole)?);
    Some((value(n, d).and_then(|f| whole.plus(f)), end))
}
