//! The order of crates: arrows point down.

use toml::Table;

use super::{Broken, line_of};
use crate::rust;
use crate::tree::Tree;

/// Each crate's rank: it may know of lower ranks only, not of its own.
const RANKS: [(&str, u8); 22] = [
    ("reckon", 0),
    ("tables", 1),
    ("shape", 1),
    ("teeth", 2),
    ("train", 2),
    ("escapement", 2),
    ("pendulum", 2),
    ("power", 2),
    ("heat", 2),
    ("journal", 1),
    ("store", 2),
    ("step", 2),
    ("record", 2),
    ("drafting", 2),
    ("movement", 3),
    ("going", 4),
    ("listen", 4),
    ("making", 4),
    ("proof", 4),
    ("sheets", 5),
    ("trial", 5),
    ("brasswright", 6),
];

/// Crates that must stay ignorant of most that lies below them, and what they may know.
const ONLY: [(&str, &[&str], &str); 3] = [
    ("drafting", &["shape", "reckon"], "a drawing is made from shapes, whatever part they are of"),
    ("listen", &["reckon"], "what is heard is not coloured by what was computed"),
    ("proof", &["shape", "reckon"], "what reads a program back shares nothing with what wrote it"),
];

/// Folders outside `crates/` that only developers run: no crate may lean on them.
const TOOLS: [&str; 2] = ["checks", "xtask"];

pub fn check(tree: &Tree) -> Vec<Broken> {
    let mut broken = Vec::new();
    for name in tree.crates() {
        let path = format!("crates/{name}/Cargo.toml");
        if rank(name).is_none() {
            broken.push(Broken::at(
                &path,
                0,
                format!("`{name}` has no rank; give it one in xtask/src/tidy/ranks.rs"),
            ));
            continue;
        }
        let text = tree.text(&path).unwrap_or_default();
        match text.parse::<Table>() {
            Ok(manifest) => {
                for to in dependencies(&manifest) {
                    if let Some(says) = wrong(name, &to) {
                        let line = text.lines().position(|line| names(line, &to)).map_or(0, |at| at + 1);
                        broken.push(Broken::at(&path, line, says));
                    }
                }
            }
            Err(fault) => broken.push(Broken::at(&path, 0, format!("cannot be read: {fault}"))),
        }
    }
    for (path, text) in tree.rust() {
        let Some(name) = path.strip_prefix("crates/").and_then(|rest| rest.split('/').next()) else {
            continue;
        };
        let code = rust::code(text);
        for (to, at) in used(&code) {
            if let Some(says) = wrong(name, &to) {
                broken.push(Broken::at(path, line_of(&code, at), says));
            }
        }
    }
    broken
}

fn rank(name: &str) -> Option<u8> {
    RANKS.iter().find(|(listed, _)| *listed == name).map(|&(_, rank)| rank)
}

/// What is wrong with an arrow, if anything.
fn wrong(from: &str, to: &str) -> Option<String> {
    if from == to {
        return None;
    }
    if TOOLS.contains(&to) {
        return Some(format!("`{from}` may not know of `{to}`, which only developers run"));
    }
    let (own, other) = (rank(from)?, rank(to)?);
    if other >= own {
        return Some(format!("`{from}` (rank {own}) may not know of `{to}` (rank {other})"));
    }
    let (_, only, why) = ONLY.iter().find(|(listed, ..)| *listed == from)?;
    (!only.contains(&to)).then(|| format!("`{from}` may know only {}: {why}", only.join(" and ")))
}

/// Every package that a manifest leans on, for whatever purpose and on whatever machine.
fn dependencies(manifest: &Table) -> Vec<String> {
    let mut names = Vec::new();
    for (key, value) in manifest {
        let Some(table) = value.as_table() else { continue };
        if key.ends_with("dependencies") {
            for (name, spec) in table {
                let renamed = spec.get("package").and_then(toml::Value::as_str);
                names.push(renamed.unwrap_or(name).to_owned());
            }
        } else if key == "target" {
            names.extend(table.values().filter_map(toml::Value::as_table).flat_map(dependencies));
        }
    }
    names
}

