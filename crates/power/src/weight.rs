//! A weight, its line, drum and pulleys, its body and its room to fall.
//!
//! SI throughout unless said: any units that belong together do.

use reckon::{Source, maths};

/// Torque at the drum.
pub static DRUM: Source = Source::derived("pull of the line at the middle of the line")
    .with_formula("T = m g/falls · η · (D + d)/2");
/// Turns of the drum.
pub static TURNS: Source =
    Source::derived("line that is paid out").with_formula("turns = falls · h/(π (D + d))");
/// Power of a falling weight.
pub static POWER: Source = Source::derived("work over time").with_formula("P = m g h/t");
/// Loss at a pulley.
pub static SHEAVE: Source = Source::derived("friction of the pin of a pulley against its groove")
    .with_formula("η = (1 − μ rp/R)/(1 + μ rp/R)");
/// Length of a drum.
pub static DRUM_LENGTH: Source =
    Source::practice("line diameter and 0.1 mm a turn, two spare coils at each end");
/// Bending of a line.
pub static BEND: Source = Source::memory(
    "wire rope practice: gut and synthetic 10, 7×7 stainless 18 to 20, 7×19 15 to 18 line diameters",
);
/// Strength of a line.
pub static STRENGTH: Source =
    Source::practice("breaking load five times the pull, eight times above 8 kg or over people");
/// Mass that a pendulum needs.
pub static NEEDED: Source =
    Source::derived("loss of the pendulum over what reaches it").with_formula("m = 2π E/(Q T) · t/(η g h)");
/// Body of a weight.
pub static BODY: Source = Source::derived("volumes of tube, caps and filling");
/// Room to fall.
pub static ROOM: Source = Source::practice("60 mm spare below body and pulley");

/// Efficiency of a pulley: friction of the pin, its radius, and the radius to the middle of the line.
#[must_use]
pub fn sheave(friction: f64, pin: f64, groove: f64) -> f64 {
    let x = friction * pin / groove;
    (1.0 - x) / (1.0 + x)
}
/// Pull of each part of the line.
#[must_use]
pub fn pull(mass: f64, gravity: f64, falls: f64) -> f64 {
    mass * gravity / falls
}
/// Radius at which the line pulls.
#[must_use]
pub fn pull_radius(drum: f64, line: f64) -> f64 {
    (drum + line) / 2.0
}
/// Turns of the drum for a fall.
#[must_use]
pub fn turns(fall: f64, falls: f64, drum: f64, line: f64) -> f64 {
    falls * fall / (maths::PI * (drum + line))
}
/// Fall for turns of the drum.
#[must_use]
pub fn fall(turns: f64, falls: f64, drum: f64, line: f64) -> f64 {
    turns * maths::PI * (drum + line) / falls
}
/// Power of a weight that falls so far in a time.
#[must_use]
pub fn power(mass: f64, gravity: f64, fall: f64, time: f64) -> f64 {
    mass * gravity * fall / time
}
/// Length of the grooved part of a drum: room for each turn and spare coils at both ends.
#[must_use]
pub fn drum_length(turns: f64, line: f64, gap: f64, spare_each_end: f64) -> f64 {
    (turns + 2.0 * spare_each_end) * (line + gap)
}
/// What a line is made of.
#[derive(Copy, Clone, PartialEq, Eq, Debug)]
pub enum Line {
    /// Gut.
    Gut,
    /// Plaited synthetic.
    Synthetic,
    /// Stainless cable of seven strands of seven.
    SevenBySeven,
    /// Stainless cable of seven strands of nineteen.
    SevenByNineteen,
}
/// Words for them.
pub const LINES: [(&str, Line); 4] = [
    ("gut", Line::Gut),
    ("synthetic", Line::Synthetic),
    ("7x7 cable", Line::SevenBySeven),
    ("7x19 cable", Line::SevenByNineteen),
];
impl Line {
    /// Least drum or pulley, in line diameters: bearable and good.
    #[must_use]
    pub const fn least_bend(self) -> (f64, f64) {
        match self {
            Line::Gut | Line::Synthetic => (10.0, 10.0),
            Line::SevenBySeven => (18.0, 20.0),
            Line::SevenByNineteen => (15.0, 18.0),
        }
    }
}
/// Times the pull that a line must bear before it breaks.
#[must_use]
pub const fn strength_wanted(mass: f64, over_people: bool) -> f64 {
    if mass > 8.0 || over_people { 8.0 } else { 5.0 }
}
/// A hollow weight: a tube with a cap at each end inside it.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Body {
    /// Outside diameter.
    pub outside: f64,
    /// Inside diameter.
    pub inside: f64,
    /// Length.
    pub length: f64,
    /// Thickness of each cap.
    pub cap: f64,
    /// Density of tube and caps.
    pub density: f64,
}
impl Body {
    fn circle(d: f64) -> f64 {
        maths::PI * d * d / 4.0
    }
    /// Mass of the tube.
    #[must_use]
    pub fn shell(self) -> f64 {
        (Body::circle(self.outside) - Body::circle(self.inside)) * self.length * self.density
    }
    /// Mass of both caps.
    #[must_use]
    pub fn caps(self) -> f64 {
        2.0 * Body::circle(self.inside) * self.cap * self.density
    }
    /// Room for the filling.
    #[must_use]
    pub fn room(self) -> f64 {
        Body::circle(self.inside) * (self.length - 2.0 * self.cap)
    }
    /// Filling that makes up a mass.
    #[must_use]
    pub fn filling(self, mass: f64) -> f64 {
        mass - self.shell() - self.caps()
    }
    /// Share of the room that the filling takes.
    #[must_use]
    pub fn fill_share(self, mass: f64, filling_density: f64) -> f64 {
        self.filling(mass) / (filling_density * self.room())
    }
}
/// Length of a solid round weight.
#[must_use]
pub fn solid_length(mass: f64, density: f64, diameter: f64) -> f64 {
    mass / (density * Body::circle(diameter))
}
/// Room to fall that is left under the drum.
#[must_use]
pub fn usable(room: f64, body: f64, pulley: f64, spare: f64) -> f64 {
    room - body - pulley - spare
}
/// Energy of a pendulum that swings `arc` radians to a side: exact, or half the square for small arcs.
#[must_use]
pub fn swing_energy(moment: f64, arc: f64) -> f64 {
    moment * (1.0 - maths::cos(arc))
}
/// Power that a pendulum loses.
#[must_use]
pub fn pendulum_power(energy: f64, quality: f64, period: f64) -> f64 {
    2.0 * maths::PI * energy / (quality * period)
}
/// Mass of the weight that makes up a loss.
#[must_use]
pub fn needed(power: f64, time: f64, efficiency: f64, gravity: f64, fall: f64) -> f64 {
    power * time / (efficiency * gravity * fall)
}
