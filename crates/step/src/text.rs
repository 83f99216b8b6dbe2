//! The text of an exchange file: ISO 10303-21 clear text, schema AUTOMOTIVE_DESIGN.

use std::fmt::Write;

use reckon::maths::{cos, sin};

use crate::body::{Body, Placement};
use crate::brep::{Axes, Brep, Curve, Surface, Xyz};

/// Stands in the header when no date is given.
const NO_DATE: &str = "1970-01-01T00:00:00";

/// A real number: shortest digits that read back to the same bits, always with a point.
fn real(x: f64) -> String {
    if x == 0.0 {
        return "0.".into();
    }
    let s = format!("{x:?}");
    match s.split_once('e') {
        Some((m, e)) => format!("{m}{}E{e}", if m.contains('.') { "" } else { "." }),
        None => s.strip_suffix('0').filter(|t| t.ends_with('.')).map_or(s.clone(), str::to_owned),
    }
}

/// A string between apostrophes: what is not plain ASCII by its code.
fn string(s: &str) -> String {
    let mut out = String::from("'");
    for c in s.chars() {
        match c {
            '\'' => out.push_str("''"),
            '\\' => out.push_str("\\\\"),
            ' '..='~' => out.push(c),
            _ => {
                let code = u32::from(c);
                // Writing to a string cannot fail.
                let _ = if code < 0x1_0000 {
                    write!(out, "\\X2\\{code:04X}\\X0\\")
                } else {
                    write!(out, "\\X4\\{code:08X}\\X0\\")
                };
            }
        }
    }
    out.push('\'');
    out
}

fn list(ids: &[usize]) -> String {
    let all: Vec<String> = ids.iter().map(|i| format!("#{i}")).collect();
    format!("({})", all.join(","))
}

fn flag(yes: bool) -> &'static str {
    if yes { ".T." } else { ".F." }
}

/// Entities in the order they are made.
struct Writer {
    data: String,
    last: usize,
    product: usize,
    definition: usize,
    context: usize,
}

