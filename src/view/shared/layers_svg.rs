//! The layers of a surface drawn as a cut through them: the wood below, the last coat on top.
//!
//! The picture uses attributes and `currentColor` alone, so that it follows a theme's colours on screen and in
//! print; a theme can go further by the classes `layer-film`, `layer-in-wood` and so on. Kinds differ by
//! pattern and by words, never by colour alone.

use std::fmt::Write;

use super::markup::escaped;
use crate::claim::{Message, says};
use crate::trade::Layer;
use crate::words::Words;

/// One layer to draw.
pub(super) struct Drawn {
    /// What it is, with its coats.
    pub(super) name: String,
    /// Where it lies; `None` where that is not known.
    pub(super) kind: Option<Layer>,
    /// How many coats; at least 1.
    pub(super) coats: u32,
    /// Where it is not whole; empty where it covers everything.
    pub(super) exception: String,
}

/// What the layers lie on.
pub(crate) struct Ground {
    /// Its name, as printed.
    pub(crate) name: String,
    /// Whether it is drawn with grain.
    pub(crate) grain: bool,
}

const WIDTH: u32 = 520;
const CUT: u32 = 200;
const GROUND: u32 = 56;
const LABEL_AT: u32 = CUT + 28;

/// Letters of a label that fit beside the cut; the whole name is in the description.
const LONGEST: usize = 42;

/// Draws the layers, given from the ground up; `id` is unlike any other on the page.
pub(super) fn layers_svg(
    words: &Words,
    id: &str,
    surface: &str,
    ground: &Ground,
    layers: &[Drawn],
) -> String {
    let top: u32 = layers.iter().map(height).sum();
    let all = top + GROUND + 2;
    let mut svg = format!(
        "<svg class=\"layers\" role=\"img\" aria-labelledby=\"{id}-title {id}-desc\" viewBox=\"0 0 {WIDTH} {all}\" \
         width=\"{WIDTH}\" height=\"{all}\" xmlns=\"http://www.w3.org/2000/svg\">\
         <title id=\"{id}-title\">{}</title><desc id=\"{id}-desc\">{}</desc>{}",
        escaped(&words.say(&says!("drawing-of-layers", surface = surface))),
        escaped(&description(words, ground, layers)),
        patterns(id),
    );
    let mut y = 1;
    for layer in layers.iter().rev() {
        band(words, &mut svg, id, layer, y);
        y += height(layer);
    }
    put(&mut svg, format_args!("<g class=\"layer layer-ground\">"));
    rect(&mut svg, y, GROUND, CUT, "none");
    if ground.grain {
        grain(&mut svg, y);
    }
    label(&mut svg, &ground.name, y + GROUND / 2);
    svg.push_str("</g></svg>");
    svg
}

/// How high a layer stands: a hint by its coats and no measure.
fn height(layer: &Drawn) -> u32 {
    let coat = match layer.kind {
        Some(Layer::Film) | None => 7,
        Some(Layer::ThinFilm | Layer::Preparation | Layer::InWood) => 4,
        Some(Layer::Colour | Layer::Surface) => 2,
    };
    24 + coat * (layer.coats.clamp(1, 6) - 1)
}

fn description(words: &Words, ground: &Ground, layers: &[Drawn]) -> String {
    let said = |layer: &Drawn| {
        let lies = Message::word("lies", kind(layer));
        let name = layer.name.as_str();
        words.say(&match layer.exception.as_str() {
            "" => says!("layer-lies", name = name, lies = lies),
            exception => says!("layer-lies-but", name = name, lies = lies, exception = exception),
        })
    };
    let mut all: Vec<String> = layers.iter().rev().map(said).collect();
    all.push(ground.name.to_lowercase());
    words.say(&says!("layers-from-the-top", layers = all.join("; ")))
}

/// The word for a kind of layer in ids and classes.
fn kind(layer: &Drawn) -> &'static str {
    layer.kind.map_or("unknown", Layer::word)
}

