//! What may drive and what may be driven.

use super::flank::{self, Piece};
use crate::curve::{Form, Lantern, Leaf, Wheel};
use crate::involute::Involute;

/// A wheel or pinion that drives.
#[derive(Clone, Debug, PartialEq)]
pub enum Driver {
    /// A wheel with formed teeth. A pinion that is cut to drive is one too, made for the leaves (teeth)
    /// of the larger wheel.
    Wheel(Wheel),
    /// A pinion with radial leaves.
    Leaf(Leaf),
    /// Involute teeth.
    Involute(Involute),
}

impl Driver {
    /// Number of teeth.
    #[must_use]
    pub fn teeth(&self) -> u32 {
        match self {
            Driver::Wheel(w) => w.teeth(),
            Driver::Leaf(l) => l.leaves(),
            Driver::Involute(i) => i.teeth(),
        }
    }
    /// Radius of the tip.
    #[must_use]
    pub fn tip_radius(&self) -> f64 {
        match self {
            Driver::Wheel(w) => w.tip_radius(),
            Driver::Leaf(l) => l.tip_radius(),
            Driver::Involute(i) => i.tip_radius().min(i.point_radius()),
        }
    }
    pub(super) fn pitch_radius(&self) -> f64 {
        f64::from(self.teeth()) / 2.0
    }
    pub(super) fn half_at_pitch(&self) -> f64 {
        match self {
            Driver::Wheel(w) => w.pitch_half_angle(),
            Driver::Leaf(l) => l.pitch_half_angle(),
            Driver::Involute(i) => i.tooth() / 2.0 / i.pitch_radius(),
        }
    }
    pub(super) fn root_radius(&self) -> f64 {
        match self {
            Driver::Wheel(w) => w.root_radius(),
            Driver::Leaf(l) => l.root_radius(),
            Driver::Involute(i) => i.root_radius(),
        }
    }
    /// How far the driven tooth's axis stands past the line of centres when the driver's pitch point lies on
    /// it, as a turn of the driver: a lantern's pin counts by its centre, a leaf by its flank.
    pub(super) fn ahead(&self) -> f64 {
        match self {
            Driver::Wheel(w) => match w.form() {
                Form::Lantern { pin_radius, .. } => pin_radius / w.pitch_radius(),
                _ => 0.0,
            },
            _ => 0.0,
        }
    }
    pub(super) fn flank(&self) -> Vec<Piece> {
        match self {
            Driver::Wheel(w) => flank::of_wheel(w),
            Driver::Leaf(l) => flank::of_leaf(l),
            Driver::Involute(i) => flank::of_involute(i),
        }
    }
}

/// A wheel or pinion that is driven.
#[derive(Clone, Debug, PartialEq)]
pub enum Driven {
    /// A pinion with radial leaves.
    Leaf(Leaf),
    /// A lantern pinion.
    Lantern(Lantern),
    /// A wheel that a pinion drives.
    Wheel(Wheel),
    /// Involute teeth.
    Involute(Involute),
}

impl Driven {
    /// Number of teeth.
    #[must_use]
    pub fn teeth(&self) -> u32 {
        match self {
            Driven::Leaf(l) => l.leaves(),
            Driven::Lantern(l) => l.pins(),
            Driven::Wheel(w) => w.teeth(),
            Driven::Involute(i) => i.teeth(),
        }
    }
    /// Pitch radius, z/2.
    #[must_use]
    pub fn pitch_radius(&self) -> f64 {
        f64::from(self.teeth()) / 2.0
    }
    /// Radius of the tip.
    #[must_use]
    pub fn tip_radius(&self) -> f64 {
        match self {
            Driven::Leaf(l) => l.tip_radius(),
            Driven::Lantern(l) => l.tip_radius(),
            Driven::Wheel(w) => w.tip_radius(),
            Driven::Involute(i) => i.tip_radius().min(i.point_radius()),
        }
    }
    /// Radius of the bottom of the spaces; a lantern has none short of its middle.
    pub(super) fn root_radius(&self) -> f64 {
        match self {
            Driven::Leaf(l) => l.root_radius(),
            Driven::Lantern(_) => 0.0,
            Driven::Wheel(w) => w.root_radius(),
            Driven::Involute(i) => i.root_radius(),
        }
    }
    pub(super) fn half_at_pitch(&self) -> f64 {
        match self {
            Driven::Leaf(l) => l.pitch_half_angle(),
            Driven::Lantern(l) => l.pitch_half_angle(),
            Driven::Wheel(w) => w.pitch_half_angle(),
            Driven::Involute(i) => i.tooth() / 2.0 / i.pitch_radius(),
        }
    }
    /// Half-angle at a distance from the centre; nothing where there is no metal. Below its root a flank
    /// runs on straight, so that a tooth which bottoms is still seen to push.
    pub(super) fn half_at(&self, rho: f64) -> Option<f64> {
        match self {
            Driven::Leaf(l) if rho <= l.pitch_radius() => Some(l.pitch_half_angle()),
            Driven::Leaf(l) => l.half_angle(rho),
            Driven::Lantern(l) => l.half_angle(rho),
            Driven::Wheel(w) if rho <= w.radial_to() => Some(w.pitch_half_angle()),
            Driven::Wheel(w) => w.half_angle(rho),
            Driven::Involute(i) if rho <= i.base_radius() => Some(i.base_half_angle()),
            Driven::Involute(i) => i.half_angle(rho.max(i.root_radius())),
        }
    }
}
