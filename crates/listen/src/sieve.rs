//! What ticks are made of, sifted from a recording: a band about 1.2 to 4.5 kHz, brought down to some
//! eight thousand complex samples a second, all parts delayed alike.
//!
//! Hum, rumble and the low part of speech are left out by more than 60 dB.

use reckon::maths;
use std::f64::consts::PI;

/// Middle of the band, Hz.
const MIDDLE: f64 = 2_850.0;
/// Half its width, Hz.
const HALF: f64 = 1_650.0;
/// Length of the sieve, s.
const LONG: f64 = 3.0e-3;
/// Lanes that are added side by side, always in the same order.
const LANES: usize = 8;

/// A band sifted out of samples and thinned.
#[derive(Clone, Debug)]
pub struct Sieve {
    re: Vec<f32>,
    im: Vec<f32>,
    /// Length without the filling of the last lanes.
    long: usize,
    /// Samples from one answer to the next.
    pub step: usize,
    /// Samples a second that come in.
    pub rate: f64,
    /// Middle of the band, Hz.
    pub middle: f64,
}
impl Sieve {
    /// For a recording of so many samples a second.
    #[must_use]
    pub fn new(rate: f64) -> Sieve {
        let top = (MIDDLE + HALF).min(0.46 * rate);
        let bottom = MIDDLE - HALF;
        let (middle, half) = ((top + bottom) / 2.0, (top - bottom) / 2.0);
        let long = (LONG * rate / 2.0).round() as usize * 2 + 1;
        let centre = (long - 1) as f64 / 2.0;
        let (mut re, mut im) = (Vec::new(), Vec::new());
        let mut sum = 0.0;
        let mut taps = Vec::new();
        for n in 0..long {
            let x = n as f64 - centre;
            let part = 2.0 * PI * half / rate;
            let sinc = if x == 0.0 { part / PI } else { maths::sin(part * x) / (PI * x) };
            let tap = sinc * kaiser(x / (centre + 1.0));
            sum += tap;
            taps.push(tap);
        }
        for (n, tap) in taps.iter().enumerate() {
            // Seen backwards: an answer is the sum of samples times what is conjugate to the carrier.
            let turn = 2.0 * PI * middle / rate * (n as f64 - centre);
            re.push((tap / sum * maths::cos(turn)) as f32);
            im.push((-tap / sum * maths::sin(turn)) as f32);
        }
        while re.len() % LANES != 0 {
            re.push(0.0);
            im.push(0.0);
        }
        Sieve { re, im, long, step: ((rate / 8_000.0) as usize).max(1), rate, middle }
    }
    /// Answers a second.
    #[must_use]
    pub fn out_rate(&self) -> f64 {
        self.rate / self.step as f64
    }
    /// Samples that one answer needs, filling included.
    #[must_use]
    pub fn span(&self) -> usize {
        self.re.len()
    }
    /// Samples from the first that an answer needs to the one it stands for.
    #[must_use]
    pub fn centre(&self) -> usize {
        (self.long - 1) / 2
    }
    /// One answer from the samples at `x` and after, [`Sieve::span`] of them.
    #[inline]
    fn one(&self, x: &[f32]) -> (f32, f32) {
        let (mut a, mut b) = ([0.0_f32; LANES], [0.0_f32; LANES]);
        let lanes = x.chunks_exact(LANES).zip(self.re.chunks_exact(LANES)).zip(self.im.chunks_exact(LANES));
        for ((x, re), im) in lanes {
            for i in 0..LANES {
                a[i] += x[i] * re[i];
                b[i] += x[i] * im[i];
            }
        }
        let sum = |v: [f32; LANES]| ((v[0] + v[4]) + (v[1] + v[5])) + ((v[2] + v[6]) + (v[3] + v[7]));
        (sum(a), sum(b))
    }
    /// All answers that these samples allow, the first at its beginning; the carrier still turns in them.
    pub fn all(&self, x: &[f32], mut tell: impl FnMut(f32, f32)) -> usize {
        let span = self.span();
        let mut at = 0;
        while at + span <= x.len() {
            let (re, im) = self.one(&x[at..at + span]);
            tell(re, im);
            at += self.step;
        }
        at
    }
    /// Answers with the carrier taken out, whose first stands for the sample at [`Sieve::centre`].
    #[must_use]
    pub fn still(&self, x: &[f32]) -> Vec<(f32, f32)> {
        let turn = -2.0 * PI * self.middle / self.rate * self.step as f64;
        let (c, s) = (maths::cos(turn), maths::sin(turn));
        let (mut re, mut im) = (1.0_f64, 0.0_f64);
        let mut out = Vec::with_capacity(x.len() / self.step);
        self.all(x, |a, b| {
            let (a, b) = (f64::from(a), f64::from(b));
            out.push(((a * re - b * im) as f32, (a * im + b * re) as f32));
            (re, im) = (re * c - im * s, re * s + im * c);
        });
        out
    }
}
/// A window that falls off by 63 dB, `x` from -1 to 1.
fn kaiser(x: f64) -> f64 {
    let root = (1.0 - x * x).max(0.0).sqrt();
    bessel(6.0 * root) / bessel(6.0)
}
/// The modified Bessel function of the first kind and order nought, by its series.
fn bessel(x: f64) -> f64 {
    let (mut sum, mut term) = (1.0, 1.0);
    for k in 1..60 {
        let half = x / (2.0 * f64::from(k));
        term *= half * half;
        sum += term;
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;
    /// How much of a tone goes through.
    fn through(rate: f64, hertz: f64) -> f64 {
        let sieve = Sieve::new(rate);
        let n = (rate * 0.1) as usize;
        let x: Vec<f32> = (0..n).map(|i| maths::sin(2.0 * PI * hertz * i as f64 / rate) as f32).collect();
        let z = sieve.still(&x);
        let sum: f64 = z.iter().map(|(a, b)| f64::from(a * a + b * b)).sum();
        2.0 * (sum / z.len() as f64).sqrt()
    }
    #[test]
    fn hum_stays_out_and_ticks_go_through() {
        for rate in [44_100.0, 48_000.0, 96_000.0, 192_000.0] {
            assert!((through(rate, 2_600.0) - 1.0).abs() < 0.01, "{rate}");
            assert!((through(rate, 1_900.0) - 1.0).abs() < 0.02, "{rate}");
            assert!(through(rate, 50.0) < 1e-3, "{rate}");
            assert!(through(rate, 300.0) < 2e-3, "{rate}");
            assert!(through(rate, 8_000.0) < 2e-3, "{rate}");
        }
        assert!((through(8_000.0, 2_600.0) - 1.0).abs() < 0.02);
        assert!(through(8_000.0, 50.0) < 2e-3);
    }
    #[test]
    fn the_bessel_function_as_in_tables() {
        // Abramowitz and Stegun, table 9.8 (memory): I0(1) = 1.2660658778, I0(5) = 27.2398718236.
        assert!((bessel(1.0) - 1.266_065_877_8).abs() < 1e-9);
        assert!((bessel(5.0) - 27.239_871_823_6).abs() < 1e-9);
    }
}
