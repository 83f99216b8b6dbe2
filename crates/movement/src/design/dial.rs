//! The dial: its circles, its holes, and the feet that carry it.

use super::arbors::Stem;
use super::layout::{Layout, Stand};
use super::model::Train;
use super::motion::MotionDesign;
use reckon::source::{GEOMETRY, HOUSE, Source};
use reckon::{Angle, Book, Diameter, Length, Ratio, Trouble, Val, judge, work};
use record::facts::{Hand, MovementFacts, Runs};
use tables::material::Material;

/// Proportions of a dial.
pub static PROPORTIONS: Source = Source::practice(
    "the minute track is 0.045 of its radius wide, numerals stand within it, a rim of a twentieth lies outside",
);
/// Feet where there is room.
pub static FEET: Source = Source::derived(
    "places tried in pairs from the plate's edges inwards, clear of pivots, pillars, squares and motion work",
);

/// A hole in the dial.
#[derive(Clone, Debug)]
pub struct DialHole {
    /// What passes through it.
    pub what: &'static str,
    /// Dotted name.
    pub slug: &'static str,
    /// From the dial's centre.
    pub at: Stand,
    /// Diameter.
    pub diameter: Val<Diameter>,
}
/// The dial as decided.
#[derive(Clone, Debug)]
pub struct DialDesign {
    /// Minute circle.
    pub minute_circle: Val<Diameter>,
    /// Width of the minute track, inwards.
    pub track: Val<Length>,
    /// Chords of one minute and of five on the minute circle, to check the dividing with.
    pub chords: (Val<Length>, Val<Length>),
    /// Outside.
    pub outside: Val<Diameter>,
    /// Thickness.
    pub thickness: Val<Length>,
    /// What it is made of.
    pub material: &'static Material,
    /// Seconds circle: where, from the dial's centre, and how large.
    pub seconds: Option<(Stand, Val<Diameter>)>,
    /// Holes.
    pub holes: Vec<DialHole>,
    /// Feet, from the dial's centre; none where they find no plate behind them.
    pub feet: Vec<Stand>,
    /// Diameter of the feet.
    pub foot: Val<Diameter>,
    /// Diameter of the feet's tails, which pass through the plate.
    pub tail: Val<Diameter>,
    /// Length of the feet between plate and dial.
    pub height: Val<Length>,
}

