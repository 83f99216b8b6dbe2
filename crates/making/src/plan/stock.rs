//! Which bar, how much of it, and what is sawn from what.

use super::batch::Batch;
use super::bench::Bench;
use super::grip;
use crate::kernel::cut_list::{self, Bars};
use crate::kernel::stock::{self as kernel, Pitch};
use movement::part::Part;
use reckon::source::GEOMETRY;
use reckon::{Alternative, Book, Cell, Count, Diameter, Length, Source, Val, judge, work};
use record::facts::{CutterUse, Shop, StockForm};

/// Allowances on stock.
pub static ALLOWANCE: Source =
    Source::practice("bright bar cleans up with 0.2 mm off the diameter; first face 1 mm, each face 0.3 mm");
/// Sizes that round bar is sold in.
pub static SOLD: Source = Source::practice("round bar sizes that dealers keep");
/// Diameters of round bar to look for in a shop's list or a dealer's, millimetres.
const ROUNDS: [f64; 28] = [
    2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0, 22.0, 25.0,
    28.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0,
];

/// What a part is made from.
#[derive(Clone, Debug)]
pub struct StockChoice {
    /// In words.
    pub what: String,
    /// Index in the shop's stock; none: it has to be bought.
    pub index: Option<usize>,
    /// Bar for the whole batch.
    pub need: Val<Length>,
    /// Lengths it is taken in: parts and length.
    pub sticks: Vec<(i64, Length)>,
    /// Remarks.
    pub lines: Vec<String>,
    /// What a bar adds; none for sheet.
    pub bar: Option<BarFacts>,
}
/// A bar, and what each part takes of it.
#[derive(Clone, Debug)]
pub struct BarFacts {
    /// Size of the bar across.
    pub size: Val<Diameter>,
    /// Whether the largest diameter is left as the bar is.
    pub as_bar: bool,
    /// Whether the bar passes through the spindle.
    pub passes: bool,
    /// Width of the parting cut.
    pub kerf: Val<Length>,
    /// Left on each part's far face.
    pub facing: Val<Length>,
    /// Taken off the bar's end once.
    pub first_face: Val<Length>,
    /// Cannot be used: gripped, and clear of the jaws.
    pub stub: Val<Length>,
    /// Left on each part's front.
    pub front: Val<Length>,
    /// From one part to the next.
    pub pitch: Val<Length>,
    /// Whether it is longer than goes between centres: each end is worked close to the jaws, the rest in the spindle.
    pub through: bool,
    /// Length of the bar on the shelf.
    pub whole: Option<Val<Length>>,
}
/// Something to buy.
#[derive(Clone, Debug)]
pub struct Buy {
    /// What.
    pub what: String,
    /// How much.
    pub amount: String,
    /// For which parts.
    pub parts: Vec<String>,
}
/// What is sawn from one bar.
#[derive(Clone, Debug)]
pub struct SawnBar {
    /// The bar.
    pub bar: String,
    /// Pieces in order: for which part, length.
    pub pieces: Vec<(String, Length)>,
    /// Left over.
    pub left: Length,
}
/// The cut list.
#[derive(Clone, Debug, Default)]
pub struct CutList {
    /// Bars.
    pub bars: Vec<SawnBar>,
    /// Whether no other arrangement opens less bar.
    pub proved: bool,
}

