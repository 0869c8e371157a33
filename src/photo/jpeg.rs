//! The markers of a JPEG: what it is, what it carries beside the picture, and whether it ends as it should.
//!
//! Decoders forgive much and say little, so the outline is read here first. It decides which decoder is given the
//! file, and the decoder gets a copy without the segments it does not need: a damaged comment can then spoil nothing.
//!
//! Source: ITU-T Rec. T.81 (1992), annex B, for markers and segments; Adobe Technical Note 5116 (1992), section 18,
//! for the colour segment; ICC.1:2022, annex B.4, for profiles. All from memory.

use std::ops::Range;

use super::Fault;

/// The most scans a file may have. Every scan visits every block, so a small file with many scans could cost hours;
/// cameras and programs write about ten.
const MOST_SCANS: usize = 100;

/// What a JPEG says of itself before its first scan.
#[derive(Debug)]
pub(super) struct JpegHeader {
    /// Width in pixels, as stored.
    pub(super) width: u16,
    /// Height in pixels, as stored.
    pub(super) height: u16,
    /// How many components the frame has: 1, 3 or 4.
    pub(super) components: u8,
    /// Whether detail is spread over several scans.
    pub(super) progressive: bool,
    /// The colour transform of the Adobe segment, if there is one: 0 none, 1 YCbCr, 2 YCCK.
    pub(super) adobe: Option<u8>,
    /// Whether bytes that belong to nothing lie between the segments.
    pub(super) stray: bool,
    jfif: bool,
    first_scan_components: u8,
    exif: Option<Range<usize>>,
    profile: Vec<Range<usize>>,
    needed: Vec<Range<usize>>,
    scans_begin: usize,
}

/// Where the picture of a JPEG ends.
pub(super) struct Ending {
    /// Whether the end mark was found.
    pub(super) marked: bool,
    /// Where the last scan ends.
    end: usize,
}

/// A profile as it lies in the file.
pub(super) enum Icc {
    /// None there.
    None,
    /// Put together from its chunks.
    Whole(Vec<u8>),
    /// Chunks are missing or contradict each other.
    Broken,
}

impl JpegHeader {
    /// Reads the segments up to and including the first start of scan.
    ///
    /// # Errors
    /// [`Fault::Unsupported`] for lossless, arithmetic, hierarchical or 12-bit files and odd numbers of components;
    /// [`Fault::Unreadable`] when the file breaks off before its first scan.
    pub(super) fn read(bytes: &[u8]) -> Result<JpegHeader, Fault> {
        let mut outline = JpegHeader {
            width: 0,
            height: 0,
            components: 0,
            progressive: false,
            adobe: None,
            stray: false,
            jfif: false,
            first_scan_components: 0,
            exif: None,
            profile: Vec::new(),
            needed: Vec::new(),
            scans_begin: 0,
        };
        let mut at = 2;
        loop {
            let (marker, start) = next_marker(bytes, at).ok_or_else(breaks_off)?;
            // A marker is two bytes, and may be led by any number of fill bytes.
            outline.stray |= bytes[at..start - 2].iter().any(|&byte| byte != 0xFF);
            if is_bare(marker) {
                at = start;
                continue;
            }
            let body = segment(bytes, start).ok_or_else(breaks_off)?;
            at = body.end;
            outline.take(bytes, marker, body)?;
            if marker == SOS {
                outline.scans_begin = at;
                return if outline.components == 0 { Err(breaks_off()) } else { Ok(outline) };
            }
        }
    }

    fn take(&mut self, bytes: &[u8], marker: u8, body: Range<usize>) -> Result<(), Fault> {
        let whole = body.start - 4..body.end;
        let content = &bytes[body.clone()];
        match marker {
            SOF0..=SOF2 => {
                self.frame(marker, content)?;
                self.needed.push(whole);
            }
            0xC3 | 0xC5..=0xC7 | 0xC9..=0xCB | 0xCD..=0xCF | 0xDE | 0xF7 => {
                return Err(uncommon(marker));
            }
            DHT | DQT | DRI => self.needed.push(whole),
            SOS => {
                self.first_scan_components = content.first().copied().unwrap_or(0);
                self.needed.push(whole);
            }
            APP0 if content.starts_with(b"JFIF\0") => {
                self.jfif = true;
                self.needed.push(whole);
            }
            // Frames of film leave out their Huffman tables and say so here.
            APP0 if content.starts_with(b"AVI1") => self.needed.push(whole),
            APP1 if self.exif.is_none() && content.starts_with(b"Exif\0\0") => {
                self.exif = Some(body.start + 6..body.end);
            }
            APP2 if content.starts_with(b"ICC_PROFILE\0") && content.len() > 14 => {
                self.profile.push(body.start + 12..body.end);
            }
            APP14 if content.starts_with(b"Adobe") => {
                self.adobe = content.get(11).copied().filter(|&transform| transform <= 2);
            }
            _ => {}
        }
        Ok(())
    }

    fn frame(&mut self, marker: u8, content: &[u8]) -> Result<(), Fault> {
        let &[precision, h1, h0, w1, w0, components, ..] = content else {
            return Err(breaks_off());
        };
        if self.components != 0 {
            return Err(Fault::Unreadable("two frames in one file".to_owned()));
        }
        if precision != 8 {
            return Err(Fault::Unsupported(format!("a JPEG of {precision} bits")));
        }
        if !matches!(components, 1 | 3 | 4) {
            return Err(Fault::Unsupported(format!("a JPEG of {components} components")));
        }
        self.height = u16::from_be_bytes([h1, h0]);
        self.width = u16::from_be_bytes([w1, w0]);
        self.components = components;
        self.progressive = marker == SOF2;
        Ok(())
    }

