//! How an entry becomes a row: the type, its table and the documentation of both come from the same lines.

use chrono::NaiveDate;
use rusqlite::types::Value;
use rust_decimal::Decimal;

use crate::fields::Share;
use crate::unit::{Hours, Money};

/// A table of the database.
#[derive(Debug)]
pub struct Table {
    /// Its name.
    pub name: &'static str,
    /// What its rows are.
    pub about: &'static str,
    /// Its columns, without `piece` and `no`, which every table of entries has.
    pub columns: &'static [Column],
}

/// A column of a table.
#[derive(Debug)]
pub struct Column {
    /// Its name.
    pub name: &'static str,
    /// What SQLite takes its values for.
    pub kind: &'static str,
    /// What it holds.
    pub about: &'static str,
}

/// Something of a piece that the archive keeps.
pub trait Entry {
    /// The table that it is a row of.
    const TABLE: &'static Table;

    /// The row, in the order of the columns.
    fn values(self) -> Vec<Value>;
}

/// A type that can stand in a column.
pub trait Cell {
    /// What SQLite takes it for.
    const KIND: &'static str;

    /// The value as SQLite keeps it.
    fn cell(self) -> Value;
}

macro_rules! cells {
    ($($type:ty, $kind:literal, $make:expr;)*) => {$(
        impl Cell for $type {
            const KIND: &'static str = $kind;

            fn cell(self) -> Value {
                let make: fn($type) -> Value = $make;
                make(self)
            }
        }
    )*};
}

cells! {
    String, "TEXT", Value::Text;
    &'static str, "TEXT", |word| Value::Text(word.to_owned());
    i64, "INTEGER", Value::Integer;
    u32, "INTEGER", |count| Value::Integer(i64::from(count));
    usize, "INTEGER", |count| Value::Integer(i64::try_from(count).unwrap_or(i64::MAX));
    bool, "INTEGER", |so| Value::Integer(i64::from(so));
    f64, "REAL", |number| if number.is_finite() { Value::Real(number) } else { Value::Null };
    // As text, of which the column makes a number: so an amount comes out as it went in, to 15 digits.
    Decimal, "NUMERIC", |number| Value::Text(number.normalize().to_string());
    Money, "NUMERIC", |money| money.0.cell();
    Hours, "NUMERIC", |hours| hours.count().cell();
    Share, "NUMERIC", |share| share.0.cell();
    NaiveDate, "TEXT", |day| Value::Text(day.to_string());
}

impl<T: Cell> Cell for Option<T> {
    const KIND: &'static str = T::KIND;

    fn cell(self) -> Value {
        self.map_or(Value::Null, T::cell)
    }
}

/// An entry: a struct, its table and how it becomes a row.
macro_rules! entry {
    ($(#[doc = $doc:literal])* pub struct $name:ident ($table:literal) {
        $($(#[doc = $field_doc:literal])* $field:ident : $type:ty,)*
    }) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone, PartialEq)]
        pub struct $name {
            $($(#[doc = $field_doc])* pub $field: $type,)*
        }

        impl $crate::archive::table::Entry for $name {
            const TABLE: &'static $crate::archive::table::Table = &$crate::archive::table::Table {
                name: $table,
                about: concat!($($doc),*),
                columns: &[$($crate::archive::table::Column {
                    name: stringify!($field),
                    kind: <$type as $crate::archive::table::Cell>::KIND,
                    about: concat!($($field_doc),*),
                }),*],
            };

            fn values(self) -> Vec<rusqlite::types::Value> {
                vec![$($crate::archive::table::Cell::cell(self.$field)),*]
            }
        }
    };
}

pub(super) use entry;
