//! Teeth of wheels, one space after another, the blank turned by hand at a stop between them.
//!
//! The dividing head lies along X, the cutter turns about an upright arbor at the height of the head's axis.
//! X is nothing on the blank's outer face and goes down into it; Y is the distance of the cutter's tip from the
//! blank's axis; Z is nothing at the height of that axis and stays there.
//!
//! What it is proved against is the part's own outline, not the cutter's form: the two may differ, since one cutter
//! serves wheels of neighbouring counts, and since it leaves the bottoms straight across.

use super::super::hand_over::{Does, Program, Ring, SetUp};
use super::super::{Act, Cannot, Habits, To, write};
use crate::plan::teeth::{End, SHARED, Section, section};
use crate::plan::{Edge, PartPlan, ShopTool};
use kurbo::Point;
use movement::part::{Body, Part, Toothing};
use reckon::maths::{PI, cos, sin, sqrt};
use reckon::{Book, Count, Id, Length, Source, Trouble, Val, judge, work};
use record::facts::{CutterUse, Mill, Shop};
use shape::region::Region;
use train::dividing::{Head, Way};

/// How far off the blank the cutter waits while it is turned.
const CLEAR: f64 = 15.0;
/// How far the cutter's middle goes past a face.
const PAST: f64 = 0.3;
/// How closely the blank's edge is followed.
const FINE: f64 = 5.0e-4;

/// How true teeth are to be.
static TRUE_TO: Source = Source::practice(
    "teeth true to their outline within a hundredth of the module, and within a hundredth of a millimetre at least",
);

