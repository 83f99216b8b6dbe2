//! Where the minute wheel's stud stands on the front plate.

use super::super::layout::{Layout, Stand};
use super::super::model::{MeshSizes, Train};
use reckon::source::{GEOMETRY, Source};
use reckon::{Alternative, Angle, Book, Length, Val, work};
use record::facts::{MotionWork, MovementFacts};

/// The direction with most room.
pub static DIRECTION: Source = Source::derived(
    "of 24 directions the one in which stud and wheel stand clearest of pivots, squares and pillars",
);

/// The stud's place: in the written direction, or in that with most room.
#[expect(clippy::too_many_arguments, reason = "a place on the plate follows from all that stands there")]
pub(super) fn stud(
    t: &Train,
    layout: &Layout,
    facts: &MovementFacts,
    mw: &MotionWork,
    centre: Stand,
    centres: Val<Length>,
    first: &MeshSizes,
    book: &mut Book,
) -> Stand {
    let bearing = mw.bearing.unwrap_or_else(|| {
        let at = |s: &Stand| (s.x.bare().in_mm(), s.y.bare().in_mm());
        let (x0, y0) = at(&centre);
        let (a, wheel) = (centres.bare().in_mm(), first.wheel.outside.bare().in_mm() / 2.0);
        let room = |deg: f64| {
            let dir = Angle::deg(deg);
            let (x, y) = (x0 + a * dir.cos(), y0 + a * dir.sin());
            let mut least = f64::INFINITY;
            for (i, stand) in layout.stands.iter().enumerate() {
                let Some((px, py)) = stand.as_ref().map(at) else { continue };
                let far = reckon::maths::hypot(x - px, y - py);
                if Some(i) == t.minute {
                    continue;
                }
                // What reaches out in front must clear the wheel; any other pivot only the stud's foot.
                let reaches = t.first == Some(i) || super::super::dial::seconds_arbor(t, facts) == Some(i);
                least = least.min(if reaches { far - wheel - 3.0 } else { far - 5.0 });
            }
            for p in &layout.pillars {
                let (px, py) = at(p);
                least = least.min(reckon::maths::hypot(x - px, y - py) - wheel - 5.0);
            }
            if let (Some(corner), Some(plates)) = (&layout.corner, &facts.plates) {
                let (cx, cy) = at(corner);
                let (w, h) = (plates.size.0.bare().in_mm(), plates.size.1.bare().in_mm());
                least = least.min((x - cx).min(cx + w - x).min(y - cy).min(cy + h - y) - 4.0);
            }
            least
        };
        let mut best = (f64::NEG_INFINITY, 0.0);
        let mut tried = Vec::new();
        for i in 0..24_u8 {
            let deg = f64::from(i) * 15.0;
            let room = room(deg);
            if room > best.0 + 1e-9 {
                best = (room, deg);
            }
            if i % 6 == 0 {
                tried.push((deg, room));
            }
        }
        tried.push((best.1, best.0));
        let tried = tried.iter().map(|(deg, room)| Alternative {
            what: format!("{deg} degrees"),
            taken: (deg - best.1).abs() < 1e-9,
            why: format!("{} mm clear", reckon::print::fixed(room.min(999.0), 1)),
        });
        let tried = tried.collect();
        book.chosen(
            "motion.bearing",
            Angle::deg(best.1),
            "the direction in which stud and wheel stand clearest",
            tried,
            vec![centre.x.id(), centre.y.id(), centres.id(), first.wheel.outside.id()],
            &DIRECTION,
        )
    });
    let Stand { x, y } = centre;
    Stand {
        x: work!(book, "motion.stud.at.x", |x, centres, bearing| x + centres * bearing.cos(), &GEOMETRY),
        y: work!(book, "motion.stud.at.y", |y, centres, bearing| y + centres * bearing.sin(), &GEOMETRY),
    }
}
