//! Wheel cutting proved by removal: one tooth space after another, the blank turned between.
//!
//! The work is a blank seen along its axis, in layers from face to face. A form cutter turns about an
//! axis square to the blank's, at the height of its centre. Section coordinates, in millimetres: right, from
//! the blank's axis towards the cutter; up, across the cutter. Where the cutter's middle passes a layer,
//! its whole form is cut; short of it, at a distance a along the blank's axis, a point of the form that
//! stands d behind the tip cuts only to R − √((R − d)² − a²) behind it.

use kurbo::{Point, Vec2};
use reckon::maths::{self, PI};
use shape::region::Region;

use crate::fault::{Fault, Spot, Wrong, figure, mm};
use crate::measure::{Amount, amount};
use crate::milling::Slab;
use crate::moves::{Does, Place, Program, Step};

/// A form cutter.
#[derive(Debug, Clone, PartialEq)]
pub struct FormCutter {
    /// Radius at its tip.
    pub radius: f64,
    /// Its form: closed outline of (behind the tip, across).
    pub form: Vec<Point>,
}

/// A blank set up for its teeth.
#[derive(Debug, Clone, PartialEq)]
pub struct SetUp {
    /// The blank seen along its axis, which is at zero.
    pub blank: Region,
    /// Where its faces are along the program's axis.
    pub faces: (f64, f64),
    /// In how many layers it is taken.
    pub layers: u32,
    /// Which of x, y, z (0, 1, 2) runs along the blank's axis.
    pub along: usize,
    /// Which of x, y, z says how far the cutter's tip is from the blank's axis.
    pub depth: usize,
    /// The cutter.
    pub cutter: FormCutter,
    /// How many teeth.
    pub teeth: u32,
    /// What a stop says when the blank is to be turned by one tooth; empty when every stop asks for it.
    pub turns_at: String,
    /// What does not turn and may not be touched: slabs along the axis.
    pub fixed: Vec<Slab>,
    /// What is wanted, if it is to be judged: least and most metal, seen along the axis.
    pub wanted: Option<(Region, Region)>,
    /// Deeper than this below the least, or higher than this above the most, is a fault.
    pub room: f64,
    /// Step in depth of a slanting move.
    pub step: f64,
    /// Overlap of less than this is no touch, in square millimetres.
    pub touch: f64,
}

/// What a program leaves of a blank; slabs lie along the axis.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Cut {
    /// The blank.
    pub before: Vec<Slab>,
    /// What is left of it.
    pub after: Vec<Slab>,
    /// What is left and not wanted.
    pub remainder: Vec<Slab>,
    /// What is wanted and gone.
    pub gouge: Vec<Slab>,
    /// Angles in degrees at which something was cut.
    pub angles: Vec<f64>,
    /// Every fault, in the order of the program.
    pub faults: Vec<Fault>,
}

/// One place of the cutter in a layer.
#[derive(Debug, Clone)]
struct Bite {
    layer: usize,
    region: Region,
    spot: Spot,
}

