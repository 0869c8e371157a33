//! The photograph floor from outside: bytes in, pictures out. Every input is made here.

mod colour;
mod damage;
#[cfg(feature = "heic")]
mod heic;

use chrono::NaiveDate;
use image::{ExtendedColorType, ImageEncoder};
use jpeg_encoder::{ColorType, SamplingFactor};
use moxcms::ColorProfile;
use proptest::prelude::*;
use witnessmark::photo::{self, Defect, Fault, Format, Ink, Settings};

use crate::fixture::{ByteOrder, Camera, app, jpeg, jpeg_of, notes, paint, png};

const LIMIT: u64 = 1_000_000;

const RED: [u8; 3] = [200, 40, 40];
const GREEN: [u8; 3] = [40, 160, 60];
const BLUE: [u8; 3] = [40, 60, 200];
const SAND: [u8; 3] = [220, 200, 120];

// ---------------------------------------------------------------------------------------------------------------------
// Orientation and size

/// The upright scene, 96 x 48: red and green over blue and sand.
fn scene(x: u32, y: u32) -> [u8; 3] {
    match (x < 48, y < 24) {
        (true, true) => RED,
        (false, true) => GREEN,
        (true, false) => BLUE,
        (false, false) => SAND,
    }
}

/// Where the pixel stored at `x`, `y` belongs in the upright scene, by the wording of the EXIF tag: "row 0 is the
/// right-hand side, column 0 the top" for 6, and so on.
fn place(orientation: u16, x: u32, y: u32) -> (u32, u32) {
    let (right, bottom) = (95, 47);
    match orientation {
        2 => (right - x, y),
        3 => (right - x, bottom - y),
        4 => (x, bottom - y),
        5 => (y, x),
        6 => (right - y, x),
        7 => (right - y, bottom - x),
        8 => (y, bottom - x),
        _ => (x, y),
    }
}

#[test]
fn eight_orientations_come_out_upright() {
    for orientation in 0..=9 {
        let (width, height) = if (5..=8).contains(&orientation) { (48, 96) } else { (96, 48) };
        let stored = paint(width, height, |x, y| {
            let (x, y) = place(orientation, x, y);
            scene(x, y)
        });
        let bytes = jpeg(width, height, &stored, |encoder| {
            app(encoder, 1, &notes(ByteOrder::Big, orientation, None))
        });
        let header = photo::header(&bytes, LIMIT).unwrap();
        assert_eq!((header.width, header.height), (96, 48), "orientation {orientation}");
        // Wider than the photograph, as it is, and scaled down.
        let developed = photo::develop(&bytes, &settings(&[1000, 60, 40])).unwrap();
        assert_eq!(developed.defects, []);
        let sizes: Vec<_> =
            developed.pictures.iter().map(|picture| (picture.width, picture.height)).collect();
        assert_eq!(sizes, [(96, 48), (60, 30), (40, 20)]);
        assert_eq!(sizes, photo::sizes(96, 48, &[1000, 60, 40]));
        for picture in &developed.pictures {
            let seen = Seen::decode(&picture.bytes);
            assert_eq!((seen.width, seen.height), (picture.width, picture.height));
            for (across, down) in [(1, 1), (3, 1), (1, 3), (3, 3)] {
                let (x, y) = (picture.width * across / 4, picture.height * down / 4);
                seen.assert_near(x, y, scene(24 * across, 12 * down), 20);
            }
        }
        let open = photo::open(&bytes, LIMIT).unwrap();
        assert_eq!((open.raster.width(), open.raster.height()), (96, 48));
        assert_near(&open.raster.samples()[..3], &RED, 6);
    }
}

#[test]
fn the_capture_time_is_read() {
    for order in [ByteOrder::Big, ByteOrder::Little] {
        let notes = notes(order, 1, Some("2026:03:11 14:05:09"));
        let bytes = jpeg(8, 8, &[90; 192], |encoder| app(encoder, 1, &notes));
        let header = photo::header(&bytes, LIMIT).unwrap();
        let day = NaiveDate::from_ymd_opt(2026, 3, 11);
        assert_eq!(header.taken, day.and_then(|day| day.and_hms_opt(14, 5, 9)), "{order:?}");
        assert_eq!(header.format, Format::Jpeg);
    }
}

#[test]
fn damaged_notes_are_a_defect() {
    let mut notes = notes(ByteOrder::Big, 6, Some("2026:03:11 14:05:09"));
    notes.truncate(40);
    let checked = photo::check(&jpeg(8, 8, &[90; 192], |encoder| app(encoder, 1, &notes)), LIMIT).unwrap();
    assert_eq!(checked.defects, [Defect::NotesDamaged]);
}

// ---------------------------------------------------------------------------------------------------------------------
// Colour

