//! The description holds together: every example reads, every default reads, every word is explained.

use super::clock::CLOCK;
use super::shop::SHOP;
use super::{Key, Kind, Need, Section};
use crate::read::page::Text;
use reckon::{Book, Trouble};
use std::collections::BTreeSet;
use std::sync::Arc;

/// All sections under one, each once.
fn sections(top: &'static Section) -> Vec<&'static Section> {
    fn under(s: &'static Section, seen: &mut BTreeSet<*const Section>, all: &mut Vec<&'static Section>) {
        if seen.insert(std::ptr::from_ref(s)) {
            all.push(s);
            for inner in s.keys().filter_map(|k| k.kind.section()) {
                under(inner, seen, all);
            }
        }
    }
    let (mut seen, mut all) = (BTreeSet::new(), Vec::new());
    under(top, &mut seen, &mut all);
    all
}
/// Reads a section alone, with what it requires and one key more.
fn reads(section: &'static Section, key: &Key) -> Vec<Trouble> {
    let required = section.keys().filter(|k| matches!(k.need, Need::Required) && k.name != key.name);
    let mut text: String = required.map(|k| format!("{} = {}\n", k.name, k.example)).collect();
    text += &format!("{} = {}\n", key.name, key.example);
    let text = Text { name: Arc::from("example"), bytes: text.as_bytes() };
    // General limits are read with the whole text; alone, a section takes them from nowhere.
    crate::read::page(&text, section, "alone", &mut Book::new()).troubles
}
#[test]
fn every_example_reads() {
    for section in sections(&CLOCK).into_iter().chain(sections(&SHOP)) {
        for key in section.keys() {
            let told: Vec<String> = reads(section, key).iter().map(ToString::to_string).collect();
            assert_eq!(told, Vec::<String>::new(), "{} = {} in {}", key.name, key.example, section.name);
        }
    }
}
#[test]
fn every_word_has_help_and_no_key_stands_twice() {
    for section in sections(&CLOCK).into_iter().chain(sections(&SHOP)) {
        let mut seen = BTreeSet::new();
        assert!(section.help.ends_with('.'), "{}", section.name);
        for key in section.keys() {
            assert!(seen.insert(key.name), "'{}' stands twice in {}", key.name, section.name);
            assert!(key.help.ends_with('.'), "'{}' of {} has no sentence", key.name, section.name);
            if let Kind::Word(words) = key.kind {
                assert!(words.iter().all(|(w, says)| !w.is_empty() && !says.is_empty()));
            }
        }
    }
}
#[test]
fn every_default_is_a_word_or_value_of_its_key() {
    for section in sections(&CLOCK).into_iter().chain(sections(&SHOP)) {
        for key in section.keys() {
            let Need::Default { text, .. } = key.need else { continue };
            match key.kind {
                Kind::Word(words) => {
                    assert!(words.iter().any(|(w, _)| *w == text), "{} in {}", key.name, section.name);
                }
                Kind::Flag => assert!(matches!(text, "true" | "false")),
                Kind::Count(least, most) => {
                    let n: i64 = text.parse().expect("a count's default is a number");
                    assert!((least..=most).contains(&n));
                }
                Kind::Quantity(of, _) => {
                    assert!(
                        reckon::text::read(text, of.dimension()).is_ok(),
                        "{} in {}",
                        key.name,
                        section.name
                    );
                }
                Kind::Band => assert!(crate::read::limits::band(text).is_some()),
                _ => assert!(!text.is_empty()),
            }
        }
    }
}
#[test]
fn schema_and_reference_know_every_key() {
    let page = crate::reference();
    for (which, top) in [(crate::Which::Clock, &CLOCK), (crate::Which::Shop, &SHOP)] {
        let schema = crate::schema(which);
        for section in sections(top) {
            let object = if section.name == top.name {
                &schema
            } else {
                &schema["$defs"][section.name.replace(' ', "_")]
            };
            let properties = object["properties"].as_object().expect("a section is an object");
            let keys: BTreeSet<&str> = section.keys().map(|k| k.name).collect();
            assert_eq!(
                properties.keys().map(String::as_str).collect::<BTreeSet<_>>(),
                keys,
                "{}",
                section.name
            );
            for key in section.keys() {
                assert!(
                    page.contains(&format!("| `{}` | {}", key.name, key.help)),
                    "{} is not on the page",
                    key.name
                );
                let p = &properties[key.name];
                assert!(p["description"].as_str().is_some_and(|d| d.starts_with(key.help)));
                assert!(p["examples"][0] != serde_json::Value::Null || key.example == "[]", "{}", key.name);
            }
        }
    }
}
