//! `say` for the templates of pages: a message of the page's language.

use std::sync::Arc;

use fluent_bundle::{FluentArgs, FluentValue};
use tera::{Kwargs, State, TeraResult, Value};

use crate::words::Language;

/// The argument that names the message; all others are what it tells.
const NAME: &str = "name";

/// `say(name="page-of", page=1, pages=2)`, in one language.
pub(super) fn function(
    language: Arc<Language>,
) -> impl Fn(Kwargs, &State<'_>) -> TeraResult<String> + Send + Sync + 'static {
    move |given, _| {
        let name = given.must_get::<&str>(NAME)?;
        let mut arguments = FluentArgs::new();
        for (key, value) in given.iter() {
            if let Some(key) = key.as_str().filter(|key| *key != NAME) {
                arguments.set(key.to_owned(), told(value));
            }
        }
        language.say(name, &arguments).map_err(tera::Error::message)
    }
}

/// A value of a template as messages take it: numbers decide the plural.
fn told(value: &Value) -> FluentValue<'static> {
    match (value.is_number(), value.as_f64(), value.as_str()) {
        (true, Some(number), _) => FluentValue::from(number),
        (_, _, Some(text)) => FluentValue::from(text.to_owned()),
        _ => FluentValue::from(value.to_string()),
    }
}
