//! Regions grown and shrunk.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::{IntOverlayOptions, Overlay};
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::core::solver::Solver;
use reckon::maths::{self, PI};

use super::edges::{self, Join};
use super::{Corners, Fault, GRID, REACH, Region, arcs, cross, mm, steps};

/// What an offset makes of a corner that it opens: an outer corner when the region grows,
/// an inner corner when it shrinks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Corner {
    /// An arc about the corner: every point at the offset's distance, as a round tool leaves it.
    Round,
    /// Both edges drawn out until they meet, but no further than `limit` times the offset from
    /// the corner; a sharper corner is cut straight across between the two ends.
    Mitre {
        /// Longest reach from the corner, in multiples of the offset; 1 or more.
        limit: f64,
    },
}

/// Finest step of a rounded corner: 1/65536 of a turn.
const FINEST_STEP: f64 = 2.0 * PI / 65_536.0;

/// Most goes in which a piece is shrunk; each leaves at most half of the depth to its centre.
const MOST_GOES: u32 = 40;

impl Region {
    /// The region grown by `by` millimetres, or shrunk when `by` is below zero.
    ///
    /// Straight edges move to within a few [`GRID`] steps. A rounded corner is made of chords
    /// with their ends at the offset's distance, so that it keeps within `within` millimetres
    /// of the true arc, on the side of the corner. Growing thus never reaches too far, and
    /// shrinking never takes too much.
    ///
    /// # Errors
    /// [`Fault::NotFinite`], [`Fault::TooFar`]; [`Fault::NoAccuracy`]; [`Fault::MitreTooShort`];
    /// [`Fault::TooFine`] when `within` is below 1.2 billionths of a rounded offset.
    pub fn offset(&self, by: f64, corner: Corner, within: f64) -> Result<Self, Fault> {
        arcs::check_accuracy(within)?;
        let distance = steps(by)?;
        let reach = match corner {
            Corner::Round => by.abs(),
            Corner::Mitre { limit } if limit.is_finite() && limit >= 1.0 => by.abs() * limit,
            Corner::Mitre { limit } => return Err(Fault::MitreTooShort(limit)),
        };
        if reach > REACH {
            return Err(Fault::TooFar(reach));
        }
        if distance == 0 || self.is_empty() {
            return Ok(self.clone());
        }
        let join = match corner {
            Corner::Round => Join::Arc(round_step(by.abs(), within)?),
            Corner::Mitre { limit } => Join::Mitre(limit),
        };
        Ok(if distance > 0 { self.moved(distance, join) } else { self.shrunk(distance, join) })
    }

    fn moved(&self, distance: i64, join: Join) -> Self {
        #[expect(clippy::cast_precision_loss, reason = "REACH keeps it far inside what f64 holds whole")]
        let distance = distance as f64;
        let rings: Vec<Corners> = self.rings().map(|ring| edges::moved(ring, distance, join)).collect();
        // Edges a tenth of a millimetre long cross bundles of edges a micron long: cut up, they sort quicker.
        let solver =
            if rings.iter().map(Vec::len).sum::<usize>() > 1000 { Solver::FRAG } else { Solver::AUTO };
        let mut overlay = Overlay::from_subj_custom(&rings, IntOverlayOptions::default(), solver);
        Self { shapes: overlay.overlay(OverlayRule::Subject, FillRule::Positive) }
    }

    /// Shrinks each piece by itself, and a rounded one in several goes.
    ///
    /// Where the edges of a round outline are all moved past their common centre, each crosses
    /// every other. Going at most half way to the centre at a time they never do. An inner
    /// corner gains chords with every go, so only pieces with few of them are treated so.
    fn shrunk(&self, distance: i64, join: Join) -> Self {
        let mut done = Vec::new();
        let mut open: Vec<(Self, i64, u32)> =
            self.shapes.iter().map(|shape| (Self { shapes: vec![shape.clone()] }, distance, 0)).collect();
        while let Some((piece, left, goes)) = open.pop() {
            let depth = mm(-left);
            let Some(bounds) = piece.bounds() else { continue };
            // The inner circle of a convex outline is at most twice area by perimeter.
            let stout = piece.area() / piece.perimeter();
            let inner = piece.inner_corners();
            if 2.0 * depth > bounds.width().min(bounds.height()) + 4.0 * GRID
                || (inner == 0 && depth > 2.0 * stout * (1.0 + 1.0e-12) + 4.0 * GRID)
            {
                continue;
            }
            let in_goes = inner == 0 || (matches!(join, Join::Arc(_)) && 8 * inner < piece.corners());
            let go = steps(-stout).unwrap_or(left).min(-1);
            if in_goes && go > left && goes < MOST_GOES {
                let rest = piece.moved(go, join);
                open.extend(
                    rest.shapes.into_iter().map(|shape| (Self { shapes: vec![shape] }, left - go, goes + 1)),
                );
            } else {
                done.extend(piece.moved(left, join).shapes);
            }
        }
        Self { shapes: done }
    }

    /// How many corners point into the metal.
    fn inner_corners(&self) -> usize {
        let inner = |ring: &Corners| {
            let after = |n: usize| ring.iter().cycle().skip(n);
            ring.iter().zip(after(1)).zip(after(2)).filter(|&((&a, &b), &c)| cross(a, b, c) < 0).count()
        };
        self.rings().map(inner).sum()
    }

    /// Radius of the largest circle that the region holds, to `within` millimetres: the furthest
    /// that it can be shrunk before nothing is left. Zero for an empty region.
    ///
    /// Twice this is the thickness at the stoutest place. Found by halving; half of `within` is
    /// left to the chords of inner corners, which may only make the circle seem larger.
    ///
    /// # Errors
    /// [`Fault::NotFinite`], [`Fault::NoAccuracy`]; [`Fault::TooFine`] when `within` is below about
    /// 1.2 billionths of the narrower side of the bounding box.
    pub fn inscribed_radius(&self, within: f64) -> Result<f64, Fault> {
        arcs::check_accuracy(within)?;
        let Some(bounds) = self.bounds() else { return Ok(0.0) };
        let (mut holds, mut fails) = (0.0, 0.5 * bounds.width().min(bounds.height()) + GRID);
        round_step(fails, 0.5 * within).map_err(|fault| match fault {
            Fault::TooFine { finest, .. } => Fault::TooFine { asked: within, finest: 2.0 * finest },
            other => other,
        })?;
        while fails - holds > within {
            let radius = 0.5 * (holds + fails);
            // The grid is coarser than the accuracy: nothing further can be told.
            if fails - holds <= 2.0 * GRID {
                break;
            }
            if self.offset(-radius, Corner::Round, 0.5 * within)?.is_empty() {
                fails = radius;
            } else {
                holds = radius;
            }
        }
        Ok(0.5 * (holds + fails))
    }
}

/// Angle between two points of a rounded corner whose chord keeps within `within`.
fn round_step(radius: f64, within: f64) -> Result<f64, Fault> {
    // sagitta = 2 r sin²(step / 4)
    let step = 4.0 * maths::asin((0.5 * within / radius).min(0.5).sqrt());
    if step < FINEST_STEP {
        let quarter = maths::sin(0.25 * FINEST_STEP);
        return Err(Fault::TooFine { asked: within, finest: 2.0 * radius * quarter * quarter });
    }
    Ok(step)
}
