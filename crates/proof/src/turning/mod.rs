//! Turning proved by removal: outlines of insert and holder swept through the half-plane of the work.
//!
//! The half-plane has z to the right and the radius upwards, in millimetres: [`Point`] (z, r). What a
//! chain of feeds sweeps is taken off in one piece (see [`crate::sweep`]); each rapid is tried
//! against the metal that stands at that moment, by the straight edges near it first and by area
//! only where it reaches some. An arc is followed by chords; with an arc of length L followed to
//! `within`, areas are right to ⅔ L × `within`. A thread takes off its section: the insert at every
//! lead from its start, as the half-plane meets it once a turn, and a groove where it ends.

mod judge;
mod stands;
mod tool;

use std::collections::BTreeMap;

use kurbo::{Point, Vec2};
use shape::region::Region;

use crate::control::{Control, RapidPath};
use crate::fault::{Fault, Spot, Wrong, figure, mm};
use crate::limits;
use crate::measure::Amount;
use crate::moves::{Does, Feed, Place, Program, Step, Turning as Spindle};
use crate::near::Edges;
use crate::sweep::Convex;

pub use judge::Wanted;
pub use tool::{Insert, Tool, Way};

/// A lathe set up.
#[derive(Debug, Clone, PartialEq)]
pub struct SetUp {
    /// The metal before the first line.
    pub stock: Region,
    /// Jaws, tailstock, stops: what nothing may touch.
    pub jaws: Region,
    /// What is wanted, if it is to be judged.
    pub wanted: Option<Wanted>,
    /// Tools by their number; number 0 is what a program that chooses none has in its post.
    pub tools: BTreeMap<u32, Tool>,
    /// How closely chords follow arcs, in millimetres.
    pub within: f64,
    /// Overlap of less than this is no touch, in square millimetres.
    pub touch: f64,
}

impl SetUp {
    /// A piece of stock and one tool.
    #[must_use]
    pub fn new(stock: Region, tool: Tool) -> Self {
        Self {
            stock,
            jaws: Region::empty(),
            wanted: None,
            tools: BTreeMap::from([(0, tool)]),
            within: 1.0e-4,
            touch: 1.0e-6,
        }
    }
}

/// What a program leaves.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Turned {
    /// The stock.
    pub before: Region,
    /// What is left of it.
    pub after: Region,
    /// What is left and not wanted.
    pub remainder: Region,
    /// What is wanted and gone.
    pub gouge: Region,
    /// How much of it, and how far it stands off.
    pub left_over: Amount,
    /// How much of it, and how deep.
    pub gouged: Amount,
    /// Largest area of stock that a rapid went through, in square millimetres.
    pub worst_rapid: f64,
    /// Every fault, in the order of the program.
    pub faults: Vec<Fault>,
}

/// Runs a program on a set-up.
#[must_use]
pub fn prove(program: &Program, control: &Control, set_up: &SetUp) -> Turned {
    let mut run = Run {
        set_up,
        control,
        metal: set_up.stock.clone(),
        edges: Edges::of(&set_up.stock),
        jaws: Edges::of(&set_up.jaws),
        tool: set_up.tools.get(&0),
        chain: Chain::default(),
        at: None,
        faults: Vec::new(),
        worst_rapid: 0.0,
        fed: Vec::new(),
        dip: stands::Dip::default(),
        passes: None,
        last_lead: None,
        loose: Region::empty(),
        held_right: held_right(set_up),
    };
    for step in &program.steps {
        run.step(step);
    }
    run.flush();
    let Run { metal, loose, mut faults, worst_rapid, .. } = run;
    let metal = if loose.is_empty() { metal } else { metal.union(&loose) };
    let mut turned = Turned { before: set_up.stock.clone(), after: metal, worst_rapid, ..Turned::default() };
    if let Some(wanted) = &set_up.wanted {
        judge::judge(program, set_up, wanted, &mut turned, &mut faults);
    }
    faults.sort_by_key(|fault| fault.spot.start);
    turned.faults = faults;
    turned
}

/// A holder that drags through the work is told for so many lines of one chain of feeds.
const MOST_TOLD: u32 = 5;
/// A cut of more corners than this is long.
const LONG: usize = 500;