/// Linear light in Display P3 to CIE XYZ, and CIE XYZ to linear light in sRGB: CSS Color Module Level 4, section 17,
/// sample code for colour conversions. From memory.
const P3_TO_XYZ: [[f64; 3]; 3] = [
    [608_311.0 / 1_250_200.0, 189_793.0 / 714_400.0, 198_249.0 / 1_000_160.0],
    [35_783.0 / 156_275.0, 247_089.0 / 357_200.0, 198_249.0 / 2_500_400.0],
    [0.0, 32_229.0 / 714_400.0, 5_220_557.0 / 5_000_800.0],
];
const ADOBE_TO_XYZ: [[f64; 3]; 3] = [
    [573_536.0 / 994_567.0, 263_643.0 / 1_420_810.0, 187_206.0 / 994_567.0],
    [591_459.0 / 1_989_134.0, 6_239_551.0 / 9_945_670.0, 374_412.0 / 4_972_835.0],
    [53_769.0 / 1_989_134.0, 351_524.0 / 4_972_835.0, 4_929_758.0 / 4_972_835.0],
];
const XYZ_TO_SRGB: [[f64; 3]; 3] = [
    [12_831.0 / 3_959.0, -329.0 / 214.0, -1_974.0 / 3_959.0],
    [-851_781.0 / 878_810.0, 1_648_619.0 / 878_810.0, 36_519.0 / 878_810.0],
    [705.0 / 12_673.0, -2_585.0 / 12_673.0, 705.0 / 667.0],
];

fn through(matrix: &[[f64; 3]; 3], colour: [f64; 3]) -> [f64; 3] {
    matrix.map(|row| row.iter().zip(colour).map(|(factor, part)| factor * part).sum())
}

/// The sRGB transfer function, IEC 61966-2-1, both ways.
fn light(level: f64) -> f64 {
    if level <= 0.04045 { level / 12.92 } else { ((level + 0.055) / 1.055).powf(2.4) }
}

fn level(light: f64) -> f64 {
    let light = light.clamp(0.0, 1.0);
    let level = if light <= 0.003_130_8 { light * 12.92 } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 };
    level * 255.0
}

fn srgb(to_xyz: &[[f64; 3]; 3], light: [f64; 3]) -> [u8; 3] {
    through(&XYZ_TO_SRGB, through(to_xyz, light)).map(|light| level(light).round() as u8)
}

fn from_p3(colour: [u8; 3]) -> [u8; 3] {
    srgb(&P3_TO_XYZ, colour.map(|sample| light(f64::from(sample) / 255.0)))
}

/// Colours of timber, brass, cloth and card: none is outside sRGB, where clipping would hide mistakes.
const PATCHES: [[u8; 3]; 8] = [
    [255, 255, 255],
    [0, 0, 0],
    [118, 118, 118],
    [150, 96, 54],
    [201, 168, 110],
    [70, 110, 80],
    [60, 80, 140],
    [200, 60, 70],
];

/// The patches side by side, each 16 x 16.
fn patches() -> Vec<u8> {
    paint(128, 16, |x, _| PATCHES[x as usize / 16])
}

#[track_caller]
fn assert_patches(bytes: &[u8], expected: impl Fn([u8; 3]) -> [u8; 3]) {
    let open = photo::open(bytes, LIMIT).unwrap();
    assert_eq!(open.defects, []);
    let developed = photo::develop(bytes, &settings(&[128])).unwrap();
    let picture = Seen::decode(&developed.pictures[0].bytes);
    for (place, patch) in (0..).zip(PATCHES) {
        let at = (8 * 128 + place as usize * 16 + 8) * 3;
        assert_near(&open.raster.samples()[at..at + 3], &expected(patch), 2);
        // Written as a JPEG of quality 80, colours move a little more.
        picture.assert_near(place * 16 + 8, 8, expected(patch), 5);
    }
}

#[test]
fn display_p3_becomes_srgb() {
    assert_eq!(from_p3([255, 255, 255]), [255, 255, 255]);
    let moved = PATCHES
        .iter()
        .filter(|&&patch| from_p3(patch).iter().zip(patch).any(|(to, from)| to.abs_diff(from) > 4));
    assert!(moved.count() >= 3, "the patches must tell a converted picture from one that was not");
    let profile = ColorProfile::new_display_p3().encode().unwrap();
    assert_patches(&png(128, 16, &patches(), ExtendedColorType::Rgb8, Some(&profile)), from_p3);
    assert_patches(&webp(128, 16, &patches(), Some(&profile)), from_p3);
    assert_patches(&tiff(128, 16, &patches(), 0, Some(&profile)), from_p3);
    let flat = |encoder: &mut Camera<'_>| {
        encoder.set_quality(100);
        encoder.set_sampling_factor(SamplingFactor::F_1_1);
        // Split into three chunks, as long profiles are, and stored out of order.
        let third = profile.len() / 3;
        let chunks = [&profile[..third], &profile[third..2 * third], &profile[2 * third..]];
        for number in [2, 1, 3] {
            app(encoder, 2, &[b"ICC_PROFILE\0", &[number, 3][..], chunks[usize::from(number) - 1]].concat());
        }
    };
    assert_patches(&jpeg(128, 16, &patches(), flat), from_p3);
}

#[test]
fn an_srgb_profile_changes_nothing() {
    let profile = ColorProfile::new_srgb().encode().unwrap();
    let open =
        photo::open(&png(128, 16, &patches(), ExtendedColorType::Rgb8, Some(&profile)), LIMIT).unwrap();
    assert_eq!(open.raster.samples(), patches());
}

#[test]
fn adobe_rgb_by_the_word_of_the_camera() {
    let bytes = jpeg(128, 16, &patches(), |encoder| {
        encoder.set_quality(100);
        encoder.set_sampling_factor(SamplingFactor::F_1_1);
        app(encoder, 1, &exif_adobe_rgb());
    });
    // Adobe RGB (1998), section 4.3.4.2: the exponent is 2 + 51/256. From memory.
    assert_patches(&bytes, |patch| {
        srgb(&ADOBE_TO_XYZ, patch.map(|sample| (f64::from(sample) / 255.0).powf(563.0 / 256.0)))
    });
}

