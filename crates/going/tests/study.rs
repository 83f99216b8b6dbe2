//! The study of tolerances against what is known in closed form.

use going::study::{Dimension, Draw, Likely, Outcome, Sample, Spread, Study, below};
use proptest::prelude::*;
use reckon::maths::{PI, sin};
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};

fn study(draws: &[Draw]) -> Study {
    Study {
        dimensions: draws.iter().enumerate().map(|(i, d)| Dimension::new(format!("x{i}"), *d)).collect(),
        verdicts: vec!["inside".to_owned()],
        figures: vec!["sum".to_owned()],
    }
}
fn stack(weights: &[f64], limit: f64) -> impl Fn(&[f64]) -> Outcome + Sync {
    move |x| {
        let sum: f64 = x.iter().zip(weights).map(|(x, w)| x * w).sum();
        Outcome { holds: vec![sum <= limit], figures: vec![sum] }
    }
}
fn run(s: &Study, seed: u64, n: u32, f: &(impl Fn(&[f64]) -> Outcome + Sync)) -> Sample {
    s.run(seed, n, 2, &AtomicBool::new(false), &|_| (), f)
}
/// Share of sums of three even sizes of 0 … 1 that stay below x: the law of Irwin and Hall.
fn three(x: f64) -> f64 {
    let cube = |y: f64| if y > 0.0 { y * y * y / 6.0 } else { 0.0 };
    cube(x) - 3.0 * cube(x - 1.0) + 3.0 * cube(x - 2.0) - cube(x - 3.0)
}

