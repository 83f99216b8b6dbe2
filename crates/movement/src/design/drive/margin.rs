//! What reaches the pendulum, the arc that it keeps up, and the margin over what it needs.

use super::{BandOf, From, Shares, Supplied, WeightDesign};
use crate::design::PendulumDesign;
use ::pendulum::swing;
use power::budget as kernel;
use reckon::source::Source;
use reckon::{Angle, Book, Cell, Id, Power, Ratio, Val, judge, work};

/// Margins that the house wants.
pub static MARGIN: Source = Source::practice(
    "power at the pendulum 1.15 times its need or more when all is likely, and not under it when oil is old and cold",
);
/// A weight is tried with a fifth taken off.
pub static FIFTH: Source = Source::practice("a clock in order goes with four fifths of its weight");

/// A place of the run.
#[derive(Clone, Debug)]
pub struct Moment {
    /// In words.
    pub what: &'static str,
    /// Power of the drive, coils counted.
    pub power: BandOf<Power>,
    /// At the escape arbor.
    pub at_escapement: BandOf<Power>,
    /// At the pendulum.
    pub at_pendulum: BandOf<Power>,
    /// Semi-arc that it keeps up.
    pub arc: BandOf<Angle>,
    /// Over what the running arc needs.
    pub margin: BandOf<Ratio>,
}
/// Power and arc through the run.
#[derive(Clone, Debug)]
pub struct MarginDesign {
    /// Part of what the escape arbor gets that the whole escapement passes, as the losses say.
    pub passes: BandOf<Ratio>,
    /// Places of the run, in order of time.
    pub moments: Vec<Moment>,
    /// Table of them.
    pub table: Id,
    /// Change of the circular error from the first to the last, s/day, where the arc falls.
    pub swings: Option<Val<Ratio>>,
    /// Arc with four fifths of the weight.
    pub at_four_fifths: Option<Val<Angle>>,
}

