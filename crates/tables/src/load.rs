//! Tables as text, embedded in the program and read once.
//!
//! A data file names its sources and holds tables in one of two shapes:
//! ```toml
//! [source.iso_965]
//! cite = "ISO 965-1, table 3"
//! mark = "memory"                      # read, derived, memory or common practice
//!
//! [nut_pitch]                          # many numbers: columns, a unit after the name
//! source = "iso_965"
//! columns = ["pitch mm", "5 um", "6 um"]
//! rows = [[0.5, 80, 100], [0.6, 90, "-"]]
//!
//! [[head]]                             # few and various: a table each
//! name = "cheese"
//! source = "iso_965"
//! ```
//! `"-"` stands for a cell that the source leaves empty. Every row has a source:
//! its own, or that of the table around it.

use reckon::{Mark, Readable, Source, text};
use std::collections::BTreeMap;
use std::fmt;
use toml::{Table, Value};

/// What is wrong with an embedded table; tests read them all, so no maker meets one.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct DataFault {
    /// File.
    pub file: &'static str,
    /// Table and row, counted from 1; empty when it is the whole file.
    pub row: String,
    /// What is wrong.
    pub says: String,
}
impl fmt::Display for DataFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}: {}", self.file, self.row, self.says)
    }
}
impl std::error::Error for DataFault {}

/// A data file that has been read.
#[derive(Debug)]
pub struct Sheet {
    file: &'static str,
    doc: Table,
    sources: BTreeMap<String, &'static Source>,
}
/// One row of a table.
#[derive(Debug)]
pub struct Row {
    file: &'static str,
    at: String,
    cells: Table,
    units: BTreeMap<String, String>,
    /// Where its figures come from.
    pub source: &'static Source,
}

