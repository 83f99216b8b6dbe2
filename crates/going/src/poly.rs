//! Polynomials of an angle: how far the wheel stands, and how strongly it pushes, along one face.

use reckon::maths;

/// A polynomial in the angle less its origin.
#[derive(Clone, PartialEq, Debug)]
pub struct Poly {
    /// Where its variable is nothing (rad).
    pub origin: f64,
    /// From the constant term up; never empty.
    pub terms: Vec<f64>,
}
impl Poly {
    /// A constant.
    #[must_use]
    pub fn constant(value: f64) -> Poly {
        Poly { origin: 0.0, terms: vec![value] }
    }
    /// `value` at `origin`, rising by `slope` a radian.
    #[must_use]
    pub fn line(origin: f64, value: f64, slope: f64) -> Poly {
        Poly { origin, terms: vec![value, slope] }
    }
    /// Highest power.
    #[must_use]
    pub fn degree(&self) -> usize {
        self.terms.len() - 1
    }
    /// Value at an angle.
    #[must_use]
    pub fn at(&self, x: f64) -> f64 {
        let xi = x - self.origin;
        self.terms.iter().rev().fold(0.0, |sum, c| sum * xi + c)
    }
    /// Slope at an angle.
    #[must_use]
    pub fn slope(&self, x: f64) -> f64 {
        let xi = x - self.origin;
        (1..self.terms.len()).rev().fold(0.0, |sum, k| sum * xi + self.terms[k] * k as f64)
    }
    /// Its slope as a polynomial.
    #[must_use]
    pub fn derived(&self) -> Poly {
        let mut terms: Vec<f64> = (1..self.terms.len()).map(|k| self.terms[k] * k as f64).collect();
        if terms.is_empty() {
            terms.push(0.0);
        }
        Poly { origin: self.origin, terms }
    }
    /// Its terms about another angle, from the constant up.
    #[must_use]
    pub fn about(&self, x: f64) -> Vec<f64> {
        let by = x - self.origin;
        let mut t = self.terms.clone();
        for low in 0..t.len() {
            for k in (low..t.len() - 1).rev() {
                t[k] += by * t[k + 1];
            }
        }
        t
    }
    /// ∫ from one angle to another.
    #[must_use]
    pub fn between(&self, from: f64, to: f64) -> f64 {
        let upto = |x: f64| {
            let xi = x - self.origin;
            (0..self.terms.len()).rev().fold(0.0, |sum, k| (sum + self.terms[k] / (k + 1) as f64) * xi)
        };
        upto(to) - upto(from)
    }
    /// The polynomial through the values of a function at the Chebyshev points of a range, and by how much
    /// it misses the function between them.
    #[must_use]
    pub fn through(from: f64, to: f64, degree: usize, of: impl Fn(f64) -> f64) -> (Poly, f64) {
        let values: Vec<f64> = points(from, to, degree).into_iter().map(&of).collect();
        let poly = Poly::fitted(from, to, &values);
        let n = degree + 1;
        let off = (0..=2 * n)
            .map(|i| from + (to - from) * i as f64 / (2 * n) as f64)
            .map(|x| (poly.at(x) - of(x)).abs())
            .fold(0.0, f64::max);
        (poly, off)
    }
    /// The polynomial with these values at the [`points`] of a range.
    #[must_use]
    pub fn fitted(from: f64, to: f64, values: &[f64]) -> Poly {
        let (middle, half) = (f64::midpoint(from, to), (to - from) / 2.0);
        let n = values.len();
        let angle = |i: usize| (i as f64 + 0.5) * maths::PI / n as f64;
        // Coefficients of Chebyshev, then powers by the recurrence of the polynomials.
        let mut powers = vec![0.0; n];
        let (mut before, mut now) = (vec![0.0; n], vec![0.0; n]);
        before[0] = 1.0;
        if n > 1 {
            now[1] = 1.0;
        }
        for k in 0..n {
            let sum: f64 = (0..n).map(|i| values[i] * maths::cos(k as f64 * angle(i))).sum();
            let c = sum * if k == 0 { 1.0 } else { 2.0 } / n as f64;
            let t = if k == 0 { &before } else { &now };
            for (p, t) in powers.iter_mut().zip(t) {
                *p += c * t;
            }
            if k > 0 {
                let mut next = vec![0.0; n];
                for i in 0..n {
                    if i + 1 < n {
                        next[i + 1] += 2.0 * now[i];
                    }
                    next[i] -= before[i];
                }
                before = std::mem::replace(&mut now, next);
            }
        }
        let mut scale = 1.0;
        for p in &mut powers {
            *p /= scale;
            scale *= half;
        }
        Poly { origin: middle, terms: powers }
    }
}
/// Chebyshev points of a range for a polynomial of a degree, from its end to its beginning.
#[must_use]
pub fn points(from: f64, to: f64, degree: usize) -> Vec<f64> {
    let (middle, half, n) = (f64::midpoint(from, to), (to - from) / 2.0, degree + 1);
    (0..n).map(|i| middle + half * maths::cos((i as f64 + 0.5) * maths::PI / n as f64)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_smooth_function_is_met() {
        let (p, off) = Poly::through(0.2, 0.7, 12, maths::exp);
        assert!(off < 1e-13, "{off}");
        assert!((p.slope(0.4) - maths::exp(0.4)).abs() < 1e-10);
        assert!((p.between(0.3, 0.6) - (maths::exp(0.6) - maths::exp(0.3))).abs() < 1e-13);
        let about = p.about(0.31);
        assert!((about[0] - p.at(0.31)).abs() < 1e-15 && (about[1] - p.slope(0.31)).abs() < 1e-13);
        assert!((p.derived().at(0.5) - maths::exp(0.5)).abs() < 1e-10);
    }
    #[test]
    fn constants_and_lines_are_themselves() {
        assert_eq!(Poly::through(1.0, 2.0, 0, |_| 3.0).0.terms, [3.0]);
        let (p, off) = Poly::through(-1.0, 2.0, 1, |x| 3.0 - 2.0 * x);
        assert!(off < 1e-14 && (p.at(5.0) + 7.0).abs() < 1e-13);
    }
}
