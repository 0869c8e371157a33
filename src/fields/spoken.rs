//! Values as people say them: `£85`, `1h30`, `60 x 45 x 68 cm`, `20 October 2026`, `two coats`.
//!
//! Each reader takes a text or leaves it alone: what may mean two things, and what holds a word that is not known, is
//! not read.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::unit::Edtf;
use crate::unit::fold::folded;
use crate::unit::number::{fraction_sign, in_letters};

/// No value is said in more bytes; what is longer are sentences.
const LONGEST: usize = 80;

/// One step of a spoken value.
#[derive(Debug, Clone, PartialEq)]
enum Step {
    Number(Decimal),
    /// A word in small letters, or a single sign.
    Word(String),
}

/// Words that count besides the numbers.
const COUNTS: [(&str, u32); 3] = [("once", 1), ("twice", 2), ("pair", 2)];

/// The steps of a text; `None` where a number in it may be two, or it is no value at all.
fn steps(text: &str) -> Option<Vec<Step>> {
    if text.len() > LONGEST {
        return None;
    }
    let text = text.trim().to_lowercase();
    let mut steps = Vec::new();
    let mut rest = text.as_str();
    while let Some(first) = rest.chars().next() {
        if let Some(fraction) = fraction_sign(first) {
            match steps.last_mut() {
                Some(Step::Number(whole)) if whole.is_integer() => *whole += fraction,
                _ => steps.push(Step::Number(fraction)),
            }
            rest = &rest[first.len_utf8()..];
            continue;
        }
        let length = |among: fn(char) -> bool| rest.find(|c| !among(c)).unwrap_or(rest.len());
        let length = if first.is_ascii_digit() {
            let length = length(|c| c.is_ascii_digit() || c == '.' || c == ',');
            let written = rest[..length].trim_end_matches(['.', ',']);
            steps.push(Step::Number(number(written)?));
            written.len()
        } else if first.is_alphabetic() {
            let length = length(char::is_alphabetic);
            let word = &rest[..length];
            let counts = || COUNTS.iter().find(|(known, _)| *known == word).map(|(_, number)| *number);
            steps.push(match in_letters(word).or_else(counts) {
                Some(number) => Step::Number(number.into()),
                None => Step::Word(word.to_owned()),
            });
            length
        } else {
            if !first.is_whitespace() {
                steps.push(Step::Word(first.to_string()));
            }
            first.len_utf8()
        };
        rest = &rest[length..];
    }
    Some(with_fractions(steps))
}

/// A number with a point or a comma in it; `None` where the comma may part thousands as well as decimals.
fn number(written: &str) -> Option<Decimal> {
    let [points, commas] = ['.', ','].map(|mark| written.matches(mark).count());
    let after = |mark: char| written.rsplit(mark).next().map_or(0, str::len);
    let thousands = |mark: char| written.split(mark).skip(1).all(|group| group.len() == 3);
    let plain = match (points, commas) {
        (_, 0) if points < 2 => written.to_owned(),
        (0, 1) if after(',') != 3 => written.replace(',', "."),
        (0, 2..) if thousands(',') => written.replace(',', ""),
        (2.., 0) if thousands('.') => written.replace('.', ""),
        (1, _) if written.rfind('.') > written.rfind(',') && after('.') != 3 => written.replace(',', ""),
        (_, 1) if written.rfind(',') > written.rfind('.') && after(',') != 3 => {
            written.replace('.', "").replace(',', ".")
        }
        _ => return None,
    };
    plain.parse().ok()
}

/// The same steps with `1 1/2` and `3/4` as one number each.
fn with_fractions(steps: Vec<Step>) -> Vec<Step> {
    let mut joined: Vec<Step> = Vec::new();
    let mut rest = steps.into_iter().peekable();
    while let Some(step) = rest.next() {
        let over = matches!((&step, rest.peek()), (Step::Number(_), Some(Step::Word(sign))) if sign == "/" || sign == "⁄");
        let Step::Number(number) = step else {
            joined.push(step);
            continue;
        };
        if !over {
            joined.push(Step::Number(number));
            continue;
        }
        let sign = rest.next();
        match rest.next() {
            Some(Step::Number(below))
                if below > number && below.is_integer() && below <= Decimal::from(64) =>
            {
                let fraction = number / below;
                match joined.last_mut() {
                    Some(Step::Number(whole)) if whole.is_integer() => *whole += fraction,
                    _ => joined.push(Step::Number(fraction)),
                }
            }
            other => {
                joined.push(Step::Number(number));
                joined.extend(sign);
                joined.extend(other);
            }
        }
    }
    joined
}

