//! `keys`: makes the pair of keys that packs are signed and checked with.

use std::fs;
use std::io::{self, IsTerminal, Read};
use std::path::{Path, PathBuf};

use clap::Args;
use console::Term;

use super::voice::Voice;
use super::{Outcome, Trouble};
use crate::pack::{KeyFault, PublicKey, Signer, new_keys};
use crate::source::{PlainFile, limit};
use crate::unit::wrapped;
use crate::write;

/// The names of the two files.
const SECRET: &str = "witnessmark.key";
const PUBLIC: &str = "witnessmark.pub";

#[derive(Debug, Args)]
pub(super) struct Keys {
    /// Where they lie, if not among your own settings
    #[arg(long, value_name = "DIR")]
    to: Option<PathBuf>,
    /// Leave the secret key unlocked: whoever has it can sign
    #[arg(long)]
    without_password: bool,
    /// Allow it in a workshop's folder, which may get shown
    #[arg(long)]
    inside_workshop: bool,
    /// Make none, and print the public key of those there
    #[arg(long, conflicts_with_all = ["without_password", "inside_workshop"])]
    show: bool,
}

impl Keys {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        if self.show {
            Voice::out().say(signer(self.to.as_deref())?.key())?;
            return Ok(Outcome::Clean);
        }
        let folder = self.to.map_or_else(usual_folder, Ok)?;
        if let (false, Some(workshop)) = (self.inside_workshop, workshop_around(&folder)) {
            return Err(Trouble::KeyInWorkshop(workshop));
        }
        let (secret, public) = (folder.join(SECRET), folder.join(PUBLIC));
        // Seen before a password is asked for. Adding looks again and never overwrites.
        for path in [&secret, &public] {
            if fs::symlink_metadata(path).is_ok() {
                return Err(Trouble::KeyThere(path.clone()));
            }
        }
        write::clear_halves(&folder);
        let password = if self.without_password { None } else { Some(new_password()?) };
        let (text, key) = new_keys(password.as_deref()).map_err(Trouble::NoKeys)?;
        if !write::add_secret(&secret, text.as_bytes())? {
            return Err(Trouble::KeyThere(secret));
        }
        if !write::add(&public, key.file().as_bytes())? {
            return Err(Trouble::KeyThere(public));
        }
        let voice = Voice::out();
        voice.say(made(&secret, &public, &key, password.is_some(), &voice))?;
        Ok(Outcome::Clean)
    }
}

fn made(secret: &Path, public: &Path, key: &PublicKey, locked: bool, voice: &Voice) -> String {
    let text = |text: &str| wrapped(text, voice.text_width(), "");
    let lock = match locked {
        true => {
            "Only you can read the secret key, and it is locked with the password. Keep a copy of it, and of the \
                 password, in a safe place: neither can be made again."
        }
        false => {
            "Only you can read the secret key, but it is not locked: whoever gets hold of the file can sign in your \
                  name. Keep a copy in a safe place: it cannot be made again."
        }
    };
    [
        format!("{} {}", voice.strong("Made the key"), key.id()),
        format!("  secret  {}", secret.display()),
        format!("  public  {}", public.display()),
        String::new(),
        text(lock),
        String::new(),
        text("Publish the public key, and write it into workshop.toml, so that the papers print it:"),
        format!("  signing-key = \"{key}\""),
    ]
    .join("\n")
}

/// Where a person's own settings lie.
fn usual_folder() -> Result<PathBuf, Trouble> {
    // The standard says to pass over a path that is not absolute.
    let set = std::env::var_os("XDG_CONFIG_HOME").map(PathBuf::from).filter(|path| path.is_absolute());
    let home = || std::env::home_dir().filter(|home| home.is_absolute()).map(|home| home.join(".config"));
    set.or_else(home).map(|settings| settings.join("witnessmark")).ok_or(Trouble::NoHome)
}

/// The workshop that a folder, which need not be there yet, is in or is.
fn workshop_around(folder: &Path) -> Option<PathBuf> {
    let absolute = std::path::absolute(folder).ok()?;
    // Of a folder that is still to be made, what is there above it decides, with its links followed.
    let there = absolute.ancestors().find_map(|above| above.canonicalize().ok())?;
    let is_workshop = |folder: &&Path| fs::symlink_metadata(folder.join("workshop.toml")).is_ok();
    there.ancestors().find(is_workshop).map(Path::to_owned)
}

/// The public key that was given: itself, or the file that holds it.
pub(super) fn public_key(given: &str) -> Result<PublicKey, Trouble> {
    if let Ok(key) = PublicKey::read(given) {
        return Ok(key);
    }
    let path = Path::new(given);
    if !path.exists() && !given.contains(['/', '\\', '.']) && given.len() > 40 {
        // It was meant to be a key, and not a file.
        return Err(Trouble::Key { path: given.into(), fault: KeyFault::NotPublic });
    }
    PublicKey::read(&short_text(path)?).map_err(|fault| Trouble::Key { path: path.to_owned(), fault })
}

/// The workshop's secret key, from where it was put or else from the usual place; its password is asked for if need be.
pub(super) fn signer(from: Option<&Path>) -> Result<Signer, Trouble> {
    let path = match from {
        Some(path) if path.is_dir() => path.join(SECRET),
        Some(path) => path.to_owned(),
        None => usual_folder()?.join(SECRET),
    };
    if !path.exists() {
        return Err(Trouble::NoKey(path));
    }
    let text = short_text(&path)?;
    let opened = match Signer::open(&text, None) {
        Err(KeyFault::Locked) => Signer::open(&text, Some(&password("Password of the secret key: ")?)),
        opened => opened,
    };
    opened.map_err(|fault| Trouble::Key { path, fault })
}

/// The text of a file that is not longer than a key is.
fn short_text(path: &Path) -> Result<String, Trouble> {
    let bytes = PlainFile::named(path).and_then(|file| file.all(limit::KEY));
    let bytes = bytes.map_err(|fault| Trouble::unread(path, fault))?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

/// A password for a key that is to be made.
fn new_password() -> Result<String, Trouble> {
    let first = password("A password for the secret key: ")?;
    // Whoever pipes a password in has it written down.
    if io::stdin().is_terminal() && password("The same once more: ")? != first {
        return Err(Trouble::PasswordsDiffer);
    }
    Ok(first)
}

/// A password, typed unseen at the terminal, or the first line of what is piped in.
fn password(prompt: &str) -> Result<String, Trouble> {
    let read = || {
        if io::stdin().is_terminal() {
            let term = Term::stderr();
            term.write_str(prompt)?;
            return term.read_secure_line();
        }
        let mut bytes = Vec::new();
        io::stdin().lock().take(limit::KEY).read_to_end(&mut bytes)?;
        let text = String::from_utf8_lossy(&bytes);
        Ok(text.lines().next().unwrap_or_default().to_owned())
    };
    match read().map_err(|source| Trouble::Read { path: "the password".into(), source })? {
        password if password.is_empty() => Err(Trouble::NoPassword),
        password => Ok(password),
    }
}
