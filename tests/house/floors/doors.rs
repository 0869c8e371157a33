//! The doors of the house: what is private is opened, printed and written only where it may be.

use super::house::{House, Mention};
use super::{ASKERS, AT_THE_DISK, DOORS, OPENINGS, PRINTERS, WRITERS, at, lies_in};

/// The macros that print, and the functions that give what to print to.
const PRINTING_MACROS: [&str; 5] = ["print", "println", "eprint", "eprintln", "dbg"];
const PRINTING: [&str; 2] = ["std::io::stdout", "std::io::stderr"];

/// What writes files or changes them.
const WRITING: [&str; 14] = [
    "std::fs::write",
    "std::fs::copy",
    "std::fs::rename",
    "std::fs::hard_link",
    "std::fs::soft_link",
    "std::fs::create_dir",
    "std::fs::create_dir_all",
    "std::fs::remove_file",
    "std::fs::remove_dir",
    "std::fs::remove_dir_all",
    "std::fs::set_permissions",
    "std::fs::DirBuilder",
    "std::fs::File::create",
    "std::fs::File::create_new",
];

/// What asks the system itself, around all that is listed here.
const SYSTEM: [&str; 1] = ["rustix::fs"];

/// What opens files. One that is opened otherwise than through the doors may be a pipe that never ends.
const OPENING: [&str; 5] = [
    "std::fs::read",
    "std::fs::read_to_string",
    "std::fs::File::open",
    "std::fs::File::options",
    "std::fs::OpenOptions",
];

/// What touches the disk, and the methods of a path that do.
const DISK: [&str; 4] = ["std::fs", "std::os::unix::fs", "rustix::fs", "walkdir"];
const LOOKING: [&str; 6] =
    ["exists", "try_exists", "canonicalize", "read_dir", "read_link", "symlink_metadata"];

/// Where a file opens what is closed, with the name of what opens it.
pub(super) fn openings(house: &House, file: &str) -> Vec<(String, usize)> {
    // A free function of the house may have the same name, and is read where it stands.
    let is_method = |mention: &Mention, name: &str| {
        !mention.file.as_deref().is_some_and(|file| house.defines(file, name))
    };
    let path = |mention: Mention| {
        let name = mention.path.last()?.clone();
        is_method(&mention, &name).then_some((name, mention.line))
    };
    let called = house.methods(file).cloned().chain(house.mentions(file).into_iter().filter_map(path));
    called.filter(|(name, _)| OPENINGS.iter().any(|(opening, _)| opening == name)).collect()
}

/// What a file opens that it may not.
pub(super) fn opened(house: &House, file: &str) -> Vec<String> {
    let may = |name: &str| OPENINGS.iter().any(|(opening, places)| *opening == name && lies_in(file, places));
    let openings = openings(house, file).into_iter().filter(|(name, _)| !may(name));
    openings.map(|(name, line)| format!("{} calls {name}", at(file, line))).collect()
}

/// Where a file prints, writes or touches the disk and may not.
pub(super) fn reached_out(house: &House, file: &str) -> Vec<String> {
    let mut found = Vec::new();
    for (name, line) in house.macros(file).filter(|(name, _)| PRINTING_MACROS.contains(&name.as_str())) {
        found.push((&PRINTERS[..], *line, format!("prints: {name}!")));
    }
    for (name, line) in house.methods(file).filter(|(name, _)| LOOKING.contains(&name.as_str())) {
        found.push((&AT_THE_DISK[..], *line, format!("touches the disk: {name}")));
    }
    for mention in house.mentions(file) {
        for (paths, may, does) in [
            (&PRINTING[..], &PRINTERS[..], "prints"),
            (&WRITING[..], &WRITERS[..], "writes"),
            (&SYSTEM[..], &ASKERS[..], "asks the system"),
            (&OPENING[..], &DOORS[..], "opens a file"),
            (&DISK[..], &AT_THE_DISK[..], "touches the disk"),
        ] {
            if is_of(&mention, paths) {
                found.push((may, mention.line, format!("{does}: {}", mention.path.join("::"))));
            }
        }
    }
    let not_allowed = found.into_iter().filter(|(may, _, _)| !lies_in(file, may));
    not_allowed.map(|(_, line, what)| format!("{} {what}", at(file, line))).collect()
}

/// Whether a path is one of these, or leads on from it.
fn is_of(mention: &Mention, paths: &[&str]) -> bool {
    let path = mention.path.join("::");
    paths
        .iter()
        .any(|known| path.strip_prefix(known).is_some_and(|rest| rest.is_empty() || rest.starts_with("::")))
}
