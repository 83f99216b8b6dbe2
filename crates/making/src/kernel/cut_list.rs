//! Which piece is sawn from which bar.
//!
//! Every piece takes its length and a kerf, except one that ends exactly on the end of the bar: a bar of length L
//! therefore takes pieces of length + kerf up to L + kerf together.

use super::stock::{length, micrometres};
use reckon::{Length, Source};

/// The search.
pub static SEARCH: Source = Source::derived(
    "all arrangements by branch and bound where that ends, else longest piece into the fullest bar it fits",
);

/// Bars of one length.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Bars {
    /// Usable length of each.
    pub length: Length,
    /// How many there are; `None` when more can be had.
    pub on_hand: Option<u32>,
}
/// A bar and what is sawn from it.
#[derive(Clone, PartialEq, Debug)]
pub struct Sawn {
    /// Which of the bars offered.
    pub bar: usize,
    /// Which of the pieces asked for, in the order of sawing.
    pub pieces: Vec<usize>,
    /// What is left after the last kerf.
    pub left: Length,
}
/// The answer.
#[derive(Clone, PartialEq, Debug)]
pub struct Plan {
    /// Bars to saw.
    pub sawn: Vec<Sawn>,
    /// Pieces for which no bar is left.
    pub lacking: Vec<usize>,
    /// No arrangement takes less bar (or none takes them all, where pieces are lacking).
    pub proved: bool,
    /// Arrangements looked at.
    pub looked_at: u64,
}
impl Plan {
    /// All bars sawn into, together.
    #[must_use]
    pub fn opened(&self, bars: &[Bars]) -> Length {
        self.sawn.iter().map(|s| bars[s.bar].length).sum()
    }
}

/// Arrangements after which the search gives up proving.
const PATIENCE: u64 = 1_000_000;

/// The pieces cut from the least length of bars opened (then the fewest bars). Exact for up to 20 pieces; for more, or
/// when the search runs out of patience, the better of best fit and what was found, not proved.
///
/// Pieces must have a length; bars without one are passed over. What cannot be placed at all is listed as lacking.
#[must_use]
pub fn plan(pieces: &[Length], bars: &[Bars], kerf: Length) -> Plan {
    let asked = Asked::new(pieces, bars, kerf);
    let fitted = best_fit(&asked);
    let exact = asked.needs.len() <= 20;
    let largest = asked.rooms.iter().copied().max().unwrap_or(0);
    let hopeless = asked.needs.iter().any(|n| *n > largest);
    let mut search = Search {
        stock: asked.stock.clone(),
        open: Vec::new(),
        put: vec![0; asked.needs.len()],
        best: None,
        best_cost: if fitted.lacking.is_empty() { fitted.cost(&asked) } else { (i64::MAX, usize::MAX) },
        looked_at: 0,
        asked: &asked,
    };
    if exact && !hopeless {
        search.place(0, 0);
    }
    let ended = exact && search.looked_at < PATIENCE;
    let looked_at = search.looked_at;
    match search.best {
        Some((open, put)) => asked.plan(&Found { open, put, lacking: Vec::new() }, ended, looked_at),
        // Nothing beats best fit; where that lacks pieces and the search ended, nothing takes them all.
        None => asked.plan(&fitted, ended || hopeless, looked_at),
    }
}
/// The quick answer: longest piece first, each into the fullest bar it fits, a new bar being the shortest that takes it.
#[must_use]
pub fn quick(pieces: &[Length], bars: &[Bars], kerf: Length) -> Plan {
    let asked = Asked::new(pieces, bars, kerf);
    asked.plan(&best_fit(&asked), false, 0)
}
/// Pieces and bars in micrometres, longest piece first.
struct Asked {
    order: Vec<usize>,
    needs: Vec<i64>,
    rooms: Vec<i64>,
    stock: Vec<u32>,
    kerf: i64,
}
impl Asked {
    fn new(pieces: &[Length], bars: &[Bars], kerf: Length) -> Asked {
        let kerf = micrometres(kerf).max(0);
        let mut order: Vec<usize> = (0..pieces.len()).collect();
        order.sort_by_key(|i| (-micrometres(pieces[*i]), *i));
        Asked {
            needs: order.iter().map(|i| micrometres(pieces[*i]) + kerf).collect(),
            rooms: bars.iter().map(|b| micrometres(b.length) + kerf).collect(),
            stock: bars.iter().map(|b| b.on_hand.unwrap_or(u32::MAX)).collect(),
            order,
            kerf,
        }
    }
    fn plan(&self, found: &Found, proved: bool, looked_at: u64) -> Plan {
        let left = |o: &Open| length((o.room - self.kerf).max(0));
        let mut sawn: Vec<Sawn> =
            found.open.iter().map(|o| Sawn { bar: o.bar, pieces: Vec::new(), left: left(o) }).collect();
        for (at, bin) in found.put.iter().enumerate() {
            if !found.lacking.contains(&at) {
                sawn[*bin].pieces.push(self.order[at]);
            }
        }
        let lacking = found.lacking.iter().map(|at| self.order[*at]).collect();
        Plan { sawn, lacking, proved, looked_at }
    }
}

