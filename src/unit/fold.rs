//! The one form of words in which case, accents, hyphens, spaces, plural endings and British or American spelling make
//! no difference.

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

/// The form in which words are compared; empty for what holds no letter or digit, or is too long for a name.
///
/// A plural and its singular have one form, which need not be a word: `boxes` and `box`, `axes` and `axe`.
pub fn folded(words: &str) -> String {
    folded_words(words).concat()
}

/// The same, word by word.
pub fn folded_words(words: &str) -> Vec<String> {
    if words.len() > LONGEST_NAME {
        return Vec::new();
    }
    let plain = if words.is_ascii() { words.to_ascii_lowercase() } else { without_accents(words) };
    let plain = plain.replace('\'', "").replace('&', " and ");
    let words = plain.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    words.map(folded_word).collect()
}

/// A text in small letters without accents, and with plain apostrophes.
fn without_accents(words: &str) -> String {
    let plain = words.nfkd().filter(|c| !unicode_normalization::char::is_combining_mark(*c));
    plain.map(|c| if c == '’' { '\'' } else { c }).flat_map(char::to_lowercase).collect()
}

/// A word in its American spelling.
fn respelt(word: &str) -> String {
    let mut respelt = String::with_capacity(word.len());
    let mut rest = word;
    while let Some(letter) = rest.chars().next() {
        let from = SPELLINGS.partition_point(|(british, _)| !british.starts_with(letter) && *british < rest);
        let mut alike = SPELLINGS[from..].iter().take_while(|(british, _)| british.starts_with(letter));
        let (british, american) = match alike.find(|(british, _)| rest.starts_with(british)) {
            Some((british, american)) => (british.len(), *american),
            None => (letter.len_utf8(), &rest[..letter.len_utf8()]),
        };
        respelt.push_str(american);
        rest = &rest[british..];
    }
    respelt
}

fn folded_word(word: &str) -> String {
    let mut word = respelt(word);
    let plural = word.chars().count() > 3
        && word.ends_with('s')
        && !["ss", "us", "is"].iter().any(|end| word.ends_with(end));
    if plural {
        word.pop();
    }
    if word.ends_with("ie") {
        word.truncate(word.len() - 2);
        word.push('y');
    } else if ["che", "she", "sse", "xe", "ze"].iter().any(|end| word.ends_with(end)) {
        word.pop();
    }
    word
}

#[cfg(test)]
mod tests {
    use super::*;

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
        }
    }

    #[test]
    fn spellings_are_sorted() {
        assert!(SPELLINGS.is_sorted());
        for (british, american) in SPELLINGS {
            assert_eq!(respelt(&format!("un{british}s")), format!("un{american}s"));
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