/// Runs a program on a set-up.
#[must_use]
pub fn prove(program: &Program, set_up: &SetUp) -> Cut {
    let count = set_up.layers.clamp(1, 1000);
    let (low, high) = (set_up.faces.0.min(set_up.faces.1), set_up.faces.0.max(set_up.faces.1));
    let face = |i: u32| low + (high - low) * f64::from(i) / f64::from(count);
    let before: Vec<Slab> =
        (0..count).map(|i| Slab::new(face(i), face(i + 1), set_up.blank.clone())).collect();
    let mut run = Run {
        set_up,
        after: before.clone(),
        radius: furthest(&set_up.blank),
        waiting: Vec::new(),
        bites: Vec::new(),
        turned: 0.0,
        at: None,
        angles: Vec::new(),
        faults: Vec::new(),
    };
    for step in &program.steps {
        run.step(step);
    }
    run.settle();
    let Run { after, bites, mut angles, mut faults, .. } = run;
    angles.sort_by(f64::total_cmp);
    angles.dedup_by(|a, b| (*a - *b).abs() < 1.0e-6);
    if angles.len() > 1 && angles[angles.len() - 1] - angles[0] > 360.0 - 1.0e-6 {
        angles.pop();
    }
    let end = program.steps.last().map_or(Spot::default(), |step| step.spot);
    let wanted = usize::try_from(set_up.teeth).unwrap_or(usize::MAX);
    if angles.len() != wanted {
        faults.push(
            Fault::new(
                Wrong::Teeth,
                end,
                format!("{} spaces are cut; the wheel has {wanted} teeth", angles.len()),
            )
            .why("the blank turns by one tooth at each stop that asks for it")
            .cure("count the stops, and what they say"),
        );
    }
    let mut cut = Cut { before, after, angles, ..Cut::default() };
    if let Some((least, most)) = &set_up.wanted {
        judge(set_up, least, most, &bites, end, &mut cut, &mut faults);
    }
    faults.sort_by_key(|fault| fault.spot.start);
    cut.faults = faults;
    cut
}

struct Run<'a> {
    set_up: &'a SetUp,
    after: Vec<Slab>,
    /// Of the blank, at its furthest from the axis.
    radius: f64,
    waiting: Vec<Bite>,
    bites: Vec<Bite>,
    /// How far the blank was turned, in degrees.
    turned: f64,
    at: Option<Place>,
    angles: Vec<f64>,
    faults: Vec<Fault>,
}

/// The furthest that a region reaches from zero.
fn furthest(region: &Region) -> f64 {
    region.polygons().iter().flatten().flatten().map(|p| p.to_vec2().hypot2()).fold(0.0, f64::max).sqrt()
}

/// Distance from a place to a stretch.
fn off(place: f64, from: f64, to: f64) -> f64 {
    (from.min(to) - place).max(place - from.max(to)).max(0.0)
}

