//! How long the files take.

#[path = "../examples/golden/lighthouse/mod.rs"]
#[expect(dead_code, reason = "not every document is timed")]
mod lighthouse;

fn main() {
    divan::main();
}

/// The long paper with its pictures.
#[divan::bench(sample_count = 20)]
fn long_paper(bencher: divan::Bencher) {
    let view = lighthouse::study::paper();
    bencher.bench(|| paper::pdf(&view));
}

/// The card for the kitchen wall.
#[divan::bench(sample_count = 20)]
fn recipe_card(bencher: divan::Bencher) {
    let view = lighthouse::sheets::recipe_card();
    bencher.bench(|| paper::recipe_card_pdf(&view));
}

/// Labels and sheets for twelve boards.
#[divan::bench(sample_count = 20)]
fn board_sheet(bencher: divan::Bencher) {
    let view = lighthouse::sheets::board_sheet();
    bencher.bench(|| paper::board_sheet_pdf(&view));
}

/// The picture to post.
#[divan::bench(sample_count = 20)]
fn picture_card(bencher: divan::Bencher) {
    let view = lighthouse::sheets::picture_card();
    bencher.bench(|| paper::picture_card_png(&view));
}
