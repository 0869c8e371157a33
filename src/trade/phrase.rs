//! How a phrase is understood: by the words of it that tell something.
//!
//! A maker writes "nasty black water ring on the top" where the table has "black water ring". A phrase is cut into
//! clauses (at commas, `and`) and each clause into its leading and its lesser parts (`on the top`). Then every spoken
//! form of the table is looked for whose words all stand in it, whatever their endings; the longest win. What the
//! leading part turns on must be among the words found: the last one where the table holds things (an oak veneer is
//! a veneer), any one where it holds what happened. Words that tell nothing are passed over. A word that nobody knows may change
//! the meaning, so that no precise row is taken then; and what is denied, doubted or only likened is never taken.

use std::borrow::Cow;
use std::collections::{BTreeSet, HashMap};

use super::bearing::{Bearing, SmallWords};
use super::slip::slips_of_word;
use super::stem::{Ending, ending, stem};
use crate::unit::fold::{folded_word, folded_words, plain};

/// No phrase is longer, in bytes; what is longer are sentences.
const LONGEST_PHRASE: usize = 200;

/// No phrase has more words, so that a set of them is the bits of a number.
const MOST_WORDS: usize = 32;

/// No spoken form has more words.
const LONGEST_FORM: usize = 8;

/// Shorter words are not taken for others that were meant.
const SHORTEST_SLIP: usize = 5;

/// Nobody is asked between more rows that a phrase may not even mean.
const MOST_ASKED: usize = 3;

/// Shorter words are no halves of a word that is written as one.
const SHORTEST_OF_PAIR: usize = 3;

/// What rows a table holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Things, which a phrase names last: an oak veneer is a veneer.
    Things,
    /// What is seen or was done, which a phrase says anywhere.
    Happenings,
}

/// How far a form may be trusted with words around it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Breadth {
    /// One sort, which another word may make another sort.
    Precise,
    /// All sorts of a kind, or what is asked about anyway.
    General,
    /// Something of another table.
    Elsewhere,
}

/// What the forms of a table stand for.
pub(super) trait Meanings<M> {
    /// How wide a meaning is.
    fn breadth(&self, meaning: M) -> Breadth;
    /// Whether a general meaning stands for this one too.
    fn includes(&self, general: M, meaning: M) -> bool;
    /// What stands for a form as a whole.
    fn meaning(&self, form: &str) -> Option<M>;
}

/// What a phrase is taken for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Reading<M> {
    /// One meaning.
    Takes(M),
    /// One of these, as far as the phrase tells.
    Asks(Vec<M>),
    /// Nothing.
    Nothing,
}

/// The spoken forms of a table by the stems of their words.
#[derive(Debug)]
pub(super) struct Phrases<M> {
    kind: Kind,
    small: SmallWords,
    forms: Vec<Form<M>>,
    /// The forms that a stem stands in.
    standing: HashMap<String, Vec<usize>>,
    /// Every word of the forms, for slips of the finger.
    words: BTreeSet<String>,
    /// Two words of a form written as one, and where the second begins.
    pairs: HashMap<String, usize>,
}

#[derive(Debug)]
struct Form<M> {
    stems: Vec<String>,
    meaning: M,
    /// Whether the order of its words matters: it says what lies over what.
    ordered: bool,
    /// Whether it joins two things.
    joined: bool,
    /// The ending, where it is one word that has one: `yellowing` is not `yellow`.
    ending: Option<Ending>,
}

/// A word of a phrase.
#[derive(Debug)]
struct Token {
    form: String,
    stem: String,
    bearing: Option<Bearing>,
    /// Where the word stands in the phrase, in bytes of its plain text.
    place: (usize, usize),
    /// Which clause it stands in, and which part of that.
    clause: usize,
    part: usize,
    denied: bool,
    known: bool,
}

impl Token {
    fn new(form: &str, place: (usize, usize)) -> Token {
        let form = form.to_owned();
        Token {
            stem: form.clone(),
            form,
            bearing: None,
            place,
            clause: 0,
            part: 0,
            denied: false,
            known: false,
        }
    }

