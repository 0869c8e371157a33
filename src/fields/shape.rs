//! Two macros that say a table or a vocabulary once: the Rust type, how it is read
//! and its JSON Schema all come from the same lines, so that they cannot disagree.

/// A table: a struct, its reader and its schema.
///
/// Each field is `"key" => name: Type`, where the type implements `Field`. Keys that a table once had can be `retired`:
/// a file that still says one is right, and nothing is read from it. A table of dimensions has the `order` in which
/// people say them, and one that needs no key an `example`.
macro_rules! table {
    ($(#[doc = $doc:literal])* pub struct $name:ident ($called:literal) {
        $($(#[doc = $field_doc:literal])* $key:literal => $field:ident : $type:ty,)*
    } $(order = $order:expr;)? $(example = $example:literal;)? $(retired = [$($retired:literal),*];)?) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone, PartialEq)]
        pub struct $name {
            $($(#[doc = $field_doc])* pub $field: $type,)*
        }

        impl $name {
            /// Every key the table may have.
            pub(crate) const KEYS: &[$crate::fields::Key] = &[$($crate::fields::Key::of::<$type>($key).meaning(concat!($($field_doc),*))),*];

            pub(crate) fn read_table(fields: &$crate::fields::Fields<'_>, reader: &mut $crate::fields::Reader<'_>) -> Option<Self> {
                let fields = fields.knowing(Self::KEYS, &[$($($retired),*)?], reader);
                $(let $field = fields.take::<$type>($key, reader);)*
                let table = (|| Some($name { $($field: $field?,)* }))();
                reader.dropped |= table.is_none();
                table
            }
        }

        impl $crate::fields::Value for $name {
            const ABOUT: &'static $crate::fields::About =
                &$crate::fields::About::table(Self::KEYS)$(.ordered($order))?$(.written($example))?;

            fn read(value: &toml::Spanned<toml::de::DeValue<'_>>, reader: &mut $crate::fields::Reader<'_>) -> Option<Self> {
                $crate::fields::read_as_table(value, $called, Self::ABOUT, reader, Self::read_table)
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

/// A closed list of words: an enum, its reader and its schema. In brackets behind a word stand others that
/// people say for it and for no other of the list; they are compared as all words of the trade are.
macro_rules! choices {
    ($(#[doc = $doc:literal])* pub enum $name:ident {
        $($(#[doc = $word_doc:literal])* $variant:ident = $word:literal $([$($said:literal),* $(,)?])?,)*
    }) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name {
            $($(#[doc = $word_doc])* $variant,)*
        }

        impl $name {
            /// Every word, in the order of its meaning.
            pub const ALL: &[$name] = &[$($name::$variant),*];

            /// The words as a record writes them, and as they are said.
            pub(crate) const WORDS: &[$crate::fields::Word] = &[$($crate::fields::Word {
                word: $word,
                said: &[$($($said),*)?],
                means: concat!($($word_doc),*),
            }),*];

            /// The word as a record writes it.
            pub fn word(self) -> &'static str {
                match self {
                    $($name::$variant => $word,)*
                }
            }
        }

        impl $crate::fields::Value for $name {
            const ABOUT: &'static $crate::fields::About = &$crate::fields::About::words(Self::WORDS);

            fn read(value: &toml::Spanned<toml::de::DeValue<'_>>, reader: &mut $crate::fields::Reader<'_>) -> Option<Self> {
                $crate::fields::scalar::word(value, Self::WORDS, reader).map(|at| Self::ALL[at])
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
    ($(#[doc = $doc:literal])* pub enum $name:ident { $($words:tt)* }) => {
        $crate::fields::shape::choices! {
            $(#[doc = $doc])*
            pub enum $name {
                $($words)*
                /// Not known, and printed as such.
                Unknown = "unknown" [
                    "cannot say", "cannot tell", "can't say", "can't tell", "do not know", "don't know", "dunno",
                    "no idea", "not known", "not sure", "undetermined", "unsure",
                ],
            }
        }
    };
}

pub(crate) use {choices, table, words};
