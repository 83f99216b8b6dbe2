//! Recordings that are none, or not of one clock alone: no panic, no confident wrong rate.

use listen::synthetic::{Synthetic, floats, normal};
use listen::{Heard, Hint, Recorder, Trust, Wheel, Why, hear};
use proptest::prelude::*;

const RATE: f64 = 16_000.0;

fn made(seconds: f64) -> Synthetic {
    Synthetic { rate: RATE, seconds, gains: 20.0, beat_error: 4e-3, ..Synthetic::default() }
}
fn heard(samples: &[f32]) -> Heard {
    hear(samples, 1, RATE, &Hint::default())
}
fn noise(seconds: f64, size: f64, seed: u64) -> Vec<f32> {
    (0..(seconds * RATE) as u64).map(|i| (size * normal(seed, i)) as f32).collect()
}
/// A chord of decaying tones whose frequencies and times come from a seed.
fn note(x: &mut [f32], at: f64, hertz: f64, size: f64, decay: f64) {
    let from = (at.max(0.0) * RATE) as usize;
    for (i, x) in x.iter_mut().enumerate().skip(from).take((6.0 * decay * RATE) as usize) {
        let t = i as f64 / RATE - at;
        let a = reckon::maths::exp(-t / decay) * size;
        for part in 1..=5 {
            let turn = std::f64::consts::TAU * hertz * f64::from(part) * t;
            *x += (a / f64::from(part) * reckon::maths::sin(turn)) as f32;
        }
    }
}
#[test]
fn nothing_at_all() {
    for (samples, says) in [
        (vec![], "the recording holds no samples"),
        (vec![0.0; 80_000], "the recording is silent: all samples are nought"),
        (vec![f32::NAN; 80_000], "no sample of the recording is a number"),
        (
            vec![0.1; 20_000],
            "the recording is 1.25 s long; at least 4 s are needed, and two minutes are good",
        ),
    ] {
        let h = heard(&samples);
        assert_eq!((h.verdict.trust, h.verdict.says.as_str()), (Trust::Nothing, says));
        assert!(h.beat.is_none());
    }
}
#[test]
fn noise_has_no_rate() {
    for seed in 0..12 {
        let h = heard(&noise(60.0, 0.05, seed));
        assert_ne!(h.verdict.trust, Trust::Sure, "{seed}: {:?}", h.verdict);
    }
}
#[test]
fn hum_and_steady_tones_have_no_rate() {
    for hertz in [50.0, 440.0, 2_000.0, 3_001.3] {
        let tone: Vec<f32> = (0..480_000)
            .map(|i| (0.3 * reckon::maths::sin(std::f64::consts::TAU * hertz * f64::from(i) / RATE)) as f32)
            .collect();
        let h = heard(&tone);
        assert_ne!(h.verdict.trust, Trust::Sure, "{hertz}: {:?}", h.verdict);
    }
}
#[test]
fn speech_has_no_rate() {
    // Syllables of 80 to 300 ms at no steady pace, voiced at changing pitch, with hiss between.
    for seed in 0..6_u64 {
        let mut x = noise(60.0, 0.002, seed);
        let mut t = 0.2;
        let mut j = 1_000 * seed;
        let mut chance = || {
            j += 1;
            normal(77, j)
        };
        while t < 59.0 {
            let (pitch, size) = (180.0 + 40.0 * chance(), 0.15 * (1.0 + 0.4 * chance()).abs());
            note(&mut x, t, pitch.abs().max(90.0) * 8.0, size, 0.05);
            note(&mut x, t, pitch.abs().max(90.0), size, 0.08);
            t += (0.19 + 0.07 * chance()).max(0.08) + if chance() > 1.2 { 0.6 } else { 0.0 };
        }
        let h = heard(&x);
        assert_ne!(h.verdict.trust, Trust::Sure, "{seed}: {:?}", h.verdict);
    }
}
#[test]
fn music_has_no_rate() {
    // Notes on a grid that players keep to some 15 ms, of unequal length and height.
    for seed in 0..6_u64 {
        let mut x = noise(60.0, 0.002, seed);
        let grid = 0.21 + 0.02 * seed as f64;
        let mut j = 5_000 * seed;
        for step in 0..(58.0 / grid) as u64 {
            let (play, late, high) = (normal(99, j), normal(99, j + 1), normal(99, j + 2));
            j += 3;
            if play > 0.3 && step % 4 != 0 {
                continue;
            }
            let hertz = 400.0 * reckon::maths::pow(2.0, (high * 5.0).round() / 12.0);
            note(&mut x, 0.3 + step as f64 * grid + 0.015 * late, hertz, 0.15, 0.25);
        }
        let h = heard(&x);
        assert_ne!(h.verdict.trust, Trust::Sure, "{seed}: {:?}", h.verdict);
    }
}
#[test]
fn two_clocks_are_told() {
    for (beat, size) in [(0.83, 1.0), (0.402, 0.7), (0.9993, 0.9)] {
        let one = floats(&made(90.0).samples());
        let other = Synthetic { beat, gains: 0.0, seed: 9, noise: 0.0, ..made(90.0) };
        let times: Vec<f64> = other.times().iter().map(|t| t + 0.17).filter(|t| *t < 89.9).collect();
        let other = floats(&other.with(&times));
        let both: Vec<f32> = one.iter().zip(&other).map(|(a, b)| a + size * b).collect();
        let h = heard(&both);
        assert_eq!(h.verdict.trust, Trust::BeatOnly, "{beat}: {:?}", h.verdict);
        println!("{beat}: {}", h.verdict.says);
    }
}
/// Two clocks as loud in one recording, their beats nearly as small whole numbers.
fn pair(beats: (f64, f64), off: f64, gains: f64) -> Vec<f32> {
    let base = Synthetic { jitter: 0.05e-3, ..made(90.0) };
    let one = floats(&Synthetic { beat: beats.0, ..base }.samples());
    let other = Synthetic { beat: beats.1, gains, seed: 9, noise: 0.0, beat_error: -3e-3, ..base };
    let times: Vec<f64> = other.times().iter().map(|t| t + off).filter(|t| *t < 89.9).collect();
    one.iter().zip(&floats(&other.with(&times))).map(|(a, b)| a + b).collect()
}
const PAIRS: [(f64, f64); 5] = [(1.0, 1.0), (1.0, 0.5), (1.0, 2.0), (1.0, 2.0 / 3.0), (0.5, 0.75)];
#[test]
fn two_clocks_whose_beats_are_as_small_numbers_get_no_rate() {
    for beats in PAIRS {
        for part in [0.06, 0.1, 0.17, 0.31] {
            for gains in [-80.0, 0.0] {
                let h = heard(&pair(beats, part * 2.0 * beats.0.min(beats.1), gains));
                let shown = h.beat.as_ref().map(|b| (b.rate, b.others.regular.clone(), b.others.extra.len()));
                assert_ne!(
                    h.verdict.trust,
                    Trust::Sure,
                    "{beats:?} {part} {gains}: {:?} {shown:?}",
                    h.verdict
                );
            }
        }
    }
}
#[test]
fn where_two_clocks_pass_for_one_the_rate_is_that_of_one() {
    // Two seconds a day apart, or ticks that fall together for a while.
    for beats in PAIRS {
        for (off, gains) in [(0.0, 18.0), (0.0, 0.0), (0.012, 0.0), (0.25, 18.0), (0.5, 0.0)] {
            let hint = Hint {
                recorder: Recorder { ppm: 0.0, within: 0.0, known: true },
                beats_per_hour: Some(3_600.0 / beats.0),
                ..Hint::default()
            };
            let h = hear(&pair(beats, off, gains), 1, RATE, &hint);
            let rate = h.beat.as_ref().and_then(|b| b.rate).filter(|_| h.verdict.trust == Trust::Sure);
            if let Some(r) = rate {
                let off_by = (r.value - 20.0).abs().min((r.value - gains).abs());
                assert!(off_by < 1.5 * r.scatter + 0.05, "{beats:?} {off} {gains}: {r:?}");
            }
        }
    }
}
#[test]
fn a_faint_second_clock_does_no_harm() {
    let one = made(90.0);
    let other = floats(&Synthetic { beat: 0.83, gains: 0.0, seed: 9, noise: 0.0, ..one }.samples());
    let both: Vec<f32> = floats(&one.samples()).iter().zip(&other).map(|(a, b)| a + 0.08 * b).collect();
    let h = heard(&both);
    let rate = h.beat.as_ref().and_then(|b| b.rate).expect("a rate");
    assert_eq!(h.verdict.trust, Trust::Sure, "{:?}", h.verdict);
    assert!((rate.value - 20.0).abs() < 0.1, "{}", rate.value);
}
#[test]
fn lost_and_doubled_ticks_are_named() {
    let one = made(120.0);
    let mut times = one.times();
    // Doubled first, while places are known: a soft blow 90 ms after two of them.
    let doubled = [times[31], times[64]];
    let lost = [times[20], times[51], times[90]];
    let kept: Vec<f64> = times.iter().map(|t| if lost.contains(t) { -10.0 } else { *t }).collect();
    let mut x = floats(&one.with(&kept));
    for t in doubled {
        note(&mut x, t + 0.09, 2_000.0, 0.4, 2e-3);
    }
    times.retain(|t| !lost.contains(t));
    let h = heard(&x);
    let b = h.beat.as_ref().expect("a beat");
    assert_eq!(h.verdict.trust, Trust::Sure, "{:?}", h.verdict);
    assert_eq!(b.heard, times.len());
    let missing: Vec<f64> = b.others.missing.iter().filter(|m| m.1 == Why::Lost).map(|m| m.0).collect();
    assert_eq!(missing.len(), lost.len(), "{:?}", b.others.missing);
    for (got, want) in missing.iter().zip(&lost) {
        assert!((got - want).abs() < 0.01, "{got} for {want}");
    }
    let twice: Vec<f64> = b.others.extra.iter().filter(|e| e.double).map(|e| e.time).collect();
    assert_eq!(twice.len(), 2, "{:?}", b.others.extra);
    assert!(twice.iter().zip(&doubled).all(|(got, want)| (got - want - 0.09).abs() < 0.01));
    assert!((b.rate.expect("a rate").value - 20.0).abs() < 0.05);
}
#[test]
fn a_clock_that_stops_and_goes_on() {
    let one = made(200.0);
    let times: Vec<f64> = one
        .times()
        .into_iter()
        .filter(|t| *t < 80.0 || *t > 120.0)
        .map(|t| if t > 100.0 { t + 0.31 } else { t })
        .filter(|t| t + 0.05 < one.seconds)
        .collect();
    // Tick stays tick: both parts have a whole number of cycles before them.
    let h = heard(&floats(&one.with(&times)));
    let b = h.beat.as_ref().expect("a beat");
    assert_eq!(h.verdict.trust, Trust::Sure, "{:?}", h.verdict);
    assert!((b.rate.expect("a rate").value - 20.0).abs() < 0.1, "{:?}", b.rate);
    assert!(b.runs == 2, "{}", b.runs);
    assert!(b.others.silent.iter().any(|(a, b)| *a < 100.0 && *b > 100.0), "{:?}", b.others.silent);
}
#[test]
fn clipped_and_broken_samples_do_no_harm() {
    let one = made(60.0);
    let mut x: Vec<f32> = floats(&one.samples()).iter().map(|v| (v * 8.0).clamp(-1.0, 1.0)).collect();
    for i in (0..x.len()).step_by(40_001) {
        x[i] = f32::NAN;
        x[i + 1] = f32::INFINITY;
    }
    let h = heard(&x);
    let b = h.beat.as_ref().expect("a beat");
    assert!(h.health.clipped > 100 && h.health.no_number > 10);
    assert!((b.rate.expect("a rate").value - 20.0).abs() < 0.1, "{:?}", b.rate);
    assert!(h.verdict.notes.iter().any(|n| n.contains("cut off")));
}
#[test]
fn a_wheel_out_of_round_is_named_with_its_share_and_phase() {
    let one = Synthetic { noise: 0.003, jitter: 0.1e-3, ..made(600.0) };
    let times: Vec<f64> = one
        .times()
        .iter()
        .map(|t| t + 0.5e-3 * reckon::maths::cos(std::f64::consts::TAU * (t - 17.0) / 60.0))
        .collect();
    let x = floats(&one.with(&times));
    let wheel = |name: &str, period| Wheel { name: name.to_owned(), period };
    let hint = Hint {
        wheels: vec![wheel("escape", 60.0), wheel("third", 450.0), wheel("other", 130.0)],
        ..Hint::default()
    };
    let b = hear(&x, 1, RATE, &hint).beat.expect("a beat");
    let escape = b.periodic.iter().find(|p| p.wheels == ["escape"]).expect("the escape wheel");
    assert!(escape.real(), "{escape:?}");
    assert!((escape.amplitude - 0.5e-3).abs() < 0.03e-3, "{escape:?}");
    assert!((escape.latest - 17.0).abs() < 1.0, "{escape:?}");
    let other = b.periodic.iter().find(|p| p.wheels == ["other"]).expect("the other wheel");
    assert!(!other.real(), "{other:?}");
    assert_eq!(b.too_slow.len(), 1);
    assert!((b.rate.expect("a rate").value - 20.0).abs() < 0.05);
    // Without being told, the period is found.
    let found = heard(&x).beat.expect("a beat").periodic;
    assert!(found.iter().any(|p| p.real() && (p.period - 60.0).abs() < 1.5), "{found:?}");
}
#[test]
fn a_rate_that_drifts_is_told_as_such() {
    let one = made(600.0);
    let beat = 1.0 / (1.0 + 20.0 / 86_400.0);
    // From 20 s/day, 60 s/day slower in an hour.
    let times: Vec<f64> = (0..598)
        .map(|k| {
            let t = f64::from(k) * beat;
            0.25 + t + 0.5 * (60.0 / 86_400.0 / 3_600.0) * t * t
        })
        .collect();
    let b = heard(&floats(&one.with(&times))).beat.expect("a beat");
    let (drift, within) = b.drift.expect("a drift");
    assert!((drift + 60.0).abs() < 1.0 && within < 2.0, "{drift} ± {within}");
}
#[test]
fn a_recorder_is_set_right_by_pulses() {
    let pulses = {
        let mut x = noise(120.0, 0.001, 4);
        for k in 0..119 {
            // A recorder 40 in a million fast counts more samples into a second.
            let t = 0.5 + f64::from(k) * (1.0 + 40e-6);
            note(&mut x, t, 1_900.0, 0.5, 1e-3);
            note(&mut x, t + 0.1, 1_900.0, -0.5, 1e-3);
        }
        x
    };
    let hint = Hint { beats_per_hour: Some(3_600.0), pulses: true, ..Hint::default() };
    let h = hear(&pulses, 1, RATE, &hint);
    let b = h.beat.as_ref().expect("pulses");
    assert_eq!(h.verdict.trust, Trust::Sure, "{:?}", h.verdict);
    let recorder = Recorder::from_pulses(b.seconds, b.within, 1.0);
    assert!((recorder.ppm - 40.0).abs() < 0.3, "{recorder:?}");
    // A clock that keeps time, recorded by the same recorder, seems to lose 3.456 s a day.
    let clock = Synthetic { gains: -3.456, ..made(60.0) };
    let plain = heard(&floats(&clock.samples())).beat.and_then(|b| b.rate).expect("a rate");
    assert!((plain.recorder - 4.32).abs() < 1e-9 && (plain.value + 3.456).abs() < 0.05);
    let right = hear(&floats(&clock.samples()), 1, RATE, &Hint { recorder, ..Hint::default() });
    let right = right.beat.and_then(|b| b.rate).expect("a rate");
    assert!(right.value.abs() < 0.08 && right.recorder < 0.1, "{right:?}");
}
proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]
    #[test]
    fn the_truth_lies_within_what_is_told(
        beat in 0.2_f64..1.6, gains in -150.0_f64..150.0, error in -0.05_f64..0.05, noise in 0.0_f64..0.05,
        seed in 0_u64..10_000
    ) {
        let one = Synthetic {
            beat, gains, beat_error: error * beat, noise, seed, jitter: 0.1e-3, rate: RATE, seconds: 80.0,
        };
        let hint = Hint { beats_per_hour: Some(3_600.0 / beat), ..Hint::default() };
        let h = hear(&floats(&one.samples()), 1, RATE, &hint);
        let b = h.beat.as_ref().expect("a beat");
        prop_assert_eq!(h.verdict.trust, Trust::Sure, "{:?}", h.verdict);
        let rate = b.rate.expect("a rate");
        // Beyond twice what holds 95 in 100, once in ten thousand.
        prop_assert!((rate.value - gains).abs() < 2.2 * rate.scatter + 0.01, "{} ± {} for {}", rate.value, rate.scatter, gains);
        prop_assert_eq!(b.heard, one.times().len());
    }
    #[test]
    fn no_samples_make_it_panic(
        samples in prop::collection::vec(any::<f32>(), 0..3_000), again in 1_usize..60, rate in 8_000.0_f64..192_000.0,
        channels in 1_usize..3
    ) {
        let mut x: Vec<f32> = Vec::new();
        for _ in 0..again {
            x.extend(&samples);
        }
        x.truncate(x.len() / channels * channels);
        let h = hear(&x, channels, rate, &Hint::default());
        if let Some(rate) = h.beat.and_then(|b| b.rate) {
            prop_assert!(rate.value.is_finite() && rate.within().is_finite());
        }
    }
}
