//! What a hundredth of a millimetre does.

use kurbo::Vec2;

use super::cycle::{Cycle, Fault, cycle};
use super::linkage::{Linkage, Side};

/// Change for each millimetre that one length is too great: angles in radians, quotients of torque as they are.
#[derive(Clone, Debug, PartialEq)]
pub struct Sensitivity {
    /// The length, in words.
    pub length: &'static str,
    /// Angle of the frame at which the entry arm catches.
    pub entry_catch: f64,
    /// The same of the exit arm.
    pub exit_catch: f64,
    /// Recoil at the entry.
    pub entry_recoil: f64,
    /// Recoil at the exit.
    pub exit_recoil: f64,
    /// Ratio at the entry's catch, as a share of itself.
    pub entry_torque: f64,
    /// Ratio at the exit's catch, as a share of itself.
    pub exit_torque: f64,
    /// Stop of the entry composer.
    pub entry_stop: f64,
    /// Stop of the exit composer.
    pub exit_stop: f64,
}

impl Sensitivity {
    /// An angle's change in degrees for a hundredth of a millimetre.
    #[must_use]
    pub fn deg_per_hundredth(radians_per_mm: f64) -> f64 {
        radians_per_mm.to_degrees() * 0.01
    }
}

fn out(side: Side, by: f64, across: bool) -> impl Fn(&mut Linkage) {
    move |l| {
        let joint = &mut l.strut_mut(side).joint;
        let along = *joint / joint.hypot();
        let way = if across { Vec2::new(-along.y, along.x) } else { along };
        *joint += way * by;
    }
}

/// How captures, recoil, torque and stops answer to each length, one at a time, all others kept.
///
/// # Formula
/// The difference of two whole cycles, a length 0.001 mm too great and as much too small.
///
/// # Errors
/// A fault of the cycle.
pub fn sensitivities(linkage: &Linkage, swing: f64) -> Result<Vec<Sensitivity>, Fault> {
    const H: f64 = 1e-3;
    type Change = Box<dyn Fn(&mut Linkage)>;
    type Named = (&'static str, fn(f64) -> Change);
    let lengths: [Named; 8] = [
        ("distance of arbors", |h| Box::new(move |l| l.distance += h)),
        ("tip radius of the wheel", |h| Box::new(move |l| l.tip_radius += h)),
        ("entry arm", |h| Box::new(move |l| l.entry.length += h)),
        ("exit arm", |h| Box::new(move |l| l.exit.length += h)),
        ("entry joint outward", |h| Box::new(out(Side::Entry, h, false))),
        ("entry joint across", |h| Box::new(out(Side::Entry, h, true))),
        ("exit joint outward", |h| Box::new(out(Side::Exit, h, false))),
        ("exit joint across", |h| Box::new(out(Side::Exit, h, true))),
    ];
    let mut all = Vec::new();
    for (length, change) in lengths {
        let at = |h: f64| -> Result<Cycle, Fault> {
            let mut l = *linkage;
            change(h)(&mut l);
            cycle(&l, swing)
        };
        let (up, down) = (at(H)?, at(-H)?);
        let slope = |f: fn(&Cycle) -> f64| (f(&up) - f(&down)) / (2.0 * H);
        let share = |f: fn(&Cycle) -> f64| slope(f) / f(&up).midpoint(f(&down));
        all.push(Sensitivity {
            length,
            entry_catch: slope(|c| c.captures.entry),
            exit_catch: slope(|c| c.captures.exit),
            entry_recoil: slope(|c| c.entry.recoil),
            exit_recoil: slope(|c| c.exit.recoil),
            entry_torque: share(|c| c.entry.starts),
            exit_torque: share(|c| c.exit.starts),
            entry_stop: slope(|c| c.entry.stop),
            exit_stop: slope(|c| c.exit.stop),
        });
    }
    Ok(all)
}
