//! Noticing that files of the workshop change.

use std::collections::{BTreeMap, BTreeSet};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError, Sender};
use std::thread;
use std::time::{Duration, Instant};

use notify::event::{AccessKind, AccessMode, EventKind, MetadataKind, ModifyKind};
use notify::{Config, Event, RecommendedWatcher, RecursiveMode, Watcher};

use super::{Identity, LOOKED_AT};

/// How long nothing more must change before the workshop is read: editors save in several steps.
const QUIET: Duration = Duration::from_millis(60);

/// The longest that is waited for quiet, as when many photographs are being copied in.
const PATIENCE: Duration = Duration::from_millis(600);

/// How often dates are compared where the system tells of no changes.
const POLL: Duration = Duration::from_millis(500);

/// An eye on a workshop's folder.
pub struct Watch {
    root: PathBuf,
    eye: Eye,
    changes: Receiver<Vec<String>>,
    stirred: Arc<AtomicBool>,
}

/// Tells a watch of what changed.
struct Teller {
    root: PathBuf,
    changes: Sender<Vec<String>>,
    stirred: Arc<AtomicBool>,
}

enum Eye {
    /// The system tells of changes.
    System {
        watcher: RecommendedWatcher,
        /// The folders that are watched with all below them.
        watched: BTreeSet<&'static str>,
    },
    /// Dates are compared, for this reason.
    Dates(String),
}

impl Watch {
    /// Watches what of a workshop's folder is looked at.
    ///
    /// Where the system does not tell of changes, dates and lengths are compared twice a second. A system allows only
    /// so many watched folders, and some network drives tell of nothing.
    ///
    /// # Errors
    /// The system's, where the folder is not there.
    pub fn on(root: &Path) -> io::Result<Watch> {
        let root = root.canonicalize()?;
        Ok(Watch::by_system(&root).unwrap_or_else(|error| Watch::by_dates(&root, error.to_string())))
    }

    fn by_system(root: &Path) -> notify::Result<Watch> {
        let (teller, changes) = Teller::of(root);
        let stirred = Arc::clone(&teller.stirred);
        let hear = move |event| {
            // Nobody listens any more once the watch is gone.
            let _ = teller.tell(event);
        };
        let mut watcher = RecommendedWatcher::new(hear, Config::default())?;
        // Only the folder itself: what is written into it must not be heard of.
        watcher.watch(root, RecursiveMode::NonRecursive)?;
        let eye = Eye::System { watcher, watched: BTreeSet::new() };
        let mut watch = Watch { root: root.to_owned(), eye, changes, stirred };
        watch.look_for_folders()?;
        Ok(watch)
    }

    fn by_dates(root: &Path, why: String) -> Watch {
        let (teller, changes) = Teller::of(root);
        let stirred = Arc::clone(&teller.stirred);
        let mut before = dates(root);
        thread::spawn(move || {
            loop {
                thread::sleep(POLL);
                let now = dates(&teller.root);
                let mut event = Event::new(EventKind::Any);
                let unlike = |one: &Dates, other: &Dates| -> Vec<PathBuf> {
                    one.iter()
                        .filter(|(path, date)| other.get(*path) != Some(*date))
                        .map(|(path, _)| path.clone())
                        .collect()
                };
                event.paths = unlike(&now, &before);
                event.paths.extend(unlike(&before, &now));
                before = now;
                // Nobody listens any more once the watch is gone.
                if teller.tell(Ok(event)).is_err() {
                    return;
                }
            }
        });
        Watch { root: root.to_owned(), eye: Eye::Dates(why), changes, stirred }
    }

    /// Why changes are found by comparing dates twice a second; `None` where the system tells of them.
    pub fn polling(&self) -> Option<&str> {
        match &self.eye {
            Eye::System { .. } => None,
            Eye::Dates(why) => Some(why),
        }
    }

