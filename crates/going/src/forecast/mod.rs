//! What the simulation says of a movement: arc, rate, drop, power and margins over the whole wind, and verdicts.
//!
//! The arcs are those that settle under the torque of a place in the run: a swing settles within minutes or an
//! hour, and a run takes days. [`through`] follows every beat instead.

pub mod arcs;
pub mod by_size;
mod flow;
pub mod measured;
mod verdict;
pub mod words;

pub use flow::{Flow, PARTS, Part, Stop, stop};

use crate::film::{Film, film};
use crate::model::{End, Model, Place};
use crate::steady::{STEADY, Steady};
use crate::works::{Side, Works};
use crate::{Halt, steady::Ran};
use reckon::source::Source;
use reckon::{Angle, Book, Cell, Id, Power, Ratio, Time, Torque, Val, work};

/// How a place of the run is forecast.
pub static SETTLED: Source = Source::derived(
    "two beats followed phase by phase by series in time, the arc that they leave as it was found by bracket and secant",
);
/// Rates are told against one setting of the nut.
pub static REGULATED: Source = Source::derived(
    "the nut is turned until the clock keeps time in the middle of its run, all as it is likely",
);
/// Torque in hand.
pub static IN_HAND: Source = Source::derived("torque over the least with which a swing still settles");

/// Moments of a film, or more.
const MOMENTS: u32 = 160;

/// What settles at a place of the run.
#[derive(Clone, Debug)]
pub struct Settled {
    /// The two beats.
    pub steady: Steady,
    /// Semi-arc.
    pub arc: Val<Angle>,
    /// Against the wanted beat, the pendulum as it is set out (s/day).
    pub rate: Val<Ratio>,
    /// The least arc from which it keeps going.
    pub least: Val<Angle>,
    /// From landing to where the dead face ends, or to the let-off of a face that has none: the lesser pallet.
    pub hold: Val<Angle>,
    /// Free turn of the wheel, the greater of both.
    pub drop: Val<Angle>,
    /// Recoil of the wheel, the greater of both.
    pub recoil: Val<Angle>,
    /// Half the difference of the two beats.
    pub uneven: Val<Time>,
    /// Power at the escape arbor.
    pub power: Val<Power>,
    /// How much of a small change of the arc is left after two beats.
    pub kept: Val<Ratio>,
    /// Where the energy goes.
    pub flow: Flow,
}
/// A place of the run at one end of the losses.
#[derive(Clone, Debug)]
pub struct Stand {
    /// Number of the place in the supply.
    pub place: usize,
    /// Which end.
    pub end: End,
    /// Torque at the escape arbor.
    pub torque: Val<Torque>,
    /// The least torque with which a swing settles; none where none does.
    pub least_torque: Option<Val<Torque>>,
    /// Torque over the least.
    pub in_hand: Option<Val<Ratio>>,
    /// What settles, or why nothing does.
    pub found: Result<Settled, Halt>,
}
/// What settles after a part of the run.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct InWind {
    /// Part of the run that is over.
    pub over: f64,
    /// Semi-arc (rad).
    pub arc: f64,
    /// Once regulated (s/day).
    pub rate: f64,
}
/// All of it.
#[derive(Clone, Debug)]
pub struct Forecast {
    /// Places in order of time, each at the three ends.
    pub stands: Vec<Stand>,
    /// Table of them in the book.
    pub table: Option<Id>,
    /// Table of where the energy goes.
    pub flows: Option<Id>,
    /// Verdicts in the book.
    pub verdicts: Vec<Val<bool>>,
    /// Where it does not go: how it comes to stand.
    pub stops: Vec<(usize, End, Stop)>,
    /// Part of the run after which it stops, where it does not reach the end, as it is likely.
    pub stops_at: Option<Val<Ratio>>,
    /// Rate that the nut takes up: in the middle of the run, as it is likely.
    pub nut_takes: Option<Val<Ratio>>,
    /// Arc and rate through the run: low, likely, high, as far as it goes.
    pub curves: [Vec<InWind>; 3],
    /// Table of them in the book; none where the torque is even.
    pub wind: Option<Id>,
    /// The rate against the arc, in the middle of the run, as it is likely; none where nothing settles there.
    pub arcs: Option<arcs::Arcs>,
    /// Two beats in the middle of the run, as they are likely; none where nothing settles there.
    pub film: Option<Film>,
    /// Table of what happens in them.
    pub events: Option<Id>,
    /// What each size does to rate and arc.
    pub by_size: Option<by_size::BySize>,
}
impl Forecast {
    /// A place at an end.
    #[must_use]
    pub fn stand(&self, place: usize, end: End) -> Option<&Stand> {
        self.stands.iter().find(|s| s.place == place && s.end == end)
    }
    /// Rate of a stand against the setting of the nut.
    #[must_use]
    pub fn regulated(&self, s: &Settled) -> f64 {
        s.rate.bare().value() - self.nut_takes.map_or(0.0, |r| r.bare().value())
    }
}

