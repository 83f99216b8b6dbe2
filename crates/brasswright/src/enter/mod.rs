//! Entering: what is typed becomes an entry of the journal, and what moves because of it is told.
//!
//! [`enter()`] is the one door, for the command line and the pages alike. What is typed is made out, looked at for
//! slips (which are asked about and never put right by guess), written so that it survives whatever happens, and
//! then the clock is worked out before and after: what differs is the answer.

pub mod command;
pub mod jobs;
pub mod kept;
mod lines;
mod meets;
mod moved;
pub mod orphans;
pub mod rating;
mod reading;
pub mod said;
mod sheet;
mod thread;
pub mod typed;
pub mod when;

pub use typed::{Answer, Asks, Input, Typed};

use crate::args;
use crate::folder::{Folder, Text};
use crate::outcome::Stopped;
use crate::work::Work;
use journal::{Keeps, Kept, Learnt, Lost, Reading, Step, What};
use reckon::{Dimension, Trouble, slug, text};
use std::path::{Path, PathBuf};
use store::{Of, Store};

/// Where entries go: the folder of a project and its shop.
#[derive(Debug)]
pub struct Desk {
    /// Folder of the project.
    pub dir: PathBuf,
    /// Another shop than the one in it.
    pub shop: args::Shop,
}

/// Enters something.
///
/// The answer's `kept` holds the entry once the disk has it. Where it is empty, nothing was written and `asks` says
/// why: the same input with `sure` is then taken, unless it is refused.
///
/// # Errors
/// When the project or its journal cannot be read or written, or what was typed cannot be made out.
pub fn enter(desk: &Desk, input: &Input) -> Result<Answer, Stopped> {
    let folder = Folder::read(&desk.dir, &desk.shop)?;
    let before = Work::out(&folder);
    if let Some(t) = before.known.troubles.iter().find(|t| t.stops()) {
        return Err(Stopped::trouble(t.clone()));
    }
    let mut answer = Answer::default();
    let (what, shop) = made_out(&input.what, &before, &mut answer)?;
    if let (Some(last), None) = (last_alike(&folder, &what, shop), input.key.as_ref()) {
        answer
            .asks
            .push(Asks::told(format!("entry {last}, the last of all, says the very same: entered twice?")));
    }
    answer.told.extend(before.known.troubles.iter().map(|t| t.says.clone()));
    if answer.asks.iter().any(|a| a.refuses) || (!answer.asks.is_empty() && !input.sure) {
        return Ok(answer);
    }
    let key = input.key.clone().unwrap_or_else(when::key);
    let at = input.at.clone().unwrap_or_else(when::now);
    let kept = write(desk, &folder, shop, &key, &at, &what)?;
    if let What::Done(step) = &what {
        // Holes that are drilled stay where they are.
        let sizes = moved::drilled(step, &before);
        if !sizes.is_empty() {
            let stays = What::Stood {
                part: step.part.clone(),
                pieces: Vec::new(),
                state: journal::State::Roughed,
                why: "its holes are drilled".to_owned(),
                sizes,
            };
            write(desk, &folder, false, &format!("{key}-stays"), &at, &stays)?;
        }
    }
    answer.again = kept.again;
    answer.kept = Some(kept.entry);
    // What was written stands, whatever follows: from here on nothing is an error.
    let Ok(folder) = Folder::read(&desk.dir, &desk.shop) else {
        answer.told.push("it is kept; what moves because of it could not be told".to_owned());
        return Ok(answer);
    };
    if let Typed::Size(s) = &input.what
        && let Some(number) = &s.sheet
    {
        // Held against what was known before this entry: the sheet is not stale because of what was read from it.
        answer.sheet = Some(sheet::held(number, &folder, &before, &s.name));
    }
    follow(before, kept::Known::of(&folder, None), &folder, &what, &mut answer);
    Ok(answer)
}
/// What an entry came to, looked at again later: what moved from the entry before it to it, and what meets.
#[must_use]
pub fn came_of(folder: &Folder, entry: &journal::Entry) -> Answer {
    let before = Work::after(folder, Some(entry.number.saturating_sub(1)));
    let mut answer = Answer { kept: Some(entry.clone()), ..Answer::default() };
    follow(before, kept::Known::of(folder, Some(entry.number)), folder, &entry.what, &mut answer);
    answer
}
/// Works the clock out with what is known after an entry, and tells what differs from before. An entry that changes no
/// size, such as a step or a remark, leaves the clock as it was worked out before.
fn follow(mut before: Work, known: kept::Known, folder: &Folder, what: &What, answer: &mut Answer) {
    if before.known.actuals == known.actuals && before.known.troubles == known.troubles {
        before.known = known;
        return alone(&before, what, answer);
    }
    let (after, spread) = std::thread::scope(|scope| {
        let other = known.clone();
        let spread = scope.spawn(move || moved::spread(&other, folder, what));
        let after = Work::with(folder, known);
        (after, spread.join().unwrap_or_else(|fault| std::panic::resume_unwind(fault)))
    });
    moved::tell(&before, &after, spread.as_ref(), answer);
    meets::tell(&before, &after, answer);
    alone(&after, what, answer);
}
/// What an entry comes to by itself.
fn alone(work: &Work, what: &What, answer: &mut Answer) {
    match what {
        What::Measured(r) => {
            thread::tell(r, work, answer);
            meets::outside(r, work, answer);
            pieces(r, work, answer);
        }
        What::Rated(_) => rating::tell(work, answer),
        _ => {}
    }
}
/// How the pieces of a batch stand that were measured one by one.
fn pieces(r: &Reading, work: &Work, answer: &mut Answer) {
    let (Some(_), Some(wanted)) = (r.piece, r.wanted) else { return };
    let standing = &work.known.standing;
    let all: Vec<(u32, f64)> = standing
        .readings
        .keys()
        .filter(|(n, _)| *n == r.name)
        .filter_map(|(n, p)| Some(((*p)?, standing.actual(n, *p)?.value)))
        .collect();
    let Some((_, line)) = work.book.find(&r.name) else { return };
    let show = |x: f64| reading::shown(x, line, work);
    let (low, high) =
        all.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), (_, v)| (a.min(*v), b.max(*v)));
    let out: Vec<String> = all
        .iter()
        .filter(|(_, v)| *v < wanted.least - 1e-9 || *v > wanted.most + 1e-9)
        .map(|(p, _)| p.to_string())
        .collect();
    let count = reading::owner(&r.name, work).and_then(|i| work.parts.get(i)).map(|p| p.common.count.shown());
    let mut says = format!("{} of {} pieces measured", all.len(), count.unwrap_or_default());
    if all.len() > 1 {
        says += &format!(", from {} to {}", show(low), show(high));
    }
    says += &if out.is_empty() {
        ": all within".to_owned()
    } else {
        format!("; outside: piece {}", out.join(", "))
    };
    answer.told.push(says);
}
/// Number of the last entry, where it says the same: a thumb that tapped twice.
fn last_alike(folder: &Folder, what: &What, shop: bool) -> Option<u64> {
    let journal = if shop { &folder.shop_journal } else { &folder.journal };
    let last = journal.as_ref()?.entries.last()?;
    (last.what == *what && !matches!(what, What::Remark { .. })).then_some(last.number)
}
/// Writes an entry: when this returns, the disk has it.
fn write(
    desk: &Desk,
    folder: &Folder,
    shop: bool,
    key: &str,
    at: &str,
    what: &What,
) -> Result<Kept, Stopped> {
    let (clock, workshop, _) = kept::whose(folder);
    let (of, path) =
        if shop { (workshop, shop_journal(desk)) } else { (clock, desk.dir.join(kept::JOURNAL)) };
    let of = of.ok_or_else(|| {
        Stopped::wrong_use(format!(
            "there is no {} to keep a journal of",
            if shop { "shop" } else { "clock" }
        ))
        .cure("name the folder of a project with --project")
    })?;
    let kept = write_into(&path, &of, key, at, what)?;
    if !shop {
        keep_texts(&path, &of, folder);
    }
    Ok(kept)
}
/// Keeps the texts that sheets may have been printed from. What cannot be kept is told when a sheet is asked about;
/// no entry hangs on it.
pub fn keep_texts(path: &Path, of: &Of, folder: &Folder) {
    let bytes = |t: &Option<Text>| t.as_ref().map_or(Vec::new(), |t| t.bytes.clone());
    let kept =
        Store::open(path, of).and_then(|mut s| s.keep_texts(&bytes(&folder.clock), &bytes(&folder.shop)));
    drop(kept);
}
/// Writes an entry into a journal.
///
/// # Errors
/// Why it could not be: nothing is changed then.
pub fn write_into(path: &Path, of: &Of, key: &str, at: &str, what: &What) -> Result<Kept, Stopped> {
    let shown = path.display();
    Store::open(path, of)
        .and_then(|mut store| store.take(key, at, what))
        .map_err(|lost| refused(&lost, &shown.to_string()))
}
/// A journal that cannot be read or written, as it is told.
fn refused(lost: &Lost, path: &str) -> Stopped {
    let said = lost.says();
    let said = if said.contains(path) { said } else { format!("{path}: {said}") };
    let mut stopped = Stopped::files(said).cure(lost.cure());
    if let Lost::Full | Lost::ReadOnly(_) = lost {
        stopped = stopped.why("nothing was written, and what was entered before is as it was");
    }
    stopped
}
/// Where the journal of the shop lies.
#[must_use]
pub fn shop_journal(desk: &Desk) -> PathBuf {
    let dir = desk.shop.shop.as_deref().and_then(Path::parent);
    dir.unwrap_or(&desk.dir).join(kept::SHOP_JOURNAL)
}
/// What was typed, made out; and whether it goes into the journal of the shop.
fn made_out(typed: &Typed, work: &Work, answer: &mut Answer) -> Result<(What, bool), Stopped> {
    Ok(match typed {
        Typed::Size(size) => {
            let (reading, shop): (Reading, bool) = reading::made_out(size, work, answer)?;
            (What::Measured(reading), shop)
        }
        Typed::Done(step) => (What::Done(step_of(step, work)?), false),
        Typed::Stood { part, pieces, state, why } => {
            let slug = part_slug(part, work)?;
            let sizes = if *state == journal::State::Made { moved::sizes(&slug, work) } else { Vec::new() };
            if *state == journal::State::Made
                && work.known.standing.state(&slug, *pieces.first().unwrap_or(&0)) == *state
            {
                answer
                    .asks
                    .push(Asks::told(format!("'{part}' is made already: its sizes would be set anew")));
            }
            (
                What::Stood { part: slug, pieces: pieces.clone(), state: *state, why: why.clone(), sizes },
                false,
            )
        }
        Typed::Strike { entry, why, shop } => {
            let standing = if *shop { &work.known.shop } else { &work.known.standing };
            if *entry == 0 || *entry > standing.after {
                let (of, list) = if *shop { (" of the shop", " --of-shop") } else { ("", "") };
                return Err(Stopped::wrong_use(format!("there is no entry {entry}{of}"))
                    .cure(format!("the last is {}: brasswright enter --list{list}", standing.after)));
            }
            if let Some((by, _)) = standing.struck.get(entry) {
                answer.asks.push(Asks::told(format!("entry {entry} is struck already, by entry {by}")));
            }
            (What::Struck { entry: *entry, why: why.clone() }, *shop)
        }
        Typed::Remark { about, text, picture } => {
            (What::Remark { about: about.clone(), text: text.clone(), picture: picture.clone() }, false)
        }
        Typed::Concession { name, piece, why } => {
            let name = reading::name(name, work)?;
            (What::Concession { name, piece: *piece, why: why.clone() }, false)
        }
        Typed::Rating(r) => (What::Rated(rating_of(r)?), false),
        Typed::Learnt { subject, of, value, note } => {
            let (si, unit) = any(value)?;
            let learnt = Learnt {
                subject: subject.clone(),
                of: of.clone(),
                value: si,
                unit: unit.to_owned(),
                written: value.clone(),
                note: note.clone(),
            };
            (What::Learnt(learnt), true)
        }
    })
}
impl Asks {
    /// A doubt in words.
    fn told(says: String) -> Asks {
        Asks { says, would_be: None, doubt: None, refuses: false }
    }
}
/// A quantity of whatever dimension its unit says.
fn any(value: &str) -> Result<(f64, &'static str), Stopped> {
    use Dimension as D;
    let all = [
        (D::Length, "m"),
        (D::Angle, "rad"),
        (D::Time, "s"),
        (D::Mass, "kg"),
        (D::Force, "N"),
        (D::Torque, "N m"),
        (D::Temperature, "K"),
        (D::AngularSpeed, "rad/s"),
        (D::Ratio, ""),
    ];
    let found = all.into_iter().find_map(|(d, unit)| Some((text::read(value, d).ok()?, unit)));
    found.ok_or_else(|| {
        Stopped::wrong_use(format!("'{value}' is no quantity"))
            .cure("write a number with its unit, such as 2.53 mm or 26 min")
    })
}
/// A quantity of one dimension that was typed.
fn quantity(value: &str, of: Dimension) -> Result<f64, Stopped> {
    text::read(value, of).map_err(|fault| typed_wrong(value, fault))
}
/// What is wrong with a typed quantity.
fn typed_wrong(value: &str, fault: text::TextFault) -> Stopped {
    let at = reckon::Place { file: "as typed".into(), line: 0, column: 1, start: 0, end: value.len() };
    let trouble: Trouble = fault.placed_in(&at, value);
    let says = format!("'{value}': {}", trouble.says);
    let mut stopped = Stopped { exit: crate::exit::TEXT, trouble: Trouble { at: Vec::new(), ..trouble } };
    stopped.trouble.says = says;
    stopped
}
fn maybe(value: Option<&String>, of: Dimension) -> Result<Option<f64>, Stopped> {
    value.map(|v| quantity(v, of)).transpose()
}
/// A rating, made out.
fn rating_of(r: &typed::Rating) -> Result<journal::Rating, Stopped> {
    let when = r.when.clone().unwrap_or_else(when::now);
    let at = when::read(&when).ok_or_else(|| {
        Stopped::wrong_use(format!("'{when}' is no moment"))
            .cure("write it as 2026-03-01T18:30:00Z, universal time")
    })?;
    let nut = r.nut.as_ref().map(|n| n.trim().trim_end_matches("turns").trim_end_matches("turn").to_owned());
    Ok(journal::Rating {
        at,
        offset: if r.heard.is_some() { 0.0 } else { quantity(&r.offset, Dimension::Time)? },
        heard: r.heard,
        give_or_take: maybe(r.give_or_take.as_ref(), Dimension::Time)?,
        temperature: maybe(r.temperature.as_ref(), Dimension::Temperature)?,
        pressure: maybe(r.pressure.as_ref(), Dimension::Pressure)?,
        arc: maybe(r.arc.as_ref(), Dimension::Angle)?,
        nut: maybe(nut.as_ref(), Dimension::Ratio)?,
        tray: maybe(r.tray.as_ref(), Dimension::Mass)?,
        set: r.set,
        by: r.by.clone(),
    })
}
/// Slug of a part by its name or slug.
fn part_slug(part: &str, work: &Work) -> Result<String, Stopped> {
    let part = part.trim();
    // A maker says names; where a slug is another part's name, the name is meant.
    let named = work.parts.iter().find(|p| p.common.name == part);
    let found = named.or_else(|| work.parts.iter().find(|p| p.slug() == part));
    if let Some(p) = found {
        return Ok(p.slug().to_owned());
    }
    let others = work.making.iter().flat_map(|m| {
        let tools = m.tools.iter().map(|t| (&t.name, &t.slug));
        tools.chain(m.jigs.iter().map(|j| (&j.part.common.name, &j.part.common.slug)))
    });
    if let Some((_, slug)) = others.into_iter().find(|(name, slug)| *name == part || *slug == part) {
        return Ok(slug.clone());
    }
    let mut stopped = Stopped::wrong_use(format!("there is no part '{part}'"));
    for near in reckon::trouble::nearest(part, work.parts.iter().map(|p| p.common.name.as_str())) {
        stopped = stopped.cure(format!("did you mean '{near}'?"));
    }
    Err(stopped.cure("all parts: brasswright check --parts"))
}
/// A job or step, made out.
fn step_of(step: &typed::Step, work: &Work) -> Result<Step, Stopped> {
    let took = maybe(step.took.as_ref(), Dimension::Time)?;
    let done =
        |part: String, what: String| Step { part, step: what, piece: step.piece, count: step.count, took };
    if let Some(s) = &step.step {
        return Ok(done(part_slug(&step.job, work)?, s.clone()));
    }
    let jobs = work.making.as_ref().map_or(&[][..], |m| &m.order.jobs);
    if let Some(j) = jobs.iter().find(|j| j.name == step.job.trim()) {
        let part = work.parts.iter().find(|p| p.common.name == j.of).map(|p| p.slug().to_owned());
        return Ok(done(part.unwrap_or_else(|| slug(&j.of)), j.title.clone()));
    }
    let mut stopped = Stopped::wrong_use(format!("there is no job '{}' in the order of work", step.job));
    for near in reckon::trouble::nearest(&step.job, jobs.iter().map(|j| j.name.as_str())) {
        stopped = stopped.cure(format!("did you mean '{near}'?"));
    }
    Err(stopped.cure("all jobs by their names: brasswright tonight --all"))
}
