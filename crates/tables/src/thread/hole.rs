//! Holes to be tapped: how much of a thread a drill leaves, and which drill to take.

use super::limits::NutLimits;
use super::{Family, Thread, under};
use reckon::{Alternative, Book, Diameter, Length, Ratio, Source, Val, work};

static PERCENT: Source = Source::read("Machinery's Handbook 31, p. 2155, percentage of full thread")
    .with_formula("% = 100 (D − drill) / (B P)");
static PICK: Source = Source::practice("the largest drill within the wanted engagement and the bore limits");

/// What counts as a hundred per cent, as a multiple of the pitch.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Base {
    /// The base of published drill tables: 60° threads 3/4 H each side, BA 1.2 P, Whitworth 1.280654 P.
    Tables,
    /// The thread that screw and nut share on paper: 60° threads 5/8 H each side; others as in the tables.
    True,
}
/// Difference of diameters at a hundred per cent, over the pitch.
#[must_use]
pub fn full(thread: &Thread, base: Base) -> Ratio {
    match (thread.family, base) {
        (Family::Iso | Family::Unified(_), Base::Tables) => super::form::OLD_US.nut_drop,
        _ => thread.form.nut_drop,
    }
}
/// Part of a full thread that a drill leaves: (D − drill) / (B P).
#[must_use]
pub fn engaged(major: Diameter, drill: Diameter, pitch: Length, full: Ratio) -> Ratio {
    (major - drill) / (pitch * full)
}
/// Drill that leaves a part of a full thread: D − part × B P; inverse of [`engaged`].
#[must_use]
pub fn drill_for(major: Diameter, part: Ratio, pitch: Length, full: Ratio) -> Diameter {
    major - pitch * full * part
}

/// A tap drill that was picked.
#[derive(Clone, Debug)]
pub struct TapDrill {
    /// Its place in the list that was offered.
    pub index: usize,
    /// Its diameter.
    pub drill: Val<Diameter>,
    /// Part of a full thread on the base of drill tables.
    pub engaged: Val<Ratio>,
    /// Whether it lies within the wanted engagement and the bore limits; otherwise it is the nearest there is.
    pub fits: bool,
}
/// Picks from the drills a shop has the largest that leaves `low` to `high` of a thread (base of drill tables) and lies
/// above the smallest and not above the largest bore; where none does, the one nearest to the middle of the wish.
/// Nothing when no drill is offered.
pub fn pick(
    book: &mut Book,
    prefix: &str,
    thread: &Thread,
    nut: &NutLimits,
    drills: &[(String, Diameter)],
    wish: (Ratio, Ratio),
) -> Option<TapDrill> {
    let (low, high) = wish;
    let full_ratio = full(thread, Base::Tables);
    let part = |d: Diameter| engaged(thread.major, d, thread.pitch, full_ratio);
    let (least, most) = (nut.minor_min.bare(), nut.minor_max.bare());
    let in_wish = |d: Diameter| part(d) >= low && part(d) <= high;
    let in_bore = |d: Diameter| d >= least && d <= most;
    let fit = |d: Diameter| in_wish(d) && in_bore(d);
    let middle = (low.value() + high.value()) / 2.0;
    let miss = |d: Diameter| (part(d).value() - middle).abs();
    let indexed = || drills.iter().enumerate().map(|(i, (_, d))| (i, *d));
    let best = indexed()
        .filter(|(_, d)| fit(*d))
        .max_by(|a, b| a.1.value().total_cmp(&b.1.value()).then(b.0.cmp(&a.0)))
        .or_else(|| {
            let bores = indexed().filter(|(_, d)| in_bore(*d));
            bores.min_by(|a, b| miss(a.1).total_cmp(&miss(b.1)).then(a.0.cmp(&b.0)))
        })
        .or_else(|| {
            let any = indexed().filter(|(_, d)| *d < thread.major);
            any.min_by(|a, b| miss(a.1).total_cmp(&miss(b.1)).then(a.0.cmp(&b.0)))
        })?;
    let (index, chosen) = best;
    // What was weighed: the drills around the one taken.
    let mut near: Vec<(usize, Diameter)> = indexed().filter(|(_, d)| *d < thread.major).collect();
    near.sort_by(|a, b| {
        (a.1 - chosen).abs().value().total_cmp(&(b.1 - chosen).abs().value()).then(a.0.cmp(&b.0))
    });
    near.truncate(5);
    near.sort_by(|a, b| a.1.value().total_cmp(&b.1.value()).then(a.0.cmp(&b.0)));
    let among = near.into_iter().map(|(i, d)| {
        let mut why = format!("{} %", reckon::print::significant(part(d).value() * 100.0, 3));
        if d < least {
            why += ", below the smallest bore";
        } else if d > most {
            why += ", above the largest bore";
        }
        if !in_wish(d) {
            why += ", outside the wish";
        }
        Alternative { what: drills[i].0.clone(), taken: i == index, why }
    });
    let rule = format!(
        "the largest drill that leaves {} to {} % and lies within the bore limits",
        reckon::print::significant(low.value() * 100.0, 3),
        reckon::print::significant(high.value() * 100.0, 3)
    );
    let inputs = vec![nut.minor_min.id(), nut.minor_max.id()];
    let drill = book.chosen(under(prefix, "tap_drill"), chosen, rule, among.collect(), inputs, &PICK);
    let engaged = worked_part(book, prefix, thread, drill, Base::Tables, "tap_drill.engaged");
    Some(TapDrill { index, drill, engaged, fits: fit(chosen) })
}
/// Part of a full thread that a drill leaves, as a working called `name`.
pub fn worked_part(
    book: &mut Book,
    prefix: &str,
    thread: &Thread,
    drill: Val<Diameter>,
    base: Base,
    name: &str,
) -> Val<Ratio> {
    let at = |n: &str| under(prefix, n);
    let major = book.tabled(at(&format!("{name}.major")), thread.major, thread.name.clone(), thread.source);
    let pitch = book.tabled(at(&format!("{name}.pitch")), thread.pitch, thread.name.clone(), thread.source);
    let full = full(thread, base);
    let full = book.tabled(at(&format!("{name}.full")), full, "a hundred per cent, over the pitch", &PERCENT);
    work!(book, at(name), |major, drill, pitch, full| engaged(major, drill, pitch, full), &PERCENT)
}

#[cfg(test)]
mod tests {
    use super::super::{find, nut_limits};
    use super::*;

    fn picked(thread: &str, drills: &[f64], low: f64, high: f64) -> (f64, bool) {
        let t = find(thread).unwrap();
        let mut book = Book::new();
        let nut = nut_limits(&mut book, "nut", &t, "").unwrap();
        let list: Vec<_> = drills.iter().map(|d| (format!("{d} mm"), Diameter::mm(*d))).collect();
        let p = pick(&mut book, "hole", &t, &nut, &list, (Ratio::si(low), Ratio::si(high))).unwrap();
        assert!(book.faults().is_empty(), "{:?}", book.faults());
        (p.drill.bare().in_mm(), p.fits)
    }
    #[test]
    fn the_largest_drill_that_fits() {
        assert_eq!(picked("M3", &[2.4, 2.5, 2.55, 2.6, 2.7], 0.65, 0.8), (2.55, true));
        assert_eq!(picked("M3", &[2.4, 2.5, 2.6], 0.5, 0.65), (2.5, false));
        assert_eq!(picked("2 BA", &[3.9, 4.0, 4.1], 0.65, 0.75), (4.0, true));
    }
}
