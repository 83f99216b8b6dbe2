//! The command line: commands, flags, and help that teaches by example.

use crate::exit;
use crate::look::Colour;
use clap::builder::styling::{Effects, Styles};
use clap::{Args, CommandFactory, Parser, Subcommand, ValueEnum, ValueHint};
use std::path::PathBuf;

/// What `brasswright` alone shows.
pub const START: &str = "\
brasswright computes the parts of a clock, how each is made in your shop, and prints a bench packet.

Begin with an example, look at it, and print its sheets:
  brasswright begin ten-screws
  brasswright check ten-screws
  brasswright packet ten-screws

Ask why a number is what it is, or ask the handbook:
  brasswright why 'bridge_screw.**' --project ten-screws
  brasswright ask fit.limits fit=\"8 H7/g6\"

All commands: brasswright --help      One command: brasswright check --help
";

/// The whole command line.
#[derive(Parser, Debug)]
#[command(
    name = "brasswright",
    version,
    about = "From a clock written as text to parts, how they are made, and a bench packet",
    long_about = "From a clock written as text to parts, how they are made in your shop, and a bench packet.\n\n\
        A project is a folder with clock.toml (what is wanted) and shop.toml (machines, tools, stock). Either may be \
        absent: ten screws and a shop are a project, and so is a drawing without a shop.",
    after_long_help = exit::table(),
    subcommand_required = false,
    disable_help_subcommand = true,
    max_term_width = 100,
    styles = Styles::plain().header(Effects::BOLD.into()).usage(Effects::BOLD.into()).literal(Effects::BOLD.into()),
)]
pub struct Line {
    /// What to do.
    #[command(subcommand)]
    pub command: Option<Command>,
    /// When to colour: auto, always or never; NO_COLOR in the environment is honoured
    #[arg(
        long,
        global = true,
        value_enum,
        value_name = "WHEN",
        default_value_t,
        hide_possible_values = true
    )]
    pub color: Colour,
}

/// Commands.
#[derive(Subcommand, Debug)]
pub enum Command {
    /// Begin a project from an example; without a name, list the examples
    #[command(after_long_help = BEGIN)]
    Begin(Begin),
    /// Read and compute everything; tell what is wrong
    #[command(after_long_help = CHECK)]
    Check(Check),
    /// Show how a number was had, down to what was written
    #[command(after_long_help = WHY)]
    Why(Why),
    /// Ask the handbook; without a question, list the questions
    #[command(after_long_help = ASK)]
    Ask(Ask),
    /// Find every train of wheels and pinions that gives what is wanted and that this shop can cut
    #[command(after_long_help = COUNTS)]
    Counts(Counts),
    /// Alter one wish and see only what moves; nothing is written
    #[command(after_long_help = PREVIEW)]
    Preview(Preview),
    /// Tell what fits tonight: jobs that wait for nothing, for the hours given and what is set up
    #[command(after_long_help = TONIGHT)]
    Tonight(Tonight),
    /// Enter what was measured or done; without anything, list what was entered
    #[command(after_long_help = ENTER)]
    Enter(Box<Enter>),
    /// Let the clock go in simulation: arc, rate, drop, power and margins over the whole wind
    #[command(after_long_help = GOING)]
    Going(Going),
    /// Write the bench packet
    #[command(after_long_help = PACKET)]
    Packet(Packet),
    /// Prove programs of machines: read each again and remove the metal that its moves sweep
    #[command(after_long_help = PROVE)]
    Prove(Prove),
    /// Serve the pages for the bench and the desk: what is next, what was measured, why
    #[command(after_long_help = crate::bench::EXAMPLES)]
    Bench(crate::bench::Bench),
    /// Hear a clock's beat in a recording: rate, beat error, wheels that show, lost ticks, each with its doubt
    #[command(after_long_help = crate::hear::EXAMPLES)]
    Listen(Box<crate::hear::Listen>),
    /// Print the JSON Schema of clock.toml or shop.toml, for an editor
    #[command(after_long_help = SCHEMA)]
    Schema(Schema),
    /// Print the completions of a command-line shell
    #[command(after_long_help = COMPLETIONS)]
    Completions(Completions),
    /// Write manual pages into a folder
    #[command(after_long_help = MAN)]
    Man(Man),
}

