//! What other programs find in the files.

use sheets::{Block, Item, Letters, Pages, Paper, Template, Text, Typecase, Unprintable, pdf, svg};

use crate::demo::{folder, pillar, plate, poppler, turning};
use crate::{one_sheet, set, the_demo, words};

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
            "page 3 of 8",
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
fn demo_is_left_to_be_looked_at() {
    for (paper, name) in [(Paper::A4, "a4"), (Paper::Letter, "letter")] {
        let pages = the_demo(paper);
        let dir = folder("demo");
        std::fs::write(dir.join(format!("{name}.pdf")), pdf(&pages).expect("PDF/A-2u")).expect("written");
        for (i, page) in pages.pages.iter().enumerate() {
            for (letters, kind) in [(Letters::Outlines, "outlines"), (Letters::Text, "text")] {
                let file = dir.join(format!("{name}-{}-{kind}.svg", i + 1));
                std::fs::write(file, svg(page, letters, "p")).expect("written");
            }
        }
        let size = |f: String| std::fs::metadata(dir.join(f)).expect("it is there").len();
        assert!(size(format!("{name}.pdf")) < 400_000, "only the glyphs in use are embedded");
    }
}

#[test]
fn forty_pages_make_a_small_file() {
    let blocks = (0..200).map(|i| Block::Operation(Box::new(turning(&i.to_string())))).collect();
    let pages = set(&one_sheet(blocks));
    let bytes = pdf(&pages).expect("PDF/A-2u");
    assert!(pages.pages.len() >= 40);
    assert!(bytes.len() < 1_000_000, "{} bytes", bytes.len());
}
