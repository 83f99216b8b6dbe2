//! Two texts to a printed packet: what stands on its pages, and what does not change it.

use reckon::{Book, Length, LengthStyle, Trouble};
use sheets::packet::{Contents, papers};
use sheets::{Item, Pages, Typecase};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;

struct Made {
    pages: Pages,
    pdf: Vec<u8>,
    svg: Vec<String>,
    cut_list: String,
    parts: Vec<movement::part::Part>,
    making: making::plan::Making,
    book: Book,
}
fn example(name: &str, file: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples").join(name).join(file);
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}
#[track_caller]
fn make(clock: &str, shop: &str) -> Made {
    let mut book = Book::new();
    let text = |name: &str, bytes| record::Text { name: Arc::from(name), bytes };
    let (c, s) = (text("clock.toml", clock.as_bytes()), text("shop.toml", shop.as_bytes()));
    let read = record::read(Some(&c), Some(&s), &mut book);
    let project = read.facts.unwrap_or_else(|| panic!("{:?}", read.troubles));
    let (Some(clock), Some(shop)) = (&project.clock, &project.shop) else { panic!("two texts") };
    let (parts, troubles) = movement::hardware::parts(clock, &mut book);
    let (making, more) = making::plan::plan(shop, &parts, &mut book);
    assert!(!troubles.iter().chain(&more).any(Trouble::stops), "{troubles:?} {more:?}");
    let case = Typecase::new();
    let of = Contents {
        programs: &[],
        clock,
        shop,
        parts: &parts,
        movement: None,
        going: None,
        making: &making,
        book: &book,
        state: "AAAA",
        day: (2025, 3, 1),
    };
    let papers = papers(&of, &case).unwrap_or_else(|t| panic!("{t:?}"));
    let pages = sheets::lay_out(&case, &papers.packet).unwrap_or_else(|u| panic!("{u:?}"));
    let pdf = sheets::pdf(&pages).unwrap_or_else(|u| panic!("{u}"));
    let svg = pages.pages.iter().map(|p| sheets::svg(p, sheets::Letters::Outlines, "p-")).collect();
    Made { pages, pdf, svg, cut_list: papers.cut_list, parts, making, book }
}
fn shipped(name: &str) -> Made {
    make(&example(name, "clock.toml"), &example(name, "shop.toml"))
}
/// The text of a PDF in reading order, blanks and line ends made one blank.
fn printed(pdf: &[u8], name: &str) -> String {
    let dir = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::create_dir_all(&dir).expect("a folder");
    let file = dir.join("packet.pdf");
    std::fs::write(&file, pdf).expect("written");
    let out = Command::new("pdftotext").args(["-q", "-enc", "UTF-8"]).arg(&file).arg("-").output();
    let out =
        out.unwrap_or_else(|e| panic!("pdftotext does not run ({e}): install the package poppler-utils"));
    words(&String::from_utf8(out.stdout).expect("UTF-8"))
}
fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
/// Whether all words of a text stand somewhere, in order and near each other (a narrow column may break them).
fn has(text: &str, wanted: &str) -> bool {
    let bare = |t: &str| t.chars().filter(|c| !c.is_whitespace() && *c != '-').collect::<String>();
    text.contains(&words(wanted)) || bare(text).contains(&bare(wanted))
}
fn limits(most: Length, least: Length) -> [String; 2] {
    [most, least].map(|l| reckon::print::fixed(l.in_mm(), 3))
}

