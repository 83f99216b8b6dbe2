//! Tools that cut a round groove into a face.

use super::{Done, ask, more, need, one_of, or, some, within};
use crate::kernel::relief::{self, Groove, RoundGroove};
use reckon::{Alternative, Angle, Ask, Book, Cell, Given, Length, Radius, Val, work};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "form.side_relief",
        "least relief of the outer flank of a tool that grooves a face",
        &[
            need("outer", "radius of the outer wall"),
            need("height", "height of the tool"),
            or("depth", "", "of the groove: with the end clearance it limits the height inside"),
            or("end", "0 deg", "end clearance"),
        ],
        &["inside", "side"],
        r#"outer="6 mm" height="3 mm""#,
        side_relief,
    ),
    ask(
        "form.clears",
        "height of tool that a relief clears",
        &[need("outer", "radius of the outer wall"), need("side", "relief of the outer flank")],
        &["clears", "share"],
        r#"outer="10 mm" side="8 deg""#,
        clears,
    ),
    ask(
        "form.end_clearance",
        "least end clearance that brings a flank out of the groove in time",
        &[
            need("outer", "radius of the outer wall"),
            need("depth", "of the groove"),
            need("side", "relief of the outer flank"),
        ],
        &["end"],
        r#"outer="5 mm" depth="0.5 mm" side="6 deg""#,
        end_clearance,
    ),
    ask(
        "form.round_nose",
        "least end clearance of a round nose with straight sides in a face groove",
        &[
            need("nose", "radius of the nose"),
            need("depth", "of the groove, no more than the radius"),
            need("middle", "radius of the middle of the groove"),
            or("land", "", "height of the land below the edge; all of the tool when left out"),
        ],
        &["outer", "end"],
        r#"nose="1 mm" depth="0.4 mm" middle="4 mm""#,
        round_nose,
    ),
    ask(
        "form.feed_helix",
        "end clearance that the feed takes",
        &[need("feed", "feed per turn"), need("inner", "radius of the inner wall")],
        &["lost"],
        r#"feed="0.05 mm" inner="1.5 mm""#,
        feed_helix,
    ),
    ask(
        "form.jig",
        "which jigs to grind a face-groove tool by",
        &[
            or("shape", "flat", "flat, or round for a round nose ground to one clearance all round"),
            need("inner", "radius of the inner lip"),
            need("outer", "radius of the outer lip"),
            need("depth", "of the groove"),
            need("height", "height of the tool"),
            or("jigs", "5 deg, 8 deg, 10 deg, 15 deg", "angles of the jigs, between commas"),
            or("feed", "0.03 mm", "feed per turn"),
        ],
        &["end", "side", "clears", "height_left", "foot", "ways"],
        r#"inner="6.75 mm" outer="8.25 mm" depth="0.5 mm" height="3 mm""#,
        jig,
    ),
];

