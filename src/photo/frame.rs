//! Pictures cut to a shape that somebody else prescribes: for sharing, and for posts.
//!
//! A piece of furniture cut off at its feet is worth less than a small one. So a picture fills the frame only where it is
//! known what must stay in it, or next to nothing is cut away; else it stands whole, as a plate on its paper.

use serde::Serialize;

use super::common::Crop;
use super::develop::open;
use super::{Fault, Ink, Picture, Raster};

/// The most of a picture that is cut away, where it is known what must stay.
const MOST_CUT: f64 = 0.4;

/// The most where it is not known: less than the air that everybody leaves around a piece.
const BLIND_CUT: f64 = 0.08;

/// Pixels between two pictures in one frame.
const APART: u32 = 8;

/// What lies between them, and around a picture that does not fill its frame: the paper of the pages.
const PAPER: [u8; 3] = [0xf9, 0xfa, 0xf9];

/// A frame, and how many pictures it holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Frame {
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// Quality of the JPEG, 1 to 100.
    pub quality: u8,
}

/// A part of a picture that must stay in its frame, in fractions from the left and the top.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Keep {
    /// Its left and right edges.
    pub across: (f64, f64),
    /// Its upper and lower edges.
    pub down: (f64, f64),
}

/// One picture in a frame, or two beside or above each other, whichever shows more of them.
///
/// Pictures of one size are cut alike, so that before and after stay comparable.
///
/// # Errors
/// Any [`Fault`] of a picture that cannot be read.
///
/// # Panics
/// If there are no pictures, or more than two.
pub fn framed(
    pictures: &[Vec<u8>],
    frame: Frame,
    keep: Option<Keep>,
    max_pixels: u64,
) -> Result<Picture, Fault> {
    let rasters = pictures
        .iter()
        .map(|bytes| Ok(open(bytes, max_pixels)?.raster))
        .collect::<Result<Vec<Raster>, Fault>>()?;
    let size = (frame.width, frame.height);
    let whole = match rasters.as_slice() {
        [one] => in_frame(one, one, size, keep),
        [first, second] => {
            let like = if size_of(first) == size_of(second) { second } else { first };
            let halves = halves(size, size_of(second));
            let first = in_frame(first, like, halves.size, keep);
            let second = in_frame(second, second, halves.size, keep);
            halves.joined(&first, &second, size)
        }
        _ => panic!("a frame holds one picture or two"),
    };
    Ok(whole.to_jpeg(frame.quality))
}

fn size_of(raster: &Raster) -> (u32, u32) {
    (raster.width(), raster.height())
}

/// Two halves of a frame.
struct Halves {
    size: (u32, u32),
    beside: bool,
}

/// The halves of a frame in which a picture of this size is cut least.
fn halves((width, height): (u32, u32), picture: (u32, u32)) -> Halves {
    let beside = Halves { size: ((width - APART) / 2, height), beside: true };
    let above = Halves { size: (width, (height - APART) / 2), beside: false };
    if lost(picture, beside.size) < lost(picture, above.size) { beside } else { above }
}

impl Halves {
    fn joined(&self, first: &Raster, second: &Raster, (width, height): (u32, u32)) -> Raster {
        let mut canvas = Canvas::of(width, height);
        canvas.lay(first, (0, 0));
        let second_at = if self.beside { (width - self.size.0, 0) } else { (0, height - self.size.1) };
        canvas.lay(second, second_at);
        canvas.raster()
    }
}

/// How much of a picture a frame of this shape cuts away when the picture fills it.
fn lost(picture: (u32, u32), frame: (u32, u32)) -> f64 {
    let shape = |(width, height): (u32, u32)| f64::from(width) / f64::from(height);
    let (picture, frame) = (shape(picture), shape(frame));
    1.0 - picture.min(frame) / picture.max(frame)
}

/// A picture in a frame; `like` is the one that says where it is cut.
fn in_frame(raster: &Raster, like: &Raster, frame: (u32, u32), keep: Option<Keep>) -> Raster {
    match crop(like, frame, keep) {
        Some(crop) => raster.part_scaled(&crop, frame.0, frame.1),
        None => whole(raster, frame),
    }
}

/// The part of a picture that fills a frame; `None` where it is better shown whole.
fn crop(raster: &Raster, frame: (u32, u32), keep: Option<Keep>) -> Option<Crop> {
    let (width, height) = size_of(raster);
    if lost((width, height), frame) > if keep.is_some() { MOST_CUT } else { BLIND_CUT } {
        return None;
    }
    let across = f64::from(height) * f64::from(frame.0) / f64::from(frame.1);
    let wide = across < f64::from(width);
    let (whole, part) = match wide {
        true => (width, across.round() as u32),
        false => (height, (f64::from(width) * f64::from(frame.1) / f64::from(frame.0)).round() as u32),
    };
    let part = part.clamp(1, whole);
    let must = keep.map_or((0.5, 0.5), |keep| if wide { keep.across } else { keep.down });
    let from = held(must, whole, part)?;
    Some(match wide {
        true => Crop { left: from, top: 0, width: part, height },
        false => Crop { left: 0, top: from, width, height: part },
    })
}

