//! A TOML text walked table by table; every trouble is told at its place.

use reckon::{Place, Trouble};
use std::cell::RefCell;
use std::ops::Range;
use std::sync::Arc;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A text that is being read.
pub(crate) struct Page<'a> {
    pub(crate) file: Arc<str>,
    pub(crate) text: &'a str,
    pub(crate) troubles: RefCell<Vec<Trouble>>,
}
impl Page<'_> {
    pub(crate) fn place(&self, span: Range<usize>) -> Place {
        Place::in_text(&self.file, self.text, span.start, span.end)
    }
    pub(crate) fn tell(&self, span: Range<usize>, says: String, cure: &str) {
        let trouble = Trouble::text(says).at(self.place(span)).cure(cure);
        self.troubles.borrow_mut().push(trouble);
    }
}
/// A table with the words that may stand in it.
pub(crate) struct Table<'p, 'a> {
    pub(crate) page: &'p Page<'a>,
    pub(crate) name: &'static str,
    pub(crate) span: Range<usize>,
    table: &'p DeTable<'a>,
}
/// A value and where it stands.
pub(crate) type Value<'p, 'a> = &'p Spanned<DeValue<'a>>;

impl<'p, 'a> Table<'p, 'a> {
    /// A table; words that are not known are told.
    pub(crate) fn new(
        page: &'p Page<'a>,
        name: &'static str,
        span: Range<usize>,
        table: &'p DeTable<'a>,
        known: &[&str],
    ) -> Self {
        for (key, _) in table {
            let word: &str = key.get_ref();
            if !known.contains(&word) {
                let near = reckon::trouble::nearest(word, known.iter().copied());
                let cure = match near.first() {
                    Some(near) => format!("did you mean '{near}'?"),
                    None => format!("known here: {}", known.join(", ")),
                };
                page.tell(key.span(), format!("unknown word '{word}' in {name}"), &cure);
            }
        }
        Self { page, name, span, table }
    }
    pub(crate) fn get(&self, key: &str) -> Option<Value<'p, 'a>> {
        self.table.get(key)
    }
    /// Tells that a key is missing.
    pub(crate) fn lacks(&self, key: &str, example: &str) {
        let span = self.span.clone();
        self.page.tell(
            span,
            format!("{} has no '{key}'", self.name),
            &format!("for example {key} = {example}"),
        );
    }
    fn wrong(&self, key: &str, v: Value<'p, 'a>, what: &str) {
        self.page.tell(v.span(), format!("'{key}' of {} is {what}", self.name), &format!("write {what}"));
    }
    pub(crate) fn number(&self, key: &str) -> Option<f64> {
        let v = self.get(key)?;
        let number = number(v);
        if number.is_none() {
            self.wrong(key, v, "a number");
        }
        number
    }
    /// A number above zero.
    pub(crate) fn size(&self, key: &str) -> Option<f64> {
        let v = self.get(key)?;
        let size = self.number(key)?;
        if size <= 0.0 {
            self.wrong(key, v, "a number above zero");
            return None;
        }
        Some(size)
    }
    /// A size that must be there.
    pub(crate) fn must(&self, key: &str, example: &str) -> Option<f64> {
        if self.get(key).is_none() {
            self.lacks(key, example);
        }
        self.size(key)
    }
    pub(crate) fn count(&self, key: &str) -> Option<u32> {
        let n = self.number(key)?;
        if !(0.0..=1.0e6).contains(&n) || n.fract() != 0.0 {
            self.wrong(key, self.get(key)?, "a whole number");
            return None;
        }
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "between 0 and a million"
        )]
        let n = n as u32;
        Some(n)
    }
    pub(crate) fn flag(&self, key: &str) -> Option<bool> {
        let v = self.get(key)?;
        match v.get_ref() {
            DeValue::Boolean(b) => Some(*b),
            _ => {
                self.wrong(key, v, "true or false");
                None
            }
        }
    }
    /// One of these words.
    pub(crate) fn word<T: Copy>(&self, key: &str, words: &[(&'static str, T)]) -> Option<T> {
        let v = self.get(key)?;
        let known: Vec<String> = words.iter().map(|(w, _)| format!("\"{w}\"")).collect();
        let found = match v.get_ref() {
            DeValue::String(s) => words.iter().find(|(w, _)| *w == &**s).map(|&(_, t)| t),
            _ => None,
        };
        if found.is_none() {
            self.wrong(key, v, &format!("one of {}", known.join(", ")));
        }
        found
    }
    pub(crate) fn list(&self, key: &str) -> Option<&'p [Spanned<DeValue<'a>>]> {
        let v = self.get(key)?;
        match v.get_ref() {
            DeValue::Array(all) => Some(all),
            _ => {
                self.wrong(key, v, "a list");
                None
            }
        }
    }
    pub(crate) fn texts(&self, key: &str) -> Option<Vec<(String, Range<usize>)>> {
        let all = self.list(key)?;
        Some(
            all.iter()
                .filter_map(|v| match v.get_ref() {
                    DeValue::String(s) => Some((s.to_string(), v.span())),
                    _ => {
                        self.wrong(key, v, "a list of texts");
                        None
                    }
                })
                .collect(),
        )
    }
    /// So many numbers.
    pub(crate) fn numbers<const N: usize>(&self, key: &str) -> Option<[f64; N]> {
        let v = self.get(key)?;
        let all = numbers(v);
        let fixed = all.and_then(|all| <[f64; N]>::try_from(all).ok());
        if fixed.is_none() {
            self.wrong(key, v, &format!("a list of {N} numbers"));
        }
        fixed
    }
    /// Two numbers, the lesser first.
    pub(crate) fn range(&self, key: &str) -> Option<(f64, f64)> {
        let [low, high] = self.numbers::<2>(key)?;
        if low >= high {
            self.wrong(key, self.get(key)?, "a list of 2 numbers, the lesser first");
            return None;
        }
        Some((low, high))
    }
    /// A table inside.
    pub(crate) fn table(&self, key: &str, name: &'static str, known: &[&str]) -> Option<Table<'p, 'a>> {
        let v = self.get(key)?;
        match v.get_ref() {
            DeValue::Table(t) => Some(Table::new(self.page, name, v.span(), t, known)),
            _ => {
                self.wrong(key, v, "a table");
                None
            }
        }
    }
    /// Tables inside, each under a head of its own.
    pub(crate) fn tables(&self, key: &str, name: &'static str, known: &[&str]) -> Vec<Table<'p, 'a>> {
        let Some(all) = self.list(key) else { return Vec::new() };
        let mut found = Vec::new();
        for v in all {
            match v.get_ref() {
                DeValue::Table(t) => found.push(Table::new(self.page, name, v.span(), t, known)),
                _ => self.wrong(key, v, "a list of tables"),
            }
        }
        found
    }
}
/// A number, whole or not.
pub(crate) fn number(v: &Spanned<DeValue<'_>>) -> Option<f64> {
    let text = match v.get_ref() {
        DeValue::Integer(i) => i.to_string(),
        DeValue::Float(f) => f.to_string(),
        _ => return None,
    };
    text.replace('_', "").parse::<f64>().ok().filter(|n| n.abs() <= 1.0e5)
}
/// A list of numbers.
pub(crate) fn numbers(v: &Spanned<DeValue<'_>>) -> Option<Vec<f64>> {
    match v.get_ref() {
        DeValue::Array(all) => all.iter().map(number).collect(),
        _ => None,
    }
}
