//! Papers as PDF through the store: set once, and taken from there as long as nothing about them changes.

use super::darkroom::Album;
use super::{Error, Printing};
use crate::render::paper::{Press, Sheet, sheets};
use crate::render::{Theme, Whereabouts, buyer_papers};
use crate::view::{Household, Source};
use crate::write::{KeptFile, Key, Store};

/// A printed paper, and the path where it belongs; no paper where it waits to be set.
pub(super) type Printed = (String, Option<KeptFile>);

/// Prints the papers of pieces, each into its own folder; in the order of the pieces.
///
/// Those that the store does not have are set as far as `which` says; the others wait. They are set one after the
/// other: of two at a time the first that is done makes the other forget what it remembers, and so they took a third
/// more of the processors and twice the memory to save a seventh of the time.
///
/// # Errors
/// [`Error`] where a template is at fault or a paper cannot be kept.
pub(super) fn print(
    theme: &Theme,
    house: &Household,
    pieces: &[(&Source<'_>, &Whereabouts)],
    album: &Album,
    store: &Store,
    which: Printing<'_>,
) -> Result<Vec<Printed>, Error> {
    let press = Press::of(theme)?;
    let mut printed = Vec::new();
    for (source, Whereabouts { folder, address }) in pieces {
        let papers = buyer_papers(house, source, address.as_deref());
        for sheet in sheets(house, &papers, source.last_day()) {
            let paper = one(&press, &sheet, source.folder(), album, store, which)?;
            printed.push((format!("{folder}/{}", sheet.file), paper));
        }
    }
    Ok(printed)
}

/// One paper, set or taken from the store; none where it waits.
fn one(
    press: &Press,
    sheet: &Sheet,
    piece: &str,
    album: &Album,
    store: &Store,
    which: Printing<'_>,
) -> Result<Option<KeptFile>, Error> {
    let picture = |address: &str| album.get(piece, address.strip_prefix("pictures/")?);
    let fingerprint = |address: &str| picture(address).map(|kept| kept.print.clone());
    let key = Key::of("paper", &[press.key(sheet, &fingerprint).as_bytes()]);
    let kept = match which {
        Printing::While(goes_on) if !goes_on() => store.get::<()>(&key),
        _ => Some(store.obtain(&key, || {
            let bytes = press.set(sheet, &|address| picture(address)?.bytes().ok())?;
            Ok::<_, Error>(((), vec![(sheet.file.to_owned(), bytes)]))
        })?),
    };
    Ok(kept.map(|kept| kept.files.into_iter().next().expect("a paper is one file")))
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicUsize, Ordering};

    use chrono::NaiveDate;

    use crate::journey::{Printing, Quiet, Written, writeup};
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
            writeup(&tree, today, stage, &secret, None, printing, &Quiet).unwrap().1.unwrap()
        };
        let all = print(Printing::KNOWN).waiting;
        assert!(all > 2, "{all}");
        let asked = AtomicUsize::new(0);
        let two = || asked.fetch_add(1, Ordering::Relaxed) < 2;
        assert_eq!(print(Printing::While(&two)).waiting, all - 2);
        assert_eq!(print(Printing::KNOWN).waiting, all - 2);
        assert_eq!(print(Printing::All).waiting, 0);
        assert_eq!(print(Printing::KNOWN).waiting, 0);
    }
}
