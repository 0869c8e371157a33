//! What keeps a pack from being whole.

/// One thing that differs from what the pack says of itself, or that has no place in a pack.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, thiserror::Error)]
pub enum Problem {
    /// The zip cannot be opened at all, or not to its end.
    #[error("the zip is damaged or cut short: {0}")]
    Damaged(String),
    /// The zip holds something beside its files, or says two things of one.
    #[error("the zip is not as packs are: {0}")]
    Layout(String),
    /// There is more in it than a pack holds.
    #[error("not looked into: {0}")]
    TooMuch(String),
    /// It has no declaration, so it is no pack.
    #[error("it is no pack: it has no bagit.txt at its top or in its one folder")]
    NoBag,
    /// A bag by somebody else, with fingerprints of another kind.
    #[error(
        "a bag, but none of ours: its fingerprints are of the kind {0}, and SHA-256 and SHA-512 are checked here"
    )]
    OtherKind(String),
    /// A file by which the others are checked cannot be understood.
    #[error("`{path}` cannot be used: {why}")]
    Unusable {
        /// The file.
        path: String,
        /// Why.
        why: String,
    },
    /// A file would be unpacked outside the folder, or under a name that means something else to some system.
    #[error("dangerous name: `{0}` could be unpacked outside the pack's own folder; do not unpack it")]
    Outside(String),
    /// A name that some system cannot hold, or takes for something else than a file.
    #[error("unusable name: `{0}` is too long, or some systems keep it for a device")]
    Device(String),
    /// A name that reads as another.
    #[error("misleading name: `{0}` holds characters that nobody sees")]
    Misleading(String),
    /// A link, which can lead anywhere.
    #[error("a link, not followed: `{0}`")]
    Link(String),
    /// Neither a file nor a folder.
    #[error("neither file nor folder, not opened: `{0}`")]
    Strange(String),
    /// A file that cannot be read.
    #[error("cannot be read: `{path}` ({why})")]
    Unreadable {
        /// The file.
        path: String,
        /// The reason.
        why: String,
    },
    /// Two files of one name.
    #[error("there twice: `{0}`")]
    Twice(String),
    /// Two files that are one on some systems, by their capitals or by spaces and dots at the end of a name.
    #[error("one file on some systems: `{one}` and `{other}`")]
    Alike {
        /// The one that came first.
        one: String,
        /// The one after it.
        other: String,
    },
    /// A name that is a file's and a folder's.
    #[error("both a file and a folder: `{0}`")]
    FileAndFolder(String),
    /// A file with other bytes than the pack says.
    #[error("changed: `{0}`")]
    Changed(String),
    /// A file that the pack lists and does not hold.
    #[error("missing: `{0}`")]
    Missing(String),
    /// A file that is there under another name.
    #[error("renamed: `{from}` is now `{to}`")]
    Renamed {
        /// As the pack lists it.
        from: String,
        /// As it is found.
        to: String,
    },
    /// A file that the pack does not list.
    #[error("added: `{0}`")]
    Added(String),
    /// A file that a file manager left, which is nobody's work and still not part of the pack.
    #[error("added: `{0}`, which a file manager leaves behind and which may be deleted")]
    Litter(String),
    /// The count of the payload differs from what the pack says.
    #[error("the pack says that it holds {said} (bytes, a dot, files), and it holds {found}")]
    Count {
        /// As said.
        said: String,
        /// As found.
        found: String,
    },
    /// The record is not the one that was sealed.
    #[error("the seal is broken: it was made of another record than `data/record.toml` is now")]
    Seal,
}
