//! What each size does: rate and arc as the pendulum, the escapement and what drives it have one size a little
//! larger, all else as it is.

use crate::DAY;
use crate::clocks::{Size, pallets, shifted};
use crate::model::{End, Hangs, Model, Part};
use crate::works::{Side, Works};
use reckon::print::{signed, significant};
use reckon::source::Source;
use reckon::{Acceleration, Angle, Book, Cell, Id, Length, Mass, Ratio, Val};

/// How it is found.
pub static BY_SIZE: Source = Source::derived(
    "the whole simulation with one size half of that larger and half of that smaller, all else as it is likely in the middle of the run; beside it the same with twice the change",
)
.with_formula("ΔR = R(x + h/2) − R(x − h/2)");
/// By how much sizes are changed.
pub static STEPS: Source = Source::practice(
    "what a bench works to: a tenth of a millimetre along a pendulum, a hundredth or two in an escapement, a hundredth part of a mass or a loss",
);

/// A size and what it does.
#[derive(Clone, Debug)]
pub struct Lean {
    /// What is larger.
    pub what: String,
    /// By how much, as it is written.
    pub by: String,
    /// Where that stands in the book.
    pub step: Id,
    /// Rate (s/day) and arc that come of it; none where it then does not go.
    pub does: Option<(Val<Ratio>, Val<Angle>)>,
}
/// All sizes, what moves the rate most first.
#[derive(Clone, Debug)]
pub struct BySize {
    /// A line for each.
    pub leans: Vec<Lean>,
    /// Table in the book.
    pub table: Id,
}
/// Rate (s/day) and semi-arc (rad).
type Goes = (f64, f64);
/// What settles under a torque, looked for near an arc.
fn goes(works: &Works, torque: f64, near: f64, beat: f64) -> Option<Goes> {
    let arc = works.settles(near, torque).ok()?;
    let first = works.quick(Side::Entry, arc, torque).ok()?;
    let second = works.quick(Side::Exit, first.to, torque).ok()?;
    let cycle = first.time + second.time;
    Some((DAY * (2.0 * beat - cycle) / cycle, f64::midpoint(first.to, second.to)))
}
/// What a change of `h` does, and by how much the same with twice the change differs from it.
#[must_use]
pub fn change(h: f64, at: &dyn Fn(f64) -> Option<Goes>) -> Option<(Goes, f64)> {
    let between = |a: Goes, b: Goes, k: f64| ((a.0 - b.0) * k, (a.1 - b.1) * k);
    let (near, far) = match (at(h / 2.0), at(-h / 2.0)) {
        (Some(up), Some(down)) => {
            let far = at(h).zip(at(-h)).map(|(u, d)| between(u, d, 0.5));
            (between(up, down, 1.0), far)
        }
        // At an edge of what goes, from one side.
        (Some(up), None) => (between(up, at(0.0)?, 2.0), at(h).zip(at(0.0)).map(|(u, z)| between(u, z, 1.0))),
        (None, Some(down)) => {
            (between(at(0.0)?, down, 2.0), at(-h).zip(at(0.0)).map(|(d, z)| between(z, d, 1.0)))
        }
        (None, None) => return None,
    };
    Some((near, far.map_or(0.0, |f| (f.0 - near.0).abs())))
}
/// By how much a size is larger, in its unit.
#[derive(Copy, Clone)]
enum Step {
    Millimetres(f64),
    Grams(f64),
    Percent(f64),
    Milligals(f64),
    Degrees(f64),
    Plain(f64),
}
impl Step {
    /// In SI.
    fn si(self) -> f64 {
        match self {
            Step::Millimetres(x) | Step::Grams(x) => x * 1e-3,
            Step::Percent(x) => x * 1e-2,
            Step::Milligals(x) => x * 1e-5,
            Step::Degrees(x) => x.to_radians(),
            Step::Plain(x) => x,
        }
    }
    fn text(self) -> String {
        match self {
            Step::Millimetres(x) => format!("{} mm", significant(x, 3)),
            Step::Grams(x) => format!("{} g", significant(x, 3)),
            Step::Percent(x) => format!("{} %", significant(x, 3)),
            Step::Milligals(x) => format!("{} mGal", significant(x, 3)),
            Step::Degrees(x) => format!("{}°", significant(x, 3)),
            Step::Plain(x) => significant(x, 3),
        }
    }
    fn enter(self, slug: &str, book: &mut Book) -> Id {
        let name = format!("going.by_size.{slug}.more_by");
        let why =
            "what a bench works to, or a room brings: the measure by which this table tells what sizes do";
        let v = self.si();
        match self {
            Step::Millimetres(_) => book.assumed(name, Length::si(v), why).id(),
            Step::Grams(_) => book.assumed(name, Mass::si(v), why).id(),
            Step::Milligals(_) => book.assumed(name, Acceleration::si(v), why).id(),
            Step::Degrees(_) => book.assumed(name, Angle::si(v), why).id(),
            Step::Percent(_) | Step::Plain(_) => book.assumed(name, Ratio::si(v), why).id(),
        }
    }
}
const PENDULUM: [(Part, &str, &str, Step); 13] = [
    (Part::BobLower, "bob_lower", "bob and nut lower on the rod", Step::Millimetres(0.1)),
    (Part::RodLonger, "rod_longer", "rod longer, the bob where it is", Step::Millimetres(1.0)),
    (Part::RodThicker, "rod_thicker", "rod thicker", Step::Millimetres(0.1)),
    (Part::BobHeavier, "bob_heavier", "bob heavier, its size the same", Step::Percent(1.0)),
    (Part::BobWider, "bob_wider", "bob wider, its middle where it is", Step::Millimetres(0.1)),
    (
        Part::BobThicker,
        "bob_thicker",
        "bob thicker or taller, its middle where it is",
        Step::Millimetres(0.1),
    ),
    (Part::NutHeavier, "nut_heavier", "rating nut heavier", Step::Grams(1.0)),
    (Part::StripThicker, "strip_thicker", "suspension strip thicker", Step::Millimetres(0.01)),
    (Part::StripWider, "strip_wider", "suspension strip wider", Step::Millimetres(0.1)),
    (
        Part::StripLonger,
        "strip_longer",
        "suspension strip longer, all below it lower",
        Step::Millimetres(0.1),
    ),
    (Part::StripStiffer, "strip_stiffer", "suspension strip of stiffer metal", Step::Percent(1.0)),
    (Part::Gravity, "gravity", "gravity", Step::Milligals(10.0)),
    (Part::Quality, "quality", "quality of the pendulum", Step::Percent(1.0)),
];
/// What drives and loses, beside the outlines.
#[derive(Copy, Clone)]
enum Other {
    Friction,
    Beyond,
    Torque,
    Inertia,
    OutOfBeat,
}
const OTHERS: [(Other, &str, &str, Step); 5] = [
    (Other::Friction, "friction", "friction of the faces", Step::Plain(0.01)),
    (Other::Beyond, "crutch_passes", "what crutch and pallets' pivots pass", Step::Percent(1.0)),
    (Other::Torque, "torque", "torque at the escape arbor", Step::Percent(1.0)),
    (Other::Inertia, "wheel_inertia", "inertia of escape wheel and train", Step::Percent(10.0)),
    (Other::OutOfBeat, "out_of_beat", "crutch bent towards the entry side", Step::Degrees(0.1)),
];
const fn slug_of(size: Size) -> &'static str {
    match size {
        Size::Centres => "centres",
        Size::Tips => "wheel_tips",
        Size::NibLonger(Side::Entry) => "entry_nib_longer",
        Size::NibLonger(Side::Exit) => "exit_nib_longer",
        Size::NibOut(Side::Entry) => "entry_nib_further_out",
        Size::NibOut(Side::Exit) => "exit_nib_further_out",
        Size::Strut(Side::Entry) => "entry_arm_longer",
        Size::Strut(Side::Exit) => "exit_arm_longer",
        Size::Joint(Side::Entry) => "entry_joint_further_out",
        Size::Joint(Side::Exit) => "exit_joint_further_out",
    }
}

