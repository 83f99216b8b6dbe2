//! Budgets, as ranges.

use super::{Done, ask, banded, more, need, one_of, or, range, says, share, some, teeth, within};
use crate::budget::{self, Band, MESH_DEFAULT, PIVOTS_DEFAULT, Pendulum};
use reckon::{Angle, Ask, Book, Given, Id, Power, Ratio, Time, Torque, Val, work};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "power.mesh",
        "share that one mesh passes, as a range",
        &[
            need("teeth", "of the wheel"),
            need("leaves", "of the pinion"),
            or("friction", "0.10, 0.15, 0.25", "one value, or low, likely and high"),
            or("sliding", "0.7", "0.5 where teeth meet after the line of centres only, to 1"),
        ],
        &["passes.low", "passes.likely", "passes.high"],
        r#"teeth="96" leaves="12""#,
        mesh,
    ),
    ask(
        "power.train",
        "share that a whole train passes, as a range",
        &[
            need("meshes", "number of them"),
            or("mesh", "", "share that each passes; 0.92, 0.95, 0.97 when left out"),
            or("pivots", "", "share that all pivots pass; 0.90, 0.94, 0.97 when left out"),
        ],
        &["passes.low", "passes.likely", "passes.high"],
        r#"meshes="4" mesh="0.95" pivots="1""#,
        train,
    ),
    ask(
        "power.budget",
        "power that reaches the pendulum, the arc it keeps up and the margin, as ranges",
        &[
            need("drive", "power of weight or spring: one value, or low, likely and high"),
            need("train", "share that the train passes, likewise"),
            or("escapement", "", "share that the escapement passes, likewise; or its kind"),
            or("kind", "", "dead-beat, recoil, gravity or lever, in place of a share"),
            need("moment", "mass times gravity times length of the pendulum"),
            need("arc", "least arc to one side that the escapement needs"),
            need("quality", "Q of the pendulum, one value or a range"),
            need("period", "two beats"),
            or("wanted", "1.3", "margin wanted at the low end"),
        ],
        &[
            "need.low",
            "need.likely",
            "need.high",
            "at_escapement.low",
            "at_escapement.likely",
            "at_escapement.high",
            "at_pendulum.low",
            "at_pendulum.likely",
            "at_pendulum.high",
            "arc_kept.low",
            "arc_kept.likely",
            "arc_kept.high",
            "margin.low",
            "margin.likely",
            "margin.high",
            "verdict",
        ],
        r#"drive="48.95 uW" train="0.55, 0.65, 0.75" kind="dead-beat" moment="58.53 N m" arc="1.6 deg" quality="6000, 8000, 10000" period="2 s""#,
        whole,
    ),
    ask(
        "power.arbor",
        "torque of an arbor that passes a power, or power of a torque",
        &[
            or("power", "", "passed; or give the torque"),
            or("torque", "", "on the arbor; or give the power"),
            need("period", "of one turn of the arbor"),
            or("passes", "1", "share that gets there"),
        ],
        &["torque_there", "power_there"],
        r#"power="99.315 uW" period="60 s" passes="0.81450625""#,
        arbor,
    ),
    ask(
        "power.torques",
        "torque of each arbor of a train, as ranges",
        &[
            need("torque", "of the first: one value, or low, likely and high"),
            need("teeth", "of each wheel, between commas"),
            need("leaves", "of each pinion that it drives, between commas"),
            or("passes", "0.92, 0.95, 0.97", "share that each mesh passes"),
        ],
        &["last", "arbor"],
        r#"torque="336.57 N mm" teeth="144, 108, 80" leaves="12, 12, 12""#,
        torques,
    ),
];

