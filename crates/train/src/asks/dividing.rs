//! Questions of dividing.

use super::words::{head, list, n, put, some, within};
use crate::dividing::{
    ANGLES, ARC, DIRECT, Head, LARGEST, MISCOUNTED, NEAREST, THROUGH, UNEVEN, WORM, WOULD, Way, angles,
    at_radius, hole_error, miscount, nearest, uneven, would_do,
};
use reckon::ask::{Done, more, need, or};
use reckon::{
    Alternative, Angle, Ask, Book, Cell, Count, Given, Id, Length, Param, Trouble, Val, print, work,
};

const COUNT: Param = need("count", "equal parts wanted");
const HEAD: Param = or("head", "40", "turns of the worm for one turn of the spindle; 0 for none");
const CIRCLES: Param = need("circles", "holes in the circles of its plates: 15 to 21, 23");
const DIRECTS: Param = or("direct", "", "holes of plates that sit on the spindle itself");

pub(super) static ASKS: &[Ask] = &[
    Ask {
        name: "dividing.ways",
        says: "how to divide a circle on a worm head: turns, holes and circle; what would do when it cannot",
        takes: &[COUNT, HEAD, CIRCLES, DIRECTS],
        gives: &[
            "ways",
            "found",
            "best",
            "turns",
            "holes",
            "circle",
            "sector",
            "proof",
            "nearest",
            "closing",
            "holes_over",
            "tooth",
            "circles_that_would",
            "direct_that_would",
            "below",
            "above",
            "plate_error",
        ],
        example: r#"count=78 circles="15 to 21, 23, 27, 29, 31, 33, 37, 39, 41, 43, 47, 49""#,
        run: ways,
    },
    Ask {
        name: "dividing.impossible",
        says: "which counts a head cannot divide",
        takes: &[or("from", "2", "first count"), or("to", "150", "last count"), HEAD, CIRCLES, DIRECTS],
        gives: &["can", "cannot", "first", "all"],
        example: r#"circles="24, 25, 28, 30, 34, 37 to 39, 41 to 43, 46, 47, 49, 51, 53, 54, 57 to 59, 62, 66""#,
        run: impossible,
    },
    Ask {
        name: "dividing.uneven",
        says: "steps that differ by one hole and close, for a count that no circle divides",
        takes: &[COUNT, HEAD, CIRCLES, or("radius", "", "of the wheel, for the error in length")],
        gives: &["circle", "holes_off", "tooth", "space", "arc", "steps"],
        example: r#"count=127 circles="54" radius="30 mm""#,
        run: steps,
    },
    Ask {
        name: "dividing.angles",
        says: "angle of each part on a rotary table, from the start, so that rounding does not add up",
        takes: &[COUNT, or("finest", "1 arcmin", "finest step that the table can be set to")],
        gives: &["worst", "step", "angles"],
        example: r#"count=7 finest="1 arcmin""#,
        run: table,
    },
    Ask {
        name: "dividing.arc",
        says: "what an angle is worth at the pitch circle",
        takes: &[
            need("angle", "the angle"),
            or("radius", "", "of the pitch circle; or teeth and module"),
            or("teeth", "", "teeth of the wheel"),
            or("module", "", "its module"),
        ],
        gives: &["radius", "arc", "of_module"],
        example: r#"angle="1 arcmin" teeth=96 module="1 mm""#,
        run: arc,
    },
    Ask {
        name: "dividing.error",
        says: "what a hole out of place does to the spindle and at the wheel",
        takes: &[
            need("error", "how far the hole is out of place"),
            need("on", "radius of its circle"),
            or("head", "40", "turns of the worm for one turn of the spindle; 1 for a plate on the spindle"),
            or("radius", "", "of the wheel, for the error in length"),
        ],
        gives: &["angle", "arc"],
        example: r#"error="0.05 mm" on="50 mm" head=60 radius="30 mm""#,
        run: error,
    },
    Ask {
        name: "dividing.miscount",
        says: "what a miscounted hole does to a wheel",
        takes: &[
            or("holes", "1", "holes too many; negative for too few"),
            need("circle", "holes of the circle"),
            or("head", "40", "turns of the worm for one turn of the spindle"),
            need("teeth", "teeth of the wheel"),
            or("module", "", "its module, for the error in length"),
        ],
        gives: &["angle", "of_pitch", "arc"],
        example: r#"circle=18 teeth=72 module="0.6 mm""#,
        run: counted,
    },
];

