//! What drives the escape wheel, through the whole run, at the low end, as likely, at the high end.

use super::End;
use movement::design::{MarginDesign, Movement};
use reckon::source::Source;
use reckon::{Book, Torque, Val, work};

/// Torque of an arbor by the power that comes to it.
pub static TORQUE: Source =
    Source::derived("power over speed of turning").with_formula("T = P t/(2π), t the time of a turn");

/// A place of the run.
#[derive(Clone, Debug)]
pub struct Place {
    /// What it is called.
    pub what: &'static str,
    /// A word for its names in the book.
    pub slug: &'static str,
    /// Part of the run that is over.
    pub over: f64,
    /// Torque at the escape arbor.
    pub torque: [Val<Torque>; 3],
}
/// Torque at the escape arbor through the run.
#[derive(Clone, Debug)]
pub struct Supply {
    /// Places in order of time, at least one.
    pub places: Vec<Place>,
}
impl Supply {
    /// Torque when a part of the run is over (N m). A spring's falls in a straight line with its turns.
    #[must_use]
    pub fn torque(&self, end: End, over: f64) -> f64 {
        let at = |p: &Place| p.torque[end.index()].bare().value();
        let after = self.places.iter().position(|p| p.over >= over);
        match after {
            Some(0) => at(&self.places[0]),
            Some(n) => {
                let (a, b) = (&self.places[n - 1], &self.places[n]);
                at(a) + (at(b) - at(a)) * (over - a.over) / (b.over - a.over)
            }
            None => self.places.last().map_or(0.0, at),
        }
    }
    /// Whether it is the same all through.
    #[must_use]
    pub fn even(&self) -> bool {
        self.places.len() == 1
    }
}

pub(super) fn supply(m: &Movement, margin: &MarginDesign, book: &mut Book) -> Option<Supply> {
    let turn = m.train.arbors.get(m.train.escape?)?.turn?;
    let many = margin.moments.len() > 1;
    let slugs: &[(&str, f64)] =
        if many { &[("top", 0.0), ("middle", 0.5), ("end", 1.0)] } else { &[("run", 0.0)] };
    let places: Vec<Place> = margin
        .moments
        .iter()
        .zip(slugs)
        .map(|(moment, (slug, over))| {
            let band = moment.at_escapement;
            let torque = [(End::Low, band.low), (End::Likely, band.likely), (End::High, band.high)].map(
                |(end, power)| {
                    work!(
                        book,
                        format_args!("going.{slug}.torque.{}", end.word()),
                        |power, turn| Torque::si(power.value() * turn.value() / (2.0 * reckon::maths::PI)),
                        &TORQUE
                    )
                },
            );
            Place { what: moment.what, slug, over: *over, torque }
        })
        .collect();
    (!places.is_empty()).then_some(Supply { places })
}
