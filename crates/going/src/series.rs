//! The swing as a power series in time, from any state on: exact to rounding over a step of a third of a beat.
//!
//! Within a phase of the escapement the motion is smooth, so that all derivatives at one moment follow from
//! each other by short recurrences, and the series tells where any event falls within the step. SI units,
//! radians, seconds since the step began.

use crate::poly::Poly;
use reckon::{Source, maths};

/// How motion is followed.
pub static SERIES: Source =
    Source::derived("Taylor series of the equation of motion in time, begun anew at every phase and step")
        .with_formula("I θ″ + ½ I′θ′² = −c θ′ − b θ′|θ′| − G sin θ − k θ + τ(θ)");

/// Highest power of time that is kept.
pub const ORDER: usize = 24;
/// Coefficients of a series.
pub type Terms = [f64; ORDER + 1];

/// A pendulum as the escapement meets it.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Oscillator {
    /// Moment of inertia about the axis, crutch included (kg m²).
    pub inertia: f64,
    /// Mass times g times depth of the centre of gravity (N m).
    pub gravity: f64,
    /// Stiffness beside gravity, as of a suspension strip (N m/rad).
    pub stiffness: f64,
    /// Resistance in proportion to speed (N m s).
    pub viscous: f64,
    /// Resistance in proportion to the square of speed (N m s²).
    pub square: f64,
}
impl Oscillator {
    /// A bob on a weightless rod, with all loss in proportion to speed as the quality says.
    #[must_use]
    pub fn simple(mass: f64, length: f64, g: f64, quality: f64) -> Oscillator {
        let inertia = mass * length * length;
        let gravity = mass * g * length;
        let viscous = inertia * (gravity / inertia).sqrt() / quality;
        Oscillator { inertia, gravity, stiffness: 0.0, viscous, square: 0.0 }
    }
    /// Kinetic and potential energy.
    #[must_use]
    pub fn energy(&self, x: f64, v: f64) -> f64 {
        0.5 * self.inertia * v * v + self.height(x)
    }
    /// Potential energy.
    #[must_use]
    pub fn height(&self, x: f64) -> f64 {
        let s = maths::sin(x / 2.0);
        2.0 * self.gravity * s * s + 0.5 * self.stiffness * x * x
    }
    /// Angular frequency of swings of no arc.
    #[must_use]
    pub fn frequency(&self) -> f64 {
        ((self.gravity + self.stiffness) / self.inertia).sqrt()
    }
}

/// Σ a[i] b[k − i], with `b` kept backwards: `b[k − i]` stands at `ORDER − k + i`.
fn fold(a: &Terms, back: &Terms, k: usize) -> f64 {
    let (a, b) = (&a[..=k], &back[ORDER - k..]);
    let (a4, b4) = (a.chunks_exact(4), b.chunks_exact(4));
    let rest: f64 = a4.remainder().iter().zip(b4.remainder()).map(|(x, y)| x * y).sum();
    // Four sums side by side: they do not wait for each other.
    let mut sums = [0.0; 4];
    for (x, y) in a4.zip(b4) {
        for i in 0..4 {
            sums[i] += x[i] * y[i];
        }
    }
    (sums[0] + sums[1]) + (sums[2] + sums[3]) + rest
}

/// What acts on the pendulum in a phase beside itself.
#[derive(Copy, Clone, Debug)]
pub struct Acts<'a> {
    /// Torque as it depends on the angle (N m); none where nothing pushes.
    pub torque: Option<&'a Poly>,
    /// The torque is taken times this.
    pub times: f64,
    /// A wheel that is driven along: its moment of inertia and its turn as it depends on the angle.
    pub along: Option<(f64, &'a Poly)>,
}
impl Acts<'static> {
    /// Nothing acts.
    pub const FREE: Acts<'static> = Acts { torque: None, times: 0.0, along: None };
}

/// A stretch of motion.
#[derive(Clone, Debug)]
pub struct Flow {
    /// Angle.
    pub x: Terms,
    /// How far in time it may be trusted.
    pub far: f64,
}

