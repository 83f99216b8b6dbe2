//! Motions: coordinates, arcs, threads and the limits that each must keep.

use kurbo::Point;
use reckon::exact::Fraction;

use super::state::{Line, Motion, State};
use super::words::Word;
use crate::arc::{self, Arc, NoArc};
use crate::control::{Across, Centre, Distance, FeedMode, Machine, Plane};
use crate::fault::{Fault, Spot, Wrong, figure, mm};
use crate::limits;
use crate::moves::{Does, Feed, Place, Step, Turning};

impl State<'_> {
    pub(super) fn motions(&mut self, line: &mut Line<'_>) {
        if let Some(word) = line.take('G', &[280]) {
            self.home(line, &word);
        }
        let mut explicit = None;
        for (tenths, motion) in [
            (0, Motion::Rapid),
            (10, Motion::Line),
            (20, Motion::Arc { left: false }),
            (30, Motion::Arc { left: true }),
            (330, Motion::Thread),
            (810, Motion::Cycle(81)),
            (820, Motion::Cycle(82)),
            (830, Motion::Cycle(83)),
        ] {
            if let Some(word) = line.take('G', &[tenths]) {
                self.motion = Some(motion);
                if !matches!(motion, Motion::Cycle(_)) {
                    self.cycle = None;
                }
                explicit = Some(word);
            }
        }
        if line.take('G', &[800]).is_some() {
            self.motion = None;
            self.cycle = None;
        }
        if let Some(Motion::Cycle(number)) = self.motion {
            self.cycle_line(line, number, explicit.as_ref());
            return;
        }
        let target = self.target(line);
        let arc = matches!(self.motion, Some(Motion::Arc { .. }));
        let centred =
            ['I', 'J', 'K'].iter().any(|&letter| line.block.words.iter().any(|word| word.letter == letter));
        let Some(to) = target.or_else(|| (arc && centred).then_some(self.at)) else {
            if let Some(word) = explicit {
                self.tell(
                    Fault::new(Wrong::NoTarget, word.spot, format!("{} goes nowhere", word.text()))
                        .cure("write where to, or leave it out"),
                );
            }
            return;
        };
        let spot = line.block.spot;
        let Some(motion) = self.motion else {
            self.tell(
                Fault::new(Wrong::NoMotion, spot, "coordinates with no motion in force")
                    .cure("write G00 or G01 before them"),
            );
            self.at = to;
            return;
        };
        if !self.stated(spot) {
            self.at = to;
            return;
        }
        let from = place(self.at);
        self.at = to;
        let Some((from, to)) = from.zip(place(to)) else {
            self.approach(line, motion, to);
            return;
        };
        match motion {
            Motion::Rapid => self.go(spot, Does::Rapid { from, to }),
            Motion::Line => {
                if let Some(feed) = self.feed_here(spot, from, to) {
                    self.go(spot, Does::Line { from, to, feed });
                }
            }
            Motion::Arc { left } => {
                let arc = self.arc(line, from, to, left);
                let feed = self.feed_here(spot, from, to);
                if let (Some(arc), Some(feed)) = (arc, feed) {
                    for reach in arc.reaches(from) {
                        self.within_travel(spot, reach);
                    }
                    self.go(spot, Does::Arc { from, to, arc, feed });
                }
            }
            Motion::Thread => self.thread(line, from, to),
            Motion::Cycle(_) => {}
        }
    }

    /// What must have been stated before anything moves.
    pub(super) fn stated(&mut self, spot: Spot) -> bool {
        if self.plane.is_none() {
            self.tell_once(
                Fault::new(Wrong::NoPlane, spot, "motion before a plane was stated")
                    .why("arcs then lie in whatever plane the control was left in")
                    .cure("write G17, G18 or G19 at the beginning"),
            );
        }
        if self.distance.is_none() {
            self.tell_once(
                Fault::new(Wrong::NoDistance, spot, "motion before absolute or incremental was stated")
                    .cure("write G90 at the beginning"),
            );
            return false;
        }
        true
    }

    fn approach(&mut self, line: &Line<'_>, motion: Motion, to: [Option<Fraction>; 3]) {
        let spot = line.block.spot;
        if motion != Motion::Rapid {
            self.tell(
                Fault::new(Wrong::UnknownStart, spot, "a feed from a place that is not known")
                    .cure("go to its start by a rapid with all coordinates"),
            );
            return;
        }
        let to = to.map(|value| value.map(Fraction::to_f64));
        self.push(spot, Does::Approach { to });
        if let [Some(x), Some(y), Some(z)] = to {
            self.within_travel(spot, [x, y, z]);
        }
    }

    pub(super) fn go(&mut self, spot: Spot, does: Does) {
        self.push(spot, does);
        let to = self.steps.last().and_then(Step::ends).map(|(_, to)| to);
        if let Some(to) = to {
            self.within_travel(spot, to);
        }
    }

    fn within_travel(&mut self, spot: Spot, at: Place) {
        let travel = &self.control.travel;
        let kept = travel.kept_free;
        for (name, value, limits) in [("X", at[0], travel.x), ("Y", at[1], travel.y), ("Z", at[2], travel.z)]
        {
            let Some((low, high)) = limits else { continue };
            let out = (low + kept - value).max(value - (high - kept));
            if out > 1.0e-9 {
                self.tell(
                    Fault::new(
                        Wrong::Travel,
                        spot,
                        format!("{name} at {} mm is {} mm out of travel", mm(value), mm(out)),
                    )
                    .why(format!(
                        "{name} goes from {} to {} mm, {} mm kept free at each end",
                        mm(low),
                        mm(high),
                        mm(kept)
                    ))
                    .by(out)
                    .cure("set the work elsewhere, or shorten the way"),
                );
            }
        }
    }

    /// The feed in force for a motion, judged.
    pub(super) fn feed_here(&mut self, spot: Spot, from: Place, to: Place) -> Option<Feed> {
        if self.control.needs_tool && !self.has_tool() {
            self.tell_once(
                Fault::new(Wrong::NoTool, spot, "the first feed comes before a tool was chosen")
                    .cure("write the tool's T word"),
            );
        }
        let Some(mode) = self.feed_mode else {
            self.tell_once(
                Fault::new(Wrong::NoFeedMode, spot, "feed before it was stated what the feed counts")
                    .cure("write G94 for a minute or G95 for a turn"),
            );
            return None;
        };
        let Some(feed) = self.feed else {
            self.tell_once(
                Fault::new(Wrong::NoFeed, spot, "motion at a feed before any feed was written")
                    .why("a change between feed a minute and a turn leaves no feed in force")
                    .cure("write F"),
            );
            return None;
        };
        let value = feed.to_f64();
        let turning = self.turning();
        let (feed, speed) = match mode {
            FeedMode::PerMinute => (Feed::PerMinute(value), value),
            FeedMode::PerTurn => {
                if !turning.turns() {
                    self.tell(stopped(spot));
                    return None;
                }
                // The spindle is fastest where the tool is nearest to the axis.
                let near = if from[0] * to[0] < 0.0 { 0.0 } else { from[0].abs().min(to[0].abs()) };
                (Feed::PerTurn(value), limits::feed_a_minute(value, turning.rpm(near)))
            }
        };
        let fastest = self.control.fastest_feed;
        if speed > fastest * (1.0 + 1.0e-9) && !self.feed_judged {
            self.feed_judged = true;
            self.tell(
                Fault::new(
                    Wrong::FeedTooFast,
                    spot,
                    format!(
                        "a feed of {} mm/min; the machine's fastest is {}",
                        figure(speed, 1),
                        figure(fastest, 1)
                    ),
                )
                .by(speed - fastest)
                .cure("write a lower F, or turn slower"),
            );
        }
        Some(feed)
    }

    /// An offset word of an arc or thread in millimetres.
    fn offset(&mut self, word: &Word, halved: bool) -> Option<f64> {
        let value = self.length(word, true)?;
        let value = if halved { value.over(Fraction::whole(2))? } else { value };
        Some(value.to_f64())
    }

    fn arc(&mut self, line: &mut Line<'_>, from: Place, to: Place, left: bool) -> Option<Arc> {
        let plane = self.plane?;
        let spot = line.block.spot;
        let out = arc::normal(plane);
        if !self.control.helix && (to[out] - from[out]).abs() > 0.0 {
            self.tell(
                Fault::new(Wrong::ArcLeavesPlane, spot, "the arc leaves its plane")
                    .cure("end it in its plane"),
            );
        }
        let (start, end) = (arc::flat(plane, from), arc::flat(plane, to));
        let letters = match plane {
            Plane::Xy => ['I', 'J'],
            Plane::Zx => ['K', 'I'],
            Plane::Yz => ['J', 'K'],
        };
        let words = letters.map(|letter| line.letter(letter));
        let radius = line.letter('R');
        let slack = self.control.arc_slack;
        let made = match (&words, radius) {
            ([None, None], None) => {
                self.tell(
                    Fault::new(Wrong::NoCentre, spot, "an arc with neither centre nor radius")
                        .cure(format!("write {} and {}", letters[0], letters[1])),
                );
                return None;
            }
            ([None, None], Some(word)) => {
                if !self.control.radius_arcs {
                    self.tell(arc_form(word.spot, "the control takes no arc by radius"));
                    return None;
                }
                let radius = self.offset(&word, false)?;
                arc::of_radius(plane, start, end, radius, left, slack)
            }
            (_, Some(word)) => {
                self.tell(arc_form(word.spot, "an arc with both a centre and a radius"));
                return None;
            }
            (words, None) => {
                let mut centre = match self.control.centre {
                    Centre::FromStart => start,
                    Centre::FromZero => start,
                    Centre::Never => {
                        self.tell(arc_form(spot, "the control takes no centre of an arc"));
                        return None;
                    }
                };
                for (i, word) in words.iter().enumerate() {
                    let Some(word) = word else { continue };
                    let from_zero = self.control.centre == Centre::FromZero;
                    let across = from_zero
                        && word.letter == 'I'
                        && self.control.machine == Machine::Lathe
                        && self.control.across == Across::Diameter;
                    let value = self.offset(word, across)?;
                    let own = if i == 0 { &mut centre.x } else { &mut centre.y };
                    *own = if from_zero { value } else { *own + value };
                }
                arc::about(plane, start, end, centre, left, slack)
            }
        };
        made.map_err(|fault| self.tell(no_arc(fault, spot, start, end, slack))).ok()
    }

    fn thread(&mut self, line: &mut Line<'_>, from: Place, to: Place) {
        let spot = line.block.spot;
        let along = line.letter('K');
        let across = line.letter('I');
        if self.control.needs_tool && !self.has_tool() {
            self.tell_once(
                Fault::new(Wrong::NoTool, spot, "the first thread comes before a tool was chosen")
                    .cure("write the tool's T word"),
            );
        }
        if !self.control.threads {
            self.tell_once(
                Fault::new(Wrong::NoThreading, spot, "the spindle of this machine does not lead the slide")
                    .cure("cut the thread with tap, die or change wheels"),
            );
        }
        let word = match (along, across) {
            (Some(word), None) | (None, Some(word)) => word,
            (Some(_), Some(word)) => {
                self.tell(
                    Fault::new(Wrong::NoLead, word.spot, "a thread with two leads")
                        .cure("write the one along its axis"),
                );
                return;
            }
            (None, None) => {
                self.tell(
                    Fault::new(Wrong::NoLead, spot, "a thread without a lead").cure("write its lead as K"),
                );
                return;
            }
        };
        let Some(lead) = self.offset(&word, false) else { return };
        if lead <= 0.0 {
            self.tell(
                Fault::new(Wrong::NoLead, word.spot, "the lead is not above zero")
                    .cure("write a lead above zero"),
            );
            return;
        }
        match self.turning() {
            Turning::Stopped => self.tell(stopped(spot)),
            Turning::Surface { .. } => self.tell(
                Fault::new(Wrong::ThreadSpeed, spot, "a thread at constant surface speed")
                    .why("the spindle changes its speed on the way, and passes do not meet")
                    .cure("write G97 with a speed before it"),
            ),
            Turning::Steady { rpm } => self.thread_speed(spot, lead, rpm),
        }
        self.go(spot, Does::Thread { from, to, lead });
    }

    fn thread_speed(&mut self, spot: Spot, lead: f64, rpm: f64) {
        let most = limits::thread_rpm(lead, self.control.fastest_thread);
        if rpm > most * (1.0 + 1.0e-9) {
            self.tell(
                Fault::new(
                    Wrong::ThreadTooFast,
                    spot,
                    format!(
                        "a lead of {} mm at {} 1/min; the slide follows up to {}",
                        mm(lead),
                        figure(rpm, 1),
                        figure(most, 1)
                    ),
                )
                .by(rpm - most)
                .cure("turn slower"),
            );
        }
        let other = self
            .last_thread
            .filter(|&(before, speed)| (before - lead).abs() <= 0.0 && (speed - rpm).abs() > 0.0);
        if let Some((_, before)) = other {
            self.tell(
                Fault::new(
                    Wrong::ThreadSpeed,
                    spot,
                    format!(
                        "this pass turns at {} 1/min, the one before at {}",
                        figure(rpm, 1),
                        figure(before, 1)
                    ),
                )
                .why("the slide lags by an amount that goes with the speed, so the passes do not meet")
                .cure("cut all passes of a thread at one speed"),
            );
        }
        self.last_thread = Some((lead, rpm));
    }

    fn home(&mut self, line: &mut Line<'_>, word: &Word) {
        let spot = line.block.spot;
        let Some(home) = self.control.home else {
            self.tell(
                Fault::new(Wrong::NotFollowed, word.spot, "it is not known where this machine's home is")
                    .cure("write the place itself"),
            );
            return;
        };
        if !self.stated(spot) {
            return;
        }
        if let Some(to) = self.target(line) {
            let from = place(self.at);
            self.at = to;
            match from.zip(place(to)) {
                Some((from, to)) => self.go(spot, Does::Rapid { from, to }),
                None => self.approach(line, Motion::Rapid, to),
            }
        }
        let from = place(self.at);
        self.at = home.map(|value| Fraction::decimal(&format!("{value:.6}")));
        if let Some((from, to)) = from.zip(place(self.at)) {
            self.go(spot, Does::Rapid { from, to });
        }
    }

    /// Whether coordinates are absolute.
    pub(super) fn absolute(&self) -> bool {
        self.distance == Some(Distance::Absolute)
    }
}

