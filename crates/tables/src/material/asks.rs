//! Questions on materials.

use super::{Figure, Material, ToolMetal, cutting, find};
use reckon::ask::{need, or};
use reckon::{Ask, Book, Diameter, Given, Length, Readable, Trouble, Val, work};

/// Questions on materials.
pub static ASKS: &[Ask] = &[
    Ask {
        name: "material.data",
        says: "What a material weighs, how stiff and strong it is, whether it hardens, and how it cuts.",
        takes: &[need("material", "a name of the trade or a grade: brass CZ120, silver steel, O1")],
        gives: &[
            "name",
            "kind",
            "state",
            "density",
            "youngs",
            "poisson",
            "expansion",
            "strength",
            "proof",
            "hardens",
            "leaded",
            "caution",
            "group",
            "force",
            "exponent",
            "turning",
            "drilling",
            "turning_carbide",
            "drilling_carbide",
            "pass_least",
            "pass_most",
            "pass_force",
            "rake",
            "clearance",
        ],
        example: "material=\"silver steel\"",
        run: data,
    },
    Ask {
        name: "material.mass",
        says: "Mass of a round piece, with or without a bore.",
        takes: &[
            need("material", "a name of the trade or a grade"),
            need("outside", "outside diameter"),
            or("bore", "0 mm", "diameter of the bore right through"),
            need("length", "length or thickness"),
        ],
        gives: &["density", "volume", "mass"],
        example: "material=\"brass bar\" outside=\"21 mm\" bore=\"5.5 mm\" length=\"3 mm\"",
        run: mass,
    },
];

fn material(given: &Given<'_>) -> Result<&'static Material, Trouble> {
    find(&given.word("material")?).map_err(|mut t| {
        t.at = given.trouble("material", "").at;
        t
    })
}
fn data(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let m = material(given)?;
    let by = m.source;
    book.tabled("name", m.name.clone(), m.name.as_str(), by);
    book.tabled("kind", m.kind.text().to_owned(), m.row("kind"), by);
    book.tabled("state", m.state.clone(), m.row("state"), by);
    m.density.tabled(book, "density", m.row("density"));
    m.youngs.tabled(book, "youngs", m.row("Young's modulus"));
    m.poisson.tabled(book, "poisson", m.row("Poisson's ratio"));
    m.expansion.tabled(book, "expansion", m.row("linear expansion"));
    maybe(book, "strength", m.strength.as_ref(), &m.row("tensile strength"), m);
    maybe(book, "proof", m.proof.as_ref(), &m.row("0.2 % proof stress"), m);
    book.tabled("hardens", m.hardens.text().to_owned(), m.row("hardens"), m.hardens_by);
    book.tabled("leaded", m.leaded, m.row("holds lead"), by);
    let caution = m.cautions().join("; ");
    let caution = if caution.is_empty() { "none of its own".to_owned() } else { caution };
    book.tabled("caution", caution, m.row("caution"), &reckon::source::HOUSE);
    let Ok(c) = cutting(m) else {
        book.tabled("group", "not cut".to_owned(), m.row("cutting group"), by);
        return Ok(());
    };
    let row = |what: &str| format!("{}: {what}", c.name);
    book.tabled("group", c.name.clone(), m.row("cutting group"), by);
    c.force.tabled(book, "force", row("specific cutting force kc1.1"));
    c.exponent.tabled(book, "exponent", row("exponent mc"));
    c.turning_speed(book, "turning", ToolMetal::HighSpeedSteel);
    c.drilling_speed(book, "drilling", ToolMetal::HighSpeedSteel);
    c.turning_speed(book, "turning_carbide", ToolMetal::Carbide);
    c.drilling_speed(book, "drilling_carbide", ToolMetal::Carbide);
    c.pass_least.tabled(book, "pass_least", row("least infeed of a threading pass"));
    c.pass_most.tabled(book, "pass_most", row("most infeed of the first threading pass"));
    c.pass_force.tabled(book, "pass_force", row("specific force in threading"));
    c.rake.tabled(book, "rake", row("top rake"));
    c.clearance.tabled(book, "clearance", row("front clearance"));
    Ok(())
}
/// A figure that not every material has: the line says so where it is missing.
fn maybe<T: Readable>(book: &mut Book, name: &str, figure: Option<&Figure<T>>, row: &str, m: &Material) {
    match figure {
        Some(f) => {
            f.tabled(book, name, row);
        }
        None => {
            book.tabled(name, "not tabled".to_owned(), row, m.source);
        }
    }
}
fn mass(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let m = material(given)?;
    let outside: Val<Diameter> = given.take(book, "outside")?;
    let bore: Val<Diameter> = given.take(book, "bore")?;
    let length: Val<Length> = given.take(book, "length")?;
    if bore >= outside.bare() {
        return Err(given.trouble("bore", "the bore is not smaller than the outside"));
    }
    let density = m.density.tabled(book, "density", m.row("density"));
    let g = &reckon::source::GEOMETRY;
    let volume =
        work!(book, "volume", |outside, bore, length| (outside.circle() - bore.circle()) * length, g);
    work!(book, "mass", |density, volume| density * volume, g);
    Ok(())
}
