//! Tables whose values have been had, and the getters that facts are built with.

use crate::facts::Size;
use crate::spec::{Key, Section};
use reckon::{
    Angle, AngularSpeed, Count, Density, Diameter, Force, Length, Mass, Place, Power, Pressure, Ratio, Speed,
    Temperature, TemperatureDifference, Time, Torque, Val,
};
use std::sync::Arc;
use tables::material::Material;
use tables::thread::Thread;

/// A value that has been had.
#[derive(Clone, Debug)]
pub(crate) enum Value {
    Length(Val<Length>),
    Diameter(Val<Diameter>),
    Angle(Val<Angle>),
    Turning(Val<AngularSpeed>),
    Speed(Val<Speed>),
    Force(Val<Force>),
    Power(Val<Power>),
    Temperature(Val<Temperature>),
    Difference(Val<TemperatureDifference>),
    Ratio(Val<Ratio>),
    Time(Val<Time>),
    Mass(Val<Mass>),
    Torque(Val<Torque>),
    Pressure(Val<Pressure>),
    Density(Val<Density>),
    LengthSize(Size<Length>),
    DiameterSize(Size<Diameter>),
    /// A tool's size and how it is called.
    Tool(Val<Diameter>, String),
    Band(Val<Length>, Val<Length>),
    Count(Val<Count>),
    Word(&'static str),
    Text(String),
    Flag(bool),
    Thread(Arc<Thread>),
    /// A material and its name as written.
    Material(&'static Material, String),
    List(Vec<Got>),
    Table(Node),
    /// The word `none`.
    None,
    /// It stands there, and its trouble is told.
    Bad,
}
/// A value and where it stands: its key's place in a table, its own in a list.
#[derive(Clone, Debug)]
pub(crate) struct Got {
    pub(crate) key: &'static str,
    pub(crate) at: Place,
    pub(crate) value: Value,
    /// Whether the maker wrote it.
    pub(crate) written: bool,
}
/// A table whose values have been had.
#[derive(Clone, Debug)]
pub(crate) struct Node {
    pub(crate) section: &'static Section,
    pub(crate) at: Place,
    pub(crate) prefix: String,
    /// As it is called in a message.
    pub(crate) subject: String,
    pub(crate) values: Vec<Got>,
}
macro_rules! getters { ($($name:ident $variant:ident $t:ty;)+) => { $(
    pub(crate) fn $name(&self, key: &str) -> Option<$t> {
        match self.value(key)? {
            Value::$variant(v) => Some(v.clone()),
            _ => None,
        }
    }
)+ } }
impl Node {
    pub(crate) fn got(&self, key: &str) -> Option<&Got> {
        debug_assert!(self.section.key(key).is_some(), "no key {key} in {}", self.section.name);
        self.values.iter().find(|g| g.key == key)
    }
    fn value(&self, key: &str) -> Option<&Value> {
        Some(&self.got(key)?.value)
    }
    /// Whether something stands there, sound or not.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.got(key).is_some()
    }
    /// Whether the maker wrote it and it is sound.
    pub(crate) fn wrote(&self, key: &str) -> bool {
        self.got(key).is_some_and(|g| g.written && !matches!(g.value, Value::Bad))
    }
    /// Where a key is written; the table's head where it is not.
    pub(crate) fn place(&self, key: &str) -> Place {
        self.got(key).map_or_else(|| self.at.clone(), |g| g.at.clone())
    }
    /// The dotted name of a key.
    pub(crate) fn name(&self, key: &str) -> String {
        format!("{}.{key}", self.prefix)
    }
    /// Whether a key holds the word `none`.
    pub(crate) fn is_none(&self, key: &str) -> bool {
        matches!(self.value(key), Some(Value::None))
    }
    getters! {
        length Length Val<Length>;
        diameter Diameter Val<Diameter>;
        angle Angle Val<Angle>;
        turning Turning Val<AngularSpeed>;
        speed Speed Val<Speed>;
        force Force Val<Force>;
        power Power Val<Power>;
        temperature Temperature Val<Temperature>;
        difference Difference Val<TemperatureDifference>;
        ratio Ratio Val<Ratio>;
        time Time Val<Time>;
        mass Mass Val<Mass>;
        torque Torque Val<Torque>;
        pressure Pressure Val<Pressure>;
        density Density Val<Density>;
        length_size LengthSize Size<Length>;
        diameter_size DiameterSize Size<Diameter>;
        count Count Val<Count>;
        word Word &'static str;
        text Text String;
        flag Flag bool;
        thread Thread Arc<Thread>;
    }
    pub(crate) fn material(&self, key: &str) -> Option<(&'static Material, String)> {
        match self.value(key)? {
            Value::Material(m, name) => Some((m, name.clone())),
            _ => None,
        }
    }
    pub(crate) fn tool(&self, key: &str) -> Option<(Val<Diameter>, String)> {
        match self.value(key)? {
            Value::Tool(d, name) => Some((*d, name.clone())),
            _ => None,
        }
    }
    pub(crate) fn table(&self, key: &str) -> Option<&Node> {
        match self.value(key)? {
            Value::Table(n) => Some(n),
            _ => None,
        }
    }
    /// What stands in a list; nothing where it is not written.
    pub(crate) fn list(&self, key: &str) -> &[Got] {
        match self.value(key) {
            Some(Value::List(all)) => all,
            _ => &[],
        }
    }
    /// The tables of a list.
    pub(crate) fn tables(&self, key: &str) -> impl Iterator<Item = &Node> {
        self.list(key).iter().filter_map(|g| match &g.value {
            Value::Table(n) => Some(n),
            _ => None,
        })
    }
    /// The sound values of a list, by a picker.
    pub(crate) fn all<T>(&self, key: &str, pick: impl Fn(&Value) -> Option<T>) -> Vec<T> {
        self.list(key).iter().filter_map(|g| pick(&g.value)).collect()
    }
    /// Two of a kind, as least and greatest or x and y.
    pub(crate) fn pair<T>(&self, key: &str, pick: impl Fn(&Value) -> Option<T>) -> Option<(T, T)> {
        pair(self.list(key), pick)
    }
}
/// Two of a kind.
pub(crate) fn pair<T>(all: &[Got], pick: impl Fn(&Value) -> Option<T>) -> Option<(T, T)> {
    match all {
        [a, b] => Some((pick(&a.value)?, pick(&b.value)?)),
        _ => None,
    }
}
macro_rules! picks { ($($name:ident $variant:ident $t:ty;)+) => { $(
    pub(crate) fn $name(v: &Value) -> Option<$t> {
        match v {
            Value::$variant(v) => Some(v.clone()),
            _ => None,
        }
    }
)+ } }
picks! {
    a_length Length Val<Length>;
    a_diameter Diameter Val<Diameter>;
    an_angle Angle Val<Angle>;
    a_turning Turning Val<AngularSpeed>;
    a_count Count Val<Count>;
    a_ratio Ratio Val<Ratio>;
    a_torque Torque Val<Torque>;
    a_text Text String;
    a_thread Thread Arc<Thread>;
}
pub(crate) fn a_tool(v: &Value) -> Option<Val<Diameter>> {
    match v {
        Value::Tool(d, _) => Some(*d),
        _ => None,
    }
}
impl Got {
    pub(crate) fn of(key: &'static Key, at: Place, value: Value, written: bool) -> Got {
        Got { key: key.name, at, value, written }
    }
}
