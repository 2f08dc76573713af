//! The verdict card as one picture, to send to a friend.

use crate::card::Card;

use super::rule::rule_picture;
use super::section::section_picture;
use super::svg::{Svg, wrapped};

const WIDTH: f64 = 540.0;

/// Draws the card; `edges` as in [`rule_picture`].
pub fn card_picture(card: &Card, edges: (f64, f64, f64)) -> String {
    let sentence = wrapped(&card.sentence, 36);
    let mut blocks: Vec<(&str, Vec<String>)> = Vec::new();
    let mut said = |head: &'static str, text: String| blocks.push((head, wrapped(&text, 62)));
    if let Some(advice) = card.change.first() {
        said("Change this", format!("{} {}", advice.what, advice.more));
    }
    if let Some(advice) = &card.weigh {
        said("Weigh this", format!("{} {}", advice.what, advice.more));
    }
    for caution in card.mind.iter().take(2) {
        said("Mind this", caution.text.clone());
    }
    said("It rests on", card.rests_on.clone());
    let told: String = card.told.chars().take(300).collect();
    said("As told", told);
    let rule_height = if card.bar.is_some() { 158.0 } else { 0.0 };
    let section_height = if card.section.is_some() { 272.0 } else { 0.0 };
    let words_height: f64 = blocks.iter().map(|(_, lines)| 34.0 + 20.0 * lines.len() as f64).sum();
    let height = 60.0 + 36.0 * sentence.len() as f64 + rule_height + section_height + words_height + 50.0;
    let mut svg = Svg::new(WIDTH, height, &card.sentence);
    svg.rect("p", 0.0, 0.0, WIDTH, height);
    svg.rect("e", 0.0, 0.0, 10.0, height);
    let mut y = 56.0;
    for line in &sentence {
        svg.text("i s", 29.0, "start", (40.0, y), line);
        y += 36.0;
    }
    if let Some(section) = &card.section {
        svg.inside(50.0, y - 16.0, &section_picture(section));
        y += section_height;
    }
    if let Some(bar) = card.bar {
        svg.inside(50.0, y - 16.0, &rule_picture(&[(card.word.text.clone(), bar)], &card.ticks, edges));
        y += rule_height;
    }
    for (head, lines) in &blocks {
        y += 8.0;
        svg.text("e s", 17.0, "start", (40.0, y), head);
        y += 22.0;
        for line in lines {
            svg.text("i", 16.0, "start", (40.0, y), line);
            y += 20.0;
        }
        y += 4.0;
    }
    svg.text("q", 13.0, "start", (40.0, height - 18.0), "groundproof · argued from books, no promise · hatching is doubt");
    svg.finish()
}