#[test]
fn a_stack_of_normal_sizes() {
    let spreads = [0.3, 0.2, 0.1, 0.05];
    let weights = [1.0, -1.0, 2.0, -0.5];
    let s = study(&spreads.map(|deviation| Draw::Spread { mean: 1.0, deviation }));
    let each: Vec<f64> = spreads.iter().zip(weights).map(|(d, w)| d * d * w * w).collect();
    let all: f64 = each.iter().sum();
    let limit = 1.5 + all.sqrt();
    let sample = run(&s, 11, 10_000, &stack(&weights, limit));
    let yields = below(1.0);
    let l = sample.likely(0);
    assert!(l.low < yields && yields < l.high, "{l:?} {yields}");
    let spread = sample.spread(0).expect("numbers");
    assert!((spread.deviation / all.sqrt() - 1.0).abs() < 0.03 && (spread.mean - 1.5).abs() < 0.02);
    assert!((spread.quantiles[4] - 1.5 - 1.96 * all.sqrt()).abs() < 0.04);
    let together = s
        .together(11, 4000, 2, &AtomicBool::new(false), &|x| stack(&weights, limit)(x).figures[0])
        .expect("it varies");
    let shares = sample.shares_of(0).expect("it varies");
    for (i, e) in each.iter().enumerate() {
        let want = e / all;
        let got = shares[i];
        assert!((got.share - want).abs() < 4.0 * got.error.max(0.003), "{i} {got:?} {want}");
        assert!(got.error < 0.02);
        for t in [together[i].alone, together[i].total] {
            assert!((t.share - want).abs() < 4.0 * t.error.max(0.003), "{i} {t:?} {want}");
        }
    }
    // A spread halved takes three quarters of its variance away.
    for (i, t) in sample.tighter(0.5).into_iter().enumerate() {
        let t = t.expect("it varies");
        let left = (all - 0.75 * each[i]).sqrt();
        let want = below(all.sqrt() / left);
        assert!((t.share - want).abs() < 0.012, "{i} {t:?} {want}");
        assert!((t.gain - (want - yields)).abs() < 4.0 * t.error, "{i} {t:?} {}", want - yields);
    }
    assert!(sample.tighter(0.5)[0].expect("varies").sure());
    assert!(!sample.tighter(0.5)[3].expect("varies").sure());
}
#[test]
fn a_stack_of_even_sizes() {
    let s = study(&[Draw::Even { low: 0.0, high: 1.0 }; 3]);
    let sample = run(&s, 5, 10_000, &stack(&[1.0; 3], 2.2));
    let l = sample.likely(0);
    assert!(l.low < three(2.2) && three(2.2) < l.high, "{l:?} {}", three(2.2));
    for share in sample.shares_of(0).expect("varies") {
        assert!((share.share - 1.0 / 3.0).abs() < 4.0 * share.error.max(0.003), "{share:?}");
    }
    // One between 1/4 and 3/4: ∫ of the law of two over the middle half.
    let two = |x: f64| 1.0 - if x < 2.0 { (2.0 - x) * (2.0 - x) / 2.0 } else { 0.0 };
    let want: f64 = (0..1000).map(|i| two(2.2 - (0.25 + (f64::from(i) + 0.5) / 2000.0)) / 1000.0).sum();
    let t = sample.tighter(0.5)[1].expect("varies");
    assert!((t.share - want).abs() < 0.01 && (t.gain - (want - three(2.2))).abs() < 4.0 * t.error, "{t:?}");
}
/// A function with known shares that is far from a straight line: T. Ishigami and T. Homma (1990), a = 7, b = 0.1;
/// shares in closed form from the same place (memory).
#[test]
fn shares_of_what_is_not_straight() {
    let s = study(&[Draw::Even { low: -PI, high: PI }; 3]);
    let f = |x: &[f64]| {
        let s1 = sin(x[1]);
        sin(x[0]) + 7.0 * s1 * s1 + 0.1 * x[2] * x[2] * x[2] * x[2] * sin(x[0])
    };
    let sample = run(&s, 3, 10_000, &|x| Outcome { holds: vec![true], figures: vec![f(x)] });
    let p4 = PI * PI * PI * PI;
    let d = 49.0 / 8.0 + 0.1 * p4 / 5.0 + 0.01 * p4 * p4 / 18.0 + 0.5;
    let v1 = 0.5 * (1.0 + 0.1 * p4 / 5.0) * (1.0 + 0.1 * p4 / 5.0);
    let (v2, v13) = (49.0 / 8.0, 0.01 * p4 * p4 * (1.0 / 18.0 - 1.0 / 50.0));
    let alone = [v1 / d, v2 / d, 0.0];
    let total = [(v1 + v13) / d, v2 / d, v13 / d];
    assert!((alone[0] - 0.3139).abs() < 1e-4 && (total[2] - 0.2437).abs() < 1e-4);
    let shares = sample.shares_of(0).expect("varies");
    let together = s.together(3, 8000, 2, &AtomicBool::new(false), &f).expect("varies");
    for i in 0..3 {
        assert!((shares[i].share - alone[i]).abs() < 0.02, "{i} {shares:?}");
        assert!((together[i].alone.share - alone[i]).abs() < 0.03, "{i} {together:?}");
        assert!((together[i].total.share - total[i]).abs() < 0.02, "{i} {together:?}");
        assert!(together[i].total.error < 0.02);
    }
}
#[test]
fn threads_do_not_matter_and_neither_does_an_end() {
    let s = study(&[Draw::bell(-1.0, 1.0), Draw::Even { low: 0.0, high: 1.0 }, Draw::Made(0.3)]);
    let f = stack(&[1.0, 1.0, 1.0], 0.9);
    let never = AtomicBool::new(false);
    let one = s.run(9, 1000, 1, &never, &|_| (), &f);
    let seven = s.run(9, 1000, 7, &never, &|_| (), &f);
    assert_eq!(one, seven);
    assert!(!one.partial());
    assert!(one.sizes.iter().all(|x| x[2].to_bits() == 0.3_f64.to_bits()));
    let stop = AtomicBool::new(false);
    let heard = AtomicU32::new(0);
    let ready = |n: u32| {
        heard.fetch_max(n, Ordering::Relaxed);
        if n >= 200 {
            stop.store(true, Ordering::Relaxed);
        }
    };
    let part = s.run(9, 1000, 3, &stop, &ready, &f);
    assert!(part.partial() && part.clocks() >= 200 && part.clocks() < 1000);
    assert_eq!(heard.load(Ordering::Relaxed) as usize, part.clocks());
    assert_eq!(part.sizes[..], one.sizes[..part.clocks()]);
    assert_eq!(part.outcomes[..], one.outcomes[..part.clocks()]);
    assert_ne!(one.sizes, s.run(10, 1000, 1, &never, &|_| (), &f).sizes);
}
#[test]
fn nothing_drawn_and_nothing_varying() {
    let s = study(&[Draw::Made(1.0)]);
    let f = stack(&[1.0], 2.0);
    let none = s.run(1, 1000, 2, &AtomicBool::new(true), &|_| (), &f);
    assert_eq!(none.clocks(), 0);
    assert!(none.likely_all().low.abs() < 1e-15 && (none.likely_all().high - 1.0).abs() < 1e-15);
    assert!(none.spread(0).is_none() && none.shares_of(0).is_none() && none.tighter(0.5)[0].is_none());
    let all = run(&s, 1, 500, &f);
    assert_eq!(all.likely_all().holds, 500);
    assert!(all.shares_of(0).is_none());
}
/// Wilson's interval: scipy.stats.binomtest(k, n).proportion_ci(method="wilson"), SciPy 1.17.
#[test]
fn intervals() {
    for (k, n, low, high) in [
        (0, 10, 0.0, 0.277_532_799_862_889_26),
        (7, 10, 0.396_778_147_461_145_3, 0.892_208_732_593_699),
        (9312, 10_000, 0.926_071_671_528_576_2, 0.935_997_168_276_552_2),
    ] {
        let l = Likely::of(k, n, 0.95);
        assert!((l.low - low).abs() < 1e-12 && (l.high - high).abs() < 1e-12, "{l:?}");
    }
}
proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]
    /// Yield and shares of any stack of normal sizes lie where the closed form says.
    #[test]
    fn any_stack(
        spreads in proptest::collection::vec(0.01_f64..1.0, 1..6),
        weights in proptest::collection::vec(-2.0_f64..2.0, 6),
        at in -1.5_f64..2.5,
        seed in 0_u64..1_000_000,
    ) {
        let draws: Vec<Draw> = spreads.iter().map(|d| Draw::Spread { mean: 0.0, deviation: *d }).collect();
        let all: f64 = spreads.iter().zip(&weights).map(|(d, w)| d * d * w * w).sum();
        prop_assume!(all > 1e-4);
        let s = study(&draws);
        let sample = run(&s, seed, 4000, &stack(&weights, at * all.sqrt()));
        // Four and a half errors: one in a hundred thousand.
        let got = Likely::of(sample.likely(0).holds, 4000, 0.999_993);
        prop_assert!(got.low <= below(at) && below(at) <= got.high, "{:?} {}", got, below(at));
        for (i, share) in sample.shares_of(0).expect("varies").iter().enumerate() {
            let want = spreads[i] * spreads[i] * weights[i] * weights[i] / all;
            prop_assert!((share.share - want).abs() < 0.06, "{} {:?} {}", i, share, want);
        }
        let spread: Spread = sample.spread(0).expect("numbers");
        prop_assert!((spread.deviation / all.sqrt() - 1.0).abs() < 0.06);
    }
}
