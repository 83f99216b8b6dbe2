//! Order of operations.

use super::{Done, ask, joined, need, not_among, or, says};
use crate::order::{self, No, WORKS, Wish};
use reckon::{Ask, Book, Cell, Given, Trouble};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "finish.order",
        "order of operations by the rules, each with its reason; wishes against a rule want a written reason",
        &[
            need("works", "operations between commas"),
            or("wish", "", "'polish before harden because of foil all round'; several between semicolons"),
        ],
        &["order", "reasons", "aside", "gave_way", "caution"],
        r#"works="blue, polish, temper, harden, slot, degrease""#,
        order,
    ),
    ask(
        "finish.broken",
        "rules that a written order breaks",
        &[need("works", "operations in the order they were written, between commas")],
        &["broken", "verdict"],
        r#"works="slot, polish, harden, temper, blue""#,
        broken,
    ),
    ask(
        "finish.rules",
        "what comes before and after one operation, and why",
        &[need("work", "an operation")],
        &["before", "after", "caution"],
        r#"work="blue""#,
        rules,
    ),
];

fn words(text: &str) -> Vec<&str> {
    text.split(',').map(str::trim).filter(|w| !w.is_empty()).collect()
}
fn wishes(g: &Given<'_>) -> Result<Vec<Wish>, Trouble> {
    let text = g.word_if("wish").unwrap_or_default();
    let one = |w: &str| {
        let (pair, reason) = match w.split_once(" because ") {
            Some((pair, reason)) if !reason.trim().is_empty() => (pair, Some(reason.trim().to_owned())),
            _ => (w, None),
        };
        let (first, then) = pair
            .split_once(" before ")
            .ok_or_else(|| g.trouble("wish", format!("'{w}' does not say what comes before what")))?;
        Ok(Wish { first: first.trim().to_owned(), then: then.trim().to_owned(), reason })
    };
    text.split(';').map(str::trim).filter(|w| !w.is_empty()).map(one).collect()
}
fn told(g: &Given<'_>, no: &No) -> Trouble {
    match no {
        No::Unknown(w) if !w.is_empty() => not_among(g, "works", w, &WORKS),
        No::Ring(_) => g
            .trouble("wish", no.text())
            .cure("reorder, or write a reason behind the wish: 'this before that because …'"),
        _ => g.trouble("works", no.text()),
    }
}
fn order(g: &Given<'_>, book: &mut Book) -> Done {
    let text = g.word("works")?;
    let works = words(&text);
    let found = order::order(&works, &wishes(g)?).map_err(|no| told(g, &no))?;
    says(book, "order", found.works.join(", "), "rules, then the usual order", &[], &order::RULES_BY);
    let rows = found.kept.iter().map(|a| {
        let kind = if a.asked {
            "asked"
        } else if a.hard {
            "must"
        } else {
            "better"
        };
        vec![
            Cell::word(a.first.as_str()),
            Cell::word(a.then.as_str()),
            Cell::word(kind),
            Cell::word(a.why.as_str()),
        ]
    });
    let columns = ["first", "then", "", "why"];
    book.table(
        "reasons",
        &columns,
        rows.collect(),
        "rules among these operations",
        Vec::new(),
        &order::RULES_BY,
    );
    let aside: Vec<String> = found
        .aside
        .iter()
        .map(|(a, r)| format!("{} before {} ({}), put aside: {r}", a.first, a.then, a.why))
        .collect();
    let aside: Vec<&str> = aside.iter().map(String::as_str).collect();
    says(book, "aside", joined(&aside), "rules that a written reason put aside", &[], &order::RULES_BY);
    let gave: Vec<String> =
        found.gave_way.iter().map(|a| format!("{} before {} ({})", a.first, a.then, a.why)).collect();
    let gave: Vec<&str> = gave.iter().map(String::as_str).collect();
    says(book, "gave_way", joined(&gave), "soft rules that a wish overruled", &[], &order::RULES_BY);
    let sorted: Vec<&str> = found.works.iter().map(String::as_str).collect();
    let cautions = crate::caution::of(&sorted);
    says(book, "caution", joined(&cautions), "each once, at its operation", &[], &order::RULES_BY);
    Ok(())
}
fn broken(g: &Given<'_>, book: &mut Book) -> Done {
    let text = g.word("works")?;
    let all = order::broken(&words(&text)).map_err(|no| told(g, &no))?;
    let each: Vec<String> =
        all.iter().map(|a| format!("{} belongs before {} ({})", a.first, a.then, a.why)).collect();
    let each: Vec<&str> = each.iter().map(String::as_str).collect();
    says(book, "broken", joined(&each), "rules against the written order", &[], &order::RULES_BY);
    let hard = all.iter().filter(|a| a.hard).count();
    let verdict = match (hard, all.len()) {
        (0, 0) => "keeps all rules".to_owned(),
        (0, n) => format!("would go better otherwise: {n}"),
        (n, _) => format!("refused: {n} broken; reorder, or accept with a written reason"),
    };
    says(book, "verdict", verdict, "hard rules first", &[], &order::RULES_BY);
    Ok(())
}
fn rules(g: &Given<'_>, book: &mut Book) -> Done {
    let word = g.word("work")?;
    let work =
        WORKS.iter().find(|w| **w == word.trim()).ok_or_else(|| not_among(g, "work", &word, &WORKS))?;
    let list = |before: bool| {
        let all = order::rules().filter(|r| if before { r.then == *work } else { r.first == *work });
        let all: Vec<String> =
            all.map(|r| format!("{} ({})", if before { r.first } else { r.then }, r.why)).collect();
        if all.is_empty() { "nothing".to_owned() } else { all.join("; ") }
    };
    says(book, "before", list(true), "rules", &[], &order::RULES_BY);
    says(book, "after", list(false), "rules", &[], &order::RULES_BY);
    says(book, "caution", joined(&crate::caution::at(work)), "stands at the work", &[], &order::RULES_BY);
    Ok(())
}
