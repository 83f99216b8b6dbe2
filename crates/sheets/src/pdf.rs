//! Pages as a PDF/A-2u file: kept for decades, every letter searchable.
//! Nothing reads a clock, so the same pages give the same bytes.

use krilla::annotation::{Annotation, LinkAnnotation, Target};
use krilla::color::{luma, rgb};
use krilla::configure::{Archival, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Transform};
use krilla::metadata::{DateTime, Metadata};
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Paint, Stroke as PdfStroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Document, SerializeSettings};
use kurbo::{BezPath, PathEl, Rect};

use crate::About;
use crate::page::{Ink, Item, Landmark, Page, Pages, Run, Stroke};
use crate::typecase::faces;
use crate::unprintable::Unprintable;

/// Writes pages as PDF/A-2u.
///
/// # Errors
/// [`Unprintable::NoSuchDay`] for a date that does not exist and
/// [`Unprintable::Writer`] when the archival rules are broken.
pub fn pdf(pages: &Pages) -> Result<Vec<u8>, Unprintable> {
    let said = |e: &dyn std::fmt::Debug| Unprintable::Writer { said: format!("{e:?}") };
    let configuration =
        ConfigurationBuilder::new().with_archival_validator(Archival::A2_U).finish().map_err(|e| said(&e))?;
    let settings = SerializeSettings { configuration, ..SerializeSettings::default() };
    let mut document = Document::new_with(settings);
    let mut fonts: Vec<Option<Font>> = vec![None; faces().len()];
    for page in &pages.pages {
        let size = PageSettings::from_wh(page.width as f32, page.height as f32)
            .ok_or_else(|| Unprintable::Writer { said: "a page without area".to_owned() })?;
        let mut sheet = document.start_page_with(size);
        let mut surface = sheet.surface();
        draw(&mut surface, &page.items, &mut fonts)?;
        surface.finish();
        for (area, to) in links(page) {
            if let Some(mark) = pages.landmarks.get(to)
                && let Some(link) = link(area, mark)
            {
                sheet.add_annotation(link);
            }
        }
        sheet.finish();
    }
    document.set_outline(outline(&pages.landmarks));
    document.set_metadata(metadata(&pages.about)?);
    document.finish().map_err(|e| said(&e))
}

fn metadata(about: &About) -> Result<Metadata, Unprintable> {
    let day @ (y, m, d) = about.day;
    let leap = (y % 4 == 0 && y % 100 != 0) || y % 400 == 0;
    let long = match m {
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        1..=12 => 31,
        _ => 0,
    };
    if y == 0 || d == 0 || d > long {
        return Err(Unprintable::NoSuchDay { day });
    }
    let date = DateTime::new(y).month(m).day(d).hour(0).minute(0).second(0);
    Ok(Metadata::new()
        .title(about.title.clone())
        .description(about.project.clone())
        .language("en".to_owned())
        .creator("Brasswright".to_owned())
        .producer("Brasswright".to_owned())
        .document_id(about.stamp.clone())
        .creation_date(date.utc_offset_hour(0).utc_offset_minute(0)))
}

fn links(page: &Page) -> impl Iterator<Item = (Rect, usize)> + '_ {
    page.items.iter().filter_map(|i| if let Item::Link { area, to } = i { Some((*area, *to)) } else { None })
}

fn link(area: Rect, mark: &Landmark) -> Option<Annotation> {
    let r = krilla::geom::Rect::from_ltrb(area.x0 as f32, area.y0 as f32, area.x1 as f32, area.y1 as f32)?;
    let target = Target::Destination(place(mark).into());
    Some(Annotation::new_link(LinkAnnotation::new(r, target), Some(format!("go to {}", mark.text))))
}

fn place(mark: &Landmark) -> XyzDestination {
    XyzDestination::new(mark.page, Point::from_xy(0.0, (mark.y - 6.0).max(0.0) as f32))
}

fn outline(marks: &[Landmark]) -> Outline {
    let mut outline = Outline::new();
    let mut rest = marks;
    while let Some((first, _)) = rest.split_first() {
        let (node, used) = branch(rest, first.level);
        outline.push_child(node);
        rest = &rest[used..];
    }
    outline
}

