//! Taking in what a phone sends: photographs, a line of the day book, a new piece.

use std::path::Path;

use chrono::{Days, NaiveDate};
use serde::Serialize;

use super::multipart::{Form, SentFile};
use crate::intake::{
    Arrival, Before, Book, Once, Opened, PhotoFolder, Shot, Unfit, Wanted, dated, is_mark, one_line_of,
    open_piece,
};
use crate::photo::{self, Fault};
use crate::record::day_book::{begins_with_day, durations, spent, tokens};
use crate::record::{self, PhotoStage};
use crate::source::Tree;
use crate::unit::legible::one_line;
use crate::write::WriteError;

/// The longest photograph that is taken from a phone, in bytes: several times what phones make.
pub(super) const LONGEST_PHOTOGRAPH: usize = 40_000_000;

/// The longest line, in characters.
const LONGEST_LINE: usize = 1_000;

/// The longest title and kind of a new piece, in characters.
const LONGEST_TITLE: usize = 200;

/// How many days before today an entry may be of: a phone that was out of reach for long, and no clock that is wrong by
/// years.
const DAYS_BEFORE: u64 = 60;

/// Why nothing of an entry was taken.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Refused {
    /// It cannot be used as it is.
    Unusable(String),
    /// The computer could not write it now.
    NotNow(String),
}

/// What became of an entry.
#[derive(Debug, Default, PartialEq, Eq, Serialize)]
pub(super) struct Taken {
    /// The title of its piece.
    pub(super) piece: String,
    /// The words that were jotted; empty where there were none.
    pub(super) said: String,
    /// The names under which its photographs are in the piece.
    pub(super) photographs: Vec<String>,
    /// Whether it had come in before.
    pub(super) again: bool,
    /// Photographs that were left, each with why.
    pub(super) left: Vec<String>,
}

/// Takes an entry in: all of it that can be used, and none of it twice.
pub(super) fn entry(root: &Path, form: &Form, today: NaiveDate) -> Result<Taken, Refused> {
    let mark = form.said("entry");
    if !is_mark(mark) {
        return Err(unusable("The page is of an earlier run. Load it anew and send this once more."));
    }
    let line = line(form, today)?;
    if line.is_none() && form.files.is_empty() {
        return Err(unusable("Nothing to save yet: say what you did, or take a photograph."));
    }
    let folder = form.said("piece");
    let stage = stage(form.said("stage"))?;
    let tree = tree_of(root, folder)?;
    let pieces = record::read(&tree).0.pieces;
    let Some(piece) = pieces.iter().find(|piece| piece.folder == folder) else {
        return Err(unusable("This piece is not there any more. Choose another one."));
    };
    let title = piece.record.as_ref().map_or_else(|| folder.to_owned(), |record| record.title.to_string());
    let mut taken = Taken { piece: title, said: line.clone().unwrap_or_default(), ..Taken::default() };

    // All is looked at before anything is written.
    let mut shots = Vec::new();
    for file in &form.files {
        match shot(file) {
            Ok(shot) => shots.push((shot, file)),
            Err(why) => taken.left.push(why),
        }
    }
    if line.is_none() && shots.is_empty() {
        return Err(Refused::Unusable(taken.left.join(" ")));
    }
    let book = Book::of(root, &tree, folder).map_err(refused)?;
    let once = Once::of(root).map_err(refused)?;
    let before = once.before(mark);
    if before == Before::Done {
        return Ok(Taken { again: true, ..taken });
    }
    let line = line.unwrap_or_default();
    let from = match before {
        Before::Begun(length) => length,
        _ => {
            let (length, _) = book.look(&line, 0).map_err(refused)?;
            once.begins(mark, length).map_err(refused)?;
            length
        }
    };
    if !shots.is_empty() {
        let home = root.join("pieces").join(folder).join("photos");
        let coming: Vec<&Shot> = shots.iter().map(|(shot, _)| shot).collect();
        let piece = Some((&tree, &**piece));
        let (mut photos, _) = PhotoFolder::open(home, piece, &coming, stage).map_err(refused)?;
        for (shot, file) in &shots {
            match photos.take(shot, || Ok(file.bytes.clone())).map_err(refused)? {
                Arrival::Copied(name) | Arrival::There(name) => taken.photographs.push(name),
                Arrival::Lost(why) => taken.left.push(format!("{}: {why}.", named(&file.name))),
            }
        }
    }
    if !line.is_empty() {
        // Cut short before, it may stand there already.
        let there = matches!(before, Before::Begun(_)) && book.look(&line, from).map_err(refused)?.1;
        if !there {
            book.jot(&line).map_err(refused)?;
        }
        taken.again = there;
    }
    once.done(mark).map_err(refused)?;
    Ok(taken)
}

