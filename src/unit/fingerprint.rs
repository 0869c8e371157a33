//! Fingerprints of bytes.

use sha2::{Digest, Sha256};

/// The SHA-256 of some bytes, in lower-case hexadecimal, as `sha256sum` prints it.
pub fn fingerprint(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}

/// Bytes as lower-case hexadecimal.
pub(crate) fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    /// # Source
    /// FIPS 180-4 example values, "SHA256.pdf" of the Cryptographic Standards and Guidelines: the one-block
    /// message `abc` (from memory; `printf abc | sha256sum` of GNU coreutils prints the same).
    #[test]
    fn a_fingerprint_is_that_of_the_standard() {
        assert_eq!(
            super::fingerprint(b"abc"),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }
}