#[test]
fn a_grey_profile_keeps_the_picture_grey() {
    let profile = ColorProfile::new_gray_with_gamma(1.8).encode().unwrap();
    let levels: Vec<u8> = (0..=255).collect();
    let bytes = png(256, 1, &levels, ExtendedColorType::L8, Some(&profile));
    let open = photo::open(&bytes, LIMIT).unwrap();
    assert_eq!((open.defects, open.raster.ink()), (vec![], Ink::Rgb));
    for (&from, to) in levels.iter().zip(open.raster.samples().as_chunks::<3>().0) {
        let expected = level((f64::from(from) / 255.0).powf(1.8)).round() as u8;
        assert_near(to, &[expected; 3], 2);
    }
    let picture = &photo::develop(&bytes, &settings(&[256])).unwrap().pictures[0].bytes;
    assert_eq!(jpeg_info(picture).pixel_format, jpeg_decoder::PixelFormat::L8);
}

#[test]
fn a_broken_profile_is_a_defect() {
    let plain = jpeg(16, 16, &[90; 768], |encoder| app(encoder, 2, b"ICC_PROFILE\0\x01\x02half of it"));
    for bytes in [plain, png(16, 16, &[90; 768], ExtendedColorType::Rgb8, Some(b"no profile"))] {
        let checked = photo::check(&bytes, LIMIT).unwrap();
        assert!(matches!(&checked.defects[..], [Defect::ProfileIgnored(_)]), "{:?}", checked.defects);
        let open = photo::open(&bytes, LIMIT).unwrap();
        assert_eq!(open.defects, checked.defects);
        assert_near(&open.raster.samples()[..3], &[90; 3], 1);
    }
}

#[test]
fn printing_inks_are_approximate_and_not_inverted() {
    // Cyan, magenta, yellow, black, where 255 is full ink: half cyan, full magenta, no ink, three quarters of black.
    let inks = [[128, 0, 0, 0], [0, 255, 0, 0], [0, 0, 0, 0], [0, 0, 0, 191]];
    let expected = [[127, 255, 255], [255, 0, 255], [255, 255, 255], [64, 64, 64]];
    let ink_at = |x: u32| inks[x as usize / 16];
    let samples: Vec<u8> = (0..16).flat_map(|_| (0..64).flat_map(ink_at)).collect();
    for (colours, inverted) in
        [(ColorType::Cmyk, true), (ColorType::CmykAsYcck, true), (ColorType::Cmyk, false)]
    {
        // The encoder inverts the inks and writes the Adobe segment; without the segment they are meant as they stand.
        let given = if inverted { samples.clone() } else { samples.iter().map(|ink| 255 - ink).collect() };
        let mut bytes = jpeg_of(colours, 64, 16, &given, |encoder| encoder.set_quality(100));
        if !inverted {
            bytes = without_segment(&bytes, 0xEE);
        }
        let open = photo::open(&bytes, LIMIT).unwrap();
        assert_eq!(open.defects, [Defect::ApproximateColours]);
        for (place, expected) in expected.iter().enumerate() {
            let at = (8 * 64 + place * 16 + 8) * 3;
            assert_near(&open.raster.samples()[at..at + 3], expected, 3);
        }
    }
}

// ---------------------------------------------------------------------------------------------------------------------
// Forms

#[test]
fn sixteen_bits_grey_and_transparency() {
    let sixteen =
        |samples: &[u16]| samples.iter().flat_map(|sample| sample.to_ne_bytes()).collect::<Vec<u8>>();
    let deep = sixteen(&[65_535, 32_768, 0]).repeat(64);
    let cases: [(Vec<u8>, ExtendedColorType, [u8; 3]); 6] = [
        (deep, ExtendedColorType::Rgb16, [255, 128, 0]),
        (sixteen(&[30_000]).repeat(64), ExtendedColorType::L16, [117; 3]),
        (sixteen(&[65_535, 0, 0, 32_768]).repeat(64), ExtendedColorType::Rgba16, [255, 127, 127]),
        (vec![77; 64], ExtendedColorType::L8, [77; 3]),
        ([0, 51].repeat(64), ExtendedColorType::La8, [204; 3]),
        ([10, 20, 30, 0].repeat(64), ExtendedColorType::Rgba8, [255; 3]),
    ];
    for (samples, colours, expected) in cases {
        let bytes = png(8, 8, &samples, colours, None);
        let open = photo::open(&bytes, LIMIT).unwrap();
        assert_eq!((open.header.format, open.defects), (Format::Png, vec![]), "{colours:?}");
        for pixel in open.raster.samples().as_chunks::<3>().0 {
            assert_eq!(*pixel, expected, "{colours:?}");
        }
        assert_eq!(photo::develop(&bytes, &settings(&[4])).unwrap().pictures.len(), 1);
    }
}

#[test]
fn webp_and_tiff_are_read() {
    let samples = paint(96, 48, scene);
    for (bytes, format) in
        [(webp(96, 48, &samples, None), Format::WebP), (tiff(96, 48, &samples, 0, None), Format::Tiff)]
    {
        let open = photo::open(&bytes, LIMIT).unwrap();
        assert_eq!((open.header.format, open.header.width, open.header.height), (format, 96, 48));
        assert_eq!(open.raster.samples(), samples, "{format:?}");
    }
}

