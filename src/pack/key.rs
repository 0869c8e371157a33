//! Keys and signatures in minisign's format.

use std::fmt;
use std::io::Cursor;

use ct_codecs::{Base64, Decoder};
use minisign::{KeyPair, SecretKey, SecretKeyBox, SignatureBox};

use crate::unit::legible::{one_line, without_unseen};

/// Why a key or a signature could not be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum KeyFault {
    /// The text is no public key.
    #[error("this is no public key of minisign; one is 56 letters and digits, and begins with RW")]
    NotPublic,
    /// The text is a public key where a secret one is needed.
    #[error("this is a public key, and signing needs the secret one")]
    PublicForSecret,
    /// The text is no secret key.
    #[error("this is no secret key of minisign, or it is damaged")]
    NotSecret,
    /// The secret key is locked and no password was given.
    #[error("this secret key is locked, and needs its password")]
    Locked,
    /// The password is not that of the key.
    #[error("this is not the password of this secret key")]
    WrongPassword,
    /// The text is no signature.
    #[error("this is no signature of minisign, or it is damaged")]
    NotASignature,
    /// The signature is another key's.
    #[error("it was made with another key")]
    OtherKey,
    /// The signature is not of these bytes.
    #[error("it was not made of this pack, or one of the two was changed")]
    Mismatch,
    /// The system gives no random numbers, without which there is neither key nor signature.
    #[error("this system gives no random numbers")]
    NoRandomness,
}

/// A public key, by which everybody can check a signature.
#[derive(Debug, Clone)]
pub struct PublicKey(minisign::PublicKey);

impl PublicKey {
    /// Reads a public key: the 56 characters alone, or the file that holds them below a remark.
    ///
    /// # Errors
    /// [`KeyFault::NotPublic`].
    pub fn read(text: &str) -> Result<PublicKey, KeyFault> {
        let key = text.lines().map(str::trim).rfind(|line| !line.is_empty()).ok_or(KeyFault::NotPublic)?;
        // The library takes any algorithm; minisign has one, and its keys all begin alike.
        if !key.starts_with("RW") {
            return Err(KeyFault::NotPublic);
        }
        minisign::PublicKey::from_base64(key).map(PublicKey).map_err(|_| KeyFault::NotPublic)
    }

    /// Its name of 16 hexadecimal digits, as minisign prints it.
    pub fn id(&self) -> String {
        id(self.0.keynum())
    }

    /// The key as the file that minisign reads.
    pub fn file(&self) -> String {
        format!("untrusted comment: minisign public key {}\n{self}\n", self.id())
    }
}

impl fmt::Display for PublicKey {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.0.to_base64())
    }
}

impl PartialEq for PublicKey {
    fn eq(&self, other: &PublicKey) -> bool {
        self.0.to_bytes() == other.0.to_bytes()
    }
}

impl Eq for PublicKey {}

/// How a secret key begins: the kind of signature, how it is locked, and the kind of checksum.
const UNLOCKED: &[u8] = b"Ed\0\0B2";
const LOCKED: &[u8] = b"EdScB2";

/// A secret key, unlocked.
pub struct Signer {
    secret: SecretKey,
    public: PublicKey,
}

impl Signer {
    /// Opens a secret key from the text of its file.
    ///
    /// # Errors
    /// [`KeyFault::Locked`] where it needs a password and none is given; ask for it and try again.
    pub fn open(text: &str, password: Option<&str>) -> Result<Signer, KeyFault> {
        if PublicKey::read(text).is_ok() {
            return Err(KeyFault::PublicForSecret);
        }
        let line = text.lines().nth(1).unwrap_or_default().trim();
        let bytes = Base64::decode_to_vec(line, None).map_err(|_| KeyFault::NotSecret)?;
        let secret = match bytes.get(..6) {
            // The library refuses keys without a checksum, which is how minisign itself writes unlocked ones.
            Some(UNLOCKED) => SecretKey::from_bytes(&bytes).map_err(|_| KeyFault::NotSecret)?,
            Some(LOCKED) => {
                let password = password.ok_or(KeyFault::Locked)?.to_owned();
                let boxed = SecretKeyBox::from_string(text).map_err(|_| KeyFault::NotSecret)?;
                boxed.into_secret_key(Some(password)).map_err(|_| KeyFault::WrongPassword)?
            }
            _ => return Err(KeyFault::NotSecret),
        };
        let public = minisign::PublicKey::from_secret_key(&secret).map_err(|_| KeyFault::NotSecret)?;
        let signer = Signer { secret, public: PublicKey(public) };
        // A damaged key makes signatures that its public half does not check.
        signer.sign(b"", "").map_err(|_| KeyFault::NotSecret)?;
        Ok(signer)
    }

