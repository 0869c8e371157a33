//! A word that is taken for a row, and is said of other kinds too.

use std::collections::BTreeSet;
use std::ops::Range;

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::Act;
use crate::trade::{TradeRow, Words};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "word-of-several-kinds",
    rank: Rank::Hint,
    why: "What the papers say holds for every kind that the word may mean, or, where the word is also the name of one kind, for that kind alone; the kind itself would say more, or other things.",
    fix: "Write which kind it is, where you know; else leave the word.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let (record, trade) = (case.intended(), case.trade);
    let mut asked = Asked { case, asked: BTreeSet::new(), seen };
    let finishes = trade.finish_words();
    for surface in &record.surfaces {
        for found in surface.found.iter().filter(|found| found.tin().is_none()) {
            asked.ask(found, &found.span, &finishes, true);
        }
        for act in surface.steps.iter().flat_map(|step| step.acts()) {
            if let Act::Apply(what) = act
                && what.tin().is_none()
            {
                asked.ask(what, &what.span, &finishes, true);
            }
        }
    }
    for part in &record.parts {
        let timbers = [&part.timber, &part.veneer, &part.ground].into_iter().flatten();
        for timber in timbers.chain(part.lipping.as_ref().map(|lipping| &lipping.timber)) {
            asked.ask(timber, &timber.span, &trade.timber_words(), false);
        }
        if let Some(material) = &part.material {
            asked.ask(material, &material.span, &trade.material_words(), false);
        }
    }
    for fixing in &record.fixings {
        asked.ask(&fixing.kind, &fixing.kind.span, &trade.fixing_words(), false);
    }
}

/// What was asked about in a record, each word once.
struct Asked<'a, 'c> {
    case: &'a Case<'c>,
    asked: BTreeSet<String>,
    seen: &'a mut Vec<Diagnostic>,
}

impl Asked<'_, '_> {
    /// Asks about a word that is one kind by its id, or stands for several of them where `general` words matter too:
    /// care follows from a finish, while a screw is a screw.
    fn ask<R: TradeRow>(&mut self, word: &str, span: &Range<usize>, words: &Words<'_, R>, general: bool) {
        let Some(row) = words.form(word).filter(|row| general || !row.is_general()) else { return };
        let Some(question) = words.question(word) else { return };
        if !self.asked.insert(word.to_lowercase()) {
            return;
        }
        let message = match row.is_general() {
            true => format!("`{word}` is said of several kinds, and the papers keep to what holds for all"),
            false => format!("`{word}` is taken for `{}`, and is said of others too", row.key()),
        };
        self.seen.push(self.case.at(&CODE, span, message).help(question.ask.to_string()));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_kind_by_its_id_and_a_finish_of_several_kinds_are_asked_about_once() {
        let parts = |timber: &str| {
            let part = |id: &str| {
                format!("{{ id = \"{id}\", name = \"A\", standing = \"new\", timber = \"{timber}\" }}")
            };
            sees(&RULE, &format!("part = [{}, {}]", part("a"), part("b")))
        };
        let told = parts("mahogany");
        assert!(
            told.starts_with(
                "1: `mahogany` is taken for `mahogany`, and is said of others too [Which mahogany"
            )
        );
        assert_eq!(told.lines().count(), 1);
        for timber in ["cuban mahogany", "khaya", "oak", "mahogany-type", "unknown"] {
            assert_eq!(parts(timber), "", "{timber}");
        }
        let steps =
            "surface = [{ found = \"Varnish\", steps = [{ apply = \"varnish\" }, { apply = \"shellac\" }] }]";
        assert!(sees(&RULE, steps).starts_with("1: `Varnish` is said of several kinds"));
        assert_eq!(sees(&RULE, steps).lines().count(), 1);
        assert_eq!(sees(&RULE, "fixing = [{ kind = \"screw\", standing = \"new\" }]"), "");
    }
}
