//! Bridges in front of the plates and cocks behind them: where their posts can stand.

use super::layout::{BodyKind, Layout, Solid, Span, Stand};
use super::model::Train;
use reckon::maths::hypot;
use reckon::source::{GEOMETRY, HOUSE, Source};
use reckon::{Alternative, Angle, Book, Diameter, Length, Trouble, Val, work};
use record::facts::{MovementFacts, Plates};

/// Posts are set where they clear all.
pub static POSTS: Source = Source::derived(
    "strips are tried longer by millimetres and turned by fifteen degrees until both posts clear what turns, the holes and the edge",
);

/// A strip on two posts outside the plates, in which an arbor runs.
#[derive(Clone, Debug)]
pub struct Bridge {
    /// Dotted prefix.
    pub slug: String,
    /// "bridge" or "back cock", of which arbor.
    pub name: String,
    /// The arbor that runs in it.
    pub arbor: usize,
    /// Whether it stands in front of the front plate.
    pub front: bool,
    /// Where the arbor stands.
    pub stand: Stand,
    /// Direction of the strip from the right.
    pub turn: Val<Angle>,
    /// Distance of each post from the arbor.
    pub half: Val<Length>,
    /// Where the posts stand.
    pub posts: [Stand; 2],
    /// Their diameter.
    pub post: Val<Diameter>,
    /// Diameter of their spigots.
    pub spigot: Val<Diameter>,
    /// From the plate to the strip.
    pub gap: Val<Length>,
    /// Whether the pendulum hangs from it.
    pub carries_pendulum: bool,
}

