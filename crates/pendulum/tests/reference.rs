//! Our figures against those of reference libraries, kept as data by `crosscheck/pendulum.py`.

use pendulum::compound::{Body, Form, Pendulum};
use pendulum::strip::Strip;
use pendulum::swing;
use std::path::Path;

type Case = (Vec<f64>, Vec<f64>);

fn cases(table: &str) -> Vec<Case> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../crosscheck/data/pendulum.toml");
    let text = std::fs::read_to_string(path).expect("the data stands in crosscheck/data");
    let whole: toml::Table = text.parse().expect("the data is TOML");
    let numbers = |row: &toml::Value, key: &str| -> Vec<f64> {
        let list = row[key].as_array().expect("a list");
        list.iter().map(|x| x.as_float().expect("a number")).collect()
    };
    let rows = whole[table].as_array().expect("a list of tables");
    let found: Vec<Case> = rows.iter().map(|r| (numbers(r, "given"), numbers(r, "want"))).collect();
    assert!(found.len() > 10, "only {} cases of {table}", found.len());
    found
}
fn near(found: f64, want: f64, bound: f64) {
    assert!((found / want - 1.0).abs() <= bound, "{found} where {want} is wanted");
}

#[test]
fn periods_agree_with_the_elliptic_integral() {
    for (given, want) in cases("arc") {
        near(1.0 / swing::slowing(given[0]), want[0], 1e-14);
    }
}
#[test]
fn bobs_agree_with_a_root_finder() {
    for (v, want) in cases("place") {
        let rod = Form::Upright { outer: v[1], bore: 0.0, height: v[2] };
        let bob = Form::Upright { outer: v[5], bore: 0.0, height: v[6] };
        let p = Pendulum {
            fixed: vec![Body::dense("rod", rod, v[3], v[2] / 2.0)],
            moving: vec![Body::heavy("bob", bob, v[4], 0.5)],
        };
        near(0.5 + p.place(v[0]).expect("there is a place").x, want[0], 1e-13);
    }
}
#[test]
fn strips_agree_with_an_integrated_beam_and_with_eigenvalues() {
    for (v, want) in cases("strip") {
        let s = Strip { modulus: v[0], width: v[1], thick: v[2], free: v[3] };
        near(s.pivot(v[4], v[5]), v[5] + v[3] - want[0], 1e-10);
        let modes = s.modes(v[6], v[7], v[8], v[4]);
        near(modes.swing, want[1], 1e-10);
        near(modes.wobble, want[2], 1e-10);
    }
}
