//! The three trees: which page goes where.

use rayon::prelude::*;
use serde::Serialize;

use super::{RenderError, Theme, calendar, label_svg};
use crate::pack::File;
use crate::record::Stock;
use crate::view::buyer::{Papers, Printed};
use crate::view::{Household, Page, Source, archive, archive_front, showroom, showroom_front};

/// The owner's calendar, beside the papers.
const CALENDAR: &str = "calendar.ics";

/// The way from a piece's page to the root of its tree.
const FROM_PIECE: &str = "../../";

/// Makes pages of one tree.
struct Printer<'a> {
    theme: &'a Theme,
    house: &'a Household,
    folder: String,
    files: Vec<File>,
}

impl<'a> Printer<'a> {
    /// A printer for the tree in `folder`, with the theme's assets in it.
    fn new(theme: &'a Theme, house: &'a Household, folder: String) -> Self {
        let files = theme
            .assets()
            .map(|(path, bytes)| File { path: format!("{folder}/{path}"), bytes: bytes.to_vec() })
            .collect();
        Printer { theme, house, folder, files }
    }

    fn print<T: Serialize>(
        &mut self,
        path: &str,
        template: &str,
        page: Leaf<'_, T>,
    ) -> Result<(), RenderError> {
        let page = Page {
            root: page.root,
            title: page.title,
            description: page.description,
            unlisted: page.unlisted,
            workshop: self.house.view(),
            page: page.content,
        };
        let bytes = self.theme.page(template, &page)?;
        self.files.push(File { path: format!("{}/{path}", self.folder), bytes });
        Ok(())
    }

    /// Prints a page of each of many pieces, by all threads.
    fn print_all<P: Sync, T: Serialize>(
        &mut self,
        pieces: &[P],
        template: &str,
        page: impl Fn(&P) -> (String, Leaf<'_, T>) + Sync,
    ) -> Result<(), RenderError> {
        let print = |piece: &P| {
            let (slug, leaf) = page(piece);
            let mut printer = Printer {
                theme: self.theme,
                house: self.house,
                folder: self.folder.clone(),
                files: Vec::new(),
            };
            printer.print(&format!("pieces/{slug}/index.html"), template, leaf)?;
            Ok(printer.files)
        };
        let files: Vec<Vec<File>> = pieces.par_iter().map(print).collect::<Result<_, RenderError>>()?;
        self.files.extend(files.into_iter().flatten());
        Ok(())
    }
}

/// What one page has of its own.
struct Leaf<'a, T> {
    root: &'a str,
    title: String,
    description: String,
    unlisted: bool,
    content: &'a T,
}

