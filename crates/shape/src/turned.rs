//! Parts that come off a lathe: an outer profile, bores, and what is cut into them afterwards.
//!
//! Plain millimetres. The axis is z; z = 0 is the datum face and z grows into the part.

use crate::profile::{Profile, SAME, Segment};
use reckon::maths::tan;

pub use crate::outer::{Edge, Outer};

/// One end of a turned part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum End {
    /// The face where z begins.
    Datum,
    /// The face where z ends.
    Far,
}

/// One length of a bore, straight or tapered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoreStep {
    /// Diameter where the step begins, nearer the mouth.
    pub first: f64,
    /// Diameter where it ends.
    pub last: f64,
    /// Length along the axis.
    pub length: f64,
}

/// A hole on the axis, from one end.
#[derive(Clone, Debug, PartialEq)]
pub struct Bore {
    /// The end it is drilled from.
    pub end: End,
    /// Its steps from the mouth inwards; lengths are full-diameter lengths.
    pub steps: Vec<BoreStep>,
    /// Whether the last step runs on, straight, to the other end.
    pub through: bool,
    /// Included angle in radians of the cone the drill leaves at the bottom; none for a flat bottom.
    pub point: Option<f64>,
}

impl Bore {
    /// A straight hole right through.
    #[must_use]
    pub fn through(diameter: f64) -> Bore {
        let step = BoreStep { first: diameter, last: diameter, length: 0.0 };
        Bore { end: End::Datum, steps: vec![step], through: true, point: None }
    }
    /// A straight blind hole with a flat bottom.
    #[must_use]
    pub fn blind(end: End, diameter: f64, depth: f64) -> Bore {
        let step = BoreStep { first: diameter, last: diameter, length: depth };
        Bore { end, steps: vec![step], through: false, point: None }
    }
    /// The same with the cone of a drill of this included angle (radians) below the full depth.
    #[must_use]
    pub fn pointed(mut self, included: f64) -> Bore {
        self.point = Some(included);
        self
    }
    /// A countersink: from `diameter` at the mouth to nothing or to `to`, with an included angle in radians.
    #[must_use]
    pub fn countersink(end: End, diameter: f64, to: f64, included: f64) -> Bore {
        let length = (diameter - to) / 2.0 / tan(included / 2.0);
        Bore { end, steps: vec![BoreStep { first: diameter, last: to, length }], through: false, point: None }
    }
    /// Adds a straight step below those there are; of a bore that runs through, the last step runs on.
    #[must_use]
    pub fn then(mut self, diameter: f64, length: f64) -> Bore {
        self.steps.push(BoreStep { first: diameter, last: diameter, length });
        self
    }
    /// Depth of full steps and the cone below them, from the mouth.
    #[must_use]
    pub fn depth(&self) -> f64 {
        self.steps.iter().map(|s| s.length).sum::<f64>() + self.cone()
    }
    /// Height of the drill's cone.
    #[must_use]
    pub fn cone(&self) -> f64 {
        match (self.point, self.steps.last(), self.through) {
            (Some(angle), Some(s), false) => s.last / 2.0 / tan(angle / 2.0),
            _ => 0.0,
        }
    }
}

/// Outside or inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// On the outer profile.
    Outside,
    /// In a bore.
    Bore,
}

/// A length of screw thread.
#[derive(Clone, Debug, PartialEq)]
pub struct Thread {
    /// On the outside or in a bore.
    pub side: Side,
    /// Where full thread begins, z.
    pub from: f64,
    /// Where full thread ends, z; `from` < `to`.
    pub to: f64,
    /// Major diameter.
    pub major: f64,
    /// Minor diameter.
    pub minor: f64,
    /// Pitch.
    pub pitch: f64,
    /// Length of incomplete thread beyond the full thread, on the side away from the nearer end.
    pub run_out: f64,
    /// As the drawing names it.
    pub label: String,
}

/// Section of a groove in a face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Straight sides, flat floor.
    Square,
    /// A circular arc across the width; where deeper than half its width, a half circle under straight sides.
    Round,
    /// Two slopes meeting in the middle.
    Vee,
}

/// A ring cut into an end face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceGroove {
    /// The face.
    pub end: End,
    /// Diameter of the circle along the middle of the groove.
    pub diameter: f64,
    /// Width in the face.
    pub width: f64,
    /// Greatest depth.
    pub depth: f64,
    /// Section.
    pub form: Form,
}

