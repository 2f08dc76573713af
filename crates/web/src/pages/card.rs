//! The verdict card and the recipe beside it.

use maud::{Markup, PreEscaped, html};
use show::{
    Advice, Card, CautionView, FigureRow, PieceKind, QuestionView, drawdown_picture, movers_picture, rule_picture, section_picture,
};
use workbench::{SUPPORTS, Workbench};

/// The whole card.
pub(crate) fn verdict(card: &Card) -> Markup {
    html! {
        article .card aria-labelledby="sentence" {
            h1 #sentence .sentence { (card.sentence) }
            @if !card.word.why.is_empty() && !card.sentence.contains(&card.word.why) { p .second { (card.word.why) } }
            (pictures(card))
            (advice(card))
            (mind(&card.mind))
            (thickness(card))
            (hiding(card))
            (thirst(card))
            p .rests { strong { "What it rests on. " } (card.rests_on) }
            @for note in &card.notes { p .second { (note) } }
            (figures(&card.figures))
        }
    }
}

/// What is shown while the recipe is still being typed.
pub(crate) fn brief(card: &Card) -> Markup {
    html! {
        @if !card.told.trim().is_empty() {
            p .sentence { (card.sentence) }
            (read_back(card))
            @if let Some(bar) = card.bar { div .picture { (PreEscaped(rule_picture(&[(card.word.text.clone(), bar)], &card.ticks, Workbench::edges()))) } }
            @for question in card.questions.iter().filter(|question| question.matters).take(2) { (ask(question, "choose.", Some("tell"))) }
        }
    }
}

pub(crate) fn pictures(card: &Card) -> Markup {
    html! {
        @if let Some(section) = &card.section {
            figure .picture {
                (PreEscaped(section_picture(section)))
                figcaption { "The dry ground cut through: thickness to scale, areas in their true shares, grains drawn larger than they are. Hatching is doubt." }
            }
        }
        @if let Some(bar) = card.bar {
            figure .picture {
                (PreEscaped(rule_picture(&[(card.word.text.clone(), bar)], &card.ticks, Workbench::edges())))
                figcaption {
                    "At 1.0 the binder just fills the gaps between the grains. "
                    a href="/books" { "The handbook grounds on this rule" }
                }
            }
        }
    }
}

fn thickness(card: &Card) -> Markup {
    html! {
        section {
            h2 { "How thick may a coat be?" }
            p .what { (card.thickness.sentence) }
            @if !card.thickness.movers.is_empty() { figure .picture { (PreEscaped(movers_picture(&card.thickness.movers))) figcaption { "What moves it most." } } }
            @if card.thickness.has_window { button .quiet type="submit" form="recipe-form" formaction="/window" { "Draw binder against thickness" } }
            @for more in &card.thickness.more { p .second { (more) } }
        }
    }
}

fn hiding(card: &Card) -> Markup {
    html! {
        @if !card.hides.sentence.is_empty() {
            section #hiding {
                h2 { "Will it hide the board?" }
                p .what { (card.hides.sentence) }
                @if let Some(look) = &card.look {
                    figure .picture {
                        (PreEscaped(drawdown_picture(look)))
                        figcaption { "One coat over a black stripe and over wood, just laid and dry." }
                    }
                }
                @for more in &card.hides.more { p .second { (more) } }
            }
        }
    }
}

fn thirst(card: &Card) -> Markup {
    html! {
        section #thirst {
            h2 { "Will it drink the paint?" }
            p .what { (card.thirst.sentence) }
            @for more in &card.thirst.more { p .second { (more) } }
        }
    }
}

fn advice(card: &Card) -> Markup {
    html! {
        div .advice {
            @if !card.change.is_empty() {
                section { h2 { "Change this" } @for one in &card.change { (said(one)) } }
            }
            @if let Some(weigh) = &card.weigh {
                section { h2 { "Weigh this" } (said(weigh)) @if !weigh.own.is_empty() { button type="submit" form="recipe-form" formaction="/weigh" name="weigh" value=(weigh.own) { "I have weighed it" } } }
            }
        }
    }
}