/// Chooses the bar for a turned part.
pub fn choose(b: &mut Bench<'_>, batch: &Batch) -> StockChoice {
    let largest = b.body.largest;
    let cleaning =
        b.assumed("stock.cleaning", Length::mm(0.2), "house default: what bright bar needs to clean up");
    let wanted = work!(b.book, b.name("stock.wanted"), |largest, cleaning| largest + cleaning, &ALLOWANCE);
    let facing = b.assumed("stock.facing", Length::mm(0.3), "house default: left on the far face");
    let front = b.assumed(
        "stock.front",
        Length::mm(0.2),
        "house default: left on the front, which the parting tool leaves rough",
    );
    let first_face =
        b.assumed("stock.first_face", Length::mm(1.0), "house default: to square the end of the bar");
    let limits = largest_limits(b);
    let fits = |d: Diameter| d >= wanted.bare() || (d <= limits.0 && d >= limits.1);
    let mut among = Vec::new();
    let mut best: Option<(usize, Val<Diameter>, Val<Length>)> = None;
    for (i, s) in b.shop.stock.iter().enumerate() {
        let StockForm::Round { diameter, length } = &s.form else { continue };
        if s.material.name != b.part.common.material.name {
            continue;
        }
        let why = if fits(diameter.bare()) {
            let smaller = best.as_ref().is_none_or(|(_, d, _)| diameter.bare() < d.bare());
            if smaller {
                best = Some((i, *diameter, *length));
            }
            "large enough".to_owned()
        } else {
            format!("{} is needed", reckon::Shown::shown(&wanted.bare()))
        };
        among.push((i, format!("{} {}", s.name, diameter.shown()), why));
    }
    let (index, size, bar_length) = match best {
        Some((i, d, l)) => {
            let among =
                among.into_iter().map(|(k, what, why)| Alternative { what, taken: k == i, why }).collect();
            let name = b.name("stock.size");
            let size = b.book.chosen(
                name,
                d.bare(),
                "smallest bar of the material that cleans up, or that is the size itself",
                among,
                vec![wanted.id(), d.id()],
                &ALLOWANCE,
            );
            (Some(i), size, Some(l))
        }
        None => {
            let sold = ROUNDS.iter().map(|d| Diameter::mm(*d)).find(|d| fits(*d)).unwrap_or(wanted.bare());
            let among =
                among.into_iter().map(|(_, what, why)| Alternative { what, taken: false, why }).collect();
            let name = b.name("stock.size");
            let size = b.book.chosen(
                name,
                sold,
                "none in the shop: the next size that is sold",
                among,
                vec![wanted.id()],
                &SOLD,
            );
            (None, size, None)
        }
    };
    let as_bar = size.bare() < wanted.bare();
    if b.book.knows(&b.name("stock.size")) && !fits(size.bare()) {
        undersize(b, size, wanted, limits.0);
    }
    let material = b.part.common.material.name.as_str();
    let what = match index {
        Some(i) => format!("{} round {}", b.shop.stock[i].name, plain(size.bare())),
        None => format!("{material} round {} (to buy)", plain(size.bare())),
    };
    let kerf = kerf(b, size);
    let bore = b.lathe.spindle_bore;
    let passes = work!(b.book, b.name("stock.passes_spindle"), |size, bore| size <= bore, &GEOMETRY);
    let through = super::fits::long::through(b, size, as_bar);
    let stub = if through {
        b.assumed("stock.stub", Length::ZERO, "it is gripped on its own length: nothing is left in the jaws")
    } else {
        let grip = grip::bar_grip_length(b, size);
        let clear = b.assumed("stock.clear", Length::mm(2.0), "house default: clear of the jaws");
        work!(b.book, b.name("stock.stub"), |grip, clear| grip + clear, &ALLOWANCE)
    };
    let part = b.body.length;
    let pitch = work!(
        b.book,
        b.name("stock.pitch"),
        |part, facing, front, kerf| Pitch { part, facing: facing + front, kerf }.whole(),
        &kernel::YIELD
    );
    let mut lines = Vec::new();
    if size.bare().value() > wanted.bare().value() * 1.5
        && let Some(nearer) = ROUNDS.iter().map(|d| Diameter::mm(*d)).find(|d| fits(*d))
    {
        lines.push(format!("Much of this bar is turned to chips: one of {} would do.", plain(nearer)));
    }
    if as_bar {
        lines.push("The largest diameter is the bar's own: measure the bar before it is cut.".to_owned());
    }
    let sticks = sticks(b, batch, bar_length, (stub, first_face, pitch), passes.bare(), &mut lines);
    let need = b.book.solved(
        b.name("stock.need"),
        sticks.iter().map(|(_, l)| *l).sum(),
        ("sum of the lengths that the cut list takes", 1, 0.0),
        vec![batch.total.id(), stub.id(), first_face.id(), pitch.id()],
        &kernel::YIELD,
    );
    let bar = BarFacts {
        size,
        as_bar,
        passes: passes.bare(),
        kerf,
        facing,
        first_face,
        front,
        stub,
        pitch,
        through,
        whole: bar_length,
    };
    StockChoice { what, index, need, sticks, lines, bar: Some(bar) }
}
/// A bar that was measured and is smaller than the part needs: what could be done, cheapest first.
fn undersize(b: &mut Bench<'_>, size: Val<Diameter>, wanted: Val<Diameter>, most: Diameter) {
    let verdict = judge!(
        b.book,
        b.name("stock.meets.cleans_up"),
        "the bar as it is cleans up to the largest diameter".to_owned(),
        |size, wanted| size >= wanted,
        &ALLOWANCE
    );
    let largest = b.body.largest.bare();
    let over = (size.bare().value() - largest.value()) / 2.0;
    let mut ladder = Vec::new();
    if over > 0.0 {
        ladder.push(format!(
            "set it running true to {} in the four-jaw chuck or between centres: so much there is to clean on every side",
            reckon::Shown::shown(&Length::si(over))
        ));
    }
    let material = b.part.common.material.name.as_str();
    for s in b.shop.stock.iter().filter(|s| s.material.name == material) {
        if let StockForm::Round { diameter, .. } = &s.form
            && diameter.bare() >= wanted.bare()
            && (diameter.bare().value() - b.book.wanted(size.id()).unwrap_or(0.0)).abs() > 1e-9
        {
            ladder.push(format!("take the bar of {} that the shop has", plain(diameter.bare())));
        }
    }
    if over <= 0.0 {
        let (slug, short) = (b.part.slug(), Length::si(-over * 2.0));
        ladder.push(format!(
            "leave the largest diameter at the bar's own {}, {} under size, where it may be: enter it as {slug}'s and say why with --concession",
            plain(size.bare()),
            reckon::Shown::shown(&short)
        ));
    }
    let most = if most == Diameter::ZERO { wanted.bare() } else { most.max(wanted.bare()) };
    let sold = ROUNDS.iter().map(|d| Diameter::mm(*d)).find(|d| *d >= most).unwrap_or(most);
    ladder.push(format!("a bar of {} to buy", plain(sold)));
    for c in ladder {
        b.book.cure(verdict.id(), c);
    }
}
/// A diameter as it is said at a dealer's.
pub fn plain(d: Diameter) -> String {
    format!("{} mm", reckon::print::trimmed(&reckon::print::fixed(d.in_mm(), 3)))
}
/// A length as it is said at a dealer's.
pub fn said(l: Length) -> String {
    plain(l.as_diameter())
}
/// Largest and smallest that the largest diameter of the part may be.
fn largest_limits(b: &Bench<'_>) -> (Diameter, Diameter) {
    let most = b
        .body
        .steps
        .iter()
        .max_by(|x, y| x.size.nominal.bare().value().total_cmp(&y.size.nominal.bare().value()));
    most.filter(|s| s.thread.is_none() && s.knurl.is_none() && s.end.is_none() && b.body.flats.is_none())
        .map_or((Diameter::ZERO, Diameter::si(f64::MAX)), |s| {
            (s.size.nominal.bare() + s.size.upper.bare(), s.size.nominal.bare() + s.size.lower.bare())
        })
}
/// Width of the parting tool that reaches through the bar, or of a saw cut.
fn kerf(b: &mut Bench<'_>, size: Val<Diameter>) -> Val<Length> {
    let reaches = |c: &&record::facts::Cutter| {
        c.of == CutterUse::Parting && c.made && c.reach.is_none_or(|r| r.bare() > size.bare().radius().out())
    };
    match b.shop.cutters.iter().find(reaches).and_then(|c| c.size) {
        Some(width) => work!(b.book, b.name("stock.kerf"), |width| width, &GEOMETRY),
        None => b.assumed(
            "stock.kerf",
            Length::mm(1.5),
            "house default: no parting tool of the shop reaches through, so a saw cut",
        ),
    }
}
/// How a batch is shared over bars: as many parts a stick as a bar yields.
fn sticks(
    b: &mut Bench<'_>,
    batch: &Batch,
    bar: Option<Val<Length>>,
    (stub, first_face, pitch): (Val<Length>, Val<Length>, Val<Length>),
    passes: bool,
    lines: &mut Vec<String>,
) -> Vec<(i64, Length)> {
    let total = batch.total.bare().0.max(0);
    let most_of = |bar: Length| {
        let free = kernel::micrometres(bar)
            - kernel::micrometres(stub.bare())
            - kernel::micrometres(first_face.bare());
        let each = kernel::micrometres(pitch.bare()).max(1);
        free.max(0) / each
    };
    let per_bar = match bar {
        Some(bar) => {
            let each = work!(
                b.book,
                b.name("stock.parts_a_bar"),
                |bar, stub, first_face, pitch| Count(
                    (kernel::micrometres(bar) - kernel::micrometres(stub) - kernel::micrometres(first_face))
                        .max(0)
                        / kernel::micrometres(pitch).max(1)
                ),
                &kernel::YIELD
            );
            let enough = judge!(
                b.book,
                b.name("stock.long_enough"),
                "the bar is long enough for a part, its grip and its facing",
                |each| each >= Count(1),
                &kernel::YIELD
            );
            if !enough.bare() {
                let missing = stub.bare() + first_face.bare() + pitch.bare() - bar.bare();
                b.book.cure(enough.id(), format!("a bar longer by {}", reckon::Shown::shown(&missing)));
                if stub.bare() > Length::ZERO {
                    b.book.cure(enough.id(), "hold it by a stub stuck or soldered on, cut off at the end");
                } else {
                    b.book.cure(
                        enough.id(),
                        "from two lengths, joined by a screwed or pinned spigot where it is not seen",
                    );
                }
            }
            each.bare().0
        }
        None => most_of(Length::mm(1000.0)),
    };
    // A bar that does not pass the spindle has to stand out of the chuck: short lengths are sawn for it.
    let per_stick = if passes { per_bar } else { per_bar.min(b.stick_without_spindle(pitch.bare())) };
    if !passes {
        lines.push(format!(
            "The bar does not pass the spindle: saw it into lengths for {per_stick} at a time, so that no more stands out than is stiff."
        ));
    }
    let per_stick = per_stick.max(1);
    let mut left = total;
    let mut out = Vec::new();
    while left > 0 {
        let n = left.min(per_stick);
        out.push((n, stub.bare() + first_face.bare() + pitch.bare() * Count(n)));
        left -= n;
    }
    out
}
impl Bench<'_> {
    /// How many parts may stand out of the chuck at once when the bar cannot be drawn back: three diameters.
    fn stick_without_spindle(&self, pitch: Length) -> i64 {
        let out = self.body.largest.bare().across() * 3.0;
        let n = kernel::micrometres(out) / kernel::micrometres(pitch).max(1);
        n.max(1)
    }
}

