//! How long one photo takes from its bytes to all measures; printed by `cargo xtask bench`, judged by nobody.

#![expect(clippy::unwrap_used, reason = "a bench that can't start has nothing to say")]

use boardmaker::{Pattern, Recipe, make};
use cracks::{BoardSize, look, open_photo};
use divan::Bencher;

fn main() {
    divan::main();
}

/// A brushed board with cells of faint cracks, at this many pixels.
#[divan::bench(args = [(4242, 2828), (6000, 4000)], sample_count = 5, sample_size = 1)]
fn photo(bencher: Bencher, photo_px: (usize, usize)) {
    let recipe = Recipe { photo_px, width_mm: 0.08, dark: 0.5, brush: 0.05, grain: 0.03, ..Recipe::usual(3, Pattern::Cells(180)) };
    let made = make(&recipe);
    let size = BoardSize { width_mm: recipe.board_mm.0, height_mm: recipe.board_mm.1 };
    bencher.bench(|| look(&open_photo(&made.jpeg).unwrap(), size, None).unwrap().length.value);
}
