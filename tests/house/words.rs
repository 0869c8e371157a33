//! The catalogue of messages against the code: every message that is named is there and tells what it is given, and none
//! is there that nothing names.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use proc_macro2::{TokenStream, TokenTree};

/// The messages of a catalogue with the values that each tells.
type Messages = BTreeMap<String, BTreeSet<String>>;

fn catalogue() -> Messages {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/words/en-GB");
    let mut messages = Messages::new();
    for file in std::fs::read_dir(folder).unwrap() {
        let path = file.unwrap().path();
        let text = std::fs::read_to_string(&path).unwrap();
        let resource = fluent_syntax::parser::parse(text.as_str());
        let resource = resource.unwrap_or_else(|(_, faults)| panic!("{}: {faults:?}", path.display()));
        for entry in resource.body {
            let Entry::Message(message) = entry else { continue };
            let mut told = BTreeSet::new();
            message.value.iter().for_each(|value| pattern(value, &mut told));
            message.attributes.iter().for_each(|attribute| pattern(&attribute.value, &mut told));
            let before = messages.insert(message.id.name.to_owned(), told);
            assert_eq!(before, None, "{} stands twice", message.id.name);
        }
    }
    messages
}

fn pattern(of: &Pattern<&str>, told: &mut BTreeSet<String>) {
    for element in &of.elements {
        if let PatternElement::Placeable { expression } = element {
            expressed(expression, told);
        }
    }
}

fn expressed(expression: &Expression<&str>, told: &mut BTreeSet<String>) {
    match expression {
        Expression::Inline(expression) => inline(expression, told),
        Expression::Select { selector, variants } => {
            inline(selector, told);
            variants.iter().for_each(|variant| pattern(&variant.value, told));
        }
    }
}

fn inline(expression: &InlineExpression<&str>, told: &mut BTreeSet<String>) {
    match expression {
        InlineExpression::VariableReference { id } => {
            told.insert(id.name.to_owned());
        }
        InlineExpression::Placeable { expression } => expressed(expression, told),
        _ => {}
    }
}

/// What a template says: the name of each message with the values that it is given, or the start of a name to which the
/// template adds a word.
fn said_in(template: &str, named: &mut Named) {
    let mut rest = template;
    while let Some(at) = rest.find("say(") {
        let whole_word =
            !rest[..at].ends_with(|before: char| before.is_alphanumeric() || "-_`".contains(before));
        rest = &rest[at + 4..];
        if !whole_word {
            continue;
        }
        let arguments = arguments(rest);
        let first = arguments.first().map_or("", |first| first.trim_start_matches("name=").trim());
        let Some((name, more)) = first.strip_prefix('"').and_then(|first| first.split_once('"')) else {
            // A template that hands a name on says it where it is handed from.
            continue;
        };
        match more.trim() {
            "" => {
                let key = |argument: &String| {
                    let key = argument.split([':', '=']).next().unwrap_or_default();
                    key.trim().to_owned()
                };
                named.templates.push((name.to_owned(), arguments[1..].iter().map(key).collect()));
            }
            _ => drop(named.families.insert(name.trim_end_matches('-').to_owned())),
        }
    }
}

/// The arguments of a call, from behind its opening bracket.
fn arguments(call: &str) -> Vec<String> {
    let (mut found, mut open, mut quoted) = (vec![String::new()], 0, false);
    for letter in call.chars() {
        match letter {
            '"' => quoted = !quoted,
            '(' | '[' | '{' if !quoted => open += 1,
            ')' if !quoted && open == 0 => break,
            ')' | ']' | '}' if !quoted => open -= 1,
            ',' if !quoted && open == 0 => {
                found.push(String::new());
                continue;
            }
            _ => {}
        }
        found.last_mut().expect("there is always one").push(letter);
    }
    found.retain(|argument| !argument.trim().is_empty());
    found
}

/// What the code names: messages with their values, and families of which a word of the record chooses one.
#[derive(Default)]
struct Named {
    messages: Vec<(String, BTreeSet<String>)>,
    families: BTreeSet<String>,
    /// What the templates say; of a message's attribute, `name.attribute`.
    templates: Vec<(String, BTreeSet<String>)>,
}

