//! Vertices, edges and faces of one solid, each held once.

use std::collections::BTreeMap;

use crate::fault::Fault;

/// A point or direction in space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Xyz(pub f64, pub f64, pub f64);

impl Xyz {
    pub(crate) const UP: Xyz = Xyz(0.0, 0.0, 1.0);
    pub(crate) fn minus(self, o: Xyz) -> Xyz {
        Xyz(self.0 - o.0, self.1 - o.1, self.2 - o.2)
    }
    pub(crate) fn times(self, k: f64) -> Xyz {
        Xyz(self.0 * k, self.1 * k, self.2 * k)
    }
    pub(crate) fn length(self) -> f64 {
        (self.0 * self.0 + self.1 * self.1 + self.2 * self.2).sqrt()
    }
    pub(crate) fn unit(self) -> Xyz {
        self.times(1.0 / self.length())
    }
    pub(crate) fn cross(self, o: Xyz) -> Xyz {
        Xyz(self.1 * o.2 - self.2 * o.1, self.2 * o.0 - self.0 * o.2, self.0 * o.1 - self.1 * o.0)
    }
}

/// A place with an axis and a direction square to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Axes {
    pub at: Xyz,
    pub axis: Xyz,
    pub side: Xyz,
}

impl Axes {
    /// Upright at a place.
    pub(crate) fn upright(at: Xyz) -> Axes {
        Axes { at, axis: Xyz::UP, side: Xyz(1.0, 0.0, 0.0) }
    }
}

/// The line of an edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Curve {
    Line,
    /// From the first vertex to the last counter-clockwise about the axis.
    Circle {
        axes: Axes,
        radius: f64,
    },
}

/// The surface of a face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Surface {
    Plane(Axes),
    Cylinder {
        axes: Axes,
        radius: f64,
    },
    /// Opening along the axis.
    Cone {
        axes: Axes,
        radius: f64,
        half_angle: f64,
    },
    Torus {
        axes: Axes,
        major: f64,
        minor: f64,
    },
    Sphere {
        axes: Axes,
        radius: f64,
    },
    /// A circle turned about an upright axis through `about`.
    Revolved {
        circle: Axes,
        radius: f64,
        about: Xyz,
    },
}

#[derive(Clone, Debug)]
pub(crate) struct Edge {
    pub from: usize,
    pub to: usize,
    pub curve: Curve,
}

/// An edge and whether it is travelled from first to last vertex.
pub(crate) type Use = (usize, bool);

#[derive(Clone, Debug)]
pub(crate) struct Face {
    pub surface: Surface,
    /// Whether the outside is where the surface's own normal points.
    pub same: bool,
    /// Loops, the outer one first.
    pub loops: Vec<Vec<Use>>,
}

/// Two points nearer than this are one vertex (mm).
pub(crate) const NEAR: f64 = 1e-7;

/// Numbers of pieces of a solid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tally {
    /// Vertices.
    pub vertices: usize,
    /// Edges.
    pub edges: usize,
    /// Faces.
    pub faces: usize,
    /// Loops of edges.
    pub loops: usize,
    /// Holes that go through, by Euler's formula; one shell is taken.
    pub genus: i64,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct Brep {
    pub points: Vec<Xyz>,
    pub edges: Vec<Edge>,
    pub faces: Vec<Face>,
    grid: BTreeMap<(i64, i64, i64), Vec<usize>>,
    ends: BTreeMap<(usize, usize), Vec<usize>>,
}

#[expect(clippy::cast_possible_truncation, reason = "millimetres of a part, in cells of a micrometre")]
fn cell(x: f64) -> i64 {
    (x * 1e3).floor() as i64
}

impl Brep {
    /// The vertex at a place.
    pub(crate) fn vertex(&mut self, p: Xyz) -> usize {
        let (x, y, z) = (cell(p.0), cell(p.1), cell(p.2));
        for i in x - 1..=x + 1 {
            for j in y - 1..=y + 1 {
                for k in z - 1..=z + 1 {
                    let here = self.grid.get(&(i, j, k)).into_iter().flatten();
                    if let Some(&v) = here.into_iter().find(|&&v| self.points[v].minus(p).length() < NEAR) {
                        return v;
                    }
                }
            }
        }
        self.points.push(p);
        self.grid.entry((x, y, z)).or_default().push(self.points.len() - 1);
        self.points.len() - 1
    }
    /// The edge between two vertices along a curve, and which way it is held.
    pub(crate) fn edge(&mut self, from: usize, to: usize, curve: Curve) -> Use {
        let same = |a: &Curve, turned: bool| match (a, &curve) {
            (Curve::Line, Curve::Line) => true,
            (Curve::Circle { axes: a, radius: r }, Curve::Circle { axes: b, radius: s }) => {
                let way = if turned { -1.0 } else { 1.0 };
                a.at.minus(b.at).length() < NEAR
                    && (r - s).abs() < NEAR
                    && a.axis.minus(b.axis.times(way)).length() < 1e-9
            }
            _ => false,
        };
        let known = |key: (usize, usize), turned: bool| {
            let here = self.ends.get(&key).into_iter().flatten();
            here.copied().find(|&e| same(&self.edges[e].curve, turned))
        };
        if let Some(e) = known((from, to), false) {
            return (e, true);
        }
        if let Some(e) = known((to, from), true) {
            return (e, false);
        }
        self.edges.push(Edge { from, to, curve });
        self.ends.entry((from, to)).or_default().push(self.edges.len() - 1);
        (self.edges.len() - 1, true)
    }
    /// First vertex of a use.
    pub(crate) fn begin(&self, (e, forward): Use) -> usize {
        if forward { self.edges[e].from } else { self.edges[e].to }
    }
    /// Last vertex of a use.
    pub(crate) fn end(&self, (e, forward): Use) -> usize {
        if forward { self.edges[e].to } else { self.edges[e].from }
    }
    /// Checks that loops join up, that every edge bounds two faces and is travelled once each way, and that the
    /// numbers of pieces make a whole number of through holes.
    ///
    /// # Formula
    /// V − E + F − (L − F) = 2 (1 − G)
    pub(crate) fn tally(&self) -> Result<Tally, Fault> {
        let mut uses = vec![(0_u32, 0_u32); self.edges.len()];
        let mut loops = 0;
        for (f, face) in self.faces.iter().enumerate() {
            for ring in &face.loops {
                loops += 1;
                for (i, &u) in ring.iter().enumerate() {
                    let next = ring[(i + 1) % ring.len()];
                    if self.end(u) != self.begin(next) {
                        return Err(Fault::Leaks(format!("a loop of face {f} is open")));
                    }
                    let used = &mut uses[u.0];
                    if u.1 { used.0 += 1 } else { used.1 += 1 }
                }
            }
        }
        if let Some(e) = uses.iter().position(|&u| u != (1, 1)) {
            let (a, b) = (self.points[self.edges[e].from], self.points[self.edges[e].to]);
            return Err(Fault::Leaks(format!("an edge from {a:?} to {b:?} is used {:?} times", uses[e])));
        }
        let (v, e, f) = (self.points.len(), self.edges.len(), self.faces.len());
        let count = |n: usize| i64::try_from(n).unwrap_or(i64::MAX);
        let sum = count(v) - count(e) + 2 * count(f) - count(loops);
        if sum % 2 != 0 || sum > 2 {
            return Err(Fault::Leaks(format!("vertices, edges and faces do not make one solid ({sum})")));
        }
        Ok(Tally { vertices: v, edges: e, faces: f, loops, genus: 1 - sum / 2 })
    }
}
