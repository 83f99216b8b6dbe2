//! The drawing of a plate: plan, edge view, holes placed by running sizes from a datum.

use crate::board::{Board, Candidate, Kind};
use crate::compose::{GAP, MARGIN, Row, compose};
use crate::linear::{Leader, Linear, Sign};
use crate::scale;
use crate::size::{Paper, PlateSize, Text, Unplaced};
use crate::sketch::{Pen, Ruler, Sketch};
use crate::text::Block;
use crate::turned::{Job, place_all};
use kurbo::{Point, Rect, Vec2};
use reckon::maths::{PI, cos, hypot, sin};
use shape::flat::Flat;
use shape::profile::SAME;

/// Draws a plate with its sizes; running sizes count from the point `datum` of the part.
///
/// # Errors
/// [`Unplaced::NoRoom`] when at no scale everything fits without overlap; [`Unplaced::NoSuch`] when a size names
/// a hole that is not there.
pub fn draw(
    part: &Flat,
    datum: Point,
    sizes: &[PlateSize],
    paper: &Paper,
    ruler: &dyn Ruler,
) -> Result<Sketch, Unplaced> {
    let b = part.outline.bounds();
    let longest = b.width().max(b.height());
    let least = part.holes.iter().map(|h| h.diameter).fold(longest, f64::min);
    scale::first_that_fits(paper, longest, least, |paper, ratio| {
        let beside = at_scale(part, datum, sizes, paper, ratio, false, ruler);
        if matches!(beside, Err(Unplaced::NoRoom { .. })) {
            return at_scale(part, datum, sizes, paper, ratio, true, ruler);
        }
        beside
    })
}

struct Desk<'a> {
    part: &'a Flat,
    factor: f64,
    figures: f64,
    ruler: &'a dyn Ruler,
}

fn at_scale(
    part: &Flat,
    datum: Point,
    sizes: &[PlateSize],
    paper: &Paper,
    ratio: (u32, u32),
    lying: bool,
    ruler: &dyn Ruler,
) -> Result<Sketch, Unplaced> {
    let factor = f64::from(ratio.0) / f64::from(ratio.1);
    let limit = (paper.width - 2.0 * MARGIN, paper.height - 2.0 * MARGIN);
    let no_room = |text: &str| Unplaced::NoRoom { text: text.to_owned(), scale: ratio };
    let desk = Desk { part, factor, figures: paper.figures, ruler };
    let mut plan = desk.plan(limit);
    if !plan.fits() {
        return Err(no_room(""));
    }
    let mut runs = [Vec::new(), Vec::new()];
    let mut jobs = Vec::new();
    let mut thick = None;
    for s in sizes {
        match s {
            PlateSize::Between { from, to, upright, text } => {
                jobs.push(desk.between(*from, *to, *upright, text));
            }
            PlateSize::Place { hole, x, y } => {
                let Some(h) = part.holes.get(*hole) else {
                    return Err(Unplaced::NoSuch { text: x.nominal.clone() });
                };
                let (p, r) = (desk.p(h.at), h.diameter / 2.0 * factor);
                runs[0].push(Run { at: p.x, low: p.y - r, high: p.y + r, text: x.clone() });
                runs[1].push(Run { at: p.y, low: p.x - r, high: p.x + r, text: y.clone() });
            }
            PlateSize::Hole { hole, text } => {
                let Some(h) = part.holes.get(*hole) else {
                    return Err(Unplaced::NoSuch { text: text.nominal.clone() });
                };
                jobs.push(desk.on_hole(h.at, h.diameter, text));
            }
            PlateSize::Note { at, text } => jobs.push(desk.leader(*at, text, Sign::Plain)),
            PlateSize::Surface { at, text } => jobs.push(desk.leader(*at, text, Sign::Surface)),
            PlateSize::Thickness { text } => thick = Some(text),
        }
    }
    let edge = match thick {
        Some(text) => {
            let board = desk.edge_view(text, lying, limit).ok_or_else(|| no_room(&text.nominal))?;
            if lying {
                plan.limit.1 -= board.bounds.height() + GAP;
            } else {
                plan.limit.0 -= board.bounds.width() + GAP;
            }
            Some(board)
        }
        None => None,
    };
    let origin = desk.p(datum);
    for (k, run) in runs.into_iter().enumerate() {
        let left = k == 1;
        let zero = if left { origin.y } else { origin.x };
        // More than one edge can hold goes on both, each feature on the edge it is nearer to.
        let body = plan.body;
        let (edge, middle) =
            if left { (body.height(), body.center().x) } else { (body.width(), body.center().y) };
        let needed: f64 = desk.shared(run.clone()).iter().map(|r| desk.height(&r.text)).sum();
        let (near, far): (Vec<Run>, Vec<Run>) =
            run.into_iter().partition(|r| needed <= edge + 10.0 || r.low.midpoint(r.high) <= middle);
        // One nought is enough; a second would stand in the way of the overall size.
        let mut nought = Some(zero);
        for (run, far) in [(near, false), (far, true)] {
            if !run.is_empty() {
                desk.running(&mut plan, left, far, nought.take(), run).map_err(|text| no_room(&text))?;
            }
        }
    }
    let pitch = jobs
        .iter()
        .filter_map(|j| j.linear.as_ref())
        .map(|l| l.block.up + l.block.ink_down + 1.8)
        .fold(7.0, f64::max);
    jobs.sort_by(|a, b| {
        let key = |j: &Job| j.linear.as_ref().map_or(f64::INFINITY, Linear::span);
        key(a).total_cmp(&key(b))
    });
    let plan = place_all(&plan, jobs, pitch).map_err(|text| no_room(&text))?;
    let boards = std::iter::once(plan).chain(edge);
    let rows: Vec<Row> = if lying {
        boards.map(|b| Row { boards: vec![b] }).collect()
    } else {
        vec![Row { boards: boards.collect() }]
    };
    compose(&rows, Vec::new(), paper, ratio).ok_or_else(|| no_room(""))
}

