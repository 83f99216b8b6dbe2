//! Room under the spindle of a mill that drills: what stands in it, what is left for the drill, and what would do where
//! it does not fit.

use super::{Lever, weigh};
use crate::kernel::drill_length::{STANDS_OUT, SWALLOWS, stands_out};
use crate::kernel::setting::DAYLIGHT;
use reckon::{Book, Diameter, Length, Val, judge, work};
use record::facts::{Mill, Shop};
use tables::drill::length::{self, Build};

/// What is left where no machine has the room.
pub const GUIDED: &str = "by hand through a guide block";

/// Work that is drilled lying flat.
pub struct Flat<'a> {
    /// The shop.
    pub shop: &'a Shop,
    /// Slug of the part.
    pub slug: &'a str,
    /// What is drilled through at once.
    pub thick: Val<Length>,
    /// Largest hole.
    pub largest: Option<Val<Diameter>>,
}

/// Depth of what holds the drill.
pub(super) fn swallows(book: &mut Book, name: String, collet: bool) -> Val<Length> {
    let (deep, row) = if collet { (20.0, "a collet") } else { (25.0, "a drill chuck") };
    book.tabled(name, Length::mm(deep), row, &SWALLOWS)
}
/// What stands out of what holds it, of a drill as it is sold; a house default where none of the size is sold.
pub(super) fn out(
    book: &mut Book,
    name: &str,
    size: Option<Val<Diameter>>,
    build: Build,
    deep: Val<Length>,
) -> Option<Val<Length>> {
    let lengths = size.and_then(|s| length::of(s.bare(), build))?;
    let whole = lengths.whole(book, format!("{name}.whole"), build);
    let flutes = lengths.flutes(book, format!("{name}.flutes"), build);
    Some(work!(book, name.to_owned(), |whole, flutes, deep| stands_out(whole, flutes, deep), &STANDS_OUT))
}
/// What was found of the room under a spindle.
#[derive(Default)]
pub struct Room {
    /// Sentences for the sheet.
    pub lines: Vec<String>,
    /// Why nothing makes room under any spindle, where nothing does.
    pub none: Option<String>,
}
/// Whether sheet, board, drill and chuck fit under the spindle, and the quill goes through.
pub fn flat(w: &Flat<'_>, book: &mut Book) -> Room {
    let Some(mill) = w.shop.mills.first() else { return Room::default() };
    let Some(chuck) = mill.chuck_length.or(mill.collet_length) else { return Room::default() };
    let name = |tail: &str| format!("{}.drilling.{tail}", w.slug);
    let (room, thick) = (mill.daylight, w.thick);
    let board =
        book.assumed(name("board"), Length::mm(10.0), "house default: board or parallels under the sheet");
    let deep = swallows(book, name("chuck_takes_in"), mill.chuck_length.is_none());
    let drill = match out(book, &name("drill_out"), w.largest, Build::Ordinary, deep) {
        Some(out) => out,
        None => book.assumed(
            name("drill_out"),
            Length::mm(45.0),
            "house default: what stands out of the chuck, as no drill of this size is listed",
        ),
    };
    let lift = match mill.quill {
        Some(quill) => work!(book, name("lift"), |quill| quill, &DAYLIGHT),
        None => book.assumed(name("lift"), Length::mm(10.0), "house default: lift over the work"),
    };
    let left = work!(
        book,
        name("drill_room"),
        |room, board, thick, chuck, lift| room - board - thick - chuck - lift,
        &DAYLIGHT
    );
    let in_vice = mill.vice.as_ref().map(|vice| {
        let bed = vice[1];
        work!(
            book,
            name("drill_room_in_vice"),
            |room, bed, board, thick, chuck, lift| room - bed - board - thick - chuck - lift,
            &DAYLIGHT
        )
    });
    let need = work!(
        book,
        name("stack"),
        |board, thick, drill, chuck, lift| board + thick + drill + chuck + lift,
        &DAYLIGHT
    );
    let verdict = judge!(
        book,
        name("daylight"),
        format!("sheet, drill and chuck fit under the {}", mill.name),
        |need, room| need <= room,
        &DAYLIGHT
    );
    let (mut lines, mut none) = (Vec::new(), None);
    if !verdict.bare() {
        let parts = Parts { board, thick, drill, chuck, lift, room };
        let levers = levers(w, mill, &parts, book);
        let taken = weigh(
            book,
            name("daylight.way"),
            Some(&verdict),
            &levers,
            (GUIDED, "drilled off the machine, so it needs no room under a spindle"),
        );
        if !levers.iter().any(Lever::suffices) {
            none = Some(format!(
                "under the {} there is {}, and work, board, drill and chuck take {}",
                mill.name,
                mill.daylight.shown(),
                need.shown()
            ));
        }
        lines.push(format!(
            "As usual it would need {} under the spindle, and there are {}. Instead: {taken}.",
            need.shown(),
            room.shown()
        ));
    } else if w.thick.bare() > Length::mm(6.0) {
        let vice = in_vice.map_or_else(String::new, |v| format!(", {} in the vice", v.shown()));
        lines.push(format!(
            "Room for a drill below the chuck, with the quill up: {} on the board{vice}; the longest stands out {}.",
            left.shown(),
            drill.shown()
        ));
    }
    lines.extend(quill(w, mill, book));
    Room { lines, none }
}
/// What stands between spindle and table.
struct Parts {
    board: Val<Length>,
    thick: Val<Length>,
    drill: Val<Length>,
    chuck: Val<Length>,
    lift: Val<Length>,
    room: Val<Length>,
}
/// What would make room, least alteration first.
fn levers(w: &Flat<'_>, mill: &Mill, p: &Parts, book: &mut Book) -> Vec<Lever> {
    let Parts { board, thick, drill, chuck, lift, room } = *p;
    let name = |tail: &str| format!("{}.drilling.{tail}", w.slug);
    let mut all = Vec::new();
    let deep = swallows(book, name("stub.taken_in"), mill.chuck_length.is_none());
    let stub = out(book, &name("stub_out"), w.largest, Build::Stub, deep);
    if let Some(drill) = stub {
        let need = work!(
            book,
            name("stub.stack"),
            |board, thick, drill, chuck, lift| board + thick + drill + chuck + lift,
            &DAYLIGHT
        );
        all.push(Lever { what: "a stub drill".to_owned(), need, room });
    }
    let collet = mill.collet_length.filter(|c| c.bare() < chuck.bare());
    if let Some(chuck) = collet {
        let need = work!(
            book,
            name("collet.stack"),
            |board, thick, drill, chuck, lift| board + thick + drill + chuck + lift,
            &DAYLIGHT
        );
        all.push(Lever { what: "a collet in place of the chuck".to_owned(), need, room });
    }
    let need = work!(
        book,
        name("bare_table.stack"),
        |thick, drill, chuck, lift| thick + drill + chuck + lift,
        &DAYLIGHT
    );
    all.push(Lever {
        what: "clamped on the table without a board, each hole over a slot or the table's hole".to_owned(),
        need,
        room,
    });
    if let (Some(drill), Some(chuck)) = (stub, collet) {
        let need = work!(
            book,
            name("stub_in_collet.stack"),
            |board, thick, drill, chuck, lift| board + thick + drill + chuck + lift,
            &DAYLIGHT
        );
        all.push(Lever { what: "a stub drill in a collet".to_owned(), need, room });
    }
    for other in w.shop.mills.iter().skip(1) {
        let Some(chuck) = other.chuck_length.or(other.collet_length) else { continue };
        let room = other.daylight;
        let need = work!(
            book,
            name(&format!("{}.stack", other.slug)),
            |board, thick, drill, chuck, lift| board + thick + drill + chuck + lift,
            &DAYLIGHT
        );
        all.push(Lever { what: format!("on the {}", other.name), need, room });
    }
    all
}
/// Whether one stroke of the quill goes through.
fn quill(w: &Flat<'_>, mill: &Mill, book: &mut Book) -> Vec<String> {
    let Some(quill) = mill.quill else { return Vec::new() };
    let name = |tail: &str| format!("{}.drilling.{tail}", w.slug);
    let thick = w.thick;
    let clear = book.assumed(
        name("stroke.clear"),
        Length::mm(5.0),
        "house default: above the work, and through it with the whole point",
    );
    let stroke = work!(book, name("stroke"), |thick, clear| thick + clear, &DAYLIGHT);
    let verdict = judge!(
        book,
        name("stroke.enough"),
        format!("one stroke of the quill of the {} goes through", mill.name),
        |stroke, quill| stroke <= quill,
        &DAYLIGHT
    );
    if verdict.bare() {
        return Vec::new();
    }
    let [.., z] = mill.travel;
    let levers =
        [Lever { what: "quill locked, fed by the head or the table".to_owned(), need: stroke, room: z }];
    let taken = weigh(
        book,
        name("stroke.way"),
        Some(&verdict),
        &levers,
        ("from both faces", "half from each, met in the middle over a pin in the board"),
    );
    vec![format!("The quill goes {} and {} are needed. Instead: {taken}.", quill.shown(), stroke.shown())]
}
