//! Measured: every reading against its limits, and hours done against planned.

use super::asked::{Asked, encoded};
use super::clock::hours;
use super::floor::State;
use super::frame::{Frame, bar, stands, why_of};
use super::plan::Plan;
use super::steps::{self, Way};
use journal::Reading;
use kurbo::{Point, Rect};
use maud::{Markup, html};
use reckon::Length;
use reckon::print::fixed;
use sheets::packet::figures;
use std::collections::BTreeMap;

/// A size that was read: its name, which piece, and its readings.
type Sized<'a> = (&'a str, Option<u32>, &'a [(u64, Reading)]);

/// The page.
#[must_use]
pub fn page(asked: &Asked, state: &State) -> Markup {
    let ways = steps::ways(state);
    let mut by_part: BTreeMap<&str, Vec<Sized<'_>>> = BTreeMap::new();
    for ((name, piece), all) in &state.standing().readings {
        let of = ways.iter().filter(|w| journal::standing::under(name, w.slug)).max_by_key(|w| w.slug.len());
        by_part.entry(of.map_or("", |w| w.name)).or_default().push((name, *piece, all));
    }
    let h = hours(state, &ways);
    let begun: Vec<&Way<'_>> = ways.iter().filter(|w| w.far(state.standing()).0 > 0).collect();
    let inside = html! {
        h1 { "Measured" }
        @if by_part.is_empty() { p.soft { "Nothing has been measured yet. What is entered at the bench is shown here against its limits." } }
        @for (part, sizes) in &by_part {
            h2 { @if part.is_empty() { "Elsewhere" } @else { (part) } }
            figure { (chart(state, part, sizes)) }
        }
        @if !by_part.is_empty() { p.small.soft { "Each line is one size from its least to its greatest; the dot is what was measured, its whiskers what the tool may be off by. A dot outside the bar is outside its limits." } }
        h2 { "Hours" }
        p { (fixed(h.done, 1)) " h of " (fixed(h.planned, 1)) " h planned are done; " (fixed(h.took, 1)) " h were timed." }
        (bar(h.done, h.planned, "planned hours that are done"))
        @if !begun.is_empty() {
            div.scroll { table {
                thead { tr { th scope="col" { "part" } th scope="col" { "stands" } th.n scope="col" { "planned" } th.n scope="col" { "of it done" } th.n scope="col" { "timed" } th scope="col" { "" } } }
                tbody { @for w in begun { (row(state, w)) } }
            } }
        }
    };
    Frame::of(asked, state, "Measured", "measured").around(&inside)
}
fn row(state: &State, w: &Way<'_>) -> Markup {
    let one = std::slice::from_ref(w);
    let h = hours(state, one);
    let took: f64 = state.standing().took.iter().filter(|t| t.0 == w.slug).map(|t| t.2 / 3600.0).sum();
    html! {
        tr {
            td.name { a href={ "/parts/" (encoded(w.slug)) } { (w.name) } }
            td { (stands(w.stands(state.standing()))) }
            td.n { (fixed(h.planned, 1)) " h" } td.n { (fixed(h.done, 1)) " h" }
            td.n { @if took > 0.0 { (fixed(took, 1)) " h" } }
            td { (bar(h.done, h.planned, "share that is done")) }
        }
    }
}
/// A dotted name in words, without the part that it stands under.
fn words(name: &str, part: &str) -> String {
    let slug = reckon::slug(part);
    let rest =
        name.strip_prefix(&slug.replace(' ', ".")).or_else(|| name.strip_prefix(&slug)).unwrap_or(name);
    let rest = rest.trim_start_matches('.');
    rest.split('.').filter(|p| !p.starts_with("setup")).collect::<Vec<_>>().join(" ").replace('_', " ")
}
/// Sizes of a part, each against its limits: all bars are as long, so that what is close to an edge is seen.
fn chart(state: &State, part: &str, sizes: &[Sized<'_>]) -> Markup {
    // Words stand over their bar: as narrow as a phone, and large enough there to be read.
    let (wide, each) = (252.0, 56.0);
    let tall = sizes.len() as f64 * each;
    let mut plan = Plan::of(Rect::new(0.0, -tall - 8.0, 400.0, 8.0), "measured sizes against their limits");
    for (i, (name, piece, all)) in sizes.iter().enumerate() {
        let y = -(i as f64 + 0.66) * each;
        let Some((_, last)) = all.last() else { continue };
        let Some(actual) = state.standing().actual(name, *piece) else { continue };
        let label = piece.map_or_else(|| words(name, part), |p| format!("{}, piece {p}", words(name, part)));
        let shown = |x: f64| {
            if last.unit == "m" {
                figures::length(Length::si(x), state.style())
            } else {
                format!("{} {}", reckon::print::significant(x, 5), last.unit)
            }
        };
        let limits = last.wanted.filter(|w| w.most > w.least);
        let title = match limits {
            Some(w) => format!(
                "{label}: {} measured, {} to {} wanted",
                shown(actual.value),
                shown(w.least),
                shown(w.most)
            ),
            None => format!("{label}: {} measured", shown(actual.value)),
        };
        plan.about(Some(name), &title, |plan| {
            let short: String = if label.chars().count() > 38 {
                label.chars().take(36).chain("…".chars()).collect()
            } else {
                label.clone()
            };
            plan.words(Point::new(10.0, y + 15.0), "start", "", 14.0, &short);
            plan.words(Point::new(390.0, y - 5.0), "end", "", 14.0, &shown(actual.value));
            let Some(w) = limits else { return };
            // A quarter of the width beyond each limit is shown; further out the dot stays at the edge.
            let span = w.most - w.least;
            let x = |v: f64| 10.0 + wide * (0.25 + ((v - w.least) / span).clamp(-0.24, 1.24)) / 1.5;
            plan.rect(Rect::new(x(w.least), y - 8.0, x(w.most), y + 8.0), "good", 1.0);
            let middle = f64::midpoint(w.least, w.most);
            plan.line(Point::new(x(middle), y - 8.0), Point::new(x(middle), y + 8.0), "thin", 1.0);
            if let Some(g) = actual.give_or_take {
                plan.line(
                    Point::new(x(actual.value - g), y),
                    Point::new(x(actual.value + g), y),
                    "line",
                    2.0,
                );
            }
            let within = actual.value >= w.least - 1e-12 && actual.value <= w.most + 1e-12;
            plan.circle(
                Point::new(x(actual.value), y),
                5.5,
                if within { "fullgood" } else { "fullbad" },
                0.0,
            );
        });
    }
    html! { (plan.done()) p.unseen { @for (name, piece, _) in sizes { a href=(why_of(name)) { (name) @if let Some(p) = piece { " piece " (p) } } " " } } }
}