/// A bar that has been opened.
#[derive(Copy, Clone, Debug)]
struct Open {
    bar: usize,
    /// Room left, a kerf more than the length left.
    room: i64,
}
struct Found {
    open: Vec<Open>,
    put: Vec<usize>,
    lacking: Vec<usize>,
}
impl Found {
    fn cost(&self, asked: &Asked) -> (i64, usize) {
        (self.open.iter().map(|o| asked.rooms[o.bar] - asked.kerf).sum(), self.open.len())
    }
}
fn best_fit(asked: &Asked) -> Found {
    let mut stock = asked.stock.clone();
    let mut f = Found { open: Vec::new(), put: vec![0; asked.needs.len()], lacking: Vec::new() };
    for (at, need) in asked.needs.iter().enumerate() {
        let fullest = (0..f.open.len()).filter(|i| f.open[*i].room >= *need).min_by_key(|i| f.open[*i].room);
        let usable = |b: &usize| stock[*b] > 0 && asked.rooms[*b] >= *need && asked.rooms[*b] > asked.kerf;
        let fresh = (0..asked.rooms.len()).filter(usable).min_by_key(|b| asked.rooms[*b]);
        match (fullest, fresh) {
            (Some(i), _) => {
                f.open[i].room -= need;
                f.put[at] = i;
            }
            (None, Some(b)) => {
                stock[b] -= 1;
                f.put[at] = f.open.len();
                f.open.push(Open { bar: b, room: asked.rooms[b] - need });
            }
            (None, None) => f.lacking.push(at),
        }
    }
    f
}

