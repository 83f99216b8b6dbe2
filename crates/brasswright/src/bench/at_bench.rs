//! At the bench: one operation a screen, the number needed now as large as it fits, and one thing to press.

use super::asked::{Answer, Asked, encoded};
use super::count;
use super::floor::State;
use super::frame::{Frame, bar, stands, why_of};
use super::route::size_of;
use super::steps::{self, At, Counted, Kind, Stage, Way};
use journal::State as Stands;
use making::plan::{Check, Operation};
use maud::{Markup, html};
use reckon::{Id, Length};
use sheets::packet::figures;

/// Where a step is shown.
#[must_use]
pub fn place(w: &Way<'_>, at: At) -> String {
    let piece = at.piece.map(|p| format!("?piece={p}")).unwrap_or_default();
    format!("/bench/{}/{}{piece}", encoded(w.slug), at.stage.id())
}
/// The next step of a part: where it was left.
pub fn resume(asked: &Asked, state: &State, slug: &str) -> Option<Answer> {
    let w = steps::way(state, slug)?;
    Some(match w.next(state.standing()) {
        Some(at) => Answer::turn_to(&place(&w, at)),
        None => Answer::page(signing(asked, state, &w)),
    })
}
/// The step that an address names.
#[must_use]
pub fn named(asked: &Asked, w: &Way<'_>, step: &str) -> Option<At> {
    let stage = Stage::of(step).filter(|s| w.has(*s))?;
    let wanted = asked.query.whole("piece").or_else(|| asked.form.whole("piece"));
    let own = w.stages().into_iter().filter(|a| a.stage == stage);
    let all: Vec<At> = own.collect();
    all.iter().find(|a| a.piece == wanted).or_else(|| all.first()).copied()
}
/// A number as it is shown large.
struct Big {
    label: String,
    text: String,
    name: Option<String>,
}
/// The screen of a step; none where there is no such step.
pub fn page(asked: &Asked, state: &State, slug: &str, step: &str) -> Option<Markup> {
    let w = steps::way(state, slug)?;
    let at = named(asked, &w, step)?;
    let title = w.op(at.stage).map_or_else(|| w.title(at.stage.setup).to_owned(), |o| o.title.clone());
    let inside = html! {
        (over(state, &w, at))
        @match w.op(at.stage) {
            Some(op) => (operation(asked, state, &w, at, op)),
            None => (setting_up(state, &w, at)),
        }
    };
    let head = format!("{}: {title}", w.name);
    Some(Frame { bench: true, ..Frame::of(asked, state, &head, "parts") }.around(&inside))
}
/// What stands over every step: of what, which piece, how far.
fn over(state: &State, w: &Way<'_>, at: At) -> Markup {
    let (done, all) = w.far(state.standing());
    let (before, after) = w.around(at);
    html! {
        div.where {
            a href={ "/parts/" (encoded(w.slug)) } { (w.name) }
            span { @if let Some(p) = at.piece { "piece " strong { (p) } " of " (w.pieces) } @else if w.pieces > 1 { "all " (w.pieces) " together" } }
        }
        div.where.small {
            span { @if let Some(b) = before { a href=(place(w, b)) rel="prev" { "← back" } } @else { a href="/tonight" { "← tonight" } } }
            span { (done) " of " (all) " steps" }
            span { @if let Some(a) = after { a href=(place(w, a)) rel="next" { "skip →" } } }
        }
        (bar(done as f64, all as f64, &format!("{done} of {all} steps done")))
    }
}
/// Setting up: machine, holding, what to look for.
fn setting_up(state: &State, w: &Way<'_>, at: At) -> Markup {
    let held = w.held(at.stage.setup);
    html! {
        h1.now { (state.sentence(w.title(at.stage.setup))) }
        p.now { span.what { "Set up" } span.big.n14 { (w.machine(at.stage.setup)) } }
        @if let Some(h) = held {
            dl.facts {
                dt { "held by" } dd { strong { (state.sentence(&h.by)) } }
                @if let Some(o) = &h.overhang { dt { "stands out" } dd { a href=(name(state, o.id())) { (state.value(o.id())) } } }
                @if let Some(d) = &h.deepest { dt { "deepest cut" } dd { a href=(name(state, d.id())) { (state.value(d.id())) } } }
            }
            ul.told { @for l in &h.lines { li { (state.sentence(l)) } } }
        }
        @if at.stage.setup == 0 && let Some(p) = w.plan {
            h2 { "Stock" }
            p { (state.sentence(&p.stock.what)) }
            @if !p.waits_for.is_empty() {
                div.notice.brass { p { "Make first: " @for s in &p.waits_for { a href={ "/parts/" (encoded(s)) } { (steps::way(state, s).map_or(s.as_str(), |w| w.name)) } " " } } }
            }
        }
        (foot(state, w, at, "Set up", None))
    }
}
fn name(state: &State, id: Id) -> String {
    state.work.book.line(id).map_or_else(String::new, |l| why_of(&l.name))
}
fn operation(asked: &Asked, state: &State, w: &Way<'_>, at: At, op: &Operation) -> Markup {
    let counted = steps::counted(state, op);
    let so_far = w.count(state.standing(), at).min(counted.as_ref().map_or(0, |c| c.whole));
    let done = w.done(state.standing(), at);
    let under_way = counted.as_ref().filter(|c| !done && so_far < c.whole);
    let open = op.checks.iter().find(|c| c.limits.is_some() && measured(state, c, at.piece).is_none());
    html! {
        h1 { (state.sentence(&op.title)) @if done { " " span.good.small { "done" } } }
        @match under_way {
            Some(c) if c.kind == Kind::Teeth => (count::teeth(state, w, at, c, so_far)),
            Some(c) => (count::rows(asked, state, w, at, c, so_far)),
            None => (numbers(asked, state, op)),
        }
        @if under_way.is_some() { (settings(state, op)) }
        @if let Some(card) = &op.heat { (count::fire_numbers(state, card, &op.figures)) }
        @for c in &op.cautions { div.caution role="note" { b { "Caution. " } (c.text()) } }
        @if let Some(tool) = &op.tool { p { span.soft { "with " } (state.sentence(tool)) } }
        (countdowns(state, w, at, op))
        @if let Some(card) = &op.heat { (count::fire(state, card)) }
        ul.told { @for l in &op.lines { li { (state.sentence(l)) } } }
        @for t in &op.tables {
            @if counted.as_ref().is_none_or(|c| state.work.book.line(t.id).is_none_or(|l| l.name != c.name)) { (table(state, &t.title, t.id)) }
        }
        @if let Some(c) = counted.as_ref().filter(|c| c.kind != Kind::Teeth) { (count::list(state, c, so_far)) }
        (checks(state, w, at, op))
        (beside(state, w, at))
        @if under_way.is_none() { (foot(state, w, at, if done { "Done again" } else { "Done" }, open.filter(|_| !done))) }
    }
}
/// The numbers of an operation, one of them large.
fn numbers(asked: &Asked, state: &State, op: &Operation) -> Markup {
    let all = bigs(state, op);
    let show = asked.query.whole("show").map_or(0, |s| s as usize).min(all.len().saturating_sub(1));
    let piece = asked.query.whole("piece").map(|p| format!("&piece={p}")).unwrap_or_default();
    html! {
        @if let Some(b) = all.get(show) { (large(b)) }
        @if all.len() > 1 {
            div.others aria-label="Numbers of this operation" {
                @for (i, b) in all.iter().enumerate() {
                    a href={ "?show=" (i) (piece) } aria-current=[(i == show).then_some("true")] { b { (b.text) } span { (b.label) } }
                }
            }
        }
    }
}
/// Speed and feed, beside a count that takes the place of the large number.
fn settings(state: &State, op: &Operation) -> Markup {
    let all = bigs(state, op);
    html! {
        @if !all.is_empty() {
            div.others { @for b in &all {
                @match &b.name { Some(n) => { a href=(why_of(n)) { b { (b.text) } span { (b.label) } } }, None => { a { b { (b.text) } span { (b.label) } } } }
            } }
        }
    }
}
fn bigs(state: &State, op: &Operation) -> Vec<Big> {
    let book = &state.work.book;
    let named = |id: Option<Id>| id.and_then(|i| book.line(i)).map(|l| l.name.clone());
    let mut all: Vec<Big> = op
        .figures
        .iter()
        .map(|f| Big {
            label: f.label.clone(),
            text: match f.id {
                Some(id) if book.line(id).is_some_and(|l| l.shown == f.text) => state.value(id),
                _ => state.sentence(&f.text),
            },
            name: named(f.id),
        })
        .collect();
    all.extend(op.speed.as_ref().map(|s| Big {
        label: "spindle".to_owned(),
        text: s.shown(),
        name: named(Some(s.id())),
    }));
    all.extend(op.feed.as_ref().map(|f| Big {
        label: "feed a turn".to_owned(),
        text: state.value(f.id()),
        name: named(Some(f.id())),
    }));
    all
}
fn large(b: &Big) -> Markup {
    big_number(&b.label, &b.text, b.name.as_deref())
}
/// A number as large as it fits, its unit smaller, leading to its why.
#[must_use]
pub fn big_number(label: &str, text: &str, name: Option<&str>) -> Markup {
    let (number, unit) = apart(text);
    // The unit takes less than half of the room of a figure.
    let class = format!(
        "big {}",
        size_of(&"0".repeat(number.chars().count() + (unit.chars().count() * 5).div_ceil(9)))
    );
    html! {
        div.now {
            span.what { (label) }
            @match name {
                Some(n) => a class=(class) href=(why_of(n)) title={ "why " (n) } { (number) @if !unit.is_empty() { span.unit { (unit) } } },
                None => span class=(class) { (number) @if !unit.is_empty() { span.unit { (unit) } } },
            }
        }
    }
}
/// A number and its unit.
fn apart(text: &str) -> (&str, &str) {
    match text.rsplit_once(' ') {
        Some((number, unit))
            if !unit.contains(|c: char| c.is_ascii_digit())
                && number.ends_with(|c: char| c.is_ascii_digit()) =>
        {
            (number, unit)
        }
        _ => (text, ""),
    }
}
/// Times to wait, each with a clock that runs down.
fn countdowns(state: &State, w: &Way<'_>, at: At, op: &Operation) -> Markup {
    let book = &state.work.book;
    let own = op.heat.iter().flat_map(|c| c.large.iter().chain(&c.own));
    let times = op.figures.iter().chain(own).filter_map(|f| {
        let line = book.line(f.id?)?;
        let seconds = line.si.filter(|s| line.unit == "s" && *s >= 1.0)?;
        Some((f.label.as_str(), f.text.as_str(), seconds, line.name.as_str()))
    });
    let mut seen = std::collections::BTreeSet::new();
    let times: Vec<_> = times.filter(|t| seen.insert(t.3)).collect();
    html! {
        @for (label, text, seconds, name) in times {
            div.runs data-seconds=(reckon::print::fixed(seconds, 0)) data-clock={ (w.slug) "/" (at.stage.id()) "/" (name) } {
                p { (label) ": " a href=(why_of(name)) { strong { (state.sentence(text)) } } }
            }
        }
    }
}
fn table(state: &State, title: &str, id: Id) -> Markup {
    let Some(line) = state.work.book.line(id) else { return html! {} };
    let reckon::Origin::Table { columns, rows, .. } = &line.origin else { return html! {} };
    html! {
        details {
            summary { (state.sentence(title)) }
            div.scroll { table {
                caption.unseen { (title) }
                thead { tr { @for c in columns { th scope="col" { (c) } } } }
                tbody { @for r in rows { tr { @for c in r { td { (state.sentence(&c.shown)) } } } } }
            } }
            p.small { a href=(why_of(&line.name)) { "why" } }
        }
    }
}
/// The name in the book that a check's reading goes under.
#[must_use]
pub fn name_of(state: &State, c: &Check) -> Option<String> {
    Some(state.work.book.line(c.id?)?.name.clone())
}
/// What a check found on a piece.
#[must_use]
pub fn measured(state: &State, c: &Check, piece: Option<u32>) -> Option<journal::Actual> {
    let name = name_of(state, c)?;
    let s = state.standing();
    s.actual(&name, piece).or_else(|| s.actual(&name, None))
}
fn checks(state: &State, w: &Way<'_>, at: At, op: &Operation) -> Markup {
    html! {
        @if !op.checks.is_empty() {
            h2 { "Look and measure" }
            @for (i, c) in op.checks.iter().enumerate() { (check(state, w, at, i, c)) }
        }
    }
}
/// Address of the number pad for a check.
#[must_use]
pub fn pad(w: &Way<'_>, at: At, check: usize) -> String {
    let piece = at.piece.map(|p| format!("&piece={p}")).unwrap_or_default();
    format!("/bench/{}/{}/measure?check={check}{piece}", encoded(w.slug), at.stage.id())
}
fn check(state: &State, w: &Way<'_>, at: At, i: usize, c: &Check) -> Markup {
    let found = measured(state, c, at.piece);
    let what = state.sentence(&c.what);
    let limits = limits(state, c, at.piece);
    html! {
        div.check {
            div {
                (what) @if let Some(seen) = &c.seen { ": " (state.sentence(seen)) }
                @if let Some((most, least)) = limits { br; span.limits { (figures::limits(most, least, state.style())) } }
            }
            @if limits.is_some() && c.id.is_some() {
                a.press href=(pad(w, at, i)) { @if found.is_some() { "Again" } @else { "Measure" } span.unseen { " " (what) } }
            }
            @if let (Some(a), Some(limits)) = (&found, limits) {
                p.found { "is " strong { (figures::length(Length::si(a.value), state.style())) }
                    @if a.readings > 1 { " (mean of " (a.readings) ")" }
                    " " @if within(a, limits) { span.good { "✓ within" } } @else { span.bad { "✗ outside" } } @if a.rough { span.soft { ", metal still to come off" } }
                }
            }
        }
    }
}
/// Limits of a check, greatest first: of a size that was measured those that it was made to, since what is in the book
/// follows the measurement.
#[must_use]
pub fn limits(state: &State, c: &Check, piece: Option<u32>) -> Option<(Length, Length)> {
    let own = c.limits?;
    let Some(name) = name_of(state, c) else { return Some(own) };
    let all = &state.standing().readings;
    let read = all.get(&(name.clone(), piece)).or_else(|| all.get(&(name, None)));
    let wanted = read.and_then(|r| r.last()?.1.wanted).filter(|w| w.most > w.least);
    Some(wanted.map_or(own, |w| (Length::si(w.most), Length::si(w.least))))
}
/// Whether a size lies within limits, greatest first.
fn within(a: &journal::Actual, (most, least): (Length, Length)) -> bool {
    a.value >= least.value() - 1e-12 && a.value <= most.value() + 1e-12
}
/// What else may be done at a step: a remark, a picture, all pieces at once, a piece that is spoilt, the drawing.
fn beside(state: &State, w: &Way<'_>, at: At) -> Markup {
    let here = format!("/bench/{}/{}", encoded(w.slug), at.stage.id());
    let piece = at.piece.map(|p| p.to_string()).unwrap_or_default();
    let about = format!("{}#{}", w.slug, at.stage.id());
    let said: Vec<_> = state.standing().remarks.iter().filter(|r| r.1 == about).collect();
    html! {
        @if !said.is_empty() {
            h2 { "Remarks" }
            @for (_, _, text, picture) in said { div.notice { p { (text) } @if let Some(p) = picture { figure { a href={ "/picture/" (p) } { img src={ "/picture/" (p) } alt="picture of this step" width="240"; } } } } }
        }
        div.presses.no-print {
            @if w.part.is_some() { a.press href={ "/drawing-of/" (encoded(w.slug)) } { "Drawing" } }
            a.press href={ "/parts/" (encoded(w.slug)) } { "All steps" }
        }
        details.no-print {
            summary { "Remark or picture" }
            form method="post" action={ (here) "/remark" } enctype="multipart/form-data" data-send="picture" {
                (key()) input type="hidden" name="piece" value=(piece);
                label for="text" { "Remark" }
                textarea #text name="text" rows="3" maxlength="2000" {}
                label for="picture" { "Picture" }
                input #picture type="file" name="picture" accept="image/jpeg,image/png,image/webp" capture="environment";
                p { button type="submit" { "Keep" } }
            }
        }
        details.no-print {
            summary { "Spoilt, or done otherwise" }
            @if at.piece.is_some() {
                form method="post" action={ (here) "/done" } data-send="done" {
                    (key()) input type="hidden" name="all" value="1";
                    p { button type="submit" { "This step is done for all " (w.pieces) " pieces" } }
                }
            }
            form method="post" action={ "/bench/" (encoded(w.slug)) "/stood" } data-send="stood" {
                (key()) input type="hidden" name="piece" value=(piece); input type="hidden" name="state" value="scrapped";
                label for="why" { "What happened" }
                input #why type="text" name="why" required maxlength="300";
                p { button type="submit" { @if let Some(p) = at.piece { "Piece " (p) " is scrapped: make another" } @else if w.pieces > 1 { "All are scrapped: make them again" } @else { "It is scrapped: make another" } } }
            }
        }
    }
}
/// A key for a form that is sent without a script: sent twice, it is taken once.
#[must_use]
pub fn key() -> Markup {
    let key = super::guard::chance(20).unwrap_or_default();
    html! { input type="hidden" name="key" value=(key); }
}
/// The one thing to press.
fn foot(state: &State, w: &Way<'_>, at: At, word: &str, open: Option<&Check>) -> Markup {
    let here = format!("/bench/{}/{}/done", encoded(w.slug), at.stage.id());
    let piece = at.piece.map(|p| p.to_string()).unwrap_or_default();
    let measure = open.and_then(|c| {
        let op = w.op(at.stage)?;
        let i = op.checks.iter().position(|o| std::ptr::eq(o, c)).filter(|_| c.id.is_some())?;
        Some((i, state.sentence(&c.what)))
    });
    html! {
        div.foot { div.inside {
            @if let Some((i, what)) = &measure { a.press.first href=(pad(w, at, *i)) { "Measure " (what) } }
            form method="post" action=(here) data-send="done" {
                (key()) input type="hidden" name="piece" value=(piece);
                button.first[measure.is_none()] type="submit" { (word) }
            }
        } }
    }
}
/// The last screen of a part: everything is done, it is looked through and signed off.
fn signing(asked: &Asked, state: &State, w: &Way<'_>) -> Markup {
    let all: Vec<(At, &Check)> = w
        .stages()
        .into_iter()
        .filter_map(|at| Some((at, w.op(at.stage)?)))
        .flat_map(|(at, op)| op.checks.iter().map(move |c| (at, c)))
        .filter(|(_, c)| c.limits.is_some() && c.id.is_some())
        .collect();
    let missing = all.iter().filter(|(at, c)| measured(state, c, at.piece).is_none()).count();
    let outside: Vec<_> = all
        .iter()
        .filter_map(|(at, c)| {
            let a = measured(state, c, at.piece)?;
            (!within(&a, limits(state, c, at.piece)?)).then_some((at, c, a))
        })
        .collect();
    let made = w.stands(state.standing()) == Stands::Made;
    let inside = html! {
        div.where { a href={ "/parts/" (encoded(w.slug)) } { (w.name) } span { @if w.pieces > 1 { "all " (w.pieces) " pieces" } } }
        h1 { @if made { "Made" } @else { "All steps are done" } }
        p { (stands(w.stands(state.standing()))) }
        dl.facts {
            dt { "sizes asked for" } dd { (all.len()) }
            dt { "measured" } dd { (all.len() - missing) }
            dt { "outside their limits" } dd { @if outside.is_empty() { "none" } @else { strong.bad { (outside.len()) } } }
        }
        @if !outside.is_empty() {
            table { tbody { @for (at, c, a) in &outside {
                tr { td { @if let Some(p) = at.piece { "piece " (p) ": " } (state.sentence(&c.what)) } td.n { (figures::length(Length::si(a.value), state.style())) } td { a href=(place(w, **at)) { "look again" } } }
            } } }
            p { "Signed off as it is, it stays as it is: what is not made yet follows it, or a verdict says what that costs." }
        }
        @if missing > 0 && !made { p.soft { "What was not measured is taken to be as drawn." } }
        @if made {
            div.presses { a.press.first href="/tonight" { "What is next" } a.press href="/moved" { "What moved" } }
        } @else {
            form method="post" action={ "/bench/" (encoded(w.slug)) "/stood" } data-send="stood" {
                (key()) input type="hidden" name="state" value="made";
                button.first.whole type="submit" { "Sign it off: made" }
            }
        }
    };
    Frame { bench: true, ..Frame::of(asked, state, w.name, "parts") }.around(&inside)
}
/// The drawing by itself, as large as is wanted.
pub fn drawing(asked: &Asked, state: &State, slug: &str) -> Option<Markup> {
    let w = steps::way(state, slug).filter(|w| w.part.is_some())?;
    let large = asked.query.get("large").is_some();
    let at = encoded(slug);
    let inside = html! {
        div.where { a href={ "/parts/" (at) } { (w.name) } a href={ "/bench/" (at) } { "at the bench" } }
        h1.unseen { "Drawing of " (w.name) }
        div.presses.no-print {
            @if large { a.press href={ "/drawing-of/" (at) } { "Whole" } } @else { a.press href={ "/drawing-of/" (at) "?large=1" } { "Larger" } }
            a.press href={ "/drawing/" (at) } { "By itself" }
        }
        div.drawn.large[large] tabindex="0" { img src={ "/drawing/" (at) } alt={ "Dimensioned drawing of " (w.name) }; }
    };
    Some(Frame { bench: true, ..Frame::of(asked, state, w.name, "parts") }.around(&inside))
}
/// What is counted, for those who look from outside.
#[must_use]
pub const fn word(c: &Counted<'_>) -> &'static str {
    match c.kind {
        Kind::Teeth => "space",
        Kind::Rows => "row",
        Kind::Boxes => "box",
    }
}