fn band(words: &Words, svg: &mut String, id: &str, layer: &Drawn, y: u32) {
    let (kind, height) = (kind(layer), height(layer));
    // A layer that is not everywhere ends before the edge.
    let width = if layer.exception.is_empty() { CUT } else { CUT * 2 / 3 };
    put(svg, format_args!("<g class=\"layer layer-{kind}\">"));
    if matches!(layer.kind, Some(Layer::InWood | Layer::Colour)) {
        // What has sunk in lies between the fibres.
        grain_lines(svg, y, height);
    }
    rect(svg, y, height, width, &format!("url(#{id}-{kind})"));
    let name = match layer.exception.as_str() {
        "" => layer.name.clone(),
        _ => words.say(&says!("layer-in-places", name = layer.name.as_str())),
    };
    label(svg, &name, y + height / 2);
    svg.push_str("</g>");
}

fn rect(svg: &mut String, y: u32, height: u32, width: u32, fill: &str) {
    put(
        svg,
        format_args!(
            "<rect x=\"1\" y=\"{y}\" width=\"{width}\" height=\"{height}\" fill=\"{fill}\" stroke=\"currentColor\"/>"
        ),
    );
}

fn label(svg: &mut String, name: &str, middle: u32) {
    let short: String = match name.chars().count() {
        0..=LONGEST => name.to_owned(),
        _ => name.chars().take(LONGEST - 1).chain(['…']).collect(),
    };
    put(
        svg,
        format_args!(
            "<line class=\"layer-leader\" x1=\"{}\" y1=\"{middle}\" x2=\"{}\" y2=\"{middle}\" stroke=\"currentColor\"/>\
             <text class=\"layer-name\" x=\"{LABEL_AT}\" y=\"{}\" font-size=\"13\" fill=\"currentColor\">{}</text>",
            CUT + 1,
            LABEL_AT - 6,
            middle + 4,
            escaped(&short),
        ),
    );
}

/// Grain of the ground: long, slightly bent lines.
fn grain(svg: &mut String, y: u32) {
    for (row, bend) in [(12, 3), (24, 5), (36, 2), (47, 4)] {
        put(
            svg,
            format_args!(
                "<path class=\"layer-grain\" d=\"M1 {0}q50 -{bend} 100 0t99 0\" fill=\"none\" stroke=\"currentColor\" \
                 stroke-opacity=\"0.45\"/>",
                y + row,
            ),
        );
    }
}

fn grain_lines(svg: &mut String, y: u32, height: u32) {
    for row in (6..height).step_by(11) {
        put(
            svg,
            format_args!(
                "<path class=\"layer-grain\" d=\"M1 {}q50 -3 100 0t99 0\" fill=\"none\" stroke=\"currentColor\" \
                 stroke-opacity=\"0.3\"/>",
                y + row,
            ),
        );
    }
}

/// A pattern for each kind of layer: 8 by 8, drawn in the text's colour.
fn patterns(id: &str) -> String {
    let marks = [
        ("film", "M0 2H8M0 6H8", "0.55"),
        ("thin-film", "M0 4H5", "0.6"),
        ("in-wood", "M2 0V6M6 3V8", "0.6"),
        ("colour", "M1 2h2v2h-2zM5 6h2v2h-2z", "0.6"),
        ("preparation", "M0 0L8 8M8 0L0 8", "0.4"),
        ("surface", "M0 8H8", "0.15"),
        ("unknown", "M0 8L8 0", "0.6"),
    ];
    let each = marks.map(|(kind, marks, opacity)| {
        format!(
            "<pattern id=\"{id}-{kind}\" width=\"8\" height=\"8\" patternUnits=\"userSpaceOnUse\"><path d=\"{marks}\" \
             fill=\"none\" stroke=\"currentColor\" stroke-opacity=\"{opacity}\"/></pattern>"
        )
    });
    format!("<defs>{}</defs>", each.concat())
}

