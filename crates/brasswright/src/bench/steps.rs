//! The way of a part: its steps in their order, which of them are done, and which comes next.

use super::floor::State;
use crate::work::Work;
use journal::{Standing, State as Stands};
use making::plan::order::{Job, Of, Order};
use making::plan::{Held, Operation, PartPlan, SetUp, Spread};
use movement::part::Part;
use reckon::{Cell, Origin};

/// Something that is made: a part, a jig or a tool.
#[derive(Clone, Copy)]
pub struct Way<'a> {
    /// As written.
    pub name: &'a str,
    /// As it stands in dotted names.
    pub slug: &'a str,
    /// One or two words for what it is.
    pub kind: &'a str,
    /// The part, where it is one.
    pub part: Option<&'a Part>,
    /// Its plan, where it has one.
    pub plan: Option<&'a PartPlan>,
    /// Steps of a tool, which is not planned like a part.
    ops: &'a [Operation],
    /// How many are made.
    pub pieces: u32,
    /// The order of work, and what of it this is: a job that was told to be done by its name is done.
    order: (&'a Order, Made),
}
/// What is made, by its place in the plan.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Made {
    Part(usize),
    Jig(usize),
    Tool(usize),
}
/// A step: which set-up, and which operation of it; none for setting up.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Stage {
    /// From 0.
    pub setup: usize,
    /// From 0.
    pub op: Option<usize>,
}
impl Stage {
    /// As the journal names it: set-up and operation from 1, 0 for setting up.
    #[must_use]
    pub fn id(self) -> String {
        format!("{}.{}", self.setup + 1, self.op.map_or(0, |o| o + 1))
    }
    /// The step of a name.
    #[must_use]
    pub fn of(text: &str) -> Option<Stage> {
        let (s, o) = text.split_once('.')?;
        let (s, o): (usize, usize) = (s.parse().ok()?, o.parse().ok()?);
        Some(Stage { setup: s.checked_sub(1)?, op: o.checked_sub(1) })
    }
}
/// A step of one piece, or of all together.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct At {
    /// The step.
    pub stage: Stage,
    /// The piece, from 1; none where it is done to all together.
    pub piece: Option<u32>,
}
/// All that is made.
#[must_use]
pub fn ways(state: &State) -> Vec<Way<'_>> {
    ways_of(&state.work)
}
/// The same of a project that was worked out.
#[must_use]
pub fn ways_of(work: &Work) -> Vec<Way<'_>> {
    let Some(making) = &work.making else { return Vec::new() };
    let of = |part: &'_ Part, plan: &'_ PartPlan| pieces(part, plan);
    let tools = making.tools.iter().enumerate().map(|(i, t)| Way {
        name: &t.name,
        slug: &t.slug,
        kind: "tool",
        part: None,
        plan: None,
        ops: &t.operations,
        pieces: 1,
        order: (&making.order, Made::Tool(i)),
    });
    let jigs = making.jigs.iter().enumerate().map(|(i, j)| Way {
        name: &j.part.common.name,
        slug: j.part.slug(),
        kind: "jig",
        part: Some(&j.part),
        plan: Some(&j.plan),
        ops: &[],
        pieces: of(&j.part, &j.plan),
        order: (&making.order, Made::Jig(i)),
    });
    let parts = making.parts.iter().enumerate().filter_map(|(i, plan)| {
        let part = work.parts.get(plan.part)?;
        Some(Way {
            name: &part.common.name,
            slug: part.slug(),
            kind: part.kind.word(),
            part: Some(part),
            plan: Some(plan),
            ops: &[],
            pieces: of(part, plan),
            order: (&making.order, Made::Part(i)),
        })
    });
    tools.chain(jigs).chain(parts).collect()
}
fn pieces(_: &Part, plan: &PartPlan) -> u32 {
    u32::try_from(plan.batch.total.bare().0).unwrap_or(1).max(1)
}
/// The one of a slug.
#[must_use]
pub fn way<'a>(state: &'a State, slug: &str) -> Option<Way<'a>> {
    ways(state).into_iter().find(|w| w.slug == slug)
}
impl<'a> Way<'a> {
    /// How many set-ups.
    #[must_use]
    pub fn setups(&self) -> usize {
        self.plan.map_or(1, |p| p.setups.len())
    }
    /// A set-up, where it is planned as one.
    #[must_use]
    pub fn setup(&self, at: usize) -> Option<&'a SetUp> {
        self.plan?.setups.get(at)
    }
    /// Title of a set-up.
    #[must_use]
    pub fn title(&self, at: usize) -> &'a str {
        self.setup(at).map_or("at the bench", |s| s.title.as_str())
    }
    /// Machine of a set-up.
    #[must_use]
    pub fn machine(&self, at: usize) -> &'a str {
        self.setup(at).map_or("bench", |s| s.machine.as_str())
    }
    /// How the work is held.
    #[must_use]
    pub fn held(&self, at: usize) -> Option<&'a Held> {
        self.setup(at).map(|s| &s.held)
    }
    /// Operations of a set-up.
    #[must_use]
    pub fn ops(&self, at: usize) -> &'a [Operation] {
        match self.plan {
            Some(p) => p.setups.get(at).map_or(&[], |s| s.operations.as_slice()),
            None => self.ops,
        }
    }
    /// An operation.
    #[must_use]
    pub fn op(&self, stage: Stage) -> Option<&'a Operation> {
        self.ops(stage.setup).get(stage.op?)
    }
    /// Whether there is such a step.
    #[must_use]
    pub fn has(&self, stage: Stage) -> bool {
        match stage.op {
            None => self.setup(stage.setup).is_some(),
            Some(_) => self.op(stage).is_some(),
        }
    }
    /// How long a step takes.
    #[must_use]
    pub fn time(&self, stage: Stage) -> Spread {
        match stage.op {
            None => self.setup(stage.setup).map_or_else(Spread::default, |s| s.time),
            Some(_) => self.op(stage).map_or_else(Spread::default, |o| o.time),
        }
    }
    /// Whether a set-up takes all pieces together: heat, and what is done at the benches of finish.
    #[must_use]
    pub fn together(&self, setup: usize) -> bool {
        let Some(s) = self.setup(setup) else { return true };
        self.pieces == 1
            || matches!(s.machine.as_str(), "hearth" | "finishing bench" | "clean bench")
            || s.operations.iter().any(|o| o.heat.is_some())
    }
    /// Every step in the order in which it is done, piece by piece where that is the way.
    #[must_use]
    pub fn stages(&self) -> Vec<At> {
        let mut out = Vec::new();
        for setup in 0..self.setups() {
            if self.setup(setup).is_some() {
                out.push(At { stage: Stage { setup, op: None }, piece: None });
            }
            let ops = 0..self.ops(setup).len();
            if self.together(setup) {
                out.extend(ops.map(|o| At { stage: Stage { setup, op: Some(o) }, piece: None }));
            } else {
                for piece in 1..=self.pieces {
                    let of = |o| At { stage: Stage { setup, op: Some(o) }, piece: Some(piece) };
                    out.extend(ops.clone().map(of));
                }
            }
        }
        out
    }
    /// Whether a step is done: its last word was that it is, not how far it is.
    #[must_use]
    pub fn done(&self, standing: &Standing, at: At) -> bool {
        let of = standing.steps.get(self.slug).and_then(|s| s.get(&at.stage.id()));
        let told = |p: u32| of.and_then(|of| of.get(&p)).is_some_and(Option::is_none);
        told(0) || at.piece.is_some_and(told) || self.told(standing, at)
    }
    /// Whether the job that a step belongs to was told to be done, on the command line.
    fn told(&self, standing: &Standing, at: At) -> bool {
        let Some(steps) = standing.steps.get(self.slug) else { return false };
        if steps.keys().all(|k| Stage::of(k).is_some()) {
            return false;
        }
        let mine = |j: &&Job| match (j.kind, self.order.1) {
            (Of::Part(i, s), Made::Part(own)) => i == own && s == at.stage.setup,
            (Of::Jig(i), Made::Jig(own)) | (Of::Tool(i), Made::Tool(own)) => i == own,
            _ => false,
        };
        let of = self.order.0.jobs.iter().filter(mine).filter_map(|j| steps.get(&j.title));
        of.into_iter().any(|pieces| {
            let whole = |p: u32| pieces.get(&p).is_some_and(Option::is_none);
            whole(0) || at.piece.is_some_and(whole)
        })
    }
    /// How far within a step, where it was told.
    #[must_use]
    pub fn count(&self, standing: &Standing, at: At) -> u32 {
        standing.count(self.slug, &at.stage.id(), at.piece).unwrap_or(0)
    }
    /// Whether it is a job of the order that makes this.
    #[must_use]
    pub fn makes(&self, j: &Job) -> bool {
        match (j.kind, self.order.1) {
            (Of::Part(i, _), Made::Part(own)) => i == own,
            (Of::Jig(i), Made::Jig(own)) | (Of::Tool(i), Made::Tool(own)) => i == own,
            _ => false,
        }
    }
    /// Whether all steps of a job are done, or every piece is made.
    #[must_use]
    pub fn finished(&self, standing: &Standing, j: &Job) -> bool {
        let of = |at: &At| !matches!(j.kind, Of::Part(_, s) if s != at.stage.setup);
        let mut mine = self.stages().into_iter().filter(of).peekable();
        self.stands(standing) == Stands::Made
            || (mine.peek().is_some() && mine.all(|at| self.done(standing, at)))
    }
    /// How many of its steps are done, of how many.
    #[must_use]
    pub fn far(&self, standing: &Standing) -> (usize, usize) {
        let all = self.stages();
        (all.iter().filter(|at| self.done(standing, **at)).count(), all.len())
    }
    /// The step that comes next; none when all are done.
    #[must_use]
    pub fn next(&self, standing: &Standing) -> Option<At> {
        self.stages().into_iter().find(|at| !self.done(standing, *at))
    }
    /// The steps after and before one.
    #[must_use]
    pub fn around(&self, at: At) -> (Option<At>, Option<At>) {
        let all = self.stages();
        let here = all.iter().position(|a| *a == at);
        let before = here.and_then(|h| h.checked_sub(1)).and_then(|h| all.get(h).copied());
        (before, here.and_then(|h| all.get(h + 1).copied()))
    }
    /// How it stands as a whole: what the least of its pieces is.
    #[must_use]
    pub fn stands(&self, standing: &Standing) -> Stands {
        let all: Vec<Stands> = (1..=self.pieces).map(|p| standing.state(self.slug, p)).collect();
        if all.iter().all(|s| *s == Stands::Made) {
            Stands::Made
        } else if all.iter().all(|s| *s == Stands::Scrapped) {
            Stands::Scrapped
        } else if all.iter().any(|s| *s != Stands::Wanted) || standing.begun(self.slug) {
            Stands::Roughed
        } else {
            Stands::Wanted
        }
    }
}
/// What is counted within a step.
pub struct Counted<'a> {
    /// Teeth, passes, boxes, holes.
    pub kind: Kind,
    /// How many.
    pub whole: u32,
    /// Its table: heads and rows.
    pub columns: &'a [String],
    /// Rows.
    pub rows: &'a [Vec<Cell>],
    /// Name of the table in the book.
    pub name: &'a str,
}
/// What is counted.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Kind {
    /// Spaces between teeth.
    Teeth,
    /// Rows of a table that are gone through one after another.
    Rows,
    /// Boxes of a ladder of grains, with a barrier between two.
    Boxes,
}
/// Endings of names of tables that are gone through row by row.
const ROWS: [&str; 4] = [".passes", ".cuts", ".pecks", ".holes"];
/// What there is to count in an operation.
#[must_use]
pub fn counted<'a>(state: &'a State, op: &'a Operation) -> Option<Counted<'a>> {
    let tables = op.tables.iter().filter_map(|t| {
        let line = state.work.book.line(t.id)?;
        match &line.origin {
            Origin::Table { columns, rows, .. } => Some((line.name.as_str(), columns, rows)),
            _ => None,
        }
    });
    let all: Vec<_> = tables.collect();
    let teeth = all.iter().find(|t| t.0.ends_with(".ticks"));
    if let Some((name, columns, rows)) = teeth {
        let spaces =
            rows.iter().flat_map(|r| r.iter().take(10)).filter_map(|c| c.shown.parse().ok()).max()?;
        return Some(Counted { kind: Kind::Teeth, whole: spaces, columns, rows, name });
    }
    let boxes = |n: &str| n.ends_with(".ladder");
    let (name, columns, rows) =
        all.into_iter().find(|t| boxes(t.0) || ROWS.iter().any(|r| t.0.ends_with(r)))?;
    let whole = u32::try_from(rows.len()).ok()?;
    let kind = if boxes(name) { Kind::Boxes } else { Kind::Rows };
    (whole > 0).then_some(Counted { kind, whole, columns, rows, name })
}