/// `begin`.
#[derive(Args, Debug)]
pub struct Begin {
    /// Which example
    pub example: Option<String>,
    /// Folder to begin in; by default one named like the example
    #[arg(value_hint = ValueHint::DirPath)]
    pub dir: Option<PathBuf>,
}
/// `check`.
#[derive(Args, Debug)]
pub struct Check {
    /// Folder of the project
    #[arg(default_value = ".", value_hint = ValueHint::DirPath)]
    pub dir: PathBuf,
    #[command(flatten)]
    /// Which shop.
    pub shop: Shop,
    /// List the parts even when all is well
    #[arg(long)]
    pub parts: bool,
    /// For another program: everything that was found, as JSON
    #[arg(long)]
    pub json: bool,
}
/// `why`.
#[derive(Args, Debug)]
pub struct Why {
    /// Name of a number, or a pattern: * for one part of a name, ** for any number of parts
    pub name: String,
    /// Folder of the project
    #[arg(long, value_name = "DIR", default_value = ".", value_hint = ValueHint::DirPath)]
    pub project: PathBuf,
    #[command(flatten)]
    /// Which shop.
    pub shop: Shop,
    /// Open the working of every name that a pattern matches
    #[arg(long)]
    pub open: bool,
    /// For another program: SI value, unit, formula, inputs, source and origin, as JSON
    #[arg(long)]
    pub json: bool,
}
/// `ask`.
#[derive(Args, Debug)]
pub struct Ask {
    /// Name of the question, or a subject to list
    pub name: Option<String>,
    /// What it is given, as key=value
    #[arg(value_name = "KEY=VALUE")]
    pub given: Vec<String>,
    /// Only the answers, without their working
    #[arg(long)]
    pub short: bool,
    /// For another program: answers with SI value, unit, formula, inputs and source, as JSON
    #[arg(long)]
    pub json: bool,
}
/// `counts`.
#[derive(Args, Debug)]
pub struct Counts {
    /// Folder of the project, whose demands and dividing head are taken where nothing else is told
    #[arg(default_value = ".", value_hint = ValueHint::DirPath)]
    pub dir: PathBuf,
    #[command(flatten)]
    /// Which shop.
    pub shop: Shop,
    /// Beats in an hour, from the arbor that turns once an hour
    #[arg(long, value_name = "N", conflicts_with = "ratio", value_parser = clap::value_parser!(u32).range(60..=100_000))]
    pub beats: Option<u32>,
    /// Teeth of the escape wheel, or several: 30, 28-40, 30,36
    #[arg(long, value_name = "COUNTS")]
    pub escape: Option<String>,
    /// In place of beats: the ratio from the first wheel to the last pinion, such as 12 or 366.2422/365.2422
    #[arg(long, value_name = "RATIO")]
    pub ratio: Option<String>,
    /// How far the ratio may be off; not at all where nothing is told
    #[arg(long, value_name = "BY", requires = "ratio")]
    pub within: Option<String>,
    /// Pairs of wheel and pinion; by default 2, or 1 for a ratio
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u8).range(1..=4))]
    pub stages: Option<u8>,
    /// Teeth that a wheel may have
    #[arg(long, value_name = "COUNTS")]
    pub wheels: Option<String>,
    /// Leaves that a pinion may have
    #[arg(long, value_name = "COUNTS")]
    pub pinions: Option<String>,
    /// Also counts that the dividing head of the shop cannot divide
    #[arg(long)]
    pub any_count: bool,
    /// How many to show, the best first
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = clap::builder::RangedU64ValueParser::<usize>::new().range(1..=500))]
    pub show: usize,
    /// For another program: as JSON
    #[arg(long)]
    pub json: bool,
}
/// `preview`.
#[derive(Args, Debug)]
pub struct Preview {
    /// What is altered: the name of a written number, and what would stand there
    #[arg(required = true, value_name = "NAME=VALUE")]
    pub change: Vec<String>,
    /// Folder of the project
    #[arg(long, value_name = "DIR", default_value = ".", value_hint = ValueHint::DirPath)]
    pub project: PathBuf,
    #[command(flatten)]
    /// Which shop.
    pub shop: Shop,
    /// Show every number that moves
    #[arg(long)]
    pub all: bool,
    /// For another program: as JSON
    #[arg(long)]
    pub json: bool,
}
/// `tonight`.
#[derive(Args, Debug)]
pub struct Tonight {
    /// Folder of the project
    #[arg(default_value = ".", value_hint = ValueHint::DirPath)]
    pub dir: PathBuf,
    #[command(flatten)]
    /// Which shop.
    pub shop: Shop,
    /// Hours that there are; by default an evening as clock.toml has it
    #[arg(long, value_name = "H", value_parser = hours)]
    pub hours: Option<f64>,
    /// What is set up now: machine and holding in your words
    #[arg(long, value_name = "WORDS")]
    pub set_up: Option<String>,
    /// A job that is done, or a part of which all is done; what it waited for counts as done too
    #[arg(long, value_name = "NAME")]
    pub done: Vec<String>,
    /// Every job in its order, and how it stands
    #[arg(long, conflicts_with = "json")]
    pub all: bool,
    /// For another program: as JSON
    #[arg(long)]
    pub json: bool,
}
/// Hours on the command line.
fn hours(text: &str) -> Result<f64, String> {
    let number = text.trim().trim_end_matches('h').trim();
    match number.parse::<f64>() {
        Ok(h) if h > 0.0 && h <= 24.0 => Ok(h),
        _ => Err("hours from above 0 to 24 are due, such as 2.5".to_owned()),
    }
}
/// `enter`.
#[derive(Args, Debug)]
#[command(group = clap::ArgGroup::new("what").args(["done", "made", "scrapped", "begun", "struck", "remark", "concession", "rating", "learnt", "list", "lines_in", "lines_out"]))]
pub struct Enter {
    /// Name of the size that was measured, as 'brasswright why' has it
    pub name: Option<String>,
    /// What was read, with its unit
    #[arg(allow_hyphen_values = true)]
    pub value: Option<String>,
    /// Folder of the project
    #[arg(long, value_name = "DIR", default_value = ".", value_hint = ValueHint::DirPath)]
    pub project: PathBuf,
    #[command(flatten)]
    /// Which shop.
    pub shop: Shop,
    /// With what it was measured: a tool of the shop by its name, or any other
    #[arg(long, value_name = "NAME")]
    pub tool: Option<String>,
    /// By how much it may be off, where the shop does not tell
    #[arg(long, value_name = "BY")]
    pub give_or_take: Option<String>,
    /// Temperature of work and tool, such as 23degC
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub at: Option<String>,
    /// Number of the sheet that was worked from, such as K7PX-23
    #[arg(long, value_name = "NUMBER")]
    pub sheet: Option<String>,
    /// Which pieces of a batch: 3, 1-4 or 1,3,5
    #[arg(long, value_name = "N")]
    pub piece: Option<String>,
    /// Metal will still come off
    #[arg(long)]
    pub rough: bool,
    /// A job of the order of work is done; with --step, a step of a part's route
    #[arg(long, value_name = "JOB")]
    pub done: Option<String>,
    /// Which step of the route: 2.3 is the third operation of the second set-up
    #[arg(long, value_name = "STEP", requires = "done")]
    pub step: Option<String>,
    /// How far within the step: teeth, passes, boxes
    #[arg(long, value_name = "N", requires = "done")]
    pub count: Option<u32>,
    /// How long it took
    #[arg(long, value_name = "TIME", requires = "done")]
    pub took: Option<String>,
    /// A part is finished: it stays as it is
    #[arg(long, value_name = "PART")]
    pub made: Option<String>,
    /// A part is begun, or taken up again
    #[arg(long, value_name = "PART")]
    pub begun: Option<String>,
    /// A part is spoilt: another is wanted
    #[arg(long, value_name = "PART")]
    pub scrapped: Option<String>,
    /// An earlier entry is struck out; it stays readable
    #[arg(long, value_name = "ENTRY")]
    pub struck: Option<u64>,
    /// The journal of the shop is meant: with --struck, --list or --lines-out
    #[arg(long)]
    pub of_shop: bool,
    /// Something to remember; a name before it says what it is about
    #[arg(long, value_name = "TEXT")]
    pub remark: Option<String>,
    /// A size out of its limits is let pass
    #[arg(long, value_name = "NAME")]
    pub concession: Option<String>,
    /// The clock beside a reference: clock less reference, such as -0.9s
    #[arg(long, value_name = "SECONDS", allow_hyphen_values = true)]
    pub rating: Option<String>,
    /// What the shop has learnt, for every clock: SUBJECT:OF, then its value
    #[arg(long, value_name = "WHAT")]
    pub learnt: Option<String>,
    /// Why
    #[arg(long, value_name = "TEXT")]
    pub because: Option<String>,
    /// For a rating: when, such as 2026-03-01T18:30:00Z; now where it is not told
    #[arg(long, value_name = "MOMENT", requires = "rating")]
    pub when: Option<String>,
    /// For a rating: pressure of the air, such as 1013hPa
    #[arg(long, value_name = "PRESSURE", requires = "rating")]
    pub pressure: Option<String>,
    /// For a rating: swing from the middle to one side
    #[arg(long, value_name = "ANGLE", requires = "rating")]
    pub arc: Option<String>,
    /// For a rating: turns of the rating nut just before, raising the bob positive
    #[arg(long, value_name = "TURNS", requires = "rating", allow_hyphen_values = true)]
    pub nut: Option<String>,
    /// For a rating: mass put on the tray just before, taken off negative
    #[arg(long, value_name = "MASS", requires = "rating", allow_hyphen_values = true)]
    pub tray: Option<String>,
    /// For a rating: the hands were set just before
    #[arg(long, requires = "rating")]
    pub set: bool,
    /// I was asked, and it is so
    #[arg(long)]
    pub sure: bool,
    /// A key of your own: the same key twice is one entry
    #[arg(long, value_name = "KEY")]
    pub key: Option<String>,
    /// List what was entered
    #[arg(long)]
    pub list: bool,
    /// How it was after this entry, for --list and --lines-out
    #[arg(long, value_name = "ENTRY")]
    pub as_of: Option<u64>,
    /// Write the journal as lines of JSON
    #[arg(long)]
    pub lines_out: bool,
    /// Take lines of JSON in; what is there already stays as it is
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub lines_in: Option<PathBuf>,
    /// Show every number that moves
    #[arg(long)]
    pub all: bool,
    /// For another program: as JSON
    #[arg(long)]
    pub json: bool,
}
/// `going`.
#[derive(Args, Debug)]
pub struct Going {
    /// Folder of the project
    #[arg(default_value = ".", conflicts_with = "example", value_hint = ValueHint::DirPath)]
    pub dir: PathBuf,
    /// A shipped example, with no project
    #[arg(long, value_name = "NAME")]
    pub example: Option<String>,
    /// Follow every beat of the run, besides the arcs that settle; it takes some seconds
    #[arg(long)]
    pub every_beat: bool,
    /// Arc that was measured, from the middle to one side: what loss would explain it
    #[arg(long, value_name = "ANGLE")]
    pub arc: Option<String>,
    /// Rate that was measured, gaining with +: told beside the forecast
    #[arg(long, value_name = "S/DAY", allow_hyphen_values = true)]
    pub rate: Option<String>,
    /// When it was measured: so long after winding
    #[arg(long, value_name = "TIME")]
    pub after: Option<String>,
    /// Folder to write a page into, to be opened in a browser: going.html, the movement moving; with --clocks study.html
    #[arg(long, value_name = "DIR", value_hint = ValueHint::DirPath)]
    pub out: Option<PathBuf>,
    /// Draw so many clocks, sizes from their limits: with what likelihood they go, and what spoils them first
    #[arg(long, value_name = "COUNT", conflicts_with_all = ["every_beat", "arc", "rate", "after"])]
    pub clocks: Option<u32>,
    /// What the clocks are drawn from: the same seed draws the same clocks
    #[arg(long, value_name = "NUMBER", default_value_t = 1, requires = "clocks")]
    pub seed: u64,
    /// How sizes fall between their limits: careful, even, or as this shop's were measured
    #[arg(
        long,
        value_name = "HOW",
        value_enum,
        default_value_t,
        requires = "clocks",
        hide_possible_values = true
    )]
    pub drawn: Drawn,
    /// For another program: as JSON
    #[arg(long)]
    pub json: bool,
}
/// How sizes fall between their limits.
#[derive(Copy, Clone, PartialEq, Eq, Debug, Default, ValueEnum)]
pub enum Drawn {
    /// About the middle
    #[default]
    Careful,
    /// Anywhere
    Even,
    /// As measured
    Shop,
}
/// `packet`.
#[derive(Args, Debug)]
pub struct Packet {
    /// Folder of the project
    #[arg(default_value = ".", conflicts_with = "example", value_hint = ValueHint::DirPath)]
    pub dir: PathBuf,
    #[command(flatten)]
    /// Which shop.
    pub shop: Shop,
    /// Folder to write into; by default 'out' in the project's folder
    #[arg(long, value_name = "DIR", value_hint = ValueHint::DirPath)]
    pub out: Option<PathBuf>,
    /// The packet of a shipped example, with no project; written to 'out' here unless --out says otherwise
    #[arg(long, value_name = "NAME", conflicts_with = "shop")]
    pub example: Option<String>,
}
/// `prove`.
#[derive(Args, Debug)]
pub struct Prove {
    /// Folder of the project whose programs are proved; one of its programs, changed or not; or one from elsewhere
    #[arg(default_value = ".", conflicts_with = "example", value_name = "DIR|FILE", value_hint = ValueHint::AnyPath)]
    pub what: PathBuf,
    #[command(flatten)]
    /// Which shop.
    pub shop: Shop,
    /// For a program from elsewhere: the text that says how its machine is set up
    #[arg(long, value_name = "FILE", conflicts_with = "shop", value_hint = ValueHint::FilePath)]
    pub set_up: Option<PathBuf>,
    /// Print a set-up to begin with; nothing is proved
    #[arg(long, value_enum, value_name = "MACHINE")]
    pub form: Option<FormOf>,
    /// Folder to write pictures of what is left into
    #[arg(long, value_name = "DIR", value_hint = ValueHint::DirPath)]
    pub out: Option<PathBuf>,
    /// The programs of a shipped example, with no project
    #[arg(long, value_name = "NAME", conflicts_with = "shop")]
    pub example: Option<String>,
    /// For another program: what was found, as JSON
    #[arg(long)]
    pub json: bool,
}
/// A machine whose set-up can be shown.
#[derive(Copy, Clone, PartialEq, Eq, Debug, ValueEnum)]
pub enum FormOf {
    /// A mill
    Mill,
    /// A lathe
    Lathe,
}
/// Another shop than the one in the folder.
#[derive(Args, Debug, Default)]
pub struct Shop {
    /// Shop to make it in, where it is not shop.toml in the project's folder
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub shop: Option<PathBuf>,
}
/// `schema`.
#[derive(Args, Debug)]
pub struct Schema {
    /// Of which text
    #[arg(value_enum)]
    pub of: SchemaOf,
}
/// A text that has a schema.
#[derive(Copy, Clone, PartialEq, Eq, Debug, ValueEnum)]
pub enum SchemaOf {
    /// clock.toml
    Clock,
    /// shop.toml
    Shop,
}
/// `completions`.
#[derive(Args, Debug)]
pub struct Completions {
    /// For which command-line shell
    #[arg(value_enum)]
    pub shell: clap_complete::Shell,
}
/// `man`.
#[derive(Args, Debug)]
pub struct Man {
    /// Folder to write into
    #[arg(value_hint = ValueHint::DirPath)]
    pub dir: PathBuf,
}

