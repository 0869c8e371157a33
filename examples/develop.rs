//! Develops one photograph as the program does, and nothing else: what `benches/photographs.py` measures.
//!
//! `develop PHOTOGRAPH FOLDER` writes `FOLDER/1600.jpg`, `960.jpg` and `480.jpg`.

use std::path::Path;
use std::process::ExitCode;
use std::{env, fs};

use witnessmark::photo::{self, Settings};

fn main() -> ExitCode {
    let arguments: Vec<String> = env::args().skip(1).collect();
    let [photograph, folder] = arguments.as_slice() else { return ExitCode::from(2) };
    let Ok(bytes) = fs::read(photograph) else { return ExitCode::from(2) };
    let Ok(developed) = photo::develop(&bytes, &Settings::default()) else { return ExitCode::FAILURE };
    for picture in developed.pictures {
        let path = Path::new(folder).join(format!("{}.jpg", picture.width));
        if fs::write(path, picture.bytes).is_err() {
            return ExitCode::FAILURE;
        }
    }
    ExitCode::SUCCESS
}
