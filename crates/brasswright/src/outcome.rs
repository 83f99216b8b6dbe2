//! What a command leaves: text for the two streams and an exit code.

use crate::exit;
use reckon::Trouble;
use std::io::{ErrorKind, Write};

/// What a command has to say. Nothing is printed before it is done.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Outcome {
    /// For standard output.
    pub out: String,
    /// For standard error.
    pub err: String,
    /// Exit code.
    pub exit: u8,
}
impl Outcome {
    /// An answer, and all is well.
    pub fn well(out: impl Into<String>) -> Outcome {
        Outcome { out: out.into(), ..Outcome::default() }
    }
    /// Prints it, and tells the exit code. A reader that went away (a closed pipe) is not a trouble.
    #[must_use]
    pub fn print(&self) -> u8 {
        // Nothing can be told when standard error itself is closed.
        let _ = std::io::stderr().lock().write_all(self.err.as_bytes());
        let mut out = std::io::stdout().lock();
        match out.write_all(self.out.as_bytes()).and_then(|()| out.flush()) {
            Ok(()) => self.exit,
            Err(e) if e.kind() == ErrorKind::BrokenPipe => self.exit,
            Err(e) => {
                let _ = writeln!(std::io::stderr(), "brasswright: the answer could not be written: {e}");
                exit::FILES
            }
        }
    }
}

/// What a wrong use of the command line is called.
pub const WRONG_USE: &str = "wrong use";

/// Why a command could not do what it was told: a wrong use, or a file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stopped {
    /// [`exit::USE`], [`exit::FILES`] or [`exit::TEXT`].
    pub exit: u8,
    /// What is wrong.
    pub trouble: Trouble,
}
impl Stopped {
    /// A wrong use of the command line.
    #[must_use]
    pub fn wrong_use(says: impl Into<String>) -> Stopped {
        Stopped { exit: exit::USE, trouble: Trouble::text(says) }
    }
    /// A trouble of a kind that has an exit code of its own.
    #[must_use]
    pub fn trouble(trouble: Trouble) -> Stopped {
        Stopped { exit: exit::of(trouble.kind), trouble }
    }
    /// A file or folder that could not be read or written.
    #[must_use]
    pub fn files(says: impl Into<String>) -> Stopped {
        Stopped { exit: exit::FILES, trouble: Trouble::text(says) }
    }
    /// With the reason.
    #[must_use]
    pub fn why(mut self, why: impl Into<String>) -> Stopped {
        self.trouble = self.trouble.why(why);
        self
    }
    /// With something that would do.
    #[must_use]
    pub fn cure(mut self, cure: impl Into<String>) -> Stopped {
        self.trouble = self.trouble.cure(cure);
        self
    }
    /// The words before the colon.
    #[must_use]
    pub const fn label(&self) -> &'static str {
        match self.exit {
            exit::FILES => "file trouble",
            exit::TEXT => "text trouble",
            exit::SHOP => "shop trouble",
            exit::DESIGN => "design trouble",
            _ => WRONG_USE,
        }
    }
}
