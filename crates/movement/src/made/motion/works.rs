//! The wheels behind the dial, their pipes, the stud, and the bow washer.

use super::super::common::{About, LIMITS, house, long, round_extent, sized};
use super::super::wheels::hole;
use crate::design::motion::MotionDesign;
use crate::design::{MeshSizes, Movement, Toothed, top_word};
use crate::hardware::builder::{Builder, Edges};
use crate::part::{AxisHole, Figure, FlatBody, FlatNote, Flats, Part, Told, Toothing, TurnedBody};
use kurbo::Point;
use reckon::source::{GEOMETRY, HOUSE};
use reckon::{Book, Diameter, Length, Pressure, Source, Val, work};
use record::facts::{Finish, MotionWork, MovementFacts, Size};
use shape::flat::Flat;
use shape::profile::Profile;
use shape::turned::{End, Feature};
use tables::material::Material;

/// What is pressed into a plate.
static IN_PLATE: Source = Source::derived(
    "as much larger than its hole as stresses the plate round it to 0.8 of its proof stress (Lamé; three diameters of the plate counted as a ring), with 0.8 of both roughnesses smoothed away",
)
.with_formula("δ = p d [(K + ν)/E + (1 − νs)/Es] + 0.8 (Rz + Rz), p = 0.8 σ/K, K = (D² + d²)/(D² − d²)");

