//! All trains, or the best few with the reason for their order.

use super::stage::{Going, Stage, Train, even_order, orders, pairings, told};
use super::sweep::{Cover, Go, Progress, sweep};
use super::wanted::{Told, Wanted};
use super::wish::{Figure, Wish, off, reason};
use reckon::Trouble;
use reckon::exact::Fraction;

/// A list longer than this is not kept; [`best`] still counts all of it.
pub const MOST: usize = 1_000_000;

/// Every train that gives what is wanted, in rising order.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Found {
    /// The trains.
    pub trains: Vec<Train>,
    /// How much was searched; not complete when the search was stopped or the list grew past [`MOST`].
    pub cover: Cover,
}
/// Lists every train that gives what is wanted, in rising order of counts.
///
/// `progress` is told how far the search has come and says whether to go on.
///
/// # Errors
/// When the request cannot be read: no stage or more than four, counts of nothing, too many digits.
pub fn search(wanted: &Wanted, progress: &mut dyn FnMut(Progress) -> bool) -> Result<Found, Trouble> {
    let plan = wanted.plan()?;
    let mut trains = Vec::new();
    let cover = sweep(&plan, progress, &mut |wheels, pinions, escape| {
        if too_many_leaf_counts(wanted, pinions) {
            return Go::Passed;
        }
        let before = trains.len();
        told((wheels, pinions, escape), &wanted.limits, wanted.told, &mut |train| {
            trains.push(train);
            trains.len() <= MOST
        });
        match trains.len() {
            n if n > MOST => Go::Stop,
            n if n > before => Go::Found,
            _ => Go::Passed,
        }
    });
    trains.truncate(MOST);
    trains.sort_unstable();
    Ok(Found { trains, cover })
}
/// `pinions` are in rising order.
pub(super) fn too_many_leaf_counts(wanted: &Wanted, pinions: &[u32]) -> bool {
    wanted.limits.most_leaf_counts.is_some_and(|most| pinions.chunk_by(|a, b| a == b).count() > most)
}

/// A train and how it serves the wishes.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Scored {
    /// The train.
    pub train: Train,
    /// A figure for each wish, in their order; the less the better.
    pub figures: Vec<Figure>,
    /// How far the ratio is from what would be exact, as a share of it: more than nothing when it is greater.
    pub error: Fraction,
    /// Why it stands before the next; empty for the last that was found.
    pub reason: String,
}
/// The best few of all trains.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Ranked {
    /// Best first.
    pub best: Vec<Scored>,
    /// How many trains give what is wanted, these among them.
    pub found: u64,
    /// How much was searched.
    pub cover: Cover,
}
/// A train with what it is ranked by: wishes in order, then the order of a going train, then its counts.
type Rank = (Vec<Figure>, Going, Train);

