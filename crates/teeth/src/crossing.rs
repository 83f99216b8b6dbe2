//! Crossing out: the windows between the arms of a wheel.
//!
//! Plain millimetres and radians. Arms are straight; the first arm's axis is +x, so that a window's
//! middle stands half a step beyond it. Corners are rounded in closed form: a fillet's centre stands at
//! r_o − f (rim) or r_i + f (hub) from the wheel's centre, and f from the edge of the arm.

use kurbo::Point;
use reckon::Source;
use reckon::maths::{PI, asin, atan, atan2, cos, sin};
use shape::profile::{Profile, SAME, Sense};

/// Windows.
pub static CROSSING: Source =
    Source::derived("straight arms between two circles, corners tangent to edge and circle")
        .with_formula("(w/2 + f)/(r_o − f) = sin φ, (w/2 + f)/(r_i + f) = sin φ");
/// Proportions, where the maker gives none.
pub static PROPORTIONS: Source = Source::practice(
    "arms by size of wheel; rim twice the depth of tooth, arms 0.6 of the rim at the rim and 0.85 at the hub",
);

/// What is to be crossed out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// Number of arms.
    pub arms: u32,
    /// Inner radius of the rim.
    pub rim: f64,
    /// Outer radius of the hub.
    pub hub: f64,
    /// Width of an arm at the hub.
    pub at_hub: f64,
    /// Width of an arm at the rim; the same for parallel arms.
    pub at_rim: f64,
    /// Radius of the corners; 0 for sharp ones.
    pub fillet: f64,
}

/// Why a crossing cannot be, and what would do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cannot {
    /// A size is not a positive number, or the hub is not inside the rim.
    Size,
    /// Fewer than two arms.
    Arms,
    /// The edges of neighbouring arms meet outside the hub.
    ArmsMeet {
        /// Radius at which they meet: the least hub.
        at: f64,
    },
    /// The rounded corners at the rim run into each other.
    RimCorners {
        /// Largest fillet that the rim holds.
        fillet: f64,
    },
    /// The rounded corners at the hub run into each other.
    HubCorners {
        /// Largest fillet that this hub holds.
        fillet: f64,
        /// Least hub for the fillet asked.
        hub: f64,
    },
    /// The corners at rim and hub leave no straight edge between them.
    Short,
}
impl std::fmt::Display for Cannot {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match *self {
            Cannot::Size => write!(f, "a size is not positive, or the hub is not inside the rim"),
            Cannot::Arms => write!(f, "a wheel is crossed out with at least two arms"),
            Cannot::ArmsMeet { at } => write!(
                f,
                "neighbouring arms meet outside the hub: make its radius over {at:.3} mm, the arms narrower or fewer"
            ),
            Cannot::RimCorners { fillet } if fillet > 0.0 => {
                write!(f, "the corners at the rim run into each other: at most {fillet:.3} mm, or fewer arms")
            }
            Cannot::RimCorners { .. } => {
                write!(f, "the arms fill the rim: make them narrower or fewer")
            }
            Cannot::HubCorners { fillet, hub } => write!(
                f,
                "the corners at the hub run into each other: at most {fillet:.3} mm, or a hub of radius {hub:.3} mm"
            ),
            Cannot::Short => write!(f, "rim and hub stand too near for these corners"),
        }
    }
}
impl std::error::Error for Cannot {}

/// The edge of the first arm towards the window: points q with q · n = d.
#[derive(Clone, Copy)]
struct Edge {
    /// Lean of the edge towards the arm's axis.
    tilt: f64,
    /// Distance of the edge from the wheel's centre.
    off: f64,
}
impl Edge {
    fn point(self, along: f64, off: f64) -> Point {
        let (s, c) = (sin(self.tilt), cos(self.tilt));
        Point::new(along * c + off * s, off * c - along * s)
    }
}
/// A corner: centre of its fillet, and where it touches edge and circle.
#[derive(Clone, Copy)]
struct Corner {
    centre: Point,
    edge: Point,
    circle: Point,
    along: f64,
    angle: f64,
}

