//! `begin`: a new project from an example that is built into the program.

use crate::args;
use crate::files;
use crate::look::columns;
use crate::outcome::{Outcome, Stopped};
use reckon::trouble::nearest;
use std::path::PathBuf;

/// An example.
#[derive(Copy, Clone, Debug)]
pub struct Example {
    /// Name on the command line.
    pub name: &'static str,
    /// What it shows, one line.
    pub says: &'static str,
    /// clock.toml.
    pub clock: &'static str,
    /// shop.toml.
    pub shop: &'static str,
}
macro_rules! examples { ($($name:literal $says:literal;)+) => { [$(Example {
    name: $name,
    says: $says,
    clock: include_str!(concat!("../../../examples/", $name, "/clock.toml")),
    shop: include_str!(concat!("../../../examples/", $name, "/shop.toml")),
}),+] } }
/// Every example, the simplest first.
pub static EXAMPLES: [Example; 6] = examples! {
    "ten-screws" "ten bridge screws and the shop that makes them: the least that is a project";
    "hardware" "every kind of hardware: screws, studs, washers, pillars, feet, bushes, collets, free parts";
    "one-wheel" "one lost wheel of an old clock, from a measured distance of centres";
    "regulator" "a wall regulator that beats seconds: dead-beat, one weight on a pulley, eight days";
    "table-clock" "a table timepiece that beats half seconds: spring barrel, recoil anchor, eight days";
    "skeleton" "a skeleton clock under a dome: fusee and grasshopper escapement";
};
/// An example by name.
///
/// # Errors
/// When there is none; the nearest names are told.
pub fn example(name: &str) -> Result<&'static Example, Stopped> {
    EXAMPLES.iter().find(|e| e.name == name).ok_or_else(|| {
        let mut stopped = Stopped::wrong_use(format!("there is no example '{name}'"));
        for near in nearest(name, EXAMPLES.iter().map(|e| e.name)) {
            stopped = stopped.cure(format!("brasswright begin {near}"));
        }
        stopped.cure("brasswright begin, without a name, lists the examples")
    })
}

/// Begins a project, or lists the examples.
///
/// # Errors
/// When there is no such example, or its files cannot be written or are there already.
pub fn run(args: &args::Begin) -> Result<Outcome, Stopped> {
    let Some(name) = &args.example else {
        let rows: Vec<Vec<String>> =
            EXAMPLES.iter().map(|e| vec![e.name.to_owned(), e.says.to_owned()]).collect();
        return Ok(Outcome::well(format!(
            "{}\nBegin one: brasswright begin EXAMPLE [DIR]\n",
            columns(&rows, 0)
        )));
    };
    let example = example(name)?;
    let dir = args.dir.clone().unwrap_or_else(|| PathBuf::from(example.name));
    files::write_new(&dir, &[("clock.toml", example.clock), ("shop.toml", example.shop)])?;
    let shown = crate::look::clean(&dir.display().to_string());
    let quoted = if shown.contains(' ') { format!("\"{shown}\"") } else { shown.clone() };
    let mut out = String::new();
    for file in ["clock.toml", "shop.toml"] {
        out += &format!("{}\n", crate::look::clean(&dir.join(file).display().to_string()));
    }
    out += &format!("\nNow: brasswright check {quoted}\n");
    Ok(Outcome::well(out))
}

#[cfg(test)]
mod tests {
    use super::EXAMPLES;

    /// A project is copied with its shop, so each example has its own file; they are one shop all the same.
    #[test]
    fn the_clocks_are_made_in_one_shop() {
        let shops: Vec<&str> = EXAMPLES.iter().filter(|e| e.name != "ten-screws").map(|e| e.shop).collect();
        assert!(shops.windows(2).all(|w| w[0] == w[1]));
    }
}
