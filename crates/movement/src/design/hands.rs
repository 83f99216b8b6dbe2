//! The hands: outlines of lines and arcs, each weighed and poised about its axis.
//!
//! A hand points along +y from its axis; outlines in plain millimetres.

use super::Train;
use super::arbors::Stem;
use super::motion::MotionDesign;
use kurbo::Point;
use power::hands::{BALANCE, weigh};
use reckon::source::{HOUSE, Source};
use reckon::{Book, Density, Diameter, Length, Mass, Torque, Val, judge, work};
use record::facts::MovementFacts;
use shape::profile::{Profile, Sense};
use tables::material::Material;

/// Poise of hands.
pub static POISE: Source =
    Source::practice("a hand is poised until its weight turns it with less than 0.05 N mm");
/// Lengths of hands.
pub static LENGTHS: Source = Source::practice(
    "the minute hand points into its track, the hour hand is two thirds of it, the seconds hand reaches its divisions",
);

/// Standard gravity, which is near enough to poise a hand (m/s²).
const G: f64 = 9.806_65;

/// How a hand sits on what carries it.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Seat {
    /// A square hole.
    Square,
    /// A round hole.
    Round,
}
/// A hand.
#[derive(Clone, Debug)]
pub struct HandDesign {
    /// Name on its sheet.
    pub name: &'static str,
    /// Dotted prefix.
    pub slug: &'static str,
    /// From the axis to the tip.
    pub length: Val<Length>,
    /// Across its hole: diameter, or width of the square.
    pub hole: Val<Diameter>,
    /// Kind of hole.
    pub seat: Seat,
    /// Tail from the axis to the middle of the counterpoise, where it has one.
    pub tail: Option<Val<Length>>,
    /// Diameter of the counterpoise.
    pub poise: Option<Val<Diameter>>,
    /// Outline.
    pub outline: Profile,
    /// Mass.
    pub mass: Val<Mass>,
    /// Greatest torque of its weight.
    pub imbalance: Val<Torque>,
}
/// All hands.
#[derive(Clone, Debug)]
pub struct HandsDesign {
    /// Minute hand.
    pub minute: Option<HandDesign>,
    /// Hour hand.
    pub hour: Option<HandDesign>,
    /// Seconds hand.
    pub seconds: Option<HandDesign>,
    /// Thickness of all.
    pub thickness: Val<Length>,
    /// What they are made of.
    pub material: &'static Material,
}
impl HandsDesign {
    /// All that there are.
    pub fn all(&self) -> impl Iterator<Item = &HandDesign> {
        [&self.minute, &self.hour, &self.seconds].into_iter().flatten()
    }
}
/// Shape of a hand, millimetres.
#[derive(Copy, Clone, Debug)]
struct Form {
    length: f64,
    boss: f64,
    neck: f64,
    /// Widest place of the leaf, where it begins and where it is widest; none for a plain taper.
    leaf: Option<(f64, f64, f64)>,
    tip: f64,
    tail: Option<(f64, f64)>,
}
impl Form {
    /// Outline anticlockwise from the tip.
    fn outline(&self, poise: f64) -> Profile {
        let l = self.length;
        let half = self.neck / 2.0;
        let mut p = Profile::start(0.0, l);
        let top = (self.boss * self.boss - half * half).max(0.0).sqrt();
        match self.leaf {
            Some((width, from, widest)) => {
                let (w, dy) = (width / 2.0, l - widest);
                let upper = (w * w + dy * dy) / (2.0 * w);
                let (dx, low) = (w - half, widest - from);
                let lower = (dx * dx + low * low) / (2.0 * dx);
                // Both arcs stand upright at the widest place, and so pass into each other.
                p = p.arc_to(Point::new(-w, widest), Point::new(upper - w, widest), Sense::Left);
                p = p.arc_to(Point::new(-half, from), Point::new(lower - w, widest), Sense::Left);
                p = p.line(-half, top);
            }
            None => {
                p = p.line(-self.tip / 2.0, l - 2.0 * self.tip);
                p = p.line(-half, top);
            }
        }
        let boss = Point::ORIGIN;
        match self.tail {
            Some((reach, width)) => {
                let w = width / 2.0;
                let low = -(self.boss * self.boss - w * w).max(0.0).sqrt();
                let r = poise.max(w * 1.05);
                let meet = -reach + (r * r - w * w).max(0.0).sqrt();
                p = p.arc_to(Point::new(-w, low), boss, Sense::Left).line(-w, meet);
                p = p.arc_to(Point::new(w, meet), Point::new(0.0, -reach), Sense::Left).line(w, low);
                p = p.arc_to(Point::new(half, top), boss, Sense::Left);
            }
            None => p = p.arc_to(Point::new(half, top), boss, Sense::Left),
        }
        match self.leaf {
            Some((width, from, widest)) => {
                let (w, dy) = (width / 2.0, l - widest);
                let upper = (w * w + dy * dy) / (2.0 * w);
                let (dx, low) = (w - half, widest - from);
                let lower = (dx * dx + low * low) / (2.0 * dx);
                p = p.line(half, from);
                p = p.arc_to(Point::new(w, widest), Point::new(w - lower, widest), Sense::Left);
                p.arc_to(Point::new(0.0, l), Point::new(w - upper, widest), Sense::Left).close()
            }
            None => p.line(self.tip / 2.0, l - 2.0 * self.tip).line(0.0, l).close(),
        }
    }
}
/// Diameter of the counterpoise that balances the hand, in steps of a twentieth of a millimetre.
fn poised(form: &Form) -> (f64, u32) {
    let off = |r: f64| power::hands::moments(&form.outline(r)).2;
    let (mut low, mut high) = (0.4, form.boss * 3.0);
    let mut rounds = 0;
    while high - low > 1e-4 && rounds < 40 {
        let mid = f64::midpoint(low, high);
        if off(mid) > 0.0 {
            low = mid;
        } else {
            high = mid;
        }
        rounds += 1;
    }
    ((low * 40.0).round() / 20.0, rounds)
}

