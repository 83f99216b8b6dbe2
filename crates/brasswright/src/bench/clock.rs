//! Clock: the worries first, then the numbers that say what clock it is, then how far it has come.

use super::asked::Asked;
use super::floor::State;
use super::frame::{Frame, bar, stands, tiles, why_of};
use super::steps::{self, Way};
use journal::State as Stands;
use maud::{Markup, html};
use reckon::print::fixed;
use reckon::{Kind, Trouble};

/// What says in numbers what clock it is: label, name in the book. Those that a clock lacks are left out.
const NUMBERS: [(&str, &str); 17] = [
    ("beats an hour", "train.beats_per_hour"),
    ("goes for", "wanted.duration"),
    ("pendulum, in theory", "pendulum.theoretical_length"),
    ("one turn of the rating nut", "pendulum.nut.turn"),
    ("escaping arc", "escapement.escaping_arc"),
    ("weight", "drive.weight.mass"),
    ("fall", "drive.fall"),
    ("power over need", "drive.margin.likely"),
    ("arc that settles", "drive.arc.likely"),
    ("plates apart", "plates.gap"),
    ("escape wheel", "escape.wheel.teeth"),
    ("great wheel", "great.wheel.teeth"),
    ("centre wheel", "centre.wheel.teeth"),
    ("third wheel", "third.wheel.teeth"),
    ("work in all", "order.hours"),
    ("evenings", "order.evenings"),
    ("weeks", "order.weeks"),
];

/// The page.
#[must_use]
pub fn page(asked: &Asked, state: &State) -> Markup {
    let found = state.work.found();
    let (bad, mild): (Vec<&Trouble>, Vec<&Trouble>) = found.iter().partition(|t| t.stops());
    let ways = steps::ways(state);
    let inside = html! {
        h1 { (state.name()) }
        section aria-labelledby="worries" {
            h2 #worries { @if found.is_empty() { "No worries" } @else { "Worries " span.soft { (found.len()) } } }
            @if found.is_empty() {
                p.soft { "Everything that could be judged holds. What was assumed is listed under " a href="/why?name=assumed" { "Why" } "." }
            }
            div.worries {
                @for t in bad.iter().take(MOST) { (worry(t, false)) }
                @for t in mild.iter().take(MOST) { (worry(t, true)) }
            }
            @if bad.len().max(mild.len()) > MOST { p.soft { "More of them: brasswright check lists all." } }
        }
        div.columns {
            section aria-labelledby="numbers" {
                h2 #numbers { "In numbers" }
                (tiles(state, &NUMBERS))
                p.small.soft { "Tap a number to see why it is what it is." }
            }
            section aria-labelledby="far" {
                h2 #far { "How far" }
                (far(state, &ways))
            }
        }
        p.small.soft {
            "Light: " a href="/light/own" { "as the device" } " · " a href="/light/light" { "light" } " · " a href="/light/dark" { "dark" }
        }
    };
    Frame::of(asked, state, state.name(), "clock").around(&inside)
}
/// How many worries are shown of a kind.
const MOST: usize = 30;

/// Something that does not hold, opened under a tap.
#[must_use]
pub fn worry(t: &Trouble, mild: bool) -> Markup {
    // The name that tells more stands in the last cure of a verdict.
    let ask = t.cures.iter().find_map(|c| c.strip_prefix("see how it was had: brasswright why "));
    let kind = match t.kind {
        Kind::Text => "in the text",
        Kind::Shop => "in the shop",
        Kind::Design => "in the design",
        Kind::Unmakeable => "in the making",
        Kind::Ours => "a fault of this program",
    };
    let cures: Vec<&String> = t.cures.iter().filter(|c| !c.starts_with("see how it was had")).collect();
    let (whose, says) = t.says.split_once(": this does not hold: ").unwrap_or(("", &t.says));
    html! {
        details.worry.mild[mild] {
            summary { @if !whose.is_empty() { strong { (whose) } br; "does not hold: " } (says) }
            @if let Some(w) = &t.why { p.why { (w) } }
            @if !cures.is_empty() { p { "What would do, smallest first:" } ul { @for c in cures { li { (c) } } } }
            p.small.soft {
                (kind)
                @for at in &t.at { " · " (at.file) " line " (at.line) }
                @if let Some(name) = ask { " · " a href=(why_of(name)) { "why" } }
            }
        }
    }
}
/// Parts by how they stand, and hours done against planned.
fn far(state: &State, ways: &[Way<'_>]) -> Markup {
    if ways.is_empty() {
        return html! { p.soft { "There is no plan yet: a design and a shop make one." } };
    }
    let so = |s: Stands| ways.iter().filter(|w| w.stands(state.standing()) == s).count();
    let hours = hours(state, ways);
    html! {
        table {
            tbody {
                @for s in Stands::ALL { @if so(s) > 0 || s == Stands::Made {
                    tr { td { (stands(s)) } td.n { (so(s)) } }
                } }
            }
        }
        p { (fixed(hours.done, 1)) " h of " (fixed(hours.planned, 1)) " h planned are behind you" @if hours.took > 0.0 { "; " (fixed(hours.took, 1)) " h were timed" } "." }
        (bar(hours.done, hours.planned, "share of the planned hours that is done"))
        div.presses { a.press.first href="/tonight" { "What fits tonight" } a.press href="/parts" { "All parts" } }
    }
}
/// Hours of steps.
pub struct Hours {
    /// All that is planned.
    pub planned: f64,
    /// Planned hours of what is done.
    pub done: f64,
    /// What was timed.
    pub took: f64,
}
/// Hours done against planned.
#[must_use]
pub fn hours(state: &State, ways: &[Way<'_>]) -> Hours {
    let mut out = Hours { planned: 0.0, done: 0.0, took: 0.0 };
    for w in ways {
        for at in w.stages() {
            // What is done to all pieces together is planned a piece at a time, but for setting up.
            let times = if at.piece.is_none() && at.stage.op.is_some() { f64::from(w.pieces) } else { 1.0 };
            let h = w.time(at.stage).mean() * times / 60.0;
            out.planned += h;
            if w.done(state.standing(), at) {
                out.done += h;
            }
        }
    }
    out.took = state.standing().took.iter().map(|(_, _, s)| s / 3600.0).sum();
    out
}
