//! Parts cut from plate: an outline, holes, windows, a thickness.
//!
//! Plain millimetres on the plane of the plate.

use crate::profile::{Profile, SAME, distance, on_circle};
use crate::turned::Frustum;
use kurbo::Point;
use reckon::maths::{PI, tan};

/// A round hole right through.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// Centre.
    pub at: Point,
    /// Diameter.
    pub diameter: f64,
    /// As the drawing and the hole list name it.
    pub label: String,
}

/// A conical mouth round a hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Countersink {
    /// Number of the hole, from 0.
    pub hole: usize,
    /// Diameter at the face.
    pub diameter: f64,
    /// Included angle, radians.
    pub angle: f64,
    /// Whether it is on the face that the drawing shows.
    pub front: bool,
}

/// A plate.
#[derive(Clone, Debug, PartialEq)]
pub struct Flat {
    /// Closed outline.
    pub outline: Profile,
    /// Round holes.
    pub holes: Vec<Hole>,
    /// Closed inner outlines: windows, slots.
    pub windows: Vec<Profile>,
    /// Countersinks.
    pub countersinks: Vec<Countersink>,
    /// Thickness.
    pub thickness: f64,
}

/// What is wrong with a plate; numbers count from 0 in the part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Amiss {
    /// The thickness is not positive.
    Thickness,
    /// The outline does not close.
    Open,
    /// The outline crosses itself.
    Crosses {
        /// Number of one segment.
        first: usize,
        /// Number of the other.
        second: usize,
    },
    /// A window does not close or crosses itself.
    Window {
        /// Number of the window.
        window: usize,
    },
    /// A window reaches over the outline.
    WindowOutside {
        /// Number of the window.
        window: usize,
    },
    /// Two windows overlap.
    WindowsOverlap {
        /// Number of one window.
        first: usize,
        /// Number of the other.
        second: usize,
    },
    /// A hole's diameter is not positive.
    HoleSize {
        /// Number of the hole.
        hole: usize,
    },
    /// A hole reaches over the outline.
    HoleOutside {
        /// Number of the hole.
        hole: usize,
    },
    /// Two holes overlap.
    HolesOverlap {
        /// Number of one hole.
        first: usize,
        /// Number of the other.
        second: usize,
    },
    /// A hole runs into a window.
    HoleInWindow {
        /// Number of the hole.
        hole: usize,
        /// Number of the window.
        window: usize,
    },
    /// A countersink names no hole, is smaller than it, or is deeper than the plate.
    Sink {
        /// Number of the countersink.
        sink: usize,
    },
}

impl std::fmt::Display for Amiss {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match *self {
            Amiss::Thickness => write!(f, "the thickness is not positive"),
            Amiss::Open => write!(f, "the outline does not close"),
            Amiss::Crosses { first, second } => {
                write!(f, "segments {first} and {second} of the outline cross")
            }
            Amiss::Window { window } => write!(f, "window {window} does not close, or crosses itself"),
            Amiss::WindowOutside { window } => write!(f, "window {window} reaches over the outline"),
            Amiss::WindowsOverlap { first, second } => write!(f, "windows {first} and {second} overlap"),
            Amiss::HoleSize { hole } => write!(f, "hole {hole} has no positive diameter"),
            Amiss::HoleOutside { hole } => write!(f, "hole {hole} reaches over the outline"),
            Amiss::HolesOverlap { first, second } => write!(f, "holes {first} and {second} overlap"),
            Amiss::HoleInWindow { hole, window } => write!(f, "hole {hole} runs into window {window}"),
            Amiss::Sink { sink } => write!(f, "countersink {sink} has no hole, or does not fit it"),
        }
    }
}

