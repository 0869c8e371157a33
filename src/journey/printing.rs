//! Papers as PDF through the store: set once, and taken from there as long as nothing about them changes.

use std::sync::Mutex;

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
/// Unless all are wanted, those that the store does not have wait.
///
/// Papers are set by threads of their own and never by the pool that photographs are developed by: layout nests too
/// deeply for its stacks.
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
    // Sheet by sheet as hands become free: the data of hundreds of pieces would be a lot to hold.
    let jobs = pieces.iter().flat_map(|(source, Whereabouts { folder, address })| {
        let papers = buyer_papers(house, source, address.as_deref());
        let all = sheets(house, &papers, source.last_day());
        all.into_iter().map(move |sheet| (*source, folder.as_str(), sheet))
    });
    let (jobs, printed) = (Mutex::new(Some(jobs)), Mutex::new(Vec::new()));
    let jobs = || jobs.lock().expect("no thread panics while it takes a sheet");
    let next = || jobs().as_mut()?.next();
    let work = || -> Result<(), Error> {
        while let Some((source, folder, sheet)) = next() {
            let kept = one(&press, &sheet, source.folder(), album, store, which).inspect_err(|_| {
                // The others need not finish what will not be written.
                *jobs() = None;
            })?;
            let mut printed = printed.lock().expect("no thread panics while it notes a paper");
            printed.push((format!("{folder}/{}", sheet.file), kept));
        }
        Ok(())
    };
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| {
        let hands: Vec<_> = (0..threads).map(|_| scope.spawn(work)).collect();
        let done: Vec<_> =
            hands.into_iter().map(|hand| hand.join().expect("a fault of the press is no panic")).collect();
        done.into_iter().collect::<Result<Vec<()>, Error>>()
    })?;
    let mut printed = printed.into_inner().expect("no thread panics while it notes a paper");
    printed.sort_by(|(one, _), (other, _)| one.cmp(other));
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
