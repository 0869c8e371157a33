//! Parts, with what they are made of and how their standing is known.

use serde::Serialize;

use crate::claim::{Message, says};
use crate::derive::{part_name, standing_of, timber_name};
use crate::fields::Row;
use crate::record::{Construction, Part, Standing};
use crate::view::context::PieceContext;
use crate::view::names::part_anchor;
use crate::view::shared::link::Link;
use crate::view::shared::photograph::Pointers;
use crate::words::{capital, sentence};

/// One part of the piece.
#[derive(Debug, Clone, Serialize)]
pub struct PartRow {
    /// Its id on the page.
    pub anchor: String,
    /// The marks on photographs that point at it.
    pub marks: Vec<Link>,
    /// Its name; with a count where there are several alike.
    pub name: String,
    /// Its standing, in words.
    pub standing: String,
    /// Its standing as the record writes it, for a theme's marks.
    pub standing_word: String,
    /// Whether it is as first made.
    pub original: bool,
    /// Timber, build and size.
    pub made_of: String,
    /// How its standing is known, when it was added, what it replaces, where it came from, how it comes off.
    pub notes: Vec<String>,
    /// The row of the record, for what follows from it.
    #[serde(skip)]
    pub row: Row<Part>,
}

pub(super) fn part_row(
    context: &PieceContext<'_>,
    index: usize,
    part: &Row<Part>,
    pointers: &Pointers<'_>,
) -> PartRow {
    let words = context.house.words();
    let build_word = |build: Construction| Message::word("build", build.word());
    let mut made_of: Vec<String> = Vec::new();
    let timber = part.timber.as_ref().map(|timber| words.value(&timber_name(timber, context.trade)));
    made_of.extend(match (part.build.as_ref().map(|build| build.value), timber) {
        (Some(build @ (Construction::Solid | Construction::Turned | Construction::Bent)), Some(timber)) => {
            Some(words.say(&says!("build-timber", build = build_word(build), timber = timber)))
        }
        (Some(build), Some(timber)) => Some(words.series(&[words.say(&build_word(build)), timber])),
        (Some(build), None) => Some(words.say(&build_word(build))),
        (None, timber) => timber,
    });
    if let Some(veneer) = &part.veneer {
        made_of.push(words.say(&says!("part-veneer-of", timber = timber_name(veneer, context.trade))));
    }
    if let Some(material) = &part.material {
        made_of.push(words.said(material));
    }
    if let Some(ground) = &part.ground {
        made_of.push(words.say(&says!("part-on-ground", ground = words.said(ground))));
    }
    if let Some(size) = &part.size {
        let lengths: Vec<_> = [&size.length, &size.width, &size.thick]
            .into_iter()
            .flatten()
            .map(|length| length.value)
            .collect();
        if !lengths.is_empty() {
            made_of.push(words.lengths(&lengths));
        }
        if let Some(diameter) = &size.diameter {
            made_of.push(words.say(&says!("size-across", size = diameter.value)));
        }
    }
    if let Some(lipping) = &part.lipping {
        let timber = timber_name(&lipping.timber, context.trade);
        made_of.push(words.say(&match lipping.how_many() {
            2 => says!("lipped-at-both", timber = timber),
            _ => says!("lipped", timber = timber),
        }));
    }
    if let Some(held) = &part.held {
        made_of.push(words.word("held", held.value.word()));
    }
    PartRow {
        anchor: part_anchor(index + 1),
        marks: pointers.to(|mark| mark.part.as_ref().is_some_and(|named| named.value == part.id.value)),
        name: part_name(part),
        standing: words.word("standing", standing_of(part).word()),
        standing_word: standing_of(part).word().to_owned(),
        original: standing_of(part) == Standing::Original,
        made_of: capital(&words.series(&made_of)),
        notes: part_notes(context, part).into_iter().chain(patches(context, part)).collect(),
        row: part.clone(),
    }
}

/// The patches on a part that is there today, a sentence or two each.
fn patches(context: &PieceContext<'_>, part: &Part) -> Vec<String> {
    let told = context.photographs.patches.iter().zip(&context.claims.patches);
    let on = told.filter(|(facts, _)| facts.part.id.value == part.id.value);
    on.map(|(_, claim)| context.house.words().sentence(claim).whole()).collect()
}

fn part_notes(context: &PieceContext<'_>, part: &Part) -> Vec<String> {
    let words = context.house.words();
    let stock = part.from_stock.as_ref().and_then(|id| context.stock(id)).map(|item| match &item.origin {
        Some(origin) => says!("kept-from-stock-of", what = &item.what, origin = origin),
        None => says!("kept-from-stock", what = &item.what),
    });
    let known = part.how_known.as_ref().map(|known| match standing_of(part) {
        Standing::Original => words.say(&says!("how-known", known = words.said(known))),
        _ => words.said(known),
    });
    [
        known,
        part.since.as_ref().map(|since| words.say(&says!("since", years = since.value.clone()))),
        part.instead_of.as_ref().map(|old| words.say(&says!("in-place-of", old = words.said(old)))),
        stock.map(|stock| words.say(&stock)),
        part.undo.as_ref().map(|undo| words.say(&says!("part-to-undo", undo = words.said(undo)))),
        part.note.as_ref().map(|note| words.said(note)),
    ]
    .into_iter()
    .flatten()
    .map(|note| sentence(&note))
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::shared::photograph::Sees;
    use crate::view::testing::shown;

    #[test]
    fn what_a_part_is_made_of_reads_as_one_line() {
        let made_of = |keys: &str| {
            let record = format!("part = [{{ id = \"a\", name = \"Top\", standing = \"new\", {keys} }}]");
            shown(&record, "", |context| {
                let pointers = Pointers::of(context, Sees::Public);
                part_row(context, 0, &context.record.parts[0], &pointers).made_of
            })
        };
        assert_eq!(made_of("build = \"turned\", timber = \"white-oak\""), "Turned white oak");
        assert_eq!(made_of("build = \"panel\", timber = \"white-oak\""), "Panel, white oak");
        assert_eq!(made_of("build = \"glass\""), "Glass");
        assert_eq!(made_of("timber = \"unknown\""), "Timber not known");
        assert_eq!(
            made_of(
                "build = \"veneered\", veneer = \"paper-birch\", ground = \"plywood\", size = { length = 320, width = 245, thick = 6 }"
            ),
            "Veneered, veneer paper birch, on plywood, 320 × 245 × 6 mm"
        );
    }
}
