//! Mandrels: bored work is held by its bore, so that everything turned on it runs true with the bore.

use super::blank::{Turning, bar_of, die_under};
use super::{Asking, Named};
use reckon::source::GEOMETRY;
use reckon::{Diameter, Length, Source, Val, work};
use record::facts::{HoldKind, Size};

/// A mandrel that drives by its taper.
pub static TAPER: Source = Source::practice(
    "a driving mandrel tapers one in two thousand and is pushed in until it bites; it begins a hundredth under the bore",
)
.with_formula("l = 2000 (D − d)");
/// A mandrel with a shoulder, a seat and a nut.
pub static STUB: Source = Source::practice(
    "the seat of a stub mandrel is a push fit and two tenths shorter than the work, so that the nut bears on the work",
);
/// Metals that mandrels are turned from, the best first.
const METALS: [&str; 3] = ["silver steel", "mild steel", "brass CZ121"];

/// Length of a taper of one in two thousand between two diameters.
fn taper_length(small: Diameter, large: Diameter) -> Length {
    (large - small) * 2000.0
}
/// A diameter in a slug: hundredths of a millimetre, so that two bores alike share a mandrel.
fn in_slug(d: Diameter) -> String {
    reckon::print::fixed(d.in_mm(), 2).replace('.', "_")
}
/// The collet of the shop's first lathe that is nearest to a size, not smaller; else the size itself.
fn shank(asking: &Asking<'_>, least: Diameter) -> Option<Val<Diameter>> {
    let sizes = asking.shop.lathes.first()?.holdings.iter().flat_map(|h| match &h.kind {
        HoldKind::Collet { sizes, .. } => sizes.clone(),
        _ => Vec::new(),
    });
    sizes.filter(|s| s.bare() >= least).reduce(|x, y| if y < x { y } else { x })
}

/// A mandrel that is pushed into a bore until its taper bites, turned between centres.
pub fn taper_mandrel(asking: &mut Asking<'_>, bore: &Size<Diameter>, why: &str) -> Option<Named> {
    asking.shop.lathes.first()?;
    let slug = format!("taper_mandrel.{}", in_slug(bore.nominal.bare()));
    let bore = *bore;
    asking.ask(&slug, why, |board| {
        let name = format!("taper mandrel {}", bore.nominal.shown());
        let metal = bar_of(board.shop, &METALS, bore.nominal.bare());
        let note = "Between centres, a carrier on the plain end. A drop of oil, pushed in by hand pressure until it holds; out by the small end.";
        let mut t = Turning::new(board, &name, metal, note);
        let b = t.board();
        let under = b.assumed("under", Length::mm(0.01), "house default: the small end enters by hand");
        let (nominal, lower, upper) = (bore.nominal, bore.lower, bore.upper);
        let small = {
            let n = b.name("small_end");
            work!(b.book, n, |nominal, lower, under| nominal + lower - under, &TAPER)
        };
        let large = {
            let n = b.name("large_end");
            work!(b.book, n, |nominal, upper, under| nominal + upper + under, &TAPER)
        };
        let long = {
            let n = b.name("taper");
            work!(b.book, n, |small, large| taper_length(small, large), &TAPER)
        };
        let end = b.assumed("end", Length::mm(6.0), "house default: ends turned down, to save the centres");
        let ends = {
            let n = b.name("ends");
            work!(b.book, n, |small| small * 0.85, &TAPER)
        };
        let ends = b.limited("ends", ends, (0.0, -0.2));
        let small = b.limited("small_end", small, (0.005, -0.005));
        t.section(end, ends);
        t.tapered(long, small, Some(large));
        t.section(end, ends);
        t.part()
    })
}
/// A mandrel with a shank for a collet, a shoulder, a seat for the bore, and a nut: its seat is turned at the
/// setting at which it is used. `thick` is the work's length along its axis; `flange` the diameter that bears.
pub fn stub_mandrel(
    asking: &mut Asking<'_>,
    bore: Val<Diameter>,
    thick: Val<Length>,
    flange: Val<Diameter>,
    why: &str,
) -> Option<Named> {
    asking.shop.lathes.first()?;
    let shank = shank(asking, bore.bare().max(Diameter::mm(6.0)));
    let tenths = reckon::print::fixed(thick.bare().in_mm(), 1).replace('.', "_");
    let slug = format!("stub_mandrel.{}x{tenths}", in_slug(bore.bare()));
    asking.ask(&slug, why, |board| {
        let name = format!("stub mandrel {} × {}", bore.shown(), thick.shown());
        let metal = bar_of(board.shop, &METALS, flange.bare());
        let thread = die_under(board.shop, bore.bare());
        let note = if thread.is_some() {
            "Turn the seat last, at the setting at which it is used, and leave it there: the work runs as true as this setting. Nut and washer on the work."
        } else {
            "No die of the shop is small enough for a nut: the work is stuck to seat and shoulder with shellac, warmed off again. Turn the seat at the setting at which it is used."
        };
        let mut t = Turning::new(board, &name, metal, note);
        let b = t.board();
        let long = b.assumed("shank", Length::mm(22.0), "house default: as long as a collet grips");
        let size = match shank {
            Some(s) => {
                let n = b.name("shank_size");
                work!(b.book, n, |s| s, &GEOMETRY)
            }
            None => b.assumed("shank_size", bore.bare().max(Diameter::mm(6.0)), "house default: no collets"),
        };
        let size = b.limited("shank_size", size, (0.0, -0.02));
        let broad = {
            let n = b.name("shoulder");
            work!(b.book, n, |flange| flange, &GEOMETRY)
        };
        let broad = b.limited("shoulder", broad, (0.2, -0.2));
        let deep = b.assumed("shoulder.length", Length::mm(4.0), "house default: stiff");
        let seat = {
            let n = b.name("seat");
            work!(b.book, n, |bore| bore, &STUB)
        };
        let seat = b.limited("seat", seat, (0.0, -0.01));
        let short = {
            let n = b.name("seat.length");
            work!(b.book, n, |thick| (thick - Length::mm(0.2)).max(thick * 0.7), &STUB)
        };
        t.section(long, size);
        t.section(deep, broad);
        t.section(short, seat);
        if let Some(thread) = &thread {
            let b = t.board();
            let major = {
                let n = b.name("nut");
                b.book.tabled(n, thread.major, thread.name.clone(), thread.source)
            };
            let room = {
                let n = b.name("thread.length");
                work!(b.book, n, |major| major.across() * 1.2 + Length::mm(3.0), &STUB)
            };
            t.thread(room, thread);
        }
        t.part()
    })
}
