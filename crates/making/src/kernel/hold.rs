//! Does the work slip, pull out or walk out of the jaws?
//!
//! The model: jaws push with a total force F over a grip of diameter d and length l.
//! Turning and pulling share one friction circle; the cut also tips the work about the
//! middle of the grip, and where the jaw mouth begins to gap each half turn the work
//! walks out however large the friction. Force and friction are guesses until the shop
//! has measured its chuck.

use super::greatest;
use reckon::{Angle, Diameter, Force, Length, Pressure, Radius, Ratio, Source, Torque, maths};

/// Friction of jaws.
pub static FRICTION: Source =
    Source::read("chuck manual, clamping chapter with the coefficients of VDI 3106, table of friction");
/// Safety on the grip.
pub static SAFETY: Source = Source::read(
    "chuck manual, clamping chapter: 2.0 for a new chuck, 2.4 for an older one, doubled when the unfavourable pile up",
);
/// The model of slipping, tipping and walking.
pub static GRIP: Source = Source::derived("friction circle and tipping of a short grip; not measured")
    .with_formula("u = √(T² + A²)/(µF) + max(0, M − M_n)/(K µ F d), M_n = K F l/3, M_ult = K F (l + µ d)");
/// How a round grip shares a tipping moment.
pub static SHARE: Source = Source::derived("half of the least mean |cos| over the turning of the load")
    .with_formula("K = ½ min mean |cos|");
/// Grip from the torque on the key.
pub static KEY: Source =
    Source::derived("work put into the key less friction; efficiency 0.2 to 0.3 from memory")
        .with_formula("F = 2π i η T/p");
/// Collet as a wedge.
pub static COLLET: Source =
    Source::derived("wedge with friction").with_formula("F = draw / tan(half angle + friction angle)");
/// Thin ring squeezed by jaws.
pub static RING: Source =
    Source::derived("thin ring under equal radial loads; Castigliano and the differential equation agree")
        .with_formula(
            "inward = N r³/(4EI) [(t + s c)/s² − 2/t], outward = N r³/(4EI) [2/t − 1/s − t c/s²], t = π/n",
        );

/// Gripping faces of the jaws.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Jaws {
    /// Smooth.
    Smooth,
    /// Cut with a pattern of points.
    Diamond,
    /// Serrated.
    Serrated,
}
/// Skin of the work where it is held.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Skin {
    /// Finish turned or ground.
    Fine,
    /// Machined, rough to medium.
    Machined,
    /// As rolled, drawn or cast.
    Raw,
}
/// Jaw faces with the words they are asked by.
pub static JAWS: [(&str, Jaws); 3] =
    [("smooth", Jaws::Smooth), ("diamond", Jaws::Diamond), ("serrated", Jaws::Serrated)];
/// Skins with the words they are asked by.
pub static SKINS: [(&str, Skin); 3] =
    [("fine", Skin::Fine), ("machined", Skin::Machined), ("raw", Skin::Raw)];
/// Factor on the friction of steel, by metal.
pub static METAL_FACTORS: [(&str, f64); 4] =
    [("steel", 1.0), ("aluminium", 0.95), ("brass", 0.90), ("cast iron", 0.80)];
/// Friction of steel in jaws.
#[must_use]
pub fn steel_friction(jaws: Jaws, skin: Skin) -> Ratio {
    Ratio::si(match (skin, jaws) {
        (Skin::Fine, Jaws::Smooth) => 0.07,
        (Skin::Fine, Jaws::Diamond) => 0.12,
        (Skin::Fine, Jaws::Serrated) | (Skin::Machined, Jaws::Diamond) => 0.20,
        (Skin::Machined, Jaws::Smooth) => 0.10,
        (Skin::Machined, Jaws::Serrated) => 0.35,
        (Skin::Raw, Jaws::Smooth) => 0.15,
        (Skin::Raw, Jaws::Diamond) => 0.30,
        (Skin::Raw, Jaws::Serrated) => 0.45,
    })
}
/// Factor of a metal on [`steel_friction`]; `None` for a metal that the table does not have.
#[must_use]
pub fn metal_factor(metal: &str) -> Option<Ratio> {
    METAL_FACTORS.iter().find(|(m, _)| *m == metal).map(|(_, f)| Ratio::si(*f))
}
/// Safety that a cut is held with: 2.0, or 2.4 in a worn chuck; doubled when grip length is no more than its
/// diameter *and* there is no tailstock, a radial tool and no seat behind.
#[must_use]
pub fn safety(worn: bool, adverse: bool) -> Ratio {
    Ratio::si(if worn { 2.4 } else { 2.0 } * if adverse { 2.0 } else { 1.0 })
}