impl Sheet {
    /// Reads the text of a file.
    ///
    /// # Errors
    /// When it is not TOML or a source card lacks something.
    pub fn read(file: &'static str, content: &str) -> Result<Sheet, DataFault> {
        let whole = |says: String| DataFault { file, row: String::new(), says };
        let mut doc: Table = toml::from_str(content).map_err(|e| whole(e.to_string()))?;
        let mut sources = BTreeMap::new();
        if let Some(Value::Table(cards)) = doc.remove("source") {
            for (key, card) in cards {
                let fault =
                    |says: &str| DataFault { file, row: format!("source.{key}"), says: says.to_owned() };
                let field = |name: &str| card.get(name).and_then(Value::as_str);
                let cite = field("cite").ok_or_else(|| fault("'cite' is missing"))?;
                let mark = field("mark").and_then(Mark::from_word);
                let mark = mark.ok_or_else(|| fault("'mark' is missing or no known mark"))?;
                let kept = |s: &str| -> &'static str { Box::leak(s.to_owned().into_boxed_str()) };
                let source = Source { cite: kept(cite), mark, formula: field("formula").map(kept) };
                sources.insert(key, &*Box::leak(Box::new(source)));
            }
        }
        Ok(Sheet { file, doc, sources })
    }
    /// A source card of this file.
    ///
    /// # Errors
    /// When the file has no such card.
    pub fn source(&self, key: &str) -> Result<&'static Source, DataFault> {
        self.sources.get(key).copied().ok_or_else(|| self.fault(key, "no such source card"))
    }
    /// Names of the tables in this file.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.doc.keys().map(String::as_str)
    }
    /// The rows of a table, each with a source.
    ///
    /// # Errors
    /// When the table is missing, a row has another number of cells than columns, or no source.
    pub fn rows(&self, name: &str) -> Result<Vec<Row>, DataFault> {
        match self.doc.get(name) {
            Some(Value::Table(t)) => self.grid(name, t),
            Some(Value::Array(all)) => all
                .iter()
                .enumerate()
                .map(|(i, v)| {
                    let at = format!("{name} row {}", i + 1);
                    let cells = v.as_table().ok_or_else(|| self.fault(&at, "is not a table"))?.clone();
                    self.row(at, cells, BTreeMap::new(), None)
                })
                .collect(),
            _ => Err(self.fault(name, "no such table")),
        }
    }
    fn grid(&self, name: &str, t: &Table) -> Result<Vec<Row>, DataFault> {
        let list = |key: &str| {
            t.get(key)
                .and_then(Value::as_array)
                .ok_or_else(|| self.fault(name, &format!("'{key}' is missing")))
        };
        let mut heads = Vec::new();
        let mut units = BTreeMap::new();
        for column in list("columns")? {
            let column = column.as_str().ok_or_else(|| self.fault(name, "a column has no name"))?;
            let (head, unit) = column.split_once(' ').unwrap_or((column, ""));
            heads.push(head.to_owned());
            units.insert(head.to_owned(), unit.to_owned());
        }
        let rows = list("rows")?.iter().enumerate();
        rows.map(|(i, v)| {
            let at = format!("{name} row {}", i + 1);
            let cells = v.as_array().ok_or_else(|| self.fault(&at, "is not a list"))?;
            if cells.len() != heads.len() {
                return Err(self.fault(&at, &format!("{} cells for {} columns", cells.len(), heads.len())));
            }
            let cells = heads.iter().cloned().zip(cells.iter().cloned()).collect();
            self.row(at, cells, units.clone(), t.get("source").and_then(Value::as_str))
        })
        .collect()
    }
    fn row(
        &self,
        at: String,
        mut cells: Table,
        units: BTreeMap<String, String>,
        around: Option<&str>,
    ) -> Result<Row, DataFault> {
        let own = cells.remove("source");
        let key = own.as_ref().and_then(Value::as_str).filter(|k| *k != "-").or(around);
        let key = key.ok_or_else(|| self.fault(&at, "a row without a source"))?;
        let source = self.source(key).map_err(|_| self.fault(&at, &format!("no source card '{key}'")))?;
        Ok(Row { file: self.file, at, cells, units, source })
    }
    fn fault(&self, row: &str, says: &str) -> DataFault {
        DataFault { file: self.file, row: row.to_owned(), says: says.to_owned() }
    }
}
impl Row {
    /// A fault of this row.
    #[must_use]
    pub fn fault(&self, says: impl Into<String>) -> DataFault {
        DataFault { file: self.file, row: self.at.clone(), says: says.into() }
    }
    fn cell(&self, key: &str) -> Option<&Value> {
        self.cells.get(key).filter(|v| v.as_str() != Some("-"))
    }
    /// Names of the cells, so that a reader can refuse one it does not know.
    pub fn keys(&self) -> impl Iterator<Item = &str> {
        self.cells.keys().map(String::as_str)
    }
    /// Whether a cell is there and not empty.
    #[must_use]
    pub fn has(&self, key: &str) -> bool {
        self.cell(key).is_some()
    }
    /// A word.
    ///
    /// # Errors
    /// When it is missing or a number.
    pub fn word(&self, key: &str) -> Result<&str, DataFault> {
        self.cell(key).and_then(Value::as_str).ok_or_else(|| self.fault(format!("'{key}' is not a word")))
    }
    /// A plain number.
    ///
    /// # Errors
    /// When it is missing or not a number.
    pub fn number(&self, key: &str) -> Result<f64, DataFault> {
        match self.cell(key) {
            Some(Value::Float(x)) => Ok(*x),
            #[expect(clippy::cast_precision_loss, reason = "figures of tables have few digits")]
            Some(Value::Integer(n)) => Ok(*n as f64),
            _ => Err(self.fault(format!("'{key}' is not a number"))),
        }
    }
    /// A quantity: a text with its unit, or a number under a column that names the unit.
    ///
    /// # Errors
    /// When it is missing or cannot be read.
    pub fn quantity<T: Readable>(&self, key: &str) -> Result<T, DataFault> {
        let unit = self.units.get(key).map_or("", String::as_str);
        let written = match self.cell(key) {
            Some(Value::String(s)) => s.clone(),
            Some(Value::Float(x)) => format!("{x} {unit}"),
            Some(Value::Integer(n)) => format!("{n} {unit}"),
            _ => return Err(self.fault(format!("'{key}' is missing"))),
        };
        let si = text::read(written.trim(), T::OF).map_err(|e| self.fault(format!("'{key}': {}", e.says)))?;
        Ok(T::from_si(si))
    }
    /// A quantity that the source may leave empty.
    ///
    /// # Errors
    /// When it is there and cannot be read.
    pub fn quantity_if<T: Readable>(&self, key: &str) -> Result<Option<T>, DataFault> {
        if self.has(key) { self.quantity(key).map(Some) } else { Ok(None) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use reckon::Length;

    const TEXT: &str = r#"
        [source.a]
        cite = "a table"
        mark = "memory"
        [t]
        source = "a"
        columns = ["name", "pitch mm", "es um"]
        rows = [["x", 0.5, 20], ["y", "0.1 in", "-"]]
        [[s]]
        name = "z"
        source = "a"
        [[s]]
        name = "none"
    "#;
    #[test]
    fn a_number_takes_the_unit_of_its_column() {
        let sheet = Sheet::read("t.toml", TEXT).unwrap();
        let rows = sheet.rows("t").unwrap();
        assert_eq!(rows[0].quantity::<Length>("pitch"), Ok(Length::si(0.0005)));
        assert_eq!(rows[0].quantity::<Length>("es"), Ok(Length::si(0.00002)));
        assert_eq!(rows[1].quantity::<Length>("pitch"), Ok(Length::si(0.00254)));
        assert_eq!(rows[1].quantity_if::<Length>("es"), Ok(None));
        assert_eq!(rows[1].source.mark, Mark::Memory);
    }
    #[test]
    fn a_row_without_a_source_is_refused_by_name() {
        let sheet = Sheet::read("t.toml", TEXT).unwrap();
        let fault = sheet.rows("s").unwrap_err();
        assert_eq!(fault.to_string(), "t.toml s row 2: a row without a source");
    }
}
