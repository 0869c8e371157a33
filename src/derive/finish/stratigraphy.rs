//! The layers on a surface today, folded from its steps.
//!
//! Applying adds a layer, removing takes layers away, and everything that was
//! taken away again is kept beside them: rework is part of the record.

use chrono::NaiveDate;

use crate::fields::{Row, Said};
use crate::record::{Act, FinishName, PartId, Removal, Step, Surface, Tin};
use crate::trade::{Finish, Layer, Trade};

/// What was put on: a family of the trade, perhaps out of a tin of the workshop.
#[derive(Debug, Clone, Copy)]
pub struct Coating<'a> {
    /// The finish family.
    pub finish: &'a Finish,
    /// The workshop's tin, where one was named.
    pub tin: Option<&'a Tin>,
}

/// Finds what a record names; `None` where no such family or tin is known.
pub fn coating<'a>(name: &FinishName, tins: &'a [Said<Tin>], trade: &'a Trade) -> Option<Coating<'a>> {
    match name.tin() {
        Some(id) => {
            let tin = tins.iter().map(|tin| &tin.value).find(|tin| tin.id.value == *id)?;
            Some(Coating { finish: trade.finish(&tin.is)?, tin: Some(tin) })
        }
        None => Some(Coating { finish: trade.finish(name)?, tin: None }),
    }
}

/// What a step lays as a layer; `None` where it lays none, as where what it applies is known to leave none.
pub fn laid<'a>(step: &'a Step, trade: &Trade) -> Option<&'a Said<FinishName>> {
    match step.act() {
        // A tin of the workshop's holds a finish.
        Some(Act::Apply(what)) => {
            Some(what).filter(|what| what.tin().is_some() || trade.treatment_for_finish(what).is_none())
        }
        _ => None,
    }
}

/// One layer of a surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Coat {
    /// What the record calls it.
    pub written: FinishName,
    /// The finish family's id; `None` where the record names none that is known.
    pub finish: Option<String>,
    /// What the papers call it.
    pub name: String,
    /// Where it lies; `None` where its family is not known.
    pub layer: Option<Layer>,
    /// Whether it protects what is below.
    pub protective: bool,
    /// How many coats.
    pub coats: u32,
    /// The day it was begun; `None` for a layer that was there before.
    pub on: Option<NaiveDate>,
    /// The step that laid it; `None` where it was there before.
    pub step: Option<Row<Step>>,
}

impl Coat {
    /// Whether a step laid it.
    pub fn laid_by(&self, step: &Row<Step>) -> bool {
        self.step.as_ref().is_some_and(|laid| laid.is(step))
    }
}

/// A layer, and whether it still covers the whole surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Stratum {
    /// The layer.
    pub coat: Coat,
    /// Parts it has been taken off again; empty where it covers all that it was laid on.
    pub gone_from: Vec<PartId>,
    /// Parts it was laid on, where not on all.
    pub only_on: Vec<PartId>,
}

impl Stratum {
    /// Whether it lies on a part today.
    pub fn covers(&self, part: &str) -> bool {
        let laid = self.only_on.is_empty() || self.only_on.iter().any(|on| **on == *part);
        laid && !self.gone_from.iter().any(|gone| **gone == *part)
    }
}

/// The layers of a surface.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stratigraphy {
    /// The layers there today, from the wood up.
    pub layers: Vec<Stratum>,
    /// Layers that this workshop laid and took off again, in the order they were laid.
    pub undone: Vec<Coat>,
    /// Layers found on the piece and taken off.
    pub removed: Vec<Coat>,
}

impl Stratigraphy {
    /// Whether what a step laid came off again.
    pub fn took_off_again(&self, step: &Row<Step>) -> bool {
        self.undone.iter().any(|coat| coat.laid_by(step))
    }
}

/// Folds a surface's steps, in the order written, into its layers today.
pub(in crate::derive) fn stratigraphy(surface: &Surface, tins: &[Said<Tin>], trade: &Trade) -> Stratigraphy {
    fold(surface, tins, trade, |_, _| ())
}

/// The same, and shows the layers as they were before each step.
pub(in crate::derive) fn fold(
    surface: &Surface,
    tins: &[Said<Tin>],
    trade: &Trade,
    mut before: impl FnMut(&Row<Step>, &Stratigraphy),
) -> Stratigraphy {
    let mut built = Stratigraphy::default();
    let shop = Lookup { tins, trade };
    for found in surface.found.iter() {
        built.layers.push(shop.found(found));
    }
    // A record that removes an old finish says by that alone that there was one.
    let removes_old =
        |step: &Row<Step>| matches!(step.act(), Some(Act::Remove(what)) if shop.is_old_finish(what));
    if surface.found.is_empty() && surface.steps.iter().any(removes_old) {
        built.layers.push(shop.found(&FinishName::Old));
    }
    for step in &surface.steps {
        before(step, &built);
        let only: Vec<PartId> = step.only.iter().map(|part| part.value.clone()).collect();
        if let Some(Act::Remove(what)) = step.act() {
            TakingOff { what, surface, shop }.from(&mut built, &only);
        } else if let Some(what) = laid(step, trade) {
            let coat = shop.coat(what, Some(step));
            built.layers.push(Stratum { coat, gone_from: Vec::new(), only_on: only });
        }
    }
    // Steps are in the order of the file.
    built.undone.sort_by_key(|coat| coat.step.as_ref().map(|step| step.span.start));
    built
}

