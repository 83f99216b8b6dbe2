//! Where the swing settles, from where it keeps going, and many beats in a row.

use crate::DAY;
use crate::beat::{Beat, Halt};
use crate::works::{Side, Works};
use reckon::Source;

/// How the settled arc is found.
pub static STEADY: Source = Source::derived("the arc that two beats leave as it was, by bracket and secant");

/// A swing that repeats itself.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Steady {
    /// Arc at the start of the entry pallet's beat (rad).
    pub arc: f64,
    /// The two beats.
    pub beats: [Beat; 2],
    /// By how much two beats change it (rad).
    pub residual: f64,
}
impl Steady {
    /// Time of a whole cycle of two beats.
    #[must_use]
    pub fn cycle(&self) -> f64 {
        self.beats[0].time + self.beats[1].time
    }
    /// Rate of a clock that is meant to beat once in `beat` seconds (s/day, gaining positive).
    #[must_use]
    pub fn rate(&self, beat: f64) -> f64 {
        DAY * (2.0 * beat - self.cycle()) / self.cycle()
    }
    /// Difference of the beats from even ones: half of what one is longer (s).
    #[must_use]
    pub fn uneven(&self) -> f64 {
        (self.beats[1].time - self.beats[0].time) / 2.0
    }
    /// Energy that wheel and pendulum lose to each other and the air in a cycle (J).
    #[must_use]
    pub fn lost(&self) -> f64 {
        self.beats[0].ledger.lost() + self.beats[1].ledger.lost()
    }
}
/// What many beats came to.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Ran {
    /// Beats completed.
    pub beats: u64,
    /// Time they took (s).
    pub time: f64,
    /// Arc at the end (rad).
    pub arc: f64,
    /// The pallet whose turn it is.
    pub side: Side,
    /// Why it stopped before the end.
    pub halt: Option<Halt>,
}
impl Works {
    /// Lets it go for so many beats from rest at an arc, every beat followed.
    pub fn run(&self, side: Side, arc: f64, torque: f64, beats: u64) -> Ran {
        self.run_with(side, arc, beats, |_, _| torque)
    }
    /// The same with a torque that depends on the number of the beat and the time so far.
    pub fn run_with(
        &self,
        mut side: Side,
        mut arc: f64,
        beats: u64,
        mut torque: impl FnMut(u64, f64) -> f64,
    ) -> Ran {
        // Times are added with what rounding left over.
        let (mut time, mut over) = (0.0_f64, 0.0_f64);
        for done in 0..beats {
            match self.quick(side, arc, torque(done, time)) {
                Ok(b) => {
                    let y = b.time - over;
                    let t = time + y;
                    over = (t - time) - y;
                    (time, arc, side) = (t, b.to, side.other());
                }
                Err(halt) => return Ran { beats: done, time, arc, side, halt: Some(halt) },
            }
        }
        Ran { beats, time, arc, side, halt: None }
    }
    /// Two beats from an arc: the arc they leave.
    pub(crate) fn cycle(&self, arc: f64, torque: f64) -> Result<f64, Halt> {
        let first = self.quick(Side::Entry, arc, torque)?;
        Ok(self.quick(Side::Exit, first.to, torque)?.to)
    }
    /// The arc that settles under a torque.
    ///
    /// # Errors
    /// Why there is none: it dies away, or swings beyond the pallets.
    pub fn steady(&self, torque: f64) -> Result<Steady, Halt> {
        // From above: the largest swing that the faces allow loses, or it over-banks.
        let reach = self.pallets.iter().map(|p| -p.reach()).fold(f64::INFINITY, f64::min);
        let needed = self.pallets.iter().map(super::works::Pallet::lets_off).fold(0.0, f64::max);
        let top = reach * (1.0 - 1e-9);
        let change = |a: f64| self.cycle(a, torque).map(|b| b - a);
        let mut high = top;
        let mut at_high = change(high);
        if at_high.is_ok_and(|d| d > 0.0) || matches!(at_high, Err(Halt::OverBanks { .. })) {
            // Gains even there.
            let side = Side::Entry;
            let over = Halt::OverBanks { side, reach: -reach };
            // A wheel hardly past the last face may still settle below it.
            let below = self.falls_below(&change, needed, top);
            match below {
                Some(a) => (high, at_high) = (a, change(a)),
                None => return Err(over),
            }
        }
        let mut d_high = at_high?;
        // Downwards until it gains.
        let mut low = high;
        let mut d_low = d_high;
        let mut why = None;
        while d_low <= 0.0 {
            let next = low * 0.93;
            if next < needed * 0.5 {
                return Err(why.unwrap_or(Halt::NoStart { side: Side::Entry, from: next }));
            }
            match change(next) {
                Ok(d) => {
                    if d <= 0.0 {
                        (high, d_high) = (next, d);
                    }
                    (low, d_low) = (next, d);
                }
                Err(halt) => {
                    why = Some(halt);
                    // Between this and the last there may still be a narrow place that gains.
                    let (mut yes, mut no) = (low, next);
                    for _ in 0..50 {
                        let middle = f64::midpoint(yes, no);
                        match change(middle) {
                            Ok(d) if d > 0.0 => {
                                (low, d_low) = (middle, d);
                                break;
                            }
                            Ok(d) => {
                                yes = middle;
                                (high, d_high) = (middle, d);
                            }
                            Err(_) => no = middle,
                        }
                    }
                    if d_low <= 0.0 {
                        return Err(halt);
                    }
                }
            }
        }
        // Bracketed: secant with the bracket kept, Illinois' way.
        let (mut a, mut fa, mut b, mut fb) = (low, d_low, high, d_high);
        let mut side = 0_i8;
        for _ in 0..200 {
            if (b - a).abs() <= 1e-15 * b || fa == 0.0 || fb == 0.0 {
                break;
            }
            let c = (fa * b - fb * a) / (fa - fb);
            let c = if c > a && c < b { c } else { f64::midpoint(a, b) };
            let fc = change(c)?;
            if fc > 0.0 {
                (a, fa) = (c, fc);
                if side == 1 {
                    fb *= 0.5;
                }
                side = 1;
            } else {
                (b, fb) = (c, fc);
                if side == -1 {
                    fa *= 0.5;
                }
                side = -1;
            }
        }
        let arc = if fa.abs() < fb.abs() { a } else { b };
        let first = self.beat(Side::Entry, arc, torque)?;
        let second = self.beat(Side::Exit, first.to, torque)?;
        Ok(Steady { arc, beats: [first, second], residual: second.to - arc })
    }
    fn falls_below(&self, change: &impl Fn(f64) -> Result<f64, Halt>, needed: f64, top: f64) -> Option<f64> {
        (1..60)
            .map(|i| top - (top - needed) * f64::from(i) / 60.0)
            .find(|a| change(*a).is_ok_and(|d| d <= 0.0))
    }
    /// The least arc from which it keeps going under a torque: below it the swing dies away or stays locked.
    ///
    /// # Errors
    /// As [`Works::steady`].
    pub fn least_arc(&self, torque: f64) -> Result<f64, Halt> {
        let settled = self.steady(torque)?.arc;
        let keeps = |a: f64| self.cycle(a, torque).is_ok_and(|b| b >= a);
        let (mut yes, mut no) = (settled, 0.0);
        if !keeps(yes) {
            yes = settled * (1.0 - 1e-9);
        }
        for _ in 0..60 {
            let middle = f64::midpoint(yes, no);
            if keeps(middle) { yes = middle } else { no = middle }
        }
        Ok(yes)
    }
}
