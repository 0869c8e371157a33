//! Turning a photograph the way the camera was held.

use super::Raster;

/// The movements that bring a stored picture upright: first rows and columns swapped, then mirrored either way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Turn {
    /// Rows become columns.
    pub(super) swap: bool,
    /// Left becomes right, after the swap.
    pub(super) mirror: bool,
    /// Top becomes bottom, after the swap.
    pub(super) flip: bool,
}

impl Turn {
    /// The turn for an EXIF orientation, 1 to 8; any other value is no turn.
    ///
    /// # Source
    /// CIPA DC-008 (Exif 2.32), tag 274: where row 0 and column 0 of the stored picture lie in the upright one. From memory.
    pub(super) fn from_exif(orientation: u32) -> Turn {
        let (swap, mirror, flip) = match orientation {
            2 => (false, true, false),
            3 => (false, true, true),
            4 => (false, false, true),
            5 => (true, false, false),
            6 => (true, true, false),
            7 => (true, true, true),
            8 => (true, false, true),
            _ => (false, false, false),
        };
        Turn { swap, mirror, flip }
    }

    /// Width and height after the turn; the same call gives back those before it.
    pub(super) fn size(self, (width, height): (u32, u32)) -> (u32, u32) {
        if self.swap { (height, width) } else { (width, height) }
    }

    /// The picture turned.
    pub(super) fn apply(self, raster: Raster) -> Raster {
        if self == Turn::default() {
            return raster;
        }
        let (width, height) = self.size((raster.width(), raster.height()));
        let samples = match raster.ink().channels() {
            1 => self.samples::<1>(&raster, width, height),
            3 => self.samples::<3>(&raster, width, height),
            _ => self.samples::<4>(&raster, width, height),
        };
        Raster::new(width, height, raster.ink(), samples)
    }

    fn samples<const CHANNELS: usize>(self, raster: &Raster, width: u32, height: u32) -> Vec<u8> {
        let (pixels, _) = raster.samples().as_chunks::<CHANNELS>();
        let stride = raster.width() as usize;
        let mut turned = Vec::with_capacity(raster.samples().len());
        for y in 0..height {
            let row = if self.flip { height - 1 - y } else { y } as usize;
            for x in 0..width {
                let column = if self.mirror { width - 1 - x } else { x } as usize;
                let place = if self.swap { column * stride + row } else { row * stride + column };
                turned.extend_from_slice(&pixels[place]);
            }
        }
        turned
    }
}

#[cfg(test)]
mod tests {
    use super::super::Ink;
    use super::*;

    /// The upright picture has 1 2 3 over 4 5 6; this is how each orientation stores it, by the wording of the tag
    /// ("6: row 0 is the right-hand side, column 0 the top").
    #[test]
    fn eight_orientations_of_one_picture() {
        let stored: [(u32, u32, [u8; 6]); 8] = [
            (3, 2, [1, 2, 3, 4, 5, 6]),
            (3, 2, [3, 2, 1, 6, 5, 4]),
            (3, 2, [6, 5, 4, 3, 2, 1]),
            (3, 2, [4, 5, 6, 1, 2, 3]),
            (2, 3, [1, 4, 2, 5, 3, 6]),
            (2, 3, [3, 6, 2, 5, 1, 4]),
            (2, 3, [6, 3, 5, 2, 4, 1]),
            (2, 3, [4, 1, 5, 2, 6, 3]),
        ];
        for (orientation, (width, height, samples)) in (1..).zip(stored) {
            let raster = Raster::new(width, height, Ink::Grey, samples.to_vec());
            let upright = Turn::from_exif(orientation).apply(raster);
            assert_eq!((upright.width(), upright.height()), (3, 2), "orientation {orientation}");
            assert_eq!(upright.samples(), [1, 2, 3, 4, 5, 6], "orientation {orientation}");
        }
    }
}
