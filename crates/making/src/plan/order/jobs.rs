//! The jobs of a whole clock: each set-up of each part, tools and jigs, what is bought, and the clock itself.

use super::Around;
use crate::plan::jig::Jig;
use crate::plan::stock::Buy;
use crate::plan::{PartPlan, SetUp, ShopTool, Spread};
use heat::times;
use movement::part::Part;
use std::collections::BTreeSet;

/// Hours that glue and lacquer stand.
const DAY: f64 = 24.0 * 60.0;

/// What kind of job it is.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Of {
    /// A set-up of a part: index of its plan, and of the set-up.
    Part(usize, usize),
    /// A tool to be made, by its index.
    Tool(usize),
    /// A jig to be made, by its index.
    Jig(usize),
    /// Something to be bought.
    Buy,
    /// The clock as a whole.
    Clock(Whole),
}
/// Jobs on the whole clock, in their order.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Whole {
    /// Everything once, dry.
    Dry,
    /// Line, chain or cord put on.
    Line,
    /// Put together for good.
    Together,
    /// Escapement set up and put in beat.
    Beat,
    /// The first days.
    Run,
}
impl Whole {
    /// What it is called.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Whole::Dry => "clock: dry assembly",
            Whole::Line => "clock: line fitted",
            Whole::Together => "clock: put together and oiled",
            Whole::Beat => "clock: escapement set up, in beat",
            Whole::Run => "clock: first run and rate",
        }
    }
}
/// A job before it has a place.
#[derive(Clone, Debug)]
pub(super) struct Raw {
    pub(super) of: Of,
    pub(super) name: String,
    /// Part, tool or jig.
    pub(super) what: String,
    /// What is done.
    pub(super) title: String,
    pub(super) machine: String,
    pub(super) held: String,
    /// Setting up: mean and spread, minutes.
    pub(super) setting: (f64, f64),
    /// Work on the first piece of its kind: mean and squared spread, minutes.
    pub(super) work: (f64, f64),
    pub(super) pieces: u32,
    /// What is learnt by doing it.
    pub(super) kind: String,
    /// What is done in one go with it.
    pub(super) together: Option<String>,
    /// Minutes that it goes on by itself after, and what does.
    pub(super) wait: (f64, &'static str),
    /// Whether it may be left at any time and taken up again.
    pub(super) long: bool,
}
impl Raw {
    pub(super) fn set_up(&self) -> String {
        format!("{}: {}", self.machine, self.held)
    }
}
/// Whether a set-up is finishing: what fitting would mark.
pub(super) fn finishing(s: &SetUp) -> bool {
    matches!(s.machine.as_str(), "finishing bench" | "clean bench")
}
/// Whether a set-up joins.
pub(super) fn joining(s: &SetUp) -> bool {
    s.title.starts_with("joined: ")
}
/// From which set-up of a part on all is its last finish.
pub fn last_finish(setups: &[SetUp]) -> usize {
    let shaping = setups.iter().rposition(|s| !finishing(s) && !joining(s));
    let from = shaping.map_or(0, |i| i + 1);
    from + setups[from..].iter().position(finishing).unwrap_or(setups.len() - from)
}
/// A set-up in few words.
fn short(title: &str) -> String {
    match title.strip_prefix("joined: ") {
        Some(rest) => format!("join the {rest}"),
        None => title.split([',', ':']).next().unwrap_or(title).to_owned(),
    }
}
fn spread(all: impl Iterator<Item = Spread>) -> (f64, f64) {
    all.fold((0.0, 0.0), |(m, v), s| (m + s.mean(), v + s.deviation() * s.deviation()))
}
/// A time of the table of works.
fn table(name: &str) -> (f64, f64) {
    let work = times::all().iter().find(|w| w.name == name);
    work.map_or((0.0, 0.0), |w| (w.points.mean(), w.points.spread() * w.points.spread()))
}
/// With what a set-up is done in one go.
fn together(p: &PartPlan, s: &SetUp, part: &Part, shine: Option<usize>) -> Option<String> {
    let place = format!("{}|{}", s.machine, s.held.by);
    if s.does("harden") || s.does("temper") {
        // One steel at one temper is one heat.
        let fired = p.finish.fired.as_ref();
        let temper = fired.and_then(|f| f.heats.iter().find(|(w, _)| *w == "temper"));
        let at = temper.and_then(|(_, o)| o.figures.first()).map_or("", |f| f.text.as_str());
        return Some(format!("heat|{}|{at}", part.common.material.name));
    }
    if finishing(s) {
        return Some(format!("{}|{}|{shine:?}", s.machine, s.title));
    }
    if s.title.starts_with("first end") {
        return Some(format!("{place}|{:?}|{}", p.stock.index, p.stock.what));
    }
    if s.does("cut teeth") {
        let tool = s.operations.iter().find(|o| o.does.contains(&"cut teeth")).and_then(|o| o.tool.clone());
        return Some(format!("{place}|{tool:?}"));
    }
    let bench = s.machine == "bench" || s.machine == "hearth";
    (!bench).then(|| format!("{place}|{}", s.title))
}
/// What goes on by itself after a set-up.
fn wait(s: &SetUp) -> (f64, &'static str) {
    if s.does("lacquer") {
        (DAY, "lacquer dries")
    } else if s.does("glue") {
        (DAY, "adhesive cures")
    } else if s.does("temper") {
        (90.0, "tempering runs, in sight")
    } else {
        (0.0, "")
    }
}
/// Every job, in the order of parts.
pub(super) fn jobs(
    parts: &[Part],
    plans: &[PartPlan],
    tools: &[ShopTool],
    jigs: &[Jig],
    (shine, buy): (&[crate::plan::finish::Together], &[Buy]),
    around: &Around<'_>,
) -> Vec<Raw> {
    let mut all = bought(plans, buy, around);
    all.extend(tools.iter().enumerate().map(|(i, t)| Raw {
        work: spread(t.operations.iter().map(|o| o.time)),
        kind: "tool".to_owned(),
        ..plain(Of::Tool(i), &t.name, "made", "lathe, hearth and bench")
    }));
    all.extend(jigs.iter().enumerate().map(|(i, j)| {
        let setups = &j.plan.setups;
        let work = setups.iter().flat_map(|s| s.operations.iter().map(|o| o.time).chain([s.time]));
        let name = &j.part.common.name;
        let machine = setups.first().map_or("bench", |s| s.machine.as_str());
        Raw { work: spread(work), kind: format!("jig {name}"), ..plain(Of::Jig(i), name, "made", machine) }
    }));
    for (i, p) in plans.iter().enumerate() {
        let part = &parts[p.part];
        let shine = shine.iter().position(|t| t.plans.contains(&i));
        let total = u32::try_from(p.batch.total.bare().0).unwrap_or(1).max(1);
        for (k, s) in p.setups.iter().enumerate() {
            let title = short(&s.title);
            let (mean, square) = spread(s.operations.iter().map(|o| o.time));
            all.push(Raw {
                of: Of::Part(i, k),
                name: format!("{}: {title}", part.common.name),
                what: part.common.name.clone(),
                machine: s.machine.clone(),
                held: s.held.by.clone(),
                setting: (s.time.mean(), s.time.deviation()),
                work: (mean, square),
                // A seat is counted in its own operations.
                pieces: if joining(s) { 1 } else { total },
                kind: format!("{} {title}", part.kind.word()),
                together: together(p, s, part, shine),
                wait: wait(s),
                long: mean > 90.0 && (s.machine == "bench" || finishing(s)),
                title,
            });
        }
    }
    all.extend(whole(around));
    // Names are what one writes and ticks: each once.
    let mut seen = BTreeSet::new();
    for job in &mut all {
        let plain = job.name.clone();
        let mut n = 1;
        while !seen.insert(job.name.clone()) {
            n += 1;
            job.name = format!("{plain} ({n})");
        }
    }
    all
}
fn plain(of: Of, what: &str, title: &str, machine: &str) -> Raw {
    Raw {
        of,
        name: what.to_owned(),
        what: what.to_owned(),
        title: title.to_owned(),
        machine: machine.to_owned(),
        held: String::new(),
        setting: (0.0, 0.0),
        work: (0.0, 0.0),
        pieces: 1,
        kind: what.to_owned(),
        together: None,
        wait: (0.0, ""),
        long: false,
    }
}
/// Stock that is not here.
pub(super) const STOCK: &str = "buy: stock";
/// What nobody makes in this shop.
pub(super) const BOUGHT: &str = "buy: what is not made here";

fn bought(plans: &[PartPlan], buy: &[Buy], around: &Around<'_>) -> Vec<Raw> {
    let mut all = Vec::new();
    let minutes = Spread::minutes(15.0, 30.0, 90.0);
    let mut put = |name: &str, days: f64, waits: &'static str| {
        let work = (minutes.mean(), minutes.deviation() * minutes.deviation());
        let wait = (days * DAY, waits);
        all.push(Raw { work, wait, ..plain(Of::Buy, name, "ordered", "desk") });
    };
    if !buy.is_empty() || plans.iter().any(|p| p.stock.index.is_none()) {
        put(STOCK, super::STOCK_DAYS, "stock is on its way");
    }
    if !around.bought.is_empty() {
        put(BOUGHT, super::BOUGHT_DAYS, "what is bought is on its way");
    }
    all
}
fn whole(around: &Around<'_>) -> Vec<Raw> {
    let Some(m) = around.movement else { return Vec::new() };
    let mut all = Vec::new();
    let mut put = |w: Whole, work: (f64, f64), wait: (f64, &'static str)| {
        let title = w.name().trim_start_matches("clock: ");
        let raw = Raw { work, wait, ..plain(Of::Clock(w), w.name(), title, "assembly bench") };
        all.push(Raw { what: "clock".to_owned(), ..raw });
    };
    put(Whole::Dry, table("assemble"), (0.0, ""));
    if m.drive.as_ref().is_some_and(|d| d.weight.is_some() || d.fusee.is_some()) {
        put(Whole::Line, table("line or chain"), (0.0, ""));
    }
    // The second time all fits already: half of the first.
    let (mean, square) = table("assemble");
    put(Whole::Together, (mean * 0.5, square * 0.25), (0.0, ""));
    if m.escapement.is_some() {
        put(Whole::Beat, table("test and adjust"), (0.0, ""));
    }
    let (mean, square) = (super::RUN_MINUTES.mean(), super::RUN_MINUTES.deviation());
    put(Whole::Run, (mean, square * square), (8.0 * DAY, "runs through one winding"));
    all
}