    /// Waits until something changed and has been quiet for a moment; says what, as paths from the root.
    ///
    /// Nothing, where nothing changed for as long as `most`; without it, it waits for ever. `None` where there is
    /// nothing to wait for any more.
    pub fn wait(&mut self, most: Option<Duration>) -> Option<BTreeSet<String>> {
        let mut changed = BTreeSet::new();
        let mut since = None;
        self.stirred.store(false, Ordering::Relaxed);
        loop {
            let more = match since {
                None => match most {
                    Some(most) => self.changes.recv_timeout(most),
                    None => self.changes.recv().map_err(|_| RecvTimeoutError::Disconnected),
                },
                Some(since) => {
                    let left = PATIENCE.saturating_sub(Instant::elapsed(&since)).min(QUIET);
                    self.changes.recv_timeout(left)
                }
            };
            match more {
                Ok(more) => {
                    changed.extend(more);
                    // What is in a new folder is heard of from now on; that it came is heard of already.
                    let _ = self.look_for_folders();
                    if since.get_or_insert_with(Instant::now).elapsed() >= PATIENCE {
                        return Some(changed);
                    }
                }
                Err(RecvTimeoutError::Timeout) => return Some(changed),
                Err(RecvTimeoutError::Disconnected) => return None,
            }
        }
    }

    /// Watches the folders that are there now and were not before.
    fn look_for_folders(&mut self) -> notify::Result<()> {
        let Eye::System { watcher, watched } = &mut self.eye else { return Ok(()) };
        for name in LOOKED_AT {
            let path = self.root.join(name);
            match (path.is_dir(), watched.contains(name)) {
                (true, false) => {
                    watcher.watch(&path, RecursiveMode::Recursive)?;
                    watched.insert(name);
                }
                (false, true) => {
                    // It is gone, and may come again as another folder of that name.
                    let _ = watcher.unwatch(&path);
                    watched.remove(name);
                }
                _ => {}
            }
        }
        Ok(())
    }

    /// Says at any time whether nothing changed since the last waiting.
    pub fn calm(&self) -> impl Fn() -> bool + Send + Sync + use<> {
        let stirred = Arc::clone(&self.stirred);
        move || !stirred.load(Ordering::Relaxed)
    }
}

impl Teller {
    fn of(root: &Path) -> (Teller, Receiver<Vec<String>>) {
        let (changes, heard) = mpsc::channel();
        (Teller { root: root.to_owned(), changes, stirred: Arc::default() }, heard)
    }

    /// Passes an event on, if it may change what is written.
    ///
    /// # Errors
    /// Where the watch is gone.
    fn tell(&self, event: notify::Result<Event>) -> Result<(), mpsc::SendError<Vec<String>>> {
        let paths = self.concerned(event);
        if paths.is_empty() {
            return Ok(());
        }
        self.stirred.store(true, Ordering::Relaxed);
        self.changes.send(paths)
    }

    /// The paths of an event that may change what is written, from the root.
    fn concerned(&self, event: notify::Result<Event>) -> Vec<String> {
        let event = match event {
            Ok(event) if event.need_rescan() => return vec![String::new()],
            Ok(event) if is_change(event.kind) => event,
            Ok(_) => return Vec::new(),
            // Something was missed, so everything may have changed.
            Err(_) => return vec![String::new()],
        };
        event.paths.iter().filter_map(|path| concerned(path.strip_prefix(&self.root).ok()?)).collect()
    }
}

/// What the system says of every file that is looked at.
type Dates = BTreeMap<PathBuf, Identity>;

fn dates(root: &Path) -> Dates {
    let files =
        LOOKED_AT.iter().flat_map(|name| walkdir::WalkDir::new(root.join(name)).into_iter().flatten());
    let date = |entry: walkdir::DirEntry| {
        let data = entry.metadata().ok().filter(|data| data.is_file())?;
        Some((entry.into_path(), Identity::of(&data)))
    };
    files.filter_map(date).collect()
}