/// Forecasts a movement; numbers go into the book under `going`.
pub fn forecast(m: &Model, book: &mut Book) -> Forecast {
    let mut stands = Vec::new();
    for (i, place) in m.supply.places.iter().enumerate() {
        for end in End::ALL {
            stands.push(stand(m, i, place, end, book));
        }
    }
    let middle = m.supply.places.len() / 2;
    let likely = |s: &&Stand| s.place == middle && s.end == End::Likely;
    let nut_takes = stands.iter().find(likely).and_then(|s| s.found.as_ref().ok()).map(|s| {
        let rate = s.rate;
        work!(book, "going.nut_takes_s_per_day", |rate| rate, &REGULATED)
    });
    let mut stops = Vec::new();
    for s in stands.iter().filter(|s| s.found.is_err()) {
        let share = m.beyond[s.end.index()].bare().value();
        stops.push((s.place, s.end, stop(m.at(s.end), share, m.arc.bare().value(), s.torque.bare().value())));
    }
    let mut f = Forecast {
        table: None,
        flows: None,
        verdicts: Vec::new(),
        stops,
        stops_at: stops_at(m, &stands, book),
        nut_takes,
        curves: Default::default(),
        wind: None,
        arcs: None,
        film: film(m, End::Likely, 0.5, MOMENTS).ok(),
        events: None,
        by_size: by_size::by_size(m, book),
        stands,
    };
    f.curves = End::ALL.map(|end| curve(m, &f, end));
    f.wind = wind(m, &f, book);
    f.arcs = f.stand(middle, End::Likely).and_then(|s| arcs::arcs(m, s, book));
    f.events = f.film.as_ref().map(|film| events(m, film, book));
    f.table = Some(table(m, &f, book));
    f.flows = Some(flow::table(m, &f, book));
    verdict::judge(m, &mut f, book);
    f
}
fn stand(m: &Model, i: usize, place: &Place, end: End, book: &mut Book) -> Stand {
    let works = m.at(end);
    let torque = place.torque[end.index()];
    let name = |what: &str| format!("going.{}.{}.{what}", place.slug, end.word());
    let of = vec![torque.id(), m.beyond[end.index()].id(), m.friction[end.index()].id(), m.arc.id()];
    let least_torque = works.least_torque(torque.bare().value()).map(|t| {
        let how = ("least torque under which a swing settles, by halving", 40, 0.0);
        book.solved(name("least_torque"), Torque::si(t), how, of[1..].to_vec(), &STEADY)
    });
    let in_hand = least_torque
        .map(|least| work!(book, name("torque_in_hand"), |torque, least| torque / least, &IN_HAND));
    let t = torque.bare().value();
    let found = works.steady(t).map(|steady| {
        let mut put = Put { book, of: &of, name: &name, residual: steady.residual };
        let beats = &steady.beats;
        let hold =
            beats.iter().map(|b| hold(works, b.side.other(), -b.landed_at)).fold(f64::INFINITY, f64::min);
        let most = |get: fn(&crate::Beat) -> f64| get(&beats[0]).max(get(&beats[1]));
        let given = beats[0].ledger.given + beats[1].ledger.given;
        Settled {
            arc: put.angle("arc", steady.arc.max(beats[0].to)),
            rate: put.ratio("rate_s_per_day", steady.rate(m.beat.bare().value())),
            least: put.angle("least_arc", works.least_arc(t).unwrap_or(0.0)),
            hold: put.angle("hold_at_landing", hold),
            drop: put.angle("drop", most(|b| b.dropped)),
            recoil: put.angle("recoil", most(|b| b.recoil)),
            uneven: put.put("uneven", Time::si(steady.uneven())),
            power: put.put("power", Power::si(given / steady.cycle())),
            kept: put.ratio("kept_of_a_change", works.kept(steady.arc, t)),
            flow: Flow::of(&steady, m.beyond[end.index()].bare().value(), t),
            steady,
        }
    });
    Stand { place: i, end, torque, least_torque, in_hand, found }
}
/// Enters what the simulation finds.
struct Put<'a> {
    book: &'a mut Book,
    of: &'a [Id],
    name: &'a dyn Fn(&str) -> String,
    residual: f64,
}
impl Put<'_> {
    fn put<T: reckon::Shown>(&mut self, what: &str, v: T) -> Val<T> {
        let how = (
            "every phase of two beats by series in time, where they leave the arc as it was",
            1,
            self.residual,
        );
        self.book.solved((self.name)(what), v, how, self.of.to_vec(), &SETTLED)
    }
    fn angle(&mut self, what: &str, v: f64) -> Val<Angle> {
        self.put(what, Angle::si(v))
    }
    fn ratio(&mut self, what: &str, v: f64) -> Val<Ratio> {
        self.put(what, Ratio::si(v))
    }
}
/// How far a tooth that lands on a pallet at an angle in its sense stands from being let go: to the end of the dead face,
/// or of a face that has none.
fn hold(works: &Works, side: Side, at: f64) -> f64 {
    let p = works.pallet(side);
    let dead = p.pieces.iter().rev().find(|f| f.still());
    dead.map_or_else(|| p.lets_off(), |f| f.to) - at
}
impl Works {
    /// How much of a small change of the arc is left after two beats under a torque.
    #[must_use]
    pub fn kept(&self, arc: f64, torque: f64) -> f64 {
        let after = |a: f64| self.two(a, torque).map(|b| b[1].to);
        let d = 1e-5;
        match (after(arc * (1.0 + d)), after(arc * (1.0 - d))) {
            (Some(up), Some(down)) => (up - down) / (2.0 * d * arc),
            _ => 1.0,
        }
    }
    /// The least torque under which a swing settles, at most `most` times 4; none where none does.
    #[must_use]
    pub fn least_torque(&self, most: f64) -> Option<f64> {
        let mut yes = [1.0, 2.0, 4.0].into_iter().map(|k| k * most).find(|t| self.steady(*t).is_ok())?;
        let mut no = 0.0;
        for _ in 0..40 {
            let middle = f64::midpoint(yes, no);
            if self.steady(middle).is_ok() {
                yes = middle;
            } else {
                no = middle;
            }
            if yes - no < 1e-5 * yes {
                break;
            }
        }
        Some(yes)
    }
}
/// Part of the run after which no swing settles any more, as it is likely.
fn stops_at(m: &Model, stands: &[Stand], book: &mut Book) -> Option<Val<Ratio>> {
    let goes = |over: f64| m.at(End::Likely).steady(m.supply.torque(End::Likely, over)).is_ok();
    if goes(1.0) {
        return None;
    }
    let (mut yes, mut no) = (0.0, 1.0);
    if goes(yes) {
        for _ in 0..30 {
            let middle = f64::midpoint(yes, no);
            if goes(middle) {
                yes = middle;
            } else {
                no = middle;
            }
        }
    }
    let ids = stands.iter().filter(|s| s.end == End::Likely).map(|s| s.torque.id()).collect();
    let how = ("the last part of the run in which a swing settles, by halving", 30, 0.0);
    Some(book.solved("going.stops_after", Ratio::si(yes), how, ids, &SETTLED))
}
fn curve(m: &Model, f: &Forecast, end: End) -> Vec<InWind> {
    let many = if m.supply.even() { 1_u32 } else { 12 };
    let takes = f.nut_takes.map_or(0.0, |r| r.bare().value());
    (0..=many)
        .map(|i| f64::from(i) / f64::from(many))
        .filter_map(|over| {
            let s = m.at(end).steady(m.supply.torque(end, over)).ok()?;
            Some(InWind { over, arc: s.arc, rate: s.rate(m.beat.bare().value()) - takes })
        })
        .collect()
}
/// The curves as a table.
fn wind(m: &Model, f: &Forecast, book: &mut Book) -> Option<Id> {
    if m.supply.even() {
        return None;
    }
    let mut overs: Vec<f64> = f.curves.iter().flatten().map(|p| p.over).collect();
    overs.sort_by(f64::total_cmp);
    overs.dedup();
    let cells = |over: f64, end: End| {
        let at = f.curves[end.index()].iter().find(|p| p.over.total_cmp(&over).is_eq());
        at.map_or_else(
            || [Cell::word("stands"), Cell::word("")],
            |p| {
                let arc = format!("{}°", reckon::print::fixed(p.arc.to_degrees(), 2));
                let (a, r) = (Angle::si(p.arc), Ratio::si(p.rate));
                [Cell::as_text(&a, arc), Cell::as_text(&r, words::signed(p.rate))]
            },
        )
    };
    let rows = overs
        .into_iter()
        .map(|over| {
            let days = m.run.bare() * over;
            let text = format!("{} d", reckon::print::fixed(days.value() / crate::DAY, 2));
            let mut row = vec![Cell::as_text(&days, text)];
            row.extend(End::ALL.into_iter().flat_map(|end| cells(over, end)));
            row
        })
        .collect();
    let columns = ["after", "low: arc", "s/day", "likely: arc", "s/day", "high: arc", "s/day"];
    let ids = f.stands.iter().map(|s| s.torque.id()).chain([m.run.id()]).collect();
    let rule = "what settles under the torque then, rates against the nut's setting for the middle";
    Some(book.table("going.through_the_wind", &columns, rows, rule, ids, &SETTLED))
}
fn table(m: &Model, f: &Forecast, book: &mut Book) -> Id {
    let mut rows = Vec::new();
    let mut ids = Vec::new();
    for s in &f.stands {
        let mut row = vec![Cell::word(m.supply.places[s.place].what), Cell::word(s.end.word())];
        ids.push(s.torque.id());
        match &s.found {
            Ok(d) => {
                let degrees = |a: Val<Angle>| {
                    Cell::as_text(&a.bare(), format!("{}°", reckon::print::fixed(a.bare().in_deg(), 2)))
                };
                let rate = Ratio::si(f.regulated(d));
                row.extend([
                    degrees(d.arc),
                    Cell::as_text(&rate, words::signed(rate.value())),
                    degrees(d.least),
                    degrees(d.hold),
                    degrees(d.drop),
                    degrees(d.recoil),
                ]);
                ids.extend([d.arc.id(), d.rate.id(), d.least.id(), d.hold.id()]);
                ids.extend([d.drop.id(), d.recoil.id()]);
            }
            Err(_) => row.extend((0..6).map(|_| Cell::word("stands"))),
        }
        row.push(match s.in_hand {
            Some(k) => Cell::as_text(&k.bare(), reckon::print::fixed(k.bare().value(), 2)),
            None => Cell::word("never"),
        });
        rows.push(row);
    }
    let columns = [
        "when",
        "if",
        "arc",
        "rate, s/day",
        "keeps on from",
        "hold at landing",
        "drop",
        "recoil",
        "torque over least",
    ];
    book.table("going.forecast", &columns, rows, "what settles under the torque of that place", ids, &SETTLED)
}
/// What happens in two beats, as a table.
fn events(m: &Model, film: &Film, book: &mut Book) -> Id {
    let rows = film
        .events
        .iter()
        .map(|e| {
            let (time, pallets) = (Time::si(e.frame.time), Angle::si(e.frame.pallets));
            let wheel = Angle::si(e.frame.wheel - film.frames[0].wheel);
            let three = |a: Angle| Cell::as_text(&a, format!("{}°", reckon::print::fixed(a.in_deg(), 3)));
            let force = e.frame.touch.map_or(0.0, |(_, f)| reckon::maths::hypot(f.x, f.y));
            let force_text = if e.frame.touch.is_some() {
                format!("{} mN", reckon::print::fixed(force * 1e3, 1))
            } else {
                "none".to_owned()
            };
            vec![
                Cell::word(format!("{}, {} pallet", e.what, e.side.word())),
                Cell::as_text(&time, format!("{} ms", reckon::print::fixed(time.value() * 1e3, 1))),
                three(pallets),
                three(wheel),
                Cell::as_text(&reckon::Force::si(force), force_text),
            ]
        })
        .collect();
    let columns = ["what happens", "after", "pallets", "wheel", "force on the pallet"];
    let rule = "two beats at the arc that settles in the middle of the run, as it is likely; the force is that of a wheel that only pushes";
    let ids = vec![m.arc.id(), m.friction[End::Likely.index()].id(), m.beyond[End::Likely.index()].id()];
    book.table("going.events", &columns, rows, rule, ids, &SETTLED)
}
/// Every beat of the run followed, from the running arc, with the torque as it falls.
#[must_use]
pub fn through(m: &Model, end: End) -> Ran {
    let (run, beat) = (m.run.bare().value(), m.beat.bare().value());
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "beats of a run, a whole number"
    )]
    let beats = (run / beat).round() as u64;
    m.at(end).run_with(Side::Entry, m.arc.bare().value(), beats, |_, time| {
        m.supply.torque(end, (time / run).min(1.0))
    })
}