fn mesh(g: &Given<'_>, book: &mut Book) -> Done {
    let (z, l) = (teeth(g, book, "teeth", 4, 2000)?, teeth(g, book, "leaves", 3, 2000)?);
    let (mu, mut ids) = range::<Ratio>(g, book, "friction")?;
    if mu.high > 1.0 {
        return Err(g.trouble("friction", "friction between teeth is below 1"));
    }
    let c = within(g, book, "sliding", Ratio::si(0.3), Ratio::si(1.5))?;
    ids.extend([z.id(), l.id(), c.id()]);
    let passes = budget::mesh_band(c.bare().value(), mu, z.bare().n(), l.bare().n());
    banded::<Ratio>(book, "passes", passes, "1 − c π μ (1/z1 + 1/z2)", &ids, &budget::MESH);
    Ok(())
}
fn train(g: &Given<'_>, book: &mut Book) -> Done {
    let n = teeth(g, book, "meshes", 1, 12)?;
    let mut ids: Vec<Id> = vec![n.id()];
    let mut or_usual = |book: &mut Book, name: &str, usual: Band, source| {
        if g.has(name) {
            let (b, more) = share(g, book, name)?;
            ids.extend(more);
            return Ok(b);
        }
        for (end, x) in [("low", usual.low), ("likely", usual.likely), ("high", usual.high)] {
            ids.push(book.tabled(format!("{name}.{end}"), Ratio::si(x), "usual range", source).id());
        }
        Ok::<Band, reckon::Trouble>(usual)
    };
    let mesh = or_usual(book, "mesh", MESH_DEFAULT, &budget::CHAIN)?;
    let pivots = or_usual(book, "pivots", PIVOTS_DEFAULT, &budget::PIVOTS)?;
    let mut parts = vec![pivots];
    parts.extend((0..n.bare().0).map(|_| mesh));
    banded::<Ratio>(book, "passes", budget::chain(&parts), "product of all shares", &ids, &budget::RANGES);
    Ok(())
}
fn whole(g: &Given<'_>, book: &mut Book) -> Done {
    let (drive, mut ids) = range::<Power>(g, book, "drive")?;
    let (train, more_ids) = share(g, book, "train")?;
    ids.extend(more_ids);
    let escapement = if g.has("escapement") {
        let (e, more_ids) = share(g, book, "escapement")?;
        ids.extend(more_ids);
        e
    } else if g.has("kind") {
        let e = one_of(g, "kind", &budget::ESCAPEMENTS)?.efficiency();
        for (end, x) in [("low", e.low), ("likely", e.likely), ("high", e.high)] {
            let name = format!("escapement.{end}");
            ids.push(book.tabled(name, Ratio::si(x), "usual range of this kind", &budget::ESCAPEMENT).id());
        }
        e
    } else {
        return Err(g.trouble("escapement", "give 'escapement' or its 'kind'"));
    };
    let moment: Val<Torque> = more(g, book, "moment")?;
    let arc = within(g, book, "arc", Angle::deg(0.01), Angle::deg(90.0))?;
    let (quality, more_ids) = range::<Ratio>(g, book, "quality")?;
    ids.extend(more_ids);
    let period: Val<Time> = more(g, book, "period")?;
    let wanted = within(g, book, "wanted", Ratio::si(1.0), Ratio::si(10.0))?;
    let p = Pendulum {
        moment: moment.bare().value(),
        quality,
        period: period.bare().value(),
        arc: arc.bare().value(),
    };
    ids.extend([moment.id(), arc.id(), period.id()]);
    let b = budget::budget(drive, train, escapement, p, wanted.bare().value());
    let need = quality.falling(|q| budget::need(p.moment, p.arc, q, p.period));
    banded::<Power>(book, "need", need, "π G A²/(Q T)", &ids, &budget::NEED);
    banded::<Power>(book, "at_escapement", b.at_escapement, "drive through the train", &ids, &budget::RANGES);
    banded::<Power>(book, "at_pendulum", b.at_pendulum, "and through the escapement", &ids, &budget::RANGES);
    banded::<Angle>(book, "arc_kept", b.arc, "√(Q P T/(π G))", &ids, &budget::ARC);
    banded::<Ratio>(book, "margin", b.margin, "at the pendulum over need", &ids, &budget::RANGES);
    ids.push(wanted.id());
    says(
        book,
        "verdict",
        b.verdict.text(),
        "low end of the margin against 1 and what is wanted",
        ids,
        &budget::RANGES,
    );
    Ok(())
}
fn arbor(g: &Given<'_>, book: &mut Book) -> Done {
    let period: Val<Time> = more(g, book, "period")?;
    let passes = within(g, book, "passes", Ratio::ZERO, Ratio::si(1.0))?;
    if g.has("power") {
        let power: Val<Power> = some(g, book, "power")?;
        let there = work!(book, "power_there", |power, passes| power * passes, &budget::TORQUE);
        work!(
            book,
            "torque_there",
            |there, period| Torque::si(budget::torque(there.value(), period.value())),
            &budget::TORQUE
        );
    } else if g.has("torque") {
        let torque: Val<Torque> = some(g, book, "torque")?;
        let there = work!(book, "torque_there", |torque, passes| torque * passes, &budget::TORQUE);
        work!(
            book,
            "power_there",
            |there, period| Power::si(there.value() * 2.0 * reckon::maths::PI / period.value()),
            &budget::TORQUE
        );
    } else {
        return Err(g.trouble("power", "give 'power' or 'torque'"));
    }
    Ok(())
}
fn torques(g: &Given<'_>, book: &mut Book) -> Done {
    let (torque, mut ids) = range::<Torque>(g, book, "torque")?;
    let z: Vec<Val<Ratio>> = g.take_list(book, "teeth")?;
    let l: Vec<Val<Ratio>> = g.take_list(book, "leaves")?;
    let (passes, more_ids) = share(g, book, "passes")?;
    ids.extend(more_ids);
    if z.len() != l.len() || z.iter().chain(&l).any(|n| n.bare().value() < 1.0) {
        return Err(g.trouble("leaves", "every wheel needs the pinion that it drives, and both have teeth"));
    }
    ids.extend(z.iter().chain(&l).map(Val::id));
    let steps: Vec<(f64, f64, Band)> =
        z.iter().zip(&l).map(|(z, l)| (z.bare().value(), l.bare().value(), passes)).collect();
    let all = budget::torques(torque, &steps);
    if let Some(last) = all.last() {
        let how = ("likely, at the last arbor", 1, 0.0);
        book.solved("last", Torque::si(last.likely), how, ids.clone(), &budget::RANGES);
    }
    for (i, b) in all.into_iter().enumerate() {
        banded::<Torque>(
            book,
            &format!("arbor.{}", i + 1),
            b,
            "times leaves over teeth, and the share",
            &ids,
            &budget::RANGES,
        );
    }
    Ok(())
}
