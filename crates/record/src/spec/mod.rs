//! What may be written: one description that reading, suggestions, defaults, the JSON Schema
//! and the reference page all follow.

pub mod clock;
mod control;
mod finish;
mod going;
mod movement;
pub mod shop;

use reckon::Dimension;

/// A table of the text: its keys in the order in which they enter the book.
#[derive(Debug)]
pub struct Section {
    /// What it is called in a message, such as `screw` or `head`.
    pub name: &'static str,
    /// One line for the reference page and the schema.
    pub help: &'static str,
    /// Its keys, in groups that several sections share.
    pub groups: &'static [&'static [Key]],
}
impl Section {
    /// All keys.
    pub fn keys(&self) -> impl Iterator<Item = &'static Key> {
        self.groups.iter().flat_map(|g| g.iter())
    }
    /// The key of a name.
    #[must_use]
    pub fn key(&self, name: &str) -> Option<&'static Key> {
        self.keys().find(|k| k.name == name)
    }
}

/// One key.
#[derive(Debug)]
pub struct Key {
    /// As written.
    pub name: &'static str,
    /// What stands after it.
    pub kind: Kind,
    /// Whether it must stand there, and what is taken where it does not.
    pub need: Need,
    /// One line of help.
    pub help: &'static str,
    /// An example of what stands after `=`.
    pub example: &'static str,
}
/// Whether a key must be written.
#[derive(Copy, Clone, Debug)]
pub enum Need {
    /// It must.
    Required,
    /// It may; nothing is taken in its place.
    Optional,
    /// It may; a table that is not written is read as an empty one.
    Implied,
    /// It may; this text is taken in its place and listed as assumed, with the reason.
    Default {
        /// As it would be written, without quotes.
        text: &'static str,
        /// Why this.
        why: &'static str,
    },
    /// It may; what is taken in its place follows from other values, as the text says.
    Follows(&'static str),
}

/// What kind of quantity a key takes.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Of {
    /// A length.
    Length,
    /// A diameter.
    Diameter,
    /// An angle.
    Angle,
    /// A speed of turning.
    Turning,
    /// A speed.
    Speed,
    /// A force.
    Force,
    /// A power.
    Power,
    /// A temperature.
    Temperature,
    /// A difference of temperature.
    Difference,
    /// A plain number or a percentage.
    Ratio,
    /// A time.
    Time,
    /// A mass.
    Mass,
    /// A torque.
    Torque,
    /// A stress or modulus.
    Pressure,
    /// A density.
    Density,
}
impl Of {
    /// Its dimension.
    #[must_use]
    pub const fn dimension(self) -> Dimension {
        match self {
            Of::Length | Of::Diameter => Dimension::Length,
            Of::Angle => Dimension::Angle,
            Of::Turning => Dimension::AngularSpeed,
            Of::Speed => Dimension::Speed,
            Of::Force => Dimension::Force,
            Of::Power => Dimension::Power,
            Of::Temperature => Dimension::Temperature,
            Of::Difference => Dimension::TemperatureDifference,
            Of::Ratio => Dimension::Ratio,
            Of::Time => Dimension::Time,
            Of::Mass => Dimension::Mass,
            Of::Torque => Dimension::Torque,
            Of::Pressure => Dimension::Pressure,
            Of::Density => Dimension::Density,
        }
    }
    /// The unit to propose first.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Of::Length | Of::Diameter => "mm",
            Of::Angle => "deg",
            Of::Turning => "rpm",
            Of::Speed => "mm/min",
            Of::Force => "N",
            Of::Power => "W",
            Of::Temperature => "degC",
            Of::Difference => "K",
            Of::Ratio => "",
            Of::Time => "h",
            Of::Mass => "kg",
            Of::Torque => "N mm",
            Of::Pressure => "N/mm2",
            Of::Density => "g/cm3",
        }
    }
    /// "a length", for a message.
    #[must_use]
    pub const fn noun(self) -> &'static str {
        match self {
            Of::Diameter => "a diameter",
            other => other.dimension().noun(),
        }
    }
}
/// What values make sense.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Range {
    /// More than nothing.
    Positive,
    /// Nothing or more.
    NotNegative,
    /// Either sign.
    Any,
    /// Either sign, and as large as a country: heights above the sea.
    Far,
    /// As a room has it that people and clocks stand: from −40 to 60 °C, and differences from none to 40 K.
    Room,
}
/// Which of the house's general limits a size takes where it has none of its own.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum General {
    /// Lengths and thicknesses.
    Length,
    /// Outside diameters.
    Diameter,
    /// Holes.
    Hole,
}
impl General {
    /// Its key in `[limits]`.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            General::Length => "length",
            General::Diameter => "diameter",
            General::Hole => "hole",
        }
    }
    /// What it is a size of.
    #[must_use]
    pub const fn of(self) -> Of {
        match self {
            General::Length => Of::Length,
            _ => Of::Diameter,
        }
    }
}

/// A word that may be chosen, and what it means.
pub type Word = (&'static str, &'static str);

