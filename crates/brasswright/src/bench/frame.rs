//! The frame around every page: its head, the ways to the others, and small things that several pages show.

use super::asked::{Asked, encoded};
use super::floor::State;
use journal::State as Stands;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use reckon::Line;

/// The pages, as they stand in the band: address, word.
const WAYS: [(&str, &str); 15] = [
    ("clock", "Clock"),
    ("tonight", "Tonight"),
    ("parts", "Parts"),
    ("train", "Train"),
    ("plates", "Plates"),
    ("escapement", "Escapement"),
    ("power", "Power"),
    ("going", "Going"),
    ("setting-up", "Setting up"),
    ("measured", "Measured"),
    ("rating", "Rating"),
    ("shop", "Shop"),
    ("moved", "What moved"),
    ("journal", "Journal"),
    ("why", "Why"),
];
/// What a page is framed with.
pub struct Frame<'a> {
    /// Who asked.
    pub asked: &'a Asked,
    /// What is known.
    pub state: &'a State,
    /// Head of the page.
    pub title: &'a str,
    /// Which of the pages it is, or belongs to.
    pub here: &'a str,
    /// Whether it is a screen at the bench.
    pub bench: bool,
}
impl<'a> Frame<'a> {
    /// A page beside the others.
    #[must_use]
    pub const fn of(asked: &'a Asked, state: &'a State, title: &'a str, here: &'a str) -> Frame<'a> {
        Frame { asked, state, title, here, bench: false }
    }
    /// The whole page.
    #[must_use]
    pub fn around(&self, inside: &Markup) -> Markup {
        let class = if self.bench { "bench" } else { "desk" };
        let band = html! {
            header.band { div.inside {
                div.whose { a href="/" { (self.state.name()) } }
                nav.ways aria-label="Pages" {
                    @for (to, word) in WAYS {
                        a href={ "/" (to) } aria-current=[(to == self.here).then_some("page")] { (word) }
                    }
                }
            } }
        };
        whole(
            self.title,
            class,
            self.asked.cookies.get("light"),
            &html! {
                a.skip href="#page" { "To the page itself" }
                @if !self.bench { (band) }
                main #page {
                    (troubles(self.state))
                    (inside)
                }
            },
        )
    }
}
/// What every page says first, where the project itself is in trouble.
fn troubles(state: &State) -> Markup {
    html! {
        @if let Some(why) = &state.stopped {
            div.notice.bad role="alert" { p { strong { (why.says) } } @if let Some(w) = &why.why { p { (w) } } @for c in &why.cures { p { "Would do: " (c) } } }
        }
        @for t in state.unread() {
            div.notice.bad role="alert" { p { strong { (t.says) } } @if let Some(w) = &t.why { p { (w) } } @for c in &t.cures { p { "Would do: " (c) } } }
        }
    }
}
/// A page from its head on.
fn whole(title: &str, class: &str, light: Option<&str>, inside: &Markup) -> Markup {
    let light = light.filter(|l| matches!(*l, "dark" | "light"));
    html! {
        (DOCTYPE)
        html lang="en" data-light=[light] {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover";
                meta name="color-scheme" content="light dark";
                title { (title) }
                link rel="icon" href="/icon.svg" type="image/svg+xml";
                link rel="stylesheet" href={ "/style.css?" (super::route::mark()) };
                script src={ "/bench.js?" (super::route::mark()) } defer {}
            }
            body class=(class) {
                div #waiting.notice hidden role="status" {}
                (inside)
            }
        }
    }
}
/// The page that asks for the code.
#[must_use]
pub fn pair(wrong: Option<&str>) -> Markup {
    whole(
        "Pair this phone",
        "bench",
        None,
        &html! {
            main #page {
                h1 { "Pair this phone" }
                @if let Some(says) = wrong { div.notice.bad role="alert" { p { (says) } } }
                p { "A code of six letters and digits stands in the terminal where the bench was started. It is asked for once; this phone is known from then on." }
                form method="post" action="/pair" {
                    label for="code" { "Code" }
                    input #code .reading type="text" name="code" maxlength="12" autocomplete="off" autocapitalize="characters" required;
                    p { button.first.whole type="submit" { "Pair" } }
                }
            }
        },
    )
}
/// A page of its own for what went wrong.
#[must_use]
pub fn sorry(asked: &Asked, state: &State, head: &str, says: &str, back: &str) -> Markup {
    Frame::of(asked, state, head, "").around(&html! {
        h1 { (head) }
        p { (says) }
        p { a.press href=(back) { "Back" } }
    })
}
/// Address of the why of a name.
#[must_use]
pub fn why_of(name: &str) -> String {
    format!("/why?name={}", encoded(name))
}
/// The value of a line, with the way to its why.
#[must_use]
pub fn line_value(state: &State, line: &Line) -> Markup {
    html! { a href=(why_of(&line.name)) title=(line.name) { (state.shown(line)) } }
}
/// A number with its name, as a tile.
#[must_use]
pub fn tile(state: &State, label: &str, name: &str) -> Option<Markup> {
    let (_, line) = state.work.book.find(name)?;
    // A bare share or count of weeks is looked at, not set: three figures; its why has them all.
    let shown = state.shown(line);
    let bare = shown.parse::<f64>().ok().filter(|_| shown.contains('.'));
    let shown = bare.map_or(shown, |x| reckon::print::significant(x, 3));
    Some(html! { a href=(why_of(name)) title=(name) { b { (shown) } span { (label) } } })
}
/// The same by its place in the book.
#[must_use]
pub fn tile_of(state: &State, label: &str, id: reckon::Id) -> Option<Markup> {
    tile(state, label, &state.work.book.line(id)?.name)
}
/// Tiles of those names that there are; nothing where there are none.
#[must_use]
pub fn tiles(state: &State, of: &[(&str, &str)]) -> Markup {
    let all: Vec<Markup> = of.iter().filter_map(|(label, name)| tile(state, label, name)).collect();
    html! { @if !all.is_empty() { div.numbers { @for t in &all { (t) } } } }
}
/// How a piece stands: a form and a word.
#[must_use]
pub fn stands(state: Stands) -> Markup {
    let drawn = match state {
        Stands::Wanted => r#"<circle cx="8" cy="8" r="6" class="line" stroke-width="1.6"/>"#,
        Stands::Roughed => {
            r#"<circle cx="8" cy="8" r="6" class="line" stroke-width="1.6"/><path d="M8 2a6 6 0 0 0 0 12z" class="full"/>"#
        }
        Stands::Made => r#"<circle cx="8" cy="8" r="7" class="fullgood"/>"#,
        Stands::Scrapped => {
            r#"<circle cx="8" cy="8" r="6" class="line" stroke-width="1.6"/><path d="M3.5 12.5l9-9" class="line" stroke-width="1.6"/>"#
        }
    };
    let svg = format!(r#"<svg viewBox="0 0 16 16" aria-hidden="true">{drawn}</svg>"#);
    html! { span.state { (PreEscaped(svg)) (state.word()) } }
}
/// How far something is: so much of so much.
#[must_use]
pub fn bar(done: f64, whole: f64, says: &str) -> Markup {
    let share = if whole > 0.0 { (done / whole).clamp(0.0, 1.0) } else { 0.0 };
    let svg = format!(
        r#"<svg viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true"><rect width="{}" height="6" class="full"/></svg>"#,
        reckon::print::fixed(share * 100.0, 1)
    );
    html! { span.bar role="img" aria-label=(says) title=(says) { (PreEscaped(svg)) } }
}