/// What all feeds of a program leave of the stock, rapids and holders untried.
#[must_use]
pub fn removed(program: &Program, set_up: &SetUp) -> Region {
    let mut tool = set_up.tools.get(&0);
    let mut cuts = Vec::new();
    let mut chain: Vec<Point> = Vec::new();
    let mut take = |tool: Option<&Tool>, chain: &mut Vec<Point>| {
        if let Some(tool) = tool.filter(|_| chain.len() > 1) {
            cuts.extend(swept(tool, chain));
        }
        chain.clear();
    };
    for step in &program.steps {
        match step.does {
            Does::Tool { number } => {
                take(tool, &mut chain);
                tool = set_up.tools.get(&number);
            }
            Does::Line { .. } | Does::Arc { .. } => {
                let path = path(step, set_up.within);
                if chain.last() != path.first() {
                    take(tool, &mut chain);
                }
                let skip = usize::from(!chain.is_empty());
                chain.extend(path.into_iter().skip(skip));
            }
            Does::Rapid { .. } => take(tool, &mut chain),
            _ => {}
        }
    }
    take(tool, &mut chain);
    // Small cuts are joined first; a long one costs less taken off by itself than joined and taken off.
    let (long, short): (Vec<Region>, Vec<Region>) = cuts.into_iter().partition(|cut| cut.corners() > LONG);
    let rest = set_up.stock.difference(&Region::union_of(&short));
    long.iter().fold(rest, |rest, cut| rest.difference(cut))
}

/// Feeds that follow each other, not yet taken off.
#[derive(Default)]
struct Chain {
    path: Vec<Point>,
    /// Place in the path where each of its steps ends, and where it stands in the text.
    ends: Vec<(usize, Spot)>,
}

struct Run<'a> {
    set_up: &'a SetUp,
    control: &'a Control,
    metal: Region,
    edges: Edges,
    jaws: Edges,
    tool: Option<&'a Tool>,
    chain: Chain,
    /// Where the tool stands, once that is known.
    at: Option<Point>,
    faults: Vec<Fault>,
    worst_rapid: f64,
    /// Feeds a turn and speeds of an edge already told.
    fed: Vec<u64>,
    /// How deep the tool has gone since it was drawn back.
    dip: stands::Dip,
    /// Radius of the deepest pass of a thread with this tool.
    passes: Option<f64>,
    /// Stretch and lead of the last pass of a thread with this tool.
    last_lead: Option<((f64, f64), f64)>,
    /// What has come off.
    loose: Region,
    /// Whether the work is held at its right end.
    held_right: bool,
}

/// Whether the jaws lie to the right of the work's middle.
fn held_right(set_up: &SetUp) -> bool {
    let middle = |region: &Region| region.bounds().map(|b| 0.5 * (b.x0 + b.x1));
    middle(&set_up.jaws).zip(middle(&set_up.stock)).is_some_and(|(jaws, stock)| jaws > stock)
}

/// What a convex ring touches of a region, in square millimetres.
fn touched(ring: &[Point], region: &Region, edges: &Edges) -> f64 {
    if !edges.reached(ring, region) {
        return 0.0;
    }
    Region::polygon(ring).map_or(0.0, |swept| region.intersection(&swept).area())
}

/// A ring and, where it reaches over the axis, what it meets on the other side of the work.
fn both_sides(ring: Vec<Point>) -> Vec<Vec<Point>> {
    if ring.iter().all(|p| p.y >= 0.0) {
        return vec![ring];
    }
    let mirrored = ring.iter().rev().map(|p| Point::new(p.x, -p.y)).collect();
    vec![ring, mirrored]
}

fn flat(at: Place) -> Point {
    Point::new(at[2], at[0])
}

/// The chords of a step in the half-plane, its start first.
fn path(step: &Step, within: f64) -> Vec<Point> {
    let Some((from, to)) = step.ends() else { return Vec::new() };
    let mut path = vec![flat(from)];
    match &step.does {
        Does::Arc { arc, .. } => path.extend(arc.chords(from, to, within).into_iter().map(flat)),
        _ => path.push(flat(to)),
    }
    path
}

