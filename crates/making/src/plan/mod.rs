//! How each part is made in this shop: stock, grip, cuts, tools, order and time.
//!
//! A plan is data: set-ups of operations, each with figures that stand in the
//! book of workings. Where the shop cannot, a verdict says what fails, by how
//! much, and what would do; the plan goes on so that everything that can be
//! found is found in one go.

pub mod assembly;
pub mod batch;
pub mod bench;
pub mod caution;
pub mod cuts;
pub mod drills;
pub mod finish;
pub mod fire;
pub mod fits;
pub mod flat;
pub mod grip;
pub mod groove;
pub mod hole;
pub mod jig;
pub mod joining;
pub mod order;
pub mod outside;
pub mod pillar;
pub mod plate;
pub mod round;
pub mod second;
pub mod sheet;
pub mod slot;
pub mod stock;
pub mod tapping;
pub mod teeth;
pub mod thread;
pub mod time;
pub mod turned;

pub use caution::Caution;
pub use time::Spread;

use crate::plan::batch::Batch;
use movement::part::{Body, Part};
use reckon::{AngularSpeed, Book, Id, Length, Trouble, Val};
use record::facts::Shop;

/// A number to be read at arm's length.
#[derive(Clone, Debug)]
pub struct Figure {
    /// What it is.
    pub label: String,
    /// As shown, unit included.
    pub text: String,
    /// Where it stands in the book.
    pub id: Option<Id>,
}
impl Figure {
    /// A figure of the book.
    pub fn of<T: reckon::Shown>(label: &str, v: &Val<T>) -> Figure {
        Figure { label: label.to_owned(), text: v.shown(), id: Some(v.id()) }
    }
    /// A figure of the book with a text of its own, such as a dial reading.
    pub fn as_text<T: reckon::Shown>(label: &str, v: &Val<T>, text: impl Into<String>) -> Figure {
        Figure { label: label.to_owned(), text: text.into(), id: Some(v.id()) }
    }
}
/// Something to measure before going on.
#[derive(Clone, Debug)]
pub struct Check {
    /// What is measured.
    pub what: String,
    /// Between which sizes, largest first.
    pub limits: Option<(Length, Length)>,
    /// What else has to be seen.
    pub seen: Option<String>,
    /// Where its size stands in the book.
    pub id: Option<Id>,
}
/// A table of the book to be printed with an operation.
#[derive(Clone, Debug)]
pub struct PassTable {
    /// Title.
    pub title: String,
    /// Where it stands in the book.
    pub id: Id,
}
/// One operation.
#[derive(Clone, Debug, Default)]
pub struct Operation {
    /// What is done, in two or three words.
    pub title: String,
    /// How, a sentence a line.
    pub lines: Vec<String>,
    /// With which tool.
    pub tool: Option<String>,
    /// Spindle speed.
    pub speed: Option<Val<AngularSpeed>>,
    /// Feed a turn.
    pub feed: Option<Val<Length>>,
    /// Numbers needed now.
    pub figures: Vec<Figure>,
    /// Passes.
    pub tables: Vec<PassTable>,
    /// What to measure.
    pub checks: Vec<Check>,
    /// What can hurt.
    pub cautions: Vec<Caution>,
    /// What it is in the words of [`heat::order::WORKS`], where its place in the order matters.
    pub does: Vec<&'static str>,
    /// What it is to a program of the lathe, where one may do it.
    pub program: Option<crate::nc::lathe::OnLathe>,
    /// What its heat sheet tells, where it is a heat.
    pub heat: Option<Box<fire::Card>>,
    /// The holes that it drills, where it drills a list of them.
    pub holes: Vec<drills::Listed>,
    /// Why the work that it drills goes under no spindle of the shop, where it does not.
    pub no_spindle: Option<String>,
    /// How long it takes for one piece.
    pub time: Spread,
}
/// How work is held.
#[derive(Clone, Debug)]
pub struct Held {
    /// By what, in words.
    pub by: String,
    /// Remarks: how far in, on what, with what care.
    pub lines: Vec<String>,
    /// Deepest cut it can stand at the roughing feed.
    pub deepest: Option<Val<Length>>,
    /// How far the work stands out.
    pub overhang: Option<Val<Length>>,
}
/// Work held once.
#[derive(Clone, Debug)]
pub struct SetUp {
    /// What is done at it.
    pub title: String,
    /// On which machine, or at the bench.
    pub machine: String,
    /// How it is held.
    pub held: Held,
    /// In order.
    pub operations: Vec<Operation>,
    /// Time to set it up, once for the batch.
    pub time: Spread,
}
impl SetUp {
    /// Whether one of its operations is a work in the words of [`heat::order::WORKS`].
    #[must_use]
    pub fn does(&self, work: &str) -> bool {
        self.operations.iter().any(|o| o.does.contains(&work))
    }
}
/// A tool that has to be made first: a part too.
#[derive(Clone, Debug)]
pub struct ShopTool {
    /// Name.
    pub name: String,
    /// As it stands in dotted names.
    pub slug: String,
    /// What it is needed for.
    pub for_parts: Vec<String>,
    /// From what.
    pub blank: String,
    /// How.
    pub operations: Vec<Operation>,
    /// Its edge, to be drawn.
    pub drawing: Edge,
}
/// The edge of a shop-made tool.
#[derive(Clone, Debug)]
pub enum Edge {
    /// For a groove in a face.
    Groove(ToolDrawing),
    /// For the spaces between teeth.
    Tooth(ToothEdge),
}
impl Edge {
    /// The edge of a groove's tool.
    #[must_use]
    pub fn groove(&self) -> Option<&ToolDrawing> {
        match self {
            Edge::Groove(g) => Some(g),
            Edge::Tooth(_) => None,
        }
    }
}
/// What is drawn of a cutter for teeth.
#[derive(Clone, Debug)]
pub struct ToothEdge {
    /// Its section, millimetres.
    pub section: teeth::Section,
    /// Module, millimetres, where the teeth have one.
    pub module: Option<f64>,
    /// Teeth or leaves that it is made for.
    pub count: u32,
    /// Whether they are leaves of a pinion.
    pub leaves: bool,
    /// Relief behind its end, degrees.
    pub relief: f64,
    /// Relief of its sides, degrees.
    pub side: f64,
    /// Height of the tongue under its edge, millimetres.
    pub height: f64,
    /// Circle in which its edge goes round, millimetres across.
    pub swing: f64,
    /// Form of the teeth in words.
    pub form: String,
}
/// What is drawn of a form tool: its edge seen from above, millimetres, x across and y towards the work.
#[derive(Clone, Debug)]
pub struct ToolDrawing {
    /// Form of the edge.
    pub form: record::facts::GrooveForm,
    /// Width of the edge.
    pub width: f64,
    /// Depth of the groove.
    pub depth: f64,
    /// Depth that it has to reach, with what is left over.
    pub reach: f64,
    /// Radius of a round edge.
    pub nose: Option<f64>,
    /// Front clearance, degrees.
    pub end_clearance: f64,
    /// Relief of the side towards the outer wall, degrees.
    pub outer_relief: f64,
    /// Relief of the other side, degrees.
    pub inner_relief: f64,
    /// Height of the edge's blank, millimetres.
    pub height: f64,
}
/// The plan of one part.
#[derive(Clone, Debug)]
pub struct PartPlan {
    /// Index of the part.
    pub part: usize,
    /// How many are made.
    pub batch: Batch,
    /// What it is made from.
    pub stock: stock::StockChoice,
    /// In order.
    pub setups: Vec<SetUp>,
    /// Heat and finish: words, order with its reasons, ladder. Their operations stand in the set-ups.
    pub finish: finish::Finished,
    /// Slugs of shop-made tools it waits for.
    pub waits_for: Vec<String>,
    /// Time for the whole batch.
    pub time: time::Total,
}
/// The plan of everything.
#[derive(Clone, Debug)]
pub struct Making {
    /// A plan a part, in the order of the parts.
    pub parts: Vec<PartPlan>,
    /// Tools to be made first.
    pub tools: Vec<ShopTool>,
    /// Jigs, mandrels, laps and templates to be made first.
    pub jigs: Vec<jig::Jig>,
    /// What is cut from which bar.
    pub cut_list: stock::CutList,
    /// What is missing.
    pub buy: Vec<stock::Buy>,
    /// How the clock is put together; nothing for parts alone.
    pub assembly: Option<assembly::Assembly>,
    /// What the mill does by program, decided and not yet written.
    pub drafts: Vec<crate::nc::mill::Draft>,
    /// Wheels that it cuts by program, likewise.
    pub wheels: Vec<crate::nc::mill::wheel::Draft>,
    /// Programs of machines that follow them, not yet proved; none before [`Making::write_programs`].
    pub programs: Vec<crate::nc::hand_over::Program>,
    /// What is polished together.
    pub shine: Vec<finish::Together>,
    /// Order of work over all of it.
    pub order: order::Order,
}

