//! Threads by hand: a set of taps in a drilled hole, a die on a turned blank; step by step, with the turns counted.

use super::bench::{MetalFacts, found};
use super::hole::seen;
use super::plate::pair::Pair;
use super::{Caution, Figure, Operation, PassTable, SetUp, Spread};
use crate::kernel::{force, tap};
use movement::part::{FlatBody, Part};
use reckon::source::GEOMETRY;
use reckon::{Book, Cell, Count, Diameter, Length, Pressure, Ratio, Source, Val, judge, work};
use record::facts::Shop;
use std::sync::Arc;
use tables::thread::Thread;

/// How a tap is turned.
pub static BY_HAND: Source = Source::practice(
    "half a turn on and a quarter back where chips crumble; a quarter on and half a turn back in steel and under 2 mm, and out to be brushed every two turns",
);
/// How a die is opened.
pub static OPENED: Source = Source::practice(
    "a split die goes over the blank opened first, then closed in one or two steps: each takes less, and the thread comes out round",
);

/// Where the tap is turned.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum At {
    /// In the lathe, the work still held as it was drilled.
    Lathe,
    /// In the spindle of a mill, turned by hand, nothing moved since drilling.
    Spindle,
    /// Through a guide block, its bush out.
    Block,
    /// In the vice.
    Bench,
}
/// A thread to be tapped.
pub struct Hole<'a> {
    /// Under which names its numbers stand.
    pub at: String,
    /// What is tapped, in words.
    pub what: &'a str,
    /// The thread.
    pub thread: &'a Arc<Thread>,
    /// The drill before it.
    pub drill: Val<Diameter>,
    /// Depth of full diameter, or thickness.
    pub deep: Val<Length>,
    /// Whether it goes through.
    pub through: bool,
    /// Where it is tapped.
    pub place: At,
    /// How many holes.
    pub holes: usize,
}
/// The metal as a tap feels it.
#[derive(Copy, Clone, Debug)]
pub struct Felt {
    /// How it cuts.
    pub metal: crate::kernel::speed::Metal,
    /// Specific force of a chip 1 mm thick.
    pub kc11: Val<Pressure>,
    /// How steeply it falls with thickness.
    pub mc: Val<Ratio>,
}
impl From<MetalFacts> for Felt {
    fn from(m: MetalFacts) -> Felt {
        Felt { metal: m.metal, kc11: m.kc11, mc: m.mc }
    }
}
/// Torque that the cut takes, the tap's own, and the pull at the wrench.
fn forces(h: &Hole<'_>, felt: Felt, book: &mut Book) -> [Figure; 3] {
    let name = |tail: &str| format!("{}.tap.{tail}", h.at);
    let t = h.thread;
    let major = book.tabled(name("major"), t.major, t.name.clone(), t.source);
    let pitch = book.tabled(name("pitch"), t.pitch, t.name.clone(), t.source);
    let root = book.tabled(name("root"), t.root(), t.name.clone(), t.source);
    let half = book.tabled(name("half_angle"), t.form.half_angle, t.name.clone(), t.source);
    let lead = book.assumed(
        name("lead"),
        Ratio::si(tap::TAPS[0].lead),
        "house default: threads of a taper tap's lead",
    );
    let flutes =
        book.assumed(name("flutes"), Ratio::si(3.0), "house default: small hand taps have three flutes");
    let drill = h.drill;
    let section = work!(
        book,
        name("section"),
        |major, drill, pitch, half| tap::section(major, drill, pitch, half),
        &tap::SECTION
    );
    let chip = work!(
        book,
        name("chip"),
        |major, drill, lead, flutes| tap::chip(major, drill, lead, flutes),
        &tap::SECTION
    );
    let (kc11, mc) = (felt.kc11, felt.mc);
    let kc = work!(book, name("force"), |kc11, mc, chip| force::specific(kc11, mc, chip), &force::LAW);
    let torque = work!(
        book,
        name("torque"),
        |kc, section, major, drill| tap::torque(kc, section, major, drill),
        &tap::TURNS
    );
    let stress = book.assumed(
        name("stress"),
        Pressure::n_per_mm2(1200.0),
        "house default: hardened tool steel in twist",
    );
    let breaks = work!(book, name("breaks"), |root, stress| tap::breaks(root, stress), &tap::BREAKS);
    let stands = judge!(
        book,
        name("stands"),
        format!("a sharp tap {} turns in this metal without breaking", t.name),
        |torque, breaks| torque <= breaks,
        &tap::BREAKS
    );
    book.cure(stands.id(), "a larger tapping drill: half a thread holds nearly as much");
    book.cure(stands.id(), "begin with the second tap, out after each turn, cutting oil");
    let arm = book.assumed(
        name("arm"),
        Length::mm(if t.major < Diameter::mm(3.5) { 20.0 } else { 40.0 }),
        "house default: each arm of the wrench",
    );
    let pull = work!(book, name("pull"), |torque, arm| torque / arm / 2.0, &GEOMETRY);
    [
        Figure::of("the cut takes", &torque),
        Figure::of("the tap breaks at", &breaks),
        Figure::of("pull at each end of the wrench", &pull),
    ]
}
/// How a tap is started upright.
#[must_use]
pub fn start(place: At) -> String {
    match place {
        At::Lathe => "Start true: work still held as it was drilled, motor off and plug out. Tap loose in the tailstock chuck, or its centred end on the tailstock's point; turn the spindle by hand and follow with the tailstock, pushing only for the first two turns.",
        At::Spindle => "Start true: nothing moved since the hole was drilled, motor off and plug out. Tap in the drill chuck, spindle turned by hand, quill following with light pressure for the first three turns; then let go of the chuck and go on with a wrench.",
        At::Block => "Start true: the guide block stays where it was for the drill, its bush out. Turn the tap on two turns with light pressure, hold a try square on the block against the tap from two sides, lean on the far side for the next half turn until it stands upright. After the third turn it can no longer be righted.",
        At::Bench => "Start true: work in the vice with its face level. Turn the tap on two turns with light pressure, take the wrench off, hold a try square against the tap from two sides, lean on the far side for the next half turn until it stands upright. After the third turn it can no longer be righted.",
    }
    .to_owned()
}
/// Which tap goes how far.
fn steps(h: &Hole<'_>, small: bool, book: &mut Book) -> PassTable {
    let pitch = h.thread.pitch;
    let deep = h.deep.bare();
    let mut rows = Vec::new();
    for (i, one) in tap::TAPS.iter().enumerate() {
        // Through, the taper tap alone finishes; the second only clears a small or tough one.
        if h.through && (i > 1 || (i == 1 && !small)) {
            continue;
        }
        let tip = tap::tip_at(deep, h.through, one.lead, pitch);
        let last = i + 1 == if h.through { if small { 2 } else { 1 } } else { 3 };
        rows.push(vec![
            Cell::word(one.word),
            Cell::of(&Ratio::si(one.lead)),
            Cell::of(&tip),
            Cell::as_text(&tap::turns(tip, pitch), reckon::print::fixed(tap::turns(tip, pitch).value(), 1)),
            Cell::of(&tap::full_to(tip, one.lead, pitch).min(deep)),
            Cell::word(match (h.through, last) {
                (_, true) => "back out, brush, try the screw",
                (true, false) => "on through, or back out",
                (false, false) => "back out, clear the hole",
            }),
        ]);
    }
    let id = book.table(
        format!("{}.tap.steps", h.at),
        &["tap", "lead, threads", "tip from the face", "turns", "full thread to", "then"],
        rows,
        "turns are counted from where the tip is level with the face; a blind hole keeps half a pitch over its floor",
        vec![h.deep.id(), h.drill.id()],
        &tap::SET,
    );
    PassTable { title: "taps in their order".to_owned(), id }
}
/// Tapping by a set of hand taps.
pub fn operation(h: &Hole<'_>, felt: Felt, shop: &Shop, book: &mut Book) -> Operation {
    let t = h.thread;
    let verdict = found(
        book,
        (format!("{}.tap.found", h.at), "the shop has a tap of this thread"),
        shop.taps.iter().filter(|x| x.name == t.name).count(),
        "taps of this thread in the shop's list",
    );
    book.cure(verdict.id(), format!("buy a tap {}", t.name));
    if !verdict.bare() {
        super::fits::tools::threads(book, &verdict, &shop.taps, t, "tap");
    }
    book.cure(verdict.id(), "cut the thread with a boring tool ground to its form");
    let thin = t.major < Diameter::mm(2.0);
    let gentle = thin || !felt.metal.crumbles();
    let [takes, breaks, pull] = forces(h, felt, book);
    let table = steps(h, gentle, book);
    let mut lines = vec![
        "Mouth of the hole countersunk to the thread's outside, so that the first thread lifts no burr.".to_owned(),
        start(h.place),
        if gentle {
            "A quarter of a turn on, half a turn back until the chip is felt to break; after every two turns right out, tap and hole brushed.".to_owned()
        } else {
            "Half a turn on, a quarter back, so that the chip breaks.".to_owned()
        },
        if felt.metal.crumbles() {
            "Brass is tapped dry or with a drop of thin oil.".to_owned()
        } else {
            "Cutting oil on tap and hole, again at every brushing.".to_owned()
        },
        "Both hands on the wrench, pulling alike. The pull below is what a sharp tap takes; at twice that stop and go back: it is blunt, choked, or on the floor.".to_owned(),
    ];
    if h.through {
        lines.push("Count the turns: at the number listed the lead is out on the far side and the thread is full all through.".to_owned());
    } else {
        lines.push("Tape on each tap at the depth of its tip. Count the turns; never on when it stands on the floor of the hole.".to_owned());
    }
    #[expect(clippy::cast_precision_loss, reason = "a number of holes")]
    let each = h.holes as f64;
    let minutes = (if h.through { 4.0 } else { 8.0 }) + if gentle { 3.0 } else { 0.0 };
    Operation {
        title: format!("Tap {}{}", t.name, h.what),
        lines,
        tool: Some(format!("taps {}, tap wrench", t.name)),
        figures: vec![
            Figure::of("drilled", &h.drill),
            Figure::of("to a depth of", &h.deep),
            takes,
            breaks,
            pull,
        ],
        tables: vec![table],
        checks: vec![seen("thread", "screw or gauge enters by finger to the depth, upright, no shake")],
        cautions: vec![Caution::HandThreading],
        time: Spread::minutes(minutes * 0.7 * each, minutes * each, minutes * 2.0 * each),
        does: vec!["tap"],
        ..Operation::default()
    }
}
/// Tapping of the holes of a flat part, thread by thread, after the list in which they are drilled.
pub fn of_flat(
    part: &Part,
    body: &FlatBody,
    pair: Option<&Pair>,
    setups: &mut [SetUp],
    (shop, metal): (&Shop, MetalFacts),
    book: &mut Book,
) {
    let slug = part.slug();
    for setup in setups {
        let mut k = 0;
        while k < setup.operations.len() {
            let rows = setup.operations[k].holes.clone();
            let mut threads: Vec<(&Arc<Thread>, Vec<&str>, String)> = Vec::new();
            for row in &rows {
                let Some(h) = body.holes.iter().find(|h| h.label == row.label) else { continue };
                let Some(of) = &h.thread else { continue };
                match threads.iter_mut().find(|x| x.0.name == of.thread.name) {
                    Some(x) => x.1.push(&h.label),
                    None => threads.push((
                        &of.thread,
                        vec![&h.label],
                        row.drills.last().cloned().unwrap_or_default(),
                    )),
                }
            }
            k += 1;
            for (thread, labels, drill) in threads {
                let at = format!("{slug}.hole.{}", reckon::slug(labels[0]));
                let of = shop.drills.sizes.iter().find(|(n, _)| *n == drill);
                let drill = match of {
                    Some((_, d)) => *d,
                    None => book.assumed(
                        format!("{at}.tap.drill"),
                        thread.minor(),
                        "no drill in the shop: the thread's minor diameter",
                    ),
                };
                let thick = body.thickness.nominal;
                let name = format!("{at}.tap.through");
                let deep = match pair.filter(|p| p.names.0 == part.common.name) {
                    Some(p) if setup.title.ends_with(" as one") => {
                        let other = p.other_thickness;
                        work!(book, name, |thick, other| thick + other, &GEOMETRY)
                    }
                    _ => work!(book, name, |thick| thick, &GEOMETRY),
                };
                let place = if shop.mills.is_empty() { At::Bench } else { At::Spindle };
                let what = format!(": {}", labels.join(", "));
                let hole =
                    Hole { at, what: &what, thread, drill, deep, through: true, place, holes: labels.len() };
                setup.operations.insert(k, operation(&hole, metal.into(), shop, book));
                k += 1;
            }
        }
    }
}
/// A die on a turned blank: opened first, closed in steps.
pub fn die(
    at: &str,
    thread: &Thread,
    long: Val<Length>,
    metal: crate::kernel::speed::Metal,
    book: &mut Book,
) -> (Vec<String>, PassTable, f64) {
    let pitch = thread.pitch;
    let open: &[f64] = if metal.crumbles() { &[0.15, 0.0] } else { &[0.2, 0.08, 0.0] };
    let turns = long.bare() / pitch + Ratio::si(2.0);
    let mut rows = Vec::new();
    for (i, part) in open.iter().enumerate() {
        let leaves = pitch * *part;
        rows.push(vec![
            Cell::of(&Count(i64::try_from(i + 1).unwrap_or(0))),
            Cell::word(match i {
                0 => "screw in the slit driven in until the die is open",
                _ if i + 1 == open.len() => "slit screw out, outer screws in until nut or gauge goes on",
                _ => "slit screw back by an eighth of a turn",
            }),
            Cell::of(&leaves),
            Cell::as_text(&turns, reckon::print::fixed(turns.value(), 1)),
        ]);
    }
    let id = book.table(
        format!("{at}.die.steps"),
        &["pass", "die", "leaves on the diameter", "turns"],
        rows,
        "turns from where the die first bites: the thread's length in pitches, and two for the lead of the die",
        vec![long.id()],
        &OPENED,
    );
    let quarter = if metal.crumbles() {
        "Half a turn on, a quarter back."
    } else {
        "A quarter of a turn on, half a turn back, cutting oil."
    };
    let lines = vec![
        "End of the blank chamfered to the root of the thread at 45°: the die finds its way by that cone.".to_owned(),
        "Start true: die in the tailstock holder with its lettered face (its lead) to the work, holder pushed by the tailstock until it has taken two turns; motor off and plug out, spindle turned by hand. With a hand stock: the flat end of the tailstock barrel behind the stock.".to_owned(),
        format!("{quarter} Each pass to the shoulder or to the mark, back off, brush, close the die as listed."),
        "Up to a shoulder: the last pass once more with the die turned round, its lead to the tailstock, so that the thread is full as near as the die goes.".to_owned(),
    ];
    #[expect(clippy::cast_precision_loss, reason = "two or three passes")]
    let n = open.len() as f64;
    (lines, PassTable { title: "passes of the die".to_owned(), id }, 1.0 + 1.5 * n)
}
