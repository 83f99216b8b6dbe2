//! The kernel of contact against the overlap of polygons, as crosscheck/contact.py found it.

use teeth::contact::{Driven, Driver, Pair};
use teeth::curve::{Form, Leaf, LeafProfile, Wheel};

const TOUCHES: &str = include_str!("../../../crosscheck/data/contact.toml");
/// A tenth of a minute of arc of the pinion.
const WITHIN: f64 = 0.1 / 60.0 * reckon::maths::PI / 180.0;

#[test]
fn a_leaf_stands_where_polygons_just_touch() {
    let mut seen = 0;
    for block in TOUCHES.split("[[touch]]").skip(1) {
        let of = |key: &str| {
            let line = block.lines().find_map(|l| l.strip_prefix(key)?.strip_prefix(" = "));
            line.expect("every key is there").trim_matches('"')
        };
        let number = |key: &str| of(key).parse::<f64>().expect("a number");
        let count = |key: &str| of(key).parse::<u32>().expect("a count");
        let form = if of("form") == "ogive" { Form::Ogive } else { Form::Epicycloid };
        let wheel = Wheel::new(count("teeth"), count("leaves"), form).expect("a form");
        let leaf = Leaf::new(count("leaves"), LeafProfile::A, wheel.addendum()).expect("a leaf");
        let pair = Pair::new(&Driver::Wheel(wheel), Driven::Leaf(leaf));
        let phi = pair.demanded(number("offset"), number("theta")).expect("they touch");
        assert!((phi - number("phi")).abs() < WITHIN, "{block}: {phi}");
        seen += 1;
    }
    assert_eq!(seen, 18);
}
