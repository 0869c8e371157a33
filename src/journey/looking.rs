//! What to look for on a piece before it is bought: for reading, and as a page to print.

use chrono::NaiveDate;

use super::{Error, printing};
use crate::archive::BeforeAnswer;
use crate::record::{self, Paper};
use crate::render::{Theme, ThemeChoice};
use crate::source::Tree;
use crate::trade::Trade;
use crate::view::{HouseStyle, LookOver, WorkshopView};
use crate::words::{Languages, Words};

/// What to look for on a piece of a kind, in British English; `before` is what the archive has of such pieces.
pub fn look_over(tree: &Tree, kind: &str, before: Option<&BeforeAnswer>) -> LookOver {
    let (trade, _) = Trade::with(tree, None);
    LookOver::of(kind, &trade.looking_over(kind), before, &Words::for_diagnostics())
}

/// The same as a page to print, in the workshop's language and its theme; `None` where the program has no typesetter.
///
/// # Errors
/// [`Error`] where the theme cannot be used.
pub fn look_over_printed(
    tree: &Tree,
    kind: &str,
    before: Option<&BeforeAnswer>,
    (paper, today): (Option<Paper>, NaiveDate),
) -> Result<Option<Vec<u8>>, Error> {
    let (folder, _) = record::read(tree);
    let (languages, _) = Languages::of(tree, &folder);
    let (trade, _) = languages.workshop().trade(tree);
    let theme = Theme::load(tree, &ThemeChoice::of(tree, folder.workshop.as_ref()).0, &languages)?;
    let house =
        folder.workshop.as_ref().map(|workshop| HouseStyle::of(workshop, languages.workshop(), today));
    let mut view = house.as_ref().map_or_else(WorkshopView::default, |house| house.view().clone());
    let words = house.as_ref().map_or_else(Words::for_diagnostics, |house| house.words().clone());
    if let Some(paper) = paper {
        view.paper = paper.word().to_owned();
    }
    let list = LookOver::of(kind, &trade.looking_over(kind), before, &words);
    printing::look_over(&theme, (&view, &words), &list, today)
}
