//! The question on clearance holes.

use super::{Class, hole, hole_for_size};
use reckon::ask::or;
use reckon::{Ask, Book, Diameter, Given, Trouble, Val};

/// Questions on clearance holes.
pub static ASKS: &[Ask] = &[Ask {
    name: "hole.clearance",
    says: "Hole that a screw passes through.",
    takes: &[
        or("thread", "", "the thread: M3, 4 BA, 2-56"),
        or("major", "", "its diameter, for a thread that has no table"),
        or("class", "medium", "clock, fine, medium or coarse"),
    ],
    gives: &["hole"],
    example: "thread=M3 class=fine",
    run: clearance,
}];

fn clearance(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let at = |name: &str, mut t: Trouble| {
        t.at = given.trouble(name, "").at;
        t
    };
    let class = Class::read(&given.word("class")?).map_err(|t| at("class", t))?;
    let thread = given.word_if("thread");
    let major: Option<Val<Diameter>> = given.take_if(book, "major")?;
    match (thread, major) {
        (Some(thread), None) => hole(book, "hole", &thread, class).map(|_| ()).map_err(|t| at("thread", t)),
        (None, Some(major)) if major > Diameter::ZERO => {
            hole_for_size(book, "hole", major, class);
            Ok(())
        }
        (None, Some(_)) => Err(given.trouble("major", "a thread is larger than nothing")),
        (Some(_), Some(_)) => {
            Err(given.trouble("major", "thread and major are both given").cure("give one of them"))
        }
        (None, None) => Err(Trouble::text("'hole.clearance' needs a thread or its diameter")
            .cure("for example: hole.clearance thread=M3")
            .cure("or: hole.clearance major=\"3.2 mm\"")),
    }
}
