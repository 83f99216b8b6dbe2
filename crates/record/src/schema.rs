//! JSON Schema for editors, from the same description that reads the texts.

use crate::spec::{Kind, Need, Of, Range, Section, clock::CLOCK, shop::SHOP};
use reckon::Dimension;
use serde_json::{Map, Value, json};

/// Which text.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Which {
    /// `clock.toml`.
    Clock,
    /// `shop.toml`.
    Shop,
}

/// The schema of a text (JSON Schema, draft 2020-12).
#[must_use]
pub fn schema(which: Which) -> Value {
    let section = match which {
        Which::Clock => &CLOCK,
        Which::Shop => &SHOP,
    };
    let mut defs = Map::new();
    let mut top = object(section, &mut defs);
    if let Value::Object(map) = &mut top {
        map.insert("$schema".into(), json!("https://json-schema.org/draft/2020-12/schema"));
        map.insert("title".into(), json!(section.name));
        map.insert("$defs".into(), Value::Object(defs));
    }
    top
}
fn object(section: &'static Section, defs: &mut Map<String, Value>) -> Value {
    let mut properties = Map::new();
    let mut required = Vec::new();
    for key in section.keys() {
        let mut one = kind(&key.kind, defs);
        if let Value::Object(map) = &mut one {
            let mut says = key.help.to_owned();
            match key.need {
                Need::Required => required.push(json!(key.name)),
                Need::Default { text, why } => {
                    if !matches!(key.kind, Kind::Fixed(_)) {
                        map.insert("default".into(), default(&key.kind, text));
                    }
                    says = format!("{says} Otherwise {text}: {why}.");
                }
                Need::Follows(from) => says = format!("{says} Otherwise {from}."),
                Need::Optional | Need::Implied => {}
            }
            map.insert("description".into(), json!(says));
            if let Some(example) = example(key.example) {
                map.insert("examples".into(), json!([example]));
            }
        }
        properties.insert(key.name.to_owned(), one);
    }
    let mut out = json!({
        "type": "object",
        "description": section.help,
        "properties": properties,
        "additionalProperties": false,
    });
    if let (Value::Object(map), false) = (&mut out, required.is_empty()) {
        map.insert("required".into(), Value::Array(required));
    }
    out
}
/// A section by reference, written once under `$defs`.
fn refer(section: &'static Section, defs: &mut Map<String, Value>) -> Value {
    let name = section.name.replace(' ', "_");
    if !defs.contains_key(&name) {
        defs.insert(name.clone(), Value::Null);
        let whole = object(section, defs);
        defs.insert(name.clone(), whole);
    }
    json!({ "$ref": format!("#/$defs/{name}") })
}
fn kind(k: &Kind, defs: &mut Map<String, Value>) -> Value {
    match k {
        Kind::Quantity(Of::Ratio, range) => {
            let mut number = json!({ "type": "number" });
            if let (Value::Object(map), Range::Positive) = (&mut number, range) {
                map.insert("exclusiveMinimum".into(), json!(0));
            }
            json!({ "anyOf": [number, { "type": "string", "pattern": pattern(Dimension::Ratio, "") }] })
        }
        Kind::Quantity(of, _) => json!({ "type": "string", "pattern": pattern(of.dimension(), "") }),
        Kind::Size(_) => {
            json!({ "type": "string", "pattern": pattern(Dimension::Length, "|±|[A-Za-z]{1,2}[0-9]{1,2}") })
        }
        Kind::Tool => json!({ "type": "string", "pattern": pattern(Dimension::Length, "|#|[A-Z]") }),
        Kind::Band => json!({ "type": "string", "pattern": pattern(Dimension::Length, "|±") }),
        Kind::Count(least, most) => json!({ "type": "integer", "minimum": least, "maximum": most }),
        Kind::Word(words) => {
            let each: Vec<Value> =
                words.iter().map(|(w, says)| json!({ "const": w, "description": says })).collect();
            json!({ "type": "string", "oneOf": each })
        }
        Kind::Text | Kind::Thread | Kind::Material => json!({ "type": "string", "minLength": 1 }),
        Kind::Flag => json!({ "type": "boolean" }),
        Kind::List(of) => {
            let list = json!({ "type": "array", "items": kind(of, defs) });
            match of {
                Kind::Quantity(..) | Kind::Tool => {
                    let dimension = crate::read::walk::kind_of(of).dimension();
                    let units: Map<String, Value> = dimension
                        .units()
                        .into_iter()
                        .map(|u| (u.to_owned(), json!({ "type": "array", "items": { "type": "number" } })))
                        .collect();
                    json!({ "anyOf": [list, { "type": "object", "properties": units, "additionalProperties": false }] })
                }
                _ => list,
            }
        }
        Kind::Fixed(parts) => {
            let each: Vec<Value> = parts
                .iter()
                .map(|(n, k)| {
                    let mut one = kind(k, defs);
                    if let Value::Object(map) = &mut one {
                        map.insert("description".into(), json!(n));
                    }
                    one
                })
                .collect();
            json!({ "type": "array", "prefixItems": each, "items": false, "minItems": parts.len() })
        }
        Kind::Table(s) => refer(s, defs),
        Kind::TableOrNone(s) => json!({ "anyOf": [refer(s, defs), { "const": "none" }] }),
        Kind::Tables(s) | Kind::Parts(s) | Kind::Machines(s) => {
            let one = refer(s, defs);
            json!({ "anyOf": [{ "type": "array", "items": one.clone() }, one] })
        }
    }
}
/// What a quantity's text is made of: numbers, signs, units, names of other sizes. It refuses a bare number.
fn pattern(dimension: Dimension, more: &str) -> String {
    let mut units = dimension.units();
    match dimension {
        Dimension::Length => units.extend(["inch", "inches", "\"", "″", "µm"]),
        Dimension::Angle => units.extend(["°", "'", "′", "\"", "″"]),
        Dimension::Temperature | Dimension::TemperatureDifference => units.extend(["°C", "°F"]),
        Dimension::Speed => units.extend(["m/s", "mm/s"]),
        _ => {}
    }
    units.sort_by_key(|u| std::cmp::Reverse(u.len()));
    units.dedup();
    let units: Vec<String> = units.into_iter().map(|u| u.replace('/', "\\/")).collect();
    let wordy = if dimension == Dimension::Ratio { "" } else { "(?=.*[A-Za-z°\"″'′#µ])" };
    format!("^{wordy}(?:[-−+*×\\/().0-9 ]|{}|[a-z_][a-z_0-9]*(?:\\.[a-z_0-9]+)*{more})+$", units.join("|"))
}
fn default(k: &Kind, text: &str) -> Value {
    match k {
        Kind::Count(..) => text.parse::<i64>().map_or(Value::Null, |n| json!(n)),
        Kind::Flag => json!(text == "true"),
        Kind::Quantity(Of::Ratio, _) => text.parse::<f64>().map_or_else(|_| json!(text), |n| json!(n)),
        _ => json!(text),
    }
}
/// An example of the text as JSON.
fn example(text: &str) -> Option<Value> {
    let table: toml::Table = format!("x = {text}").parse().ok()?;
    serde_json::to_value(table.get("x")?).ok()
}
