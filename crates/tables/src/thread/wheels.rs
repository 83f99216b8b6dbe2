//! Change wheels: every train a shop's wheels can make, best first.

use super::form::cot;
use super::under;
use reckon::{Alternative, Angle, Book, Count, Id, Length, Ratio, Source, Trouble, Val};

static WHEELS: Source = Source::derived("every train of two and four of the shop's wheels");

/// A train from spindle to leadscrew: the product of drivers over the product of driven turns the leadscrew.
#[derive(Clone, PartialEq, Debug)]
pub struct Train {
    /// Driving wheels, the one on the spindle's stud first.
    pub drivers: Vec<u32>,
    /// Driven wheels, the one on the leadscrew last.
    pub driven: Vec<u32>,
    /// Lead that it cuts.
    pub lead: Length,
    /// Lead cut over lead wanted, less one.
    pub error: Ratio,
}
impl Train {
    /// `27/50` or `20/63 × 40/80`.
    #[must_use]
    pub fn text(&self) -> String {
        let pairs = self.drivers.iter().zip(&self.driven);
        pairs.map(|(a, b)| format!("{a}/{b}")).collect::<Vec<_>>().join(" × ")
    }
    /// Error in parts for a million.
    #[must_use]
    pub fn ppm(&self) -> f64 {
        self.error.value() * 1e6
    }
}
/// How much larger a screw with this error measures to a nut: |e| × engaged length × cot a.
#[must_use]
pub fn virtual_rise(error: Ratio, engaged: Length, half_angle: Angle) -> Length {
    engaged * (error.value().abs() * cot(half_angle))
}
/// What a lathe has for wheels.
#[derive(Clone, PartialEq, Debug)]
pub struct Wheels<'a> {
    /// Tooth counts; a count stands as often as the shop has the wheel.
    pub counts: &'a [u32],
    /// Advance of the leadscrew for one turn.
    pub leadscrew: Length,
    /// Turns of the first stud for one turn of the spindle, from what is fixed between them.
    pub fixed: Ratio,
    /// Teeth that a wheel must stay clear of the next stud: a driver and its driven wheel must together have so many
    /// more than the wheel beside them. Nothing leaves the check out.
    pub clear: u32,
}
/// Every train of two and four wheels with an error within `most`, in a fixed order: smallest error, then fewest
/// wheels, then fewest teeth, then smallest wheels in order.
///
/// The search is complete: each pair of drivers with each pair of driven wheels, in the one order that fits the studs.
#[must_use]
pub fn trains(wheels: &Wheels<'_>, lead: Length, most: Ratio) -> Vec<Train> {
    let mut counts = wheels.counts.to_vec();
    counts.sort_unstable();
    let target = (lead / wheels.leadscrew).value() / wheels.fixed.value();
    let mut found: Vec<Train> = Vec::new();
    let mut keep = |drivers: Vec<u32>, driven: Vec<u32>| {
        // Whole products are exact, so equal trains have equal errors to the last bit.
        let product = |all: &[u32]| all.iter().map(|n| f64::from(*n)).product::<f64>();
        let ratio = product(&drivers) / product(&driven);
        let error = ratio / target - 1.0;
        // The written lead and the leadscrew are rounded once each: that much is no error of the train.
        let error = if error.abs() < 4.0 * f64::EPSILON { 0.0 } else { error };
        if error.abs() <= most.value() {
            let lead = wheels.leadscrew * (ratio * wheels.fixed.value());
            found.push(Train { drivers, driven, lead, error: Ratio::si(error) });
        }
    };
    let n = counts.len();
    for i in 0..n {
        for j in (0..n).filter(|j| *j != i) {
            keep(vec![counts[i]], vec![counts[j]]);
        }
    }
    for i in 0..n {
        for k in i + 1..n {
            for j in (0..n).filter(|j| *j != i && *j != k) {
                for l in (j + 1..n).filter(|l| *l != i && *l != k) {
                    let (a, c, b, d) = (counts[i], counts[k], counts[j], counts[l]);
                    if let Some((drivers, driven)) = arrange([a, c], [b, d], wheels.clear) {
                        keep(drivers.to_vec(), driven.to_vec());
                    }
                }
            }
        }
    }
    found.sort_by(|x, y| {
        let teeth = |t: &Train| t.drivers.iter().chain(&t.driven).sum::<u32>();
        let error = x.error.value().abs().total_cmp(&y.error.value().abs());
        let size = x.drivers.len().cmp(&y.drivers.len()).then(teeth(x).cmp(&teeth(y)));
        error.then(size).then_with(|| (&x.drivers, &x.driven).cmp(&(&y.drivers, &y.driven)))
    });
    found.dedup_by(|x, y| x.drivers == y.drivers && x.driven == y.driven);
    found
}
/// A train chosen in the book.
#[derive(Clone, Debug)]
pub struct Geared {
    /// The train.
    pub train: Train,
    /// Its text, as `train` under the prefix.
    pub text: Val<String>,
    /// Lead that it cuts, as `lead_made`.
    pub lead: Val<Length>,
    /// Error of the lead, as `error`.
    pub error: Val<Ratio>,
}
/// The best of [`trains`] written under `prefix` with the next best beside it; `inputs` are the shop's wheels in the book.
///
/// # Errors
/// When no train comes near enough.
pub fn geared(
    book: &mut Book,
    prefix: &str,
    wheels: &Wheels<'_>,
    lead: Val<Length>,
    most: Ratio,
    mut inputs: Vec<Id>,
) -> Result<Geared, Trouble> {
    let found = trains(wheels, lead.bare(), most);
    let Some(best) = found.first() else {
        return Err(Trouble::unmakeable("no train of these wheels comes near enough to the lead")
            .cure("allow a larger error of the lead, or add a wheel"));
    };
    inputs.insert(0, lead.id());
    let among = found.iter().take(6).enumerate().map(|(i, t)| Alternative {
        what: t.text(),
        taken: i == 0,
        why: format!("{} parts in a million", reckon::print::significant(t.ppm(), 4)),
    });
    let name = |n: &str| under(prefix, n);
    let rule = "smallest error, then fewest wheels, then fewest teeth";
    let text = book.chosen(name("train"), best.text(), rule, among.collect(), inputs, &WHEELS);
    let how = || (format!("train {}", best.text()), 0, 0.0);
    let rests = vec![text.id(), lead.id()];
    let count = Count(i64::try_from(found.len()).unwrap_or(i64::MAX));
    book.solved(name("found"), count, how(), rests.clone(), &WHEELS);
    Ok(Geared {
        lead: book.solved(name("lead_made"), best.lead, how(), rests.clone(), &WHEELS),
        error: book.solved(name("error"), best.error, how(), rests, &WHEELS),
        train: best.clone(),
        text,
    })
}
/// The first order of four wheels in which neither middle wheel fouls a stud: a/b × c/d with a + b > c + clear and
/// c + d > b + clear.
fn arrange(drivers: [u32; 2], driven: [u32; 2], clear: u32) -> Option<([u32; 2], [u32; 2])> {
    let orders = [
        (drivers, driven),
        (drivers, [driven[1], driven[0]]),
        ([drivers[1], drivers[0]], driven),
        ([drivers[1], drivers[0]], [driven[1], driven[0]]),
    ];
    let fits =
        |([a, c], [b, d]): &([u32; 2], [u32; 2])| clear == 0 || (a + b > c + clear && c + d > b + clear);
    orders.into_iter().find(fits)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shop(counts: &[u32]) -> Wheels<'_> {
        Wheels { counts, leadscrew: Length::mm(1.5), fixed: Ratio::si(1.0), clear: 15 }
    }
    #[test]
    fn the_search_is_complete_and_ordered() {
        let counts = [20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 38, 66];
        let all = trains(&shop(&counts), Length::mm(0.5), Ratio::si(0.002));
        assert!(all.windows(2).all(|w| w[0].error.value().abs() <= w[1].error.value().abs()));
        assert_eq!(all[0].text(), "20/60");
        // Counted another way: every ordered choice of four different places, halved twice for order.
        let mut hits = 0;
        for a in 0..counts.len() {
            for c in 0..a {
                for b in 0..counts.len() {
                    for d in 0..b {
                        let distinct = ![a, c].contains(&b) && ![a, c].contains(&d);
                        let r = f64::from(counts[a] * counts[c]) / f64::from(counts[b] * counts[d]);
                        let fits = arrange([counts[a], counts[c]], [counts[b], counts[d]], 15).is_some();
                        hits += usize::from(distinct && fits && (r * 3.0 - 1.0).abs() <= 0.002);
                    }
                }
            }
        }
        assert_eq!(all.iter().filter(|t| t.drivers.len() == 2).count(), hits);
    }
    #[test]
    fn the_order_of_the_shop_list_does_not_matter() {
        let a = trains(&shop(&[20, 63, 40, 80, 50, 55, 30, 45]), Length::inch(1.0 / 32.0), Ratio::si(0.01));
        let b = trains(&shop(&[80, 45, 55, 50, 30, 40, 63, 20]), Length::inch(1.0 / 32.0), Ratio::si(0.01));
        assert!(!a.is_empty());
        assert_eq!(a, b);
    }
    #[test]
    fn a_single_wheel_is_not_used_twice() {
        let one = trains(&shop(&[20, 60]), Length::mm(0.5 / 3.0), Ratio::si(0.001));
        assert!(one.is_empty());
        let two =
            trains(&Wheels { clear: 0, ..shop(&[20, 20, 60, 60]) }, Length::mm(1.5 / 9.0), Ratio::si(1e-9));
        assert_eq!(two[0].text(), "20/60 × 20/60");
    }
}