impl Run<'_> {
    fn step(&mut self, step: &Step) {
        match step.does {
            Does::Tool { number } => {
                self.flush();
                self.change(step.spot);
                self.tool = self.set_up.tools.get(&number);
                self.dip = stands::Dip::default();
                self.passes = None;
                self.last_lead = None;
                if self.tool.is_none() {
                    self.faults.push(
                        Fault::new(Wrong::UnknownTool, step.spot, format!("the set-up has no tool {number}"))
                            .cure("give its outline, or choose another"),
                    );
                }
            }
            Does::Rapid { from, to } => {
                self.flush();
                self.rapid(step.spot, flat(from), flat(to));
            }
            // How it comes there is not known; where it ends it may stand in nothing.
            Does::Approach { to: [Some(x), Some(y), Some(z)] } => {
                self.flush();
                self.rapid(step.spot, flat([x, y, z]), flat([x, y, z]));
            }
            Does::Line { feed, .. } | Does::Arc { feed, .. } => {
                self.feed(step, feed);
            }
            Does::Thread { lead, .. } => self.thread(step, lead),
            Does::Index { .. } => self.faults.push(
                Fault::new(
                    Wrong::Motion,
                    step.spot,
                    "work that is turned by degrees is not followed on a lathe",
                )
                .cure("prove it as wheel cutting"),
            ),
            _ => {}
        }
        match step.does {
            Does::Approach { to: [Some(x), Some(y), Some(z)] } => self.at = Some(flat([x, y, z])),
            _ => self.at = step.ends().map(|(_, to)| flat(to)).or(self.at),
        }
    }

    /// A tool may be changed only where it stands clear of all the stock that was ever there.
    fn change(&mut self, spot: Spot) {
        let (Some(tool), Some(at)) = (self.tool, self.at) else { return };
        let stock = Edges::of(&self.set_up.stock);
        let stands = tool.cutting.iter().any(|piece| {
            both_sides(piece.along(&[at]))
                .iter()
                .any(|ring| touched(ring, &self.set_up.stock, &stock) > self.set_up.touch)
        });
        if stands {
            self.faults.push(
                Fault::new(Wrong::ToolChange, spot, "the tool is changed while it stands in the work")
                    .cure("withdraw it before the change"),
            );
        }
    }

    fn set_metal(&mut self, metal: Region) {
        self.edges = Edges::of(&metal);
        self.metal = metal;
    }

    fn rapid(&mut self, spot: Spot, from: Point, to: Point) {
        let Some(tool) = self.tool else { return };
        self.drawn_back(tool, from, to);
        let bent = self.control.rapid_path == RapidPath::Bent;
        let box_path = [from, Point::new(to.x, from.y), to, Point::new(from.x, to.y), from];
        let mut hit = 0.0;
        let mut beside = 0.0;
        let mut cuts = Vec::new();
        for piece in &tool.cutting {
            for ring in both_sides(piece.along(&[from, to])) {
                let area = touched(&ring, &self.metal, &self.edges);
                if area > self.set_up.touch {
                    hit = area.max(hit);
                    cuts.extend(Region::polygon(&ring));
                }
                self.jaws_touched(spot, &ring, "the tool");
            }
            if bent {
                let all = piece
                    .corners()
                    .iter()
                    .flat_map(|c| box_path.map(|p| p + c.to_vec2()))
                    .collect::<Vec<_>>();
                if let Ok(hull) = Convex::around(&all) {
                    beside = touched(hull.corners(), &self.metal, &self.edges).max(beside);
                }
            }
        }
        self.worst_rapid = self.worst_rapid.max(hit);
        if hit > 0.0 {
            self.faults.push(
                Fault::new(
                    Wrong::RapidInStock,
                    spot,
                    format!("the rapid goes through {} mm² of stock", figure(hit, 3)),
                )
                .by(hit)
                .cure("withdraw first, or feed"),
            );
        } else if beside > self.set_up.touch {
            self.faults.push(
                Fault::new(
                    Wrong::RapidBesideLine,
                    spot,
                    format!("the rapid may bend, and then goes through {} mm² of stock", figure(beside, 3)),
                )
                .why("this machine moves each axis as fast as it can")
                .by(beside)
                .cure("move one axis at a time"),
            );
        }
        self.holder(spot, &[from, to]);
        if !cuts.is_empty() {
            let rest = cuts.iter().fold(self.metal.clone(), |metal, cut| metal.difference(cut));
            self.set_metal_held(rest);
        }
    }

    fn jaws_touched(&mut self, spot: Spot, ring: &[Point], what: &str) {
        let area = touched(ring, &self.set_up.jaws, &self.jaws);
        if area > self.set_up.touch {
            self.faults.push(
                Fault::new(
                    Wrong::Jaws,
                    spot,
                    format!("{what} runs {} mm² into jaws or tailstock", figure(area, 3)),
                )
                .by(area)
                .cure("let the work stand out further, or end the move earlier"),
            );
        }
    }

    /// Tries the holder along a path against the metal as it stands, and against the jaws.
    fn holder(&mut self, spot: Spot, path: &[Point]) {
        let Some(tool) = self.tool else { return };
        let mut worst = 0.0_f64;
        for piece in &tool.holder {
            for pair in path.windows(2) {
                for ring in both_sides(piece.along(pair)) {
                    worst = worst.max(touched(&ring, &self.metal, &self.edges));
                    self.jaws_touched(spot, &ring, "the holder");
                }
            }
        }
        if worst > self.set_up.touch {
            self.faults.push(holder_touches(spot, worst));
        }
    }

    fn feed(&mut self, step: &Step, feed: Feed) {
        let Some(tool) = self.tool else { return };
        if let (Some(most), Feed::PerTurn(turn)) = (tool.most_feed, feed)
            && turn > most * (1.0 + 1.0e-9)
            && !self.fed.contains(&turn.to_bits())
        {
            self.fed.push(turn.to_bits());
            self.faults.push(
                Fault::new(
                    Wrong::ToolFeed,
                    step.spot,
                    format!("{} mm a turn; the tool stands {}", mm(turn), mm(most)),
                )
                .by(turn - most)
                .cure("write a lower F"),
            );
        }
        let path = path(step, self.set_up.within);
        let minds = tool.way != Way::Any
            || tool.most_speed.is_some()
            || tool.near_axis.is_some()
            || !self.loose.is_empty();
        if minds {
            self.flush();
            for pair in path.windows(2) {
                self.stands(step, tool, [pair[0], pair[1]], feed);
                self.cuts_loose(step.spot, tool, pair);
            }
        }
        if !step.turning.turns() {
            self.flush();
            let meets = path.windows(2).any(|pair| {
                tool.cutting.iter().any(|piece| {
                    both_sides(piece.along(pair))
                        .iter()
                        .any(|ring| touched(ring, &self.metal, &self.edges) > self.set_up.touch)
                })
            });
            if meets {
                self.faults.push(
                    Fault::new(
                        Wrong::SpindleStopped,
                        step.spot,
                        "the tool is fed into metal that does not turn",
                    )
                    .cure("write S and M03 before it"),
                );
            }
        }
        if !self.set_up.jaws.is_empty() {
            for pair in path.windows(2) {
                for ring in tool.cutting.iter().flat_map(|piece| both_sides(piece.along(pair))) {
                    self.jaws_touched(step.spot, &ring, "the tool");
                }
            }
        }
        let last = self.chain.path.last().copied();
        let from = path.first().copied();
        if last.is_some() && last != from {
            self.flush();
        }
        let skip = usize::from(!self.chain.path.is_empty());
        self.chain.path.extend(path.into_iter().skip(skip));
        self.chain.ends.push((self.chain.path.len() - 1, step.spot));
    }

    /// Takes off what the feeds since the last rapid sweep.
    fn flush(&mut self) {
        let chain = std::mem::take(&mut self.chain);
        let Some(tool) = self.tool.filter(|_| chain.path.len() > 1) else { return };
        let before = self.metal.clone();
        let after = swept(tool, &chain.path).iter().fold(before.clone(), |metal, cut| metal.difference(cut));
        if !tool.holder.is_empty() {
            self.holder_in_chain(tool, &chain, &before);
        }
        self.set_metal_held(after);
    }

    /// A holder follows its tool into room that the same chain has just made: each step is tried
    /// against the metal as it is after that very step.
    fn holder_in_chain(&mut self, tool: &Tool, chain: &Chain, before: &Region) {
        let mut starts = 0;
        let mut open: Vec<(usize, Spot, Vec<Vec<Point>>)> = Vec::new();
        for &(end, spot) in &chain.ends {
            let stretch = &chain.path[starts..=end];
            starts = end;
            let rings: Vec<Vec<Point>> = tool
                .holder
                .iter()
                .flat_map(|piece| stretch.windows(2).flat_map(|pair| both_sides(piece.along(pair))))
                .collect();
            for ring in &rings {
                self.jaws_touched(spot, ring, "the holder");
            }
            let rings: Vec<_> = rings.into_iter().filter(|ring| self.edges.reached(ring, before)).collect();
            if !rings.is_empty() {
                open.push((end, spot, rings));
            }
        }
        let mut told = 0;
        // Metal only goes: what is clear of it once stays clear.
        while !open.is_empty() {
            let (end, spot, rings) = open.remove(0);
            let metal = swept(tool, &chain.path[..=end])
                .iter()
                .fold(before.clone(), |metal, cut| metal.difference(cut));
            let edges = Edges::of(&metal);
            let worst = rings.iter().map(|ring| touched(ring, &metal, &edges)).fold(0.0, f64::max);
            if worst > self.set_up.touch {
                self.faults.push(holder_touches(spot, worst));
                told += 1;
                if told == MOST_TOLD {
                    break;
                }
            }
            for (_, _, rings) in &mut open {
                rings.retain(|ring| edges.reached(ring, &metal));
            }
            open.retain(|(_, _, rings)| !rings.is_empty());
        }
    }

    /// A thread may meet no metal before the slide is up to speed.
    fn run_in(&mut self, step: &Step, tool: &Tool, (from, way, length): (Point, Vec2, f64), needs: f64) {
        let until = from + way * (needs / length.max(needs)).min(1.0);
        let meets = tool
            .cutting
            .iter()
            .any(|piece| touched(&piece.along(&[from, until]), &self.metal, &self.edges) > self.set_up.touch);
        if meets {
            self.faults.push(
                Fault::new(
                    Wrong::RunIn,
                    step.spot,
                    format!(
                        "the thread meets metal within the {} mm that the slide needs to come up to speed",
                        mm(needs)
                    ),
                )
                .by(needs)
                .cure("begin further out, or turn slower"),
            );
        }
    }

    fn thread(&mut self, step: &Step, lead: f64) {
        self.flush();
        let (Some(tool), Some((from, to))) = (self.tool, step.ends()) else { return };
        let (from, to) = (flat(from), flat(to));
        let way = to - from;
        let length = way.hypot2().sqrt();
        if let (Some(acceleration), Spindle::Steady { rpm }) = (self.control.acceleration, step.turning) {
            let needs = limits::run_in(lead, rpm, acceleration);
            self.run_in(step, tool, (from, way, length), needs);
        } else if let Some(needs) = self.control.run_in {
            self.run_in(step, tool, (from, way, length), needs);
        }
        self.same_lead(step, lead, (from.x.min(to.x), from.x.max(to.x)));
        self.thread_bite(step, tool, from, to);
        self.cuts_loose(step.spot, tool, &[from, to]);
        // The lead counts along the axis that moves most.
        let along = way.x.abs().max(way.y.abs());
        let turns = (along / lead).floor().clamp(0.0, 100_000.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped above")]
        let turns = turns as u32;
        let mut cuts = Vec::new();
        for turn in 0..=turns {
            let at = if along > 0.0 { from + way * (f64::from(turn) * lead / along) } else { from };
            for piece in &tool.cutting {
                cuts.extend(Region::polygon(&piece.along(&[at])));
            }
        }
        // Where it ends, the tool stands while the work goes on turning.
        cuts.extend(tool.cutting.iter().filter_map(|piece| Region::polygon(&piece.along(&[to])).ok()));
        self.set_metal_held(self.metal.difference(&Region::union_of(&cuts)));
        for piece in &tool.cutting {
            for ring in both_sides(piece.along(&[from, to])) {
                self.jaws_touched(step.spot, &ring, "the tool");
            }
        }
        self.holder(step.spot, &[from, to]);
    }
}

/// What the cutting pieces of a tool sweep along a path, a region for each.
fn swept(tool: &Tool, path: &[Point]) -> Vec<Region> {
    let rings = tool.cutting.iter().flat_map(|piece| both_sides(piece.along(path)));
    rings.filter_map(|ring| Region::polygon(&ring).ok()).collect()
}

fn holder_touches(spot: Spot, area: f64) -> Fault {
    Fault::new(Wrong::Holder, spot, format!("the holder runs {} mm² into the work", figure(area, 3)))
        .by(area)
        .cure("take a tool that reaches further, or end the move earlier")
}
