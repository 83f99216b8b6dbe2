//! The movement as decided: what every later step works from.

use reckon::exact::Fraction;
use reckon::{Angle, Count, Diameter, Length, Ratio, Time, Val};
use record::facts::{Arbor, LeafTop, Size, ToothForm};
use std::collections::BTreeSet;
use tables::material::Material;

/// An arbor in the train.
#[derive(Clone, Debug)]
pub struct TrainArbor {
    /// As written.
    pub facts: Arbor,
    /// The mesh that drives it, by its place in [`Train::meshes`].
    pub driven: Option<usize>,
    /// The meshes that it drives.
    pub drives: Vec<usize>,
    /// Time of one turn.
    pub turn: Option<Val<Time>>,
    /// The same in seconds, exactly.
    pub exact: Option<Fraction>,
    /// Whether it turns clockwise, seen from the dial.
    pub clockwise: Option<bool>,
}
/// A wheel and the pinion it drives.
#[derive(Clone, Debug)]
pub struct Mesh {
    /// Dotted prefix in the book: the wheel's, such as `centre.wheel`.
    pub slug: String,
    /// Arbor of the wheel.
    pub driver: usize,
    /// Arbor of the pinion; none where the pinion is no part of the project.
    pub driven: Option<usize>,
    /// Teeth of the wheel.
    pub teeth: Val<Count>,
    /// Leaves of the pinion.
    pub leaves: Val<Count>,
    /// Sizes; none where the module is not known.
    pub sizes: Option<MeshSizes>,
    /// Distance of centres as laid out on the plates.
    pub laid: Option<Val<Length>>,
}
/// A pair's sizes.
#[derive(Clone, Debug)]
pub struct MeshSizes {
    /// Module.
    pub module: Val<Length>,
    /// Form of the wheel's teeth.
    pub form: ToothForm,
    /// Top of the leaves.
    pub top: LeafTop,
    /// Whether the pinion is a lantern.
    pub lantern: bool,
    /// Diameter of its pins.
    pub pin: Option<Val<Diameter>>,
    /// Centre distance as the sizes give it: for the teeth as they are, where the wheel was measured.
    pub centres: Val<Length>,
    /// How much nearer to its axis than drawn the wheel's teeth sit, where it was measured.
    pub sits: Option<Val<Length>>,
    /// The wheel.
    pub wheel: Toothed,
    /// The pinion.
    pub pinion: Toothed,
    /// What happens where they meet.
    pub contact: Option<Contact>,
}
/// A wheel or pinion.
#[derive(Clone, Debug)]
pub struct Toothed {
    /// Teeth or leaves.
    pub count: Val<Count>,
    /// Pitch diameter.
    pub pitch: Val<Diameter>,
    /// Over the tips.
    pub outside: Val<Diameter>,
    /// At the roots.
    pub root: Val<Diameter>,
    /// Depth to cut from a true outside.
    pub depth: Val<Length>,
    /// Whole outline about its own centre, millimetres; a tooth stands on the x axis.
    pub outline: shape::profile::Profile,
}
/// What happens where a wheel and a pinion meet; see [`teeth`].
#[derive(Copy, Clone, Debug)]
pub struct Contact {
    /// Where a tooth takes over, as an angle of the wheel: negative before the line of centres.
    pub start: Val<Angle>,
    /// Error of the pinion's place, peak to peak.
    pub error: Val<Angle>,
    /// Mean efficiency at the likely friction.
    pub efficiency: Val<Ratio>,
    /// Efficiency at the highest and lowest friction.
    pub efficiency_range: (Val<Ratio>, Val<Ratio>),
    /// Least torque passed on, as a part of the ideal.
    pub least_torque: Val<Ratio>,
    /// Distance of centres to plant it at: the least error of motion.
    pub set: Val<Length>,
    /// Distance that feels smoothest in a depthing tool.
    pub felt: Val<Length>,
    /// Nearest and farthest distance at which it runs.
    pub runs: (Val<Length>, Val<Length>),
    /// How it behaves at its distance, for the bench.
    pub says: &'static str,
}
/// The train.
#[derive(Clone, Debug)]
pub struct Train {
    /// Arbors: a driver stands before what it drives.
    pub arbors: Vec<TrainArbor>,
    /// Pairs.
    pub meshes: Vec<Mesh>,
    /// The arbor that turns once an hour.
    pub minute: Option<usize>,
    /// The escape arbor.
    pub escape: Option<usize>,
    /// The pallets' arbor.
    pub pallets: Option<usize>,
    /// The arbor that the drive turns.
    pub first: Option<usize>,
    /// Beats in an hour as the train gives them.
    pub beats: Option<Val<Ratio>>,
    /// The same exactly.
    pub exact_beats: Option<Fraction>,
    /// Pairs whose counts are told to be wrong: what follows from those counts is not told as well.
    pub doubted: BTreeSet<usize>,
    /// Time of one beat.
    pub beat: Option<Val<Time>>,
}
impl Train {
    /// The arbor of a name.
    #[must_use]
    pub fn named(&self, name: &str) -> Option<usize> {
        let slug = reckon::slug(name);
        self.arbors.iter().position(|a| a.facts.name == name || a.facts.slug == slug)
    }
}
/// A wheel that is not on an arbor of the train: motion work, an escape wheel, a ratchet.
#[derive(Clone, Debug)]
pub struct Loose {
    /// Name on its sheet.
    pub name: String,
    /// Dotted prefix.
    pub slug: String,
    /// Its teeth.
    pub toothed: Toothed,
    /// Thickness.
    pub thickness: Size<Length>,
    /// Material.
    pub material: &'static Material,
}
