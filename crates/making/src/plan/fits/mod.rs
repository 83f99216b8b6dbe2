//! What does not fit a machine: by how much, and what would do, each with its own arithmetic.

pub mod bored;
pub mod deep;
pub mod held;
pub mod long;
pub mod machine;
pub mod pace;
pub mod room;
pub mod tools;

use reckon::{Alternative, Book, Length, Shown, Source, Val};

/// How alternatives are weighed.
pub static WEIGHED: Source =
    Source::practice("what needs least to be altered goes first, of what has room enough");

/// How a cure begins that was looked at and does not go far enough; a short list leaves these out.
pub const NOT_ENOUGH: &str = "not enough";

/// Something that would help, and how far.
pub struct Lever {
    /// What is done.
    pub what: String,
    /// Length that it needs then.
    pub need: Val<Length>,
    /// Length that there is then.
    pub room: Val<Length>,
}
impl Lever {
    /// Whether it is enough.
    #[must_use]
    pub fn suffices(&self) -> bool {
        self.need.bare() <= self.room.bare()
    }
    /// Its arithmetic in words.
    #[must_use]
    pub fn told(&self) -> String {
        let (need, room) = (self.need.bare(), self.room.bare());
        if need <= room {
            format!("needs {} of {}: {} to spare", need.shown(), room.shown(), (room - need).shown())
        } else {
            format!("needs {} of {}: short by {}", need.shown(), room.shown(), (need - room).shown())
        }
    }
}
/// Weighs what would do where something does not fit: the first lever that suffices is taken, else what needs no room
/// at all; every one is written with its arithmetic, as a cure of the verdict too. What was taken, in words.
pub fn weigh(
    book: &mut Book,
    name: String,
    verdict: Option<&Val<bool>>,
    levers: &[Lever],
    otherwise: (&str, &str),
) -> String {
    let pick = levers.iter().position(Lever::suffices);
    let mut among: Vec<Alternative> = levers
        .iter()
        .enumerate()
        .map(|(i, l)| Alternative { what: l.what.clone(), taken: pick == Some(i), why: l.told() })
        .collect();
    among.push(Alternative {
        what: otherwise.0.to_owned(),
        taken: pick.is_none(),
        why: otherwise.1.to_owned(),
    });
    if let Some(v) = verdict {
        for l in levers.iter().filter(|l| l.suffices()) {
            book.cure(v.id(), format!("{}: {}", l.what, l.told()));
        }
        book.cure(v.id(), format!("{}: {}", otherwise.0, otherwise.1));
        for l in levers.iter().filter(|l| !l.suffices()) {
            book.cure(v.id(), format!("{NOT_ENOUGH}: {}, {}", l.what, l.told()));
        }
    }
    let taken = pick.map_or_else(|| otherwise.0.to_owned(), |i| levers[i].what.clone());
    let inputs = levers.iter().flat_map(|l| [l.need.id(), l.room.id()]).collect();
    book.chosen(name, taken.clone(), "the least alteration that suffices", among, inputs, &WEIGHED);
    taken
}
