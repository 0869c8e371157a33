//! Money, sizes, weights and the air at the bench, as a line says them.

use std::ops::Range;

use rust_decimal::Decimal;

use super::line::{Line, Mood};
use super::words::lists;
use crate::record::day_book::Duration;

/// What an amount of money was.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Purpose {
    /// What something cost.
    Cost,
    /// What the piece itself cost.
    Paid,
    /// What is asked for it.
    Asking,
    /// What it was sold for.
    Price,
    /// What was spent in all.
    Total,
    /// What a litre, or each of several, costs.
    Each,
    /// What comes in for something else.
    Income,
}

/// An amount of money in a line.
#[derive(Debug, Clone)]
pub(super) struct Amount {
    pub(super) amount: Decimal,
    pub(super) purpose: Purpose,
    pub(super) what: String,
    pub(super) at: Range<usize>,
    pub(super) mood: Mood,
}

const SIGNS: &[&str] = &["£", "€", "$", "¥", "₹"];
/// The amounts of money in a line.
pub(super) fn amounts(line: &Line, durations: &[Duration]) -> Vec<Amount> {
    let mut found: Vec<Amount> = Vec::new();
    let timed = |at: usize| durations.iter().any(|one| one.at.contains(&at));
    let mut at = 0;
    while at < line.tokens.len() {
        let Some(value) = line.tokens[at].value().filter(|_| !timed(at)) else {
            at += 1;
            continue;
        };
        let signed = at > 0 && SIGNS.contains(&line.word(at - 1));
        let (united, unit) = (lists().money.units.contains(&line.word(at + 1)), line.word(at + 1));
        let pence = line.tokens.get(at + 1).is_some_and(|next| next.glued && next.is("p"))
            && value < Decimal::from(100)
            && !is_grit(line, at);
        let bare = bare(line, at, &found);
        if !(signed || united || pence || bare.is_some()) {
            at += 1;
            continue;
        }
        let start = if signed { at - 1 } else { at };
        let end = if united || pence { at + 2 } else { at + 1 };
        let amount = if pence && !signed { value / Decimal::from(100) } else { value };
        let premium = unit == "%";
        let (purpose, amount) = match (bare, premium) {
            (Some(Purpose::Paid), true) | (Some(Purpose::Cost), true) => {
                let paid = found.iter().find(|one| one.purpose == Purpose::Paid).map(|one| one.amount);
                match paid {
                    Some(paid) => (Purpose::Cost, paid * value / Decimal::from(100)),
                    None => {
                        at += 1;
                        continue;
                    }
                }
            }
            (Some(purpose), _) => (purpose, amount),
            (None, _) => (purpose(line, start, end), amount),
        };
        let what = if premium { "premium".to_owned() } else { what(line, start, end) };
        let mood = line.moods[at];
        found.push(Amount { amount: amount.normalize(), purpose, what, at: start..end, mood });
        at = end;
    }
    found
}

/// Whether a number with a `p` is the grit of a paper.
fn is_grit(line: &Line, at: usize) -> bool {
    let clause = line.clause(at);
    line.has(&clause, &lists().money.grits)
}

