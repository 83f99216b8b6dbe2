//! How far a bar gives way, how far it may stand out, when it whips.

use super::{Done, METAL, MODULUS, ask, modulus, more, need, one_of, or, some, within};
use crate::kernel::bend::{self, Held, Piece};
use reckon::{Ask, Book, Density, Diameter, Force, Given, Length, Ratio, Stiffness, Val, work};

static HELD: [(&str, Held); 3] =
    [("chuck", Held::Chuck), ("chuck and centre", Held::ChuckAndCentre), ("centres", Held::Centres)];

pub(super) static ASKS: &[Ask] = &[
    ask(
        "bend.overhang",
        "how far a bar that stands out of the chuck bends at its end",
        &[
            need("force", "radial force at the end"),
            need("out", "how far it stands out"),
            need("diameter", "of the bar"),
            METAL,
            MODULUS,
        ],
        &["deflection", "diameter_error", "stress"],
        r#"force="10 N" out="30 mm" diameter="3 mm" metal="mild steel""#,
        overhang,
    ),
    ask(
        "bend.tailstock",
        "how far a bar bends that is held in the chuck and on a centre",
        &[
            need("force", "radial force"),
            or("at", "", "from the chuck to the force; the middle when left out"),
            need("out", "from the chuck to the centre"),
            need("diameter", "of the bar"),
            METAL,
            MODULUS,
        ],
        &["deflection", "diameter_error", "worst_at", "worst_deflection"],
        r#"force="10 N" out="30 mm" diameter="3 mm" metal="mild steel""#,
        tailstock,
    ),
    ask(
        "bend.centres",
        "how far a bar bends between centres",
        &[
            need("force", "radial force"),
            or("at", "", "from one centre to the force; the middle when left out"),
            need("out", "from centre to centre"),
            need("diameter", "of the bar"),
            METAL,
            MODULUS,
        ],
        &["deflection", "diameter_error"],
        r#"force="10 N" out="60 mm" diameter="3 mm" metal="mild steel""#,
        centres,
    ),
    ask(
        "bend.limit",
        "how far a bar may stand out of the chuck",
        &[
            need("force", "radial force at the end"),
            need("diameter", "of the bar"),
            need("taper", "taper allowed, on diameter"),
            METAL,
            MODULUS,
        ],
        &["limit", "good", "light"],
        r#"force="5 N" diameter="2 mm" taper="0.01 mm" metal="mild steel""#,
        limit,
    ),
    ask(
        "bend.stepped",
        "how far a bar with steps bends at the force",
        &[
            need("force", "radial force"),
            need("at", "from the chuck or the first centre to the force"),
            need("lengths", "of the steps, from the chuck outward, between commas"),
            need("diameters", "of the steps"),
            or("bores", "", "of the steps, nothing where solid"),
            or("held", "chuck", "chuck, chuck and centre, or centres"),
            METAL,
            MODULUS,
            or("give", "", "stiffness of chuck and spindle; rigid when left out"),
        ],
        &["deflection", "diameter_error"],
        r#"force="10 N" at="30 mm" lengths="12 mm, 18 mm" diameters="5 mm, 3 mm" metal="mild steel""#,
        stepped,
    ),
    ask(
        "bend.spring",
        "what spring passes take off and leave",
        &[
            need("depth", "depth set"),
            need("bar", "stiffness of the bar at the tool"),
            need("cut", "growth of the radial force with depth"),
            or("passes", "0", "further passes at the same setting"),
        ],
        &["really_cut", "left"],
        r#"depth="0.1 mm" bar="200 N/mm" cut="100 N/mm" passes="2""#,
        spring,
    ),
    ask(
        "bend.whip",
        "speed at which a free tail whips, and how fast to go",
        &[
            need("out", "length that stands free"),
            need("diameter", "of the bar"),
            need("modulus", "elastic modulus"),
            need("density", "density"),
        ],
        &["whips_at", "keep_below"],
        r#"out="0.70 m" diameter="8 mm" modulus="145 GPa" density="8100 kg/m3""#,
        whip,
    ),
];

