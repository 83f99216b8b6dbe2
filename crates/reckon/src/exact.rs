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
impl Ord for Fraction {
    /// Exact, whatever the size of the terms: whole parts first, then what is left turned upside down.
    fn cmp(&self, o: &Fraction) -> Ordering {
        let (mut a, mut b) = ((self.num, self.den), (o.num, o.den));
        let mut turned = false;
        loop {
            let whole = a.0.div_euclid(a.1).cmp(&b.0.div_euclid(b.1));
            let (ra, rb) = (a.0.rem_euclid(a.1), b.0.rem_euclid(b.1));
            let settled = match (whole, ra, rb) {
                (Ordering::Equal, 0, 0) => Some(Ordering::Equal),
                (Ordering::Equal, 0, _) => Some(Ordering::Less),
                (Ordering::Equal, _, 0) => Some(Ordering::Greater),
                (Ordering::Equal, _, _) => None,
                (other, _, _) => Some(other),
            };
            if let Some(order) = settled {
                return if turned { order.reverse() } else { order };
            }
            (a, b, turned) = ((a.1, ra), (b.1, rb), !turned);
        }
    }
}
impl PartialOrd for Fraction {
    fn partial_cmp(&self, o: &Fraction) -> Option<Ordering> {
        Some(self.cmp(o))
    }
}

#[cfg(test)]
mod tests;
