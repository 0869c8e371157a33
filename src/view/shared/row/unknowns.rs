//! What is not known about a piece.

use super::fixing::fixing_name;
use crate::derive::{Coat, SurfaceFacts};
use crate::record::{Answer, Part, Standing};
use crate::trade::Finish;
use crate::view::context::PieceContext;
use crate::view::words;

/// What is not known about the piece, one sentence each. Silence would read as a claim.
pub(super) fn unknowns(context: &PieceContext<'_>) -> Vec<String> {
    let record = context.record;
    let mut unknowns: Vec<String> = Vec::new();
    if record.made.is_none() {
        unknowns.push("When it was made is not known.".to_owned());
    }
    if record.maker.as_ref().is_none_or(|maker| maker.value == Answer::Unknown) {
        unknowns.push("Who made it is not known.".to_owned());
    }
    let named =
        |parts: Vec<&Part>| words::list(&parts.iter().map(|part| part.name.to_string()).collect::<Vec<_>>());
    let of_standing: Vec<&Part> = record
        .parts
        .iter()
        .map(|part| &part.value)
        .filter(|part| part.standing.value == Standing::Unknown)
        .collect();
    if !of_standing.is_empty() {
        unknowns.push(format!("Whether these parts are original is not known: {}.", named(of_standing)));
    }
    let of_timber: Vec<&Part> = record
        .parts
        .iter()
        .map(|part| &part.value)
        .filter(|part| part.timber.as_ref().is_some_and(|timber| timber.value == Answer::Unknown))
        .collect();
    if !of_timber.is_empty() {
        unknowns.push(format!("The timber of these parts is not known: {}.", named(of_timber)));
    }
    let fixings: Vec<String> = record
        .fixings
        .iter()
        .filter(|fixing| fixing.standing.value == Standing::Unknown)
        .map(|fixing| fixing_name(context, fixing))
        .collect();
    if !fixings.is_empty() {
        unknowns.push(format!("Whether these fixings are original is not known: {}.", words::list(&fixings)));
    }
    for SurfaceFacts { surface, today, .. } in &context.facts.surfaces {
        let on = context.names.parts(&surface.parts);
        let family = |coat: &Coat| coat.finish.as_deref().and_then(|id| context.trade.finish(id));
        let identified = |finish: &Finish| !finish.is_old() && !finish.is_generic();
        let unidentified = |coat: &Coat| coat.step.is_none() && !family(coat).is_some_and(identified);
        if today.layers.iter().any(|layer| unidentified(&layer.coat)) {
            unknowns.push(format!("The old finish on {on} was not identified."));
        } else if today.removed.iter().any(unidentified) {
            unknowns.push(format!("The old finish taken off {on} was not identified."));
        }
        let laid = today.layers.iter().map(|layer| &layer.coat).filter(|coat| coat.step.is_some());
        for coat in laid.filter(|coat| family(coat).is_none()) {
            unknowns.push(format!("What “{}” on {on} is, is not known here.", coat.name));
        }
    }
    unknowns
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;

    #[test]
    fn everything_that_is_not_known_is_said() {
        let said = |record: &str| shown(record, "", unknowns);
        let whole = "made = \"1920\"\nmaker = \"a joiner\"\n";
        assert_eq!(said(whole), Vec::<String>::new());
        let parts = "part = [{ id = \"a\", name = \"Knob\", standing = \"unknown\" }, \
                     { id = \"b\", name = \"Leaf\", standing = \"original\", timber = \"unknown\" }]\n";
        let rest = "fixing = [{ kind = \"screw-slotted\", standing = \"unknown\" }]\n\
                    surface = [{ parts = [\"a\"], found = \"old-finish\" }, \
                    { parts = [\"b\"], found = \"unknown\", steps = [{ remove = \"all\" }, { apply = \"house polish\" }] }]\n";
        assert_eq!(
            said(&format!("{whole}{parts}{rest}")),
            [
                "Whether these parts are original is not known: Knob.",
                "The timber of these parts is not known: Leaf.",
                "Whether these fixings are original is not known: Slotted wood screw.",
                "The old finish on Knob was not identified.",
                "The old finish taken off Leaf was not identified.",
                "What “house polish” on Leaf is, is not known here.",
            ]
        );
    }
}
