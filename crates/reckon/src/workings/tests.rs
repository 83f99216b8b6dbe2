//! The book: what is kept, what is a fault, and what a reader sees.

use super::*;
use crate::quantity::{Angle, Count, Length, Ratio};
use crate::source::{GEOMETRY, HOUSE};
use crate::trouble::Place;
use crate::{judge, work};
use std::sync::Arc;

fn says(book: &Book) -> Vec<&str> {
    book.faults().iter().map(|f| f.says.as_str()).collect()
}
fn names(book: &Book) -> Vec<&str> {
    book.lines().map(|l| l.name.as_str()).collect()
}
fn example(book: &mut Book, name: &str, mm: f64) -> Val<Length> {
    book.assumed(name, Length::mm(mm), "as an example")
}

#[test]
fn two_of_one_name_are_a_fault() {
    let mut book = Book::new();
    let first = example(&mut book, "gap", 1.0);
    let second = example(&mut book, "gap", 2.0);
    assert_eq!(says(&book), ["two workings are called gap"]);
    assert_eq!(book.find("gap").unwrap().0, first.id());
    // Both keep their own line.
    assert_eq!(book.line(second.id()).unwrap().shown, "2.000 mm");
    let mut page = book.child();
    example(&mut page, "gap", 3.0);
    example(&mut page, "other", 3.0);
    book.absorb(page);
    assert_eq!(says(&book), ["two workings are called gap"; 2]);
    assert_eq!(book.find("gap").unwrap().0, first.id());
    assert!(book.find("other").is_some());
}
#[test]
fn what_is_not_a_number_is_a_fault() {
    let mut book = Book::new();
    let none = example(&mut book, "none", 0.0);
    let ratio = work!(book, "ratio", |none| none / none, &GEOMETRY);
    assert!(ratio.bare().value().is_nan());
    book.assumed("far", Length::si(f64::INFINITY), "as an example");
    let cells = vec![vec![Cell::of(&Count(1)), Cell::of(&Ratio::si(f64::NAN))], vec![Cell::word("x")]];
    book.table("passes", &["pass", "depth"], cells, "by halves", vec![none.id()], &HOUSE);
    assert_eq!(
        says(&book),
        [
            "the working ratio is not a number",
            "the working far is not a number",
            "a cell of the table passes is not a number"
        ]
    );
    let mut page = book.child();
    page.assumed("away", Angle::si(f64::NEG_INFINITY), "as an example");
    book.absorb(page);
    assert_eq!(book.faults().len(), 4);
}
#[test]
fn a_book_that_is_off_records_nothing() {
    let mut book = Book::off();
    let a = example(&mut book, "a", f64::NAN);
    let b = work!(book, "a", |a| a + a, &GEOMETRY);
    let v = judge!(book, "v", "it fits", |a, b| a <= b, &HOUSE);
    book.cure(v.id(), "file it");
    let table = book.table("t", &["x"], vec![vec![Cell::of(&Ratio::si(f64::NAN))]], "none", vec![], &HOUSE);
    let mut page = book.child();
    let c = example(&mut page, "c", f64::NAN);
    book.absorb(page);
    assert_eq!((book.lines().count(), book.faults().len()), (0, 0));
    assert!(book.line(a.id()).is_none() && book.line(table).is_none() && book.line(c.id()).is_none());
    assert!(book.find("a").is_none() && book.explain("a").is_none() && book.matching("**").is_empty());
}
#[test]
fn pages_come_back_in_the_order_of_absorbing() {
    let mut book = Book::new();
    example(&mut book, "first", 1.0);
    let (mut a, mut b) = (book.child(), book.child());
    let mut inner = a.child();
    let in_b = example(&mut b, "b", 2.0);
    let in_a = example(&mut a, "a", 3.0);
    let in_inner = work!(inner, "inner", |in_a| in_a * 2.0, &GEOMETRY);
    a.absorb(inner);
    book.absorb(b);
    book.absorb(a);
    assert_eq!(names(&book), ["first", "b", "a", "inner"]);
    for (v, name) in [(in_a, "a"), (in_b, "b"), (in_inner, "inner")] {
        assert_eq!(book.line(v.id()).unwrap().name, name);
    }
    let last = work!(book, "last", |in_a, in_b| in_a + in_b, &GEOMETRY);
    assert_eq!(last, in_a.bare() + in_b.bare());
    assert!(book.explain("last").unwrap().text().contains("\n  in_a = a = 3.000 mm"));
}
#[test]
fn a_page_of_another_book_is_refused() {
    let mut book = Book::new();
    let kept = example(&mut book, "kept", 1.0);
    let mut other = Book::new();
    example(&mut other, "strange", 2.0);
    book.absorb(other);
    assert_eq!(says(&book), ["a page of another book was brought into this one"]);
    assert_eq!(book.line(kept.id()).unwrap().name, "kept");
    assert_eq!(names(&book), ["kept"]);
}
/// Eight threads, each slower than the next, with pages of their own within: the book is the same each time.
#[test]
fn threads_do_not_change_the_book() {
    let run = |backward: bool| {
        let mut book = Book::new();
        let step = example(&mut book, "step", 0.1);
        let pages: Vec<Book> = (0..8).map(|_| book.child()).collect();
        let done: Vec<Book> = std::thread::scope(|scope| {
            let hands: Vec<_> = pages
                .into_iter()
                .enumerate()
                .map(|(i, mut page)| {
                    scope.spawn(move || {
                        let wait = if backward { 8 - i } else { i };
                        std::thread::sleep(std::time::Duration::from_millis(wait as u64));
                        let mut size = example(&mut page, &format!("part{i}.size"), 1.0);
                        for k in 0..200 {
                            size = work!(
                                page,
                                format_args!("part{i}.pass{k}"),
                                |size, step| size - step,
                                &GEOMETRY
                            );
                        }
                        let mut inner = page.child();
                        work!(inner, format_args!("part{i}.twice"), |size| size * 2.0, &GEOMETRY);
                        page.absorb(inner);
                        page
                    })
                })
                .collect();
            hands.into_iter().map(|h| h.join().unwrap()).collect()
        });
        for page in done {
            book.absorb(page);
        }
        assert!(book.faults().is_empty());
        let mut told: Vec<String> =
            book.lines().map(|l| format!("{} {} {:?}", l.name, l.shown, l.si.map(f64::to_bits))).collect();
        for i in 0..8 {
            told.push(book.explain(&format!("part{i}.twice")).unwrap().text());
        }
        told
    };
    let once = run(false);
    assert_eq!(once.len(), 1 + 8 * 202 + 8);
    assert_eq!(once, run(true));
}
#[test]
fn a_shared_input_is_explained_once() {
    let mut book = Book::new();
    let pivot = book.written(
        "pivot",
        Length::mm(0.97),
        Place { file: Arc::from("clock.toml"), line: 7, column: 3, start: 90, end: 99 },
    );
    let shake = example(&mut book, "shake", 0.03);
    let hole = work!(book, "hole", |pivot, shake| pivot + shake, &GEOMETRY);
    let depth = work!(book, "depth", |hole| hole * 2.0, &GEOMETRY);
    work!(book, "all", |hole, depth| hole + depth, &GEOMETRY);
    assert_eq!(
        book.explain("all").unwrap().text(),
        "all = 3.000 mm   = hole + depth   (plane geometry, derived)\n\
         \x20 hole = hole = 1.000 mm   = pivot + shake   (plane geometry, derived)\n\
         \x20   pivot = pivot = 0.970 mm   written: clock.toml line 7\n\
         \x20   shake = shake = 0.030 mm   assumed: as an example\n\
         \x20 depth = depth = 2.000 mm   = hole × 2.0   (plane geometry, derived)\n\
         \x20   hole = hole = 1.000 mm   (explained above)\n"
    );
}
#[test]
fn every_door_says_how() {
    let mut book = Book::new();
    let a = book.tabled("a", Length::mm(3.0), "row M3", &GEOMETRY);
    let m = book.measured("m", Length::mm(2.98), 12, "micrometer");
    let s = book.solved("s", Ratio::si(0.5), ("a - 2 m", 7, 1.5e-9), vec![a.id(), m.id()], &GEOMETRY);
    let among = |what: &str, taken| Alternative { what: what.into(), taken, why: "near".into() };
    let c = book.chosen(
        "c",
        "drill 3".to_owned(),
        "the nearest",
        vec![among("drill 3", true), among("drill 4", false)],
        vec![s.id()],
        &HOUSE,
    );
    let rows = vec![vec![Cell::of(&Count(1)), Cell::as_text(&Length::mm(0.1), "0.1")]];
    let t = book.table("t", &["pass", "depth"], rows, "one pass", vec![c.id()], &HOUSE);
    assert_eq!(
        book.explain("t").unwrap().text(),
        "t = 1 row   one pass (house default, common practice, no source)\n\
         \x20   pass | depth\n\
         \x20   1 | 0.1\n\
         \x20 c = drill 3   chosen: the nearest (house default, common practice, no source)\n\
         \x20     taken drill 3: near\n\
         \x20       not drill 4: near\n\
         \x20   s = 0.5   solved: a - 2 m (7 rounds, off by 1.5e-9; plane geometry, derived)\n\
         \x20     a = 3.000 mm   table: row M3 (plane geometry, derived)\n\
         \x20     m = 2.980 mm   measured: journal entry 12, micrometer\n"
    );
    let words: Vec<&str> = book.lines().map(|l| l.origin.word()).collect();
    assert_eq!(words, ["table", "measured", "solved", "chosen", "worked table"]);
    assert_eq!(book.line(t).unwrap().origin.source().map(|s| s.cite), Some("house default"));
    assert!(book.line(m.id()).unwrap().origin.source().is_none());
}
#[test]
fn verdicts_and_their_cures() {
    let mut book = Book::new();
    let (bar, bore) = (example(&mut book, "bar", 12.0), example(&mut book, "bore", 10.0));
    let v = judge!(book, "fits", "the bar passes the bore", |bar, bore| bar <= bore, &HOUSE);
    let w = judge!(book, "long", "the bar is not longer", |bar| bar < Length::si(1.0), &HOUSE);
    assert!(!v.bare() && w.bare());
    book.cure(v.id(), "take a thinner bar");
    book.cure(v.id(), "hold it outside");
    book.cure(w.id(), "this is not needed");
    let text = book.explain("fits").unwrap().text();
    assert!(
        text.starts_with("fits = no   the bar passes the bore: DOES NOT HOLD   bar <= bore (house"),
        "{text}"
    );
    let at = |s: &str| text.find(s).unwrap();
    assert!(at("would do: take a thinner bar") < at("would do: hold it outside"));
    assert!(!book.explain("long").unwrap().text().contains("would do"));
    assert_eq!((book.verdicts().count(), book.failing().count()), (2, 1));
    assert_eq!(book.assumptions().map(|l| l.name.as_str()).collect::<Vec<_>>(), ["bar", "bore"]);
    assert!(book.faults().is_empty());
    // What is no verdict of this book cannot be cured, and that is told.
    book.cure(bar.id(), "turn it down");
    let mut page = book.child();
    page.cure(v.id(), "broach it");
    book.absorb(page);
    assert_eq!(
        says(&book),
        [
            "no verdict stands here to be cured by: turn it down",
            "no verdict stands here to be cured by: broach it"
        ]
    );
}
#[test]
fn names_are_found_by_pattern_and_by_nearness() {
    let mut book = Book::new();
    for name in [
        "third.wheel.outside",
        "third.pinion.outside",
        "third.wheel.teeth",
        "great.wheel.teeth",
        "wall.teeth",
    ] {
        example(&mut book, name, 1.0);
    }
    assert_eq!(book.matching("third.*.outside"), ["third.pinion.outside", "third.wheel.outside"]);
    assert_eq!(book.matching("**.teeth"), ["great.wheel.teeth", "third.wheel.teeth", "wall.teeth"]);
    assert_eq!(book.matching("w*.teeth"), ["wall.teeth"]);
    assert_eq!(book.matching("third.w*.*").len(), 2);
    assert_eq!(book.matching("**").len(), 5);
    assert!(book.matching("third").is_empty());
    assert_eq!(book.near("third.wheel.outsid"), ["third.wheel.outside"]);
    assert_eq!(book.near("fourth.pallet.teeth").len(), 3);
    assert!(book.near("fourth.pallet.teeth").iter().all(|n| n.ends_with("teeth")));
    assert!(book.near("").is_empty() && book.near("nothing.like.it.").is_empty());
}
#[test]
fn what_moved() {
    let write = |gap: f64, extra: bool| {
        let mut book = Book::new();
        let gap = example(&mut book, "gap", gap);
        example(&mut book, "same", 4.0);
        work!(book, "twice", |gap| gap * 2.0, &GEOMETRY);
        book.assumed("word", if extra { "b" } else { "a" }.to_owned(), "as an example");
        if extra {
            example(&mut book, "new", 1.0);
        }
        book
    };
    let (before, after) = (write(1.0, false), write(1.5, true));
    assert_eq!(
        before.moved(&after),
        [("gap", "1.000 mm", "1.500 mm"), ("twice", "2.000 mm", "3.000 mm"), ("word", "a", "b")]
    );
    assert!(before.moved(&write(1.0, false)).is_empty());
    // A change too small to be shown is a change all the same.
    assert_eq!(before.moved(&write(1.000_000_1, false)).len(), 2);
}
#[test]
fn a_long_chain_is_explained_without_end_of_stack() {
    let mut book = Book::new();
    let step = example(&mut book, "step", 0.001);
    let mut size = example(&mut book, "size", 1.0);
    for i in 0..100_000 {
        size = work!(book, format_args!("s{i}"), |size, step| size + step, &GEOMETRY);
    }
    let explained = std::thread::Builder::new()
        .stack_size(512 * 1024)
        .spawn(move || {
            let text = book.explain("s99999").unwrap().text();
            let near_begin = book.explain("s50").unwrap().text();
            (text, near_begin)
        })
        .unwrap()
        .join()
        .unwrap();
    assert_eq!(explained.0.matches("not opened here").count(), 1);
    assert!(
        explained.0.contains(&format!("s{} = ", 99_999 - DEEPEST)),
        "the first not opened is still named"
    );
    assert!(explained.1.contains("size = size = 1.000 mm") && !explained.1.contains("not opened"));
}
#[test]
fn what_lies_too_deep_in_one_place_is_opened_in_another() {
    let mut book = Book::new();
    let root = example(&mut book, "root", 1.0);
    let base = work!(book, "base", |root| root * 2.0, &GEOMETRY);
    let mut size = base;
    for i in 0..DEEPEST - 1 {
        size = work!(book, format_args!("s{i}"), |size| size * 1.0, &GEOMETRY);
    }
    work!(book, "all", |size, base| size + base, &GEOMETRY);
    let text = book.explain("all").unwrap().text();
    assert_eq!(text.matches("not opened here").count(), 1);
    assert!(text.ends_with("  base = base = 2.000 mm   = root × 2.0   (plane geometry, derived)\n    root = root = 1.000 mm   assumed: as an example\n"));
}
#[test]
fn a_formula_as_a_reader_sees_it() {
    assert_eq!(readable("a  *\n   n.n() + maths::sqrt(b.value())"), "a × n + sqrt(b)");
}

