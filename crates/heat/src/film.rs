//! Optics of a film on iron: how much of each light comes back, and what the eye makes of it.
//!
//! Thickness and wavelength in nm. The film is taken as pure magnetite, whose absorption is on the low side: the
//! order of hues is reliable, their depth of colour is an upper bound, and the scale of nm may be out by 40 %.

use crate::between;
use reckon::Source;
use reckon::maths::{PI, cos, exp, pow, sin};
use std::sync::LazyLock;
use tables::load::{DataFault, Sheet};

/// Light thrown back by one film.
pub static AIRY: Source = Source::derived(
    "waves thrown back at both faces of the film, summed; normal incidence; D65 and the eye of CIE 1931; sRGB",
);

/// A number with a part at right angles.
#[derive(Copy, Clone, Debug)]
struct Wave(f64, f64);
impl Wave {
    fn add(self, o: Wave) -> Wave {
        Wave(self.0 + o.0, self.1 + o.1)
    }
    fn less(self, o: Wave) -> Wave {
        Wave(self.0 - o.0, self.1 - o.1)
    }
    fn times(self, o: Wave) -> Wave {
        Wave(self.0 * o.0 - self.1 * o.1, self.0 * o.1 + self.1 * o.0)
    }
    fn over(self, o: Wave) -> Wave {
        let q = o.0 * o.0 + o.1 * o.1;
        Wave((self.0 * o.0 + self.1 * o.1) / q, (self.1 * o.0 - self.0 * o.1) / q)
    }
    fn square(self) -> f64 {
        self.0 * self.0 + self.1 * self.1
    }
}
/// One wavelength: nm, index of film and of iron, weights of the eye under the light.
#[derive(Copy, Clone, Debug)]
struct Light {
    nm: f64,
    film: Wave,
    iron: Wave,
    eye: [f64; 3],
}
static LIGHTS: LazyLock<Vec<Light>> =
    LazyLock::new(|| read().expect("the embedded table optics.toml is whole; a test reads it"));

