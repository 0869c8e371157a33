//! Entering what a day book proposes: a record with one row more, looked at before it is written.

use toml_edit::{Array, Value};

use super::edit::Refused;
use super::entry::{Entry, Where, entered};
use super::proposal;
use crate::daybook::Proposal;
use crate::record::{Jotting, Record};

/// Why a proposal cannot be put into a record as it stands.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unplaced {
    /// The line does not say on which surface, and there are these.
    #[error("which surface is meant?")]
    WhichSurface(Vec<String>),
    /// The record has no part that the row would need.
    #[error("{0}")]
    NoPart(String),
    /// The record's text does not take it.
    #[error(transparent)]
    Refused(#[from] Refused),
}

/// The text of a record with a proposal entered, and what would change; `surface` is the one that somebody named.
///
/// # Errors
/// [`Unplaced`].
pub fn entering(
    text: &str,
    record: &Record,
    jotting: &Jotting,
    proposal: &Proposal,
    surface: Option<usize>,
) -> Result<proposal::Proposal, Unplaced> {
    let entry = placed(record, jotting, proposal, surface)?;
    Ok(proposal::Proposal::between(text, entered(text, &entry)?)?)
}

/// The text of a record with a part more that a line names, and the row; nothing is said of what it is to the piece.
///
/// # Errors
/// [`Refused`] where the record's text does not take it.
pub fn with_part(text: &str, record: &Record, said: &str) -> Result<(proposal::Proposal, String), Refused> {
    let mut name = said.trim().to_owned();
    if let Some(first) = name.get(..1) {
        let first = first.to_uppercase();
        name.replace_range(..1, &first);
    }
    let wanted = slug::slugify(said);
    let free = |id: &String| !record.parts.iter().any(|part| part.id.0 == *id);
    let again = (2..).map(|number| format!("{wanted}-{number}"));
    let id = std::iter::once(wanted.clone()).chain(again).find(free).unwrap_or_default();
    let keys =
        vec![("id", Value::from(id)), ("name", Value::from(name)), ("standing", Value::from("unknown"))];
    let row = super::edit::block("part", keys.clone());
    let entry = Entry { place: Where::List("part"), keys };
    Ok((proposal::Proposal::between(text, entered(text, &entry)?)?, row))
}

/// The text of a record that says up to which day its day book was looked through.
///
/// # Errors
/// [`Refused`] where it says another day already, which is for hands.
pub fn marked_read(text: &str, day: chrono::NaiveDate) -> Result<proposal::Proposal, Refused> {
    let day = day.to_string().parse().unwrap_or_else(|_| Value::from(day.to_string()));
    let entry = Entry { place: Where::Record, keys: vec![("day-book-read", day)] };
    proposal::Proposal::between(text, entered(text, &entry)?)
}

/// Where a proposal belongs in a record, with its keys.
///
/// # Errors
/// [`Unplaced`].
pub(super) fn placed(
    record: &Record,
    jotting: &Jotting,
    proposal: &Proposal,
    surface: Option<usize>,
) -> Result<Entry, Unplaced> {
    let from = ("from-daybook", Value::from(jotting.name_of_line()));
    let mut keys = proposal.keys.clone();
    let ids: Vec<&str> = proposal
        .parts
        .iter()
        .filter_map(|part| if let [id] = &part.ids[..] { Some(id.as_str()) } else { None })
        .collect();
    match proposal.table {
        "" => Ok(Entry { place: Where::Record, keys }),
        "found" => Ok(Entry { place: Where::Single("found"), keys }),
        "handover" => Ok(Entry { place: Where::Single("handover"), keys }),
        "surface.steps" => {
            let (place, all) = match (surface, surface_of(record, &ids)) {
                (Some(place), _) => (place, true),
                (None, Some((place, all))) => (place, all),
                (None, None) if !ids.is_empty() => return Ok(new_surface(&ids, keys, from)),
                (None, None) => return Err(Unplaced::WhichSurface(surfaces(record))),
            };
            if !all {
                keys.push(("only", Value::Array(ids.into_iter().collect::<Array>())));
            }
            keys.push(from);
            Ok(Entry { place: Where::StepOf(place), keys })
        }
        "surface" => {
            keys.retain(|(key, _)| *key != "parts");
            match (surface, surface_of(record, &ids)) {
                (Some(place), _) | (None, Some((place, _))) => {
                    Ok(Entry { place: Where::RowOf("surface", place), keys })
                }
                (None, None) if !ids.is_empty() => {
                    keys.insert(0, ("parts", ids.into_iter().collect::<Array>().into()));
                    Ok(Entry { place: Where::List("surface"), keys })
                }
                (None, None) => Err(Unplaced::WhichSurface(surfaces(record))),
            }
        }
        "part" => {
            let id = proposal.value("id").and_then(Value::as_str).unwrap_or_default();
            let row = record.parts.iter().position(|part| part.id.0 == id);
            match row {
                Some(place) => {
                    keys.retain(|(key, _)| ["timber", "size"].contains(key));
                    Ok(Entry { place: Where::RowOf("part", place), keys })
                }
                None if proposal.value("name").is_none() || id.is_empty() => Err(Unplaced::NoPart(
                    "the record has no such part; add it by hand, then enter this".to_owned(),
                )),
                None => {
                    keys.push(from);
                    Ok(Entry { place: Where::List("part"), keys })
                }
            }
        }
        table => {
            keys.retain(|(key, value)| *key != "mends" || mends_something(record, value));
            if table == "finding" {
                renamed(record, &mut keys);
            }
            keys.push(from);
            Ok(Entry { place: Where::List(table), keys })
        }
    }
}