/// Sets a bridge or cock for every arbor that reaches out of the plates.
pub(super) fn bridges(
    t: &Train,
    l: &mut Layout,
    facts: &MovementFacts,
    book: &mut Book,
    troubles: &mut Vec<Trouble>,
) {
    let (Some(p), Some(gap)) = (&facts.plates, l.bridge_gap) else { return };
    let (top, thick) = (p.gap.bare().in_mm(), p.thickness.bare().in_mm());
    for i in 0..t.arbors.len() {
        let (Some(stand), Some(span)) = (l.stands[i], l.bearings[i]) else { continue };
        for front in [false, true] {
            let reaches = if front {
                span.to.bare().in_mm() > top + thick + 1e-6
            } else {
                span.from.bare().in_mm() < -thick - 1e-6
            };
            if !reaches {
                continue;
            }
            let pendulum = !front && t.pallets == Some(i) && facts.pendulum.is_some();
            let slug = format!("{}.{}", t.arbors[i].facts.slug, if front { "bridge" } else { "cock" });
            let name = match (front, pendulum) {
                (true, _) => format!("bridge of '{}'", t.arbors[i].facts.name),
                (false, true) => "back cock".to_owned(),
                (false, false) => format!("cock of '{}'", t.arbors[i].facts.name),
            };
            match set(t, l, facts, p, i, stand, (front, pendulum), (&slug, &name), gap, book) {
                Some(b) => l.bridges.push(b),
                None => troubles.push(
                    Trouble::design(format!("the {name} finds no room for its two posts on the plates"))
                        .at(t.arbors[i].facts.spot_at.clone())
                        .at(p.size_at.clone())
                        .why("strips up to as long as the plates were tried in twelve directions")
                        .cure("larger plates, or a smaller escape wheel under it")
                        .cure("the arbor elsewhere, or between the plates"),
                ),
            }
        }
    }
}
/// What a post must keep clear of: a circle.
struct Keep {
    x: f64,
    y: f64,
    r: f64,
}
#[expect(clippy::too_many_arguments, reason = "a place on the plate follows from all that stands there")]
fn set(
    t: &Train,
    l: &mut Layout,
    facts: &MovementFacts,
    p: &Plates,
    arbor: usize,
    stand: Stand,
    (front, pendulum): (bool, bool),
    (slug, name): (&str, &str),
    gap: Val<Length>,
    book: &mut Book,
) -> Option<Bridge> {
    let post = book.assumed(
        format_args!("{slug}.post_diameter"),
        Diameter::mm(8.0),
        "house default: posts of a bridge or cock",
    );
    let spigot =
        book.assumed(format_args!("{slug}.spigot"), Diameter::mm(6.0), "house default: their spigots");
    let r = post.bare().in_mm() / 2.0;
    let (top, thick, room) = (p.gap.bare().in_mm(), p.thickness.bare().in_mm(), gap.bare().in_mm());
    let (from, to) = if front { (top + thick, top + thick + room) } else { (-thick - room, -thick) };
    let mut keep: Vec<Keep> = Vec::new();
    for s in &l.solids {
        let (x, y) = (s.stand.x.bare().in_mm(), s.stand.y.bare().in_mm());
        let d = s.diameter.bare().in_mm() / 2.0;
        let meets = s.span.to.bare().in_mm() > from && s.span.from.bare().in_mm() < to;
        let clear = match s.kind {
            _ if meets => d + 1.0,
            // The hole in the plate with its oil sink, and the pins of the pillars.
            BodyKind::Arbor => d.min(4.0) + 1.5,
            BodyKind::Pillar => {
                if front {
                    10.0
                } else {
                    d.max(4.0)
                }
            }
            _ => continue,
        };
        keep.push(Keep { x, y, r: clear + r });
    }
    if let (true, Some(m), Some(mw)) = (front, t.minute, &facts.motion_work)
        && let Some(s) = l.stands[m]
    {
        // The minute wheel may stand on any side of the cannon.
        let module = mw.module.bare().in_mm();
        let leaves = mw.counts[0].bare().n();
        let teeth = mw.counts[1].bare().n();
        let reach = module * ((leaves + teeth) / 2.0 + teeth / 2.0 + 1.5);
        keep.push(Keep { x: s.x.bare().in_mm(), y: s.y.bare().in_mm(), r: reach + r });
    }
    let corner = l.corner?;
    let (x0, y0) = (corner.x.bare().in_mm(), corner.y.bare().in_mm());
    let (x1, y1) = (x0 + p.size.0.bare().in_mm(), y0 + p.size.1.bare().in_mm());
    let edge = spigot.bare().in_mm() / 2.0 + 2.0;
    let (cx, cy) = (stand.x.bare().in_mm(), stand.y.bare().in_mm());
    let free = |x: f64, y: f64| {
        x - edge >= x0
            && x + edge <= x1
            && y - edge >= y0
            && y + edge <= y1
            && keep.iter().all(|k| hypot(x - k.x, y - k.y) >= k.r)
    };
    // A strip from which the pendulum hangs lies level.
    let turns: &[f64] = if pendulum {
        &[0.0]
    } else {
        &[0.0, 15.0, -15.0, 30.0, -30.0, 45.0, -45.0, 60.0, -60.0, 75.0, -75.0, 90.0]
    };
    let most = hypot(x1 - x0, y1 - y0) / 2.0;
    let mut tried = 0_u32;
    let mut half = 14.0;
    let mut found = None;
    'all: while half <= most {
        for turn in turns {
            tried += 1;
            let a = Angle::deg(*turn);
            let (dx, dy) = (half * a.cos(), half * a.sin());
            if free(cx + dx, cy + dy) && free(cx - dx, cy - dy) {
                found = Some((half, *turn));
                break 'all;
            }
        }
        half += 1.0;
    }
    let (long, turned) = found?;
    let inputs = vec![stand.x.id(), stand.y.id(), post.id(), corner.x.id(), corner.y.id()];
    let half = book.solved(
        format!("{slug}.half"),
        Length::mm(long),
        ("strips tried until both posts clear all", tried, 0.0),
        inputs.clone(),
        &POSTS,
    );
    let turn = book.chosen(
        format!("{slug}.turn"),
        Angle::deg(turned),
        "the shortest strip whose posts clear all, as level as can be",
        vec![Alternative {
            what: format!("{turned} degrees"),
            taken: true,
            why: format!("posts {long} mm from the arbor"),
        }],
        inputs,
        &POSTS,
    );
    let Stand { x, y } = stand;
    let posts = [
        Stand {
            x: work!(book, format_args!("{slug}.post.1.x"), |x, half, turn| x + half * turn.cos(), &GEOMETRY),
            y: work!(book, format_args!("{slug}.post.1.y"), |y, half, turn| y + half * turn.sin(), &GEOMETRY),
        },
        Stand {
            x: work!(book, format_args!("{slug}.post.2.x"), |x, half, turn| x - half * turn.cos(), &GEOMETRY),
            y: work!(book, format_args!("{slug}.post.2.y"), |y, half, turn| y - half * turn.sin(), &GEOMETRY),
        },
    ];
    let span = outside(p, gap, front, slug, book);
    for (n, stand) in posts.iter().enumerate() {
        l.solids.push(Solid {
            name: format!("post {} of the {name}", n + 1),
            slug: format!("{slug}.post.{}", n + 1),
            kind: BodyKind::Pillar,
            arbor: None,
            stand: *stand,
            diameter: post,
            span,
        });
    }
    Some(Bridge {
        slug: slug.to_owned(),
        name: name.to_owned(),
        arbor,
        front,
        stand,
        turn,
        half,
        posts,
        post,
        spigot,
        gap,
        carries_pendulum: pendulum,
    })
}
/// From a plate's outside to the strip.
fn outside(p: &Plates, room: Val<Length>, front: bool, slug: &str, book: &mut Book) -> Span {
    let (gap, thick) = (p.gap, p.thickness);
    if front {
        let from = work!(book, format_args!("{slug}.from"), |gap, thick| gap + thick, &GEOMETRY);
        Span { from, to: work!(book, format_args!("{slug}.to"), |from, room| from + room, &HOUSE) }
    } else {
        let to = work!(book, format_args!("{slug}.to"), |thick| -thick, &GEOMETRY);
        Span { from: work!(book, format_args!("{slug}.from"), |to, room| to - room, &HOUSE), to }
    }
}
