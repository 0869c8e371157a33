//! The form in which words are compared.
//!
//! Case, accents, hyphens, spaces, plural endings and British or American spelling make no difference to it. It need
//! not be a word: `boxes` and `box` have one form, and so have `axes` and `axe`.

use std::borrow::Cow;

use unicode_normalization::UnicodeNormalization;

/// No name of the trade is longer, in bytes; what is longer are sentences.
const LONGEST_NAME: usize = 100;

/// British spellings and their American ones, wherever they stand in a word; sorted.
///
/// Both are written alike before they are compared, so that it does no harm where one stands in another word.
const SPELLINGS: [(&str, &str); 36] = [
    ("aluminium", "aluminum"),
    ("armour", "armor"),
    ("bevell", "bevel"),
    ("calibre", "caliber"),
    ("castor", "caster"),
    ("centre", "center"),
    ("channell", "channel"),
    ("chequer", "checker"),
    ("chisell", "chisel"),
    ("colour", "color"),
    ("cosy", "cozy"),
    ("dowell", "dowel"),
    ("draught", "draft"),
    ("enamell", "enamel"),
    ("fibre", "fiber"),
    ("gauge", "gage"),
    ("grey", "gray"),
    ("isation", "ization"),
    ("ised", "ized"),
    ("ising", "izing"),
    ("jewell", "jewel"),
    ("labell", "label"),
    ("levell", "level"),
    ("lustre", "luster"),
    ("metre", "meter"),
    ("mitre", "miter"),
    ("mould", "mold"),
    ("ochre", "ocher"),
    ("odour", "odor"),
    ("panell", "panel"),
    ("plough", "plow"),
    ("sulph", "sulf"),
    ("tunnell", "tunnel"),
    ("vapour", "vapor"),
    ("woollen", "woolen"),
    ("yse", "yze"),
];

/// Where the spellings of each letter lie in [`SPELLINGS`], so that most letters cost one look.
const BY_LETTER: [(usize, usize); 26] = {
    let mut ranges = [(0, 0); 26];
    let mut at = 0;
    while at < SPELLINGS.len() {
        let letter = (SPELLINGS[at].0.as_bytes()[0] - b'a') as usize;
        if ranges[letter].1 == 0 {
            ranges[letter].0 = at;
        }
        at += 1;
        ranges[letter].1 = at;
    }
    ranges
};

/// The form of a name; empty for what holds no letter or digit, or is too long for one.
pub fn folded(words: &str) -> String {
    let mut form = String::with_capacity(words.len());
    if words.len() <= LONGEST_NAME {
        each_word(words, |word| fold_onto(&mut form, word));
    }
    form
}

/// The same, word by word.
pub fn folded_words(words: &str) -> Vec<String> {
    let mut forms = Vec::new();
    if words.len() <= LONGEST_NAME {
        each_word(words, |word| forms.push(folded_word(word)));
    }
    forms
}

/// The form of one word in small letters.
pub fn folded_word(word: &str) -> String {
    let mut form = String::with_capacity(word.len());
    fold_onto(&mut form, word);
    form
}

/// A word in its other spellings, British or American, as far as one of them is known.
pub fn spellings(word: &str) -> Vec<String> {
    let (mut british, mut american) = (word.to_owned(), String::new());
    respell_onto(&mut american, word);
    for (one, other) in SPELLINGS.iter().filter(|(_, other)| word.contains(other)) {
        british = british.replace(other, one);
    }
    let mut spelt = vec![british, american];
    spelt.dedup();
    spelt.retain(|other| other != word);
    spelt
}

/// A text in small letters, without accents and apostrophes, and with `and` for its sign.
pub fn plain(words: &str) -> Cow<'_, str> {
    let is_plain = |byte: u8| byte.is_ascii() && !byte.is_ascii_uppercase() && byte != b'\'' && byte != b'&';
    if words.bytes().all(is_plain) {
        return Cow::Borrowed(words);
    }
    let letters: String = if words.is_ascii() {
        words.to_ascii_lowercase()
    } else {
        let bare = words.nfkd().filter(|c| !unicode_normalization::char::is_combining_mark(*c));
        bare.map(|c| if c == '’' { '\'' } else { c }).flat_map(char::to_lowercase).collect()
    };
    Cow::Owned(letters.replace('\'', "").replace('&', " and "))
}

/// Calls for each word of a text, in small letters.
fn each_word(words: &str, mut call: impl FnMut(&str)) {
    let plain = plain(words);
    plain.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).for_each(&mut call);
}

/// Writes the form of a word after what is there.
fn fold_onto(form: &mut String, word: &str) {
    let start = form.len();
    respell_onto(form, word);
    let plural = form.ends_with('s')
        && !["ss", "us", "is"].iter().any(|end| form.ends_with(end))
        && form[start..].chars().count() > 3;
    if plural {
        form.pop();
    }
    if form[start..].ends_with("ie") {
        form.truncate(form.len() - 2);
        form.push('y');
    } else if form.ends_with('e')
        && ["che", "she", "sse", "xe", "ze"].iter().any(|end| form[start..].ends_with(end))
    {
        form.pop();
    }
}

/// Writes a word in its American spelling after what is there.
fn respell_onto(form: &mut String, word: &str) {
    // What was looked through and is spelt alike is written at once.
    let (mut written, mut at) = (0, 0);
    let bytes = word.as_bytes();
    while at < bytes.len() {
        let (from, to) =
            if bytes[at].is_ascii_lowercase() { BY_LETTER[usize::from(bytes[at] - b'a')] } else { (0, 0) };
        let rest = &bytes[at..];
        match SPELLINGS[from..to].iter().find(|(british, _)| rest.starts_with(british.as_bytes())) {
            Some((british, american)) => {
                form.push_str(&word[written..at]);
                form.push_str(american);
                at += british.len();
                written = at;
            }
            None => at += 1,
        }
    }
    form.push_str(&word[written..]);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_has_other_spellings() {
        for (word, others) in
            [("colour", &["color"][..]), ("color", &["colour"]), ("grey", &["gray"]), ("oak", &[])]
        {
            assert_eq!(spellings(word), others, "{word}");
        }
    }

    #[test]
    fn one_word_has_one_form_however_it_is_written() {
        for (one, other) in [
            ("french polish", "French-polish"),
            ("FRENCH_POLISH", "frenchpolish"),
            ("brass castors", "Brass caster"),
            ("carpenter's glue", "carpenters’ glues"),
            ("boxes", "box"),
            ("axes", "axe"),
            ("putties", "putty"),
            ("ebonised", "ebonized"),
            ("grey moulding", "gray molding"),
            ("vernis à l'ancienne", "Vernis a lancienne"),
            ("ﬁsh glue", "fish glue"),
        ] {
            assert_eq!(folded(one), folded(other), "{one}, {other}");
            assert_eq!(folded_words(one).concat(), folded(other));
        }
    }

    #[test]
    fn spellings_are_sorted() {
        assert!(SPELLINGS.is_sorted());
        for (british, american) in SPELLINGS {
            assert_eq!(folded_word(&format!("un{british}ing")), format!("un{american}ing"));
        }
    }

    #[test]
    fn other_words_have_other_forms() {
        for (one, other) in [
            ("pin", "pine"),
            ("plan", "plane"),
            ("glass", "glas"),
            ("brass", "bras"),
            ("2k", "k"),
            ("gas", "ga"),
        ] {
            assert_ne!(folded(one), folded(other), "{one}, {other}");
        }
        for nothing in ["", " -- ", "…", &"oak ".repeat(1000)] {
            assert_eq!(folded(nothing), "");
        }
    }
}
