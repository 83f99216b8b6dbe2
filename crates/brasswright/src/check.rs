//! `check`: everything is read and computed, and what is wrong is told.

use crate::args;
use crate::folder::Folder;
use crate::look::{Look, Paint, clean, counted, painted};
use crate::outcome::{Outcome, Stopped};
use crate::told::{self, Texts};
use crate::work::{Row, Work};
use crate::{exit, tree};
use serde_json::{Value, json};

/// Checks a project.
///
/// # Errors
/// When it cannot be read.
pub fn run(args: &args::Check, look: Look) -> Result<Outcome, Stopped> {
    let folder = Folder::read(&args.dir, &args.shop)?;
    let texts = folder.texts();
    let work = Work::out(&folder);
    let found = work.found();
    let exit = exit::worst(&found);
    if args.json {
        return Ok(Outcome { out: as_json(&work, &texts, exit), exit, ..Outcome::default() });
    }
    let mut said = Outcome { exit, err: told::all(&found, &texts, look.err), ..Outcome::default() };
    let paint = Paint(look.out);
    if exit != exit::WELL || args.parts {
        said.out += &rows(&work.rows(), paint);
    }
    if exit == exit::WELL {
        let facts = [
            counted(work.parts.len(), "kind of part").replace("kind of parts", "kinds of part"),
            counted(work.book.lines().count(), "number"),
            format!("{} of them assumed", work.book.assumptions().count()),
        ];
        let buy = work.making.as_ref().map_or(&[][..], |m| m.buy.as_slice());
        for b in buy {
            said.out += &clean(&format!("to buy: {}, {}, for {}", b.what, b.amount, b.parts.join(", ")));
            said.out += "\n";
        }
        said.out += &format!("{}: {}\n", paint.good("all is well"), facts.join(", "));
    }
    Ok(said)
}
/// The parts, a row each.
fn rows(parts: &[Row], paint: Paint) -> String {
    let rows: Vec<Vec<String>> = parts
        .iter()
        .map(|r| {
            let count = format!("{:>4} ×", r.count);
            let finish = r.finish.join(", ");
            vec![count, clean(&r.name), r.kind.to_owned(), r.size.clone(), clean(&r.material), finish]
        })
        .collect();
    painted(&rows, 0, |i, cell| if i == 1 { paint.strong(cell) } else { cell.to_owned() })
}
fn as_json(work: &Work, texts: &Texts, exit: u8) -> String {
    let parts: Value = work
        .rows()
        .into_iter()
        .map(|r| {
            json!({
                "name": r.name, "slug": r.slug, "kind": r.kind, "count": r.count, "size": r.size,
                "material": r.material, "finish": r.finish, "at": told::place(&r.at, texts),
            })
        })
        .collect();
    let verdicts: Value = work.book.verdicts().map(|l| tree::line_as_json(&work.book, l, texts)).collect();
    let assumed: Value = work.book.assumptions().map(|l| tree::line_as_json(&work.book, l, texts)).collect();
    let all = json!({
        "exit": exit,
        "sheets": work.state,
        "troubles": told::as_json(&work.found(), texts),
        "verdicts": verdicts,
        "assumed": assumed,
        "parts": parts,
    });
    format!("{all:#}\n")
}
