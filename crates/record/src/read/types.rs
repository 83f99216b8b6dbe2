//! Whether a value is of the type its key takes, and what to write where it is not.

use super::walk::{Item, Walk, kind_of};
use crate::spec::{Kind, Of};
use reckon::Trouble;
use std::ops::Range;
use toml::Spanned;
use toml::de::DeValue;

impl Walk<'_> {
    pub(super) fn not_a(&mut self, label: &str, text: &str, noun: &str, span: Range<usize>) {
        self.troubles.push(
            Trouble::text(format!("{label}: '{text}' is not {noun}"))
                .at(self.page.place(span))
                .cure("write its number"),
        );
    }
    /// The text of a single value, where its type is right.
    pub(super) fn text_of(
        &mut self,
        kind: &Kind,
        v: &Spanned<DeValue<'_>>,
        label: &str,
        key: &str,
        example: &str,
    ) -> Option<(String, Option<usize>)> {
        let span = v.span();
        let as_written = |s: &str| {
            let raw = self.page.text().get(span.start + 1..span.end.saturating_sub(1));
            (s.to_owned(), (raw == Some(s)).then_some(1))
        };
        let at = self.page.place(span.clone());
        let t = match (kind, v.get_ref()) {
            (Kind::Count(..), DeValue::Integer(i)) => return Some((i.as_str().to_owned(), Some(0))),
            (Kind::Count(..), DeValue::Float(f)) => {
                let t = Trouble::text(format!("{label} is a whole number, and {} stands here", f.as_str()));
                match whole_neighbours(f.as_str()) {
                    Some((low, high)) if low == high => t.cure(format!("write {low}")),
                    Some((low, high)) => t.cure(format!("did you mean {low} or {high}?")),
                    None => t.cure(format!("for example {key} = {example}")),
                }
            }
            (Kind::Count(..), DeValue::String(s)) => {
                let t = Trouble::text(format!("{label} is a whole number, and \"{s}\" is text"));
                match s.trim().parse::<i64>() {
                    Ok(n) => t.cure(format!("write {key} = {n} without quotes")),
                    Err(_) => t.cure(format!("for example {key} = {example}")),
                }
            }
            (Kind::Flag, DeValue::Boolean(b)) => return Some((b.to_string(), Some(0))),
            (Kind::Flag, DeValue::String(s)) if matches!(&**s, "yes" | "no" | "true" | "false") => {
                let word = if matches!(&**s, "yes" | "true") { "true" } else { "false" };
                Trouble::text(format!("{label} is true or false, and \"{s}\" is text"))
                    .cure(format!("write {key} = {word} without quotes"))
            }
            (Kind::Quantity(Of::Ratio, _), DeValue::Integer(i)) => {
                return Some((i.as_str().to_owned(), Some(0)));
            }
            (Kind::Quantity(Of::Ratio, _), DeValue::Float(f))
                if f.as_str().contains(|c: char| c.is_ascii_digit()) =>
            {
                return Some((f.as_str().to_owned(), Some(0)));
            }
            (Kind::Quantity(..) | Kind::Size(_) | Kind::Tool, DeValue::Integer(_) | DeValue::Float(_)) => {
                let of = kind_of(kind);
                let text = self.page.text().get(span).unwrap_or_default().trim();
                if text.bytes().any(|b| b.is_ascii_digit()) {
                    let t = Trouble::text(format!("{label}: {} needs a unit", of.noun()));
                    if text.contains(['e', 'E', 'x']) {
                        t.cure(format!("for example {key} = {example}"))
                    } else {
                        let cure = format!(
                            "write {key} = \"{text} {}\" if you meant {}",
                            of.unit(),
                            spelled(of.unit())
                        );
                        t.cure(cure)
                    }
                } else {
                    Trouble::text(format!("{label}: '{text}' is not {}", of.noun()))
                        .cure(format!("for example {key} = {example}"))
                }
            }
            (Kind::Band, DeValue::Integer(_) | DeValue::Float(_)) => {
                let text = self.page.text().get(span).unwrap_or_default().trim();
                Trouble::text(format!("{label}: limits need a unit and a sign"))
                    .cure(format!("write {key} = \"±{text} mm\""))
            }
            (
                Kind::Text | Kind::Thread | Kind::Material | Kind::Word(_),
                DeValue::Integer(_) | DeValue::Float(_) | DeValue::Datetime(_),
            ) => {
                let text = self.page.text().get(span).unwrap_or_default().trim();
                Trouble::text(format!("{label} is text, and text stands in quotes"))
                    .cure(format!("write {key} = \"{text}\""))
            }
            (Kind::Count(..) | Kind::Flag, _) => return self.wrong_kind(label, kind, v, key, example),
            (_, DeValue::String(s)) => {
                if !s.trim().is_empty() {
                    return Some(as_written(s));
                }
                Trouble::text(format!("{label}: nothing stands between the quotes"))
                    .cure(format!("for example {key} = {example}"))
            }
            _ => return self.wrong_kind(label, kind, v, key, example),
        };
        self.troubles.push(t.at(at));
        None
    }
    fn wrong_kind(
        &mut self,
        label: &str,
        kind: &Kind,
        v: &Spanned<DeValue<'_>>,
        key: &str,
        example: &str,
    ) -> Option<(String, Option<usize>)> {
        self.wrong(label, *kind, v, &format!("{key} = {example}"));
        None
    }
    pub(super) fn wrong(&mut self, label: &str, kind: Kind, v: &Spanned<DeValue<'_>>, example: &str) -> Item {
        let is = match v.get_ref() {
            DeValue::String(_) => "text",
            DeValue::Integer(_) | DeValue::Float(_) => "a number",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        };
        let wants = match kind {
            Kind::Table(_) => "a table".to_owned(),
            Kind::TableOrNone(_) => "a table or \"none\"".to_owned(),
            k if k.many() => "one table or several".to_owned(),
            k => k.noun(),
        };
        self.troubles.push(
            Trouble::text(format!("{label} is {wants}, and here stands {is}"))
                .at(self.page.place(v.span()))
                .cure(format!("for example {example}")),
        );
        Item::Bad
    }
}
fn spelled(unit: &str) -> &str {
    match unit {
        "mm" => "millimetres",
        "deg" => "degrees",
        "rpm" => "turns a minute",
        "mm/min" => "millimetres a minute",
        "degC" => "degrees Celsius",
        "N" => "newtons",
        "W" => "watts",
        "K" => "kelvins",
        "h" => "hours",
        "kg" => "kilograms",
        "N mm" => "newton millimetres",
        "N/mm2" => "newtons a square millimetre",
        "g/cm3" => "grams a cubic centimetre",
        other => other,
    }
}
/// The whole numbers on both sides of a decimal number.
fn whole_neighbours(text: &str) -> Option<(i64, i64)> {
    let (whole, part) = text.split_once('.')?;
    let low: i64 = whole.parse().ok()?;
    if !part.bytes().all(|b| b.is_ascii_digit()) || low < 0 || whole.starts_with('-') {
        return None;
    }
    Some(if part.bytes().all(|b| b == b'0') { (low, low) } else { (low, low.checked_add(1)?) })
}
