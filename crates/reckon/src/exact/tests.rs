//! Fractions against whole numbers of any size and the standard library's own reading of decimals.

use super::*;
use proptest::prelude::*;

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
    for text in ["", ".", "-", "+.", "1e5", "1.2.3", "--1", "+-1", " 1", "1 ", "٣", "1_000", "0x1"] {
        assert_eq!(Fraction::decimal(text), None, "{text}");
    }
    assert_eq!(Fraction::decimal("-0.250").map(Fraction::terms), Some((-1, 4)));
    assert_eq!(Fraction::decimal("+.5").map(Fraction::terms), Some((1, 2)));
    assert_eq!(Fraction::new(1, 0), None);
    assert_eq!(Fraction::new(6, -4).map(Fraction::terms), Some((-3, 2)));
    assert_eq!(Fraction::new(0, -4).map(Fraction::terms), Some((0, 1)));
    let big = Fraction::new(i128::MAX, 1).unwrap();
    assert_eq!((big.plus(big), big.times(big)), (None, None));
    assert_eq!(big.minus(big), Some(Fraction::ZERO));
    assert_eq!(big.over(big), Some(Fraction::whole(1)));
    assert_eq!(Fraction::whole(3).over(Fraction::ZERO), None);
    for (n, d) in [(i128::MIN, 1), (1, i128::MIN), (i128::MIN, i128::MIN), (i128::MIN, -1)] {
        if let Some(f) = Fraction::new(n, d) {
            assert!(f.to_f64().is_finite() && f.terms().1 > 0);
        }
    }
}

/// A whole number of 320 bits, enough to compare products of the terms of any fraction.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
struct Big([u64; 5]);
impl Big {
    fn from(n: u128) -> Big {
        #[expect(clippy::cast_possible_truncation, reason = "the halves of a whole number")]
        Big([n as u64, (n >> 64) as u64, 0, 0, 0])
    }
    fn times(self, n: u64) -> Big {
        let mut carry = 0u128;
        let mut out = [0; 5];
        for (o, w) in out.iter_mut().zip(self.0) {
            let x = u128::from(w) * u128::from(n) + carry;
            #[expect(clippy::cast_possible_truncation, reason = "the low half")]
            {
                *o = x as u64;
            }
            carry = x >> 64;
        }
        assert_eq!(carry, 0, "too small a number for this test");
        Big(out)
    }
    fn doubled(self, times: u32) -> Big {
        (0..times).fold(self, |b, _| b.times(2))
    }
    fn cmp(&self, o: &Big) -> Ordering {
        self.0.iter().rev().cmp(o.0.iter().rev())
    }
}
/// Compares `x = m·2^e` (exact) with `n/d`, all positive.
fn against(m: u64, e: i32, n: u128, d: u128) -> Ordering {
    let (left, right) = (Big::from(d).times(m), Big::from(n));
    if e >= 0 {
        left.doubled(e.unsigned_abs()).cmp(&right)
    } else {
        left.cmp(&right.doubled(e.unsigned_abs()))
    }
}
/// Whether `x` is the double nearest to `n/d`, ties to even: `n/d` lies between the middles on both sides.
fn nearest(x: f64, n: u128, d: u128) -> bool {
    let bits = x.to_bits();
    let m = (bits & ((1 << 52) - 1)) | (1 << 52);
    let e = i32::try_from(bits >> 52).unwrap() - 1075;
    // Middles to the neighbours in quarters of a unit in the last place; below a power of two they lie closer.
    let below = if m == 1 << 52 { 4 * m - 1 } else { 4 * m - 2 };
    let even = m.is_multiple_of(2);
    let low = against(below, e - 2, n, d);
    let high = against(4 * m + 2, e - 2, n, d);
    (low == Ordering::Less || (even && low == Ordering::Equal))
        && (high == Ordering::Greater || (even && high == Ordering::Equal))
}
#[test]
fn the_measure_itself() {
    assert!(nearest(0.1, 1, 10) && !nearest(0.1f64.next_up(), 1, 10) && !nearest(0.1f64.next_down(), 1, 10));
    assert!(nearest(1.0, 1, 1) && !nearest(1.0f64.next_down(), 1, 1));
    // 2^53 + 1 lies midway and goes to the even neighbour.
    let tie = (1u128 << 53) + 1;
    assert!(nearest(9_007_199_254_740_992.0, tie, 1) && !nearest(9_007_199_254_740_994.0, tie, 1));
}
proptest! {
    #![proptest_config(ProptestConfig { cases: 3000, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn decimals_as_the_standard_library_reads_them(text in "-?[0-9]{1,9}(\\.[0-9]{1,9})?") {
        let truth: f64 = text.parse().unwrap();
        let ours = Fraction::decimal(&text).unwrap().to_f64();
        prop_assert_eq!(ours.to_bits(), (truth + 0.0).to_bits());
    }
    #[test]
    fn ratios_are_rounded_to_the_nearest(
        n in 1i128..i128::MAX, d in 1i128..i128::MAX, less in 0u32..126, lesser in 0u32..126,
    ) {
        let (n, d) = ((n >> less).max(1), (d >> lesser).max(1));
        let f = Fraction::new(n, d).unwrap();
        prop_assert!(nearest(f.to_f64(), n.unsigned_abs(), d.unsigned_abs()));
        let minus = Fraction::new(-n, d).unwrap();
        prop_assert_eq!(minus.to_f64().to_bits(), (-f.to_f64()).to_bits());
    }
    #[test]
    fn near_ties_are_rounded_to_the_nearest(m in (1u64 << 52)..(1 << 53), off in -1i128..=1, scale in 0u32..20) {
        // Midway between two doubles, and a hair to each side.
        let d = 1i128 << (40 + scale);
        let n = (i128::from(m) * 2 + 1) * (1 << 20) + off;
        let f = Fraction::new(n, d).unwrap();
        prop_assert!(nearest(f.to_f64(), n.unsigned_abs(), d.unsigned_abs()));
    }
    #[test]
    fn sums_and_products(a in -1_000_000i128..1_000_000, b in 1i128..1_000_000, c in -1_000_000i128..1_000_000, d in 1i128..1_000_000) {
        let (x, y) = (Fraction::new(a, b).unwrap(), Fraction::new(c, d).unwrap());
        let same = |got: Option<Fraction>, n: i128, d: i128| {
            let (gn, gd) = got.unwrap().terms();
            gn * d == n * gd && gd > 0
        };
        prop_assert!(same(x.plus(y), a * d + c * b, b * d));
        prop_assert!(same(x.minus(y), a * d - c * b, b * d));
        prop_assert!(same(x.times(y), a * c, b * d));
        prop_assert_eq!(x.over(y).is_none(), c == 0);
        if c != 0 {
            prop_assert!(same(x.over(y), a * d, b * c));
        }
        prop_assert_eq!(x.cmp(&y), (a * d).cmp(&(c * b)));
    }
    #[test]
    fn order_is_exact_for_large_terms(n in 1i128..i128::MAX, d in 1i128..i128::MAX) {
        // n/d lies between n/d less and more by the least that can be.
        let f = Fraction::new(n, d).unwrap();
        let up = Fraction::new(n + i128::from(n < i128::MAX), d).unwrap();
        let down = Fraction::new(n - 1, d).unwrap();
        prop_assert!(down < f && f < up && f <= f);
        prop_assert_eq!(f.cmp(&f), Ordering::Equal);
    }
}
