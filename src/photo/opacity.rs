//! What is seen of pixels that are not opaque.

/// Pixels of `CHANNELS` samples, the last of which says how opaque they are, laid on white paper in place.
pub(super) fn on_white<const CHANNELS: usize>(mut samples: Vec<u8>) -> Vec<u8> {
    let pixels = samples.len() / CHANNELS;
    for pixel in 0..pixels {
        let opaque = u32::from(samples[pixel * CHANNELS + CHANNELS - 1]);
        for channel in 0..CHANNELS - 1 {
            let sample = u32::from(samples[pixel * CHANNELS + channel]);
            let mixed = (sample * opaque + 255 * (255 - opaque) + 127) / 255;
            samples[pixel * (CHANNELS - 1) + channel] =
                u8::try_from(mixed).expect("a mixture of two samples lies between them");
        }
    }
    samples.truncate(pixels * (CHANNELS - 1));
    samples
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn transparency_lies_on_white() {
        assert_eq!(
            on_white::<4>(vec![10, 20, 30, 255, 10, 20, 30, 0, 0, 100, 200, 128]),
            [10, 20, 30, 255, 255, 255, 127, 177, 227]
        );
        assert_eq!(on_white::<2>(vec![0, 51]), [204]);
    }
}
