//! The label: what stays with the piece when its papers have gone astray.

use serde::Serialize;

use crate::claim::{Claim, says};
use crate::view::context::PieceContext;
use crate::view::shared::identity;
use crate::view::shared::seal::SealView;
use crate::view::shared::section::{Arranged, Form};
use crate::words::{capital, shortened};

/// The most words that a label has room for to name a finish.
const FINISH_WORDS: usize = 5;

/// The most cautions that a label has room for.
const CAUTIONS: usize = 2;

/// Letters of a caution that fit; a longer one ends with its first sentence, or at a word.
const CAUTION_LETTERS: usize = 84;

/// Letters of a title that fit.
const TITLE_LETTERS: usize = 72;

/// The label of one piece.
#[derive(Debug, Clone, Serialize)]
pub struct Label {
    /// The workshop's number for it.
    pub number: String,
    /// What it is, cut short where it is long.
    pub what: String,
    /// Type of piece, in words.
    pub kind: String,
    /// What was done and in which year, such as `Refurbished 2026`.
    pub done: String,
    /// Its finish in at most five words; empty where none is recorded.
    pub finish: String,
    /// The cautions that matter most, two at most.
    pub cautions: Vec<String>,
    /// The seal in short; empty where it is not sealed.
    pub seal: String,
    /// Where the papers stand on the web, which its code leads to; empty where nowhere, and then it has no code.
    pub address: String,
}

impl Label {
    /// Says where the papers are, and how they are sealed.
    pub fn lead_to(&mut self, address: Option<&str>, seal: &SealView) {
        self.seal = seal.short.clone();
        self.address = address.unwrap_or_default().to_owned();
    }
}

/// Builds the label.
pub(crate) fn label(context: &PieceContext<'_>) -> Label {
    let words = context.house.words();
    let cautions = cautions(context);
    Label {
        number: shortened(context.number(), 24),
        what: shortened(context.bare_title(), TITLE_LETTERS),
        kind: shortened(&capital(&identity::kind(context)), 40),
        done: context.claims.done.iter().map(|claim| words.heading(&claim.message)).collect(),
        finish: finish(context),
        cautions: cautions.map(|claim| short_caution(&words.sentence(claim).head())).collect(),
        seal: String::new(),
        address: String::new(),
    }
}

/// What may be said of the finish that is touched: the first of which a label has room for all words, or else the last.
fn chosen_finish<'a>(context: &PieceContext<'a>) -> Option<&'a Claim> {
    let words = context.house.words();
    let said = &context.claims.care.label_finish;
    let fits = |claim: &&Claim| words.heading(&claim.message).split_whitespace().count() <= FINISH_WORDS;
    said.iter().find(fits).or(said.last())
}

/// The finish that is touched, in at most five words.
fn finish(context: &PieceContext<'_>) -> String {
    let said = chosen_finish(context).map(|claim| context.house.words().heading(&claim.message));
    said.unwrap_or_default().split_whitespace().take(FINISH_WORDS).collect::<Vec<_>>().join(" ")
}

/// What a label says: what was done, what finish it has, and what to beware of.
pub(crate) fn arranged<'a>(context: &PieceContext<'a>) -> Arranged<'a> {
    let claims = context.claims;
    let finish = chosen_finish(context).into_iter();
    let claims = claims.done.iter().chain(finish).chain(cautions(context)).collect();
    Arranged { name: "label".into(), heading: says!("heading-label"), form: Form::Lines, claims }
}

/// What a label warns of: the gravest of what a buyer must know, as far as it warns whoever uses the piece.
fn cautions<'a>(context: &PieceContext<'a>) -> impl Iterator<Item = &'a Claim> {
    context.claims.know.iter().filter(|claim| claim.weight.warns()).take(CAUTIONS)
}

