//! The three trees: which page goes where.

use serde::Serialize;

use super::{RenderError, Theme, calendar, label_svg};
use crate::pack::File;
use crate::record::Stock;
use crate::view::buyer::{Papers, Printed};
use crate::view::{BuildRecord, HouseStyle, Page, PieceContext, SHEETS, archive, buyer, showroom};

/// The owner's calendar, beside the papers.
const CALENDAR: &str = "calendar.ics";

/// All sheets in one file, beside the papers.
pub(super) const ALL_SHEETS: &str = "papers";

/// The label, beside the papers.
pub(super) const LABEL: &str = "label";

/// The way from a piece's page to the root of its tree.
const FROM_PIECE: &str = "../../";

/// The tree that everybody may see.
pub const SHOWROOM: &str = "showroom";

/// The tree that only the workshop sees.
pub const ARCHIVE: &str = "archive";

/// Makes pages with a theme.
struct PagePrinter<'a> {
    theme: &'a Theme,
    house: &'a HouseStyle,
}

/// What one page has of its own.
struct PageContent<'a, T> {
    root: &'a str,
    title: String,
    description: String,
    unlisted: bool,
    content: &'a T,
}

impl PagePrinter<'_> {
    fn print<T: Serialize>(
        &self,
        path: String,
        template: &str,
        page: PageContent<'_, T>,
    ) -> Result<File, RenderError> {
        let page = Page {
            root: page.root,
            title: page.title,
            description: page.description,
            unlisted: page.unlisted,
            workshop: self.house.view(),
            page: page.content,
        };
        Ok(File { path, bytes: self.theme.page(template, &page)? })
    }
}

/// Where a buyer's papers are found.
pub struct BuyersFolder {
    /// The folder that they are written into, in the tree that it belongs to.
    pub folder: String,
    /// Their address on the web, where the workshop has one.
    pub address: Option<String>,
}

/// A buyer's papers: the label leads to their address, and papers to print are named as far as this program can make
/// them.
pub fn buyer_papers(context: &PieceContext<'_>, address: Option<&str>) -> Papers {
    let mut papers = buyer::papers(context);
    papers.label.lead_to(address, &context.house().view().name, &papers.seal);
    let can_print = cfg!(feature = "papers");
    let printed = |href: String, name: String| Printed { href, name };
    let pdf = |name: &str, called: &str| printed(format!("{name}.pdf"), format!("{called} (PDF)"));
    if can_print {
        papers.printed.push(pdf(ALL_SHEETS, "All papers in one file"));
        papers.printed.extend(SHEETS.iter().map(|sheet| pdf(sheet.name, sheet.title)));
        papers.printed.push(pdf(LABEL, "Label"));
    }
    papers.printed.push(printed(format!("{LABEL}.svg"), "Label as a drawing (SVG)".to_owned()));
    papers
}

/// One buyer's pages, complete but for assets, pictures and the papers that are printed.
///
/// # Errors
/// [`RenderError`] where the theme cannot be used.
pub fn buyer_pages(
    theme: &Theme,
    house: &HouseStyle,
    papers: &Papers,
    folder: &str,
) -> Result<Vec<File>, RenderError> {
    let printer = PagePrinter { theme, house };
    let BuildRecord { title, summary, .. } = &papers.sheets.record;
    let page = |file: &str, template: &str, heading: &str| {
        let content = PageContent {
            root: "",
            title: format!("{heading}: {title}"),
            description: summary.clone(),
            unlisted: true,
            content: papers,
        };
        printer.print(format!("{folder}/{file}.html"), &format!("buyer-{template}.html"), content)
    };
    let mut files = vec![page("index", "front", "Papers")?];
    for sheet in SHEETS {
        files.push(page(sheet.name, sheet.name, sheet.heading)?);
    }
    if let Some(days) = &papers.calendar {
        files.push(File { path: format!("{folder}/{CALENDAR}"), bytes: calendar(days) });
    }
    let label = label_svg(&papers.label, &house.view().name).into_bytes();
    files.push(File { path: format!("{folder}/{LABEL}.svg"), bytes: label });
    Ok(files)
}

/// What the front pages tell of one piece.
pub struct PieceEntries {
    /// Its card in the showroom, where it is published.
    pub card: Option<showroom::Card>,
    /// What the archive's front page tells of it.
    pub entry: archive::ArchiveEntry,
}

/// Everything that is written as pages for one piece, by all trees, and what the front pages tell of it.
///
/// `wanted` is whether its own pages are made, and not only its entries on the front pages.
///
/// # Errors
/// [`RenderError`] where the theme cannot be used.
pub fn piece_pages(
    theme: &Theme,
    context: &PieceContext<'_>,
    papers: &Papers,
    buyers: &BuyersFolder,
    wanted: bool,
) -> Result<(Vec<File>, PieceEntries), RenderError> {
    let (house, slug) = (context.house(), context.slug());
    let printer = PagePrinter { theme, house };
    let leaf =
        |unlisted| (papers.sheets.record.title.clone(), papers.sheets.record.summary.clone(), unlisted);
    let page = |tree: &str| format!("{tree}/pieces/{slug}/index.html");
    let mut files = Vec::new();
    let mut card = None;
    if context.published() {
        let shown = showroom::piece_page(context, &papers.sheets.record);
        card = Some(showroom::card(&shown, &slug));
        if wanted {
            let (title, description, unlisted) = leaf(false);
            let leaf = PageContent { root: FROM_PIECE, title, description, unlisted, content: &shown };
            files.push(printer.print(page(SHOWROOM), "showroom-piece.html", leaf)?);
        }
    }
    let kept = archive::piece_page(context, papers, &buyers.folder);
    let entry = archive::entry(context, &kept);
    if wanted {
        let (title, description, unlisted) = leaf(true);
        let leaf = PageContent { root: FROM_PIECE, title, description, unlisted, content: &kept };
        files.push(printer.print(page(ARCHIVE), "archive-piece.html", leaf)?);
        files.extend(buyer_pages(theme, house, papers, &buyers.folder)?);
    }
    Ok((files, PieceEntries { card, entry }))
}

/// The front pages of showroom and archive, from what they tell of each piece.
///
/// # Errors
/// [`RenderError`] where the theme cannot be used.
pub fn front_pages(
    theme: &Theme,
    house: &HouseStyle,
    pieces: Vec<PieceEntries>,
    stock: &Stock,
) -> Result<Vec<File>, RenderError> {
    let printer = PagePrinter { theme, house };
    let (cards, entries): (Vec<_>, Vec<_>) =
        pieces.into_iter().map(|piece| (piece.card, piece.entry)).unzip();
    let showroom = PageContent {
        root: "",
        title: house.view().name.clone(),
        description: house.view().about.clone(),
        unlisted: false,
        content: &showroom::front(cards.into_iter().flatten().collect()),
    };
    let archive = PageContent {
        root: "",
        title: format!("Archive of {}", house.view().name),
        description: String::new(),
        unlisted: true,
        content: &archive::front(entries, stock, house),
    };
    Ok(vec![
        printer.print(format!("{SHOWROOM}/index.html"), "showroom-front.html", showroom)?,
        printer.print(format!("{ARCHIVE}/index.html"), "archive-front.html", archive)?,
    ])
}
