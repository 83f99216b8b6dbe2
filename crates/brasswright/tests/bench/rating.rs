//! The log of the clock and what the shop has learnt, entered on their pages.

use super::browser::{Browser, Driver, PHONE, http};
use super::served::{Served, begun};
use journal::What;

#[test]
fn a_reading_is_entered_and_advice_follows() {
    let driver = Driver::start();
    let served = Served::of(begun("regulator", "rating"), &[]);
    let own = format!("http://127.0.0.1:{}", served.port);
    let heads = [("Origin", own.as_str()), ("Content-Type", "application/x-www-form-urlencoded")];
    // A week of readings that waited in a phone: each counts for the moment at which it was typed.
    for day in 1..=7 {
        let body = format!(
            "way=ahead&off={}&warmth=18&key=k{day}&at=2026-11-0{day}T18:30:00.000Z",
            2.0 * f64::from(day)
        );
        let status = http(served.port, "POST", "/rating", &heads, Some(&body)).map(|a| a.0);
        assert_eq!(status, Some(303), "day {day}");
    }
    let without = http(served.port, "POST", "/rating", &heads, Some("off=3&key=x")).map(|a| a.0);
    assert_eq!(without, Some(422), "ahead or behind is not guessed");
    let phone = Browser::open(&driver, PHONE);
    phone.go(&served.at("/rating"));
    let told = phone.text("main");
    assert!(told.contains("+2.000 s/day") && told.contains("take off the tray 1.20 g"), "{told}");
    phone.keep("rating-phone");
    phone.click("input[value=behind]");
    phone.type_into("#off", "1.5");
    phone.run("document.querySelector('form[data-send=rating] details').open = true");
    phone.click("input[name=set]");
    phone.click("form[data-send=rating] button");
    phone.until("the reading is there", |b| b.text("main").contains("one reading tells no rate"));
    let last = served.journal().pop().expect("entries");
    let What::Rated(r) = last.what else { panic!("{last:?}") };
    assert!((r.offset + 1.5).abs() < 1e-12 && r.set);
    assert!(phone.has("tbody tr"), "readings are listed");
}
#[test]
fn what_the_shop_has_learnt_is_kept_beside_the_shop() {
    let driver = Driver::start();
    let served = Served::of(begun("ten-screws", "learnt"), &[]);
    let phone = Browser::open(&driver, PHONE);
    phone.go(&served.at("/shop"));
    assert!(phone.text("main").contains("Nothing yet"));
    phone.run("document.querySelector('form[data-send=learnt]').closest('details').open = true");
    phone.type_into("#of", "drill 3.3 mm");
    phone.type_into("#found", "3.34 mm");
    phone.click("form[data-send=learnt] button");
    phone.until("it is there", |b| b.text("main").contains("3.34 mm"));
    phone.keep("shop-phone");
    assert!(served.dir.join("shop-journal.sqlite").exists());
    assert!(served.journal().is_empty(), "the clock's own journal is not touched");
}
