//! A fusee: the cone that makes an uneven spring even.
//!
//! Angles in radians; forces, lengths and torques in any units that belong
//! together (N, mm, N mm or N, m, N m). `wound` counts the turning of the barrel
//! above the set-up; `theta` that of the fusee from its large end, the spring
//! let down to the set-up, to its small end, fully wound.

use reckon::{Source, maths};

/// Closed form.
pub static CONE: Source =
    Source::derived("chain force times radius held even, chain passing from barrel to cone")
        .with_formula("ρ(θ) = T Rb/√(M0² + 2 k T θ), T = (M0 ψ + k ψ²/2)/θ");
/// Measured spring.
pub static MEASURED: Source = Source::derived("work of the spring is the work at the fusee")
    .with_formula("T dθ = M(ψ) dψ, ρ = T Rb/M(ψ)");
/// Groove.
pub static GROOVE: Source = Source::practice("groove pitch: width of the chain and 0.1 to 0.15 mm");
/// Chain.
pub static CHAIN: Source =
    Source::practice("breaking load of a chain or cable at least five times its greatest pull");

/// A spring and the barrel and cone that it works through.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Fusee {
    /// Torque of the spring at the set-up.
    pub at_set_up: f64,
    /// Torque gained for each radian of winding.
    pub per_radian: f64,
    /// Turning of the barrel above the set-up, radians.
    pub wound: f64,
    /// Barrel radius and half the chain.
    pub barrel: f64,
    /// Turning of the fusee, radians.
    pub theta: f64,
}
impl Fusee {
    /// The even torque.
    #[must_use]
    pub fn torque(self) -> f64 {
        (self.at_set_up * self.wound + self.per_radian * self.wound * self.wound / 2.0) / self.theta
    }
    /// Spring torque when the fusee stands at `theta`.
    #[must_use]
    pub fn spring_at(self, theta: f64) -> f64 {
        maths::sqrt(self.at_set_up * self.at_set_up + 2.0 * self.per_radian * self.torque() * theta)
    }
    /// Radius of the line of pull at `theta`.
    #[must_use]
    pub fn radius(self, theta: f64) -> f64 {
        self.torque() * self.barrel / self.spring_at(theta)
    }
    /// Turning of the barrel when the fusee stands at `theta`.
    #[must_use]
    pub fn wound_at(self, theta: f64) -> f64 {
        if self.per_radian == 0.0 {
            self.torque() * theta / self.at_set_up
        } else {
            (self.spring_at(theta) - self.at_set_up) / self.per_radian
        }
    }
    /// Pull of the chain at `theta`.
    #[must_use]
    pub fn pull(self, theta: f64) -> f64 {
        self.spring_at(theta) / self.barrel
    }
    /// Chain that passes from barrel to fusee, hooks not counted.
    #[must_use]
    pub fn chain(self) -> f64 {
        self.barrel * self.wound
    }
    /// Turns of set-up when the spring's line goes on to no torque at all.
    #[must_use]
    pub fn set_up_turns(self) -> f64 {
        self.at_set_up / self.per_radian / (2.0 * maths::PI)
    }
    /// Rows of the profile, `steps + 1` of them.
    #[must_use]
    pub fn profile(self, pitch: f64, chain: f64, steps: u32) -> Vec<Row> {
        (0..=steps)
            .map(|i| {
                let theta = self.theta * f64::from(i) / f64::from(steps.max(1));
                Row::of(theta, self.radius(theta), pitch, chain)
            })
            .collect()
    }
}
/// A row of the profile of a fusee.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Row {
    /// Turning from the large end, radians.
    pub theta: f64,
    /// Radius of the line of pull.
    pub radius: f64,
    /// Radius to which the groove is cut: half the chain less.
    pub groove: f64,
    /// Distance along the axis from the large end.
    pub along: f64,
}
impl Row {
    fn of(theta: f64, radius: f64, pitch: f64, chain: f64) -> Row {
        Row { theta, radius, groove: radius - chain / 2.0, along: pitch * theta / (2.0 * maths::PI) }
    }
}
/// Height of the grooved part: pitch times turns.
#[must_use]
pub fn height(pitch: f64, theta: f64) -> f64 {
    pitch * theta / (2.0 * maths::PI)
}

