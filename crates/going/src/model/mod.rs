//! The simulation of a movement as decided: pendulum, escapement by its real outlines, train, supply.
//!
//! What the outlines do not tell (play and rubbing of the crutch, the pallets' own pivots) is one share, such
//! that at the running arc the whole escapement passes what the losses say; or nothing, where the faces alone
//! pass no more than that.

pub mod arms;
pub mod faces;
pub mod hangs;
mod inertia;
mod supply;

pub use hangs::{Hangs, Part};
pub use supply::{Place, Supply};

use crate::beat::Beat;
use crate::series::Oscillator;
use crate::works::{Side, Works};
use kurbo::Point;
use movement::design::{Acting, EscapementDesign, Movement, PendulumDesign};
use reckon::source::Source;
use reckon::{Angle, Book, Length, Ratio, Time, Torque, Trouble, Val};
use record::facts::{Clock, EscapementKind};
use shape::profile::Profile;

/// The pendulum as one stiff body about the place it turns at.
pub static SWING: Source = Source::derived(
    "a stiff body about the axis that the strip gives it; what the strip adds is a spring that leaves its period as it is",
)
.with_formula("I = I_cg + M (z_cg − z_axis)², G = M g (z_cg − z_axis), k = ω² I − G");
/// The share beyond the faces.
pub static BEYOND: Source = Source::derived(
    "two beats at the running arc, followed with torque for exactly that arc: what is over goes to crutch and pallets' pivots",
);

/// One of the three ends of every range.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum End {
    /// Old oil, a cold day.
    Low,
    /// As it is likely.
    Likely,
    /// Fresh, warm.
    High,
}
impl End {
    /// All three.
    pub const ALL: [End; 3] = [End::Low, End::Likely, End::High];
    /// A word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            End::Low => "low",
            End::Likely => "likely",
            End::High => "high",
        }
    }
    /// Its place in a row of three.
    #[must_use]
    pub const fn index(self) -> usize {
        match self {
            End::Low => 0,
            End::Likely => 1,
            End::High => 2,
        }
    }
}

