//! What a tool stands in metal: the way it is fed, how deep it bites, how fast its edge runs, and what has come off.

use kurbo::Point;
use reckon::maths::PI;
use shape::region::Region;

use super::{Run, Tool, Way, both_sides, touched};
use crate::fault::{Fault, Spot, Wrong, figure, mm};
use crate::moves::{Feed, Step};
use crate::sweep::Convex;

/// Metal of less than this, in square millimetres, does not strain a tool: rounding leaves as much.
const FELT: f64 = 1.0e-4;
/// A piece of less than this, in square millimetres, is no piece but a burr.
const BURR: f64 = 0.01;
/// How much more than it stands is a fault, in millimetres.
const MORE: f64 = 1.0e-4;

/// How deep a tool has gone since it last came back.
#[derive(Default)]
pub(super) struct Dip {
    /// Where the metal began for it.
    from: Option<f64>,
    /// Whether this dip was told.
    told: bool,
}

impl Run<'_> {
    /// What of the metal a stretch of one tool's way meets, in square millimetres.
    fn meets(&self, tool: &Tool, pair: &[Point]) -> f64 {
        tool.cutting
            .iter()
            .flat_map(|piece| both_sides(piece.along(pair)))
            .map(|ring| touched(&ring, &self.metal, &self.edges))
            .fold(0.0, f64::max)
    }

    /// Judges one straight feed against what its tool stands. The metal is as before it.
    pub(super) fn stands(&mut self, step: &Step, tool: &Tool, pair: [Point; 2], feed: Feed) {
        let [from, to] = pair;
        let met = self.meets(tool, &pair);
        if met <= FELT {
            self.dip(step.spot, tool, pair, false);
            return;
        }
        let (out, along) = ((to.y - from.y).abs() > MORE, (to.x - from.x).abs() > MORE);
        let wrong = match tool.way {
            Way::Any => None,
            Way::Across => along.then_some("a blade is fed sideways through metal"),
            Way::Along => out.then_some("a tool for grooves in a face is fed across through metal"),
            Way::OnAxis if from.y.abs().max(to.y.abs()) > MORE => Some("a drill cuts off the axis"),
            Way::OnAxis => None,
            Way::Led => Some("a point for threads cuts without being led by the spindle"),
        };
        if let Some(says) = wrong {
            self.faults.push(
                Fault::new(Wrong::ToolWay, step.spot, format!("{says}: it meets {} mm²", figure(met, 3)))
                    .why("it has no edge on that side, and breaks")
                    .by(met)
                    .cure("withdraw it before it goes there"),
            );
        }
        self.dip(step.spot, tool, pair, true);
        self.edge_speed(step, tool, from.y.abs().max(to.y.abs()));
        if let (Some((radius, most)), Feed::PerTurn(turn)) = (tool.near_axis, feed)
            && from.y.min(to.y) < radius - MORE
            && turn > most * (1.0 + 1.0e-9)
            && tool.most_feed.is_none_or(|all| turn <= all)
        {
            self.faults.push(
                Fault::new(
                    Wrong::ToolFeed,
                    step.spot,
                    format!(
                        "{} mm a turn within {} mm of the axis; the tool stands {} there",
                        mm(turn),
                        mm(radius),
                        mm(most)
                    ),
                )
                .by(turn - most)
                .cure("write a lower F for the last of the cut"),
            );
        }
    }

    /// How fast the edge runs at a radius, or at the work's largest.
    fn edge_speed(&mut self, step: &Step, tool: &Tool, radius: f64) {
        let Some(most) = tool.most_speed else { return };
        let largest = self.set_up.stock.bounds().map_or(radius, |b| b.y1);
        let radius = if tool.way == Way::OnAxis { Self::across(tool) } else { radius.min(largest) };
        let speed = 2.0 * PI * radius * step.turning.rpm(radius) / 1000.0;
        if speed > most * (1.0 + 1.0e-6) && !self.fed.contains(&speed.to_bits()) {
            self.fed.push(speed.to_bits());
            self.faults.push(
                Fault::new(
                    Wrong::EdgeSpeed,
                    step.spot,
                    format!("the edge runs at {} m/min; it stands {}", figure(speed, 1), figure(most, 1)),
                )
                .by(speed - most)
                .cure("write a lower S"),
            );
        }
    }

    /// Half of what a drill is across.
    fn across(tool: &Tool) -> f64 {
        tool.cutting.iter().flat_map(Convex::corners).map(|p| p.y.abs()).fold(0.0, f64::max)
    }

    /// Follows how deep a drill or a plunging tool has gone since it was last drawn back.
    fn dip(&mut self, spot: Spot, tool: &Tool, [from, to]: [Point; 2], cuts: bool) {
        let Some(most) = tool.most_bite else { return };
        let (axis, a, b) = match tool.way {
            Way::Across => (0, from.y, to.y),
            Way::Along | Way::OnAxis => (1, from.x, to.x),
            Way::Any | Way::Led => return,
        };
        if b > a + MORE {
            self.dip = Dip::default();
            return;
        }
        if !cuts {
            return;
        }
        let from = match self.dip.from {
            Some(from) => from,
            None => self.metal_begins(tool, from, axis),
        };
        self.dip.from = Some(from);
        let bite = from - b;
        if bite > most + MORE && !self.dip.told {
            self.dip.told = true;
            self.faults.push(
                Fault::new(
                    Wrong::Bite,
                    spot,
                    format!("the tool goes {} mm deep at one dip; it stands {}", mm(bite), mm(most)),
                )
                .why("chips that do not come out jam it")
                .by(bite)
                .cure("draw it back in between"),
            );
        }
    }

    /// A rapid out of the metal ends a dip.
    pub(super) fn drawn_back(&mut self, tool: &Tool, from: Point, to: Point) {
        let back = match tool.way {
            Way::Across => to.y > from.y + MORE,
            Way::Along | Way::OnAxis => to.x > from.x + MORE,
            Way::Any | Way::Led => false,
        };
        if back {
            self.dip = Dip::default();
        }
    }

    /// Where along an axis the metal begins in front of a tool.
    fn metal_begins(&self, tool: &Tool, from: Point, axis: usize) -> f64 {
        let corners: Vec<Point> =
            tool.cutting.iter().flat_map(Convex::corners).map(|c| from + c.to_vec2()).collect();
        let low = |of: fn(&Point) -> f64| corners.iter().map(of).fold(f64::INFINITY, f64::min);
        let high = |of: fn(&Point) -> f64| corners.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
        let far = 1.0e4;
        // All that lies in front of the tool, as wide as it is; of a drill's point, its very tip.
        let (a, b) = if axis == 0 {
            (Point::new(low(|p| p.x), 0.0), Point::new(high(|p| p.x), far))
        } else if tool.way == Way::OnAxis {
            (Point::new(-far, 0.0), Point::new(far, 1.0e-4))
        } else {
            // The middle of its end.
            let foot = low(|p| p.x);
            let end: Vec<f64> = corners.iter().filter(|p| p.x < foot + MORE).map(|p| p.y).collect();
            let (least, most) =
                (end.iter().copied().fold(f64::INFINITY, f64::min), end.iter().copied().fold(0.0, f64::max));
            let middle = 0.5 * (least + most);
            (Point::new(-far, (middle - MORE).max(0.0)), Point::new(far, middle + MORE))
        };
        let tip = if axis == 0 { from.y } else { from.x };
        let Ok(strip) = Region::rectangle(a, b) else { return tip };
        let ahead = self.metal.intersection(&strip).bounds();
        ahead.map_or(tip, |b| if axis == 0 { b.y1 } else { b.x1 }).min(tip)
    }

    /// Passes over one stretch follow one lead: a groove of another crosses the thread, even where the half-plane
    /// shows both in one place.
    pub(super) fn same_lead(&mut self, step: &Step, lead: f64, stretch: (f64, f64)) {
        if let Some(((low, high), before)) = self.last_lead
            && low < stretch.1
            && high > stretch.0
            && (before - lead).abs() > 1.0e-9
        {
            self.faults.push(
                Fault::new(
                    Wrong::ThreadLead,
                    step.spot,
                    format!("this pass has a lead of {} mm, the one before it {}", mm(lead), mm(before)),
                )
                .why("its groove crosses the thread that is there")
                .cure("cut all passes of a thread with one lead"),
            );
        }
        self.last_lead = Some((stretch, lead));
    }

    /// One pass of a thread: how deep it bites, and how fast the edge runs.
    pub(super) fn thread_bite(&mut self, step: &Step, tool: &Tool, from: Point, to: Point) {
        self.edge_speed(step, tool, from.y.abs().max(to.y.abs()));
        let Some(most) = tool.most_bite else { return };
        let stretch = (from.x.min(to.x), from.x.max(to.x));
        let strip = Region::rectangle(Point::new(stretch.0, 0.0), Point::new(stretch.1, 1.0e4));
        let surface = || {
            let here = self.metal_within(&strip.ok()?)?;
            Some(here.y1)
        };
        let before = match self.passes {
            Some(x) => x,
            None => surface().unwrap_or(from.y),
        };
        let bite = before - from.y;
        self.passes = Some(from.y.min(before));
        if bite > most + MORE {
            self.faults.push(
                Fault::new(
                    Wrong::Bite,
                    step.spot,
                    format!(
                        "this pass goes {} mm deeper than the one before; the tool stands {}",
                        mm(bite),
                        mm(most)
                    ),
                )
                .why("the last passes of a thread cut along both flanks at once")
                .by(bite)
                .cure("write the passes between"),
            );
        }
    }

    fn metal_within(&self, strip: &Region) -> Option<kurbo::Rect> {
        self.metal.intersection(strip).bounds()
    }

    /// Takes the metal as it now is; what hangs on nothing has come off.
    pub(super) fn set_metal_held(&mut self, metal: Region) {
        let polygons =
            if metal.pieces() > 1 && self.set_up.stock.pieces() == 1 { metal.polygons() } else { Vec::new() };
        if polygons.is_empty() {
            self.set_metal(metal);
            return;
        }
        let held = |rings: &[Vec<Point>]| {
            let end = |p: &Point| if self.held_right { -p.x } else { p.x };
            rings[0].iter().map(end).fold(f64::INFINITY, f64::min)
        };
        let least = polygons.iter().map(|p| held(p)).fold(f64::INFINITY, f64::min);
        let (mut stays, mut off) = (Vec::new(), Vec::new());
        for rings in &polygons {
            let Ok(piece) = Region::with_holes(&rings[0], &rings[1..]) else { continue };
            let fast = held(rings) <= least + MORE || piece.area() < BURR;
            if fast { stays.push(piece) } else { off.push(piece) }
        }
        if off.is_empty() {
            self.set_metal(metal);
            return;
        }
        self.loose = Region::union_of(&[vec![std::mem::take(&mut self.loose)], off].concat());
        self.set_metal(Region::union_of(&stays));
    }

    /// Tells of a feed through what has come off.
    pub(super) fn cuts_loose(&mut self, spot: Spot, tool: &Tool, pair: &[Point]) {
        if self.loose.is_empty() {
            return;
        }
        let met = tool
            .cutting
            .iter()
            .flat_map(|piece| both_sides(piece.along(pair)))
            .filter_map(|ring| Region::polygon(&ring).ok())
            .map(|ring| self.loose.intersection(&ring).area())
            .fold(0.0, f64::max);
        if met > BURR {
            self.faults.push(
                Fault::new(
                    Wrong::Loose,
                    spot,
                    format!("{} mm² are cut of a piece that has come off", figure(met, 3)),
                )
                .why("an earlier line cut it from what is held")
                .by(met)
                .cure("part off last"),
            );
        }
    }
}