/// Where a part begins that holds what must stay, in its middle as far as the picture reaches.
fn held((from, to): (f64, f64), whole: u32, part: u32) -> Option<u32> {
    let (from, to) = (from * f64::from(whole), to * f64::from(whole));
    if to - from > f64::from(part) {
        return None;
    }
    let most = f64::from(whole - part);
    Some(((from + to - f64::from(part)) / 2.0).clamp(0.0, most).round() as u32)
}

/// A picture as a whole in a frame.
fn whole(raster: &Raster, (width, height): (u32, u32)) -> Raster {
    let (wide, high) = size_of(raster);
    let scale = (f64::from(width) / f64::from(wide)).min(f64::from(height) / f64::from(high));
    let side = |pixels: u32, most: u32| ((f64::from(pixels) * scale).round() as u32).clamp(1, most);
    let small = raster.scaled(side(wide, width), side(high, height));
    let mut canvas = Canvas::of(width, height);
    canvas.lay(&small, ((width - small.width()) / 2, (height - small.height()) / 2));
    canvas.raster()
}

/// A ground that pictures are laid on.
struct Canvas {
    width: u32,
    height: u32,
    samples: Vec<u8>,
}

impl Canvas {
    fn of(width: u32, height: u32) -> Canvas {
        let pixels = width as usize * height as usize;
        Canvas { width, height, samples: PAPER.repeat(pixels) }
    }

    /// Lays a picture with its corner at a place.
    fn lay(&mut self, raster: &Raster, (left, top): (u32, u32)) {
        let step = raster.ink().channels();
        let across = raster.width() as usize;
        for (row, line) in raster.samples().chunks_exact(across * step).enumerate() {
            let at = ((top as usize + row) * self.width as usize + left as usize) * 3;
            for (place, pixel) in line.chunks_exact(step).enumerate() {
                let colour = if step == 3 { [pixel[0], pixel[1], pixel[2]] } else { [pixel[0]; 3] };
                self.samples[at + place * 3..at + place * 3 + 3].copy_from_slice(&colour);
            }
        }
    }

    fn raster(self) -> Raster {
        Raster::new(self.width, self.height, Ink::Rgb, self.samples)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::header;

    fn grey(width: u32, height: u32) -> Raster {
        Raster::new(width, height, Ink::Rgb, vec![120; (width * height * 3) as usize])
    }

    fn keep(down: (f64, f64)) -> Option<Keep> {
        Some(Keep { across: (0.1, 0.9), down })
    }

    const SHARE: (u32, u32) = (1200, 630);

    #[test]
    fn a_picture_fills_its_frame_where_what_must_stay_has_room() {
        let kept = crop(&grey(800, 600), SHARE, keep((0.35, 0.95))).expect("it has room");
        assert_eq!((kept.left, kept.top, kept.width, kept.height), (0, 180, 800, 420));
        let high = crop(&grey(800, 600), SHARE, keep((0.0, 0.4))).expect("it has room");
        assert_eq!(high.top, 0);
        let wide = crop(&grey(1600, 900), SHARE, None).expect("next to nothing is cut away");
        assert_eq!((wide.top, wide.height), (30, 840));
    }

    #[test]
    fn what_has_no_room_or_is_not_known_is_shown_whole() {
        assert_eq!(crop(&grey(800, 600), SHARE, keep((0.1, 0.9))), None);
        assert_eq!(
            crop(&grey(600, 800), SHARE, keep((0.4, 0.5))),
            None,
            "an upright picture would lose too much"
        );
        assert_eq!(crop(&grey(800, 600), SHARE, None), None, "nobody knows where the piece is");
        let plate = whole(&grey(600, 800), SHARE);
        assert_eq!((plate.samples()[0], plate.samples()[600 * 3]), (PAPER[0], 120));
    }

    #[test]
    fn every_frame_is_filled_to_the_pixel_whatever_is_put_in_it() {
        for (width, height) in [(800, 600), (600, 800), (640, 640), (3000, 40), (30, 2000), (1, 1)] {
            let bytes = grey(width, height).to_jpeg(80).bytes;
            for frame in [(1200, 630), (1080, 1080), (1080, 1350)] {
                let frame = Frame { width: frame.0, height: frame.1, quality: 80 };
                let one = framed(std::slice::from_ref(&bytes), frame, None, 10_000_000).expect("it reads");
                let two = framed(&[bytes.clone(), bytes.clone()], frame, None, 10_000_000).expect("it reads");
                for picture in [one, two] {
                    let read = header(&picture.bytes, 10_000_000).expect("it is a picture");
                    assert_eq!((read.width, read.height), (frame.width, frame.height));
                }
            }
        }
    }

    #[test]
    fn no_picture_is_made_of_what_is_none() {
        let frame = Frame { width: 10, height: 10, quality: 80 };
        assert!(framed(&[b"no picture".to_vec()], frame, None, 1000).is_err());
    }

    #[test]
    fn two_pictures_stand_where_they_are_cut_least() {
        assert!(halves((1080, 1350), (600, 800)).beside);
        assert!(!halves((1080, 1350), (800, 600)).beside);
        assert_eq!(halves((1080, 1080), (800, 600)).size, (1080, 536));
    }
}
