//! Where the energy of the escape wheel goes.

use super::Forecast;
use crate::model::{End, Model};
use crate::steady::Steady;
use crate::works::{Side, Works};
use crate::{Beat, Halt};
use reckon::source::Source;
use reckon::{Book, Cell, Id, Ratio, Val};

/// How energy is parted.
pub static PARTED: Source = Source::derived(
    "torque times turn of the wheel, less what the ledger of two beats says went into each loss; the sum is whole",
);

/// Energy in two beats (J), or of many beats together.
#[derive(Copy, Clone, PartialEq, Debug, Default)]
pub struct Flow {
    /// Given by the wheel.
    pub given: f64,
    /// Lost by sliding on the faces that push.
    pub slides: f64,
    /// Lost beyond them: crutch and pallets' pivots.
    pub beyond: f64,
    /// Lost by rubbing on dead faces.
    pub rubs: f64,
    /// Lost by the wheel's free fall, its landing and its running after a face.
    pub falls: f64,
    /// Lost by air and suspension.
    pub air: f64,
    /// What the pendulum has more at the end.
    pub gained: f64,
}
/// A loss by name, and how much of a flow it is.
pub type Part = (&'static str, fn(&Flow) -> f64);
/// Names of the losses and their parts of what is given.
pub const PARTS: [Part; 5] = [
    ("air and suspension", |f| f.air),
    ("crutch and pallets' pivots", |f| f.beyond),
    ("sliding on the faces that push", |f| f.slides),
    ("rubbing on dead faces", |f| f.rubs),
    ("free fall, landing and catching up", |f| f.falls),
];
impl Flow {
    /// Of one beat; `share` is what passes beyond the faces, `torque` the wheel's.
    #[must_use]
    pub fn of_beat(b: &Beat, share: f64, torque: f64) -> Flow {
        let l = &b.ledger;
        let forward = l.pushed + l.returned;
        let free = torque * (b.dropped + b.caught);
        let beyond = forward * (1.0 / share - 1.0) + l.returned * (1.0 - share);
        Flow {
            given: l.given,
            slides: l.given - free - beyond - l.pushed,
            beyond,
            rubs: l.rubbed,
            falls: free + l.blows + l.carried,
            air: l.resisted,
            gained: l.gained,
        }
    }
    /// Of the two beats that repeat themselves.
    #[must_use]
    pub fn of(s: &Steady, share: f64, torque: f64) -> Flow {
        Flow::of_beat(&s.beats[0], share, torque).and(&Flow::of_beat(&s.beats[1], share, torque))
    }
    /// Together.
    #[must_use]
    pub fn and(&self, o: &Flow) -> Flow {
        Flow {
            given: self.given + o.given,
            slides: self.slides + o.slides,
            beyond: self.beyond + o.beyond,
            rubs: self.rubs + o.rubs,
            falls: self.falls + o.falls,
            air: self.air + o.air,
            gained: self.gained + o.gained,
        }
    }
    /// What does not add up.
    #[must_use]
    pub fn off_by(&self) -> f64 {
        self.given - self.slides - self.beyond - self.rubs - self.falls - self.air - self.gained
    }
}
/// How it comes to stand.
#[derive(Clone, PartialEq, Debug)]
pub struct Stop {
    /// Beats until then.
    pub beats: u64,
    /// Time until then (s).
    pub time: f64,
    /// Arc it was set going with.
    pub from: f64,
    /// Arc of the last beat.
    pub last: f64,
    /// Why; none where it still went after very many beats.
    pub halt: Option<Halt>,
    /// Where the energy went, all beats together; the pendulum's own loss shows as less than nothing gained.
    pub flow: Flow,
}
/// Lets it go from an arc until it stands; `share` is what passes beyond the faces.
#[must_use]
pub fn stop(works: &Works, share: f64, arc: f64, torque: f64) -> Stop {
    const MOST: u64 = 100_000;
    let (mut side, mut a, mut time) = (Side::Entry, arc, 0.0);
    let mut flow = Flow::default();
    for beats in 0..MOST {
        match works.beat(side, a, torque) {
            Ok(b) => {
                flow = flow.and(&Flow::of_beat(&b, share, torque));
                (a, side, time) = (b.to, side.other(), time + b.time);
            }
            Err(halt) => return Stop { beats, time, from: arc, last: a, halt: Some(halt), flow },
        }
    }
    Stop { beats: MOST, time, from: arc, last: a, halt: None, flow }
}
pub(super) fn table(m: &Model, f: &Forecast, book: &mut Book) -> Id {
    let mut rows = Vec::new();
    let mut ids = Vec::new();
    for s in f.stands.iter().filter(|s| s.end == End::Likely) {
        let Ok(d) = &s.found else { continue };
        let place = &m.supply.places[s.place];
        let power = d.power;
        let micro = reckon::print::significant(power.bare().value() * 1e6, 4);
        rows.push(vec![
            Cell::word(place.what),
            Cell::word("given by the escape wheel"),
            Cell::as_text(&power.bare(), format!("{micro} µW")),
        ]);
        for (what, part) in PARTS {
            let share: Val<Ratio> = book.solved(
                format_args!("going.{}.likely.part.{}", place.slug, slug(what)),
                Ratio::si(part(&d.flow) / d.flow.given),
                ("of what the wheel gives in two beats", 1, d.flow.off_by()),
                vec![d.power.id(), d.arc.id()],
                &PARTED,
            );
            ids.push(share.id());
            let percent = format!("{} %", reckon::print::fixed(share.bare().value() * 100.0, 1));
            rows.push(vec![Cell::word(""), Cell::word(what), Cell::as_text(&share.bare(), percent)]);
        }
    }
    book.table(
        "going.flow",
        &["when", "energy", "part"],
        rows,
        "the ledger of two beats at the settled arc",
        ids,
        &PARTED,
    )
}
fn slug(what: &str) -> &'static str {
    match what {
        "air and suspension" => "air",
        "crutch and pallets' pivots" => "beyond_faces",
        "sliding on the faces that push" => "sliding",
        "rubbing on dead faces" => "rubbing",
        _ => "falling",
    }
}