    fn tells(&self) -> bool {
        self.bearing.is_none()
    }

    /// Whether it tells something within a spoken form: `no` does in `no key`.
    fn tells_within(&self) -> bool {
        !matches!(
            self.bearing,
            Some(Bearing::Silent | Bearing::Of | Bearing::Parts | Bearing::Joins | Bearing::Passes)
        )
    }

    /// Whether it says what was done to a thing, so that the thing may follow.
    fn is_participle(&self) -> bool {
        let is_noun = ["eed", "based", "headed"].iter().any(|end| self.form.ends_with(end));
        self.form.len() > 3 && !is_noun && ending(&self.form) == Some(Ending::Done)
    }
}

/// How a clause is set off from the one before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Break {
    Comma,
    Join,
}

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

impl<M: Copy + PartialEq> Phrases<M> {
    /// The forms of a table with what each stands for.
    pub(super) fn of<'a>(
        forms: impl Iterator<Item = (Cow<'a, str>, M)>,
        small: SmallWords,
        kind: Kind,
    ) -> Phrases<M> {
        let forms: Vec<(Cow<'_, str>, M)> = forms.collect();
        let mut words = BTreeSet::new();
        let mut pairs = HashMap::new();
        for (form, _) in &forms {
            let form = folded_words(form);
            for pair in form.windows(2).filter(|pair| pair.iter().all(|word| word.len() >= SHORTEST_OF_PAIR))
            {
                pairs.insert(pair.concat(), pair[0].len());
            }
            words.extend(form);
        }
        let mut phrases = Phrases { kind, small, forms: Vec::new(), standing: HashMap::new(), words, pairs };
        for (words, meaning) in forms {
            let tokens = phrases.cut(&words);
            let tokens = tokens.map(|phrase| phrase.tokens).unwrap_or_default();
            let needed = tokens.iter().filter(|token| {
                !matches!(
                    token.bearing,
                    Some(Bearing::Silent | Bearing::Of | Bearing::Parts | Bearing::Joins)
                )
            });
            let joined = tokens.iter().any(|token| token.bearing == Some(Bearing::Joins));
            let ending = if let [one] = &tokens[..] { ending(&one.form) } else { None };
            let mut form = Form { stems: Vec::new(), meaning, ordered: false, joined, ending };
            for token in needed {
                form.ordered |= token.bearing == Some(Bearing::Lies);
                if !form.stems.contains(&token.stem) {
                    form.stems.push(token.stem.clone());
                }
            }
            // What is left of `in the drawer with it` or `our oil` tells too little: they count as they stand.
            let telling =
                tokens.iter().any(Token::tells_within) && (tokens.len() == 1 || form.stems.len() > 1);
            if !telling || form.stems.len() > LONGEST_FORM {
                continue;
            }
            for stem in &form.stems {
                phrases.standing.entry(stem.clone()).or_default().push(phrases.forms.len());
            }
            phrases.forms.push(form);
        }
        phrases
    }

    /// What a phrase is taken for, and the words by which it is.
    pub(super) fn read(&self, phrase: &str, meanings: &impl Meanings<M>) -> (Reading<M>, Vec<String>) {
        let Some(mut phrase) = self.cut(phrase) else { return (Reading::Nothing, Vec::new()) };
        for token in &mut phrase.tokens {
            // How badly or slightly tells nothing.
            if token.tells() && !token.known && token.form.ends_with("ly") {
                token.bearing = Some(Bearing::Passes);
            }
        }
        let slipped = self.put_right(&mut phrase);
        let asking = Asking { phrases: self, phrase: &phrase, meanings };
        let (reading, words) = asking.answer();
        let reading = match reading {
            Reading::Takes(meaning) if slipped => Reading::Asks(vec![meaning]),
            reading => reading,
        };
        (reading, phrase.typed(words))
    }

    /// Cuts a phrase into words, clauses and parts; `None` where it is too long for one.
    fn cut(&self, phrase: &str) -> Option<Phrase> {
        if phrase.len() > LONGEST_PHRASE {
            return None;
        }
        let text = plain(phrase).into_owned();
        let mut doubted = false;
        let mut tokens: Vec<Token> = Vec::new();
        // Which words a comma or its like stands before.
        let mut commas: Vec<usize> = Vec::new();
        let mut rest = 0;
        while rest < text.len() {
            let start = text[rest..].find(char::is_alphanumeric).map_or(text.len(), |at| rest + at);
            let length = text[start..].find(|c: char| !c.is_alphanumeric());
            let end = length.map_or(text.len(), |length| start + length);
            let gap = &text[rest..start];
            doubted |= gap.contains('?');
            if sets_off(gap, &text[..rest], &text[start..]) {
                commas.push(tokens.len());
            }
            self.add(&mut tokens, folded_word(&text[start..end]), (start, end), &commas);
            if tokens.len() > MOST_WORDS {
                return None;
            }
            rest = end;
        }
        bear(&mut tokens, &commas, &self.small);
        for token in &mut tokens {
            // A word that is passed over is itself: a moulding is no mould.
            if token.bearing != Some(Bearing::Passes) {
                token.stem = stem(&token.form);
            }
            token.known = self.standing.contains_key(&token.stem);
        }
        let breaks = cut(&mut tokens, &commas, self.kind);
        deny(&mut tokens);
        Some(Phrase { text, tokens, breaks, doubted })
    }

    /// Adds a word as the table writes it: two words may stand as one, as `waterbased`, and one as two, as `chip board`.
    fn add(&self, tokens: &mut Vec<Token>, form: String, place: (usize, usize), commas: &[usize]) {
        if form.is_empty() {
            return;
        }
        let apart = commas.contains(&tokens.len());
        if let Some(before) = tokens.last_mut().filter(|_| !apart) {
            let both = format!("{}{form}", before.form);
            let short = before.form.len().min(form.len()) < SHORTEST_OF_PAIR;
            if !short && self.words.contains(&both) && !self.pairs.contains_key(&both) {
                *before = Token::new(&both, (before.place.0, place.1));
                return;
            }
        }
        let (first, second) = self.pairs.get(&form).map_or((&*form, ""), |at| form.split_at(*at));
        for form in [first, second].into_iter().filter(|form| !form.is_empty()) {
            tokens.push(Token::new(form, place));
        }
    }

    /// Takes each unknown word for the one known word that a slip of the finger makes it of; whether there was one.
    fn put_right(&self, phrase: &mut Phrase) -> bool {
        let mut slipped = false;
        if phrase.tokens.len() < 2 {
            return false;
        }
        for token in phrase.tokens.iter_mut().filter(|token| token.tells() && !token.known) {
            if token.form.chars().count() < SHORTEST_SLIP {
                continue;
            }
            let words = self.words.iter();
            // Another ending makes another word, not a wrong one.
            let ending = |word: &str| {
                word.len() == token.form.len() && word[..word.len() - 1] == token.form[..word.len() - 1]
            };
            let words = words.filter(|word| !word.is_ascii() || !token.form.is_ascii() || !ending(word));
            let near: Vec<(usize, &String)> =
                words.filter_map(|word| Some((slips_of_word(&token.form, word)?, word))).collect();
            let least = near.iter().map(|(slips, _)| *slips).min();
            let mut meant = near.iter().filter(|(slips, _)| Some(*slips) == least);
            if let (Some((_, word)), None) = (meant.next(), meant.next()) {
                token.stem = stem(word);
                token.form = (*word).clone();
                token.known = self.standing.contains_key(&token.stem);
                slipped = true;
            }
        }
        slipped
    }
}

/// A phrase in its words.
#[derive(Debug)]
struct Phrase {
    text: String,
    tokens: Vec<Token>,
    breaks: Vec<Break>,
    doubted: bool,
}

impl Phrase {
    /// The words of these bits as they were typed.
    fn typed(&self, words: u32) -> Vec<String> {
        let told = self.tokens.iter().enumerate().filter(|(at, _)| words & bit(*at) != 0);
        let mut places: Vec<(usize, usize)> = told.map(|(_, token)| token.place).collect();
        places.dedup();
        places.into_iter().map(|(start, end)| self.text[start..end].to_owned()).collect()
    }

