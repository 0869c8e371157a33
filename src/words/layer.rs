//! Messages of one file, and what is laid over what.

use std::collections::{BTreeMap, BTreeSet};

use fluent_syntax::ast::{Attribute, Entry, Expression, Identifier, InlineExpression, Message, Pattern};
use fluent_syntax::ast::{PatternElement, Resource};
use fluent_syntax::{parser, serializer};

/// Messages by their names. A message that is laid over another keeps of it what it does not say itself.
#[derive(Debug, Clone, Default)]
pub(super) struct Layer {
    messages: BTreeMap<String, Texts>,
}

/// What a message says: its value, and its attributes by their names.
#[derive(Debug, Clone, Default)]
pub(super) struct Texts {
    pub(super) value: Option<Pattern<String>>,
    pub(super) attributes: BTreeMap<String, Pattern<String>>,
}

/// What a message takes from elsewhere.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Takes {
    /// The values that it tells.
    pub(super) values: BTreeSet<String>,
    /// The other messages that stand in it.
    pub(super) messages: BTreeSet<String>,
    /// Functions and terms, which no message of ours has.
    pub(super) others: BTreeSet<String>,
}

impl Layer {
    /// The messages of a text; what is no message is left out.
    pub(super) fn read(text: &str) -> Layer {
        let resource = parser::parse(text.to_owned()).unwrap_or_else(|(resource, _)| resource);
        let mut layer = Layer::default();
        for entry in resource.body {
            if let Entry::Message(message) = entry {
                layer.put(message.id.name.clone(), Texts::of(message));
            }
        }
        layer
    }

    /// Lays a message over the one of its name.
    pub(super) fn put(&mut self, name: String, texts: Texts) {
        let below = self.messages.entry(name).or_default();
        below.value = texts.value.or(below.value.take());
        below.attributes.extend(texts.attributes);
    }

    /// Lays all messages of another layer over these.
    pub(super) fn lay(&mut self, above: &Layer) {
        for (name, texts) in &above.messages {
            self.put(name.clone(), texts.clone());
        }
    }

    /// A message by its name.
    pub(super) fn get(&self, name: &str) -> Option<&Texts> {
        self.messages.get(name)
    }

    /// The names of all messages.
    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.messages.keys().map(String::as_str)
    }

    /// Whether a message, were it laid over these, would stand in itself.
    pub(super) fn would_turn_in_a_circle(&self, name: &str, texts: &Texts) -> bool {
        let mut seen = BTreeSet::new();
        let mut next: Vec<String> = texts.takes().messages.into_iter().collect();
        while let Some(one) = next.pop() {
            if one == name {
                return true;
            }
            if seen.insert(one.clone()) {
                next.extend(self.get(&one).into_iter().flat_map(|texts| texts.takes().messages));
            }
        }
        false
    }

    /// What a message says that tells no value, where it is plain text.
    pub(super) fn plain(&self, name: &str) -> Option<String> {
        let elements = &self.get(name)?.value.as_ref()?.elements;
        let text = elements.iter().map(|element| match element {
            PatternElement::TextElement { value } => Some(value.as_str()),
            PatternElement::Placeable { .. } => None,
        });
        text.collect()
    }

    /// The messages as a text that a language is read from.
    pub(super) fn text(self) -> String {
        let id = |name: String| Identifier { name };
        let message = |(name, texts): (String, Texts)| {
            let attribute = |(name, value)| Attribute { id: id(name), value };
            Entry::Message(Message {
                id: id(name),
                value: texts.value,
                attributes: texts.attributes.into_iter().map(attribute).collect(),
                comment: None,
            })
        };
        serializer::serialize(&Resource { body: self.messages.into_iter().map(message).collect() })
    }
}

impl Texts {
    /// What a message says.
    pub(super) fn of(message: Message<String>) -> Texts {
        let attributes = message.attributes.into_iter();
        let attributes = attributes.map(|attribute| (attribute.id.name, attribute.value)).collect();
        Texts { value: message.value, attributes }
    }

    /// What it takes from elsewhere.
    pub(super) fn takes(&self) -> Takes {
        let mut takes = Takes::default();
        self.value.iter().chain(self.attributes.values()).for_each(|pattern| takes.pattern(pattern));
        takes
    }
}

impl Takes {
    fn pattern(&mut self, pattern: &Pattern<String>) {
        for element in &pattern.elements {
            if let PatternElement::Placeable { expression } = element {
                self.expression(expression);
            }
        }
    }

    fn expression(&mut self, expression: &Expression<String>) {
        match expression {
            Expression::Inline(inline) => self.inline(inline),
            Expression::Select { selector, variants } => {
                self.inline(selector);
                variants.iter().for_each(|variant| self.pattern(&variant.value));
            }
        }
    }

    fn inline(&mut self, inline: &InlineExpression<String>) {
        match inline {
            InlineExpression::StringLiteral { .. } | InlineExpression::NumberLiteral { .. } => {}
            InlineExpression::VariableReference { id } => drop(self.values.insert(id.name.clone())),
            InlineExpression::MessageReference { id, .. } => drop(self.messages.insert(id.name.clone())),
            InlineExpression::FunctionReference { id, .. } => {
                self.others.insert(format!("{}()", id.name));
            }
            InlineExpression::TermReference { id, .. } => {
                self.others.insert(format!("-{}", id.name));
            }
            InlineExpression::Placeable { expression } => self.expression(expression),
        }
    }
}
