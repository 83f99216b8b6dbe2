//! Times the search for counts and prints its lists, for `crosscheck/counts.py`.
//!
//! Each line of the input is `name stages low high low high value seconds turn runs`: wheels
//! low to high, pinions low to high, the ratio wanted, and how far off in seconds in each turn
//! of the last arbor when the first turns in `turn` seconds. Out come a line `name count seconds`
//! with the least time of all runs, then the lists, wheels before pinions, each in rising order.

use std::io::BufRead as _;
use std::time::Instant;
use train::search::{Slack, Target, Train, Wanted, search};

fn main() {
    for line in std::io::stdin().lock().lines() {
        let line = line.expect("lines of text come in");
        let words: Vec<&str> = line.split_whitespace().collect();
        let exact = |i: usize| reckon::exact::Fraction::decimal(words[i]).expect("a decimal number");
        let whole = |i: usize| words[i].parse::<u32>().expect("a whole number");
        let slack = Slack::SecondsATurn { seconds: exact(7), turn: exact(8) };
        let target = Target { value: exact(6), slack };
        let wanted = Wanted::new(target, whole(1) as usize, whole(2)..=whole(3), whole(4)..=whole(5));
        let mut least = f64::INFINITY;
        let mut trains: Vec<Train> = Vec::new();
        for _ in 0..whole(9) {
            let begun = Instant::now();
            let found = search(&wanted, &mut |_| true).expect("the request can be read");
            least = least.min(begun.elapsed().as_secs_f64());
            assert!(found.cover.complete());
            trains = found.trains;
        }
        println!("{} {} {least}", words[0], trains.len());
        for train in trains {
            let counts: Vec<String> =
                train.wheels().iter().chain(&train.pinions()).map(u32::to_string).collect();
            println!("{}", counts.join(" "));
        }
    }
}
