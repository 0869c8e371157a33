//! Looking a piece over before it is bought: what to do to it, and what that would mean.

use std::borrow::Cow;
use std::collections::BTreeMap;

use super::table::{trade_row, trade_table};
use super::{Trade, TradeRow};
use crate::diag::nearest;
use crate::fields::shape::choices;
use crate::fields::{Id, OneOrMore, Said, Text};
use crate::unit::fold::{folded_word, plain};

choices! {
    /// What is done to a piece to find something out.
    pub enum Deed {
        /// Whoever sells it is asked.
        Ask = "ask",
        /// It is looked at.
        Look = "look",
        /// It is opened, or pulled out.
        Open = "open",
        /// It is turned over, or looked at from below.
        TurnOver = "turn-over",
        /// It is smelt.
        Smell = "smell",
        /// It is pressed.
        Press = "press",
        /// It is shaken or pushed.
        Shake = "shake",
        /// It is lifted, to feel what it weighs.
        Weigh = "weigh",
        /// It is measured.
        Measure = "measure",
    }
}

trade_row! {
    /// Something that a piece may have.
    pub struct Feature ("[[feature]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// What it is called, as a heading.
        "name" => name: Said<Text>,
        /// Words in a kind that add it.
        "also" => also: Vec<Said<Text>>,
        /// Whether a piece of no known kind is taken to have it.
        "usual" => usual: Option<Said<bool>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
    words = |row| std::iter::once(&row.name).chain(&row.also);
}

trade_row! {
    /// A kind of piece, and what such a piece has or often has.
    pub struct KindOfPiece ("[[piece]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// What it is called.
        "name" => name: Said<Text>,
        /// What people call it besides.
        "also" => also: Vec<Said<Text>>,
        /// Its features, by their ids.
        "has" => has: Vec<Said<Id>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
    words = |row| std::iter::once(&row.name).chain(&row.also);
}

trade_row! {
    /// A line of the list.
    pub struct Look ("[[look]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// The features of which one is enough to ask for it.
        "of" => of: OneOrMore<Id>,
        /// What to do.
        "do" => r#do: Said<Deed>,
        /// Whether it is a sign of danger.
        "danger" => danger: Option<Said<bool>>,
        /// What to look for, as a question.
        "look" => look: Said<Text>,
        /// What a yes means for the price or the work.
        "means" => means: Said<Text>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
}

trade_table! {
    /// The table of looking a piece over.
    pub struct LookingTable ("looking.toml") {
        /// What a piece may have, in the order in which the list prints it.
        "feature" => features: Vec<Said<Feature>>,
        /// Kinds of piece.
        "piece" => pieces: Vec<Said<KindOfPiece>>,
        /// The lines, those that matter most first.
        "look" => looks: Vec<Said<Look>>,
    }
}

/// The feature that every piece has.
const ANY: &str = "any";

/// The most words of which a kind's name is made.
const LONGEST: usize = 4;

/// How many words are listened to.
const MOST_WORDS: usize = 60;

/// Words behind which a feature is one that the piece has not.
const WITHOUT: [&str; 4] = ["no", "non", "not", "without"];

/// What was heard in the words for a kind of piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Heard<'t> {
    /// The kinds that they name; none where no row knows them.
    pub kinds: Vec<&'t KindOfPiece>,
    /// The features that they name besides.
    pub with: Vec<&'t Feature>,
    /// The features that they deny.
    pub without: Vec<&'t Feature>,
    /// A kind that was perhaps meant, where none was heard.
    pub near: Option<&'t KindOfPiece>,
}

/// The lines of one feature.
#[derive(Debug, Clone, PartialEq)]
pub struct LooksOf<'t> {
    /// The feature.
    pub feature: &'t Feature,
    /// Its lines, those that matter most first.
    pub looks: Vec<&'t Look>,
}

/// What to look for on a piece of some kind.
#[derive(Debug, Clone, PartialEq)]
pub struct LookingOver<'t> {
    /// What was heard.
    pub heard: Heard<'t>,
    /// The signs of danger.
    pub dangers: Vec<&'t Look>,
    /// Everything else.
    pub rest: Vec<LooksOf<'t>>,
}

impl Look {
    /// Whether it is a sign of danger.
    pub fn is_danger(&self) -> bool {
        self.danger.as_ref().is_some_and(|danger| danger.value)
    }
}