#[test]
fn bitmaps_and_the_first_picture_of_a_gif_are_read() {
    let samples = paint(96, 48, scene);
    let bitmap = bitmap(96, 48, &samples);
    let open = photo::open(&bitmap, LIMIT).unwrap();
    assert_eq!((open.header.format, open.header.width, open.header.height), (Format::Bmp, 96, 48));
    assert_eq!(open.raster.samples(), samples);

    let film = gif(96, 48, &[[200, 30, 40], [30, 40, 200]]);
    let open = photo::open(&film, LIMIT).unwrap();
    assert_eq!((open.header.format, open.header.width, open.header.height), (Format::Gif, 96, 48));
    assert_near(&open.raster.samples()[..3], &[200, 30, 40], 2);
    for bytes in [bitmap, film] {
        assert!(matches!(photo::check(&bytes, 96 * 48 - 1), Err(Fault::TooManyPixels { .. })));
    }
}

#[test]
fn a_gif_whose_picture_is_far_larger_than_it_says_is_refused() {
    let mut film = gif(8, 8, &[[200, 30, 40]]);
    // The picture's own size stands four bytes after its mark.
    let mark = film.windows(9).rposition(|part| part == [0x2C, 0, 0, 0, 0, 8, 0, 8, 0]).unwrap();
    film[mark + 5..mark + 9].fill(0xFF);
    assert!(matches!(photo::check(&film, LIMIT), Err(Fault::Unreadable(words)) if words.contains("limit")));
}

#[test]
fn tiffs_of_few_bits_and_of_brightness_and_colours_are_read() {
    for (bits, last) in [(2, 0b11), (4, 0b1111)] {
        // Nine pixels a row, so that rows end within a byte: black, and the last one white.
        let mut row = vec![0_u8; (9 * usize::from(bits)).div_ceil(8)];
        *row.last_mut().unwrap() = last << (8 - bits);
        let bytes = tiff_of(9, 4, &row.repeat(4), &[bits], 1);
        let open = photo::open(&bytes, LIMIT).unwrap();
        let greys: Vec<u8> = open.raster.samples().chunks(3).map(|pixel| pixel[0]).collect();
        assert_eq!(greys, [0, 0, 0, 0, 0, 0, 0, 0, 255].repeat(4), "{bits} bits");
    }
    let orange = [150, 60, 190].repeat(16 * 8);
    let bytes = tiff_of(16, 8, &orange, &[8, 8, 8], 6);
    let open = photo::open(&bytes, LIMIT).unwrap();
    // 150 + 1.402 * 62; 150 - 0.344 * -68 - 0.714 * 62; 150 + 1.772 * -68
    assert_eq!(open.raster.samples(), [237, 129, 30].repeat(16 * 8));
    assert!(matches!(photo::check(&bytes, 16 * 8 - 1), Err(Fault::TooManyPixels { .. })));
    // What is cut short, or has another layout, is a fault and no panic.
    for length in (0..bytes.len()).step_by(7) {
        assert!(photo::check(&bytes[..length], LIMIT).is_err(), "{length}");
    }
}

#[test]
fn a_raw_preview_is_not_taken_for_the_photograph() {
    let preview = tiff(96, 48, &paint(96, 48, scene), 1, None);
    assert_eq!(photo::header(&preview, LIMIT), Err(Fault::ExportFirst("a camera raw file")));
}

