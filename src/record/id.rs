//! Ids, one type for each kind of row, so that a part is never looked up among findings.

use std::borrow::Cow;
use std::ops::Deref;

use schemars::{JsonSchema, Schema, SchemaGenerator};
use toml::Spanned;
use toml::de::DeValue;

use crate::fields::{About, Id, Reader, Sort, Value};

macro_rules! ids {
    ($($(#[doc = $doc:literal])* $name:ident ($list:literal, $example:literal),)*) => {$(
        $(#[doc = $doc])*
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
        pub struct $name(pub String);

        impl Deref for $name {
            type Target = str;

            fn deref(&self) -> &str {
                &self.0
            }
        }

        impl Value for $name {
            const ABOUT: &'static About = &About::name($example).of(Sort::Row($list));

            fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
                Id::read(value, reader).map(|id| $name(id.0))
            }
        }

        // An editor need not know the kinds apart.
        impl JsonSchema for $name {
            fn schema_name() -> Cow<'static, str> {
                Id::schema_name()
            }

            fn schema_id() -> Cow<'static, str> {
                Id::schema_id()
            }

            fn json_schema(generator: &mut SchemaGenerator) -> Schema {
                Id::json_schema(generator)
            }

            fn inline_schema() -> bool {
                Id::inline_schema()
            }
        }
    )*};
}

ids! {
    /// The name of a part within its record.
    PartId ("part", "\"leaf-left\""),
    /// The name of a finding within its record.
    FindingId ("finding", "\"f-split\""),
    /// The name of a patch within its record.
    PatchId ("patch", "\"let-in-oak\""),
    /// The name of a work within its record.
    WorkId ("work", "\"w-split\""),
    /// The name of a tin of the workshop.
    TinId ("tin", "\"satin-varnish\""),
    /// The name of an item of the workshop's stock.
    StockId ("stock", "\"old-oak\""),
}
