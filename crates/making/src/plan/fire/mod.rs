//! Heat in a part's route: annealing, stress relief, hardening, tempering and blueing, from the part's own sections
//! and what the shop heats and quenches with.

pub mod blue;
pub mod body;
pub mod coupon;
pub mod harden;
pub mod means;
pub mod soften;
pub mod spared;
pub mod temper;
pub mod tool;
pub mod wanted;

use super::bench::found;
use super::{Caution, Figure, Operation, Spread};
use body::Felt;
use heat::steel::{self, Steel};
use movement::part::Part;
use reckon::{Book, Length, Val};
use record::facts::Shop;

pub use spared::{needs_temper, spared};

/// One colour of a strip.
#[derive(Clone, PartialEq, Debug)]
pub struct Patch {
    /// What it is called.
    pub name: String,
    /// When or where it comes: seconds, or degrees.
    pub at: String,
    /// Film, nanometres.
    pub film: f64,
    /// As a screen or printer shows it.
    pub rgb: [u8; 3],
    /// Whether what may be off still leads here.
    pub inside: bool,
    /// Whether it is the one aimed at.
    pub aim: bool,
}
/// What a heat sheet tells of a piece; pieces with the same `like` go on one sheet.
#[derive(Clone, Debug)]
pub struct Card {
    /// Word of the operation.
    pub word: &'static str,
    /// Head of the sheet.
    pub title: String,
    /// What makes pieces go together.
    pub like: String,
    /// The same for all of them: large numbers.
    pub large: Vec<Figure>,
    /// Of this piece.
    pub own: Vec<Figure>,
    /// Volume over skin, millimetres.
    pub lump: f64,
    /// Colours in their order.
    pub strip: Vec<Patch>,
    /// What the strip shows.
    pub strip_says: String,
    /// How, a sentence a line.
    pub lines: Vec<String>,
    /// What this piece needs besides.
    pub also: Vec<String>,
    /// What to write down.
    pub write: Vec<&'static str>,
}
/// What every heat has at hand.
pub(super) struct Work<'a> {
    does: &'a [&'static str],
    part: &'a Part,
    shop: &'a Shop,
    book: &'a mut Book,
    at: &'a str,
    felt: Felt,
}
impl Work<'_> {
    fn name(&self, tail: &str) -> String {
        format!("{}.{tail}", self.at)
    }
    fn has(&self, work: &str) -> bool {
        self.does.contains(&work)
    }
    /// Batch times shared by the pieces.
    fn shared(&self, s: Spread) -> Spread {
        let n = self.part.common.count.bare().n().max(1.0);
        Spread::minutes(s.least / n, s.likely / n, s.most / n)
    }
    /// The steel's figures, or a verdict that there are none and an operation that says so.
    fn steel(&mut self, word: &'static str) -> Result<&'static Steel, Box<Operation>> {
        let material = self.part.common.material;
        steel::find(&material.name).map_err(|t| Box::new(self.refused(word, &t.to_string())))
    }
    /// A verdict that fails for want of figures, and what stands in the route in its place.
    fn refused(&mut self, word: &'static str, why: &str) -> Operation {
        let material = &self.part.common.material.name;
        let says = format!("there are figures to {word} {material} by");
        let name = self.name("has_figures");
        let v = found(self.book, (name, &says), 0, "rows of the table of steels for this material");
        let why = why.lines().next().unwrap_or_default().trim().to_owned();
        self.book.cure(v.id(), why.clone());
        self.book.cure(v.id(), "silver steel, W1 or O1, for which figures are known; or the maker's own sheet, and a test piece first");
        let mut title = word.to_owned();
        title[..1].make_ascii_uppercase();
        Operation {
            title: format!("{title}: not planned"),
            lines: vec![format!("{why}.")],
            does: vec![word],
            time: self.shared(Spread::minutes(15.0, 25.0, 50.0)),
            ..Operation::default()
        }
    }
}
/// What the fire does to a part: its heats, each as an operation with what its sheet tells.
#[derive(Clone, Debug)]
pub struct Fired {
    /// Thickest section, as a rod.
    pub section: Val<Length>,
    /// Volume over skin.
    pub lump: Val<Length>,
    /// Words and operations.
    pub heats: Vec<(&'static str, Operation)>,
}
/// Words of heat that are planned here.
pub const HEATS: [&str; 5] = ["stress relieve", "anneal", "harden", "temper", "blue"];

/// Works out all heat of a part once, under `slug.heat`; `does` are the works of its finish. What the shop or the
/// steel cannot do becomes a verdict, and the operation is given all the same. A blue knows that a temper goes
/// before it. See also [`needs_temper`] and [`spared()`].
pub fn fired(does: &[&'static str], part: &Part, shop: &Shop, book: &mut Book) -> Option<Fired> {
    let words: Vec<&'static str> = HEATS.into_iter().filter(|h| does.contains(h)).collect();
    if words.is_empty() {
        return None;
    }
    let at = format!("{}.heat", part.slug());
    let felt = Felt::of(part, book, &at);
    let heats = words.into_iter().map(|word| {
        if part.common.material.beryllium {
            return (word, beryllium(word, part, book, &format!("{at}.{word}")));
        }
        let name = format!("{at}.{}", reckon::slug(word));
        let mut w = Work { does, part, shop, book: &mut *book, at: &name, felt };
        let made = match word {
            "harden" => harden::harden(&mut w),
            "temper" => temper::temper(&mut w),
            "blue" => blue::blue(&mut w),
            "anneal" => soften::anneal(&mut w),
            _ => soften::relieve(&mut w),
        };
        (word, made.unwrap_or_else(|refused| *refused))
    });
    let heats = heats.collect();
    Some(Fired { section: felt.thick, lump: felt.lump, heats })
}
/// The operation of one work of the fire.
#[must_use]
pub fn operation(does: &str, fired: Option<&Fired>, shop: &Shop) -> Operation {
    let heat = || fired?.heats.iter().find(|(w, _)| *w == does).map(|(_, op)| op.clone());
    let op = match does {
        "coat" => Some(harden::coat()),
        "clean" => Some(harden::clean()),
        "straighten" => Some(harden::straighten()),
        _ => heat(),
    };
    let mut op = op.unwrap_or_else(|| Operation {
        title: format!("{}: cannot be planned", super::sentence(does)),
        lines: vec!["No heat is planned for it: see the verdict on the cover, and what would do.".to_owned()],
        ..Operation::default()
    });
    if op.tool.is_none() {
        op.tool = Some(shop.fire.heat_with.clone().unwrap_or_else(|| "torch or oven".to_owned()));
    }
    op
}
fn beryllium(word: &str, part: &Part, book: &mut Book, at: &str) -> Operation {
    let says = format!("{} may be heated in this shop", part.common.material.name);
    let v = found(
        book,
        (format!("{at}.may_be_heated"), &says),
        0,
        "ways to heat beryllium copper without its dust and fume",
    );
    book.cure(v.id(), "have it heat treated by a licensed shop, or choose phosphor bronze");
    Operation {
        title: format!("No {word} here"),
        lines: vec!["Beryllium copper is not heated, ground or sanded in this shop.".to_owned()],
        cautions: vec![Caution::Beryllium],
        ..Operation::default()
    }
}
