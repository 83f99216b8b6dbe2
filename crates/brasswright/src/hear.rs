//! `listen`: a recording read twice, heard, and told.

use crate::args;
use crate::enter::typed::Rating;
use crate::enter::{self, Desk, Input, Typed};
use crate::files;
use crate::folder::Folder;
use crate::look::{Look, Paint};
use crate::outcome::{Outcome, Stopped};
use crate::work::Work;
use crate::{exit, work};
use journal::Pace;
use listen::wav::{End, Format, Reader, Unread};
use listen::{Between, First, Heard, Hint, Recorder, Trust, UNKNOWN, Wheel};
use reckon::{Dimension, Trouble};
use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

mod line;
mod said;

pub use line::{EXAMPLES, Listen};

/// Bytes read at once.
const AT_ONCE: usize = 1 << 18;

/// What `--reference` names.
#[derive(Clone, PartialEq, Debug)]
enum Reference {
    /// Nothing.
    None,
    /// The recorder's error is told.
    Told(Recorder),
    /// Pulses in the other channel of the same recording, from 0.
    Channel(usize),
    /// Pulses in a recording of their own, by the same recorder.
    File(PathBuf),
}
/// A recording as it was read.
#[derive(Clone, PartialEq, Debug)]
pub struct Recording {
    /// Its head.
    pub format: Format,
    /// How it ended.
    pub end: End,
}

