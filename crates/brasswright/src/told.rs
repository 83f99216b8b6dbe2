//! Troubles as a maker reads them: the place underlined, why, what would do; and as other programs read them.

use crate::look::{clean, counted};
use crate::outcome::{Stopped, WRONG_USE};
use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};
use reckon::{Kind, Place, Trouble, Weight};
use serde_json::{Value, json};

/// The most troubles that are shown in full; the rest are counted.
const MOST: usize = 40;

/// Texts that places point into: the name inside a place, the path to show, the text if it is one.
#[derive(Clone, Debug, Default)]
pub struct Texts(Vec<(String, String, Option<String>)>);
impl Texts {
    /// Adds a text. Bytes that are not UTF-8 are pointed at by line only.
    pub fn add(&mut self, name: &str, path: &str, bytes: &[u8]) {
        let text = std::str::from_utf8(bytes).ok().map(str::to_owned);
        self.0.push((name.to_owned(), clean(path), text));
    }
    fn find(&self, name: &str) -> Option<(&str, Option<&str>)> {
        self.0.iter().find(|(n, ..)| n == name).map(|(_, path, text)| (path.as_str(), text.as_deref()))
    }
    /// The path to show for a place's file.
    #[must_use]
    pub fn path<'a>(&'a self, name: &'a str) -> &'a str {
        self.find(name).map_or(name, |(path, _)| path)
    }
}

/// One word for a kind, as other programs read it.
#[must_use]
pub const fn word(kind: Kind) -> &'static str {
    match kind {
        Kind::Text => "text",
        Kind::Shop => "shop",
        Kind::Design => "design",
        Kind::Unmakeable => "unmakeable",
        Kind::Ours => "ours",
    }
}
const fn label(kind: Kind, weight: Weight) -> &'static str {
    match (kind, weight) {
        (Kind::Text, Weight::Error) => "text trouble",
        (Kind::Shop, Weight::Error) => "shop trouble",
        (Kind::Design, Weight::Error) => "design trouble",
        (Kind::Unmakeable, Weight::Error) => "cannot be made",
        (Kind::Ours, Weight::Error) => "fault of this program",
        (Kind::Text, Weight::Warning) => "text warning",
        (Kind::Shop, Weight::Warning) => "shop warning",
        (Kind::Design, Weight::Warning) => "design warning",
        (Kind::Unmakeable, Weight::Warning) => "warning of making",
        (Kind::Ours, Weight::Warning) => "warning",
    }
}

/// By place, those without one last; the same thing is told once.
#[must_use]
pub fn in_order(mut troubles: Vec<Trouble>) -> Vec<Trouble> {
    troubles.sort_by(|a, b| {
        let key = |t: &Trouble| (t.at.is_empty(), t.at.first().cloned());
        key(a).cmp(&key(b))
    });
    let mut once: Vec<Trouble> = Vec::new();
    for t in troubles {
        if !once.iter().rev().take_while(|o| o.at == t.at).any(|o| *o == t) {
            once.push(t);
        }
    }
    once
}

/// All troubles, in order, with their count at the end; empty when there is none.
#[must_use]
pub fn all(troubles: &[Trouble], texts: &Texts, colour: bool) -> String {
    called(troubles, |t| label(t.kind, t.weight), texts, colour)
}
/// The same, where they are all wrong uses of the command line.
#[must_use]
pub fn wrong_uses(troubles: &[Trouble], texts: &Texts, colour: bool) -> String {
    called(troubles, |_| WRONG_USE, texts, colour)
}
fn called(
    troubles: &[Trouble],
    label: impl Fn(&Trouble) -> &'static str,
    texts: &Texts,
    colour: bool,
) -> String {
    let mut out = String::new();
    for t in troubles.iter().take(MOST) {
        out += &one(t, label(t), texts, colour);
        out.push('\n');
    }
    if troubles.len() > MOST {
        out += &format!("… and {} more, left out here; --json lists all\n\n", troubles.len() - MOST);
    }
    if !troubles.is_empty() {
        let errors = troubles.iter().filter(|t| t.stops()).count();
        let warnings = troubles.len() - errors;
        let said: Vec<String> = [(errors, "trouble"), (warnings, "warning")]
            .into_iter()
            .filter(|(n, _)| *n > 0)
            .map(|(n, what)| counted(n, what))
            .collect();
        out += &format!("{}\n", said.join(" and "));
    }
    out
}
/// A wrong use or a file that cannot be read or written.
#[must_use]
pub fn stopped(s: &Stopped, texts: &Texts, colour: bool) -> String {
    one(&s.trouble, s.label(), texts, colour)
}

