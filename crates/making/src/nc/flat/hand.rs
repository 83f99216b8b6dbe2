//! Jobs written out and handed over with their set-up.

use super::super::hand_over::{CutterShape, Does, Layer, Program, Ring, SetUp};
use super::super::{Act, Cannot, Habits, mill, write};
use super::path::{self, Dips, Going};
use super::{Cut, Job, Tool, What};
use kurbo::{Point, Vec2};
use reckon::maths::{PI, tan};
use shape::flat::Flat;
use shape::profile::Profile;
use shape::region::Region;

/// Height of travel over the work.
const SAFE: f64 = 8.0;
/// Thickness of the waste board.
const WASTE: f64 = 8.0;
/// How high and how wide clamps are.
const CLAMP: f64 = 6.0;
const FRAME: f64 = 12.0;

/// What a job is done to.
#[derive(Copy, Clone, Debug)]
pub struct Piece<'a> {
    /// Index of the part.
    pub part: usize,
    /// Its name.
    pub name: &'a str,
    /// Its slug.
    pub slug: &'a str,
    /// Its solid.
    pub solid: &'a Flat,
    /// Name of the mill.
    pub machine: &'a str,
}
/// The programs of a job for a control.
///
/// # Errors
/// The words that the control lacks.
pub fn written(job: &Job, piece: &Piece<'_>, habits: &Habits) -> Result<Vec<Program>, Vec<Cannot>> {
    let part = piece.part;
    let work = Work::of(job, piece.solid);
    let mut groups: Vec<Vec<&Cut>> = Vec::new();
    for cut in &job.cuts {
        match groups.last_mut() {
            Some(group) if habits.knows("M6") || group[0].tool == cut.tool => group.push(cut),
            _ => groups.push(vec![cut]),
        }
    }
    let mut all = Vec::new();
    let mut before = work.stock.clone();
    let many = groups.len() > 1;
    for (i, group) in groups.iter().enumerate() {
        let doing: Vec<Cut> = group.iter().map(|&cut| cut.clone()).collect();
        let mut acts = vec![
            Act::Remark(format!("{}: {}", piece.name, said(&doing))),
            Act::Remark(
                "zero: lower left corner of the part's rectangle, upper face of the sheet".to_owned(),
            ),
            Act::Remark(format!("sheet {} mm; first run 20 mm high, in air", figure(work.thick))),
        ];
        let mut after = before.clone();
        let mut tools: Vec<&Tool> = Vec::new();
        for cut in group {
            if tools.last() != Some(&&cut.tool) {
                tools.push(&cut.tool);
                acts.push(Act::Tool { number: number(tools.len()), says: cut.tool.name.clone() });
            }
            acts.push(Act::Spindle { rpm: habits.speed(cut.rpm) });
            acts.push(Act::Wait { seconds: 2.0 });
            acts.extend(work.acts(cut, job));
            after = work.after(after, cut, job);
        }
        acts.push(Act::End);
        let text = write(&acts, habits)?;
        let numbered = tools.len() > 1 || !matches!(habits.tool_word, record::facts::ToolSays::Nothing);
        let slug = piece.slug.replace(['_', '.'], "-");
        let name = if many {
            format!("{slug}-{}-{}", i + 1, short(group[0]))
        } else {
            format!("{slug}-{}", short(group[0]))
        };
        let mut holding = work.holding.clone();
        if i > 0 {
            holding.push("As the program before has left it: nothing is taken off the board, the zero stays; only the cutter's length is touched off anew.".to_owned());
        }
        all.push(Program {
            name,
            title: format!("{}: {}", piece.name, said(&doing)),
            part,
            does: does(group),
            machine: piece.machine.to_owned(),
            text,
            set_up: SetUp::Mill {
                stock: layers(&before),
                clamps: work.clamps(),
                least: layers(&after.least()),
                most: layers(&after.most()),
                cutters: tools
                    .iter()
                    .enumerate()
                    .map(|(k, t)| shape(t, if numbered { number(k + 1) } else { 0 }))
                    .collect(),
                travel: work.travel(habits.travel),
            },
            habits: habits.clone(),
            room: job.room,
            holding,
            tools: group_tools(&tools),
            after: work.afterwards(group),
        });
        before = after.most();
    }
    Ok(all)
}
/// The operations of a flat part's route that cuts stand for; windows are sawn with the outline.
fn does(group: &[&Cut]) -> Does {
    let mut titles: Vec<String> = Vec::new();
    for cut in group {
        let title = match cut.what {
            What::Spots(_) | What::Holes(_) => mill::DRILLED,
            What::Windows | What::Outline(_) => mill::OUTLINED,
        };
        if titles.last().is_none_or(|t| t != title) {
            titles.push(title.to_owned());
        }
    }
    Does { titles, alone: false }
}
fn number(i: usize) -> u32 {
    u32::try_from(i).unwrap_or(u32::MAX)
}
fn figure(v: f64) -> String {
    reckon::print::fixed(v, 3).trim_end_matches('0').trim_end_matches('.').to_owned()
}
fn short(cut: &Cut) -> String {
    match cut.what {
        What::Spots(_) => "spot".to_owned(),
        What::Holes(_) => format!("drill-{}", figure(cut.tool.across).replace('.', "-")),
        What::Windows => "windows".to_owned(),
        What::Outline(_) => "outline".to_owned(),
    }
}
fn said(cuts: &[Cut]) -> String {
    let words: Vec<String> = cuts
        .iter()
        .map(|c| match &c.what {
            What::Spots(at) => format!("spot {} hole{}", at.len(), if at.len() == 1 { "" } else { "s" }),
            What::Holes(at) => format!(
                "drill {} hole{} of {}",
                at.len(),
                if at.len() == 1 { "" } else { "s" },
                figure(c.tool.across)
            ),
            What::Windows => "windows".to_owned(),
            What::Outline(_) => "outline".to_owned(),
        })
        .collect();
    words.join(", ")
}
fn group_tools(tools: &[&Tool]) -> Vec<(u32, String, String)> {
    let off =
        "tip on a strip of paper of known thickness on the upper face, spindle at rest; subtract the paper";
    tools
        .iter()
        .enumerate()
        .map(|(k, t)| {
            let held = format!("{}, {} mm out of the nose or collet, no more", t.name, figure(t.projects));
            (number(k + 1), held, off.to_owned())
        })
        .collect()
}
fn shape(t: &Tool, number: u32) -> CutterShape {
    let r = t.across / 2.0;
    let mut profile = Vec::new();
    match t.point {
        Some(angle) => {
            profile.push((0.0, 0.0));
            profile.push((r / tan(angle.clamp(10.0, 179.0) * PI / 360.0), r));
        }
        None => profile.push((0.0, r)),
    }
    profile.push((t.flutes, r));
    CutterShape {
        number,
        profile,
        shank: vec![
            (t.flutes, t.projects.max(t.flutes), r.max(1.5)),
            (t.projects.max(t.flutes), t.projects.max(t.flutes) + 30.0, 15.0),
        ],
        projects: t.projects,
        most_feed: Some(t.most_feed),
    }
}

