//! The one door through which files are read: plain ones alone, and none longer than its kind may be.

use std::fs::{File, Metadata};
use std::io::{self, Read};
use std::path::Path;

use super::Identity;

/// A plain file that was opened.
///
/// It is the opened file that is asked what it is, so that nothing can take its place in between. A pipe or a device is
/// never waited for.
#[derive(Debug)]
pub struct PlainFile {
    file: File,
    found: Metadata,
}

/// Why a file was not read. Its words go on after the file's name, as in "this file is a pipe".
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum FileFault {
    /// There is none.
    #[error("is not there")]
    Missing,
    /// It is a link, and not of those that a person named.
    #[error("is a link, and links are not followed")]
    Link,
    /// It is a pipe, a device or the like, as the word says.
    #[error("is a {0}, and only plain files are read")]
    NotPlain(&'static str),
    /// It has more bytes than are read of its kind.
    #[error("is {} long, and at most {} are read", size(*.length), size(*.limit))]
    TooLong {
        /// Its bytes, as far as they are known.
        length: u64,
        /// The most bytes that are read.
        limit: u64,
    },
    /// Somebody wrote to it while it was read.
    #[error("was changed while it was read")]
    Meanwhile,
    /// The system keeps it from this user.
    #[error("may not be read by you")]
    Forbidden,
    /// The system's other reasons.
    #[error("cannot be read: {0}")]
    System(String),
}

impl FileFault {
    /// What to do about it.
    pub fn remedy(&self) -> &'static str {
        match self {
            FileFault::Missing => "see whether it was moved or renamed",
            FileFault::Link => "put the file itself there, and not a link to it",
            FileFault::NotPlain(_) => "move it away, and put a plain file in its place",
            FileFault::TooLong { .. } => "make it smaller, or move it out of the workshop",
            FileFault::Meanwhile => "try again when nothing writes to it any more",
            FileFault::Forbidden => "give yourself the right to read it and the folders that it is in",
            FileFault::System(_) => "see whether its disk is sound and connected",
        }
    }
}

impl From<io::Error> for FileFault {
    fn from(error: io::Error) -> FileFault {
        match error.kind() {
            io::ErrorKind::NotFound | io::ErrorKind::NotADirectory => FileFault::Missing,
            io::ErrorKind::PermissionDenied => FileFault::Forbidden,
            _ => FileFault::System(error.to_string()),
        }
    }
}

impl From<FileFault> for io::Error {
    fn from(fault: FileFault) -> io::Error {
        let kind = match fault {
            FileFault::Missing => io::ErrorKind::NotFound,
            FileFault::Forbidden => io::ErrorKind::PermissionDenied,
            FileFault::TooLong { .. } => io::ErrorKind::FileTooLarge,
            FileFault::Link | FileFault::NotPlain(_) => io::ErrorKind::InvalidInput,
            FileFault::Meanwhile | FileFault::System(_) => io::ErrorKind::Other,
        };
        io::Error::new(kind, format!("it {fault}; {}", fault.remedy()))
    }
}

impl PlainFile {
    /// Opens a file that was found in a folder; a link is refused.
    ///
    /// # Errors
    /// [`FileFault`] of everything but its length.
    pub fn open(path: &Path) -> Result<PlainFile, FileFault> {
        PlainFile::checked(system::open(path, Links::Refused, Mode::Read))
    }

    /// Opens a file that a person named, who may have named a link.
    ///
    /// # Errors
    /// As [`PlainFile::open`].
    pub fn named(path: &Path) -> Result<PlainFile, FileFault> {
        PlainFile::checked(system::open(path, Links::Followed, Mode::Read))
    }

    /// Opens a file that was found in a folder, to read it and to write at its end; a link is refused.
    ///
    /// # Errors
    /// As [`PlainFile::open`].
    pub fn to_append(path: &Path) -> Result<PlainFile, FileFault> {
        PlainFile::checked(system::open(path, Links::Refused, Mode::Append))
    }

    /// Opens a file below a folder; a link on the way from there is refused too, where the system can tell.
    ///
    /// # Errors
    /// As [`PlainFile::open`].
    pub fn below(folder: &Path, path: &Path) -> Result<PlainFile, FileFault> {
        PlainFile::checked(system::below(folder, path))
    }

