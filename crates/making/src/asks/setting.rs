//! Room under the spindle, bushes, slides, warm work.

use super::{Done, METAL, ask, metal, more, need, or, some, within, yes};
use crate::kernel::setting::{self, Stack};
use crate::kernel::warmth;
use reckon::{
    Area, Ask, Book, Cell, Density, Diameter, Given, Length, Param, PerKelvin, Pressure, Ratio, Temperature,
    TemperatureDifference, Time, Val, Volume, judge, work,
};

const DENSITY: Param = or("density", "8470 kg/m3", "of the work; brass when left out");
const SPECIFIC_HEAT: Param = or("specific_heat", "377", "of the work in J/(kg K); brass when left out");

pub(super) static ASKS: &[Ask] = &[
    ask(
        "mill.daylight",
        "room that a set-up needs under the spindle",
        &[
            or("have", "", "room from the nose or chuck to the table"),
            or("vise", "0 mm", "height of the vise bed"),
            or("parallels", "0 mm", "height of parallels"),
            need("part", "height of the part, or of part and jig"),
            or("gap", "0 mm", "from the part to the bush above it"),
            need("drill", "drill below the chuck"),
            or("retract", "3 mm", "to pull the drill clear"),
            or("margin", "10 mm", "to get the work in and out"),
        ],
        &["needed", "spare", "fits"],
        r#"have="160 mm" vise="70 mm" parallels="12 mm" part="8 mm" gap="2 mm" drill="45 mm""#,
        daylight,
    ),
    ask(
        "mill.travel",
        "travel of the cutter around a plate or inside a pocket",
        &[
            need("width", "of the plate or pocket"),
            need("cutter", "diameter of the cutter"),
            or("lead", "3 mm", "lead-in beyond each side"),
            or("inside", "no", "yes in a pocket"),
            need("travel", "of the machine"),
        ],
        &["span", "fits"],
        r#"width="60 mm" cutter="6 mm" travel="80 mm""#,
        travel,
    ),
    ask(
        "jig.bush",
        "how far off a drill may be below a guide bush",
        &[
            need("length", "of the bush"),
            need("clearance", "of the drill in it, on diameter"),
            or("beyond", "0 mm", "depth below the bush"),
            or("allowed", "", "error allowed: gives the least length"),
        ],
        &["error", "least_length"],
        r#"length="8 mm" clearance="0.02 mm" beyond="6 mm" allowed="0.03 mm""#,
        bush,
    ),
    ask(
        "jig.proportions",
        "length, wall and gap of a guide bush",
        &[need("hole", "diameter guided"), or("crumbles", "yes", "yes where chips crumble, as in brass")],
        &["length", "wall", "gap"],
        r#"hole="3 mm""#,
        proportions,
    ),
    ask(
        "measure.at_20",
        "size at 20 °C of something measured warm",
        &[
            need("measured", "size read"),
            or("gauge_at", "20 degC", "temperature of the gauge"),
            or("gauge_grows", "11.5 ppm/K", "expansion of the gauge; steel when left out"),
            need("work_at", "temperature of the work"),
            or("work_grows", "20.5 ppm/K", "expansion of the work; brass when left out"),
        ],
        &["at_20", "correction"],
        r#"measured="40 mm" work_at="45 degC""#,
        at_20,
    ),
    ask(
        "slide.backlash",
        "where a slide with play stands after each command of its dial",
        &[
            need("play", "of the screw"),
            need("commands", "dial positions in turn, between commas; the first is engaged upward"),
        ],
        &["slide", "overrun"],
        r#"play="0.12 mm" commands="0 mm, 10 mm, 4 mm, 7 mm, 6.95 mm, 2 mm, 2.1 mm""#,
        backlash,
    ),
    ask(
        "slide.divisions",
        "travel of so many divisions, and divisions and turns of a travel",
        &[
            need("division", "travel of one division"),
            need("lead", "travel of one turn of the screw"),
            or("count", "1", "divisions turned"),
            or("travel", "0 mm", "travel wanted"),
        ],
        &["moved", "divisions", "turns"],
        r#"division="1 thou" lead="0.05 in" count="37" travel="3.2 mm""#,
        divisions,
    ),
    ask(
        "heat.warming",
        "how much a cut warms the part",
        &[
            need("removed", "volume cut away"),
            need("specific_force", "force per area of chip"),
            or("share", "15 %", "of the heat that stays in the part: 5 to 30 %"),
            need("diameter", "of the part, as a solid disc"),
            need("length", "of the part"),
            DENSITY,
            SPECIFIC_HEAT,
        ],
        &["work", "mass", "warming"],
        r#"removed="6 cm3" specific_force="1500 N/mm2" diameter="50 mm" length="3 mm""#,
        warming,
    ),
    ask(
        "heat.cooling",
        "how long a part cools in still air",
        &[
            need("diameter", "of the part, as a solid cylinder"),
            need("length", "of the part"),
            DENSITY,
            SPECIFIC_HEAT,
            or("transfer", "12", "heat transfer in W/(m² K): 8 to 15 in still air"),
            need("from", "temperature at first"),
            or("air", "20 degC", "temperature of the air"),
            or("within", "1 K", "how near to the air"),
        ],
        &["constant", "time"],
        r#"diameter="16 mm" length="20 mm" from="60 degC""#,
        cooling,
    ),
    ask(
        "measure.growth",
        "how much a length grows in warmth",
        &[
            need("length", "at 20 °C"),
            need("warmer", "by how much"),
            METAL,
            or("grows", "", "expansion, in place of a metal"),
        ],
        &["growth"],
        r#"length="40 mm" warmer="1 K" metal="brass""#,
        growth,
    ),
];

