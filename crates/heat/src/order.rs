//! Which operation comes before which, and why; the order that follows; the ring when it cannot be had.

use reckon::{Mark, Source};
use std::collections::BTreeSet;

/// The rules.
pub static RULES_BY: Source = Source {
    cite: "usual order of heat and finish in clock work",
    mark: Mark::CommonPractice,
    formula: None,
};
/// Operations, in the order in which they stand when nothing else decides.
pub static WORKS: [&str; 40] = [
    "rough turn",
    "stress relieve",
    "form",
    "anneal",
    "drill",
    "tap",
    "slot",
    "cut teeth",
    "cross out",
    "deburr",
    "press",
    "dry assembly",
    "pre-finish",
    "coat",
    "harden",
    "clean",
    "temper",
    "straighten",
    "finish turn",
    "burnish",
    "rivet",
    "solder",
    "grain",
    "polish edges",
    "polish faces",
    "polish",
    "snail",
    "frost",
    "engrave",
    "degrease",
    "blue",
    "oil",
    "silver",
    "gild",
    "plate",
    "lacquer",
    "glue",
    "wax",
    "final finish",
    "assemble",
];
/// A rule between two operations.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub struct Rule {
    /// First.
    pub first: &'static str,
    /// Then.
    pub then: &'static str,
    /// Whether the work is spoilt otherwise; else it only goes better so.
    pub hard: bool,
    /// Why.
    pub why: &'static str,
}
const fn must(first: &'static str, then: &'static str, why: &'static str) -> Rule {
    Rule { first, then, hard: true, why }
}
const fn better(first: &'static str, then: &'static str, why: &'static str) -> Rule {
    Rule { first, then, hard: false, why }
}
const SCALE: &str = "scale and lost carbon would eat the finish";
const HARD: &str = "hard metal is not cut";
const SOFTENS: &str = "the heat would spoil it";
/// All rules.
pub static RULES: [Rule; 75] = [
    must("rough turn", "stress relieve", "the stress lies in the rough piece"),
    must("stress relieve", "form", "what is formed before it bends again"),
    must("rough turn", "form", "form comes from the rough piece"),
    must("form", "harden", HARD),
    must("drill", "harden", HARD),
    must("tap", "harden", HARD),
    must("slot", "harden", HARD),
    must("cut teeth", "harden", HARD),
    must("cross out", "harden", HARD),
    must("deburr", "harden", "a burr hardens, breaks and starts cracks"),
    must("anneal", "cut teeth", "teeth move when stress leaves"),
    must("anneal", "pre-finish", SCALE),
    better("form", "anneal", "stress of forming leaves with it"),
    must("form", "cut teeth", "the blank must run true first"),
    must("form", "drill", "holes are set out from finished faces"),
    must("drill", "tap", "a thread needs its hole"),
    better("cut teeth", "cross out", "a whole blank stands the cut of the teeth"),
    must("form", "deburr", "there is no burr before"),
    must("drill", "deburr", "holes leave burrs"),
    must("tap", "deburr", "threads leave burrs"),
    must("slot", "deburr", "slots leave burrs"),
    must("cut teeth", "deburr", "teeth leave burrs"),
    must("cross out", "deburr", "the saw leaves burrs"),
    must("deburr", "pre-finish", "burrs tear paper and laps"),
    must("deburr", "grain", "burrs tear paper and laps"),
    must("deburr", "polish", "burrs tear paper and laps"),
    must("deburr", "press", "a burr scores the seat"),
    must("pre-finish", "harden", "pits left now are cut out of hard metal later"),
    must("pre-finish", "coat", "the coat is burnt off by the heat, and goes on the finish it keeps"),
    must("coat", "harden", "the coat keeps the air off while it is hot"),
    must("harden", "clean", "glass and scale come from the heat"),
    must("clean", "temper", "scale hides the colour"),
    must("harden", "temper", "as quenched it is brittle as glass"),
    must("temper", "straighten", "it breaks if bent before"),
    must("harden", "straighten", "hardening bends it"),
    must("straighten", "finish turn", "a bent piece turns untrue"),
    must("harden", "finish turn", "hardening bends it and makes it grow"),
    must("temper", "finish turn", "as quenched it is too hard to turn and may break"),
    must("finish turn", "burnish", "a burnisher closes the turned face"),
    must("finish turn", "polish", "turning would cut the polish away"),
    must("harden", "polish", SCALE),
    must("temper", "polish", "the heat would colour the polish"),
    must("clean", "polish", "scale charges the laps"),
    must("straighten", "polish", "the hammer marks it"),
    must("pre-finish", "polish", "the ladder starts from it"),
    must("slot", "polish faces", "edges of slots are rounded after and the face spoilt"),
    must("polish edges", "polish faces", "threads, slots and edges go before faces, which show every slip"),
    must("tap", "polish faces", "threads go before faces"),
    must("harden", "polish faces", SCALE),
    must("temper", "polish faces", "the heat would colour the polish"),
    better("harden", "polish edges", SCALE),
    must("polish", "degrease", "laps leave grease"),
    must("polish faces", "degrease", "laps leave grease"),
    must("degrease", "blue", "a finger or a film of grease blues in spots"),
    must("polish", "blue", "a polish takes the colour away"),
    must("polish faces", "blue", "a polish takes the colour away"),
    must("harden", "blue", "hardening burns the colour off"),
    must("temper", "blue", "the blue is the last heat, and the tempering under it must stand"),
    must("burnish", "degrease", "burnishing is done with oil"),
    must("blue", "oil", "oil burns and spots the colour"),
    must("degrease", "oil", "it would take the oil off"),
    must("grain", "engrave", "graining would blur the cut"),
    must("polish", "engrave", "polishing would round the cut"),
    must("engrave", "silver", "the ground is laid over the cut"),
    must("engrave", "lacquer", "the graver would break the lacquer"),
    must("grain", "lacquer", "lacquer keeps the grain"),
    must("polish", "lacquer", "lacquer keeps the polish"),
    must("silver", "lacquer", "silvering tarnishes without it"),
    must("rivet", "gild", "the hammer breaks the gilding"),
    must("solder", "gild", SOFTENS),
    must("rivet", "plate", "the hammer breaks the plating"),
    must("solder", "plate", SOFTENS),
    must("polish", "plate", "plating shows what is under it and is thin"),
    must("rivet", "lacquer", "the hammer breaks the lacquer"),
    must("dry assembly", "final finish", "fitting marks the finish"),
];
/// More rules, of a general kind: heat before glue, wax and oil last.
pub static LATE: [Rule; 36] = [
    must("blue", "glue", SOFTENS),
    must("harden", "glue", SOFTENS),
    must("temper", "glue", SOFTENS),
    must("solder", "glue", SOFTENS),
    must("polish", "gild", "gilding shows what is under it and is thin"),
    must("engrave", "gild", "the graver would cut through"),
    must("solder", "lacquer", SOFTENS),
    must("dry assembly", "polish faces", "fitting marks the finish"),
    must("dry assembly", "lacquer", "fitting marks the finish"),
    must("final finish", "assemble", "a movement in plates is not finished"),
    better("lacquer", "assemble", "lacquer dries off the clock"),
    must("blue", "wax", "wax spots the colour, and keeps rust off it after"),
    must("anneal", "harden", "annealing takes the hardness away again"),
    must("anneal", "grain", SCALE),
    must("anneal", "blue", "annealing burns the colour off"),
    must("harden", "grain", SCALE),
    must("temper", "grain", "the heat would colour the grain"),
    must("harden", "burnish", SCALE),
    must("temper", "burnish", "as quenched it chips under the burnisher"),
    better("polish", "burnish", "pivots are brought to their last surface last"),
    must("grain", "blue", "graining takes the colour away"),
    must("grain", "plate", "graining cuts the plating through"),
    must("deburr", "snail", "burrs tear the lap"),
    must("deburr", "frost", "burrs show through the frost"),
    better("grain", "snail", "curves stand on an even ground"),
    must("polish", "snail", "polishing takes the curves away"),
    must("grain", "frost", "graining takes the frost away"),
    must("polish", "frost", "polishing takes the frost away"),
    must("grain", "degrease", "paper leaves grease and dust"),
    must("snail", "degrease", "laps leave grease"),
    must("frost", "degrease", "what frosts is washed off"),
    must("engrave", "degrease", "the fingers of the engraver leave grease"),
    must("degrease", "silver", "silver takes on clean metal only"),
    must("degrease", "gild", "gold takes on clean metal only"),
    must("degrease", "plate", "plating takes on clean metal only"),
    must("degrease", "lacquer", "lacquer creeps off grease"),
];
/// All rules there are.
pub fn rules() -> impl Iterator<Item = &'static Rule> {
    RULES.iter().chain(&LATE)
}
/// One arrow, as kept in an order.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Arrow {
    /// First.
    pub first: String,
    /// Then.
    pub then: String,
    /// Whether it is hard.
    pub hard: bool,
    /// Why.
    pub why: String,
    /// Whether the maker asked for it.
    pub asked: bool,
}
/// What the maker wants otherwise: one before another, with a reason where a rule stands against it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Wish {
    /// First.
    pub first: String,
    /// Then.
    pub then: String,
    /// The written reason.
    pub reason: Option<String>,
}
/// An order that keeps all hard rules that were not put aside.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Order {
    /// The operations, first to last.
    pub works: Vec<String>,
    /// Arrows that hold among them.
    pub kept: Vec<Arrow>,
    /// Rules that a wish put aside, and the reason that was written.
    pub aside: Vec<(Arrow, String)>,
    /// Soft rules that gave way.
    pub gave_way: Vec<Arrow>,
}
/// Why there is no order.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum No {
    /// A word that is no operation.
    Unknown(String),
    /// Given twice.
    Twice(String),
    /// Each comes before the next, and the last before the first.
    Ring(Vec<Arrow>),
}
impl No {
    /// As told to the maker.
    #[must_use]
    pub fn text(&self) -> String {
        match self {
            No::Unknown(w) => format!("'{w}' is not an operation that the rules know"),
            No::Twice(w) => format!("'{w}' stands twice"),
            No::Ring(ring) => {
                let each: Vec<String> =
                    ring.iter().map(|a| format!("{} before {} ({})", a.first, a.then, a.why)).collect();
                format!("the order runs in a ring: {}", each.join("; "))
            }
        }
    }
}
/// Arrows among some operations. A rule through an operation that is not among them still holds between its ends.
#[must_use]
pub fn arrows(works: &[&str]) -> Vec<Arrow> {
    let mut all: Vec<Arrow> = Vec::new();
    for &first in works {
        // Walk on through what is absent.
        let mut stack: Vec<(&str, bool, String)> = vec![(first, true, String::new())];
        let mut seen = BTreeSet::new();
        while let Some((at, hard, why)) = stack.pop() {
            // What only a heat would spoil is safe from a heat that is not there.
            let there = |r: &&Rule| at == first || r.why != SOFTENS;
            for r in rules().filter(|r| r.first == at).filter(there) {
                let hard = hard && r.hard;
                let why = if why.is_empty() { r.why.to_owned() } else { format!("{why}; {}", r.why) };
                if works.contains(&r.then) {
                    if !all.iter().any(|a| a.first == first && a.then == r.then && (a.hard || !hard)) {
                        all.retain(|a| !(a.first == first && a.then == r.then));
                        let (first, then) = (first.to_owned(), r.then.to_owned());
                        all.push(Arrow { first, then, hard, why, asked: false });
                    }
                } else if seen.insert((r.then, hard)) {
                    stack.push((r.then, hard, why));
                }
            }
        }
    }
    all
}
/// Puts operations in order.
///
/// # Errors
/// Words that are not known or stand twice; a ring of hard rules and wishes, each with its reason.
pub fn order(works: &[&str], wishes: &[Wish]) -> Result<Order, No> {
    for (i, w) in works.iter().enumerate() {
        if !WORKS.contains(w) {
            return Err(No::Unknown((*w).to_owned()));
        }
        if works[..i].contains(w) {
            return Err(No::Twice((*w).to_owned()));
        }
    }
    if let Some(w) = wishes.iter().flat_map(|w| [&w.first, &w.then]).find(|w| !works.contains(&w.as_str())) {
        return Err(No::Unknown(w.clone()));
    }
    let (mut kept, mut aside, mut gave_way) = (Vec::new(), Vec::new(), Vec::new());
    let mut soft = Vec::new();
    for a in arrows(works) {
        let against = wishes.iter().find(|w| w.first == a.then && w.then == a.first);
        match against.and_then(|w| w.reason.as_ref()) {
            Some(reason) => aside.push((a, reason.clone())),
            None if a.hard => kept.push(a),
            None => soft.push(a),
        }
    }
    for w in wishes {
        let why = w.reason.clone().unwrap_or_else(|| "asked for".to_owned());
        kept.push(Arrow { first: w.first.clone(), then: w.then.clone(), hard: true, why, asked: true });
    }
    if let Some(ring) = ring(&kept) {
        return Err(No::Ring(ring));
    }
    for a in soft {
        kept.push(a);
        if ring(&kept).is_some() {
            gave_way.extend(kept.pop());
        }
    }
    let place = |w: &str| WORKS.iter().position(|x| *x == w).unwrap_or(usize::MAX);
    let mut left: Vec<&str> = works.to_vec();
    left.sort_by_key(|w| place(w));
    let mut out: Vec<String> = Vec::new();
    while !left.is_empty() {
        let free =
            left.iter().position(|w| !kept.iter().any(|a| a.then == *w && left.contains(&a.first.as_str())));
        // No ring is left, so that something is always free.
        out.push(left.remove(free.unwrap_or(0)).to_owned());
    }
    Ok(Order { works: out, kept, aside, gave_way })
}
/// A shortest ring among arrows, if there is one.
fn ring(arrows: &[Arrow]) -> Option<Vec<Arrow>> {
    let mut best: Option<Vec<usize>> = None;
    for (i, start) in arrows.iter().enumerate() {
        // Shortest way from the end of this arrow back to its start.
        let mut ways: Vec<Vec<usize>> = vec![vec![i]];
        let mut seen = BTreeSet::from([start.then.as_str()]);
        let mut at = 0;
        while at < ways.len() {
            let way = ways[at].clone();
            let end = arrows[way[way.len() - 1]].then.as_str();
            if end == start.first {
                if best.as_ref().is_none_or(|b| way.len() < b.len()) {
                    best = Some(way);
                }
                break;
            }
            for (j, a) in arrows.iter().enumerate().filter(|(_, a)| a.first == end) {
                if a.then == start.first || seen.insert(a.then.as_str()) {
                    let mut more = way.clone();
                    more.push(j);
                    ways.push(more);
                }
            }
            at += 1;
        }
    }
    best.map(|b| b.into_iter().map(|i| arrows[i].clone()).collect())
}
/// Rules that a written order breaks.
///
/// # Errors
/// Words that are not known or stand twice.
pub fn broken(works: &[&str]) -> Result<Vec<Arrow>, No> {
    order(works, &[])?;
    let place = |w: &str| works.iter().position(|x| *x == w);
    Ok(arrows(works).into_iter().filter(|a| place(&a.first) > place(&a.then)).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_rules_know_their_words_and_have_no_ring() {
        for r in rules() {
            assert!(WORKS.contains(&r.first) && WORKS.contains(&r.then), "{} {}", r.first, r.then);
        }
        let o = order(&WORKS, &[]).unwrap();
        assert_eq!(o.works.len(), WORKS.len());
        assert!(o.gave_way.is_empty());
    }
    #[test]
    fn a_screw_is_polished_hard_and_blued_last() {
        let o = order(
            &["blue", "polish", "temper", "harden", "slot", "degrease", "pre-finish", "oil", "clean"],
            &[],
        )
        .unwrap();
        assert_eq!(
            o.works,
            ["slot", "pre-finish", "harden", "clean", "temper", "polish", "degrease", "blue", "oil"]
        );
    }
    #[test]
    fn a_wish_against_a_rule_shows_the_ring_until_a_reason_is_written() {
        let wish = |reason: Option<&str>| {
            vec![Wish { first: "polish".into(), then: "harden".into(), reason: reason.map(Into::into) }]
        };
        let works = ["harden", "polish"];
        let Err(No::Ring(ring)) = order(&works, &wish(None)) else { panic!("no ring") };
        assert_eq!(ring.len(), 2);
        assert!(No::Ring(ring).text().contains("scale"));
        let o = order(&works, &wish(Some("stainless foil all round"))).unwrap();
        assert_eq!(o.works, ["polish", "harden"]);
        assert_eq!(o.aside.len(), 1);
    }
    #[test]
    fn a_rule_holds_through_what_is_left_out() {
        // Nothing names slot and blue together.
        assert!(arrows(&["slot", "blue"]).iter().any(|a| a.first == "slot" && a.then == "blue" && a.hard));
        // But no heat that is left out spoils glue.
        assert!(arrows(&["polish", "glue"]).iter().all(|a| a.then != "glue"));
        let b = broken(&["polish", "harden", "temper"]).unwrap();
        assert_eq!(b.len(), 2);
    }
    proptest! {
        #[test]
        fn every_choice_of_operations_has_an_order_that_keeps_the_rules(mask in proptest::collection::vec(any::<bool>(), 40)) {
            let works: Vec<&str> = WORKS.iter().zip(&mask).filter(|(_, m)| **m).map(|(w, _)| *w).collect();
            let o = order(&works, &[]).unwrap();
            let sorted: Vec<&str> = o.works.iter().map(String::as_str).collect();
            prop_assert!(broken(&sorted).unwrap().is_empty());
        }
    }
}