fn overhang(g: &Given<'_>, book: &mut Book) -> Done {
    let force: Val<Force> = some(g, book, "force")?;
    let (out, d): (Val<Length>, Val<Diameter>) = (more(g, book, "out")?, more(g, book, "diameter")?);
    let e = modulus(g, book)?;
    let y = work!(book, "deflection", |force, out, d, e| bend::chuck_only(force, out, d, e), &bend::BEAM);
    work!(book, "diameter_error", |y| bend::diameter_error(y), &bend::BEAM);
    work!(book, "stress", |force, out, d| bend::root_stress(force, out, d), &bend::BEAM);
    Ok(())
}
/// The place of the force on a bar of length `out`.
fn place(g: &Given<'_>, book: &mut Book, out: Val<Length>) -> Result<Val<Length>, reckon::Trouble> {
    if g.has("at") {
        within(g, book, "at", Length::ZERO, out.bare())
    } else {
        Ok(work!(book, "at", |out| out / 2.0, &reckon::source::GEOMETRY))
    }
}
fn tailstock(g: &Given<'_>, book: &mut Book) -> Done {
    let force: Val<Force> = some(g, book, "force")?;
    let (out, d): (Val<Length>, Val<Diameter>) = (more(g, book, "out")?, more(g, book, "diameter")?);
    let at = place(g, book, out)?;
    let e = modulus(g, book)?;
    let y = work!(
        book,
        "deflection",
        |force, at, out, d, e| bend::with_tailstock(force, at, out, d, e),
        &bend::PROPPED
    );
    work!(book, "diameter_error", |y| bend::diameter_error(y), &bend::PROPPED);
    let worst = work!(book, "worst_at", |out| bend::worst_place(out), &bend::PROPPED);
    work!(
        book,
        "worst_deflection",
        |force, worst, out, d, e| bend::with_tailstock(force, worst, out, d, e),
        &bend::PROPPED
    );
    Ok(())
}
fn centres(g: &Given<'_>, book: &mut Book) -> Done {
    let force: Val<Force> = some(g, book, "force")?;
    let (out, d): (Val<Length>, Val<Diameter>) = (more(g, book, "out")?, more(g, book, "diameter")?);
    let at = place(g, book, out)?;
    let e = modulus(g, book)?;
    let y = work!(
        book,
        "deflection",
        |force, at, out, d, e| bend::between_centres(force, at, out, d, e),
        &bend::CENTRES
    );
    work!(book, "diameter_error", |y| bend::diameter_error(y), &bend::CENTRES);
    Ok(())
}
fn limit(g: &Given<'_>, book: &mut Book) -> Done {
    let (force, d): (Val<Force>, Val<Diameter>) = (more(g, book, "force")?, more(g, book, "diameter")?);
    let taper: Val<Length> = more(g, book, "taper")?;
    let e = modulus(g, book)?;
    work!(book, "limit", |force, d, e, taper| bend::overhang(force, d, e, taper), &bend::BEAM);
    work!(book, "good", |d| d.across() * 3.0, &bend::FREE_LENGTH);
    work!(book, "light", |d| d.across() * 4.0, &bend::FREE_LENGTH);
    Ok(())
}
fn stepped(g: &Given<'_>, book: &mut Book) -> Done {
    let force: Val<Force> = some(g, book, "force")?;
    let at: Val<Length> = some(g, book, "at")?;
    let lengths: Vec<Val<Length>> = g.take_list(book, "lengths")?;
    let diameters: Vec<Val<Diameter>> = g.take_list(book, "diameters")?;
    let bores: Vec<Val<Diameter>> = g.take_list(book, "bores")?;
    if lengths.len() != diameters.len() || !(bores.is_empty() || bores.len() == lengths.len()) {
        return Err(
            g.trouble("diameters", "every step needs a length and a diameter, and all or none a bore")
        );
    }
    let held = one_of(g, "held", &HELD)?;
    let e = modulus(g, book)?;
    let give: Option<Val<Stiffness>> = if g.has("give") { Some(more(g, book, "give")?) } else { None };
    let pieces: Vec<Piece> = (0..lengths.len())
        .map(|i| Piece {
            length: lengths[i].bare(),
            outside: diameters[i].bare(),
            bore: bores.get(i).map_or(Diameter::ZERO, Val::bare),
        })
        .collect();
    let solid = pieces.iter().all(|p| p.bore >= Diameter::ZERO);
    let found = bend::stepped(&pieces, held, e.bare(), force.bare(), at.bare(), give.map(|s| s.bare()));
    let Some(y) = found.filter(|_| solid) else {
        return Err(
            g.trouble("at", "the force must stand on the bar, and every step must have length and metal")
        );
    };
    let mut ids = vec![force.id(), at.id(), e.id()];
    ids.extend(lengths.iter().map(Val::id));
    ids.extend(diameters.iter().chain(&bores).map(Val::id));
    ids.extend(give.map(|s| s.id()));
    let y = book.solved(
        "deflection",
        y,
        ("∫ M m/(E I) dx over each step, exact there", 1, 0.0),
        ids,
        &bend::STEPS,
    );
    work!(book, "diameter_error", |y| bend::diameter_error(y), &bend::STEPS);
    Ok(())
}
fn spring(g: &Given<'_>, book: &mut Book) -> Done {
    let depth: Val<Length> = more(g, book, "depth")?;
    let (bar, cut): (Val<Stiffness>, Val<Stiffness>) = (more(g, book, "bar")?, more(g, book, "cut")?);
    let passes = g.count(book, "passes")?;
    if !(0..=1000).contains(&passes.bare().0) {
        return Err(g.trouble("passes", "between 0 and 1000 further passes"));
    }
    work!(book, "really_cut", |depth, bar, cut| bend::really_cut(depth, bar, cut), &bend::SPRING);
    work!(
        book,
        "left",
        |depth, bar, cut, passes| bend::left_after(depth, bar, cut, u32::try_from(passes.0).unwrap_or(0)),
        &bend::SPRING
    );
    Ok(())
}
fn whip(g: &Given<'_>, book: &mut Book) -> Done {
    let (out, d): (Val<Length>, Val<Diameter>) = (more(g, book, "out")?, more(g, book, "diameter")?);
    let e: Val<reckon::Pressure> = more(g, book, "modulus")?;
    let density: Val<Density> = more(g, book, "density")?;
    let whips = work!(book, "whips_at", |out, d, e, density| bend::whip(out, d, e, density), &bend::WHIP);
    let share = book.tabled("share", Ratio::si(0.5), "a free tail", &bend::WHIP_SHARE);
    work!(book, "keep_below", |whips, share| whips * share, &bend::WHIP_SHARE);
    Ok(())
}
