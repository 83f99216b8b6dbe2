//! The friction that carries the hands along and lets them be set.

use super::MotionDesign;
use power::hands::{RULE, SLIP, Slip, force_for, pull_at_tip};
use reckon::source::Source;
use reckon::{Book, Force, Length, Pressure, Ratio, Torque, Val, judge, work};

/// A strip bowed a little, pressed at its middle.
pub static BOW: Source = Source::derived("a strip on its two ends, pressed flat in the middle")
    .with_formula("N = 4 E b t³ f / L³; stress = 1.5 N L / (b t²)");

/// The bow washer and what it does.
#[derive(Copy, Clone, Debug)]
pub struct Bow {
    /// Length of the strip.
    pub length: Val<Length>,
    /// Width.
    pub width: Val<Length>,
    /// Thickness.
    pub thickness: Val<Length>,
    /// How high it is bowed when free.
    pub rise: Val<Length>,
    /// Torque that the hands need.
    pub needed: Val<Torque>,
    /// Torque at which they slip.
    pub slip: Val<Torque>,
    /// Pull at the minute hand's tip at which it slips.
    pub pull: Val<Force>,
}
/// The bow washer that lets the minute hand slip at three times what the hands need.
pub(in crate::design) fn bow(
    m: &MotionDesign,
    hands: &super::super::HandsDesign,
    book: &mut Book,
) -> Option<Bow> {
    let (minute, hour) = (hands.minute.as_ref()?, hands.hour.as_ref()?);
    let drag = book.assumed(
        "motion.drag",
        Torque::si(0.5e-3),
        "house default: oil and rubbing of pipes and stud, at the minute arbor",
    );
    let (m_off, h_off) = (minute.imbalance, hour.imbalance);
    let needed = work!(book, "motion.hands_need", |drag, m_off, h_off| drag + m_off + h_off / 12.0, &RULE);
    let times = book.assumed("motion.slip_times", Ratio::si(3.0), "house default: midway between 2 and 4");
    let wanted = work!(book, "motion.slip_wanted", |needed, times| needed * times, &RULE);
    let friction =
        book.assumed("motion.bow.friction", Ratio::si(0.2), "house default: steel on brass, dry to oiled");
    let bore = m.pipes.bore;
    let width = book.assumed("motion.bow.width", Length::mm(6.0), "house default");
    let length = book.assumed("motion.bow.length", Length::mm(11.0), "house default");
    let radius = work!(book, "motion.bow.rubs_at", |bore| bore.across() * 0.6, &SLIP);
    let force = work!(
        book,
        "motion.bow.force_wanted",
        |wanted, friction, radius| Force::si(force_for(
            wanted.value(),
            friction.value(),
            radius.value(),
            2.0
        )),
        &SLIP
    );
    let modulus = book.assumed("motion.bow.elasticity", Pressure::si(205e9), "spring steel");
    let net = work!(book, "motion.bow.net_width", |width, bore| width - bore.across(), &BOW);
    // The thickest common strip that can still be bowed by half a millimetre.
    let rise = |t: f64| {
        let (n, l, e, b) =
            (force.bare().value(), length.bare().value(), modulus.bare().value(), net.bare().value());
        n * l * l * l / (4.0 * e * b * t * t * t)
    };
    let usual = [0.3e-3, 0.25e-3, 0.2e-3, 0.15e-3, 0.12e-3, 0.1e-3, 0.08e-3];
    let taken = usual.into_iter().find(|t| rise(*t) >= 0.45e-3).unwrap_or(0.08e-3);
    let thickness = book.chosen(
        "motion.bow.thickness",
        Length::si(taken),
        "the thickest common strip that takes a rise of nearly half a millimetre for this force",
        Vec::new(),
        vec![force.id(), length.id(), net.id(), modulus.id()],
        &BOW,
    );
    let raw = work!(
        book,
        "motion.bow.rise_for_force",
        |force, length, modulus, net, thickness| Length::si(
            force.value() * length.value() * length.value() * length.value()
                / (4.0
                    * modulus.value()
                    * net.value()
                    * thickness.value()
                    * thickness.value()
                    * thickness.value())
        ),
        &BOW
    );
    // Bent by hand, to a twentieth of a millimetre.
    let rise = work!(
        book,
        "motion.bow.rise",
        |raw| Length::mm((raw.in_mm() * 20.0).round() / 20.0).max(Length::mm(0.05)),
        &BOW
    );
    let slip = work!(book, "motion.slip", |wanted, rise, raw| wanted * (rise / raw), &SLIP);
    let reach = minute.length;
    let pull = work!(
        book,
        "motion.pull_at_tip",
        |slip, reach| Force::si(pull_at_tip(slip.value(), reach.value())),
        &SLIP
    );
    let verdict = judge!(
        book,
        "motion.slips_rightly",
        "the minute hand slips at two to four times what the hands need",
        |slip, needed| Slip::of(slip.value(), needed.value()) == Slip::Good,
        &RULE
    );
    book.cure(verdict.id(), "bow the washer more or less, or take a thinner strip");
    let stress = work!(
        book,
        "motion.bow.stress",
        |force, length, net, thickness| Pressure::si(
            1.5 * force.value() * length.value() / (net.value() * thickness.value() * thickness.value())
        ),
        &BOW
    );
    let verdict = judge!(
        book,
        "motion.bow.stays_bowed",
        "the bow washer is stressed below what blue spring steel springs back from",
        |stress| stress.in_n_per_mm2() <= 1200.0,
        &BOW
    );
    book.cure(verdict.id(), "a longer or wider strip");
    Some(Bow { length, width, thickness, rise, needed, slip, pull })
}
