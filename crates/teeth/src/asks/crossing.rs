//! Crossing out, and what a wheel then weighs.

use super::{Done, FORM, MODULE, PINION, WHEEL, ask, fit, form_of, more, need, or, teeth};
use crate::crossing::{self, CROSSING, Crossing, PROPORTIONS};
use crate::curve::Wheel;
use crate::form::wheel_sizes;
use crate::outline::{self, TOLERANCE};
use reckon::source::GEOMETRY;
use reckon::{Area, Ask, Book, Density, Diameter, Given, Length, Mass, Radius, Ratio, Val, work};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "teeth.crossing",
        "area of the windows between the arms of a wheel, and whether the arms fit",
        &[
            need("arms", "number of arms"),
            need("rim", "inner radius of the rim"),
            need("hub", "outer radius of the hub"),
            need("at_hub", "width of an arm at the hub"),
            or("at_rim", "", "width of an arm at the rim; the same when left out"),
            or("fillet", "0 mm", "radius of the corners"),
        ],
        &["sharp", "window", "windows", "arms_meet", "fillet_at_rim", "fits"],
        r#"arms="5" rim="30 mm" hub="8 mm" at_hub="3 mm" fillet="1 mm""#,
        windows,
    ),
    ask(
        "teeth.proportions",
        "arms, rim and hub of a wheel whose maker gives none: house default",
        &[MODULE, WHEEL, PINION, need("bore", "hole in the middle")],
        &["arms", "rim", "hub", "at_hub", "at_rim", "fillet"],
        r#"module="0.75 mm" wheel="80" pinion="8" bore="6 mm""#,
        proportions,
    ),
    ask(
        "teeth.mass",
        "mass and moment of inertia of a wheel, solid and crossed out",
        &[
            MODULE,
            WHEEL,
            PINION,
            FORM,
            need("bore", "hole in the middle"),
            need("thickness", "of the wheel"),
            or("density", "8500 kg/m3", "of the metal"),
        ],
        &["solid", "mass", "solid_inertia_g_mm2", "inertia_g_mm2", "saved"],
        r#"module="0.75 mm" wheel="80" pinion="8" bore="6 mm" thickness="2 mm""#,
        mass,
    ),
];

