//! Parts of the shipped hardware: what their solids, sizes and names have to do with each other.

use movement::part::{Body, Part, Told};
use reckon::Book;
use std::path::Path;
use std::sync::Arc;

fn hardware(text: &str) -> (Vec<Part>, Book) {
    let mut book = Book::new();
    let clock = record::Text { name: Arc::from("clock.toml"), bytes: text.as_bytes() };
    let read = record::read(Some(&clock), None, &mut book);
    let project = read.facts.unwrap_or_else(|| panic!("{:?}", read.troubles));
    let (parts, troubles) = movement::hardware::parts(&project.clock.expect("a clock"), &mut book);
    assert!(troubles.is_empty() && book.faults().is_empty(), "{troubles:?} {:?}", book.faults());
    (parts, book)
}
fn shipped() -> (Vec<Part>, Book) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/hardware/clock.toml");
    hardware(&std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display())))
}

#[test]
fn steps_follow_each_other_from_end_to_end() {
    let (parts, _) = shipped();
    for part in &parts {
        let Body::Turned(body) = &part.body else { continue };
        let mut here = 0.0;
        for step in &body.steps {
            let (from, to) = (step.from.bare().value(), step.to.bare().value());
            assert!((from - here).abs() < 1e-12 && to > from, "{}: {}", part.slug(), step.what);
            assert!(step.size.upper.bare() >= step.size.lower.bare(), "{}: {}", part.slug(), step.what);
            here = to;
        }
        assert!((here - body.length.bare().value()).abs() < 1e-12, "{}", part.slug());
        let largest = body
            .steps
            .iter()
            .map(|s| s.end.map_or(s.size.nominal.bare(), |e| e.bare().max(s.size.nominal.bare())));
        assert!(largest.clone().all(|d| d <= body.largest.bare()) && largest.count() > 0, "{}", part.slug());
    }
}
/// The solid is as long and as wide as the sizes say, and its volume lies within the cylinder round it.
#[test]
fn the_solid_is_of_these_sizes() {
    let (parts, _) = shipped();
    for part in &parts {
        let Body::Turned(body) = &part.body else { continue };
        let (length, largest) = (body.length.bare().in_mm(), body.largest.bare().in_mm());
        let most =
            (0..=2000).map(|k| body.solid.radius_at(length * f64::from(k) / 2000.0)).fold(0.0, f64::max);
        assert!((most * 2.0 - largest).abs() < 0.02, "{}: ⌀{} and {largest}", part.slug(), most * 2.0);
        let cylinder = reckon::maths::PI / 4.0 * largest * largest * length;
        let volume = body.solid.volume();
        assert!(volume > 0.0 && volume <= cylinder * (1.0 + 1e-9), "{}: {volume} of {cylinder}", part.slug());
    }
}
/// By hand: a plain washer of 21 outside, 5.5 hole, 3 thick, in mm³.
#[test]
fn volume_of_a_plain_washer() {
    let text = "[clock]\nname = \"x\"\n[[washer]]\nname = \"plain\"\noutside = \"21 mm\"\nhole = \"5.5 mm\"\nthickness = \"3 mm\"\nmaterial = \"brass\"\n";
    let (parts, _) = hardware(text);
    let wanted = reckon::maths::PI / 4.0 * (21.0 * 21.0 - 5.5 * 5.5) * 3.0;
    let volume = parts[0].turned().expect("turned").solid.volume();
    assert!((volume - wanted).abs() < 1e-6 * wanted, "{volume}, by hand {wanted}");
}
/// Whatever a drawing tells stands in the book, as large as it is told, under the part's own name or one it was written by.
#[test]
fn drawings_tell_the_book() {
    let (parts, book) = shipped();
    let mut told = 0;
    for part in &parts {
        let Some(body) = part.turned() else { continue };
        for t in &body.told {
            let figures = match t {
                Told::Along { figure, .. }
                | Told::Across { figure, .. }
                | Told::SlotWidth { figure, .. }
                | Told::AcrossFlats { figure, .. } => vec![figure],
                Told::Groove { diameter, width, depth, .. } => vec![diameter, width, depth],
                Told::Note { .. } => Vec::new(),
            };
            for figure in figures {
                let line = book.line(figure.id).expect("in the book");
                assert_eq!(line.si, Some(figure.nominal.value()), "{}", line.name);
                assert!(line.name.starts_with(part.slug()), "{} of {}", line.name, part.slug());
                told += 1;
            }
        }
    }
    assert!(told > 40, "{told}");
}