impl Run<'_> {
    fn step(&mut self, step: &Step) {
        match &step.does {
            Does::Stop { says, .. } => {
                let asked = self.set_up.turns_at.to_lowercase();
                if says.to_lowercase().contains(&asked) {
                    self.turn(step.spot, self.turned + 360.0 / f64::from(self.set_up.teeth.max(1)));
                }
            }
            Does::Index { to } => self.turn(step.spot, *to),
            Does::Rapid { from, to } => {
                self.settle();
                self.motion(step, *from, *to, true);
            }
            // How it comes there is not known; where it ends it may stand in nothing.
            Does::Approach { to: [Some(x), Some(y), Some(z)] } => {
                self.motion(step, [*x, *y, *z], [*x, *y, *z], true);
                self.at = Some([*x, *y, *z]);
            }
            Does::Line { from, to, .. } => self.motion(step, *from, *to, false),
            Does::Arc { .. } | Does::Thread { .. } => self.faults.push(
                Fault::new(Wrong::Motion, step.spot, "only straight moves are followed in wheel cutting")
                    .cure("write straight moves"),
            ),
            _ => {}
        }
        if let Some((_, to)) = step.ends() {
            self.at = Some(to);
        }
    }

    /// Turns the blank to an angle, unless the cutter stands in it.
    fn turn(&mut self, spot: Spot, to: f64) {
        self.settle();
        if let Some(at) = self.at {
            let blank = self.set_up.blank.clone();
            let stands = (0..self.after.len()).any(|i| {
                let reach = off_layer(&self.after[i], at[self.set_up.along], at[self.set_up.along], false);
                self.form(at[self.set_up.depth], reach)
                    .is_some_and(|form| blank.intersection(&form).area() > self.set_up.touch)
            });
            if stands {
                self.faults.push(
                    Fault::new(Wrong::IndexInCut, spot, "the blank is turned while the cutter stands in it")
                        .cure("withdraw the cutter before the stop"),
                );
            }
        }
        self.turned = to;
    }

    /// The cutter's section with its tip at a depth and its middle so far from the layer; in section
    /// coordinates that stand still.
    fn form(&self, tip: f64, away: f64) -> Option<Region> {
        let FormCutter { radius, form } = &self.set_up.cutter;
        if away >= *radius {
            return None;
        }
        let corners: Vec<Point> = form
            .iter()
            .map(|p| {
                let left = (radius - p.x).max(0.0);
                let reach = (left * left - away * away).max(0.0).sqrt();
                Point::new(tip + radius - reach, p.y)
            })
            .collect();
        Region::polygon(&corners).ok().filter(|region| !region.is_empty())
    }

    fn motion(&mut self, step: &Step, from: Place, to: Place, rapid: bool) {
        let (along, depth) = (self.set_up.along, self.set_up.depth);
        // Straight in or out at one place along the axis, the nearest depth says all.
        let upright = (from[along] - to[along]).abs() <= 0.0;
        let parts = if upright { 1 } else { parts((to[depth] - from[depth]).abs(), self.set_up.step) };
        let mut hit = 0.0_f64;
        let mut fixed = 0.0_f64;
        let mut cuts = false;
        for part in 0..parts {
            let at =
                |i: u32, axis: usize| from[axis] + (to[axis] - from[axis]) * f64::from(i) / f64::from(parts);
            let (a, b) = (at(part, along), at(part + 1, along));
            let (near, far) = {
                let (first, last) = (at(part, depth), at(part + 1, depth));
                (first.min(last), first.max(last))
            };
            for slab in &self.set_up.fixed {
                if let Some(form) = self.form(near, off_layer(slab, a, b, false)) {
                    fixed = fixed.max(slab.region.intersection(&form).area());
                }
            }
            for i in 0..self.after.len() {
                // A rapid is tried where it reaches furthest; a feed cuts what it surely cuts.
                let tip = if rapid || upright { near } else { far };
                if tip >= self.radius {
                    continue;
                }
                let Some(form) = self.form(tip, off_layer(&self.after[i], a, b, !rapid)) else { continue };
                let Some(region) = turned(&form, -self.turned) else { continue };
                if rapid {
                    hit = hit.max(self.after[i].region.intersection(&region).area());
                } else if self.set_up.blank.intersection(&region).area() > self.set_up.touch {
                    cuts = true;
                    self.waiting.push(Bite { layer: i, region, spot: step.spot });
                }
            }
        }
        if cuts {
            let angle = self.turned - 360.0 * (self.turned / 360.0).floor();
            self.angles.push(angle);
            if !step.turning.turns() {
                self.faults.push(
                    Fault::new(
                        Wrong::SpindleStopped,
                        step.spot,
                        "the cutter is fed into the blank while it stands",
                    )
                    .cure("write S and M03 before it"),
                );
            }
        }
        if hit > self.set_up.touch {
            self.faults.push(
                Fault::new(
                    Wrong::RapidInStock,
                    step.spot,
                    format!("the rapid goes through {} mm² of the blank", figure(hit, 3)),
                )
                .by(hit)
                .cure("withdraw first, or feed"),
            );
        }
        if fixed > self.set_up.touch {
            self.faults.push(
                Fault::new(
                    Wrong::Jaws,
                    step.spot,
                    format!("the cutter runs {} mm² into what holds the blank", figure(fixed, 3)),
                )
                .by(fixed)
                .cure("end the move earlier, or hold the blank further out"),
            );
        }
    }

    fn settle(&mut self) {
        let waiting = std::mem::take(&mut self.waiting);
        for i in 0..self.after.len() {
            let here: Vec<Region> =
                waiting.iter().filter(|bite| bite.layer == i).map(|bite| bite.region.clone()).collect();
            if !here.is_empty() {
                self.after[i].region = self.after[i].region.difference(&Region::union_of(&here));
            }
        }
        self.bites.extend(waiting);
    }
}

