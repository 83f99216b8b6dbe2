//! Milling and drilling proved by removal, layer by layer.
//!
//! The work lies in layers parted at every height that a feed ends at, so that a layer is cut through
//! or not at all; in plan a cutter is a disc swept along its path (see [`crate::sweep`]). Sloping feeds go
//! in steps no higher than [`SetUp::layer`], each counted at its upper end, rounded up to half a layer
//! so that long ramps do not part the work without end; points and other slopes of
//! cutters are taken at the middle of a layer. Millimetres throughout, z upwards.

mod cutter;
mod judge;
mod layer;

use std::collections::BTreeMap;

use kurbo::Point;
use reckon::maths::{self, PI};
use shape::region::Region;

pub use cutter::{Cutter, Cylinder};
pub use judge::Wanted;

use crate::control::{Control, RapidPath};
use crate::fault::{Fault, Spot, Wrong, figure, mm};
use crate::moves::{Does, Feed, Place, Program, Step};
use crate::near::Edges;
use crate::sweep::Convex;
use layer::Layers;

/// A part of the work between two heights, the same all through.
#[derive(Debug, Clone, PartialEq)]
pub struct Slab {
    /// Its lower face.
    pub low: f64,
    /// Its upper face.
    pub high: f64,
    /// Its plan.
    pub region: Region,
}

impl Slab {
    /// A slab between two heights.
    #[must_use]
    pub fn new(low: f64, high: f64, region: Region) -> Self {
        Self { low, high, region }
    }
}

/// Volume of slabs in mm³.
#[must_use]
pub fn volume(slabs: &[Slab]) -> f64 {
    slabs.iter().map(|slab| slab.region.area() * (slab.high - slab.low)).sum()
}

/// The room between spindle nose and table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Daylight {
    /// Height of the table in the program's coordinates.
    pub table: f64,
    /// Least distance of the nose from the table.
    pub least: f64,
    /// Greatest distance of the nose from the table.
    pub most: f64,
}

/// A mill set up.
#[derive(Debug, Clone, PartialEq)]
pub struct SetUp {
    /// The metal before the first line.
    pub stock: Vec<Slab>,
    /// Clamps, vice, parallels: what nothing may touch.
    pub clamps: Vec<Slab>,
    /// What is wanted, if it is to be judged.
    pub wanted: Option<Wanted>,
    /// Cutters by their number; number 0 is what a program that chooses none has in its spindle.
    pub cutters: BTreeMap<u32, Cutter>,
    /// The room between spindle nose and table, if it is to be watched.
    pub daylight: Option<Daylight>,
    /// How closely chords follow arcs and rims, in millimetres.
    pub within: f64,
    /// Highest step of a sloping feed or a cutter's slope, in millimetres.
    pub layer: f64,
    /// Overlap of less than this is no touch, in square millimetres.
    pub touch: f64,
}

impl SetUp {
    /// A plate of stock from a lower to an upper face, and one cutter.
    #[must_use]
    pub fn plate(low: f64, high: f64, plan: Region, cutter: Cutter) -> Self {
        Self {
            stock: vec![Slab::new(low, high, plan)],
            clamps: Vec::new(),
            wanted: None,
            cutters: BTreeMap::from([(0, cutter)]),
            daylight: None,
            within: 1.0e-4,
            layer: 0.05,
            touch: 1.0e-6,
        }
    }
}

/// What a program leaves, in layers from below.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Milled {
    /// The stock.
    pub before: Vec<Slab>,
    /// What is left of it.
    pub after: Vec<Slab>,
    /// What is left and not wanted.
    pub remainder: Vec<Slab>,
    /// What is wanted and gone.
    pub gouge: Vec<Slab>,
    /// Largest area of stock in one layer that a rapid went through, in square millimetres.
    pub worst_rapid: f64,
    /// Every fault, in the order of the program.
    pub faults: Vec<Fault>,
}

/// A straight bit of a motion, level or upright or low enough to count as level.
#[derive(Debug, Clone, Copy)]
struct Bit {
    from: Point,
    to: Point,
    /// Tip at its lower end.
    low: f64,
    /// Tip at its upper end.
    high: f64,
}

impl Bit {
    /// Height of the tip at which it cuts.
    fn tip(&self) -> f64 {
        if (self.to - self.from).hypot2() > 0.0 { self.high } else { self.low }
    }
}

