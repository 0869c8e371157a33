//! The single values of a record: text, numbers, dates, money, places on a picture.

use std::borrow::Cow;
use std::str::FromStr;

use chrono::NaiveDate;
use rust_decimal::Decimal;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use toml::Spanned;
use toml::de::DeValue;

use super::about::{self, About, Sort};
use super::spoken::{self, Amount};
use super::{Reader, Value, Word, code, list, wrong_kind};
use crate::diag::nearest;
use crate::source::normal_form;
use crate::unit::fold::folded;
use crate::unit::{Area, Edtf, Fraction, Hours, Length, Mass, Money, legible};

/// Text as somebody typed it; never empty.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Text(pub String);

/// Text of at most so many characters, for what stands in headings and addresses; never empty.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Brief<const MOST: usize>(pub String);

/// A short name by which other places of the record point at something.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Id(pub String);

/// How many of something; at least one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Count(pub u32);

/// How many faces of a board something was done to: one or both.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Faces(pub u32);

/// Percent, from 0 to 100.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Percent(pub f64);

/// A room's temperature in degrees Celsius.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Celsius(pub f64);

/// A quantity of a liquid in litres; above zero.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Litres(pub f64);

/// A share of a whole, above 0; exact, since money is multiplied by it. Above 1 it is more than the whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Share(pub Decimal);

/// A percentage that is added to money, from 0 to 1000; exact.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Surcharge(pub Decimal);

/// A year of our era; negative before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Year(pub i32);

/// A figure of a table, above zero, in the unit its key names.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Figure(pub f64);

/// A number of a table that may be below zero.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Number(pub f64);

/// A low and a high end of a span of time or of anything counted.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Range {
    /// The low end.
    pub low: f64,
    /// The high end; never below the low one.
    pub high: f64,
}

macro_rules! simple_schema {
    ($type:ty, $name:expr, $schema:tt) => {
        impl JsonSchema for $type {
            fn schema_name() -> Cow<'static, str> {
                $name.into()
            }

            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!($schema)
            }

            fn inline_schema() -> bool {
                true
            }
        }
    };
}

pub(super) use simple_schema;

impl std::ops::Deref for Text {
    type Target = str;

    fn deref(&self) -> &str {
        &self.0
    }
}

impl std::fmt::Display for Text {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl Value for Text {
    const ABOUT: &'static About = &About::text();

    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let text: Cow<'_, str> = match value.get_ref() {
            DeValue::String(text) => Cow::Borrowed(text.as_ref()),
            // A number says the same with quotes and without.
            DeValue::Integer(number) if number.radix() == 10 => Cow::Borrowed(number.as_str()),
            DeValue::Float(number) => Cow::Borrowed(number.as_str()),
            DeValue::Datetime(moment) => Cow::Owned(moment.to_string()),
            DeValue::Boolean(_) => {
                return wrong_kind(value, "text", "say it in words, in double quotes", reader);
            }
            _ => return wrong_kind(value, "text", "put it in double quotes", reader),
        };
        // Names of photographs come in this form, too.
        let text = normal_form(text.trim());
        if !legible::is_visible(&text) {
            reader.note(
                &code::EMPTY_TEXT,
                &value.span(),
                "this says nothing",
                "write something, or leave the key out",
            );
            return None;
        }
        let text = read_short(&text, LONGEST_TEXT, "a long account belongs in the story", value, reader)?;
        reader.note_unseen(&text, &value.span());
        Some(Text(text))
    }
}

impl<const MOST: usize> Value for Brief<MOST> {
    const ABOUT: &'static About = &About::text();

    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let text = Text::read(value, reader)?;
        read_short(&text, MOST, "shorten it; what else is to be said has its own place", value, reader)
            .map(Brief)
    }
}

impl<const MOST: usize> JsonSchema for Brief<MOST> {
    fn schema_name() -> Cow<'static, str> {
        format!("Brief{MOST}").into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "minLength": 1, "maxLength": MOST })
    }

    fn inline_schema() -> bool {
        true
    }
}

impl<const MOST: usize> std::ops::Deref for Brief<MOST> {
    type Target = str;

    fn deref(&self) -> &str {
        &self.0
    }
}

impl<const MOST: usize> std::fmt::Display for Brief<MOST> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

/// The most characters of a text, about two printed pages.
pub const LONGEST_TEXT: usize = 6_000;

/// A text of at most so many characters, or a mistake with what to do.
fn read_short(
    text: &str,
    most: usize,
    help: &str,
    value: &Spanned<DeValue<'_>>,
    reader: &mut Reader<'_>,
) -> Option<String> {
    let length = text.chars().count();
    if length > most {
        let message = format!("this text has {length} characters, and at most {most} are read");
        reader.note(&code::TOO_LONG, &value.span(), message, help);
        return None;
    }
    Some(text.to_owned())
}

simple_schema!(Text, "Text", { "type": "string", "minLength": 1, "maxLength": LONGEST_TEXT });

impl std::ops::Deref for Id {
    type Target = str;

    fn deref(&self) -> &str {
        &self.0
    }
}

impl Value for Id {
    const ABOUT: &'static About = &About::name("\"leaf-left\"");

    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let text = Text::read(value, reader)?.0;
        let sound = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        if !text.chars().all(sound) || text.chars().count() > 60 {
            let whole = slug::slugify(&text);
            if !whole.is_empty() && whole.len() <= 60 {
                // The same letters give the same id wherever they stand.
                reader.note_loose(
                    &value.span(),
                    format!("`{text}` is read as `{whole}`: an id has small letters a to z, digits and hyphens alone"),
                    format!("write \"{whole}\""),
                );
                reader.written = Some(about::quoted(&whole));
                return Some(Id(whole));
            }
            let tidy: String = whole.chars().take(60).collect();
            let help = if tidy.is_empty() {
                "write something like `leaf-left`".to_owned()
            } else {
                format!("write `{tidy}`, here and wherever it is named")
            };
            reader.note(
                &code::UNSOUND_ID,
                &value.span(),
                format!("`{text}` is no id: small letters a to z, digits and hyphens, at most 60"),
                help,
            );
            return None;
        }
        Some(Id(text))
    }
}

