//! The ground over black and over wood, wet and dry side by side, in the greys that were worked out.
#![expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a grey from 0 to 255")]

use crate::hold::DrawdownView;
use crate::write::percent;

use super::svg::Svg;

const WIDTH: f64 = 420.0;
const HEIGHT: f64 = 188.0;
const TOP: f64 = 30.0;
const TALL: f64 = 112.0;
/// Left edge of each board, and how wide one is.
const BOARDS: [f64; 2] = [24.0, 222.0];
const WIDE: f64 = 174.0;
/// How much of a board is left bare at its foot.
const BARE: f64 = 26.0;
/// Streaks of wood: which of dark, usual and pale, and how wide; black takes the first quarter.
const STREAKS: [(usize, f64); 9] = [(0, 44.0), (2, 22.0), (1, 8.0), (2, 18.0), (3, 20.0), (1, 6.0), (2, 24.0), (3, 14.0), (2, 18.0)];

/// Draws two boards: a black stripe and streaked wood, bare at the foot, under the ground as it is laid and as it is dry. Greys are
/// those of the light thrown back; a screen shows them about right, paper does not.
pub fn drawdown_picture(view: &DrawdownView) -> String {
    let [black, dark, _, pale] = view.over;
    let told = |[_, wet, dry]: [f64; 3]| (percent(wet), percent(dry));
    let ((wet_black, dry_black), (wet_wood, dry_wood)) = (told(black), told(pale));
    let dark = told(dark);
    let words = format!(
        "One coat over a black stripe and over wood, just laid and dry. Of all light, what is thrown back over black: wet {wet_black}, dry {dry_black}. Over pale wood: wet {wet_wood}, dry {dry_wood}. Over dark wood: wet {}, dry {}.",
        dark.0, dark.1
    );
    let mut svg = Svg::new(WIDTH, HEIGHT, &words);
    for ((left, at), name) in BOARDS.into_iter().zip([1, 2]).zip(["just laid", "dry"]) {
        svg.text("i", 15.0, "start", (left, TOP - 10.0), name);
        let mut x = left;
        for (which, wide) in STREAKS {
            let over = view.over.get(which).copied().unwrap_or(black);
            let grey = |share: Option<&f64>| grey(share.copied().unwrap_or(0.0));
            svg.marked(&format!("fill=\"{}\"", grey(over.get(at))), (x, TOP), (wide, TALL - BARE));
            svg.marked(&format!("fill=\"{}\"", grey(over.first())), (x, TOP + TALL - BARE), (wide, BARE));
            x += wide;
        }
        svg.path("l", &format!("M{left:.0} {TOP:.0}h{WIDE:.0}v{TALL:.0}h-{WIDE:.0}z"));
    }
    let y = TOP + TALL + 18.0;
    for left in BOARDS {
        svg.text("q", 13.0, "start", (left, y), "black");
        svg.text("q", 13.0, "start", (left + 50.0, y), "wood; the foot is bare");
    }
    svg.text("q", 13.0, "start", (BOARDS[0], y + 20.0), "Greys worked out, for ground without gloss.");
    svg.finish()
}

/// The grey of a screen that throws back this share of light (sRGB, IEC 61966-2-1).
fn grey(share: f64) -> String {
    let share = share.clamp(0.0, 1.0);
    let shown = if share <= 0.003_130_8 { 12.92 * share } else { 1.055 * share.powf(1.0 / 2.4) - 0.055 };
    let step = (255.0 * shown).round() as u8;
    format!("#{step:02x}{step:02x}{step:02x}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn greys_by_hand() {
        // IEC 61966-2-1: 1.055 x 0.18^(1/2.4) - 0.055 = 0.4614, x 255 = 117.6: 118.
        assert_eq!((grey(0.18), grey(0.0), grey(1.0)), ("#767676".into(), "#000000".into(), "#ffffff".into()));
    }

    #[test]
    fn a_ground_that_hides_shows_no_stripe() {
        let over = |wet: f64, dry: f64| [[0.0, wet, dry], [0.3, 0.8, dry], [0.4, 0.82, dry], [0.5, 0.85, dry]];
        let picture = drawdown_picture(&DrawdownView { over: over(0.4, 0.9) });
        assert!(picture.contains("over black: wet 40") && picture.contains("<title>One coat"));
        let dry = grey(0.9);
        // One streak each: black, wood of three kinds.
        assert_eq!(picture.matches(&dry).count(), STREAKS.len());
        assert!((STREAKS.iter().map(|(_, wide)| wide).sum::<f64>() - WIDE).abs() < 1e-9);
    }
}