/// A pendulum of other sizes in place of the model's own.
#[must_use]
pub fn hung(works: &Works, hangs: &Hangs) -> Works {
    Works { swing: hangs.oscillator(), ..works.clone() }
}
/// Works it out in the middle of the run, as it is likely; none where nothing settles there.
pub(super) fn by_size(m: &Model, book: &mut Book) -> Option<BySize> {
    let works = m.at(End::Likely);
    let torque = m.supply.torque(End::Likely, 0.5);
    let beat = m.beat.bare().value();
    let near = works.steady(torque).ok()?.arc;
    let settle = |w: &Works, t: f64| goes(w, t, near, beat);
    let i = End::Likely.index();
    let (share, mu) = (m.beyond[i].bare().value(), m.friction[i].bare().value());
    let of = vec![
        m.supply.places[m.supply.places.len() / 2].torque[i].id(),
        m.beyond[i].id(),
        m.friction[i].id(),
        m.arc.id(),
        m.beat.id(),
    ];
    let mut leans = Vec::new();
    let mut put =
        |slug: &str, what: String, (by, step): (String, Id), found: Option<(Goes, f64)>, book: &mut Book| {
            let mut ids = vec![step];
            ids.extend(&of);
            let does = found.map(|((rate, arc), off)| {
                let how = || ("one size larger and smaller", 2, off);
                let name = |what: &str| format!("going.by_size.{slug}.{what}");
                (
                    book.solved(name("rate_s_per_day"), Ratio::si(rate), how(), ids.clone(), &BY_SIZE),
                    book.solved(name("arc"), Angle::si(arc), how(), ids, &BY_SIZE),
                )
            });
            leans.push(Lean { what, by, step, does });
        };
    for (part, slug, what, step) in PENDULUM {
        if m.hangs.larger(part, 0.0).is_none() {
            continue;
        }
        let found = change(step.si(), &|x| settle(&hung(works, &m.hangs.larger(part, x)?), torque));
        put(slug, what.to_owned(), (step.text(), step.enter(slug, book)), found, book);
    }
    if let Some(pitch) = m.pitch {
        let h = pitch.bare().value();
        let found = change(h, &|x| settle(&hung(works, &m.hangs.larger(Part::BobLower, x)?), torque));
        put(
            "nut_turn",
            "bob let down by the rating nut".to_owned(),
            ("1 turn".to_owned(), pitch.id()),
            found,
            book,
        );
    }
    let of_faces = |acting, friction: f64| {
        let f = pallets(&acting, friction).ok()?;
        let w = Works { swing: works.swing, pallets: f.pallets, ahead: f.ahead, wheel: works.wheel };
        Some(w.passing(share))
    };
    for size in Size::of(&m.acting) {
        let step = Step::Millimetres(if matches!(size, Size::Centres | Size::Tips) { 0.01 } else { 0.02 });
        // Outlines are known in millimetres.
        let at = |x: f64| settle(&of_faces(size.larger(&m.acting, x * 1e3), mu)?, torque);
        let (slug, found) = (slug_of(size), change(step.si(), &at));
        put(slug, size.says(), (step.text(), step.enter(slug, book)), found, book);
    }
    for (other, slug, what, step) in OTHERS {
        let at = |x: f64| match other {
            Other::Friction => settle(&of_faces(m.acting.clone(), mu + x)?, torque),
            Other::Beyond => {
                let faces = Works { swing: works.swing, wheel: works.wheel, ..m.faces.clone() };
                settle(&faces.passing(share * (1.0 + x)), torque)
            }
            Other::Torque => settle(works, torque * (1.0 + x)),
            Other::Inertia => settle(&Works { wheel: works.wheel * (1.0 + x), ..works.clone() }, torque),
            Other::OutOfBeat => {
                let pallets = [(0, x), (1, -x)].map(|(i, by)| shifted(&works.pallets[i], by));
                settle(&Works { pallets, ..works.clone() }, torque)
            }
        };
        let found = change(step.si(), &at);
        put(slug, what.to_owned(), (step.text(), step.enter(slug, book)), found, book);
    }
    let size = |l: &Lean| l.does.map_or(f64::INFINITY, |(r, _)| r.bare().value().abs());
    leans.sort_by(|a, b| size(b).total_cmp(&size(a)));
    let table = table(&leans, book);
    Some(BySize { leans, table })
}
impl Lean {
    /// Rate as it is written (s/day); words where it does not go.
    #[must_use]
    pub fn rate(&self) -> String {
        self.does.map_or_else(|| "does not go".to_owned(), |(r, _)| signed(r.bare().value(), 3))
    }
    /// Arc as it is written.
    #[must_use]
    pub fn arc(&self) -> String {
        self.does.map_or_else(String::new, |(_, a)| format!("{}°", signed(a.bare().in_deg(), 4)))
    }
}
fn table(leans: &[Lean], book: &mut Book) -> Id {
    let mut ids = Vec::new();
    let rows = leans
        .iter()
        .map(|l| {
            ids.push(l.step);
            let mut row = vec![Cell::word(l.what.as_str()), Cell::word(l.by.as_str())];
            match l.does {
                Some((rate, arc)) => {
                    ids.extend([rate.id(), arc.id()]);
                    row.extend([Cell::as_text(&rate.bare(), l.rate()), Cell::as_text(&arc.bare(), l.arc())]);
                }
                None => row.extend([Cell::word(l.rate()), Cell::word("")]),
            }
            row
        })
        .collect();
    let columns = ["larger alone", "by", "rate, s/day", "arc"];
    let rule = "each alone, what moves the rate most first; by so much as a bench works to";
    book.table("going.by_size", &columns, rows, rule, ids, &STEPS)
}
