//! Which part is sawn from which sheet, over all parts: no two take the same piece.
//!
//! Blanks are laid by straight cuts from edge to edge, the largest first, each where it leaves the
//! narrowest strip. That is a good way, not the best there is: nothing here is proved.

use super::stock::said;
use movement::part::{Body, FlatBody, Part};
use reckon::{Book, Cell, Count, Length, Source};
use record::facts::{Shop, StockForm};
use std::collections::BTreeMap;

/// How blanks are laid on sheets.
pub static LAID: Source = Source::practice(
    "blanks sawn by cuts from edge to edge, largest first, each where the narrowest strip is left; not proved to be the best",
);
/// Left for saw and file all round a blank, millimetres.
pub const MARGIN: f64 = 2.0;
/// Width of a saw cut, millimetres.
const KERF: f64 = 1.0;

/// A blank on a sheet; millimetres from the sheet's corner.
#[derive(Clone, Debug)]
pub struct Laid {
    /// Index of the part.
    pub part: usize,
    /// Which of the sheets alike, from 1.
    pub piece: usize,
    /// Along the longer side of the sheet.
    pub x: f64,
    /// Along its shorter side.
    pub y: f64,
    /// Size along the longer side of the sheet.
    pub width: f64,
    /// Size along its shorter side.
    pub height: f64,
}
/// What every flat part is sawn from.
#[derive(Clone, Debug, Default)]
pub struct Share {
    /// Stock of each part that has found one, and whether it is thicker than drawn.
    taken: BTreeMap<usize, (usize, bool)>,
    /// What was found of each part on each sheet, in words.
    why: BTreeMap<(usize, usize), String>,
    /// Blanks on the sheets of each stock.
    laid: BTreeMap<usize, Vec<Laid>>,
    /// Plates that are drilled two and two.
    pairs: Vec<super::plate::pair::Pair>,
    /// What is left of the sheets of each stock: their size, thickness, and the rectangles still free.
    left: BTreeMap<usize, (f64, f64, f64, Vec<Free>)>,
}
/// A rectangle that is still free.
#[derive(Copy, Clone, Debug, PartialEq)]
struct Free {
    piece: usize,
    x: f64,
    y: f64,
    w: f64,
    h: f64,
}
/// A part that wants sheet.
struct Want {
    part: usize,
    many: i64,
    /// Longer and shorter side of the blank.
    sides: (f64, f64),
    /// Least and greatest thickness.
    thick: (f64, f64),
    material: &'static str,
}

