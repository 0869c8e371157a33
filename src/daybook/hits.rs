//! Words of the trade in a line: the longest runs that are a form of one of its tables, and the parts that it names.

use std::ops::Range;

use super::lexicon::{self, Deed};
use super::line::{Line, Mood};
use super::proposal::PartSaid;
use super::words::lists;
use crate::record::Record;
use crate::trade::{Trade, TradeRow, Words};

/// The table that a word of the trade is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Table {
    Finish,
    Treatment,
    Fixing,
    Term,
    Repair,
    Timber,
    Edging,
}

impl Table {
    const ALL: &[Table] = &[
        Table::Finish,
        Table::Treatment,
        Table::Fixing,
        Table::Term,
        Table::Repair,
        Table::Timber,
        Table::Edging,
    ];
}

/// A word of the trade in a line.
#[derive(Debug, Clone)]
pub(super) struct Hit {
    pub(super) table: Table,
    /// The row.
    pub(super) id: String,
    /// Which tokens say it.
    pub(super) at: Range<usize>,
    /// How it is meant.
    pub(super) mood: Mood,
    /// What there is to ask about the word.
    pub(super) ask: Option<String>,
}

/// No form of a table is looked for in more words.
const LONGEST: usize = 7;

/// All words of the trade in a line, the first first; each table takes the longest run of its own.
pub(super) fn hits(line: &Line, trade: &Trade) -> Vec<Hit> {
    let mut found = Vec::new();
    for table in Table::ALL {
        let mut at = 0;
        while at < line.tokens.len() {
            let longest = (1..=LONGEST.min(line.tokens.len() - at)).rev();
            let here =
                longest.into_iter().find_map(|length| of_range(line, &(at..at + length), *table, trade));
            at = here.as_ref().map_or(at + 1, |hit| hit.at.end);
            found.extend(here);
        }
    }
    found.sort_by_key(|hit| hit.at.start);
    found
}

/// Whether a sign that parts clauses stands in a range, or it begins or ends with one.
fn parts(line: &Line, range: &Range<usize>) -> bool {
    let sign = |at: usize| !line.tokens[at].is_word() && line.tokens[at].number.is_none();
    let hard = |at: usize| {
        line.tokens[at].is_any(&[",", ";", ".", ":", "!", "?", "(", ")", "[", "]", "+", "\"", "x", "—"])
    };
    sign(range.start) || sign(range.end - 1) || range.clone().any(hard)
}

/// The word of a table that a range is a form of.
fn of_range(line: &Line, range: &Range<usize>, table: Table, trade: &Trade) -> Option<Hit> {
    if parts(line, range) {
        return None;
    }
    let phrase = line.phrase(range.clone());
    // A number is none but of wire wool, and one letter is none.
    if phrase.chars().all(|c| c.is_ascii_digit()) && !phrase.starts_with("00") || phrase.len() < 3 {
        return None;
    }
    // A part that is the name of a fault too is the part: `spindles`.
    if table == Table::Term && range.len() == 1 && lexicon::part(&phrase).is_some() {
        return None;
    }
    let otherwise = lexicon::otherwise(table).contains(&phrase.as_str());
    if otherwise && !(table == Table::Term && is_noun(line, range)) {
        return None;
    }
    // What is the spirit of a spirit stain is no spirit.
    let after = line.word(range.end);
    if table == Table::Treatment && ["stain", "varnish", "dye", "polish"].contains(&after) && range.len() == 1
    {
        return None;
    }
    let (id, ask) = match table {
        Table::Finish => of(&trade.finish_words(), &phrase),
        Table::Treatment => of(&trade.treatment_words(), &phrase),
        Table::Fixing => of(&trade.fixing_words(), &phrase),
        Table::Term => of(&trade.term_words(), &phrase),
        Table::Repair => of(&trade.repair_words(), &phrase).or_else(|| {
            let done = phrase.strip_suffix("ing").filter(|_| range.len() == 1)?;
            of(&trade.repair_words(), &format!("{done}ed"))
        }),
        // The id of one kind is said of others too: `mahogany`.
        Table::Timber => of(&trade.timber_words(), &phrase).map(|(id, ask)| match &ask {
            Some(_) => (
                trade
                    .timber_words()
                    .taken(&format!("{phrase} board"))
                    .row()
                    .map_or(id, |row| row.id.0.clone()),
                ask,
            ),
            None => (id, ask),
        }),
        Table::Edging => of(&trade.edging_words(), &phrase),
    }?;
    // A form that denies itself, as `no key`, is told where it stands.
    let denies = lists().line.denies.contains(&line.word(range.start));
    let mood = match denies {
        true => Mood::Told,
        false => range.clone().map(|at| line.moods[at]).max().unwrap_or(Mood::Told),
    };
    Some(Hit { table, id, at: range.clone(), mood, ask })
}