/// A spring measured at several points, straight between them.
#[derive(Clone, PartialEq, Debug)]
pub struct Measured {
    points: Vec<(f64, f64)>,
}
/// A cone for a measured spring.
#[derive(Clone, PartialEq, Debug)]
pub struct MeasuredCone {
    /// The even torque.
    pub torque: f64,
    /// Rows of the profile.
    pub rows: Vec<Row>,
    /// Difference between the turning that the steps arrive at and the whole, as a share of it.
    pub left_over: f64,
}
impl Measured {
    /// From points (turning above the set-up in radians, torque), the first at no turning.
    ///
    /// `None` unless there are two or more, turnings rise from nothing, and all torques are more than nothing.
    #[must_use]
    pub fn new(points: &[(f64, f64)]) -> Option<Measured> {
        let rises = points.windows(2).all(|w| w[1].0 > w[0].0);
        let pulls = points.iter().all(|p| p.1 > 0.0 && p.1.is_finite() && p.0.is_finite());
        (points.len() >= 2 && points[0].0 == 0.0 && rises && pulls)
            .then(|| Measured { points: points.to_vec() })
    }
    /// Turning of the last point.
    #[must_use]
    pub fn wound(&self) -> f64 {
        self.points.last().map_or(0.0, |p| p.0)
    }
    /// Torque at a turning; beyond the ends the end's own.
    #[must_use]
    pub fn torque_at(&self, wound: f64) -> f64 {
        for w in self.points.windows(2) {
            if wound <= w[1].0 {
                let share = ((wound - w[0].0) / (w[1].0 - w[0].0)).max(0.0);
                return w[0].1 + (w[1].1 - w[0].1) * share;
            }
        }
        self.points.last().map_or(0.0, |p| p.1)
    }
    /// Work of the spring over the whole winding: trapezoids, exact for straight pieces.
    #[must_use]
    pub fn work(&self) -> f64 {
        self.points.windows(2).map(|w| f64::midpoint(w[0].1, w[1].1) * (w[1].0 - w[0].0)).sum()
    }
    /// Where the barrel stands at each of `steps + 1` even steps of the fusee, under an even torque:
    /// dψ/dθ = T/M(ψ) in steps of fourth order, several to a row.
    #[must_use]
    pub fn followed(&self, torque: f64, theta: f64, steps: u32) -> Vec<f64> {
        const WITHIN: u32 = 16;
        let h = theta / f64::from(steps.max(1) * WITHIN);
        let rate = |psi: f64| torque / self.torque_at(psi);
        let mut psi = 0.0;
        let mut out = vec![psi];
        for _ in 0..steps.max(1) {
            for _ in 0..WITHIN {
                let a = rate(psi);
                let b = rate(psi + h / 2.0 * a);
                let c = rate(psi + h / 2.0 * b);
                let d = rate(psi + h * c);
                psi += h / 6.0 * (a + 2.0 * b + 2.0 * c + d);
            }
            out.push(psi);
        }
        out
    }
    /// The even torque, found by halving until the followed barrel arrives at the end of the winding.
    #[must_use]
    pub fn torque_by_halving(&self, theta: f64, steps: u32) -> f64 {
        let ends = self.points.iter().map(|p| p.1);
        let scale = self.wound() / theta;
        let (mut low, mut high) = (
            ends.clone().fold(f64::INFINITY, f64::min) * scale * 0.5,
            ends.fold(0.0, f64::max) * scale * 2.0,
        );
        for _ in 0..80 {
            let middle = f64::midpoint(low, high);
            let arrives = self.followed(middle, theta, steps).last().copied().unwrap_or(0.0);
            if arrives < self.wound() {
                low = middle;
            } else {
                high = middle;
            }
        }
        f64::midpoint(low, high)
    }
    /// The cone that makes this spring even over `theta` radians of the fusee.
    #[must_use]
    pub fn cone(&self, barrel: f64, theta: f64, pitch: f64, chain: f64, steps: u32) -> MeasuredCone {
        let steps = steps.clamp(1, 10_000);
        // The equation separates, so that the work gives the torque at once; following it is the proof.
        let torque = self.work() / theta;
        let psi = self.followed(torque, theta, steps);
        let rows = psi
            .iter()
            .enumerate()
            .map(|(i, psi)| {
                let at = theta * f64::from(u32::try_from(i).unwrap_or(steps)) / f64::from(steps);
                Row::of(at, torque * barrel / self.torque_at(*psi), pitch, chain)
            })
            .collect();
        let end = psi.last().copied().unwrap_or(0.0);
        MeasuredCone { torque, rows, left_over: (end - self.wound()) / self.wound() }
    }
}
