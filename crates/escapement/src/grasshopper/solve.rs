//! Setting a grasshopper out from a few sizes.

use kurbo::Vec2;
use reckon::maths::{PI, acos, cos, exp, ln, sin, tan};

use super::linkage::{Action, Linkage, Side, Strut};
use crate::frame::on_wheel;

/// Where the arms are jointed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Joints {
    /// Each arm on its own joint: lengths are free.
    Twin {
        /// Length of the entry arm.
        entry: f64,
        /// Entry pressed or drawn.
        entry_action: Action,
        /// Length of the exit arm.
        exit: f64,
        /// Exit pressed or drawn.
        exit_action: Action,
    },
    /// Both on one joint, the entry pressed and the exit drawn: the lengths follow.
    Single,
}

/// What a grasshopper is set out from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Design {
    /// Teeth of the escape wheel.
    pub teeth: u32,
    /// Whole pitches between the arms; the mean span is half a pitch more.
    pub span: u32,
    /// Radius of the tooth tips.
    pub tip_radius: f64,
    /// Half the escaping arc: an arm lets go this far past the middle.
    pub half_arc: f64,
    /// The joints.
    pub joints: Joints,
}

/// Why there is none, and what would do.
#[derive(Clone, Debug, PartialEq)]
pub struct NoSolution {
    /// Why.
    pub why: String,
    /// What would do, if something near does.
    pub cure: Option<String>,
}

impl std::fmt::Display for NoSolution {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.why)?;
        self.cure.as_ref().map_or(Ok(()), |cure| write!(f, "; {cure}"))
    }
}

impl std::error::Error for NoSolution {}

/// The linkage and how it was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Solved {
    /// The linkage.
    pub linkage: Linkage,
    /// Rounds of Newton's method.
    pub rounds: u32,
    /// Greatest of the three conditions of phase that is left, in radians.
    pub residual: f64,
    /// Whether bracketing had to lead the way.
    pub bracketed: bool,
}

const GOOD: f64 = 1e-10;

/// Three unknowns: for twin joints the angles of both tips at θ = 0, for a single joint the joint's angle and half
/// the angle between the tips; and the distance of the arbors in tip radii.
pub(super) type Unknown = [f64; 3];