#[cfg(not(feature = "heic"))]
#[test]
fn heic_has_its_own_fault() {
    let fault = photo::header(b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", LIMIT).unwrap_err();
    assert_eq!(fault, Fault::ExportFirst("HEIC"));
    assert_eq!(
        fault.to_string(),
        "HEIC is not read here; export the photograph as JPEG from the phone or the photo program"
    );
}

#[test]
fn one_component_a_scan_is_decoded_rightly() {
    // Slopes rather than patches, so that misplaced blocks cannot hide.
    let samples = paint(96, 80, |x, y| [(x * 2) as u8, (y * 3) as u8, 255 - (x + y) as u8]);
    for sampling in
        [SamplingFactor::F_2_2, SamplingFactor::F_1_2, SamplingFactor::F_2_1, SamplingFactor::F_1_1]
    {
        let plain = jpeg(96, 80, &samples, |encoder| encoder.set_sampling_factor(sampling));
        let apart = jpeg(96, 80, &samples, |encoder| {
            encoder.set_sampling_factor(sampling);
            encoder.set_optimized_huffman_tables(true);
        });
        assert_eq!((scans(&plain), scans(&apart)), (1, 3), "the encoder must write the kind that is tested");
        let (plain, apart) = (photo::open(&plain, LIMIT).unwrap(), photo::open(&apart, LIMIT).unwrap());
        assert_eq!(apart.defects, []);
        // The decoders draw the coarser colour out differently, so single pixels differ a little.
        let apart = apart.raster.samples();
        let sum: u64 = plain
            .raster
            .samples()
            .iter()
            .zip(apart)
            .map(|(one, other)| u64::from(one.abs_diff(*other)))
            .sum();
        let mean = sum as f64 / apart.len() as f64;
        assert!(mean < 2.0, "{sampling:?}: {mean}");
    }
}

#[test]
fn progressive_is_read() {
    let samples = paint(96, 48, scene);
    let bytes = jpeg(96, 48, &samples, |encoder| encoder.set_progressive(true));
    let open = photo::open(&bytes, LIMIT).unwrap();
    assert_eq!(open.defects, []);
    assert_near(&open.raster.samples()[..3], &RED, 6);
}

// ---------------------------------------------------------------------------------------------------------------------
// Nothing but the picture

#[test]
fn no_picture_carries_metadata() {
    let bytes = jpeg(96, 48, &paint(96, 48, scene), |encoder| {
        app(encoder, 1, &notes(ByteOrder::Big, 6, Some("2026:03:11 14:05:09")));
        app(encoder, 1, b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta/>");
        app(
            encoder,
            2,
            &[b"ICC_PROFILE\0\x01\x01", &ColorProfile::new_display_p3().encode().unwrap()[..]].concat(),
        );
        app(encoder, 2, b"MPF\0II*\0");
        app(encoder, 13, b"Photoshop 3.0\x008BIM");
    });
    // A comment before the picture, and a second picture with notes of its own after it, as phones append.
    let mut bytes = [&bytes[..2], b"\xFF\xFE\0\x09private", &bytes[2..]].concat();
    bytes.extend_from_slice(&bytes.clone());
    let developed = photo::develop(&bytes, &settings(&[96, 40])).unwrap();
    assert_eq!(developed.defects, []);
    assert_eq!(developed.pictures.len(), 2);
    for picture in &developed.pictures {
        let markers: Vec<u8> = segments(&picture.bytes).iter().map(|(marker, _)| *marker).collect();
        assert!(markers.contains(&0xDA) && markers.contains(&0xC2), "{markers:x?}");
        for marker in markers {
            let carries = matches!(marker, 0xE1..=0xEF | 0xFE);
            assert!(!carries, "segment {marker:x}");
        }
        assert!(!contains(&picture.bytes, b"private") && !contains(&picture.bytes, b"2026"));
        assert!(picture.bytes.ends_with(&[0xFF, 0xD9]));
    }
}

#[test]
fn same_bytes_from_any_thread() {
    let samples = paint(300, 200, |x, y| [(x % 251) as u8, (y % 241) as u8, ((x * y) % 239) as u8]);
    let bytes = jpeg(300, 200, &samples, |encoder| app(encoder, 1, &notes(ByteOrder::Big, 8, None)));
    let first = photo::develop(&bytes, &settings(&[160, 90])).unwrap();
    let others: Vec<_> = std::thread::scope(|scope| {
        let workers: Vec<_> =
            (0..4).map(|_| scope.spawn(|| photo::develop(&bytes, &settings(&[90, 160])).unwrap())).collect();
        workers.into_iter().map(|worker| worker.join().unwrap()).collect()
    });
    assert!(others.iter().all(|other| *other == first));
}

// ---------------------------------------------------------------------------------------------------------------------
// Damage

#[test]
fn a_truncated_jpeg_is_a_defect() {
    let samples = paint(160, 320, |x, y| [(x % 251) as u8, (y % 241) as u8, ((x * y) % 239) as u8]);
    let whole = jpeg(160, 320, &samples, |_| {});
    let half = &whole[..whole.len() / 2];
    let checked = photo::check(half, LIMIT).unwrap();
    let [Defect::CutShort { missing }] = checked.defects[..] else { panic!("{:?}", checked.defects) };
    assert!((35..65).contains(&missing), "{missing} %");
    let open = photo::open(half, LIMIT).unwrap();
    assert_near(&open.raster.samples()[open.raster.samples().len() - 3..], &[128; 3], 0);
    assert_eq!(photo::develop(half, &settings(&[80])).unwrap().defects, checked.defects);

    // Some programs that rescue files put an end mark where the data stopped.
    let rescued = [half, b"\xFF\xD9"].concat();
    let checked = photo::check(&rescued, LIMIT).unwrap();
    let [Defect::Damaged { missing, .. }] = checked.defects[..] else { panic!("{:?}", checked.defects) };
    assert!((35..65).contains(&missing), "{missing} %");

    // Without the end mark only, and with so little that nobody could use it.
    let unmarked = &whole[..whole.len() - 2];
    let open = photo::open(unmarked, LIMIT).unwrap();
    assert_eq!(open.defects, [Defect::CutShort { missing: 0 }]);
    assert_eq!(open.raster, photo::open(&whole, LIMIT).unwrap().raster);
    let start = segments(&whole).last().unwrap().1.end;
    let words = "the photograph cannot be read: the file is cut short and too little is left";
    assert_eq!(photo::check(&whole[..start + 30], LIMIT).unwrap_err().to_string(), words);
    assert!(matches!(photo::header(&whole[..start - 30], LIMIT), Err(Fault::Unreadable(_))));
}

#[test]
fn a_truncated_progressive_jpeg_is_a_defect() {
    let samples = paint(160, 160, |x, y| [(x % 251) as u8, (y % 241) as u8, ((x * y) % 239) as u8]);
    let whole = jpeg(160, 160, &samples, |encoder| encoder.set_progressive(true));
    let checked = photo::check(&whole[..whole.len() / 2], LIMIT).unwrap();
    assert_eq!(checked.defects, [Defect::CutShort { missing: 0 }]);
}

#[test]
fn a_truncated_png_is_a_defect() {
    let samples = paint(160, 320, |x, y| [(x % 251) as u8, (y % 241) as u8, ((x * y) % 239) as u8]);
    let opaque: Vec<u8> =
        samples.as_chunks::<3>().0.iter().flat_map(|&[red, green, blue]| [red, green, blue, 255]).collect();
    for (kind, whole) in [
        ("PNG", png(160, 320, &samples, ExtendedColorType::Rgb8, None)),
        ("transparent PNG", png(160, 320, &opaque, ExtendedColorType::Rgba8, None)),
    ] {
        let half = &whole[..whole.len() / 2];
        let open = photo::open(half, LIMIT).unwrap();
        let [Defect::Damaged { missing, .. }] = open.defects[..] else {
            panic!("{kind}: {:?}", open.defects)
        };
        assert!((20..80).contains(&missing), "{kind}: {missing} %");
        assert_eq!(open.raster.samples()[..160 * 3 * 32], samples[..160 * 3 * 32], "{kind}");
        assert_near(&open.raster.samples()[open.raster.samples().len() - 3..], &[128; 3], 0);
        assert!(matches!(photo::open(&whole[..60], LIMIT), Err(Fault::Unreadable(_))), "{kind}");
    }
}

#[test]
fn damage_in_the_middle_is_a_defect() {
    let samples = paint(160, 160, |x, y| [(x % 251) as u8, (y % 241) as u8, ((x * y) % 239) as u8]);
    let mut bytes = jpeg(160, 160, &samples, |_| {});
    let middle = bytes.len() * 2 / 3;
    bytes[middle..middle + 40].fill(0x55);
    // A restart mark has no place in a file that announces none.
    bytes[middle..middle + 2].copy_from_slice(&[0xFF, 0xC8]);
    let checked = photo::check(&bytes, LIMIT).unwrap();
    assert!(matches!(checked.defects[..], [Defect::Damaged { .. }]), "{:?}", checked.defects);
}

#[test]
fn stray_bytes_are_a_defect_that_harms_nothing() {
    let samples = paint(96, 48, scene);
    let clean = jpeg(96, 48, &samples, |_| {});
    let after_jfif = segments(&clean)[0].1.end;
    let stray = [&clean[..after_jfif], b"left over", &clean[after_jfif..]].concat();
    let open = photo::open(&stray, LIMIT).unwrap();
    assert_eq!(open.defects, [Defect::StrayBytes]);
    assert_eq!(open.raster, photo::open(&clean, LIMIT).unwrap().raster);
}

#[test]
fn a_bomb_is_refused_before_it_is_decoded() {
    let mut bomb = jpeg(8, 8, &[90; 192], |_| {});
    let frame = segments(&bomb).into_iter().find(|(marker, _)| *marker == 0xC0).unwrap().1;
    bomb[frame.start + 1..frame.start + 5].fill(0xFF);
    let mut png = png(8, 8, &[90; 192], ExtendedColorType::Rgb8, None);
    png[16..24].copy_from_slice(&[0, 0, 0xFF, 0xFF, 0, 0, 0xFF, 0xFF]);
    let checksum = crc32(&png[12..29]).to_be_bytes();
    png[29..33].copy_from_slice(&checksum);
    for bytes in [bomb, png] {
        let settings = Settings::default();
        let fault = Fault::TooManyPixels { width: 65_535, height: 65_535, limit: settings.max_pixels };
        assert_eq!(photo::header(&bytes, settings.max_pixels), Err(fault.clone()));
        assert_eq!(photo::check(&bytes, settings.max_pixels), Err(fault.clone()));
        assert_eq!(photo::develop(&bytes, &settings), Err(fault.clone()));
        let words = "too large: 65535 x 65535 is 4,294,836,225 pixels, and 120,000,000 is the most allowed";
        assert_eq!(fault.to_string(), words);
    }
}

#[test]
fn the_limit_is_exact() {
    let bytes = jpeg(20, 10, &[90; 600], |_| {});
    assert!(photo::check(&bytes, 200).is_ok());
    assert!(matches!(photo::check(&bytes, 199), Err(Fault::TooManyPixels { .. })));
}

#[test]
fn many_scans_are_refused() {
    let bytes = jpeg(96, 48, &paint(96, 48, scene), |encoder| encoder.set_progressive(true));
    let scan = segments(&bytes).last().unwrap().1.clone();
    let one = &bytes[scan.start - 4..bytes.len() - 2];
    let many = [&bytes[..bytes.len() - 2], &one.repeat(200), b"\xFF\xD9"].concat();
    assert!(matches!(photo::check(&many, LIMIT), Err(Fault::Unreadable(words)) if words.contains("scans")));
}

#[test]
fn variants_that_no_decoder_here_knows() {
    let plain = jpeg(8, 8, &[90; 192], |_| {});
    let frame = segments(&plain).into_iter().find(|(marker, _)| *marker == 0xC0).unwrap().1;
    let (marker, precision) = (frame.start - 3, frame.start);
    for (at, byte, words) in [
        (precision, 12, "a JPEG of 12 bits"),
        (marker, 0xC3, "a lossless JPEG"),
        (marker, 0xC9, "an arithmetic-coded JPEG"),
    ] {
        let mut bytes = plain.clone();
        bytes[at] = byte;
        assert_eq!(photo::header(&bytes, LIMIT), Err(Fault::Unsupported(words.to_owned())));
    }
}

/// Small photographs of every kind that is decoded here.
fn samples() -> Vec<Vec<u8>> {
    let pixels = paint(48, 40, |x, y| [(x * 5) as u8, (y * 6) as u8, (x * y) as u8]);
    let p3 = ColorProfile::new_display_p3().encode().unwrap();
    let profiled = |encoder: &mut Camera<'_>| {
        app(encoder, 1, &notes(ByteOrder::Big, 6, Some("2026:03:11 14:05:09")));
        app(encoder, 2, &[b"ICC_PROFILE\0\x01\x01", &p3[..]].concat());
    };
    let inks = jpeg_of(ColorType::CmykAsYcck, 48, 30, &pixels[..48 * 30 * 4], |encoder| {
        encoder.set_sampling_factor(SamplingFactor::F_2_2);
    });
    vec![
        jpeg(48, 40, &pixels, profiled),
        jpeg(48, 40, &pixels, |encoder| encoder.set_progressive(true)),
        jpeg(48, 40, &pixels, |encoder| encoder.set_optimized_huffman_tables(true)),
        jpeg(48, 40, &pixels, |encoder| encoder.set_restart_interval(3)),
        inks,
        png(48, 40, &pixels, ExtendedColorType::Rgb8, Some(&p3)),
        png(48, 20, &pixels[..48 * 20 * 4], ExtendedColorType::La16, None),
        webp(48, 40, &pixels, Some(&p3)),
        tiff(48, 40, &pixels, 0, Some(&p3)),
        tiff_of(48, 40, &pixels, &[8, 8, 8], 6),
        tiff_of(96, 40, &pixels, &[4], 1),
        gif(48, 40, &[[200, 30, 40]]),
        bitmap(48, 40, &pixels),
    ]
}

fn bitmap(width: u32, height: u32, samples: &[u8]) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = image::codecs::bmp::BmpEncoder::new(&mut bytes);
    encoder.encode(samples, width, height, ExtendedColorType::Rgb8).unwrap();
    bytes
}

