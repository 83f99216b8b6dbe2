//! What was heard, for a reader, for another program, and for the journal.

use super::Recording;
use crate::look::{Paint, clean, columns, counted};
use listen::{Beat, Heard, Hint, Periodic, TOLD, Trust, Why};
use reckon::print::{fixed, significant};
use serde_json::{Value, json};
use std::path::Path;

/// Lost beats and other sounds that are shown one by one.
const SHOWN: usize = 8;

/// All that there is to tell.
#[derive(Copy, Clone, Debug)]
pub struct Story<'a> {
    /// The recording's file.
    pub file: &'a Path,
    /// The recording as read.
    pub recording: &'a Recording,
    /// What was heard.
    pub heard: &'a Heard,
    /// What was known.
    pub hint: &'a Hint,
    /// Period of the reference's pulses, s.
    pub pulse: f64,
}
fn three(v: f64) -> String {
    significant(v, 3)
}
/// A rate with as many places as its doubt deserves.
fn to_doubt(value: f64, doubt: f64) -> String {
    fixed(value, places(doubt))
}
fn places(doubt: f64) -> usize {
    match doubt {
        d if d >= 3.0 => 1,
        d if d >= 0.3 => 2,
        d if d >= 0.03 => 3,
        _ => 4,
    }
}
fn signed(value: f64, doubt: f64) -> String {
    let text = to_doubt(value, doubt);
    if value > 0.0 { format!("+{text}") } else { text }
}
/// A place in the recording: 1:02.35.
fn place(seconds: f64) -> String {
    // Hundredths, so that nothing rounds up to a whole minute behind the colon.
    let hundredths = (seconds.max(0.0) * 100.0).round() as u64;
    format!("{}:{:02}.{:02}", hundredths / 6_000, hundredths / 100 % 60, hundredths % 100)
}
/// For a reader.
pub fn text(s: &Story<'_>, paint: Paint) -> String {
    let h = s.heard;
    let f = s.recording.format;
    let kind = match (f.kind, f.bytes) {
        (listen::wav::Kind::Integer, b) => format!("{} bits", b * 8),
        (listen::wav::Kind::Float, b) => format!("{} bits, floating", b * 8),
    };
    let channel = match h.channel {
        (_, 1) => "one channel".to_owned(),
        (c, _) => format!("{} channel of two", if c == 0 { "left" } else { "right" }),
    };
    let name = clean(&s.file.display().to_string());
    let verdict = match h.verdict.trust {
        Trust::Sure => paint.good("heard"),
        Trust::BeatOnly => paint.strong("a beat, but no rate"),
        Trust::Nothing => paint.strong("nothing to go by"),
    };
    let mut out = format!("{name}: {verdict}\n");
    let mut rows: Vec<[String; 2]> = Vec::new();
    let mut row = |what: &str, says: String| rows.push([what.to_owned(), says]);
    row("recording", format!("{}, {} samples a second, {kind}, {channel}", place(h.seconds), f.rate));
    row("verdict", h.verdict.says.clone());
    if let Some(b) = &h.beat {
        beat(b, s, &mut row);
    }
    let end = s.recording.end;
    if end.missing > 0 {
        row("file", format!("it is cut short: {} bytes that its head promises are missing", end.missing));
    }
    if end.open_ended {
        row("file", "its length was never written: the recorder was not switched off in order".to_owned());
    }
    for note in &h.verdict.notes {
        row("note", note.clone());
    }
    for cure in &h.verdict.cures {
        row("would do", cure.clone());
    }
    let rows: Vec<Vec<String>> = rows.into_iter().map(|[a, b]| vec![a, b]).collect();
    out += &columns(&rows, 2);
    out
}
fn beat(b: &Beat, s: &Story<'_>, row: &mut impl FnMut(&str, String)) {
    let an_hour = 3_600.0 / b.seconds;
    row(
        "beat",
        format!(
            "{} s ± {} µs, {} beats an hour; {} of {} beats heard, alike to {}",
            fixed(b.seconds, 7),
            significant(b.within * 1e6, 2),
            fixed(an_hour, 3),
            b.heard,
            b.due,
            fixed(b.alike, 3)
        ),
    );
    let sure = s.heard.verdict.trust == Trust::Sure;
    if let (Some(r), true) = (b.rate, sure) {
        let way = if r.value > 0.0 { "gains" } else { "loses" };
        row(
            "rate",
            format!(
                "{} s/day ({way}), ± {} with 95 in 100: ± {} by scatter, ± {} by the recorder's clock",
                signed(r.value, r.within()),
                significant(r.within(), 2),
                significant(r.scatter, 2),
                significant(r.recorder, 2)
            ),
        );
        let recorder = s.hint.recorder;
        row(
            "recorder",
            if recorder.known {
                format!(
                    "{} ± {} parts in a million fast, set right: {} s/day",
                    three(recorder.ppm),
                    significant(recorder.within, 2),
                    signed(-recorder.shift(), 0.01)
                )
            } else {
                format!(
                    "its clock was not held against a reference: {} parts in a million are usual, {} s/day",
                    three(recorder.within),
                    three(r.recorder)
                )
            },
        );
    }
    if let (Some((e, within)), true) = (b.beat_error, sure) {
        let longer = if e > 0.0 {
            "the pause before a tick is the longer"
        } else {
            "the pause after a tick is the longer"
        };
        row(
            "beat error",
            format!(
                "{} ms ± {}; {longer}, tick being the first heard; where tick and tock sound unlike, 0.3 ms is in doubt",
                fixed(e.abs() * 1e3, 3),
                significant(within * 1e3, 2)
            ),
        );
    }
    row(
        "scatter",
        format!(
            "{} ms about the line{}",
            three(b.line.scatter * 1e3),
            if b.line.off > 0 {
                format!("; {} left out", counted(b.line.off, "beat"))
            } else {
                String::new()
            }
        ),
    );
    if let (Some((d, within)), true) = (b.drift, sure) {
        let real = d.abs() > within;
        let says = format!("{} s/day in an hour ± {}", signed(d, within), significant(within, 2));
        row("drift", if real { says } else { format!("{says}: none that could be told from scatter") });
    }
    for p in b.periodic.iter().filter(|p| p.real()) {
        row("again", again(p));
    }
    let quiet: Vec<&Periodic> = b.periodic.iter().filter(|p| !p.real()).collect();
    if !quiet.is_empty() {
        let least = quiet.iter().map(|p| 2.5 * p.error).fold(0.0, f64::max);
        let names: Vec<String> = quiet
            .iter()
            .map(|p| format!("{} ({} s)", clean(&p.wheels.join(", ")), three(p.period)))
            .collect();
        row("even", format!("{}: nothing above {} ms", names.join("; "), significant(least * 1e3, 2)));
    }
    if !b.too_slow.is_empty() {
        let names: Vec<String> =
            b.too_slow.iter().map(|w| format!("{} ({} s)", clean(&w.name), three(w.period))).collect();
        row(
            "not told",
            format!("{}: two turns and more must be recorded, and two beats in a turn", names.join("; ")),
        );
    }
    others(b, row);
}
fn again(p: &Periodic) -> String {
    let who =
        if p.wheels.is_empty() { "no wheel that was told".to_owned() } else { clean(&p.wheels.join(", ")) };
    format!(
        "{who}: ± {} ms every {} s ± {} ms, latest at {} and so on; by chance 1 in {}",
        significant(p.amplitude * 1e3, 3),
        significant(p.period, 5),
        significant(2.0 * p.error * 1e3, 2),
        place(p.latest),
        if p.chance < 1e-9 { "a thousand million or more".to_owned() } else { fixed(1.0 / p.chance, 0) }
    )
}
fn others(b: &Beat, row: &mut impl FnMut(&str, String)) {
    for (from, to) in b.others.silent.iter().take(SHOWN) {
        row("no beat", format!("from {} to {}", place(*from), place(*to)));
    }
    for (why, name) in [(Why::Lost, "lost"), (Why::Covered, "covered"), (Why::OutOfTime, "out of time")] {
        let all: Vec<f64> = b.others.missing.iter().filter(|m| m.1 == why).map(|m| m.0).collect();
        listed(name, &all.iter().map(|t| place(*t)).collect::<Vec<_>>(), row);
    }
    for (double, name) in [(true, "doubled"), (false, "other sound")] {
        let all: Vec<String> = b
            .others
            .extra
            .iter()
            .filter(|e| e.double == double)
            .map(|e| {
                let after =
                    if double { format!(", {} ms after", fixed(e.after * 1e3, 0)) } else { String::new() };
                format!("{} (× {}{after})", place(e.time), significant(e.strength.sqrt(), 2))
            })
            .collect();
        listed(name, &all, row);
    }
    for (after, height) in &b.others.regular {
        row(
            "at every cycle",
            format!(
                "a sound {} ms after the tick, {} of its height: an echo, or another clock",
                fixed(after * 1e3, 0),
                significant(*height, 2)
            ),
        );
    }
}
fn listed(name: &str, all: &[String], row: &mut impl FnMut(&str, String)) {
    if all.is_empty() {
        return;
    }
    let more = if all.len() > SHOWN { format!(" and {} more", all.len() - SHOWN) } else { String::new() };
    row(name, format!("{}: {}{more}", all.len(), all[..all.len().min(SHOWN)].join(", ")));
}
/// How a rate was heard, for the journal; none where there is no rate.
pub fn line(s: &Story<'_>) -> Option<String> {
    let b = s.heard.beat.as_ref().filter(|_| s.heard.verdict.trust == Trust::Sure)?;
    let error = b
        .beat_error
        .map(|(e, w)| format!(", beat error {} ± {} ms", fixed(e.abs() * 1e3, 2), significant(w * 1e3, 2)));
    Some(format!(
        "by ear for {} s{}, scatter {} ms, {} of {} beats, {}",
        significant(s.heard.seconds, 4),
        error.unwrap_or_default(),
        three(b.line.scatter * 1e3),
        b.heard,
        b.due,
        if s.hint.recorder.known { "recorder held against a reference" } else { "recorder taken as it is" }
    ))
}
/// For another program.
pub fn as_json(s: &Story<'_>, reference: Option<&Heard>, exit: u8) -> Value {
    let h = s.heard;
    let trust = match h.verdict.trust {
        Trust::Sure => "sure",
        Trust::BeatOnly => "beat only",
        Trust::Nothing => "nothing",
    };
    let sure = h.verdict.trust == Trust::Sure;
    let beat = h.beat.as_ref().map(|b| {
        let rate = b.rate.filter(|_| sure).map(|r| {
            json!({ "s_per_day": r.value, "within": r.within(), "by_scatter": r.scatter, "by_recorder": r.recorder })
        });
        let error = b.beat_error.filter(|_| sure).map(|(e, w)| json!({ "s": e, "within": w }));
        let drift = b.drift.filter(|_| sure).map(|(d, w)| json!({ "s_per_day_in_an_hour": d, "within": w }));
        let periodic: Vec<Value> = b
            .periodic
            .iter()
            .map(|p| {
                json!({
                    "wheels": p.wheels, "period_s": p.period, "amplitude_s": p.amplitude, "standard_error_s": p.error,
                    "latest_s": p.latest, "chance": p.chance, "real": p.real(),
                })
            })
            .collect();
        let missing: Vec<Value> = b
            .others
            .missing
            .iter()
            .take(TOLD)
            .map(|(t, why)| {
                let why = match why {
                    Why::Lost => "lost",
                    Why::Covered => "covered",
                    Why::OutOfTime => "out of time",
                };
                json!({ "at_s": t, "why": why })
            })
            .collect();
        let extra: Vec<Value> = b
            .others
            .extra
            .iter()
            .take(TOLD)
            .map(|e| json!({ "at_s": e.time, "doubled": e.double, "energy": e.strength }))
            .collect();
        json!({
            "s": b.seconds, "within_s": b.within, "an_hour": 3_600.0 / b.seconds,
            "nominal": b.nominal.map(|n| n.0), "nominal_told": b.nominal.map(|n| n.1),
            "heard": b.heard, "due": b.due, "alike": b.alike, "scatter_s": b.line.scatter, "left_out": b.line.off,
            "rate": rate, "beat_error": error, "drift": drift, "periodic": periodic,
            "missing": missing, "missing_in_all": b.others.missing.len(),
            "extra": extra, "extra_in_all": b.others.extra.len(),
            "no_beat": b.others.silent, "second_beat_s": b.others.second, "runs": b.runs,
            "sound_that_moves": b.others.moves.map(|(after, moves)| json!({ "after_tick_s": after, "s_per_day": moves })),
            "ticks_less_tocks": b.line.apart.map(|(a, e)| json!({ "s_per_day": a, "standard_error": e })),
        })
    });
    let recorder = s.hint.recorder;
    json!({
        "exit": exit,
        "file": s.file.display().to_string(),
        "seconds": h.seconds,
        "samples_per_second": h.sample_rate,
        "channel": h.channel.0,
        "cut_off": h.health.clipped,
        "no_number": h.health.no_number,
        "bytes_missing": s.recording.end.missing,
        "length_not_written": s.recording.end.open_ended,
        "trust": trust,
        "verdict": h.verdict.says,
        "notes": h.verdict.notes,
        "cures": h.verdict.cures,
        "recorder": { "ppm": recorder.ppm, "within_ppm": recorder.within, "known": recorder.known },
        "reference": reference.map(|r| json!({ "pulse_s": s.pulse, "heard_s": r.beat.as_ref().map(|b| b.seconds), "verdict": r.verdict.says })),
        "beat": beat,
    })
}
