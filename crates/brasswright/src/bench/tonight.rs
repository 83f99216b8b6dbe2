//! Tonight: what fits the hours given, with what is set up now. What is done is known from the journal.

use super::asked::{Asked, encoded};
use super::floor::State;
use super::frame::Frame;
use crate::enter::jobs;
use making::plan::order::tonight::{Evening, Tonight, meant, tonight};
use making::plan::order::{Job, Of, Order};
use maud::{Markup, html};
use reckon::print::fixed;
use std::collections::BTreeSet;

/// How many further jobs are shown.
const BESIDE: usize = 12;

/// The page.
#[must_use]
pub fn page(asked: &Asked, state: &State) -> Markup {
    let Some(making) = state.making() else {
        let inside =
            html! { h1 { "Tonight" } p.soft { "What can be done tonight needs a design and a shop." } };
        return Frame::of(asked, state, "Tonight", "tonight").around(&inside);
    };
    let order = &making.order;
    let own = order.hours.evening.bare().value() / 3600.0;
    let typed = asked.query.get("hours");
    let hours =
        typed.and_then(|h| h.replace(',', ".").parse::<f64>().ok()).filter(|h| *h > 0.0 && *h <= 24.0);
    let words = asked.query.get("set_up").map(str::to_owned);
    let unknown = words.as_ref().and_then(|w| meant(order, w).err());
    let set_up = words.clone().filter(|_| unknown.is_none());
    let done = jobs::done(&state.work, state.standing());
    let ask = Evening { minutes: hours.unwrap_or(own) * 60.0, set_up, done };
    let found = tonight(order, &ask);
    let inside = html! {
        h1 { "Tonight" }
        form method="get" action="/tonight" {
            div.pair {
                div { label for="hours" { "Hours there are" } input #hours type="text" inputmode="decimal" name="hours" value=(fixed(hours.unwrap_or(own), 1)); }
                div {
                    label for="set_up" { "What is set up now" }
                    select #set_up name="set_up" {
                        option value="" { "nothing" }
                        @for s in set_ups(order) { option value=(s) selected[words.as_ref() == Some(&s)] { (state.sentence(&s)) } }
                    }
                }
            }
            p { button type="submit" { "Show" } }
        }
        @if typed.is_some() && hours.is_none() { div.notice.bad role="alert" { p { "Hours from above 0 to 24 are due, such as 2.5; shown is an evening of " (fixed(own, 1)) " h." } } }
        @if let Some(t) = &unknown { div.notice.bad role="alert" { p { (t.says) } } }
        (picks(state, order, &ask, &found))
        @if !found.others.is_empty() {
            h2 { "Also waiting for nothing" }
            table { tbody { @for i in found.others.iter().take(BESIDE) {
                @let j = &order.jobs[*i];
                tr { td { (named(state, j)) } td.n { (fixed(j.work.0 + j.anew.0, 0)) " min" } }
            } } }
            @if found.others.len() > BESIDE { p.soft.small { "and " (found.others.len() - BESIDE) " more" } }
        }
        p.soft { (order.jobs.len()) " jobs in all: " (found.done) " done, " (found.waiting) " wait for something unfinished." }
    };
    Frame::of(asked, state, "Tonight", "tonight").around(&inside)
}
fn picks(state: &State, order: &Order, ask: &Evening, found: &Tonight) -> Markup {
    html! {
        @if found.picks.is_empty() {
            p { "Nothing fits " (fixed(ask.minutes / 60.0, 1)) " h with what is open tonight." }
        } @else {
            h2 { "In this order" }
            div.scroll { table {
                thead { tr { th scope="col" { "from" } th scope="col" { "job" } th scope="col" { "why now" } } }
                tbody { @for p in &found.picks {
                    @let j = &order.jobs[p.job];
                    tr {
                        td.n { (clock(p.from)) br; span.soft { @if p.part { "a part" } @else { "to " (clock(p.to)) } } }
                        td {
                            (named(state, j))
                            @if p.sets_up { br; span.soft.small { "set up " (state.sentence(&j.set_up())) ", " (fixed(j.anew.0, 0)) " min" } }
                            @if !p.part && j.wait.0 > 0.0 { br; span.soft.small { "then it goes on by itself: " (j.wait.1) ", " (wait(j.wait.0)) } }
                        }
                        td.soft { (p.why) }
                    }
                } }
            } }
            p { "Four evenings out of five, all of this takes no longer than " (clock(found.sure)) " h of the " (clock(ask.minutes)) " h given." }
        }
    }
}
fn wait(minutes: f64) -> String {
    if minutes >= 1440.0 {
        format!("{} days", fixed(minutes / 1440.0, 0))
    } else {
        format!("{} min", fixed(minutes, 0))
    }
}
fn clock(minutes: f64) -> String {
    let whole = fixed(minutes, 0).parse::<u32>().unwrap_or(0);
    format!("{}:{:02}", whole / 60, whole % 60)
}
/// The name of a job, leading to the bench where there is a way for it.
fn named(state: &State, j: &Job) -> Markup {
    let slug = slug(state, j);
    html! {
        @if let Some(slug) = slug { a href={ "/bench/" (encoded(&slug)) } { (j.name) } }
        @else if matches!(j.kind, Of::Clock(_)) { a href="/setting-up" { (j.name) } }
        @else { (j.name) }
    }
}
fn slug(state: &State, j: &Job) -> Option<String> {
    let making = state.making()?;
    match j.kind {
        Of::Part(i, _) => Some(state.work.parts.get(making.parts.get(i)?.part)?.slug().to_owned()),
        Of::Tool(i) => Some(making.tools.get(i)?.slug.clone()),
        Of::Jig(i) => Some(making.jigs.get(i)?.part.slug().to_owned()),
        Of::Buy | Of::Clock(_) => None,
    }
}
fn set_ups(order: &Order) -> BTreeSet<String> {
    order.jobs.iter().filter(|j| !j.held.is_empty()).map(Job::set_up).collect()
}
