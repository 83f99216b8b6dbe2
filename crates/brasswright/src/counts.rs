//! `counts`: every train that gives what is wanted and that this shop can cut, the best first.

use crate::args;
use crate::folder::Folder;
use crate::look::{Look, Paint, painted};
use crate::outcome::{Outcome, Stopped};
use crate::progress::Counting;
use reckon::Trouble;
use reckon::exact::Fraction;
use reckon::trouble::Place;
use serde_json::json;
use std::collections::BTreeSet;
use std::sync::atomic::{AtomicBool, Ordering};
use train::dividing::Head;
use train::search::{
    Cover, Ranked, Scored, Slack, Target, Wanted, best, counts_from, counts_text, going_wishes, why_not,
};

/// Set by an interrupt from the keyboard: the search ends and what was found is told.
static STOP: AtomicBool = AtomicBool::new(false);

/// Searches.
///
/// # Errors
/// When what is wanted cannot be read, or is not told.
pub fn run(args: &args::Counts, look: Look) -> Result<Outcome, Stopped> {
    let folder = Folder::read_any(&args.dir, &args.shop)?;
    let work = crate::work::Facts::of(&folder);
    let (wanted, can) = wanted(args, &work)?;
    let leaves = args.pinions.is_none().then_some(work.least_leaves).flatten().unwrap_or(8);
    let wishes = going_wishes(can.clone(), leaves);
    // Without a handler an interrupt ends the program as usual.
    let _ = ctrlc::set_handler(|| STOP.store(true, Ordering::Relaxed));
    let mut bar = Counting::new();
    let ranked = best(&wanted, &wishes, args.show, &mut |p| {
        bar.tell(p.covered, p.size, p.found);
        !STOP.load(Ordering::Relaxed)
    })
    .map_err(Stopped::trouble)?;
    drop(bar);
    if ranked.found == 0 && ranked.cover.complete() {
        let mut stopped = match why_not(&wanted, &mut |_| !STOP.load(Ordering::Relaxed)) {
            Ok(Some(obstacle)) => Stopped::trouble(obstacle.trouble()),
            _ => Stopped::trouble(
                Trouble::design("no counts within these limits give what is wanted")
                    .cure("wider limits: --wheels, --pinions, --stages"),
            ),
        };
        stopped.exit = crate::exit::DESIGN;
        return Err(stopped);
    }
    Ok(Outcome::well(if args.json {
        as_json(&wanted, &ranked)
    } else {
        told(&wanted, &ranked, can.is_some(), look)
    }))
}
fn typed(flag: &str, text: &str, says: &str) -> Stopped {
    let at = Place { file: "command line".into(), line: 0, column: 1, start: 0, end: text.len() };
    Stopped::trouble(Trouble::text(format!("--{flag} {text}: {says}")).at(at))
}
fn list(flag: &str, text: Option<&String>, default: &str) -> Result<Vec<u32>, Stopped> {
    let text = text.map_or(default, String::as_str);
    counts_from(text).map_err(|says| typed(flag, text, &says))
}
/// What is searched for, and what the head can divide.
fn wanted(
    args: &args::Counts,
    work: &crate::work::Facts,
) -> Result<(Wanted, Option<BTreeSet<u32>>), Stopped> {
    let escape = match &args.escape {
        Some(text) => list("escape", Some(text), "")?,
        None => work.escape_teeth.map(|n| vec![n]).unwrap_or_default(),
    };
    let target = match (&args.ratio, args.beats.or(work.beats)) {
        (Some(ratio), _) => {
            let value = fraction(ratio)
                .ok_or_else(|| typed("ratio", ratio, "a number or a fraction is due, such as 7.5 or 15/2"))?;
            let slack = match &args.within {
                Some(text) => {
                    let part = fraction(text).ok_or_else(|| {
                        typed("within", text, "a number is due, such as 0.0001: how far the ratio may be off")
                    })?;
                    Slack::Absolute(part)
                }
                None => Slack::Absolute(Fraction::ZERO),
            };
            Target { value, slack }
        }
        (None, Some(beats)) => Target::exact(i64::from(beats)),
        (None, None) => {
            return Err(Stopped::wrong_use("what the train is to give is not told")
                .cure("brasswright counts --beats 3600 --escape 30")
                .cure("brasswright counts --ratio 12 --stages 1")
                .cure("or write beats_per_hour in [wanted] of clock.toml"));
        }
    };
    let escape = if args.ratio.is_some() && args.escape.is_none() { Vec::new() } else { escape };
    if args.ratio.is_none() && escape.is_empty() {
        return Err(Stopped::wrong_use("how many teeth the escape wheel has is not told")
            .cure("brasswright counts --escape 30")
            .cure("brasswright counts --escape 28-40, to try several"));
    }
    let least = work.least_leaves.unwrap_or(8);
    let wheels = list("wheels", args.wheels.as_ref(), "40-150")?;
    let pinions = list("pinions", args.pinions.as_ref(), &format!("{least}-16"))?;
    let head = work.head.as_ref();
    let can = head.map(|h| can_divide(h, wheels.iter().chain(&pinions).chain(&escape).copied()));
    let stages = args.stages.unwrap_or(if args.ratio.is_some() { 1 } else { 2 });
    let mut wanted = Wanted { escape, ..Wanted::new(target, usize::from(stages), wheels, pinions) };
    if let (Some(can), false) = (&can, args.any_count) {
        wanted.only = Some(can.clone());
    }
    Ok((wanted, can))
}
fn fraction(text: &str) -> Option<Fraction> {
    match text.split_once('/') {
        Some((a, b)) => Fraction::decimal(a.trim())?.over(Fraction::decimal(b.trim())?),
        None => Fraction::decimal(text.trim()),
    }
}
fn can_divide(head: &Head, counts: impl Iterator<Item = u32>) -> BTreeSet<u32> {
    counts.filter(|n| !head.ways(*n).is_empty()).collect()
}
fn error(s: &Scored) -> String {
    let off = s.error.to_f64();
    if off.abs() < f64::EPSILON {
        "exact".to_owned()
    } else {
        format!("{} s a day", reckon::print::significant(off * 86400.0, 4))
    }
}
fn told(wanted: &Wanted, ranked: &Ranked, head: bool, look: Look) -> String {
    let paint = Paint(look.out);
    let rows: Vec<Vec<String>> = ranked
        .best
        .iter()
        .enumerate()
        .map(|(i, s)| {
            let reason =
                if s.reason.is_empty() { "the last that was found".to_owned() } else { s.reason.clone() };
            vec![format!("{}.", i + 1), s.train.to_string(), error(s), reason]
        })
        .collect();
    let mut out = painted(&rows, 0, |i, cell| if i == 1 { paint.strong(cell) } else { cell.to_owned() });
    out += &format!("{} {}. {}\n", ranked.found, plural(ranked.found), cover(&ranked.cover));
    let by = if wanted.only.is_some() {
        "; only counts that the dividing head of this shop can divide"
    } else if head {
        ""
    } else {
        "; no dividing head is known, so every count is taken"
    };
    out += &format!("wheels {}, pinions {}{by}\n", counts_text(&wanted.wheels), counts_text(&wanted.pinions));
    out
}
fn plural(n: u64) -> &'static str {
    if n == 1 { "train gives it" } else { "trains give it" }
}
fn cover(c: &Cover) -> String {
    let mut words = c.words();
    if let Some(first) = words.get_mut(0..1) {
        first.make_ascii_uppercase();
    }
    words + "."
}
fn as_json(wanted: &Wanted, ranked: &Ranked) -> String {
    let rows: Vec<_> = ranked
        .best
        .iter()
        .map(|s| {
            json!({
                "train": s.train.to_string(),
                "wheels": s.train.wheels(),
                "pinions": s.train.pinions(),
                "escape": s.train.escape,
                "error": s.error.to_f64(),
                "better_than_next": s.reason,
            })
        })
        .collect();
    let all = json!({
        "found": ranked.found,
        "complete": ranked.cover.complete(),
        "covered": ranked.cover.words(),
        "wheels": counts_text(&wanted.wheels),
        "pinions": counts_text(&wanted.pinions),
        "best": rows,
    });
    format!("{all:#}\n")
}