/// What a number without a sign is, by the word before it: `paid 25`, `asked 180`, `+ 5 petrol`.
fn bare(line: &Line, at: usize, found: &[Amount]) -> Option<Purpose> {
    let after = line.word(at + 1);
    let unit = &lists().money.no_money;
    if unit.contains(&after) {
        return None;
    }
    let word = |back: usize| at.checked_sub(back).map_or("", |at| line.word(at));
    let before = [word(1), word(2), word(3)];
    let has = |words: &[&str]| before.iter().any(|word| words.contains(word));
    if word(1) == "+" && found.iter().any(|one| one.purpose == Purpose::Paid || one.purpose == Purpose::Cost)
    {
        return Some(if after == "%" { Purpose::Paid } else { Purpose::Cost });
    }
    if before[..1].iter().chain(&before[1..2]).any(|word| ["paid", "cost", "costs"].contains(word)) {
        return Some(
            if line.has(&(0..line.tokens.len()), &lists().money.piece) || word(1) == "paid" && bought(line) {
                Purpose::Paid
            } else {
                Purpose::Cost
            },
        );
    }
    // `paid the upholsterer 85 for the seat`, `sold the odd chair for 25`
    let ends = ["", ",", ".", ";", "for", "cash", "to"].contains(&after);
    if ends && word(3) == "paid" && ["the", "a", "our", "my"].contains(&word(2)) {
        return Some(Purpose::Cost);
    }
    if ends && word(1) == "for" && line.has(&(line.clause(at).start..at), &["sold"]) {
        return Some(Purpose::Price);
    }
    if ["hammer", "bid"].contains(&word(1)) {
        return Some(Purpose::Paid);
    }
    if ["asked", "asking"].contains(&word(1)) {
        return Some(Purpose::Asking);
    }
    if ["took"].contains(&word(1))
        && line.has(&(0..line.tokens.len()), &["asked", "asking", "sold", "cash", "deal"])
    {
        return Some(Purpose::Price);
    }
    if has(&["sold"]) || after == "cash" && !bought(line) {
        return Some(Purpose::Price);
    }
    if after == "cash" {
        return Some(Purpose::Paid);
    }
    if word(1) == "spent" {
        return Some(Purpose::Total);
    }
    None
}

fn bought(line: &Line) -> bool {
    line.has(&(0..line.tokens.len()), &lists().money.bought)
}

/// What an amount with its sign was, by the words around it.
fn purpose(line: &Line, start: usize, end: usize) -> Purpose {
    let sentence = line.sentence(start);
    let after = |words: &[&str]| words.contains(&line.word(end)) || words.contains(&line.word(end + 1));
    if after(&["a", "per", "each", "/"]) && after(&lists().money.each) {
        return Purpose::Each;
    }
    if line.has(&sentence, &["sold", "took"]) {
        return Purpose::Price;
    }
    // A sum of what other lines tell.
    if line.has(&sentence, &["so far", "in total", "altogether", "total so", "total spent", "adds up"]) {
        return Purpose::Total;
    }
    if line.has(&sentence, &lists().money.asking) {
        return Purpose::Asking;
    }
    // What stands behind `plus` was paid besides it: `collected the desk, 85 plus 15 for fuel`.
    let first = !line.tokens[..start].iter().any(|token| token.is_any(&["£", "$", "€"]));
    let fetched = line.has(&line.sentence(0), &["collected", "fetched", "bought", "picked"])
        && first
        && names_nothing(line, end);
    if line.has(&sentence, &lists().money.piece)
        || bought(line) && (line.has(&sentence, &["paid", "bought"]) || fetched)
    {
        return Purpose::Paid;
    }
    if line.has(&sentence, &["delivery", "deliver", "deposit"])
        && !line.has(&sentence, &["paid", "cost", "courier"])
    {
        return Purpose::Income;
    }
    Purpose::Cost
}

/// Whether no thing is named behind an amount: `85 cash`, but not `15 fuel`.
fn names_nothing(line: &Line, end: usize) -> bool {
    let after = line.word(end);
    !line.clause(end).contains(&end)
        || ["", ",", ".", ";", "cash", "all", "in", "and", "plus", "+"].contains(&after)
}

/// What was paid for: the words behind an amount, or else those before it.
fn what(line: &Line, start: usize, end: usize) -> String {
    let clause = line.clause(start);
    let bare = |range: Range<usize>| -> String {
        let skip = &lists().money.no_thing;
        let (mut from, mut to) = (range.start, range.end);
        while from < to && skip[..19].contains(&line.word(from)) {
            from += 1;
        }
        while to > from && skip.contains(&line.word(to - 1)) {
            to -= 1;
        }
        line.written(from..to).to_owned()
    };
    let behind = bare(end.min(clause.end)..clause.end);
    if !behind.is_empty() && behind.chars().any(char::is_alphabetic) {
        return behind;
    }
    let before = bare(clause.start..start.max(clause.start));
    if !before.is_empty() && before.chars().any(char::is_alphabetic) {
        return before;
    }
    // A clause of nothing but money goes with the one before it.
    let place = line.clauses.iter().position(|other| other.start == clause.start).unwrap_or(0);
    match place.checked_sub(1).and_then(|before| line.clauses.get(before)) {
        // What was told in another sentence may be anything.
        Some(before) if line.sentence(start).contains(&before.start) => bare(before.clone()),
        _ => String::new(),
    }
}

