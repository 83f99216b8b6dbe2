//! A jig put together from a few sizes: turned from bar, or cut from sheet.

use super::Drawing;
use movement::hardware;
use movement::part::{Part, PartKind};
use reckon::source::HOUSE;
use reckon::{Count, Diameter, Length, Trouble, Val};
use record::facts::{
    Bore, Common, End, Finish, FlatFacts, Hole, Section, Shop, Size, Slot, StockForm, Stretch, ThreadUse,
    TurnedFacts,
};
use std::sync::Arc;
use tables::material::Material;
use tables::thread::Thread;

/// The first of these materials of which the shop has a bar of at least this size; the first where it has none.
///
/// # Panics
/// When the tables lack the first of them: they are tables of ours.
#[must_use]
pub fn bar_of(shop: &Shop, among: &[&str], least: Diameter) -> &'static Material {
    let wide = |name: &str| {
        shop.stock.iter().find(|s| match &s.form {
            StockForm::Round { diameter, .. } => s.material.name == name && diameter.bare() >= least,
            _ => false,
        })
    };
    among.iter().find_map(|m| wide(m)).map_or_else(|| named(among[0]), |s| s.material)
}
/// The first of these materials of which the shop has a sheet at least this thick; the first where it has none.
#[must_use]
pub fn sheet_of(shop: &Shop, among: &[&str], least: Length) -> (&'static Material, Option<Val<Length>>) {
    for name in among {
        let thin = shop
            .stock
            .iter()
            .filter_map(|s| match &s.form {
                StockForm::Sheet { thickness, .. }
                    if s.material.name == *name && thickness.bare() >= least =>
                {
                    Some((s.material, *thickness))
                }
                _ => None,
            })
            .reduce(|x, y| if y.1.bare() < x.1.bare() { y } else { x });
        if let Some((m, t)) = thin {
            return (m, Some(t));
        }
    }
    (named(among[0]), None)
}
/// A material of the tables.
fn named(name: &str) -> &'static Material {
    tables::material::find(name).expect("the tables have the metals that jigs are made of")
}
/// The largest thread of the shop's dies that is thinner than this.
#[must_use]
pub fn die_under(shop: &Shop, most: Diameter) -> Option<Arc<Thread>> {
    let fits = shop.dies.iter().filter(|t| t.major < most);
    fits.max_by(|a, b| a.major.value().total_cmp(&b.major.value())).cloned()
}

