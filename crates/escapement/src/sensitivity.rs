//! What each size does to each lock, drop and lift.
//!
//! Central differences on the evaluation as made: plain millimetres and radians, so the figures are radians
//! per millimetre; [`PER_HUNDREDTH`] makes them degrees per 0.01 mm.

use crate::as_made::{Corners, Doing, Made};
use crate::check::Amiss;
use crate::dead_beat::Side;
use crate::frame::{TURN, left_of, unit};
use kurbo::Vec2;
use reckon::Source;
use reckon::maths::tan;

/// How the figures are had.
pub static SENSITIVITY: Source =
    Source::derived("central differences of locks, drops and lifts over each measured size");

/// From radians per millimetre to degrees per hundredth of a millimetre.
pub const PER_HUNDREDTH: f64 = 360.0 / TURN / 100.0;

/// A size that can be out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Size {
    /// Distance of the arbors.
    Centres,
    /// Radius over the tips.
    Radius,
    /// Width of the tips, along the tip circle.
    Tip,
    /// Length of the one tooth that stands on the entry pallet.
    ToothOnEntry,
    /// Length of the one tooth that stands on the exit pallet.
    ToothOnExit,
    /// A corner of the pallets (0 … 3: E1, E2, X1, X2) to the right.
    CornerX(usize),
    /// A corner away from the wheel.
    CornerY(usize),
    /// A corner's distance from the bore.
    CornerRadius(usize),
    /// A nib longer, both its corners moved along the ring into the wheel.
    NibLonger(Side),
    /// The two nibs wider apart, each turned by half about the bore; counted along the ring.
    NibsApart,
    /// An impulse plane built up along its normal, towards the wheel.
    PlaneBuiltUp(Side),
}
/// Names of the four corners.
pub const CORNERS: [&str; 4] = ["E1", "E2", "X1", "X2"];

impl Size {
    /// All sizes, in the order of a table.
    pub const ALL: [Size; 22] = [
        Size::Centres,
        Size::Radius,
        Size::Tip,
        Size::ToothOnEntry,
        Size::ToothOnExit,
        Size::CornerX(0),
        Size::CornerY(0),
        Size::CornerX(1),
        Size::CornerY(1),
        Size::CornerX(2),
        Size::CornerY(2),
        Size::CornerX(3),
        Size::CornerY(3),
        Size::CornerRadius(0),
        Size::CornerRadius(1),
        Size::CornerRadius(2),
        Size::CornerRadius(3),
        Size::NibLonger(Side::Entry),
        Size::NibLonger(Side::Exit),
        Size::NibsApart,
        Size::PlaneBuiltUp(Side::Entry),
        Size::PlaneBuiltUp(Side::Exit),
    ];
    /// What it is called.
    #[must_use]
    pub fn says(self) -> String {
        match self {
            Size::Centres => "centre distance".to_owned(),
            Size::Radius => "tip radius of the wheel".to_owned(),
            Size::Tip => "width of the tips".to_owned(),
            Size::ToothOnEntry => "length of the tooth on the entry pallet".to_owned(),
            Size::ToothOnExit => "length of the tooth on the exit pallet".to_owned(),
            Size::CornerX(i) => format!("{} to the right", CORNERS[i]),
            Size::CornerY(i) => format!("{} away from the wheel", CORNERS[i]),
            Size::CornerRadius(i) => format!("{} from the bore", CORNERS[i]),
            Size::NibLonger(s) => format!("length of the {} nib", s.word()),
            Size::NibsApart => "nibs apart".to_owned(),
            Size::PlaneBuiltUp(s) => format!("{} impulse plane towards the wheel", s.word()),
        }
    }
    /// Short name for an answer.
    #[must_use]
    pub fn key(self) -> String {
        match self {
            Size::Centres => "centres".to_owned(),
            Size::Radius => "radius".to_owned(),
            Size::Tip => "tip".to_owned(),
            Size::ToothOnEntry => "tooth_entry".to_owned(),
            Size::ToothOnExit => "tooth_exit".to_owned(),
            Size::CornerX(i) => format!("{}_x", CORNERS[i].to_lowercase()),
            Size::CornerY(i) => format!("{}_y", CORNERS[i].to_lowercase()),
            Size::CornerRadius(i) => format!("{}_r", CORNERS[i].to_lowercase()),
            Size::NibLonger(s) => format!("nib_{}", s.word()),
            Size::NibsApart => "nibs_apart".to_owned(),
            Size::PlaneBuiltUp(s) => format!("plane_{}", s.word()),
        }
    }
    /// The escapement with this size larger by `by` millimetres, evaluated.
    ///
    /// # Errors
    /// A corner that the tips then never reach.
    pub fn moved(self, made: &Made, by: f64) -> Result<Doing, Amiss> {
        let mut m = *made;
        let mut tips = [made.radius; 4];
        match self {
            Size::Centres => m.centres += by,
            Size::Radius => {
                m.radius += by;
                tips = [m.radius; 4];
            }
            Size::Tip => m.tip += by / made.radius,
            Size::ToothOnEntry => tips = [made.radius + by, made.radius + by, made.radius, made.radius],
            Size::ToothOnExit => tips = [made.radius, made.radius, made.radius + by, made.radius + by],
            Size::CornerX(i) => each(&mut m.corners, |n, c| if n == i { c + Vec2::new(by, 0.0) } else { c }),
            Size::CornerY(i) => each(&mut m.corners, |n, c| if n == i { c + Vec2::new(0.0, by) } else { c }),
            Size::CornerRadius(i) => each(&mut m.corners, |n, c| if n == i { c + unit(c) * by } else { c }),
            Size::NibLonger(side) => turn_nib(&mut m.corners, side, by),
            Size::NibsApart => {
                turn_nib(&mut m.corners, Side::Entry, -by / 2.0);
                turn_nib(&mut m.corners, Side::Exit, -by / 2.0);
            }
            Size::PlaneBuiltUp(side) => {
                let c = m.corners;
                let (from, to, first) = match side {
                    Side::Entry => (c.e1, c.e2, 0),
                    Side::Exit => (c.x1, c.x2, 2),
                };
                // The wheel lies on the −y side of both planes.
                let n = left_of(unit(to - from));
                let n = if n.y < 0.0 { n } else { -n };
                each(&mut m.corners, |i, c| if i == first || i == first + 1 { c + n * by } else { c });
            }
        }
        m.evaluated_with(tips)
    }
}
fn each(c: &mut Corners, f: impl Fn(usize, Vec2) -> Vec2) {
    *c = Corners { e1: f(0, c.e1), e2: f(1, c.e2), x1: f(2, c.x1), x2: f(3, c.x2) };
}
/// Turns a nib about the bore, further into the wheel by `by` millimetres along the middle of the ring.
fn turn_nib(c: &mut Corners, side: Side, by: f64) {
    let mean = |a: Vec2, b: Vec2| f64::midpoint(crate::frame::length(a), crate::frame::length(b));
    match side {
        Side::Entry => {
            let a = by / mean(c.e1, c.e2);
            (c.e1, c.e2) = (crate::frame::turned(c.e1, a), crate::frame::turned(c.e2, a));
        }
        Side::Exit => {
            let a = -by / mean(c.x1, c.x2);
            (c.x1, c.x2) = (crate::frame::turned(c.x1, a), crate::frame::turned(c.x2, a));
        }
    }
}

