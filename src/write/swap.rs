//! Putting a finished tree where the old one stands.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use crate::source::hold_folder;

/// Where a stage keeps the tree that it fills.
pub(super) fn fresh(stage: &Path) -> PathBuf {
    stage.join("tree")
}

/// Where a stage keeps the old tree, where it has to be moved aside.
pub(super) fn aside(stage: &Path) -> PathBuf {
    stage.join("old")
}

/// Swaps a stage's tree with what stands at `target`, which ends up in the stage.
pub(super) fn swap(stage: &Path, target: &Path) -> io::Result<()> {
    if fs::symlink_metadata(target).is_err() {
        return fs::rename(fresh(stage), target);
    }
    #[cfg(target_os = "linux")]
    match exchange(stage, target) {
        // A filesystem that cannot exchange says that the call is invalid or unknown.
        Err(rustix::io::Errno::INVAL | rustix::io::Errno::NOSYS | rustix::io::Errno::OPNOTSUPP) => {}
        done => return Ok(done?),
    }
    move_aside(stage, target)
}

/// Swaps in one step, so that there is a whole tree at every moment.
#[cfg(target_os = "linux")]
fn exchange(stage: &Path, target: &Path) -> rustix::io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    renameat_with(CWD, fresh(stage), CWD, target, RenameFlags::EXCHANGE)
}

/// Swaps in two steps; [`recover`] undoes the first where the second did not come.
fn move_aside(stage: &Path, target: &Path) -> io::Result<()> {
    fs::rename(target, aside(stage))?;
    fs::rename(fresh(stage), target)
}

/// Moves the old tree back where a swap was cut short, so that the stage holds nothing that is needed.
///
/// # Errors
/// The system's; the stage then still holds the only copy and must stay.
pub(super) fn recover(stage: &Path, target: &Path) -> io::Result<()> {
    let cut_short = fs::symlink_metadata(aside(stage)).is_ok() && fs::symlink_metadata(target).is_err();
    if cut_short { fs::rename(aside(stage), target) } else { Ok(()) }
}

/// Waits until everything in a stage is on the disk, so that a power cut after the swap finds whole files.
#[cfg(target_os = "linux")]
pub(super) fn settle(stage: &Path, _files: impl Iterator<Item = PathBuf>) -> io::Result<()> {
    // One call for the whole filesystem. A call for each of 3,000 files of 30 kB took 150 times as long.
    Ok(rustix::fs::syncfs(hold_folder(stage)?)?)
}

/// Waits until everything in a stage is on the disk, so that a power cut after the swap finds whole files.
#[cfg(not(target_os = "linux"))]
pub(super) fn settle(_stage: &Path, mut files: impl Iterator<Item = PathBuf>) -> io::Result<()> {
    files.try_for_each(|file| crate::source::hold(&file)?.sync_all())
}

/// Waits until a swap itself is on the disk, so that the old tree is not deleted before the new one stands.
pub(super) fn seal(stage: &Path, target: &Path) {
    // Best effort: some systems cannot do this for folders, and the swap is done in any case.
    for folder in [target.parent(), Some(stage)].into_iter().flatten() {
        if let Ok(folder) = hold_folder(folder) {
            let _ = folder.sync_all();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stage_and_target() -> (tempfile::TempDir, PathBuf, PathBuf) {
        let home = tempfile::tempdir().unwrap();
        let (stage, target) = (home.path().join("stage"), home.path().join("target"));
        fs::create_dir_all(fresh(&stage)).unwrap();
        fs::write(fresh(&stage).join("new"), "").unwrap();
        fs::create_dir(&target).unwrap();
        fs::write(target.join("old"), "").unwrap();
        (home, stage, target)
    }

    #[test]
    fn both_ways_of_swapping_put_the_new_tree_in_place_of_the_old() {
        for way in [swap, move_aside] {
            let (_home, stage, target) = stage_and_target();
            way(&stage, &target).unwrap();
            assert!(target.join("new").exists() && !target.join("old").exists());
        }
    }

    #[test]
    fn a_swap_cut_short_between_its_two_steps_is_undone() {
        let (_home, stage, target) = stage_and_target();
        fs::rename(&target, aside(&stage)).unwrap();
        recover(&stage, &target).unwrap();
        assert!(target.join("old").exists());
    }

    #[test]
    fn a_swap_that_was_finished_is_not_undone() {
        let (_home, stage, target) = stage_and_target();
        move_aside(&stage, &target).unwrap();
        recover(&stage, &target).unwrap();
        assert!(target.join("new").exists());
    }
}