/// Finds all trains, counts them, and keeps the `keep` best by the wishes, taken one after another.
///
/// Of a set of counts the order that serves the wishes best is taken, then the one of
/// [`going_order`](super::going_order); what is still equal stands in rising order of counts, so
/// that the same request always gives the same list.
///
/// # Errors
/// As [`search`]; and when an error has too many digits to be compared.
pub fn best(
    wanted: &Wanted,
    wishes: &[Wish],
    keep: usize,
    progress: &mut dyn FnMut(Progress) -> bool,
) -> Result<Ranked, Trouble> {
    let plan = wanted.plan()?;
    // One more than asked for, so that the last one's reason can be given too.
    let keep = keep.clamp(1, 1_000) + 1;
    let mut kept: Vec<Rank> = Vec::new();
    let (mut found, mut too_long) = (0_u64, false);
    // The first wishes that do not look at the order settle most sets without trying all orders.
    let quick: Vec<&Wish> = wishes.iter().take_while(|w| !w.looks_at_order()).collect();
    let cover = sweep(&plan, progress, &mut |wheels, pinions, escape| {
        if too_many_leaf_counts(wanted, pinions) {
            return Go::Passed;
        }
        let any: Vec<Stage> =
            wheels.iter().zip(pinions).map(|(w, p)| Stage { wheel: *w, pinion: *p }).collect();
        let Some(first) =
            quick.iter().map(|w| w.figure(&any, escape, wanted)).collect::<Option<Vec<Figure>>>()
        else {
            too_long = true;
            return Go::Stop;
        };
        let hopeless = kept.len() == keep && kept[keep - 1].0[..first.len()] < first[..];
        let (many, ranks) = if hopeless {
            (how_many(wanted, wheels, pinions), Some(Vec::new()))
        } else {
            ranked(wanted, wishes, (wheels, pinions, escape), first.len(), &first)
        };
        let Some(ranks) = ranks else {
            too_long = true;
            return Go::Stop;
        };
        found += many;
        for rank in ranks {
            let at = kept.partition_point(|k| *k < rank);
            if at < keep {
                kept.insert(at, rank);
                kept.truncate(keep);
            }
        }
        if many > 0 { Go::Found } else { Go::Passed }
    });
    if too_long {
        return Err(Trouble::text("an error has too many digits to be compared exactly")
            .cure("give the value with up to 12 digits"));
    }
    let mut all = Vec::new();
    for (i, (figures, _, train)) in kept.iter().enumerate() {
        let next = kept.get(i + 1).map(|(f, _, t)| (f.as_slice(), t));
        all.push(Scored {
            reason: next.map_or(String::new(), |b| reason(wishes, (figures, train), b)),
            error: off(&train.stages, train.escape, wanted).unwrap_or(Fraction::ZERO),
            figures: figures.clone(),
            train: train.clone(),
        });
    }
    all.truncate(keep - 1);
    Ok(Ranked { best: all, found, cover })
}
/// How many trains a set makes, as the search tells them apart.
fn how_many(wanted: &Wanted, wheels: &[u32], pinions: &[u32]) -> u64 {
    if wanted.told == Told::Sets && !wanted.limits.bind_stages() {
        return 1;
    }
    let mut many = 0;
    orders(wheels, pinions, &wanted.limits, &mut |_| {
        many += 1;
        wanted.told == Told::Orders
    });
    many
}
/// The trains of a set with their ranks: one for a set, each for orders; nothing when a figure is too long.
fn ranked(
    wanted: &Wanted,
    wishes: &[Wish],
    (wheels, pinions, escape): (&[u32], &[u32], Option<u32>),
    known: usize,
    first: &[Figure],
) -> (u64, Option<Vec<Rank>>) {
    let mut ranks: Vec<Rank> = Vec::new();
    let (mut many, mut long) = (0, false);
    let mut weigh = |stages: &[Stage]| {
        let rest = wishes[known..].iter().map(|w| w.figure(stages, escape, wanted));
        let Some(rest) = rest.collect::<Option<Vec<Figure>>>() else {
            long = true;
            return false;
        };
        let figures = first.iter().copied().chain(rest).collect();
        let rank = (figures, Going::of(stages), Train { stages: stages.to_vec(), escape });
        match (wanted.told, ranks.last_mut()) {
            (Told::Sets, Some(best)) if rank >= *best => {}
            (Told::Sets, Some(best)) => *best = rank,
            _ => {
                ranks.push(rank);
                many += 1;
            }
        }
        true
    };
    let sets = wanted.told == Told::Sets;
    let even = sets && wishes.iter().all(Wish::served_by_even_order);
    let order_counts =
        wanted.limits.bind_single_stages() || wishes.iter().any(|w| matches!(w, Wish::SecondsHand(_)));
    match even.then(|| even_order(wheels, pinions, &wanted.limits)).flatten() {
        Some(stages) => _ = weigh(&stages),
        None if sets && !order_counts => pairings(wheels, pinions, &wanted.limits, &mut weigh),
        None => orders(wheels, pinions, &wanted.limits, &mut weigh),
    }
    (many, (!long).then_some(ranks))
}
