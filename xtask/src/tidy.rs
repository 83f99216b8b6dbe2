//! The rules of the house, each on the whole tree, each with the place where it is broken.

mod bare;
mod papers;
mod ranks;
mod sources;
mod wording;
mod world;

use std::fmt;

use crate::Outcome;
use crate::tree::Tree;

/// A rule broken at a place.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Broken {
    path: String,
    line: usize,
    says: String,
}

impl Broken {
    fn at(path: &str, line: usize, says: impl Into<String>) -> Self {
        Self { path: path.to_owned(), line, says: says.into() }
    }
}

impl fmt::Display for Broken {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            0 => write!(out, "{}: {}", self.path, self.says),
            line => write!(out, "{}:{line}: {}", self.path, self.says),
        }
    }
}

type Rule = fn(&Tree) -> Vec<Broken>;

/// Every rule with the sentence that it holds to.
const RULES: [(&str, Rule); 10] = [
    ("crates know only crates of lower rank", ranks::check),
    ("below the binary nothing touches files, time, network, environment or output", world::check),
    ("no file is too long to be one idea", wording::long_files),
    ("nothing is left for later", wording::unfinished),
    ("every figure in a table has a source, every source a card", sources::check),
    ("numbers leave the book of workings only where a reason is given", bare::check),
    ("the papers name every crate", papers::crates_named),
    ("one toolchain, said the same everywhere", papers::toolchain),
    ("every dependency says why it is here", papers::dependencies),
    ("no heading is empty", wording::headings),
];

/// Checks all rules on the project and prints what is broken.
pub fn run() -> Outcome {
    let tree = Tree::read()?;
    let mut count = 0;
    for (sentence, rule) in RULES {
        let mut broken = rule(&tree);
        broken.sort();
        count += broken.len();
        println!("{} {sentence}", if broken.is_empty() { "  ok  " } else { "BROKEN" });
        for place in broken {
            println!("         {place}");
        }
    }
    if count == 0 { Ok(()) } else { Err(format!("tidy: {count} broken, see above")) }
}

/// Line, from 1, of a byte in a text.
fn line_of(text: &str, at: usize) -> usize {
    text[..at].matches('\n').count() + 1
}

#[cfg(test)]
fn lines(broken: &[Broken]) -> Vec<String> {
    broken.iter().map(|place| format!("{}:{}", place.path, place.line)).collect()
}
