//! The parts as outlines: arms with nib, boss and tail, composers, pallet frame, escape wheel.

use kurbo::{Point, Vec2};
use reckon::maths::{PI, acos, asin, atan2, cos, sin, sqrt};
use shape::profile::{Profile, Sense};

use super::cycle::Cycle;
use super::linkage::{Action, Linkage, Side};
use crate::frame::on_wheel;

/// Proportions of an arm; all along or square to the line from nib to joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ArmShape {
    /// Width of the bar.
    pub width: f64,
    /// Radius of the boss round the joint.
    pub boss: f64,
    /// Diameter of the hole for the joint's pivot.
    pub hole: f64,
    /// Height of the bar's underside over the tooth tip at the nib.
    pub rise: f64,
    /// Depth of the nib's face below the tooth tip.
    pub depth: f64,
    /// Thickness of the nib along the line.
    pub nib: f64,
    /// Length of the roof over the tooth tip.
    pub roof: f64,
    /// Length of the tail beyond the boss; 0 for none.
    pub tail: f64,
}

/// Proportions of the escape wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WheelShape {
    /// Depth of the teeth.
    pub depth: f64,
    /// Lean of the acting flank back from the radius, radians.
    pub undercut: f64,
    /// Width of the tip.
    pub land: f64,
    /// Width of the tooth at its root.
    pub root: f64,
    /// Diameter of the bore.
    pub bore: f64,
}

/// An outline with what is cut out of it, in the frame's middle position unless it says otherwise.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What it is.
    pub name: &'static str,
    /// Closed outline, counter-clockwise.
    pub outline: Profile,
    /// Closed outlines of the holes.
    pub holes: Vec<Profile>,
}

/// All parts in the plane of the wheel, the frame in its middle position, each arm standing at its composer.
#[derive(Clone, Debug, PartialEq)]
pub struct Parts {
    /// Entry arm.
    pub entry_arm: Part,
    /// Exit arm.
    pub exit_arm: Part,
    /// Entry composer.
    pub entry_composer: Part,
    /// Exit composer.
    pub exit_composer: Part,
    /// Pallet frame.
    pub frame: Part,
    /// Escape wheel, tooth 0 at the line of centres.
    pub wheel: Part,
}

impl ArmShape {
    /// Usual proportions for a wheel of this tip radius and pitch: the nib takes a fifth of the pitch.
    #[must_use]
    pub fn usual(linkage: &Linkage) -> ArmShape {
        let r = linkage.tip_radius;
        let pitch = r * linkage.pitch();
        let width = (r * 0.04).max(1.2);
        ArmShape {
            width,
            boss: width,
            hole: width * 0.6,
            rise: r * 0.05,
            depth: pitch * 0.2,
            nib: pitch * 0.2,
            roof: pitch * 0.3,
            tail: r * 0.25,
        }
    }
}

impl WheelShape {
    /// Usual proportions: slender teeth as deep as six tenths of the pitch, undercut by 10°.
    #[must_use]
    pub fn usual(linkage: &Linkage) -> WheelShape {
        let pitch = linkage.tip_radius * linkage.pitch();
        WheelShape {
            depth: pitch * 0.6,
            undercut: 10.0 / 180.0 * PI,
            land: pitch * 0.08,
            root: pitch * 0.3,
            bore: linkage.tip_radius * 0.1,
        }
    }
}

/// An arm in its own frame: nib at the origin, joint along +x at its length, +y away from the wheel. `pressed` has
/// the nib's face ahead of the tooth on the joint's side.
///
/// None when the sizes leave no bar between nib and boss.
fn arm(length: f64, pressed: bool, s: &ArmShape) -> Option<(Profile, Profile)> {
    let joint = Point::new(length, 0.0);
    let head = Point::new(0.0, s.rise + s.width / 2.0);
    let reach = (joint - head).hypot();
    let along = (joint - head) / reach;
    let left = Vec2::new(-along.y, along.x);
    let half = s.width / 2.0;
    let tail = half * 0.8;
    if half >= s.boss || s.hole / 2.0 >= s.boss || s.boss + s.nib + s.roof >= length || s.tail < 0.0 {
        return None;
    }
    // Where the edges of bar and tail meet the boss.
    let (bar, back) = (sqrt(s.boss * s.boss - half * half), sqrt(s.boss * s.boss - tail * tail));
    let low = joint - along * bar - left * half;
    let high = joint - along * bar + left * half;
    // The underside and the top of the bar at a given x.
    let under = |x: f64| low.y + (x - low.x) * along.y / along.x;
    let over = |x: f64| high.y + (x - high.x) * along.y / along.x;
    let (first, last) = if pressed { (-s.roof, s.nib) } else { (-s.nib, s.roof) };
    let mut p = if pressed {
        Profile::start(0.0, -s.depth).line(s.nib, -s.depth).line(last, under(last))
    } else {
        Profile::start(-s.nib, -s.depth)
            .line(0.0, -s.depth)
            .line(0.0, 0.0)
            .line(s.roof, 0.0)
            .line(last, under(last))
    };
    p = p.line(low.x, low.y);
    if s.tail > 0.0 {
        let (a, b) = (joint + along * back - left * tail, joint + along * back + left * tail);
        let (c, d) = (a + along * s.tail, b + along * s.tail);
        p = p
            .arc_to(a, joint, Sense::Left)
            .line(c.x, c.y)
            .arc_to(d, c.midpoint(d), Sense::Left)
            .line(b.x, b.y);
    }
    p = p.arc_to(high, joint, Sense::Left).line(first, over(first));
    p = if pressed { p.line(first, 0.0).line(0.0, 0.0) } else { p };
    Some((p.close(), Profile::circle(joint, s.hole / 2.0)))
}