fn plan(at: Place) -> Point {
    Point::new(at[0], at[1])
}

/// The bits of a step.
fn bits(step: &Step, set_up: &SetUp) -> Vec<Bit> {
    let Some((from, to)) = step.ends() else { return Vec::new() };
    let places = match &step.does {
        Does::Arc { arc, .. } => arc.chords(from, to, set_up.within),
        _ => vec![to],
    };
    let mut bits = Vec::new();
    let mut here = from;
    let grid = if step.is_feed() { set_up.layer / 2.0 } else { 0.0 };
    for next in places {
        let (rise, level) = (next[2] - here[2], plan(next) == plan(here));
        let count = if level { 1 } else { cutter::parts(rise.abs(), set_up.layer) };
        let between = |part: u32| {
            let part = f64::from(part) / f64::from(count);
            [0, 1, 2].map(|i| here[i] + (next[i] - here[i]) * part)
        };
        for part in 0..count {
            let (a, b) = (between(part), if part + 1 == count { next } else { between(part + 1) });
            let (low, high) = (a[2].min(b[2]), a[2].max(b[2]));
            let slopes = !level && high > low && grid > 0.0;
            let high = if slopes { (high / grid - 1.0e-6).ceil() * grid } else { high };
            bits.push(Bit { from: plan(a), to: plan(b), low, high });
        }
        here = next;
    }
    bits
}

/// Runs a program on a set-up.
#[must_use]
pub fn prove(program: &Program, control: &Control, set_up: &SetUp) -> Milled {
    let mut run = Run {
        set_up,
        control,
        layers: Layers::new(&set_up.stock, &levels(program, set_up)),
        clamps: Layers::new(&set_up.clamps, &[]),
        cutter: set_up.cutters.get(&0),
        discs: BTreeMap::new(),
        chain: Vec::new(),
        at: None,
        faults: Vec::new(),
        worst_rapid: 0.0,
        told: Vec::new(),
    };
    let before = run.layers.slabs();
    for step in &program.steps {
        run.step(step);
    }
    run.flush();
    run.layers.settle();
    let mut milled =
        Milled { before, after: run.layers.slabs(), worst_rapid: run.worst_rapid, ..Milled::default() };
    let mut faults = std::mem::take(&mut run.faults);
    if let Some(wanted) = &set_up.wanted {
        judge::judge(program, set_up, wanted, &mut milled, &mut faults);
    }
    faults.sort_by_key(|fault| fault.spot.start);
    milled.faults = faults;
    milled
}

/// Heights at which the work must be parted into layers.
fn levels(program: &Program, set_up: &SetUp) -> Vec<f64> {
    let mut levels = Vec::new();
    if let Some(wanted) = &set_up.wanted {
        levels.extend(wanted.least.iter().chain(&wanted.most).flat_map(|slab| [slab.low, slab.high]));
    }
    let mut cutter = set_up.cutters.get(&0);
    for step in &program.steps {
        if let Does::Tool { number } = step.does {
            cutter = set_up.cutters.get(&number);
        }
        let Some(cutter) = cutter.filter(|_| step.is_feed()) else { continue };
        let heights = cutter.heights(set_up.layer);
        let mut last = f64::NAN;
        for bit in bits(step, set_up) {
            let tip = bit.tip();
            if (tip - last).abs() > 0.0 || last.is_nan() {
                levels.push(tip);
                levels.extend(heights.iter().map(|height| tip + height));
                last = tip;
            }
        }
    }
    levels
}

/// Sides of a disc whose polygon keeps within `within` of the circle.
fn sides(radius: f64, within: f64) -> u32 {
    let half = 2.0 * maths::asin((0.5 * within / radius).min(0.5).sqrt());
    let quarters = (0.5 * PI / half / 2.0).ceil().clamp(4.0, 4096.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 4 … 4096")]
    let quarters = quarters as u32;
    4 * quarters
}

/// A bit of a feed, and where it stands in the text.
type Fed = (Bit, Spot);

struct Run<'a> {
    set_up: &'a SetUp,
    control: &'a Control,
    layers: Layers,
    clamps: Layers,
    cutter: Option<&'a Cutter>,
    discs: BTreeMap<u64, Convex>,
    /// Feeds that follow each other, not yet taken off.
    chain: Vec<Fed>,
    /// Where the cutter stands, once that is known.
    at: Option<Place>,
    faults: Vec<Fault>,
    worst_rapid: f64,
    /// What was told already and need not be told at every line: kind of fault and tool.
    told: Vec<(Wrong, Option<u32>)>,
}