#[test]
fn what_is_measured_takes_the_place_of_what_is_computed() {
    let actual = |value| Actual {
        value,
        entry: 7,
        tool: "micrometer".into(),
        give_or_take: Some(4e-6),
        measured: true,
    };
    let all = [("gap".to_owned(), actual(0.041_96)), ("gone".to_owned(), actual(1.0))];
    let mut book = Book::knowing(all.into_iter().collect());
    let gap = book.assumed("gap", Length::mm(42.0), "example");
    let shake = book.assumed("shake", Length::mm(0.2), "example");
    let shoulder = work!(book, "shoulder", |gap, shake| gap - shake, &GEOMETRY);
    assert!((shoulder.bare() - Length::mm(41.76)).abs() < Length::mm(1e-9));
    let (_, line) = book.find("gap").expect("is there");
    assert_eq!((line.shown.as_str(), line.origin.word()), ("41.960 mm", "measured"));
    let said = how(&line.origin);
    assert_eq!(said, "measured: journal entry 7, micrometer; in place of 42.000 mm, assumed: example");
    assert_eq!(book.orphans().map(|(n, _)| n).collect::<Vec<_>>(), ["gone"]);
    assert_eq!(book.actual().count(), 1);
    // Pages written elsewhere know it too.
    let mut page = book.child();
    assert_eq!(page.assumed("gone", Length::mm(2.0), "example"), Length::si(1.0));
}
