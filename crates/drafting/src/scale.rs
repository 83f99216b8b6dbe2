//! Which scale: true size where it can be read, else a standard one that fits.

use crate::size::{Paper, SEVEN_POINT, Unplaced};
use crate::sketch::Sketch;

/// The standard scales from the largest down (ISO 5455): paper, part.
pub const SCALES: [(u32, u32); 9] =
    [(50, 1), (20, 1), (10, 1), (5, 1), (2, 1), (1, 1), (1, 2), (1, 5), (1, 10)];

/// Length on paper over which a part's longest side is easy to read.
const EASY: f64 = 42.0;
/// Length on paper under which a sized step is hard to see.
const FINEST: f64 = 1.2;

/// Length on paper under which a part's longest side is no drawing any more.
const SMALLEST: f64 = 12.0;

fn factor((paper, part): (u32, u32)) -> f64 {
    f64::from(paper) / f64::from(part)
}

/// Draws at the smallest scale that is easy to read, and at smaller ones while it does not fit; at each with
/// the figures asked for, then with the least.
pub(crate) fn first_that_fits(
    paper: &Paper,
    longest: f64,
    least: f64,
    draw: impl Fn(&Paper, (u32, u32)) -> Result<Sketch, Unplaced>,
) -> Result<Sketch, Unplaced> {
    let small = Paper { figures: SEVEN_POINT, ..paper.clone() };
    let at = |scale: (u32, u32)| match draw(paper, scale) {
        Err(Unplaced::NoRoom { .. }) if paper.figures > SEVEN_POINT => draw(&small, scale),
        done => done,
    };
    if let Some(scale) = paper.scale {
        return at(scale);
    }
    let easy = |s: &(u32, u32)| longest * factor(*s) >= EASY && least * factor(*s) >= FINEST;
    let wide = |s: &(u32, u32)| longest * factor(*s) <= 0.8 * paper.width.max(paper.height);
    // The smallest easy scale, but never one at which the bare view overruns the paper.
    let start = SCALES.iter().rposition(easy).unwrap_or(0);
    let start = (start..SCALES.len()).find(|&k| wide(&SCALES[k])).unwrap_or(SCALES.len() - 1);
    let mut last = Err(Unplaced::NoRoom { text: String::new(), scale: SCALES[start] });
    for (k, &scale) in SCALES[start..].iter().enumerate() {
        if k > 0 && longest * factor(scale) < SMALLEST {
            break;
        }
        last = at(scale);
        match &last {
            Err(Unplaced::NoRoom { .. }) => {}
            _ => return last,
        }
    }
    last
}

/// Scale of a detail whose size is `size` mm, beside a view drawn `main` times enlarged.
pub(crate) fn enlarged(main: f64, size: f64) -> (u32, u32) {
    let all = [(2, 1), (5, 1), (10, 1), (20, 1), (50, 1), (100, 1)];
    *all.iter().find(|s| factor(**s) > main && size * factor(**s) >= 11.0).unwrap_or(&(100, 1))
}

/// A scale as it is written on a drawing.
#[must_use]
pub fn written((paper, part): (u32, u32)) -> String {
    format!("scale {paper}:{part}")
}
