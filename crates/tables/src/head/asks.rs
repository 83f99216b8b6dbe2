//! The question on heads.

use super::{Form, clock, saw, saws, standard};
use reckon::ask::or;
use reckon::{Ask, Book, Diameter, Given, Trouble, Val};

/// Questions on heads of screws.
pub static ASKS: &[Ask] = &[Ask {
    name: "head.proportions",
    says: "Head and slot of a screw: clock proportions for any thread, or the standard's for a metric one.",
    takes: &[
        or("major", "", "diameter of the thread, for clock proportions"),
        or("thread", "", "thread such as M3, for the head of its standard"),
        or("form", "cheese", "cheese, dome or countersunk"),
    ],
    gives: &["head.diameter", "head.height", "head.slot_width", "head.slot_depth", "head.left", "saw"],
    example: "major=\"4 mm\" form=dome",
    run: proportions,
}];

fn proportions(given: &Given<'_>, book: &mut Book) -> Result<(), Trouble> {
    let at = |name: &str, mut t: Trouble| {
        t.at = given.trouble(name, "").at;
        t
    };
    let form = Form::read(&given.word("form")?).map_err(|t| at("form", t))?;
    let major: Option<Val<Diameter>> = given.take_if(book, "major")?;
    let head = match (given.word_if("thread"), major) {
        (Some(thread), None) => standard(book, "head", form, &thread).map_err(|t| at("thread", t))?,
        (None, Some(major)) if major > Diameter::ZERO => clock(book, "head", form, major),
        (None, Some(_)) => return Err(given.trouble("major", "a thread is larger than nothing")),
        (Some(_), Some(_)) => {
            return Err(given
                .trouble("thread", "thread and major are both given")
                .cure("thread for the head of its standard, major for clock proportions"));
        }
        (None, None) => {
            return Err(Trouble::text("'head.proportions' needs the diameter of the thread")
                .cure("for example: head.proportions major=\"4 mm\"")
                .cure("or for the standard head: head.proportions thread=M4"));
        }
    };
    saw(book, "saw", head.slot.width, saws());
    Ok(())
}
