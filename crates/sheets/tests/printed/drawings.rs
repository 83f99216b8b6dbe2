//! A drawing of a part, sizes placed with the faces that print it.

use drafting::size::{Paper as Field, Size, Text as SizeText};
use drafting::turned::draw;
use kurbo::Point;
use shape::turned::{Bore, Edge, End, Feature, Outer, Side, Thread, Turned};
use sheets::{Block, Fit, Letters, MM, Paper, Picture, Text, Typecase, drawing, pdf, svg};

use crate::demo::{folder, poppler};
use crate::{one_sheet, set};

/// A bridge screw, M4 × 11, head ⌀8 × 3.2 with a slot.
fn screw() -> (Turned, Vec<Size>) {
    let outer = Outer::new()
        .step(8.0, 3.2)
        .leading(Edge::Chamfer { along: 0.3, deep: 0.3 })
        .step(4.0, 11.0)
        .trailing(Edge::Chamfer { along: 0.5, deep: 0.5 });
    let thread = Thread {
        side: Side::Outside,
        from: 6.0,
        to: 14.2,
        // ISO 724: minor diameter of M4 × 0.7 is 3.242 mm.
        major: 4.0,
        minor: 3.242,
        pitch: 0.7,
        run_out: 1.4,
        label: "M4".into(),
    };
    let part = Turned::new(outer.profile()).with(Feature::Thread(thread)).with(Feature::Slot {
        end: End::Datum,
        width: 1.2,
        depth: 1.4,
    });
    let length =
        |from: f64, to: f64, text: &str| Size::Length { from, to, on: Side::Outside, text: text.into() };
    let sizes = vec![
        length(3.2, 14.2, "11.0 ±0.1"),
        length(0.0, 3.2, "3.20"),
        length(0.0, 1.4, "1.40"),
        Size::Diameter {
            at: 1.6, on: Side::Outside, text: SizeText::limits("⌀8.00", "−0.02", "−0.05")
        },
        Size::Diameter { at: 10.0, on: Side::Outside, text: "M4 × 0.7 6g".into() },
        Size::SlotWidth { feature: 1, text: "1.20".into() },
        Size::Note { at: Point::new(0.0, 3.7), text: "0.3 × 45°".into() },
        Size::Surface { at: Point::new(2.0, 4.0), text: "Ra 0.4".into() },
    ];
    (part, sizes)
}

/// A bush, ⌀10 × 6, bored ⌀4 through.
fn bush() -> (Turned, Vec<Size>) {
    let part = Turned::stepped(&[(10.0, 4.0), (7.0, 2.0)]).bored(Bore::through(4.0));
    let sizes = vec![
        Size::Length { from: 0.0, to: 6.0, on: Side::Outside, text: "6.0 ±0.1".into() },
        Size::Length { from: 0.0, to: 4.0, on: Side::Outside, text: "4.00".into() },
        Size::Diameter { at: 2.0, on: Side::Outside, text: "⌀10.0".into() },
        Size::Diameter { at: 5.0, on: Side::Outside, text: SizeText::limits("⌀7.00", "+0.02", "+0.01") },
        Size::Diameter { at: 3.0, on: Side::Bore, text: "⌀4 H7".into() },
    ];
    (part, sizes)
}

#[test]
fn sizes_placed_by_the_ruler_do_not_meet_when_printed() {
    let case = Typecase::new();
    let mut blocks = vec![Block::Heading(1, "Drawings".into())];
    for (name, (part, sizes)) in [("bridge screw", screw()), ("bush", bush())] {
        let width = Paper::A4.body().width() / MM;
        let sketch =
            draw(&part, &sizes, &Field::new(name, width, 100.0), &case).expect("all sizes find a place");
        let page = drawing(&case, &sketch).expect("all signs are in the case");
        let boxes: Vec<_> =
            page.runs().iter().map(|r| (r.text.clone(), r.extent().inflate(-0.15, -0.15))).collect();
        for (i, (a, ra)) in boxes.iter().enumerate() {
            assert!(
                ra.x0 >= -0.2 && ra.y0 >= -0.2 && ra.x1 <= page.width + 0.2 && ra.y1 <= page.height + 0.2
            );
            for (b, rb) in &boxes[i + 1..] {
                let both = ra.intersect(*rb);
                assert!(both.width() <= 0.0 || both.height() <= 0.0, "{name}: {a:?} lies over {b:?}");
            }
        }
        let outlines = svg(&page, Letters::Outlines, "d");
        std::fs::write(folder("drawings").join(format!("{}.svg", name.replace(' ', "-"))), outlines)
            .expect("written");
        let caption = Text::from(sketch.title.as_str());
        blocks.push(Block::Picture(Picture { sketch, fit: Fit::True, caption }));
    }
    let pages = set(&one_sheet(blocks));
    let dir = folder("drawings");
    std::fs::write(dir.join("it.pdf"), pdf(&pages).expect("PDF/A-2u")).expect("written");
    let text = String::from_utf8(poppler("pdftotext", &["-layout", "it.pdf", "-"], &dir)).expect("UTF-8");
    for word in ["11.0 ±0.1", "M4 × 0.7 6g", "⌀4 H7", "Ra 0.4"] {
        assert!(text.contains(word), "{word} is not found in\n{text}");
    }
}
