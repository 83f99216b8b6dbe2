//! The project's files as text, so that a rule can be tried on a made-up tree.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use crate::shell;

/// Every text file by its path from the project's root, with `/` between folders.
#[derive(Debug, Default)]
pub struct Tree {
    files: BTreeMap<String, String>,
}

impl Tree {
    /// The files that belong to the project: known to git, or new and not ignored.
    pub fn read() -> Result<Self, String> {
        let root = root();
        let list = shell::output("git", &["ls-files", "-z", "--cached", "--others", "--exclude-standard"])?;
        let mut files = BTreeMap::new();
        for name in list.split('\0').filter(|name| !name.is_empty()) {
            // A file taken away but not yet committed, or one that is not text, is not there to be read.
            if let Ok(text) = std::fs::read_to_string(root.join(name)) {
                files.insert(name.to_owned(), text);
            }
        }
        Ok(Self { files })
    }

    /// Text of one file.
    pub fn text(&self, path: &str) -> Option<&str> {
        self.files.get(path).map(String::as_str)
    }

    /// All files in order of their paths.
    pub fn all(&self) -> impl Iterator<Item = (&str, &str)> {
        self.files.iter().map(|(path, text)| (path.as_str(), text.as_str()))
    }

    /// The Rust files of the project.
    pub fn rust(&self) -> impl Iterator<Item = (&str, &str)> {
        self.all().filter(|(path, _)| path.ends_with(".rs"))
    }

    /// Names of the folders below `crates/` that hold a manifest.
    pub fn crates(&self) -> Vec<&str> {
        let manifest = |path: &'_ str| -> Option<(usize, usize)> {
            let rest = path.strip_prefix("crates/")?;
            let name = rest.strip_suffix("/Cargo.toml")?;
            (!name.contains('/')).then_some(("crates/".len(), "crates/".len() + name.len()))
        };
        self.files.keys().filter_map(|path| manifest(path).map(|(from, to)| &path[from..to])).collect()
    }

    /// A tree made of the given files.
    #[cfg(test)]
    pub fn of(files: &[(&str, &str)]) -> Self {
        Self { files: files.iter().map(|&(path, text)| (path.to_owned(), text.to_owned())).collect() }
    }
}

/// Root of the project: the folder that holds this crate's folder, as cargo names it now. What it
/// was when this was compiled may be another clone that shares the target directory.
pub fn root() -> PathBuf {
    let here = std::env::var_os("CARGO_MANIFEST_DIR")
        .map_or_else(|| env!("CARGO_MANIFEST_DIR").into(), PathBuf::from);
    here.parent().map_or_else(|| here.clone(), Path::to_owned)
}

/// A list kept in a file: one `path: reason` a line, `#` for remarks.
pub struct Allowed<'a> {
    rows: Vec<(&'a str, &'a str, usize)>,
}

impl<'a> Allowed<'a> {
    /// Reads a list; a file that is not there is an empty list.
    pub fn read(tree: &'a Tree, list: &str) -> Self {
        let rows = tree.text(list).unwrap_or_default().lines().zip(1..).filter_map(|(line, number)| {
            let line = line.trim();
            if line.is_empty() || line.starts_with('#') {
                return None;
            }
            let (path, reason) = line.split_once(':').unwrap_or((line, ""));
            Some((path.trim(), reason.trim(), number))
        });
        Self { rows: rows.collect() }
    }

    /// Whether a path is on the list.
    pub fn has(&self, path: &str) -> bool {
        self.rows.iter().any(|&(listed, ..)| listed == path)
    }

    /// Rows that give no reason, or that `needed` says are not needed: what is wrong, and the line.
    pub fn faults(&self, needed: impl Fn(&str) -> bool) -> Vec<(usize, String)> {
        let mut faults = Vec::new();
        for &(path, reason, line) in &self.rows {
            if reason.is_empty() {
                faults.push((line, format!("`{path}` is listed without a reason")));
            }
            if !needed(path) {
                faults.push((line, format!("`{path}` is listed but does not need it: take the line out")));
            }
        }
        faults
    }
}
