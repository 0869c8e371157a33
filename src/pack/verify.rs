//! Whether a pack is whole, which seal it carries, and which key signed it.

use std::collections::BTreeMap;

use super::key::Signed;
use super::{
    Contents, DECLARATION, Held, INFO, KeyFault, MANIFEST, MANIFEST_512, NUMBER, ORGANISATION, PAYLOAD,
    Problem, PublicKey, RECORD, RECORD_SEAL, SIGNATURE, SIGNING_KEY, TAG_MANIFEST, TAG_MANIFEST_512, TITLE,
    manifest, name,
};

/// What a pack is about, in its own words; empty where it does not say.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct About {
    /// The piece's title.
    pub title: String,
    /// The piece's number.
    pub number: String,
    /// Who made the pack.
    pub organisation: String,
    /// The day it was made.
    pub on: String,
}

/// The seal of the record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Seal {
    /// It is that of the record in the pack.
    Kept(String),
    /// The pack says one, and the record in it has another.
    Broken {
        /// As the pack says.
        said: String,
        /// As the record in it has it; `None` where there is no record.
        found: Option<String>,
    },
    /// The pack says none; the record in it would have this one.
    NotSaid(Option<String>),
}

/// The signature of the pack.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Signature {
    /// There is none.
    None,
    /// There is none, though the pack names a key or one was asked for.
    Gone,
    /// It is good, and was checked against the key that whoever asked trusts.
    Trusted {
        /// The key.
        key: PublicKey,
        /// The comment that is signed with it.
        comment: String,
    },
    /// It is good, and was checked against the key that the pack itself names, which anybody could have put there.
    BySaidKey {
        /// The key.
        key: PublicKey,
        /// The comment that is signed with it.
        comment: String,
    },
    /// There is one, and no key to check it against.
    NoKey {
        /// The name of the key that it says it was made with.
        id: String,
    },
    /// It was made with another key than the one that it was checked against.
    OtherKey {
        /// The name of the key that it says it was made with.
        id: String,
        /// The name of the key that was asked for.
        wanted: String,
    },
    /// It is not good.
    Bad(KeyFault),
}

/// What is to be said of a pack.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Verdict {
    /// What it is about.
    pub about: About,
    /// How many files its payload has, as found.
    pub files: usize,
    /// Their bytes.
    pub bytes: u64,
    /// What keeps it from being whole, the gravest kind first.
    pub problems: Vec<Problem>,
    /// The seal of its record.
    pub seal: Seal,
    /// Its signature.
    pub signature: Signature,
}

impl Verdict {
    /// Whether it holds exactly what it says.
    pub fn whole(&self) -> bool {
        self.problems.is_empty()
    }

    /// Whether nothing is wrong with it: whole, with its seal, and not wrongly signed.
    pub fn sound(&self) -> bool {
        let signature = match &self.signature {
            Signature::None
            | Signature::Trusted { .. }
            | Signature::BySaidKey { .. }
            | Signature::NoKey { .. } => true,
            Signature::Gone | Signature::OtherKey { .. } | Signature::Bad(_) => false,
        };
        self.whole() && signature
    }
}

/// Holds a pack against its own lists, and its signature against a key where one is trusted.
pub fn verify(contents: &Contents, trusted: Option<&PublicKey>) -> Verdict {
    let Contents { files, problems } = contents;
    let mut problems = problems.clone();
    let labels = labels(files, &mut problems);
    let label = |wanted: &str| {
        labels.iter().find(|(label, _)| label.eq_ignore_ascii_case(wanted)).map(|(_, value)| value.as_str())
    };
    let payload = || files.iter().filter(|(path, _)| path.starts_with(PAYLOAD));
    let (count, bytes) = (payload().count(), payload().map(|(_, held)| held.length).sum());
    // Where the zip or the declaration itself could not be opened, that is the reason, and is told.
    let opened = !problems.iter().any(|problem| match problem {
        Problem::Damaged(_) | Problem::TooMuch(_) | Problem::Layout(_) => true,
        Problem::Unreadable { path, .. } => path.ends_with(DECLARATION),
        _ => false,
    });
    if files.contains_key(DECLARATION) {
        declared(files, &mut problems);
        compare(files, &mut problems);
        counted(label("Payload-Oxum"), count, bytes, &mut problems);
    } else if opened {
        problems.push(Problem::NoBag);
    }
    let seal = seal(label(RECORD_SEAL), files.get(RECORD));
    // A record that was changed or lost has been told already.
    let told = |problem: &Problem| matches!(problem, Problem::Changed(path) | Problem::Missing(path) if path == RECORD);
    if matches!(seal, Seal::Broken { .. }) && !problems.iter().any(told) {
        problems.push(Problem::Seal);
    }
    problems.sort();
    problems.dedup();
    let said = label(SIGNING_KEY);
    let text = |label: Option<&str>| label.unwrap_or_default().to_owned();
    Verdict {
        about: About {
            title: text(label(TITLE)),
            number: text(label(NUMBER)),
            organisation: text(label(ORGANISATION)),
            on: text(label("Bagging-Date")),
        },
        files: count,
        bytes,
        problems,
        seal,
        signature: signature(files, trusted, said),
    }
}

