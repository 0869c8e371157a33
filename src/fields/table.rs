//! A table, read from what people write in its place, too: its dimensions in a row, or its one needed value by itself.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::{About, Fields, Reader, about, code, mend, spoken, wrong_kind};

/// Reads a table's type from a value: from a table, or from what people write in its place, such as `60 x 45 cm`.
pub(crate) fn read_as_table<T>(
    value: &Spanned<DeValue<'_>>,
    name: &'static str,
    about: &'static About,
    reader: &mut Reader<'_>,
    read: fn(&Fields<'_>, &mut Reader<'_>) -> Option<T>,
) -> Option<T> {
    let told = table_or_said(value, name, about, reader, read);
    // A row of a list is told of by the file that has it.
    if told.is_none() && !name.starts_with("[[") {
        reader.lack(name, value.span().start);
    }
    told
}

fn table_or_said<T>(
    value: &Spanned<DeValue<'_>>,
    name: &'static str,
    about: &'static About,
    reader: &mut Reader<'_>,
    read: fn(&Fields<'_>, &mut Reader<'_>) -> Option<T>,
) -> Option<T> {
    // An element of a list is written without its key.
    let (key, keys, begin) = (reader.key, about.keys, if reader.listed { "" } else { reader.key });
    let within = |table: &DeTable<'_>, reader: &mut Reader<'_>| {
        let fields = Fields::new(table, value.span(), name);
        reader.within(name, value.span().start, |reader| read(&fields, reader))
    };
    if let DeValue::Table(table) = value.get_ref() {
        return within(table, reader);
    }
    match said_sides(value.get_ref(), about.order) {
        Sides::Told(sides) => {
            let told: Vec<String> = sides.iter().map(|(key, mm)| format!("{key} = {mm}")).collect();
            let lacking =
                keys.iter().filter(|key| key.required && sides.iter().all(|(side, _)| *side != key.name));
            let lacking: Vec<String> = lacking.map(|key| format!("{} = …", key.name)).collect();
            let whole = [told.clone(), lacking.clone()].concat().join(", ");
            if !lacking.is_empty() {
                let message = format!(
                    "this is text, and says nothing of its {}",
                    lacking.join(", ").replace(" = …", "")
                );
                reader.note(
                    &code::WRONG_KIND,
                    &value.span(),
                    message,
                    format!("write `{key} = {{ {whole} }}`"),
                );
                return None;
            }
            let text = told.join("\n");
            let table = mend::placed_table(DeTable::parse(&text).ok()?.into_inner(), &|_| value.span());
            let read = within(&table, reader)?;
            let message = format!("this is read as {} mm", told.join(", ").replace(" =", ""));
            reader.note_loose(&value.span(), message, format!("write `{key} = {{ {whole} }}`"));
            return Some(read);
        }
        Sides::WithoutUnit(sides) => {
            let told: Vec<String> = sides.iter().map(|(key, mm)| format!("{key} = {mm}")).collect();
            let help = format!(
                "in millimetres; where these are centimetres, write `{key} = {{ {} }}`",
                told.join(", ")
            );
            reader.note(&code::WRONG_KIND, &value.span(), "this says no unit", format!("write it {help}"));
            return None;
        }
        Sides::None => {}
    }
    let mut required = keys.iter().filter(|key| key.required);
    if let (DeValue::String(text), Some(only), None) = (value.get_ref(), required.next(), required.next()) {
        let mut table = DeTable::new();
        table.insert(Spanned::new(value.span(), only.name.into()), value.clone());
        let read = within(&table, reader)?;
        let example = about::section(name, about, Some(text), begin);
        reader.note_loose(
            &value.span(),
            format!("this is read as its `{}`", only.name),
            format!("write\n{example}"),
        );
        return Some(read);
    }
    let typed = value.get_ref().as_str();
    let help = format!("{}, such as\n{}", about::keys_of(keys), about::section(name, about, typed, begin));
    reader.dropped = true;
    wrong_kind(value, "a table", &help, reader)
}

/// What a text or a bare list says of dimensions: millimetres by their keys.
enum Sides {
    Told(Vec<(&'static str, String)>),
    /// The same, if the numbers are centimetres.
    WithoutUnit(Vec<(&'static str, String)>),
    None,
}

fn said_sides(value: &DeValue<'_>, order: &'static [&'static str]) -> Sides {
    let number = |each: &Spanned<DeValue<'_>>| match each.get_ref() {
        DeValue::Integer(number) if number.radix() == 10 => Some(number.as_str().to_owned()),
        DeValue::Float(number) => Some(number.as_str().to_owned()),
        DeValue::String(text) => Some(text.to_string()),
        _ => None,
    };
    let text = match value {
        DeValue::String(text) => text.to_string(),
        DeValue::Array(list) => match list.iter().map(number).collect::<Option<Vec<_>>>() {
            Some(numbers) => numbers.join(" x "),
            None => return Sides::None,
        },
        _ => return Sides::None,
    };
    let sides = |text: &str| {
        let sides = spoken::dimensions(text, order)?;
        Some(sides.into_iter().map(|(key, mm)| (key, mm.round_dp(1).normalize().to_string())).collect())
    };
    match (order, sides(&text)) {
        ([], _) => Sides::None,
        (_, Some(told)) => Sides::Told(told),
        (_, None) => sides(&format!("{text} cm")).map_or(Sides::None, Sides::WithoutUnit),
    }
}
