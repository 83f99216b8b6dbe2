//! Parts made at the bench from the first step to the signature, by what the pages show and nothing else.

use super::browser::{Browser, DESK, Driver, Kind, PHONE};
use super::served::{Served, begun};
use journal::{Standing, State, What};

/// A project with a wheel, the pinion that it drives, and two screws.
fn pair(name: &str) -> Served {
    let dir = begun("one-wheel", name);
    std::fs::write(dir.join("clock.toml"), include_str!("pair.toml")).expect("the text is written");
    Served::of(dir, &[])
}
/// Millimetres of a text such as `3.433 … 3.523 mm`.
fn limits(text: &str) -> (f64, f64) {
    let numbers: Vec<f64> = text.split([' ', '…']).filter_map(|w| w.parse().ok()).collect();
    assert_eq!(numbers.len(), 2, "limits in '{text}'");
    (numbers[0], numbers[1])
}
/// Goes through every step of a part as the pages lead; `off` says where in its limits the n-th size is read, 0 at the
/// least and 1 at the greatest. Gives back how many screens it took.
fn make(b: &Browser, s: &Served, slug: &str, off: &dyn Fn(usize) -> f64) -> usize {
    let (mut screens, mut read) = (0, 0);
    b.go(&s.at(&format!("/bench/{slug}")));
    loop {
        screens += 1;
        assert!(screens < 400, "{slug} comes to no end: {}", b.place());
        let kind = b.run(SCREEN);
        let kind = kind.as_str().unwrap_or_default();
        if kind == "sign" {
            b.click("button.first.whole");
            b.until("it is made", |b| b.text("h1") == "Made");
            return screens;
        }
        let before = b.run("return performance.timeOrigin");
        let next = |b: &Browser| {
            b.until("another screen", |b| {
                b.run("return document.readyState === 'complete' && performance.timeOrigin") != before
                    && b.run("return document.readyState") == "complete"
            });
        };
        match kind {
            "read" => {
                let (least, most) = limits(&b.text(".now .big"));
                let value = format!("{:.3}", least + (most - least) * off(read));
                read += 1;
                if read == 2 {
                    for c in value.chars() {
                        b.click(&format!(".pad [data-key='{c}']"));
                    }
                } else {
                    b.type_into("#reading", &value);
                }
                b.click("button.first.whole");
                next(b);
                let asked = b.text("h1").contains("Is it so");
                assert!(!asked, "{value} in {least} to {most} is asked about: {}", b.text("main"));
            }
            "teeth" => count(b),
            press => {
                b.click(press);
                next(b);
            }
        }
    }
}
/// What a screen asks for: a reading, a count, a signature, or something to press.
const SCREEN: &str = "const has = s => document.querySelector(s); const w = has('button.first.whole'); \
    if (w && w.textContent.includes('Sign it off')) return 'sign'; if (has('#reading')) return 'read'; \
    if (has('[data-counter]')) return 'teeth'; \
    return ['.barrier a', '.count button.first', '.foot a.first', '.foot form button'].find(has) || 'none'";
