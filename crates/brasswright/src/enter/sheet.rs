//! A printed sheet, held against how things stand now.

use super::typed::Sheet;
use crate::folder::Folder;
use crate::work::{Work, states};
use store::Store;

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
    let Some((folder, after, other)) = printed_from(folder, &mark) else {
        sheet.says = format!(
            "the sheet is of texts that are not kept ({mark}, and now {}), so which of its figures are others is not known: print it anew before you work from it",
            now.state
        );
        return sheet;
    };
    let then = Work::after(&folder, Some(after));
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
    let printed = match (other, after) {
        (false, 0) => "before the first entry".to_owned(),
        (false, n) => format!("after entry {n}"),
        (true, 0) => "from earlier texts".to_owned(),
        (true, n) => format!("from earlier texts, after entry {n}"),
    };
    sheet.says = match (changed.len(), mine) {
        (0, _) => format!("the sheet was printed {printed}; none of its figures moved"),
        (n, 0) => {
            format!("the sheet was printed {printed}; {n} figures moved since, none of them of this part")
        }
        _ => {
            format!("the sheet is superseded: printed {printed}, and {mine} figures of this part moved since")
        }
    };
    sheet.holds = mine == 0;
    changed.truncate(TOLD);
    sheet.changed = changed;
    sheet
}
/// The texts that a sheet of a mark was printed from, after which entry, and whether they are others than now.
fn printed_from(folder: &Folder, mark: &str) -> Option<(Folder, u64, bool)> {
    let after = |f: &Folder| states(f).into_iter().rev().find(|(_, s)| s == mark).map(|(n, _)| n);
    if let Some(n) = after(folder) {
        return Some((folder.clone(), n, false));
    }
    let journal = folder.journal.as_ref()?;
    let kept = Store::read(&journal.path, None).and_then(|s| s.texts()).ok()?;
    kept.into_iter().find_map(|(clock, shop)| {
        let mut was = folder.clone();
        if let Some(text) = &mut was.clock {
            text.bytes = clock;
        }
        if let Some(text) = &mut was.shop {
            text.bytes = shop;
        }
        let n = after(&was)?;
        Some((was, n, true))
    })
}
