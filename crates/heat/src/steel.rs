//! Steels: heats to quench from, media, soak, hardness as quenched, the section that hardens through.

use reckon::{Length, Source, Temperature, Trouble};
use std::sync::LazyLock;
use tables::load::{DataFault, Row, Sheet};
use tables::material::{self, Hardens};

/// What a piece is quenched in, the mildest first.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Medium {
    /// Oil.
    Oil,
    /// Water.
    Water,
    /// Salt water.
    Brine,
}
impl Medium {
    /// Words for them.
    pub const ALL: [(&'static str, Medium); 3] =
        [("oil", Medium::Oil), ("water", Medium::Water), ("brine", Medium::Brine)];
    /// As printed.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Medium::Oil => "oil",
            Medium::Water => "water",
            Medium::Brine => "brine",
        }
    }
}
/// Where to quench from, by medium.
#[derive(Clone, PartialEq, Debug)]
pub struct Heat {
    /// What it is quenched in.
    pub medium: Medium,
    /// Lower end, °C: light sections.
    pub low: f64,
    /// Upper end, °C.
    pub high: f64,
    /// Section that surely hardens through, mm, where known.
    pub sure: Option<f64>,
    /// Largest section that was seen to harden through, mm, where known.
    pub most: Option<f64>,
    /// The bath.
    pub bath: String,
    /// Whose figures.
    pub source: &'static Source,
}
/// A piece that was seen to fail.
#[derive(Clone, PartialEq, Debug)]
pub struct Failed {
    /// What it was quenched in.
    pub medium: Medium,
    /// Diameter, mm.
    pub section: f64,
    /// Quenched from, °C.
    pub from: f64,
    /// HV at the edge.
    pub edge: f64,
    /// HV inside.
    pub inside: f64,
    /// Depth of that, mm.
    pub depth: f64,
    /// Whose measurement.
    pub source: &'static Source,
}
/// How a steel hardens.
#[derive(Clone, PartialEq, Debug)]
pub struct Steel {
    /// Name in the table of materials.
    pub material: String,
    /// Carbon, per cent.
    pub carbon: f64,
    /// Time in which 780 to 540 °C must be passed, s: low and high of the class.
    pub nose: (f64, f64),
    /// HRC as quenched, low and high.
    pub hard: (f64, f64),
    /// Soak, minutes for each millimetre, after it is hot through.
    pub soak: f64,
    /// Annealing, °C.
    pub anneal: (f64, f64),
    /// How it is annealed.
    pub anneal_how: String,
    /// Growth in length when it hardens, as a share.
    pub growth: f64,
    /// Heats by medium, the usual one first.
    pub heats: Vec<Heat>,
    /// Pieces that failed.
    pub failed: Vec<Failed>,
    /// HRC by temperature of a furnace temper, rising °C.
    pub curve: Vec<(f64, f64)>,
    /// Whose curve, by point.
    pub curve_by: Vec<&'static Source>,
    /// Whose figures.
    pub source: &'static Source,
}
impl Steel {
    /// The heat for a medium.
    #[must_use]
    pub fn heat(&self, medium: Medium) -> Option<&Heat> {
        self.heats.iter().find(|h| h.medium == medium)
    }
    /// The mildest medium that is known to harden a section (mm) through; else the one with no known limit.
    #[must_use]
    pub fn medium_for(&self, section: f64) -> Option<&Heat> {
        let through = |h: &&Heat| h.sure.is_some_and(|s| section <= s);
        let mildest = self.heats.iter().filter(through).min_by_key(|h| h.medium);
        mildest.or_else(|| self.heats.iter().find(|h| h.sure.is_none()))
    }
    /// Soak in a furnace, s, for a section in mm: after it is hot through, never under five minutes.
    #[must_use]
    pub fn soak_s(&self, section: f64) -> f64 {
        (self.soak * section).max(5.0) * 60.0
    }
}
/// What is wanted of a part.
#[derive(Clone, PartialEq, Debug)]
pub struct Wanted {
    /// The part.
    pub part: String,
    /// HRC, low.
    pub low: f64,
    /// HRC, high.
    pub high: f64,
    /// How it is usually had.
    pub how: String,
    /// Whose figures.
    pub source: &'static Source,
}
/// All that the tables say.
#[derive(Debug)]
pub struct Tables {
    /// Steels that harden.
    pub steels: Vec<Steel>,
    /// HRC and HV.
    pub hardness: Vec<(f64, f64)>,
    /// Whose conversion.
    pub hardness_by: &'static Source,
    /// What is wanted of parts.
    pub wanted: Vec<Wanted>,
}
static TABLES: LazyLock<Tables> =
    LazyLock::new(|| read().expect("the embedded table steel.toml is whole; a test reads it"));