    /// Whether only commas lie between two clauses.
    fn only_commas(&self, first: usize, last: usize) -> bool {
        self.breaks[first..last].iter().all(|between| *between == Break::Comma)
    }
}

/// Whether what stands between two words sets a clause off.
fn sets_off(gap: &str, before: &str, after: &str) -> bool {
    let digits = |text: Option<char>| text.is_some_and(|c| c.is_ascii_digit());
    let between_digits = digits(before.chars().next_back()) && digits(after.chars().next());
    let dashed = gap.trim() != gap && ["-", "–", "—"].contains(&gap.trim());
    // A number is often written `no. 6`.
    let numbered = gap.trim() == "." && digits(after.chars().next());
    !between_digits
        && !numbered
        && (dashed || gap.contains([',', ';', ':', '(', ')', '.', '/', '?', '!', '[', '+']))
}

/// Finds how each word bears on the phrase: the longest entry of the table that begins with it says.
fn bear(tokens: &mut [Token], commas: &[usize], small: &SmallWords) {
    let is_number = |token: &Token| token.form.starts_with(|c: char| c.is_ascii_digit());
    let mut at = 0;
    while at < tokens.len() {
        let longest = (tokens.len() - at).min(small.longest());
        let found = (1..=longest).rev().find_map(|many| {
            let one_clause = !commas.iter().any(|comma| (at + 1..at + many).contains(comma));
            let key: String = tokens[at..at + many].iter().map(|token| token.form.as_str()).collect();
            small.bearing(&key).filter(|_| one_clause).map(|bearing| (many, bearing))
        });
        let (many, mut bearing) = found.map_or((1, None), |(many, bearing)| (many, Some(bearing)));
        let counted = || at > 0 && is_number(&tokens[at - 1]) || tokens.get(at + 1).is_some_and(is_number);
        if is_number(&tokens[at]) || ["no", "nos"].contains(&tokens[at].form.as_str()) && counted() {
            bearing = Some(Bearing::Passes);
        }
        // An hour is a measure after a number, and else it may be a rush hour.
        let measured = || tokens[..at].last().is_some_and(|token| token.bearing == Some(Bearing::Passes));
        if bearing == Some(Bearing::Measures) {
            bearing = measured().then_some(Bearing::Passes);
        }
        tokens[at..at + many].iter_mut().for_each(|token| token.bearing = bearing);
        at += many;
    }
}

/// Numbers the clauses of a phrase and the parts of each; how each clause but the first is set off.
fn cut(tokens: &mut [Token], commas: &[usize], kind: Kind) -> Vec<Break> {
    let mut breaks = Vec::new();
    let (mut clause, mut part, mut told) = (0, 0, false);
    for (at, token) in tokens.iter_mut().enumerate() {
        let joins = matches!(token.bearing, Some(Bearing::Joins | Bearing::Doubts));
        let new = match (commas.contains(&at), joins) {
            (true, _) => Some(Break::Comma),
            (false, true) => Some(Break::Join),
            (false, false) => None,
        };
        if let Some(new) = new.filter(|_| at > 0) {
            breaks.push(new);
            (clause, part, told) = (clause + 1, 0, false);
        }
        let of_another = match token.bearing {
            Some(Bearing::Parts | Bearing::Lies) => true,
            Some(Bearing::Of) => kind == Kind::Things,
            // What was done to a thing that was named: `softwood painted black`.
            bearing @ (None | Some(Bearing::Passes | Bearing::Turns)) => {
                let described = bearing.is_some() || !token.known;
                kind == Kind::Things && told && described && token.is_participle()
            }
            _ => false,
        };
        part += usize::from(of_another);
        told |= token.tells();
        (token.clause, token.part) = (clause, part);
    }
    breaks
}

/// Marks what is denied: what follows in the clause and in what `or` adds to it; where nothing follows, the clause, and
/// where nothing else is in it either, the one before: `cracks: none`.
fn deny(tokens: &mut [Token]) {
    for at in 0..tokens.len() {
        if tokens[at].bearing != Some(Bearing::Denies) {
            continue;
        }
        let clause = tokens[at].clause;
        let tells = |token: &&Token| token.clause == clause && token.tells();
        let (from, first) = match (
            tokens[at + 1..].iter().any(|token| tells(&token)),
            tokens.iter().any(|token| tells(&token)),
        ) {
            (true, _) => (at + 1, clause),
            (false, true) => (0, clause),
            (false, false) => (0, clause.saturating_sub(1)),
        };
        let mut last = clause;
        for token in tokens.iter_mut().skip(from) {
            if token.clause == last + 1 && token.form == "or" {
                last = token.clause;
            }
            token.denied |= (first..=last).contains(&token.clause);
        }
    }
}

fn bit(at: usize) -> u32 {
    1 << at
}

/// A phrase that is held against the forms of a table.
struct Asking<'a, M, S> {
    phrases: &'a Phrases<M>,
    phrase: &'a Phrase,
    meanings: &'a S,
}