/// How far the cutter's middle, moving from a to b, stays from a layer: from its further face when what
/// is surely cut is asked, from its nearer otherwise.
fn off_layer(slab: &Slab, a: f64, b: f64, surely: bool) -> f64 {
    if surely {
        return off(slab.low, a, b).max(off(slab.high, a, b));
    }
    (a.min(b) - slab.high).max(slab.low - a.max(b)).max(0.0)
}

fn parts(length: f64, most: f64) -> u32 {
    let count = (length / most).ceil();
    let count = if count.is_finite() { count.clamp(1.0, 10_000.0) } else { 1.0 };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 1 … 10 000")]
    let count = count as u32;
    count
}

/// A region turned about zero by degrees, anticlockwise.
fn turned(region: &Region, degrees: f64) -> Option<Region> {
    let angle = degrees * PI / 180.0;
    let (sine, cosine) = (maths::sin(angle), maths::cos(angle));
    let rings = region.polygons();
    let mut pieces = Vec::new();
    for rings in rings {
        let turn = |ring: &Vec<Point>| -> Vec<Point> {
            ring.iter()
                .map(|p| (Vec2::new(p.x * cosine - p.y * sine, p.x * sine + p.y * cosine)).to_point())
                .collect()
        };
        let holes: Vec<Vec<Point>> = rings[1..].iter().map(turn).collect();
        pieces.push(Region::with_holes(&turn(&rings[0]), &holes).ok()?);
    }
    Some(Region::union_of(&pieces))
}

fn judge(
    set_up: &SetUp,
    least: &Region,
    most: &Region,
    bites: &[Bite],
    end: Spot,
    cut: &mut Cut,
    faults: &mut Vec<Fault>,
) {
    let lacking = amount(&least.difference(&set_up.blank), &set_up.blank);
    if lacking.deepest > set_up.room {
        faults.push(
            Fault::new(
                Wrong::StockTooSmall,
                end,
                format!("the blank lacks {} mm² of the wheel", figure(lacking.area, 3)),
            )
            .by(lacking.deepest)
            .cure("turn a larger blank"),
        );
    }
    let (mut over, mut under): (Amount, Amount) = (Amount::default(), Amount::default());
    let mut culprit: Option<(f64, Spot)> = None;
    let inside = least.intersection(&set_up.blank);
    for (i, slab) in cut.after.iter().enumerate() {
        let rest = slab.region.difference(most);
        let gouge = inside.difference(&slab.region);
        let (left, gone) = (amount(&rest, most), amount(&gouge, least));
        if left.deepest > over.deepest {
            over = left;
        }
        if gone.deepest > set_up.room {
            for bite in bites.iter().filter(|bite| bite.layer == i) {
                let area = gouge.intersection(&bite.region).area();
                if culprit.is_none_or(|(before, _)| area > before) {
                    culprit = Some((area, bite.spot));
                }
            }
        }
        if gone.deepest > under.deepest {
            under = gone;
        }
        cut.remainder.push(Slab::new(slab.low, slab.high, rest));
        cut.gouge.push(Slab::new(slab.low, slab.high, gouge));
    }
    if over.deepest > set_up.room {
        faults.push(
            Fault::new(
                Wrong::Remainder,
                end,
                format!(
                    "{} mm² of metal is left on the wheel, up to {} mm high",
                    figure(over.area, 3),
                    mm(over.deepest)
                ),
            )
            .by(over.deepest)
            .cure("cut it, or allow it"),
        );
    }
    if under.deepest > set_up.room {
        faults.push(
            Fault::new(
                Wrong::Gouge,
                culprit.map_or(end, |(_, spot)| spot),
                format!(
                    "{} mm² of the wheel is cut away, {} mm deep",
                    figure(under.area, 3),
                    mm(under.deepest)
                ),
            )
            .by(under.deepest)
            .cure("feed less deep, or check the cutter's form"),
        );
    }
}
