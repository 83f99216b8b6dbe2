//! Recordings whose truth is known, at rising noise.

use listen::synthetic::{Synthetic, floats};
use listen::{Heard, Hint, Recorder, Trust, hear};

/// Rate and beat error that a straight line through the true times gives.
fn truth(made: &Synthetic) -> (f64, f64) {
    let t = made.times();
    let n = t.len() as f64;
    let mean = (n - 1.0) / 2.0;
    // Count and alternation, orthogonal but for an odd beat: two normal equations.
    let (mut kk, mut ks, mut ss, mut kt, mut st, mut s1, mut t1) = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    for (k, t) in t.iter().enumerate() {
        s1 += if k % 2 == 0 { 1.0 } else { -1.0 };
        t1 += t;
    }
    for (i, t) in t.iter().enumerate() {
        let k = i as f64 - mean;
        let s = if i % 2 == 0 { 1.0 } else { -1.0 } - s1 / n;
        kk += k * k;
        ks += k * s;
        ss += s * s;
        kt += k * (t - t1 / n);
        st += s * (t - t1 / n);
    }
    let d = kk * ss - ks * ks;
    let (beat, gamma) = ((kt * ss - st * ks) / d, (st * kk - kt * ks) / d);
    (86_400.0 * (made.beat / beat - 1.0), 2.0 * gamma)
}
fn heard(made: &Synthetic) -> Heard {
    let hint = Hint { recorder: Recorder { ppm: 0.0, within: 0.0, known: true }, ..Hint::default() };
    hear(&floats(&made.samples()), 1, made.rate, &hint)
}
/// Asserts that rate, beat error and count are those of the truth.
fn holds(made: &Synthetic, rate_within: f64, error_within: f64) {
    let h = heard(made);
    let b = h.beat.as_ref().unwrap_or_else(|| panic!("{made:?}: {:?}", h.verdict));
    let (rate, error) = truth(made);
    let (got, (e, _)) = (b.rate.expect("a rate"), b.beat_error.expect("a beat error"));
    println!(
        "noise {} beats {}/{} rate {:.4} ± {:.4} (true {rate:.4}) error {:.4} ms (true {:.4}) scatter {:.2} µs alike {:.3}",
        made.noise,
        b.heard,
        made.times().len(),
        got.value,
        got.scatter,
        e * 1e3,
        error * 1e3,
        b.line.scatter * 1e6,
        b.alike
    );
    assert_eq!(h.verdict.trust, Trust::Sure, "{:?}", h.verdict);
    assert_eq!(b.heard, made.times().len(), "{made:?}");
    assert!((got.value - rate).abs() <= rate_within, "{made:?}: rate {} for {rate}", got.value);
    assert!((e - error).abs() <= error_within, "{made:?}: beat error {e} for {error}");
}

#[test]
fn the_first_recording() {
    holds(&Synthetic::default(), 0.01, 0.05e-3);
}
#[test]
fn in_rising_noise() {
    for noise in [0.0, 0.003, 0.01, 0.03, 0.06, 0.1] {
        holds(&Synthetic { noise, ..Synthetic::default() }, 0.05, 0.05e-3);
    }
}
#[test]
fn half_seconds() {
    let made = Synthetic {
        beat: 0.5,
        gains: 3.0,
        beat_error: 1.5e-3,
        seconds: 30.0,
        seed: 5,
        ..Synthetic::default()
    };
    holds(&made, 0.05, 0.05e-3);
}
#[test]
fn beats_that_scatter() {
    for jitter in [0.05e-3, 0.2e-3, 1e-3] {
        let made = Synthetic { jitter, seconds: 120.0, ..Synthetic::default() };
        holds(&made, 0.05, 0.05e-3);
    }
}
#[test]
fn other_rates_of_sampling() {
    for rate in [8_000.0, 11_025.0, 22_050.0, 44_100.0, 96_000.0, 192_000.0] {
        holds(&Synthetic { rate, seconds: 40.0, ..Synthetic::default() }, 0.15, 0.06e-3);
    }
}
#[test]
fn other_beats() {
    for (beat, gains, error) in [
        (2.0, -40.0, 20e-3),
        (1.5, 5.0, 0.0),
        (0.75, 100.0, -30e-3),
        (0.4, -300.0, 40e-3),
        (0.25, 20.0, 5e-3),
        (0.2, 0.0, -2e-3),
        (0.1666666, 0.0, 1e-3),
    ] {
        let made = Synthetic { beat, gains, beat_error: error, seconds: 60.0, ..Synthetic::default() };
        let h = heard(&made);
        let b = h.beat.unwrap_or_else(|| panic!("{made:?}: {:?}", h.verdict));
        let (rate, e) = truth(&made);
        let got = b.rate.unwrap_or_else(|| panic!("{made:?}: {:?}", h.verdict));
        println!(
            "beat {beat}: {} of {}, {} for {rate}, {:?} for {e}",
            b.heard,
            made.times().len(),
            got.value,
            b.beat_error
        );
        assert!((got.value - rate).abs() <= 0.1, "{made:?}: {} for {rate}", got.value);
        assert!((b.beat_error.expect("a beat error").0 - e).abs() <= 0.05e-3, "{made:?}");
    }
}