/// One running size: a place along the edge, where its line leaves the feature on either side, and its text.
#[derive(Clone)]
struct Run {
    at: f64,
    low: f64,
    high: f64,
    text: Text,
}

impl Desk<'_> {
    fn p(&self, p: Point) -> Point {
        Point::new(p.x * self.factor, p.y * self.factor)
    }
    fn block(&self, text: &Text) -> Block {
        Block::new(text, self.figures, false, self.ruler)
    }

    fn plan(&self, limit: (f64, f64)) -> Board {
        let scaled = |p: Point| self.p(p);
        let outline = self.part.outline.mapped(scaled);
        let body = outline.bounds();
        let mut board = Board::new(body, limit);
        board.within = 0.0;
        board.chain(&outline, Pen::Visible);
        for w in &self.part.windows {
            board.chain(&w.mapped(scaled), Pen::Visible);
        }
        for h in &self.part.holes {
            let (c, r) = (self.p(h.at), h.diameter / 2.0 * self.factor);
            board.circle(c, r, Pen::Visible);
            let arm = r + 1.2;
            board.stroke(c - Vec2::new(arm, 0.0), c + Vec2::new(arm, 0.0), Pen::Centre);
            board.stroke(c - Vec2::new(0.0, arm), c + Vec2::new(0.0, arm), Pen::Centre);
        }
        for s in &self.part.countersinks {
            if let Some(h) = self.part.holes.get(s.hole) {
                let pen = if s.front { Pen::Visible } else { Pen::Hidden };
                board.circle(self.p(h.at), s.diameter / 2.0 * self.factor, pen);
            }
        }
        board
    }

    /// The plate seen on its edge, with its thickness: upright beside the plan, or lying below it.
    fn edge_view(&self, text: &Text, lying: bool, limit: (f64, f64)) -> Option<Board> {
        let b = self.part.outline.bounds();
        let t = self.part.thickness * self.factor;
        let body = if lying {
            Rect::new(b.x0 * self.factor, 0.0, b.x1 * self.factor, t)
        } else {
            Rect::new(0.0, b.y0 * self.factor, t, b.y1 * self.factor)
        };
        let mut board = Board::new(body, limit);
        board.chain(&shape::profile::Profile::rectangle(body.x0, body.y0, body.x1, body.y1), Pen::Visible);
        let corner = |x: f64, y: f64| Point::new(x, y);
        let (high, low) = if lying {
            ((corner(body.x0, 0.0), corner(body.x0, t), 1.0), (corner(body.x1, 0.0), corner(body.x1, t), 0.0))
        } else {
            ((corner(0.0, body.y1), corner(t, body.y1), 0.0), (corner(0.0, body.y0), corner(t, body.y0), 1.0))
        };
        let linear = Linear { upright: lying, high: Some(high), low: Some(low), block: self.block(text) };
        board.place(linear.candidates(&board, 7.0)).then_some(board)
    }

    fn between(&self, from: Point, to: Point, upright: bool, text: &Text) -> Job {
        let a = self.p(from);
        let body = self.part.outline.bounds();
        let middle = if upright { from.x.midpoint(to.x) } else { from.y.midpoint(to.y) };
        let (lo, hi) = if upright { (body.x0, body.x1) } else { (body.y0, body.y1) };
        // From the nearer edge of the plate the extension lines cross least.
        let share = (middle - lo) / (hi - lo).max(SAME) * 4.0;
        let (near_low, near_high) = (share, 4.0 - share);
        let (high, low) = if upright { (near_low, near_high) } else { (near_high, near_low) };
        // Where the outline reaches the same level on the other side, the extension line leaves from there.
        let outline = &self.part.outline;
        let from_side = |p: Point, edge: f64| {
            let q = if upright { Point::new(edge, p.y) } else { Point::new(p.x, edge) };
            if outline.distance_to(p) < 1e-6 && outline.distance_to(q) < 1e-6 { self.p(q) } else { self.p(p) }
        };
        let (first, last) = if upright { (body.x0, body.x1) } else { (body.y1, body.y0) };
        let (ha, hb) = (from_side(from, first), from_side(to, first));
        let (la, lb) = (from_side(from, last), from_side(to, last));
        let free = |moved: Point, own: Point, cost: f64| if moved == own { cost } else { 0.5 };
        let (high, low) = (free(ha, a, high), free(la, a, low));
        Job {
            linear: Some(Linear {
                upright,
                high: Some((ha, hb, high)),
                low: Some((la, lb, low)),
                block: self.block(text),
            }),
            leader: None,
            ring: None,
            text: text.nominal.clone(),
        }
    }

    fn on_hole(&self, at: Point, diameter: f64, text: &Text) -> Job {
        let (c, r) = (self.p(at), diameter / 2.0 * self.factor);
        let tips = (0..8).map(|k| {
            let a = PI / 4.0 * (f64::from(k) + 0.5);
            let out = Vec2::new(cos(a), sin(a));
            (c + out * r, out)
        });
        Job {
            linear: None,
            leader: Some(Leader {
                tips: tips.collect(),
                block: self.block(text),
                sign: Sign::Plain,
                cost: 0.0,
            }),
            ring: None,
            text: text.nominal.clone(),
        }
    }

    fn leader(&self, at: Point, text: &Text, sign: Sign) -> Job {
        let centre = self.part.outline.bounds().center();
        let d = at - centre;
        let out = if hypot(d.x, d.y) < SAME { Vec2::new(1.0, 1.0) } else { d };
        let tips = vec![(self.p(at), out)];
        Job {
            linear: None,
            leader: Some(Leader { tips, block: self.block(text), sign, cost: 0.0 }),
            ring: None,
            text: text.nominal.clone(),
        }
    }

    /// Height a running size takes along its edge.
    fn height(&self, text: &Text) -> f64 {
        let b = self.block(text);
        b.up + b.down + 0.35
    }

    /// Runs in order of place; features in line with each other share one.
    fn shared(&self, mut runs: Vec<Run>) -> Vec<Run> {
        runs.sort_by(|a, b| a.at.total_cmp(&b.at).then(a.text.nominal.cmp(&b.text.nominal)));
        let mut shared: Vec<Run> = Vec::new();
        for r in runs {
            let in_line = |l: &&mut Run| (l.at - r.at).abs() < 1e-6;
            match shared.last_mut().filter(in_line) {
                Some(last) if last.text == r.text || r.text.nominal == "0" => {
                    last.low = last.low.min(r.low);
                    last.high = last.high.max(r.high);
                }
                Some(last) if last.text.nominal == "0" => *last = r,
                _ => shared.push(r),
            }
        }
        shared
    }

    /// Running sizes below the plan or to its left (`far`: above, to its right): one line each from the
    /// feature, spread where they crowd.
    ///
    /// # Errors
    /// The text that found no room.
    fn running(
        &self,
        board: &mut Board,
        left: bool,
        far: bool,
        zero: Option<f64>,
        mut runs: Vec<Run>,
    ) -> Result<(), String> {
        let body = board.body;
        let border = match (left, far) {
            (true, false) => body.x0,
            (true, true) => body.x1,
            (false, false) => body.y0,
            (false, true) => body.y1,
        };
        let out = if far { 1.0 } else { -1.0 };
        runs.extend(zero.map(|at| Run { at, low: border, high: border, text: Text::from("0") }));
        let shared = self.shared(runs);
        let blocks: Vec<Block> = shared.iter().map(|r| self.block(&r.text)).collect();
        let heights: Vec<f64> = shared.iter().map(|r| self.height(&r.text)).collect();
        let spots = spread(&shared.iter().map(|r| r.at).collect::<Vec<_>>(), &heights);
        let bent = spots.iter().zip(&shared).any(|(s, r)| (s - r.at).abs() > 0.05);
        let (straight, jog) = (2.0, if bent { 5.0 } else { 0.0 });
        let paper = |along: f64, beyond: f64| {
            let across = border + out * beyond;
            if left { Point::new(across, along) } else { Point::new(along, across) }
        };
        let mut c = Candidate::default();
        for ((r, block), spot) in shared.iter().zip(&blocks).zip(&spots) {
            let depth = if far { r.high - border } else { border - r.low };
            c.line(paper(r.at, depth.min(0.0) + 0.8), paper(r.at, straight), Kind::Extension);
            if bent {
                c.line(paper(r.at, straight), paper(*spot, straight + jog), Kind::Extension);
            }
            let end = straight + jog + 2.0;
            c.line(paper(*spot, straight + jog), paper(*spot, end), Kind::Extension);
            // The figures sit at the end of the line, their middle on it.
            let middle = (block.up - block.ink_down) / 2.0;
            let start = border + out * (end + 0.8) - if far { 0.0 } else { block.width };
            if left {
                c.text(block, Point::new(start, spot - middle), false);
            } else {
                c.text(block, Point::new(spot + middle, start), true);
            }
        }
        if board.weigh(&c, f64::INFINITY).is_none() {
            return Err(shared.iter().map(|r| r.text.nominal.as_str()).collect::<Vec<_>>().join(" "));
        }
        board.keep(c);
        Ok(())
    }
}

/// Places as near as may be to those wanted (rising), each at least half its own and half its neighbour's height
/// from the next: blocks that crowd are pooled about their common mean.
fn spread(wanted: &[f64], heights: &[f64]) -> Vec<f64> {
    // Taking the heights out turns the distances into a plain order, which pooling restores.
    let mut offsets = vec![0.0; wanted.len()];
    for k in 1..wanted.len() {
        offsets[k] = offsets[k - 1] + heights[k - 1].midpoint(heights[k]);
    }
    let mut pools: Vec<(f64, f64)> = Vec::new();
    for (w, o) in wanted.iter().zip(&offsets) {
        pools.push((w - o, 1.0));
        while pools.len() > 1 && pools[pools.len() - 2].0 > pools[pools.len() - 1].0 {
            let (b, n) = pools.pop().unwrap_or((0.0, 0.0));
            if let Some((a, m)) = pools.last_mut() {
                *a = (*a * *m + b * n) / (*m + n);
                *m += n;
            }
        }
    }
    let mut out = Vec::new();
    for (value, count) in pools {
        let mut k = 0.0;
        while k < count {
            out.push(value + offsets[out.len()]);
            k += 1.0;
        }
    }
    out
}