struct Search<'a> {
    asked: &'a Asked,
    stock: Vec<u32>,
    open: Vec<Open>,
    put: Vec<usize>,
    best: Option<(Vec<Open>, Vec<usize>)>,
    best_cost: (i64, usize),
    looked_at: u64,
}
impl Search<'_> {
    fn place(&mut self, at: usize, opened: i64) {
        if self.looked_at >= PATIENCE {
            return;
        }
        self.looked_at += 1;
        if at == self.asked.needs.len() {
            let cost = (opened, self.open.len());
            if cost < self.best_cost {
                self.best_cost = cost;
                self.best = Some((self.open.clone(), self.put.clone()));
            }
            return;
        }
        // What is still to be placed must go into the room there is or into bars not yet opened: no less than that
        // much more is opened, and no less than the shortest bar once anything is.
        let rest: i64 = self.asked.needs[at..].iter().sum();
        let room: i64 = self.open.iter().map(|o| o.room).sum();
        let short = rest - room;
        let mut bound = (opened, self.open.len());
        if short > 0 {
            let usable = || {
                (0..self.asked.rooms.len())
                    .filter(|b| self.stock[*b] > 0 && self.asked.rooms[*b] > self.asked.kerf)
            };
            let Some(longest) = usable().map(|b| self.asked.rooms[b]).max() else { return };
            let Some(shortest) = usable().map(|b| self.asked.rooms[b]).min() else { return };
            let bars = (short + longest - 1) / longest;
            // Each bar opened gives its length and a kerf of room.
            bound.0 += (short - bars_at_most(short, shortest) * self.asked.kerf)
                .max(bars * (shortest - self.asked.kerf));
            bound.1 += usize::try_from(bars).unwrap_or(usize::MAX);
        }
        if bound >= self.best_cost {
            return;
        }
        // Pieces of one length go into bars in order: the others are the same arrangement again.
        let same = at > 0 && self.asked.needs[at] == self.asked.needs[at - 1];
        let from = if same { self.put[at - 1] } else { 0 };
        let need = self.asked.needs[at];
        let mut tried: Vec<(usize, i64)> = Vec::new();
        for i in from..self.open.len() {
            let o = self.open[i];
            if o.room < need || tried.contains(&(o.bar, o.room)) {
                continue;
            }
            tried.push((o.bar, o.room));
            self.open[i].room -= need;
            self.put[at] = i;
            self.place(at + 1, opened);
            self.open[i].room += need;
        }
        let mut lengths: Vec<i64> = Vec::new();
        for b in 0..self.asked.rooms.len() {
            let room = self.asked.rooms[b];
            if self.stock[b] == 0 || room < need || room <= self.asked.kerf || lengths.contains(&room) {
                continue;
            }
            lengths.push(room);
            self.stock[b] -= 1;
            self.open.push(Open { bar: b, room: room - need });
            self.put[at] = self.open.len() - 1;
            self.place(at + 1, opened + room - self.asked.kerf);
            self.open.pop();
            self.stock[b] += 1;
        }
    }
}
/// At most so many bars are opened for `short` when each is at least `shortest`: the last may be hardly used.
fn bars_at_most(short: i64, shortest: i64) -> i64 {
    (short + shortest - 1) / shortest.max(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(all: &[f64]) -> Vec<Length> {
        all.iter().map(|l| Length::mm(*l)).collect()
    }
    fn bars(all: &[(f64, Option<u32>)]) -> Vec<Bars> {
        all.iter().map(|(l, n)| Bars { length: Length::mm(*l), on_hand: *n }).collect()
    }
    /// Every arrangement of pieces into numbered bars, without any pruning; least length opened.
    fn exhaustive(pieces: &[i64], each: &[i64], kerf: i64) -> Option<i64> {
        fn go(
            at: usize,
            pieces: &[i64],
            rooms: &mut Vec<i64>,
            used: &mut Vec<bool>,
            each: &[i64],
            kerf: i64,
        ) -> Option<i64> {
            if at == pieces.len() {
                return Some(each.iter().zip(used.iter()).filter(|(_, u)| **u).map(|(l, _)| l).sum());
            }
            let mut best = None;
            for i in 0..each.len() {
                let need = pieces[at] + kerf;
                if rooms[i] >= need {
                    let was = used[i];
                    rooms[i] -= need;
                    used[i] = true;
                    if let Some(c) = go(at + 1, pieces, rooms, used, each, kerf) {
                        best = Some(best.map_or(c, |b: i64| b.min(c)));
                    }
                    rooms[i] += need;
                    used[i] = was;
                }
            }
            best
        }
        let mut rooms = each.iter().map(|l| l + kerf).collect();
        go(0, pieces, &mut rooms, &mut vec![false; each.len()], each, kerf)
    }
    #[test]
    fn branch_and_bound_agrees_with_all_arrangements() {
        // A plain congruential sequence: the same lists on every machine.
        let mut seed: u64 = 12345;
        let mut next = |n: u64| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            i64::try_from((seed >> 33) % n).unwrap()
        };
        let mut lacking = 0;
        for _ in 0..400 {
            let pieces: Vec<i64> = (0..=next(7)).map(|_| 10 + 6 * next(9)).collect();
            let each: Vec<i64> = (0..=next(4)).map(|_| 60 + 15 * next(5)).collect();
            let kerf = next(4);
            let lengths: Vec<Length> = pieces.iter().map(|p| length(p * 1000)).collect();
            let offered: Vec<Bars> =
                each.iter().map(|l| Bars { length: length(l * 1000), on_hand: Some(1) }).collect();
            let got = plan(&lengths, &offered, length(kerf * 1000));
            assert!(got.proved);
            match exhaustive(&pieces, &each, kerf) {
                Some(want) => {
                    assert!(got.lacking.is_empty());
                    assert_eq!(micrometres(got.opened(&offered)), want * 1000, "{pieces:?} {each:?} {kerf}");
                }
                None => {
                    lacking += 1;
                    assert!(!got.lacking.is_empty(), "{pieces:?} {each:?} {kerf}");
                }
            }
            sound(&got, &lengths, &offered, length(kerf * 1000));
        }
        assert!(lacking > 20 && lacking < 380);
    }
    /// Every piece once, no bar overfull, no bar used more often than there is.
    fn sound(plan: &Plan, pieces: &[Length], offered: &[Bars], kerf: Length) {
        let mut seen: Vec<usize> =
            plan.sawn.iter().flat_map(|s| s.pieces.clone()).chain(plan.lacking.clone()).collect();
        seen.sort_unstable();
        assert_eq!(seen, (0..pieces.len()).collect::<Vec<_>>());
        for s in &plan.sawn {
            let taken: i64 = s.pieces.iter().map(|p| micrometres(pieces[*p]) + micrometres(kerf)).sum();
            let bar = micrometres(offered[s.bar].length);
            assert!(taken <= bar + micrometres(kerf));
            assert_eq!(micrometres(s.left), (bar - taken).max(0));
        }
        for (i, b) in offered.iter().enumerate() {
            let used = plan.sawn.iter().filter(|s| s.bar == i).count();
            assert!(b.on_hand.is_none_or(|n| used <= n as usize));
        }
    }
    #[test]
    fn first_fit_is_beaten() {
        // Decreasing order fills 6+6, 5+… badly; 20 = 10+6+4 is met only by looking back.
        let pieces = mm(&[44.0, 24.0, 24.0, 22.0, 21.0, 17.0, 8.0, 8.0, 6.0, 6.0]);
        let offered = bars(&[(60.0, None)]);
        let got = plan(&pieces, &offered, Length::ZERO);
        assert!(got.proved);
        assert_eq!(got.sawn.len(), 3);
        sound(&got, &pieces, &offered, Length::ZERO);
    }
    #[test]
    fn a_remnant_is_used_before_a_new_bar() {
        let offered = bars(&[(1000.0, None), (130.0, Some(1))]);
        let got = plan(&mm(&[60.0, 60.0]), &offered, Length::mm(2.0));
        assert_eq!(got.sawn.len(), 1);
        assert_eq!(got.sawn[0].bar, 1);
        assert!((got.sawn[0].left.in_mm() - 6.0).abs() < 1e-9);
    }
    #[test]
    fn many_pieces_are_not_proved() {
        let pieces = mm(&vec![37.0; 45]);
        let offered = bars(&[(500.0, None)]);
        let got = plan(&pieces, &offered, Length::mm(1.5));
        assert!(!got.proved);
        assert_eq!(got.sawn.len(), 4);
        sound(&got, &pieces, &offered, Length::mm(1.5));
    }
    #[test]
    fn what_no_bar_takes_is_lacking() {
        let offered = bars(&[(100.0, Some(2))]);
        let got = plan(&mm(&[120.0, 50.0]), &offered, Length::mm(2.0));
        assert_eq!(got.lacking, vec![0]);
        assert!(got.proved);
        assert_eq!(plan(&mm(&[10.0]), &[], Length::ZERO).lacking, vec![0]);
    }
}