const BEGIN: &str = "\
Examples:
  brasswright begin                                what there is
  brasswright begin ten-screws                     into the folder ten-screws
  brasswright begin hardware \"my clock\"            into a folder of your choice

Nothing that is there already is overwritten.";
const CHECK: &str = "\
Examples:
  brasswright check                                the project in this folder
  brasswright check ten-screws --parts             with a list of its parts
  brasswright check ten-screws --shop shop.toml    made in another shop
  brasswright check ten-screws --json              for another program

Troubles go to standard error, all of them in one go. The exit code is that of the worst.";
const WHY: &str = "\
Examples:
  brasswright why '**'                             every number of the project in this folder
  brasswright why '**' --project ten-screws        of another
  brasswright why '*.count' --project ten-screws   every name of two parts that ends in 'count'
  brasswright why '*.count' --project ten-screws --open --json

Put a pattern between quotes, or the command-line shell takes its stars for file names.";
const ASK: &str = "\
Examples:
  brasswright ask                                  all questions, by subject
  brasswright ask fit                              those of one subject
  brasswright ask fit.limits fit=\"8 H7/g6\"         an answer with its working
  brasswright ask drill.named drill=\"#43\" --json   for another program";
const COUNTS: &str = "\
Examples:
  brasswright counts --beats 3600 --escape 30      two pairs, any head
  brasswright counts regulator                     what that project wants, on its shop's head
  brasswright counts --ratio 12 --stages 1         the great wheel of an eight-day clock
  brasswright counts --ratio 118.122352 --within 0.0001 --stages 2 --wheels 20-150 --pinions 6-20

