//! From what a plan hands over to what the proof takes.

use super::{SetUp, Trial};
use kurbo::Point;
use making::nc::Machine;
use making::nc::hand_over::{self, Layer, Program, Ring, ToolWay};
use proof::Control;
use proof::control::{
    Across, Centre, DwellIn, FeedMode, Percent, Plane, RapidPath, ToolWord, Travel, WithoutPoint,
};
use proof::milling::{self, Cutter, Cylinder, Slab};
use proof::sweep::Convex;
use proof::turning::{self, Tool, Way};
use proof::wheel;
use record::facts::{ArcCentre, BareLength, PercentSigns, ToolSays};
use shape::region::Region;

/// The trial of a program that a plan hands over.
///
/// # Errors
/// An outline that bounds nothing, in words; a fault of the plan.
pub fn of(program: &Program) -> Result<Trial, String> {
    let mut control = control(program);
    let set_up = match &program.set_up {
        hand_over::SetUp::Mill { stock, clamps, least, most, cutters, travel } => {
            let [x, y, z] = travel.map(Some);
            control.travel = Travel { x, y, z, kept_free: 0.0 };
            SetUp::Mill(milling::SetUp {
                stock: slabs(stock)?,
                clamps: slabs(clamps)?,
                wanted: Some(milling::Wanted {
                    least: slabs(least)?,
                    most: slabs(most)?,
                    gouge: program.room,
                    left: program.room,
                }),
                cutters: cutters.iter().map(|c| (c.number, cutter(c))).collect(),
                daylight: None,
                within: 2.0e-3,
                layer: 0.25,
                touch: 1.0e-6,
            })
        }
        hand_over::SetUp::Wheel { blank, least, most, backing, faces, teeth, radius, form, travel } => {
            let [x, y, z] = travel.map(Some);
            control.travel = Travel { x, y, z, kept_free: 0.0 };
            let behind = Region::disc(Point::ZERO, *backing, 1.0e-3)
                .map_err(|fault| format!("what stands behind the blank: {fault}"))?;
            SetUp::Wheel(wheel::SetUp {
                blank: region(blank)?,
                faces: *faces,
                layers: 2,
                along: 0,
                depth: 1,
                cutter: wheel::FormCutter { radius: *radius, form: points(form) },
                teeth: *teeth,
                turns_at: "index".to_owned(),
                fixed: vec![Slab::new(faces.0 - 40.0, faces.0, behind)],
                wanted: Some((region(least)?, region(most)?)),
                room: program.room,
                step: 0.02,
                touch: 1.0e-6,
            })
        }
        hand_over::SetUp::Lathe { stock, jaws, least, most, judged, tools, travel } => {
            let [x, z] = travel.map(Some);
            control.travel = Travel { x, y: None, z, kept_free: 0.0 };
            let mut all = std::collections::BTreeMap::new();
            for t in tools {
                let shape = Tool {
                    cutting: t.cutting.iter().map(convex).collect::<Result<_, _>>()?,
                    holder: t.holder.iter().map(convex).collect::<Result<_, _>>()?,
                    most_feed: t.most_feed,
                    way: match t.way {
                        ToolWay::Any => Way::Any,
                        ToolWay::Across => Way::Across,
                        ToolWay::Along => Way::Along,
                        ToolWay::OnAxis => Way::OnAxis,
                        ToolWay::Led => Way::Led,
                    },
                    most_bite: t.most_bite,
                    near_axis: t.near_axis,
                    most_speed: t.most_speed,
                };
                all.insert(t.number, shape);
            }
            SetUp::Lathe(turning::SetUp {
                stock: region(stock)?,
                jaws: region(jaws)?,
                wanted: Some(turning::Wanted {
                    least: region(least)?,
                    most: region(most)?,
                    judged: Some(region(std::slice::from_ref(judged))?),
                    gouge: program.room,
                    left: program.room,
                }),
                tools: all,
                within: 2.0e-4,
                touch: 1.0e-6,
            })
        }
    };
    Ok(Trial { control, set_up })
}
fn points(ring: &Ring) -> Vec<Point> {
    ring.iter().map(|&p| Point::from(p)).collect()
}
fn convex(ring: &Ring) -> Result<Convex, String> {
    Convex::around(&points(ring)).map_err(|fault| format!("the outline of a tool: {fault:?}"))
}
fn region(rings: &[Ring]) -> Result<Region, String> {
    let Some((outside, holes)) = rings.split_first() else { return Ok(Region::empty()) };
    let holes: Vec<Vec<Point>> = holes.iter().map(points).collect();
    Region::with_holes(&points(outside), &holes).map_err(|fault| format!("an outline: {fault}"))
}
fn slabs(layers: &[Layer]) -> Result<Vec<Slab>, String> {
    let mut all = Vec::new();
    for layer in layers {
        let pieces: Vec<Region> = layer.pieces.iter().map(|r| region(r)).collect::<Result<_, _>>()?;
        all.push(Slab::new(layer.low, layer.high, Region::union_of(&pieces)));
    }
    Ok(all)
}
fn cutter(c: &hand_over::CutterShape) -> Cutter {
    Cutter {
        profile: c.profile.clone(),
        shank: c.shank.iter().map(|&(low, high, radius)| Cylinder { low, high, radius }).collect(),
        projects: c.projects,
        most_feed: c.most_feed,
    }
}
fn control(program: &Program) -> Control {
    let own = &program.habits;
    let lathe = own.machine == Machine::Lathe;
    let mut control = if lathe { Control::lathe() } else { Control::mill() };
    control.words = own.listed();
    control.most_decimals = Some(own.decimals);
    control.without_point = match own.without_point {
        BareLength::Whole => WithoutPoint::Whole,
        BareLength::Steps => WithoutPoint::Steps,
        BareLength::Refused => WithoutPoint::Refused,
    };
    control.centre = match own.arcs {
        ArcCentre::FromStart => Centre::FromStart,
        ArcCentre::FromZero => Centre::FromZero,
        ArcCentre::Never => Centre::Never,
    };
    control.percent = match own.percent {
        PercentSigns::Required => Percent::Required,
        PercentSigns::Allowed => Percent::Allowed,
        PercentSigns::Refused => Percent::Refused,
    };
    control.comments = own.comments;
    control.longest_line = own.longest_line;
    control.dwell = ('P', if own.milliseconds { DwellIn::Milliseconds } else { DwellIn::Seconds });
    control.tool_word = match own.tool_word {
        ToolSays::NumberAndOffset => ToolWord::NumberAndOffset,
        ToolSays::Number | ToolSays::Nothing => ToolWord::Number,
    };
    control.needs_tool = own.tool_word != ToolSays::Nothing;
    control.across = if own.radius || !lathe { Across::Radius } else { Across::Diameter };
    control.threads = own.synchronised;
    control.run_in = lathe.then_some(own.run_in);
    let speeds = (own.speeds.first(), own.speeds.last());
    if let (Some(least), Some(most)) = speeds {
        control.spindle = (*least, *most);
    }
    control.spindle_steps = if own.stepless { Vec::new() } else { own.speeds.clone() };
    control.fastest_feed = own.fastest_feed;
    control.fastest_thread = own.fastest_thread;
    control.rapid = own.rapid;
    control.rapid_path = if own.bent { RapidPath::Bent } else { RapidPath::Straight };
    control.start = own.start;
    // A control without the word has no other plane or way of feeding to be in.
    control.plane = match (lathe, own.knows("G17"), own.knows("G18")) {
        (true, _, false) => Some(Plane::Zx),
        (false, false, _) => Some(Plane::Xy),
        _ => None,
    };
    control.feed_mode = (!own.knows("G94") && !own.knows("G95")).then_some(FeedMode::PerMinute);
    control
}
