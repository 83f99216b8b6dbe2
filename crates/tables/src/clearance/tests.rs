use super::*;
use reckon::ask::Given;
use reckon::trouble::Place;
use std::sync::Arc;

#[track_caller]
fn size(thread: &str, class: Class) -> String {
    let mut book = Book::new();
    let v = hole(&mut book, "hole", thread, class).unwrap_or_else(|t| panic!("{t}"));
    assert!(book.faults().is_empty());
    v.shown().trim_start_matches("⌀").to_owned()
}
#[test]
fn threads_are_read_as_written() {
    for (thread, want) in [
        ("M3", "3.400 mm"),
        ("m3x0.5", "3.400 mm"),
        ("M 3", "3.400 mm"),
        ("M1.6", "1.800 mm"),
        ("M5x0.8-6g", "5.500 mm"),
        ("2 BA", "4.900 mm"),
        ("BA 2", "4.900 mm"),
        ("0BA", "6.200 mm"),
        ("1BA", "5.500 mm"),
        ("10 BA", "1.800 mm"),
        ("2-56 UNC", "2.591 mm"),
        ("#2-56", "2.591 mm"),
        ("No. 4-40", "3.251 mm"),
        ("1/4-28 UNF", "7.137 mm"),
        ("10-32", "5.613 mm"),
    ] {
        assert_eq!(size(thread, Class::Medium), want, "{thread}");
    }
    assert_eq!(size("M3", Class::Clock), "3.100 mm");
    assert_eq!(size("8 BA", Class::Clock), "2.300 mm");
    assert_eq!(size("M2", Class::Clock), "2.050 mm");
}
#[test]
fn holes_widen_from_class_to_class_and_always_clear_the_thread() {
    for n in &TABLES.named {
        let mut last = n.major;
        for class in Class::ALL {
            let mut book = Book::off();
            let now =
                hole(&mut book, "hole", &n.thread, class).unwrap_or_else(|t| panic!("{}: {t}", n.thread));
            let now = now.bare();
            assert!(now > n.major, "{} {class}", n.thread);
            // The small BA sizes: clock and fine holes are the same.
            assert!(now >= last - Length::si(1e-9), "{} {class}", n.thread);
            last = now;
        }
    }
}
/// BS 93: the diameter is 6 (0.9^n)^1.2 mm to two figures.
#[test]
fn ba_diameters_follow_their_rule() {
    for n in 0..=16_u32 {
        let d = 6.0 * reckon::maths::pow(0.9, f64::from(n) * 1.2);
        let digits = if d < 1.0 { 100.0 } else { 10.0 };
        let want = (d * digits).round() / digits;
        let got = named(&format!("{n} BA")).unwrap().major.in_mm();
        assert!((got - want).abs() < 1e-9, "{n} BA {got} {want}");
    }
}
#[test]
fn number_screws_follow_their_rule() {
    for n in [0, 1, 2, 3, 4, 5, 6, 8, 10] {
        let got = named(&format!("{n}-99")).unwrap().major.across().in_inch();
        assert!((got - (0.060 + 0.013 * f64::from(n))).abs() < 1e-12, "{n}");
    }
}
/// Every thread this program knows has a hole that clears it, and where both tables know a thread they agree on it.
#[test]
fn every_known_thread_has_a_hole() {
    for thread in crate::thread::all() {
        let mut last = thread.major;
        for class in Class::ALL {
            let mut book = Book::new();
            let hole = hole(&mut book, "hole", &thread.name, class).unwrap_or_else(|t| panic!("{t}"));
            assert!(book.faults().is_empty());
            assert!(hole.bare() > thread.major, "{} {class}", thread.name);
            assert!(hole.bare() >= last - Length::mm(0.05), "{} {class}", thread.name);
            last = hole.bare();
        }
        if let Some(row) = named(&thread.name) {
            assert!((row.major - thread.major).abs() < Length::si(1e-9), "{} {}", thread.name, row.thread);
        }
    }
    assert!(named("1/4-26 BSF").is_none(), "a Whitworth thread takes no hole of the Unified table");
    assert_eq!(size("1/8x40 ME", Class::Medium), "3.556 mm");
}
#[test]
fn what_is_wrong_is_said() {
    let mut book = Book::new();
    let t = hole(&mut book, "hole", "M3q", Class::Fine).unwrap_err().to_string();
    assert!(t.contains("did you mean 'M3'?") && t.contains("give the thread's diameter"), "{t}");
    assert!(Class::read("tight").unwrap_err().to_string().contains("clock, fine, medium, coarse"));
}
#[test]
fn the_question_takes_a_thread_or_a_diameter() {
    let place = || Place { file: Arc::from("test"), line: 0, column: 0, start: 0, end: 9 };
    let ask = |pairs: &[(&str, &str)]| {
        let pairs: Vec<_> = pairs.iter().map(|(n, t)| ((*n).to_owned(), (*t).to_owned(), place())).collect();
        let given = Given::new(&ASKS[0], &pairs).unwrap();
        let mut book = Book::new();
        (ASKS[0].run)(&given, &mut book).map(|()| book.find("hole").unwrap().1.shown.clone())
    };
    assert_eq!(ask(&[("thread", "M3"), ("class", "fine")]).unwrap(), "⌀3.200 mm");
    assert_eq!(ask(&[("major", "5 mm")]).unwrap(), "⌀5.600 mm");
    assert!(ask(&[]).unwrap_err().to_string().contains("a thread or its diameter"));
    assert!(ask(&[("thread", "M3"), ("major", "3 mm")]).unwrap_err().to_string().contains("both"));
    assert!(ask(&[("major", "0 mm")]).unwrap_err().to_string().contains("larger than nothing"));
}