/// Lengths of a line, in millimetres.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Sizes {
    pub(super) width: Option<Decimal>,
    pub(super) depth: Option<Decimal>,
    pub(super) height: Option<Decimal>,
    pub(super) length: Option<Decimal>,
    /// How thick something is, with the place where it is said.
    pub(super) thick: Option<(Decimal, usize)>,
}

const SIDES: [(&str, usize); 18] = [
    ("w", 0),
    ("wide", 0),
    ("width", 0),
    ("d", 1),
    ("deep", 1),
    ("depth", 1),
    ("h", 2),
    ("high", 2),
    ("height", 2),
    ("tall", 2),
    ("ht", 2),
    ("l", 3),
    ("long", 3),
    ("length", 3),
    ("lg", 3),
    ("t", 4),
    ("thick", 4),
    ("thickness", 4),
];

/// The sides that a line names with their lengths: `w 915 d 460`, `36" wide 18 deep 30 high`, `900 x 450 x 760`.
pub(super) fn sizes(line: &Line) -> Sizes {
    let side = |at: usize| SIDES.iter().find(|(word, _)| *word == line.word(at)).map(|(_, side)| *side);
    let mut named: Vec<(usize, Decimal, Option<Decimal>, usize)> = Vec::new();
    let mut at = 0;
    while at < line.tokens.len() {
        let Some(number) = line.tokens[at].number else {
            at += 1;
            continue;
        };
        let unit = unit(line, at + 1);
        let after = at + 1 + usize::from(unit.is_some());
        let before = at.checked_sub(1).and_then(side);
        // A letter stands before its number in all of a line, or behind it in all.
        let lettered = before.filter(|_| named.last().is_none_or(|(_, _, _, style)| *style == 0));
        match (lettered, side(after)) {
            (Some(side), _) if line.word(at - 1).len() > 1 || named.last().is_none_or(|last| last.3 == 0) => {
                named.push((side, number, unit, 0));
                at = after;
            }
            (_, Some(side))
                if line.word(after).len() > 1 || line.tokens[after].glued || !named.is_empty() =>
            {
                named.push((side, number, unit, 1));
                at = after + 1;
            }
            _ => at += 1,
        }
    }
    let common = named.iter().find_map(|(_, _, unit, _)| *unit);
    let mut sizes = Sizes::default();
    let single_letters = named.len() == 1 && common.is_none() && named[0].0 < 4;
    if !single_letters {
        let known = common.unwrap_or(Decimal::ONE);
        for (side, number, unit, _) in &named {
            let length = (number * unit.unwrap_or(known)).round();
            match side {
                0 => sizes.width = Some(length),
                1 => sizes.depth = Some(length),
                2 => sizes.height = Some(length),
                3 => sizes.length = Some(length),
                _ => {
                    let place =
                        line.tokens.iter().position(|token| token.number == Some(*number)).unwrap_or(0);
                    sizes.thick = Some(((number * unit.unwrap_or(known)).round_dp(1).normalize(), place));
                }
            }
        }
    }
    if sizes == Sizes::default()
        && let Some(three) = by_times(line)
    {
        [sizes.width, sizes.depth, sizes.height] = three.map(Some);
    }
    sizes
}

/// Three numbers with a cross between them, in millimetres.
fn by_times(line: &Line) -> Option<[Decimal; 3]> {
    let cross = |at: usize| ["x", "×", "by"].contains(&line.word(at));
    for at in 0..line.tokens.len() {
        let mut place = at;
        let mut sides: Vec<(Decimal, Option<Decimal>)> = Vec::new();
        while let Some(number) = line.tokens.get(place).and_then(|token| token.number) {
            let own = unit(line, place + 1);
            sides.push((number, own));
            place += 1 + usize::from(own.is_some());
            if !cross(place) {
                break;
            }
            place += 1;
        }
        if let [_, _, last] = sides[..] {
            let common = last.1.or(sides[0].1);
            let plain = sides.iter().any(|(number, _)| *number >= Decimal::from(300));
            if common.is_none() && !plain {
                return None;
            }
            let mm = |(number, own): (Decimal, Option<Decimal>)| {
                (number * own.or(common).unwrap_or(Decimal::ONE)).round()
            };
            return Some([mm(sides[0]), mm(sides[1]), mm(sides[2])]);
        }
    }
    None
}