fn place(at: [Option<Fraction>; 3]) -> Option<Place> {
    match at {
        [Some(x), Some(y), Some(z)] => Some([x.to_f64(), y.to_f64(), z.to_f64()]),
        _ => None,
    }
}

fn stopped(spot: Spot) -> Fault {
    Fault::new(Wrong::SpindleStopped, spot, "a feed that counts turns while the spindle stands")
        .why("the slide would wait for ever")
        .cure("write S and M03 before it")
}

fn arc_form(spot: Spot, says: &str) -> Fault {
    Fault::new(Wrong::ArcForm, spot, says).cure("write the arc as the control takes it")
}

fn no_arc(fault: NoArc, spot: Spot, from: Point, to: Point, slack: f64) -> Fault {
    match fault {
        NoArc::Mismatch(by) => Fault::new(
            Wrong::ArcMismatch,
            spot,
            format!("start and end of the arc differ in radius by {} mm", mm(by)),
        )
        .why(format!("the control allows {} mm", mm(slack)))
        .by(by)
        .cure("write centre and end with one more decimal"),
        NoArc::TooSmall(by) => {
            let half = 0.5 * (to - from).hypot2().sqrt();
            Fault::new(
                Wrong::RadiusTooSmall,
                spot,
                format!("the radius is {} mm short of reaching the end", mm(by)),
            )
            .why(format!("half the way between the ends is {} mm", mm(half)))
            .by(by)
            .cure("write the radius, or the end, right")
        }
        NoArc::SamePlace => {
            Fault::new(Wrong::RadiusFullCircle, spot, "an arc by radius ends where it begins")
                .cure("write its centre")
        }
        NoArc::NoRadius => {
            Fault::new(Wrong::NoCentre, spot, "the arc has no radius").cure("write its centre")
        }
    }
}