fn said(advice: &Advice) -> Markup {
    html! { p .what { (advice.what) } p .second { (advice.more) } }
}

/// Cautions: those of this very recipe and of grave dangers open, the others one tap below.
pub(crate) fn mind(cautions: &[CautionView]) -> Markup {
    let (own, general): (Vec<_>, Vec<_>) = cautions.iter().partition(|caution| caution.of_this_recipe || caution.grave);
    html! {
        @if !cautions.is_empty() {
            section .mind {
                h2 { "Mind this" }
                @for caution in own { (one_caution(caution)) }
                @if !general.is_empty() {
                    details {
                        summary { "Cautions for what is in it (" (general.len()) ")" }
                        @for caution in general { (one_caution(caution)) }
                    }
                }
            }
        }
    }
}

pub(crate) fn one_caution(caution: &CautionView) -> Markup {
    html! {
        div .caution {
            p { strong { (caution.about) ". " } (caution.text) }
            @if !caution.jar_test.is_empty() { p { a href=(caution.jar_test) { "The jar test, step by step" } } }
            p .source {
                @if !caution.codes.is_empty() { span .codes { (caution.codes) } " · " }
                (caution.source)
            }
        }
    }
}

pub(crate) fn figures(rows: &[FigureRow]) -> Markup {
    html! {
        details .figures {
            summary { "Show the figures" }
            p .second { "Each value with the range that holds eight of ten draws. Tap one for its formula." }
            @for row in rows { (figure(row)) }
        }
    }
}

fn figure(row: &FigureRow) -> Markup {
    html! {
        details .figure id={ "figure-" (row.key) } {
            summary {
                span .name { (row.name) span .chemist { (row.chemist) } }
                span .value { (row.value) }
            }
            @if !row.why.is_empty() { p { "Not known: " (row.why) "." } }
            dl {
                dt { "How it is worked out" } dd { (row.sheet.formula) }
                dt { "Where the formula comes from" } dd { (row.sheet.source) }
                dt { "It holds for" } dd { (row.sheet.holds) }
                dt { "It does not hold when" } dd { (row.sheet.fails) }
                dt { "What went in" }
                dd {
                    @if row.sheet.inputs.is_empty() { "Nothing that is known yet." }
                    ul .inputs { @for input in &row.sheet.inputs { li { (input.plain) ": " strong { (input.value) } span .source { (input.source) } } } }
                }
            }
        }
    }
}

/// The told words, each marked with what became of it.
pub(crate) fn read_back(card: &Card) -> Markup {
    html! {
        p .told {
            @for piece in &card.pieces {
                @match piece.kind {
                    PieceKind::Read => mark .read { (piece.text) },
                    PieceKind::Guessed if !piece.asked.is_empty() => a .guess href={ "#ask-" (piece.asked) } title=(piece.why) { mark .guessed { (piece.text) } },
                    PieceKind::Guessed => mark .guessed title=(piece.why) { (piece.text) },
                    PieceKind::Talk => (piece.text),
                    PieceKind::Struck => s title=(piece.why) { (piece.text) },
                }
            }
        }
    }
}

/// What the ground is laid on.
pub(crate) fn support(taken: &str) -> Markup {
    html! {
        label { "Laid on" select name="support" { @for (id, name) in SUPPORTS { option value=(id) selected[id == taken] { (name) } } } }
    }
}

