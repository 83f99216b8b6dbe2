//! What every part of the movement shares: a name, limits by rule, a place in the text.

use crate::part::{Body, FlatBody, Part, PartKind, TurnedBody};
use reckon::source::{HOUSE, Source};
use reckon::{Book, Count, Diameter, Length, Place, Val, work};
use record::facts::{Common, Finish, Size};
use tables::material::Material;

/// One of each is made unless the movement has more.
pub static ONE: Source = Source::derived("the movement has as many of them as it is drawn with");
/// Limits of parts of the movement by their use.
pub static LIMITS: Source = Source::practice(
    "limits by use: blanks of wheels 0/-0.02 mm, pivots 0/-0.005, seats sliding, lengths between shoulders 0/-0.02",
);

/// What a part of the movement is called, where it is written, what it is made of.
pub(crate) struct About<'a> {
    /// Name on its sheet.
    pub(crate) name: String,
    /// Dotted prefix in the book.
    pub(crate) slug: String,
    /// Where what it follows from is written.
    pub(crate) at: &'a Place,
    /// Material.
    pub(crate) material: &'static Material,
    /// Heat and finish in order.
    pub(crate) finish: &'a [Finish],
    /// How many.
    pub(crate) count: i64,
    /// A remark for its sheet.
    pub(crate) note: Option<String>,
}
impl About<'_> {
    /// As every part has it.
    pub(crate) fn common(&self, book: &mut Book) -> Common {
        let count = book.solved(
            format_args!("{}.count", self.slug),
            Count(self.count),
            ("as many as the movement is drawn with", 1, 0.0),
            Vec::new(),
            &ONE,
        );
        let none = book.solved(
            format_args!("{}.spares", self.slug),
            Count(0),
            ("parts of the movement are made one by one", 1, 0.0),
            Vec::new(),
            &ONE,
        );
        Common {
            name: self.name.clone(),
            slug: self.slug.clone(),
            at: self.at.clone(),
            was: None,
            count,
            spares: Some(none),
            material: self.material,
            material_at: self.at.clone(),
            finish: self.finish.iter().map(|f| (*f, self.at.clone())).collect(),
            finish_written: false,
            hardness: None,
            otherwise: Vec::new(),
            note: self.note.clone(),
        }
    }
    /// As a turned part.
    pub(crate) fn turned(&self, word: &'static str, body: TurnedBody, book: &mut Book) -> Part {
        Part { kind: PartKind::Of(word), common: self.common(book), body: Body::Turned(Box::new(body)) }
    }
    /// As a flat part.
    pub(crate) fn flat(&self, word: &'static str, body: FlatBody, book: &mut Book) -> Part {
        Part { kind: PartKind::Of(word), common: self.common(book), body: Body::Flat(Box::new(body)) }
    }
}
/// A diameter with limits of its use, in millimetres from nominal.
pub(crate) fn sized(
    nominal: Val<Diameter>,
    name: &str,
    upper: f64,
    lower: f64,
    book: &mut Book,
) -> Size<Diameter> {
    let (upper, lower) = limits(name, upper, lower, book);
    Size { nominal, upper, lower }
}
/// A length with limits of its use, in millimetres from nominal.
pub(crate) fn long(
    nominal: Val<Length>,
    name: &str,
    upper: f64,
    lower: f64,
    book: &mut Book,
) -> Size<Length> {
    let (upper, lower) = limits(name, upper, lower, book);
    Size { nominal, upper, lower }
}
fn limits(name: &str, upper: f64, lower: f64, book: &mut Book) -> (Val<Length>, Val<Length>) {
    let mut one = |which: &str, mm: f64| {
        book.tabled(format_args!("{name}.{which}"), Length::mm(mm), "limits by use", &LIMITS)
    };
    (one("upper", upper), one("lower", lower))
}
/// A length that the house takes where nothing is written.
pub(crate) fn house(name: &str, mm: f64, why: &str, book: &mut Book) -> Val<Length> {
    book.assumed(name, Length::mm(mm), format!("house default: {why}"))
}
/// A diameter that the house takes where nothing is written.
pub(crate) fn house_across(name: &str, mm: f64, why: &str, book: &mut Book) -> Val<Diameter> {
    book.assumed(name, Diameter::mm(mm), format!("house default: {why}"))
}
/// A diameter seen as the width of the square round it.
pub(crate) fn across(d: Val<Diameter>, name: &str, book: &mut Book) -> Val<Length> {
    work!(book, name, |d| d.across(), &HOUSE)
}
/// Two lengths, across and up.
pub(crate) type Corner = (Val<Length>, Val<Length>);
/// The rectangle round a round blank, and its corner.
pub(crate) fn round_extent(d: Val<Diameter>, slug: &str, book: &mut Book) -> (Corner, Corner) {
    let width = across(d, &format!("{slug}.width"), book);
    let height = across(d, &format!("{slug}.height"), book);
    let x = work!(book, format_args!("{slug}.datum.x"), |d| -(d.across() / 2.0), &HOUSE);
    let y = work!(book, format_args!("{slug}.datum.y"), |d| -(d.across() / 2.0), &HOUSE);
    ((width, height), (x, y))
}
