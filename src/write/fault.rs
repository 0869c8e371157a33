//! Why something was not written.

use std::io;
use std::path::PathBuf;

/// Why something was not written; what was there before stands as it was.
#[derive(Debug, thiserror::Error)]
pub enum WriteError {
    /// The target holds something, and nothing says that it is ours.
    #[error(
        "`{}` is not empty and was not written by witnessmark; choose another folder with --to, or move it away",
        .0.display()
    )]
    NotOurs(PathBuf),
    /// The target is ours, but somebody put files into it.
    #[error(
        "`{}` holds files that witnessmark did not write: {}; move them away, or choose another folder with --to",
        target.display(), some(files)
    )]
    Foreign {
        /// The folder to be written.
        target: PathBuf,
        /// The files, as paths from the target.
        files: Vec<String>,
    },
    /// The target is ours, but somebody changed files in it.
    #[error(
        "in `{}`, files were changed after they were written: {}; keep them elsewhere and delete them here, \
         or choose another folder with --to",
        target.display(), some(files)
    )]
    Changed {
        /// The folder to be written.
        target: PathBuf,
        /// The files, as paths from the target.
        files: Vec<String>,
    },
    /// The list of written files cannot be understood.
    #[error(
        "`{}` is damaged in line {line}, or of another version, so what is yours and what was written cannot be told apart; \
         move the folder away, or choose another with --to",
        path.display()
    )]
    Manifest {
        /// The list.
        path: PathBuf,
        /// The line, counted from 1.
        line: usize,
    },
    /// Something that is no folder stands where the folder would be written.
    #[error("`{}` is not a folder; choose another with --to", .0.display())]
    NotAFolder(PathBuf),
    /// The target is the workshop, holds it, or is where records lie.
    #[error("`{}` is where the workshop's own files lie; choose another folder with --to", .0.display())]
    Workshop(PathBuf),
    /// A file was to be written outside the tree, or under a name that no list can hold.
    #[error("`{0}` is no path inside the folder to be written")]
    Path(String),
    /// Two files of the same path.
    #[error("two files would be written as `{0}`")]
    Twice(String),
    /// A file that was to be replaced is no longer the one that was looked at.
    #[error("`{}` was changed meanwhile; look at it again", .0.display())]
    Meanwhile(PathBuf),
    /// A file that was to be replaced is a link, or no file.
    #[error("`{}` is a link or no plain file, so it is not written; change it by hand where it leads to", .0.display())]
    NotAFile(PathBuf),
    /// Another run writes the same tree.
    #[error("another run is writing `{}`; wait for it to end, or choose another folder with --to", .0.display())]
    TargetInUse(PathBuf),
    /// A file that was to be replaced may not be written to.
    #[error("`{}` is protected from writing, so it is left as it is; allow writing to it, then send the change again", .0.display())]
    Protected(PathBuf),
    /// A file that was to be replaced has another name too, under which the old one would stay.
    #[error(
        "`{}` has a second name (a hard link), under which the old text would stay, so it is left as it is; \
         change it by hand, or put a copy of its own in its place",
        .0.display()
    )]
    SecondName(PathBuf),
    /// Another run puts a seal into the same piece.
    #[error("another handover of `{}` is running; wait for it to end", .0.display())]
    Busy(PathBuf),
    /// Another run writes at the end of the same file.
    #[error("another run is writing `{}`; try again", .0.display())]
    Appending(PathBuf),
    /// A file would become longer than is ever read of it.
    #[error("`{}` would be longer than is read of it; move its older lines into another file", .0.display())]
    Full(PathBuf),
    /// A seal or a pack of that name is there.
    #[error("`{}` is there already; move it away", .0.display())]
    Taken(PathBuf),
    /// Where seals and packs belong, there is something that is no folder.
    #[error("`{}` is not a folder, and seals belong there; move it away", .0.display())]
    SealedElsewhere(PathBuf),
    /// The darkroom cannot be cleared now.
    #[error("another run uses `{}`, so nothing was cleared; clear it when that run has ended", .0.display())]
    DarkroomInUse(PathBuf),
    /// The system refused.
    #[error("cannot {doing} `{}`", path.display())]
    System {
        /// What was being done.
        doing: &'static str,
        /// To which file or folder.
        path: PathBuf,
        /// The system's answer.
        source: io::Error,
    },
}

/// The first few of many files, in back-ticks.
fn some(files: &[String]) -> String {
    const SHOWN: usize = 5;
    let mut words: Vec<String> = files.iter().take(SHOWN).map(|file| format!("`{file}`")).collect();
    if files.len() > SHOWN {
        words.push(format!("and {} more", files.len() - SHOWN));
    }
    words.join(", ")
}

#[cfg(test)]
mod tests {
    use super::some;

    #[test]
    fn a_long_list_is_cut_and_counted() {
        let files: Vec<String> = (1..=7).map(|number| number.to_string()).collect();
        assert_eq!(some(&files[..2]), "`1`, `2`");
        assert_eq!(some(&files), "`1`, `2`, `3`, `4`, `5`, and 2 more");
    }
}