impl Named {
    fn read(&mut self, stream: TokenStream) {
        let tokens: Vec<TokenTree> = stream.into_iter().collect();
        for (at, token) in tokens.iter().enumerate() {
            let TokenTree::Group(group) = token else { continue };
            let before = |back: usize| at.checked_sub(back).map(|at| tokens[at].to_string());
            let inside: Vec<TokenTree> = group.stream().into_iter().collect();
            let literal =
                inside.first().map(|first| first.to_string()).filter(|first| first.starts_with('"'));
            let literal = literal.map(|literal| literal.trim_matches('"').to_owned());
            if let Some(name) = &literal {
                if before(2).as_deref() == Some("says") && before(1).as_deref() == Some("!") {
                    let key = |at: usize| {
                        let is = |at: usize, sign: &str| {
                            inside.get(at).is_some_and(|token| token.to_string() == sign)
                        };
                        (is(at, ",") && is(at + 2, "=")).then(|| inside[at + 1].to_string())
                    };
                    self.messages.push((name.clone(), (0..inside.len()).filter_map(key).collect()));
                } else if before(1).as_deref() == Some("word") {
                    self.families.insert(name.clone());
                } else if before(1).as_deref() == Some("text") && is_a_name(name) {
                    self.messages.push((name.clone(), BTreeSet::new()));
                }
            }
            self.read(group.stream());
        }
    }
}

fn named() -> Named {
    let mut named = Named::default();
    let files = walkdir::WalkDir::new(Path::new(env!("CARGO_MANIFEST_DIR")).join("src"));
    for file in files.into_iter().map(Result::unwrap) {
        if file.path().extension().is_some_and(|ending| ending == "rs") {
            let text = std::fs::read_to_string(file.path()).unwrap();
            // What stands in tests tries the catalogue itself.
            let text = text.split("#[cfg(test)]\nmod tests").next().unwrap_or_default().to_owned();
            named.read(text.parse().unwrap());
        }
    }
    for file in walkdir::WalkDir::new(Path::new(env!("CARGO_MANIFEST_DIR")).join("themes")) {
        let file = file.unwrap();
        if file.path().extension().is_some_and(|ending| ending == "html" || ending == "typ") {
            said_in(&std::fs::read_to_string(file.path()).unwrap(), &mut named);
        }
    }
    named
}

#[test]
fn every_message_that_is_named_is_there_and_tells_what_it_is_given() {
    let catalogue = catalogue();
    let named = named();
    assert!(named.messages.len() > 50, "the code is read");
    for (name, values) in &named.messages {
        assert_eq!(catalogue.get(name), Some(values), "{name}");
    }
    assert!(!named.templates.is_empty(), "the templates are read");
    for (name, values) in &named.templates {
        let (message, attribute) = name.split_once('.').unwrap_or((name, ""));
        let tells = catalogue.get(message).unwrap_or_else(|| panic!("{name} is said and not there"));
        match attribute {
            "" => assert_eq!(values, tells, "{name}"),
            _ => assert!(values.is_subset(tells), "{name}"),
        }
    }
}

#[test]
fn no_message_is_there_that_nothing_names() {
    let named = named();
    let by_templates = named.templates.iter().map(|(name, _)| name.split('.').next().unwrap_or_default());
    let called: BTreeSet<&str> =
        named.messages.iter().map(|(name, _)| name.as_str()).chain(by_templates).collect();
    let of_family = |name: &str| named.families.iter().any(|family| name.starts_with(&format!("{family}-")));
    let catalogue = catalogue();
    // A language is found by what it is called.
    let of_languages = |name: &str| name.starts_with("language-");
    let is_idle = |name: &&String| !called.contains(name.as_str()) && !of_family(name) && !of_languages(name);
    let idle: Vec<&String> = catalogue.keys().filter(is_idle).collect();
    assert_eq!(idle, [""; 0]);
}

/// Whether a text is the name of a message: small words and numbers with hyphens.
fn is_a_name(text: &str) -> bool {
    text.contains('-') && text.chars().all(|letter| letter == '-' || letter.is_ascii_lowercase())
}

/// Text of a page's template that stands there itself: outside of braces, tags and remarks, and as what a picture or a
/// button is called.
fn literal(template: &str) -> Vec<String> {
    let mut text = template.to_owned();
    // Blocks that name what a page is for its style, and where its way past the head leads.
    let names = ["{% block kind %}", "{% block skip %}"].map(|block| (block, "{% endblock %}"));
    for (open, close) in names.into_iter().chain([("{#", "#}"), ("{%", "%}"), ("{{", "}}")]) {
        while let Some((before, rest)) = text.split_once(open) {
            let after = rest.split_once(close).map_or("", |(_, after)| after);
            text = format!("{before}\u{0}{after}");
        }
    }
    let mut found = Vec::new();
    let mut rest = text.as_str();
    while let Some((shown, tag)) = rest.split_once('<') {
        let (tag, after) = tag.split_once('>').unwrap_or((tag, ""));
        let called = [" alt=\"", " aria-label=\"", " title=\"", " placeholder=\""].into_iter();
        let called = called.filter_map(|name| tag.split_once(name)?.1.split('"').next());
        found.extend(called.chain([shown]).map(str::to_owned));
        rest = after;
    }
    found.push(rest.to_owned());
    let says = |text: &String| {
        text.split(|letter: char| !letter.is_alphabetic()).any(|word| word.chars().count() > 1)
    };
    found.retain(says);
    found.iter().map(|text| text.trim().to_owned()).collect()
}

