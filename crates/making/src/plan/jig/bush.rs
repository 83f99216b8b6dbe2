//! A split bush: holds a thread by its flanks without marking it, for the second end and for the slot.

use super::blank::{Turning, bar_of};
use super::{Asking, Named};
use reckon::source::GEOMETRY;
use reckon::{Diameter, Length, Source, Val, work};
use record::facts::CutterUse;
use std::sync::Arc;
use tables::thread::Thread;

/// How a thread is held.
pub static SPLIT: Source = Source::practice(
    "a bush tapped to the thread, two and a half diameters long, sawn through one side: a collet or vice closes it",
);

/// A split bush tapped to a thread; none where the shop has no tap for it. `outside` is what grips it.
pub fn split_bush(asking: &mut Asking<'_>, thread: &Arc<Thread>, outside: Val<Diameter>) -> Option<Named> {
    asking.shop.lathes.first()?;
    asking.shop.taps.iter().find(|t| t.name == thread.name)?;
    let saw = asking
        .shop
        .cutters
        .iter()
        .filter(|c| c.of == CutterUse::SlotSaw && c.made)
        .filter_map(|c| c.size)
        .reduce(|x, y| if y < x { y } else { x });
    let slug = format!("split_bush.{}", reckon::slug(&thread.name));
    let why = format!(
        "{} has no plain length that jaws may grip: a bush tapped to its thread carries it by the flanks, for its second end and for its slot.",
        thread.name
    );
    asking.ask(&slug, why, |board| {
        let name = format!("split bush {}", thread.name);
        let metal = bar_of(board.shop, &["brass CZ121", "brass CZ120", "mild steel"], outside.bare());
        let note = "The slit runs through one side only: saw from the outside to the hole along its whole length. Closed by the collet or by the vice; the shoulder of the work seats on its face.";
        let mut t = Turning::new(board, &name, metal, note);
        let b = t.board();
        let major = {
            let n = b.name("thread_size");
            b.book.tabled(n, thread.major, thread.name.clone(), thread.source)
        };
        let long = {
            let n = b.name("length_of_thread");
            work!(b.book, n, |major| (major.across() * 2.5).max(Length::mm(8.0)), &SPLIT)
        };
        let size = {
            let n = b.name("outside");
            work!(b.book, n, |outside| outside, &GEOMETRY)
        };
        let size = b.limited("outside", size, (0.0, -0.03));
        let hole = {
            let n = b.name("hole_size");
            b.book.tabled(n, thread.minor(), thread.name.clone(), thread.source)
        };
        let hole = b.limited("hole_size", hole, (0.1, 0.0));
        let slit = saw.map(|saw| {
            let n = b.name("slit");
            let width = work!(b.book, n, |saw| saw, &GEOMETRY);
            let n = b.name("slit.depth");
            let depth = work!(b.book, n, |long| long * 0.8, &SPLIT);
            (width, depth)
        });
        t.section(long, size);
        t.tapped(hole, thread, None);
        if let Some((width, depth)) = slit {
            t.slit(width, depth);
        }
        t.part()
    })
}
