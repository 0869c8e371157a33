//! `intake`: opens a folder for a new piece, or brings photographs into one that is there.
//!
//! It only ever adds: what has a name already is left as it is.

mod before;
pub(super) mod photographs;
mod stage;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Args;

use self::photographs::Found;
use self::stage::Stage;
use super::schema;
use super::voice::Voice;
use super::words::{count, grouped};
use super::{Outcome, Trouble, today};
use crate::diag::nearest;
use crate::intake::{
    Arrival, Passed, PhotoFolder, Shot, Unfit, Wanted, WorkDays, kind_of, open_piece, starter_workshop,
};
use crate::record::{self, Folder, PhotoStage, Piece};
use crate::source::Tree;
use crate::unit::legible::{is_visible, one_line};
use crate::unit::wrapped;
use crate::write;

#[derive(Debug, Args)]
pub(super) struct Intake {
    /// What the piece is called, such as "Oak gateleg table"
    name: String,
    /// The workshop's folder; made if need be
    #[arg(long = "in", value_name = "WORKSHOP", default_value = ".")]
    workshop: PathBuf,
    /// What it is, in two levels, such as table/gateleg
    #[arg(long)]
    kind: Option<String>,
    /// The set that it is of, by folder or number, if it is sold by itself
    #[arg(long, value_name = "SET")]
    set: Option<String>,
    /// Photographs to copy in, in the order they were taken
    #[arg(long, value_name = "DIR")]
    photos: Option<PathBuf>,
    /// When in the work they were taken; told from their dates if not said
    #[arg(long, value_name = "STAGE")]
    stage: Option<Stage>,
}

/// The folder of a set that is named by its folder or number.
fn set_folder(workshop: &Folder, named: &str) -> Result<String, Trouble> {
    let is_called = |set: &&Arc<Piece>| {
        set.folder == named
            || set.record.as_ref().is_some_and(|record| record.number.eq_ignore_ascii_case(named))
    };
    let set = workshop.sets.iter().find(is_called);
    set.map(|set| set.folder.clone()).ok_or_else(|| Trouble::UnknownSet {
        set: named.to_owned(),
        nearest: nearest(named, workshop.sets.iter().map(|set| set.folder.as_str())).map(str::to_owned),
    })
}

impl Intake {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let name = self.name.trim();
        if !is_visible(name) {
            return Err(Unfit::NoName.into());
        }
        // Looked at before anything is made, so that a mistyped folder leaves nothing behind.
        let (mut found, passed) =
            self.photos.as_deref().map_or(Ok(Default::default()), photographs::gather)?;
        let made = open_workshop(&self.workshop)?;
        let tree = Tree::open(&self.workshop)?;
        let read = record::read(&tree).0;
        let pieces = read.all();
        let set = self.set.as_deref().map(|set| set_folder(&read, set)).transpose()?;
        let wanted = Wanted { name, kind: self.kind.as_deref(), set: set.as_deref() };
        let opened = open_piece(&self.workshop, &tree, &pieces, wanted, today())?;
        let (place, home) = (&opened.place, self.workshop.join("pieces").join(&opened.folder));
        let piece = pieces.iter().find(|piece| piece.folder == opened.folder);

