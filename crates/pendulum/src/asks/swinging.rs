//! Q, the push of the escapement, beat, and the driving weight that sways along.

use super::take::{STANDARD, pull, swung};
use crate::energy::{self, Decay};
use crate::impulse::{self, Push};
use crate::sway::{self, Lines, Weight};
use reckon::ask::{Done, ask, more, need, or, within};
use reckon::{
    Acceleration, Angle, Ask, Book, Energy, Given, Length, Mass, Power, Ratio, Time, Torque, Val, judge,
    maths, work,
};

pub(super) static ASKS: &[Ask] = &[
    ask(
        "pendulum.q",
        "energy of the swing, what it loses, the power that keeps it up",
        &[
            need("mass", "that swings"),
            need("length", "depth of its centre of gravity"),
            need("arc", "semi-arc"),
            need("quality", "Q at that arc"),
            or("period", "2 s", "full period"),
            or("gravity", STANDARD, "gravity at the place"),
            or("power", "", "given to the pendulum: where the arc settles"),
        ],
        &["energy", "loss", "needs", "half_time", "settles_at", "margin"],
        r#"mass="6 kg" length="994 mm" arc="2 deg" quality="10000" power="14 uW""#,
        quality,
    ),
    ask(
        "pendulum.decay",
        "Q from a free swing that dies away: two arcs, or a list of them",
        &[
            need("at", "times of the readings, between commas"),
            need("arcs", "semi-arcs, between commas"),
            or("period", "2 s", "full period"),
            or("running_arc", "", "semi-arc at which Q is wanted, from three readings on"),
        ],
        &["quality", "half_time", "alpha_per_s", "beta_per_s_rad", "quality_at_arc"],
        r#"at="0 min, 20 min, 40 min, 60 min" arcs="3 deg, 2.35 deg, 1.9 deg, 1.56 deg" running_arc="2 deg""#,
        decay,
    ),
    ask(
        "pendulum.escapement",
        "what the push of a dead-beat does to the rate, s/day, + gains; averaged over the swing",
        &[
            need("before", "where the push begins, before the middle"),
            need("after", "where it ends, past the middle"),
            need("arc", "semi-arc"),
            need("quality", "Q at that arc"),
        ],
        &[
            "s_per_day",
            "rule_s_per_day",
            "circular_s_per_day",
            "total_s_per_day",
            "s_per_day_per_percent_drive",
        ],
        r#"before="0.75 deg" after="1.25 deg" arc="2 deg" quality="10000""#,
        escapement,
    ),
    ask(
        "pendulum.push",
        "rate of a short push at one place of the swing, s/day, + gains",
        &[
            need("after", "past the middle; below nothing when before it"),
            need("arc", "semi-arc"),
            need("quality", "Q at that arc"),
        ],
        &["s_per_day"],
        r#"after="-0.5 deg" arc="2 deg" quality="10000""#,
        push,
    ),
    ask(
        "pendulum.torque",
        "arc that a steady push of a dead-beat keeps",
        &[
            need("torque", "on the pendulum while it is pushed"),
            need("before", "where the push begins, before the middle"),
            need("after", "where it ends, past the middle"),
            need("quality", "Q"),
            need("mass", "that swings"),
            need("length", "depth of its centre of gravity"),
            or("gravity", STANDARD, "gravity at the place"),
        ],
        &["arc"],
        r#"torque="0.34 N mm" before="0.75 deg" after="1.25 deg" quality="8000" mass="5 kg" length="993.62139 mm""#,
        torque,
    ),
    ask(
        "pendulum.beat_offset",
        "how far a clock is out of beat, and how far to move the crutch's foot",
        &[
            need("half_difference", "half the difference of tick to tock and tock to tick"),
            need("arc", "semi-arc"),
            or("period", "2 s", "full period"),
            or("crutch", "", "from its arbor to the foot"),
        ],
        &["offset", "at_foot"],
        r#"half_difference="12 ms" arc="1.7 deg" crutch="150 mm""#,
        beat,
    ),
    ask(
        "pendulum.sway",
        "when in the run the driving weight is as long as the pendulum and sways with it",
        &[
            need("length", "effective length of the pendulum"),
            need("start", "from the drum down to the weight's hook or pulley, wound up"),
            need("end", "the same, run down"),
            need("run", "time from one to the other"),
            need("diameter", "of the weight"),
            need("height", "of the weight"),
            or("hook", "20 mm", "from hook or pulley axis down to the weight's top"),
            or("lines", "1", "1, or 2 with a pulley"),
            or("apart", "0 mm", "between the places the two lines come from"),
            or("pulley", "0 mm", "pulley's diameter"),
            or("band", "3 %", "how near in length is too near"),
        ],
        &["meets", "drop", "from", "to", "nearest", "period_start", "period_end", "clear"],
        r#"length="994 mm" start="150 mm" end="1135.2 mm" run="8 d" diameter="64 mm" height="170 mm" hook="40 mm" lines="2" apart="45 mm" pulley="40 mm""#,
        follow,
    ),
];