/// The first mark with all deeper ones that follow it, and how many these are.
fn branch(marks: &[Landmark], level: u8) -> (OutlineNode, usize) {
    let mut node = OutlineNode::new(marks[0].text.clone(), place(&marks[0]));
    let mut used = 1;
    while let Some(next) = marks.get(used) {
        if next.level <= level {
            break;
        }
        let (child, n) = branch(&marks[used..], next.level);
        node.push_child(child);
        used += n;
    }
    (node, used)
}

fn draw(s: &mut Surface<'_>, items: &[Item], fonts: &mut [Option<Font>]) -> Result<(), Unprintable> {
    for item in items {
        match item {
            Item::Path { path: outline, fill, stroke } => {
                let Some(p) = path(outline) else { continue };
                s.set_fill(fill.map(filled));
                s.set_stroke(stroke.as_ref().map(stroked));
                s.draw_path(&p);
            }
            Item::Run(run) => text(s, run, fonts)?,
            Item::Clip { outline, items } => {
                let Some(p) = path(outline) else { continue };
                s.push_clip_path(&p, &FillRule::NonZero);
                draw(s, items, fonts)?;
                s.pop();
            }
            Item::Link { .. } => {}
        }
    }
    Ok(())
}

fn text(s: &mut Surface<'_>, run: &Run, fonts: &mut [Option<Font>]) -> Result<(), Unprintable> {
    if fonts[run.face].is_none() {
        // One font object for the whole document, or the face is embedded anew.
        fonts[run.face] = Font::new(faces()[run.face].bytes().into(), 0);
    }
    let Some(font) = fonts[run.face].clone() else {
        return Err(Unprintable::Writer {
            said: format!("face {} cannot be read", faces()[run.face].origin),
        });
    };
    let size = run.size as f32;
    let glyphs: Vec<KrillaGlyph> = run
        .glyphs
        .iter()
        .map(|g| {
            let id = GlyphId::new(g.id);
            KrillaGlyph::new(id, g.advance / size, g.dx / size, g.dy / size, 0.0, g.from..g.to, None)
        })
        .collect();
    s.set_stroke(None);
    s.set_fill(Some(filled(run.ink)));
    let level = run.turn.y == 0.0 && run.turn.x > 0.0;
    let start = if level {
        Point::from_xy(run.at.x as f32, run.at.y as f32)
    } else {
        let [a, b, c, d, e, f] = run.place().as_coeffs().map(|v| v as f32);
        s.push_transform(&Transform::from_row(a, b, c, d, e, f));
        Point::from_xy(0.0, 0.0)
    };
    s.draw_glyphs(start, &glyphs, font, &run.text, size, false);
    if !level {
        s.pop();
    }
    Ok(())
}

fn paint(ink: Ink) -> Paint {
    let [r, g, b] = ink.0;
    match ink.shade() {
        Some(shade) => luma::Color::new(shade).into(),
        None => rgb::Color::new(r, g, b).into(),
    }
}
fn filled(ink: Ink) -> Fill {
    Fill { paint: paint(ink), opacity: NormalizedF32::ONE, rule: FillRule::NonZero }
}

fn stroked(stroke: &Stroke) -> PdfStroke {
    let (line_cap, line_join) =
        if stroke.round { (LineCap::Round, LineJoin::Round) } else { (LineCap::Butt, LineJoin::Miter) };
    let dash = (!stroke.dash.is_empty())
        .then(|| StrokeDash { array: stroke.dash.iter().map(|d| *d as f32).collect(), offset: 0.0 });
    PdfStroke {
        paint: paint(stroke.ink),
        width: stroke.width as f32,
        line_cap,
        line_join,
        dash,
        ..PdfStroke::default()
    }
}

fn path(outline: &BezPath) -> Option<Path> {
    let mut b = PathBuilder::new();
    let f = |p: kurbo::Point| (p.x as f32, p.y as f32);
    for el in outline.elements() {
        match *el {
            PathEl::MoveTo(p) => b.move_to(f(p).0, f(p).1),
            PathEl::LineTo(p) => b.line_to(f(p).0, f(p).1),
            PathEl::QuadTo(q, p) => b.quad_to(f(q).0, f(q).1, f(p).0, f(p).1),
            PathEl::CurveTo(q, r, p) => b.cubic_to(f(q).0, f(q).1, f(r).0, f(r).1, f(p).0, f(p).1),
            PathEl::ClosePath => b.close(),
        }
    }
    b.finish()
}