#[test]
fn no_page_has_words_of_its_own() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("themes");
    let mut read = 0;
    for file in walkdir::WalkDir::new(folder).into_iter().map(Result::unwrap) {
        let path = file.path();
        // Widths of a picture, which stand within an attribute.
        let widths = path.ends_with("parts/showroom-cover-sizes.html");
        if path.extension().is_some_and(|ending| ending == "html") && !widths {
            let text = std::fs::read_to_string(path).unwrap();
            assert_eq!(literal(&text), [""; 0], "{}", path.display());
            read += 1;
        }
    }
    assert!(read > 10, "{read}");
    assert_eq!(
        literal("<p title=\"A way\">{{ x }} and <b>{% if y %}so{% endif %}</b> on</p>"),
        ["A way", "\u{0} and", "\u{0}so\u{0}", "on"]
    );
}

/// Floors of which everything that is shown is said by messages.
const WORDLESS: [&str; 4] = ["claim", "derive", "render", "view"];

/// Files of those floors that have words nevertheless, and whose words they are.
const WORDED: [(&str, &str); 14] = [
    ("derive/hazard/result.rs", "what people write as the result of a test, and is read"),
    ("derive/photograph/alignment.rs", "told to the maker as a diagnostic"),
    ("derive/photograph/marks.rs", "told to the maker as a diagnostic"),
    ("render/pack.rs", "commands as they are typed"),
    ("render/paper/fault.rs", "told to the maker as a diagnostic"),
    ("render/paper/fonts.rs", "told to the maker as a diagnostic"),
    ("render/paper/mod.rs", "told to the maker as a diagnostic"),
    ("render/paper/world.rs", "told to the maker as a diagnostic"),
    ("render/theme/choice.rs", "told to the maker as a diagnostic"),
    ("view/shared/swatch.rs", "sources by their titles"),
    ("view/sheet/mod.rs", "told to the maker as a diagnostic"),
    ("view/tree/archive/reckoning/movement.rs", "sources by their titles"),
    ("view/tree/archive/linked.rs", "the words of Linked Art and of the vocabularies that it names"),
    ("view/tree/showroom/linked.rs", "the words of schema.org"),
];

/// Texts of code, but for those of attributes, of tests, and of what ends a program that is at fault.
fn texts_of(stream: TokenStream, found: &mut Vec<String>, test_files: &mut Vec<String>) {
    let tokens: Vec<TokenTree> = stream.into_iter().collect();
    let said = |at: usize| tokens.get(at).map(ToString::to_string).unwrap_or_default();
    let mut at = 0;
    while at < tokens.len() {
        match &tokens[at] {
            TokenTree::Punct(sign) if sign.as_char() == '#' => {
                let inner = usize::from(said(at + 1) == "!");
                let of_tests = said(at + 1).replace(' ', "") == "[cfg(test)]";
                at += 1 + inner;
                if of_tests {
                    if said(at + 1) == "mod" && said(at + 3) == ";" {
                        test_files.push(said(at + 2));
                    }
                    let ends = |token: &TokenTree| match token {
                        TokenTree::Group(group) => group.delimiter() == proc_macro2::Delimiter::Brace,
                        token => token.to_string() == ";",
                    };
                    while at + 1 < tokens.len() && !ends(&tokens[at]) {
                        at += 1;
                    }
                }
            }
            TokenTree::Group(group) => {
                let before = |back: usize| at.checked_sub(back).map(said).unwrap_or_default();
                let ends = ["assert", "assert_eq", "debug_assert", "panic", "unreachable"];
                let is_end = before(1) == "expect" || before(1) == "!" && ends.contains(&before(2).as_str());
                if !is_end {
                    texts_of(group.stream(), found, test_files);
                }
            }
            TokenTree::Literal(literal) => {
                let text = literal.to_string();
                if let Some((_, text)) = text.split_once('"') {
                    found.push(text.trim_end_matches('#').trim_end_matches('"').to_owned());
                }
            }
            _ => {}
        }
        at += 1;
    }
}