    fn checked(opened: Result<File, FileFault>) -> Result<PlainFile, FileFault> {
        let file = opened?;
        let found = file.metadata()?;
        if found.is_file() { Ok(PlainFile { file, found }) } else { Err(FileFault::NotPlain(kind(&found))) }
    }

    /// Its bytes, as the system counted them when it was opened.
    pub fn length(&self) -> u64 {
        self.found.len()
    }

    /// What the system said of it when it was opened.
    pub fn identity(&self) -> Identity {
        Identity::of(&self.found)
    }

    /// Reads its first bytes, at most so many; what is read next begins after them.
    ///
    /// # Errors
    /// [`FileFault`] where the system refuses.
    pub fn first(&mut self, most: u64) -> Result<Vec<u8>, FileFault> {
        let mut bytes = Vec::new();
        (&mut self.file).take(most).read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    /// Reads all of it; one that grows beyond the limit while it is read is too long as well.
    ///
    /// # Errors
    /// [`FileFault::TooLong`] above `limit`, before anything is read; [`FileFault::Meanwhile`] where it was written to.
    pub fn all(self, limit: u64) -> Result<Vec<u8>, FileFault> {
        self.rest(Vec::new(), limit)
    }

    /// Reads what comes after its first bytes, and gives all of it.
    ///
    /// # Errors
    /// As [`PlainFile::all`].
    pub fn rest(mut self, first: Vec<u8>, limit: u64) -> Result<Vec<u8>, FileFault> {
        let length = self.length();
        if length > limit {
            return Err(FileFault::TooLong { length, limit });
        }
        let mut bytes = first;
        let left = |had: usize| (limit + 1).saturating_sub(had as u64);
        bytes.reserve_exact(usize::try_from(length).unwrap_or_default().saturating_sub(bytes.len()));
        (&mut self.file).take(left(bytes.len())).read_to_end(&mut bytes)?;
        if bytes.len() as u64 > limit {
            return Err(FileFault::TooLong { length: bytes.len() as u64, limit });
        }
        let now = Identity::of(&self.file.metadata()?);
        let was = self.identity();
        // A second name, or one taken away, changes the file's date of change and nothing that was read.
        let same = now.length == was.length && now.modified == was.modified;
        if same { Ok(bytes) } else { Err(FileFault::Meanwhile) }
    }

    /// Hands the opened file on, to be read a piece at a time.
    pub fn into_file(self) -> File {
        self.file
    }
}

/// Opens a plain file to hold it for its lock or until it is on the disk, not to read or write it.
///
/// # Errors
/// The system's; also where it is no plain file.
pub fn hold(path: &Path) -> io::Result<File> {
    PlainFile::checked(system::open(path, Links::Refused, Mode::Hold))
        .map(PlainFile::into_file)
        .map_err(io::Error::from)
}

/// Opens a folder to hold it for its lock or until it is on the disk.
///
/// # Errors
/// The system's; also where it is no folder.
pub fn hold_folder(path: &Path) -> io::Result<File> {
    let folder = system::open(path, Links::Followed, Mode::Read)?;
    if folder.metadata()?.is_dir() { Ok(folder) } else { Err(io::ErrorKind::NotADirectory.into()) }
}

/// What is done with a link.
#[derive(Clone, Copy, PartialEq)]
enum Links {
    Refused,
    Followed,
}

/// What a file is opened for. Some systems lock and settle only what could be written.
#[derive(Clone, Copy, PartialEq)]
enum Mode {
    Read,
    Hold,
    Append,
}

/// The word for what is no plain file.
fn kind(found: &Metadata) -> &'static str {
    #[cfg(unix)]
    {
        use std::os::unix::fs::FileTypeExt;
        let kind = found.file_type();
        if kind.is_fifo() {
            return "pipe";
        } else if kind.is_socket() {
            return "socket";
        } else if kind.is_block_device() || kind.is_char_device() {
            return "device";
        }
    }
    if found.is_dir() { "folder" } else { "special file" }
}

