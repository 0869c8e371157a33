//! What every table of the trade is: a file of rows, compiled in, over which a workshop lays rows of its own.
//!
//! A table's own file says its rows with `trade_row!` and its lists of rows with `trade_table!`; the list in
//! `mod.rs` says which tables there are. Reading, laying over and checking follow from those lines. What a row or table
//! lists as `retired` were columns and lists that nothing read: a workshop's own file may still have them.

use std::borrow::Cow;

use super::overlay::Laying;
use crate::fields::{Fields, Id, Reader, Said, Text, read_text};

/// A row of a table.
pub trait TradeRow: Clone {
    /// What such a row is called in its file, such as `[[timber]]`.
    const CALLED: &'static str;
    /// What it is called by: two rows of one key are the same row.
    fn key(&self) -> Cow<'_, str>;
    /// Where it comes from.
    fn source(&mut self) -> &mut Said<Text>;
    /// What it is called besides, as printed and as spoken.
    fn words(&self) -> Vec<&Said<Text>>;
    /// The rows of its table that it stands for, where it is a word for several kinds.
    fn stands_for(&self) -> &[Said<Id>] {
        &[]
    }
    /// Whether it is a word for several kinds.
    fn is_general(&self) -> bool {
        !self.stands_for().is_empty()
    }
}

/// A table of the trade.
pub(super) trait TradeTable: Sized {
    /// The name of its file, here and in a workshop's `trade/` folder.
    const FILE: &'static str;
    /// The file that is compiled in.
    const TEXT: &'static str;
    /// Reads a file of its shape.
    fn read(fields: &Fields<'_>, reader: &mut Reader<'_>) -> Option<Self>;
    /// Lays a workshop's rows over these, list by list.
    fn lay(&mut self, own: Self, laying: &mut Laying<'_>);
    /// Its lists, so that one test holds for the rows of all tables.
    #[cfg(test)]
    fn lists(&self) -> Vec<List>;
}

/// A table as tests see it that hold for all of them.
#[cfg(test)]
pub(super) struct WholeTable {
    pub(super) file: &'static str,
    pub(super) text: &'static str,
    pub(super) lists: Vec<List>,
}

#[cfg(test)]
impl WholeTable {
    pub(super) fn of<T: TradeTable>(table: &T) -> WholeTable {
        WholeTable { file: T::FILE, text: T::TEXT, lists: table.lists() }
    }
}

/// A list of a table: its key, what each of its rows is called by and comes from, and the other words for each.
#[cfg(test)]
#[derive(Debug, PartialEq)]
pub(super) struct List {
    pub(super) key: &'static str,
    pub(super) rows: Vec<(String, String)>,
    pub(super) words: Vec<Vec<String>>,
}

#[cfg(test)]
impl List {
    pub(super) fn of<R: TradeRow>(key: &'static str, rows: &[Said<R>]) -> List {
        let row = |row: &Said<R>| (row.key().into_owned(), row.value.clone().source().to_string());
        let words = |row: &Said<R>| row.words().into_iter().map(|word| word.to_string()).collect();
        List { key, rows: rows.iter().map(row).collect(), words: rows.iter().map(words).collect() }
    }
}

/// Reads the table that is compiled in.
pub(super) fn compiled_in<T: TradeTable>() -> T {
    read_as(T::TEXT)
}

/// A table from a text of its shape, which is ours.
pub(super) fn read_as<T: TradeTable>(text: &str) -> T {
    let reading = read_text(T::FILE, text, T::read);
    assert!(
        reading.problems.is_empty(),
        "{} is compiled in, and a test reads it: {:?}",
        T::FILE,
        reading.problems
    );
    reading.table.expect("a table without problems was read")
}

/// The row that is called by this key.
pub(super) fn by_id<'a, R: TradeRow>(rows: &'a [Said<R>], id: &str) -> Option<&'a R> {
    rows.iter().map(|row| &row.value).find(|row| row.key() == id)
}