impl Flat {
    /// A plate with nothing in it.
    #[must_use]
    pub fn new(outline: Profile, thickness: f64) -> Flat {
        Flat { outline, holes: Vec::new(), windows: Vec::new(), countersinks: Vec::new(), thickness }
    }
    /// Adds a hole.
    #[must_use]
    pub fn hole(mut self, x: f64, y: f64, diameter: f64, label: &str) -> Flat {
        self.holes.push(Hole { at: Point::new(x, y), diameter, label: label.to_owned() });
        self
    }
    /// Adds a window.
    #[must_use]
    pub fn window(mut self, outline: Profile) -> Flat {
        self.windows.push(outline);
        self
    }
    /// Area of metal in the plane, countersinks left out.
    #[must_use]
    pub fn area(&self) -> f64 {
        let windows: f64 = self.windows.iter().map(|w| w.area().abs()).sum();
        let holes: f64 = self.holes.iter().map(|h| PI * h.diameter * h.diameter / 4.0).sum();
        self.outline.area().abs() - windows - holes
    }
    /// Volume in mm³.
    #[must_use]
    pub fn volume(&self) -> f64 {
        let sunk: f64 = self.countersinks.iter().map(|c| self.sunk(c)).sum();
        self.area() * self.thickness - sunk
    }
    /// Mass in grams at a density in kg/m³.
    #[must_use]
    pub fn mass(&self, density: f64) -> f64 {
        self.volume() * density * 1e-6
    }
    /// Depth of a countersink's cone down to the hole; 0 when it names no hole.
    #[must_use]
    pub fn sink_depth(&self, c: &Countersink) -> f64 {
        self.holes.get(c.hole).map_or(0.0, |h| (c.diameter - h.diameter) / 2.0 / tan(c.angle / 2.0))
    }
    /// Metal a countersink takes besides its hole.
    fn sunk(&self, c: &Countersink) -> f64 {
        let Some(hole) = self.holes.get(c.hole) else { return 0.0 };
        let depth = self.sink_depth(c);
        let p = Frustum { z0: 0.0, r0: c.diameter / 2.0, z1: depth, r1: hole.diameter / 2.0 };
        let (a, b) = (p.r0, p.r1);
        PI * depth * (a * a + a * b + b * b) / 3.0 - PI * b * b * depth
    }
    /// Everything that is wrong with the plate; empty when it is sound.
    #[must_use]
    pub fn amiss(&self) -> Vec<Amiss> {
        let mut wrong = Vec::new();
        if !(self.thickness.is_finite() && self.thickness > 0.0) {
            wrong.push(Amiss::Thickness);
        }
        if !self.outline.is_closed() {
            wrong.push(Amiss::Open);
            return wrong;
        }
        if let Some(c) = self.outline.crosses_itself() {
            wrong.push(Amiss::Crosses { first: c.first, second: c.second });
        }
        for (window, w) in self.windows.iter().enumerate() {
            if !w.is_closed() || w.crosses_itself().is_some() {
                wrong.push(Amiss::Window { window });
            } else if w.crosses(&self.outline).is_some() || !self.outline.contains(w.begin()) {
                wrong.push(Amiss::WindowOutside { window });
            }
            for (second, v) in self.windows.iter().enumerate().skip(window + 1) {
                if w.crosses(v).is_some() || w.contains(v.begin()) || v.contains(w.begin()) {
                    wrong.push(Amiss::WindowsOverlap { first: window, second });
                }
            }
        }
        for (hole, h) in self.holes.iter().enumerate() {
            let r = h.diameter / 2.0;
            if !(r.is_finite() && r > 0.0) {
                wrong.push(Amiss::HoleSize { hole });
                continue;
            }
            if !self.outline.contains(h.at) || self.outline.distance_to(h.at) < r - SAME {
                wrong.push(Amiss::HoleOutside { hole });
            }
            for (second, g) in self.holes.iter().enumerate().skip(hole + 1) {
                if distance(h.at, g.at) < r + g.diameter / 2.0 - SAME {
                    wrong.push(Amiss::HolesOverlap { first: hole, second });
                }
            }
            for (window, w) in self.windows.iter().enumerate() {
                let rim = on_circle(h.at, r, 0.0);
                if w.contains(h.at) || w.distance_to(h.at) < r - SAME || w.contains(rim) {
                    wrong.push(Amiss::HoleInWindow { hole, window });
                }
            }
        }
        for (sink, c) in self.countersinks.iter().enumerate() {
            let fits = self.holes.get(c.hole).is_some_and(|h| c.diameter > h.diameter)
                && c.angle > 0.0
                && c.angle < PI
                && self.sink_depth(c) <= self.thickness + SAME;
            if !fits {
                wrong.push(Amiss::Sink { sink });
            }
        }
        wrong
    }
}
