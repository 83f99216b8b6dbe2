//! The study of one clock: what varies in it as it is made, and with what likelihood it then goes.

mod judge;
mod told;
mod vary;

pub(crate) use judge::shifted;
pub use judge::{FIGURES, Found, VERDICTS};
pub use told::{Amiss, Answer, By};
pub use vary::Size;
pub(crate) use vary::pallets;

use crate::model::{End, Model};
use crate::study::{AIMED, Dimension, Draw, Study};
use movement::design::{Acting, Movement};
use reckon::source::Source;
use reckon::{Book, Cell, Id, Origin, Ratio};

/// Limits that no part has of its own.
pub static LIMITS: Source = Source::practice(
    "nibs and arms to 0.02 mm, teeth divided to 0.01 mm, a wheel true on its arbor to 0.02 mm, bob to a hundredth of its mass, pendulum hung to 0.5 mm, in beat to a tenth of a degree, quality to a fifth",
);
/// Spread of a shop.
pub static SPREAD: Source = Source::derived(
    "sizes that were measured against the limits they were made to: mean and deviation in halves of the limits",
);
/// How the pallets of a drawn clock are had.
pub static OUTLINES: Source = Source::derived(
    "the outlines of each clock at its own sizes, followed from the furthest swing to the let-off: what jams, meets no tooth or lets none go is no escapement",
);
/// Fewest measured sizes that tell how a shop works.
pub const FEWEST: usize = 8;

