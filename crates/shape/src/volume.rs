//! Volume, weight and balance of turned parts, exact wherever a closed form exists.
//!
//! Plain millimetres. Features are taken not to cut into each other, a slot over face grooves excepted
//! (a slot across flats counts the slivers at its ends twice);
//! threads and knurls leave the volume of the plain cylinder.

use crate::profile::{Profile, SAME, Segment};
use crate::turned::{End, FaceGroove, Feature, Form, Frustum, Turned};
use kurbo::Point;
use reckon::maths::{PI, acos, asin, cos, sin, sqrt, tan};

/// Volume and its first moment about z = 0.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Content {
    /// Cubic millimetres.
    pub volume: f64,
    /// ∫ z dV, in mm⁴.
    pub moment: f64,
}

impl Content {
    fn add(&mut self, other: Content, sign: f64) {
        self.volume += sign * other.volume;
        self.moment += sign * other.moment;
    }
}

impl Turned {
    /// Volume in mm³.
    #[must_use]
    pub fn volume(&self) -> f64 {
        self.content().volume
    }
    /// Mass in grams at a density in kg/m³.
    #[must_use]
    pub fn mass(&self, density: f64) -> f64 {
        self.volume() * density * 1e-6
    }
    /// z of the centre of mass.
    #[must_use]
    pub fn balance(&self) -> f64 {
        let c = self.content();
        c.moment / c.volume
    }
    /// Volume and moment together.
    ///
    /// # Formula
    /// Body and bores: V = π ∫ r² dz, in closed form over lines and arcs. Grooves: Pappus, V = π D A.
    /// Slots, flats and cross holes: exact area of the cut at each z, integrated to about 1e-12.
    #[must_use]
    pub fn content(&self) -> Content {
        let mut sum = revolved(&self.outer);
        for p in self.hollow() {
            sum.add(cone(p), -1.0);
        }
        for f in &self.features {
            match f.clone() {
                Feature::Thread(_) | Feature::Knurl { .. } | Feature::Relief { .. } => {}
                Feature::FaceGroove(g) => sum.add(self.groove(&g), -1.0),
                Feature::Slot { end, width, depth } => sum.add(self.slot(end, width, depth), -1.0),
                Feature::CrossHole { z, diameter } => sum.add(self.cross_hole(z, diameter), -1.0),
                Feature::Flats { from, to, across, count } => {
                    let bends = self.bends(from, to, across / 2.0);
                    let cut = |z: f64| off_flats(self.radius_near(z), across / 2.0, count);
                    sum.add(stacked(&bends, cut), -1.0);
                }
                Feature::Leaves { from, to, section, .. } => {
                    let r = self.radius_near(from.midpoint(to));
                    let volume = (PI * r * r - section.area().abs()) * (to - from);
                    sum.add(Content { volume, moment: volume * from.midpoint(to) }, -1.0);
                }
            }
        }
        sum
    }
    /// Outer radius strictly inside a step.
    fn radius_near(&self, z: f64) -> f64 {
        self.radius_at(z)
    }
    /// Places in (from, to) where the outside or hollow bends, or passes the radius `h`.
    fn bends(&self, from: f64, to: f64, h: f64) -> Vec<f64> {
        let mut all = vec![from, to];
        let level =
            Segment::Line { from: Point::new(self.first() - 1.0, h), to: Point::new(self.last() + 1.0, h) };
        for s in self.outer.segments() {
            all.extend([s.from().x, s.to().x, s.bounds().x0, s.bounds().x1]);
            all.extend(s.meets(&level).iter().map(|p| p.x));
        }
        for p in self.hollow() {
            all.extend([p.z0, p.z1]);
            if (p.r0 - h) * (p.r1 - h) < 0.0 {
                all.push(p.z0 + (h - p.r0) / (p.r1 - p.r0) * (p.z1 - p.z0));
            }
        }
        all.retain(|z| *z >= from && *z <= to);
        all.sort_by(f64::total_cmp);
        all.dedup_by(|a, b| (*a - *b).abs() <= SAME);
        all
    }
    fn slot(&self, end: End, width: f64, depth: f64) -> Content {
        let (face, inward) = (self.face(end), Turned::inward(end));
        let (a, b) = (face.min(face + inward * depth), face.max(face + inward * depth));
        let (a, b) = (a.max(self.first()), b.min(self.last()));
        let hollow = self.hollow();
        let cut = |z: f64| strip(self.radius_near(z), width) - strip(hollow_radius(&hollow, z), width);
        let mut sum = stacked(&self.bends(a, b, width / 2.0), cut);
        // What a face groove has taken already is not taken twice.
        for f in &self.features {
            if let Feature::FaceGroove(g) = f
                && g.end == end
            {
                let (middle, half) = (g.diameter / 2.0, g.width / 2.0);
                let mut both = Content::default();
                for (x, w) in nodes(-PI / 2.0, PI / 2.0, 64) {
                    let off = half * sin(x);
                    let rho = middle + off;
                    let d = g.depth_at(off).min(depth);
                    let share = 4.0 * asin((width / 2.0 / rho).min(1.0)) * rho * half * cos(x) * w;
                    both.volume += share * d;
                    both.moment += share * d * (face + inward * d / 2.0);
                }
                sum.add(both, -1.0);
            }
        }
        sum
    }
    fn cross_hole(&self, z: f64, diameter: f64) -> Content {
        let a = diameter / 2.0;
        let hollow = self.hollow();
        let mut cuts: Vec<f64> =
            self.bends(z - a, z + a, 0.0).iter().map(|b| asin(((b - z) / a).clamp(-1.0, 1.0))).collect();
        cuts.dedup_by(|p, q| (*p - *q).abs() < 1e-12);
        let mut sum = Content::default();
        for w in cuts.windows(2) {
            for (x, weight) in nodes(w[0], w[1], 24) {
                let at = z + a * sin(x);
                let width = 2.0 * a * cos(x);
                let area = strip(self.radius_near(at), width) - strip(hollow_radius(&hollow, at), width);
                let piece = area * a * cos(x) * weight;
                sum.volume += piece;
                sum.moment += piece * at;
            }
        }
        sum
    }
    fn groove(&self, g: &FaceGroove) -> Content {
        let volume = PI * g.diameter * groove_area(g);
        let half = g.width / 2.0;
        let mut moment = 0.0;
        for (x, w) in nodes(-PI / 2.0, PI / 2.0, 32) {
            let off = half * sin(x);
            let d = g.depth_at(off);
            moment += 2.0 * PI * (g.diameter / 2.0 + off) * d * d / 2.0 * half * cos(x) * w;
        }
        Content { volume, moment: volume * self.face(g.end) + Turned::inward(g.end) * moment }
    }
}

