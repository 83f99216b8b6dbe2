//! Whether a turned part can exist, and what stands against it.

use crate::profile::SAME;
use crate::turned::{End, FaceGroove, Feature, Side, Turned};

/// What is wrong with a turned part; features and bores are named by their number in the part, from 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unsound {
    /// The outer profile has no length or no thickness.
    Empty,
    /// The outer profile crosses itself.
    Crosses {
        /// Number of one segment.
        first: usize,
        /// Number of the other.
        second: usize,
    },
    /// A segment of the outer profile goes back towards the datum.
    StepsBack {
        /// Number of the segment.
        segment: usize,
    },
    /// A segment of the outer profile dips below the axis.
    BelowAxis {
        /// Number of the segment.
        segment: usize,
    },
    /// A size of a bore is not positive.
    BoreSize {
        /// Number of the bore.
        bore: usize,
    },
    /// A bore leaves no metal.
    BoreWide {
        /// Number of the bore.
        bore: usize,
        /// Where, z.
        at: f64,
    },
    /// A blind bore goes deeper than the part is long.
    BoreDeep {
        /// Number of the bore.
        bore: usize,
    },
    /// Two blind bores run into each other.
    BoresMeet {
        /// Number of one bore.
        first: usize,
        /// Number of the other.
        second: usize,
    },
    /// A size of a feature is not positive, or its sizes contradict each other.
    Size {
        /// Number of the feature.
        feature: usize,
    },
    /// A feature lies beyond the ends of the part.
    Beyond {
        /// Number of the feature.
        feature: usize,
    },
    /// A face groove reaches over the edge of its face or into the bore or relief.
    GrooveOutside {
        /// Number of the groove.
        feature: usize,
    },
    /// Two grooves in one face overlap.
    GroovesOverlap {
        /// Number of one groove.
        first: usize,
        /// Number of the other.
        second: usize,
    },
    /// A groove, relief or slot is deeper than the metal behind its face.
    Deep {
        /// Number of the feature.
        feature: usize,
        /// Depth there is.
        room: f64,
    },
    /// A slot, relief or cross hole is as wide as the part.
    Wide {
        /// Number of the feature.
        feature: usize,
        /// Width there is.
        room: f64,
    },
    /// Flats do not touch the outside, or cut into the bore.
    Flats {
        /// Number of the feature.
        feature: usize,
    },
    /// A thread's major diameter is not that of its cylinder (outside), or its minor that of its bore.
    ThreadSize {
        /// Number of the feature.
        feature: usize,
        /// Diameter of the part there.
        found: f64,
    },
    /// Two features cut into each other along the axis.
    Collide {
        /// Number of one feature.
        first: usize,
        /// Number of the other.
        second: usize,
    },
}

impl std::fmt::Display for Unsound {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match *self {
            Unsound::Empty => write!(f, "the part has no length or no thickness"),
            Unsound::Crosses { first, second } => {
                write!(f, "segments {first} and {second} of the outside cross")
            }
            Unsound::StepsBack { segment } => write!(f, "segment {segment} goes back towards the datum face"),
            Unsound::BelowAxis { segment } => write!(f, "segment {segment} dips below the axis"),
            Unsound::BoreSize { bore } => write!(f, "bore {bore} has a size that is not positive"),
            Unsound::BoreWide { bore, at } => {
                write!(f, "bore {bore} leaves no metal {at:.3} mm from the datum face")
            }
            Unsound::BoreDeep { bore } => write!(f, "bore {bore} is deeper than the part is long"),
            Unsound::BoresMeet { first, second } => {
                write!(f, "blind bores {first} and {second} run into each other")
            }
            Unsound::Size { feature } => write!(f, "feature {feature} has sizes that cannot be"),
            Unsound::Beyond { feature } => write!(f, "feature {feature} lies beyond the end of the part"),
            Unsound::GrooveOutside { feature } => write!(f, "groove {feature} reaches beyond its face"),
            Unsound::GroovesOverlap { first, second } => write!(f, "grooves {first} and {second} overlap"),
            Unsound::Deep { feature, room } => {
                write!(f, "feature {feature} is deeper than the {room:.3} mm of metal there")
            }
            Unsound::Wide { feature, room } => {
                write!(f, "feature {feature} is wider than the {room:.3} mm there")
            }
            Unsound::Flats { feature } => {
                write!(f, "flats {feature} do not touch the outside, or cut into the bore")
            }
            Unsound::ThreadSize { feature, found } => {
                write!(f, "thread {feature} does not fit the diameter of {found:.3} mm there")
            }
            Unsound::Collide { first, second } => {
                write!(f, "features {first} and {second} cut into each other")
            }
        }
    }
}

