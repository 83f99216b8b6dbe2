//! Questions of moon, stars, year and sundial.

use super::words::{exact, number, pairs, product, put, seconds, some, within};
use crate::gear::plain;
use crate::sky::{
    CYCLE, DAY, EQUATION, Follower, PERIODS, PROFILE, Period, RATE, SIDEREAL, against, cam, days_in,
    extremes, year_table,
};
use reckon::ask::{Done, more, need, one_of, or};
use reckon::exact::Fraction;
use reckon::{Angle, Ask, Book, Cell, Count, Given, Length, Param, Ratio, Time, Trouble, Val, print, work};

const OF: &str = "moon, year, star year, star day, moon day, tide, calendar year or day";
const SLOWER: Param = or("slower", "", "pairs that make it slower, driven over driver: 92/9 104/9");
const FASTER: Param = or("faster", "", "pairs that make it faster, driver over driven");
const RATE_GIVES: &[&str] = &["ratio", "turn", "period", "truly", "error", "gain", "one_day", "years"];
const YEAR_OF: Param = need("year", "of the calendar used now, 1900 to 2100");

pub(super) static ASKS: &[Ask] = &[
    Ask {
        name: "sky.moon",
        says: "how true a train shows the age of the moon",
        takes: &[
            or("from", "12 h", "time of one turn of the first arbor"),
            SLOWER,
            FASTER,
            or("cycles", "2", "moons on the disc"),
            or("of", "moon", OF),
            or("period", "", "in place of that, the true time"),
        ],
        gives: RATE_GIVES,
        example: r#"slower="92/9 104/9""#,
        run: ratio,
    },
    Ask {
        name: "sky.ratio",
        says: "how true a train keeps a period of the sky: error each time, in a day, and until it is a day out",
        takes: &[
            or("from", "24 h", "time of one turn of the first arbor"),
            SLOWER,
            FASTER,
            or("cycles", "1", "periods in one turn of the last arbor"),
            or("of", "", OF),
            or("period", "", "in place of that, the true time"),
        ],
        gives: RATE_GIVES,
        example: r#"faster="51/41 79/98" of="star day""#,
        run: ratio,
    },
    Ask {
        name: "sky.period",
        says: "a period of the sky",
        takes: &[need("of", OF)],
        gives: &["period", "days"],
        example: r#"of="moon day""#,
        run: period,
    },
    Ask {
        name: "sky.cycle",
        says: "by how much so many of one period differ from so many of another",
        takes: &[
            need("many", "how many"),
            need("of", OF),
            need("few", "against how many"),
            need("against", OF),
        ],
        gives: &["first", "second", "difference", "each"],
        example: r#"many=235 of=moon few=19 against=year"#,
        run: cycle,
    },
    Ask {
        name: "sky.sidereal",
        says: "how much faster than the sun the stars go round",
        takes: &[or("year", "365.24219 d", "solar days of the year")],
        gives: &["ratio", "excess", "star_day"],
        example: r#"year="365.2422 d""#,
        run: sidereal,
    },
    Ask {
        name: "sky.equation_of_time",
        says: "by how much a sundial is before the mean clock at noon of a day",
        takes: &[need("date", "year-month-day: 2026-11-03")],
        gives: &["equation", "minutes", "says"],
        example: "date=2026-11-03",
        run: day,
    },
    Ask {
        name: "sky.sundial_year",
        says: "equation of time of every day of a year, its turning points and its noughts",
        takes: &[YEAR_OF],
        gives: &["turn", "on", "nought", "days"],
        example: "year=2026",
        run: whole_year,
    },
    Ask {
        name: "sky.cam",
        says: "profile of the cam that carries the equation of time to a hand",
        takes: &[
            YEAR_OF,
            need("base", "radius under the follower where dial and clock agree"),
            need("scale", "lift for each minute that the dial is ahead; negative turns it over"),
            or("roller", "", "radius of the roller; a knife edge when left out"),
            or("within", "0.005 mm", "how far the arcs may stand off the true curve"),
        ],
        gives: &["least", "most", "steepest", "bulge", "arcs", "off", "points"],
        example: r#"year=2026 base="20 mm" scale="0.5 mm" roller="2 mm""#,
        run: kidney,
    },
];

