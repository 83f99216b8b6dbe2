//! What may be made of a recording, in words and numbers.

use crate::beat::Cycle;
use crate::first::Health;
use crate::heard::{Beat, Hint, SHORTEST, SURE, believed};
use crate::matched::Tick;
use reckon::print::significant;

/// How much may be believed.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Trust {
    /// A beat, its rate and their doubts.
    Sure,
    /// A beat is heard, but no rate is given.
    BeatOnly,
    /// Nothing is given.
    Nothing,
}
/// A verdict.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Verdict {
    /// How much may be believed.
    pub trust: Trust,
    /// Why, one sentence.
    pub says: String,
    /// What would do.
    pub cures: Vec<String>,
    /// What else should be known.
    pub notes: Vec<String>,
}
impl Verdict {
    fn new(trust: Trust, says: impl Into<String>, cures: &[&str]) -> Verdict {
        Verdict {
            trust,
            says: says.into(),
            cures: cures.iter().map(|c| (*c).to_owned()).collect(),
            notes: Vec::new(),
        }
    }
    fn nothing(says: impl Into<String>, cures: &[&str]) -> Verdict {
        Verdict::new(Trust::Nothing, says, cures)
    }
}
/// Ticks and tocks of one pendulum whose beat error wanders seem to go apart by less, s/day.
const APART: f64 = 0.3;
/// Scatter about the line that no clock has, against its beat.
const SCATTERS: f64 = 0.007;
/// Other sounds to a beat that no clock makes alone.
const EXTRA: f64 = 0.4;
const ONE_OF_THEM: &[&str] = &["stop one, or record with the microphone on the case of the other"];
const NEARER: &str = "lay the microphone on the case or the movement, and record two minutes in a quiet room";

