//! The shop: what stands in it, as written; and what it has learnt, from its own journal.

use super::asked::Asked;
use super::at_bench::key;
use super::desk::value;
use super::floor::State;
use super::frame::Frame;
use crate::enter::typed::Typed;
use journal::Learnt;
use maud::{Markup, html};
use reckon::{Id, Val};
use record::facts::{Lathe, Mill, Shop};
use std::collections::BTreeMap;

/// What a shop can learn.
const SUBJECTS: [&str; 6] = ["time", "drill", "coupon", "grip", "backlash", "runout"];

/// The page.
#[must_use]
pub fn page(asked: &Asked, state: &State) -> Markup {
    let inside = html! {
        @match state.shop() {
            None => { h1 { "Shop" } p.soft { "No shop is written: put shop.toml beside clock.toml." } },
            Some(shop) => {
                h1 { (shop.name) }
                p.soft { "As shop.toml says it. A number leads to where it was had." }
                (machines(state, shop))
                (small(state, shop))
            },
        }
        (learnt(state))
    };
    Frame::of(asked, state, "Shop", "shop").around(&inside)
}
fn rows(state: &State, of: &[(&str, Vec<Id>)]) -> Markup {
    html! {
        div.scroll { table { tbody { @for (what, ids) in of { @if !ids.is_empty() { tr {
            th scope="row" { (what) }
            td { @for (i, id) in ids.iter().enumerate() { @if i > 0 { ", " } (value(state, *id)) } }
        } } } } } }
    }
}
fn ids<T: reckon::Shown>(all: &[Val<T>]) -> Vec<Id> {
    all.iter().map(Val::id).collect()
}
fn machines(state: &State, shop: &Shop) -> Markup {
    html! {
        @for l in &shop.lathes { section { h2 { (l.name) } (lathe(state, l)) } }
        @for m in &shop.mills { section { h2 { (m.name) } (mill(state, m)) } }
        @if let Some(d) = &shop.dividing {
            section { h2 { "Dividing head" }
                p { "Turns of the crank for one of the spindle: " (value(state, d.ratio.id())) "." }
                p { "Plates: " @for (i, plate) in d.plates.iter().enumerate() { @if i > 0 { "; " } @for (k, c) in plate.iter().enumerate() { @if k > 0 { ", " } (c.shown()) } } "." }
            }
        }
    }
}
fn lathe(state: &State, l: &Lathe) -> Markup {
    let mut of = vec![
        ("swings", vec![l.swing.id()]),
        ("over the slide", vec![l.swing_over_slide.id()]),
        ("between centres", vec![l.between_centres.id()]),
        ("through the spindle", vec![l.spindle_bore.id()]),
        ("speeds", ids(&l.speeds)),
        ("feeds", ids(&l.feeds)),
    ];
    of.extend(l.screwcutting.as_ref().and_then(|s| s.leadscrew).map(|p| ("leadscrew", vec![p.id()])));
    html! {
        (rows(state, &of))
        p.soft { "Holds by: " (l.holdings.iter().map(|h| h.name.as_str()).collect::<Vec<_>>().join(", ")) "." @if l.control.is_some() { " Follows programs." } }
    }
}
fn mill(state: &State, m: &Mill) -> Markup {
    let mut of = vec![
        ("travels", ids(&m.travel)),
        ("under the spindle", vec![m.daylight.id()]),
        ("speeds", ids(&m.speeds)),
    ];
    of.extend(m.quill.map(|q| ("quill", vec![q.id()])));
    html! { (rows(state, &of)) @if m.control.is_some() { p.soft { "Follows programs." } } }
}
fn small(state: &State, shop: &Shop) -> Markup {
    let names = |all: &[std::sync::Arc<tables::thread::Thread>]| {
        all.iter().map(|t| t.name.to_string()).collect::<Vec<_>>().join(", ")
    };
    let cutters: Vec<&str> = shop.cutters.iter().map(|c| c.name.as_str()).collect();
    html! {
        section { h2 { "Tools" }
            @if !shop.taps.is_empty() { p { strong { "Taps: " } (names(&shop.taps)) "." } }
            @if !shop.dies.is_empty() { p { strong { "Dies: " } (names(&shop.dies)) "." } }
            @if !cutters.is_empty() { p { strong { "Cutters: " } (cutters.join(", ")) "." } }
        }
        @if !shop.measures.is_empty() { section { h2 { "Measuring" }
            div.scroll { table {
                thead { tr { th scope="col" { "tool" } th.n scope="col" { "from" } th.n scope="col" { "to" } th.n scope="col" { "may be off by" } } }
                tbody { @for m in &shop.measures { tr { td { (m.name) } td.n { (value(state, m.range.0.id())) } td.n { (value(state, m.range.1.id())) } td.n { (value(state, m.give_or_take.id())) } } } }
            } }
        } }
        @if !shop.polish.grits.is_empty() { section { h2 { "Polishing" } (rows(state, &[("grains", ids(&shop.polish.grits))])) } }
    }
}
/// What the shop's journal holds, newest first, by what it is about.
fn learnt(state: &State) -> Markup {
    let mut by: BTreeMap<&str, Vec<&(u64, Learnt)>> = BTreeMap::new();
    for one in state.learnt() {
        by.entry(one.1.subject.as_str()).or_default().push(one);
    }
    html! {
        section { h2 { "What it has learnt" }
            @if by.is_empty() { p.soft { "Nothing yet. Times that a job really took, sizes that a drill really makes, what a grip stood: kept for this shop, whichever clock it was found at." } }
            @for (subject, all) in &by {
                h3 { (subject) }
                div.scroll { table { tbody { @for (number, l) in all.iter().rev() {
                    tr { td { (l.of) } td.n { (l.written) } td.soft { (l.note) } td.n.soft { "entry " (number) } }
                } } } }
            }
            details { summary { "Enter something it has learnt" }
                form method="post" action="/shop" data-send="learnt" {
                    (key())
                    label for="subject" { "About" }
                    select #subject name="subject" { @for s in SUBJECTS { option value=(s) { (s) } } }
                    label for="of" { "Of which tool, machine or job" }
                    input #of type="text" name="of" maxlength="80" required;
                    label for="found" { "What was found, with its unit" }
                    input #found type="text" name="found" maxlength="40" required;
                    label for="note" { "Anything else" }
                    input #note type="text" name="note" maxlength="200";
                    p { button.first type="submit" { "Enter" } }
                }
            }
        }
    }
}
/// What was sent; none where something is missing.
#[must_use]
pub fn typed(asked: &Asked) -> Option<Typed> {
    let f = &asked.form;
    let subject = f.get("subject").filter(|s| SUBJECTS.contains(s))?;
    Some(Typed::Learnt {
        subject: subject.to_owned(),
        of: f.get("of")?.to_owned(),
        value: f.get("found")?.to_owned(),
        note: f.get("note").unwrap_or_default().to_owned(),
    })
}