/// Opens a new piece, and leaves one alone that is there.
pub(super) fn piece(root: &Path, form: &Form, today: NaiveDate) -> Result<Opened, Refused> {
    let (title, kind) = (form.said("title"), form.said("kind"));
    if title.is_empty() {
        return Err(unusable("Say what the piece is called, such as “Oak gateleg table”."));
    }
    if [title, kind].iter().any(|text| text.chars().count() > LONGEST_TITLE) {
        return Err(unusable("That is too long for a title or a kind: the rest belongs into the record."));
    }
    let tree = Tree::open(root).map_err(|_| unread())?;
    let pieces = record::read(&tree).0.all();
    // Line breaks in a title would be the phone's, and nobody's wish.
    let title = one_line_of(title).map_err(refused)?;
    let wanted = Wanted { name: &title, kind: Some(kind), set: None };
    open_piece(root, &tree, &pieces, wanted, today).map_err(refused)
}

/// The workshop with one piece, so that taking an entry in does not read all of the others.
fn tree_of(root: &Path, folder: &str) -> Result<Tree, Refused> {
    if !Tree::is_folder_name(folder) {
        return Err(unusable("Choose a piece first."));
    }
    record::open_with_sets(root, folder).map_err(|_| unread())
}

/// The line that is to be jotted, with its day and its time; `None` where nothing was said.
fn line(form: &Form, today: NaiveDate) -> Result<Option<String>, Refused> {
    let did = form.said("did");
    if did.chars().count() > LONGEST_LINE {
        return Err(unusable("This line is too long. Break it in two, and save each of them."));
    }
    let minutes = minutes(form)?;
    let Ok(said) = one_line_of(did) else {
        return match minutes {
            Some(_) => Err(unusable("Say what the time was spent on.")),
            None => Ok(None),
        };
    };
    let told = spent(&durations(&tokens(&said)));
    let said = match (minutes, told) {
        (None, _) => said,
        (Some(minutes), Some(told)) if minutes == told => said,
        (Some(minutes), Some(told)) => {
            return Err(Refused::Unusable(format!(
                "The line says {} and the field {}. Leave one of them out.",
                spoken(told),
                spoken(minutes)
            )));
        }
        (Some(minutes), None) => {
            let joint = if said.ends_with(['.', '!', '?', ',', ';']) { "" } else { "," };
            format!("{said}{joint} {}", spoken(minutes))
        }
    };
    if begins_with_day(&said) {
        return Ok(Some(said));
    }
    Ok(Some(dated(&said, day(form.said("day"), today))))
}

/// The day of an entry: the phone's, where that can be, and else today.
fn day(said: &str, today: NaiveDate) -> NaiveDate {
    let earliest = today.checked_sub_days(Days::new(DAYS_BEFORE)).unwrap_or(today);
    said.parse().ok().filter(|day: &NaiveDate| (earliest..=today).contains(day)).unwrap_or(today)
}

/// The minutes that were given beside the line; the tile that was pressed holds where nothing was typed.
fn minutes(form: &Form) -> Result<Option<u32>, Refused> {
    let typed = [form.said("spent"), form.said("quick")].into_iter().find(|text| !text.is_empty());
    let Some(typed) = typed else { return Ok(None) };
    let minutes = spent(&durations(&tokens(typed)));
    match (minutes, typed.split_whitespace().next()) {
        (Some(minutes), _) => Ok(Some(minutes)),
        (None, Some("0")) => Ok(None),
        _ => Err(Refused::Unusable(format!(
            "“{}” is not understood as a time. Say it as 45 min or 1 h 15.",
            one_line(typed)
        ))),
    }
}

