//! What holds for every text: order says nothing, inch and millimetre agree, nothing panics.

use proptest::prelude::*;
use reckon::{Book, Origin, Trouble};
use record::{Text, read};
use std::sync::Arc;

const CLOCK: &str = include_str!("../../../examples/hardware/clock.toml");
const REGULATOR: &str = include_str!("../../../examples/regulator/clock.toml");
const SHOP: &str = include_str!("../../../examples/hardware/shop.toml");

fn book_of(clock: &[u8], shop: &[u8]) -> (Book, Vec<Trouble>) {
    let mut book = Book::new();
    let clock = Text { name: Arc::from("clock.toml"), bytes: clock };
    let shop = Text { name: Arc::from("shop.toml"), bytes: shop };
    let got = read(Some(&clock), Some(&shop), &mut book);
    (book, got.troubles)
}
/// Every line of the book but for where it is written.
fn lines(book: &Book) -> Vec<String> {
    let bits = |si: Option<f64>| si.map(f64::to_bits);
    let how = |o: &Origin| match o {
        Origin::Written { .. } => "written".to_owned(),
        other => reckon::workings::how(other),
    };
    book.lines()
        .map(|l| format!("{} {} {:?} {} {}", l.name, l.shown, bits(l.si), l.unit, how(&l.origin)))
        .collect()
}
/// The sections of the example: what stands before the first head, then each head with what follows.
fn sections(text: &str) -> (String, Vec<String>) {
    let mut before = String::new();
    let mut all: Vec<String> = Vec::new();
    for line in text.lines() {
        if line.starts_with('[') {
            all.push(String::new());
        }
        let to = all.last_mut().unwrap_or(&mut before);
        to.push_str(line);
        to.push('\n');
    }
    (before, all)
}
proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]
    #[test]
    fn the_order_of_sections_says_nothing(order in Just((0..sections(CLOCK).1.len()).collect::<Vec<_>>()).prop_shuffle()) {
        let (before, all) = sections(CLOCK);
        let shuffled: String = std::iter::once(before.as_str()).chain(order.iter().map(|i| all[*i].as_str())).collect();
        let (plain, _) = book_of(CLOCK.as_bytes(), SHOP.as_bytes());
        let (other, troubles) = book_of(shuffled.as_bytes(), SHOP.as_bytes());
        prop_assert!(troubles.is_empty());
        prop_assert_eq!(lines(&plain), lines(&other));
    }
    #[test]
    fn the_order_of_a_movement_says_nothing(order in Just((0..sections(REGULATOR).1.len()).collect::<Vec<_>>()).prop_shuffle()) {
        let (before, all) = sections(REGULATOR);
        let shuffled: String = std::iter::once(before.as_str()).chain(order.iter().map(|i| all[*i].as_str())).collect();
        let (plain, _) = book_of(REGULATOR.as_bytes(), SHOP.as_bytes());
        let (other, troubles) = book_of(shuffled.as_bytes(), SHOP.as_bytes());
        prop_assert!(troubles.is_empty());
        prop_assert_eq!(lines(&plain), lines(&other));
    }
}
proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]
    /// Any damage is told or harmless: it never panics, and facts come only without errors.
    #[test]
    fn damage_never_panics(
        of_shop in any::<bool>(),
        edits in prop::collection::vec((any::<prop::sample::Index>(), 0..6_u8, any::<u8>(), 0..40_usize), 1..6),
    ) {
        let mut bytes = if of_shop { SHOP } else { CLOCK }.as_bytes().to_vec();
        for (at, what, byte, span) in edits {
            let at = at.index(bytes.len().max(1)).min(bytes.len());
            let end = (at + span).min(bytes.len());
            match what {
                0 => { bytes.drain(at..end); }
                1 => bytes.insert(at, byte),
                2 => bytes.insert(at, b"[]{}=\"'#.,-+0\n"[usize::from(byte) % 14]),
                3 => { let copy = bytes[at..end].to_vec(); bytes.splice(at..at, copy); }
                4 => bytes.truncate(at),
                _ => { if let Some(b) = bytes.get_mut(at) { *b = byte; } }
            }
            if bytes.is_empty() {
                break;
            }
        }
        let (book, troubles) =
            if of_shop { book_of(CLOCK.as_bytes(), &bytes) } else { book_of(&bytes, SHOP.as_bytes()) };
        let size = bytes.len();
        for t in &troubles {
            prop_assert!(!t.says.is_empty());
            for p in &t.at {
                prop_assert!(p.start <= p.end && p.line >= 1 && p.column >= 1);
                prop_assert!(p.end <= size.max(CLOCK.len()).max(SHOP.len()));
            }
        }
        if troubles.is_empty() {
            prop_assert_eq!(book.faults(), &[]);
        }
    }
    /// A length written in inches is the same number of metres, to the bit, as the exact millimetres.
    #[test]
    fn inch_and_millimetre_agree(thousandths in 40..4000_i64) {
        let text = |length: &str| {
            format!("[[bush]]\nname = \"b\"\nmaterial = \"brass CZ120\"\noutside = \"200 mm\"\nbore = \"2 mm\"\nlength = \"{length}\"\n")
        };
        // 1 thou = 0.0254 mm exactly.
        let ten_thousandths = thousandths * 254;
        let mm = format!("{}.{:04} mm", ten_thousandths / 10_000, ten_thousandths % 10_000);
        let inch = format!("{}.{:03} in", thousandths / 1000, thousandths % 1000);
        let (a, told) = book_of(text(&mm).as_bytes(), SHOP.as_bytes());
        prop_assert!(told.is_empty(), "{:?}", told);
        let (b, _) = book_of(text(&inch).as_bytes(), SHOP.as_bytes());
        let (c, _) = book_of(text(&format!("{thousandths} thou")).as_bytes(), SHOP.as_bytes());
        prop_assert_eq!(lines(&a), lines(&b));
        prop_assert_eq!(lines(&a), lines(&c));
    }
}
/// Every size of the example in inches gives the example's book.
#[test]
fn the_whole_example_in_inches_is_the_same_clock() {
    in_inches(CLOCK, 60);
}
/// The same of a movement: its modules, places, plates and pendulum.
#[test]
fn a_movement_in_inches_is_the_same_movement() {
    in_inches(REGULATOR, 60);
}
fn in_inches(clock: &str, least: usize) {
    let mut out = String::new();
    // Numbers before ` mm"` become exact thousandths of an inch as fractions of millimetres: n mm = n/25.4 in.
    for line in clock.lines() {
        let mut rest = line;
        while let Some(at) = rest.find(" mm") {
            let digits = rest[..at]
                .rfind(|c: char| !(c.is_ascii_digit() || c == '.'))
                .map_or(0, |i| i + rest[i..].chars().next().map_or(1, char::len_utf8));
            let number = &rest[digits..at];
            let before = &rest[..digits];
            // Limits share the unit at the end, so those sizes stay as they are.
            if number.is_empty() || line.contains(['±', '/']) || line.contains("print") {
                out += &rest[..at + 3];
            } else {
                out += &format!("{before}({number} / 25.4) * 1 in");
            }
            rest = &rest[at + 3..];
        }
        out += rest;
        out.push('\n');
    }
    assert!(out.matches(" * 1 in").count() > least);
    let (mm, _) = book_of(clock.as_bytes(), SHOP.as_bytes());
    let (inch, told) = book_of(out.as_bytes(), SHOP.as_bytes());
    let told: Vec<String> = told.iter().map(ToString::to_string).collect();
    assert_eq!(told, Vec::<String>::new());
    assert_eq!(lines(&mm), lines(&inch));
}
