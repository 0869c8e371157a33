//! Receipts: by one, a later run knows that what would be made stands already.

use std::path::Path;

use serde::Serialize;
use serde::de::DeserializeOwned;

use super::home::Home;
use super::{FOLDER, sealed, unsealed};
use crate::write::{fingerprint, place};

/// The receipts of one workshop. What goes into them is for their users; here they are kept whole or not at all.
#[derive(Debug)]
pub struct Receipts(Home);

impl Receipts {
    /// Opens the receipts of a workshop to look one up; `None` where nothing was ever kept.
    pub fn reading(workshop: &Path) -> Option<Receipts> {
        Home::reading(&workshop.join(FOLDER)).map(Receipts)
    }

    /// Opens them to leave one; the darkroom that they lie in is made where there is none.
    pub fn open(workshop: &Path) -> Option<Receipts> {
        Home::open(&workshop.join(FOLDER)).map(Receipts)
    }

    /// The filesystem's own time when they were opened, in nanoseconds since 1970; `None` where they are only read.
    pub fn opened(&self) -> Option<u64> {
        self.0.opened()
    }

    /// The name of the receipt for what stands at a target; `None` where its place cannot be told.
    pub fn name(target: &Path) -> Option<String> {
        let target = place::resolve(target).ok()?;
        Some(fingerprint(target.as_os_str().as_encoded_bytes()))
    }

    /// Whether there is a receipt of this name.
    pub fn has(&self, name: &str) -> bool {
        self.0.receipt(name).is_some()
    }

    /// The receipt of this name; `None` where there is none, or it is not as it was left.
    pub fn get<R: DeserializeOwned>(&self, name: &str) -> Option<R> {
        serde_json::from_str(unsealed(&self.0.receipt(name)?)?).ok()
    }

    /// Leaves a receipt for later runs; one that cannot be written costs them their time.
    pub fn leave<R: Serialize>(&self, name: &str, receipt: &R) {
        if let Ok(text) = serde_json::to_string(receipt) {
            self.0.leave_receipt(name, &sealed(&text));
        }
    }
}
