//! Where things come to lie on pages, and what is refused.

use kurbo::{Rect, Shape as _};
use sheets::{
    Block, Fit, Letters, Packet, Page, Paper, Picture, Template, Text, Typecase, Unprintable, lay_out, pdf,
    svg,
};

use crate::demo::{long_table, pillar, plate, turning};
use crate::{one_sheet, set, the_demo, words};

/// Everything that an eye could see outside the frame or over other text.
fn faults(page: &Page, frame: Rect) -> Vec<String> {
    let mut out = Vec::new();
    for item in &page.items {
        let e = item.extent();
        // A rule on the edge of the frame is drawn half over it.
        let f = frame.inflate(0.75, 0.75);
        if e.x0 < f.x0 || e.y0 < f.y0 || e.x1 > f.x1 || e.y1 > f.y1 {
            out.push(format!("{e:?} leaves the frame {f:?}: {item:?}"));
        }
    }
    let runs = page.runs();
    for (i, a) in runs.iter().enumerate() {
        for b in &runs[i + 1..] {
            let both = a.extent().inflate(-0.15, -0.15).intersect(b.extent().inflate(-0.15, -0.15));
            if both.width() > 0.0 && both.height() > 0.0 {
                out.push(format!("{:?} lies over {:?} by {both:?}", a.text, b.text));
            }
        }
    }
    out
}

#[test]
fn nothing_leaves_the_frame_or_lies_over_other_text() {
    for paper in [Paper::A4, Paper::Letter] {
        let pages = the_demo(paper);
        for (i, page) in pages.pages.iter().enumerate() {
            let found = faults(page, paper.frame());
            assert!(found.is_empty(), "{paper:?} page {}: {found:#?}", i + 1);
        }
    }
}

#[test]
fn no_glyph_is_the_empty_one_and_no_type_below_seven_points() {
    for page in the_demo(Paper::A4).pages {
        for run in page.runs() {
            assert!(run.glyphs.iter().all(|g| g.id != 0), "{:?}", run.text);
            assert!(run.size >= 7.0 - 1e-5, "{} pt: {:?}", run.size, run.text);
        }
    }
}

#[test]
fn sign_that_no_face_has_is_refused() {
    let packet = one_sheet(vec![Block::Para("true position ⌖ 0.1".into())]);
    let said = lay_out(&Typecase::new(), &packet).expect_err("no face has it");
    let text = "true position ⌖ 0.1".to_owned();
    assert_eq!(said, vec![Unprintable::NoGlyph { sign: '⌖', text }]);
}

#[test]
fn long_table_has_its_header_on_every_page_and_splits_no_group() {
    for rows in [90, 200] {
        let pages =
            set(&one_sheet(vec![Block::Heading(1, "Cut list".into()), Block::Table(long_table(rows))]));
        assert!(pages.pages.len() >= rows / 40, "{} pages", pages.pages.len());
        let mut seen = 0;
        for i in 0..pages.pages.len() {
            let text = words("long-table", &pages, Some(i + 1));
            assert_eq!(text.matches("size, mm").count(), 1, "header on page {}:\n{text}", i + 1);
            let here = text.matches("bridge screw").count();
            assert!(here > 0, "page {} has no row", i + 1);
            seen += here;
            assert!(seen.is_multiple_of(4) || seen == rows, "a group of four is split after row {seen}");
        }
        assert_eq!(seen, rows);
    }
}

#[test]
fn operation_that_breaks_says_continued() {
    let mut blocks: Vec<Block> =
        (1..=3).map(|i| Block::Operation(Box::new(turning(&i.to_string())))).collect();
    let mut long = turning("4");
    long.steps = (0..60).map(|i| Text::from(format!("step number {i} of a long operation"))).collect();
    blocks.push(Block::Operation(Box::new(long)));
    let pages = set(&one_sheet(blocks));
    let texts: Vec<String> = (1..=pages.pages.len()).map(|i| words("operations", &pages, Some(i))).collect();
    // The third fills the first page with its steps and is measured on the next,
    // under its name; the fourth goes on from there.
    assert_eq!(texts.len(), 3);
    assert_eq!(texts[0].matches("Turn the shank").count(), 3, "{}", texts[0]);
    assert_eq!(texts[0].matches("measured").count(), 2, "{}", texts[0]);
    assert!(texts[0].contains("Break the corner") && !texts[0].contains("continued"), "{}", texts[0]);
    assert_eq!(texts[1].matches("continued").count(), 1, "{}", texts[1]);
    assert_eq!(texts[1].matches("measured").count(), 1, "{}", texts[1]);
    let at = |word: &str| texts[1].find(word).unwrap_or_else(|| panic!("{word:?} is not in {}", texts[1]));
    assert!(at("continued") < at("measured") && at("measured") < at("step number 1 of"), "{}", texts[1]);
    assert_eq!(texts[2].matches("continued").count(), 1, "{}", texts[2]);
    assert!(texts[2].contains("step number 59") && texts[2].contains("measured"), "{}", texts[2]);
}

