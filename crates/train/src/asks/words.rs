//! What these questions read and write: pairs, exact numbers, the dividing head.

use crate::dividing::Head;
use crate::search::{counts_from, stages_from};
use reckon::exact::Fraction;
use reckon::{Book, Count, Given, Id, Ratio, Source, Time, Trouble, Val};

/// Pairs as wheel and pinion, first to last.
pub(super) fn pairs(g: &Given<'_>, name: &str) -> Result<Vec<(u32, u32)>, Trouble> {
    let stages = stages_from(&g.word(name)?).map_err(|e| g.trouble(name, e))?;
    Ok(stages.iter().map(|s| (s.wheel, s.pinion)).collect())
}
/// Product of wheels over product of pinions.
pub(super) fn product(g: &Given<'_>, name: &str, pairs: &[(u32, u32)]) -> Result<Fraction, Trouble> {
    let each = pairs.iter().map(|(w, p)| Fraction::new(i128::from(*w), i128::from(*p)));
    each.into_iter()
        .try_fold(Fraction::whole(1), |r, f| r.times(f?))
        .ok_or_else(|| g.trouble(name, "these counts are too long a fraction to be kept whole"))
}
/// A number, a fraction or both signs of them, exactly.
pub(super) fn exact(g: &Given<'_>, name: &str) -> Result<Fraction, Trouble> {
    let text = g.word(name)?;
    let read = |t: &str| Fraction::decimal(t.trim());
    let found = match text.split_once('/') {
        Some((n, d)) => read(n).and_then(|n| n.over(read(d)?)),
        None => read(&text),
    };
    found.ok_or_else(|| g.trouble(name, format!("'{text}' is neither a number nor a fraction such as 1/12")))
}
/// A time in seconds as the fraction that was written, entered into the book.
pub(super) fn seconds(g: &Given<'_>, book: &mut Book, name: &str) -> Result<(Fraction, Id), Trouble> {
    let v: Val<Time> = g.take(book, name)?;
    // The shortest decimal that is this number is the one that was written.
    let found = Fraction::decimal(&format!("{}", v.bare().value())).filter(|f| *f > Fraction::ZERO);
    match found {
        Some(f) => Ok((f, v.id())),
        None => Err(g.trouble(name, format!("'{name}' must be a time of more than nothing"))),
    }
}
/// A count of at least 1.
pub(super) fn some(g: &Given<'_>, book: &mut Book, name: &str) -> Result<Val<Count>, Trouble> {
    within(g, book, name, 1, i64::from(u32::MAX))
}
/// A count between two bounds.
pub(super) fn within(
    g: &Given<'_>,
    book: &mut Book,
    name: &str,
    low: i64,
    high: i64,
) -> Result<Val<Count>, Trouble> {
    let n = g.count(book, name)?;
    if (low..=high).contains(&n.bare().0) {
        Ok(n)
    } else {
        Err(g.trouble(name, format!("'{name}' must be a whole number from {low} to {high}")))
    }
}
/// A count that was read, as the kernel takes it.
pub(super) fn n(v: Val<Count>) -> u32 {
    u32::try_from(v.bare().0).unwrap_or(u32::MAX)
}
/// The head of a question.
pub(super) fn head(g: &Given<'_>, book: &mut Book) -> Result<(Head, Val<Count>), Trouble> {
    let ratio = within(g, book, "head", 0, 10_000)?;
    let list = |name: &str| match g.word_if(name) {
        Some(t) => counts_from(&t).map_err(|e| g.trouble(name, e)),
        None => Ok(Vec::new()),
    };
    Ok((Head { ratio: n(ratio), circles: list("circles")?, direct: list("direct")? }, ratio))
}
/// An answer that was worked exactly and rounded once.
pub(super) fn put<T: reckon::Shown>(
    book: &mut Book,
    name: &str,
    value: T,
    formula: impl Into<String>,
    inputs: &[Id],
    source: &'static Source,
) -> Val<T> {
    book.solved(name, value, (formula, 1, 0.0), inputs.to_vec(), source)
}
/// A fraction as a plain number.
pub(super) fn number(f: Fraction) -> Ratio {
    Ratio::si(f.to_f64())
}
/// Counts between commas.
pub(super) fn list(counts: &[u32]) -> String {
    if counts.is_empty() {
        return "none".to_owned();
    }
    counts.iter().map(u32::to_string).collect::<Vec<_>>().join(", ")
}