fn read() -> Result<Tables, DataFault> {
    let sheet = Sheet::read("steel.toml", include_str!("../data/steel.toml"))?;
    let mut steels = Vec::new();
    for row in &sheet.rows("steel")? {
        steels.push(steel(&sheet, row)?);
    }
    let hardness = sheet.rows("hardness")?;
    let hardness = hardness.iter().map(|r| Ok((r.number("hrc")?, r.number("hv")?)));
    let wanted = sheet.rows("wanted")?;
    let wanted = wanted.iter().map(|r| {
        Ok(Wanted {
            part: r.word("part")?.to_owned(),
            low: r.number("low")?,
            high: r.number("high")?,
            how: r.word("how")?.to_owned(),
            source: r.source,
        })
    });
    Ok(Tables {
        steels,
        hardness: hardness.collect::<Result<_, DataFault>>()?,
        hardness_by: sheet.source("hardness")?,
        wanted: wanted.collect::<Result<_, DataFault>>()?,
    })
}
fn medium(row: &Row) -> Result<Medium, DataFault> {
    let word = row.word("medium")?;
    Medium::ALL.iter().find(|(w, _)| *w == word).map(|(_, m)| *m).ok_or_else(|| row.fault("no such medium"))
}
fn mm(row: &Row, key: &str) -> Result<Option<f64>, DataFault> {
    Ok(row.quantity_if::<Length>(key)?.map(Length::in_mm))
}
fn steel(sheet: &Sheet, row: &Row) -> Result<Steel, DataFault> {
    let name = row.word("material")?;
    let curve_name = row.word("curve")?;
    let mut heats = Vec::new();
    for r in sheet.rows("heat")?.iter().filter(|r| r.word("material") == Ok(name)) {
        heats.push(Heat {
            medium: medium(r)?,
            low: r.number("low")?,
            high: r.number("high")?,
            sure: mm(r, "sure")?,
            most: mm(r, "most")?,
            bath: r.word("bath")?.to_owned(),
            source: r.source,
        });
    }
    let mut failed = Vec::new();
    for r in sheet.rows("failed")?.iter().filter(|r| r.word("material") == Ok(name)) {
        failed.push(Failed {
            medium: medium(r)?,
            section: r.quantity::<Length>("section")?.in_mm(),
            from: r.number("from")?,
            edge: r.number("edge")?,
            inside: r.number("inside")?,
            depth: r.quantity::<Length>("depth")?.in_mm(),
            source: r.source,
        });
    }
    let (mut curve, mut curve_by) = (Vec::new(), Vec::new());
    for r in sheet.rows("curve")?.iter().filter(|r| r.word("curve") == Ok(curve_name)) {
        curve.push((r.quantity::<Temperature>("at")?.in_celsius(), r.number("hrc")?));
        curve_by.push(r.source);
    }
    Ok(Steel {
        material: name.to_owned(),
        carbon: row.number("carbon")?,
        nose: (row.number("nose_low")?, row.number("nose_high")?),
        hard: (row.number("hard_low")?, row.number("hard_high")?),
        soak: row.number("soak_min_per_mm")?,
        anneal: (row.number("anneal_low")?, row.number("anneal_high")?),
        anneal_how: row.word("anneal")?.to_owned(),
        growth: row.number("growth")?,
        heats,
        failed,
        curve,
        curve_by,
        source: row.source,
    })
}
/// The tables.
#[must_use]
pub fn tables() -> &'static Tables {
    &TABLES
}
/// How a material of the trade hardens.
///
/// # Errors
/// A name that is not known; a material that does not harden by a quench says so, and what does.
pub fn find(name: &str) -> Result<&'static Steel, Trouble> {
    let found = material::find(name)?;
    if let Some(steel) = TABLES.steels.iter().find(|s| s.material == found.name) {
        return Ok(steel);
    }
    let says = match found.hardens {
        Hardens::CaseOnly => "takes no hardness from a quench; only a carburised case of it does",
        Hardens::AlreadyHard => "is sold hard and tempered; heat only softens it",
        Hardens::No => "does not harden by heat",
        _ => "hardens, but no figures for it are known here; its maker's sheet decides",
    };
    let names: Vec<&str> = TABLES.steels.iter().map(|s| s.material.as_str()).collect();
    Err(Trouble::text(format!("{} {says}", found.name))
        .cure(format!("steels that harden: {}", names.join(", "))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_tool_steel_of_the_materials_is_here_and_its_curve_falls() {
        let t = read().unwrap();
        for m in material::all().iter().filter(|m| m.kind == material::Kind::ToolSteel) {
            let s = t.steels.iter().find(|s| s.material == m.name);
            let s = s.unwrap_or_else(|| panic!("{} has no row", m.name));
            assert!(!s.heats.is_empty() && s.curve.len() > 5, "{}", m.name);
            assert!(s.curve.windows(2).all(|w| w[0].0 < w[1].0 && w[0].1 > w[1].1));
            assert!(s.hard.1 >= s.curve[0].1);
        }
        assert!(t.hardness.windows(2).all(|w| w[0].0 < w[1].0 && w[0].1 < w[1].1));
    }
    #[test]
    fn what_does_not_harden_says_so() {
        let says = |n: &str| find(n).unwrap_err().to_string();
        assert!(says("mild steel").contains("case"));
        assert!(says("blue spring steel").contains("sold hard"));
        assert!(says("brass CZ120").contains("does not harden"));
        assert_eq!(find("O1").unwrap().material, "oil-hardening tool steel");
    }
    #[test]
    fn a_thin_piece_goes_in_oil_and_a_thick_one_does_not() {
        let s = find("silver steel").unwrap();
        assert_eq!(s.medium_for(5.0).map(|h| h.medium), Some(Medium::Oil));
        assert_eq!(s.medium_for(8.5).map(|h| h.medium), Some(Medium::Water));
        assert_eq!(find("W1").unwrap().medium_for(40.0), None);
        assert!((find("O1").unwrap().soak_s(25.4) - 30.0 * 60.0).abs() < 2.0);
    }
}
