//! Pendulums of several bodies, and what warmth does to them.

use super::bodies::{self, SAYS};
use super::strip::{STRIP, given};
use super::take::{STANDARD, arc, pull};
use crate::compound::{self, Sums};
use crate::swing;
use crate::warmth::{self, Sleeved, WarmStrip};
use reckon::ask::{Done, ask, more, need, or};
use reckon::{Ask, Book, Given, Length, Mass, PerKelvin, Ratio, Time, Trouble, Val, work};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "pendulum.compound",
        "effective length and period of a pendulum of several bodies; where its bob must go; rates in s/day, + gains; \
         with a strip, depths are counted from its upper chop",
        &[
            need("bodies", SAYS),
            or("gravity", STANDARD, "gravity at the place"),
            or("arc", "0 deg", "semi-arc"),
            or("beat", "", "beat wanted: finds how far to lower what moves"),
            or("pitch", "", "of the rating nut"),
            STRIP[0],
            STRIP[1],
            STRIP[2],
            STRIP[3],
        ],
        &[
            "mass",
            "centre",
            "length",
            "crutch_axis",
            "period",
            "lower",
            "bob_at",
            "s_per_day_per_mm",
            "s_per_day_per_turn",
        ],
        r#"bodies="rod diameter 8 mm, length 1050 mm, density 7850 kg/m3; cylinder diameter 90 mm, height 120 mm, mass 6 kg, at 990 mm, moves" beat="1 s" pitch="1 mm""#,
        made,
    ),
    ask(
        "pendulum.temperature",
        "rate of a plain rod for each kelvin, s/day, + gains",
        &[need("expansion", "of the rod")],
        &["s_per_day_per_kelvin"],
        r#"expansion="11.5 ppm/K""#,
        plain,
    ),
    ask(
        "pendulum.gridiron",
        "length of the metal that grows up against rods that grow down, by the simple rule",
        &[
            need("length", "from the axis to the bob's centre"),
            need("down", "growth of what carries the bob down"),
            need("up", "growth of what carries it up again"),
        ],
        &["up_length", "down_length", "rods"],
        r#"length="994 mm" down="11.5 ppm/K" up="19 ppm/K""#,
        gridiron,
    ),
    ask(
        "pendulum.sleeve",
        "rate for each kelvin of a bob on a sleeve on the nut, and the sleeve that leaves none; all bodies grown",
        &[
            need("rest", "bodies that stay with the rod, as in pendulum.compound"),
            need("bob", "one body that hangs on the sleeve"),
            need("rod", "growth of the rod"),
            need("sleeve", "growth of the sleeve"),
            need("bob_growth", "growth of the bob"),
            or("length", "0 mm", "length of the sleeve now"),
            or("rests", "0 mm", "how far below its centre the bob rests; nothing when held at the centre"),
            or("gravity", STANDARD, "gravity at the place"),
            STRIP[0],
            STRIP[1],
            STRIP[2],
            STRIP[3],
            or("strip_growth", "11 ppm/K", "growth of the strip"),
            or("strip_softens", "-240 ppm/K", "share by which its modulus changes"),
        ],
        &["s_per_day_per_kelvin", "rule", "balanced_by"],
        r#"rest="rod diameter 8 mm, length 1050 mm, density 8100 kg/m3" bob="cylinder diameter 90 mm, height 120 mm, mass 6 kg, at 988.6 mm" rod="1.2 ppm/K" sleeve="19 ppm/K" bob_growth="11 ppm/K" length="50 mm""#,
        sleeve,
    ),
];

