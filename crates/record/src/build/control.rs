//! The facts of a control.

use crate::facts::{ArcCentre, BareLength, ControlFacts, PercentSigns, ToolSays};
use crate::read::node::{Node, a_length, a_text};
use reckon::Trouble;

/// A control, as far as it can be had.
pub(super) fn control(n: Option<&Node>) -> Option<ControlFacts> {
    let n = n?;
    Some(ControlFacts {
        words: if n.section.key("words").is_some() { n.all("words", a_text) } else { Vec::new() },
        fastest_feed: n.section.key("fastest_feed").and_then(|_| n.speed("fastest_feed")),
        radius: n.section.key("across").is_some() && n.word("across")? == "radius",
        synchronised: n.section.key("synchronised").is_some() && n.flag("synchronised")?,
        start: n.all("start", a_length),
        decimals: n.count("decimals")?,
        without_point: match n.word("without_point")? {
            "smallest steps" => BareLength::Steps,
            "refused" => BareLength::Refused,
            _ => BareLength::Whole,
        },
        arcs: match n.word("arcs")? {
            "from the zero" => ArcCentre::FromZero,
            "never" => ArcCentre::Never,
            _ => ArcCentre::FromStart,
        },
        arc_tolerance: n.length("arc_tolerance")?,
        percent: match n.word("percent")? {
            "required" => PercentSigns::Required,
            "refused" => PercentSigns::Refused,
            _ => PercentSigns::Allowed,
        },
        comments: n.flag("comments")?,
        line_numbers: n.flag("line_numbers")?,
        longest_line: n.count("longest_line")?,
        milliseconds: n.word("dwell")? == "milliseconds",
        tool_word: n.word("tool_word").map(|word| match word {
            "number" => ToolSays::Number,
            "number and offset" => ToolSays::NumberAndOffset,
            _ => ToolSays::Nothing,
        }),
        rapid: n.speed("rapid"),
        bent: n.word("rapids")? == "bent",
        at: n.at.clone(),
    })
}

/// Words that are neither G nor M with a number, as a control names them.
pub(super) fn strange(n: &Node, book_words: &[String], machine: &str) -> Vec<Trouble> {
    let known = |word: &str| {
        let mut signs = word.chars();
        let letter = signs.next().is_some_and(|c| matches!(c, 'G' | 'M'));
        let (whole, tenth) = signs.as_str().split_once('.').unwrap_or((signs.as_str(), "0"));
        let digits = |text: &str, most: usize| {
            (1..=most).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit())
        };
        letter && digits(whole, 3) && digits(tenth, 1)
    };
    let strange = n.list("words").iter().zip(book_words).filter(|(_, word)| !known(word));
    strange
        .map(|(got, word)| {
            Trouble::text(format!("'{word}' is no word of the control of {machine}"))
                .at(got.at.clone())
                .why("words are G or M with a number")
                .cure("write it as \"G1\" or \"M30\"")
        })
        .collect()
}
