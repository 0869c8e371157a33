//! What a piece is as linked data, in the words of schema.org.

use serde_json::{Map, Value, json};

use super::card::{Card, ShopState};
use crate::derive::ShowroomAddress;
use crate::unit::Length;
use crate::unit::legible::escaped_json;
use crate::view::context::PieceContext;
use crate::view::shared::identity;
use crate::words;

/// JSON as it may stand in a script of a page: nothing in it ends the script, begins another or opens a remark.
pub(super) fn sound_json(value: &Value) -> String {
    let json = escaped_json(&value.to_string()).into_owned();
    json.replace('<', "\\u003c").replace('>', "\\u003e").replace('&', "\\u0026")
}

/// The pieces of a list, by their addresses.
pub(super) fn item_list(cards: &[Card], address: &ShowroomAddress) -> Value {
    let item = |(card, position): (&Card, usize)| json!({ "@type": "ListItem", "position": position, "url": address.of(&card.href), "name": card.title });
    let items: Vec<Value> = cards.iter().zip(1..).map(item).collect();
    json!({ "@context": "https://schema.org", "@type": "ItemList", "itemListElement": items })
}

/// A piece as an individual product, with what is asked for it. What the record does not say is left out.
pub(super) fn product(context: &PieceContext<'_>, card: &Card) -> Value {
    let (record, house) = (context.record, context.house);
    let address = house.showroom();
    let mut said = Map::new();
    let mut say = |key: &str, value: Value| {
        if !matches!(&value, Value::Null) && value != "" && value != json!([]) {
            said.insert(key.to_owned(), value);
        }
    };
    let url = address.map_or(Value::Null, |address| json!(address.of(&card.href)));
    say("@context", json!("https://schema.org"));
    say("@type", json!("IndividualProduct"));
    say("@id", url.clone());
    say("url", url.clone());
    say("name", json!(card.title));
    say("description", json!(card.summary));
    say("sku", json!(card.number));
    say("category", json!(card.kind));
    say("material", json!(words::capital(&identity::materials(context))));
    if let (Some(address), Some(share)) = (address, &card.share) {
        say("image", json!(address.of(&share.path)));
    }
    if let Some(size) = &record.size {
        say("width", millimetres(size.width.value));
        say("depth", millimetres(size.depth.value));
        say("height", millimetres(size.height.value));
    }
    if let Some(weighs) = &record.weighs {
        say("weight", json!({ "@type": "QuantitativeValue", "value": weighs.value.kg(), "unitCode": "KGM" }));
    }
    say("offers", offer(context, card, url));
    Value::Object(said)
}

fn millimetres(length: Length) -> Value {
    json!({ "@type": "QuantitativeValue", "value": length.mm(), "unitCode": "MMT" })
}

/// What is asked, and whether it can be had; nothing where nobody offers it.
fn offer(context: &PieceContext<'_>, card: &Card, url: Value) -> Value {
    let availability = match card.offer.state {
        ShopState::ForSale => "InStock",
        ShopState::Reserved => "Reserved",
        ShopState::ToBeCollected | ShopState::Sold => "SoldOut",
        ShopState::NotForSale => return Value::Null,
    };
    let mut offer = json!({
        "@type": "Offer",
        "availability": format!("https://schema.org/{availability}"),
        "itemCondition": "https://schema.org/UsedCondition",
        "seller": { "@type": "Organization", "name": context.house.view().name },
    });
    if url != Value::Null {
        offer["url"] = url;
    }
    // A price without its money means nothing.
    if let (Some(asking), Some(currency)) = (context.offer().asking, context.house.currency()) {
        offer["price"] = json!(asking.0.to_string());
        offer["priceCurrency"] = json!(currency);
    }
    offer
}

#[cfg(test)]
mod tests {
    use super::super::card::card;
    use super::*;
    use crate::view::testing::shown;

    fn told(record: &str, workshop: &str) -> Value {
        shown(record, workshop, |context| product(context, &card(context)))
    }

    #[test]
    fn a_piece_for_sale_is_told_with_its_price_and_size() {
        let piece = told(
            "asking = 240.50\nweighs = 21.5\nsize = { width = 910, depth = 1200, height = 735 }\n\
             part = [{ id = \"a\", name = \"Top\", standing = \"original\", timber = \"white-oak\" }]",
            "address = \"https://bench.example/shop\"",
        );
        assert_eq!(piece["@type"], "IndividualProduct");
        assert_eq!(piece["url"], "https://bench.example/shop/pieces/t-1/");
        assert_eq!(piece["offers"]["price"], "240.50");
        assert_eq!(piece["offers"]["priceCurrency"], "GBP");
        assert_eq!(piece["offers"]["availability"], "https://schema.org/InStock");
        assert_eq!(piece["width"]["value"], 910.0);
        assert_eq!(piece["weight"]["value"], 21.5);
        assert_eq!(piece["material"], "White oak");
    }

    #[test]
    fn what_is_not_known_is_not_said() {
        let piece = told("", "");
        for key in ["offers", "url", "@id", "width", "material", "description", "image"] {
            assert_eq!(piece.get(key), None, "{key}");
        }
        let sold = told("asking = 1\nhandover = { on = 1960-01-01, price = 99 }", "");
        assert_eq!(sold["offers"]["availability"], "https://schema.org/SoldOut");
        assert_eq!(sold["offers"].get("price"), None);
    }

    #[test]
    fn no_text_leaves_its_script() {
        let hostile = json!({ "name": "</script><!--<script>\u{2028}&amp;" });
        let json = sound_json(&hostile);
        assert!(!json.contains(['<', '>', '&', '\u{2028}']), "{json}");
        assert_eq!(serde_json::from_str::<Value>(&json).expect("it is JSON"), hostile);
    }
}