impl FaceGroove {
    /// Depth below the face at a distance `off` from the middle of the groove.
    #[must_use]
    pub fn depth_at(&self, off: f64) -> f64 {
        let half = self.width / 2.0;
        let off = off.abs();
        if off > half {
            return 0.0;
        }
        match self.form {
            Form::Square => self.depth,
            Form::Vee => self.depth * (1.0 - off / half),
            Form::Round if self.depth >= half => {
                self.depth - half + (half * half - off * off).max(0.0).sqrt()
            }
            Form::Round => {
                let r = self.round_radius();
                (r * r - off * off).max(0.0).sqrt() - (r - self.depth)
            }
        }
    }
    /// Radius of a round groove's arc.
    #[must_use]
    pub fn round_radius(&self) -> f64 {
        let half = self.width / 2.0;
        if self.depth >= half { half } else { (half * half + self.depth * self.depth) / (2.0 * self.depth) }
    }
}

/// What is cut, pressed or milled into a turned part.
#[derive(Clone, Debug, PartialEq)]
pub enum Feature {
    /// A screw thread.
    Thread(Thread),
    /// A knurled length.
    Knurl {
        /// Where it begins, z.
        from: f64,
        /// Where it ends, z.
        to: f64,
        /// As the drawing names it.
        label: String,
    },
    /// A straight slot across an end face, for a screwdriver.
    Slot {
        /// The face.
        end: End,
        /// Width.
        width: f64,
        /// Depth from the face.
        depth: f64,
    },
    /// A ring cut into a face.
    FaceGroove(FaceGroove),
    /// A shallow recess in the middle of a face, so that only a rim bears.
    Relief {
        /// The face.
        end: End,
        /// Diameter of the recess.
        diameter: f64,
        /// Depth from the face.
        depth: f64,
    },
    /// A hole square across the axis, right through.
    CrossHole {
        /// Its centre, z.
        z: f64,
        /// Its diameter.
        diameter: f64,
    },
    /// Flats round the axis: one is a D, two a spanner's, six a hexagon.
    Flats {
        /// Where they begin, z.
        from: f64,
        /// Where they end, z.
        to: f64,
        /// Twice the distance from the axis to a flat: for an even count the size across flats.
        across: f64,
        /// How many, evenly round.
        count: u32,
    },
    /// Teeth or leaves cut along the axis into a cylinder as high as their tips.
    Leaves {
        /// Where they begin, z.
        from: f64,
        /// Where they end, z.
        to: f64,
        /// Outline seen along the axis, closed, round the origin.
        section: Profile,
        /// Radius at their roots, for the side view.
        root: f64,
    },
}

/// A solid of revolution with what is cut into it.
#[derive(Clone, Debug, PartialEq)]
pub struct Turned {
    /// Outer profile in (z, r), z never falling; the end faces down to the axis are implied.
    pub outer: Profile,
    /// Bores.
    pub bores: Vec<Bore>,
    /// All else, numbered in this order in what goes wrong.
    pub features: Vec<Feature>,
}

/// A straight piece of the hollow round the axis: a frustum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frustum {
    /// Begins at z.
    pub z0: f64,
    /// Radius there.
    pub r0: f64,
    /// Ends at z.
    pub z1: f64,
    /// Radius there.
    pub r1: f64,
}

impl Frustum {
    /// Radius at z, as if the piece ran on.
    #[must_use]
    pub fn radius(&self, z: f64) -> f64 {
        self.r0 + (self.r1 - self.r0) * (z - self.z0) / (self.z1 - self.z0)
    }
}

