//! Materials by the names of the trade: what they weigh, how stiff they are, how they cut.
//!
//! Figures are typical of the state named; a bar's own certificate comes before them.
//!
//! ```
//! let brass = tables::material::find("CZ121/CuZn39Pb3").unwrap();
//! assert_eq!(brass.name, "brass CZ121");
//! assert!(brass.leaded);
//! let how = tables::material::cutting(brass).unwrap();
//! assert_eq!(how.turning.value.in_m_per_min(), 75.0);
//! ```

mod asks;
mod cutting;
mod named;

pub use asks::ASKS;
pub use cutting::{Cutting, ToolMetal, cutting, groups};
pub use named::find;

use crate::load::{DataFault, Row, Sheet};
use reckon::{Book, Density, PerKelvin, Pressure, Ratio, Readable, Shown, Source, Val, text};
use std::fmt::Display;
use std::sync::LazyLock;

/// A tabled figure with its source.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Figure<T> {
    /// The figure.
    pub value: T,
    /// Whose.
    pub source: &'static Source,
}
impl<T: Shown + Copy> Figure<T> {
    /// Writes it in the book; `row` says of what.
    pub fn tabled(&self, book: &mut Book, name: impl Display, row: impl Into<String>) -> Val<T> {
        book.tabled(name, self.value, row, self.source)
    }
}
/// A figure such as `8.44 g/cm3 [key]`: the key names its card, without one the row's card holds.
fn figure<T: Readable>(sheet: &Sheet, row: &Row, key: &str) -> Result<Figure<T>, DataFault> {
    let (written, source) = with_card(sheet, row, key)?;
    let si = text::read(&written, T::OF).map_err(|e| row.fault(format!("'{key}': {}", e.says)))?;
    Ok(Figure { value: T::from_si(si), source })
}
fn figure_if<T: Readable>(sheet: &Sheet, row: &Row, key: &str) -> Result<Option<Figure<T>>, DataFault> {
    if row.has(key) { figure(sheet, row, key).map(Some) } else { Ok(None) }
}
fn with_card(sheet: &Sheet, row: &Row, key: &str) -> Result<(String, &'static Source), DataFault> {
    let word = row.word(key)?;
    Ok(match word.split_once('[') {
        Some((written, card)) => (written.trim().to_owned(), sheet.source(card.trim_end_matches(']'))?),
        None => (word.trim().to_owned(), row.source),
    })
}

/// What kind of metal it is, for grouping in lists and for rules that hold for all of a kind.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
#[expect(missing_docs, reason = "each word is the trade's own")]
pub enum Kind {
    Brass,
    Bronze,
    NickelSilver,
    Copper,
    Aluminium,
    Steel,
    ToolSteel,
    SpringSteel,
    StainlessSteel,
    NickelIron,
    CastIron,
    Zinc,
    Lead,
}
impl Kind {
    const ALL: [(Kind, &'static str); 13] = [
        (Kind::Brass, "brass"),
        (Kind::Bronze, "bronze"),
        (Kind::NickelSilver, "nickel silver"),
        (Kind::Copper, "copper"),
        (Kind::Aluminium, "aluminium"),
        (Kind::Steel, "steel"),
        (Kind::ToolSteel, "tool steel"),
        (Kind::SpringSteel, "spring steel"),
        (Kind::StainlessSteel, "stainless steel"),
        (Kind::NickelIron, "nickel iron"),
        (Kind::CastIron, "cast iron"),
        (Kind::Zinc, "zinc"),
        (Kind::Lead, "lead"),
    ];
    /// As printed.
    #[must_use]
    pub fn text(self) -> &'static str {
        Kind::ALL.iter().find(|(k, _)| *k == self).map_or("", |(_, t)| t)
    }
}
/// Whether and how it hardens by heat.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Hardens {
    /// Not by heat.
    No,
    /// Only a case, by carbon brought to the skin.
    CaseOnly,
    /// Quenched in water or brine.
    Water,
    /// Oil for small sections, water for larger ones.
    WaterOrOil,
    /// Quenched in oil.
    Oil,
    /// Sold hard and tempered; heat only softens it.
    AlreadyHard,
}
impl Hardens {
    const ALL: [(Hardens, &'static str); 6] = [
        (Hardens::No, "no"),
        (Hardens::CaseOnly, "case"),
        (Hardens::Water, "water"),
        (Hardens::WaterOrOil, "water or oil"),
        (Hardens::Oil, "oil"),
        (Hardens::AlreadyHard, "already hard"),
    ];
    /// As printed.
    #[must_use]
    pub fn text(self) -> &'static str {
        Hardens::ALL.iter().find(|(h, _)| *h == self).map_or("", |(_, t)| t)
    }
    /// Whether a quench hardens it through.
    #[must_use]
    pub const fn by_quench(self) -> bool {
        matches!(self, Hardens::Water | Hardens::WaterOrOil | Hardens::Oil)
    }
}