/// Whether a file is another one afterwards: reading it is an event too.
fn is_change(kind: EventKind) -> bool {
    !matches!(
        kind,
        EventKind::Access(
            AccessKind::Any
                | AccessKind::Read
                | AccessKind::Other
                | AccessKind::Open(_)
                | AccessKind::Close(
                    AccessMode::Read | AccessMode::Any | AccessMode::Execute | AccessMode::Other
                )
        ) | EventKind::Modify(ModifyKind::Metadata(MetadataKind::AccessTime))
    )
}

/// The path with forward slashes, if it is of anything that is looked at; hidden files and editors' copies are not.
fn concerned(path: &Path) -> Option<String> {
    let parts: Vec<_> = path.components().map(|part| part.as_os_str().to_string_lossy()).collect();
    let passing = |part: &str| part.starts_with('.') || part.ends_with('~') || part.starts_with('#');
    let looked_at = parts.first().is_some_and(|first| LOOKED_AT.contains(&first.as_ref()));
    (looked_at && !parts.iter().any(|part| passing(part))).then(|| parts.join("/"))
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;

    /// What is heard of within a generous time, as paths.
    #[track_caller]
    fn heard(watch: Watch) -> (Watch, BTreeSet<String>) {
        let (send, receive) = mpsc::channel();
        std::thread::spawn(move || {
            let mut watch = watch;
            let changed = watch.wait(None);
            let _ = send.send((watch, changed));
        });
        let (watch, changed) = receive.recv_timeout(Duration::from_secs(20)).expect("a change is heard of");
        (watch, changed.expect("it goes on watching"))
    }

    fn workshop() -> tempfile::TempDir {
        let home = tempfile::tempdir().unwrap();
        fs::create_dir_all(home.path().join("pieces/chair")).unwrap();
        fs::create_dir_all(home.path().join("written/archive")).unwrap();
        fs::write(home.path().join("workshop.toml"), "").unwrap();
        fs::write(home.path().join("pieces/chair/record.toml"), "").unwrap();
        home
    }

    #[test]
    fn what_is_looked_at_is_heard_of_and_what_is_written_is_not() {
        let by_dates = |root: &Path| Watch::by_dates(root, String::new());
        for watch in [|root: &Path| Watch::by_system(root).unwrap(), by_dates] {
            let home = workshop();
            let watch = watch(&home.path().canonicalize().unwrap());
            fs::write(home.path().join("written/archive/index.html"), "x").unwrap();
            fs::write(home.path().join("buyers-secret.txt"), "x").unwrap();
            fs::write(home.path().join("pieces/chair/.record.toml.swp"), "x").unwrap();
            fs::read(home.path().join("pieces/chair/record.toml")).unwrap();
            let calm = watch.calm();
            assert!(calm());
            // Saving by rename, as many editors do.
            fs::write(home.path().join("pieces/chair/new~"), "title = 1").unwrap();
            fs::rename(home.path().join("pieces/chair/new~"), home.path().join("pieces/chair/record.toml"))
                .unwrap();
            let started = Instant::now();
            while calm() {
                assert!(
                    started.elapsed() < Duration::from_secs(20),
                    "a change is heard of before it is waited for"
                );
                thread::yield_now();
            }
            let (_, changed) = heard(watch);
            assert!(changed.contains("pieces/chair/record.toml"), "{changed:?}");
            assert!(changed.iter().all(|path| path.starts_with("pieces")), "{changed:?}");
        }
    }

    #[test]
    fn a_folder_that_comes_later_is_watched_too() {
        let home = workshop();
        let watch = Watch::on(home.path()).unwrap();
        fs::create_dir_all(home.path().join("theme/assets")).unwrap();
        let (watch, changed) = heard(watch);
        assert!(changed.iter().any(|path| path.starts_with("theme")), "{changed:?}");
        fs::write(home.path().join("theme/assets/style.css"), "x").unwrap();
        let (_, changed) = heard(watch);
        assert!(changed.contains("theme/assets/style.css"), "{changed:?}");
    }
}
