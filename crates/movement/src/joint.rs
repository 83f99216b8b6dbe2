//! What is joined to what: seats of wheels, collets, pallets, pillars, posts, studs and caps, and what they bear.

use crate::design::Movement;
use crate::part::{Body, FlatBody, Part, TurnedBody};
use reckon::source::{GEOMETRY, HOUSE};
use reckon::{Book, Count, Diameter, Length, Place, Source, Torque, Val, work};
use record::facts::{Joined, Size};

/// Torque of an arbor as the drive gives it.
pub static CARRIED: Source = Source::derived("as in the table of loads: nothing lost before it");

/// A bond over a seat and the shoulder beside it.
pub static WITH_SHOULDER: Source =
    Source::derived("the same shear stress over the cylinder of the seat and the ring of the shoulder")
        .with_formula("l' = l + (R³ − r³)/(3 r²)");

/// What a joint is for, which decides what is thought of first.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum JointUse {
    /// A wheel on its collet, pinion or pipe.
    WheelOnSeat,
    /// A collet, a lever or pallets on an arbor.
    OnArbor,
    /// A pillar, post or stud in a plate.
    InPlate,
    /// A cap that closes a shell.
    Cap,
    /// A foot in a blind hole, its shoulder on the face.
    Foot,
}
/// One part in another.
#[derive(Clone, Debug)]
pub struct Joint {
    /// Dotted prefix in the book.
    pub slug: String,
    /// What it is in words: "third wheel on the third collet".
    pub what: String,
    /// What it is for.
    pub of: JointUse,
    /// Index of the part with the hole.
    pub outer: usize,
    /// Index of the part in it.
    pub inner: usize,
    /// Index of the part on whose page it is done.
    pub page: usize,
    /// The hole.
    pub hole: Size<Diameter>,
    /// What goes in it.
    pub shaft: Size<Diameter>,
    /// How long they bear on each other.
    pub length: Val<Length>,
    /// Outside of the ring that stands round the hole.
    pub around: Val<Diameter>,
    /// Metal that stands over, to be riveted.
    pub over: Option<Val<Length>>,
    /// Bore through what goes in.
    pub bore: Option<Val<Diameter>>,
    /// Torque that it carries as the clock goes.
    pub torque: Option<Val<Torque>>,
    /// How many there are.
    pub count: Count,
    /// The way that the maker wrote, and where.
    pub asked: Option<(Joined, Place)>,
}
struct Finder<'a> {
    parts: &'a [Part],
}
impl Finder<'_> {
    fn at(&self, slug: &str) -> Option<usize> {
        self.parts.iter().position(|p| p.slug() == slug)
    }
    fn flat(&self, i: usize) -> Option<&FlatBody> {
        match &self.parts[i].body {
            Body::Flat(f) => Some(f),
            Body::Turned(_) => None,
        }
    }
    fn turned(&self, i: usize) -> Option<&TurnedBody> {
        self.parts[i].turned()
    }
    fn name(&self, i: usize) -> &str {
        &self.parts[i].common.name
    }
    /// The step of a turned part with this word.
    fn step(&self, i: usize, what: &str) -> Option<&crate::part::Step> {
        self.turned(i)?.steps.iter().find(|s| s.what == what)
    }
}
/// A length or torque that stands in the book under a name.
fn torque(book: &mut Book, names: &[String], slug: &str) -> Option<Val<Torque>> {
    let (id, si) = names.iter().find_map(|n| {
        let (id, line) = book.find(n)?;
        Some((id, line.si?))
    })?;
    Some(book.solved(
        format_args!("{slug}.torque"),
        Torque::si(si),
        ("torque of its arbor", 1, 0.0),
        vec![id],
        &CARRIED,
    ))
}
/// All joints of a movement, in the order of its arbors, then plates and weight.
pub fn joints(m: &Movement, parts: &[Part], book: &mut Book) -> Vec<Joint> {
    let f = Finder { parts };
    let mut all = Vec::new();
    for (i, a) in m.train.arbors.iter().enumerate() {
        let slug = &a.facts.slug;
        let wheel = if m.train.escape == Some(i) {
            f.at("escapement.wheel")
        } else {
            a.facts.wheel.as_ref().and_then(|w| f.at(&w.slug))
        };
        let mut names = vec![format!("{slug}.torque")];
        if m.train.first == Some(i) {
            names.extend(
                ["drive.weight.torque", "drive.fusee.torque", "drive.spring.torque_full"].map(str::to_owned),
            );
        }
        let (arbor, collet) = (f.at(slug), f.at(&format!("{slug}.collet")));
        if let (Some(w), Some(c)) = (wheel, collet) {
            let asked = a.facts.wheel.as_ref().and_then(|w| w.joined.clone());
            all.extend(wheel_on(&f, w, c, "seat", &names, book).map(|j| Joint { asked, ..j }));
        }
        // Where the arbor is wound, its wheel runs free on it and the drum is fast.
        let wound = m.train.first == Some(i) && f.at("drive.drum_part").is_some();
        if let (Some(c), Some(r), false) = (collet, arbor, wound) {
            let asked = a.facts.joined.clone();
            all.extend(on_arbor(&f, c, r, &names, book).map(|j| Joint { asked, ..j }));
        }
        if let (Some(r), true) = (arbor, wound) {
            for fast in ["drive.drum_part", "drive.ratchet_part"] {
                let Some(d) = f.at(fast) else { continue };
                let asked = a.facts.joined.clone();
                all.extend(on_arbor(&f, d, r, &names, book).map(|j| Joint { asked, ..j }));
            }
        }
    }
    if let Some(r) = f.at("pallets") {
        for lever in ["escapement.pallets", "escapement.crutch"] {
            if let Some(l) = f.at(lever) {
                let asked = m.train.pallets.and_then(|p| m.train.arbors[p].facts.joined.clone());
                all.extend(on_arbor(&f, l, r, &[], book).map(|j| Joint { asked, ..j }));
            }
        }
    }
    for (wheel, seat) in [
        ("motion.minute_wheel", "motion.minute_pinion"),
        ("motion.hour_wheel", "motion.hour_pipe"),
        ("hands.seconds", "hands.seconds_pipe"),
    ] {
        if let (Some(w), Some(s)) = (f.at(wheel), f.at(seat)) {
            all.extend(wheel_on(&f, w, s, "seat", &[], book));
        }
    }
    all.extend(in_plates(&f, m, book));
    all.extend(dial_feet(&f, book));
    all.extend(caps(&f, book));
    all
}
/// A wheel on the seat of a collet, pinion or pipe.
fn wheel_on(
    f: &Finder<'_>,
    wheel: usize,
    seat: usize,
    step: &str,
    torques: &[String],
    book: &mut Book,
) -> Option<Joint> {
    let flat = f.flat(wheel)?;
    let on = f.step(seat, step)?;
    let slug = format!("{}.joint", f.parts[wheel].slug());
    let hole = flat.holes.first()?;
    let thick = flat.thickness.nominal;
    let (from, to) = (on.from, on.to);
    let over = work!(book, format_args!("{slug}.over"), |to, from, thick| to - from - thick, &GEOMETRY);
    let bore = f.turned(seat)?.holes.first().map(|h| h.size.nominal);
    Some(Joint {
        what: format!("{} on the {}", f.name(wheel), f.name(seat)),
        of: JointUse::WheelOnSeat,
        outer: wheel,
        inner: seat,
        page: wheel,
        hole: hole.diameter,
        shaft: on.size,
        length: thick,
        around: f.turned(seat)?.largest,
        over: (over.bare() > Length::mm(0.05)).then_some(over),
        bore,
        torque: torque(book, torques, &slug),
        count: Count(1),
        asked: None,
        slug,
    })
}
/// A collet, drum, lever or pallets on an arbor.
fn on_arbor(
    f: &Finder<'_>,
    outer: usize,
    arbor: usize,
    torques: &[String],
    book: &mut Book,
) -> Option<Joint> {
    let (hole, length, around) = match &f.parts[outer].body {
        Body::Turned(t) => (t.holes.first()?.size, t.length, t.largest),
        Body::Flat(b) => {
            let hole = b.holes.iter().find(|h| h.thread.is_none())?.diameter;
            let slug = f.parts[outer].slug();
            let (size, wall) = (
                hole.nominal,
                book.assumed(
                    format_args!("{slug}.joint.wall"),
                    Length::mm(2.0),
                    "house default: metal round the hole of a lever",
                ),
            );
            let around =
                work!(book, format_args!("{slug}.joint.around"), |size, wall| size + wall * 2.0, &HOUSE);
            (hole, b.thickness.nominal, around)
        }
    };
    let slug = format!("{}.joint", f.parts[outer].slug());
    let near = |s: &&crate::part::Step| {
        let play = hole.nominal.bare() - s.size.nominal.bare();
        play.abs() < Length::mm(0.2) && s.thread.is_none()
    };
    let long = |s: &crate::part::Step| (s.to.bare() - s.from.bare()).value();
    let on = f.turned(arbor)?.steps.iter().filter(near).max_by(|a, b| long(a).total_cmp(&long(b)))?;
    Some(Joint {
        what: format!("{} on the {}", f.name(outer), f.name(arbor)),
        of: JointUse::OnArbor,
        outer,
        inner: arbor,
        page: arbor,
        hole,
        shaft: on.size,
        length,
        around,
        over: None,
        bore: None,
        torque: torque(book, torques, &slug),
        count: Count(1),
        asked: None,
        slug,
    })
}
/// Pillars, posts and studs that are riveted into a plate or a strip.
fn in_plates(f: &Finder<'_>, m: &Movement, book: &mut Book) -> Vec<Joint> {
    let mut all = Vec::new();
    let mut one = |inner: usize, outer: usize, label: &str, book: &mut Book| {
        let flat = f.flat(outer)?;
        let hole = flat.holes.iter().find(|h| h.label.starts_with(label))?;
        let riveted = f.step(inner, "spigot to rivet");
        let on = riveted.or_else(|| f.step(inner, "foot"))?;
        let slug = format!("{}.joint", f.parts[inner].slug());
        let thick = flat.thickness.nominal;
        let (from, to) = (on.from, on.to);
        let over = work!(book, format_args!("{slug}.over"), |to, from, thick| to - from - thick, &GEOMETRY);
        // A foot is pressed into the plate, and the plate's own metal is the ring round it; it may be shorter than that.
        let (length, around) = if riveted.is_some() {
            (thick, f.turned(inner)?.largest)
        } else {
            let hole = hole.diameter.nominal;
            let bears = work!(
                book,
                format_args!("{slug}.bears_over"),
                |to, from, thick| (to - from).min(thick),
                &GEOMETRY
            );
            (bears, work!(book, format_args!("{slug}.around"), |hole| hole * 3.0, &HOUSE))
        };
        all.push(Joint {
            what: format!("{} in the {}", f.name(inner), f.name(outer)),
            of: JointUse::InPlate,
            outer,
            inner,
            page: outer,
            hole: hole.diameter,
            shaft: on.size,
            length,
            around,
            over: (over.bare() > Length::mm(0.05)).then_some(over),
            bore: None,
            torque: None,
            count: f.parts[inner].common.count.bare(),
            asked: None,
            slug,
        });
        Some(())
    };
    let back = f.at("plates.back_plate");
    if let (Some(p), Some(b)) = (f.at("plates.pillar"), back) {
        one(p, b, "pillar", book);
    }
    if let (Some(stud), Some(front)) = (f.at("motion.stud"), f.at("plates.front_plate")) {
        one(stud, front, "minute stud", book);
    }
    for bridge in &m.layout.bridges {
        let plate = if bridge.front { f.at("plates.front_plate") } else { back };
        if let (Some(p), Some(b)) = (f.at(&format!("{}.posts", bridge.slug)), plate) {
            one(p, b, &bridge.name, book);
        }
        let (stud, strip) = (f.at(&format!("{}.stud", bridge.slug)), f.at(&format!("{}.strip", bridge.slug)));
        if let (Some(p), Some(b)) = (stud, strip) {
            one(p, b, "stud", book);
        }
    }
    all
}
/// The dial's feet, in blind holes in its back.
fn dial_feet(f: &Finder<'_>, book: &mut Book) -> Option<Joint> {
    let (dial, foot) = (f.at("dial")?, f.at("dial.foot")?);
    let on = f.step(foot, "spigot")?;
    let shoulder = f.step(foot, "foot")?.size.nominal;
    let slug = "dial.foot.joint".to_owned();
    let (spigot, from, to) = (on.size.nominal, on.from, on.to);
    let play = book.assumed(
        format_args!("{slug}.room"),
        Length::mm(0.06),
        "house default: room for solder or adhesive on the diameter",
    );
    let nominal = work!(book, format_args!("{slug}.hole"), |spigot, play| spigot + play, &HOUSE);
    let upper =
        book.assumed(format_args!("{slug}.hole.upper"), Length::mm(0.04), "house default: as drilled");
    let lower = book.assumed(format_args!("{slug}.hole.lower"), Length::ZERO, "house default: as drilled");
    // Spigot and shoulder together, as long as a spigot alone that holds as much against turning.
    let length = work!(
        book,
        format_args!("{slug}.length"),
        |to, from, spigot, shoulder| {
            let (r, outer) = (spigot.value() / 2.0, shoulder.value() / 2.0);
            to - from + Length::si((outer * outer * outer - r * r * r) / (3.0 * r * r))
        },
        &WITH_SHOULDER
    );
    Some(Joint {
        what: "dial feet in the back of the dial".to_owned(),
        of: JointUse::Foot,
        outer: dial,
        inner: foot,
        page: dial,
        hole: Size { nominal, upper, lower },
        shaft: on.size,
        length,
        around: shoulder,
        over: None,
        bore: None,
        torque: None,
        count: f.parts[foot].common.count.bare(),
        asked: None,
        slug,
    })
}
/// The caps of a weight's shell.
fn caps(f: &Finder<'_>, book: &mut Book) -> Option<Joint> {
    let (shell, cap) = (f.at("drive.weight.shell")?, f.at("drive.weight.cap_part")?);
    let body = f.turned(shell)?;
    let step = f.turned(cap)?.steps.first()?;
    let (from, to) = (step.from, step.to);
    let slug = "drive.weight.cap_part.joint".to_owned();
    let length = work!(book, format_args!("{slug}.length"), |to, from| to - from, &GEOMETRY);
    Some(Joint {
        what: "weight caps in the shell".to_owned(),
        of: JointUse::Cap,
        outer: shell,
        inner: cap,
        page: shell,
        hole: body.holes.first()?.size,
        shaft: step.size,
        length,
        around: body.largest,
        over: None,
        bore: None,
        torque: None,
        count: Count(2),
        asked: None,
        slug,
    })
}