impl Writer {
    /// The frame that all products share.
    fn new() -> Writer {
        let mut w = Writer { data: String::new(), last: 0, product: 0, definition: 0, context: 0 };
        let app = w.put("APPLICATION_CONTEXT('core data for automotive mechanical design processes')");
        w.put(&format!(
            "APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,#{app})"
        ));
        w.product = w.put(&format!("PRODUCT_CONTEXT('',#{app},'mechanical')"));
        w.definition = w.put(&format!("PRODUCT_DEFINITION_CONTEXT('part definition',#{app},'design')"));
        let mm = w.put("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))");
        let rad = w.put("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))");
        let sr = w.put("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())");
        let near = w.put(&format!(
            "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-07),#{mm},'distance_accuracy_value','greatest gap')"
        ));
        w.context = w.put(&format!(
            "(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#{near}))GLOBAL_UNIT_ASSIGNED_CONTEXT((#{mm},#{rad},#{sr}))REPRESENTATION_CONTEXT('','3D'))"
        ));
        w
    }
    fn put(&mut self, entity: &str) -> usize {
        self.last += 1;
        // Writing to a string cannot fail.
        let _ = writeln!(self.data, "#{}={entity};", self.last);
        self.last
    }
    fn point(&mut self, p: Xyz) -> usize {
        self.put(&format!("CARTESIAN_POINT('',({},{},{}))", real(p.0), real(p.1), real(p.2)))
    }
    fn direction(&mut self, d: Xyz) -> usize {
        self.put(&format!("DIRECTION('',({},{},{}))", real(d.0), real(d.1), real(d.2)))
    }
    fn axes(&mut self, a: &Axes) -> usize {
        let (p, z, x) = (self.point(a.at), self.direction(a.axis), self.direction(a.side));
        self.put(&format!("AXIS2_PLACEMENT_3D('',#{p},#{z},#{x})"))
    }
    fn circle(&mut self, axes: &Axes, radius: f64) -> usize {
        let a = self.axes(axes);
        self.put(&format!("CIRCLE('',#{a},{})", real(radius)))
    }
    fn surface(&mut self, s: &Surface) -> usize {
        match s {
            Surface::Plane(axes) => {
                let a = self.axes(axes);
                self.put(&format!("PLANE('',#{a})"))
            }
            Surface::Cylinder { axes, radius } => {
                let a = self.axes(axes);
                self.put(&format!("CYLINDRICAL_SURFACE('',#{a},{})", real(*radius)))
            }
            Surface::Cone { axes, radius, half_angle } => {
                let a = self.axes(axes);
                self.put(&format!("CONICAL_SURFACE('',#{a},{},{})", real(*radius), real(*half_angle)))
            }
            Surface::Torus { axes, major, minor } => {
                let a = self.axes(axes);
                self.put(&format!("TOROIDAL_SURFACE('',#{a},{},{})", real(*major), real(*minor)))
            }
            Surface::Sphere { axes, radius } => {
                let a = self.axes(axes);
                self.put(&format!("SPHERICAL_SURFACE('',#{a},{})", real(*radius)))
            }
            Surface::Revolved { circle, radius, about } => {
                let c = self.circle(circle, *radius);
                let (p, z) = (self.point(*about), self.direction(Xyz::UP));
                let axis = self.put(&format!("AXIS1_PLACEMENT('',#{p},#{z})"));
                self.put(&format!("SURFACE_OF_REVOLUTION('',#{c},#{axis})"))
            }
        }
    }
    /// The solid; gives its entity.
    fn brep(&mut self, b: &Brep) -> usize {
        let vertices: Vec<usize> = b
            .points
            .iter()
            .map(|p| {
                let at = self.point(*p);
                self.put(&format!("VERTEX_POINT('',#{at})"))
            })
            .collect();
        let edges: Vec<usize> = b
            .edges
            .iter()
            .map(|e| {
                let curve = match &e.curve {
                    Curve::Line => {
                        let (from, to) = (b.points[e.from], b.points[e.to]);
                        let (at, way) = (self.point(from), self.direction(to.minus(from).unit()));
                        let vector = self.put(&format!("VECTOR('',#{way},1.)"));
                        self.put(&format!("LINE('',#{at},#{vector})"))
                    }
                    Curve::Circle { axes, radius } => self.circle(axes, *radius),
                };
                self.put(&format!("EDGE_CURVE('',#{},#{},#{curve},.T.)", vertices[e.from], vertices[e.to]))
            })
            .collect();
        let faces: Vec<usize> = b
            .faces
            .iter()
            .map(|f| {
                let mut bounds = Vec::new();
                for (k, ring) in f.loops.iter().enumerate() {
                    let uses: Vec<usize> = ring
                        .iter()
                        .map(|&(e, forward)| {
                            self.put(&format!("ORIENTED_EDGE('',*,*,#{},{})", edges[e], flag(forward)))
                        })
                        .collect();
                    let ring = self.put(&format!("EDGE_LOOP('',{})", list(&uses)));
                    let kind = if k == 0 { "FACE_OUTER_BOUND" } else { "FACE_BOUND" };
                    bounds.push(self.put(&format!("{kind}('',#{ring},.T.)")));
                }
                let surface = self.surface(&f.surface);
                self.put(&format!("ADVANCED_FACE('',{},#{surface},{})", list(&bounds), flag(f.same)))
            })
            .collect();
        let shell = self.put(&format!("CLOSED_SHELL('',{})", list(&faces)));
        self.put(&format!("MANIFOLD_SOLID_BREP('',#{shell})"))
    }
    /// A product; gives its definition and the shape's definition.
    fn product(&mut self, name: &str) -> (usize, usize) {
        let n = string(name);
        let product = self.put(&format!("PRODUCT({n},{n},'',(#{}))", self.product));
        self.put(&format!("PRODUCT_RELATED_PRODUCT_CATEGORY('part','',(#{product}))"));
        let formation = self.put(&format!("PRODUCT_DEFINITION_FORMATION('','',#{product})"));
        let definition =
            self.put(&format!("PRODUCT_DEFINITION('design','',#{formation},#{})", self.definition));
        let shape = self.put(&format!("PRODUCT_DEFINITION_SHAPE('','',#{definition})"));
        (definition, shape)
    }
    /// A part with its solid; gives its definition, its representation and the axes at its origin.
    fn part(&mut self, name: &str, body: &Body) -> (usize, usize, usize) {
        let (definition, shape) = self.product(name);
        let origin = self.axes(&Axes::upright(Xyz(0.0, 0.0, 0.0)));
        let solid = self.brep(body.brep());
        let what = self.put(&format!(
            "ADVANCED_BREP_SHAPE_REPRESENTATION({},(#{origin},#{solid}),#{})",
            string(name),
            self.context
        ));
        self.put(&format!("SHAPE_DEFINITION_REPRESENTATION(#{shape},#{what})"));
        (definition, what, origin)
    }
    fn file(self, name: &str, date: Option<&str>) -> String {
        format!(
            "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('solids with exact faces'),'2;1');\nFILE_NAME({},{},(''),(''),'Brasswright','Brasswright','');\nFILE_SCHEMA(('AUTOMOTIVE_DESIGN {{ 1 0 10303 214 1 1 1 1 }}'));\nENDSEC;\nDATA;\n{}ENDSEC;\nEND-ISO-10303-21;\n",
            string(name),
            string(date.unwrap_or(NO_DATE)),
            self.data
        )
    }
}

