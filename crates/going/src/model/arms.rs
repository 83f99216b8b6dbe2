//! A grasshopper's struts become what each arm does at each angle of its frame.

use super::faces::Faces;
use crate::poly::Poly;
use crate::works::{Pallet, Piece, Side};
use escapement::grasshopper::{Fault, Linkage, Side as Arm};

/// Furthest from the middle that is looked at.
const FAR: f64 = 0.3;
/// Pieces that an arm's way is cut into: short enough for polynomials that are true to rounding.
const PIECES: usize = 4;

/// The arm of a side.
#[must_use]
pub const fn arm(side: Side) -> Arm {
    match side {
        Side::Entry => Arm::Entry,
        Side::Exit => Arm::Exit,
    }
}
/// What a linkage does: no friction, since nothing slides; what its joints take is left to the share beyond it.
///
/// # Errors
/// Why its arms do not catch in turn.
pub fn arms(of: &Linkage) -> Result<Faces, Fault> {
    let captures = of.captures(FAR)?;
    let pallets = [Side::Entry, Side::Exit].map(|side| {
        let sense = arm(side).turn();
        let off = match side {
            Side::Entry => sense * captures.exit,
            Side::Exit => sense * captures.entry,
        };
        let pose =
            |x: f64| of.pose(arm(side), sense * x).filter(|p| p.wheel_arm < 0.0 && p.ratio() * sense > 0.0);
        // The far end of the recoil: a little before a strut comes to its dead point or off the circle.
        let mut from = 0.0;
        while from > -FAR && pose(from - 0.002).is_some() {
            from -= 0.002;
        }
        let pieces = (0..PIECES)
            .map(|k| {
                let at = |k: usize| from + (off - from) * k as f64 / PIECES as f64;
                let (a, b) = (at(k), at(k + 1));
                let turn = |x: f64| pose(x).map_or(0.0, |p| p.wheel);
                let ratio = |x: f64| pose(x).map_or(0.0, |p| p.ratio() * sense);
                let ratio = Poly::through(a, b, 10, ratio).0;
                Piece {
                    from: a,
                    to: b,
                    turn: Poly::through(a, b, 11, turn).0,
                    onward: ratio.clone(),
                    back: ratio,
                }
            })
            .collect();
        Pallet { pieces }
    });
    let (pitch, span) = (of.pitch(), f64::from(of.span));
    Ok(Faces { pallets, ahead: [-span * pitch, (span + 1.0) * pitch] })
}
