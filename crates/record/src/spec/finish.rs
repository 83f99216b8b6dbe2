//! Words of heat and finish, and what is wanted otherwise than their rules.

use super::{Kind, Section, Word, must};

/// Words of heat and finish.
pub(super) const FINISH: &[Word] = &[
    ("harden", "heat and quench to hardness"),
    ("temper", "draw the hardness back"),
    ("polish", "polish bright"),
    ("blue", "colour by heat; steel only"),
    ("grain", "straight grain"),
    ("lacquer", "clear lacquer"),
    ("plate", "gold or silver on brass"),
    ("anneal", "soften"),
    ("stress relieve", "take the stress out before it is formed"),
    ("satin", "an even dull sheen"),
    ("black polish", "a flat that shows black when light falls past it; steel only"),
    ("mirror", "polish to a mirror"),
    ("burnish", "close the surface with a burnisher"),
    ("snail", "a spiral of fine curves over a round face"),
    ("spot", "rows of overlapping spots"),
    ("frost", "evenly matt; brass and its kin"),
    ("silver", "silver by rubbing; brass and its kin"),
    ("gild", "gold, done by a gilder"),
    ("wax", "a film of wax"),
];
/// Orders wanted otherwise.
pub(super) static OTHERWISE: Section = Section {
    name: "order",
    help: "An order of finish wanted though a rule stands against it; its reason is printed on the sheet and the cover.",
    groups: &[&[
        must("first", Kind::Word(FINISH), "What is done first.", "\"polish\""),
        must("then", Kind::Word(FINISH), "What is done after it.", "\"harden\""),
        must("reason", Kind::Text, "Why it is right here.", "\"wrapped in foil, argon flows\""),
    ]],
};
