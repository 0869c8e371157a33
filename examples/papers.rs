//! Sets the papers of a workshop that was written up before, without writing it up again: to look at a template, to
//! measure the typesetter, or to have a sheet in the form that older validators can check.
//!
//! `cargo run --example papers -- WORKSHOP FOLDER [--plain] [--times N] [--only FILE]`

use std::path::{Path, PathBuf};
use std::time::Instant;

use witnessmark::journey::{self, Progress};
use witnessmark::render::paper::{PdfProfile, Press, sheets};
use witnessmark::render::{Theme, buyer_papers};
use witnessmark::source::Tree;
use witnessmark::view::{HouseStyle, PieceContext};

struct Silent;

impl Progress for Silent {
    fn begin(&self, _: usize) {}
    fn tick(&self) {}
    fn end(&self) {}
}

#[allow(clippy::print_stdout)]
fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut words = std::env::args().skip(1);
    let (mut folders, mut promise, mut times, mut only) = (Vec::new(), PdfProfile::TaggedArchive, 1, None);
    while let Some(word) = words.next() {
        match word.as_str() {
            "--plain" => promise = PdfProfile::PlainArchive,
            "--times" => times = words.next().ok_or("how many times?")?.parse()?,
            "--only" => only = Some(words.next().ok_or("only which file?")?),
            _ => folders.push(PathBuf::from(word)),
        }
    }
    let [workshop, target] = folders.as_slice() else { return Err("give a workshop and a folder".into()) };
    let tree = Tree::open(workshop)?;
    let today = chrono::NaiveDate::from_ymd_opt(2026, 11, 25).ok_or("no day")?;
    let survey = journey::survey(&tree, today, &Silent);
    let house = HouseStyle::of(
        survey.folder.workshop.as_ref().ok_or("no workshop.toml")?,
        survey.languages.workshop(),
        today,
    );
    let start = Instant::now();
    let theme = Theme::load(&tree, &survey.theme, &survey.languages)?;
    let press = Press::of(&theme)?;
    println!("press ready in {:?}", start.elapsed());
    for workpiece in &survey.pieces {
        let context = PieceContext::of(&survey.folder, workpiece, &survey.trade, &house);
        let written = workshop.join("written/archive/pieces").join(context.slug());
        let pictures = |address: &str| std::fs::read(written.join(address)).ok();
        let folder = target.join(context.slug());
        std::fs::create_dir_all(&folder)?;
        let papers = buyer_papers(&context, None);
        for sheet in sheets(&house, &papers, context.last_day()) {
            if only.as_ref().is_some_and(|only| *only != sheet.file) {
                continue;
            }
            for _ in 0..times {
                let start = Instant::now();
                let bytes = press.set_as(&sheet, &pictures, promise)?;
                println!(
                    "{} {} in {:?}, {} bytes, {}",
                    context.slug(),
                    sheet.file,
                    start.elapsed(),
                    bytes.len(),
                    memory()
                );
                std::fs::write(folder.join(Path::new(&sheet.file)), bytes)?;
            }
        }
    }
    Ok(())
}

/// The most memory that this process ever held, as Linux tells it.
fn memory() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM")).unwrap_or("memory not known");
    line.split_whitespace().collect::<Vec<_>>().join(" ")
}