/// Two numbers with a cross between them, in millimetres: `40 x 15`.
pub(super) fn two_by_times(line: &Line) -> Option<(Decimal, Decimal)> {
    (0..line.tokens.len()).find_map(|at| {
        let one = line.tokens[at].number?;
        let own = unit(line, at + 1);
        let cross = at + 1 + usize::from(own.is_some());
        let two =
            line.tokens.get(cross + 1)?.number.filter(|_| ["x", "×", "by"].contains(&line.word(cross)))?;
        let common = unit(line, cross + 2).or(own).unwrap_or(Decimal::ONE);
        let third = ["x", "×", "by"].contains(&line.word(cross + 2));
        (!third).then(|| (one * own.unwrap_or(common), two * common))
    })
}

/// The unit of length at a place, in millimetres.
pub(super) fn unit(line: &Line, at: usize) -> Option<Decimal> {
    match line.word(at) {
        "mm" => Some(Decimal::ONE),
        "cm" => Some(Decimal::TEN),
        "\"" | "″" | "”" | "inch" | "inches" | "ins" => Some(Decimal::new(254, 1)),
        "m" if line.tokens[at].glued => Some(Decimal::from(1000)),
        "ft" | "foot" => Some(Decimal::from(3048) / Decimal::TEN),
        _ => None,
    }
}

/// Weights of a line in kilograms.
pub(super) fn weights(line: &Line) -> Vec<Decimal> {
    let mut found: Vec<Decimal> = Vec::new();
    for at in 0..line.tokens.len() {
        let Some(number) = line.tokens[at].number else { continue };
        let kilograms = ["kg", "kgs", "kilo", "kilos"].contains(&line.word(at + 1));
        // `26 kg, top another 19`
        let another = !found.is_empty()
            && line.word(at.saturating_sub(1)) == "another"
            && line.tokens.get(at + 1).is_none_or(|next| !next.is_word());
        // `21 kg each` is not the weight of all of it.
        if kilograms && line.word(at + 2) == "each" {
            return Vec::new();
        }
        if kilograms || another {
            found.push(number);
        }
    }
    found
}

/// The temperature at the bench, in degrees Celsius.
pub(super) fn temperature(line: &Line) -> Option<Decimal> {
    for at in 0..line.tokens.len() {
        let Some(number) = line.tokens[at].number else { continue };
        let after = (line.word(at + 1), line.word(at + 2));
        let degrees =
            after.0 == "c" && line.tokens[at + 1].glued && !line.has(&line.clause(at), &["coat", "coats"])
                || after.0 == "°"
                || after.0 == "degrees"
                || after.0 == "deg";
        let named =
            at > 0 && (line.word(at - 1) == "temperature" || at > 1 && line.word(at - 2) == "temperature");
        // `2c` are coats, and no workshop has less than nothing or more than forty.
        let likely = number >= Decimal::from(3) && number <= Decimal::from(45);
        let cold = line.has(
            &(0..line.tokens.len()),
            &["cold", "warm", "hot", "temperature", "workshop", "in here", "degrees", "°"],
        );
        if named || degrees && likely && (cold || after.0 != "c") {
            let fahrenheit = after.1 == "f" || after.0 == "f";
            return Some(match fahrenheit {
                true => ((number - Decimal::from(32)) / Decimal::new(18, 1)).round(),
                false => number,
            });
        }
    }
    None
}

/// The humidity at the bench, in percent.
pub(super) fn humidity(line: &Line) -> Option<Decimal> {
    (0..line.tokens.len()).find_map(|at| {
        let number = line.tokens[at].number?;
        let before = at > 0 && ["rh", "humidity"].contains(&line.word(at - 1));
        let after = line.word(at + 1) == "%" && ["rh", "humidity"].contains(&line.word(at + 2));
        (before || after).then_some(number)
    })
}
