//! How materials cut, by groups.

use super::{Figure, Material, figure};
use crate::load::{DataFault, Sheet};
use reckon::{Angle, Book, Length, Pressure, Ratio, Speed, Trouble, Val, work};
use std::sync::LazyLock;

/// What a tool's edge is made of.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum ToolMetal {
    /// High-speed steel.
    HighSpeedSteel,
    /// Cemented carbide.
    Carbide,
}
impl ToolMetal {
    /// As printed.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            ToolMetal::HighSpeedSteel => "high-speed steel",
            ToolMetal::Carbide => "carbide",
        }
    }
}

/// How a group of materials cuts: start values for a light machine.
#[derive(Clone, PartialEq, Debug)]
pub struct Cutting {
    /// Name of the group.
    pub name: String,
    /// Specific cutting force kc1.1: at a chip 1 mm wide and 1 mm thick.
    pub force: Figure<Pressure>,
    /// Its exponent mc: kc = kc1.1 · h^-mc, h in millimetres.
    pub exponent: Figure<Ratio>,
    /// Surface speed of turning with high-speed steel.
    pub turning: Figure<Speed>,
    /// Surface speed of drilling with high-speed steel.
    pub drilling: Figure<Speed>,
    /// How many times as fast carbide may run.
    pub carbide: Figure<Ratio>,
    /// Least radial infeed of a threading pass with high-speed steel: less rubs.
    pub pass_least: Figure<Length>,
    /// Most radial infeed of the first threading pass on a light lathe.
    pub pass_most: Figure<Length>,
    /// Specific cutting force at the thin chips of a threading pass.
    pub pass_force: Figure<Pressure>,
    /// Top rake of a hand-ground tool.
    pub rake: Figure<Angle>,
    /// Front clearance of a hand-ground tool.
    pub clearance: Figure<Angle>,
}
impl Cutting {
    /// Surface speed of turning, in the book.
    pub fn turning_speed(&self, book: &mut Book, name: &str, tool: ToolMetal) -> Val<Speed> {
        self.speed(book, name, "turning", &self.turning, tool)
    }
    /// Surface speed of drilling, in the book.
    pub fn drilling_speed(&self, book: &mut Book, name: &str, tool: ToolMetal) -> Val<Speed> {
        self.speed(book, name, "drilling", &self.drilling, tool)
    }
    fn speed(
        &self,
        book: &mut Book,
        name: &str,
        what: &str,
        steel: &Figure<Speed>,
        tool: ToolMetal,
    ) -> Val<Speed> {
        let row = format!("{}: {what} with high-speed steel", self.name);
        match tool {
            ToolMetal::HighSpeedSteel => steel.tabled(book, name, row),
            ToolMetal::Carbide => {
                let steel_speed = steel.tabled(book, format!("{name}.steel"), row);
                let row = format!("{}: carbide against high-speed steel", self.name);
                let times = self.carbide.tabled(book, format!("{name}.times"), row);
                work!(book, name, |steel_speed, times| steel_speed * times, self.carbide.source)
            }
        }
    }
}

static GROUPS: LazyLock<Vec<Cutting>> =
    LazyLock::new(|| read().expect("the embedded table cutting.toml is whole; a test reads it"));

fn read() -> Result<Vec<Cutting>, DataFault> {
    let sheet = Sheet::read("cutting.toml", include_str!("../../data/cutting.toml"))?;
    let rows = sheet.rows("group")?;
    let group = |row: &crate::load::Row| {
        Ok(Cutting {
            name: row.word("name")?.to_owned(),
            force: figure(&sheet, row, "force")?,
            exponent: figure(&sheet, row, "exponent")?,
            turning: figure(&sheet, row, "turning")?,
            drilling: figure(&sheet, row, "drilling")?,
            carbide: figure(&sheet, row, "carbide")?,
            pass_least: figure(&sheet, row, "pass_least")?,
            pass_most: figure(&sheet, row, "pass_most")?,
            pass_force: figure(&sheet, row, "pass_force")?,
            rake: figure(&sheet, row, "rake")?,
            clearance: figure(&sheet, row, "clearance")?,
        })
    };
    rows.iter().map(group).collect()
}
/// All groups, in the order of the table.
#[must_use]
pub fn groups() -> &'static [Cutting] {
    &GROUPS
}
/// How a material cuts.
///
/// # Errors
/// When it is cast or rolled and not cut by this program's tables.
pub fn cutting(material: &Material) -> Result<&'static Cutting, Trouble> {
    let group = material.group.as_deref().and_then(|g| groups().iter().find(|c| c.name == g));
    group.ok_or_else(|| {
        Trouble::unmakeable(format!("no cutting data for {}", material.name))
            .why("it is cast or formed, and no speed or force of cutting is tabled for it")
            .cure("cast or form the part, or choose a material that is turned")
    })
}
