use super::*;
use reckon::ask::Given;
use reckon::trouble::Place;
use std::sync::Arc;

fn head(form: Form, mm: f64) -> (Book, Head) {
    let mut book = Book::new();
    let major = book.assumed("major", Diameter::mm(mm), "a test");
    let head = clock(&mut book, "head", form, major);
    assert!(book.faults().is_empty(), "{:?}", book.faults());
    (book, head)
}
#[test]
fn heads_have_every_form() {
    for form in Form::ALL {
        assert_eq!(shares(form).form, form);
        assert_eq!(Form::read(form.text()), Ok(form));
    }
    assert!(Form::read("pan").unwrap_err().to_string().contains("cheese, dome, countersunk"));
}
/// The bounds that clock makers give: head 1.7 to 2.0 threads, height 0.6 to 0.7, slot 0.13 to 0.25 of the head.
#[test]
fn clock_heads_keep_to_the_trade_s_bounds() {
    for tenths in 8..=80 {
        let mm = f64::from(tenths) / 10.0;
        for form in Form::ALL {
            let (_, h) = head(form, mm);
            let (d, k) = (h.diameter.bare().in_mm(), h.height.bare().in_mm());
            assert!((1.7..=2.0).contains(&(d / mm)), "{form} {mm}");
            assert!((0.5..=0.75).contains(&(k / mm)), "{form} {mm} {k}");
            assert!((0.13..=0.25).contains(&(h.slot.width.bare().in_mm() / d)), "{form} {mm}");
            assert!(h.slot.enough.bare(), "{form} {mm}");
            assert!(h.side.bare() <= h.height.bare());
        }
    }
}
/// The share falls between 3 and 4 mm, and still no larger head gets a slot narrower by more than 0.01 mm.
#[test]
fn slots_do_not_narrow_as_heads_grow() {
    let mut widest: f64 = 0.0;
    for hundredths in 50..1500 {
        let d = Diameter::mm(f64::from(hundredths) / 100.0);
        let width = (d.across() * slot_share(d)).in_mm();
        assert!(width > widest - 0.01, "{hundredths}");
        widest = widest.max(width);
    }
    assert!((slot_share(Diameter::mm(3.5)).value() - 0.185).abs() < 1e-12);
}
#[test]
fn a_dome_rises_by_its_sagitta() {
    let (_, h) = head(Form::Dome, 4.0);
    // 7.4 mm across on a radius of 18.5 mm: 18.5 - sqrt(18.5² - 3.7²) = 0.3738 mm.
    assert!((h.rise.unwrap().bare().in_mm() - 0.373_8).abs() < 1e-4);
    assert!((h.height.bare().in_mm() - 2.373_8).abs() < 1e-4);
}
#[test]
fn standard_heads_are_as_tabled_and_lie_near_clock_proportions() {
    for s in &TABLES.standard {
        let mut book = Book::new();
        let h = standard(&mut book, "head", s.form, &s.thread).unwrap();
        assert!(book.faults().is_empty());
        let ratio = h.diameter.bare() / s.major;
        assert!((1.5..=2.2).contains(&ratio.value()), "{} {}", s.form, s.thread);
        let slot = h.slot.depth.bare() / h.height.bare();
        assert!((0.38..=0.55).contains(&slot.value()), "{} {}", s.form, s.thread);
        assert!(h.slot.enough.bare(), "{} {}", s.form, s.thread);
    }
    let mut book = Book::new();
    let says = |r: Result<Head, Trouble>| r.unwrap_err().to_string();
    assert!(says(standard(&mut book, "a", Form::Dome, "M3")).contains("cheese and countersunk"));
    assert!(says(standard(&mut book, "b", Form::Cheese, "M7")).contains("tabled are M1.6, M2"));
    assert!(standard(&mut book, "c", Form::Cheese, "m3 x 0.5").is_ok());
}
#[test]
fn the_nearest_saw_is_taken() {
    let mut book = Book::new();
    let width = book.assumed("w", Length::mm(0.45), "a test");
    assert_eq!(saw(&mut book, "saw", width, saws()).shown(), "0.400 mm");
    assert!(book.explain("saw").unwrap().text().contains("taken 0.40 mm: -0.05 mm"));
    assert_eq!(saw(&mut book, "none", width, &[]).shown(), "0.450 mm");
}
#[test]
fn the_question_answers() {
    let place = || Place { file: Arc::from("test"), line: 0, column: 0, start: 0, end: 9 };
    let ask = |pairs: &[(&str, &str)]| {
        let pairs: Vec<_> = pairs.iter().map(|(n, t)| ((*n).to_owned(), (*t).to_owned(), place())).collect();
        let given = Given::new(&ASKS[0], &pairs).unwrap();
        let mut book = Book::new();
        (ASKS[0].run)(&given, &mut book).map(|()| {
            assert!(ASKS[0].gives.iter().all(|g| book.find(g).is_some()));
            book.find("head.diameter").unwrap().1.shown.clone()
        })
    };
    assert_eq!(ask(&[("major", "4 mm"), ("form", "dome")]).unwrap(), "⌀7.400 mm");
    assert_eq!(ask(&[("thread", "M4")]).unwrap(), "⌀7.000 mm");
    assert!(ask(&[]).unwrap_err().to_string().contains("diameter of the thread"));
    assert!(ask(&[("major", "4 mm"), ("thread", "M4")]).unwrap_err().to_string().contains("both"));
}
