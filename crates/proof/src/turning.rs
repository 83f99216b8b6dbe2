//! Turning proved by removal: outlines of insert and holder swept through the half-plane of the work.
//!
//! The half-plane has z to the right and the radius upwards, in millimetres: [`Point`] (z, r). What a
//! chain of feeds sweeps is taken off in one piece (see [`crate::sweep`]); each rapid is tried
//! against the metal that stands at that moment, by the straight edges near it first and by area
//! only where it reaches some. An arc is followed by chords; with an arc of length L followed to
//! `within`, areas are right to ⅔ L × `within`. A thread takes off its section: the insert at every
//! lead from its start, as the half-plane meets it once a turn.

use std::collections::BTreeMap;

use kurbo::{Point, Vec2};
use reckon::maths::{self, PI};
use shape::region::Region;

use crate::control::{Control, RapidPath};
use crate::fault::{Fault, Spot, Wrong, figure, mm};
use crate::limits;
use crate::measure::{Amount, amount};
use crate::moves::{Does, Feed, Place, Program, Step, Turning as Spindle};
use crate::near::Edges;
use crate::sweep::{Convex, NotConvex};

/// A tool of the lathe about its controlled point, z to the right and radius upwards.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Tool {
    /// What cuts: convex pieces.
    pub cutting: Vec<Convex>,
    /// What must not touch: convex pieces of shank and holder.
    pub holder: Vec<Convex>,
    /// Largest feed a turn that it stands, in millimetres.
    pub most_feed: Option<f64>,
}

/// An insert with a round nose between two straight edges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Insert {
    /// Radius of the nose in millimetres.
    pub nose: f64,
    /// Heading in degrees, from +z anticlockwise, in which the edge in front leaves the nose.
    pub front: f64,
    /// Heading in degrees in which the edge behind leaves the nose.
    pub back: f64,
    /// Length of both edges in millimetres.
    pub length: f64,
    /// Chords of the nose.
    pub chords: u32,
    /// The controlled point as seen from the centre of the nose.
    pub controlled: Vec2,
}

impl Insert {
    /// Its outline about the controlled point: the nose runs from a quarter turn beyond the front
    /// edge's heading to a quarter turn short of the back edge's.
    ///
    /// # Errors
    /// [`NotConvex`] when the edges do not make a convex insert, or a size is not above zero.
    pub fn outline(&self) -> Result<Convex, NotConvex> {
        if !(self.nose > 0.0 && self.length > 0.0 && self.chords > 0) {
            return Err(NotConvex::Empty);
        }
        let radians = |degrees: f64| degrees * PI / 180.0;
        let wedge = self.front - self.back;
        if !(wedge > 0.0 && wedge < 180.0) {
            return Err(NotConvex::Hollow);
        }
        let (first, last) = (radians(self.front + 90.0), radians(self.back + 270.0));
        let mut corners = Vec::new();
        for i in 0..=self.chords {
            let angle = first + (last - first) * f64::from(i) / f64::from(self.chords);
            corners.push(Point::new(self.nose * maths::cos(angle), self.nose * maths::sin(angle)));
        }
        let way = |degrees: f64| {
            Vec2::new(maths::cos(radians(degrees)), maths::sin(radians(degrees))) * self.length
        };
        let (start, end) = (corners[0], corners[corners.len() - 1]);
        corners.push(end + way(self.back));
        corners.push(start + way(self.front));
        let corners: Vec<Point> = corners.into_iter().map(|p| p - self.controlled).collect();
        Convex::new(&corners)
    }
}

/// What is wanted: the metal that must stay, and the metal that may.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// Less than this is a gouge.
    pub least: Region,
    /// More than this is a remainder.
    pub most: Region,
    /// Where it is judged; everywhere when none.
    pub judged: Option<Region>,
    /// Deeper than this below the least is a fault, in millimetres.
    pub gouge: f64,
    /// Higher than this above the most is a fault, in millimetres.
    pub left: f64,
}