impl Crossing {
    /// From the edge line through half the width at hub and rim.
    fn edge(&self) -> Edge {
        let tilt = atan((self.at_hub - self.at_rim) / 2.0 / (self.rim - self.hub));
        Edge { tilt, off: self.hub * sin(tilt) + self.at_hub / 2.0 * cos(tilt) }
    }
    /// Corner against the circle `circle`, its fillet's centre on the circle `reach`.
    fn corner(&self, circle: f64, reach: f64) -> Option<Corner> {
        let edge = self.edge();
        let off = edge.off + self.fillet;
        let along = (reach * reach - off * off).max(0.0).sqrt();
        if off > reach {
            return None;
        }
        let centre = edge.point(along, off);
        Some(Corner {
            centre,
            edge: edge.point(along, edge.off),
            circle: (centre.to_vec2() * (circle / reach)).to_point(),
            along,
            angle: atan2(centre.y, centre.x),
        })
    }
    /// Angle from an arm's axis to the middle of a window.
    fn middle(&self) -> f64 {
        PI / f64::from(self.arms)
    }
    /// Radius at which the edges of neighbouring arms meet.
    #[must_use]
    pub fn arms_meet(&self) -> f64 {
        let edge = self.edge();
        edge.off / sin(self.middle() + edge.tilt)
    }
    /// Largest fillet at the rim; negative when the arms themselves fill it.
    #[must_use]
    pub fn most_at_rim(&self) -> f64 {
        let edge = self.edge();
        let s = sin(self.middle() + edge.tilt);
        (s * self.rim - edge.off) / (1.0 + s)
    }
    /// Largest fillet at the hub.
    #[must_use]
    pub fn most_at_hub(&self) -> f64 {
        let edge = self.edge();
        let s = sin(self.middle() + edge.tilt);
        if s >= 1.0 - 1e-12 { f64::INFINITY } else { (s * self.hub - edge.off) / (1.0 - s) }
    }
    /// Judges the crossing.
    ///
    /// # Errors
    /// [`Cannot`] with the reason and what would do.
    pub fn judged(&self) -> Result<(), Cannot> {
        self.corners().map(|_| ())
    }
    fn corners(&self) -> Result<[Corner; 2], Cannot> {
        let sizes = [self.rim, self.hub, self.at_hub, self.at_rim];
        if sizes.iter().any(|s| !(s.is_finite() && *s > 0.0))
            || !(self.fillet.is_finite() && self.fillet >= 0.0)
            || self.hub >= self.rim
        {
            return Err(Cannot::Size);
        }
        if self.arms < 2 {
            return Err(Cannot::Arms);
        }
        let middle = self.middle();
        let rim = Cannot::RimCorners { fillet: self.most_at_rim() };
        if self.most_at_rim() <= 0.0 || self.fillet >= self.rim {
            return Err(rim);
        }
        let outer = self.corner(self.rim, self.rim - self.fillet).ok_or(rim)?;
        if outer.angle > middle + 1e-12 {
            return Err(rim);
        }
        let meet = Cannot::ArmsMeet { at: self.arms_meet() };
        if self.arms_meet() > self.hub + SAME {
            return Err(meet);
        }
        let inner = self.corner(self.hub, self.hub + self.fillet).ok_or(meet)?;
        if inner.angle > middle + 1e-12 {
            return Err(Cannot::HubCorners { fillet: self.most_at_hub(), hub: self.least_hub() });
        }
        if outer.along <= inner.along {
            return Err(Cannot::Short);
        }
        Ok([outer, inner])
    }
    /// Least hub radius for the fillet, the arms' edges taken as they are now.
    #[must_use]
    pub fn least_hub(&self) -> f64 {
        let edge = self.edge();
        (edge.off + self.fillet) / sin(self.middle() + edge.tilt) - self.fillet
    }
    /// The same with sharp corners.
    #[must_use]
    pub fn sharp(&self) -> Crossing {
        Crossing { fillet: 0.0, ..*self }
    }
    /// The first window, counter-clockwise.
    ///
    /// # Errors
    /// [`Cannot`] when there is none.
    pub fn window(&self) -> Result<Profile, Cannot> {
        let [outer, inner] = self.corners()?;
        let middle = self.middle();
        // Mirrored about the middle of the window.
        let (s, c) = (sin(2.0 * middle), cos(2.0 * middle));
        let over = |p: Point| Point::new(p.x * c + p.y * s, p.x * s - p.y * c);
        let round = self.fillet > SAME;
        let mut p = Profile::start(inner.edge.x, inner.edge.y).line(outer.edge.x, outer.edge.y);
        if round {
            p = p.arc_to(outer.circle, outer.centre, Sense::Left);
        }
        let far = over(outer.circle);
        if (far - p.end()).hypot2().sqrt() > SAME {
            p = p.arc_to(far, Point::ORIGIN, Sense::Left);
        }
        if round {
            p = p.arc_to(over(outer.edge), over(outer.centre), Sense::Left);
        }
        let foot = over(inner.edge);
        p = p.line(foot.x, foot.y);
        if round {
            p = p.arc_to(over(inner.circle), over(inner.centre), Sense::Left);
        }
        if (inner.circle - p.end()).hypot2().sqrt() > SAME {
            p = p.arc_to(inner.circle, Point::ORIGIN, Sense::Right);
        }
        if round {
            p = p.arc_to(inner.edge, inner.centre, Sense::Left);
        }
        Ok(p)
    }
    /// All windows.
    ///
    /// # Errors
    /// [`Cannot`] when there are none.
    pub fn windows(&self) -> Result<Vec<Profile>, Cannot> {
        let first = self.window()?;
        let turn = |k: u32| {
            let a = 2.0 * self.middle() * f64::from(k);
            let (s, c) = (sin(a), cos(a));
            first.mapped(move |p| Point::new(p.x * c - p.y * s, p.x * s + p.y * c))
        };
        Ok((0..self.arms).map(turn).collect())
    }
}
/// Area of one sharp window between parallel arms.
///
/// # Formula
/// A(R) = π R²/n − R² asin(w/2R) − (w/2) √(R² − w²/4); window = A(r_o) − A(r_i).
#[must_use]
pub fn parallel_area(arms: u32, rim: f64, hub: f64, width: f64) -> f64 {
    let h = width / 2.0;
    let a = |r: f64| PI * r * r / f64::from(arms) - r * r * asin(h / r) - h * (r * r - h * h).max(0.0).sqrt();
    a(rim) - a(hub)
}

/// Proportions for a wheel whose maker gives none: a house default. `None` when the wheel is too small to
/// be crossed out.
#[must_use]
pub fn proportions(outside: f64, root: f64, bore: f64) -> Option<Crossing> {
    let arms = match outside {
        d if d < 14.0 => return None,
        d if d < 25.0 => 4,
        d if d < 90.0 => 5,
        _ => 6,
    };
    let rim_width = outside - root;
    let rim = root / 2.0 - rim_width;
    let mut c = Crossing {
        arms,
        rim,
        hub: bore / 2.0 + (outside / 20.0).max(1.5),
        at_hub: 0.85 * rim_width,
        at_rim: 0.6 * rim_width,
        fillet: (outside / 80.0).max(0.3),
    };
    // The lean of the arms follows the hub: a few rounds settle both.
    for _ in 0..20 {
        c.hub = c.hub.max(c.least_hub() * 1.02);
        if c.hub.is_nan() || c.hub >= c.rim {
            return None;
        }
    }
    c.judged().is_ok().then_some(c)
}

#[cfg(test)]
mod tests;
