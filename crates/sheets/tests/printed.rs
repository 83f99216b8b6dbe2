//! The whole way: blocks to pages to files, read back by other programs.

mod common;

use common::{about, demo, folder, long_table, pillar, plate, poppler, turning};
use kurbo::{Rect, Shape as _};
use sheets::{
    Block, Fit, Item, Letters, Packet, Page, Pages, Paper, Picture, Sheet, Template, Text, Typecase,
    Unprintable, lay_out, pdf, svg,
};

fn set(packet: &Packet) -> Pages {
    lay_out(&Typecase::new(), packet).expect("it can be printed")
}

fn the_demo(paper: Paper) -> Pages {
    let case = Typecase::new();
    set(&demo(&case, paper))
}

fn one_sheet(blocks: Vec<Block>) -> Packet {
    let sheet = Sheet { title: "Sheet".into(), part: String::new(), number: "1".into(), blocks };
    Packet { paper: Paper::A4, about: about(), sheets: vec![sheet] }
}

/// Words of a page as a reader would search them.
fn words(name: &str, pages: &Pages, page: Option<usize>) -> String {
    let dir = folder(name);
    std::fs::write(dir.join("it.pdf"), pdf(pages).expect("it keeps to PDF/A-2u")).expect("written");
    let n = page.map(|p| p.to_string());
    let mut args = vec!["-layout"];
    if let Some(n) = &n {
        args.extend(["-f", n, "-l", n]);
    }
    args.extend(["it.pdf", "-"]);
    String::from_utf8(poppler("pdftotext", &args, &dir)).expect("pdftotext writes UTF-8")
}

#[test]
fn words_can_be_searched() {
    for (paper, name) in [(Paper::A4, "words-a4"), (Paper::Letter, "words-letter")] {
        let text = words(name, &the_demo(paper), None);
        for word in [
            "⌀10 h7",
            "290 °C",
            "45.00 ±0.05",
            "finish",
            "0.1 × 45°",
            "3.92 … 4.00 mm",
            "1 150 rpm",
            "B7-02",
            "page 3 of 9",
            "micrometer 0–25",
            "G76 P010060 Q50 R0.02",
            "θ",
            "reprint at 100 / measured",
        ] {
            assert!(text.contains(word), "{word:?} is not found in\n{text}");
        }
    }
}

#[test]
fn same_pages_same_bytes() {
    let (a, b) = (the_demo(Paper::A4), the_demo(Paper::A4));
    assert_eq!(pdf(&a), pdf(&b));
    for (p, q) in a.pages.iter().zip(&b.pages) {
        assert_eq!(svg(p, Letters::Text, "p1"), svg(q, Letters::Text, "p1"));
        assert_eq!(svg(p, Letters::Outlines, "p1"), svg(q, Letters::Outlines, "p1"));
    }
}

