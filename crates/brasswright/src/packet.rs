//! `packet`: the sheets for the bench, written all together or not at all.

use crate::args;
use crate::begin;
use crate::enter::kept;
use crate::folder::Folder;
use crate::look::{Look, clean, columns};
use crate::outcome::{Outcome, Stopped};
use crate::progress::Progress;
use crate::prove;
use crate::told;
use crate::work::{self, Work};
use crate::{day, exit, files};
use reckon::Trouble;
use std::path::PathBuf;

/// Makes the packet in memory, then writes it.
///
/// # Errors
/// When the project cannot be read, or the packet cannot be written.
pub fn run(args: &args::Packet, look: Look) -> Result<Outcome, Stopped> {
    let (folder, home) = match &args.example {
        Some(name) => (Folder::example(begin::example(name)?), PathBuf::new()),
        None => (Folder::read(&args.dir, &args.shop)?, args.dir.clone()),
    };
    let home = home.strip_prefix(".").map_or(home.clone(), PathBuf::from);
    let out = args.out.clone().unwrap_or_else(|| home.join("out"));
    let today = day::stated()?;
    let texts = folder.texts();
    let mut work = Work::out(&folder);
    work.write_programs();
    let stops = exit::worst(&work.troubles);
    if stops != exit::WELL {
        let err = told::all(&work.troubles, &texts, look.err) + "nothing was written\n";
        return Ok(Outcome { err, exit: stops, ..Outcome::default() });
    }
    // A project without pendulum or drive has a packet all the same, without a sheet of its going.
    let whole = work
        .movement
        .as_ref()
        .is_some_and(|m| m.escapement.is_some() && m.pendulum.is_some() && m.drive.is_some());
    if whole && let Err(more) = work.forecast() {
        work.troubles.extend(more.into_iter().map(Trouble::as_warning));
    }
    let mut progress = Progress::new(work::STEPS);
    progress.step("proving programs");
    let (proved, ours) = prove::all(work.making.as_ref().map_or(&[][..], |m| m.programs.as_slice()));
    let made = work::packet(&work, &proved, today, &mut |what| progress.step(what));
    drop(progress);
    let mut sheets = match made {
        Ok(sheets) => sheets,
        Err(troubles) => {
            let troubles = told::in_order(troubles);
            let err = told::all(&troubles, &texts, look.err) + "nothing was written\n";
            return Ok(Outcome { err, exit: exit::worst(&troubles), ..Outcome::default() });
        }
    };
    let names: String = sheets.iter().map(|(name, _)| format!("{name}\n")).collect();
    sheets.push((files::CONTENTS.to_owned(), names.into_bytes()));
    let earlier = files::read_if_there(&out.join(files::CONTENTS)).ok().flatten().unwrap_or_default();
    let places = files::write_all(&out, &sheets)?;
    files::sweep(&out, &String::from_utf8_lossy(&earlier), &sheets);
    // Entries may name these sheets later, when the texts are others.
    if let (Some(journal), (Some(of), ..)) = (&folder.journal, kept::whose(&folder))
        && journal.lost.is_none()
    {
        crate::enter::keep_texts(&journal.path, &of, &folder);
    }
    let rows: Vec<Vec<String>> = places
        .iter()
        .zip(&sheets)
        .map(|(path, (_, bytes))| vec![clean(&path.display().to_string()), size(bytes.len())])
        .collect();
    let unsound = proved.iter().filter_map(|p| prove::unsound(p, &work));
    let found = told::in_order(work.found().into_iter().chain(ours).chain(unsound).collect());
    Ok(Outcome {
        out: columns(&rows, 0),
        err: told::all(&found, &texts, look.err),
        exit: exit::worst(&found),
    })
}
fn size(bytes: usize) -> String {
    format!("{} kB", bytes.div_ceil(1000))
}