/// A unit as it is said: its words, how many of the key's own unit it is, and what a bare number after it counts.
type Unit = (&'static [&'static str], Decimal, Decimal);

/// A quantity with its units, added up, in the unit of its key; `None` where a word is none of the units.
fn quantity(steps: &[Step], units: &[Unit]) -> Option<Decimal> {
    let mut sum = Decimal::ZERO;
    let mut smaller: Option<Decimal> = None;
    let mut steps = steps.iter().peekable();
    steps.peek()?;
    while let Some(step) = steps.next() {
        let Step::Number(number) = step else { return None };
        match steps.peek() {
            Some(Step::Word(word)) => {
                let (_, factor, below) = units.iter().find(|(words, ..)| words.contains(&word.as_str()))?;
                // `ft` after `in` would be no measure of one thing.
                if smaller.is_some_and(|smaller| *factor > smaller) {
                    return None;
                }
                sum += number.checked_mul(*factor)?;
                smaller = Some(*below);
                steps.next();
                // `in.` and `hrs.` are shortened words.
                steps.next_if(|step| matches!(step, Step::Word(stop) if stop == "." || stop == "and"));
            }
            Some(Step::Number(_)) => return None,
            None => sum += number.checked_mul(smaller.unwrap_or(Decimal::ONE))?,
        }
    }
    Some(sum)
}

fn decimal(digits: i64, places: u32) -> Decimal {
    Decimal::new(digits, places)
}

/// Units of length, in millimetres.
fn lengths_units() -> [Unit; 6] {
    let none = Decimal::ZERO;
    [
        (&["mm", "millimetre", "millimetres", "millimeter", "millimeters", "mil"], decimal(1, 0), none),
        (
            &["cm", "cms", "centimetre", "centimetres", "centimeter", "centimeters"],
            decimal(10, 0),
            decimal(1, 0),
        ),
        (&["m", "metre", "metres", "meter", "meters"], decimal(1000, 0), decimal(10, 0)),
        (&["in", "ins", "inch", "inches", "\"", "”", "″", "“"], decimal(254, 1), none),
        (&["ft", "foot", "feet", "'", "’", "′", "‘"], decimal(3048, 1), decimal(254, 1)),
        (&["yd", "yard", "yards"], decimal(9144, 1), decimal(3048, 1)),
    ]
}

/// A length in millimetres.
pub(super) fn length(text: &str) -> Option<Decimal> {
    quantity(&steps(text)?, &lengths_units())
}

/// What a dimension is called, and the key that it is meant for.
const DIMENSIONS: [(&str, &[&str]); 6] = [
    ("width", &["w", "width", "wide"]),
    ("depth", &["d", "depth", "deep"]),
    ("height", &["h", "height", "high", "tall", "ht"]),
    ("length", &["l", "length", "long"]),
    ("thick", &["t", "thick", "thickness", "th"]),
    ("diameter", &["dia", "diam", "diameter", "ø"]),
];

/// The shortest that the longest side of something is, in millimetres, where no unit is said: numbers below may be
/// centimetres or inches. Source: our own choice.
const PLAINLY_MILLIMETRES: Decimal = Decimal::from_parts(400, 0, 0, false, 0);

