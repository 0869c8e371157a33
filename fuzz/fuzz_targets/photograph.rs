//! Any bytes as a photograph: a fault or pictures, never a panic, and never more pixels than allowed.
//!
//! `cargo +nightly fuzz run photograph -- -max_len=20000 -timeout=20`, with `tests/data/photographs` as a start:
//! `mkdir -p fuzz/corpus/photograph && cp tests/data/photographs/* fuzz/corpus/photograph/`.

#![no_main]

use libfuzzer_sys::fuzz_target;
use witnessmark::photo::{self, Settings};

const LIMIT: u64 = 200_000;

fuzz_target!(|bytes: &[u8]| {
    let settings = Settings { widths: vec![64, 20], max_pixels: LIMIT, ..Settings::default() };
    let opened = photo::open(bytes, LIMIT);
    match photo::develop(bytes, &settings) {
        Ok(developed) => {
            let opened = opened.expect("what can be developed can be opened");
            assert_eq!(opened.header, developed.header);
            assert_eq!(opened.defects, developed.defects);
            assert!(u64::from(developed.header.width) * u64::from(developed.header.height) <= LIMIT);
        }
        Err(fault) => assert_eq!(opened.expect_err("what cannot be developed cannot be opened"), fault),
    }
});
