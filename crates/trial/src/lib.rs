//! Programs put on trial: a control, a set-up and a text go in; what the proof found comes out.
//!
//! A set-up comes from a plan of making ([`of`]) or from a plain text that stands beside a program from
//! elsewhere ([`read`]). Writer and proof have nothing in common but outlines in millimetres.

mod from_plan;
mod page;
mod text;

use proof::picture::{self, Picture};
use proof::{Control, Fault, Wrong, milling, turning, wheel};
use reckon::{Kind, Trouble};
use std::sync::Arc;

pub use from_plan::of;
pub use text::{FORM, WORDS, read};

/// How a machine is set up.
#[derive(Debug, Clone, PartialEq)]
pub enum SetUp {
    /// A mill.
    Mill(milling::SetUp),
    /// A lathe.
    Lathe(turning::SetUp),
    /// A blank in a dividing head.
    Wheel(wheel::SetUp),
}
/// A control and a set-up.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    /// The control.
    pub control: Control,
    /// The set-up.
    pub set_up: SetUp,
}
/// A picture of what is left, with what it shows.
#[derive(Debug, Clone, PartialEq)]
pub struct View {
    /// What it shows.
    pub title: String,
    /// Outlines and paths, in millimetres.
    pub picture: Picture,
}
/// What the proof found.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// What the control would not read, in the order of the text.
    pub misread: Vec<Fault>,
    /// What it would do wrong, in the order of the text.
    pub faults: Vec<Fault>,
    /// Pictures.
    pub views: Vec<View>,
    /// Moves that were followed.
    pub moves: usize,
    /// Time without stops and changes, minutes.
    pub minutes: f64,
    /// Metal before and after, mm³.
    pub metal: (f64, f64),
    /// Metal left that is not wanted, and wanted metal that is gone, mm³ on a mill and mm² of the half
    /// section on a lathe.
    pub off: (f64, f64),
    /// Largest area of metal that a rapid met, mm².
    pub worst_rapid: f64,
    /// How much more or less metal is allowed, mm.
    pub room: f64,
}
impl Found {
    /// Whether nothing was found.
    #[must_use]
    pub fn is_sound(&self) -> bool {
        self.misread.is_empty() && self.faults.is_empty()
    }
    /// The faults as troubles of a text.
    #[must_use]
    pub fn troubles(&self, file: &str, text: &str) -> Vec<Trouble> {
        let file: Arc<str> = Arc::from(file);
        let misread = self.misread.iter().map(|fault| fault.trouble(&file, text));
        let done = self.faults.iter().map(|fault| {
            let trouble = fault.trouble(&file, text);
            Trouble { kind: Kind::Unmakeable, ..trouble }
        });
        let mut all: Vec<(usize, Trouble)> =
            misread.chain(done).map(|t| (t.at.first().map_or(0, |p| p.start), t)).collect();
        all.sort_by_key(|(at, _)| *at);
        all.into_iter().map(|(_, t)| t).collect()
    }
}
/// Pictures follow arcs to this, in millimetres.
const DRAWN: f64 = 0.01;

impl Trial {
    /// Reads a program and runs it on the set-up.
    #[must_use]
    pub fn prove(&self, text: &str) -> Found {
        let reading = proof::read(text, &self.control);
        let program = &reading.program;
        let moves = program.motions().count();
        let minutes = program.minutes(self.control.rapid);
        match &self.set_up {
            SetUp::Lathe(set_up) => {
                let turned = turning::prove(program, &self.control, set_up);
                let picture = picture::turned(&turned, program, DRAWN);
                let volume = proof::measure::turned_volume;
                Found {
                    misread: reading.faults.clone(),
                    faults: turned.faults.clone(),
                    views: vec![View { title: "half section".to_owned(), picture }],
                    moves,
                    minutes,
                    metal: (volume(&turned.before), volume(&turned.after)),
                    off: (turned.left_over.area, turned.gouged.area),
                    worst_rapid: turned.worst_rapid,
                    room: set_up.wanted.as_ref().map_or(0.0, |w| w.left.max(w.gouge)),
                }
            }
            SetUp::Wheel(set_up) => {
                let cut = wheel::prove(program, set_up);
                let picture = picture::wheel(&cut, 0);
                let hit = cut.faults.iter().filter(|f| f.wrong == Wrong::RapidInStock);
                Found {
                    misread: reading.faults.clone(),
                    views: vec![View { title: "seen along its axis".to_owned(), picture }],
                    moves,
                    minutes,
                    metal: (milling::volume(&cut.before), milling::volume(&cut.after)),
                    off: (milling::volume(&cut.remainder), milling::volume(&cut.gouge)),
                    worst_rapid: hit.filter_map(|f| f.by).fold(0.0, f64::max),
                    room: set_up.room,
                    faults: cut.faults.clone(),
                }
            }
            SetUp::Mill(set_up) => {
                let milled = milling::prove(program, &self.control, set_up);
                let views = heights(set_up, &milled)
                    .into_iter()
                    .map(|z| View {
                        title: format!("plan at Z {}", figure(z)),
                        picture: picture::milled(&milled, program, z, DRAWN),
                    })
                    .collect();
                Found {
                    misread: reading.faults.clone(),
                    faults: milled.faults.clone(),
                    views,
                    moves,
                    minutes,
                    metal: (milling::volume(&milled.before), milling::volume(&milled.after)),
                    off: (milling::volume(&milled.remainder), milling::volume(&milled.gouge)),
                    worst_rapid: milled.worst_rapid,
                    room: set_up.wanted.as_ref().map_or(0.0, |w| w.left.max(w.gouge)),
                }
            }
        }
    }
}
/// Heights of plans that show everything: the middle of each slab that is wanted, or of the stock, and where
/// most is left over or gone.
fn heights(set_up: &milling::SetUp, milled: &milling::Milled) -> Vec<f64> {
    let slabs = match &set_up.wanted {
        Some(wanted) if !wanted.most.is_empty() => &wanted.most,
        _ => &set_up.stock,
    };
    let mut all: Vec<f64> = slabs.iter().map(|slab| 0.5 * (slab.low + slab.high)).collect();
    let off = if milled.faults.is_empty() { Vec::new() } else { vec![&milled.gouge, &milled.remainder] };
    for off in off {
        let most = |slab: &&milling::Slab| slab.region.area() * (slab.high - slab.low);
        let worst = off.iter().max_by(|a, b| most(a).total_cmp(&most(b))).filter(|s| most(s) > 1e-3);
        all.extend(worst.map(|slab| 0.5 * (slab.low + slab.high)));
    }
    all.sort_by(f64::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    all.reverse();
    all
}
fn figure(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
