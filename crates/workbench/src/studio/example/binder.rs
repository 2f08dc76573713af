//! A jar of binder half made: the workshop's first from milk. Invented, as are its weights.

use super::super::{StudioError, TypedBinder, TypedBinderSeen};
use super::pen::{Pen, When};

/// Step, what was measured (nothing: the step is done), its value, when.
const DONE: [(&str, &str, &str, When); 7] = [
    ("curdle", "", "", (1, 20, 55)),
    ("curdle", "ph", "4.7", (1, 21, 5)),
    ("drain", "", "", (1, 21, 25)),
    ("drain", "whey", "1650", (1, 21, 30)),
    ("rinse-1", "", "", (1, 22, 0)),
    ("rinse-2", "", "", (1, 22, 15)),
    ("drip", "stands", "fridge", (1, 22, 20)),
];

pub(super) fn write(pen: &mut Pen<'_>) -> Result<(), StudioError> {
    let typed = TypedBinder {
        name: "Tern".into(),
        road: "curd".into(),
        milk: "2 l skim milk".into(),
        acids: vec!["240 ml white vinegar 5 %".into()],
        base: "baking soda".into(),
        warmth: "35".into(),
        rinses: "2".into(),
        rinse_water: "1000".into(),
        note: "for the tide calendar's last panels; it hangs in the cold larder overnight".into(),
        ..TypedBinder::default()
    };
    let stamp = pen.at((1, 20, 50));
    let binder = pen.bench.begin_binder(pen.studio, &typed, &stamp)?;
    for (step, what, value, when) in DONE {
        let stamp = pen.at(when);
        if what.is_empty() {
            pen.bench.binder_step(pen.studio, (&binder, step), "", &stamp)?;
        } else {
            let seen = TypedBinderSeen {
                binder: binder.clone(),
                step: step.into(),
                what: what.into(),
                value: value.into(),
                ..TypedBinderSeen::default()
            };
            pen.bench.binder_measure(pen.studio, &seen, &stamp)?;
        }
    }
    Ok(())
}
