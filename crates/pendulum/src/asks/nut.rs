//! Rating nut, tray, log of a clock.

use crate::rating;
use reckon::ask::{Done, ask, more, need, or, within};
use reckon::{Ask, Book, Count, Given, Length, Mass, Ratio, Time, Val, judge, work};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "pendulum.nut",
        "what a rating nut does, s/day a turn, + gains; how to divide it; turns for a rate",
        &[
            need("pitch", "of its thread"),
            need("length", "of the simple pendulum; for a heavy rod ask pendulum.compound"),
            or("divisions", "", "on the nut; about one second a day each when left out"),
            or("rate", "", "s/day that the clock shows now, - loses"),
        ],
        &[
            "s_per_day_per_turn",
            "up_s_per_day",
            "down_s_per_day",
            "divisions",
            "s_per_day_per_division",
            "turns_up",
            "turns_up_exact",
        ],
        r#"pitch="1 mm" length="994 mm" rate="-17.142857""#,
        nut,
    ),
    ask(
        "pendulum.tray",
        "what a small weight on the rod does, s/day, + gains; and the weight for a rate",
        &[
            need("mass", "that swings"),
            need("length", "effective length"),
            or("at", "", "depth of the tray below the axis; half the length when left out"),
            or("weight", "1 g", "put on the tray"),
            or("gain", "", "s/day wanted"),
        ],
        &["s_per_day", "weight_wanted"],
        r#"mass="6 kg" length="994 mm" at="497 mm" weight="1 g" gain="0.8947""#,
        tray,
    ),
    ask(
        "pendulum.log",
        "rate from a log of a clock: times, and how far it was ahead; s/day, + gains",
        &[
            need("at", "times of the readings, between commas"),
            need("ahead", "how far it was ahead each time, between commas"),
            or("mass", "", "that swings, for grams on the rod's middle"),
            or("length", "994 mm", "effective length"),
        ],
        &["s_per_day", "error_s_per_day", "scatter", "worth_it", "weight"],
        r#"at="0 d, 1 d, 2.04 d, 4.1 d, 7 d" ahead="0 s, -0.9 s, -1.9 s, -3.6 s, -6.3 s" mass="6 kg""#,
        log,
    ),
];

