//! Puts a turned part together step by step: stations along the axis in the book, and the solid beside them.

use crate::part::{AxisHole, Figure, Flats, Groove, Step, Told, TurnedBody, form};
use reckon::source::GEOMETRY;
use reckon::{Book, Diameter, Length, Val, work};
use record::facts::{Bend, Face, FaceGroove, Relief, Size};
use shape::profile::{Profile, Sense};
use shape::turned::{Bore, BoreStep, End, Feature, Side, Thread, Turned};

/// How the outside of a step is shaped beyond its cylinder; millimetres.
#[derive(Copy, Clone, Default, Debug)]
pub(crate) struct Edges {
    /// Chamfer where it begins: along the axis, and out from it.
    pub(crate) begin: Option<(f64, f64)>,
    /// Chamfer where it ends.
    pub(crate) end: Option<(f64, f64)>,
    /// Radius of a dome over its first face, where it is the free end.
    pub(crate) point: Option<f64>,
    /// Radius of a dome over its end face.
    pub(crate) dome: Option<f64>,
    /// Radius of an arc over the whole step, and which way it bulges.
    pub(crate) arc: Option<(f64, Bend)>,
}

/// A turned part under construction.
pub(crate) struct Builder<'b> {
    pub(crate) book: &'b mut Book,
    pub(crate) slug: String,
    steps: Vec<(Step, Edges)>,
    holes: Vec<AxisHole>,
    grooves: Vec<(FaceGroove, End, String)>,
    relief: Option<(End, Val<Diameter>, Val<Length>)>,
    slot: Option<(End, Val<Length>, Val<Length>)>,
    flats: Option<Flats>,
    cross_holes: Vec<(Val<Length>, Val<Diameter>)>,
    told: Vec<Told>,
    start: Val<Length>,
}
/// A length in a remark on a drawing; sheets write it in the project's units.
pub(crate) fn mm(x: f64) -> String {
    format!("{} mm", reckon::print::trimmed(&reckon::print::fixed(x, 3)))
}
/// Included angle of the point of an ordinary drill.
pub(crate) const DRILL_POINT_DEG: f64 = 118.0;

