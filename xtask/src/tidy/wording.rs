//! Files that are too long, words that put work off, headings with nothing below them.

use super::{Broken, line_of};
use crate::tree::{Allowed, Tree};

const LONGEST: usize = 700;
const LONG: &str = "xtask/long-allowed.txt";
/// Kinds of file that a person writes and reads from top to bottom.
const READ: [&str; 4] = [".rs", ".py", ".md", ".sh"];

/// Files of more than 700 lines, unless listed with a reason.
pub fn long_files(tree: &Tree) -> Vec<Broken> {
    let allowed = Allowed::read(tree, LONG);
    let is_long = |text: &str| text.lines().count() > LONGEST;
    let mut broken = Vec::new();
    for (path, text) in tree.all().filter(|(path, _)| READ.iter().any(|kind| path.ends_with(kind))) {
        if is_long(text) && !allowed.has(path) {
            let says =
                format!("{} lines, more than {LONGEST}: find the second idea in it", text.lines().count());
            broken.push(Broken::at(path, 0, says));
        }
    }
    let needed = |path: &str| tree.text(path).is_some_and(is_long);
    broken.extend(allowed.faults(needed).into_iter().map(|(line, says)| Broken::at(LONG, line, says)));
    broken
}

/// Words that put work off; spelt in halves, so that this file does not hold them.
const LATER: [&str; 5] = [
    concat!("to", "do!"),
    concat!("TO", "DO"),
    concat!("TB", "D"),
    concat!("FIX", "ME"),
    concat!("unimple", "mented"),
];

/// No file holds a word that puts work off.
pub fn unfinished(tree: &Tree) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (path, text) in tree.all().filter(|(path, _)| !path.ends_with("Cargo.lock")) {
        for word in LATER {
            for (at, _) in text.match_indices(word) {
                let joined = |c: char| c.is_alphanumeric() || c == '_';
                let after = &text[at + word.len()..];
                let whole =
                    !text[..at].ends_with(joined) && (word.ends_with('!') || !after.starts_with(joined));
                // The workspace turns the lint of that name on.
                let lint = path == "Cargo.toml" && after.trim_start().starts_with('=');
                if whole && !lint {
                    broken.push(Broken::at(
                        path,
                        line_of(text, at),
                        format!("`{word}`: do it now or leave it out"),
                    ));
                }
            }
        }
    }
    broken
}

/// No heading, in a paper or in a documentation comment, is followed by nothing.
pub fn headings(tree: &Tree) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (path, text) in tree.all() {
        let numbered = || (1..).zip(text.lines());
        let blocks: Vec<Vec<(usize, &str)>> = if path.ends_with(".md") {
            vec![numbered().collect()]
        } else if path.ends_with(".rs") {
            comments(numbered())
        } else {
            continue;
        };
        for (line, heading) in blocks.iter().flat_map(|block| empty_headings(block)) {
            broken.push(Broken::at(path, line, format!("nothing stands under the heading `{heading}`")));
        }
    }
    broken
}

/// Documentation comments, each as its lines without their marks.
fn comments<'a>(lines: impl Iterator<Item = (usize, &'a str)>) -> Vec<Vec<(usize, &'a str)>> {
    let mut blocks = Vec::new();
    let mut block = Vec::new();
    let mut open = "";
    for (number, line) in lines {
        let line = line.trim_start();
        let mark =
            ["///", "//!"].into_iter().find(|mark| line.starts_with(mark) && !line.starts_with("////"));
        if mark != Some(open) {
            blocks.push(std::mem::take(&mut block));
        }
        open = mark.unwrap_or_default();
        if let Some(mark) = mark {
            block.push((number, &line[mark.len()..]));
        }
    }
    blocks.push(block);
    blocks
}

/// Headings with nothing before the next of their own or a higher rank, or before the end.
/// A heading may carry its text on its own line, set off by two spaces or more.
fn empty_headings<'a>(block: &[(usize, &'a str)]) -> Vec<(usize, &'a str)> {
    let mut empty = Vec::new();
    let mut open: Vec<(usize, usize, &str)> = Vec::new();
    let mut fenced = false;
    for &(number, line) in block {
        let text = line.trim();
        if text.starts_with("```") || text.starts_with("~~~") {
            fenced = !fenced;
        }
        let rank = text.chars().take_while(|&c| c == '#').count();
        let title = text[rank..].trim();
        let is_heading = !fenced && (1..=6).contains(&rank) && text[rank..].starts_with(' ');
        if is_heading {
            empty.extend(
                open.iter().filter(|(above, ..)| *above >= rank).map(|&(_, line, title)| (line, title)),
            );
            open.clear();
            if !title.contains("  ") {
                open.push((rank, number, title));
            }
        } else if !text.is_empty() {
            open.clear();
        }
    }
    empty.extend(open.into_iter().map(|(_, line, title)| (line, title)));
    empty
}

#[cfg(test)]
mod tests {
    use super::{LATER, LONG, headings, long_files, unfinished};
    use crate::tidy::lines;
    use crate::tree::Tree;

    #[test]
    fn a_long_file_needs_a_reason() {
        let (long, fits) = ("x\n".repeat(701), "x\n".repeat(700));
        let tree = Tree::of(&[("a.rs", &long), ("b.rs", &fits), ("Cargo.lock", &long)]);
        assert_eq!(lines(&long_files(&tree)), ["a.rs:0"]);
        let tree = Tree::of(&[("a.rs", &long), ("b.rs", &fits), (LONG, "a.rs: one table\nb.rs: was long\n")]);
        assert_eq!(lines(&long_files(&tree)), ["xtask/long-allowed.txt:2"]);
    }

    #[test]
    fn words_that_put_off_break_anywhere() {
        for word in LATER {
            let text = format!("fine\n  {word} later\n");
            assert_eq!(lines(&unfinished(&Tree::of(&[("docs/a.txt", &text)]))), ["docs/a.txt:2"], "{word}");
        }
        let inside = format!("a{}b METHO{}LOGY\n", LATER[2], LATER[1]);
        let lint = format!("{} = \"warn\"\n", LATER[4]);
        assert_eq!(unfinished(&Tree::of(&[("a.md", &inside), ("Cargo.toml", &lint)])), []);
    }

    #[test]
    fn an_empty_heading_breaks() {
        let tree = Tree::of(&[
            ("a.md", "# A\n\n## B\ntext\n## C\n\n## D\n```sh\n# no heading\n```\n# E\n"),
            (
                "a.rs",
                "/// Says.\n///\n/// # Errors\nfn a() {}\n/// # Errors\n/// When.\nfn b() {}\n//! # Top\n/// # Formula   a = b\nfn c() {}\n",
            ),
        ]);
        assert_eq!(lines(&headings(&tree)), ["a.md:5", "a.md:11", "a.rs:3", "a.rs:8"]);
    }
}
