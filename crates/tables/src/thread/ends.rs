//! Ends of a thread: blank, run-out, relief groove, nose.

use super::limits::{Basics, Limits};
use super::sizes::SHEET;
use super::{Thread, same, under};
use reckon::{Book, Diameter, Length, Source, Val, work};

static BLANKS: Source =
    Source::practice("blank for a thread: the middle of the limits; a die throws the crest up");
static RUNOUT: Source = Source::read("ISO 1207, run-out and unthreaded length of machine screws");
static GROOVE: Source =
    Source::practice("groove of one's own: a little below the root, wide enough to stop in");

/// How the thread will be made.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Way {
    /// With a single point.
    Point,
    /// With a die.
    Die,
}
/// Outside diameter to turn before threading: the middle of the limits for a tool; for a die a tenth of the pitch
/// below the basic size, since a die throws the crest up.
pub fn blank(book: &mut Book, prefix: &str, limits: &Limits, way: Way) -> Val<Diameter> {
    let name = under(prefix, "blank");
    let (largest, smallest, d, pitch) =
        (limits.major_max, limits.major_min, limits.basics.major, limits.basics.pitch);
    match way {
        Way::Point => work!(book, name, |largest, smallest| largest - (largest - smallest) / 2.0, &BLANKS),
        Way::Die => work!(book, name, |d, pitch| d - pitch * 0.1, &BLANKS),
    }
}
/// Relief groove behind a thread.
#[derive(Copy, Clone, Debug)]
pub struct Groove {
    /// Diameter at the bottom.
    pub diameter: Val<Diameter>,
    /// Width.
    pub width: Val<Length>,
    /// Corner radius, at least.
    pub corner: Val<Length>,
}
/// The standard's groove where its table has the pitch, else a tenth of a millimetre below the root and one and a
/// half pitches wide.
pub fn groove(book: &mut Book, prefix: &str, thread: &Thread, basics: &Basics) -> Groove {
    let name = |n: &str| under(prefix, n);
    let rows = SHEET.rows("undercut").unwrap_or_default();
    let row = rows
        .iter()
        .find(|r| r.quantity::<Length>("pitch").is_ok_and(|p| same(p.value(), thread.pitch.value())));
    let (d, root, pitch) = (basics.major, basics.root, basics.pitch);
    if let Some(row) = row
        && let (Ok(below), Ok(width)) = (row.quantity::<Length>("below"), row.quantity::<Length>("width"))
    {
        let at = format!("pitch {}", super::sizes::plain(thread.pitch));
        let below = book.tabled(name("groove.below"), below, at.clone(), row.source);
        let corner = match row.quantity_if::<Length>("corner") {
            Ok(Some(r)) => book.tabled(name("groove.corner"), r, at.clone(), row.source),
            _ => book.tabled(name("groove.corner"), Length::mm(0.1), "least corner", &GROOVE),
        };
        return Groove {
            diameter: work!(book, name("groove.diameter"), |d, below| d - below, row.source),
            width: book.tabled(name("groove.width"), width, at, row.source),
            corner,
        };
    }
    let below = book.tabled(name("groove.below_root"), Length::mm(0.1), "below the root", &GROOVE);
    Groove {
        diameter: work!(book, name("groove.diameter"), |root, below| root - below, &GROOVE),
        width: work!(book, name("groove.width"), |pitch| pitch * 1.5, &GROOVE),
        corner: book.tabled(name("groove.corner"), Length::mm(0.1), "least corner", &GROOVE),
    }
}
/// Run-out of the thread, at most, and last full thread to the shoulder, at most: 2.5 P and 2 P for machine screws.
pub fn runout(book: &mut Book, prefix: &str, basics: &Basics) -> (Val<Length>, Val<Length>) {
    let pitch = basics.pitch;
    (
        work!(book, under(prefix, "runout"), |pitch| pitch * 2.5, &RUNOUT),
        work!(book, under(prefix, "to_shoulder"), |pitch| pitch * 2.0, &RUNOUT),
    )
}
