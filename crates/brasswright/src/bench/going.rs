//! Going: the movement let go in simulation before it is cut: what may spoil it, arc and rate through the wind, the
//! escapement moving by its true outlines, and what the simulation shows drawn.

use super::asked::Asked;
use super::clock::worry;
use super::floor::{Gone, State};
use super::frame::{Frame, tile_of, why_of};
use going::End;
use going::forecast::Settled;
use maud::{Markup, html};
use reckon::print::signed;
use reckon::{Id, Origin};

/// The page.
#[must_use]
pub fn page(asked: &Asked, state: &State, gone: &Gone) -> Markup {
    let inside = html! {
        h1 { "Going" }
        @match gone {
            Ok(gone) => (found(gone)),
            Err(all) => {
                p { "It cannot be let go in simulation yet." }
                div.worries { @for t in all.iter() { (worry(t, false)) } }
            }
        }
    };
    Frame::of(asked, state, "Going", "going").around(&inside)
}
fn found(gone: &State) -> Markup {
    let Some((model, found)) = &gone.work.going else { return html! {} };
    let failing: Vec<_> = gone
        .work
        .book
        .failing()
        .filter(|l| l.name.starts_with("going."))
        .filter_map(|l| gone.work.failing(&l.name))
        .collect();
    let likely =
        found.stand(model.supply.places.len() / 2, End::Likely).or_else(|| found.stand(0, End::Likely));
    let settled = likely.and_then(|s| s.found.as_ref().ok());
    let version = super::route::mark();
    html! {
        p.soft { "The " (model.kind.word()) " escapement as drawn, with what is measured so far. No single figure is promised: each place of the wind is shown with the losses low, likely and high." }
        @if failing.is_empty() {
            div.notice.good { p { strong { "It goes." } " Nothing that the simulation judges fails." } }
        } @else {
            h2 { "Worries " span.soft { (failing.len()) } }
            div.worries { @for t in &failing { (worry(t, false)) } }
        }
        @if let Some(s) = settled {
            h2 { "In the middle of the wind, losses likely" }
            div.numbers {
                (shown(tile_of(gone, "arc, to one side", s.arc.id())))
                (rate(gone, s))
                (shown(tile_of(gone, "drop", s.drop.id())))
                (shown(tile_of(gone, "power it takes", s.power.id())))
                (shown(tile_of(gone, "least arc at which it still goes", s.least.id())))
                @if let Some(h) = likely.and_then(|l| l.in_hand.as_ref()) { (shown(tile_of(gone, "torque over the least it needs", h.id()))) }
            }
        }
        @if let Some(id) = found.table { (table(gone, "Through the wind", id)) }
        @if let Some(picture) = crate::going::page::picture(model) {
            h2 { "Moving" }
            p.soft { "Its way is that of the simulation. The arrow is the force of the tooth on the pallet." }
            p.only-plain { "It moves where scripts may run; here it stands as it begins." }
            section aria-label="The escapement, moving" { (picture) }
            link rel="stylesheet" href={ "/going.css?" (version) };
            script src={ "/going.js?" (version) } defer {}
        }
        @if let Some(movement) = &gone.work.movement { (crate::going::page::drawings(movement, model, found)) }
        @if let Some(id) = found.flows { (table(gone, "Where the energy of a beat goes", id)) }
        @if let Some(id) = found.events { (table(gone, "What happens in a cycle", id)) }
    }
}
fn shown(tile: Option<Markup>) -> Markup {
    tile.unwrap_or_default()
}
/// The rate with its sign: against the wanted beat, the pendulum as it is set out; the nut takes it away.
fn rate(gone: &State, s: &Settled) -> Markup {
    let seconds = s.rate.bare().value();
    let name = gone.work.book.line(s.rate.id()).map(|l| l.name.clone()).unwrap_or_default();
    html! { a href=(why_of(&name)) title=(name) { b { (signed(seconds, 2)) " s/day" } span { "rate as set out, before the nut" } } }
}
/// A table of the simulation's book.
fn table(gone: &State, head: &str, id: Id) -> Markup {
    let Some(line) = gone.work.book.line(id) else { return html! {} };
    let Origin::Table { columns, rows, .. } = &line.origin else { return html! {} };
    html! {
        h2 { (head) " " a.small href=(why_of(&line.name)) { "why" } }
        div.scroll tabindex="0" role="group" aria-label=(head) { table {
            thead { tr { @for c in columns { th scope="col" { (c) } } } }
            tbody { @for r in rows { tr { @for c in r { td { (gone.sentence(&c.shown)) } } } } }
        } }
    }
}
