//! `prove`: programs are read again and the metal that their moves sweep is removed.

use crate::args::{self, FormOf};
use crate::begin;
use crate::folder::Folder;
use crate::look::{Look, Paint, clean, counted};
use crate::outcome::{Outcome, Stopped};
use crate::told::{self, Texts};
use crate::work::Work;
use crate::{exit, files};
use making::nc::hand_over::Program;
use proof::picture::Picture;
use reckon::Trouble;
use reckon::print::significant;
use serde_json::{Value, json};
use sheets::Typecase;
use sheets::packet::programs::{Proven, Shown, picture};
use std::path::{Path, PathBuf};
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
        None if args.what.is_file() => edited(args, &args.what, look),
        None => project(args, look),
    }
}
/// The folder of the project that a file lies in, at any depth.
fn home(file: &Path) -> Option<PathBuf> {
    let whole = std::path::absolute(file).ok()?;
    let found = whole.ancestors().skip(1).find(|dir| dir.join("clock.toml").is_file())?;
    // As it was written, where that can be.
    let shown = file.ancestors().skip(1).find(|dir| std::path::absolute(dir).is_ok_and(|d| d == found));
    Some(match shown {
        Some(dir) if dir == Path::new("") => PathBuf::from("."),
        Some(dir) => dir.to_owned(),
        None => found.to_owned(),
    })
}
/// A program of a project, as it may have been changed, on the set-up of the project's plan.
fn edited(args: &args::Prove, program: &Path, look: Look) -> Result<Outcome, Stopped> {
    let without = |why: &str| {
        Stopped::wrong_use(format!("'{}' is a program without a set-up", program.display()))
            .why(why.to_owned())
            .cure("name it: --set-up FILE.toml")
            .cure("a set-up to begin with: brasswright prove --form mill")
    };
    let Some(home) = home(program) else {
        return Err(without(
            "what it cuts, with which tools and out of what, stands in no program; and it lies in no project",
        ));
    };
    let folder = Folder::read(&home, &args.shop)?;
    let mut texts = folder.texts();
    let mut work = Work::out(&folder);
    work.write_programs();
    let stops = exit::worst(&work.troubles);
    if stops != exit::WELL {
        return Ok(told_of(&[], &work.troubles, &texts, args.json, look));
    }
    let name = program.file_stem().unwrap_or_default().to_string_lossy();
    let programs = work.making.as_ref().map_or(&[][..], |m| m.programs.as_slice());
    let Some(own) = programs.iter().find(|own| own.name == name) else {
        return Err(without("the project that it lies in has no program of this name"));
    };
    let (bytes, nc) = text(program)?;
    let path = program.display().to_string();
    texts.add("program", &path, &bytes);
    let Some(nc) = nc else {
        let trouble = Trouble::text(format!("'{path}' is not text"))
            .why("it is not UTF-8")
            .cure("check that the right file lies there");
        return Ok(told_of(&[], &[trouble], &texts, args.json, look));
    };
    let trial = trial::of(own).map_err(|why| {
        Stopped::trouble(Trouble::ours(format!("'{path}' cannot be put on trial")).why(why))
    })?;
    let found = trial.prove(&nc);
    let troubles = found.troubles("program", &nc);
    let turned = matches!(trial.set_up, SetUp::Lathe(_));
    let proved = Proved { path, text: nc, name: clean(&name), found, turned };
    let mut outcome = told_of(std::slice::from_ref(&proved), &troubles, &texts, args.json, look);
    written(args, &pictures(&proved)?, &mut outcome)?;
    Ok(outcome)
}
/// Files into the folder that was named, if one was.
fn written(args: &args::Prove, sheets: &[(String, Vec<u8>)], outcome: &mut Outcome) -> Result<(), Stopped> {
    let Some(out) = &args.out else { return Ok(()) };
    for place in files::write_all(out, sheets)? {
        if !args.json {
            outcome.out += &format!("{}\n", clean(&place.display().to_string()));
        }
    }
    Ok(())
}
/// Every program that a project's plan has.
fn project(args: &args::Prove, look: Look) -> Result<Outcome, Stopped> {
    let folder = match &args.example {
        Some(name) => Folder::example(begin::example(name)?),
        None => Folder::read(&args.what, &args.shop)?,
    };
    let mut texts = folder.texts();
    let mut work = Work::out(&folder);
    work.write_programs();
    let stops = exit::worst(&work.troubles);
    if stops != exit::WELL {
        return Ok(told_of(&[], &work.troubles, &texts, args.json, look));
    }
    let (proved, mut troubles) = all(work.making.as_ref().map_or(&[][..], |m| m.programs.as_slice()));
    for p in &proved {
        texts.add(&p.path, &p.path, p.text.as_bytes());
        troubles.extend(p.found.troubles(&p.path, &p.text));
    }
    let mut outcome = told_of(&proved, &troubles, &texts, args.json, look);
    if proved.is_empty() && troubles.is_empty() && !args.json {
        outcome.out = "no part of this project is made by program\n".to_owned();
    }
    if let Some(out) = &args.out {
        let mut sheets = Vec::new();
        for p in &proved {
            sheets.push((p.path.clone(), p.text.clone().into_bytes()));
            sheets.extend(pictures(p)?);
        }
        for place in files::write_all(out, &sheets)? {
            if !args.json {
                outcome.out += &format!("{}\n", clean(&place.display().to_string()));
            }
        }
    }
    Ok(outcome)
}
/// Proves the programs of a plan, two at a time.
#[must_use]
pub fn all(programs: &[Program]) -> (Vec<Proved>, Vec<Trouble>) {
    let one = |p: &Program| -> Result<Proved, Trouble> {
        let trial = trial::of(p).map_err(|why| {
            Trouble::ours(format!("the program '{}' cannot be put on trial", p.name)).why(why)
        })?;
        Ok(Proved {
            path: format!("{}.nc", p.name),
            text: p.text.clone(),
            name: p.name.clone(),
            turned: matches!(trial.set_up, SetUp::Lathe(_)),
            found: trial.prove(&p.text),
        })
    };
    let half = |from: usize| -> Vec<Result<Proved, Trouble>> {
        programs.iter().skip(from).step_by(2).map(one).collect()
    };
    let (even, odd) = std::thread::scope(|scope| {
        let other = scope.spawn(|| half(1));
        (half(0), other.join().unwrap_or_else(|fault| std::panic::resume_unwind(fault)))
    });
    let (mut even, mut odd) = (even.into_iter(), odd.into_iter());
    let (mut proved, mut troubles) = (Vec::new(), Vec::new());
    for n in 0..programs.len() {
        match if n % 2 == 0 { even.next() } else { odd.next() } {
            Some(Ok(p)) => proved.push(p),
            Some(Err(t)) => troubles.push(t),
            None => {}
        }
    }
    (proved, troubles)
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
    written(args, &pictures(&proved)?, &mut outcome)?;
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
/// What a sheet shows of a proof; nothing where the program is not sound.
#[must_use]
pub fn proven<'a>(p: &Proved, programs: &'a [Program]) -> Option<Proven<'a>> {
    let program = programs.iter().find(|own| own.name == p.name)?;
    let views = p.found.views.iter();
    p.found.is_sound().then(|| Proven {
        program,
        facts: facts(&p.found),
        shown: views.map(|v| shown(&v.title, &v.picture, p.turned)).collect(),
        minutes: p.found.minutes,
    })
}
/// Why a program was not written.
#[must_use]
pub fn unsound(p: &Proved, work: &Work) -> Option<Trouble> {
    let f = &p.found;
    let first = f.misread.iter().chain(&f.faults).next()?;
    let programs = work.making.as_ref().map_or(&[][..], |m| m.programs.as_slice());
    let part = programs.iter().find(|own| own.name == p.name).and_then(|own| work.parts.get(own.part));
    Some(
        Trouble::unmakeable(format!("the program '{}' is not sound and was not written", p.path))
            .at(part.map(|part| part.at().clone()))
            .why(first.to_string())
            .cure("make it as its sheet says without a program")
            .cure("brasswright prove shows the place in the program, and with --out a picture"),
    )
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
