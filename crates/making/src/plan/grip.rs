//! What holds the work, and the cut it can stand.

use super::bench::{Bench, counted, found};
use super::{Caution, Held, Operation};
use crate::kernel::hold::{self, Contact, Grip, Jaws, Load, Skin};
use crate::kernel::{bend, force};
use reckon::source::GEOMETRY;
use reckon::{Alternative, Count, Diameter, Force, Length, Pressure, Ratio, Source, Val, judge, work};
use record::facts::HoldKind;

/// Deepest cuts for a light lathe, before grip and stiffness are looked at.
pub static HOUSE_DEPTH: Source =
    Source::practice("deepest cut on a light lathe: 1.0 mm in brass, 0.5 mm in steel");
/// Shares of the main force that push along and outward, for a pointed tool.
pub static SHARES: Source =
    Source::memory("textbook shares of a straight tool: along 0.4, outward 0.3 of the main force");
const ALONG: f64 = 0.4;
const RADIAL: f64 = 0.3;
/// Force with which a short washer or a finished surface is gripped, so as not to mark it.
const LIGHT: f64 = 900.0;

/// How a grip was chosen and what it can stand.
#[derive(Clone, Debug)]
pub struct GripPlan {
    /// For the sheet.
    pub held: Held,
    /// Deepest cut at the roughing feed.
    pub deepest: Val<Length>,
    /// Deepest finishing cut: it bends the work by no more than a quarter of the closest limits.
    pub finish: Val<Length>,
    /// Greatest main cutting force it holds.
    pub greatest: Val<Force>,
    /// Whether a tailstock centre or pad is needed.
    pub padded: bool,
    /// Cautions.
    pub cautions: Vec<Caution>,
}
impl GripPlan {
    /// Puts its cautions on the first operation of the set-up, each once.
    pub fn warn(&self, operations: &mut [Operation]) {
        let Some(first) = operations.first_mut() else { return };
        let new = self.cautions.iter().filter(|c| !first.cautions.contains(c)).copied().collect::<Vec<_>>();
        first.cautions.extend(new);
    }
}
/// One way to hold.
#[derive(Clone, Debug)]
struct Way {
    name: String,
    kind: WayKind,
    force: Option<Val<Force>>,
    length: Val<Length>,
    jaws: usize,
}
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
enum WayKind {
    Collet,
    Chuck,
    SoftChuck,
}
/// Smallest collet that takes a diameter, if any.
fn collet_for(sizes: &[Val<Diameter>], range: Length, d: Diameter) -> Option<Val<Diameter>> {
    let mut fitting: Vec<&Val<Diameter>> = sizes
        .iter()
        .filter(|s| s.bare() + Length::mm(0.02) >= d && s.bare() - range - Length::mm(0.02) <= d)
        .collect();
    fitting.sort_by(|a, b| a.bare().value().total_cmp(&b.bare().value()));
    fitting.first().map(|v| **v)
}
/// All ways this lathe has of gripping a diameter from outside, best first, and why others do not.
fn ways(b: &Bench<'_>, d: Diameter, room: Option<Length>) -> (Vec<Way>, Vec<Alternative>) {
    let mut found = Vec::new();
    let mut not = Vec::new();
    let mut pass =
        |what: &str, why: String| not.push(Alternative { what: what.to_owned(), taken: false, why });
    let usable = |l: &Val<Length>| room.is_none_or(|r| r.value() > 0.0) && l.bare() > Length::ZERO;
    for h in &b.lathe.holdings {
        match &h.kind {
            HoldKind::Collet { sizes, range, grip_length, total_grip } => {
                match collet_for(sizes, range.bare(), d) {
                    Some(size) if usable(grip_length) => found.push(Way {
                        name: format!("{} {}", h.name, super::stock::plain(size.bare())),
                        kind: WayKind::Collet,
                        force: Some(*total_grip),
                        length: *grip_length,
                        jaws: 0,
                    }),
                    _ => pass(&h.name, format!("no collet for {}", reckon::Shown::shown(&d))),
                }
            }
            HoldKind::Chuck { jaws, grips, jaw_length, total_grip, soft } => {
                if d >= grips.0.bare() && d <= grips.1.bare() {
                    found.push(Way {
                        name: h.name.clone(),
                        kind: if *soft { WayKind::SoftChuck } else { WayKind::Chuck },
                        force: Some(*total_grip),
                        length: *jaw_length,
                        jaws: usize::try_from(jaws.bare().0).unwrap_or(0),
                    });
                } else {
                    pass(&h.name, format!("grips {} to {}", grips.0.shown(), grips.1.shown()));
                }
            }
            HoldKind::Wax { greatest } => {
                pass(&h.name, format!("for work up to {} that nothing else holds", greatest.shown()));
            }
            HoldKind::Faceplate { .. } => pass(&h.name, "for work that no chuck takes".to_owned()),
            HoldKind::Centres => pass(&h.name, "for long work that is centred at both ends".to_owned()),
            HoldKind::Steady { .. } => pass(&h.name, "for the free end of long work".to_owned()),
            HoldKind::Mandrel => pass(&h.name, "for work with a finished bore".to_owned()),
        }
    }
    // Collets run truest and grip all round; soft jaws come next.
    found.sort_by_key(|w| match w.kind {
        WayKind::Collet => 0,
        WayKind::SoftChuck => 1,
        WayKind::Chuck => 2,
    });
    (found, not)
}
/// Length that a bar is gripped by.
pub fn bar_grip_length(b: &mut Bench<'_>, size: Val<Diameter>) -> Val<Length> {
    let (ways, _) = ways(b, size.bare(), None);
    match ways.first() {
        Some(w) => {
            let length = w.length;
            work!(b.book, b.name("stock.grip"), |length| length, &GEOMETRY)
        }
        None => {
            b.assumed("stock.grip", Length::mm(15.0), "house default: nothing in the shop grips this bar")
        }
    }
}