fn read() -> Result<Vec<Light>, DataFault> {
    let sheet = Sheet::read("optics.toml", include_str!("../data/optics.toml"))?;
    let column = |table: &str, key: &str| -> Result<Vec<(f64, f64)>, DataFault> {
        sheet.rows(table)?.iter().map(|r| Ok((r.number("nm")?, r.number(key)?))).collect()
    };
    let (film_n, film_k) = (column("magnetite", "n")?, column("magnetite", "k")?);
    let (iron_n, iron_k) = (column("iron", "n")?, column("iron", "k")?);
    let mut lights = Vec::new();
    for r in &sheet.rows("eye")? {
        let nm = r.number("nm")?;
        let at = |t: &[(f64, f64)]| between(t, nm).ok_or_else(|| r.fault("no index at this wavelength"));
        let light = r.number("light")?;
        lights.push(Light {
            nm,
            film: Wave(at(&film_n)?, at(&film_k)?),
            iron: Wave(at(&iron_n)?, at(&iron_k)?),
            eye: [light * r.number("x")?, light * r.number("y")?, light * r.number("z")?],
        });
    }
    let sum: f64 = lights.iter().map(|l| l.eye[1]).sum();
    for l in &mut lights {
        l.eye = l.eye.map(|e| e / sum);
    }
    Ok(lights)
}
fn reflectance(l: &Light, thickness: f64) -> f64 {
    let one = Wave(1.0, 0.0);
    let face = |a: Wave, b: Wave| a.less(b).over(a.add(b));
    let (top, under) = (face(one, l.film), face(l.film, l.iron));
    let turn = 4.0 * PI * thickness / l.nm;
    let fade = exp(-turn * l.film.1);
    let back = under.times(Wave(fade * cos(turn * l.film.0), fade * sin(turn * l.film.0)));
    top.add(back).over(one.add(top.times(back))).square()
}
/// X, Y and Z of iron under a film; a white that throws all back has Y = 1.
#[must_use]
pub fn seen(thickness: f64) -> [f64; 3] {
    let mut sum = [0.0; 3];
    for l in LIGHTS.iter() {
        let r = reflectance(l, thickness);
        for (s, e) in sum.iter_mut().zip(l.eye) {
            *s += r * e;
        }
    }
    sum
}
/// Red, green and blue of a screen, 0 to 255.
pub type Swatch = [u8; 3];
/// A swatch of what is seen.
#[must_use]
pub fn swatch([x, y, z]: [f64; 3]) -> Swatch {
    let linear = [
        3.2406 * x - 1.5372 * y - 0.4986 * z,
        -0.9689 * x + 1.8758 * y + 0.0415 * z,
        0.0557 * x - 0.2040 * y + 1.0570 * z,
    ];
    linear.map(|c| {
        let c = c.clamp(0.0, 1.0);
        let c = if c <= 0.003_130_8 { 12.92 * c } else { 1.055 * pow(c, 1.0 / 2.4) - 0.055 };
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0 to 255")]
        let byte = (c * 255.0).round().clamp(0.0, 255.0) as u8;
        byte
    })
}
/// A swatch as text: `#a0926f`.
#[must_use]
pub fn hex([r, g, b]: Swatch) -> String {
    format!("#{r:02x}{g:02x}{b:02x}")
}
/// Reads `#a0926f`.
#[must_use]
pub fn from_hex(text: &str) -> Option<Swatch> {
    let t = text.trim().strip_prefix('#')?;
    if t.len() != 6 || !t.bytes().all(|b| b.is_ascii_hexdigit()) {
        return None;
    }
    let n = u32::from_str_radix(t, 16).ok()?;
    let [_, r, g, b] = n.to_be_bytes();
    Some([r, g, b])
}
/// Thickest film whose colour belongs to the first order, nm.
pub const FIRST_ORDER: f64 = 110.0;
/// Thickness, nm, of the film of the first order that looks most like a swatch, and how far off it is in steps of
/// the screen.
#[must_use]
pub fn thickness_of(wanted: Swatch) -> (f64, f64) {
    let off = |nm: f64| -> f64 {
        let got = swatch(seen(nm));
        got.iter()
            .zip(wanted)
            .map(|(a, b)| (f64::from(*a) - f64::from(b)) * (f64::from(*a) - f64::from(b)))
            .sum()
    };
    // Steps of the screen make plateaus: the middle of the best plateau is taken.
    let all: Vec<(f64, f64)> = (0..=2200_u32).map(|i| f64::from(i) / 20.0).map(|nm| (nm, off(nm))).collect();
    let least = all.iter().map(|p| p.1).fold(f64::INFINITY, f64::min);
    let best: Vec<f64> = all.iter().filter(|p| p.1 <= least).map(|p| p.0).collect();
    (best[best.len() / 2], least.sqrt())
}
/// Thickness of the darkest film, nm, found by halving thirds.
#[must_use]
pub fn darkest() -> f64 {
    let (mut low, mut high) = (20.0, 80.0);
    for _ in 0..60 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if seen(a)[1] < seen(b)[1] { high = b } else { low = a }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bare_iron_and_films_have_the_colours_of_a_second_reckoning() {
        // The same sum in another language with complex numbers of its own.
        assert!((seen(0.0)[1] - 0.515_334_6).abs() < 1e-6);
        assert_eq!(swatch(seen(25.0)), [145, 124, 70]);
        assert_eq!(swatch(seen(40.0)), [74, 7, 78]);
        assert_eq!(swatch(seen(70.0)), [94, 146, 189]);
        assert!((darkest() - 43.7).abs() < 0.1);
    }
    #[test]
    fn a_colour_gives_its_film_back() {
        for nm in [16.0, 25.0, 36.0, 42.0, 54.0, 70.0] {
            let (back, off) = thickness_of(swatch(seen(nm)));
            assert!((back - nm).abs() < 0.3 && off < 1e-9, "{nm} {back}");
        }
        assert_eq!(from_hex("#a0926f").map(hex).as_deref(), Some("#a0926f"));
        assert_eq!(from_hex("blue"), None);
    }
    #[test]
    fn without_a_film_iron_throws_back_as_its_own_face_does() {
        for l in LIGHTS.iter() {
            let (n, k) = (l.iron.0, l.iron.1);
            let bare = ((n - 1.0) * (n - 1.0) + k * k) / ((n + 1.0) * (n + 1.0) + k * k);
            assert!((reflectance(l, 0.0) - bare).abs() < 1e-12);
        }
    }
}