/// What one size does: slopes in radians per millimetre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slope {
    /// The size.
    pub size: Size,
    /// On the lock of the entry pallet.
    pub lock_entry: f64,
    /// On the lock of the exit pallet.
    pub lock_exit: f64,
    /// On the drop when the entry pallet lets off.
    pub drop_out: f64,
    /// On the drop when the exit pallet lets off.
    pub drop_in: f64,
    /// On the lift of the entry pallet.
    pub lift_entry: f64,
    /// On the lift of the exit pallet.
    pub lift_exit: f64,
}
/// The slope of everything over one size.
///
/// # Formula
/// (f(x + h) − f(x − h)) / 2h, h = 10⁻⁴ of the tip radius.
///
/// # Errors
/// A corner that the tips never reach.
pub fn slope(made: &Made, size: Size) -> Result<Slope, Amiss> {
    let h = 1e-4 * made.radius;
    let (a, b) = (size.moved(made, -h)?, size.moved(made, h)?);
    let d = |f: fn(&Doing) -> f64| (f(&b) - f(&a)) / (2.0 * h);
    Ok(Slope {
        size,
        lock_entry: d(|x| x.lock_entry),
        lock_exit: d(|x| x.lock_exit),
        drop_out: d(|x| x.drop_out),
        drop_in: d(|x| x.drop_in),
        lift_entry: d(|x| x.lift_entry),
        lift_exit: d(|x| x.lift_exit),
    })
}
/// The slopes over every size.
///
/// # Errors
/// A corner that the tips never reach.
pub fn slopes(made: &Made) -> Result<Vec<Slope>, Amiss> {
    Size::ALL.into_iter().map(|s| slope(made, s)).collect()
}