/// A composer in the frame of its arm: a boss on the same joint and a bar lying over the arm's bar.
fn composer(length: f64, s: &ArmShape) -> (Profile, Profile) {
    let joint = Point::new(length, 0.0);
    let head = Point::new(0.0, s.rise + s.width / 2.0);
    let back = (head - joint) / (head - joint).hypot();
    let half = s.width * 0.35;
    let out = Vec2::new(-back.y, back.x);
    let root = sqrt(s.boss * s.boss - half * half);
    let (a, b) = (joint + back * root + out * half, joint + back * root - out * half);
    let far = back * (length * 0.55);
    let (c, d) = (b + far, a + far);
    let p = Profile::start(a.x, a.y).arc_to(b, joint, Sense::Left).line(c.x, c.y).arc_to(
        d,
        c.midpoint(d),
        Sense::Left,
    );
    let p = p.close();
    (if p.area() < 0.0 { p.reversed() } else { p }, Profile::circle(joint, s.hole / 2.0))
}

/// Lays a shape from the arm's own frame onto the escapement: nib at `tip`, joint at `joint`, +y away from the wheel.
fn laid(p: &Profile, tip: Point, joint: Point) -> Profile {
    let x = (joint - tip) / (joint - tip).hypot();
    let y = Vec2::new(-x.y, x.x);
    let y = if y.dot(tip.to_vec2()) < 0.0 { -y } else { y };
    let out = p.mapped(|q| tip + x * q.x + y * q.y);
    if out.area() < 0.0 { out.reversed() } else { out }
}

/// The outline that a belt takes round discs: straight lines touching them and arcs along them.
#[must_use]
pub(super) fn belt(discs: &[(Point, f64)]) -> Option<Profile> {
    let mut at = (0..discs.len()).min_by(|&a, &b| {
        let low = |k: usize| discs[k].0.y - discs[k].1;
        low(a).total_cmp(&low(b))
    })?;
    let (begin, mut normal) = (at, -PI / 2.0);
    let mut p: Option<Profile> = None;
    let on = |k: usize, a: f64| discs[k].0 + Vec2::new(cos(a), sin(a)) * discs[k].1;
    let first = on(begin, normal);
    let mut total = 0.0;
    for _ in 0..=discs.len() * 2 {
        let mut best: Option<(f64, usize)> = None;
        for (k, &(centre, radius)) in discs.iter().enumerate() {
            let d = centre - discs[at].0;
            let far = d.hypot();
            if k == at || far <= (discs[at].1 - radius).abs() {
                continue;
            }
            let towards = atan2(d.y, d.x) - acos((discs[at].1 - radius) / far);
            let turn = towards - normal;
            let turn = turn - ((turn + 1e-12) / (2.0 * PI)).floor() * 2.0 * PI;
            if best.is_none_or(|(b, _)| turn < b) {
                best = Some((turn, k));
            }
        }
        let here = p.take().unwrap_or_else(|| Profile::start(first.x, first.y));
        let Some((turn, next)) = best.filter(|(t, _)| total + t < 2.0 * PI - 1e-9) else {
            return Some(here.arc_to(first, discs[at].0, Sense::Left));
        };
        total += turn;
        normal += turn;
        let here = if turn > 1e-9 { here.arc_about(discs[at].0, turn) } else { here };
        let q = on(next, normal);
        p = Some(here.line(q.x, q.y));
        at = next;
    }
    None
}

/// An escape wheel: acting flanks ahead (the wheel turns clockwise), tips on the tip circle, roots on an arc.
fn wheel(linkage: &Linkage, s: &WheelShape) -> Option<Part> {
    let r = linkage.tip_radius;
    let low = r - s.depth;
    // Where the acting flank, leaning back from the radius, meets the root circle: law of sines at the tip.
    let lean = asin(r * sin(s.undercut) / low) - s.undercut;
    let (land, root) = (s.land / r, s.root / low);
    if low <= s.bore / 2.0 || !lean.is_finite() || lean + root >= linkage.pitch() || land >= root + lean {
        return None;
    }
    let at = on_wheel;
    let start = at(low, -lean - root);
    let mut p = Profile::start(start.x, start.y);
    for k in 0..linkage.teeth {
        let a = linkage.pitch() * f64::from(k);
        let (back, tip, foot) = (at(r, a - land), at(r, a), at(low, a - lean));
        let next = if k + 1 == linkage.teeth { start } else { at(low, a + linkage.pitch() - lean - root) };
        p = p.line(back.x, back.y).arc_to(tip, Point::ORIGIN, Sense::Right).line(foot.x, foot.y);
        p = p.arc_to(next, Point::ORIGIN, Sense::Right);
    }
    let bore = Profile::circle(Point::ORIGIN, s.bore / 2.0);
    Some(Part { name: "escape wheel", outline: p.reversed(), holes: vec![bore] })
}

