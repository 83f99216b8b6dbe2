//! How pallets answer to their sizes: taken from the true outlines at both limits of each size.

use super::vary::{Size, pallets};
use crate::model::faces::Faces;
use crate::poly::{Poly, points};
use crate::works::{Pallet, Piece};
use movement::design::Acting;
use reckon::Source;

/// The way of it.
pub static RESPONSE: Source = Source::derived(
    "faces from the true outlines as drawn and at both limits of each size, one at a time; between them a parabola, and what several sizes do is added up; tried against the true outlines on clocks that were drawn",
);

/// Degree of the polynomials along a face.
const DEGREE: usize = 8;

/// What pallets are, as numbers in a row: borders of every face, and values at points along it.
fn row(f: &Faces) -> Vec<f64> {
    let mut all = Vec::new();
    for p in f.pallets.iter().flat_map(|p| &p.pieces) {
        all.extend([p.from, p.to]);
        let at = if p.still() { vec![p.from] } else { points(p.from, p.to, DEGREE) };
        for poly in [&p.turn, &p.onward, &p.back] {
            all.extend(at.iter().map(|x| poly.at(*x)));
        }
    }
    all
}
/// Which faces stand still, pallet by pallet.
fn form(f: &Faces) -> Vec<Vec<bool>> {
    f.pallets.iter().map(|p| p.pieces.iter().map(Piece::still).collect()).collect()
}
/// Slope and bend of every number over one size.
#[derive(Clone, Debug)]
struct Along {
    slope: Vec<f64>,
    bend: Vec<f64>,
}
/// How pallets answer.
#[derive(Clone, Debug)]
pub(super) struct Response {
    form: Vec<Vec<bool>>,
    ahead: [f64; 2],
    base: Vec<f64>,
    along: Vec<Along>,
}
impl Response {
    /// Of what acts: sizes with the half of their limits, and friction with the half of its range last.
    ///
    /// # Errors
    /// Where the faces at a limit are no escapement, or other faces than those drawn: which size, and why.
    pub(super) fn of(acting: &Acting, sizes: &[(Size, f64)], friction: (f64, f64)) -> Result<Self, String> {
        let drawn = pallets(acting, friction.0)?;
        let (form0, base) = (form(&drawn), row(&drawn));
        // Where the faces end at one limit, the other tells the slope alone.
        let both = |up: Result<Faces, String>, down: Result<Faces, String>, h: f64, says: &str| {
            let at = |f: Result<Faces, String>| {
                let f = f.map_err(|why| format!("{says} at its limit: {why}"))?;
                if form(&f) == form0 {
                    Ok(row(&f))
                } else {
                    Err(format!("{says} at its limit brings other faces into play"))
                }
            };
            let one = |other: &[f64], h: f64| {
                let slope = other.iter().zip(&base).map(|(o, b)| (o - b) / h).collect();
                Along { slope, bend: vec![0.0; base.len()] }
            };
            match (at(up), at(down)) {
                (Ok(up), Ok(down)) => {
                    let slope = up.iter().zip(&down).map(|(u, d)| (u - d) / (2.0 * h)).collect();
                    let bent = |i: usize| (up[i] + down[i] - 2.0 * base[i]) / (2.0 * h * h);
                    Ok(Along { slope, bend: (0..base.len()).map(bent).collect() })
                }
                (Ok(up), Err(_)) => Ok(one(&up, h)),
                (Err(_), Ok(down)) => Ok(one(&down, -h)),
                (Err(why), Err(_)) => Err(why),
            }
        };
        let mut along = Vec::new();
        for (size, h) in sizes {
            let h = h.max(1e-4);
            let at = |by: f64| pallets(&size.larger(acting, by), friction.0);
            along.push(both(at(h), at(-h), h, &size.says())?);
        }
        let h = friction.1.max(1e-4);
        let at = |mu: f64| pallets(acting, mu);
        along.push(both(at(friction.0 + h), at(friction.0 - h), h, "friction of the faces")?);
        Ok(Response { form: form0, ahead: drawn.ahead, base, along })
    }
    /// Pallets with sizes off by so much, in the order of [`Response::of`].
    pub(super) fn at(&self, off: &[f64]) -> Faces {
        let mut row = self.base.clone();
        for (a, x) in self.along.iter().zip(off) {
            for (i, r) in row.iter_mut().enumerate() {
                *r += (a.slope[i] + a.bend[i] * x) * x;
            }
        }
        let mut rest = row.as_slice();
        let mut take = |n: usize| {
            let (now, then) = rest.split_at(n);
            rest = then;
            now
        };
        let mut pallet = |faces: &[bool]| {
            let pieces = faces
                .iter()
                .map(|still| {
                    let ends = take(2);
                    let (from, to) = (ends[0], ends[1]);
                    let mut poly = || {
                        if *still {
                            Poly::constant(take(1)[0])
                        } else {
                            Poly::fitted(from, to, take(DEGREE + 1))
                        }
                    };
                    let (turn, onward, back) = (poly(), poly(), poly());
                    Piece { from, to, turn, onward, back }
                })
                .collect();
            Pallet { pieces }
        };
        let entry = pallet(&self.form[0]);
        let exit = pallet(&self.form[1]);
        Faces { pallets: [entry, exit], ahead: self.ahead }
    }
}
