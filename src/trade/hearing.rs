//! What a phrase is taken for, by the forms of the table that stand in it.

use std::collections::BTreeSet;

use super::bearing::Bearing;
use super::clause::{Phrase, Token, bit};
use super::phrase::{Breadth, Kind, LONGEST_FORM, Meanings, Pattern, PhraseReader, Reading};
use super::stem::{Ending, ending, is_same_when_done};

/// Nobody is asked between more rows that a phrase may not even mean.
const MOST_ASKED: usize = 3;

/// Words before what something is done to.
const ARTICLES: [&str; 10] = ["a", "an", "her", "his", "it", "my", "our", "the", "their", "your"];

/// A form whose words all stand in the phrase.
#[derive(Debug, Clone, Copy)]
struct Found<M> {
    /// Its words, by bits.
    words: u32,
    meaning: M,
    /// How well it fits: how many words, whether in one clause, in their order, in one run, with their endings.
    fit: (u32, [bool; 4]),
    /// Its last word.
    last: usize,
}

/// A phrase that is held against the forms of a table.
pub(super) struct Hearing<'a, M, S> {
    pub(super) reader: &'a PhraseReader<'a, M, S>,
    pub(super) phrase: &'a Phrase,
}

impl<M: Copy + PartialEq, S: Meanings<M>> Hearing<'_, M, S> {
    fn kind(&self) -> Kind {
        self.reader.phrases.table.kind()
    }

    fn tokens(&self) -> &[Token] {
        &self.phrase.tokens
    }

    /// What the phrase is taken for, with the words by which it is.
    pub(super) fn answer(&self) -> (Reading<M>, u32) {
        let found = self.found();
        let elsewhere = |found: &&Found<M>| self.reader.meanings.breadth(found.meaning) == Breadth::Elsewhere;
        let rows = found.iter().filter(|found| !elsewhere(found)).copied().collect();
        let misplaced = found.iter().filter(elsewhere).copied().collect();
        let kept: [Vec<Found<M>>; 2] = [rows, misplaced].map(|candidates| self.kept(candidates));
        for kept in &kept {
            let claims = self.claims(kept);
            if !claims.is_empty() {
                return self.judged(&claims, kept, &found);
            }
        }
        let [rows, _] = kept;
        self.unsure(&rows)
    }

    /// What to ask about where what a phrase of things turns on is not known, but words before it are: the offcut of
    /// `granite worktop offcut` may be of granite.
    fn unsure(&self, kept: &[Found<M>]) -> (Reading<M>, u32) {
        let alters = self.tokens().iter().any(|token| token.bearing == Some(Bearing::Alters));
        let mut meanings: Vec<M> = Vec::new();
        for found in kept {
            if !meanings.contains(&found.meaning) {
                meanings.push(found.meaning);
            }
        }
        let few = (1..=MOST_ASKED).contains(&meanings.len());
        match self.kind().is_things() && few && !alters {
            true => (Reading::Asks(meanings), kept.iter().fold(0, |words, found| words | found.words)),
            false => (Reading::Nothing, 0),
        }
    }

    /// Every form whose words all stand in the phrase, undenied.
    fn found(&self) -> Vec<Found<M>> {
        let tokens = self.tokens();
        let mut found = Vec::new();
        // As they stand: in one run, however the words are parted.
        for start in 0..tokens.len() {
            let mut form = String::new();
            for (at, token) in tokens.iter().enumerate().skip(start).take(LONGEST_FORM) {
                if token.clause != tokens[start].clause {
                    break;
                }
                form.push_str(&token.form);
                if let Some(meaning) = self.reader.meanings.meaning(&form) {
                    let words: u32 = (start..=at).map(bit).sum();
                    // A word that tells nothing by itself says it only alone.
                    if at > start || token.tells_within() {
                        found.push(self.fitting(words, at, meaning, true));
                    }
                }
            }
        }
        // By their stems, wherever they stand.
        let mut forms: Vec<usize> = tokens.iter().flat_map(|token| &token.forms).copied().collect();
        forms.sort_unstable();
        forms.dedup();
        found.extend(forms.into_iter().filter_map(|form| self.standing(form)));
        found.retain(|found| {
            let words = tokens.iter().enumerate().filter(|(at, _)| found.words & bit(*at) != 0);
            let denies = |(_, token): (usize, &Token)| token.bearing == Some(Bearing::Denies);
            let denied = !words.clone().any(denies) && words.clone().any(|(_, token)| token.denied);
            !denied && !self.is_of_another_matter(found)
        });
        found
    }

    /// Whether a happening takes its words from a turn of speech that is about something else: `shake hands`.
    fn is_of_another_matter(&self, found: &Found<M>) -> bool {
        let alters =
            |token: Option<&Token>| token.is_some_and(|token| token.bearing == Some(Bearing::Alters));
        let beside = |at: usize| [at.checked_sub(1), Some(at + 1)].into_iter().flatten();
        let tokens = self.tokens();
        let taken = (0..tokens.len()).filter(|at| found.words & bit(*at) != 0 && alters(tokens.get(*at)));
        let mut others = taken.flat_map(beside).filter(|at| alters(tokens.get(*at)));
        self.kind() == Kind::Happenings && others.any(|at| found.words & bit(at) == 0)
    }

    /// A form as it stands in the phrase, where all of its words do, and so that they may mean it.
    fn standing(&self, form: usize) -> Option<Found<M>> {
        let meaning = self.reader.forms.all()[form].meaning;
        let form = self.reader.pattern(form)?;
        let tokens = self.tokens();
        let (mut words, mut places) = (0, Vec::new());
        for stem in &form.stems {
            // The same word may stand twice: take the one nearest to the last.
            let after = places.last().copied().unwrap_or(0);
            let mut at = (0..tokens.len()).filter(|at| tokens[*at].stem == *stem);
            let place = at.clone().find(|at| *at >= after).or_else(|| at.next())?;
            words |= bit(place);
            places.push(place);
        }
        let in_order = places.is_sorted();
        let last = *places.last()?;
        let clauses = || places.iter().map(|at| tokens[*at].clause);
        let (first_clause, last_clause) = (clauses().min()?, clauses().max()?);
        let one_clause = first_clause == last_clause;
        let spot = |at: usize| tokens[at].spot();
        let one_part = places.iter().all(|at| spot(*at) == spot(last));
        // `walnut, french` and `knob of brass` name the thing first.
        let thing_first = places.iter().all(|at| *at == last || spot(*at) > spot(last));
        let lies = |at: usize| tokens[at].bearing == Some(Bearing::Lies) && words & bit(at) == 0;
        let across = (*places.iter().min()?..last).chain(last..*places.iter().max()?).any(lies);
        // What dropped is no droppings, and a leading edge is not of lead.
        let (told, things) = (ending(&tokens[last].form), self.kind().is_things());
        let as_written = match (form.ending, told) {
            (None, Some(Ending::GoesOn)) => !things || form.stems.len() > 1,
            (None, _) => true,
            (Some(_), None) => false,
            (Some(one), Some(other)) => one == other,
        };
        if !as_written {
            return None;
        }
        let fits = match (form.ordered, self.kind()) {
            (true, _) => in_order && one_clause,
            (false, Kind::Things | Kind::Coats) => {
                let commas = self.phrase.only_commas(first_clause, last_clause);
                let done = || places.iter().any(|at| tokens[*at].is_participle());
                let joined = form.joined && last_clause - first_clause < 2 && in_order && !done();
                one_part || thing_first && !across && commas || joined
            }
            (false, Kind::Happenings) => one_clause || last_clause - first_clause < 3,
        };
        fits.then(|| self.fitting(words, last, meaning, in_order && one_part))
    }

    fn fitting(&self, words: u32, last: usize, meaning: M, in_order: bool) -> Found<M> {
        let tokens = self.tokens();
        let of = |words: u32| tokens.iter().enumerate().filter(move |(at, _)| words & bit(*at) != 0);
        let heard = words.count_ones();
        let one_clause = of(words).all(|(_, token)| token.clause == tokens[last].clause);
        let form: String = of(words).map(|(_, token)| token.form.as_str()).collect();
        let exact = self.reader.meanings.meaning(&form) == Some(meaning);
        let one_run = words.count_ones() + words.leading_zeros() + words.trailing_zeros() == u32::BITS;
        Found { words, meaning, fit: (heard, [one_clause, in_order, one_run, exact]), last }
    }

    /// The forms that hold against each other: of those that share a word the longest, or several that fit alike. A
    /// precise row says what a general one leaves open.
    fn kept(&self, mut found: Vec<Found<M>>) -> Vec<Found<M>> {
        found = found.iter().filter(|one| !self.is_torn(one, &found)).copied().collect();
        found.sort_by_key(|found| std::cmp::Reverse(found.fit));
        let mut kept: Vec<Found<M>> = Vec::new();
        for one in found {
            let leaves_open = |general: &Found<M>, other: &Found<M>| {
                general.words & other.words != 0
                    && general.words != other.words
                    && self.reader.meanings.includes(general.meaning, other.meaning)
            };
            if kept.iter().any(|other| leaves_open(&one, other)) {
                continue;
            }
            let mut sharing = kept.iter().filter(|other| other.words & one.words != 0);
            let holds = |other: &Found<M>| {
                other.meaning == one.meaning || other.fit == one.fit || leaves_open(other, &one)
            };
            if sharing.all(holds) {
                kept.retain(|other| !leaves_open(other, &one));
                kept.push(one);
            }
        }
        kept
    }

    /// Whether a form takes a word from one that stands together, to go with what is said of another part: in `loose veneer
    /// on the drawer front` no drawer is loose.
    fn is_torn(&self, one: &Found<M>, found: &[Found<M>]) -> bool {
        let tokens = self.tokens();
        let spots = |found: &Found<M>| {
            let of = tokens.iter().enumerate().filter(|(at, _)| found.words & bit(*at) != 0);
            of.map(|(_, token)| token.spot()).collect::<BTreeSet<_>>().len()
        };
        let together = |other: &Found<M>| {
            let [.., one_run, _] = other.fit.1;
            let shared = other.words & one.words;
            let other_row = other.meaning != one.meaning;
            one_run && other_row && shared != 0 && shared != other.words && spots(other) == 1
        };
        self.kind() == Kind::Happenings && spots(one) > 1 && found.iter().any(together)
    }

    /// The forms that say what the phrase is about.
    fn claims(&self, kept: &[Found<M>]) -> Vec<Found<M>> {
        let tokens = self.tokens();
        let clauses = tokens.last().map_or(0, |last| last.clause + 1);
        let mut claims: Vec<Found<M>> = Vec::new();
        let covered = |at: usize| kept.iter().any(|found| found.words & bit(at) != 0);
        for clause in 0..clauses {
            let of_clause = || (0..tokens.len()).filter(move |at| tokens[*at].clause == clause);
            let tells = |at: &usize| match self.kind() {
                Kind::Things | Kind::Coats => tokens[*at].tells() && !tokens[*at].denied || covered(*at),
                Kind::Happenings => covered(*at),
            };
            let Some(part) = of_clause().find(tells).map(|at| tokens[at].part) else { continue };
            let leading = || of_clause().filter(move |at| tokens[*at].part == part);
            let here = |found: &&Found<M>| leading().any(|at| found.words & bit(at) != 0);
            let last = leading().rfind(tells);
            // How a thing is held tells less than the thing: `corner blocks glued`.
            let held = last.filter(|last| self.is_held(*last, kept)).and_then(|last| {
                let before = leading().rfind(|at| *at < last && tells(at))?;
                kept.iter().any(|found| found.last == before).then_some(before)
            });
            let head = held.or(last);
            let claim = |found: &&Found<M>| match self.kind() {
                Kind::Things | Kind::Coats => {
                    let done = tokens[found.last].is_participle() && tokens[found.last].clause == clause;
                    head.is_some_and(|head| found.words & bit(head) != 0) || done && held.is_none()
                }
                Kind::Happenings => true,
            };
            claims.extend(kept.iter().filter(here).filter(claim));
        }
        claims
    }

    /// Whether a word says how a thing is held, and no form says more with it.
    fn is_held(&self, at: usize, kept: &[Found<M>]) -> bool {
        let alone = |found: &Found<M>| found.words & bit(at) == 0 || found.words == bit(at);
        self.kind() == Kind::Things && self.tokens()[at].is_participle() && kept.iter().all(alone)
    }

    /// What follows from the forms that say what the phrase is about.
    fn judged(&self, claims: &[Found<M>], kept: &[Found<M>], found: &[Found<M>]) -> (Reading<M>, u32) {
        let tokens = self.tokens();
        let first = claims.iter().map(|claim| tokens[claim.last].clause).min();
        // `webbing, tacked` tells no more of the tack than how the webbing is held.
        let aside = |claim: &&Found<M>| {
            let of = tokens.iter().enumerate().filter(|(at, _)| claim.words & bit(*at) != 0);
            let [.., exact] = claim.fit.1;
            self.kind().is_things()
                && Some(tokens[claim.last].clause) != first
                && !exact
                && of.clone().all(|(_, token)| token.is_participle())
        };
        let claims: Vec<Found<M>> = claims.iter().filter(|claim| !aside(claim)).copied().collect();
        let claims = &claims[..];
        let words = claims.iter().fold(0, |words, claim| words | claim.words);
        let mut meanings: Vec<M> = Vec::new();
        for claim in claims {
            if !meanings.contains(&claim.meaning) {
                meanings.push(claim.meaning);
            }
        }
        let all = meanings.clone();
        meanings.retain(|general| !all.iter().any(|other| self.reader.meanings.includes(*general, *other)));
        let [meaning] = meanings[..] else { return (Reading::Asks(meanings), words) };
        if self.kind().is_things() && self.bears(Bearing::Alters, words, claims) {
            return (Reading::Nothing, 0);
        }
        if self.phrase.doubted
            || self.bears(Bearing::Doubts, words, claims)
            || self.bears(Bearing::Turns, words, claims)
        {
            return (Reading::Asks(meanings), words);
        }
        if self.is_order(words) || self.is_beside_strange(meaning, words, claims) {
            return (Reading::Asks(meanings), words);
        }
        let others = match self.reader.meanings.breadth(meaning) {
            Breadth::Precise => self.others(meaning, words, claims, kept),
            Breadth::General | Breadth::Elsewhere => Vec::new(),
        };
        if others.is_empty() {
            return (Reading::Takes(meaning), words);
        }
        if others.iter().any(|token| token.known()) {
            return (Reading::Asks(meanings), words);
        }
        // Nothing precise is taken beside a word that may change it; what stands for all sorts may be.
        let heads = claims.iter().fold(0, |words, claim| words | bit(claim.last));
        let general = found
            .iter()
            .find(|found| found.words & heads != 0 && self.reader.meanings.includes(found.meaning, meaning));
        match general {
            Some(general) => (Reading::Takes(general.meaning), general.words),
            None => (Reading::Asks(meanings), words),
        }
    }

    /// Whether it may be what somebody is to do, and none of what the table holds: `check the size`.
    fn is_order(&self, words: u32) -> bool {
        let [first, second, ..] = self.tokens() else { return false };
        let bare = ending(&first.form).is_none() && !is_same_when_done(&first.form);
        words == bit(0) && bare && ARTICLES.contains(&second.form.as_str())
    }

    /// Whether other words make it doubtful that the phrase is about what the table holds at all.
    fn is_beside_strange(&self, meaning: M, words: u32, claims: &[Found<M>]) -> bool {
        let tokens = self.tokens();
        let others = tokens.iter().enumerate().filter(|(at, token)| words & bit(*at) == 0 && !token.denied);
        let mut others = others.map(|(_, token)| token).filter(|token| token.tells());
        match self.kind() {
            // One word is too little to go by beside another that nobody knows: `dent in the budget`.
            Kind::Happenings => {
                words.count_ones() == 1
                    && others.any(|token| !token.known() && self.is_claimed(token.clause, claims))
            }
            Kind::Things | Kind::Coats => others
                .any(|token| self.is_of_strange(token, meaning, claims) || self.is_other_half(token, claims)),
        }
    }

    /// Whether the forms that say what the phrase is about are in this clause.
    fn is_claimed(&self, clause: usize, claims: &[Found<M>]) -> bool {
        claims.iter().any(|claim| self.tokens()[claim.last].clause == clause)
    }

    /// Whether a word says of what a thing is, and goes with no form of it: `knob of butter`.
    fn is_of_strange(&self, token: &Token, meaning: M, claims: &[Found<M>]) -> bool {
        let tokens = self.tokens();
        let begins = tokens.iter().find(|other| other.spot() == token.spot()).and_then(|first| first.bearing);
        let own = claims.iter().any(|claim| tokens[claim.last].spot() == token.spot());
        let of_claim = begins == Some(Bearing::Of) && self.is_claimed(token.clause, claims) && !own;
        of_claim && !self.goes_with(token, meaning)
    }

    /// Whether a word that nobody knows may be the other half of a mixture: `rottenstone and oil`.
    fn is_other_half(&self, token: &Token, claims: &[Found<M>]) -> bool {
        let tokens = self.tokens();
        let mut clause = tokens.iter().filter(|other| other.clause == token.clause);
        let says_no_more = clause.all(|other| !other.tells() || !other.known());
        let mut things = claims.iter().map(|claim| &tokens[claim.last]).filter(|last| !last.is_participle());
        let beside = things.any(|thing| self.phrase.joined(thing.clause, token.clause));
        says_no_more && beside && !token.is_participle()
    }

    /// Whether a word stands in a form of this meaning, of one that it includes or of one that includes it.
    fn goes_with(&self, token: &Token, meaning: M) -> bool {
        let meanings = self.reader.meanings;
        self.supports(token, meaning) || self.forms_with(token).any(|(of, _)| meanings.includes(meaning, of))
    }

    /// Whether a word bears so on what the phrase is about: it stands in a clause of that, or in one that says no more.
    fn bears(&self, bearing: Bearing, words: u32, claims: &[Found<M>]) -> bool {
        let tokens = self.tokens();
        // A word that no form has says nothing else either: `shellac, later removed`.
        let telling = |clause: usize| {
            tokens.iter().any(|token| token.clause == clause && token.tells() && token.known())
        };
        // What it was laid on with does not turn it: `waxed with a brush`.
        let lesser = |token: &Token| {
            let part = |other: &&Token| other.spot() == token.spot();
            let begins = tokens.iter().find(part).and_then(|first| first.bearing);
            let claimed = claims.iter().any(|claim| part(&&tokens[claim.last]));
            matches!(begins, Some(Bearing::Parts | Bearing::Lies)) && !claimed
        };
        tokens.iter().enumerate().any(|(at, token)| {
            token.bearing == Some(bearing)
                && (bearing == Bearing::Doubts || !lesser(token))
                && words & bit(at) == 0
                && !token.denied
                && (bearing == Bearing::Doubts
                    || self.is_claimed(token.clause, claims)
                    || !telling(token.clause))
        })
    }

    /// The other words of the phrase that may make another row of this one.
    fn others(&self, meaning: M, words: u32, claims: &[Found<M>], kept: &[Found<M>]) -> Vec<&Token> {
        let same = kept.iter().filter(|found| found.meaning == meaning);
        let words = same.fold(words, |words, found| words | found.words);
        let telling = self.tokens().iter().enumerate().filter(|(at, token)| {
            words & bit(*at) == 0 && token.tells() && !token.denied && !self.supports(token, meaning)
        });
        let other = |(at, token): (usize, &'_ Token)| {
            let beside = |claim: &&Found<M>| self.tokens()[claim.last].spot() == token.spot();
            // What something was done to does not matter: `japanned tin tray`.
            let done = |before: usize, claim: &Found<M>| {
                claim.words & bit(before) != 0 && self.tokens()[before].is_participle()
            };
            let thing = |claim: &Found<M>| (0..at).any(|before| done(before, claim));
            let held = |claim: &Found<M>| at > claim.last && self.is_held(at, kept);
            match claims.iter().find(beside) {
                Some(claim) if !thing(claim) && !held(claim) => true,
                _ => token.known() && !token.is_participle() && self.would_be_another(token, meaning, words),
            }
        };
        telling.filter(|(at, token)| other((*at, token))).map(|(_, token)| token).collect()
    }

    /// Whether a word stands in a form of this meaning too, or in one of a general meaning that includes it.
    fn supports(&self, token: &Token, meaning: M) -> bool {
        self.forms_with(token).any(|(of, _)| of == meaning || self.reader.meanings.includes(of, meaning))
    }

    /// Whether a word, together with one of those found, stands in a form of another meaning.
    fn would_be_another(&self, token: &Token, meaning: M, words: u32) -> bool {
        let found = |stem: &String| {
            self.tokens().iter().enumerate().any(|(at, token)| words & bit(at) != 0 && token.stem == *stem)
        };
        self.forms_with(token).any(|(of, pattern)| {
            let precise = self.reader.meanings.breadth(of) == Breadth::Precise;
            precise && of != meaning && pattern.stems.iter().any(found)
        })
    }

    fn forms_with(&self, token: &Token) -> impl Iterator<Item = (M, &Pattern)> {
        let meaning = |form: usize| self.reader.forms.all()[form].meaning;
        token.forms.iter().filter_map(move |form| Some((meaning(*form), self.reader.pattern(*form)?)))
    }
}
