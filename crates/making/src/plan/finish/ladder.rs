//! The ladder of grains from the cut surface to the finish wanted, with what this shop has.

use heat::polish::{self, Hold, Lap};
use reckon::{Book, Cell, Id, Length, Ratio, Source, Val, work};
use record::facts::{Finish, Shop};

/// How far a finish goes.
pub static LAST: Source = Source::practice(
    "last grain: 20 µm for a straight grain, 9 µm for satin, 3 µm for polished brass, 1 µm for polished steel, a mirror and a black polish",
);
/// A cut surface is as rough as this grain leaves it on paper, µm.
pub const AS_CUT: f64 = 30.0;
/// What the heat spoils of a coated face, µm.
pub const SKIN: f64 = 10.0;
/// Grains are told apart to this share.
const ROOM: f64 = 1e-6;

/// Last grain that a finish wants on a metal, µm.
#[must_use]
pub fn last(level: Finish, on: &str) -> f64 {
    match level {
        Finish::Grain => 20.0,
        Finish::Satin => 9.0,
        Finish::Polish if on == "brass" => 3.0,
        _ => 1.0,
    }
}
/// Why a ladder ends before it should. Grains in µm.
#[derive(Clone, PartialEq, Debug)]
pub enum Short {
    /// The shop lists none.
    NoGrits,
    /// Nothing bridges a step.
    Gap {
        /// Coarse side.
        from: f64,
        /// Fine side.
        to: f64,
        /// A size to buy.
        buy: f64,
    },
    /// A grain without a lap that takes it.
    NoLap {
        /// The grain.
        grain: f64,
    },
    /// A step that only a hard lap stands, and there is none for its grain.
    NoHardLap {
        /// Coarse side.
        from: f64,
        /// Fine side.
        to: f64,
        /// A size to buy.
        buy: f64,
    },
    /// The finest grain is too coarse.
    TooCoarse {
        /// The finest.
        finest: f64,
        /// What is wanted.
        wanted: f64,
    },
}
impl Short {
    /// What would do, the smallest first.
    #[must_use]
    pub fn cures(&self, on: &str) -> Vec<String> {
        let um = reckon::print::significant;
        match self {
            Short::NoGrits => vec!["write the grains of the shop: [polish] grits in shop.toml".to_owned()],
            Short::Gap { from, to, buy } => vec![format!(
                "buy a grain of about {} µm between {} and {} µm",
                um(*buy, 2),
                um(*from, 3),
                um(*to, 3)
            )],
            Short::NoLap { grain } => {
                let fit = polish::lap(on, *grain, false).map_or("iron", |l| l.name.as_str());
                vec![format!("turn or face a lap for {} µm on {on}: {fit}", um(*grain, 3))]
            }
            Short::NoHardLap { from, to, buy } => {
                let mut all = vec![format!(
                    "buy a grain of about {} µm: {} to {} µm is too wide a step for a soft lap",
                    um(*buy, 2),
                    um(*from, 3),
                    um(*to, 3)
                )];
                if let Some(l) = polish::lap(on, *to, true) {
                    all.push(format!("make a hard lap for it: {}", l.name));
                }
                all
            }
            Short::TooCoarse { wanted, .. } => vec![
                format!("buy a grain of {} µm or finer", um(*wanted, 2)),
                "be content with a finish that the shop's grains reach, such as satin".to_owned(),
            ],
        }
    }
}
/// A step before it is written. Grain in µm.
#[derive(Clone, PartialEq, Debug)]
pub struct Bare {
    /// Place of the grain in the shop's list.
    pub index: usize,
    /// Grain.
    pub grain: f64,
    /// The one before it over this.
    pub ratio: f64,
    /// Needs a hard lap.
    pub hard: bool,
    /// Closer than is worth a step.
    pub close: bool,
    /// On which lap.
    pub lap: &'static Lap,
}
/// The lap of this shop for a grain; paper is taken to be at hand everywhere.
#[must_use]
pub fn lap(own: &[String], on: &str, grain: f64, hard: bool) -> Option<&'static Lap> {
    let has = |l: &Lap| {
        l.name.starts_with("paper")
            || own.iter().any(|o| {
                let o = o.to_lowercase();
                l.name.split(" or ").any(|n| o.contains(n) || n.contains(o.trim()))
            })
    };
    polish::laps().iter().find(|l| {
        l.on == on
            && grain >= l.finest * (1.0 - ROOM)
            && grain <= l.coarsest * (1.0 + ROOM)
            && (!hard || l.hold == Hold::Hard)
            && has(l)
    })
}
/// The steps from one grain to a last one through what the shop has, and why they end early if they do.
#[must_use]
pub fn climb(grits: &[f64], own: &[String], on: &str, from: f64, to: f64) -> (Vec<Bare>, Option<Short>) {
    if grits.is_empty() {
        return (Vec::new(), Some(Short::NoGrits));
    }
    let takes = |g: f64| lap(own, on, g, false).is_some();
    let usable: Vec<f64> = grits.iter().copied().filter(|g| takes(*g)).collect();
    let finest = usable.iter().copied().fold(f64::INFINITY, f64::min);
    let fine = usable.iter().copied().filter(|g| *g <= to * (1.0 + ROOM)).fold(0.0, f64::max);
    let mut short = None;
    let goal = if fine > 0.0 {
        fine
    } else {
        let bare = grits.iter().copied().filter(|g| !takes(*g) && *g < finest).fold(0.0, f64::max);
        short = Some(if bare > 0.0 {
            Short::NoLap { grain: bare }
        } else {
            Short::TooCoarse { finest: grits.iter().copied().fold(f64::INFINITY, f64::min), wanted: to }
        });
        finest
    };
    if !goal.is_finite() {
        return (Vec::new(), short);
    }
    let steps = match polish::ladder(&usable, from, goal) {
        Ok(steps) => steps,
        Err(gap) => {
            let bare =
                grits.iter().copied().find(|g| !takes(*g) && *g < gap.from && *g > gap.to * (1.0 + ROOM));
            short = Some(match bare {
                Some(grain) => Short::NoLap { grain },
                None => Short::Gap { from: gap.from, to: gap.to, buy: gap.buy },
            });
            polish::ladder(&usable, from, gap.from).unwrap_or_default()
        }
    };
    let mut out = Vec::new();
    let mut before = from;
    for s in steps {
        let Some(lap) = lap(own, on, s.size, s.hard) else {
            let buy = (before * s.size).sqrt();
            return (out, Some(Short::NoHardLap { from: before, to: s.size, buy }));
        };
        let index = grits.iter().position(|g| (g - s.size).abs() <= ROOM * g).unwrap_or(0);
        out.push(Bare { index, grain: s.size, ratio: s.ratio, hard: s.hard, close: s.close, lap });
        before = s.size;
    }
    (out, short)
}
/// A grain as it is called at the bench: in µm, and the mark on the paper where it is paper.
#[must_use]
pub fn called(grain: Length, lap: &str) -> String {
    let um = grain.in_mm() * 1e3;
    let size = format!("{} µm", reckon::print::significant(um, 3));
    match polish::nearest("P", um).filter(|_| lap.starts_with("paper")) {
        Some(p) => format!("{size} ({})", p.name),
        None => size,
    }
}
/// A step of a ladder.
#[derive(Clone, Debug)]
pub struct Rung {
    /// Grain.
    pub grain: Val<Length>,
    /// The one before it over this.
    pub ratio: Val<Ratio>,
    /// On which lap.
    pub lap: String,
    /// How the lap holds the grain.
    pub hold: Hold,
    /// Needs a hard lap.
    pub hard: bool,
    /// Closer than is worth a step.
    pub close: bool,
    /// What it takes off each face.
    pub off: Val<Length>,
}
/// A ladder as planned.
#[derive(Clone, Debug)]
pub struct Ladder {
    /// `steel` or `brass`.
    pub on: &'static str,
    /// Wanted.
    pub level: Finish,
    /// Coarse to fine.
    pub rungs: Vec<Rung>,
    /// Why it ends early.
    pub short: Option<Short>,
    /// The last grain wanted.
    pub wanted: Val<Length>,
    /// What all of it takes off a face.
    pub off: Val<Length>,
    /// Whether the heat comes after the first grain.
    pub hardened: bool,
    /// The steps in the book.
    pub table: Id,
    /// What a scratch tells, in the book.
    pub scratches: Id,
}
impl Rung {
    /// Its grain as it is called at the bench.
    #[must_use]
    pub fn called(&self) -> String {
        called(self.grain.bare(), &self.lap)
    }
}
impl Ladder {
    /// What two parts share when they are polished together.
    #[must_use]
    pub fn key(&self) -> (&'static str, Finish, bool, Vec<String>) {
        let steps = self.rungs.iter().map(|r| format!("{} {}", r.grain.shown(), r.lap)).collect();
        (self.on, self.level, self.hardened, steps)
    }
    /// Remarks on its steps.
    #[must_use]
    pub fn remarks(&self) -> Vec<String> {
        let mut out = Vec::new();
        let mut before: Option<&Rung> = None;
        for r in &self.rungs {
            let from = before.map_or_else(|| "the cut surface".to_owned(), Rung::called);
            if r.hard {
                out.push(format!(
                    "From {from} to {} is a step of {} to 1: on a hard lap only ({}), flat, nearly dry at the end; on a soft one the old scratches stay.",
                    r.called(),
                    reckon::print::significant(r.ratio.bare().value(), 2),
                    r.lap
                ));
            }
            before = Some(r);
        }
        out
    }
}
/// Writes the ladder of a part.
pub fn ladder(
    book: &mut Book,
    slug: &str,
    shop: &Shop,
    on: &'static str,
    level: Finish,
    hardened: bool,
) -> Ladder {
    let um = |x: f64| Length::mm(x * 1e-3);
    let mut own = shop.polish.laps.clone();
    own.extend(crate::plan::jig::lap::can_be_turned(shop));
    let shop = &shop.polish;
    let grits: Vec<f64> = shop.grits.iter().map(|g| g.bare().in_mm() * 1e3).collect();
    let (steps, short) = climb(&grits, &own, on, AS_CUT, last(level, on));
    let at = format!("{slug}.polish");
    let wanted =
        book.tabled(format!("{at}.last"), um(last(level, on)), format!("{}, {on}", level.word()), &LAST);
    let from = book.assumed(
        format!("{at}.from"),
        um(AS_CUT),
        "house default: a surface as cut is as rough as paper of this grain leaves it",
    );
    let skin = hardened.then(|| {
        book.assumed(
            format!("{at}.skin"),
            um(SKIN),
            "house default: what the heat spoils of each coated face",
        )
    });
    let mut before = (from, Hold::Paper);
    let mut rungs: Vec<Rung> = Vec::new();
    let mut rows = Vec::new();
    let mut inputs = Vec::new();
    for (i, s) in steps.iter().enumerate() {
        let grain = shop.grits[s.index];
        let name = format!("{at}.step{}", i + 1);
        let hold_word = Hold::ALL.iter().find(|(_, h)| *h == before.1).map_or("paper", |(w, _)| *w);
        let share =
            book.tabled(format!("{name}.share"), Ratio::si(before.1.share()), hold_word, &polish::DAMAGE);
        let earlier = before.0;
        let ratio = work!(book, format!("{name}.ratio"), |earlier, grain| earlier / grain, &polish::RATIOS);
        let off = match skin {
            Some(skin) if i == 0 => work!(
                book,
                format!("{name}.off"),
                |share, earlier, skin| earlier * share * 1.5 + skin,
                &polish::DAMAGE
            ),
            _ => {
                work!(book, format!("{name}.off"), |share, earlier| earlier * share * 1.5, &polish::DAMAGE)
            }
        };
        inputs.push(off.id());
        rows.push(vec![
            Cell::word(called(grain.bare(), &s.lap.name)),
            Cell::word(s.lap.name.clone()),
            Cell::as_text(&ratio.bare(), reckon::print::significant(ratio.bare().value(), 2)),
            Cell::word(um_text(off.bare())),
        ]);
        rungs.push(Rung {
            grain,
            ratio,
            lap: s.lap.name.clone(),
            hold: s.lap.hold,
            hard: s.hard,
            close: s.close,
            off,
        });
        before = (grain, s.lap.hold);
    }
    let all: Length = rungs.iter().map(|r| r.off.bare()).sum();
    let off = book.solved(
        format!("{at}.off"),
        all,
        ("sum of what the steps take off a face", 1, 0.0),
        inputs.clone(),
        &polish::DAMAGE,
    );
    let table = book.table(
        format!("{at}.ladder"),
        &["grain", "on", "finer by", "off each face"],
        rows,
        "fewest steps that no lap is too soft for, through the grains and laps of the shop",
        inputs,
        &polish::RATIOS,
    );
    let scratches = scratches(book, &at, &rungs, from);
    Ladder { on, level, rungs, short, wanted, off, hardened, table, scratches }
}
fn um_text(l: Length) -> String {
    format!("{} µm", reckon::print::significant(l.in_mm() * 1e3, 3))
}
/// What a scratch that is found tells: which grain made it, which grain takes it out, and what that costs.
fn scratches(book: &mut Book, at: &str, rungs: &[Rung], cut: Val<Length>) -> Id {
    let mut rows = Vec::new();
    let mut inputs = vec![cut.id()];
    let made = std::iter::once(("the cut".to_owned(), cut.bare(), Hold::Paper))
        .chain(rungs.iter().map(|r| (r.called(), r.grain.bare(), r.hold)));
    for ((by, grain, hold), out) in made.zip(rungs) {
        let deep = grain * hold.share();
        rows.push(vec![
            Cell::word(by),
            Cell::word(um_text(deep)),
            Cell::word(out.called()),
            Cell::word(um_text(deep * BACK)),
        ]);
        inputs.push(out.grain.id());
    }
    book.table(
        format!("{at}.scratches"),
        &["a scratch of", "is about as deep as", "go back to", "and take off"],
        rows,
        "back to the grain that takes the scratch out, three times as deep as it is",
        inputs,
        &polish::DAMAGE,
    )
}
/// How many times its depth is taken off where a scratch has got past its grain.
const BACK: f64 = 3.0;
