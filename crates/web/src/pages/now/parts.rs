//! Pieces that the page is made of. Each is drawn by one function, full for the page and empty as the mould that the script fills: what
//! carries `data-slot` takes the text of that name and is hidden where there is none.

use maud::{Markup, PreEscaped, html};
use show::{LyingBoard, LyingBoards, LyingState, NowBoard, NowDone, NowPot, NowStep};

/// Boards side by side: what still reads well at the width of a phone.
const ACROSS: u32 = 4;

/// Data for the script, as a block that no browser runs.
pub(super) fn data(data: &impl serde::Serialize) -> Markup {
    // A `<` inside a text could end the block early; JSON has another way to write it.
    let text = serde_json::to_string(data).unwrap_or_else(|_| "null".to_owned()).replace('<', "\\u003c");
    html! { script #day type="application/json" { (PreEscaped(text)) } }
}

/// A text that the script may change.
fn slot(name: &str, class: &str, text: &str) -> Markup {
    html! { p class=[(!class.is_empty()).then_some(class)] data-slot=(name) hidden[text.is_empty()] { (text) } }
}

/// Whether a step waits for nothing, so that it may be taken before the others; washing up comes last.
pub(super) fn may_come_first(step: &NowStep) -> bool {
    step.after.is_none() && step.opens_ms.is_none() && step.kind != "wash"
}

/// A step that comes later; none for the mould.
pub(super) fn later(step: Option<&NowStep>) -> Markup {
    let text = |pick: fn(&NowStep) -> &str| step.map_or("", pick);
    let open = step.is_some_and(may_come_first);
    html! {
        li {
            span .when data-slot="from" { (text(|step| &step.from)) }
            div {
                p { strong data-slot="say" { (text(|step| &step.say)) } }
                (slot("more", "second", text(|step| &step.more)))
                (slot("wait", "second", ""))
                a .first href={ "/now?step=" (text(|step| &step.id)) } hidden[!open] { "Take this one first" }
            }
        }
    }
}

/// A pot.
pub(super) fn pot(pot: Option<&NowPot>) -> Markup {
    let text = |pick: fn(&NowPot) -> &str| pot.map_or("", pick);
    let left = pot.map_or_else(String::new, |pot| left(pot.left));
    html! {
        li {
            p { "Pot " strong data-slot="letter" { (text(|pot| &pot.letter)) } ", " span data-slot="recipe" { (text(|pot| &pot.recipe)) } }
            (slot("words", "", text(|pot| &pot.words)))
            (slot("left", "second", &left))
        }
    }
}

fn left(coats: usize) -> String {
    match coats {
        0 => "No coat is left to lay from it.".to_owned(),
        1 => "One coat is left to lay from it.".to_owned(),
        coats => format!("{coats} coats are left to lay from it."),
    }
}

/// A board in a line.
pub(super) fn board(board: Option<&NowBoard>) -> Markup {
    let text = |pick: fn(&NowBoard) -> &str| board.map_or("", pick);
    html! {
        li {
            p {
                strong data-slot="number" { (board.map_or("", |board| show::spoken(&board.number))) } ": "
                span data-slot="words" { (text(|board| &board.words)) } " "
                span .second data-slot="pace" hidden[text(|board| &board.pace).is_empty()] { (text(|board| &board.pace)) }
            }
        }
    }
}

/// The boards on the table. Words stand below it in a list: the script moves the hatching on with the clock.
pub(super) fn lying(boards: &[NowBoard]) -> Markup {
    let places = boards.iter().map(|board| LyingBoard {
        number: board.number.clone(),
        place: board.place,
        strips: board.strips.clone(),
        state: state_of(board.state),
        coats: board.coats,
        of: board.of,
        words: String::new(),
    });
    html! { figure .picture .table { (PreEscaped(show::lying_picture(&LyingBoards { places: places.collect(), columns: ACROSS }))) } }
}

fn state_of(word: &str) -> LyingState {
    LyingState::ALL.into_iter().find(|state| state.class() == word).unwrap_or_default()
}

/// Something done, with the way to take it back.
pub(super) fn done(hidden: &Markup, sitting: &str, done: Option<&NowDone>) -> Markup {
    let text = |pick: fn(&NowDone) -> &str| done.map_or("", pick);
    let tap = text(|done| &done.tap);
    html! {
        li {
            div {
                p { span .tick aria-hidden="true" {} span data-slot="say" { (text(|done| &done.say)) } " " span .second data-slot="at" { (text(|done| &done.at)) } }
                p .second data-slot="where" { @if let Some(done) = done { @if done.device.is_empty() { "on the desk" } @else { "on the desk, from the " (done.device) } } }
            }
            form .slip method="post" action="/now/tap" hidden[done.is_some() && tap.is_empty()] {
                (hidden)
                input type="hidden" name="sitting" value=(sitting);
                input type="hidden" name="step" value=(text(|done| &done.step));
                input type="hidden" name="of" value=(tap);
                button .quiet type="submit" name="kind" value="undo" { "That was a slip" }
            }
        }
    }
}

/// One sentence a line.
pub(super) fn line(sentence: &str) -> Markup {
    html! { li data-slot="line" { (sentence) } }
}

/// Pieces empty, for the script to fill.
pub(super) fn moulds(hidden: &Markup, sitting: &str) -> Markup {
    html! {
        template #mould-later { (later(None)) }
        template #mould-pot { (pot(None)) }
        template #mould-board { (board(None)) }
        template #mould-done { (done(hidden, sitting, None)) }
        template #mould-line { (line("")) }
        template #mould-note { li { p data-slot="line" {} button .quiet type="button" { "I have read it" } } }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_ends_the_block_of_data_early() {
        let page = data(&["</script><b>powder & curd</b>", "<!--"]).into_string();
        assert_eq!(page.matches('<').count(), 2, "{page}");
        assert!(page.contains("\\u003c/script>"), "{page}");
    }

    #[test]
    fn a_mould_has_the_shape_of_what_it_is_filled_with() {
        let told = NowDone {
            tap: "a".repeat(32),
            step: "lay:05:2".into(),
            say: "Board 5, second coat: done".into(),
            at: "11:20".into(),
            device: "kitchen phone".into(),
        };
        let hidden = html! {};
        let tags = |page: &str| page.split('<').filter_map(|piece| piece.split([' ', '>']).next()).map(str::to_owned).collect::<Vec<_>>();
        let (full, mould) = (done(&hidden, "s", Some(&told)).into_string(), done(&hidden, "s", None).into_string());
        assert_eq!(tags(&full), tags(&mould));
        assert!(full.contains("on the desk, from the kitchen phone"), "{full}");
    }
}
