//! One picture to post: the recipe, what failed, how many boards, what isn't known. No names, no place.

use serde::Serialize;

use crate::picture::Svg;
use crate::picture::wrapped;

/// Size of the picture, in pixels: upright, as phones show it.
const WIDTH: f64 = 1080.0;
const HEIGHT: f64 = 1350.0;
const LEFT: f64 = 84.0;
const RIGHT: f64 = 1012.0;
/// Nothing is written below: the foot stands there.
const FLOOR: f64 = 1216.0;
/// More lines would leave no room for what failed.
const MOST_LINES: usize = 8;

/// The picture's words. What does not fit is left out and the picture says so.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PictureCardView {
    /// Name of the recipe.
    pub title: String,
    /// "made with groundproof 0.1.0".
    pub made_with: String,
    /// Whether it is invented.
    pub invented: bool,
    /// What goes in.
    pub lines: Vec<PictureCardLine>,
    /// How many boards were counted, as a sentence.
    pub boards: String,
    /// What the boards showed, failures first, in sentences.
    pub failed: Vec<String>,
    /// What isn't known, in sentences.
    pub not_known: Vec<String>,
}

/// A line of the recipe.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PictureCardLine {
    /// The stuff.
    pub name: String,
    /// Grams, such as `250 g`.
    pub grams: String,
    /// The same in own cups and spoons; may be empty.
    pub kitchen: String,
}

/// Draws the card, 1080 by 1350.
pub fn picture_card(view: &PictureCardView) -> String {
    let mut svg = Svg::new(WIDTH, HEIGHT, &said(view));
    svg.rect("p", 0.0, 0.0, WIDTH, HEIGHT);
    svg.rect("e", 0.0, 0.0, 22.0, HEIGHT);
    let mut y = 70.0;
    if view.invented {
        svg.rect("h", LEFT, y - 34.0, RIGHT - LEFT, 54.0);
        svg.rect("p", LEFT + 24.0, y - 34.0, 330.0, 54.0);
        svg.text("e s", 38.0, "start", (LEFT + 44.0, y + 5.0), "invented example");
        y += 62.0;
    }
    for line in wrapped(&view.title, 30).iter().take(2) {
        y += 54.0;
        svg.text("i s", 62.0, "start", (LEFT, y), line);
        y += 14.0;
    }
    y += 30.0;
    let mut fits = wrapped(&view.title, 30).len() <= 2 && whole(&view.title, 30);
    fits &= recipe(&mut svg, view, &mut y);
    let boards = [view.boards.clone()];
    for (head, lines) in [
        ("Boards counted", boards.as_slice()),
        ("What the boards showed", view.failed.as_slice()),
        ("What isn't known", view.not_known.as_slice()),
    ] {
        fits &= block(&mut svg, head, lines, &mut y);
    }
    svg.line("lq", 1.5, (LEFT, 1250.0), (RIGHT, 1250.0));
    let foot = if fits { "Not food." } else { "Not all of it fits here: see the paper. Not food." };
    svg.text("q", 27.0, "start", (LEFT, 1290.0), foot);
    svg.text("q", 27.0, "end", (RIGHT, 1290.0), first(&wrapped(&view.made_with, 50)));
    svg.finish()
}

/// The lines of the recipe; `false` if not all of it fitted.
fn recipe(svg: &mut Svg, view: &PictureCardView, y: &mut f64) -> bool {
    let mut fits = true;
    for (place, line) in view.lines.iter().enumerate() {
        let (grams, name, kitchen) = (wrapped(&line.grams, 9), wrapped(&line.name, 34), wrapped(&line.kitchen, 60));
        fits &= grams.len() < 2 && name.len() < 2 && whole(&line.name, 34);
        let high = 56.0 + 34.0 * kitchen.len() as f64;
        if place >= MOST_LINES || *y + high > FLOOR {
            return false;
        }
        *y += 50.0;
        svg.text("e s", 46.0, "end", (LEFT + 200.0, *y), first(&grams));
        svg.text("i", 42.0, "start", (LEFT + 226.0, *y), first(&name));
        for words in &kitchen {
            *y += 34.0;
            svg.text("q", 28.0, "start", (LEFT + 226.0, *y), words);
        }
        *y += 6.0;
    }
    *y += 12.0;
    fits
}

