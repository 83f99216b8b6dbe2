//! Setting up: the sheets of putting the clock together, freeing it, putting it in beat and letting it run, with a box
//! at each step that is kept in the journal.

use super::asked::{Answer, Asked, encoded};
use super::at_bench::key;
use super::entry::{plain, said};
use super::floor::{Floor, State};
use super::frame::{Frame, bar, why_of};
use crate::enter::Typed;
use crate::enter::typed::Step;
use making::plan::Figure;
use making::plan::assembly::{Item, Page};
use making::plan::order::Of;
use maud::{Markup, html};
use reckon::{Origin, slug};

/// What the journal calls the boxes of these sheets.
const PART: &str = "setting_up";
/// Longest name of a box in the journal, in signs.
const LONGEST: usize = 100;

fn sheets(state: &State) -> &[Page] {
    state.making().and_then(|m| m.assembly.as_ref()).map_or(&[], |a| &a.pages)
}
/// A box belongs to its words: where they change, because a figure in them did, it is empty again.
fn name(page: &Page, words: &str) -> String {
    let whole = format!("{}: {words}", page.title);
    // A form takes the spaces off around what it carries.
    whole.chars().take(LONGEST).collect::<String>().trim().to_owned()
}
fn ticked(state: &State, name: &str) -> bool {
    let of = state.standing().steps.get(PART).and_then(|s| s.get(name));
    of.and_then(|of| of.get(&0)).is_some_and(Option::is_none)
}
fn boxes(page: &Page) -> impl Iterator<Item = &String> {
    page.items.iter().flat_map(|i| match i {
        Item::Steps(all) => all.as_slice(),
        _ => &[],
    })
}
/// How many boxes stand before each piece of a sheet.
fn before(page: &Page) -> impl Iterator<Item = usize> {
    page.items.iter().scan(0, |n, i| {
        let before = *n;
        *n += if let Item::Steps(all) = i { all.len() } else { 0 };
        Some(before)
    })
}
/// How many boxes of a sheet are ticked, of how many.
fn far(state: &State, page: &Page) -> (usize, usize) {
    let all = boxes(page);
    all.fold((0, 0), |(done, of), w| (done + usize::from(ticked(state, &name(page, w))), of + 1))
}
/// The sheets in their order, and the jobs of the whole clock.
#[must_use]
pub fn page(asked: &Asked, state: &State) -> Markup {
    let all = sheets(state);
    let jobs: Vec<_> = state
        .making()
        .map(|m| m.order.jobs.iter().filter(|j| matches!(j.kind, Of::Clock(_))).collect())
        .unwrap_or_default();
    let inside = html! {
        h1 { "Setting up" }
        @if all.is_empty() { p.soft { "There is nothing to put together: this project is parts alone." } }
        @else {
            p.soft { "From the first dry assembly to the owner's page, in the order in which it is done. Each step has a box that is kept in the journal." }
            ol.sheets { @for p in all {
                @let (done, of) = far(state, p);
                li { a href={ "/setting-up/" (encoded(&slug(&p.title))) } { (p.title) }
                    span.soft { @if of > 0 { (done) " of " (of) (bar(done as f64, of as f64, &format!("{done} of {of} steps done"))) } @else { "to read" } } }
            } }
        }
        @if !jobs.is_empty() {
            h2 { "Jobs of the whole clock" }
            p.soft { "What waits for one of these is offered under Tonight once it is done." }
            ul.sheets { @for (i, j) in jobs.iter().enumerate() {
                @let done = state.standing().done(&slug(&j.of), &j.title, None);
                li {
                    span { (j.name) }
                    @if done { span.good { "✓ done" } } @else {
                        form method="post" action="/setting-up/job" data-send="done" {
                            (key()) input type="hidden" name="job" value=(j.name);
                            button type="submit" aria-describedby={ "job" (i) } { "Done" } span.unseen id={ "job" (i) } { (j.name) }
                        }
                    }
                }
            } }
        }
    };
    Frame::of(asked, state, "Setting up", "setting-up").around(&inside)
}
/// One sheet; none of that name.
#[must_use]
pub fn one(asked: &Asked, state: &State, sheet: &str) -> Option<Markup> {
    let all = sheets(state);
    let at = all.iter().position(|p| slug(&p.title) == sheet)?;
    let page = &all[at];
    let (done, of) = far(state, page);
    let here = format!("/setting-up/{}", encoded(sheet));
    let about = format!("{PART}#{sheet}");
    let told: Vec<_> = state.standing().remarks.iter().filter(|r| r.1 == about).collect();
    let to = |p: &Page| format!("/setting-up/{}", encoded(&slug(&p.title)));
    let inside = html! {
        p.small { a href="/setting-up" { "← all sheets" } }
        h1 { (page.title) }
        @if of > 0 { p.soft { (done) " of " (of) " steps done" } (bar(done as f64, of as f64, &format!("{done} of {of} steps done"))) }
        @for (item, before) in page.items.iter().zip(before(page)) { (self::item(state, page, &here, item, before)) }
        @if !told.is_empty() {
            h2 { "Remarks" }
            @for (_, _, text, picture) in told { div.notice { p { (text) } @if let Some(p) = picture { figure { a href={ "/picture/" (p) } { img src={ "/picture/" (p) } alt="picture of this sheet" width="240"; } } } } }
        }
        details.no-print {
            summary { "Remark or picture" }
            form method="post" action={ (here) "/remark" } enctype="multipart/form-data" data-send="picture" {
                (key())
                label for="text" { "What was found or measured" }
                textarea #text name="text" rows="3" maxlength="2000" {}
                label for="picture" { "Picture" }
                input #picture type="file" name="picture" accept="image/jpeg,image/png,image/webp" capture="environment";
                p { button type="submit" { "Keep" } }
            }
        }
        div.presses.no-print {
            @if let Some(p) = at.checked_sub(1).and_then(|i| all.get(i)) { a.press href=(to(p)) { "← " (p.title) } }
            @if let Some(p) = all.get(at + 1) { a.press.first href=(to(p)) { (p.title) " →" } }
        }
    };
    Some(Frame::of(asked, state, &page.title, "setting-up").around(&inside))
}
fn item(state: &State, page: &Page, here: &str, item: &Item, before: usize) -> Markup {
    match item {
        // The sheet's own title stands above already.
        Item::Head(t) => html! { @if !t.eq_ignore_ascii_case(&page.title) { h2 { (t) } } },
        Item::Say(t) => html! { p { (state.sentence(t)) } },
        Item::Steps(all) => {
            html! { ul.boxes { @for (i, w) in all.iter().enumerate() { (tick(state, page, here, w, before + i + 1)) } } }
        }
        Item::Dots(all) => html! { ul { @for w in all { li { (state.sentence(w)) } } } },
        Item::Figures(all) => {
            html! { @if !all.is_empty() { div.numbers { @for f in all { (figure(state, f)) } } } }
        }
        Item::Table(id) => {
            let Some(line) = state.work.book.line(*id) else { return html! {} };
            let Origin::Table { columns, rows, .. } = &line.origin else { return html! {} };
            html! {
                div.scroll tabindex="0" role="group" aria-label=(page.title) { table {
                    thead { tr { @for c in columns { th scope="col" { (c) } } } }
                    tbody { @for r in rows { tr { @for c in r { td { (state.sentence(&c.shown)) } } } } }
                } }
                p.small { a href=(why_of(&line.name)) { "why these" } }
            }
        }
        // What is written by hand on paper goes into a remark here.
        Item::Boxes(heads, rows) => {
            let firsts: Vec<&str> = rows.iter().filter_map(|r| r.first()).map(String::as_str).collect();
            html! { p.soft { "Write down, under Remark: " (heads.join("; ")) @if !firsts.is_empty() { " (" (firsts.join(", ")) ")" } "." } }
        }
        Item::Cautions(all) => {
            html! { @for c in all { div.caution role="note" { b { "Caution. " } (c.text()) } } }
        }
    }
}
/// A step with its box: pressed, it is done; pressed again, it is open.
fn tick(state: &State, page: &Page, here: &str, words: &str, n: usize) -> Markup {
    let name = name(page, words);
    let done = ticked(state, &name);
    html! {
        li id={ "box" (n) } {
            form method="post" action={ (here) "/tick" } data-send="tick" {
                (key()) input type="hidden" name="box" value=(name); input type="hidden" name="n" value=(n);
                @if done { input type="hidden" name="open" value="1"; }
                button.box type="submit" aria-pressed=(done) aria-labelledby={ "words" (n) } { @if done { "✓" } @else { "\u{a0}" } }
            }
            span id={ "words" (n) } .past[done] { (state.sentence(words)) }
        }
    }
}
fn figure(state: &State, f: &Figure) -> Markup {
    let line = f.id.and_then(|id| state.work.book.line(id));
    let own = f.id.filter(|_| line.is_some_and(|l| l.shown == f.text));
    let text = own.map_or_else(|| state.sentence(&f.text), |id| state.value(id));
    html! {
        @match line {
            Some(l) => a href=(why_of(&l.name)) { b { (text) } span { (f.label) } },
            None => div { b { (text) } span { (f.label) } },
        }
    }
}
/// What a sheet sends: a box, or a remark.
pub fn sent(floor: &Floor, asked: &Asked, state: &State, sheet: &str, what: &str) -> Option<Answer> {
    let page = sheets(state).iter().find(|p| slug(&p.title) == sheet)?;
    let here = format!("/setting-up/{}", encoded(sheet));
    match what {
        "tick" => {
            let wanted = asked.form.get("box")?;
            boxes(page).find(|w| name(page, w) == wanted)?;
            let open = asked.form.get("open").is_some();
            let step = Typed::Done(Step {
                job: PART.to_owned(),
                step: Some(wanted.to_owned()),
                piece: None,
                count: open.then_some(0),
                took: None,
            });
            let n = asked.form.whole("n").unwrap_or(1);
            Some(plain(floor, asked, step, &format!("{here}#box{n}")))
        }
        "remark" => Some(said(floor, asked, format!("{PART}#{sheet}"), &here)),
        _ => None,
    }
}
/// A job of the whole clock that is done.
pub fn job(floor: &Floor, asked: &Asked) -> Answer {
    let what = Typed::Done(Step {
        job: asked.form.get("job").unwrap_or_default().to_owned(),
        step: None,
        piece: None,
        count: None,
        took: None,
    });
    plain(floor, asked, what, "/setting-up")
}
