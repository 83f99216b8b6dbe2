//! The journal with every entry, and what an entry came to.

use super::asked::Asked;
use super::at_bench::key;
use super::floor::State;
use super::frame::{Frame, why_of};
use journal::{Entry, What};
use maud::{Markup, html};

/// How many entries are shown at once.
const MOST: usize = 200;

/// The journal, the last entry first.
#[must_use]
pub fn journal(asked: &Asked, state: &State) -> Markup {
    let skip = asked.query.whole("skip").unwrap_or(0) as usize;
    let all = state.entries.len();
    let inside = html! {
        h1 { "Journal" }
        p.soft { (all) " entries. Nothing is ever taken out: what was wrong is struck by another entry, and both stay readable." }
        table {
            thead { tr { th.n scope="col" { "entry" } th scope="col" { "when" } th scope="col" { "what" } th.no-print scope="col" { "" } } }
            tbody { @for e in state.entries.iter().rev().skip(skip).take(MOST) {
                @let struck = state.standing.struck.get(&e.number);
                tr #{ "e" (e.number) } .past[struck.is_some()] {
                    td.n { (e.number) }
                    td.soft.small { (e.at.replace('T', " ").trim_end_matches('Z')) }
                    td { (said(e)) @if let Some((by, why)) = struck { br; span.small { "struck by entry " (by) @if !why.is_empty() { ": " (why) } } } }
                    td.no-print { @if struck.is_none() && !matches!(e.what, What::Struck { .. }) { (strike(e)) } }
                }
            } }
        }
        @if all > skip + MOST { p { a.press href={ "/journal?skip=" (skip + MOST) } { "Earlier" } } }
    };
    Frame::of(asked, state, "Journal", "journal").around(&inside)
}
fn strike(e: &Entry) -> Markup {
    html! {
        details {
            summary { "Strike" span.unseen { " entry " (e.number) } }
            form method="post" action="/journal/strike" data-send="strike" {
                (key()) input type="hidden" name="entry" value=(e.number);
                label for={ "why" (e.number) } { "Why" }
                input id={ "why" (e.number) } type="text" name="why" required maxlength="300";
                p { button type="submit" { "Strike it" } }
            }
        }
    }
}
/// An entry in a sentence.
#[must_use]
pub fn said(e: &Entry) -> Markup {
    let piece = |p: Option<u32>| p.map(|p| format!(", piece {p}")).unwrap_or_default();
    html! {
        @match &e.what {
            What::Measured(r) => {
                a href=(why_of(&r.name)) { (r.name) } (piece(r.piece)) " measured " strong { (r.written) }
                @if let Some(t) = &r.tool { " with " (t) } @if r.rough { ", still rough" }
            },
            What::Done(s) => {
                (s.part) " " (s.step) (piece(s.piece))
                @if let Some(c) = s.count { ": " (c) " so far" } @else { " done" }
                @if let Some(t) = s.took { ", " (reckon::print::fixed(t / 60.0, 0)) " min" }
            },
            What::Stood { part, pieces, state, why, .. } => {
                (part) @if !pieces.is_empty() { ", piece " (pieces.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")) }
                " " strong { (state.word()) } @if !why.is_empty() { ": " (why) }
            },
            What::Struck { entry, why } => { "entry " (entry) " struck" @if !why.is_empty() { ": " (why) } },
            What::Remark { about, text, picture } => {
                @if !about.is_empty() { span.soft { (about) ": " } } (text)
                @if let Some(p) = picture { br; a href={ "/picture/" (p) } { img src={ "/picture/" (p) } alt="picture" width="160" loading="lazy"; } }
            },
            What::Concession { name, piece: p, why } => { a href=(why_of(name)) { (name) } (piece(*p)) " let pass: " (why) },
            What::Rated(r) => { "rated by " (r.by) ": " (reckon::print::fixed(r.offset, 2)) " s off" },
            What::Learnt(l) => { (l.subject) " of " (l.of) ": " (l.written) @if !l.note.is_empty() { ", " (l.note) } },
        }
    }
}
