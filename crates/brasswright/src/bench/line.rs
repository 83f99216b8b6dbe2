//! The command line of `bench`.

use crate::args::Shop;
use clap::ValueHint;
use std::path::PathBuf;

/// `bench`.
#[derive(clap::Args, Debug)]
pub struct Bench {
    /// Folder of the project
    #[arg(default_value = ".", value_hint = ValueHint::DirPath)]
    pub dir: PathBuf,
    #[command(flatten)]
    /// Which shop.
    pub shop: Shop,
    /// Port to serve at; 0 takes one that is free
    #[arg(long, value_name = "N", default_value_t = 7117)]
    pub port: u16,
    /// Let phones on the workshop's network in, each after a code told here
    #[arg(long)]
    pub workshop_network: bool,
    /// A name of this machine on that network, besides its address
    #[arg(long, value_name = "NAME", requires = "workshop_network")]
    pub name: Vec<String>,
}

/// What `bench --help` shows after the flags.
pub const EXAMPLES: &str = "\
Examples:
  brasswright bench ten-screws                     on this machine: open the address that it prints
  brasswright bench ten-screws --workshop-network  for the phone by the lathe, paired by a code
  brasswright bench ten-screws --workshop-network --name shed.lan

What is done and measured goes into journal.sqlite in the project's folder. The texts stay as they are; a
text that is changed in an editor meanwhile is read anew. Plain http carries no secret past the workshop's
own network: do not open this port to any other.";
