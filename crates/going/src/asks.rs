//! Questions that this crate answers.

use crate::works::{Even, Side};
use crate::{Beat, Halt, Oscillator, Works};
use reckon::ask::{Done, ask, more, need, or, some, within};
use reckon::source::Source;
use reckon::{
    Acceleration, Angle, Ask, Book, Count, Energy, Given, Id, Length, Mass, Power, Ratio, Time, Torque,
    Trouble, Val,
};

/// Dead-beat escapements in a few figures.
pub static EVEN: Source = Source::derived(
    "a bob on a weightless rod and a dead-beat escapement of even strength, every phase followed by a series in time",
)
.with_formula("I θ″ = −c θ′ − G sin θ + τ, the phases held, pushed, falling, landed");

const TAKES: &[reckon::Param] = &[
    need("torque", "of the escape wheel at its arbor"),
    or("ratio", "1", "turn of the wheel for one of the pallets, while it pushes"),
    or("efficiency", "1", "part of the torque that friction on the impulse faces leaves"),
    or("rubs", "0", "friction on dead faces: torque on the pallets for one of the wheel"),
    or("drop", "0 deg", "free turn of the wheel"),
    or("wheel", "0 kg", "mass of a ring as sluggish as wheel and train"),
    or("wheel_radius", "10 mm", "radius of that ring"),
    or("unlocks", "0.75 deg", "before the middle"),
    or("lets_off", "1.25 deg", "past the middle"),
    or("mass", "5 kg", "of the bob"),
    or("beat", "1 s", "at no arc: it settles the length"),
    or("gravity", "9.80665 m/s2", "at the place"),
    or("quality", "8000", "Q of the pendulum"),
];
const SETTLES: &[reckon::Param] = TAKES;
const RUNS: &[reckon::Param] = &[
    TAKES[0],
    need("from", "arc at which it is let go, from rest"),
    need("beats", "how many"),
    TAKES[1],
    TAKES[2],
    TAKES[3],
    TAKES[4],
    TAKES[5],
    TAKES[6],
    TAKES[7],
    TAKES[8],
    TAKES[9],
    TAKES[10],
    TAKES[11],
    TAKES[12],
];
static ASKS: &[Ask] = &[
    ask(
        "going.settles",
        "the arc that a dead-beat escapement keeps up, its rate in s/day, + gains, and where the energy goes",
        SETTLES,
        &["arc", "settled_beat", "s_per_day", "pushed", "stored", "power", "least_arc"],
        r#"torque="0.34 N mm""#,
        settles,
    ),
    ask(
        "going.from_rest",
        "so many beats of a dead-beat clock, each followed: time and arc that they come to",
        RUNS,
        &["time", "arc"],
        r#"torque="0.34 N mm" from="1.5 deg" beats="100""#,
        from_rest,
    ),
];
/// All questions of this crate.
#[must_use]
pub fn asks() -> Vec<&'static Ask> {
    ASKS.iter().collect()
}

