//! Fractions kept whole, so that `3/8 in` is 9.525 mm and not a hair less.

use std::cmp::Ordering;

/// A fraction of two whole numbers, in lowest terms, denominator positive.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub struct Fraction {
    num: i128,
    den: i128,
}
fn gcd(mut a: u128, mut b: u128) -> u128 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}
impl Fraction {
    /// Nothing.
    pub const ZERO: Fraction = Fraction { num: 0, den: 1 };
    /// A whole number.
    #[must_use]
    pub const fn whole(n: i64) -> Fraction {
        Fraction { num: n as i128, den: 1 }
    }
    /// `num / den` in lowest terms; nothing when `den` is 0 or the terms are too large.
    #[must_use]
    pub fn new(num: i128, den: i128) -> Option<Fraction> {
        if den == 0 {
            return None;
        }
        let g = i128::try_from(gcd(num.unsigned_abs(), den.unsigned_abs())).ok()?.max(1);
        let (num, den) = (num / g, den / g);
        Some(if den < 0 {
            Fraction { num: num.checked_neg()?, den: den.checked_neg()? }
        } else {
            Fraction { num, den }
        })
    }
    /// From the text of a decimal number such as `-0.250`; nothing if it is not one or has more than 18 digits.
    #[must_use]
    pub fn decimal(text: &str) -> Option<Fraction> {
        let (negative, digits) = match text.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, text.strip_prefix('+').unwrap_or(text)),
        };
        let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
        if whole.len() + part.len() == 0 || whole.len() + part.len() > 18 {
            return None;
        }
        if !whole.bytes().chain(part.bytes()).all(|b| b.is_ascii_digit()) {
            return None;
        }
        let num: i128 = format!("{whole}{part}").parse().ok()?;
        let mut den: i128 = 1;
        for _ in 0..part.len() {
            den *= 10;
        }
        Fraction::new(if negative { -num } else { num }, den)
    }
    /// Sum, or nothing when the terms grow too large.
    #[must_use]
    pub fn plus(self, o: Fraction) -> Option<Fraction> {
        let left = self.num.checked_mul(o.den)?;
        Fraction::new(left.checked_add(o.num.checked_mul(self.den)?)?, self.den.checked_mul(o.den)?)
    }
    /// Difference.
    #[must_use]
    pub fn minus(self, o: Fraction) -> Option<Fraction> {
        self.plus(Fraction { num: o.num.checked_neg()?, den: o.den })
    }
    /// Product.
    #[must_use]
    pub fn times(self, o: Fraction) -> Option<Fraction> {
        // Cross-reduce first, so that long chains of units stay small.
        let a = Fraction::new(self.num, o.den)?;
        let b = Fraction::new(o.num, self.den)?;
        Fraction::new(a.num.checked_mul(b.num)?, a.den.checked_mul(b.den)?)
    }
    /// Quotient; nothing when dividing by nothing.
    #[must_use]
    pub fn over(self, o: Fraction) -> Option<Fraction> {
        self.times(Fraction::new(o.den, o.num)?)
    }
    /// Numerator and denominator.
    #[must_use]
    pub const fn terms(self) -> (i128, i128) {
        (self.num, self.den)
    }
    /// The nearest `f64`, rounded once, ties to even.
    #[must_use]
    #[expect(
        clippy::cast_precision_loss,
        reason = "both terms are shown to fit 53 bits, or are rounded by hand"
    )]
    pub fn to_f64(self) -> f64 {
        const WHOLE: u128 = 1 << 53;
        let (n, d) = (self.num.unsigned_abs(), self.den.unsigned_abs());
        let sign = if self.num < 0 { -1.0 } else { 1.0 };
        if n < WHOLE && d < WHOLE {
            return sign * (n as f64) / (d as f64);
        }
        // Long division to 62 bits with a sticky last bit; the one rounding is then the cast.
        let mut shift: i32 = 0;
        let (mut q, mut r) = (n / d, n % d);
        while q < (1 << 61) && shift < 1100 {
            let Some(r2) = r.checked_mul(2) else { break };
            q = q * 2 + r2 / d;
            r = r2 % d;
            shift += 1;
        }
        while q >= (1 << 62) {
            r |= q & 1;
            q >>= 1;
            shift -= 1;
        }
        if r != 0 {
            q |= 1;
        }
        sign * libm::ldexp(q as f64, -shift)
    }
}
impl PartialOrd for Fraction {
    fn partial_cmp(&self, o: &Fraction) -> Option<Ordering> {
        match (self.num.checked_mul(o.den), o.num.checked_mul(self.den)) {
            (Some(a), Some(b)) => Some(a.cmp(&b)),
            _ => self.to_f64().partial_cmp(&o.to_f64()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    #[expect(clippy::float_cmp, reason = "exactness is the claim")]
    fn three_eighths_of_an_inch_is_exact() {
        let inch = Fraction::new(254, 10_000).unwrap();
        assert_eq!(Fraction::new(3, 8).unwrap().times(inch).unwrap().to_f64(), 0.009_525);
        assert_eq!(Fraction::new(12, 1000).unwrap().times(inch).unwrap().to_f64(), 0.000_304_8);
        assert_eq!(Fraction::decimal("0.1").unwrap().to_f64(), 0.1);
        assert_eq!(Fraction::decimal("123456789012345678").unwrap().to_f64(), 123_456_789_012_345_678.0);
        assert_eq!(Fraction::new(i128::from(i64::MAX), 3).unwrap().to_f64(), 3_074_457_345_618_258_602.333);
    }
    #[test]
    fn no_dust_and_no_overflow() {
        assert_eq!(Fraction::decimal("1234567890123456789"), None);
        assert_eq!(Fraction::decimal("."), None);
        assert_eq!(Fraction::decimal("1e5"), None);
        assert_eq!(Fraction::new(1, 0), None);
    }
}