impl Trade {
    /// What to look for on a piece of a kind, in whatever words that is said; on one of no known kind, what most have.
    pub fn looking_over(&self, kind: &str) -> LookingOver<'_> {
        let table = &self.looking;
        let heard = table.ear().heard(kind);
        let may_have = |feature: &&Feature| {
            let id = &feature.id.0;
            let of_kind = heard.kinds.iter().any(|kind| kind.has.iter().any(|has| has.0 == *id));
            let usual = heard.kinds.is_empty() && feature.usual.as_ref().is_some_and(|usual| usual.value);
            let has = id == ANY || usual || of_kind || heard.with.contains(feature);
            has && !heard.without.contains(feature)
        };
        let features = table.features.iter().map(|feature| &feature.value);
        let has: Vec<&Feature> = features.filter(may_have).collect();
        // A line of several features stands once, with the first of them that the piece may have.
        let place =
            |look: &Look| has.iter().position(|feature| look.of.iter().any(|of| of.0 == feature.id.0));
        let looks = table.looks.iter().map(|look| &look.value);
        let looks: Vec<(usize, &Look)> = looks.filter_map(|look| Some((place(look)?, look))).collect();
        let dangers = looks.iter().filter(|(_, look)| look.is_danger()).map(|(_, look)| *look).collect();
        let rest = has.iter().enumerate().map(|(at, feature)| {
            let own = looks.iter().filter(|(place, look)| *place == at && !look.is_danger());
            LooksOf { feature, looks: own.map(|(_, look)| *look).collect() }
        });
        let rest = rest.filter(|of| !of.looks.is_empty()).collect();
        LookingOver { dangers, rest, heard }
    }
}

impl LookingTable {
    /// What hears the kinds and features of this table in what somebody says.
    pub fn ear(&self) -> Ear<'_> {
        let mut names: BTreeMap<String, (Option<&KindOfPiece>, Option<&Feature>)> = BTreeMap::new();
        for row in &self.pieces {
            for name in called(&row.value) {
                names.entry(name).or_default().0.get_or_insert(row);
            }
        }
        for row in self.features.iter().filter(|row| row.id.0 != ANY) {
            for name in called(&row.value) {
                names.entry(name).or_default().1.get_or_insert(row);
            }
        }
        Ear { names }
    }
}

/// What hears kinds of piece in the words that people have for them.
#[derive(Debug)]
pub struct Ear<'t> {
    /// The kind and the feature that a name stands for, by its words in their one form, written together.
    names: BTreeMap<String, (Option<&'t KindOfPiece>, Option<&'t Feature>)>,
}

impl<'t> Ear<'t> {
    /// What is heard in the words for a kind of piece. Of a kind in two levels, such as `table/gateleg`, the second says
    /// more, and the first counts where the second names no kind.
    pub fn heard(&self, kind: &str) -> Heard<'t> {
        let mut heard = Heard { kinds: Vec::new(), with: Vec::new(), without: Vec::new(), near: None };
        for level in kind.rsplit('/') {
            let kinds = self.listen(&words(level), &mut heard);
            if heard.kinds.is_empty() {
                heard.kinds = kinds;
            }
        }
        if heard.kinds.is_empty() {
            heard.near = kind.rsplit('/').find_map(|level| self.near(level));
        }
        heard.with.retain(|feature| !heard.without.contains(feature));
        heard.with.dedup();
        heard
    }

    /// Whether two pieces are of one kind, as their records or somebody else says it.
    pub fn is_same_kind(&self, one: &str, other: &str) -> bool {
        let (ours, theirs) = (self.heard(one).kinds, self.heard(other).kinds);
        match ours.is_empty() || theirs.is_empty() {
            true => !words(one).is_empty() && words(one) == words(other),
            false => ours.iter().any(|kind| theirs.contains(kind)),
        }
    }

    /// The kinds that the words of one level name, and into `heard` its features: the longest name that begins at a word
    /// is taken, and what it is made of is not listened to again.
    fn listen(&self, words: &[String], heard: &mut Heard<'t>) -> Vec<&'t KindOfPiece> {
        // What may be a kind and a feature, such as a mirror, is a kind where nothing else is.
        let (mut kinds, mut either) = (Vec::new(), Vec::new());
        let (mut at, mut denied) = (0, false);
        while at < words.len() {
            let longest = LONGEST.min(words.len() - at);
            let named = |many: usize| Some((many, *self.names.get(&words[at..at + many].concat())?));
            let Some((many, (kind, feature))) = (1..=longest).rev().find_map(named) else {
                denied = WITHOUT.contains(&words[at].as_str()) || denied && words[at] == "or";
                at += 1;
                continue;
            };
            match (kind, feature) {
                (_, Some(feature)) if denied => heard.without.push(feature),
                (Some(kind), None) if !denied => kinds.push(kind),
                (Some(kind), Some(feature)) => {
                    heard.with.push(feature);
                    either.push(kind);
                }
                (None, Some(feature)) => heard.with.push(feature),
                (_, None) => {}
            }
            at += many;
            denied &= words.get(at).is_some_and(|next| next == "or");
        }
        if kinds.is_empty() {
            kinds = either;
        }
        kinds.dedup();
        kinds
    }

    /// The kind whose name comes nearest to some words.
    fn near(&self, level: &str) -> Option<&'t KindOfPiece> {
        let typed = words(level).concat();
        let kinds = self.names.iter().filter(|(_, (kind, _))| kind.is_some());
        let near = nearest(&typed, kinds.map(|(name, _)| name.as_str()))?;
        self.names.get(near)?.0
    }
}

/// What a row is called, by its words in their one form, written together.
fn called<R: TradeRow>(row: &R) -> impl Iterator<Item = String> {
    let spoken = row.words().into_iter().map(|word| word.value.0.as_str());
    std::iter::once(row.key()).chain(spoken.map(Cow::Borrowed)).map(|name| words(&name).concat())
}

