//! `preview`: one wish altered, and only what moves is shown. Nothing is written.

use crate::args;
use crate::folder::{Folder, Text};
use crate::look::{Look, Paint, clean, painted};
use crate::outcome::{Outcome, Stopped};
use crate::told;
use crate::work::Work;
use reckon::trouble::nearest;
use reckon::{Origin, Place, Trouble};
use serde_json::json;

/// How many lines are shown where all are not asked for.
const SHOWN: usize = 40;

/// Shows what would move.
///
/// # Errors
/// When the change cannot be read, or names nothing that is written.
pub fn run(args: &args::Preview, look: Look) -> Result<Outcome, Stopped> {
    let folder = Folder::read(&args.project, &args.shop)?;
    let before = Work::out(&folder);
    let mut changed = folder.clone();
    // Later places first, so that an earlier change does not shift them.
    let mut edits = Vec::new();
    for change in &args.change {
        let (name, value) = change.split_once('=').ok_or_else(|| {
            Stopped::wrong_use(format!("'{change}' is no change"))
                .cure("a change is NAME=VALUE, such as third.wheel.teeth=78 or weight.mass=\"4 kg\"")
        })?;
        edits.push((place(&before, name.trim())?, value.trim().to_owned()));
    }
    edits.sort_by_key(|(at, _)| std::cmp::Reverse(at.start));
    for (at, value) in &edits {
        let text = [changed.clock.as_mut(), changed.shop.as_mut()];
        if let Some(text) = text.into_iter().flatten().find(|t| *t.name == *at.file) {
            alter(text, at, value);
        }
    }
    let after = Work::out(&changed);
    let texts = changed.texts();
    let new: Vec<Trouble> = after.found().into_iter().filter(|t| !known(&before, t)).collect();
    let gone = before.found().iter().filter(|t| !known(&after, t)).count();
    let moved = before.book.moved(&after.book);
    let stops = new.iter().any(Trouble::stops) && after.project.is_none();
    if args.json {
        let rows: Vec<_> =
            moved.iter().map(|(n, a, b)| json!({ "name": n, "before": a, "after": b })).collect();
        let all = json!({ "moved": rows, "troubles": told::as_json(&new, &texts), "troubles_gone": gone });
        return Ok(Outcome::well(format!("{all:#}\n")));
    }
    let mut said = Outcome { err: told::all(&new, &texts, look.err), ..Outcome::default() };
    let paint = Paint(look.out);
    if stops {
        said.out = "The change cannot be read; nothing else is told.\n".to_owned();
        said.exit = crate::exit::worst(&new);
        return Ok(said);
    }
    let most = if args.all { usize::MAX } else { SHOWN };
    let rows: Vec<Vec<String>> = moved
        .iter()
        .take(most)
        .map(|(name, a, b)| vec![clean(name), clean(a), "→".to_owned(), clean(b)])
        .collect();
    said.out = painted(&rows, 0, |i, cell| if i == 3 { paint.strong(cell) } else { cell.to_owned() });
    if moved.len() > most {
        said.out += &format!("and {} more: --all shows them\n", moved.len() - most);
    }
    let parts = touched(&before, &moved);
    said.out += &match moved.len() {
        0 => "Nothing moves.\n".to_owned(),
        n => format!(
            "{n} numbers move; parts touched: {}\n",
            if parts.is_empty() { "none".to_owned() } else { parts.join(", ") }
        ),
    };
    if gone > 0 {
        said.out += &format!("{gone} of the troubles that stood before would be gone\n");
    }
    said.out += "Nothing was written.\n";
    Ok(said)
}
/// Whether a trouble of the same words stands there too.
fn known(work: &Work, t: &Trouble) -> bool {
    work.found().iter().any(|k| k.says == t.says)
}
/// Names of parts with a number that moves.
fn touched(work: &Work, moved: &[(&str, &str, &str)]) -> Vec<String> {
    let rows = work.rows();
    rows.iter()
        .filter(|r| {
            moved
                .iter()
                .any(|(n, ..)| n.strip_prefix(r.slug.as_str()).is_some_and(|rest| rest.starts_with('.')))
        })
        .map(|r| clean(&r.name))
        .collect()
}
/// Where a name is written.
fn place(work: &Work, name: &str) -> Result<Place, Stopped> {
    let Some((_, line)) = work.book.find(name) else {
        let mut stopped = Stopped::wrong_use(format!("there is no number '{name}'"));
        let written = work.book.lines().filter(|l| matches!(l.origin, Origin::Written { .. }));
        for near in nearest(name, written.map(|l| l.name.as_str())) {
            stopped = stopped.cure(format!("did you mean {near}?"));
        }
        return Err(stopped);
    };
    match &line.origin {
        Origin::Written { at } => Ok(at.clone()),
        Origin::Assumed { why } => {
            Err(Stopped::wrong_use(format!("'{name}' is not written but assumed: {why}"))
                .cure("write it in the text, then preview a change of it"))
        }
        _ => Err(Stopped::wrong_use(format!("'{name}' is not a wish: it follows from others"))
            .cure(format!("see from which: brasswright why {name}"))),
    }
}
/// Puts another value in the place of one.
fn alter(text: &mut Text, at: &Place, value: &str) {
    let quoted = text.bytes.get(at.start).is_some_and(|b| matches!(b, b'"' | b'\''));
    let bare = value.trim_matches('"');
    let new = if quoted { format!("\"{bare}\"") } else { bare.to_owned() };
    if at.end <= text.bytes.len() && at.start <= at.end {
        text.bytes.splice(at.start..at.end, new.bytes());
    }
}
