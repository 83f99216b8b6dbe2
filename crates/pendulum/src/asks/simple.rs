//! Gravity, length, circular error.

use super::take::{DEGREE, EARTHS, STANDARD, arc, pull};
use crate::{gravity, swing};
use reckon::ask::{Done, ask, more, need, one_of, or, within};
use reckon::{Acceleration, Angle, Ask, Book, Given, Length, Ratio, Time, Val, work};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "pendulum.gravity",
        "gravity at a place, by the model of the earth; rates in s/day",
        &[
            need("latitude", "geodetic, as on a map"),
            or("height", "0 m", "above sea level"),
            or("earth", "WGS84", "WGS84 or GRS80"),
            or("ground", "free air", "free air, or plateau: the ground below pulls too"),
        ],
        &["gravity", "sea_level", "uncertain_s_per_day"],
        r#"latitude="52.2 deg" height="60 m""#,
        local,
    ),
    ask(
        "pendulum.moved",
        "rate of a clock taken from one place to another, s/day, + gains, and how to right it",
        &[
            need("from_latitude", "where it kept time"),
            or("from_height", "0 m", "above sea level"),
            need("to_latitude", "where it stands now"),
            or("to_height", "0 m", "above sea level"),
            or("earth", "WGS84", "WGS84 or GRS80"),
            or("ground", "free air", "free air, or plateau"),
            or("beat", "1 s", "time of one beat"),
            or("pitch", "", "of the rating nut"),
        ],
        &["from_gravity", "to_gravity", "s_per_day", "raise", "turns"],
        r#"from_latitude="51.5 deg" from_height="20 m" to_latitude="47.4 deg" to_height="430 m" pitch="1 mm""#,
        moved,
    ),
    ask(
        "pendulum.length",
        "length of a simple pendulum for a beat, at no arc and at the running arc",
        &[
            need("beat", "time of one beat, half a period"),
            or("gravity", STANDARD, "gravity at the place"),
            or("arc", "0 deg", "semi-arc, from the middle to one end"),
        ],
        &["no_arc", "length"],
        r#"beat="1 s" gravity="9.812465 m/s2" arc="1.6 deg""#,
        length,
    ),
    ask(
        "pendulum.beat",
        "beat of a simple pendulum",
        &[
            need("length", "from the pivot to the centre of swing"),
            or("gravity", STANDARD, "gravity at the place"),
            or("arc", "0 deg", "semi-arc"),
        ],
        &["beat", "period", "per_hour"],
        r#"length="994 mm" arc="2 deg""#,
        beat,
    ),
    ask(
        "pendulum.circular",
        "circular error, s/day against no arc, + gains; and what a change of arc does",
        &[need("arc", "semi-arc"), or("to", "", "another semi-arc")],
        &["s_per_day", "slower_by", "s_per_day_per_degree", "change_s_per_day"],
        r#"arc="2 deg" to="2.1 deg""#,
        circular,
    ),
];

fn place(
    g: &Given<'_>,
    book: &mut Book,
    earth: &gravity::Earth,
    (latitude, height, name): (&str, &str, &str),
) -> Result<Val<Acceleration>, reckon::Trouble> {
    let plateau = one_of(g, "ground", &[("free air", false), ("plateau", true)])?;
    let phi: Val<Angle> = within(g, book, latitude, Angle::deg(-90.0), Angle::deg(90.0))?;
    let h: Val<Length> = within(g, book, height, Length::si(-500.0), Length::si(9000.0))?;
    let (lat, up) = (phi.bare().value(), h.bare().value());
    let (value, what) = if plateau {
        (earth.at(lat, up) + gravity::slab(up), "normal gravity with height, and a slab of rock")
    } else {
        (earth.at(lat, up), "normal gravity with height, free air")
    };
    Ok(book.solved(name, Acceleration::si(value), (what, 1, 0.0), vec![phi.id(), h.id()], &gravity::HEIGHT))
}
fn local(g: &Given<'_>, book: &mut Book) -> Done {
    let earth = one_of(g, "earth", &EARTHS)?;
    let gravity = place(g, book, earth, ("latitude", "height", "gravity"))?;
    let phi: Angle = within(g, &mut Book::off(), "latitude", Angle::deg(-90.0), Angle::deg(90.0))?.bare();
    let sea = Acceleration::si(earth.at_sea(phi.value()));
    book.solved("sea_level", sea, ("closed formula", 1, 0.0), vec![gravity.id()], &gravity::SOMIGLIANA);
    work!(
        book,
        "uncertain_s_per_day",
        |gravity| Ratio::si(gravity::uncertain(gravity.value(), gravity::LOCAL)),
        &gravity::ANOMALY
    );
    Ok(())
}
fn moved(g: &Given<'_>, book: &mut Book) -> Done {
    let earth = one_of(g, "earth", &EARTHS)?;
    let from = place(g, book, earth, ("from_latitude", "from_height", "from_gravity"))?;
    let to = place(g, book, earth, ("to_latitude", "to_height", "to_gravity"))?;
    let beat: Val<Time> = more(g, book, "beat")?;
    work!(
        book,
        "s_per_day",
        |from, to| Ratio::si(gravity::moved(from.value(), to.value())),
        &gravity::HEIGHT
    );
    let raise = work!(
        book,
        "raise",
        |beat, from, to| Length::si(
            swing::length(beat.value(), from.value(), 0.0) - swing::length(beat.value(), to.value(), 0.0)
        ),
        &swing::LENGTH
    );
    if g.has("pitch") {
        let pitch: Val<Length> = more(g, book, "pitch")?;
        work!(book, "turns", |raise, pitch| raise / pitch, &crate::rating::TURN);
    }
    Ok(())
}
fn length(g: &Given<'_>, book: &mut Book) -> Done {
    let beat: Val<Time> = more(g, book, "beat")?;
    let (pull, arc) = (pull(g, book)?, arc(g, book, "arc")?);
    work!(
        book,
        "no_arc",
        |beat, pull| Length::si(swing::length(beat.value(), pull.value(), 0.0)),
        &swing::LENGTH
    );
    work!(
        book,
        "length",
        |beat, pull, arc| Length::si(swing::length(beat.value(), pull.value(), arc.value())),
        &swing::LENGTH
    );
    Ok(())
}
fn beat(g: &Given<'_>, book: &mut Book) -> Done {
    let length: Val<Length> = more(g, book, "length")?;
    let (pull, arc) = (pull(g, book)?, arc(g, book, "arc")?);
    let beat = work!(
        book,
        "beat",
        |length, pull, arc| Time::si(swing::beat(length.value(), pull.value(), arc.value())),
        &swing::PERIOD
    );
    work!(book, "period", |beat| beat * 2.0, &swing::PERIOD);
    work!(book, "per_hour", |beat| Time::si(3600.0) / beat, &swing::PERIOD);
    Ok(())
}
fn circular(g: &Given<'_>, book: &mut Book) -> Done {
    let a = arc(g, book, "arc")?;
    work!(book, "s_per_day", |a| Ratio::si(swing::circular(a.value())), &swing::CIRCULAR);
    work!(book, "slower_by", |a| Ratio::si(1.0 / swing::slowing(a.value())), &swing::PERIOD);
    work!(
        book,
        "s_per_day_per_degree",
        |a| Ratio::si(swing::circular_slope(a.value()) * DEGREE),
        &swing::CIRCULAR
    );
    if g.has("to") {
        let b = arc(g, book, "to")?;
        work!(
            book,
            "change_s_per_day",
            |a, b| Ratio::si(swing::arc_change(a.value(), b.value())),
            &swing::CIRCULAR
        );
    }
    Ok(())
}
