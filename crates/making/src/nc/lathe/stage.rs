//! What each tool of a lathe does: its acts, its shape, and the metal that it takes, as rings of the half section.

use super::super::hand_over::{Ring, ToolShape, ToolWay};
use super::super::{Act, Cannot, Habits, To};
use super::outside::{self, Cutting, Rung};
use reckon::maths::{PI, cos, sin, tan};

/// Where tools are changed, in front of the finished face.
pub(super) const CHANGE: f64 = 30.0;
/// How far in front of metal a rapid ends.
const NEAR: f64 = 0.5;
/// How far behind the last depth a rapid ends.
const BACK: f64 = 0.2;

/// What one tool does at one setting.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    /// For the file's name.
    pub word: &'static str,
    /// What it does.
    pub says: String,
    /// Titles of the operations of the part's route that it does.
    pub does: Vec<String>,
    /// Name of its tool.
    pub tool: String,
    /// How that tool is touched off, and what of it matters.
    pub matters: String,
    /// Its shape.
    pub shape: ToolShape,
    /// Turns a minute.
    pub rpm: f64,
    /// From clear in front of the work, the spindle turning.
    pub acts: Vec<Act>,
    /// The metal that it takes.
    pub takes: Vec<Ring>,
    /// Of that, what it may leave: its nose in hollow corners.
    pub leaves: Vec<Ring>,
    /// Where its back face ends, if it parts the work off.
    pub parts_at: Option<f64>,
}
/// A hole along the axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Drill {
    /// Diameter.
    pub across: f64,
    /// Angle of its point, degrees.
    pub point: f64,
    /// Depths of the tip, dip by dip, and whether the drill comes right out after it.
    pub dips: Vec<(f64, bool)>,
    /// Length of its flutes.
    pub flutes: f64,
    /// Its name.
    pub name: String,
}
/// A drilled hole bored to its size.
#[derive(Clone, Debug, PartialEq)]
pub struct Bore {
    /// Radius that was drilled.
    pub drilled: f64,
    /// Radius that it is bored to.
    pub radius: f64,
    /// How deep, at full width.
    pub depth: f64,
    /// Whether it goes through; else its bottom is faced flat round the drill's cone.
    pub through: bool,
    /// Deepest cut, on the radius.
    pub deepest: f64,
    /// Diameter of the least hole that the tool enters.
    pub enters: f64,
    /// How far it reaches.
    pub reach: f64,
    /// Its name.
    pub name: String,
}
/// A groove in the outside.
#[derive(Clone, Debug, PartialEq)]
pub struct Groove {
    /// Where it begins and ends, from the free end.
    pub span: (f64, f64),
    /// Radius of its floor.
    pub radius: f64,
}
/// A blade for grooves and parting.
#[derive(Clone, Debug, PartialEq)]
pub struct Blade {
    /// Width.
    pub width: f64,
    /// How far it reaches.
    pub reach: f64,
    /// Its name.
    pub name: String,
}
/// Parting off.
#[derive(Clone, Debug, PartialEq)]
pub struct PartOff {
    /// Distance of the part's back from the free end, with what is faced off later.
    pub at: f64,
    /// Radius of the bore, if it is bored through.
    pub bore: Option<f64>,
}
/// Form of a groove in a face.
#[derive(Copy, Clone, Debug, PartialEq)]
pub enum Edge {
    /// Square.
    Square,
    /// Round, with this radius.
    Round(f64),
    /// Vee.
    Vee,
}
/// A groove in the free face, by a tool of its form.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceGroove {
    /// Radius of its middle.
    pub middle: f64,
    /// Width.
    pub width: f64,
    /// Depth.
    pub depth: f64,
    /// Form.
    pub edge: Edge,
    /// Name of the tool.
    pub name: String,
}
/// Tip of a threading tool.
#[derive(Copy, Clone, Debug, PartialEq)]
pub enum Tip {
    /// Flat, so wide.
    Flat(f64),
    /// Round, of this radius.
    Round(f64),
}
impl Tip {
    /// Half the width of the form at a height over its tip, the flanks drawn on.
    fn half(self, height: f64, half_angle: f64) -> f64 {
        let a = half_angle * PI / 180.0;
        match self {
            Tip::Flat(flat) => 0.5 * flat + height * tan(a),
            Tip::Round(r) => r * cos(a) + (height - r * (1.0 - sin(a))) * tan(a),
        }
    }
    /// Its outline up to a height, about its foot.
    fn outline(self, height: f64, half_angle: f64) -> Ring {
        let wide = self.half(height, half_angle);
        let mut ring = match self {
            Tip::Flat(flat) => vec![(-0.5 * flat, 0.0), (0.5 * flat, 0.0)],
            Tip::Round(r) => {
                let open = (90.0 - half_angle) * PI / 180.0;
                (0..=24)
                    .map(|i| open * (f64::from(i) / 12.0 - 1.0))
                    .map(|a| (r * sin(a), r - r * cos(a)))
                    .collect()
            }
        };
        ring.extend([(wide, height), (-wide, height)]);
        ring
    }
}
/// A thread in passes.
#[derive(Clone, Debug, PartialEq)]
pub struct Thread {
    /// Where it ends, from the free end; the tool finds room from there on.
    pub to: f64,
    /// How far the room goes: the face of a shoulder, or nothing where there is none.
    pub shoulder: Option<f64>,
    /// Radius of its blank.
    pub blank: f64,
    /// Advance in one turn.
    pub lead: f64,
    /// Half the angle between its flanks, degrees.
    pub half_angle: f64,
    /// Tip of the tool.
    pub tip: Tip,
    /// Depth of each pass, and how often it is run.
    pub passes: Vec<(f64, u32)>,
    /// Name of the tool.
    pub name: String,
    /// What the thread is called.
    pub called: String,
}