fn whole(x: impl TryInto<i64>) -> Count {
    Count(x.try_into().unwrap_or(i64::MAX))
}
fn ways(g: &Given<'_>, book: &mut Book) -> Done {
    let count = within(g, book, "count", 1, 100_000)?;
    let (head, ratio) = head(g, book)?;
    let ids = [count.id(), ratio.id()];
    let found = head.ways(n(count));
    put(book, "found", whole(found.len()), "every circle and plate tried", &ids, &WORM);
    let all: Vec<String> = found.iter().map(ToString::to_string).collect();
    let words = if all.is_empty() { "none".to_owned() } else { all.join(", ") };
    put(book, "ways", words, "turns + holes / circle, best first", &ids, &WORM);
    match found.first() {
        Some(best) => first(book, &head, n(count), best, &found, &ids),
        None => none(g, book, &head, count, &ids)?,
    }
    Ok(())
}
fn first(book: &mut Book, head: &Head, count: u32, best: &Way, all: &[Way], ids: &[Id]) {
    let among = all
        .iter()
        .map(|w| Alternative {
            what: w.to_string(),
            taken: w == best,
            why: match w {
                Way::Direct { .. } => "straight on the spindle: nothing to count but holes".to_owned(),
                Way::Worm { circle, .. } => format!("a circle of {circle}"),
            },
        })
        .collect();
    let b = book.chosen(
        "best",
        best.to_string(),
        "a plate on the spindle, else the largest circle",
        among,
        ids.to_vec(),
        &LARGEST,
    );
    let source = match best {
        Way::Direct { .. } => &DIRECT,
        Way::Worm { .. } => &WORM,
    };
    put(
        book,
        "proof",
        best.proof(count, head.ratio),
        "every step once comes round to the start",
        &[b.id()],
        source,
    );
    let (turns, holes, circle) = match *best {
        Way::Direct { step, plate } => (0, step, plate),
        Way::Worm { turns, holes, circle } => (turns, holes, circle),
    };
    for (name, value) in [("turns", turns), ("holes", holes), ("circle", circle)] {
        put(book, name, whole(value), "of the way taken", &[b.id()], source);
    }
    if let Some(sector) = best.sector() {
        put(book, "sector", whole(sector), "holes between the arms, both ends counted", &[b.id()], source);
    }
}
fn none(g: &Given<'_>, book: &mut Book, head: &Head, count: Val<Count>, ids: &[Id]) -> Done {
    let w = would_do(head, n(count));
    if let (Some(near), Some(plate), Some(through)) = (nearest(head, n(count)), &w.plate, w.through_worm) {
        let step = format!("{}+{}/{}", near.turns, near.holes, near.circle);
        let c = put(book, "nearest", step, "equal steps that end nearest to the start", ids, &NEAREST);
        put(book, "holes_over", Count(near.over), "N h - R c", &[c.id()], &NEAREST);
        put(book, "closing", near.closing, "360 deg × holes over / (R c)", &[c.id()], &NEAREST);
        let t =
            put(book, "tooth", plate.tooth, "steps that differ by one hole, furthest tooth", ids, &UNEVEN);
        put(
            book,
            "plate_error",
            through,
            "a plate so drilled, put behind the worm: tooth / R",
            &[t.id()],
            &WOULD,
        );
    }
    let rule = "multiples of what the worm leaves of the count";
    put(book, "circles_that_would", list(&w.circles), rule, ids, &WOULD);
    put(book, "direct_that_would", list(&w.direct), "the count itself and its double", ids, &DIRECT);
    for (name, found) in [("below", w.below), ("above", w.above)] {
        if let Some(found) = found {
            put(book, name, whole(found), "nearest count that this head divides", ids, &WORM);
        }
    }
    if head.ratio == 0 && head.direct.is_empty() {
        return Err(g.trouble("head", "a head without a worm wants plates on its spindle: give 'direct'"));
    }
    Ok(())
}
fn impossible(g: &Given<'_>, book: &mut Book) -> Done {
    let (from, to) = (within(g, book, "from", 1, 10_000)?, within(g, book, "to", 1, 10_000)?);
    if from > to {
        return Err(g.trouble("to", "the last count lies before the first"));
    }
    let (head, ratio) = head(g, book)?;
    let ids = [from.id(), to.id(), ratio.id()];
    let none = head.impossible(n(from), n(to));
    let c = put(book, "cannot", whole(none.len()), "counts that no circle divides", &ids, &WORM);
    let many = i64::from(n(to)) - i64::from(n(from)) + 1 - c.bare().0;
    put(book, "can", Count(many), "all others", &[c.id()], &WORM);
    put(book, "first", list(&none[..none.len().min(5)]), "the first five that cannot", &[c.id()], &WORM);
    put(book, "all", list(&none), "all that cannot", &[c.id()], &WORM);
    Ok(())
}
fn steps(g: &Given<'_>, book: &mut Book) -> Done {
    let count = within(g, book, "count", 1, 5_000)?;
    let (head, ratio) = head(g, book)?;
    let ids = [count.id(), ratio.id()];
    let found = uneven(&head, n(count)).ok_or_else(|| g.trouble("head", "this wants a worm and a circle"))?;
    put(book, "circle", whole(found.circle), "where no tooth stands far from its place", &ids, &UNEVEN);
    #[expect(clippy::cast_precision_loss, reason = "below half the count, which is at most 5000")]
    let off = reckon::Ratio::si(found.worst as f64 / f64::from(n(count)));
    put(book, "holes_off", off, "furthest tooth, in holes", &ids, &UNEVEN);
    let tooth = put(book, "tooth", found.tooth, "the same as turn of the spindle", &ids, &UNEVEN);
    put(book, "space", found.space, "the space that differs most from the pitch", &ids, &UNEVEN);
    if g.has("radius") {
        let radius: Val<Length> = more(g, book, "radius")?;
        work!(book, "arc", |tooth, radius| at_radius(tooth, radius), &ARC);
    }
    let mut rows = Vec::with_capacity(found.steps.len());
    for (i, step) in found.steps.iter().enumerate() {
        let (turns, holes) = found.turns(*step);
        rows.push([i as u64 + 1, turns, holes].iter().map(|x| Cell::of(&whole(*x))).collect());
    }
    book.table(
        "steps",
        &["step", "turns", "holes"],
        rows,
        "to the hole nearest to each place",
        ids.to_vec(),
        &UNEVEN,
    );
    Ok(())
}
/// Degrees, minutes and seconds.
fn degrees(a: Angle) -> String {
    let seconds = (a.in_deg() * 3600.0 * 10.0).round() / 10.0;
    let (d, rest) = ((seconds / 3600.0).floor(), seconds - 3600.0 * (seconds / 3600.0).floor());
    let m = (rest / 60.0).floor();
    format!("{d}° {m}' {}\"", print::trimmed(&print::fixed(rest - 60.0 * m, 1)))
}
fn table(g: &Given<'_>, book: &mut Book) -> Done {
    let count = within(g, book, "count", 1, 5_000)?;
    let finest: Val<Angle> = more(g, book, "finest")?;
    let steps = (360.0 / finest.bare().in_deg()).round();
    let uneven_turn = (steps * finest.bare().in_deg() - 360.0).abs() > 1e-6;
    if !(1.0..=1e9).contains(&steps) || uneven_turn {
        return Err(g.trouble("finest", "a whole number of these steps must make a turn"));
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and 10^9")]
    let per_turn = steps as u64;
    let ids = vec![count.id(), finest.id()];
    let set = angles(n(count), per_turn);
    let place = |k: usize| 360.0 * k as f64 / f64::from(n(count));
    let deg = |a: u64| 360.0 * a as f64 / steps;
    let worst = set.iter().enumerate().map(|(k, a)| (deg(*a) - place(k)).abs()).fold(0.0, f64::max);
    put(book, "worst", Angle::deg(worst), "furthest from its place", &ids, &ANGLES);
    work!(book, "step", |count| Angle::deg(360.0 / count.n()), &ANGLES);
    let row = |(k, a): (usize, &u64)| {
        let (set, exact) = (Angle::deg(deg(*a)), Angle::deg(place(k)));
        vec![
            Cell::of(&whole(k)),
            Cell::as_text(&exact, format!("{}°", print::fixed(exact.in_deg(), 5))),
            Cell::as_text(&set, degrees(set)),
        ]
    };
    let rows = set.iter().enumerate().map(row).collect();
    book.table("angles", &["part", "angle", "set"], rows, "each from the start", ids, &ANGLES);
    Ok(())
}
fn arc(g: &Given<'_>, book: &mut Book) -> Done {
    let angle: Val<Angle> = g.take(book, "angle")?;
    let radius: Val<Length> = match (g.has("radius"), g.has("teeth") && g.has("module")) {
        (true, false) => more(g, book, "radius")?,
        (false, true) => {
            let (teeth, module): (_, Val<Length>) = (some(g, book, "teeth")?, more(g, book, "module")?);
            let radius = work!(book, "radius", |teeth, module| module * teeth.n() / 2.0, &ARC);
            work!(book, "of_module", |angle, teeth| reckon::Ratio::si(angle.value() * teeth.n() / 2.0), &ARC);
            radius
        }
        _ => return Err(g.trouble("radius", "give the radius, or teeth and module")),
    };
    work!(book, "arc", |angle, radius| at_radius(angle, radius), &ARC);
    Ok(())
}
fn error(g: &Given<'_>, book: &mut Book) -> Done {
    let out: Val<Length> = g.take(book, "error")?;
    let (on, ratio): (Val<Length>, _) = (more(g, book, "on")?, some(g, book, "head")?);
    let angle = work!(book, "angle", |out, on, ratio| hole_error(out, on, ratio), &THROUGH);
    if g.has("radius") {
        let radius: Val<Length> = more(g, book, "radius")?;
        work!(book, "arc", |angle, radius| at_radius(angle, radius), &ARC);
    }
    Ok(())
}
fn counted(g: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let holes = within(g, book, "holes", -100_000, 100_000)?;
    let (circle, ratio, teeth) = (some(g, book, "circle")?, some(g, book, "head")?, some(g, book, "teeth")?);
    let angle = work!(
        book,
        "angle",
        |holes, circle, ratio, teeth| miscount(holes, circle, ratio, teeth).angle,
        &MISCOUNTED
    );
    work!(
        book,
        "of_pitch",
        |holes, circle, ratio, teeth| miscount(holes, circle, ratio, teeth).of_pitch,
        &MISCOUNTED
    );
    if g.has("module") {
        let module: Val<Length> = more(g, book, "module")?;
        work!(book, "arc", |angle, teeth, module| at_radius(angle, module * teeth.n() / 2.0), &ARC);
    }
    Ok(())
}
