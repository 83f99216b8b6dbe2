//! What is joined: by which way each seat holds, against which load, at what heat, and how it is done.
//!
//! Every way is judged by the same four questions: does it take this clearance, does it hold the load three
//! times over, do the parts bear its heat, and is there what it needs. The first that passes is taken; the
//! others stand beside it with the number that spoke against them.

mod how;
mod weigh;

use super::{PartPlan, SetUp, time, turned};
use crate::kernel::join::{self, Way};
use movement::joint::{Joint, JointUse};
use movement::part::Part;
use reckon::source::{GEOMETRY, HOUSE};
use reckon::{Alternative, Book, Length, Source, Temperature, Time, Torque, Val, judge, work};
use record::facts::Finish;

/// How a way is chosen.
pub static CHOSEN: Source = Source::practice(
    "of the ways usual for such a seat the first that takes its clearance, holds three times its load, and heats nothing that heat would spoil",
);
/// Heat and what was done to a part before.
pub static UNDONE: Source = Source::practice(
    "a later heat must stay 20 K under the tempering of what gets hot, or it softens; over 180 °C a polish on steel begins to colour",
);

/// What is worked out of a joint before a way is chosen.
pub(super) struct Seat<'a> {
    pub(super) joint: &'a Joint,
    pub(super) outer: &'a Part,
    pub(super) inner: &'a Part,
    /// Clearance on the diameter: least, middle, most.
    pub(super) least: Val<Length>,
    pub(super) middle: Val<Length>,
    pub(super) most: Val<Length>,
    /// Torque that it has to hold.
    pub(super) need: Val<Torque>,
    /// Least heat that would undo what either part has had.
    pub(super) spoiled: Option<(Val<Temperature>, String)>,
}
impl Seat<'_> {
    pub(super) fn name(&self, tail: &str) -> String {
        format!("{}.{tail}", self.joint.slug)
    }
}
/// Adds to the plan of each part what is joined to it.
pub fn add(joints: &[Joint], parts: &[Part], plans: &mut [PartPlan], book: &mut Book) {
    let mut added: Vec<(usize, Vec<SetUp>)> = Vec::new();
    for j in joints {
        let setup = joint(j, parts, book);
        match added.iter_mut().find(|a| a.0 == j.page) {
            Some(a) => a.1.push(setup),
            None => added.push((j.page, vec![setup])),
        }
    }
    for (page, setups) in added {
        let Some(plan) = plans.iter_mut().find(|p| p.part == page) else { continue };
        let slug = parts[page].slug();
        let more = time::of_setups(book, &format!("{slug}.joining"), &setups, reckon::Count(1));
        let (mean, joining) = (plan.time.mean, more.mean);
        plan.time.mean =
            work!(book, format!("{slug}.time_joined"), |mean, joining| mean + joining, &time::PERT);
        let (a, b) = (plan.time.deviation, more.deviation);
        plan.time.deviation = work!(
            book,
            format!("{slug}.time_joined.deviation"),
            |a, b| Time::si((a.value() * a.value() + b.value() * b.value()).sqrt()),
            &time::PERT
        );
        for setup in setups {
            // The last finish comes when the clock has been together, and that needs this joint; what is coloured
            // by heat is joined after it.
            let hot = |s: &SetUp| s.does("blue") || s.does("harden");
            let cold = plan.setups.iter().rposition(hot).map_or(0, |h| h + 1);
            let place = place(&plan.setups, &setup).min(super::order::last_finish(&plan.setups).max(cold));
            plan.setups.insert(place, setup);
        }
    }
}
/// Before what a hard rule of the order of works puts after it, such as lacquer after a rivet; else last.
fn place(setups: &[SetUp], joined: &SetUp) -> usize {
    let does = |s: &SetUp| s.operations.iter().flat_map(|o| o.does.clone()).collect::<Vec<_>>();
    let own = does(joined);
    let bound = |then: &str| heat::order::rules().any(|r| r.hard && r.then == then && own.contains(&r.first));
    setups.iter().position(|s| does(s).iter().any(|d| bound(d))).unwrap_or(setups.len())
}
/// The way that was written.
const fn asked(w: record::facts::Joined) -> Way {
    use record::facts::Joined;
    match w {
        Joined::Rivet => Way::Rivet,
        Joined::Press => Way::Press,
        Joined::Adhesive => Way::Adhesive,
        Joined::SoftSolder => Way::SoftSolder,
        Joined::SilverSolder => Way::SilverSolder,
        Joined::Shellac => Way::Shellac,
    }
}
/// Ways that are usual, the first first.
fn usual(of: JointUse) -> &'static [Way] {
    match of {
        JointUse::WheelOnSeat => &[Way::Rivet, Way::Adhesive, Way::SoftSolder, Way::Press],
        JointUse::OnArbor => &[Way::Adhesive, Way::SoftSolder, Way::Press, Way::Shellac, Way::SilverSolder],
        JointUse::InPlate => &[Way::Rivet, Way::Adhesive, Way::Press],
        JointUse::Cap => &[Way::Adhesive, Way::SoftSolder, Way::Press],
        JointUse::Foot => &[Way::SoftSolder, Way::Adhesive],
    }
}
fn joint(j: &Joint, parts: &[Part], book: &mut Book) -> SetUp {
    let seat = seat(j, &parts[j.outer], &parts[j.inner], book);
    let asked = j.asked.as_ref().map(|(w, _)| asked(*w));
    let also = asked.filter(|w| !usual(j.of).contains(w));
    let ways: Vec<weigh::Weighed> =
        usual(j.of).iter().copied().chain(also).map(|w| weigh::weigh(&seat, w, book)).collect();
    let pick = match asked {
        Some(way) => ways.iter().position(|w| w.way == way).unwrap_or(0),
        None => ways.iter().position(|w| w.against.is_none()).unwrap_or(0),
    };
    let among = ways
        .iter()
        .enumerate()
        .map(|(k, w)| Alternative {
            what: w.way.word().to_owned(),
            taken: k == pick,
            why: match (&w.against, k == pick) {
                (Some(no), _) => no.clone(),
                (None, true) => w.good.clone(),
                (None, false) => format!("would do too: {}", w.good),
            },
        })
        .collect();
    let taken = &ways[pick];
    let mut inputs = vec![seat.middle.id(), seat.need.id()];
    inputs.extend(ways.iter().filter_map(|w| w.holds.map(|h| h.id())));
    book.chosen(
        seat.name("by"),
        taken.way.word().to_owned(),
        if asked.is_some() { "as written" } else { "first of the usual ways that passes" },
        among,
        inputs,
        &CHOSEN,
    );
    verdicts(&seat, taken, &ways, book);
    let operations = how::operations(&seat, taken, book);
    turned::at_bench(&format!("joined: {}", j.what), how::held(taken.way, j.of), operations, 8.0)
}
fn seat<'a>(j: &'a Joint, outer: &'a Part, inner: &'a Part, book: &mut Book) -> Seat<'a> {
    let name = |tail: &str| format!("{}.{tail}", j.slug);
    let (hole, hole_up, hole_low) = (j.hole.nominal, j.hole.upper, j.hole.lower);
    let (shaft, up, low) = (j.shaft.nominal, j.shaft.upper, j.shaft.lower);
    let least =
        work!(book, name("play_least"), |hole, hole_low, shaft, up| hole - shaft + hole_low - up, &GEOMETRY);
    let most =
        work!(book, name("play_most"), |hole, hole_up, shaft, low| hole - shaft + hole_up - low, &GEOMETRY);
    let middle = work!(book, name("play"), |least, most| (least + most) / 2.0, &GEOMETRY);
    let handling = book.assumed(
        name("handling"),
        Torque::si(0.03),
        "house default: a hand that turns one while the other is held, 30 N mm",
    );
    let reserve =
        book.assumed(name("reserve"), reckon::Ratio::si(3.0), "house default: three times its load");
    let need = match j.torque {
        Some(torque) => {
            work!(book, name("need"), |torque, reserve, handling| (torque * reserve).max(handling), &HOUSE)
        }
        None => work!(book, name("need"), |handling| handling, &HOUSE),
    };
    let spoiled = [outer, inner].into_iter().find_map(|p| spoiled(p, j, book));
    Seat { joint: j, outer, inner, least, middle, most, need, spoiled }
}
/// The least heat that would undo what a part has had.
fn spoiled(p: &Part, j: &Joint, book: &mut Book) -> Option<(Val<Temperature>, String)> {
    let has = |f: Finish| p.common.finish.iter().any(|(g, _)| *g == f);
    let hard = has(Finish::Temper) || has(Finish::Harden) || has(Finish::Blue);
    if !hard {
        return None;
    }
    let slug = p.slug();
    // The lower of both heats: a blue stands on its temper, and goes when it gets hotter than it was made.
    let had = ["heat.temper.at", "heat.blue.blue"]
        .iter()
        .filter_map(|t| book.find(&format!("{slug}.{t}")).and_then(|(id, l)| Some((id, l.si?))))
        .min_by(|a, b| a.1.total_cmp(&b.1));
    let name = format!("{}.tempered", j.slug);
    let tempered = match had {
        Some((id, si)) => {
            book.solved(name, Temperature::si(si), ("as it is tempered", 1, 0.0), vec![id], &UNDONE)
        }
        None => book.assumed(
            name,
            Temperature::si(273.15 + 250.0),
            "house default: arbors and pinions are tempered at 250 °C or more",
        ),
    };
    let limit = work!(
        book,
        format!("{}.heat_most", j.slug),
        |tempered| Temperature::si(tempered.value() - 20.0),
        &UNDONE
    );
    Some((limit, p.common.name.clone()))
}
/// Whether what was taken bears and spoils nothing.
fn verdicts(seat: &Seat<'_>, w: &weigh::Weighed, ways: &[weigh::Weighed], book: &mut Book) {
    let passes = super::bench::counted(
        book,
        seat.name("passes"),
        usize::from(w.against.is_none()),
        "whether clearance, load and heat all suit it",
    );
    let v = judge!(
        book,
        seat.name("suits"),
        format!("{}: {} suits this seat", seat.joint.what, w.way.word()),
        |passes| passes >= reckon::Count(1),
        &CHOSEN
    );
    if let Some(no) = &w.against {
        let instead: Vec<&str> = ways.iter().filter(|o| o.against.is_none()).map(|o| o.way.word()).collect();
        book.cure(
            v.id(),
            format!(
                "{no}: {}",
                if instead.is_empty() {
                    "another fit".to_owned()
                } else {
                    format!("write joined = \"{}\"", instead.join("\" or \""))
                }
            ),
        );
    }
    if let Some(holds) = w.holds {
        let need = seat.need;
        let v = judge!(
            book,
            seat.name("bears"),
            format!("{}: {} bears its load", seat.joint.what, w.way.word()),
            |holds, need| holds >= need,
            &CHOSEN
        );
        book.cure(v.id(), "a longer or thicker seat");
        book.cure(v.id(), "a cross pin through both");
    }
    if let (Some(heat), Some((limit, whose))) = (w.heat, &seat.spoiled) {
        let limit = *limit;
        let v = judge!(
            book,
            seat.name("cool_enough"),
            format!("{}: its heat undoes nothing of the {whose}", seat.joint.what),
            |heat, limit| heat <= limit,
            &UNDONE
        );
        book.cure(v.id(), "adhesive, cold");
        book.cure(
            v.id(),
            "join first, then harden and temper with what was joined beside it kept wet and cool",
        );
    }
}
/// Whether a joint's heat would undo a temper.
#[must_use]
pub fn too_hot(way: Way, limit: Temperature) -> bool {
    way.heat().is_some_and(|h| h > limit)
}
/// The clearances of a way, in words.
fn takes(way: Way) -> String {
    let (a, b) = way.gap();
    format!("{} to {}", reckon::Shown::shown(&a), reckon::Shown::shown(&b))
}
/// Shear strength that is counted on, in the book.
fn counted(seat: &Seat<'_>, way: Way, book: &mut Book) -> Option<Val<reckon::Pressure>> {
    let (low, high) = way.shear()?;
    Some(book.tabled(
        seat.name(&format!("{}.shear", reckon::slug(way.word()))),
        low,
        format!(
            "{}: lower end of {} to {}",
            way.word(),
            reckon::Shown::shown(&low),
            reckon::Shown::shown(&high)
        ),
        &join::HOLDS,
    ))
}
