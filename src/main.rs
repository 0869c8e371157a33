//! The program: arguments in, exit code out.

use std::process::ExitCode;

use clap::Parser;
use witnessmark::cli::{self, Cli, Outcome};

fn main() -> ExitCode {
    match cli::run(Cli::parse()) {
        Ok(Outcome::Clean) => ExitCode::SUCCESS,
        Ok(Outcome::Mistakes) => ExitCode::from(1),
        Err(trouble) => {
            cli::report(&trouble);
            ExitCode::from(2)
        }
    }
}