/// Calls everything; what it says is free, as long as it says something and all agree.
fn survive(bytes: &[u8]) -> Result<(), TestCaseError> {
    let limit = 100_000;
    let settings = Settings { max_pixels: limit, ..settings(&[30, 12]) };
    let header = photo::header(bytes, limit);
    let checked = photo::check(bytes, limit);
    let developed = photo::develop(bytes, &settings);
    match (checked, developed) {
        (Ok(checked), Ok(developed)) => {
            prop_assert_eq!(&checked.defects, &developed.defects);
            prop_assert_eq!(header, Ok(checked.header));
            prop_assert!(!developed.pictures.is_empty());
        }
        (Err(one), Err(other)) => prop_assert_eq!(one, other),
        (checked, developed) => prop_assert!(false, "{checked:?} but {developed:?}"),
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_survive(kind in 0..8_usize, bytes in prop::collection::vec(any::<u8>(), 0..600)) {
        let magic = [&b""[..], b"\xFF\xD8\xFF", b"\x89PNG\r\n\x1A\n", b"RIFF\x40\x02\0\0WEBPVP8X", b"II*\0\x08\0\0\0", b"MM\0*", b"GIF89a", b"BM\x40\x02\0\0\0\0\0\0"];
        survive(&[magic[kind], &bytes].concat())?;
    }

    #[test]
    fn any_damage_survives(
        which in 0..13_usize,
        edits in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 0..8),
        cut in prop::option::of(any::<prop::sample::Index>()),
    ) {
        let mut bytes = samples().swap_remove(which);
        for (at, byte) in edits {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        if let Some(cut) = cut {
            bytes.truncate(cut.index(bytes.len()));
        }
        survive(&bytes)?;
    }
}

// ---------------------------------------------------------------------------------------------------------------------
// Making and reading test files

fn settings(widths: &[u32]) -> Settings {
    Settings { widths: widths.to_vec(), ..Settings::default() }
}

fn webp(width: u32, height: u32, samples: &[u8], profile: Option<&[u8]>) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = image::codecs::webp::WebPEncoder::new_lossless(&mut bytes);
    if let Some(profile) = profile {
        encoder.set_icc_profile(profile.to_vec()).unwrap();
    }
    encoder.write_image(samples, width, height, ExtendedColorType::Rgb8).unwrap();
    bytes
}

