//! The messages of a language as the templates of papers read them: `say` there puts values into them.
//!
//! A text is a list of parts: a string, `{"value": name}`, or `{"choose": name, "cases": {key: text}, "default": key}`.

use fluent_syntax::ast::{Expression, InlineExpression, Pattern, PatternElement, VariantKey};
use serde_json::{Map, Value, json};

use crate::words::Language;

/// How many numbers have their plural said: in every language it follows from the last two digits of all others.
const COUNTED: u64 = 200;

/// How deep messages may stand in one another; deeper ones are left out.
const DEEPEST: usize = 8;

/// All messages of a language, its tag, and which plural each number takes.
pub(super) fn spoken(language: &Language) -> Value {
    let patterns = language.patterns();
    let texts = patterns.iter().map(|(name, pattern)| (name.clone(), text(language, pattern, 0)));
    let texts: Map<String, Value> = texts.collect();
    let (lang, region) = language.tag().split_once('-').unwrap_or((language.tag(), ""));
    let region = (region.len() == 2).then_some(region);
    json!({ "lang": lang, "region": region, "texts": texts, "plurals": language.plurals(0..COUNTED) })
}

fn text(language: &Language, pattern: &Pattern<&str>, depth: usize) -> Value {
    let mut parts = Vec::new();
    for element in &pattern.elements {
        match element {
            PatternElement::TextElement { value } => parts.push(json!(value)),
            PatternElement::Placeable { expression } => expressed(language, expression, depth, &mut parts),
        }
    }
    Value::Array(parts)
}

fn expressed(language: &Language, expression: &Expression<&str>, depth: usize, parts: &mut Vec<Value>) {
    match expression {
        Expression::Select { selector: InlineExpression::VariableReference { id }, variants } => {
            let key = |key: &VariantKey<&str>| match key {
                VariantKey::Identifier { name } => (*name).to_owned(),
                VariantKey::NumberLiteral { value } => (*value).to_owned(),
            };
            let cases = variants.iter().map(|of| (key(&of.key), text(language, &of.value, depth)));
            let cases: Map<String, Value> = cases.collect();
            let default = variants.iter().find(|of| of.default).map(|of| key(&of.key));
            parts.push(json!({ "choose": id.name, "cases": cases, "default": default }));
        }
        Expression::Inline(InlineExpression::VariableReference { id }) => {
            parts.push(json!({ "value": id.name }));
        }
        Expression::Inline(InlineExpression::StringLiteral { value }) => parts.push(json!(value)),
        Expression::Inline(InlineExpression::NumberLiteral { value }) => parts.push(json!(value)),
        Expression::Inline(InlineExpression::Placeable { expression }) => {
            expressed(language, expression, depth, parts);
        }
        Expression::Inline(InlineExpression::MessageReference { id, attribute }) if depth < DEEPEST => {
            let name = match attribute {
                Some(attribute) => format!("{}.{}", id.name, attribute.name),
                None => id.name.to_owned(),
            };
            if let Some(Value::Array(more)) = language.pattern(&name).map(|of| text(language, of, depth + 1))
            {
                parts.extend(more);
            }
        }
        // Functions and terms stand in no message.
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_has_its_values_its_cases_and_the_messages_within_it() {
        let spoken = spoken(&Language::british());
        assert_eq!(spoken["texts"]["level-repair.lead"], json!(["Repaired"]));
        assert_eq!(
            spoken["texts"]["page-of"],
            json!(["Page ", { "value": "page" }, " of ", { "value": "pages" }])
        );
        let people = &spoken["texts"]["people"][0];
        assert_eq!(people["choose"], "count");
        assert_eq!(people["cases"]["one"], json!(["one person lifts it"]));
        assert_eq!(people["default"], "other");
        assert_eq!((&spoken["plurals"][1], &spoken["plurals"][2]), (&json!("one"), &json!("other")));
    }
}