/// Listens.
///
/// # Errors
/// When the recording cannot be read, or the line contradicts itself.
pub fn run(a: &Listen, look: Look) -> Result<Outcome, Stopped> {
    let (mut hint, desk) = hint(a)?;
    let pulse = span("pulse", &a.pulse)?;
    if !(0.1..=2.5).contains(&pulse) {
        return Err(Stopped::wrong_use("--pulse: pulses come between ten a second and one in 2.5 s"));
    }
    let pulses =
        |channel| Hint { beats_per_hour: Some(3_600.0 / pulse), pulses: true, channel, ..Hint::default() };
    let mut referred = None;
    let (recording, heard) = match reference(a)? {
        Reference::None => one(&a.file, &hint)?,
        Reference::Told(recorder) => {
            hint.recorder = recorder;
            one(&a.file, &hint)?
        }
        Reference::File(file) => {
            let (_, reference) = one(&file, &pulses(None))?;
            hint.recorder = recorder(&reference, pulse, &file.display().to_string())?;
            referred = Some(reference);
            one(&a.file, &hint)?
        }
        Reference::Channel(channel) => {
            if hint.channel == Some(channel) {
                return Err(Stopped::wrong_use("the clock and its reference cannot both be in that channel"));
            }
            hint.channel = Some(1 - channel);
            let (recording, mut both) = hear(&a.file, &[pulses(Some(channel)), hint.clone()])?;
            if recording.format.channels < 2 {
                return Err(Stopped::wrong_use(format!("'{}' has one channel only", a.file.display()))
                    .cure("a reference in a recording of its own: --reference FILE.wav"));
            }
            let (Some(mut clock), Some(reference)) = (both.pop(), both.pop()) else {
                return Err(Stopped::trouble(Trouble::ours("two hearings of one recording are not two")));
            };
            let recorder = recorder(&reference, pulse, "that channel")?;
            if clock.beat.is_some() {
                // The same sound, set right: the hearing itself does not depend on it.
                hint.recorder = recorder;
                clock = hear(&a.file, std::slice::from_ref(&hint))?.1.pop().unwrap_or(clock);
            }
            referred = Some(reference);
            (recording, clock)
        }
    };
    let story = said::Story { file: &a.file, recording: &recording, heard: &heard, hint: &hint, pulse };
    let exit = if heard.verdict.trust == Trust::Sure { exit::WELL } else { exit::TEXT };
    let mut outcome = Outcome { exit, ..Outcome::default() };
    if let Some(path) = &a.picture {
        let name = path.file_name().map(|n| n.to_string_lossy().into_owned()).filter(|n| !n.is_empty());
        let name = name.ok_or_else(|| Stopped::wrong_use("--picture names a file"))?;
        let title = a.file.file_name().unwrap_or_default().to_string_lossy();
        let svg = listen::picture(&heard, &title);
        let folder = path.parent().filter(|p| *p != Path::new("")).unwrap_or(Path::new("."));
        files::write_all(folder, &[(name, svg.into_bytes())])?;
    }
    let mut kept = None;
    if a.log {
        kept = Some(log(&desk, a, &story)?);
    }
    if a.json {
        let mut all = said::as_json(&story, referred.as_ref(), exit);
        if let Some(answer) = &kept {
            all["logged"] = enter::said::as_json(answer);
        }
        outcome.out = format!("{all:#}\n");
        return Ok(outcome);
    }
    outcome.out = said::text(&story, Paint(look.out));
    if let Some(answer) = kept {
        outcome.out += "\n";
        outcome.out += &enter::said::text(&answer, false, Paint(look.out));
    }
    Ok(outcome)
}
/// Enters what was heard into the journal, as a rating with its doubt.
fn log(desk: &Desk, a: &Listen, story: &said::Story<'_>) -> Result<enter::typed::Answer, Stopped> {
    let heard =
        story.heard.beat.as_ref().and_then(|b| b.rate).filter(|_| story.heard.verdict.trust == Trust::Sure);
    let (Some(rate), Some(by)) = (heard, said::line(story)) else {
        return Err(Stopped::trouble(
            Trouble::text("no rate was heard, so none was entered").why(story.heard.verdict.says.clone()),
        ));
    };
    let what = Typed::Rating(Rating {
        when: a.when.clone(),
        arc: a.arc.clone(),
        temperature: a.at.clone(),
        pressure: a.pressure.clone(),
        heard: Some(Pace { rate: rate.value, within: rate.within() }),
        by,
        ..Rating::default()
    });
    enter::enter(desk, &Input { sure: true, ..Input::now(what) })
}
/// What is known before, from the line and the project.
fn hint(a: &Listen) -> Result<(Hint, Desk), Stopped> {
    let mut hint =
        Hint { beats_per_hour: a.beats_per_hour, channel: a.channel.map(|c| c as usize), ..Hint::default() };
    let shop = args::Shop { shop: a.shop.shop.clone() };
    let dir = a.project.clone().or_else(|| a.log.then(|| PathBuf::from(".")));
    if let Some(dir) = &dir {
        let folder = Folder::read(dir, &shop)?;
        let work = Work::out(&folder);
        let (beats, wheels) = work::turns(&work);
        if beats.is_none() && a.project.is_some() && hint.beats_per_hour.is_none() {
            return Err(Stopped::trouble(
                Trouble::design("this project does not say how many beats an hour its clock makes")
                    .cure("write beats_per_hour in [wanted] of clock.toml")
                    .cure("or tell it: --beats-per-hour N"),
            ));
        }
        hint.beats_per_hour = hint.beats_per_hour.or(beats);
        hint.wheels = wheels;
    }
    for wheel in &a.wheel {
        let (name, time) = wheel.split_once('=').ok_or_else(|| {
            Stopped::wrong_use(format!("--wheel {wheel}: a name and the time of a turn are due"))
                .cure("--wheel \"escape=60 s\"")
        })?;
        hint.wheels.push(Wheel { name: name.trim().to_owned(), period: span("wheel", time)? });
    }
    Ok((hint, Desk { dir: dir.unwrap_or_else(|| PathBuf::from(".")), shop }))
}
/// A time on the line, s.
fn span(flag: &str, text: &str) -> Result<f64, Stopped> {
    let fault = |says: String| Stopped::wrong_use(format!("--{flag} {text}: {says}"));
    let value = reckon::text::read(text.trim(), Dimension::Time).map_err(|f| fault(f.says.clone()))?;
    if value > 0.0 { Ok(value) } else { Err(fault("a time of more than nothing is due".to_owned())) }
}
/// What `--reference` names.
fn reference(a: &Listen) -> Result<Reference, Stopped> {
    let Some(text) = &a.reference else { return Ok(Reference::None) };
    match text.as_str() {
        "left" => return Ok(Reference::Channel(0)),
        "right" => return Ok(Reference::Channel(1)),
        _ => {}
    }
    let Some(told) = text.strip_suffix("ppm") else { return Ok(Reference::File(PathBuf::from(text))) };
    let wrong = || {
        Stopped::wrong_use(format!("--reference {text}: parts in a million are due"))
            .cure("--reference \"23 ppm\", or with its doubt --reference \"23 ± 2 ppm\"")
    };
    let (value, within) = told.split_once('±').or_else(|| told.split_once("+-")).unwrap_or((told, "0"));
    let number = |t: &str| t.trim().parse::<f64>().ok().filter(|v| v.is_finite() && v.abs() <= 1e5);
    let (Some(ppm), Some(within)) = (number(value), number(within).map(f64::abs)) else {
        return Err(wrong());
    };
    Ok(Reference::Told(Recorder { ppm, within, known: true }))
}
/// The recorder's clock by pulses that were heard.
fn recorder(heard: &Heard, pulse: f64, what: &str) -> Result<Recorder, Stopped> {
    let none = |why: String| {
        Stopped::trouble(Trouble::text(format!("the reference in {what} cannot be used")).why(why))
            .cure("it is pulses, one a second by itself; others by --pulse \"0.5 s\"")
    };
    let beat = match (&heard.beat, heard.verdict.trust) {
        (Some(beat), Trust::Sure) => beat,
        _ => return Err(none(heard.verdict.says.clone())),
    };
    let found = Recorder::from_pulses(beat.seconds / f64::from(beat.folded), beat.within, pulse);
    if found.ppm.abs() > 20.0 * UNKNOWN {
        return Err(none(format!(
            "by it the recorder would be {} parts in a million off, and no recorder is",
            reckon::print::significant(found.ppm, 3)
        )));
    }
    Ok(found)
}
/// One hearing of one recording.
fn one(path: &Path, hint: &Hint) -> Result<(Recording, Heard), Stopped> {
    let (recording, mut heard) = hear(path, std::slice::from_ref(hint))?;
    match heard.pop() {
        Some(heard) => Ok((recording, heard)),
        None => Err(Stopped::trouble(Trouble::ours("a recording was heard, and nothing came of it"))),
    }
}
/// Reads a recording twice and hears it as each hint says.
fn hear(path: &Path, hints: &[Hint]) -> Result<(Recording, Vec<Heard>), Stopped> {
    let mut first: Option<First> = None;
    let recording = through(path, |format, samples| {
        let first = first.get_or_insert_with(|| First::new(f64::from(format.rate), format.channels));
        first.push(samples);
    })?;
    let format = recording.format;
    let rate = f64::from(format.rate);
    let first = first.unwrap_or_else(|| First::new(rate, format.channels));
    let between: Vec<Between> = hints
        .iter()
        .map(|h| {
            let channel = h.channel.map(|c| c.min(format.channels - 1));
            Between::new(first.clone(), rate, Hint { channel, ..h.clone() })
        })
        .collect();
    drop(first);
    let mut second: Vec<_> = between.iter().map(Between::second).collect();
    if between.iter().any(Between::follows) {
        through(path, |_, samples| second.iter_mut().for_each(|s| s.push(samples)))?;
    }
    Ok((recording, between.into_iter().zip(second).map(|(b, s)| b.finish(s)).collect()))
}
/// Reads a recording from its beginning to its end.
fn through(path: &Path, mut take: impl FnMut(Format, &[f32])) -> Result<Recording, Stopped> {
    let shown = path.display();
    let unread =
        |e: std::io::Error| Stopped::files(format!("'{shown}' could not be read")).why(files::reason(&e));
    let unfit = |u: Unread| {
        Stopped::trouble(Trouble::text(format!("'{shown}' cannot be heard")).why(u.says).cure(u.cure))
    };
    let about = std::fs::metadata(path).map_err(unread)?;
    if !about.is_file() {
        return Err(Stopped::files(format!("'{shown}' is not a plain file"))
            .why("a recording is read twice")
            .cure("name a WAV file"));
    }
    let mut file = File::open(path).map_err(unread)?;
    let (mut reader, mut bytes, mut samples) = (Reader::new(), vec![0; AT_ONCE], Vec::new());
    loop {
        let n = match file.read(&mut bytes) {
            Ok(0) => break,
            Ok(n) => n,
            Err(e) if e.kind() == std::io::ErrorKind::Interrupted => continue,
            Err(e) => return Err(unread(e)),
        };
        samples.clear();
        reader.feed(&bytes[..n], &mut samples).map_err(unfit)?;
        if let (Some(format), false) = (reader.format(), samples.is_empty()) {
            take(format, &samples);
        }
    }
    let end = reader.finish().map_err(unfit)?;
    match reader.format() {
        Some(format) => Ok(Recording { format, end }),
        None => Err(Stopped::trouble(Trouble::ours("a recording without a head was read"))),
    }
}