impl<'a> Run<'a> {
    fn step(&mut self, step: &Step) {
        match step.does {
            Does::Tool { number } => {
                self.flush();
                self.change(step.spot);
                self.cutter = self.set_up.cutters.get(&number);
                if self.cutter.is_none() {
                    self.faults.push(
                        Fault::new(
                            Wrong::UnknownTool,
                            step.spot,
                            format!("the set-up has no cutter {number}"),
                        )
                        .cure("give its shape, or choose another"),
                    );
                }
            }
            Does::Rapid { from, to } => {
                self.flush();
                self.rapid(step, from, to, bits(step, self.set_up));
            }
            // How it comes there is not known; where it ends it may stand in nothing.
            Does::Approach { to: [Some(x), Some(y), Some(z)] } => {
                self.flush();
                let at = Point::new(x, y);
                self.rapid(step, [x, y, z], [x, y, z], vec![Bit { from: at, to: at, low: z, high: z }]);
            }
            Does::Line { feed, .. } | Does::Arc { feed, .. } => self.feed(step, feed),
            Does::Thread { .. } => self.faults.push(
                Fault::new(Wrong::Motion, step.spot, "a thread led by the spindle is not followed on a mill")
                    .cure("tap by hand, or mill it"),
            ),
            Does::Index { .. } => self.faults.push(
                Fault::new(Wrong::Motion, step.spot, "work that is turned is not followed in layers")
                    .cure("prove it as wheel cutting"),
            ),
            _ => {}
        }
        match step.does {
            Does::Approach { to: [Some(x), Some(y), Some(z)] } => self.at = Some([x, y, z]),
            _ => self.at = step.ends().map(|(_, to)| to).or(self.at),
        }
    }

    /// A cutter may be changed only where it stands clear of all the stock that was ever there.
    fn change(&mut self, spot: Spot) {
        let (Some(cutter), Some(at)) = (self.cutter, self.at) else { return };
        let widest = cutter.profile.iter().map(|&(_, radius)| radius).fold(0.0, f64::max);
        let Some(ring) = self.disc(widest).map(|disc| disc.along(&[plan(at)])) else { return };
        let stands = self.set_up.stock.iter().any(|slab| {
            let beside = slab.high <= at[2] + 1.0e-9 || slab.low >= at[2] + cutter.height();
            !beside && Edges::of(&slab.region).reached(&ring, &slab.region)
        });
        if stands {
            self.faults.push(
                Fault::new(Wrong::ToolChange, spot, "the cutter is changed while it stands in the work")
                    .cure("raise it before the change"),
            );
        }
    }

    fn once(&mut self, tool: Option<u32>, fault: Fault) {
        if !self.told.contains(&(fault.wrong, tool)) {
            self.told.push((fault.wrong, tool));
            self.faults.push(fault);
        }
    }

    fn disc(&mut self, radius: f64) -> Option<Convex> {
        if radius <= 0.0 {
            return None;
        }
        if let Some(disc) = self.discs.get(&radius.to_bits()) {
            return Some(disc.clone());
        }
        let disc = Convex::disc(radius, sides(radius, self.set_up.within)).ok()?;
        self.discs.insert(radius.to_bits(), disc.clone());
        Some(disc)
    }

    /// What a cutter and its shank sweep along a bit between two heights: what cuts, what does not.
    fn daylight(&mut self, step: &Step, cutter: &Cutter, bits: &[Bit]) {
        let Some(room) = self.set_up.daylight else { return };
        for bit in bits {
            let (low, high) =
                (bit.low + cutter.projects - room.table, bit.high + cutter.projects - room.table);
            let says = if high > room.most {
                format!("the nose would stand {} mm above the table; it reaches {}", mm(high), mm(room.most))
            } else if low < room.least {
                format!(
                    "the nose would stand {} mm above the table; it comes down to {}",
                    mm(low),
                    mm(room.least)
                )
            } else {
                continue;
            };
            let by = (high - room.most).max(room.least - low);
            self.once(
                step.tool,
                Fault::new(Wrong::Daylight, step.spot, says)
                    .by(by)
                    .cure("take a tool that projects less or more, or hold the work lower or higher"),
            );
        }
    }

