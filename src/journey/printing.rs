//! Papers as PDF through the darkroom: set once, and taken from there as long as nothing about them changes.

use chrono::NaiveDate;

use super::Error;
use super::workroom::Pictures;
use crate::render::Theme;
use crate::render::paper::Press;
use crate::view::{LookOver, WorkshopView};
use crate::words::Words;
use crate::write::{Darkroom, KeptFile, Key};

pub(super) use crate::render::paper::{Sheet, receipts, sheets};

/// Where papers are printed.
pub(super) struct PaperPrinter<'a> {
    press: Press<'a>,
    darkroom: &'a Darkroom,
}

impl<'a> PaperPrinter<'a> {
    /// # Errors
    /// [`Error`] where the system gives no thread to set papers on.
    pub(super) fn of(theme: &'a Theme, darkroom: &'a Darkroom) -> Result<PaperPrinter<'a>, Error> {
        Ok(PaperPrinter { press: Press::of(theme)?, darkroom })
    }

    /// A paper that was set before from the same record.
    pub(super) fn known(&self, sheet: &Sheet, pictures: &Pictures) -> Option<KeptFile> {
        self.darkroom.get::<()>(&self.key(sheet, pictures)).map(|kept| only(kept.files))
    }

    /// A paper, set or taken from the darkroom.
    ///
    /// Papers are set one after the other: of two at a time the first that is done makes the other forget what it
    /// remembers, and so they took a third more of the processors and twice the memory to save a seventh of the time.
    ///
    /// # Errors
    /// [`Error`] where a template is at fault or the paper cannot be kept.
    pub(super) fn print(&self, sheet: &Sheet, pictures: &Pictures) -> Result<KeptFile, Error> {
        let bytes = |address: &str| picture(pictures, address)?.bytes().ok();
        let kept = self.darkroom.obtain(&self.key(sheet, pictures), || {
            let paper = self.press.set(sheet, &bytes)?;
            Ok::<_, Error>(((), vec![(sheet.file.to_owned(), paper)]))
        })?;
        Ok(only(kept.files))
    }

    fn key(&self, sheet: &Sheet, pictures: &Pictures) -> Key {
        let digest = |address: &str| picture(pictures, address).map(|kept| kept.digest.clone());
        Key::of("paper", &[self.press.key(sheet, &digest).as_bytes()])
    }
}

/// The list of what to look for on a piece, as a page to print.
///
/// # Errors
/// [`Error`] where a template is at fault, or the system gives no thread to set it on.
pub(super) fn look_over(
    theme: &Theme,
    (workshop, words): (&WorkshopView, &Words),
    list: &LookOver,
    day: NaiveDate,
) -> Result<Option<Vec<u8>>, Error> {
    let sheet = crate::render::paper::look_over(workshop, words, list, day);
    Ok(Some(Press::of(theme)?.set(&sheet, &|_| None)?))
}

fn picture<'p>(pictures: &'p Pictures, address: &str) -> Option<&'p KeptFile> {
    pictures.get(address.strip_prefix("pictures/")?)
}

fn only(files: Vec<KeptFile>) -> KeptFile {
    files.into_iter().next().expect("a paper is one file")
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicUsize, Ordering};

    use chrono::NaiveDate;

    use crate::journey::{Printing, Quiet, Wanted, Written, writeup};
    use crate::source::Tree;
    use crate::write::{Secret, Stage};

    const RECORD: &str = "title = \"Stool\"\nnumber = \"ST-1\"\nkind = \"seating/stool\"\n";

    #[test]
    fn papers_wait_as_soon_as_something_else_is_to_be_done_and_are_printed_the_next_time() {
        let home = tempfile::tempdir().unwrap();
        std::fs::create_dir_all(home.path().join("pieces/stool")).unwrap();
        std::fs::write(home.path().join("workshop.toml"), "name = \"Bench\"\ncurrency = \"GBP\"\n").unwrap();
        std::fs::write(home.path().join("pieces/stool/record.toml"), RECORD).unwrap();
        let print = |printing: Printing<'_>| -> Written {
            let tree = Tree::open(home.path()).unwrap();
            let stage = Stage::open(&home.path().join("written")).unwrap();
            let secret = Secret::of(home.path()).unwrap();
            let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
            let wanted = Wanted { printing, ..Wanted::everything(today, &secret) };
            writeup(&tree, stage, wanted, &Quiet).unwrap().1.unwrap()
        };
        let all = print(Printing::LATER).waiting;
        assert!(all > 2, "{all}");
        let asked = AtomicUsize::new(0);
        let a_while = || asked.fetch_add(1, Ordering::Relaxed) < 4;
        let some = print(Printing::While(&a_while)).waiting;
        assert!((1..all).contains(&some), "{some} of {all}");
        assert_eq!(print(Printing::LATER).waiting, some);
        assert_eq!(print(Printing::All).waiting, 0);
        assert_eq!(print(Printing::LATER).waiting, 0);
    }
}
