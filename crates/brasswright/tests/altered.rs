//! Texts of the examples, altered at random the way texts are mistyped: nothing panics, and no number is entered
//! twice or wrongly.

use reckon::{Book, Trouble};
use std::fmt::Write;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;

const EXAMPLES: [&str; 4] = [
    include_str!("../../../examples/regulator/clock.toml"),
    include_str!("../../../examples/table-clock/clock.toml"),
    include_str!("../../../examples/skeleton/clock.toml"),
    include_str!("../../../examples/one-wheel/clock.toml"),
];
const SHOP: &str = include_str!("../../../examples/hardware/shop.toml");

/// Numbers in an order that is the same everywhere (xorshift).
struct Dice(u64);
impl Dice {
    fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % u64::try_from(n.max(1)).expect("small")).expect("small")
    }
    fn of<'a>(&mut self, all: &[&'a str]) -> &'a str {
        all[self.below(all.len())]
    }
}
/// Where the numbers of a text stand.
fn numbers(text: &str) -> Vec<(usize, usize)> {
    let mut all = Vec::new();
    let bytes = text.as_bytes();
    let mut at = 0;
    while at < bytes.len() {
        if bytes[at].is_ascii_digit() {
            let from = at;
            while at < bytes.len() && (bytes[at].is_ascii_digit() || bytes[at] == b'.') {
                at += 1;
            }
            all.push((from, at));
        } else {
            at += 1;
        }
    }
    all
}
/// One mistake.
fn alter(text: &str, dice: &mut Dice) -> String {
    let lines: Vec<&str> = text.lines().collect();
    let line = dice.below(lines.len());
    let with = |lines: Vec<&str>| lines.join("\n") + "\n";
    match dice.below(9) {
        0 => {
            let mut l = lines;
            l.remove(line);
            with(l)
        }
        1 => {
            let mut l = lines.clone();
            l.insert(dice.below(lines.len()), lines[line]);
            with(l)
        }
        2..=5 => {
            let all = numbers(text);
            let (from, to) = all[dice.below(all.len())];
            let was: f64 = text[from..to].parse().unwrap_or(1.0);
            let new = match dice.below(9) {
                0 => "0".to_owned(),
                1 => format!("-{}", &text[from..to]),
                2 => format!("{}", was * 10.0),
                3 => format!("{}", was / 10.0),
                4 => format!("{}", was + 1.0),
                5 => format!("{}", was * 2.0),
                6 => format!("{}", (was / 2.0).floor()),
                7 => dice.of(&["999999999", "0.000001", "2000", "3", "199", "7", "400"]).to_owned(),
                _ => format!("{}", dice.below(200)),
            };
            format!("{}{new}{}", &text[..from], &text[to..])
        }
        6 => {
            let units = ["mm", "in", "deg", "kg", "d", "thou", "cm", "m", "N mm", "um"];
            let was = format!(" {}\"", dice.of(&units));
            let places: Vec<usize> = text.match_indices(&was).map(|(i, _)| i).collect();
            if places.is_empty() {
                return text.to_owned();
            }
            let at = places[dice.below(places.len())];
            format!("{} {}\"{}", &text[..at], dice.of(&units), &text[at + was.len()..])
        }
        7 => {
            // A key less within a table on one line.
            let commas: Vec<usize> = text.match_indices(", ").map(|(i, _)| i).collect();
            let Some(from) = (!commas.is_empty()).then(|| commas[dice.below(commas.len())]) else {
                return text.to_owned();
            };
            let rest = &text[from + 2..];
            let to = rest.find([',', '}', ']', '\n']).unwrap_or(rest.len());
            format!("{}{}", &text[..from], &rest[to..])
        }
        _ => {
            let names = [
                "great",
                "centre",
                "third",
                "escape",
                "pallets",
                "barrel",
                "intermediate",
                "frame",
                "minute hand",
            ];
            let was = format!("\"{}\"", dice.of(&names));
            text.replacen(&was, &format!("\"{}\"", dice.of(&names)), 1)
        }
    }
}
/// The whole way of a check; what is wrong with the program itself, where anything is.
fn faults(text: &str) -> Option<String> {
    let all = catch_unwind(AssertUnwindSafe(|| {
        let mut book = Book::new();
        let clock = record::Text { name: Arc::from("clock.toml"), bytes: text.as_bytes() };
        let shop = record::Text { name: Arc::from("shop.toml"), bytes: SHOP.as_bytes() };
        let read = record::read(Some(&clock), Some(&shop), &mut book);
        let Some(project) = read.facts else { return Vec::new() };
        let (Some(clock), Some(shop)) = (project.clock, project.shop) else { return Vec::new() };
        let (mut parts, mut troubles) = movement::hardware::parts(&clock, &mut book);
        let (found, more) = movement::design::movement(&clock, &mut book);
        troubles.extend(more);
        if let Some(m) = &found
            && !troubles.iter().any(Trouble::stops)
        {
            parts.extend(movement::made::parts(m, &clock, &mut book).0);
        }
        making::plan::plan(&shop, &parts, &mut book);
        book.faults().iter().map(ToString::to_string).collect::<Vec<_>>()
    }));
    match all {
        Err(panic) => {
            let says = panic.downcast_ref::<String>().cloned();
            Some(format!("panicked: {}", says.unwrap_or_else(|| "with no words".to_owned())))
        }
        Ok(faults) if !faults.is_empty() => Some(faults.join("\n")),
        Ok(_) => None,
    }
}
#[test]
fn altered_texts_are_told_or_worked() {
    let many: usize = std::env::var("ALTERED").ok().and_then(|n| n.parse().ok()).unwrap_or(400);
    let seed: u64 = std::env::var("ALTERED_SEED").ok().and_then(|n| n.parse().ok()).unwrap_or(1);
    let mut dice = Dice(0x9E37_79B9_7F4A_7C15 ^ (seed << 20));
    let mut wrong = String::new();
    for n in 0..many {
        let mut text = EXAMPLES[n % EXAMPLES.len()].to_owned();
        for _ in 0..=dice.below(3) {
            text = alter(&text, &mut dice);
        }
        if let Some(fault) = faults(&text) {
            let was: Vec<&str> = EXAMPLES[n % EXAMPLES.len()].lines().collect();
            let now = text.lines().filter(|l| !was.contains(l));
            let _ = writeln!(wrong, "text {n}: {fault}\n  {}", now.collect::<Vec<_>>().join("\n  "));
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}
