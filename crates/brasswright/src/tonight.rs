//! `tonight`: what fits the hours given and what is set up.

use crate::args;
use crate::folder::Folder;
use crate::look::{Look, Paint, clean, counted, painted};
use crate::outcome::{Outcome, Stopped};
use crate::told;
use crate::work::Work;
use making::plan::order::tonight::{Evening, SURE, Tonight, done, meant, tonight};
use making::plan::order::{Job, Order};
use reckon::print::fixed;
use reckon::{Place, Trouble};
use serde_json::{Value, json};

/// How many jobs are told beside those that fit.
const BESIDE: usize = 6;

/// Tells what to do.
///
/// # Errors
/// When the project cannot be read or ordered, or names a job or a set-up that it does not have.
pub fn run(args: &args::Tonight, look: Look) -> Result<Outcome, Stopped> {
    let folder = Folder::read(&args.dir, &args.shop)?;
    let texts = folder.texts();
    let work = Work::out(&folder);
    let Some(making) = &work.making else {
        if work.troubles.is_empty() {
            return Err(Stopped::trouble(
                Trouble::shop("what can be done tonight needs a design and a shop")
                    .cure("put clock.toml and shop.toml into one folder, or name the shop with --shop"),
            ));
        }
        let err = told::all(&work.troubles, &texts, look.err);
        return Ok(Outcome { err, exit: crate::exit::worst(&work.troubles), ..Outcome::default() });
    };
    let stops: Vec<Trouble> = work.troubles.iter().filter(|t| t.stops()).cloned().collect();
    if !stops.is_empty() {
        let err = told::all(&stops, &texts, look.err);
        return Ok(Outcome { err, exit: crate::exit::worst(&stops), ..Outcome::default() });
    }
    let order = &making.order;
    let mut done = done(order, &args.done).map_err(|mut all| stopped("done", &args.done, all.remove(0)))?;
    done.extend(crate::enter::jobs::done(&work, &work.known.standing));
    if let Some(words) = &args.set_up {
        meant(order, words).map_err(|t| stopped("set-up", std::slice::from_ref(words), *t))?;
    }
    let hours = args.hours.unwrap_or_else(|| order.hours.evening.bare().value() / 3600.0);
    let ask = Evening { minutes: hours * 60.0, set_up: args.set_up.clone(), done };
    let found = tonight(order, &ask);
    Ok(Outcome::well(if args.json {
        as_json(order, &ask, &found)
    } else if args.all {
        all(order, &ask, look)
    } else {
        said(order, &ask, &found, look)
    }))
}
/// A trouble of what was typed.
fn stopped(flag: &str, typed: &[String], t: Trouble) -> Stopped {
    let end = typed.iter().map(String::len).sum();
    let at = Place { file: format!("command line, --{flag}").into(), line: 0, column: 1, start: 0, end };
    Stopped { exit: crate::exit::TEXT, trouble: t.at(at) }
}
/// Minutes as hours and minutes of the evening.
fn clock(minutes: f64) -> String {
    let whole = reckon::print::fixed(minutes, 0).parse::<u32>().unwrap_or(0);
    format!("{}:{:02}", whole / 60, whole % 60)
}
fn said(order: &Order, ask: &Evening, found: &Tonight, look: Look) -> String {
    let paint = Paint(look.out);
    let mut out = String::new();
    let mut rows: Vec<Vec<String>> = Vec::new();
    for p in &found.picks {
        let j = &order.jobs[p.job];
        let until = if p.part { "a part".to_owned() } else { clock(p.to) };
        rows.push(vec![clock(p.from), "to".to_owned(), until, clean(&j.name), clean(&p.why)]);
        if p.sets_up {
            let set = format!("set up {} ({} min)", j.set_up(), fixed(j.anew.0, 0));
            rows.push(vec![String::new(), String::new(), String::new(), clean(&set), String::new()]);
        }
    }
    if rows.is_empty() {
        out += &format!("Nothing fits {} h with what is open tonight.\n", fixed(ask.minutes / 60.0, 1));
    } else {
        out += &painted(&rows, 0, |i, cell| if i == 3 { paint.strong(cell) } else { cell.to_owned() });
        out += &format!(
            "Four evenings of five all of it is done by {}, of {} given.\n",
            clock(found.sure),
            clock(ask.minutes)
        );
    }
    for p in found.picks.iter().filter(|p| !p.part && order.jobs[p.job].wait.0 > 0.0) {
        let j = &order.jobs[p.job];
        let time = if j.wait.0 >= 1440.0 {
            counted(j.wait.0 as usize / 1440, "day")
        } else {
            format!("{} min", fixed(j.wait.0, 0))
        };
        out += &format!("Then '{}' goes on by itself: {}, {time}.\n", clean(&j.name), j.wait.1);
    }
    if !found.others.is_empty() {
        out += "\nAlso waiting for nothing:\n";
        let minutes = |j: &Job| format!("{} min", fixed(j.work.0 + j.anew.0, 0));
        let rows: Vec<Vec<String>> = found
            .others
            .iter()
            .take(BESIDE)
            .map(|i| &order.jobs[*i])
            .map(|j| vec![clean(&j.name), minutes(j), clean(&j.set_up())])
            .collect();
        out += &painted(&rows, 2, |_, cell| cell.to_owned());
        if found.others.len() > BESIDE {
            out += &format!("  and {} more: --all shows every job\n", found.others.len() - BESIDE);
        }
    }
    out += &format!(
        "\n{} in all; {} done, {} wait for something unfinished. When one is done, say so: --done \"NAME\".\n",
        counted(order.jobs.len(), "job"),
        found.done,
        found.waiting
    );
    out
}
fn all(order: &Order, ask: &Evening, look: Look) -> String {
    let paint = Paint(look.out);
    let rows: Vec<Vec<String>> = order
        .jobs
        .iter()
        .enumerate()
        .map(|(i, j)| {
            let state = if ask.done.contains(&i) {
                "done"
            } else if j.after.iter().all(|a| ask.done.contains(a)) {
                "open"
            } else {
                "waits"
            };
            let minutes = format!("{} min", fixed(j.work.0 + j.setting.0, 0));
            vec![(j.line + 1).to_string(), state.to_owned(), clean(&j.name), minutes, clean(&j.why)]
        })
        .collect();
    painted(&rows, 0, |i, cell| if i == 2 { paint.strong(cell) } else { cell.to_owned() })
}
fn as_json(order: &Order, ask: &Evening, found: &Tonight) -> String {
    let job = |i: usize| -> Value {
        let j = &order.jobs[i];
        json!({
            "name": j.name, "part": j.of, "what": j.title, "set_up": j.set_up(), "pieces": j.pieces,
            "minutes": j.work.0, "give_or_take": j.work.1, "setting_up": j.anew.0,
            "on_longest_chain": j.on_chain, "then_waits_minutes": j.wait.0,
        })
    };
    let picks: Vec<Value> = found
        .picks
        .iter()
        .map(|p| {
            json!({ "job": job(p.job), "from": p.from, "to": p.to, "sets_up": p.sets_up, "only_a_part": p.part, "why": p.why })
        })
        .collect();
    let others: Vec<Value> = found.others.iter().map(|i| job(*i)).collect();
    let done: Vec<&str> = ask.done.iter().map(|i| order.jobs[*i].name.as_str()).collect();
    let all = json!({
        "minutes": ask.minutes, "set_up": ask.set_up, "tonight": picks, "four_of_five_by": found.sure,
        "spreads": SURE, "also_open": others, "waiting": found.waiting, "done": done,
    });
    format!("{all:#}\n")
}