/// Whether a word for a fault stands as one: `a split`, `split in the seat`, `drawer bottom split`.
fn is_noun(line: &Line, range: &Range<usize>) -> bool {
    let noun = &lists().tables.nouns;
    let before = range.start.checked_sub(1).map_or("", |at| line.word(at));
    let after = line.word(range.end);
    let of = lists().tables.noun_after.contains(&after);
    let a = lists().tables.noun_before.contains(&before);
    noun.contains(&line.word(range.start))
        && (of || a || lexicon::part(before).is_some())
        && !["it", "them"].contains(&after)
}

/// The row that some words are a form of, with what to ask about them; of words for several rows the words themselves.
fn of<R: TradeRow>(words: &Words<'_, R>, said: &str) -> Option<(String, Option<String>)> {
    let ask = words.question(said).map(|row| row.ask.value.0.clone());
    match words.form(said) {
        Some(row) => Some((row.key().into_owned(), ask)),
        None => {
            ask.filter(|_| !lists().tables.states.contains(&said)).map(|ask| (said.to_owned(), Some(ask)))
        }
    }
}

/// A part that a line names.
#[derive(Debug, Clone)]
pub(super) struct PartHit {
    pub(super) part: PartSaid,
    pub(super) at: Range<usize>,
    pub(super) mood: Mood,
}

/// The parts that a line names, as the record calls them or as people do.
pub(super) fn parts_named(line: &Line, all: &[Hit], record: Option<&Record>) -> Vec<PartHit> {
    let timbers: Vec<&Hit> = all.iter().filter(|hit| hit.table == Table::Timber).collect();
    let names = record.map(names_of).unwrap_or_default();
    let mut found: Vec<PartHit> = Vec::new();
    let mut at = 0;
    while at < line.tokens.len() {
        let known = (1..=6.min(line.tokens.len() - at)).rev().find_map(|length| {
            let folded = crate::unit::fold::folded(&line.phrase(at..at + length));
            let mut ids: Vec<String> = names
                .iter()
                .filter(|(name, _)| *name == folded && !folded.is_empty())
                .map(|(_, id)| id.clone())
                .collect();
            ids.sort();
            ids.dedup();
            (!ids.is_empty() && !is_other(line, at, at + length)).then_some((length, ids))
        });
        let (range, ids) = match (known, spoken(line, at)) {
            (Some((length, _)), Some(range)) if range.end - range.start > length => (range, Vec::new()),
            (Some((length, ids)), _) => (at..at + length, ids),
            (None, Some(range)) => (range, Vec::new()),
            (None, None) => {
                at += 1;
                continue;
            }
        };
        // The corner of corner blocks only says of what kind they are.
        let of_kind = |hit: &Hit| hit.at.start < range.end && range.end < hit.at.end;
        if all.iter().any(|hit| hit.table == Table::Fixing && of_kind(hit)) {
            at = range.end;
            continue;
        }
        // Nor is the hinge of hinge screws told, and `off its hinges` only says where the door was.
        let held = all.iter().any(|hit| hit.table == Table::Fixing && hit.at.start == range.end);
        let own = lists().parts.held.contains(&line.word(range.end - 1))
            || lexicon::part(line.word(range.end - 1)).is_some_and(|part| lists().parts.held.contains(&part));
        let its = range.start > 1
            && line.word(range.start - 1) == "its"
            && ["off", "from", "of", "in", "on"].contains(&line.word(range.start - 2))
            && found.last().is_some_and(|last| line.clause(range.start).contains(&last.at.start));
        if own && (held || its) {
            at = range.end;
            continue;
        }
        // `the legs are shot at the bottom` tells where on the legs.
        let there = range.len() == 1
            && range.start > 1
            && lists().parts.ambiguous.contains(&line.word(range.start))
            && line.stands(range.start - 2, "at the", range.start)
            && found.last().is_some_and(|last| line.clause(range.start).contains(&last.at.start));
        if there {
            at = range.end;
            continue;
        }
        // A slat of beech is stuff, and no part yet.
        let stuff = lists().parts.stuff.contains(&line.word(range.start));
        let timber = at > 0 && timbers.iter().any(|hit| hit.at.end == range.start);
        if stuff && timber && range.len() == 1 {
            at = range.end;
            continue;
        }
        let said = part_words(line, &range);
        let ids = if ids.is_empty() { close(&said, &names, record) } else { ids };
        let mood = range.clone().map(|at| line.moods[at]).max().unwrap_or(Mood::Told);
        at = range.end;
        found.push(PartHit { part: PartSaid { said, ids }, at: range, mood });
    }
    found
}

