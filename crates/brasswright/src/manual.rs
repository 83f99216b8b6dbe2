//! `completions`, `man` and `schema`: what other programs want to know of this one.

use crate::args::{self, SchemaOf};
use crate::files;
use crate::look::clean;
use crate::outcome::{Outcome, Stopped};
use crate::work;

/// Completions of a command-line shell.
#[must_use]
pub fn completions(args: &args::Completions) -> Outcome {
    let mut out = Vec::new();
    clap_complete::generate(args.shell, &mut args::command(), "brasswright", &mut out);
    Outcome::well(String::from_utf8_lossy(&out))
}
/// A manual page for the program and one for each command.
///
/// # Errors
/// When they cannot be written.
pub fn man(args: &args::Man) -> Result<Outcome, Stopped> {
    let mut top = args::command();
    top.build();
    let mut pages = vec![page(top.clone(), "brasswright")?];
    for sub in top.get_subcommands().filter(|s| !s.is_hide_set()) {
        let name = format!("brasswright-{}", sub.get_name());
        pages.push(page(sub.clone().display_name(name.clone()), &name)?);
    }
    let places = files::write_all(&args.dir, &pages)?;
    let lines = places.iter().map(|p| clean(&p.display().to_string()) + "\n");
    Ok(Outcome::well(lines.collect::<String>()))
}
fn page(command: clap::Command, name: &str) -> Result<(String, Vec<u8>), Stopped> {
    let mut page = Vec::new();
    let man = clap_mangen::Man::new(command).title(name).section("1");
    man.render(&mut page)
        .map_err(|e| Stopped::files("a manual page could not be made").why(files::reason(&e)))?;
    Ok((format!("{name}.1"), page))
}
/// The schema of a text.
#[must_use]
pub fn schema(of: SchemaOf) -> Outcome {
    Outcome::well(format!("{:#}\n", work::schema(of)))
}
