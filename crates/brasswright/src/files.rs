//! Files: read with a limit, written whole or not at all.

use crate::outcome::Stopped;
use std::fs::{self, File, OpenOptions};
use std::io::{ErrorKind, Read, Write};
use std::path::{Component, Path, PathBuf};

/// The largest text that is read: a clock written by hand is a thousand times smaller.
pub const LARGEST: u64 = 4 * 1024 * 1024;

/// A text, or `None` where there is none by that name.
///
/// # Errors
/// When it is there and cannot be read, is not a file, or is larger than [`LARGEST`].
pub fn read_if_there(path: &Path) -> Result<Option<Vec<u8>>, Stopped> {
    let shown = path.display();
    let unread = |e: std::io::Error| Stopped::files(format!("'{shown}' could not be read")).why(reason(&e));
    let about = match fs::metadata(path) {
        Ok(m) => m,
        Err(e) if e.kind() == ErrorKind::NotFound => return Ok(None),
        Err(e) => return Err(unread(e)),
    };
    if about.is_dir() {
        return Err(Stopped::files(format!("'{shown}' is a folder where a file is due")));
    }
    if !about.is_file() {
        return Err(Stopped::files(format!("'{shown}' is not a plain file")));
    }
    let too_large = |size: String| {
        Stopped::files(format!("'{shown}' is too large to be a clock or a shop"))
            .why(format!("{size}; the limit is {} MB", LARGEST / 1024 / 1024))
            .cure("check that the right file lies there")
    };
    if about.len() > LARGEST {
        return Err(too_large(format!("it has {} MB", about.len().div_ceil(1024 * 1024))));
    }
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(unread)?;
    file.take(LARGEST + 1).read_to_end(&mut bytes).map_err(unread)?;
    if bytes.len() as u64 > LARGEST {
        return Err(too_large("it grew while it was read".to_owned()));
    }
    Ok(Some(bytes))
}