/// A clearing hole half a millimetre over whole ones, and above six over even ones: a drill and a file make it.
fn usual(least: Diameter) -> Diameter {
    let mm = least.in_mm() - 0.5;
    Diameter::mm(0.5 + if mm <= 6.0 { mm.ceil() } else { 2.0 * (mm / 2.0).ceil() })
}
/// The arbor that carries a seconds hand, where one is wanted.
#[must_use]
pub fn seconds_arbor(t: &Train, facts: &MovementFacts) -> Option<usize> {
    let wanted = facts.wanted.as_ref().and_then(|w| w.seconds_hand.as_ref()).and_then(|n| t.named(&n.name));
    wanted.or_else(|| t.arbors.iter().position(|a| a.facts.carries == Some(Hand::Seconds)))
}
/// Works the dial out; none where none is written.
pub(super) fn dial(
    t: &Train,
    stems: &[Stem],
    layout: &Layout,
    facts: &MovementFacts,
    motion: Option<&MotionDesign>,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) -> Option<DialDesign> {
    let d = facts.dial.as_ref()?;
    let circle = d.minute_circle;
    let outside =
        d.outside.unwrap_or_else(|| work!(book, "dial.outside", |circle| circle * 1.1, &PROPORTIONS));
    if outside.bare() < circle.bare() {
        troubles.push(
            Trouble::design("the dial is smaller than its minute circle")
                .at(d.at.clone())
                .why(format!("it is {} over all, and the circle is {}", outside.shown(), circle.shown()))
                .cure("leave `outside` out: a rim round the circle is then added"),
        );
        return None;
    }
    let track = work!(book, "dial.track", |circle| circle.across() * 0.5 * 0.045, &PROPORTIONS);
    let chord_minute =
        work!(book, "dial.chord_of_a_minute", |circle| circle.across() * Angle::deg(3.0).sin(), &GEOMETRY);
    let chord_hour = work!(
        book,
        "dial.chord_of_five_minutes",
        |circle| circle.across() * Angle::deg(15.0).sin(),
        &GEOMETRY
    );
    let centre = t.minute.and_then(|m| layout.stands[m]);
    let mut found = DialDesign {
        minute_circle: circle,
        track,
        outside,
        thickness: d.thickness,
        material: d.material,
        chords: (chord_minute, chord_hour),
        seconds: None,
        holes: Vec::new(),
        feet: Vec::new(),
        foot: book.assumed("dial.feet.diameter", Diameter::mm(4.0), "house default"),
        tail: book.assumed(
            "dial.feet.tail",
            Diameter::mm(2.5),
            "house default: through the plate, with a pin",
        ),
        height: match motion {
            Some(m) => m.heights.dial,
            None => book.assumed("dial.feet.height", Length::mm(8.0), "house default: room behind the dial"),
        },
    };
    let hour = motion.map_or_else(
        || book.assumed("dial.centre_pipe", Diameter::mm(5.0), "house default: a pipe at the centre"),
        |m| m.pipes.hour,
    );
    let zero = book.assumed("dial.centre", Length::ZERO, "places on the dial are measured from its centre");
    found.holes.push(DialHole {
        what: "hour pipe",
        slug: "dial.centre_hole",
        at: Stand { x: zero, y: zero },
        diameter: work!(book, "dial.centre_hole.diameter", |hour| usual(hour + Length::mm(0.6)), &HOUSE),
    });
    if let Some(centre) = centre {
        found.seconds = seconds(t, stems, layout, facts, (centre, track), &mut found.holes, book);
        winding(t, stems, layout, facts, (centre, outside), &mut found.holes, book);
        found.feet = feet(stems, layout, facts, motion, (centre, &found), book);
    }
    Some(found)
}
/// A place of the movement as seen from the dial's centre.
fn seen(slug: &str, centre: Stand, of: Stand, book: &mut Book) -> Stand {
    let (cx, cy, x, y) = (centre.x, centre.y, of.x, of.y);
    Stand {
        x: work!(book, format_args!("{slug}.x"), |x, cx| x - cx, &GEOMETRY),
        y: work!(book, format_args!("{slug}.y"), |y, cy| y - cy, &GEOMETRY),
    }
}
fn far(s: &Stand) -> f64 {
    reckon::maths::hypot(s.x.bare().in_mm(), s.y.bare().in_mm())
}
fn seconds(
    t: &Train,
    stems: &[Stem],
    layout: &Layout,
    facts: &MovementFacts,
    (centre, track): (Stand, Val<Length>),
    holes: &mut Vec<DialHole>,
    book: &mut Book,
) -> Option<(Stand, Val<Diameter>)> {
    let arbor = seconds_arbor(t, facts)?;
    let d = facts.dial.as_ref()?;
    let at = seen("dial.seconds", centre, layout.stands[arbor]?, book);
    let pivot = stems[arbor].pivot;
    holes.push(DialHole {
        what: "seconds arbor",
        slug: "dial.seconds_hole",
        at,
        diameter: work!(
            book,
            "dial.seconds_hole.diameter",
            |pivot| usual(pivot * 0.85 + Length::mm(2.0)),
            &HOUSE
        ),
    });
    let circle = d.seconds_circle?;
    let minutes = d.minute_circle;
    let (x, y) = (at.x, at.y);
    let inside = work!(
        book,
        "dial.seconds.most",
        |minutes, track, x, y| ((minutes.across() / 2.0 - track)
            - Length::si(reckon::maths::hypot(x.value(), y.value())))
        .as_radius()
        .diameter(),
        &GEOMETRY
    );
    let verdict = judge!(
        book,
        "dial.seconds.within",
        "the seconds circle lies within the minute track",
        |circle, inside| circle <= inside,
        &PROPORTIONS
    );
    if !verdict.bare() {
        let most = (inside.bare().in_mm()).floor();
        if most >= 10.0 {
            book.cure(verdict.id(), format!("seconds_circle = \"{most} mm\""));
        }
        book.cure(verdict.id(), "a larger minute circle, or the seconds arbor nearer the centre");
    }
    Some((at, circle))
}
/// Holes for keys.
fn winding(
    t: &Train,
    stems: &[Stem],
    layout: &Layout,
    facts: &MovementFacts,
    (centre, outside): (Stand, Val<Diameter>),
    holes: &mut Vec<DialHole>,
    book: &mut Book,
) {
    let Some((drive, first)) = facts.drive.as_ref().zip(t.first) else { return };
    let Some(stand) = layout.stands[first] else { return };
    if t.arbors[first].facts.runs != Runs::Between {
        return;
    }
    let at = seen("dial.winding", centre, stand, book);
    let edge = outside.bare().in_mm() / 2.0;
    let (square, pivot) = (drive.square, stems[first].pivot);
    let hole = work!(
        book,
        "dial.winding_hole.diameter",
        |square, pivot| usual((square * 1.3).as_diameter().min(pivot * 0.98) + Length::mm(4.0)),
        &HOUSE
    );
    // Beside the dial a key needs no hole.
    if far(&at) - hole.bare().in_mm() / 2.0 < edge {
        holes.push(DialHole { what: "winding square", slug: "dial.winding_hole", at, diameter: hole });
    }
}
/// Feet in pairs, as wide apart as plate and dial allow.
fn feet(
    stems: &[Stem],
    layout: &Layout,
    facts: &MovementFacts,
    motion: Option<&MotionDesign>,
    (centre, dial): (Stand, &DialDesign),
    book: &mut Book,
) -> Vec<Stand> {
    let (Some(p), Some(corner)) = (&facts.plates, layout.corner) else { return Vec::new() };
    let at = |s: &Stand| (s.x.bare().in_mm(), s.y.bare().in_mm());
    let ((cx, cy), (x0, y0)) = (at(&centre), at(&corner));
    let (x1, y1) = (x0 + p.size.0.bare().in_mm(), y0 + p.size.1.bare().in_mm());
    let r = dial.foot.bare().in_mm() / 2.0;
    // What a foot must clear: where, and how large it is there.
    let mut near: Vec<(f64, f64, f64)> = Vec::new();
    for (i, s) in layout.stands.iter().enumerate() {
        if let Some(s) = s {
            let (x, y) = at(s);
            near.push((x, y, stems[i].pivot.bare().in_mm() / 2.0 + 2.0));
        }
    }
    let pillar = p.pillar_diameter.bare().in_mm() / 2.0 + 0.5;
    near.extend(layout.pillars.iter().map(|s| (at(s).0, at(s).1, pillar)));
    if let Some(m) = motion {
        near.push((cx, cy, m.second.wheel.outside.bare().in_mm() / 2.0 + 1.0));
        if let Some(s) = &m.stud {
            near.push((at(s).0, at(s).1, m.first.wheel.outside.bare().in_mm() / 2.0 + 1.0));
        }
    }
    for h in &dial.holes {
        let (x, y) = at(&h.at);
        near.push((cx + x, cy + y, h.diameter.bare().in_mm() / 2.0 + 1.5));
    }
    let within = dial.outside.bare().in_mm() / 2.0 - r - 1.5;
    let free = |x: f64, y: f64| {
        let (px, py) = (cx + x, cy + y);
        let inside = px - x0 > r + 2.0 && x1 - px > r + 2.0 && py - y0 > r + 2.0 && y1 - py > r + 2.0;
        inside
            && reckon::maths::hypot(x, y) <= within
            && near.iter().all(|(nx, ny, nr)| reckon::maths::hypot(px - nx, py - ny) >= nr + r)
    };
    // Half a millimetre apart, both of a pair at one height; the widest stance wins.
    let best = |sign: f64| {
        let mut found: Option<(f64, f64, f64)> = None;
        for i in 6..=200_i32 {
            let y = sign * f64::from(i) * 0.5;
            for k in 4..=200_i32 {
                let x = f64::from(k) * 0.5;
                if free(x, y) && free(-x, y) {
                    let worth = x.min(within * 0.7) + y.abs().min(within * 0.7);
                    if found.is_none_or(|(w, ..)| worth > w + 1e-9) {
                        found = Some((worth, x, y));
                    }
                }
            }
        }
        found.map(|(_, x, y)| (x, y))
    };
    let (Some(above), Some(below)) = (best(1.0), best(-1.0)) else {
        let none = book.solved(
            "dial.feet.count",
            Ratio::ZERO,
            ("no two places above and below the centre are clear", 1, 0.0),
            vec![dial.outside.id()],
            &FEET,
        );
        let verdict = judge!(
            book,
            "dial.feet.stand",
            "the plate has room for the dial's feet",
            |none| none.value() > 0.0,
            &FEET
        );
        book.cure(verdict.id(), "carry the dial on the case or on posts from the pillars");
        return Vec::new();
    };
    let spots = [(-above.0, above.1), above, (-below.0, below.1), below];
    let inputs = vec![dial.outside.id(), dial.foot.id(), centre.x.id(), centre.y.id()];
    let how = || ("places half a millimetre apart, tried for the widest stance that is clear", 78_000, 0.0);
    spots
        .iter()
        .enumerate()
        .map(|(i, (x, y))| Stand {
            x: book.solved(format!("dial.feet.{}.x", i + 1), Length::mm(*x), how(), inputs.clone(), &FEET),
            y: book.solved(format!("dial.feet.{}.y", i + 1), Length::mm(*y), how(), inputs.clone(), &FEET),
        })
        .collect()
}