simple_schema!(Id, "Id", { "type": "string", "pattern": "^[a-z0-9-]{1,60}$" });

impl Value for bool {
    const ABOUT: &'static About = &About::like("true").of(Sort::Truth);

    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let said = match value.get_ref() {
            DeValue::Boolean(truth) => return Some(*truth),
            DeValue::String(text) => spoken::truth(text),
            _ => None,
        };
        match said {
            Some(truth) => Some(read_loosely(value, truth, &truth.to_string(), reader)),
            None => wrong_kind(value, "true or false", "write `true` or `false`, without quotes", reader),
        }
    }
}

/// Notes that a text was read as a value, and how to write that.
fn read_loosely<T>(value: &Spanned<DeValue<'_>>, read: T, written: &str, reader: &mut Reader<'_>) -> T {
    let typed = value.get_ref().as_str().unwrap_or_default().trim().to_owned();
    let key = reader.key();
    let message = match typed == written {
        true => format!("`{typed}` stands in quotes, and is read without them"),
        false => format!("`{typed}` is read as {written}"),
    };
    reader.note_loose(&value.span(), message, format!("write `{key} = {written}`"));
    reader.written = Some(written.to_owned());
    read
}

impl Value for NaiveDate {
    const ABOUT: &'static About = &About::like("2026-03-14").of(Sort::Day);

    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        const HELP: &str = "write it as 2026-03-14, year, month and day, without quotes";
        let written = match value.get_ref() {
            DeValue::Datetime(written) => written,
            DeValue::String(text) => {
                let days = spoken::days(text);
                return match days[..] {
                    [day] => Some(read_loosely(value, day, &day.to_string(), reader)),
                    [] => wrong_kind(value, "a date", HELP, reader),
                    _ => {
                        let days: Vec<String> = days.iter().map(|day| format!("`{day}`")).collect();
                        let message = format!("`{}` may be one of several days", text.trim());
                        reader.note(
                            &code::WRONG_KIND,
                            &value.span(),
                            message,
                            format!("write {}, year, month and day, without quotes", days.join(" or ")),
                        );
                        None
                    }
                };
            }
            _ => return wrong_kind(value, "a date", HELP, reader),
        };
        let date = written.date.and_then(|date| {
            NaiveDate::from_ymd_opt(i32::from(date.year), u32::from(date.month), u32::from(date.day))
        });
        if date.is_none() {
            reader.note(&code::WRONG_KIND, &value.span(), "this is no date", HELP);
        }
        date
    }
}

impl Value for Edtf {
    const ABOUT: &'static About = &About::like("\"1925\"").of(Sort::Years);

    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let written = match value.get_ref() {
            DeValue::Integer(year) => year.as_str().to_owned(),
            DeValue::String(text) => text.to_string(),
            DeValue::Datetime(moment) => moment.to_string(),
            _ => {
                return wrong_kind(
                    value,
                    "a year in quotes",
                    "write it as \"1925\" or \"1920/1935~\"",
                    reader,
                );
            }
        };
        let fault = match Edtf::parse(&written) {
            Ok(edtf) => return Some(edtf),
            Err(fault) => fault,
        };
        // What can mean one thing alone is taken so.
        if let [meant] = &fault.instead[..]
            && let Ok(edtf) = Edtf::parse(meant)
        {
            return Some(read_loosely(value, edtf, &about::quoted(meant), reader));
        }
        reader.note(&code::UNREADABLE_YEAR, &value.span(), fault.to_string(), fault.help());
        None
    }
}

simple_schema!(Edtf, "Edtf", {
    "description": "A year or a span of years in EDTF, levels 0 and 1: \"1925\", \"1920/1935~\", \"188X\", \"1900~\".",
    "type": "string"
});

/// How a number is said in words.
type Spoken = fn(&str) -> Option<Decimal>;

/// Reads a number exactly as written, or as it is said, or notes that it is none.
fn decimal(
    value: &Spanned<DeValue<'_>>,
    (wanted, example): (&str, &str),
    spoken: Spoken,
    reader: &mut Reader<'_>,
) -> Option<Decimal> {
    let written = match value.get_ref() {
        DeValue::Integer(number) if number.radix() == 10 => number.as_str().to_owned(),
        DeValue::Float(number) => number.as_str().to_owned(),
        DeValue::String(text) => {
            return match spoken(text) {
                Some(number) => Some(number),
                None => not_a_number(value, (wanted, example), reader),
            };
        }
        _ => return not_a_number(value, (wanted, example), reader),
    };
    let written = written.trim_start_matches('+').replace('_', "");
    let number = if written.contains(['e', 'E']) {
        Decimal::from_scientific(&written)
    } else {
        Decimal::from_str(&written)
    };
    match number {
        Ok(number) => Some(number),
        Err(_) => out_of_range(value, wanted, example, reader),
    }
}

/// Notes that a value is no number, with how to write one.
fn not_a_number<T>(
    value: &Spanned<DeValue<'_>>,
    (wanted, example): (&str, &str),
    reader: &mut Reader<'_>,
) -> Option<T> {
    let only = match value.get_ref() {
        DeValue::String(text) => only_number(text),
        _ => None,
    };
    let number = only.as_deref().unwrap_or(example);
    wrong_kind(value, wanted, &format!("write it as {number}, without quotes"), reader)
}

/// The number that stands in a text, where there is one alone.
fn only_number(text: &str) -> Option<String> {
    let mut numbers = text
        .split(|letter: char| !letter.is_ascii_digit() && letter != '.')
        .map(|number| number.trim_matches('.'))
        .filter(|number| !number.is_empty());
    let number = numbers.next().filter(|number| Decimal::from_str(number).is_ok())?;
    numbers.next().is_none().then(|| number.to_owned())
}

