//! Drilling cycles, written out as the moves that they are.

use reckon::exact::Fraction;

use super::state::{Line, State};
use super::words::Word;
use crate::control::Plane;
use crate::fault::{Fault, Spot, Wrong};
use crate::moves::{Does, Place};

/// What a cycle keeps from line to line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Cycle {
    depth: f64,
    near: f64,
    /// Height before the cycle began.
    high: f64,
    peck: Option<f64>,
    wait: Option<f64>,
}

/// Most pecks that one hole may take.
const MOST_PECKS: u32 = 10_000;

impl State<'_> {
    pub(super) fn cycle_line(&mut self, line: &mut Line<'_>, number: i64, explicit: Option<&Word>) {
        let spot = line.block.spot;
        let before = self.at;
        let depth = line.block.words.iter().any(|word| word.letter == 'Z');
        let near = line.letter('R');
        let peck = line.letter('Q');
        let wait = line.letter('P');
        let target = self.target(line);
        if target.is_none() && explicit.is_none() {
            return;
        }
        if !self.stated(spot) {
            return;
        }
        if self.plane != Some(Plane::Xy) || !self.absolute() {
            self.tell(
                Fault::new(Wrong::NotFollowed, spot, "a cycle elsewhere than in G17 and G90 is not followed")
                    .cure("write its moves"),
            );
            return;
        }
        let to = target.unwrap_or(before);
        let [Some(x), Some(y), Some(z)] = before.map(|value| value.map(Fraction::to_f64)) else {
            self.tell(
                Fault::new(Wrong::UnknownStart, spot, "a cycle from a place that is not known")
                    .cure("go near it by a rapid first"),
            );
            return;
        };
        let near = near.and_then(|word| self.length(&word, true)).map(Fraction::to_f64);
        let peck = peck.and_then(|word| self.length(&word, true)).map(Fraction::to_f64);
        let wait = wait.map(|word| word.value.to_f64());
        let last = self.cycle;
        let depth = if depth { to[2].map(Fraction::to_f64) } else { last.map(|cycle| cycle.depth) };
        let (Some(depth), Some(near)) = (depth, near.or(last.map(|cycle| cycle.near))) else {
            self.tell(
                Fault::new(Wrong::NoTarget, spot, "a cycle without depth or without R")
                    .cure("write Z and R in its first line"),
            );
            return;
        };
        let peck = peck.or(last.and_then(|cycle| cycle.peck));
        let wait = wait.or(last.and_then(|cycle| cycle.wait));
        if near < depth || (number == 83 && peck.is_none_or(|peck| peck <= 0.0)) {
            self.tell(
                Fault::new(
                    Wrong::NoTarget,
                    spot,
                    "the cycle's R lies below its depth, or its pecks are not above zero",
                )
                .cure("write R above Z, and Q above zero for G83"),
            );
            return;
        }
        let high = last.map_or(z, |cycle| cycle.high);
        let cycle = Cycle { depth, near, high, peck, wait };
        self.cycle = Some(cycle);
        let over = [to[0].map_or(x, Fraction::to_f64), to[1].map_or(y, Fraction::to_f64)];
        self.hole(spot, number, cycle, [x, y, z], over);
        let up = if self.return_high { cycle.high.max(cycle.near) } else { cycle.near };
        self.at = [to[0], to[1], Fraction::decimal(&format!("{up:.9}"))];
    }

    fn hole(&mut self, spot: Spot, number: i64, cycle: Cycle, from: Place, over: [f64; 2]) {
        let Cycle { depth, near, high, peck, wait } = cycle;
        let at = |z: f64| [over[0], over[1], z];
        let mut here = from;
        if from[2] < near {
            self.rapid(spot, &mut here, [from[0], from[1], near]);
        }
        self.rapid(spot, &mut here, at(from[2].max(near)));
        self.rapid(spot, &mut here, at(near));
        let mut done = near;
        let step = if number == 83 { peck.unwrap_or(near - depth) } else { near - depth };
        for _ in 0..MOST_PECKS {
            let next = (done - step).max(depth);
            let start = if done < near { (done + self.control.peck_clear).min(near) } else { near };
            self.rapid(spot, &mut here, at(start));
            let Some(feed) = self.feed_here(spot, here, at(next)) else { return };
            self.go(spot, Does::Line { from: here, to: at(next), feed });
            here = at(next);
            done = next;
            if done <= depth {
                break;
            }
            self.rapid(spot, &mut here, at(near));
        }
        if let Some(seconds) = wait.filter(|_| number == 82) {
            self.push(spot, Does::Dwell { seconds });
        }
        self.rapid(spot, &mut here, at(if self.return_high { high.max(near) } else { near }));
    }

    fn rapid(&mut self, spot: Spot, here: &mut Place, to: Place) {
        if crate::moves::apart(*here, to) > 0.0 {
            self.go(spot, Does::Rapid { from: *here, to });
        }
        *here = to;
    }
}
