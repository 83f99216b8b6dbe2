//! A printed sheet, held against how things stand now.

use super::typed::Sheet;
use crate::folder::Folder;
use crate::work::{Work, state};

/// Most figures of a stale sheet that are told.
const TOLD: usize = 40;

/// Whether a sheet of this number still holds; which figures are others now, those of the same part first.
#[must_use]
pub fn held(number: &str, folder: &Folder, now: &Work, about: &str) -> Sheet {
    let mark = number.trim().split('-').next().unwrap_or("").to_uppercase();
    let mut sheet = Sheet { number: number.trim().to_owned(), ..Sheet::default() };
    if mark == now.state {
        sheet.holds = true;
        "the sheet is of the state as it was before this entry".clone_into(&mut sheet.says);
        return sheet;
    }
    let last = now.known.standing.after;
    let found = (0..last).rev().find(|n| state(folder, Some(*n)) == mark);
    let Some(after) = found else {
        sheet.says = format!(
            "the sheet is of other texts than those of now ({mark}, and now {}): print it anew before you work from it",
            now.state
        );
        return sheet;
    };
    let then = Work::after(folder, Some(after));
    let part = super::reading::owner(about, now).and_then(|i| now.parts.get(i)).map(|p| p.slug().to_owned());
    let mut changed: Vec<(String, String, String)> = then
        .book
        .moved(&now.book)
        .into_iter()
        .map(|(n, a, b)| (n.to_owned(), a.to_owned(), b.to_owned()))
        .collect();
    let own = |name: &str| part.as_deref().is_some_and(|p| journal::standing::under(name, p));
    changed.sort_by_key(|(n, ..)| !own(n));
    let mine = changed.iter().filter(|(n, ..)| own(n)).count();
    sheet.says = match (changed.len(), mine) {
        (0, _) => "the sheet was printed before later entries; none of its figures moved".to_owned(),
        (_, 0) => format!(
            "the sheet was printed after entry {after}; {} figures moved since, none of them of this part",
            changed.len()
        ),
        _ => format!(
            "the sheet is superseded: printed after entry {after}, and {mine} figures of this part moved since"
        ),
    };
    sheet.holds = mine == 0;
    changed.truncate(TOLD);
    sheet.changed = changed;
    sheet
}