/// Notes how a number was read that was said in words, once it is known to be sound.
fn said_number<T>(value: &Spanned<DeValue<'_>>, read: T, number: Decimal, reader: &mut Reader<'_>) -> T {
    match value.get_ref() {
        DeValue::String(_) => read_loosely(value, read, &number.normalize().to_string(), reader),
        _ => read,
    }
}

/// Reads a number for which binary fractions do.
fn number(
    value: &Spanned<DeValue<'_>>,
    (wanted, example): (&str, &str),
    spoken: Spoken,
    reader: &mut Reader<'_>,
) -> Option<f64> {
    let number = match value.get_ref() {
        DeValue::Integer(number) if number.radix() == 10 => number.as_str().parse().ok(),
        DeValue::Float(number) => number.as_str().parse().ok(),
        DeValue::String(text) => match spoken(text) {
            Some(number) => number.round_dp(6).to_string().parse().ok(),
            None => return not_a_number(value, (wanted, example), reader),
        },
        _ => return not_a_number(value, (wanted, example), reader),
    };
    match number {
        Some(number) => Some(number),
        None => out_of_range(value, wanted, example, reader),
    }
}

/// Notes that a number cannot be what it is meant to be.
pub(super) fn out_of_range<T>(
    value: &Spanned<DeValue<'_>>,
    wanted: &str,
    example: &str,
    reader: &mut Reader<'_>,
) -> Option<T> {
    reader.note(
        &code::OUT_OF_RANGE,
        &value.span(),
        format!("this cannot be {wanted}"),
        format!("write it as {example}"),
    );
    None
}

/// A value type made of one binary number that a predicate admits, and how people say it.
macro_rules! numeric {
    ($type:ty, $unit:literal, $wanted:expr, $example:literal, $spoken:expr, $make:expr, $schema:tt) => {
        impl Value for $type {
            const ABOUT: &'static About = &About::like($example).of(Sort::Number($unit));

            fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
                let make: fn(f64) -> Option<$type> = $make;
                let read = number(value, ($wanted, $example), $spoken, reader)?;
                match make(read) {
                    Some(made) => {
                        let rounded = Decimal::from_f64_retain(read).unwrap_or_default().round_dp(6);
                        Some(said_number(value, made, rounded, reader))
                    }
                    None => out_of_range(value, $wanted, $example, reader),
                }
            }
        }

        simple_schema!($type, stringify!($type), $schema);
    };
}

/// What a length is, for messages.
pub const LENGTH: &str = "a length in millimetres, above 0 and at most 20 000";

numeric!(Length, "mm", LENGTH, "900", spoken::length, Length::from_mm, {
    "description": "Millimetres.", "x-unit": "mm", "type": "number", "exclusiveMinimum": 0, "maximum": 20000
});
numeric!(Percent, "%", "a percentage from 0 to 100", "45", spoken::percent, |n| (0.0..=100.0).contains(&n).then_some(Percent(n)), {
    "x-unit": "%", "type": "number", "minimum": 0, "maximum": 100
});
numeric!(Celsius, "°C", "a room's temperature in degrees Celsius, from -10 to 50", "20", spoken::celsius,
    |n| (-10.0..=50.0).contains(&n).then_some(Celsius(n)),
    { "description": "Degrees Celsius.", "type": "number", "minimum": -10, "maximum": 50 });
numeric!(Litres, "litres", "a quantity in litres, above 0 and at most 1000", "0.75", spoken::litres,
    |n| (n > 0.0 && n <= 1000.0).then_some(Litres(n)),
    { "description": "Litres.", "type": "number", "exclusiveMinimum": 0, "maximum": 1000 });
numeric!(Year, "", "a year from -10 000 to 2200", "1936", spoken::plain,
    |n| (n.fract() == 0.0 && (-10_000.0..=2200.0).contains(&n)).then_some(Year(n as i32)),
    { "type": "integer", "minimum": -10_000, "maximum": 2200 });
numeric!(Figure, "", "a figure above 0", "0.00365", spoken::plain, |n| (n > 0.0 && n.is_finite()).then_some(Figure(n)),
    { "type": "number", "exclusiveMinimum": 0 });
numeric!(Number, "", "a number", "-0.000303", spoken::plain, |n| n.is_finite().then_some(Number(n)), { "type": "number" });
numeric!(Mass, "kg", "a mass in kilograms, above 0 and at most 5000", "42.5", spoken::mass,
    |n| if n > 0.0 && n <= 5000.0 { Mass::from_kg(n) } else { None },
    { "description": "Kilograms.", "x-unit": "kg", "type": "number", "exclusiveMinimum": 0, "maximum": 5000 });
numeric!(Area, "cm²", "an area in square centimetres, above 0 and at most 1 000 000", "24", spoken::plain,
    |n| if n > 0.0 && n <= 1_000_000.0 { Area::from_m2(n / 1e4) } else { None },
    { "description": "Square centimetres.", "x-unit": "cm²", "type": "number", "exclusiveMinimum": 0, "maximum": 1_000_000 });
numeric!(Fraction, "", "a fraction from 0 to 1", "0.42", spoken::share, Fraction::new, { "type": "number", "minimum": 0, "maximum": 1 });
numeric!(Count, "", "a count, a whole number from 1 to 100 000", "4", spoken::count,
    |n| (n.fract() == 0.0 && (1.0..=100_000.0).contains(&n)).then_some(Count(n as u32)),
    { "type": "integer", "minimum": 1, "maximum": 100_000 });

numeric!(Faces, "", "a number of faces, 1 or 2", "2", spoken::count, |n| (n == 1.0 || n == 2.0).then_some(Faces(n as u32)),
    { "type": "integer", "minimum": 1, "maximum": 2 });

