//! What is polished together: parts with one ladder, and the verdicts on that ladder.

use super::Ladder;
use crate::plan::PartPlan;
use heat::polish::{self, HARD};
use movement::part::Part;
use reckon::{Book, Count, Ratio, Val, judge};

/// Parts that go through one ladder on the same laps.
#[derive(Clone, Debug)]
pub struct Together {
    /// The ladder, as it stands in the book for the first of them.
    pub ladder: Ladder,
    /// Indices of the plans.
    pub plans: Vec<usize>,
}
impl Together {
    /// What it is called on its sheet.
    #[must_use]
    pub fn title(&self) -> String {
        let heat = if self.ladder.hardened { ", hardened" } else { "" };
        let metal = if self.ladder.on == "steel" { "steel" } else { "brass and its kin" };
        format!("{}: {metal}{heat}", self.ladder.level.word())
    }
    /// Pieces in all, spares too.
    #[must_use]
    pub fn pieces(&self, plans: &[PartPlan]) -> i64 {
        self.plans.iter().map(|i| plans[*i].batch.total.bare().0).sum()
    }
}
/// Sorts plans by ladder and judges each ladder once.
pub fn together(parts: &[Part], plans: &[PartPlan], book: &mut Book) -> Vec<Together> {
    let mut out: Vec<Together> = Vec::new();
    for (i, p) in plans.iter().enumerate() {
        let Some(ladder) = &p.finish.ladder else { continue };
        match out.iter_mut().find(|t| t.ladder.key() == ladder.key()) {
            Some(t) => t.plans.push(i),
            None => out.push(Together { ladder: ladder.clone(), plans: vec![i] }),
        }
    }
    for t in &out {
        judge_ladder(t, parts, plans, book);
    }
    out
}
fn judge_ladder(t: &Together, parts: &[Part], plans: &[PartPlan], book: &mut Book) {
    let l = &t.ladder;
    let heat = if l.hardened { "_hard" } else { "" };
    let at = format!("shine.{}_{}{heat}", l.on, reckon::slug(l.level.word()));
    let names: Vec<&str> =
        t.plans.iter().take(3).map(|i| parts[plans[*i].part].common.name.as_str()).collect();
    let more = if t.plans.len() > 3 { " and others" } else { "" };
    let wanted = l.wanted;
    let says = format!(
        "the grains and laps of the shop reach {} on {} ({}{more})",
        l.level.word(),
        l.on,
        names.join(", ")
    );
    let reaches = match l.rungs.last() {
        Some(last) => {
            let reached = last.grain;
            judge!(
                book,
                format!("{at}.reaches"),
                says,
                |reached, wanted| reached <= wanted * 1.000001,
                &polish::RATIOS
            )
        }
        None => {
            super::super::bench::found(book, (format!("{at}.reaches"), &says), 0, "steps that can be made")
        }
    };
    for c in l.short.iter().flat_map(|s| s.cures(l.on)) {
        book.cure(reaches.id(), c);
    }
    for (i, r) in l.rungs.iter().enumerate().filter(|(_, r)| r.hard) {
        let ratio: Val<Ratio> = r.ratio;
        let most =
            book.tabled(format!("{at}.step{}.widest", i + 1), Ratio::si(HARD), "hard lap", &polish::RATIOS);
        judge!(
            book,
            format!("{at}.step{}.on_a_hard_lap", i + 1),
            format!("the wide step to {} goes, since {} is a hard lap", r.grain.shown(), r.lap),
            |ratio, most| ratio <= most * 1.000001,
            &polish::RATIOS
        );
    }
    let pieces = Count(t.pieces(plans));
    book.solved(
        format!("{at}.pieces"),
        pieces,
        ("pieces that are finished together, spares included", 1, 0.0),
        t.plans.iter().map(|i| plans[*i].batch.total.id()).collect(),
        &super::super::bench::COUNTED,
    );
}
