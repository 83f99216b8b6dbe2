//! The clock beside its model: a measured arc and rate, and what loss would explain them.

use crate::model::{End, Model};
use crate::series::Oscillator;
use crate::works::Works;
use reckon::source::Source;
use reckon::{Angle, Book, Cell, Id, Ratio, Val, judge, work};

/// One cause at a time.
pub static EXPLAINED: Source = Source::derived(
    "one thing at a time altered until the arc that settles is the measured one, all else as it is likely",
);

/// What was measured.
#[derive(Copy, Clone, PartialEq, Debug, Default)]
pub struct Measured {
    /// Semi-arc (rad).
    pub arc: Option<f64>,
    /// Rate (s/day, gaining positive).
    pub rate: Option<f64>,
    /// Part of the run that was over.
    pub over: f64,
    /// From where it was had, for the book.
    pub by: &'static str,
}
/// A cause that would explain it alone.
#[derive(Clone, Debug)]
pub struct Cause {
    /// In words.
    pub says: String,
    /// The number: a part of the torque, a share, a quality.
    pub value: Val<Ratio>,
    /// Against what the model has.
    pub instead_of: Val<Ratio>,
    /// Rate that comes with it, against the model's (s/day).
    pub moves_rate: Val<Ratio>,
}
/// What was found.
#[derive(Clone, Debug)]
pub struct Beside {
    /// Predicted arc: low, likely, high; where it goes.
    pub arcs: [Option<f64>; 3],
    /// Whether the measured arc lies in the band.
    pub in_band: Option<Val<bool>>,
    /// Causes, the usual suspect first.
    pub causes: Vec<Cause>,
    /// What none of these can explain, in words.
    pub cannot: Vec<String>,
    /// Predicted rate as the pendulum is set out, at the likely losses.
    pub rate: Option<f64>,
    /// Turns of the nut that bring the measured rate to nothing, + up.
    pub nut: Option<Val<Ratio>>,
    /// Table in the book.
    pub table: Option<Id>,
}

/// Puts a measurement beside the forecast. `turn` is the rate of a turn of the nut, s/day, where one is known.
pub fn beside(m: &Model, got: Measured, turn: Option<Val<Ratio>>, book: &mut Book) -> Beside {
    let torque = |end: End| m.supply.torque(end, got.over);
    let arcs = End::ALL.map(|end| m.at(end).steady(torque(end)).ok().map(|s| s.arc));
    let rate_of = |w: &Works, t: f64| w.steady(t).ok().map(|s| s.rate(m.beat.bare().value()));
    let rate = rate_of(m.at(End::Likely), torque(End::Likely));
    let mut out =
        Beside { arcs, in_band: None, causes: Vec::new(), cannot: Vec::new(), rate, nut: None, table: None };
    if let Some(r) = got.rate {
        let measured = book.assumed("going.measured.rate_s_per_day", Ratio::si(r), got.by);
        out.nut = turn.map(|turn| {
            work!(book, "going.measured.nut_turns", |measured, turn| -(measured / turn), &EXPLAINED)
        });
    }
    let Some(a) = got.arc else { return out };
    let arc = book.assumed("going.measured.arc", Angle::si(a), got.by);
    let of = vec![arc.id(), m.arc.id(), m.beyond[1].id()];
    if let [Some(low), _, Some(high)] = arcs {
        let how = || ("the arc that settles there", 1, 0.0);
        let low = book.solved("going.measured.low", Angle::si(low), how(), of.clone(), &EXPLAINED);
        let high = book.solved("going.measured.high", Angle::si(high), how(), of.clone(), &EXPLAINED);
        out.in_band = Some(judge!(
            book,
            "going.measured.as_predicted",
            "the measured arc lies between the forecast at its low and at its high end",
            |arc, low, high| arc >= low && arc <= high,
            &EXPLAINED
        ));
    }
    let t = torque(End::Likely);
    let base = m.at(End::Likely);
    let share = m.beyond[1].bare().value();
    let quality = |w: &Works| w.swing.inertia * w.swing.frequency() / w.swing.viscous;
    let has_q = quality(base);
    let with_quality = |q: f64| Works {
        swing: Oscillator { viscous: base.swing.viscous * has_q / q, ..base.swing },
        ..base.clone()
    };
    type Try<'a> = (&'static str, &'static str, f64, (f64, f64), &'a dyn Fn(f64) -> (Works, f64));
    let torque_part = |k: f64| (base.clone(), t * k);
    let crutch = |k: f64| (m.faces.passing(k), t);
    let pendulum = |q: f64| (with_quality(q), t);
    let tries: [Try<'_>; 3] = [
        ("torque", "part of the torque that reaches the escape wheel", 1.0, (0.05, 20.0), &torque_part),
        ("crutch", "part that crutch and pallets' pivots pass", share, (0.05, 1.0), &crutch),
        ("quality", "quality of the pendulum", has_q, (has_q / 20.0, has_q * 20.0), &pendulum),
    ];
    let mut rows = Vec::new();
    for (slug, says, has, (low, high), with) in tries {
        let settles = |k: f64| {
            let (w, t) = with(k);
            w.steady(t).map_or_else(
                |h| if matches!(h, crate::Halt::OverBanks { .. }) { 1.0 } else { 0.0 },
                |s| s.arc,
            )
        };
        if settles(high) < a || settles(low) > a {
            out.cannot.push(says.to_owned());
            continue;
        }
        // The arc rises with each of them.
        let (mut low, mut high) = (low, high);
        for _ in 0..60 {
            let middle = (low * high).sqrt();
            if settles(middle) < a { low = middle } else { high = middle }
        }
        let how = ("altered alone until the measured arc settles", 60, high / low - 1.0);
        let value =
            book.solved(format_args!("going.measured.{slug}"), Ratio::si(high), how, of.clone(), &EXPLAINED);
        let how = ("as the model has it", 1, 0.0);
        let instead_of = book.solved(
            format_args!("going.measured.{slug}.model"),
            Ratio::si(has),
            how,
            of.clone(),
            &EXPLAINED,
        );
        let (w, t) = with(high);
        let moved = rate_of(&w, t).unwrap_or(0.0) - rate.unwrap_or(0.0);
        let how = ("rate with it less the forecast's", 1, 0.0);
        let moves_rate = book.solved(
            format_args!("going.measured.{slug}.moves_rate"),
            Ratio::si(moved),
            how,
            of.clone(),
            &EXPLAINED,
        );
        let three = |v: f64| reckon::print::significant(v, 3);
        rows.push(vec![
            Cell::word(says),
            Cell::as_text(&instead_of.bare(), three(has)),
            Cell::as_text(&value.bare(), three(high)),
            Cell::as_text(&moves_rate.bare(), super::words::signed(moved)),
        ]);
        out.causes.push(Cause { says: says.to_owned(), value, instead_of, moves_rate });
    }
    let columns = ["one cause alone", "forecast", "as measured", "moves the rate, s/day"];
    let rule = "each altered alone until the measured arc settles";
    out.table = Some(book.table("going.measured", &columns, rows, rule, of, &EXPLAINED));
    out
}
