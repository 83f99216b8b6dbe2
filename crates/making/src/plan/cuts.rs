//! Turning a diameter: how many cuts, where the dial stands, what to measure.

use super::bench::Bench;
use super::grip::GripPlan;
use super::{Caution, Check, Figure, Operation, PassTable, Spread};
use crate::kernel::speed::Kind;
use crate::nc::lathe::OnLathe;
use movement::part::Step;
use reckon::source::GEOMETRY;
use reckon::{Cell, Count, Diameter, Length, Source, Val, work};
use record::facts::Size;

/// What is left for the last cut.
pub static FINISH: Source = Source::practice(
    "left for the finishing cut: 0.3 mm on the diameter, less where the work would bend under it; measured before it",
);

/// What is left for the finish.
pub static LEFT: Source = Source::practice(
    "what the ladder, the burnisher or the turning after the heat takes off is left on before, as far as the bar gives it",
);

/// Cuts from one diameter to another.
pub struct Turned {
    /// The operation.
    pub operation: Operation,
    /// Number of cuts, the last included.
    pub cuts: i64,
}
/// Number of roughing cuts that bring `from` down to `to`, none deeper than `deepest`.
fn rough_cuts(from: Diameter, to: Diameter, deepest: Length) -> Count {
    let per = (deepest * 2.0).value();
    let take = (from - to).value();
    if take <= 1e-12 || per <= 0.0 {
        return Count(0);
    }
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a number of cuts, bounded by take over a hundredth of a millimetre"
    )]
    Count(((take / per) - 1e-9).ceil().clamp(1.0, 1e6) as i64)
}
/// With its article, unless it is known by a number.
pub fn the(what: &str) -> String {
    if what.contains(|c: char| c.is_ascii_digit()) { what.to_owned() } else { format!("the {what}") }
}
/// Half-way between the limits of a size: what to aim at.
pub fn aim(b: &mut Bench<'_>, at: &str, size: &Size<Diameter>) -> Val<Diameter> {
    let (nominal, upper, lower) = (size.nominal, size.upper, size.lower);
    work!(
        b.book,
        b.name(&format!("{at}.aim")),
        |nominal, upper, lower| nominal + (upper + lower) / 2.0,
        &GEOMETRY
    )
}
/// What is left on a step for its finish, as far as the metal that stands there gives it.
fn left(
    b: &mut Bench<'_>,
    at: &str,
    step: &Step,
    from: Val<Diameter>,
    size: Val<Diameter>,
) -> Option<Val<Length>> {
    let wanted = b.wanted.left(step)?;
    let left = work!(
        b.book,
        b.name(&format!("{at}.left")),
        |wanted, from, size| wanted.min((from - size).max(Length::ZERO)),
        &LEFT
    );
    (left.bare() > Length::ZERO).then_some(left)
}
/// Limits of a size as a check.
pub fn check(what: &str, size: &Size<Diameter>) -> Check {
    check_with(what, size, Length::ZERO)
}
/// The same while something is left on it.
fn check_with(what: &str, size: &Size<Diameter>, left: Length) -> Check {
    let nominal = size.nominal.bare() + left;
    Check {
        what: what.to_owned(),
        limits: Some(((nominal + size.upper.bare()).across(), (nominal + size.lower.bare()).across())),
        seen: None,
        id: Some(size.nominal.id()),
    }
}
/// Limits of a length as a check.
pub fn check_length(what: &str, nominal: Val<Length>, upper: Length, lower: Length) -> Check {
    Check {
        what: what.to_owned(),
        limits: Some((nominal.bare() + upper, nominal.bare() + lower)),
        seen: None,
        id: Some(nominal.id()),
    }
}
/// Turns one step down from what stands there.
pub fn turn(
    b: &mut Bench<'_>,
    at: &str,
    step: &Step,
    from: Val<Diameter>,
    length: Val<Length>,
    grip: &GripPlan,
) -> Turned {
    let size = aim(b, at, &step.size);
    let left = left(b, at, step, from, size);
    let target = match left {
        Some(left) => work!(b.book, b.name(&format!("{at}.turn_to")), |size, left| size + left, &LEFT),
        None => size,
    };
    let (deepest, finish) = (grip.deepest, grip.finish);
    let leave = work!(
        b.book,
        b.name(&format!("{at}.leave")),
        |deepest, finish| (deepest.min(finish) * 2.0).min(Length::mm(0.3)).max(Length::mm(0.04)),
        &FINISH
    );
    let roughed = work!(b.book, b.name(&format!("{at}.roughed")), |target, leave| target + leave, &FINISH);
    let n = work!(
        b.book,
        b.name(&format!("{at}.rough_cuts")),
        |from, roughed, deepest| rough_cuts(from, roughed, deepest),
        &FINISH
    );
    let rows = rows(b, from.bare(), roughed.bare(), target.bare(), n.bare().0);
    let cuts = n.bare().0 + 1;
    let inputs = vec![from.id(), roughed.id(), target.id(), n.id()];
    let shows = dial_heading(b);
    let table = b.book.table(
        b.name(&format!("{at}.cuts")),
        &["cut", "diameter after", shows.as_str()],
        rows,
        "equal roughing cuts none deeper than the grip and the lathe allow, then a finishing cut",
        inputs,
        &FINISH,
    );
    let speed = b.spindle(at, Kind::Turning, false, from);
    let infeed = work!(
        b.book,
        b.name(&format!("{at}.infeed")),
        |from, target| from.radius() - target.radius(),
        &GEOMETRY
    );
    let mut lines =
        vec![format!("Touch the tool on {} and set the cross-slide dial to nothing.", from.shown())];
    if cuts > 1 {
        lines.push(
            "Take the cuts of the table; measure before the last and correct it by half the difference."
                .to_owned(),
        );
    } else {
        lines.push("One cut; measure close to the free end before going along.".to_owned());
    }
    let minutes = cut_minutes(b, length.bare(), speed.bare().in_rpm(), cuts);
    let mut figures = vec![Figure::of("turn to", &target), Figure::of("over a length of", &length)];
    if let Some(left) = &left {
        figures.push(Figure::of("left for the finish", left));
    }
    if let Some(dial) = &b.lathe.cross_slide {
        figures.push(Figure::as_text("last dial", &infeed, dial.dial().text(infeed.bare())));
    }
    let operation = Operation {
        title: match &step.thread {
            Some(t) => format!("Turn the blank for {}", t.of.thread.name),
            None => format!("Turn {}", the(&step.what)),
        },
        lines,
        tool: Some(tool(b)),
        speed: Some(speed),
        feed: Some(if cuts > 1 { b.rough_feed } else { b.fine_feed }),
        figures,
        tables: if cuts > 1 { vec![PassTable { title: "cuts".to_owned(), id: table }] } else { Vec::new() },
        checks: vec![check_with(&step.what, &step.size, left.map_or(Length::ZERO, |l| l.bare()))],
        cautions: vec![Caution::Turning],
        does: vec!["form"],
        program: Some(OnLathe::Turn { from: step.from.bare().in_mm(), radius: target.bare().in_mm() / 2.0 }),
        heat: None,
        holes: Vec::new(),
        no_spindle: None,
        time: Spread::around(minutes),
    };
    Turned { operation, cuts }
}
fn dial_heading(b: &Bench<'_>) -> String {
    match &b.lathe.cross_slide {
        Some(d) if d.shows == reckon::print::DialSense::Diameter => "dial (diameter)".to_owned(),
        Some(_) => "dial (travel)".to_owned(),
        None => "slide in by".to_owned(),
    }
}
fn rows(b: &Bench<'_>, from: Diameter, roughed: Diameter, target: Diameter, n: i64) -> Vec<Vec<Cell>> {
    let mut rows = Vec::new();
    let mut row = |label: String, d: Diameter| {
        let travel = from.radius() - d.radius();
        let dial = b
            .lathe
            .cross_slide
            .as_ref()
            .map_or_else(|| reckon::Shown::shown(&travel), |x| x.dial().text(travel));
        rows.push(vec![Cell::word(label), Cell::of(&d), Cell::as_text(&travel, dial)]);
    };
    for k in 1..=n {
        #[expect(clippy::cast_precision_loss, reason = "a small number of cuts")]
        let share = k as f64 / n as f64;
        row(k.to_string(), from - (from - roughed) * share);
    }
    row(if n > 0 { "last, after measuring".to_owned() } else { "1".to_owned() }, target);
    rows
}
/// The turning tool of the shop, or an ordinary one.
pub fn tool(b: &Bench<'_>) -> String {
    let brass = b.metal.metal == crate::kernel::speed::Metal::Brass;
    let own = b.shop.cutters.iter().find(|c| c.of == record::facts::CutterUse::Turning && c.made);
    let name = own.map_or("knife tool", |c| c.name.as_str());
    if brass { format!("{name}, flat on top (no rake for brass)") } else { name.to_owned() }
}
/// Minutes of `cuts` cuts along a length, with as much again for bringing the tool back and measuring.
pub fn cut_minutes(b: &Bench<'_>, along: Length, rpm: f64, cuts: i64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a small number of cuts")]
    let n = cuts as f64;
    let each = along.in_mm() / (b.rough_feed.bare().in_mm().max(0.005) * rpm.max(1.0));
    (n * (each * 1.2 + 0.4)).max(0.8)
}