impl<M: Copy + PartialEq, S: Meanings<M>> Asking<'_, M, S> {
    fn tokens(&self) -> &[Token] {
        &self.phrase.tokens
    }

    /// What the phrase is taken for, with the words by which it is.
    fn answer(&self) -> (Reading<M>, u32) {
        let found = self.found();
        let elsewhere = |found: &&Found<M>| self.meanings.breadth(found.meaning) == Breadth::Elsewhere;
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
        match self.phrases.kind == Kind::Things && few && !alters {
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
                if let Some(meaning) = self.meanings.meaning(&form) {
                    let words: u32 = (start..=at).map(bit).sum();
                    // A word that tells nothing by itself says it only alone.
                    if at > start || token.tells_within() {
                        found.push(self.fitting(words, at, meaning, true));
                    }
                }
            }
        }
        // By their stems, wherever they stand.
        let mut hits: HashMap<usize, usize> = HashMap::new();
        for (at, token) in tokens.iter().enumerate() {
            if tokens[..at].iter().any(|other| other.stem == token.stem) {
                continue;
            }
            for form in self.phrases.standing.get(&token.stem).into_iter().flatten() {
                *hits.entry(*form).or_default() += 1;
            }
        }
        let mut whole: Vec<usize> = hits
            .into_iter()
            .filter(|(form, hits)| self.phrases.forms[*form].stems.len() == *hits)
            .map(|(form, _)| form)
            .collect();
        whole.sort_unstable();
        for form in whole.into_iter().map(|form| &self.phrases.forms[form]) {
            found.extend(self.standing(form));
        }
        found.retain(|found| {
            let words = tokens.iter().enumerate().filter(|(at, _)| found.words & bit(*at) != 0);
            let denies = |(_, token): (usize, &Token)| token.bearing == Some(Bearing::Denies);
            words.clone().any(denies) || !words.clone().any(|(_, token)| token.denied)
        });
        found
    }

    /// A form as it stands in the phrase, where its words stand so that they may mean it.
    fn standing(&self, form: &Form<M>) -> Option<Found<M>> {
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
        let spot = |at: usize| (tokens[at].clause, tokens[at].part);
        let one_part = places.iter().all(|at| spot(*at) == spot(last));
        // `walnut, french` and `knob of brass` name the thing first.
        let thing_first = places.iter().all(|at| *at == last || spot(*at) > spot(last));
        let lies = |at: usize| tokens[at].bearing == Some(Bearing::Lies) && words & bit(at) == 0;
        let across = (*places.iter().min()?..last).chain(last..*places.iter().max()?).any(lies);
        // What dropped is no droppings, and a leading edge is not of lead.
        let (told, things) = (ending(&tokens[last].form), self.phrases.kind == Kind::Things);
        let as_written = match (form.ending, told) {
            (None, Some(Ending::GoesOn)) => !things || form.stems.len() > 1,
            (None, _) => true,
            (Some(_), None) => false,
            (Some(one), Some(other)) => one == other,
        };
        if !as_written {
            return None;
        }
        let fits = match (form.ordered, self.phrases.kind) {
            (true, _) => in_order && one_clause,
            (false, Kind::Things) => {
                let commas = self.phrase.only_commas(first_clause, last_clause);
                one_part || thing_first && !across && commas || form.joined && last_clause - first_clause < 2
            }
            (false, Kind::Happenings) => one_clause || last_clause - first_clause < 3,
        };
        fits.then(|| self.fitting(words, last, form.meaning, in_order && one_part))
    }

    fn fitting(&self, words: u32, last: usize, meaning: M, in_order: bool) -> Found<M> {
        let tokens = self.tokens();
        let of = |words: u32| tokens.iter().enumerate().filter(move |(at, _)| words & bit(*at) != 0);
        let heard = words.count_ones();
        let one_clause = of(words).all(|(_, token)| token.clause == tokens[last].clause);
        let form: String = of(words).map(|(_, token)| token.form.as_str()).collect();
        let exact = self.meanings.meaning(&form) == Some(meaning);
        let one_run = words.count_ones() + words.leading_zeros() + words.trailing_zeros() == u32::BITS;
        Found { words, meaning, fit: (heard, [one_clause, in_order, one_run, exact]), last }
    }

    /// The forms that hold against each other: of those that share a word the longest, or several that fit alike. A
    /// precise row says what a general one leaves open.
    fn kept(&self, mut found: Vec<Found<M>>) -> Vec<Found<M>> {
        found.sort_by_key(|found| std::cmp::Reverse(found.fit));
        let mut kept: Vec<Found<M>> = Vec::new();
        for one in found {
            let leaves_open = |general: &Found<M>, other: &Found<M>| {
                general.words & other.words != 0
                    && general.words != other.words
                    && self.meanings.includes(general.meaning, other.meaning)
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

    /// The forms that say what the phrase is about.
    fn claims(&self, kept: &[Found<M>]) -> Vec<Found<M>> {
        let tokens = self.tokens();
        let clauses = tokens.last().map_or(0, |last| last.clause + 1);
        let mut claims: Vec<Found<M>> = Vec::new();
        let covered = |at: usize| kept.iter().any(|found| found.words & bit(at) != 0);
        for clause in 0..clauses {
            let of_clause = || (0..tokens.len()).filter(move |at| tokens[*at].clause == clause);
            let tells = |at: &usize| match self.phrases.kind {
                Kind::Things => tokens[*at].tells() && !tokens[*at].denied || covered(*at),
                Kind::Happenings => covered(*at),
            };
            let Some(part) = of_clause().find(tells).map(|at| tokens[at].part) else { continue };
            let leading = || of_clause().filter(move |at| tokens[*at].part == part);
            let here = |found: &&Found<M>| leading().any(|at| found.words & bit(at) != 0);
            let head = leading().rfind(tells);
            let claim = |found: &&Found<M>| match self.phrases.kind {
                Kind::Things => {
                    head.is_some_and(|head| found.words & bit(head) != 0)
                        || tokens[found.last].is_participle() && tokens[found.last].clause == clause
                }
                Kind::Happenings => true,
            };
            claims.extend(kept.iter().filter(here).filter(claim));
        }
        claims
    }

    /// What follows from the forms that say what the phrase is about.
    fn judged(&self, claims: &[Found<M>], kept: &[Found<M>], found: &[Found<M>]) -> (Reading<M>, u32) {
        let tokens = self.tokens();
        let first = claims.iter().map(|claim| tokens[claim.last].clause).min();
        // `webbing, tacked` tells no more of the tack than how the webbing is held.
        let aside = |claim: &&Found<M>| {
            let of = tokens.iter().enumerate().filter(|(at, _)| claim.words & bit(*at) != 0);
            let [.., exact] = claim.fit.1;
            self.phrases.kind == Kind::Things
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
        meanings.retain(|general| !all.iter().any(|other| self.meanings.includes(*general, *other)));
        let [meaning] = meanings[..] else { return (Reading::Asks(meanings), words) };
        if self.bears(Bearing::Alters, words, claims) {
            return (Reading::Nothing, 0);
        }
        if self.phrase.doubted
            || self.bears(Bearing::Doubts, words, claims)
            || self.bears(Bearing::Turns, words, claims)
        {
            return (Reading::Asks(meanings), words);
        }
        let others = match self.meanings.breadth(meaning) {
            Breadth::Precise => self.others(meaning, words, claims, kept),
            Breadth::General | Breadth::Elsewhere => Vec::new(),
        };
        if others.is_empty() {
            return (Reading::Takes(meaning), words);
        }
        if others.iter().any(|token| token.known) {
            return (Reading::Asks(meanings), words);
        }
        // Nothing precise is taken beside a word that may change it; what stands for all sorts may be.
        let heads = claims.iter().fold(0, |words, claim| words | bit(claim.last));
        let general = found
            .iter()
            .find(|found| found.words & heads != 0 && self.meanings.includes(found.meaning, meaning));
        match general {
            Some(general) => (Reading::Takes(general.meaning), general.words),
            None => (Reading::Asks(meanings), words),
        }
    }

    /// Whether a word bears so on what the phrase is about: it stands in a clause of that, or in one that says no more.
    fn bears(&self, bearing: Bearing, words: u32, claims: &[Found<M>]) -> bool {
        let tokens = self.tokens();
        let claimed = |clause: usize| claims.iter().any(|claim| tokens[claim.last].clause == clause);
        // A word that no form has says nothing else either: `shellac, later removed`.
        let telling =
            |clause: usize| tokens.iter().any(|token| token.clause == clause && token.tells() && token.known);
        // What it was laid on with does not turn it: `waxed with a brush`.
        let lesser = |token: &Token| {
            let part = |other: &&Token| (other.clause, other.part) == (token.clause, token.part);
            let begins = tokens.iter().find(part).and_then(|first| first.bearing);
            let claimed = claims.iter().any(|claim| part(&&tokens[claim.last]));
            matches!(begins, Some(Bearing::Parts | Bearing::Lies)) && !claimed
        };
        tokens.iter().enumerate().any(|(at, token)| {
            token.bearing == Some(bearing)
                && (bearing == Bearing::Doubts || !lesser(token))
                && words & bit(at) == 0
                && !token.denied
                && (bearing == Bearing::Doubts || claimed(token.clause) || !telling(token.clause))
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
            let beside = |claim: &&Found<M>| {
                let last = &self.tokens()[claim.last];
                (last.clause, last.part) == (token.clause, token.part)
            };
            // What something was done to does not matter: `japanned tin tray`.
            let done = |before: usize, claim: &Found<M>| {
                claim.words & bit(before) != 0 && self.tokens()[before].is_participle()
            };
            let thing = |claim: &Found<M>| (0..at).any(|before| done(before, claim));
            match claims.iter().find(beside) {
                Some(claim) if !thing(claim) => true,
                _ => token.known && !token.is_participle() && self.would_be_another(token, meaning, words),
            }
        };
        telling.filter(|(at, token)| other((*at, token))).map(|(_, token)| token).collect()
    }

    /// Whether a word stands in a form of this meaning too, or in one of a general meaning that includes it.
    fn supports(&self, token: &Token, meaning: M) -> bool {
        self.forms_with(token)
            .any(|form| form.meaning == meaning || self.meanings.includes(form.meaning, meaning))
    }

    /// Whether a word, together with one of those found, stands in a form of another meaning.
    fn would_be_another(&self, token: &Token, meaning: M, words: u32) -> bool {
        let found = |stem: &String| {
            self.tokens().iter().enumerate().any(|(at, token)| words & bit(at) != 0 && token.stem == *stem)
        };
        self.forms_with(token).any(|form| {
            let precise = self.meanings.breadth(form.meaning) == Breadth::Precise;
            precise && form.meaning != meaning && form.stems.iter().any(found)
        })
    }

    fn forms_with(&self, token: &Token) -> impl Iterator<Item = &Form<M>> {
        self.phrases.standing.get(&token.stem).into_iter().flatten().map(|form| &self.phrases.forms[*form])
    }
}

#[cfg(test)]
mod tests {
    use super::super::Trade;
    use super::super::lookup::Taken;

    /// What a phrase is taken for in a table, `?` and the ids where it is asked about, and nothing where it is unknown.
    macro_rules! taken {
        ($words:ident, $phrase:expr) => {
            match Trade::built_in().$words().taken($phrase) {
                Taken::Row(row) => row.id.0.clone(),
                Taken::Asked(row) => format!("? {}", row.word.value.0),
                Taken::Between(rows) => {
                    format!("? {}", rows.iter().map(|row| row.id.0.as_str()).collect::<Vec<_>>().join(" "))
                }
                Taken::Elsewhere(_) => "elsewhere".to_owned(),
                Taken::Unknown => String::new(),
            }
        };
    }

    #[test]
    fn telling_words_endings_and_the_longest_form_decide() {
        assert_eq!(taken!(term_words, "nasty black water ring on the top"), "black-ring");
        assert_eq!(taken!(term_words, "veneer on the door split"), "veneer-crack");
        assert_eq!(taken!(term_words, "top splitting at one end"), "split");
        assert_eq!(taken!(finish_words, "three coats of thinned shellac"), "shellac");
        assert_eq!(taken!(finish_words, "rubbed in oil"), "oil-unknown");
        assert_eq!(taken!(fixing_words, "brass castors, one missing"), "castor");
        assert_eq!(taken!(timber_words, "walnut, french, figured"), "european-walnut");
    }

    #[test]
    fn a_thing_is_named_last_and_what_follows_a_small_word_is_the_lesser_part() {
        assert_eq!(taken!(timber_words, "oak with ebony stringing"), "oak");
        assert_eq!(taken!(timber_words, "painted pine"), "pine");
        assert_eq!(taken!(timber_words, "softwood painted black"), "softwood");
        assert_eq!(taken!(timber_words, "elm veneer"), "? elm");
        assert_eq!(taken!(timber_words, "oak barrel"), "? oak");
        assert_eq!(taken!(finish_words, "japanned tin box"), "japanning");
        assert_eq!(taken!(fixing_words, "screws in oak pegs"), "screw");
    }

    #[test]
    fn a_word_that_nobody_knows_makes_no_precise_row() {
        assert_eq!(taken!(finish_words, "quondam shellac"), "? shellac");
        assert_eq!(taken!(finish_words, "burr oxide oil"), "oil-unknown");
        assert_eq!(taken!(finish_words, "tung nut lacquer"), "lacquer-unknown");
        assert_eq!(taken!(timber_words, "quondam european oak"), "oak");
    }

    #[test]
    fn what_is_denied_doubted_or_likened_is_never_taken() {
        for phrase in ["no worm", "no sign of worm or rot", "cracks: none", "not warped"] {
            assert_eq!(taken!(term_words, phrase), "", "{phrase}");
        }
        assert_eq!(taken!(term_words, "no worm but rotten feet"), "rot");
        assert_eq!(taken!(timber_words, "deal, not oak"), "softwood");
        for phrase in
            ["maybe shellac", "shellac, I think", "shellac?", "like shellac", "shellac, later removed"]
        {
            assert_eq!(taken!(finish_words, phrase), "? shellac", "{phrase}");
        }
        assert_eq!(taken!(timber_words, "oak or chestnut"), "? oak chestnut");
        assert_eq!(taken!(finish_words, "varnish remover"), "");
    }

    #[test]
    fn words_written_apart_or_together_are_one() {
        assert_eq!(taken!(finish_words, "waterbased satin varnish"), "water-polyurethane");
        assert_eq!(taken!(term_words, "chip board back"), "");
        assert_eq!(taken!(board_words, "thick chip board shelf"), "chipboard");
        assert_eq!(taken!(fixing_words, "eight woodscrews"), "screw");
        assert_eq!(taken!(fixing_words, "screws, no. 8"), "screw");
    }

    #[test]
    fn what_lies_over_what_matters() {
        assert_eq!(taken!(finish_words, "wax over the old shellac"), "wax-over-film");
        assert_ne!(taken!(finish_words, "shellac over the old wax"), "wax-over-film");
    }
}
