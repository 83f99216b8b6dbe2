//! `enter`: the command line of entering.

use super::typed::{Rating, Size, Step};
use super::{Desk, Input, Typed, enter, said};
use crate::args;
use crate::folder::Folder;
use crate::look::{Look, Paint, clean, painted};
use crate::outcome::{Outcome, Stopped};
use crate::work::Work;
use journal::{State, What, line};

/// Enters what the command line says, or shows what was entered.
///
/// # Errors
/// When it cannot be made out, or the journal cannot be read or written.
pub fn run(a: &args::Enter, look: Look) -> Result<Outcome, Stopped> {
    let shop = args::Shop { shop: a.shop.shop.clone() };
    let desk = Desk { dir: a.project.clone(), shop };
    if let Some(file) = &a.lines_in {
        return super::lines::take(&desk, file);
    }
    if a.lines_out {
        return super::lines::give(&desk, a.as_of, a.of_shop);
    }
    let Some(what) = typed(a)? else { return list(&desk, a, look) };
    let answer = enter(&desk, &Input { key: a.key.clone(), sure: a.sure, ..Input::now(what) })?;
    let exit = if answer.kept.is_some() { crate::exit::WELL } else { crate::exit::TEXT };
    if a.json {
        return Ok(Outcome { out: format!("{:#}\n", said::as_json(&answer)), exit, ..Outcome::default() });
    }
    let text = said::text(&answer, a.all, Paint(if answer.kept.is_some() { look.out } else { look.err }));
    Ok(if answer.kept.is_some() {
        Outcome::well(text)
    } else {
        Outcome { err: text, exit, ..Outcome::default() }
    })
}
/// What was typed; none where nothing is to be entered.
fn typed(a: &args::Enter) -> Result<Option<Typed>, Stopped> {
    let because = || a.because.clone().unwrap_or_default();
    let must = |what: &str| {
        a.because.clone().ok_or_else(|| {
            Stopped::wrong_use(format!("{what} says why"))
                .cure("add --because \"…\": later readers will want to know")
        })
    };
    let stood = |part: &String, state| -> Result<Option<Typed>, Stopped> {
        Ok(Some(Typed::Stood { part: part.clone(), pieces: pieces(a)?, state, why: because() }))
    };
    if let Some(job) = &a.done {
        let piece = pieces(a)?.first().copied();
        return Ok(Some(Typed::Done(Step {
            job: job.clone(),
            step: a.step.clone(),
            piece,
            count: a.count,
            took: a.took.clone(),
        })));
    }
    if let Some(part) = &a.made {
        return stood(part, State::Made);
    }
    if let Some(part) = &a.scrapped {
        return stood(part, State::Scrapped);
    }
    if let Some(part) = &a.begun {
        return stood(part, State::Roughed);
    }
    if let Some(entry) = a.struck {
        return Ok(Some(Typed::Strike { entry, why: must("what is struck")?, shop: a.of_shop }));
    }
    if let Some(text) = &a.remark {
        let about = a.name.clone().unwrap_or_default();
        return Ok(Some(Typed::Remark { about, text: text.clone(), picture: None }));
    }
    if let Some(name) = &a.concession {
        let why = must("what is let pass")?;
        return Ok(Some(Typed::Concession { name: name.clone(), piece: pieces(a)?.first().copied(), why }));
    }
    if let Some(offset) = &a.rating {
        return Ok(Some(Typed::Rating(Rating {
            when: a.when.clone(),
            offset: offset.clone(),
            give_or_take: a.give_or_take.clone(),
            temperature: a.at.clone(),
            pressure: a.pressure.clone(),
            arc: a.arc.clone(),
            nut: a.nut.clone(),
            tray: a.tray.clone(),
            set: a.set,
            by: a.tool.clone().unwrap_or_default(),
            heard: None,
        })));
    }
    if let Some(of) = &a.learnt {
        let told = of.split_once(':').filter(|(s, o)| !s.trim().is_empty() && !o.trim().is_empty());
        let (subject, of) = told.ok_or_else(|| {
            Stopped::wrong_use(format!("'{of}' does not say what was learnt of what"))
                .cure("write the subject, a colon and of what: --learnt \"drill:2.5 mm\" \"2.53 mm\"")
        })?;
        let value = a.name.clone().ok_or_else(|| {
            Stopped::wrong_use("what was learnt has a value")
                .cure("brasswright enter --learnt \"drill:2.5 mm\" \"2.53 mm\"")
        })?;
        return Ok(Some(Typed::Learnt {
            subject: subject.trim().to_owned(),
            of: of.trim().to_owned(),
            value,
            note: because(),
        }));
    }
    let Some(name) = &a.name else { return Ok(None) };
    let Some(value) = &a.value else {
        return Err(Stopped::wrong_use(format!("what was read of '{name}' is missing"))
            .cure(format!("brasswright enter {name} \"41.66 mm\""))
            .cure(format!("what is wanted: brasswright why {name}")));
    };
    let of = pieces(a)?;
    if of.len() > 1 {
        return Err(Stopped::wrong_use("a size is read of one piece at a time")
            .cure("--piece 3; or without --piece, where all pieces of the batch have that size"));
    }
    Ok(Some(Typed::Size(Size {
        name: name.clone(),
        value: value.clone(),
        piece: of.first().copied(),
        tool: a.tool.clone(),
        give_or_take: a.give_or_take.clone(),
        temperature: a.at.clone(),
        sheet: a.sheet.clone(),
        rough: a.rough,
    })))
}
/// Pieces as typed: `3`, `1-4`, `1,3,5`.
fn pieces(a: &args::Enter) -> Result<Vec<u32>, Stopped> {
    let Some(text) = &a.piece else { return Ok(Vec::new()) };
    let wrong = || {
        Stopped::wrong_use(format!("'{text}' is no piece")).cure("--piece 3, --piece 1-4 or --piece 1,3,5")
    };
    let mut all = Vec::new();
    for part in text.split(',') {
        let (from, to) = part.split_once('-').unwrap_or((part, part));
        let read =
            |t: &str| t.trim().parse::<u32>().ok().filter(|n| (1..=10_000).contains(n)).ok_or_else(wrong);
        all.extend(read(from)?..=read(to)?);
    }
    if all.is_empty() { Err(wrong()) } else { Ok(all) }
}
/// What was entered, the last at the end.
fn list(desk: &Desk, a: &args::Enter, look: Look) -> Result<Outcome, Stopped> {
    let folder = Folder::read(&desk.dir, &desk.shop)?;
    let journal = if a.of_shop { &folder.shop_journal } else { &folder.journal };
    let Some(journal) =
        journal.as_ref().filter(|j| j.lost.is_some() || !j.entries.is_empty() || !j.broken.is_empty())
    else {
        if a.of_shop {
            return Ok(Outcome::well(
                "Nothing was entered of the shop yet, such as: brasswright enter --learnt \"drill:2.5 mm\" \"2.53 mm\"\n",
            ));
        }
        return Ok(Outcome::well(
            "Nothing was entered yet. A first entry makes the journal:\n  brasswright enter NAME VALUE, such as: brasswright enter plates.gap \"41.96 mm\"\n",
        ));
    };
    let work = Work::after(&folder, a.as_of);
    if let Some(t) = work.known.troubles.iter().find(|t| t.stops()) {
        return Err(Stopped::trouble(t.clone()));
    }
    let standing = if a.of_shop { &work.known.shop } else { &work.known.standing };
    let until = a.as_of.unwrap_or(u64::MAX);
    let shown = journal.entries.iter().filter(|e| e.number <= until);
    if a.json {
        let all: Vec<_> =
            shown.filter_map(|e| serde_json::from_str::<serde_json::Value>(&line::line(e)).ok()).collect();
        return Ok(Outcome::well(format!("{:#}\n", serde_json::Value::Array(all))));
    }
    let paint = Paint(look.out);
    let rows: Vec<Vec<String>> = shown
        .map(|e| {
            let gone = standing.struck.contains_key(&e.number);
            let (what, value) = kept_words(&e.what, &work);
            vec![
                e.number.to_string(),
                e.at.replace('T', " ").trim_end_matches('Z').to_owned(),
                if gone { "struck".to_owned() } else { e.what.word().to_owned() },
                clean(&what),
                clean(&value),
            ]
        })
        .collect();
    let err: String = work.known.troubles.iter().map(|t| format!("{}\n", t.says)).collect();
    let out = painted(&rows, 0, |i, cell| if i == 3 { paint.strong(cell) } else { cell.to_owned() });
    Ok(Outcome { out, err, ..Outcome::default() })
}
/// An entry in words.
fn kept_words(what: &What, work: &Work) -> (String, String) {
    let of = |piece: &Option<u32>| piece.map_or(String::new(), |p| format!(" (piece {p})"));
    match what {
        What::Measured(r) => {
            let rough = if r.rough { ", still rough" } else { "" };
            let tool = r.tool.as_ref().map_or(String::new(), |t| format!(", {t}"));
            (format!("{}{}", r.name, of(&r.piece)), format!("{}{tool}{rough}", r.written))
        }
        What::Done(s) => {
            let count = s.count.map_or(String::new(), |n| format!("{n}"));
            (format!("{}: {}{}", s.part, s.step, of(&s.piece)), count)
        }
        What::Stood { part, pieces, state, why, .. } => {
            let which = pieces.iter().map(u32::to_string).collect::<Vec<_>>().join(",");
            let which = if which.is_empty() { String::new() } else { format!(" (pieces {which})") };
            (format!("{part}{which}: {}", state.word()), why.clone())
        }
        What::Struck { entry, why } => (format!("entry {entry}"), why.clone()),
        What::Remark { about, text, .. } => (about.clone(), text.clone()),
        What::Concession { name, piece, why } => (format!("{name}{}", of(piece)), why.clone()),
        What::Rated(journal::Rating { heard: Some(h), by, .. }) => {
            (format!("rate heard, {by}"), super::rating::shown(h.rate, h.within))
        }
        What::Rated(r) => {
            let line = work.book.lines().find(|l| l.unit == "s");
            let offset = line.map_or_else(
                || format!("{} s", r.offset),
                |_| format!("{} s", reckon::print::significant(r.offset, 6)),
            );
            (format!("clock less reference, {}", r.by), offset)
        }
        What::Learnt(l) => (format!("{}: {}", l.subject, l.of), l.written.clone()),
    }
}
