//! The one door from a text's words to the published tables.

use reckon::{Book, Diameter, Length, Trouble, Val};
use std::sync::Arc;
use tables::thread::{Thread, limits, nut_limits};

/// A thread by its designation, or the listed ones near to it.
pub(crate) fn thread(text: &str) -> Result<Arc<Thread>, Vec<&'static str>> {
    tables::thread::find(text).map(Arc::new).ok_or_else(|| tables::thread::near(text))
}
/// Usual class of limits of a thread.
pub(crate) fn usual_class(thread: &Thread, nut: bool) -> &'static str {
    if nut { thread.usual_nut_class() } else { thread.usual_class() }
}
/// Why a class does not go with a thread.
pub(crate) fn wrong_class(thread: &Thread, class: &str, nut: bool) -> Option<Trouble> {
    let mut book = Book::off();
    if nut {
        nut_limits(&mut book, "", thread, class).err()
    } else {
        limits(&mut book, "", thread, class).err()
    }
}
/// A drill by a name of the trade, `#43` or `F`; nothing where the text is an ordinary size.
pub(crate) fn drill(text: &str) -> Option<Result<(Diameter, String), Trouble>> {
    let text = text.trim();
    let letter = text.chars().count() == 1 && text.starts_with(|c: char| c.is_ascii_alphabetic());
    (letter || text.starts_with('#'))
        .then(|| tables::drill::find(text).map(|d| (d.size, format!("drill {}", d.name))))
}
/// The zone of a fit such as `h6`, checked against the size it is for.
pub(crate) fn fit(
    book: &mut Book,
    name: &str,
    nominal: Val<Length>,
    code: &str,
) -> Result<(Val<Length>, Val<Length>), Trouble> {
    let zone = tables::fit::Zone::read(code)?;
    let limits = tables::fit::worked(book, name, nominal, &zone)?;
    Ok((limits.upper, limits.lower))
}
