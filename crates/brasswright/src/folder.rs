//! A project's folder: its texts, whichever of them there are.

use crate::args;
use crate::begin::Example;
use crate::enter::kept::{JOURNAL, Kept, SHOP_JOURNAL};
use crate::files;
use crate::outcome::Stopped;
use crate::told::Texts;
use std::ffi::OsStr;
use std::path::Path;

/// A text: the name that places carry, where it lies, what is in it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Text {
    /// Name inside places; the same wherever the project lies, so that its sheets are too.
    pub name: String,
    /// Path to show.
    pub path: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}
/// The texts of a project.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Folder {
    /// The clock, where there is one.
    pub clock: Option<Text>,
    /// The shop, where there is one.
    pub shop: Option<Text>,
    /// What was entered of the clock, where anything was.
    pub journal: Option<Kept>,
    /// What was entered of the shop, where anything was.
    pub shop_journal: Option<Kept>,
}
impl Folder {
    /// Reads the folder; another shop takes the place of the one in it.
    ///
    /// # Errors
    /// When the folder is not there, or a text in it cannot be read. Neither text is also an error: the maker is
    /// told how to begin.
    pub fn read(dir: &Path, shop: &args::Shop) -> Result<Folder, Stopped> {
        let shown = dir.display();
        match std::fs::metadata(dir) {
            Ok(m) if m.is_dir() => {}
            Ok(_) => {
                let mut stopped =
                    Stopped::files(format!("'{shown}' is a file where the folder of a project is due"));
                if let Some(parent) = dir.parent() {
                    let parent = if parent == Path::new("") { Path::new(".") } else { parent };
                    stopped = stopped.cure(format!("name the folder that it lies in: {}", parent.display()));
                }
                return Err(stopped);
            }
            Err(e) => {
                return Err(Stopped::files(format!("the folder '{shown}' could not be read"))
                    .why(files::reason(&e))
                    .cure("brasswright begin, without a name, lists examples to begin with"));
            }
        }
        let clock = text(&dir.join("clock.toml"), "clock.toml")?;
        let beside = shop.shop.as_deref().and_then(Path::parent).unwrap_or(dir).to_owned();
        let shop = match &shop.shop {
            None => text(&dir.join("shop.toml"), "shop.toml")?,
            Some(path) => {
                let name = path.file_name().unwrap_or(OsStr::new("shop.toml")).to_string_lossy();
                // Two texts of one name could not be told apart in a place.
                let name = if name == "clock.toml" { "shop.toml".into() } else { name };
                let there = text(path, &name)?;
                Some(there.ok_or_else(|| {
                    Stopped::files(format!("the shop '{}' could not be read", path.display()))
                        .why("there is nothing by that name")
                })?)
            }
        };
        if clock.is_none() && shop.is_none() {
            return Err(Stopped {
                exit: crate::exit::TEXT,
                ..Stopped::files(format!("there is no project in '{shown}'"))
                    .why("it holds neither clock.toml nor shop.toml")
                    .cure("begin one from an example: brasswright begin ten-screws")
                    .cure("or name the folder of a project")
            });
        }
        let journal = clock.as_ref().and_then(|_| Kept::read(&plain(&dir.join(JOURNAL))));
        let shop_journal = shop.as_ref().and_then(|_| Kept::read(&plain(&beside.join(SHOP_JOURNAL))));
        Ok(Folder { clock, shop, journal, shop_journal })
    }
    /// Reads the folder where there is a project in it; a folder without one is an empty project.
    ///
    /// # Errors
    /// When the folder or a text in it cannot be read.
    pub fn read_any(dir: &Path, shop: &args::Shop) -> Result<Folder, Stopped> {
        let empty = dir == Path::new(".")
            && shop.shop.is_none()
            && !dir.join("clock.toml").exists()
            && !dir.join("shop.toml").exists();
        if empty { Ok(Folder::default()) } else { Folder::read(dir, shop) }
    }
    /// The texts of an example.
    #[must_use]
    pub fn example(e: &Example) -> Folder {
        let text = |name: &str, text: &str| {
            let path = format!("{}/{name}", e.name);
            Some(Text { name: name.to_owned(), path, bytes: text.as_bytes().to_vec() })
        };
        Folder { clock: text("clock.toml", e.clock), shop: text("shop.toml", e.shop), ..Folder::default() }
    }
    /// The texts that places point into.
    #[must_use]
    pub fn texts(&self) -> Texts {
        let mut texts = Texts::default();
        for t in [&self.clock, &self.shop].into_iter().flatten() {
            texts.add(&t.name, &t.path, &t.bytes);
        }
        texts
    }
}
/// A path without the dot that it may begin with.
fn plain(path: &Path) -> std::path::PathBuf {
    path.strip_prefix(".").unwrap_or(path).to_owned()
}
fn text(path: &Path, name: &str) -> Result<Option<Text>, Stopped> {
    let path = path.strip_prefix(".").unwrap_or(path);
    let bytes = files::read_if_there(path)?;
    Ok(bytes.map(|bytes| Text { name: name.to_owned(), path: path.display().to_string(), bytes }))
}