/// The recipe as it was read, its questions, and the box to go on.
pub(crate) fn recipe(card: &Card, hidden: &Markup, wet: &str, coats: &str, keep: &Markup) -> Markup {
    let struck: Vec<_> = card.pieces.iter().filter(|piece| piece.kind == PieceKind::Struck && !piece.text.trim().is_empty()).collect();
    html! {
        section .recipe aria-labelledby="read" {
            h2 #read { "As it was read" }
            (read_back(card))
            p .second .legend { mark .read { "read" } " · " mark .guessed { "guessed" } " · " s { "not understood" } " · the rest is talk" }
            @if !struck.is_empty() {
                details .struck {
                    summary { (struck.len()) " not understood, kept as told" }
                    ul { @for piece in &struck { li { s { (piece.text.trim()) } " " span .second { (piece.why) } } } }
                }
            }
            form .tell #recipe-form method="post" action="/recipe" {
                (hidden)
                @let (telling, idle): (Vec<_>, Vec<_>) = card.questions.iter().partition(|question| question.matters);
                @for question in telling { (ask(question, "choose.", None)) }
                @if !idle.is_empty() {
                    details {
                        summary { (idle.len()) " more that would change next to nothing" }
                        @for question in idle { (ask(question, "choose.", None)) }
                    }
                }
                @if let Some(lumps) = &card.lumps {
                    details {
                        summary { "Lumps in the pot?" }
                        (ask(lumps, "choose.", None))
                        button type="submit" { "Take this answer" }
                    }
                }
                @if !card.questions.is_empty() { button type="submit" { "Take these answers" } }
                (pot(card))
                label for="told" { "Go on with it" }
                textarea #told name="told" rows="6" spellcheck="false" { (card.told) }
                div .row {
                    label { "Wet coat, µm" input type="text" inputmode="decimal" name="wet" value=(wet) placeholder="100"; }
                    label { "Coats" input type="text" inputmode="numeric" name="coats" value=(coats) placeholder="1"; }
                    (support(&card.support))
                }
                button .main type="submit" { "Look again" }
                div .row {
                    button .quiet type="submit" formaction="/recipe/card.png" { "Save as picture (PNG)" }
                    button .quiet type="submit" formaction="/recipe/card.svg" { "Save as drawing (SVG)" }
                    button .quiet type="submit" formaction="/recipe/wall-card.pdf" { "Card for the kitchen wall (PDF)" }
                    button .quiet type="submit" formaction="/beside" { "Put another beside it" }
                    button .quiet type="submit" formaction="/failed" { "A board of it failed" }
                    button .quiet type="submit" formaction="/even" { "Will the last board be like the first?" }
                    button .quiet type="submit" formaction="/wish" { "Wish for another" }
                    button .quiet type="submit" formaction="/enlarge" { "Make it for real panels" }
                }
                details .make {
                    summary { "Make it: a day worked out for so many boards" }
                    div .row {
                        label { "Boards" input type="text" inputmode="numeric" name="boards" placeholder="5"; }
                        label { "Size of each" input type="text" name="size" value="20 x 25 cm"; }
                    }
                    button .quiet type="submit" formaction="/recipe/day" { "What when, and what to buy?" }
                    p .second { "As many coats as above." }
                }
                (keep)
            }
        }
    }
}

/// A question with its choices; the one taken is marked. `form` is the id of the form that they belong to when they stand outside it.
fn ask(question: &QuestionView, prefix: &str, form: Option<&str>) -> Markup {
    html! {
        fieldset .question id={ "ask-" (question.id) } {
            legend { (question.ask) }
            @for choice in &question.choices {
                @let taken = choice.id == question.assumed;
                label .choice {
                    input type="radio" name={ (prefix) (question.id) } value=(choice.id) checked[question.answered && taken] form=[form];
                    span {
                        (choice.label)
                        @if !choice.effect.is_empty() { span .second { (choice.effect) } }
                        @if taken && !question.answered { span .second { "taken as likeliest" } }
                    }
                }
            }
            label .choice {
                input type="radio" name={ (prefix) (question.id) } value="" checked[!question.answered] form=[form];
                span { "not known" }
            }
        }
    }
}

fn pot(card: &Card) -> Markup {
    html! {
        @if !card.lines.is_empty() {
            table .pot {
                caption { "What goes into the pot" }
                thead { tr { th scope="col" { "what" } th scope="col" { "grams" } th scope="col" { "in cups and spoons" } } }
                tbody {
                    @for line in &card.lines {
                        tr {
                            th scope="row" { a href={ "/jars/" (line.material) } { (line.name) } }
                            @if line.left_out.is_empty() { td { (line.grams) } td { (line.kitchen) } } @else { td colspan="2" { (line.left_out) } }
                        }
                        @if !line.guessed.is_empty() {
                            tr .guess { td colspan="3" { @for guess in &line.guessed { span .guessed { (guess) } " " } } }
                        }
                    }
                }
            }
        }
    }
}
