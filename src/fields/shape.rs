//! Two macros that say a table or a vocabulary once: the Rust type, how it is read
//! and its JSON Schema all come from the same lines, so that they cannot disagree.

/// A table: a struct, its reader and its schema.
///
/// Each field is `"key" => name: Type`, where the type implements `Field`. Keys that a table once had can be `retired`:
/// a file that still says one is right, and nothing is read from it.
macro_rules! table {
    ($(#[doc = $doc:literal])* pub struct $name:ident ($called:literal) {
        $($(#[doc = $field_doc:literal])* $key:literal => $field:ident : $type:ty,)*
    } $(retired = [$($retired:literal),*];)?) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone, PartialEq)]
        pub struct $name {
            $($(#[doc = $field_doc])* pub $field: $type,)*
        }

        impl $name {
            /// Every key the table may have.
            pub(crate) const KEYS: &[&str] = &[$($key),*];

            pub(crate) fn read_table(fields: &$crate::fields::Fields<'_>, reader: &mut $crate::fields::Reader<'_>) -> Option<Self> {
                use $crate::fields::Field;
                fields.finish(Self::KEYS, &[$($($retired),*)?], reader);
                $(
                    if <$type as Field>::REQUIRED && !fields.has($key) {
                        fields.missing($key, Self::KEYS, reader);
                    }
                    let $field = <$type as Field>::take(fields, $key, reader);
                )*
                let table = (|| Some($name { $($field: $field?,)* }))();
                reader.dropped |= table.is_none();
                table
            }
        }

        impl $crate::fields::Value for $name {
            fn read(value: &toml::Spanned<toml::de::DeValue<'_>>, reader: &mut $crate::fields::Reader<'_>) -> Option<Self> {
                match value.get_ref() {
                    toml::de::DeValue::Table(table) => {
                        let fields = $crate::fields::Fields::new(table, value.span(), $called);
                        reader.within($called, |reader| Self::read_table(&fields, reader))
                    }
                    _ => $crate::fields::wrong_kind(value, "a table", concat!("write ", $called, " with its keys"), reader),
                }
            }
        }

        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                use $crate::fields::{Field, described};
                let mut properties = serde_json::Map::new();
                let mut required: Vec<&str> = Vec::new();
                $(
                    let schema = described(<$type as Field>::schema(generator), &[$($field_doc),*]);
                    properties.insert($key.to_owned(), schema.into());
                    if <$type as Field>::REQUIRED {
                        required.push($key);
                    }
                )*
                let whole = schemars::json_schema!({
                    "type": "object",
                    "properties": properties,
                    "required": required,
                    "additionalProperties": false,
                });
                described(whole, &[$($doc),*])
            }
        }
    };
}

/// A closed list of words: an enum, its reader and its schema.
macro_rules! choices {
    ($(#[doc = $doc:literal])* pub enum $name:ident {
        $($(#[doc = $word_doc:literal])* $variant:ident = $word:literal,)*
    }) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name {
            $($(#[doc = $word_doc])* $variant,)*
        }

        impl $name {
            /// Every word, in the order of its meaning.
            pub const ALL: &[$name] = &[$($name::$variant),*];

            /// The word as a record writes it.
            pub fn word(self) -> &'static str {
                match self {
                    $($name::$variant => $word,)*
                }
            }
        }

        impl $crate::fields::Value for $name {
            fn read(value: &toml::Spanned<toml::de::DeValue<'_>>, reader: &mut $crate::fields::Reader<'_>) -> Option<Self> {
                let words = &[$($word),*];
                let word = $crate::fields::scalar::word(value, words, reader)?;
                Self::ALL.iter().copied().find(|choice| choice.word() == word)
            }
        }

        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                use $crate::fields::described;
                let words: Vec<schemars::Schema> =
                    vec![$(described(schemars::json_schema!({ "const": $word }), &[$($word_doc),*])),*];
                let whole = schemars::json_schema!({ "oneOf": words });
                described(whole, &[$($doc),*])
            }
        }
    };
}

/// A closed list of words about a piece, which always takes `unknown` too: silence would read as a claim.
macro_rules! words {
    ($(#[doc = $doc:literal])* pub enum $name:ident {
        $($(#[doc = $word_doc:literal])* $variant:ident = $word:literal,)*
    }) => {
        $crate::fields::shape::choices! {
            $(#[doc = $doc])*
            pub enum $name {
                $($(#[doc = $word_doc])* $variant = $word,)*
                /// Not known, and printed as such.
                Unknown = "unknown",
            }
        }
    };
}

pub(crate) use {choices, table, words};