/// The parts of a surface; one without a name where the record lists none.
pub(in crate::derive) fn parts_of(surface: &Surface) -> Vec<PartId> {
    match surface.parts.is_empty() {
        true => vec![PartId(String::new())],
        false => surface.parts.iter().map(|part| part.value.clone()).collect(),
    }
}

/// What names of finishes are looked up in.
#[derive(Clone, Copy)]
struct Lookup<'a> {
    tins: &'a [Said<Tin>],
    trade: &'a Trade,
}

impl Lookup<'_> {
    /// Whether an old finish of which nothing more is said is taken off.
    fn is_old_finish(&self, what: &Removal) -> bool {
        what.layer().is_some_and(|name| self.trade.finish(name).is_some_and(Finish::is_old))
    }

    /// A layer that was there before.
    fn found(&self, name: &FinishName) -> Stratum {
        Stratum { coat: self.coat(name, None), gone_from: Vec::new(), only_on: Vec::new() }
    }

    /// A coat, laid by a step or there before.
    fn coat(&self, name: &FinishName, step: Option<&Row<Step>>) -> Coat {
        let known = coating(name, self.tins, self.trade);
        let tin_name = known.and_then(|known| known.tin).and_then(|tin| tin.name.as_ref());
        let printed = match (tin_name, known) {
            (Some(tin), _) => tin.to_string(),
            // A tin without a name of its own is called by its family.
            (None, Some(Coating { finish, tin: Some(_) })) => finish.name.to_string(),
            (None, _) => self.trade.finish_name(name),
        };
        Coat {
            written: name.clone(),
            finish: known.map(|known| known.finish.id.0.clone()),
            name: printed,
            layer: known.map(|known| known.finish.layer.value),
            protective: known.is_some_and(|known| known.finish.protective.value),
            coats: step.map_or(1, |step| step.coat_count()),
            on: step.and_then(|step| step.on.as_ref()).map(|on| on.value),
            step: step.cloned(),
        }
    }
}

/// One step that takes something off.
struct TakingOff<'a> {
    what: &'a Removal,
    surface: &'a Surface,
    shop: Lookup<'a>,
}