/// The names of a record's parts as they are compared, with their ids.
fn names_of(record: &Record) -> Vec<(String, String)> {
    let folded = crate::unit::fold::folded;
    let parts = record.parts.iter();
    parts
        .flat_map(|part| {
            let id = part.id.0.clone();
            [(folded(&part.name), id.clone()), (folded(&id.replace('-', " ")), id)]
        })
        .collect()
}

/// The parts of a record that some words may mean: those whose names have all of them, whatever their order.
fn close(said: &str, names: &[(String, String)], record: Option<&Record>) -> Vec<String> {
    let Some(record) = record else { return Vec::new() };
    let folded = crate::unit::fold::folded_words;
    let other = |word: &str| match word {
        "rear" => "back".to_owned(),
        word => word.to_owned(),
    };
    let wanted: Vec<String> = folded(said).into_iter().map(|word| other(&word)).collect();
    let fits = |name: &str| {
        let has: Vec<String> = folded(name).into_iter().map(|word| other(&word)).collect();
        wanted.iter().all(|word| has.contains(word))
    };
    let mut ids: Vec<String> =
        record.parts.iter().filter(|part| fits(&part.name)).map(|part| part.id.0.clone()).collect();
    ids.retain(|id| names.iter().any(|(_, known)| known == id));
    ids.truncate(4);
    ids
}

/// Whether a word that may be a part is none here: `put back`, `top coat`, `left to dry`.
fn is_other(line: &Line, start: usize, end: usize) -> bool {
    let ambiguous = &lists().parts.ambiguous;
    let before = start.checked_sub(1).map_or("", |at| line.word(at));
    let after = line.word(end);
    end - start == 1
        && ambiguous.contains(&line.word(start))
        && (lists().parts.not_before.contains(&before) && line.word(start) == "back"
            || lists().parts.not_after.contains(&after)
                && !(line.word(start) == "top"
                    && ["on", "in", "to", "from", "again", "tomorrow"].contains(&after)))
        // `same screws back`, `hinges back on`
        || end - start == 1 && line.word(start) == "back" && before.ends_with('s') && before.len() > 3
        // `incl post`
        || ["incl", "inc", "including", "plus", "by"].contains(&before) && line.word(start) == "post"
        || end - start == 1 && is_adverb(line, start)
        // `back right` names none, nor does the lock of a lock hole.
        || end - start == 1 && line.word(start) == "back" && ["left", "right"].contains(&after)
        || lists().parts.of_it.contains(&after)
        || after == "coat"
        || after == "coats" && line.word(start) == "top"
}

