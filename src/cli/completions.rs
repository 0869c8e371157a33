//! `completions`: a script for a shell.

use clap::{Args, CommandFactory};
use clap_complete::Shell;

use super::voice::Voice;
use super::{Cli, Outcome, Trouble};

#[derive(Debug, Args)]
pub(super) struct Completions {
    /// The shell
    shell: Shell,
}

impl Completions {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let mut script = Vec::new();
        clap_complete::generate(self.shell, &mut Cli::command(), "witnessmark", &mut script);
        Voice::out().print(&String::from_utf8_lossy(&script))?;
        Ok(Outcome::Clean)
    }
}
