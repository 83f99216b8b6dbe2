//! Times of work.

use super::{Done, ask, need, not_among, number, or, put};
use crate::times::{self, Points};
use reckon::{Ask, Book, Given, Id, Time, Trouble, Val};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "times.estimate",
        "time of several works as a mean and a spread, with learning and with what the shop has logged",
        &[
            need("works", "names between commas, each may be followed by × and a number: 'turn screw × 6'"),
            or("share", "0.85", "time that each doubling of the number takes"),
            or("logged", "", "times that the shop logged of the first of these works"),
        ],
        &["least", "likely", "most", "mean", "spread", "low", "high"],
        r#"works="turn screw × 6, harden batch, temper batch""#,
        estimate,
    ),
    ask(
        "times.learn",
        "time of the n-th piece of a kind, and of all n, from the first",
        &[need("first", "time of the first"), need("number", "n"), or("share", "0.85", "at each doubling")],
        &["nth", "all"],
        r#"first="60 min" number="8""#,
        learn,
    ),
];

fn counted<'t>(g: &Given<'_>, word: &'t str) -> Result<(&'t str, u32), Trouble> {
    let Some((name, n)) = word.split_once(['×', '*']) else { return Ok((word.trim(), 1)) };
    match n.trim().parse::<u32>() {
        Ok(n) if (1..=1000).contains(&n) => Ok((name.trim(), n)),
        _ => Err(g.trouble("works", format!("'{}' is not a number from 1 to 1000", n.trim()))),
    }
}
fn estimate(g: &Given<'_>, book: &mut Book) -> Done {
    let mut ids: Vec<Id> = Vec::new();
    let share = number(g, book, &mut ids, "share", (0.5, 1.0))?;
    let logged = g.take_list::<Time>(book, "logged")?;
    ids.extend(logged.iter().map(Val::id));
    let logged: Vec<f64> = logged.iter().map(|v| v.bare().value() / 60.0).collect();
    if logged.iter().any(|m| !(0.01..=1e6).contains(m)) {
        return Err(g.trouble("logged", "each logged time lies between a second and two years"));
    }
    let text = g.word("works")?;
    let names: Vec<&str> = times::all().iter().map(|w| w.name.as_str()).collect();
    let mut all = Vec::new();
    for (i, word) in text.split(',').enumerate() {
        let (name, n) = counted(g, word)?;
        let work = times::all()
            .iter()
            .find(|w| w.name == name)
            .ok_or_else(|| not_among(g, "works", name, &names))?;
        for (end, m) in
            [("least", work.points.least), ("likely", work.points.likely), ("most", work.points.most)]
        {
            let row = format!("{name}, first of a kind, {end}");
            ids.push(book.tabled(format!("work.{}.{end}", i + 1), Time::si(m * 60.0), row, work.source).id());
        }
        let own = if i == 0 { times::after_logs(work.points, &logged) } else { work.points };
        // A slow first piece is followed by slow ones: pieces of a kind are summed as one work.
        all.push(own.times(times::learnt_sum(n, share)));
    }
    let (mean, spread) = times::sum(&all);
    let total = |f: fn(&Points) -> f64| all.iter().map(f).sum::<f64>() * 60.0;
    put::<Time>(book, "least", total(|p| p.least), "all at their least", &ids, &times::THREE_POINTS);
    put::<Time>(book, "likely", total(|p| p.likely), "all at their likely", &ids, &times::THREE_POINTS);
    put::<Time>(book, "most", total(|p| p.most), "all at their most", &ids, &times::THREE_POINTS);
    put::<Time>(book, "mean", mean * 60.0, "sum of (o + 4 m + p)/6", &ids, &times::THREE_POINTS);
    put::<Time>(
        book,
        "spread",
        spread * 60.0,
        "root of the sum of squares of (p − o)/6",
        &ids,
        &times::THREE_POINTS,
    );
    put::<Time>(book, "low", (mean - spread).max(0.0) * 60.0, "mean less spread", &ids, &times::THREE_POINTS);
    put::<Time>(book, "high", (mean + spread) * 60.0, "mean and spread", &ids, &times::LOGS);
    Ok(())
}
fn learn(g: &Given<'_>, book: &mut Book) -> Done {
    let mut ids = Vec::new();
    let first = super::seconds(g, book, &mut ids, "first")?;
    let n = g.count(book, "number")?;
    ids.push(n.id());
    let count = u32::try_from(n.bare().0).ok().filter(|n| (1..=10_000).contains(n));
    let count = count.ok_or_else(|| g.trouble("number", "a whole number from 1 to 10 000"))?;
    let share = number(g, book, &mut ids, "share", (0.5, 1.0))?;
    put::<Time>(
        book,
        "nth",
        first * times::learnt(f64::from(count), share),
        "T n^(log2 share)",
        &ids,
        &times::LEARNING,
    );
    put::<Time>(
        book,
        "all",
        first * times::learnt_sum(count, share),
        "sum of the first n",
        &ids,
        &times::LEARNING,
    );
    Ok(())
}
