//! Who touches the world: the binary, and the store of the journal, which is a file.

use super::{Broken, line_of};
use crate::rust;
use crate::tree::Tree;

/// The crates that may.
const MAY: [&str; 2] = ["brasswright", "store"];

/// Modules of the standard library that reach outside.
const MODULES: [&str; 4] = ["fs", "env", "net", "process"];
/// Kinds of clock in `std::time`.
const CLOCKS: [&str; 2] = ["SystemTime", "Instant"];
/// Macros that print.
const PRINTERS: [&str; 5] = ["println!", "eprintln!", "print!", "eprint!", "dbg!"];

pub fn check(tree: &Tree) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (path, text) in tree.rust() {
        let Some(name) = path.strip_prefix("crates/").and_then(|rest| rest.split('/').next()) else {
            continue;
        };
        if MAY.contains(&name) || rust::is_test_file(tree, path) {
            continue;
        }
        let code = rust::shipped(text);
        for (at, what) in touches(&code) {
            broken.push(Broken::at(path, line_of(&code, at), format!("`{what}` below the binary")));
        }
    }
    broken
}

fn touches(code: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    for (at, _) in code.match_indices("std::").filter(|&(at, _)| starts_word(code, at)) {
        let rest = &code[at + "std::".len()..];
        for name in first_names(rest) {
            if MODULES.contains(&name) {
                found.push((at, format!("std::{name}")));
            }
        }
        let times = rest.strip_prefix("time::").or_else(|| {
            let inside = rest.strip_prefix('{')?.split('}').next()?;
            inside.find("time::").map(|from| &inside[from + "time::".len()..])
        });
        for name in times.map(first_names).unwrap_or_default() {
            if CLOCKS.contains(&name) || name == "*" {
                found.push((at, format!("std::time::{name}")));
            }
        }
    }
    for printer in PRINTERS {
        let places = code.match_indices(printer).filter(|&(at, _)| starts_word(code, at));
        found.extend(places.map(|(at, _)| (at, printer.to_owned())));
    }
    found
}

/// The name that a path begins with, or each first name of a braced list.
fn first_names(rest: &str) -> Vec<&str> {
    let name = |text: &'_ str| -> usize {
        let text = text.trim_start_matches('*');
        text.find(|c: char| !c.is_alphanumeric() && c != '_').unwrap_or(text.len())
    };
    match rest.strip_prefix('{') {
        Some(list) => {
            let (mut depth, mut start, mut names) = (0, 0, Vec::new());
            for (at, c) in list.char_indices() {
                match c {
                    '{' => depth += 1,
                    '}' if depth == 0 => {
                        names.push(&list[start..at]);
                        break;
                    }
                    '}' => depth -= 1,
                    ',' if depth == 0 => {
                        names.push(&list[start..at]);
                        start = at + 1;
                    }
                    _ => (),
                }
            }
            names.into_iter().map(str::trim).map(|item| &item[..name(item)]).collect()
        }
        None if rest.starts_with('*') => vec!["*"],
        None => vec![&rest[..name(rest)]],
    }
}

fn starts_word(code: &str, at: usize) -> bool {
    !code[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_')
}

#[cfg(test)]
mod tests {
    use super::check;
    use crate::tidy::lines;
    use crate::tree::Tree;

    #[test]
    fn each_way_out_is_found() {
        let text = "use std::fs;\nuse std::{collections::BTreeMap, env};\nuse std::time::Instant;\n\
            use std::time::{Duration, SystemTime};\nuse std::{fmt, time::Instant};\nfn f() { std::process::exit(1); }\n\
            fn g() { println!(\"x\"); }\nfn h() { eprint!(\"x\"); }\nfn i() { let _ = std::net::TcpStream::connect; }\n";
        let tree = Tree::of(&[("crates/record/src/a.rs", text)]);
        let mut found = lines(&check(&tree));
        found.sort();
        let wanted: Vec<String> = (1..=9).map(|line| format!("crates/record/src/a.rs:{line}")).collect();
        assert_eq!(found, wanted);
    }

    #[test]
    fn tests_the_binary_and_plain_code_pass() {
        let tree = Tree::of(&[
            ("crates/brasswright/src/main.rs", "use std::fs;\nfn main() { println!(\"x\"); }\n"),
            ("crates/record/tests/a.rs", "use std::fs;\n"),
            ("crates/record/examples/a.rs", "fn main() { println!(\"x\"); }\n"),
            (
                "crates/record/src/lib.rs",
                "//! std::fs is for the binary.\n#[cfg(test)]\nmod trial;\n#[cfg(test)]\nmod tests { use std::fs; }\n",
            ),
            ("crates/record/src/trial.rs", "use std::env;\n"),
            (
                "crates/record/src/b.rs",
                "use std::time::Duration;\nuse std::{fmt, collections::BTreeMap};\nconst A: &str = env!(\"X\");\nfn my_println!() {}\n",
            ),
            ("xtask/src/main.rs", "use std::process;\n"),
        ]);
        assert_eq!(check(&tree), []);
    }
}
