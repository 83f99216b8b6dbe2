//! Drills, taps and dies that the shop has not: the next that it has, and what would come of taking it.

use super::NOT_ENOUGH;
use reckon::{Book, Diameter, Length, Ratio, Shown, Val};
use record::facts::Shop;
use std::sync::Arc;
use tables::thread::{Thread, hole};

/// Cures of the verdict that no drill of the shop serves a plain hole: the next sizes, and by how much they are off.
pub fn drills(book: &mut Book, verdict: &Val<bool>, shop: &Shop, size: Diameter, most: Diameter) {
    let list = || shop.drills.sizes.iter().map(|(n, d)| (n, d.bare()));
    let below = list().filter(|(_, d)| *d < size).max_by(|a, b| a.1.value().total_cmp(&b.1.value()));
    let above = list().filter(|(_, d)| *d > size).min_by(|a, b| a.1.value().total_cmp(&b.1.value()));
    if let Some((name, d)) = below {
        let left = size - d;
        let by = if left <= Length::mm(1.0) {
            "a round file or a broach"
        } else {
            "a boring tool or a round file to a scribed circle"
        };
        book.cure(
            verdict.id(),
            format!("the next smaller of the shop, {name}, and then {} opened by {by}", left.shown()),
        );
    }
    if let Some((name, d)) = above {
        let over = d - size;
        book.cure(
            verdict.id(),
            if d <= most {
                format!("the next larger of the shop, {name}, which is over the size by {}", over.shown())
            } else {
                format!(
                    "{NOT_ENOUGH}: the next larger of the shop, {name}, is over the size by {}, and {} more than may be",
                    over.shown(),
                    (d - most).shown()
                )
            },
        );
    }
}
/// Cures of the verdict that a tapping drill leaves too little or too much of a thread: the size that leaves the middle of
/// what is wanted, and what the nearest of the shop leave.
pub fn tap_drills(book: &mut Book, verdict: &Val<bool>, shop: &Shop, t: &Thread, wish: (f64, f64)) {
    let full = hole::full(t, hole::Base::Tables);
    let middle = f64::midpoint(wish.0, wish.1);
    let exact = hole::drill_for(t.major, Ratio::si(middle), t.pitch, full);
    let percent = |part: f64| format!("{} %", reckon::print::fixed(part * 100.0, 0));
    book.cure(
        verdict.id(),
        format!("a drill of {}: it leaves {} of a full thread", exact.shown(), percent(middle)),
    );
    let list = || shop.drills.sizes.iter().map(|(n, d)| (n, d.bare())).filter(|(_, d)| *d < t.major);
    let below = list().filter(|(_, d)| *d < exact).max_by(|a, b| a.1.value().total_cmp(&b.1.value()));
    let above = list().filter(|(_, d)| *d >= exact).min_by(|a, b| a.1.value().total_cmp(&b.1.value()));
    for (name, d) in below.into_iter().chain(above) {
        let part = hole::engaged(t.major, d, t.pitch, full).value();
        let then = if part > 0.9 {
            "too much: the tap binds and breaks; open the hole with a broach first"
        } else if part < 0.5 {
            "too little to hold but a light load; a longer thread makes up for it"
        } else {
            "enough"
        };
        book.cure(verdict.id(), format!("not as wanted: the shop's {name} leaves {}, {then}", percent(part)));
    }
}
/// Cures of the verdict that the shop has no tap or die of a thread: one of the same size and another pitch, the next
/// thinner and the next thicker.
pub fn threads(book: &mut Book, verdict: &Val<bool>, have: &[Arc<Thread>], t: &Thread, what: &str) {
    let same = have.iter().filter(|o| o.name != t.name && (o.major - t.major).abs() < Length::mm(0.005));
    for other in same {
        book.cure(
            verdict.id(),
            format!(
                "change the thread to {}, of which the shop has the {what}: as thick, its pitch {} in place of {}",
                other.name,
                other.pitch.shown(),
                t.pitch.shown()
            ),
        );
    }
    let thinner = have.iter().filter(|o| o.major < t.major - Length::mm(0.005));
    let thicker = have.iter().filter(|o| o.major > t.major + Length::mm(0.005));
    let order = |a: &&Arc<Thread>, b: &&Arc<Thread>| a.major.value().total_cmp(&b.major.value());
    for (other, word) in thinner
        .max_by(order)
        .map(|o| (o, "thinner"))
        .into_iter()
        .chain(thicker.min_by(order).map(|o| (o, "thicker")))
    {
        book.cure(
            verdict.id(),
            format!(
                "change the thread to {}, of which the shop has the {what}: {word} by {}",
                other.name,
                (other.major - t.major).abs().shown()
            ),
        );
    }
}
