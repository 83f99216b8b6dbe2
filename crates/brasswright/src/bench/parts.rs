//! Parts: by how they stand; and one part with its drawing, its steps and its sizes.

use super::asked::{Answer, Asked, encoded};
use super::floor::State;
use super::frame::{Frame, bar, stands, why_of};
use super::steps::{self, Stage, Way};
use journal::State as Stands;
use maud::{Markup, html};
use sheets::packet::{Contents, figures};

/// All of them.
#[must_use]
pub fn page(asked: &Asked, state: &State) -> Markup {
    let ways = steps::ways(state);
    let groups = [
        ("Under way", Stands::Roughed),
        ("Wanted", Stands::Wanted),
        ("Made", Stands::Made),
        ("Scrapped", Stands::Scrapped),
    ];
    let inside = html! {
        h1 { "Parts" }
        @if ways.is_empty() { p.soft { "There is no plan yet: a design and a shop make one." } }
        @for (head, s) in groups {
            @let of: Vec<&Way<'_>> = ways.iter().filter(|w| w.stands(state.standing()) == s).collect();
            @if !of.is_empty() {
                section aria-label=(head) {
                    h2 { (head) " " span.soft { (of.len()) } }
                    div.scroll { table.list {
                        thead { tr { th scope="col" { "part" } th scope="col" { "what" } th.n scope="col" { "pieces" } th scope="col" { "steps" } th scope="col" { "next" } } }
                        tbody { @for w in of { (row(state, w)) } }
                    } }
                }
            }
        }
    };
    Frame::of(asked, state, "Parts", "parts").around(&inside)
}
fn row(state: &State, w: &Way<'_>) -> Markup {
    let (done, all) = w.far(state.standing());
    let next = w.next(state.standing());
    let next_word = next.map(|at| match at.stage.op {
        None => format!("set up: {}", w.title(at.stage.setup)),
        Some(_) => w.op(at.stage).map(|o| o.title.clone()).unwrap_or_default(),
    });
    html! {
        tr {
            td { a href={ "/parts/" (encoded(w.slug)) } { (w.name) } }
            td.soft { (w.kind) }
            td.n { (w.pieces) }
            td { (bar(done as f64, all as f64, &format!("{done} of {all} steps done"))) }
            td { @if let Some(word) = next_word { a href={ "/bench/" (encoded(w.slug)) } { (word) } } @else { span.soft { "all steps done" } } }
        }
    }
}
/// One part; none of that name.
#[must_use]
pub fn one(asked: &Asked, state: &State, slug: &str) -> Option<Markup> {
    let w = steps::way(state, slug)?;
    let (done, all) = w.far(state.standing());
    let at = encoded(slug);
    let inside = html! {
        h1 { (w.name) }
        p { span.soft { (w.kind) } " · " (stands(w.stands(state.standing()))) " · " (done) " of " (all) " steps done" }
        div.presses.no-print { a.press.first href={ "/bench/" (at) } { @if done == 0 { "Begin at the bench" } @else { "Go on at the bench" } } a.press href={ "/drawing-of/" (at) } { "Drawing" } a.press href={ "/why?name=" (encoded(&format!("{slug}.**"))) } { "All its numbers" } }
        div.columns {
            section aria-labelledby="steps" {
                h2 #steps { "Steps" }
                (route(state, &w))
            }
            section aria-labelledby="about" {
                h2 #about { "What it is" }
                (facts(state, &w))
                @if w.part.is_some() {
                    figure { a.drawn href={ "/drawing-of/" (at) } { img src={ "/drawing/" (at) } alt={ "Dimensioned drawing of " (w.name) }; } }
                }
                @if w.pieces > 1 { (pieces(state, &w)) }
            }
        }
    };
    Some(Frame::of(asked, state, w.name, "parts").around(&inside))
}
fn facts(state: &State, w: &Way<'_>) -> Markup {
    let plan = w.plan;
    html! {
        dl.facts {
            @if let Some(p) = plan {
                dt { "make" } dd { (p.batch.needed.shown()) @if p.batch.spare.bare().0 > 0 { " + " (p.batch.spare.shown()) " spare" } }
            }
            @if let Some(part) = w.part {
                dt { "from" } dd { (part.common.material.name) " (" (part.common.material.state) ")" }
            }
            @if let Some(p) = plan {
                dt { "stock" } dd { (state.sentence(&p.stock.what)) }
                dt { "time for all" } dd { a href=(why_of(&format!("{}.time", w.slug))) { (figures::time(p.time.mean.bare())) } ", give or take " (figures::time(p.time.deviation.bare())) }
                @if !p.waits_for.is_empty() {
                    dt { "make first" }
                    dd { @for slug in &p.waits_for { a href={ "/parts/" (encoded(slug)) } { (steps::way(state, slug).map_or(slug.as_str(), |w| w.name)) } " " } }
                }
                dt { "finish" } dd { (making::plan::finish::wanted::said(&p.finish.words)) }
            }
            @if let Some(note) = w.part.and_then(|p| p.common.note.as_ref()) { dt { "remark" } dd { (note) } }
        }
    }
}
fn route(state: &State, w: &Way<'_>) -> Markup {
    let at = encoded(w.slug);
    let link = |stage: Stage, piece: Option<u32>| {
        let piece = piece.map(|p| format!("?piece={p}")).unwrap_or_default();
        format!("/bench/{at}/{}{piece}", stage.id())
    };
    html! {
        @for s in 0..w.setups() {
            h3 { (s + 1) ". " (state.sentence(w.title(s))) }
            @if let Some(held) = w.held(s) { p.small.soft { (w.machine(s)) @if !held.by.is_empty() { ", " (state.sentence(&held.by)) } } }
            table { tbody {
                @for (o, op) in w.ops(s).iter().enumerate() {
                    @let stage = Stage { setup: s, op: Some(o) };
                    @let (done, of) = so_far(state, w, stage);
                    tr {
                        td { a href=(link(stage, next_piece(state, w, stage))) { (state.sentence(&op.title)) } }
                        td.n { @if of > 1 { (done) " of " (of) } @else if done == 1 { "done" } @else { "" } }
                    }
                }
            } }
        }
    }
}
/// Of how many pieces a step is done.
fn so_far(state: &State, w: &Way<'_>, stage: Stage) -> (usize, usize) {
    let of: Vec<_> = w.stages().into_iter().filter(|a| a.stage == stage).collect();
    (of.iter().filter(|a| w.done(state.standing(), **a)).count(), of.len())
}
fn next_piece(state: &State, w: &Way<'_>, stage: Stage) -> Option<u32> {
    let of: Vec<_> = w.stages().into_iter().filter(|a| a.stage == stage).collect();
    let open = of.iter().find(|a| !w.done(state.standing(), **a)).or_else(|| of.first());
    open.and_then(|a| a.piece)
}
fn pieces(state: &State, w: &Way<'_>) -> Markup {
    html! {
        h2 { "Piece by piece" }
        table {
            thead { tr { th scope="col" { "piece" } th scope="col" { "stands" } th.n scope="col" { "steps done" } } }
            tbody { @for p in 1..=w.pieces {
                @let mine: Vec<_> = w.stages().into_iter().filter(|a| a.piece.is_none_or(|q| q == p)).collect();
                @let done = mine.iter().filter(|a| w.done(state.standing(), **a)).count();
                tr { td { (p) } td { (stands(state.standing().state(w.slug, p))) } td.n { (done) " of " (mine.len()) } }
            } }
        }
    }
}
/// The drawing of a part as a picture; none of a tool.
pub fn drawing(state: &State, slug: &str) -> Option<Answer> {
    let w = steps::way(state, slug)?;
    let part = w.part?;
    let both = state.work.project.as_ref().and_then(|p| Some((p.clock.as_ref()?, p.shop.as_ref()?)))?;
    let contents = Contents {
        clock: both.0,
        shop: both.1,
        parts: &state.work.parts,
        movement: state.work.movement.as_ref(),
        going: None,
        making: state.making()?,
        programs: &[],
        book: &state.work.book,
        state: &state.work.state,
        day: crate::day::NO_DAY,
    };
    let case = sheets::Typecase::new();
    let sketch = sheets::packet::drawing_of(&contents, part, &case).ok()?;
    let page = sheets::drawing(&case, &sketch).ok()?;
    let svg = sheets::svg(&page, sheets::Letters::Outlines, "d-");
    Some(Answer::of("image/svg+xml", svg))
}