impl<'b> Builder<'b> {
    pub(crate) fn new(book: &'b mut Book, slug: &str) -> Builder<'b> {
        let start = book.assumed(
            format!("{slug}.station.0"),
            Length::ZERO,
            "stations are counted from the first end",
        );
        Builder {
            book,
            slug: slug.to_owned(),
            steps: Vec::new(),
            holes: Vec::new(),
            grooves: Vec::new(),
            relief: None,
            slot: None,
            flats: None,
            cross_holes: Vec::new(),
            told: Vec::new(),
            start,
        }
    }
    /// Where the part ends so far.
    pub(crate) fn here(&self) -> Val<Length> {
        self.steps.last().map_or(self.start, |(s, _)| s.to)
    }
    /// Adds a step and returns where it begins and ends.
    pub(crate) fn step(
        &mut self,
        what: &str,
        length: Val<Length>,
        size: Size<Diameter>,
        edges: Edges,
    ) -> (Val<Length>, Val<Length>) {
        let from = self.here();
        let n = self.steps.len() + 1;
        let to = work!(
            self.book,
            format_args!("{}.station.{n}", self.slug),
            |from, length| from + length,
            &GEOMETRY
        );
        let step = Step {
            what: what.to_owned(),
            from,
            to,
            size,
            end: None,
            curved: false,
            thread: None,
            knurl: None,
            chamfer: None,
            undercut: false,
        };
        self.steps.push((step, edges));
        (from, to)
    }
    /// The step added last, for what else belongs to it.
    pub(crate) fn last(&mut self) -> Option<&mut Step> {
        self.steps.last_mut().map(|(s, _)| s)
    }
    pub(crate) fn hole(&mut self, hole: AxisHole) {
        self.holes.push(hole);
    }
    pub(crate) fn slot(&mut self, end: End, width: Val<Length>, depth: Val<Length>) {
        self.slot = Some((end, width, depth));
    }
    pub(crate) fn flats(&mut self, flats: Flats) {
        self.flats = Some(flats);
    }
    pub(crate) fn cross_hole(&mut self, at: Val<Length>, size: Val<Diameter>) {
        self.cross_holes.push((at, size));
    }
    pub(crate) fn relief(&mut self, relief: &Relief) {
        self.relief = Some((end_of(relief.face), relief.diameter, relief.depth));
    }
    pub(crate) fn grooves(&mut self, all: &[FaceGroove]) {
        for (i, g) in all.iter().enumerate() {
            self.grooves.push((g.clone(), end_of(g.face), format!("face_groove.{}", i + 1)));
        }
    }
    pub(crate) fn tell(&mut self, told: Told) {
        self.told.push(told);
    }
    /// Tells a length between two stations.
    pub(crate) fn tell_along(&mut self, from: &Val<Length>, to: &Val<Length>, figure: Figure) {
        self.tell(Told::Along { from: from.bare().in_mm(), to: to.bare().in_mm(), inside: false, figure });
    }
    /// Tells a diameter in the middle between two stations.
    pub(crate) fn tell_across(&mut self, from: &Val<Length>, to: &Val<Length>, figure: Figure) {
        let at = f64::midpoint(from.bare().in_mm(), to.bare().in_mm());
        self.tell(Told::Across { at, inside: false, figure });
    }

    /// The finished body; `length` carries the limits of the length over all.
    pub(crate) fn finish(mut self, length_limits: (Val<Length>, Val<Length>)) -> TurnedBody {
        let length = self.here();
        let largest = self.largest();
        let mut solid = Turned::new(self.outline());
        for hole in &self.holes {
            solid = solid.bored(bore(hole));
        }
        let mut grooves = Vec::new();
        for (facts, end, slug) in &self.grooves {
            let feature = solid.features.len();
            solid = solid.with(Feature::FaceGroove(shape::turned::FaceGroove {
                end: *end,
                diameter: facts.diameter.bare().in_mm(),
                width: facts.width.bare().in_mm(),
                depth: facts.depth.bare().in_mm(),
                form: form(facts.form),
            }));
            self.told.push(Told::Groove {
                feature,
                diameter: Figure::across(&facts.diameter),
                width: Figure::plain(&facts.width),
                depth: Figure::plain(&facts.depth),
            });
            grooves.push(Groove { slug: slug.clone(), end: *end, facts: facts.clone(), feature });
        }
        if let Some((end, diameter, depth)) = &self.relief {
            solid = solid.with(Feature::Relief {
                end: *end,
                diameter: diameter.bare().in_mm(),
                depth: depth.bare().in_mm(),
            });
        }
        for (step, _) in &self.steps {
            solid = outside_features(solid, step);
        }
        for hole in &self.holes {
            solid = hole_thread(solid, hole, length.bare().in_mm());
        }
        if let Some((end, width, depth)) = &self.slot {
            let feature = solid.features.len();
            solid = solid.with(Feature::Slot {
                end: *end,
                width: width.bare().in_mm(),
                depth: depth.bare().in_mm(),
            });
            self.told.push(Told::SlotWidth { feature, figure: Figure::plain(width) });
        }
        if let Some(Flats { from, to, across, count }) = &self.flats {
            let feature = solid.features.len();
            solid = solid.with(Feature::Flats {
                from: from.bare().in_mm(),
                to: to.bare().in_mm(),
                across: across.bare().in_mm(),
                count: *count,
            });
            self.told.push(Told::AcrossFlats { feature, figure: Figure::plain(across) });
        }
        for (z, d) in &self.cross_holes {
            solid = solid.with(Feature::CrossHole { z: z.bare().in_mm(), diameter: d.bare().in_mm() });
        }
        TurnedBody {
            length,
            largest,
            length_limits,
            steps: self.steps.into_iter().map(|(s, _)| s).collect(),
            holes: self.holes,
            grooves,
            relief: self.relief,
            slot: self.slot,
            flats: self.flats,
            cross_holes: self.cross_holes,
            leaves: Vec::new(),
            solid,
            told: self.told,
        }
    }
    fn largest(&mut self) -> Val<Diameter> {
        let name = format!("{}.largest", self.slug);
        let ends = self.steps.iter().flat_map(|(s, _)| [Some(s.size.nominal), s.end]).flatten();
        let most = ends.reduce(|a, b| if b > a { b } else { a });
        match most {
            Some(most) => work!(self.book, name, |most| most, &GEOMETRY),
            None => self.book.assumed(name, Diameter::ZERO, "the part has no steps"),
        }
    }
    /// The outside in (z, r), from the axis at the first end to the axis at the other.
    fn outline(&self) -> Profile {
        let mut p = Profile::start(0.0, 0.0);
        for (step, edges) in &self.steps {
            let (z0, z1) = (step.from.bare().in_mm(), step.to.bare().in_mm());
            let r0 = step.size.nominal.bare().in_mm() / 2.0;
            let r1 = step.end.map_or(r0, |d| d.bare().in_mm() / 2.0);
            let here = p.end();
            p = match (edges.begin, edges.point) {
                (_, Some(radius)) => {
                    let rise = dome_rise(r0, radius);
                    let arc = p.clone().round_to(z0 + rise, r0, radius, Sense::Right);
                    arc.unwrap_or_else(|_| p.line(z0, r0))
                }
                (Some((along, out)), None) if here.y < r0 => to(p, z0, r0 - out).line(z0 + along, r0),
                _ => to(p, z0, r0),
            };
            let (back, down) = edges.end.unwrap_or((0.0, 0.0));
            p = match edges.arc {
                Some((radius, bend)) => {
                    // With the axis along x and r upward, going right: a hump is clockwise.
                    let sense = if bend == Bend::Round { Sense::Right } else { Sense::Left };
                    p.clone().round_to(z1, r1, radius, sense).unwrap_or_else(|_| p.line(z1, r1))
                }
                None => to(p, z1 - back - edges.dome.map_or(0.0, |radius| dome_rise(r1, radius)), r1),
            };
            if edges.end.is_some() {
                p = to(p, z1, r1 - down);
            }
            if let Some(radius) = edges.dome {
                p = p.clone().round_to(z1, 0.0, radius, Sense::Right).unwrap_or_else(|_| p.line(z1, 0.0));
            }
        }
        let end = p.end();
        to(p, end.x, 0.0)
    }
}
/// A line, unless it would have no length.
fn to(p: Profile, z: f64, r: f64) -> Profile {
    let here = p.end();
    if (here.x - z).abs() < 1e-12 && (here.y - r).abs() < 1e-12 { p } else { p.line(z, r) }
}
/// Height of a dome of `radius` over a face of radius `r`.
pub(crate) fn dome_rise(r: f64, radius: f64) -> f64 {
    radius - (radius * radius - r * r).max(0.0).sqrt()
}
const fn end_of(face: Face) -> End {
    match face {
        Face::Front => End::Datum,
        Face::Back => End::Far,
    }
}
fn bore(hole: &AxisHole) -> Bore {
    let d = hole.size.nominal.bare().in_mm();
    match &hole.depth {
        None => Bore { end: hole.end, ..Bore::through(d) },
        Some(depth) => {
            let step = BoreStep { first: d, last: d, length: depth.bare().in_mm() };
            let point = (!hole.sink).then(|| DRILL_POINT_DEG * reckon::maths::PI / 180.0);
            Bore { end: hole.end, steps: vec![step], through: false, point }
        }
    }
}
fn outside_features(mut solid: Turned, step: &Step) -> Turned {
    if let Some(t) = &step.thread {
        let pitch = t.of.thread.pitch.in_mm();
        solid = solid.with(Feature::Thread(Thread {
            side: Side::Outside,
            from: t.span.0.bare().in_mm(),
            to: t.span.1.bare().in_mm(),
            major: step.size.nominal.bare().in_mm(),
            minor: t.of.thread.root().in_mm(),
            pitch,
            run_out: 0.0,
            label: t.of.thread.name.clone(),
        }));
    }
    if let Some(pitch) = &step.knurl {
        solid = solid.with(Feature::Knurl {
            from: step.from.bare().in_mm(),
            to: step.to.bare().in_mm(),
            label: format!("knurl {}", mm(pitch.bare().in_mm())),
        });
    }
    solid
}
fn hole_thread(solid: Turned, hole: &AxisHole, length: f64) -> Turned {
    let Some(t) = &hole.thread else { return solid };
    let depth = hole.depth.map_or(length, |d| d.bare().in_mm());
    let (from, to) = match hole.end {
        End::Datum => (0.0, depth),
        End::Far => (length - depth, length),
    };
    solid.with(Feature::Thread(Thread {
        side: Side::Bore,
        from,
        to,
        major: t.thread.major.in_mm(),
        minor: hole.size.nominal.bare().in_mm(),
        pitch: t.thread.pitch.in_mm(),
        run_out: 0.0,
        label: t.thread.name.clone(),
    }))
}