fn first(lines: &[String]) -> &str {
    lines.first().map_or("", String::as_str)
}

/// Whether no word had to be cut to fit a line.
fn whole(words: &str, most: usize) -> bool {
    words.split_whitespace().all(|word| word.chars().count() <= most)
}

/// A headed block; `false` if not all of it fitted.
fn block(svg: &mut Svg, head: &str, sentences: &[String], y: &mut f64) -> bool {
    const MOST: usize = 66;
    let lines: Vec<String> = if sentences.iter().all(|sentence| sentence.trim().is_empty()) {
        vec!["Nobody wrote that down.".into()]
    } else {
        sentences.iter().flat_map(|sentence| wrapped(sentence, MOST)).collect()
    };
    if *y + 100.0 > FLOOR {
        return false;
    }
    *y += 60.0;
    svg.text("e s", 34.0, "start", (LEFT, *y), head);
    for line in &lines {
        if *y + 42.0 > FLOOR {
            return false;
        }
        *y += 42.0;
        svg.text("i", 33.0, "start", (LEFT, *y), line);
    }
    sentences.iter().all(|sentence| whole(sentence, MOST))
}

/// The picture in words, for those who can't see it.
fn said(view: &PictureCardView) -> String {
    let mut words: Vec<String> = Vec::new();
    if view.invented {
        words.push("Invented example.".into());
    }
    words.push(format!("{}:", view.title));
    let lines: Vec<String> = view.lines.iter().map(|line| format!("{} {}", line.grams, line.name)).collect();
    words.push(format!("{}.", lines.join(", ")));
    words.push(view.boards.clone());
    words.extend(view.failed.iter().cloned());
    words.extend(view.not_known.iter().cloned());
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn view() -> PictureCardView {
        let line = |name: &str| PictureCardLine { name: name.into(), grams: "250 g".into(), kitchen: "1 level cup, 4 g too much".into() };
        PictureCardView {
            title: "Lamp room white".into(),
            made_with: "made with groundproof".into(),
            invented: true,
            lines: vec![line("chalk"), line("water")],
            boards: "12 boards, 2 of them lost.".into(),
            failed: vec!["2 boards cracked.".into()],
            not_known: vec!["How they stand after a year.".into()],
        }
    }

    #[test]
    fn everything_is_on_it_and_in_its_words() {
        let svg = picture_card(&view());
        for words in
            ["invented example", "250 g", "1 level cup, 4 g too much", "12 boards", "2 boards cracked.", "after a year", "Not food."]
        {
            assert!(svg.contains(words), "{words}");
        }
        let (title, _) = svg.split_once("</title>").unwrap();
        assert!(title.contains("Invented example. Lamp room white: 250 g chalk"), "{title}");
    }

    #[test]
    fn what_does_not_fit_is_told() {
        let mut long = view();
        long.failed = vec!["One more board let go at the edge and was set aside. ".repeat(40)];
        assert!(picture_card(&long).contains("Not all of it fits here"));
        assert!(!picture_card(&view()).contains("Not all of it fits here"));
        let many = PictureCardView { lines: vec![view().lines[0].clone(); 40], ..view() };
        assert!(picture_card(&many).contains("Not all of it fits here"));
    }

    #[test]
    fn an_empty_card_says_that_nobody_wrote_it_down() {
        let empty = PictureCardView {
            title: String::new(),
            made_with: String::new(),
            invented: false,
            lines: vec![],
            boards: String::new(),
            failed: vec![],
            not_known: vec![],
        };
        assert_eq!(picture_card(&empty).matches("Nobody wrote that down.").count(), 3);
    }
}
