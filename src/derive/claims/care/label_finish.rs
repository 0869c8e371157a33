//! The finish that is touched, in as few words as a label has room for.

use super::super::finishes::laid_or_found;
use super::super::telling::Telling;
use super::face::layer_name;
use crate::claim::{Basis, Claim, Message, says};
use crate::trade::Layer;

/// The finish that is touched, in ever fewer words.
pub(super) fn label_finish(telling: &Telling<'_>) -> Vec<Claim> {
    /// What is touched, what colours or fills the wood below it, and what both rest on.
    struct Top {
        name: Message,
        below: Option<Message>,
        basis: Vec<Basis>,
    }
    let mut tops: Vec<Top> = Vec::new();
    for facts in &telling.facts.surfaces {
        let Some(face) = facts.faces.first() else { continue };
        let mut places = face.layers.iter().filter_map(|layer| layer.place);
        let Some(top) = places.next() else { continue };
        let coat = |place: usize| &facts.today.layers[place].coat;
        let below = places.find(|place| matches!(coat(*place).layer, Some(Layer::Colour | Layer::InWood)));
        let name = layer_name(coat(top), telling.trade);
        if tops.iter().any(|known| known.name == name) {
            continue;
        }
        let basis = [Some(top), below].into_iter().flatten();
        tops.push(Top {
            name,
            below: below.map(|place| layer_name(coat(place), telling.trade)),
            basis: basis.map(|place| laid_or_found(telling, facts, coat(place))).collect(),
        });
    }
    let messages = match tops.as_slice() {
        [] => Vec::new(),
        [top] => {
            let both =
                |below: &Message| says!("label-finish-over", top = top.name.clone(), below = below.clone());
            let alone = says!("label-finish", top = top.name.clone());
            top.below.iter().map(both).chain([alone]).collect()
        }
        [top, other] => vec![
            says!("label-finish-two", top = top.name.clone(), other = other.name.clone()),
            says!("label-finish-another", top = top.name.clone()),
        ],
        [top, ..] => vec![says!("label-finish-others", top = top.name.clone())],
    };
    let basis: Vec<Basis> = tops.into_iter().flat_map(|top| top.basis).collect();
    let claim = |message: Message| {
        let first = basis.first().expect("each that is named rests on a line").clone();
        Claim::new(message, first).and_all(basis.iter().cloned())
    };
    messages.into_iter().map(claim).collect()
}