/// Area of a groove's section.
///
/// # Formula
/// Square w d; vee w d / 2; round: circular segment ½ r² (θ − sin θ), or a half disc under a rectangle.
#[must_use]
pub fn groove_area(g: &FaceGroove) -> f64 {
    let half = g.width / 2.0;
    match g.form {
        Form::Square => g.width * g.depth,
        Form::Vee => half * g.depth,
        Form::Round if g.depth >= half => PI * half * half / 2.0 + g.width * (g.depth - half),
        Form::Round => {
            let r = g.round_radius();
            let theta = 2.0 * asin((half / r).min(1.0));
            r * r * (theta - sin(theta)) / 2.0
        }
    }
}

fn hollow_radius(hollow: &[Frustum], z: f64) -> f64 {
    hollow.iter().filter(|p| p.z0 <= z && z <= p.z1).map(|p| p.radius(z)).fold(0.0, f64::max)
}

/// π ∫ r² dz and π ∫ r² z dz along a chain in (z, r), in closed form.
#[must_use]
pub fn revolved(outer: &Profile) -> Content {
    let mut sum = Content::default();
    for s in outer.segments() {
        match *s {
            Segment::Line { from, to } => {
                sum.add(cone(Frustum { z0: from.x, r0: from.y, z1: to.x, r1: to.y }), 1.0);
            }
            Segment::Arc { centre, radius: r, .. } => {
                let (a, turn) = s.sweep();
                let (rc, zc) = (centre.y, centre.x);
                // Antiderivatives over the angle, with z = zc + R cos, r = rc + R sin, dz = −R sin dθ.
                let volume = |t: f64| {
                    let (sn, c) = (sin(t), cos(t));
                    -r * (-rc * rc * c + rc * r * (t - sn * c) + r * r * (c * c * c / 3.0 - c))
                };
                let beyond = |t: f64| {
                    let sn = sin(t);
                    let s2 = sn * sn;
                    -r * r * (rc * rc * s2 / 2.0 + 2.0 * rc * r * s2 * sn / 3.0 + r * r * s2 * s2 / 4.0)
                };
                let v = PI * (volume(a + turn) - volume(a));
                sum.volume += v;
                sum.moment += v * zc + PI * (beyond(a + turn) - beyond(a));
            }
        }
    }
    sum
}