fn quality(g: &Given<'_>, book: &mut Book) -> Done {
    let (mass, length): (Val<Mass>, Val<Length>) = (more(g, book, "mass")?, more(g, book, "length")?);
    let arc = swung(g, book, "arc")?;
    let quality: Val<Ratio> = more(g, book, "quality")?;
    let period: Val<Time> = more(g, book, "period")?;
    let pull = pull(g, book)?;
    let energy = work!(
        book,
        "energy",
        |mass, length, pull, arc| Energy::si(energy::of_swing(
            mass.value() * length.value(),
            pull.value(),
            arc.value()
        )),
        &energy::ENERGY
    );
    work!(
        book,
        "loss",
        |energy, quality| Energy::si(energy::loss(energy.value(), quality.value())),
        &energy::LOSS
    );
    let needs = work!(
        book,
        "needs",
        |energy, quality, period| Power::si(energy::power(energy.value(), quality.value(), period.value())),
        &energy::LOSS
    );
    work!(
        book,
        "half_time",
        |quality, period| Time::si(energy::half_time(quality.value(), period.value())),
        &energy::DECAY
    );
    if g.has("power") {
        let power: Val<Power> = more(g, book, "power")?;
        work!(book, "margin", |power, needs| power / needs, &energy::LOSS);
        let ids = vec![power.id(), quality.id(), period.id(), mass.id(), length.id(), pull.id()];
        let moment = mass.bare().value() * length.bare().value();
        let (q, t) = (quality.bare().value(), period.bare().value());
        let Some(a) = energy::settles(power.bare().value(), q, t, moment, pull.bare().value()) else {
            return Err(g.trouble("power", "so much power turns the pendulum over"));
        };
        book.solved("settles_at", Angle::si(a), ("power given is power lost", 1, 0.0), ids, &energy::LOSS);
    }
    Ok(())
}
fn decay(g: &Given<'_>, book: &mut Book) -> Done {
    let at: Vec<Val<Time>> = g.take_list(book, "at")?;
    let arcs: Vec<Val<Angle>> = g.take_list(book, "arcs")?;
    let period: Val<Time> = more(g, book, "period")?;
    if at.len() != arcs.len() || at.len() < 2 {
        return Err(g.trouble("arcs", "two or more arcs, and a time for each"));
    }
    let readings: Vec<(f64, f64)> =
        at.iter().zip(&arcs).map(|(t, a)| (t.bare().value(), a.bare().value())).collect();
    let bad = readings.windows(2).any(|w| w[1].0 <= w[0].0 || w[1].1 >= w[0].1 || w[1].1 <= 0.0);
    if bad {
        return Err(g.trouble("arcs", "times must rise, and arcs fall, from one reading to the next"));
    }
    let (first, last) = (readings[0], readings[readings.len() - 1]);
    let t = period.bare().value();
    let Some(q) = energy::quality(first.1, last.1, last.0 - first.0, t) else {
        return Err(g.trouble("arcs", "the swing must die away"));
    };
    let mut ids: Vec<_> = at.iter().map(Val::id).chain(arcs.iter().map(Val::id)).collect();
    ids.push(period.id());
    let how = ("from the first arc and the last", 1, 0.0);
    let quality = book.solved("quality", Ratio::si(q), how, ids.clone(), &energy::DECAY);
    work!(
        book,
        "half_time",
        |quality, period| Time::si(energy::half_time(quality.value(), period.value())),
        &energy::DECAY
    );
    if let Some(fit) = Decay::fit(&readings) {
        let how = || ("straight line through the losses between readings", 1, 0.0);
        book.solved("alpha_per_s", Ratio::si(fit.alpha), how(), ids.clone(), &energy::DRAG);
        book.solved("beta_per_s_rad", Ratio::si(fit.beta), how(), ids.clone(), &energy::DRAG);
        if g.has("running_arc") {
            let arc = swung(g, book, "running_arc")?;
            let q = fit.quality(arc.bare().value(), t);
            if q <= 0.0 || !q.is_finite() {
                return Err(g.trouble("running_arc", "the readings say nothing of so small an arc"));
            }
            ids.push(arc.id());
            book.solved("quality_at_arc", Ratio::si(q), how(), ids, &energy::DRAG);
        }
    }
    Ok(())
}
fn lift(g: &Given<'_>, book: &mut Book) -> Result<(Val<Angle>, Val<Angle>), reckon::Trouble> {
    let (low, high) = (Angle::deg(-30.0), Angle::deg(30.0));
    let (before, after) = (within(g, book, "before", low, high)?, within(g, book, "after", low, high)?);
    if (before.bare() + after.bare()) <= Angle::ZERO {
        return Err(g.trouble("after", "the push must last: its end lies past its beginning"));
    }
    Ok((before, after))
}
fn escapement(g: &Given<'_>, book: &mut Book) -> Done {
    let (before, after) = lift(g, book)?;
    let arc = swung(g, book, "arc")?;
    let quality: Val<Ratio> = more(g, book, "quality")?;
    let ids = || vec![before.id(), after.id(), arc.id(), quality.id()];
    let push = Push { before: before.bare().value(), after: after.bare().value() };
    let (a, q) = (arc.bare().value(), quality.bare().value());
    let short = || {
        g.trouble("arc", "the arc does not reach both ends of the push").cure("a larger arc, or less lift")
    };
    let rate = push.rate(a, q).ok_or_else(short)?;
    let own =
        book.solved("s_per_day", Ratio::si(rate), ("averaged over the swing", 1, 0.0), ids(), &impulse::AIRY);
    work!(
        book,
        "rule_s_per_day",
        |before, after, arc, quality| Ratio::si(
            Push { before: before.value(), after: after.value() }.small(arc.value(), quality.value())
        ),
        &impulse::AIRY
    );
    let circular = work!(
        book,
        "circular_s_per_day",
        |arc| Ratio::si(crate::swing::circular(arc.value())),
        &crate::swing::CIRCULAR
    );
    work!(book, "total_s_per_day", |own, circular| own + circular, &impulse::AIRY);
    let per = push.per_drive(a, q).ok_or_else(short)?;
    let how = ("arc as the root of the drive, Q kept", 1, 0.0);
    book.solved("s_per_day_per_percent_drive", Ratio::si(per / 100.0), how, ids(), &impulse::AIRY);
    Ok(())
}
fn push(g: &Given<'_>, book: &mut Book) -> Done {
    let after: Val<Angle> = g.take(book, "after")?;
    let arc = swung(g, book, "arc")?;
    let quality: Val<Ratio> = more(g, book, "quality")?;
    let Some(rate) = impulse::point(after.bare().value(), arc.bare().value(), quality.bare().value()) else {
        return Err(g.trouble("after", "the push lies beyond the swing"));
    };
    let ids = vec![after.id(), arc.id(), quality.id()];
    book.solved("s_per_day", Ratio::si(rate), ("averaged over the swing", 1, 0.0), ids, &impulse::POINT);
    Ok(())
}
fn torque(g: &Given<'_>, book: &mut Book) -> Done {
    let torque: Val<Torque> = more(g, book, "torque")?;
    let (before, after) = lift(g, book)?;
    let quality: Val<Ratio> = more(g, book, "quality")?;
    let (mass, length): (Val<Mass>, Val<Length>) = (more(g, book, "mass")?, more(g, book, "length")?);
    let pull: Val<Acceleration> = pull(g, book)?;
    work!(
        book,
        "arc",
        |torque, before, after, quality, mass, length, pull| Angle::si(
            Push { before: before.value(), after: after.value() }.arc(
                torque.value(),
                quality.value(),
                mass.value() * length.value() * pull.value()
            )
        ),
        &impulse::AIRY
    );
    Ok(())
}
fn beat(g: &Given<'_>, book: &mut Book) -> Done {
    let half: Val<Time> = g.take(book, "half_difference")?;
    let arc = swung(g, book, "arc")?;
    let period: Val<Time> = more(g, book, "period")?;
    if half.bare().value().abs() >= period.bare().value() / 2.0 {
        return Err(g.trouble("half_difference", "half the difference must be below a beat"));
    }
    let offset = work!(
        book,
        "offset",
        |half, period, arc| Angle::si(impulse::beat_offset(half.value(), period.value(), arc.value())),
        &impulse::BEAT
    );
    if g.has("crutch") {
        let crutch: Val<Length> = more(g, book, "crutch")?;
        work!(book, "at_foot", |crutch, offset| crutch * Ratio::si(offset.tan()), &impulse::BEAT);
    }
    Ok(())
}
fn follow(g: &Given<'_>, book: &mut Book) -> Done {
    let length: Val<Length> = more(g, book, "length")?;
    let (start, end): (Val<Length>, Val<Length>) = (more(g, book, "start")?, more(g, book, "end")?);
    let run: Val<Time> = more(g, book, "run")?;
    let (diameter, height): (Val<Length>, Val<Length>) =
        (more(g, book, "diameter")?, more(g, book, "height")?);
    let hook: Val<Length> = within(g, book, "hook", Length::ZERO, Length::si(2.0))?;
    let lines = g.count(book, "lines")?;
    let (apart, pulley): (Val<Length>, Val<Length>) = (
        within(g, book, "apart", Length::ZERO, Length::si(2.0))?,
        within(g, book, "pulley", Length::ZERO, Length::si(1.0))?,
    );
    let band: Val<Ratio> = within(g, book, "band", Ratio::ZERO, Ratio::si(0.5))?;
    if end.bare() <= start.bare() {
        return Err(g.trouble("end", "the weight must sink: 'end' lies below 'start'"));
    }
    let acting = match lines.bare().0 {
        1 => Lines { apart: 0.0, pulley: 0.0 },
        2 => Lines { apart: apart.bare().value(), pulley: pulley.bare().value() },
        _ => return Err(g.trouble("lines", "1 or 2 lines")),
    };
    let weight = Weight::cylinder(diameter.bare().value(), height.bare().value(), hook.bare().value());
    let ends = (start.bare().value(), end.bare().value());
    let (l, r, b) = (length.bare().value(), run.bare().value(), band.bare().value());
    let ids = || {
        vec![
            length.id(),
            start.id(),
            end.id(),
            run.id(),
            diameter.id(),
            height.id(),
            hook.id(),
            lines.id(),
            apart.id(),
            pulley.id(),
        ]
    };
    let pass = sway::pass(weight, acting, l, ends, r, b);
    let how = || ("line as it runs off, closed in on from both sides", 1, 0.0);
    for (name, drop) in [("period_start", ends.0), ("period_end", ends.1)] {
        let t =
            2.0 * maths::PI * (weight.length(acting.acting(drop).along) / crate::gravity::STANDARD).sqrt();
        book.solved(name, Time::si(t), ("slow swing of weight and line", 1, 0.0), ids(), &sway::SWAY);
    }
    if let (Some(at), Some(drop)) = (pass.at, pass.drop) {
        book.solved("meets", Time::si(at), how(), ids(), &sway::SWAY);
        book.solved("drop", Length::si(drop), how(), ids(), &sway::SWAY);
    }
    if let Some((from, to)) = pass.band {
        let with = || [ids().as_slice(), &[band.id()]].concat();
        book.solved("from", Time::si(from), how(), with(), &sway::NEAR);
        book.solved("to", Time::si(to), how(), with(), &sway::NEAR);
    }
    let nearest = book.solved("nearest", Ratio::si(pass.nearest), how(), ids(), &sway::SWAY);
    let v = judge!(
        book,
        "clear",
        "the weight keeps clear of the pendulum's length all through the run",
        |nearest, band| nearest > band,
        &sway::NEAR
    );
    if !v.bare() {
        book.cure(v.id(), "a guide or a screen between weight and pendulum in those hours");
        book.cure(v.id(), "another number of falls, or a shorter line, so that the weight ends above");
        book.cure(
            v.id(),
            "a stiffer fixing of the movement to the wall, which is what carries the sway across",
        );
    }
    Ok(())
}
