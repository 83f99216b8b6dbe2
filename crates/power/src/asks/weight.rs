//! Weights, lines and drums.

use super::{Done, ask, more, need, one_of, or, says, some, teeth, within, yes};
use crate::caution::{CAUTION_LEAD, CAUTION_LINE, CAUTION_WEIGHT};
use crate::weight::{self, Body};
use reckon::source::HOUSE;
use reckon::{
    Acceleration, Angle, Ask, Book, Density, Diameter, Energy, Force, Given, Length, Mass, Power, Ratio,
    Time, Torque, Val, Volume, work,
};

const GRAVITY: reckon::Param = or("gravity", "9.80665 m/s2", "of the place");
const FALLS: reckon::Param =
    or("falls", "1", "parts of the line that carry the weight: 2 with one moving pulley");
const DRUM: reckon::Param = need("drum", "diameter of the drum, in its groove");
const LINE: reckon::Param = need("line", "diameter of the line");

pub(super) static ASKS: &[Ask] = &[
    ask(
        "power.weight",
        "pull of the line and torque at the drum",
        &[
            need("mass", "of the weight with its pulley"),
            DRUM,
            LINE,
            FALLS,
            or("passes", "1", "share that the pulleys pass"),
            GRAVITY,
        ],
        &["pull", "torque", "caution"],
        r#"mass="4 kg" drum="38 mm" line="1.2 mm" falls="2""#,
        torque,
    ),
    ask(
        "power.drum",
        "turns of the drum for a fall, and how long the drum is",
        &[
            need("fall", "of the weight"),
            DRUM,
            LINE,
            FALLS,
            or("gap", "0.1 mm", "between coils"),
            or("spare", "2", "coils to spare at each end"),
        ],
        &["turns", "length", "wound"],
        r#"fall="1350 mm" drum="38 mm" line="1.2 mm" falls="2""#,
        drum,
    ),
    ask(
        "power.fall",
        "fall of the weight for turns of the drum, and how far the room does",
        &[
            need("turns", "of the drum"),
            DRUM,
            LINE,
            FALLS,
            need("room", "from the drum down to the floor of the case"),
            or("body", "0 mm", "length of the weight"),
            or("pulley", "0 mm", "length that the pulley takes"),
            or("spare", "60 mm", "kept free below"),
        ],
        &["fall", "usable", "left", "fits", "caution"],
        r#"turns="16.5" drum="38 mm" line="1.2 mm" falls="2" room="1320 mm" body="170 mm" pulley="40 mm""#,
        fall,
    ),
    ask(
        "power.fallen",
        "power of a weight that falls",
        &[need("mass", "of the weight"), need("fall", "in the time"), need("time", "of the fall"), GRAVITY],
        &["power"],
        r#"mass="5 kg" fall="1.4 m" time="8 d""#,
        fallen,
    ),
    ask(
        "power.sheave",
        "share that a pulley passes",
        &[
            or("friction", "0.15", "of the pin"),
            need("pin", "diameter of the pin"),
            need("groove", "diameter to the middle of the line"),
            or("pulleys", "1", "in a row"),
        ],
        &["each", "passes"],
        r#"pin="2 mm" groove="20 mm""#,
        sheave,
    ),
    ask(
        "power.line",
        "whether a line is strong enough, and the drum large enough for it",
        &[
            need("mass", "of the weight"),
            FALLS,
            GRAVITY,
            need("line", "diameter of the line"),
            need("breaks", "breaking load that its seller states"),
            need("drum", "smallest drum or pulley that it runs on, in its groove"),
            need("kind", "gut, synthetic, 7x7 cable or 7x19 cable"),
            or("over_people", "no", "whether people pass under it"),
        ],
        &["pull", "wanted", "strength", "strong", "bend", "least_drum", "bends", "caution"],
        r#"mass="3.5 kg" falls="2" line="1.2 mm" breaks="900 N" drum="38 mm" kind="7x19 cable""#,
        line,
    ),
    ask(
        "power.body",
        "masses of a hollow weight and how full it is",
        &[
            need("mass", "of the whole weight"),
            need("outside", "diameter"),
            need("inside", "diameter"),
            need("length", "of the tube"),
            need("cap", "thickness of each of the two caps, inside the tube"),
            or("density", "8.45 g/cm3", "of tube and caps"),
            or("filling", "6.9 g/cm3", "density of the filling as poured"),
        ],
        &["shell", "caps", "poured", "room", "full", "caution"],
        r#"mass="3.5 kg" outside="64 mm" inside="60 mm" length="170 mm" cap="6 mm""#,
        body,
    ),
    ask(
        "power.solid",
        "length of a solid round weight",
        &[need("mass", "of the weight"), need("density", "of its metal"), need("diameter", "of it")],
        &["length"],
        r#"mass="4 kg" density="7850 kg/m3" diameter="60 mm""#,
        solid,
    ),
    ask(
        "power.needed",
        "weight that keeps a pendulum going",
        &[
            or("energy", "", "of the pendulum at its arc; or give bob, length and arc"),
            or("bob", "", "mass of the pendulum"),
            or("length", "", "of the equal simple pendulum"),
            or("arc", "", "to one side"),
            need("quality", "Q of the pendulum"),
            need("period", "two beats"),
            or("time", "8 d", "that it runs"),
            or("fall", "1 m", "in that time"),
            or("train", "0.65", "share that the train passes"),
            or("escapement", "0.35", "share that the escapement passes"),
            GRAVITY,
        ],
        &["energy_used", "lost", "mass", "with_spare", "caution"],
        r#"energy="0.035615 J" quality="6000" period="2 s" fall="1.3 m" train="0.815" escapement="0.55""#,
        needed,
    ),
];

