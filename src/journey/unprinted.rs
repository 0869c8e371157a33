//! A program that was made without a typesetter prints nothing; its papers are the pages.

use std::convert::Infallible;
use std::marker::PhantomData;

use chrono::NaiveDate;

use super::Error;
use super::workroom::Pictures;
use crate::render::Theme;
use crate::view::buyer::Papers;
use crate::view::{HouseStyle, LookOver, PieceContext, WorkshopView};
use crate::words::Words;
use crate::write::{Darkroom, KeptFile};

/// There are none.
pub(super) struct Sheet {
    /// Its file name, beside the pages.
    pub(super) file: String,
    none: Infallible,
}

/// No sheet.
pub(super) fn sheets(_: &HouseStyle, _: &Papers, _: Option<NaiveDate>) -> Vec<Sheet> {
    Vec::new()
}

/// No receipts.
pub(super) fn receipts(_: &PieceContext<'_>) -> Option<Sheet> {
    None
}

/// No list.
///
/// # Errors
/// None; they are those of the program with a typesetter.
pub(super) fn look_over(
    _: &Theme,
    _: (&WorkshopView, &Words),
    _: &LookOver,
    _: NaiveDate,
) -> Result<Option<Vec<u8>>, Error> {
    Ok(None)
}

/// Where nothing is printed.
pub(super) struct PaperPrinter<'a>(PhantomData<&'a Theme>);

impl<'a> PaperPrinter<'a> {
    /// # Errors
    /// None; they are those of the program with a typesetter.
    pub(super) fn of(_: &'a Theme, _: &'a Darkroom) -> Result<PaperPrinter<'a>, Error> {
        Ok(PaperPrinter(PhantomData))
    }

    pub(super) fn known(&self, sheet: &Sheet, _: &Pictures) -> Option<KeptFile> {
        match sheet.none {}
    }

    /// # Errors
    /// None; they are those of the program with a typesetter.
    pub(super) fn print(&self, sheet: &Sheet, _: &Pictures) -> Result<KeptFile, Error> {
        match sheet.none {}
    }
}
