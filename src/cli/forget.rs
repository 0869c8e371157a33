//! `forget`: takes what a record says of its buyer out of it and out of everything that was made from it, and says what
//! stays.
//!
//! Nothing is done before all of it was shown. The record keeps every other byte, and is left alone where it was changed
//! meanwhile.

use std::path::{Path, PathBuf};

use clap::Args;

use super::bar::Bar;
use super::enter::{Answer, ask};
use super::voice::Voice;
use super::words::count;
use super::{Outcome, Trouble, piece_folder, today};
use crate::journey::{self, Forgetting, Mentioned, Sealed, Written};
use crate::record;
use crate::source::{Tree, lies_in};
use crate::unit::legible::one_line;
use crate::unit::mention::Mention;
use crate::unit::wrapped;
use crate::write::{self, Darkroom, Secret, Stage};

/// How many files of one sort are named before they are only counted.
const NAMED: usize = 12;

#[derive(Debug, Args)]
pub(super) struct Forget {
    /// The piece: its folder, its path or its number
    piece: String,
    /// Only show what it would do
    #[arg(long, conflicts_with = "yes")]
    show: bool,
    /// Do it without asking
    #[arg(long)]
    yes: bool,
    /// The workshop's folder
    #[arg(long, value_name = "PATH", default_value = ".")]
    workshop: PathBuf,
}

impl Forget {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let voice = Voice::out();
        let tree = Tree::open(&self.workshop)?;
        let (folder, _) = record::read(&tree);
        let named = piece_folder(&folder, &self.piece)?;
        let piece = folder.pieces.iter().find(|piece| piece.folder == named).ok_or(Trouble::UnreadRecord)?;
        let Some(forgetting) = journey::forgetting(&self.workshop, &tree, piece)? else {
            let line = format!(
                "The record of {} names no buyer. What was written before it was taken out goes with \
                 `witnessmark writeup --clear-darkroom`.",
                one_line(&named)
            );
            voice.say(wrapped(&line, voice.text_width(), ""))?;
            return Ok(Outcome::Clean);
        };
        let written = self.target();
        let stands = !lies_in(&written).is_empty();
        voice.say(shown(&forgetting, stands, &voice))?;
        if self.show {
            return Ok(Outcome::Clean);
        }
        let question = "\nWhat leaves cannot be brought back. Forget this buyer? y yes, n no: ";
        if !self.yes && ask(&voice, &mut std::io::stdin().lock(), question)? != Answer::Yes {
            voice.say("Nothing was changed.")?;
            return Ok(Outcome::Clean);
        }
        write::keep_clear(&self.workshop, &written)?;
        // What may refuse is asked before the record is changed.
        let stage = Stage::open(&written)?;
        let secret = stands.then(|| Secret::of(&self.workshop)).transpose()?;
        write::replace(&self.workshop.join(&forgetting.record), forgetting.text.as_bytes(), &forgetting.was)?;
        let texts = count(forgetting.leaves.len(), "text", "texts");
        voice.say(format!("\n{} {texts} left the record.", voice.strong("Forgotten:")))?;
        match secret {
            Some(secret) => self.write_afresh(&forgetting, stage, &secret, &written, &voice),
            // Papers that were only handed over are kept there, too.
            None => cleared(&Darkroom::open(Some(self.workshop.as_path()), &stage), &voice),
        }
    }

    fn target(&self) -> PathBuf {
        // A path that begins with `./` is longer and says no more.
        if self.workshop == Path::new(".") { "written".into() } else { self.workshop.join("written") }
    }

    /// Writes everything up again, clears the darkroom, and looks whether the name is gone.
    fn write_afresh(
        &self,
        forgetting: &Forgetting,
        stage: Stage,
        secret: &Secret,
        target: &Path,
        voice: &Voice,
    ) -> Result<Outcome, Trouble> {
        let tree = Tree::open(&self.workshop)?;
        let (_, written) = journey::written_afresh(&tree, today(), stage, secret, &Bar::new("Developing"))?;
        let Some(written) = written else { return Err(Trouble::UnreadWorkshop) };
        let Written { pieces, files, darkroom, .. } = &written;
        let (pieces, files) = (count(pieces.len(), "piece", "pieces"), count(*files, "file", "files"));
        voice.say(format!("Written anew: {pieces}, {files}, and the archive's database."))?;
        let outcome = cleared(darkroom, voice)?;
        let still = journey::still_named(target, &forgetting.names);
        if still.is_empty() {
            voice.say(match forgetting.mentions.is_empty() {
                true => "The name is in no page and in no row of the database any more.",
                false => "The whole name is in no page and in no row of the database any more; what the lines above say is.",
            })?;
            return Ok(outcome);
        }
        let why = "The name still stands in what was written, since a text of the workshop has it, or papers could not be made \
                   anew. Change the text or mend the record, then `witnessmark writeup --clear-darkroom`:";
        let places = listed(still.iter().map(|path| format!("{}/{path}", target.display())), NAMED);
        voice.say(format!("{}\n{places}", wrapped(why, voice.text_width(), "")))?;
        Ok(Outcome::Mistakes)
    }
}