fn put(svg: &mut String, text: std::fmt::Arguments<'_>) {
    svg.write_fmt(text).expect("a string takes any text");
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn wood() -> Ground {
        Ground { name: "Wood".to_owned(), grain: true }
    }

    fn drawn(name: &str, kind: Option<Layer>, coats: u32, exception: &str) -> Drawn {
        Drawn { name: name.to_owned(), kind, coats, exception: exception.to_owned() }
    }

    /// The y of each band from the top down, with its height.
    fn bands(svg: &str) -> Vec<(u32, u32)> {
        let number = |text: &str, key: &str| -> u32 {
            let rest = text.split(&format!(" {key}=\"")).nth(1).unwrap();
            rest.split('"').next().unwrap().parse().unwrap()
        };
        svg.split("<rect").skip(1).map(|rect| (number(rect, "y"), number(rect, "height"))).collect()
    }

    #[test]
    fn the_last_coat_is_on_top_and_the_wood_below() {
        let layers = [
            drawn("Oil stain", Some(Layer::Colour), 1, ""),
            drawn("Varnish, 3 coats", Some(Layer::Film), 3, ""),
        ];
        let svg = layers_svg(&Words::with_currency("GBP"), "surface-1", "Top", &wood(), &layers);
        let at = |word: &str| svg.find(&format!(">{word}</text>")).unwrap();
        assert!(at("Varnish, 3 coats") < at("Oil stain") && at("Oil stain") < at("Wood"));
        assert_eq!(bands(&svg), [(1, 38), (39, 24), (63, 56)]);
        assert!(svg.contains("viewBox=\"0 0 520 120\""));
        assert!(
            svg.contains("From the top down: Varnish, 3 coats (a film); Oil stain (colour); wood.</desc>")
        );
    }

    #[test]
    fn more_coats_stand_higher_up_to_a_point() {
        let high = |coats: u32| height(&drawn("x", Some(Layer::Film), coats, ""));
        assert!(high(1) < high(2) && high(2) < high(5));
        assert_eq!(high(6), high(60));
    }

    #[test]
    fn a_layer_in_places_ends_before_the_edge_and_says_so() {
        let svg = layers_svg(
            &Words::with_currency("GBP"),
            "s",
            "Top",
            &wood(),
            &[drawn("Wax", Some(Layer::ThinFilm), 1, "only on Leaf")],
        );
        assert!(svg.contains("width=\"133\"") && svg.contains(">Wax, in places</text>"));
        assert!(svg.contains("Wax (a thin film; only on Leaf)"));
    }

    #[test]
    fn every_kind_has_its_pattern() {
        let kinds = Layer::ALL.iter().copied().map(Some).chain([None]);
        for kind in kinds {
            let svg =
                layers_svg(&Words::with_currency("GBP"), "s", "Top", &wood(), &[drawn("x", kind, 1, "")]);
            let used = svg.split("fill=\"url(#").nth(1).and_then(|rest| rest.split(')').next()).unwrap();
            assert!(svg.contains(&format!("<pattern id=\"{used}\"")), "{used}");
        }
    }

    proptest! {
        #[test]
        fn any_name_leaves_the_markup_whole(name in any::<String>(), exception in any::<String>()) {
            let bare = layers_svg(&Words::with_currency("GBP"), "s", "x", &wood(), &[drawn("x", None, 1, if exception.is_empty() { "" } else { "x" })]);
            let svg = layers_svg(&Words::with_currency("GBP"), "s", &name, &wood(), &[drawn(&name, None, 1, &exception)]);
            for mark in ['<', '>', '"'] {
                prop_assert_eq!(svg.matches(mark).count(), bare.matches(mark).count());
            }
            prop_assert!(!svg.contains("style="));
        }

        #[test]
        fn bands_lie_on_each_other_without_a_gap(coats in prop::collection::vec(1_u32..40, 0..6)) {
            let layers: Vec<Drawn> = coats.iter().map(|coats| drawn("x", Some(Layer::Film), *coats, "")).collect();
            let bands = bands(&layers_svg(&Words::with_currency("GBP"), "s", "x", &wood(), &layers));
            prop_assert_eq!(bands.len(), coats.len() + 1);
            for pair in bands.windows(2) {
                prop_assert_eq!(pair[0].0 + pair[0].1, pair[1].0);
            }
        }
    }
}
