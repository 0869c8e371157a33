//! The program: arguments in, exit code out.

use std::process::ExitCode;

use witnessmark::cli::{self, Outcome};

fn main() -> ExitCode {
    let cli = match cli::arguments() {
        Ok(cli) => cli,
        Err(code) => return code,
    };
    match cli::run(cli) {
        Ok(Outcome::Clean) => ExitCode::SUCCESS,
        Ok(Outcome::Mistakes) => ExitCode::from(1),
        Err(trouble) => {
            cli::report(&trouble);
            ExitCode::from(2)
        }
    }
}
