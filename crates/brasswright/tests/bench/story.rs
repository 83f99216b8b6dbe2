//! What goes on around the making: the movement going, the sheets of setting up, pictures and entries that wait.

use super::browser::{Browser, Driver, Kind, PHONE};
use super::served::{Served, begun};
use journal::What;

/// The smallest picture: one point, as RFC 2083 has it.
const POINT: &[u8] = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x01\0\0\0\x01\x08\0\0\0\0\x3a\x7e\x9b\x55\0\0\0\nIDATx\x9cc\x60\0\0\0\x02\0\x01\x48\xaf\xa4\x71\0\0\0\0IEND\xaeB\x60\x82";

fn waiting(b: &Browser) -> i64 {
    let n = b.run("return JSON.parse(localStorage.getItem('brasswright.outbox') || '[]').length");
    n.as_i64().unwrap_or(-1)
}
#[test]
fn it_goes_on_the_page_and_is_set_up_by_boxes() {
    let driver = Driver::start();
    let served = Served::of(begun("regulator", "going"), &[]);
    let phone = Browser::open(&driver, PHONE);
    phone.go(&served.at("/going"));
    assert!(phone.text("main").contains("Through the wind"), "{}", phone.text("main"));
    let turned = |b: &Browser| b.attribute("[data-moves=pallets]", "transform");
    let at = turned(&phone);
    phone.until("the pallets move", |b| turned(b) != at);
    // What the simulation found has its why.
    let why = phone.attribute(".numbers a", "href");
    phone.go(&served.at(&why));
    assert!(phone.text("main").contains("What went in") || phone.text("main").contains("went in"), "{why}");
    // A box is kept, and can be opened again; it is the same in a browser without scripts.
    phone.go(&served.at("/setting-up/dry_assembly"));
    let first = |b: &Browser| b.attribute("#box1 button", "aria-pressed");
    assert_eq!(first(&phone), "false");
    phone.click("#box1 button");
    phone.until("it is ticked", |b| b.has("#box1 button[aria-pressed=true]"));
    phone.keep("setting-up-phone");
    let bare = Browser::open(&driver, Kind { scripts: false, ..PHONE });
    bare.go(&served.at("/setting-up/dry_assembly"));
    assert_eq!(first(&bare), "true");
    bare.click("#box1 button");
    bare.until("it is open again", |b| b.has("#box1 button[aria-pressed=false]"));
    assert_eq!(served.journal().len(), 2);
    // A job of the whole clock.
    bare.go(&served.at("/setting-up"));
    bare.click(".sheets form button");
    bare.until("the job is done", |b| b.text("main").contains("✓ done"));
    bare.go(&served.at("/going"));
    assert!(bare.has(".moving svg.works path"), "it stands where no script runs");
}
#[test]
fn a_picture_waits_in_the_phone_and_is_sent_once() {
    const NAME: &str = "shed.test";
    let driver = Driver::start();
    let served = Served::of(begun("ten-screws", "waits"), &["--workshop-network", "--name", NAME]);
    let file = served.dir.join("point.png");
    std::fs::write(&file, POINT).expect("a picture to send");
    let phone = Browser::open(&driver, Kind { named: Some(NAME), ..PHONE });
    let at = |path: &str| format!("http://{NAME}:{}{path}", served.port);
    phone.go(&at("/clock"));
    phone.type_into("#code", &served.code);
    phone.click("form button");
    phone.until("it is paired", |b| b.text("h1").contains("screws"));
    phone.go(&at("/bench/bridge_screw/1.2?piece=1"));
    phone.network(false);
    phone.click("details:has(form[data-send=picture]) summary");
    phone.type_into("#text", "burr at the slot");
    phone.choose("#picture", &file);
    phone.click("form[data-send=picture] button");
    phone.until("it tells what waits", |b| b.text("#waiting").contains("1 entry waits"));
    assert!(served.journal().is_empty());
    let entry = phone.run("return localStorage.getItem('brasswright.outbox')");
    phone.network(true);
    phone.run("dispatchEvent(new Event('online'))");
    phone.until("nothing waits any more", |b| waiting(b) == 0);
    let kept = || {
        let all = served.journal();
        let What::Remark { text, picture, .. } = &all[0].what else { panic!("{all:?}") };
        (all.len(), text.clone(), picture.clone())
    };
    let (n, text, picture) = kept();
    assert_eq!((n, text.as_str()), (1, "burr at the slot"));
    let picture = picture.expect("the picture came along");
    let bytes =
        std::fs::read(served.dir.join("pictures").join(&picture)).expect("it lies beside the journal");
    assert_eq!(bytes, POINT);
    // The entry put back, its picture gone: it is told, and nothing is entered twice.
    let again = entry.as_str().unwrap_or_default().replace('\\', "\\\\").replace('\'', "\\'");
    phone.run(&format!(
        "localStorage.setItem('brasswright.outbox', '{again}'); dispatchEvent(new Event('online'))"
    ));
    phone.until("it tells that the picture is gone", |b| {
        b.text("#waiting").contains("no longer in this phone")
    });
    assert_eq!(served.journal().len(), 1);
}
#[test]
fn what_the_disk_does_not_take_stays_in_the_phone() {
    let driver = Driver::start();
    let served = Served::of(begun("ten-screws", "full"), &[]);
    let phone = Browser::open(&driver, PHONE);
    // A folder where the journal is due: nothing can be written there, whoever asks.
    phone.go(&served.at("/bench/bridge_screw/1.0"));
    let journal = served.dir.join("journal.sqlite");
    assert!(!journal.exists(), "nothing was entered yet");
    std::fs::create_dir(&journal).expect("a folder in the way");
    phone.click(".foot form button");
    phone.until("it waits in the phone", |b| waiting(b) == 1 && !b.text("#waiting").is_empty());
    phone.keep("not-kept-phone");
    std::fs::remove_dir(&journal).expect("the folder goes");
    phone.run("dispatchEvent(new Event('online'))");
    phone.until("it is sent when there is room", |b| waiting(b) == 0);
    assert_eq!(served.journal().len(), 1);
}
#[test]
fn a_renamed_part_keeps_its_steps_and_all_is_reached_by_keys() {
    let driver = Driver::start();
    let served = Served::of(begun("ten-screws", "renamed"), &[]);
    let phone = Browser::open(&driver, PHONE);
    phone.go(&served.at("/bench/bridge_screw"));
    phone.click(".foot form button");
    phone.until("the first step is done", |b| b.place().contains("/1.1"));
    let text = std::fs::read_to_string(served.dir.join("clock.toml")).expect("the text is there");
    let new = text.replace("name = \"bridge screw\"", "name = \"cock screw\"\nwas = \"bridge screw\"");
    assert_ne!(text, new);
    std::fs::write(served.dir.join("clock.toml"), new).expect("the text is written");
    phone.go(&served.at("/parts/cock_screw"));
    assert!(phone.text("main").contains("1 of "), "{}", phone.text("main"));
    phone.go(&served.at("/bench/cock_screw"));
    phone.until("it goes on where it was left", |b| b.place().contains("/cock_screw/1.1"));
    // Along the page by the key for it: in the order in which it is read, each with a mark around it.
    let mut last = -1;
    for _ in 0..6 {
        phone.tab();
        let at = phone.run("return [...document.querySelectorAll('*')].indexOf(document.activeElement)");
        let at = at.as_i64().unwrap_or(-1);
        assert!(at > last, "the focus goes on along the page: {at} after {last}");
        last = at;
        let ring = phone.run("return getComputedStyle(document.activeElement).outlineStyle");
        assert_eq!(ring, "solid", "what has the focus is seen");
    }
}