/// Lead in the metal: said once where it is cut.
pub const LEAD: &str = "holds lead: no dry sweeping or blowing, swarf in its own tin, wash hands before \
    food, keep work clothes from home; the supplier's safety sheet and local rules come first";
/// Beryllium in the metal: dust of it is refused.
pub const BERYLLIUM: &str = "holds beryllium: its dust and fume harm the lungs for life; no grinding, \
    dry polishing, filing of heaps, brazing or welding; cut only wet and only as the supplier's \
    safety sheet and local rules allow";

/// A material.
#[derive(Clone, PartialEq, Debug)]
pub struct Material {
    /// Its name here.
    pub name: String,
    /// Other names for it.
    pub also: Vec<String>,
    /// What kind of metal it is.
    pub kind: Kind,
    /// The state that the strength holds for.
    pub state: String,
    /// Mass per volume.
    pub density: Figure<Density>,
    /// Young's modulus.
    pub youngs: Figure<Pressure>,
    /// Poisson's ratio.
    pub poisson: Figure<Ratio>,
    /// Linear expansion, mean about 20 to 100 °C.
    pub expansion: Figure<PerKelvin>,
    /// Tensile strength.
    pub strength: Option<Figure<Pressure>>,
    /// 0.2 % proof stress.
    pub proof: Option<Figure<Pressure>>,
    /// Whether and how it hardens.
    pub hardens: Hardens,
    /// Whose word on hardening.
    pub hardens_by: &'static Source,
    /// Whether it holds lead.
    pub leaded: bool,
    /// Whether it holds beryllium.
    pub beryllium: bool,
    group: Option<String>,
    source: &'static Source,
}
impl Material {
    /// Cautions that belong at every operation that makes chips or dust of it.
    #[must_use]
    pub fn cautions(&self) -> Vec<&'static str> {
        let mut all = Vec::new();
        if self.leaded {
            all.push(LEAD);
        }
        if self.beryllium {
            all.push(BERYLLIUM);
        }
        all
    }
    /// Why grinding and dry polishing are refused, where they are.
    #[must_use]
    pub fn refuses_grinding(&self) -> Option<&'static str> {
        self.beryllium.then_some(BERYLLIUM)
    }
    /// A row text for the book: "brass CZ121, half hard: density".
    #[must_use]
    pub fn row(&self, what: &str) -> String {
        format!("{}, {}: {what}", self.name, self.state)
    }
}

static MATERIALS: LazyLock<Vec<Material>> =
    LazyLock::new(|| materials().expect("the embedded table materials.toml is whole; a test reads it"));

fn materials() -> Result<Vec<Material>, DataFault> {
    let sheet = Sheet::read("materials.toml", include_str!("../../data/materials.toml"))?;
    sheet.rows("material")?.iter().map(|row| material(&sheet, row)).collect()
}
fn material(sheet: &Sheet, row: &Row) -> Result<Material, DataFault> {
    let known = [
        "name",
        "also",
        "kind",
        "state",
        "group",
        "density",
        "youngs",
        "poisson",
        "expansion",
        "strength",
        "proof",
        "hardens",
        "notes",
    ];
    if let Some(odd) = row.keys().find(|k| !known.contains(k)) {
        return Err(row.fault(format!("'{odd}' is not known")));
    }
    let (hardens, hardens_by) = with_card(sheet, row, "hardens")?;
    let hardens = Hardens::ALL.iter().find(|(_, t)| *t == hardens);
    let kind = row.word("kind")?;
    let kind = Kind::ALL.iter().find(|(_, t)| *t == kind);
    let notes = if row.has("notes") { row.word("notes")? } else { "" };
    if !["", "leaded", "beryllium"].contains(&notes) {
        return Err(row.fault(format!("the note '{notes}' is not known")));
    }
    Ok(Material {
        name: row.word("name")?.to_owned(),
        also: row.word("also")?.split(';').map(|s| s.trim().to_owned()).collect(),
        kind: kind.ok_or_else(|| row.fault("no such kind"))?.0,
        state: row.word("state")?.to_owned(),
        density: figure(sheet, row, "density")?,
        youngs: figure(sheet, row, "youngs")?,
        poisson: figure(sheet, row, "poisson")?,
        expansion: figure(sheet, row, "expansion")?,
        strength: figure_if(sheet, row, "strength")?,
        proof: figure_if(sheet, row, "proof")?,
        hardens: hardens.ok_or_else(|| row.fault("no such way to harden"))?.0,
        hardens_by,
        leaded: notes == "leaded",
        beryllium: notes == "beryllium",
        group: if row.has("group") { Some(row.word("group")?.to_owned()) } else { None },
        source: row.source,
    })
}

/// All materials, in the order of the table.
#[must_use]
pub fn all() -> &'static [Material] {
    &MATERIALS
}

#[cfg(test)]
mod tests;
