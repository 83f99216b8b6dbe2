//! Ten thousand of each example clock.

use going::Model;
use going::clocks::{Clocks, Way};
use going::study::Draw;
use reckon::Book;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::time::Instant;

fn clocks(name: &str, way: Way) -> Clocks {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name);
    let clock = std::fs::read_to_string(dir.join("clock.toml")).expect("an example");
    let mut book = Book::new();
    let text = record::Text { name: Arc::from("clock.toml"), bytes: clock.as_bytes() };
    let read = record::read(Some(&text), None, &mut book);
    let clock = read.facts.expect("it reads").clock.expect("a clock");
    let (movement, _) = movement::design::movement(&clock, &mut book);
    let movement = movement.expect("a movement");
    let model = Model::of(&clock, &movement, &mut book).expect("a model");
    let clocks = Clocks::of(&movement, &model, way, &mut book).expect("an escapement");
    assert!(book.faults().is_empty(), "{:?}", book.faults());
    clocks
}
/// The faces that a study follows agree with those that are followed to rounding.
#[test]
fn a_study_follows_outlines_closely_enough() {
    use going::model::faces::{Close, faces, faces_as_close};
    use movement::design::Acting;
    for name in ["regulator", "table-clock", "skeleton"] {
        let c = clocks(name, Way::Even);
        for clock in 0..12 {
            let sizes = c.study.sizes(4, 0, clock);
            let Acting::Faces { works, reach } = c.acting_of(&sizes) else { continue };
            let (full, quick) = (faces(&works, 0.1, reach), faces_as_close(&works, 0.1, reach, Close::Study));
            let (full, quick) = match (full, quick) {
                (Ok(a), Ok(b)) => (a, b),
                // The same outlines jam, at the same place as near as points are looked at.
                (a, b) => {
                    assert_eq!(a.is_ok(), b.is_ok(), "{name} {clock}: {a:?} {b:?}");
                    continue;
                }
            };
            for (p, q) in full.pallets.iter().zip(&quick.pallets) {
                assert_eq!(p.pieces.len(), q.pieces.len(), "{name} {clock}");
                assert!((p.lets_off() - q.lets_off()).abs() < 1e-8);
                for (a, b) in p.pieces.iter().zip(&q.pieces) {
                    for part in [0.01, 0.3, 0.5, 0.9] {
                        let x = a.from + part * (a.to - a.from);
                        let off = (a.turn.at(x) - b.turn.at(x)).abs();
                        let force = (a.onward.at(x) - b.onward.at(x)).abs();
                        assert!(off < 1e-6 && force < 1e-3, "{name} {clock} {part}: {off} {force}");
                    }
                }
            }
        }
    }
}
/// Where a tip leaves a corner nothing jams, at whatever size.
#[test]
fn a_corner_that_lets_off_is_no_jam() {
    let c = clocks("table-clock", Way::Careful);
    for clock in 0..200 {
        let sizes = c.study.sizes(1, 0, clock);
        assert!(c.found(&sizes).is_ok(), "{clock}: {:?}", c.found(&sizes));
    }
}
/// A clock whose own outlines jam fails everything, and is told of.
#[test]
fn a_clock_that_jams_is_no_clock_that_goes() {
    let mut c = clocks("table-clock", Way::Careful);
    let rubs = c.study.dimensions.iter().position(|d| d.name.starts_with("friction")).expect("friction");
    let mut sizes = c.middle();
    assert!(c.outcome(&sizes).holds.iter().all(|h| *h));
    sizes[rubs] = 2.0;
    let why = c.found(&sizes).expect_err("it jams");
    assert!(why.contains("friction holds the tooth fast"), "{why}");
    let outcome = c.outcome(&sizes);
    assert!(outcome.holds.iter().all(|h| !h) && outcome.figures.iter().all(|f| f.is_nan()));
    // So it is in the answer, where friction may be anything.
    c.study.dimensions[rubs].draw = Draw::Even { low: 0.1, high: 2.0 };
    let sample = c.study.run(1, 60, 2, &AtomicBool::new(false), &|_| (), &|x| c.outcome(x));
    let jam = sample.sizes.iter().filter(|x| c.found(x).is_err()).count();
    let mut book = Book::new();
    c.table = book.assumed("first", reckon::Ratio::si(1.0), "for the table").id();
    let answer = c.answer(&sample, &mut book);
    assert_eq!(answer.amiss.clocks, jam);
    assert!(jam > 5 && answer.all.holds + jam <= 60, "{jam} {:?}", answer.all);
    let (clock, why) = answer.amiss.first.expect("one that jams");
    assert!(clock <= 60 && why.contains("friction holds"), "{clock} {why}");
}
#[test]
fn a_clock_in_the_middle_is_the_clock_as_drawn() {
    let c = clocks("regulator", Way::Careful);
    let f = c.found(&c.middle()).expect("faces");
    for i in 0..2 {
        assert!((f.holds[i].to_degrees() - 0.7).abs() < 1e-6, "{f:?}");
        assert!((f.drops[i].to_degrees() - 1.0).abs() < 1e-6, "{f:?}");
    }
    assert!((f.needs.to_degrees() - 1.65).abs() < 1e-6);
}
#[test]
fn a_study_runs_and_says_the_same_again() {
    let c = clocks("regulator", Way::Careful);
    let never = AtomicBool::new(false);
    let start = Instant::now();
    let one = c.study.run(3, 400, 2, &never, &|_| (), &|x| c.outcome(x));
    let took = start.elapsed();
    let again = c.study.run(3, 400, 1, &never, &|_| (), &|x| c.outcome(x));
    assert_eq!(one.likely_all(), again.likely_all());
    assert_eq!(format!("{:?}", one.outcomes), format!("{:?}", again.outcomes));
    assert!(one.likely(0).share > 0.99, "locks of 0.7 degrees stand what a tenth does: {:?}", one.likely(0));
    eprintln!("400 clocks in {took:?}; {:?} {:?}", one.likely_all(), one.spread(0));
    // The length moves the rate most; the arc is moved by losses and quality.
    let rate = one.shares_of(1).expect("varies");
    let last = rate.len() - 1;
    assert!(rate[last].share > 0.5, "{rate:?}");
    let arc = one.shares_of(0).expect("varies");
    assert!(arc[last].share < 0.05 && arc.iter().map(|s| s.share).sum::<f64>() > 0.8, "{arc:?}");
}