#[test]
fn file_says_what_it_is() {
    let bytes = pdf(&the_demo(Paper::A4)).expect("it keeps to PDF/A-2u");
    let find = |what: &str| bytes.windows(what.len()).any(|w| w == what.as_bytes());
    // ISO 19005-2: the identification of part and level in the XMP packet.
    assert!(find("<pdfaid:part>2</pdfaid:part>"), "no PDF/A part");
    assert!(find("<pdfaid:conformance>U</pdfaid:conformance>"), "no PDF/A level");
    let dir = folder("info");
    std::fs::write(dir.join("it.pdf"), &bytes).expect("written");
    let info = String::from_utf8(poppler("pdfinfo", &["-isodates", "it.pdf"], &dir)).expect("UTF-8");
    assert!(info.contains("Bench packet, Hall regulator"), "{info}");
    assert!(info.contains("2026-11-25T00:00:00"), "{info}");
    assert!(info.contains("595.276 x 841.89 pts (A4)"), "{info}");
    let mut wrong = the_demo(Paper::A4);
    wrong.about.day = (2026, 2, 29);
    assert_eq!(pdf(&wrong), Err(Unprintable::NoSuchDay { day: (2026, 2, 29) }));
}

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
fn operation_stays_whole_or_says_continued() {
    let mut blocks: Vec<Block> =
        (1..=3).map(|i| Block::Operation(Box::new(turning(&i.to_string())))).collect();
    let mut long = turning("4");
    long.steps = (0..60).map(|i| Text::from(format!("step number {i} of a long operation"))).collect();
    blocks.push(Block::Operation(Box::new(long)));
    let pages = set(&one_sheet(blocks));
    let texts: Vec<String> = (1..=pages.pages.len()).map(|i| words("operations", &pages, Some(i))).collect();
    for text in &texts[..3] {
        assert_eq!(text.matches("Turn the shank").count(), 1, "{text}");
        assert_eq!(text.matches("measured").count(), 1, "{text}");
        assert!(!text.contains("continued"), "{text}");
    }
    assert!(texts[3].contains("step number 1 of") && !texts[3].contains("continued"), "{}", texts[3]);
    assert!(texts[4].contains("continued") && texts[4].contains("step number 59"), "{}", texts[4]);
    assert_eq!(texts.len(), 5);
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
fn contents_and_outline_lead_to_the_right_pages() {
    let pages = the_demo(Paper::A4);
    let text = words("contents", &pages, Some(1));
    for mark in pages.landmarks.iter().filter(|m| m.level <= 2) {
        let line = text
            .lines()
            .find(|l| l.trim_start().starts_with(&mark.text) && l.trim_end().ends_with(char::is_numeric));
        let line = line.unwrap_or_else(|| panic!("{} is not in the contents:\n{text}", mark.text));
        assert!(line.ends_with(&(mark.page + 1).to_string()), "{line}");
        assert!(
            words("contents", &pages, Some(mark.page + 1)).to_lowercase().contains(&mark.text.to_lowercase())
        );
    }
    let links = pages.pages[0].items.iter().filter(|i| matches!(i, Item::Link { .. })).count();
    assert_eq!(links, pages.landmarks.iter().filter(|m| m.level <= 2).count());
}

/// A page in grey: width, height, one byte a point.
fn picture(pages: &Pages, name: &str) -> (usize, usize, Vec<u8>) {
    let dir = folder(name);
    std::fs::write(dir.join("it.pdf"), pdf(pages).expect("PDF/A-2u")).expect("written");
    let bytes = poppler("pdftoppm", &["-r", "1200", "-gray", "it.pdf"], &dir);
    let mut at = 0;
    let mut numbers = Vec::new();
    while numbers.len() < 4 {
        let end = at + bytes[at..].iter().position(u8::is_ascii_whitespace).expect("a PGM header");
        numbers.push(std::str::from_utf8(&bytes[at..end]).expect("ASCII"));
        at = end + 1;
    }
    let n = |i: usize| numbers[i].parse::<usize>().expect("a number");
    (n(1), n(2), bytes[at..].to_vec())
}

/// Unbroken black stretches of a line of points: start and length.
fn black(line: impl Iterator<Item = u8>) -> Vec<(usize, usize)> {
    let mut out: Vec<(usize, usize)> = Vec::new();
    let mut last = false;
    for (i, v) in line.enumerate() {
        let dark = v < 128;
        match (dark, last) {
            (true, false) => out.push((i, 1)),
            (true, true) => out.last_mut().expect("one is open").1 += 1,
            _ => {}
        }
        last = dark;
    }
    out
}

#[test]
fn bars_of_a_template_are_100_mm() {
    let mm = 25.4 / 1200.0;
    for (paper, name) in [(Paper::A4, "bar-a4"), (Paper::Letter, "bar-letter")] {
        let template = Template { sketch: plate(), note: Text::default() };
        let mut packet = one_sheet(vec![Block::Template(template)]);
        packet.paper = paper;
        let (w, h, px) = picture(&set(&packet), name);
        let row = |y: usize| (0..w).map(move |x| y * w + x);
        let column = |x: usize| (0..h).map(move |y| y * w + x);
        let points = |line: Vec<usize>| black(line.iter().map(|i| px[*i]));
        // The bars are the only black blocks more than 1 mm thick and that long.
        let long = |(_, n): &&(usize, usize)| *n as f64 * mm > 90.0;
        let thick = (0.9 / mm) as usize;
        let find = |lines: usize, get: &dyn Fn(usize) -> Vec<usize>| {
            let found = |i: usize| points(get(i)).iter().find(long).copied();
            (0..lines - thick).step_by(10).find_map(|i| {
                let (a, b) = (found(i)?, found(i + thick)?);
                (a == b).then_some((i, a))
            })
        };
        let across = find(h, &|y| row(y).collect()).expect("a bar across");
        let along = find(w, &|x| column(x).collect()).expect("a bar along");
        for (way, (_, (_, n))) in [("across", across), ("along", along)] {
            let got = n as f64 * mm;
            assert!((got - 100.0).abs() <= 0.021, "{paper:?}: the bar {way} is {got:.3} mm long");
        }
        // Both have their ticks up or to the left; a line 1.5 mm off crosses them all.
        let off = (1.5 / mm) as usize;
        let ticks = [
            ("across", across, points(row(across.0 - off).collect())),
            ("along", along, points(column(along.0 - off).collect())),
        ];
        for (way, (_, (from, n)), found) in ticks {
            let on_bar = found.iter().filter(|t| t.0 + 3 >= from && t.0 <= from + n);
            let centres: Vec<f64> = on_bar.map(|(a, n)| (*a as f64 + *n as f64 / 2.0) * mm).collect();
            assert_eq!(centres.len(), 11, "{paper:?} {way}: {centres:?}");
            for pair in centres[1..10].windows(2) {
                assert!((pair[1] - pair[0] - 10.0).abs() <= 0.022, "{paper:?} {way}: {centres:?}");
            }
        }
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
fn drawing_alone_is_a_page_at_true_size() {
    let case = Typecase::new();
    let page = sheets::drawing(&case, &pillar(&case)).expect("it can be printed");
    let text = svg(&page, Letters::Outlines, "d");
    assert!(
        text.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"124mm\" height=\"50mm\""),
        "{text}"
    );
    // The body is 45 mm long at 2 : 1, from 14 mm: 14 mm = 39.685 pt, 104 mm = 294.803 pt.
    assert!(text.contains("M39.685 56.693L39.685 28.346L294.803 28.346L294.803 56.693"), "{text}");
    assert!(text.contains("aria-label=\"45.00 ±0.05\""));
}

#[test]
fn svg_is_well_formed_with_ids_of_its_own() {
    let pages = the_demo(Paper::A4);
    for (i, page) in pages.pages.iter().enumerate() {
        for letters in [Letters::Text, Letters::Outlines] {
            let prefix = format!("p{i}");
            let text = svg(page, letters, &prefix);
            assert!(
                text.starts_with(
                    "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"210mm\" height=\"297mm\""
                )
            );
            assert_eq!(text.matches('<').count(), text.matches('>').count());
            let mut open: Vec<&str> = Vec::new();
            for tag in text.split('<').skip(1) {
                let tag = tag.split('>').next().unwrap_or_default();
                let name = tag.trim_start_matches('/').split([' ', '/']).next().unwrap_or_default();
                if let Some(closed) = tag.strip_prefix('/') {
                    assert_eq!(open.pop(), Some(closed));
                } else if !tag.ends_with('/') {
                    open.push(name);
                }
            }
            assert!(open.is_empty(), "{open:?}");
            for id in text.split(" id=\"").skip(1) {
                assert!(id.starts_with(&prefix), "{}", &id[..20]);
            }
            for used in text.split("#").skip(1).filter(|u| u.starts_with('p')) {
                let id = used.split(['"', ')']).next().unwrap_or_default();
                assert!(text.contains(&format!(" id=\"{id}\"")), "{id} is used but not there");
            }
        }
        let text = svg(page, Letters::Text, "p");
        assert_eq!(text.matches("<text").count(), page.runs().len());
    }
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
fn demo_is_left_to_be_looked_at() {
    for (paper, name) in [(Paper::A4, "a4"), (Paper::Letter, "letter")] {
        let pages = the_demo(paper);
        let dir = folder("demo");
        std::fs::write(dir.join(format!("{name}.pdf")), pdf(&pages).expect("PDF/A-2u")).expect("written");
        for (i, page) in pages.pages.iter().enumerate() {
            std::fs::write(dir.join(format!("{name}-{}.svg", i + 1)), svg(page, Letters::Outlines, "p"))
                .expect("written");
        }
        let size = |f: String| std::fs::metadata(dir.join(f)).expect("it is there").len();
        assert!(size(format!("{name}.pdf")) < 400_000, "only the glyphs in use are embedded");
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

#[test]
fn forty_pages_take_less_than_five_seconds() {
    // Generous: a slow machine, and test code that is hardly optimised.
    let blocks = (0..48).map(|i| Block::Operation(Box::new(turning(&i.to_string())))).collect();
    let start = std::time::Instant::now();
    let pages = set(&one_sheet(blocks));
    let bytes = pdf(&pages).expect("PDF/A-2u");
    assert!(pages.pages.len() >= 40);
    assert!(start.elapsed().as_secs_f64() < 5.0, "{:?} for {} pages", start.elapsed(), pages.pages.len());
    assert!(bytes.len() < 1_000_000, "{} bytes", bytes.len());
}
