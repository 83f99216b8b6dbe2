//! The journal with every entry, and what an entry came to.

use super::asked::Asked;
use super::at_bench::key;
use super::floor::{Floor, State};
use super::frame::{Frame, why_of};
use crate::enter::typed::{Left, Meets, Moved, Read, Weight};
use journal::{Entry, What};
use maud::{Markup, html};

/// How many entries are shown at once.
const MOST: usize = 200;

/// The journal, the last entry first.
#[must_use]
pub fn journal(asked: &Asked, state: &State) -> Markup {
    let skip = asked.query.whole("skip").unwrap_or(0) as usize;
    let all = state.entries().len();
    let inside = html! {
        h1 { "Journal" }
        p.soft { (all) " entries. Nothing is ever taken out: what was wrong is struck by another entry, and both stay readable." }
        ol.entries { @for e in state.entries().iter().rev().skip(skip).take(MOST) {
            @let struck = state.standing().struck.get(&e.number);
            li #{ "e" (e.number) } .past[struck.is_some()] {
                div.where.small { span { "entry " (e.number) } span { (e.at.replace('T', " ").trim_end_matches('Z')) } }
                div.said { (said(e)) }
                @if let Some((by, why)) = struck { p.small { "struck by entry " (by) @if !why.is_empty() { ": " (why) } } }
                @else if !matches!(e.what, What::Struck { .. }) { (strike(e)) }
            }
        } }
        @if all > skip + MOST { p { a.press href={ "/journal?skip=" (skip + MOST) } { "Earlier" } } }
    };
    Frame::of(asked, state, "Journal", "journal").around(&inside)
}
fn strike(e: &Entry) -> Markup {
    html! {
        details.no-print {
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
            What::Rated(journal::Rating { heard: Some(h), .. }) => { "heard at " (crate::enter::rating::shown(h.rate, h.within)) },
            What::Rated(r) => { "rated by " (r.by) ": " (reckon::print::fixed(r.offset, 2)) " s off" },
            What::Learnt(l) => { (l.subject) " of " (l.of) ": " (l.written) @if !l.note.is_empty() { ", " (l.note) } },
        }
    }
}
/// The page of what moved: the last entries that could move a number.
#[must_use]
pub fn page(asked: &Asked, state: &State) -> Markup {
    let moves = |e: &&Entry| matches!(e.what, What::Measured(_) | What::Stood { .. } | What::Struck { .. });
    let all: Vec<&Entry> = state.entries().iter().rev().filter(moves).take(MOST).collect();
    let inside = html! {
        h1 { "What moved" }
        p.soft { "A size that was measured takes the place of the one that was computed, and what is not made yet follows it. Each entry tells what that came to." }
        @if all.is_empty() { p { "Nothing has moved anything yet." } }
        table { tbody { @for e in all {
            tr { td.n { (e.number) } td { (said(e)) } td { a href={ "/moved/" (e.number) } { "what moved" span.unseen { " by entry " (e.number) } } } }
        } } }
    };
    Frame::of(asked, state, "What moved", "moved").around(&inside)
}
/// What one entry came to; none where there is no such entry.
#[must_use]
pub fn one(floor: &Floor, asked: &Asked, state: &State, number: &str) -> Option<Markup> {
    let number = number.parse().ok()?;
    let answer = floor.told(state, number)?;
    let entry = answer.kept.as_ref()?;
    // Only to a page of our own.
    let back =
        asked.query.get("back").filter(|b| b.starts_with('/') && !b.starts_with("//") && !b.contains('\\'));
    let nothing = answer.moved.is_empty() && answer.meetings.is_empty();
    let inside = html! {
        p.soft { "Entry " (entry.number) ": " (said(entry)) }
        @if let Some(r) = &answer.reading { (reading(r)) }
        @if let Some(s) = &answer.sheet {
            div.notice.bad[!s.holds].good[s.holds] role="status" {
                p { (s.says) }
                @if !s.changed.is_empty() { table { tbody { @for (name, old, new) in &s.changed { tr { td { a href=(why_of(name)) { (name) } } td.n { span.old { (old) } } td.n { span.new { (new) } } } } } } }
            }
        }
        @for t in &answer.told { div.notice { p { (t) } } }
        @if let Some(t) = &answer.thread { (thread(t)) }
        @for m in answer.meetings.iter().filter(|m| !m.holds) { (meets(m)) }
        h1 { @if nothing { "Nothing else moves" } @else { "What moved" } }
        @for m in answer.meetings.iter().filter(|m| m.holds) { (meets(m)) }
        @for (weight, head) in [(Weight::Judgement, "Judgements"), (Weight::ToMake, "To be made otherwise"), (Weight::Setting, "Set otherwise"), (Weight::Running, "In the clock that runs")] {
            @let of: Vec<&Moved> = answer.moved.iter().filter(|m| m.weight == weight).collect();
            @if !of.is_empty() { h2 { (head) } (list(state, &of)) }
        }
        @let rest: Vec<&Moved> = answer.moved.iter().filter(|m| m.weight == Weight::Follows).collect();
        @if !rest.is_empty() { details { summary { (rest.len()) " more that only follow" } (list(state, &rest)) } }
        div.foot { div.inside {
            @match back {
                Some(b) => a.press.first href=(b) { "Go on" },
                None => a.press.first href="/moved" { "Other entries" },
            }
        } }
    };
    Some(Frame { bench: true, ..Frame::of(asked, state, "What moved", "moved") }.around(&inside))
}
fn reading(r: &Read) -> Markup {
    html! {
        div.now {
            (super::at_bench::big_number(if r.warmth.is_some() { "as at 20 °C" } else { "entered" }, &r.value, Some(&r.name)))
            p {
                @match r.within { Some(true) => strong.good { "✓ within its limits" }, Some(false) => strong.bad { "✗ outside its limits" }, None => "" }
                " " (r.off) " from " (r.wanted) @if let Some((a, b)) = &r.limits { span.soft { ", " (a) " to " (b) } }
                @if let Some(g) = &r.give_or_take { span.soft { "; the tool gives or takes " (g) } }
                @if let Some(w) = &r.warmth { span.soft { "; warmth counted for " (w) } }
            }
        }
    }
}
/// What is left of a thread that was measured while it is cut: the advance now as large as it fits, and each pass.
fn thread(t: &Left) -> Markup {
    html! {
        section.thread aria-label="The thread" {
            p { strong { "Thread: " (t.stands) } }
            @if let Some(advance) = &t.advance {
                div.now { (super::at_bench::big_number("still to go in", advance, None)) p.soft { "± " (t.doubt) } }
                ol.passes { @for p in &t.passes { li { (p) } } }
                @if t.passes.len() > 1 { p { "Measure again before the last." } }
            }
            @if !t.over_cut.is_empty() { p { "What could be done, cheapest first:" } ol { @for c in &t.over_cut { li { (c) } } } }
        }
    }
}
fn meets(m: &Meets) -> Markup {
    html! {
        div.notice.bad[!m.holds].good[m.holds] role="status" {
            p { strong { @if m.holds { "Agrees again: " } @else { "Does not agree: " } } (m.says) " " a href=(why_of(&m.name)) { "why" } }
            @if !m.figures.is_empty() { dl.facts { @for (what, value) in &m.figures { dt { (what) } dd { (value) } } } }
            @if !m.ladder.is_empty() && !m.holds { p { "What could be done, cheapest first:" } ol { @for l in &m.ladder { li { (l) } } } }
        }
    }
}
fn list(state: &State, of: &[&Moved]) -> Markup {
    html! {
        table {
            thead { tr { th scope="col" { "what" } th.n scope="col" { "was, is" } } }
            tbody { @for m in of {
                tr.arrived {
                    td { a href=(why_of(&m.name)) title=(m.name) { @if m.what.is_empty() { (m.name) } @else { (m.what) } } @if !m.because.is_empty() { br; span.small.soft { "because of " (m.because) } } }
                    td.n { span.old { (state.sentence(&m.old)) } br; span.new { (state.sentence(&m.new)) } @if let Some(g) = &m.give_or_take { br; span.small.soft { "± " (g) } } }
                }
            } }
        }
    }
}