pub(crate) fn part(body: &Body, name: &str, date: Option<&str>) -> String {
    let mut w = Writer::new();
    w.part(name, body);
    w.file(name, date)
}

/// Axes of a placement.
fn placed(p: &Placement) -> Axes {
    let down = if p.over { -1.0 } else { 1.0 };
    Axes { at: Xyz(p.x, p.y, p.z), axis: Xyz(0.0, 0.0, down), side: Xyz(cos(p.turn), sin(p.turn), 0.0) }
}

pub(crate) fn assembly(name: &str, parts: &[(&str, &Body, Placement)], date: Option<&str>) -> String {
    let mut w = Writer::new();
    let (whole, shape) = w.product(name);
    let origin = w.axes(&Axes::upright(Xyz(0.0, 0.0, 0.0)));
    let places: Vec<usize> = parts.iter().map(|(_, _, p)| w.axes(&placed(p))).collect();
    let mut items = vec![origin];
    items.extend(&places);
    let frame = w.put(&format!("SHAPE_REPRESENTATION({},{},#{})", string(name), list(&items), w.context));
    w.put(&format!("SHAPE_DEFINITION_REPRESENTATION(#{shape},#{frame})"));
    let mut known: Vec<(&str, *const Body, (usize, usize, usize))> = Vec::new();
    for (k, (part, body, _)) in parts.iter().enumerate() {
        let same = known.iter().find(|(n, b, _)| n == part && std::ptr::eq(*b, *body)).map(|f| f.2);
        let (definition, what, own) = same.unwrap_or_else(|| {
            let made = w.part(part, body);
            known.push((part, std::ptr::from_ref(*body), made));
            made
        });
        let n = string(&format!("{part} {}", k + 1));
        let use_of = w.put(&format!("NEXT_ASSEMBLY_USAGE_OCCURRENCE({n},{n},'',#{whole},#{definition},$)"));
        let placing = w.put(&format!("PRODUCT_DEFINITION_SHAPE('','',#{use_of})"));
        let moved = w.put(&format!("ITEM_DEFINED_TRANSFORMATION('','',#{own},#{})", places[k]));
        let relation = w.put(&format!(
            "(REPRESENTATION_RELATIONSHIP('','',#{what},#{frame})REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(#{moved})SHAPE_REPRESENTATION_RELATIONSHIP())"
        ));
        w.put(&format!("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(#{relation},#{placing})"));
    }
    w.file(name, date)
}

#[cfg(test)]
mod tests {
    use super::{real, string};

    #[test]
    fn numbers_have_a_point_and_read_back() {
        assert_eq!([real(0.0), real(-0.0), real(2.0), real(-0.25)], ["0.", "0.", "2.", "-0.25"]);
        assert_eq!([real(1e-9), real(1.5e22)], ["1.E-9", "1.5E22"]);
    }
    #[test]
    fn strings_are_plain() {
        assert_eq!(string("pin's Ø"), "'pin''s \\X2\\00D8\\X0\\'");
    }
}
