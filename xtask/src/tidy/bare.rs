//! Numbers taken out of the book of workings lose their past: only where a reason is given.

use super::{Broken, line_of};
use crate::rust;
use crate::tree::{Allowed, Tree};

const LIST: &str = "xtask/bare-allowed.txt";

pub fn check(tree: &Tree) -> Vec<Broken> {
    let allowed = Allowed::read(tree, LIST);
    let mut broken = Vec::new();
    for (path, text) in tree.rust().filter(|(path, _)| !allowed.has(path)) {
        let lines = taken_out(tree, path, text);
        if let Some(&first) = lines.first() {
            let says =
                format!("{} numbers leave the book of workings from here on; say why in {LIST}", lines.len());
            broken.push(Broken::at(path, first, says));
        }
    }
    let needed = |path: &str| tree.text(path).is_some_and(|text| !taken_out(tree, path, text).is_empty());
    broken.extend(allowed.faults(needed).into_iter().map(|(line, says)| Broken::at(LIST, line, says)));
    broken
}

/// Lines on which a number is taken out bare.
fn taken_out(tree: &Tree, path: &str, text: &str) -> Vec<usize> {
    if rust::is_test_file(tree, path) {
        return Vec::new();
    }
    let code = rust::shipped(text);
    let calls = code.match_indices("bare()").filter(|&(at, _)| code[..at].trim_end().ends_with('.'));
    calls.map(|(at, _)| line_of(&code, at)).collect()
}

#[cfg(test)]
mod tests {
    use super::check;
    use crate::tidy::lines;
    use crate::tree::Tree;

    const CALL: &str = "fn f(v: &Val) -> f64 {\n    v\n        .bare()\n}\n";

    #[test]
    fn a_call_needs_a_reason() {
        let tree = Tree::of(&[("crates/a/src/x.rs", CALL)]);
        assert_eq!(lines(&check(&tree)), ["crates/a/src/x.rs:3"]);
        let tree = Tree::of(&[
            ("crates/a/src/x.rs", CALL),
            (super::LIST, "# why\ncrates/a/src/x.rs: a kernel of plain numbers\n"),
        ]);
        assert_eq!(check(&tree), []);
        let tree = Tree::of(&[("crates/a/src/x.rs", CALL), (super::LIST, "crates/a/src/x.rs:\n")]);
        assert_eq!(lines(&check(&tree)), ["xtask/bare-allowed.txt:1"]);
    }

    #[test]
    fn a_stale_row_breaks_and_tests_are_free() {
        let tree = Tree::of(&[
            (
                "crates/a/src/x.rs",
                "// v.bare()\nfn bare() {}\n#[cfg(test)]\nmod tests { fn f() { v.bare(); } }\n",
            ),
            ("crates/a/tests/y.rs", CALL),
            (super::LIST, "crates/a/src/x.rs: once a kernel\ncrates/a/src/gone.rs: a kernel\n"),
        ]);
        assert_eq!(lines(&check(&tree)), ["xtask/bare-allowed.txt:1", "xtask/bare-allowed.txt:2"]);
    }
}