/// Where no beat could be followed.
#[must_use]
pub fn without(health: &Health, seconds: f64, cycle: Option<Cycle>) -> Verdict {
    let three = |v: f64| significant(v, 3);
    let mut v = if health.frames == 0 {
        Verdict::nothing("the recording holds no samples", &["record again"])
    } else if health.no_number >= health.frames {
        Verdict::nothing("no sample of the recording is a number", &["write it out again as 16-bit WAV"])
    } else if health.peak <= 0.0 {
        Verdict::nothing(
            "the recording is silent: all samples are nought",
            &["switch the microphone on, raise its level"],
        )
    } else if seconds < SHORTEST {
        Verdict::nothing(
            format!(
                "the recording is {} s long; at least {} s are needed, and two minutes are good",
                three(seconds),
                three(SHORTEST)
            ),
            &["record for two minutes or more"],
        )
    } else {
        match cycle {
            Some(c) if c.sure >= SURE => {
                Verdict::nothing("something comes again, but no tick could be followed", &[NEARER])
            }
            Some(c) => Verdict::nothing(
                format!(
                    "no beat is heard: the likeness to itself is {} times what chance gives, {} are due",
                    three(c.sure),
                    three(SURE)
                ),
                &[NEARER],
            ),
            None => Verdict::nothing("no beat is heard: nothing in the recording comes again", &[NEARER]),
        }
    };
    v.notes = notes(health);
    v
}
fn notes(health: &Health) -> Vec<String> {
    let mut notes = Vec::new();
    if health.clipped > 0 {
        notes.push(format!(
            "{} samples are cut off at full scale; lower the level of the microphone",
            health.clipped
        ));
    }
    if health.no_number > 0 {
        notes.push(format!("{} samples are no number and were taken as silence", health.no_number));
    }
    if health.peak > 0.0 && health.peak < 2e-3 {
        notes.push(format!(
            "the level is low: the loudest sample is {} of full scale",
            significant(health.peak, 2)
        ));
    }
    notes
}
/// Where too few ticks came.
#[must_use]
pub fn too_few(ticks: &[Tick], seconds: f64) -> Verdict {
    let heard = ticks.iter().filter(|t| believed(t)).count();
    Verdict::nothing(
        format!(
            "{heard} ticks of {} that were due can be told from noise in {} s; no rate can rest on them",
            ticks.len(),
            significant(seconds, 3)
        ),
        &[NEARER, "record longer"],
    )
}
/// Where a beat was followed.
#[must_use]
pub fn of(beat: &Beat, hint: &Hint, health: &Health, seconds: f64) -> Verdict {
    let three = |v: f64| significant(v, 3);
    let an_hour = 3_600.0 / beat.seconds;
    let share = beat.heard as f64 / beat.due.max(1) as f64;
    let extra = beat.others.extra.len() as f64 / beat.due.max(1) as f64;
    let followed = beat.due as f64 * beat.line.beat / seconds.max(1e-9);
    let scatter = beat.line.scatter / beat.seconds;
    let off = beat.line.off as f64 / beat.heard.max(1) as f64;
    let only = |says: String, cures: &[&str]| Verdict::new(Trust::BeatOnly, says, cures);
    let mut v = if let (Some(second), false) = (beat.others.second, hint.pulses) {
        only(
            format!(
                "two clocks are heard: {} and {} beats an hour; no rate is given",
                significant(an_hour, 5),
                significant(3_600.0 / second, 5)
            ),
            ONE_OF_THEM,
        )
    } else if let (Some((after, moves)), false) = (beat.others.moves, hint.pulses) {
        only(
            format!(
                "two clocks are heard: a sound {} ms after the tick moves against it by {} s/day; no rate is given",
                significant(after * 1e3, 3),
                three(moves.abs())
            ),
            ONE_OF_THEM,
        )
    } else if let Some((apart, _)) =
        beat.line.apart.filter(|(a, e)| a.abs() > (5.0 * e).max(APART) && !hint.pulses)
    {
        only(
            format!(
                "two clocks are heard: tick and tock come from one pendulum, and these go {} s/day apart; no rate is given",
                three(apart.abs())
            ),
            ONE_OF_THEM,
        )
    } else if share < 0.5 || beat.heard < 8 {
        only(
            format!("only {} of {} beats that were due are heard; no rate is given", beat.heard, beat.due),
            &[NEARER],
        )
    } else if scatter > SCATTERS || off > 0.34 {
        only(
            format!(
                "what comes again is no clock's beat: it scatters by {} ms about {} an hour",
                three(beat.line.scatter * 1e3),
                significant(an_hour, 4)
            ),
            &[NEARER],
        )
    } else if extra >= EXTRA && !hint.pulses {
        only(
            format!(
                "between {} beats there are {} other sounds as strong: music, speech or several clocks; no rate is given",
                beat.due,
                beat.others.extra.len()
            ),
            &[NEARER],
        )
    } else if let Some(told) = hint.beats_per_hour.filter(|_| beat.rate.is_none()) {
        only(
            format!(
                "{} beats an hour were told, {} are heard",
                significant(told, 6),
                significant(an_hour, 5)
            ),
            &["tell the beats that the clock is made for, or leave them out"],
        )
    } else if beat.rate.is_none() {
        only(
            format!(
                "{} beats an hour are heard; no usual count is so near that a rate can be told",
                significant(an_hour, 6)
            ),
            &["tell what the clock is made for: --beats-per-hour N"],
        )
    } else {
        Verdict::new(Trust::Sure, format!("{} beats in {} s", beat.heard, significant(seconds, 4)), &[])
    };
    v.notes = notes(health);
    let mut note = |words: String| v.notes.push(words);
    if followed < 0.8 {
        note(format!("a beat is heard in {} % of the recording", three(followed * 100.0)));
    }
    if beat.runs > 1 {
        note(format!(
            "the beat jumps: it was counted anew {} times, each with its own beginning",
            beat.runs - 1
        ));
    }
    if beat.folded == 2 {
        note("each second beat of the count is not heard".to_owned());
    }
    if let Some((n, false)) = beat.nominal {
        note(format!(
            "{} beats an hour were taken as what it is made for, the usual count that is nearest",
            significant(n, 6)
        ));
    }
    if extra > 0.12 && v.trust == Trust::Sure {
        v.notes.push(format!(
            "there are {} other sounds between {} beats",
            beat.others.extra.len(),
            beat.due
        ));
    }
    v
}