/// Whether a text is said in words: two that follow each other, or one with a capital. What stands in braces is told by
/// something else, and what stands in a tag is no text.
fn is_said(text: &str) -> bool {
    let mut bare = String::new();
    let (mut depth, mut tag) = (0_usize, false);
    for letter in text.chars() {
        match letter {
            '{' => depth += 1,
            '}' => depth = depth.saturating_sub(1),
            '<' => tag = true,
            '>' => tag = false,
            letter if depth == 0 && !tag => bare.push(letter),
            _ => {}
        }
    }
    let is_word = |word: &str| word.chars().count() > 1 && word.chars().all(char::is_alphabetic);
    let words: Vec<&str> =
        bare.split(' ').map(|word| word.trim_matches([',', '.', ':', ';', '(', ')', '?', '!'])).collect();
    let capital =
        |word: &str| word.starts_with(char::is_uppercase) && word.chars().skip(1).all(char::is_lowercase);
    words.windows(2).any(|pair| pair.iter().all(|word| is_word(word)))
        || words.len() == 1 && is_word(words[0]) && words[0].len() > 2 && capital(words[0])
}

#[test]
fn no_view_has_words_of_its_own() {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut said: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut test_files = Vec::new();
    for floor in WORDLESS {
        for file in walkdir::WalkDir::new(source.join(floor)).into_iter().map(Result::unwrap) {
            if file.path().extension().is_some_and(|ending| ending == "rs") {
                let mut texts = Vec::new();
                let text = std::fs::read_to_string(file.path()).unwrap();
                texts_of(text.parse().unwrap(), &mut texts, &mut test_files);
                texts.retain(|text| is_said(text));
                let name = file.path().strip_prefix(&source).unwrap().to_str().unwrap().to_owned();
                said.insert(name, texts);
            }
        }
    }
    assert!(said.len() > 150, "{}", said.len());
    said.retain(|file, texts| {
        let of_tests = test_files.iter().any(|test| file.ends_with(&format!("/{test}.rs")));
        !of_tests && !texts.is_empty()
    });
    for (file, why) in WORDED {
        assert!(said.remove(file).is_some(), "{file} has no words any more: {why}");
    }
    assert_eq!(said, BTreeMap::new());
}

/// What a paper's template says itself: its texts, and what stands in its content beside calls.
fn texts_of_typst(template: &str) -> Vec<String> {
    let lines = template.lines().filter(|line| !line.trim_start().starts_with("//"));
    let letters: Vec<char> = lines.collect::<Vec<_>>().join("\n").chars().collect();
    let (mut found, mut open, mut at) = (Vec::new(), Vec::new(), 0);
    let mut said = String::new();
    while at < letters.len() {
        let in_content = open.last() == Some(&'[');
        match letters[at] {
            '\\' => at += 1,
            '"' if !in_content => {
                let mut text = String::new();
                at += 1;
                while at < letters.len() && letters[at] != '"' {
                    at += usize::from(letters[at] == '\\');
                    text.extend(letters.get(at));
                    at += 1;
                }
                found.push(text);
            }
            // A call runs over its name and its arguments, a condition to the content that it chooses.
            '#' if in_content => {
                found.push(std::mem::take(&mut said));
                let word: String =
                    letters[at + 1..].iter().take_while(|letter| letter.is_alphabetic()).collect();
                let end = |letter: &char| match word.as_str() {
                    "if" | "for" => "[{".contains(*letter),
                    _ => !(letter.is_alphanumeric() || "-_.".contains(*letter)),
                };
                at += letters[at + 1..].iter().take_while(|letter| !end(letter)).count();
            }
            sign @ ('[' | '(' | '{') => open.push(sign),
            ']' | ')' | '}' if open.pop() == Some('[') => found.push(std::mem::take(&mut said)),
            letter if in_content => said.push(letter),
            _ => {}
        }
        at += 1;
    }
    found.iter().map(|text| text.trim().to_owned()).collect()
}

#[test]
fn no_paper_has_words_of_its_own() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("themes");
    let mut read = 0;
    for file in walkdir::WalkDir::new(folder).into_iter().map(Result::unwrap) {
        if file.path().extension().is_some_and(|ending| ending == "typ") {
            let mut texts = texts_of_typst(&std::fs::read_to_string(file.path()).unwrap());
            // What is told to whoever writes a theme, and a drawing.
            texts.retain(|text| is_said(text) && !text.starts_with("no message is called"));
            assert_eq!(texts, [""; 0], "{}", file.path().display());
            read += 1;
        }
    }
    assert!(read > 5, "{read}");
    let template =
        "#let x = [Made of #text(weight: 700, it.name), and #if has(y) [so on] else { \"or not\" }]";
    let said: Vec<String> = texts_of_typst(template).into_iter().filter(|text| is_said(text)).collect();
    assert_eq!(said, ["Made of", "so on", "or not"]);
}

#[test]
fn words_are_told_from_names_and_marks() {
    let said = ["timber not known", "{name}, of which nothing is known", "Colour", "a, b and their sum"];
    let bare = ["part.timber", "{}: {}", "paste-wax", "<svg role=\"img\">", "day", "record.toml", "P {part}"];
    assert_eq!(said.map(is_said), [true; 4]);
    assert_eq!(bare.map(is_said), [false; 7]);
}