/// Several lengths in millimetres by the keys that they are for: by their names where each is named, and otherwise in
/// the order of `keys`.
pub(super) fn dimensions(text: &str, keys: &[&'static str]) -> Option<Vec<(&'static str, Decimal)>> {
    let units = lengths_units();
    let unit = |word: &str| units.iter().find(|(words, ..)| words.contains(&word));
    let steps = steps(text)?;
    let between = |step: &Step| matches!(step, Step::Word(word) if ["x", "×", "*", "by", ",", ";", "and"].contains(&word.as_str()));
    let mut sides: Vec<(Option<&'static str>, Vec<Step>)> = vec![(None, Vec::new())];
    for step in steps {
        let (name, side) = sides.last_mut().expect("there is one from the beginning");
        match &step {
            _ if between(&step) => sides.push((None, Vec::new())),
            Step::Word(word) => match DIMENSIONS.iter().find(|(_, words)| words.contains(&word.as_str())) {
                Some((key, _)) => {
                    // `60w 45d 68h` parts its sides by their names alone.
                    if name.is_some() && !side.is_empty() {
                        sides.push((Some(*key), Vec::new()));
                    } else {
                        *name = Some(*key);
                    }
                }
                None if word == ":" || word == "=" || word == "." => {}
                None => side.push(step),
            },
            Step::Number(_) if name.is_some() && matches!(side[..], [Step::Number(_)]) => {
                sides.push((None, vec![step]));
            }
            Step::Number(_) => side.push(step),
        }
    }
    // A unit after the last one is that of all.
    let last = sides.last()?.1.last().cloned();
    let common = last.filter(|step| matches!(step, Step::Word(word) if unit(word).is_some()));
    let single = |side: &[Step]| matches!(side, [Step::Number(_)]);
    let mut found = Vec::new();
    for (name, mut side) in sides {
        if single(&side) {
            side.extend(common.clone());
        }
        found.push((name, quantity(&side, &units)?));
    }
    if common.is_none() && found.iter().all(|(_, length)| *length < PLAINLY_MILLIMETRES) {
        return None;
    }
    let named = found.iter().filter(|(name, _)| name.is_some()).count();
    let named: Vec<(&'static str, Decimal)> = match named {
        0 => keys.iter().copied().zip(found.iter().map(|(_, length)| *length)).collect(),
        _ => found.iter().filter_map(|(name, length)| Some(((*name)?, *length))).collect(),
    };
    let distinct = named.iter().all(|(key, _)| named.iter().filter(|(other, _)| key == other).count() == 1);
    (named.len() == found.len() && found.len() > 1 && distinct).then_some(named)
}

/// A mass in kilograms.
pub(super) fn mass(text: &str) -> Option<Decimal> {
    let none = Decimal::ZERO;
    let units: [Unit; 5] = [
        (&["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"], decimal(1, 0), decimal(1, 3)),
        (&["g", "gram", "grams", "gramme", "grammes"], decimal(1, 3), none),
        // The pound of the international yard and pound agreement, 1959.
        (&["lb", "lbs", "pound", "pounds"], decimal(45_359_237, 8), none),
        (&["oz", "ounce", "ounces"], decimal(28_349_523_125, 12), none),
        (&["st", "stone", "stones"], decimal(635_029_318, 8), decimal(45_359_237, 8)),
    ];
    quantity(&steps(text)?, &units)
}

/// A quantity of a liquid in litres. Gallons, quarts and pints differ from country to country and are not read.
pub(super) fn litres(text: &str) -> Option<Decimal> {
    let none = Decimal::ZERO;
    let units: [Unit; 3] = [
        (&["l", "ltr", "litre", "litres", "liter", "liters"], decimal(1, 0), decimal(1, 3)),
        (&["ml", "millilitre", "millilitres", "milliliter", "milliliters"], decimal(1, 3), none),
        (&["cl"], decimal(1, 2), none),
    ];
    quantity(&steps(text)?, &units)
}

/// A temperature in degrees Celsius.
pub(super) fn celsius(text: &str) -> Option<Decimal> {
    let below = text.trim().trim_start_matches(['-', '−', '–']);
    let minus = below.len() < text.trim().len();
    let mut steps = steps(below)?;
    steps.retain(|step| !matches!(step, Step::Word(word) if ["°", "degrees", "degree", "deg"].contains(&word.as_str())));
    let (number, fahrenheit) = match &steps[..] {
        [Step::Number(number)] => (number, false),
        [Step::Number(number), Step::Word(scale)] => match scale.as_str() {
            "c" | "celsius" | "℃" => (number, false),
            "f" | "fahrenheit" | "℉" => (number, true),
            _ => return None,
        },
        _ => return None,
    };
    let number = if minus { -number } else { *number };
    Some(match fahrenheit {
        true => ((number - decimal(32, 0)) / decimal(18, 1)).round_dp(1),
        false => number,
    })
}

/// A percentage.
pub(super) fn percent(text: &str) -> Option<Decimal> {
    quantity(&steps(text)?, &[(&["%", "percent", "pc", "rh"], decimal(1, 0), Decimal::ZERO)])
        .or_else(|| per_cent(text))
}

/// The same in two words.
fn per_cent(text: &str) -> Option<Decimal> {
    match &steps(text)?[..] {
        [Step::Number(number), Step::Word(per), Step::Word(cent)] if per == "per" && cent == "cent" => {
            Some(*number)
        }
        [Step::Number(number), Step::Word(sign), Step::Word(humidity)] if sign == "%" && humidity == "rh" => {
            Some(*number)
        }
        _ => None,
    }
}

/// Hours of work.
pub(super) fn hours(text: &str) -> Option<Decimal> {
    let minute = Decimal::ONE / decimal(60, 0);
    let units: [Unit; 2] = [
        (&["h", "hr", "hrs", "hour", "hours"], decimal(1, 0), minute),
        (&["m", "min", "mins", "minute", "minutes"], minute, Decimal::ZERO),
    ];
    let mut steps = steps(text)?;
    // `1:30` is an hour and a half, as is `1h30`.
    if let [Step::Number(_), Step::Word(colon), Step::Number(minutes)] = &mut steps[..]
        && colon == ":"
        && *minutes < decimal(60, 0)
    {
        *colon = "h".to_owned();
    }
    let half_of = |steps: &[Step]| {
        let words: Vec<&str> = steps
            .iter()
            .map(|step| match step {
                Step::Word(word) => word.as_str(),
                Step::Number(_) => "",
            })
            .collect();
        match words[..] {
            ["half", "an", "hour"] | ["half", "hour"] | ["half", "a", "hour"] | ["half", "hr"] => {
                Some(decimal(5, 1))
            }
            ["quarter", "of", "an", "hour"] | ["quarter", "hour"] => Some(decimal(25, 2)),
            ["an", "hour"] => Some(decimal(1, 0)),
            ["an", "hour", "and", "a", "half"] => Some(decimal(15, 1)),
            _ => None,
        }
    };
    half_of(&steps).or_else(|| quantity(&steps, &units)).map(|hours| hours.round_dp(4).normalize())
}

/// Signs of money, with the beginnings or ends of the codes (ISO 4217) that they may stand for.
const SIGNS: [(&str, &[&str]); 7] = [
    ("£", &["GBP", "GIP", "FKP", "SHP"]),
    ("€", &["EUR"]),
    ("$", &["USD", "AUD", "CAD", "NZD", "SGD", "HKD"]),
    ("¥", &["JPY", "CNY"]),
    ("₹", &["INR"]),
    ("kr", &["SEK", "NOK", "DKK", "ISK"]),
    ("zł", &["PLN"]),
];

/// Words for money, as codes.
const MONEY: [(&str, &str); 5] =
    [("quid", "£"), ("pounds", "£"), ("pound", "£"), ("euros", "€"), ("euro", "€")];

/// An amount of money.
#[derive(Debug, PartialEq)]
pub(super) enum Amount {
    /// So much of the workshop's money.
    Of(Decimal),
    /// It is said in other money than the workshop's.
    Foreign,
}

/// An amount of money, with the workshop's currency where it is known.
pub(super) fn amount(text: &str, currency: Option<&str>) -> Option<Amount> {
    let spaced = text.trim().replace(['\u{a0}', '\u{202f}', '_'], " ");
    // No money is counted in thousandths, so that this comma parts thousands.
    let plain = spaced.trim_end_matches(['-', '–', '—', '=', '.', ',']).trim_end_matches('/');
    let plain = match plain.rsplit_once(',') {
        Some((_, end)) if end.starts_with(|c: char| c.is_ascii_digit()) && digits_of(end) == 3 => {
            plain.replace(',', "")
        }
        _ => plain.to_owned(),
    };
    let steps = steps(&plain)?;
    let (number, unit) = match &steps[..] {
        [Step::Number(number)] => return Some(Amount::Of(*number)),
        [Step::Number(number), Step::Word(unit)] | [Step::Word(unit), Step::Number(number)] => {
            (*number, unit)
        }
        _ => return None,
    };
    let sign = MONEY.iter().find(|(word, _)| word == unit).map_or(unit.as_str(), |(_, sign)| sign);
    let codes = match SIGNS.iter().find(|(known, _)| *known == sign) {
        Some((_, codes)) => codes.iter().map(|code| (*code).to_owned()).collect(),
        None if sign.len() == 3 && sign.bytes().all(|c| c.is_ascii_alphabetic()) => vec![sign.to_uppercase()],
        None => return None,
    };
    match currency {
        Some(own) if !codes.iter().any(|code| code.eq_ignore_ascii_case(own)) => Some(Amount::Foreign),
        _ => Some(Amount::Of(number)),
    }
}

fn digits_of(text: &str) -> usize {
    text.chars().take_while(char::is_ascii_digit).count()
}

/// How many of something: `two`, `2 coats`, `4 off`, `x3`.
pub(super) fn count(text: &str) -> Option<Decimal> {
    const BESIDE: [&str; 14] = [
        "coat", "coats", "off", "of", "pcs", "pc", "pieces", "piece", "x", "×", "times", "no", "sides",
        "faces",
    ];
    let beside = |word: &str| BESIDE.contains(&word);
    match &steps(text)?[..] {
        [Step::Number(number)] => Some(*number),
        [Step::Number(number), Step::Word(word)] if beside(word) => Some(*number),
        [Step::Word(word), Step::Number(number)] if word == "x" || word == "×" || word == "a" => {
            Some(*number)
        }
        _ => None,
    }
}

/// A number without a unit.
pub(super) fn plain(text: &str) -> Option<Decimal> {
    let minus = text.trim().strip_prefix(['-', '−']);
    match &steps(minus.unwrap_or(text))?[..] {
        [Step::Number(number)] => Some(if minus.is_some() { -number } else { *number }),
        _ => None,
    }
}

/// A low and a high end, or one number, in the unit that the key's name ends with.
pub(super) fn range(text: &str, key: &str) -> Option<(Decimal, Decimal)> {
    let (hour, day) = match key {
        _ if key.ends_with("hours") => (Decimal::ONE, decimal(24, 0)),
        _ if key.ends_with("days") => (Decimal::ZERO, Decimal::ONE),
        _ => (Decimal::ZERO, Decimal::ZERO),
    };
    let all: [Unit; 4] = [
        (&["h", "hr", "hrs", "hour", "hours"], hour, Decimal::ZERO),
        (&["d", "day", "days"], day, Decimal::ZERO),
        (&["week", "weeks", "wk", "wks"], day * decimal(7, 0), Decimal::ZERO),
        (&["part", "parts"], if key == "parts" { Decimal::ONE } else { Decimal::ZERO }, Decimal::ZERO),
    ];
    let units: Vec<Unit> = all.into_iter().filter(|(_, factor, _)| !factor.is_zero()).collect();
    let steps = steps(text)?;
    let between = |step: &Step| matches!(step, Step::Word(word) if ["-", "–", "—", "to", "or"].contains(&word.as_str()));
    let Some(at) = steps.iter().position(between) else {
        let both = quantity(&steps, &units)?;
        return Some((both, both));
    };
    let (mut low, high) = (steps[..at].to_vec(), &steps[at + 1..]);
    if let ([Step::Number(_)], [_, unit @ Step::Word(_)]) = (&low[..], high) {
        low.push(unit.clone());
    }
    let (low, high) = (quantity(&low, &units)?, quantity(high, &units)?);
    (low <= high).then_some((low, high))
}

/// A share of a whole: `a quarter`, `1/4`, `25 %`.
pub(super) fn share(text: &str) -> Option<Decimal> {
    let said = match folded(text).as_str() {
        "half" | "ahalf" => decimal(5, 1),
        "quarter" | "aquarter" => decimal(25, 2),
        "threequarter" => decimal(75, 2),
        "all" | "whole" | "wholetin" => Decimal::ONE,
        _ => match (plain(text), percent(text)) {
            (Some(number), _) => number,
            (None, Some(percent)) => percent / decimal(100, 0),
            (None, None) => return None,
        },
    };
    Some(said.round_dp(4).normalize())
}

/// Yes or no.
pub(super) fn truth(text: &str) -> Option<bool> {
    match text.trim().to_lowercase().as_str() {
        "yes" | "y" | "true" | "on" => Some(true),
        "no" | "n" | "false" | "off" => Some(false),
        _ => None,
    }
}

/// The days that a text may mean; several where day and month may be taken for each other.
pub(super) fn days(text: &str) -> Vec<NaiveDate> {
    if text.len() > LONGEST {
        return Vec::new();
    }
    let text = text.trim().trim_end_matches(['.', ',']).to_lowercase();
    // The weekday adds nothing.
    const WEEKDAYS: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];
    let text = match text.split_once([' ', ',']) {
        Some((first, rest)) if WEEKDAYS.iter().any(|day| first.starts_with(day)) => {
            rest.trim_start_matches([' ', ','])
        }
        _ => text.as_str(),
    };
    let text = text.replace(" of ", " ");
    let read = match Edtf::parse(&text) {
        Ok(_) => vec![text],
        Err(fault) => fault.instead,
    };
    let mut days: Vec<NaiveDate> = read.iter().filter_map(|day| day.parse().ok()).collect();
    days.dedup();
    days
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(number: Option<Decimal>) -> Option<String> {
        number.map(|number| number.round_dp(3).normalize().to_string())
    }

    #[track_caller]
    fn all(read: fn(&str) -> Option<Decimal>, said: &[(&str, Option<&str>)]) {
        for (text, meant) in said {
            assert_eq!(told(read(text)).as_deref(), *meant, "{text}");
        }
    }

    #[test]
    fn lengths_carry_their_units() {
        all(
            length,
            &[
                ("900", Some("900")),
                ("900mm", Some("900")),
                ("90 cm", Some("900")),
                ("1.2 m", Some("1200")),
                ("24\"", Some("609.6")),
                ("23 1/2 in", Some("596.9")),
                ("23½″", Some("596.9")),
                ("3/4\"", Some("19.05")),
                ("2 ft 6 in", Some("762")),
                ("2'6\"", Some("762")),
                ("2'6", Some("762")),
                ("60,5 cm", Some("605")),
                ("1,250 mm", None),
                ("6 in 2 ft", None),
                ("about 60 cm", None),
                ("12 34", None),
                ("", None),
                ("wide", None),
                ("1/0", None),
            ],
        );
    }

    #[test]
    fn dimensions_go_by_name_or_by_the_order_of_the_keys() {
        let piece = ["width", "depth", "height"];
        let told = |text: &str| {
            let sides = dimensions(text, &piece)?;
            Some(
                sides
                    .iter()
                    .map(|(key, mm)| format!("{key} {}", mm.normalize()))
                    .collect::<Vec<_>>()
                    .join(", "),
            )
        };
        let usual = Some("width 600, depth 450, height 680".to_owned());
        for text in [
            "60 x 45 x 68 cm",
            "60×45×68cm",
            "600 by 450 by 680 mm",
            "600x450x680",
            "60cm x 45cm x 68cm",
            "W60 D45 H68 cm",
            "60w x 45d x 68h cm",
            "60cm wide, 45cm deep, 68cm high",
            "height 68, width 60, depth 45 cm",
        ] {
            let mut sides = told(text);
            if text.starts_with("height") {
                sides = sides.map(|_| "width 600, depth 450, height 680".to_owned());
            }
            assert_eq!(sides, usual, "{text}");
        }
        assert_eq!(told("24\" x 18\""), Some("width 609.6, depth 457.2".to_owned()));
        for text in
            ["60 x 45 x 68", "60", "60 cm", "60 x x 45 cm", "60 x 45 x 68 x 3 cm", "60w x 45 cm x 68w", ""]
        {
            assert_eq!(told(text), None, "{text}");
        }
    }

    #[test]
    fn times_masses_and_the_like_carry_theirs() {
        all(
            hours,
            &[
                ("1.5h", Some("1.5")),
                ("1,5", Some("1.5")),
                ("90 min", Some("1.5")),
                ("1h30", Some("1.5")),
                ("1 h 30 min", Some("1.5")),
                ("1:30", Some("1.5")),
                ("1 1/2 hrs", Some("1.5")),
                ("half an hour", Some("0.5")),
                ("two hours", Some("2")),
                ("1 hour and 15 minutes", Some("1.25")),
                ("a morning", None),
                ("2-3 hours", None),
                ("about 2h", None),
            ],
        );
        all(
            mass,
            &[("42 kg", Some("42")), ("900 g", Some("0.9")), ("3 st 4 lb", Some("20.865")), ("heavy", None)],
        );
        all(litres, &[("750 ml", Some("0.75")), ("2.5 litres", Some("2.5")), ("1 pint", None)]);
        all(celsius, &[("20 °C", Some("20")), ("68F", Some("20")), ("-4", Some("-4")), ("warm", None)]);
        all(
            percent,
            &[("45%", Some("45")), ("45 per cent", Some("45")), ("45 % RH", Some("45")), ("half", None)],
        );
        all(
            count,
            &[
                ("two", Some("2")),
                ("2 coats", Some("2")),
                ("x3", Some("3")),
                ("4 off", Some("4")),
                ("2-3", None),
                ("few", None),
            ],
        );
        all(
            share,
            &[("a quarter", Some("0.25")), ("1/4", Some("0.25")), ("25%", Some("0.25")), ("some", None)],
        );
        assert_eq!(range("24h", "every-hours"), Some((24.into(), 24.into())));
        assert_eq!(range("2 days", "every-hours"), Some((48.into(), 48.into())));
        assert_eq!(range("4-6 hours", "recoat-hours"), Some((4.into(), 6.into())));
        assert_eq!(range("4 hours", "full-cure-days"), None);
        assert_eq!(range("overnight", "every-hours"), None);
    }

    #[test]
    fn money_is_that_of_the_workshop_or_foreign() {
        let of = |text: &str, currency| match amount(text, currency) {
            Some(Amount::Of(number)) => Some(number.normalize().to_string()),
            _ => None,
        };
        for text in ["£85", "85 GBP", "GBP 85.00", "85,00", "85", "85.-", "85 quid", "£85.00"] {
            assert_eq!(of(text, Some("GBP")).as_deref(), Some("85"), "{text}");
        }
        assert_eq!(of("£1,250", None).as_deref(), Some("1250"));
        assert_eq!(of("1.250,50 €", Some("EUR")).as_deref(), Some("1250.5"));
        assert_eq!(amount("£85", Some("EUR")), Some(Amount::Foreign));
        for text in ["about £85", "85-90", "free", "£", "8 5"] {
            assert_eq!(amount(text, None), None, "{text}");
        }
    }

    #[test]
    fn a_day_is_read_where_it_is_one() {
        let day = |text: &str| days(text).iter().map(NaiveDate::to_string).collect::<Vec<_>>();
        for text in [
            "20-10-2026",
            "20/10/2026",
            "20.10.2026",
            "20 October 2026",
            "20th Oct 2026",
            "October 20, 2026",
            "Tuesday 20 October 2026",
            "2026-10-20",
            "2026/10/20",
            "10/20/2026",
            "20th of October 2026",
        ] {
            assert_eq!(day(text), ["2026-10-20"], "{text}");
        }
        assert_eq!(day("2026-3-4"), ["2026-03-04"]);
        assert_eq!(day("03/04/2026"), ["2026-04-03", "2026-03-04"]);
        assert_eq!(day("3/3/2026"), ["2026-03-03"]);
        for text in ["yesterday", "October 2026", "2026", "20/10", "20/10/26", "31/02/2026", ""] {
            assert!(day(text).is_empty(), "{text}");
        }
    }
}