/// Cuts every tooth; at the thirty-seventh the page is loaded anew.
fn count(b: &Browser) {
    let whole: u32 = b.attribute("[data-counter]", "data-whole").parse().expect("a number of teeth");
    let cut = |b: &Browser| b.attribute("[data-counter]", "data-cut").parse::<u32>().unwrap_or(0);
    let sent =
        |b: &Browser| b.run("return (localStorage.getItem('brasswright.outbox') || '[]') === '[]'") == true;
    for n in cut(b) + 1..whole {
        b.click("[data-by='1'] button");
        b.until("it is counted", |b| cut(b) == n);
        if n == 37.min(whole - 1) {
            b.until("all is sent", sent);
            b.keep("counter-phone");
            b.reload();
            b.until("it survives a reload", |b| cut(b) == n);
        }
    }
    b.until("all but one are counted", |b| cut(b) == whole - 1 && sent(b));
    b.click("[data-by='1'] button");
    b.until("all are counted", |b| !b.has("[data-counter]"));
}
#[test]
fn a_batch_and_a_pair_are_made_with_the_phone() {
    let driver = Driver::start();
    let served = pair("made");
    let phone = Browser::open(&driver, PHONE);
    // The blank of the wheel comes out small: what is cut after it goes by what it is.
    phone.go(&served.at("/parts/third.wheel"));
    let middle = |_: usize| 0.5;
    make(&phone, &served, "third.wheel", &|n| if n == 0 { 0.05 } else { 0.5 });
    let moved: Vec<String> = {
        phone.go(&served.at("/moved"));
        phone.click("tbody tr:last-child a[href^='/moved/']");
        phone.until("it tells what moved", |b| b.place().contains("/moved/"));
        phone.keep("moved-phone");
        phone.text("main").lines().map(str::to_owned).collect()
    };
    assert!(moved.len() > 4, "a blank that is small moves what follows: {moved:?}");
    make(&phone, &served, "escape", &middle);
    make(&phone, &served, "bridge_screw", &|n| if n % 2 == 0 { 0.4 } else { 0.6 });
    phone.go(&served.at("/clock"));
    phone.keep("clock-phone");
    let entries = served.journal();
    let standing = Standing::after(&entries, None);
    for (part, pieces) in [("third.wheel", 1), ("escape", 1), ("bridge_screw", 2)] {
        for p in 1..=pieces {
            assert_eq!(standing.state(part, p), State::Made, "{part}, piece {p}");
        }
    }
    let sizes = entries.iter().filter(|e| matches!(e.what, What::Measured(_))).count();
    assert!(sizes >= 8, "{sizes} sizes were measured");
    let keys: std::collections::BTreeSet<&str> = entries.iter().map(|e| e.key.as_str()).collect();
    assert_eq!(keys.len(), entries.len());
}
/// Reads a size on the pad of a step and gives back what the page tells then.
fn read(b: &Browser, s: &Served, pad: &str, value: &str, rough: bool) -> String {
    b.go(&s.at(pad));
    b.type_into("#reading", value);
    if rough {
        b.run("document.querySelectorAll('details').forEach(d => { d.open = true; })");
        b.click("input[name=rough]");
    }
    b.click("button.first.whole");
    b.until("it is asked or entered", |b| b.place().contains("/moved/") || b.text("h1").contains("Is it so"));
    if b.text("h1").contains("Is it so") {
        b.click("button[name=sure], button.first");
        b.until("it is entered", |b| b.place().contains("/moved/"));
    }
    b.text("main")
}
#[test]
fn what_was_measured_changes_passes_depths_and_holes() {
    let driver = Driver::start();
    let served = Served::of(begun("regulator", "small"), &[]);
    let phone = Browser::open(&driver, PHONE);
    // The blank came out small: the teeth are cut less deep by what it lacks.
    let told = read(&phone, &served, "/bench/third.wheel/2.1/measure?check=0", "41.658", false);
    assert!(told.contains("third wheel: depth") && told.contains("1.614 mm"), "{told}");
    // They came out deeper than drawn: the pivot hole that is not drilled follows them.
    let pins = (0..6)
        .map(|n| format!("/bench/third.wheel/3.3/measure?check={n}"))
        .find(|pad| {
            phone.go(&served.at(pad));
            phone.has("#reading") && phone.text("h1").contains("pins")
        })
        .expect("a size over pins at the step");
    let told = read(&phone, &served, &pins, "43.45", false);
    phone.keep("hole-moved-phone");
    assert!(
        told.contains("escape") && told.contains("52.00 mm"),
        "the hole moves from where it was drawn: {told}"
    );
    // A thread that is still cut: what is left of it, in passes.
    let screws = Served::of(begun("ten-screws", "passes"), &[]);
    let told = read(&phone, &screws, "/bench/bridge_screw/1.5/measure?check=1&piece=1", "4.26", true);
    phone.keep("thread-left-phone");
    assert!(told.contains("still to be cut") && told.contains("Measure again before the last"), "{told}");
    assert_eq!(phone.run("return document.querySelectorAll('ol.passes li').length"), 2);
}
#[test]
fn what_gives_pause_is_asked() {
    let driver = Driver::start();
    let served = pair("asked");
    let phone = Browser::open(&driver, Kind { dark: true, ..PHONE });
    phone.go(&served.at("/bench/bridge_screw/1.5/measure?check=0&piece=1"));
    let (least, _) = limits(&phone.text(".now .big"));
    phone.keep("measure-phone-dark");
    phone.type_into("#reading", &format!("{:.3}", (least + 0.02) * 10.0));
    phone.click("button.first.whole");
    phone.until("it is asked", |b| b.text("h1").contains("Is it so"));
    assert!(served.journal().is_empty(), "nothing is entered before the answer");
    phone.keep("asked-phone-dark");
    // The maker meant the tenth of it.
    phone.click(".presses form button");
    phone.until("what was meant is entered", |b| b.place().contains("/moved/"));
    let entries = served.journal();
    let What::Measured(r) = &entries[0].what else { panic!("{entries:?}") };
    assert!((r.value * 1e3 - least - 0.02).abs() < 1e-6, "{r:?}");
    // A remark with no words is refused; one with words stands at its step.
    phone.go(&served.at("/bench/bridge_screw/1.2?piece=1"));
    phone.click("details:has(form[data-send=picture]) summary");
    phone.type_into("#text", "a burr is left <b>here</b>");
    phone.click("form[data-send=picture] button");
    phone.until("the remark stands at its step", |b| b.text("main").contains("a burr is left <b>here</b>"));
    // What was entered wrongly is struck, and both stay readable.
    phone.go(&served.at("/journal"));
    phone.click("#e1 summary");
    phone.type_into("#why1", "misread");
    phone.click("#e1 button");
    phone.until("it is struck", |b| b.text("#e1").contains("struck by entry 3"));
}
#[test]
fn two_browsers_and_no_script() {
    let driver = Driver::start();
    let served = pair("two");
    let bare = Browser::open(&driver, Kind { scripts: false, ..PHONE });
    let desk = Browser::open(&driver, DESK);
    // Without a script: read, counted, measured, done.
    bare.go(&served.at("/bench/bridge_screw"));
    bare.click(".foot form button");
    bare.until("a step is done without a script", |b| b.place().contains("/1.1"));
    bare.go(&served.at("/bench/third.wheel/3.3"));
    for n in 1..=3 {
        bare.click(".count button.first");
        bare.until("it counts without a script", |b| {
            b.attribute("[data-counter]", "data-cut") == n.to_string()
        });
    }
    bare.keep("counter-no-script");
    assert!(!bare.has("html.js"), "no script ran");
    bare.go(&served.at("/bench/bridge_screw/1.5/measure?check=0&piece=1"));
    let (least, most) = limits(&bare.text(".now .big"));
    bare.type_into("#reading", &format!("{:.3}", f64::midpoint(least, most)));
    bare.click("button.first.whole");
    bare.until("a size is entered without a script", |b| b.place().contains("/moved/"));
    // The other browser sees it, and both may write at once.
    desk.go(&served.at("/measured"));
    assert!(desk.has("svg.plan"), "{}", desk.text("main"));
    desk.go(&served.at("/bench/third.wheel/3.3"));
    assert_eq!(desk.attribute("[data-counter]", "data-cut"), "3");
    let before = served.journal().len();
    desk.run("for (let i = 4; i <= 13; i++) fetch('/bench/third.wheel/3.3/count', { method: 'POST', headers: { Accept: 'application/json' }, body: new URLSearchParams({ count: i, key: 'desk' + i }) })");
    for _ in 0..3 {
        bare.go(&served.at("/bench/bridge_screw"));
        bare.click(".count button.first, .foot form button");
    }
    desk.until("all of both are there", |_| served.journal().len() >= before + 13);
    let numbers: Vec<u64> = served.journal().iter().map(|e| e.number).collect();
    assert_eq!(numbers, (1..=numbers.len() as u64).collect::<Vec<_>>(), "no entry is lost and none is twice");
}
