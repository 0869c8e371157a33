//! Why a command could not run.

use std::io;
use std::net::Ipv4Addr;
use std::path::{Path, PathBuf};

use super::intake::photographs::MOST_SHOTS;
use crate::intake::Unfit;
use crate::journey;
use crate::pack::KeyFault;
use crate::source::{FileFault, TreeError};
use crate::write::WriteError;

/// Why a command could not run.
#[derive(Debug, thiserror::Error)]
pub enum Trouble {
    /// There is no workshop to read.
    #[error(transparent)]
    Tree(#[from] TreeError),
    /// The journey from records to papers ended early.
    #[error(transparent)]
    Journey(#[from] journey::Error),
    /// There is no archive to ask.
    #[error(transparent)]
    Archive(#[from] journey::OpenError),
    /// A colour cannot be read off a photograph.
    #[error("no colour was read")]
    Colour(#[from] journey::NoColour),
    /// A question to the archive is not put so that it can be answered.
    #[error("{0}")]
    Question(String),
    /// `workshop.toml` could not be read, and was complained about.
    #[error("nothing was written: workshop.toml has to be mended first")]
    UnreadWorkshop,
    /// The record of the piece that was asked about cannot be read, or `workshop.toml` cannot.
    #[error(
        "nothing can be told: the piece's record and workshop.toml have to be read first; `witnessmark inspect` says what is wrong in them"
    )]
    UnreadRecord,
    /// A buyer cannot be forgotten.
    #[error("nothing was changed")]
    Forgetting(#[from] journey::NotForgotten),
    /// Something does not come into the workshop.
    #[error(transparent)]
    Intake(#[from] Unfit),
    /// A file was not written.
    #[error(transparent)]
    Write(#[from] WriteError),
    /// What was asked for could not be printed.
    #[error("the output cannot be written")]
    Output(#[source] io::Error),
    /// A file or folder could not be read.
    #[error("`{}` cannot be read", path.display())]
    Read {
        /// The file or folder.
        path: PathBuf,
        /// The system's answer.
        source: io::Error,
    },
    /// A folder holds more files than are looked at.
    #[error("`{}` holds more than {MOST_SHOTS} files; name a folder that holds only what is to be brought in", .0.display())]
    TooMany(PathBuf),
    /// `viewing` cannot serve at the port.
    #[error(
        "port {port} of this computer cannot be used; name another with --port, or 0 for any that is free"
    )]
    Port {
        /// The port.
        port: u16,
        /// The system's answer.
        source: io::Error,
    },
    /// `viewing --home` finds no home network.
    #[error(
        "this computer has no address in a home network; name one with --home=ADDRESS, such as --home=192.168.1.20"
    )]
    NoNetwork,
    /// `viewing --home` was to hear where the internet may reach it.
    #[error(
        "{0} is no address of a home network, which begin with 10, 172.16 to 172.31, 192.168, 169.254 or 100.64 to \
         100.127; on another one the bench page could be reached from the internet"
    )]
    NotAtHome(Ipv4Addr),
    /// `viewing --home` cannot hear at an address.
    #[error(
        "the bench page cannot be served at {address}; name an address of this computer with --home=ADDRESS"
    )]
    Home {
        /// The address.
        address: Ipv4Addr,
        /// The system's answer.
        source: io::Error,
    },
    /// `viewing` cannot answer.
    #[error("no page can be served")]
    Serve(#[source] io::Error),
    /// `viewing` cannot notice changes.
    #[error("changes in the workshop cannot be noticed")]
    Watch(#[source] io::Error),
    /// `why` was asked about a code that does not exist.
    #[error("there is no diagnostic `{code}`{}; `witnessmark why` lists all", meant(*nearest))]
    UnknownCode {
        /// What was asked for.
        code: String,
        /// The code that was probably meant.
        nearest: Option<&'static str>,
    },
    /// `--only` names no piece.
    #[error("there is no piece `{piece}`{} in pieces/", meant(nearest.as_deref()))]
    UnknownPiece {
        /// What was asked for.
        piece: String,
        /// The piece that was probably meant.
        nearest: Option<String>,
    },
    /// There is no set of this name.
    #[error(
        "there is no set `{set}`{}; a record becomes one by saying of how many pieces it is, such as `set-of = 6`",
        meant(nearest.as_deref())
    )]
    UnknownSet {
        /// What was asked for.
        set: String,
        /// The set that was probably meant.
        nearest: Option<String>,
    },
    /// A set was named where one piece is meant.
    #[error("`{named}` is a set whose pieces are sold apart; name one of them{}", listed(pieces))]
    IsSet {
        /// What was asked for.
        named: String,
        /// Its pieces, as they are named.
        pieces: Vec<String>,
    },
    /// A file that was to be brought in is no photograph that can be read.
    #[error("`{}` was not brought in, and nothing was jotted: {why}", path.display())]
    NoPhotograph {
        /// The file.
        path: PathBuf,
        /// Why.
        why: String,
    },
    /// A key cannot be used.
    #[error("`{}` cannot be used: {fault}", path.display())]
    Key {
        /// The file, or what was given as a key.
        path: PathBuf,
        /// Why.
        fault: KeyFault,
    },
    /// No keys could be made.
    #[error("no keys were made: {0}")]
    NoKeys(KeyFault),
    /// There is no secret key to sign with.
    #[error("there is no secret key `{}`; `witnessmark keys` makes one, or name the one that you have", .0.display())]
    NoKey(PathBuf),
    /// Keys would be made where there are some already.
    #[error("`{}` is there already and stays as it is; choose another folder with --to", .0.display())]
    KeyThere(PathBuf),
    /// A secret key would lie in a workshop.
    #[error(
        "the secret key would lie in the workshop `{}`, which may be copied and shown to others; choose another folder \
         with --to, or say --inside-workshop",
        .0.display()
    )]
    KeyInWorkshop(PathBuf),
    /// A file was to be written where there is one already.
    #[error("`{}` is there already and stays as it is; name another file with --print=FILE", .0.display())]
    FileThere(PathBuf),
    /// A page was to be printed by a program without a typesetter.
    #[error("this program was built without its typesetter, and can only show the list: leave --print out")]
    NoTypesetter,
    /// The system names no home.
    #[error("this system names no home folder to keep keys in; name a folder with --to")]
    NoHome,
    /// There is no password.
    #[error(
        "a password is needed: type one, or pipe it in as a line; `keys --without-password` makes a key without"
    )]
    NoPassword,
    /// A password was not typed the same twice.
    #[error("the two passwords differ; nothing was made")]
    PasswordsDiffer,
    /// A workshop was to be made in a folder that holds something else.
    #[error(
        "`{}` has no workshop.toml and holds other files; name an empty or new folder with --in, \
         and the workshop is made there",
        .0.display()
    )]
    NotAWorkshop(PathBuf),
}

impl Trouble {
    /// A file or folder that could not be read.
    pub(super) fn unread(path: &Path, fault: FileFault) -> Trouble {
        Trouble::Read { path: path.to_owned(), source: fault.into() }
    }
}

/// The word that was probably meant, after one that is not known.
/// `: a, b` for what may be named instead.
fn listed(names: &[String]) -> String {
    if names.is_empty() { String::new() } else { format!(": {}", names.join(", ")) }
}

fn meant(nearest: Option<&str>) -> String {
    nearest.map_or_else(String::new, |nearest| format!(" (perhaps `{nearest}`)"))
}