Every combination within the limits is covered, and none twice; each line says why it stands
before the next. An interrupt from the keyboard ends the search and shows what was found.";
const PREVIEW: &str = "\
Examples:
  brasswright preview third.wheel.module=\"0.6 mm\" --project regulator
  brasswright preview drive.weight.mass=\"4 kg\" --project regulator --all

Names are those of 'brasswright why'; only what is written can be altered. The texts stay as they are.";
const TONIGHT: &str = "\
Examples:
  brasswright tonight ten-screws                   an evening, nothing set up, nothing done
  brasswright tonight ten-screws --hours 1.5 --done \"bridge screw: first end\"
  brasswright tonight ten-screws --done \"split bush M4\" --set-up \"lathe: hearth bench\"
  brasswright tonight ten-screws --all             every job by its name, and how it stands

What is set up comes first where it is told, then what the end of all hangs on. The list ends where four
evenings of five would still see it done. Names are those of the sheet 'order of work'.";
const ENTER: &str = "\
Examples:
  brasswright enter seatboard_washer.thickness \"2.98 mm\" --tool \"micrometer 0-25\" --at 23degC
  brasswright enter bridge_screw.head.height \"3.19 mm\" --piece 3
  brasswright enter --done \"split bush M4\" --took \"70 min\"
  brasswright enter --made \"seatboard washer\"
  brasswright enter --struck 1 --because \"read the wrong scale\"
  brasswright enter bridge_screw --remark \"the third one has a mark under its head\"
  brasswright enter --rating -0.9s --at 18.2degC --pressure 1009hPa
  brasswright enter --list --as-of 4

