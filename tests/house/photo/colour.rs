//! Colours against an engine that nobody here wrote, and bytes against every kind of processor.

use std::collections::BTreeMap;
use std::fs;

use jpeg_encoder::SamplingFactor;
use serde::Deserialize;
use sha2::{Digest, Sha256};
use witnessmark::photo::{self, Settings};
use zune_jpeg::JpegDecoder;
use zune_jpeg::zune_core::bytestream::ZCursor;
use zune_jpeg::zune_core::colorspace::ColorSpace;
use zune_jpeg::zune_core::options::DecoderOptions;

use crate::fixture::{data, jpeg, noise, paint};

#[derive(Deserialize)]
struct Expected {
    srgb: Vec<[u8; 3]>,
}

/// `tests/data/photographs.toml`, made by `photographs.py` beside it, names the versions of Pillow and littlecms.
#[test]
fn profiles_become_srgb_as_in_another_engine() {
    let text = fs::read_to_string(data("photographs.toml")).unwrap();
    let cases: BTreeMap<String, Expected> = toml::from_str(&text).unwrap();
    assert_eq!(cases.len(), 4);
    for (name, expected) in cases {
        let bytes = fs::read(data("photographs").join(&name)).unwrap();
        let open = photo::open(&bytes, 1_000_000).unwrap();
        assert_eq!(open.defects, [], "{name}");
        assert_eq!((open.raster.width(), open.raster.height(), expected.srgb.len()), (96, 32, 12), "{name}");
        for (place, colour) in expected.srgb.iter().enumerate() {
            let at = ((place / 6 * 16 + 8) * 96 + place % 6 * 16 + 8) * 3;
            let seen = &open.raster.samples()[at..at + 3];
            let apart = seen.iter().zip(colour).map(|(seen, wanted)| seen.abs_diff(*wanted)).max();
            // One step is rounding; the decoders of a JPEG and the tables of four inks may add another.
            let within = if name.ends_with(".jpg") { 2 } else { 1 };
            assert!(apart <= Some(within), "{name}, patch {place}: {seen:?} for {colour:?}");
        }
    }
}

/// A picture with everything in it: slopes, edges, and noise from a fixed recurrence.
fn lively(width: u32, height: u32) -> Vec<u8> {
    let mut noise = noise(1);
    paint(width, height, |x, y| {
        let edge = if (x / 7 + y / 5) % 2 == 0 { 90 } else { 0 };
        let slopes = [x * 130 / width, y * 130 / height, (x + y) * 130 / (width + height)];
        slopes.map(|slope| slope as u8 + edge + (noise() >> 3))
    })
}

/// Decoder and filter take faster ways on processors that have them: none may change a byte. The decoder has a switch
/// for its fastest ways.
#[test]
fn every_way_of_decoding_gives_the_same_samples() {
    for sampling in [SamplingFactor::F_1_1, SamplingFactor::F_2_1, SamplingFactor::F_2_2] {
        let bytes = camera(sampling);
        let decoded = |fast: bool| {
            let options =
                DecoderOptions::default().set_use_unsafe(fast).jpeg_set_out_colorspace(ColorSpace::RGB);
            JpegDecoder::new_with_options(ZCursor::new(&bytes), options).decode().unwrap()
        };
        assert!(decoded(true) == decoded(false), "{sampling:?}");
    }
}

/// The sum of the pictures, as every machine has to find it. A new version of a codec may change it, which then
/// belongs into the release notes: every picture of every workshop is written anew.
#[test]
fn every_machine_makes_the_same_bytes() {
    let mut sum = Sha256::new();
    for sampling in [SamplingFactor::F_1_1, SamplingFactor::F_2_1, SamplingFactor::F_2_2] {
        let settings = Settings { widths: vec![250, 97], ..Settings::default() };
        for picture in photo::develop(&camera(sampling), &settings).unwrap().pictures {
            sum.update(&picture.bytes);
        }
    }
    let sum: String = sum.finalize().iter().map(|byte| format!("{byte:02x}")).collect();
    assert_eq!(sum, "2938041392cbcd20a49e7f539572d63575c07dcff7aa1de95d08ff6f47250a31");
}

fn camera(sampling: SamplingFactor) -> Vec<u8> {
    let (width, height) = (403, 309);
    jpeg(width, height, &lively(width, height), |encoder| {
        encoder.set_quality(92);
        encoder.set_sampling_factor(sampling);
    })
}