    /// Whether a sequential file holds its components in scans of their own.
    ///
    /// `zune-jpeg` 0.5.15 decodes such files wrongly where colour is stored coarser than lightness, and says nothing.
    pub(super) fn one_component_a_scan(&self) -> bool {
        !self.progressive && self.first_scan_components < self.components
    }

    /// The camera's notes: a TIFF structure.
    pub(super) fn exif<'a>(&self, bytes: &'a [u8]) -> Option<&'a [u8]> {
        self.exif.clone().map(|range| &bytes[range])
    }

    /// The colour profile, put together from its chunks in their own order.
    pub(super) fn icc(&self, bytes: &[u8]) -> Icc {
        let mut chunks: Vec<&[u8]> = self.profile.iter().map(|range| &bytes[range.clone()]).collect();
        if chunks.is_empty() {
            return Icc::None;
        }
        chunks.sort_by_key(|chunk| chunk[0]);
        let count = chunks.len();
        let fits = |(place, chunk): (usize, &&[u8])| {
            usize::from(chunk[0]) == place + 1 && usize::from(chunk[1]) == count
        };
        if !chunks.iter().enumerate().all(fits) {
            return Icc::Broken;
        }
        Icc::Whole(chunks.iter().flat_map(|chunk| &chunk[2..]).copied().collect())
    }

    /// Walks the scans to the end mark, or to the end of the file.
    ///
    /// # Errors
    /// [`Fault::Unreadable`] when there are more scans than a sane file has.
    pub(super) fn ending(&self, bytes: &[u8]) -> Result<Ending, Fault> {
        let mut scans = 1;
        let mut at = self.scans_begin;
        let mut end = bytes.len();
        let mut marked = false;
        while let Some((marker, start)) = next_marker(bytes, at) {
            at = start;
            if marker == EOI {
                (marked, end) = (true, start - 2);
                break;
            }
            // In damaged data a marker may be mere chance: only those that may stand between scans are followed.
            if let (SOS | DHT | DQT | DRI | APP0..=0xEF | COM, Some(body)) = (marker, segment(bytes, start)) {
                scans += usize::from(marker == SOS);
                at = body.end;
            }
        }
        let most = if self.progressive { MOST_SCANS } else { usize::from(self.components) };
        if scans > most {
            return Err(Fault::Unreadable(format!(
                "it has {scans} scans, and {most} is the most such a file may have"
            )));
        }
        Ok(Ending { marked, end })
    }

    /// A copy for the decoder: the segments it needs, then the scans up to `ending`, without an end mark.
    pub(super) fn bare(&self, bytes: &[u8], ending: &Ending) -> Vec<u8> {
        let mut bare = Vec::with_capacity(bytes.len());
        bare.extend_from_slice(&[0xFF, 0xD8]);
        // Whoever writes JFIF means YCbCr, whatever another segment claims; the reference decoder holds it so, too.
        if let (Some(transform), false) = (self.adobe, self.jfif || self.components == 1) {
            bare.extend_from_slice(&[0xFF, APP14, 0, 14]);
            bare.extend_from_slice(b"Adobe\0\x64\0\0\0\0");
            bare.push(transform);
        }
        for range in &self.needed {
            bare.extend_from_slice(&bytes[range.clone()]);
        }
        bare.extend_from_slice(&bytes[self.scans_begin..ending.end]);
        bare
    }
}

/// The end mark.
pub(super) const END: [u8; 2] = [0xFF, EOI];

/// Sixteen bytes of nothing but ones, as they are written within a scan. No code consists of ones alone, so a decoder
/// that runs out of data stumbles here instead of inventing the rest of the picture from zeros.
pub(super) const BUFFER_STOP: [u8; 32] = {
    let mut ones = [0; 32];
    let mut place = 0;
    while place < 32 {
        ones[place] = 0xFF;
        place += 2;
    }
    ones
};

const SOF0: u8 = 0xC0;
const SOF2: u8 = 0xC2;
const DHT: u8 = 0xC4;
const EOI: u8 = 0xD9;
const SOS: u8 = 0xDA;
const DQT: u8 = 0xDB;
const DRI: u8 = 0xDD;
const APP0: u8 = 0xE0;
const APP1: u8 = 0xE1;
const APP2: u8 = 0xE2;
const APP14: u8 = 0xEE;
const COM: u8 = 0xFE;

/// The next marker at or after `at`, and where what follows it begins.
fn next_marker(bytes: &[u8], mut at: usize) -> Option<(u8, usize)> {
    loop {
        at += memchr::memchr(0xFF, bytes.get(at..)?)?;
        match *bytes.get(at + 1)? {
            0 => at += 2,
            0xFF => at += 1,
            marker => return Some((marker, at + 2)),
        }
    }
}

/// Whether a marker stands alone, without a segment.
fn is_bare(marker: u8) -> bool {
    matches!(marker, 0x01 | 0xD0..=0xD9)
}

/// The content of the segment whose length stands at `start`.
fn segment(bytes: &[u8], start: usize) -> Option<Range<usize>> {
    let length = bytes.get(start..start + 2)?;
    let length = usize::from(u16::from_be_bytes([length[0], length[1]]));
    (length >= 2 && start + length <= bytes.len()).then_some(start + 2..start + length)
}

fn breaks_off() -> Fault {
    Fault::Unreadable("it breaks off before the picture begins".to_owned())
}

fn uncommon(marker: u8) -> Fault {
    let name = match marker {
        0xC3 => "a lossless JPEG",
        0xC9..=0xCB => "an arithmetic-coded JPEG",
        0xF7 => "a JPEG-LS file",
        _ => "a hierarchical JPEG",
    };
    Fault::Unsupported(name.to_owned())
}
