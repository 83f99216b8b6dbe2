//! Reads a folder of published checks, asks each question and compares the answers.
//!
//! One check is data only, and every key of it is required:
//! ```toml
//! [[check]]
//! id = "threads.T01"
//! says = "limits of M3 6g"
//! ask = "thread.limits"
//! given = { thread = "M3", class = "6g" }
//! want = { major_max = "2.98 mm", pitch_max = "2.655 mm" }
//! within = "0.0006 mm"
//! because = "the source prints three decimals"
//! source = "read: a published table of external limits"
//! ```
//! `within` is one text for all answers or a table with one for each; `"0"`
//! wants the same number (to the last bits of a double), a text that ends in
//! `%` is relative to the wanted value. Answers that are words compare as text.

use reckon::{Ask, Book, Dimension, Given, Line, Place, Trouble, print, text};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use toml::de::{DeTable, DeValue};

/// The marks that a source may open with.
pub const MARKS: [&str; 5] = ["read", "derived", "memory", "common practice", "regression"];
const KEYS: [&str; 8] = ["id", "says", "ask", "given", "want", "within", "because", "source"];
/// Relative room for the last bits of a double where a check wants the same number.
const LAST_BITS: f64 = 1e-14;

/// One published check.
#[derive(Clone, Debug)]
pub struct Check {
    /// Subject and id, such as `threads.T01`.
    pub id: String,
    /// What is checked, one line.
    pub says: String,
    /// Name of the question.
    pub ask: String,
    /// What the question is given, each with its place.
    pub given: Vec<(String, String, Place)>,
    /// Answer and wanted text.
    pub want: Vec<(String, String)>,
    /// Tolerance of each answer, in the order of `want`.
    pub within: Vec<String>,
    /// Why that tolerance.
    pub because: String,
    /// How the source was had.
    pub mark: &'static str,
    /// The source card.
    pub source: String,
}

/// A file of the folder: its name and its checks, or what is wrong with it.
#[derive(Clone, Debug)]
pub struct File {
    /// Name without folder.
    pub name: String,
    /// The checks, in the order of the file.
    pub checks: Vec<Check>,
    /// What is wrong with the file.
    pub faults: Vec<String>,
}

