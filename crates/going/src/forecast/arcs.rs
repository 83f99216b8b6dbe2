//! The rate against the arc: the circular error, what the escapement does, and both together.
//!
//! Rates here stand against the pendulum swinging freely at no arc.

use super::Stand;
use crate::DAY;
use crate::model::{End, Model};
use crate::series::Oscillator;
use crate::steady::Steady;
use crate::works::Works;
use reckon::print::signed;
use reckon::source::Source;
use reckon::{Angle, Book, Cell, Id, Ratio, Val, maths, work};

/// Circular error of a pendulum whose strip adds a spring.
pub static CIRCULAR: Source = Source::derived(
    "a free swing of this arc against one of none, gravity's pull and the strip's spring together",
)
.with_formula("T = 4 ∫ dθ/√(2 (V(A) − V(θ))/I), V = G (1 − cos θ) + k θ²/2");
/// The escapement's own part.
pub static ESCAPEMENT: Source = Source::derived(
    "the clock's rate in simulation less the circular error: the push, the locks, the air and all that is not the arc itself",
);
/// Both.
pub static TOGETHER: Source = Source::derived("circular error and escapement error");
/// How the rate follows the arc.
pub static SLOPE: Source =
    Source::derived("arc and rate that settle a hundredth above and below").with_formula("ΔR/ΔA");