fn square_mm(a: f64) -> Area {
    Area::si(a * 1e-6)
}
fn windows(g: &Given<'_>, book: &mut Book) -> Done {
    let n = g.count(book, "arms")?;
    let Some(arms) = u32::try_from(n.bare().0).ok().filter(|a| (2..=100).contains(a)) else {
        return Err(g.trouble("arms", "'arms' must lie between 2 and 100"));
    };
    let (rim, hub): (Val<Radius>, Val<Radius>) = (more(g, book, "rim")?, more(g, book, "hub")?);
    let at_hub: Val<Length> = more(g, book, "at_hub")?;
    let at_rim: Val<Length> = if g.has("at_rim") { more(g, book, "at_rim")? } else { at_hub };
    let fillet: Val<Length> = g.take(book, "fillet")?;
    let c = Crossing {
        arms,
        rim: rim.bare().in_mm(),
        hub: hub.bare().in_mm(),
        at_hub: at_hub.bare().in_mm(),
        at_rim: at_rim.bare().in_mm(),
        fillet: fillet.bare().in_mm(),
    };
    let no = |e: crossing::Cannot| {
        let name = match e {
            crossing::Cannot::Arms => "arms",
            crossing::Cannot::HubCorners { .. } | crossing::Cannot::ArmsMeet { .. } => "hub",
            crossing::Cannot::RimCorners { .. } => "fillet",
            crossing::Cannot::Size | crossing::Cannot::Short => "rim",
        };
        g.trouble(name, e.to_string())
    };
    let (window, sharp) = (c.window().map_err(no)?, c.sharp().window().map_err(no)?);
    let from = || vec![n.id(), rim.id(), hub.id(), at_hub.id(), at_rim.id(), fillet.id()];
    let how = ("lines and arcs summed by Green's theorem", 1, 1e-12);
    book.solved("sharp", square_mm(sharp.area()), how, from(), &CROSSING);
    let one = book.solved("window", square_mm(window.area()), how, from(), &CROSSING);
    work!(book, "windows", |one, n| one * n, &CROSSING);
    let how = ("edges of neighbouring arms", 1, 1e-12);
    let meet = book.solved("arms_meet", Radius::mm(c.arms_meet()), how, from(), &CROSSING);
    let how = ("fillets that touch in the middle of the window", 1, 1e-12);
    let most = book.solved("fillet_at_rim", Length::mm(c.most_at_rim()), how, from(), &CROSSING);
    book.chosen(
        "fits",
        "the arms fit".to_owned(),
        "edges meet inside the hub, corners do not collide",
        Vec::new(),
        vec![meet.id(), most.id(), hub.id(), fillet.id()],
        &CROSSING,
    );
    Ok(())
}
fn drawn(g: &Given<'_>, book: &mut Book, form: crate::curve::Form) -> Result<Drawn, reckon::Trouble> {
    let m: Val<Length> = more(g, book, "module")?;
    let ((z, zn), (p, pn)) = (teeth(g, book, "wheel", 4)?, teeth(g, book, "pinion", 3)?);
    let bore: Val<Diameter> = more(g, book, "bore")?;
    let w = fit(g, "wheel", Wheel::new(zn, pn, form))?;
    let sizes = wheel_sizes(&w, m.bare().in_mm());
    if bore.bare().in_mm() >= sizes.root {
        return Err(g.trouble("bore", "the bore must lie inside the root circle"));
    }
    let found = crossing::proportions(sizes.outside, sizes.root, bore.bare().in_mm());
    Ok(Drawn {
        w,
        module: m.bare().in_mm(),
        bore,
        crossing: found,
        from: vec![m.id(), z.id(), p.id(), bore.id()],
    })
}
struct Drawn {
    w: Wheel,
    module: f64,
    bore: Val<Diameter>,
    crossing: Option<Crossing>,
    from: Vec<reckon::Id>,
}
fn proportions(g: &Given<'_>, book: &mut Book) -> Done {
    let d = drawn(g, book, crate::curve::Form::Ogive)?;
    let Some(c) = d.crossing else {
        return Err(g.trouble("wheel", "a wheel of this size and bore is left solid"));
    };
    let rule = "house default by the size of the wheel";
    let mut put = |name: &str, v: f64| {
        book.chosen(name, Length::mm(v), rule, Vec::new(), d.from.clone(), &PROPORTIONS);
    };
    put("rim", c.rim);
    put("hub", c.hub);
    put("at_hub", c.at_hub);
    put("at_rim", c.at_rim);
    put("fillet", c.fillet);
    book.chosen("arms", reckon::Count(i64::from(c.arms)), rule, Vec::new(), d.from.clone(), &PROPORTIONS);
    Ok(())
}
fn mass(g: &Given<'_>, book: &mut Book) -> Done {
    let d = drawn(g, book, form_of(g)?)?;
    let t: Val<Length> = more(g, book, "thickness")?;
    let rho: Val<Density> = more(g, book, "density")?;
    let windows = match d.crossing.map(|c| c.windows()) {
        Some(Ok(w)) => w,
        _ => Vec::new(),
    };
    let outline = outline::wheel(&d.w, d.module, TOLERANCE.min(d.module / 1000.0)).profile;
    let bore = d.bore.bare().in_mm();
    let solid = outline::wheel_flat(outline.clone(), bore, Vec::new(), 1.0);
    let crossed = outline::wheel_flat(outline, bore, windows, 1.0);
    let how = ("lines and arcs summed by Green's theorem", 1, 1e-12);
    let mut area = |name: &str, a: f64| book.solved(name, square_mm(a), how, d.from.clone(), &GEOMETRY);
    let (all, left) = (area("solid_area", solid.area()), area("area", crossed.area()));
    work!(book, "solid", |all, t, rho| all * t * rho, &GEOMETRY);
    work!(book, "mass", |left, t, rho| left * t * rho, &GEOMETRY);
    let gyration = |f: &shape::flat::Flat| f.polar_moment() / f.area();
    let how = ("square of the radius of gyration, lines and arcs summed by Green's theorem", 1, 1e-12);
    let mut square = |name: &str, f: &shape::flat::Flat| {
        book.solved(name, square_mm(gyration(f)), how, d.from.clone(), &GEOMETRY)
    };
    let (whole, rest) = (square("solid_gyration", &solid), square("gyration", &crossed));
    let solid_j =
        work!(book, "solid_inertia_g_mm2", |all, t, rho, whole| inertia(all * t * rho, whole), &GEOMETRY);
    let j = work!(book, "inertia_g_mm2", |left, t, rho, rest| inertia(left * t * rho, rest), &GEOMETRY);
    work!(book, "saved", |solid_j, j| (solid_j - j) / solid_j, &GEOMETRY);
    Ok(())
}
/// Moment of inertia in g mm².
fn inertia(mass: Mass, gyration: Area) -> Ratio {
    Ratio::si(mass.value() * 1e3 * gyration.value() * 1e6)
}
