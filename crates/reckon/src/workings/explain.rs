//! A working led down to what it rests on, as a readable tree.

use super::{Line, Origin};
use crate::source::Source;

/// How many workings down a tree goes: far more than a reader follows, and few enough for any stack.
pub const DEEPEST: usize = 200;

/// A line with what it rests on.
#[derive(Debug)]
pub struct Explained<'b> {
    /// The line.
    pub line: &'b Line,
    /// Whether it was explained above and is not opened again.
    pub again: bool,
    /// Whether it lies too far down to be opened here; ask about it by its own name.
    pub deeper: bool,
    /// Letter in the formula (may be empty) and the input.
    pub inputs: Vec<(&'b str, Explained<'b>)>,
}
impl Explained<'_> {
    /// As a readable tree, two spaces a level.
    #[must_use]
    pub fn text(&self) -> String {
        let mut out = String::new();
        self.write(&mut out, 0, "");
        out
    }
    fn write(&self, out: &mut String, depth: usize, letter: &str) {
        let pad = "  ".repeat(depth);
        let letter = if letter.is_empty() { String::new() } else { format!("{letter} = ") };
        *out += &format!("{pad}{letter}{} = {}", self.line.name, self.line.shown);
        if self.again {
            *out += "   (explained above)\n";
            return;
        }
        if self.deeper {
            *out += "   (not opened here; ask about it by its name)\n";
            return;
        }
        *out += &format!("   {}\n", how(&self.line.origin));
        if let Origin::Chosen { among, .. } = &self.line.origin {
            for a in among {
                *out +=
                    &format!("{pad}    {} {}: {}\n", if a.taken { "taken" } else { "  not" }, a.what, a.why);
            }
        }
        if let Origin::Table { columns, rows, .. } = &self.line.origin {
            *out += &format!("{pad}    {}\n", columns.join(" | "));
            for row in rows {
                let cells: Vec<&str> = row.iter().map(|c| c.shown.as_str()).collect();
                *out += &format!("{pad}    {}\n", cells.join(" | "));
            }
        }
        if let Origin::Verdict { holds: false, cures, .. } = &self.line.origin {
            for c in cures {
                *out += &format!("{pad}    would do: {c}\n");
            }
        }
        for (letter, input) in &self.inputs {
            input.write(out, depth + 1, letter);
        }
    }
}
/// The expression as a reader sees it: the Rust of it tidied, nothing changed.
#[must_use]
pub fn readable(formula: &str) -> String {
    let one_line = formula.split_whitespace().collect::<Vec<_>>().join(" ");
    let plain =
        one_line.replace(".n()", "").replace(" * ", " × ").replace("maths::", "").replace(".value()", "");
    // Numbers that the expression makes on the spot, as a reader writes them.
    let made = [
        ("Length::mm(", " mm"),
        ("Diameter::mm(", " mm"),
        ("Angle::deg(", "°"),
        ("Length::ZERO", ""),
        ("Count(", ""),
        ("Ratio::si(", ""),
    ];
    made.iter().fold(plain, |text, (call, unit)| unwrapped(&text, call, unit))
}
/// A call round a plain number replaced by the number and its unit.
fn unwrapped(text: &str, call: &str, unit: &str) -> String {
    if !call.ends_with('(') {
        return text.replace(call, "0");
    }
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(call) {
        let (before, from) = (&rest[..at], &rest[at + call.len()..]);
        out.push_str(before);
        match from.find(')').map(|end| (&from[..end], &from[end + 1..])) {
            Some((inner, after)) if inner.chars().all(|c| c.is_ascii_digit() || c == '.' || c == '_') => {
                let number = inner.strip_suffix(".0").unwrap_or(inner);
                out.push_str(number);
                out.push_str(unit);
                rest = after;
            }
            _ => {
                out.push_str(call);
                rest = from;
            }
        }
    }
    out + rest
}
/// One clause on how a line was had.
#[must_use]
pub fn how(origin: &Origin) -> String {
    let cited = |s: &Source| {
        let shown = s.formula.map_or(String::new(), |f| format!("{f}; "));
        format!("{shown}{}, {}", s.cite, s.mark.text())
    };
    match origin {
        Origin::Written { at } => format!("written: {at}"),
        Origin::Assumed { why } => format!("assumed: {why}"),
        Origin::Tabled { row, source } => format!("table: {row} ({})", cited(source)),
        Origin::Measured { entry, tool } => format!("measured: journal entry {entry}, {tool}"),
        Origin::Actual { actual, wanted, was, .. } => {
            let tool = if actual.tool.is_empty() { String::new() } else { format!(", {}", actual.tool) };
            let from = format!("{}: journal entry {}{tool}", actual.word(), actual.entry);
            format!("{from}; in place of {wanted}, {}", how(was))
        }
        Origin::Worked { formula, source, .. } => format!("= {}   ({})", readable(formula), cited(source)),
        // One round and nothing left over: it was read off, not searched for.
        Origin::Solved { formula, rounds: 1, residual: 0.0, source, .. } => {
            format!("{formula} ({})", cited(source))
        }
        Origin::Solved { formula, residual, rounds, source, .. } => {
            format!("solved: {formula} ({rounds} rounds, off by {residual:.1e}; {})", cited(source))
        }
        Origin::Chosen { rule, source, .. } => format!("chosen: {rule} ({})", cited(source)),
        Origin::Table { rule, source, .. } => format!("{rule} ({})", cited(source)),
        Origin::Verdict { says, formula, holds, source, .. } => {
            let word = if *holds { "holds" } else { "DOES NOT HOLD" };
            format!("{says}: {word}   {} ({})", readable(formula), cited(source))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::readable;

    #[test]
    fn numbers_made_on_the_spot_read_as_numbers() {
        assert_eq!(readable("found >= Count(1)"), "found >= 1");
        assert_eq!(readable("gap >= Length::mm(15.0)"), "gap >= 15 mm");
        assert_eq!(readable("a.min(Length::mm(2.5)) + Length::ZERO"), "a.min(2.5 mm) + 0");
        assert_eq!(readable("Ratio::si(x / y)"), "Ratio::si(x / y)");
    }
}
