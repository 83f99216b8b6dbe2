//! A measured size: made out, brought to 20 °C, and looked at for slips.

use super::typed::{Answer, Asks, Read, Size};
use super::{maybe, typed_wrong};
use crate::outcome::Stopped;
use crate::work::Work;
use journal::{Doubt, Expected, Reading, State, Wanted, doubts};
use reckon::{Dimension, Length, LengthStyle, Line, Origin, text};

/// Expansion of the steel that measuring tools are made of, per kelvin.
const STEEL: f64 = 11.5e-6;
/// Where sizes hold (ISO 1).
const TWENTY: f64 = 293.15;

/// The name in the book that is meant.
pub fn name(typed: &str, work: &Work) -> Result<String, Stopped> {
    // What suits another part is that part's size: it is kept under its own name.
    let typed = typed.trim().trim_end_matches(".to_suit");
    if work.book.find(typed).is_some() {
        return Ok(typed.to_owned());
    }
    let mut stopped = Stopped::wrong_use(format!("nothing is called '{typed}' in this project"));
    for near in work.book.near(typed) {
        stopped = stopped.cure(format!("did you mean {near}?"));
    }
    Err(stopped.cure("all names: brasswright why '**'"))
}
/// The dimension of an SI unit.
fn dimension(unit: &str) -> Option<Dimension> {
    Some(match unit {
        "m" => Dimension::Length,
        "rad" => Dimension::Angle,
        "s" => Dimension::Time,
        "m/s" => Dimension::Speed,
        "rad/s" => Dimension::AngularSpeed,
        "kg" => Dimension::Mass,
        "N" => Dimension::Force,
        "N m" => Dimension::Torque,
        "Pa" => Dimension::Pressure,
        "K" => Dimension::Temperature,
        "N/m" => Dimension::Stiffness,
        "kg/m³" => Dimension::Density,
        "" => Dimension::Ratio,
        _ => return None,
    })
}
/// Makes a reading out; whether it is about the shop.
pub fn made_out(size: &Size, work: &Work, answer: &mut Answer) -> Result<(Reading, bool), Stopped> {
    let name = name(&size.name, work)?;
    let Some((_, line)) = work.book.find(&name) else { return Err(Stopped::wrong_use("it is gone")) };
    let of =
        dimension(line.unit).filter(|_| line.si.is_some() && !matches!(line.origin, Origin::Verdict { .. }));
    let Some(of) = of else {
        return Err(Stopped::wrong_use(format!(
            "'{name}' is no size that can be measured: it is {}",
            line.shown
        ))
        .cure(format!("see what it is: brasswright why {name}")));
    };
    let read = text::read(&size.value, of).map_err(|fault| typed_wrong(&size.value, fault))?;
    let temperature = maybe(size.temperature.as_ref(), Dimension::Temperature)?;
    let length = of == Dimension::Length;
    let part = owner(&name, work);
    let size = &Size { piece: piece(size, part, work)?, ..size.clone() };
    // A tool of steel grows with the work: only what they differ by counts.
    let warmth = temperature.filter(|_| length).map(|t| {
        let work_grows =
            part.and_then(|p| work.parts.get(p)).map(|p| p.common.material.expansion.value.value());
        (STEEL - work_grows.unwrap_or(STEEL)) * (t - TWENTY)
    });
    if let Some(t) = temperature
        && !(253.15..=333.15).contains(&t)
    {
        answer.asks.push(Asks::told(format!(
            "{} °C is no warmth that one measures at",
            reckon::print::fixed(t - 273.15, 1)
        )));
    }
    let value = read * (1.0 + warmth.unwrap_or(0.0));
    let tool = size.tool.as_deref().map(str::trim).filter(|t| !t.is_empty());
    let told = maybe(size.give_or_take.as_ref(), of)?;
    let give_or_take = match (told, tool) {
        (Some(x), _) => Some(x.abs()),
        (None, Some(tool)) if length => of_tool(tool, read, work, answer)?,
        _ => None,
    };
    if let Some(off) =
        give_or_take.filter(|off| length && *off > 0.1 * value.abs() && !is_place(&name, value))
    {
        answer.asks.push(Asks::told(format!(
            "{} is off by up to {}: that is more than a tenth of it",
            size.value.trim(),
            shown(off, line, work)
        )));
    }
    let (expected, wanted) = expected(&name, line, size, part, give_or_take, work);
    tell(&name, line, (read, value), warmth, give_or_take, &wanted, work, answer);
    for d in doubts(value, &expected) {
        pause(&d, size, line, work, answer);
    }
    let shop = work.book.find(&name).is_some() && name.starts_with("shop.");
    Ok((
        Reading {
            name,
            piece: size.piece,
            value,
            unit: line.unit.to_owned(),
            written: size.value.clone(),
            tool: tool.map(str::to_owned),
            give_or_take,
            temperature,
            sheet: size.sheet.clone(),
            wanted: Some(wanted),
            // A thread is measured between its passes.
            rough: size.rough || super::thread::is_thread(&size.name),
            version: env!("CARGO_PKG_VERSION").to_owned(),
        },
        shop,
    ))
}
/// Which piece of a batch is meant: none where there is only one.
fn piece(size: &Size, part: Option<usize>, work: &Work) -> Result<Option<u32>, Stopped> {
    let (Some(piece), Some(part)) = (size.piece, part.and_then(|i| work.parts.get(i))) else {
        return Ok(size.piece);
    };
    let batch = work.book.find(&format!("{}.batch", part.slug())).and_then(|(_, l)| l.si);
    #[expect(clippy::cast_possible_truncation, reason = "a count of pieces")]
    let count = batch.map_or(part.common.count.bare().0, |n| n as i64);
    if i64::from(piece) > count.max(1) {
        return Err(Stopped::wrong_use(format!("there is no piece {piece} of '{}'", part.common.name))
            .cure(format!("pieces 1 to {count}; without --piece it is of all alike")));
    }
    Ok((count > 1).then_some(piece))
}
/// Index of the part that a name belongs to: the longest slug that fits.
pub fn owner(name: &str, work: &Work) -> Option<usize> {
    let fits = |s: &str| journal::standing::under(name, s);
    let all = work.parts.iter().enumerate().filter(|(_, p)| fits(p.slug()));
    all.max_by_key(|(_, p)| p.slug().len()).map(|(i, _)| i)
}
/// By how much a tool of the shop may be off.
fn of_tool(tool: &str, read: f64, work: &Work, answer: &mut Answer) -> Result<Option<f64>, Stopped> {
    let shop = work.project.as_ref().and_then(|p| p.shop.as_ref());
    let measures = shop.map_or(&[][..], |s| &s.measures);
    let Some(m) = measures.iter().find(|m| m.name == tool) else {
        if !measures.is_empty() {
            let names: Vec<&str> = measures.iter().map(|m| m.name.as_str()).collect();
            answer.told.push(format!(
                "the shop has no measuring tool '{tool}', so how far it may be off is not known; it has {}",
                names.join(", ")
            ));
        }
        return Ok(None);
    };
    let (least, most) = (m.range.0.bare().value(), m.range.1.bare().value());
    if read < least || read > most {
        answer.asks.push(Asks::told(format!(
            "{tool} measures from {} to {}",
            m.range.0.shown(),
            m.range.1.shown()
        )));
    }
    Ok(Some(m.give_or_take.bare().value()))
}
/// What is known of a size before it is read.
fn expected(
    name: &str,
    line: &Line,
    size: &Size,
    part: Option<usize>,
    give_or_take: Option<f64>,
    work: &Work,
) -> (Expected, Wanted) {
    // Where something that it meets is made already, what suits that is wanted.
    let suits = work.book.find(&format!("{name}.to_suit")).and_then(|(_, l)| l.si);
    let nominal = suits.unwrap_or_else(|| wanted_si(line));
    let limits = limits(name, nominal, work);
    let standing = &work.known.standing;
    let slug = part.and_then(|p| work.parts.get(p)).map(movement::part::Part::slug);
    let state = slug.map(|s| standing.state(s, size.piece.unwrap_or(1)));
    let before = standing.readings.get(&(name.to_owned(), size.piece));
    let before =
        before.map(|all| all.iter().filter(|(_, r)| r.rough == size.rough).map(|(_, r)| r.value).collect());
    let expected = Expected {
        nominal,
        limits,
        can_be: can_be(line, part, work),
        before: if size.rough { Vec::new() } else { before.unwrap_or_default() },
        give_or_take,
        begun: state.is_none_or(|s| s != State::Wanted),
        scrapped: state == Some(State::Scrapped),
        made: state == Some(State::Made),
        length: line.unit == "m",
        place: is_place(name, nominal),
        rough: size.rough,
    };
    let (least, most) = limits.unwrap_or((nominal, nominal));
    (expected, Wanted { nominal, least, most })
}
/// Whether a name says where something is rather than how large.
fn is_place(name: &str, nominal: f64) -> bool {
    nominal < 0.0 || name.ends_with(".x") || name.ends_with(".y")
}
/// What was computed under a name, whatever it came to be.
pub fn wanted_si(line: &Line) -> f64 {
    match &line.origin {
        Origin::Actual { wanted_si, .. } => *wanted_si,
        _ => line.si.unwrap_or(0.0),
    }
}
/// Least and greatest of a size: its deviations in the book, or the limits of a check that asks for it.
pub fn limits(name: &str, nominal: f64, work: &Work) -> Option<(f64, f64)> {
    let off = |what: &str| work.book.find(&format!("{name}.{what}")).and_then(|(_, l)| l.si);
    if let (Some(lower), Some(upper)) = (off("lower"), off("upper")) {
        return Some((nominal + lower, nominal + upper));
    }
    let (id, _) = work.book.find(name)?;
    if let Some(of) = drawn(id, nominal, work) {
        return Some(of);
    }
    let plans = work.making.iter().flat_map(|m| &m.parts).flat_map(|p| &p.setups);
    let checks = plans.flat_map(|s| &s.operations).flat_map(|o| &o.checks);
    let of = checks.filter(|c| c.id == Some(id)).filter_map(|c| c.limits).next_back();
    of.map(|(a, b)| (a.value().min(b.value()), a.value().max(b.value())))
}
/// Least and greatest of a size that a part is drawn with.
fn drawn(id: reckon::Id, nominal: f64, work: &Work) -> Option<(f64, f64)> {
    use movement::part::Body;
    let deviations = work.parts.iter().find_map(|p| match &p.body {
        Body::Turned(t) => {
            let steps = t.steps.iter().map(|s| &s.size);
            let found = steps.chain(t.holes.iter().map(|h| &h.size)).find(|s| s.nominal.id() == id);
            let whole = (t.length.id() == id).then_some(t.length_limits);
            found.map(|s| (s.upper, s.lower)).or(whole)
        }
        Body::Flat(f) => {
            let round =
                f.round.iter().chain(f.holes.iter().map(|h| &h.diameter)).find(|s| s.nominal.id() == id);
            let thick = Some(&f.thickness).filter(|t| t.nominal.id() == id);
            round.map(|s| (s.upper, s.lower)).or(thick.map(|t| (t.upper, t.lower)))
        }
    });
    let (a, b) = deviations?;
    let (a, b) = (a.bare().value(), b.bare().value());
    Some((nominal + a.min(b), nominal + a.max(b)))
}
/// Between what a size can be at all: nothing is larger than the part's own stock.
fn can_be(line: &Line, part: Option<usize>, work: &Work) -> Option<(f64, f64)> {
    if line.unit != "m" || line.si? <= 0.0 {
        return None;
    }
    let part = part.and_then(|p| work.parts.get(p))?;
    // Positions are no sizes of the part.
    let largest = match &part.body {
        movement::part::Body::Turned(t) => t.largest.bare().value().max(t.length.bare().value()),
        movement::part::Body::Flat(f) => f.extent.0.bare().value().max(f.extent.1.bare().value()),
    };
    // A blank stands proud of the finished part by what is to come off.
    (line.si? <= largest).then_some((0.0, 1.25 * largest + 0.002))
}
#[expect(clippy::too_many_arguments, reason = "all of them are told")]
fn tell(
    name: &str,
    line: &Line,
    (read, value): (f64, f64),
    warmth: Option<f64>,
    give_or_take: Option<f64>,
    wanted: &Wanted,
    work: &Work,
    answer: &mut Answer,
) {
    let show = |x: f64| shown(x, line, work);
    let known = (wanted.least, wanted.most) != (wanted.nominal, wanted.nominal);
    let off = value - wanted.nominal;
    answer.reading = Some(Read {
        name: name.to_owned(),
        value: show(value),
        si: value,
        give_or_take: give_or_take.map(&show),
        warmth: warmth.map(|_| signed(value - read, line, work)),
        wanted: show(wanted.nominal),
        limits: known.then(|| (show(wanted.least), show(wanted.most))),
        within: known.then_some(value >= wanted.least - 1e-9 && value <= wanted.most + 1e-9),
        off: signed(off, line, work),
    });
}
/// An SI value as the line of a name is shown.
pub fn shown(si: f64, line: &Line, work: &Work) -> String {
    match line.unit {
        "m" => style(work).text(Length::si(si)),
        "rad" => reckon::Shown::shown(&reckon::Angle::si(si)),
        "s" => reckon::Shown::shown(&reckon::Time::si(si)),
        "kg" => reckon::Shown::shown(&reckon::Mass::si(si)),
        "N" => reckon::Shown::shown(&reckon::Force::si(si)),
        "N m" => reckon::Shown::shown(&reckon::Torque::si(si)),
        "K" => reckon::Shown::shown(&reckon::Temperature::si(si)),
        "Pa" => reckon::Shown::shown(&reckon::Pressure::si(si)),
        unit => format!("{} {unit}", reckon::print::significant(si, 6)).trim().to_owned(),
    }
}
/// The same with its sign.
pub fn signed(si: f64, line: &Line, work: &Work) -> String {
    let text = shown(si, line, work);
    if si > 0.0 { format!("+{text}") } else { text }
}
/// How this project prints lengths.
fn style(work: &Work) -> LengthStyle {
    let clock = work.project.as_ref().and_then(|p| p.clock.as_ref());
    clock.map(|c| c.print).unwrap_or_default()
}
/// A doubt as the maker is asked about it.
fn pause(d: &Doubt, size: &Size, line: &Line, work: &Work, answer: &mut Answer) {
    let show = |x: f64| shown(x, line, work);
    let wanted = show(wanted_si(line));
    let read = size.value.trim();
    let (says, would_be) = match d {
        Doubt::Factor { by, like, would_be } => {
            let times = if *by < 0.0 {
                "the other side from".to_owned()
            } else if *by >= 1.0 {
                format!("{} times", reckon::print::significant(*by, 4))
            } else {
                format!("one {}th of", reckon::print::significant(1.0 / by, 4))
            };
            let times = times.replace("2 times", "twice").replace("one 2th of", "half of");
            (
                format!("{read} is {times} {}, near to what is wanted ({wanted}): {like}?", show(*would_be)),
                Some(show(*would_be)),
            )
        }
        Doubt::Far => (format!("{read} is more than a third off what is wanted ({wanted})"), None),
        Doubt::CannotBe { between } => {
            (format!("{read} is more than its metal can be: {} at the most", show(between.1)), None)
        }
        Doubt::Wild { middle, spread } => (
            format!(
                "{read} is far from what was read before: {} and they differ by {} among each other",
                show(*middle),
                show(*spread)
            ),
            None,
        ),
        Doubt::Same { times } => {
            (format!("{read} was read {times} times before, to the last digit: entered twice?"), None)
        }
        Doubt::Scrapped => (
            "it was scrapped: what is measured now belongs to its successor, which is not begun".to_owned(),
            None,
        ),
        Doubt::NoSize => (format!("{read} is no size"), None),
        Doubt::NotBegun if size.name.contains(".stock.") => return,
        Doubt::NotBegun => {
            answer.told.push("nothing of this part was entered before: it counts as begun now".to_owned());
            return;
        }
        Doubt::Made => {
            answer.told.push("the part is made: this reading says what it is now".to_owned());
            return;
        }
    };
    answer.asks.push(Asks { says, would_be, doubt: Some(d.clone()), refuses: d.refuses() });
}