/// A length in words, in the units that people read; rounded up, so that what is above a limit reads so.
fn size(bytes: u64) -> String {
    let tenths = |unit: u64| match bytes.div_ceil(unit / 10) {
        tenths if tenths.is_multiple_of(10) => (tenths / 10).to_string(),
        tenths => format!("{}.{}", tenths / 10, tenths % 10),
    };
    match bytes {
        1_000_000_000.. => format!("{} GB", tenths(1_000_000_000)),
        1_000_000.. => format!("{} MB", tenths(1_000_000)),
        1_000.. => format!("{} kB", tenths(1_000)),
        _ => format!("{bytes} bytes"),
    }
}

#[cfg(unix)]
mod system {
    use std::fs::File;
    use std::path::Path;

    use rustix::fs::{Mode as Rights, OFlags};
    use rustix::io::Errno;

    use super::{FileFault, Links, Mode};

    /// `NONBLOCK` keeps the opening of a pipe from waiting for its other end.
    const FLAGS: OFlags = OFlags::CLOEXEC.union(OFlags::NONBLOCK).union(OFlags::NOCTTY);

    pub(super) fn open(path: &Path, links: Links, mode: Mode) -> Result<File, FileFault> {
        let flags = flags(mode) | if links == Links::Refused { OFlags::NOFOLLOW } else { OFlags::empty() };
        rustix::fs::open(path, flags, Rights::empty()).map(File::from).map_err(fault)
    }

    #[cfg(target_os = "linux")]
    pub(super) fn below(folder: &Path, path: &Path) -> Result<File, FileFault> {
        use rustix::fs::ResolveFlags;
        let whole = folder.join(path);
        let root =
            rustix::fs::open(folder, OFlags::PATH | OFlags::CLOEXEC, Rights::empty()).map_err(fault)?;
        let way = ResolveFlags::NO_SYMLINKS | ResolveFlags::BENEATH;
        match rustix::fs::openat2(&root, path, flags(Mode::Read), Rights::empty(), way) {
            // An old kernel does not know the call, and some cages forbid it.
            Err(Errno::NOSYS | Errno::PERM) => open(&whole, Links::Refused, Mode::Read),
            Err(Errno::XDEV) => Err(FileFault::Link),
            opened => opened.map(File::from).map_err(fault),
        }
    }

    #[cfg(not(target_os = "linux"))]
    pub(super) fn below(folder: &Path, path: &Path) -> Result<File, FileFault> {
        open(&folder.join(path), Links::Refused, Mode::Read)
    }

    fn flags(mode: Mode) -> OFlags {
        FLAGS
            | match mode {
                Mode::Read => OFlags::RDONLY,
                Mode::Hold => OFlags::RDWR,
                Mode::Append => OFlags::RDWR | OFlags::APPEND,
            }
    }

    fn fault(error: Errno) -> FileFault {
        match error {
            Errno::LOOP | Errno::MLINK => FileFault::Link,
            // What opening a socket, or a device that nothing drives, is answered with.
            Errno::NXIO | Errno::NODEV => FileFault::NotPlain("socket or device"),
            Errno::ISDIR => FileFault::NotPlain("folder"),
            error => FileFault::from(std::io::Error::from(error)),
        }
    }
}

#[cfg(not(unix))]
mod system {
    use std::fs::{self, File, OpenOptions};
    use std::path::Path;

    use super::{FileFault, Links, Mode};

    pub(super) fn open(path: &Path, links: Links, mode: Mode) -> Result<File, FileFault> {
        let found = fs::symlink_metadata(path)?;
        if links == Links::Refused && found.is_symlink() {
            return Err(FileFault::Link);
        }
        Ok(OpenOptions::new().read(true).write(mode == Mode::Hold).append(mode == Mode::Append).open(path)?)
    }

    pub(super) fn below(folder: &Path, path: &Path) -> Result<File, FileFault> {
        open(&folder.join(path), Links::Refused, Mode::Read)
    }
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;