/// What is sawn from what, over all parts, and what has to be bought.
pub fn cut_list(
    shop: &Shop,
    parts: &[&Part],
    plans: &[&super::PartPlan],
    book: &mut Book,
) -> (CutList, Vec<Buy>) {
    let mut list = CutList { bars: Vec::new(), proved: true };
    let mut buy: Vec<Buy> = Vec::new();
    let saw = Length::mm(1.5);
    for (i, stock) in shop.stock.iter().enumerate() {
        let StockForm::Round { diameter, length } = &stock.form else { continue };
        let mut pieces: Vec<(String, Length, usize, i64)> = Vec::new();
        for p in plans.iter().filter(|p| p.stock.index == Some(i)) {
            let name = &parts[p.part].common.name;
            pieces.extend(p.stock.sticks.iter().map(|(n, l)| (format!("{name} × {n}"), *l, p.part, *n)));
        }
        if pieces.is_empty() {
            continue;
        }
        let lengths: Vec<Length> = pieces.iter().map(|(_, l, ..)| *l).collect();
        let on_hand = u32::try_from(stock.pieces.bare().0).unwrap_or(0);
        let found = cut_list::plan(&lengths, &[Bars { length: length.bare(), on_hand: Some(on_hand) }], saw);
        list.proved &= found.proved;
        let bar =
            format!("{} {} × {}", stock.name, plain(diameter.bare()), plain(length.bare().as_diameter()));
        let mut rows = Vec::new();
        for (k, s) in found.sawn.iter().enumerate() {
            let cut: Vec<(String, Length)> =
                s.pieces.iter().map(|p| (pieces[*p].0.clone(), pieces[*p].1)).collect();
            for (what, l) in &cut {
                rows.push(vec![
                    Cell::of(&Count(i64::try_from(k + 1).unwrap_or(0))),
                    Cell::word(what.clone()),
                    Cell::of(l),
                ]);
            }
            rows.push(vec![
                Cell::of(&Count(i64::try_from(k + 1).unwrap_or(0))),
                Cell::word("left over"),
                Cell::of(&s.left),
            ]);
            list.bars.push(SawnBar { bar: format!("{bar}, bar {}", k + 1), pieces: cut, left: s.left });
        }
        let proof = if found.proved {
            "proved: no arrangement opens less bar"
        } else {
            "the better of best fit and what the search found"
        };
        book.table(
            format_args!("cut_list.{}", i + 1),
            &["bar", "piece", "length"],
            rows,
            format!("pieces of {bar}; {proof}; {} arrangements looked at", found.looked_at),
            plans.iter().filter(|p| p.stock.index == Some(i)).map(|p| p.stock.need.id()).collect(),
            &cut_list::SEARCH,
        );
        if !found.lacking.is_empty() {
            let total: Length = found.lacking.iter().map(|p| lengths[*p] + saw).sum();
            let mut names: Vec<String> = Vec::new();
            for p in plans.iter().filter(|p| p.stock.index == Some(i)) {
                let name = &parts[p.part].common.name;
                let lacking = found.lacking.iter().filter(|k| pieces[**k].2 == p.part);
                let count: i64 = lacking.map(|k| pieces[*k].3).sum();
                if count > 0 {
                    names.push(format!("{name} × {count}"));
                }
            }
            buy.push(Buy {
                what: format!("{} round {}", stock.name, plain(diameter.bare())),
                amount: said(total),
                parts: names,
            });
        }
    }
    for p in plans.iter().filter(|p| p.stock.index.is_none()) {
        let what = p.stock.what.replace(" (to buy)", "");
        let name = parts[p.part].common.name.clone();
        let length: Length = p.stock.sticks.iter().map(|(_, l)| *l).sum();
        match buy.iter_mut().find(|b| b.what == what) {
            Some(b) => {
                b.parts.push(name);
                b.amount = format!("{}, and {}", b.amount, said(length));
            }
            None => buy.push(Buy { what, amount: said(length), parts: vec![name] }),
        }
    }
    (list, buy)
}
