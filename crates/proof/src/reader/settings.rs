//! Units, planes, modes, feeds, speeds and tools: what a line sets for those after it.

use reckon::exact::Fraction;

use super::state::{Line, State};
use super::words::Word;
use crate::control::{Distance, FeedMode, Plane, ToolWord};
use crate::fault::{Fault, Spot, Wrong, figure};
use crate::moves::Does;

impl State<'_> {
    pub(super) fn settings(&mut self, line: &mut Line<'_>) {
        for (tenths, inch) in [(200, true), (700, true), (210, false), (710, false)] {
            let Some(word) = line.take('G', &[tenths]) else { continue };
            if self.inch.is_some_and(|before| before != inch) {
                self.tell(
                    Fault::new(Wrong::MixedUnits, word.spot, "the unit changes within the program")
                        .why("places, offsets and feeds before it were in the other")
                        .cure("write the whole program in one unit"),
                );
            }
            self.inch = Some(inch);
        }
        for (tenths, plane) in [(170, Plane::Xy), (180, Plane::Zx), (190, Plane::Yz)] {
            if line.take('G', &[tenths]).is_some() {
                self.plane = Some(plane);
            }
        }
        if line.take('G', &[900]).is_some() {
            self.distance = Some(Distance::Absolute);
        }
        if line.take('G', &[910]).is_some() {
            self.distance = Some(Distance::Incremental);
        }
        for (tenths, mode) in [(940, FeedMode::PerMinute), (950, FeedMode::PerTurn)] {
            if line.take('G', &[tenths]).is_some() {
                if self.feed_mode != Some(mode) {
                    // A feed in mm/min is none in mm/turn.
                    self.feed = None;
                }
                self.feed_mode = Some(mode);
            }
        }
        if line.take('G', &[980]).is_some() {
            self.return_high = true;
        }
        if line.take('G', &[990]).is_some() {
            self.return_high = false;
        }
        // What only cancels, or changes how a corner is rounded off within the control's own slack.
        for tenths in [400, 490, 540, 610, 640] {
            line.take('G', &[tenths]);
        }
        for tenths in [480, 490] {
            line.take('M', &[tenths]);
        }
        if let Some(word) = line.letter('F') {
            let value = self.length(&word, false);
            if let Some(value) = value {
                if value <= Fraction::ZERO {
                    self.tell(
                        Fault::new(
                            Wrong::FeedSign,
                            word.spot,
                            format!("a feed of {} is not above zero", word.raw),
                        )
                        .cure("write a feed above zero"),
                    );
                } else {
                    self.feed = Some(value);
                    self.feed_judged = false;
                }
            }
        }
    }

    pub(super) fn speeds(&mut self, line: &mut Line<'_>) {
        let clamp = self.clamp_code().and_then(|(letter, tenths)| line.take(letter, &[tenths]));
        for (tenths, surface) in [(960, true), (970, false)] {
            if line.take('G', &[tenths]).is_some() {
                if self.surface != surface {
                    self.speed = None;
                }
                self.surface = surface;
            }
        }
        let speed = line.letter('S');
        if let Some(word) = clamp {
            match &speed {
                Some(speed) => self.set_clamp(speed),
                None => self.tell(
                    Fault::new(
                        Wrong::NotFollowed,
                        word.spot,
                        format!("{} without S shifts the zero", word.text()),
                    )
                    .why("where the zero goes is not in the text")
                    .cure("write S with it for a highest speed, or leave it out"),
                ),
            }
        } else if let Some(word) = &speed {
            self.set_speed(word);
        }
        for (tenths, on) in [(30, true), (40, true), (50, false)] {
            if let Some(word) = line.take('M', &[tenths]) {
                self.runs = on;
                if on && self.speed.is_none() {
                    self.tell(
                        Fault::new(Wrong::NoSpeed, word.spot, "the spindle starts without a speed")
                            .cure("write S before it or in its line"),
                    );
                }
                if on && self.surface && self.clamp.is_none() {
                    self.tell(no_clamp(word.spot));
                }
            }
        }
        for (tenths, on) in [(70, true), (80, true), (90, false)] {
            if line.take('M', &[tenths]).is_some() {
                self.push(line.block.spot, Does::Coolant { on });
            }
        }
    }

    fn set_clamp(&mut self, word: &Word) {
        let most = word.value.to_f64();
        let limit = self.control.chuck_most.unwrap_or(f64::INFINITY).min(self.control.spindle.1);
        if most <= 0.0 || most > limit {
            self.tell(
                Fault::new(
                    Wrong::ClampTooHigh,
                    word.spot,
                    format!(
                        "a highest speed of {} 1/min; chuck and spindle stand {}",
                        word.raw,
                        figure(limit, 0)
                    ),
                )
                .by(most - limit)
                .cure("write a lower highest speed"),
            );
        }
        self.clamp = Some(most.min(limit));
    }

    fn set_speed(&mut self, word: &Word) {
        let value = word.value.to_f64();
        self.feed_judged = false;
        if self.surface {
            if self.clamp.is_none() {
                self.tell(no_clamp(word.spot));
            }
            if value <= 0.0 || value > 2000.0 {
                self.tell(
                    Fault::new(Wrong::Speed, word.spot, format!("{} m/min is no surface speed", word.raw))
                        .cure("write the surface speed in m/min"),
                );
            }
            // On an inch machine the word counts feet.
            let per_foot = 0.3048;
            self.speed = Some(if self.inch == Some(true) { value * per_foot } else { value });
            return;
        }
        let (least, most) = self.control.spindle;
        let most = self.control.chuck_most.unwrap_or(most).min(most);
        let steps = &self.control.spindle_steps;
        let says = if value < least || value > most {
            format!("{} 1/min; the spindle turns {} to {}", word.raw, figure(least, 0), figure(most, 0))
        } else if !steps.is_empty() && !steps.iter().any(|step| (step - value).abs() <= 0.01 * step) {
            let listed: Vec<String> = steps.iter().map(|&step| figure(step, 0)).collect();
            format!("{} 1/min is none of the spindle's speeds: {}", word.raw, listed.join(", "))
        } else {
            self.speed = Some(value);
            return;
        };
        self.speed = Some(value.clamp(least.min(most), most));
        self.tell(Fault::new(Wrong::Speed, word.spot, says).cure("choose a speed that the spindle has"));
    }

    pub(super) fn tools(&mut self, line: &mut Line<'_>) {
        let word = line.letter('T');
        let change = line.take('M', &[60]);
        if let Some(word) = &word {
            let Some(number) = word.whole() else {
                self.tell(
                    Fault::new(
                        Wrong::Number,
                        word.spot,
                        format!("{} is no tool; they are whole numbers", word.text()),
                    )
                    .cure("write the number of a tool"),
                );
                return;
            };
            match self.control.tool_word {
                ToolWord::Number => self.next_tool = Some(number),
                ToolWord::NumberAndOffset => {
                    let (number, offset) =
                        if word.raw.len() > 2 { (number / 100, number % 100 != 0) } else { (number, true) };
                    let from =
                        self.tool.filter(|&tool| tool != number && self.offset && self.cycle.is_some());
                    if from.is_some() {
                        self.tell(in_cycle(word.spot));
                    }
                    self.offset = offset;
                    if self.tool != Some(number) {
                        self.bring(line.block.spot, number);
                    }
                }
            }
        }
        if let Some(change) = change {
            if self.cycle.is_some() {
                self.tell(in_cycle(change.spot));
            }
            if self.runs {
                self.tell(
                    Fault::new(Wrong::ToolChange, change.spot, "the tool is changed while the spindle turns")
                        .cure("write M05 before it"),
                );
            }
            match self.next_tool {
                Some(number) => self.bring(line.block.spot, number),
                None => self.tell(
                    Fault::new(Wrong::ToolChange, change.spot, "a tool change without a tool")
                        .cure("write T before it"),
                ),
            }
        }
    }

    fn bring(&mut self, spot: Spot, number: u32) {
        self.tool = Some(number);
        self.push(spot, Does::Tool { number });
    }
}

fn no_clamp(spot: Spot) -> Fault {
    Fault::new(Wrong::NoClamp, spot, "a constant surface speed without a highest speed")
        .why("towards the axis the spindle would run away")
        .cure("state the highest speed first")
}

fn in_cycle(spot: Spot) -> Fault {
    Fault::new(Wrong::ToolChange, spot, "the tool is changed while a cycle is in force")
        .cure("write G80 before it")
}
