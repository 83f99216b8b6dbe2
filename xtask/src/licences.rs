//! Every dependency's licence against the list of what may be used.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

use crate::{Outcome, shell};

/// Licences that any dependency may have.
const ALLOWED: [&str; 12] = [
    "MIT",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "ISC",
    "Zlib",
    "Unicode-3.0",
    "0BSD",
    "BSL-1.0",
    "Unlicense",
    "CC0-1.0",
];
/// Licences that a named package may have as long as only tests lean on it.
const FOR_TESTS: [(&str, &str); 1] = [("webdriver", "MPL-2.0")];
/// Most packages that the program and its builds may lean on.
const MOST: usize = 220;

pub fn run() -> Outcome {
    let text = shell::output("cargo", &["metadata", "--format-version", "1"])?;
    let metadata = serde_json::from_str(&text).map_err(|fault| format!("cargo metadata: {fault}"))?;
    let seen = Seen::of(&metadata).ok_or("cargo metadata has another form than expected")?;
    for (licence, count) in &seen.by_licence {
        println!("{count:5}  {licence}");
    }
    println!(
        "{:5}  packages in all, {} of them not for tests alone (at most {MOST})",
        seen.all, seen.shipped
    );
    let mut broken = seen.refused;
    if seen.shipped > MOST {
        broken.push(format!("{} packages are more than {MOST}", seen.shipped));
    }
    for says in &broken {
        println!("BROKEN {says}");
    }
    if broken.is_empty() { Ok(()) } else { Err(format!("licences: {} broken, see above", broken.len())) }
}

#[derive(Debug, Default, PartialEq)]
struct Seen {
    all: usize,
    shipped: usize,
    by_licence: BTreeMap<String, usize>,
    refused: Vec<String>,
}

impl Seen {
    fn of(metadata: &Value) -> Option<Self> {
        let members: BTreeSet<&str> =
            metadata["workspace_members"].as_array()?.iter().filter_map(Value::as_str).collect();
        let shipped = shipped(metadata, &members)?;
        let mut seen = Self::default();
        for package in metadata["packages"].as_array()? {
            let (id, name) = (package["id"].as_str()?, package["name"].as_str()?);
            if members.contains(id) {
                continue;
            }
            let licence = package["license"].as_str().unwrap_or("none stated");
            seen.all += 1;
            seen.shipped += usize::from(shipped.contains(id));
            *seen.by_licence.entry(licence.to_owned()).or_default() += 1;
            let for_tests = |one: &str| !shipped.contains(id) && FOR_TESTS.contains(&(name, one));
            if !satisfied(licence, &|one| ALLOWED.contains(&one) || for_tests(one)) {
                seen.refused.push(format!("{name} {}: {licence}", package["version"].as_str()?));
            }
        }
        Some(seen)
    }
}

/// Packages that the workspace leans on for more than tests.
fn shipped<'a>(metadata: &'a Value, members: &BTreeSet<&'a str>) -> Option<BTreeSet<&'a str>> {
    let mut arrows: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for node in metadata["resolve"]["nodes"].as_array()? {
        let to = node["deps"].as_array()?.iter().filter(|dep| {
            dep["dep_kinds"]
                .as_array()
                .is_some_and(|kinds| kinds.iter().any(|kind| kind["kind"].as_str() != Some("dev")))
        });
        arrows.insert(node["id"].as_str()?, to.filter_map(|dep| dep["pkg"].as_str()).collect());
    }
    let mut reached = members.clone();
    let mut open: Vec<&str> = members.iter().copied().collect();
    while let Some(id) = open.pop() {
        for &to in arrows.get(id).into_iter().flatten() {
            if reached.insert(to) {
                open.push(to);
            }
        }
    }
    Some(reached)
}

/// Whether a licence expression can be met with licences that `allowed` accepts: any part of an
/// OR (in old manifests a stroke), every part of an AND.
fn satisfied(expression: &str, allowed: &dyn Fn(&str) -> bool) -> bool {
    let expression = expression.trim();
    for (word, every) in [(" OR ", false), ("/", false), (" AND ", true)] {
        let parts = split_outside(expression, word);
        if parts.len() > 1 {
            let mut met = parts.iter().map(|part| satisfied(part, allowed));
            return if every { met.all(|met| met) } else { met.any(|met| met) };
        }
    }
    match expression.strip_prefix('(').and_then(|rest| rest.strip_suffix(')')) {
        Some(inner) => satisfied(inner, allowed),
        None => allowed(expression),
    }
}

/// Parts of a text between words that stand outside brackets.
fn split_outside<'a>(text: &'a str, word: &str) -> Vec<&'a str> {
    let (mut depth, mut start, mut parts) = (0, 0, Vec::new());
    for (at, c) in text.char_indices() {
        match c {
            '(' => depth += 1,
            ')' => depth -= 1,
            _ => (),
        }
        if depth == 0 && at >= start && text[at..].starts_with(word) {
            parts.push(&text[start..at]);
            start = at + word.len();
        }
    }
    parts.push(&text[start..]);
    parts
}

#[cfg(test)]
mod tests {
    use super::{ALLOWED, Seen, satisfied};
    use serde_json::json;

    fn good(expression: &str) -> bool {
        satisfied(expression, &|one| ALLOWED.contains(&one))
    }

    #[test]
    fn one_part_of_or_and_all_parts_of_and() {
        assert!(good("MIT"));
        assert!(good("MIT OR GPL-3.0-only"));
        assert!(good("MIT/Apache-2.0"));
        assert!(good("(MIT OR Apache-2.0) AND Unicode-3.0"));
        assert!(good("Apache-2.0 WITH LLVM-exception OR GPL-3.0-only"));
        assert!(good("(GPL-3.0-only AND MIT) OR (Zlib AND ISC)"));
        assert!(!good("MIT AND GPL-3.0-only"));
        assert!(!good("(MIT OR Apache-2.0) AND GPL-3.0-only"));
        assert!(!good("MPL-2.0"));
        assert!(!good("none stated"));
    }

    fn seen(kind: &serde_json::Value, licence: &str) -> Seen {
        let node = |id: &str, deps: serde_json::Value| json!({"id": id, "deps": deps});
        let metadata = json!({
            "workspace_members": ["own"],
            "packages": [
                {"id": "own", "name": "own", "version": "0.1.0", "license": null},
                {"id": "w", "name": "webdriver", "version": "1.0.0", "license": licence},
                {"id": "x", "name": "x", "version": "2.0.0", "license": "MIT"},
            ],
            "resolve": {"nodes": [
                node("own", json!([{"pkg": "w", "dep_kinds": [{"kind": kind}]}])),
                node("w", json!([{"pkg": "x", "dep_kinds": [{"kind": null}]}])),
                node("x", json!([])),
            ]},
        });
        Seen::of(&metadata).expect("the form of cargo metadata")
    }

    #[test]
    fn what_only_tests_lean_on_is_counted_apart() {
        let tests = seen(&json!("dev"), "MPL-2.0");
        assert_eq!((tests.all, tests.shipped, tests.refused), (2, 0, vec![]));
        let shipped = seen(&json!(null), "MPL-2.0");
        assert_eq!((shipped.all, shipped.shipped), (2, 2));
        assert_eq!(shipped.refused, ["webdriver 1.0.0: MPL-2.0"]);
        assert_eq!(seen(&json!("build"), "MIT").shipped, 2);
        assert_eq!(seen(&json!("dev"), "GPL-3.0-only").refused, ["webdriver 1.0.0: GPL-3.0-only"]);
    }
}
