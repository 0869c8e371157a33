//! What a piece is: its type, years, maker, size and materials, and how far the work went.

use super::fact::Fact;
use crate::record::{Answer, Level, Standing};
use crate::view::context::PieceContext;
use crate::view::names::timber_name;
use crate::view::words;

/// Type of piece, in words: `table, gateleg`.
pub(crate) fn kind(context: &PieceContext<'_>) -> String {
    let levels = context.record.kind.split('/');
    levels.map(|level| level.trim().replace('-', " ")).collect::<Vec<_>>().join(", ")
}

/// Years of making, in words.
pub(crate) fn made(context: &PieceContext<'_>) -> String {
    context.record.made.as_ref().map_or_else(|| "not known".to_owned(), |made| made.words())
}

/// How far the work went, in a word, and what that word means.
pub(crate) fn level(context: &PieceContext<'_>) -> (&'static str, &'static str) {
    words::level(context.record.level.as_ref().map_or(Level::Unknown, |level| level.value))
}

/// The workshop's stance; may be empty.
pub(crate) fn stance(context: &PieceContext<'_>) -> String {
    context.record.stance.as_ref().map_or(String::new(), |stance| words::sentence(stance))
}

/// The timbers of the parts that are there today, each once, in the order of the parts; may be empty.
pub(crate) fn materials(context: &PieceContext<'_>) -> String {
    let absent = [Standing::Removed, Standing::Missing];
    let mut timbers: Vec<String> = Vec::new();
    for part in context.record.parts.iter().filter(|part| !absent.contains(&part.standing.value)) {
        let told = [&part.timber, &part.veneer].into_iter().flatten();
        for timber in told.filter(|timber| timber.value != Answer::Unknown) {
            let name = timber_name(timber, context.trade);
            if !timbers.contains(&name) {
                timbers.push(name);
            }
        }
    }
    words::list(&timbers)
}

/// Type, years, maker, size, materials, inscriptions and features.
pub(crate) fn facts(context: &PieceContext<'_>) -> Vec<Fact> {
    let record = context.record;
    let mut facts = vec![
        Fact { label: "Type".to_owned(), text: kind(context) },
        Fact {
            label: "Made".to_owned(),
            text: match &record.basis {
                Some(basis) => format!("{} ({})", made(context), words::said(basis)),
                None => made(context),
            },
        },
        Fact {
            label: "Maker".to_owned(),
            text: record.maker.as_ref().map_or_else(|| "not known".to_owned(), |maker| words::said(maker)),
        },
    ];
    if let Some(size) = &record.size {
        facts.push(Fact { label: "Size".to_owned(), text: context.house.units.size(size) });
    }
    let materials = materials(context);
    if !materials.is_empty() {
        facts.push(Fact { label: "Materials".to_owned(), text: materials });
    }
    for (label, said) in
        [("Inscriptions", &record.inscriptions), ("Shows", &record.subject), ("Told by", &record.told_by)]
    {
        if let Some(said) = said {
            facts.push(Fact { label: label.to_owned(), text: words::said(said) });
        }
    }
    facts
}
