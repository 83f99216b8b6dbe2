//! `prove`: programs are read again and the metal that their moves sweep is removed.

use crate::args::{self, FormOf};
use crate::look::{Look, Paint, clean, counted};
use crate::outcome::{Outcome, Stopped};
use crate::told::{self, Texts};
use crate::{exit, files};
use proof::picture::Picture;
use reckon::Trouble;
use reckon::print::significant;
use serde_json::{Value, json};
use sheets::Typecase;
use sheets::packet::programs::{Shown, picture};
use std::path::Path;
use trial::{Found, SetUp};

/// A program, what it is called, and what the proof found.
pub struct Proved {
    /// Path to show.
    pub path: String,
    /// Its text.
    pub text: String,
    /// Name of its pictures.
    pub name: String,
    /// What was found.
    pub found: Found,
    /// Whether it turns.
    pub turned: bool,
}

/// Proves.
///
/// # Errors
/// When something cannot be read or written.
pub fn run(args: &args::Prove, look: Look) -> Result<Outcome, Stopped> {
    if let Some(form) = args.form {
        return Ok(Outcome::well(match form {
            FormOf::Mill => trial::FORM.0,
            FormOf::Lathe => trial::FORM.1,
        }));
    }
    match &args.set_up {
        Some(set_up) => foreign(args, &args.what, set_up, look),
        None if args.what.is_file() => {
            Err(Stopped::wrong_use(format!("'{}' is a program without a set-up", args.what.display()))
                .why("what it cuts, with which tools and out of what, stands in no program")
                .cure("name it: --set-up FILE.toml")
                .cure("a set-up to begin with: brasswright prove --form mill"))
        }
        None => {
            Err(Stopped::wrong_use("no program was named")
                .cure("brasswright prove FILE.nc --set-up FILE.toml"))
        }
    }
}
/// A text that must be there.
fn text(path: &Path) -> Result<(Vec<u8>, Option<String>), Stopped> {
    let bytes = files::read_if_there(path)?.ok_or_else(|| {
        Stopped::files(format!("'{}' could not be read", path.display())).why("there is nothing by that name")
    })?;
    let text = String::from_utf8(bytes.clone()).ok();
    Ok((bytes, text))
}
/// A program from elsewhere.
fn foreign(args: &args::Prove, program: &Path, set_up: &Path, look: Look) -> Result<Outcome, Stopped> {
    let ((program_bytes, nc), (set_up_bytes, toml)) = (text(program)?, text(set_up)?);
    let mut texts = Texts::default();
    texts.add("program", &program.display().to_string(), &program_bytes);
    texts.add("set-up", &set_up.display().to_string(), &set_up_bytes);
    let mut troubles = Vec::new();
    for (text, path) in [(&nc, program), (&toml, set_up)] {
        if text.is_none() {
            let says = format!("'{}' is not text", path.display());
            troubles.push(
                Trouble::text(says).why("it is not UTF-8").cure("check that the right file lies there"),
            );
        }
    }
    let trial = match &toml {
        Some(toml) => match trial::read("set-up", toml) {
            Ok(trial) => Some(trial),
            Err(more) => {
                troubles.extend(more);
                None
            }
        },
        None => None,
    };
    let (Some(trial), Some(nc), true) = (trial, nc, troubles.is_empty()) else {
        return Ok(told_of(&[], &told::in_order(troubles), &texts, args.json, look));
    };
    let found = trial.prove(&nc);
    let troubles = found.troubles("program", &nc);
    let stem = program.file_stem().unwrap_or_default().to_string_lossy();
    let proved = Proved {
        path: program.display().to_string(),
        text: nc,
        name: clean(&stem),
        turned: matches!(trial.set_up, SetUp::Lathe(_)),
        found,
    };
    let mut outcome = told_of(std::slice::from_ref(&proved), &troubles, &texts, args.json, look);
    if let Some(out) = &args.out {
        let sheets = pictures(&proved)?;
        let places = files::write_all(out, &sheets)?;
        if !args.json {
            for place in places {
                outcome.out += &format!("{}\n", clean(&place.display().to_string()));
            }
        }
    }
    Ok(outcome)
}
/// What was found, for a maker or another program.
pub fn told_of(proved: &[Proved], troubles: &[Trouble], texts: &Texts, as_json: bool, look: Look) -> Outcome {
    let exit = exit::worst(troubles);
    if as_json {
        let programs: Value = proved.iter().map(one_as_json).collect();
        let all = json!({ "exit": exit, "troubles": told::as_json(troubles, texts), "programs": programs });
        return Outcome { out: format!("{all:#}\n"), exit, ..Outcome::default() };
    }
    let paint = Paint(look.out);
    let mut out = String::new();
    for p in proved {
        let f = &p.found;
        let faults = f.misread.len() + f.faults.len();
        let verdict = match faults {
            0 => paint.good("sound"),
            n => paint.strong(&counted(n, "fault")),
        };
        out += &format!("{}: {verdict}\n", clean(&p.path));
        for (what, value) in facts(f) {
            out += &format!("  {what:<12} {value}\n");
        }
    }
    Outcome { out, err: told::all(troubles, texts, look.err), exit }
}
/// What a proof tells besides its faults.
#[must_use]
pub fn facts(f: &Found) -> Vec<(&'static str, String)> {
    let three = |v: f64| significant(v, 3);
    vec![
        ("moves", format!("{} in {} min, stops and changes not counted", f.moves, three(f.minutes))),
        ("metal", format!("{} mm³ before, {} after", significant(f.metal.0, 5), significant(f.metal.1, 5))),
        ("allowed", format!("{} mm more or less than what is wanted", three(f.room))),
        (
            "rapids",
            if f.worst_rapid > 0.0 {
                format!("met {} mm² of metal at once", three(f.worst_rapid))
            } else {
                "met no metal".to_owned()
            },
        ),
    ]
}
fn one_as_json(p: &Proved) -> Value {
    let f = &p.found;
    let kinds: Vec<String> = f.misread.iter().chain(&f.faults).map(|fault| fault.wrong.word()).collect();
    json!({
        "program": p.path,
        "sound": f.is_sound(),
        "faults": kinds,
        "lines": p.text.lines().count(),
        "moves": f.moves,
        "minutes": f.minutes,
        "metal_before_mm3": f.metal.0,
        "metal_after_mm3": f.metal.1,
        "left_over": f.off.0,
        "gouged": f.off.1,
        "worst_rapid_mm2": f.worst_rapid,
        "allowed_mm": f.room,
    })
}
/// Outlines as the sheets draw them.
#[must_use]
pub fn shown(title: &str, p: &Picture, turned: bool) -> Shown {
    Shown {
        title: title.to_owned(),
        before: p.before.clone(),
        after: p.after.clone(),
        remainder: p.remainder.clone(),
        gouge: p.gouge.clone(),
        paths: p.paths.iter().map(|path| (path.rapid, path.places.clone())).collect(),
        turned,
    }
}
/// Pictures of a proved program, as files.
pub fn pictures(p: &Proved) -> Result<Vec<(String, Vec<u8>)>, Stopped> {
    let case = Typecase::new();
    let mut all = Vec::new();
    for (i, view) in p.found.views.iter().enumerate() {
        let sketch = picture(&shown(&view.title, &view.picture, p.turned), 180.0, 140.0);
        let page = sheets::drawing(&case, &sketch)
            .map_err(|_| Stopped::trouble(Trouble::ours("the picture of a proof cannot be drawn")))?;
        let svg = sheets::svg(&page, sheets::Letters::Outlines, &format!("v{i}-"));
        let name = if i == 0 { format!("{}.svg", p.name) } else { format!("{}-{}.svg", p.name, i + 1) };
        all.push((name, svg.into_bytes()));
    }
    Ok(all)
}
