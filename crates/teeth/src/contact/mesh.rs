//! The one-dimensional kernel: what angle of the driven wheel a driving tooth demands.

use super::flank::steps;
use super::{Driven, Pair};
use reckon::maths::{PI, atan2, cos, sin};

/// Steps between the points first looked at.
const STRIDE: usize = 8;
/// Climbs towards a summit, at most.
const CLIMBS: u32 = 40;
/// A summit is found to this part of a step.
const CLOSE: f64 = 1e-4;

/// A pair set at a distance.
pub(super) struct Mesh<'a> {
    pub pair: &'a Pair,
    /// Distance of the centres.
    pub centres: f64,
    /// Pitch angle of the driver.
    pub pitch: f64,
    /// Teeth of the driver over teeth of the driven.
    pub ratio: f64,
    tip: f64,
    half: f64,
}

/// Where a tooth touches and what it demands.
#[derive(Clone, Copy, Debug)]
pub(super) struct Touch {
    /// Angle of the driven wheel, from where its flank's pitch point stands on the line of centres.
    pub angle: f64,
    /// The same less what even motion wants.
    pub error: f64,
    piece: usize,
    place: f64,
    /// The driver bears with its tip.
    pub driver_tip: bool,
    /// The driven tooth is touched on its tip.
    pub driven_tip: bool,
}

/// The touch with its forces.
#[derive(Clone, Copy, Debug)]
pub(super) struct Push {
    /// Speed of the driven over speed of the driver, by the even ratio.
    pub speed: f64,
    /// Share of work that passes.
    pub efficiency: f64,
    /// Torque on the driven by the frictionless torque of even motion.
    pub torque: f64,
    /// Height of the touch beyond the line of centres.
    pub beyond: f64,
}