impl Design {
    fn pitch(&self) -> f64 {
        2.0 * PI / f64::from(self.teeth)
    }
    /// Mean angle between the teeth held.
    fn between(&self) -> f64 {
        (f64::from(self.span) + 0.5) * self.pitch()
    }
    /// Mean turn of the wheel for the turn of the frame.
    ///
    /// # Formula
    /// (π/z)/(2e)
    #[must_use]
    pub fn mean_ratio(&self) -> f64 {
        self.pitch() / 4.0 / self.half_arc
    }
    fn linkage(&self, x: Unknown) -> Linkage {
        let r = self.tip_radius;
        let distance = x[2] * r;
        let strut = |angle: f64, length: f64, action: Action| {
            let ahead = Vec2::new(cos(angle), -sin(angle)) * (action.sign() * length);
            let joint = on_wheel(r, angle) + ahead - kurbo::Point::new(0.0, distance);
            Strut { joint, length, action }
        };
        let (entry, exit) = match self.joints {
            Joints::Twin { entry, entry_action, exit, exit_action } => {
                (strut(x[0], entry, entry_action), strut(x[1], exit, exit_action))
            }
            Joints::Single => {
                let length = r * tan(x[1]);
                (strut(x[0] - x[1], length, Action::Push), strut(x[0] + x[1], length, Action::Pull))
            }
        };
        Linkage { teeth: self.teeth, span: self.span, tip_radius: r, distance, entry, exit }
    }
    /// One of the three conditions of phase: what is too much of entry travel, exit travel, angle between.
    fn amiss_of(&self, which: usize, x: Unknown) -> Option<f64> {
        let (l, e) = (self.linkage(x), self.half_arc);
        let at = |side, frame| l.pose(side, frame).map(|p| p.wheel);
        let half = self.pitch() / 2.0;
        match which {
            0 => Some(at(Side::Entry, -e)? - at(Side::Entry, e)? - half),
            1 => Some(at(Side::Exit, e)? - at(Side::Exit, -e)? - half),
            _ => Some(at(Side::Exit, -e)? - at(Side::Entry, -e)? - f64::from(self.span) * self.pitch()),
        }
    }
    fn amiss(&self, x: Unknown) -> Option<[f64; 3]> {
        Some([self.amiss_of(0, x)?, self.amiss_of(1, x)?, self.amiss_of(2, x)?])
    }
    fn start(&self) -> Option<Unknown> {
        let (between, ratio) = (self.between(), self.mean_ratio());
        match self.joints {
            Joints::Twin { .. } => {
                // acos((1−a)/d) + acos((1+a)/d) grows with d from less than the span to nearly π.
                let sum = |d: f64| acos((1.0 - ratio) / d) + acos((1.0 + ratio) / d) - between;
                let d = bisect(sum, 1.0 + ratio, 1e4)?;
                Some([-acos((1.0 - ratio) / d), acos((1.0 + ratio) / d), d])
            }
            Joints::Single => {
                let far = 1.0 / cos(between / 2.0);
                let radius = ratio / sin(between / 2.0);
                let lean = reckon::maths::atan(radius / far);
                Some([-lean, between / 2.0, (far * far + radius * radius).sqrt()])
            }
        }
    }
    /// Slow but sure: one condition at a time between brackets.
    pub(super) fn bracket(&self) -> Option<Unknown> {
        match self.joints {
            Joints::Twin { .. } => {
                let travel = |which: usize, d: f64| {
                    let one = |a: f64| self.amiss_of(which, [-acos((1.0 - a) / d), acos((1.0 + a) / d), d]);
                    let most = if which == 0 { 1.0 } else { d - 1.0 };
                    scan(one, 1e-6, most - 1e-9, 80)
                };
                // By the logarithm of d − R: near the tips a little distance does much.
                let last = |v: f64| {
                    let d = 1.0 + exp(v);
                    let (a, b) = (travel(0, d)?, travel(1, d)?);
                    self.amiss_of(2, [-acos((1.0 - a) / d), acos((1.0 + b) / d), d])
                };
                let most = 4.0 / cos(self.between() / 2.0).max(0.1) - 1.0;
                let d = 1.0 + exp(scan(last, ln(0.005), ln(most), 160)?);
                let (a, b) = (travel(0, d)?, travel(1, d)?);
                Some([-acos((1.0 - a) / d), acos((1.0 + b) / d), d])
            }
            Joints::Single => {
                let lean = |half: f64, d: f64| {
                    let both = |mid: f64| self.amiss([mid, half, d]).map(|f| f[0] + f[1]);
                    scan(both, -half, 0.0, 40)
                };
                let far = |half: f64| {
                    let apart = |d: f64| self.amiss([lean(half, d)?, half, d]).map(|f| f[0] - f[1]);
                    scan(apart, 0.9 / cos(half), 2.0 / cos(half), 40)
                };
                let last = |half: f64| {
                    let d = far(half)?;
                    self.amiss_of(2, [lean(half, d)?, half, d])
                };
                let middle = self.between() / 2.0;
                let half = scan(last, middle * 0.9, (middle * 1.1).min(PI / 2.0 - 1e-6), 12)?;
                let d = far(half)?;
                Some([lean(half, d)?, half, d])
            }
        }
    }
    /// Newton's method, a step halved until it helps.
    fn newton(&self, mut x: Unknown) -> Option<(Unknown, u32, f64)> {
        let size = |f: &[f64; 3]| f.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
        let mut f = self.amiss(x)?;
        let mut rounds = 0;
        // Beyond what is asked for, as long as it still gains: the last digits cost nothing.
        while rounds < 60 {
            let mut slope = [[0.0; 3]; 3];
            for k in 0..3 {
                let h = 1e-6;
                let (mut up, mut down) = (x, x);
                up[k] += h;
                down[k] -= h;
                let (fu, fd) = (self.amiss(up)?, self.amiss(down)?);
                for (row, s) in slope.iter_mut().enumerate() {
                    s[k] = (fu[row] - fd[row]) / (2.0 * h);
                }
            }
            let step = three(&slope, &f)?;
            let mut share = 1.0;
            let better = loop {
                let next = [x[0] - share * step[0], x[1] - share * step[1], x[2] - share * step[2]];
                match self.amiss(next).filter(|g| next[2] > 0.0 && size(g) < size(&f)) {
                    Some(g) => break Some((next, g)),
                    None if share < 1e-4 => break None,
                    None => share /= 2.0,
                }
            };
            rounds += 1;
            let Some((next, g)) = better else { break };
            (x, f) = (next, g);
        }
        (size(&f) < GOOD).then(|| (x, rounds, size(&f)))
    }
    fn attempt(&self) -> Option<Solved> {
        let proper = |l: &Linkage| {
            Side::BOTH.iter().all(|&side| {
                [-self.half_arc, 0.0, self.half_arc].iter().all(|&t| {
                    l.pose(side, t).is_some_and(|p| p.wheel_arm < 0.0 && p.ratio() * side.turn() > 0.0)
                })
            })
        };
        let done = |(x, rounds, residual): (Unknown, u32, f64), bracketed| {
            let linkage = self.linkage(x);
            proper(&linkage).then_some(Solved { linkage, rounds, residual, bracketed })
        };
        let straight = self.start().and_then(|x| self.newton(x)).and_then(|found| done(found, false));
        straight.or_else(|| self.bracket().and_then(|x| self.newton(x)).and_then(|found| done(found, true)))
    }
}