/// Minutes as the day book reads them.
pub(super) fn spoken(minutes: u32) -> String {
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

fn stage(said: &str) -> Result<PhotoStage, Refused> {
    let known = PhotoStage::ALL.iter().find(|stage| stage.word() == said);
    match known {
        Some(stage) => Ok(*stage),
        None if said.is_empty() => Ok(PhotoStage::During),
        None => Err(unusable("This stage is not known. Load the page anew.")),
    }
}

/// Looks at a photograph: by its bytes, since a name may say anything.
fn shot(file: &SentFile) -> Result<Shot, String> {
    let name = named(&file.name);
    if file.bytes.len() > LONGEST_PHOTOGRAPH {
        return Err(format!(
            "{name} is too large: at most {} MB are taken from a phone. Bring it in at the desk.",
            LONGEST_PHOTOGRAPH / 1_000_000
        ));
    }
    let film =
        matches!(&file.bytes[..], [_, _, _, _, b'f', b't', b'y', b'p', ..] | [0x1A, 0x45, 0xDF, 0xA3, ..]);
    // What its name says of a stage is not what was chosen, and a phone's name says nothing else.
    let ending = file.name.rsplit_once('.').map_or("", |(_, ending)| ending);
    let plain = ending.len() <= 5 && ending.bytes().all(|byte| byte.is_ascii_alphanumeric());
    let own = format!("photo.{}", if plain { ending } else { "" });
    let shot = Shot::of(own, &file.bytes).map_err(|fault| match fault {
        Fault::NotAPhotograph if film => format!("{name} is a film. Photographs alone are taken here."),
        fault => format!("{name}: {fault}."),
    })?;
    if !photo::is_whole(&file.bytes) {
        return Err(format!("{name} is cut short: only part of it arrived. Take or choose it once more."));
    }
    Ok(shot)
}

/// How a photograph is called to whoever sent it.
fn named(name: &str) -> String {
    if name.trim().is_empty() { "The photograph".to_owned() } else { format!("“{}”", one_line(name)) }
}

fn unread() -> Refused {
    Refused::NotNow("The workshop cannot be read at the moment.".to_owned())
}

fn unusable(why: &str) -> Refused {
    Refused::Unusable(why.to_owned())
}

/// Why something did not come in, without the paths of this computer.
fn refused(unfit: Unfit) -> Refused {
    match unfit {
        Unfit::Write(WriteError::Full(_)) => Refused::Unusable(
            "The day book is full. At the desk, move its older lines into another file.".to_owned(),
        ),
        Unfit::Write(WriteError::Appending(_)) => {
            Refused::NotNow("Another program is writing there. It is tried again.".to_owned())
        }
        Unfit::Write(WriteError::System { source, .. }) => {
            Refused::NotNow(format!("The computer could not write it: {source}."))
        }
        Unfit::Write(_) => Refused::NotNow(
            "The computer could not write it: a file is protected, a link or no file.".to_owned(),
        ),
        Unfit::Full(_) => unusable("This piece has as many photographs as are looked at."),
        Unfit::DayBook { path, why } => {
            Refused::NotNow(format!("{path} cannot be added to, since {why}. See to it at the desk."))
        }
        Unfit::NoName | Unfit::NothingJotted | Unfit::InTheWay { .. } => Refused::NotNow(format!("{unfit}.")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn form(fields: &[(&str, &str)]) -> Form {
        let field = |(name, value): &(&str, &str)| {
            format!("--x\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n")
        };
        let body = format!("{}--x--", fields.iter().map(field).collect::<String>());
        Form::of("multipart/form-data; boundary=x", body.as_bytes()).unwrap()
    }

    #[track_caller]
    fn case(fields: &[(&str, &str)], expected: Result<Option<&str>, &str>) {
        let today = "2026-03-17".parse().unwrap();
        let found = line(&form(fields), today);
        let found = match &found {
            Ok(line) => Ok(line.as_deref()),
            Err(Refused::Unusable(why) | Refused::NotNow(why)) => Err(why.as_str()),
        };
        assert_eq!(found, expected, "{fields:?}");
    }

    #[test]
    fn a_line_has_its_day_and_its_time() {
        case(&[], Ok(None));
        case(&[("did", "  "), ("spent", "0 min")], Ok(None));
        case(&[("did", "waxed it")], Ok(Some("2026-03-17 waxed it")));
        case(&[("did", "waxed\r\nit"), ("spent", "1 h 15")], Ok(Some("2026-03-17 waxed it, 1 h 15 min")));
        case(&[("did", "waxed it."), ("quick", "30 min")], Ok(Some("2026-03-17 waxed it. 30 min")));
        case(
            &[("did", "waxed it"), ("spent", "2 h"), ("quick", "30 min")],
            Ok(Some("2026-03-17 waxed it, 2 h")),
        );
        case(&[("did", "waxed it, 1.5h"), ("spent", "1 h 30")], Ok(Some("2026-03-17 waxed it, 1.5h")));
        case(
            &[("did", "waxed it, 2h"), ("spent", "1 h 30")],
            Err("The line says 2 h and the field 1 h 30 min. Leave one of them out."),
        );
        case(&[("spent", "45 min")], Err("Say what the time was spent on."));
        case(
            &[("did", "waxed it"), ("spent", "90")],
            Err("“90” is not understood as a time. Say it as 45 min or 1 h 15."),
        );
    }

    #[test]
    fn the_day_is_the_phones_where_that_can_be() {
        case(&[("did", "a"), ("day", "2026-03-15")], Ok(Some("2026-03-15 a")));
        for wrong in ["2026-03-18", "2025-03-15", "yesterday", "", "9999-99-99"] {
            case(&[("did", "a"), ("day", wrong)], Ok(Some("2026-03-17 a")));
        }
        case(&[("did", "2026-03-02 seat off"), ("day", "2026-03-15")], Ok(Some("2026-03-02 seat off")));
    }

    #[test]
    fn minutes_read_as_they_are_spoken() {
        for minutes in [1, 15, 59, 60, 75, 120, 255, 1440] {
            let words = format!("waxed it, {}", spoken(minutes));
            assert_eq!(spent(&durations(&tokens(&words))), Some(minutes), "{words}");
        }
    }
}
