//! Whether a file uses only what lies below it: floors below its own, and rooms below its own.

use super::house::{House, Mention};
use super::{FLOORS, ROOF, ROOMS, Rooms, at, floor, step};

/// The own floors of the house that something named belongs to: that of its path, and that of the file it lies in.
fn floors_of(mention: &Mention) -> Vec<&str> {
    let named =
        (mention.path.first().is_some_and(|root| root == "crate")).then(|| mention.path.get(1)).flatten();
    named.map(String::as_str).into_iter().chain(mention.file.as_deref().map(floor)).collect()
}

/// What a file names of floors above its own.
pub(super) fn upward(house: &House, file: &str) -> Vec<String> {
    let Some(own) = FLOORS.iter().position(|known| *known == floor(file)) else { return Vec::new() };
    let above = |floor: &&str| FLOORS[own + 1..].contains(floor) || ROOF.contains(floor);
    let told = |mention: &Mention| {
        let used = floors_of(mention).into_iter().find(above)?;
        Some(format!("{} uses {used}", at(file, mention.line)))
    };
    house.mentions(file).iter().filter_map(told).collect()
}

/// What a file names of rooms that it may not use.
pub(super) fn out_of_room(house: &House, file: &str) -> Vec<String> {
    let Some((_, rooms)) = ROOMS.iter().find(|(known, _)| *known == floor(file)) else { return Vec::new() };
    let mentions = house.mentions(file);
    let told = |mention: &Mention| {
        let used = match rooms {
            Rooms::Stacked(rooms) => above(rooms, file, mention),
            Rooms::Apart => beside(house, file, mention),
        };
        Some(format!("{} uses {}", at(file, mention.line), used?))
    };
    mentions.iter().filter_map(told).collect()
}

/// The room above a file's own that something named belongs to. The floor's own `mod.rs` is above all of them.
fn above(rooms: &[&'static str], file: &str, mention: &Mention) -> Option<String> {
    let own = rooms.iter().position(|room| *room == step(file, 1))?;
    rooms_of(floor(file), mention).into_iter().find(|room| rooms[own + 1..].contains(&room.as_str()))
}

/// The rooms of a floor that something named belongs to: that of its path, and that of the file it lies in.
fn rooms_of(own: &str, mention: &Mention) -> Vec<String> {
    let named = match &mention.path[..] {
        [root, floor, room, ..] if root == "crate" && floor == own => Some(room.clone()),
        _ => None,
    };
    let home = mention.file.as_deref().filter(|file| floor(file) == own).map(|file| step(file, 1).to_owned());
    named.into_iter().chain(home).collect()
}

/// What a file of a floor whose rooms stand apart names of another room, or of another rule. Each room's own `mod.rs`
/// lists its rules, and the floor's lists the rooms.
fn beside(house: &House, file: &str, mention: &Mention) -> Option<String> {
    let used = mention.file.as_deref().filter(|used| *used != file && floor(used) == floor(file))?;
    let room = |file: &str| file.rsplit_once('/').map_or(String::new(), |(folder, _)| folder.to_owned());
    let (own, other) = (room(file), room(used));
    let is_list = file.ends_with("/mod.rs");
    let another_room = other != floor(file) && other != own && !(is_list && own == floor(file));
    let another_rule = house.defines(used, "RULE") && !is_list;
    (another_room || another_rule).then(|| used.to_owned())
}

/// The files that lie in no room of a floor with rooms, once any of its rooms is there.
pub(super) fn homeless(house: &House) -> Vec<&str> {
    let mut found = Vec::new();
    for (name, rooms) in &ROOMS {
        let Rooms::Stacked(rooms) = rooms else { continue };
        let files: Vec<&str> = house.files().filter(|file| floor(file) == *name).collect();
        let has_room = |file: &&str| rooms.contains(&step(file, 1));
        if files.iter().any(has_room) {
            let lost = files.iter().filter(|file| !has_room(file) && step(file, 1) != "mod");
            found.extend(lost);
        }
    }
    found
}
