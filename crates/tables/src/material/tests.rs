use super::*;
use reckon::ask::Given;
use reckon::trouble::Place;
use std::sync::Arc;

#[track_caller]
fn means(written: &str, name: &str) {
    match find(written) {
        Ok(m) => assert_eq!(m.name, name, "{written}"),
        Err(t) => panic!("{written}: {t}"),
    }
}
#[test]
fn a_maker_s_words_find_the_material() {
    for (written, name) in [
        ("brass CZ120", "brass CZ120"),
        ("CZ120", "brass CZ120"),
        ("CuZn39Pb2", "brass CZ120"),
        ("CZ120/CuZn39Pb2", "brass CZ120"),
        ("brass CZ120 sheet", "brass CZ120"),
        ("engraving brass", "brass CZ120"),
        ("brass", "brass CZ121"),
        ("brass bar", "brass CZ121"),
        ("CZ121/CuZn39Pb3", "brass CZ121"),
        ("CuZn39Pb3 brass", "brass CZ121"),
        ("C360 brass", "brass C360"),
        ("silver steel", "silver steel"),
        ("Silver Steel, annealed", "silver steel"),
        ("silver-steel rod", "silver steel"),
        ("1.2210", "silver steel"),
        ("water-hardening tool steel (W1)", "water-hardening tool steel"),
        ("W1", "water-hardening tool steel"),
        ("W1 tool steel", "water-hardening tool steel"),
        ("oil-hardening O1", "oil-hardening tool steel"),
        ("O1", "oil-hardening tool steel"),
        ("gauge plate", "oil-hardening tool steel"),
        ("mild steel / free-cutting", "mild steel"),
        ("free-cutting mild steel", "mild steel"),
        ("12L14", "leaded mild steel"),
        ("EN1A leaded", "leaded mild steel"),
        ("EN1A", "mild steel"),
        ("blue spring steel", "blue spring steel"),
        ("steel strip", "blue spring steel"),
        ("stainless 303", "stainless steel 303"),
        ("stainless steel 303", "stainless steel 303"),
        ("303 stainless", "stainless steel 303"),
        ("A2 stainless", "stainless steel 304"),
        ("phosphor bronze", "phosphor bronze"),
        ("bronze CuSn8", "phosphor bronze"),
        ("nickel silver", "nickel silver"),
        ("aluminium", "aluminium"),
        ("6082 aluminium alloy", "aluminium"),
        ("invar", "invar"),
        ("Invar 36", "invar"),
        ("cast iron", "cast iron"),
        ("beryllium copper", "beryllium copper"),
        ("lead shot", "lead"),
    ] {
        means(written, name);
    }
}
#[test]
fn every_name_means_one_material() {
    for m in all() {
        for name in std::iter::once(&m.name).chain(&m.also) {
            means(name, &m.name);
        }
    }
}
#[test]
fn what_is_wrong_is_said() {
    let says = |t: &str| find(t).unwrap_err().to_string();
    assert!(says("steel").contains("silver steel"), "{}", says("steel"));
    assert!(says("bronze").contains("phosphor bronze, bearing bronze"));
    assert!(says("brass CZ999").contains("say which: brass CZ121"), "{}", says("brass CZ999"));
    assert!(says("O1/W1").contains("names 2 materials"));
    assert!(says("silver stel").contains("did you mean 'silver steel'?"));
    assert!(says("unobtainium").contains("known are"));
    assert!(says(" () ").contains("missing"));
}
/// Figures must lie where metals lie, so that a slip of the pen or of a unit stands out.
#[test]
fn figures_are_possible() {
    for m in all() {
        let d = m.density.value.value();
        assert!((2500.0..12_000.0).contains(&d), "{} density {d}", m.name);
        let e = m.youngs.value.value() / 1e9;
        assert!((15.0..215.0).contains(&e), "{} E {e}", m.name);
        assert!((0.2..0.45).contains(&m.poisson.value.value()), "{}", m.name);
        let a = m.expansion.value.value() * 1e6;
        assert!((1.0..31.0).contains(&a), "{} expansion {a}", m.name);
        if let (Some(rm), Some(rp)) = (m.strength, m.proof) {
            assert!(rp.value < rm.value, "{}", m.name);
        }
        assert_eq!(m.leaded || m.beryllium, !m.cautions().is_empty());
    }
    // Stiff metals expand little: the product keeps within one power of ten, invar apart.
    for m in all().iter().filter(|m| m.kind != Kind::NickelIron) {
        let product = m.youngs.value.value() * m.expansion.value.value() / 1e6;
        assert!((0.4..4.0).contains(&product), "{} {product}", m.name);
    }
}
#[test]
fn groups_are_whole_and_used() {
    for c in groups() {
        assert!(c.pass_least.value < c.pass_most.value, "{}", c.name);
        assert!(c.drilling.value < c.turning.value, "{}", c.name);
        assert!(c.pass_force.value > c.force.value, "{}", c.name);
        assert!(all().iter().any(|m| m.group.as_ref() == Some(&c.name)), "{} is not used", c.name);
    }
    for m in all() {
        let cast = matches!(m.kind, Kind::Lead | Kind::Zinc);
        assert_eq!(cutting(m).is_err(), cast, "{}", m.name);
    }
    let brass = cutting(find("brass bar").unwrap()).unwrap();
    assert_eq!(brass.rake.value, reckon::Angle::ZERO, "brass is cut with no rake");
}
#[test]
fn dust_of_beryllium_is_refused() {
    assert!(find("C172").unwrap().refuses_grinding().unwrap().contains("no grinding"));
    assert_eq!(find("copper").unwrap().refuses_grinding(), None);
}
#[test]
fn every_question_answers_its_example() {
    let place = || Place { file: Arc::from("test"), line: 0, column: 0, start: 0, end: 9 };
    let with = |ask: &'static reckon::Ask, pairs: &[(&str, &str)]| {
        let pairs: Vec<_> = pairs.iter().map(|(n, t)| ((*n).to_owned(), (*t).to_owned(), place())).collect();
        let given = Given::new(ask, &pairs).unwrap();
        let mut book = reckon::Book::new();
        (ask.run)(&given, &mut book).unwrap();
        assert!(book.faults().is_empty(), "{:?}", book.faults());
        book
    };
    for m in all() {
        let book = with(&ASKS[0], &[("material", &m.name)]);
        for answer in ASKS[0].gives {
            let of_cutting = ASKS[0].gives.iter().position(|g| g == answer) > Some(12);
            assert!(book.find(answer).is_some() || of_cutting && m.group.is_none(), "{answer}");
        }
    }
    let pairs = [("material", "brass bar"), ("outside", "80 mm"), ("length", "3 mm")];
    let book = with(&ASKS[1], &pairs);
    assert!(ASKS[1].gives.iter().all(|g| book.find(g).is_some()));
    assert_eq!(book.find("mass").unwrap().1.shown, "127.72 g");
}