/// What touches the work.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Contact {
    /// So many equal jaws, two or more.
    Jaws(u32),
    /// All round: a collet, or soft jaws bored to size.
    AllRound,
}
/// K of the model: half of the least mean |cos| over the turning of the load.
///
/// The mean over n jaws is least with the load square to a jaw where n is even (or between, where it is odd);
/// it is searched over all positions where the kinks lie, so that it is exact.
#[must_use]
pub fn share(contact: Contact) -> Ratio {
    let Contact::Jaws(n) = contact else { return Ratio::si(1.0 / maths::PI) };
    let n = n.max(1);
    let step = 2.0 * maths::PI / f64::from(n);
    let mean =
        |turn: f64| (0..n).map(|i| maths::cos(turn + step * f64::from(i)).abs()).sum::<f64>() / f64::from(n);
    // Between kinks the mean is a piece of a cosine, hollow downward: the least value stands on a kink.
    let least = (0..n).map(|i| mean(maths::PI / 2.0 - step * f64::from(i))).fold(f64::INFINITY, f64::min);
    Ratio::si(least / 2.0)
}

/// How the work is held.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Grip {
    /// All jaws together, radially.
    pub force: Force,
    /// Friction.
    pub friction: Ratio,
    /// Diameter gripped.
    pub diameter: Diameter,
    /// Length gripped.
    pub length: Length,
    /// What touches it.
    pub contact: Contact,
}
/// What the cut does to it.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Load {
    /// Main force.
    pub main: Force,
    /// Force along the axis, as a share of the main force.
    pub along: Ratio,
    /// Radial force, as a share of the main force.
    pub radial: Ratio,
    /// Diameter cut.
    pub diameter: Diameter,
    /// From the jaw face to the tool.
    pub ahead: Length,
    /// A stop behind the work takes the force along the axis (only where that force runs towards the spindle).
    pub seated: bool,
    /// A tailstock pad holds the front: no tipping, and it gives the force along the axis.
    pub padded: bool,
}
/// How the grip stands to the load.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Hold {
    /// Turning, as a force at the gripped diameter.
    pub turning: Force,
    /// Along the axis.
    pub along: Force,
    /// All the friction there is.
    pub friction: Force,
    /// Tipping moment about the middle of the grip.
    pub tipping: Torque,
    /// Largest with the jaws closed on the work all along.
    pub closed: Torque,
    /// Largest there is.
    pub limit: Torque,
    /// Share of the grip that is used.
    pub used: Ratio,
    /// Sideways force is so large that a jaw would lose the work.
    pub pushed_off: bool,
}
impl Hold {
    /// Whether the jaw mouth gaps each half turn, so that the work walks out.
    #[must_use]
    pub fn walks(&self) -> bool {
        self.tipping > self.closed
    }
    /// Whether it is held with safety `s`.
    #[must_use]
    pub fn holds(&self, s: Ratio) -> bool {
        (self.used * s).value() <= 1.0 && !self.walks() && !self.pushed_off
    }
}
/// Largest tipping moment with the jaws closed on the work all along.
#[must_use]
pub fn closed_moment(grip: &Grip) -> Torque {
    share(grip.contact) * grip.force * grip.length / 3.0
}
/// Largest tipping moment there is.
#[must_use]
pub fn limit_moment(grip: &Grip) -> Torque {
    share(grip.contact) * grip.force * (grip.length + grip.diameter.across() * grip.friction)
}
/// Force across the axis: main and radial together.
#[must_use]
pub fn sideways(main: Force, radial: Ratio) -> Force {
    main * maths::hypot(1.0, radial.value())
}
/// Tipping moment about the middle of the grip, the tool `ahead` of the jaw face.
#[must_use]
pub fn tipping(sideways: Force, ahead: Length, grip_length: Length) -> Torque {
    sideways * (ahead + grip_length / 2.0)
}
/// Turning and pulling force as one, on the friction circle.
#[must_use]
pub fn together(turning: Force, along: Force) -> Force {
    Force::si(maths::hypot(turning.value(), along.value()))
}
/// Share of the grip that is used: the friction circle, and what tips beyond the closed grip borne by friction.
#[must_use]
pub fn used(grip: &Grip, turning: Force, along: Force, tipping: Torque) -> Ratio {
    let friction = grip.force * grip.friction;
    let over = (tipping - closed_moment(grip)).max(Torque::ZERO);
    let by_friction = share(grip.contact) * friction * grip.diameter.across();
    together(turning, along) / friction + over / by_friction
}
/// Judges a grip under a load.
#[must_use]
pub fn hold(grip: &Grip, load: &Load) -> Hold {
    let turning = load.main * (load.diameter / grip.diameter);
    let along = if load.seated || load.padded { Force::ZERO } else { load.main * load.along };
    let across = sideways(load.main, load.radial);
    let tips = if load.padded { Torque::ZERO } else { tipping(across, load.ahead, grip.length) };
    Hold {
        turning,
        along,
        friction: grip.force * grip.friction,
        tipping: tips,
        closed: closed_moment(grip),
        limit: limit_moment(grip),
        used: used(grip, turning, along, tips),
        pushed_off: across > grip.force / 2.0,
    }
}
/// Largest main force that the grip holds with safety `s`, to a millionth of the grip force, and the rounds of halving.
#[must_use]
pub fn greatest_main(grip: &Grip, load: &Load, s: Ratio) -> (Force, u32) {
    let top = grip.force.value();
    let fits = |main: f64| hold(grip, &Load { main: Force::si(main), ..*load }).holds(s);
    let (main, rounds) = greatest(0.0, top, top * 1e-9, fits);
    (Force::si(main), rounds)
}
/// How the grip stands to a drill: its torque, and as it breaks through 0.3 of its thrust the other way.
#[must_use]
pub fn drilled(grip: &Grip, torque: Torque, thrust: Force) -> Hold {
    let load = Load {
        main: torque / grip.diameter.radius(),
        along: Ratio::ZERO,
        radial: Ratio::ZERO,
        diameter: grip.diameter,
        ahead: Length::ZERO,
        seated: false,
        padded: true,
    };
    let bare = hold(grip, &load);
    let along = thrust * 0.3;
    Hold { along, used: together(bare.turning, along) / bare.friction, pushed_off: false, ..bare }
}