/// Wear of an escapement that ran.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Wear {
    /// Depth worn into the entry pallet, impulse plane and dead face alike.
    pub entry_pit: f64,
    /// Depth worn into the exit pallet.
    pub exit_pit: f64,
    /// Length worn off every tip.
    pub tips: f64,
    /// Front and back of the teeth behind the radius: a shorter tooth has a wider tip.
    pub undercut: f64,
    /// Back of the teeth behind the radius.
    pub back: f64,
}
/// The escapement after wear, as it would be measured.
///
/// # Formula
/// A worn plane moves along its normal away from the wheel; a worn dead face moves along the radius of the
/// pallets, inward at the entry, outward at the exit; tips lose length and gain (tan back − tan front) of it in width.
#[must_use]
pub fn worn(made: &Made, wear: &Wear) -> Made {
    let mut m = *made;
    m.radius -= wear.tips;
    m.tip = (made.tip * made.radius + wear.tips * (tan(wear.back) - tan(wear.undercut))) / m.radius;
    let c = &mut m.corners;
    let plane = |from: Vec2, to: Vec2| {
        let n = left_of(unit(to - from));
        if n.y < 0.0 { -n } else { n }
    };
    let (ne, nx) = (plane(c.e1, c.e2), plane(c.x1, c.x2));
    // The dead face shifts the lock corner along the plane as well: slide it until its radius is right.
    let entry = (c.e1 + ne * wear.entry_pit, c.e2 + ne * wear.entry_pit);
    let exit = (c.x1 + nx * wear.exit_pit, c.x2 + nx * wear.exit_pit);
    c.e2 = entry.1;
    c.x2 = exit.1;
    c.e1 = slid(entry.0, entry.1, crate::frame::length(c.e1) - wear.entry_pit);
    c.x1 = slid(exit.0, exit.1, crate::frame::length(c.x1) + wear.exit_pit);
    m
}
/// The point of the line through two points that lies `r` from the bore, nearest to the first.
fn slid(p: Vec2, q: Vec2, r: f64) -> Vec2 {
    let u = unit(q - p);
    let foot = p - u * p.dot(u);
    let half = r * r - foot.hypot2();
    if half <= 0.0 {
        return p;
    }
    let (a, b) = (foot + u * half.sqrt(), foot - u * half.sqrt());
    if (a - p).hypot2() < (b - p).hypot2() { a } else { b }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dead_beat::{DeadBeat, Sizes};

    fn made() -> Made {
        let d = TURN / 360.0;
        DeadBeat::new(Sizes {
            teeth: 30,
            span: 7,
            radius: 25.0,
            lift: 2.0 * d,
            lock: 0.5 * d,
            drop: 1.5 * d,
            tip: 0.3 * d,
            arc: 2.5 * d,
        })
        .expect("sound sizes")
        .made()
    }
    #[test]
    fn closer_arbors_lock_deeper() {
        let s = slope(&made(), Size::Centres).expect("meets");
        // 0.05 mm closer: locks +0.15 and +0.17, drop out +0.16, drop in −0.16 degrees.
        let five = |x: f64| -5.0 * x * PER_HUNDREDTH;
        for (got, want) in
            [(s.lock_entry, 0.15), (s.lock_exit, 0.174), (s.drop_out, 0.162), (s.drop_in, -0.162)]
        {
            assert!((five(got) - want).abs() < 0.003, "{} {want}", five(got));
        }
    }
    #[test]
    fn slopes_foretell_small_changes() {
        let m = made();
        let now = m.evaluated().expect("meets");
        for size in Size::ALL {
            let s = slope(&m, size).expect("meets");
            let then = size.moved(&m, 0.004).expect("meets");
            for (got, want) in [
                (then.lock_entry - now.lock_entry, s.lock_entry),
                (then.lock_exit - now.lock_exit, s.lock_exit),
                (then.drop_out - now.drop_out, s.drop_out),
                (then.drop_in - now.drop_in, s.drop_in),
                (then.lift_entry - now.lift_entry, s.lift_entry),
                (then.lift_exit - now.lift_exit, s.lift_exit),
            ] {
                assert!((got - want * 0.004).abs() < 2e-6, "{size:?} {got} {}", want * 0.004);
            }
        }
        // A corner moved along its radius is the corner moved by both its parts.
        let c = m.corners.e1;
        let u = unit(c);
        let of = |z| slope(&m, z).expect("meets").lock_entry;
        let sum = u.x * of(Size::CornerX(0)) + u.y * of(Size::CornerY(0));
        assert!((sum - of(Size::CornerRadius(0))).abs() < 1e-7);
    }
    #[test]
    fn wear_lets_the_wheel_deeper_and_takes_lock() {
        let m = made();
        let now = m.evaluated().expect("meets");
        let pit = Wear { entry_pit: 0.03, ..Wear::default() };
        let then = worn(&m, &pit).evaluated().expect("meets");
        assert!(then.lock_exit < now.lock_exit, "the entry lets off earlier");
        let tips = Wear { tips: 0.05, undercut: 0.14, back: 0.35, ..Wear::default() };
        let then = worn(&m, &tips).evaluated().expect("meets");
        assert!(then.lock_entry < now.lock_entry && then.lock_exit < now.lock_exit);
        assert_eq!(worn(&m, &Wear::default()).corners.e2, m.corners.e2);
    }
}