/// Volume and moment of a frustum.
///
/// # Formula
/// V = π h (r₀² + r₀ r₁ + r₁²) / 3
fn cone(p: Frustum) -> Content {
    let h = p.z1 - p.z0;
    let (a, b) = (p.r0, p.r1);
    let volume = PI * h * (a * a + a * b + b * b) / 3.0;
    let beyond = PI * h * h * (a * a + 2.0 * a * b + 3.0 * b * b) / 12.0;
    Content { volume, moment: volume * p.z0 + beyond }
}

/// Area of a disc of radius `r` within a strip of width `w` through its middle.
///
/// # Formula
/// 2 [ h √(r² − h²) + r² asin(h / r) ], h = w / 2; the whole disc when h ≥ r.
#[must_use]
pub fn strip(r: f64, w: f64) -> f64 {
    let h = w / 2.0;
    if h >= r { PI * r * r } else { 2.0 * (h * sqrt(r * r - h * h) + r * r * asin(h / r)) }
}

/// Area taken off a disc by flats at distance `apothem`.
fn off_flats(r: f64, apothem: f64, count: u32) -> f64 {
    if apothem >= r {
        return 0.0;
    }
    let n = f64::from(count);
    if count > 2 && apothem <= r * cos(PI / n) {
        return PI * r * r - n * apothem * apothem * tan(PI / n);
    }
    n * (r * r * acos(apothem / r) - apothem * sqrt(r * r - apothem * apothem))
}

/// ∫ area dz over stretches between bends; the stretch is eased at both ends, where roots may hide.
fn stacked(bends: &[f64], area: impl Fn(f64) -> f64) -> Content {
    let mut sum = Content::default();
    for w in bends.windows(2) {
        let (a, b) = (w[0], w[1]);
        for (u, weight) in nodes(0.0, 1.0, 24) {
            let eased = u * u * u * (10.0 - 15.0 * u + 6.0 * u * u);
            let slope = 30.0 * u * u * (1.0 - u) * (1.0 - u);
            let z = a + (b - a) * eased;
            let piece = area(z) * (b - a) * slope * weight;
            sum.volume += piece;
            sum.moment += piece * z;
        }
    }
    sum
}

/// Gauss–Legendre points and weights, eight to a panel (Abramowitz & Stegun, table 25.4, n = 8).
fn nodes(a: f64, b: f64, panels: u32) -> Vec<(f64, f64)> {
    const HALF: [(f64, f64); 4] = [
        (0.183_434_642_495_649_8, 0.362_683_783_378_362),
        (0.525_532_409_916_329, 0.313_706_645_877_887_3),
        (0.796_666_477_413_626_7, 0.222_381_034_453_374_5),
        (0.960_289_856_497_536_3, 0.101_228_536_290_376_3),
    ];
    let step = (b - a) / f64::from(panels);
    let mut all = Vec::new();
    for k in 0..panels {
        let middle = a + step * (f64::from(k) + 0.5);
        for (x, w) in HALF {
            all.push((middle - x * step / 2.0, w * step / 2.0));
            all.push((middle + x * step / 2.0, w * step / 2.0));
        }
    }
    all
}