/// What stands after a key.
#[derive(Copy, Clone, Debug)]
pub enum Kind {
    /// A quantity with its unit.
    Quantity(Of, Range),
    /// A size that may carry limits or a fit.
    Size(General),
    /// A drill or other tool by its size, which may be a name of the trade such as `#43`.
    Tool,
    /// Deviations alone, such as `±0.1 mm`.
    Band,
    /// A whole number from the first to the second.
    Count(i64, i64),
    /// One of these words.
    Word(&'static [Word]),
    /// Free text.
    Text,
    /// `true` or `false`.
    Flag,
    /// A thread by its designation.
    Thread,
    /// A material by its name.
    Material,
    /// Any number of the same kind.
    List(&'static Kind),
    /// A fixed number of values, each with what it is called.
    Fixed(&'static [(&'static str, Kind)]),
    /// A table.
    Table(&'static Section),
    /// A table, or the word `none`.
    TableOrNone(&'static Section),
    /// Any number of tables, known by their number.
    Tables(&'static Section),
    /// Any number of tables, known by their `name`; in the order of their names.
    Parts(&'static Section),
    /// Any number of tables, known by their `name`; in the order written, the preferred one first.
    Machines(&'static Section),
}
impl Kind {
    /// What it is, for the reference page and for messages.
    #[must_use]
    pub fn noun(&self) -> String {
        match self {
            Kind::Quantity(of, _) => of.noun().to_owned(),
            Kind::Size(g) => format!("{} (limits or a fit may follow)", g.of().noun()),
            Kind::Tool => "a diameter, or a drill's number or letter".to_owned(),
            Kind::Band => "limits, such as ±0.1 mm".to_owned(),
            Kind::Count(..) => "a whole number".to_owned(),
            Kind::Word(words) => {
                let all: Vec<String> = words.iter().map(|(w, _)| format!("\"{w}\"")).collect();
                all.join(" or ")
            }
            Kind::Text => "text".to_owned(),
            Kind::Flag => "true or false".to_owned(),
            Kind::Thread => "a thread".to_owned(),
            Kind::Material => "a material".to_owned(),
            Kind::List(of) => format!("a list, each {}", of.noun()),
            Kind::Fixed(all) => {
                let names: Vec<&str> = all.iter().map(|(n, _)| *n).collect();
                format!("a list of {}: {}", all.len(), names.join(", "))
            }
            Kind::Table(s) => format!("a table ({})", s.name),
            Kind::TableOrNone(s) => format!("a table ({}), or \"none\"", s.name),
            Kind::Tables(s) | Kind::Parts(s) | Kind::Machines(s) => format!("tables ({})", s.name),
        }
    }
    /// The section of a table or of tables.
    #[must_use]
    pub const fn section(&self) -> Option<&'static Section> {
        match self {
            Kind::Table(s) | Kind::TableOrNone(s) | Kind::Tables(s) | Kind::Parts(s) | Kind::Machines(s) => {
                Some(s)
            }
            _ => None,
        }
    }
    /// Whether it is many tables, each with a head of its own.
    #[must_use]
    pub const fn many(&self) -> bool {
        matches!(self, Kind::Tables(_) | Kind::Parts(_) | Kind::Machines(_))
    }
}

const fn must(name: &'static str, kind: Kind, help: &'static str, example: &'static str) -> Key {
    Key { name, kind, need: Need::Required, help, example }
}
const fn may(name: &'static str, kind: Kind, help: &'static str, example: &'static str) -> Key {
    Key { name, kind, need: Need::Optional, help, example }
}
const fn table(name: &'static str, kind: Kind, help: &'static str, example: &'static str) -> Key {
    Key { name, kind, need: Need::Implied, help, example }
}
const fn or(
    name: &'static str,
    kind: Kind,
    default: (&'static str, &'static str),
    help: &'static str,
    example: &'static str,
) -> Key {
    Key { name, kind, need: Need::Default { text: default.0, why: default.1 }, help, example }
}
const fn follows(
    name: &'static str,
    kind: Kind,
    from: &'static str,
    help: &'static str,
    example: &'static str,
) -> Key {
    Key { name, kind, need: Need::Follows(from), help, example }
}
const fn quantity(of: Of) -> Kind {
    Kind::Quantity(of, Range::Positive)
}
const LENGTH: Kind = quantity(Of::Length);
const DIAMETER: Kind = quantity(Of::Diameter);
const AT: Kind = Kind::Fixed(&[
    ("x", Kind::Quantity(Of::Length, Range::Any)),
    ("y", Kind::Quantity(Of::Length, Range::Any)),
]);
/// The version of the text's format that this program reads.
pub const FORMAT: i64 = 1;
const FORMAT_KEY: Key = or(
    "format",
    Kind::Count(1, 1_000_000),
    ("1", "a text without a version is read as the first"),
    "Version of the text's format.",
    "1",
);
const PRINT: &[Word] = &[
    ("mm", "millimetres"),
    ("inch", "decimal inches"),
    ("thou", "thousandths of an inch"),
    ("fraction", "the nearest 1/64 in, with what it is off by"),
];

#[cfg(test)]
mod tests;
