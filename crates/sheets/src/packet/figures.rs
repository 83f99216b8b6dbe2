//! Numbers of the book in the words of a sheet: what a page shows is written as the packet writes it.

use drafting::size::Text as SizeText;
use movement::part::{Figure, Sign};
use reckon::print::fixed;
use reckon::{Book, Id, Length, LengthStyle};

/// A value of the book as this project writes it: lengths in its units, all else as the book shows it.
#[must_use]
pub fn shown(book: &Book, id: Id, style: LengthStyle) -> String {
    let Some(line) = book.line(id) else { return String::new() };
    match (line.si, line.unit) {
        (Some(si), "m") => {
            let sign = if line.shown.starts_with('⌀') {
                "⌀"
            } else if line.shown.starts_with('R') {
                "R"
            } else {
                ""
            };
            format!("{sign}{}", length(Length::si(si), style))
        }
        (Some(si), "rad") => {
            format!("{}°", reckon::print::trimmed(&fixed(reckon::Angle::si(si).in_deg(), 2)))
        }
        _ => line.shown.clone(),
    }
}
/// The dotted name of a value without the part's own, to be asked why.
#[must_use]
pub fn tail(book: &Book, id: Option<Id>, slug: &str) -> String {
    let name = id.and_then(|id| book.line(id)).map_or("", |l| l.name.as_str());
    name.strip_prefix(slug).map_or(name, |rest| rest.trim_start_matches('.')).to_owned()
}
/// A length in the project's units, without a last zero that says nothing.
#[must_use]
pub fn length(l: Length, style: LengthStyle) -> String {
    match style {
        LengthStyle::Mm if l == Length::ZERO || l.in_mm().abs() >= 0.01 => {
            let text = fixed(l.in_mm(), 3);
            format!("{} mm", text.strip_suffix('0').unwrap_or(&text))
        }
        LengthStyle::Mm => reckon::Shown::shown(&l),
        other => other.text(l),
    }
}
/// A sentence of the plan, its lengths in the project's units.
#[must_use]
pub fn sentence(text: &str, style: LengthStyle) -> String {
    with_lengths(text, |number, mm| {
        // In millimetres only the book's third decimal needs a look; a collet's 8 mm stays as it is said.
        (style != LengthStyle::Mm || number.len() > 4).then(|| length(Length::mm(mm), style))
    })
}
/// A remark on a drawing, whose caption says the unit.
#[must_use]
pub fn remark(text: &str, style: LengthStyle) -> String {
    with_lengths(text, |number, mm| {
        Some(if style == LengthStyle::Mm { number.to_owned() } else { style.number(Length::mm(mm)) })
    })
}
/// Goes through the lengths in a text and puts in their place what is told of them.
fn with_lengths(text: &str, told: impl Fn(&str, f64) -> Option<String>) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(" mm") {
        let after = &rest[at + 3..];
        let begins = rest[..at]
            .rfind(|c: char| !(c.is_ascii_digit() || c == '.'))
            .map_or(0, |i| i + rest[i..].chars().next().map_or(1, char::len_utf8));
        let number = rest[begins..at].parse::<f64>();
        let whole_unit = !after.starts_with(['/', '²', '³']) && !after.starts_with(char::is_alphanumeric);
        match number.ok().filter(|_| whole_unit).and_then(|mm| told(&rest[begins..at], mm)) {
            Some(words) => {
                out += &rest[..begins];
                out += &words;
            }
            None => out += &rest[..at + 3],
        }
        rest = after;
    }
    out + rest
}
/// A time to the precision that a guess has.
#[must_use]
pub fn time(t: reckon::Time) -> String {
    let minutes = t.value() / 60.0;
    if minutes < 100.0 {
        format!("{} min", fixed(minutes, 0))
    } else {
        format!("{} h", fixed(minutes / 60.0, 1))
    }
}
/// Limits as largest and smallest, in the project's units.
#[must_use]
pub fn limits(largest: Length, smallest: Length, style: LengthStyle) -> String {
    let places = if style == LengthStyle::Mm { 3 } else { 4 };
    let number = |l: Length| match style {
        LengthStyle::Mm => fixed(l.in_mm(), places),
        LengthStyle::Thou => fixed(l.in_inch() * 1000.0, 1),
        _ => fixed(l.in_inch(), places),
    };
    format!("{} … {} {}", number(smallest), number(largest), style.unit())
}
/// A size as the drawing writes it: nominal with limits stacked, or ± where they are even.
#[must_use]
pub fn size_text(f: &Figure, style: LengthStyle) -> SizeText {
    let sign = match &f.sign {
        Sign::None => "",
        Sign::Diameter => "⌀",
        Sign::Radius => "R",
        Sign::Thread(name) => return SizeText::from(name.as_str()),
    };
    let (per, places) = match style {
        LengthStyle::Mm => (1e3, 2),
        LengthStyle::Thou => (1e6 / 25.4, 1),
        LengthStyle::Inch | LengthStyle::Fraction => (1e3 / 25.4, 4),
    };
    let exact = |l: Length| {
        // Two places of a millimetre unless a third says something.
        let text = fixed(l.value() * per, places);
        let more = fixed(l.value() * per, places + 1);
        if style != LengthStyle::Mm || more.ends_with('0') { text } else { more }
    };
    let nominal = format!("{sign}{}", exact(f.nominal));
    let Some((upper, lower)) = f.limits else { return SizeText::from(nominal.as_str()) };
    if (upper.value() + lower.value()).abs() < 1e-12 {
        return SizeText::from(format!("{nominal} ±{}", exact(upper)).as_str());
    }
    let signed = |l: Length| {
        let text = exact(l.abs());
        if l.value().abs() < 1e-12 {
            "0".to_owned()
        } else if l < Length::ZERO {
            format!("−{text}")
        } else {
            format!("+{text}")
        }
    };
    SizeText::limits(&nominal, &signed(upper), &signed(lower))
}
