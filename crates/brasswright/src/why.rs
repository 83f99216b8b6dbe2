//! `why`: how a number of the project was had.

use crate::args;
use crate::folder::Folder;
use crate::look::{Look, Paint, counted};
use crate::outcome::{Outcome, Stopped};
use crate::told;
use crate::work::Work;
use crate::{exit, tree};
use serde_json::json;

/// Explains a name, or lists what a pattern matches.
///
/// # Errors
/// When the project cannot be read, or nothing is called so.
pub fn run(args: &args::Why, look: Look) -> Result<Outcome, Stopped> {
    let folder = Folder::read(&args.project, &args.shop)?;
    let texts = folder.texts();
    let mut work = Work::out(&folder);
    if args.name.starts_with("going") && !work.troubles.iter().any(reckon::Trouble::stops) {
        // The simulation is run only where its numbers are asked for.
        match work.forecast() {
            Err(more) => work.troubles.extend(more),
            Ok(_) if args.name.starts_with("going.study") => {
                if let Some((model, found)) = work.going.take() {
                    crate::study::known(&mut work, &model);
                    work.going = Some((model, found));
                }
            }
            Ok(_) => {}
        }
    }
    let stops = exit::worst(&work.troubles);
    let names = work.book.matching(&args.name);
    if names.is_empty() {
        if stops != exit::WELL {
            // The name may be missing only because the text could not be read.
            let err = told::all(&work.troubles, &texts, look.err)
                + &format!("so nothing is called '{}' yet\n", crate::look::clean(&args.name));
            return Ok(Outcome { err, exit: stops, ..Outcome::default() });
        }
        return Err(unknown(&args.name, &work));
    }
    let open = args.open || names.len() == 1;
    let mut said = Outcome::default();
    if args.json {
        let lines = tree::as_json(&work.book, &names, open, &texts);
        let troubles = told::as_json(&work.troubles, &texts);
        let all = json!({ "asked": args.name, "names": names, "lines": lines, "troubles": troubles });
        said.out = format!("{all:#}\n");
        return Ok(said);
    }
    let paint = Paint(look.out);
    said.out = if open {
        tree::text(&work.book, names.iter().copied(), paint)
    } else {
        tree::list(&work.book, &names, paint)
            + &format!(
                "\n{}. One of them by name, or --open, shows the working.\n",
                counted(names.len(), "name")
            )
    };
    if stops != exit::WELL {
        let n = work.troubles.iter().filter(|t| t.stops()).count();
        said.err = format!(
            "The project has {}: brasswright check tells. The working stands as far as it goes.\n\n",
            counted(n, "trouble")
        );
    }
    Ok(said)
}
fn unknown(name: &str, work: &Work) -> Stopped {
    let what = if name.contains('*') { "matches" } else { "is called" };
    let mut stopped = Stopped::wrong_use(format!("nothing {what} '{name}' in this project"));
    for near in work.book.near(name) {
        stopped = stopped.cure(format!("brasswright why {near}"));
    }
    if let Some(first) = work.parts.first() {
        stopped = stopped.cure(format!("the names of one part: brasswright why '{}.**'", first.slug()));
    }
    stopped.cure("all names: brasswright why '**'")
}
