//! Damaged photographs by the thousand, the same ones every time. `fuzz/` looks for worse ones for as long as it is let.

use std::fs;

use witnessmark::photo::{self, Settings};

use crate::fixture::data;

/// The most pixels of a damaged file that is opened: damage to a header can ask for any number, and this bounds the
/// work of each case without a clock.
const LIMIT: u64 = 40_000;

/// Xorshift (Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8(14), 2003): equal cases on every machine.
struct Dice(u64);

impl Dice {
    fn below(&mut self, bound: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % bound as u64) as usize
    }
}

/// One to six changes: a byte, a bit, a run, a piece taken out, a piece doubled, an end cut off.
fn damaged(sound: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = sound.to_vec();
    for _ in 0..=dice.below(6) {
        if bytes.len() < 8 {
            break;
        }
        // Half of the damage hits the head, where the numbers are that decoders believe.
        let reach = if dice.below(2) == 0 { bytes.len() } else { bytes.len().min(200) };
        let at = dice.below(reach);
        let end = (at + 1 + dice.below(24)).min(bytes.len());
        match dice.below(6) {
            0 => bytes[at] = [0, 1, 0x7F, 0x80, 0xFE, 0xFF][dice.below(6)],
            1 => bytes[at] ^= 1 << dice.below(8),
            2 => bytes[at..end].fill(dice.below(256) as u8),
            3 => drop(bytes.drain(at..end)),
            4 => {
                let piece = bytes[at..end].to_vec();
                bytes.splice(at..at, piece);
            }
            _ => bytes.truncate(at.max(4)),
        }
    }
    bytes
}

/// Opens and develops; what it says is free, as long as both agree and no picture is larger than allowed.
fn survive(bytes: &[u8], name: &str) -> bool {
    let settings = Settings { widths: vec![64, 20], max_pixels: LIMIT, ..Settings::default() };
    let checked = photo::check(bytes, LIMIT);
    match photo::develop(bytes, &settings) {
        Ok(developed) => {
            let checked =
                checked.unwrap_or_else(|fault| panic!("{name}: developed, but not opened: {fault}"));
            assert_eq!(checked.defects, developed.defects, "{name}");
            assert!(u64::from(developed.header.width) * u64::from(developed.header.height) <= LIMIT);
            true
        }
        Err(fault) => {
            assert_eq!(checked.expect_err("what cannot be developed cannot be opened"), fault, "{name}");
            assert!(!fault.to_string().is_empty());
            false
        }
    }
}

#[test]
fn damage_never_panics() {
    let folder = data("photographs");
    let mut names: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    names.sort();
    assert!(names.len() >= 6, "a file of every kind");
    let mut dice = Dice(0x2545_F491_4F6C_DD1D);
    for path in names {
        let sound = fs::read(&path).unwrap();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        assert!(survive(&sound, &name), "{name} is sound");
        let developed = (0..400)
            .filter(|case| survive(&damaged(&sound, &mut dice), &format!("{name}, case {case}")))
            .count();
        assert!(
            (1..400).contains(&developed),
            "{name}: {developed} of 400 were developed, so the damage tells nothing"
        );
    }
}

#[test]
fn every_cut_of_a_file_is_answered() {
    let folder = data("photographs");
    for name in ["progressive.jpg", "lossy.webp", "display-p3.png", "adobe-rgb.jpg"] {
        let sound = fs::read(folder.join(name)).unwrap();
        for length in (0..sound.len()).step_by(3) {
            survive(&sound[..length], &format!("{name} cut to {length} bytes"));
        }
    }
}