    /// Tries cutter and shank against clamps and vice.
    fn clamps_touched(&mut self, spot: Spot, cutter: &Cutter, bits: &[Bit]) {
        if self.clamps.is_empty() {
            return;
        }
        let mut worst = 0.0_f64;
        for bit in bits {
            let path = [bit.from, bit.to];
            for i in 0..self.clamps.count() {
                let (low, high) = self.clamps.heights(i);
                let mut radius = 0.0_f64;
                if high > bit.low && low < bit.high + cutter.height() {
                    for height in [low - bit.low, high - bit.low, low - bit.high, high - bit.high] {
                        radius = radius.max(cutter.radius(height.clamp(0.0, cutter.height())));
                    }
                }
                for part in &cutter.shank {
                    if high > bit.low + part.low && low < bit.high + part.high {
                        radius = radius.max(part.radius);
                    }
                }
                if let Some(disc) = self.disc(radius) {
                    worst = worst.max(self.clamps.touched(i, &disc.along(&path)));
                }
            }
        }
        if worst > self.set_up.touch {
            self.faults.push(
                Fault::new(
                    Wrong::Jaws,
                    spot,
                    format!("cutter or shank runs {} mm² into clamp or vice", figure(worst, 3)),
                )
                .by(worst)
                .cure("go round or above it, or clamp elsewhere"),
            );
        }
    }

    /// Tries the shank along some bits against the work as it stands.
    fn shank(&mut self, cutter: &Cutter, bits: &[Fed]) {
        for part in &cutter.shank {
            let Some(disc) = self.disc(part.radius) else { continue };
            let mut last: Option<Spot> = None;
            for (bit, spot) in bits {
                if last == Some(*spot) || self.layers.top() <= bit.low + part.low {
                    continue;
                }
                let ring = disc.along(&[bit.from, bit.to]);
                let mut worst = 0.0_f64;
                for i in 0..self.layers.count() {
                    let (low, high) = self.layers.heights(i);
                    if high > bit.tip() + part.low + 1.0e-9 && low < bit.tip() + part.high {
                        worst = worst.max(self.layers.touched(i, &ring));
                    }
                }
                if worst > self.set_up.touch {
                    last = Some(*spot);
                    self.faults.push(
                        Fault::new(
                            Wrong::Holder,
                            *spot,
                            format!("the shank runs {} mm² into the work", figure(worst, 3)),
                        )
                        .by(worst)
                        .cure("take a cutter with longer flutes, or one that projects further"),
                    );
                }
            }
        }
    }

    fn rapid(&mut self, step: &Step, from: Place, to: Place, mut bits: Vec<Bit>) {
        let Some(cutter) = self.cutter else { return };
        self.daylight(step, cutter, &bits);
        let straight = bits.len();
        if self.control.rapid_path == RapidPath::Bent {
            // The corners of the box between: each axis may be done before the others.
            let corners = [[to[0], from[1]], [from[0], to[1]]].map(|[x, y]| Point::new(x, y));
            let (low, high) = (from[2].min(to[2]), from[2].max(to[2]));
            for corner in corners {
                bits.push(Bit { from: plan(from), to: corner, low, high });
                bits.push(Bit { from: corner, to: plan(to), low, high });
            }
        }
        self.clamps_touched(step.spot, cutter, &bits[..straight]);
        let (mut hit, mut beside) = (0.0_f64, 0.0_f64);
        for (at, bit) in bits.iter().enumerate() {
            for i in 0..self.layers.count() {
                let (low, high) = self.layers.heights(i);
                if high <= bit.low + 1.0e-9 {
                    continue;
                }
                let Some(disc) = self.disc(cutter.radius(0.5 * (low + high) - bit.low)) else { continue };
                let ring = disc.along(&[bit.from, bit.to]);
                let area = self.layers.touched(i, &ring);
                if at >= straight {
                    beside = beside.max(area);
                } else if area > self.set_up.touch {
                    hit = hit.max(area);
                    self.layers.cut(i, &ring);
                }
            }
        }
        self.worst_rapid = self.worst_rapid.max(hit);
        if hit > 0.0 {
            self.faults.push(
                Fault::new(
                    Wrong::RapidInStock,
                    step.spot,
                    format!("the rapid goes through {} mm² of stock", figure(hit, 3)),
                )
                .by(hit)
                .cure("raise the cutter first, or feed"),
            );
        } else if beside > self.set_up.touch {
            self.faults.push(
                Fault::new(
                    Wrong::RapidBesideLine,
                    step.spot,
                    format!("the rapid may bend, and then goes through {} mm² of stock", figure(beside, 3)),
                )
                .why("this machine moves each axis as fast as it can")
                .by(beside)
                .cure("move one axis at a time"),
            );
        }
        let tried: Vec<Fed> = bits[..straight].iter().map(|&bit| (bit, step.spot)).collect();
        self.shank(cutter, &tried);
    }