/// A caution cut to a label's room: to its first sentence where that fits, else at a word.
fn short_caution(text: &str) -> String {
    if text.chars().count() <= CAUTION_LETTERS {
        return text.to_owned();
    }
    match text.split_once(". ") {
        Some((first, _)) if first.chars().count() < CAUTION_LETTERS => format!("{first}."),
        _ => shortened(text, CAUTION_LETTERS),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::shared::seal::{SealFor, seal_view};
    use crate::view::testing::shown;

    fn seen(record: &str) -> Label {
        let part = "part = [{ id = \"top\", name = \"Top\", standing = \"original\" }]\n";
        shown(&format!("{part}{record}"), "", label)
    }

    #[test]
    fn the_finish_takes_five_words_at_most() {
        let surface =
            |steps: &str| seen(&format!("surface = [{{ parts = [\"top\"], steps = [{steps}] }}]")).finish;
        assert_eq!(surface("{ apply = \"paste-wax\" }"), "Paste wax");
        assert_eq!(
            surface("{ apply = \"oil-pigment-stain\" }, { apply = \"shellac\" }"),
            "Shellac over oil-based pigment stain"
        );
        for id in ["acid-cat-lacquer", "oil-polyurethane", "milk-paint", "hardwax-oil"] {
            let finish = surface(&format!("{{ apply = \"oil-pigment-stain\" }}, {{ apply = \"{id}\" }}"));
            assert!((1..=5).contains(&finish.split_whitespace().count()), "{finish}");
        }
        assert_eq!(seen("").finish, "");
    }

    #[test]
    fn the_year_is_that_of_the_handover_or_of_the_last_work() {
        let work = "work = [{ did = \"x\", part = \"top\", on = 2025-12-30 }]\n";
        assert_eq!(seen(&format!("level = \"repair\"\n{work}")).done, "Repaired 2025");
        assert_eq!(
            seen(&format!("level = \"repair\"\n{work}handover = {{ on = 2026-01-04 }}")).done,
            "Repaired 2026"
        );
        assert_eq!(seen("level = \"repair\"").done, "Repaired");
    }

    #[test]
    fn two_cautions_stand_on_it_and_neither_runs_on() {
        let long = "never ".repeat(60);
        let label = seen(&format!(
            "use = {{ cautions = [\"{long}\", \"Do not sit on it. It is old.\", \"third\"] }}"
        ));
        assert_eq!(label.cautions.len(), 2);
        assert!(label.cautions.iter().all(|caution| caution.chars().count() <= CAUTION_LETTERS), "{label:?}");
    }

    const LEAD: &str = "test = [{ of = \"lead\", by = \"swab\", part = \"top\", result = \"positive\" }]\n\
                        surface = [{ parts = [\"top\"], found = \"oil-paint\", steps = [] }]\n";

    #[test]
    fn the_workshops_own_words_go_before_the_programs() {
        let said = seen(LEAD).cautions;
        assert!(said[0].starts_with("Lead was found in"), "{said:?}");
        for own in ["there is lead under the wax", "Do not sand the lead paint."] {
            let said = seen(&format!("{LEAD}use = {{ cautions = [\"{own}\"] }}")).cautions;
            assert_eq!(
                said[0].trim_end_matches('.').to_lowercase(),
                own.trim_end_matches('.').to_lowercase()
            );
            assert!(!said.iter().any(|caution| caution.starts_with("Lead was found")), "{said:?}");
        }
    }

    #[test]
    fn only_the_substance_of_a_caution_silences_it() {
        for own in ["a misleading old thing", "Nothing old or painted suits a child.", "It is lead-free."] {
            let said = seen(&format!("{LEAD}use = {{ cautions = [\"{own}\"] }}")).cautions;
            assert!(said[0].starts_with("Lead was found in"), "{own}: {said:?}");
        }
    }

    #[test]
    fn an_old_clear_coat_or_one_that_is_gone_takes_no_room() {
        let found = |found: &str, steps: &str| {
            seen(&format!("surface = [{{ parts = [\"top\"], found = \"{found}\", steps = [{steps}] }}]"))
                .cautions
        };
        assert_eq!(found("oleoresinous-varnish", ""), [""; 0]);
        assert_eq!(found("oil-paint", "{ remove = \"all\" }"), [""; 0]);
        assert_eq!(found("old-finish", ""), ["The old finish on Top was not tested for lead."]);
    }

    #[test]
    fn a_code_leads_somewhere_or_is_not_there() {
        let (mut label, seal) = shown("", "", |context| (label(context), seal_view(context, SealFor::Buyer)));
        label.lead_to(None, &seal);
        assert_eq!((label.address.as_str(), label.seal.as_str()), ("", ""));
        label.lead_to(Some("https://example.org/x/"), &seal);
        assert_eq!(label.address, "https://example.org/x/");
    }
}
