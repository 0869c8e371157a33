//! Measures the archive of a workshop: made from nothing, with one piece replaced, and asked.
//!
//! `cargo run --release --example archive -- WORKSHOP FILE [WORDS …]` writes the database to FILE and nothing else.
//! `benches/many.py --photographs 0` makes a workshop to measure.

use std::path::Path;
use std::process::ExitCode;
use std::time::Instant;

use witnessmark::archive::{Archive, Asking, Entries};
use witnessmark::journey::{self, Quiet};
use witnessmark::source::{Tree, open_database};

#[allow(clippy::print_stdout, clippy::print_stderr)]
fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [workshop, file, words @ ..] = &arguments[..] else {
        eprintln!("usage: archive WORKSHOP FILE [WORDS …]");
        return ExitCode::FAILURE;
    };
    match measured(Path::new(workshop), Path::new(file), words) {
        Ok(lines) => {
            lines.iter().for_each(|line| println!("{line}"));
            ExitCode::SUCCESS
        }
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn measured(
    workshop: &Path,
    file: &Path,
    words: &[String],
) -> Result<Vec<String>, Box<dyn std::error::Error>> {
    let mut lines = Vec::new();
    let mut told =
        |what: &str, since: Instant| lines.push(format!("{what}: {:.3} s", since.elapsed().as_secs_f64()));
    let today = chrono::NaiveDate::from_ymd_opt(2026, 12, 1).expect("a day");

    let since = Instant::now();
    let tree = Tree::open(workshop)?;
    let survey = journey::survey(&tree, today, &Quiet);
    told(&format!("{} pieces read", survey.pieces.len()), since);
    let since = Instant::now();
    let (mut archive, _) = journey::archive_of(None, &tree, &survey)?;
    told("made from nothing", since);
    let bytes = archive.bytes()?;
    std::fs::write(file, &bytes)?;
    let since = Instant::now();
    let (_, brought) = journey::archive_of(Some(&bytes), &tree, &survey)?;
    told(&format!("brought up to date where nothing changed ({brought:?})"), since);

    let since = Instant::now();
    let mut archive = Archive::of(&bytes)?;
    told("taken from its bytes", since);
    let first = survey.pieces.first().ok_or("there is no piece")?;
    let entries = |note: &str| {
        let beside = witnessmark::archive::Beside { source: note.to_owned(), ..Default::default() };
        Entries::of(&survey.folder, first, &survey.trade, beside)
    };
    for note in ["one", "two", "three"] {
        let changed = entries(note);
        let since = Instant::now();
        archive.replace(&changed)?;
        told("one piece replaced", since);
    }
    let since = Instant::now();
    let length = archive.bytes()?.len();
    told(&format!("{:.1} MB handed over", length as f64 / 1e6), since);

    let opened = open_database(file)?;
    let archive = Archive::reading(opened.connection, opened.length)?;
    let asking = Asking { archive: &archive, trade: &survey.trade, today };
    for words in words {
        for _ in 0..2 {
            let since = Instant::now();
            let answer = asking.words(words, 40, 5)?;
            told(&format!("words {words}: {} lines in {} pieces", answer.lines, answer.pieces), since);
        }
    }
    type Question<'a> =
        (&'a str, &'a dyn Fn(&Asking<'_>) -> Result<usize, witnessmark::archive::ArchiveFault>);
    let questions: [Question<'_>; 8] = [
        ("time gluing", &|ask| Ok(ask.time("gluing")?.works.len())),
        ("quote", &|ask| Ok(ask.quote("table/drop-leaf", &["gluing".to_owned()])?.pieces.len())),
        ("faults", &|ask| Ok(ask.faults("white ring")?.faults.len())),
        ("stock", &|ask| Ok(ask.stock(None)?.stock.len())),
        ("money", &|ask| Ok(ask.money(Some(2026))?.by_piece.len())),
        ("lessons", &|ask| Ok(ask.lessons(Some("walnut"))?.lessons.len())),
        ("due", &|ask| Ok(ask.due(ask.today)?.due.len())),
        ("colour", &|ask| Ok(ask.colour(Default::default())?.measured.len())),
    ];
    for (name, question) in questions {
        let since = Instant::now();
        let rows = question(&asking)?;
        told(&format!("{name}: {rows}"), since);
    }
    Ok(lines)
}