fn one(t: &Trouble, label: &str, texts: &Texts, colour: bool) -> String {
    let level = if t.stops() { Level::ERROR } else { Level::WARNING };
    let mut group = Group::with_title(level.with_name(label).primary_title(clean(&t.says)));
    for (i, file) in files(t).into_iter().enumerate() {
        let places: Vec<&Place> = t.at.iter().filter(|p| *p.file == *file).collect();
        group = match texts.find(file) {
            Some((path, Some(text))) => group.element(snippet(path, text, &places, i == 0)),
            Some((path, None)) => group.element(origin(path, places[0])),
            None => group.element(origin(file, places[0])),
        };
    }
    if let Some(why) = &t.why {
        group = group.element(Level::NOTE.with_name("why").message(clean(why)));
    }
    for cure in &t.cures {
        group = group.element(Level::HELP.with_name("would do").message(clean(cure)));
    }
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    let mut text = renderer.decor_style(DecorStyle::Ascii).term_width(110).render(&[group]);
    text.push('\n');
    text
}
/// The files of a trouble in the order of its places, each once.
fn files(t: &Trouble) -> Vec<&str> {
    let mut files: Vec<&str> = Vec::new();
    for p in &t.at {
        if !files.contains(&&*p.file) {
            files.push(&p.file);
        }
    }
    files
}
fn origin<'a>(path: &str, at: &Place) -> Origin<'a> {
    let origin = Origin::path(clean(path));
    if at.line == 0 { origin } else { origin.line(at.line as usize).char_column(at.column as usize) }
}
/// The lines that hold the places, no more: a long file costs nothing.
fn snippet<'a>(
    path: &str,
    text: &'a str,
    places: &[&Place],
    first: bool,
) -> Snippet<'a, annotate_snippets::Annotation<'a>> {
    let spans: Vec<(usize, usize)> = places.iter().map(|p| on_one_line(text, p.start, p.end)).collect();
    let from = spans.iter().map(|s| s.0).min().unwrap_or(0);
    let to = spans.iter().map(|s| s.1).max().unwrap_or(0);
    let start = text[..from].rfind('\n').map_or(0, |i| i + 1);
    let end = text[to..].find('\n').map_or(text.len(), |i| to + i);
    let line = text[..start].bytes().filter(|b| *b == b'\n').count() + 1;
    let typed = places.first().is_some_and(|p| p.line == 0);
    // What was typed has neither a path nor lines to count.
    let snippet = Snippet::source(&text[start..end]);
    let mut snippet =
        if typed { snippet.line_numbering(false) } else { snippet.path(path.to_owned()).line_start(line) };
    for (i, (a, b)) in spans.into_iter().enumerate() {
        let kind = if first && i == 0 { AnnotationKind::Primary } else { AnnotationKind::Context };
        snippet = snippet.annotation(kind.span(a - start..b - start));
    }
    snippet
}
/// A span brought onto whole characters and cut off at the end of its first line.
fn on_one_line(text: &str, start: usize, end: usize) -> (usize, usize) {
    let floor = |mut at: usize| {
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let start = floor(start.min(text.len()));
    let end = floor(end.min(text.len())).max(start);
    let line_end = text[start..end].find(['\n', '\r']).map_or(end, |i| start + i);
    (start, line_end)
}

/// Troubles as other programs read them.
#[must_use]
pub fn as_json(troubles: &[Trouble], texts: &Texts) -> Value {
    troubles.iter().map(|t| one_as_json(t, word(t.kind), texts)).collect()
}
/// A wrong use or file trouble as other programs read it.
#[must_use]
pub fn stopped_as_json(s: &Stopped, texts: &Texts) -> Value {
    let kind = match s.exit {
        crate::exit::FILES => "files",
        crate::exit::TEXT => "text",
        _ => "use",
    };
    json!({ "exit": s.exit, "troubles": [one_as_json(&s.trouble, kind, texts)] })
}
fn one_as_json(t: &Trouble, kind: &str, texts: &Texts) -> Value {
    let first = t.at.first();
    let line = first.filter(|p| p.line > 0);
    json!({
        "kind": kind,
        "weight": if t.stops() { "error" } else { "warning" },
        "says": t.says,
        "file": first.map(|p| texts.path(&p.file)),
        "line": line.map(|p| p.line),
        "column": line.map(|p| p.column),
        "also": t.at.iter().skip(1).map(|p| place(p, texts)).collect::<Value>(),
        "why": t.why,
        "cures": t.cures,
    })
}
/// A place as other programs read it.
#[must_use]
pub fn place(p: &Place, texts: &Texts) -> Value {
    let on_line = p.line > 0;
    json!({
        "file": texts.path(&p.file),
        "line": on_line.then_some(p.line),
        "column": on_line.then_some(p.column),
    })
}

#[cfg(test)]
mod tests;
