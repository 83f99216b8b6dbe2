//! How many are made: what the clock needs, and spares.

use movement::part::Part;
use reckon::{Book, Count, Source, Val, work};

/// One spare for every ten.
pub static SPARES: Source =
    Source::practice("one spare for every ten or part of ten, from the second of a kind on");

/// How many of a part.
#[derive(Copy, Clone, Debug)]
pub struct Batch {
    /// What the clock needs.
    pub needed: Val<Count>,
    /// Spares.
    pub spare: Val<Count>,
    /// Together.
    pub total: Val<Count>,
}
/// One in ten, rounded up; a single part gets none.
pub fn one_in_ten(n: Count) -> Count {
    if n.0 < 2 { Count(0) } else { Count((n.0 + 9) / 10) }
}
/// The batch of a part.
pub fn batch(part: &Part, book: &mut Book) -> Batch {
    let slug = part.slug();
    let needed = part.common.count;
    let spare = match part.common.spares {
        Some(s) => s,
        None => work!(book, format_args!("{slug}.spares"), |needed| one_in_ten(needed), &SPARES),
    };
    let total =
        work!(book, format_args!("{slug}.batch"), |needed, spare| needed + spare, &reckon::source::GEOMETRY);
    Batch { needed, spare, total }
}
