//! Teeth with two unlike faces, as of escape wheels and ratchets: each face by its own setting of a flat-sided cutter.

use super::super::{Check, Figure, Operation, PassTable, Spread, hole::seen};
use super::Job;
use kurbo::Point;
use movement::part::Toothing;
use reckon::maths::{PI, atan2, hypot};
use reckon::{Alternative, Angle, Book, Cell, Diameter, Id, Length, Source, Val};
use shape::profile::{Profile, Segment};

/// Settings of a flat-sided cutter.
pub static SETTINGS: Source = Source::derived(
    "a face stands parallel to the cutter's flat side when it points level at the cutter; the side is then as high over the axis as the face passes it",
)
.with_formula("h = x_u y_p − y_u x_p; turn between the faces = difference of their directions");
/// Tips of escape wheels.
pub static TIPS: Source =
    Source::practice("tip circle of an escape wheel true to 0.01 mm, lands alike to 0.02 mm");
/// Mouth up to which a form cutter takes the whole space.
const WHOLE: f64 = 2.5;
/// A flank nearer to its chord than this is cut straight.
const STRAIGHT: f64 = 0.01;

/// One face of a space.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Face {
    /// Direction from its foot to its tip, radians.
    pub out: f64,
    /// How far its line passes the axis, positive where the axis lies below it when the face points right.
    pub over: f64,
    /// From the axis to its foot along it, when it points at the cutter.
    pub foot: f64,
    /// Its tip.
    pub tip: Point,
    /// How far it leaves the straight line from tip to foot.
    pub bulge: f64,
}
/// The two faces of a space, that at its beginning first, and the land between two spaces.
#[derive(Copy, Clone, PartialEq, Debug)]
pub struct Faces {
    /// The face after which the space begins, going round counter-clockwise: cut by the cutter's underside.
    pub first: Face,
    /// The face before which it ends: cut by its upper side.
    pub second: Face,
    /// Width of the land at the tip.
    pub land: f64,
}
fn radius(p: Point) -> f64 {
    hypot(p.x, p.y)
}
fn face(points: &[Point], low: f64) -> Option<Face> {
    let tip = *points.first()?;
    let end = points.iter().position(|p| radius(*p) <= low)?;
    let foot = points[end];
    let (dx, dy) = (tip.x - foot.x, tip.y - foot.y);
    let long = hypot(dx, dy);
    if long < 1e-6 {
        return None;
    }
    let (x, y) = (dx / long, dy / long);
    let aside = |p: &Point| ((p.x - foot.x) * y - (p.y - foot.y) * x).abs();
    let bulge = points[..=end].iter().map(aside).fold(0.0, f64::max);
    Some(Face { out: atan2(y, x), over: x * tip.y - y * tip.x, foot: foot.x * x + foot.y * y, tip, bulge })
}
/// The faces of a ring of teeth about the origin; nothing where it shows no space.
#[must_use]
pub fn faces(outline: &Profile) -> Option<Faces> {
    let all = outline.segments();
    let tip = all.iter().map(|s| radius(s.from())).fold(0.0, f64::max);
    let at_tip = |p: Point| radius(p) >= tip * (1.0 - 1e-6);
    let first = all.iter().position(|s| at_tip(s.from()) && !at_tip(s.to()))?;
    let turn: Vec<&Segment> = all.iter().cycle().skip(first).take(all.len()).collect();
    let mut points = vec![turn.first()?.from()];
    let mut used = 0;
    for s in &turn {
        used += 1;
        for k in 1..=40 {
            points.push(s.at(f64::from(k) / 40.0));
        }
        if at_tip(s.to()) {
            break;
        }
    }
    let end = *points.last()?;
    let next = turn.iter().skip(used).find(|s| at_tip(s.from()) && !at_tip(s.to()))?.from();
    let root = points.iter().map(|p| radius(*p)).fold(f64::MAX, f64::min);
    // The rounding of the root does not belong to the faces.
    let low = root + (tip - root) * 0.2;
    let back: Vec<Point> = points.iter().rev().copied().collect();
    Some(Faces {
        first: face(&points, low)?,
        second: face(&back, low)?,
        land: hypot(next.x - end.x, next.y - end.y),
    })
}
/// The face with a direction turned by a little, its tip kept: how high its line then passes the axis.
fn over_at(f: &Face, extra: f64) -> f64 {
    let (x, y) = (reckon::maths::cos(f.out + extra), reckon::maths::sin(f.out + extra));
    x * f.tip.y - y * f.tip.x
}
/// The operation that tells the two settings; nothing for teeth of a module or without two faces.
pub(super) fn settings(
    job: &Job<'_>,
    t: &Toothing,
    swing: Val<Diameter>,
    mouth: f64,
    book: &mut Book,
) -> Option<Operation> {
    if t.module.is_some() {
        return None;
    }
    let both = faces(job.outline)?;
    let slug = &t.slug;
    let inputs: Vec<Id> = vec![t.count.id(), t.outside.id(), t.root.id(), swing.id()];
    let straight = both.first.bulge.max(both.second.bulge) <= STRAIGHT;
    let two = straight && mouth > WHOLE;
    let what = [
        "one form cutter takes the whole space at one setting",
        "a flat-sided cutter takes each face by a setting of its own",
    ];
    book.chosen(
        format!("{slug}.cut_by"),
        what[usize::from(two)].to_owned(),
        "a space wider than 2.5 mm is too much for one form cutter; two settings need straight faces",
        vec![
            Alternative {
                what: what[0].to_owned(),
                taken: !two,
                why: format!("it would cut {} mm wide at the tips", reckon::print::fixed(mouth, 2)),
            },
            Alternative {
                what: what[1].to_owned(),
                taken: two,
                why: format!(
                    "the faces leave a straight line by {} mm at most",
                    reckon::print::fixed(both.first.bulge.max(both.second.bulge), 3)
                ),
            },
        ],
        inputs.clone(),
        &SETTINGS,
    );
    let mut length = |tail: &str, mm: f64, what: &str| {
        book.solved(format!("{slug}.{tail}"), Length::mm(mm), (what, 1, 0.0), inputs.clone(), &SETTINGS)
    };
    let land = length("land", both.land, "straight across a tip");
    let apart = (both.first.out - both.second.out).rem_euclid(2.0 * PI);
    let apart = if apart > PI { apart - 2.0 * PI } else { apart };
    // The crank stops at a hole: the second face is turned to the nearest, and the cutter's height put right for it.
    let (words, made) = by_crank(job, apart);
    let extra = made - apart;
    let low = length("first.over", both.first.over, "of the underside over the axis, the first face level");
    let high = length(
        "second.over",
        over_at(&both.second, -extra),
        "of the upper side over the axis, the second face level",
    );
    let mut far = |tail: &str, foot: f64| {
        length(
            tail,
            swing.bare().in_mm() / 2.0 + foot,
            "head's axis to spindle's axis, edge at the foot of the face",
        )
    };
    let (in_first, in_second) = (far("first.axes", both.first.foot), far("second.axes", both.second.foot));
    let undercut = length(
        "undercut",
        both.first.over.abs().max(both.second.over.abs()),
        "from the axis to the line of the face that leans most",
    );
    let turn = book.solved(
        format!("{slug}.between_faces"),
        Angle::si(made),
        ("turn of the wheel from the first face level to the second, at the nearest hole", 1, 0.0),
        inputs.clone(),
        &SETTINGS,
    );
    let row = |n: &str, side: &str, v: &Val<Length>, axes: &Val<Length>| {
        let where_ = if v.bare() >= Length::ZERO { "above" } else { "below" };
        vec![
            Cell::word(n),
            Cell::word(side),
            Cell::of(&v.bare().abs()),
            Cell::word(where_),
            Cell::of(&axes.bare()),
        ]
    };
    let rows = vec![
        row("face after which the space begins", "underside", &low, &in_first),
        row("face before which it ends", "upper side", &high, &in_second),
    ];
    let id = book.table(
        format_args!("{slug}.settings"),
        &["face", "cut by the cutter's", "side from the axis", "it stands", "axes apart, at the foot"],
        rows,
        "seen from the free end of the head, the cutter on the right, spaces counted against the clock",
        vec![low.id(), high.id(), in_first.id(), in_second.id()],
        &SETTINGS,
    );
    let mut lines = Vec::new();
    if two {
        lines.push("Cutter: one flat side without relief in its plane, edge rounded to the root; narrow enough to pass at the foot. The form cutter of the list serves with the corner stoned off on the side that does not cut.".to_owned());
        lines.push("Seen from the free end of the head with the cutter on the right. First setting: side and height by the first row, all faces round, 0.05 mm short of the foot, then to it.".to_owned());
        lines.push(format!("Second setting: {words}; height by the second row, then all round again. What stands between the two cuts breaks out as the second comes through: cover it, light feed."));
    } else {
        lines.push("One form cutter, on the middle of the space as its sheet shows it. The settings below are for trying it: with the face level under a straight edge or the flat side of a saw, the height over the axis must be that of the list.".to_owned());
    }
    lines.push("Which way round: lay the wheel's template on the blank and mark which side faces the free end of the head, before the first cut. A wheel cut the wrong way round is turned over on its collet, never filed.".to_owned());
    lines.push("The second round decides the land: stop at the first two teeth and measure it; too wide, lower or raise the cutter by what is to come off.".to_owned());
    let checks = vec![
        Check {
            what: "land at the tips".to_owned(),
            limits: Some((land.bare() + Length::mm(0.02), land.bare() - Length::mm(0.02))),
            seen: Some("under the glass against a shank of that size; all alike".to_owned()),
            id: Some(land.id()),
        },
        seen(
            "tip circle",
            "indicator on the lands as it turns on its mandrel: within 0.01 mm, before the wheel leaves it",
        ),
        seen("direction", "laid on its template: faces lean as drawn, all the same way"),
    ];
    Some(Operation {
        title: "Two faces, two settings".to_owned(),
        lines,
        tool: Some("height gauge, protractor on the crank".to_owned()),
        figures: vec![
            Figure::of("land at the tips", &land),
            Figure::as_text(
                "turn between the faces",
                &turn,
                format!("{}°", reckon::print::fixed(turn.bare().in_deg().abs(), 2)),
            ),
            Figure::of("face's line from the axis, at most", &undercut),
        ],
        tables: vec![PassTable { title: "settings of the cutter's flat side".to_owned(), id }],
        checks,
        time: Spread::minutes(10.0, 20.0, 40.0),
        ..Operation::default()
    })
}
/// The turn between the faces on the crank: in words, and as it comes out at the nearest hole.
fn by_crank(job: &Job<'_>, apart: f64) -> (String, f64) {
    let way = if apart >= 0.0 { "against the clock" } else { "clockwise" };
    let degrees = |turn: f64| reckon::print::fixed((turn * 180.0 / PI).abs(), 2);
    let Some(head) = &job.shop.dividing else {
        return (format!("the wheel {}° {way}", degrees(apart)), apart);
    };
    let ratio = head.ratio.bare().n();
    let most = head.plates.iter().flatten().map(|c| c.bare().0).max().unwrap_or(1).max(1);
    #[expect(clippy::cast_precision_loss, reason = "holes of a plate")]
    let circle = most as f64;
    let all = (apart.abs() / (2.0 * PI) * ratio * circle).round();
    let turns = (all / circle).floor();
    let made = all / (ratio * circle) * 2.0 * PI;
    let text = format!(
        "the wheel {}° {way}, that is {} turns and {} holes of the circle of {most} (then back to the circle of the list for dividing; count on from there)",
        degrees(made),
        reckon::print::fixed(turns, 0),
        reckon::print::fixed(all - turns * circle, 0),
    );
    (text, if apart < 0.0 { -made } else { made })
}
