//! Every page at both sizes, light and dark: nothing runs over, everything has its label, nothing comes from elsewhere.

use super::browser::{Browser, DESK, Driver, Kind, PHONE, http};
use super::served::{Served, begun};

const PAGES: [(&str, &str); 17] = [
    ("clock", "/clock"),
    ("tonight", "/tonight?hours=3"),
    ("parts", "/parts"),
    ("part", "/parts/third.wheel"),
    ("train", "/train"),
    ("plates", "/plates"),
    ("escapement", "/escapement"),
    ("power", "/power"),
    ("going", "/going"),
    ("setting-up", "/setting-up"),
    ("sheet", "/setting-up/dry_assembly"),
    ("measured", "/measured"),
    ("rating", "/rating"),
    ("shop", "/shop"),
    ("moved", "/moved/1"),
    ("journal", "/journal"),
    ("why", "/why?name=third.wheel.outside"),
];
const BENCH: [(&str, &str); 6] = [
    ("set-up", "/bench/third.wheel/1.0"),
    ("turned", "/bench/third.wheel/2.1"),
    ("counted", "/bench/third.wheel/3.3"),
    ("heat", "/bench/escape/5.2"),
    ("measure", "/bench/third.wheel/2.1/measure?check=0"),
    ("drawing", "/drawing-of/third.wheel"),
];
fn sound(b: &Browser, place: &str, width: u32) {
    // A phone zooms out over what is too wide: its screen is then told to be wider than it is.
    let wide = b.run(&format!("return Math.max(innerWidth, document.documentElement.scrollWidth) - {width}"));
    assert!(wide.as_i64().is_some_and(|w| w <= 0), "{place} runs over its width by {wide}");
    let bare = b.run(
        "return [...document.querySelectorAll('input:not([type=hidden]),select,textarea,button')].filter(e => !(e.labels && e.labels.length) && !e.getAttribute('aria-label') && !document.getElementById(e.getAttribute('aria-labelledby'))?.textContent.trim() && !e.textContent.trim()).map(e => e.outerHTML).join('\\n')",
    );
    assert_eq!(bare, "", "{place}: something to fill in or press has no label");
    let foreign = b.run("return performance.getEntriesByType('resource').map(e => e.name).filter(n => !n.startsWith(location.origin)).join(' ')");
    assert_eq!(foreign, "", "{place}: something comes from elsewhere");
    assert_ne!(b.text("h1"), "Nothing here", "{place}");
    let first = b.run("return document.querySelector('a,button,input').className");
    assert_eq!(first, "skip", "{place}: the way past the band comes first");
    assert_eq!(b.run("return document.querySelectorAll('h1').length"), 1, "{place}: one head");
    let doubled = b.run("const i = [...document.querySelectorAll('[id]')].map(e => e.id); return i.filter((x, n) => i.indexOf(x) !== n).join(' ')");
    assert_eq!(doubled, "", "{place}: two things of one name");
}
#[test]
fn every_page_at_both_sizes() {
    let driver = Driver::start();
    let served = Served::of(begun("regulator", "views"), &[]);
    let own = format!("http://127.0.0.1:{}", served.port);
    let heads = [("Origin", own.as_str()), ("Content-Type", "application/x-www-form-urlencoded")];
    for (place, body) in [
        ("/bench/third.wheel/2.1/measure", "check=0&reading=41.68&unit=mm&key=a"),
        ("/bench/third.wheel/1.1/done", "key=b&took=900"),
        ("/bench/third.wheel/1.1/remark", "key=c&text=blank+from+the+old+sheet"),
        ("/journal/strike", "key=d&entry=3&why=said+otherwise"),
        ("/bench/third.wheel/3.3/count", "key=e&count=37"),
    ] {
        let status = http(served.port, "POST", place, &heads, Some(body)).map(|a| a.0);
        assert_eq!(status, Some(303), "{place}");
    }
    let look = |kind: Kind, name: &str, pages: &[(&str, &str)]| {
        let b = Browser::open(&driver, kind);
        for (page, place) in pages {
            b.go(&served.at(place));
            sound(&b, place, kind.width);
            b.keep(&format!("{page}-{name}"));
        }
        b
    };
    look(PHONE, "phone", &PAGES);
    look(PHONE, "phone", &BENCH);
    look(Kind { dark: true, ..PHONE }, "phone-dark", &BENCH);
    let desk = look(DESK, "desk", &PAGES);
    look(Kind { dark: true, ..DESK }, "desk-dark", &PAGES[4..8]);
    // What is drawn tells its name under the pointer and its why under a tap.
    for place in ["/train", "/plates", "/power"] {
        desk.go(&served.at(place));
        let titles = desk.run("return [...document.querySelectorAll('svg.plan a')].filter(a => a.querySelector('title')).length");
        assert!(titles.as_i64().is_some_and(|n| n > 1), "{place} has {titles} things with a name and a why");
    }
    let why = desk.run("return document.querySelector('svg.plan a').getAttribute('href')");
    desk.go(&served.at(why.as_str().unwrap_or_default()));
    assert!(
        desk.text("main").contains("went in") || desk.text("main").contains("wrote"),
        "{}",
        desk.text("main")
    );
}
