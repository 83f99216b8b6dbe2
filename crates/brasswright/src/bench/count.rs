//! Counting within an operation: teeth on a wheel, passes of a table, boxes of grain with a barrier between two; and
//! what a fire needs.

use super::asked::{Asked, encoded};
use super::at_bench::{big_number, key, word};
use super::floor::State;
use super::frame::why_of;
use super::steps::{At, Counted, Kind, Way};
use heat::polish::BARRIER;
use making::plan::Figure;
use making::plan::fire::Card;
use maud::{Markup, PreEscaped, html};
use reckon::maths;
use reckon::print::fixed;
use std::fmt::Write as _;

/// How the crank goes from tooth to tooth.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Crank {
    turns: u32,
    holes: u32,
    circle: u32,
    sector: u32,
}
impl Crank {
    /// Where the pin stands when so many steps were made: turns made, hole.
    fn after(self, steps: u32) -> (u32, u32) {
        let c = self.circle.max(1);
        let all = steps * (self.turns * c + self.holes);
        (all / c, all % c)
    }
}
fn crank(state: &State, c: &Counted<'_>) -> Option<(Crank, String)> {
    let slug = c.name.strip_suffix(".ticks")?;
    let whole = |tail: &str| {
        let (_, line) = state.work.book.find(&format!("{slug}.dividing.{tail}"))?;
        fixed(line.si?, 0).parse().ok()
    };
    let of = Crank {
        turns: whole("turns")?,
        holes: whole("holes").unwrap_or(0),
        circle: whole("circle").unwrap_or(0),
        sector: whole("sector").unwrap_or(0),
    };
    Some((of, slug.to_owned()))
}
/// The tooth counter.
pub fn teeth(state: &State, w: &Way<'_>, at: At, c: &Counted<'_>, cut: u32) -> Markup {
    let of = crank(state, c);
    let (turns, hole) = of.as_ref().map_or((0, 0), |(k, _)| k.after(cut));
    let spoken = of.as_ref().map(|(k, _)| match (k.turns, k.holes) {
        (t, 0) => format!("{t} turns"),
        (0, h) => format!("{h} holes on {}", k.circle),
        (t, h) => format!("{t} turns {h} holes on {}", k.circle),
    });
    let data = of.as_ref().map(|(k, _)| format!("{} {} {}", k.turns, k.holes, k.circle));
    html! {
        div.counter data-counter={ (w.slug) "/" (at.stage.id()) } data-whole=(c.whole) data-cut=(cut) data-crank=[data] {
            div.pair {
                div {
                    div.now {
                        span.what { "spaces cut" }
                        span.big.n6 aria-live="polite" { span data-shows="cut" { (cut) } span.unit { "of " (c.whole) } }
                    }
                    @if let (Some(spoken), Some((k, slug))) = (&spoken, &of) {
                        @if k.circle > 0 {
                            p.pin { "pin in hole " span data-shows="hole" { (hole) } }
                            p { "after the cut " a href=(why_of(&format!("{slug}.dividing.way"))) { strong { (spoken) } } ", to hole " strong data-shows="next" { (k.after(cut + 1).1) } @if k.sector > 0 { span.soft { "; sector over " (k.sector) } } }
                            p.soft.small { "crank turned " span data-shows="turns" { (turns) } " times since the first space" }
                        } @else {
                            p { "after the cut " a href=(why_of(&format!("{slug}.dividing.way"))) { strong { (spoken) } } }
                        }
                    }
                    (buttons(w, at, cut, c.whole, "Cut it", "space"))
                }
                (picture(c.whole, cut, of.as_ref().map(|(k, _)| *k)))
            }
        }
    }
}
/// One forward, one back.
fn buttons(w: &Way<'_>, at: At, now: u32, whole: u32, forward: &str, what: &str) -> Markup {
    let to = format!("/bench/{}/{}/count", encoded(w.slug), at.stage.id());
    let piece = at.piece.map(|p| p.to_string()).unwrap_or_default();
    let form = |n: u32, by: &str, inside: Markup| {
        html! {
            form method="post" action=(to) data-send="count" data-by=(by) {
                (key()) input type="hidden" name="piece" value=(piece); input type="hidden" name="count" value=(n);
                (inside)
            }
        }
    };
    html! {
            div.count {
    (form(now.saturating_sub(1), "-1", html! { button type="submit" hidden[now == 0] aria-label={ "take one " (what) " back" } { "−1" } }))
                (form((now + 1).min(whole), "1", html! { button.first type="submit" { (forward) } }))
            }
        }
}
/// The wheel with its spaces, and the plate with its pin and sector.
fn picture(whole: u32, cut: u32, crank: Option<Crank>) -> Markup {
    let mut svg = String::from(
        r#"<svg class="plan" viewBox="-110 -110 220 220" role="img" aria-label="spaces cut, and where the pin stands">"#,
    );
    let turn = |k: f64| 2.0 * maths::PI * k;
    let point = |r: f64, a: f64| (fixed(r * maths::sin(a), 2), fixed(-r * maths::cos(a), 2));
    for i in 0..whole {
        let half = turn(0.36 / f64::from(whole));
        let a = turn(f64::from(i) / f64::from(whole));
        let class = if i < cut { "full" } else { "empty" };
        let ((x0, y0), (x1, y1)) = (point(102.0, a - half), point(102.0, a + half));
        let ((x2, y2), (x3, y3)) = (point(88.0, a + half), point(88.0, a - half));
        let _ = write!(
            svg,
            r#"<path data-space="{}" class="{class}" stroke-width="0.4" d="M{x0} {y0}L{x1} {y1}L{x2} {y2}L{x3} {y3}z"/>"#,
            i + 1
        );
    }
    let (x, y) = point(107.0, 0.0);
    let _ = write!(
        svg,
        r#"<circle cx="{x}" cy="{y}" r="2.4" class="fullbad"><title>paint mark at the first space</title></circle>"#
    );
    if let Some(k) = crank.filter(|k| k.circle > 0) {
        let c = f64::from(k.circle);
        let (_, hole) = k.after(cut);
        for h in 0..k.circle {
            let (x, y) = point(66.0, turn(f64::from(h) / c));
            let _ = write!(
                svg,
                r#"<circle data-hole="{h}" cx="{x}" cy="{y}" r="{}" class="empty" stroke-width="0.6"/>"#,
                if k.circle > 60 { 1.2 } else { 2.0 }
            );
        }
        // The sector spans from the pin to where it goes next.
        let (from, to) = (f64::from(hole) / c, (f64::from(hole) + f64::from(k.holes)) / c);
        let _ = write!(svg, r#"<g data-arms="{}">"#, k.circle);
        let (fx, fy) = point(74.0, turn(from));
        let (tx, ty) = point(74.0, turn(to));
        let _ = write!(
            svg,
            r#"<path data-arm="from" class="line" stroke-width="1.6" d="M0 0L{fx} {fy}"/><path data-arm="to" class="line" stroke-width="1.6" d="M0 0L{tx} {ty}"/></g>"#
        );
        let (x, y) = point(66.0, turn(from));
        let (nx, ny) = point(66.0, turn(to));
        let _ = write!(
            svg,
            r#"<circle data-pin="next" cx="{nx}" cy="{ny}" r="4" class="line" stroke-width="1.4"/><circle data-pin="now" cx="{x}" cy="{y}" r="4" class="fullgood"/>"#
        );
    }
    svg += "</svg>";
    html! { figure { (PreEscaped(svg)) figcaption { "Outside: the spaces, the paint mark at the first. Inside: the plate, ● the pin now, ○ where it goes next." } } }
}
/// Rows of a table gone through one by one.
pub fn rows(asked: &Asked, state: &State, w: &Way<'_>, at: At, c: &Counted<'_>, done: u32) -> Markup {
    let Some(row) = c.rows.get(done as usize) else { return html! {} };
    // What is set now: the dial where there is one.
    let main = c
        .columns
        .iter()
        .position(|h| h.starts_with("dial") || h.ends_with("dial"))
        .unwrap_or(usize::from(row.len() > 1 && c.kind != Kind::Boxes));
    let shut = c.kind == Kind::Boxes && done > 0 && asked.query.whole("open") != Some(done);
    let piece = at.piece.map(|p| format!("&piece={p}")).unwrap_or_default();
    html! {
        @if shut {
            div.barrier role="region" aria-label="barrier" {
                h2 { "Barrier before box " (done + 1) }
                p { strong { (BARRIER) } }
                p { "Nothing of box " (done) " crosses: cloth, lap, gloves, grit under a nail." }
                a.press.first.whole href={ "?open=" (done) (piece) } { "Washed: open box " (done + 1) }
            }
        } @else {
            (big_number(&format!("{} {} of {}: {}", named(c), done + 1, c.whole, c.columns.get(main).map_or("", String::as_str)), &state.sentence(&row[main].shown), Some(c.name)))
            dl.facts { @for (h, cell) in c.columns.iter().zip(row).enumerate().filter(|(i, (_, v))| *i != main && !v.shown.is_empty()).map(|(_, x)| x) { dt { (h) } dd { (state.sentence(&cell.shown)) } } }
            (buttons(w, at, done, c.whole, &format!("{} {} done", named(c), done + 1), word(c)))
        }
    }
}
/// What a row of it is called: the head of its first column.
fn named<'a>(c: &Counted<'a>) -> &'a str {
    match c.kind {
        Kind::Boxes => "Box",
        _ if c.name.ends_with(".passes") => "Pass",
        _ if c.name.ends_with(".cuts") => "Cut",
        _ if c.name.ends_with(".pecks") => "Dip",
        _ if c.name.ends_with(".holes") => "Hole",
        _ => "Row",
    }
}
/// The whole table: what is behind, where it stands, what is left.
pub fn list(state: &State, c: &Counted<'_>, done: u32) -> Markup {
    let done = done as usize;
    html! {
        div.scroll { table {
            thead { tr { @for h in c.columns { th scope="col" { (h) } } } }
            tbody { @for (i, r) in c.rows.iter().enumerate() {
                tr.here[i == done].past[i < done] aria-current=[(i == done).then_some("step")] { @for cell in r { @let long = cell.shown.chars().count() > 14; td.short[!long].wordy[long] { (state.sentence(&cell.shown)) } } }
            } }
        } }
        p.small.no-print { a href=(why_of(c.name)) { "why these" } }
    }
}
/// Numbers of a fire, those left out that the operation shows already.
pub fn fire_numbers(state: &State, card: &Card, shown: &[Figure]) -> Markup {
    let again = |f: &&Figure| !shown.iter().any(|s| s.label == f.label && s.text == f.text);
    html! {
        @if !card.large.is_empty() || !card.own.is_empty() {
            div.numbers { @for f in card.large.iter().chain(&card.own).filter(again) {
                @let line = f.id.and_then(|id| state.work.book.line(id));
                @match line {
                    Some(l) => a href=(why_of(&l.name)) { b { (state.sentence(&f.text)) } span { (f.label) } },
                    None => div { b { (state.sentence(&f.text)) } span { (f.label) } },
                }
            } }
        }
    }
}
/// What else a fire needs: its colours, how, what to write down.
pub fn fire(state: &State, card: &Card) -> Markup {
    html! {
        @if !card.strip.is_empty() {
            figure { (strip(card)) figcaption { (state.sentence(&card.strip_says)) } }
        }
        ul.told { @for l in card.lines.iter().chain(&card.also) { li { (state.sentence(l)) } } }
        @if !card.write.is_empty() { p.soft { "Write down, under Remark: " (card.write.join(", ")) "." } }
    }
}
fn strip(card: &Card) -> Markup {
    let n = card.strip.len() as f64;
    let each = 600.0 / n;
    let mut svg = String::from(
        r#"<svg class="plan" viewBox="0 0 600 110" role="img" aria-label="colours in their order">"#,
    );
    for (i, p) in card.strip.iter().enumerate() {
        let x = fixed(i as f64 * each, 1);
        let [r, g, b] = p.rgb;
        let mid = fixed((i as f64 + 0.5) * each, 1);
        let _ = write!(
            svg,
            r##"<rect x="{x}" y="0" width="{}" height="56" fill="#{r:02x}{g:02x}{b:02x}"><title>{}: {}</title></rect>"##,
            fixed(each, 1),
            escaped(&p.name),
            escaped(&p.at)
        );
        if p.inside {
            let _ =
                write!(svg, r#"<rect x="{x}" y="57" width="{}" height="6" class="full"/>"#, fixed(each, 1));
        }
        if p.aim {
            let _ = write!(svg, r#"<path d="M{mid} 64l-9 14h18z" class="fullgood"/>"#);
        }
        let _ = write!(
            svg,
            r#"<text x="{mid}" y="92" text-anchor="middle" font-size="12">{}</text><text x="{mid}" y="106" text-anchor="middle" font-size="11" class="soft">{}</text>"#,
            escaped(&p.name),
            escaped(&p.at)
        );
    }
    svg += "</svg>";
    html! { (PreEscaped(svg)) }
}
/// Text inside a drawing.
#[must_use]
pub fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_crank_counts_on() {
        // 40 to 1, 80 teeth: 10 holes of 20; 144 teeth: 5 of 18.
        let half = Crank { turns: 0, holes: 10, circle: 20, sector: 11 };
        assert_eq!(
            (half.after(0), half.after(1), half.after(37), half.after(80)),
            ((0, 0), (0, 10), (18, 10), (40, 0))
        );
        let c = Crank { turns: 0, holes: 5, circle: 18, sector: 6 };
        assert_eq!((c.after(143), c.after(144)), ((39, 13), (40, 0)));
        let d = Crank { turns: 3, holes: 1, circle: 3, sector: 2 };
        assert_eq!((d.after(1), d.after(12)), ((3, 1), (40, 0)));
    }
}