/// Writes files that are whole in memory into a folder, which is made where it is not there.
///
/// All are first written beside their places under other names; only when every one is on the disk do they take
/// their names. So a full disk or a pulled plug leaves what was there before, or whole files. Nothing is
/// written through a link that leads out of the folder.
///
/// # Errors
/// When one cannot be written; what was begun is taken away again.
pub fn write_all(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<Vec<PathBuf>, Stopped> {
    make_folder(folder)?;
    let home = folder.canonicalize().map_err(|e| unwritten(folder, &e))?;
    let mut places = Vec::new();
    for (name, _) in files {
        places.push(place(folder, &home, name)?);
    }
    let mut begun: Vec<PathBuf> = Vec::new();
    let written = begin_all(&places, files, &mut begun).and_then(|()| {
        for (aside, path) in begun.iter().zip(&places) {
            fs::rename(aside, path).map_err(|e| unwritten(path, &e))?;
        }
        Ok(())
    });
    if let Err(stopped) = written {
        for aside in &begun {
            // Those that already took their names are whole and stay; the others go.
            let _ = fs::remove_file(aside);
        }
        return Err(stopped);
    }
    // The names themselves reach the disk where the system can be told so.
    if let Ok(f) = File::open(&home) {
        let _ = f.sync_all();
    }
    Ok(places)
}
fn begin_all(
    places: &[PathBuf],
    files: &[(String, Vec<u8>)],
    begun: &mut Vec<PathBuf>,
) -> Result<(), Stopped> {
    let all: Vec<(&PathBuf, &[u8])> =
        places.iter().zip(files).map(|(path, (_, bytes))| (path, bytes.as_slice())).collect();
    // A few at a time, so that no more are open than any system allows.
    for some in all.chunks(64) {
        let mut open = Vec::new();
        for (path, bytes) in some {
            let mut hidden = std::ffi::OsString::from(".");
            hidden.push(path.file_name().unwrap_or_default());
            hidden.push(format!(".{}.part", std::process::id()));
            let aside = path.with_file_name(hidden);
            let unwritten = |e: std::io::Error| unwritten(path, &e);
            let mut file = OpenOptions::new().write(true).create_new(true).open(&aside).map_err(unwritten)?;
            begun.push(aside);
            file.write_all(bytes).map_err(unwritten)?;
            open.push((*path, file));
        }
        on_the_disk(&open)?;
    }
    Ok(())
}
/// Waits until files are on the disk. A disk takes many at once faster than one after another.
fn on_the_disk(open: &[(&PathBuf, File)]) -> Result<(), Stopped> {
    std::thread::scope(|scope| {
        let waiting: Vec<_> = open
            .chunks(8)
            .map(|few| {
                scope.spawn(move || {
                    few.iter().try_for_each(|(path, file)| file.sync_all().map_err(|e| unwritten(path, &e)))
                })
            })
            .collect();
        waiting
            .into_iter()
            .try_for_each(|w| w.join().unwrap_or_else(|fault| std::panic::resume_unwind(fault)))
    })
}
/// Where a file goes: inside the folder, and not through a link out of it.
fn place(folder: &Path, home: &Path, name: &str) -> Result<PathBuf, Stopped> {
    let inside = Path::new(name);
    let plain = inside.components().all(|c| matches!(c, Component::Normal(_)));
    let path = folder.join(inside);
    let outside = || {
        Stopped::files(format!("'{}' would be written outside of '{}'", path.display(), folder.display()))
            .why("a link or a name leads out of the folder")
            .cure("take the link away, or choose another folder with --out")
    };
    let parent = path.parent().filter(|_| plain && inside.file_name().is_some()).ok_or_else(outside)?;
    if parent != folder {
        make_folder_inside(parent, home).map_err(|e| e.unwrap_or_else(outside))?;
    }
    if !parent.canonicalize().map_err(|e| unwritten(parent, &e))?.starts_with(home) {
        return Err(outside());
    }
    if let Ok(there) = fs::symlink_metadata(&path) {
        if there.is_dir() {
            return Err(Stopped::files(format!("'{}' is a folder where a file is due", path.display())));
        }
        if there.is_symlink() && !path.canonicalize().is_ok_and(|to| to.starts_with(home)) {
            return Err(outside());
        }
    }
    Ok(path)
}
/// The list of its own files that a packet leaves in its folder.
pub const CONTENTS: &str = "contents.txt";

/// Takes away what an earlier packet wrote into the folder and this one did not: only plain files that the earlier
/// list names, inside the folder. Whatever else lies there is not touched, and what cannot be removed stays.
pub fn sweep(folder: &Path, earlier: &str, files: &[(String, Vec<u8>)]) {
    let Ok(home) = folder.canonicalize() else { return };
    let gone = earlier.lines().filter(|name| !name.is_empty() && !files.iter().any(|(n, _)| n == name));
    for name in gone {
        let plain = Path::new(name).components().all(|c| matches!(c, Component::Normal(_)));
        let path = folder.join(name);
        let own = fs::symlink_metadata(&path).is_ok_and(|m| m.is_file());
        let inside = path.parent().and_then(|p| p.canonicalize().ok()).is_some_and(|p| p.starts_with(&home));
        if plain && own && inside {
            let _ = fs::remove_file(&path);
        }
    }
}
/// Makes a folder inside the home folder; `Err(None)` when what is already there leads out of it.
fn make_folder_inside(parent: &Path, home: &Path) -> Result<(), Option<Stopped>> {
    let there = parent.ancestors().find(|a| fs::symlink_metadata(a).is_ok());
    let real = there.and_then(|a| a.canonicalize().ok()).ok_or(None)?;
    if !real.starts_with(home) {
        return Err(None);
    }
    make_folder(parent).map_err(Some)
}
/// Makes a folder and those above it.
///
/// # Errors
/// When it cannot be made, or a file has its name.
pub fn make_folder(folder: &Path) -> Result<(), Stopped> {
    if fs::metadata(folder).is_ok_and(|m| !m.is_dir()) {
        return Err(Stopped::files(format!("'{}' is a file where a folder is due", folder.display())));
    }
    fs::create_dir_all(folder).map_err(|e| {
        Stopped::files(format!("the folder '{}' could not be made", folder.display())).why(reason(&e))
    })
}
/// Writes new files, all or none, and never over one that is there.
///
/// # Errors
/// When one is there already, or cannot be written; those written before it are taken away again.
pub fn write_new(folder: &Path, files: &[(&str, &str)]) -> Result<(), Stopped> {
    make_folder(folder)?;
    let taken = |path: &Path| {
        Stopped::files(format!("'{}' is there already and is not overwritten", path.display()))
            .cure("name another folder")
    };
    for (name, _) in files {
        let path = folder.join(name);
        if fs::symlink_metadata(&path).is_ok() {
            return Err(taken(&path));
        }
    }
    let mut done: Vec<PathBuf> = Vec::new();
    for (name, text) in files {
        let path = folder.join(name);
        let opened = OpenOptions::new().write(true).create_new(true).open(&path);
        let written = opened.and_then(|mut f| {
            done.push(path.clone());
            f.write_all(text.as_bytes())?;
            f.sync_all()
        });
        if let Err(e) = written {
            for path in &done {
                let _ = fs::remove_file(path);
            }
            return Err(if e.kind() == ErrorKind::AlreadyExists {
                taken(&path)
            } else {
                unwritten(&path, &e)
            });
        }
    }
    Ok(())
}
fn unwritten(path: &Path, e: &std::io::Error) -> Stopped {
    Stopped::files(format!("'{}' could not be written", path.display())).why(reason(e))
}
/// The system's reason in plain words.
#[must_use]
pub fn reason(e: &std::io::Error) -> String {
    match e.kind() {
        ErrorKind::NotFound => "there is nothing by that name".to_owned(),
        ErrorKind::PermissionDenied => "this account may not".to_owned(),
        ErrorKind::StorageFull => "the disk is full".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only".to_owned(),
        ErrorKind::NotADirectory => "a part of the path is a file, not a folder".to_owned(),
        ErrorKind::IsADirectory => "it is a folder".to_owned(),
        _ => e.to_string(),
    }
}

#[cfg(test)]
mod tests;