        let voice = Voice::out();
        voice.say(opening(name, place, opened.number.as_deref(), &voice))?;
        let new = opened.number.is_some();
        let record = ["record.toml", "story.md", "photos/"].map(|file| format!("{place}/{file}"));
        let record = if new { &record[..if opened.there { 1 } else { 3 }] } else { &[] };
        for path in made.iter().copied().chain(record.iter().map(String::as_str)) {
            voice.say(format!("  made     {path}"))?;
        }
        let mut sound = true;
        if self.photos.is_some() {
            let told = piece.and_then(|piece| WorkDays::of(piece));
            let days = told.or_else(|| WorkDays::after_arrival(&tree, piece?));
            let by = match (self.stage, told, days) {
                (None, Some(_), _) => Some(BY_WORK),
                (None, None, Some(_)) => Some(BY_ARRIVAL),
                _ => None,
            };
            let stage_of = |shot: &Shot| match (self.stage, days) {
                (Some(stage), _) => stage.of_photographs(),
                (None, Some(days)) => days.stage(shot.taken.map(|taken| taken.date())),
                (None, None) => PhotoStage::Before,
            };
            let mut left = passed;
            let mut brought = Brought::default();
            for stage in PhotoStage::ALL {
                let (of_stage, others): (Vec<Found>, Vec<Found>) =
                    found.into_iter().partition(|found| stage_of(&found.shot) == *stage);
                found = others;
                if of_stage.is_empty() {
                    continue;
                }
                let piece = piece.map(|piece| (&tree, &**piece));
                let shots: Vec<&Shot> = of_stage.iter().map(|found| &found.shot).collect();
                let (mut folder, unfit) = PhotoFolder::open(home.join("photos"), piece, &shots, *stage)?;
                left.extend(unfit);
                brought.bring(&of_stage, &mut left, &mut folder, &voice)?;
            }
            sound = brought.told(left, by, &voice)?;
        }
        if let Some(known) =
            new.then(|| before::known(&self.workshop, kind_of(self.kind.as_deref()), name, &voice)).flatten()
        {
            voice.say(known)?;
        }
        voice.say(next_steps(
            &self.workshop,
            new.then_some(place.as_str()),
            made.contains(&"workshop.toml"),
            &voice,
        ))?;
        Ok(if sound { Outcome::Clean } else { Outcome::Mistakes })
    }
}

/// Makes the workshop's own files where the folder is no workshop yet, and the schemas that editors use.
///
/// Returns the files made, as paths from the workshop.
fn open_workshop(root: &Path) -> Result<Vec<&'static str>, Trouble> {
    let mut made = Vec::new();
    for folder in [root, &root.join("schema")] {
        write::clear_halves(folder);
    }
    if fs::symlink_metadata(root.join("workshop.toml")).is_err() {
        if holds_something_else(root)? {
            return Err(Trouble::NotAWorkshop(root.to_owned()));
        }
        write::add(&root.join("workshop.toml"), starter_workshop(&workshop_name(root)).as_bytes())?;
        made.push("workshop.toml");
    }
    for (path, file) in [
        ("schema/record.schema.json", schema::File::Record),
        ("schema/workshop.schema.json", schema::File::Workshop),
    ] {
        if write::add(&root.join(path), schema::text(file).as_bytes())? {
            made.push(path);
        }
    }
    Ok(made)
}

/// Whether a folder that is no workshop holds anything but what a workshop holds, and hidden files.
fn holds_something_else(root: &Path) -> Result<bool, Trouble> {
    let unreadable = |error: std::io::Error| Trouble::unread(root, error.into());
    let entries = match fs::read_dir(root) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(false),
        entries => entries.map_err(unreadable)?,
    };
    let own = ["pieces", "stock.toml", "theme", "schema", write::SECRET];
    for entry in entries {
        let name = entry.map_err(unreadable)?.file_name();
        if !name.as_encoded_bytes().starts_with(b".") && !own.iter().any(|own| name == *own) {
            return Ok(true);
        }
    }
    Ok(false)
}

/// What a new workshop is called until somebody says otherwise: as its folder is.
fn workshop_name(root: &Path) -> String {
    let whole = std::path::absolute(root).unwrap_or_else(|_| root.to_owned());
    let name = whole.file_name().unwrap_or_default().to_string_lossy();
    if is_visible(&name) { name.trim().to_owned() } else { "Workshop".to_owned() }
}

/// What was opened; a number is given to a new piece alone.
fn opening(name: &str, place: &str, number: Option<&str>, voice: &Voice) -> String {
    match number {
        Some(number) => format!("{} {} as {}\n", voice.strong("Opened"), one_line(name), one_line(number)),
        None => {
            format!("{} {place}; its record and story stay as they are.\n", voice.strong("Already there:"))
        }
    }
}

/// How many files that were left are named before the rest is only counted.
const NAMED: usize = 50;

/// By what the stage of photographs was told.
const BY_WORK: &str =
    "Their stage was told from their dates and the days of work so far; --stage says it instead.";
