//! Questions that this crate answers.

use crate::heard::{Hint, hear};
use crate::recorder::Recorder;
use crate::synthetic::{Synthetic, floats};
use crate::verdict::Trust;
use reckon::ask::{Done, ask, more, need, or, some, within};
use reckon::{Angle, Ask, Book, Count, Given, Ratio, Source, Time, Val, maths, work};

/// Beat error at the pendulum.
static OFFSET: Source = Source::derived("a pendulum through its mid place, and when it passes beside it")
    .with_formula("ε = A sin(π B/(2 β))");
/// Error of a slope.
static SLOPE: Source = Source::derived("slope of least squares through equally spaced beats")
    .with_formula("s.e.(β) = σ √(12/(n (n² − 1)))");
/// The recorder's clock.
static CLOCK: Source = Source::derived("a fast clock counts more samples into a beat")
    .with_formula("86400 (1/(1 + ppm 10⁻⁶) − 1)");
/// What comes of a recording that was never made.
static HEARD: Source =
    Source::derived("a recording whose truth is known, made and heard as one from a file would be");

static ASKS: &[Ask] = &[
    ask(
        "sound.offset",
        "how far a pendulum is out of beat, from the beat error that is heard",
        &[
            need("beat_error", "half of how much longer one pause is than the other"),
            or("beat", "1 s", "from tick to tock"),
            need("arc", "from the middle to one side"),
        ],
        &["offset"],
        r#"beat_error="10 ms" beat="1 s" arc="2 deg""#,
        offset,
    ),
    ask(
        "sound.error",
        "how well a rate can be known from so many beats, s/day, for scatter of single beats alone",
        &[
            need("scatter", "standard deviation of single beats"),
            or("beat", "1 s", "from tick to tock"),
            need("beats", "heard"),
        ],
        &["s_per_day"],
        r#"scatter="0.1 ms" beat="1 s" beats=60"#,
        error,
    ),
    ask(
        "sound.recorder",
        "by how much a rate looks wrong when the recorder's own clock is off, s/day",
        &[need("ppm", "samples too many in a million; - when it runs slow")],
        &["s_per_day"],
        "ppm=23",
        recorder,
    ),
    ask(
        "sound.rehearsal",
        "what is heard of a clock whose truth is known, in noise: try it before you record",
        &[
            or("beat", "1 s", "nominal, from tick to tock"),
            or("rate", "12.5", "s/day, + gains"),
            or("beat_error", "8 ms", "half of how much longer the pause after a tock is"),
            or("jitter", "0 s", "scatter of single beats"),
            or("noise", "0.01", "standard deviation, 1 at full scale; a tick has 0.5"),
            or("length", "60 s", "of the recording, up to ten minutes"),
            or("seed", "12345", "of the noise"),
        ],
        &["true_beats", "beats", "s_per_day", "within_s_per_day", "heard_beat_error", "scatter"],
        "noise=0.06 length=\"20 s\"",
        rehearsal,
    ),
];

/// All questions of this crate.
#[must_use]
pub fn asks() -> Vec<&'static Ask> {
    ASKS.iter().collect()
}
fn offset(g: &Given<'_>, book: &mut Book) -> Done {
    let beat: Val<Time> = more(g, book, "beat")?;
    let error: Val<Time> = g.take(book, "beat_error")?;
    let arc: Val<Angle> = within(g, book, "arc", Angle::si(0.0), Angle::si(1.6))?;
    if error.bare().value().abs() > beat.bare().value() {
        return Err(g.trouble("beat_error", "a beat error is less than a beat"));
    }
    work!(
        book,
        "offset",
        |arc, error, beat| arc * maths::sin(std::f64::consts::PI * error.value() / (2.0 * beat.value())),
        &OFFSET
    );
    Ok(())
}
fn error(g: &Given<'_>, book: &mut Book) -> Done {
    let scatter: Val<Time> = some(g, book, "scatter")?;
    let beat: Val<Time> = more(g, book, "beat")?;
    let beats = g.count(book, "beats")?;
    if !(2..=100_000_000).contains(&beats.bare().0) {
        return Err(g.trouble("beats", "a slope needs two beats, and at most a hundred million are taken"));
    }
    work!(
        book,
        "s_per_day",
        |scatter, beats, beat| Ratio::si(
            86_400.0 * scatter.value() / beat.value()
                * (12.0 / (beats.n() * (beats.n() * beats.n() - 1.0))).sqrt()
        ),
        &SLOPE
    );
    Ok(())
}
fn recorder(g: &Given<'_>, book: &mut Book) -> Done {
    let ppm: Val<Ratio> = within(g, book, "ppm", Ratio::si(-100_000.0), Ratio::si(100_000.0))?;
    work!(
        book,
        "s_per_day",
        |ppm| Ratio::si(Recorder { ppm: ppm.value(), ..Recorder::default() }.shift()),
        &CLOCK
    );
    Ok(())
}
fn rehearsal(g: &Given<'_>, book: &mut Book) -> Done {
    let beat: Val<Time> = within(g, book, "beat", Time::si(0.1), Time::si(2.5))?;
    let rate: Val<Ratio> = within(g, book, "rate", Ratio::si(-2_000.0), Ratio::si(2_000.0))?;
    let error: Val<Time> = g.take(book, "beat_error")?;
    if error.bare().value().abs() > beat.bare().value() / 4.0 {
        return Err(g.trouble("beat_error", "at most a quarter of a beat"));
    }
    let jitter: Val<Time> = within(g, book, "jitter", Time::si(0.0), Time::si(0.05))?;
    let noise: Val<Ratio> = within(g, book, "noise", Ratio::si(0.0), Ratio::si(10.0))?;
    let length: Val<Time> = within(g, book, "length", Time::si(1.0), Time::si(600.0))?;
    let seed = g.count(book, "seed")?;
    let made = Synthetic {
        seconds: length.bare().value(),
        beat: beat.bare().value(),
        gains: rate.bare().value(),
        beat_error: error.bare().value(),
        jitter: jitter.bare().value(),
        noise: noise.bare().value(),
        seed: seed.bare().0.unsigned_abs(),
        ..Synthetic::default()
    };
    let hint = Hint {
        beats_per_hour: Some(3_600.0 / made.beat),
        recorder: Recorder { ppm: 0.0, within: 0.0, known: true },
        ..Hint::default()
    };
    let heard = hear(&floats(&made.samples()), 1, made.rate, &hint);
    let ids = vec![beat.id(), rate.id(), error.id(), jitter.id(), noise.id(), length.id(), seed.id()];
    let how = || ("made, then heard", 1, 0.0);
    let count = |n: usize| Count(i64::try_from(n).unwrap_or(i64::MAX));
    book.solved("true_beats", count(made.times().len()), how(), ids.clone(), &HEARD);
    let known = heard.beat.as_ref().and_then(|b| Some((b, b.rate?, b.beat_error?)));
    let (Some((b, rate, (error, _))), Trust::Sure) = (known, heard.verdict.trust) else {
        return Err(g.trouble("noise", format!("nothing can be told: {}", heard.verdict.says)));
    };
    book.solved("beats", count(b.heard), how(), ids.clone(), &HEARD);
    book.solved("s_per_day", Ratio::si(rate.value), how(), ids.clone(), &HEARD);
    book.solved("within_s_per_day", Ratio::si(rate.scatter), how(), ids.clone(), &HEARD);
    book.solved("heard_beat_error", Time::si(error), how(), ids.clone(), &HEARD);
    book.solved("scatter", Time::si(b.line.scatter), how(), ids, &HEARD);
    Ok(())
}