impl<'a> Mesh<'a> {
    pub fn new(pair: &'a Pair, offset: f64) -> Mesh<'a> {
        Mesh {
            pair,
            centres: pair.driver_pitch + pair.driven.pitch_radius() + offset,
            pitch: 2.0 * PI / f64::from(pair.driver_teeth),
            ratio: f64::from(pair.driver_teeth) / f64::from(pair.driven.teeth()),
            tip: pair.driven_tip,
            half: pair.driven.half_at_pitch(),
        }
    }
    /// Angle of the driven tooth's axis that a point of the driver demands; nothing where it does not reach.
    fn demanded(&self, (x, y): (f64, f64), (c, s): (f64, f64)) -> f64 {
        let (px, py) = (self.centres - (x * c - y * s), x * s + y * c);
        let far = px * px + py * py;
        if far > self.tip * self.tip {
            return f64::NEG_INFINITY;
        }
        match self.pair.driven.half_at(far.sqrt()) {
            Some(h) => atan2(py, px) + h,
            None => f64::NEG_INFINITY,
        }
    }
    /// Places of one piece that are no lower than their neighbours: a summit may hide beside each.
    fn hills(&self, i: usize, turn: (f64, f64), out: &mut Vec<Hill>) {
        let piece = &self.pair.flank[i];
        let points = piece.points();
        let mut before = (f64::NEG_INFINITY, 0.0);
        let mut here = (self.demanded(points[0], turn), 0.0);
        let mut next = STRIDE;
        while here.1 < piece.end {
            let place = steps(next).min(piece.end);
            let whole = next < points.len() && piece.end >= steps(next);
            let point = if whole { points[next] } else { piece.at(place) };
            let after = (self.demanded(point, turn), place);
            out.extend(Hill::between(i, before, here, after));
            (before, here) = (here, after);
            next += STRIDE;
        }
        out.extend(Hill::between(i, before, here, (f64::NEG_INFINITY, here.1)));
    }
    /// What the tooth demands when its flank's pitch point stands at `theta` past the line of centres.
    pub fn touch(&self, theta: f64) -> Option<Touch> {
        let turn = (cos(theta), sin(theta));
        let mut hills = Vec::with_capacity(8);
        for i in 0..self.pair.flank.len() {
            self.hills(i, turn, &mut hills);
        }
        let mut found = (f64::NEG_INFINITY, -1.0, 0);
        // The highest first, so that most of the others need no climbing.
        hills.sort_by(|a, b| b.value.total_cmp(&a.value));
        for h in &hills {
            if h.at_most <= found.0 {
                continue;
            }
            let piece = &self.pair.flank[h.piece];
            let f = |s: f64| self.demanded(piece.at(s), turn);
            let (v, s) = summit(&f, h);
            if v > found.0 {
                found = (v, s, h.piece);
            }
        }
        let (demand, place, piece) = found;
        if demand.is_infinite() {
            return None;
        }
        let angle = demand - self.half;
        let last = piece + 1 == self.pair.flank.len();
        let far = self.seen(self.pair.flank[piece].at(place), turn).0;
        Some(Touch {
            angle,
            error: angle - theta * self.ratio,
            piece,
            place,
            driver_tip: last && place > self.pair.flank[piece].end - 1e-3,
            driven_tip: far > self.tip - 1e-5,
        })
    }
    /// Error demanded, or as low as can be where the tooth does not reach.
    pub fn error(&self, theta: f64) -> f64 {
        self.touch(theta).map_or(f64::NEG_INFINITY, |t| t.error)
    }
    /// A driver's point in polar form about the driven centre.
    fn seen(&self, (x, y): (f64, f64), (c, s): (f64, f64)) -> (f64, f64) {
        let (px, py) = (self.centres - (x * c - y * s), x * s + y * c);
        ((px * px + py * py).sqrt(), atan2(py, px))
    }
    /// Speeds and forces at a touch.
    ///
    /// The driver turns anticlockwise about the origin; the driven wheel's centre lies at (a, 0), and it
    /// turns clockwise.
    pub fn push(&self, theta: f64, touch: &Touch, mu: f64) -> Push {
        let (c, s) = (cos(theta), sin(theta));
        let piece = &self.pair.flank[touch.piece];
        let (x, y) = piece.at(touch.place);
        let p = (x * c - y * s, x * s + y * c);
        let q = (p.0 - self.centres, p.1);
        let corner = touch.place < 1e-3 || touch.place > piece.end - 1e-3;
        // On a smooth place of the driver its own direction, on a corner that of the driven flank.
        let along = if corner && !touch.driven_tip {
            let (rho, beta) = self.seen((x, y), (c, s));
            let turn = -rho * self.pair.driven.slope_at(rho, self.tip);
            // Outward from the driven centre, and across it as the driven wheel turns.
            let (out, across) = ((-cos(beta), sin(beta)), (sin(beta), cos(beta)));
            (out.0 + turn * across.0, out.1 + turn * across.1)
        } else {
            let (dx, dy) = piece.along(touch.place);
            (dx * c - dy * s, dx * s + dy * c)
        };
        let long = (along.0 * along.0 + along.1 * along.1).sqrt().max(1e-300);
        let t = (along.0 / long, along.1 / long);
        // Square to it, the way the driver moves.
        let mut n = (-t.1, t.0);
        if p.0 * n.1 - p.1 * n.0 < 0.0 {
            n = (-n.0, -n.1);
        }
        let cross = |a: (f64, f64), b: (f64, f64)| a.0 * b.1 - a.1 * b.0;
        let w = cross(p, n) / -cross(q, n);
        // Driver's speed less driven's along the flank.
        let slide = (-p.1 - w * q.1) * t.0 + (p.0 + w * q.0) * t.1;
        let rub = if slide >= 0.0 { mu } else { -mu };
        let f = (n.0 + rub * t.0, n.1 + rub * t.1);
        let passed = (-cross(q, f) / cross(p, f)).max(0.0);
        Push { speed: w / self.ratio, efficiency: w * passed, torque: passed * self.ratio, beyond: p.1 }
    }
    /// Play of the driven wheel with the driver held, at the tightest of `n` positions over a pitch; teeth
    /// take over at `start`.
    pub fn play(&self, start: f64, n: usize) -> f64 {
        // The driver's tooth axis lies half a tooth behind its flank; the back flank is the mirror image.
        let half = self.pair.driver_half;
        let whole = 2.0 * PI / f64::from(self.pair.driven.teeth());
        let lead = |axis: f64| {
            let theta = axis + half;
            let k = ((start - theta) / self.pitch).ceil();
            self.touch(theta + k * self.pitch).map_or(f64::NEG_INFINITY, |t| t.angle + self.half - k * whole)
        };
        (0..n)
            .map(|i| {
                // Half a pitch of the picture is the mirror image of the other.
                let axis = self.pitch / 2.0 * steps(i) / steps((n - 1).max(1));
                whole - lead(axis) - lead(-axis)
            })
            .fold(f64::INFINITY, f64::min)
    }
}

/// A place no lower than its neighbours.
#[derive(Clone, Copy, Debug)]
struct Hill {
    piece: usize,
    value: f64,
    place: f64,
    low: f64,
    high: f64,
    /// The summit is no higher than this.
    at_most: f64,
}

impl Hill {
    fn between(piece: usize, before: (f64, f64), here: (f64, f64), after: (f64, f64)) -> Option<Hill> {
        let (value, place) = here;
        if value.is_infinite() || value < before.0 || value < after.0 {
            return None;
        }
        // A rounded hill rises from its middle by less than it falls to the further side; twice that is safe.
        let at_most = value + 2.0 * (value - before.0).max(value - after.0);
        Some(Hill { piece, value, place, low: before.1, high: after.1, at_most })
    }
}

/// Summit of a curve with one summit between two places: value and place. Parabolas where the curve is
/// rounded, the golden section where it is not.
fn summit(f: &impl Fn(f64) -> f64, hill: &Hill) -> (f64, f64) {
    const SHARE: f64 = 0.381_966_011_250_105_1;
    let same = |a: f64, b: f64| (a - b).abs() < 1e-12;
    let (mut low, mut high) = (hill.low, hill.high);
    let (mut x, mut fx) = (hill.place, hill.value);
    let (mut w, mut fw, mut v, mut fv) = (x, fx, x, fx);
    let (mut moved, mut moved_before) = (0.0_f64, 0.0_f64);
    for _ in 0..CLIMBS {
        let mid = f64::midpoint(low, high);
        if (x - mid).abs() + (high - low) / 2.0 <= 2.0 * CLOSE {
            break;
        }
        let mut by = f64::NAN;
        if moved_before.abs() > CLOSE {
            let r = (x - w) * (fx - fv);
            let q = (x - v) * (fx - fw);
            let p = (x - v) * q - (x - w) * r;
            let q = 2.0 * (q - r);
            let step = if q == 0.0 { f64::NAN } else { -p / q };
            if step.abs() < (moved_before / 2.0).abs() && x + step > low && x + step < high {
                by = step;
            }
        }
        if by.is_finite() {
            (moved_before, moved) = (moved, by);
        } else {
            moved_before = if x < mid { high - x } else { low - x };
            moved = SHARE * moved_before;
        }
        let step = if moved.abs() >= CLOSE { moved } else { CLOSE.copysign(moved) };
        let u = (x + step).clamp(hill.low, hill.high);
        let fu = f(u);
        if fu >= fx {
            if u >= x {
                low = x;
            } else {
                high = x;
            }
            (v, fv, w, fw) = (w, fw, x, fx);
            (x, fx) = (u, fu);
        } else {
            if u < x {
                low = u;
            } else {
                high = u;
            }
            if fu >= fw || same(w, x) {
                (v, fv, w, fw) = (w, fw, u, fu);
            } else if fu >= fv || same(v, x) || same(v, w) {
                (v, fv) = (u, fu);
            }
        }
    }
    (fx, x)
}

impl Driven {
    /// Change of the half-angle with the distance from the centre.
    fn slope_at(&self, rho: f64, tip: f64) -> f64 {
        let h = 1e-6;
        let (low, high) = (rho - h, (rho + h).min(tip));
        match (self.half_at(low), self.half_at(high)) {
            (Some(a), Some(b)) => (b - a) / (high - low),
            _ => 0.0,
        }
    }
}