/// A film of these colours, each filling its picture.
fn gif(width: u32, height: u32, colours: &[[u8; 3]]) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = image::codecs::gif::GifEncoder::new(&mut bytes);
    for colour in colours {
        encoder
            .encode(&colour.repeat((width * height) as usize), width, height, ExtendedColorType::Rgb8)
            .unwrap();
    }
    drop(encoder);
    bytes
}

/// A TIFF of one uncompressed strip; `subfile` 1 marks it as a preview.
fn tiff(width: u32, height: u32, samples: &[u8], subfile: u32, profile: Option<&[u8]>) -> Vec<u8> {
    directory_and_strip((width, height), samples, &[8, 8, 8], 2, subfile, profile.unwrap_or_default())
}

/// A TIFF of one uncompressed strip whose pixels have samples of these many bits, and mean what the number says.
fn tiff_of(width: u32, height: u32, samples: &[u8], bits: &[u16], meaning: u32) -> Vec<u8> {
    directory_and_strip((width, height), samples, bits, meaning, 0, &[])
}

fn directory_and_strip(
    (width, height): (u32, u32),
    samples: &[u8],
    bits: &[u16],
    meaning: u32,
    subfile: u32,
    profile: &[u8],
) -> Vec<u8> {
    // Colours are as fine as the brightness.
    let subsampling = (meaning == 6).then_some((530, 3, 2, 1 | 1 << 16));
    let entries = 11 + u32::from(!profile.is_empty()) + u32::from(subsampling.is_some());
    let bits_at = 8 + 2 + entries * 12 + 4;
    let profile_at = bits_at + 6;
    let samples_at = profile_at + profile.len() as u32;
    let long = |tag: u16, value: u32| (tag, 4_u16, 1, value);
    let mut directory = vec![
        long(254, subfile),
        long(256, width),
        long(257, height),
        if bits.len() == 1 { long(258, bits[0].into()) } else { (258, 3, 3, bits_at) },
        long(259, 1),
        long(262, meaning),
        long(273, samples_at),
        long(277, bits.len() as u32),
        long(278, height),
        long(279, samples.len() as u32),
        long(284, 1),
    ];
    directory.extend(subsampling);
    if !profile.is_empty() {
        directory.push((34_675, 7, profile.len() as u32, profile_at));
    }
    let mut bytes = b"II*\0\x08\0\0\0".to_vec();
    bytes.extend((directory.len() as u16).to_le_bytes());
    for (tag, kind, count, value) in directory {
        bytes.extend(tag.to_le_bytes());
        bytes.extend(kind.to_le_bytes());
        bytes.extend(count.to_le_bytes());
        bytes.extend(value.to_le_bytes());
    }
    bytes.extend([0; 4]);
    bytes.extend([8, 0, 8, 0, 8, 0]);
    bytes.extend(profile);
    bytes.extend(samples);
    bytes
}