fn made(g: &Given<'_>, book: &mut Book) -> Done {
    let said = bodies::read(g, "bodies")?;
    let pull = pull(g, book)?;
    let arc = arc(g, book, "arc")?;
    if let Some(far) = said.iter().map(|s| s.offset).find(|o| *o > 0.001) {
        let off = book.assumed("crutch_offset", Length::si(far), "as written with the crutch");
        let v = reckon::judge!(
            book,
            "crutch_runs_true",
            "the crutch's arbor stands on the axis that the pendulum turns about",
            |off| off <= Length::mm(1.0),
            &CRUTCH
        );
        book.cure(v.id(), "move the suspension, or the arbor, so that both axes meet within 1 mm");
    }
    let mut p = bodies::pendulum(&said);
    let (strip, mut ids) = given(g, book)?.map_or((None, Vec::new()), |(s, used)| (Some(s), used));
    let weight = pull.bare().value();
    let mut lowered = None;
    if g.has("beat") {
        let beat: Val<Time> = more(g, book, "beat")?;
        if p.moving.is_empty() {
            return Err(g.trouble("bodies", "no body moves").cure("write 'moves' with the bob"));
        }
        let want = work!(
            book,
            "wanted_length",
            |beat, pull, arc| Length::si(swing::length(beat.value(), pull.value(), arc.value())),
            &swing::LENGTH
        );
        let length = want.bare().value();
        let found = strip.map_or_else(|| p.place(length), |s| s.place(&p, length, weight));
        let Some(found) = found else {
            return Err(g
                .trouble("beat", "no place of what moves gives this beat")
                .cure("a heavier bob, or a shorter rod"));
        };
        ids.push(want.id());
        for b in &mut p.moving {
            b.at += found.x;
        }
        lowered = Some(found);
    }
    let s = p.sums(0.0);
    if !s.hangs() || s.mass <= 0.0 {
        return Err(g.trouble("bodies", "it does not hang: its centre of gravity must lie below the axis"));
    }
    let effective = match strip {
        None => s.length(),
        Some(strip) => strip.effective(&s, weight).ok_or_else(|| {
            g.trouble("bodies", "its centre of gravity must lie below the strip")
                .cure("depths are counted from the upper chop")
        })?,
    };
    let rows = p.fixed.iter().chain(&p.moving).map(|b| {
        vec![
            reckon::Cell::word(b.name.clone()),
            reckon::Cell::of(&Mass::si(b.mass)),
            reckon::Cell::of(&Length::si(b.at)),
            reckon::Cell::of(&Ratio::si(b.moment())),
            reckon::Cell::of(&Ratio::si(b.inertia())),
        ]
    });
    let table = book.table(
        "table",
        &["body", "mass", "depth", "m z (kg m)", "I about the axis (kg m²)"],
        rows.collect(),
        "each body as written",
        ids,
        &compound::COMPOUND,
    );
    let sum = || ("sum over the bodies", 1, 0.0);
    book.solved("mass", Mass::si(s.mass), sum(), vec![table], &compound::COMPOUND);
    book.solved("centre", Length::si(s.centre()), sum(), vec![table], &compound::COMPOUND);
    let length = match strip {
        None => book.solved("length", Length::si(effective), sum(), vec![table], &compound::COMPOUND),
        Some(strip) => {
            let how = || ("stiff body on an elastic strip, its slow way of moving", 1, 0.0);
            let axis = strip.turns_at(s.mass, s.centre() - strip.free, s.own(), s.mass * weight);
            let axis = Length::si(axis);
            book.solved("crutch_axis", axis, how(), vec![table, pull.id()], &crate::strip::MODES);
            book.solved("length", Length::si(effective), how(), vec![table, pull.id()], &crate::strip::MODES)
        }
    };
    work!(
        book,
        "period",
        |length, pull, arc| Time::si(swing::period(length.value(), pull.value(), arc.value())),
        &swing::PERIOD
    );
    if let Some(f) = lowered {
        let how = ("place of the bob, closed in on from both sides", f.rounds, f.residual);
        book.solved("lower", Length::si(f.x), how, vec![table], &compound::PLACE);
    }
    if p.moving.is_empty() {
        return Ok(());
    }
    let bob = Sums::of(&p.moving).centre();
    book.solved("bob_at", Length::si(bob), sum(), vec![table], &compound::COMPOUND);
    // On a strip by a hundredth of a millimetre either way; the fall of the slope with the place cancels.
    let raised = |up: f64| strip.map_or_else(|| Some(p.raised(up)), |s| s.raised(&p, up, weight));
    let slope = match strip {
        None => Some(p.per_metre() / 1000.0),
        Some(_) => raised(1e-5).zip(raised(-1e-5)).map(|(up, down)| (up - down) / 0.02),
    };
    let above = || g.trouble("pitch", "raised so far, the pendulum no longer hangs below its strip");
    let how = || ("all bodies", 1, 0.0);
    let slope = Ratio::si(slope.ok_or_else(above)?);
    book.solved("s_per_day_per_mm", slope, how(), vec![table], &compound::PER_MOVE);
    if g.has("pitch") {
        let pitch: Val<Length> = more(g, book, "pitch")?;
        let turn = raised(pitch.bare().value()).filter(|turn| turn.is_finite()).ok_or_else(above)?;
        let turn = Ratio::si(turn);
        book.solved("s_per_day_per_turn", turn, how(), vec![table, pitch.id()], &compound::PER_MOVE);
    }
    Ok(())
}
/// Axes of crutch and pendulum.
static CRUTCH: reckon::Source =
    reckon::Source::practice("crutch and pendulum turn about one axis, within 1 mm");

