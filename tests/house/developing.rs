//! Whether the developing is still the one that the pictures of every workshop's darkroom were made with.

use witnessmark::photo::{self, Settings};
use witnessmark::write::fingerprint;

use crate::fixture::example;

/// The version of the developing, and the fingerprint of what it makes of the example's photographs.
const PINNED: (u32, &str) = (2, "d89ba2fe5ab677b1e956fd0f9808f4cebc35ca0e00c6627c3d44cbcf7fe501c8");

#[test]
fn whoever_changes_developed_bytes_raises_the_version() {
    let mut photographs = example();
    photographs.retain(|path, _| path.starts_with("pieces/") && path.ends_with(".jpg"));
    // One of each piece is enough: they hold all that the example has of sizes and subjects.
    let settings = Settings { widths: vec![700, 480, 300], ..Settings::default() };
    let mut all = String::new();
    for photograph in photographs.values().step_by(6) {
        let developed = photo::develop(photograph, &settings).expect("the example is sound");
        all.push_str(&format!("{:?} {:?}\n", developed.header, developed.defects));
        developed.pictures.iter().for_each(|picture| all.push_str(&fingerprint(&picture.bytes)));
    }
    let found = (photo::VERSION, fingerprint(all.as_bytes()));
    assert_eq!(
        (found.0, found.1.as_str()),
        PINNED,
        "photographs are developed otherwise than before: raise photo::VERSION, so that no picture of the old kind is \
         taken from a darkroom, and pin the new version with its fingerprint here"
    );
}
