//! From what a dimension is drawn: from limits, from the spread that the shop was measured to have, or as made.

use reckon::Source;
use reckon::maths::{self, PI};

/// The normal curve turned about.
pub static QUANTILE: Source = Source::derived(
    "the place of the normal curve below which a share lies, by Halley's steps on the error function",
)
.with_formula("½ erfc(−x/√2) = p");
/// How far inside its limits a worker aims.
pub static AIMED: Source = Source::practice(
    "sizes made with care stand about the middle of their limits as a normal curve does, limits at three deviations, what is outside made again",
);

/// Share of the normal curve below a place.
#[must_use]
pub fn below(x: f64) -> f64 {
    0.5 * maths::erfc(-x / std::f64::consts::SQRT_2)
}
/// Height of the normal curve.
#[must_use]
pub fn height(x: f64) -> f64 {
    maths::exp(-0.5 * x * x) / (2.0 * PI).sqrt()
}
/// Place of the normal curve below which a share lies.
#[must_use]
pub fn place(share: f64) -> f64 {
    if share <= 0.0 {
        return f64::NEG_INFINITY;
    }
    if share >= 1.0 {
        return f64::INFINITY;
    }
    if share > 0.5 {
        return -place(1.0 - share);
    }
    // Begun at the curve's tail, or near its middle by its slope there.
    let tail = (-2.0 * maths::ln(share)).sqrt();
    let mut x = if share < 0.1 {
        -(tail - maths::ln(tail * (2.0 * PI).sqrt()) / tail)
    } else {
        (share - 0.5) * (2.0 * PI).sqrt()
    };
    for _ in 0..60 {
        let off = (below(x) - share) / height(x);
        let step = off / (1.0 + 0.5 * x * off);
        x -= step;
        if step.abs() <= 1e-15 * (1.0 + x.abs()) {
            break;
        }
    }
    x
}

/// How a dimension is drawn.
#[derive(Copy, Clone, PartialEq, Debug)]
pub enum Draw {
    /// It is made: always this.
    Made(f64),
    /// Between limits, every size as likely as another.
    Even {
        /// Lower limit.
        low: f64,
        /// Upper limit.
        high: f64,
    },
    /// Between limits, a normal curve about their middle, cut off at them.
    Bell {
        /// Lower limit.
        low: f64,
        /// Upper limit.
        high: f64,
        /// Deviation of the curve before it is cut.
        deviation: f64,
    },
    /// A normal curve that was measured.
    Spread {
        /// Mean.
        mean: f64,
        /// Standard deviation.
        deviation: f64,
    },
}
impl Draw {
    /// Made with care between limits: they stand at three deviations.
    #[must_use]
    pub fn bell(low: f64, high: f64) -> Draw {
        Draw::Bell { low, high, deviation: (high - low) / 6.0 }
    }
    /// The middle.
    #[must_use]
    pub fn middle(self) -> f64 {
        match self {
            Draw::Made(x) | Draw::Spread { mean: x, .. } => x,
            Draw::Even { low, high } | Draw::Bell { low, high, .. } => f64::midpoint(low, high),
        }
    }
    /// Whether it is always the same.
    #[must_use]
    pub fn fixed(self) -> bool {
        match self {
            Draw::Made(_) => true,
            Draw::Even { low, high } => high <= low,
            Draw::Bell { low, high, deviation } => high <= low || deviation <= 0.0,
            Draw::Spread { deviation, .. } => deviation <= 0.0,
        }
    }
    /// The size for a number between nothing and one.
    #[must_use]
    pub fn at(self, unit: f64) -> f64 {
        if self.fixed() {
            return self.middle();
        }
        match self {
            Draw::Made(x) => x,
            Draw::Even { low, high } => low + (high - low) * unit,
            Draw::Bell { low, high, deviation } => {
                let cut = below((low - high) / 2.0 / deviation);
                let x = self.middle() + deviation * place(cut + (1.0 - 2.0 * cut) * unit);
                x.clamp(low, high)
            }
            Draw::Spread { mean, deviation } => mean + deviation * place(unit),
        }
    }
    /// How likely a size is, by the size's unit; nothing outside, and for what is fixed.
    #[must_use]
    pub fn density(self, x: f64) -> f64 {
        match self {
            _ if self.fixed() => 0.0,
            Draw::Made(_) => 0.0,
            Draw::Even { low, high } if x >= low && x <= high => 1.0 / (high - low),
            Draw::Bell { low, high, deviation } if x >= low && x <= high => {
                let cut = below((low - high) / 2.0 / deviation);
                height((x - self.middle()) / deviation) / deviation / (1.0 - 2.0 * cut)
            }
            Draw::Even { .. } | Draw::Bell { .. } => 0.0,
            Draw::Spread { mean, deviation } => height((x - mean) / deviation) / deviation,
        }
    }
    /// Standard deviation.
    #[must_use]
    pub fn deviation(self) -> f64 {
        match self {
            _ if self.fixed() => 0.0,
            Draw::Made(_) => 0.0,
            Draw::Even { low, high } => (high - low) / 12.0_f64.sqrt(),
            Draw::Bell { low, high, deviation } => {
                let a = (high - low) / 2.0 / deviation;
                let kept = 1.0 - 2.0 * below(-a);
                deviation * (1.0 - 2.0 * a * height(a) / kept).max(0.0).sqrt()
            }
            Draw::Spread { deviation, .. } => deviation,
        }
    }
    /// The same about the same middle, so many times as wide.
    #[must_use]
    pub fn times(self, share: f64) -> Draw {
        let middle = self.middle();
        let drawn = |x: f64| middle + (x - middle) * share;
        match self {
            Draw::Made(x) => Draw::Made(x),
            Draw::Even { low, high } => Draw::Even { low: drawn(low), high: drawn(high) },
            Draw::Bell { low, high, deviation } => {
                Draw::Bell { low: drawn(low), high: drawn(high), deviation: deviation * share }
            }
            Draw::Spread { mean, deviation } => Draw::Spread { mean, deviation: deviation * share },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_curve_turned_about() {
        // scipy.stats.norm.ppf (SciPy 1.17).
        for (p, x) in [
            (1e-12, -7.034_483_825_301_131),
            (0.001, -3.090_232_306_167_813),
            (0.05, -1.644_853_626_951_472_9),
            (0.3, -0.524_400_512_708_041),
            (0.975, 1.959_963_984_540_054),
        ] {
            let got = place(p);
            assert!((got - x).abs() < 2e-13 * (1.0 + x.abs()), "{p}: {got} for {x}");
            assert!((below(place(p)) - p).abs() < 1e-14 * p.max(1e-3), "{p}");
        }
    }
    #[test]
    fn densities_add_up_to_one() {
        let all = [
            Draw::Even { low: 1.0, high: 3.0 },
            Draw::bell(1.0, 3.0),
            Draw::Bell { low: 1.0, high: 3.0, deviation: 1.5 },
            Draw::Spread { mean: 2.0, deviation: 0.2 },
        ];
        for d in all {
            let n = 200_000;
            let step = 4.0 / f64::from(n);
            let (mut sum, mut square) = (0.0, 0.0);
            for i in 0..n {
                let x = (f64::from(i) + 0.5) * step;
                sum += d.density(x) * step;
                square += d.density(x) * (x - 2.0) * (x - 2.0) * step;
            }
            assert!((sum - 1.0).abs() < 1e-4, "{d:?} {sum}");
            assert!((square.sqrt() - d.deviation()).abs() < 1e-4, "{d:?} {square}");
            assert!((d.at(0.5) - 2.0).abs() < 1e-12);
        }
    }
}
