//! Abrasives and the ladder from one grain to the next. Grains in µm, removal in µm.

use reckon::{Length, Source};
use std::sync::LazyLock;
use tables::load::{DataFault, Sheet};

/// Depth of damage and what a step takes off.
pub static DAMAGE: Source = Source {
    cite: "a grain scratches a share of its size deep: 0.10 soft lap or worn paper, 0.15 paper, 0.25 hard lap; the next step takes 1.5 times that",
    mark: reckon::Mark::CommonPractice,
    formula: None,
};
/// Ratios of a ladder.
pub static RATIOS: Source = Source {
    cite: "ratio of grains from step to step 1.6 to 2.5, to 3 on a hard lap only",
    mark: reckon::Mark::CommonPractice,
    formula: None,
};
/// Least ratio that is worth a step.
pub const LEAST: f64 = 1.6;
/// Most on any lap.
pub const MOST: f64 = 2.5;
/// Most on a hard lap.
pub const HARD: f64 = 3.0;
/// Removal of a step over the depth of damage before it.
pub const CLEAR: f64 = 1.5;
const ROOM: f64 = 1e-9;

/// A grade of abrasive.
#[derive(Clone, PartialEq, Debug)]
pub struct Grade {
    /// The list it belongs to: P, F, CAMI, diamond.
    pub list: String,
    /// As marked.
    pub name: String,
    /// Middle size, µm.
    pub size: f64,
    /// Whose figure.
    pub source: &'static Source,
}
/// A lap.
#[derive(Clone, PartialEq, Debug)]
pub struct Lap {
    /// What it is of.
    pub name: String,
    /// Metal it polishes: steel or brass.
    pub on: String,
    /// Finest grain it takes, µm.
    pub finest: f64,
    /// Coarsest, µm.
    pub coarsest: f64,
    /// How it holds the grain.
    pub hold: Hold,
    /// What it is for.
    pub use_for: String,
}
/// How grains are held, which sets how deep they scratch.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Hold {
    /// A soft lap or worn paper.
    Soft,
    /// Paper.
    Paper,
    /// A hard lap on which grains roll.
    Hard,
}
impl Hold {
    /// Words for them.
    pub const ALL: [(&'static str, Hold); 3] =
        [("soft", Hold::Soft), ("paper", Hold::Paper), ("hard", Hold::Hard)];
    /// Depth of damage over the size of the grain.
    #[must_use]
    pub const fn share(self) -> f64 {
        match self {
            Hold::Soft => 0.10,
            Hold::Paper => 0.15,
            Hold::Hard => 0.25,
        }
    }
}
static TABLES: LazyLock<(Vec<Grade>, Vec<Lap>)> =
    LazyLock::new(|| read().expect("the embedded table abrasives.toml is whole; a test reads it"));
fn read() -> Result<(Vec<Grade>, Vec<Lap>), DataFault> {
    let sheet = Sheet::read("abrasives.toml", include_str!("../data/abrasives.toml"))?;
    let um = |r: &tables::load::Row, key: &str| Ok(r.quantity::<Length>(key)?.value() * 1e6);
    let mut grades = Vec::new();
    for r in &sheet.rows("grade")? {
        let (list, name) = (r.word("list")?.to_owned(), r.word("grade")?.to_owned());
        grades.push(Grade { list, name, size: um(r, "size")?, source: r.source });
    }
    let mut laps = Vec::new();
    for r in &sheet.rows("lap")? {
        let hold = Hold::ALL.iter().find(|(w, _)| r.word("hold") == Ok(*w));
        laps.push(Lap {
            name: r.word("lap")?.to_owned(),
            on: r.word("on")?.to_owned(),
            finest: um(r, "finest")?,
            coarsest: um(r, "coarsest")?,
            hold: hold.ok_or_else(|| r.fault("no such hold"))?.1,
            use_for: r.word("use")?.to_owned(),
        });
    }
    Ok((grades, laps))
}
/// All grades.
#[must_use]
pub fn grades() -> &'static [Grade] {
    &TABLES.0
}
/// All laps.
#[must_use]
pub fn laps() -> &'static [Lap] {
    &TABLES.1
}
/// A grade as marked, whatever spaces and capitals.
#[must_use]
pub fn grade(name: &str) -> Option<&'static Grade> {
    let plain = |s: &str| s.to_lowercase().replace([' ', '-'], "").replace("μ", "µ").replace("um", "µm");
    grades().iter().find(|g| plain(&g.name) == plain(name))
}
/// The grade of a list that is nearest by ratio to a size.
#[must_use]
pub fn nearest(list: &str, size: f64) -> Option<&'static Grade> {
    let off = |g: &&Grade| if g.size > size { g.size / size } else { size / g.size };
    grades().iter().filter(|g| g.list == list).min_by(|a, b| off(a).total_cmp(&off(b)))
}
/// The lap for a metal and a grain: the first that takes it; a hard one where it must be.
#[must_use]
pub fn lap(on: &str, size: f64, hard: bool) -> Option<&'static Lap> {
    laps().iter().find(|l| {
        l.on == on && size >= l.finest - ROOM && size <= l.coarsest + ROOM && (!hard || l.hold == Hold::Hard)
    })
}
/// Steps from one grain to another when each may be finer by a ratio.
#[must_use]
pub fn steps(from: f64, to: f64, ratio: f64) -> u32 {
    let mut n = 0;
    let mut size = from;
    while size > to * (1.0 + ROOM) && n < 1000 {
        size /= ratio;
        n += 1;
    }
    n
}
/// One step of a ladder.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Step {
    /// Grain.
    pub size: f64,
    /// Grain before it over this one.
    pub ratio: f64,
    /// Needs a hard lap.
    pub hard: bool,
    /// Closer than is worth a step.
    pub close: bool,
}
/// A gap that no grit of the shop bridges.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Gap {
    /// Coarse side.
    pub from: f64,
    /// Fine side.
    pub to: f64,
    /// A size to buy.
    pub buy: f64,
}
/// A step as it is, judged by its ratio; none where it is too wide for any lap.
#[must_use]
pub fn judged(from: f64, to: f64) -> Option<Step> {
    let ratio = from / to;
    (ratio <= HARD + ROOM).then_some(Step {
        size: to,
        ratio,
        hard: ratio > MOST + ROOM,
        close: ratio < LEAST - ROOM,
    })
}
/// The ladder from a grain to a wanted one through what the shop has: fewest wide steps, then fewest steps.
///
/// # Errors
/// The coarsest gap that no grit bridges.
pub fn ladder(shop: &[f64], from: f64, to: f64) -> Result<Vec<Step>, Gap> {
    if to >= from {
        return Ok(Vec::new());
    }
    let mut sizes: Vec<f64> = shop.iter().copied().filter(|&s| s < from && s >= to * (1.0 - ROOM)).collect();
    sizes.sort_by(|a, b| b.total_cmp(a));
    sizes.dedup();
    // best[i]: wide steps, steps, and where it came from.
    let mut best: Vec<Option<(u32, u32, Option<usize>)>> = vec![None; sizes.len()];
    for i in 0..sizes.len() {
        let mut found: Option<(u32, u32, Option<usize>)> = None;
        if let Some(s) = judged(from, sizes[i]) {
            found = Some((u32::from(s.hard), 1, None));
        }
        for j in 0..i {
            let (Some(b), Some(s)) = (best[j], judged(sizes[j], sizes[i])) else { continue };
            let way = (b.0 + u32::from(s.hard), b.1 + 1, Some(j));
            if found.is_none_or(|f| (way.0, way.1) < (f.0, f.1)) {
                found = Some(way);
            }
        }
        best[i] = found;
    }
    let last = sizes.len().checked_sub(1);
    let ends = last.is_some_and(|l| sizes[l] <= to * (1.0 + ROOM) && best[l].is_some());
    if !ends {
        let reached = (0..sizes.len()).rev().find(|&i| best[i].is_some());
        let coarse = reached.map_or(from, |i| sizes[i]);
        let fine = sizes.iter().copied().find(|&s| s < coarse).unwrap_or(to);
        return Err(Gap {
            from: coarse,
            to: fine,
            buy: if coarse / fine <= HARD * HARD { (coarse * fine).sqrt() } else { coarse / MOST },
        });
    }
    let mut way = Vec::new();
    let mut at = last;
    while let Some(i) = at {
        way.push(sizes[i]);
        at = best[i].and_then(|b| b.2);
    }
    way.reverse();
    let mut before = from;
    Ok(way
        .into_iter()
        .filter_map(|s| {
            let step = judged(before, s);
            before = s;
            step
        })
        .collect())
}
/// What a step takes off one face: 1.5 times the damage of the grain before it.
#[must_use]
pub fn removal(before: f64, hold: Hold) -> f64 {
    CLEAR * hold.share() * before
}
/// Roughness Ra, µm, that a grain leaves: a sixth of the depth of its scratches.
#[must_use]
pub fn roughness(size: f64, hold: Hold) -> f64 {
    hold.share() * size / 6.0
}
/// What stands between two grains.
pub const BARRIER: &str = "brush, wash in hot detergent or solvent, rinse, dry, new gloves; own cloth, own box with a lid for each grain";
/// What is looked for after each grain.
pub const LOOK: &str = "cross the direction; at ten times no scratch of the last direction is left";
/// What keeps laps clean.
pub const LAPS: &str = "one lap, one grain, for life, labelled; a single coarse grain in a fine lap means dressing it anew; stations go one way, coarse to fine, away from grinding dust";

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn lists_fall_and_grades_are_found_however_they_are_written() {
        for list in ["P", "F", "CAMI", "diamond"] {
            let sizes: Vec<f64> = grades().iter().filter(|g| g.list == list).map(|g| g.size).collect();
            assert!(sizes.len() > 5 && sizes.windows(2).all(|w| w[0] > w[1]), "{list}");
        }
        assert_eq!(grade("p 400").map(|g| g.size), Some(35.0));
        assert_eq!(grade("CAMI 400").map(|g| g.size), Some(22.0));
        assert_eq!(grade("P401"), None);
    }
    #[test]
    fn three_to_one_asks_for_a_hard_lap() {
        let l = ladder(&[18.0, 9.0, 6.0, 3.0, 1.0], 18.0, 1.0).unwrap();
        let sizes: Vec<f64> = l.iter().map(|s| s.size).collect();
        assert_eq!(sizes, [9.0, 6.0, 3.0, 1.0]);
        assert_eq!(l.iter().map(|s| s.hard).collect::<Vec<_>>(), [false, false, false, true]);
        let gap = ladder(&[18.0, 9.0, 1.0], 18.0, 1.0).unwrap_err();
        assert_eq!((gap.from, gap.to, gap.buy), (9.0, 1.0, 3.0));
    }
    proptest! {
        #[test]
        fn no_step_is_wider_than_a_hard_lap_stands(
            shop in proptest::collection::vec(0.2..60.0f64, 1..12), from in 20.0..120.0f64
        ) {
            let to = shop.iter().copied().fold(f64::INFINITY, f64::min);
            match ladder(&shop, from, to) {
                Ok(l) => {
                    prop_assert!(l.iter().all(|s| s.ratio <= HARD + 1e-6));
                    prop_assert!(to >= from || l.last().is_some_and(|s| s.size <= to * 1.001));
                }
                Err(g) => prop_assert!(g.from > g.to && g.buy < g.from && g.buy > g.to),
            }
        }
    }
}
