//! Which material a maker's words mean.

use super::{Material, all};
use reckon::Trouble;
use reckon::trouble::nearest;
use std::collections::BTreeSet;

/// Words for form and state, which do not choose a material.
const FORMS: [&str; 22] = [
    "bar", "rod", "round", "sheet", "plate", "strip", "wire", "tube", "stock", "flat", "hex", "square",
    "hexagon", "drawn", "bright", "annealed", "soft", "half", "hard", "ground", "extruded", "alloy",
];

/// Lower case, words parted by one space; a point stays inside a number such as 1.2210.
fn words(text: &str) -> Vec<String> {
    let spaced: String =
        text.to_lowercase().chars().map(|c| if c.is_alphanumeric() || c == '.' { c } else { ' ' }).collect();
    spaced.split_whitespace().map(|w| w.trim_matches('.').to_owned()).filter(|w| !w.is_empty()).collect()
}
fn names(m: &Material) -> impl Iterator<Item = &str> {
    std::iter::once(m.name.as_str()).chain(m.also.iter().map(String::as_str))
}
fn is_grade(word: &str) -> bool {
    word.len() > 1 && word.bytes().any(|b| b.is_ascii_digit())
}

/// Looks up a material by a name of the trade, a standard's grade, or both: `brass CZ120`, `brass bar`,
/// `CZ121/CuZn39Pb3`, `water-hardening tool steel (W1)`.
///
/// # Errors
/// When no material or more than one is meant; near names are given.
pub fn find(written: &str) -> Result<&'static Material, Trouble> {
    let said = words(written);
    if said.is_empty() {
        return Err(
            Trouble::text("a material is missing here").cure("for example brass CZ120 or silver steel")
        );
    }
    if let Some(m) = all().iter().find(|m| names(m).any(|n| words(n) == said)) {
        return Ok(m);
    }
    let bare: Vec<String> = said.iter().filter(|w| !FORMS.contains(&w.as_str())).cloned().collect();
    if let Some(m) = all().iter().find(|m| names(m).any(|n| words(n) == bare)) {
        return Ok(m);
    }
    let grades: Vec<&String> = bare.iter().filter(|w| is_grade(w)).collect();
    let by_grade: Vec<(&String, Option<&Material>)> = grades
        .iter()
        .map(|g| (*g, all().iter().find(|m| names(m).any(|n| words(n).last() == Some(*g)))))
        .collect();
    let meant: BTreeSet<&str> = by_grade.iter().filter_map(|(_, m)| m.map(|m| m.name.as_str())).collect();
    let only = meant.iter().next().and_then(|name| all().iter().find(|m| m.name == *name));
    match (meant.len(), only) {
        (1, Some(m)) => return Ok(m),
        (0, _) => {}
        _ => {
            let list: Vec<&str> = meant.into_iter().collect();
            return Err(Trouble::text(format!("'{written}' names {} materials", list.len()))
                .cure(format!("choose one: {}", list.join(", "))));
        }
    }
    // A grade that is not known must not fall back on the family: CZ999 is not "brass".
    if grades.is_empty()
        && let Some(m) = by_words(&bare)
    {
        return Ok(m);
    }
    Err(unknown(written, &said))
}
/// The longest name of two words or more that stands whole among the words said.
fn by_words(said: &[String]) -> Option<&'static Material> {
    let mut best: Option<(usize, &Material)> = None;
    for m in all() {
        for name in names(m) {
            let name = words(name);
            let fits = name.len() > 1 && name.iter().all(|w| said.contains(w));
            if fits && best.is_none_or(|(len, _)| name.len() > len) {
                best = Some((name.len(), m));
            }
        }
    }
    best.map(|(_, m)| m)
}
fn unknown(written: &str, said: &[String]) -> Trouble {
    let mut t = Trouble::text(format!("no material is called '{}'", written.trim()));
    let near = nearest(written.trim(), all().iter().flat_map(names));
    for n in &near {
        t = t.cure(format!("did you mean '{n}'?"));
    }
    // "steel" or "bronze" alone: all that are of that family.
    let family: Vec<&str> = all()
        .iter()
        .filter(|m| said.iter().any(|w| words(m.kind.text()).contains(w)))
        .map(|m| m.name.as_str())
        .collect();
    if !family.is_empty() {
        t = t.cure(format!("say which: {}", family.join(", ")));
    } else if near.is_empty() {
        let list: Vec<&str> = all().iter().map(|m| m.name.as_str()).collect();
        t = t.cure(format!("known are {}", list.join(", ")));
    }
    t
}