pub(super) fn margin(
    from: &From<'_>,
    p: &PendulumDesign,
    shares: &Shares,
    supplied: &Supplied,
    weight: Option<&WeightDesign>,
    book: &mut Book,
) -> Option<MarginDesign> {
    let moments: Vec<Moment> =
        supplied.iter().map(|(what, slug, power)| moment(what, slug, *power, p, shares, book)).collect();
    let (first, last) = (moments.first()?, moments.last()?);
    let table = table(&moments, book);
    judge_margin(last, weight, from, book);
    let swings = (moments.len() > 1).then(|| {
        let (start, end) = (first.arc.likely, last.arc.likely);
        work!(
            book,
            "drive.circular_error_swings_s_per_day",
            |start, end| Ratio::si(swing::circular(end.value()) - swing::circular(start.value())),
            &swing::CIRCULAR
        )
    });
    let mut at_four_fifths = None;
    if let Some(needed) = p.arc_needed {
        let (likely, low) = (last.arc.likely, last.arc.low);
        let goes = judge!(
            book,
            "drive.goes_to_the_end",
            "at the end of the run the arc still reaches what the escapement needs",
            |likely, needed| likely >= needed,
            &kernel::ARC
        );
        if !goes.bare() {
            book.cure(goes.id(), "a shorter run, a stronger drive, or an escapement that needs less arc");
        }
        let cold = judge!(
            book,
            "drive.goes_when_oil_is_old",
            "with old oil on a cold day the arc still reaches what the escapement needs",
            |low, needed| low >= needed,
            &kernel::ARC
        );
        if !cold.bare() {
            book.cure(cold.id(), "more drive, or less lift and lock; and clean oil before each winter");
        }
        if weight.is_some() {
            let arc = work!(
                book,
                "drive.arc_at_four_fifths",
                |likely| Angle::si(likely.value() * 0.8_f64.sqrt()),
                &FIFTH
            );
            let tried = judge!(
                book,
                "drive.goes_with_four_fifths",
                "it goes with four fifths of its weight",
                |arc, needed| arc >= needed,
                &FIFTH
            );
            if !tried.bare() {
                book.cure(tried.id(), format!(
                    "with a fifth taken off the arc falls to {} and {} is needed: a heavier weight, a better pendulum, or less lift and lock",
                    arc.shown(), needed.shown()
                ));
            }
            at_four_fifths = Some(arc);
        }
    }
    Some(MarginDesign { passes: shares.escapement, table, swings, at_four_fifths, moments })
}
fn moment(
    what: &'static str,
    slug: &str,
    power: BandOf<Power>,
    p: &PendulumDesign,
    shares: &Shares,
    book: &mut Book,
) -> Moment {
    let (moment, quality, beat, need) = (p.hung.moment, p.quality, p.beat, p.need);
    let at_escapement = BandOf::each(|word, end| {
        let (power, share) = (power.at(end), shares.train.at(end));
        let name = format!("drive.{slug}.at_escapement.{word}");
        work!(book, name, |power, share| power * share, &kernel::RANGES)
    });
    let at_pendulum = BandOf::each(|word, end| {
        let (at_escape, share) = (at_escapement.at(end), shares.escapement.at(end));
        let name = format!("drive.{slug}.at_pendulum.{word}");
        work!(book, name, |at_escape, share| at_escape * share, &kernel::RANGES)
    });
    let arc = BandOf::each(|word, end| {
        let power = at_pendulum.at(end);
        let name = format!("drive.{slug}.arc.{word}");
        work!(
            book,
            name,
            |power, moment, quality, beat| Angle::si(kernel::arc(
                power.value(),
                moment.value(),
                quality.value(),
                2.0 * beat.value()
            )),
            &kernel::ARC
        )
    });
    let margin = BandOf::each(|word, end| {
        let power = at_pendulum.at(end);
        work!(book, format_args!("drive.{slug}.margin.{word}"), |power, need| power / need, &kernel::NEED)
    });
    Moment { what, power, at_escapement, at_pendulum, arc, margin }
}
fn table(moments: &[Moment], book: &mut Book) -> Id {
    let mut rows = Vec::new();
    let mut ids = Vec::new();
    let micro =
        |p: Val<Power>| Cell::as_text(&p.bare(), reckon::print::significant(p.bare().value() * 1e6, 4));
    for m in moments {
        for (word, end) in
            [("low", super::End::Low), ("likely", super::End::Likely), ("high", super::End::High)]
        {
            let (arc, margin) = (m.arc.at(end).bare(), m.margin.at(end).bare());
            rows.push(vec![
                Cell::word(m.what),
                Cell::word(word),
                micro(m.power.at(end)),
                micro(m.at_escapement.at(end)),
                micro(m.at_pendulum.at(end)),
                Cell::as_text(&arc, format!("{}°", reckon::print::fixed(arc.in_deg(), 2))),
                Cell::as_text(&margin, reckon::print::fixed(margin.value(), 2)),
            ]);
            ids.extend([m.arc.at(end).id(), m.margin.at(end).id()]);
        }
    }
    let columns =
        ["when", "if", "drive, µW", "at the escapement, µW", "at the pendulum, µW", "arc", "over need"];
    book.table("drive.budget", &columns, rows, "every loss a range, and so the answer", ids, &kernel::RANGES)
}
fn judge_margin(last: &Moment, weight: Option<&WeightDesign>, from: &From<'_>, book: &mut Book) {
    let (likely, low) = (last.margin.likely, last.margin.low);
    let good = judge!(
        book,
        "drive.margin",
        "what reaches the pendulum keeps the running arc up with a margin, to the end of the run",
        |likely| likely >= Ratio::si(1.15),
        &MARGIN
    );
    let worn = judge!(
        book,
        "drive.margin_when_worn",
        "old oil on a cold day still leaves the pendulum its running arc",
        |low| low >= Ratio::si(1.0),
        &MARGIN
    );
    if !good.bare() {
        let lacks = 1.15 / likely.bare().value();
        match weight {
            Some(w) => {
                let mass = w.mass;
                let heavier = work!(
                    book,
                    "drive.weight.for_margin",
                    |mass, likely| mass * (1.15 / likely.value()),
                    &kernel::NEED
                );
                book.cure(good.id(), format!("a weight of {}", heavier.shown()));
            }
            None => book.cure(
                good.id(),
                format!(
                    "{} times the torque there: a higher or slightly thicker strip",
                    reckon::print::fixed(lacks, 2)
                ),
            ),
        }
        if from.facts.drive.as_ref().is_some_and(|d| d.spring.is_some() && d.fusee.is_none()) {
            book.cure(good.id(), "stop work that ends the run earlier, or a fusee");
        }
        book.cure(
            good.id(),
            "a smaller running arc, or a pendulum of higher quality: heavier bob, firmer hanging",
        );
    }
    if !worn.bare() {
        book.cure(worn.id(), format!(
            "it keeps {} of its need then and slows to a smaller arc: clean and oil it before it comes to that",
            reckon::print::fixed(low.bare().value(), 2)
        ));
    }
}