/// The notes of a camera set to Adobe RGB: three directories, each pointing to the next, the last saying `R03`.
fn exif_adobe_rgb() -> Vec<u8> {
    let mut notes = b"Exif\0\0MM\0*\0\0\0\x08".to_vec();
    notes.extend([0, 1, 0x87, 0x69, 0, 4, 0, 0, 0, 1, 0, 0, 0, 26, 0, 0, 0, 0]);
    notes.extend([0, 1, 0xA0, 0x05, 0, 4, 0, 0, 0, 1, 0, 0, 0, 44, 0, 0, 0, 0]);
    notes.extend([0, 1, 0x00, 0x01, 0, 2, 0, 0, 0, 4]);
    notes.extend(b"R03\0\0\0\0\0");
    notes
}

/// The segments up to the first scan: marker, and where its content lies.
fn segments(bytes: &[u8]) -> Vec<(u8, std::ops::Range<usize>)> {
    assert_eq!(bytes[..2], [0xFF, 0xD8]);
    let mut found = Vec::new();
    let mut at = 2;
    loop {
        assert_eq!(bytes[at], 0xFF);
        let length = usize::from(u16::from_be_bytes([bytes[at + 2], bytes[at + 3]]));
        found.push((bytes[at + 1], at + 4..at + 2 + length));
        if bytes[at + 1] == 0xDA {
            return found;
        }
        at += 2 + length;
    }
}

fn without_segment(bytes: &[u8], unwanted: u8) -> Vec<u8> {
    let (_, content) = segments(bytes).into_iter().find(|(marker, _)| *marker == unwanted).unwrap();
    [&bytes[..content.start - 4], &bytes[content.end..]].concat()
}

fn scans(bytes: &[u8]) -> usize {
    bytes.windows(2).filter(|pair| *pair == [0xFF, 0xDA]).count()
}

fn contains(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}

/// The checksum of a PNG chunk (ISO 3309), bit by bit.
fn crc32(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0, |sum, &byte| {
        (0..8).fold(
            sum ^ u32::from(byte),
            |sum, _| {
                if sum & 1 == 1 { (sum >> 1) ^ 0xEDB8_8320 } else { sum >> 1 }
            },
        )
    })
}

fn jpeg_info(bytes: &[u8]) -> jpeg_decoder::ImageInfo {
    let mut decoder = jpeg_decoder::Decoder::new(bytes);
    decoder.read_info().unwrap();
    decoder.info().unwrap()
}

/// A picture as a decoder sees it that is not the one under test.
struct Seen {
    width: u32,
    height: u32,
    samples: Vec<u8>,
}

impl Seen {
    fn decode(bytes: &[u8]) -> Seen {
        let info = jpeg_info(bytes);
        assert_eq!(info.pixel_format, jpeg_decoder::PixelFormat::RGB24);
        let samples = jpeg_decoder::Decoder::new(bytes).decode().unwrap();
        Seen { width: info.width.into(), height: info.height.into(), samples }
    }

    #[track_caller]
    fn assert_near(&self, x: u32, y: u32, expected: [u8; 3], within: u8) {
        let at = ((y * self.width + x) * 3) as usize;
        assert_near(&self.samples[at..at + 3], &expected, within);
    }
}

#[track_caller]
fn assert_near(seen: &[u8], expected: &[u8], within: u8) {
    let near = seen.iter().zip(expected).all(|(seen, expected)| seen.abs_diff(*expected) <= within);
    assert!(near && seen.len() == expected.len(), "{seen:?} is not within {within} of {expected:?}");
}