const BY_ARRIVAL: &str = "No day of work is told yet: those taken after the day of the earlier ones from before are \
                          called during; --stage says it instead.";

/// How many photographs came.
#[derive(Debug, Default)]
struct Brought {
    copied: usize,
    there: usize,
}

impl Brought {
    /// Copies photographs, a line for each.
    fn bring(
        &mut self,
        found: &[Found],
        left: &mut Vec<Passed>,
        folder: &mut PhotoFolder,
        voice: &Voice,
    ) -> Result<(), Trouble> {
        for photograph in found {
            let shot = &photograph.shot;
            let name = one_line(&shot.name);
            voice.say(match photograph.bring(folder)? {
                Arrival::Copied(new) => {
                    self.copied += 1;
                    let from = (new != shot.name).then(|| format!("from {name}"));
                    let taken = shot.taken.map(|taken| taken.format("taken %Y-%m-%d %H:%M").to_string());
                    let details: Vec<String> = from.into_iter().chain(taken).collect();
                    format!("  copied   {}  {}", one_line(&new), voice.faint(details.join(", ")))
                }
                Arrival::There(old) => {
                    self.there += 1;
                    format!("  skipped  {name}: the same photograph as {}", one_line(&old))
                }
                Arrival::Lost(why) => {
                    left.push(Passed { name: shot.name.clone(), why, wanted: true });
                    continue;
                }
            })?;
        }
        Ok(())
    }

    /// Says what came and what was left; whether everything that was to be brought in is there now.
    fn told(&self, mut left: Vec<Passed>, by: Option<&str>, voice: &Voice) -> Result<bool, Trouble> {
        // What was wanted is named before what only lay there.
        left.sort_by_key(|file| !file.wanted);
        for file in left.iter().take(NAMED) {
            let line = one_line(&format!("{}: {}", file.name, file.why));
            voice.say(format!("  left     {}", wrapped(&line, voice.text_width() - 11, "           ")))?;
        }
        if left.len() > NAMED {
            voice.say(format!("  left     and {} more", grouped(left.len() - NAMED)))?;
        }
        if self.copied + self.there == 0 {
            voice.say("\nNo photograph was brought in.")?;
        }
        if self.copied > 0 {
            let photographs = count(self.copied, "photograph", "photographs");
            voice.say(format!(
                "\n{photographs} copied; the originals stay where they are. A name says what a picture shows:\n\
                 before-front.jpg, during-glue.jpg, hidden-frame.jpg, after-front.jpg, handover-label.jpg."
            ))?;
            if let Some(by) = by {
                voice.say(wrapped(by, voice.text_width(), ""))?;
            }
        }
        Ok(self.copied + self.there > 0 && !left.iter().any(|file| file.wanted))
    }
}

/// What to do now; `record` is the folder of a piece whose record was just made.
fn next_steps(workshop: &Path, record: Option<&str>, first: bool, voice: &Voice) -> String {
    let place = if workshop == Path::new(".") { String::new() } else { format!(" {}", shell_word(workshop)) };
    let mut steps = Vec::new();
    if first {
        steps.push("Put the workshop's name into workshop.toml.".to_owned());
    }
    if let Some(record) = record {
        steps.push(format!("Write what you know into {record}/record.toml."));
    }
    steps.push(format!("`witnessmark inspect{place}` says what would help most."));
    format!("\n{}\n  {}", voice.strong("Next"), steps.join("\n  "))
}

/// A path as it can be typed in a shell.
fn shell_word(path: &Path) -> String {
    let text = path.display().to_string();
    let plain = |c: char| c.is_alphanumeric() || "/._-~:\\".contains(c);
    if text.chars().all(plain) { text } else { format!("'{}'", text.replace('\'', r"'\''")) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_can_be_typed_again() {
        assert_eq!(shell_word(Path::new("my/work")), "my/work");
        assert_eq!(shell_word(Path::new("Anna's work")), r"'Anna'\''s work'");
    }

    #[test]
    fn a_workshop_is_called_as_its_folder() {
        assert_eq!(workshop_name(Path::new("a/Blue Door")), "Blue Door");
        assert_eq!(workshop_name(Path::new("/")), "Workshop");
    }
}
