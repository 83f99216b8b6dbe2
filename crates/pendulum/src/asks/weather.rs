//! A log of a clock with temperature and pressure beside it, and what to do.

use crate::DAY;
use crate::log::{Advice, At, FIT, Means, TOUCH, advise, fit};
use reckon::ask::{Done, ask, need, or};
use reckon::{Ask, Book, Given, Pressure, Ratio, Temperature, Time, Val};

pub(super) static ASKS: &[Ask] = &[ask(
    "pendulum.log_with_weather",
    "rate from a log with temperature and pressure beside it, what each does to it, and what to do; s/day, + gains",
    &[
        need("at", "times of the readings, between commas"),
        need("ahead", "how far it was ahead each time, between commas"),
        or("temperature", "", "temperatures at those times"),
        or("pressure", "", "pressures of the air at those times"),
        or("doubt", "0 s", "by how much a reading may be off"),
        or("turn", "0", "s/day for a turn of the nut"),
        or("divisions", "30", "divisions of the nut"),
        or("gram", "0", "s/day for a gram on the tray"),
        or("enough", "0.1", "error that is good enough, s/day"),
    ],
    &[
        "s_per_day",
        "error_s_per_day",
        "s_per_day_per_kelvin",
        "s_per_day_per_hectopascal",
        "scatter",
        "do",
        "by",
    ],
    r#"at="0 d, 1 d, 2 d, 3 d, 5 d, 6 d, 8 d" ahead="0 s, -0.9 s, -1.7 s, -2.7 s, -4.6 s, -5.3 s, -7.1 s" temperature="18 degC, 18.5 degC, 19 degC, 21 degC, 20 degC, 18 degC, 18 degC" gram=1.8"#,
    weather,
)];
fn weather(g: &Given<'_>, book: &mut Book) -> Done {
    let at: Vec<Val<Time>> = g.take_list(book, "at")?;
    let ahead: Vec<Val<Time>> = g.take_list(book, "ahead")?;
    let warm: Vec<Val<Temperature>> =
        if g.has("temperature") { g.take_list(book, "temperature")? } else { Vec::new() };
    let air: Vec<Val<Pressure>> = if g.has("pressure") { g.take_list(book, "pressure")? } else { Vec::new() };
    for (name, n) in [("ahead", ahead.len()), ("temperature", warm.len()), ("pressure", air.len())] {
        if n != at.len() && (n > 0 || name == "ahead") {
            return Err(g.trouble(name, format!("{} times but {n} of these", at.len())));
        }
    }
    let doubt = g.take::<Time>(book, "doubt")?.bare().value();
    let mut ids: Vec<_> = at.iter().chain(&ahead).map(Val::id).collect();
    ids.extend(warm.iter().map(Val::id));
    ids.extend(air.iter().map(Val::id));
    let log: Vec<At> = (0..at.len())
        .map(|i| At {
            days: at[i].bare().value() / DAY,
            ahead: ahead[i].bare().value(),
            doubt: (doubt > 0.0).then_some(doubt),
            temperature: warm.get(i).map(|t| t.bare().value()),
            pressure: air.get(i).map(|p| p.bare().value()),
        })
        .collect();
    let Some(found) = fit(&log) else {
        return Err(g.trouble("at", "a rate needs readings at two times at least"));
    };
    let how = || ("least squares of all readings", 1, 0.0);
    book.solved("s_per_day", Ratio::si(found.rate), how(), ids.clone(), &FIT);
    if let Some(e) = found.error {
        book.solved("error_s_per_day", Ratio::si(e), how(), ids.clone(), &FIT);
    }
    if let Some((k, _)) = found.per_kelvin {
        book.solved("s_per_day_per_kelvin", Ratio::si(k), how(), ids.clone(), &FIT);
    }
    if let Some((b, _)) = found.per_hectopascal {
        book.solved("s_per_day_per_hectopascal", Ratio::si(b), how(), ids.clone(), &FIT);
    }
    if let Some(s) = found.scatter {
        book.solved("scatter", Time::si(s), how(), ids.clone(), &FIT);
    }
    let some = |name: &str, book: &mut Book| -> Result<Option<f64>, reckon::Trouble> {
        let v = g.take::<Ratio>(book, name)?.bare().value();
        Ok((v > 0.0).then_some(v))
    };
    let means = Means {
        turn: some("turn", book)?,
        divisions: some("divisions", book)?,
        gram: some("gram", book)?,
        enough: some("enough", book)?.unwrap_or(0.1),
    };
    let (what, by) = match advise(&found, &means) {
        Advice::Leave => ("leave it: what is seen may be scatter", None),
        Advice::Good => ("leave it: it is good enough", None),
        Advice::Wait(days) => ("read on for so many days", Some(days)),
        Advice::Nut(turns) => ("turn the nut so far, up positive", Some(turns)),
        Advice::Tray(grams) => ("put so many grams on the tray", Some(grams)),
    };
    book.solved("do", what.to_owned(), how(), ids.clone(), &TOUCH);
    if let Some(by) = by {
        book.solved("by", Ratio::si(by), how(), ids, &TOUCH);
    }
    Ok(())
}