/// All parts of the motion work.
pub(super) fn parts(m: &Movement, facts: &MovementFacts, book: &mut Book) -> Vec<Part> {
    let (Some(d), Some(mw)) = (&m.motion, &facts.motion_work) else { return Vec::new() };
    let mut all = vec![
        cannon(d, mw, book),
        wheel(("minute wheel", "motion.minute_wheel"), &d.first, d.pipes.minute_seat, mw, book),
        minute_pinion(d, mw, book),
        wheel(("hour wheel", "motion.hour_wheel"), &d.second, d.pipes.hour_seat, mw, book),
        hour_pipe(d, mw, book),
    ];
    all.extend(stud(d, mw, facts, book));
    all.extend(bow(d, mw, book));
    all
}
/// A hole right along the axis.
fn bore(b: &mut Builder<'_>, size: Size<Diameter>) {
    b.hole(AxisHole {
        what: "bore".to_owned(),
        slug: "bore".to_owned(),
        end: End::Datum,
        size,
        depth: None,
        thread: None,
        sink: false,
    });
    let middle = b.here().bare().in_mm() / 2.0;
    b.tell(Told::Across { at: middle, inside: true, figure: Figure::diameter(&size) });
}
/// Cuts leaves into a finished body.
fn leaves(body: &mut TurnedBody, along: (Val<Length>, Val<Length>), s: &MeshSizes, slug: &str) {
    let (z0, z1) = (along.0.bare().in_mm(), along.1.bare().in_mm());
    body.solid = body.solid.clone().with(Feature::Leaves {
        from: z0,
        to: z1,
        section: s.pinion.outline.clone(),
        root: s.pinion.root.bare().in_mm() / 2.0,
    });
    let text = format!("{} leaves, module {}", s.pinion.count.shown(), s.module.shown());
    body.told.push(Told::Note { z: f64::midpoint(z0, z1), r: s.pinion.outside.bare().in_mm() / 2.0, text });
    body.leaves.push(Toothing {
        what: "leaves".to_owned(),
        slug: slug.to_owned(),
        count: s.pinion.count,
        module: Some(s.module),
        outside: s.pinion.outside,
        root: s.pinion.root,
        depth: s.pinion.depth,
        form: top_word(s.top).to_owned(),
        along: Some(along),
    });
}
fn cannon(d: &MotionDesign, mw: &MotionWork, book: &mut Book) -> Part {
    let slug = "motion.cannon";
    let (h, p) = (&d.heights, &d.pipes);
    let (from, to, leaf) = (h.cannon, h.cannon_end, h.cannon_leaves);
    let whole = work!(book, format_args!("{slug}.length"), |to, from| to - from, &GEOMETRY);
    let hand = h.hand;
    let seat = work!(book, format_args!("{slug}.seat_length"), |hand| hand - Length::mm(0.1), &HOUSE);
    let pipe =
        work!(book, format_args!("{slug}.pipe_length"), |whole, leaf, seat| whole - leaf - seat, &GEOMETRY);
    let whole = long(whole, &format!("{slug}.length"), 0.05, -0.05, book);
    let blank = sized(d.first.pinion.outside, &format!("{slug}.blank"), 0.0, -0.02, book);
    let outside = sized(p.cannon, &format!("{slug}.pipe"), 0.0, -0.01, book);
    let inside = sized(p.bore, &format!("{slug}.bore"), 0.01, 0.0, book);
    let square = p.square;
    let mut b = Builder::new(book, slug);
    let (z0, z1) = b.step("leaves", leaf, blank, Edges::default());
    b.tell_across(&z0, &z1, Figure::diameter(&blank));
    b.tell_along(&z0, &z1, Figure::plain(&leaf));
    let (p0, p1) = b.step("pipe", pipe, outside, Edges::default());
    b.tell_across(&p0, &p1, Figure::diameter(&outside));
    let (s0, s1) = b.step("square", seat, outside, Edges::default());
    b.tell_along(&s0, &s1, Figure::plain(&seat));
    b.tell_along(&z0, &s1, Figure::length(&whole));
    b.flats(Flats { from: s0, to: s1, across: square, count: 4 });
    bore(&mut b, inside);
    let mut body = b.finish((whole.upper, whole.lower));
    leaves(&mut body, (z0, z1), &d.first, slug);
    about(
        ("cannon", slug),
        mw,
        "turns free on the minute arbor; the bow washer behind it carries it along",
        &[],
    )
    .turned("cannon", body, book)
}
fn about<'a>((name, slug): (&str, &str), mw: &'a MotionWork, note: &str, finish: &'a [Finish]) -> About<'a> {
    About {
        name: name.to_owned(),
        slug: slug.to_owned(),
        at: &mw.at,
        material: mw.material,
        finish,
        count: 1,
        note: (!note.is_empty()).then(|| note.to_owned()),
    }
}
fn wheel(
    (name, slug): (&str, &str),
    s: &MeshSizes,
    seat: Val<Diameter>,
    mw: &MotionWork,
    book: &mut Book,
) -> Part {
    let Toothed { count, outside, root, depth, outline, .. } = &s.wheel;
    let thickness = long(mw.thickness, &format!("{slug}.thickness"), 0.05, -0.05, book);
    let over = sized(*outside, &format!("{slug}.outside"), 0.0, -0.02, book);
    let hole_size = sized(seat, &format!("{slug}.bore_for"), 0.012, 0.0, book);
    let solid =
        Flat::new(outline.clone(), thickness.nominal.bare().in_mm()).hole(0.0, 0.0, seat.bare().in_mm(), "A");
    let (extent, datum) = round_extent(*outside, slug, book);
    let module = s.module;
    let zero = work!(book, format_args!("{slug}.middle"), |module| module * 0.0, &LIMITS);
    let r = outside.bare().in_mm() / 2.0;
    let body = FlatBody {
        thickness,
        holes: vec![hole("A", hole_size, zero, &mw.at)],
        extent,
        datum,
        round: Some(over),
        teeth: Some(Toothing {
            what: "teeth".to_owned(),
            slug: slug.to_owned(),
            count: *count,
            module: Some(module),
            outside: *outside,
            root: *root,
            depth: *depth,
            form: format!("arcs of BS 978-2, for {} leaves", s.pinion.count.shown()),
            along: None,
        }),
        notes: vec![
            ((r * 0.707, r * 0.707), FlatNote::Figure(Figure::diameter(&over))),
            ((-r, 0.0), FlatNote::Words(format!("{} teeth, module {}", count.shown(), module.shown()))),
        ],
        solid,
    };
    about((name, slug), mw, "", &[]).flat("wheel", body, book)
}
/// Metal to rivet over a wheel.
fn rivet(slug: &str, thick: Val<Length>, book: &mut Book) -> Val<Length> {
    let over = house(&format!("{slug}.rivet"), 0.3, "metal to rivet over the wheel", book);
    work!(book, format_args!("{slug}.seat_length"), |thick, over| thick + over, &HOUSE)
}
fn minute_pinion(d: &MotionDesign, mw: &MotionWork, book: &mut Book) -> Part {
    let slug = "motion.minute_pinion";
    let seat_length = rivet(slug, mw.thickness, book);
    let leaf = d.heights.minute_leaves;
    let whole = work!(book, format_args!("{slug}.length"), |seat_length, leaf| seat_length + leaf, &GEOMETRY);
    let whole = long(whole, &format!("{slug}.length"), 0.05, -0.05, book);
    let seat = sized(d.pipes.minute_seat, &format!("{slug}.seat"), 0.0, -0.009, book);
    let blank = sized(d.second.pinion.outside, &format!("{slug}.blank"), 0.0, -0.02, book);
    let inside = sized(d.pipes.minute_bore, &format!("{slug}.bore"), 0.03, 0.01, book);
    let mut b = Builder::new(book, slug);
    let (s0, s1) = b.step("seat", seat_length, seat, Edges::default());
    b.tell_across(&s0, &s1, Figure::diameter(&seat));
    b.tell_along(&s0, &s1, Figure::plain(&seat_length));
    let (z0, z1) = b.step("leaves", leaf, blank, Edges::default());
    b.tell_across(&z0, &z1, Figure::diameter(&blank));
    b.tell_along(&s0, &z1, Figure::length(&whole));
    bore(&mut b, inside);
    let mut body = b.finish((whole.upper, whole.lower));
    leaves(&mut body, (z0, z1), &d.second, slug);
    about(("minute pinion", slug), mw, "the minute wheel is riveted on; turns free on its stud", &[])
        .turned("pinion", body, book)
}
fn hour_pipe(d: &MotionDesign, mw: &MotionWork, book: &mut Book) -> Part {
    let slug = "motion.hour_pipe";
    let (h, p) = (&d.heights, &d.pipes);
    // Riveted flush behind the wheel: the seat counts no longer than the wheel once made.
    let seat_length = rivet(slug, mw.thickness, book);
    let flange = house(&format!("{slug}.flange"), 0.8, "in front of the wheel", book);
    let (end, back, thick, hand) = (h.hour_end, h.hour_wheel, mw.thickness, h.hand);
    let hand_seat = work!(book, format_args!("{slug}.hand_seat"), |hand| hand + Length::mm(0.2), &HOUSE);
    let pipe = work!(
        book,
        format_args!("{slug}.pipe_length"),
        |end, back, thick, flange, hand_seat| end - back - thick - flange - hand_seat,
        &GEOMETRY
    );
    let whole = work!(
        book,
        format_args!("{slug}.length"),
        |seat_length, flange, pipe, hand_seat| seat_length + flange + pipe + hand_seat,
        &GEOMETRY
    );
    let whole = long(whole, &format!("{slug}.length"), 0.05, -0.05, book);
    let seat = sized(p.hour_seat, &format!("{slug}.seat"), 0.0, -0.009, book);
    let hour_seat = p.hour_seat;
    let flange_d =
        work!(book, format_args!("{slug}.flange_diameter"), |hour_seat| hour_seat + Length::mm(2.5), &HOUSE);
    let flange_d = sized(flange_d, &format!("{slug}.flange_diameter"), 0.0, -0.1, book);
    let outside = sized(p.hour, &format!("{slug}.outside"), 0.0, -0.02, book);
    let hour = p.hour;
    let for_hand = work!(book, format_args!("{slug}.hand_diameter"), |hour| hour - Length::mm(0.5), &HOUSE);
    let for_hand = sized(for_hand, &format!("{slug}.hand_diameter"), 0.012, 0.004, book);
    let inside = sized(p.hour_bore, &format!("{slug}.bore"), 0.02, 0.0, book);
    let mut b = Builder::new(book, slug);
    let (s0, s1) = b.step("seat", seat_length, seat, Edges::default());
    b.tell_across(&s0, &s1, Figure::diameter(&seat));
    b.tell_along(&s0, &s1, Figure::plain(&seat_length));
    let (f0, f1) = b.step("flange", flange, flange_d, Edges::default());
    b.tell_across(&f0, &f1, Figure::diameter(&flange_d));
    b.tell_along(&f0, &f1, Figure::plain(&flange));
    let (p0, p1) = b.step("pipe", pipe, outside, Edges::default());
    b.tell_across(&p0, &p1, Figure::diameter(&outside));
    let (h0, h1) = b.step("hand's seat", hand_seat, for_hand, Edges::default());
    b.tell_across(&h0, &h1, Figure::diameter(&for_hand));
    b.tell_along(&h0, &h1, Figure::plain(&hand_seat));
    b.tell_along(&s0, &h1, Figure::length(&whole));
    bore(&mut b, inside);
    let body = b.finish((whole.upper, whole.lower));
    about(
        ("hour pipe", slug),
        mw,
        "the hour wheel is riveted on, flush behind; runs free on the cannon's pipe; the hour hand is pushed on",
        &[],
    )
    .turned("pipe", body, book)
}
fn stud(d: &MotionDesign, mw: &MotionWork, facts: &MovementFacts, book: &mut Book) -> Option<Part> {
    let slug = "motion.stud";
    let material = tables::material::find("silver steel").ok()?;
    let foot_length = house(&format!("{slug}.foot_length"), 3.0, "driven into the front plate", book);
    let stud = d.pipes.stud;
    let foot = work!(book, format_args!("{slug}.foot"), |stud| stud + Length::mm(0.5), &HOUSE);
    let foot = pressed(foot, (facts.plates.as_ref()?.material, material), &format!("{slug}.foot"), book);
    let back = d.heights.minute_wheel;
    let flange = work!(book, format_args!("{slug}.flange_length"), |back| back - Length::mm(0.1), &GEOMETRY);
    let across = work!(book, format_args!("{slug}.flange"), |stud| stud + Length::mm(2.0), &HOUSE);
    let across = sized(across, &format!("{slug}.flange"), 0.0, -0.1, book);
    let end = d.heights.stud_end;
    let run = work!(book, format_args!("{slug}.length_of_run"), |end, flange| end - flange, &GEOMETRY);
    let stud = sized(stud, &format!("{slug}.diameter"), 0.0, -0.008, book);
    let whole = work!(
        book,
        format_args!("{slug}.length"),
        |foot_length, flange, run| foot_length + flange + run,
        &GEOMETRY
    );
    let whole = long(whole, &format!("{slug}.length"), 0.1, -0.1, book);
    let pin = super::super::common::house_across(
        &format!("{slug}.pin_hole"),
        0.6,
        "for a pin that keeps the wheel on",
        book,
    );
    let mut b = Builder::new(book, slug);
    let (s0, s1) = b.step("foot", foot_length, foot, Edges::default());
    b.tell_across(&s0, &s1, Figure::diameter(&foot));
    b.tell_along(&s0, &s1, Figure::plain(&foot_length));
    let (f0, f1) = b.step("flange", flange, across, Edges::default());
    b.tell_across(&f0, &f1, Figure::diameter(&across));
    b.tell_along(&f0, &f1, Figure::plain(&flange));
    let (r0, r1) = b.step("stud", run, stud, Edges::default());
    b.tell_across(&r0, &r1, Figure::diameter(&stud));
    b.tell_along(&s0, &r1, Figure::length(&whole));
    let hole_at = work!(b.book, format_args!("{slug}.pin_at"), |r1| r1 - Length::mm(0.9), &GEOMETRY);
    b.cross_hole(hole_at, pin);
    let body = b.finish((whole.upper, whole.lower));
    let mut about = about(
        ("minute wheel stud", slug),
        mw,
        "driven into the front plate from outside; the hole across takes a pin in front of the wheel",
        &[Finish::Polish],
    );
    about.material = material;
    Some(about.turned("stud", body, book))
}
/// What is pressed into a plate: as much larger than its hole as the plate stands, turned within three thousandths.
fn pressed(
    foot: Val<Diameter>,
    (plate, round): (&'static Material, &'static Material),
    slug: &str,
    book: &mut Book,
) -> Size<Diameter> {
    let name = |tail: &str| format!("{slug}.{tail}");
    let around = work!(book, name("around"), |foot| foot * 3.0, &IN_PLATE);
    let proof = match &plate.proof {
        Some(f) => f.tabled(book, name("proof"), plate.row("proof stress")),
        None => book.assumed(
            name("proof"),
            Pressure::n_per_mm2(200.0),
            "house default: no proof stress is tabled, 200 N/mm²",
        ),
    };
    let e = plate.youngs.tabled(book, name("plate_modulus"), plate.row("modulus"));
    let nu = plate.poisson.tabled(book, name("plate_poisson"), plate.row("Poisson's ratio"));
    let own_e = round.youngs.tabled(book, name("modulus"), round.row("modulus"));
    let own_nu = round.poisson.tabled(book, name("poisson"), round.row("Poisson's ratio"));
    let rough = book.assumed(
        name("rough"),
        Length::mm(0.003),
        "house default: height of the turned and reamed roughness of each",
    );
    let stands = work!(
        book,
        name("interference_most"),
        |proof, foot, around, e, nu, own_e, own_nu, rough| {
            let (d, outside) = (foot.value(), around.value());
            let pressure = 0.8 * proof.value() / power::load::ring_factor(d, outside);
            let (ring, shaft) = ((e.value(), nu.value()), (own_e.value(), own_nu.value()));
            Length::si(power::load::press_interference(pressure, d, outside, ring, shaft)) + rough * 1.6
        },
        &IN_PLATE
    );
    let upper = work!(
        book,
        name("upper"),
        |stands| Length::mm((stands.in_mm() * 1e3 + 1e-6).floor() * 1e-3),
        &IN_PLATE
    );
    let lower = work!(book, name("lower"), |upper| upper - Length::mm(0.003), &IN_PLATE);
    Size { nominal: foot, upper, lower }
}
fn bow(d: &MotionDesign, mw: &MotionWork, book: &mut Book) -> Option<Part> {
    let bow = d.bow?;
    let slug = "motion.bow";
    let material = tables::material::find("blue spring steel").ok()?;
    let (l, w) = (bow.length.bare().in_mm(), bow.width.bare().in_mm());
    let half = (l - w) / 2.0;
    let outline = Profile::slot(Point::new(-half, 0.0), Point::new(half, 0.0), w);
    let arbor = d.pipes.bore;
    let clear = work!(book, format_args!("{slug}.hole"), |arbor| arbor + Length::mm(0.05), &HOUSE);
    let clear = sized(clear, &format!("{slug}.hole"), 0.05, 0.0, book);
    let solid =
        Flat::new(outline, bow.thickness.bare().in_mm()).hole(0.0, 0.0, clear.nominal.bare().in_mm(), "A");
    let (length, width) = (bow.length, bow.width);
    let zero = work!(book, format_args!("{slug}.middle"), |length| length * 0.0, &LIMITS);
    let datum = (
        work!(book, format_args!("{slug}.datum.x"), |length| -(length / 2.0), &GEOMETRY),
        work!(book, format_args!("{slug}.datum.y"), |width| -(width / 2.0), &GEOMETRY),
    );
    let thickness = long(bow.thickness, &format!("{slug}.thickness"), 0.01, -0.01, book);
    let body = FlatBody {
        thickness,
        holes: vec![hole("A", clear, zero, &mw.at)],
        extent: (bow.length, bow.width),
        datum,
        round: None,
        teeth: None,
        notes: vec![((half, w / 2.0), FlatNote::Words(format!("bowed {} when free", bow.rise.shown())))],
        solid,
    };
    let note = format!(
        "behind the cannon, its middle against the arbor's step. Bow it {} high; then the minute hand slips at {}: a pull of {} at its tip",
        bow.rise.shown(),
        bow.slip.shown(),
        bow.pull.shown()
    );
    let mut about = about(("bow washer", slug), mw, &note, &[]);
    about.material = material;
    Some(about.flat("washer", body, book))
}