/// All outlines; none when the proportions leave no room for one of them.
#[must_use]
pub fn parts(linkage: &Linkage, cycle: &Cycle, arms: &ArmShape, teeth: &WheelShape) -> Option<Parts> {
    let z = linkage.arbor();
    let mut made = Vec::new();
    for side in Side::BOTH {
        let strut = linkage.strut(side);
        let pressed = strut.action == Action::Push;
        let joint = linkage.joint(side, 0.0);
        let stop = cycle.beat(side).stop;
        let tip = joint + Vec2::new(cos(stop), sin(stop)) * strut.length;
        let (outline, hole) = arm(strut.length, pressed, arms)?;
        let (lever, pin) = composer(strut.length, arms);
        let (arm_name, lever_name) = match side {
            Side::Entry => ("entry arm", "entry composer"),
            Side::Exit => ("exit arm", "exit composer"),
        };
        let lay = |name, p: &Profile, h: &Profile| Part {
            name,
            outline: laid(p, tip, joint),
            holes: vec![laid(h, tip, joint)],
        };
        made.push((lay(arm_name, &outline, &hole), lay(lever_name, &lever, &pin)));
    }
    let (exit_arm, exit_composer) = made.pop()?;
    let (entry_arm, entry_composer) = made.pop()?;
    let hub = arms.boss * 2.0;
    let (jn, jx) = (linkage.joint(Side::Entry, 0.0), linkage.joint(Side::Exit, 0.0));
    let single = (jn - jx).hypot() < 1e-6;
    let mut discs = vec![(z, hub), (jn, arms.boss)];
    let mut holes = vec![Profile::circle(z, arms.hole), Profile::circle(jn, arms.hole / 2.0)];
    if !single {
        discs.push((jx, arms.boss));
        holes.push(Profile::circle(jx, arms.hole / 2.0));
    }
    let frame = Part { name: "pallet frame", outline: belt(&discs)?, holes };
    let wheel = wheel(linkage, teeth)?;
    Some(Parts { entry_arm, exit_arm, entry_composer, exit_composer, frame, wheel })
}

/// Least distance between an arm's bar, boss and tail and the tip circle, the nib left out of account, over a whole
/// swing on the tooth and free; below nothing when the arm would run into the teeth. None when the proportions leave
/// no room for the arm.
#[must_use]
pub fn least_gap(linkage: &Linkage, cycle: &Cycle, side: Side, swing: f64, s: &ArmShape) -> Option<f64> {
    let strut = linkage.strut(side);
    let (outline, _) = arm(strut.length, strut.action == Action::Push, s)?;
    // Bar, boss and tail: all that does not end on the nib's face or roof.
    let near = |p: Point| p.y <= 1e-9 && p.x.abs() <= s.nib.max(s.roof) + 1e-9;
    let body: Vec<_> = outline.segments().iter().filter(|g| !near(g.from()) && !near(g.to())).collect();
    let beat = cycle.beat(side);
    let far = -side.turn() * swing;
    let least = |tip: Point, joint: Point| {
        let place = |p: &Profile| laid(p, tip, joint);
        body.iter()
            .map(|g| {
                let (a, b) = (g.from(), g.to());
                let one = match **g {
                    shape::profile::Segment::Line { .. } => Profile::start(a.x, a.y).line(b.x, b.y),
                    shape::profile::Segment::Arc { centre, sense, .. } => {
                        Profile::start(a.x, a.y).arc_to(b, centre, sense)
                    }
                };
                place(&one).distance_to(Point::ORIGIN) - linkage.tip_radius
            })
            .fold(f64::INFINITY, f64::min)
    };
    let mut gap = f64::INFINITY;
    for k in 0..=96 {
        let t = f64::from(k) / 96.0;
        let held = linkage.pose(side, far + (beat.lets_go - far) * t)?;
        gap = gap.min(least(held.tip, held.joint));
        // Free: from where it lets go, over the other end of the swing, back to its catch.
        let frame = -far + (beat.catches + far) * t;
        let joint = linkage.joint(side, frame);
        let way = beat.stop + frame;
        let tip = joint + Vec2::new(cos(way), sin(way)) * strut.length;
        gap = gap.min(least(tip, joint));
    }
    Some(gap)
}
