//! One way of joining, weighed for one seat.

use super::{Seat, counted, takes, too_hot};
use crate::kernel::join::{self, Way};
use reckon::source::GEOMETRY;
use reckon::{Book, Diameter, Force, Length, Pressure, Ratio, Temperature, Torque, Val, work};

/// What was found of a way.
pub(super) struct Weighed {
    pub(super) way: Way,
    /// Torque that it holds at least.
    pub(super) holds: Option<Val<Torque>>,
    /// How hot it gets.
    pub(super) heat: Option<Val<Temperature>>,
    /// Pressing: interference, greatest force.
    pub(super) force: Option<(Val<Length>, Val<Force>)>,
    /// Riveting: chamfer that fills.
    pub(super) chamfer: Option<Val<Length>>,
    /// What speaks against it.
    pub(super) against: Option<String>,
    /// What speaks for it.
    pub(super) good: String,
}
/// Weighs a way.
pub(super) fn weigh(s: &Seat<'_>, way: Way, book: &mut Book) -> Weighed {
    let mut w = Weighed {
        way,
        holds: None,
        heat: None,
        force: None,
        chamfer: None,
        against: None,
        good: String::new(),
    };
    match way {
        Way::Rivet => rivet(s, &mut w, book),
        Way::Press => press(s, &mut w, book),
        _ => bond(s, &mut w, book),
    }
    if w.against.is_none()
        && let Some(holds) = w.holds
    {
        if holds.bare() < s.need.bare() {
            w.against = Some(format!("holds {}, and {} is wanted", holds.shown(), s.need.shown()));
        } else {
            w.good = format!("holds {} where {} is wanted{}", holds.shown(), s.need.shown(), w.good);
        }
    }
    w
}
fn proof(p: &movement::part::Part, name: String, book: &mut Book) -> Val<Pressure> {
    let m = p.common.material;
    match &m.proof {
        Some(f) => f.tabled(book, name, m.row("proof stress")),
        None => book.assumed(
            name,
            Pressure::n_per_mm2(200.0),
            "house default: no proof stress is tabled, 200 N/mm²",
        ),
    }
}
fn rivet(s: &Seat<'_>, w: &mut Weighed, book: &mut Book) {
    let Some(over) = s.joint.over else {
        w.against = Some("no metal stands over to be spread".to_owned());
        return;
    };
    let seat = s.joint.shaft.nominal;
    let bore = match s.joint.bore {
        Some(b) => b,
        None => book.solved(
            s.name("rivet.solid"),
            Diameter::mm(0.0),
            ("what goes in is solid", 1, 0.0),
            vec![seat.id()],
            &GEOMETRY,
        ),
    };
    let filled =
        work!(book, s.name("rivet.filled"), |over, seat, bore| join::filled(over, seat, bore), &join::RIVET);
    let thick = s.joint.length;
    let chamfer =
        work!(book, s.name("rivet.chamfer"), |filled, thick| join::chamfer(filled, thick), &join::RIVET);
    w.chamfer = Some(chamfer);
    let stress = proof(s.inner, s.name("rivet.proof"), book);
    let clamp = work!(
        book,
        s.name("rivet.clamp"),
        |stress, seat, bore| join::clamp(stress, seat, bore),
        &join::RIVET
    );
    let wide =
        book.assumed(s.name("rivet.nick"), Length::mm(0.5), "house default: width of each of two nicks");
    let nicks = work!(
        book,
        s.name("rivet.nicks"),
        |stress, wide, over, seat| join::nicks(stress, wide, over, seat),
        &join::RIVET
    );
    w.holds = Some(work!(book, s.name("rivet.holds"), |clamp, nicks| clamp + nicks, &join::RIVET));
    if s.inner.common.material.kind != tables::material::Kind::Brass {
        w.against = Some(format!("the {} does not spread without cracking", s.inner.common.material.name));
    } else if s.most.bare() > w.way.gap().1 + Length::mm(0.03) {
        w.against = Some(format!("the seat is loose by {}: it would sit askew", s.most.shown()));
    }
    w.good = ", cold, and can be driven off and set again".to_owned();
}
fn press(s: &Seat<'_>, w: &mut Weighed, book: &mut Book) {
    let (d, around, long) = (s.joint.shaft.nominal, s.joint.around, s.joint.length);
    if around.bare() <= d.bare() + Length::mm(0.4) {
        w.against = Some("too little metal stands round the hole".to_owned());
        return;
    }
    // As drawn, where it is drawn to be pressed; else what a press would want is told.
    let (loosest, tightest) = (s.most, s.least);
    let drawn = s.middle.bare() < Length::ZERO;
    let rough = book.assumed(
        s.name("press.rough"),
        Length::mm(0.003),
        "house default: height of the turned and reamed roughness of each",
    );
    let tight = work!(book, s.name("press.tightest"), |tightest| -tightest, &GEOMETRY);
    let tight_left = work!(
        book,
        s.name("press.tightest_left"),
        |tight, rough| join::smoothed(tight, rough, rough),
        &join::SMOOTHED
    );
    let loose = work!(
        book,
        s.name("press.loosest"),
        |loosest, rough| join::smoothed(-loosest, rough, rough),
        &join::SMOOTHED
    );
    let m = (s.outer.common.material, s.inner.common.material);
    let hub = m.0.youngs.tabled(book, s.name("press.hub.modulus"), m.0.row("modulus"));
    let hub_nu = m.0.poisson.tabled(book, s.name("press.hub.poisson"), m.0.row("Poisson's ratio"));
    let round = m.1.youngs.tabled(book, s.name("press.round.modulus"), m.1.row("modulus"));
    let round_nu = m.1.poisson.tabled(book, s.name("press.round.poisson"), m.1.row("Poisson's ratio"));
    let most = work!(
        book,
        s.name("press.pressure_most"),
        |tight_left, d, around, hub, hub_nu, round, round_nu| join::press(
            tight_left,
            d,
            around,
            (hub, hub_nu),
            (round, round_nu)
        ),
        &join::PRESS
    );
    let least = work!(
        book,
        s.name("press.pressure_least"),
        |loose, d, around, hub, hub_nu, round, round_nu| join::press(
            loose,
            d,
            around,
            (hub, hub_nu),
            (round, round_nu)
        ),
        &join::PRESS
    );
    let rubs = book.tabled(
        s.name("press.friction"),
        Ratio::si(0.12),
        "steel in brass, pressed dry or nearly",
        &join::PRESS,
    );
    let force = work!(
        book,
        s.name("press.force"),
        |most, d, long, rubs| join::on_cylinder(most, d, long) * rubs.value(),
        &join::PRESS
    );
    w.holds = Some(work!(
        book,
        s.name("press.holds"),
        |least, d, long, rubs| join::turning(join::on_cylinder(least, d, long) * rubs.value(), d),
        &join::PRESS
    ));
    let hoop = work!(
        book,
        s.name("press.hoop"),
        |most, d, around| most * join::ring_factor(d, around).value(),
        &join::HOOP
    );
    let yields = proof(s.outer, s.name("press.proof"), book);
    w.force = Some((tight, force));
    w.good = format!(", pressed with {} at the most", force.shown());
    // What it could be pressed with: from what holds to what the ring stands.
    let need = s.need;
    let holding = work!(
        book,
        s.name("press.pressure_needed"),
        |need, d, long, rubs| join::pressure_for(need, d, long, rubs),
        &join::PRESS
    );
    let allowed = work!(
        book,
        s.name("press.pressure_allowed"),
        |yields, d, around| yields * 0.8 / join::ring_factor(d, around).value(),
        &join::HOOP
    );
    let at_least = work!(
        book,
        s.name("press.interference_least"),
        |holding, d, around, hub, hub_nu, round, round_nu, rough| join::interference(
            holding,
            d,
            around,
            (hub, hub_nu),
            (round, round_nu)
        ) + rough * 1.6,
        &join::PRESS
    );
    let at_most = work!(
        book,
        s.name("press.interference_most"),
        |allowed, d, around, hub, hub_nu, round, round_nu, rough| join::interference(
            allowed,
            d,
            around,
            (hub, hub_nu),
            (round, round_nu)
        ) + rough * 1.6,
        &join::PRESS
    );
    let wants =
        format!("it wants an interference of {} to hold and stands {}", at_least.shown(), at_most.shown());
    if at_least.bare() > at_most.bare() {
        w.against = Some(format!("the ring gives way before it holds: {wants}"));
    } else if !drawn {
        w.against = Some(format!("drawn to slide, with {} of play: {wants}", s.middle.shown()));
    } else if hoop.bare() > yields.bare() * 0.8 + Pressure::n_per_mm2(1e-3) {
        w.against = Some(format!(
            "the ring would be stressed to {} of {}: {wants}, and is drawn with {} at the most",
            hoop.shown(),
            yields.shown(),
            tight.shown()
        ));
    }
}
/// Adhesive, solders, shellac: shear all over the seat.
fn bond(s: &Seat<'_>, w: &mut Weighed, book: &mut Book) {
    let way = w.way;
    let (d, long) = (s.joint.shaft.nominal, s.joint.length);
    let tail = reckon::slug(way.word());
    if let Some(shear) = counted(s, way, book) {
        w.holds = Some(work!(
            book,
            s.name(&format!("{tail}.holds")),
            |shear, d, long| join::turning(join::on_cylinder(shear, d, long), d),
            &join::SHEAR
        ));
    }
    if let Some(heat) = way.heat() {
        w.heat =
            Some(book.tabled(s.name(&format!("{tail}.heat")), heat, way.word().to_owned(), &join::HEATS));
    }
    let (least, most) = way.gap();
    let brass = |p: &movement::part::Part| p.common.material.kind == tables::material::Kind::Brass;
    if let Some((limit, whose)) = &s.spoiled
        && too_hot(way, limit.bare())
    {
        w.against = Some(format!(
            "needs {}; the {whose} bears {} before it softens",
            way.heat().map_or_else(String::new, |h| reckon::Shown::shown(&h)),
            limit.shown()
        ));
    } else if way == Way::SilverSolder && (brass(s.outer) || brass(s.inner)) {
        w.against = Some(
            "its heat leaves hard brass soft: only before teeth are cut, on metal that may be soft"
                .to_owned(),
        );
    } else if s.middle.bare() < least - Length::mm(1e-6) {
        w.against = Some(format!("wants {} of play on the diameter, here {}", takes(way), s.middle.shown()));
    } else if s.most.bare() > most + Length::mm(1e-6) {
        w.against = Some(format!(
            "fills {} at the most, the seat may be loose by {}",
            reckon::Shown::shown(&most),
            s.most.shown()
        ));
    }
    w.good = match way {
        Way::Adhesive => ", cold; warmed it lets go".to_owned(),
        Way::SoftSolder => ", at little heat; its flux has to be washed off to the last trace".to_owned(),
        _ => String::new(),
    };
}
