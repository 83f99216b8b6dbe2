//! The reference page: every word of both texts, from the same description that reads them.

use crate::spec::{Kind, Need, Section, clock::CLOCK, shop::SHOP};
use std::collections::BTreeSet;
use std::fmt::Write;

/// The reference page as Markdown.
#[must_use]
pub fn reference() -> String {
    let mut out = String::from(
        "# What can be written\n\n\
         Sizes are written with their unit, in quotes: `\"12.5 mm\"`, `\"0.005 in\"`, `\"5 thou\"`, `\"1 3/8 in\"`, `\"5°30'\"`, `\"300 rpm\"`. \
         A size may carry limits, `\"6.00 +0.00/-0.02 mm\"` or `\"6 ±0.02 mm\"`, or a fit, `\"8 h6\"`; \
         otherwise the general limits of `[limits]` apply. \
         A size may be reckoned from other written sizes by their names: `\"bridge_screw.length + 2 mm\"`. \
         A list of sizes that share a unit may give it once: `{ rpm = [60, 110, 190] }`.\n",
    );
    for top in [&CLOCK, &SHOP] {
        let mut seen = BTreeSet::new();
        let _ = write!(out, "\n## {}\n\n{}\n", top.name, top.help);
        table(&mut out, top);
        for key in top.keys() {
            if let Some(section) = key.kind.section() {
                let head =
                    if key.kind.many() { format!("[[{}]]", key.name) } else { format!("[{}]", key.name) };
                under(&mut out, section, &head, &mut seen);
            }
        }
    }
    out
}
fn under(out: &mut String, section: &'static Section, head: &str, seen: &mut BTreeSet<&'static str>) {
    if !seen.insert(section.name) {
        return;
    }
    let _ = write!(out, "\n### {} — `{head}`\n\n{}\n", section.name, section.help);
    table(out, section);
    let inner: Vec<(&str, &'static Section)> =
        section.keys().filter_map(|k| Some((k.name, k.kind.section()?))).collect();
    for (name, inner) in inner {
        under(out, inner, name, seen);
    }
}
fn table(out: &mut String, section: &Section) {
    out.push_str(
        "\n| word | what | takes | where not written | example |\n| --- | --- | --- | --- | --- |\n",
    );
    for key in section.keys() {
        let absent = match key.need {
            Need::Required => "must be written".to_owned(),
            Need::Optional | Need::Implied => "nothing".to_owned(),
            Need::Default { text, why } => format!("`{text}`: {why}"),
            Need::Follows(from) => from.to_owned(),
        };
        let example =
            if key.example == "[]" { String::new() } else { format!("`{} = {}`", key.name, key.example) };
        let _ = writeln!(
            out,
            "| `{}` | {} | {} | {absent} | {example} |",
            key.name,
            key.help,
            takes(&key.kind).replace('|', "\\|")
        );
    }
}
fn takes(kind: &Kind) -> String {
    match kind {
        Kind::Word(words) => {
            let all: Vec<String> = words.iter().map(|(w, says)| format!("`\"{w}\"`: {says}")).collect();
            all.join("; ")
        }
        Kind::Count(least, most) => format!("a whole number, {least} to {most}"),
        other => other.noun(),
    }
}
