//! Heat in a part's route: what it is heated to, in what it is quenched, how hard it comes, what colour it takes,
//! and why not, where it cannot.

mod blue;
mod brass;
mod harden;
mod model;
mod temper;

pub use blue::Blued;
pub use harden::Hardened;
pub use model::Model;
pub use temper::Tempered;

use super::{Operation, Spread};
use heat::steel::Steel;
use heat::warm;
use movement::part::{Body, Part};
use reckon::{Book, Diameter, Length, Source, Val};
use record::facts::Shop;

/// How the lump of a part is had.
pub static LUMP: Source = Source::derived("volume over the area that takes the heat; bores and slots left out")
    .with_formula("V/A");

/// What the fire does to a part, for its card.
#[derive(Clone, Debug)]
pub struct Fired {
    /// Greatest section.
    pub section: Val<Length>,
    /// Volume over area.
    pub lump: Val<Length>,
    /// Hardening.
    pub hardened: Option<Hardened>,
    /// Tempering.
    pub tempered: Option<Tempered>,
    /// Blueing.
    pub blued: Option<Blued>,
    /// Softened or relieved of stress.
    pub softened: Option<brass::Softened>,
}
/// A part in front of the fire.
pub(super) struct Piece<'a> {
    part: &'a Part,
    shop: &'a Shop,
    slug: String,
    steel: Option<&'static Steel>,
    section: Val<Length>,
    least: f64,
    lump: Val<Length>,
    density: f64,
    model: Model,
}
impl Piece<'_> {
    fn name(&self, what: &str) -> String {
        format!("{}.heat.{what}", self.slug)
    }
}
/// Works out all heat of a part once; `does` are the works of its finish.
pub fn fired(does: &[&'static str], part: &Part, shop: &Shop, book: &mut Book) -> Option<Fired> {
    const HOT: [&str; 5] = ["harden", "temper", "blue", "anneal", "stress relieve"];
    if !does.iter().any(|d| HOT.contains(d)) {
        return None;
    }
    let slug = part.slug().to_owned();
    let (section, least, lump) = form(part, &slug, book);
    let piece = Piece {
        part,
        shop,
        steel: heat::steel::find(&part.common.material.name).ok(),
        section,
        least,
        lump,
        density: part.common.material.density.value.value(),
        model: Model::of(shop),
        slug,
    };
    let has = |w: &str| does.contains(&w);
    let hardened = has("harden").then(|| harden::harden(&piece, book)).flatten();
    let tempered = has("temper").then(|| temper::temper(&piece, book)).flatten();
    let blued = has("blue").then(|| blue::blue(&piece, tempered.as_ref(), has("harden"), book)).flatten();
    let soft = does.iter().find(|d| matches!(**d, "anneal" | "stress relieve"));
    let softened = soft.and_then(|d| brass::soften(&piece, d, book));
    Some(Fired { section, lump, hardened, tempered, blued, softened })
}
/// Greatest section, least section in millimetres, and lump.
fn form(part: &Part, slug: &str, book: &mut Book) -> (Val<Length>, f64, Val<Length>) {
    match &part.body {
        Body::Turned(b) => {
            let largest = b.largest;
            let section = reckon::work!(
                book,
                format!("{slug}.heat.section"),
                |largest| largest.across(),
                &reckon::source::GEOMETRY
            );
            let mm = |d: Diameter| d.in_mm();
            let steps: Vec<(f64, f64)> = b
                .steps
                .iter()
                .map(|s| ((s.to.bare() - s.from.bare()).in_mm(), mm(s.size.nominal.bare())))
                .filter(|(l, d)| *l > 0.0 && *d > 0.0)
                .collect();
            let lump = warm::stepped(&steps).map_or(largest.bare().in_mm() / 4.0, warm::Form::lump);
            let least = steps.iter().map(|(_, d)| *d).fold(f64::INFINITY, f64::min);
            let lump = solved_lump(book, slug, lump, vec![b.largest.id(), b.length.id()]);
            (section, least, lump)
        }
        Body::Flat(b) => {
            let t = b.thickness.nominal;
            let section =
                reckon::work!(book, format!("{slug}.heat.section"), |t| t, &reckon::source::GEOMETRY);
            let lump = solved_lump(book, slug, t.bare().in_mm() / 2.0, vec![t.id()]);
            (section, t.bare().in_mm(), lump)
        }
    }
}
fn solved_lump(book: &mut Book, slug: &str, mm: f64, inputs: Vec<reckon::Id>) -> Val<Length> {
    let how = ("volume of the steps over their faces", 1, 0.0);
    book.solved(format!("{slug}.heat.lump"), Length::mm(mm), how, inputs, &LUMP)
}
/// The operation of one work of the fire.
#[must_use]
pub fn operation(does: &str, fired: Option<&Fired>, shop: &Shop) -> Operation {
    let with = shop.fire.heat_with.clone().unwrap_or_else(|| "torch or oven".to_owned());
    let op = match (does, fired) {
        ("harden", Some(f)) => f.hardened.as_ref().map(|h| h.operation(f, shop)),
        ("temper", Some(f)) => f.tempered.as_ref().map(|t| t.operation(shop)),
        ("blue", Some(f)) => f.blued.as_ref().map(|b| b.operation(shop)),
        ("anneal" | "stress relieve", Some(f)) => f.softened.as_ref().map(|s| s.operation(does)),
        ("coat", _) => Some(harden::coat()),
        ("clean", _) => Some(harden::clean()),
        ("straighten", _) => Some(harden::straighten()),
        _ => None,
    };
    let mut op = op.unwrap_or_else(|| Operation {
        title: format!("{}: cannot be planned", super::sentence(does)),
        lines: vec!["No heat is planned for it: see the verdict on the cover, and what would do.".to_owned()],
        time: Spread::minutes(0.0, 0.0, 0.0),
        ..Operation::default()
    });
    if op.tool.is_none() {
        op.tool = Some(with);
    }
    op
}