fn words(period: Period) -> &'static str {
    Period::ALL.iter().find(|(_, p)| *p == period).map_or("", |(w, _)| w)
}
fn long(g: &Given<'_>, name: &str) -> Trouble {
    g.trouble(name, "this is too long a fraction to be kept whole")
}
/// A period of the sky, entered in the book.
fn sky(g: &Given<'_>, book: &mut Book, name: &str, as_name: &str) -> Result<(Fraction, Val<Time>), Trouble> {
    let of = one_of(g, name, &Period::ALL)?;
    let length = of.seconds().ok_or_else(|| long(g, name))?;
    Ok((length, book.tabled(as_name, Time::si(length.to_f64()), words(of), &PERIODS)))
}
fn ratio(g: &Given<'_>, book: &mut Book) -> Done {
    let (from, id) = seconds(g, book, "from")?;
    let side = |name: &str| match g.word_if(name) {
        Some(_) => product(g, name, &pairs(g, name)?),
        None => Ok(Fraction::whole(1)),
    };
    if g.word_if("slower").is_none() && g.word_if("faster").is_none() {
        return Err(g.trouble("slower", "give pairs that make it slower, or faster"));
    }
    let slower = side("slower")?.over(side("faster")?).ok_or_else(|| long(g, "slower"))?;
    let cycles = exact(g, "cycles")?;
    if cycles <= Fraction::ZERO {
        return Err(g.trouble("cycles", "a turn shows more than nothing"));
    }
    let (truly, true_id) = match (g.has("of"), g.has("period")) {
        (_, false) => {
            let (t, v) = sky(g, book, "of", "truly")?;
            (t, v.id())
        }
        (false, true) => {
            let (t, id) = seconds(g, book, "period")?;
            put(book, "truly", Time::si(t.to_f64()), "as given", &[id], &RATE);
            (t, id)
        }
        (true, true) => return Err(g.trouble("period", "give 'of' or the true time, not both")),
    };
    // Where the true time was asked for as `period`, the train's own goes under `turn` alone.
    let turn = from.times(slower).ok_or_else(|| long(g, "from"))?;
    let own = turn.over(cycles).ok_or_else(|| long(g, "cycles"))?;
    let a = against(own, truly).ok_or_else(|| long(g, "slower"))?;
    let r = Fraction::whole(1).over(slower).ok_or_else(|| long(g, "slower"))?;
    put(book, "ratio", number(r), plain(r), &[], &RATE);
    let t = put(book, "turn", Time::si(turn.to_f64()), "from × driven / drivers", &[id], &RATE);
    if !g.has("period") {
        put(book, "period", Time::si(own.to_f64()), format!("turn / {}", plain(cycles)), &[t.id()], &RATE);
    }
    let ids = [t.id(), true_id];
    put(book, "error", Time::si(a.error.to_f64()), "period - true: positive where it is slow", &ids, &RATE);
    put(book, "gain", Time::si(a.gain.to_f64()), "86400 s (true / period - 1) a day", &ids, &RATE);
    if let Some(one) = a.one_day {
        let one = put(book, "one_day", Time::si(one.to_f64()), "true × 1 d / |error|", &ids, &RATE);
        work!(book, "years", |one| Ratio::si(one.value() / (86_400.0 * 365.242_19)), &RATE);
    }
    Ok(())
}
fn period(g: &Given<'_>, book: &mut Book) -> Done {
    let (_, p) = sky(g, book, "of", "period")?;
    work!(book, "days", |p| Ratio::si(p.value() / 86_400.0), &PERIODS);
    Ok(())
}
fn cycle(g: &Given<'_>, book: &mut Book) -> Done {
    let (many, few) = (some(g, book, "many")?, some(g, book, "few")?);
    let (p, one) = sky(g, book, "of", "one")?;
    let (q, other) = sky(g, book, "against", "other")?;
    work!(book, "first", |many, one| one * many.n(), &CYCLE);
    work!(book, "second", |few, other| other * few.n(), &CYCLE);
    let exactly = |p: Fraction, n: i64| p.times(Fraction::whole(n));
    let left = exactly(p, many.bare().0).and_then(|a| a.minus(exactly(q, few.bare().0)?));
    let left = left.ok_or_else(|| long(g, "many"))?;
    let ids = [many.id(), one.id(), few.id(), other.id()];
    let d = put(book, "difference", Time::si(left.to_f64()), "n P - k Q, exactly", &ids, &CYCLE);
    work!(book, "each", |d, many| d / many.n(), &CYCLE);
    Ok(())
}
fn sidereal(g: &Given<'_>, book: &mut Book) -> Done {
    let (year, id) = seconds(g, book, "year")?;
    let days = year.over(Fraction::whole(DAY)).ok_or_else(|| long(g, "year"))?;
    let found = days.plus(Fraction::whole(1)).and_then(|d| d.over(days)).ok_or_else(|| long(g, "year"))?;
    let r = put(book, "ratio", number(found), "(Y + 1)/Y", &[id], &SIDEREAL);
    let over = found.minus(Fraction::whole(1)).and_then(|f| f.times(Fraction::whole(DAY)));
    let over = over.ok_or_else(|| long(g, "year"))?;
    put(book, "excess", Time::si(over.to_f64()), "86400 s (ratio - 1)", &[r.id()], &SIDEREAL);
    work!(book, "star_day", |r| Time::si(86_400.0 / r.value()), &SIDEREAL);
    Ok(())
}
fn date(g: &Given<'_>) -> Result<(i64, u32, u32), Trouble> {
    let text = g.word("date")?;
    let parts: Vec<&str> = text.trim().split('-').collect();
    let read = match parts[..] {
        [y, m, d] => y.parse::<i64>().ok().zip(m.parse::<u32>().ok()).zip(d.parse::<u32>().ok()),
        _ => None,
    };
    let known = read.filter(|((y, m), d)| (1900..=2100).contains(y) && (1..=days_in(*y, *m)).contains(d));
    match known {
        Some(((y, m), d)) => Ok((y, m, d)),
        None => Err(g.trouble("date", format!("'{text}' is no day from 1900-01-01 to 2100-12-31"))),
    }
}
fn day(g: &Given<'_>, book: &mut Book) -> Done {
    let (year, month, day) = date(g)?;
    let table = year_table(year);
    let found = table.iter().find(|d| (d.month, d.day) == (month, day));
    let e = found.map(|d| d.equation).ok_or_else(|| g.trouble("date", "no such day"))?;
    let how = format!("low-precision Sun at noon of {year}-{month:02}-{day:02}");
    let v = put(book, "equation", e, how, &[], &EQUATION);
    work!(book, "minutes", |v| Ratio::si(v.value() / 60.0), &EQUATION);
    let way = if e >= Time::ZERO { "sundial ahead of the clock" } else { "sundial behind the clock" };
    put(book, "says", way.to_owned(), "by its sign", &[v.id()], &EQUATION);
    Ok(())
}
/// The day of a year that lies so many days after the first of January, in words.
fn on(table: &[crate::sky::Day], days: f64) -> String {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 366 days")]
    let i = (days.round().max(0.0) as usize).min(table.len().saturating_sub(1));
    table.get(i).map_or_else(String::new, |d| format!("{:02}-{:02}", d.month, d.day))
}
fn whole_year(g: &Given<'_>, book: &mut Book) -> Done {
    let year = within(g, book, "year", 1900, 2100)?;
    let table = year_table(year.bare().0);
    let e = extremes(year.bare().0);
    for (i, (days, s)) in e.turns.iter().enumerate() {
        let v = put(
            book,
            &format!("turn.{}", i + 1),
            Time::si(*s),
            "where its change is nought",
            &[year.id()],
            &EQUATION,
        );
        put(book, &format!("on.{}", i + 1), on(&table, *days), "nearest noon", &[v.id()], &EQUATION);
    }
    for (i, days) in e.noughts.iter().enumerate() {
        put(book, &format!("nought.{}", i + 1), on(&table, *days), "nearest noon", &[year.id()], &EQUATION);
    }
    let row = |d: &crate::sky::Day| {
        vec![
            Cell::of(&Count(i64::from(d.month))),
            Cell::of(&Count(i64::from(d.day))),
            Cell::as_text(&d.equation, format!("{} s", print::fixed(d.equation.value(), 0))),
        ]
    };
    let rows = table.iter().map(row).collect();
    book.table("days", &["month", "day", "dial before clock"], rows, "at noon", vec![year.id()], &EQUATION);
    Ok(())
}
fn kidney(g: &Given<'_>, book: &mut Book) -> Done {
    let year = within(g, book, "year", 1900, 2100)?;
    let base: Val<Length> = more(g, book, "base")?;
    let scale: Val<Length> = g.take(book, "scale")?;
    let within: Val<Length> = more(g, book, "within")?;
    let mut ids = vec![year.id(), base.id(), scale.id(), within.id()];
    let follower = if g.has("roller") {
        let roller: Val<Length> = more(g, book, "roller")?;
        ids.push(roller.id());
        Follower::Roller(roller.bare().in_mm())
    } else {
        Follower::Edge
    };
    let made = cam(year.bare().0, base.bare().in_mm(), scale.bare().in_mm(), follower, within.bare().in_mm());
    let made = made.map_err(|e| g.trouble("base", e.to_string()))?;
    put(book, "least", Length::mm(made.lift.0), "over the year", &ids, &PROFILE);
    put(book, "most", Length::mm(made.lift.1), "over the year", &ids, &PROFILE);
    put(book, "steepest", Angle::si(made.steepest), "atan(change of r with angle / r)", &ids, &PROFILE);
    put(
        book,
        "bulge",
        Length::mm(made.least_bulge),
        "least radius of a bulge of the follower's path",
        &ids,
        &PROFILE,
    );
    let many = Count(i64::try_from(made.arcs.len()).unwrap_or(i64::MAX));
    put(book, "arcs", many, "halved until the arcs lie close enough", &ids, &PROFILE);
    put(book, "off", Length::mm(made.off), "furthest that an arc was found off the curve", &ids, &PROFILE);
    let row = |p: &crate::sky::CamPoint| {
        let [x, y, lift] = [p.at.x, p.at.y, p.lift].map(|v| Cell::of(&Length::mm(v)));
        vec![Cell::word(print::fixed(p.day, 2)), x, y, lift]
    };
    let heads = ["days from new year", "x", "y", "lift"];
    let rows = made.points.iter().map(row).collect();
    book.table("points", &heads, rows, "on the profile, new year on the x axis", ids, &PROFILE);
    Ok(())
}