/// Metal in two heights: below and above the top of the tabs.
#[derive(Clone, Debug)]
struct Metal {
    thick: f64,
    /// Height of the division above the lower face; none when all is one.
    split: f64,
    least: [Region; 2],
    most: [Region; 2],
}
impl Metal {
    fn most(&self) -> Metal {
        Metal { least: self.most.clone(), ..self.clone() }
    }
    fn least(&self) -> Metal {
        Metal { most: self.least.clone(), ..self.clone() }
    }
}
fn layers(metal: &Metal) -> Vec<Layer> {
    let low = -metal.thick;
    let middle = low + metal.split;
    [(low, middle, &metal.most[0]), (middle, 0.0, &metal.most[1])]
        .into_iter()
        .filter(|(a, b, _)| b - a > 1e-9)
        .map(|(low, high, region)| Layer { low, high, pieces: rings(region) })
        .collect()
}
fn rings(region: &Region) -> Vec<Vec<Ring>> {
    let ring = |r: Vec<Point>| r.into_iter().map(|p| (p.x, p.y)).collect::<Ring>();
    region.polygons().into_iter().map(|piece| piece.into_iter().map(ring).collect()).collect()
}
/// The work on the board, in the program's coordinates.
struct Work {
    outline: Profile,
    windows: Vec<Profile>,
    /// From the part's coordinates to the program's.
    shift: Vec2,
    stock: Metal,
    thick: f64,
    /// Where clamps stand.
    frame: Region,
    board: Region,
    holding: Vec<String>,
}
impl Work {
    fn of(job: &Job, solid: &Flat) -> Work {
        let thick = solid.thickness;
        let bounds = solid.outline.bounds();
        let shift = Vec2::new(-bounds.x0, -bounds.y0);
        let m = job.margin;
        let size = Point::new(bounds.width() + m, bounds.height() + m);
        let blank = Region::rectangle(Point::new(-m, -m), size).unwrap_or_default();
        let frame = Region::rectangle(Point::new(-m - FRAME, -m - FRAME), size + Vec2::new(FRAME, FRAME))
            .unwrap_or_default()
            .difference(&blank);
        let holding = vec![
            format!(
                "A sheet of {} mm, at least {} × {} mm free between its clamps, on a flat board of waste 8 mm or thicker; clamped outside of that, no clamp higher than 6 mm.",
                figure(thick),
                figure((bounds.width() + 2.0 * m).ceil()),
                figure((bounds.height() + 2.0 * m).ceil())
            ),
            format!(
                "Zero of X and Y: the lower left corner of the part's rectangle, as its hole list has it; {} mm in from the free left and lower edge or more. Zero of Z: the upper face.",
                figure(m)
            ),
        ];
        let moved = |p: &Profile| p.mapped(|q| q + shift);
        let split = job.cuts.iter().find_map(|c| match c.what {
            What::Outline(Some(t)) => Some(t.thick),
            _ => None,
        });
        let board = blank.bounds().map_or_else(Region::empty, |b| {
            let b = b.inflate(10.0, 10.0);
            Region::rectangle(Point::new(b.x0, b.y0), Point::new(b.x1, b.y1)).unwrap_or_default()
        });
        Work {
            outline: moved(&solid.outline),
            windows: solid.windows.iter().map(moved).collect(),
            shift,
            stock: Metal {
                thick,
                split: split.unwrap_or(0.0),
                least: [blank.clone(), blank.clone()],
                most: [blank.clone(), blank],
            },
            thick,
            frame,
            board,
            holding,
        }
    }
    fn going(&self, cut: &Cut, job: &Job) -> Going {
        Going {
            across: cut.tool.across,
            depth: self.thick + job.below,
            step: cut.step,
            feed: cut.feed,
            down: cut.down,
            leave: job.leave,
            safe: SAFE,
        }
    }
    /// Tabs are as thick as told above the lower face of the work, not of the cut.
    fn tabs(tabs: Option<super::Tabs>, job: &Job) -> Option<super::Tabs> {
        tabs.map(|t| super::Tabs { thick: t.thick + job.below, ..t })
    }
    fn acts(&self, cut: &Cut, job: &Job) -> Vec<Act> {
        match &cut.what {
            What::Spots(at) => {
                let at: Vec<Point> = at.iter().map(|(p, _)| *p + self.shift).collect();
                path::holes(&at, &Dips { ends: cut.dips.clone(), feed: cut.down, safe: SAFE })
            }
            What::Holes(at) => {
                let at: Vec<Point> = at.iter().map(|p| *p + self.shift).collect();
                path::holes(&at, &Dips { ends: cut.dips.clone(), feed: cut.down, safe: SAFE })
            }
            What::Windows => {
                let g = self.going(cut, job);
                self.windows.iter().flat_map(|w| path::window(w, &g)).collect()
            }
            What::Outline(tabs) => {
                path::outline(&self.outline, Self::tabs(*tabs, job), &self.going(cut, job))
            }
        }
    }
    /// Metal after a cut: what must be left, and what may.
    fn after(&self, metal: Metal, cut: &Cut, job: &Job) -> Metal {
        let off = |regions: &[Region; 2], gone: &Region| [0, 1].map(|i| regions[i].difference(gone));
        let disc = |p: Point, d: f64| Region::disc(p, d / 2.0, path_fine()).unwrap_or_default();
        match &cut.what {
            What::Spots(at) => {
                let all: Vec<Region> = at.iter().map(|&(p, d)| disc(p + self.shift, d)).collect();
                Metal { least: off(&metal.least, &Region::union_of(&all)), ..metal }
            }
            What::Holes(at) => {
                let all: Vec<Region> = at.iter().map(|&p| disc(p + self.shift, cut.tool.across)).collect();
                let gone = Region::union_of(&all);
                Metal { least: off(&metal.least, &gone), most: off(&metal.most, &gone), ..metal }
            }
            What::Windows => {
                let all: Vec<Region> = self.windows.iter().map(|w| path::inside(w, path_fine())).collect();
                // A round cutter leaves its radius in corners.
                let r = cut.tool.across / 2.0;
                let reached: Vec<Region> = all
                    .iter()
                    .map(|w| path::grown(&path::grown(w, -r, path_fine()), r, path_fine()))
                    .collect();
                Metal {
                    least: off(&metal.least, &Region::union_of(&all)),
                    most: off(&metal.most, &Region::union_of(&reached)),
                    ..metal
                }
            }
            What::Outline(tabs) => {
                let d = cut.tool.across;
                let inner = path::inside(&self.outline, path_fine());
                let way = path::grown(&inner, d / 2.0, path_fine());
                // The same in hollow corners.
                let stays = path::grown(&way, -d / 2.0, path_fine());
                let slot = path::grown(&way, d / 2.0, path_fine()).difference(&stays);
                let held = tabs.map_or_else(Region::empty, |t| {
                    path::tab_regions(&self.outline, t, &self.going(cut, job))
                });
                let keep = |r: &Region| r.intersection(&inner);
                Metal {
                    least: [keep(&metal.least[0]), keep(&metal.least[1])],
                    most: [
                        metal.most[0].difference(&slot.difference(&held)),
                        metal.most[1].difference(&slot),
                    ],
                    ..metal
                }
            }
        }
    }
    fn clamps(&self) -> Vec<Layer> {
        let mut all = vec![Layer {
            low: -self.thick - WASTE - 10.0,
            high: -self.thick - WASTE,
            pieces: rings(&self.board),
        }];
        all.push(Layer { low: -self.thick, high: CLAMP, pieces: rings(&self.frame) });
        all
    }
    /// Travel with the part in its middle and the last depth just above the lowest place.
    fn travel(&self, [x, y, z]: [f64; 3]) -> [(f64, f64); 3] {
        let c = self.outline.bounds().center();
        let low = -self.thick - 3.0;
        [(c.x - x / 2.0, c.x + x / 2.0), (c.y - y / 2.0, c.y + y / 2.0), (low, low + z)]
    }
    fn afterwards(&self, group: &[&Cut]) -> Vec<String> {
        let mut all = Vec::new();
        for cut in group {
            match cut.what {
                What::Windows => all.push("Windows: deburr both faces; corners keep the cutter's radius, file out those that the template has sharper.".to_owned()),
                What::Outline(Some(_)) => all.push("Saw through the bridges, file them to the line; deburr.".to_owned()),
                What::Outline(None) => all.push("Break the edges.".to_owned()),
                What::Holes(_) => all.push("Try one hole with a pin or the shank of its drill before going on.".to_owned()),
                What::Spots(_) => all.push("Drill through each spot on the bench drill to the size of the hole list: the drill finds its place by itself. Ream, tap and countersink as the part's sheet has it.".to_owned()),
            }
        }
        all.dedup();
        all
    }
}
const fn path_fine() -> f64 {
    0.001
}