impl Drawing<'_> {
    /// A house size of the jig.
    pub fn assumed<T: reckon::Shown>(&mut self, tail: &str, v: T, why: &str) -> Val<T> {
        let name = self.name(tail);
        self.book.assumed(name, v, why)
    }
    /// A size with limits of the house.
    pub fn limited<T: reckon::Shown>(
        &mut self,
        tail: &str,
        nominal: Val<T>,
        (upper, lower): (f64, f64),
    ) -> Size<T> {
        let why = "house default for a jig";
        Size {
            nominal,
            upper: self.assumed(&format!("{tail}.upper"), Length::mm(upper), why),
            lower: self.assumed(&format!("{tail}.lower"), Length::mm(lower), why),
        }
    }
    fn common(&mut self, name: &str, material: &'static Material, note: &str) -> Common {
        Common {
            name: name.to_owned(),
            slug: self.slug.clone(),
            at: self.at.clone(),
            was: None,
            count: self.assumed(
                "count",
                Count(self.pieces),
                "as many as are used at a time; they serve the whole batch",
            ),
            spares: Some(self.assumed("spares", Count(0), "a jig is made again when it is spoilt")),
            material,
            material_at: self.at.clone(),
            finish: Vec::new(),
            finish_written: true,
            hardness: None,
            otherwise: Vec::new(),
            note: Some(note.to_owned()),
        }
    }
}
/// A turned jig: sections from the first end on.
pub struct Turning<'a, 'b> {
    board: &'a mut Drawing<'b>,
    facts: TurnedFacts,
}
impl<'a, 'b> Turning<'a, 'b> {
    /// Begins one.
    pub fn new(
        board: &'a mut Drawing<'b>,
        name: &str,
        material: &'static Material,
        note: &str,
    ) -> Turning<'a, 'b> {
        let common = board.common(name, material, note);
        let facts = TurnedFacts {
            common,
            sections: Vec::new(),
            bores: Vec::new(),
            slot: None,
            face_grooves: Vec::new(),
            cross_holes: Vec::new(),
        };
        Turning { board, facts }
    }
    /// The drawing board, for sizes.
    pub fn board(&mut self) -> &mut Drawing<'b> {
        self.board
    }
    /// Heat or finish, and the hardness that it is drawn back to; nothing where the list is empty.
    pub fn finished(&mut self, finish: &[Finish], hardness: f64) {
        if finish.is_empty() {
            return;
        }
        let at = self.facts.common.at.clone();
        self.facts.common.finish = finish.iter().map(|f| (*f, at.clone())).collect();
        let hrc = self.board.assumed("hardness", reckon::Ratio::si(hardness), WEARS);
        self.facts.common.hardness = Some(hrc);
    }
    /// A cylinder.
    pub fn section(&mut self, length: Val<Length>, diameter: Size<Diameter>) {
        self.tapered(length, diameter, None);
    }
    /// A cylinder, or a taper to another diameter.
    pub fn tapered(&mut self, length: Val<Length>, diameter: Size<Diameter>, to: Option<Val<Diameter>>) {
        let at = self.facts.common.at.clone();
        let section =
            Section { length, diameter, to, arc: None, thread: None, knurl: None, chamfer: None, at };
        self.facts.sections.push(section);
    }
    /// A thread of its usual class.
    pub fn thread(&mut self, length: Val<Length>, thread: &Arc<Thread>) {
        let at = self.facts.common.at.clone();
        let n = self.facts.sections.len() + 1;
        let major = {
            let name = self.board.name(&format!("thread.{n}.major"));
            self.board.book.tabled(name, thread.major, thread.name.clone(), thread.source)
        };
        let diameter = self.board.limited(&format!("thread.{n}"), major, (0.0, -0.1));
        let of =
            ThreadUse { thread: Arc::clone(thread), class: thread.usual_class().to_owned(), at: at.clone() };
        let section = Section {
            length,
            diameter,
            to: None,
            arc: None,
            thread: Some(of),
            knurl: None,
            chamfer: None,
            at,
        };
        self.facts.sections.push(section);
    }
    /// A bore from the first end, or from the other; through where no depth is given.
    pub fn bore(&mut self, first: bool, diameter: Size<Diameter>, depth: Option<Val<Length>>) {
        let at = self.facts.common.at.clone();
        let from = if first { End::First } else { End::Other };
        self.facts.bores.push(Bore { from, diameter, depth, thread: None, at });
    }
    /// A hole tapped from the first end; through where no depth is given.
    pub fn tapped(&mut self, diameter: Size<Diameter>, thread: &Arc<Thread>, depth: Option<Val<Length>>) {
        let at = self.facts.common.at.clone();
        let of = ThreadUse { thread: Arc::clone(thread), class: String::new(), at: at.clone() };
        self.facts.bores.push(Bore { from: End::First, diameter, depth, thread: Some(of), at });
    }
    /// A hole across.
    pub fn across(&mut self, from_first: Val<Length>, diameter: Val<Diameter>) {
        let at = self.facts.common.at.clone();
        self.facts.cross_holes.push((from_first, diameter, at));
    }
    /// A slit across the other end.
    pub fn slit(&mut self, width: Val<Length>, depth: Val<Length>) {
        let at = self.facts.common.at.clone();
        self.facts.slot = Some(Slot { width, depth, at });
    }
    /// The part.
    pub fn part(self) -> (Part, Vec<Trouble>) {
        hardware::turned_part(PartKind::Of("jig"), &self.facts, self.board.book)
    }
}
/// A jig from sheet: a rectangle with holes, measured from its lower left corner.
pub struct Flat<'a, 'b> {
    board: &'a mut Drawing<'b>,
    facts: FlatFacts,
}
impl<'a, 'b> Flat<'a, 'b> {
    /// A rectangle.
    pub fn rectangle(
        board: &'a mut Drawing<'b>,
        name: &str,
        (material, note): (&'static Material, &str),
        (width, height, thickness): (Val<Length>, Val<Length>, Size<Length>),
    ) -> Flat<'a, 'b> {
        let common = board.common(name, material, note);
        let zero = board.assumed("corner", Length::ZERO, "measured from the lower left corner");
        let at = common.at.clone();
        let to = |x, y| Stretch { to: (x, y), arc: None, at: at.clone() };
        let outline = vec![to(width, zero), to(width, height), to(zero, height), to(zero, zero)];
        let facts = FlatFacts { common, thickness, start: (zero, zero), outline, holes: Vec::new() };
        Flat { board, facts }
    }
    /// The drawing board, for sizes.
    pub fn board(&mut self) -> &mut Drawing<'b> {
        self.board
    }
    /// Heat or finish, and the hardness that it is drawn back to.
    pub fn finished(&mut self, finish: &[Finish], hardness: f64) {
        let at = self.facts.common.at.clone();
        self.facts.common.finish = finish.iter().map(|f| (*f, at.clone())).collect();
        let hrc = self.board.assumed("hardness", reckon::Ratio::si(hardness), WEARS);
        self.facts.common.hardness = Some(hrc);
    }
    /// A hole.
    pub fn hole(&mut self, label: &str, centre: (Val<Length>, Val<Length>), diameter: Size<Diameter>) {
        self.hole_of(label, centre, diameter, None);
    }
    /// A hole, tapped where a thread is given.
    pub fn hole_of(
        &mut self,
        label: &str,
        centre: (Val<Length>, Val<Length>),
        diameter: Size<Diameter>,
        thread: Option<ThreadUse>,
    ) {
        let at = self.facts.common.at.clone();
        let label = label.to_owned();
        self.facts.holes.push(Hole { label, centre, diameter, thread, countersink: None, at });
    }
    /// Its holes.
    #[must_use]
    pub fn holes(&self) -> &[Hole] {
        &self.facts.holes
    }
    /// The part.
    pub fn part(self) -> (Part, Vec<Trouble>) {
        hardware::flat_part(PartKind::Of("jig"), &self.facts, self.board.book)
    }
}
/// Why a jig is hardened so far.
const WEARS: &str = "house default: HRC of a jig that wears";
/// Where house sizes of jigs come from.
pub static SIZES: &reckon::Source = &HOUSE;
