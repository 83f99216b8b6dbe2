//! Workings shown: a tree for a reader, a flat list for another program.

use crate::look::{Paint, clean, columns};
use crate::told::{self, Texts};
use reckon::workings::{DEEPEST, how, readable};
use reckon::{Book, Id, Line, Origin, Source};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// The trees under some names, one after the other; what was opened once is referred to afterwards.
#[must_use]
pub fn text<'a>(book: &Book, names: impl IntoIterator<Item = &'a str>, paint: Paint) -> String {
    let mut tree = Tree { book, paint, seen: BTreeSet::new(), out: String::new() };
    for name in names {
        if let Some((id, _)) = book.find(name) {
            tree.write(id, 0, "");
        }
    }
    tree.out
}
struct Tree<'b> {
    book: &'b Book,
    paint: Paint,
    seen: BTreeSet<Id>,
    out: String,
}
impl Tree<'_> {
    fn write(&mut self, id: Id, depth: usize, letter: &str) {
        let Some(line) = self.book.line(id) else { return };
        let pad = "  ".repeat(depth);
        let letter =
            if letter.is_empty() || letter == line.name { String::new() } else { format!("{letter} = ") };
        let head = format!("{} = {}", clean(&line.name), clean(&line.shown));
        let head = if depth == 0 { self.paint.strong(&head) } else { head };
        let opened = !self.seen.insert(id);
        let deep = depth >= DEEPEST && !line.origin.inputs().is_empty();
        let said = match (opened, deep) {
            (true, _) => "(above)".to_owned(),
            (_, true) => "(not opened here; ask about it by its name)".to_owned(),
            _ => clean(&how(&line.origin)),
        };
        self.out += &format!("{pad}{letter}{head}   {}\n", self.paint.faint(&said));
        if opened || deep {
            return;
        }
        self.details(&line.origin, depth * 2 + 4);
        let letters = letters(&line.origin);
        for (i, input) in line.origin.inputs().iter().enumerate() {
            self.write(*input, depth + 1, letters.get(i).copied().unwrap_or(""));
        }
    }
    fn details(&mut self, origin: &Origin, indent: usize) {
        let pad = " ".repeat(indent);
        match origin {
            Origin::Chosen { among, .. } => {
                let row = |a: &reckon::Alternative| {
                    vec![if a.taken { "taken" } else { "not" }.to_owned(), clean(&a.what), clean(&a.why)]
                };
                self.out += &columns(&among.iter().map(row).collect::<Vec<_>>(), indent);
            }
            Origin::Table { columns: heads, rows, .. } => {
                let mut all: Vec<Vec<String>> = vec![heads.iter().map(|h| clean(h)).collect()];
                all.extend(rows.iter().map(|r| r.iter().map(|c| clean(&c.shown)).collect()));
                self.out += &columns(&all, indent);
            }
            Origin::Verdict { holds: false, cures, .. } => {
                for cure in cures {
                    self.out += &format!("{pad}would do: {}\n", clean(cure));
                }
            }
            _ => {}
        }
    }
}
const fn letters(origin: &Origin) -> &'static [&'static str] {
    match origin {
        Origin::Worked { letters, .. } | Origin::Verdict { letters, .. } => letters,
        _ => &[],
    }
}

/// Names with their values, a row each.
#[must_use]
pub fn list(book: &Book, names: &[&str], paint: Paint) -> String {
    let rows: Vec<Vec<String>> = names
        .iter()
        .filter_map(|n| book.find(n))
        .map(|(_, l)| vec![clean(&l.name), clean(&l.shown), l.origin.word().to_owned()])
        .collect();
    crate::look::painted(&rows, 0, |i, cell| match i {
        1 => paint.strong(cell),
        2 => paint.faint(cell),
        _ => cell.to_owned(),
    })
}

/// The lines of some names, and, where `open`, all that they rest on: each once, what is named first comes first.
#[must_use]
pub fn as_json(book: &Book, names: &[&str], open: bool, texts: &Texts) -> Value {
    let mut seen = BTreeSet::new();
    let mut lines = Vec::new();
    let mut next: std::collections::VecDeque<Id> =
        names.iter().filter_map(|n| book.find(n)).map(|f| f.0).collect();
    while let Some(id) = next.pop_front() {
        if !seen.insert(id) {
            continue;
        }
        if let Some(line) = book.line(id) {
            lines.push(line_as_json(book, line, texts));
            if open {
                next.extend(line.origin.inputs());
            }
        }
    }
    lines.into()
}
/// One line as other programs read it.
#[must_use]
pub fn line_as_json(book: &Book, line: &Line, texts: &Texts) -> Value {
    let letters = letters(&line.origin);
    let inputs: Value = line
        .origin
        .inputs()
        .iter()
        .enumerate()
        .filter_map(|(i, id)| {
            let name = &book.line(*id)?.name;
            Some(match letters.get(i) {
                Some(letter) => json!({ "name": name, "letter": letter }),
                None => json!({ "name": name }),
            })
        })
        .collect();
    let mut out = json!({
        "name": line.name,
        "shown": line.shown,
        "value": line.si,
        "unit": line.unit,
        "origin": line.origin.word(),
        "inputs": inputs,
        "source": line.origin.source().map(source),
    });
    let more = match &line.origin {
        Origin::Written { at } => json!({ "at": told::place(at, texts) }),
        Origin::Assumed { why } => json!({ "why": why }),
        Origin::Tabled { row, .. } => json!({ "row": row }),
        Origin::Measured { entry, tool } => json!({ "entry": entry, "tool": tool }),
        Origin::Actual { actual, wanted, wanted_si, .. } => json!({
            "entry": actual.entry, "tool": actual.tool, "give_or_take": actual.give_or_take,
            "wanted": { "shown": wanted, "value": wanted_si },
        }),
        Origin::Worked { formula, .. } => json!({ "formula": readable(formula) }),
        Origin::Solved { formula, residual, rounds, .. } => {
            json!({ "formula": formula, "off_by": residual, "rounds": rounds })
        }
        Origin::Chosen { rule, among, .. } => {
            let among = among.iter().map(|a| json!({ "what": a.what, "taken": a.taken, "why": a.why }));
            json!({ "rule": rule, "among": among.collect::<Value>() })
        }
        Origin::Table { rule, columns, rows, .. } => {
            let cell = |c: &reckon::Cell| json!({ "shown": c.shown, "value": c.si, "unit": c.unit });
            let rows: Value = rows.iter().map(|r| r.iter().map(cell).collect::<Value>()).collect();
            json!({ "rule": rule, "columns": columns, "rows": rows })
        }
        Origin::Verdict { says, formula, holds, cures, .. } => {
            json!({ "says": says, "formula": readable(formula), "holds": holds, "cures": cures })
        }
    };
    if let (Value::Object(out), Value::Object(more)) = (&mut out, more) {
        out.extend(more);
    }
    out
}
fn source(s: &Source) -> Value {
    json!({ "cite": s.cite, "mark": s.mark.text(), "formula": s.formula })
}

#[cfg(test)]
mod tests;