/// How sizes fall between their limits.
#[derive(Copy, Clone, PartialEq, Debug)]
pub enum Way {
    /// About the middle, as with care.
    Careful,
    /// Anywhere, as likely here as there.
    Even,
    /// As the shop's were measured, in halves of the limits.
    Shop {
        /// Mean.
        mean: f64,
        /// Deviation.
        deviation: f64,
        /// Sizes that tell.
        of: usize,
    },
}
impl Way {
    fn draw(self, middle: f64, half: f64) -> Draw {
        match self {
            Way::Careful => Draw::bell(middle - half, middle + half),
            Way::Even => Draw::Even { low: middle - half, high: middle + half },
            Way::Shop { mean, deviation, .. } => {
                Draw::Spread { mean: middle + mean * half, deviation: deviation * half }
            }
        }
    }
    /// In words.
    #[must_use]
    pub fn says(self) -> String {
        match self {
            Way::Careful => "about the middle of their limits, limits at three deviations".to_owned(),
            Way::Even => "anywhere between their limits".to_owned(),
            Way::Shop { of, deviation, .. } => format!(
                "as {of} sizes measured in this shop fell, a deviation of {} of half the limits",
                reckon::print::fixed(deviation, 2)
            ),
        }
    }
    /// How this shop's sizes fell, where at least [`FEWEST`] were measured that have limits.
    #[must_use]
    pub fn of_shop(book: &Book) -> Option<Way> {
        let si = |name: &str| book.find(name)?.1.si;
        let falls: Vec<f64> = book
            .actual()
            .filter_map(|line| {
                let Origin::Actual { wanted_si, .. } = line.origin else { return None };
                let (up, low) = (si(&format!("{}.upper", line.name))?, si(&format!("{}.lower", line.name))?);
                let half = (up - low) / 2.0;
                let off = line.si? - wanted_si - f64::midpoint(up, low);
                (half > 0.0).then_some(off / half)
            })
            .collect();
        if falls.len() < FEWEST {
            return None;
        }
        let n = falls.len() as f64;
        let mean = falls.iter().sum::<f64>() / n;
        let square: f64 = falls.iter().map(|x| (x - mean) * (x - mean)).sum();
        Some(Way::Shop { mean, deviation: (square / (n - 1.0)).sqrt(), of: falls.len() })
    }
}
/// What varies, beyond the sizes of the outlines; these are the places after them.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
#[repr(usize)]
pub(crate) enum More {
    Friction,
    Division,
    Runout,
    Torque,
    Beyond,
    OutOfBeat,
    Quality,
    Bob,
    Length,
}
/// One line of what varies.
#[derive(Clone, Debug)]
pub struct Line {
    /// Half of its limits, in its unit.
    pub half: f64,
    /// Its middle.
    pub middle: f64,
    /// The unit.
    pub unit: &'static str,
    /// Why these limits.
    pub why: String,
}
/// A clock to be drawn ten thousand times.
#[derive(Clone, Debug)]
pub struct Clocks {
    /// The study: dimensions in their order.
    pub study: Study,
    /// A line for each dimension.
    pub lines: Vec<Line>,
    /// Table of them in the book.
    pub table: Id,
    /// How sizes fall.
    pub way: Way,
    pub(crate) acting: Acting,
    pub(crate) sizes: [Size; 6],
    pub(crate) beat: f64,
    pub(crate) wheel: f64,
    pub(crate) swing: crate::Oscillator,
    /// Swing past the let-off that is counted on.
    pub(crate) run: f64,
    /// Torque at the start of the run over that at its end; none where it is the same.
    pub(crate) top: Option<f64>,
    pub(crate) arc: f64,
    pub(crate) tip_radius: f64,
    pub(crate) tip: f64,
    pub(crate) dead: bool,
    pub(crate) arms: bool,
    /// Of hold over centre distance, rad/mm: what a wheel out of true does.
    pub(crate) per_runout: [f64; 2],
}
impl Clocks {
    /// Of a movement and its model; what varies goes into the book as a table.
    ///
    /// # Errors
    /// Why the escapement as drawn has no faces.
    pub fn of(m: &Movement, model: &Model, way: Way, book: &mut Book) -> Result<Clocks, String> {
        let e = m.escapement.as_ref().ok_or("there is no escapement")?;
        let known =
            |name: &str| book.find(name).is_some_and(|(_, l)| matches!(l.origin, Origin::Actual { .. }));
        let mut dimensions = Vec::new();
        let mut lines = Vec::new();
        let mut put = |name: String, unit, middle: f64, half: f64, draw: Draw, why: &str| {
            dimensions.push(Dimension::new(name, draw));
            lines.push(Line { half, middle, unit, why: why.to_owned() });
        };
        let sizes = Size::of(&model.acting);
        for size in sizes {
            let (half, made, why) = match size {
                Size::Centres => (
                    e.tolerance.clamp(0.005, 0.1),
                    known("escapement.centres"),
                    "distance that the drawing of the plates allows: a tenth of a degree of lock, drop or catch",
                ),
                Size::Tips => (
                    0.01,
                    known("escapement.wheel.outside"),
                    "tips true to 0.01 mm, as the wheel's drawing says",
                ),
                _ => (0.02, false, "what is left for the polish, and may be taken or not"),
            };
            let draw = if made { Draw::Made(0.0) } else { way.draw(0.0, half) };
            put(size.says(), "mm", 0.0, half, draw, why);
        }
        let bounds = |low: f64, high: f64| (f64::midpoint(low, high), (high - low) / 2.0);
        let [mu_high, _, mu_low] = model.friction.map(|v| v.bare().value());
        let (mu, mu_half) = bounds(mu_low, mu_high);
        let range = "range in [losses], oil fresh to stale";
        let careful = |a: f64, h: f64| Draw::bell(a - h, a + h);
        put("friction of the faces".into(), "", mu, mu_half, careful(mu, mu_half), range);
        let rule = "house rule";
        put("worst division of the escape wheel".into(), "mm", 0.0, 0.01, way.draw(0.0, 0.01), rule);
        put("escape wheel out of true".into(), "mm", 0.0, 0.02, way.draw(0.0, 0.02), rule);
        let [low, likely, high] = End::ALL.map(|end| model.supply.torque(end, 1.0));
        let (t, t_half) = bounds(low, high);
        put("torque at the escape arbor".into(), "N m", t, t_half, careful(t, t_half), range);
        let [b_low, _, b_high] = model.beyond.map(|v| v.bare().value());
        let (b, b_half) = bounds(b_low.min(b_high), b_low.max(b_high));
        let passed = "range that [losses] leaves for crutch and pallets' pivots";
        put("what crutch and pivots pass".into(), "", b, b_half, careful(b, b_half), passed);
        put("out of beat".into(), "°", 0.0, 0.1, way.draw(0.0, 0.1), "set by ear");
        let quality = if known("pendulum.quality") { Draw::Made(1.0) } else { careful(1.0, 0.2) };
        put("quality of the pendulum".into(), "of it", 1.0, 0.2, quality, rule);
        put("mass of the bob".into(), "of it", 1.0, 0.01, way.draw(1.0, 0.01), rule);
        put("length of the pendulum".into(), "mm", 0.0, 0.5, way.draw(0.0, 0.5), "before the nut is turned");

        let mut ids = vec![e.centres.id(), model.arc.id()];
        ids.extend(model.friction.iter().chain(&model.beyond).map(reckon::Val::id));
        let number = |x: f64| Cell::as_text(&Ratio::si(x), reckon::print::significant(x, 3));
        let rows = dimensions
            .iter()
            .zip(&lines)
            .map(|(d, l)| {
                let drawn = match d.draw {
                    Draw::Made(_) => "as made".to_owned(),
                    Draw::Even { .. } => "evenly".to_owned(),
                    Draw::Bell { .. } => "with care".to_owned(),
                    Draw::Spread { .. } => "as this shop's".to_owned(),
                };
                vec![
                    Cell::word(&*d.name),
                    number(l.middle),
                    number(l.half),
                    Cell::word(l.unit),
                    Cell::word(drawn),
                    Cell::word(&*l.why),
                ]
            })
            .collect();
        let columns = ["what varies", "middle", "to either side", "unit", "drawn", "why so much"];
        let rule = "each size of each clock drawn for itself";
        let table = book.table("going.study.sizes", &columns, rows, rule, ids, &LIMITS);
        match way {
            Way::Careful => {
                book.tabled("going.study.limits_at_deviations", Ratio::si(3.0), "made with care", &AIMED);
            }
            Way::Shop { mean, deviation, of } => {
                let how = || (format!("{of} sizes that were measured, in halves of their limits"), 1, 0.0);
                let mut put = |name: &str, v: f64| {
                    book.solved(
                        format_args!("going.study.shop.{name}"),
                        Ratio::si(v),
                        how(),
                        Vec::new(),
                        &SPREAD,
                    );
                };
                put("mean", mean);
                put("deviation", deviation);
            }
            Way::Even => {}
        }
        let arms = matches!(model.acting, Acting::Arms(_));
        let top = model.supply.torque(End::Likely, 0.0) / likely;
        let mut clocks = Clocks {
            study: Study {
                dimensions,
                verdicts: VERDICTS.map(str::to_owned).to_vec(),
                figures: FIGURES.iter().map(|(name, _)| (*name).to_owned()).collect(),
            },
            lines,
            table,
            way,
            acting: model.acting.clone(),
            sizes,
            beat: model.beat.bare().value(),
            wheel: model.works[1].wheel,
            swing: model.works[1].swing,
            run: if arms { 0.5_f64.to_radians() } else { 0.3_f64.to_radians() },
            top: (!model.supply.even()).then_some(top),
            arc: model.arc.bare().value(),
            tip_radius: 1.0,
            tip: vary::tip(&model.acting),
            dead: false,
            arms,
            per_runout: [0.0; 2],
        };
        clocks.tip_radius = e.root.bare().in_mm() + e.depth.bare().in_mm();
        let middle = clocks.middle();
        let drawn = clocks.faces(&middle)?;
        clocks.dead = drawn.pallets.iter().all(|p| p.pieces.iter().any(crate::Piece::still));
        let h = 0.005;
        let (mut up, mut down) = (middle.clone(), middle);
        (up[0], down[0]) = (h, -h);
        let (up, down) = (clocks.holds(&clocks.faces(&up)?), clocks.holds(&clocks.faces(&down)?));
        clocks.per_runout = [0, 1].map(|i| (up[i] - down[i]) / (2.0 * h));
        Ok(clocks)
    }
    /// Every size in the middle.
    #[must_use]
    pub fn middle(&self) -> Vec<f64> {
        self.study.dimensions.iter().map(|d| d.draw.middle()).collect()
    }
}
