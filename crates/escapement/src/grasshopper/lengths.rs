//! Lengths of twin-jointed arms for wanted changes of torque.

use reckon::maths::{exp, ln};

use super::linkage::{Action, Side};
use super::solve::{Design, Joints, NoSolution, Solved, scan, solve};

/// Torque on the frame as an arm lets go, over that as it catches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quotients {
    /// Of the entry arm.
    pub entry: f64,
    /// Of the exit arm.
    pub exit: f64,
}

impl Solved {
    /// End over start of an arm, at the arc it was designed for.
    #[must_use]
    pub fn quotient(&self, side: Side, half_arc: f64) -> Option<f64> {
        let from = -side.turn() * half_arc;
        Some(self.linkage.pose(side, -from)?.ratio() / self.linkage.pose(side, from)?.ratio())
    }
}

/// Finds both lengths so that the torque grows over each beat as wanted. The lengths in `design.joints` are where
/// the search begins; single joints have no lengths to choose.
///
/// # Errors
/// When the quotients cannot be had within a tenth to ten times the tip radius, or the design has no solution.
pub fn lengths_for(design: &Design, wanted: Quotients) -> Result<(Design, Solved), NoSolution> {
    let Joints::Twin { entry, entry_action, exit, exit_action } = design.joints else {
        return Err(NoSolution {
            why: "on a single joint the lengths follow from the rest and cannot be chosen".into(),
            cure: Some("twin joints".into()),
        });
    };
    if !(wanted.entry > 0.1 && wanted.entry < 10.0 && wanted.exit > 0.1 && wanted.exit < 10.0) {
        return Err(NoSolution {
            why: "end over start must lie between 0.1 and 10".into(),
            cure: Some("1.5 for a torque that grows by a half over the beat".into()),
        });
    }
    solve(design)?;
    let with = |x: [f64; 2]| Design {
        joints: Joints::Twin { entry: exp(x[0]), entry_action, exit: exp(x[1]), exit_action },
        ..*design
    };
    let amiss = |x: [f64; 2]| -> Option<[f64; 2]> {
        let s = solve(&with(x)).ok()?;
        let e = design.half_arc;
        Some([s.quotient(Side::Entry, e)? - wanted.entry, s.quotient(Side::Exit, e)? - wanted.exit])
    };
    let begin = [ln(entry), ln(exit)];
    let found = newton(&amiss, begin).or_else(|| by_turns(&amiss, begin, design.tip_radius));
    let Some(x) = found else { return Err(out_of_reach(design, wanted)) };
    let tuned = with(x);
    let solved = solve(&tuned)?;
    Ok((tuned, solved))
}

fn newton(amiss: &impl Fn([f64; 2]) -> Option<[f64; 2]>, mut x: [f64; 2]) -> Option<[f64; 2]> {
    let size = |f: &[f64; 2]| f[0].abs().max(f[1].abs());
    let mut f = amiss(x)?;
    for _ in 0..40 {
        if size(&f) < 1e-11 {
            break;
        }
        let h = 1e-4;
        let (a, b) = (amiss([x[0] + h, x[1]])?, amiss([x[0], x[1] + h])?);
        let (c, d) = (amiss([x[0] - h, x[1]])?, amiss([x[0], x[1] - h])?);
        let m = [
            [(a[0] - c[0]) / (2.0 * h), (b[0] - d[0]) / (2.0 * h)],
            [(a[1] - c[1]) / (2.0 * h), (b[1] - d[1]) / (2.0 * h)],
        ];
        let det = m[0][0] * m[1][1] - m[0][1] * m[1][0];
        if det.abs() < 1e-12 {
            return None;
        }
        let step = [(f[0] * m[1][1] - f[1] * m[0][1]) / det, (f[1] * m[0][0] - f[0] * m[1][0]) / det];
        // No step beyond twice or half the length.
        let mut share = (0.7 / step[0].abs().max(step[1].abs())).min(1.0);
        loop {
            let next = [x[0] - share * step[0], x[1] - share * step[1]];
            match amiss(next).filter(|g| size(g) < size(&f)) {
                Some(g) => {
                    (x, f) = (next, g);
                    break;
                }
                None if share < 1e-3 => return (size(&f) < 1e-8).then_some(x),
                None => share /= 2.0,
            }
        }
    }
    (size(&f) < 1e-8).then_some(x)
}

/// Each length in turn between brackets: slower, but led by no slope.
fn by_turns(amiss: &impl Fn([f64; 2]) -> Option<[f64; 2]>, mut x: [f64; 2], radius: f64) -> Option<[f64; 2]> {
    let (low, high) = (ln(radius / 10.0), ln(radius * 10.0));
    for _ in 0..4 {
        for k in 0..2 {
            let one = |v: f64| {
                let mut y = x;
                y[k] = v;
                amiss(y).map(|f| f[k])
            };
            x[k] = scan(one, low, high, 16)?;
        }
        if let Some(better) = newton(amiss, x) {
            return Some(better);
        }
    }
    None
}

/// Says how far the quotients go with like lengths from a tenth to ten times the tip radius.
fn out_of_reach(design: &Design, wanted: Quotients) -> NoSolution {
    let mut least = Quotients { entry: f64::INFINITY, exit: f64::INFINITY };
    let mut most = Quotients { entry: 0.0, exit: 0.0 };
    for k in 0..=20 {
        let length = design.tip_radius * exp(ln(10.0) * (f64::from(k) / 10.0 - 1.0));
        let joints = match design.joints {
            Joints::Twin { entry_action, exit_action, .. } => {
                Joints::Twin { entry: length, entry_action, exit: length, exit_action }
            }
            Joints::Single => Joints::Twin {
                entry: length,
                entry_action: Action::Push,
                exit: length,
                exit_action: Action::Pull,
            },
        };
        let Ok(s) = solve(&Design { joints, ..*design }) else { continue };
        for side in Side::BOTH {
            let Some(q) = s.quotient(side, design.half_arc) else { continue };
            let (low, high) = match side {
                Side::Entry => (&mut least.entry, &mut most.entry),
                Side::Exit => (&mut least.exit, &mut most.exit),
            };
            (*low, *high) = (low.min(q), high.max(q));
        }
    }
    NoSolution {
        why: format!(
            "no lengths from a tenth to ten times the tip radius give end over start {:.4} at the entry and {:.4} at the exit",
            wanted.entry, wanted.exit
        ),
        cure: (most.entry > 0.0).then(|| {
            format!(
                "with arms of like length the entry goes from {:.3} to {:.3} and the exit from {:.3} to {:.3}",
                least.entry, most.entry, least.exit, most.exit
            )
        }),
    }
}
