//! What the escapement does to the pendulum: for each pallet, how far the wheel stands and how hard it pushes at
//! every angle. Drawn outlines become this; so do textbook escapements.
//!
//! Each pallet counts the pendulum's angle in its own sense: nothing in the middle, positive towards where it
//! lets its tooth go. The other pallet's angle is the same with the sign turned.

use crate::poly::Poly;
use crate::series::Oscillator;
use reckon::maths;

/// A stretch of a pallet's face.
#[derive(Clone, PartialEq, Debug)]
pub struct Piece {
    /// From this angle on.
    pub from: f64,
    /// Up to this.
    pub to: f64,
    /// Turn of the wheel while a tooth stands on it.
    pub turn: Poly,
    /// Torque on the pendulum, in the pallet's sense, for one of the wheel, as the angle grows.
    pub onward: Poly,
    /// The same as the angle shrinks.
    pub back: Poly,
}
impl Piece {
    /// A face about the pallets' arbor: the wheel stands still, and rubs.
    #[must_use]
    pub fn dead(from: f64, to: f64, turn: f64, rubs: f64) -> Piece {
        Piece {
            from,
            to,
            turn: Poly::constant(turn),
            onward: Poly::constant(-rubs),
            back: Poly::constant(rubs),
        }
    }
    /// Whether the wheel stands still on it.
    #[must_use]
    pub fn still(&self) -> bool {
        self.turn.degree() == 0
    }
}
/// A pallet: its faces by rising angle, the last ends where the tooth is let go.
#[derive(Clone, PartialEq, Debug)]
pub struct Pallet {
    /// Faces, each beginning where the last ends.
    pub pieces: Vec<Piece>,
}
impl Pallet {
    /// Where the tooth is let go.
    #[must_use]
    pub fn lets_off(&self) -> f64 {
        self.pieces.last().map_or(0.0, |p| p.to)
    }
    /// Furthest swing that the faces reach.
    #[must_use]
    pub fn reach(&self) -> f64 {
        self.pieces.first().map_or(0.0, |p| p.from)
    }
    /// The face at an angle; the later one at a border.
    #[must_use]
    pub fn piece(&self, x: f64) -> Option<usize> {
        self.pieces.iter().rposition(|p| x >= p.from && x <= p.to)
    }
}
/// Which pallet.
#[derive(Copy, Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Side {
    /// The first that a tooth meets.
    Entry,
    /// The other.
    Exit,
}
impl Side {
    /// The other.
    #[must_use]
    pub const fn other(self) -> Side {
        match self {
            Side::Entry => Side::Exit,
            Side::Exit => Side::Entry,
        }
    }
    /// A word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Side::Entry => "entry",
            Side::Exit => "exit",
        }
    }
    pub(crate) const fn index(self) -> usize {
        match self {
            Side::Entry => 0,
            Side::Exit => 1,
        }
    }
}
/// Pendulum and escapement together.
#[derive(Clone, PartialEq, Debug)]
pub struct Works {
    /// The pendulum.
    pub swing: Oscillator,
    /// Entry, exit.
    pub pallets: [Pallet; 2],
    /// What is added to the turns of the other pallet so that they follow on from this one's.
    pub ahead: [f64; 2],
    /// Moment of inertia of the escape wheel with the train behind it, as it is felt at its arbor (kg m²).
    pub wheel: f64,
}
impl Works {
    /// A pallet.
    #[must_use]
    pub fn pallet(&self, side: Side) -> &Pallet {
        &self.pallets[side.index()]
    }
    /// Torque at the escape arbor that keeps an arc up, when the escapement passes `share` of the power on.
    #[must_use]
    pub fn torque_at(&self, arc: f64, share: f64) -> f64 {
        let s = &self.swing;
        // What a free half swing loses: π/2 · c ω A² in proportion, 4/3 · b ω² A³ with the square.
        let w = s.frequency();
        let lost =
            maths::PI / 2.0 * s.viscous * w * arc * arc + 4.0 / 3.0 * s.square * w * w * arc * arc * arc;
        2.0 * lost / (share * self.pitch())
    }
    /// What is pushed on is lessened to a share; what is pushed back costs as much more. Dead faces stay as they are.
    #[must_use]
    pub fn passing(&self, share: f64) -> Works {
        let mut w = self.clone();
        for piece in w.pallets.iter_mut().flat_map(|p| &mut p.pieces).filter(|p| !p.still()) {
            piece.onward.terms.iter_mut().for_each(|t| *t *= share);
            piece.back.terms.iter_mut().for_each(|t| *t /= share);
        }
        w
    }
    /// Turn of the wheel in two beats.
    #[must_use]
    pub fn pitch(&self) -> f64 {
        self.ahead[0] + self.ahead[1]
    }
    /// A dead-beat escapement of even strength: both pallets alike.
    #[must_use]
    pub fn even(swing: Oscillator, of: &Even) -> Works {
        let pushes = Piece {
            from: -of.unlocks,
            to: of.lets_off,
            turn: Poly::line(-of.unlocks, 0.0, of.ratio),
            onward: Poly::constant(of.ratio * of.efficiency),
            back: Poly::constant(of.ratio / of.efficiency),
        };
        let pallet = Pallet { pieces: vec![Piece::dead(-of.reach, -of.unlocks, 0.0, of.rubs), pushes] };
        let ahead = of.ratio * (of.unlocks + of.lets_off) + of.drop;
        Works { swing, pallets: [pallet.clone(), pallet], ahead: [ahead, ahead], wheel: of.wheel }
    }
}
/// A dead-beat escapement in few figures; radians.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Even {
    /// Unlocks so much before the middle.
    pub unlocks: f64,
    /// Lets off so much past it.
    pub lets_off: f64,
    /// Turn of the wheel for one of the pallets.
    pub ratio: f64,
    /// Part of the torque that friction on the impulse face leaves.
    pub efficiency: f64,
    /// Friction on the dead face: torque on the pallets for one of the wheel.
    pub rubs: f64,
    /// Free turn of the wheel.
    pub drop: f64,
    /// Inertia at the escape arbor (kg m²).
    pub wheel: f64,
    /// Furthest swing that the dead faces reach.
    pub reach: f64,
}
