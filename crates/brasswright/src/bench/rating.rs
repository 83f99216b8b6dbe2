//! The log of the clock beside a reference: readings, what they come to, what to do, and the next reading.

use super::asked::Asked;
use super::at_bench::key;
use super::floor::State;
use super::frame::Frame;
use super::plan::{Plan, ticks};
use crate::enter::rating::rated;
use crate::enter::typed::{Rated, Rating};
use crate::enter::when;
use kurbo::{Point, Rect};
use maud::{Markup, html};
use reckon::print::{fixed, signed};

/// How many readings are shown.
const MOST: usize = 60;

/// The page.
#[must_use]
pub fn page(asked: &Asked, state: &State) -> Markup {
    let log = rated(state.standing(), &state.work.book);
    let s = state.standing();
    let mut all: Vec<&(u64, journal::Rating)> = s.ratings.iter().chain(&s.heard).collect();
    all.sort_by(|a, b| b.1.at.total_cmp(&a.1.at));
    let inside = html! {
        h1 { "Rating" }
        @match &log {
            None => p.soft { "No reading yet. Set the hands by a reference, let the clock settle for a day, then enter how far it is off at the same hour each day." },
            Some(r) => (said(r)),
        }
        div.columns.even {
            div { h2 { "A reading" } (form()) }
            div {
                @if let Some(r) = &log { @if r.points.len() > 1 { figure { (drawn(r)) figcaption { "Seconds ahead of the reference, since it was last touched." } } } }
            }
        }
        @if !all.is_empty() {
            h2 { "Readings" }
            div.scroll { table {
                thead { tr { th scope="col" { "when" } th.n scope="col" { "off, s" } th.n scope="col" { "± s" } th.n scope="col" { "°C" } th.n scope="col" { "hPa" } th.n scope="col" { "swing" } th scope="col" { "touched" } th scope="col" { "by" } th scope="col" { "entry" } } }
                tbody { @for (number, r) in all.iter().take(MOST) { (row(*number, r)) } }
            } }
        }
    };
    Frame::of(asked, state, "Rating", "rating").around(&inside)
}
fn said(r: &Rated) -> Markup {
    let tiles = [
        ("rate", r.rate.as_ref()),
        ("standard error", r.error.as_ref()),
        ("scatter about it", r.scatter.as_ref()),
        ("heard", r.heard.as_ref()),
    ];
    html! {
        div.notice { p { strong { "What to do: " } (r.advice) "." } }
        div.numbers { @for (label, value) in tiles { @if let Some(v) = value { div { b { (v) } span { (label) } } } } }
        @if let Some(k) = &r.per_kelvin { p { "By warmth: " (k) "." } }
        @if let Some(b) = &r.per_hectopascal { p { "By the barometer: " (b) "." } }
        p.small.soft { (r.readings) @if r.readings == 1 { " reading" } @else { " readings" } " since it was last touched" @if !r.days.is_empty() { ", over " (r.days) " days" } "." }
    }
}
fn form() -> Markup {
    let number = |id: &str, label: &str| {
        html! { label for=(id) { (label) } input id=(id) name=(id) type="number" step="any" inputmode="decimal" autocomplete="off"; }
    };
    html! {
        form method="post" action="/rating" data-send="rating" {
            (key())
            fieldset.choices { legend { "The clock is" }
                label { input type="radio" name="way" value="ahead" required; " ahead" }
                label { input type="radio" name="way" value="behind"; " behind" }
            }
            label for="off" { "by so many seconds" }
            input #off .reading type="number" step="any" min="0" inputmode="decimal" name="off" autocomplete="off" required;
            (number("doubt", "give or take, s"))
            (number("warmth", "temperature, °C"))
            (number("pressure", "barometer, hPa"))
            (number("arc", "swing from the middle to one side, degrees"))
            details {
                summary { "Touched just before" }
                p.small.soft { "What is done to the clock begins a new run of readings." }
                label.tick { input type="checkbox" name="set" value="yes"; " hands set" }
                (number("nut", "turns of the nut, bob up +"))
                (number("tray", "put on the tray, g; taken off −"))
            }
            label for="by" { "by what reference" }
            input #by type="text" name="by" maxlength="60";
            p { button.first.whole type="submit" { "Enter" } }
        }
    }
}
/// What was sent, as typed; or what is wrong with it.
///
/// # Errors
/// A sentence that says what is missing.
pub fn typed(asked: &Asked) -> Result<Rating, String> {
    let f = &asked.form;
    let with = |name: &str, unit: &str| f.get(name).map(|v| format!("{v} {unit}"));
    let off = f.get("off").ok_or("how far the clock is off was not told")?;
    let off = off.trim_start_matches(['+', '-', '−']);
    let sign = match f.get("way") {
        Some("ahead") => "",
        Some("behind") => "-",
        _ => return Err("whether the clock is ahead or behind was not told".to_owned()),
    };
    Ok(Rating {
        // What waited in a phone was read when it was typed.
        when: f.get("at").and_then(super::entry::stamp),
        offset: format!("{sign}{off} s"),
        give_or_take: with("doubt", "s"),
        temperature: with("warmth", "degC"),
        pressure: with("pressure", "hPa"),
        arc: with("arc", "deg"),
        nut: f.get("nut").map(str::to_owned),
        tray: with("tray", "g"),
        set: f.get("set").is_some(),
        by: f.get("by").unwrap_or("page").to_owned(),
        ..Rating::default()
    })
}
fn row(number: u64, r: &journal::Rating) -> Markup {
    let maybe = |v: Option<f64>, places: usize| v.map(|v| fixed(v, places)).unwrap_or_default();
    let touched = [
        r.set.then(|| "hands set".to_owned()),
        r.nut.map(|n| format!("nut {} turns", signed(n, 2))),
        r.tray.map(|t| format!("tray {} g", signed(t * 1e3, 2))),
    ];
    let touched: Vec<String> = touched.into_iter().flatten().collect();
    html! {
        tr {
            td { (moment(r.at)) }
            @if let Some(h) = &r.heard { td.n colspan="2" { (crate::enter::rating::shown(h.rate, h.within)) } }
            @else { td.n { (signed(r.offset, 2)) } td.n { (maybe(r.give_or_take, 2)) } }
            td.n { (maybe(r.temperature.map(|t| t - 273.15), 1)) } td.n { (maybe(r.pressure.map(|p| p / 100.0), 0)) }
            td.n { @if let Some(a) = r.arc { (fixed(a.to_degrees(), 2)) "°" } }
            td { (touched.join(", ")) } td.soft { (r.by) }
            td { a href={ "/journal#e" (number) } { (number) } }
        }
    }
}
/// A moment to the minute, universal time.
fn moment(at: f64) -> String {
    #[expect(clippy::cast_possible_truncation, reason = "seconds since 1970, whole ones")]
    let text = when::text(at as i64);
    text.replace('T', " ").chars().take(16).collect()
}
/// Seconds ahead over days.
fn drawn(r: &Rated) -> Markup {
    let (days, ahead): (Vec<f64>, Vec<f64>) = r.points.iter().copied().unzip();
    let span = |all: &[f64]| {
        let (a, b) = all.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(*v), b.max(*v)));
        let more = ((b - a) * 0.08).max(1e-3);
        (a - more, b + more)
    };
    let ((x0, x1), (y0, y1)) = (span(&days), span(&ahead));
    let (wide, high, left, foot) = (420.0, 220.0, 56.0, 30.0);
    let at =
        |d: f64, s: f64| Point::new(left + wide * (d - x0) / (x1 - x0), foot + high * (s - y0) / (y1 - y0));
    let view = Rect::new(0.0, -4.0, left + wide + 12.0, foot + high + 12.0);
    let mut plan = Plan::of(view, "seconds ahead of the reference over days");
    for y in ticks(y0, y1, 5) {
        plan.line(at(x0, y), at(x1, y), "thin", 1.0);
        plan.words(
            Point::new(left - 6.0, at(x0, y).y - 4.0),
            "end",
            "",
            12.0,
            &reckon::print::significant(y, 4),
        );
    }
    for x in ticks(x0, x1, 6) {
        plan.words(Point::new(at(x, y0).x, 6.0), "middle", "", 12.0, &reckon::print::significant(x, 4));
    }
    plan.words(Point::new(left + wide, foot + 6.0), "end", "", 12.0, "days");
    for (d, s) in &r.points {
        let title = format!("after {} days {} s", fixed(*d, 2), signed(*s, 2));
        plan.about(None, &title, |plan| plan.circle(at(*d, *s), 5.0, "fullgood", 0.0));
    }
    for two in r.points.windows(2) {
        plan.line(at(two[0].0, two[0].1), at(two[1].0, two[1].1), "line", 1.5);
    }
    plan.done()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::asked::Form;

    fn sent(fields: &[(&str, &str)]) -> Asked {
        let form = fields.iter().map(|(a, b)| ((*a).to_owned(), (*b).to_owned())).collect();
        Asked { form: Form(form), ..Asked::default() }
    }
    #[test]
    fn readings_are_made_of_what_was_sent() {
        let r = typed(&sent(&[("way", "behind"), ("off", "2.5"), ("warmth", "19"), ("tray", "-0.5")]));
        let r = r.expect("a reading");
        assert_eq!((r.offset.as_str(), r.temperature.as_deref()), ("-2.5 s", Some("19 degC")));
        assert_eq!((r.tray.as_deref(), r.set, r.by.as_str()), (Some("-0.5 g"), false, "page"));
        // A sign typed by habit does not turn the way round.
        assert_eq!(typed(&sent(&[("way", "ahead"), ("off", "-3")])).expect("a reading").offset, "3 s");
    }
    #[test]
    fn a_reading_without_its_way_is_asked_for() {
        assert!(typed(&sent(&[("off", "2")])).expect_err("no way").contains("ahead or behind"));
        assert!(typed(&sent(&[("way", "ahead")])).expect_err("no size").contains("how far"));
    }
}