/// A movement as the simulation takes it.
#[derive(Clone, Debug)]
pub struct Model {
    /// Kind of the escapement.
    pub kind: EscapementKind,
    /// What acts, for stale oil, likely, and fresh: faces with their friction, and the share beyond them.
    pub works: [Works; 3],
    /// The faces alone, as they are likely: nothing lost beyond them.
    pub faces: Works,
    /// The escapement as it is drawn.
    pub acting: Acting,
    /// What is drawn when it moves, millimetres in the plane of the escapement, pallets in the middle.
    pub drawn: Drawn,
    /// Friction of the faces, low end to high end of the supply.
    pub friction: [Val<Ratio>; 3],
    /// Part that crutch and pallets' pivots pass.
    pub beyond: [Val<Ratio>; 3],
    /// Part that the faces alone pass at the running arc, as it is likely.
    pub faces_pass: Val<Ratio>,
    /// What the whole escapement passes by the losses.
    pub passes: [Val<Ratio>; 3],
    /// Time of a beat that is wanted.
    pub beat: Val<Time>,
    /// Arc that it is to run at.
    pub arc: Val<Angle>,
    /// Arc that the escapement needs.
    pub arc_needed: Val<Angle>,
    /// What hangs, body by body.
    pub hangs: Hangs,
    /// Pitch of the rating nut, where it has one.
    pub pitch: Option<Val<Length>>,
    /// What drives it.
    pub supply: Supply,
    /// Time of the run.
    pub run: Val<Time>,
}
/// Outlines that move together.
#[derive(Clone, Debug)]
pub struct Drawn {
    /// The wheel, about the origin, with its pins.
    pub wheel: Vec<Profile>,
    /// The pallets, or a grasshopper's frame.
    pub pallets: Vec<Profile>,
    /// A grasshopper's arms, entry and exit, as they stand at their composers.
    pub arms: Vec<Profile>,
    /// The pallets' arbor.
    pub arbor: Point,
    /// Radius over the teeth.
    pub radius: f64,
}
impl Drawn {
    fn of(e: &EscapementDesign) -> Drawn {
        let all = &e.drawing.outlines;
        let (wheel, pallets, arms) = match (e.kind, all.as_slice()) {
            (EscapementKind::Grasshopper, [wheel, entry, exit, frame]) => {
                (vec![wheel.clone()], vec![frame.clone()], vec![entry.clone(), exit.clone()])
            }
            (EscapementKind::PinWheel, [outer, inner, pins @ ..]) => {
                let mut wheel = vec![e.wheel.clone()];
                wheel.extend(pins.iter().cloned());
                (wheel, vec![outer.clone(), inner.clone()], Vec::new())
            }
            (_, [wheel, pallets @ ..]) => (vec![wheel.clone()], pallets.to_vec(), Vec::new()),
            (_, []) => (vec![e.wheel.clone()], Vec::new(), Vec::new()),
        };
        let radius = e.wheel.bounds().max_y();
        Drawn { wheel, pallets, arms, arbor: Point::new(0.0, e.centres.bare().in_mm()), radius }
    }
}
impl Model {
    /// The works for an end of the supply.
    #[must_use]
    pub fn at(&self, end: End) -> &Works {
        &self.works[end.index()]
    }
    /// Makes it of a movement; every number goes into the book under `going`.
    ///
    /// # Errors
    /// What is missing, or why these outlines cannot go.
    pub fn of(clock: &Clock, m: &Movement, book: &mut Book) -> Result<Model, Vec<Trouble>> {
        let facts = clock.movement.as_ref();
        let lacks = |what: &str, cure: &str| {
            Trouble::design(format!("nothing can go in simulation without {what}")).cure(cure)
        };
        let mut troubles = Vec::new();
        if m.escapement.is_none() {
            troubles.push(lacks("an escapement", "write [escapement]"));
        }
        if m.pendulum.is_none() {
            troubles.push(lacks("a pendulum", "write [pendulum]"));
        }
        let margin = m.drive.as_ref().and_then(|d| d.margin.as_ref());
        if margin.is_none() {
            troubles.push(lacks("a drive", "write [drive.weight] or [drive.spring]"));
        }
        let (Some(e), Some(p), Some(d), Some(margin), Some(facts)) =
            (m.escapement.as_ref(), m.pendulum.as_ref(), m.drive.as_ref(), margin, facts)
        else {
            return Err(troubles);
        };
        let (escape_wheel, crutch) = movement::made::moving(m, facts);
        let mut hangs = Hangs::of(p);
        if let Some(c) = &crutch {
            let of = vec![p.length.id(), p.gravity.id(), p.arc.id()];
            hangs.crutch = inertia::crutch(c, hangs.gravity, of, book);
        }
        let swing = swing(p, &hangs, book);
        let supply = supply::supply(m, margin, book).ok_or_else(|| {
            vec![lacks("a train that reaches the escape arbor", "write which arbor drives which")]
        })?;
        let wheel = inertia::at_escape(m, escape_wheel.as_ref(), book);
        let f = facts.losses.friction;
        let friction = [f.high, f.likely, f.low];
        let shape = |mu: f64| {
            let made = match &e.acting {
                Acting::Faces { works, reach } => faces::faces(works, mu, *reach).map_err(|a| a.says()),
                Acting::Arms(linkage) => arms::arms(linkage).map_err(|f| f.to_string()),
            }?;
            Ok(Works { swing, pallets: made.pallets, ahead: made.ahead, wheel: wheel.bare().value() })
        };
        let all: Result<Vec<Works>, String> = friction.iter().map(|mu| shape(mu.bare().value())).collect();
        let all = all.map_err(|why| {
            vec![
                Trouble::design("these outlines make no escapement that goes")
                    .why(why)
                    .cure("look at lift, lock, drop and span, and at the friction in [losses]"),
            ]
        })?;
        let arc = p.arc;
        let passes = [margin.passes.low, margin.passes.likely, margin.passes.high];
        let mut works = Vec::new();
        let mut beyond = Vec::new();
        let mut faces_pass = None;
        for end in End::ALL {
            let i = end.index();
            let (alone, share) = passes_at(&all[i], arc.bare().value(), passes[i].bare().value());
            let inputs = vec![arc.id(), friction[i].id(), passes[i].id(), wheel.id(), e.centres.id()];
            if end == End::Likely {
                let how =
                    ("faces followed through two beats at the running arc, nothing lost beyond them", 1, 0.0);
                let name = "going.faces_pass";
                faces_pass = Some(book.solved(name, Ratio::si(alone), how, inputs.clone(), &BEYOND));
            }
            let how = (
                "share of crutch and pallets' pivots such that the whole passes what the losses say",
                4,
                0.0,
            );
            let name = format!("going.beyond_faces.{}", end.word());
            beyond.push(book.solved(name, Ratio::si(share), how, inputs, &BEYOND));
            works.push(all[i].passing(share));
        }
        let (Ok(works), Ok(beyond), Some(faces_pass)) =
            (<[Works; 3]>::try_from(works), <[Val<Ratio>; 3]>::try_from(beyond), faces_pass)
        else {
            return Err(vec![Trouble::ours("a range has other than three ends")]);
        };
        Ok(Model {
            kind: e.kind,
            faces: all[1].clone(),
            works,
            acting: e.acting.clone(),
            drawn: Drawn::of(e),
            friction,
            beyond,
            faces_pass,
            passes,
            beat: p.beat,
            arc,
            arc_needed: e.arc_needed,
            hangs,
            pitch: p.nut.as_ref().map(|n| n.pitch),
            supply,
            run: d.run,
        })
    }
}
/// Pendulum about the axis that its strip gives it.
fn swing(p: &PendulumDesign, hangs: &Hangs, book: &mut Book) -> Oscillator {
    let of = hangs.oscillator();
    let mut ids = vec![p.hung.mass.id(), p.hung.middle.id(), p.gravity.id()];
    ids.extend(p.suspension.as_ref().map(|s| s.pivot.id()));
    let mut put = |name: &str, v: f64| {
        let how = ("all bodies as one about the axis", 1, 0.0);
        book.solved(format_args!("going.pendulum.{name}"), Torque::si(v), how, ids.clone(), &SWING)
    };
    put("gravity_moment", of.gravity);
    put("strip_adds", of.stiffness);
    let how = ("all bodies as one about the axis", 1, 0.0);
    book.solved("going.pendulum.inertia_kg_m2", Ratio::si(of.inertia), how, ids, &SWING);
    of
}
/// What the faces alone pass of the power at an arc, and the share beyond them for which the whole passes `wanted`.
fn passes_at(works: &Works, arc: f64, wanted: f64) -> (f64, f64) {
    // At the torque that a share asks for at the arc: what is passed.
    let passes = |share: f64, of: f64| -> Option<f64> {
        let w = works.passing(share);
        let torque = w.torque_at(arc, of);
        let two = w.two(arc, torque)?;
        let got: f64 =
            two.iter().map(|b| b.ledger.pushed - b.ledger.rubbed - b.ledger.blows - b.ledger.carried).sum();
        let given: f64 = two.iter().map(|b| b.ledger.given).sum();
        Some(got / given)
    };
    // Of the faces: the torque is that at which they keep the arc up.
    let mut alone = 0.6;
    for _ in 0..6 {
        match passes(1.0, alone) {
            Some(p) if p > 0.0 => alone = p,
            _ => break,
        }
    }
    if alone <= wanted {
        return (alone, 1.0);
    }
    let (mut a, mut fa) = (1.0, passes(1.0, wanted).unwrap_or(alone) - wanted);
    let mut b = wanted / alone;
    for _ in 0..12 {
        let Some(fb) = passes(b, wanted).map(|p| p - wanted) else { break };
        if fb.abs() < 1e-12 || (fb - fa).abs() < 1e-300 {
            break;
        }
        let next = (b - fb * (b - a) / (fb - fa)).clamp(0.02, 1.0);
        (a, fa, b) = (b, fb, next);
    }
    (alone, b)
}
impl Works {
    /// Two beats from an arc, entry first, with their ledgers.
    #[must_use]
    pub fn two(&self, arc: f64, torque: f64) -> Option<[Beat; 2]> {
        let first = self.beat(Side::Entry, arc, torque).ok()?;
        let second = self.beat(Side::Exit, first.to, torque).ok()?;
        Some([first, second])
    }
}