struct Asked {
    works: Works,
    torque: f64,
    beat: f64,
    ids: Vec<Id>,
}
fn asked(g: &Given<'_>, book: &mut Book) -> Result<Asked, Trouble> {
    let torque: Val<Torque> = more(g, book, "torque")?;
    let ratio: Val<Ratio> = within(g, book, "ratio", Ratio::si(0.01), Ratio::si(20.0))?;
    let efficiency: Val<Ratio> = within(g, book, "efficiency", Ratio::si(0.01), Ratio::si(1.0))?;
    let rubs: Val<Ratio> = within(g, book, "rubs", Ratio::si(0.0), Ratio::si(10.0))?;
    let drop: Val<Angle> = within(g, book, "drop", Angle::ZERO, Angle::deg(60.0))?;
    let ring: Val<Mass> = some(g, book, "wheel")?;
    let radius: Val<Length> = more(g, book, "wheel_radius")?;
    let unlocks: Val<Angle> = within(g, book, "unlocks", Angle::deg(-10.0), Angle::deg(20.0))?;
    let lets_off: Val<Angle> = within(g, book, "lets_off", Angle::deg(0.01), Angle::deg(20.0))?;
    let mass: Val<Mass> = more(g, book, "mass")?;
    let beat: Val<Time> = within(g, book, "beat", Time::si(0.05), Time::si(10.0))?;
    let gravity: Val<Acceleration> =
        within(g, book, "gravity", Acceleration::si(9.7), Acceleration::si(9.9))?;
    let quality: Val<Ratio> = within(g, book, "quality", Ratio::si(10.0), Ratio::si(1e7))?;
    if unlocks.bare() + lets_off.bare() <= Angle::deg(0.001) {
        return Err(g.trouble("unlocks", "the tooth must be let off after it is unlocked"));
    }
    let r = radius.bare().value();
    let even = Even {
        unlocks: unlocks.bare().value(),
        lets_off: lets_off.bare().value(),
        ratio: ratio.bare().value(),
        efficiency: efficiency.bare().value(),
        rubs: rubs.bare().value(),
        drop: drop.bare().value(),
        wheel: ring.bare().value() * r * r,
        reach: Angle::deg(30.0).value(),
    };
    let t = beat.bare().value();
    let length = gravity.bare().value() * t * t / (reckon::maths::PI * reckon::maths::PI);
    let swing =
        Oscillator::simple(mass.bare().value(), length, gravity.bare().value(), quality.bare().value());
    let ids = vec![
        torque.id(),
        ratio.id(),
        efficiency.id(),
        rubs.id(),
        drop.id(),
        ring.id(),
        radius.id(),
        unlocks.id(),
        lets_off.id(),
        mass.id(),
        beat.id(),
        gravity.id(),
        quality.id(),
    ];
    Ok(Asked { works: Works::even(swing, &even), torque: torque.bare().value(), beat: t, ids })
}
fn halted(g: &Given<'_>, name: &str, halt: &Halt) -> Trouble {
    g.trouble(name, format!("it {}", halt.word())).why(halt.says()).cure(halt.cure())
}
fn settles(g: &Given<'_>, book: &mut Book) -> Done {
    let a = asked(g, book)?;
    let s = a.works.steady(a.torque).map_err(|h| halted(g, "torque", &h))?;
    let least = a.works.least_arc(a.torque).map_err(|h| halted(g, "torque", &h))?;
    let mean = |get: fn(&Beat) -> f64| f64::midpoint(get(&s.beats[0]), get(&s.beats[1]));
    let how = || ("two beats that leave the arc as it was", 1, s.residual);
    book.solved("arc", Angle::si(s.arc), how(), a.ids.clone(), &EVEN);
    book.solved("settled_beat", Time::si(s.cycle() / 2.0), how(), a.ids.clone(), &EVEN);
    book.solved("s_per_day", Ratio::si(s.rate(a.beat)), how(), a.ids.clone(), &EVEN);
    let pushed = book.solved("pushed", Energy::si(mean(|b| b.ledger.pushed)), how(), a.ids.clone(), &EVEN);
    book.solved("stored", Energy::si(a.works.swing.energy(s.arc, 0.0)), how(), a.ids.clone(), &EVEN);
    let power = pushed.bare().value() / (s.cycle() / 2.0);
    book.solved("power", Power::si(power), how(), a.ids.clone(), &EVEN);
    book.solved("least_arc", Angle::si(least), ("by halving", 60, 0.0), a.ids, &EVEN);
    Ok(())
}
fn from_rest(g: &Given<'_>, book: &mut Book) -> Done {
    let a = asked(g, book)?;
    let from: Val<Angle> = within(g, book, "from", Angle::deg(0.001), Angle::deg(29.0))?;
    let beats: Val<Count> = g.count(book, "beats")?;
    if !(1..=100_000).contains(&beats.bare().0) {
        return Err(g.trouble("beats", "from 1 to 100000 beats are followed"));
    }
    let ran = a.works.run(Side::Entry, from.bare().value(), a.torque, beats.bare().0.unsigned_abs());
    if let Some(halt) = &ran.halt {
        return Err(halted(g, "from", halt).why(format!("after {} beats: {}", ran.beats, halt.says())));
    }
    let mut ids = a.ids;
    ids.extend([from.id(), beats.id()]);
    book.solved("time", Time::si(ran.time), ("every beat followed", 1, 0.0), ids.clone(), &EVEN);
    book.solved("arc", Angle::si(ran.arc), ("every beat followed", 1, 0.0), ids, &EVEN);
    Ok(())
}
