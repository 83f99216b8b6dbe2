//! How things look on a terminal: colour where it helps, columns that line up, nothing that
//! a text could smuggle to the terminal.

use std::io::IsTerminal;
use unicode_width::UnicodeWidthStr;

/// Whether to colour each of the two streams.
#[derive(Copy, Clone, PartialEq, Eq, Debug, Default)]
pub struct Look {
    /// Standard output.
    pub out: bool,
    /// Standard error.
    pub err: bool,
}
/// When to colour.
#[derive(Copy, Clone, PartialEq, Eq, Debug, Default, clap::ValueEnum)]
pub enum Colour {
    /// On a terminal, unless the environment says otherwise.
    #[default]
    Auto,
    /// Also where piped.
    Always,
    /// Not at all.
    Never,
}
impl Look {
    /// What the maker wants, and what the streams and the environment allow.
    #[must_use]
    pub fn choose(colour: Colour) -> Look {
        let set = |name: &str| std::env::var_os(name).is_some_and(|v| !v.is_empty());
        let dumb = std::env::var_os("TERM").is_some_and(|t| t == "dumb");
        match colour {
            Colour::Always => Look { out: true, err: true },
            Colour::Auto if !set("NO_COLOR") && !dumb => {
                Look { out: std::io::stdout().is_terminal(), err: std::io::stderr().is_terminal() }
            }
            Colour::Auto | Colour::Never => Look::default(),
        }
    }
}

/// Paints one stream, or leaves it plain.
#[derive(Copy, Clone, Debug)]
pub struct Paint(pub bool);
impl Paint {
    fn with(self, code: &str, text: &str) -> String {
        if self.0 && !text.is_empty() { format!("\x1b[{code}m{text}\x1b[0m") } else { text.to_owned() }
    }
    /// What the eye should find first.
    #[must_use]
    pub fn strong(self, text: &str) -> String {
        self.with("1", text)
    }
    /// What may be skipped.
    #[must_use]
    pub fn faint(self, text: &str) -> String {
        self.with("2", text)
    }
    /// What is right.
    #[must_use]
    pub fn good(self, text: &str) -> String {
        self.with("32", text)
    }
}

/// Text from a file made harmless: control characters (but line breaks) and those that turn the direction of
/// writing are shown as escapes, so that no file can move the cursor or hide a line.
#[must_use]
pub fn clean(text: &str) -> String {
    let harmful = |c: char| {
        (c.is_control() && c != '\n')
            || matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\t' => out.push(' '),
            c if harmful(c) => out.extend(c.escape_default()),
            c => out.push(c),
        }
    }
    out
}
/// Columns in the terminal that a text takes.
#[must_use]
pub fn width(text: &str) -> usize {
    text.width()
}
/// Rows of cells in columns that line up, two spaces apart, without trailing blanks.
#[must_use]
pub fn columns(rows: &[Vec<String>], indent: usize) -> String {
    painted(rows, indent, |_, cell| cell.to_owned())
}
/// The same, each cell painted by its column after it is measured.
#[must_use]
pub fn painted(rows: &[Vec<String>], indent: usize, paint: impl Fn(usize, &str) -> String) -> String {
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let wide: Vec<usize> = (0..count)
        .map(|i| rows.iter().filter_map(|r| r.get(i)).map(|c| width(c)).max().unwrap_or(0))
        .collect();
    let mut out = String::new();
    for row in rows {
        let mut line = " ".repeat(indent);
        let last = row.iter().rposition(|c| !c.is_empty()).map_or(0, |i| i + 1);
        for (i, cell) in row.iter().take(last).enumerate() {
            line += &paint(i, cell);
            if i + 1 < last {
                line += &" ".repeat(wide[i] - width(cell) + 2);
            }
        }
        out += line.trim_end_matches(' ');
        out.push('\n');
    }
    out
}
/// `1 part`, `3 parts`.
#[must_use]
pub fn counted(n: usize, one: &str) -> String {
    if n == 1 { format!("1 {one}") } else { format!("{n} {one}s") }
}

#[cfg(test)]
mod tests {
    use super::*;
    #[test]
    fn columns_line_up_and_end_without_blanks() {
        let rows = [vec!["a".into(), "⌀1".into(), String::new()], vec!["时钟".into(), "b".into()]];
        let rows: Vec<Vec<String>> = rows.into_iter().collect();
        assert_eq!(columns(&rows, 1), " a     ⌀1\n 时钟  b\n");
    }
    #[test]
    fn no_escape_reaches_the_terminal() {
        assert_eq!(clean("a\x1b[31m\u{202e}b\tc\n"), "a\\u{1b}[31m\\u{202e}b c\n");
        assert_eq!(Paint(false).good("x"), "x");
        assert_eq!(Paint(true).good("x"), "\x1b[32mx\x1b[0m");
    }
    #[test]
    fn the_maker_decides_on_colour() {
        assert_eq!(Look::choose(Colour::Always), Look { out: true, err: true });
        assert_eq!(Look::choose(Colour::Never), Look { out: false, err: false });
    }
}