/// What settles at an arc.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct AtArc {
    /// Torque at the escape arbor, over that of the middle of the run.
    pub torque: f64,
    /// Semi-arc (rad): the mean of both sides.
    pub arc: f64,
    /// Circular error (s/day).
    pub circular: f64,
    /// Escapement error (s/day).
    pub escapement: f64,
}
impl AtArc {
    /// Both (s/day).
    #[must_use]
    pub fn together(&self) -> f64 {
        self.circular + self.escapement
    }
    fn of(works: &Works, s: &Steady, torque: f64) -> AtArc {
        let free = 2.0 * maths::PI / works.swing.frequency();
        let arc = f64::midpoint(s.beats[0].to, s.beats[1].to);
        let circular = works.swing.circular(arc);
        let whole = DAY * (free - s.cycle()) / s.cycle();
        AtArc { torque, arc, circular, escapement: whole - circular }
    }
}
/// The rate against the arc of a movement.
#[derive(Clone, PartialEq, Debug)]
pub struct Arcs {
    /// In the middle of the run, as it is likely.
    pub here: AtArc,
    /// Under other torques, by rising arc.
    pub curve: Vec<AtArc>,
    /// How the rate follows the arc when the drive changes, and when the pendulum's own loss does (s/day per rad).
    pub by_drive: Option<f64>,
    /// The same when air and suspension take more or less.
    pub by_loss: Option<f64>,
    /// The arc at which the rate does not follow the drive, where the curve has one.
    pub flattest: Option<f64>,
    /// Table in the book.
    pub table: Id,
    /// Names in the book: what, and where.
    pub told: Vec<(&'static str, Id)>,
}
impl Oscillator {
    /// Time of a whole free swing without loss at an arc (s).
    #[must_use]
    pub fn free_swing(&self, arc: f64) -> f64 {
        if arc == 0.0 {
            return 2.0 * maths::PI / self.frequency();
        }
        // θ = A sin φ takes the ends' infinity away; evenly spaced points of a smooth turn are exact soon.
        let points = 48_u32;
        let sum: f64 = (0..points)
            .map(|i| {
                let phi = maths::PI * (f64::from(i) + 0.5) / f64::from(2 * points);
                let (x, c) = (arc * maths::sin(phi), arc * maths::cos(phi));
                let fall =
                    2.0 * self.gravity * maths::sin(f64::midpoint(arc, x)) * maths::sin((arc - x) / 2.0)
                        + 0.5 * self.stiffness * c * c;
                c / (2.0 * fall / self.inertia).sqrt()
            })
            .sum();
        4.0 * sum * maths::PI / f64::from(2 * points)
    }
    /// Circular error at an arc against a swing of none (s/day), never above nothing.
    #[must_use]
    pub fn circular(&self, arc: f64) -> f64 {
        let (at, none) = (self.free_swing(arc), self.free_swing(0.0));
        DAY * (none - at) / at
    }
}
impl Works {
    /// What settles under a torque; `unit` is the torque that counts as one.
    #[must_use]
    pub fn at_torque(&self, torque: f64, unit: f64) -> Option<AtArc> {
        let s = self.steady(torque).ok()?;
        Some(AtArc::of(self, &s, torque / unit))
    }
    /// How the rate follows the arc when the torque changes (s/day per rad).
    #[must_use]
    pub fn rate_by_drive(&self, torque: f64) -> Option<f64> {
        let (up, down) = (self.at_torque(torque * 1.01, torque)?, self.at_torque(torque * 0.99, torque)?);
        Some((up.together() - down.together()) / (up.arc - down.arc))
    }
    /// How the rate follows the arc when air and suspension take more or less (s/day per rad).
    #[must_use]
    pub fn rate_by_loss(&self, torque: f64) -> Option<f64> {
        let with = |k: f64| {
            let mut w = self.clone();
            w.swing.viscous *= k;
            w.swing.square *= k;
            w.at_torque(torque, torque)
        };
        let (up, down) = (with(0.99)?, with(1.01)?);
        Some((up.together() - down.together()) / (up.arc - down.arc))
    }
}

/// Works it out for the middle of the run; none where nothing settles there.
pub(super) fn arcs(m: &Model, middle: &Stand, book: &mut Book) -> Option<Arcs> {
    let works = m.at(End::Likely);
    let settled = middle.found.as_ref().ok()?;
    let of = vec![middle.torque.id(), settled.arc.id(), m.beyond[1].id(), m.friction[1].id()];
    let torque = middle.torque.bare().value();
    let here = AtArc::of(works, &settled.steady, 1.0);
    let from = middle.least_torque.map_or(0.5, |l| l.bare().value() / torque * 1.002).min(1.0);
    let steps = 28_u32;
    let curve: Vec<AtArc> = (0..=steps)
        .map(|i| from * maths::pow(2.2 / from, f64::from(i) / f64::from(steps)))
        .map_while(|k| works.at_torque(torque * k, torque))
        .collect();
    let (by_drive, by_loss) = (works.rate_by_drive(torque), works.rate_by_loss(torque));
    let flattest = curve.windows(3).find_map(|w| {
        let (a, b) = (w[1].together() - w[0].together(), w[2].together() - w[1].together());
        (a * b < 0.0).then(|| turning(&[w[0], w[1], w[2]]))
    });
    let how = || ("two beats that leave the arc as it was", 1, 0.0);
    let circular =
        book.solved("going.rate.circular_s_per_day", Ratio::si(here.circular), how(), of.clone(), &CIRCULAR);
    let escapement = book.solved(
        "going.rate.escapement_s_per_day",
        Ratio::si(here.escapement),
        how(),
        of.clone(),
        &ESCAPEMENT,
    );
    let together =
        work!(book, "going.rate.together_s_per_day", |circular, escapement| circular + escapement, &TOGETHER);
    let mut told = vec![
        ("circular error, s/day", circular.id()),
        ("escapement error, s/day", escapement.id()),
        ("both, s/day", together.id()),
    ];
    let tenth = Angle::deg(0.1).value();
    let mut slope = |name: &'static str, what: &'static str, by: Option<f64>, book: &mut Book| {
        let Some(by) = by else { return };
        let ids = vec![circular.id(), escapement.id()];
        let v: Val<Ratio> =
            book.solved(name, Ratio::si(by * tenth), ("arcs a little apart", 2, 0.0), ids, &SLOPE);
        told.push((what, v.id()));
    };
    slope(
        "going.rate.by_drive_s_per_day_per_tenth_degree",
        "for 0.1° more by the drive, s/day",
        by_drive,
        book,
    );
    slope(
        "going.rate.by_loss_s_per_day_per_tenth_degree",
        "for 0.1° more by less loss, s/day",
        by_loss,
        book,
    );
    if let Some(a) = flattest {
        let v: Val<Angle> = book.solved(
            "going.rate.does_not_follow_at",
            Angle::si(a),
            ("between three points of the curve", 1, 0.0),
            vec![circular.id(), escapement.id()],
            &SLOPE,
        );
        told.push(("arc at which it does not follow the drive", v.id()));
    }
    let table = table(&curve, of, book);
    Some(Arcs { here, curve, by_drive, by_loss, flattest, table, told })
}
/// Where a parabola through three points of the curve turns.
fn turning(p: &[AtArc; 3]) -> f64 {
    let (x, y) = (p.map(|a| a.arc), p.map(|a| a.together()));
    let (d, e) = ((y[1] - y[0]) / (x[1] - x[0]), (y[2] - y[1]) / (x[2] - x[1]));
    let bend = (e - d) / (x[2] - x[0]);
    f64::midpoint(x[0], x[1]) - d / (2.0 * bend)
}
fn table(curve: &[AtArc], of: Vec<Id>, book: &mut Book) -> Id {
    let two = |x: f64| Cell::as_text(&Ratio::si(x), signed(x, 2));
    // A dozen of them are enough to read.
    let every = curve.len().div_ceil(12).max(1);
    let rows = curve
        .iter()
        .step_by(every)
        .map(|a| {
            vec![
                Cell::as_text(&Angle::si(a.arc), format!("{}°", reckon::print::fixed(a.arc.to_degrees(), 2))),
                Cell::as_text(&Ratio::si(a.torque), reckon::print::fixed(a.torque, 2)),
                two(a.circular),
                two(a.escapement),
                two(a.together()),
            ]
        })
        .collect();
    let columns = ["arc", "torque, × likely", "circular, s/day", "escapement, s/day", "both, s/day"];
    let rule = "the torque at the escape arbor changed, all else as it is likely in the middle of the run";
    book.table("going.rate.against_arc", &columns, rows, rule, of, &ESCAPEMENT)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::works::Even;

    const DEG: f64 = maths::PI / 180.0;
    const G: f64 = 9.80665;

    fn works(quality: f64) -> Works {
        let even = Even {
            unlocks: 0.75 * DEG,
            lets_off: 1.25 * DEG,
            ratio: 1.0,
            efficiency: 1.0,
            rubs: 0.0,
            drop: 0.0,
            wheel: 0.0,
            reach: 8.0 * DEG,
        };
        Works::even(Oscillator::simple(5.0, G / (maths::PI * maths::PI), G, quality), &even)
    }
    #[test]
    fn circular_error_is_that_of_the_mean() {
        // pendulum::swing has the arithmetic-geometric mean; a strip's spring lessens it in proportion.
        let plain = works(8000.0).swing;
        for arc in [0.5, 2.0, 10.0, 60.0] {
            let want = pendulum::swing::circular(arc * DEG);
            assert!((plain.circular(arc * DEG) - want).abs() < 1e-9 * want.abs() + 1e-9, "{arc}");
        }
        let stiff = Oscillator { stiffness: 0.02 * plain.gravity, ..plain };
        let share = stiff.circular(2.0 * DEG) / plain.circular(2.0 * DEG);
        assert!((share - 1.0 / 1.02).abs() < 1e-5, "{share}");
    }
    #[test]
    fn escapement_error_is_that_of_averaging() {
        // Airy's averaged push at 0.75° before to 1.25° after the middle (pendulum::impulse): −0.7808 s/day at
        // 2.0182°, right to first order in 1/Q.
        let push = pendulum::impulse::Push { before: 0.75 * DEG, after: 1.25 * DEG };
        for (quality, torque) in [(8000.0, 3.4e-4), (8000.0, 2.2e-4), (20_000.0, 3.0e-4)] {
            let a = works(quality).at_torque(torque, torque).expect("goes");
            let want = push.rate(a.arc, quality).expect("reaches");
            assert!((a.escapement / want - 1.0).abs() < 2e-3, "{} and not {want}", a.escapement);
        }
    }
    #[test]
    fn slopes_are_those_of_the_two_errors() {
        // By the drive Q stays; by the loss it changes with the arc: A² goes with Q under one torque.
        let (quality, torque) = (8000.0, 3.4e-4);
        let w = works(quality);
        let push = pendulum::impulse::Push { before: 0.75 * DEG, after: 1.25 * DEG };
        let arc = w.at_torque(torque, torque).expect("goes").arc;
        let h = 1e-5;
        let together = |a: f64, q: f64| pendulum::swing::circular(a) + push.rate(a, q).expect("reaches");
        let drive = (together(arc + h, quality) - together(arc - h, quality)) / (2.0 * h);
        let q = |a: f64| quality * a * a / (arc * arc);
        let loss = (together(arc + h, q(arc + h)) - together(arc - h, q(arc - h))) / (2.0 * h);
        let got = (w.rate_by_drive(torque).expect("goes"), w.rate_by_loss(torque).expect("goes"));
        assert!((got.0 / drive - 1.0).abs() < 5e-3, "{} and not {drive}", got.0);
        assert!((got.1 / loss - 1.0).abs() < 5e-3, "{} and not {loss}", got.1);
    }
    #[test]
    fn parabola_turns_where_it_does() {
        let at =
            |arc: f64| AtArc { torque: 1.0, arc, circular: -(arc - 0.03) * (arc - 0.03), escapement: 1.0 };
        assert!((turning(&[at(0.02), at(0.027), at(0.04)]) - 0.03).abs() < 1e-12);
    }
}
