//! The order of work over the whole clock: what waits for what, like set-ups together, hours with their spread,
//! evenings, and the chain that no second pair of hands would shorten.

pub mod graph;
mod hours;
mod jobs;
pub mod tonight;
mod waits;
mod wishes;

pub use graph::Arrow;
pub use hours::Hours;
pub use jobs::{Of, Whole, last_finish};

use super::jig::Jig;
use super::stock::Buy;
use super::{PartPlan, ShopTool, Spread, finish};
use graph::Node;
use jobs::Raw;
use movement::design::Movement;
use movement::joint::Joint;
use movement::part::Part;
use reckon::{Book, Id, Source, Time, Trouble};
use record::facts::Clock;
use std::collections::BTreeMap;

/// How the order is found.
pub static ORDER: Source = Source::practice(
    "what waits comes after what it waits for; what is long under way is begun at once; then what is set up already, then what most hangs on",
);
/// Days until stock has come.
pub const STOCK_DAYS: f64 = 7.0;
/// Days until what is not made here has come.
pub const BOUGHT_DAYS: f64 = 14.0;
/// Looking after the first run.
const RUN_MINUTES: Spread = Spread::minutes(60.0, 120.0, 300.0);

/// What stands around the parts.
#[derive(Clone, Copy, Default)]
pub struct Around<'a> {
    /// What is joined to what.
    pub joints: &'a [Joint],
    /// The movement.
    pub movement: Option<&'a Movement>,
    /// The clock as written.
    pub clock: Option<&'a Clock>,
    /// What nobody makes in this shop.
    pub bought: &'a [Buy],
}
/// One job in the order of work.
#[derive(Clone, Debug)]
pub struct Job {
    /// Its name, by which it is told to be done: unlike any other.
    pub name: String,
    /// Part, tool or jig.
    pub of: String,
    /// What is done.
    pub title: String,
    /// What it is.
    pub kind: Of,
    /// On which machine.
    pub machine: String,
    /// How it is held.
    pub held: String,
    /// How many pieces.
    pub pieces: u32,
    /// Why it stands here.
    pub why: String,
    /// Setting up as it stands in the order, nothing where it is set up already: mean and spread, minutes.
    pub setting: (f64, f64),
    /// Setting up where something else is set up.
    pub anew: (f64, f64),
    /// The work itself, with what was learnt before: mean and spread, minutes.
    pub work: (f64, f64),
    /// Mean as it stands in the order.
    pub time: Time,
    /// Minutes that it goes on by itself after, and what does.
    pub wait: (f64, &'static str),
    /// Whether it may be left at any time and taken up again.
    pub long: bool,
    /// Indices of what it waits for: must, and only better.
    pub after: Vec<usize>,
    /// Indices of what better comes first.
    pub better_after: Vec<usize>,
    /// Whether the longest chain runs through it.
    pub on_chain: bool,
    /// Days from its begin to the end of all, by the longest chain.
    pub tail: f64,
    /// Which line of the order it stands in: what is done in one go has one line.
    pub line: usize,
}
impl Job {
    /// Machine and holding.
    #[must_use]
    pub fn set_up(&self) -> String {
        if self.held.is_empty() { self.machine.clone() } else { format!("{}: {}", self.machine, self.held) }
    }
    /// Index of the part's plan.
    #[must_use]
    pub fn plan(&self) -> Option<usize> {
        match self.kind {
            Of::Part(i, _) => Some(i),
            _ => None,
        }
    }
}
/// The order of work.
#[derive(Clone, Debug)]
pub struct Order {
    /// Jobs, first to last.
    pub jobs: Vec<Job>,
    /// Arrows that hold.
    pub kept: Vec<Arrow>,
    /// Arrows that the maker put aside, with his reason.
    pub aside: Vec<(Arrow, String)>,
    /// Advice that gave way.
    pub gave_way: Vec<Arrow>,
    /// The longest chain.
    pub chain: Vec<usize>,
    /// Hours, evenings, waiting.
    pub hours: Hours,
    /// The table in the book.
    pub table: Id,
}
impl Order {
    /// Lines: what is done in one go.
    #[must_use]
    pub fn lines(&self) -> Vec<&[Job]> {
        self.jobs.chunk_by(|a, b| a.line == b.line).collect()
    }
}
/// What the order is found from.
pub struct Floor<'a> {
    /// Parts.
    pub parts: &'a [Part],
    /// Their plans.
    pub plans: &'a [PartPlan],
    /// Tools to be made.
    pub tools: &'a [ShopTool],
    /// Jigs to be made.
    pub jigs: &'a [Jig],
    /// What is polished together.
    pub shine: &'a [finish::Together],
    /// Stock that is missing.
    pub buy: &'a [Buy],
    /// What stands around.
    pub around: &'a Around<'a>,
}
/// The order, written into the book as a table; troubles where what the maker wants runs in a ring.
pub fn order(of: &Floor<'_>, book: &mut Book) -> (Order, Vec<Trouble>) {
    let raw = jobs::jobs(of.parts, of.plans, of.tools, of.jigs, (of.shine, of.buy), of.around);
    let arrows = waits::arrows(&waits::On { of, jobs: &raw });
    let wanted = wishes::apply(&raw, arrows, of.around.clock);
    let rate = hours::rate(of.around.clock, book);
    let nodes: Vec<Node> = raw.iter().map(|r| node(r, rate.days_an_hour)).collect();
    let lines = graph::sequence(&nodes, &wanted.kept);
    let chain = graph::chain(&nodes, &wanted.hard());
    let tails = graph::tails(&nodes, &wanted.kept);
    let mut place = vec![0; raw.len()];
    for (at, i) in lines.iter().flatten().enumerate() {
        place[*i] = at;
    }
    let mut jobs: Vec<Job> = Vec::new();
    let mut learnt = hours::Learning::default();
    let mut last = String::new();
    let mut line = 0;
    for (at, all) in lines.iter().enumerate() {
        // The same at the same place goes on the same line, where it does not wait for that line.
        let like = |a: usize, b: usize| raw[a].set_up() == raw[b].set_up() && raw[a].title == raw[b].title;
        let before = jobs.iter().rposition(|j| j.line < line).map_or(0, |i| i + 1);
        let goes_on = at > 0
            && like(lines[at - 1][0], all[0])
            && raw[all[0]].machine != "hearth"
            && !wanted
                .kept
                .iter()
                .any(|a| all.contains(&a.then) && (before..jobs.len()).contains(&place[a.first]));
        if at > 0 && !goes_on {
            line += 1;
        }
        for i in all {
            let r = &raw[*i];
            let work = learnt.next(r);
            let again = r.set_up() == last && !r.held.is_empty();
            last = r.set_up();
            let sooner = |hard: bool| {
                let to = wanted.kept.iter().filter(|a| a.then == *i && a.hard == hard);
                to.map(|a| place[a.first]).collect::<Vec<_>>()
            };
            jobs.push(Job {
                name: r.name.clone(),
                of: r.what.clone(),
                title: r.title.clone(),
                kind: r.of,
                machine: r.machine.clone(),
                held: r.held.clone(),
                pieces: r.pieces,
                why: why(*i, all, &raw, &wanted.kept, again),
                setting: if again { (0.0, 0.0) } else { r.setting },
                anew: r.setting,
                time: Time::si((work.0 + if again { 0.0 } else { r.setting.0 }) * 60.0),
                work,
                wait: r.wait,
                long: r.long,
                after: sooner(true),
                better_after: sooner(false),
                on_chain: chain.contains(i),
                tail: tails[*i],
                line,
            });
        }
    }
    let moved = |a: Arrow| Arrow { first: place[a.first], then: place[a.then], ..a };
    let chain: Vec<usize> = chain.into_iter().map(|i| place[i]).collect();
    let mut inputs: Vec<Id> = of.plans.iter().map(|p| p.time.mean.id()).collect();
    inputs.extend(waiting(&raw, book));
    let (hours, table) = hours::written(&jobs, &chain, &rate, inputs, book);
    let order = Order {
        jobs,
        kept: wanted.kept.into_iter().map(moved).collect(),
        aside: wanted.aside.into_iter().map(|(a, r)| (moved(a), r)).collect(),
        gave_way: wanted.gave_way.into_iter().map(moved).collect(),
        chain,
        hours,
        table,
    };
    (order, wanted.troubles)
}
/// How long is waited, for each reason once, as what it is: an assumption.
fn waiting(raw: &[jobs::Raw], book: &mut Book) -> Vec<Id> {
    let waits: BTreeMap<&str, f64> =
        raw.iter().filter(|r| r.wait.0 > 0.0).map(|r| (r.wait.1, r.wait.0)).collect();
    let mut one = |(why, minutes): (&str, f64)| {
        let slug = why.replace(' ', "_").replace(',', "");
        let time = Time::si(minutes * 60.0);
        book.assumed(format!("order.waits.{slug}"), time, format!("{why}: so long, until known better")).id()
    };
    waits.into_iter().map(&mut one).collect()
}
fn node(r: &Raw, days_an_hour: f64) -> Node {
    let work = r.setting.0 + r.work.0 * f64::from(r.pieces);
    Node {
        together: r.together.clone(),
        set_up: r.set_up(),
        days: work / 60.0 * days_an_hour + r.wait.0 / 60.0 / 24.0,
        at_once: r.of == Of::Buy,
    }
}
/// Why a job stands where it does: what it waits for, the most telling first.
fn why(i: usize, line: &[usize], raw: &[Raw], kept: &[Arrow], again: bool) -> String {
    let into: Vec<&Arrow> = kept.iter().filter(|a| a.then == i && !line.contains(&a.first)).collect();
    let weight = |a: &Arrow| match raw[a.first].of {
        _ if a.asked => 0,
        Of::Tool(_) | Of::Jig(_) | Of::Buy => 1,
        _ if a.why == waits::ROUTE => 4,
        _ if a.hard => 2,
        _ => 3,
    };
    let Some(first) = into.iter().min_by_key(|a| (weight(a), a.first)) else {
        return match raw[i].of {
            Of::Buy => "it is long on its way".to_owned(),
            _ if again => "waits for nothing; set up already".to_owned(),
            _ => "waits for nothing".to_owned(),
        };
    };
    let alike = into.iter().filter(|a| a.why == first.why).count();
    if first.asked {
        format!("after '{}', as you wish: {}", raw[first.first].name, first.why)
    } else if first.why == waits::ROUTE || alike > 1 {
        first.why.clone()
    } else {
        format!("after '{}': {}", raw[first.first].name, first.why)
    }
}
