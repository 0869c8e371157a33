//! A story as HTML.

use pulldown_cmark::{CowStr, Event};

use super::sound::SoundEvent;
use crate::unit::legible::is_visible;
use crate::view::shared::markup::escaped;
use crate::view::shared::photograph::PhotoView;

/// What stands in a story for a photograph.
pub(crate) enum StoryPicture<'a> {
    /// The photograph.
    Photo(&'a PhotoView),
    /// Where on the page it stands among the plates, and what that plate is called.
    Plate {
        /// The plate's id.
        anchor: String,
        /// `plate 3`.
        words: String,
    },
}

/// A story as HTML.
///
/// `picture` finds what stands for a photograph of the piece by its file name.
pub(crate) fn story_html<'a>(
    story: &[SoundEvent],
    picture: impl Fn(&str) -> Option<StoryPicture<'a>>,
) -> String {
    let events = story.iter().map(|said| match said {
        SoundEvent::Event(event) => event.clone(),
        SoundEvent::Picture { file, alt } => figure(picture(file), alt),
    });
    let mut html = String::new();
    pulldown_cmark::html::push_html(&mut html, events);
    // A column without a name has a plain cell over it: a header that says nothing is read out as one. No text of the
    // story can look like this, since its marks are escaped.
    html.replace("<th></th>", "<td></td>").replace("<th>", "<th scope=\"col\">")
}

/// A photograph within the story, or its words where there is none to show.
fn figure(picture: Option<StoryPicture<'_>>, alt: &str) -> Event<'static> {
    match picture {
        Some(StoryPicture::Plate { anchor, words }) => {
            let html = format!("<a class=\"to-plate\" href=\"#{anchor}\">{}</a>", escaped(&words));
            Event::InlineHtml(CowStr::from(html))
        }
        Some(StoryPicture::Photo(photo)) if photo.fault.is_empty() => {
            let words = if is_visible(alt) { alt } else { photo.alt.as_str() };
            let html = format!(
                "<img src=\"{}\" srcset=\"{}\" sizes=\"(min-width: 60rem) 40rem, 92vw\" width=\"{}\" height=\"{}\" loading=\"lazy\" alt=\"{}\">",
                photo.src,
                photo.srcset,
                photo.width,
                photo.height,
                escaped(words)
            );
            Event::InlineHtml(CowStr::from(html))
        }
        _ => Event::Text(CowStr::from(format!("[{alt}]"))),
    }
}