#[test]
fn no_page_but_the_last_is_left_a_quarter_white() {
    let body = Paper::A4.body();
    for n in 4..40 {
        let mut blocks: Vec<Block> = (0..n).map(|i| Block::Para(format!("line {i}").into())).collect();
        blocks.extend((1..=9).map(|i| Block::Operation(Box::new(turning(&i.to_string())))));
        let pages = set(&one_sheet(blocks));
        let (_, firsts) = pages.pages.split_last().expect("there are pages");
        for page in firsts {
            let inside = page.items.iter().map(sheets::Item::extent).filter(|e| e.y1 < body.y1 + 1.0);
            let low = inside.map(|e| e.y1).fold(0.0, f64::max);
            assert!(body.y1 - low < 0.25 * body.height(), "after {n} lines {} pt", body.y1 - low);
        }
    }
}

#[test]
fn heading_does_not_stand_alone_at_the_foot() {
    for n in 20..60 {
        let mut blocks: Vec<Block> = (0..n).map(|i| Block::Para(format!("line {i}").into())).collect();
        blocks.push(Block::Heading(2, "Heading".into()));
        blocks.push(Block::Heading(3, "Smaller".into()));
        blocks.push(Block::Table(long_table(4)));
        let pages = set(&one_sheet(blocks));
        let (a, b) = (&pages.landmarks[0], &pages.landmarks[1]);
        let row = |p: &Page| p.runs().iter().any(|r| r.text.contains("bridge screw"));
        assert_eq!(a.page, b.page);
        assert!(row(&pages.pages[a.page]), "with {n} lines the heading is alone");
    }
}

#[test]
fn template_must_be_full_size_and_fit() {
    let mut wide = plate();
    wide.width = 190.0;
    let mut half = plate();
    half.scale = (1, 2);
    let template = |sketch| Block::Template(Template { sketch, note: Text::default() });
    let said =
        lay_out(&Typecase::new(), &one_sheet(vec![template(wide), template(half)])).expect_err("neither");
    assert!(matches!(said[0], Unprintable::TooWide { .. }), "{said:?}");
    assert!(matches!(said[1], Unprintable::NotFullSize { .. }), "{said:?}");
}

#[test]
fn label_is_as_wide_as_the_ruler_says() {
    use drafting::sketch::Ruler;
    let case = Typecase::new();
    for (text, bold) in [("⌀10 h7", false), ("45.00 ±0.05", false), ("M4 × 0.7, 11 deep", true), ("A", true)]
    {
        let mut sketch = pillar(&case);
        sketch.marks.clear();
        sketch.labels.truncate(1);
        sketch.labels[0].text = text.into();
        sketch.labels[0].bold = bold;
        let picture = Picture { sketch: sketch.clone(), fit: Fit::True, caption: Text::default() };
        let pages = set(&one_sheet(vec![Block::Picture(picture)]));
        let body = Paper::A4.body();
        let runs = pages.pages[0].runs();
        let drawn: f64 = runs.iter().filter(|r| body.contains(r.at)).map(|r| r.advance()).sum();
        let ruled = case.width(text, sketch.labels[0].size, bold) * sheets::MM;
        assert!((drawn - ruled).abs() < 0.01, "{text}: drawn {drawn} pt, ruler {ruled} pt");
    }
}

#[test]
fn drawing_that_must_shrink_keeps_its_type_readable() {
    let case = Typecase::new();
    let picture =
        |mm| Picture { sketch: pillar(&case), fit: Fit::Within(mm, 100.0), caption: Text::default() };
    assert!(lay_out(&case, &one_sheet(vec![Block::Picture(picture(110.0))])).is_ok());
    let said =
        lay_out(&case, &one_sheet(vec![Block::Picture(picture(60.0))])).expect_err("3.2 mm halved is 4.5 pt");
    assert!(matches!(said[0], Unprintable::TooSmall { .. }), "{said:?}");
}