/// What is known of a grip before a way is chosen.
pub struct Wanted {
    /// Dotted name of the set-up, such as `setup1`.
    pub at: String,
    /// Diameter gripped.
    pub on: Val<Diameter>,
    /// Length there is to grip; the jaws' own where none.
    pub room: Option<Val<Length>>,
    /// From the jaws to where the tool is farthest.
    pub ahead: Val<Length>,
    /// Largest diameter cut.
    pub cut: Val<Diameter>,
    /// Diameter that bends: the smallest near the jaws.
    pub bends: Val<Diameter>,
    /// Whether the surface gripped is finished and must not be marked.
    pub finished: bool,
    /// Deflection that is allowed at the free end.
    pub allowed: Val<Length>,
}

/// Chooses how to hold and finds the deepest cut.
pub fn choose(b: &mut Bench<'_>, w: &Wanted) -> GripPlan {
    let (gripping, mut among) = ways(b, w.on.bare(), w.room.map(|r| r.bare()));
    let Some(best) = gripping.first().cloned() else {
        return without(b, w, among);
    };
    for (i, way) in gripping.iter().enumerate() {
        let why = if i == 0 { "true, and grips all round" } else { "would do, not as true" };
        let why = if i == 0 && way.kind != WayKind::Collet { "grips this size" } else { why };
        among.push(Alternative { what: way.name.clone(), taken: i == 0, why: why.to_owned() });
    }
    let at = w.at.clone();
    let name = b.name(&format!("{at}.held_by"));
    b.book.chosen(
        name,
        best.name.clone(),
        "a collet of this size, else soft jaws, else a chuck",
        among,
        vec![w.on.id()],
        &GEOMETRY,
    );
    let light = w.finished && best.kind == WayKind::Chuck;
    let full = best.force;
    let length = grip_length(b, &at, best.length, w.room);
    let force_used = match (full, light) {
        (Some(f), false) => {
            let name = b.name(&format!("{at}.grip.force"));
            work!(b.book, name, |f| f, &GEOMETRY)
        }
        _ => b.assumed(
            &format!("{at}.grip.force"),
            Force::si(LIGHT),
            "house default: a finished surface is gripped lightly",
        ),
    };
    let friction = friction(b, &at, w.finished);
    let jaws = counted(
        b.book,
        b.name(&format!("{at}.grip.jaws")),
        best.jaws,
        "equal jaws; 0 stands for a grip all round",
    );
    let worn = b.assumed(
        &format!("{at}.grip.safety"),
        hold::safety(true, false),
        "a chuck that is not new; see the table of the chuck manual",
    );
    let (on, ahead, cut) = (w.on, w.ahead, w.cut);
    let greatest = work!(
        b.book,
        b.name(&format!("{at}.grip.greatest_force")),
        |force_used, friction, on, length, jaws, ahead, cut, worn| greatest(
            force_used, friction, on, length, jaws, ahead, cut, worn
        ),
        &hold::GRIP
    );
    let slender = work!(
        b.book,
        b.name(&format!("{at}.slenderness")),
        |ahead, on| Ratio::si(ahead.value() / on.value()),
        &GEOMETRY
    );
    finish(b, w, &best, &Judged { greatest, length, slender, light })
}
struct Judged {
    greatest: Val<Force>,
    length: Val<Length>,
    slender: Val<Ratio>,
    light: bool,
}
/// From force to depth: grip, stiffness and the house's own limit, whichever is least.
fn finish(b: &mut Bench<'_>, w: &Wanted, best: &Way, j: &Judged) -> GripPlan {
    let at = &w.at;
    let feed = b.rough_feed;
    let kc = b.kc(&format!("{at}.rough"), feed);
    let greatest = j.greatest;
    let by_grip = work!(
        b.book,
        b.name(&format!("{at}.deepest.by_grip")),
        |greatest, kc, feed| force::depth_for(greatest, kc, feed),
        &hold::GRIP
    );
    let (ahead, bends, e, allowed) = (w.ahead, w.bends, b.metal.e, w.allowed);
    let finish = work!(
        b.book,
        b.name(&format!("{at}.deepest.finishing")),
        |ahead, bends, e, allowed, kc, feed| depth_by_stiffness(ahead, bends, e, allowed, kc, feed),
        &GIVES_WAY
    );
    let roughly = b.assumed(
        &format!("{at}.may_bend_roughing"),
        Length::mm(0.05),
        "house default: a roughing cut may bend it by less than what it leaves",
    );
    let by_stiffness = work!(
        b.book,
        b.name(&format!("{at}.deepest.by_stiffness")),
        |ahead, bends, e, roughly, kc, feed| depth_by_stiffness(ahead, bends, e, roughly, kc, feed),
        &GIVES_WAY
    );
    let steel =
        !matches!(b.metal.metal, crate::kernel::speed::Metal::Brass | crate::kernel::speed::Metal::Aluminium);
    let by_house = b.assumed(
        &format!("{at}.deepest.by_house"),
        Length::mm(if steel { 0.5 } else { 1.0 }),
        "house default for a light lathe",
    );
    let mut lines = Vec::new();
    let mut cautions = vec![Caution::Turning];
    // A bar that bends too much for a useful cut needs its free end held.
    let padded = finish.bare() < Length::mm(0.03) || by_stiffness.bare() < Length::mm(0.1);
    let deepest = if padded {
        lines.push(
            "Centre the free end and bring up the tailstock: standing free it would bend too much."
                .to_owned(),
        );
        work!(
            b.book,
            b.name(&format!("{at}.deepest")),
            |by_house, by_grip| by_house.min(by_grip.max(by_house * 0.5)),
            &HOUSE_DEPTH
        )
    } else {
        work!(
            b.book,
            b.name(&format!("{at}.deepest")),
            |by_house, by_grip, by_stiffness| by_house.min(by_grip).min(by_stiffness),
            &HOUSE_DEPTH
        )
    };
    let least = b.assumed(
        &format!("{at}.least_cut"),
        Length::mm(0.02),
        "house default: a tool rubs at less than this",
    );
    let holds = judge!(
        b.book,
        b.name(&format!("{at}.grip.holds")),
        "the grip stands a cut that the tool can take",
        |deepest, least| deepest >= least,
        &hold::GRIP
    );
    if !holds.bare() {
        for c in [
            "hold it on a mandrel or in soft jaws bored to size",
            "stick it to a wax chuck",
            "support the free end with the tailstock",
        ] {
            b.book.cure(holds.id(), c);
        }
    }
    let gripped = j.length;
    let shortest = b.assumed(
        &format!("{at}.grip.shortest"),
        Length::mm(0.5),
        "house default: jaws and collets hold nothing shorter",
    );
    let enough = judge!(
        b.book,
        b.name(&format!("{at}.grip.long_enough")),
        "there is enough of it to grip",
        |gripped, shortest| gripped >= shortest,
        &hold::GRIP
    );
    if !enough.bare() {
        b.book.cure(enough.id(), "stick it to a wax chuck");
        b.book.cure(enough.id(), "thicker, or cut from sheet");
    }
    match best.kind {
        WayKind::Collet => lines.push(format!("Gripped over {} in the collet.", j.length.shown())),
        WayKind::SoftChuck => lines
            .push(format!("Soft jaws bored to the work's size at the same grip, over {}.", j.length.shown())),
        WayKind::Chuck => lines.push(format!("Gripped over {} in the jaws.", j.length.shown())),
    }
    if j.light {
        lines.push("Done up lightly, on soft strips or on a step that is not seen.".to_owned());
        cautions.push(Caution::LightGrip);
    }
    if j.slender.bare() > Ratio::si(4.0) && !padded {
        lines.push(format!(
            "Stands out {} diameters: finish it from the free end in short lengths.",
            j.slender.shown()
        ));
    }
    if b.metal.leaded {
        cautions.push(Caution::Lead);
    }
    GripPlan {
        held: Held { by: best.name.clone(), lines, deepest: Some(deepest), overhang: Some(w.ahead) },
        deepest,
        finish: if padded { by_house } else { finish },
        greatest,
        padded,
        cautions,
    }
}
/// Nothing grips it from outside: wax chuck or faceplate where they take it, else a verdict.
fn without(b: &mut Bench<'_>, w: &Wanted, mut among: Vec<Alternative>) -> GripPlan {
    let at = w.at.clone();
    let large = w.cut;
    // Wax holds a disc, not a length that stands out like a lever.
    let small = large.bare() <= reckon::Diameter::mm(20.0);
    let flat = small || w.ahead.bare() <= large.bare().across() * 0.6;
    let stuck = b.lathe.holdings.iter().find_map(|h| match &h.kind {
        HoldKind::Wax { greatest } if flat && greatest.bare() >= large.bare() => Some((h.name.clone(), true)),
        HoldKind::Faceplate { greatest } if greatest.bare() >= large.bare() => Some((h.name.clone(), false)),
        _ => None,
    });
    if let Some((name, _)) = &stuck {
        for a in &mut among {
            a.taken = a.what == *name;
        }
    }
    let by = stuck.as_ref().map_or("nothing in this shop".to_owned(), |(n, _)| n.clone());
    let name = b.name(&format!("{at}.held_by"));
    b.book.chosen(name, by.clone(), "no jaws or collet grip it", among, vec![w.on.id()], &GEOMETRY);
    let held = found(
        b.book,
        (b.name(&format!("{at}.can_be_held")), "something in the shop holds this diameter"),
        usize::from(stuck.is_some()),
        "wax chucks and faceplates of this size, as nothing grips it",
    );
    if !held.bare() {
        super::fits::held::cures(b, &held, large.bare(), flat);
    }
    let wax = stuck.as_ref().is_some_and(|(_, wax)| *wax);
    let deepest = b.assumed(
        &format!("{at}.deepest"),
        Length::mm(0.1),
        if wax { "house default: what wax or shellac stands" } else { "house default on a faceplate" },
    );
    let greatest = b.assumed(&format!("{at}.grip.greatest_force"), Force::si(10.0), "house default");
    let mut cautions = vec![Caution::Turning];
    if wax {
        cautions.push(Caution::Wax);
    }
    GripPlan {
        held: Held { by, lines: Vec::new(), deepest: Some(deepest), overhang: Some(w.ahead) },
        deepest,
        finish: deepest,
        greatest,
        padded: false,
        cautions,
    }
}
fn grip_length(b: &mut Bench<'_>, at: &str, own: Val<Length>, room: Option<Val<Length>>) -> Val<Length> {
    let name = b.name(&format!("{at}.grip.length"));
    match room {
        Some(room) => work!(b.book, name, |own, room| own.min(room), &GEOMETRY),
        None => work!(b.book, name, |own| own, &GEOMETRY),
    }
}
fn friction(b: &mut Bench<'_>, at: &str, finished: bool) -> Val<Ratio> {
    let skin = if finished { Skin::Fine } else { Skin::Machined };
    let steel = b.book.tabled(
        b.name(&format!("{at}.grip.friction_steel")),
        hold::steel_friction(Jaws::Smooth, skin),
        format!("smooth jaws on {} steel", if finished { "finished" } else { "drawn or machined" }),
        &hold::FRICTION,
    );
    let factor = b.book.tabled(
        b.name(&format!("{at}.grip.metal_factor")),
        hold::metal_factor(b.metal.friction_word).unwrap_or(Ratio::si(1.0)),
        b.metal.friction_word,
        &hold::FRICTION,
    );
    work!(b.book, b.name(&format!("{at}.grip.friction")), |steel, factor| steel * factor, &hold::FRICTION)
}
#[expect(clippy::too_many_arguments, reason = "the eight inputs of one formula, each a named working")]
fn greatest(
    force: Force,
    friction: Ratio,
    on: Diameter,
    length: Length,
    jaws: Count,
    ahead: Length,
    cut: Diameter,
    safety: Ratio,
) -> Force {
    let contact = u32::try_from(jaws.0).ok().filter(|n| *n > 0).map_or(Contact::AllRound, Contact::Jaws);
    let grip = Grip { force, friction, diameter: on, length, contact };
    let load = Load {
        main: Force::ZERO,
        along: Ratio::si(ALONG),
        radial: Ratio::si(RADIAL),
        diameter: cut,
        ahead,
        seated: false,
        padded: false,
    };
    hold::greatest_main(&grip, &load, safety).0
}
/// How a free end gives way.
pub static GIVES_WAY: Source = Source::derived("cantilever under the outward part of the cutting force")
    .with_formula("y = F L³ / (3 E I)");
/// Depth at which the free end bends by what is allowed.
fn depth_by_stiffness(
    ahead: Length,
    d: Diameter,
    e: Pressure,
    allowed: Length,
    kc: Pressure,
    feed: Length,
) -> Length {
    let unit = Force::si(1.0);
    let per_newton = bend::chuck_only(unit, ahead, d, e);
    let outward = unit * (allowed / per_newton);
    force::depth_for(outward / RADIAL, kc, feed)
}
