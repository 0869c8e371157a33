//! HEIC, with the feature `heic`. The files are written by libheif (`tests/data/heic.py` names the versions).

use std::fs;

use witnessmark::photo::{self, Fault, Format, Settings};

use crate::fixture::data;

/// The colours that `tests/data/photographs.py` draws, six patches of 16 x 16 in a row.
const COLOURS: [[u8; 3]; 12] = [
    [255, 255, 255],
    [0, 0, 0],
    [118, 118, 118],
    [150, 96, 54],
    [201, 168, 110],
    [70, 110, 80],
    [60, 80, 140],
    [200, 60, 70],
    [30, 24, 20],
    [240, 220, 190],
    [90, 60, 40],
    [128, 128, 160],
];

fn file(name: &str) -> Vec<u8> {
    fs::read(data("heic").join(name)).unwrap()
}

#[test]
fn patches_come_out_upright_and_in_their_colours() {
    for name in ["patches.heic", "turned.heic"] {
        let bytes = file(name);
        let open = photo::open(&bytes, 1_000_000).unwrap();
        assert_eq!(
            (open.header.width, open.header.height, open.header.format),
            (96, 32, Format::Heic),
            "{name}"
        );
        assert_eq!(photo::header(&bytes, 1_000_000), Ok(open.header.clone()));
        for (place, colour) in COLOURS.iter().enumerate() {
            let at = ((place / 6 * 16 + 8) * 96 + place % 6 * 16 + 8) * 3;
            let seen = &open.raster.samples()[at..at + 3];
            assert!(
                seen.iter().zip(colour).all(|(seen, wanted)| seen.abs_diff(*wanted) <= 4),
                "{name}: {seen:?} for {colour:?}"
            );
        }
        let settings = Settings { widths: vec![48], ..Settings::default() };
        let developed = photo::develop(&bytes, &settings).unwrap();
        assert_eq!((developed.pictures[0].width, developed.pictures[0].height), (48, 16));
    }
}

#[test]
fn too_many_pixels_and_every_cut_are_faults() {
    let bytes = file("turned.heic");
    assert!(matches!(photo::open(&bytes, 3071), Err(Fault::TooManyPixels { limit: 3071, .. })));
    for length in 0..bytes.len() {
        if let Ok(open) = photo::open(&bytes[..length], 1_000_000) {
            assert_eq!((open.header.width, open.header.height), (96, 32), "cut to {length} bytes");
        }
    }
}
