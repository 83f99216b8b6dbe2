//! Cautions, each tied to operations. They stand at the work and defer to local rules and licensed practice.

/// Stands once on every sheet of heat.
pub const CAUTION_RULE: &str = "These sheets plan; you decide. Local law, the maker of the machine or bath, the safety sheet of the \
     material and the fire authority come first; where they differ from this page, follow them.";
/// Hot metal, torches and ovens.
pub const CAUTION_HOT: &str = "Hot steel does not look hot. Tongs, a face shield, leather gloves and cotton clothes; work on fire brick in \
     moving air; clear three metres of rags and solvents; keep a blanket and an extinguisher in reach and look \
     again half an hour after. Installing gas or a furnace is for licensed people.";
/// Oil for quenching.
pub const CAUTION_OIL: &str = "Quench oil can flash. A metal can with a metal lid that smothers, at least ten times the mass of the part and a \
     litre for each 100 g; oil below 60 °C and free of water, which boils under it and throws it out; put the part \
     under whole and at once. Extinguisher for liquids, never water. Ask the fire authority what it allows at home.";
/// Water and brine.
pub const CAUTION_WATER: &str = "Water spits steam when hot steel goes in: face shield, and no bath of oil, salt or lead near it. Molten salt \
     and molten lead are not planned here; a wet part in either bursts.";
/// Warm trays and sand.
pub const CAUTION_TRAY: &str = "Warm a tray slowly and dry: damp sand or filings burst, and a trapped drop throws the part out. Tongs; let \
     everything cool where nobody takes hold of it.";
/// Boric acid and borax.
pub const CAUTION_BORATE: &str = "Boric acid and borax can harm fertility and the unborn: gloves, no dust, no bare hands in the paste, wash after. \
     Read the present safety sheet; some places restrict their sale.";
/// Spirit and other fluids that burn.
pub const CAUTION_SPIRIT: &str = "Spirit burns with a flame that daylight hides, and its vapour runs to flames. Close the bottle and carry it away \
     before anything is lit; air the room; never methanol, which poisons by breath and skin.";
/// Ammonia.
pub const CAUTION_AMMONIA: &str = "Ammonia in cleaners: air the room, and never mix it with bleach, which makes a poison gas. It cracks brass that \
     is under stress: short dips, under five minutes, and rinse.";
/// Pickle.
pub const CAUTION_PICKLE: &str = "Pickle burns: goggles and gloves, acid into water and never the other way, a labelled vessel with a lid. Spent \
     pickle holds copper and goes where local rules send it.";
/// Polishing.
pub const CAUTION_WHEEL: &str = "A polishing wheel takes hold: work below its centre, small parts on a stick, no gloves, sleeves or loose hair, a \
     guard and something that draws the dust away; lint and rouge burn. On the lathe, emery on a stick, never round \
     a finger.";
/// Lead.
pub const CAUTION_LEAD: &str = "Lead and leaded metal: no dry dust, wash hands before food, keep work clothes from home. Lead is not melted here.";
/// Lacquer and solvents.
pub const CAUTION_LACQUER: &str = "Lacquer and solvent vapour burns and harms: outdoors or in a booth, a mask for vapour, no flame, rags in a lidded \
     metal tin.";

/// Cautions of an operation, as it is called in [`crate::order::WORKS`]. The general rule is not among them: it
/// stands once on the sheet.
#[must_use]
pub fn at(work: &str) -> Vec<&'static str> {
    match work {
        "harden" => vec![CAUTION_HOT, CAUTION_OIL, CAUTION_WATER],
        "anneal" | "stress relieve" | "temper" => vec![CAUTION_HOT],
        "solder" => vec![CAUTION_HOT, CAUTION_LEAD],
        "coat" => vec![CAUTION_BORATE, CAUTION_SPIRIT],
        "clean" => vec![CAUTION_PICKLE, CAUTION_BORATE],
        "degrease" => vec![CAUTION_SPIRIT, CAUTION_AMMONIA],
        "blue" => vec![CAUTION_TRAY],
        "polish" | "polish faces" | "polish edges" | "pre-finish" | "grain" => vec![CAUTION_WHEEL],
        "lacquer" | "wax" | "glue" => vec![CAUTION_LACQUER],
        "gild" | "silver" | "plate" => vec![CAUTION_PICKLE],
        _ => Vec::new(),
    }
}
/// Cautions of a quench in one medium only.
#[must_use]
pub const fn quench(medium: crate::steel::Medium) -> [&'static str; 2] {
    match medium {
        crate::steel::Medium::Oil => [CAUTION_HOT, CAUTION_OIL],
        crate::steel::Medium::Water | crate::steel::Medium::Brine => [CAUTION_HOT, CAUTION_WATER],
    }
}
/// Cautions of several operations, each once, in the order of the work.
#[must_use]
pub fn of(works: &[&str]) -> Vec<&'static str> {
    let mut all: Vec<&'static str> = Vec::new();
    for c in works.iter().flat_map(|w| at(w)) {
        if !all.contains(&c) {
            all.push(c);
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_operation_with_heat_or_poison_has_its_caution_once() {
        assert_eq!(of(&["harden", "temper"]).len(), 3);
        assert!(at("coat").contains(&CAUTION_SPIRIT) && at("coat").contains(&CAUTION_BORATE));
        assert!(at("drill").is_empty());
        for w in crate::order::WORKS {
            for c in at(w) {
                assert!(c.len() > 60, "{w}");
            }
        }
    }
}