impl Share {
    /// Shares the sheets of a shop out among its flat parts.
    #[must_use]
    pub fn out(shop: &Shop, parts: &[Part]) -> Share {
        let mut share = Share { pairs: super::plate::pair::pairs(parts), ..Share::default() };
        for (i, s) in shop.stock.iter().enumerate() {
            let StockForm::Sheet { length, width, thickness } = &s.form else { continue };
            let (l, w) = (length.bare().in_mm(), width.bare().in_mm());
            let pieces = usize::try_from(s.pieces.bare().0).unwrap_or(0).min(1000);
            let free = (0..pieces).map(|piece| Free { piece, x: 0.0, y: 0.0, w: l, h: w }).collect();
            share.left.insert(i, (l, w, thickness.bare().in_mm(), free));
        }
        share.lay_out(shop, 0, &parts.iter().collect::<Vec<_>>());
        share
    }
    /// Shares what is left out among more parts, the first of which has the index `from`.
    pub fn lay_out(&mut self, shop: &Shop, from: usize, parts: &[&Part]) {
        let mut wants: Vec<Want> = parts.iter().enumerate().filter_map(|(i, p)| want(from + i, p)).collect();
        let area = |w: &Want| w.sides.0 * w.sides.1;
        wants.sort_by(|a, b| area(b).total_cmp(&area(a)).then(a.part.cmp(&b.part)));
        let mut sheets = std::mem::take(&mut self.left);
        // Sheets of the right thickness first; what is left may be thinned.
        for thinned in [false, true] {
            for want in &wants {
                let mut among: Vec<usize> = sheets
                    .iter()
                    .filter(|(i, s)| {
                        let fits = s.2 > want.thick.1 + 1e-9;
                        shop.stock[**i].material.name == want.material
                            && s.2 >= want.thick.0 - 1e-9
                            && fits == thinned
                    })
                    .map(|(i, _)| *i)
                    .collect();
                among.sort_by(|a, b| sheets[a].2.total_cmp(&sheets[b].2).then(a.cmp(b)));
                for i in among {
                    let Some((l, w, _, free)) = sheets.get_mut(&i) else { continue };
                    self.try_on(want, i, (*l, *w), free, thinned);
                }
            }
        }
        self.left = sheets;
    }
    fn try_on(&mut self, want: &Want, stock: usize, (l, w): (f64, f64), free: &mut Vec<Free>, thinned: bool) {
        if self.taken.contains_key(&want.part) {
            let why = if thinned { "thicker: not needed" } else { "as good: not needed" };
            self.why.insert((want.part, stock), why.to_owned());
            return;
        }
        let (long, short) = want.sides;
        if long > l + 1e-9 || short > w + 1e-9 {
            self.why.insert((want.part, stock), lacking(want.sides, (l, w)));
            return;
        }
        let before = free.clone();
        let mut laid = Vec::new();
        for _ in 0..want.many {
            match lay(want, free) {
                Some(one) => laid.push(one),
                None => break,
            }
        }
        let got = i64::try_from(laid.len()).unwrap_or(0);
        if got < want.many {
            *free = before;
            let why = if want.many == 1 {
                "what other parts leave of it is too small".to_owned()
            } else {
                format!("beside the other parts it gives {got} of {}", want.many)
            };
            self.why.insert((want.part, stock), why);
            return;
        }
        self.taken.insert(want.part, (stock, thinned));
        let why = if thinned { "has to be thinned" } else { "right thickness" };
        self.why.insert((want.part, stock), why.to_owned());
        self.laid.entry(stock).or_default().extend(laid);
    }
    /// The pair that a plate is of.
    #[must_use]
    pub fn pair(&self, part: usize) -> Option<&super::plate::pair::Pair> {
        self.pairs.iter().find(|p| p.parts.0 == part || p.parts.1 == part)
    }
    /// The stock of a part, and whether it is thicker than drawn.
    #[must_use]
    pub fn of(&self, part: usize) -> Option<(usize, bool)> {
        self.taken.get(&part).copied()
    }
    /// What was found of a stock for a part.
    #[must_use]
    pub fn why(&self, part: usize, stock: usize) -> &str {
        self.why.get(&(part, stock)).map_or("too thin", String::as_str)
    }
    /// Blanks on the sheets of each stock.
    #[must_use]
    pub fn laid(&self) -> &BTreeMap<usize, Vec<Laid>> {
        &self.laid
    }
    /// Writes what is sawn from which sheet into the book.
    pub fn tell(&self, shop: &Shop, parts: &[&Part], book: &mut Book) {
        for (stock, laid) in &self.laid {
            let StockForm::Sheet { length, width, thickness } = &shop.stock[*stock].form else { continue };
            let rows = laid
                .iter()
                .map(|b| {
                    vec![
                        Cell::of(&Count(i64::try_from(b.piece + 1).unwrap_or(0))),
                        Cell::word(parts.get(b.part).map_or("", |p| p.common.name.as_str())),
                        Cell::of(&Length::mm(b.x)),
                        Cell::of(&Length::mm(b.y)),
                        Cell::of(&Length::mm(b.width)),
                        Cell::of(&Length::mm(b.height)),
                    ]
                })
                .collect();
            let what = format!(
                "{} {} × {} × {}",
                shop.stock[*stock].name,
                said(length.bare()),
                said(width.bare()),
                said(thickness.bare())
            );
            book.table(
                format_args!("cut_list.{}", stock + 1),
                &["sheet", "blank", "along", "across", "length", "width"],
                rows,
                format!("blanks on {what}, from the lower left corner; a saw cut of 1 mm between them"),
                vec![length.id(), width.id(), thickness.id()],
                &LAID,
            );
        }
    }
}
fn want(index: usize, part: &Part) -> Option<Want> {
    let Body::Flat(body) = &part.body else { return None };
    let needed = part.common.count.bare();
    let spare = part.common.spares.map_or(super::batch::one_in_ten(needed), |s| s.bare());
    let t = &body.thickness;
    Some(Want {
        part: index,
        many: (needed.0 + spare.0).clamp(0, 1000),
        sides: sides(body),
        thick: ((t.nominal.bare() + t.lower.bare()).in_mm(), (t.nominal.bare() + t.upper.bare()).in_mm()),
        material: part.common.material.name.as_str(),
    })
}
/// Longer and shorter side of a part's blank, saw allowance and all.
fn sides(body: &FlatBody) -> (f64, f64) {
    let (w, h) = (body.extent.0.bare().in_mm(), body.extent.1.bare().in_mm());
    (w.max(h) + 2.0 * MARGIN, w.min(h) + 2.0 * MARGIN)
}
/// By how much a sheet is too small.
fn lacking((long, short): (f64, f64), (l, w): (f64, f64)) -> String {
    let (which, by) = if short - w > long - l { ("narrow", short - w) } else { ("short", long - l) };
    let own = by - 2.0 * MARGIN;
    let mm = |x: f64| said(Length::mm(x));
    if own > 1e-9 {
        format!("too {which} by {}, and by {} with the saw allowance", mm(own), mm(by))
    } else {
        format!("too {which} for the saw allowance, by {}", mm(by))
    }
}
/// Lays one blank where it leaves the narrowest strip, and cuts what is free there in two.
fn lay(want: &Want, free: &mut Vec<Free>) -> Option<Laid> {
    let (long, short) = want.sides;
    let mut best: Option<(usize, f64, f64, (usize, f64))> = None;
    for (k, f) in free.iter().enumerate() {
        for (w, h) in [(long, short), (short, long)] {
            if w <= f.w + 1e-9 && h <= f.h + 1e-9 {
                // A sheet already begun is finished before the next is sawn.
                let rank = (f.piece, (f.w - w).min(f.h - h));
                if best.is_none_or(|(.., b)| rank.0 < b.0 || (rank.0 == b.0 && rank.1 < b.1)) {
                    best = Some((k, w, h, rank));
                }
            }
        }
    }
    let (k, w, h, _) = best?;
    let f = free.remove(k);
    let (right, above) = (f.w - w - KERF, f.h - h - KERF);
    // The longer of the two offcuts is left whole.
    let (right_h, above_w) = if right > above { (f.h, w) } else { (h, f.w) };
    for rest in [
        Free { x: f.x + w + KERF, w: right, h: right_h, ..f },
        Free { y: f.y + h + KERF, w: above_w, h: above, ..f },
    ] {
        if rest.w > 1.0 && rest.h > 1.0 {
            free.push(rest);
        }
    }
    Some(Laid { part: want.part, piece: f.piece, x: f.x, y: f.y, width: w, height: h })
}