    /// The public key that checks what this one signs.
    pub fn key(&self) -> &PublicKey {
        &self.public
    }

    /// Signs bytes and a comment of one line, which `minisign -V` prints. The text of the signature's file.
    ///
    /// Two signatures of the same bytes differ, since randomness guards the key against faults of the machine.
    ///
    /// # Errors
    /// [`KeyFault::NoRandomness`].
    pub fn sign(&self, bytes: &[u8], comment: &str) -> Result<String, KeyFault> {
        let comment = one_line(&without_unseen(comment));
        let remark = format!("signature by key {}", self.public.id());
        minisign::sign(Some(&self.public.0), &self.secret, Cursor::new(bytes), Some(&comment), Some(&remark))
            .map(|signature| signature.to_string())
            .map_err(|_| KeyFault::NoRandomness)
    }
}

/// Makes a pair of keys: the text of the secret key's file, and the public key. Without a password the secret key
/// is not locked, and whoever has the file can sign.
///
/// # Errors
/// [`KeyFault::NoRandomness`].
pub fn new_keys(password: Option<&str>) -> Result<(String, PublicKey), KeyFault> {
    let pair = match password {
        Some(password) => KeyPair::generate_encrypted_keypair(Some(password.to_owned())),
        None => KeyPair::generate_unencrypted_keypair(),
    };
    let pair = pair.map_err(|_| KeyFault::NoRandomness)?;
    let public = PublicKey(pair.pk);
    let locked = if password.is_some() { "locked" } else { "not locked by a password" };
    let remark = format!("minisign secret key {}, {locked}: keep it to yourself", public.id());
    let secret = pair.sk.to_box(Some(&remark)).map_err(|_| KeyFault::NoRandomness)?;
    Ok((secret.into_string(), public))
}

/// A signature in minisign's format, read and not yet checked.
pub(super) struct Signed(SignatureBox);

impl Signed {
    pub(super) fn read(bytes: &[u8]) -> Result<Signed, KeyFault> {
        let text = std::str::from_utf8(bytes).map_err(|_| KeyFault::NotASignature)?;
        // The library indexes into the second signature without looking at its length: 64 bytes are 88 characters.
        let second = text.lines().nth(3).map_or(0, |line| line.trim().len());
        if second != 88 {
            return Err(KeyFault::NotASignature);
        }
        SignatureBox::from_string(text).map(Signed).map_err(|_| KeyFault::NotASignature)
    }

    /// The name of the key that it says it was made with.
    pub(super) fn id(&self) -> String {
        id(self.0.keynum())
    }

    /// The comment that is signed with the bytes.
    ///
    /// # Errors
    /// Where it is not this key's, or not of these bytes.
    pub(super) fn check(&self, key: &PublicKey, bytes: &[u8]) -> Result<String, KeyFault> {
        if self.id() != key.id() {
            return Err(KeyFault::OtherKey);
        }
        minisign::verify(&key.0, &self.0, Cursor::new(bytes), true, false, true)
            .map_err(|_| KeyFault::Mismatch)?;
        Ok(self.0.trusted_comment().unwrap_or_default())
    }
}

