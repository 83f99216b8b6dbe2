//! `listen` from outside: recordings in many forms, references, the log, and what is no recording of one clock.

use super::common::Bench;
use super::enter::{enter, regulator};
use listen::synthetic::{Synthetic, normal};
use serde_json::Value;

const RATE: u32 = 16_000;

fn clock(seconds: f64) -> Synthetic {
    Synthetic { rate: f64::from(RATE), seconds, gains: 12.5, ..Synthetic::default() }
}
/// How samples are written.
#[derive(Copy, Clone, Debug)]
enum Form {
    Whole(u16),
    Float(u16),
}
/// A recording of channels of samples, ±1 at full scale.
fn wav(channels: &[&[f64]], rate: u32, form: Form) -> Vec<u8> {
    let (tag, bits) = match form {
        Form::Whole(b) => (1_u16, b),
        Form::Float(b) => (3, b),
    };
    let mut data = Vec::new();
    for i in 0..channels[0].len() {
        for c in channels {
            let v = c[i].clamp(-1.0, 1.0);
            match form {
                Form::Whole(8) => data.push((v * 127.0 + 128.0).round() as u8),
                Form::Whole(16) => data.extend(((v * 32_767.0).round() as i16).to_le_bytes()),
                Form::Whole(24) => data.extend(&((v * 8_388_607.0).round() as i32).to_le_bytes()[..3]),
                Form::Whole(_) => data.extend(((v * 2_147_483_647.0).round() as i32).to_le_bytes()),
                Form::Float(32) => data.extend((v as f32).to_le_bytes()),
                Form::Float(_) => data.extend(v.to_le_bytes()),
            }
        }
    }
    let n = u16::try_from(channels.len()).expect("few");
    let block = n * bits / 8;
    let size = |n: usize| u32::try_from(n).expect("small").to_le_bytes();
    let mut out = b"RIFF".to_vec();
    out.extend(size(36 + data.len()));
    out.extend(b"WAVEfmt \x10\0\0\0");
    out.extend(tag.to_le_bytes());
    out.extend(n.to_le_bytes());
    out.extend(rate.to_le_bytes());
    out.extend((rate * u32::from(block)).to_le_bytes());
    out.extend(block.to_le_bytes());
    out.extend(bits.to_le_bytes());
    out.extend(b"data");
    out.extend(size(data.len()));
    out.extend(data);
    out
}
fn sound(made: &Synthetic) -> Vec<f64> {
    made.samples().iter().map(|v| f64::from(*v) / 32_768.0).collect()
}
fn mono(made: &Synthetic) -> Vec<u8> {
    wav(&[&sound(made)], made.rate as u32, Form::Whole(16))
}
fn rate(told: &Value) -> (f64, f64) {
    let r = &told["beat"]["rate"];
    (r["s_per_day"].as_f64().expect("a rate"), r["by_scatter"].as_f64().expect("a doubt"))
}

