//! The bench packet: what a maker carries to the machine.
//!
//! Takes parts, their plans and the book of workings; gives a [`Packet`] and
//! one sketch a part. Nothing is computed here that is not in the book already: lengths are
//! only written in the units that the project asked for.

mod assembly;
mod chart;
mod cover;
mod drawn;
pub mod figures;
mod fire;
mod movement;
mod operations;
mod order;
mod part;
pub mod programs;
mod shine;
pub mod solids;
mod templates;
mod tools;

pub use movement::going_pictures;

use crate::{About, Packet, Paper, Typecase};
use ::going::Model;
use ::going::forecast::Forecast;
use ::movement::design::Movement;
use ::movement::part::Part;
use drafting::size::Unplaced;
use drafting::sketch::Sketch;
use making::plan::Making;
use reckon::{Book, LengthStyle, Trouble};
use record::facts::{Clock, Shop};

/// What a packet is made of.
#[derive(Clone, Copy)]
pub struct Contents<'a> {
    /// The design.
    pub clock: &'a Clock,
    /// The shop.
    pub shop: &'a Shop,
    /// The parts.
    pub parts: &'a [Part],
    /// The movement, where one is written.
    pub movement: Option<&'a Movement>,
    /// The movement in simulation, where it was let go.
    pub going: Option<&'a (Model, Forecast)>,
    /// How they are made.
    pub making: &'a Making,
    /// Programs that were proved sound.
    pub programs: &'a [programs::Proven<'a>],
    /// The book of workings.
    pub book: &'a Book,
    /// Short mark of the state of the project; stands in every sheet's number.
    pub state: &'a str,
    /// Year, month, day that the papers carry.
    pub day: (u16, u8, u8),
}
impl Contents<'_> {
    /// How lengths are written.
    #[must_use]
    pub fn style(&self) -> LengthStyle {
        self.clock.print
    }
    fn number(&self, n: usize) -> String {
        format!("{}-{n:02}", self.state)
    }
}
/// A packet before it has pages, and its drawings.
#[derive(Debug)]
pub struct Papers {
    /// The packet.
    pub packet: Packet,
    /// File name without ending, and drawing.
    pub drawings: Vec<(String, Sketch)>,
    /// The cut list as plain text.
    pub cut_list: String,
}

/// Makes the papers.
///
/// # Errors
/// A trouble for each drawing that cannot be placed on the paper.
pub fn papers(of: &Contents<'_>, case: &Typecase) -> Result<Papers, Vec<Trouble>> {
    let mut troubles = Vec::new();
    let mut drawings = Vec::new();
    let mut sheets = Vec::new();
    let mut templates = Vec::new();
    // The cover is number 1; it lists the others, so their numbers are given first.
    let mut number = 1;
    let mut next = || {
        number += 1;
        of.number(number)
    };
    sheets.push(order::sheet(of, next()));
    sheets.extend(movement::sheets(of, &mut next, case, &mut drawings));
    for tool in &of.making.tools {
        number += 1;
        match tools::sheet(of, tool, &of.number(number), case) {
            Ok((sheet, sketch)) => {
                drawings.push((format!("tool-{}", tool.slug.replace(['_', '.'], "-")), sketch));
                sheets.push(sheet);
            }
            Err(fault) => troubles.push(unplaced(&tool.name, &fault)),
        }
    }
    for jig in &of.making.jigs {
        number += 1;
        match part::sketch(of, &jig.part, case) {
            Ok(sketch) => {
                drawings.push((jig.part.slug().replace(['_', '.'], "-"), sketch.clone()));
                sheets.push(part::jig(of, jig, sketch, &of.number(number)));
            }
            Err(fault) => troubles.push(unplaced(&jig.part.common.name, &fault)),
        }
    }
    for (plan, drawn) in of.making.parts.iter().zip(sketches(of, case)) {
        number += 1;
        let part = &of.parts[plan.part];
        match drawn {
            Ok(sketch) => {
                drawings.push((part.slug().replace(['_', '.'], "-"), sketch.clone()));
                sheets.push(part::sheet(of, part, plan, sketch, &of.number(number)));
                templates.extend(templates::sheets(of, part, &of.number(number), case));
            }
            Err(fault) => troubles.push(unplaced(&part.common.name, &fault).at(part.at().clone())),
        }
    }
    sheets.extend(templates);
    let mut next = || {
        number += 1;
        of.number(number)
    };
    sheets.extend(programs::sheets(of, &mut next));
    sheets.extend(fire::sheets(of, &mut next, &mut drawings));
    sheets.extend(shine::sheets(of, &mut next));
    sheets.extend(assembly::sheets(of, &mut next));
    sheets.extend(cover::assumptions(of, &mut next));
    sheets.insert(0, cover::sheet(of, &of.number(1)));
    if !troubles.is_empty() {
        return Err(troubles);
    }
    let about = About {
        title: format!("Bench packet: {}", of.clock.name),
        project: of.clock.name.clone(),
        note: format!("state {}", of.state),
        stamp: of.state.to_owned(),
        day: of.day,
    };
    let paper = match of.clock.paper {
        record::facts::Paper::A4 => Paper::A4,
        record::facts::Paper::Letter => Paper::Letter,
    };
    Ok(Papers { packet: Packet { paper, about, sheets }, drawings, cut_list: cover::cut_list_text(of) })
}
/// The dimensioned drawing of one part, or of a jig.
///
/// # Errors
/// The size that finds no place on it.
pub fn drawing_of(of: &Contents<'_>, part: &Part, case: &Typecase) -> Result<Sketch, Unplaced> {
    part::sketch(of, part, case)
}
/// The drawings of all parts, in their order; two at a time, since placing sizes is most of the work.
fn sketches(of: &Contents<'_>, case: &Typecase) -> Vec<Result<Sketch, Unplaced>> {
    let plans = &of.making.parts;
    let half = |from: usize, case: &Typecase| -> Vec<Result<Sketch, Unplaced>> {
        let mine = (from..plans.len()).step_by(2);
        mine.map(|n| part::sketch(of, &of.parts[plans[n].part], case)).collect()
    };
    // A typecase keeps what it has set and is not shared: the other thread has its own, of the same faces.
    let (even, odd) = std::thread::scope(|scope| {
        let other = scope.spawn(|| half(1, &Typecase::new()));
        (half(0, case), other.join().unwrap_or_default())
    });
    let (mut even, mut odd) = (even.into_iter(), odd.into_iter());
    (0..plans.len()).filter_map(|n| if n % 2 == 0 { even.next() } else { odd.next() }).collect()
}
fn unplaced(name: &str, fault: &Unplaced) -> Trouble {
    Trouble::ours(format!("the drawing of '{name}' cannot be laid out")).why(fault.to_string())
}