    #[test]
    fn a_file_as_long_as_the_limit_is_read_and_a_longer_one_is_not() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("a");
        fs::write(&path, "12345").unwrap();
        let read = |limit| PlainFile::open(&path).unwrap().all(limit);
        assert_eq!(read(5).as_deref(), Ok(b"12345".as_slice()));
        assert_eq!(read(4), Err(FileFault::TooLong { length: 5, limit: 4 }));
        let mut file = PlainFile::open(&path).unwrap();
        let first = file.first(2).unwrap();
        assert_eq!(first, b"12");
        assert_eq!(file.rest(first, 5).as_deref(), Ok(b"12345".as_slice()));
    }

    #[test]
    fn a_file_that_is_written_to_while_it_is_read_says_so() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("a");
        fs::write(&path, "12345").unwrap();
        let opened = PlainFile::open(&path).unwrap();
        fs::write(&path, "123456789").unwrap();
        assert_eq!(
            opened.all(6),
            Err(FileFault::TooLong { length: 7, limit: 6 }),
            "it is not read to its end"
        );
        let opened = PlainFile::open(&path).unwrap();
        fs::write(&path, "12").unwrap();
        assert_eq!(opened.all(20), Err(FileFault::Meanwhile));
    }

    #[cfg(unix)]
    #[test]
    fn pipes_devices_sockets_folders_and_links_are_refused_at_once() {
        let home = tempfile::tempdir().unwrap();
        let at = |name: &str| home.path().join(name);
        rustix::fs::mkfifoat(rustix::fs::CWD, at("pipe"), 0o600.into()).unwrap();
        let _socket = std::os::unix::net::UnixListener::bind(at("socket")).unwrap();
        fs::create_dir(at("folder")).unwrap();
        fs::write(at("file"), "x").unwrap();
        for (link, to) in [("link", "file"), ("zero", "/dev/zero"), ("to-pipe", "pipe"), ("nowhere", "gone")]
        {
            std::os::unix::fs::symlink(to, at(link)).unwrap();
        }
        let refused = |name: &str| PlainFile::open(&at(name)).map(|_| ()).unwrap_err();
        assert_eq!(refused("pipe"), FileFault::NotPlain("pipe"));
        assert_eq!(refused("socket"), FileFault::NotPlain("socket or device"));
        assert_eq!(refused("folder"), FileFault::NotPlain("folder"));
        assert_eq!(refused("gone"), FileFault::Missing);
        assert_eq!(refused("file/x"), FileFault::Missing);
        for link in ["link", "zero", "to-pipe", "nowhere"] {
            assert_eq!(refused(link), FileFault::Link, "{link}");
        }
        let named = |name: &str| PlainFile::named(&at(name)).and_then(|file| file.all(9));
        assert_eq!(named("link").as_deref(), Ok(b"x".as_slice()));
        assert_eq!(named("zero"), Err(FileFault::NotPlain("device")));
        assert_eq!(named("to-pipe"), Err(FileFault::NotPlain("pipe")));
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn no_link_on_the_way_is_followed() {
        let home = tempfile::tempdir().unwrap();
        fs::create_dir_all(home.path().join("in/photos")).unwrap();
        fs::create_dir(home.path().join("out")).unwrap();
        fs::write(home.path().join("in/photos/a"), "mine").unwrap();
        fs::write(home.path().join("out/a"), "another's").unwrap();
        std::os::unix::fs::symlink("../out", home.path().join("in/way")).unwrap();
        let read = |path: &str| {
            PlainFile::below(&home.path().join("in"), Path::new(path)).and_then(|file| file.all(20))
        };
        assert_eq!(read("photos/a").as_deref(), Ok(b"mine".as_slice()));
        assert_eq!(read("way/a"), Err(FileFault::Link));
        assert_eq!(read("../out/a"), Err(FileFault::Link));
    }

    #[test]
    fn what_the_system_refuses_says_what_it_needs() {
        let told = |kind: io::ErrorKind| io::Error::from(FileFault::from(io::Error::from(kind))).to_string();
        let needs =
            "it may not be read by you; give yourself the right to read it and the folders that it is in";
        assert_eq!(told(io::ErrorKind::PermissionDenied), needs);
        assert_eq!(told(io::ErrorKind::NotFound), "it is not there; see whether it was moved or renamed");
        let long = FileFault::TooLong { length: 5_368_709_120, limit: 200_000_000 };
        assert_eq!(long.to_string(), "is 5.4 GB long, and at most 200 MB are read");
    }

    #[test]
    fn sizes_are_told_in_units_that_fit() {
        for (bytes, words) in [
            (999, "999 bytes"),
            (1_500, "1.5 kB"),
            (200_000_000, "200 MB"),
            (200_000_001, "200.1 MB"),
            (5_368_709_120, "5.4 GB"),
        ] {
            assert_eq!(size(bytes), words);
        }
    }
}