fn nut(g: &Given<'_>, book: &mut Book) -> Done {
    let (pitch, length): (Val<Length>, Val<Length>) = (more(g, book, "pitch")?, more(g, book, "length")?);
    if pitch.bare().value() * 20.0 > length.bare().value() {
        return Err(g.trouble("pitch", "a turn must be small beside the pendulum, below a twentieth"));
    }
    let turn = work!(
        book,
        "s_per_day_per_turn",
        |pitch, length| Ratio::si(rating::per_turn(pitch.value(), length.value())),
        &rating::NUT
    );
    work!(
        book,
        "up_s_per_day",
        |length, pitch| Ratio::si(rating::raised(length.value(), pitch.value())),
        &rating::TURN
    );
    work!(
        book,
        "down_s_per_day",
        |length, pitch| Ratio::si(rating::raised(length.value(), -pitch.value())),
        &rating::TURN
    );
    let divisions = if g.has("divisions") {
        let n = g.count(book, "divisions")?;
        if !(1..=1000).contains(&n.bare().0) {
            return Err(g.trouble("divisions", "between 1 and 1000 divisions"));
        }
        n
    } else {
        work!(book, "divisions", |turn| Count(i64::from(rating::divisions(turn.value()))), &rating::DIVISIONS)
    };
    work!(book, "s_per_day_per_division", |turn, divisions| turn / Ratio::si(divisions.n()), &rating::NUT);
    if g.has("rate") {
        let rate: Val<Ratio> = within(g, book, "rate", Ratio::si(-7200.0), Ratio::si(7200.0))?;
        work!(book, "turns_up", |rate, turn| -rate / turn, &rating::NUT);
        // To end at no rate the bob goes up by what a pendulum of the right length would gain from it.
        work!(
            book,
            "turns_up_exact",
            |length, rate, pitch| Ratio::si(
                rating::raise_for(length.value(), -rate.value() / (1.0 + rate.value() / crate::DAY))
                    / pitch.value()
            ),
            &rating::TURN
        );
    }
    Ok(())
}
fn tray(g: &Given<'_>, book: &mut Book) -> Done {
    let (mass, length): (Val<Mass>, Val<Length>) = (more(g, book, "mass")?, more(g, book, "length")?);
    let at = if g.has("at") {
        let at: Val<Length> = more(g, book, "at")?;
        if at.bare() >= length.bare() * 2.0 {
            return Err(g.trouble("at", "the tray hangs far below the bob"));
        }
        at
    } else {
        work!(book, "at", |length| length / 2.0, &rating::TRAY)
    };
    let small: Val<Mass> = g.take(book, "weight")?;
    if small.bare().value().abs() > mass.bare().value() {
        return Err(g.trouble("weight", "a weight on the tray is small beside the pendulum"));
    }
    work!(
        book,
        "s_per_day",
        |small, at, mass, length| Ratio::si(rating::tray(
            small.value(),
            at.value(),
            mass.value(),
            length.value()
        )),
        &rating::TRAY
    );
    if g.has("gain") {
        let gain: Val<Ratio> = within(g, book, "gain", Ratio::si(-600.0), Ratio::si(600.0))?;
        let found = rating::tray_for(
            gain.bare().value(),
            at.bare().value(),
            mass.bare().value(),
            length.bare().value(),
        );
        let Some(w) = found else {
            return Err(g
                .trouble("gain", "no weight at that place brings it")
                .cure("the middle of the rod acts most"));
        };
        let ids = vec![gain.id(), at.id(), mass.id(), length.id()];
        book.solved("weight_wanted", Mass::si(w), ("exact", 1, 0.0), ids, &rating::TRAY);
    }
    Ok(())
}
fn log(g: &Given<'_>, book: &mut Book) -> Done {
    let at: Vec<Val<Time>> = g.take_list(book, "at")?;
    let ahead: Vec<Val<Time>> = g.take_list(book, "ahead")?;
    if at.len() != ahead.len() {
        return Err(g.trouble("ahead", format!("{} times but {} readings", at.len(), ahead.len())));
    }
    let readings: Vec<(f64, f64)> =
        at.iter().zip(&ahead).map(|(t, a)| (t.bare().value() / crate::DAY, a.bare().value())).collect();
    let Some(found) = rating::log(&readings) else {
        return Err(g.trouble("at", "a rate needs readings at two times at least"));
    };
    let ids: Vec<_> = at.iter().chain(&ahead).map(Val::id).collect();
    let how = || ("straight line through the readings", 1, 0.0);
    let rate = book.solved("s_per_day", Ratio::si(found.rate), how(), ids.clone(), &rating::LOG);
    if let (Some(error), Some(scatter)) = (found.error, found.scatter) {
        let error = book.solved("error_s_per_day", Ratio::si(error), how(), ids.clone(), &rating::LOG);
        book.solved("scatter", Time::si(scatter), how(), ids, &rating::LOG);
        let v = judge!(
            book,
            "worth_it",
            "the rate is more than three times its uncertainty",
            |rate, error| rate.value().abs() > 3.0 * error.value(),
            &rating::LEAVE
        );
        if !v.bare() {
            book.cure(v.id(), "let it run on before it is touched");
        }
    }
    if g.has("mass") {
        let (mass, length): (Val<Mass>, Val<Length>) = (more(g, book, "mass")?, more(g, book, "length")?);
        let small = rating::tray_for(
            -rate.bare().value(),
            length.bare().value() / 2.0,
            mass.bare().value(),
            length.bare().value(),
        );
        if let Some(w) = small {
            let ids = vec![rate.id(), mass.id(), length.id()];
            let how = ("weight on the rod's middle, exact", 1, 0.0);
            book.solved("weight", Mass::si(w), how, ids, &rating::TRAY);
        }
    }
    Ok(())
}
