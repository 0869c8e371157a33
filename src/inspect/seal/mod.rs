//! Sealed records that were changed since, and the key that packs are signed with.

rules! {
    amendment_unexplained,
    changed_since_seal,
    unsound_signing_key,
}