/// Force of all jaws of a scroll chuck: `bevel` turns of the key to one of the scroll, `lead` of the scroll.
#[must_use]
pub fn key_force(torque: Torque, bevel: Ratio, lead: Length, efficiency: Ratio) -> Force {
    2.0 * maths::PI * bevel * efficiency * torque / lead
}
/// Radial force of a collet from its axial draw.
#[must_use]
pub fn collet_force(draw: Force, half_angle: Angle, friction: Ratio) -> Force {
    draw / Angle::si(half_angle.value() + maths::atan(friction.value())).tan()
}

/// How a thin ring gives way under equal jaws.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Lobes {
    /// Inward under a jaw.
    pub inward: Length,
    /// Outward midway between two.
    pub outward: Length,
}
impl Lobes {
    /// Error of form, on radius, of a ring turned round in the chuck and let go.
    #[must_use]
    pub fn after_release(&self) -> Length {
        self.inward + self.outward
    }
}
/// Lobes of a thin ring of mean radius `mean`, held by `jaws` with force `total` together; `None` for fewer than two jaws.
#[must_use]
pub fn lobes(
    jaws: u32,
    total: Force,
    mean: Radius,
    wall: Length,
    width: Length,
    e: Pressure,
) -> Option<Lobes> {
    if jaws < 2 {
        return None;
    }
    let t = maths::PI / f64::from(jaws);
    let (s, c) = (maths::sin(t), maths::cos(t));
    let (r, w) = (mean.value(), wall.value());
    let i = width.value() * w * w * w / 12.0;
    let unit = total.value() / f64::from(jaws) * r * r * r / (4.0 * e.value() * i);
    Some(Lobes {
        inward: Length::si(unit * ((t + s * c) / (s * s) - 2.0 / t)),
        outward: Length::si(unit * (2.0 / t - 1.0 / s - t * c / (s * s))),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn washer(length: f64, force: f64) -> Grip {
        Grip {
            force: Force::si(force),
            friction: Ratio::si(0.09),
            diameter: Diameter::mm(16.0),
            length: Length::mm(length),
            contact: Contact::Jaws(3),
        }
    }
    fn cut(ahead: f64) -> Load {
        Load {
            main: Force::si(39.293_087),
            along: Ratio::si(0.4),
            radial: Ratio::si(0.3),
            diameter: Diameter::mm(16.0),
            ahead: Length::mm(ahead),
            seated: false,
            padded: false,
        }
    }
    #[test]
    fn shares_by_quadrature_over_all_turns() {
        for (contact, n) in
            [(Contact::Jaws(2), 2), (Contact::Jaws(3), 3), (Contact::Jaws(4), 4), (Contact::Jaws(6), 6)]
        {
            let mut least = f64::INFINITY;
            for k in 0..72_000 {
                let turn = f64::from(k) * maths::PI / 36_000.0;
                let sum: f64 = (0..n)
                    .map(|i| maths::cos(turn + 2.0 * maths::PI * f64::from(i) / f64::from(n)).abs())
                    .sum();
                least = least.min(sum / f64::from(n));
            }
            assert!((share(contact).value() - least / 2.0).abs() < 1e-9, "{contact:?}");
        }
        let all_round =
            (0..100_000).map(|k| maths::cos(f64::from(k) * maths::PI / 50_000.0).abs()).sum::<f64>() / 2e5;
        assert!((share(Contact::AllRound).value() - all_round).abs() < 1e-9);
    }
    #[test]
    fn greatest_cut_where_it_can_be_written_down() {
        let s = Ratio::si(2.4);
        for l in [1.0, 1.5, 2.0, 3.0, 5.0, 8.0] {
            for ahead in [3.0, 6.0, 10.0] {
                let (got, _) = greatest_main(&washer(l, 2000.0), &cut(ahead), s);
                let by_friction = 0.09 * 2000.0 / 2.4 / maths::hypot(1.0, 0.4);
                let k = maths::sqrt(3.0) / 6.0;
                let by_tipping = k * 2000.0 * l / 3.0 / (maths::hypot(1.0, 0.3) * (ahead + l / 2.0));
                assert!((got.value() - by_friction.min(by_tipping)).abs() < 1e-5, "{l} {ahead}");
            }
        }
    }
    #[test]
    fn a_pad_takes_tipping_and_thrust() {
        let bare = hold(&washer(1.5, 900.0), &cut(8.0));
        let padded = hold(&washer(1.5, 900.0), &Load { padded: true, ..cut(8.0) });
        assert!(bare.walks() && !padded.walks());
        assert!(padded.used < bare.used && padded.along == Force::ZERO);
        assert!(hold(&washer(30.0, 80.0), &cut(1.0)).pushed_off);
    }
    #[test]
    fn a_drill_that_breaks_through_pulls() {
        let g = washer(3.0, 1000.0);
        let h = drilled(&g, Torque::si(0.3), Force::si(100.0));
        assert!((h.turning.value() - 37.5).abs() < 1e-9);
        assert!((h.used.value() - maths::hypot(37.5, 30.0) / 90.0).abs() < 1e-9);
    }
    #[test]
    fn lobes_of_two_loads_agree_with_the_handbook_ring() {
        // Ring under two opposite loads: diameter shortens by 0.149 W r³/EI and widens by 0.137 W r³/EI.
        let l = lobes(
            2,
            Force::si(2.0),
            Radius::si(1.0),
            Length::si(0.1),
            Length::si(12_000.0),
            Pressure::si(1.0),
        )
        .unwrap();
        // E I = 1: each end moves by half.
        assert!((2.0 * l.inward.value() - 0.1488).abs() < 1e-4, "{l:?}");
        assert!((2.0 * l.outward.value() - 0.1366).abs() < 1e-4);
        assert_eq!(
            lobes(1, Force::si(2.0), Radius::si(1.0), Length::si(0.1), Length::si(1.0), Pressure::si(1.0)),
            None
        );
    }
}