fn torque(g: &Given<'_>, book: &mut Book) -> Done {
    let mass: Val<Mass> = more(g, book, "mass")?;
    let (drum, line): (Val<Diameter>, Val<Diameter>) = (more(g, book, "drum")?, some(g, book, "line")?);
    let falls = teeth(g, book, "falls", 1, 8)?;
    let passes = within(g, book, "passes", Ratio::si(0.1), Ratio::si(1.0))?;
    let gravity: Val<Acceleration> = more(g, book, "gravity")?;
    let pull = work!(book, "pull", |mass, gravity, falls| mass * gravity / falls, &weight::DRUM);
    work!(
        book,
        "torque",
        |pull, passes, drum, line| pull
            * passes
            * Length::si(weight::pull_radius(drum.value(), line.value())),
        &weight::DRUM
    );
    cautions(book, &[CAUTION_WEIGHT, CAUTION_LINE]);
    Ok(())
}
fn cautions(book: &mut Book, all: &[&str]) {
    says(book, "caution", &all.join(" "), "stands beside every weight and line", Vec::new(), &HOUSE);
}
fn drum(g: &Given<'_>, book: &mut Book) -> Done {
    let fall: Val<Length> = more(g, book, "fall")?;
    let (drum, line): (Val<Diameter>, Val<Diameter>) = (more(g, book, "drum")?, some(g, book, "line")?);
    let falls = teeth(g, book, "falls", 1, 8)?;
    let (gap, spare): (Val<Length>, Val<Ratio>) = (some(g, book, "gap")?, some(g, book, "spare")?);
    let turns = work!(
        book,
        "turns",
        |fall, falls, drum, line| Ratio::si(weight::turns(
            fall.value(),
            falls.n(),
            drum.value(),
            line.value()
        )),
        &weight::TURNS
    );
    work!(
        book,
        "length",
        |turns, line, gap, spare| Length::si(weight::drum_length(
            turns.value(),
            line.value(),
            gap.value(),
            spare.value()
        )),
        &weight::DRUM_LENGTH
    );
    work!(book, "wound", |fall, falls| fall * falls, &weight::TURNS);
    Ok(())
}
fn fall(g: &Given<'_>, book: &mut Book) -> Done {
    let turns: Val<Ratio> = more(g, book, "turns")?;
    let (drum, line): (Val<Diameter>, Val<Diameter>) = (more(g, book, "drum")?, some(g, book, "line")?);
    let falls = teeth(g, book, "falls", 1, 8)?;
    let room: Val<Length> = more(g, book, "room")?;
    let (body, pulley): (Val<Length>, Val<Length>) = (some(g, book, "body")?, some(g, book, "pulley")?);
    let spare: Val<Length> = some(g, book, "spare")?;
    let fall = work!(
        book,
        "fall",
        |turns, falls, drum, line| Length::si(weight::fall(
            turns.value(),
            falls.n(),
            drum.value(),
            line.value()
        )),
        &weight::TURNS
    );
    let usable =
        work!(book, "usable", |room, body, pulley, spare| room - body - pulley - spare, &weight::ROOM);
    work!(book, "left", |usable, fall| usable - fall, &weight::ROOM);
    reckon::judge!(book, "fits", "the weight has room to fall", |fall, usable| fall <= usable, &weight::ROOM);
    cautions(book, &[CAUTION_WEIGHT]);
    Ok(())
}
fn fallen(g: &Given<'_>, book: &mut Book) -> Done {
    let (mass, fall): (Val<Mass>, Val<Length>) = (more(g, book, "mass")?, more(g, book, "fall")?);
    let (time, gravity): (Val<Time>, Val<Acceleration>) = (more(g, book, "time")?, more(g, book, "gravity")?);
    work!(
        book,
        "power",
        |mass, gravity, fall, time| Power::si((mass * gravity * fall).value() / time.value()),
        &weight::POWER
    );
    Ok(())
}
fn sheave(g: &Given<'_>, book: &mut Book) -> Done {
    let mu = within(g, book, "friction", Ratio::ZERO, Ratio::si(0.9))?;
    let (pin, groove): (Val<Diameter>, Val<Diameter>) = (more(g, book, "pin")?, more(g, book, "groove")?);
    if pin.bare() >= groove.bare() {
        return Err(g.trouble("pin", "the pin is as large as the groove"));
    }
    let pulleys = teeth(g, book, "pulleys", 1, 16)?;
    let each = work!(
        book,
        "each",
        |mu, pin, groove| Ratio::si(weight::sheave(mu.value(), pin.value(), groove.value())),
        &weight::SHEAVE
    );
    work!(
        book,
        "passes",
        |each, pulleys| Ratio::si(reckon::maths::pow(each.value(), pulleys.n())),
        &weight::SHEAVE
    );
    Ok(())
}
fn line(g: &Given<'_>, book: &mut Book) -> Done {
    let mass: Val<Mass> = more(g, book, "mass")?;
    let falls = teeth(g, book, "falls", 1, 8)?;
    let gravity: Val<Acceleration> = more(g, book, "gravity")?;
    let (line, drum): (Val<Diameter>, Val<Diameter>) = (more(g, book, "line")?, more(g, book, "drum")?);
    let breaks: Val<Force> = more(g, book, "breaks")?;
    let kind = one_of(g, "kind", &weight::LINES)?;
    let people = yes(g, "over_people")?;
    let pull = work!(book, "pull", |mass, gravity, falls| mass * gravity / falls, &weight::DRUM);
    let wanted = book.chosen(
        "wanted",
        Ratio::si(weight::strength_wanted(mass.bare().value(), people)),
        "five times; eight above 8 kg or over people",
        Vec::new(),
        vec![mass.id()],
        &weight::STRENGTH,
    );
    let strength = work!(book, "strength", |breaks, pull| breaks / pull, &weight::STRENGTH);
    reckon::judge!(
        book,
        "strong",
        "the line is strong enough",
        |strength, wanted| strength >= wanted,
        &weight::STRENGTH
    );
    let bend = work!(book, "bend", |drum, line| drum / line, &weight::BEND);
    let least =
        book.tabled("least", Ratio::si(kind.least_bend().0), "least drum in line diameters", &weight::BEND);
    work!(book, "least_drum", |line, least| line * least, &weight::BEND);
    reckon::judge!(
        book,
        "bends",
        "the drum is large enough for the line",
        |bend, least| bend >= least,
        &weight::BEND
    );
    cautions(book, &[CAUTION_LINE, CAUTION_WEIGHT]);
    Ok(())
}
fn body(g: &Given<'_>, book: &mut Book) -> Done {
    let mass: Val<Mass> = more(g, book, "mass")?;
    let (out, ins): (Val<Diameter>, Val<Diameter>) = (more(g, book, "outside")?, more(g, book, "inside")?);
    let (length, cap): (Val<Length>, Val<Length>) = (more(g, book, "length")?, more(g, book, "cap")?);
    let (metal, filling): (Val<Density>, Val<Density>) =
        (more(g, book, "density")?, more(g, book, "filling")?);
    if ins.bare() >= out.bare() {
        return Err(g.trouble("inside", "the tube has no wall"));
    }
    if cap.bare() * 2.0 >= length.bare() {
        return Err(g.trouble("cap", "the caps fill the tube"));
    }
    let b = Body {
        outside: out.bare().value(),
        inside: ins.bare().value(),
        length: length.bare().value(),
        cap: cap.bare().value(),
        density: metal.bare().value(),
    };
    let ids = vec![out.id(), ins.id(), length.id(), cap.id(), metal.id()];
    let shell = book.solved("shell", Mass::si(b.shell()), ("tube", 1, 0.0), ids.clone(), &weight::BODY);
    let caps = book.solved("caps", Mass::si(b.caps()), ("two discs", 1, 0.0), ids.clone(), &weight::BODY);
    let room = book.solved(
        "room",
        Volume::si(b.room()),
        ("inside of the tube less caps", 1, 0.0),
        ids,
        &weight::BODY,
    );
    let poured = work!(book, "poured", |mass, shell, caps| mass - shell - caps, &weight::BODY);
    if poured.bare() < Mass::ZERO {
        return Err(g.trouble("mass", "tube and caps alone are heavier than this"));
    }
    let full = work!(book, "full", |poured, filling, room| poured / (filling * room), &weight::BODY);
    reckon::judge!(book, "goes_in", "the filling goes in", |full| full <= Ratio::si(1.0), &weight::BODY);
    cautions(book, &[CAUTION_WEIGHT, CAUTION_LEAD]);
    Ok(())
}
fn solid(g: &Given<'_>, book: &mut Book) -> Done {
    let (mass, density): (Val<Mass>, Val<Density>) = (more(g, book, "mass")?, more(g, book, "density")?);
    let d: Val<Diameter> = more(g, book, "diameter")?;
    work!(
        book,
        "length",
        |mass, density, d| Length::si(weight::solid_length(mass.value(), density.value(), d.value())),
        &weight::BODY
    );
    Ok(())
}
fn needed(g: &Given<'_>, book: &mut Book) -> Done {
    let gravity: Val<Acceleration> = more(g, book, "gravity")?;
    let energy = if g.has("energy") {
        let energy: Val<Energy> = more(g, book, "energy")?;
        work!(book, "energy_used", |energy| energy * 1.0, &weight::NEEDED)
    } else if g.has("bob") && g.has("length") && g.has("arc") {
        let (bob, length): (Val<Mass>, Val<Length>) = (more(g, book, "bob")?, more(g, book, "length")?);
        let arc = within(g, book, "arc", Angle::deg(0.01), Angle::deg(90.0))?;
        let moment: Val<Torque> =
            work!(book, "moment", |bob, gravity, length| bob * gravity * length, &weight::NEEDED);
        work!(
            book,
            "energy_used",
            |moment, arc| Energy::si(weight::swing_energy(moment.value(), arc.value())),
            &weight::NEEDED
        )
    } else {
        return Err(g.trouble("energy", "give 'energy', or 'bob', 'length' and 'arc'"));
    };
    let (q, period): (Val<Ratio>, Val<Time>) = (more(g, book, "quality")?, more(g, book, "period")?);
    let (time, fall): (Val<Time>, Val<Length>) = (more(g, book, "time")?, more(g, book, "fall")?);
    let train = within(g, book, "train", Ratio::si(0.01), Ratio::si(1.0))?;
    let escapement = within(g, book, "escapement", Ratio::si(0.01), Ratio::si(1.0))?;
    let lost = work!(
        book,
        "lost",
        |energy, q, period| Power::si(weight::pendulum_power(energy.value(), q.value(), period.value())),
        &weight::NEEDED
    );
    let mass = work!(
        book,
        "mass",
        |lost, time, train, escapement, gravity, fall| Mass::si(weight::needed(
            lost.value(),
            time.value(),
            (train * escapement).value(),
            gravity.value(),
            fall.value()
        )),
        &weight::NEEDED
    );
    let spare =
        book.tabled("spare", Ratio::si(1.4), "30 to 50 % more while oil is new, less after trial", &HOUSE);
    work!(book, "with_spare", |mass, spare| mass * spare, &HOUSE);
    cautions(book, &[CAUTION_WEIGHT]);
    Ok(())
}
