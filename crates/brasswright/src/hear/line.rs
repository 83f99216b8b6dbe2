//! The command line of `listen`.

use clap::{Args, ValueEnum, ValueHint};
use std::path::PathBuf;

/// `listen`.
#[derive(Args, Debug)]
pub struct Listen {
    /// A recording: WAV, 8000 to 192000 samples a second, one channel or two
    #[arg(value_name = "FILE.wav", value_hint = ValueHint::FilePath)]
    pub file: PathBuf,
    /// Beats in an hour that the clock is made for; where neither this nor a project tells, the usual count that is nearest
    #[arg(long, value_name = "N", value_parser = beats_an_hour)]
    pub beats_per_hour: Option<f64>,
    /// Folder of the clock's project: its beats, and its wheels by name
    #[arg(long, value_name = "DIR", value_hint = ValueHint::DirPath)]
    pub project: Option<PathBuf>,
    #[command(flatten)]
    /// Which shop.
    pub shop: crate::args::Shop,
    /// A wheel whose turn may show, with the time of a turn: "escape=60 s"; may be given several times
    #[arg(long, value_name = "NAME=TIME")]
    pub wheel: Vec<String>,
    /// What the recorder's own clock is held against: pulses recorded by it in FILE.wav, in the left or the right channel, or its error as "23 ± 2 ppm", + when it runs fast
    #[arg(long, value_name = "FILE|left|right|PPM", allow_hyphen_values = true)]
    pub reference: Option<String>,
    /// Time from one pulse of the reference to the next
    #[arg(long, value_name = "TIME", default_value = "1 s")]
    pub pulse: String,
    /// Which channel of two to hear; by itself the one that beats more clearly
    #[arg(long, value_enum, value_name = "SIDE")]
    pub channel: Option<Side>,
    /// Write the trace, how late each beat came, as an SVG picture
    #[arg(long, value_name = "FILE.svg", value_hint = ValueHint::FilePath)]
    pub picture: Option<PathBuf>,
    /// Enter the rate that was heard, with its doubt, into the journal of the project, or of the one here
    #[arg(long)]
    pub log: bool,
    /// For the entry: when it was recorded, such as 2026-03-01T18:30:00Z; now where it is not told
    #[arg(long, value_name = "MOMENT", requires = "log")]
    pub when: Option<String>,
    /// For the entry: temperature, such as 18.2degC
    #[arg(long, value_name = "TEMPERATURE", requires = "log", allow_hyphen_values = true)]
    pub at: Option<String>,
    /// For the entry: pressure of the air, such as 1013hPa
    #[arg(long, value_name = "PRESSURE", requires = "log")]
    pub pressure: Option<String>,
    /// For the entry: swing from the middle to one side
    #[arg(long, value_name = "ANGLE", requires = "log")]
    pub arc: Option<String>,
    /// For another program: as JSON
    #[arg(long)]
    pub json: bool,
}
/// A channel of two.
#[derive(Copy, Clone, PartialEq, Eq, Debug, ValueEnum)]
pub enum Side {
    /// The left one
    Left,
    /// The right one
    Right,
}
fn beats_an_hour(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(n) if (700.0..=45_000.0).contains(&n) => Ok(n),
        _ => Err("between 700 and 45000 beats in an hour".to_owned()),
    }
}

/// What its help ends with.
pub const EXAMPLES: &str = "\
Examples:
  brasswright listen hall.wav                      the beat is found by itself
  brasswright listen hall.wav --project regulator --picture hall.svg
                                                   wheels that show are named
  brasswright listen hall.wav --reference right    a receiver's second pulses in the right channel
  brasswright listen hall.wav --reference \"23 ± 2 ppm\" --log

Lay the microphone on the case and record two minutes or more: the doubt falls with the length
to the power of one and a half. A recorder's own clock is off by some 20 to 50 parts in a
million, 2 to 4 seconds a day, unless it was held against a reference. All that is told has
its doubt, 95 in 100; where the beat is not sure, no rate is given.
The exit code is 0 when a rate was heard, 2 when not.";
