//! `jot`: puts a line into a piece's day book, with the day, and perhaps a photograph with it.
//!
//! It only ever adds: no piece is made, and no line that stands there is touched.

use std::path::PathBuf;

use clap::Args;

use super::intake::photographs;
use super::voice::Voice;
use super::{Outcome, Trouble, record_folder, today};
use crate::daybook::{Kind, kind};
use crate::intake::{Arrival, Book, PhotoFolder, dated, one_line_of};
use crate::record::day_book::{durations, spent, tokens};
use crate::record::{self, DAY_BOOK, Jotting, PhotoStage};
use crate::source::Tree;
use crate::unit::legible::one_line;

#[derive(Debug, Args)]
pub(super) struct Jot {
    /// The piece: its folder, its path or its number
    piece: String,
    /// What was done or seen, such as "closed the split, hide glue, 1.5h"
    #[arg(required = true)]
    line: Vec<String>,
    /// A photograph to bring in with it
    #[arg(long, value_name = "FILE")]
    photo: Option<PathBuf>,
    /// The workshop's folder
    #[arg(long, value_name = "PATH", default_value = ".")]
    workshop: PathBuf,
}

impl Jot {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let tree = Tree::open(&self.workshop)?;
        let (read, _) = record::read(&tree);
        let folder = record_folder(&read, &self.piece)?;
        let said = one_line_of(&self.line.join(" "))?;
        let book = Book::of(&self.workshop, &tree, &folder)?;
        // A photograph that cannot be read is told before anything is written.
        let photograph = self.photo.as_deref().map(photographs::one).transpose()?;
        let line = dated(&said, today());
        book.jot(&line)?;

        let voice = Voice::out();
        voice.say(format!("{} {}:\n  {}", voice.strong("Jotted into"), book.path, one_line(&line)))?;
        if let Some(photograph) = photograph {
            let piece = read.found_in(&folder);
            let home = self.workshop.join("pieces").join(&folder).join("photos");
            let shot = &photograph.shot;
            let piece = piece.map(|piece| (&tree, &**piece));
            let (mut photos, _) = PhotoFolder::open(home, piece, &[shot], PhotoStage::During)?;
            match photograph.bring(&mut photos)? {
                Arrival::Copied(name) => voice.say(format!("  copied   {}", one_line(&name)))?,
                Arrival::There(name) => {
                    voice.say(format!("  skipped  the same photograph as {}", one_line(&name)))?;
                }
                Arrival::Lost(why) => {
                    voice.say(format!("  left     {}: {}", one_line(&shot.name), one_line(&why)))?;
                    return Ok(Outcome::Mistakes);
                }
            }
        }
        voice.say(format!("  {}", voice.faint(told(&said))))?;
        Ok(Outcome::Clean)
    }
}

/// How the line is taken.
fn told(said: &str) -> String {
    let jotting = Jotting::of(DAY_BOOK, 0..0, None, said);
    let time = match spent(&durations(&tokens(said))) {
        Some(minutes) => format!("{} h {} min of work", minutes / 60, minutes % 60)
            .replace(" 0 min", "")
            .replace("0 h ", ""),
        None => "no time".to_owned(),
    };
    let shown = match (&jotting.said, kind(said)) {
        (Err(withheld), _) => format!("for the archive alone: {}", one_line(&withheld.told())),
        (_, Kind::Plan) => "still to be done".to_owned(),
        (_, Kind::Question) => "a question, on no paper".to_owned(),
        (Ok(shown), Kind::Work) => format!("on the papers: {}", one_line(shown)),
    };
    format!("{time}; {shown}")
}

#[cfg(test)]
mod tests {
    use super::told;

    #[test]
    fn it_says_how_a_line_is_taken() {
        assert_eq!(told("glued it, 1.5h"), "1 h 30 min of work; on the papers: glued it");
        assert_eq!(told("must order glides"), "no time; still to be done");
        assert_eq!(told("£4 for glides"), "no time; for the archive alone: “£” speaks of money");
        assert_eq!(told("20 min"), "20 min of work; for the archive alone: it tells a time and nothing else");
        assert_eq!(told("2h on the top"), "2 h of work; on the papers: on the top");
    }
}