/// The text of a tag file; a problem where it is too long to be one.
fn text<'a>(files: &'a BTreeMap<String, Held>, path: &str, problems: &mut Vec<Problem>) -> Option<&'a [u8]> {
    let held = files.get(path)?;
    if held.text.is_none() {
        problems.push(Problem::Unusable { path: path.to_owned(), why: "it is too long".to_owned() });
    }
    held.text.as_deref()
}

fn unusable(path: &str, (line, why): manifest::Fault) -> Problem {
    Problem::Unusable { path: path.to_owned(), why: format!("of line {line}, {why}") }
}

fn labels(files: &BTreeMap<String, Held>, problems: &mut Vec<Problem>) -> Vec<(String, String)> {
    let Some(bytes) = text(files, INFO, problems) else { return Vec::new() };
    manifest::labels(bytes).unwrap_or_else(|fault| {
        problems.push(unusable(INFO, fault));
        Vec::new()
    })
}

/// Whether the declaration names a version that this reads.
fn declared(files: &BTreeMap<String, Held>, problems: &mut Vec<Problem>) {
    let Some(bytes) = text(files, DECLARATION, problems) else { return };
    let labels = match manifest::labels(bytes) {
        Ok(labels) => labels,
        Err(fault) => return problems.push(unusable(DECLARATION, fault)),
    };
    let says = |wanted: &str, value: &str| {
        labels.iter().any(|(label, said)| label == wanted && said.eq_ignore_ascii_case(value))
    };
    // Many a program still writes the draft before the RFC, of which bags like these read alike.
    let version = ["1.0", "0.97"].into_iter().any(|version| says("BagIt-Version", version));
    if !version || !says("Tag-File-Character-Encoding", "UTF-8") {
        let why = "it does not declare BagIt 1.0 (or 0.97) in UTF-8".to_owned();
        problems.push(Problem::Unusable { path: DECLARATION.to_owned(), why });
    }
}

/// A kind of fingerprint, and the two lists of it that a bag may have.
struct Kind {
    payload: &'static str,
    tags: &'static str,
    digits: usize,
    of: fn(&Held) -> &str,
}

const SHA_256: Kind = Kind { payload: MANIFEST, tags: TAG_MANIFEST, digits: 64, of: |held| &held.digest };
const SHA_512: Kind =
    Kind { payload: MANIFEST_512, tags: TAG_MANIFEST_512, digits: 128, of: |held| &held.digest_512 };

/// Holds every file against the lists. Packs of ours have both lists of SHA-256; a bag by somebody else may have those
/// of SHA-512 instead, or as well.
fn compare(files: &BTreeMap<String, Held>, problems: &mut Vec<Problem>) {
    let has = |kind: &Kind| files.contains_key(kind.payload) || files.contains_key(kind.tags);
    let other = files.keys().find_map(|path| path.strip_prefix("manifest-")?.strip_suffix(".txt"));
    match (has(&SHA_256), has(&SHA_512), other) {
        (false, true, _) => compare_with(&SHA_512, false, files, problems),
        (false, false, Some(other)) => problems.push(Problem::OtherKind(other.to_uppercase())),
        (_, other, _) => {
            compare_with(&SHA_256, true, files, problems);
            if other {
                compare_with(&SHA_512, false, files, problems);
            }
        }
    }
}

/// A list of a bag; it is a problem that it is not there, or cannot be read.
fn list(
    files: &BTreeMap<String, Held>,
    path: &str,
    digits: usize,
    problems: &mut Vec<Problem>,
) -> Option<BTreeMap<String, String>> {
    if !files.contains_key(path) {
        problems.push(Problem::Missing(path.to_owned()));
        return None;
    }
    let read = manifest::read(text(files, path, problems)?, digits);
    read.map_err(|fault| problems.push(unusable(path, fault))).ok()
}

