//! A message by its name, with the values that it tells.

use chrono::NaiveDate;

use crate::fields::{Brief, Range, Said, Text};
use crate::trade::Verification;
use crate::unit::{Area, Edtf, Length, Mass, MassSpan, Money};

/// A message of the catalogue, with what it tells.
#[derive(Debug, Clone, PartialEq)]
pub struct Message {
    /// Its name in the catalogue.
    pub name: String,
    /// Its values by their names there.
    pub values: Vec<(&'static str, Value)>,
}

impl Message {
    /// A message that tells these values. Use [`says!`], which a test can read.
    pub(crate) fn of(name: &str, values: Vec<(&'static str, Value)>) -> Message {
        Message { name: name.to_owned(), values }
    }

    /// The message for a word of a record: family and word, joined by a hyphen.
    pub(crate) fn word(family: &str, word: &str) -> Message {
        Message { name: format!("{family}-{word}"), values: Vec::new() }
    }
}

/// A message of the catalogue: `says!("part-replaced", part = name, by = other)`.
macro_rules! says {
    ($name:literal $(, $key:ident = $value:expr)* $(,)?) => {
        $crate::claim::Message::of($name, vec![$((stringify!($key), $crate::claim::Value::from($value))),*])
    };
}
pub(crate) use says;

impl Message {
    /// A source as the archive cites it: said where some of it was recalled and not read.
    pub(crate) fn cited(seen: Verification, source: &str) -> Message {
        match seen {
            Verification::Memory => says!("cited-from-memory", source = source),
            Verification::Read | Verification::Computed => says!("own-words", said = source),
        }
    }
}

/// What a message tells; how it is written is the language's business.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// How many.
    Count(u64),
    /// Words as somebody wrote them, or as a table has them: a name, or part of a sentence.
    Text(String),
    /// A name that a table of the trade gives, as it stands within a sentence.
    Name(String),
    /// Another message.
    Message(Message),
    /// A message where the language has it, and else these words.
    Named(Message, String),
    /// Several things, of which all hold.
    All(Vec<Value>),
    /// Several things, of which one holds.
    OneOf(Vec<Value>),
    /// Several things side by side, joined by commas.
    Series(Vec<Value>),
    /// Several messages, each a sentence of its own.
    Sentences(Vec<Message>),
    /// A day.
    Day(NaiveDate),
    /// From one day to another.
    Days(NaiveDate, NaiveDate),
    /// A day's month.
    Month(NaiveDate),
    /// Years of making.
    Years(Edtf),
    /// Lengths of one thing, joined by crosses.
    Lengths(Vec<Length>),
    /// The same in one unit alone, where many stand in a list.
    ListedLengths(Vec<Length>),
    /// From one small length to another, in millimetres to a tenth.
    Millimetres(f64, f64),
    /// A mass that is not known exactly.
    Mass(MassSpan),
    /// A load that may be put on something, rounded down; nothing where less than a kilogram is left.
    Load(Mass),
    /// An area.
    Area(Area),
    /// An amount of money.
    Money(Money),
    /// A temperature in degrees Celsius.
    Celsius(f64),
    /// A number with at most so many decimals.
    Number(f64, usize),
    /// From one number to another.
    Span(Range),
    /// From one number of months to another.
    Months(Range),
}

macro_rules! from {
    ($($kind:ty => $make:expr;)*) => {
        $(impl From<$kind> for Value {
            fn from(value: $kind) -> Value {
                let make: fn($kind) -> Value = $make;
                make(value)
            }
        })*
    };
}

from! {
    &str => |text| Value::Text(text.to_owned());
    String => Value::Text;
    &Said<Text> => |text| Value::Text(text.to_string());
    u32 => |count| Value::Count(u64::from(count));
    u64 => Value::Count;
    usize => |count| Value::Count(u64::try_from(count).unwrap_or(u64::MAX));
    Message => Value::Message;
    Vec<Value> => Value::All;
    Vec<String> => |texts| Value::All(texts.into_iter().map(Value::Text).collect());
    NaiveDate => Value::Day;
    Mass => |mass| Value::Mass(MassSpan::between(mass, mass));
    MassSpan => Value::Mass;
    Money => Value::Money;
    Area => Value::Area;
    Edtf => Value::Years;
    Length => |length| Value::Lengths(vec![length]);
}

impl<const N: usize> From<&Said<Brief<N>>> for Value {
    fn from(text: &Said<Brief<N>>) -> Value {
        Value::Text(text.to_string())
    }
}