fn side_relief(g: &Given<'_>, book: &mut Book) -> Done {
    let (outer, tool): (Val<Radius>, Val<Length>) = (more(g, book, "outer")?, some(g, book, "height")?);
    let end: Val<Angle> = within(g, book, "end", Angle::ZERO, Angle::deg(80.0))?;
    let inside = if g.has("depth") {
        let depth: Val<Length> = more(g, book, "depth")?;
        work!(book, "inside", |tool, depth, end| relief::height_inside(tool, depth, end), &relief::END)
    } else {
        work!(book, "inside", |tool| tool, &reckon::source::GEOMETRY)
    };
    if relief::side_relief(inside.bare(), outer.bare()).is_none() {
        return Err(g
            .trouble(
                "height",
                "more of the tool stands in the groove than its outer radius: no relief clears it",
            )
            .cure("thin the blank below the edge"));
    }
    work!(
        book,
        "side",
        |inside, outer| relief::side_relief(inside, outer).unwrap_or_default(),
        &relief::SIDE
    );
    Ok(())
}
fn clears(g: &Given<'_>, book: &mut Book) -> Done {
    let outer: Val<Radius> = more(g, book, "outer")?;
    let side: Val<Angle> = within(g, book, "side", Angle::ZERO, Angle::deg(45.0))?;
    let clears = work!(book, "clears", |side, outer| relief::height_for(side, outer), &relief::SIDE);
    work!(book, "share", |clears, outer| clears / outer.out(), &relief::SIDE);
    Ok(())
}
fn end_clearance(g: &Given<'_>, book: &mut Book) -> Done {
    let (outer, depth): (Val<Radius>, Val<Length>) = (more(g, book, "outer")?, more(g, book, "depth")?);
    let side: Val<Angle> = within(g, book, "side", Angle::ZERO, Angle::deg(45.0))?;
    work!(book, "end", |depth, outer, side| relief::end_clearance(depth, outer, side), &relief::END);
    Ok(())
}
fn round_nose(g: &Given<'_>, book: &mut Book) -> Done {
    let (nose, middle): (Val<Radius>, Val<Radius>) = (more(g, book, "nose")?, more(g, book, "middle")?);
    let depth: Val<Length> = more(g, book, "depth")?;
    let groove = RoundGroove { nose: nose.bare(), depth: depth.bare(), middle: middle.bare() };
    let land: Option<Val<Length>> = if g.has("land") {
        Some(within(g, book, "land", groove.outer().out() * 1e-3, Length::si(10.0))?)
    } else {
        None
    };
    let Some(end) = relief::nose_end_clearance(&groove, land.map(|l| l.bare())) else {
        return Err(g.trouble("depth", "such a groove cannot be: deeper than half a round, or past the axis"));
    };
    work!(
        book,
        "outer",
        |nose, depth, middle| RoundGroove { nose, depth, middle }.outer(),
        &reckon::source::GEOMETRY
    );
    let mut ids = vec![nose.id(), depth.id(), middle.id()];
    ids.extend(land.map(|l| l.id()));
    let how = ("steepest line from the nose to the groove, 4000 places and golden section", 80, 1e-6);
    book.solved("end", end, how, ids, &relief::NOSE);
    Ok(())
}
fn feed_helix(g: &Given<'_>, book: &mut Book) -> Done {
    let (feed, inner): (Val<Length>, Val<Radius>) = (some(g, book, "feed")?, more(g, book, "inner")?);
    work!(book, "lost", |feed, inner| relief::feed_loss(feed, inner), &relief::FEED);
    Ok(())
}
fn jig(g: &Given<'_>, book: &mut Book) -> Done {
    let round = one_of(g, "shape", &[("flat", false), ("round", true)])?;
    let (inner, outer): (Val<Radius>, Val<Radius>) = (more(g, book, "inner")?, more(g, book, "outer")?);
    let (depth, tool): (Val<Length>, Val<Length>) = (more(g, book, "depth")?, more(g, book, "height")?);
    let feed: Val<Length> = some(g, book, "feed")?;
    let jigs: Vec<Val<Angle>> = g.take_list(book, "jigs")?;
    if outer.bare() <= inner.bare() {
        return Err(g.trouble("outer", "the outer lip must lie outside the inner one"));
    }
    if jigs.iter().any(|j| j.bare() <= Angle::ZERO || j.bare() > Angle::deg(45.0)) {
        return Err(g.trouble("jigs", "a jig must have more than 0° and at most 45°"));
    }
    let groove = if round {
        // Half width a and depth g give the radius (a² + g²)/2g.
        let half = (outer.bare() - inner.bare()) / 2.0;
        let nose =
            Length::si((half * half + depth.bare() * depth.bare()).value() / (2.0 * depth.bare().value()));
        let r = RoundGroove { nose: nose.as_radius(), depth: depth.bare(), middle: inner.bare() + half };
        if !r.sound() {
            return Err(g.trouble("depth", "deeper than half a round of this width"));
        }
        Groove::Round(r)
    } else {
        Groove::Flat { inner: inner.bare(), outer: outer.bare(), depth: depth.bare() }
    };
    let bare: Vec<Angle> = jigs.iter().map(Val::bare).collect();
    let ways = relief::grindings(&groove, tool.bare(), &bare, feed.bare());
    let Some(best) = ways.first() else {
        return Err(g
            .trouble("jigs", "no jig of these clears the groove and leaves a foot on the tool")
            .cure("a jig with more relief, or a blank that stands less high"));
    };
    let mut ids = vec![inner.id(), outer.id(), depth.id(), tool.id(), feed.id()];
    ids.extend(jigs.iter().map(Val::id));
    let rule = "no thinning of the blank if that can be, then the least relief of the side, then of the end";
    let among = |of: fn(&relief::Ground) -> Angle| {
        let line = |w: &relief::Ground| Alternative {
            what: Cell::of(&of(w)).shown,
            taken: w == best,
            why: w.thin_to.map_or_else(
                || "clears as it is".to_owned(),
                |h| format!("blank thinned to {}", Cell::of(&h).shown),
            ),
        };
        ways.iter().map(line).collect::<Vec<_>>()
    };
    book.chosen("end", best.end, rule, among(|w| w.end), ids.clone(), &relief::JIG);
    book.chosen("side", best.side, rule, among(|w| w.side), ids.clone(), &relief::JIG);
    let source = if round { &relief::CONE } else { &relief::SIDE };
    let how = || ("height that these angles clear", 1, if round { 1e-8 } else { 0.0 });
    book.solved("clears", best.clears, how(), ids.clone(), source);
    book.solved("height_left", best.thin_to.unwrap_or(tool.bare()), how(), ids.clone(), source);
    book.solved("foot", best.foot, ("width less both reliefs over the height", 1, 0.0), ids.clone(), source);
    let rows = ways.iter().map(|w| {
        vec![
            Cell::of(&w.end),
            Cell::of(&w.side),
            Cell::of(&w.clears),
            w.thin_to.map_or_else(|| Cell::word("as it is"), |h| Cell::of(&h)),
            Cell::of(&w.foot),
        ]
    });
    let columns = ["end", "side", "clears", "thin to", "foot"];
    book.table("ways", &columns, rows.collect(), rule, ids, &relief::JIG);
    Ok(())
}
