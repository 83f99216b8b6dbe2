//! Stages put one after another into programs: one for all tools where the control brings them in, else one each.

use super::super::hand_over::{Ring, SetUp};
use super::super::{Act, Habits, To};
use super::outside::{self, Cutting, FACE, Rung};
use super::stage::{CHANGE, Stage};
use kurbo::Point;
use record::facts::ToolSays;
use shape::region::Region;

/// What is done at one setting, in order.
#[derive(Clone, Debug, PartialEq)]
pub enum Do {
    /// By a tool of the program.
    Stage(Box<Stage>),
    /// By hand, before what follows.
    Hand(String),
}
/// A program at this setting.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// For the file's name.
    pub word: &'static str,
    /// What it does, in words.
    pub says: String,
    /// Titles of the operations of the part's route that it does.
    pub does: Vec<String>,
    /// Its acts.
    pub acts: Vec<Act>,
    /// Set-up for whoever proves it.
    pub set_up: SetUp,
    /// Tools: number, name, what matters.
    pub tools: Vec<(u32, String, String)>,
    /// What is done by hand before it.
    pub first: Vec<String>,
}
/// A part at its first setting.
#[derive(Clone, Debug, PartialEq)]
pub struct Work<'a> {
    /// Name of the part.
    pub name: &'a str,
    /// Its outside.
    pub rungs: &'a [Rung],
    /// How it is cut.
    pub cutting: &'a Cutting,
    /// What is done; the first is the outside.
    pub order: &'a [Do],
}