impl TakingOff<'_> {
    /// Takes it off part by part, since the parts may carry different layers by now: from the layer that is
    /// named, with all that lies on it there. A layer that is left on no part has gone from the surface.
    fn from(&self, built: &mut Stratigraphy, only: &[PartId]) {
        let parts = parts_of(self.surface);
        let mut targets = only.to_vec();
        if only.is_empty() {
            targets.clone_from(&parts);
            targets.extend(built.layers.iter().flat_map(|layer| layer.only_on.iter().cloned()));
            targets.sort();
            targets.dedup();
            // The papers name parts in the order of the record.
            targets.sort_by_key(|part| parts.iter().position(|known| known == part));
        }
        for part in &targets {
            let Some(from) = self.lowest(&built.layers, part) else { continue };
            for layer in built.layers[from..].iter_mut().filter(|layer| layer.covers(part)) {
                layer.gone_from.push(part.clone());
            }
        }
        let laid_on = |layer: &Stratum| match layer.only_on.is_empty() {
            true => parts.clone(),
            false => layer.only_on.clone(),
        };
        let stays = |layer: &Stratum| laid_on(layer).iter().any(|part| layer.covers(part));
        for layer in std::mem::take(&mut built.layers) {
            match (stays(&layer), &layer.coat.step) {
                (true, _) => built.layers.push(layer),
                (false, Some(_)) => built.undone.push(layer.coat),
                (false, None) => built.removed.push(layer.coat),
            }
        }
    }

    /// The lowest layer that goes from a part: with `all` the first; with `old-finish` the first that was found,
    /// which lies below everything, so that what was laid on it goes with it; with any other name the
    /// topmost layer out of that tin, else the topmost of that family, else the topmost that may be of it.
    fn lowest(&self, layers: &[Stratum], part: &str) -> Option<usize> {
        let there = |layer: &Stratum| layer.covers(part);
        let name = match self.what {
            Removal::All => return layers.iter().position(there),
            what if self.shop.is_old_finish(what) => {
                return layers.iter().position(|layer| there(layer) && layer.coat.step.is_none());
            }
            Removal::Layer(name) => name,
        };
        let trade = self.shop.trade;
        let meant = coating(name, self.shop.tins, trade).map(|known| known.finish);
        let family = meant.map(|finish| finish.id.0.as_str());
        let of_tin = |layer: &Stratum| layer.coat.step.is_some() && layer.coat.written == *name;
        let of_family = |layer: &Stratum| family.is_some() && layer.coat.finish.as_deref() == family;
        let may_be = |layer: &Stratum| {
            let finish = layer.coat.finish.as_deref().and_then(|id| trade.finish(id));
            finish.zip(meant).is_some_and(|(layer, meant)| trade.may_be_one(layer, meant))
        };
        let topmost =
            |of: &dyn Fn(&Stratum) -> bool| layers.iter().rposition(|layer| there(layer) && of(layer));
        topmost(&of_tin).or_else(|| topmost(&of_family)).or_else(|| topmost(&may_be))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::folder;
    use proptest::prelude::*;

    /// The layers of a surface of the parts `a` and `b`, from the wood up, then what was undone and removed.
    fn built(found: &str, steps: &str) -> String {
        let text = format!("[[surface]]\nparts = [\"a\", \"b\"]\nfound = {found}\nsteps = [\n{steps}\n]\n");
        let folder = folder(&text, "tin = [{ id = \"satin\", is = \"oil-polyurethane\" }]");
        let tins = &folder.workshop.as_ref().unwrap().tins;
        let record = folder.pieces[0].record.as_ref().unwrap();
        told(&stratigraphy(&record.surfaces[0], tins, Trade::built_in()))
    }

    fn told(built: &Stratigraphy) -> String {
        let id = |coat: &Coat| format!("{}x{}", coat.finish.as_deref().unwrap_or("?"), coat.coats);
        let layer = |layer: &Stratum| {
            let ids = |ids: &[PartId]| ids.iter().map(|id| id.0.as_str()).collect::<Vec<_>>().join(",");
            let (only, gone) = (ids(&layer.only_on), ids(&layer.gone_from));
            let only = if only.is_empty() { only } else { format!(" only {only}") };
            let gone = if gone.is_empty() { gone } else { format!(" not {gone}") };
            format!("{}{only}{gone}", id(&layer.coat))
        };
        let layers: Vec<String> = built.layers.iter().map(layer).collect();
        let coats = |coats: &[Coat]| coats.iter().map(id).collect::<Vec<_>>().join(" ");
        format!("{} | {} | {}", layers.join(" / "), coats(&built.undone), coats(&built.removed))
    }

    #[track_caller]
    fn case(found: &str, steps: &str, wanted: &str) {
        assert_eq!(built(found, steps), wanted);
    }

    #[test]
    fn layers_lie_in_the_order_of_the_steps() {
        case(
            "\"shellac\"",
            "{ clean = \"soap\" }, { apply = \"tin:satin\", coats = 3 }, { apply = \"paste-wax\" }",
            "shellacx1 / oil-polyurethanex3 / paste-waxx1 |  | ",
        );
    }

    #[test]
    fn what_leaves_no_layer_of_its_own_is_none() {
        case(
            "[]",
            "{ apply = \"oxalic acid\" }, { apply = \"wood filler\" }, { apply = \"shellac\" }, { apply = \"sugar soap\" }",
            "shellacx1 |  | ",
        );
        case("[]", "{ apply = \"dark oak\" }, { apply = \"Gran's special\" }", "?x1 / ?x1 |  | ");
    }

    #[test]
    fn a_layer_goes_by_any_name_that_may_be_its() {
        case("\"some sort of varnish\"", "{ remove = \"shellac\" }", " |  | clear-finish-unknownx1");
        case("\"boiled-linseed-oil\"", "{ remove = \"oiled\" }", " |  | boiled-linseed-oilx1");
        case("\"shellac\"", "{ remove = \"oiled\" }", "shellacx1 |  | ");
    }

    #[test]
    fn rework_keeps_what_was_undone_apart_from_what_was_found() {
        case(
            "\"old-finish\"",
            "{ remove = \"old-finish\" }, { apply = \"gel-stain\" }, { apply = \"tin:satin\" }, \
             { remove = \"gel-stain\" }, { apply = \"gel-stain\" }, { apply = \"tin:satin\", coats = 2 }",
            "gel-stainx1 / oil-polyurethanex2 | gel-stainx1 oil-polyurethanex1 | old-finishx1",
        );
    }

    #[test]
    fn an_old_finish_that_is_removed_was_there() {
        case("[]", "{ remove = \"old-finish\" }, { apply = \"shellac\" }", "shellacx1 |  | old-finishx1");
        case(
            "[]",
            "{ remove = \"existing coating\" }, { apply = \"shellac\" }",
            "shellacx1 |  | old-finishx1",
        );
    }

    #[test]
    fn an_old_finish_takes_what_was_laid_on_it() {
        case(
            "[\"milk-paint\", \"paste-wax\"]",
            "{ apply = \"shellac\" }, { remove = \"old-finish\" }",
            " | shellacx1 | milk-paintx1 paste-waxx1",
        );
    }

    #[test]
    fn a_layer_from_the_middle_takes_what_lies_on_it_and_leaves_what_lies_below() {
        case(
            "[]",
            "{ apply = \"gel-stain\" }, { apply = \"shellac\" }, { apply = \"paste-wax\" }, { remove = \"shellac\" }",
            "gel-stainx1 | shellacx1 paste-waxx1 | ",
        );
    }

    #[test]
    fn all_takes_everything() {
        case("\"shellac\"", "{ apply = \"paste-wax\" }, { remove = \"all\" }", " | paste-waxx1 | shellacx1");
    }

    #[test]
    fn a_name_means_the_tin_and_only_then_its_family() {
        let laid = "{ apply = \"tin:satin\", coats = 2 }, { apply = \"oil-polyurethane\" }";
        case(
            "[]",
            &format!("{laid}, {{ remove = \"oil-polyurethane\" }}"),
            "oil-polyurethanex2 | oil-polyurethanex1 | ",
        );
        case(
            "[]",
            &format!("{laid}, {{ remove = \"tin:satin\" }}"),
            " | oil-polyurethanex2 oil-polyurethanex1 | ",
        );
        case("\"oil-polyurethane\"", "{ remove = \"tin:satin\" }", " |  | oil-polyurethanex1");
    }

    #[test]
    fn the_topmost_of_two_alike_goes() {
        case(
            "[]",
            "{ apply = \"tin:satin\" }, { apply = \"shellac\" }, { apply = \"tin:satin\", coats = 2 }, { remove = \"tin:satin\" }",
            "oil-polyurethanex1 / shellacx1 | oil-polyurethanex2 | ",
        );
    }

    #[test]
    fn a_removal_from_one_part_leaves_the_others() {
        case(
            "\"shellac\"",
            "{ apply = \"paste-wax\" }, { remove = \"shellac\", only = [\"b\"] }",
            "shellacx1 not b / paste-waxx1 not b |  | ",
        );
    }

    #[test]
    fn what_is_taken_off_part_by_part_is_gone_in_the_end() {
        case(
            "\"shellac\"",
            "{ remove = \"shellac\", only = [\"b\"] }, { remove = \"shellac\", only = [\"a\"] }",
            " |  | shellacx1",
        );
    }

    #[test]
    fn a_removal_finds_the_layer_that_lies_on_its_part() {
        case(
            "[]",
            "{ apply = \"paste-wax\", only = [\"a\"] }, { apply = \"paste-wax\", coats = 2, only = [\"b\"] }, \
             { remove = \"paste-wax\", only = [\"a\"] }",
            "paste-waxx2 only b | paste-waxx1 | ",
        );
    }

    #[test]
    fn a_layer_beside_is_not_a_layer_above() {
        case(
            "[]",
            "{ apply = \"tung-oil\", only = [\"a\"] }, { apply = \"paste-wax\", only = [\"b\"] }, { remove = \"tung-oil\" }",
            "paste-waxx1 only b | tung-oilx1 | ",
        );
    }

    const STEPS: &[&str] = &[
        "{ apply = \"shellac\" }",
        "{ apply = \"paste-wax\", only = [\"a\"] }",
        "{ apply = \"tin:satin\", coats = 2 }",
        "{ remove = \"shellac\" }",
        "{ remove = \"tin:satin\", only = [\"b\"] }",
        "{ remove = \"old-finish\", only = [\"a\"] }",
        "{ remove = \"all\", only = [\"a\"] }",
        "{ clean = \"soap\" }",
    ];

    proptest! {
        #[test]
        fn no_layer_is_lost_or_laid_twice(steps in prop::collection::vec(prop::sample::select(STEPS), 0..9)) {
            let applied = steps.iter().filter(|step| step.contains("apply")).count();
            let told = built("\"milk-paint\"", &steps.join(", "));
            prop_assert_eq!(told.matches('x').count() - told.matches("waxx").count(), applied + 1, "{}", told);
        }

        #[test]
        fn after_all_nothing_is_left(steps in prop::collection::vec(prop::sample::select(STEPS), 0..9)) {
            let steps = steps.iter().copied().chain(["{ remove = \"all\" }"]).collect::<Vec<_>>().join(", ");
            prop_assert!(built("\"milk-paint\"", &steps).starts_with(" | "));
        }
    }
}