fn daylight(g: &Given<'_>, book: &mut Book) -> Done {
    let mut take = |name| some::<Length>(g, book, name);
    let (vise, parallels, part, gap) = (take("vise")?, take("parallels")?, take("part")?, take("gap")?);
    let (drill, retract, margin) = (take("drill")?, take("retract")?, take("margin")?);
    let needed = work!(
        book,
        "needed",
        |vise, parallels, part, gap, drill, retract, margin| Stack {
            vise,
            parallels,
            part,
            gap,
            drill,
            retract,
            margin
        }
        .needed(),
        &setting::DAYLIGHT
    );
    if g.has("have") {
        let have: Val<Length> = more(g, book, "have")?;
        work!(book, "spare", |have, needed| have - needed, &setting::DAYLIGHT);
        let v = judge!(
            book,
            "fits",
            "it goes under the spindle",
            |have, needed| have >= needed,
            &setting::DAYLIGHT
        );
        if !v.bare() {
            for cure in [
                "a stub drill",
                "a collet in place of the drill chuck",
                "clamp to the table in place of the vise",
                "drill by hand through a guide block that is drilled off the machine",
            ] {
                book.cure(v.id(), cure);
            }
        }
    }
    Ok(())
}
fn travel(g: &Given<'_>, book: &mut Book) -> Done {
    let (width, cutter): (Val<Length>, Val<Diameter>) = (more(g, book, "width")?, more(g, book, "cutter")?);
    let lead: Val<Length> = some(g, book, "lead")?;
    let travel: Val<Length> = more(g, book, "travel")?;
    let span = if yes(g, "inside")? {
        if width.bare() < cutter.bare().across() {
            return Err(g.trouble("cutter", "the cutter is wider than the pocket"));
        }
        work!(book, "span", |width, cutter| setting::inside(width, cutter), &setting::TRAVEL)
    } else {
        work!(book, "span", |width, cutter, lead| setting::around(width, cutter, lead), &setting::TRAVEL)
    };
    judge!(
        book,
        "fits",
        "the table reaches it in one setting",
        |span, travel| span <= travel,
        &setting::TRAVEL
    );
    Ok(())
}
fn bush(g: &Given<'_>, book: &mut Book) -> Done {
    let (length, clearance): (Val<Length>, Val<Length>) =
        (more(g, book, "length")?, some(g, book, "clearance")?);
    let beyond: Val<Length> = some(g, book, "beyond")?;
    work!(
        book,
        "error",
        |clearance, length, beyond| setting::bush_error(clearance, length, beyond),
        &setting::BUSH
    );
    if g.has("allowed") {
        let allowed: Val<Length> = more(g, book, "allowed")?;
        if setting::bush_length(clearance.bare(), beyond.bare(), allowed.bare()).is_none() {
            return Err(g
                .trouble("allowed", "half of the clearance alone is more than this error")
                .cure("a bush that fits the drill closer"));
        }
        work!(
            book,
            "least_length",
            |clearance, beyond, allowed| setting::bush_length(clearance, beyond, allowed).unwrap_or_default(),
            &setting::BUSH
        );
    }
    Ok(())
}
fn proportions(g: &Given<'_>, book: &mut Book) -> Done {
    let hole: Val<Diameter> = more(g, book, "hole")?;
    work!(book, "length", |hole| setting::bush(hole, true).length, &setting::BUSH_SIZE);
    work!(book, "wall", |hole| setting::bush(hole, true).wall, &setting::BUSH_SIZE);
    if yes(g, "crumbles")? {
        work!(book, "gap", |hole| setting::bush(hole, true).gap, &setting::BUSH_SIZE);
    } else {
        work!(book, "gap", |hole| setting::bush(hole, false).gap, &setting::BUSH_SIZE);
    }
    Ok(())
}
fn at_20(g: &Given<'_>, book: &mut Book) -> Done {
    let measured: Val<Length> = more(g, book, "measured")?;
    let (cold, hot) = (Temperature::celsius(-100.0), Temperature::celsius(1000.0));
    let gauge_at = within(g, book, "gauge_at", cold, hot)?;
    let work_at = within(g, book, "work_at", cold, hot)?;
    let (least, most) = (PerKelvin::si(-1e-4), PerKelvin::si(1e-3));
    let gauge_grows = within(g, book, "gauge_grows", least, most)?;
    let work_grows = within(g, book, "work_grows", least, most)?;
    let size = work!(
        book,
        "at_20",
        |measured, gauge_at, gauge_grows, work_at, work_grows| warmth::at_20(
            measured,
            gauge_at,
            gauge_grows,
            work_at,
            work_grows
        ),
        &warmth::AT_20
    );
    work!(book, "correction", |size, measured| size - measured, &warmth::AT_20);
    Ok(())
}
fn backlash(g: &Given<'_>, book: &mut Book) -> Done {
    let play: Val<Length> = some(g, book, "play")?;
    let commands: Vec<Val<Length>> = g.take_list(book, "commands")?;
    let bare: Vec<Length> = commands.iter().map(Val::bare).collect();
    let at = setting::slide_after(&bare, play.bare());
    let mut before = vec![play.id()];
    for (i, stands) in at.iter().enumerate() {
        before.push(commands[i].id());
        let how = ("slide = clamp(slide, dial, dial + play), command after command", 1, 0.0);
        book.solved(format!("slide.{}", i + 1), *stands, how, before.clone(), &setting::PLAY);
    }
    let rows = at.iter().zip(&bare).map(|(s, c)| vec![Cell::of(c), Cell::of(s)]).collect();
    book.table("slide", &["dial", "slide"], rows, "command after command", before, &setting::PLAY);
    work!(book, "overrun", |play| setting::overrun(play), &reckon::source::HOUSE);
    Ok(())
}
fn divisions(g: &Given<'_>, book: &mut Book) -> Done {
    let (division, lead): (Val<Length>, Val<Length>) = (more(g, book, "division")?, more(g, book, "lead")?);
    let count: Val<Ratio> = g.take(book, "count")?;
    let travel: Val<Length> = g.take(book, "travel")?;
    work!(book, "moved", |division, count| division * count, &setting::DIAL);
    work!(book, "divisions", |travel, division| setting::divisions(travel, division), &setting::DIAL);
    work!(book, "turns", |travel, lead| travel / lead, &setting::DIAL);
    Ok(())
}
fn warming(g: &Given<'_>, book: &mut Book) -> Done {
    let removed: Val<Volume> = some(g, book, "removed")?;
    let kc: Val<Pressure> = more(g, book, "specific_force")?;
    let share: Val<Ratio> = within(g, book, "share", Ratio::ZERO, Ratio::si(1.0))?;
    let (d, long): (Val<Diameter>, Val<Length>) = (more(g, book, "diameter")?, more(g, book, "length")?);
    let density: Val<Density> = more(g, book, "density")?;
    let heat: Val<Ratio> = more(g, book, "specific_heat")?;
    let energy = work!(book, "work", |kc, removed| warmth::work_of_cutting(kc, removed), &warmth::WARMING);
    let mass =
        work!(book, "mass", |d, long, density| warmth::cylinder_mass(d, long, density), &warmth::CYLINDER);
    work!(
        book,
        "warming",
        |energy, share, mass, heat| warmth::warming(energy, share, mass, heat),
        &warmth::WARMING
    );
    Ok(())
}
fn cooling(g: &Given<'_>, book: &mut Book) -> Done {
    let (d, long): (Val<Diameter>, Val<Length>) = (more(g, book, "diameter")?, more(g, book, "length")?);
    let density: Val<Density> = more(g, book, "density")?;
    let (heat, transfer): (Val<Ratio>, Val<Ratio>) =
        (more(g, book, "specific_heat")?, more(g, book, "transfer")?);
    let (from, air): (Val<Temperature>, Val<Temperature>) = (g.take(book, "from")?, g.take(book, "air")?);
    let near: Val<TemperatureDifference> = more(g, book, "within")?;
    let mass =
        work!(book, "mass", |d, long, density| warmth::cylinder_mass(d, long, density), &warmth::CYLINDER);
    let surface: Val<Area> =
        work!(book, "surface", |d, long| warmth::cylinder_surface(d, long), &warmth::CYLINDER);
    let constant: Val<Time> = work!(
        book,
        "constant",
        |mass, heat, surface, transfer| warmth::time_constant(mass, heat, surface, transfer),
        &warmth::COOLING
    );
    work!(
        book,
        "time",
        |constant, from, air, near| warmth::cooling(constant, from, air, near),
        &warmth::COOLING
    );
    Ok(())
}
fn growth(g: &Given<'_>, book: &mut Book) -> Done {
    let length: Val<Length> = more(g, book, "length")?;
    let warmer: Val<TemperatureDifference> = g.take(book, "warmer")?;
    let grows: Val<PerKelvin> = if g.has("grows") {
        g.take(book, "grows")?
    } else {
        let m = metal(g, "'grows'")?;
        book.tabled("grows", warmth::expansion(m), m.word(), &warmth::EXPANSION)
    };
    work!(book, "growth", |length, grows, warmer| length * (grows * warmer), &warmth::EXPANSION);
    Ok(())
}
