//! Ten thousand of each example clock.

use going::Model;
use going::clocks::{Clocks, Way};
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
/// The quick way to the faces of a clock agrees with its own outlines.
#[test]
fn faces_answer_as_outlines_do() {
    for name in ["regulator", "table-clock", "skeleton"] {
        let c = clocks(name, Way::Even);
        assert_eq!(c.each_for_itself(), None, "{name}");
        let mut compared = 0;
        for clock in 0..12 {
            let sizes = c.study.sizes(4, 0, clock);
            // Some outlines jam where the tip leaves a face: those are told of, and not compared.
            let (Ok(a), Ok(b)) = (c.found(&sizes), c.truly(&sizes)) else { continue };
            compared += 1;
            let near = |x: f64, y: f64, within: f64| assert!((x - y).abs() < within, "{name} {a:?} {b:?}");
            for i in 0..2 {
                near(a.holds[i], b.holds[i], 2e-4);
                near(a.drops[i], b.drops[i], 2e-4);
            }
            let ((arc, rate), (arc2, rate2)) = (a.settles.expect("goes"), b.settles.expect("goes"));
            near(arc, arc2, 5e-3 * arc2);
            near(rate, rate2, 0.4);
        }
        assert!(compared >= 2, "{name}: {compared}");
    }
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
