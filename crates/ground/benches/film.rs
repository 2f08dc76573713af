//! How long a film with all its draws, the chance of a crack and the window take; printed by `cargo xtask bench`, judged by nobody.

#![expect(clippy::unwrap_used, reason = "a bench that can't start has nothing to say")]

use divan::Bencher;
use ground::{Coat, Drawn, FilmBook, FilmRanges, Lesson, Mix, Protein, SeenBoard, crack_chance, film_with_ranges, learned, window};
use materials::{Catalogue, Wishes, read};
use measure::{Draws, Micrometres, Units};

fn main() {
    divan::main();
}

/// Invented, for the lighthouse's panels.
fn mix() -> Mix {
    let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
    Mix::of(jars, &units, &read(jars, &units, "3 cups chalk, 60 g casein powder, 300 ml water", &Wishes::new()))
}

fn ranges(count: usize) -> FilmRanges {
    let mix = mix();
    film_with_ranges(&mix, Coat::USUAL, &Drawn::of(&mix, Draws { count, ..Draws::USUAL })).unwrap()
}

/// Draws and films together; 50 ms for 10,000 is the aim.
#[divan::bench(args = [2_000, 10_000])]
fn film_with_draws(bencher: Bencher<'_, '_>, count: usize) {
    let mix = mix();
    bencher.bench_local(|| film_with_ranges(&mix, Coat::USUAL, &Drawn::of(&mix, Draws { count, ..Draws::USUAL })).unwrap());
}

#[divan::bench]
fn chance_of_a_crack(bencher: Bencher<'_, '_>) {
    let (ranges, book) = (ranges(2_000), FilmBook::builtin().unwrap());
    bencher.bench_local(|| crack_chance(book, &ranges, (Protein::Casein, "plywood"), 3, None, &Lesson::NONE).unwrap());
}

/// 300 ms is the aim; a plank counts its two directions.
#[divan::bench(args = ["plywood", "solid-wood"])]
fn binder_against_thickness(bencher: Bencher<'_, '_>, support: &str) {
    let (ranges, book) = (ranges(2_000), FilmBook::builtin().unwrap());
    bencher.bench_local(|| window(book, &ranges, (Protein::Casein, support), 80.0, None, &Lesson::NONE).unwrap());
}

#[divan::bench]
fn sixty_boards_of_three_powders(bencher: Bencher<'_, '_>) {
    let um = Micrometres::new;
    let boards: Vec<SeenBoard> = (1..=20)
        .map(|board| SeenBoard {
            whole: (board < 10).then(|| um(20.0 * f64::from(board))),
            cracked: (board >= 10).then(|| um(20.0 * f64::from(board))),
            model: um(200.0),
        })
        .collect();
    bencher.bench_local(|| learned(&boards, &[boards.clone(), boards.clone()], 0.7));
}
