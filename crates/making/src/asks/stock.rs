//! What a bar yields, how deep to drill it first, which piece comes from which bar.

use super::{Done, ask, more, need, or, some};
use crate::kernel::cut_list::{self, Bars};
use crate::kernel::stock::{self, Pitch};
use reckon::{Ask, Book, Cell, Count, Given, Length, Param, Ratio, Trouble, Val, work};

const PART: Param = need("part", "finished length of the part");
const FACING: Param = or("facing", "0.2 mm", "left on the far face of each part");
const KERF: Param = need("kerf", "width of the cut");
const FIRST: Param = or("first_face", "0 mm", "faced off the bar once");

pub(super) static ASKS: &[Ask] = &[
    ask(
        "stock.parts",
        "parts out of a bar, and what is left",
        &[
            need("bar", "length of the bar"),
            or("stub", "0 mm", "cannot be used: grip, and the clear distance from jaw to blade"),
            FIRST,
            PART,
            FACING,
            KERF,
        ],
        &["pitch", "parts", "remnant"],
        r#"bar="300 mm" stub="20 mm" first_face="1 mm" part="3 mm" kerf="1.5 mm""#,
        parts,
    ),
    ask(
        "stock.predrill",
        "depth to the tip of a hole drilled once for several parts",
        &[
            need("parts", "how many"),
            FIRST,
            PART,
            FACING,
            KERF,
            need("point_height", "of the drill"),
            or("margin", "0.5 mm", "beyond"),
        ],
        &["pitch", "depth"],
        r#"parts="5" first_face="1 mm" part="3 mm" kerf="1.5 mm" point_height="1.65 mm""#,
        predrill,
    ),
    ask(
        "stock.spares",
        "how many to make, spares among them",
        &[need("needed", "how many the clock needs")],
        &["make"],
        r#"needed="10""#,
        spares,
    ),
    ask(
        "stock.cut_list",
        "which piece to saw from which bar",
        &[
            need("pieces", "lengths of the pieces, between commas"),
            need("bars", "lengths of bars, between commas"),
            or("on_hand", "", "how many of each; as many as wanted when left out"),
            need("kerf", "width of the saw cut"),
        ],
        &["bars_used", "opened", "quick_bars", "lacking", "proved", "plan"],
        r#"pieces="60 mm, 60 mm, 45 mm, 45 mm, 45 mm, 30 mm, 30 mm, 25 mm, 20 mm, 20 mm, 15 mm" bars="150 mm" kerf="2 mm""#,
        list,
    ),
];