/// Clears the darkroom of what is not used, or says why that has to be done later.
fn cleared(darkroom: &Darkroom, voice: &Voice) -> Result<Outcome, Trouble> {
    match darkroom.clear() {
        Ok(cleared) => {
            voice
                .say(format!("Cleared from the darkroom: {}.", count(cleared.entries, "entry", "entries")))?;
            Ok(Outcome::Clean)
        }
        Err(fault) => {
            let line = format!(
                "The darkroom may still keep papers with the name: {fault}. Then `witnessmark writeup --clear-darkroom`."
            );
            voice.say(wrapped(&line, voice.text_width(), ""))?;
            Ok(Outcome::Mistakes)
        }
    }
}

/// What it does, what stays for people to look at, and what cannot be reached.
fn shown(forgetting: &Forgetting, stands: bool, voice: &Voice) -> String {
    let mut parts = vec![voice.strong(one_line(&forgetting.title))];
    let mut section = |heading: &str, lines: String| {
        if !lines.is_empty() {
            parts.push(format!("{}\n{lines}", wrapped(heading, voice.text_width(), "")));
        }
    };
    let leaves = forgetting
        .leaves
        .iter()
        .map(|(key, line, text)| format!("{}, line {line}: {key} = {}", forgetting.record, one_line(text)));
    section("Leaves the record, and every other byte stays:", listed(leaves, usize::MAX));
    let made = match stands {
        true => {
            "`written/`, the archive's database with it; .darkroom/ keeps no paper that is not among them"
        }
        false => ".darkroom/ keeps no paper; nothing is written, so nothing is written anew",
    };
    section("Made anew:", listed([made.to_owned()], NAMED));
    for (mention, most, heading) in [
        (Mention::Surely, usize::MAX, "Stays as it is, and has the name, so change it by hand:"),
        (Mention::Perhaps, NAMED, "Stays as it is, and may mean the same person:"),
    ] {
        let of = |found: &&Mentioned| found.mention == mention;
        let line = |found: &Mentioned| {
            let text: String = one_line(&found.text).chars().take(80).collect();
            format!("{}, line {}: {text}", one_line(&found.path), found.line)
        };
        section(heading, listed(forgetting.mentions.iter().filter(of).map(line), most));
    }
    let unread = forgetting.unread.iter().map(|path| one_line(path));
    section("Could not be looked into:", listed(unread, NAMED));
    let sealed = forgetting.sealed.iter().map(|sealed| match sealed {
        Sealed::Pack(path) => format!("{}: a pack, as it was handed over", one_line(path)),
        Sealed::Seal(path) => {
            format!("{}: an older seal, which would fit no longer without the name", one_line(path))
        }
    });
    let versions = forgetting.versioned.then(|| ".git: older versions of the record".to_owned());
    let copies = "what was handed over, sent, put on the web, printed or backed up";
    let beyond = sealed.chain(versions).chain([copies.to_owned()]);
    section("Cannot be reached from here; delete it yourself where it is yours:", listed(beyond, usize::MAX));
    let in_seals = forgetting.sealed.iter().filter(|sealed| matches!(sealed, Sealed::Seal(_))).count();
    parts.extend(match (forgetting.seals, in_seals) {
        (0, _) => None,
        (1, 0) => Some("The seal does not hold the name, and goes on fitting.".to_owned()),
        (_, 0) => Some("None of its seals holds the name, and each goes on fitting.".to_owned()),
        _ => Some("Seals stay as they are, and go on fitting.".to_owned()),
    });
    parts.join("\n\n")
}

/// Lines under a heading, as many as are named.
fn listed(lines: impl IntoIterator<Item = String>, most: usize) -> String {
    let mut lines: Vec<String> = lines.into_iter().map(|line| format!("  {line}")).collect();
    if let Some(more) = lines.len().checked_sub(most).filter(|more| *more > 0) {
        lines.truncate(most);
        lines.push(format!("  and {more} more"));
    }
    lines.join("\n")
}
