//! Finding a place by closing in on it from both sides.

/// A place found by search.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Found {
    /// The place.
    pub x: f64,
    /// How many rounds it took.
    pub rounds: u32,
    /// What the function is there; nothing would be exact.
    pub residual: f64,
}
/// The place between `a` and `b` where `f` is nothing, by regula falsi with halving when it is slow
/// (each round at least halves the bracket in two). `None` when the ends do not lie on either side.
pub fn between(f: impl Fn(f64) -> f64, a: f64, b: f64) -> Option<Found> {
    let (mut a, mut b) = (a, b);
    let (mut fa, mut fb) = (f(a), f(b));
    if fa == 0.0 {
        return Some(Found { x: a, rounds: 0, residual: 0.0 });
    }
    if fb == 0.0 {
        return Some(Found { x: b, rounds: 0, residual: 0.0 });
    }
    if !(fa.is_finite() && fb.is_finite()) || (fa > 0.0) == (fb > 0.0) {
        return None;
    }
    let mut rounds = 0;
    let mut weights = (fa, fb);
    while rounds < 200 && (b - a).abs() > 4.0 * f64::EPSILON * (a.abs() + b.abs()) {
        rounds += 1;
        let before = (b - a).abs();
        let straight = b - weights.1 * (b - a) / (weights.1 - weights.0);
        let inside = straight > a.min(b) && straight < a.max(b);
        let x = if inside && rounds % 3 != 0 { straight } else { f64::midpoint(a, b) };
        let fx = f(x);
        if fx == 0.0 {
            return Some(Found { x, rounds, residual: 0.0 });
        }
        if (fx > 0.0) == (fa > 0.0) {
            (a, fa) = (x, fx);
            weights = (fx, weights.1 / 2.0);
        } else {
            (b, fb) = (x, fx);
            weights = (weights.0 / 2.0, fx);
        }
        if (b - a).abs() >= before {
            break;
        }
    }
    let (x, residual) = if fa.abs() < fb.abs() { (a, fa) } else { (b, fb) };
    Some(Found { x, rounds, residual })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn it_finds_the_root_of_a_cubic(r in -5.0..5.0_f64, k in 0.0..10.0_f64) {
            let f = |x: f64| (x - r) * ((x - r) * (x - r) + k + 0.1);
            let found = between(f, -7.0, 9.0).unwrap();
            prop_assert!((found.x - r).abs() < 1e-14 * 16.0, "{:?}", found);
        }
    }
    #[test]
    fn ends_on_one_side_hold_nothing() {
        assert!(between(|x| x * x + 1.0, -1.0, 1.0).is_none());
    }
}