impl Value for Money {
    const ABOUT: &'static About = &About::like("35.00").of(Sort::Money);

    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let (wanted, example) = ("an amount of money, from 0 to 10 000 000", "35.00");
        let said = match value.get_ref() {
            DeValue::String(text) => spoken::amount(text, reader.currency()),
            _ => None,
        };
        let amount = match said {
            Some(Amount::Of(amount)) => amount,
            Some(Amount::Foreign) => {
                let own = reader.currency().unwrap_or_default().to_owned();
                let message = format!("this is in other money than {own}, which is that of `workshop.toml`");
                reader.note(
                    &code::WRONG_KIND,
                    &value.span(),
                    message,
                    format!("write the amount in {own}, such as {example}"),
                );
                return None;
            }
            None => decimal(value, (wanted, example), spoken::plain, reader)?,
        };
        if amount.is_sign_negative() && !amount.is_zero() || amount > Decimal::from(10_000_000) {
            return out_of_range(value, wanted, example, reader);
        }
        match value.get_ref() {
            DeValue::String(_) => Some(read_loosely(value, Money(amount), &amount.to_string(), reader)),
            // Many write thousands so, and no money is counted in thousandths.
            DeValue::Float(written) if amount.scale() == 3 => {
                let (key, written, less) = (reader.key(), written.as_str(), amount.normalize());
                let more = amount * Decimal::ONE_THOUSAND;
                let (message, help) = (
                    format!("`{written}` is read as {less}, and not as {}", more.normalize()),
                    format!("write `{key} = {less}` or `{key} = {}`", more.normalize()),
                );
                reader.note_loose(&value.span(), message, help);
                Some(Money(amount))
            }
            _ => Some(Money(amount)),
        }
    }
}

simple_schema!(Money, "Money", { "type": "number", "minimum": 0, "maximum": 10_000_000 });

impl Value for Hours {
    const ABOUT: &'static About = &About::like("1.5").of(Sort::Number("hours"));

    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let wanted = "hours of work, from 0 to 10 000";
        let count = decimal(value, (wanted, "1.5"), spoken::hours, reader)?;
        match Hours::new(count) {
            Some(hours) if count <= Decimal::from(10_000) => Some(said_number(value, hours, count, reader)),
            _ => out_of_range(value, wanted, "1.5", reader),
        }
    }
}

simple_schema!(Hours, "Hours", { "type": "number", "minimum": 0, "maximum": 10_000 });

impl Value for Share {
    const ABOUT: &'static About = &About::like("0.25").of(Sort::Number("of the whole"));

    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let wanted = "a share, above 0 and at most 100";
        let share = decimal(value, (wanted, "0.25"), spoken::share, reader)?;
        if share <= Decimal::ZERO || share > Decimal::ONE_HUNDRED {
            return out_of_range(value, wanted, "0.25, for a quarter", reader);
        }
        Some(said_number(value, Share(share), share, reader))
    }
}

simple_schema!(Share, "Share", {
    "description": "A share of the whole: 0.25 is a quarter.",
    "type": "number", "exclusiveMinimum": 0, "maximum": 100
});

impl Value for Surcharge {
    const ABOUT: &'static About = &About::like("12.5").of(Sort::Number("%"));

    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let wanted = "a percentage from 0 to 1000";
        let percent = decimal(value, (wanted, "12.5"), spoken::percent, reader)?;
        if percent.is_sign_negative() && !percent.is_zero() || percent > Decimal::ONE_THOUSAND {
            return out_of_range(value, wanted, "12.5", reader);
        }
        Some(said_number(value, Surcharge(percent), percent, reader))
    }
}

simple_schema!(Surcharge, "Surcharge", {
    "description": "Percent.", "type": "number", "minimum": 0, "maximum": 1000
});

impl Value for Range {
    const ABOUT: &'static About = &About::list("[4, 6]").of(Sort::Number(""));

    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let help = "write it as [4, 6], the low end first";
        let key = reader.key();
        let said = value.get_ref().as_str().and_then(|text| spoken::range(text, key));
        let (low, high) = match value.get_ref() {
            DeValue::Array(array) if array.len() == 2 => {
                let mut ends =
                    array.iter().map(|each| number(each, ("a number", "4"), spoken::plain, reader));
                (ends.next()??, ends.next()??)
            }
            DeValue::Array(_) => return wrong_kind(value, "a list of two numbers", help, reader),
            _ => match said {
                Some((low, high)) => {
                    let end = |end: Decimal| end.round_dp(6).to_string().parse::<f64>().unwrap_or(f64::NAN);
                    (end(low), end(high))
                }
                None => {
                    let both = number(value, ("a number or a list of two", "[4, 6]"), spoken::plain, reader)?;
                    (both, both)
                }
            },
        };
        if !(low >= 0.0 && high >= low && high <= 100_000.0) {
            return out_of_range(
                value,
                "a span from a low to a high number",
                "[4, 6], the low end first",
                reader,
            );
        }
        let read = Range { low, high };
        match said {
            Some(_) if low == high => Some(read_loosely(value, read, &low.to_string(), reader)),
            Some(_) => Some(read_loosely(value, read, &format!("[{low}, {high}]"), reader)),
            None => Some(read),
        }
    }
}

simple_schema!(Range, "Range", {
    "description": "A number, or a list of a low and a high one.",
    "anyOf": [
        { "type": "number", "minimum": 0 },
        { "type": "array", "items": { "type": "number", "minimum": 0 }, "minItems": 2, "maxItems": 2 }
    ]
});

/// More words than these are a sentence, where a word of a list is wanted.
const MOST_WORDS: usize = 4;