impl Turned {
    /// A part with an outer profile and nothing else.
    #[must_use]
    pub fn new(outer: Profile) -> Turned {
        Turned { outer, bores: Vec::new(), features: Vec::new() }
    }
    /// A part of plain cylinders, each (diameter, length), from the datum face on.
    #[must_use]
    pub fn stepped(steps: &[(f64, f64)]) -> Turned {
        let mut outer = Outer::new();
        for &(diameter, length) in steps {
            outer = outer.step(diameter, length);
        }
        Turned::new(outer.profile())
    }
    /// Adds a bore.
    #[must_use]
    pub fn bored(mut self, bore: Bore) -> Turned {
        self.bores.push(bore);
        self
    }
    /// Adds a feature.
    #[must_use]
    pub fn with(mut self, feature: Feature) -> Turned {
        self.features.push(feature);
        self
    }
    /// Where z begins.
    #[must_use]
    pub fn first(&self) -> f64 {
        self.outer.begin().x
    }
    /// Where z ends.
    #[must_use]
    pub fn last(&self) -> f64 {
        self.outer.end().x
    }
    /// Length over all.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.last() - self.first()
    }
    /// Largest diameter.
    #[must_use]
    pub fn largest_diameter(&self) -> f64 {
        self.outer.bounds().y1 * 2.0
    }
    /// z of a face.
    #[must_use]
    pub fn face(&self, end: End) -> f64 {
        match end {
            End::Datum => self.first(),
            End::Far => self.last(),
        }
    }
    /// +1 where going deeper from the face raises z, else −1.
    #[must_use]
    pub fn inward(end: End) -> f64 {
        match end {
            End::Datum => 1.0,
            End::Far => -1.0,
        }
    }
    /// Least and greatest outer radius at z (they differ at a shoulder); none beyond the ends.
    #[must_use]
    pub fn radii_at(&self, z: f64) -> Option<(f64, f64)> {
        let mut found: Option<(f64, f64)> = None;
        let mut note = |r: f64| {
            found = Some(found.map_or((r, r), |(a, b)| (a.min(r), b.max(r))));
        };
        for s in self.outer.segments() {
            let b = s.bounds();
            if z < b.x0 - SAME || z > b.x1 + SAME {
                continue;
            }
            match *s {
                Segment::Line { from, to } if (to.x - from.x).abs() <= SAME => {
                    note(from.y);
                    note(to.y);
                }
                Segment::Line { from, to } => {
                    let t = ((z - from.x) / (to.x - from.x)).clamp(0.0, 1.0);
                    note(from.y + (to.y - from.y) * t);
                }
                Segment::Arc { .. } => {
                    for end in [s.from(), s.to()] {
                        if (end.x - z).abs() <= SAME {
                            note(end.y);
                        }
                    }
                    let upright = Segment::Line {
                        from: kurbo::Point::new(z, b.y0 - 1.0),
                        to: kurbo::Point::new(z, b.y1 + 1.0),
                    };
                    for p in s.meets(&upright) {
                        note(p.y);
                    }
                }
            }
        }
        found
    }
    /// Greatest outer radius at z; 0 beyond the ends.
    #[must_use]
    pub fn radius_at(&self, z: f64) -> f64 {
        self.radii_at(z).map_or(0.0, |(_, b)| b)
    }
    /// Outer radius of the end face.
    #[must_use]
    pub fn face_radius(&self, end: End) -> f64 {
        match end {
            End::Datum => self.outer.begin().y,
            End::Far => self.outer.end().y,
        }
        .max(self.face_line(end))
    }
    /// Radius up to which the profile runs square to the axis at an end.
    fn face_line(&self, end: End) -> f64 {
        let z = self.face(end);
        let on = |s: &&Segment| matches!(s, Segment::Line { from, to } if (from.x - z).abs() < SAME && (to.x - z).abs() < SAME);
        self.outer.segments().iter().filter(on).map(|s| s.from().y.max(s.to().y)).fold(0.0, f64::max)
    }
    /// How far in from an end the first shoulder is at which the outside becomes smaller; the whole length if
    /// there is none.
    #[must_use]
    pub fn head_length(&self, end: End) -> f64 {
        let line = match end {
            End::Datum => self.outer.clone(),
            End::Far => self.outer.reversed(),
        };
        let z = self.face(end);
        for s in line.segments() {
            let (a, b) = (s.from(), s.to());
            if (a.x - b.x).abs() < SAME && b.y < a.y - SAME && (a.x - z).abs() > SAME {
                return (a.x - z).abs();
            }
        }
        self.length()
    }
    /// The hollow of one bore, from its mouth inwards, ordered by rising z.
    #[must_use]
    pub fn bore_pieces(&self, bore: &Bore) -> Vec<Frustum> {
        let (mouth, inward) = (self.face(bore.end), Turned::inward(bore.end));
        let mut pieces = Vec::new();
        let mut depth = 0.0;
        let mut add = |depth: &mut f64, length: f64, first: f64, last: f64| {
            if length > SAME {
                let (a, b) = (mouth + inward * *depth, mouth + inward * (*depth + length));
                let (r0, r1) = (first / 2.0, last / 2.0);
                pieces.push(if inward > 0.0 {
                    Frustum { z0: a, r0, z1: b, r1 }
                } else {
                    Frustum { z0: b, r0: r1, z1: a, r1: r0 }
                });
                *depth += length;
            }
        };
        for s in &bore.steps {
            add(&mut depth, s.length, s.first, s.last);
        }
        if let Some(s) = bore.steps.last() {
            if bore.through {
                let rest = self.length() - depth;
                add(&mut depth, rest, s.last, s.last);
            } else {
                let cone = bore.cone();
                add(&mut depth, cone, s.last, 0.0);
            }
        }
        pieces.sort_by(|a, b| a.z0.total_cmp(&b.z0));
        pieces
    }
    /// All that is hollow round the axis, bores and reliefs together, ordered by z without overlap.
    #[must_use]
    pub fn hollow(&self) -> Vec<Frustum> {
        let mut all: Vec<Frustum> = self.bores.iter().flat_map(|b| self.bore_pieces(b)).collect();
        for f in &self.features {
            if let Feature::Relief { end, diameter, depth } = *f {
                let relief = Bore::blind(end, diameter, depth);
                all.extend(self.bore_pieces(&relief));
            }
        }
        let mut cuts: Vec<f64> = all.iter().flat_map(|p| [p.z0, p.z1]).collect();
        for (i, a) in all.iter().enumerate() {
            for b in &all[i + 1..] {
                let (sa, sb) = ((a.r1 - a.r0) / (a.z1 - a.z0), (b.r1 - b.r0) / (b.z1 - b.z0));
                if (sa - sb).abs() > 1e-12 {
                    let z = (b.r0 - sb * b.z0 - a.r0 + sa * a.z0) / (sa - sb);
                    if z > a.z0.max(b.z0) && z < a.z1.min(b.z1) {
                        cuts.push(z);
                    }
                }
            }
        }
        let (first, last) = (self.first(), self.last());
        cuts.iter_mut().for_each(|z| *z = z.clamp(first, last));
        cuts.sort_by(f64::total_cmp);
        cuts.dedup_by(|a, b| (*a - *b).abs() <= SAME);
        let mut union = Vec::new();
        for w in cuts.windows(2) {
            let middle = w[0].midpoint(w[1]);
            let widest = all
                .iter()
                .filter(|p| p.z0 <= middle && middle <= p.z1)
                .max_by(|a, b| a.radius(middle).total_cmp(&b.radius(middle)));
            if let Some(p) = widest {
                union.push(Frustum { z0: w[0], r0: p.radius(w[0]), z1: w[1], r1: p.radius(w[1]) });
            }
        }
        union
    }
    /// Greatest radius of the hollow at z; 0 where the part is solid.
    #[must_use]
    pub fn hollow_at(&self, z: f64) -> f64 {
        self.hollow()
            .iter()
            .filter(|p| p.z0 - SAME <= z && z <= p.z1 + SAME)
            .map(|p| p.radius(z.clamp(p.z0, p.z1)))
            .fold(0.0, f64::max)
    }
    /// Least metal between hollow and outside, measured square to the axis, and along it below a blind bore.
    ///
    /// Slots, threads and cross holes are left out of account. None for a part that is solid.
    #[must_use]
    pub fn least_wall(&self) -> Option<f64> {
        let hollow = self.hollow();
        if hollow.is_empty() {
            return None;
        }
        let mut least = f64::INFINITY;
        let (first, last) = (self.first(), self.last());
        for p in &hollow {
            // Between bends of the outside the wall varies smoothly: look at the bends and closely between.
            let mut at: Vec<f64> = (0..=64).map(|k| p.z0 + (p.z1 - p.z0) * f64::from(k) / 64.0).collect();
            let bends = self.outer.segments().iter().flat_map(|s| [s.from().x, s.to().x]);
            at.extend(bends.filter(|z| *z > p.z0 && *z < p.z1));
            for z in at {
                // A mouth may be as wide as its face; that is an edge, not a wall.
                if (z - first).abs() < SAME || (z - last).abs() < SAME {
                    continue;
                }
                if let Some((small, _)) = self.radii_at(z) {
                    least = least.min(small - p.radius(z));
                }
            }
        }
        for w in hollow.windows(2) {
            if w[1].z0 - w[0].z1 > SAME {
                least = least.min(w[1].z0 - w[0].z1);
            }
        }
        let (a, b) = (hollow[0].z0 - first, last - hollow[hollow.len() - 1].z1);
        for floor in [a, b] {
            if floor > SAME {
                least = least.min(floor);
            }
        }
        Some(least)
    }
}