/// A text's words, each in its one form; of a long text the first.
fn words(text: &str) -> Vec<String> {
    let plain = plain(text);
    let words = plain.split(|sign: char| !sign.is_alphanumeric()).filter(|word| !word.is_empty());
    words.take(MOST_WORDS).map(folded_word).collect()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    fn table() -> &'static LookingTable {
        &Trade::built_in().looking
    }

    fn kinds(kind: &str) -> Vec<&str> {
        table().ear().heard(kind).kinds.into_iter().map(|kind| kind.id.0.as_str()).collect()
    }

    #[test]
    fn kinds_are_heard_as_people_say_them() {
        for (said, kind) in [
            ("table/gateleg", "table-with-leaves"),
            ("Gate-leg table", "table-with-leaves"),
            ("case/chest-of-drawers", "chest-of-drawers"),
            ("an old pine Chest of Drawers", "chest-of-drawers"),
            ("blanket chests", "chest"),
            ("book case", "bookcase"),
            ("étagère", "shelves"),
            ("table lamp", "lamp"),
            ("lamp table", "table"),
            ("wash-hand stand", "washstand"),
            ("drawers", "chest-of-drawers"),
            ("seating/stool", "stool"),
            ("WARDROBE with mirror and two drawers", "wardrobe"),
        ] {
            assert_eq!(kinds(said), [kind], "{said}");
        }
        assert_eq!(kinds("zograscope"), [""; 0]);
        assert_eq!(table().ear().heard("wardrob").near.map(|near| near.id.0.as_str()), Some("wardrobe"));
        assert_eq!(kinds(""), [""; 0]);
    }

    fn features(kind: &str) -> BTreeSet<String> {
        let over = Trade::built_in().looking_over(kind);
        over.rest.iter().map(|of| of.feature.id.0.clone()).collect()
    }

    #[test]
    fn words_for_what_it_has_or_lacks_count() {
        assert!(features("painted oak stool").contains("paint") && !features("oak stool").contains("paint"));
        assert!(features("cabinet").contains("glass"));
        let none = features("cabinet without glass or shelves, with drawers");
        assert!(!none.contains("glass") && !none.contains("shelves") && none.contains("drawers"), "{none:?}");
        assert!(none.contains("any") && none.contains("carcase"));
    }

    #[test]
    fn a_piece_of_no_known_kind_is_taken_to_have_what_most_have() {
        let any = features("zograscope");
        for usual in ["any", "drawers", "legs", "veneer", "fittings"] {
            assert!(any.contains(usual), "{usual}");
        }
        assert!(!any.contains("stone") && features("zograscope with marble").contains("stone"));
    }

    /// What is to be asked of some kinds, by hand; common practice, no source.
    #[test]
    fn dangers_by_kind() {
        let dangers = |kind: &str| {
            let over = Trade::built_in().looking_over(kind);
            over.dangers.iter().map(|look| look.id.0.clone()).collect::<BTreeSet<_>>()
        };
        let always = ["lead", "worm", "old-poison", "mould", "asbestos"];
        for (kind, more) in [
            ("stool", &["seat-gives", "insects", "fire-label"][..]),
            ("chest of drawers", &["tips"]),
            ("chest", &["lid-falls"]),
            ("standard lamp", &["mains"]),
            ("bookcase", &["tips", "glass-loose"]),
            ("washstand", &["tips", "stone-breaks"]),
            ("cheval mirror", &["tin-mercury"]),
            ("cot", &["cot", "bed-insects"]),
            ("table/refectory", &[]),
        ] {
            let expected = always.iter().chain(more).map(|id| (*id).to_owned()).collect();
            assert_eq!(dangers(kind), expected, "{kind}");
        }
    }

    #[test]
    fn every_row_leads_somewhere() {
        let ids: BTreeSet<&str> = table().features.iter().map(|row| row.id.0.as_str()).collect();
        for look in &table().looks {
            assert!(
                !look.of.is_empty() && look.of.iter().all(|of| ids.contains(of.0.as_str())),
                "{}",
                look.id.0
            );
        }
        for piece in &table().pieces {
            assert!(piece.has.iter().all(|has| ids.contains(has.0.as_str())), "{}", piece.id.0);
            assert_eq!(kinds(&piece.name), [piece.id.0.as_str()], "its own name is taken for it");
            for also in &piece.also {
                assert_eq!(kinds(also), [piece.id.0.as_str()], "{}", also.0);
            }
        }
        for feature in &ids {
            let asked = table().looks.iter().any(|look| look.of.iter().any(|of| of.0 == **feature));
            assert!(asked, "nothing is asked of {feature}");
        }
    }

    #[test]
    fn one_kind_in_two_wordings() {
        let same = |one, other| table().ear().is_same_kind(one, other);
        assert!(same("table/gateleg", "drop-leaf table") && same("zograscope", "Zograscope"));
        assert!(!same("table/gateleg", "stool") && !same("", ""));
    }
}