impl Turned {
    /// Everything that is wrong with the part; empty when it is sound.
    #[must_use]
    pub fn unsound(&self) -> Vec<Unsound> {
        let mut wrong = Vec::new();
        if self.outer.segments().is_empty() || self.length() <= SAME || self.largest_diameter() <= SAME {
            return vec![Unsound::Empty];
        }
        if let Some(c) = self.outer.crosses_itself() {
            wrong.push(Unsound::Crosses { first: c.first, second: c.second });
        }
        for (segment, s) in self.outer.segments().iter().enumerate() {
            let b = s.bounds();
            let ends = (s.from().x.min(s.to().x), s.from().x.max(s.to().x));
            if s.to().x < s.from().x - SAME || b.x0 < ends.0 - SAME || b.x1 > ends.1 + SAME {
                wrong.push(Unsound::StepsBack { segment });
            }
            if b.y0 < -SAME {
                wrong.push(Unsound::BelowAxis { segment });
            }
        }
        self.bores_unsound(&mut wrong);
        for feature in 0..self.features.len() {
            self.feature_unsound(feature, &mut wrong);
        }
        self.pairs_unsound(&mut wrong);
        wrong
    }

    fn bores_unsound(&self, wrong: &mut Vec<Unsound>) {
        for (bore, b) in self.bores.iter().enumerate() {
            let good = |v: f64| v.is_finite() && v > 0.0;
            let sized = !b.steps.is_empty()
                && b.steps.iter().all(|s| good(s.first) && s.last >= 0.0 && s.length >= 0.0)
                && (b.through || b.steps.iter().all(|s| good(s.length)))
                && b.point.is_none_or(|a| a > 0.0 && a < reckon::maths::PI);
            if !sized {
                wrong.push(Unsound::BoreSize { bore });
                continue;
            }
            if b.depth() > self.length() + SAME {
                wrong.push(Unsound::BoreDeep { bore });
                continue;
            }
            let wide = self.bore_pieces(b).into_iter().find_map(|p| {
                let inside = (1..64).map(|k| p.z0 + (p.z1 - p.z0) * f64::from(k) / 64.0);
                let bends = self.outer.segments().iter().map(|s| s.from().x);
                let bends = bends.filter(|z| *z > p.z0 + SAME && *z < p.z1 - SAME);
                inside.chain(bends).find(|&z| self.radii_at(z).is_none_or(|(r, _)| p.radius(z) >= r - SAME))
            });
            if let Some(at) = wide {
                wrong.push(Unsound::BoreWide { bore, at });
            }
        }
        for (first, a) in self.bores.iter().enumerate() {
            for (second, b) in self.bores.iter().enumerate().skip(first + 1) {
                let blind = !a.through && !b.through && a.end != b.end;
                if blind && a.depth() + b.depth() > self.length() - SAME {
                    wrong.push(Unsound::BoresMeet { first, second });
                }
            }
        }
    }

