//! `going --clocks`: so many clocks drawn from their limits, and with what likelihood they go.

use crate::args;
use crate::look::{Look, Paint, clean, columns};
use crate::outcome::{Outcome, Stopped};
use crate::progress::Counting;
use crate::work::Work;
use going::Model;
use going::clocks::{Answer, Clocks, FIGURES, VERDICTS, Way};
use going::study::{Likely, Sample, Share};
use reckon::print::{fixed, significant};
use reckon::{Book, Trouble};
use serde_json::{Value, json};
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};

mod page;

/// Set by an interrupt from the keyboard: the drawing ends and what was drawn is told.
static STOP: AtomicBool = AtomicBool::new(false);

/// Clocks that `why` draws.
const USUAL: u32 = 10_000;
/// Most clocks: their sizes stay in memory.
const MOST: u32 = 1_000_000;

/// Draws them on all cores.
fn drawn(clocks: &Clocks, seed: u64, count: u32) -> Sample {
    let threads = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let bar = Mutex::new(Counting::new());
    let told = |ready: u32| {
        // One thread tells; the others need not wait for it.
        if let Ok(mut bar) = bar.try_lock() {
            bar.tell(u128::from(ready), u128::from(count), u64::from(ready));
        }
    };
    clocks.study.run(seed, count, threads, &STOP, &told, &|sizes| clocks.outcome(sizes))
}
/// For `why`: the usual study, its numbers in the book.
pub fn known(work: &mut Work, model: &Model) {
    let Some(m) = &work.movement else { return };
    let way = Way::of_shop(&work.book).unwrap_or(Way::Careful);
    if let Ok(clocks) = Clocks::of(m, model, way, &mut work.book) {
        let sample = drawn(&clocks, 1, USUAL);
        clocks.answer(&sample, &mut work.book);
    }
}
/// Draws and tells.
///
/// # Errors
/// When the count cannot be drawn, or the escapement has no faces.
pub fn run(args: &args::Going, work: &mut Work, model: &Model, look: Look) -> Result<Outcome, Stopped> {
    let count = args.clocks.unwrap_or(USUAL);
    if count == 0 || count > MOST {
        return Err(Stopped::wrong_use(format!("--clocks takes 1 to {MOST}, {count} given"))
            .cure("--clocks 10000 tells a likelihood to one in a hundred"));
    }
    let none = || Stopped::trouble(Trouble::ours("a model without its movement"));
    let movement = work.movement.as_ref().ok_or_else(none)?;
    let book = &mut work.book;
    let way = match args.drawn {
        args::Drawn::Careful => Way::Careful,
        args::Drawn::Even => Way::Even,
        args::Drawn::Shop => Way::of_shop(book).ok_or_else(|| too_few(book))?,
    };
    let clocks = Clocks::of(movement, model, way, book)
        .map_err(|why| Stopped::trouble(Trouble::design("this escapement cannot be studied").why(why)))?;
    // Without a handler an interrupt ends the program as usual.
    let _ = ctrlc::set_handler(|| STOP.store(true, Ordering::Relaxed));
    let sample = drawn(&clocks, args.seed, count);
    let answer = clocks.answer(&sample, book);
    let mut written = None;
    if let Some(dir) = &args.out {
        let name = work.project.as_ref().and_then(|p| p.clock.as_ref()).map_or("", |c| c.name.as_str());
        let text = page::page(name, &clocks, &sample, &answer);
        written = crate::files::write_all(dir, &[("study.html".to_owned(), text.into_bytes())])?.pop();
    }
    let mut out = if args.json {
        format!("{:#}\n", as_json(&clocks, &sample, &answer))
    } else {
        said(&clocks, &sample, &answer, Paint(look.out))
    };
    if let (Some(path), false) = (written, args.json) {
        out += &format!("As a page, in a browser: {}\n", clean(&path.display().to_string()));
    }
    Ok(Outcome::well(out))
}
fn too_few(book: &Book) -> Stopped {
    let measured = book.actual().count();
    Stopped::wrong_use(format!(
        "--drawn shop wants {} measured sizes that have limits; {measured} sizes are measured in all",
        going::clocks::FEWEST
    ))
    .cure("measure parts as they are made: brasswright enter")
    .cure("--drawn careful")
}
fn percent(x: f64) -> String {
    fixed(x * 100.0, 1)
}
fn likely(l: &Likely) -> String {
    format!("{} %", percent(l.share))
}
fn said(c: &Clocks, sample: &Sample, a: &Answer, paint: Paint) -> String {
    let n = sample.clocks();
    let mut out = if sample.partial() {
        format!("Interrupted: {n} of {} clocks were drawn; this is the answer of these.\n", sample.asked)
    } else {
        String::new()
    };
    out += &format!("{n} clocks drawn from seed {}, sizes {}\n\n", sample.seed, c.way.says());
    if n == 0 {
        return out;
    }
    let mut rows = vec![["", "of the clocks", "with 95 % surety"].map(str::to_owned).to_vec()];
    for (what, l) in VERDICTS.iter().copied().zip(&a.likely).chain([("all of it", &a.all)]) {
        rows.push(vec![
            what.to_owned(),
            likely(l),
            format!("{} to {} %", fixed(l.low * 100.0, 2), fixed(l.high * 100.0, 2)),
        ]);
    }
    out += &headed(&rows, paint);
    let mut rows = vec![["", "", "mean", "deviation", "19 of 20 lie between"].map(str::to_owned).to_vec()];
    for ((what, unit), s) in FIGURES.iter().zip(&a.spreads) {
        let Some(s) = s else { continue };
        let [low, .., high] = s.quantiles;
        rows.push(vec![
            (*what).to_owned(),
            (*unit).to_owned(),
            fixed(s.mean, 2),
            fixed(s.deviation, 3),
            format!("{} and {}", fixed(low, 2), fixed(high, 2)),
        ]);
    }
    out.push('\n');
    out += &headed(&rows, paint);
    out.push('\n');
    out += &offenders(c, a, paint);
    out += &worth(c, a);
    if let Some((first, why)) = &a.amiss.first {
        out += &format!(
            "{} of them are no escapement as they came out, and count as failing everything; the first is clock {first}:\n{why}.\n",
            a.amiss.clocks
        );
    }
    out += "The outlines of each clock are followed at its own sizes.\n";
    out += "What varies, and why so much: brasswright why going.study.sizes\n";
    out
}
fn headed(rows: &[Vec<String>], paint: Paint) -> String {
    let mut text = String::new();
    for (i, line) in columns(rows, 0).lines().enumerate() {
        text += &if i == 0 { paint.faint(line) } else { line.to_owned() };
        text.push('\n');
    }
    text
}
fn offenders(c: &Clocks, a: &Answer, paint: Paint) -> String {
    let share = |s: Option<Share>| {
        s.map_or_else(|| "–".to_owned(), |s| format!("{} ± {}", percent(s.share.max(0.0)), percent(s.error)))
    };
    let heads = [
        "what varies",
        "to either side",
        "% of arc",
        "% of rate",
        "% of failing",
        "limits halved: % more hold",
    ];
    let mut rows = vec![heads.map(str::to_owned).to_vec()];
    for b in &a.by {
        let line = &c.lines[b.dimension];
        rows.push(vec![
            c.study.dimensions[b.dimension].name.clone(),
            format!("{} {}", significant(line.half, 3), line.unit),
            share(b.shares[0]),
            share(b.shares[1]),
            share(b.shares[2]),
            b.halved.map_or_else(
                || "–".to_owned(),
                |t| format!("{} ± {}", fixed(t.gain * 100.0, 2), fixed(t.error * 100.0, 2)),
            ),
        ]);
    }
    let alone =
        |i: usize| -> Option<f64> { a.by.iter().map(|b| b.shares[i].map(|s| s.share)).sum::<Option<f64>>() };
    let mut out = headed(&rows, paint);
    let rest: Vec<String> = ["arc", "rate", "failing"]
        .iter()
        .enumerate()
        .filter_map(|(i, what)| alone(i).map(|s| format!("{} {} %", what, percent((1.0 - s).max(0.0)))))
        .collect();
    if !rest.is_empty() {
        out += &format!("What they do together, left over: {}.\n", rest.join(", "));
    }
    out.push('\n');
    out
}
fn worth(c: &Clocks, a: &Answer) -> String {
    let name = |b: &going::clocks::By| c.study.dimensions[b.dimension].name.as_str();
    let mut sure: Vec<_> =
        a.by.iter().filter(|b| b.halved.is_some_and(|t| t.sure() && t.gain > 0.0)).collect();
    sure.sort_by(|x, y| {
        let gain = |b: &going::clocks::By| b.halved.map_or(0.0, |t| t.gain);
        gain(y).total_cmp(&gain(x))
    });
    let nothing: Vec<&str> = a.by.iter().filter(|b| b.halved.is_some_and(|t| !t.sure())).map(name).collect();
    let mut out = match sure.first() {
        Some(b) => format!("A tighter limit buys most at: {}.\n", name(b)),
        None => "No tighter limit of one size buys anything that shows.\n".to_owned(),
    };
    if !sure.is_empty() && !nothing.is_empty() {
        out += &format!("Nothing that shows at: {}.\n", nothing.join(", "));
    }
    out
}
fn as_json(c: &Clocks, sample: &Sample, a: &Answer) -> Value {
    let one =
        |l: &Likely| json!({ "holds": l.holds, "of": l.of, "share": l.share, "low": l.low, "high": l.high });
    let share = |s: Option<Share>| s.map(|s| json!({ "share": s.share, "error": s.error }));
    let verdicts: Vec<Value> = VERDICTS
        .iter()
        .zip(&a.likely)
        .map(|(what, l)| json!({ "verdict": what, "likely": one(l) }))
        .collect();
    let figures: Vec<Value> = FIGURES
        .iter()
        .zip(&a.spreads)
        .map(|((what, unit), s)| {
            json!({ "figure": what, "unit": unit, "of": s.map_or(0, |s| s.of), "mean": s.map(|s| s.mean),
                "deviation": s.map(|s| s.deviation), "quantiles": s.map(|s| s.quantiles) })
        })
        .collect();
    let by: Vec<Value> = a
        .by
        .iter()
        .map(|b| {
            let line = &c.lines[b.dimension];
            let gain =
                |t: Option<going::study::Tighter>| t.map(|t| json!({ "gain": t.gain, "error": t.error, "share": t.share }));
            json!({ "what": c.study.dimensions[b.dimension].name, "middle": line.middle, "to_either_side": line.half,
                "unit": line.unit, "why": line.why, "of_arc": share(b.shares[0]), "of_rate": share(b.shares[1]),
                "of_failing": share(b.shares[2]), "limits_halved": gain(b.halved), "a_tenth_narrower": gain(b.tenth) })
        })
        .collect();
    json!({
        "clocks": sample.clocks(), "asked": sample.asked, "seed": sample.seed, "drawn": c.way.says(),
        "all": one(&a.all), "verdicts": verdicts, "figures": figures, "what_varies": by,
        "no_escapement": a.amiss.clocks, "first_of_these": a.amiss.first.as_ref().map(|(i, why)| json!({ "clock": i, "why": why })),
    })
}
