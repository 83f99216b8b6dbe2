//! Heat and finish: whether the metal takes it, and the order it stands in.

use super::{Sense, called};
use crate::facts::{Common, Finish};
use reckon::Trouble;
use tables::material::{Hardens, Kind};

const fn word(f: Finish) -> &'static str {
    match f {
        Finish::Harden => "harden",
        Finish::Temper => "temper",
        Finish::Polish => "polish",
        Finish::Blue => "blue",
        Finish::Grain => "grain",
        Finish::Lacquer => "lacquer",
        Finish::Plate => "plate",
        Finish::Anneal => "anneal",
    }
}
/// The order that the trade keeps: softening, heat, bright finish, colour, what lies on top.
const ORDER: [Finish; 8] = [
    Finish::Anneal,
    Finish::Harden,
    Finish::Temper,
    Finish::Grain,
    Finish::Polish,
    Finish::Blue,
    Finish::Plate,
    Finish::Lacquer,
];
/// First must come before second, because.
const MUST: &[(Finish, Finish, &str)] = &[
    (Finish::Anneal, Finish::Harden, "annealing takes the hardness away again"),
    (Finish::Anneal, Finish::Polish, "the scale of annealing ruins a polish"),
    (Finish::Anneal, Finish::Grain, "the scale of annealing ruins the grain"),
    (Finish::Anneal, Finish::Blue, "annealing burns the blue off"),
    (Finish::Harden, Finish::Temper, "there is no hardness to draw back yet"),
    (Finish::Harden, Finish::Polish, "the scale of hardening ruins a polish"),
    (Finish::Harden, Finish::Grain, "the scale of hardening ruins the grain"),
    (Finish::Harden, Finish::Blue, "hardening burns the blue off"),
    (Finish::Temper, Finish::Blue, "tempering changes the blue's colour"),
    (Finish::Polish, Finish::Blue, "polishing takes the blue off"),
    (Finish::Grain, Finish::Blue, "graining takes the blue off"),
    (Finish::Polish, Finish::Plate, "polishing wears the plating through"),
    (Finish::Grain, Finish::Plate, "graining cuts the plating through"),
    (Finish::Harden, Finish::Plate, "plating does not stand the heat"),
    (Finish::Temper, Finish::Plate, "plating does not stand the heat"),
    (Finish::Anneal, Finish::Plate, "plating does not stand the heat"),
    (Finish::Polish, Finish::Lacquer, "polishing takes the lacquer off"),
    (Finish::Grain, Finish::Lacquer, "graining takes the lacquer off"),
    (Finish::Plate, Finish::Lacquer, "nothing plates through lacquer"),
    (Finish::Harden, Finish::Lacquer, "lacquer burns in the heat"),
    (Finish::Temper, Finish::Lacquer, "lacquer burns in the heat"),
    (Finish::Anneal, Finish::Lacquer, "lacquer burns in the heat"),
    (Finish::Blue, Finish::Lacquer, "lacquer burns in the heat"),
];

impl Sense<'_> {
    pub(super) fn finish(&mut self, common: &Common, kind: &str) {
        let who = called(common, kind);
        let metal = common.material;
        let has = |f: Finish| common.finish.iter().any(|(x, _)| *x == f);
        for (i, (step, at)) in common.finish.iter().enumerate() {
            if let Some((_, first)) = common.finish[..i].iter().find(|(f, _)| f == step) {
                let t = Trouble::design(format!("{who}: \"{}\" stands twice in its finish", word(*step)));
                self.tell(t.at(at.clone()).at(first.clone()).cure("leave one of them out"));
            }
            let refused = match step {
                Finish::Harden if !metal.hardens.by_quench() => Some((
                    match metal.hardens {
                        Hardens::AlreadyHard => "it is sold hard, and heat only softens it",
                        Hardens::CaseOnly => {
                            "it holds too little carbon; only a case of carbon would harden its skin"
                        }
                        _ => "no quench hardens it",
                    },
                    "leave \"harden\" out, or choose a steel that hardens, such as silver steel",
                )),
                Finish::Temper if !has(Finish::Harden) && metal.hardens != Hardens::AlreadyHard => Some((
                    "tempering draws back the hardness of a quench",
                    "write \"harden\" before it, or leave it out",
                )),
                Finish::Blue if !blues(metal.kind) => Some((
                    "temper colours are oxide of iron; heat only dulls and softens this metal",
                    "leave \"blue\" out, or choose a steel",
                )),
                _ => None,
            };
            if let Some((why, cure)) = refused {
                let says = format!("{who}: {} cannot be given the finish \"{}\"", metal.name, word(*step));
                let says = if *step == Finish::Temper {
                    format!("{who}: \"temper\" without \"harden\"")
                } else {
                    says
                };
                let t = Trouble::design(says).why(why).cure(cure);
                self.tell(t.at(at.clone()).at(common.material_at.clone()));
            }
        }
        self.order(common, &who);
    }
    /// One trouble for the whole order: it is mended in one go.
    fn order(&mut self, common: &Common, who: &str) {
        let steps = &common.finish;
        let wrong = steps.iter().enumerate().find_map(|(i, (step, at))| {
            steps[..i].iter().find_map(|(before, before_at)| {
                let rule = MUST.iter().find(|(a, b, _)| a == step && b == before)?;
                Some((*before, *step, rule.2, before_at.clone(), at.clone()))
            })
        });
        if let Some((before, step, why, before_at, at)) = wrong {
            let mut sorted: Vec<Finish> = steps.iter().map(|(f, _)| *f).collect();
            sorted.sort_by_key(|f| ORDER.iter().position(|o| o == f));
            sorted.dedup();
            let list: Vec<String> = sorted.iter().map(|f| format!("\"{}\"", word(*f))).collect();
            self.tell(
                Trouble::design(format!("{who}: \"{}\" stands before \"{}\"", word(before), word(step)))
                    .at(before_at)
                    .at(at)
                    .why(why)
                    .cure(format!("write finish = [{}]", list.join(", "))),
            );
        }
    }
}
/// Whether heat colours a metal blue.
const fn blues(kind: Kind) -> bool {
    matches!(kind, Kind::Steel | Kind::ToolSteel | Kind::SpringSteel | Kind::StainlessSteel)
}