    fn feed(&mut self, step: &Step, feed: Feed) {
        let Some(cutter) = self.cutter else { return };
        if let Some(most) = cutter.most_feed {
            let turn = match feed {
                Feed::PerTurn(turn) => turn,
                Feed::PerMinute(feed) if step.turning.turns() => feed / step.turning.rpm(0.0),
                Feed::PerMinute(_) => 0.0,
            };
            if turn > most * (1.0 + 1.0e-9) {
                self.once(
                    step.tool,
                    Fault::new(
                        Wrong::ToolFeed,
                        step.spot,
                        format!("{} mm a turn; the cutter stands {}", mm(turn), mm(most)),
                    )
                    .by(turn - most)
                    .cure("write a lower F, or turn faster"),
                );
            }
        }
        let bits = bits(step, self.set_up);
        self.daylight(step, cutter, &bits);
        self.clamps_touched(step.spot, cutter, &bits);
        if !step.turning.turns() {
            self.flush();
            self.standing(step, cutter, &bits);
        }
        for bit in bits {
            let joins = self.chain.last().is_none_or(|(last, _)| last.to == bit.from);
            if !joins || bit.from == bit.to {
                self.flush();
            }
            self.chain.push((bit, step.spot));
        }
    }

    /// A feed with the spindle standing: only air may be in its way.
    fn standing(&mut self, step: &Step, cutter: &Cutter, bits: &[Bit]) {
        let mut worst = 0.0_f64;
        for bit in bits {
            for i in 0..self.layers.count() {
                let (low, high) = self.layers.heights(i);
                if high <= bit.low + 1.0e-9 {
                    continue;
                }
                if let Some(disc) = self.disc(cutter.radius(0.5 * (low + high) - bit.low)) {
                    worst = worst.max(self.layers.touched(i, &disc.along(&[bit.from, bit.to])));
                }
            }
        }
        if worst > self.set_up.touch {
            self.faults.push(
                Fault::new(Wrong::SpindleStopped, step.spot, "the cutter is fed into metal while it stands")
                    .cure("write S and M03 before it"),
            );
        }
    }

    /// Takes off what the feeds since the last rapid or plunge sweep: in each layer one ring for each
    /// stretch in which the cutter meets it with one radius.
    fn flush(&mut self) {
        let chain = std::mem::take(&mut self.chain);
        let Some(cutter): Option<&'a Cutter> = self.cutter.filter(|_| !chain.is_empty()) else { return };
        let mut made: Option<(u64, usize, usize, Region)> = None;
        for i in 0..self.layers.count() {
            let (low, high) = self.layers.heights(i);
            let radius = |bit: &Bit| {
                if low < bit.tip() - 1.0e-9 { 0.0 } else { cutter.radius(0.5 * (low + high) - bit.tip()) }
            };
            let mut from = 0;
            while from < chain.len() {
                let own = radius(&chain[from].0);
                let mut end = from + 1;
                while end < chain.len() && radius(&chain[end].0).to_bits() == own.to_bits() {
                    end += 1;
                }
                let key = (own.to_bits(), from, end);
                if let Some(disc) = self.disc(own) {
                    if made.as_ref().is_none_or(|&(radius, first, last, _)| (radius, first, last) != key) {
                        let mut path = vec![chain[from].0.from];
                        path.extend(chain[from..end].iter().map(|(bit, _)| bit.to));
                        made =
                            Region::polygon(&disc.along(&path)).ok().map(|swept| (key.0, from, end, swept));
                    }
                    if let Some((.., swept)) = &made {
                        self.layers.pend(i, swept.clone());
                    }
                }
                from = end;
            }
        }
        self.shank(cutter, &chain);
    }
}