/// The showroom: a front page, and a build record for each published piece.
///
/// # Errors
/// [`RenderError`] where the theme cannot be used.
pub fn showroom(theme: &Theme, house: &Household, sources: &[Source<'_>]) -> Result<Vec<File>, RenderError> {
    let mut printer = Printer::new(theme, house, "showroom".to_owned());
    let published: Vec<(String, showroom::PiecePage)> = sources
        .par_iter()
        .filter(|source| source.published())
        .map(|source| (source.slug(), source.showroom_page()))
        .collect();
    printer.print_all(&published, "showroom-piece.html", |(slug, page)| {
        let leaf = Leaf {
            root: FROM_PIECE,
            title: page.record.title.clone(),
            description: page.record.summary.clone(),
            unlisted: false,
            content: page,
        };
        (slug.clone(), leaf)
    })?;
    let leaf = Leaf {
        root: "",
        title: house.view().name.clone(),
        description: house.view().about.clone(),
        unlisted: false,
        content: &showroom_front(&published),
    };
    printer.print("index.html", "showroom-front.html", leaf)?;
    Ok(printer.files)
}

/// The papers that are printed beside a buyer's pages, and what they are called.
const PRINTED: [(&str, &str); 7] = [
    ("papers.pdf", "All papers in one file (PDF)"),
    ("disclosure.pdf", "Disclosure sheet (PDF)"),
    ("care.pdf", "Care sheet (PDF)"),
    ("undo.pdf", "Undo sheet (PDF)"),
    ("build-record.pdf", "Build record (PDF)"),
    ("label.pdf", "Label (PDF)"),
    ("label.svg", "Label as a drawing (SVG)"),
];

/// Where a buyer's papers are found.
pub struct Whereabouts {
    /// The folder that they are written into, in the tree that it belongs to.
    pub folder: String,
    /// Their address on the web, where the workshop has one.
    pub address: Option<String>,
}

/// A buyer's papers: the label leads to their address, and papers to print are named as far as this program can make
/// them.
pub fn buyer_papers(house: &Household, source: &Source<'_>, address: Option<&str>) -> Papers {
    let mut papers = source.papers();
    papers.label.lead_to(address, &house.view().name, &papers.seal);
    let can_print = |file: &str| cfg!(feature = "papers") || !file.ends_with(".pdf");
    papers.printed = PRINTED
        .into_iter()
        .filter(|(file, _)| can_print(file))
        .map(|(file, name)| Printed { href: file.to_owned(), name: name.to_owned() })
        .collect();
    papers
}

/// One buyer's papers, complete in one folder but for the pictures and the papers that are printed.
///
/// # Errors
/// [`RenderError`] where the theme cannot be used.
pub fn buyers(
    theme: &Theme,
    house: &Household,
    source: &Source<'_>,
    Whereabouts { folder, address }: &Whereabouts,
) -> Result<Vec<File>, RenderError> {
    let mut printer = Printer::new(theme, house, folder.clone());
    let papers = buyer_papers(house, source, address.as_deref());
    let title = &papers.record.title;
    for (file, template, heading) in [
        ("index.html", "buyer-front.html", "Papers"),
        ("disclosure.html", "buyer-disclosure.html", "Disclosure"),
        ("care.html", "buyer-care.html", "Care"),
        ("undo.html", "buyer-undo.html", "Undo"),
        ("build-record.html", "buyer-record.html", "Build record"),
    ] {
        let leaf = Leaf {
            root: "",
            title: format!("{heading}: {title}"),
            description: papers.record.summary.clone(),
            unlisted: true,
            content: &papers,
        };
        printer.print(file, template, leaf)?;
    }
    if let Some(days) = &papers.calendar {
        printer.files.push(File { path: format!("{folder}/{CALENDAR}"), bytes: calendar(days) });
    }
    let label = label_svg(&papers.label, &house.view().name).into_bytes();
    printer.files.push(File { path: format!("{folder}/label.svg"), bytes: label });
    Ok(printer.files)
}

/// The archive: everything, for the workshop alone.
///
/// `buyers` are the whereabouts of the buyers' papers, in the order of `sources`.
///
/// # Errors
/// [`RenderError`] where the theme cannot be used.
pub fn archive(
    theme: &Theme,
    house: &Household,
    sources: &[Source<'_>],
    buyers: &[Whereabouts],
    stock: &Stock,
) -> Result<Vec<File>, RenderError> {
    let mut printer = Printer::new(theme, house, "archive".to_owned());
    let pages: Vec<archive::PiecePage> =
        sources.par_iter().zip(buyers).map(|(source, papers)| source.archive_page(&papers.folder)).collect();
    let pieces: Vec<(&Source<'_>, &archive::PiecePage)> = sources.iter().zip(&pages).collect();
    printer.print_all(&pieces, "archive-piece.html", |(source, page)| {
        let leaf = Leaf {
            root: FROM_PIECE,
            title: page.record.title.clone(),
            description: page.record.summary.clone(),
            unlisted: true,
            content: *page,
        };
        (source.slug(), leaf)
    })?;
    let leaf = Leaf {
        root: "",
        title: format!("Archive of {}", house.view().name),
        description: String::new(),
        unlisted: true,
        content: &archive_front(sources, &pages, stock, house),
    };
    printer.print("index.html", "archive-front.html", leaf)?;
    Ok(printer.files)
}
