//! Every figure in a table has a source, and every source named is a card.

use std::collections::BTreeMap;

use toml::{Table, Value};

use super::Broken;
use crate::tree::Tree;

const FOLDER: &str = "crates/tables/data/";
/// Cards that any table may name.
const SHARED: &str = "crates/tables/data/sources.toml";
/// How a source may have been had.
const MARKS: [&str; 4] = ["read", "derived", "memory", "common practice"];

pub fn check(tree: &Tree) -> Vec<Broken> {
    let mut broken = Vec::new();
    let mut files = BTreeMap::new();
    for (path, text) in tree.all().filter(|(path, _)| path.starts_with(FOLDER) && path.ends_with(".toml")) {
        match text.parse::<Table>() {
            Ok(table) => {
                files.insert(path, table);
            }
            Err(fault) => broken.push(Broken::at(path, 0, format!("cannot be read: {fault}"))),
        }
    }
    for (path, file) in &files {
        let find = |words: &str| place(tree.text(path).unwrap_or_default(), words);
        for (key, card) in cards(file) {
            for says in faults_of(card) {
                broken.push(Broken::at(
                    path,
                    find(&format!("[source.{key}]")),
                    format!("card `{key}` {says}"),
                ));
            }
        }
        let known = |key: &str| {
            let shared = files.get(SHARED).into_iter().flat_map(cards);
            cards(file).chain(shared).any(|(card, _)| card == key)
        };
        for (name, table) in file.iter().filter(|(name, _)| *name != "source") {
            for (row, source) in sources(table) {
                let at =
                    if row == 0 { format!("table `{name}`") } else { format!("table `{name}`, row {row},") };
                match source {
                    None => broken.push(Broken::at(path, find(name), format!("{at} has no source"))),
                    Some(key) if !known(key) => {
                        let line = find(&format!("\"{key}\""));
                        broken.push(Broken::at(
                            path,
                            line,
                            format!("{at} names source `{key}`, which has no card"),
                        ));
                    }
                    Some(_) => (),
                }
            }
        }
    }
    broken
}

/// The cards of a file: `[source.KEY]`.
fn cards(file: &Table) -> impl Iterator<Item = (&str, &Value)> {
    file.get("source").and_then(Value::as_table).into_iter().flatten().map(|(key, card)| (key.as_str(), card))
}

fn faults_of(card: &Value) -> Vec<String> {
    let text = |key| card.get(key).and_then(Value::as_str).map(str::trim);
    let mut faults = Vec::new();
    if text("cite").is_none_or(str::is_empty) {
        faults.push("does not say what to look up: `cite`".to_owned());
    }
    if !text("mark").is_some_and(|mark| MARKS.contains(&mark)) {
        faults.push(format!("needs `mark`, one of: {}", MARKS.join(", ")));
    }
    faults
}

/// The source of each row of a table, rows counted from 1; 0 stands for the whole table.
///
/// A table is a list of tables each with its source; or one with `columns` and `rows`, where a
/// row has the source in its `source` column or else that of the table; or single figures.
fn sources(table: &Value) -> Vec<(usize, Option<&str>)> {
    match table {
        Value::Array(rows) => {
            (1..).zip(rows).map(|(row, cells)| (row, cells.get("source").and_then(Value::as_str))).collect()
        }
        Value::Table(table) => {
            let around = table.get("source").and_then(Value::as_str);
            let column = table.get("columns").and_then(Value::as_array).and_then(|columns| {
                columns.iter().position(|column| column.as_str().is_some_and(|name| name == "source"))
            });
            match (column, table.get("rows").and_then(Value::as_array)) {
                (Some(column), Some(rows)) => (1..)
                    .zip(rows)
                    .map(|(row, cells)| {
                        let own = cells.get(column).and_then(Value::as_str).filter(|own| *own != "-");
                        (row, own.or(around))
                    })
                    .collect(),
                _ => vec![(0, around)],
            }
        }
        _ => vec![(0, None)],
    }
}

fn place(text: &str, words: &str) -> usize {
    text.lines().position(|line| line.contains(words)).map_or(0, |at| at + 1)
}

#[cfg(test)]
mod tests {
    use super::check;
    use crate::tidy::{Broken, lines};
    use crate::tree::Tree;

    const CARD: &str = "[source.iso]\ncite = \"A standard, table 3\"\nmark = \"read\"\n";

    fn checked(text: &str) -> Vec<Broken> {
        check(&Tree::of(&[("crates/tables/data/a.toml", &format!("{CARD}{text}"))]))
    }

    #[test]
    fn tables_with_sources_pass() {
        assert_eq!(
            checked(
                "[pitch]\nsource = \"iso\"\ncolumns = [\"d mm\"]\nrows = [[1.0]]\n[[head]]\nname = \"x\"\nsource = \"iso\"\n"
            ),
            []
        );
        let own = "[pitch]\ncolumns = [\"d mm\", \"source\"]\nrows = [[1.0, \"iso\"]]\n";
        assert_eq!(checked(own), []);
        let shared = [
            ("crates/tables/data/sources.toml", CARD),
            ("crates/tables/data/b.toml", "[[row]]\nd = 1\nsource = \"iso\"\n"),
        ];
        assert_eq!(check(&Tree::of(&shared)), []);
    }

    #[test]
    fn a_table_or_row_without_source_breaks() {
        assert_eq!(
            lines(&checked("[pitch]\ncolumns = [\"d mm\"]\nrows = [[1.0]]\n")),
            ["crates/tables/data/a.toml:4"]
        );
        assert_eq!(
            lines(&checked("[[head]]\nsource = \"iso\"\n[[head]]\nname = \"y\"\n")),
            ["crates/tables/data/a.toml:4"]
        );
        let own = "[pitch]\ncolumns = [\"d mm\", \"source\"]\nrows = [[1.0, \"iso\"], [2.0, \"-\"]]\n";
        assert!(checked(own)[0].to_string().contains("row 2"));
    }

    #[test]
    fn a_source_without_card_breaks() {
        assert_eq!(
            lines(&checked("[[head]]\nname = \"x\"\nsource = \"bsi\"\n")),
            ["crates/tables/data/a.toml:6"]
        );
    }

    #[test]
    fn a_card_says_what_to_look_up_and_how_it_was_had() {
        assert_eq!(
            checked("[source.b]\nmark = \"read\"\n[source.c]\ncite = \"x\"\nmark = \"heard\"\n").len(),
            2
        );
        assert_eq!(check(&Tree::of(&[("crates/tables/data/a.toml", "not toml")])).len(), 1);
    }
}
