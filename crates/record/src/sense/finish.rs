//! Heat and finish: whether the metal takes it, and the order it stands in.

use super::{Sense, called};
use crate::facts::{Common, Finish};
use reckon::Trouble;
use tables::material::{Hardens, Kind};

impl Sense<'_> {
    pub(super) fn finish(&mut self, common: &Common, kind: &str) {
        let who = called(common, kind);
        let metal = common.material;
        let has = |f: Finish| common.finish.iter().any(|(x, _)| *x == f);
        for (i, (step, at)) in common.finish.iter().enumerate() {
            if let Some((_, first)) = common.finish[..i].iter().find(|(f, _)| f == step) {
                let t = Trouble::design(format!("{who}: \"{}\" stands twice in its finish", step.word()));
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
                Finish::Black if !blues(metal.kind) => Some((
                    "only hard steel takes it",
                    "write \"polish\" or \"mirror\", or choose a steel that hardens",
                )),
                Finish::Silver | Finish::Frost if !yellow(metal.kind) => {
                    Some(("it is done on brass and its kin", "leave it out, or choose a brass"))
                }
                Finish::Blue if !blues(metal.kind) => Some((
                    "temper colours are oxide of iron; heat only dulls and softens this metal",
                    "leave \"blue\" out, or choose a steel",
                )),
                _ => None,
            };
            if let Some((why, cure)) = refused {
                let says = format!("{who}: {} cannot be given the finish \"{}\"", metal.name, step.word());
                let says = if *step == Finish::Temper {
                    format!("{who}: \"temper\" without \"harden\"")
                } else {
                    says
                };
                let t = Trouble::design(says).why(why).cure(cure);
                self.tell(t.at(at.clone()).at(common.material_at.clone()));
            }
        }
        self.surfaces(common, &who);
        self.otherwise(common, &who);
    }
    /// A surface is polished one way.
    fn surfaces(&mut self, common: &Common, who: &str) {
        let mut polished = common.finish.iter().filter(|(f, _)| f.polishes());
        let (Some((a, at)), Some((b, and))) = (polished.next(), polished.next()) else { return };
        if a != b {
            self.tell(
                Trouble::design(format!(
                    "{who}: \"{}\" and \"{}\" are two finishes of one surface",
                    a.word(),
                    b.word()
                ))
                .at(at.clone())
                .at(and.clone())
                .cure("keep the finer one; its ladder goes through the other"),
            );
        }
    }
    /// What is wanted otherwise has to stand in the finish.
    fn otherwise(&mut self, common: &Common, who: &str) {
        for o in &common.otherwise {
            let stands = |f| common.finish.iter().any(|(x, _)| *x == f);
            let missing = [o.first, o.then].into_iter().find(|f| !stands(*f));
            let says = match missing {
                _ if o.first == o.then => {
                    format!("{who}: its order puts \"{}\" before itself", o.first.word())
                }
                Some(f) => {
                    format!("{who}: its order speaks of \"{}\", which its finish does not have", f.word())
                }
                None => continue,
            };
            self.tell(Trouble::design(says).at(o.at.clone()).cure("leave that order out, or mend its words"));
        }
    }
}
/// Whether it is a metal that is silvered or frosted.
const fn yellow(kind: Kind) -> bool {
    matches!(kind, Kind::Brass | Kind::Bronze | Kind::NickelSilver | Kind::Copper)
}
/// Whether heat colours a metal blue.
const fn blues(kind: Kind) -> bool {
    matches!(kind, Kind::Steel | Kind::ToolSteel | Kind::SpringSteel | Kind::StainlessSteel)
}