#[test]
fn extent_of_a_turned_label_is_upright() {
    let pages = the_demo(Paper::A4);
    let runs = pages.pages[1].runs();
    let turned: Vec<_> = runs.iter().filter(|r| r.turn.y != 0.0).collect();
    assert!(!turned.is_empty());
    for run in turned {
        let e = run.extent().to_path(0.1).bounding_box();
        assert!(e.height() > e.width() || run.text.chars().count() == 1, "{:?} {e:?}", run.text);
        assert!(run.turn.x.abs() < 1e-12 && run.turn.y < 0.0, "it reads upwards");
    }
}

#[test]
fn odd_texts_are_printed_or_refused_but_never_break_anything() {
    let odd = [
        "",
        " ",
        "\n\n",
        "\t",
        "a\r\nb",
        "supercalifragilistic-interchangeableness-of-parts".repeat(4).as_str(),
        "e\u{301}",
        "ﬁ ff ffi",
        "שלום",
        "مرحبا",
        "時計",
        "🕰",
        "\u{feff}x",
        "\u{200b}",
        "1\u{2009}150",
        "½ ⅛ µ √ ∠ ⊥ ● ✓",
        "\u{ad}soft",
        "a\u{2028}b",
        "<b>&\"'",
    ]
    .map(String::from);
    let mut refused = 0;
    for text in odd {
        let t = || Text::from(text.as_str());
        let mut op = turning("1");
        op.title = t();
        op.machine = t();
        op.steps = vec![t()];
        op.checks[0].what = t();
        op.checks[0].limits = t();
        op.speed = Some(sheets::Figure::new(text.as_str(), text.as_str()).note(text.as_str()));
        let table = sheets::Table {
            columns: vec![sheets::Column::fix(t(), 9.0), sheets::Column::auto(t())],
            rows: vec![sheets::Row::new([t(), t()]), sheets::Row::new([t(), t(), t()])],
            ..sheets::Table::default()
        };
        let blocks = vec![
            Block::Heading(1, t()),
            Block::Para(t()),
            Block::Dots(vec![t()]),
            Block::Facts(vec![(t(), t())]),
            Block::Columns(vec![(1.0, vec![Block::Para(t())]), (0.0, vec![])]),
            Block::Table(table),
            Block::Formula(
                sheets::Formula::over(sheets::Formula::name(&text), sheets::Formula::words("2")),
                t(),
            ),
            Block::Operation(Box::new(op)),
            Block::Contents(3),
        ];
        let mut packet = one_sheet(blocks);
        packet.sheets[0].part = text.clone();
        packet.sheets[0].number = text.chars().take(8).collect();
        packet.about.note = text.clone();
        match lay_out(&Typecase::new(), &packet) {
            Ok(pages) => {
                assert!(pdf(&pages).is_ok(), "{text:?} was laid out but not written");
                assert!(svg(&pages.pages[0], Letters::Outlines, "p").ends_with("</svg>\n"));
            }
            Err(said) => {
                refused += 1;
                let only_signs = |u: &Unprintable| {
                    let size = matches!(u, Unprintable::TooWide { .. } | Unprintable::TooTall { .. });
                    (size && text.len() > 100) || matches!(u, Unprintable::NoGlyph { .. })
                };
                assert!(said.iter().all(only_signs), "{text:?}: {said:?}");
            }
        }
    }
    assert!((1..=6).contains(&refused), "{refused} of the texts were refused");
}

#[test]
fn empty_things_take_no_page_of_their_own() {
    let blocks = vec![
        Block::Table(sheets::Table::default()),
        Block::Figures(vec![]),
        Block::Columns(vec![]),
        Block::Dots(vec![]),
        Block::Together(vec![]),
        Block::Contents(2),
        Block::Gap(0.0),
        Block::Break,
    ];
    assert_eq!(set(&one_sheet(blocks)).pages.len(), 1);
    let none = Packet { sheets: vec![], ..one_sheet(vec![]) };
    assert_eq!(set(&none).pages.len(), 0);
}