/// Reads every `.toml` file of a folder, in the order of names.
///
/// # Errors
/// When the folder cannot be listed or holds no such file.
pub fn read_folder(folder: &Path) -> Result<Vec<File>, String> {
    let listed = std::fs::read_dir(folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    let mut paths: Vec<PathBuf> = listed
        .filter_map(|entry| entry.ok().map(|e| e.path()))
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .collect();
    paths.sort();
    if paths.is_empty() {
        return Err(format!("{}: no check file (*.toml) in this folder", folder.display()));
    }
    Ok(paths.iter().map(|p| read_file(p)).collect())
}
fn read_file(path: &Path) -> File {
    let name = path.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
    match std::fs::read_to_string(path) {
        Ok(content) => read_text(&name, &content),
        Err(e) => File { name, checks: Vec::new(), faults: vec![e.to_string()] },
    }
}
/// Reads the text of one file of checks.
#[must_use]
pub fn read_text(name: &str, content: &str) -> File {
    let mut file = File { name: name.to_owned(), checks: Vec::new(), faults: Vec::new() };
    let here: Arc<str> = Arc::from(name);
    let table = match DeTable::parse(content) {
        Ok(t) => t.into_inner(),
        Err(e) => {
            file.faults.push(e.to_string());
            return file;
        }
    };
    for (key, value) in &table {
        let rows = match (key.get_ref().as_ref(), value.get_ref()) {
            ("check", DeValue::Array(rows)) => rows,
            (other, _) => {
                file.faults.push(format!("'{other}' is not a list of [[check]]"));
                continue;
            }
        };
        for (i, row) in rows.iter().enumerate() {
            let read = match row.get_ref() {
                DeValue::Table(t) => read_check(t, &here, content),
                _ => Err("is not a table".to_owned()),
            };
            match read {
                Ok(check) => file.checks.push(check),
                Err(e) => {
                    let at = Place::in_text(&here, content, row.span().start, row.span().end);
                    file.faults.push(format!("check {} ({at}): {e}", i + 1));
                }
            }
        }
    }
    if file.checks.is_empty() {
        file.faults.push("a file without checks".to_owned());
    }
    file
}
fn read_check(t: &DeTable<'_>, file: &Arc<str>, content: &str) -> Result<Check, String> {
    if let Some(key) = t.keys().find(|k| !KEYS.contains(&k.get_ref().as_ref())) {
        return Err(format!("unknown key '{}'; the keys are {}", key.get_ref(), KEYS.join(", ")));
    }
    let get = |key: &str| t.get(key).ok_or_else(|| format!("'{key}' is missing"));
    let word = |key: &str| match get(key)?.get_ref() {
        DeValue::String(s) if !s.trim().is_empty() => Ok(s.trim().to_owned()),
        _ => Err(format!("'{key}' must be a text that says something")),
    };
    let pairs = |key: &str| -> Result<Vec<(String, String, Place)>, String> {
        let DeValue::Table(rows) = get(key)?.get_ref() else {
            return Err(format!("'{key}' must be a table"));
        };
        let pair = |(k, v): (&toml::Spanned<_>, &toml::Spanned<DeValue<'_>>)| match v.get_ref() {
            DeValue::String(s) => {
                // The span holds the quotation marks; a trouble points inside them.
                let inside = (v.span().start + 1, v.span().end.saturating_sub(1));
                let place = Place::in_text(file, content, inside.0, inside.1);
                let k: &std::borrow::Cow<'_, str> = k.get_ref();
                Ok((k.to_string(), s.to_string(), place))
            }
            _ => Err(format!("'{key}' must hold texts only")),
        };
        rows.iter().map(pair).collect()
    };
    let want: Vec<(String, String)> = pairs("want")?.into_iter().map(|(k, v, _)| (k, v)).collect();
    if want.is_empty() {
        return Err("wants no answer".to_owned());
    }
    let within = match get("within")?.get_ref() {
        DeValue::String(s) => vec![s.to_string(); want.len()],
        DeValue::Table(_) => {
            let each: BTreeMap<String, String> =
                pairs("within")?.into_iter().map(|(k, v, _)| (k, v)).collect();
            if let Some(k) = each.keys().find(|k| !want.iter().any(|(w, _)| w == *k)) {
                return Err(format!("'within' names '{k}', which is not wanted"));
            }
            let of = |(k, _): &(String, String)| {
                each.get(k).cloned().ok_or_else(|| format!("'within' lacks '{k}'"))
            };
            want.iter().map(of).collect::<Result<_, _>>()?
        }
        _ => return Err("'within' must be a text or a table of texts".to_owned()),
    };
    let source = word("source")?;
    let mark = source.split(':').next().unwrap_or("").trim();
    let Some(mark) = MARKS.into_iter().find(|m| *m == mark) else {
        return Err(format!("'source' must open with one of {} and a colon", MARKS.join(", ")));
    };
    Ok(Check {
        id: word("id")?,
        says: word("says")?,
        ask: word("ask")?,
        given: pairs("given")?,
        want,
        within,
        because: word("because")?,
        mark,
        source,
    })
}

/// Ids that stand more than once, over all files.
#[must_use]
pub fn repeated<'a>(files: &'a [File]) -> Vec<&'a str> {
    let mut seen = BTreeSet::new();
    let ids = files.iter().flat_map(|f| &f.checks).map(|c| c.id.as_str());
    ids.filter(|id| !seen.insert(*id)).collect::<BTreeSet<&'a str>>().into_iter().collect()
}