/// A key's number as minisign prints it: the least byte last.
fn id(number: &[u8]) -> String {
    number.iter().rev().map(|byte| format!("{byte:02X}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_one_key_signs_its_public_half_checks() {
        let (secret, public) = new_keys(None).unwrap();
        let signer = Signer::open(&secret, None).unwrap();
        assert_eq!(*signer.key(), public);
        let text = signer.sign(b"oak", "TL-007\n2026-04-20").unwrap();
        let signed = Signed::read(text.as_bytes()).unwrap();
        assert_eq!(signed.id(), public.id());
        assert_eq!(signed.check(&public, b"oak"), Ok("TL-007 2026-04-20".to_owned()));
        assert_eq!(signed.check(&public, b"elm"), Err(KeyFault::Mismatch));
        let (_, other) = new_keys(None).unwrap();
        assert_eq!(signed.check(&other, b"oak"), Err(KeyFault::OtherKey));
        let other_comment = text.replace("TL-007", "TL-008");
        assert_eq!(
            Signed::read(other_comment.as_bytes()).unwrap().check(&public, b"oak"),
            Err(KeyFault::Mismatch)
        );
    }

    #[test]
    fn a_locked_key_opens_with_its_password_alone() {
        let (secret, public) = new_keys(Some("pear wood")).unwrap();
        assert_eq!(Signer::open(&secret, None).err(), Some(KeyFault::Locked));
        assert_eq!(Signer::open(&secret, Some("plum wood")).err(), Some(KeyFault::WrongPassword));
        assert_eq!(*Signer::open(&secret, Some("pear wood")).unwrap().key(), public);
    }

    /// A key pair made by minisign 0.11 of Debian 12, `minisign -G -W -p deb.pub -s deb.key`, and of no other use.
    #[test]
    fn a_key_that_minisign_made_is_opened() {
        let secret = "untrusted comment: minisign encrypted secret key\nRWQAAEIyAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAVOVxA/yOUXU6Bi7X7N5QFO/PI6D6HVhvRhaUOwzehSpgr0Jz9O1JZwrr7Pc7NrF4LD08eHMY7LnH4NcwexP2wK+/iwLC42PDAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA=\n";
        let signer = Signer::open(secret, None).unwrap();
        assert_eq!(signer.key().to_string(), "RWRU5XED/I5RdQrr7Pc7NrF4LD08eHMY7LnH4NcwexP2wK+/iwLC42PD");
        let damaged = secret.replace("5QFO/PI6", "5QFO/PIA");
        assert_eq!(Signer::open(&damaged, None).err(), Some(KeyFault::NotSecret));
    }

    #[test]
    fn a_public_key_is_read_bare_or_from_its_file() {
        let (secret, public) = new_keys(None).unwrap();
        assert_eq!(PublicKey::read(&public.to_string()), Ok(public.clone()));
        assert_eq!(PublicKey::read(&format!("  {public} \r\n\n")), Ok(public.clone()));
        assert_eq!(PublicKey::read(&public.file()), Ok(public.clone()));
        for bad in ["", "RW", &secret, &"R".repeat(56), &"é".repeat(28), &format!("RW{}", "!".repeat(54))] {
            assert_eq!(PublicKey::read(bad), Err(KeyFault::NotPublic), "{bad}");
        }
        assert_eq!(Signer::open(&public.file(), None).err(), Some(KeyFault::PublicForSecret));
    }

    #[test]
    fn no_text_makes_reading_a_key_or_signature_panic() {
        let (secret, public) = new_keys(None).unwrap();
        let signature = Signer::open(&secret, None).unwrap().sign(b"oak", "c").unwrap();
        for text in [secret.as_str(), &public.file(), &signature] {
            for cut in 0..text.len() {
                let shorter = &text.as_bytes()[..cut];
                let _ = Signer::open(&String::from_utf8_lossy(shorter), None);
                let _ = PublicKey::read(&String::from_utf8_lossy(shorter));
                let signed = Signed::read(shorter).and_then(|signed| signed.check(&public, b"oak"));
                assert!(signed.is_err() || cut + 1 >= text.len(), "cut at {cut}");
                let mut flipped = text.as_bytes().to_vec();
                flipped[cut] ^= 1;
                let _ = Signer::open(&String::from_utf8_lossy(&flipped), Some(""));
                let _ = Signed::read(&flipped).and_then(|signed| signed.check(&public, b"oak"));
            }
        }
        // A second signature that is too short.
        let short: Vec<&str> = signature.lines().take(3).chain(["AAAA"]).collect();
        assert_eq!(Signed::read(short.join("\n").as_bytes()).err(), Some(KeyFault::NotASignature));
    }
}