#[test]
fn a_rate_is_told_with_its_doubts() {
    let bench = Bench::new();
    bench.write("hall.wav", mono(&clock(60.0)));
    bench
        .run(&["listen", "hall.wav", "--picture", "hall.svg"])
        .exits(0)
        .says("hall.wav: heard")
        .says("+12.5")
        .says("by the recorder's clock")
        .says("beat error");
    assert!(bench.has("hall.svg"));
    let told = bench.run(&["listen", "hall.wav", "--json"]).exits(0).json();
    let (value, scatter) = rate(&told);
    assert!((value - 12.5).abs() < 0.05 && scatter < 0.05, "{value} ± {scatter}");
    let error = told["beat"]["beat_error"]["s"].as_f64().expect("a beat error");
    assert!((error - 8e-3).abs() < 0.05e-3, "{error}");
    assert_eq!(told["beat"]["heard"], 60);
    // A recorder that nobody held against anything leaves its 50 parts in a million.
    let recorder = told["beat"]["rate"]["by_recorder"].as_f64().expect("a doubt");
    assert!((recorder - 4.32).abs() < 1e-9, "{recorder}");
}
#[test]
fn every_form_of_recording_gives_the_same_rate() {
    let bench = Bench::new();
    let made = clock(40.0);
    let (ticks, hiss) = (sound(&made), vec![0.001; (40 * RATE) as usize]);
    for form in
        [Form::Whole(8), Form::Whole(16), Form::Whole(24), Form::Whole(32), Form::Float(32), Form::Float(64)]
    {
        bench.write("one.wav", wav(&[&ticks], RATE, form));
        bench.write("two.wav", wav(&[&hiss, &ticks], RATE, form));
        for file in ["one.wav", "two.wav"] {
            let told = bench.run(&["listen", file, "--json"]).exits(0).json();
            let (value, _) = rate(&told);
            assert!((value - 12.5).abs() < 0.1, "{form:?} {file}: {value}");
            assert_eq!(told["channel"], u8::from(file == "two.wav"), "{form:?} {file}");
        }
    }
}
#[test]
fn what_was_heard_goes_into_the_rating_log() {
    let bench = regulator();
    bench.write("hall.wav", mono(&clock(60.0)));
    let listen = |more: &[&str]| {
        let mut words = vec!["listen", "hall.wav", "--project", "clock", "--log"];
        words.extend(more);
        bench.run(&words)
    };
    listen(&["--when", "2026-03-01T18:30:00Z", "--arc", "1.6deg", "--at", "18degC"])
        .exits(0)
        .says("hall.wav: heard")
        .says("heard +12.5 ± 4.3 s/day in 1 recording")
        .says("turn the nut so that the bob goes down");
    let all = bench.run(&["enter", "--project", "clock", "--list", "--json"]).exits(0).json();
    let entry = &all[0];
    assert_eq!(entry["kind"], "rated", "{all}");
    let body = &entry["body"];
    let number = |key: &str| body[key].as_f64().unwrap_or_else(|| panic!("{key} in {body}"));
    assert!((number("rate") - 12.5).abs() < 0.05, "{body}");
    assert!((number("rate_within") - 4.32).abs() < 0.01, "{body}");
    assert!((number("arc") - 1.6_f64.to_radians()).abs() < 1e-9);
    assert!(body.get("offset").is_none(), "{body}");
    assert!(body["by"].as_str().is_some_and(|b| b.contains("60 of 60 beats")), "{body}");
    // Set right by a reference, for another program; the surer recording weighs more.
    let told = listen(&["--reference", "-20 ± 1 ppm", "--json"]).exits(0).json();
    assert_eq!(told["logged"]["entry"], 2, "{told}");
    let (value, _) = rate(&told);
    assert!((value - (12.5 - 1.728)).abs() < 0.05, "{value}");
    let heard = told["logged"]["rated"]["heard"].as_str().expect("words").to_owned();
    assert!(heard.starts_with("+10.7") && heard.ends_with("in 2 recordings"), "{heard}");
    bench.run(&["enter", "--project", "clock", "--list"]).exits(0).says("rate heard, by ear for 60");
    // The model stands beside it.
    bench
        .run(&["going", "clock"])
        .says("by the journal: arc as read at 2026-03-01T18:30:00Z, rate by 2 recordings")
        .says("1.60° measured")
        .says("alone it would be explained by");
    // Readings over days go on being read as before.
    for (day, offset) in [(2, "0 s"), (3, "10.8 s"), (4, "21.6 s"), (6, "43.2 s")] {
        let when = format!("2026-03-{day:02}T08:00:00Z");
        enter(&bench, &["--rating", offset, "--when", &when]);
    }
    let told = enter(&bench, &["--rating", "64.8 s", "--when", "2026-03-08T08:00:00Z"]);
    assert_eq!(told["rated"]["rate"], "+10.800 s/day", "{told}");
    assert_eq!(told["rated"]["heard"], heard, "{told}");
}
#[test]
fn where_no_rate_was_heard_none_is_entered() {
    let bench = regulator();
    let noise: Vec<f64> = (0..u64::from(20 * RATE)).map(|i| 0.05 * normal(3, i)).collect();
    bench.write("noise.wav", wav(&[&noise], RATE, Form::Whole(16)));
    bench
        .run(&["listen", "noise.wav", "--project", "clock", "--log"])
        .exits(2)
        .complains("no rate was heard, so none was entered");
    assert!(!bench.has("clock/journal.sqlite"));
    bench.run(&["listen", "noise.wav", "--when", "2026-03-01"]).exits(64);
}
#[test]
fn a_recorder_is_held_against_its_reference() {
    let bench = Bench::new();
    // A recorder 40 parts in a million fast hears a clock that gains 3.456 s a day keep time; its own
    // second pulses come 40 in a million late.
    let ticks = sound(&Synthetic { gains: 0.0, ..clock(90.0) });
    let pulses = {
        let one = Synthetic { noise: 0.001, seed: 8, ..clock(90.0) };
        let times: Vec<f64> = (0..89).map(|k| 0.4 + f64::from(k) * (1.0 + 40e-6)).collect();
        let x: Vec<f64> = one.with(&times).iter().map(|v| f64::from(*v) / 32_768.0).collect();
        x
    };
    bench.write("both.wav", wav(&[&ticks, &pulses], RATE, Form::Whole(16)));
    bench.write("alone.wav", wav(&[&ticks], RATE, Form::Whole(16)));
    bench.write("pulses.wav", wav(&[&pulses], RATE, Form::Whole(16)));
    for words in [
        vec!["listen", "both.wav", "--reference", "right"],
        vec!["listen", "alone.wav", "--reference", "pulses.wav"],
        vec!["listen", "alone.wav", "--reference", "40 ± 0.5 ppm"],
    ] {
        let words = [&words[..], &["--json"]].concat();
        let told = bench.run(&words).exits(0).json();
        let (value, _) = rate(&told);
        assert!((value - 3.456).abs() < 0.1, "{words:?}: {value}");
        assert!(told["beat"]["rate"]["by_recorder"].as_f64().is_some_and(|d| d < 0.2), "{told}");
    }
    bench.run(&["listen", "alone.wav", "--reference", "right"]).exits(64).complains("one channel only");
    bench.run(&["listen", "alone.wav", "--reference", "some ppm"]).exits(64).complains("parts in a million");
    bench
        .run(&["listen", "both.wav", "--reference", "left", "--channel", "left"])
        .exits(64)
        .complains("cannot both be in that channel");
    let noise: Vec<f64> = (0..u64::from(20 * RATE)).map(|i| 0.05 * normal(3, i)).collect();
    bench.write("noise.wav", wav(&[&noise], RATE, Form::Whole(16)));
    bench
        .run(&["listen", "alone.wav", "--reference", "noise.wav"])
        .exits(2)
        .complains("the reference in noise.wav cannot be used");
}
#[test]
fn what_is_no_recording_of_one_clock_gets_no_rate() {
    let bench = Bench::new();
    let whole = mono(&clock(20.0));
    let silent = vec![0.0; (10 * RATE) as usize];
    let one = sound(&clock(60.0));
    let other = sound(&Synthetic { beat: 0.83, gains: 0.0, seed: 9, ..clock(60.0) });
    let both: Vec<f64> = one.iter().zip(&other).map(|(a, b)| a + b).collect();
    for (file, bytes, code, says) in [
        ("empty.wav", Vec::new(), 2, "the file is empty"),
        ("head.wav", whole[..30].to_vec(), 2, "ends before"),
        ("none.wav", whole[..44].to_vec(), 2, "no samples"),
        ("text.wav", b"[clock]\nname = 1\n".to_vec(), 2, "not a WAV file"),
        ("short.wav", mono(&clock(2.0)), 2, "at least 4 s are needed"),
        ("silent.wav", wav(&[&silent], RATE, Form::Whole(16)), 2, "silent"),
        ("both.wav", wav(&[&both], RATE, Form::Whole(16)), 2, "two clocks are heard"),
    ] {
        bench.write(file, bytes);
        let run = bench.run(&["listen", file]).exits(code);
        assert!(format!("{}{}", run.out, run.err).contains(says), "{file}: {run:?}");
        let json = bench.run(&["listen", file, "--json"]).exits(code);
        assert!(json.json()["beat"]["rate"].is_null(), "{file}: {json:?}");
    }
    // Cut short it is still heard, and that is told; so is what was cut off at full scale.
    bench.write("cut.wav", &whole[..whole.len() - 100_001]);
    bench.run(&["listen", "cut.wav"]).exits(0).says("it is cut short: 100001 bytes");
    let loud: Vec<f64> = one.iter().map(|v| v * 8.0).collect();
    bench.write("loud.wav", wav(&[&loud], RATE, Form::Whole(16)));
    bench.run(&["listen", "loud.wav"]).exits(0).says("cut off at full scale").says("+12.5");
    bench.run(&["listen", "nowhere.wav"]).exits(74);
    bench.run(&["listen", "."]).exits(74).complains("not a plain file");
}