An entry is on the disk before it is confirmed, and is never changed: another strikes it out.
What looks like a slip is asked about; --sure says that it is so. What moves because of it is shown,
old and new, and what no longer agrees, with what could be done, cheapest first.";
const GOING: &str = "\
Examples:
  brasswright going regulator                      arc, rate and margins, and where the energy goes
  brasswright going --example table-clock          a shipped example, with no project
  brasswright going regulator --every-beat         all of its beats, one after the other
  brasswright going regulator --arc \"1.6 deg\" --rate \"+3 s/day\"
                                                   the clock beside its model
  brasswright going regulator --out moving         a page on which it moves
  brasswright going regulator --clocks 10000       ten thousand of it, each made a little otherwise

The faces are the outlines as drawn, with friction; what crutch and pallets' pivots take is what
[losses] leaves to them at the running arc. Low, likely and high are the ends of [losses]. No shop is
needed. The exit code is 4 where a verdict does not hold. Numbers: brasswright why 'going.**'.";
const PACKET: &str = "\
Examples:
  brasswright packet ten-screws                    into ten-screws/out
  brasswright packet ten-screws --out sheets       into a folder of your choice
  brasswright packet --example ten-screws          to see one without a project

The paper (A4 or Letter) is a choice of the project, in clock.toml. Nothing is written while a
trouble stands. A verdict that does not hold is printed on the cover and decides the exit code.
The same texts give the same bytes on any day; SOURCE_DATE_EPOCH sets the day written into the files.";
const PROVE: &str = "\
Examples:
  brasswright prove one-wheel                      every program that this project's plan has
  brasswright prove --example one-wheel --out proof
  brasswright prove one-wheel/out/programs/third-wheel-windows.nc
                                                   one of them, after it was changed by hand
  brasswright prove --form mill > plate.toml       a set-up to begin with
  brasswright prove plate.nc --set-up plate.toml   a program from elsewhere

The text is read as the control would read it, and each move takes off what it sweeps:
what is left is held against what is wanted. A fault is shown at its place in the program.
The exit code is 0 when all are sound, 2 when a text cannot be read as a program or a
set-up, 5 when a program would spoil its part.";
const SCHEMA: &str = "\
Examples:
  brasswright schema clock > clock.schema.json     an editor can then complete and check
  brasswright schema shop > shop.schema.json";
const COMPLETIONS: &str = "\
Examples:
  brasswright completions bash > brasswright.bash
  brasswright completions fish > brasswright.fish";
const MAN: &str = "\
Examples:
  brasswright man man1                             then: man -l man1/brasswright.1
  brasswright man ~/.local/share/man/man1          where 'man brasswright' finds it";

/// The command as clap knows it.
#[must_use]
pub fn command() -> clap::Command {
    Line::command()
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_command_line_is_sound() {
        super::command().debug_assert();
    }
}
