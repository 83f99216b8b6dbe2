//! What the kernels find, entered in the book: figures, checks, cycles, slopes.

use super::{Common, degrees, place};
use ::escapement::check::{Check, Side as Limit, Unit};
use ::escapement::cycle::{CYCLE, Cycle, State, Works};
use ::escapement::dead_beat::Side;
use ::escapement::dead_beat::checks::LIMITS;
use reckon::source::Source;
use reckon::{Angle, Book, Cell, Id, Length, Ratio, Trouble, Val, judge};

/// Both pallets in their order.
pub(super) const SIDES: [Side; 2] = [Side::Entry, Side::Exit];

/// Steps of a swing to one side in which a cycle is followed; every event is then found by halving.
pub(super) const STEPS: u32 = 40;

/// Enters numbers that a kernel worked out from the same inputs.
pub(super) struct Enter<'a> {
    pub(super) book: &'a mut Book,
    pub(super) inputs: Vec<Id>,
    pub(super) source: &'static Source,
    pub(super) how: &'static str,
}
impl Enter<'_> {
    pub(super) fn put<T: reckon::Shown>(&mut self, name: &str, v: T) -> Val<T> {
        self.book.solved(
            format_args!("escapement.{name}"),
            v,
            (self.how, 1, 0.0),
            self.inputs.clone(),
            self.source,
        )
    }
    pub(super) fn angle(&mut self, name: &str, radians: f64) -> Val<Angle> {
        self.put(name, Angle::si(radians))
    }
    pub(super) fn mm(&mut self, name: &str, mm: f64) -> Val<Length> {
        self.put(name, Length::mm(mm))
    }
    pub(super) fn ratio(&mut self, name: &str, v: f64) -> Val<Ratio> {
        self.put(name, Ratio::si(v))
    }
    /// A point as x and y under a name.
    pub(super) fn point(&mut self, name: &str, p: kurbo::Vec2) -> (Val<Length>, Val<Length>, Val<Length>) {
        let radius = ::escapement::frame::length(p);
        (
            self.mm(&format!("{name}.x"), p.x),
            self.mm(&format!("{name}.y"), p.y),
            self.mm(&format!("{name}.radius"), radius),
        )
    }
    /// The kernel's checks as verdicts; `skip` names those that are refused elsewhere.
    pub(super) fn checks(&mut self, all: &[Check], skip: &[&str]) {
        for c in all.iter().filter(|c| !skip.contains(&c.key) && c.value.is_finite()) {
            let name = format!("escapement.{}", c.key);
            match c.unit {
                Unit::Angle => {
                    let value = self.angle(c.key, c.value);
                    if c.side == Limit::Told {
                        continue;
                    }
                    let limit =
                        self.book.tabled(format_args!("{name}.limit"), Angle::si(c.limit), c.says, &LIMITS);
                    let verdict = if c.side == Limit::AtLeast {
                        judge!(
                            self.book,
                            format_args!("{name}.kept"),
                            c.says,
                            |value, limit| (value - limit).value() >= -1e-12,
                            &LIMITS
                        )
                    } else {
                        judge!(
                            self.book,
                            format_args!("{name}.kept"),
                            c.says,
                            |value, limit| (value - limit).value() <= 1e-12,
                            &LIMITS
                        )
                    };
                    self.cure(verdict, c.key);
                }
                Unit::Length => {
                    let value = self.mm(c.key, c.value);
                    if c.side == Limit::Told {
                        continue;
                    }
                    let limit =
                        self.book.tabled(format_args!("{name}.limit"), Length::mm(c.limit), c.says, &LIMITS);
                    let verdict = if c.side == Limit::AtLeast {
                        judge!(
                            self.book,
                            format_args!("{name}.kept"),
                            c.says,
                            |value, limit| (value - limit).value() >= -1e-12,
                            &LIMITS
                        )
                    } else {
                        judge!(
                            self.book,
                            format_args!("{name}.kept"),
                            c.says,
                            |value, limit| (value - limit).value() <= 1e-12,
                            &LIMITS
                        )
                    };
                    self.cure(verdict, c.key);
                }
            }
        }
    }
    fn cure(&mut self, verdict: Val<bool>, key: &str) {
        if verdict.bare() {
            return;
        }
        let cure = match key {
            "drop_out" | "drop_in" => "more drop; thinner tips leave room for it",
            "drops_apart" => "a span of a whole number and a half, and the arbor at its distance",
            "lock_depth" => "more lock, or a larger wheel: the lock grows with the arm",
            "dead_face" => "a smaller running arc",
            "nib_depth" => "a smaller running arc, or a smaller lift",
            "behind_nib" => "more drop, or a smaller running arc",
            "front_clear" => "a wheel of more teeth, or more drop: narrower pallets lean less",
            "lift_over_lock" => "less lock than lift",
            "recoil" => "a smaller running arc, or a larger let-off",
            "push_arm" => "a smaller span, or a smaller running arc",
            "gap" | "nib_thickness" => "thinner pins, fewer of them, or less drop",
            "lead" => "more lift, or thinner pins",
            _ => "look at the sizes of the escapement",
        };
        self.book.cure(verdict.id(), cure);
    }
}
/// Takes the works through a cycle; what never goes is a trouble.
pub(super) fn cycled(
    c: &Common<'_>,
    works: &Works,
    book: &Book,
    troubles: &mut Vec<Trouble>,
) -> Option<Cycle> {
    let e = c.e;
    let found = works.cycle(e.running_arc.bare().value(), STEPS);
    let (says, why, cure, at) = match found.state {
        State::Goes => return Some(found),
        State::NeverUnlocks { side } => (
            format!("the {} pallet never lets its tooth go", side.word()),
            format!("the outlines were taken through a swing of {} to either side", e.running_arc.shown()),
            "a larger running_arc, or less lift and lock",
            e.running_arc_at.clone(),
        ),
        State::Trips { side, pallets } => (
            format!("the wheel runs: when the {} pallet lets off, the other does not stop it", side.word()),
            format!("at {} of the pallets neither pallet stands in the way of the teeth", degrees(pallets)),
            "more lock; the arbor at its distance",
            place(book, e.lock.map_or(e.running_arc.id(), |l| l.id()), e),
        ),
        State::Binds { side, pallets } => (
            format!("both pallets hold the wheel at once: the {} nib meets a tooth", side.word()),
            format!("at {} of the pallets; the drop is used up", degrees(pallets)),
            "more drop, or thinner tips",
            place(book, e.drop.id(), e),
        ),
    };
    troubles.push(Trouble::design(says).at(at).why(why).cure(cure));
    None
}
/// The beats of a cycle in the book, beside what was set out: the table of both.
pub(super) fn beats(
    enter: &mut Enter<'_>,
    cycle: &Cycle,
    set: &[(&str, [Option<f64>; 2])],
    lets_off: f64,
) -> Id {
    let mut rows = Vec::new();
    let mut ids = Vec::new();
    enter.source = &CYCLE;
    enter.how = "outlines swung to and fro, each event found by halving";
    for (what, wanted) in set {
        let mut row = vec![Cell::word((*what).to_owned())];
        for (side, wanted) in SIDES.into_iter().zip(wanted) {
            let got = cycle.beat(side).map(|b| match *what {
                "lock" => b.lock,
                "lift" => b.lift,
                "drop" => b.drop,
                "recoil" => b.recoil,
                "pushes" => b.pushes,
                _ => b.run,
            });
            row.push(wanted.map_or_else(|| Cell::word(""), |w| Cell::of(&Angle::si(tidy(w)))));
            row.push(match got {
                Some(v) => {
                    let v = enter.angle(&format!("cycled.{}.{what}", side.word()), tidy(v));
                    ids.push(v.id());
                    Cell::of(&v.bare())
                }
                None => Cell::word(""),
            });
            if let (Some(w), Some(g)) = (wanted, got) {
                let (name, says) = (
                    format!("escapement.cycled.{}.{what}", side.word()),
                    format!("the outlines give the {what} of the {} pallet that was set out", side.word()),
                );
                let wanted = enter.angle(&format!("cycled.{}.{what}.set_out", side.word()), tidy(*w));
                let found = enter.angle(&format!("cycled.{}.{what}.off", side.word()), tidy(g - w));
                let verdict = judge!(
                    enter.book,
                    format_args!("{name}.agrees"),
                    says,
                    |found, wanted| found.abs().value() <= 2e-4 + 1e-3 * wanted.abs().value(),
                    &CYCLE
                );
                if !verdict.bare() {
                    enter.book.cure(
                        verdict.id(),
                        "thinner tips or more drop, so that the heel passes the corner freely",
                    );
                }
            }
        }
        rows.push(row);
    }
    let off = enter.angle("lets_off", lets_off);
    ids.push(off.id());
    if let Some(behind) = cycle.behind {
        let room = enter.angle("room_behind", tidy(behind.gap));
        let free = judge!(
            enter.book,
            "escapement.room_behind.kept",
            "the nibs pass behind the teeth",
            |room| room.value() > 0.0,
            &CYCLE
        );
        if !free.bare() {
            enter.book.cure(free.id(), "more drop, or a smaller running arc");
        }
    }
    if let Some(under) = cycle.under {
        let room = enter.mm("room_under", under.gap);
        let free = judge!(
            enter.book,
            "escapement.room_under.kept",
            "the nibs stay clear of the bottom of the tooth spaces",
            |room| room.in_mm() >= 0.2,
            &CYCLE
        );
        if !free.bare() {
            enter.book.cure(free.id(), "a smaller running arc");
        }
    }
    enter.book.table(
        "escapement.cycled",
        &["", "entry, set out", "entry, cycled", "exit, set out", "exit, cycled"],
        rows,
        "the real outlines taken through a whole swing at the running arc, the wheel always pushed on",
        ids,
        &CYCLE,
    )
}
/// Without the last bits of a search.
fn tidy(a: f64) -> f64 {
    let step = 1e-9;
    let r = (a / step).round() * step;
    if r.abs() < 1e-8 { 0.0 } else { r }
}
/// An angle for 0.01 mm in a table, in degrees with its sign.
pub(super) fn slope_cell(radians_per_mm: f64) -> Cell {
    let a = Angle::si(radians_per_mm * 0.01);
    let d = a.in_deg();
    let text = reckon::print::fixed(d.abs(), 3);
    let zero = text.chars().all(|c| c == '0' || c == '.');
    let sign = if zero {
        ""
    } else if d < 0.0 {
        "−"
    } else {
        "+"
    };
    Cell::as_text(&a, if zero { "0".to_owned() } else { format!("{sign}{text}°") })
}
