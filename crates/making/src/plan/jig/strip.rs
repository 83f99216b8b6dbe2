//! A slotting strip: a row of screws held by thread or body between its two halves, slotted along the joint in one pass.

use super::blank::{Flat, sheet_of};
use super::guide::plain;
use super::{Asking, Named};
use crate::plan::hole::seen;
use crate::plan::{Caution, Operation, Spread, bench, turned};
use movement::part::TurnedBody;
use reckon::source::GEOMETRY;
use reckon::{Count, Length, Source, Val, work};

/// How a row of screws is held.
pub static STRIP: Source = Source::practice(
    "a strip with a row of holes, tapped or drilled to the screws and then sawn apart through the middles of all: closed in the vice it holds every screw, its joint is the middle of every head",
);
/// Longest strip that an ordinary vice closes evenly, millimetres.
const LONGEST: f64 = 60.0;

/// A strip as a part uses it.
#[derive(Clone, Debug)]
pub struct Strip {
    /// Its sheet.
    pub named: Named,
    /// Screws at a time.
    pub at_once: Val<Count>,
    /// From one to the next.
    pub pitch: Val<Length>,
}
/// The strip for the slots of a batch; none for a single screw, or where nothing of it can be held.
pub fn strip(asking: &mut Asking<'_>, body: &TurnedBody, at: &str) -> Option<Strip> {
    let n = asking.part.common.count;
    if n.bare() < Count(2) {
        return None;
    }
    let last = turned::largest_step(&body.steps);
    let under = body.steps[..last].iter().rfind(|s| !s.undercut && s.end.is_none() && s.knurl.is_none())?;
    let thread = under.thread.as_ref().map(|t| t.of.clone());
    if let Some(t) = &thread {
        asking.shop.taps.iter().find(|x| x.name == t.thread.name)?;
    }
    let head = body.largest;
    let held = under.size.nominal;
    let name = |tail: &str| format!("{at}.{tail}");
    let book = &mut *asking.book;
    let pitch = work!(
        book,
        name("pitch"),
        |head| Length::mm(((head.across() + Length::mm(1.5)).in_mm() - 1e-9).ceil()),
        &STRIP
    );
    let at_once = work!(book, name("at_once"), |pitch, n| row(pitch, n), &STRIP);
    let hundredths = |l: f64| reckon::print::fixed(l, 2).replace('.', "_");
    let way = match &thread {
        Some(t) => reckon::slug(&t.thread.name),
        None => format!("body_{}", hundredths(held.bare().in_mm())),
    };
    let slug = format!("slotting_strip.{way}x{}x{}", hundredths(pitch.bare().in_mm()), at_once.bare().0);
    let by = thread.as_ref().map_or_else(|| plain(held.bare().in_mm()), |t| t.thread.name.clone());
    let why = format!(
        "{}: {} alike to be slotted. {} at a time stand in a row, held by the {}, all heads at one height.",
        asking.part.common.name,
        n.shown(),
        at_once.shown(),
        if thread.is_some() { "thread" } else { "body" }
    );
    let named = asking.ask(&slug, why, |board| {
        let name = format!("slotting strip {by}, {} in a row", at_once.shown());
        let least = (held.bare().across() * 1.2).max(Length::mm(3.0));
        let (metal, stock) = sheet_of(board.shop, &["brass CZ120", "mild steel", "brass CZ121"], least);
        let thick = match stock {
            Some(t) => {
                let n = board.name("thick");
                work!(board.book, n, |t| t, &GEOMETRY)
            }
            None => board.assumed("thick", Length::mm(6.0), "house default: no sheet of the shop is thick enough"),
        };
        let sheet = board.limited("thick", thick, (0.1, -0.1));
        let step = {
            let n = board.name("pitch");
            work!(board.book, n, |pitch| pitch, &STRIP)
        };
        let many = {
            let n = board.name("row");
            work!(board.book, n, |at_once| at_once, &STRIP)
        };
        let long = {
            let n = board.name("long");
            work!(board.book, n, |step, many| step * many + Length::mm(2.0), &STRIP)
        };
        let wide = {
            let n = board.name("wide");
            work!(board.book, n, |head| Length::mm(((head.across() + Length::mm(8.0)).in_mm() - 1e-9).ceil()), &STRIP)
        };
        let middle = {
            let n = board.name("middle");
            work!(board.book, n, |wide| wide / 2.0, &GEOMETRY)
        };
        let size = match &thread {
            Some(t) => {
                let n = board.name("hole_size");
                board.book.tabled(n, t.thread.minor(), t.thread.name.clone(), t.thread.source)
            }
            None => {
                let n = board.name("hole_size");
                work!(board.book, n, |held| held, &GEOMETRY)
            }
        };
        let size = board.limited("hole_size", size, (0.1, 0.0));
        let note = "Both faces flat. The joint is the middle of every slot: scribe the line through the holes before drilling, and saw along it. Stamp both halves at one end, so that they always go together the same way.";
        board.after = sawn(&name);
        let mut flat = Flat::rectangle(board, &name, (metal, note), (long, wide, sheet));
        for k in 0..at_once.bare().0 {
            let b = flat.board();
            let n = b.name(&format!("nth.{}", k + 1));
            let nth = bench::counted(b.book, n, usize::try_from(k).unwrap_or(0), "holes before it in the row");
            let x = {
                let n = b.name(&format!("along.{}", k + 1));
                work!(b.book, n, |step, nth| step * (nth.n() + 0.5) + Length::mm(1.0), &STRIP)
            };
            let of = thread.as_ref().map(|t| record::facts::ThreadUse { class: String::new(), ..t.clone() });
            flat.hole_of(&format!("{}", k + 1), (x, middle), size, of);
        }
        flat.part()
    })?;
    Some(Strip { named, at_once, pitch })
}
/// How many stand in a row.
fn row(pitch: Length, n: Count) -> Count {
    #[expect(clippy::cast_possible_truncation, reason = "a few dozen at most")]
    let room = (LONGEST / pitch.in_mm().max(1.0)).floor() as i64;
    Count(n.0.min(room).max(1))
}
/// The two halves.
fn sawn(name: &str) -> Vec<crate::plan::SetUp> {
    let op = Operation {
        title: "Saw it apart along the row".to_owned(),
        lines: vec![
            format!("The {name} upright in the vice: saw with a fine blade along the line through all holes, from end to end. The saw's cut is the room by which the halves close."),
            "Burrs off the holes with a scraper, the threads brushed. Try it: a screw in the first and last hole, halves closed in the vice: neither can be turned, and the halves do not touch.".to_owned(),
        ],
        tool: Some("fine hacksaw or piercing saw, scraper, vice".to_owned()),
        checks: vec![seen("halves", "all heads lie on the faces, no screw turns with the vice closed")],
        cautions: vec![Caution::Sawing],
        does: vec!["form"],
        time: Spread::minutes(8.0, 15.0, 30.0),
        ..Operation::default()
    };
    vec![turned::at_bench("sawn apart", "vice with soft jaws", vec![op], 3.0)]
}
impl Strip {
    /// How it is used.
    #[must_use]
    pub fn lines(&self, milled: bool) -> Vec<String> {
        let mut all = vec![format!(
            "Screws into the {}, {} at a time, turned in by finger until every head lies on its face, a strip of paper under polished heads; close the vice on the halves. A countersunk head: its hole countersunk first, so that all stand level.",
            self.named.name,
            self.at_once.shown()
        )];
        all.push(if milled {
            "Joint of the halves along the table: saw lowered into the joint at one end of the row, where no screw stands, and the cross slide set until it enters without rubbing on either side: that is the middle of all heads. Lock it.".to_owned()
        } else {
            "The joint of the halves shows the middle at both ends of the row: a straight-edge along it, the line scribed across all heads. Start each with the edge of a fine file, saw, finish with a slotting file.".to_owned()
        });
        all.push("Touch the first head to set the depth to nothing, down by the depth, along the whole row in one pass; look that the last head is touched at the same reading as the first.".to_owned());
        all
    }
}
