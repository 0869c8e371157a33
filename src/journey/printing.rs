//! Papers as PDF through the store: set once, and taken from there as long as nothing about them changes.

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use super::darkroom::Album;
use super::{Error, Printing};
use crate::render::paper::{Press, Sheet, sheets};
use crate::render::{Theme, buyer_papers};
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
    pieces: &[(&Source<'_>, String)],
    album: &Album,
    store: &Store,
    which: Printing,
) -> Result<Vec<Printed>, Error> {
    let press = Press::of(theme)?;
    let jobs: Vec<(&Source<'_>, &str, Sheet)> = pieces
        .iter()
        .flat_map(|(source, folder)| {
            let papers = buyer_papers(house, source, folder);
            let all = sheets(house, &papers, source.last_day());
            all.into_iter().map(|sheet| (*source, folder.as_str(), sheet)).collect::<Vec<_>>()
        })
        .collect();
    let (next, printed) = (AtomicUsize::new(0), Mutex::new(Vec::new()));
    let work = || -> Result<(), Error> {
        while let Some((source, folder, sheet)) = jobs.get(next.fetch_add(1, Ordering::Relaxed)) {
            let kept = one(&press, sheet, source.folder(), album, store, which).inspect_err(|_| {
                // The others need not finish what will not be written.
                next.store(jobs.len(), Ordering::Relaxed);
            })?;
            let mut printed = printed.lock().expect("no thread panics while it notes a paper");
            printed.push((format!("{folder}/{}", sheet.file), kept));
        }
        Ok(())
    };
    let threads = std::thread::available_parallelism().map_or(1, usize::from).min(jobs.len().max(1));
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
    which: Printing,
) -> Result<Option<KeptFile>, Error> {
    let picture = |address: &str| album.get(piece, address.strip_prefix("pictures/")?);
    let fingerprint = |address: &str| picture(address).map(|kept| kept.print.clone());
    let key = Key::of("paper", &[press.key(sheet, &fingerprint).as_bytes()]);
    let kept = match which {
        Printing::Known => store.get::<()>(&key),
        Printing::All => Some(store.obtain(&key, || {
            let bytes = press.set(sheet, &|address| picture(address)?.bytes().ok())?;
            Ok::<_, Error>(((), vec![(sheet.file.to_owned(), bytes)]))
        })?),
    };
    Ok(kept.map(|kept| kept.files.into_iter().next().expect("a paper is one file")))
}
