//! What have you got?

use maud::{Markup, html};

use super::photos;
use crate::layout::Place;
use crate::room::Room;

/// Recipes to try; our own scenario, with invented amounts.
const EXAMPLES: [(&str, &str); 3] = [
    (
        "the lighthouse's chalk ground",
        "Soak 15 g rabbit skin glue in 210 ml water overnight, warm it (never above 60 C), sift in 2 cups of whiting. 4 coats on the tide calendar boards.",
    ),
    (
        "the kitchen casein",
        "2 litres skim milk, half a cup of vinegar. Drain and rinse the curd, 1 tsp baking soda, then 3 cups of chalk and a splash of water",
    ),
    ("equal parts", "casein binder, chalk and zinc white 1:1:1 by volume"),
];

pub(crate) async fn page(room: Room) -> Markup {
    let body = html! {
        h1 .ask { "What have you got?" }
        form #tell .tell method="post" action="/recipe" data-live="/recipe/live" {
            input type="hidden" name="token" value=(room.token());
            label for="told" { "Say it as you would say it: what goes in, and how much." }
            textarea #told name="told" rows="7" autofocus spellcheck="false" placeholder="two spoons of glue in a jam jar of water, chalk until it is like cream …" {}
            button .main type="submit" { "What is it, really?" }
        }
        div #verdict .live aria-live="polite" {}
        ul .doors {
            li { a .door href="#told" { strong { "I have a recipe" } span { "Paste it or say it above: any units, any order." } } }
            li { a .door href="/failed" { strong { "A board failed" } span { "A few taps, and the causes in order." } } }
            li { a .door href="/photos" { strong { "I have photos of boards" } span { "Drop them here: cracks in millimetres, and whose board it is." } } }
            li { a .door href="/trials/new" { strong { "I want to find out" } span { "Boards that can answer a question, and can't be tangled by accident." } } }
            li { a .door href="/binder" { strong { "I want binder from the fridge" } span { "Are the lemons enough? What stays in the cloth, and what opens it." } } }
            li { a .door href="/milk" { strong { "I have milk and powder" } span { "How much of each, for how many boards." } } }
            li { a .door href="/save" { strong { "My pot is not right" } span { "What to put in, or when to throw it away." } } }
            li { a .door href="/goes" { strong { "Does this powder curdle this binder?" } span { "What is known, and the jar test." } } }
            li { a .door href="/glue" { strong { "I have glue or gelatine" } span { "How strong it is, and what brings it to size or gesso." } } }
        }
        (photos::drop_anywhere(&room, "I have a photo of a board: drop it on this page, or choose it"))
        section .try {
            h2 { "Or look at one of ours" }
            @if !room.studio().is_example() && !room.is_phone() {
                form method="post" action="/example" { input type="hidden" name="token" value=(room.token()); button type="submit" { "Look round the example studio" } }
            }
            p { a .button href="/walk" { "I have never done this: show me a day" } }
            p .second { "Made up for an old lighthouse's workshop that prepares panels for a tide calendar; the amounts are invented." }
            @for (name, text) in EXAMPLES {
                form method="post" action="/recipe" {
                    input type="hidden" name="token" value=(room.token());
                    input type="hidden" name="told" value=(text);
                    button .quiet type="submit" { (name) }
                }
            }
        }
    };
    room.page(Place::Front, "What have you got?", &body)
}
