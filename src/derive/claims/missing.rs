//! Why a figure is not given, as messages that complete a sentence.

use crate::claim::{Message, Value, says};
use crate::derive::climate::ClimateError;
use crate::derive::load::shelf::NoLoad;
use crate::derive::missing_input::MissingInput;

/// What the record or a table leaves unsaid.
pub(super) fn missing(why: &MissingInput) -> Message {
    let named = |name: &String| Value::Name(name.clone());
    match why {
        MissingInput::Timber => says!("missing-timber"),
        MissingInput::OtherTimber(name) => says!("missing-other-timber", name = name.as_str()),
        MissingInput::MovementOf(name) => says!("missing-movement-of", name = named(name)),
        MissingInput::DensityOf(name) => says!("missing-density-of", name = named(name)),
        MissingInput::TimberStiffness(name) => says!("missing-stiffness-of-timber", name = named(name)),
        MissingInput::Board => says!("missing-board"),
        MissingInput::OtherBoard(name) => says!("missing-other-board", name = name.as_str()),
        MissingInput::StiffnessOf(name) => says!("missing-stiffness-of", name = named(name)),
        MissingInput::CreepOf(name) => says!("missing-creep-of", name = named(name)),
        MissingInput::Material => says!("missing-material"),
        MissingInput::OtherMaterial(name) => says!("missing-other-material", name = name.as_str()),
        MissingInput::Soft => says!("missing-soft"),
        MissingInput::Build => says!("missing-build"),
        MissingInput::Dimension(which) => {
            says!("missing-dimension", which = Message::word("dimension", which))
        }
        MissingInput::Wall => says!("missing-wall"),
        MissingInput::Grain => says!("missing-grain"),
        MissingInput::Room(ClimateError::Humidity) => says!("missing-room-humidity"),
        MissingInput::Room(ClimateError::Temperature) => says!("missing-room-temperature"),
        MissingInput::Room(ClimateError::Unread) => says!("missing-room-unread"),
        MissingInput::Room(ClimateError::Factor) => says!("missing-room-factor"),
        MissingInput::Parts => says!("missing-parts"),
        MissingInput::Coverage => says!("missing-coverage"),
        MissingInput::Outline => says!("missing-outline"),
    }
}

/// Why no load is given.
pub(super) fn no_load(why: &NoLoad) -> Message {
    match why {
        NoLoad::Missing(missing_input) => missing(missing_input),
        NoLoad::OneEnd => says!("no-load-one-end"),
        NoLoad::Stout => says!("no-load-stout"),
        NoLoad::AcrossGrain => says!("no-load-across-grain"),
        NoLoad::OwnWeight => says!("no-load-own-weight"),
        NoLoad::Figures => says!("no-load-figures"),
    }
}
