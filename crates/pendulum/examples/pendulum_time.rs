//! Times periods, places of bobs and suspension strips, for `crosscheck/pendulum.py`.
//!
//! The first line is `runs N`. Each further line is `arc A`, `place L d l rho m D h` (length wanted; rod's
//! diameter, length and density; bob's mass, diameter and height), or `strip E b t l W R m c I` (strip, pull,
//! small bob's depth below the lower chop; stiff body's mass, depth and moment), SI units throughout.
//! Out come `TASK seconds` with the least time of all runs over all lines of a task, then the answers in order.

use pendulum::compound::{Body, Form, Pendulum};
use pendulum::strip::Strip;
use pendulum::swing;
use std::io::Read as _;
use std::time::Instant;

fn place(v: &[f64]) -> Vec<f64> {
    let rod = Form::Upright { outer: v[1], bore: 0.0, height: v[2] };
    let bob = Form::Upright { outer: v[5], bore: 0.0, height: v[6] };
    let p = Pendulum {
        fixed: vec![Body::dense("rod", rod, v[3], v[2] / 2.0)],
        moving: vec![Body::heavy("bob", bob, v[4], v[0])],
    };
    vec![p.place(v[0]).map_or(f64::NAN, |f| v[0] + f.x)]
}
fn strip(v: &[f64]) -> Vec<f64> {
    let s = Strip { modulus: v[0], width: v[1], thick: v[2], free: v[3] };
    let modes = s.modes(v[6], v[7], v[8], v[4]);
    vec![s.length(v[4], v[5]), modes.swing, modes.wobble]
}

fn main() {
    let mut text = String::new();
    std::io::stdin().read_to_string(&mut text).expect("lines of text come in");
    let number = |w: &str| w.parse::<f64>().expect("a number");
    let mut runs = 1;
    let mut tasks: Vec<(&str, Vec<Vec<f64>>)> = vec![("arc", vec![]), ("place", vec![]), ("strip", vec![])];
    for line in text.lines() {
        let (word, rest) = line.split_once(' ').expect("a word and numbers");
        if word == "runs" {
            runs = rest.parse::<u32>().expect("a whole number");
        } else {
            let (_, list) = tasks.iter_mut().find(|t| t.0 == word).expect("a known task");
            list.push(rest.split_whitespace().map(number).collect());
        }
    }
    for (name, list) in &tasks {
        let work = |v: &Vec<f64>| match *name {
            "arc" => vec![1.0 / swing::slowing(v[0])],
            "place" => place(v),
            _ => strip(v),
        };
        let (mut least, mut answers) = (f64::INFINITY, Vec::new());
        for _ in 0..runs {
            let begun = Instant::now();
            answers = list.iter().map(work).collect();
            least = least.min(begun.elapsed().as_secs_f64());
        }
        println!("{name} {least}");
        for a in answers {
            println!("{}", a.iter().map(f64::to_string).collect::<Vec<_>>().join(" "));
        }
    }
}