/// Whether a word for a part only says how or where: `wiped back`, `broken inside`, `front to back`, `end for end`.
fn is_adverb(line: &Line, at: usize) -> bool {
    let before = |back: usize| at.checked_sub(back).map_or("", |at| line.word(at));
    let deed = |word: &str| {
        let deeds = Deed::ALL.iter().filter(|deed| ![Deed::See, Deed::Keep, Deed::TakeOff].contains(deed));
        deeds.clone().any(|deed| deed.words().contains(&word))
    };
    match line.word(at) {
        "back" => deed(before(1)) || before(1) == "to" && lists().parts.ambiguous.contains(&before(2)),
        "inside" => {
            let after = at.checked_sub(1).map(|at| &line.tokens[at]).filter(|token| token.is_word());
            let stands = after.is_none_or(|token| token.is_any(&lists().parts.before_inside));
            let smells = line.has(&line.clause(at), &lists().work.smells);
            line.word(at + 1) == "of" || !stands && !smells && !deed(before(1))
        }
        "end" => lists().parts.no_ends.contains(&before(1)) || line.word(at + 1) == "for",
        _ => false,
    }
}

/// The run of words from a place on that names a part: sides and the like, a part, and perhaps its number.
fn spoken(line: &Line, at: usize) -> Option<Range<usize>> {
    let mut place = at;
    // Words that say which one, as far as they go on to a part.
    while place < line.tokens.len() {
        let word = line.word(place);
        let side = lists().sides.contains_key(word) && !is_humidity(line, place);
        let which = lists().parts.which.contains(&word)
            && line.word(place + 1) != "to"
            && line.word(place + 1) != "it";
        if !(side || which) || place > at + 3 {
            break;
        }
        place += 1;
    }
    // The longest run that ends with a part.
    let mut end = None;
    for last in at..=place.min(line.tokens.len().saturating_sub(1)) {
        let two = format!("{}{}", line.word(last), line.word(last + 1));
        let both = last + 1 < line.tokens.len() && line.tokens[last].is_word();
        if both && lexicon::part(&two).is_some() {
            end = Some(last + 2);
        } else if lexicon::part(line.word(last)).is_some() {
            end = Some(last + 1);
        }
    }
    let mut end = end.filter(|end| *end > at)?;
    // `glass back in` tells of the glass.
    if end - at > 1 && line.word(end - 1) == "back" && lists().parts.not_after.contains(&line.word(end)) {
        end -= 1;
        lexicon::part(line.word(end - 1))?;
    }
    // What is inside of a drawer is of the drawer.
    let at = if ["inside", "outside"].contains(&line.word(at)) && end > at + 1 { at + 1 } else { at };
    // The corner of a top is of the top.
    let corner = ["corner", "corners"].contains(&line.word(end - 1));
    if let Some(of) = (at..end - 1)
        .find(|place| {
            lexicon::part(line.word(*place))
                .is_some_and(|part| !["side", "front", "back", "end", "bottom"].contains(&part))
        })
        .filter(|_| corner)
    {
        return Some(at..of + 1);
    }
    // `drawer 3`, `leg no 2`, and not `drawer 3 coats`.
    let number = line
        .tokens
        .get(end)
        .filter(|token| token.word.len() <= 2 && !token.glued)
        .and_then(|token| token.number);
    let counts = line.tokens.get(end + 1).is_some_and(|next| next.is_any(&lists().parts.counts));
    if number.is_some_and(|number| number.is_integer())
        && !counts
        && lexicon::part(line.word(end - 1)).is_some_and(|part| lists().parts.numbered.contains(&part))
    {
        end += 1;
    }
    let of_it = lists().parts.of_it.contains(&line.word(end));
    (!of_it && (!is_other(line, end - 1, end) || end - at > 1)).then_some(at..end)
}

/// Whether the letters RH are humidity: before a number or a per cent.
pub(super) fn is_humidity(line: &Line, at: usize) -> bool {
    line.word(at) == "rh"
        && (line.tokens.get(at + 1).is_some_and(|next| next.number.is_some() || next.is("%"))
            || at > 0 && line.word(at - 1) == "%")
}

/// A part in words, with its sides written out.
fn part_words(line: &Line, range: &Range<usize>) -> String {
    let mut said: Vec<&str> = Vec::new();
    for at in range.clone() {
        let word = line.word(at);
        match lists().sides.get(word) {
            Some(long) => said.push(long),
            None => said.push(word),
        }
    }
    let joined = said.join(" ");
    joined
        .replace("back plates", "backplates")
        .replace("back plate", "backplate")
        .replace("arm rest", "armrest")
}