    fn feature_unsound(&self, feature: usize, wrong: &mut Vec<Unsound>) {
        let within = |from: f64, to: f64| from >= self.first() - SAME && to <= self.last() + SAME;
        let positive = |all: &[f64]| all.iter().all(|v| v.is_finite() && *v > 0.0);
        match &self.features[feature] {
            Feature::Thread(t) => {
                if !positive(&[t.to - t.from, t.minor, t.pitch, t.major - t.minor]) || t.run_out < 0.0 {
                    wrong.push(Unsound::Size { feature });
                } else if !within(t.from, t.to) {
                    wrong.push(Unsound::Beyond { feature });
                } else {
                    let middle = t.from.midpoint(t.to);
                    let found = 2.0
                        * match t.side {
                            Side::Outside => self.radius_at(middle),
                            Side::Bore => self.hollow_at(middle),
                        };
                    // A thread may be drawn on a cylinder anywhere between its minor and a little over its major.
                    let slack = (t.major - t.minor) * 0.5;
                    if found > t.major + slack || found < t.minor - slack {
                        wrong.push(Unsound::ThreadSize { feature, found });
                    }
                }
            }
            Feature::Knurl { from, to, .. } => {
                if to <= from {
                    wrong.push(Unsound::Size { feature });
                } else if !within(*from, *to) {
                    wrong.push(Unsound::Beyond { feature });
                }
            }
            Feature::Slot { end, width, depth } => {
                if !positive(&[*width, *depth]) {
                    wrong.push(Unsound::Size { feature });
                    return;
                }
                let room = self.head_length(*end);
                if *depth > room - SAME {
                    wrong.push(Unsound::Deep { feature, room });
                }
                let room = 2.0 * self.radius_at(self.face(*end) + Turned::inward(*end) * depth);
                if *width >= room - SAME {
                    wrong.push(Unsound::Wide { feature, room });
                }
            }
            Feature::FaceGroove(g) => self.groove_unsound(feature, g, wrong),
            Feature::Relief { end, diameter, depth } => {
                if !positive(&[*diameter, *depth]) {
                    wrong.push(Unsound::Size { feature });
                    return;
                }
                let room = 2.0 * self.face_radius(*end);
                if *diameter >= room - SAME {
                    wrong.push(Unsound::Wide { feature, room });
                }
                let room = self.head_length(*end);
                if *depth >= room - SAME {
                    wrong.push(Unsound::Deep { feature, room });
                }
            }
            Feature::CrossHole { z, diameter } => {
                if !positive(&[*diameter]) {
                    wrong.push(Unsound::Size { feature });
                } else if !within(z - diameter / 2.0, z + diameter / 2.0) {
                    wrong.push(Unsound::Beyond { feature });
                } else {
                    let room = 2.0 * self.radii_at(*z).map_or(0.0, |(r, _)| r);
                    if *diameter >= room - SAME {
                        wrong.push(Unsound::Wide { feature, room });
                    }
                }
            }
            Feature::Leaves { from, to, section, root } => {
                if !positive(&[to - from, *root]) || !section.is_closed() {
                    wrong.push(Unsound::Size { feature });
                } else if !within(*from, *to) {
                    wrong.push(Unsound::Beyond { feature });
                } else {
                    // Their tips end on the cylinder that they are cut into.
                    let room = self.radius_at(from.midpoint(*to));
                    let b = section.bounds();
                    let reach = b.x1.max(-b.x0).max(b.y1).max(-b.y0);
                    if reach > room + 1e-6 || *root >= room {
                        wrong.push(Unsound::Wide { feature, room: 2.0 * room });
                    }
                }
            }
            Feature::Flats { from, to, across, count } => {
                if !positive(&[to - from, *across]) || *count == 0 {
                    wrong.push(Unsound::Size { feature });
                } else if !within(*from, *to) {
                    wrong.push(Unsound::Beyond { feature });
                } else {
                    let middle = from.midpoint(*to);
                    let half = across / 2.0;
                    if half >= self.radius_at(middle) - SAME || half <= self.hollow_at(middle) + SAME {
                        wrong.push(Unsound::Flats { feature });
                    }
                }
            }
        }
    }

    fn groove_unsound(&self, feature: usize, g: &FaceGroove, wrong: &mut Vec<Unsound>) {
        let good = |v: f64| v.is_finite() && v > 0.0;
        if !(good(g.diameter) && good(g.width) && good(g.depth)) {
            wrong.push(Unsound::Size { feature });
            return;
        }
        let (inner, outer) = ((g.diameter - g.width) / 2.0, g.diameter.midpoint(g.width));
        let face = self.face(g.end);
        if outer > self.face_radius(g.end) + SAME || inner < self.hollow_at(face) - SAME {
            wrong.push(Unsound::GrooveOutside { feature });
        }
        let room = self.head_length(g.end);
        if g.depth >= room - SAME {
            wrong.push(Unsound::Deep { feature, room });
        }
    }

    fn pairs_unsound(&self, wrong: &mut Vec<Unsound>) {
        for (first, a) in self.features.iter().enumerate() {
            for (second, b) in self.features.iter().enumerate().skip(first + 1) {
                match (a, b) {
                    (Feature::FaceGroove(p), Feature::FaceGroove(q)) => {
                        if p.end == q.end {
                            let apart = (p.diameter - q.diameter).abs() / 2.0;
                            if apart < p.width.midpoint(q.width) - SAME {
                                wrong.push(Unsound::GroovesOverlap { first, second });
                            }
                        } else {
                            let near = (p.diameter - q.diameter).abs() / 2.0 < p.width.midpoint(q.width);
                            if near && p.depth + q.depth >= self.length() - SAME {
                                wrong.push(Unsound::Collide { first, second });
                            }
                        }
                    }
                    _ => {
                        if let (Some(p), Some(q)) = (self.cut_span(a), self.cut_span(b))
                            && p.0 < q.1 - SAME
                            && q.0 < p.1 - SAME
                        {
                            wrong.push(Unsound::Collide { first, second });
                        }
                    }
                }
            }
        }
    }

    /// Length of axis within which a slot or cross hole must be alone.
    fn cut_span(&self, f: &Feature) -> Option<(f64, f64)> {
        match *f {
            Feature::Slot { end: End::Datum, depth, .. } => Some((self.first(), self.first() + depth)),
            Feature::Slot { end: End::Far, depth, .. } => Some((self.last() - depth, self.last())),
            Feature::CrossHole { z, diameter } => Some((z - diameter / 2.0, z + diameter / 2.0)),
            _ => None,
        }
    }
}