#[test]
fn a_packet_tells_all_that_was_planned() {
    for name in ["ten-screws", "hardware"] {
        let made = shipped(name);
        let text = printed(&made.pdf, name);
        for plan in &made.making.parts {
            let part = &made.parts[plan.part];
            assert!(text.contains(&part.common.name), "{name}: no '{}'", part.common.name);
            assert!(has(&text, &plan.stock.what), "{name}: no '{}'", plan.stock.what);
            for setup in &plan.setups {
                assert!(has(&text, &setup.title) && has(&text, &setup.held.by), "{name}: {}", setup.held.by);
                for op in &setup.operations {
                    assert!(has(&text, &op.title), "{name}: no '{}'", op.title);
                    // Sizes in the name of a tool are set in the project's units.
                    let tool = op.tool.as_deref().unwrap_or_default().split(char::is_numeric).next();
                    let tool = tool.unwrap_or_default().trim_end_matches('⌀');
                    assert!(has(&text, tool), "{name}: no '{tool}'");
                    for (most, least) in op.checks.iter().filter_map(|c| c.limits) {
                        let [most, least] = limits(most, least);
                        assert!(
                            has(&text, &format!("{least} … {most}")),
                            "{name}: {}: no {least} … {most}",
                            op.title
                        );
                    }
                    for caution in &op.cautions {
                        let begins: String = caution.text().chars().take(40).collect();
                        assert!(has(&text, &begins), "{name}: {}: {begins}", op.title);
                    }
                }
            }
        }
        for tool in &made.making.tools {
            assert!(
                has(&text, &tool.name) && tool.operations.iter().all(|o| has(&text, &o.title)),
                "{}",
                tool.name
            );
        }
        for assumed in made.book.assumptions().filter(|l| is_said(&l.name)) {
            let reckon::Origin::Assumed { why } = &assumed.origin else { continue };
            let begins: String = why.chars().take(24).collect();
            assert!(has(&text, &begins), "{name}: '{}' is assumed and not on the cover", assumed.name);
        }
        for buy in &made.making.buy {
            assert!(has(&text, &buy.what), "{name}: no '{}' to buy", buy.what);
        }
        assert!(text.contains("This packet plans; you decide."));
        // A page or two for the cover, and no part of more than a dozen pages.
        let most = 4 + 12 * (made.parts.len() + made.making.tools.len());
        assert!((made.parts.len() + 1..most).contains(&made.pages.pages.len()), "{}", made.pages.pages.len());
    }
}
/// Where a part begins to be counted, and the plain yes or no of a tool list, are no choices that a maker has to see.
fn is_said(name: &str) -> bool {
    !["station.0", ".made", ".carbide", ".stepless"].iter().any(|end| name.ends_with(end))
}
/// A verdict that does not hold stands on the cover with what would do.
#[test]
fn what_cannot_be_made_is_on_the_cover() {
    let clock = example("ten-screws", "clock.toml").replacen("length = \"11 mm\"", "length = \"310 mm\"", 1);
    let made = make(&clock, &example("ten-screws", "shop.toml"));
    let text = printed(&made.pdf, "too long");
    let order = text.find("Order of work").expect("a cover");
    let mut failing = 0;
    for line in made.book.failing() {
        let reckon::Origin::Verdict { says, cures, .. } = &line.origin else { continue };
        failing += 1;
        assert!(has(&text[..order], says), "'{says}' is not on the cover");
        assert!(cures.first().is_none_or(|c| has(&text[..order], c)), "{cures:?} is not on the cover");
    }
    assert!(failing > 0);
    assert!(!text.contains("Every check that this packet makes holds"));
}
#[test]
fn nothing_is_smaller_than_seven_points() {
    let made = shipped("hardware");
    let mut runs = 0;
    for page in &made.pages.pages {
        sizes(&page.items, &mut |run| {
            runs += 1;
            assert!(run.size >= 6.99, "'{}' is set in {} points", run.text, run.size);
        });
    }
    assert!(runs > 1000);
}
/// Every run of text, those within an outline too.
fn sizes(items: &[Item], look: &mut dyn FnMut(&sheets::Run)) {
    for item in items {
        match item {
            Item::Run(run) => look(run),
            Item::Clip { items, .. } => sizes(items, look),
            Item::Path { .. } | Item::Link { .. } => {}
        }
    }
}
/// Sections written in another order, and the same again: the same bytes.
#[test]
fn the_same_packet() {
    let (clock, shop) = (example("hardware", "clock.toml"), example("hardware", "shop.toml"));
    let once = make(&clock, &shop);
    let begins = clock.find("# ---- screws").expect("the first part");
    let (head, body) = clock.split_at(begins);
    let mut parts: Vec<String> = Vec::new();
    for line in body.lines().filter(|l| !l.starts_with('#')) {
        if line.starts_with("[[") {
            parts.push(String::new());
        }
        if let Some(part) = parts.last_mut() {
            part.push_str(line);
            part.push('\n');
        }
    }
    assert!(parts.len() > 8);
    parts.reverse();
    let other = make(&format!("{head}{}", parts.concat()), &shop);
    for again in [make(&clock, &shop), other] {
        assert!(once.pdf == again.pdf, "the PDF differs");
        assert!(once.svg == again.svg, "a page differs");
        assert_eq!(once.cut_list, again.cut_list);
    }
}
/// The same sheets in inches: every page there is, no length left in millimetres in a column of limits.
#[test]
fn a_packet_in_inches() {
    let clock = example("ten-screws", "clock.toml").replacen(
        "name = \"Ten screws\"",
        "name = \"Ten screws\"\nprint = \"inch\"",
        1,
    );
    let made = make(&clock, &example("ten-screws", "shop.toml"));
    let text = printed(&made.pdf, "inches");
    assert!(
        has(&text, &LengthStyle::Inch.text(Length::mm(21.0))) || text.contains("0.8268"),
        "no 21 mm in inches"
    );
    assert!(made.pages.pages.len() > made.parts.len());
}