/// Joints, distance of arbors and (on a single joint) lengths, such that each arm lets go of its tooth just as the
/// other catches one.
///
/// # Formula
/// α_n(−e) − α_n(e) = p/2; α_x(e) − α_x(−e) = p/2; α_x(−e) − α_n(−e) = K p; struts tangent to the tip circle at
/// θ = 0, so that the teeth push least sideways.
///
/// # Errors
/// Sizes that are none, or for which no such linkage exists; with a span that would do when one is near.
pub fn solve(design: &Design) -> Result<Solved, NoSolution> {
    let refuse = |why: &str| Err(NoSolution { why: why.to_owned(), cure: None });
    if design.teeth < 8 || design.teeth > 2000 {
        return refuse("the wheel needs 8 teeth or more, and no more than 2000");
    }
    let sound = |x: f64| x.is_finite() && x > 0.0 && x < 1e6;
    let sizes = match design.joints {
        Joints::Twin { entry, exit, .. } => sound(entry) && sound(exit),
        Joints::Single => true,
    };
    if !sizes || !sound(design.tip_radius) {
        return refuse("radius of the tips and lengths of the arms must be more than nothing");
    }
    if !(design.half_arc > 1e-4 && design.half_arc < 0.5) {
        return refuse("half the escaping arc must lie between 0.01° and 28°");
    }
    if design.span == 0 || design.between() >= PI {
        return Err(NoSolution {
            why: format!(
                "a span of {}½ pitches takes {:.1}° of the wheel: the struts can be tangent only if it is more than one pitch and less than half a turn",
                design.span,
                design.between() / PI * 180.0
            ),
            cure: Some(format!("a span up to {}½ pitches", (design.teeth / 2).saturating_sub(1))),
        });
    }
    if let Some(found) = design.attempt() {
        return Ok(found);
    }
    // The nearest span that goes.
    let most = i64::from(design.teeth) / 2;
    let near = (1..most).flat_map(|off| [i64::from(design.span) + off, i64::from(design.span) - off]);
    let works =
        near.filter(|k| *k > 0 && *k < most).take(24).filter_map(|k| u32::try_from(k).ok()).find(|&span| {
            Design { span, ..*design }.start().is_some_and(|x| {
                let other = Design { span, ..*design };
                other.newton(x).is_some() && other.attempt().is_some()
            })
        });
    let longer = match design.joints {
        Joints::Twin { entry, entry_action, exit, exit_action } if works.is_none() => {
            [1.5, 0.67, 2.0, 0.5, 3.0].iter().copied().find(|by| {
                let joints = Joints::Twin { entry: entry * by, entry_action, exit: exit * by, exit_action };
                Design { joints, ..*design }.attempt().is_some()
            })
        }
        _ => None,
    };
    let cure = match (works, longer) {
        (Some(span), _) => Some(format!("a span of {span}½ pitches does")),
        (None, Some(by)) => Some(format!("arms {by} times as long do")),
        _ => Some("a smaller escaping arc, or more teeth".to_owned()),
    };
    Err(NoSolution {
        why: format!(
            "no place of the joints lets each arm carry a tooth half a pitch in {:.2}° and hand over at a span of {}½ pitches",
            design.half_arc * 360.0 / PI,
            design.span
        ),
        cure,
    })
}

/// Where a falling or rising function crosses nothing between two ends of unlike sign.
pub(super) fn bisect(f: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> Option<f64> {
    let (a, b) = (f(low), f(high));
    if a.is_nan() || b.is_nan() || a * b > 0.0 {
        return None;
    }
    for _ in 0..200 {
        let middle = low.midpoint(high);
        if middle <= low || middle >= high {
            break;
        }
        if f(middle) * a > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(low.midpoint(high))
}

/// The first crossing of nothing in equal steps from one end, then bisected; places without a value are passed over.
pub(super) fn scan(f: impl Fn(f64) -> Option<f64>, low: f64, high: f64, steps: u32) -> Option<f64> {
    if low >= high {
        return None;
    }
    let mut last: Option<(f64, f64)> = None;
    for k in 0..=steps {
        let x = low + (high - low) * f64::from(k) / f64::from(steps);
        let Some(y) = f(x) else {
            last = None;
            continue;
        };
        if let Some((x0, y0)) = last
            && y0 * y <= 0.0
        {
            return bisect_sure(&f, x0, y0, x);
        }
        last = Some((x, y));
    }
    None
}

fn bisect_sure(f: &impl Fn(f64) -> Option<f64>, mut low: f64, first: f64, mut high: f64) -> Option<f64> {
    for _ in 0..54 {
        let middle = low.midpoint(high);
        if f(middle)? * first > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(low.midpoint(high))
}

/// Three linear equations by Cramer's rule; none when they say nothing.
fn three(m: &[[f64; 3]; 3], f: &[f64; 3]) -> Option<[f64; 3]> {
    let det = |m: &[[f64; 3]; 3]| {
        m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
            + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0])
    };
    let whole = det(m);
    if whole.is_nan() || whole.abs() < 1e-14 {
        return None;
    }
    let mut out = [0.0; 3];
    for (k, o) in out.iter_mut().enumerate() {
        let mut with = *m;
        for row in 0..3 {
            with[row][k] = f[row];
        }
        *o = det(&with) / whole;
    }
    Some(out)
}