fn plain(g: &Given<'_>, book: &mut Book) -> Done {
    let growth: Val<PerKelvin> = g.take(book, "expansion")?;
    work!(book, "s_per_day_per_kelvin", |growth| Ratio::si(warmth::plain(growth.value())), &warmth::PLAIN);
    Ok(())
}
fn gridiron(g: &Given<'_>, book: &mut Book) -> Done {
    let length: Val<Length> = more(g, book, "length")?;
    let (down, up): (Val<PerKelvin>, Val<PerKelvin>) = (more(g, book, "down")?, more(g, book, "up")?);
    if up.bare() <= down.bare() {
        return Err(g.trouble("up", "what grows up must grow more than what grows down"));
    }
    let lifts = work!(book, "up_length", |length, down, up| length * (down / (up - down)), &warmth::RULE);
    work!(book, "down_length", |lifts, length| lifts + length, &warmth::RULE);
    if let Some(n) = warmth::frame_rods(down.bare().value(), up.bare().value()) {
        let ids = vec![down.id(), up.id()];
        let how = ("least frame whose rods are no longer than the pendulum", 1, 0.0);
        book.solved("rods", reckon::Count(i64::from(n)), how, ids, &warmth::RULE);
    }
    Ok(())
}
fn sleeve(g: &Given<'_>, book: &mut Book) -> Done {
    let (rest, bob) = (bodies::read(g, "rest")?, bodies::read(g, "bob")?);
    let [bob] = bob.as_slice() else {
        return Err(g.trouble("bob", "one body only hangs on the sleeve"));
    };
    let pull = pull(g, book)?;
    let (rod, tube, grows): (Val<PerKelvin>, Val<PerKelvin>, Val<PerKelvin>) =
        (g.take(book, "rod")?, g.take(book, "sleeve")?, g.take(book, "bob_growth")?);
    let length: Val<Length> = g.take(book, "length")?;
    let rests: Val<Length> = g.take(book, "rests")?;
    let mut ids = vec![rod.id(), tube.id(), grows.id(), length.id(), rests.id()];
    let strip = match given(g, book)? {
        Some((strip, used)) => {
            let (expansion, softening): (Val<PerKelvin>, Val<PerKelvin>) =
                (g.take(book, "strip_growth")?, g.take(book, "strip_softens")?);
            ids.extend(used);
            ids.extend([expansion.id(), softening.id()]);
            Some(WarmStrip {
                strip,
                expansion: expansion.bare().value(),
                softening: softening.bare().value(),
            })
        }
        None => None,
    };
    let whole = Sleeved {
        rest: bodies::hung(&rest, rod.bare().value()),
        bob: bob.body.clone(),
        bob_expansion: grows.bare().value(),
        rests: rests.bare().value(),
        rod: rod.bare().value(),
        sleeve: tube.bare().value(),
        strip,
    };
    let all = Sums::of(rest.iter().map(|s| &s.body).chain([&bob.body]));
    let below_strip = strip.is_none_or(|s| all.centre() > s.strip.free);
    if !all.hangs() || !below_strip {
        return Err(g.trouble("bob", "it does not hang: its centre of gravity must lie below axis and strip"));
    }
    let at = pull.bare().value();
    let slope = whole.slope(length.bare().value(), at);
    if !slope.is_finite() {
        return Err(g.trouble("length", "a sleeve so long leaves no pendulum that swings"));
    }
    let slope = Ratio::si(slope);
    let how = ("all bodies grown, 1 K either way", 1, 0.0);
    book.solved("s_per_day_per_kelvin", slope, how, ids.clone(), &warmth::WHOLE);
    if let Some(rule) = warmth::up_length(bob.body.at, whole.rod, whole.sleeve) {
        let how = ("simple rule: rod against sleeve", 1, 0.0);
        book.solved("rule", Length::si(rule), how, ids.clone(), &warmth::RULE);
    }
    let none = || -> Trouble { g.trouble("sleeve", "no length of this sleeve leaves the rate alone") };
    let found = whole.balance(at).ok_or_else(none)?;
    let how = ("sleeve that leaves no slope, closed in on from both sides", found.rounds, found.residual);
    book.solved("balanced_by", Length::si(found.x), how, ids, &warmth::WHOLE);
    Ok(())
}
