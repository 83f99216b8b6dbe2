//! What the papers at the root say agrees with the workspace.

use toml::{Table, Value};

use super::Broken;
use crate::tree::Tree;

const PAPERS: [&str; 3] = ["README.md", "ARCHITECTURE.md", "CHANGELOG.md"];

/// README, ARCHITECTURE and CHANGELOG each name every crate.
pub fn crates_named(tree: &Tree) -> Vec<Broken> {
    let mut broken = Vec::new();
    for paper in PAPERS {
        let Some(text) = tree.text(paper) else {
            broken.push(Broken::at(paper, 0, "is missing"));
            continue;
        };
        let words: Vec<&str> = text.split(|c: char| !c.is_alphanumeric() && c != '_').collect();
        let missing: Vec<&str> = tree.crates().into_iter().filter(|name| !words.contains(name)).collect();
        if !missing.is_empty() {
            broken.push(Broken::at(paper, 0, format!("does not name {}", missing.join(", "))));
        }
    }
    broken
}

/// The pinned toolchain is the oldest that is promised, in every manifest and in README.
pub fn toolchain(tree: &Tree) -> Vec<Broken> {
    let mut broken = Vec::new();
    let read = |path: &str| tree.text(path).and_then(|text| text.parse::<Table>().ok());
    let pin = read("rust-toolchain.toml");
    let Some(pinned) = pin.as_ref().and_then(|file| file.get("toolchain")?.get("channel")?.as_str()) else {
        return vec![Broken::at("rust-toolchain.toml", 0, "pins no toolchain")];
    };
    let root = read("Cargo.toml");
    let promised =
        root.as_ref().and_then(|file| file.get("workspace")?.get("package")?.get("rust-version")?.as_str());
    if !promised.is_some_and(|promised| same(promised, pinned)) {
        let says =
            format!("rust-version is {}, the pinned toolchain {pinned}", promised.unwrap_or("missing"));
        broken.push(Broken::at("Cargo.toml", 0, says));
    }
    for (path, _) in tree.all().filter(|(path, _)| path.ends_with("/Cargo.toml")) {
        let manifest = read(path);
        let version = manifest.as_ref().and_then(|file| file.get("package")?.get("rust-version"));
        let inherits = version.and_then(|version| version.get("workspace")?.as_bool()) == Some(true);
        if !inherits && version.and_then(Value::as_str) != promised {
            broken.push(Broken::at(
                path,
                0,
                "rust-version is not the workspace's: write rust-version.workspace = true",
            ));
        }
    }
    let Some(readme) = tree.text("README.md") else {
        broken.push(Broken::at("README.md", 0, "is missing"));
        return broken;
    };
    if !readme.contains(pinned) {
        broken.push(Broken::at("README.md", 0, format!("does not say that the toolchain is {pinned}")));
    }
    for (line, text) in (1..).zip(readme.lines()) {
        for (at, name) in text.match_indices("Rust ") {
            let rest = &text[at + name.len()..];
            let end = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
            let said = rest[..end].trim_end_matches('.');
            if said.contains('.') && !same(said, pinned) {
                broken.push(Broken::at(
                    "README.md",
                    line,
                    format!("says Rust {said}, the pinned toolchain is {pinned}"),
                ));
            }
        }
    }
    broken
}

/// Whether `short` is the same version as `full`, its last parts left off perhaps.
fn same(short: &str, full: &str) -> bool {
    full == short || full.strip_prefix(short).is_some_and(|rest| rest.starts_with('.'))
}

/// Every outside dependency of the workspace has its reason in the line above it, or behind it.
/// A companion, named after the one before it, shares its reason.
pub fn dependencies(tree: &Tree) -> Vec<Broken> {
    let text = tree.text("Cargo.toml").unwrap_or_default();
    let mut broken = Vec::new();
    let (mut inside, mut reason, mut before) = (false, false, String::new());
    for (number, line) in (1..).zip(text.lines()) {
        let line = line.trim();
        if line.starts_with('[') {
            inside = line == "[workspace.dependencies]"
                || (line.starts_with("[workspace.dependencies.") && reason);
        } else if line.starts_with('#') {
            reason = line.trim_start_matches('#').trim().len() > 3;
            continue;
        } else if inside && let Some((name, spec)) = line.split_once('=') {
            let name = name.trim();
            let own = spec.contains("path =") || spec.contains("path=");
            let companion = !before.is_empty()
                && name.starts_with(&before)
                && name[before.len()..].starts_with(['_', '-']);
            let behind = spec.rsplit_once('#').is_some_and(|(_, why)| why.trim().len() > 3);
            if !(own || companion || behind || reason) {
                broken.push(Broken::at(
                    "Cargo.toml",
                    number,
                    format!("`{name}` does not say why it is here"),
                ));
            }
            if !companion {
                name.clone_into(&mut before);
            }
        }
        reason = false;
    }
    broken
}

#[cfg(test)]
mod tests {
    use super::{crates_named, dependencies, toolchain};
    use crate::tidy::lines;
    use crate::tree::Tree;

    #[test]
    fn a_paper_that_leaves_a_crate_out_breaks() {
        let all = "`reckon` and `shape`";
        let files = |readme| {
            Tree::of(&[
                ("crates/reckon/Cargo.toml", ""),
                ("crates/shape/Cargo.toml", ""),
                ("README.md", readme),
                ("ARCHITECTURE.md", all),
                ("CHANGELOG.md", all),
            ])
        };
        assert_eq!(crates_named(&files(all)), []);
        assert_eq!(lines(&crates_named(&files("`reckon` and reshape"))), ["README.md:0"]);
        assert_eq!(crates_named(&Tree::of(&[])).len(), 3);
    }

    fn versions(promise: &str, own: &str, readme: &str) -> Vec<String> {
        let root = format!("[workspace.package]\nrust-version = \"{promise}\"\n");
        let own = format!("[package]\n{own}\n");
        lines(&toolchain(&Tree::of(&[
            ("rust-toolchain.toml", "[toolchain]\nchannel = \"1.95.0\"\n"),
            ("Cargo.toml", &root),
            ("crates/a/Cargo.toml", &own),
            ("README.md", readme),
        ])))
    }

    #[test]
    fn versions_agree_everywhere() {
        let own = "rust-version.workspace = true";
        assert_eq!(versions("1.95", own, "Needs Rust 1.95 (pinned: 1.95.0)."), [""; 0]);
        assert_eq!(versions("1.94", own, "Rust 1.95.0"), ["Cargo.toml:0"]);
        assert_eq!(versions("1.9", own, "Rust 1.95.0"), ["Cargo.toml:0"]);
        assert_eq!(versions("1.95", "", "Rust 1.95.0"), ["crates/a/Cargo.toml:0"]);
        assert_eq!(versions("1.95", own, "Needs a compiler."), ["README.md:0"]);
        assert_eq!(versions("1.95", own, "1.95.0\nor Rust 1.80."), ["README.md:2"]);
    }

    #[test]
    fn a_dependency_without_reason_breaks() {
        let text = "[workspace.dependencies]\nown = { path = \"crates/own\" }\n\n# shape: polygons\na = \"1\"\na_more = \"1\"\n\
            b = \"1\"\nc = \"1\" # for sheets\n# why\n\nd = \"1\"\n[profile.dev]\nopt-level = 1\n";
        assert_eq!(
            lines(&dependencies(&Tree::of(&[("Cargo.toml", text)]))),
            ["Cargo.toml:7", "Cargo.toml:11"]
        );
    }
}
