//! A clock that was never made: a recording reproducible to the last bit, whose truth is known.
//!
//! A tick has a small blow before it and one after it, decaying tones, in noise and hum.

use reckon::maths;
use std::f64::consts::PI;

/// What is to be heard.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Synthetic {
    /// Samples a second.
    pub rate: f64,
    /// Length, s.
    pub seconds: f64,
    /// Nominal beat, s.
    pub beat: f64,
    /// Rate, s/day, + gains.
    pub gains: f64,
    /// Beat error, s: half of how much longer the pause after a tock is.
    pub beat_error: f64,
    /// Scatter of single beats, s.
    pub jitter: f64,
    /// Standard deviation of the noise, 1 at full scale.
    pub noise: f64,
    /// Seed of noise and scatter.
    pub seed: u64,
}
impl Default for Synthetic {
    fn default() -> Self {
        Synthetic {
            rate: 48_000.0,
            seconds: 60.0,
            beat: 1.0,
            gains: 12.5,
            beat_error: 8e-3,
            jitter: 0.0,
            noise: 0.01,
            seed: 12_345,
        }
    }
}
/// Output `j` of the generator with a seed.
fn split_mix(seed: u64, j: u64) -> u64 {
    let mut z = seed.wrapping_add(j.wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15));
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}
/// Normal deviate `i` of a seed.
#[must_use]
pub fn normal(seed: u64, i: u64) -> f64 {
    let unit = |j: u64| ((split_mix(seed, j) >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0;
    maths::sqrt(-2.0 * maths::ln(unit(2 * i))) * maths::cos(2.0 * PI * unit(2 * i + 1))
}
impl Synthetic {
    /// True times of the beats, s.
    #[must_use]
    pub fn times(&self) -> Vec<f64> {
        let beat = self.beat / (1.0 + self.gains / 86_400.0);
        let mut times = Vec::new();
        for k in 0_u64.. {
            let way = if k % 2 == 0 { 0.5 } else { -0.5 };
            let jitter =
                if self.jitter > 0.0 { self.jitter * normal(self.seed.wrapping_add(1), k) } else { 0.0 };
            let t = 0.25 + k as f64 * beat + way * self.beat_error + jitter;
            if t + 0.05 > self.seconds {
                break;
            }
            times.push(t);
        }
        times
    }
    /// The recording, whole numbers of 16 bits.
    #[must_use]
    pub fn samples(&self) -> Vec<i16> {
        self.with(&self.times())
    }
    /// The recording with beats at these times, tick and tock in turn.
    #[must_use]
    pub fn with(&self, times: &[f64]) -> Vec<i16> {
        let n = (self.seconds * self.rate) as usize;
        let mut x = vec![0.0_f64; n];
        for (i, x) in x.iter_mut().enumerate() {
            let hum = 0.02 * maths::sin(2.0 * PI * 50.0 * i as f64 / self.rate);
            let noise = if self.noise > 0.0 { self.noise * normal(self.seed, i as u64) } else { 0.0 };
            *x = noise + hum;
        }
        for (k, t) in times.iter().enumerate() {
            let (a, f) = if k % 2 == 0 { (0.5, 2_600.0) } else { (0.35, 2_350.0) };
            for (offset, part, hertz) in [(-9e-3, 0.15, f), (0.0, 1.0, f), (6.5e-3, 0.30, 1_700.0)] {
                self.click(&mut x, t + offset, a * part, hertz);
            }
        }
        x.iter().map(|v| whole(32_767.0 * v)).collect()
    }
    /// A blow: a tone that decays.
    fn click(&self, x: &mut [f64], at: f64, a: f64, hertz: f64) {
        let decay = 1.8e-3;
        let from = (at * self.rate).ceil().max(0.0) as usize;
        let long = (self.rate * 12.0 * decay) as usize;
        for (i, x) in x.iter_mut().enumerate().skip(from).take(long) {
            let after = i as f64 / self.rate - at;
            *x += a * maths::exp(-after / decay) * maths::sin(2.0 * PI * hertz * after);
        }
    }
}
/// To the nearest whole number, ties to the even one, kept within 16 bits.
fn whole(v: f64) -> i16 {
    v.round_ties_even().clamp(-32_768.0, 32_767.0) as i16
}
/// ±1 at full scale.
#[must_use]
pub fn floats(samples: &[i16]) -> Vec<f32> {
    samples.iter().map(|s| f32::from(*s) / 32_768.0).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    #[test]
    fn the_generator_gives_what_was_published_of_it() {
        assert_eq!(split_mix(12_345, 0), 2_454_886_589_211_414_944);
        assert_eq!(split_mix(12_345, 1), 3_778_200_017_661_327_597);
        assert!((normal(12_345, 0) - 0.562_544).abs() < 1e-5);
        assert!((normal(12_345, 1) - 0.922_802).abs() < 1e-5);
    }
    #[test]
    fn the_sums_of_two_recordings() {
        let sum =
            |s: &Synthetic| -> i64 { s.samples().iter().map(|v| i64::from(v.unsigned_abs())).sum::<i64>() };
        assert!((sum(&Synthetic::default()) - 1_414_669_062).abs() <= 200);
        let other = Synthetic {
            beat: 0.5,
            gains: 3.0,
            beat_error: 1.5e-3,
            seconds: 30.0,
            seed: 5,
            ..Synthetic::default()
        };
        assert!((sum(&other) - 731_423_288).abs() <= 200);
    }
}