impl Wanted {
    /// One outline as both, with the same room below and above it in millimetres.
    #[must_use]
    pub fn exactly(outline: Region, room: f64) -> Self {
        Self { least: outline.clone(), most: outline, judged: None, gouge: room, left: room }
    }
}

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
        faults: Vec::new(),
        worst_rapid: 0.0,
        fed: Vec::new(),
    };
    for step in &program.steps {
        run.step(step);
    }
    run.flush();
    let Run { metal, mut faults, worst_rapid, .. } = run;
    let mut turned = Turned { before: set_up.stock.clone(), after: metal, worst_rapid, ..Turned::default() };
    if let Some(wanted) = &set_up.wanted {
        judge(program, set_up, wanted, &mut turned, &mut faults);
    }
    faults.sort_by_key(|fault| fault.spot.start);
    turned.faults = faults;
    turned
}

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
    set_up.stock.difference(&Region::union_of(&cuts))
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
    faults: Vec<Fault>,
    worst_rapid: f64,
    /// Feeds a turn already told.
    fed: Vec<u64>,
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
                self.tool = self.set_up.tools.get(&number);
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
    }

    fn set_metal(&mut self, metal: Region) {
        self.edges = Edges::of(&metal);
        self.metal = metal;
    }

    fn rapid(&mut self, spot: Spot, from: Point, to: Point) {
        let Some(tool) = self.tool else { return };
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
            self.set_metal(rest);
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
        for pair in path.windows(2) {
            for piece in &tool.cutting {
                for ring in both_sides(piece.along(pair)) {
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
        self.set_metal(after);
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
            }
            for (_, _, rings) in &mut open {
                rings.retain(|ring| edges.reached(ring, &metal));
            }
            open.retain(|(_, _, rings)| !rings.is_empty());
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
            let until = from + way * (needs / length.max(needs)).min(1.0);
            let meets = tool.cutting.iter().any(|piece| {
                touched(&piece.along(&[from, until]), &self.metal, &self.edges) > self.set_up.touch
            });
            if meets {
                self.faults.push(
                    Fault::new(Wrong::RunIn, step.spot, format!("the thread meets metal within the {} mm that the slide needs to come up to speed", mm(needs)))
                        .by(needs)
                        .cure("begin further out, or turn slower"),
                );
            }
        }
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
        self.set_metal(self.metal.difference(&Region::union_of(&cuts)));
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

/// Compares what is left with what is wanted.
fn judge(program: &Program, set_up: &SetUp, wanted: &Wanted, turned: &mut Turned, faults: &mut Vec<Fault>) {
    let within = |region: Region| match &wanted.judged {
        Some(judged) => region.intersection(judged),
        None => region,
    };
    let short = within(wanted.least.difference(&set_up.stock));
    let missing = amount(&short, &wanted.least);
    let end = program.steps.last().map_or(Spot::default(), |step| step.spot);
    let first = program.steps.first().map_or(Spot::default(), |step| step.spot);
    let short_by = amount(&short, &set_up.stock).deepest;
    if short_by > wanted.gouge {
        faults.push(
            Fault::new(
                Wrong::StockTooSmall,
                first,
                format!(
                    "the stock lacks {} mm² of what is wanted, {} mm deep",
                    figure(missing.area, 3),
                    mm(short_by)
                ),
            )
            .by(short_by)
            .cure("take larger stock, or set the zero elsewhere"),
        );
    }
    turned.remainder = within(turned.after.difference(&wanted.most));
    turned.gouge = within(wanted.least.intersection(&set_up.stock).difference(&turned.after));
    turned.left_over = amount(&turned.remainder, &wanted.most);
    turned.gouged = amount(&turned.gouge, &wanted.least);
    if turned.left_over.deepest > wanted.left {
        let high = turned.left_over.deepest;
        let place = turned
            .left_over
            .at
            .map_or(String::new(), |at| format!(" at Z {} and radius {}", mm(at.x), mm(at.y)));
        faults.push(
            Fault::new(
                Wrong::Remainder,
                end,
                format!(
                    "{} mm² of metal is left on what is wanted, up to {} mm high{place}",
                    figure(turned.left_over.area, 3),
                    mm(high)
                ),
            )
            .by(high)
            .cure("cut it, or allow it"),
        );
    }
    if turned.gouged.deepest <= wanted.gouge {
        return;
    }
    for piece in turned.gouge.polygons() {
        let Ok(piece) = Region::with_holes(&piece[0], &piece[1..]) else { continue };
        let depth = amount(&piece, &wanted.least);
        if depth.deepest <= wanted.gouge {
            continue;
        }
        let spot = culprit(program, set_up, &piece).unwrap_or(end);
        let place =
            depth.at.map_or(String::new(), |at| format!(" at Z {} and radius {}", mm(at.x), mm(at.y)));
        faults.push(
            Fault::new(
                Wrong::Gouge,
                spot,
                format!(
                    "{} mm² of what is wanted is cut away, {} mm deep{place}",
                    figure(depth.area, 3),
                    mm(depth.deepest)
                ),
            )
            .by(depth.deepest)
            .cure("keep the tool off the wanted outline"),
        );
    }
}

/// The step that takes most of a gouge.
fn culprit(program: &Program, set_up: &SetUp, gouge: &Region) -> Option<Spot> {
    let edges = Edges::of(gouge);
    let mut tool = set_up.tools.get(&0);
    let mut worst: Option<(f64, Spot)> = None;
    for step in &program.steps {
        if let Does::Tool { number } = step.does {
            tool = set_up.tools.get(&number);
        }
        let Some(tool) = tool else { continue };
        let mut area = 0.0_f64;
        for pair in path(step, set_up.within).windows(2) {
            for piece in &tool.cutting {
                for ring in both_sides(piece.along(pair)) {
                    area = area.max(touched(&ring, gouge, &edges));
                }
            }
        }
        if area > 0.0 && worst.is_none_or(|(before, _)| area > before) {
            worst = Some((area, step.spot));
        }
    }
    worst.map(|(_, spot)| spot)
}
