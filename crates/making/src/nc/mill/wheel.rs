//! Teeth of wheels, one space after another, the blank turned by hand at a stop between them.
//!
//! The dividing head lies along X, the cutter turns about an upright arbor at the height of the head's axis.
//! X is nothing on the blank's outer face and goes down into it; Y is the distance of the cutter's tip from the
//! blank's axis; Z is nothing at the height of that axis and stays there.

use super::super::hand_over::{Program, Ring, SetUp};
use super::super::{Act, Cannot, Habits, To, write};
use crate::plan::PartPlan;
use crate::plan::teeth::section;
use kurbo::Point;
use movement::part::{Body, Part};
use reckon::maths::{PI, cos, sin, sqrt};
use record::facts::{CutterUse, Shop};
use shape::region::Region;
use train::dividing::{Head, Way};

/// How far off the blank the cutter waits while it is turned.
const CLEAR: f64 = 15.0;
/// How far the cutter's middle goes past a face.
const PAST: f64 = 0.3;
/// How closely the blank's edge is followed.
const FINE: f64 = 5.0e-4;

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
    /// The blank with every space taken out of it, seen along the axis, and the blank.
    fn outlines(&self) -> (Region, Region) {
        let blank = Region::disc(Point::ZERO, self.outside, FINE).unwrap_or_else(|_| Region::empty());
        let spaces: Vec<Region> = (0..self.count)
            .filter_map(|k| {
                let a = 2.0 * PI * f64::from(k) / f64::from(self.count);
                let corners: Vec<Point> = self
                    .form
                    .iter()
                    .map(|&(behind, across)| {
                        let x = self.root + behind;
                        Point::new(x * cos(a) - across * sin(a), x * sin(a) + across * cos(a))
                    })
                    .collect();
                Region::polygon(&corners).ok()
            })
            .collect();
        (blank.difference(&Region::union_of(&spaces)), blank)
    }
    /// The set-up for whoever proves it.
    #[must_use]
    pub fn set_up(&self, travel: [(f64, f64); 3]) -> SetUp {
        let (wheel, blank) = self.outlines();
        let rings = |region: &Region| -> Vec<Ring> {
            let rings = region.polygons().into_iter().flatten();
            rings.map(|ring| ring.iter().map(|p| (p.x, p.y)).collect()).collect()
        };
        SetUp::Wheel {
            blank: rings(&blank),
            wheel: rings(&wheel),
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
            machine,
            text: write(&self.acts(), habits)?,
            habits: habits.clone(),
            set_up: self.set_up(travel),
            room: 0.01,
            holding: vec![
                "Dividing head along X, the blank on its arbor between washers no larger than the bottoms of the teeth, run true.".into(),
                format!("X nothing on the blank's outer face; the cutter goes from {} mm before it to {} mm behind the back: see that it finds no chuck there.", said(begin), said(-end - self.thick)),
                format!("Y: the tip of the cutter on the blank's edge, paper between, is its measured radius ({} mm drawn) and the paper.", said(self.outside)),
                "Z nothing with the middle of the cutter at the height of the head's axis; lock it there.".into(),
                "Begin with the cutter clear of the blank, Y far out. Pin in the hole marked 0, slack taken up, spindle of the head locked.".into(),
            ],
            tools: vec![(1, self.name.clone(), format!("{} mm across, Y is its tip", said(2.0 * self.cutter)))],
            after: vec![
                format!("At each stop the cutter stands: unlock the head, turn {}, lock it, tick the tooth, go on.", self.step.says()),
                "At the end one step more must bring the pin into hole 0 and the cutter into the first space.".into(),
            ],
        })
    }
}
/// Wheels that a shop's mill cuts by program: one that follows programs and takes cutters with a bore.
pub fn programs(shop: &Shop, parts: &[Part], plans: &[PartPlan]) -> Vec<Program> {
    let own = shop.mills.iter().filter(|m| m.cutter_bore.is_some());
    let Some((mill, habits)) = own.filter_map(|m| Some((m, Habits::of_mill(m)?))).next() else {
        return Vec::new();
    };
    let travel = [
        (-habits.travel[0], habits.travel[0]),
        (0.0, habits.travel[1]),
        (-habits.travel[2], habits.travel[2]),
    ];
    let one = |plan: &PartPlan| {
        let part = &parts[plan.part];
        let teeth = teeth(shop, part, plan, &habits)?;
        let name = format!("{}-teeth", part.slug().replace(['_', '.'], "-"));
        teeth.program((plan.part, name, mill.name.clone()), &habits, travel).ok()
    };
    plans.iter().filter_map(one).collect()
}
/// The teeth of a wheel from sheet, where shop and head can cut them.
fn teeth(shop: &Shop, part: &Part, plan: &PartPlan, habits: &Habits) -> Option<Teeth> {
    let Body::Flat(body) = &part.body else { return None };
    let t = body.teeth.as_ref()?;
    let count = u32::try_from(t.count.bare().0).ok()?;
    let cut = plan.setups.iter().flat_map(|s| &s.operations).find(|o| o.does.contains(&"cut teeth"))?;
    let module = t.module?.bare().in_mm();
    let cutter = shop.cutters.iter().find(|c| {
        c.of == CutterUse::WheelTeeth && c.size.is_some_and(|s| (s.bare().in_mm() - module).abs() < 1e-4)
    })?;
    let radius = cutter.diameter.map_or(14.0, |d| d.bare().in_mm() / 2.0);
    let small = |c: &reckon::Val<reckon::Count>| u32::try_from(c.bare().0).unwrap_or(0);
    let head = shop.dividing.as_ref()?;
    let ways = Head {
        ratio: small(&head.ratio),
        circles: head.plates.iter().flatten().map(small).collect(),
        direct: Vec::new(),
    };
    let Way::Worm { turns, holes, circle } = *ways.ways(count).first()? else { return None };
    let outside = t.outside.bare().in_mm() / 2.0;
    let space = section(&body.solid.outline, None)?;
    let half = space.mouth / 2.0;
    let root = sqrt((outside * outside - half * half).max(0.0)) - space.depth;
    // Beyond the tips the cutter is as wide as there, and the blank's edge bulges into it.
    let below: Vec<Point> = space.profile.sampled(FINE).iter().map(|p| Point::new(p.y, p.x)).collect();
    let beyond =
        Region::rectangle(Point::new(space.depth - 1e-3, -half), Point::new(space.depth + 1.0, half));
    let form = Region::polygon(&below).ok()?.union(&beyond.ok()?);
    let rings = form.polygons();
    let form: Ring = rings.first()?.first()?.iter().map(|p| (p.x, p.y)).collect();
    let rpm = cut.speed.map_or_else(|| habits.speed(500.0), |s| habits.speed(s.bare().in_rpm()));
    Some(Teeth {
        title: format!("{}: {count} {}", part.common.name, t.what),
        count,
        outside,
        thick: body.solid.thickness,
        form,
        root,
        cutter: radius,
        name: cutter.name.clone(),
        step: Step { turns, holes, circle },
        rpm,
        feed: (0.03 * rpm).min(habits.fastest_feed),
    })
}