/// Powers of a series, grown term by term: what polynomials of the angle are as series of time.
///
/// The polynomials are taken about the angle at the start of the step, so that the p-th power begins with the
/// p-th power of time. The powers stand in one row: those of degree p + 1 at p.
struct Powers {
    all: Vec<Terms>,
    back: Terms,
}
impl Powers {
    fn new(degree: usize) -> Powers {
        Powers { all: vec![[0.0; ORDER + 1]; degree], back: [0.0; ORDER + 1] }
    }
    /// Grows every power to term k, once the terms of the way `a` up to k are known; k from 1 on.
    fn grow(&mut self, a: &Terms, k: usize) {
        self.back[ORDER - k] = a[k];
        let many = self.all.len().min(k);
        for p in 0..many {
            let term = if p == 0 { a[k] } else { fold(&self.all[p - 1], &self.back, k) };
            self.all[p][k] = term;
        }
    }
    /// Term k of a polynomial about the start.
    fn term(&self, about: &[f64], k: usize) -> f64 {
        if k == 0 {
            return about[0];
        }
        about[1..].iter().zip(&self.all).take(k).map(|(c, power)| c * power[k]).sum()
    }
}

/// Follows the motion from angle `x` and speed `v`; `forward` is the sense of motion, which settles the signs
/// of what resists.
#[must_use]
pub fn flow(of: &Oscillator, acts: &Acts<'_>, x: f64, v: f64, forward: bool) -> Flow {
    let mut a: Terms = [0.0; ORDER + 1];
    (a[0], a[1]) = (x, v);
    match acts.along {
        Some((j, turn)) if turn.degree() > 1 => with_wheel(of, acts, j, turn, &mut a, forward),
        Some((j, turn)) => {
            let ratio = turn.slope(x);
            plain(of, acts, of.inertia + j * ratio * ratio, &mut a, forward);
        }
        None => plain(of, acts, of.inertia, &mut a, forward),
    }
    Flow { far: far(&a), x: a }
}
/// Where the last terms still say less than a part in 10¹⁷ of a radian.
fn far(a: &Terms) -> f64 {
    // Two terms, since every other one may vanish.
    let last = a[ORDER].abs().max(a[ORDER - 1].abs() * 0.5);
    let reach = |term: f64, k: f64| maths::exp(maths::ln(1.0e-17 / term) / k);
    let f = if last == 0.0 { 1.0e3 } else { reach(last, 24.0) };
    // A start that has more of symmetry, as at rest at a right angle, makes more of them vanish.
    let (f2, f4) = (f * f, f * f * f * f);
    let f20 = f4 * f4 * f4 * f4 * f4;
    let [c, d] = [a[ORDER - 2].abs(), a[ORDER - 3].abs()];
    if c * f20 * f2 <= 1.0e-15 && d * f20 * f <= 1.0e-15 {
        return f;
    }
    let near = |term: f64, k: f64| if term == 0.0 { f } else { reach(term, k) };
    f.min(near(c, 22.0)).min(near(d, 21.0))
}
fn plain(of: &Oscillator, acts: &Acts<'_>, inertia: f64, a: &mut Terms, forward: bool) {
    // Speed, and backwards sine, cosine and speed.
    let zero = [0.0; ORDER + 1];
    let (mut v, mut s, mut c, mut w) = (zero, zero, zero, zero);
    (s[ORDER], c[ORDER]) = (maths::sin(a[0]), maths::cos(a[0]));
    (v[0], w[ORDER]) = (a[1], a[1]);
    let square = if forward { of.square } else { -of.square };
    let constant = acts.torque.is_some_and(|t| t.degree() == 0);
    let mut torque = acts.torque.filter(|_| !constant).map(|t| (t.about(a[0]), Powers::new(t.degree())));
    if let Some((_, powers)) = &mut torque {
        powers.grow(a, 1);
    }
    let level = acts.torque.filter(|_| constant).map_or(0.0, |t| t.terms[0] * acts.times);
    let over = 1.0 / inertia;
    for k in 0..ORDER - 1 {
        let mut force = -of.viscous * v[k] - of.gravity * s[ORDER - k] - of.stiffness * a[k];
        if k == 0 {
            force += level;
        }
        if let Some((about, powers)) = &torque {
            force += acts.times * powers.term(about, k);
        }
        if square != 0.0 {
            force -= square * fold(&v, &w, k);
        }
        let one = OVER[k + 1];
        v[k + 1] = force * over * one;
        w[ORDER - k - 1] = v[k + 1];
        a[k + 2] = v[k + 1] * OVER[k + 2];
        if let Some((_, powers)) = &mut torque {
            powers.grow(a, k + 2);
        }
        let (up, down) = (fold(&v, &c, k), fold(&v, &s, k));
        s[ORDER - k - 1] = up * one;
        c[ORDER - k - 1] = -down * one;
    }
}
/// One over each number.
const OVER: Terms = {
    let mut over = [0.0; ORDER + 1];
    let mut k = 1;
    while k <= ORDER {
        over[k] = 1.0 / k as f64;
        k += 1;
    }
    over
};
/// As [`plain`], with a wheel driven along at a ratio that changes.
fn with_wheel(of: &Oscillator, acts: &Acts<'_>, j: f64, turn: &Poly, a: &mut Terms, forward: bool) {
    let zero = [0.0; ORDER + 1];
    // Backwards: sine, cosine, speed, square of speed, slope of the ratio, inertia.
    let (mut s, mut c, mut w, mut ww, mut qb, mut mb) = (zero, zero, zero, zero, zero, zero);
    (s[ORDER], c[ORDER], w[ORDER]) = (maths::sin(a[0]), maths::cos(a[0]), a[1]);
    let square = if forward { of.square } else { -of.square };
    let (ratio, bend) = (turn.derived(), turn.derived().derived());
    let torque = acts.torque.map(|t| t.about(a[0]));
    let (ratio, bend) = (ratio.about(a[0]), bend.about(a[0]));
    let degree = ratio.len().max(torque.as_ref().map_or(0, Vec::len)) - 1;
    let mut powers = Powers::new(degree);
    powers.grow(a, 1);
    // Speed, ratio, half the slope of inertia, acceleration.
    let (mut v, mut r, mut rb, mut h, mut acc) = (zero, zero, zero, zero, zero);
    v[0] = a[1];
    for k in 0..ORDER - 1 {
        r[k] = powers.term(&ratio, k);
        rb[ORDER - k] = r[k];
        qb[ORDER - k] = powers.term(&bend, k);
        let inertia = j * fold(&r, &rb, k) + if k == 0 { of.inertia } else { 0.0 };
        mb[ORDER - k] = inertia;
        h[k] = j * fold(&r, &qb, k);
        let vv = fold(&v, &w, k);
        ww[ORDER - k] = vv;
        let mut force = -of.viscous * v[k] - of.gravity * s[ORDER - k] - of.stiffness * a[k] - square * vv;
        if let Some(t) = &torque {
            force += acts.times * powers.term(t, k);
        }
        force -= fold(&h, &ww, k);
        // acc[k] is still nothing: what is held back by the inertia so far.
        let held = fold(&acc, &mb, k);
        acc[k] = (force - held) / mb[ORDER];
        let one = OVER[k + 1];
        v[k + 1] = acc[k] * one;
        w[ORDER - k - 1] = v[k + 1];
        a[k + 2] = v[k + 1] * OVER[k + 2];
        powers.grow(a, k + 2);
        let (up, down) = (fold(&v, &c, k), fold(&v, &s, k));
        s[ORDER - k - 1] = up * one;
        c[ORDER - k - 1] = -down * one;
    }
}
impl Flow {
    /// Angle at a time.
    #[must_use]
    pub fn at(&self, t: f64) -> f64 {
        self.x.iter().rev().fold(0.0, |sum, c| sum * t + c)
    }
    /// Speed at a time.
    #[must_use]
    pub fn speed(&self, t: f64) -> f64 {
        (1..=ORDER).rev().fold(0.0, |sum, k| sum * t + self.x[k] * k as f64)
    }
    /// Angle and speed at a time.
    #[must_use]
    pub fn both(&self, t: f64) -> (f64, f64) {
        // Even and odd powers apart: two short chains in place of one long.
        let u = t * t;
        let (mut even, mut odd, mut d_even, mut d_odd) = (self.x[ORDER], 0.0, 0.0, 0.0);
        for pair in self.x[..ORDER].chunks_exact(2).rev() {
            (d_even, d_odd) = (d_even * u + even, d_odd * u + odd);
            (even, odd) = (even * u + pair[0], odd * u + pair[1]);
        }
        (even + t * odd, odd + 2.0 * t * d_even + 2.0 * u * d_odd)
    }
    /// Acceleration at a time.
    #[must_use]
    pub fn acceleration(&self, t: f64) -> f64 {
        (2..=ORDER).rev().fold(0.0, |sum, k| sum * t + self.x[k] * (k * (k - 1)) as f64)
    }
    /// When speed is nothing, if that is between 0 and `until`, where the sign of speed has changed.
    #[must_use]
    pub fn rest(&self, until: f64) -> f64 {
        let rough = (2..9).rev().fold(0.0, |sum, k| sum * until + self.x[k] * (k * (k - 1)) as f64);
        let guess = if rough == 0.0 { until } else { until - self.speed(until) / rough };
        root_from(guess, until, |t| (self.speed(t), self.acceleration(t)))
    }
    /// When the angle is `x`, which is passed between 0 and `until`.
    #[must_use]
    pub fn reaches(&self, x: f64, until: f64) -> f64 {
        root_from(self.guess(x, until), until, |t| {
            let (y, v) = self.both(t);
            (y - x, v)
        })
    }
    /// About when the angle is `x`: by the first terms alone.
    fn guess(&self, x: f64, until: f64) -> f64 {
        let mut t = if self.x[1] == 0.0 {
            // From rest: by the first acceleration.
            ((x - self.x[0]) / self.x[2]).abs().sqrt()
        } else {
            ((x - self.x[0]) / self.x[1]).clamp(0.0, until)
        };
        for _ in 0..4 {
            let (mut y, mut v) = (0.0, 0.0);
            for c in self.x[..9].iter().rev() {
                v = v * t + y;
                y = y * t + c;
            }
            let next = t - (y - x) / v;
            if !(next > 0.0 && next <= until) {
                break;
            }
            t = next;
        }
        t
    }
    /// ∫ (c v² + b |v|³) dt from 0 to `until`: what resistance takes.
    #[must_use]
    pub fn resisted(&self, of: &Oscillator, until: f64) -> f64 {
        // Sixteen points of Gauss and Legendre: exact for powers of time up to 31.
        let half = until / 2.0;
        let sum: f64 = GAUSS
            .iter()
            .flat_map(|(x, w)| [(half * (1.0 - x), *w), (half * (1.0 + x), *w)])
            .map(|(t, w)| {
                let v = self.speed(t);
                w * (of.viscous * v * v + of.square * v.abs() * v * v)
            })
            .sum();
        sum * half
    }
}
/// Points and weights of Gauss and Legendre, positive half of sixteen.
const GAUSS: [(f64, f64); 8] = [
    (0.095_012_509_837_637_44, 0.189_450_610_455_068_5),
    (0.281_603_550_779_258_9, 0.182_603_415_044_923_6),
    (0.458_016_777_657_227_4, 0.169_156_519_395_002_54),
    (0.617_876_244_402_643_7, 0.149_595_988_816_576_73),
    (0.755_404_408_355_003, 0.124_628_971_255_533_87),
    (0.865_631_202_387_831_7, 0.095_158_511_682_492_78),
    (0.944_575_023_073_232_6, 0.062_253_523_938_647_89),
    (0.989_400_934_991_649_9, 0.027_152_459_411_754_095),
];
/// The root of a function with its slope, of which 0 and `until` lie on either side.
pub(crate) fn root(until: f64, of: impl Fn(f64) -> (f64, f64)) -> f64 {
    let (f0, f1) = (of(0.0).0, of(until).0);
    let guess = until * (f0 / (f0 - f1)).clamp(0.0, 1.0);
    search(guess, until, f1 > 0.0, of)
}
/// As [`root`], from a guess.
pub(crate) fn root_from(guess: f64, until: f64, of: impl Fn(f64) -> (f64, f64)) -> f64 {
    let rises = of(until).0 > 0.0;
    search(guess.clamp(0.0, until), until, rises, of)
}
/// Newton's way, kept within what is known to hold the root.
fn search(guess: f64, until: f64, rises: bool, of: impl Fn(f64) -> (f64, f64)) -> f64 {
    let (mut low, mut high, mut t) = (0.0, until, guess);
    for _ in 0..100 {
        let (f, slope) = of(t);
        if (f > 0.0) == rises {
            high = t;
        } else {
            low = t;
        }
        let next = t - f / slope;
        let next = if next >= low && next <= high { next } else { f64::midpoint(low, high) };
        // Newton doubles true digits: a step of so little is the last that tells.
        if (next - t).abs() <= 1.0e-9 * until {
            return next;
        }
        t = next;
    }
    t
}
