//! Where a rigid wire truly seats in a screw thread.
//!
//! The flank is straight in the section through the axis and swept along the
//! helix. The wire is a straight cylinder whose axis crosses the middle of the
//! groove and may tilt; a flat anvil presses it inward until it can go no
//! further. Both flanks mirror each other about the radial line through the
//! middle of the groove, so one contact is enough.

use reckon::{Angle, Diameter, Length, maths};

/// A wire at rest.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Seat {
    /// Reading over the wires.
    pub reading: Diameter,
    /// Tilt of the wire from square to the axis.
    pub tilt: Angle,
    /// Steps taken.
    pub rounds: u32,
    /// Largest of the three equations left over, in millimetres or as a slope.
    pub residual: f64,
}
struct Groove {
    /// Pitch radius, quarter pitch, advance for one radian, slope of the flank, wire radius; mm.
    r2: f64,
    quarter: f64,
    advance: f64,
    slope: f64,
    wire: f64,
}
impl Groove {
    /// At flank point (r, φ) and wire tilt ψ: how far out the wire's axis must lie to clear the point, then the
    /// slopes of that in r and φ, then how far along the wire the contact is.
    fn at(&self, [r, phi, psi]: [f64; 3]) -> Option<(f64, [f64; 3])> {
        let (sf, cf) = (maths::sin(phi), maths::cos(phi));
        let (sp, cp) = (maths::sin(psi), maths::cos(psi));
        let z = self.quarter + self.advance * phi + (r - self.r2) * self.slope;
        let q = z * cp - r * sf * sp;
        let left = self.wire * self.wire - q * q;
        if left <= 0.0 {
            return None;
        }
        let s = left.sqrt();
        let by_r = cf - q / s * (self.slope * cp - sf * sp);
        let by_phi = -r * sf - q / s * (self.advance * cp - r * cf * sp);
        Some((r * cf + s, [by_r, by_phi, r * sf * cp + z * sp]))
    }
}
/// Solves three linear equations; nothing when they are not independent.
fn solve([a, b, c]: [[f64; 3]; 3], right: [f64; 3]) -> Option<[f64; 3]> {
    let cross = |u: [f64; 3], v: [f64; 3]| {
        [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]]
    };
    let dot = |u: [f64; 3], v: [f64; 3]| u[0] * v[0] + u[1] * v[1] + u[2] * v[2];
    // Columns a, b, c.
    let det = dot(a, cross(b, c));
    (det.abs() > 1e-300).then(|| {
        [dot(right, cross(b, c)) / det, dot(a, cross(right, c)) / det, dot(a, cross(b, right)) / det]
    })
}
/// Seats a wire by Newton's method on: no slope along the flank either way, and contact opposite the middle of the
/// wire (so that the wire does not rock).
///
/// `None` when the wire is too thin or too thick to rest on both flanks.
#[must_use]
pub fn seat(
    pitch_diameter: Diameter,
    pitch: Length,
    lead: Length,
    half_angle: Angle,
    wire: Length,
) -> Option<Seat> {
    let groove = Groove {
        r2: pitch_diameter.in_mm() / 2.0,
        quarter: pitch.in_mm() / 4.0,
        advance: lead.in_mm() / (2.0 * maths::PI),
        slope: half_angle.tan(),
        wire: wire.in_mm() / 2.0,
    };
    let tilt = maths::atan(groove.advance / groove.r2);
    // Contact in the plain section: W/2 sin a below the wire's centre.
    let centre = groove.r2 - groove.quarter / groove.slope + groove.wire / half_angle.sin();
    let mut x = [centre - groove.wire * half_angle.sin(), 0.0, tilt];
    let mut rounds = 0;
    loop {
        let (out, f) = groove.at(x)?;
        let residual = f.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
        if residual < 1e-13 || rounds == 40 {
            let reading = Diameter::mm(2.0 * (out + groove.wire));
            return (residual < 1e-9).then(|| Seat { reading, tilt: Angle::si(x[2]), rounds, residual });
        }
        let mut columns = [[0.0; 3]; 3];
        for (i, column) in columns.iter_mut().enumerate() {
            let h = 1e-6;
            let (mut up, mut down) = (x, x);
            up[i] += h;
            down[i] -= h;
            let (u, d) = (groove.at(up)?.1, groove.at(down)?.1);
            *column = [0, 1, 2].map(|k| (u[k] - d[k]) / (2.0 * h));
        }
        let step = solve(columns, f)?;
        x = [0, 1, 2].map(|k| x[k] - step[k]);
        rounds += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::super::wires::{best_wire, over_wires};
    use super::*;

    /// Without a helix the wire seats where plane geometry says.
    #[test]
    fn a_groove_without_lead_is_plane() {
        let (d2, p, a) = (Diameter::mm(5.4), Length::mm(1.0), Angle::deg(23.75));
        let w = best_wire(p, a);
        let s = seat(d2, p, Length::ZERO, a, w).unwrap();
        assert!((s.reading - over_wires(d2, p, a, w)).in_mm().abs() < 1e-12);
        assert!(s.tilt.value().abs() < 1e-12);
    }
    #[test]
    fn a_wire_that_drops_through_is_refused() {
        let wild =
            seat(Diameter::mm(0.3), Length::mm(2.0), Length::mm(40.0), Angle::deg(30.0), Length::mm(5.0));
        assert!(wild.is_none() || wild.is_some_and(|s| s.residual < 1e-9));
    }
}