fn names(line: &str, dependency: &str) -> bool {
    let line = line.trim_start();
    line.strip_prefix(dependency).is_some_and(|rest| rest.starts_with(['.', ' ', '=']))
        || line.contains(&format!("package = \"{dependency}\""))
}

/// Crates named first in a `use` line, with the place; a module of the same name in that file
/// is not a crate.
fn used(code: &str) -> Vec<(String, usize)> {
    let mut found = Vec::new();
    let mut from = 0;
    for line in code.split_inclusive('\n') {
        let words = line.trim_start();
        let words = words.strip_prefix("pub").map_or(words, |rest| {
            let rest = rest.trim_start();
            rest.strip_prefix('(')
                .and_then(|rest| rest.split_once(')'))
                .map_or(rest, |(_, rest)| rest)
                .trim_start()
        });
        let target = words.strip_prefix("use ").or_else(|| words.strip_prefix("extern crate "));
        if let Some(target) = target {
            let target = target.trim_start().trim_start_matches("::").trim_start_matches('{').trim_start();
            let name: String = target.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            let known = rank(&name).is_some() || TOOLS.contains(&name.as_str());
            if known && !code.contains(&format!("mod {name};")) && !code.contains(&format!("mod {name} {{")) {
                found.push((name, from));
            }
        }
        from += line.len();
    }
    found
}

#[cfg(test)]
mod tests {
    use super::check;
    use crate::tidy::lines;
    use crate::tree::Tree;

    #[test]
    fn arrows_down_pass() {
        let tree = Tree::of(&[
            (
                "crates/record/Cargo.toml",
                "[dependencies]\nreckon.workspace = true\ntables.workspace = true\n",
            ),
            (
                "crates/record/src/lib.rs",
                "use reckon::Length;\nuse tables::thread;\npub(crate) use crate::x;\n",
            ),
            (
                "crates/drafting/Cargo.toml",
                "[dependencies]\nshape.workspace = true\n[dev-dependencies]\nproptest = \"1\"\n",
            ),
        ]);
        assert!(check(&tree).is_empty());
    }

    #[test]
    fn arrows_up_sideways_and_to_tools_break() {
        let tree = Tree::of(&[
            ("crates/shape/Cargo.toml", "[dependencies]\nreckon.workspace = true\ntables.workspace = true\n"),
            ("crates/tables/Cargo.toml", "[dependencies]\n[dev-dependencies]\nmaking.workspace = true\n"),
            (
                "crates/record/Cargo.toml",
                "[target.'cfg(unix)'.dependencies]\nfar = { package = \"sheets\" }\nchecks.path = \"x\"\n",
            ),
            ("crates/movement/Cargo.toml", ""),
            (
                "crates/movement/src/a.rs",
                "// use sheets::x;\npub use sheets::Page;\npub(crate) use making::route;\nuse reckon::y;\n",
            ),
        ]);
        let broken = check(&tree);
        assert_eq!(
            lines(&broken),
            [
                "crates/record/Cargo.toml:3",
                "crates/record/Cargo.toml:2",
                "crates/shape/Cargo.toml:3",
                "crates/tables/Cargo.toml:3",
                "crates/movement/src/a.rs:2",
                "crates/movement/src/a.rs:3"
            ]
        );
    }

    #[test]
    fn a_crate_kept_ignorant_may_not_know_all_below_it() {
        let tree = Tree::of(&[
            ("crates/proof/Cargo.toml", "[dependencies]\nshape.workspace = true\nrecord.workspace = true\n"),
            ("crates/drafting/Cargo.toml", "[dependencies]\ntables.workspace = true\n"),
        ]);
        assert_eq!(lines(&check(&tree)), ["crates/drafting/Cargo.toml:2", "crates/proof/Cargo.toml:3"]);
    }

    #[test]
    fn a_crate_without_rank_breaks_and_a_module_is_no_crate() {
        let tree = Tree::of(&[
            ("crates/novel/Cargo.toml", ""),
            ("crates/reckon/Cargo.toml", ""),
            ("crates/reckon/src/lib.rs", "mod shape;\nuse shape::Thing;\n"),
        ]);
        assert_eq!(lines(&check(&tree)), ["crates/novel/Cargo.toml:0"]);
    }
}