fn pitch(g: &Given<'_>, book: &mut Book) -> Result<(Pitch, Val<Length>), Trouble> {
    let part: Val<Length> = more(g, book, "part")?;
    let (facing, kerf): (Val<Length>, Val<Length>) = (some(g, book, "facing")?, some(g, book, "kerf")?);
    let whole =
        work!(book, "pitch", |part, facing, kerf| Pitch { part, facing, kerf }.whole(), &stock::YIELD);
    if whole.bare() < Length::si(1e-6) {
        return Err(g.trouble("part", "a part must take at least a micrometre of the bar"));
    }
    Ok((Pitch { part: part.bare(), facing: facing.bare(), kerf: kerf.bare() }, whole))
}
fn parts(g: &Given<'_>, book: &mut Book) -> Done {
    let (bar, stub): (Val<Length>, Val<Length>) = (more(g, book, "bar")?, some(g, book, "stub")?);
    let first: Val<Length> = some(g, book, "first_face")?;
    let (each, whole) = pitch(g, book)?;
    let Some(y) = stock::parts(bar.bare(), stub.bare(), first.bare(), &each) else {
        return Err(g.trouble("part", "a part must take at least a micrometre of the bar"));
    };
    let ids = vec![bar.id(), stub.id(), first.id(), whole.id()];
    let how = || ("whole pitches in the free length, counted in micrometres", 1, 0.0);
    book.solved("parts", y.parts, how(), ids.clone(), &stock::YIELD);
    book.solved("remnant", y.remnant, how(), ids, &stock::YIELD);
    Ok(())
}
fn predrill(g: &Given<'_>, book: &mut Book) -> Done {
    let n = g.count(book, "parts")?;
    if !(1..=100_000).contains(&n.bare().0) {
        return Err(g.trouble("parts", "at least one part, and no more than a hundred thousand"));
    }
    let first: Val<Length> = some(g, book, "first_face")?;
    let (_, whole) = pitch(g, book)?;
    let (point, margin): (Val<Length>, Val<Length>) =
        (some(g, book, "point_height")?, some(g, book, "margin")?);
    work!(
        book,
        "depth",
        |first, n, whole, point, margin| first + whole * n + point + margin,
        &stock::PREDRILL
    );
    Ok(())
}
fn spares(g: &Given<'_>, book: &mut Book) -> Done {
    let n = g.count(book, "needed")?;
    if !(0..=1_000_000).contains(&n.bare().0) {
        return Err(g.trouble("needed", "between none and a million"));
    }
    work!(book, "make", |n| stock::with_spares(n), &stock::SPARES);
    Ok(())
}
fn list(g: &Given<'_>, book: &mut Book) -> Done {
    let pieces: Vec<Val<Length>> = g.take_list(book, "pieces")?;
    let bars: Vec<Val<Length>> = g.take_list(book, "bars")?;
    let on_hand: Vec<Val<Ratio>> = g.take_list(book, "on_hand")?;
    let kerf: Val<Length> = some(g, book, "kerf")?;
    if pieces.len() > 500 {
        return Err(g.trouble("pieces", "more than 500 pieces at once"));
    }
    if pieces.iter().chain(&bars).any(|p| p.bare() <= Length::ZERO) {
        return Err(g.trouble("pieces", "every piece and every bar must have a length"));
    }
    if !(on_hand.is_empty() || on_hand.len() == bars.len()) {
        return Err(g.trouble("on_hand", "give a number for each bar, or none at all"));
    }
    let mut offered = Vec::new();
    for (i, bar) in bars.iter().enumerate() {
        let many = match on_hand.get(i).map(|n| n.bare().value()) {
            None => None,
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "checked to be a small whole number"
            )]
            Some(n) if (0.0..=1e6).contains(&n) && n.fract() == 0.0 => Some(n as u32),
            Some(_) => return Err(g.trouble("on_hand", "whole numbers of bars")),
        };
        offered.push(Bars { length: bar.bare(), on_hand: many });
    }
    let lengths: Vec<Length> = pieces.iter().map(Val::bare).collect();
    let plan = cut_list::plan(&lengths, &offered, kerf.bare());
    let quick = cut_list::quick(&lengths, &offered, kerf.bare());
    let mut ids: Vec<_> = pieces.iter().chain(&bars).map(Val::id).collect();
    ids.extend(on_hand.iter().map(Val::id));
    ids.push(kerf.id());
    let count = |n: usize| Count(i64::try_from(n).unwrap_or(i64::MAX));
    let rule = if plan.proved {
        "least length of bar opened: proved"
    } else {
        "longest piece into the fullest bar: not proved"
    };
    let none = Vec::new;
    book.chosen("bars_used", count(plan.sawn.len()), rule, none(), ids.clone(), &cut_list::SEARCH);
    book.chosen("opened", plan.opened(&offered), rule, none(), ids.clone(), &cut_list::SEARCH);
    let simple = "longest piece into the fullest bar it fits";
    book.chosen("quick_bars", count(quick.sawn.len()), simple, none(), ids.clone(), &cut_list::SEARCH);
    book.chosen(
        "lacking",
        count(plan.lacking.len()),
        "pieces that no bar is left for",
        none(),
        ids.clone(),
        &cut_list::SEARCH,
    );
    book.chosen(
        "proved",
        plan.proved,
        "whether all arrangements were looked at",
        none(),
        ids.clone(),
        &cut_list::SEARCH,
    );
    let rows = plan.sawn.iter().map(|s| {
        let sawn: Vec<String> = s.pieces.iter().map(|p| Cell::of(&lengths[*p]).shown).collect();
        vec![Cell::of(&offered[s.bar].length), Cell::word(sawn.join(", ")), Cell::of(&s.left)]
    });
    book.table("plan", &["bar", "pieces in order", "left"], rows.collect(), rule, ids, &cut_list::SEARCH);
    Ok(())
}
