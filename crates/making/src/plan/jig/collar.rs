//! A collar that leads a drill across round work: slid over it, its hole upright, one setting for a whole batch.

use super::blank::{Turning, bar_of};
use super::guide::plain;
use super::{Asking, Named};
use crate::kernel::setting;
use crate::plan::hole::OVERSIZE;
use movement::part::{Step, TurnedBody};
use reckon::source::GEOMETRY;
use reckon::{Count, Diameter, Length, Source, Val, work};

/// When and how a hole across is led.
pub static COLLAR: Source = Source::practice(
    "two or more alike are drilled across through a collar bored to the work: its wall leads the drill, its face on a shoulder or level with the end gives the place",
);
/// What the collar's face stands on.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Seat {
    /// A shoulder of the work.
    Shoulder,
    /// Nothing: its face is brought level with the end.
    End,
}
/// A collar as a part uses it.
#[derive(Clone, Debug)]
pub struct Collar {
    /// Its sheet.
    pub named: Named,
    /// What its face stands on.
    pub seat: Seat,
    /// From its face to the hole.
    pub from_face: Val<Length>,
    /// What the drill may be off where it comes out.
    pub off: Val<Length>,
}
/// Where a collar can be slid on so that its hole comes over the work's.
struct Place {
    step: usize,
    seat: Seat,
    /// Towards the first end.
    first: bool,
}
fn place(steps: &[Step], z: Length) -> Option<Place> {
    let i = steps.iter().position(|s| s.from.bare() < z && z < s.to.bare())?;
    let s = &steps[i];
    if s.thread.is_some() || s.end.is_some() || s.undercut || s.curved || s.knurl.is_some() {
        return None;
    }
    let d = s.size.nominal.bare();
    let passes = |t: &Step| t.size.nominal.bare() <= d;
    let (first, far) = (steps[..i].iter().all(passes), steps[i + 1..].iter().all(passes));
    let higher = |t: Option<&Step>| t.is_some_and(|t| t.size.nominal.bare() > d + Length::mm(0.4));
    match (first, far) {
        (true, _) if higher(steps.get(i + 1)) => Some(Place { step: i, seat: Seat::Shoulder, first: true }),
        (_, true) if i > 0 && higher(steps.get(i - 1)) => {
            Some(Place { step: i, seat: Seat::Shoulder, first: false })
        }
        // Level with the end only where the step itself reaches it.
        (true, _) if i == 0 => Some(Place { step: i, seat: Seat::End, first: true }),
        (_, true) if i + 1 == steps.len() => Some(Place { step: i, seat: Seat::End, first: false }),
        _ => None,
    }
}
/// The collar for a hole across at `z` from the first end; none for a single piece, or where none can be slid on.
pub fn collar(
    asking: &mut Asking<'_>,
    body: &TurnedBody,
    (z, drill): (Val<Length>, Val<Diameter>),
    at: &str,
) -> Option<Collar> {
    asking.shop.lathes.first()?;
    let many = asking.part.common.count;
    if many.bare() < Count(2) {
        return None;
    }
    let place = place(&body.steps, z.bare())?;
    let step = &body.steps[place.step];
    let (from, to, whole, d) = (step.from, step.to, body.length, step.size.nominal);
    let name = |tail: &str| format!("{at}.{tail}");
    let book = &mut *asking.book;
    let from_face = match (place.seat, place.first) {
        (Seat::Shoulder, true) => work!(book, name("from_face"), |to, z| to - z, &COLLAR),
        (Seat::Shoulder, false) => work!(book, name("from_face"), |z, from| z - from, &COLLAR),
        (Seat::End, true) => work!(book, name("from_face"), |z| z, &COLLAR),
        (Seat::End, false) => work!(book, name("from_face"), |whole, z| whole - z, &COLLAR),
    };
    if from_face.bare() < drill.bare().across() / 2.0 + Length::mm(0.5) {
        return None;
    }
    let wall = work!(
        book,
        name("wall"),
        |drill| setting::bush(drill, true).length.max(Length::mm(3.0)),
        &setting::BUSH_SIZE
    );
    let play = book.assumed(name("play"), Length::mm(0.05), OVERSIZE.cite);
    let off =
        work!(book, name("off"), |play, wall, d| setting::bush_error(play, wall, d.across()), &setting::BUSH);
    let hundredths = |l: f64| reckon::print::fixed(l, 2).replace('.', "_");
    let slug = format!(
        "collar.{}x{}x{}",
        hundredths(d.bare().in_mm()),
        hundredths(drill.bare().in_mm()),
        hundredths(from_face.bare().in_mm())
    );
    let why = format!(
        "{}: {} alike with a hole across, all at one place; led by a wall of {} a drill comes out within {}.",
        asking.part.common.name,
        many.shown(),
        wall.shown(),
        off.shown()
    );
    let named = asking.ask(&slug, why, |board| {
        let name = format!(
            "drilling collar {} for {}, {} from its face",
            plain(drill.bare().in_mm()),
            plain(d.bare().in_mm()),
            plain(from_face.bare().in_mm())
        );
        let outside = d.bare() + wall.bare() * 2.0;
        let metal = bar_of(board.shop, &["mild steel", "brass CZ121", "silver steel"], outside);
        let note = "The first end, from which its cross hole is measured, is the face that seats: bore and face at one setting, and a dot punched on its edge. The cross hole decides all that are drilled through it: in the vee, spotted at the highest place, found with a thin steel rule nipped between the drill's point and the work (it lies level there).";
        let mut t = Turning::new(board, &name, metal, note);
        let b = t.board();
        let broad = {
            let n = b.name("outside");
            work!(b.book, n, |d, wall| Diameter::mm(((d + wall * 2.0).in_mm() - 1e-9).ceil()), &COLLAR)
        };
        let broad = b.limited("outside", broad, (0.1, -0.1));
        let place = {
            let n = b.name("place");
            work!(b.book, n, |from_face| from_face, &COLLAR)
        };
        let long = {
            let n = b.name("length_wanted");
            work!(b.book, n, |place, wall| Length::mm(((place + wall).in_mm() - 1e-9).ceil()), &COLLAR)
        };
        let bore = {
            let n = b.name("bore_size");
            work!(b.book, n, |d| d, &GEOMETRY)
        };
        let bore = b.limited("bore_size", bore, (0.02, 0.0));
        let leads = {
            let n = b.name("leads");
            work!(b.book, n, |drill| drill, &OVERSIZE)
        };
        t.section(long, broad);
        t.bore(true, bore, None);
        t.across(place, leads);
        t.part()
    })?;
    Some(Collar { named, seat: place.seat, from_face, off })
}
impl Collar {
    /// How it is used.
    #[must_use]
    pub fn lines(&self) -> Vec<String> {
        vec![
            match self.seat {
                Seat::Shoulder => format!("Push the {} on until its dotted face stands against the shoulder.", self.named.name),
                Seat::End => format!("Push the {} on, dotted face outward, and stand both on a flat plate: face and end are level.", self.named.name),
            },
            "Lay both in the vee, the collar's hole upright: a rod in the hole stands square by a try square. Clamp on collar and work together, so that neither slides.".to_owned(),
            "The drill goes down through the collar's hole, with no spotting: out to clear the chips after every diameter of depth, lighter before it comes out. Turn the drill by hand once through, to feel that nothing catches, and go to the next.".to_owned(),
        ]
    }
}
