//! The examples are read whole, and mean what their comments say.

use reckon::{Book, Diameter, Length};
use record::{Project, Read, Text, read};
use std::sync::Arc;

fn project(clock: &str, shop: &str, book: &mut Book) -> Read<Project> {
    let clock = Text { name: Arc::from("clock.toml"), bytes: clock.as_bytes() };
    let shop = Text { name: Arc::from("shop.toml"), bytes: shop.as_bytes() };
    read(Some(&clock), Some(&shop), book)
}
const HARDWARE: (&str, &str) = (
    include_str!("../../../examples/hardware/clock.toml"),
    include_str!("../../../examples/hardware/shop.toml"),
);
const TEN: (&str, &str) = (
    include_str!("../../../examples/ten-screws/clock.toml"),
    include_str!("../../../examples/ten-screws/shop.toml"),
);

fn sound((clock, shop): (&str, &str)) -> (Project, Book) {
    let mut book = Book::new();
    let got = project(clock, shop, &mut book);
    let told: Vec<String> = got.troubles.iter().map(ToString::to_string).collect();
    assert_eq!(told, Vec::<String>::new());
    assert_eq!(book.faults(), &[]);
    (got.facts.expect("nothing stands against it"), book)
}

#[test]
fn hardware_has_every_kind_of_part() {
    let (p, book) = sound(HARDWARE);
    let c = p.clock.unwrap();
    assert_eq!((c.screws.len(), c.studs.len(), c.washers.len(), c.pillars.len()), (2, 1, 1, 1));
    assert_eq!(
        (c.feet.len(), c.bushes.len(), c.collets.len(), c.turned.len(), c.flats.len()),
        (1, 2, 1, 1, 1)
    );
    let screw = &c.screws[0];
    assert_eq!(screw.common.slug, "bridge_screw");
    assert_eq!(screw.common.count.bare().0, 10);
    assert_eq!(screw.length.nominal, Length::mm(11.0));
    assert_eq!(screw.head.as_ref().unwrap().diameter.nominal, Diameter::mm(8.0));
    assert_eq!(screw.thread.thread.name, "M4");
    assert_eq!(screw.thread.class, "6g");
    // ISO 286-2: 4 h9 is 0/-30 µm (memory).
    assert!((screw.shank.unwrap().lower.bare().in_mm() + 0.03).abs() < 1e-9);
    assert_eq!(c.washers[0].face_grooves.len(), 3);
    assert_eq!(c.flats[0].outline.len(), 7);
    for name in [
        "bridge_screw.length",
        "bridge_screw.length.upper",
        "bridge_screw.head.diameter",
        "bridge_screw.class",
        "seatboard_washer.face_groove.1.width",
        "movement_pillar.end.1.spigot",
        "setting_knob.section.2.to",
        "escape_cock.hole.2.diameter",
        "limits.length.upper",
        "shop.little_bench_lathe.swing",
        "shop.little_bench_lathe.speed.3",
        "shop.little_bench_lathe.hold.1.grips.least",
        "shop.drills.size.4",
        "shop.dividing.plate.1.2",
        "shop.stock.1.sheet",
    ] {
        assert!(book.find(name).is_some(), "{name} is not in the book; near: {:?}", book.near(name));
    }
    // A size reckoned from another.
    assert_eq!(book.find("flanged_bush.outside").unwrap().1.shown, "⌀6.000 mm");
    let s = p.shop.unwrap();
    assert_eq!((s.lathes.len(), s.mills.len(), s.taps.len(), s.dies.len()), (1, 2, 9, 8));
    assert_eq!(s.lathes[0].speeds.len(), 8);
    assert_eq!(s.drills.sizes.len(), 38);
    assert_eq!(s.lathes[0].holdings.len(), 6);
    assert_eq!(s.stock.len(), 14);
}

#[test]
fn ten_screws_assume_what_is_not_written() {
    let (p, book) = sound(TEN);
    let c = p.clock.unwrap();
    assert_eq!(c.screws[0].common.count.bare().0, 10);
    assert!(c.screws[0].slot.is_some());
    let assumed: Vec<&str> = book.assumptions().map(|l| l.name.as_str()).collect();
    for name in [
        "bridge_screw.head.form",
        "bridge_screw.slot",
        "bridge_screw.class",
        "bridge_screw.point",
        "limits.hole.upper",
    ] {
        assert!(assumed.contains(&name), "{name} is not listed as assumed");
    }
}
