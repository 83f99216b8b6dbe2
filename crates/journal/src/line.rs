//! An entry as one line of JSON, out and in.

use crate::entry::{Entry, Learnt, Pace, Rating, Reading, State, Step, Wanted, What};
use serde_json::{Map, Value, json};

/// An entry as a line, without its end.
#[must_use]
pub fn line(e: &Entry) -> String {
    let mut all = Map::new();
    all.insert("number".into(), e.number.into());
    all.insert("key".into(), e.key.clone().into());
    all.insert("at".into(), e.at.clone().into());
    all.insert("kind".into(), e.what.word().into());
    all.insert("body".into(), body(&e.what));
    Value::Object(all).to_string()
}
/// An entry out of a line.
///
/// # Errors
/// What is wrong with it.
pub fn entry(line: &str) -> Result<Entry, String> {
    let v: Value = serde_json::from_str(line).map_err(|e| format!("not a line of JSON: {e}"))?;
    let r = Read(&v);
    Ok(Entry {
        number: r.whole("number")?,
        key: r.text("key")?,
        at: r.text("at")?,
        what: what(&r.text("kind")?, v.get("body").unwrap_or(&Value::Null))?,
    })
}
/// What happened, as it is kept.
#[must_use]
pub fn body(what: &What) -> Value {
    let mut v = match what {
        What::Measured(r) => json!({
            "name": r.name, "piece": r.piece, "value": r.value, "unit": r.unit, "written": r.written,
            "tool": r.tool, "give_or_take": r.give_or_take, "temperature": r.temperature, "sheet": r.sheet,
            "wanted": r.wanted.map(|w| json!({ "nominal": w.nominal, "least": w.least, "most": w.most })),
            "rough": r.rough, "version": r.version,
        }),
        What::Done(s) => json!({
            "part": s.part, "step": s.step, "piece": s.piece, "count": s.count, "took": s.took,
        }),
        What::Stood { part, pieces, state, why, sizes } => json!({
            "part": part, "pieces": pieces, "state": state.word(), "why": why,
            "sizes": sizes.iter().map(|(n, x)| json!([n, x])).collect::<Vec<_>>(),
        }),
        What::Struck { entry, why } => json!({ "entry": entry, "why": why }),
        What::Remark { about, text, picture } => json!({ "about": about, "text": text, "picture": picture }),
        What::Concession { name, piece, why } => json!({ "name": name, "piece": piece, "why": why }),
        What::Rated(r) => json!({
            "at": r.at, "offset": r.heard.is_none().then_some(r.offset),
            "rate": r.heard.map(|h| h.rate), "rate_within": r.heard.map(|h| h.within), "give_or_take": r.give_or_take, "temperature": r.temperature,
            "pressure": r.pressure, "arc": r.arc, "nut": r.nut, "tray": r.tray, "set": r.set, "by": r.by,
        }),
        What::Learnt(l) => json!({
            "subject": l.subject, "of": l.of, "value": l.value, "unit": l.unit, "written": l.written,
            "note": l.note,
        }),
    };
    if let Some(all) = v.as_object_mut() {
        all.retain(|_, x| !x.is_null());
    }
    v
}
/// What happened, out of its kind and body.
///
/// # Errors
/// What is wrong with it.
pub fn what(kind: &str, body: &Value) -> Result<What, String> {
    let r = Read(body);
    Ok(match kind {
        "measured" => What::Measured(Reading {
            name: r.text("name")?,
            piece: r.piece("piece")?,
            value: r.number("value")?,
            unit: r.text("unit")?,
            written: r.text("written")?,
            tool: r.may("tool", Read::text)?,
            give_or_take: r.may("give_or_take", Read::number)?,
            temperature: r.may("temperature", Read::number)?,
            sheet: r.may("sheet", Read::text)?,
            wanted: match body.get("wanted") {
                None => None,
                Some(w) => {
                    let w = Read(w);
                    let (nominal, least, most) =
                        (w.number("nominal")?, w.number("least")?, w.number("most")?);
                    Some(Wanted { nominal, least, most })
                }
            },
            rough: r.flag("rough"),
            version: r.text("version").unwrap_or_default(),
        }),
        "done" => What::Done(Step {
            part: r.text("part")?,
            step: r.text("step")?,
            piece: r.piece("piece")?,
            count: r.piece("count")?,
            took: r.may("took", Read::number)?,
        }),
        "stood" => {
            let word = r.text("state")?;
            What::Stood {
                part: r.text("part")?,
                pieces: r.list("pieces", |v| {
                    v.as_u64().and_then(|n| u32::try_from(n).ok()).ok_or("a piece is not a number")
                })?,
                state: State::of(&word).ok_or_else(|| format!("'{word}' is no state of a part"))?,
                why: r.text("why").unwrap_or_default(),
                sizes: r.list("sizes", |v| {
                    let pair = (v.get(0).and_then(Value::as_str), v.get(1).and_then(Value::as_f64));
                    match pair {
                        (Some(n), Some(x)) => Ok((n.to_owned(), x)),
                        _ => Err("a size is not a name and a number"),
                    }
                })?,
            }
        }
        "struck" => What::Struck { entry: r.whole("entry")?, why: r.text("why")? },
        "remark" => What::Remark {
            about: r.text("about")?,
            text: r.text("text")?,
            picture: r.may("picture", Read::text)?,
        },
        "concession" => {
            What::Concession { name: r.text("name")?, piece: r.piece("piece")?, why: r.text("why")? }
        }
        "rated" => What::Rated(Rating {
            at: r.number("at")?,
            offset: if body.get("rate").is_some() { 0.0 } else { r.number("offset")? },
            heard: match body.get("rate") {
                None => None,
                Some(_) => Some(Pace { rate: r.number("rate")?, within: r.number("rate_within")? }),
            },
            give_or_take: r.may("give_or_take", Read::number)?,
            temperature: r.may("temperature", Read::number)?,
            pressure: r.may("pressure", Read::number)?,
            arc: r.may("arc", Read::number)?,
            nut: r.may("nut", Read::number)?,
            tray: r.may("tray", Read::number)?,
            set: r.flag("set"),
            by: r.text("by").unwrap_or_default(),
        }),
        "learnt" => What::Learnt(Learnt {
            subject: r.text("subject")?,
            of: r.text("of")?,
            value: r.number("value")?,
            unit: r.text("unit")?,
            written: r.text("written")?,
            note: r.text("note").unwrap_or_default(),
        }),
        other => return Err(format!("'{other}' is no kind of entry")),
    })
}
/// An object being read.
struct Read<'a>(&'a Value);
impl Read<'_> {
    fn text(&self, key: &str) -> Result<String, String> {
        self.0
            .get(key)
            .and_then(Value::as_str)
            .map(str::to_owned)
            .ok_or_else(|| format!("'{key}' is no text"))
    }
    fn number(&self, key: &str) -> Result<f64, String> {
        let n = self.0.get(key).and_then(Value::as_f64).filter(|x| x.is_finite());
        n.ok_or_else(|| format!("'{key}' is no number"))
    }
    fn whole(&self, key: &str) -> Result<u64, String> {
        self.0.get(key).and_then(Value::as_u64).ok_or_else(|| format!("'{key}' is no whole number"))
    }
    fn piece(&self, key: &str) -> Result<Option<u32>, String> {
        let small = |n| u32::try_from(n).map_err(|_| format!("'{key}' is too large"));
        self.may(key, |r, k| r.whole(k).and_then(small))
    }
    fn flag(&self, key: &str) -> bool {
        self.0.get(key).and_then(Value::as_bool).unwrap_or(false)
    }
    fn may<T>(&self, key: &str, of: impl Fn(&Self, &str) -> Result<T, String>) -> Result<Option<T>, String> {
        match self.0.get(key) {
            None | Some(Value::Null) => Ok(None),
            Some(_) => of(self, key).map(Some),
        }
    }
    fn list<T>(&self, key: &str, of: impl Fn(&Value) -> Result<T, &'static str>) -> Result<Vec<T>, String> {
        let empty = Vec::new();
        let all = match self.0.get(key) {
            None => &empty,
            Some(v) => v.as_array().ok_or_else(|| format!("'{key}' is no list"))?,
        };
        all.iter().map(|v| of(v).map_err(str::to_owned)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn some() -> impl Strategy<Value = What> {
        let name = "[a-z]{1,6}(\\.[a-z_]{1,8}){0,3}";
        let text = "[ -~éµ⌀\"\\\\]{0,20}";
        let maybe = || prop::option::of(-1.0e3_f64..1.0e3);
        prop_oneof![
            (
                name,
                prop::option::of(1_u32..99),
                -1.0_f64..1.0,
                text,
                prop::option::of(text),
                maybe(),
                any::<bool>()
            )
                .prop_map(|(name, piece, value, written, tool, give_or_take, rough)| {
                    let wanted =
                        give_or_take.map(|g| Wanted { nominal: value, least: value - g, most: value + g });
                    let unit = "m".to_owned();
                    What::Measured(Reading {
                        name,
                        piece,
                        value,
                        unit,
                        written,
                        tool,
                        give_or_take,
                        wanted,
                        rough,
                        ..Reading::default()
                    })
                }),
            (name, "[1-9]\\.[1-9]", prop::option::of(1_u32..9), prop::option::of(0_u32..99), maybe())
                .prop_map(|(part, step, piece, count, took)| What::Done(Step {
                    part,
                    step,
                    piece,
                    count,
                    took
                })),
            (
                name,
                prop::collection::vec(1_u32..50, 0..4),
                0_usize..4,
                text,
                prop::collection::vec((name, -1.0_f64..1.0), 0..3)
            )
                .prop_map(|(part, pieces, s, why, sizes)| What::Stood {
                    part,
                    pieces,
                    state: State::ALL[s],
                    why,
                    sizes
                }),
            (1_u64..9999, text).prop_map(|(entry, why)| What::Struck { entry, why }),
            (name, text, prop::option::of(text)).prop_map(|(about, text, picture)| What::Remark {
                about,
                text,
                picture
            }),
            (name, text).prop_map(|(name, why)| What::Concession { name, piece: None, why }),
            (0.0_f64..2.0e9, maybe(), maybe(), any::<bool>()).prop_map(|(at, arc, nut, set)| What::Rated(
                Rating { at, offset: 0.5, arc, nut, set, ..Rating::default() }
            )),
            (0.0_f64..2.0e9, -90.0_f64..90.0, 0.0_f64..9.0).prop_map(|(at, rate, within)| What::Rated(
                Rating { at, heard: Some(Pace { rate, within }), ..Rating::default() }
            )),
            (text, -1.0_f64..1.0).prop_map(|(of, value)| What::Learnt(Learnt {
                subject: "drill".into(),
                of,
                value,
                ..Learnt::default()
            })),
        ]
    }
    proptest! {
        #[test]
        fn a_line_comes_back_as_it_was(what in some(), number in 1_u64..u64::from(u32::MAX)) {
            let e = Entry { number, key: "k1".into(), at: "2026-03-01T18:30:00Z".into(), what };
            let text = line(&e);
            prop_assert!(!text.contains('\n'));
            prop_assert_eq!(entry(&text), Ok(e));
        }
        #[test]
        fn whatever_is_no_entry_is_told(text in "\\PC{0,60}") {
            let _ = entry(&text);
        }
    }
    #[test]
    fn what_is_wrong_is_named() {
        assert!(entry("{").unwrap_err().contains("JSON"));
        let bad = r#"{"number":1,"key":"k","at":"x","kind":"measured","body":{"name":"a","value":"3"}}"#;
        assert_eq!(entry(bad).unwrap_err(), "'value' is no number");
        let bad = r#"{"number":1,"key":"k","at":"x","kind":"weighed","body":{}}"#;
        assert_eq!(entry(bad).unwrap_err(), "'weighed' is no kind of entry");
    }
}