/// Reads one word of a closed list, as it is written or as it is said, and gives its place in the list; or notes the
/// nearest right one.
pub(crate) fn word(value: &Spanned<DeValue<'_>>, words: &[Word], reader: &mut Reader<'_>) -> Option<usize> {
    let written: &str = match value.get_ref() {
        DeValue::String(written) => written,
        DeValue::Boolean(true) => "yes",
        DeValue::Boolean(false) => "no",
        _ => "",
    };
    if let Some(found) = words.iter().position(|word| word.word == written) {
        return Some(found);
    }
    // A mark of doubt takes back what is said.
    let form = if written.contains('?') { String::new() } else { folded(written) };
    let said = |word: &Word| {
        std::iter::once(&word.word).chain(word.said).any(|said| !form.is_empty() && folded(said) == form)
    };
    if let Some(found) = words.iter().position(said) {
        reader.written = Some(about::quoted(words[found].word));
        return Some(found);
    }
    let all: Vec<&'static str> = words.iter().map(|word| word.word).collect();
    let DeValue::String(written) = value.get_ref() else {
        return wrong_kind(value, "a word", &format!("write one of {}, in quotes", list(&all)), reader);
    };
    let (order, near) = about::by_meaning(written, words);
    // A sentence says too much for one word of it to tell which is meant.
    let sentence = written.split_whitespace().count() > MOST_WORDS;
    let near = near && !sentence;
    let spelt = nearest(written, all.iter().copied());
    let help = match spelt.or(order.first().copied().filter(|_| near)) {
        Some(near) => {
            let others: Vec<&'static str> = order.into_iter().filter(|word| *word != near).collect();
            let means = words.iter().find(|word| word.word == near).map_or("", |word| word.means.trim());
            let means = means.trim_end_matches('.');
            let means = if means.is_empty() { String::new() } else { format!(" ({})", lower(means)) };
            format!("write \"{near}\"{means}, or else one of {}", list(&others))
        }
        None if sentence => {
            format!("write one of {}; a sentence of your own goes into a key that takes text", list(&all))
        }
        None => format!("write one of {}", list(&all)),
    };
    let message = format!("`{written}` is none of the words that `{}` takes", reader.key());
    reader.note(&code::UNKNOWN_WORD, &value.span(), message, help);
    None
}