fn rectangle(z0: f64, z1: f64, r0: f64, r1: f64) -> Ring {
    vec![(z0, r0), (z1, r0), (z1, r1), (z0, r1)]
}
fn shape(cutting: Vec<Ring>, holder: Vec<Ring>, way: ToolWay) -> ToolShape {
    ToolShape {
        number: 0,
        cutting,
        holder,
        most_feed: None,
        way,
        most_bite: None,
        near_axis: None,
        most_speed: None,
    }
}
/// Largest radius that stands between two distances from the free end.
fn stands(rungs: &[Rung], from: f64, to: f64, bar: f64) -> f64 {
    let mut at = 0.0;
    let mut most = 0.0_f64;
    for r in rungs {
        if at < to && at + r.length > from {
            most = most.max(r.radius);
        }
        at += r.length;
    }
    if to > at { bar.max(most) } else { most }
}
/// Depths from one to another, each a bite at the most.
fn bites(from: f64, to: f64, most: f64) -> Vec<f64> {
    let n = ((from - to) / most - 1e-9).ceil().max(1.0);
    let mut k = 1.0;
    let mut all = Vec::new();
    while k <= n {
        all.push(from + (to - from) * k / n);
        k += 1.0;
    }
    all
}

/// The outside; nothing where the tool does not come everywhere.
#[must_use]
pub fn outside(rungs: &[Rung], c: &Cutting, tool: &str) -> Option<Stage> {
    Some(Stage {
        word: "outside",
        says: "outside".into(),
        does: Vec::new(),
        tool: tool.to_owned(),
        matters: format!(
            "nose of {} mm radius, front edge 3° clear of square, at centre height; X on a trial cut, Z on the face",
            outside::NOSE
        ),
        shape: outside::tool(),
        rpm: c.rpm,
        acts: outside::turn(rungs, c)?,
        takes: Vec::new(),
        leaves: Vec::new(),
        parts_at: None,
    })
}
/// A spot for a drill, to nine tenths of its width.
#[must_use]
pub fn spot(d: &Drill, rpm: f64) -> Stage {
    let size = (d.across + 1.0).max(3.0);
    let depth = 0.45 * d.across;
    let half = 0.5 * size;
    let flutes = size * 3.0;
    let mut own = shape(
        vec![vec![(0.0, 0.0), (half, -half), (flutes, -half), (flutes, half), (half, half)]],
        vec![rectangle(flutes, flutes + 25.0, -12.0, 12.0)],
        ToolWay::OnAxis,
    );
    own.most_feed = Some(0.06);
    Stage {
        word: "spot",
        says: "spot".into(),
        does: Vec::new(),
        tool: format!("spotting drill 90°, {} mm or more", number(size)),
        matters: "in the axis: X is nothing there; Z on the face".into(),
        shape: own,
        rpm,
        acts: vec![
            Act::Rapid(To::x(0.0)),
            Act::Rapid(To::z(NEAR * 2.0)),
            Act::Line { to: To::z(-depth), feed: 0.03 },
            Act::Rapid(To::z(CHANGE)),
        ],
        takes: vec![vec![(0.0, 0.0), (0.0, depth), (-depth, 0.0)]],
        leaves: Vec::new(),
        parts_at: None,
    }
}
/// A hole drilled dip by dip.
#[must_use]
pub fn drill(d: &Drill, rpm: f64) -> Stage {
    let radius = 0.5 * d.across;
    let tip = radius / tan(0.5 * d.point * PI / 180.0);
    let feed = (d.across / 60.0).clamp(0.015, 0.1);
    let mut acts = vec![Act::Rapid(To::x(0.0)), Act::Rapid(To::z(2.0 * NEAR))];
    let (mut longest, mut before) = (0.0_f64, 0.0);
    for (i, &(to, out)) in d.dips.iter().enumerate() {
        acts.push(Act::Line { to: To::z(-to), feed });
        longest = longest.max(to - before);
        before = to;
        if i + 1 == d.dips.len() {
            break;
        }
        if out {
            acts.push(Act::Rapid(To::z(2.0 * NEAR)));
            acts.push(Act::Rapid(To::z(-to + BACK)));
        } else {
            acts.push(Act::Rapid(To::z(-to + 2.0 * NEAR)));
        }
    }
    acts.push(Act::Rapid(To::z(CHANGE)));
    let mut own = shape(
        vec![vec![(0.0, 0.0), (tip, -radius), (d.flutes, -radius), (d.flutes, radius), (tip, radius)]],
        vec![rectangle(d.flutes + 2.0, d.flutes + 27.0, -12.0, 12.0)],
        ToolWay::OnAxis,
    );
    own.most_feed = Some(feed * 1.5);
    own.most_bite = Some(longest + 0.01);
    Stage {
        word: "drill",
        says: format!("drill {} mm", number(d.across)),
        does: Vec::new(),
        tool: d.name.clone(),
        matters: format!(
            "in the axis: X is nothing there; Z on the face; flutes {} mm long",
            number(d.flutes)
        ),
        shape: own,
        rpm,
        acts,
        takes: vec![vec![(0.0, 0.0), (0.0, radius), (-(before - tip), radius), (-before, 0.0)]],
        leaves: Vec::new(),
        parts_at: None,
    }
}
fn blade_shape(b: &Blade) -> ToolShape {
    let mut own = shape(
        vec![rectangle(0.0, b.width, 0.0, b.reach)],
        vec![rectangle(-1.0, 12.0, b.reach, b.reach + 30.0)],
        ToolWay::Across,
    );
    own.most_feed = Some(0.06);
    own.most_bite = Some(2.0 * b.width + 0.01);
    own
}
fn blade_matters(b: &Blade) -> String {
    format!(
        "{} mm wide, reaches {} mm; square to the axis, at centre height; Z is its corner towards the chuck",
        number(b.width),
        number(b.reach)
    )
}
/// A plunge with a blade at one place; ends clear of the work.
fn plunge(
    acts: &mut Vec<Act>,
    b: &Blade,
    (start, surface, to): (f64, f64, f64),
    feed: f64,
    slow: Option<f64>,
) {
    let mut deep = start;
    let all = bites(surface, to, 2.0 * b.width);
    for (i, &r) in all.iter().enumerate() {
        if i > 0 {
            acts.push(Act::Rapid(To::x(start)));
            acts.push(Act::Rapid(To::x(deep + BACK)));
        }
        match slow {
            Some(near) if r < near && deep > near => {
                acts.push(Act::Line { to: To::x(near), feed });
                acts.push(Act::Line { to: To::x(r), feed: 0.5 * feed });
            }
            Some(near) if r < near => acts.push(Act::Line { to: To::x(r), feed: 0.5 * feed }),
            _ => acts.push(Act::Line { to: To::x(r), feed }),
        }
        deep = r;
    }
}
/// A groove, plunged side by side. Nothing where the blade is wider, or does not reach.
#[must_use]
pub fn groove(g: &Groove, rungs: &[Rung], bar: f64, b: &Blade, rpm: f64) -> Option<Stage> {
    let (from, to) = g.span;
    let width = to - from;
    let surface = stands(rungs, from, to, bar);
    // Beside a shoulder the blade comes in from above it.
    let start = stands(rungs, from - b.width, to + b.width, bar).max(surface) + NEAR;
    if width < b.width - 1e-6 || start - g.radius > b.reach + NEAR || g.radius < 0.2 {
        return None;
    }
    let n = ((width - b.width) / (0.75 * b.width) - 1e-9).ceil().max(0.0);
    let mut acts = vec![Act::Rapid(To::x(bar.max(start) + 1.0))];
    let mut k = 0.0;
    while k <= n {
        let share = if n > 0.0 { k / n } else { 0.0 };
        let z = -from - b.width - (width - b.width) * share;
        acts.push(Act::Rapid(To::z(z)));
        acts.push(Act::Rapid(To::x(start)));
        plunge(&mut acts, b, (start, surface, g.radius), 0.03, Some(near_axis(bar)));
        acts.push(Act::Wait { seconds: (120.0 / rpm).max(0.1) });
        acts.push(Act::Rapid(To::x(start)));
        k += 1.0;
    }
    Some(Stage {
        word: "groove",
        says: format!("groove to {} mm", number(2.0 * g.radius)),
        does: Vec::new(),
        tool: b.name.clone(),
        matters: blade_matters(b),
        shape: blade_shape(b),
        rpm,
        acts,
        takes: vec![rectangle(-to, -from, g.radius, bar + 1.0)],
        leaves: Vec::new(),
        parts_at: None,
    })
}
/// From this radius down a blade is fed slowly: the work has little left to hold it.
fn near_axis(bar: f64) -> f64 {
    (0.3 * bar).min(1.5)
}
/// Parts the work off, slowly near the axis. Nothing where the blade does not reach.
#[must_use]
pub fn part_off(p: &PartOff, bar: f64, b: &Blade, rpm: f64) -> Option<Stage> {
    let start = bar + NEAR;
    let to = p.bore.filter(|r| *r > 0.3).map_or(-0.1, |r| r - BACK);
    if start - to > b.reach + NEAR {
        return None;
    }
    let near = near_axis(bar);
    let feed = 0.03;
    let mut acts = vec![Act::Rapid(To::x(start + 1.0)), Act::Rapid(To::z(-p.at - b.width))];
    acts.push(Act::Rapid(To::x(start)));
    plunge(&mut acts, b, (start, bar, to), feed, Some(near));
    let mut own = blade_shape(b);
    own.near_axis = Some((near, 0.5 * feed));
    Some(Stage {
        word: "part-off",
        says: "part off".into(),
        does: Vec::new(),
        tool: b.name.clone(),
        matters: blade_matters(b),
        shape: own,
        rpm,
        acts,
        takes: vec![rectangle(-p.at - b.width, -p.at, 0.0, bar + 1.0)],
        leaves: Vec::new(),
        parts_at: Some(p.at),
    })
}
/// The edge of a form tool about the middle of its end: z into the face, as deep as it is asked.
fn edge(width: f64, depth: f64, form: Edge) -> Ring {
    let half = 0.5 * width;
    match form {
        Edge::Square => rectangle(0.0, depth, -half, half),
        Edge::Vee => vec![(0.0, 0.0), (depth, -half), (depth, half)],
        Edge::Round(nose) => {
            // From the outer lip round the nose to the inner one.
            let lip = depth.min(nose);
            let opens = reckon::maths::acos(((nose - lip) / nose).clamp(-1.0, 1.0));
            let mut ring: Ring = (0..=64)
                .map(|i| {
                    let a = opens * (f64::from(i) / 32.0 - 1.0);
                    (nose - nose * cos(a), nose * sin(a))
                })
                .collect();
            if depth > nose {
                ring.extend([(depth, nose), (depth, -nose)]);
            }
            ring
        }
    }
}
/// A groove in the free face.
#[must_use]
pub fn face_groove(g: &FaceGroove, rpm: f64) -> Stage {
    let mut acts = vec![Act::Rapid(To::x(g.middle)), Act::Rapid(To::z(NEAR))];
    // Towards the depth from the face: places along −z.
    let all = bites(0.0, -g.depth, 0.1);
    for (i, &z) in all.iter().enumerate() {
        acts.push(Act::Line { to: To::z(z), feed: 0.02 });
        if i + 1 < all.len() {
            acts.push(Act::Rapid(To::z(z + BACK)));
        }
    }
    acts.push(Act::Wait { seconds: (120.0 / rpm).max(0.1) });
    acts.push(Act::Rapid(To::z(CHANGE)));
    let body = g.depth + 0.5;
    let at_depth: Ring =
        edge(g.width, g.depth, g.edge).into_iter().map(|(z, r)| (z - g.depth, r + g.middle)).collect();
    // The flanks go on behind the depth; a vee's would open, so it is taken as deep as it is asked.
    let cutting = match g.edge {
        Edge::Vee => edge(g.width * body / g.depth, body, Edge::Vee),
        form => edge(g.width, body, form),
    };
    let mut own = shape(
        vec![cutting],
        vec![rectangle(body, body + 30.0, -0.5 * g.width, 0.5 * g.width + 8.0)],
        ToolWay::Along,
    );
    own.most_feed = Some(0.03);
    own.most_bite = Some(0.15);
    Stage {
        word: "face-groove",
        says: "groove in the face".into(),
        does: Vec::new(),
        tool: g.name.clone(),
        matters: format!(
            "edge square to the axis; X is its middle: touch its outer side on the turned outside, then half of {} mm; Z on the face",
            number(g.width)
        ),
        shape: own,
        rpm,
        acts,
        takes: vec![at_depth],
        leaves: Vec::new(),
        parts_at: None,
    }
}
/// A thread in passes, all at one speed.
///
/// # Errors
/// What stands in the way: a slide that does not follow the spindle, or not so fast; no room for the tool.
pub fn thread(t: &Thread, habits: &Habits, rpm: f64) -> Result<Stage, Cannot> {
    let refuse = |word: &str, needs: String, would_do: &str| {
        Err(Cannot { word: word.into(), needs, would_do: would_do.into() })
    };
    if !habits.synchronised {
        return refuse(
            "G33",
            "the slide must follow the spindle for a thread".into(),
            "a die, or the change wheels: write synchronised = true in the control where it can",
        );
    }
    let most = habits.fastest_thread / t.lead;
    let rpm = if rpm > most { habits.speed(most) } else { rpm };
    if rpm > most * (1.0 + 1e-9) {
        let needs = format!(
            "at its slowest speed of {} rpm a lead of {} mm asks for {} mm/min of the slide, which follows up to {}",
            number(rpm),
            number(t.lead),
            number(rpm * t.lead),
            number(habits.fastest_thread)
        );
        return refuse("a thread so coarse", needs, "a die, or the spindle turned by hand");
    }
    let depth = t.passes.iter().map(|p| p.0).fold(0.0, f64::max);
    let half = t.tip.half(depth, t.half_angle);
    let run_in = habits.run_in.max(2.0 * t.lead);
    // The last groove: in the room before a shoulder as far as the tool's body lets it, or one beyond the end.
    let form = depth + 0.3;
    let body = t.tip.half(form, t.half_angle);
    let end = match t.shoulder {
        Some(face) => (face - body - 0.1).min(0.5 * (t.to + face)),
        None => t.to + half,
    };
    if end < t.to - 1e-6 && t.shoulder.is_some() {
        return refuse(
            "room for the tool",
            format!("its body needs {} mm between the full thread and the shoulder", number(body + 0.1)),
            "a wider undercut",
        );
    }
    // Whole turns from the start to the end, so that the last groove falls into the thread's own.
    let turns = ((end + run_in + half + 0.2) / t.lead).ceil();
    let start = turns * t.lead - end;
    let clear = t.blank + 1.0;
    let mut acts = vec![Act::Rapid(To::x(clear)), Act::Rapid(To::z(start))];
    let (mut before, mut bite) = (0.0, 0.0_f64);
    for &(depth, times) in &t.passes {
        bite = bite.max(depth - before);
        before = depth;
        for _ in 0..times.max(1) {
            acts.push(Act::Rapid(To::x(t.blank - depth)));
            acts.push(Act::Thread { z: -end, lead: t.lead });
            acts.push(Act::Rapid(To::x(clear)));
            acts.push(Act::Rapid(To::z(start)));
        }
    }
    let mut own = shape(
        vec![t.tip.outline(form, t.half_angle)],
        vec![rectangle(-body, 8.0, form, form + 40.0)],
        ToolWay::Led,
    );
    own.most_bite = Some(bite + 0.01);
    let mut takes = Vec::new();
    let mut z = -end;
    while z - half < 0.0 {
        let ring = t.tip.outline(form, t.half_angle);
        takes.push(ring.into_iter().map(|(along, up)| (z + along, t.blank - depth + up)).collect());
        z += t.lead;
    }
    Ok(Stage {
        word: "thread",
        says: format!("thread {}", t.called),
        does: Vec::new(),
        tool: t.name.clone(),
        matters: format!(
            "{}° point, square to the axis, ground flush so that its body stands no more than {} mm towards the chuck; X touched off on the blank, Z is its tip",
            number(2.0 * t.half_angle),
            number(body)
        ),
        shape: own,
        rpm,
        acts,
        takes,
        leaves: Vec::new(),
        parts_at: None,
    })
}
/// A size as a sheet says it.
pub(super) fn number(mm: f64) -> String {
    reckon::print::significant(mm, 4)
}