/// One step at a head that is turned by hand.
#[derive(Copy, Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// Whole turns of the crank.
    pub turns: u32,
    /// And holes.
    pub holes: u32,
    /// Of a circle of so many.
    pub circle: u32,
}
impl Step {
    /// How far it is turned.
    fn says(self) -> String {
        let turns = match self.turns {
            1 => "1 turn".to_owned(),
            n => format!("{n} turns"),
        };
        match (self.turns, self.holes) {
            (_, 0) => turns,
            (0, holes) => format!("{holes} holes of circle {}", self.circle),
            (_, holes) => format!("{turns} and {holes} holes of circle {}", self.circle),
        }
    }
    /// What the stop before a tooth says; teeth count from 1, the first is cut at hole 0.
    fn to(self, tooth: u32, of: u32) -> String {
        let place = match (u64::from(tooth - 1) * u64::from(self.holes)).checked_rem(u64::from(self.circle)) {
            Some(hole) if self.holes > 0 => format!(" to hole {hole}"),
            _ => String::new(),
        };
        format!("index: {}{place}, tooth {tooth} of {of}", self.says())
    }
}
/// Teeth to be cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Teeth {
    /// What is cut, for the head of the program.
    pub title: String,
    /// How many.
    pub count: u32,
    /// Radius over the tips.
    pub outside: f64,
    /// Thickness of the blank.
    pub thick: f64,
    /// Outline of the finished teeth, a space to the right.
    pub outline: Ring,
    /// The bottoms of its spaces, which a cutter leaves straight across: how far from the axis, and half their width.
    pub straight: (f64, f64),
    /// How far the teeth may be off their outline.
    pub room: f64,
    /// Form of the cutter: behind its tip, across.
    pub form: Ring,
    /// How far its tip stands from the blank's axis at full depth.
    pub root: f64,
    /// Radius of the cutter.
    pub cutter: f64,
    /// Its name.
    pub name: String,
    /// How the head is turned for one step.
    pub step: Step,
    /// Turns a minute.
    pub rpm: f64,
    /// Feed, mm a minute.
    pub feed: f64,
    /// Title of the operation that it does.
    pub does: String,
    /// How far the cutter's form is off the outline, for the sheet.
    pub off: String,
}
impl Teeth {
    /// Where the cutter begins and ends along the blank's axis: clear of the blank, and past its back.
    fn ends(&self) -> (f64, f64) {
        let left = self.cutter - (self.outside - self.root);
        (sqrt((self.cutter * self.cutter - left * left).max(0.0)) + 1.0, -self.thick - PAST)
    }
    /// The acts.
    #[must_use]
    pub fn acts(&self) -> Vec<Act> {
        let (begin, end) = self.ends();
        let clear = self.outside + CLEAR;
        let y = |y: f64| To { x: None, y: Some(y), z: None };
        let mut acts = vec![
            Act::Remark(self.title.clone()),
            Act::Remark("X zero: outer face. Y zero: axis of the head. Z zero: its height".into()),
            Act::Tool { number: 1, says: self.name.clone() },
            Act::Rapid(y(clear)),
            Act::Rapid(To::x(begin)),
            Act::Rapid(To::z(0.0)),
        ];
        for tooth in 1..=self.count {
            acts.push(Act::Spindle { rpm: self.rpm });
            acts.push(Act::Rapid(y(self.root)));
            acts.push(Act::Line { to: To::x(end), feed: self.feed });
            acts.push(Act::Rapid(y(clear)));
            acts.push(Act::Rapid(To::x(begin)));
            if tooth < self.count {
                acts.push(Act::SpindleOff);
                acts.push(Act::Stop { says: self.step.to(tooth + 1, self.count) });
            }
        }
        acts.extend([Act::SpindleOff, Act::End]);
        acts
    }
    /// The blank, the teeth that must stay and those that may, seen along the axis.
    fn outlines(&self) -> [Region; 3] {
        let blank = Region::disc(Point::ZERO, self.outside, FINE).unwrap_or_else(|_| Region::empty());
        let corners: Vec<Point> = self.outline.iter().map(|&p| Point::from(p)).collect();
        let drawn = Region::polygon(&corners).unwrap_or_else(|_| Region::empty());
        // The bottom between the corners of a space: an arc as drawn, straight as a cutter leaves it.
        let bottoms: Vec<Region> = (0..self.count)
            .filter_map(|k| {
                let a = 2.0 * PI * f64::from(k) / f64::from(self.count);
                let ((near, half), far) = (self.straight, self.straight.0 + self.straight.1);
                let corners = [(near, -half), (far, -half), (far, half), (near, half)]
                    .map(|(x, y)| Point::new(x * cos(a) - y * sin(a), x * sin(a) + y * cos(a)));
                Region::polygon(&corners).ok()
            })
            .collect();
        let least = drawn.difference(&Region::union_of(&bottoms));
        [blank, least, drawn]
    }
    /// The set-up for whoever proves it.
    #[must_use]
    pub fn set_up(&self, travel: [(f64, f64); 3]) -> SetUp {
        let rings = |region: &Region| -> Vec<Ring> {
            let rings = region.polygons().into_iter().flatten();
            rings.map(|ring| ring.iter().map(|p| (p.x, p.y)).collect()).collect()
        };
        let [blank, least, most] = self.outlines();
        SetUp::Wheel {
            blank: rings(&blank),
            least: rings(&least),
            most: rings(&most),
            backing: (self.root - 0.5).max(0.5),
            faces: (-self.thick, 0.0),
            teeth: self.count,
            radius: self.cutter,
            form: self.form.clone(),
            travel,
        }
    }
    /// The program.
    ///
    /// # Errors
    /// Each word that the control lacks.
    pub fn program(
        &self,
        (part, name, machine): (usize, String, String),
        habits: &Habits,
        travel: [(f64, f64); 3],
    ) -> Result<Program, Vec<Cannot>> {
        let (begin, end) = self.ends();
        let said = |mm: f64| reckon::print::significant(mm, 4);
        Ok(Program {
            name,
            title: self.title.clone(),
            part,
            does: Does { titles: vec![self.does.clone()], alone: false },
            machine,
            text: write(&self.acts(), habits)?,
            habits: habits.clone(),
            set_up: self.set_up(travel),
            room: self.room,
            holding: vec![
                "Dividing head along X, the blank on its arbor between washers no larger than the bottoms of the teeth, run true.".into(),
                format!("X nothing on the blank's outer face; the cutter goes from {} mm before it to {} mm behind the back: see that it finds no chuck there.", said(begin), said(-end - self.thick)),
                format!("Y: the tip of the cutter on the blank's edge, paper between, is its measured radius ({} mm drawn) and the paper.", said(self.outside)),
                "Z nothing with the middle of the cutter at the height of the head's axis; lock it there.".into(),
                "Begin with the cutter clear of the blank, Y far out. Pin in the hole marked 0, slack taken up, spindle of the head locked.".into(),
            ],
            tools: vec![(1, self.name.clone(), format!("{} mm across, Y is its tip; {}", said(2.0 * self.cutter), self.off))],
            after: vec![
                format!("At each stop the cutter stands: unlock the head, turn {}, lock it, tick the tooth, go on.", self.step.says()),
                "At the end one step more must bring the pin into hole 0 and the cutter into the first space.".into(),
            ],
        })
    }
}
/// A wheel that is to be cut by program, decided and not yet written.
#[derive(Clone, Debug)]
pub struct Draft {
    /// Index of the part.
    part: usize,
    /// Name, radius and section of the cutter.
    cutter: (String, f64, Section),
    step: Step,
    rpm: f64,
    feed: f64,
    /// How far the cutter's form may be off, and is.
    room: f64,
    off: String,
    /// Title of the operation.
    does: String,
}
fn own(shop: &Shop) -> Option<(&Mill, Habits)> {
    let own = shop.mills.iter().filter(|m| m.cutter_bore.is_some());
    own.filter_map(|m| Some((m, Habits::of_mill(m)?))).next()
}
/// Whether the mill that cuts wheels by program knows no stop: writing them tells so.
pub(crate) fn lacks_stops(shop: &Shop) -> bool {
    own(shop).is_some_and(|(_, habits)| !habits.knows("M0"))
}
/// Wheels that a shop's mill can cut by program: one that follows programs and takes cutters with a bore.
pub fn drafts(
    shop: &Shop,
    parts: &[Part],
    plans: &[PartPlan],
    tools: &[ShopTool],
    book: &mut Book,
) -> Vec<Draft> {
    let Some((_, habits)) = own(shop) else { return Vec::new() };
    let one = |plan: &PartPlan| draft(shop, &parts[plan.part], plan, tools, &habits, book);
    plans.iter().filter_map(one).collect()
}
/// Writes them; warnings tell where the control lacks a word.
pub fn programs(shop: &Shop, parts: &[Part], drafts: &[Draft]) -> (Vec<Program>, Vec<Trouble>) {
    let (mut all, mut troubles) = (Vec::new(), Vec::new());
    let Some((mill, habits)) = own(shop) else { return (all, troubles) };
    let travel = [
        (-habits.travel[0], habits.travel[0]),
        (0.0, habits.travel[1]),
        (-habits.travel[2], habits.travel[2]),
    ];
    for draft in drafts {
        let part = &parts[draft.part];
        let Some(teeth) = draft.teeth(part) else { continue };
        let name = format!("{}-teeth", part.slug().replace(['_', '.'], "-"));
        match teeth.program((draft.part, name, mill.name.clone()), &habits, travel) {
            Ok(program) => all.push(program),
            Err(cannot) => troubles.extend(super::lacking(part, mill, cannot)),
        }
    }
    (all, troubles)
}
/// A cutter with its radius, and its section with the count it is for, where that is known.
struct Taken {
    name: String,
    radius: f64,
    known: Option<(Section, u32)>,
}
/// The cutter that a wheel's plan takes.
fn cutter(shop: &Shop, t: &Toothing, plan: &PartPlan, tools: &[ShopTool]) -> Option<Taken> {
    let module = t.module?.bare().in_mm();
    let of_module = |c: &&record::facts::Cutter| {
        c.of == CutterUse::WheelTeeth
            && c.made
            && c.size.is_some_and(|s| (s.bare().in_mm() - module).abs() < 1e-4)
    };
    if let Some(c) = shop.cutters.iter().find(of_module) {
        let radius = c.diameter.map_or(14.0, |d| d.bare().in_mm() / 2.0);
        return Some(Taken { name: c.name.clone(), radius, known: None });
    }
    // One that is made for it first goes round in the circle of its sheet.
    let made = tools.iter().find(|tool| plan.waits_for.contains(&tool.slug))?;
    let Edge::Tooth(edge) = &made.drawing else { return None };
    Some(Taken {
        name: made.name.clone(),
        radius: edge.swing / 2.0,
        known: Some((edge.section.clone(), edge.count)),
    })
}
fn draft(
    shop: &Shop,
    part: &Part,
    plan: &PartPlan,
    tools: &[ShopTool],
    habits: &Habits,
    book: &mut Book,
) -> Option<Draft> {
    let Body::Flat(body) = &part.body else { return None };
    let t = body.teeth.as_ref()?;
    let count = u32::try_from(t.count.bare().0).ok()?;
    let cut = plan.setups.iter().flat_map(|s| &s.operations).find(|o| o.does.contains(&"cut teeth"))?;
    let Taken { name, radius, known } = cutter(shop, t, plan, tools)?;
    let small = |c: &reckon::Val<Count>| u32::try_from(c.bare().0).unwrap_or(0);
    let head = shop.dividing.as_ref()?;
    let ways = Head {
        ratio: small(&head.ratio),
        circles: head.plates.iter().flatten().map(small).collect(),
        direct: Vec::new(),
    };
    let Way::Worm { turns, holes, circle } = *ways.ways(count).first()? else { return None };
    let rpm = cut.speed.map_or(500.0, |s| s.bare().in_rpm());
    // A spindle that cannot turn so slowly would burn the cutter.
    let rpm = Some(habits.speed(rpm)).filter(|own| *own <= rpm * 1.1)?;
    let pitch = t.module?.bare().in_mm() * f64::from(count) / 2.0;
    let drawn = section(&body.solid.outline, Some(pitch))?;
    let (section, off) = form(t, &drawn, known, book);
    let module = t.module?;
    let room = work!(
        book,
        format!("{}.program.form_limit", t.slug),
        |module| (module * 0.01).max(Length::mm(0.01)),
        &TRUE_TO
    );
    let serves = judge!(
        book,
        format!("{}.program.form_serves", t.slug),
        "the cutter's form is the outline's within what is allowed",
        |off, room| off <= room,
        &SHARED
    );
    book.cure(serves.id(), "a cutter of its own for this count");
    Some(Draft {
        part: plan.part,
        cutter: (name, radius, section),
        step: Step { turns, holes, circle },
        rpm,
        feed: (0.03 * rpm).min(habits.fastest_feed),
        room: room.bare().in_mm(),
        off: format!(
            "its flanks are {} mm off the drawn ones at most",
            reckon::print::fixed(off.bare().in_mm(), 4)
        ),
        does: cut.title.clone(),
    })
}
/// The cutter's section, and how far its flanks are off the drawn ones.
fn form(
    t: &Toothing,
    drawn: &Section,
    known: Option<(Section, u32)>,
    book: &mut Book,
) -> (Section, Val<Length>) {
    let name = |tail: &str| format!("{}.program.{tail}", t.slug);
    let mut inputs: Vec<Id> = vec![t.count.id(), t.outside.id(), t.root.id()];
    let (section, made_for) = match known {
        Some((section, count)) => {
            let why = "the count that this cutter of the shop was drawn for";
            (section, book.assumed(name("cutter_for"), Count(i64::from(count)), why))
        }
        None => {
            let why = "not written of this cutter: taken as made for this count; see its box";
            (drawn.clone(), book.assumed(name("cutter_for"), t.count.bare(), why))
        }
    };
    inputs.push(made_for.id());
    let off = section.differs(drawn).unwrap_or(0.0);
    let how = ("widest gap of the two flanks laid on one pitch line", 25, 0.0);
    let off = book.solved(name("form_off"), Length::mm(off), how, inputs, &SHARED);
    (section, off)
}
impl Draft {
    /// The teeth of its wheel.
    fn teeth(&self, part: &Part) -> Option<Teeth> {
        let Body::Flat(body) = &part.body else { return None };
        let (t, solid) = (body.teeth.as_ref()?, &body.solid);
        let count = u32::try_from(t.count.bare().0).ok()?;
        let outside = t.outside.bare().in_mm() / 2.0;
        let drawn = section(&solid.outline, None)?;
        let half = drawn.mouth / 2.0;
        let root = sqrt((outside * outside - half * half).max(0.0)) - drawn.depth;
        let turned = |p: &Point| {
            let (c, s) = (cos(drawn.middle), sin(drawn.middle));
            (p.x * c + p.y * s, p.y * c - p.x * s)
        };
        let outline = solid.outline.sampled(FINE).iter().map(turned).collect();
        let straight = match drawn.end {
            End::Flat(width) => (root, width / 2.0),
            End::Round(_) => (root, 0.0),
        };
        // Beyond the tips the cutter is as wide as there, and the blank's edge bulges into it.
        let (name, radius, space) = &self.cutter;
        let half = space.mouth / 2.0;
        let below: Vec<Point> = space.profile.sampled(FINE).iter().map(|p| Point::new(p.y, p.x)).collect();
        let beyond =
            Region::rectangle(Point::new(space.depth - 1e-3, -half), Point::new(space.depth + 1.0, half));
        let form = Region::polygon(&below).ok()?.union(&beyond.ok()?);
        let rings = form.polygons();
        Some(Teeth {
            title: format!("{}: {count} {}", part.common.name, t.what),
            count,
            outside,
            thick: solid.thickness,
            outline,
            straight,
            room: self.room,
            form: rings.first()?.first()?.iter().map(|p| (p.x, p.y)).collect(),
            root,
            cutter: *radius,
            name: name.clone(),
            step: self.step,
            rpm: self.rpm,
            feed: self.feed,
            does: self.does.clone(),
            off: self.off.clone(),
        })
    }
}