/// A sentence to stand within another.
fn lower(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use std::fmt::Debug;

    use serde_json::Value as Json;

    use super::super::{Field, Fields, Said, read_text};
    use super::*;
    use crate::fields::{Landmark, Line, Outline};
    use crate::unit::{Fraction, Point, Rectangle};

    /// Reads a value as it is written in a file, or gives all that is noted of it: code, message and cure.
    #[track_caller]
    fn read<T: Value>(written: &str) -> Result<T, String> {
        let (value, told) = reading(written);
        assert_eq!(value.is_some(), told.is_empty(), "{written}: {told:?}");
        value.ok_or_else(|| told.join("\n"))
    }

    /// Reads a value as it is written in a file, and gives all that is noted of it.
    #[track_caller]
    fn reading<T: Value>(written: &str) -> (Option<T>, Vec<String>) {
        fn take<T: Value>(fields: &Fields<'_>, reader: &mut Reader<'_>) -> Option<Said<T>> {
            fields.take("key", reader)
        }
        let text = format!("key = {written}");
        let reading = read_text("record.toml", &text, take::<T>);
        let told = |found: &crate::diag::Diagnostic| {
            let (start, end) = found.place.span.expect("what is wrong with a value has a place");
            assert!(start >= "key = ".len() && end <= text.len(), "{written}: {start} to {end}");
            format!("{}: {}; {}", found.code.name, found.message, found.help)
        };
        let told: Vec<String> = reading.problems.iter().map(told).collect();
        (reading.table.map(|said| said.value), told)
    }

    #[track_caller]
    fn refused<T: Value + Debug>(written: &str, wanted: &str) {
        assert_eq!(read::<T>(written).expect_err(written), wanted);
    }

    /// Whether a JSON Schema takes a number.
    fn takes(schema: &Json, number: f64) -> bool {
        let bound = |key: &str| schema.get(key).and_then(Json::as_f64);
        bound("minimum").is_none_or(|least| number >= least)
            && bound("maximum").is_none_or(|most| number <= most)
            && bound("exclusiveMinimum").is_none_or(|below| number > below)
            && (schema["type"] != "integer" || number.fract() == 0.0)
    }

    /// Asserts that numbers are read up to both bounds and not beyond, that the schema says the same, and that the message
    /// names what is wanted.
    #[track_caller]
    fn bounds<T: Value + Debug>(sound: &[&str], beyond: &[&str], wanted: &str, example: &str) {
        let schema = T::json_schema(&mut SchemaGenerator::default()).to_value();
        let number = |written: &str| -> f64 { written.parse().expect("a number") };
        for written in sound {
            assert!(read::<T>(written).is_ok(), "{written}: {:?}", read::<T>(written));
            assert!(takes(&schema, number(written)), "{written}: {schema}");
        }
        for written in beyond {
            refused::<T>(written, &format!("out-of-range: this cannot be {wanted}; write it as {example}"));
            // No schema can say of a number that it is none.
            assert!(!number(written).is_finite() || !takes(&schema, number(written)), "{written}: {schema}");
        }
        // An example may go on with what it means.
        let number = example.split(',').next().unwrap_or(example);
        let cure = format!("write it as {number}, without quotes");
        refused::<T>("\"many\"", &format!("wrong-kind: this is text, and {wanted} is wanted; {cure}"));
        refused::<T>("true", &format!("wrong-kind: this is true or false, and {wanted} is wanted; {cure}"));
        refused::<T>("0x10", &format!("wrong-kind: this is a whole number, and {wanted} is wanted; {cure}"));
        assert!(read::<T>(number).is_ok(), "the example is one");
    }

    /// Asserts that a value is read though it is written otherwise, and how it is told to be written.
    #[track_caller]
    fn loosely<T: Value + Debug + PartialEq>(written: &str, meant: &str, told: &str) {
        let (value, told_of_it) = reading::<T>(written);
        assert_eq!(value, Some(read::<T>(meant).expect(meant)), "{written}: {told_of_it:?}");
        assert_eq!(told_of_it, [format!("loose-value: {told}; write `key = {meant}`")]);
    }

    #[test]
    fn measures_are_read_up_to_their_bounds() {
        let length = "a length in millimetres, above 0 and at most 20 000";
        bounds::<Length>(
            &["0.001", "900", "2e4"],
            &["0", "-0.0", "-900", "20000.1", "inf", "nan"],
            length,
            "900",
        );
        let mass = "a mass in kilograms, above 0 and at most 5000";
        bounds::<Mass>(&["0.001", "5000"], &["0", "-1", "5000.1", "inf", "nan"], mass, "42.5");
        let litres = "a quantity in litres, above 0 and at most 1000";
        bounds::<Litres>(&["0.001", "1000"], &["0", "-0.75", "1000.1", "nan"], litres, "0.75");
        let celsius = "a room's temperature in degrees Celsius, from -10 to 50";
        bounds::<Celsius>(&["-10", "50.0"], &["-10.1", "50.1", "-inf", "nan"], celsius, "20");
        let percent = "a percentage from 0 to 100";
        bounds::<Percent>(&["0", "100"], &["-0.1", "100.1", "nan"], percent, "45");
        bounds::<Fraction>(&["0", "1.0"], &["-0.01", "1.01", "nan"], "a fraction from 0 to 1", "0.42");
        assert_eq!(read("910.5"), Ok(Length::from_mm(910.5).unwrap()));
        assert_eq!(read("45"), Ok(Percent(45.0)));
    }

    #[test]
    fn figures_of_tables_are_any_finite_numbers() {
        bounds::<Figure>(&["1e-9", "1e300"], &["0", "-1", "inf", "nan"], "a figure above 0", "0.00365");
        bounds::<Number>(&["-1e300", "0", "7"], &["inf", "-inf", "nan"], "a number", "-0.000303");
        assert_eq!(read("-0.000303"), Ok(Number(-0.000303)));
    }

    #[test]
    fn what_is_counted_is_whole() {
        let count = "a count, a whole number from 1 to 100 000";
        bounds::<Count>(&["1", "100000", "4.0"], &["0", "-4", "1.5", "100001", "nan"], count, "4");
        bounds::<Faces>(&["1", "2"], &["0", "3", "1.5"], "a number of faces, 1 or 2", "2");
        let year = "a year from -10 000 to 2200";
        bounds::<Year>(&["-10000", "2200"], &["-10001", "2201", "1936.5", "inf"], year, "1936");
        assert_eq!((read("12"), read("-43")), (Ok(Count(12)), Ok(Year(-43))));
    }

    #[test]
    fn money_and_hours_are_decimals_to_the_last_digit() {
        let money = "an amount of money, from 0 to 10 000 000";
        bounds::<Money>(&["0", "-0.0", "10000000"], &["-0.01", "10000000.01", "inf", "nan"], money, "35.00");
        let hours = "hours of work, from 0 to 10 000";
        bounds::<Hours>(&["0", "10000"], &["-0.5", "10000.01", "nan"], hours, "1.5");
        let surcharge = "a percentage from 0 to 1000";
        bounds::<Surcharge>(&["0", "1000"], &["-1", "1000.5", "nan"], surcharge, "12.5");
        let exact = |written: &str| read::<Money>(written).map(|money| money.0.to_string());
        assert_eq!(exact("0.1").unwrap(), "0.1");
        assert_eq!(exact("+1_250.50").unwrap(), "1250.50");
        assert_eq!(exact("2.5e3").unwrap(), "2500");
        assert_eq!(
            read::<Hours>("1.25").map(Hours::count),
            Ok(Decimal::from_str("1.25").unwrap()),
            "a quarter of an hour"
        );
    }

    #[test]
    fn a_share_is_more_than_nothing() {
        assert_eq!(read("0.25"), Ok(Share(Decimal::from_str("0.25").unwrap())));
        assert_eq!(read("100"), Ok(Share(Decimal::ONE_HUNDRED)));
        let wanted = "a share, above 0 and at most 100";
        for beyond in ["0", "-0.25", "100.1"] {
            refused::<Share>(
                beyond,
                &format!("out-of-range: this cannot be {wanted}; write it as 0.25, for a quarter"),
            );
        }
        refused::<Share>("nan", &format!("out-of-range: this cannot be {wanted}; write it as 0.25"));
        refused::<Share>(
            "\"some\"",
            &format!("wrong-kind: this is text, and {wanted} is wanted; write it as 0.25, without quotes"),
        );
        let cure =
            format!("wrong-kind: this is text, and {wanted} is wanted; write it as 12.5, without quotes");
        refused::<Share>("\"nearly 12.5, I think\"", &cure);
        loosely::<Share>("\"a quarter\"", "0.25", "`a quarter` is read as 0.25");
        let schema = Share::json_schema(&mut SchemaGenerator::default()).to_value();
        assert!(takes(&schema, 100.0) && !takes(&schema, 0.0) && !takes(&schema, 100.1));
    }

    #[test]
    fn text_is_trimmed_and_never_empty() {
        assert_eq!(read("\"  oak, \\n much mended \""), Ok(Text("oak, \n much mended".to_owned())));
        for empty in ["\"\"", "\" \\n\\t\""] {
            refused::<Text>(empty, "empty-text: this says nothing; write something, or leave the key out");
        }
        assert_eq!(read("7"), Ok(Text("7".to_owned())), "a number says the same without quotes");
        refused::<Text>(
            "true",
            "wrong-kind: this is true or false, and text is wanted; say it in words, in double quotes",
        );
    }

    #[test]
    fn characters_that_nobody_sees_are_noted_and_kept() {
        fn take(fields: &Fields<'_>, reader: &mut Reader<'_>) -> Option<Said<Text>> {
            Said::take(fields, "key", reader)
        }
        let reading = read_text("record.toml", "key = \"oak\\u202E and \\u0007elm\"", take);
        assert_eq!(reading.table.map(|text| text.value.0), Some("oak\u{202e} and \u{7}elm".to_owned()));
        let told: Vec<_> =
            reading.problems.iter().map(|told| (told.code.name, told.message.as_str())).collect();
        let message = "this text holds U+202E, a mark that turns the direction of writing, and one more that nobody sees";
        assert_eq!(told, [("unseen-character", message)]);
    }

    #[test]
    fn an_id_is_short_and_plain() {
        let longest = "x".repeat(60);
        assert_eq!(read("\"leaf-left-2\""), Ok(Id("leaf-left-2".to_owned())));
        assert_eq!(read(&format!("\"{longest}\"")), Ok(Id(longest.clone())));
        let told = |id: &str, cure: &str| {
            format!(
                "unsound-id: `{id}` is no id: small letters a to z, digits and hyphens, at most 60; {cure}"
            )
        };
        let (id, noted) = reading::<Id>("\"Leaf links, Nº 2\"");
        assert_eq!(id, Some(Id("leaf-links-no-2".to_owned())));
        let message = "`Leaf links, Nº 2` is read as `leaf-links-no-2`: \
                       an id has small letters a to z, digits and hyphens alone";
        assert_eq!(noted, [format!("loose-value: {message}; write \"leaf-links-no-2\"")]);
        let long = format!("{longest}y");
        let cure = format!("write `{longest}`, here and wherever it is named");
        refused::<Id>(&format!("\"{long}\""), &told(&long, &cure));
        refused::<Id>("\"?!\"", &told("?!", "write something like `leaf-left`"));
    }

    #[test]
    fn true_false_and_days_are_written_without_quotes() {
        assert_eq!((read("true"), read("false")), (Ok(true), Ok(false)));
        let cure = "write `true` or `false`, without quotes";
        refused::<bool>(
            "\"maybe\"",
            &format!("wrong-kind: this is text, and true or false is wanted; {cure}"),
        );
        loosely::<bool>("\"yes\"", "true", "`yes` is read as true");
        let day = NaiveDate::from_ymd_opt(2026, 3, 14).unwrap();
        assert_eq!(read("2026-03-14"), Ok(day));
        assert_eq!(read("2026-03-14T09:30:00"), Ok(day), "the time of day is left out");
        let cure = "write it as 2026-03-14, year, month and day, without quotes";
        refused::<NaiveDate>("09:30:00", &format!("wrong-kind: this is no date; {cure}"));
        refused::<NaiveDate>(
            "\"spring\"",
            &format!("wrong-kind: this is text, and a date is wanted; {cure}"),
        );
        loosely::<NaiveDate>("\"14 March 2026\"", "2026-03-14", "`14 March 2026` is read as 2026-03-14");
        loosely::<NaiveDate>(
            "\"2026-03-14\"",
            "2026-03-14",
            "`2026-03-14` stands in quotes, and is read without them",
        );
        refused::<NaiveDate>(
            "\"3/4/2026\"",
            "wrong-kind: `3/4/2026` may be one of several days; \
             write `2026-04-03` or `2026-03-04`, year, month and day, without quotes",
        );
    }

    #[test]
    fn what_is_said_with_its_unit_is_read_in_that_of_the_key() {
        loosely::<Length>("\"90 cm\"", "900", "`90 cm` is read as 900");
        loosely::<Hours>("\"1h30\"", "1.5", "`1h30` is read as 1.5");
        loosely::<Money>("\"£85,50\"", "85.50", "`£85,50` is read as 85.50");
        loosely::<Count>("\"two coats\"", "2", "`two coats` is read as 2");
        loosely::<Range>("\"4-6\"", "[4, 6]", "`4-6` is read as [4, 6]");
        let beyond = "out-of-range: this cannot be a length in millimetres, above 0 and at most 20 000; write it as 900";
        refused::<Length>("\"90 m\"", beyond);
    }

    #[test]
    fn thousands_after_a_point_are_doubted() {
        let (amount, told) = reading::<Money>("1.250");
        assert_eq!(amount, Some(Money(Decimal::from_str("1.250").unwrap())));
        let wanted =
            "loose-value: `1.250` is read as 1.25, and not as 1250; write `key = 1.25` or `key = 1250`";
        assert_eq!(told, [wanted]);
    }

    #[test]
    fn other_money_than_the_workshops_is_refused() {
        fn take(fields: &Fields<'_>, reader: &mut Reader<'_>) -> Option<Said<Money>> {
            fields.take("key", reader)
        }
        let reading = super::super::text::read_text_in("record.toml", "key = \"£85\"", Some("EUR"), take);
        assert_eq!(reading.table, None);
        assert_eq!(reading.problems[0].help, "write the amount in EUR, such as 35.00");
    }

    #[test]
    fn years_of_making_are_edtf_with_or_without_quotes() {
        assert_eq!(read("1925"), Ok(Edtf::parse("1925").unwrap()));
        assert_eq!(read("\"1920/1935~\""), Ok(Edtf::parse("1920/1935~").unwrap()));
        let cure = "write it as \"1925\" or \"1920/1935~\"";
        refused::<Edtf>(
            "1925.5",
            &format!("wrong-kind: this is a number, and a year in quotes is wanted; {cure}"),
        );
        loosely::<Edtf>("\"1920s\"", "\"192X\"", "`1920s` is read as \"192X\"");
        let fault = Edtf::parse("old").unwrap_err();
        refused::<Edtf>("\"old\"", &format!("unreadable-year: {fault}; {}", fault.help()));
    }

    fn point(x: f64, y: f64) -> Point {
        Point { x: Fraction::new(x).unwrap(), y: Fraction::new(y).unwrap() }
    }

    #[test]
    fn places_on_a_photograph_are_lists_of_fractions() {
        assert_eq!(read("[0.42, 1]"), Ok(point(0.42, 1.0)));
        let landmark = Landmark { before: point(0.1, 0.2), after: point(0.3, 0.4) };
        assert_eq!(read("[0.1, 0.2, 0.3, 0.4]"), Ok(landmark));
        refused::<Point>(
            "[0.1, 0.2, 0.3]",
            "wrong-kind: 2 fractions are wanted, and this has 3; write it as [0.42, 0.66]",
        );
        refused::<Point>(
            "0.42",
            "wrong-kind: this is a number, and a list of fractions is wanted; write it as [0.42, 0.66]",
        );
        let beyond = "out-of-range: this cannot be a fraction from 0 to 1; write it as 0.42";
        refused::<Point>("[42, 66]", &format!("{beyond}\n{beyond}"));
        refused::<Landmark>(
            "[0.1, 0.2]",
            "wrong-kind: 4 fractions are wanted, and this has 2; write it as [0.21, 0.30, 0.23, 0.31]",
        );
    }

    #[test]
    fn a_rectangle_lies_on_the_photograph() {
        let fraction = |value| Fraction::new(value).unwrap();
        let rectangle = Rectangle::new(point(0.5, 0.0), fraction(0.5), fraction(1.0)).unwrap();
        assert_eq!(read("[0.5, 0.0, 0.5, 1.0]"), Ok(rectangle));
        for beyond in ["[0.6, 0.0, 0.5, 1.0]", "[0.5, 0.1, 0.5, 1.0]", "[0.5, 0.5, 0.0, 0.5]"] {
            refused::<Rectangle>(
                beyond,
                "out-of-range: this cannot be a rectangle on the photograph: its corner and its size; \
                 write it as [0.30, 0.40, 0.05, 0.05]: x, y, width, height; x and width together, and y and height, \
                 come to 1 at most",
            );
        }
    }

    #[test]
    fn a_line_has_two_ends_and_an_outline_three_corners() {
        let line = Line { from: point(0.1, 0.2), to: point(0.3, 0.4) };
        assert_eq!(read("[[0.1, 0.2], [0.3, 0.4]]"), Ok(line));
        let corners = vec![point(0.1, 0.1), point(0.9, 0.1), point(0.5, 0.9)];
        assert_eq!(read("[[0.1, 0.1], [0.9, 0.1], [0.5, 0.9]]"), Ok(Outline(corners)));
        let cure = "write where it begins and where its arrow points";
        for (written, count) in [("[[0.1, 0.2]]", 1), ("[[0.1, 0.2], [0.3, 0.4], [0.5, 0.6]]", 3), ("[]", 0)]
        {
            let told = format!("wrong-kind: two points are wanted, and this has {count}; {cure}");
            refused::<Line>(written, &told);
        }
        refused::<Outline>(
            "[[0.1, 0.2], [0.3, 0.4]]",
            "wrong-kind: an outline has three points or more, and this has 2; \
             write a point for each corner; `line` takes two",
        );
        refused::<Outline>(
            "\"round\"",
            "wrong-kind: this is text, and a list of points is wanted; \
             write it as [[0.42, 0.66], [0.51, 0.60], [0.47, 0.71]]",
        );
        // One corner that cannot be read is not left out: the area would be another one.
        refused::<Outline>(
            "[[0.1, 0.1], [0.9, 0.1], [0.5, 9], [0.5, 0.5]]",
            "out-of-range: this cannot be a fraction from 0 to 1; write it as 0.42",
        );
    }

    #[test]
    fn a_range_is_one_number_or_two_with_the_low_end_first() {
        assert_eq!(read("4"), Ok(Range { low: 4.0, high: 4.0 }));
        assert_eq!(read("[0, 100000]"), Ok(Range { low: 0.0, high: 100_000.0 }));
        let cure = "write it as [4, 6], the low end first";
        for beyond in ["[6, 4]", "[-1, 4]", "[4, 100001]", "[nan, 4]", "inf", "-4"] {
            refused::<Range>(
                beyond,
                &format!("out-of-range: this cannot be a span from a low to a high number; {cure}"),
            );
        }
        for wrong in ["[4]", "[4, 5, 6]"] {
            let told = format!("wrong-kind: this is a list, and a list of two numbers is wanted; {cure}");
            refused::<Range>(wrong, &told);
        }
        refused::<Range>(
            "\"long\"",
            "wrong-kind: this is text, and a number or a list of two is wanted; \
             write it as [4, 6], without quotes",
        );
    }

    /// A word of a closed list, as the tables of a record have them.
    #[derive(Debug, PartialEq)]
    struct Held(String);

    simple_schema!(Held, "Held", { "type": "string" });

    impl Value for Held {
        fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
            let words = [
                Word { word: "free", said: &["floating", "on buttons"], means: "It can move." },
                Word { word: "fixed-across", said: &[], means: "It is screwed or glued across the grain." },
                Word { word: "unknown", said: &[], means: "" },
            ];
            word(value, &words, reader).map(|at| Held(words[at].word.to_owned()))
        }
    }

    #[test]
    fn a_word_of_a_closed_list_is_answered_with_the_nearest() {
        let held = |word: &str| Ok(Held(word.to_owned()));
        assert_eq!(read("\"fixed-across\""), held("fixed-across"));
        for said in ["Fixed across", "FIXED_ACROSS"] {
            assert_eq!(read(&format!("\"{said}\"")), held("fixed-across"), "{said}");
        }
        assert_eq!(read("\"On button\""), held("free"), "as it is said");
        let told = |word: &str, cure: &str| {
            format!("unknown-word: `{word}` is none of the words that `key` takes; write {cure}")
        };
        let fixed =
            "\"fixed-across\" (it is screwed or glued across the grain), or else one of `free`, `unknown`";
        refused::<Held>("\"fixed acros\"", &told("fixed acros", fixed));
        refused::<Held>("\"glued down\"", &told("glued down", fixed));
        let free = "\"free\" (it can move), or else one of `fixed-across`, `unknown`";
        refused::<Held>("\"free?\"", &told("free?", free));
        refused::<Held>("\"tight\"", &told("tight", "one of `free`, `fixed-across`, `unknown`"));
        refused::<Held>(
            "true",
            "wrong-kind: this is true or false, and a word is wanted; \
             write one of `free`, `fixed-across`, `unknown`, in quotes",
        );
    }
}
