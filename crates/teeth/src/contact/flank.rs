//! The driving flank as a chain of smooth pieces.

use crate::curve::{Form, Leaf, Roll, Wheel};
use crate::involute::Involute;
use reckon::maths::{PI, atan2, cos, sin};

/// Points in each piece; between them the flank follows a cubic.
const POINTS: usize = 49;

/// A smooth piece of flank: points at equal steps of a parameter that counts them from 0.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Piece {
    points: Vec<(f64, f64)>,
    /// Where it stops, in steps: the last point, or earlier when the tip is cropped.
    pub end: f64,
}

impl Piece {
    fn new(points: Vec<(f64, f64)>) -> Piece {
        let end = steps(points.len() - 1);
        Piece { points, end }
    }
    /// The four points about a place, and how far beyond the first.
    fn about(&self, s: f64) -> (&[(f64, f64)], f64) {
        let last = self.points.len() - 4;
        let i = whole(s - 1.0).min(last);
        (&self.points[i..i + 4], s - steps(i))
    }
    /// The points, of which those up to `end` belong to the flank.
    pub fn points(&self) -> &[(f64, f64)] {
        &self.points
    }
    /// Point at a place along the piece.
    pub fn at(&self, s: f64) -> (f64, f64) {
        let (p, u) = self.about(s);
        let (a, b, c) = (u - 1.0, u - 2.0, u - 3.0);
        let w = [-a * b * c / 6.0, u * b * c / 2.0, -u * a * c / 2.0, u * a * b / 6.0];
        weighed(p, w)
    }
    /// Direction of the piece at a place, from root to tip, not of unit length.
    pub fn along(&self, s: f64) -> (f64, f64) {
        let (p, u) = self.about(s);
        let (a, b, c) = (u - 1.0, u - 2.0, u - 3.0);
        let w = [
            -(b * c + a * c + a * b) / 6.0,
            (b * c + u * c + u * b) / 2.0,
            -(a * c + u * c + u * a) / 2.0,
            (a * b + u * b + u * a) / 6.0,
        ];
        weighed(p, w)
    }
}

fn weighed(p: &[(f64, f64)], w: [f64; 4]) -> (f64, f64) {
    (
        p[0].0 * w[0] + p[1].0 * w[1] + p[2].0 * w[2] + p[3].0 * w[3],
        p[0].1 * w[0] + p[1].1 * w[1] + p[2].1 * w[2] + p[3].1 * w[3],
    )
}

#[expect(clippy::cast_precision_loss, reason = "counts of points stay far below 2^52")]
pub(super) fn steps(i: usize) -> f64 {
    i as f64
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "small and not negative")]
fn whole(s: f64) -> usize {
    s.max(0.0) as usize
}

fn plane(rho: f64, angle: f64) -> (f64, f64) {
    (rho * cos(angle), rho * sin(angle))
}

/// `POINTS` points of a curve told by a share from 0 to 1.
fn drawn(curve: impl Fn(f64) -> (f64, f64)) -> Piece {
    Piece::new((0..POINTS).map(|i| curve(steps(i) / steps(POINTS - 1))).collect())
}

fn radial(from: f64, to: f64, half: f64) -> Piece {
    drawn(|u| plane(from + (to - from) * u, half))
}

/// A flank of a wheel, turned so that its point on the pitch circle lies at angle 0.
pub(super) fn of_wheel(wheel: &Wheel) -> Vec<Piece> {
    let half = wheel.pitch_half_angle();
    let foot = wheel.radial_to();
    if let Form::Lantern { pin_radius, backlash } = wheel.form()
        && let Ok(roll) = Roll::lantern(wheel.teeth(), wheel.mate(), pin_radius, backlash)
    {
        // The parallel curve from where it first runs forward, a sharp corner at its foot.
        let (from, to) = (roll.first_good(), roll.turn_at(wheel.tip_radius()));
        let curve = drawn(|u| {
            let (rho, h) = roll.at(from + (to - from) * u);
            plane(rho, h - half)
        });
        return vec![radial(wheel.root_radius(), foot, 0.0), curve];
    }
    let above: Vec<(f64, f64)> = wheel.flank(2 * POINTS)[POINTS..].to_vec();
    let above = above.iter().map(|&(rho, h)| plane(rho, h - half)).collect();
    vec![radial(wheel.root_radius(), foot, 0.0), Piece::new(above)]
}

/// A flank of a pinion's leaf that drives.
pub(super) fn of_leaf(leaf: &Leaf) -> Vec<Piece> {
    let half = leaf.pitch_half_angle();
    let (big, tip, a) = (leaf.pitch_radius(), leaf.tip_radius(), leaf.arc());
    let (cx, cy) = plane(a.distance, -a.past);
    let turn = |(x, y): (f64, f64)| atan2(y - cy, x - cx);
    let (b0, b1) = (turn(plane(big, half)), turn((tip, 0.0)));
    let arc = drawn(|u| {
        let b = b0 + (b1 - b0) * u;
        let (x, y) = (cx + a.radius * cos(b), cy + a.radius * sin(b));
        plane((x * x + y * y).sqrt(), atan2(y, x) - half)
    });
    vec![radial(leaf.root_radius(), big, 0.0), arc]
}

/// A flank of an involute tooth that drives, up to where its flanks would meet.
pub(super) fn of_involute(tooth: &Involute) -> Vec<Piece> {
    let half = tooth.tooth() / 2.0 / tooth.pitch_radius();
    let (base, root) = (tooth.base_radius(), tooth.root_radius());
    let tip = tooth.tip_radius().min(tooth.point_radius());
    let mut out = Vec::new();
    if root < base {
        out.push(radial(root, base, tooth.base_half_angle() - half));
    }
    // Equal steps of the length unrolled from the base circle.
    let unrolled = |rho: f64| (rho * rho - base * base).max(0.0).sqrt();
    let (u0, u1) = (unrolled(root.max(base)), unrolled(tip));
    out.push(drawn(|u| {
        let long = u0 + (u1 - u0) * u;
        let turned = long / base;
        let rho = (base * base + long * long).sqrt();
        plane(rho, tooth.base_half_angle() - (turned - atan2(long, base)) - half)
    }));
    out
}

/// The flank with the cutter held out by `out` along the axis of the space.
pub(super) fn moved_out(pieces: &mut [Piece], teeth: u32, half: f64, out: f64) {
    let (dx, dy) = plane(out, PI / f64::from(teeth) - half);
    for p in pieces.iter_mut().flat_map(|p| p.points.iter_mut()) {
        *p = (p.0 + dx, p.1 + dy);
    }
}

/// The flank cut off at a tip radius, and at the axis of the tooth where the two flanks meet.
pub(super) fn cropped(pieces: &mut Vec<Piece>, half: f64, tip: f64) {
    let stays = |(x, y): (f64, f64)| (x * x + y * y).sqrt() <= tip && atan2(y, x) >= -half - 1e-12;
    let keep = pieces.iter().position(|p| !stays(p.at(p.end)));
    let Some(i) = keep else { return };
    if i > 0 && !stays(pieces[i].at(0.0)) {
        pieces.truncate(i);
        return;
    }
    pieces.truncate(i + 1);
    let piece = &mut pieces[i];
    let (mut low, mut high) = (0.0, piece.end);
    for _ in 0..60 {
        let mid = f64::midpoint(low, high);
        if stays(piece.at(mid)) { low = mid } else { high = mid }
    }
    piece.end = low;
}
