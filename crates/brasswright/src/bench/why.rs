//! Why: any number with its formula, what went in, and whose it is; each of these leads on to its own why.

use super::asked::{Answer, Asked};
use super::floor::State;
use super::frame::{Frame, line_value, why_of};
use maud::{Markup, html};
use reckon::workings::{how, readable};
use reckon::{Line, Origin, Source};

/// How many names are listed at once.
const MOST: usize = 400;

/// The page of a name, of a pattern, or of nothing yet.
pub fn page(asked: &Asked, state: &State) -> Answer {
    let book = &state.work.book;
    let name = asked.query.get("name").unwrap_or_default();
    let (names, head): (Vec<&str>, String) = match name {
        "" => (Vec::new(), "Why".to_owned()),
        "assumed" => (book.assumptions().map(|l| l.name.as_str()).collect(), "What was assumed".to_owned()),
        _ => (book.matching(name), name.to_owned()),
    };
    let one = (names.len() == 1).then(|| book.find(names[0])).flatten();
    let missing = !name.is_empty() && names.is_empty();
    let inside = html! {
        @match one {
            Some((_, line)) => { h1 { (line.name) } (working(state, line)) },
            None => h1 { (head) },
        }
        form.no-print method="get" action="/why" role="search" {
            label for="name" { "A name, or a pattern with stars" }
            div.presses {
                input #name type="search" name="name" value=(name) placeholder="third.wheel.outside" autocomplete="off" autocapitalize="off" spellcheck="false";
                button type="submit" { "Why" }
            }
        }
        @if missing {
            div.notice.bad role="alert" { p { "Nothing is called '" (name) "'." } }
            ul { @for near in book.near(name) { li { a href=(why_of(near)) { (near) } } } }
        }
        @if one.is_none() && !names.is_empty() { (listed(state, &names)) }
        @if name.is_empty() { (beginnings(state)) }
    };
    let page = Frame::of(asked, state, &head, "why").around(&inside);
    if missing { Answer::page(page).status(404) } else { Answer::page(page) }
}
fn listed(state: &State, names: &[&str]) -> Markup {
    let book = &state.work.book;
    let lines: Vec<&Line> = names.iter().take(MOST).filter_map(|n| Some(book.find(n)?.1)).collect();
    html! {
        table {
            thead { tr { th scope="col" { "name" } th.n scope="col" { "value" } th scope="col" { "how" } } }
            tbody { @for l in lines { tr { td { a href=(why_of(&l.name)) { (l.name) } } td.n { (state.shown(l)) } td.soft { (l.origin.word()) } } } }
        }
        @if names.len() > MOST { p.soft { "and " (names.len() - MOST) " more: a longer name finds fewer" } }
    }
}
/// Where names begin, each with its count.
fn beginnings(state: &State) -> Markup {
    let mut firsts: std::collections::BTreeMap<&str, usize> = std::collections::BTreeMap::new();
    for name in state.work.book.matching("**") {
        *firsts.entry(name.split('.').next().unwrap_or(name)).or_default() += 1;
    }
    html! {
        p { "Every number that a page or a sheet shows has a name, and a working that leads down to what was written, tabled, measured or assumed." }
        p { a href="/why?name=assumed" { "What was assumed because nobody wrote it" } }
        h2 { "Names begin with" }
        div.numbers { @for (first, n) in firsts {
            @let pattern = if n == 1 { first.to_owned() } else { format!("{first}.**") };
            a href=(why_of(&pattern)) { b { (first) } span { (n) @if n == 1 { " number" } @else { " numbers" } } }
        } }
    }
}
/// The working of a line.
fn working(state: &State, line: &Line) -> Markup {
    html! {
        p.left-over { (state.shown(line)) }
        (origin(state, &line.origin))
        (inputs(state, &line.origin))
        @if let Some(source) = line.origin.source() { (card(source)) }
        (used(state, line))
    }
}
fn origin(state: &State, o: &Origin) -> Markup {
    html! {
        @match o {
            Origin::Written { at } => p { "You wrote it: " (at.file) ", line " (at.line) ", column " (at.column) "." },
            Origin::Assumed { why } => p { strong { "Assumed" } ", because nobody wrote it: " (why) },
            Origin::Tabled { row, .. } => p { "From a table: " (row) },
            Origin::Measured { entry, tool } => p { "Measured with " (tool) ": " a href={ "/journal#e" (entry) } { "entry " (entry) } },
            Origin::Actual { actual, wanted, was, .. } => {
                p { strong { (actual.word()) } @if !actual.tool.is_empty() { " with " (actual.tool) } ": " a href={ "/journal#e" (actual.entry) } { "entry " (actual.entry) } "." }
                p { "It stands in place of " span.old { (wanted) } ", which was had so:" }
                div.explain { (origin(state, was)) }
            },
            Origin::Worked { formula, .. } => p.formula { (readable(formula)) },
            Origin::Solved { formula, rounds: 1, residual, .. } if *residual == 0.0 => p { (formula) },
            Origin::Solved { formula, residual, rounds, .. } => p { "Searched for: " (formula) ". " (rounds) " rounds, off by " (format!("{residual:.1e}")) "." },
            Origin::Chosen { rule, among, .. } => {
                p { "Chosen: " (rule) }
                table {
                    thead { tr { th scope="col" { "" } th scope="col" { "what was weighed" } th scope="col" { "why" } } }
                    tbody { @for a in among { tr { td { @if a.taken { strong { "taken" } } @else { span.soft { "not" } } } td { (state.sentence(&a.what)) } td { (state.sentence(&a.why)) } } } }
                }
            },
            Origin::Table { rule, columns, rows, .. } => {
                p { (state.sentence(rule)) }
                div.scroll { table {
                    thead { tr { @for c in columns { th scope="col" { (c) } } } }
                    tbody { @for r in rows { tr { @for c in r { td { (state.sentence(&c.shown)) } } } } }
                } }
            },
            Origin::Verdict { says, formula, holds, cures, .. } => {
                p { @if *holds { strong.good { "Holds: " } } @else { strong.bad { "Does not hold: " } } (says) }
                p.formula { (readable(formula)) }
                @if !cures.is_empty() && !holds { p { "What would do, cheapest first:" } ol { @for c in cures { li { (c) } } } }
            },
        }
    }
}
fn inputs(state: &State, o: &Origin) -> Markup {
    let letters: &[&str] = match o {
        Origin::Worked { letters, .. } | Origin::Verdict { letters, .. } => letters,
        _ => &[],
    };
    let lines: Vec<(usize, &Line)> =
        o.inputs().iter().enumerate().filter_map(|(i, id)| Some((i, state.work.book.line(*id)?))).collect();
    html! {
        @if !lines.is_empty() {
            h2 { "What went in" }
            div.scroll { table {
                thead { tr { @if !letters.is_empty() { th scope="col" { "letter" } } th scope="col" { "name" } th.n scope="col" { "value" } th scope="col" { "how it was had" } } }
                tbody { @for (i, l) in lines { tr {
                    @if !letters.is_empty() { td { (letters.get(i).copied().unwrap_or("")) } }
                    td.name { a href=(why_of(&l.name)) { (l.name) } }
                    td.n { (line_value(state, l)) }
                    td.soft.small { (how(&l.origin)) }
                } } }
            } }
        }
    }
}
fn card(s: &Source) -> Markup {
    html! {
        h2 { "Whose it is" }
        p { (s.cite) " " span.soft { "(" (s.mark.text()) ")" } }
        @if let Some(f) = s.formula { p.formula { (f) } }
    }
}
/// What this number goes into.
fn used(state: &State, line: &Line) -> Markup {
    let book = &state.work.book;
    let Some((id, _)) = book.find(&line.name) else { return html! {} };
    let by: Vec<&Line> = book.lines().filter(|l| l.origin.inputs().contains(&id)).take(60).collect();
    html! {
        @if !by.is_empty() {
            h2 { "What follows from it" }
            table { tbody { @for l in by { tr { td { a href=(why_of(&l.name)) { (l.name) } } td.n { (state.shown(l)) } } } } }
        }
    }
}