/// Stages that one program does, and what the maker does by hand before it.
#[derive(Default)]
struct Group<'a> {
    first: Vec<String>,
    parts: Vec<Part<'a>>,
}
enum Part<'a> {
    Stage(&'a Stage),
    Stop(&'a str),
}
/// Which stages share a program.
fn groups<'a>(order: &'a [Do], habits: &Habits) -> Vec<Group<'a>> {
    let brings = habits.tool_word != ToolSays::Nothing;
    let stops = habits.knows("M0");
    let mut all: Vec<Group<'a>> = Vec::new();
    let mut waits: Vec<&'a str> = Vec::new();
    for what in order {
        let stage = match what {
            Do::Hand(says) => {
                waits.push(says);
                continue;
            }
            Do::Stage(stage) => stage,
        };
        let same_tool = all.last().is_some_and(|g| {
            g.parts
                .iter()
                .all(|p| matches!(p, Part::Stage(s) if s.tool == stage.tool) || matches!(p, Part::Stop(_)))
        });
        let joins = !all.is_empty() && (brings || same_tool) && (waits.is_empty() || stops);
        if !joins {
            all.push(Group { first: waits.drain(..).map(str::to_owned).collect(), parts: Vec::new() });
        }
        if let Some(group) = all.last_mut() {
            group.parts.extend(waits.drain(..).map(Part::Stop));
            group.parts.push(Part::Stage(stage));
        }
    }
    all
}
/// The programs of a work for a control.
#[must_use]
pub fn pieces(work: &Work<'_>, habits: &Habits, travel: [(f64, f64); 2]) -> Vec<Piece> {
    let c = work.cutting;
    let length: f64 = work.rungs.iter().map(|r| r.length).sum();
    let back = -(length + c.beyond) - 3.0;
    let bar = rectangle(back - 15.0, FACE, 0.0, c.bar);
    let tail = region(&rectangle(back - 15.0, -(length + c.beyond), 0.0, c.bar));
    let (drawn, with_nose) = outside::sections(work.rungs, c);
    let (drawn, with_nose) = (drawn.union(&tail), with_nose.union(&tail));
    let mut stands = region(&bar);
    // What must stay and what may stay, before the next stage.
    let (mut least, mut most) = (stands.clone(), stands.clone());
    let mut parted: Option<f64> = None;
    let mut numbers: Vec<&str> = Vec::new();
    let mut all: Vec<Piece> = Vec::new();
    for group in groups(work.order, habits) {
        let mut says: Vec<String> = Vec::new();
        let mut does: Vec<String> = Vec::new();
        let mut acts = Vec::new();
        let mut tools: Vec<(u32, String, String)> = Vec::new();
        let mut shapes = Vec::new();
        let mut word = "";
        let mut before: Option<&Stage> = None;
        for part in &group.parts {
            let stage = match part {
                Part::Stage(stage) => *stage,
                Part::Stop(hand) => {
                    acts.extend([Act::SpindleOff, Act::Stop { says: format!("by hand: {hand}") }]);
                    before = None;
                    continue;
                }
            };
            word = if word.is_empty() || word == stage.word { stage.word } else { "first-end" };
            says.push(stage.says.clone());
            does.extend(stage.does.iter().cloned());
            if stage.takes.is_empty() {
                (least, most) = (drawn.clone(), with_nose.clone());
            }
            let stays = Region::union_of(&stage.leaves.iter().map(region).collect::<Vec<_>>());
            for ring in &stage.takes {
                let gone = region(ring);
                (least, most) = (least.difference(&gone), most.difference(&gone.difference(&stays)));
            }
            parted = parted.or(stage.parts_at);
            let place = numbers.iter().position(|n| *n == stage.tool).unwrap_or_else(|| {
                numbers.push(&stage.tool);
                numbers.len() - 1
            });
            let brings = habits.tool_word != ToolSays::Nothing;
            let number = if brings { u32::try_from(place + 1).unwrap_or(1) } else { 1 };
            let mut shape = stage.shape.clone();
            shape.number = if brings { number } else { 0 };
            merge(&mut shapes, shape);
            if !tools.iter().any(|(n, _, _)| *n == number) {
                tools.push((number, stage.tool.clone(), stage.matters.clone()));
            }
            if before.is_none_or(|b| b.tool != stage.tool) {
                acts.push(Act::Tool { number, says: stage.tool.clone() });
            }
            if before.is_none_or(|b| b.tool != stage.tool || (b.rpm - stage.rpm).abs() > 1e-9) {
                acts.extend([Act::Spindle { rpm: stage.rpm }, Act::Wait { seconds: 2.0 }]);
            }
            if before.is_none_or(|b| b.tool != stage.tool) {
                acts.push(Act::Rapid(To::z(CHANGE)));
            }
            acts.push(Act::Remark(stage.says.clone()));
            acts.extend(stage.acts.iter().cloned());
            acts.extend([Act::Rapid(To::x(c.bar + 10.0)), Act::Rapid(To::z(CHANGE))]);
            before = Some(stage);
        }
        let title = format!("{}: {}", work.name, says.join(", "));
        let mut whole_acts = vec![
            Act::Remark(title),
            Act::Remark("zero: axis, finished free face. begin with the tool clear in front".into()),
        ];
        whole_acts.extend(acts);
        whole_acts.extend([Act::SpindleOff, Act::End]);
        let judged = match parted {
            Some(at) => {
                let keep = region(&rectangle(-at, 50.0, -1.0, c.bar + 50.0));
                (least, most) = (least.intersection(&keep), most.intersection(&keep));
                rectangle(-at - 0.4, 5.0, 0.0, c.bar + 5.0)
            }
            None => rectangle(-length, 5.0, 0.0, c.bar + 5.0),
        };
        let jaws = rectangle(back - 15.0, back, c.bar, c.bar + 20.0);
        all.push(Piece {
            word,
            says: says.join(", "),
            does,
            acts: whole_acts,
            set_up: SetUp::Lathe {
                stock: rings(&stands),
                jaws: vec![jaws],
                least: rings(&least),
                most: rings(&most),
                judged,
                tools: shapes,
                travel,
            },
            tools,
            first: group.first,
        });
        stands = most.clone();
    }
    all
}
/// One tool of a number stands what the tenderest of its stages asks.
fn merge(shapes: &mut Vec<super::super::hand_over::ToolShape>, shape: super::super::hand_over::ToolShape) {
    let Some(own) = shapes.iter_mut().find(|s| s.number == shape.number) else {
        shapes.push(shape);
        return;
    };
    own.near_axis = own.near_axis.or(shape.near_axis);
    own.most_bite = match (own.most_bite, shape.most_bite) {
        (Some(a), Some(b)) => Some(a.max(b)),
        (a, b) => a.or(b),
    };
}
fn rectangle(z0: f64, z1: f64, r0: f64, r1: f64) -> Ring {
    vec![(z0, r0), (z1, r0), (z1, r1), (z0, r1)]
}
fn region(ring: &Ring) -> Region {
    let points: Vec<Point> = ring.iter().map(|&p| Point::from(p)).collect();
    Region::polygon(&points).unwrap_or_else(|_| Region::empty())
}
/// The rings of the piece that is held, or of the largest.
fn rings(region: &Region) -> Vec<Ring> {
    let area = |rings: &Vec<Vec<Point>>| {
        Region::with_holes(&rings[0], &rings[1..]).map_or(0.0, |piece| piece.area())
    };
    let all = region.polygons();
    let largest = all.into_iter().max_by(|a, b| area(a).total_cmp(&area(b)));
    largest.map_or_else(Vec::new, |rings| {
        rings.iter().map(|ring| ring.iter().map(|p| (p.x, p.y)).collect()).collect()
    })
}