impl Check {
    /// Asks the question and compares every answer.
    ///
    /// # Errors
    /// Want, got, off by, within and source of every answer that misses; or why there was no answer.
    pub fn run(&self, asks: &[&'static Ask]) -> Result<(), String> {
        let Some(ask) = asks.iter().find(|a| a.name == self.ask) else {
            let near = reckon::trouble::nearest(&self.ask, asks.iter().map(|a| a.name));
            return Err(format!("no question is called '{}' (near: {})", self.ask, near.join(", ")));
        };
        let told = |all: &[Trouble]| all.iter().map(Trouble::to_string).collect::<Vec<_>>().join("\n");
        let given = Given::new(ask, &self.given).map_err(|all| told(&all))?;
        let mut book = Book::new();
        (ask.run)(&given, &mut book).map_err(|t| told(&[t]))?;
        if !book.faults().is_empty() {
            return Err(told(book.faults()));
        }
        let misses: Vec<String> = self
            .want
            .iter()
            .zip(&self.within)
            .filter_map(|((answer, want), within)| {
                let miss = match answer_line(ask, &book, answer) {
                    Ok(line) => compare(line, want, within),
                    Err(e) => Err(e),
                };
                miss.err().map(|m| format!("  {answer}: {m}"))
            })
            .collect();
        if misses.is_empty() {
            return Ok(());
        }
        Err(format!(
            "{}\n{}\n  because: {}\n  source:  {}",
            self.says,
            misses.join("\n"),
            self.because,
            self.source
        ))
    }
}
/// An answer counts only where the question promises it: by its name, or as an entry of a promised list.
fn answer_line<'b>(ask: &Ask, book: &'b Book, answer: &str) -> Result<&'b Line, String> {
    let promised = ask
        .gives
        .iter()
        .any(|g| answer == *g || answer.strip_prefix(g).is_some_and(|rest| rest.starts_with('.')));
    match book.find(answer).filter(|_| promised) {
        Some((_, line)) => Ok(line),
        None => Err(format!("no such answer; '{}' gives {}", ask.name, ask.gives.join(", "))),
    }
}
fn compare(line: &Line, want: &str, within: &str) -> Result<(), String> {
    let Some(got) = line.si else {
        return if line.shown.trim() == want.trim() {
            Ok(())
        } else {
            Err(format!("want '{want}', got '{}'", line.shown))
        };
    };
    let kinds = dimensions(line.unit);
    let read = |t: &str| {
        let mut first = None;
        for of in kinds {
            match text::read(t, *of) {
                Ok(x) => return Ok(x),
                Err(e) => _ = first.get_or_insert(e.says),
            }
        }
        Err(format!("'{t}': {}", first.unwrap_or_else(|| format!("no unit is known for '{}'", line.unit))))
    };
    let wanted = read(want)?;
    let room = if within.trim() == "0" {
        wanted.abs() * LAST_BITS
    } else if let Some(percent) = within.trim().strip_suffix('%') {
        let p = text::read(percent, Dimension::Ratio).map_err(|e| format!("'{within}': {}", e.says))?;
        wanted.abs() * p / 100.0
    } else {
        read(within)?
    };
    let off = got - wanted;
    // A decimal tolerance is not a whole number of bits: let the last of them pass.
    if off.abs() <= room + wanted.abs() * LAST_BITS {
        return Ok(());
    }
    let (scale, unit) = told_in(line.unit);
    let told = |x: f64| format!("{} {unit}", print::significant(x * scale, 9)).trim_end().to_owned();
    Err(format!("want {want}, got {}, off by {}, within {within}", told(got), told(off)))
}
/// What a text may be read as, for an SI unit.
fn dimensions(unit: &str) -> &'static [Dimension] {
    use Dimension as D;
    match unit {
        "m" => &[D::Length],
        "rad" => &[D::Angle],
        "s" => &[D::Time],
        "m/s" => &[D::Speed],
        "rad/s" => &[D::AngularSpeed],
        "kg" => &[D::Mass],
        "N" => &[D::Force],
        "N m" => &[D::Torque],
        "Pa" => &[D::Pressure],
        "J" => &[D::Energy],
        "W" => &[D::Power],
        "K" => &[D::Temperature, D::TemperatureDifference],
        "m²" => &[D::Area],
        "m³" => &[D::Volume],
        "kg/m³" => &[D::Density],
        "m/s²" => &[D::Acceleration],
        "N/m" => &[D::Stiffness],
        "1/K" => &[D::PerKelvin],
        "" => &[D::Ratio],
        _ => &[],
    }
}
/// The unit a maker reads a miss in.
fn told_in(unit: &str) -> (f64, &str) {
    match unit {
        "m" => (1e3, "mm"),
        "m²" => (1e6, "mm2"),
        "m³" => (1e9, "mm3"),
        "rad" => (180.0 / reckon::maths::PI, "deg"),
        "rad/s" => (30.0 / reckon::maths::PI, "rpm"),
        other => (1.0, other),
    }
}

/// How the example of a question fares: it must run, and answer something that it promises.
///
/// # Errors
/// Why it does not.
pub fn example(ask: &'static Ask) -> Result<(), String> {
    let here: Arc<str> = Arc::from(format!("example of {}", ask.name));
    let pairs = reckon::ask::pairs(ask.example, &here)?;
    let told = |all: &[Trouble]| all.iter().map(Trouble::to_string).collect::<Vec<_>>().join("\n");
    let given = Given::new(ask, &pairs).map_err(|all| told(&all))?;
    let mut book = Book::new();
    (ask.run)(&given, &mut book).map_err(|t| told(&[t]))?;
    if !book.faults().is_empty() {
        return Err(told(book.faults()));
    }
    if !ask.gives.iter().any(|g| book.matching(g).len() + book.matching(&format!("{g}.**")).len() > 0) {
        return Err("answers nothing that it promises".to_owned());
    }
    Ok(())
}

/// A closing table: how many checks held and missed, under each heading.
#[must_use]
pub fn tally(title: &str, results: &[(String, bool)]) -> String {
    let mut rows: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
    for (head, held) in results {
        let row = rows.entry(head).or_default();
        if *held {
            row.0 += 1;
        } else {
            row.1 += 1;
        }
    }
    let width = rows.keys().map(|k| k.chars().count()).max().unwrap_or(0).max(title.chars().count());
    let mut out = format!("{title:width$}   held  missed\n");
    for (head, (held, missed)) in rows {
        out += &format!("{head:width$}  {held:5}  {missed:6}\n");
    }
    out
}