/// The hands; none where neither dial nor hands are written.
pub(super) fn hands(
    t: &Train,
    stems: &[Stem],
    facts: &MovementFacts,
    motion: Option<&MotionDesign>,
    book: &mut Book,
) -> Option<HandsDesign> {
    let works = motion.map(|m| (&m.pipes, &m.heights));
    if facts.dial.is_none() && facts.hands.is_none() {
        return None;
    }
    let written = facts.hands.as_ref();
    let material = match written {
        Some(h) => h.material,
        None => tables::material::find("blue spring steel").ok()?,
    };
    let thickness = match (written, works) {
        (Some(h), _) => h.thickness,
        (None, Some((_, heights))) => heights.hand,
        (None, None) => book.assumed("hands.thickness", Length::mm(0.6), "house default"),
    };
    let density = material.density.tabled(book, "hands.density", material.row("density"));
    let least = book.assumed("hands.poise", Torque::si(0.05e-3), "house default: common practice");
    let weight = Weight { thickness, density, least };
    let minute_length = written.and_then(|h| h.minute).or_else(|| {
        let circle = facts.dial.as_ref()?.minute_circle;
        Some(work!(book, "hands.minute.length", |circle| circle.across() * 0.5 * 0.97, &LENGTHS))
    });
    let minute = minute_length.zip(works).map(|(length, (pipes, _))| {
        let square = pipes.square;
        let hole = work!(book, "hands.minute.hole", |square| square.as_diameter(), &HOUSE);
        let l = length.bare().in_mm();
        let boss = (hole.bare().in_mm() * 0.71 + 1.6).max(0.045 * l);
        let neck = (0.026 * l).max(1.2);
        let form = Form {
            length: l,
            boss,
            neck,
            leaf: Some((neck * 1.9, 0.52 * l, 0.66 * l)),
            tip: 0.0,
            tail: Some((0.34 * l, neck)),
        };
        hand(("minute hand", "hands.minute"), length, (hole, Seat::Square), form, &weight, book)
    });
    let hour_length = written.and_then(|h| h.hour).or_else(|| {
        minute_length.map(|long| work!(book, "hands.hour.length", |long| long * 2.0 / 3.0, &LENGTHS))
    });
    let hour = hour_length.zip(works).map(|(length, (pipes, _))| {
        let pipe = pipes.hour;
        // The last of the hour pipe is turned down to a shoulder for the hand.
        let hole = work!(book, "hands.hour.hole", |pipe| pipe - Length::mm(0.5), &HOUSE);
        let l = length.bare().in_mm();
        let neck = (0.045 * l).max(1.3);
        let form = Form {
            length: l,
            boss: hole.bare().in_mm() / 2.0 + 1.6,
            neck,
            leaf: Some((0.16 * l, 0.5 * l, 0.68 * l)),
            tip: 0.0,
            tail: None,
        };
        hand(("hour hand", "hands.hour"), length, (hole, Seat::Round), form, &weight, book)
    });
    let seconds = super::dial::seconds_arbor(t, facts).and_then(|i| {
        let pivot = stems.get(i)?.pivot;
        let length = match (written.and_then(|h| h.seconds), facts.dial.as_ref()?.seconds_circle) {
            (Some(length), _) => length,
            (None, Some(circle)) => {
                work!(book, "hands.seconds.length", |circle| circle.across() * 0.5 * 0.93, &LENGTHS)
            }
            (None, None) => return None,
        };
        // The hand is riveted on a little pipe that is pushed on the arbor.
        let hole = work!(book, "hands.seconds.hole", |pivot| pivot * 0.85 + Length::mm(0.8), &HOUSE);
        let l = length.bare().in_mm();
        let form = Form {
            length: l,
            boss: hole.bare().in_mm() / 2.0 + 1.2,
            neck: (0.045 * l).max(0.9),
            leaf: None,
            tip: (0.02 * l).max(0.4),
            tail: Some((0.42 * l, (0.045 * l).max(0.9))),
        };
        Some(hand(("seconds hand", "hands.seconds"), length, (hole, Seat::Round), form, &weight, book))
    });
    Some(HandsDesign { minute, hour, seconds, thickness, material })
}
struct Weight {
    thickness: Val<Length>,
    density: Val<Density>,
    least: Val<Torque>,
}
fn hand(
    (name, slug): (&'static str, &'static str),
    length: Val<Length>,
    (hole, seat): (Val<Diameter>, Seat),
    form: Form,
    of: &Weight,
    book: &mut Book,
) -> HandDesign {
    let inputs = vec![length.id(), hole.id()];
    let (tail, poise) = match form.tail {
        Some(_) => {
            let (d, rounds) = poised(&form);
            let tail = book.solved(
                format_args!("{slug}.tail"),
                Length::mm(form.tail.map_or(0.0, |t| t.0)),
                ("a share of the hand's length", 1, 0.0),
                inputs.clone(),
                &LENGTHS,
            );
            let how =
                ("halved until the outline's moment about the axis is nothing, to 0.05 mm", rounds, 0.0);
            let all = vec![length.id(), hole.id(), tail.id()];
            (
                Some(tail),
                Some(book.solved(format_args!("{slug}.counterpoise"), Diameter::mm(d), how, all, &BALANCE)),
            )
        }
        None => (None, None),
    };
    let outline = form.outline(poise.map_or(0.0, |p| p.bare().in_mm() / 2.0));
    let weighed = weigh(&outline, of.thickness.bare().in_mm(), of.density.bare().value() * 1e-6, G);
    let mut from = inputs;
    from.extend([of.thickness.id(), of.density.id()]);
    from.extend(poise.map(|p| p.id()));
    let how = || ("area and first moment of the outline, the hole about the axis left out", 1, 0.0);
    let across = hole.bare().in_mm();
    let gone = across * across * if seat == Seat::Square { 1.0 } else { reckon::maths::PI / 4.0 };
    let gone = gone * of.thickness.bare().in_mm() * of.density.bare().value() * 1e-6;
    let mass = Mass::si((weighed.mass - gone) * 1e-3);
    let mass = book.solved(format_args!("{slug}.weighs"), mass, how(), from.clone(), &BALANCE);
    let imbalance = book.solved(
        format_args!("{slug}.imbalance"),
        Torque::si(weighed.torque * 1e-3),
        how(),
        from,
        &BALANCE,
    );
    if tail.is_some() {
        let least = of.least;
        let verdict = judge!(
            book,
            format_args!("{slug}.poised"),
            format!("the {name} is poised about its axis"),
            |imbalance, least| imbalance < least,
            &POISE
        );
        book.cure(verdict.id(), "a shorter or thinner hand, or a larger counterpoise");
    }
    HandDesign { name, slug, length, hole, seat, tail, poise, outline, mass, imbalance }
}
#[cfg(test)]
mod tests {
    use super::*;
    #[test]
    fn outlines_close_and_do_not_cross() {
        for leaf in [None, Some((4.0, 36.0, 48.0))] {
            for tail in [None, Some((24.0, 2.0))] {
                let form = Form { length: 72.0, boss: 4.5, neck: 2.0, leaf, tip: 0.8, tail };
                let outline = form.outline(5.0);
                assert!(outline.is_closed() && outline.area() > 0.0);
                assert!(outline.crosses_itself().is_none());
                assert!((outline.bounds().y1 - 72.0).abs() < 1e-9);
            }
        }
    }
    #[test]
    fn the_counterpoise_balances() {
        let form = Form {
            length: 72.0,
            boss: 4.5,
            neck: 2.0,
            leaf: Some((4.0, 36.0, 48.0)),
            tip: 0.0,
            tail: Some((24.0, 2.0)),
        };
        let (d, _) = poised(&form);
        let hand = weigh(&form.outline(d / 2.0), 0.6, 7.85e-3, 9.81);
        assert!(hand.torque < 0.01, "{hand:?}");
    }
}
