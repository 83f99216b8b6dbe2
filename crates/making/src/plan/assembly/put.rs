//! The dry assembly: everything once without oil, finish or force.

use super::{Caution, Item, Of, Page, words};

/// In which order the movement goes together.
pub(super) fn dry(of: &Of<'_>) -> Page {
    let train = &of.m.train;
    let mut steps = vec![
        "Everything washed, dry and deburred; each hole pegged with sharpened pegwood until it comes out white. No oil yet.".to_owned(),
        "Back plate flat on blocks, pillars up. Each pillar nut or pin finger-tight first: it must seat without pulling the plate.".to_owned(),
    ];
    if of.spring() {
        steps.push("Barrel closed, its spring hooked but NOT wound; arbor turned by hand through the spring's slack.".to_owned());
    }
    // From the drive outwards: what stands lowest goes in first.
    for (i, a) in train.arbors.iter().enumerate() {
        let name = &a.facts.name;
        let by = a.driven.map(|d| &train.meshes[d]).and_then(|mesh| train.arbors.get(mesh.driver));
        let with =
            by.map_or(String::new(), |b| format!(", its pinion beside the wheel of '{}'", b.facts.name));
        let last = if Some(i) == train.pallets {
            " Pallets last: not before the train has been tried without them."
        } else {
            ""
        };
        steps.push(format!("'{name}' into its hole{with}.{last}"));
    }
    steps.push("Front plate laid on, pivots led into their holes from the lowest arbor up with tweezers; never pressed: a plate that does not drop has a pivot beside its hole.".to_owned());
    steps.push("Nuts or pins home in turn, crosswise, a little each; after each turn every arbor is tried for endshake. One that binds as the plates come tight shows a shoulder too long or a pillar too short.".to_owned());
    if of.m.motion.is_some() {
        steps.push("Motion work and hands on dry: the minute hand turns the hour hand twelve to one, nothing touches over twelve hours.".to_owned());
    }
    steps.push(
        "All that was marked goes down in the list below; then all apart again for the last finish."
            .to_owned(),
    );
    Page {
        title: "dry assembly".to_owned(),
        items: vec![
            Item::Head("Dry assembly".to_owned()),
            Item::Cautions(vec![Caution::HandlingPivots]),
            Item::Say("Once through, before anything is finished for good: fitting marks the finish, and a hole that has to be moved is moved now.".to_owned()),
            Item::Steps(steps),
            Item::Boxes(words(&["what did not fit", "where it touches", "put right by", "done"]), vec![Vec::new(); 5]),
        ],
    }
}
