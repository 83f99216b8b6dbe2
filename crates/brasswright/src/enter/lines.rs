//! A journal as lines of JSON, out and in.

use super::{Desk, kept};
use crate::files;
use crate::folder::Folder;
use crate::outcome::{Outcome, Stopped};
use journal::{entry, line};
use std::collections::BTreeMap;
use std::path::Path;
use store::Store;

/// Writes all entries that are whole as lines of JSON.
///
/// # Errors
/// When there is no project or nothing of the journal can be read.
pub fn give(desk: &Desk, as_of: Option<u64>, of_shop: bool) -> Result<Outcome, Stopped> {
    let folder = Folder::read(&desk.dir, &desk.shop)?;
    let journal = if of_shop { &folder.shop_journal } else { &folder.journal };
    let Some(journal) = journal else { return Ok(Outcome::default()) };
    if let Some(lost) = &journal.lost {
        return Err(super::refused(lost, &journal.path.display().to_string()));
    }
    let until = as_of.unwrap_or(u64::MAX);
    let out = journal.entries.iter().filter(|e| e.number <= until).map(|e| line::line(e) + "\n").collect();
    let err = journal.broken.iter().map(|b| format!("not whole, left out: {b}\n")).collect();
    Ok(Outcome { out, err, ..Outcome::default() })
}
/// Takes lines of JSON in; those that are there already, by their key, stay as they are.
///
/// # Errors
/// When a line is no entry, or the journal cannot be written: then nothing is taken in.
pub fn take(desk: &Desk, file: &Path) -> Result<Outcome, Stopped> {
    let bytes = files::read_if_there(file)?
        .ok_or_else(|| Stopped::files(format!("'{}' is not there", file.display())))?;
    let text =
        String::from_utf8(bytes).map_err(|_| Stopped::files(format!("'{}' is no text", file.display())))?;
    let mut all: Vec<entry::Entry> = Vec::new();
    for (n, l) in text.lines().enumerate().filter(|(_, l)| !l.trim().is_empty()) {
        let e = line::entry(l).map_err(|why| Stopped {
            exit: crate::exit::TEXT,
            ..Stopped::files(format!("{}:{}: this line is no entry", file.display(), n + 1))
                .why(why)
                .cure("nothing was taken in: mend the line, or leave it out")
        })?;
        all.push(e);
    }
    let folder = Folder::read(&desk.dir, &desk.shop)?;
    let (clock, _, _) = kept::whose(&folder);
    let of = clock.ok_or_else(|| Stopped::wrong_use("there is no clock to keep a journal of"))?;
    let path = desk.dir.join(kept::JOURNAL);
    // Numbers are given anew: what is struck is told by the number that it has here.
    let before = folder.journal.as_ref().map_or(0, |j| j.entries.len());
    let keys: BTreeMap<&str, u64> =
        folder.journal.iter().flat_map(|j| &j.entries).map(|e| (e.key.as_str(), e.number)).collect();
    let mut next = folder.journal.as_ref().and_then(|j| j.entries.last()).map_or(0, |e| e.number);
    let mut numbers = BTreeMap::new();
    let mut taken = Vec::new();
    for e in all {
        let mut what = e.what;
        if let journal::What::Struck { entry, .. } = &mut what {
            *entry = numbers.get(entry).copied().unwrap_or(*entry);
        }
        let number = keys.get(e.key.as_str()).copied().unwrap_or_else(|| {
            next += 1;
            next
        });
        numbers.insert(e.number, number);
        taken.push((e.key, e.at, what));
    }
    let kept = Store::open(&path, &of)
        .and_then(|mut s| s.take_all(&taken))
        .map_err(|lost| super::refused(&lost, &path.display().to_string()))?;
    let there = kept.iter().filter(|k| k.again).count();
    let new = kept.len() - there;
    Ok(Outcome::well(format!("{new} taken in, {there} were there already; {} in all\n", before + new)))
}
