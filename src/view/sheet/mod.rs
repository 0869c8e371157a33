//! The papers themselves, one file a paper. None uses another; what two of them show is made in `shared`.
//!
//! `sheets!` lists them, in their order: where a sheet stands and from what it is made is said there alone; its words
//! are messages by its name. With it go two templates of the theme, `pages/buyer-NAME.html` and `papers/NAME-body.typ`.

pub(super) mod build_record;
pub(super) mod calendar;
pub(super) mod care;
pub(super) mod disclosure;
pub(super) mod label;
pub(super) mod look_over;

use serde::Serialize;

use crate::claim::Message;
use crate::view::context::PieceContext;
use crate::view::shared::front_page;
use crate::view::shared::photograph::Gallery;
use crate::view::shared::row::Rows;
use crate::view::shared::section::{Arranged, Said};
use crate::words::Words;

/// A sheet, and where it stands.
#[derive(Debug)]
pub struct SheetKind {
    /// Its name in addresses and templates: `NAME.html`, `NAME.pdf`.
    pub name: &'static str,
    /// The parts of the papers that its printed form is made from.
    pub parts: &'static [&'static str],
}

/// A sheet as pages name it.
#[derive(Debug, Clone, Serialize)]
pub struct SheetName {
    /// Its name in addresses: `NAME.html`, `NAME.pdf`.
    pub name: &'static str,
    /// What it is called.
    pub title: String,
    /// What it is good for, in a sentence.
    pub about: String,
}

impl SheetKind {
    /// What it is called.
    pub fn title(&self, words: &Words) -> String {
        words.word("sheet", self.name)
    }

    /// The sheet as pages name it.
    pub(crate) fn named(&self, words: &Words) -> SheetName {
        SheetName { name: self.name, title: self.title(words), about: words.word("about", self.name) }
    }
}

/// The sheets whose sentences can be told with what they rest on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClaimSheet {
    /// The disclosure sheet.
    Disclosure,
    /// The care sheet, with the days of its calendar.
    Care,
    /// The label.
    Label,
    /// The build record.
    BuildRecord,
}

/// What a sheet says, in the order in which it is read: each claim with the heading that it stands under.
pub fn said<'a>(context: &PieceContext<'a>, sheet: ClaimSheet) -> Vec<Said<'a>> {
    let sections = match sheet {
        ClaimSheet::Disclosure => disclosure::arranged(context),
        ClaimSheet::Care => return care::said(context),
        ClaimSheet::Label => vec![label::arranged(context)],
        ClaimSheet::BuildRecord => build_record::arranged(context),
    };
    let words = context.house.words();
    let of = |section: Arranged<'a>| {
        let heading = section.heading;
        section.claims.into_iter().map(move |claim| Said {
            heading: heading.clone(),
            claim,
            sentence: words.sentence(claim).whole(),
            is_elsewhere: false,
        })
    };
    sections.into_iter().flat_map(of).collect()
}

/// What a sheet of one page has no room for, under one of its headings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SummedUp {
    /// The sheet, as it stands within a sentence.
    pub paper: &'static str,
    /// The heading.
    pub heading: String,
    /// How many texts are cut or only counted.
    pub count: usize,
}

/// What the sheets of one page have no room for of what the maker wrote.
pub fn summed_up(context: &PieceContext<'_>) -> Vec<SummedUp> {
    let of = |paper: &'static str, all: Vec<(Message, usize)>| {
        let told = all.into_iter().map(move |(heading, count)| SummedUp {
            paper,
            heading: context.house.words().heading(&heading),
            count,
        });
        told.collect::<Vec<_>>()
    };
    [of("disclosure sheet", front_page::summed_up(context)), of("care sheet", care::summed_up(context))]
        .concat()
}

/// What every sheet is made from.
pub(crate) struct Making<'a> {
    pub(crate) context: &'a PieceContext<'a>,
    pub(crate) rows: &'a Rows,
    pub(crate) gallery: &'a Gallery<'a>,
}

/// Lists the sheets: a field of the papers each, with how it is made and what it is called.
macro_rules! sheets {
    ($($(#[doc = $doc:literal])* $field:ident: $view:ty = $make:expr, $kind:expr;)*) => {
        /// The sheets of one piece.
        #[derive(Debug, Clone, Serialize)]
        pub struct SheetViews {
            $($(#[doc = $doc])* pub $field: $view,)*
        }

        impl SheetViews {
            pub(crate) fn of(making: &Making<'_>) -> SheetViews {
                $(let $field: fn(&Making<'_>) -> $view = $make;)*
                SheetViews { $($field: $field(making),)* }
            }
        }

        /// Every sheet, in the order in which they are read.
        pub static SHEETS: &[SheetKind] = &[$($kind),*];
    };
}

sheets! {
    /// The disclosure sheet.
    disclosure: disclosure::Disclosure = |making| disclosure::disclosure(making.context, making.gallery), SheetKind {
        name: "disclosure",
        parts: &["disclosure"],
    };
    /// The care sheet.
    care: care::Care = |making| care::care(making.context), SheetKind {
        name: "care",
        parts: &["care", "calendar"],
    };
    /// The build record.
    record: build_record::BuildRecord = |making| {
        build_record::build_record(making.context, making.gallery, making.rows)
    }, SheetKind {
        name: "build-record",
        parts: &["record"],
    };
}