/// A text that begins a sentence.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
}
/// Plans parts of which none is joined to another.
pub fn plan(shop: &Shop, parts: &[Part], book: &mut Book) -> (Making, Vec<Trouble>) {
    plan_whole(shop, parts, &order::Around::default(), book)
}
/// Plans everything, from the first bar to the clock that goes. Without a lathe in the shop turned parts get no plan
/// but a trouble.
pub fn plan_whole(
    shop: &Shop,
    parts: &[Part],
    around: &order::Around<'_>,
    book: &mut Book,
) -> (Making, Vec<Trouble>) {
    let mut troubles = Vec::new();
    let mut plans = Vec::new();
    let mut tools = Vec::new();
    let mut jigs = jig::Jigs::default();
    let mut share = sheet::Share::out(shop, parts);
    for (index, part) in parts.iter().enumerate() {
        let made = match &part.body {
            Body::Turned(body) => turned::plan(index, part, body, shop, book, &mut tools, &mut jigs),
            Body::Flat(body) => flat::plan(index, part, body, shop, book, &mut tools, &mut jigs, &share),
        };
        match made {
            Ok(p) => plans.push(p),
            Err(t) => troubles.push(*t),
        }
    }
    jig::lap::for_ladders(parts, &mut plans, shop, &mut jigs, book);
    joining::add(around.joints, parts, &mut plans, book);
    let (jigs, more) = jigs.planned(shop, parts.len(), &mut share, &mut tools, book);
    troubles.extend(more);
    for plan in &mut plans {
        let name = &parts[plan.part].common.name;
        let wanted = jigs.iter().filter(|j| j.for_parts.contains(name));
        plan.waits_for.extend(wanted.map(|j| j.part.slug().to_owned()));
    }
    let all: Vec<&Part> = parts.iter().chain(jigs.iter().map(|j| &j.part)).collect();
    let routes: Vec<&PartPlan> = plans.iter().chain(jigs.iter().map(|j| &j.plan)).collect();
    share.tell(shop, &all, book);
    let (cut_list, buy) = stock::cut_list(shop, &all, &routes, book);
    let drafts = crate::nc::mill::drafts(shop, parts, &plans, book);
    let wheels = crate::nc::mill::wheel::drafts(shop, parts, &plans, &tools, book);
    let shine = finish::batch::together(parts, &plans, book);
    let floor =
        order::Floor { parts, plans: &plans, tools: &tools, jigs: &jigs, shine: &shine, buy: &buy, around };
    let (order, more) = order::order(&floor, book);
    troubles.extend(more);
    let both = around.movement.zip(around.clock);
    let assembly = both.map(|(m, clock)| assembly::assembly(m, clock, book));
    let mut buy = buy;
    buy.extend(around.bought.iter().cloned());
    let programs = Vec::new();
    let lacks =
        crate::nc::lacks_words(shop) || (!wheels.is_empty() && crate::nc::mill::wheel::lacks_stops(shop));
    let mut making =
        Making { parts: plans, tools, jigs, assembly, drafts, wheels, programs, cut_list, buy, shine, order };
    if lacks {
        troubles.extend(making.write_programs(shop, parts));
    }
    (making, troubles)
}
impl Making {
    /// Writes the programs, and tells at each operation which program does it. Where the control lacks a word
    /// they are written while planning, so that it is told at once; written once, they stay.
    pub fn write_programs(&mut self, shop: &Shop, parts: &[Part]) -> Vec<Trouble> {
        if !self.programs.is_empty() {
            return Vec::new();
        }
        let (mut programs, mut troubles) = crate::nc::mill::programs(shop, parts, &self.drafts);
        let (wheels, more) = crate::nc::mill::wheel::programs(shop, parts, &self.wheels);
        programs.extend(wheels);
        troubles.extend(more);
        crate::nc::refer(&programs, &mut self.parts);
        let (turned, more) = crate::nc::lathe::programs(shop, parts, &self.parts);
        crate::nc::lathe::refer(&turned, &mut self.parts);
        programs.extend(turned);
        troubles.extend(more);
        self.programs = programs;
        troubles
    }
}