/// A `table!` for one row, which is called by its `id` unless a `key` stands below, and also by its `words`, and which
/// stands for the rows of its `may_be`.
macro_rules! trade_row {
    (
        $(#[doc = $doc:literal])* pub struct $name:ident ($called:literal) { $($columns:tt)* }
        $(words = |$row:ident| $words:expr;)?
        $(may_be = |$general:ident| $may_be:expr;)?
        $(retired = $retired:tt;)?
    ) => {
        $crate::trade::table::trade_row! {
            $(#[doc = $doc])*
            pub struct $name ($called) { $($columns)* }
            key = |row| row.id.0.as_str();
            $(words = |$row| $words;)?
            $(may_be = |$general| $may_be;)?
            $(retired = $retired;)?
        }
    };
    (
        $(#[doc = $doc:literal])* pub struct $name:ident ($called:literal) { $($columns:tt)* }
        key = |$row:ident| $key:expr;
        $(words = |$named:ident| $words:expr;)?
        $(may_be = |$general:ident| $may_be:expr;)?
        $(retired = $retired:tt;)?
    ) => {
        $crate::fields::shape::table! {
            $(#[doc = $doc])*
            pub struct $name ($called) { $($columns)* }
            $(retired = $retired;)?
        }

        impl $crate::trade::table::TradeRow for $name {
            const CALLED: &'static str = $called;

            fn key(&self) -> std::borrow::Cow<'_, str> {
                let $row = self;
                $key.into()
            }

            fn source(&mut self) -> &mut $crate::fields::Said<$crate::fields::Text> {
                &mut self.source
            }

            fn words(&self) -> Vec<&$crate::fields::Said<$crate::fields::Text>> {
                std::iter::empty()$(.chain({
                    let $named = self;
                    $words
                }))?.collect()
            }

            $(fn stands_for(&self) -> &[$crate::fields::Said<$crate::fields::Id>] {
                let $general = self;
                $may_be
            })?
        }
    };
}

/// A `table!` for a whole file, all of whose keys are lists of rows.
macro_rules! trade_table {
    ($(#[doc = $doc:literal])* pub struct $name:ident ($file:literal) {
        $($(#[doc = $list_doc:literal])* $key:literal => $list:ident : Vec<Said<$row:ty>>,)*
    } $(retired = $retired:tt;)?) => {
        $crate::fields::shape::table! {
            $(#[doc = $doc])*
            pub struct $name ($file) {
                $($(#[doc = $list_doc])* $key => $list: Vec<$crate::fields::Said<$row>>,)*
            }
            $(retired = $retired;)?
        }

        impl $crate::trade::table::TradeTable for $name {
            const FILE: &'static str = $file;
            const TEXT: &'static str = include_str!($file);

            fn read(
                fields: &$crate::fields::Fields<'_>,
                reader: &mut $crate::fields::Reader<'_>,
            ) -> Option<Self> {
                Self::read_table(fields, reader)
            }

            fn lay(&mut self, own: Self, laying: &mut $crate::trade::overlay::Laying<'_>) {
                $(laying.rows(&mut self.$list, own.$list);)*
            }

            #[cfg(test)]
            fn lists(&self) -> Vec<$crate::trade::table::List> {
                vec![$($crate::trade::table::List::of($key, &self.$list)),*]
            }
        }
    };
}

/// All tables of the trade, a line each: the field of [`super::Trade`], and the table's module and type.
///
/// The type, the reading of what is compiled in and the laying over of a workshop's rows come from these lines.
macro_rules! tables {
    ($($field:ident : $module:ident :: $table:ident,)*) => {
        $(pub use $module::*;)*

        /// All tables of the trade.
        #[derive(Debug, Clone, PartialEq)]
        pub struct Trade {
            $(
                #[doc = concat!("What `", stringify!($module), ".toml` says.")]
                pub $field: $module::$table,
            )*
            words: lookup::Lookups,
        }

        impl Trade {
            fn compiled_in() -> Trade {
                Trade { $($field: table::compiled_in(),)* words: lookup::Lookups::default() }
            }

            /// The built-in tables with the texts of a language.
            fn worded(&self, texts: printed::Texts<'_>) -> Trade {
                let mut trade = self.clone();
                $(if let Some(table) = printed::worded(texts) { trade.$field = table; })*
                trade.words = lookup::Lookups::default();
                trade
            }

            /// The tables as they are compiled in.
            fn texts_of_tables() -> Vec<&'static str> {
                vec![$(<$module::$table as table::TradeTable>::TEXT),*]
            }

            fn lay(&mut self, own: &mut overlay::OwnFiles<'_>) {
                $(own.lay_over(&mut self.$field);)*
            }

            /// Every table, for tests that hold for all of them.
            #[cfg(test)]
            fn listed(&self) -> Vec<table::WholeTable> {
                vec![$(table::WholeTable::of(&self.$field)),*]
            }
        }
    };
}

pub(super) use {tables, trade_row, trade_table};