/// The surface that has one of these parts, and whether they are all of its parts.
fn surface_of(record: &Record, ids: &[&str]) -> Option<(usize, bool)> {
    if ids.is_empty() {
        return None;
    }
    let has = |place: &usize| {
        let parts = &record.surfaces[*place].parts;
        ids.iter().all(|id| parts.iter().any(|part| part.value.0 == *id))
    };
    let place = (0..record.surfaces.len()).find(has)?;
    Some((place, record.surfaces[place].parts.len() == ids.len()))
}

/// A surface of these parts with one step.
pub(super) fn new_surface(
    ids: &[&str],
    keys: Vec<(&'static str, Value)>,
    from: (&'static str, Value),
) -> Entry {
    let step = keys.into_iter().chain([from]).collect();
    let mut steps = Array::new();
    steps.push(Value::InlineTable(step));
    let parts: Array = ids.iter().copied().collect();
    Entry { place: Where::List("surface"), keys: vec![("parts", parts.into()), ("steps", steps.into())] }
}

/// What a record's surfaces are called, in their order.
pub(super) fn surfaces(record: &Record) -> Vec<String> {
    let name = |surface: &crate::record::Surface| match &surface.name {
        Some(name) => name.to_string(),
        None => surface.parts.iter().map(|part| part.value.0.clone()).collect::<Vec<_>>().join(", "),
    };
    record.surfaces.iter().map(|surface| name(surface)).collect()
}

/// Whether a record has a finding that is named here.
fn mends_something(record: &Record, mends: &Value) -> bool {
    let named = mends.as_array().into_iter().flatten().filter_map(Value::as_str);
    named.into_iter().all(|id| record.findings.iter().any(|finding| finding.id.0 == id))
}

/// Gives a finding an id that is free.
fn renamed(record: &Record, keys: &mut [(&'static str, Value)]) {
    let Some((_, id)) = keys.iter_mut().find(|(key, _)| *key == "id") else { return };
    let wanted = id.as_str().unwrap_or("f").to_owned();
    let free = |id: &String| !record.findings.iter().any(|finding| finding.id.0 == *id);
    let again = (2..).map(|number| format!("{wanted}-{number}"));
    if let Some(name) = std::iter::once(wanted.clone()).chain(again).find(free) {
        *id = Value::from(name);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::daybook::{Bench, waiting};
    use crate::record;
    use crate::source::Tree;
    use crate::trade::Trade;

    const HEAD: &str = "title = \"T\"\nnumber = \"T-1\"\nkind = \"table/gateleg\"\n\n\
        [[part]]\nid = \"top\"\nname = \"Top\"\nstanding = \"original\"\n\n\
        [[part]]\nid = \"leg-back-left\"\nname = \"Left back leg\"\nstanding = \"original\"\n\n\
        [[surface]]\nname = \"Top\"\nparts = \"top\"\nfound = \"shellac\"\n";

    /// The record after everything that its day book proposes was entered, and what could not be.
    fn all_entered(record: &str, lines: &str) -> (String, Vec<String>) {
        let (mut text, mut left) = (record.to_owned(), Vec::new());
        for _ in 0..40 {
            let tree = Tree::of([
                ("workshop.toml", "name = \"W\"\nregion = \"united-kingdom\"\ncurrency = \"GBP\""),
                ("pieces/a/record.toml", text.as_str()),
                ("pieces/a/daybook.txt", lines),
            ]);
            let piece = record::read(&tree).0.pieces.remove(0);
            let record = piece.record.clone().expect("it reads");
            let bench = Bench::of(Trade::built_in(), Some(&record));
            let next = waiting(&piece, &record, &bench).into_iter().flat_map(|line| {
                let jotting = line.jotting;
                line.proposals.into_iter().map(move |proposal| (jotting.clone(), proposal))
            });
            let mut changed = false;
            left.clear();
            for (jotting, proposal) in next {
                match entering(&text, &record, &jotting, &proposal, None) {
                    Ok(new) => {
                        text = new.text;
                        changed = true;
                        break;
                    }
                    Err(why) => left.push(format!("{}: {why}", proposal.table)),
                }
            }
            if !changed {
                return (text, left);
            }
        }
        panic!("it does not end: {text}");
    }

    #[test]
    fn what_is_proposed_is_entered_once_and_all_else_stays() {
        let lines = "2026-03-11 2 coats garnet shellac on top, cut back 320 between, 1.5h\n\
                     2026-03-12 worm in LH back leg, old, no dust\n\
                     2026-03-13 must order glides\n";
        let (text, left) = all_entered(HEAD, lines);
        assert_eq!(left, [""; 0]);
        assert!(text.starts_with(HEAD.trim_end()), "{text}");
        for line in [
            "steps = [\n  { on = 2026-03-11, apply = \"shellac\", coats = 2, abrade-between = \"320\", \
             from-daybook = \"2026-03-11 2 coats garnet shellac on top, cut back 320 between, 1.5h\" },\n]",
            "hours = 1.5",
            "part = \"leg-back-left\"\nseen = \"flight-holes\"",
            "what = \"must order glides\"\nfrom-daybook = \"2026-03-13 must order glides\"",
        ] {
            assert!(text.contains(line), "{line}\n{text}");
        }
        assert_eq!(all_entered(&text, lines).0, text);
    }

    #[test]
    fn what_names_no_surface_is_asked_about() {
        let (text, left) = all_entered(HEAD, "2026-03-11 white spirit wipe down\n");
        assert_eq!((text.as_str(), left.len()), (HEAD, 1));
        assert!(left[0].contains("which surface"), "{left:?}");
    }
}