/// Holds every file against the two lists of one kind. RFC 8493 lets the list of the other lists be absent, which it
/// never is from a pack of ours.
fn compare_with(kind: &Kind, ours: bool, files: &BTreeMap<String, Held>, problems: &mut Vec<Problem>) {
    let payload = list(files, kind.payload, kind.digits, problems);
    let wanted = ours || files.contains_key(kind.tags);
    let tags = if wanted { list(files, kind.tags, kind.digits, problems) } else { None };
    let (mut missing, mut added) = (Vec::new(), Vec::new());
    for (list, listed) in [(kind.payload, &payload), (kind.tags, &tags)] {
        for (path, digest) in listed.iter().flatten() {
            if path.starts_with(PAYLOAD) != (list == kind.payload) {
                let why = format!("it lists `{path}`, which belongs into the other list");
                problems.push(Problem::Unusable { path: list.to_owned(), why });
            }
            match files.get(path) {
                Some(held) if (kind.of)(held) == digest => {}
                Some(_) => problems.push(Problem::Changed(path.clone())),
                None => missing.push((path, digest)),
            }
        }
    }
    for (path, held) in files {
        let listed = match path.starts_with(PAYLOAD) {
            true => payload.as_ref(),
            false => tags.as_ref(),
        };
        // Where a list cannot be read, that is the problem, and not each file that it might have named.
        let stands = listed.is_none_or(|listed| listed.contains_key(path));
        if !stands && ![TAG_MANIFEST, TAG_MANIFEST_512, SIGNATURE].contains(&path.as_str()) {
            added.push((path, held));
        }
    }
    for (from, digest) in missing {
        // Cannot be read is a problem of its own, which was noted.
        if problems.iter().any(|problem| matches!(problem, Problem::Unreadable { path, .. } if path == from))
        {
            continue;
        }
        problems.push(match added.iter().position(|(_, held)| (kind.of)(held) == digest) {
            Some(place) => Problem::Renamed { from: from.clone(), to: added.swap_remove(place).0.clone() },
            None => Problem::Missing(from.clone()),
        });
    }
    for (path, _) in added {
        problems.push(match name::is_nobodys(path) {
            true => Problem::Litter(path.clone()),
            false => Problem::Added(path.clone()),
        });
    }
}

/// Holds the count of the payload against what the pack says of it; told only where nothing else explains it.
fn counted(said: Option<&str>, files: usize, bytes: u64, problems: &mut Vec<Problem>) {
    let found = format!("{bytes}.{files}");
    if let Some(said) = said.filter(|said| *said != found && problems.is_empty()) {
        problems.push(Problem::Count { said: said.to_owned(), found });
    }
}

fn seal(said: Option<&str>, record: Option<&Held>) -> Seal {
    let found = record.map(|record| record.digest.clone());
    match said {
        None => Seal::NotSaid(found),
        Some(said) if found.as_deref().is_some_and(|found| found.eq_ignore_ascii_case(said)) => {
            Seal::Kept(said.to_ascii_lowercase())
        }
        Some(said) => Seal::Broken { said: said.to_owned(), found },
    }
}

fn signature(files: &BTreeMap<String, Held>, trusted: Option<&PublicKey>, said: Option<&str>) -> Signature {
    let Some(held) = files.get(SIGNATURE) else {
        return if trusted.is_some() || said.is_some() { Signature::Gone } else { Signature::None };
    };
    let signed = match Signed::read(held.text.as_deref().unwrap_or_default()) {
        Ok(signed) => signed,
        Err(fault) => return Signature::Bad(fault),
    };
    // What the pack says of its key counts only where nobody knows better.
    let said = match said.filter(|_| trusted.is_none()).map(PublicKey::read).transpose() {
        Ok(said) => said,
        Err(fault) => return Signature::Bad(fault),
    };
    let Some(key) = trusted.or(said.as_ref()) else { return Signature::NoKey { id: signed.id() } };
    let list = files.get(TAG_MANIFEST).and_then(|held| held.text.as_deref()).unwrap_or_default();
    match signed.check(key, list) {
        Ok(comment) if trusted.is_some() => Signature::Trusted { key: key.clone(), comment },
        Ok(comment) => Signature::BySaidKey { key: key.clone(), comment },
        Err(KeyFault::OtherKey) => Signature::OtherKey { id: signed.id(), wanted: key.id() },
        Err(fault) => Signature::Bad(fault),
    }
}
